package redox

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"halves/balance"
	"halves/chem"
)

// Work reads a question and works it. medium is what the caller states and may
// be Unstated; the question may name one itself (", in acid"). A medium stated
// by the caller wins.
//
// The errors are *chem.SyntaxError and *chem.TooLargeError for what cannot be
// read, *NoAnswerError, *ManyAnswersError, *HalfMissingError and
// *MediumNeededError where chemistry says no, and *InternalError for a defect.
func Work(question string, medium Medium, c Conventions) (sol *Solution, err error) {
	defer func() {
		if r := recover(); r != nil {
			if _, ok := r.(chem.OverflowError); !ok {
				err = &InternalError{question, fmt.Sprint(r)}
				sol = nil
				return
			}
			sol, err = nil, &chem.TooLargeError{Msg: "a number on the way passes what is computed exactly in 64 bits"}
		}
	}()
	q, err := ReadQuestion(question)
	if err != nil {
		return nil, err
	}
	if medium != Unstated {
		if q.Medium != Unstated && q.Medium != medium {
			q.Notes = append(q.Notes, Note{NoteMedium, fmt.Sprintf("The question says %s; the medium stated beside it, %s, was taken.", q.Medium, medium)})
		}
		q.Medium = medium
	}
	// Of several readings the first that can be worked is taken; after the
	// likeliest, only those that may balance are tried.
	var first error
	tried := 0
	looks := maxLooks
	for i, r := range q.Readings {
		if i > 0 {
			// A look at a long equation costs as much as several at a short one.
			if looks -= len(r.Equation.Left) + len(r.Equation.Right); looks < 0 {
				break
			}
			if !mayBalance(q, r) {
				continue
			}
		}
		if tried++; tried > maxTries {
			break
		}
		sol, err := workReading(q, r, c)
		if err == nil {
			for _, a := range r.Assumptions {
				sol.note(NoteReading, fmt.Sprintf("Read %s as %s.", withoutNumber(a.Typed), a.Read))
			}
			return sol, nil
		}
		if i == 0 {
			first = err
			var half *HalfMissingError
			if errors.As(err, &half) {
				break // it makes sense as it stands
			}
		}
	}
	if q.More && len(q.Readings) > 1 {
		return nil, &chem.SyntaxError{Text: question, Offset: 0, Width: len(question), Msg: "this can be read in more than 256 ways, and none of those tried balances", Hint: "write a caret before each charge: SO4^2-"}
	}
	return nil, first
}

// withoutNumber drops a typed coefficient.
func withoutNumber(typed string) string {
	return strings.TrimLeft(typed, "0123456789./*½⅓⅔¼¾ ")
}

// maxTries bounds the readings that are worked in full, maxLooks the terms of
// those whose null space is looked at: all 256 readings of 16 terms.
const (
	maxTries = 8
	maxLooks = 4096
)

// mayBalance reports whether a reading has a chance, by a look at its null
// space in the question's medium, or in acid where none was named.
func mayBalance(q Question, r chem.Reading) bool {
	w := &work{Solution: &Solution{Skeleton: bare(r.Equation)}, book: &stateBook{}}
	m := q.Medium
	if m == Unstated || m == Neutral {
		m = Acidic
	}
	w.parts(m)
	return balance.Possible(balance.Problem{Left: w.left, Right: w.right, Free: slices.Concat(w.free, w.helpers(m))})
}

// A work is one reading of a question being worked.
type work struct {
	*Solution
	book        *stateBook
	left, right []*chem.Species // the skeleton that must be used
	free        []*chem.Species // typed, but moved or left out as needed
	typed       map[*chem.Species]int64
	halves      bool                   // the question gave half-reactions
	changes     map[*chem.Species]bool // reactants that change otherwise than by water's oxygen or hydrogen
	noHelpers   bool                   // the skeleton is water and its ions alone
	asTyped     chem.Equation
	molecular   bool // worked as a molecular equation, though a medium was named
	final       tally
}

func workReading(q Question, r chem.Reading, c Conventions) (*Solution, error) {
	w := &work{
		Solution: &Solution{Given: q.Text, Skeleton: bare(r.Equation), Medium: q.Medium, Conventions: c},
		book:     &stateBook{},
		halves:   q.Halves,
	}
	w.Notes = append(w.Notes, q.Notes...)
	w.asTyped = r.Equation
	if err := w.run(); err != nil {
		return nil, err
	}
	return w.Solution, nil
}

// bare returns an equation with all coefficients 1.
func bare(e chem.Equation) chem.Equation {
	one := func(terms []chem.Term) []chem.Term {
		out := make([]chem.Term, len(terms))
		for i, t := range terms {
			out[i] = chem.Term{Coefficient: chem.Whole(1), Species: t.Species}
		}
		return out
	}
	return chem.Equation{Left: one(e.Left), Right: one(e.Right)}
}

// remarkTyped remarks on an equation that is balanced as it was typed.
func (w *work) remarkTyped() {
	l, err := balance.NewLedger(w.asTyped)
	if err != nil || !l.Closed() {
		return
	}
	den := int64(1)
	for _, t := range w.asTyped.Terms {
		den = product(den, t.Coefficient.Den()/chem.GCD(den, t.Coefficient.Den()))
	}
	var typed tally
	for side, t := range w.asTyped.Terms {
		typed = typed.add(t.Species, side*t.Coefficient.Mul(chem.Whole(den)).Num())
	}
	if sameVector(typed.divided(typed.factor()), vectorOf(w.Equation)) {
		w.note(NoteBalanced, "The equation is balanced as it stands; it is worked all the same.")
	} else {
		w.note(NoteBalanced, "The typed numbers balance atoms and charge, but they are not the ones that follow here, so they were replaced.")
	}
}

func (w *work) run() error {
	for _, t := range w.Skeleton.Terms {
		if t.Species.Same(chem.Hydronium) && !w.Conventions.Hydronium {
			w.Conventions.Hydronium = true
			w.note(NoteReading, "H3O^+ was typed, so it stands for H^+ throughout.")
		}
	}
	if err := w.settleMedium(); err != nil {
		return err
	}
	if err := w.solve(); err != nil {
		return err
	}
	if err := w.present(); err != nil {
		return err
	}
	w.markPhases()
	return w.prove()
}

// markPhases marks, where the class marks phases and some were typed, what the
// method itself adds to a reaction in water: water as a liquid, ions as
// dissolved.
func (w *work) markPhases() {
	typed := slices.ContainsFunc(w.Skeleton.Species(), func(s *chem.Species) bool { return s.Phase() != chem.NoPhase })
	wet := slices.ContainsFunc(w.Steps, func(s Step) bool { return s.Rule == Split })
	if !w.Conventions.Phases || !typed || !wet {
		return
	}
	mark := func(e *chem.Equation) {
		side := func(terms []chem.Term) []chem.Term {
			out := slices.Clone(terms)
			for i, t := range out {
				switch s := t.Species; {
				case s.Phase() != chem.NoPhase || s.IsElectron():
				case s.Same(chem.Water):
					out[i].Species = s.WithPhase(chem.Liquid)
				case s.Charge() != 0:
					out[i].Species = s.WithPhase(chem.Aqueous)
				}
			}
			return out
		}
		e.Left, e.Right = side(e.Left), side(e.Right)
	}
	mark(&w.Equation)
	for i := range w.Steps {
		mark(&w.Steps[i].Before)
		mark(&w.Steps[i].After)
	}
	for i := range w.Halves {
		mark(&w.Halves[i].Skeleton)
		mark(&w.Halves[i].Equation)
	}
}
