package chem

import (
	"strconv"
	"strings"
)

// A Phase is the state that a formula was marked with.
type Phase uint8

// The phases, after the IUPAC recommendations for symbols of states of
// aggregation (Green Book, 3rd edition, section 2.10.1).
const (
	NoPhase Phase = iota
	Solid
	Liquid
	Gas
	Aqueous
)

// String returns "(s)", "(l)", "(g)", "(aq)" or "".
func (p Phase) String() string { return [...]string{"", "(s)", "(l)", "(g)", "(aq)"}[p] }

// A Species is one kind of particle or substance: a formula with its charge
// and phase. It is never changed after it was made, so pointers to it are
// shared freely.
type Species struct {
	formula     Formula
	composition Composition
	charge      int64
	phase       Phase
	text        string // canonical plain text, without the phase
	key         string
}

// NewSpecies makes a species from its parts. It returns false where the atoms
// of one element pass a thousand million.
func NewSpecies(f Formula, charge int64, phase Phase) (*Species, bool) {
	c, ok := compositionOf(f.Parts)
	if !ok {
		return nil, false
	}
	s := &Species{formula: f, composition: c, charge: charge, phase: phase}
	if len(f.Parts) == 0 {
		s.text = "e^-"
		s.key = s.text
		return s, true
	}
	ch := chargeText(charge)
	s.text = f.String() + ch
	s.key = s.text
	if u := f.Parts[0].Units; len(u) == 1 && u[0].Group != nil {
		s.key = f.unwrapped().String() + ch
	}
	return s, true
}

// The species that the method itself adds to an equation.
var (
	Electron  = mustSpecies("e^-")
	Water     = mustSpecies("H2O")
	Hydron    = mustSpecies("H^+")
	Hydronium = mustSpecies("H3O^+")
	Hydroxide = mustSpecies("OH^-")
)

func mustSpecies(text string) *Species {
	r, err := ReadSpecies(text, nil)
	if err != nil {
		panic(err)
	}
	return r[0].Species
}

// Formula returns the formula as typed.
func (s *Species) Formula() Formula { return s.formula }

// Composition returns the atoms; it must not be changed.
func (s *Species) Composition() Composition { return s.composition }

// Atoms returns the number of atoms of e.
func (s *Species) Atoms(e Element) int64 { return s.composition.Atoms(e) }

// Charge returns the charge in elementary charges.
func (s *Species) Charge() int64 { return s.charge }

// Phase returns the state it was marked with, or NoPhase.
func (s *Species) Phase() Phase { return s.phase }

// IsElectron reports whether this is the electron.
func (s *Species) IsElectron() bool { return len(s.formula.Parts) == 0 }

// IsElement reports whether all atoms are of one element and there is no charge.
func (s *Species) IsElement() bool { return len(s.composition) == 1 && s.charge == 0 }

// Key names the species for comparison: the plain text without phase and
// without brackets around the whole. Isomers have different keys.
func (s *Species) Key() string { return s.key }

// Same reports whether formula and charge agree (phases may differ).
func (s *Species) Same(t *Species) bool { return s == t || s.key == t.key }

// String returns the canonical plain text without the phase: Cr2O7^2-, e^-.
func (s *Species) String() string { return s.text }

// WithPhase returns the same species marked with p.
func (s *Species) WithPhase(p Phase) *Species {
	if s.phase == p {
		return s
	}
	c := *s
	c.phase = p
	return &c
}

// chargeText returns "^2-", "^+" or "".
func chargeText(charge int64) string {
	if charge == 0 {
		return ""
	}
	return "^" + chargeDigits(charge)
}

func chargeDigits(charge int64) string {
	sign := "+"
	if charge < 0 {
		sign, charge = "-", -charge
	}
	if charge == 1 {
		return sign
	}
	return strconv.FormatInt(charge, 10) + sign
}

// A Term is a species with its coefficient, which is positive.
type Term struct {
	Coefficient Ratio
	Species     *Species
}

