package pdf

// A Paper is a size of page.
type Paper uint8

// The papers. The second is 8.5 by 11 inches.
const (
	A4 Paper = iota
	Letter
)

// A sheet is a page with its margins, in points.
type sheet struct {
	width, height            float64
	left, right, top, bottom float64
}

const millimetre = 72 / 25.4

func (p Paper) sheet() sheet {
	s := sheet{width: 595.28, height: 841.89, left: 23 * millimetre, right: 23 * millimetre, top: 22 * millimetre, bottom: 20 * millimetre}
	if p == Letter {
		s.width, s.height = 612, 792
	}
	return s
}

// slideSheet is the page of a slide: 16 to 9, as large as a screen of 13.3 by
// 7.5 inches.
var slideSheet = sheet{width: 960, height: 540, left: 54, right: 54, top: 44, bottom: 48}

// room is the height between the margins.
func (s sheet) room() float64 { return s.height - s.top - s.bottom }

// column is the width between the margins.
func (s sheet) column() float64 { return s.width - s.left - s.right }

// A look is how large letters and distances are, in points.
type look struct {
	body, small, reason  float64 // sizes of letters
	line, answer         float64 // of the lines of a working
	title                float64
	headings             [3]float64
	running              float64
	leading              float64 // distance of base lines, in sizes
	paragraph            float64 // before a paragraph
	step                 float64 // before a line of a working
	section              float64 // before a heading of level 1
	pitch                float64 // of ruled lines
	rule, hair           float64 // how thick lines are
	number               float64 // the room of the number of an exercise
	cell                 float64 // between two columns of a table
	labelShare, labelGap float64 // of the column of labels
	most                 float64 // how wide a paragraph may be
}

// paperLook is that of a page on paper.
var paperLook = look{
	body: 10.5, small: 9.2, reason: 10, line: 11.5, answer: 13,
	title: 16, headings: [3]float64{12.5, 11.2, 10.5}, running: 8.8,
	leading: 1.34, paragraph: 5.5, step: 9, section: 15,
	pitch: 8.5 * millimetre, rule: 0.6, hair: 0.3, number: 20, cell: 16, labelShare: 0.25, labelGap: 14, most: 500,
}

// scaled returns a look with all its sizes, the head and foot aside, larger or
// smaller.
func (l look) scaled(by float64) look {
	for _, x := range []*float64{&l.body, &l.small, &l.reason, &l.line, &l.answer, &l.title, &l.headings[0], &l.headings[1], &l.headings[2],
		&l.paragraph, &l.step, &l.section, &l.pitch, &l.rule, &l.hair, &l.number, &l.cell, &l.labelGap, &l.most} {
		*x *= by
	}
	return l
}

// slideLook is that of a slide: letters for the last row of a room.
var slideLook = func() look {
	l := paperLook.scaled(2.2)
	l.reason, l.small = l.body*0.92, l.body*0.8
	l.title, l.running, l.most = 34, 13, 1000
	l.headings = [3]float64{27, 25, 24}
	return l
}()

// A colour is a shade of grey.
type colour uint8

const (
	ink   colour = iota // letters
	quiet               // what is said in passing
	ruled               // lines to write on, under heads
	faint               // between the rows of a table
)

// greys are the shades from 0, black, to 255.
var greys = [...]int{ink: 0, quiet: 0x40, ruled: 0x80, faint: 0xb4}

// Sub- and superscripts: how large they are, and how far they are lowered and
// raised, in sizes of the letters beside them.
const (
	scriptSize  = 0.7
	scriptDrop  = 0.17
	scriptRaise = 0.36
)
