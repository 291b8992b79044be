package pdf

import (
	"strings"

	"halves/chem"
	"halves/document"
)

// isSign reports whether a run parts the terms of an equation or of a line of
// algebra.
func isSign(r chem.Run) bool {
	if r.Level != chem.Normal {
		return false
	}
	switch r.Text {
	case " + ", " - ":
		return true
	}
	return document.IsRelation(r)
}

// isComma reports whether a run parts the lines of a list: "a = 2, b = 5".
func isComma(r chem.Run) bool { return r.Level == chem.Normal && r.Text == ", " }

// termsOf cuts an equation into its terms, each but the first with the sign
// before it, and a list after its commas. A formula is one term.
func termsOf(runs []chem.Run) [][]chem.Run {
	var out [][]chem.Run
	from := 0
	for i, r := range runs {
		switch {
		case i > from && isSign(r):
			out = append(out, runs[from:i])
			from = i
		case isComma(r) && i+1 < len(runs):
			out = append(out, runs[from:i+1])
			from = i + 1
		}
	}
	if from < len(runs) {
		out = append(out, runs[from:])
	}
	return out
}

// printed are the signs of runs as they are printed.
var printed = strings.NewReplacer("<=>", "⇌", "->", "⟶", ".", "·", "-", "−")

// Spaces in sizes of the letters: around the signs between terms, around an
// arrow, behind a coefficient, and between a subscript and the charge behind it.
const (
	signSpace  = 0.26
	arrowSpace = 0.36
	thinSpace  = 0.17
	hairSpace  = 0.03
	blankWidth = 2.4 // of a blank
)

// beforeSign is how much worse an equation is broken before a plus sign than
// before its arrow or in prose: as much as a line that is two thirds empty.
const beforeSign = 45

// A word is a piece of a line that is not broken.
type word struct {
	pieces []piece
	width  float64
	space  float64 // after it, where the line goes on
	tight  bool    // a line may end after it without a space
	worse  float64 // how much worse a line ends after it than after others
}

// A piece is some text of a word in one face and at one height.
type piece struct {
	text   string
	face   face
	colour colour
	blank  bool // a rule is drawn, the text is not seen
	size   float64
	rise   float64 // upwards from the base line
	width  float64 // as far as the next piece
	own    element
	// reads is what is copied instead of this piece and those behind it, covers in
	// all: a term with real sub- and superscript characters. "" for the pieces' own
	// text.
	reads  string
	covers int
}

// add puts a text at the end of a word, in the face that has its letters.
func (w *word) add(text string, st style, rise float64) {
	all := fonts()
	put := func(s string, f face) {
		width := all[f].width(s) * st.size
		w.pieces = append(w.pieces, piece{text: s, face: f, colour: st.colour, size: st.size, rise: rise, width: width, own: st.own})
		w.width += width
	}
	from, now := 0, st.face
	for i, r := range text {
		f, _ := faceOf(r, st.face)
		if f != now && i > from {
			put(text[from:i], now)
			from = i
		}
		now = f
	}
	if from < len(text) {
		put(text[from:], now)
	}
}

// A style is how letters are set, and to what they belong.
type style struct {
	face   face
	colour colour
	size   float64
	own    element
}

// term makes a word of a term, or of a formula.
func (st style) term(runs []chem.Run) word {
	var w word
	for i, r := range runs {
		text := readable(printed.Replace(r.Text))
		switch {
		case isSign(r):
			text = strings.TrimSpace(text)
			space := signSpace
			if text == "⟶" || text == "⇌" {
				space = arrowSpace
			}
			if i+1 < len(runs) {
				w.add(text+" ", st, 0)
				w.narrow(space * st.size)
			} else {
				w.add(text, st, 0)
			}
		case r.Level == chem.Subscript, r.Level == chem.Superscript:
			small := st
			small.size *= scriptSize
			rise := -scriptDrop * st.size
			if r.Level == chem.Superscript {
				rise = scriptRaise * st.size
				if i > 0 {
					w.extra(hairSpace * st.size)
				}
			}
			w.add(text, small, rise)
		case r.Level == chem.Variable:
			slanted := st
			slanted.face = italic
			w.add(text, slanted, 0)
		default:
			if i+1 == len(runs) {
				text = strings.TrimRight(text, " ")
			}
			st.normal(&w, text)
		}
	}
	w.reads(runs)
	return w
}

// reads says what is copied instead of a word that has raised, lowered or hidden
// letters.
func (w *word) reads(runs []chem.Run) {
	for _, p := range w.pieces {
		if p.rise != 0 || p.blank {
			w.pieces[0].reads = strings.TrimSpace(unicodeText(runs))
			w.pieces[0].covers = len(w.pieces)
			return
		}
	}
}

// normal adds letters on the line. A space behind a coefficient is narrow; a
// blank is a rule of one width.
func (st style) normal(w *word, text string) {
	for text != "" {
		if strings.HasPrefix(text, document.Blank.Text) {
			w.pieces = append(w.pieces, piece{text: document.Blank.Text, face: st.face, colour: st.colour, size: st.size, width: blankWidth * st.size, own: st.own, blank: true})
			w.width += blankWidth * st.size
			text = text[len(document.Blank.Text):]
			continue
		}
		end := len(text)
		if i := strings.Index(text, document.Blank.Text); i > 0 {
			end = i
		}
		if i := strings.IndexByte(text[:end], ' '); i >= 0 {
			w.add(text[:i+1], st, 0)
			w.narrow(thinSpace * st.size)
			text = text[i+1:]
			continue
		}
		w.add(text[:end], st, 0)
		text = text[end:]
	}
}

// extra puts a space at the end of a word.
func (w *word) extra(space float64) {
	if n := len(w.pieces); n > 0 {
		w.pieces[n-1].width += space
		w.width += space
	}
}

// narrow gives the space that a word ends in another width.
func (w *word) narrow(space float64) {
	if n := len(w.pieces); n > 0 {
		p := &w.pieces[n-1]
		usual := fonts()[p.face].width(" ") * p.size
		p.width += space - usual
		w.width += space - usual
	}
}

// formula makes the words of a formula or an equation, which may be broken
// before its signs.
func (st style) formula(runs []chem.Run) []word {
	terms := termsOf(runs)
	out := make([]word, len(terms))
	for i, t := range terms {
		out[i] = st.term(t)
		if i+1 < len(terms) {
			out[i].space = signSpace * st.size
			out[i].worse = beforeSign
			if next := terms[i+1]; document.IsRelation(next[0]) && strings.TrimSpace(next[0].Text) != "=" {
				out[i].space, out[i].worse = arrowSpace*st.size, 0
			} else if !isSign(next[0]) {
				out[i].space = 2 * signSpace * st.size // after a comma
			}
		}
	}
	return out
}

// widthOf is how long words are on one line.
func widthOf(words []word) float64 {
	w := 0.0
	for i, x := range words {
		w += x.width
		if i+1 < len(words) {
			w += x.space
		}
	}
	return w
}

// unicodeText is a formula in plain characters with real sub- and superscripts
// and true minus signs; the runs may have these already.
func unicodeText(runs []chem.Run) string {
	ascii := make([]chem.Run, len(runs))
	for i, r := range runs {
		ascii[i] = chem.Run{Text: strings.ReplaceAll(r.Text, "−", "-"), Level: r.Level}
	}
	return strings.ReplaceAll(chem.UnicodeText(ascii), "-", "−")
}
