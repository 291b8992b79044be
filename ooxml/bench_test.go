package ooxml_test

import (
	"io"
	"testing"

	"halves/document"
	"halves/ooxml"
)

// BenchmarkDOCX writes the first question worked, and a sheet of questions.
func BenchmarkDOCX(b *testing.B) {
	for name, d := range map[string]*document.Document{"solution": worked(b, questions[0]), "worksheet": worksheet(b, false)} {
		b.Run("document="+name, func(b *testing.B) {
			b.ReportAllocs()
			b.ReportMetric(float64(len(written(b, "docx", d, ooxml.Options{}))), "bytes")
			for b.Loop() {
				if err := ooxml.DOCX(io.Discard, d, ooxml.Options{}); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

// BenchmarkPPTX writes the same question as a deck that reveals it line by line.
func BenchmarkPPTX(b *testing.B) {
	d := deck(b, questions[0])
	b.ReportAllocs()
	b.ReportMetric(float64(len(written(b, "pptx", d, ooxml.Options{}))), "bytes")
	for b.Loop() {
		if err := ooxml.PPTX(io.Discard, d, ooxml.Options{}); err != nil {
			b.Fatal(err)
		}
	}
}
