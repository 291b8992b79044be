package pdf

import (
	"strconv"
	"time"

	"codeberg.org/go-pdf/fpdf"

	"halves/document"
	"halves/drawing"
)

// point is a point of package fpdf.
type point = fpdf.PointType

// A writer draws pages with package fpdf and keeps what it has drawn for the
// tree of structure and the outline.
type writer struct {
	Options
	file      *fpdf.Fpdf
	tags      *tags
	root      element
	language  string
	documents int
	entries   []entry
	sheets    []sheet // of each page
	known     [faces]bool
	face      face // that is set now
	size      float64
	open      element // what the next marks belong to; -1 for nothing

	seen func(m *mark, own element, x, y float64) // for tests: what is drawn on the page
}

func newWriter(o Options) *writer {
	s := o.Paper.sheet()
	f := fpdf.NewCustom(&fpdf.InitType{UnitStr: "pt", Size: fpdf.SizeType{Wd: s.width, Ht: s.height}})
	f.SetAutoPageBreak(false, 0)
	f.SetMargins(0, 0, 0)
	f.SetCatalogSort(true)
	// Without dates fpdf would read the clock. The objects that hold them are among
	// those that finish leaves out.
	fixed := time.Date(2000, 1, 1, 0, 0, 0, 0, time.UTC)
	f.SetCreationDate(fixed)
	f.SetModificationDate(fixed)
	f.SetProducer("", false)
	w := &writer{Options: o, file: f, tags: newTags(), open: -1}
	w.root = w.tags.child(artifact, documentTag, "")
	return w
}

// newSetter returns a setter for pages of a size.
func newSetter(l look, p sheet, t *tags, own element) *setter {
	return &setter{look: l, tags: t, width: p.column(), room: p.room(), own: own}
}

// document lays a document out and draws its pages.
func (w *writer) document(d *document.Document) {
	name := d.PlainTitle()
	language := d.Language
	if language == "" {
		language = "en"
	}
	if len(w.sheets) == 0 {
		w.language = language
		if w.Title == "" {
			w.Title = nameOf(d)
		}
	} else if w.BothSides && len(w.sheets)%2 == 1 {
		w.blank()
	}
	part := w.tags.child(w.root, partTag, "")
	if language != w.language {
		w.tags.with(part, "/Lang "+textString(language))
	}
	pages := w.layOut(d, part)
	title := nameOf(d)
	if d.Running.Right != "" {
		title += " (" + d.Running.Right + ")"
	}
	w.documents++
	w.entries = append(w.entries, entry{title: title, page: len(w.sheets)})
	head := d.Running
	if d.IsDeck() {
		// A slide has one line at its foot.
		head = document.Running{Foot: head.Foot}
		if head.Foot == "" {
			if head.Foot = d.Running.Left; head.Foot == "" {
				head.Foot = name
			}
		}
	}
	for i, p := range pages {
		w.page(p, head, i+1, len(pages))
	}
}

// layOut returns the pages of a document, one at least.
func (w *writer) layOut(d *document.Document, own element) []*page {
	if d.IsDeck() {
		return slides(d, w.tags, own)
	}
	p := w.Paper.sheet()
	s := newSetter(paperLook, p, w.tags, own)
	s.labels = s.labelColumn(d.Blocks)
	f := newFlow(p)
	if d.Title != nil {
		s.base = 1
		f.put(append(s.title(d.Title), s.blocks(d.Blocks)...))
	} else {
		f.put(s.blocks(d.Blocks))
	}
	return f.pages
}

// nameOf is what a file is called that begins with a document.
func nameOf(d *document.Document) string {
	if s := d.PlainTitle(); s != "" {
		return s
	}
	for _, b := range d.Blocks {
		text := document.Inline(nil)
		switch b := b.(type) {
		case document.Heading:
			text = b.Text
		case document.Slide:
			text = b.Title
		}
		if s := plainText(text); s != "" {
			return s
		}
	}
	return "Working"
}

// begin begins a page of a size.
func (w *writer) begin(s sheet) {
	w.file.AddPageFormat("P", fpdf.SizeType{Wd: s.width, Ht: s.height})
	w.sheets = append(w.sheets, s)
	w.tags.page()
	w.size = 0 // no font is set
}

// blank adds an empty page.
func (w *writer) blank() { w.begin(w.sheets[len(w.sheets)-1]) }

// page draws a page: its head, what stands on it, its foot.
func (w *writer) page(p *page, head document.Running, number, of int) {
	w.begin(p.sheet)
	s := p.sheet
	size := paperLook.running
	top, bottom := s.top-5.5*millimetre, s.height-s.bottom+9*millimetre
	if s == slideSheet {
		size, bottom = slideLook.running, s.height-s.bottom+24
	}
	w.ends(head.Left, head.Right, s, top, size)
	for _, l := range p.leaves {
		if l.entry != nil && !l.artifact {
			e := *l.entry
			e.page, e.top = len(w.sheets)-1, l.top
			w.entries = append(w.entries, e)
		}
		for i := 0; i < len(l.marks); {
			all := l.marks[i : i+max(1, l.marks[i].covers)]
			w.marks(all, l.artifact, s.left, l.top)
			i += len(all)
		}
	}
	w.ends(head.Foot, strconv.Itoa(number)+" of "+strconv.Itoa(of), s, bottom, size)
	w.belong(-1)
}

