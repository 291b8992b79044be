package names

import (
	"slices"
	"strings"
	"sync"

	"halves/chem"
)

// A part is what a word of a sentence does.
type part byte

const (
	comma   part = ','
	which   part = 'w' // stands for something named before
	while   part = ';' // another change begins
	gives   part = 'G' // reactants before, products after
	becomes part = 'B'
	acts    part = 'O' // oxidizes or reduces something
	acted   part = 'I' // is oxidized or reduced by something
	by      part = 'Y'
	to      part = 'T'
	ousts   part = 'D' // displaces
	from    part = 'F'
)

// phrases are the words of a sentence about reactions, with what they do. Of
// several that fit, the longest is taken.
var phrases = sync.OnceValue(buildPhrases)

type phrase struct {
	words []string
	part  part
}

func buildPhrases() map[string][]phrase {
	m := map[string][]phrase{}
	add := func(p part, text string) {
		w := strings.Fields(text)
		m[w[0]] = append(m[w[0]], phrase{w, p})
	}
	for _, w := range []string{"and", "plus", "with", "reacts with", "react with", "reacting with", "combines with", "combine with", "is treated with", "treated with", "is mixed with", "mixed with", "dissolves in", "dissolve in", "burns in", "burn in", "reacts", "react", "combine", "combines", "together", "both", "then", "also", "in turn", "in the process", "themselves"} {
		add(comma, w)
	}
	for _, w := range []string{"which", "that", "it", "itself", "they", "is itself", "the latter"} {
		add(which, w)
	}
	for _, w := range []string{"while", "whereas", "whilst", "as", "when", "but"} {
		add(while, w)
	}
	for _, verb := range []string{"give", "yield", "form", "produce", "make"} {
		ing := strings.TrimSuffix(verb, "e") + "ing"
		for _, w := range []string{verb, verb + "s", ing, "to " + verb, "reacts to " + verb, "react to " + verb, "combine to " + verb, "combines to " + verb, "react together to " + verb} {
			add(gives, w)
		}
	}
	for _, verb := range []string{"decompose", "decomposes", "disproportionate", "disproportionates", "break down", "breaks down", "burn", "burns"} {
		for _, w := range []string{"to", "into", "to give", "to form"} {
			add(gives, verb+" "+w)
		}
	}
	for _, w := range []string{"becomes", "become", "becoming", "to become", "turns into", "turn into", "turns to", "turning into", "goes to", "go to", "going to", "changes to", "change to", "changes into", "change into", "changing to", "changing into", "converts to", "converts into", "convert to", "ends up as", "end up as", "reduces to", "oxidizes to", "oxidises to"} {
		add(becomes, w)
	}
	for _, is := range []string{"is ", "are ", "gets ", "get ", "being ", "was ", "were ", "is itself ", "itself is ", "is then ", "is in turn ", "is being ", "are themselves ", ""} {
		for _, did := range []string{"oxidized", "oxidised", "reduced", "converted", "changed", "turned", "transformed"} {
			add(becomes, is+did+" to")
			add(becomes, is+did+" into")
			if did[0] == 'o' || did[0] == 'r' {
				add(acted, is+did+" by")
			}
		}
	}
	for _, w := range []string{"oxidizes", "oxidises", "reduces", "oxidize", "oxidise", "reduce"} {
		add(acts, w)
	}
	add(ousts, "displaces")
	add(ousts, "displace")
	add(from, "from")
	add(by, "by")
	add(to, "to")
	add(to, "into")
	return m
}

// A token is a term of a sentence (part 0) or a phrase.
type token struct {
	part       part
	start, end int
}

