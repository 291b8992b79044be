package pdf

import "halves/document"

// labelColumn returns how wide the column of labels is that stand at the left of
// the lines of a working, in the whole document.
func (s *setter) labelColumn(all []document.Block) float64 {
	widest := 0.0
	st := style{face: bold, size: s.body}
	plain := &setter{look: s.look, tags: newTags()} // measured, not drawn
	for _, b := range all {
		if e, ok := b.(document.Equation); ok && e.Label != nil {
			widest = max(widest, widthOf(plain.words(e.Label, st)))
		}
	}
	if widest == 0 {
		return 0
	}
	return min(widest, s.labelShare*s.width) + s.labelGap
}

// A line is an equation that is set.
type line struct {
	left, right []word
	aligned     bool
}

// equations sets the lines of a working. Those that have room stand with their
// arrows one under the other.
func (s *setter) equations(all []document.Block) []*node {
	list := s.tags.child(s.own, listTag, "")
	list = s.tags.with(list, "/A<</O/List/ListNumbering/None>>")
	labels := 0.0
	for _, b := range all {
		if b.(document.Equation).Label != nil {
			labels = s.labels
		}
	}
	at := s.indent + labels
	if labels == 0 {
		at += s.body
	}
	room := s.width - at
	lines := make([]line, len(all))
	bodies := make([]element, len(all))
	algebra := false
	for i, b := range all {
		e := b.(document.Equation)
		item := s.tags.child(list, itemTag, "")
		bodies[i] = s.tags.child(item, bodyTag, "")
		algebra = algebra || document.IsAlgebra(e.Line)
	}
	l, r := 0.0, 0.0
	steps := make([]*step, len(all))
	for i, b := range all {
		steps[i] = s.step(b.(document.Equation), bodies[i])
		e := b.(document.Equation)
		left, right := document.SidesOf(e.Line)
		st := style{regular, ink, s.line, steps[i].line}
		if e.Fresh {
			st.face = bold
		}
		lines[i] = line{left: st.formula(left), right: st.formula(right)}
		if right == nil || algebra && !document.IsAlgebra(e.Line) {
			continue
		}
		a, b := s.leftWidth(lines[i]), widthOf(lines[i].right)
		if a+b <= room {
			lines[i].aligned = true
			l, r = max(l, a), max(r, b)
		}
	}
	out := make([]*node, len(all))
	columns := ledgerColumns(all, s.small)
	for i, b := range all {
		x := 0.0
		if lines[i].aligned && l+r <= room {
			x = l - s.leftWidth(lines[i])
		}
		out[i] = s.stepNode(b.(document.Equation), steps[i], lines[i], at, room, x, labels, columns)
		out[i].before = s.look.step
		if b.(document.Equation).Label == nil && labels > 0 {
			out[i].before *= 0.6 // the same rule again
		}
		if i == 0 {
			out[i].before = s.paragraph + 1
		}
	}
	return out
}

// leftWidth is how far the arrow is from the beginning of a line.
func (s *setter) leftWidth(l line) float64 {
	if len(l.left) == 0 {
		return 0
	}
	return widthOf(l.left) + arrowSpace*s.line
}

// A step has the elements of the parts of a line.
type step struct{ label, line, reason, ledger element }

func (s *setter) step(e document.Equation, own element) *step {
	out := &step{}
	if len(e.Label) > 0 {
		out.label = s.tags.child(own, paragraphTag, "")
	}
	if e.Line != nil {
		p := s.tags.child(own, paragraphTag, "")
		out.line = s.tags.child(p, formulaTag, spokenFormula(e.Line, e.Spoken))
	}
	if len(e.Reason) > 0 {
		out.reason = s.tags.child(own, paragraphTag, "")
	}
	if e.Ledger != nil {
		out.ledger = s.tags.child(own, paragraphTag, "")
		if e.SpokenLedger != "" {
			out.ledger = s.tags.child(out.ledger, spanTag, e.SpokenLedger)
		}
	}
	return out
}

