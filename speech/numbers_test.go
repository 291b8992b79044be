package speech

import (
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"halves/chem"
)

// Common practice, no source.
func TestNumber(t *testing.T) {
	for _, tt := range []struct {
		n    int64
		want string
	}{
		{0, "zero"}, {1, "one"}, {13, "thirteen"}, {20, "twenty"}, {28, "twenty-eight"}, {100, "one hundred"},
		{104, "one hundred four"}, {115, "one hundred fifteen"}, {999, "nine hundred ninety-nine"},
		{1004, "one thousand four"}, {20000, "twenty thousand"}, {1000000, "one million"},
		{123456789, "one hundred twenty-three million four hundred fifty-six thousand seven hundred eighty-nine"},
		{1e15, "one quadrillion"}, {-2, "minus two"},
		{math.MinInt64, "minus nine quintillion two hundred twenty-three quadrillion three hundred seventy-two trillion thirty-six billion eight hundred fifty-four million seven hundred seventy-five thousand eight hundred eight"},
	} {
		if got := Number(tt.n); got != tt.want {
			t.Errorf("Number(%d) = %q, want %q", tt.n, got, tt.want)
		}
	}
}

func TestRatio(t *testing.T) {
	for _, tt := range []struct {
		num, den     int64
		want, signed string
	}{
		{7, 1, "seven", "plus seven"}, {0, 1, "zero", "zero"}, {5, 2, "five halves", "plus five halves"},
		{1, 2, "one half", "plus one half"}, {-1, 2, "minus one half", "minus one half"}, {1, 3, "one third", "plus one third"},
		{2, 3, "two thirds", "plus two thirds"}, {-8, 3, "minus eight thirds", "minus eight thirds"}, {3, 4, "three quarters", "plus three quarters"},
		{7, 12, "seven over twelve", "plus seven over twelve"},
	} {
		r := chem.NewRatio(tt.num, tt.den)
		if got := Ratio(r); got != tt.want {
			t.Errorf("Ratio(%s) = %q, want %q", r, got, tt.want)
		}
		if got := Signed(r); got != tt.signed {
			t.Errorf("Signed(%s) = %q, want %q", r, got, tt.signed)
		}
	}
}

// TestNumberBack: the words of a number give the number back, whatever stands
// behind them.
func TestNumberBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.Int64Range(0, 1e15).Draw(t, "n")
		words := strings.Fields(Number(n) + rapid.SampledFrom([]string{"", " H two", " plus", " dot five"}).Draw(t, "behind"))
		if got, used := parseNumber(words, math.MaxInt64); got != n || used != len(strings.Fields(Number(n))) {
			t.Errorf("parseNumber(%v) = %d of %d words, want %d", words, got, used, n)
		}
	})
}

func TestParseNumberLimit(t *testing.T) {
	for _, s := range []string{"one million one", "two trillion", "nine quintillion nine quintillion", "hundred", "minus", ""} {
		if n, used := parseNumber(strings.Fields(s), chem.MaxNumber); used != 0 && n > chem.MaxNumber {
			t.Errorf("parseNumber(%s) = %d, beyond the limit", s, n)
		} else if s == "hundred" && used != 0 {
			t.Errorf("parseNumber(%s) took %d words", s, used)
		}
	}
}
