package pdf

import (
	"io"
	"runtime"
	"testing"

	"halves/document"
)

// BenchmarkWorksheet writes a sheet of twenty questions and its key with every
// line of every working.
func BenchmarkWorksheet(b *testing.B) {
	sheet, answers := worksheet(b, "A", 20), key(b, 20)
	b.ReportAllocs()
	for b.Loop() {
		if err := Write(io.Discard, Options{}, sheet, answers); err != nil {
			b.Fatal(err)
		}
	}
}

// BenchmarkSolution writes one question, worked.
func BenchmarkSolution(b *testing.B) {
	d := worked(b, questions[0])
	b.ReportAllocs()
	for b.Loop() {
		if err := Write(io.Discard, Options{}, d); err != nil {
			b.Fatal(err)
		}
	}
}

// BenchmarkSheets writes 500 sheets of two pages as one file, each made when its
// turn comes. heap-MB is the most that was in use when a sheet was asked for.
func BenchmarkSheets(b *testing.B) {
	b.ReportAllocs()
	var most uint64
	for b.Loop() {
		err := WriteAll(io.Discard, Options{}, func(yield func(*document.Document) bool) {
			for i := range 500 {
				if i%50 == 49 {
					var m runtime.MemStats
					runtime.ReadMemStats(&m)
					most = max(most, m.HeapInuse)
				}
				if !yield(worksheet(b, "A", 7)) {
					return
				}
			}
		})
		if err != nil {
			b.Fatal(err)
		}
	}
	b.ReportMetric(float64(most)/(1<<20), "heap-MB")
}
