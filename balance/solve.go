package balance

import (
	"slices"

	"halves/chem"
)

// A Problem asks for the coefficients of an equation.
type Problem struct {
	Left, Right []*chem.Species // each must be used, on its side
	Free        []*chem.Species // may stand on either side, or nowhere (water, H^+, OH^-, e^-)
	// Extra holds further linear laws, each a row over Left, Right and Free in
	// this order; their sums over signed coefficients must be 0.
	Extra [][]int64
}

// An Outcome says what a Problem came to. Vectors have one entry for each
// species of Left, Right and Free, in this order: negative on the left,
// positive on the right, in lowest whole numbers.
type Outcome struct {
	Nullity int     // the dimension of the null space
	Answer  []int64 // the one answer; nil where there is none or several

	// Where there are several: the elementary equations (at most
	// MaxElementary), whether they are all, and their sum, which uses every
	// species.
	Elementary [][]int64
	Complete   bool
	Example    []int64

	// Where there is none: why.
	Cause *Cause
}

// A Cause says why nothing balances. Exactly one of its kinds is set.
type Cause struct {
	OneSided      []chem.Element  // elements found on one side only
	Left          []bool          // for each of OneSided: found on the left
	Contradiction []Law           // the smallest set of laws that cannot hold together
	WrongSide     []*chem.Species // it would balance with these on the other side
	Unused        []*chem.Species // these could only have the coefficient 0
}

// laws returns the matrix of a row of species: one row for each element, then
// one for the charge where any species is charged.
func laws(species []*chem.Species) ([][]int64, []Law) {
	var names []Law
	charged := false
	for _, s := range species {
		charged = charged || s.Charge() != 0
		for _, c := range s.Composition() {
			known := false
			for _, l := range names {
				known = known || l.Element == c.Element
			}
			if !known {
				names = append(names, Law{c.Element})
			}
		}
	}
	if charged {
		names = append(names, Charge)
	}
	cells := make([]int64, len(names)*len(species))
	rows := make([][]int64, len(names))
	for i, l := range names {
		rows[i] = cells[i*len(species) : (i+1)*len(species)]
		for j, s := range species {
			if l == Charge {
				rows[i][j] = s.Charge()
			} else {
				rows[i][j] = s.Atoms(l.Element)
			}
		}
	}
	return rows, names
}

// Solve finds the coefficients. The error is a *chem.TooLargeError.
func Solve(p Problem) (Outcome, error) {
	n := len(p.Left) + len(p.Right) + len(p.Free)
	species := slices.Concat(p.Left, p.Right, p.Free)
	rows, names := laws(species)
	matrix := append(rows[:len(rows):len(rows)], p.Extra...)
	basis, err := Kernel(matrix, n)
	if err != nil {
		return Outcome{}, err
	}
	o := Outcome{Nullity: len(basis)}
	switch len(basis) {
	case 0:
		o.Cause = p.cause(rows, names)
	case 1:
		v := orient(basis[0], len(p.Left), len(p.Right))
		if bad := p.misplaced(v); bad == nil {
			o.Answer = v
		} else {
			o.Cause = bad
			if c := p.cause(rows, names); c.OneSided != nil {
				o.Cause = c
			}
		}
	default:
		err = p.several(&o, matrix, rows, names, n)
	}
	return o, err
}

// Possible reports, cheaply, whether a problem may have an answer: false is
// certain where the null space is empty or its one vector puts a species on the
// wrong side, and is also said of numbers that leave 64 bits.
func Possible(p Problem) bool {
	species := slices.Concat(p.Left, p.Right, p.Free)
	rows, _ := laws(species)
	basis, ok := kernel64(append(rows, p.Extra...), len(species))
	switch {
	case !ok || len(basis) == 0:
		return false
	case len(basis) == 1:
		return p.misplaced(orient(basis[0], len(p.Left), len(p.Right))) == nil
	}
	return true
}

// orient gives the vector the sign under which most species stand on the side
// that the problem wants; on a draw, the first.
func orient(v []int64, nLeft, nRight int) []int64 {
	wrong, right := 0, 0
	for j, x := range v[:nLeft+nRight] {
		switch onLeft := j < nLeft; {
		case x == 0:
		case (x < 0) == onLeft:
			right++
		default:
			wrong++
		}
	}
	if wrong > right || wrong == right && nLeft > 0 && v[0] > 0 {
		for j := range v {
			v[j] = -v[j]
		}
	}
	return v
}

// misplaced returns nil where v uses each species on its side.
func (p Problem) misplaced(v []int64) *Cause {
	var c Cause
	for j := range len(p.Left) + len(p.Right) {
		s, want := p.at(j), int64(1)
		if j < len(p.Left) {
			want = -1
		}
		switch x := v[j] * want; {
		case x == 0:
			c.Unused = append(c.Unused, s)
		case x < 0:
			c.WrongSide = append(c.WrongSide, s)
		}
	}
	switch {
	case c.Unused != nil:
		c.WrongSide = nil
		return &c
	case c.WrongSide != nil:
		return &c
	}
	return nil
}

