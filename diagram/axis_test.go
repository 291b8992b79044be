package diagram

import (
	"fmt"
	"strings"
	"testing"

	"halves/chem"
)

func TestAround(t *testing.T) {
	tests := []struct {
		low, high float64
		want      string
	}{
		{-0.762, 1.507, "-1 to 2 by 0.5"},
		{0, 0, "-0.6 to 0.6 by 0.2"}, // one value
		{1.2, 1.26, "1.2 to 1.26 by 0.01"},
		{-3, 7, "-4 to 8 by 2"},
		{0, 100, "0 to 100 by 20"},
	}
	for _, tt := range tests {
		from, to, by := around(tt.low, tt.high, 8)
		if got := fmt.Sprintf("%.4g to %.4g by %.4g", from, to, by); got != tt.want {
			t.Errorf("around(%v, %v) = %s, want %s", tt.low, tt.high, got, tt.want)
		}
	}
	if got := fmt.Sprintf("%.2f", ticks(-0.2, 0.2, 0.1)); got != "[-0.20 -0.10 0.00 0.10 0.20]" {
		t.Errorf("ticks: %s", got)
	}
}

func TestNumbers(t *testing.T) {
	comma := Style{Comma: true}
	for _, tt := range []struct{ got, want string }{
		{Style{}.volts(1.51), "+1.51"},
		{Style{}.volts(-0.7618), "−0.7618"},
		{Style{}.volts(0), "0.00"},
		{Style{}.volts(1.507 - 0.77), "+0.737"}, // in floats 0.7369999...
		{Style{}.volts(-1e-9), "0.00"},
		{comma.volts(1.3), "+1,30"},
		{comma.sayVolts(-0.44), "minus 0,44 volts"},
		{state(chem.NewRatio(-1, 2)), "−1/2"},
		{chem.PlainText(Style{}.concentration(1e-3)), "10^−3"},
		{chem.PlainText(comma.concentration(2.5e-5)), "2,5 × 10^−5"},
		{chem.PlainText(Style{}.concentration(0.1)), "0.1"},
		{chem.PlainText(Style{}.concentration(1)), "1"},
		{chem.PlainText(Style{}.concentration(-1)), ""},
		{join(strings.Fields("a b c")), "a, b and c"},
	} {
		if tt.got != tt.want {
			t.Errorf("got %q, want %q", tt.got, tt.want)
		}
	}
}