// tokens cuts bytes i to j into terms and phrases.
func (t *translator) tokens(i, j int) []token {
	var all []token
	depth, last := 0, i
	flush := func(k int) {
		from, to := last, k
		for from < to && t.text[from] == ' ' {
			from++
		}
		for to > from && t.text[to-1] == ' ' {
			to--
		}
		if from < to {
			all = append(all, token{0, from, to})
		}
	}
	for k := i; k < j; {
		c := t.text[k]
		switch {
		case c == '(' || c == '[' || c == '{':
			depth++
		case c == ')' || c == ']' || c == '}':
			depth = max(0, depth-1)
		case depth > 0:
		case c == ',' && (k+1 == j || t.text[k+1] == ' '), c == '+' && k > i && t.text[k-1] == ' ', c == '.' && strings.TrimSpace(t.text[k+1:j]) == "":
			flush(k)
			all = append(all, token{comma, k, k + 1})
			k++
			last = k
			continue
		case isLetter(c) && (k == i || t.text[k-1] == ' ' || t.text[k-1] == ','):
			if p, n := t.phraseAt(k, j); n > 0 {
				flush(k)
				all = append(all, token{p, k, k + n})
				k += n
				last = k
				continue
			}
			for k+1 < j && isLetter(t.text[k+1]) {
				k++
			}
		}
		k++
	}
	flush(j)
	return all
}

// phraseAt returns the longest phrase at byte k, and its length.
func (t *translator) phraseAt(k, j int) (part, int) {
	end := k
	for end < j && isLetter(t.text[end]) {
		end++
	}
	var best part
	length := 0
	for _, p := range phrases()[strings.ToLower(t.text[k:end])] {
		at := k
		ok := true
		for n, w := range p.words {
			if n > 0 {
				space := at
				for at < j && t.text[at] == ' ' {
					at++
				}
				if at == space {
					ok = false
					break
				}
			}
			if !hasWord(t.text[at:j], w) {
				ok = false
				break
			}
			at += len(w)
		}
		if p.part == while && t.text[k:at] == "As" {
			ok = false // arsenic
		}
		if ok && at-k > length {
			best, length = p.part, at-k
		}
	}
	return best, length
}

// A clause is a row of lists of terms with verbs between them: one verb fewer
// than lists.
type clause struct {
	lists [][]token
	verbs []token
	stops []int // for each list, how many terms stand before a "while" in it; -1 for none
}

// A change is a statement in the making.
type change struct {
	left, right []token
	arrow       token         // the phrase that stands for the arrow
	made        *chem.Species // a product that was not typed, nil for none
}

// sentence translates a statement in words, and reports whether it was one.
func (t *translator) sentence(i, j int) (bool, error) {
	all := t.tokens(i, j)
	verbs := ""
	c := clause{lists: [][]token{nil}, stops: []int{-1}}
	for _, k := range all {
		last := len(c.lists) - 1
		switch k.part {
		case 0:
			c.lists[last] = append(c.lists[last], k)
		case comma, which:
		case while:
			if len(c.lists[last]) > 0 && c.stops[last] < 0 {
				c.stops[last] = len(c.lists[last])
			}
		default:
			verbs += string(rune(k.part))
			c.verbs = append(c.verbs, k)
			c.lists = append(c.lists, nil)
			c.stops = append(c.stops, -1)
		}
	}
	if strings.Trim(verbs, "YTF") == "" {
		if strings.Trim(verbs, "T") != "" || verbs == "" || slices.ContainsFunc(c.lists, func(l []token) bool { return len(l) == 0 }) {
			return false, nil
		}
		verbs = strings.ReplaceAll(verbs, "T", "B") // chlorate to chloride
	}
	changes, err := t.changes(c, verbs, i, j)
	if err != nil {
		return true, err
	}
	before := i // spaces before the sentence
	for before < j && t.text[before] == ' ' {
		before++
	}
	t.copy(i, before)
	last := before
	for n, ch := range changes {
		if n > 0 {
			at := ch.left[0].start
			t.join(max(min(last, at), before), at, ";")
		}
		if err := t.list(ch.left); err != nil {
			return true, err
		}
		t.join(ch.arrow.start, ch.arrow.end, "->")
		if ch.made != nil {
			t.make(ch.arrow, ch.made.String()+" + ")
		}
		if err := t.list(ch.right); err != nil {
			return true, err
		}
		last = ch.right[len(ch.right)-1].end
	}
	return true, nil
}

// list writes terms with plus signs between them.
func (t *translator) list(terms []token) error {
	for n, k := range terms {
		if n > 0 {
			t.join(terms[n-1].end, k.start, "+")
		}
		if err := t.term(k.start, k.end); err != nil {
			return err
		}
	}
	return nil
}

