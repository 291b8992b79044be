package reference

import (
	"slices"
	"strings"
	"testing"

	"halves/chem"
)

// TestHazards visits every row; loading has refused unknown species, codes and
// words of no closed list.
func TestHazards(t *testing.T) {
	rows := Hazards()
	if len(rows) < 232 {
		t.Fatalf("%d rows, want those given and more", len(rows))
	}
	used := map[string]bool{}
	for i, h := range rows {
		if _, ok := SourceOf(h.Source); !ok {
			t.Errorf("%s (%s): no source %q", h.Formula, h.Form, h.Source)
		}
		for _, code := range h.H {
			used[code] = true
		}
		if n := len(slices.Compact(slices.Clone(h.H))); n != len(h.H) {
			t.Errorf("%s (%s): a code stands twice: %v", h.Formula, h.Form, h.H)
		}
		if h.Signal == "" && slices.ContainsFunc(h.H, func(c string) bool { return strings.HasPrefix(c, "H") && c < "H400" }) {
			t.Errorf("%s (%s): %v without a signal word", h.Formula, h.Form, h.H)
		}
		if h.Signal == "Warning" {
			// CLP, annex I: these categories carry Danger; from memory.
			for _, c := range []string{"H271", "H300", "H301", "H310", "H311", "H314", "H318", "H330", "H331", "H334", "H340", "H350", "H372"} {
				if slices.Contains(h.H, c) {
					t.Errorf("%s (%s): %s under Warning", h.Formula, h.Form, c)
				}
			}
		}
		for _, s := range h.Supplies {
			if !slices.ContainsFunc(HazardsSupplying(s), func(r []*Hazard) bool { return r[0] == h }) {
				t.Errorf("row %d: %s does not supply %s", i+2, h.Formula, s)
			}
		}
	}
	for code := range statements {
		if !used[code] {
			t.Errorf("no row has the code %s", code)
		}
	}
}

func TestHazardsOf(t *testing.T) {
	tests := []struct {
		species string
		forms   []string // nil if none
	}{
		{"H2O2", []string{"50 to 70 %", "concentrated, 35 to 50 %", "8 to 35 %", "dilute, 5 to 8 %", "dilute, below 5 %"}},
		{"HNO3", []string{"concentrated, 65 % or more", "20 to 65 %", "5 to 20 %", "dilute, 1 to 5 %", "dilute, below 1 %"}},
		{"K3[Fe(CN)6]", []string{"solid"}},
		{"CuSO4", nil}, // its hydrate has rows
		{"XeO3", nil},
	}
	for _, tt := range tests {
		var forms []string
		for _, h := range HazardsOf(one(t, tt.species)) {
			forms = append(forms, h.Form)
		}
		if !slices.Equal(forms, tt.forms) {
			t.Errorf("HazardsOf(%s) = %q, want %q", tt.species, forms, tt.forms)
		}
	}
	if rows := HazardsOfHydrates(one(t, "CuSO4")); len(rows) != 2 || rows[0].Formula.String() != "CuSO4.5H2O" {
		t.Errorf("HazardsOfHydrates(CuSO4) = %v", rows)
	}
	if rows := HazardsSupplying(one(t, "MnO4^-")); len(rows) == 0 || rows[0][0].Formula.String() != "KMnO4" {
		t.Errorf("HazardsSupplying(MnO4^-) = %v", rows)
	}
}

func one(t *testing.T, text string) *chem.Species {
	t.Helper()
	r, err := chem.ReadSpecies(text, Species())
	if err != nil {
		t.Fatal(err)
	}
	return r[0].Species
}

// TestStatement compares a few with the wording of the GHS: from memory.
func TestStatement(t *testing.T) {
	for code, want := range map[string]string{
		"H272": "May intensify fire; oxidizer", "H314": "Causes severe skin burns and eye damage",
		"H330": "Fatal if inhaled", "H350": "May cause cancer",
	} {
		if got, ok := Statement(code); !ok || got != want {
			t.Errorf("Statement(%s) = %q, %v, want %q", code, got, ok, want)
		}
	}
	if _, ok := Statement("H999"); ok {
		t.Error("H999 has a statement")
	}
}

func TestHazardsRefuse(t *testing.T) {
	const good = "KCl\tpotassium chloride\tsolid\ts\tK^+\tH319\tWarning\tcommon SDS classification\ta (b, c), d\te\tf\tsds-mem\tmemory"
	header := strings.Join(hazardColumns, "\t") + "\n"
	table, err := loadHazards(header + good + "\n")
	if err != nil {
		t.Fatal(err)
	}
	if got := table.rows[0].Incompatible; !slices.Equal(got, []string{"a (b, c)", "d"}) {
		t.Errorf("Incompatible = %q", got)
	}
	for _, tt := range []struct{ old, new, column string }{
		{"KCl", "KCl9", "formula"}, {"\ts\t", "\tx\t", "phases"}, {"K^+", "K^9+", "supplies"}, {"H319", "H999", "H_codes"},
		{"Warning", "Careful", "signal_word"}, {"common SDS", "some", "basis"}, {"memory", "sure", "confidence"}, {"solid", "", "name"},
	} {
		_, err := loadHazards(header + strings.Replace(good, tt.old, tt.new, 1) + "\n")
		if err == nil || !strings.Contains(err.Error(), "row 2") || !strings.Contains(err.Error(), tt.column) {
			t.Errorf("%s for %s: error %v, want one of row 2 about %s", tt.new, tt.old, err, tt.column)
		}
	}
}
