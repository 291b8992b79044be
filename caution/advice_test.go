package caution

import (
	"slices"
	"strings"
	"testing"

	"halves/checks"
	"halves/chem"
	"halves/reference"
)

// read reads an equation; a row of substances gets a product that says nothing.
func read(t testing.TB, text string) chem.Equation {
	t.Helper()
	paper := strings.Contains(text, "->")
	if !paper {
		text += " -> NaCl"
	}
	r, err := chem.ReadEquation(text, reference.Species())
	if err != nil {
		t.Fatalf("%s: %v", text, err)
	}
	e := r.All[0].Equation
	if !paper {
		e.Right = nil
	}
	return e
}

// certain and open are the ids of the reasons.
func ids(a Advice) (certain, open []string) {
	for _, r := range a.Reasons {
		if r.If == "" {
			certain = append(certain, r.Mixture)
		} else {
			open = append(open, r.Mixture)
		}
	}
	slices.Sort(certain)
	slices.Sort(open)
	return certain, open
}

// TestFor holds the verdicts on equations that are commonly taught: common
// practice, from memory.
func TestFor(t *testing.T) {
	tests := []struct {
		equation      string
		paper         bool
		certain, open string
		gases         string
	}{
		{"MnO4^- + H2C2O4 + H^+ -> Mn^2+ + CO2 + H2O", false, "", "X001", ""},
		{"KMnO4 + H2C2O4 + H2SO4 -> MnSO4 + K2SO4 + CO2 + H2O", false, "", "X001 X075", ""},
		{"MnO4^- + Fe^2+ -> Mn^2+ + Fe^3+", false, "", "", ""},
		{"Zn + Cu^2+ -> Zn^2+ + Cu", false, "", "", ""},
		{"Zn + CuSO4 -> ZnSO4 + Cu", false, "", "", ""},
		{"Cu + AgNO3 -> Cu(NO3)2 + Ag", false, "", "", ""},
		{"Cu + NO3^- + H^+ -> Cu^2+ + NO + H2O", false, "", "", "NO"},
		{"Cu + HNO3 -> Cu(NO3)2 + NO2 + H2O", false, "X043", "", "NO2"},
		{"Zn + HNO3 -> Zn(NO3)2 + NH4NO3 + H2O", false, "X043", "", ""},
		{"KClO3 + S -> KCl + SO2", true, "X005 X098", "", "SO2"},
		{"KClO3 + S8 -> KCl + SO2", true, "X005 X098", "", "SO2"},
		{"RbClO3 + S8 -> RbCl + SO2", true, "X005 X098", "", "SO2"}, // a salt that the table does not know
		{"KClO3 + P -> P4O10 + KCl", true, "X006 X098", "", ""},
		{"KClO3 + C12H22O11 -> KCl + CO2 + H2O", true, "X009 X098", "", ""},
		{"ClO3^- + Sn^2+ + H^+ -> Cl^- + Sn^4+ + H2O", false, "", "X008", ""},
		{"NaClO + HCl -> NaCl + Cl2 + H2O", true, "X014", "", "Cl2"},
		{"NaClO + NH3 -> NH2Cl + NaOH", true, "X015", "", "NH3"},
		{"ClO^- + Cr(OH)4^- -> Cl^- + CrO4^2-", false, "", "", ""},
		{"KMnO4 + H2SO4 -> MnSO4 + K2SO4 + O2 + H2O", true, "X001", "", ""},
		{"KMnO4 + H2SO4(l) + FeSO4 -> MnSO4 + Fe2(SO4)3 + K2SO4 + H2O", true, "X001", "", ""},
		{"KMnO4 + H2SO4 -> Mn2O7 + K2SO4 + H2O", true, "X001 X107", "", ""},
		{"KMnO4 + C3H8O3 -> K2CO3 + Mn2O3 + CO2 + H2O", true, "X002 X098", "", ""},
		{"KMnO4 + HCl -> MnCl2 + KCl + Cl2 + H2O", false, "X003", "", "Cl2"},
		{"Na + H2O -> NaOH + H2", true, "X060", "", ""},
		{"Ca + H2O -> Ca(OH)2 + H2", false, "", "", ""},
		{"Al + Fe2O3 -> Al2O3 + Fe", true, "X064", "", ""},
		{"Al(s) + OH^-(aq) + H2O(l) -> Al(OH)4^-(aq) + H2(g)", false, "", "", ""},
		{"NH4NO3 -> N2O + H2O", true, "X047", "", ""},
		{"NH4NO3(aq) + NaOH(aq) -> NH3(g) + NaNO3(aq) + H2O(l)", false, "", "", "NH3"},
		{"(NH4)2Cr2O7 -> N2 + Cr2O3 + H2O", true, "X050", "", ""},
		{"NaN3 -> Na + N2", true, "X103", "", ""},
		{"NaN3 + HCl -> HN3 + NaCl", true, "X030 X103 X107", "", ""},
		{"CN^- + H^+ -> HCN", true, "X025 X104", "", "HCN"},
		{"H2O2 + I^- + H^+ -> I2 + H2O", false, "", "X111", ""},
		{"H2O2 + KI -> I2 + KOH", true, "X111", "", ""},
		{"H2O2 + Cr(OH)4^- -> CrO4^2- + H2O", false, "", "", ""},
		{"Cl2 + OH^- -> Cl^- + ClO3^- + H2O", false, "", "", "Cl2"},
		{"Mg + CO2 -> MgO + C", true, "X063", "", ""},
		{"As2S3 + NO3^- -> AsO4^3- + SO4^2- + NO", false, "", "", "NO"},
		{"Zn + As2O3 + H^+ -> Zn^2+ + AsH3 + H2O", true, "X067 X105", "", "AsH3"},
		{"Pb + PbO2 + H2SO4 -> PbSO4 + H2O", false, "", "", ""},
		{"Zn(s) + MnO2(s) + H2O(l) -> ZnO(s) + MnO(OH)(s)", false, "", "", ""},
		{"H2O -> H2 + O2", false, "", "X095", ""},
		{"NaCl + H2O -> NaOH + H2 + Cl2", false, "", "X113", "Cl2"},
		{"Cl2 + H2O -> HClO + H^+ + Cl^-", false, "", "", "Cl2"},
		{"P4 + OH^- + H2O -> PH3 + H2PO2^-", true, "X069 X105", "", "PH3"},
		{"Na2S2O3 + I2 -> Na2S4O6 + NaI", false, "", "", ""},
		{"CuS + HNO3 -> Cu(NO3)2 + S + NO + H2O", false, "", "", "NO"},
		{"Fe2O3 + CO -> Fe + CO2", false, "", "", "CO"},
		{"K2Cr2O7 + C2H5OH + H2SO4 -> Cr2(SO4)3 + CH3COOH + K2SO4 + H2O", false, "", "X052 X053", ""},
		{"Cr2O7^2- + Fe^2+ + H^+ -> Cr^3+ + Fe^3+ + H2O", false, "", "", ""},
	}
	for _, tt := range tests {
		a := For(read(t, tt.equation))
		certain, open := ids(a)
		var gases []string
		for _, g := range a.Gases {
			gases = append(gases, g.Species.String())
		}
		if a.PaperOnly != tt.paper || strings.Join(certain, " ") != tt.certain || strings.Join(open, " ") != tt.open || strings.Join(gases, " ") != tt.gases {
			t.Errorf("For(%s)\n got paper %v, certain %v, open %v, gases %v\nwant paper %v, certain %s, open %s, gases %s", tt.equation, a.PaperOnly, certain, open, gases, tt.paper, tt.certain, tt.open, tt.gases)
		}
	}
}

