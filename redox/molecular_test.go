package redox_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"halves/balance"
	"halves/checks"
	"halves/chem"
	"halves/redox"
)

// lines writes the steps of some rules as text.
func lines(s *redox.Solution, rules ...redox.Rule) string {
	var out []string
	for _, st := range s.Steps {
		if slices.Contains(rules, st.Rule) {
			out = append(out, fmt.Sprintf("%s: %s", st.Rule, st.After))
		}
	}
	return strings.Join(out, "\n")
}

// The lines from molecular to net ionic and back. The equations are those of
// every course (common practice, no source); the numbers follow by algebra.
func TestMolecularLines(t *testing.T) {
	for _, c := range []struct{ question, want string }{
		{"KMnO4 + FeSO4 + H2SO4 -> MnSO4 + Fe2(SO4)3 + K2SO4 + H2O", `
write strong electrolytes as ions: K^+ + MnO4^- + Fe^2+ + SO4^2- + H^+ -> Mn^2+ + SO4^2- + Fe^3+ + K^+ + H2O
leave out the spectators: MnO4^- + Fe^2+ + H^+ -> Mn^2+ + Fe^3+ + H2O
divide by the common factor: MnO4^- + 5 Fe^2+ + 8 H^+ -> Mn^2+ + 5 Fe^3+ + 4 H2O
multiply the net equation: 2 MnO4^- + 10 Fe^2+ + 16 H^+ -> 2 Mn^2+ + 10 Fe^3+ + 8 H2O
restore the spectators: 2 K^+ + 2 MnO4^- + 10 Fe^2+ + 18 SO4^2- + 16 H^+ -> 2 Mn^2+ + 18 SO4^2- + 10 Fe^3+ + 2 K^+ + 8 H2O
join the ions into formulas: 2 KMnO4 + 10 FeSO4 + 8 H2SO4 -> 2 MnSO4 + 5 Fe2(SO4)3 + K2SO4 + 8 H2O`},
		// An acid that is oxidizing agent and source of the anion at once.
		{"Cu + HNO3 -> Cu(NO3)2 + NO + H2O", `
write strong electrolytes as ions: Cu + NO3^- + H^+ -> Cu^2+ + NO3^- + NO + H2O
leave out the spectators: Cu + NO3^- + H^+ -> Cu^2+ + NO + H2O
divide by the common factor: 3 Cu + 2 NO3^- + 8 H^+ -> 3 Cu^2+ + 2 NO + 4 H2O
restore the spectators: 3 Cu + 8 NO3^- + 8 H^+ -> 3 Cu^2+ + 6 NO3^- + 2 NO + 4 H2O
join the ions into formulas: 3 Cu + 8 HNO3 -> 3 Cu(NO3)2 + 2 NO + 4 H2O`},
		// Concentrated sulfuric acid as the oxidizing agent.
		{"Cu + H2SO4 -> CuSO4 + SO2 + H2O", `
write strong electrolytes as ions: Cu + SO4^2- + H^+ -> Cu^2+ + SO4^2- + SO2 + H2O
leave out the spectators: Cu + SO4^2- + H^+ -> Cu^2+ + SO2 + H2O
divide by the common factor: Cu + SO4^2- + 4 H^+ -> Cu^2+ + SO2 + 2 H2O
restore the spectators: Cu + 2 SO4^2- + 4 H^+ -> Cu^2+ + SO4^2- + SO2 + 2 H2O
join the ions into formulas: Cu + 2 H2SO4 -> CuSO4 + SO2 + 2 H2O`},
		// The acid and the water are not in the skeleton.
		{"KMnO4 + Na2C2O4 -> MnSO4 + K2SO4 + Na2SO4 + CO2, in acid", `
write strong electrolytes as ions: K^+ + MnO4^- + Na^+ + C2O4^2- + SO4^2- + H^+ -> Mn^2+ + SO4^2- + K^+ + Na^+ + CO2 + H2O
leave out the spectators: MnO4^- + C2O4^2- + H^+ -> Mn^2+ + CO2 + H2O
divide by the common factor: 2 MnO4^- + 5 C2O4^2- + 16 H^+ -> 2 Mn^2+ + 10 CO2 + 8 H2O
restore the spectators: 2 K^+ + 2 MnO4^- + 10 Na^+ + 5 C2O4^2- + 8 SO4^2- + 16 H^+ -> 2 Mn^2+ + 8 SO4^2- + 2 K^+ + 10 Na^+ + 10 CO2 + 8 H2O
join the ions into formulas: 2 KMnO4 + 5 Na2C2O4 + 8 H2SO4 -> 2 MnSO4 + K2SO4 + 5 Na2SO4 + 10 CO2 + 8 H2O`},
		// Two products of one change; their ratio is that of the whole.
		{"NaIO3 + NaHSO3 -> NaHSO4 + Na2SO4 + I2 + H2O", `
write strong electrolytes as ions: Na^+ + IO3^- + HSO3^- -> Na^+ + HSO4^- + SO4^2- + I2 + H2O
leave out the spectators: IO3^- + HSO3^- -> HSO4^- + SO4^2- + I2 + H2O
divide by the common factor: 2 IO3^- + 5 HSO3^- -> 3 HSO4^- + 2 SO4^2- + I2 + H2O
restore the spectators: 7 Na^+ + 2 IO3^- + 5 HSO3^- -> 7 Na^+ + 3 HSO4^- + 2 SO4^2- + I2 + H2O
join the ions into formulas: 2 NaIO3 + 5 NaHSO3 -> 3 NaHSO4 + 2 Na2SO4 + I2 + H2O`},
		// A hydrate brings its water into the solution.
		{"FeSO4.7H2O + KMnO4 + H2SO4 -> Fe2(SO4)3 + MnSO4 + K2SO4 + H2O", `
write strong electrolytes as ions: Fe^2+ + SO4^2- + K^+ + MnO4^- + H^+ -> Fe^3+ + SO4^2- + Mn^2+ + K^+ + H2O
leave out the spectators: Fe^2+ + MnO4^- + H^+ -> Fe^3+ + Mn^2+ + H2O
divide by the common factor: 5 Fe^2+ + MnO4^- + 8 H^+ -> 5 Fe^3+ + Mn^2+ + 4 H2O
multiply the net equation: 10 Fe^2+ + 2 MnO4^- + 16 H^+ -> 10 Fe^3+ + 2 Mn^2+ + 8 H2O
restore the spectators: 10 Fe^2+ + 18 SO4^2- + 2 K^+ + 2 MnO4^- + 70 H2O + 16 H^+ -> 10 Fe^3+ + 18 SO4^2- + 2 Mn^2+ + 2 K^+ + 78 H2O
join the ions into formulas: 10 FeSO4.7H2O + 2 KMnO4 + 8 H2SO4 -> 5 Fe2(SO4)3 + 2 MnSO4 + K2SO4 + 78 H2O`},
	} {
		s, err := redox.Work(c.question, redox.Unstated, redox.Conventions{})
		if err != nil {
			t.Errorf("Work(%s) = %v", c.question, err)
			continue
		}
		got := lines(s, redox.WriteIons, redox.LeaveOut, redox.MultiplyNet, redox.RestoreSpectators, redox.JoinIons, redox.LowestNumbers)
		if got != strings.TrimSpace(c.want) {
			t.Errorf("Work(%s):\n%s\nwant:%s", c.question, got, c.want)
		}
	}
}