func (p Problem) at(j int) *chem.Species {
	if j < len(p.Left) {
		return p.Left[j]
	}
	return p.Right[j-len(p.Left)]
}

// several fills in an outcome whose null space has two dimensions or more. The
// signs may still leave one answer, or none.
func (p Problem) several(o *Outcome, matrix, rows [][]int64, names []Law, n int) error {
	main := len(p.Left) + len(p.Right)
	left := budget
	modes, complete := p.modes(matrix, n, &left)
	if !complete {
		return &chem.TooLargeError{Msg: "the species can be combined in more ways than can be listed, so it is not known whether the ratio is open; use fewer species"}
	}
	used := make([]bool, main)
	sum := make([]int64, n)
	for _, v := range modes {
		for j, x := range v {
			if j < main && x != 0 {
				used[j] = true
			}
			sum[j] += x
		}
	}
	var unused []*chem.Species
	for j, u := range used {
		if !u {
			unused = append(unused, p.at(j))
		}
	}
	if unused != nil {
		o.Cause = p.cause(rows, names)
		if o.Cause.OneSided == nil && (len(unused) < main || o.Cause.Contradiction == nil) {
			o.Cause = &Cause{Unused: unused}
		}
		return nil
	}
	if len(modes) == 1 {
		o.Answer = modes[0]
		return nil
	}
	o.Complete = len(modes) <= MaxElementary
	o.Elementary = modes[:min(len(modes), MaxElementary)]
	lowest(sum)
	o.Example = sum
	return nil
}

// modes returns the elementary equations as signed vectors: the columns of
// Left are turned round and those of Free stand twice, once for each side, so
// that all entries sought are nonnegative.
func (p Problem) modes(matrix [][]int64, n int, left *int) ([][]int64, bool) {
	main := len(p.Left) + len(p.Right)
	wide := make([][]int64, len(matrix))
	for i, r := range matrix {
		w := make([]int64, 0, n+len(p.Free))
		for j, x := range r {
			if j < len(p.Left) {
				x = -x
			}
			w = append(w, x)
		}
		for _, x := range r[main:] {
			w = append(w, -x)
		}
		wide[i] = w
	}
	found, complete := elementary(wide, n+len(p.Free), left)
	if !complete {
		return nil, false
	}
	var out [][]int64
	for _, w := range found {
		v := make([]int64, n)
		trivial := true
		for j, x := range w[:n] {
			if j < len(p.Left) {
				x = -x
			}
			v[j] = x
		}
		for j, x := range w[n:] {
			v[main+j] -= x
		}
		for _, x := range v[:main] {
			trivial = trivial && x == 0
		}
		if !trivial {
			lowest(v)
			out = append(out, v)
		}
	}
	return out, true
}

// cause finds why no vector uses every species on its side.
func (p Problem) cause(rows [][]int64, names []Law) *Cause {
	c := &Cause{}
	main := len(p.Left) + len(p.Right)
	for i, l := range names {
		if l == Charge {
			continue
		}
		left, right, free := false, false, false
		for j, x := range rows[i] {
			switch {
			case x == 0:
			case j < len(p.Left):
				left = true
			case j < main:
				right = true
			default:
				free = true
			}
		}
		if left != right && !free {
			c.OneSided = append(c.OneSided, l.Element)
			c.Left = append(c.Left, left)
		}
	}
	if c.OneSided == nil {
		c.Contradiction = p.contradiction(rows, names)
	}
	return c
}

// contradiction returns the smallest set of laws that no equation with all
// species keeps. Sets of up to three laws are tried, elements before charge;
// then all laws are named.
func (p Problem) contradiction(rows [][]int64, names []Law) []Law {
	n := len(p.Left) + len(p.Right) + len(p.Free)
	left := budget
	feasible := func(set []int) bool {
		some := make([][]int64, len(set))
		for k, i := range set {
			some[k] = rows[i]
		}
		modes, complete := p.modes(some, n, &left)
		if !complete {
			return true // not shown to be a contradiction
		}
		used := make([]bool, len(p.Left)+len(p.Right))
		for _, v := range modes {
			for j := range used {
				used[j] = used[j] || v[j] != 0
			}
		}
		for _, u := range used {
			if !u {
				return false
			}
		}
		return true
	}
	var found []Law
	var try func(set []int, from, size int) bool
	try = func(set []int, from, size int) bool {
		if size == 0 {
			if feasible(set) {
				return false
			}
			for _, i := range set {
				found = append(found, names[i])
			}
			return true
		}
		for i := from; i < len(rows); i++ {
			if try(append(set, i), i+1, size-1) {
				return true
			}
		}
		return false
	}
	if len(rows) <= 16 {
		for size := 1; size <= min(3, len(rows)); size++ {
			if try(make([]int, 0, size), 0, size) {
				return found
			}
		}
	}
	return names
}
