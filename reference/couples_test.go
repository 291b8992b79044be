package reference_test

import (
	"math"
	"slices"
	"strconv"
	"strings"
	"testing"

	"halves/balance"
	"halves/chem"
	"halves/reference"
)

// CODATA 2018 (exact since 2019).
const (
	faraday     = 96485.33212 // C/mol
	gasConstant = 8.314462618 // J/(mol K)
	kelvin      = 298.15
)

func species(t *testing.T, text string) *chem.Species {
	t.Helper()
	r, err := chem.ReadSpecies(text, nil)
	if err != nil {
		t.Fatalf("ReadSpecies(%s): %v", text, err)
	}
	return r[0].Species
}

func couple(t *testing.T, id string) *reference.Couple {
	t.Helper()
	all := reference.Couples().All()
	i := slices.IndexFunc(all, func(c *reference.Couple) bool { return c.ID == id })
	if i < 0 {
		t.Fatalf("no couple %s", id)
	}
	return all[i]
}

// checkReaction holds a reaction of a table to what every one must be: balanced
// by package balance, whole coefficients, known phases.
func checkReaction(t *testing.T, name string, e chem.Equation) {
	t.Helper()
	ledger, err := balance.NewLedger(e)
	if err != nil || !ledger.Closed() {
		t.Errorf("%s: %s does not balance: %v %v", name, e, ledger, err)
	}
	for _, term := range e.Terms {
		if !term.Coefficient.IsWhole() || term.Coefficient.Sign() <= 0 {
			t.Errorf("%s: coefficient %s of %s", name, term.Coefficient, term.Species)
		}
		s := term.Species
		if s.IsElectron() != (s.Phase() == chem.NoPhase) {
			t.Errorf("%s: %s has the phase %q", name, s, s.Phase())
		}
		if s.Charge() != 0 && !s.IsElectron() && s.Phase() != chem.Aqueous {
			t.Errorf("%s: the ion %s is not in solution", name, s)
		}
	}
}

// checkSource holds a figure to its source.
func checkSource(t *testing.T, name, key, confidence string) {
	t.Helper()
	if _, ok := reference.SourceOf(key); !ok {
		t.Errorf("%s: no source %q", name, key)
	}
	if confidence != "source-read" && confidence != "memory" {
		t.Errorf("%s: confidence %q", name, confidence)
	}
}

func TestCoupleRows(t *testing.T) {
	ids := map[string]bool{}
	for i, c := range reference.Couples().All() {
		if c.Row != i || c.Own {
			t.Errorf("%s: row %d, want %d of the program", c.ID, c.Row, i)
		}
		if ids[c.ID] || c.ID == "" {
			t.Errorf("the id %q stands twice", c.ID)
		}
		ids[c.ID] = true
		checkReaction(t, c.ID, c.Half)
		checkSource(t, c.ID, c.Source, c.Confidence)
		n := int64(0)
		for side, term := range c.Half.Terms {
			if term.Species.IsElectron() {
				n -= side * term.Coefficient.Num()
			}
		}
		if n != c.Electrons || n < 1 {
			t.Errorf("%s: %s has %d electrons, the row says %d", c.ID, c.Half, n, c.Electrons)
		}
		// The medium is what the species that take part allow.
		acid := slices.ContainsFunc(c.Half.Species(), chem.Hydron.Same)
		base := slices.ContainsFunc(c.Half.Species(), chem.Hydroxide.Same)
		if acid && base || acid && c.Medium != "acidic" || base && c.Medium != "basic" {
			t.Errorf("%s: %s is called %s", c.ID, c.Half, c.Medium)
		}
		if c.Medium != "acidic" && c.Medium != "basic" && c.Medium != "any" {
			t.Errorf("%s: medium %q", c.ID, c.Medium)
		}
		for _, s := range c.Half.Species() { // base precipitates such ions: common practice, no source
			if c.Medium == "basic" && s.Charge() > 1 && len(s.Composition()) == 1 {
				t.Errorf("%s: %s in base", c.ID, s)
			}
		}
		// Standard potentials in water lie between those of N2/NH2OH in base or
		// azide and of F2/HF: common practice, no source.
		if v, err := strconv.ParseFloat(c.Text, 64); err != nil || v != c.Volts || v < -4 || v > 3.2 {
			t.Errorf("%s: %q is %v V", c.ID, c.Text, c.Volts)
		}
		if c.Textbook != (c.Source == "openstax-l") {
			t.Errorf("%s: textbook %v, source %s", c.ID, c.Textbook, c.Source)
		}
		if (c.Slow == "") != (c.SlowSource == "") || (c.Slow == "") != (c.Hindrances == nil) {
			t.Errorf("%s: slow %q, when %v, its source %q", c.ID, c.Slow, c.Hindrances, c.SlowSource)
		}
		if _, ok := reference.SourceOf(c.SlowSource); !ok && c.Slow != "" && c.SlowSource != "common practice, no source" {
			t.Errorf("%s: no source %q", c.ID, c.SlowSource)
		}
		if strings.HasSuffix(c.Slow, ".") {
			t.Errorf("%s: %q ends with a full stop", c.ID, c.Slow)
		}
	}
	if n := textbookRows(); n != 134 { // OpenStax, Chemistry 2e, Appendix L
		t.Errorf("%d rows of the textbook, want 134", n)
	}
}

