// Package names reads and writes the names of species: the common names of
// textbooks, the old names of cations, the Stock names of oxoanions, and
// systematic names.
//
// A common name is what most textbooks print (permanganate ion). A Stock name
// gives the state of the central atom as a Roman numeral (manganate(VII) ion).
// An additive name counts the ligands of the central atom and gives the charge
// (tetraoxidomanganate(1-) ion). A medium is the solution that a question
// names: in acid.
//
// Names stand in the table of package reference; beyond it they are read and
// made by rule: cations from element and charge, salts from their ions,
// hydrates, acids from anions, compounds of two elements by multiplying
// prefixes, complexes from their ligands. The rules are those of the IUPAC Red
// Book 2005 (chapters IR-5 to IR-9), from memory, and older usage.
//
// A question in words becomes one in formulas (Translate). Reading those
// formulas is left to package chem, the question to package redox; states are
// taken from the table, never worked out.
package names

import (
	"fmt"
	"strings"
)

// A Style says which of several names of a species is written.
type Style uint8

// The styles.
const (
	Common      Style = iota // as most textbooks print them: permanganate ion, iron(III) ion
	Traditional              // with the old names of cations: ferric ion, cuprous oxide
	Stock                    // with the state of every central atom: manganate(VII) ion, sulfate(IV) ion
	Systematic               // additive names with charge numbers: tetraoxidomanganate(1-), iron(3+)
)

// Styles lists the styles by the words that name them.
var Styles = []string{"common", "traditional", "stock", "systematic"}

// String returns the word that names the style.
func (s Style) String() string { return Styles[s] }

// ParseStyle reads the word that names a style.
func ParseStyle(s string) (Style, error) {
	for i, name := range Styles {
		if strings.EqualFold(strings.TrimSpace(s), name) {
			return Style(i), nil
		}
	}
	return 0, fmt.Errorf("no style of names is called %q", s)
}

// A Choice is what a class writes. The zero value is the default.
type Choice struct {
	Style Style
	Sulph bool // sulphate, not sulfate
}

// Roman writes a positive number in Roman numerals.
func Roman(n int64) string {
	var b strings.Builder
	for _, d := range []struct {
		value int64
		text  string
	}{{10, "X"}, {9, "IX"}, {5, "V"}, {4, "IV"}, {1, "I"}} {
		for ; n >= d.value; n -= d.value {
			b.WriteString(d.text)
		}
	}
	return b.String()
}
