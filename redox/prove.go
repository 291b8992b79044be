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
		if !e.Closed() && s.Rule.promises(e.Law) {
			return e.Law.String()
		}
	}
	return ""
}

// promises reports whether a line under this rule must conserve a law.
func (r Rule) promises(l balance.Law) bool {
	switch r {
	case WriteIons, LeaveOut, Split, ChangesOfState, EqualChanges:
		return false
	case OtherAtoms:
		return l != balance.Charge && l.Element != chem.O && l.Element != chem.H
	case Oxygen:
		return l != balance.Charge && l.Element != chem.H
	case Hydrogen:
		return l != balance.Charge
	}
	return true
}