// TestSentences holds the sentences of one advice.
func TestSentences(t *testing.T) {
	a := For(read(t, "KClO3 + S8 -> KCl + SO2"))
	r := a.Reasons[0]
	if r.How != "KClO3 is a chlorate; S8 is sulfur." || r.Where != "reactants together" || r.If != "" || r.Severity != "explosion" {
		t.Errorf("reason = %+v", r)
	}
	if got := a.Gases[0].Sentence; got != "SO2 (sulfur dioxide) is a toxic gas and is a product." {
		t.Errorf("gas = %q", got)
	}
	a = For(read(t, "KMnO4 + H2O2 + H2SO4 -> MnSO4 + K2SO4 + O2 + H2O"))
	for _, r := range a.Reasons {
		if r.Mixture == "X056" && r.If != "if H2O2 is concentrated and H2SO4 is concentrated" {
			t.Errorf("X056 If = %q", r.If)
		}
	}
	if got := hazardsOf(t, "MnO4^- + Fe^2+ -> Mn^2+ + Fe^3+", "MnO4^-"); got.How != "Found as potassium permanganate, a usual reagent that gives it; no phase or strength is given, so all forms are shown." {
		t.Errorf("How = %q", got.How)
	}
}

func hazardsOf(t *testing.T, equation, species string) Entry {
	t.Helper()
	for _, e := range For(read(t, equation)).Hazards {
		if e.Species.String() == species {
			return e
		}
	}
	t.Fatalf("%s: no entry for %s", equation, species)
	return Entry{}
}

