package energetics

import (
	"slices"
	"strings"
	"testing"

	"halves/reference"
)

// always are the reasons that matter in both directions.
var always = []string{"platinum complexes", "the cobalt(III) complex"}

// TestHindrances holds the list to the reasons of the table: a new reason needs
// its direction, and an entry that belongs to none is dead.
func TestHindrances(t *testing.T) {
	used := map[string]bool{}
	for _, c := range reference.Couples().All() {
		if c.Slow == "" {
			continue
		}
		listed := slices.ContainsFunc(always, func(words string) bool { return strings.HasPrefix(c.Slow, words) })
		for _, h := range hindrances {
			if strings.HasPrefix(c.Slow, h.words) {
				used[h.words], listed = true, true
			}
		}
		if !listed {
			t.Errorf("%s: in which direction does it matter that %q?", c.ID, c.Slow)
		}
	}
	for _, h := range hindrances {
		if !used[h.words] {
			t.Errorf("no row is slow for a reason that begins with %q", h.words)
		}
		for _, formula := range h.must {
			if s := mustSpecies(formula); s.String() != formula {
				t.Errorf("%q is written %s", formula, s)
			}
		}
	}
}

// TestMatters: a reason that is in no list, as one of a user's row, matters
// always.
func TestMatters(t *testing.T) {
	if !matters("my own reason", nil, nil, 1) {
		t.Error("a user's reason does not matter")
	}
	if matters("perchlorate is slow", nil, nil, 1) {
		t.Error("perchlorate that does not react matters")
	}
}

// TestSlowness: a half-reaction that no row holds is as slow as the rows of what
// must react.
func TestSlowness(t *testing.T) {
	tables := Shipped()
	for text, want := range map[string]string{
		"ClO4^- -> HClO, in acid":         "perchlorate",
		"N2 -> HNO2, in acid":             "nitrogen",
		"MnO4^2- -> Mn^3+, in acid":       "",
		"SO4^2- + CN^- -> SCN^-, in acid": "sulfate",
	} {
		half, err := tables.Read(text)
		if err != nil {
			t.Errorf("Read(%q): %v", text, err)
			continue
		}
		p, err := tables.Of(half)
		if err != nil || !strings.HasPrefix(p.Slow, want) || (want == "") != (p.Slow == "") || (p.Slow == "") != (p.SlowBy == "") {
			t.Errorf("Of(%s) by %s is slow for %q (%s), %v; want %q", text, p.From, p.Slow, p.SlowBy, err, want)
		}
	}
}
