package oxidation_test

import (
	"errors"
	"fmt"
	"slices"
	"strings"
	"testing"

	"halves/checks"
	"halves/chem"
	"halves/oxidation"
	"halves/reference"
)

func species(t testing.TB, formula string) *chem.Species {
	t.Helper()
	r, err := chem.ReadSpecies(formula, reference.Species())
	if err != nil {
		t.Fatalf("%s: %v", formula, err)
	}
	return r[0].Species
}

func ExampleStates() {
	r, _ := chem.ReadSpecies("S4O6^2-", nil)
	states, _ := oxidation.States(r[0].Species)
	for _, s := range states {
		fmt.Println(s.Element, s.Values(), s.Average)
	}
	// Output:
	// O [-2] false
	// S [+5/2] true
}

// Every row of the check cases; the source stands in each row.
func TestCheckStates(t *testing.T) {
	for _, row := range checks.OxidationStates() {
		states, err := oxidation.States(species(t, row.Formula))
		if err != nil {
			t.Errorf("%s: States(%s) = %v", row.ID, row.Formula, err)
			continue
		}
		for _, s := range states {
			var want []string
			for _, v := range row.States[s.Element.Symbol()] {
				want = append(want, strings.TrimPrefix(string(v), "+"))
			}
			var got []string
			for _, v := range s.Values() {
				got = append(got, strings.TrimPrefix(v, "+"))
			}
			slices.Sort(want)
			slices.Sort(got)
			if !slices.Equal(got, want) {
				t.Errorf("%s: States(%s) %s = %v, want %v (%s; %s)", row.ID, row.Formula, s.Element, got, want, s.Reason, row.Source)
			}
		}
		if len(states) != len(row.States) {
			t.Errorf("%s: States(%s) names %d elements, want %d", row.ID, row.Formula, len(states), len(row.States))
		}
	}
}

// Each rule, on species whose own row does not decide: unlisted formulas, so
// that the rules must. Values follow by charge from the rules (IUPAC 2016 and
// common practice).
func TestRules(t *testing.T) {
	for _, c := range []struct{ formula, element, want, reason string }{
		{"Rb2Cr2O7", "Cr", "+6", "in Cr2O7^2-"},
		{"Cs2S2O8", "O", "-2 -2 -2 -2 -2 -2 -1 -1", "peroxide"},
		{"[Cr(N2H4CO)6]4[Cr(CN)6]3", "Cr", "+2 +2 +2 +3 +3 +3 +3", "what is left for it beside CO(NH2)2"},
		{"[Co(NH3)5Cl]^2+", "Co", "+3", "what is left for it beside NH3"},
		{"[Fe(H2O)6]^3+", "Fe", "+3", "what is left for it beside H2O"},
		{"K2[Ni(CN)4]", "Ni", "+2", ""},
		{"RbO2", "O", "-1/2", ""},
		{"Cs2O2", "O", "-1", ""},
		{"HPO4^2-", "P", "+5", "by charge"},
		{"C7H16", "C", "-16/7", "an average"},
		{"C5H10O5", "C", "0", "by charge"},
		{"IBr4^-", "I", "+3", "by charge"},
		{"SeOCl2", "Se", "+4", "by charge"},
		{"Ga4C3", "C", "-4", ""},
		{"Mg2Ge", "Ge", "-4", "by charge"},
		{"SrAlH5", "H", "-1", "by charge"},
		{"CsBF4", "B", "+3", ""},
		{"MnO4^3-", "Mn", "+5", "by charge"},
		{"H6P4O13", "P", "+5", "by charge"},
		{"Hg2(ClO4)2", "Hg", "+1", ""},
		{"Fe4[Fe(CN)6]3", "Fe", "+2 +2 +2 +3 +3 +3 +3", ""},
		{"NH4NO3", "N", "-3 +5", "in NH4^+"},
		{"Na2S4O6.2H2O", "S", "+5/2", "by charge"},
	} {
		states, err := oxidation.States(species(t, c.formula))
		if err != nil {
			t.Errorf("States(%s) = %v", c.formula, err)
			continue
		}
		i := slices.IndexFunc(states, func(s oxidation.State) bool { return s.Element.Symbol() == c.element })
		if i < 0 {
			t.Errorf("States(%s) names no %s", c.formula, c.element)
			continue
		}
		if got := strings.Join(states[i].Values(), " "); got != c.want || !strings.Contains(states[i].Reason, c.reason) {
			t.Errorf("States(%s) %s = %s (%s), want %s (...%s...)", c.formula, c.element, got, states[i].Reason, c.want, c.reason)
		}
	}
}

