package energetics_test

import (
	"errors"
	"math"
	"testing"

	"halves/balance"
	"halves/checks"
	"halves/chem"
	"halves/energetics"
	"halves/redox"
	"halves/reference"
)

// FuzzRead: whatever is typed, Read gives a balanced reduction or an error, and
// Of a finite potential or an error of its own.
func FuzzRead(f *testing.F) {
	for _, s := range []string{"MnO4^- -> Mn^2+, in acid", "Fe^3+ + e^- -> Fe^2+", "AgBr -> Ag", "Br2(aq) -> Br^-", "Cl2 -> ClO^-, in base", "Zn + Cu^2+ -> Zn^2+ + Cu", "e^- -> e^-", "H^+ -> H2", "2 H2O + 2 e^- -> H2 + 2 OH^-", "O3 -> O2", "1000000 Fe^3+ + 1000000 e^- -> 1000000 Fe^2+", "C60 -> CO2", "H3O^+ + e^- -> H2 + H2O", "HNO3 -> NO"} {
		f.Add(s)
	}
	tables := energetics.Shipped()
	f.Fuzz(func(t *testing.T, text string) {
		e, err := tables.Read(text)
		if err != nil {
			return
		}
		p, err := tables.Of(e)
		var half *energetics.HalfError
		var missing *energetics.MissingError
		switch {
		case errors.As(err, &half), errors.As(err, &missing):
			return
		case err != nil:
			t.Fatalf("Of(%s): %v, an error of no kind of its own", e, err)
		}
		if math.IsNaN(p.Volts) || math.Abs(p.Volts) > 60 || !(p.Doubt > 0) || p.Electrons <= 0 || p.Says == "" {
			t.Fatalf("Of(%s) = %+v", e, p)
		}
		if l, err := balance.NewLedger(p.Half); err != nil || !l.Closed() {
			t.Fatalf("Of(%s) gives the half %s, which does not balance", e, p.Half)
		}
	})
}

// FuzzOf: halves made of the species of two rows, balanced or not.
func FuzzOf(f *testing.F) {
	f.Add(uint16(0), uint16(1), int8(1), int8(1))
	f.Add(uint16(40), uint16(40), int8(1), int8(-1))
	f.Add(uint16(100), uint16(101), int8(3), int8(-2))
	tables := energetics.Shipped()
	all := reference.Couples().All()
	f.Fuzz(func(t *testing.T, i, j uint16, m, n int8) {
		a, b := all[int(i)%len(all)], all[int(j)%len(all)]
		sum := map[string]int64{}
		kinds := map[string]*chem.Species{}
		for k, c := range map[int64]*reference.Couple{int64(m): a, int64(n): b} {
			for side, x := range c.Half.Terms {
				key := x.Species.Key() + x.Species.Phase().String()
				kinds[key] = x.Species
				sum[key] += side * k * x.Coefficient.Num()
			}
		}
		var e chem.Equation
		for key, k := range sum {
			switch {
			case k < 0:
				e.Left = append(e.Left, chem.Term{Coefficient: chem.Whole(-k), Species: kinds[key]})
			case k > 0:
				e.Right = append(e.Right, chem.Term{Coefficient: chem.Whole(k), Species: kinds[key]})
			}
		}
		p, err := tables.Of(e)
		var half *energetics.HalfError
		var missing *energetics.MissingError
		if err != nil && !errors.As(err, &half) && !errors.As(err, &missing) {
			t.Fatalf("Of(%s): %v", e, err)
		}
		if err == nil && (math.IsNaN(p.Volts) || math.IsInf(p.Volts, 0)) {
			t.Fatalf("Of(%s) = %v", e, p.Volts)
		}
	})
}

// BenchmarkOf varies the way in which a potential is found.
func BenchmarkOf(b *testing.B) {
	tables := energetics.Shipped()
	for _, way := range []struct{ name, half string }{
		{"way=table", "MnO4^- -> Mn^2+, in acid"},
		{"way=formation", "MnO4^2- -> Mn^3+, in acid"},
		{"way=couples", "FeO4^2- -> Fe^2+, in acid"},
		{"way=none", "C6H5CHO -> C6H5COO^-, in base"},
	} {
		b.Run(way.name, func(b *testing.B) {
			e := half(b, way.half)
			b.ReportAllocs()
			for b.Loop() {
				_, _ = tables.Of(e) // one way ends in an error
			}
		})
	}
}

// BenchmarkWork is all that is said of one equation, once it is balanced.
func BenchmarkWork(b *testing.B) {
	tables := energetics.Shipped()
	for _, x := range []struct{ name, question string }{
		{"medium=acidic", "MnO4^- + Fe^2+ -> Mn^2+ + Fe^3+, in acid"},
		{"medium=basic", "MnO4^- + NO2^- -> MnO2 + NO3^-, in base"},
	} {
		b.Run(x.name, func(b *testing.B) {
			s, err := redox.Work(x.question, redox.Unstated, redox.Conventions{})
			if err != nil {
				b.Fatal(err)
			}
			b.ReportAllocs()
			for b.Loop() {
				if _, err := tables.Work(s, energetics.Conditions{}); err != nil {
					b.Fatal(err)
				}
				tables.Remarks(s.Equation, s.Medium)
			}
		})
	}
}

// BenchmarkWorkChecks says all of every equation of the checks in turn.
func BenchmarkWorkChecks(b *testing.B) {
	tables := energetics.Shipped()
	var all []*redox.Solution
	for _, q := range checks.Equations() {
		medium, err := redox.ParseMedium(q.Medium)
		if err != nil {
			b.Fatal(err)
		}
		s, err := redox.Work(q.Skeleton, medium, redox.Conventions{})
		if err != nil {
			b.Fatal(err)
		}
		all = append(all, s)
	}
	b.ReportAllocs()
	for b.Loop() {
		for _, s := range all {
			_, _ = tables.Work(s, energetics.Conditions{}) // some are no cells
			tables.Remarks(s.Equation, s.Medium)
		}
	}
	b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N*len(all)), "ns/equation")
}

// BenchmarkRemarks tells of the species of one equation, a part of BenchmarkWork.
func BenchmarkRemarks(b *testing.B) {
	tables := energetics.Shipped()
	s, err := redox.Work("MnO4^- + SO3^2- -> Mn^2+ + SO4^2-, in acid", redox.Unstated, redox.Conventions{})
	if err != nil {
		b.Fatal(err)
	}
	b.ReportAllocs()
	for b.Loop() {
		tables.Remarks(s.Equation, s.Medium)
	}
}

// BenchmarkMap draws the regions of iron.
func BenchmarkMap(b *testing.B) {
	tables := energetics.Shipped()
	iron := element(b, "Fe")
	b.ReportAllocs()
	for b.Loop() {
		if _, err := tables.Map(iron, 1e-6, nil); err != nil {
			b.Fatal(err)
		}
	}
}
