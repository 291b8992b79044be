// Package diagram draws the field's pictures of potentials: a ladder of couples,
// a Latimer row, a Frost plot, a potential-pH map.
//
// A ladder has couples at the height of their standard potentials, the greatest
// on top. A Latimer row has the species of an element from the highest oxidation
// state to the lowest, potentials over the arrows between them. A Frost plot has
// oxidation state times potential against oxidation state. A potential-pH map
// shows where each species of an element has the lowest free energy. The forms
// are common practice of textbooks of inorganic chemistry, no source.
//
// Each picture comes with its description in words, with the numbers, and with a
// table of its data to stand beside it. Nothing hangs on colour alone: lines
// differ by dashes and weight, marks by form, areas by hatching and labels.
//
// The numbers come from package energetics; nothing chemical is computed here.
// How shapes are written is left to package drawing.
package diagram

import (
	"math"

	"halves/chem"
	"halves/drawing"
	"halves/names"
)

// Style is how a class writes numbers and names.
type Style struct {
	Comma  bool         // write a comma before decimals
	Phases bool         // mark the states of half-reactions on a ladder
	Names  names.Choice // for the words
}

// Drawn is a picture with its words and its data.
type Drawn struct {
	Picture     *drawing.Picture
	Title       string // a few words: "Frost plot of manganese"
	Description string // sentences, numbers in figures, formulas by their names
	Table       Table
}

// A Table holds the data of a picture. Rows have as many cells as Head.
type Table struct {
	Caption string
	Head    []Cell
	Right   []bool // columns set to the right: numbers
	Rows    [][]Cell
}

// A Cell is prose or a formula, never both. Formulas are canonical runs.
type Cell struct {
	Prose   string
	Formula []chem.Run
	Spoken  string // the cell in words, "" for prose that is read as it stands
}

// drawn gives the picture its words.
func drawn(p *drawing.Picture, title, description string, t Table) Drawn {
	p.Title, p.Description = title, description
	p.Width, p.Height = math.Ceil(p.Width), math.Ceil(p.Height)
	return Drawn{Picture: p, Title: title, Description: description, Table: t}
}

// empty is the picture of nothing: a sentence.
func empty(title, why string) Drawn {
	p := &drawing.Picture{}
	t := drawing.Text{Runs: drawing.Plain(why), Size: letters, Role: drawing.Ink}
	t.At = drawing.Point{X: margin, Y: margin + letters}
	p.Add(t)
	p.Width, p.Height = t.Width()+2*margin, 2*margin+1.5*letters
	return drawn(p, title, why, Table{})
}
