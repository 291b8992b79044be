// Package paper lays out sets of questions as documents: worksheets with room to
// work in, keys with the full working and the marks, exam versions with a cover,
// the concordance of versions, a plan of seats, slides for a worked example, and a
// page of reference.
//
// What is asked and what is right is decided in package question and below it; how
// a block looks in a format is left to the writers.
package paper

import (
	"fmt"
	"strings"

	"halves/caution"
	"halves/document"
	"halves/question"
	"halves/redox"
)

// Options are the ways of laying out paper.
type Options struct {
	Conventions redox.Conventions
	Scaffold    Scaffold
	Answers     bool   // of a list, with the balanced equations
	Student     string // for whom a worksheet is; "" for anyone
}

// A Scaffold says how much of the working a worksheet gives.
type Scaffold string

// The scaffolds.
const (
	Open  Scaffold = "open"  // ruled lines alone
	Steps Scaffold = "steps" // ruled lines behind what is to be done
	Fade  Scaffold = "fade"  // from the full working of the first question to ruled lines at the last
)

// Scaffolds lists them.
var Scaffolds = []Scaffold{Open, Steps, Fade}

// newDocument begins a document of a version.
func newDocument(s *question.Set, v *question.Version, title string) *document.Document {
	d := &document.Document{Title: document.Plain(title)}
	d.Running.Left = courseOf(s.Wish)
	if v != nil {
		if len(s.Versions) > 1 {
			d.Running.Right = "Version " + v.Letter
		}
		d.Running.Foot = "Check code " + v.Code
	} else {
		d.Running.Foot = "Check code " + s.Code
	}
	return d
}

// courseOf is the course with the section: "General Chemistry II, section B".
func courseOf(w question.Wish) string {
	switch {
	case w.Section == "":
		return w.Course
	case w.Course == "":
		return "Section " + w.Section
	}
	return w.Course + ", section " + w.Section
}

func add(d *document.Document, b ...document.Block) { d.Blocks = append(d.Blocks, b...) }

// marks says how many: "6 marks".
func marks(n int) string {
	if n == 1 {
		return "1 mark"
	}
	return fmt.Sprintf("%d marks", n)
}

// paperLine is the one line of caution that exercises on paper carry.
func paperLine() document.Note { return document.Note{Text: document.Plain(caution.PaperLine)} }

func sentence(format string, values ...any) document.Inline {
	return document.Plain(fmt.Sprintf(format, values...))
}

// join writes words as a list in a sentence: "a, b".
func join(all []string) string { return strings.Join(all, ", ") }