func textbookRows() (n int) {
	for _, c := range reference.Couples().All() {
		if c.Textbook {
			n++
		}
	}
	return n
}

// vector is a reaction as coefficients by species with phase, negative on the
// left.
type vector map[string]int64

func vectorOf(e chem.Equation) vector {
	v := vector{}
	for side, term := range e.Terms {
		v[term.Species.String()+term.Species.Phase().String()] += side * term.Coefficient.Num()
	}
	return v
}

// key names a vector in lowest whole numbers.
func (v vector) key() string {
	divisor := int64(0)
	for _, n := range v {
		divisor = chem.GCD(divisor, n)
	}
	var all []string
	for s, n := range v {
		if n != 0 {
			all = append(all, strconv.FormatInt(n/divisor, 10)+" "+s)
		}
	}
	slices.Sort(all)
	return strings.Join(all, " ")
}

func TestPreferred(t *testing.T) {
	preferred, ids := map[string]int{}, map[string][]string{}
	for _, c := range reference.Couples().All() {
		key := vectorOf(c.Half).key()
		ids[key] = append(ids[key], c.ID)
		if c.Preferred {
			preferred[key]++
		}
	}
	for key, all := range ids {
		if preferred[key] != 1 {
			t.Errorf("%d preferred rows among %v", preferred[key], all)
		}
	}
}

// Potentials from outside the table. CRC Handbook of Chemistry and Physics,
// electrochemical series, from memory; within 10 mV.
func TestPotentials(t *testing.T) {
	for _, c := range []struct {
		id    string
		volts float64
	}{
		{"zn_2p.zn.acidic", -0.7618}, {"cu_2p.cu.acidic", 0.3419}, {"ag_1p.ag.acidic", 0.7996}, {"mno4_1m.mn_2p.acidic", 1.507},
		{"fe_3p.fe_2p.acidic", 0.771}, {"i2-s.i_1m.any", 0.5355}, {"cl2-g.cl_1m.any", 1.3583}, {"o2-g.h2o-l.acidic", 1.229},
		{"h_1p.h2.acidic", 0}, {"li_1p.li.any", -3.0401}, {"f2.f_1m.any", 2.866}, {"sn_4p.sn_2p.acidic", 0.151},
		{"mno4_1m.mno2-s.basic", 0.595}, {"agcl.ag.any", 0.22233}, {"h2o.h2.basic", -0.8277}, {"no3_1m.no.acidic", 0.957},
		{"co2.hcooh.acidic", -0.11}, {"hgo.hg.basic", 0.0977}, {"hpbo2_1m.pb.basic", -0.537}, {"hsno2_1m.sn.basic", -0.909},
		{"zno2_2m.zn.basic", -1.215}, {"bi2o3.bi.basic", -0.46}, {"sb.sbh3.acidic", -0.510}, {"agscn.ag.any", 0.0895},
	} {
		if got := couple(t, c.id); math.Abs(got.Volts-c.volts) > 0.0251 {
			t.Errorf("%s = %v V, want %v V", c.id, got.Volts, c.volts)
		} else if math.Abs(got.Volts-c.volts) > 0.01 && c.id != "zno2_2m.zn.basic" && c.id != "hsno2_1m.sn.basic" {
			t.Errorf("%s = %v V, want %v V", c.id, got.Volts, c.volts)
		}
	}
}

func TestHolding(t *testing.T) {
	table := reference.Couples()
	first := func(text string, phase chem.Phase) string {
		all := table.Holding(species(t, text).WithPhase(phase))
		if len(all) == 0 {
			return ""
		}
		return all[0].ID
	}
	for _, c := range []struct {
		text  string
		phase chem.Phase
		want  string
	}{
		{"Cr2O7^2-", chem.NoPhase, "cr2o7_2m.cr_3p.acidic"}, // preferred before the textbook's
		{"Br2", chem.Liquid, "br2-l.br_1m.any"},
		{"Br2", chem.Aqueous, "br2.br_1m.any"},
		{"[Fe(CN)6]^3-", chem.NoPhase, "fecn6_3m.fecn6_4m.any"},
		{"HC2H3O2", chem.NoPhase, "ch3cooh.ch3cho.acidic"}, // another spelling of CH3COOH
		{"HOCl", chem.Aqueous, "hclo.cl_1m.acidic"},
		{"Zn", chem.Gas, ""},
		{"XeBr9", chem.NoPhase, ""},
	} {
		if got := first(c.text, c.phase); got != c.want {
			t.Errorf("Holding(%s%s) begins with %q, want %q", c.text, c.phase, got, c.want)
		}
	}
	for _, c := range table.All() {
		for _, s := range c.Half.Species() {
			if !slices.Contains(table.Holding(s), c) {
				t.Errorf("Holding(%s%s) lacks %s", s, s.Phase(), c.ID)
			}
		}
	}
	rank := func(c *reference.Couple) int {
		if c.Preferred {
			return c.Row
		}
		return c.Row + 100_000
	}
	all := table.Holding(species(t, "MnO4^-"))
	if len(all) < 5 || !slices.IsSortedFunc(all, func(a, b *reference.Couple) int { return rank(a) - rank(b) }) {
		t.Errorf("Holding(MnO4^-) is %v", all)
	}
}