// An Equation has terms on two sides, in the order in which they are read.
type Equation struct {
	Left, Right []Term
}

// Style says how an equation is written out as text.
type Style struct {
	Phases bool // mark the states that are known
	Ones   bool // write the coefficient 1
	Equals bool // "=" for the arrow
}

// String returns the canonical plain text: "2 Fe^3+ + Sn^2+ -> 2 Fe^2+ + Sn^4+".
// Phases are printed only where one species stands in two phases.
// It is the plain text of Runs(Style{}).
func (e Equation) String() string {
	both := e.twoPhases()
	b := make([]byte, 0, 96)
	side := func(terms []Term) {
		for i, t := range terms {
			if i > 0 {
				b = append(b, " + "...)
			}
			if !t.Coefficient.Equal(Whole(1)) {
				b = append(b, t.Coefficient.String()...)
				b = append(b, ' ')
			}
			b = append(b, t.Species.text...)
			if both[t.Species.key] {
				b = append(b, t.Species.phase.String()...)
			}
		}
	}
	side(e.Left)
	b = append(b, " -> "...)
	side(e.Right)
	return string(b)
}

// Terms calls yield for each term, the left side first; side is -1 on the left
// and +1 on the right.
func (e Equation) Terms(yield func(side int64, t Term) bool) {
	for _, t := range e.Left {
		if !yield(-1, t) {
			return
		}
	}
	for _, t := range e.Right {
		if !yield(1, t) {
			return
		}
	}
}

// Species returns every species of the equation, each term once, in order.
func (e Equation) Species() []*Species {
	all := make([]*Species, 0, len(e.Left)+len(e.Right))
	for _, t := range e.Terms {
		all = append(all, t.Species)
	}
	return all
}

// twoPhases reports whether a species of e stands in it in more than one phase.
func (e Equation) twoPhases() map[string]bool {
	var seen map[string]bool
	all := e.Species()
	for i, s := range all {
		for _, t := range all[:i] {
			if s.phase != t.phase && s.Same(t) {
				if seen == nil {
					seen = map[string]bool{}
				}
				seen[s.key] = true
			}
		}
	}
	return seen
}

// Runs returns the equation as runs.
func (e Equation) Runs(style Style) []Run {
	r := make([]Run, 0, 4*(len(e.Left)+len(e.Right)))
	both := e.twoPhases()
	side := func(terms []Term) {
		for i, t := range terms {
			if i > 0 {
				r = append(r, Run{Text: " + "})
			}
			r = t.appendRuns(r, style, style.Phases || both[t.Species.key])
		}
	}
	side(e.Left)
	if style.Equals {
		r = append(r, Run{Text: " = "})
	} else {
		r = append(r, Run{Text: " -> "})
	}
	side(e.Right)
	return r
}

func (t Term) appendRuns(r []Run, style Style, phase bool) []Run {
	if !t.Coefficient.Equal(Whole(1)) || style.Ones {
		r = append(r, Run{Text: t.Coefficient.String() + " "})
	}
	return t.Species.appendRuns(r, phase)
}

// Runs returns the term as runs, its coefficient 1 left out.
func (t Term) Runs() []Run { return t.appendRuns(nil, Style{}, false) }

// Runs returns the species as runs, without its phase.
func (s *Species) Runs() []Run { return s.appendRuns(nil, false) }

func (s *Species) appendRuns(r []Run, phase bool) []Run {
	if s.IsElectron() {
		return append(r, Run{Text: "e"}, Run{Text: "-", Level: Superscript})
	}
	r = append(r, s.formula.appendRuns(nil)...)
	if s.charge != 0 {
		r = append(r, Run{Text: chargeDigits(s.charge), Level: Superscript})
	}
	if phase && s.phase != NoPhase {
		r = append(r, Run{Text: s.phase.String()})
	}
	return r
}

// ReadsAs says, in plain text, how a piece of typing was understood.
func ReadsAs(typed string, s *Species) string {
	return "read " + strings.TrimSpace(typed) + " as " + s.String()
}