// stepNode sets one line: its label at the left, and in a column the line, the
// reason and the ledger. x is how far in the line begins.
func (s *setter) stepNode(e document.Equation, own *step, l line, at, room, x, labels float64, columns ledgerWidths) *node {
	n := &node{}
	base := 0.0 // of the first line in the column, which the label stands on
	column := []mark{}
	y := 0.0
	if e.Line != nil {
		rows := s.rows(l, x, room)
		for i, row := range rows {
			size := s.line * row.scale
			b := y + baseLine(size, s.leading)
			if i == 0 {
				base = b
			}
			column = draw(column, row.words, at+row.x, b)
			y += s.leading * size
		}
	}
	if len(e.Reason) > 0 {
		st := style{regular, ink, s.reason, own.reason}
		if e.Line == nil {
			st.size = s.body
		}
		f := s.flow(s.words(e.Reason, st), st.size, s.leading, at, min(room, s.most), 0, left)
		if e.Line == nil {
			base = baseLine(st.size, s.leading)
		}
		column = append(column, f.stacked(y)...)
		y += f.total()
	}
	if e.Ledger != nil {
		st := style{regular, quiet, s.small, own.ledger}
		y += 0.12 * st.size
		marks, height := s.ledger(e.Ledger, st, at, room, columns)
		if y == 0 {
			base = baseLine(st.size, s.leading)
		}
		column = append(column, shift(marks, 0, y)...)
		y += height
	}
	n.height = y
	if len(e.Label) > 0 {
		st := style{bold, ink, s.body, own.label}
		const leading = 1.2
		f := s.flow(s.words(e.Label, st), st.size, leading, s.indent, max(labels-s.labelGap, s.body), 0, left)
		top := 0.0
		if base > 0 {
			top = base - baseLine(st.size, leading)
		}
		if top < 0 {
			column = shift(column, 0, -top)
			n.height -= top
			top = 0
		}
		n.marks = f.stacked(top)
		n.height = max(n.height, top+f.total())
	}
	n.marks = append(n.marks, column...)
	return n
}

// A row is a part of an equation that stands on one line.
type row struct {
	words []word
	x     float64
	scale float64
}

// rows breaks an equation that is too long before its arrow, and before its
// signs where a side is too long by itself. Letters are smaller where a term has
// no room on a line.
func (s *setter) rows(l line, x, room float64) []row {
	all := joined(l, s.line)
	if x+widthOf(all) <= room+slack {
		return []row{{all, x, 1}}
	}
	const arrow, further = 2.0, 4.0
	scale := 1.0
	for _, w := range all {
		scale = min(scale, (room-further*s.line)/w.width*0.999)
	}
	scale = max(scale, leastScale)
	if scale < 1 {
		// It may be that all of it has room on one line then.
		if whole := room / widthOf(all) * 0.999; whole >= scale {
			return []row{{scaledWords(all, whole), 0, whole}}
		}
	}
	var out []row
	add := func(side []word, hang float64) {
		side = scaledWords(side, scale)
		if scale == leastScale {
			side = fitted(side, room-further*s.line)
		}
		for len(side) > 0 {
			n, used := 0, 0.0
			for n < len(side) && (n == 0 || used+side[n].width <= room-hang*s.line+slack) {
				used += side[n].width + side[n].space
				n++
			}
			out = append(out, row{side[:n], hang * s.line, scale})
			side, hang = side[n:], further
		}
	}
	add(l.left, 0)
	if len(l.left) == 0 {
		add(l.right, 0)
	} else {
		add(l.right, arrow)
	}
	return out
}

func scaledWords(words []word, by float64) []word {
	if by == 1 {
		return words
	}
	out := make([]word, len(words))
	for i, w := range words {
		out[i] = w.scaled(by)
	}
	return out
}

// joined are the words of both sides.
func joined(l line, size float64) []word {
	if len(l.left) == 0 || len(l.right) == 0 {
		return append(l.left, l.right...)
	}
	out := make([]word, 0, len(l.left)+len(l.right))
	out = append(out, l.left...)
	out[len(out)-1].space = arrowSpace * size
	return append(out, l.right...)
}

// answerLine sets the answer off: larger, between two rules.
func (s *setter) answerLine(e document.Equation) []*node {
	p := s.tags.child(s.own, paragraphTag, "")
	st := style{regular, ink, s.answer, s.tags.child(p, formulaTag, spokenFormula(e.Line, e.Spoken))}
	if e.Fresh {
		st.face = bold
	}
	left, right := document.SidesOf(e.Line)
	l := line{left: st.formula(left), right: st.formula(right)}
	pad := 0.75 * s.answer
	large := *s
	large.line = s.answer
	rows := large.rows(l, 0, s.width-s.indent-2*pad)
	widest := 0.0
	for _, r := range rows {
		widest = max(widest, r.x+widthOf(r.words))
	}
	widest = min(widest+2*pad, s.width-s.indent)
	bar := func(y float64) mark {
		return mark{kind: rule, x: s.indent, y: y, width: widest, height: 1.6 * s.rule}
	}
	n := &node{before: s.paragraph + 3}
	n.marks = append(n.marks, bar(0.8*s.rule))
	y := 0.42 * s.answer
	for _, r := range rows {
		size := s.answer * r.scale
		n.marks = draw(n.marks, r.words, s.indent+pad+r.x, y+baseLine(size, s.leading))
		y += s.leading * size
	}
	y += 0.42 * s.answer
	n.height = y + 2*s.rule
	n.marks = append(n.marks, bar(n.height-0.8*s.rule))
	return []*node{n}
}
