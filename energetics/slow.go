package energetics

import (
	"slices"
	"strings"

	"halves/chem"
)

// Why a couple is slow, a row of the table says; whether that matters depends on
// the direction and on the partner. Sulfate is hardly reduced, but sulfite is
// oxidized fast; zinc gives off hydrogen from an acid in spite of the
// overpotential, lead does not.

// A hindrance says when the reason of a row matters: when one of the species
// must react.
type hindrance struct {
	words    string   // with which the reason of the row begins
	must     []string // react: one of them is used up; nil for any direction
	below    float64  // only where the potential of the cell is below; 0 for no bound
	partners []string // only with one of these on the left of the other couple; nil for all
	noAcid   bool     // only where no hydrogen ion is used up
}

// hindrances are common practice, no source. The bounds in volts are those of
// overpotentials: a few tenths of a volt for the gases, more for alcohols, which
// permanganate and dichromate oxidize and weaker agents hardly.
var hindrances = []hindrance{
	{words: "sulfate", must: []string{"SO4^2-", "HSO4^-"}},
	{words: "nitrate", must: []string{"NO3^-"}, noAcid: true},
	{words: "nitrogen", must: []string{"N2"}},
	{words: "dinitrogen oxide", must: []string{"N2O"}},
	{words: "carbon dioxide", must: []string{"CO2", "CO3^2-", "HCO3^-"}},
	{words: "perchlorate", must: []string{"ClO4^-"}},
	{words: "chlorate", must: []string{"ClO3^-"}, noAcid: true},
	{words: "peroxodisulfate", must: []string{"S2O8^2-"}},
	{words: "phosphate", must: []string{"H3PO4", "PO4^3-", "P4O10", "H3PO3", "HPO3^2-", "H4P2O6"}},
	{words: "the lower acids of phosphorus", must: []string{"H3PO3", "HPO3^2-", "H3PO2", "H2PO2^-", "H4P2O6"}},
	{words: "organic acids", must: []string{"CH3COOH", "CH3COO^-", "HCOOH", "HCOO^-"}},
	{words: "organic acids", must: []string{"CH3CHO", "C2H5OH", "HCHO"}, below: 1.0},
	{words: "alcohols", must: []string{"CH3CHO", "C2H5OH", "HCHO", "CH3OH"}, below: 1.0},
	{words: "oxalate", must: []string{"H2C2O4", "HC2O4^-", "C2O4^2-", "CO2", "CO3^2-"}},
	{words: "arsenite", must: []string{"H3AsO3", "HAsO2"}, partners: []string{"MnO4^-", "Ce^4+"}},
	{words: "oxygen", must: []string{"O2"}},
	{words: "oxygen", must: []string{"H2O", "OH^-"}, below: 0.6},
	{words: "hydrogen", must: []string{"H2"}},
	{words: "hydrogen", must: []string{"H^+", "H2O"}, below: 0.3},
	{words: "aluminium", must: []string{"Al"}},
	{words: "chromium", must: []string{"Cr"}},
	{words: "the metal is passive", must: []string{"Ti", "Zr", "Hf"}},
	{words: "the ignited oxide", must: []string{"Al2O3", "Cr2O3", "SiO2", "SnO2", "TiO2"}},
	{words: "dithionate", must: []string{"S2O6^2-"}},
}

// slow returns why a couple of the cell is slow in the direction in which the
// cell runs, at a potential of the cell in volts; "" where it is not. A reason
// that is in no list, as one of a user's row, matters always.
func (c *Cell) slow(volts float64) string {
	for _, x := range []struct {
		couple, partner Potential
		used            []chem.Term
	}{
		{c.Reduction, c.Oxidation, c.Reduction.Half.Left},
		{c.Oxidation, c.Reduction, c.Oxidation.Half.Right},
	} {
		if reason := x.couple.Slow; reason != "" && matters(reason, x.used, x.partner.Half.Left, volts) {
			return reason
		}
	}
	return ""
}

func matters(reason string, used, partner []chem.Term, volts float64) bool {
	listed := false
	for _, h := range hindrances {
		if !strings.HasPrefix(reason, h.words) {
			continue
		}
		listed = true
		if holdsAny(used, h.must) && (h.below == 0 || volts < h.below) &&
			(h.partners == nil || holdsAny(partner, h.partners)) && !(h.noAcid && holdsAny(used, []string{"H^+"})) {
			return true
		}
	}
	return !listed
}

func holdsAny(terms []chem.Term, formulas []string) bool {
	return slices.ContainsFunc(terms, func(x chem.Term) bool { return slices.Contains(formulas, x.Species.String()) })
}

// slowness finds the reason of a half-reaction that no row holds: what is slow in
// the rows is slow here too, where it must react. It looks at what is reduced
// first.
func (t Tables) slowness(half chem.Equation) (reason, source string) {
	for _, terms := range [][]chem.Term{half.Left, half.Right} {
		for _, x := range terms {
			for _, h := range hindrances {
				if h.below != 0 || !slices.Contains(h.must, x.Species.String()) {
					continue
				}
				for _, c := range t.Couples.Holding(x.Species) {
					if strings.HasPrefix(c.Slow, h.words) {
						return c.Slow, c.SlowSource
					}
				}
			}
		}
	}
	return "", ""
}
