package reference_test

import (
	"fmt"
	"maps"
	"math"
	"slices"
	"strings"
	"testing"

	"halves/chem"
	"halves/reference"
)

// calculated returns the potential that the free energies give, E = -dG/(nF).
func calculated(c *reference.Couple) (volts float64, ok bool) {
	g := 0.0
	for side, term := range c.Half.Terms {
		if term.Species.IsElectron() {
			continue
		}
		f := reference.Formations().Find(term.Species)
		if f == nil {
			return 0, false
		}
		g += float64(side*term.Coefficient.Num()) * f.G
	}
	return -1000 * g / (float64(c.Electrons) * faraday), true
}

// The two tables are held together: a derived potential is what the free
// energies give, and where a printed one is further than 0.03 V from it, there
// is a judgement. go test -v -run TestPotentialsFromFormations prints the table
// of differences.
func TestPotentialsFromFormations(t *testing.T) {
	table := reference.Couples()
	independent, close := 0, 0
	for _, c := range table.All() {
		volts, ok := calculated(c)
		s, _ := table.Suspect(c.ID)
		if !ok {
			if c.Source == "derived" || s.Calculated != "" {
				t.Errorf("%s: no free energies to calculate it from", c.ID)
			}
			continue
		}
		difference := volts - c.Volts
		switch {
		case c.Source == "derived":
			if math.Abs(difference) > 0.0006 {
				t.Errorf("%s: %s V, but the free energies give %.3f V", c.ID, c.Text, volts)
			}
		case c.Preferred:
			independent++
			if math.Abs(difference) <= 0.03 {
				close++
			}
		}
		if (math.Abs(difference) > 0.03) != (s.Calculated != "") {
			t.Errorf("%s: table %s V, calculated %.4f V, judgement %q", c.ID, c.Text, volts, s.Judgement)
		}
		if s.Calculated == "" {
			continue
		}
		if got := fmt.Sprintf("%.3f", volts); got != s.Calculated {
			t.Errorf("%s: differences.tsv has %s V, the free energies give %s V", c.ID, s.Calculated, got)
		}
		t.Logf("%-32s %8s V  calculated %7.3f V  %+.3f V  %-10s %s", c.ID, c.Text, volts, difference, s.Nearer, s.Judgement)
	}
	t.Logf("%d of %d preferred rows that are not derived agree within 0.03 V", close, independent)
	if close*100 < independent*80 {
		t.Errorf("only %d of %d rows agree within 0.03 V", close, independent)
	}
}

// odd are closures beyond 10 mV: the step, the next step, the whole, and why.
const odd = `
clo2_1m.clo_1m.basic + clo_1m.cl_1m.basic = clo2_1m.cl_1m.basic: chlorite is uncertain by some kJ/mol; printed to 0.01 V
clo3_1m.clo2_1m.basic + clo2_1m.clo_1m.basic = clo3_1m.clo_1m.basic: the free energy of chlorite lies 8 to 10 kJ/mol below the measured couples
cr2o7_2m.cr_3p.acidic + cr_3p.cr.acidic = cr2o7_2m.cr.acidic: the free energy of Cr^3+ differs by 9 kJ/mol from the one behind Cr^3+/Cr
cunh34_2p.cunh32_1p.basic + cunh32_1p.cu.basic = cunh34_2p.cu.basic: constants of the ammine complexes differ between compilations; the steps are from memory
hgcl2.hg2cl2.acidic + hg2cl2.hg.any = hgcl2.hg.acidic: 0.63 V is printed to 0.01 V and from memory; the free energies give 0.657 V
io3_1m.i3_1m.acidic + i3_1m.i_1m.any = io3_1m.i_1m.acidic: the free energy of iodate gives potentials 0.012 V above the printed ones
mno4_1m.mn_3p.acidic + mn_3p.mn_2p.acidic = mno4_1m.mn_2p.acidic: Mn^3+/Mn^2+ is a formal potential
mno4_1m.mno2.acidic + mno2.mn_3p.acidic = mno4_1m.mn_3p.acidic: MnO2/Mn^3+ rests on the formal potential of Mn^3+/Mn^2+
no3_1m.hno2.acidic + hno2.no.acidic = no3_1m.no.acidic: the free energy of HNO2 differs by 4 to 5 kJ/mol between compilations
no3_1m.n2.acidic + n2.nh4_1p.acidic = no3_1m.nh4_1p.acidic: 0.87 V is printed to 0.01 V; the free energies give 0.880 V
no3_1m.n2h5_1p.acidic + n2h5_1p.nh4_1p.acidic = no3_1m.nh4_1p.acidic: N2H5^+ from two compilations; 0.87 V is printed to 0.01 V
no3_1m.n2o4.acidic + n2o4.hno2.acidic = no3_1m.hno2.acidic: the free energy of HNO2 differs by 4 to 5 kJ/mol between compilations
no3_1m.nh3oh_1p.acidic + nh3oh_1p.nh4_1p.acidic = no3_1m.nh4_1p.acidic: 0.87 V is printed to 0.01 V; the free energies give 0.880 V
no3_1m.no2.acidic + no2.no2_1m.any = no3_1m.no2_1m.acidic: nitrite from two compilations; 0.845 V is converted from a log K
no3_1m.no2.basic + no2.no2_1m.any = no3_1m.no2_1m.basic: 0.01 V is printed to 0.01 V; the free energies give -0.009 V
po4_3m.hpo3_2m.basic + hpo3_2m.p4.basic = po4_3m.p4.basic: PO4^3-/HPO3^2- is printed from -1.05 to -1.12 V
ptcl6_2m.ptcl4_2m.acidic + ptcl4_2m.pt.acidic = ptcl6_2m.pt.acidic: measured in different media; chloride complexes of platinum are uncertain
sno2.sno.acidic + sno.sn.acidic = sno2.sn.acidic: SnO2 and SnO from different compilations
vo2_1p.v_2p.acidic + v_2p.v.acidic = vo2_1p.v.acidic: V^2+/V is printed from -1.13 to -1.19 V
`

