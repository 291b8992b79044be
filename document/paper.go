package document

import "halves/chem"

// What paper and slides need beside running text. These blocks are flat: an
// Exercise or a Slide goes on until the next one, a Break, or the end.

// A Running is what stands at the head and the foot of each page, beside the
// number of the page and how many there are: "2 of 5".
type Running struct {
	Left, Right string // at the head: the course and section, the version
	Foot        string // at the foot: the check code
}

// An Exercise begins a question on paper. It is kept on one page with what
// belongs to it where that fits.
type Exercise struct {
	Number int    // from 1
	Marks  string // at its right: "6 marks"; "" for none
	Text   Inline // what is asked
}

// Choices are the answers of a multiple-choice question, with letters from A.
type Choices struct{ Items []Choice }

// A Choice is one of them. In a key one is Right, and the others may say what
// choosing them shows.
type Choice struct {
	Text  Inline
	Right bool
	Note  Inline // nil for none
}

// Letter returns the letter of choice i, from 0.
func Letter(i int) string { return string(rune('A' + i)) }

// A Space is room to write in: ruled lines, the first of them behind a label
// that says what to do; nil for none.
type Space struct {
	Label Inline
	Lines int // at least 1
}

// Fields are short rules to fill in, on one line, each behind its label: "Name",
// "Code".
type Fields struct{ Labels []string }

// A Break begins a new page.
type Break struct{}

// A Slide begins a slide. A document whose first block is one is a deck.
type Slide struct {
	Title Inline
	Notes []Inline // what is said, paragraph by paragraph
}

func (Exercise) block() {}
func (Choices) block()  {}
func (Space) block()    {}
func (Fields) block()   {}
func (Break) block()    {}
func (Slide) block()    {}

// IsDeck reports whether a document is made of slides.
func (d *Document) IsDeck() bool {
	if len(d.Blocks) == 0 {
		return false
	}
	_, ok := d.Blocks[0].(Slide)
	return ok
}

// Blank stands in an equation for a coefficient to fill in.
var Blank = chem.Run{Text: "____"}
