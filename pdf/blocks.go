package pdf

import (
	"slices"

	"halves/document"
)

// title sets the title of a document.
func (s *setter) title(text document.Inline) []*node {
	st := style{bold, ink, s.look.title, s.tags.child(s.own, headingTag(s.base), "")}
	const leading = 1.22
	f := s.flow(s.words(text, st), st.size, leading, 0, s.width, 0, left)
	out := f.leaves(0)
	for _, n := range out {
		n.next = true
	}
	return out
}

// blocks sets blocks one below the other.
func (s *setter) blocks(all []document.Block) []*node {
	var out []*node
	turn := false
	add := func(nodes ...*node) {
		for _, n := range nodes {
			if n != nil {
				n.turn = n.turn || turn
				turn = false
				out = append(out, n)
			}
		}
	}
	for i := 0; i < len(all); {
		if n := equationsAt(all[i:]); n > 0 {
			add(s.equations(all[i : i+n])...)
			i += n
			continue
		}
		b := all[i]
		i++
		switch b := b.(type) {
		case document.Break:
			turn = true
		case document.Heading:
			n := s.sectionAt(b.Level, all[i:])
			add(s.section(b, all[i:i+n]))
			i += n
		case document.Exercise:
			n := exerciseAt(all[i:])
			add(s.exercise(b, all[i:i+n]))
			i += n
		case document.Slide:
			add(s.slideTitle(b)...) // among other blocks: a heading
		default:
			add(s.block(b)...)
		}
	}
	return out
}

// equationsAt counts the equations that all begins with, the answer not among
// them.
func equationsAt(all []document.Block) int {
	n := 0
	for n < len(all) {
		if e, ok := all[n].(document.Equation); !ok || e.Final {
			break
		}
		n++
	}
	return n
}

// sectionAt counts the blocks of a section of a level: those before the next
// heading that is not deeper, an exercise, a slide or a new page.
func (s *setter) sectionAt(level int, all []document.Block) int {
	for i, b := range all {
		switch b := b.(type) {
		case document.Heading:
			if b.Level <= level {
				return i
			}
		case document.Exercise, document.Slide, document.Break:
			return i
		}
	}
	return len(all)
}

// exerciseAt counts the blocks that belong to an exercise.
func exerciseAt(all []document.Block) int {
	for i, b := range all {
		switch b := b.(type) {
		case document.Heading:
			if b.Level <= 1 {
				return i
			}
		case document.Exercise, document.Slide, document.Break:
			return i
		}
	}
	return len(all)
}

// section sets a heading with what stands under it. It is kept together if the
// document wants it, but half an empty page is too high a price for that.
func (s *setter) section(h document.Heading, under []document.Block) *node {
	own := s.tags.child(s.own, sectTag, "")
	kids := s.within(own, func() []*node {
		return append(s.heading(h, under), s.blocks(under)...)
	})
	if len(kids) == 0 {
		return nil
	}
	return &node{whole: h.Keep, soft: true, kids: kids}
}

// heading sets a heading, one of level 1 above a rule; the answer has its own.
func (s *setter) heading(h document.Heading, under []document.Block) []*node {
	level := min(max(h.Level, 1), len(s.headings))
	st := style{bold, ink, s.headings[level-1], s.tags.child(s.own, headingTag(s.base+max(h.Level, 1)), "")}
	if level == len(s.headings) {
		st.face = italic
	}
	before := s.look.section
	if level > 1 {
		before *= 0.75
	}
	const leading = 1.25
	f := s.flow(s.words(h.Text, st), st.size, leading, s.indent, s.width-s.indent, 0, left)
	out := f.leaves(before)
	for _, n := range out {
		n.next = true
	}
	if len(out) > 0 {
		out[0].entry = &entry{level: max(h.Level, 1), title: plainText(h.Text)}
		last := out[len(out)-1]
		answer := false
		if len(under) > 0 {
			e, ok := under[0].(document.Equation)
			answer = ok && e.Final
		}
		if level == 1 && !answer {
			last.height += 0.3 * st.size
			last.marks = append(last.marks, mark{kind: rule, x: s.indent, y: last.height - s.hair, width: s.width - s.indent, height: s.hair, colour: ruled})
		}
		last.height += 0.1 * st.size
	}
	return out
}

// block sets a block that stands for itself.
func (s *setter) block(b document.Block) []*node {
	switch b := b.(type) {
	case document.Paragraph:
		return s.text(b.Text, style{regular, ink, s.body, s.tags.child(s.own, paragraphTag, "")}, s.paragraph)
	case document.Note:
		return s.text(b.Text, style{regular, quiet, s.body, s.tags.child(s.own, paragraphTag, "")}, s.paragraph)
	case document.List:
		return s.list(b)
	case document.Table:
		return s.table(b)
	case document.Figure:
		return s.figure(b)
	case document.Equation:
		return s.answerLine(b)
	case document.Choices:
		return s.choices(b)
	case document.Space:
		return s.space(b)
	case document.Fields:
		return s.fields(b)
	}
	return nil
}

func (s *setter) list(l document.List) []*node {
	own := s.tags.child(s.own, listTag, "")
	var out []*node
	for i, item := range l.Items {
		before := s.paragraph
		if i > 0 {
			before *= 0.5
		}
		li := s.tags.child(own, itemTag, "")
		dot := style{regular, ink, s.body, s.tags.child(li, labelTag, "")}
		st := dot
		st.own = s.tags.child(li, bodyTag, "")
		out = append(out, s.hung("•", dot, item, st, 0.95*s.body, before)...)
	}
	return out
}

// hung sets a text whose first line has a mark before it.
func (s *setter) hung(label string, labelStyle style, text document.Inline, st style, by, before float64) []*node {
	var w word
	w.add(label, labelStyle, 0)
	w.space = 1 // parts it from the text
	at := s.indent
	return s.inside(by, func() []*node {
		out := s.text(text, st, before)
		if len(out) == 0 {
			out = []*node{{before: before, height: s.leading * st.size}}
		}
		dot := draw(nil, []word{w}, at, baseLine(st.size, s.leading))
		out[0].marks = slices.Concat(dot, out[0].marks)
		return out
	})
}