// What the rules cannot settle is said, with what they do settle.
func TestOpen(t *testing.T) {
	states, err := oxidation.States(species(t, "CuVMoS4"))
	var open *oxidation.OpenError
	if !errors.As(err, &open) || len(open.Elements) < 2 {
		t.Fatalf("States(CuVMoS4) = %v, %v; want several open elements", states, err)
	}
	if !strings.Contains(err.Error(), "vanadium") {
		t.Errorf("the error %q does not name vanadium", err)
	}
}

// States times atoms sum to the charge, each state has a reason, and no state
// passes the highest of its element, for every species of the table.
func TestSumsOverTheTable(t *testing.T) {
	for _, e := range reference.Species().All() {
		s := e.Species
		states, err := oxidation.States(s)
		if err != nil {
			t.Errorf("States(%s) = %v", s, err)
			continue
		}
		total := chem.Whole(0)
		for _, st := range states {
			total = total.Add(st.Total())
			var atoms int64
			for _, x := range st.Sites {
				atoms += x.Atoms
			}
			if atoms != s.Atoms(st.Element) || st.Reason == "" {
				t.Errorf("States(%s) %s: %d atoms of %d, reason %q", s, st.Element, atoms, s.Atoms(st.Element), st.Reason)
			}
		}
		if !total.Equal(chem.Whole(s.Charge())) {
			t.Errorf("States(%s) sum to %s, the charge is %d", s, total, s.Charge())
		}
	}
}

// Where school rules and the definition part, it is said (the source is in the
// comment of Remarks); elsewhere nothing is.
func TestRemarks(t *testing.T) {
	for formula, want := range map[string]string{
		"PH3": "phosphorus", "AsH3": "arsenic", "S2O3^2-": "mean", "NCl3": "chlorine", "NH2Cl": "chlorine",
		"NH3": "", "H2O": "", "NH4Cl": "", "SO4^2-": "", "SiH4": "",
	} {
		got := strings.Join(oxidation.Remarks(species(t, formula)), " ")
		if (want == "") != (got == "") || !strings.Contains(got, want) {
			t.Errorf("Remarks(%s) = %q, want what names %q", formula, got, want)
		}
	}
}

func FuzzStates(f *testing.F) {
	for _, row := range checks.OxidationStates() {
		f.Add(row.Formula)
	}
	f.Fuzz(func(t *testing.T, formula string) {
		r, err := chem.ReadSpecies(formula, nil)
		if err != nil {
			return
		}
		s := r[0].Species
		states, err := oxidation.States(s)
		if err != nil || s.IsElectron() { // which has no atoms to have states
			return
		}
		total := chem.Whole(0)
		for _, st := range states {
			total = total.Add(st.Total())
		}
		if !total.Equal(chem.Whole(s.Charge())) {
			t.Errorf("States(%s) sum to %s, the charge is %d", s, total, s.Charge())
		}
	})
}

func BenchmarkStates(b *testing.B) {
	for _, formula := range []string{"MnO4^-", "K2Cr2O7", "Rb2Cr2O7"} {
		b.Run(formula, func(b *testing.B) {
			s := species(b, formula)
			b.ReportAllocs()
			for b.Loop() {
				if _, err := oxidation.States(s); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
