package reference_test

import (
	"errors"
	"fmt"
	"strings"
	"testing"

	"halves/reference"
)

// TestHindrances reads when a couple is slow, in a table of the user's own.
func TestHindrances(t *testing.T) {
	for _, test := range []struct{ way, want, fault string }{
		{"", "[{true true 0 [] false}]", ""},
		{"both", "[{true true 0 [] false}]", ""},
		{"reduction", "[{true false 0 [] false}]", ""},
		{"oxidation; reduction below 0.3 V", "[{false true 0 [] false} {true false 0.3 [] false}]", ""},
		{"reduction without H^+", "[{true false 0 [] true}]", ""},
		{"oxidation by MnO4^-, Ce^4+", "[{false true 0 [MnO4^- Ce^4+] false}]", ""},
		{"backwards", "", "does not say which way"},
		{"reduction below", "", "does not say which way"},
		{"reduction below 300 mV", "", "does not say which way"},
		{"reduction below -0.3 V", "", "does not say which way"},
		{"reduction without OH^-", "", "does not say which way"},
		{"reduction;", "", "does not say which way"},
		{"oxidation by Qq", "", "Qq"},
	} {
		all, err := reference.ReadCouples("mine.tsv", "half_reaction\tvolts\tslow\tslow_way\nCu^2+ + 2 e^- -> Cu\t0.34\tfor no reason\t"+test.way+"\n")
		var fault *reference.TableError
		switch {
		case test.fault != "":
			if !errors.As(err, &fault) || !strings.Contains(err.Error(), test.fault) || fault.Row != 2 || fault.Column != "slow_way" {
				t.Errorf("%q: %v, want %q in row 2", test.way, err, test.fault)
			}
		case err != nil:
			t.Errorf("%q: %v", test.way, err)
		default:
			if got := fmt.Sprint(all[0].Hindrances); got != test.want {
				t.Errorf("%q is read as %s, want %s", test.way, got, test.want)
			}
		}
	}
	if _, err := reference.ReadCouples("mine.tsv", "half_reaction\tvolts\tslow_way\nCu^2+ + 2 e^- -> Cu\t0.34\tboth\n"); err == nil || !strings.Contains(err.Error(), "without a reason") {
		t.Errorf("a way without a reason: %v", err)
	}
}
