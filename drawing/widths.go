package drawing

// family is the face of the letters. Arial and Helvetica have the same widths.
const family = `Arial,Helvetica,"Liberation Sans","DejaVu Sans",sans-serif`

// The advance widths of letters in thousandths of their size, measured from
// DejaVu Sans and DejaVu Sans Bold 2.37 (table hmtx). It is the widest of the
// faces that family names: a text in Arial is about a tenth shorter, so that a
// place that holds the estimate holds the text. Where Arial's sign is wider (the
// arrow, 1000) that is the figure.
var (
	advances = [...]uint16{ // from U+0020 to U+007E
		318, 401, 460, 838, 636, 950, 780, 275, 390, 390, 500, 838, 318, 361, 318, 337,
		636, 636, 636, 636, 636, 636, 636, 636, 636, 636, 337, 337, 838, 838, 838, 531,
		1015, 684, 686, 698, 770, 632, 575, 775, 752, 295, 295, 656, 557, 863, 748, 787,
		603, 787, 695, 635, 611, 732, 684, 989, 685, 611, 685, 390, 337, 390, 838, 500,
		500, 613, 635, 550, 635, 615, 352, 635, 634, 278, 278, 579, 278, 974, 634, 612,
		635, 635, 411, 521, 392, 634, 592, 818, 592, 592, 525, 636, 337, 636, 838,
	}
	boldAdvances = [...]uint16{
		348, 456, 521, 838, 696, 1002, 872, 306, 457, 457, 523, 838, 380, 415, 380, 365,
		696, 696, 696, 696, 696, 696, 696, 696, 696, 696, 400, 400, 838, 838, 838, 580,
		1000, 774, 762, 734, 830, 683, 683, 821, 837, 372, 372, 775, 637, 995, 837, 850,
		733, 850, 770, 720, 682, 812, 774, 1103, 771, 724, 725, 457, 365, 457, 838, 500,
		500, 675, 716, 593, 716, 678, 435, 716, 712, 343, 343, 665, 343, 1042, 712, 687,
		716, 716, 493, 595, 478, 712, 652, 924, 645, 652, 582, 712, 365, 712, 838,
	}
)

// advance is the width of a letter. Of one that is in no table it is more than
// any letter of the Latin and Greek alphabets has.
func advance(c rune, bold bool) int {
	switch {
	case c >= ' ' && c <= '~' && bold:
		return int(boldAdvances[c-' '])
	case c >= ' ' && c <= '~':
		return int(advances[c-' '])
	}
	switch c {
	case '−', '×', '±', '≤', '≥', '⇌':
		return 838
	case '→':
		return 1000
	case '·', '’', '\u00a0':
		return 380
	case '°', '–':
		return 500
	}
	return 1100
}
