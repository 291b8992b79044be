package document_test

import (
	"strings"
	"testing"

	"halves/chem"
	"halves/document"
	"halves/redox"
)

// TestMolarMassComma: a class that writes a decimal comma sees and hears one;
// the mass is said in words, since "158,032" would be heard as a whole number.
func TestMolarMassComma(t *testing.T) {
	readings, err := chem.ReadSpecies("KMnO4", nil)
	if err != nil {
		t.Fatal(err)
	}
	for _, tt := range []struct {
		comma      bool
		seen, said string
	}{
		{false, "158.032 g/mol", "one hundred fifty-eight point zero three two grams a mole"},
		{true, "158,032 g/mol", "one hundred fifty-eight comma zero three two grams a mole"},
	} {
		d := document.FromSpecies(redox.Conventions{Comma: tt.comma}, readings[0].Species, nil)
		p := readPage(t, htmlOf(t, d, document.HTMLOptions{}))
		if seen := strings.ReplaceAll(p.seen.String(), "\u00a0", " "); !strings.Contains(seen, tt.seen) {
			t.Errorf("comma %t: not seen: %q", tt.comma, tt.seen)
		}
		if said := p.spoken.String(); !strings.Contains(said, tt.said) {
			t.Errorf("comma %t: not said: %q", tt.comma, tt.said)
		}
	}
}
