package pdf

import (
	"strings"
	"unicode"
	"unicode/utf8"

	"halves/chem"
	"halves/document"
)

const noBreak = '\u00a0'

// words makes the words of a text.
func (s *setter) words(text document.Inline, st style) []word {
	b := builder{style: st}
	for _, span := range text {
		if span.Formula != nil {
			b.style.own = s.tags.child(st.own, formulaTag, spokenFormula(span.Formula, span.Spoken))
			b.formula(span.Formula)
		} else {
			b.style.own = st.own
			if span.Spoken != "" && span.Spoken != span.Prose {
				b.style.own = s.tags.child(st.own, spanTag, span.Spoken)
			}
			b.prose(readable(span.Prose))
		}
	}
	b.end(0)
	return b.words
}

// spokenFormula is a formula in words, or in signs where it has none.
func spokenFormula(runs []chem.Run, spoken string) string {
	if spoken != "" {
		return spoken
	}
	return unicodeText(runs)
}

// A builder makes words of one piece of text after the other: what has no space
// between it stays together.
type builder struct {
	style style
	words []word
	now   word
	open  bool // now has something in it
}

// end ends the word that is being built.
func (b *builder) end(space float64) {
	if b.open {
		b.now.space = space
		b.words = append(b.words, b.now)
		b.now, b.open = word{}, false
	} else if n := len(b.words); n > 0 && space > 0 {
		b.words[n-1].space = max(space, b.words[n-1].space)
		b.words[n-1].tight = false
	}
}

// add puts letters at the end of the word.
func (b *builder) add(text string) {
	if text != "" {
		b.now.add(text, b.style, 0)
		b.open = true
	}
}

func (b *builder) prose(text string) {
	space := fonts()[b.style.face].width(" ") * b.style.size
	from := 0
	before := ' '
	for i, r := range text {
		switch {
		case r == ' ':
			b.add(text[from:i])
			b.end(space)
			from = i + 1
		case r == noBreak:
			// A common space in the file, so that it is found when searched for.
			b.add(text[from:i] + " ")
			from = i + utf8.RuneLen(r)
		case (r == '-' || r == '–' || r == '/') && unicode.IsLetter(before):
			next, _ := utf8.DecodeRuneInString(text[i+utf8.RuneLen(r):])
			if next != utf8.RuneError && unicode.IsLetter(next) {
				end := i + utf8.RuneLen(r)
				b.add(text[from:end])
				b.now.tight = true
				b.end(0)
				from = end
			}
		}
		before = r
	}
	b.add(text[from:])
}

// formula adds a formula; an equation may be broken before its signs.
func (b *builder) formula(runs []chem.Run) {
	if strings.TrimSpace(chem.PlainText(runs)) == "->" {
		b.add("⟶")
		return
	}
	all := b.style.formula(runs)
	for i, w := range all {
		if b.open {
			b.now.pieces = append(b.now.pieces, w.pieces...)
			b.now.width += w.width
		} else {
			b.now = w
			b.open = len(w.pieces) > 0
		}
		if i+1 < len(all) {
			b.now.worse = w.worse
			b.end(w.space)
		}
	}
}

// fitted returns words that are no wider than a line. A formula is set smaller,
// down to a half; what is wider still is cut between letters.
func fitted(words []word, room float64) []word {
	good := true
	for _, w := range words {
		good = good && w.width <= room
	}
	if good {
		return words
	}
	var out []word
	for _, w := range words {
		if w.width <= room {
			out = append(out, w)
			continue
		}
		prose := true
		for _, p := range w.pieces {
			prose = prose && p.rise == 0 && !p.blank
		}
		if !prose {
			w = w.scaled(max(leastScale, room/w.width*0.999))
			if w.width <= room {
				out = append(out, w)
				continue
			}
		}
		out = append(out, w.cut(room)...)
	}
	return out
}

// leastScale is how small a formula may become.
const leastScale = 0.5

// scaled returns a word in smaller or larger letters.
func (w word) scaled(by float64) word {
	out := word{width: w.width * by, space: w.space * by, tight: w.tight, worse: w.worse, pieces: make([]piece, len(w.pieces))}
	for i, p := range w.pieces {
		p.size, p.rise, p.width = p.size*by, p.rise*by, p.width*by
		out.pieces[i] = p
	}
	return out
}

// cut cuts a word between letters, into words no wider than room.
func (w word) cut(room float64) []word {
	var out []word
	var now word
	end := func() {
		if len(now.pieces) > 0 {
			now.tight = true
			out = append(out, now)
			now = word{}
		}
	}
	for _, p := range w.pieces {
		p.reads, p.covers = "", 0 // its pieces come apart
		for p.text != "" {
			if now.width+p.width <= room {
				now.pieces = append(now.pieces, p)
				now.width += p.width
				break
			}
			// As many letters as have room, one at least in an empty line.
			n, width := 0, 0.0
			for i, r := range p.text {
				to := i + utf8.RuneLen(r)
				next := fonts()[p.face].width(p.text[:to]) * p.size
				if now.width+next > room && (n > 0 || len(now.pieces) > 0) {
					break
				}
				n, width = to, next
			}
			if p.blank {
				n = 0
				if len(now.pieces) == 0 {
					n, width = len(p.text), p.width
				}
			}
			if n > 0 {
				head := p
				head.text, head.width = p.text[:n], width
				now.pieces = append(now.pieces, head)
				now.width += width
				// The space behind the piece stays; the kerning at the cut goes.
				rest := fonts()[p.face].width(p.text[n:]) * p.size
				p.width += rest - fonts()[p.face].width(p.text)*p.size
				p.text = p.text[n:]
			}
			end()
		}
	}
	end()
	if n := len(out); n > 0 {
		out[n-1].space, out[n-1].tight = w.space, w.tight
	}
	return out
}

// plainText is a text in plain characters on one line.
func plainText(text document.Inline) string {
	var b strings.Builder
	for _, s := range text {
		b.WriteString(s.Prose)
		b.WriteString(unicodeText(s.Formula))
	}
	return strings.Join(strings.Fields(b.String()), " ")
}
