package pdf

import "halves/drawing"

// A node is a piece of a document that is to be put on pages: a leaf, which is
// never torn, or a group of nodes one below the other.
type node struct {
	before float64 // the room above it, which it has not at the top of a page
	height float64 // of a leaf
	marks  []mark  // what a leaf draws
	kids   []*node // of a group

	next  bool // stays on the page with what follows
	whole bool // a group that is kept on one page where it fits
	soft  bool // but not where more than half a page would stay empty for it
	turn  bool // begins a new page
	head  *node
	entry *entry // of the outline

	total float64 // of a group, once it was added up
}

// A mark is what is drawn in one place. Places are in points from the left
// margin and from the top of the leaf.
type mark struct {
	kind   kind
	x, y   float64 // the base line of a text; the upper left corner of what has a height
	width  float64
	height float64
	text   string
	face   face
	colour colour
	size   float64
	own    element
	reads  string // what is copied instead of the marks from here on, covers in all
	covers int
	figure *drawing.Picture
}

// A kind is what a mark draws.
type kind uint8

const (
	letters  kind = iota
	unseen        // letters that are found and copied, but not seen
	rule          // a level line, as thick as height, its middle at y
	pictured      // a picture
	empty         // nothing: an element that has to be there
)

// size is how high a node is at the top of a page, without the room above it.
func (n *node) size() float64 {
	if n.kids == nil {
		return n.height
	}
	if n.total == 0 {
		for i, k := range n.kids {
			if i > 0 {
				n.total += k.gap()
			}
			n.total += k.size()
		}
	}
	return n.total
}

// gap is the room above a node.
func (n *node) gap() float64 {
	for n.kids != nil && n.before == 0 {
		n = n.kids[0]
	}
	return n.before
}

// shift moves what a leaf draws.
func shift(marks []mark, x, y float64) []mark {
	for i := range marks {
		marks[i].x += x
		marks[i].y += y
	}
	return marks
}
