package document

import (
	"slices"
	"strconv"
	"strings"

	"halves/chem"
	"halves/speech"
)

// What paper and slides need beside running text. These blocks are flat: an
// Exercise or a Slide goes on until the next one, a Break, a Heading of level 1,
// or the end. The headings within have level 2.

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

// Letter returns the letter of choice i, from 0: after Z comes AA.
func Letter(i int) string {
	if i >= 26 {
		return Letter(i/26-1) + Letter(i%26)
	}
	return string(rune('A' + max(i, 0)))
}

// rightSaid marks the right choice. The word right alone could be a side of the
// equation.
const rightSaid = "right" + noBreak + "answer"

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

// isPaper reports whether a block is one of those that paper and slides need.
func isPaper(b Block) bool {
	switch b.(type) {
	case Exercise, Choices, Space, Fields, Break, Slide:
		return true
	}
	return false
}

// closes reports whether a block ends the exercise or the slide before it.
func closes(b Block) bool {
	switch b := b.(type) {
	case Exercise, Slide, Break:
		return true
	case Heading:
		return b.Level <= 1
	}
	return false
}

// hasHeadings reports whether what follows an exercise and belongs to it has
// headings: then it is a working, which pages may tear between its parts.
func hasHeadings(after []Block) bool {
	for _, b := range after {
		if closes(b) {
			return false
		}
		if _, ok := b.(Heading); ok {
			return true
		}
	}
	return false
}

// notesSaid is the heading of what is said on a slide.
const notesSaid = "What is said"

// Blank stands in an equation for a coefficient to fill in.
var Blank = chem.Run{Text: "____"}

// blankSaid is how a blank is said.
const blankSaid = "blank"

// sayBlanks says runs that hold a Blank and have no words of their own; "" for
// all others.
func sayBlanks(runs []chem.Run) string {
	if !slices.Contains(runs, Blank) {
		return ""
	}
	var all []string
	for len(runs) > 0 {
		n := slices.Index(runs, Blank)
		if n < 0 {
			n = len(runs)
		}
		if n > 0 {
			all = append(all, speech.Runs(runs[:n]))
			runs = runs[n:]
			continue
		}
		all = append(all, blankSaid)
		runs = runs[1:]
	}
	return strings.Join(slices.DeleteFunc(all, func(s string) bool { return s == "" }), " ")
}

// spokenLine is the line in words; "" where there are none.
func (e Equation) spokenLine() string {
	if e.Spoken != "" {
		return e.Spoken
	}
	return sayBlanks(e.Line)
}

// saySpace tells those who do not see it how much room there is.
func (s Space) saySpace() string {
	if s.Lines <= 1 {
		return "one line to write on"
	}
	return strconv.Itoa(s.Lines) + " lines to write on"
}
