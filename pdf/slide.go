package pdf

import "halves/document"

// slideTitle sets the title of a slide. What is said on it is not shown.
func (s *setter) slideTitle(b document.Slide) []*node {
	st := style{bold, ink, s.look.title, s.tags.child(s.own, headingTag(s.base), "")}
	const leading = 1.2
	f := s.flow(s.words(b.Title, st), st.size, leading, s.indent, s.width-s.indent, 0, left)
	if len(f.marks) == 0 {
		return nil
	}
	n := &node{marks: f.stacked(0), height: f.total() + 0.3*st.size, next: true, entry: &entry{level: 1, title: plainText(b.Title)}}
	n.marks = append(n.marks, mark{kind: rule, x: s.indent, y: n.height - s.rule, width: s.width - s.indent, height: s.rule, colour: ruled})
	n.height += 0.2 * st.size
	return []*node{n}
}

// A slide with more than fits is set smaller, by steps. What would be smaller
// than the least goes on on further slides, at a size between.
const (
	leastSlide     = 0.6
	continuedSlide = 0.75
	slideStep      = 0.05
)

// slides sets a deck, one slide on a page.
func slides(d *document.Document, t *tags, own element) []*page {
	f := newFlow(slideSheet)
	for from := 0; from < len(d.Blocks); {
		to := from + 1
		for to < len(d.Blocks) && !beginsSlide(d.Blocks[to]) {
			to++
		}
		if from > 0 {
			f.turn()
		}
		f.put(slideNodes(d.Blocks[from:to], t, own))
		f.heads = nil
		from = to
	}
	return f.pages
}

func beginsSlide(b document.Block) bool {
	switch b.(type) {
	case document.Slide, document.Break:
		return true
	}
	return false
}

// slideNodes sets one slide as large as it fits. A slide that goes on has its
// title again on each page.
func slideNodes(all []document.Block, t *tags, own element) []*node {
	if _, ok := all[0].(document.Break); ok {
		all = all[1:]
	}
	before := len(t.all)
	set := func(scale float64) []*node {
		t.all = t.all[:before] // of the try before
		s := newSetter(slideLook.scaled(scale), slideSheet, t, t.child(own, sectTag, ""))
		s.look.title, s.deck, s.base = slideLook.title*max(scale, continuedSlide), true, 1
		s.labels = s.labelColumn(all)
		return s.blocks(all)
	}
	for scale := 1.0; scale > leastSlide-slack; scale -= slideStep {
		nodes := set(scale)
		if whole := (node{kids: nodes}); len(nodes) == 0 || whole.size() <= slideSheet.room() {
			return nodes
		}
	}
	nodes := set(continuedSlide)
	if title := nodes[0]; title.entry != nil && title.height < slideSheet.room()/3 {
		return []*node{{kids: nodes, head: nodes[0]}}
	}
	return nodes
}
