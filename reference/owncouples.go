package reference

import (
	"fmt"
	"slices"

	"halves/chem"
)

var ownCoupleColumns = []ownColumn{{"half_reaction", true}, {"volts", true}, {"medium", false}, {"source", false}, {"slow", false}, {"slow_way", false}, {"note", false}}

// maxVolts is beyond every standard potential (-4.1 to 3.1 V in water), but not
// beyond a figure in millivolts.
const maxVolts = 6

// ReadCouples reads a user's table of potentials, parted by tabs, commas or
// semicolons, for CoupleTable.With. Its header names the columns half_reaction
// and volts and may name medium, source, slow, slow_way and note.
//
// A half-reaction is written as a reduction and balanced; a species without its
// phase is taken in its usual phase of the table of species, an ion in
// solution. Without a medium it is acidic where H^+ takes part, basic where
// OH^- does, else any. The rows come in the order of the file. name is the name
// of the table for messages; the error is a *TableError.
func ReadCouples(name, text string) ([]*Couple, error) {
	var all []*Couple
	lineOf := map[string]int{}
	err := eachOwnRow(name, text, ownCoupleColumns, func(r ownRow) error {
		c, err := ownCouple(r)
		if err != nil {
			return err
		}
		key := halfKey(c.Half)
		if first, twice := lineOf[key]; twice {
			return &TableError{Column: "half_reaction", Text: r.get("half_reaction"), Msg: fmt.Sprintf("stands in row %d too", first), Hint: "keep one of the two"}
		}
		lineOf[key] = r.line
		c.Row, c.ID = len(all), fmt.Sprintf("%s:%d", name, r.line)
		all = append(all, c)
		return nil
	})
	if err != nil {
		return nil, err
	}
	return all, nil
}

func ownCouple(r ownRow) (*Couple, error) {
	c := &Couple{Source: r.get("source"), Confidence: "own", Note: r.get("note"), Preferred: true, Slow: r.get("slow"), Own: true}
	var err error
	if c.Hindrances, err = readHindrances("slow_way", r.get("slow_way")); err != nil {
		return nil, err
	}
	switch {
	case c.Slow == "" && c.Hindrances != nil:
		return nil, &TableError{Column: "slow_way", Text: r.get("slow_way"), Msg: "stands without a reason", Hint: "write in the column slow why the couple is slow"}
	case c.Slow != "":
		c.SlowSource = c.Source
		if c.Hindrances == nil {
			c.Hindrances = []Hindrance{{Reduction: true, Oxidation: true}}
		}
	}
	text := r.get("half_reaction")
	if c.Half, err = ownReaction("half_reaction", text); err != nil {
		return nil, err
	}
	left, right := electrons(c.Half.Left), electrons(c.Half.Right)
	switch {
	case left == 0 && right == 0:
		return nil, &TableError{Column: "half_reaction", Text: text, Msg: "has no electrons", Hint: "write them as e^-"}
	case left == 0:
		return nil, &TableError{Column: "half_reaction", Text: text, Msg: "is an oxidation", Hint: "turn it round and change the sign of the potential"}
	case right > 0:
		return nil, &TableError{Column: "half_reaction", Text: text, Msg: "has electrons on both sides", Hint: "cancel them"}
	case len(c.Half.Left) == 1:
		return nil, &TableError{Column: "half_reaction", Text: text, Msg: "has nothing that takes the electrons", Hint: "write what is reduced on the left"}
	}
	c.Electrons = left
	if c.Volts, c.Text, err = ownFigure("volts", r.get("volts"), maxVolts, "V"); err != nil {
		return nil, err
	}
	if c.Medium = r.get("medium"); c.Medium == "" {
		c.Medium = mediumOf(c.Half)
	}
	if c.Medium != "acidic" && c.Medium != "basic" && c.Medium != "any" {
		return nil, &TableError{Column: "medium", Text: c.Medium, Msg: "is no medium", Hint: "write acidic, basic or any"}
	}
	return c, nil
}

func electrons(terms []chem.Term) int64 {
	n := int64(0)
	for _, t := range terms {
		if t.Species.IsElectron() {
			n += t.Coefficient.Num()
		}
	}
	return n
}

func mediumOf(half chem.Equation) string {
	for _, s := range half.Species() {
		switch {
		case s.Same(chem.Hydron) || s.Same(chem.Hydronium):
			return "acidic"
		case s.Same(chem.Hydroxide):
			return "basic"
		}
	}
	return "any"
}

