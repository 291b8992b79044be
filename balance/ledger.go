package balance

import (
	"halves/chem"
)

// A Law is the conservation of one element, or of charge where Element is 0.
type Law struct{ Element chem.Element }

// Charge is the law of conservation of charge.
var Charge = Law{}

func (l Law) String() string {
	if l == Charge {
		return "charge"
	}
	return l.Element.Symbol()
}

// An Entry is one line of a ledger: what each side of an equation holds.
type Entry struct {
	Law         Law
	Left, Right chem.Ratio // atoms, or elementary charges
}

// Closed reports whether both sides hold the same.
func (e Entry) Closed() bool { return e.Left.Equal(e.Right) }

// A Ledger holds one entry for each element, in the order in which the
// equation names them, and the charge last.
type Ledger []Entry

// NewLedger counts both sides of an equation. It walks the formulas as they
// were typed and shares nothing with the solver, so that it can prove the
// solver's answers. The error is a *chem.TooLargeError.
func NewLedger(e chem.Equation) (l Ledger, err error) {
	defer func() {
		if r := recover(); r != nil {
			if _, ok := r.(chem.OverflowError); !ok {
				panic(r)
			}
			l, err = nil, &chem.TooLargeError{Msg: "the atoms of a side cannot be counted in 64 bits"}
		}
	}()
	charge := Entry{Law: Charge}
	l = make(Ledger, 0, 8)
	for side, t := range e.Terms {
		for _, p := range t.Species.Formula().Parts {
			l = l.count(side, t.Coefficient.Mul(chem.Whole(p.Count)), p.Units)
		}
		charge.add(side, t.Coefficient.Mul(chem.Whole(t.Species.Charge())))
	}
	return append(l, charge), nil
}

func (l Ledger) count(side int64, times chem.Ratio, units []chem.Unit) Ledger {
	for _, u := range units {
		n := times.Mul(chem.Whole(u.Count))
		if u.Group != nil {
			l = l.count(side, n, u.Group)
			continue
		}
		i := 0
		for i < len(l) && l[i].Law.Element != u.Element {
			i++
		}
		if i == len(l) {
			l = append(l, Entry{Law: Law{u.Element}})
		}
		l[i].add(side, n)
	}
	return l
}

func (e *Entry) add(side int64, n chem.Ratio) {
	if side < 0 {
		e.Left = e.Left.Add(n)
	} else {
		e.Right = e.Right.Add(n)
	}
}

// Closed reports whether every entry closes.
func (l Ledger) Closed() bool {
	for _, e := range l {
		if !e.Closed() {
			return false
		}
	}
	return true
}
