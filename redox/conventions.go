package redox

import (
	"fmt"
	"strings"

	"halves/balance"
	"halves/chem"
	"halves/names"
)

// A Method is a way of balancing a redox equation.
type Method uint8

// The methods.
const (
	ByHalves    Method = iota // by half-reactions
	ByStates                  // by oxidation states: total loss equals total gain
	ByEquations               // by algebra: one equation for each element and for charge
)

// Methods lists the methods by the words that name them.
var Methods = []string{"halves", "states", "equations"}

// String returns the word that names the method.
func (m Method) String() string { return Methods[m] }

// MarshalText writes the word that names the method.
func (m Method) MarshalText() ([]byte, error) { return []byte(m.String()), nil }

// ParseMethod reads the word that names a method.
func ParseMethod(s string) (Method, error) {
	for i, name := range Methods {
		if strings.EqualFold(strings.TrimSpace(s), name) {
			return Method(i), nil
		}
	}
	return 0, fmt.Errorf("no method is called %q; the methods are %s", s, listed(Methods))
}

// Conventions are the ways of writing in which a class differs from another.
// The zero value is the default.
type Conventions struct {
	By           Method       // the method that this class is taught
	Hydronium    bool         // H3O^+ in place of H^+
	BaseInHalves bool         // hydroxide within each half, not at the end
	Phases       bool         // mark (s), (l), (g), (aq) where they are known
	Ones         bool         // write the coefficient 1
	Equals       bool         // = in place of the arrow
	Roman        bool         // oxidation states as II and -I, not +2 and -1
	Comma        bool         // a comma before decimals, not a point
	Names        names.Choice // which names are printed and spoken
}

// Style says how these conventions write an equation.
func (c Conventions) Style() chem.Style {
	return chem.Style{Phases: c.Phases, Ones: c.Ones, Equals: c.Equals}
}

// State writes an oxidation state: "+2", "II", "−1", "−I". Zero is
// "0", and a mean stays a fraction.
func (c Conventions) State(r chem.Ratio) string {
	if !c.Roman || !r.IsWhole() || r.Sign() == 0 {
		return strings.ReplaceAll(r.Signed(), "-", "−")
	}
	if r.Sign() < 0 {
		return "−" + names.Roman(-r.Num())
	}
	return names.Roman(r.Num())
}

// LineStyle says how an equation is written while it is worked: the coefficient
// 1 and the equals sign wait until the numbers say something, so a line that does
// not balance keeps its arrow.
func (c Conventions) LineStyle(e chem.Equation) chem.Style {
	style := c.Style()
	if !style.Ones && !style.Equals {
		return style
	}
	l, err := balance.NewLedger(e)
	if err != nil || !l.Closed() {
		style.Ones, style.Equals = false, false
	}
	return style
}

// Label returns the rule in the words of the class.
func (c Conventions) Label(r Rule) string {
	if c.Hydronium && r == Hydrogen {
		return "balance hydrogen with hydronium ions"
	}
	return string(r)
}
