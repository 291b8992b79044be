package question

import (
	"fmt"
	"slices"

	"halves/chem"
	"halves/oxidation"
	"halves/redox"
)

// Tenths is a difficulty in tenths of a point: 10 is 1.0, 100 is 10.0. It is a
// whole number, so that sums are exact.
type Tenths int

// The ends of the scale.
const (
	Easiest Tenths = 10
	Hardest Tenths = 100
)

func (t Tenths) String() string { return fmt.Sprintf("%d.%d", t/10, t%10) }

// What each thing adds, in tenths. A plain exchange of electrons, one half
// multiplied by nothing, has 1.0 (common practice, no source: the project's
// judgement of what costs a beginner time and marks).
const (
	perOtherAtoms   = 6 // a half
	perWater        = 5 // a half with water
	perHydrogen     = 4 // a half with hydrogen ions
	perMultiply     = 6
	perMultiplyBoth = 3
	perLargeFactor  = 3 // a half multiplied by 5 or more
	perCancel       = 4
	perCommonFactor = 2
	perBase         = 6
	perNothingAdded = 9
	perSpectators   = 4
	perDispro       = 5
	perCompro       = 3
	perChange       = 18 // each change beyond two
	perAverage      = 6
	perComplex      = 7
	perOrganic      = 6
	perUnfamiliar   = 4  // a species, at most three
	perLargeNumber  = 4  // a coefficient of 6 or more in the answer; again from 10 and from 20
	perSpecies      = 4  // each species of the answer beyond six; beyond three where no rule adds any
	perOpen         = 12 // states that the rules leave open
)

// grade reads features and difficulty off a worked solution.
func grade(s *redox.Solution) (f Features, d Tenths) {
	d = Easiest
	add := func(what Features, tenths Tenths) { f |= what; d += tenths }
	waters, other := 0, map[int]bool{}
	for _, st := range s.Steps {
		if !st.Done {
			continue
		}
		switch st.Rule {
		case redox.OtherAtoms:
			if !other[st.Half] {
				other[st.Half] = true
				add(OtherAtoms, perOtherAtoms)
			}
		case redox.Oxygen:
			waters++
			d += perWater
		case redox.Hydrogen:
			add(Hydrogen, perHydrogen)
		case redox.Cancel:
			if cancelsWater(st.Before) {
				add(Cancel, perCancel)
			}
		case redox.LowestNumbers:
			add(CommonFactor, perCommonFactor)
		case redox.Neutralize:
			f |= InBase
		case redox.WriteIons, redox.LeaveOut:
			f |= Spectators
		}
	}
	switch {
	case waters > 1:
		f |= WaterTwice
	case waters == 1:
		f |= Water
	}
	if s.Medium == redox.Basic {
		add(InBase, 0)
	}
	if f.Has(InBase) {
		d += perBase
	}
	if f.Has(Spectators) {
		d += perSpectators
	}
	if s.Medium == redox.None {
		add(NothingAdded, perNothingAdded)
	}
	gradeHalves(s, add)
	gradeSpecies(s, add)
	largest := int64(0)
	for _, x := range s.Equation.Terms {
		largest = max(largest, x.Coefficient.Num())
	}
	for _, bound := range []int64{6, 10, 20} {
		if largest >= bound {
			d += perLargeNumber
		}
	}
	free := 6 // species that a student keeps in view
	if dry := f.Has(NothingAdded) && !f.Has(Spectators); dry {
		free = 3 // they are balanced by looking, not by rules
	}
	d += perSpecies * Tenths(max(0, len(s.Equation.Species())-free))
	return f, min(d, Hardest)
}

