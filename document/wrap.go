package document

import (
	"sort"
	"strings"

	"halves/chem"
)

// A word is what stays on one line.
type word struct {
	pieces row
	space  int // columns before it, unless it begins a line
}

func (w word) width() int { return w.pieces.width() }

// words cuts a text where a line may end: at spaces, and in an equation before
// the plus signs and the arrow.
func (t *textWriter) words(text Inline, w weight) []word {
	var out []word
	space := true // the next piece begins a word
	add := func(s string) {
		if s == "" {
			return
		}
		if space || len(out) == 0 {
			out = append(out, word{space: 1})
		}
		last := &out[len(out)-1]
		last.pieces = append(last.pieces, piece{s, w})
		space = false
	}
	for _, s := range text {
		for i, part := range strings.Split(t.prose(s.Prose), " ") {
			if i > 0 {
				space = true
			}
			add(part)
		}
		terms := t.terms(s.Formula)
		if whole := strings.Join(terms, noBreak); IsAlgebra(s.Formula) && width(whole) <= t.Width/3 {
			terms = []string{whole}
		}
		for i, term := range terms {
			if i > 0 {
				space = true
			}
			add(term)
		}
	}
	return out
}

// terms cuts an equation into its terms, each but the first with the sign
// before it: "2 Fe³⁺", "+ Sn²⁺", "⟶ 2 Fe²⁺". A formula is one term.
func (t *textWriter) terms(runs []chem.Run) []string {
	var out []string
	for _, term := range termsOf(runs) {
		s := strings.TrimSpace(t.formula(term))
		out = append(out, strings.ReplaceAll(s, " ", noBreak))
	}
	return out
}

// wrap fills lines of at most max columns; all but the first begin hang columns
// further in. A word that is longer than a line is cut.
func wrap(words []word, max, hang int) []row {
	if max <= hang {
		max = hang + 1
	}
	var out []row
	var line row
	used, empty, indent := 0, true, 0
	end := func() {
		out = append(out, line)
		line, used, empty, indent = row{}, 0, true, hang
	}
	for _, w := range words {
		if !empty && used+w.space+w.width() > max {
			end()
		}
		if empty {
			if indent > 0 {
				line = append(line, spaces(indent))
			}
			used = indent
		} else {
			line = append(line, spaces(w.space))
			used += w.space
		}
		for _, p := range w.pieces {
			for width(p.text) > max-used {
				if used < max {
					var head string
					head, p.text = split(p.text, max-used)
					line = append(line, piece{head, p.weight})
				}
				end()
				line = append(line, spaces(indent))
				used = indent
			}
			line = append(line, p)
			used += width(p.text)
		}
		empty = false
	}
	if !empty {
		end()
	}
	return out
}

// fill fills lines as wrap does, but makes them even where the last would be
// short, or where there are only two.
func fill(words []word, max int) []row {
	rows := wrap(words, max, 0)
	if n := len(rows); n == 2 || n > 2 && rows[n-1].width() < max/5 {
		return evened(rows, words, max)
	}
	return rows
}

// even fills as few lines as wrap does. Two lines part after a sentence, a colon
// or the only comma where both fit and the first is not much the shorter; else
// the lines are made about equally long.
func even(words []word, max int) []row { return evened(wrap(words, max, 0), words, max) }

// evened makes lines even that wrap filled with words.
func evened(best []row, words []word, max int) []row {
	if len(best) < 2 || len(best) > 3 {
		return best
	}
	if len(best) == 2 {
		for _, sign := range []string{".", ":", ";", ","} {
			if sign == "," && endingIn(words, sign) > 1 {
				break // what is listed is not torn at one of its commas
			}
			for i := len(words) - 1; i > 0; i-- {
				if !words[i-1].endsIn(sign) {
					continue
				}
				head, rest := wrap(words[:i], max, 0), wrap(words[i:], max, 0)
				if len(head) == 1 && len(rest) == 1 && 3*head[0].width() > rest[0].width() {
					return []row{head[0], rest[0]}
				}
			}
		}
	}
	// The narrowest that takes no more lines; a narrower one never takes fewer.
	narrowest := sort.Search(max, func(n int) bool { return n > 0 && len(wrap(words, n, 0)) <= len(best) })
	return wrap(words, narrowest, 0)
}

// endsIn reports whether the last characters of a word are s.
func (w word) endsIn(s string) bool {
	return len(w.pieces) > 0 && strings.HasSuffix(w.pieces[len(w.pieces)-1].text, s)
}

// endingIn counts the words that end in s.
func endingIn(words []word, s string) int {
	n := 0
	for _, w := range words {
		if w.endsIn(s) {
			n++
		}
	}
	return n
}

// wrapTitle fills lines as wrap does, but for an equation that takes more than
// one: its arrow begins a line.
func wrapTitle(words []word, max int) []row {
	const hang = 4
	rows := wrap(words, max, hang)
	if len(rows) < 2 {
		return rows
	}
	arrow, n := 0, 0
	for i, w := range words {
		if beginsSide(w.pieces[0].text) {
			arrow, n = i, n+1
		}
	}
	if n != 1 || arrow == 0 {
		return rows
	}
	rows = wrap(words[:arrow], max, hang)
	for _, r := range wrap(words[arrow:], max-hang, 0) {
		rows = append(rows, append(row{spaces(hang)}, r...))
	}
	return rows
}

// beginsSide reports whether a term begins the right side of an equation.
func beginsSide(s string) bool {
	return strings.HasPrefix(s, "⟶") || strings.HasPrefix(s, "->") || strings.HasPrefix(s, "=")
}

// split cuts a text after n characters.
func split(s string, n int) (head, rest string) {
	for i := range s {
		if n == 0 {
			return s[:i], s[i:]
		}
		n--
	}
	return s, ""
}

// wrapEquation writes an equation in one line if it fits, else with its right
// side, arrow first, on a new line; a side that is too long goes on further in.
func wrapEquation(terms []string, w weight, max int) []row {
	words := make([]word, len(terms))
	arrow := len(terms)
	total := 0
	for i, s := range terms {
		words[i] = word{pieces: row{{s, w}}, space: 1}
		total += width(s) + 1
		if i > 0 && arrow == len(terms) && beginsSide(s) {
			arrow = i
		}
	}
	if total-1 <= max || arrow == len(terms) {
		return wrap(words, max, 4)
	}
	const shift = 2
	rows := wrap(words[:arrow], max, 2*shift)
	for _, r := range wrap(words[arrow:], max-shift, 2*shift) {
		rows = append(rows, append(row{spaces(shift)}, r...))
	}
	return rows
}
