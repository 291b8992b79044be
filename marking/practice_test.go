package marking

import (
	"halves/redox"
	"testing"
)

// TestPractice: workings as they are typed in practice, each read by hand: the
// first line that slips, 0 for none, and the marks.
func TestPractice(t *testing.T) {
	const iron = "MnO4^- + Fe^2+ -> Mn^2+ + Fe^3+"
	tests := []struct {
		name, skeleton, medium, text string
		first, marks                 int
	}{
		{"peroxide, the answer alone", "H2O2 -> H2O + O2", "acidic", "2H2O2 -> 2H2O + O2", 0, 6},
		{"peroxide, no labels", "H2O2 -> H2O + O2", "acidic", "H2O2 + 2H+ + 2e- -> 2H2O\nH2O2 -> O2 + 2H+ + 2e-\n2H2O2 -> 2H2O + O2", 0, 6},
		{"oxalate for oxalic acid", "MnO4^- + H2C2O4 -> Mn^2+ + CO2", "acidic", "C2O4^2- -> CO2\nC2O4^2- -> 2CO2\nC2O4^2- -> 2CO2 + 2e-\nMnO4- + 8H+ + 5e- -> Mn2+ + 4H2O\n2MnO4- + 5C2O4^2- + 16H+ -> 2Mn2+ + 10CO2 + 8H2O", 0, 6},
		{"hydrogensulfate for sulfate", "MnO4^- + SO2 -> Mn^2+ + SO4^2-", "acidic", "SO2 + 2H2O -> HSO4^- + 3H+ + 2e-\nMnO4- + 8H+ + 5e- -> Mn2+ + 4H2O\n2MnO4- + 5SO2 + 2H2O + H+ -> 2Mn2+ + 5HSO4^-", 0, 6},
		{"a salt of the same ions", iron, "acidic", "2KMnO4 + 10FeSO4 + 8H2SO4 -> 2MnSO4 + 5Fe2(SO4)3 + K2SO4 + 8H2O", 0, 6},
		{"the oxidizing agent", iron, "acidic", "oxidizing agent: MnO4- + 8H+ + 5e- -> Mn2+ + 4H2O\nreducing agent: Fe2+ -> Fe3+ + e-\nMnO4- + 8H+ + 5Fe2+ -> Mn2+ + 4H2O + 5Fe3+", 0, 6},
		{"atoms counted", iron, "acidic", "MnO4- + 8H+ + 5Fe2+ -> Mn2+ + 4H2O + 5Fe3+\nMn: 1 -> 1\nFe: 5 -> 5", 0, 6},
		{"hydronium without its water", iron, "acidic", "MnO4- + 8H3O+ + 5Fe2+ -> Mn2+ + 4H2O + 5Fe3+", 1, 0},
		{"hydronium with its water", iron, "acidic", "MnO4- + 8H3O+ + 5Fe2+ -> Mn2+ + 12H2O + 5Fe3+", 0, 6},
		{"words and marks behind", iron, "acidic", "Fe2+ -> Fe3+ + e- (loss of electrons)\nMnO4- + 8H+ + 5e- -> Mn2+ + 4H2O  <- reduction\n5Fe2+ -> 5Fe3+ + 5e-   | x 5\nMnO4- + 8H+ + 5Fe2+ -> Mn2+ + 4H2O + 5Fe3+ ✓", 0, 6},
		{"words for the arrow and the answer", iron, "acidic", "FINAL ANSWER = MnO4- + 8H+ + 5Fe2+ gives Mn2+ + 4H2O + 5Fe3+", 0, 6},
		{"by states, the last step wrong", iron, "acidic", "Mn: +7 -> +2, gains 5\nFe: +2 -> +3, loses 1\nMnO4- + 5Fe2+ -> Mn2+ + 5Fe3+\nMnO4- + 5Fe2+ + 4H+ -> Mn2+ + 5Fe3+ + 4H2O", 4, 4},
		{"a charge lost, the answer right", iron, "acidic", "MnO4 + 8H+ + 5e- -> Mn2+ + 4H2O\nFe2+ -> Fe3+ + e-\nMnO4- + 8H+ + 5Fe2+ -> Mn2+ + 4H2O + 5Fe3+", 1, 5},
		{"part of a substance", "MnO2 + HCl -> MnCl2 + Cl2 + H2O", "acidic", "MnO2 + 4HCl + 2e- -> Mn2+ + 2H2O + 4Cl-\n2Cl- -> Cl2 + 2e-\nMnO2 + 4HCl -> MnCl2 + Cl2 + 2H2O", 0, 6},
		{"water left out of a half and of the sum", iron, "acidic", "MnO4- + 8H+ + 5e- -> Mn2+\nFe2+ -> Fe3+ + e-\nMnO4- + 8H+ + 5Fe2+ -> Mn2+ + 5Fe3+", 3, 3},
		{"water cancelled on one side alone", "MnO4^- + SO3^2- -> MnO2 + SO4^2-", "basic", "MnO4- + 2H2O + 3e- -> MnO2 + 2H2O + 4OH-", 1, 0},
		{"multiplied in two steps", "Cr2O7^2- + Fe^2+ -> Cr^3+ + Fe^3+", "acidic", "Cr2O7^2- + 14H+ + 6e- -> 2Cr3+ + 7H2O\nFe2+ -> Fe3+ + e-\n2Fe2+ -> 2Fe3+ + 2e-\n6Fe2+ -> 6Fe3+ + 6e-\nCr2O7^2- + 14H+ + 6Fe2+ -> 2Cr3+ + 7H2O + 6Fe3+", 0, 6},
		{"potentials behind", "Al + Cu^2+ -> Al^3+ + Cu", "acidic", "Al -> Al3+ + 3e-   E = +1.66 V\nCu2+ + 2e- -> Cu   E° = +0.34 V\nnet ionic eqn ⇒ 2Al + 3Cu2+ -> 2Al3+ + 3Cu", 0, 6},
		{"water as a base would have it", "H2O -> H2 + O2", "acidic", "4H2O + 4e- -> 2H2 + 4OH-\n2H2O -> O2 + 4H+ + 4e-\n2H2O -> 2H2 + O2", 0, 6},
		{"atoms counted with arrows, labels of states", iron, "acidic", "Oxidation number of Mn falls: MnO4- -> Mn2+\nO: 4 -> 0, so add 4 H2O\nMnO4- -> Mn2+ + 4H2O\nFe2+ -> Fe3+ + e-\nMnO4- + 8H+ + 5e- -> Mn2+ + 4H2O\nMnO4- + 8H+ + 5Fe2+ -> Mn2+ + 4H2O + 5Fe3+", 0, 6},
		{"ammonium ions in a half", "Zn + MnO2 + NH4^+ -> Zn^2+ + Mn2O3 + NH3", "neutral", "Zn -> Zn2+ + 2e-\n2MnO2 + 2NH4+ + 2e- -> Mn2O3 + 2NH3 + H2O\nZn + 2MnO2 + 2NH4+ -> Zn2+ + Mn2O3 + 2NH3 + H2O", 0, 6},
		{"halves where states are counted", "F2 + OH^- -> OF2 + F^-", "basic", "F2 + 2e- -> 2F-\n2F2 + 2OH- -> OF2 + 2F- + H2O", 0, 5},
		{"an anhydride is another substance", "SO2 + IO3^- -> SO4^2- + I2", "acidic", "2IO3- + 12H+ + 10e- -> I2 + 6H2O\nSO2 + H2O -> SO3 + 2H+ + 2e-", 2, 1},
		{"a value of a table", iron, "acidic", "from the table: Fe3+ + e- -> Fe2+\nturned round: Fe2+ -> Fe3+ + e-\nMnO4- + 8H+ + 5e- -> Mn2+ + 4H2O\nMnO4- + 8H+ + 5Fe2+ -> Mn2+ + 4H2O + 5Fe3+", 0, 6},
		{"by states, multiplied the wrong way round", iron, "acidic", "Mn: +7 -> +2, gains 5\nFe: +2 -> +3, loses 1\n5MnO4- + Fe2+ -> 5Mn2+ + Fe3+", 3, 3},
		{"oxygen is no form of peroxide", "Co(OH)2 + H2O2 -> Co(OH)3", "basic", "Co(OH)2 + O -> Co(OH)3", 1, 0},
	}
	for _, test := range tests {
		q := questionOf(t, test.skeleton, test.medium)
		r := q.Judge(test.text)
		m := r.Mark(q.Scheme())
		if r.FirstSlip != test.first || m.Earned != test.marks {
			t.Errorf("%s: slip %d %s, %d of %d; want %d, %d\n%+v\n%+v", test.name, r.FirstSlip, r.Kind, m.Earned, m.OutOf, test.first, test.marks, r.Lines, m.Points)
		}
	}
}

// TestLetStand: what follows from a line that a person let stand is not charged
// again.
func TestLetStand(t *testing.T) {
	s, err := redox.Work("MnO4^- + Fe^2+ -> Mn^2+ + Fe^3+, in acid", redox.Unstated, redox.Conventions{})
	if err != nil {
		t.Fatal(err)
	}
	q, err := NewQuestion(s)
	if err != nil {
		t.Fatal(err)
	}
	text := "Fe2+ -> Fe3+ + e-\nMnO4- + 8H+ + 3e- -> Mn2+ + 4H2O\nMnO4- + 8H+ + 3Fe2+ -> Mn2+ + 4H2O + 3Fe3+"
	r := q.JudgeWith(text, []Overruling{{Text: "MnO4- + 8H+ + 3e- -> Mn2+ + 4H2O", Verdict: Stands}})
	if r.FirstSlip != 0 || r.Lines[2].Verdict != Follows {
		t.Errorf("first slip on line %d, the last line %s (%s)", r.FirstSlip, r.Lines[2].Verdict, r.Lines[2].Kind)
	}
}
