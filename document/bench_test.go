package document_test

import (
	"io"
	"testing"

	"halves/document"
	"halves/redox"
)

// laidOut returns the first question, worked and laid out.
func laidOut(b *testing.B) *document.Document {
	sol, err := redox.Work(questions[0], redox.Unstated, redox.Conventions{})
	if err != nil {
		b.Fatal(err)
	}
	b.ReportAllocs()
	return document.FromSolution(sol)
}

func benchmark(b *testing.B, write func(w io.Writer, d *document.Document) error) {
	d := laidOut(b)
	for b.Loop() {
		if err := write(io.Discard, d); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkText(b *testing.B) {
	benchmark(b, func(w io.Writer, d *document.Document) error {
		return document.Text(w, d, document.TextOptions{Width: 80})
	})
}

func BenchmarkHTML(b *testing.B) {
	benchmark(b, func(w io.Writer, d *document.Document) error {
		return document.HTML(w, d, document.HTMLOptions{})
	})
}

func BenchmarkMarkdown(b *testing.B) { benchmark(b, document.Markdown) }

func BenchmarkLaTeX(b *testing.B) {
	benchmark(b, func(w io.Writer, d *document.Document) error {
		return document.LaTeX(w, d, document.LaTeXOptions{})
	})
}

// BenchmarkFromSolution lays out a solution, its spoken forms among it.
func BenchmarkFromSolution(b *testing.B) {
	sol, err := redox.Work(questions[0], redox.Unstated, redox.Conventions{})
	if err != nil {
		b.Fatal(err)
	}
	b.ReportAllocs()
	for b.Loop() {
		document.FromSolution(sol)
	}
}