func TestHazards(t *testing.T) {
	tests := []struct {
		equation, species string
		first             string // name and form of the first row
		rows              int
		how               string // part of it
	}{
		{"Cu + NO3^- + H^+ -> Cu^2+ + NO + H2O", "H^+", "nitric acid concentrated, 65 % or more", 5, "as nitric acid"},
		{"MnO4^- + Cl^- + H^+ -> Mn^2+ + Cl2 + H2O", "H^+", "hydrochloric acid concentrated, 25 % or more", 3, "as hydrochloric acid"},
		{"MnO4^- + Fe^2+ + H^+ -> Mn^2+ + Fe^3+ + H2O", "H^+", "sulfuric acid concentrated, 15 % or more", 3, "as sulfuric acid"},
		{"H2O2(aq) -> H2O + O2", "H2O2", "hydrogen peroxide 50 to 70 %", 5, "the strongest first"},
		{"KMnO4(s) -> K2MnO4 + MnO2 + O2", "KMnO4", "potassium permanganate solid", 1, "by the phase (s)"},
		{"KMnO4(aq) + SO2 -> K2SO4 + MnO2", "KMnO4", "potassium permanganate dilute, below about 0.05 mol/L", 2, "other forms follow"},
		{"CuSO4 + Zn -> ZnSO4 + Cu", "CuSO4", "copper(II) sulfate", 2, "apart from water"},
		{"NH3(g) + O2 -> NO + H2O", "NH3", "ammonia gas", 1, "by the phase (g)"},
	}
	for _, tt := range tests {
		e := hazardsOf(t, tt.equation, tt.species)
		if got := e.Rows[0].Name + " " + e.Rows[0].Form; !strings.HasPrefix(got, tt.first) || len(e.Rows) != tt.rows || !strings.Contains(e.How, tt.how) {
			t.Errorf("%s in %s: first %q of %d, %q; want %q of %d, %q", tt.species, tt.equation, got, len(e.Rows), e.How, tt.first, tt.rows, tt.how)
		}
	}
}

// help are words that help someone to do it.
var help = []string{"glove", "eye prot", "goggle", "shield", "fume hood", "cupboard", "extraction", "small amount", "gram", "drop", "outdoors", "ventil", "trained", "collect as", "in quantity", "ignite it", "use a"}

