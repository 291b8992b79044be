package marking

import (
	"fmt"
	"strings"
	"testing"

	"halves/checks"
	"halves/chem"
	"halves/redox"
)

// TestGeneratedClaims: for every check equation, in each medium in which it can be
// marked, right claims of oxidation states with the answer are not faulted, and one
// state or one number of electrons that is changed is found at its line.
func TestGeneratedClaims(t *testing.T) {
	wordings := []string{"%s: %s -> %s, %s e-", "%s goes from %s to %s, %s electrons for each atom", "%s %s → %s (%s e)"}
	say := func(n int, e chem.Element, from, to, electrons chem.Ratio) string {
		return fmt.Sprintf(wordings[n%len(wordings)], e, from.Signed(), to.Signed(), magnitude(electrons))
	}
	questions, slips, named := 0, 0, 0
	seen := map[string]bool{}
	for _, x := range checks.Equations() {
		for _, medium := range []redox.Medium{redox.Acidic, redox.Basic, redox.None} {
			s, err := redox.Work(x.Skeleton, medium, redox.Conventions{})
			if err != nil || len(s.Changes) == 0 {
				continue
			}
			q, err := NewQuestion(s)
			if err != nil || seen[x.Skeleton+string(medium)] {
				continue
			}
			seen[x.Skeleton+string(medium)] = true
			questions++
			var lines []string
			for n, c := range s.Changes {
				lines = append(lines, say(n, c.Element, c.From, c.To, c.Electrons()))
			}
			lines = append(lines, s.Equation.String())
			if r := q.Judge(strings.Join(lines, "\n")); r.FirstSlip != 0 || !r.FinalCorrect {
				t.Errorf("%s (%s): faulted in line %d, %s\n%s\n%+v", x.Skeleton, medium, r.FirstSlip, r.Kind, strings.Join(lines, "\n"), r.Lines)
			}
			for n, c := range s.Changes {
				// Averages that are wrong are left to a person.
				if !c.From.IsWhole() || !c.To.IsWhole() {
					continue
				}
				one := chem.Whole(1)
				for k, wrong := range []string{
					say(n, c.Element, c.From.Add(one), c.To, c.To.Sub(c.From).Sub(one)),
					say(n, c.Element, c.From, c.To.Add(one), c.To.Sub(c.From).Add(one)),
					say(n, c.Element, c.From, c.To, chem.Whole(997)),
				} {
					if k == 0 && c.From.Add(one).Equal(c.To) || k == 1 && c.To.Add(one).Equal(c.From) {
						continue // equal numbers are atoms counted, no claim
					}
					bad := append(append([]string{}, lines[:n]...), wrong)
					r := q.Judge(strings.Join(bad, "\n"))
					if r.Kind == "" && isOther(s.Changes, c, wrong) {
						continue // right of another change of the element
					}
					slips++
					if r.FirstSlip == n+1 && r.Kind == OxidationStateWrong {
						named++
					} else {
						t.Logf("%s (%s): %q is not found: %+v", x.Skeleton, medium, wrong, r.Lines[n])
					}
				}
			}
		}
	}
	t.Logf("%d questions, %d wrong claims, %d found at their line", questions, slips, named)
	if questions < 200 || named*100 < slips*99 {
		t.Errorf("%d of %d wrong claims of %d questions are found", named, slips, questions)
	}
}

// isOther reports whether a claim tells another change of the same element.
func isOther(all []redox.Change, c redox.Change, line string) bool {
	claimed, ok := claimOf(line)
	for _, o := range all {
		if ok && o.Element == c.Element && o.From.Equal(claimed.from) && o.To.Equal(claimed.to) {
			return true
		}
	}
	return false
}
