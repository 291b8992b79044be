package document

import (
	"fmt"

	"halves/balance"
	"halves/chem"
	"halves/redox"
)

// A Verdict answers a question that may stay open.
type Verdict int8

// The verdicts.
const (
	Unknown Verdict = iota
	Yes
	No
)

// A Check is what can be said of an equation as it was typed.
type Check struct {
	Equation    chem.Equation
	Assumptions []chem.Assumption // how it was read
	Ledger      balance.Ledger    // of Equation
	Factor      int64             // the common factor of the coefficients; 0 where they are not whole
	Redox       Verdict           // whether an oxidation state changes
	Half        string            // "oxidation" or "reduction" where it is a half-reaction
	Conventions redox.Conventions // in which it is shown
}

// Balanced reports whether atoms and charge agree.
func (c Check) Balanced() bool { return c.Ledger.Closed() }

// Lowest reports whether the coefficients are whole numbers without a common
// factor.
func (c Check) Lowest() bool { return c.Factor == 1 }

// FromCheck shows the ledger of an equation and what follows from it.
func FromCheck(c Check) *Document {
	d := newLayout(c.Conventions)
	d.Title = equation(c.Equation, c.Conventions.Style(), c.Conventions.Names)
	for _, a := range c.Assumptions {
		d.add(Note{Join(Plain("Read "+a.Typed+" as "), d.species(a.Read), Plain("."))})
	}
	var items []Inline
	say := func(s string) { items = append(items, d.prose(s)) }
	if c.Balanced() {
		say("Balanced: atoms and charge agree on both sides.")
	} else {
		for _, e := range c.Ledger {
			if !e.Closed() {
				left, right := sides(e)
				law := d.element(e.Law.Element)
				if e.Law == balance.Charge {
					law = Plain("the charge")
				}
				items = append(items, Join(Plain("Not balanced: "), law, Plain(" is "), signed(left), Plain(" on the left and "), signed(right), Plain(" on the right.")))
			}
		}
	}
	switch {
	case c.Factor == 0:
		say("Not in lowest whole numbers: a coefficient is not whole.")
	case c.Factor > 1:
		say(fmt.Sprintf("Not in lowest whole numbers: all coefficients can be divided by %d.", c.Factor))
	case c.Balanced():
		say("In lowest whole numbers.")
	}
	switch {
	case c.Half != "":
		say("A half-reaction: " + map[string]string{"oxidation": "an oxidation.", "reduction": "a reduction."}[c.Half])
	case c.Redox == Yes:
		say("Redox: oxidation states change.")
	case c.Redox == No:
		say("Not redox: no oxidation state changes.")
	default:
		say("Whether it is redox is not known: the oxidation states are not settled, or the equation cannot be worked.")
	}
	d.add(List{items})
	d.check(c.Ledger)
	return d.Document
}
