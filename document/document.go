// Package document turns what the engine worked out into a neutral tree of
// headings, paragraphs, equations and tables, and writes that tree in a format:
// so far as text for a terminal.
//
// It says how a solution is laid out: what stands where, and under which
// heading. It leaves to others what the lines say (package redox), how a
// formula is spelled (package chem; formulas stay runs until a writer prints
// them), and where the text goes (the commands and pages).
package document

import (
	"halves/balance"
	"halves/chem"
)

// A Document is a page of any length.
type Document struct {
	Title  Inline // nil for none
	Blocks []Block
}

// A Block is a Heading, Paragraph, Equation, Table, List or Note.
type Block interface{ block() }

// A Heading begins a section. The title is above level 1.
type Heading struct {
	Level int
	Text  Inline
}

// A Paragraph is running text.
type Paragraph struct{ Text Inline }

// An Equation is one line of a working. Equations that follow each other
// belong together, and a writer aligns their labels and ledgers.
type Equation struct {
	Label  Inline         // at its left, what was done; nil for none
	Line   []chem.Run     // nil where the step writes no equation
	Reason Inline         // nil for none
	Ledger balance.Ledger // of the line; nil for none
	Final  bool           // the answer, set off from the rest
}

// A Table has rows of as many cells as its head. An empty cell is nil.
type Table struct {
	Head  []Inline // the first is above the names of the rows
	Right []bool   // columns of numbers, set flush right; as long as Head
	Rows  [][]Inline
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