// changes makes statements of a clause, by its verbs in order.
func (t *translator) changes(c clause, verbs string, i, j int) ([]change, error) {
	l, v := c.lists, c.verbs
	for n, list := range l {
		if len(list) > 0 {
			continue
		}
		switch {
		case n == 0:
			return nil, t.fail(v[0].start, v[0].end, "nothing stands before "+quoted(t.text[v[0].start:v[0].end]), sentenceHint)
		case n == len(l)-1 || verbs[n-1] != 'T' && verbs[n-1] != 'B' && verbs[n-1] != 'Y':
			return nil, t.fail(v[n-1].start, v[n-1].end, "nothing follows "+quoted(t.text[v[n-1].start:v[n-1].end]), sentenceHint)
		default:
			return nil, t.fail(v[n].start, v[n].end, "nothing stands before "+quoted(t.text[v[n].start:v[n].end]), sentenceHint)
		}
	}
	switch {
	case verbs == "G":
		return []change{{left: l[0], right: l[1], arrow: v[0]}}, nil
	case strings.Trim(verbs, "B") == "", strings.Trim(verbs, "G") == "":
		var out []change
		left := l[0]
		for n, arrow := range v {
			right := l[n+1]
			var next []token
			if n+1 < len(v) {
				at := c.stops[n+1]
				if at < 0 || at >= len(right) {
					at = len(right) - 1
				}
				if at == 0 {
					return nil, t.fail(v[n+1].start, v[n+1].end, "it is not said what "+quoted(t.text[v[n+1].start:v[n+1].end])+" speaks of", sentenceHint)
				}
				right, next = right[:at], right[at:]
			}
			out = append(out, change{left: left, right: right, arrow: arrow})
			left = next
		}
		return out, nil
	case verbs == "OTB": // A oxidizes B to C and is reduced to D
		right, subject := l[2], l[0]
		if len(right) > 1 {
			right, subject = right[:len(right)-1], right[len(right)-1:]
		}
		return []change{{left: l[1], right: right, arrow: v[1]}, {left: subject, right: l[3], arrow: v[2]}}, nil
	case verbs == "BYB": // A is oxidized to B by C, which becomes D
		agent := l[2]
		if len(agent) > 1 {
			agent = agent[len(agent)-1:] // by C, and C becomes D
		}
		return []change{{left: l[0], right: l[1], arrow: v[0]}, {left: agent, right: l[3], arrow: v[2]}}, nil
	case verbs == "ITB": // A is oxidized by C to B, and C becomes D
		right, subject := l[2], l[1]
		if len(right) > 1 {
			right, subject = right[:len(right)-1], right[len(right)-1:]
		}
		return []change{{left: l[0], right: right, arrow: v[1]}, {left: subject, right: l[3], arrow: v[2]}}, nil
	case verbs == "D":
		return nil, t.fail(v[0].start, v[0].end, "the sentence does not say from what", displacementHint)
	case verbs == "DF":
		return t.displacement(l, v)
	// What the other species becomes may stand in another statement.
	case verbs == "OT" && t.told(l[0], i):
		return []change{{left: l[1], right: l[2], arrow: v[1]}}, nil
	case verbs == "BY" && t.told(l[2], i):
		return []change{{left: l[0], right: l[1], arrow: v[0]}}, nil
	case verbs == "IT" && t.told(l[1], i):
		return []change{{left: l[0], right: l[2], arrow: v[1]}}, nil
	case verbs == "OT", verbs == "O":
		return nil, t.untold(l[0])
	case verbs == "BY":
		return nil, t.untold(l[2])
	case verbs == "IT", verbs == "I":
		return nil, t.untold(l[1])
	}
	return nil, t.fail(i, j, "this sentence was not understood", sentenceHint)
}

const sentenceHint = "write A becomes B while C becomes D, or A reacts with B to give C and D, or use an arrow"

// untold makes the error for a species of which no product is named.
func (t *translator) untold(list []token) error {
	k := list[len(list)-1]
	name := t.text[k.start:k.end]
	return t.fail(k.start, k.end, "the sentence does not say what "+quoted(name)+" becomes", "add: , and "+name+" becomes ...")
}

func quoted(s string) string { return "\"" + s + "\"" }
