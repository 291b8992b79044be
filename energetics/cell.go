package energetics

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"halves/chem"
	"halves/redox"
	"halves/reference"
)

// A Verdict is what may be said of a reaction by its potential. The sign alone
// is never called "it happens".
type Verdict string

// The verdicts.
const (
	Goes     Verdict = "goes"
	Slow     Verdict = "goes on paper, slow or hindered"
	Not      Verdict = "does not go"
	TooClose Verdict = "too close to call"
)

// Close is the potential in volts below which the sign decides nothing: tables
// differ by as much (common practice, no source).
const Close = 0.050

// Reach is the potential in volts, below zero, that concentrated reagents or a
// gas that leaves may still make up for: manganese dioxide gives off chlorine
// from concentrated hydrochloric acid at -0.13 V (common practice, no source).
const Reach = 0.350

// A Cell is a redox reaction as a galvanic cell, at 25 °C.
type Cell struct {
	Equation  chem.Equation // the reaction as printed
	Net       chem.Equation // the sum of the halves, without spectators
	Reduction Potential     // at the cathode
	Oxidation Potential     // at the anode, as a reduction
	Volts     float64       // standard potential of the cell
	Doubt     float64       // how far off it may be by the digits of its figures
	Electrons int64         // in Equation
	Gibbs     float64       // dG in kJ for Equation as printed
	LogK      float64       // of Equation as printed
	Verdict   Verdict
	Why       string // one or two sentences
	// At is what the conditions asked for make of it; nil where none were.
	At *Now

	netElectrons float64 // of Net
}

// Decimals is how many decimals a potential of the cell carries: as many as that of
// its halves which has fewer.
func (c *Cell) Decimals() int { return min(c.Reduction.Decimals(), c.Oxidation.Decimals()) }

// Work returns the cell of a worked solution: its halves' potentials, and what
// follows. The errors are *NoCellError where it has no two halves in water,
// *MissingError where a figure is missing, and *ConditionError.
func (t Tables) Work(s *redox.Solution, c Conditions) (*Cell, error) {
	oxidation, reduction, err := halvesOf(s)
	if err != nil {
		return nil, err
	}
	out := &Cell{Equation: s.Equation}
	basic := s.Medium == redox.Basic || holdsBase(s.Equation)
	if out.Reduction, out.Oxidation, err = t.couple(inMedium(inIons(reduction.Equation), basic), inMedium(inIons(oxidation.Equation), basic)); err != nil {
		return nil, err
	}
	out.Volts = out.Reduction.Volts - out.Oxidation.Volts
	out.Doubt = out.Reduction.Doubt + out.Oxidation.Doubt
	out.Electrons = *s.Electrons
	out.Gibbs = kilojoules(float64(out.Electrons), out.Volts)
	out.LogK = float64(out.Electrons) * out.Volts / decade(Room)
	out.Net, out.netElectrons = netOf(out.Reduction, out.Oxidation)
	out.judge(out.Volts, "T")
	if s.Medium == redox.Neutral && c.standard() {
		if now, err := t.at(out, Conditions{PH: new(neutral)}); err == nil && now.Volts != out.Volts {
			out.judge(now.Volts, "At pH 7 t")
		}
	}
	if !c.standard() {
		if out.At, err = t.at(out, c); err != nil {
			return nil, err
		}
		out.judge(out.At.Volts, "Under the conditions given t")
	}
	return out, nil
}

// neutral is the pH by which a reaction in neutral solution is judged.
const neutral = 7.0

// couple returns the potentials of both halves. What stands in both is taken in
// one phase: of Cl2 -> Cl^- + ClO^- both halves take the gas.
func (t Tables) couple(reduction, oxidation chem.Equation) (r, o Potential, err error) {
	if r, err = t.Of(reduction); err != nil {
		return r, o, err
	}
	if o, err = t.Of(phased(oxidation, vectorOf(r.Half), chem.NoPhase)); err == nil {
		return r, o, nil
	}
	if o, err = t.Of(oxidation); err != nil {
		return r, o, err
	}
	r, err = t.Of(phased(reduction, vectorOf(o.Half), chem.NoPhase))
	return r, o, err
}

