package pdf

// A tag is a standard structure type (ISO 32000-1, 14.8.4).
type tag uint8

const (
	noTag tag = iota
	documentTag
	partTag
	sectTag
	h1Tag
	h2Tag
	h3Tag
	h4Tag
	h5Tag
	h6Tag
	paragraphTag
	listTag
	itemTag
	labelTag
	bodyTag
	tableTag
	rowTag
	headTag
	cellTag
	formulaTag
	figureTag
	spanTag
)

var tagNames = [...]string{
	documentTag: "Document", partTag: "Part", sectTag: "Sect",
	h1Tag: "H1", h2Tag: "H2", h3Tag: "H3", h4Tag: "H4", h5Tag: "H5", h6Tag: "H6",
	paragraphTag: "P", listTag: "L", itemTag: "LI", labelTag: "Lbl", bodyTag: "LBody",
	tableTag: "Table", rowTag: "TR", headTag: "TH", cellTag: "TD",
	formulaTag: "Formula", figureTag: "Figure", spanTag: "Span",
}

// An element is a place in the tree of what a file says, by its number; 0 is
// what is only decoration (an artifact).
type element int32

const artifact element = 0

// tags is the tree of structure of a file. Elements are known once they are
// made, and belong to the tree once something of theirs is drawn: their order is
// that of drawing.
type tags struct {
	all []tagged // the first is not used
	// pages are the elements of each page, by the numbers of what is drawn.
	pages [][]element
}

type tagged struct {
	tag    tag
	parent element
	drawn  bool // it is in the tree
	alt    string
	more   string // attributes, as they are written
	kids   []kid
}

// A kid is an element, or what is drawn on a page under a number.
type kid struct {
	element element // 0 for what is drawn
	page    int32   // from 0
	number  int32
}

func newTags() *tags { return &tags{all: make([]tagged, 1)} }

// child makes an element. alt is what is said instead of it, "" for what it
// says itself.
func (t *tags) child(parent element, tag tag, alt string) element {
	t.all = append(t.all, tagged{tag: tag, parent: parent, alt: alt})
	return element(len(t.all) - 1)
}

// with gives an element attributes, in the language of PDF.
func (t *tags) with(e element, more string) element {
	t.all[e].more += more
	return e
}

// page begins a page.
func (t *tags) page() { t.pages = append(t.pages, nil) }

// draw puts what is drawn next on the page under an element and returns its
// number there.
func (t *tags) draw(e element) int {
	page := len(t.pages) - 1
	n := len(t.pages[page])
	t.pages[page] = append(t.pages[page], e)
	x := &t.all[e]
	x.kids = append(x.kids, kid{page: int32(page), number: int32(n)})
	t.attach(e)
	return n
}

// attach puts an element and those that it stands in into the tree.
func (t *tags) attach(e element) {
	for !t.all[e].drawn {
		t.all[e].drawn = true
		parent := t.all[e].parent
		if parent == artifact {
			return
		}
		t.all[parent].kids = append(t.all[parent].kids, kid{element: e})
		e = parent
	}
}

// headingTag is that of a heading of a level from 1.
func headingTag(level int) tag { return h1Tag + tag(min(max(level, 1), 6)-1) }