// gradeHalves adds what multiplying and what changes ask.
func gradeHalves(s *redox.Solution, add func(Features, Tenths)) {
	factors := 0
	for _, h := range s.Halves {
		if h.Multiplier > 1 {
			factors++
		}
		if h.Multiplier >= 5 {
			add(0, perLargeFactor)
		}
	}
	switch {
	case factors > 1:
		add(MultiplyBoth, perMultiply+perMultiplyBoth)
	case factors == 1:
		add(Multiply, perMultiply)
	}
	if n := len(s.Changes); n > 2 {
		add(SeveralElements, perChange*Tenths(n-2))
	}
	if s.Electrons == nil {
		add(0, perOpen)
	}
	both := disproportionates(s)
	if both {
		add(Disproportionation, perDispro)
	}
	if !both && len(s.Changes) == 2 && s.Changes[0].Element == s.Changes[1].Element &&
		slices.ContainsFunc(s.Changes[0].Products, func(x *chem.Species) bool { return slices.ContainsFunc(s.Changes[1].Products, x.Same) }) {
		add(Comproportionation, perCompro)
	}
}

// disproportionates reports whether one element of one species goes both up and
// down from one state.
func disproportionates(s *redox.Solution) bool {
	return slices.ContainsFunc(s.Changes, func(up redox.Change) bool {
		return up.Electrons().Sign() > 0 && slices.ContainsFunc(s.Changes, func(down redox.Change) bool {
			return down.Electrons().Sign() < 0 && down.Element == up.Element && down.From.Equal(up.From) && slices.ContainsFunc(up.Reactants, func(x *chem.Species) bool {
				return slices.ContainsFunc(down.Reactants, x.Same)
			})
		})
	})
}

// gradeSpecies adds what the species ask.
func gradeSpecies(s *redox.Solution, add func(Features, Tenths)) {
	average, unfamiliar := false, 0
	var kinds Features
	for _, x := range s.Species {
		for _, st := range x.States {
			average = average || slices.ContainsFunc(st.Sites, func(y oxidation.Site) bool { return !y.State.IsWhole() })
		}
		if isComplex(x.Species) {
			kinds |= Complex
		}
		if isOrganic(x.Species) {
			kinds |= Organic
		}
		if !isFamiliar(x.Species) {
			unfamiliar++
		}
	}
	if average {
		add(AverageState, perAverage)
	}
	if kinds.Has(Complex) {
		add(Complex, perComplex)
	}
	if kinds.Has(Organic) {
		add(Organic, perOrganic)
	}
	if unfamiliar > 0 {
		add(Unfamiliar, perUnfamiliar*Tenths(min(unfamiliar, 3)))
	}
}

// cancelsWater reports whether water or one of its ions stands on both sides.
func cancelsWater(e chem.Equation) bool {
	for _, x := range e.Left {
		if isWater(x.Species) && !x.Species.IsElectron() && slices.ContainsFunc(e.Right, func(y chem.Term) bool { return y.Species.Same(x.Species) }) {
			return true
		}
	}
	return false
}

// isOrganic reports a compound of carbon with a bond to hydrogen, as far as a
// formula tells: carbon and hydrogen, and not an acid or an ion of carbonate,
// cyanide or thiocyanate.
func isOrganic(s *chem.Species) bool {
	c := s.Composition()
	carbon, hydrogen := c.Atoms(chem.C), c.Atoms(chem.H)
	if carbon == 0 || !c.Only(chem.C, chem.H, chem.O, chem.N) {
		return false
	}
	switch s.String() {
	case "H2CO3", "HCO3^-", "HCN", "HOCN", "HCNO", "HNCO", "NH4CN":
		return false
	}
	return hydrogen > 0 || carbon == 2 && c.Atoms(chem.O) == 4
}

// isComplex reports a metal with ligands written in brackets or more than one of
// them: [Fe(CN)6]^4-, Ag(NH3)2^+, Cr(OH)4^-, AuCl4^-. Oxoanions are none.
func isComplex(s *chem.Species) bool {
	if s.Charge() == 0 || len(s.Composition()) < 2 {
		return false
	}
	metal := false
	ligand := int64(0)
	for _, c := range s.Composition() {
		switch c.Element {
		case chem.F, chem.Cl, chem.Br, chem.I:
			ligand += c.Atoms
		case chem.O, chem.H, chem.C, chem.N, chem.S:
		default:
			metal = metal || oxidation.IsMetal(c.Element)
		}
	}
	if !metal {
		return false
	}
	for _, p := range s.Formula().Parts {
		for _, u := range p.Units {
			if u.Group != nil {
				return true
			}
		}
	}
	return ligand > 1
}
