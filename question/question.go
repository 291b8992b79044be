package question

import (
	"fmt"
	"slices"

	"halves/chem"
	"halves/redox"
	"halves/reference"
)

// A Question is a skeleton with its medium and its proved answer.
type Question struct {
	ID         string // of its row, its couples or its line: "mno4_1m.mn_2p.acidic|fe_3p.fe_2p.acidic"
	Text       string // the skeleton, as one types it, without the medium
	Medium     redox.Medium
	Couples    []string // ids of the couples that it was made from, the reduction first; nil for others
	Source     string   // where it comes from, for people
	Note       string   // what makes it worth teaching, or ""
	Features   Features
	Difficulty Tenths
	Electrons  int64 // transferred in the answer; 0 where the states leave it open

	skeleton chem.Equation
	parts    bool // it parts into two halves, each an equation
	agents   bool // what is oxidized and what is reduced is known
	answer   chem.Equation
	pair     [2]*reference.Couple
	volts    float64  // of the cell, of a pair of couples
	hindered bool     // it goes on paper, and is slow
	species  []string // keys of what is in the skeleton but water and its ions
}

// Answer returns the balanced equation.
func (q *Question) Answer() chem.Equation { return q.answer }

// Skeleton returns the unbalanced equation.
func (q *Question) Skeleton() chem.Equation { return q.skeleton }

// Pair returns the couples that a question was made from, the reduction first;
// nil for a whole equation.
func (q *Question) Pair() []*reference.Couple {
	if q.Couples == nil {
		return nil
	}
	return q.pair[:]
}

// Work works the question in the conventions of a class. The error is one of
// package redox; there is none in the conventions in which it was made.
func (q *Question) Work(c redox.Conventions) (*redox.Solution, error) {
	return redox.Work(q.Text, q.Medium, c)
}

// New makes a question of a skeleton: it is worked, and its features and its
// difficulty are read off the worked solution. The errors are those of package
// redox, and *UnfitError for a reaction that asks for no half-reactions.
func New(id, text string, medium redox.Medium) (*Question, error) {
	s, err := redox.Work(text, medium, redox.Conventions{})
	if err != nil {
		return nil, err
	}
	return fromSolution(id, text, s)
}

func fromSolution(id, text string, s *redox.Solution) (*Question, error) {
	if !s.Redox() {
		return nil, &UnfitError{text, "no oxidation state changes in it, so it has no half-reactions"}
	}
	q := &Question{ID: id, Text: text, Medium: s.Medium, skeleton: s.Skeleton, answer: s.Equation}
	if s.Electrons != nil {
		q.Electrons = *s.Electrons
	}
	q.parts = len(s.Halves) == 2 && s.Halves[0].Role != s.Halves[1].Role && len(s.Halves[0].Equation.Left) > 0 && len(s.Halves[1].Equation.Left) > 0
	q.agents = len(s.Oxidized) > 0 && len(s.Reduced) > 0
	for _, x := range append(slices.Clone(s.Skeleton.Left), s.Skeleton.Right...) {
		if !isWater(x.Species) && !slices.Contains(q.species, x.Species.Key()) {
			q.species = append(q.species, x.Species.Key())
		}
	}
	q.Features, q.Difficulty = grade(s)
	return q, nil
}

// isWater reports water and its ions, which every question may hold.
func isWater(s *chem.Species) bool {
	return s.IsElectron() || s.Same(chem.Water) || s.Same(chem.Hydron) || s.Same(chem.Hydroxide) || s.Same(chem.Hydronium)
}

// can reports whether something can be asked of a question.
func (q *Question) can(a Ask) bool {
	switch a {
	case Split:
		return q.parts
	case FindError:
		return q.parts && !q.Features.Has(Spectators) // the slips are those of the ions
	case Agents, States:
		return q.agents
	case Electrons:
		return q.Electrons > 0
	case Complete, WillItGo:
		return q.Couples != nil
	}
	return true
}

// Shares reports whether two questions have a species in common, water and its
// ions aside.
func (q *Question) Shares(r *Question) bool {
	return slices.ContainsFunc(q.species, func(s string) bool { return slices.Contains(r.species, s) })
}

// Same reports whether two questions are trivially the same: the same species
// altogether, in one medium or written alike.
func (q *Question) Same(r *Question) bool {
	return (q.Medium == r.Medium || q.Text == r.Text) && len(q.species) == len(r.species) &&
		!slices.ContainsFunc(q.species, func(s string) bool { return !slices.Contains(r.species, s) })
}

// An UnfitError says why a line makes no question.
type UnfitError struct{ Text, Msg string }

func (e *UnfitError) Error() string { return fmt.Sprintf("%s: %s", e.Text, e.Msg) }
