package document

import (
	"slices"
	"strings"

	"halves/chem"
	"halves/redox"
)

// unknownsOf returns the coefficients that a solution asks for as they are
// written: a, b, or x1, x2 where there are many; nil for a method without
// unknowns.
func unknownsOf(steps []redox.Step) []string {
	var out []string
	for _, st := range steps {
		if st.Rule != redox.NameUnknowns {
			continue
		}
		for i, r := range st.Written {
			if r.Level != chem.Variable {
				continue
			}
			name := r.Text
			if i+1 < len(st.Written) && st.Written[i+1].Level == chem.Subscript {
				name += st.Written[i+1].Text
			}
			out = append(out, name)
		}
	}
	return out
}

// algebraAt reads the equation among unknowns that s begins with, as "4b + 4 =
// 2f + g" or "-2b = -f", and returns its runs and how many bytes it takes; 0
// where s begins with none. A word that looks like an unknown ("a") is one only
// within such an equation.
func algebraAt(s string, unknowns []string) (runs []chem.Run, n int) {
	if len(unknowns) == 0 {
		return nil, 0
	}
	relation, unknown := false, false
	for {
		term, k, isUnknown := algebraTerm(s[n:], unknowns)
		if k == 0 {
			return nil, 0
		}
		runs, unknown, n = append(runs, term...), unknown || isUnknown, n+k
		sign := ""
		for _, x := range [...]string{" + ", " - ", " − ", " = "} {
			if strings.HasPrefix(s[n:], x) {
				sign = x
			}
		}
		if sign == "" || sign == " = " && relation {
			break
		}
		relation = relation || sign == " = "
		runs = append(runs, chem.Run{Text: strings.ReplaceAll(sign, "−", "-")})
		n += len(sign)
	}
	if !relation || !unknown || n < len(s) && strings.IndexByte(" ,;.", s[n]) < 0 {
		return nil, 0
	}
	return runs, n
}

// algebraTerm reads a number, an unknown, or both: "4", "-3/2", "2b".
func algebraTerm(s string, unknowns []string) (runs []chem.Run, n int, unknown bool) {
	number := ""
	for _, x := range [...]string{"-", "−"} {
		if strings.HasPrefix(s, x) {
			number, n = "-", len(x)
		}
	}
	digits := n
	for n < len(s) && (s[n] >= '0' && s[n] <= '9' || s[n] == '/' && n > digits) {
		n++
	}
	if number += s[digits:n]; number != "" {
		runs = append(runs, chem.Run{Text: number})
	}
	from := n
	for n < len(s) && (s[n] >= 'a' && s[n] <= 'z' || n > from && s[n] >= '0' && s[n] <= '9') {
		n++
	}
	switch name := s[from:n]; {
	case name == "" && from > digits:
		return runs, n, false
	case name == "" || !slices.Contains(unknowns, name):
		return nil, 0, false
	default:
		runs = append(runs, chem.Run{Text: name[:1], Level: chem.Variable})
		if len(name) > 1 {
			runs = append(runs, chem.Run{Text: name[1:], Level: chem.Subscript})
		}
		return runs, n, true
	}
}
