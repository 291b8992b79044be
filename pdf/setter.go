package pdf

import (
	"unicode/utf8"

	"halves/document"
)

// A setter turns the blocks of a document into nodes.
type setter struct {
	look
	tags   *tags
	width  float64 // from the left margin to the right one
	indent float64 // how far in the blocks stand
	labels float64 // of the column of labels
	room   float64 // the height of a page between its margins
	base   int     // the level of the heading that the title is
	deck   bool
	own    element // what the blocks belong to
}

// An align says where a line stands.
type align uint8

const (
	left align = iota
	right
)

// baseLine is how far the base line of a line of text is below its top.
func baseLine(size, leading float64) float64 {
	return (leading-1)*size/2 + ascent*size
}

// draw adds the marks of words on one line; y is the base line. Words that have
// a space after them are written with it at the end of a line too: it is not
// seen, and parts them for those who copy or hear them.
func draw(marks []mark, words []word, x, y float64) []mark {
	natural := 0.0          // the width of the last mark's text
	var end rune            // its last letter
	started, pieces := 0, 0 // the mark that stands for several, and how many pieces are left of it
	for i, w := range words {
		for k, p := range w.pieces {
			text, kind := p.text, letters
			if p.reads != "" {
				started, pieces, natural = len(marks), p.covers, -1
			}
			spaced := k == len(w.pieces)-1 && w.space > 0
			if spaced && pieces == 0 {
				text += " "
			}
			if p.blank {
				kind = unseen
				marks = append(marks, mark{kind: rule, x: x, y: y + 0.14*p.size, width: p.width, height: 0.055 * p.size, own: p.own})
			}
			first, _ := utf8.DecodeRuneInString(text)
			f := fonts()[p.face]
			last := len(marks) - 1
			if kind == letters && last >= 0 && marks[last].joins(p, y) && natural >= 0 && near(marks[last].x+natural, x) && f.kern(end, first) == 0 {
				marks[last].text += text
				marks[last].width = x + p.width - marks[last].x
				natural += f.width(text) * p.size
			} else {
				marks = append(marks, mark{kind: kind, x: x, y: y - p.rise, width: p.width, text: text, face: p.face, colour: p.colour, size: p.size, own: p.own})
				natural = f.width(text) * p.size
			}
			end, _ = utf8.DecodeLastRuneInString(text)
			x += p.width
			if p.reads != "" {
				marks[started].reads = p.reads
			}
			if pieces > 0 {
				if pieces--; pieces == 0 {
					marks[started].covers = len(marks) - started
					natural = -1
					if spaced {
						marks = append(marks, mark{kind: letters, x: x, y: y, text: " ", face: p.face, colour: p.colour, size: p.size, own: p.own})
					}
				}
			}
		}
		if i+1 < len(words) {
			x += w.space
		}
	}
	return marks
}

// joins reports whether a piece may go on in a mark.
func (m *mark) joins(p piece, y float64) bool {
	return m.kind == letters && m.face == p.face && m.size == p.size && m.y == y-p.rise && m.colour == p.colour && m.own == p.own
}

func near(a, b float64) bool { return a-b < slack && b-a < slack }

// A flowed text is set in lines.
type flowed struct {
	marks  [][]mark  // of each line, from its own top
	height float64   // of a line
	widths []float64 // of each line
}

// flow sets words in lines. x is where they begin, first how much of the room
// the first line has less.
func (s *setter) flow(words []word, size, leading, x, room, first float64, at align) flowed {
	words = fitted(words, room)
	lines := breakLines(words, max(room-first, 1), room)
	out := flowed{height: leading * size}
	base := baseLine(size, leading)
	for _, l := range lines {
		all := words[l.from:l.to]
		w := widthOf(all)
		out.widths = append(out.widths, w)
		from := x
		if at == right {
			from += room - w
		}
		out.marks = append(out.marks, draw(nil, all, from, base))
	}
	return out
}

// leaves makes a leaf of each line. The first two and the last two stay
// together.
func (f flowed) leaves(before float64) []*node {
	out := make([]*node, len(f.marks))
	for i, m := range f.marks {
		out[i] = &node{height: f.height, marks: m, next: i == 0 && len(f.marks) > 1 || i+2 == len(f.marks)}
		if i == 0 {
			out[i].before = before
		}
	}
	return out
}

// stacked returns the marks of all lines, y from the top of the first.
func (f flowed) stacked(y float64) []mark {
	var out []mark
	for i, m := range f.marks {
		out = append(out, shift(m, 0, y+float64(i)*f.height)...)
	}
	return out
}

// total is how high all lines are.
func (f flowed) total() float64 { return float64(len(f.marks)) * f.height }

// text sets a text as a paragraph from the indent to the right margin.
func (s *setter) text(text document.Inline, st style, before float64) []*node {
	room := min(s.width-s.indent, s.most)
	return s.flow(s.words(text, st), st.size, s.leading, s.indent, room, 0, left).leaves(before)
}

// inside sets what make makes further in.
func (s *setter) inside(by float64, make func() []*node) []*node {
	s.indent += by
	defer func() { s.indent -= by }()
	return make()
}

// within sets what make makes as parts of an element.
func (s *setter) within(own element, make func() []*node) []*node {
	before := s.own
	s.own = own
	defer func() { s.own = before }()
	return make()
}
