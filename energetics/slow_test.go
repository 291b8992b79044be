package energetics

import (
	"strings"
	"testing"
)

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
