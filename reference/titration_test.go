package reference_test

import (
	"strings"
	"testing"

	"halves/balance"
	"halves/chem"
	"halves/reference"
)

// equationOf returns the equation that a fact is or ends with.
func equationOf(fact string) (string, bool) {
	if !strings.Contains(fact, " -> ") {
		return "", false
	}
	if _, after, ok := strings.Cut(fact, ": "); ok {
		return after, true
	}
	return fact, true
}

// checkTyped reads an equation and counts its atoms and charge.
func checkTyped(t *testing.T, name, text string) {
	t.Helper()
	r, err := chem.ReadEquation(text, reference.Species())
	if err != nil {
		t.Errorf("%s: %v", name, err)
		return
	}
	ledger, err := balance.NewLedger(r.All[0].Equation)
	if err != nil || !ledger.Closed() {
		t.Errorf("%s: %s does not balance: %v", name, text, ledger)
	}
}

// The molar masses among the facts are sums of the table of elements.
func TestMolarMassesOfStandards(t *testing.T) {
	n := 0
	for _, f := range reference.TitrationFacts() {
		if f.Unit != "g/mol" {
			continue
		}
		n++
		formula := f.Fact[strings.LastIndexByte(f.Fact, ' ')+1:]
		mass, _, err := reference.MolarMass(species(t, formula).Composition())
		if err != nil {
			t.Errorf("%s: %v", f.ID, err)
			continue
		}
		decimals := len(f.Value) - strings.IndexByte(f.Value, '.') - 1
		if got := mass.FloatString(decimals); got != f.Value {
			t.Errorf("%s: %s has %s g/mol, the table says %s", f.ID, formula, got, f.Value)
		}
	}
	if n < 10 {
		t.Errorf("%d molar masses", n)
	}
}
