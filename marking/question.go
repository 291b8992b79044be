package marking

import (
	"fmt"
	"slices"

	"halves/chem"
	"halves/redox"
	"halves/reference"
)

// The book of a question numbers species. The medium's stand first.
const (
	water = iota
	hydron
	hydroxide
	electron
	firstOwn
)

// A half is one half-reaction of the question, as a vector with hydrogen ions.
type half struct {
	role   redox.Role
	vector []chem.Ratio // by species; balanced with its electrons
	own    []bool       // species that the half names itself, water and its ions among them where they change
	mains  []int        // its own species that are not the medium's
	e      chem.Ratio   // electrons, positive
}

// A Question is a worked question, prepared so that many workings can be held
// to it. It is never changed after it was made.
type Question struct {
	solution *redox.Solution
	medium   redox.Medium
	species  []*chem.Species // the book
	halves   []half
	answer   []chem.Ratio // of the whole, with hydrogen or hydroxide ions as the medium has it, in lowest terms
	acid     []chem.Ratio // the same with hydrogen ions
	left     []bool       // on which side a species of the question stands
	isOwn    []bool
	changing []bool // species that hold atoms whose oxidation state changes
	// spectators are ions of the question's substances that neither half has.
	spectators []*chem.Species
	elements   []chem.Element
	skeleton   string
}

// NewQuestion prepares a worked question: one with two half-reactions, or one in
// which nothing dissolves and oxidation states are counted. The error says where
// it is neither.
func NewQuestion(s *redox.Solution) (*Question, error) {
	if s.Conventions != (redox.Conventions{}) {
		again, err := redox.Work(s.Skeleton.String(), s.Medium, redox.Conventions{})
		if err != nil {
			return nil, err
		}
		s = again
	}
	q := &Question{solution: s, medium: s.Medium, species: []*chem.Species{chem.Water, chem.Hydron, chem.Hydroxide, chem.Electron}, skeleton: s.Skeleton.String()}
	switch {
	case !s.Redox() || len(s.Equation.Left) == 0:
		return nil, fmt.Errorf("nothing is oxidized and reduced in it")
	case len(s.Halves) == 0 || len(s.Halves[0].Equation.Left) == 0:
		q.finishDry()
	case len(s.Halves) < 2:
		return nil, fmt.Errorf("the question has no two half-reactions")
	default:
		for _, h := range s.Halves {
			q.addHalf(h)
		}
		q.finish()
	}
	q.changing = make([]bool, len(q.species))
	for _, c := range s.Changes {
		for _, x := range slices.Concat(c.Reactants, c.Products) {
			if i := slices.IndexFunc(q.species, x.Same); i >= 0 {
				q.changing[i] = true
			}
		}
	}
	return q, nil
}

// index returns the number of a species in the book, entering it if new.
func (q *Question) index(s *chem.Species) int {
	for i, t := range q.species {
		if t.Same(s) {
			return i
		}
	}
	q.species = append(q.species, s)
	return len(q.species) - 1
}

func (q *Question) addHalf(h redox.Half) {
	x := half{role: h.Role, e: chem.Whole(h.Electrons)}
	put := func(i int, n chem.Ratio) {
		for len(x.vector) <= i {
			x.vector = append(x.vector, chem.Ratio{})
		}
		x.vector[i] = x.vector[i].Add(n)
	}
	for side, t := range h.Equation.Terms {
		put(q.index(t.Species), t.Coefficient.Mul(chem.Whole(side)))
	}
	for _, t := range h.Skeleton.Terms {
		i := q.index(t.Species)
		for len(x.own) <= i {
			x.own = append(x.own, false)
		}
		x.own[i] = true
	}
	for i := firstOwn; i < len(x.vector); i++ {
		if x.vector[i].Sign() != 0 {
			x.mains = append(x.mains, i)
		}
	}
	q.halves = append(q.halves, x)
}

// finishDry takes the species and the answer from the equation alone.
func (q *Question) finishDry() {
	for side, t := range q.solution.Equation.Terms {
		i := q.index(t.Species)
		for len(q.acid) < len(q.species) {
			q.acid = append(q.acid, chem.Ratio{})
		}
		q.acid[i] = q.acid[i].Add(t.Coefficient.Mul(chem.Whole(side)))
	}
	n := len(q.species)
	q.isOwn, q.left = make([]bool, n), make([]bool, n)
	for i := firstOwn; i < n; i++ {
		q.isOwn[i], q.left[i] = true, q.acid[i].Sign() < 0
	}
	q.answer = q.acid
	q.listElements()
}

