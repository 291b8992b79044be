package document

import (
	"strings"
	"testing"

	"halves/chem"
)

// FuzzAlgebraAt: what is read as algebra is written again as it stood, ends at
// the end of a word, and has an unknown and one equals sign.
func FuzzAlgebraAt(f *testing.F) {
	for _, s := range []string{"4b + 4 = 2f + g and 2b = f", "−2b − 1 = −2f", "x1 + 3/2 = 2x12, b", "a = d", "a species", "1 = 2", "b = f = g", "2b + = f", "b = species", "", "−", "7/"} {
		f.Add(s)
	}
	unknowns := []string{"a", "b", "c", "d", "f", "g", "x1", "x12"}
	f.Fuzz(func(t *testing.T, s string) {
		runs, n := algebraAt(s, unknowns)
		if n == 0 {
			return
		}
		text := chem.PlainText(runs)
		if want := strings.ReplaceAll(s[:n], "−", "-"); text != want {
			t.Errorf("algebraAt(%q) reads %q, want %q", s, text, want)
		}
		if n < len(s) && !strings.ContainsAny(s[n:n+1], " ,;.") {
			t.Errorf("algebraAt(%q) ends within a word: %q", s, s[:n])
		}
		if strings.Count(text, " = ") != 1 || !IsAlgebra(runs) {
			t.Errorf("algebraAt(%q) reads %q, which is no equation among unknowns", s, text)
		}
	})
}

func TestAlgebraAt(t *testing.T) {
	for _, tt := range []struct{ in, want string }{
		{"4b + 4 = 2f + g and 2b = f", "4b + 4 = 2f + g"},
		{"−2b − 1 = −2f − g", "-2b - 1 = -2f - g"},
		{"2x1 = x12, and so on", "2x1 = x12"},
		{"a = d.", "a = d"},
		{"a species", ""},
		{"1 = 2", ""},         // no unknown
		{"b = species", ""},   // a word
		{"2b + 3 = 8e", ""},   // no unknown of these
		{"4b + 4 and so", ""}, // no relation
	} {
		runs, n := algebraAt(tt.in, []string{"a", "b", "d", "f", "g", "x1", "x12"})
		got := ""
		if n > 0 {
			got = chem.PlainText(runs)
		}
		if got != tt.want {
			t.Errorf("algebraAt(%q) = %q, want %q", tt.in, got, tt.want)
		}
	}
}
