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
		for i, term := range t.terms(s.Formula) {
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

// even fills as few lines as wrap does. Two lines part after a colon or a comma
// where both fit and the first is not much the shorter; else the lines are made
// about equally long.
func even(words []word, max int) []row {
	best := wrap(words, max, 0)
	if len(best) < 2 || len(best) > 3 {
		return best
	}
	if len(best) == 2 {
		for _, sign := range []string{":", ";", ","} {
			for i := len(words) - 1; i > 0; i-- {
				last := words[i-1].pieces
				if !strings.HasSuffix(last[len(last)-1].text, sign) {
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
		if i > 0 && arrow == len(terms) && !strings.HasPrefix(s, "+") && !strings.HasPrefix(s, "-"+noBreak) && !strings.HasPrefix(s, "−") {
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
