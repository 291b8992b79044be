package redox

import (
	"encoding/json"
	"errors"

	"halves/balance"
	"halves/chem"
	"halves/oxidation"
)

// The JSON of solutions and errors, described by solution.schema.json. Equations
// and species are canonical plain text.

type jsonSolution struct {
	Question    string        `json:"question"`
	Equation    string        `json:"equation"`
	Medium      Medium        `json:"medium"`
	Conventions Conventions   `json:"conventions"`
	Redox       bool          `json:"redox"`
	Electrons   *int64        `json:"electrons"`
	Oxidized    []string      `json:"oxidized"`
	Reduced     []string      `json:"reduced"`
	Species     []jsonSpecies `json:"species"`
	Changes     []jsonChange  `json:"changes"`
	Halves      []jsonHalf    `json:"halves"`
	Steps       []jsonStep    `json:"steps"`
	Ledger      []jsonEntry   `json:"ledger"`
	Notes       []Note        `json:"notes"`
}

type jsonSpecies struct {
	Formula string      `json:"formula"`
	Charge  int64       `json:"charge"`
	States  []jsonState `json:"states"`
}

type jsonState struct {
	Element string   `json:"element"`
	Values  []string `json:"values"`
	Average bool     `json:"average"`
	Reason  string   `json:"reason"`
}

type jsonChange struct {
	Element   string   `json:"element"`
	From      string   `json:"from"`
	To        string   `json:"to"`
	Electrons string   `json:"electronsPerAtom"` // lost, positive; gained, negative
	Reactants []string `json:"reactants"`
	Products  []string `json:"products"`
}

type jsonHalf struct {
	Role       Role         `json:"role"`
	Equation   string       `json:"equation,omitempty"`
	Electrons  int64        `json:"electrons"`
	Multiplier int64        `json:"multiplier"`
	Changes    []jsonChange `json:"changes"`
}

type jsonStep struct {
	Rule   Rule   `json:"rule"`
	Half   *int   `json:"half"` // index into halves, null for the whole equation
	Before string `json:"before,omitempty"`
	After  string `json:"after,omitempty"`
	Done   bool   `json:"done"`
	Reason string `json:"reason"`
}

type jsonEntry struct {
	Law   string `json:"law"` // symbol of an element, or "charge"
	Left  string `json:"left"`
	Right string `json:"right"`
}

// MarshalJSON writes the solution as solution.schema.json describes it.
func (s *Solution) MarshalJSON() ([]byte, error) {
	j := jsonSolution{
		Question: s.Given, Equation: s.Equation.String(), Medium: s.Medium, Conventions: s.Conventions,
		Redox: s.Redox(), Electrons: s.Electrons, Oxidized: names(s.Oxidized), Reduced: names(s.Reduced),
		Species: []jsonSpecies{}, Changes: changesJSON(s.Changes), Halves: halvesJSON(s.Halves), Steps: stepsJSON(s.Steps),
		Ledger: ledgerJSON(s.Ledger), Notes: s.Notes,
	}
	if j.Notes == nil {
		j.Notes = []Note{}
	}
	for _, x := range s.Species {
		j.Species = append(j.Species, jsonSpecies{x.Species.String(), x.Species.Charge(), statesJSON(x.States)})
	}
	return json.Marshal(j)
}

func names(all []*chem.Species) []string {
	out := make([]string, len(all))
	for i, s := range all {
		out[i] = s.String()
	}
	return out
}

func statesJSON(states []oxidation.State) []jsonState {
	out := make([]jsonState, len(states))
	for i, s := range states {
		out[i] = jsonState{s.Element.Symbol(), s.Values(), s.Average, s.Reason}
	}
	return out
}

func changesJSON(changes []Change) []jsonChange {
	out := make([]jsonChange, len(changes))
	for i, c := range changes {
		out[i] = jsonChange{c.Element.Symbol(), c.From.Signed(), c.To.Signed(), c.Electrons().String(), names(c.Reactants), names(c.Products)}
	}
	return out
}

func halvesJSON(halves []Half) []jsonHalf {
	out := make([]jsonHalf, len(halves))
	for i, h := range halves {
		out[i] = jsonHalf{h.Role, equationText(h.Equation), h.Electrons, h.Multiplier, changesJSON(h.Changes)}
	}
	return out
}

func stepsJSON(steps []Step) []jsonStep {
	out := make([]jsonStep, len(steps))
	for i, s := range steps {
		out[i] = jsonStep{Rule: s.Rule, Before: equationText(s.Before), After: equationText(s.After), Done: s.Done, Reason: s.Reason}
		if s.Half >= 0 {
			out[i].Half = &s.Half
		}
	}
	return out
}

