package marking

import (
	"strings"
	"testing"
)

// TestRoutes: each route of the slip map slips once, at its line, and is found
// again from its answer alone.
func TestRoutes(t *testing.T) {
	for _, question := range [][2]string{{"MnO4^- + H2C2O4 -> Mn^2+ + CO2", "acidic"}, {"MnO4^- + Fe^2+ -> Mn^2+ + Fe^3+", "acidic"}, {"ClO2 -> ClO2^- + ClO3^-", "basic"}, {"Cr(OH)4^- + H2O2 -> CrO4^2- + H2O", "basic"}, {"Cu + NO3^- -> Cu^2+ + NO", "acidic"}} {
		q := questionOf(t, question[0], question[1])
		routes := q.Routes()
		kinds := map[Kind]int{}
		for _, r := range routes {
			kinds[r.Kind]++
			if r.Marks >= r.OutOf {
				t.Errorf("%s: %d of %d for\n%s", question[0], r.Marks, r.OutOf, strings.Join(r.Lines, "\n"))
			}
			_, answer, _ := strings.Cut(r.Answer, ": ")
			back, err := q.FromAnswer(answer)
			if err != nil || len(back) == 0 {
				t.Errorf("%s: no way back from %s: %v", question[0], answer, err)
			}
			if j := q.Judge(strings.Join(r.Lines, "\n")); j.FirstSlip != r.Line {
				t.Errorf("%s: slips at %d, not %d", question[0], j.FirstSlip, r.Line)
			} else {
				for _, l := range j.Lines[r.Line:] {
					if l.Verdict == Slips {
						t.Errorf("%s: %s is charged again, %s: %s\n%s", question[0], r.Kind, l.Kind, l.Why, strings.Join(r.Lines, "\n"))
					}
				}
			}
		}
		if len(kinds) < 5 {
			t.Errorf("%s: only %v", question[0], kinds)
		}
		t.Logf("%s: %d routes, %v", question[0], len(routes), kinds)
	}
	q := questionOf(t, "MnO4^- + Fe^2+ -> Mn^2+ + Fe^3+", "acidic")
	if r, err := q.FromAnswer("MnO4- + 8H+ + 5Fe2+ -> Mn2+ + 4H2O + 5Fe3+"); err != nil || r != nil {
		t.Errorf("of the right answer: %v, %v", r, err)
	}
	if _, err := q.FromAnswer("no equation"); err == nil {
		t.Error("prose has a way")
	}
	if r, err := q.FromAnswer("MnO4- + 8H+ + Fe2+ -> Mn2+ + 4H2O + Fe3+"); err != nil || len(r) == 0 || r[0].Kind != UnequalElectrons {
		t.Errorf("halves added as they are: %v, %v", r, err)
	}
	r, err := q.FromAnswer("3 Fe2+")
	if err != nil || len(r) == 0 {
		t.Errorf("of 3 Fe2+: %v, %v", r, err)
	}
	for _, x := range r {
		if !strings.Contains(x.Answer, "3 Fe^2+") {
			t.Errorf("of 3 Fe2+: %s", x.Answer)
		}
	}
	for _, bad := range []string{"3 Zn", "three", "", "2"} {
		if _, err := q.FromAnswer(bad); err == nil {
			t.Errorf("%q has a way", bad)
		}
	}
}
