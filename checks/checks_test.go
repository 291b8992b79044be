package checks

import (
	"strings"
	"testing"
)

// TestRows guards against rows lost or emptied in an edit.
func TestRows(t *testing.T) {
	seen := map[string]bool{}
	row := func(id, prefix, text string) {
		t.Helper()
		switch {
		case !strings.HasPrefix(id, prefix) || seen[id]:
			t.Errorf("row %q stands twice or in the wrong file", id)
		case text == "":
			t.Errorf("row %s is empty", id)
		}
		seen[id] = true
	}
	count := func(file string, got, want int) {
		t.Helper()
		if got != want {
			t.Errorf("%s.jsonl has %d rows, want %d", file, got, want)
		}
	}
	media := "acidic basic neutral none"

	count("equations", len(Equations()), 150)
	for _, r := range Equations() {
		row(r.ID, "EQ", r.Skeleton)
		if r.Answer == "" || r.Source == "" || !strings.Contains(media, r.Medium) || len(r.Oxidized) == 0 || len(r.Reduced) == 0 {
			t.Errorf("row %s lacks a field", r.ID)
		}
	}
	count("ambiguous", len(Ambiguous()), 8)
	for _, r := range Ambiguous() {
		row(r.ID, "AMB", r.Skeleton)
		if r.Nullity != len(r.Basis) || r.Nullity < 2 || len(r.Examples) == 0 {
			t.Errorf("row %s: nullity %d, %d vectors, %d examples", r.ID, r.Nullity, len(r.Basis), len(r.Examples))
		}
		for _, v := range r.Basis {
			if len(v) != len(r.Species) {
				t.Errorf("row %s: a vector of %d entries for %d species", r.ID, len(v), len(r.Species))
			}
		}
	}
	count("impossible", len(Impossible()), 24)
	for _, r := range Impossible() {
		row(r.ID, "IMP", r.Skeleton)
		if (r.Expect == "no-redox") != (r.Balanced != "") {
			t.Errorf("row %s expects %s and balances as %q", r.ID, r.Expect, r.Balanced)
		}
	}
	count("malformed", len(Malformed()), 50)
	for _, r := range Malformed() {
		row(r.ID, "MAL", r.Input)
		if r.Expect != "error" && r.Expect != "ok-as" || (r.Expect == "ok-as") != (r.OkAs != "") {
			t.Errorf("row %s expects %q as %q", r.ID, r.Expect, r.OkAs)
		}
	}
	count("notation", len(Notation()), 90)
	for _, r := range Notation() {
		row(r.ID, "NOT", r.Input)
		if r.Tier < 1 || r.Tier > 3 || r.Canonical == "" || r.Ambiguous != (len(r.Also) > 0) {
			t.Errorf("row %s: tier %d, canonical %q, ambiguous %v, also %d", r.ID, r.Tier, r.Canonical, r.Ambiguous, len(r.Also))
		}
	}
	count("oxidation_states", len(OxidationStates()), 80)
	for _, r := range OxidationStates() {
		row(r.ID, "OXS", r.Formula)
		if len(r.States) == 0 || r.Source == "" {
			t.Errorf("row %s lacks states or a source", r.ID)
		}
	}
}

func TestState(t *testing.T) {
	for _, r := range OxidationStates() {
		if r.ID == "OXS229" && (len(r.States["O"]) != 8 || r.States["O"][7] != "-1" || r.Average["O"] != "-7/4") {
			t.Errorf("oxygen of %s is %q, average %q; want two of eight -1, average -7/4", r.Formula, r.States["O"], r.Average["O"])
		}
	}
}

func TestBadData(t *testing.T) {
	for _, c := range []struct{ name, data, want string }{
		{"unknown field", `{"id":"EQ1","skelton":"H2"}`, "row 1"},
		{"wrong type", "{\"id\":\"EQ1\"}\n{\"id\":2}", "row 2"},
		{"broken line", `{"id":`, "row 1"},
	} {
		func() {
			defer func() {
				if r := recover(); r == nil || !strings.Contains(r.(string), "equations.jsonl, "+c.want) {
					t.Errorf("%s: panic %v, want one naming equations.jsonl, %s", c.name, r, c.want)
				}
			}()
			rows[Equation]("equations", []byte(c.data))
		}()
	}
}
