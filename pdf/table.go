package pdf

import (
	"cmp"
	"slices"

	"halves/document"
)

// A grid is a table while it is set.
type grid struct {
	*setter
	document.Table
	columns int
	rows    int // of the body
	head    bool
	scale   float64   // of the letters
	widths  []float64 // of the columns
	gap     float64   // between two columns
	own     element
}

// cell returns a cell, row -1 being the head; nil where a row is short.
func (g *grid) cell(row, column int) document.Inline {
	cells := g.Head
	if row >= 0 {
		cells = g.Rows[row]
	}
	if column < len(cells) {
		return cells[column]
	}
	return nil
}

func (g *grid) right(column int) bool { return column < len(g.Right) && g.Right[column] }

func (g *grid) size() float64 { return g.body * g.scale }

// table sets a table: as wide as its cells where they have room; else without
// its spare column, in smaller letters, with cells of several lines.
func (s *setter) table(t document.Table) []*node {
	g := &grid{setter: s, Table: t, rows: len(t.Rows), columns: len(t.Head), scale: 1, gap: s.cell}
	for _, r := range t.Rows {
		g.columns = max(g.columns, len(r))
	}
	for _, h := range t.Head {
		g.head = g.head || len(h) > 0
	}
	if g.columns == 0 {
		return nil
	}
	room := s.width - s.indent
	natural, least := g.measure()
	if t.Spare > 0 && t.Spare < g.columns && g.total(natural) > room {
		g.drop(t.Spare)
		natural, least = g.measure()
	}
	const small, smallest = 0.88, 0.6
	switch {
	case g.total(natural) <= room:
		g.widths = natural
	case g.total(natural)*small <= room:
		n := rounding * float64(g.columns)
		g.rescale((room - n) / (g.total(natural) - n))
		g.widths, _ = g.measure()
	case room/float64(g.columns) < 3*s.body:
		return s.records(t)
	default:
		if all := g.total(least); all > room {
			g.rescale(max(smallest, room/all))
			natural, least = g.measure()
		}
		g.widths = shared(natural, least, room-g.gap*float64(g.columns-1))
	}
	return g.set()
}

// records sets the rows of a table that has too many columns as a list, each cell
// behind its head: "MnO4^-: Mn +7; O −2".
func (s *setter) records(t document.Table) []*node {
	var l document.List
	for _, r := range t.Rows {
		var item document.Inline
		for k, c := range r {
			if len(c) == 0 {
				continue
			}
			if k > 0 && len(item) > 0 {
				item = append(item, document.Span{Prose: "; "})
			}
			if k > 0 && k < len(t.Head) && len(t.Head[k]) > 0 {
				item = append(append(item, t.Head[k]...), document.Span{Prose: " "})
			}
			item = append(item, c...)
		}
		l.Items = append(l.Items, item)
	}
	return s.list(l)
}

func (g *grid) rescale(by float64) {
	g.scale *= by
	g.gap *= by
}

// drop leaves a column out.
func (g *grid) drop(k int) {
	cut := func(row []document.Inline) []document.Inline {
		if k >= len(row) {
			return row
		}
		return append(append([]document.Inline{}, row[:k]...), row[k+1:]...)
	}
	rows := make([][]document.Inline, len(g.Rows))
	for i, r := range g.Rows {
		rows[i] = cut(r)
	}
	g.Head, g.Rows = cut(g.Head), rows
	if k < len(g.Right) {
		g.Right = append(append([]bool{}, g.Right[:k]...), g.Right[k+1:]...)
	}
	g.columns--
}

// rounding is what is added to the width of a column.
const rounding = 0.5

// measure returns how wide the columns are with each cell on one line, and with
// each word on its own.
func (g *grid) measure() (natural, least []float64) {
	natural, least = make([]float64, g.columns), make([]float64, g.columns)
	plain := &setter{look: g.look, tags: newTags()} // measured, not drawn
	st := style{size: g.size()}
	for row := -1; row < g.rows; row++ {
		for k := range g.columns {
			words := plain.words(g.cell(row, k), st)
			natural[k] = max(natural[k], widthOf(words))
			for _, w := range words {
				least[k] = max(least[k], w.width)
			}
		}
	}
	for k := range natural {
		natural[k] += rounding
		least[k] += rounding
		if g.right(k) {
			least[k] = natural[k] // numbers are not broken
		}
	}
	return natural, least
}

