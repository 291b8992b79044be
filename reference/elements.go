package reference

import (
	_ "embed"
	"fmt"
	"math/big"
	"strconv"
	"strings"
	"sync"

	"halves/chem"
)

//go:embed elements.tsv
var elementsTSV string

// An ElementEntry is a row of the table of elements.
type ElementEntry struct {
	Number      int
	Symbol      string
	Name        string   // as IUPAC spells it
	OtherName   string   // aluminum, cesium, sulphur; "" where there is none
	Weight      *big.Rat // abridged standard atomic weight, no unit; nil without a standard weight
	WeightText  string   // as printed, "" where Weight is nil
	Uncertainty *big.Rat // of the abridged weight, as printed; nil where Weight is nil
	MassNumber  string   // of a long-lived nuclide, where Weight is nil

	Electronegativity chem.Ratio // Pauling's scale, exact from the printed decimals; zero where there is none
	Group             int        // 1 to 18; 0 in the f block
	Period            int
	CommonStates      []int64 // in teaching order; empty where nothing is taught
	Note              string
	Source            string // of the weight, a key for SourceOf
	Confidence        string // "source-read" or "memory"

	decimals int // of WeightText
}

// ElementOf returns the row of an element, nil for an invalid one.
func ElementOf(e chem.Element) *ElementEntry {
	if e < 1 || e > chem.MaxElement {
		return nil
	}
	return elements()[e-1]
}

var elements = sync.OnceValue(func() []*ElementEntry {
	return must(loadElements(elementsTSV))
})

var elementColumns = []string{"Z", "symbol", "name", "other_spelling", "abridged_value", "abridged_uncertainty", "mass_number", "electronegativity_pauling", "group", "period", "common_oxidation_states", "source", "confidence", "note"}

func loadElements(text string) ([]*ElementEntry, error) {
	all := make([]*ElementEntry, 0, chem.MaxElement)
	err := eachRow("elements.tsv", text, elementColumns, func(line string) error {
		f, err := fieldsOf(line, elementColumns)
		if err != nil {
			return err
		}
		e := &ElementEntry{Number: len(all) + 1, Symbol: f[1], Name: f[2], OtherName: f[3], WeightText: f[4], MassNumber: f[6], Source: f[11], Confidence: f[12], Note: f[13]}
		if f[0] != strconv.Itoa(e.Number) {
			return fieldError("Z", f[0], fmt.Sprintf("should be %d", e.Number))
		}
		if e.WeightText != "" {
			if e.Weight, e.decimals, err = decimal("abridged_value", e.WeightText); err != nil {
				return err
			}
			if e.Uncertainty, _, err = decimal("abridged_uncertainty", f[5]); err != nil {
				return err
			}
		}
		if f[7] != "" {
			en, _, err := decimal("electronegativity_pauling", f[7])
			if err != nil {
				return err
			}
			e.Electronegativity = chem.NewRatio(en.Num().Int64(), en.Denom().Int64())
		}
		if f[8] != "" {
			if e.Group, err = strconv.Atoi(f[8]); err != nil {
				return fieldError("group", f[8], "is not a number")
			}
		}
		if e.Period, err = strconv.Atoi(f[9]); err != nil {
			return fieldError("period", f[9], "is not a number")
		}
		for s := range strings.FieldsSeq(f[10]) {
			state, ok := signed(s)
			if !ok || !state.IsWhole() {
				return fieldError("common_oxidation_states", s, "is not a signed whole number")
			}
			e.CommonStates = append(e.CommonStates, state.Num())
		}
		all = append(all, e)
		return nil
	})
	if err == nil && len(all) != int(chem.MaxElement) {
		err = fmt.Errorf("elements.tsv: %d elements, want %d", len(all), chem.MaxElement)
	}
	return all, err
}

// MolarMass returns the molar mass in g/mol, exact from the abridged atomic
// weights, and the number of decimals that these justify.
//
// A decimal is justified where every weight was printed to it and where the
// uncertainties, all taken to their full extent in one direction, stay below
// ten units of it, so that the digit before it is sure: common practice, no
// source.
//
// The error names an element that has no standard atomic weight.
func MolarMass(c chem.Composition) (mass *big.Rat, decimals int, err error) {
	mass, uncertainty := new(big.Rat), new(big.Rat)
	for i, n := range c {
		e := ElementOf(n.Element)
		if e == nil || e.Weight == nil {
			return nil, 0, &NoWeightError{Element: n.Element}
		}
		atoms := new(big.Rat).SetInt64(n.Atoms)
		mass.Add(mass, new(big.Rat).Mul(atoms, e.Weight))
		uncertainty.Add(uncertainty, new(big.Rat).Mul(atoms, e.Uncertainty))
		if i == 0 || e.decimals < decimals {
			decimals = e.decimals
		}
	}
	unit := new(big.Rat)
	for ; decimals > 0; decimals-- {
		power := int64(1)
		for range decimals {
			power *= 10
		}
		if uncertainty.Cmp(unit.SetFrac64(10, power)) < 0 {
			break
		}
	}
	return mass, decimals, nil
}

// A NoWeightError says that an element has no standard atomic weight, since
// its isotopes have no fixed proportions in nature.
type NoWeightError struct{ Element chem.Element }

func (e *NoWeightError) Error() string {
	if entry := ElementOf(e.Element); entry != nil {
		return fmt.Sprintf("%s (%s) has no standard atomic weight; give the molar mass of the isotope that is used", entry.Name, entry.Symbol)
	}
	return fmt.Sprintf("there is no element number %d", e.Element)
}
