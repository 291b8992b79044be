package document

import (
	"strings"

	"halves/chem"
)

// isSign reports whether a run parts the terms of an equation or of a line of
// algebra.
func isSign(r chem.Run) bool {
	if r.Level != chem.Normal {
		return false
	}
	switch r.Text {
	case " + ", " - ":
		return true
	}
	return IsRelation(r)
}

// IsRelation reports whether a run parts the sides: as a line has its sign, or as
// it is printed.
func IsRelation(r chem.Run) bool {
	if r.Level != chem.Normal {
		return false
	}
	switch r.Text {
	case " -> ", " = ", "->", " → ", "→", " <=> ":
		return true
	}
	return false
}

// isComma reports whether a run parts the lines of a list: "a = 2, b = 5".
func isComma(r chem.Run) bool { return r.Level == chem.Normal && r.Text == ", " }

// IsAlgebra reports whether a line has unknowns and no formulas.
func IsAlgebra(runs []chem.Run) bool {
	unknowns := false
	for _, r := range runs {
		switch {
		case r.Level == chem.Variable:
			unknowns = true
		case r.Level == chem.Normal && strings.ContainsAny(r.Text, "ABCDEFGHIJKLMNOPQRSTUVWXYZ"):
			return false
		}
	}
	return unknowns
}

// termsOf cuts an equation into its terms, each but the first with the sign
// before it, and a list after its commas. A formula is one term.
func termsOf(runs []chem.Run) [][]chem.Run {
	if len(runs) == 0 {
		return nil
	}
	n := 1
	for _, r := range runs {
		if isSign(r) || isComma(r) {
			n++
		}
	}
	out := make([][]chem.Run, 0, n)
	from := 0
	for i, r := range runs {
		switch {
		case i > from && isSign(r):
			out = append(out, runs[from:i])
			from = i
		case isComma(r) && i+1 < len(runs):
			out = append(out, runs[from:i+1])
			from = i + 1
		}
	}
	return append(out, runs[from:])
}

// SidesOf parts a line at its arrow, which begins the right side. Without one
// right is nil.
func SidesOf(runs []chem.Run) (left, right []chem.Run) {
	for i, r := range runs {
		if IsRelation(r) {
			return runs[:i], runs[i:]
		}
	}
	return runs, nil
}

// aligned reports which of the equations of a group can stand with their arrows
// one under the other on lines as wide as room, as width measures them. A line
// that is longer stands for itself; all do where the widest left side and the
// widest right side have no room together. Formulas and algebra do not stand
// under each other.
func aligned(group []Block, room int, width func([]chem.Run) int) []bool {
	out := make([]bool, len(group))
	algebra := false
	for _, b := range group {
		algebra = algebra || IsAlgebra(b.(Equation).Line)
	}
	l, r := 0, 0
	for i, b := range group {
		left, right := SidesOf(b.(Equation).Line)
		if right == nil || algebra && !IsAlgebra(b.(Equation).Line) {
			continue
		}
		if a, b := width(left), width(right); a+b <= room {
			out[i] = true
			l, r = max(l, a), max(r, b)
		}
	}
	if l+r > room {
		clear(out)
	}
	return out
}

// rowsOf fills lines as wide as room with terms, as width measures them; all
// but the first are shorter by hang.
func rowsOf(terms [][]chem.Run, room, hang int, width func([]chem.Run) int) [][][]chem.Run {
	var out [][][]chem.Run
	from, used := 0, 0
	for i, t := range terms {
		w := width(t)
		if i > from && used+w > room {
			out = append(out, terms[from:i])
			if from == 0 {
				room -= hang
			}
			from, used = i, 0
		}
		used += w
	}
	if from < len(terms) {
		out = append(out, terms[from:])
	}
	return out
}