// A closure is A/B and B/C beside A/C: with n electrons each, the potentials
// must obey n1 E1 + n2 E2 = (n1 + n2) E3 (Hess's law; OpenStax, Chemistry 2e,
// section 5.3, and E = -dG/(nF), section 17.4).
type closure struct {
	first, second, whole *reference.Couple
	gap                  float64 // volts
}

func (c closure) String() string {
	return fmt.Sprintf("%s + %s = %s", c.first.ID, c.second.ID, c.whole.ID)
}

// closures finds every three preferred rows of which the first two add up to
// the third, phases included.
func closures() []closure {
	byKey := map[string]*reference.Couple{}
	vectors := map[*reference.Couple]vector{}
	takes := map[string][]*reference.Couple{} // by species on the left
	var all []*reference.Couple
	for _, c := range reference.Couples().All() {
		if !c.Preferred {
			continue
		}
		all = append(all, c)
		v := vectorOf(c.Half)
		vectors[c] = v
		byKey[v.key()] = c
		for s, n := range v {
			if n < 0 && !medium[s] {
				takes[s] = append(takes[s], c)
			}
		}
	}
	var found []closure
	for _, first := range all {
		for s, n := range vectors[first] {
			if n <= 0 || medium[s] {
				continue
			}
			for _, second := range takes[s] {
				m := -vectors[second][s]
				a, b := m/chem.GCD(n, m), n/chem.GCD(n, m)
				sum := vector{}
				for s, n := range vectors[first] {
					sum[s] += a * n
				}
				for s, n := range vectors[second] {
					sum[s] += b * n
				}
				whole := byKey[sum.key()]
				if whole == nil || second == first {
					continue
				}
				n1, n2 := float64(a*first.Electrons), float64(b*second.Electrons)
				gap := (n1*first.Volts+n2*second.Volts)/(n1+n2) - whole.Volts
				found = append(found, closure{first, second, whole, gap})
			}
		}
	}
	return found
}

var medium = map[string]bool{"H^+(aq)": true, "OH^-(aq)": true, "H2O(l)": true, "e^-": true}

func TestClosure(t *testing.T) {
	why := map[string]string{}
	for line := range strings.Lines(strings.TrimSpace(odd)) {
		name, cause, _ := strings.Cut(strings.TrimSpace(line), ": ")
		why[name] = cause
	}
	n := 0
	for _, c := range closures() {
		n++
		cause, listed := why[c.String()]
		delete(why, c.String())
		switch beyond := math.Abs(c.gap) > 0.01+1e-9; {
		case math.Abs(c.gap) > 0.03:
			t.Errorf("%s: %+.4f V, beyond 0.03 V", c, c.gap)
		case beyond && cause == "":
			t.Errorf("%s: %+.4f V without a cause", c, c.gap)
		case !beyond && listed:
			t.Errorf("%s: %+.4f V needs no cause", c, c.gap)
		}
	}
	if n < 150 {
		t.Errorf("%d closures, want 150 at least: the search is broken", n)
	}
	for _, name := range slices.Sorted(maps.Keys(why)) {
		t.Errorf("%s is no closure of the table", name)
	}
	t.Logf("%d closures", n)
}

// The same couple in acid and in base: the potentials differ by pKw for each
// hydroxide ion (OpenStax, Chemistry 2e, section 17.4, the Nernst equation).
func TestClosureOverWater(t *testing.T) {
	const kw = 1e-14 // OpenStax, Chemistry 2e, section 14.1
	pair := map[string]*reference.Couple{}
	inAcid := map[string]float64{}
	n := 0
	for _, c := range reference.Couples().All() {
		if !c.Preferred {
			continue
		}
		v := vectorOf(c.Half)
		hydroxide := v["OH^-(aq)"]
		v["H2O(l)"] += hydroxide
		v["H^+(aq)"] -= hydroxide
		v["OH^-(aq)"] = 0
		volts := c.Volts - gasConstant*kelvin/faraday*math.Log(kw)*float64(hydroxide)/float64(c.Electrons)
		key := v.key()
		if other := pair[key]; other != nil {
			n++
			if gap := math.Abs(volts - inAcid[key]); gap > 0.03 {
				t.Errorf("%s and %s are %.3f V apart", other.ID, c.ID, gap)
			}
		}
		pair[key], inAcid[key] = c, volts
	}
	if n < 25 {
		t.Errorf("%d pairs, want 25 at least: the search is broken", n)
	}
}
