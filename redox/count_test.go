package redox_test

import (
	"fmt"
	"math/big"
	"strconv"
	"strings"
	"testing"

	"halves/redox"
)

// counts adds up atoms and charge of one side of a canonical equation. It is a
// reader of its own, so that what the program prints is checked by code that
// shares nothing with it.
func counts(side string) (map[string]*big.Int, error) {
	total := map[string]*big.Int{"charge": new(big.Int)}
	add := func(key string, n int64, times *big.Int) {
		if total[key] == nil {
			total[key] = new(big.Int)
		}
		total[key].Add(total[key], new(big.Int).Mul(big.NewInt(n), times))
	}
	for _, term := range strings.Split(side, " + ") {
		times := big.NewInt(1)
		if head, rest, ok := strings.Cut(term, " "); ok {
			if _, good := times.SetString(head, 10); !good {
				return nil, fmt.Errorf("coefficient %q", head)
			}
			term = rest
		}
		for _, phase := range []string{"(s)", "(l)", "(g)", "(aq)"} {
			term = strings.TrimSuffix(term, phase)
		}
		formula, charge, charged := strings.Cut(term, "^")
		if charged {
			n := int64(1)
			if digits := charge[:len(charge)-1]; digits != "" {
				n, _ = strconv.ParseInt(digits, 10, 64)
			}
			if strings.HasSuffix(charge, "-") {
				n = -n
			}
			add("charge", n, times)
		}
		if formula == "e" {
			continue
		}
		for _, part := range strings.Split(formula, ".") {
			i := 0
			n, ok := digits(part, &i)
			if !ok {
				n = 1
			}
			if err := group(part, &i, n, func(el string, k int64) { add(el, k, times) }); err != nil {
				return nil, fmt.Errorf("%s: %w", term, err)
			}
		}
	}
	return total, nil
}

func digits(s string, i *int) (int64, bool) {
	start := *i
	for *i < len(s) && s[*i] >= '0' && s[*i] <= '9' {
		*i++
	}
	n, err := strconv.ParseInt(s[start:*i], 10, 64)
	return n, err == nil
}

func group(s string, i *int, times int64, add func(string, int64)) error {
	for *i < len(s) {
		switch c := s[*i]; {
		case c == '(' || c == '[' || c == '{':
			*i++
			inner := map[string]int64{}
			if err := group(s, i, 1, func(el string, n int64) { inner[el] += n }); err != nil {
				return err
			}
			*i++ // the closing bracket
			n, ok := digits(s, i)
			if !ok {
				n = 1
			}
			for el, k := range inner {
				add(el, k*n*times)
			}
		case c == ')' || c == ']' || c == '}':
			return nil
		case c >= 'A' && c <= 'Z':
			start := *i
			*i++
			if *i < len(s) && s[*i] >= 'a' && s[*i] <= 'z' {
				*i++
			}
			el := s[start:*i]
			n, ok := digits(s, i)
			if !ok {
				n = 1
			}
			add(el, n*times)
		default:
			return fmt.Errorf("character %q", c)
		}
	}
	return nil
}

// unbalanced names what an equation does not conserve, "" for nothing.
func unbalanced(equation string) string {
	left, right, ok := strings.Cut(equation, " -> ")
	if !ok {
		return "no arrow in " + equation
	}
	l, err := counts(left)
	if err != nil {
		return err.Error()
	}
	r, err := counts(right)
	if err != nil {
		return err.Error()
	}
	for key, n := range l {
		if r[key] == nil || n.Cmp(r[key]) != 0 {
			return key
		}
	}
	for key := range r {
		if l[key] == nil {
			return key
		}
	}
	return ""
}

// mustBalance checks a solution's equation, its halves and the lines that
// claim to be balanced, and that the coefficients are the lowest.
func mustBalance(t *testing.T, s *redox.Solution) {
	t.Helper()
	if bad := unbalanced(s.Equation.String()); bad != "" {
		t.Errorf("Work(%s): %s does not conserve %s", s.Given, s.Equation, bad)
	}
	g := new(big.Int)
	for _, x := range s.Equation.Terms {
		g.GCD(nil, nil, g, big.NewInt(x.Coefficient.Num()))
	}
	if g.Cmp(big.NewInt(1)) != 0 {
		t.Errorf("Work(%s): %s has the common factor %s", s.Given, s.Equation, g)
	}
	for _, h := range s.Halves {
		if len(h.Equation.Left)+len(h.Equation.Right) == 0 {
			continue
		}
		if bad := unbalanced(h.Equation.String()); bad != "" {
			t.Errorf("Work(%s): the half %s does not conserve %s", s.Given, h.Equation, bad)
		}
	}
	for _, st := range s.Steps {
		switch st.Rule {
		case redox.ChargeRule, redox.Equalize, redox.Add, redox.Cancel, redox.Neutralize, redox.FormWater, redox.LowestNumbers, redox.RestoreOthers, redox.Check:
			if bad := unbalanced(st.After.String()); bad != "" {
				t.Errorf("Work(%s): the line %s (%s) does not conserve %s", s.Given, st.After, st.Rule, bad)
			}
		}
	}
}

func TestCountsSeesImbalance(t *testing.T) {
	for equation, want := range map[string]string{
		"2 H2 + O2 -> 2 H2O":                    "",
		"H2 + O2 -> H2O":                        "O",
		"Fe^3+ + Sn^2+ -> Fe^2+ + Sn^4+":        "charge",
		"CuSO4.5H2O -> CuSO4 + 5 H2O":           "",
		"K4[Fe(CN)6] -> 4 K^+ + [Fe(CN)6]^4-":   "",
		"Fe4[Fe(CN)6]3 -> 4 Fe^3+ + Fe(CN)6^4-": "Fe",
	} {
		got := unbalanced(equation)
		if (got == "") != (want == "") {
			t.Errorf("unbalanced(%s) = %q, want %q", equation, got, want)
		}
	}
}