// ends draws a line of the head or the foot of a page. What is too long is cut.
func (w *writer) ends(a, b string, s sheet, y, size float64) {
	st := style{face: regular, colour: quiet, size: size}
	set := func(text string, room float64) word {
		var all word
		all.add(readable(text), st, 0)
		if all.width <= room {
			return all
		}
		var dots word
		dots.add("…", st, 0)
		out := all.cut(max(room-dots.width, size))[0]
		out.pieces = append(out.pieces, dots.pieces...)
		out.width += dots.width
		out.tight = false
		return out
	}
	right := set(b, s.column()/2)
	left := set(a, s.column()-right.width-2*size)
	for i, x := range [...]word{left, right} {
		at := [...]float64{0, s.column() - x.width}[i]
		for _, m := range draw(nil, []word{x}, at, y) {
			w.mark(&m, artifact, s.left, 0)
		}
	}
}

// marks draws marks that are copied as one text, or one mark.
func (w *writer) marks(all []mark, decoration bool, x, y float64) {
	for i := range all {
		m := &all[i]
		own := m.own
		if decoration {
			own = artifact
		}
		if i == 0 && m.reads != "" && own != artifact {
			w.belong(-1)
			w.begins(own, m.reads)
		}
		w.mark(m, own, x, y)
	}
	if all[0].reads != "" {
		w.belong(-1)
	}
}

// mark draws a mark of a leaf whose upper left corner is at x, y.
func (w *writer) mark(m *mark, own element, x, y float64) {
	if m.kind == empty {
		if own != artifact {
			w.tags.attach(own)
		}
		return
	}
	w.belong(own)
	if w.seen != nil {
		w.seen(m, own, x, y)
	}
	switch m.kind {
	case rule:
		g := greys[m.colour]
		w.file.SetDrawColor(g, g, g)
		w.file.SetLineWidth(m.height)
		w.file.Line(x+m.x, y+m.y, x+m.x+m.width, y+m.y)
	case letters:
		g := greys[m.colour]
		w.file.SetTextColor(g, g, g)
		w.letters(*m, x, y)
	case unseen:
		w.file.SetTextRenderingMode(3)
		w.letters(*m, x, y)
		w.file.SetTextRenderingMode(0)
	case pictured:
		p := painter{writer: w, x: x + m.x, y: y + m.y, scale: m.size, theme: drawing.Paper()}
		s := w.sheets[len(w.sheets)-1]
		w.tags.with(own, "/A<</O/Layout/Placement/Block/BBox["+number(p.x)+" "+number(s.height-p.y-m.height)+" "+number(p.x+m.width)+" "+number(s.height-p.y)+"]>>")
		p.picture(m.figure)
		w.size = 0
		w.file.SetFillColor(0, 0, 0)
		w.file.SetDashPattern([]float64{}, 0)
	}
}

// belong says to which element belongs what is drawn from now on; -1 is for the
// end of a page.
func (w *writer) belong(own element) {
	if own == w.open {
		return
	}
	if w.open >= 0 {
		w.file.RawWriteStr("EMC")
	}
	w.open = -1
	if own >= 0 {
		w.begins(own, "")
	}
}

// begins begins what belongs to an element. actual is what is copied instead of
// it, "" for what is drawn.
func (w *writer) begins(own element, actual string) {
	w.open = own
	switch {
	case own == artifact:
		w.file.RawWriteStr("/Artifact BMC")
	case actual != "":
		// Some readers look for the actual text of a Span alone.
		w.file.RawWriteStr("/Span <</MCID " + strconv.Itoa(w.tags.draw(own)) + "/ActualText " + textString(actual) + ">> BDC")
	default:
		w.file.RawWriteStr("/" + tagNames[w.tags.all[own].tag] + " <</MCID " + strconv.Itoa(w.tags.draw(own)) + ">> BDC")
	}
}

// letters draws a text, each part between two letters that are kerned at its own
// place.
func (w *writer) letters(m mark, x, y float64) {
	if !w.known[m.face] {
		w.known[m.face] = true
		w.file.AddUTF8FontFromBytes(faceNames[m.face].family, faceNames[m.face].style, fonts()[m.face].file)
	}
	if m.face != w.face || m.size != w.size {
		w.face, w.size = m.face, m.size
		w.file.SetFont(faceNames[m.face].family, faceNames[m.face].style, m.size)
	}
	f := fonts()[m.face]
	at, units := 0, 0 // where a part begins, and how far in
	now := 0
	before := rune(0)
	for i, r := range m.text {
		if k := f.kern(before, r); k != 0 {
			w.file.Text(x+m.x+float64(units)*m.size/1000, y+m.y, m.text[at:i])
			now += k
			at, units = i, now
		}
		advance, _ := f.advance(r)
		now += advance
		before = r
	}
	w.file.Text(x+m.x+float64(units)*m.size/1000, y+m.y, m.text[at:])
}
