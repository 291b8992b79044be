package speech

import (
	"slices"
	"strings"

	"halves/chem"
)

var (
	units = [...]string{"zero", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve", "thirteen", "fourteen", "fifteen", "sixteen", "seventeen", "eighteen", "nineteen"}
	tens  = [...]string{"", "", "twenty", "thirty", "forty", "fifty", "sixty", "seventy", "eighty", "ninety"}
	// scales are the powers of a thousand, on the short scale.
	scales = [...]string{"", "thousand", "million", "billion", "trillion", "quadrillion", "quintillion"}
	// parts are the denominators that have a word of their own.
	parts = [...]string{"", "", "half", "third", "quarter", "fifth", "sixth", "seventh", "eighth", "ninth", "tenth"}
)

// Number says a whole number: "twenty-eight", "one thousand four", "minus two".
// There is no "and" in a number, since it stands between numbers in a list.
// Every int64 is said exactly.
func Number(n int64) string {
	if n < 0 {
		return "minus " + cardinal(uint64(-n)) // two's complement: right for the least int64 too
	}
	return cardinal(uint64(n))
}

func cardinal(n uint64) string {
	if n < 1000 {
		return belowThousand(n)
	}
	var groups []string
	for i := 0; n > 0; i, n = i+1, n/1000 {
		if g := n % 1000; g > 0 {
			word := belowThousand(g)
			if i > 0 {
				word += " " + scales[i]
			}
			groups = append(groups, word)
		}
	}
	var b strings.Builder
	for i := len(groups) - 1; i >= 0; i-- {
		b.WriteString(groups[i])
		if i > 0 {
			b.WriteByte(' ')
		}
	}
	return b.String()
}

func belowThousand(n uint64) string {
	switch {
	case n < 20:
		return units[n]
	case n < 100 && n%10 == 0:
		return tens[n/10]
	case n < 100:
		return tens[n/10] + "-" + units[n%10]
	case n%100 == 0:
		return units[n/100] + " hundred"
	}
	return units[n/100] + " hundred " + belowThousand(n%100)
}

// Ratio says a number that need not be whole: "five halves", "one third",
// "seven over twelve", "minus one half".
func Ratio(r chem.Ratio) string {
	n, d := r.Num(), r.Den()
	switch {
	case d == 1:
		return Number(n)
	case d >= int64(len(parts)):
		return Number(n) + " over " + Number(d)
	case n == 1 || n == -1:
		return Number(n) + " " + parts[d]
	case d == 2:
		return Number(n) + " halves"
	}
	return Number(n) + " " + parts[d] + "s"
}

// Signed says a number with its sign, as charges and oxidation states are
// said: "plus seven", "minus one half", "zero".
func Signed(r chem.Ratio) string {
	if r.Sign() > 0 {
		return "plus " + Ratio(r)
	}
	return Ratio(r)
}

// parseNumber reads the words of a whole number from 0 at the start of words
// and returns how many of them it took, 0 where they are no number or one that
// passes the limit.
func parseNumber(words []string, limit int64) (n int64, used int) {
	last := len(scales) // each group of a number has a smaller scale than the one before
	for last > 0 {
		group, took := parseBelowThousand(words[used:])
		if took == 0 || group == 0 && used > 0 {
			break
		}
		scale, power := 0, int64(1)
		if used+took < len(words) && group > 0 {
			scale = max(slices.Index(scales[:], words[used+took]), 0)
		}
		if scale >= last {
			break
		}
		if last = scale; scale > 0 {
			took++
		}
		for range scale {
			power *= 1000
		}
		part, ok := chem.Product(group, power)
		if !ok {
			return 0, 0
		}
		if n, ok = chem.Sum(n, part); !ok || n > limit {
			return 0, 0
		}
		used += took
	}
	return n, used
}

func parseBelowThousand(words []string) (n int64, used int) {
	if len(words) == 0 {
		return 0, 0
	}
	n, ok := parseBelowHundred(words[0])
	if !ok {
		return 0, 0
	}
	if n == 0 || n > 9 || len(words) < 2 || words[1] != "hundred" {
		return n, 1
	}
	n, used = n*100, 2
	if len(words) > 2 && (len(words) < 4 || words[3] != "hundred") {
		if rest, ok := parseBelowHundred(words[2]); ok && rest > 0 {
			n, used = n+rest, 3
		}
	}
	return n, used
}

func parseBelowHundred(word string) (int64, bool) {
	if i := slices.Index(units[:], word); i >= 0 {
		return int64(i), true
	}
	ten, unit, both := strings.Cut(word, "-")
	i, k := slices.Index(tens[2:], ten), slices.Index(units[1:10], unit)
	if i < 0 || both && k < 0 {
		return 0, false
	}
	return int64(i+2)*10 + int64(k+1), true
}