// TestPaperOnly: the advice for paper holds no practical help, and each severe
// mixture has none anywhere.
func TestPaperOnly(t *testing.T) {
	check := func(where string, a Advice) {
		texts := []string{}
		for _, r := range a.Reasons {
			if r.Severity.Paper() && r.Advice != "" {
				t.Errorf("%s: %s has advice %q", where, r.Mixture, r.Advice)
			}
			texts = append(texts, r.Parts[0], r.Parts[1], r.How, r.If, r.What, r.Advice)
		}
		for _, g := range a.Gases {
			texts = append(texts, g.Sentence, g.Advice)
		}
		for _, h := range a.Hazards {
			texts = append(texts, h.How)
			for _, r := range h.Rows {
				texts = append(texts, r.Control, r.Waste, r.Form)
			}
		}
		if !a.PaperOnly {
			return
		}
		for _, text := range texts {
			for _, word := range help {
				if strings.Contains(strings.ToLower(text), word) {
					t.Errorf("%s: for paper only, but says %q in %q", where, word, text)
				}
			}
		}
	}
	n := 0
	for id, example := range examples {
		a := For(read(t, example))
		if a.PaperOnly {
			n++
		}
		check(id+" "+example, a)
	}
	if n < 70 {
		t.Errorf("%d examples are for paper only, want most", n)
	}
	for _, q := range checks.Equations() {
		check(q.ID, For(read(t, q.Answer)))
	}
}

// TestNothingLost: every species of the checks has an entry or is missing, and
// the fixed lines are always said.
func TestNothingLost(t *testing.T) {
	for _, q := range checks.Equations() {
		e := read(t, q.Answer)
		a := For(e)
		if a.Basis != Basis || a.Deferral != Deferral {
			t.Errorf("%s: fixed lines %q, %q", q.ID, a.Basis, a.Deferral)
		}
		for _, s := range e.Species() {
			if s.IsElectron() {
				continue
			}
			n := 0
			for _, h := range a.Hazards {
				if h.Species.Same(s) && len(h.Rows) > 0 && h.How != "" {
					n++
				}
			}
			for _, m := range a.Missing {
				if m.Same(s) {
					n++
				}
			}
			if n == 0 {
				t.Errorf("%s: %s has no entry and is not missing", q.ID, s)
			}
		}
	}
	if NoData != "No hazard data here. That does not mean that it is safe." {
		t.Errorf("NoData = %q", NoData)
	}
}

func BenchmarkFor(b *testing.B) {
	for _, text := range []string{"KMnO4 + H2C2O4 + H2SO4 -> MnSO4 + K2SO4 + CO2 + H2O", "MnO4^- + H2C2O4 + H^+ -> Mn^2+ + CO2 + H2O", "KClO3 + S8 -> KCl + SO2"} {
		b.Run(strings.ReplaceAll(text[:5], " ", "_"), func(b *testing.B) {
			e := read(b, text)
			For(e)
			b.ReportAllocs()
			for b.Loop() {
				For(e)
			}
		})
	}
}

func FuzzFor(f *testing.F) {
	for _, q := range []string{"KClO3 + S -> KCl", "NaN3(s) -> Na + N2", "Fe(CN)6^4- + H^+ -> HCN", "e^- + H2 -> H^-", "(NH4)2Cr2O7 -> N2", "CuSO4.5H2O(s) -> [Cu(NH3)4]^2+"} {
		f.Add(q)
	}
	f.Fuzz(func(t *testing.T, text string) {
		r, err := chem.ReadEquation(text, reference.Species())
		if err != nil {
			return
		}
		e := r.All[0].Equation
		a := For(e)
		if a.Deferral != Deferral || a.Basis != Basis {
			t.Fatal("a fixed line is missing")
		}
		severe := false
		for _, r := range a.Reasons {
			severe = severe || r.If == "" && r.Severity.Paper()
			if len(r.Species) == 0 || r.How == "" || r.Where == "" {
				t.Fatalf("reason without its species or how: %+v", r)
			}
		}
		if severe != a.PaperOnly {
			t.Fatalf("PaperOnly = %v, a certain severe reason: %v", a.PaperOnly, severe)
		}
		if a.PaperOnly {
			for _, h := range a.Hazards {
				for _, r := range h.Rows {
					if r.Control != "" || r.Waste != "" {
						t.Fatal("help in an equation for paper only")
					}
				}
			}
		}
		for _, s := range e.Species() {
			if s.IsElectron() {
				continue
			}
			if !contains(a.Missing, s) && !slices.ContainsFunc(a.Hazards, func(h Entry) bool { return h.Species.Same(s) }) {
				t.Fatalf("%s is lost", s)
			}
		}
	})
}