// Whatever is written as ions is joined again: the spectators come back alike
// on both sides, as whole numbers of the net equation, and each line closes.
func TestSpectatorsComeBack(t *testing.T) {
	seen := 0
	for _, row := range checks.Equations() {
		if row.Medium != string(redox.None) {
			continue
		}
		s, err := redox.Work(row.Skeleton, redox.None, redox.Conventions{})
		if err != nil {
			t.Errorf("%s: %v", row.ID, err)
			continue
		}
		var net, full chem.Equation
		for _, st := range s.Steps {
			switch st.Rule {
			case redox.LowestNumbers, redox.RestoreOthers, redox.MultiplyNet:
				net = st.After
			case redox.RestoreSpectators:
				full = st.After
			case redox.JoinIons:
				if st.After.String() != s.Equation.String() {
					t.Errorf("%s: the ions are joined to %s, the answer is %s", row.ID, st.After, s.Equation)
				}
			}
		}
		if full.Left == nil {
			continue
		}
		seen++
		if l, err := balance.NewLedger(full); err != nil || !l.Closed() {
			t.Errorf("%s: %s does not close", row.ID, full)
		}
		added := map[string]int64{}
		for side, x := range full.Terms {
			added[x.Species.Key()] += side * x.Coefficient.Num()
		}
		for side, x := range net.Terms {
			added[x.Species.Key()] -= side * x.Coefficient.Num()
		}
		for key, n := range added {
			if n != 0 {
				t.Errorf("%s: from %s to %s %s differs by %d", row.ID, net, full, key, n)
			}
		}
	}
	if seen < 20 {
		t.Errorf("%d molecular equations were written as ions, want most of the rows", seen)
	}
}
