package energetics

import (
	"slices"
	"strings"

	"halves/chem"
	"halves/redox"
	"halves/reference"
)

// A Competition is what could react among species that are together: the
// couples whose oxidized side is there, the strongest first, and those whose
// reduced side is there, the strongest first.
type Competition struct {
	Oxidizing []Potential // by what is present, the highest potential first
	Reducing  []Potential // the lowest potential first
	// Window is water's own: below the first potential it gives hydrogen, above
	// the second oxygen.
	Window [2]float64
}

// First returns the potential of the strongest oxidizing with the strongest
// reducing agent, and whether both are there and differ.
func (c Competition) First() (oxidizing, reducing Potential, ok bool) {
	if len(c.Oxidizing) == 0 || len(c.Reducing) == 0 {
		return oxidizing, reducing, false
	}
	return c.Oxidizing[0], c.Reducing[0], c.Oxidizing[0].Volts > c.Reducing[0].Volts
}

// Compete finds the couples of the tables that species in a medium can take
// part in, water and its ions among them. The potentials are those at pH 0 in
// acid, at pH 14 in base.
func (t Tables) Compete(present []*chem.Species, m redox.Medium) (Competition, error) {
	var out Competition
	there := func(s *chem.Species) bool {
		switch {
		case s.IsElectron(), s.Same(chem.Water):
			return true
		case s.Same(chem.Hydron):
			return m != redox.Basic
		case s.Same(chem.Hydroxide):
			return m == redox.Basic
		}
		return slices.ContainsFunc(present, func(p *chem.Species) bool { return same(p, s) && alikePhase(p, s) })
	}
	all := func(terms []chem.Term) bool {
		return !slices.ContainsFunc(terms, func(x chem.Term) bool { return !there(x.Species) })
	}
	var oxidizing, reducing contenders
	for _, c := range t.Couples.All() {
		if !(c.Preferred || c.Own) {
			continue
		}
		// The other medium's way of writing a couple of water.
		if w := vectorOf(c.Half); m == redox.Basic && w.hydron != 0 && w.hydroxide == 0 || m != redox.Basic && w.hydroxide != 0 {
			continue
		}
		oxidized, reduced := all(c.Half.Left), all(c.Half.Right)
		if !oxidized && !reduced || !usual(c.Half, present) {
			continue
		}
		p, err := t.Of(c.Half)
		if err != nil {
			return out, err
		}
		if oxidized {
			oxidizing.add(agent(c.Half.Left), c, p)
		}
		if reduced {
			reducing.add(agent(c.Half.Right), c, p)
		}
	}
	out.Oxidizing, out.Reducing = oxidizing.usual(), reducing.usual()
	slices.SortStableFunc(out.Oxidizing, func(a, b Potential) int { return compare(b.Volts, a.Volts) })
	slices.SortStableFunc(out.Reducing, func(a, b Potential) int { return compare(a.Volts, b.Volts) })
	ph := 0.0
	if m == redox.Basic {
		ph = 14
	}
	out.Window = t.window(ph)
	return out, nil
}

// contenders are couples by the agent that they belong to.
type contenders []struct {
	agent     string
	couple    *reference.Couple
	potential Potential
}

func (k *contenders) add(agent string, c *reference.Couple, p Potential) {
	*k = append(*k, struct {
		agent     string
		couple    *reference.Couple
		potential Potential
	}{agent, c, p})
}

// usual leaves of an agent that has couples in the textbook's table, or in the
// user's, only those: the other rows hold what a class does not meet, such as
// free hydrogen atoms, or a solid oxide that a solution does not give at once.
// Of water alone only the textbook's couples count.
func (k contenders) usual() []Potential {
	known := map[string]bool{"": true}
	for _, x := range k {
		if x.couple.Textbook || x.couple.Own {
			known[x.agent] = true
		}
	}
	var out []Potential
	for _, x := range k {
		if x.couple.Textbook || x.couple.Own || !known[x.agent] {
			out = append(out, x.potential)
		}
	}
	return out
}

// agent spells the species of a side that are not of water.
func agent(terms []chem.Term) string {
	var out []string
	for _, x := range terms {
		s := x.Species
		if s.IsElectron() || s.Same(chem.Water) || s.Same(chem.Hydron) || s.Same(chem.Hydroxide) {
			continue
		}
		out = append(out, s.String())
	}
	return strings.Join(out, " + ")
}

// usual reports whether what is present without a phase stands in a couple in
// the likely one, so that of the couples of bromine one is taken.
func usual(half chem.Equation, present []*chem.Species) bool {
	return !slices.ContainsFunc(half.Species(), func(s *chem.Species) bool {
		return slices.ContainsFunc(present, func(p *chem.Species) bool {
			return p.Phase() == chem.NoPhase && same(p, s) && likelyPhase(p) != chem.NoPhase && likelyPhase(p) != s.Phase()
		})
	})
}

func compare(a, b float64) int {
	switch {
	case a < b:
		return -1
	case a > b:
		return 1
	}
	return 0
}

// window returns the potentials between which water is neither reduced nor
// oxidized at a pH, by free energies of formation.
func (t Tables) window(ph float64) [2]float64 {
	water := t.formation(chem.Water)
	slope := -decade(Room) * ph
	if water == nil {
		return [2]float64{slope, slope}
	}
	return [2]float64{slope, volts(4, 2*water.G) + slope}
}
