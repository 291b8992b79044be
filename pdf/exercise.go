package pdf

import (
	"slices"
	"strconv"

	"halves/document"
)

// exercise sets a question with what belongs to it, which stands further in. It
// is kept on one page unless it has headings: then it is a working.
func (s *setter) exercise(e document.Exercise, under []document.Block) *node {
	own := s.tags.child(s.own, sectTag, "")
	working := slices.ContainsFunc(under, func(b document.Block) bool { _, ok := b.(document.Heading); return ok })
	n := &node{whole: !working}
	n.kids = s.within(own, func() []*node {
		out := s.asked(e)
		if len(under) > 0 {
			out[len(out)-1].next = true
		}
		return append(out, s.inside(s.number, func() []*node { return s.blocks(under) })...)
	})
	return n
}

// asked sets the question: its number at the left, its marks flush right.
func (s *setter) asked(e document.Exercise) []*node {
	number := strconv.Itoa(e.Number)
	head := style{bold, ink, s.body, s.tags.child(s.own, headingTag(s.base+1), "Question "+number)}
	st := style{regular, ink, s.body, s.tags.child(s.own, paragraphTag, "")}
	var w word
	w.add(number+".", head, 0)
	w.space = 1
	by := max(s.number, w.width+0.4*s.body)
	x, room := s.indent+by, max(s.width-s.indent-by, s.body)
	text := s.words(e.Text, st)
	var marks []word
	less := 0.0
	if e.Marks != "" {
		worth := style{regular, ink, s.reason, s.tags.child(s.own, paragraphTag, "")}
		marks = fitted(s.words(document.Inline{{Prose: e.Marks}}, worth), room/2)
		if width := widthOf(marks); width > room/2 {
			marks = marks[:1]
		}
		less = widthOf(marks) + 1.2*s.body
		if n := len(text); n > 0 && text[n-1].space == 0 {
			text[n-1].space = 1 // the marks are a word of their own
		}
	}
	f := s.flow(text, st.size, s.leading, x, room, less, left)
	if len(f.marks) == 0 || less > 0 && f.widths[0] > room-less+slack {
		f.marks = slices.Insert(f.marks, 0, []mark(nil)) // a line for the number and the marks
	}
	out := f.leaves(s.look.section * 0.9)
	base := baseLine(st.size, s.leading)
	out[0].marks = slices.Concat(draw(nil, []word{w}, s.indent, base), out[0].marks)
	if len(marks) > 0 {
		out[0].marks = draw(out[0].marks, marks, s.width-widthOf(marks), base)
	}
	title := number + ". " + plainText(e.Text)
	out[0].entry = &entry{level: 1, title: title}
	return out
}

// choices sets the answers of a multiple-choice question: on one line where they
// are short, else one below the other.
func (s *setter) choices(c document.Choices) []*node {
	own := s.tags.with(s.tags.child(s.own, listTag, ""), "/A<</O/List/ListNumbering/UpperAlpha>>")
	by := 1.9 * s.body
	tick := 0.0
	if slices.ContainsFunc(c.Items, func(x document.Choice) bool { return x.Right }) {
		tick = 1.3 * s.body
	}
	if out := s.shortChoices(c, own, by); tick == 0 && out != nil {
		return out
	}
	var out []*node
	for i, x := range c.Items {
		li := s.tags.child(own, itemTag, "")
		label := style{regular, ink, s.body, s.tags.child(li, labelTag, "")}
		st := style{regular, ink, s.body, s.tags.child(li, bodyTag, "")}
		if x.Right {
			label.face, st.face = bold, bold
		}
		before := 0.35 * s.paragraph
		if i == 0 {
			before = s.paragraph
		}
		all := s.inside(tick, func() []*node {
			return s.hung(document.Letter(i), label, x.Text, st, by, before)
		})
		if x.Right {
			tick := label
			tick.own = s.tags.child(label.own, spanTag, "right answer")
			var w word
			w.add("✓", tick, 0)
			w.space = 1
			all[0].marks = slices.Concat(draw(nil, []word{w}, s.indent, baseLine(s.body, s.leading)), all[0].marks)
		}
		if x.Note != nil {
			all[len(all)-1].next = true
			note := style{italic, ink, s.small, s.tags.child(st.own, paragraphTag, "")}
			all = append(all, s.inside(tick+by, func() []*node { return s.text(x.Note, note, 0) })...)
		}
		if i+1 < len(c.Items) && i < 26 {
			all[len(all)-1].next = true
		}
		out = append(out, all...)
	}
	return out
}

