package ooxml

import (
	"cmp"
	"slices"
	"strings"

	"halves/chem"
	"halves/document"
	"halves/drawing"
)

// Lengths are estimated, since it is the reader's machine that has the faces. The
// estimate of package drawing is that of a wide one, DejaVu Sans. These are what
// common faces need of it at most: those of the styles (Cambria, Calibri), and
// those that mostly take their place (Times New Roman, Arial), measured from
// their free companions on lines of formulas. Cambria needs 0.74 to 0.84 of it.
const (
	common     = 0.9
	commonBold = 0.86
)

// widthOf is the length of pieces in letters of a size.
func widthOf(all []piece, size float64, bold bool) float64 {
	w := 0.0
	for _, p := range all {
		w += widthOfText(p.text, p.kind, size, bold)
	}
	return w
}

func widthOfText(s string, k kind, size float64, bold bool) float64 {
	level := chem.Normal
	if k == lowered || k == raised {
		level = chem.Subscript
	}
	if strings.Contains(s, joiner) {
		s = strings.ReplaceAll(s, joiner, "") // it has no width
	}
	w := drawing.Width([]chem.Run{{Text: s, Level: level}}, size, bold)
	if bold {
		return commonBold * w
	}
	return common * w
}

// linesOf counts the lines that pieces take: the first has room for first, the
// others for rest. A word that is longer than a line is broken anywhere.
func linesOf(all []piece, size float64, bold bool, first, rest float64) int {
	first, rest = max(first, size), max(rest, size)
	lines, room, used, word := 1, first, 0.0, 0.0
	space := widthOfText(" ", prose, size, bold)
	gap := 0.0 // the space before the word, which a line does not begin with
	end := func() {
		if word == 0 {
			return
		}
		if used > 0 && used+gap+word > room {
			lines, room, used, gap = lines+1, rest, 0, 0
		}
		for used == 0 && word > room {
			word -= room
			lines, room = lines+1, rest
		}
		used += gap + word
		word, gap = 0, 0
	}
	for _, p := range all {
		if p.kind == newLine {
			end()
			lines, room, used, gap = lines+1, rest, 0, 0
			continue
		}
		for s := p.text; ; {
			cut := strings.IndexByte(s, ' ')
			if cut < 0 {
				word += widthOfText(s, p.kind, size, bold)
				break
			}
			word += widthOfText(s[:cut], p.kind, size, bold)
			end()
			gap += space
			s = s[cut+1:]
		}
	}
	end()
	return lines
}

// An alignment is where the arrows of the lines of a working stand, one under the
// other.
type alignment struct {
	at      float64 // from the left of a line; 0 where nothing is aligned
	size    float64 // of the letters
	room    float64
	bold    bool
	algebra bool // lines with unknowns are aligned, and others not
}

// align finds the place for as many lines as have room together. Lines that are
// too long to stand with the others stand for themselves, and algebra and
// formulas do not stand under each other. nil is a step without a line.
func align(lines [][]chem.Run, size, room float64, bold bool) alignment {
	a := alignment{size: size, room: room, bold: bold, algebra: slices.ContainsFunc(lines, document.IsAlgebra)}
	type sides struct{ left, right float64 }
	var all []sides
	for _, line := range lines {
		if l, r, ok := a.sides(line); ok {
			all = append(all, sides{l, r})
		}
	}
	slices.SortFunc(all, func(x, y sides) int { return cmp.Compare(x.left+x.right, y.left+y.right) })
	widest := 0.0 // of the right sides
	for _, x := range all {
		l, r := max(a.at, x.left), max(widest, x.right)
		if l+r > room {
			break
		}
		a.at, widest = l, r
	}
	return a
}

// sides measures the sides of a line; not ok where it has no two, or is of the
// other kind.
func (a alignment) sides(line []chem.Run) (left, right float64, ok bool) {
	l, r := document.SidesOf(line)
	if r == nil || a.algebra && !document.IsAlgebra(line) {
		return 0, 0, false
	}
	return widthOf(piecesOfRuns(l), a.size, a.bold), widthOf(piecesOfRuns(r), a.size, a.bold), true
}

// takes reports whether a line stands with the others.
func (a alignment) takes(line []chem.Run) bool {
	l, r, ok := a.sides(line)
	return ok && a.at > 0 && l <= a.at && a.at+r <= a.room
}

// equationsAt counts the equations that all begins with, the answer not among
// them.
func equationsAt(all []document.Block) int {
	n := 0
	for n < len(all) {
		if e, ok := all[n].(document.Equation); !ok || e.Final {
			break
		}
		n++
	}
	return n
}

func linesOfWorking(group []document.Block) [][]chem.Run {
	out := make([][]chem.Run, len(group))
	for i, b := range group {
		out[i] = b.(document.Equation).Line
	}
	return out
}

// anyFresh reports whether a line of a working is set in bold.
func anyFresh(group []document.Block) bool {
	return slices.ContainsFunc(group, func(b document.Block) bool { return b.(document.Equation).Fresh })
}
