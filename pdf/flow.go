package pdf

// A placed leaf stands on a page; top is in points from the top of the page.
type placed struct {
	*node
	top      float64
	artifact bool // a head of a table that is seen again
}

// A page is what stands on one page.
type page struct {
	sheet  sheet
	leaves []placed
}

// A flow puts nodes on pages.
type flow struct {
	sheet sheet
	pages []*page
	y     float64 // where the next leaf stands
	heads []*node // of the tables that are being put
}

func newFlow(s sheet) *flow {
	f := &flow{sheet: s}
	f.turn()
	return f
}

// turn begins a page.
func (f *flow) turn() {
	f.pages = append(f.pages, &page{sheet: f.sheet})
	f.y = f.sheet.top
	for _, h := range f.heads {
		f.set(h, true)
	}
}

// last is the page that is being filled.
func (f *flow) last() *page { return f.pages[len(f.pages)-1] }

// fresh reports whether nothing but heads of tables stands on the page.
func (f *flow) fresh() bool {
	for _, l := range f.last().leaves {
		if !l.artifact {
			return false
		}
	}
	return true
}

func (f *flow) bottom() float64 { return f.sheet.height - f.sheet.bottom }

// set puts a leaf on the page.
func (f *flow) set(n *node, artifact bool) {
	if len(f.last().leaves) > 0 {
		f.y += n.before
	}
	f.last().leaves = append(f.last().leaves, placed{n, f.y, artifact})
	f.y += n.height
}

// put puts nodes one below the other.
func (f *flow) put(nodes []*node) {
	for i, n := range nodes {
		if n.turn && !f.fresh() {
			f.turn()
		}
		if !f.fresh() && f.y+f.reach(nodes[i:], true) > f.bottom()+slack {
			f.turn()
		}
		switch {
		case n.kids == nil && n.height > f.bottom()-f.y+slack && f.fresh():
			f.put(n.torn(f.bottom() - f.y))
		case n.kids == nil:
			f.set(n, false)
		case n.head != nil:
			f.put(n.kids[:1])
			f.heads = append(f.heads, n.head)
			f.put(n.kids[1:])
			f.heads = f.heads[:len(f.heads)-1]
		default:
			f.put(n.kids)
		}
	}
}

// reach is how much room the first of some nodes needs on a page, with what has
// to stay with it.
func (f *flow) reach(nodes []*node, gap bool) float64 {
	total := 0.0
	for i, n := range nodes {
		if gap || i > 0 {
			total += n.gap()
		}
		switch {
		case n.kids == nil, n.whole && n.size() <= f.sheet.room() && !(n.soft && f.bottom()-f.y > f.sheet.room()/2):
			total += n.size()
		default:
			total += f.reach(n.kids, false)
			return total
		}
		if !n.next || total > f.sheet.room() {
			break
		}
	}
	return total
}

// torn cuts a leaf that is higher than a page between its lines.
func (n *node) torn(room float64) []*node {
	var out []*node
	rest := n.marks
	top := 0.0
	for len(rest) > 0 {
		piece := &node{before: 0}
		var later []mark
		first := rest[0].y
		for _, m := range rest {
			first = min(first, m.y)
		}
		end := max(top+room, first+1) // one line at least
		for len(rest) > 0 {
			m, all := rest[0], rest[:max(1, rest[0].covers)]
			rest = rest[len(all):]
			if m.y+descent*m.size <= end || m.y <= first {
				piece.marks = append(piece.marks, all...)
				piece.height = max(piece.height, min(m.y+descent*m.size-top, room))
			} else {
				later = append(later, all...)
			}
		}
		next := n.height
		for _, m := range later {
			next = min(next, m.y-1.1*m.size)
		}
		shift(piece.marks, 0, -top)
		out = append(out, piece)
		rest, top = later, next
	}
	if len(out) > 0 {
		out[0].before, out[0].entry = n.before, n.entry
		out[len(out)-1].next = n.next
	}
	return out
}