// shortChoices sets choices side by side, nil where they have no room or have
// notes.
func (s *setter) shortChoices(c document.Choices, own element, by float64) []*node {
	n := len(c.Items)
	if n < 2 || n > 6 {
		return nil
	}
	column := (s.width - s.indent) / float64(max(n, 4))
	plain := &setter{look: s.look, tags: newTags()} // measured, not drawn
	for _, x := range c.Items {
		if x.Note != nil || by+widthOf(plain.words(x.Text, style{size: s.body}))+s.body > column {
			return nil
		}
	}
	leaf := &node{before: s.paragraph, height: s.leading * s.body}
	y := baseLine(s.body, s.leading)
	for i, x := range c.Items {
		li := s.tags.child(own, itemTag, "")
		var w word
		w.add(document.Letter(i), style{regular, ink, s.body, s.tags.child(li, labelTag, "")}, 0)
		w.space = 1
		at := s.indent + float64(i)*column
		leaf.marks = draw(leaf.marks, []word{w}, at, y)
		words := s.words(x.Text, style{regular, ink, s.body, s.tags.child(li, bodyTag, "")})
		if k := len(words); k > 0 && i+1 < n {
			words[k-1].space = 1
		}
		leaf.marks = draw(leaf.marks, words, at+by, y)
	}
	return []*node{leaf}
}

// space sets ruled lines to write on, the first of them behind a label.
func (s *setter) space(b document.Space) []*node {
	var out []*node
	st := style{regular, ink, s.body, s.tags.child(s.own, paragraphTag, "")}
	label := s.words(b.Label, st)
	begin := 0.0
	first := &node{before: s.paragraph, height: s.pitch}
	if width := widthOf(label); len(label) > 0 && width <= 0.6*(s.width-s.indent) {
		first.marks = draw(nil, label, s.indent, s.pitch)
		begin = width + 0.5*s.body
	} else if len(label) > 0 {
		out = s.text(b.Label, st, s.paragraph)
		for _, n := range out {
			n.next = true
		}
		first.before = 0
	}
	for i := range min(max(b.Lines, 1), mostLines) {
		n := &node{height: s.pitch}
		if i == 0 {
			n = first
		}
		n.marks = append(n.marks, mark{kind: rule, x: s.indent + begin, y: s.pitch, width: s.width - s.indent - begin, height: s.hair * 1.4, colour: ruled})
		n.next = i == 0 && b.Lines > 1 || i+2 == b.Lines
		begin = 0
		out = append(out, n)
	}
	out[len(out)-1].height += 0.35 * s.body // letters hang below a line
	return out
}

// mostLines is how many ruled lines a space may have: some forty pages.
const mostLines = 1000

// fields sets short rules to fill in on one line, each behind its label. The
// first, for a name, is longer than the others.
func (s *setter) fields(f document.Fields) []*node {
	const least = 5 // of a rule, in sizes
	gap, behind := 1.4*s.body, 0.4*s.body
	room := s.width - s.indent
	own := s.tags.child(s.own, paragraphTag, "")
	st := style{regular, ink, s.body, own}
	var out []*node
	for from := 0; from < len(f.Labels); {
		var labels [][]word
		used := 0.0
		to := from
		for to < len(f.Labels) {
			words := s.words(document.Inline{{Prose: f.Labels[to]}}, st)
			need := widthOf(words) + behind + least*s.body
			if need > room {
				// A label that has no room beside a rule stands above it.
				if to > from {
					break
				}
				out = append(out, s.text(document.Inline{{Prose: f.Labels[to]}}, st, 0.5*s.paragraph)...)
				words, need = nil, least*s.body
			}
			if to > from {
				need += gap
			}
			if to > from && used+need > room {
				break
			}
			if k := len(words); k > 0 {
				words[k-1].space = 1
			}
			labels = append(labels, words)
			used += need
			to++
		}
		share := max(0, room-used) / float64(len(labels)+1)
		leaf := &node{before: 0.5 * s.paragraph, height: s.pitch}
		x := s.indent
		for i, words := range labels {
			rules := least*s.body + share
			if i == 0 {
				rules += share
			}
			leaf.marks = draw(leaf.marks, words, x, s.pitch-0.3*s.body)
			x += widthOf(words) + behind
			leaf.marks = append(leaf.marks, mark{kind: rule, x: x, y: s.pitch - 0.3*s.body, width: max(0, min(rules, s.width-x)), height: 1.4 * s.hair, colour: ruled})
			x += rules + gap
		}
		out = append(out, leaf)
		from = to
	}
	return out
}
