package marking

import (
	"testing"
)

func TestClaimOf(t *testing.T) {
	tests := []struct{ line, element, from, to, electrons string }{
		{"Fe: +3 -> 0, gains 3 e-", "Fe", "+3", "0", "3"},
		{"Mn +7 → +2 (gain of 5 electrons)", "Mn", "+7", "+2", "5"},
		{"C goes from +2 to +4", "C", "+2", "+4", "0"},
		{"Mn^+7 + 5 e^- -> Mn^+2", "Mn", "+7", "+2", "5"},
		{"Mn^+7 -> Mn^+2", "Mn", "+7", "+2", "0"},
		{"C^+2 -> C^+4 + 2 e-", "C", "+2", "+4", "2"},
		{"oxidation state of Fe changes from III to 0", "Fe", "+3", "0", "0"},
		{"- N: +5 to +2, each atom gains 3 e", "N", "+5", "+2", "3"},
		{"C: -8/3 -> +4, loses 20/3 electrons", "C", "-8/3", "+4", "20/3"},
		{"Cl: 5 to -1", "Cl", "+5", "-1", "0"},
	}
	for _, test := range tests {
		c, ok := claimOf(test.line)
		if !ok || c.element.Symbol() != test.element || c.from.Signed() != test.from || c.to.Signed() != test.to || c.electrons.String() != test.electrons {
			t.Errorf("%q: %v %s %s %s, %v", test.line, c.element, c.from.Signed(), c.to.Signed(), c.electrons, ok)
		}
	}
	for _, line := range []string{"Fe^2+ -> Fe^3+ + e^-", "Fe2+ -> Fe3+", "Cu -> Cu2+", "2 Cu -> 2 Cu2+", "Cl2 -> 2 Cl- ", "Cl -> 2", "H2O2 -> H2O", "Fe2O3 + 3 CO -> 2 Fe + 3 CO2", "I2 -> 2 I-", "S -> SO2", "to do", "", "Mn^2+ -> MnO2", "Fe 3+ -> Fe 2+", "Fe 3+ to Fe 2+", "Cu 2+ + 2e -> Cu"} {
		if c, ok := claimOf(line); ok {
			t.Errorf("%q was taken for a claim: %+v", line, c)
		}
	}
}

// TestDry: workings by oxidation states, where nothing dissolves. Read by hand.
func TestDry(t *testing.T) {
	tests := []struct {
		name, skeleton, text string
		first                int
		kind                 Kind
		marks                int
		final                bool
	}{
		{"all of it", "Fe2O3 + CO -> Fe + CO2", "Fe: +3 -> 0, gains 3 e-\nC: +2 -> +4, loses 2 e-\nFe2O3 + 3 CO -> 2 Fe + 3 CO2", 0, "", 5, true},
		{"the answer alone", "C3H8 + O2 -> CO2 + H2O", "C3H8 + 5 O2 -> 3 CO2 + 4 H2O", 0, "", 5, true},
		{"with the numbers of what changes first", "C3H8 + O2 -> CO2 + H2O", "C: -8/3 -> +4, loses 20/3 e\nO: 0 to -2, 4 electrons\nC3H8 + 5 O2 -> 3 CO2 + H2O\nC3H8 + 5 O2 -> 3 CO2 + 4 H2O", 0, "", 5, true},
		{"a state wrong", "Fe2O3 + CO -> Fe + CO2", "Fe: +2 -> 0, gains 2 e-\nC: +2 -> +4, loses 2 e-\nFe2O3 + 2 CO -> 2 Fe + 2 CO2", 1, OxidationStateWrong, 0, false},
		{"a state wrong and mended", "Fe2O3 + CO -> Fe + CO2", "Fe: +2 -> 0\nFe: +3 -> 0, 3 e-\nC: +2 -> +4, 2 e-\nFe2O3 + 3 CO -> 2 Fe + 3 CO2", 1, OxidationStateWrong, 5, true},
		{"electrons wrong", "Fe2O3 + CO -> Fe + CO2", "Fe: +3 -> 0, gains 5 e-\nC: +2 -> +4, loses 2 e-", 1, OxidationStateWrong, 0, false},
		{"twice too much", "Fe2O3 + CO -> Fe + CO2", "2 Fe2O3 + 6 CO -> 4 Fe + 6 CO2", 1, NotLowest, 4, false},
		{"oxygen forgotten", "Fe2O3 + CO -> Fe + CO2", "Fe2O3 + CO -> 2 Fe + CO2", 1, MainCoefficient, 0, false},
	}
	for _, test := range tests {
		q := questionOf(t, test.skeleton, "none")
		r := q.Judge(test.text)
		m := r.Mark(q.Scheme())
		if r.FirstSlip != test.first || r.Kind != test.kind || m.Earned != test.marks || m.OutOf != 5 || r.FinalCorrect != test.final {
			t.Errorf("%s: slip %d %s, %d of %d, final %v; want %d %s, %d, %v\n%+v\n%+v", test.name, r.FirstSlip, r.Kind, m.Earned, m.OutOf, r.FinalCorrect, test.first, test.kind, test.marks, test.final, r.Lines, m.Points)
		}
		for i := range r.Lines {
			r.Explain(i + 1)
		}
		for rung := range 4 {
			if r.Hint(rung) == "" {
				t.Errorf("%s: no hint", test.name)
			}
		}
	}
}

// TestStatesInWater: oxidation states are counted in solution too, with water and
// its ions last.
func TestStatesInWater(t *testing.T) {
	q := questionOf(t, "MnO4^- + Fe^2+ -> Mn^2+ + Fe^3+", "acidic")
	r := q.Judge("Mn: +7 -> +2, gains 5 e-\nFe: +2 -> +3, loses 1 e-\nMnO4- + 5 Fe2+ -> Mn2+ + 5 Fe3+\nMnO4- + 5 Fe2+ + 8 H+ -> Mn2+ + 5 Fe3+\nMnO4- + 5 Fe2+ + 8 H+ -> Mn2+ + 5 Fe3+ + 4 H2O")
	if m := r.Mark(q.Scheme()); r.FirstSlip != 0 || m.Earned != 6 {
		t.Errorf("slip %d %s, %d: %+v", r.FirstSlip, r.Kind, m.Earned, r.Lines)
	}
	r = q.Judge("Mn: +7 -> +3, gains 4 e-\nFe: +2 -> +3, loses 1 e-\nMnO4- + 4 Fe2+ -> Mn2+ + 4 Fe3+")
	if r.FirstSlip != 1 || r.Kind != OxidationStateWrong {
		t.Errorf("slip %d %s: %+v", r.FirstSlip, r.Kind, r.Lines)
	}
}
