package energetics

import (
	"slices"

	"halves/chem"
	"halves/reference"
)

// Why a couple is slow, and when, a row of the table says; whether that matters
// depends on the direction and on the partner.

// A hindrance is one of a row of the table.
type hindrance struct {
	reference.Hindrance
	reason, source string
}

func hindrancesOf(c *reference.Couple) []hindrance {
	var out []hindrance
	for _, h := range c.Hindrances {
		out = append(out, hindrance{h, c.Slow, c.SlowSource})
	}
	return out
}

// hinder notes the hindrances of a couple; the first is what is said of it.
func (p *Potential) hinder(all []hindrance) {
	p.hindrances = all
	if len(all) > 0 {
		p.Slow, p.SlowBy = all[0].reason, all[0].source
	}
}

// slow returns why a couple of the cell is slow in the direction in which the
// cell runs, at a potential of the cell in volts; "" where it is not.
func (c *Cell) slow(volts float64) string {
	reduced, oxidized := c.Reduction.Half.Left, c.Oxidation.Half.Right
	for _, h := range c.Reduction.hindrances {
		if h.Reduction && h.matters(reduced, oxidized, volts) {
			return h.reason
		}
	}
	for _, h := range c.Oxidation.hindrances {
		if h.Oxidation && h.matters(oxidized, reduced, volts) {
			return h.reason
		}
	}
	return ""
}

// matters reports whether the conditions of a hindrance hold where a couple uses
// some terms up, and its partner others, at a potential of the cell in volts.
func (h hindrance) matters(used, partner []chem.Term, volts float64) bool {
	return (h.Below == 0 || volts < h.Below) &&
		!(h.WithoutAcid && stands(chem.Hydron, used)) &&
		(h.By == nil || slices.ContainsFunc(h.By, func(s *chem.Species) bool { return stands(s, partner) }))
}

// slowness finds the hindrances of a half-reaction that no row holds: what is
// slow in a row is slow here too where it must react in the same direction. A
// row that tells of this direction alone goes before one that tells of both.
func (t Tables) slowness(half chem.Equation) []hindrance {
	var out []hindrance
	for side, x := range half.Terms {
		s := x.Species
		if s.IsElectron() || s.Same(chem.Water) || s.Same(chem.Hydron) || s.Same(chem.Hydroxide) {
			continue
		}
		reduced := side < 0
		var found []hindrance
		for _, c := range t.Couples.Holding(s) {
			used := c.Half.Right
			if reduced {
				used = c.Half.Left
			}
			for _, h := range hindrancesOf(c) {
				if (reduced && h.Reduction || !reduced && h.Oxidation) && stands(s, used) && reacts(c.Half, s) {
					found = append(found, h)
				}
			}
		}
		if len(found) == 0 {
			continue
		}
		h := found[max(0, slices.IndexFunc(found, func(h hindrance) bool { return h.Reduction != h.Oxidation }))]
		h.Reduction, h.Oxidation = reduced, !reduced
		out = append(out, h)
	}
	return out
}

func stands(s *chem.Species, terms []chem.Term) bool {
	return slices.ContainsFunc(terms, func(x chem.Term) bool { return same(x.Species, s) })
}

// reacts reports whether a species of a half-reaction is oxidized or reduced in
// it: one of its elements changes its state. Oxygen and hydrogen count where
// they alone change, as in a peroxide.
func reacts(half chem.Equation, s *chem.Species) bool {
	changing := func(all []*chem.Species) bool {
		return slices.ContainsFunc(all, func(s *chem.Species) bool {
			return slices.ContainsFunc(s.Composition(), func(c chem.Count) bool {
				return c.Element != chem.O && c.Element != chem.H && changes(half, c.Element)
			})
		})
	}
	return changing([]*chem.Species{s}) || !changing(half.Species())
}
