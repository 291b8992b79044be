package redox

import (
	"fmt"

	"halves/balance"
	"halves/chem"
)

// prove checks the final equation and every line with code that shares nothing
// with the solver.
func (w *work) prove() error {
	l, err := balance.NewLedger(w.Equation)
	if err != nil {
		return err
	}
	w.Ledger = l
	if !l.Closed() {
		return &InternalError{w.Given, "the ledger of the final equation does not close: " + w.Equation.String()}
	}
	for _, s := range w.Steps {
		if bad := unproved(s); bad != "" {
			return &InternalError{w.Given, fmt.Sprintf("the line %q (%s) does not conserve %s", s.After, s.Rule, bad)}
		}
	}
	return nil
}

// unproved names what a line fails to conserve of what its rule promises.
func unproved(s Step) string {
	if len(s.After.Left)+len(s.After.Right) == 0 {
		return ""
	}
	l, err := balance.NewLedger(s.After)
	if err != nil {
		return "what can be counted"
	}
	for _, e := range l {
		if !e.Closed() && s.promises(e.Law) {
			return e.Law.String()
		}
	}
	return ""
}

// promises reports whether a line must conserve a law by now.
func (s Step) promises(l balance.Law) bool {
	whole := s.Half < 0 // by oxidation states the whole equation is built up
	ion := l == balance.Charge
	oxygen, hydrogen := !ion && l.Element == chem.O, !ion && l.Element == chem.H
	switch s.Rule {
	case WriteIons, LeaveOut, Split, ChangesOfState, EqualChanges, OtherNumbers:
		// OtherNumbers settles one species after another; its last line is the
		// final equation, which is proved by itself.
		return false
	case OtherAtoms:
		return !ion && !oxygen && !hydrogen
	case ChargeByIons:
		return !oxygen && !hydrogen
	case Oxygen:
		return whole || !ion && !hydrogen
	case Hydrogen:
		return !ion
	}
	return true
}
