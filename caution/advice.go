package caution

import (
	"cmp"
	"slices"

	"halves/chem"
	"halves/reference"
)

// The fixed lines.
const (
	// PaperLine is the one line that exercises on paper carry.
	PaperLine = "Exercises on paper, not instructions for experiments."
	// NoData is what is said of a reagent without a row.
	NoData = "No hazard data here. That does not mean that it is safe."
	// Deferral is always said.
	Deferral = "Local rules, the supplier's safety data sheet and a qualified person decide."
	// Basis is always said too.
	Basis = "These cautions are from memory of classifications and of handbooks, and are not complete. Nothing found never means safe."
)

// Advice is what to beware of beside one equation. Sentences are plain text
// with formulas as chem prints them.
type Advice struct {
	// PaperOnly says that the equation must stay on paper. Then no field holds
	// a control, an amount or another word that helps to do it.
	PaperOnly bool
	Reasons   []Reason        // certain ones first, then the worst; nil if no mixture matched, which never means safe
	Gases     []Gas           // toxic gases and vapours, reactants first
	Hazards   []Entry         // of the substances that have rows, in the order of the equation
	Missing   []*chem.Species // those without a row: NoData is said of each
	Basis     string
	Deferral  string
}

// A Reason is a mixture that the equation holds, or holds under a condition.
type Reason struct {
	Mixture    string    // the row's id
	Parts      [2]string // in words
	Species    []*chem.Species
	Where      string // "reactants together", "products together" or "a reactant with a product"; for one substance "a reactant" or "a product"
	How        string // how the match was made: "KClO3 is a chlorate; S8 is sulfur."
	If         string // "" where it is certain, else the condition that the equation leaves open: "if H2SO4 is concentrated"
	What       string // can happen
	Severity   reference.Severity
	Advice     string // "" where the severity is one for paper only, or the whole equation is
	Source     string // a key for reference.SourceOf
	Confidence string
}

// A Gas is a toxic gas or vapour of the equation.
type Gas struct {
	Species  *chem.Species
	Product  bool
	Sentence string
	Advice   string // "" where the equation is for paper only
}

// An Entry is the hazards of one species.
type Entry struct {
	Species *chem.Species
	Rows    []Row  // at least one; of solutions the strongest first
	How     string // how the rows were found
}

// A Row is a row of the table of hazards as it may be shown.
type Row struct {
	Name, Form   string
	H            []string // codes for reference.Statement; nil where usually not classified
	Signal       string
	Basis        string
	Incompatible []string
	Control      string // "" where the equation is for paper only
	Waste        string // likewise
	Source       string // a key for reference.SourceOf
	Confidence   string
}

// For returns the advice beside an equation, balanced or not. Phases are heeded
// where they are marked; a reagent marked as a liquid that is usually met in
// water (H2SO4(l)) is taken for concentrated.
func For(e chem.Equation) Advice {
	a := Advice{Basis: Basis, Deferral: Deferral}
	m := newMix(e)
	a.Reasons = m.reasons()
	for i := range a.Reasons {
		if r := &a.Reasons[i]; r.If == "" && r.Severity.Paper() {
			a.PaperOnly = true
		}
	}
	a.Gases = m.gases()
	a.Hazards, a.Missing = m.hazards()
	if a.PaperOnly {
		a.strip()
	}
	return a
}

// ForSpecies returns the advice for substances that are put together.
func ForSpecies(species ...*chem.Species) Advice {
	e := chem.Equation{Left: make([]chem.Term, len(species))}
	for i, s := range species {
		e.Left[i] = chem.Term{Coefficient: chem.Whole(1), Species: s}
	}
	return For(e)
}

// strip takes out what would help to do it.
func (a *Advice) strip() {
	for i := range a.Reasons {
		a.Reasons[i].Advice = ""
	}
	for i := range a.Gases {
		a.Gases[i].Advice = ""
	}
	for i := range a.Hazards {
		for j := range a.Hazards[i].Rows {
			a.Hazards[i].Rows[j].Control, a.Hazards[i].Rows[j].Waste = "", ""
		}
	}
}

// sortReasons puts the certain ones first, then the worst, then in the order
// of the table.
func sortReasons(r []Reason) {
	slices.SortStableFunc(r, func(a, b Reason) int {
		if (a.If == "") != (b.If == "") {
			if a.If == "" {
				return -1
			}
			return 1
		}
		return cmp.Compare(a.Severity.Rank(), b.Severity.Rank())
	})
}
