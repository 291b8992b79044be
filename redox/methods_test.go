package redox_test

import (
	"errors"
	"slices"
	"testing"

	"halves/balance"
	"halves/checks"
	"halves/chem"
	"halves/redox"
)

// otherMethods are those beside the half-reactions.
var otherMethods = []redox.Method{redox.ByStates, redox.ByEquations}

// agrees works a question by another method and compares the answer, the
// agents and the electrons with those of the halves. It reports whether the
// method applies.
func agrees(t *testing.T, question string, m redox.Medium, want *redox.Solution, by redox.Method) bool {
	t.Helper()
	got, err := redox.Work(question, m, redox.Conventions{By: by})
	var open *redox.OpenStatesError
	if by == redox.ByStates && errors.As(err, &open) {
		for _, x := range want.Species {
			if len(x.Open) > 0 {
				return false // the rules leave a state open, and it says so
			}
		}
	}
	if err != nil {
		t.Errorf("Work(%s, %s) by %s = %v", question, m, by, err)
		return false
	}
	mustBalance(t, got)
	if lowest(got.Equation) != lowest(want.Equation) {
		t.Errorf("Work(%s, %s) by %s = %s, by halves %s", question, m, by, got.Equation, want.Equation)
	}
	if (got.Electrons == nil) != (want.Electrons == nil) || got.Electrons != nil && *got.Electrons != *want.Electrons {
		t.Errorf("Work(%s, %s) by %s and by halves differ in the electrons", question, m, by)
	}
	if !slices.Equal(sortedNames(got.Oxidized), sortedNames(want.Oxidized)) || !slices.Equal(sortedNames(got.Reduced), sortedNames(want.Reduced)) {
		t.Errorf("Work(%s, %s) by %s: oxidized %v, reduced %v; by halves %v and %v", question, m, by,
			sortedNames(got.Oxidized), sortedNames(got.Reduced), sortedNames(want.Oxidized), sortedNames(want.Reduced))
	}
	if by == redox.ByEquations {
		mustFollow(t, got)
	} else {
		mustCount(t, got)
	}
	return true
}

// mustFollow holds a solution by equations to its own lines: a chosen unknown,
// a line for every other one, and numbers that are whole.
func mustFollow(t *testing.T, s *redox.Solution) {
	t.Helper()
	n := map[redox.Rule]int{}
	for _, st := range s.Steps {
		n[st.Rule]++
		if (st.Written != nil) == (len(st.After.Left) > 0) {
			t.Errorf("%s by equations: the step %q has not one line", s.Given, st.Rule)
		}
	}
	species := len(s.Equation.Species())
	if n[redox.NameUnknowns] != 1 || n[redox.ChooseOne] != 1 || n[redox.SolveFor] != species-1 || n[redox.ClearUnits] != 1 || n[redox.PutNumbers] != 1 {
		t.Errorf("%s by equations: %d species, steps %v", s.Given, species, n)
	}
	if laws := len(s.Ledger); n[redox.Conserve] > laws || n[redox.Conserve] < laws-1 {
		t.Errorf("%s by equations: %d lines for %d laws", s.Given, n[redox.Conserve], laws)
	}
}

// mustCount holds a solution by oxidation states to its own lines: a line
// differs from the one before where its step says so, and the last is the answer.
func mustCount(t *testing.T, s *redox.Solution) {
	t.Helper()
	last := ""
	for _, st := range s.Steps {
		if st.Rule == redox.Check || len(st.After.Left) == 0 {
			continue
		}
		if line := st.After.String(); last != "" && st.Done == (line == last) {
			t.Errorf("%s by states: %q says done %v, and the line is %s after %s", s.Given, st.Rule, st.Done, line, last)
		}
		last = st.After.String()
	}
	if last != s.Equation.String() && s.Redox() {
		t.Errorf("%s by states ends in %s, not in %s", s.Given, last, s.Equation)
	}
}

// Every published or derived check case comes out the same by all methods.
func TestMethodsAgreeOnChecks(t *testing.T) {
	applied := 0
	for _, row := range checks.Equations() {
		want, err := redox.Work(row.Skeleton, redox.Medium(row.Medium), redox.Conventions{})
		if err != nil {
			t.Errorf("%s: %v", row.ID, err)
			continue
		}
		for _, by := range otherMethods {
			if agrees(t, row.Skeleton, redox.Medium(row.Medium), want, by) {
				applied++
			}
		}
	}
	if applied < 280 {
		t.Errorf("%d solutions by other methods, want nearly all of twice 150", applied)
	}
}

// Pairs of published half-reactions come out the same by all methods.
func TestMethodsAgreeOnPairs(t *testing.T) {
	forPairs(t, 101, func(t *testing.T, left, right []*chem.Species, m redox.Medium, s *redox.Solution) {
		for _, by := range otherMethods {
			agrees(t, skeleton(left, right), m, s, by)
		}
	})
}

// What is not redox can be worked by equations; by states nothing changes.
func TestMethodsOnNoRedox(t *testing.T) {
	for _, row := range checks.Impossible() {
		if row.Expect != "no-redox" {
			continue
		}
		for _, by := range otherMethods {
			s, err := redox.Work(row.Skeleton, redox.Medium(row.Medium), redox.Conventions{By: by})
			if err != nil || s.Redox() {
				t.Errorf("%s: Work(%s) by %s = %v, want balanced and not redox", row.ID, row.Skeleton, by, err)
				continue
			}
			if by == redox.ByEquations {
				mustFollow(t, s)
			}
		}
	}
}

// The other conventions go with every method.
func TestMethodsWithConventions(t *testing.T) {
	for _, q := range []string{
		"MnO4^- + H2C2O4 -> Mn^2+ + CO2, in acid",
		"H2O2 + Cr(OH)4^- -> CrO4^2-, in base",
		"MnO4^- + SO3^2- -> MnO2 + SO4^2-, neutral",
	} {
		for _, by := range otherMethods {
			s, err := redox.Work(q, redox.Unstated, redox.Conventions{By: by, Hydronium: true, Roman: true, Ones: true})
			if err != nil {
				t.Errorf("Work(%s) by %s with hydronium = %v", q, by, err)
				continue
			}
			mustBalance(t, s)
			for _, st := range s.Steps {
				if l, err := balance.NewLedger(st.After); err == nil && st.Rule == redox.PutNumbers && !l.Closed() {
					t.Errorf("Work(%s) by %s: %s is not balanced", q, by, st.After)
				}
			}
		}
	}
}