// total is how wide a table is.
func (g *grid) total(widths []float64) float64 {
	w := g.gap * float64(g.columns-1)
	for _, x := range widths {
		w += x
	}
	return w
}

// shared gives columns that wrap their shares of the room: each as much as its
// longest word, and what is left by how much more it could take. Where the longest
// words have no room, those of the wider columns are cut.
func shared(natural, least []float64, room float64) []float64 {
	sum, more := 0.0, 0.0
	for k := range least {
		sum += least[k]
		more += natural[k] - least[k]
	}
	out := make([]float64, len(least))
	for k := range out {
		out[k] = least[k]
		if sum <= room && more > 0 {
			out[k] += (natural[k] - least[k]) / more * (room - sum)
		}
	}
	if sum > room {
		order := make([]int, len(least))
		for i := range order {
			order[i] = i
		}
		slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(least[a], least[b]) })
		for i, k := range order {
			out[k] = min(least[k], room/float64(len(order)-i))
			room -= out[k]
		}
	}
	return out
}

// set makes the leaves of the rows.
func (g *grid) set() []*node {
	more := ""
	if g.Caption != "" {
		more = "/A<</O/Table/Summary " + textString(g.Caption) + ">>"
	}
	g.own = g.tags.with(g.tags.child(g.setter.own, tableTag, ""), more)
	out := &node{}
	if g.head {
		out.head = g.row(-1)
		out.head.before = g.paragraph + 2
		out.head.next = true
		out.kids = append(out.kids, out.head)
		if out.head.height > g.room/3 {
			out.head = nil // no room to say it again
		}
	}
	for i := range g.rows {
		n := g.row(i)
		if i == 0 && !g.head {
			n.before = g.paragraph + 2
		}
		// Two rows at least on either side of a turn.
		n.next = i+1 < g.rows && (i == 0 || i+2 == g.rows) && n.height < g.room/8
		if n.height > g.room*0.6 {
			out.kids = append(out.kids, n.torn(g.room*0.6)...)
			continue
		}
		out.kids = append(out.kids, n)
	}
	if len(out.kids) == 0 {
		return nil
	}
	return []*node{out}
}

// row makes the leaf of a row, -1 for the head.
func (g *grid) row(i int) *node {
	const above, below = 0.24, 0.12 // of the letters, in sizes
	size := g.size()
	n := &node{}
	tr := g.tags.child(g.own, rowTag, "")
	st := style{regular, ink, size, artifact}
	if i < 0 {
		st.colour = quiet
	}
	if i > 0 {
		n.marks = append(n.marks, mark{kind: rule, x: g.indent, y: 0, width: g.total(g.widths), height: g.hair, colour: faint})
	}
	x := g.indent
	for k := range g.columns {
		cell := g.cell(i, k)
		switch {
		case i < 0 && len(cell) > 0:
			st.own = g.tags.with(g.tags.child(tr, headTag, ""), "/A<</O/Table/Scope/Column>>")
		case i >= 0 && k == 0 && len(cell) > 0:
			st.own = g.tags.with(g.tags.child(tr, headTag, ""), "/A<</O/Table/Scope/Row>>")
		default:
			st.own = g.tags.child(tr, cellTag, "")
		}
		if len(cell) == 0 {
			n.marks = append(n.marks, mark{kind: empty, own: st.own})
		}
		at := left
		if g.right(k) {
			at = right
		}
		f := g.flow(g.words(cell, st), size, 1.25, x, g.widths[k], 0, at)
		n.marks = append(n.marks, f.stacked(above*size)...)
		n.height = max(n.height, f.total())
		x += g.widths[k] + g.gap
	}
	n.height = max(n.height, 1.25*size) + (above+below)*size
	if i < 0 {
		n.marks = append(n.marks, mark{kind: rule, x: g.indent, y: n.height, width: g.total(g.widths), height: g.rule, colour: ruled})
	}
	return n
}
