package speech

import (
	"strconv"
	"strings"

	"halves/chem"
)

// number says a word that is a number: 12, +7, −1, 5/2, 1.51, 2+.
func number(w string) (string, bool) {
	if r, ok := ratio(w); ok {
		if strings.HasPrefix(w, "+") {
			return Signed(r), true
		}
		return Ratio(r), true
	}
	if n, ok := ratio(strings.TrimRight(w, "+-−")); ok && n.Sign() > 0 && !strings.ContainsAny(w[:1], "+-") {
		switch w[len(strings.TrimRight(w, "+-−")):] {
		case "+":
			return Ratio(n) + " plus", true
		case "-", "−":
			return Ratio(n) + " minus", true
		}
	}
	if strings.HasPrefix(w, "×") {
		if n, ok := number(w[len("×"):]); ok {
			return "times " + n, true
		}
	}
	for _, point := range [...]string{".", ","} {
		whole, digits, ok := strings.Cut(w, point)
		if !ok || digits == "" || strings.Trim(digits, "0123456789") != "" {
			continue
		}
		n, isNumber := number(whole)
		if !isNumber || strings.ContainsAny(whole, "/,.") {
			continue
		}
		said := n + map[string]string{".": " point", ",": " comma"}[point]
		for _, d := range digits {
			said += " " + units[d-'0']
		}
		return said, true
	}
	return "", false
}

// ratio reads 12, +7, -1, −1, 5/2.
func ratio(w string) (chem.Ratio, bool) {
	zero := chem.Whole(0)
	w = strings.TrimPrefix(w, "+")
	minus := false
	for _, m := range [...]string{"-", "−"} {
		if rest, ok := strings.CutPrefix(w, m); ok && !minus {
			w, minus = rest, true
		}
	}
	top, bottom, isFraction := strings.Cut(w, "/")
	if !isFraction {
		bottom = "1"
	}
	if top == "" || bottom == "" || strings.Trim(top+bottom, "0123456789") != "" {
		return zero, false
	}
	n, err := strconv.ParseInt(top, 10, 64)
	d, err2 := strconv.ParseInt(bottom, 10, 64)
	if err != nil || err2 != nil || d == 0 {
		return zero, false
	}
	if minus {
		n = -n
	}
	return chem.NewRatio(n, d), true
}