func ledgerJSON(l balance.Ledger) []jsonEntry {
	out := make([]jsonEntry, len(l))
	for i, e := range l {
		out[i] = jsonEntry{e.Law.String(), e.Left.String(), e.Right.String()}
	}
	return out
}

func equationText(e chem.Equation) string {
	if len(e.Left)+len(e.Right) == 0 {
		return ""
	}
	return e.String()
}

// An ErrorKind names the kind of an error for programs.
type ErrorKind string

// The kinds of errors.
const (
	KindUnreadable    ErrorKind = "unreadable"
	KindNoAnswer      ErrorKind = "no-answer"
	KindManyAnswers   ErrorKind = "many-answers"
	KindNotRedox      ErrorKind = "not-redox"
	KindOnlyOxidation ErrorKind = "only-oxidation"
	KindOnlyReduction ErrorKind = "only-reduction"
	KindTooLarge      ErrorKind = "too-large"
	KindMediumNeeded  ErrorKind = "medium-needed"
	KindInternal      ErrorKind = "internal"
)

// A Report is an error as every surface of the program draws it.
type Report struct {
	Kind    ErrorKind
	Message string // one sentence, no capital, no full stop
	Text    string // the line as typed, "" where there is no place
	Offset  int    // bytes from the start of Text; -1 where there is no place
	Width   int    // bytes
	Column  int    // characters, from 1; 0 where there is no place
	Hint    string
	Halves  []Half          // worked, where only one half is there
	Steps   []Step          // of these halves
	Answers []chem.Equation // where there are many
	Example chem.Equation   // one of the many that uses every species
	All     bool            // Answers are all elementary ones
	Medium  Medium          // of Halves
}

// NewReport explains any error of this package or of chem.
func NewReport(err error) Report {
	r := Report{Message: err.Error(), Offset: -1}
	if h, ok := err.(interface{ Hint() string }); ok {
		r.Hint = h.Hint()
	}
	var (
		syntax *chem.SyntaxError
		large  *chem.TooLargeError
		no     *NoAnswerError
		many   *ManyAnswersError
		half   *HalfMissingError
		medium *MediumNeededError
	)
	switch {
	case errors.As(err, &syntax):
		r.Kind, r.Message, r.Text, r.Offset, r.Width, r.Column, r.Hint = KindUnreadable, syntax.Msg, syntax.Text, syntax.Offset, syntax.Width, syntax.Column(), syntax.Hint
	case errors.As(err, &large):
		r.Kind = KindTooLarge
		if large.Text != "" {
			at := chem.SyntaxError{Text: large.Text, Offset: large.Offset}
			r.Text, r.Offset, r.Width, r.Column = large.Text, large.Offset, large.Width, at.Column()
		}
	case errors.As(err, &no):
		r.Kind = KindNoAnswer
	case errors.As(err, &many):
		r.Kind, r.Answers, r.Example, r.All = KindManyAnswers, many.Elementary, many.Example, many.Complete
	case errors.As(err, &half):
		r.Kind, r.Halves, r.Steps, r.Medium = KindOnlyOxidation, half.Halves, half.Steps, half.Medium
		if half.Present == Reduction {
			r.Kind = KindOnlyReduction
		}
	case errors.As(err, &medium):
		r.Kind = KindMediumNeeded
	default:
		r.Kind = KindInternal
	}
	return r
}

type jsonReport struct {
	Error struct {
		Kind    ErrorKind `json:"kind"`
		Message string    `json:"message"`
		Offset  *int      `json:"offset"` // bytes from the start of the question, null where there is no place
		Hint    string    `json:"hint"`
	} `json:"error"`
	Halves    []jsonHalf `json:"halves,omitempty"`
	Steps     []jsonStep `json:"steps,omitempty"`
	Equations []string   `json:"equations,omitempty"`
	Complete  *bool      `json:"complete,omitempty"`
	Example   string     `json:"example,omitempty"`
}

// MarshalJSON writes {"error":{"kind","message","offset","hint"}} and, by
// kind, the worked halves or the several answers.
func (r Report) MarshalJSON() ([]byte, error) {
	var j jsonReport
	j.Error.Kind, j.Error.Message, j.Error.Hint = r.Kind, r.Message, r.Hint
	if r.Offset >= 0 {
		j.Error.Offset = &r.Offset
	}
	if r.Halves != nil {
		j.Halves, j.Steps = halvesJSON(r.Halves), stepsJSON(r.Steps)
	}
	for _, e := range r.Answers {
		j.Equations = append(j.Equations, e.String())
	}
	if r.Answers != nil {
		j.Complete = &r.All
	}
	j.Example = equationText(r.Example)
	return json.Marshal(j)
}