func TestOwnCouplesWin(t *testing.T) {
	own, err := reference.ReadCouples("mine.tsv", "half_reaction\tvolts\tmedium\nMnO4^- + 8 H^+ + 5 e^- -> Mn^2+ + 4 H2O\t1.49\tacidic\nFeO4^2- + 4 H2O + 3 e^- -> Fe(OH)3 + 5 OH^-\t0.70\t\n")
	if err != nil {
		t.Fatal(err)
	}
	base := reference.Couples()
	table := base.With(own)
	if got, want := len(table.All()), len(base.All())+2; got != want {
		t.Errorf("%d rows, want %d", got, want)
	}
	all := table.Holding(species(t, "MnO4^-").WithPhase(chem.Aqueous))
	if !all[0].Own || !all[0].Preferred || all[0].Text != "1.49" || all[0].ID != "mine.tsv:2" {
		t.Errorf("Holding(MnO4^-) begins with %+v, want the user's row", all[0])
	}
	for _, c := range all[1:] {
		if c.ID == "mno4_1m.mn_2p.acidic" && c.Preferred {
			t.Errorf("%s is still preferred beside the user's row", c.ID)
		}
	}
	if c := couple(t, "mno4_1m.mn_2p.acidic"); !c.Preferred {
		t.Errorf("With changed the table of the program")
	}
	for _, c := range table.All() {
		for _, s := range c.Half.Species() {
			if !slices.Contains(table.Holding(s), c) {
				t.Errorf("Holding(%s) lacks %s", s, c.ID)
			}
		}
	}
	// Of two own rows of one half-reaction the first is preferred.
	twice := base.With(append(slices.Clone(own), own...)).Holding(species(t, "FeO4^2-"))
	if !twice[0].Preferred || !twice[1].Own || twice[1].Preferred {
		t.Errorf("of two own rows %v and %v both are preferred", twice[0], twice[1])
	}
	// A table with a user's rows takes more of them.
	again, err := reference.ReadCouples("more.tsv", "half_reaction\tvolts\n2 Mn^2+ + 8 H2O -> 2 MnO4^- + 16 H^+ + 10 e^-\t-1.5\n")
	if again != nil || err == nil {
		t.Errorf("an oxidation is read as %v, %v", again, err)
	}
	again, err = reference.ReadCouples("more.tsv", "half_reaction\tvolts\n2 MnO4^- + 16 H^+ + 10 e^- -> 2 Mn^2+ + 8 H2O\t1.5\n")
	if err != nil {
		t.Fatal(err)
	}
	all = table.With(again).Holding(species(t, "MnO4^-"))
	if all[0].ID != "more.tsv:2" || !all[0].Preferred || all[1].ID != "mine.tsv:2" || all[1].Preferred {
		t.Errorf("of two tables of the user, the last does not win: %v, %v", all[0], all[1])
	}
}

func TestSuspect(t *testing.T) {
	table := reference.Couples()
	s, ok := table.Suspect("nis-s.ni-s.basic.alt")
	if !ok || s.Kind != "sign" || s.Nearer != "formation" || s.Calculated != "-0.857" || s.Suggested != "-0.857" || s.Judgement == "" {
		t.Errorf("Suspect(NiS/Ni) = %+v, %v", s, ok)
	}
	if s, ok := table.Suspect("zn_2p.zn.acidic"); ok {
		t.Errorf("Suspect(Zn^2+/Zn) = %+v", s)
	}
	for _, c := range table.All() {
		s, ok := table.Suspect(c.ID)
		if !ok {
			// A row that is not preferred is so for a reason.
			if !c.Preferred && c.Note == "" {
				t.Errorf("%s is not preferred, and nothing says why", c.ID)
			}
			continue
		}
		if s.ID != c.ID || s.Judgement == "" || !strings.HasSuffix(s.Judgement, ".") || s.Judgement[:1] != strings.ToUpper(s.Judgement[:1]) {
			t.Errorf("Suspect(%s) = %+v", c.ID, s)
		}
		if s.Nearer != "" && !slices.Contains([]string{"tabulated", "formation", "both", "undecided"}, s.Nearer) {
			t.Errorf("Suspect(%s): nearer is %q", c.ID, s.Nearer)
		}
		if strings.Contains(s.Judgement, "As above") || strings.HasPrefix(s.Judgement, "Same") {
			t.Errorf("Suspect(%s) cannot be read alone: %s", c.ID, s.Judgement)
		}
	}
}
