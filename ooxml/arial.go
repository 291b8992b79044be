package ooxml

import "halves/chem"

// The advance widths of Arial in thousandths of the size, U+0020 to U+007E, as
// its free companion Liberation Sans 1.07 has them (table hmtx).
var (
	arialAdvances = [...]uint16{
		278, 278, 355, 556, 556, 889, 667, 191, 333, 333, 389, 584, 278, 333, 278, 278,
		556, 556, 556, 556, 556, 556, 556, 556, 556, 556, 278, 278, 584, 584, 584, 556,
		1015, 667, 667, 722, 722, 667, 611, 778, 722, 278, 500, 667, 556, 833, 722, 778,
		667, 778, 722, 667, 611, 722, 667, 944, 667, 667, 611, 278, 278, 278, 469, 556,
		333, 556, 556, 500, 556, 556, 278, 556, 556, 222, 222, 500, 222, 833, 556, 556,
		556, 556, 333, 500, 278, 556, 500, 722, 500, 500, 500, 334, 260, 334, 584,
	}
	arialBold = [...]uint16{
		278, 333, 474, 556, 556, 889, 722, 238, 333, 333, 389, 584, 278, 333, 278, 278,
		556, 556, 556, 556, 556, 556, 556, 556, 556, 556, 333, 333, 584, 584, 584, 611,
		975, 722, 722, 722, 722, 667, 611, 778, 722, 278, 556, 722, 611, 833, 722, 778,
		667, 778, 722, 667, 611, 722, 667, 944, 667, 667, 611, 333, 278, 333, 584, 556,
		333, 556, 611, 556, 611, 556, 333, 611, 611, 278, 278, 556, 278, 889, 611, 611,
		611, 611, 389, 556, 333, 611, 556, 778, 556, 556, 500, 389, 280, 389, 584,
	}
)

func arialAdvance(c rune, bold bool) int {
	switch {
	case c >= ' ' && c <= '~' && bold:
		return int(arialBold[c-' '])
	case c >= ' ' && c <= '~':
		return int(arialAdvances[c-' '])
	}
	switch c {
	case '−', '×', '±', '≤', '≥':
		return 584
	case '→', '⇌', '—', '…':
		return 1000
	case '·', '’', '‘', '\u00a0':
		return 278
	case '°':
		return 400
	case 'Δ':
		return 700
	}
	return 600 // letters of other alphabets, about
}

// arialWidth is the length of a run in letters of a size.
func arialWidth(r chem.Run, size float64, bold bool) float64 {
	n := 0
	for _, c := range r.Text {
		if !isControl(c) {
			n += arialAdvance(c, bold)
		}
	}
	if r.Level == chem.Subscript || r.Level == chem.Superscript {
		size *= scriptSize
	}
	return size * float64(n) / 1000
}
