package redox_test

import (
	"testing"

	"halves/balance"
	"halves/chem"
	"halves/redox"
	"halves/reference"
)

// The questions whose speed the project promises (BENCHMARKS.md).
var benchmarks = []struct {
	name, question string
	medium         redox.Medium
}{
	{"permanganate+oxalic acid/medium=acidic", "MnO4^- + H2C2O4 -> Mn^2+ + CO2", redox.Acidic},
	{"chromium(III) iodide+chlorine/medium=basic", "CrI3 + Cl2 -> CrO4^2- + IO4^- + Cl^-", redox.Basic},
	{"hexacyanidoferrate+permanganate/species=10", "K4Fe(CN)6 + KMnO4 + H2SO4 -> KHSO4 + Fe2(SO4)3 + MnSO4 + HNO3 + CO2 + H2O", redox.None},
	{"copper+nitric acid/medium=none", "Cu + HNO3 -> Cu(NO3)2 + NO + H2O", redox.None},
}

func BenchmarkWork(b *testing.B) {
	for _, q := range benchmarks {
		b.Run(q.name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				if _, err := redox.Work(q.question, q.medium, redox.Conventions{}); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

// BenchmarkReadAndBalance reads permanganate with oxalic acid and balances it,
// without the working.
func BenchmarkReadAndBalance(b *testing.B) {
	b.ReportAllocs()
	free := []*chem.Species{chem.Water, chem.Hydron}
	for b.Loop() {
		r, err := chem.ReadEquation("MnO4^- + H2C2O4 -> Mn^2+ + CO2", reference.Species())
		if err != nil {
			b.Fatal(err)
		}
		e := r.All[0].Equation
		p := balance.Problem{Free: free}
		for _, t := range e.Left {
			p.Left = append(p.Left, t.Species)
		}
		for _, t := range e.Right {
			p.Right = append(p.Right, t.Species)
		}
		if o, err := balance.Solve(p); err != nil || o.Answer == nil {
			b.Fatal(err)
		}
	}
}
