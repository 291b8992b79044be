package names

import (
	"strings"
	"unicode"
	"unicode/utf8"
)

// equation translates the names between plus signs and arrows and copies the
// rest. Where a name stands, "and" and a comma part terms too.
func (t *translator) equation(i, j int) error {
	start, before := i, len(t.replacements)
	for _, d := range t.delimiters(i, j) {
		if err := t.term(start, d.start); err != nil {
			return err
		}
		switch {
		case d.text == "":
			// A name gives way to a formula that may end in a sign: MnO4^-->.
			last := len(t.pieces) - 1
			apart := last >= 0 && !t.pieces[last].copied && t.pieces[last].width > 0
			if apart {
				t.insert(d.start, " ")
			}
			t.copy(d.start, d.end)
			if apart && d.end < j && t.text[d.end] != ' ' {
				t.insert(d.end, " ")
			}
		case len(t.replacements) == before && !t.named(d.end, j):
			t.copy(d.start, d.end)
		default:
			t.put(d.start, d.end, d.text, nil)
		}
		start = d.end
	}
	return t.term(start, j)
}

// named reports whether bytes i to j hold something like a name.
func (t *translator) named(i, j int) bool {
	for _, word := range strings.FieldsFunc(t.text[i:j], func(r rune) bool { return !unicode.IsLetter(r) }) {
		if nameLike(word) && !strings.EqualFold(word, "and") {
			return true
		}
	}
	return false
}

// A delimiter parts terms.
type delimiter struct {
	start, end int
	text       string // what it becomes, "" if it stays
}

// delimiters finds what parts the terms of an equation.
func (t *translator) delimiters(i, j int) []delimiter {
	var all []delimiter
	depth, last := 0, i
	arrow := lastArrow(t.text[i:j]) + i
	add := func(from, to int, text string) {
		all = append(all, delimiter{from, to, text})
		last = to
	}
	for k := i; k < j; {
		r, w := utf8.DecodeRuneInString(t.text[k:])
		next := k + w
		switch {
		case r == '(' || r == '[' || r == '{':
			depth++
		case r == ')' || r == ']' || r == '}':
			depth = max(0, depth-1)
		case depth > 0:
		case isPlus(r):
			if k > i && t.text[k-1] == ' ' || nameLike(t.text[last:k]) || nameFollows(t.text[next:j]) {
				add(k, next, "")
			}
		case arrowWidth(t.text[k:j]) > 0:
			next = k + arrowWidth(t.text[k:j])
			add(k, next, "")
		case r == ',' && next < j && t.text[next] == ' ':
			if rest := strings.TrimLeft(t.text[next:j], " "); hasWord(rest, "and") {
				next = j - len(rest) + len("and")
			}
			add(k, next, " +")
		case k > i && t.text[k-1] == ' ' && hasWord(t.text[k:j], "and"):
			next = k + len("and")
			if arrow < next {
				add(k, next, "+")
			} else { // a second statement begins here
				add(k, next, "")
			}
		case k > i && t.text[k-1] == ' ' && isSmall(t.text[k]):
			for _, w := range [...]string{"while", "whereas", "whilst"} {
				if hasWord(t.text[k:j], w) && arrow > k {
					next = k + len(w)
					add(k, next, ";")
				}
			}
		}
		k = next
	}
	return all
}

func isPlus(r rune) bool { return r == '+' || r == '＋' || r == '﹢' || r == '➕' }

// arrows are the characters that package chem reads as an arrow.
const arrows = "→⟶⇌⇄⇆⇋⇒⟹⇔⟷↔⟺⭢➔➙➛➜➝➞➟➡⇨⇾↦⟼⥂⮕🡒⇀⇁￫🠖＝←⟵⇐⇦"

// arrowWidth returns the bytes of the arrow that begins s, 0 for none.
func arrowWidth(s string) int {
	switch c := s[0]; {
	case c == '-' || c == '=' || c == '<':
		n := 1
		for n < len(s) && (s[n] == '-' || s[n] == '=') {
			n++
		}
		switch {
		case n < len(s) && s[n] == '>':
			return n + 1
		case strings.Contains(s[:n], "=") && c != '<':
			return n
		}
	case c >= utf8.RuneSelf:
		if r, w := utf8.DecodeRuneInString(s); strings.ContainsRune(arrows, r) {
			return w
		}
	}
	return 0
}

// lastArrow returns the byte at which the last arrow of s begins, -1 for none.
func lastArrow(s string) int {
	last := -1
	for i := 0; i < len(s); {
		if w := arrowWidth(s[i:]); w > 0 {
			last = i
			i += w
			continue
		}
		_, w := utf8.DecodeRuneInString(s[i:])
		i += w
	}
	return last
}