// holdsBase reports whether hydroxide ions stand in an equation, by themselves
// or in a strong base (KOH).
func holdsBase(e chem.Equation) bool {
	return slices.ContainsFunc(e.Species(), func(s *chem.Species) bool {
		if s.Same(chem.Hydroxide) {
			return true
		}
		// A slightly soluble base such as Ca(OH)2 makes a solution basic too.
		entry := reference.Species().Find(s)
		return entry != nil && slices.ContainsFunc(entry.Ions, func(x chem.Term) bool { return x.Species.Same(chem.Hydroxide) })
	})
}

// ionsOf returns the ions as which a species is written where it is dissolved;
// nil where it is not, or is written whole.
func ionsOf(s *chem.Species) []chem.Term {
	if s.Charge() != 0 || likelyPhase(s) != chem.Aqueous {
		return nil
	}
	if e := reference.Species().Find(s); e != nil {
		return e.Ions
	}
	return nil
}

// inIons writes strong electrolytes that a half-reaction holds whole as their
// ions (HNO3 as H^+ and NO3^-), for the figures are those of ions, and cancels
// what then stands on both sides.
func inIons(half chem.Equation) chem.Equation {
	if !slices.ContainsFunc(half.Species(), func(s *chem.Species) bool { return ionsOf(s) != nil }) {
		return half
	}
	var all []amount
	add := func(s *chem.Species, n int64) {
		for i := range all {
			if all[i].species.Same(s) {
				all[i].n += n
				return
			}
		}
		all = append(all, amount{s, n})
	}
	for side, x := range half.Terms {
		n := side * x.Coefficient.Num()
		if ions := ionsOf(x.Species); ions != nil {
			for _, ion := range ions {
				add(ion.Species, n*ion.Coefficient.Num())
			}
			continue
		}
		add(x.Species, n)
	}
	var out chem.Equation
	for _, a := range all {
		out = put(out, a.species, a.n)
	}
	return out
}

// put adds n of a species to an equation: on the left where n is negative.
func put(e chem.Equation, s *chem.Species, n int64) chem.Equation {
	switch {
	case n < 0:
		e.Left = append(e.Left, chem.Term{Coefficient: chem.Whole(-n), Species: s})
	case n > 0:
		e.Right = append(e.Right, chem.Term{Coefficient: chem.Whole(n), Species: s})
	}
	return e
}

// A NoCellError says why a solution is no cell.
type NoCellError struct{ Msg string }

func (e *NoCellError) Error() string { return e.Msg }

// Hint says what to do.
func (e *NoCellError) Hint() string {
	return "potentials belong to a reaction in water that parts into one oxidation and one reduction; give the medium, as in \", in acid\""
}

// halvesOf returns the two halves of a solution. A method without halves is
// worked by halves again.
func halvesOf(s *redox.Solution) (oxidation, reduction redox.Half, err error) {
	if !s.Redox() {
		return oxidation, reduction, &NoCellError{"nothing is oxidized or reduced, so there is no cell"}
	}
	halves := s.Halves
	plain := s.Conventions
	if plain.By != redox.ByHalves || plain.Hydronium {
		plain.By, plain.Hydronium = redox.ByHalves, false
		again, err := redox.Work(s.Given, s.Medium, plain)
		if err != nil {
			return oxidation, reduction, &NoCellError{"the reaction was not parted into halves"}
		}
		halves = again.Halves
	}
	if len(halves) != 2 || halves[0].Role == halves[1].Role || len(halves[0].Equation.Left) == 0 {
		return oxidation, reduction, &NoCellError{"the reaction has no two half-reactions in water, so no potentials belong to it"}
	}
	if s.Electrons == nil || *s.Electrons == 0 {
		return oxidation, reduction, &NoCellError{"how many electrons are transferred is left open"}
	}
	oxidation, reduction = halves[0], halves[1]
	if oxidation.Role != redox.Oxidation {
		oxidation, reduction = reduction, oxidation
	}
	return oxidation, reduction, nil
}

// inMedium writes a half that was balanced with hydrogen ions with hydroxide
// ions where the solution is basic: its standard state is then pH 14.
func inMedium(half chem.Equation, basic bool) chem.Equation {
	if !basic {
		return half
	}
	v := vectorOf(half)
	if v.hydron == 0 {
		return half
	}
	n := v.hydron // on the right; as many hydroxide ions go there with the other sign
	var out chem.Equation
	for _, a := range v.amounts {
		out = put(out, a.species, a.n)
	}
	out = put(out, chem.Water, v.water+n)
	out = put(out, chem.Hydroxide, -n)
	return put(out, chem.Electron, -v.electrons)
}

