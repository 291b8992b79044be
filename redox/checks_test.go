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

// Every published or derived equation of the check cases; the source stands in
// each row.
func TestCheckEquations(t *testing.T) {
	for _, row := range checks.Equations() {
		s, err := redox.Work(row.Skeleton, redox.Medium(row.Medium), redox.Conventions{})
		if err != nil {
			t.Errorf("%s: Work(%s, %s) = %v (%s)", row.ID, row.Skeleton, row.Medium, err, row.Source)
			continue
		}
		mustBalance(t, s)
		want, err := chem.ReadEquation(row.Answer, nil)
		if err != nil {
			t.Fatal(err)
		}
		if lowest(s.Equation) != lowest(want.All[0].Equation) {
			t.Errorf("%s: Work(%s, %s) = %s, want %s", row.ID, row.Skeleton, row.Medium, s.Equation, row.Answer)
		}
		if row.Electrons != nil && (s.Electrons == nil || *s.Electrons != *row.Electrons) {
			t.Errorf("%s: Work(%s) electrons = %v, want %d", row.ID, row.Skeleton, s.Electrons, *row.Electrons)
		}
		if got := sortedNames(s.Oxidized); !slices.Equal(got, sorted(row.Oxidized)) {
			t.Errorf("%s: Work(%s) oxidized = %v, want %v", row.ID, row.Skeleton, got, row.Oxidized)
		}
		if got := sortedNames(s.Reduced); !slices.Equal(got, sorted(row.Reduced)) {
			t.Errorf("%s: Work(%s) reduced = %v, want %v", row.ID, row.Skeleton, got, row.Reduced)
		}
	}
}

func sortedNames(all []*chem.Species) []string {
	out := make([]string, len(all))
	for i, s := range all {
		out[i] = s.String()
	}
	return sorted(out)
}

func sorted(all []string) []string {
	out := slices.Clone(all)
	slices.Sort(out)
	return out
}

func TestCheckImpossible(t *testing.T) {
	kinds := map[string]redox.ErrorKind{
		"element-on-one-side": redox.KindNoAnswer, "charge-cannot-balance": redox.KindNoAnswer,
		"only-oxidation": redox.KindOnlyOxidation, "only-reduction": redox.KindOnlyReduction,
	}
	for _, row := range checks.Impossible() {
		s, err := redox.Work(row.Skeleton, redox.Medium(row.Medium), redox.Conventions{})
		if row.Expect == "no-redox" {
			if err != nil || s.Redox() || !slices.ContainsFunc(s.Notes, func(n redox.Note) bool { return n.Kind == redox.NoteNotRedox }) {
				t.Errorf("%s: Work(%s) = %v, want balanced and not redox (%s)", row.ID, row.Skeleton, err, row.Why)
				continue
			}
			want, _ := chem.ReadEquation(row.Balanced, nil)
			if lowest(s.Equation) != lowest(want.All[0].Equation) {
				t.Errorf("%s: Work(%s) = %s, want %s", row.ID, row.Skeleton, s.Equation, row.Balanced)
			}
			continue
		}
		if err == nil {
			t.Errorf("%s: Work(%s) = %s, want %s (%s)", row.ID, row.Skeleton, s.Equation, row.Expect, row.Why)
			continue
		}
		got := redox.NewReport(err).Kind
		if got != kinds[row.Expect] && !slices.Contains(row.AlsoAcceptable, string(got)) {
			t.Errorf("%s: Work(%s) = %s (%v), want %s", row.ID, row.Skeleton, got, err, row.Expect)
		}
		var no *redox.NoAnswerError
		if row.Expect == "element-on-one-side" && (!errors.As(err, &no) || len(no.Cause.OneSided) == 0) {
			t.Errorf("%s: Work(%s) = %v, want the element that stands on one side (%s)", row.ID, row.Skeleton, err, row.Why)
		}
	}
}

func TestCheckAmbiguous(t *testing.T) {
	for _, row := range checks.Ambiguous() {
		_, err := redox.Work(row.Skeleton, redox.Medium(row.Medium), redox.Conventions{})
		var many *redox.ManyAnswersError
		if !errors.As(err, &many) {
			t.Errorf("%s: Work(%s) = %v, want many answers (%s)", row.ID, row.Skeleton, err, row.Note)
			continue
		}
		if many.Nullity != row.Nullity || !many.Complete || len(many.Elementary) < 2 || len(many.Elementary) > balance.MaxElementary {
			t.Errorf("%s: nullity %d, %d elementary equations, complete %v; want nullity %d", row.ID, many.Nullity, len(many.Elementary), many.Complete, row.Nullity)
		}
		for _, e := range append(many.Elementary, many.Example) {
			if bad := unbalanced(e.String()); bad != "" {
				t.Errorf("%s: %s does not conserve %s", row.ID, e, bad)
			}
		}
		if got := len(many.Example.Species()); got != len(row.Species) {
			t.Errorf("%s: the example %s has %d species, want all %d", row.ID, many.Example, got, len(row.Species))
		}
	}
}

// What people mistype is an error, or is worked as what they meant.
func TestCheckMalformed(t *testing.T) {
	for _, row := range checks.Malformed() {
		s, err := redox.Work(row.Input, redox.Medium(row.Medium), redox.Conventions{})
		if row.Expect == "error" {
			if err == nil {
				t.Errorf("%s: Work(%q) = %s, want an error (%s)", row.ID, row.Input, s.Equation, row.Why)
			}
			continue
		}
		if err != nil {
			t.Errorf("%s: Work(%q) = %v, want %s", row.ID, row.Input, err, row.Balanced)
			continue
		}
		want, _ := chem.ReadEquation(row.Balanced, nil)
		if lowest(s.Equation) != lowest(want.All[0].Equation) {
			t.Errorf("%s: Work(%q) = %s, want %s", row.ID, row.Input, s.Equation, row.Balanced)
		}
	}
}
