package redox

import (
	"halves/balance"
	"halves/chem"
	"halves/oxidation"
)

// A Rule is what a step does, in the wording of the trade.
type Rule string

// The rules, in the order in which they come.
const (
	WriteIons     Rule = "write strong electrolytes as ions"
	LeaveOut      Rule = "leave out the spectators"
	Split         Rule = "split into halves"
	OtherAtoms    Rule = "balance the other atoms"
	Oxygen        Rule = "balance oxygen with water"
	Hydrogen      Rule = "balance hydrogen with hydrogen ions"
	ChargeRule    Rule = "balance charge with electrons"
	Equalize      Rule = "equalize the electrons"
	Add           Rule = "add the halves"
	Cancel        Rule = "cancel what stands on both sides"
	Neutralize    Rule = "neutralize with hydroxide"
	FormWater     Rule = "form water"
	LowestNumbers Rule = "divide by the common factor"
	RestoreOthers Rule = "restore what does not change"
	Check         Rule = "check"

	// Of a molecular equation, once its net ionic one is balanced.
	MultiplyNet       Rule = "multiply the net equation"
	RestoreSpectators Rule = "restore the spectators"
	JoinIons          Rule = "join the ions into formulas"

	// By oxidation states. OtherAtoms and Oxygen come after them, for the whole.
	ChangesOfState Rule = "find the changes of oxidation state"
	EqualChanges   Rule = "make gain and loss equal"
	ChargeByIons   Rule = "balance charge with hydrogen or hydroxide ions"
	OtherNumbers   Rule = "balance the remaining species"

	// By equations. The unknowns are the coefficients.
	NameUnknowns Rule = "name the unknown coefficients"
	Conserve     Rule = "write what each law demands"
	AskHalves    Rule = "add what the halves demand"
	ChooseOne    Rule = "choose one unknown"
	SolveFor     Rule = "solve for another"
	ClearUnits   Rule = "clear the fractions"
	PutNumbers   Rule = "put the numbers in"
)

// A Role says whether a half is the oxidation or the reduction.
type Role string

// The roles of a half.
const (
	Oxidation Role = "oxidation"
	Reduction Role = "reduction"
)

// A Change is an element that goes from one oxidation state to another.
type Change struct {
	Element   chem.Element
	From, To  chem.Ratio      // elementary charges per atom
	Reactants []*chem.Species // that hold the atoms before
	Products  []*chem.Species // that hold them after; empty where that is the medium
	Atoms     int64           // in the final equation
}

// Electrons returns how many electrons one atom loses (positive) or gains.
func (c Change) Electrons() chem.Ratio { return c.To.Sub(c.From) }

// A Half is one half-reaction, or, where nothing is added (Equation without
// terms), a change by oxidation states.
type Half struct {
	Role       Role
	Skeleton   chem.Equation
	Equation   chem.Equation // balanced, with its electrons
	Electrons  int64         // in Equation
	Multiplier int64         // by which it enters the sum; 0 for a half that stands alone
	Changes    []Change
}

// A Step is one line of the working.
type Step struct {
	Rule   Rule
	Half   int           // index of the half, -1 for the whole equation
	Before chem.Equation // the line as it was; empty for the first
	After  chem.Equation // the line as it is now; empty where the step writes no equation
	// Written is the line of a step that is no equation with numbers: an
	// equation with unknown coefficients, or a line of algebra. nil for others.
	Written []chem.Run
	Done    bool   // false for "nothing to do"
	Reason  string // one sentence, without a full stop
}

// A NoteKind tells programs what a note is about.
type NoteKind string

// The kinds of notes.
const (
	NoteReading    NoteKind = "reading"     // how ambiguous typing was read
	NoteMedium     NoteKind = "medium"      // how the medium was settled, or moved species
	NoteRoute      NoteKind = "route"       // which way was taken, and why
	NoteNotRedox   NoteKind = "not-redox"   // no oxidation state changes
	NoteAssumption NoteKind = "assumption"  // what fixed the answer beside algebra
	NoteStates     NoteKind = "states"      // about oxidation states
	NoteBalanced   NoteKind = "balanced"    // the skeleton was balanced already
	NoteLeftOut    NoteKind = "left-out"    // a species that was not needed
	NotePH         NoteKind = "ph"          // which way the pH moves
	NoteTie        NoteKind = "tie"         // what fixes the ratio of several changes
	NoteSpectators NoteKind = "spectators"  // spectators
	NoteDissolved  NoteKind = "dissolved"   // what was taken as dissolved
	NoteAcid       NoteKind = "acid-chosen" // which acid or base was added
)

// A Note is a remark on a solution.
type Note struct {
	Kind NoteKind `json:"kind"`
	Text string   `json:"text"` // one or two sentences
}

// A SpeciesStates is a species of the final equation with its oxidation states.
type SpeciesStates struct {
	Species *chem.Species
	States  []oxidation.State
	Open    []chem.Element // that the rules do not settle
}

// A Solution is a worked question. Everything downstream is made from it.
type Solution struct {
	Given       string // the question as typed
	Skeleton    chem.Equation
	Medium      Medium
	Conventions Conventions
	Species     []SpeciesStates
	Changes     []Change
	Halves      []Half // oxidations first; empty where nothing is redox
	Steps       []Step
	Equation    chem.Equation // the final equation, in lowest whole numbers
	// Electrons is the number transferred in Equation; nil where the states
	// leave it open.
	Electrons *int64
	Oxidized  []*chem.Species // reactants that hold the atoms that are oxidized
	Reduced   []*chem.Species
	Ledger    balance.Ledger // of Equation
	Notes     []Note
}

// Redox reports whether an oxidation state changes.
func (s *Solution) Redox() bool { return len(s.Changes) > 0 || len(s.Halves) > 0 }

func (s *Solution) note(kind NoteKind, text string) {
	s.Notes = append(s.Notes, Note{kind, text})
}