func holds(e chem.Equation, s *chem.Species) bool { return slices.ContainsFunc(e.Species(), s.Same) }

// netOf adds the two halves, each as often as the electrons need, and divides by
// the common factor. It returns the electrons of the result.
func netOf(reduction, oxidation Potential) (chem.Equation, float64) {
	l, ok := chem.LCM(reduction.Electrons, oxidation.Electrons)
	if !ok {
		return chem.Equation{}, math.NaN()
	}
	v := map[string]int64{}
	var order []*chem.Species
	add := func(e chem.Equation, k int64) {
		for side, x := range e.Terms {
			if x.Species.IsElectron() {
				continue
			}
			key := x.Species.Key() + x.Species.Phase().String()
			if _, seen := v[key]; !seen {
				order = append(order, x.Species)
			}
			v[key] += side * k * x.Coefficient.Num()
		}
	}
	add(reduction.Half, l/reduction.Electrons)
	add(oxidation.Half, -l/oxidation.Electrons)
	g := int64(0)
	for _, n := range v {
		g = chem.GCD(g, n)
	}
	var out chem.Equation
	for _, s := range order {
		out = put(out, s, v[s.Key()+s.Phase().String()]/max(g, 1))
	}
	return out, float64(l) / float64(max(g, 1))
}

// judge says what a potential allows to be said.
func (c *Cell) judge(e float64, when string) {
	figure := fixed(e, c.Decimals())
	if e > 0 {
		figure = "+" + figure
	}
	least, most := e, e
	for _, p := range []struct {
		of    Potential
		times float64
	}{{c.Reduction, 1}, {c.Oxidation, -1}} {
		if p.of.Other != nil {
			d := p.times * (p.of.Other.Volts - p.of.Volts)
			least, most = min(least, e+d), max(most, e+d)
		}
	}
	switch {
	case math.Abs(e) < max(Close, c.Doubt):
		c.Verdict = TooClose
		c.Why = fmt.Sprintf("%she potential of the cell is %s V: within %s V of zero, what tables differ by and small changes of concentration can turn the sign.", when, figure, fixed(max(Close, c.Doubt), 2))
	case least < 0 && most > 0:
		c.Verdict = TooClose
		c.Why = fmt.Sprintf("%she potential of the cell is %s V, but another way of finding it gives the other sign.", when, figure)
	case e < 0:
		c.Verdict = Not
		c.Why = fmt.Sprintf("%she potential of the cell is %s V: the reverse is what the potentials favour.", when, figure)
		if e > -Reach && c.At == nil {
			c.Why += " That holds at 1 mol/L and 1 bar: concentrated reagents, or a product that leaves, can still drive it."
		}
	case c.slow(e) != "":
		why := c.slow(e)
		c.Verdict = Slow
		c.Why = fmt.Sprintf("%she potential of the cell is %s V, so the potentials favour it; but in practice: %s.", when, figure, why)
	default:
		c.Verdict = Goes
		c.Why = fmt.Sprintf("%she potential of the cell is %s V: the potentials favour it. How fast it goes they do not tell.", when, figure)
	}
}

// K writes an equilibrium constant from its logarithm, with as many figures as
// the doubt in volts leaves: "7.6 x 10^56", "8 x 10^56", or 10^57 where mantissa
// is "".
func (c *Cell) K() (mantissa string, exponent int64) {
	doubt := float64(c.Electrons) * c.Doubt / decade(Room) // of log K
	// An error of 0.02 in the logarithm is one of 5 in 100, of 0.15 one of 40.
	decimals := 0
	switch {
	case doubt > 0.15:
		return "", int64(math.Round(c.LogK))
	case doubt <= 0.03:
		decimals = 1
	}
	floor := math.Floor(c.LogK)
	mantissa = fmt.Sprintf("%.*f", decimals, math.Pow(10, c.LogK-floor))
	if strings.HasPrefix(mantissa, "10") {
		floor++
		mantissa = fmt.Sprintf("%.*f", decimals, 1.0)
	}
	return mantissa, int64(floor)
}
