// Package document turns what the engine worked out into a neutral tree of
// headings, paragraphs, equations and tables, and writes that tree in a format:
// as text for a terminal, as an HTML page, as Markdown, or as LaTeX.
//
// It says how a solution is laid out: what stands where, and under which
// heading. It leaves to others what the lines say (package redox), how a
// formula is spelled (package chem; formulas stay runs until a writer prints
// them), how it is said aloud (package speech), and where the text goes (the
// commands and pages).
package document

import (
	"strings"

	"halves/balance"
	"halves/chem"
)

// A Document is a page of any length.
type Document struct {
	Title    Inline // nil for none
	Language string // a tag of BCP 47; "" is "en"
	Running  Running
	Blocks   []Block
}

// PlainTitle returns the title as one line of plain characters, "" for none.
func (d *Document) PlainTitle() string {
	var b strings.Builder
	for _, s := range d.Title {
		b.WriteString(strings.ReplaceAll(s.Prose, noBreak, " "))
		b.WriteString(signsOf(s.Formula))
	}
	return b.String()
}

// A Block is a Heading, Paragraph, Equation, Table, List, Note or Figure, or one
// of those that paper and slides need: Exercise, Choices, Space, Fields, Break,
// Slide.
type Block interface{ block() }

// A Heading begins a section. The title is above level 1.
type Heading struct {
	Level int
	Text  Inline
	Keep  bool // the section is kept on one page where it fits
}

// A Paragraph is running text.
type Paragraph struct{ Text Inline }

// An Equation is one line of a working. Equations that follow each other
// belong together, and a writer aligns their labels and ledgers.
type Equation struct {
	Label  Inline         // at its left, what was done; nil for none
	Line   []chem.Run     // nil where the step writes no equation
	Spoken string         // the line in words; "" where there is none
	Reason Inline         // nil for none
	Ledger balance.Ledger // of the line; nil for none
	// SpokenLedger is the ledger in words: "manganese: left 1, right 1; oxygen:
	// left 4, right 0, not equal"; "" where there is none.
	SpokenLedger string
	Final        bool // the answer, set off from the rest
	Fresh        bool // what was just revealed, set off by its weight
}

// A Table has rows of as many cells as its head. An empty cell is nil.
type Table struct {
	Caption string   // what it shows, for those who hear it
	Head    []Inline // the first is above the names of the rows
	Right   []bool   // columns of numbers, set flush right; as long as Head
	Rows    [][]Inline
	Spare   int // a column that is left out where there is no room for it; 0 for none
}

// A List is a list without numbers.
type List struct{ Items []Inline }

// A Note is a remark beside the working.
type Note struct{ Text Inline }

func (Heading) block()   {}
func (Paragraph) block() {}
func (Equation) block()  {}
func (Table) block()     {}
func (List) block()      {}
func (Note) block()      {}

func (d *Document) add(b ...Block) { d.Blocks = append(d.Blocks, b...) }

// equationsAt counts the equations that all begins with, the answer not among
// them.
func equationsAt(all []Block) int {
	n := 0
	for n < len(all) {
		if e, ok := all[n].(Equation); !ok || e.Final {
			break
		}
		n++
	}
	return n
}

// without returns the table without column k.
func (t Table) without(k int) Table {
	cut := func(row []Inline) []Inline {
		return append(append(make([]Inline, 0, len(row)-1), row[:k]...), row[k+1:]...)
	}
	out := Table{Caption: t.Caption, Head: cut(t.Head)}
	for i, r := range t.Right {
		if i != k {
			out.Right = append(out.Right, r)
		}
	}
	for _, r := range t.Rows {
		out.Rows = append(out.Rows, cut(r))
	}
	return out
}

// headed reports whether a column has a head.
func (t Table) headed() bool {
	for _, h := range t.Head {
		if len(h) > 0 {
			return true
		}
	}
	return false
}

// record writes a row of a table as its first cell and the others with their
// heads, for a page that is too narrow: "MnO4^-: Mn +7, O -2".
func record(t Table, row []Inline) Inline {
	text := Join(row[0], Plain(":"))
	sep, between := " ", ", "
	for _, c := range row[1:] {
		for _, s := range c {
			if strings.Contains(s.Prose, ", ") {
				between = "; " // a cell is a list itself
			}
		}
	}
	for i, c := range row[1:] {
		if len(c) == 0 {
			continue
		}
		text = append(text, Span{Prose: sep})
		if h := t.Head[i+1]; len(h) > 0 {
			text = append(Join(text, h), Span{Prose: noBreak})
		}
		text = Join(text, c)
		sep = between
	}
	return text
}
