package redox

import (
	"halves/chem"
	"halves/reference"
)

// An amount is a species with a signed coefficient: negative on the left,
// positive on the right.
type amount struct {
	species *chem.Species
	n       int64
}

// A tally is an equation as one vector, in the order in which it is printed.
type tally []amount

func (t tally) get(s *chem.Species) int64 {
	for _, a := range t {
		if a.species.Same(s) {
			return a.n
		}
	}
	return 0
}

// sides returns the species of the left and of the right, in order.
func (t tally) sides() (left, right []*chem.Species) {
	for _, a := range t {
		switch {
		case a.n < 0:
			left = append(left, a.species)
		case a.n > 0:
			right = append(right, a.species)
		}
	}
	return left, right
}

// add returns t with n more of s.
func (t tally) add(s *chem.Species, n int64) tally {
	for i := range t {
		if t[i].species.Same(s) {
			t[i].n = sum(t[i].n, n)
			return t
		}
	}
	return append(t, amount{s, n})
}

// times returns a copy with each number multiplied.
func (t tally) times(k int64) tally {
	out := make(tally, len(t))
	for i, a := range t {
		out[i] = amount{a.species, product(a.n, k)}
	}
	return out
}

// factor returns the common factor of all numbers, 1 for an empty tally.
func (t tally) factor() int64 {
	g := int64(0)
	for _, a := range t {
		g = chem.GCD(g, a.n)
	}
	return max(g, 1)
}

func (t tally) divided(k int64) tally {
	out := make(tally, 0, len(t))
	for _, a := range t {
		if a.n != 0 {
			out = append(out, amount{a.species, a.n / k})
		}
	}
	return out
}

// place orders the species that the method adds behind all others: water, then
// hydrogen ions, hydroxide ions, electrons.
func place(s *chem.Species) int {
	switch {
	case s.IsElectron():
		return 4
	case s.Same(chem.Hydroxide):
		return 3
	case s.Same(chem.Hydron), s.Same(chem.Hydronium):
		return 2
	case s.Same(chem.Water):
		return 1
	}
	return 0
}

// A line is an equation with both sides written out, so that a species may
// stand on both.
type line struct{ left, right tally } // numbers positive

// line parts a vector into its sides.
func (t tally) line() line {
	var l line
	for _, a := range t {
		switch {
		case a.n < 0:
			l.left = append(l.left, amount{a.species, -a.n})
		case a.n > 0:
			l.right = append(l.right, a)
		}
	}
	return l
}

// vector returns right minus left.
func (l line) vector() tally {
	t := make(tally, 0, len(l.left)+len(l.right))
	for _, a := range l.left {
		t = t.add(a.species, -a.n)
	}
	for _, a := range l.right {
		t = t.add(a.species, a.n)
	}
	return t
}

// vectorOf reads an equation with whole coefficients as a vector.
func vectorOf(e chem.Equation) tally {
	var t tally
	for side, x := range e.Terms {
		t = t.add(x.Species, side*x.Coefficient.Num())
	}
	return t
}

// equation writes a line out, the medium's species last; hydronium writes
// n H3O^+ for n H^+ with n H2O on the other side.
func (l line) equation(hydronium bool) chem.Equation {
	if hydronium {
		l = l.hydronium()
	}
	return chem.Equation{Left: terms(l.left), Right: terms(l.right)}
}

func terms(side tally) []chem.Term {
	out := make([]chem.Term, 0, len(side))
	var added [5]*amount // by place
	for i, a := range side {
		switch p := place(a.species); {
		case a.n == 0:
		case p > 0:
			added[p] = &side[i]
		default:
			out = append(out, chem.Term{Coefficient: chem.Whole(a.n), Species: a.species})
		}
	}
	for _, a := range added {
		if a != nil {
			out = append(out, chem.Term{Coefficient: chem.Whole(a.n), Species: a.species})
		}
	}
	return out
}

func (l line) hydronium() line {
	out := line{left: make(tally, 0, len(l.left)+1), right: make(tally, 0, len(l.right)+1)}
	for _, a := range l.left {
		if a.species.Same(chem.Hydron) {
			out.left = out.left.add(chem.Hydronium, a.n)
			out.right = out.right.add(chem.Water, a.n)
		} else {
			out.left = out.left.add(a.species, a.n)
		}
	}
	for _, a := range l.right {
		if a.species.Same(chem.Hydron) {
			out.right = out.right.add(chem.Hydronium, a.n)
			out.left = out.left.add(chem.Water, a.n)
		} else {
			out.right = out.right.add(a.species, a.n)
		}
	}
	// The water that this brings is not left on both sides of a line that had
	// none there before.
	if w, v := out.left.get(chem.Water), out.right.get(chem.Water); w > 0 && v > 0 && (l.left.get(chem.Water) == 0 || l.right.get(chem.Water) == 0) {
		k := min(w, v)
		out.left, out.right = out.left.add(chem.Water, -k), out.right.add(chem.Water, -k)
	}
	return out
}

func (t tally) equation(hydronium bool) chem.Equation { return t.line().equation(hydronium) }

// product and sum raise chem.OverflowError, which Work turns into an error.
func product(a, b int64) int64 {
	p, ok := chem.Product(a, b)
	if !ok {
		panic(chem.OverflowError{})
	}
	return p
}

func sum(a, b int64) int64 {
	s, ok := chem.Sum(a, b)
	if !ok {
		panic(chem.OverflowError{})
	}
	return s
}

// same reports whether two formulas are one species: the same text, or two
// spellings that the table knows as one.
func same(a, b *chem.Species) bool {
	if a.Same(b) {
		return true
	}
	if a.Charge() != b.Charge() || !a.Composition().Equal(b.Composition()) {
		return false
	}
	e := reference.Species().Find(a)
	return e != nil && e == reference.Species().Find(b)
}
