package redox_test

import (
	"testing"

	"halves/redox"
)

// BenchmarkJSON writes a worked solution as JSON.
func BenchmarkJSON(b *testing.B) {
	s, err := redox.Work(benchmarks[0].question, benchmarks[0].medium, redox.Conventions{})
	if err != nil {
		b.Fatal(err)
	}
	b.ReportAllocs()
	for b.Loop() {
		if _, err := s.MarshalJSON(); err != nil {
			b.Fatal(err)
		}
	}
}
