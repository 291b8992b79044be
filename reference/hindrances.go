package reference

import (
	"strconv"
	"strings"

	"halves/chem"
)

// A Hindrance says when a couple that is slow in practice is so. Sulfate is
// hardly reduced, but sulfite is oxidized fast; zinc gives off hydrogen from an
// acid in spite of the overpotential, lead does not.
type Hindrance struct {
	Reduction, Oxidation bool            // the directions in which it is slow
	Below                float64         // only where the potential of the cell is below, in volts; 0 for no bound
	By                   []*chem.Species // only where one of these reacts with it; nil for any
	WithoutAcid          bool            // only where no hydrogen ion is used up
}

// readHindrances reads the column slow_way: directions with their conditions,
// parted by semicolons.
//
//	oxidation; reduction below 0.3 V
//	reduction without H^+
//	oxidation by MnO4^-, Ce^4+
//
// "both" is both directions. There is none in an empty text. The error is a
// *TableError.
func readHindrances(column, text string) ([]Hindrance, error) {
	var all []Hindrance
	if text == "" {
		return nil, nil
	}
	for part := range strings.SplitSeq(text, ";") {
		direction, rest, _ := strings.Cut(strings.TrimSpace(part), " ")
		var h Hindrance
		switch direction {
		case "reduction":
			h.Reduction = true
		case "oxidation":
			h.Oxidation = true
		case "both":
			h.Reduction, h.Oxidation = true, true
		default:
			return nil, hindranceError(column, text)
		}
		condition, what, _ := strings.Cut(rest, " ")
		switch condition {
		case "":
		case "below":
			volts, found := strings.CutSuffix(what, " V")
			x, err := strconv.ParseFloat(volts, 64)
			if !found || err != nil || !(x > 0 && x < maxVolts) {
				return nil, hindranceError(column, text)
			}
			h.Below = x
		case "without":
			if what != "H^+" {
				return nil, hindranceError(column, text)
			}
			h.WithoutAcid = true
		case "by":
			for formula := range strings.SplitSeq(what, ", ") {
				s, err := readOne(column, formula)
				if err != nil {
					return nil, err
				}
				h.By = append(h.By, s)
			}
		default:
			return nil, hindranceError(column, text)
		}
		all = append(all, h)
	}
	return all, nil
}

func hindranceError(column, text string) error {
	return &TableError{Column: column, Text: text, Msg: "does not say which way the couple is slow",
		Hint: `write reduction, oxidation or both, each with "below 0.6 V", "without H^+" or "by MnO4^-, Ce^4+" behind it where that matters, parted by semicolons`}
}
