package ooxml

import (
	"slices"
	"strings"

	"halves/diagram"
	"halves/document"
)

// A grid is a table with the widths of its columns.
type grid struct {
	caption string
	head    []cell // nil where no column has a head
	rows    [][]cell
	right   []bool
	widths  []float64 // in points, the space at the sides of the cells among them
}

// A cell is a line in pieces; nil is empty.
type cell []piece

// gridOf fits a table into a room, in letters of a size, with a space of pad at
// each side of a cell. Where it is too wide its spare column is left out; where
// it still is, cells wrap. Where words would have to be broken the grid is nil
// and records stand for it: a line for each row, each cell behind its head.
func gridOf(t document.Table, size, room, pad float64) (g *grid, records [][]piece) {
	const most = 63 // columns that a word processor takes, from memory
	n := len(t.Head)
	for _, r := range t.Rows {
		n = max(n, len(r))
	}
	full := newGrid(t, n)
	natural, least := full.measure(n, size, pad)
	if t.Spare > 0 && t.Spare < n && sum(natural) > room {
		full.without(t.Spare)
		natural, least = slices.Delete(natural, t.Spare, t.Spare+1), slices.Delete(least, t.Spare, t.Spare+1)
		n--
	}
	switch all, words := sum(natural), sum(least); {
	case n > most || words > room:
		return nil, full.records()
	case all > room:
		// What the words leave goes to the columns that want more.
		for k := range natural {
			natural[k] = least[k] + (natural[k]-least[k])*(room-words)/(all-words)
		}
	}
	full.widths = natural
	return full, nil
}

func newGrid(t document.Table, n int) *grid {
	g := &grid{caption: t.Caption, right: make([]bool, n)}
	copy(g.right, t.Right)
	cells := func(row []document.Inline) []cell {
		out := make([]cell, n)
		for k, c := range row {
			out[k] = piecesOf(c)
		}
		return out
	}
	if slices.ContainsFunc(t.Head, func(c document.Inline) bool { return len(c) > 0 }) {
		g.head = cells(t.Head)
	}
	for _, r := range t.Rows {
		g.rows = append(g.rows, cells(r))
	}
	return g
}

// all are the rows, the head first where there is one.
func (g *grid) all() [][]cell {
	if g.head == nil {
		return g.rows
	}
	return append([][]cell{g.head}, g.rows...)
}

// measure finds how wide each column wants to be, and the least that leaves its
// words whole: in any face, since a sign that is torn from its number is worse
// than a wide column.
func (g *grid) measure(n int, size, pad float64) (natural, least []float64) {
	natural, least = make([]float64, n), make([]float64, n)
	for i, r := range g.all() {
		bold := i == 0 && g.head != nil
		for k, c := range r {
			natural[k] = max(natural[k], widthOf(c, size, bold))
			least[k] = max(least[k], widest*longestWord(c, size, bold))
		}
	}
	for k := range natural {
		least[k] += 2 * pad
		natural[k] = max(natural[k]+2*pad, least[k])
	}
	return natural, least
}

// widest is what a word may need of the estimate, in DejaVu Serif.
const widest = 1.3

func longestWord(c cell, size float64, bold bool) float64 {
	longest, word := 0.0, 0.0
	for _, p := range c {
		for i, w := range strings.Split(p.text, " ") {
			if i > 0 {
				word = 0
			}
			word += widthOfText(w, p.kind, size, bold)
			longest = max(longest, word)
		}
	}
	return longest
}

// without leaves a column out.
func (g *grid) without(k int) {
	g.right = slices.Delete(g.right, k, k+1)
	if g.head != nil {
		g.head = slices.Delete(g.head, k, k+1)
	}
	for i := range g.rows {
		g.rows[i] = slices.Delete(g.rows[i], k, k+1)
	}
}

// records writes each row as its first cell and the others with their heads.
func (g *grid) records() [][]piece {
	out := make([][]piece, 0, len(g.rows))
	for _, r := range g.rows {
		var line []piece
		sep, between := "", ", "
		for k, c := range r {
			if k > 0 && slices.ContainsFunc(c, func(p piece) bool { return strings.Contains(p.text, ", ") }) {
				between = "; " // a cell is a list itself
			}
		}
		for k, c := range r {
			if k > 0 && len(c) == 0 {
				continue
			}
			line = add(line, sep, prose)
			if k > 0 && g.head != nil && len(g.head[k]) > 0 {
				line = add(append(line, g.head[k]...), noBreak, prose)
			}
			line = append(line, c...)
			switch k {
			case 0:
				sep = ": "
			default:
				sep = between
			}
		}
		out = append(out, line)
	}
	return out
}

func sum(all []float64) float64 {
	s := 0.0
	for _, x := range all {
		s += x
	}
	return s
}

// tableOf returns the numbers of a figure.
func tableOf(f document.Figure) document.Table {
	t := f.Drawn.Table
	row := func(cells []diagram.Cell) []document.Inline {
		out := make([]document.Inline, len(cells))
		for i, c := range cells {
			switch {
			case c.Formula != nil:
				out[i] = document.Inline{{Formula: c.Formula}}
			case c.Prose != "":
				out[i] = document.Inline{{Prose: c.Prose}}
			}
		}
		return out
	}
	out := document.Table{Caption: t.Caption, Head: row(t.Head), Right: t.Right}
	for _, r := range t.Rows {
		out.Rows = append(out.Rows, row(r))
	}
	return out
}