func (q *Question) finish() {
	n := len(q.species)
	q.isOwn, q.left = make([]bool, n), make([]bool, n)
	for _, h := range q.halves {
		for _, i := range h.mains {
			q.isOwn[i] = true
		}
	}
	// The sum, by the multipliers of the solution.
	q.acid = make([]chem.Ratio, n)
	for k, h := range q.halves {
		m := chem.Whole(q.solution.Halves[k].Multiplier)
		for i, x := range h.vector {
			q.acid[i] = q.acid[i].Add(x.Mul(m))
		}
	}
	q.acid = lowest(q.acid)
	q.answer = slices.Clone(q.acid)
	if q.inBase() {
		h := q.answer[hydron]
		q.answer[hydron] = chem.Ratio{}
		q.answer[water] = q.answer[water].Add(h)
		q.answer[hydroxide] = q.answer[hydroxide].Sub(h)
	}
	q.answer = lowest(q.answer)
	for _, h := range q.halves {
		for _, i := range h.mains {
			if h.vector[i].Sign() < 0 {
				q.left[i] = true
			}
		}
	}
	for _, x := range q.solution.Skeleton.Species() {
		for _, t := range q.ions(x) {
			if t.Species.Same(chem.Water) || t.Species.Same(chem.Hydron) || t.Species.Same(chem.Hydroxide) || slices.ContainsFunc(q.species, t.Species.Same) {
				continue
			}
			if !slices.ContainsFunc(q.spectators, t.Species.Same) {
				q.spectators = append(q.spectators, t.Species)
			}
		}
	}
	q.listElements()
}

func (q *Question) listElements() {
	seen := map[chem.Element]bool{}
	for _, s := range q.species {
		for _, c := range s.Composition() {
			if !seen[c.Element] {
				seen[c.Element] = true
				q.elements = append(q.elements, c.Element)
			}
		}
	}
}

// ions returns the ions of a strong electrolyte, nil for what is written whole or
// is a half's own.
func (q *Question) ions(x *chem.Species) []chem.Term {
	if slices.ContainsFunc(q.species, x.Same) {
		return nil
	}
	ions := q.solution.Ions(x)
	// Hydrogensulfate that neither half has is hydrogen ion and sulfate, so that
	// both may stand in one line.
	for k, t := range ions {
		if t.Species.Key() == "HSO4^-" && !slices.ContainsFunc(q.species, t.Species.Same) {
			rest := slices.Delete(slices.Clone(ions), k, k+1)
			return append(rest, chem.Term{Species: chem.Hydron, Coefficient: t.Coefficient}, chem.Term{Species: redox.Sulfate(), Coefficient: t.Coefficient})
		}
	}
	return ions
}

// inBase reports whether the answer has hydroxide ions for hydrogen ions.
func (q *Question) inBase() bool {
	return q.medium == redox.Basic || slices.ContainsFunc(q.solution.Equation.Species(), chem.Hydroxide.Same)
}

// lowest divides by the common factor.
func lowest(v []chem.Ratio) []chem.Ratio {
	g, den := int64(0), int64(1)
	for _, x := range v {
		if l, ok := chem.LCM(den, x.Den()); ok {
			den = l
		}
	}
	for _, x := range v {
		g = chem.GCD(g, x.Mul(chem.Whole(den)).Num())
	}
	if g == 0 {
		return v
	}
	out := make([]chem.Ratio, len(v))
	for i, x := range v {
		out[i] = x.Mul(chem.Whole(den)).Quo(chem.Whole(g))
	}
	return out
}

// A lexicon knows the question's own species best, so that of two readings of a
// line the question's is taken.
type lexicon struct{ q *Question }

func (l lexicon) Rank(s *chem.Species) (int, bool) {
	for i, t := range l.q.species {
		if t.Same(s) {
			return i, true
		}
	}
	r, known := reference.Species().Rank(s)
	return r + 1000, known
}