// ownReaction reads a reaction as people write it. Of several ways to read it,
// those count that balance. The coefficients are made whole and every species
// gets its phase.
func ownReaction(column, text string) (e chem.Equation, err error) {
	readings, err := chem.ReadEquation(text, Species())
	if err != nil {
		return e, unread(column, text, err)
	}
	var sound []chem.Equation
	var open string // what does not balance in the likeliest reading
	for i, r := range readings.All {
		whole, ok := wholeNumbers(r.Equation)
		if !ok {
			return e, &TableError{Column: column, Text: text, Msg: "has coefficients too large to be counted", Hint: "write it with small whole numbers"}
		}
		fault := imbalance(whole)
		if fault == "" {
			sound = append(sound, whole)
		} else if i == 0 {
			open = fault
		}
	}
	switch len(sound) {
	case 0:
		return e, &TableError{Column: column, Text: text, Msg: "does not balance: " + open, Hint: "check the coefficients, and write a charge after a caret: MnO4^-"}
	case 1:
		return ownPhases(column, text, sound[0])
	}
	return e, &TableError{Column: column, Text: text, Msg: fmt.Sprintf("can be read as %s and as %s", sound[0], sound[1]), Hint: "write each charge after a caret: MnO4^-"}
}

// wholeNumbers multiplies an equation by the least number that makes its
// coefficients whole, and returns false where they become too large.
func wholeNumbers(e chem.Equation) (chem.Equation, bool) {
	factor, ok := int64(1), true
	for _, t := range e.Terms {
		if ok {
			factor, ok = chem.LCM(factor, t.Coefficient.Den())
		}
	}
	times := func(terms []chem.Term) []chem.Term {
		terms = slices.Clone(terms)
		for i, t := range terms {
			n, fits := chem.Product(t.Coefficient.Num(), factor/t.Coefficient.Den())
			if ok = ok && fits && n <= chem.MaxNumber; ok {
				terms[i].Coefficient = chem.Whole(n)
			}
		}
		return terms
	}
	if !ok {
		return e, false
	}
	whole := chem.Equation{Left: times(e.Left), Right: times(e.Right)}
	return whole, ok
}

// imbalance says which element or the charge does not balance, "" where all do.
// Coefficients are at most chem.MaxNumber, atoms of a species at most 1e9, and
// terms at most chem.MaxTerms, so that no sum leaves 64 bits.
func imbalance(e chem.Equation) string {
	var left, right [chem.MaxElement + 1]int64 // charge at 0
	for side, t := range e.Terms {
		sum := &left
		if side > 0 {
			sum = &right
		}
		n := t.Coefficient.Num()
		sum[0] += n * t.Species.Charge()
		for _, c := range t.Species.Composition() {
			sum[c.Element] += n * c.Atoms
		}
	}
	for z := range left {
		if z > 0 && left[z] != right[z] {
			return fmt.Sprintf("%d %s on the left, %d on the right", left[z], chem.Element(z).Symbol(), right[z])
		}
	}
	if left[0] != right[0] {
		return fmt.Sprintf("charge %+d on the left, %+d on the right", left[0], right[0])
	}
	return ""
}

// ownPhases gives each species its phase where the user gave none.
func ownPhases(column, text string, e chem.Equation) (chem.Equation, error) {
	for _, terms := range [][]chem.Term{e.Left, e.Right} {
		for i, t := range terms {
			s, ok := inUsualPhase(t.Species)
			if !ok {
				return e, &TableError{Column: column, Text: text, Msg: fmt.Sprintf("does not give the phase of %s", t.Species), Hint: fmt.Sprintf("write %s(s), (l), (g) or (aq)", t.Species)}
			}
			terms[i].Species = s
		}
	}
	return e, nil
}

// inUsualPhase returns the species in its phase, else in its usual one: an ion
// in solution, another species as the table of species has it. It returns false
// where that does not know the species.
func inUsualPhase(s *chem.Species) (*chem.Species, bool) {
	if s.IsElectron() || s.Phase() != chem.NoPhase {
		return s, true
	}
	if s.Charge() != 0 {
		return s.WithPhase(chem.Aqueous), true
	}
	if e := Species().Find(s); e != nil {
		return s.WithPhase(e.Phase), true
	}
	return nil, false
}
