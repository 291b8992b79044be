package qti_test

import (
	"archive/zip"
	"bytes"
	"fmt"
	"io"
	"testing"

	"halves/document"
	"halves/qti"
)

// A question with three gaps is worth a mark. The equation balances by count.
func ExampleWrite22() {
	gap := func(answer string) *qti.Gap { return &qti.Gap{Answer: answer} }
	set := qti.Set{ID: "quiz-1", Title: "Coefficients", Items: []qti.Item{{
		ID: "zinc", Title: "Zinc in acid", Worth: 1,
		Stem: []document.Inline{prose("Balance the equation.")},
		Line: []qti.Piece{
			{Gap: gap("1")},
			{Text: document.Inline{{Prose: " "}, formula("Zn"), {Prose: " + "}}, Gap: gap("2")},
			{Text: document.Inline{{Prose: " "}, formula("H^+"), {Prose: " gives "}}, Gap: gap("1")},
			{Text: document.Inline{{Prose: " "}, formula("Zn^2+"), {Prose: " + "}, formula("H2"), {Prose: "."}}},
		},
	}}}
	var packed bytes.Buffer
	if err := qti.Write22(&packed, set); err != nil {
		fmt.Println(err)
		return
	}
	z, _ := zip.NewReader(bytes.NewReader(packed.Bytes()), int64(packed.Len()))
	for _, f := range z.File {
		fmt.Println(f.Name)
	}
	// Output:
	// imsmanifest.xml
	// test.xml
	// items/item-001.xml
}

// An answer that is no whole number is told before anything is written.
func ExampleWrite30() {
	set := week()
	set.Items[1].Line[2].Gap.Answer = "5/2"
	fmt.Println(qti.Write30(io.Discard, set))
	// Output:
	// question 2 (iron), gap 3: "5/2" is no whole number from 1; write its digits alone, as 5
}

// BenchmarkWrite writes a set of 20 questions as a package.
func BenchmarkWrite(b *testing.B) {
	for _, v := range versions {
		b.Run("version="+v.name+"/items=20", func(b *testing.B) {
			s := manyWeeks(20)
			b.ReportAllocs()
			for b.Loop() {
				if err := v.write(io.Discard, s); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
