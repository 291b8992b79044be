package reference

import (
	"testing"

	"halves/chem"
)

// What a run pays that asks one question of each table: both indexes, and the
// rows that hold permanganate.
func BenchmarkIndexCouplesAndFormations(b *testing.B) {
	Species() // another table, which nearly every run has read before
	s, err := chem.ReadSpecies("MnO4^-", nil)
	if err != nil {
		b.Fatal(err)
	}
	b.ReportAllocs()
	for b.Loop() {
		couples, err := loadCouples(couplesTSV)
		if err != nil {
			b.Fatal(err)
		}
		formations, err := loadFormations(formationTSV)
		if err != nil {
			b.Fatal(err)
		}
		if len(couples.Holding(s[0].Species)) == 0 || formations.Find(s[0].Species) == nil {
			b.Fatal("MnO4^- was not found")
		}
	}
}

// All rows, as a listing of the tables reads them.
func BenchmarkReadCouplesAndFormations(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		couples, err := loadCouples(couplesTSV)
		if err != nil {
			b.Fatal(err)
		}
		formations, err := loadFormations(formationTSV)
		if err != nil {
			b.Fatal(err)
		}
		couples.All()
		formations.All()
	}
}

func BenchmarkOwnTable(b *testing.B) {
	const text = "half_reaction\tvolts\nMnO4^- + 8 H^+ + 5 e^- -> Mn^2+ + 4 H2O\t1.49\n"
	b.ReportAllocs()
	for b.Loop() {
		own, err := ReadCouples("mine.tsv", text)
		if err != nil {
			b.Fatal(err)
		}
		Couples().With(own)
	}
}
