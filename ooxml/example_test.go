package ooxml_test

import (
	"bytes"
	"fmt"

	"halves/chem"
	"halves/document"
	"halves/ooxml"
)

// copper is a line of a working: copper gives its electrons away.
var copper = document.Equation{Label: document.Plain("balance charge with electrons"), Line: []chem.Run{
	{Text: "Cu"}, {Text: " -> "}, {Text: "Cu"}, {Text: "2+", Level: chem.Superscript}, {Text: " + "}, {Text: "2 e"}, {Text: "-", Level: chem.Superscript},
}}

// Each paragraph of the file has a style that an instructor can change.
func ExampleDOCX() {
	d := &document.Document{Title: document.Plain("Copper"), Blocks: []document.Block{copper, document.Space{Label: document.Plain("Silver:"), Lines: 1}}}
	var file bytes.Buffer
	if err := ooxml.DOCX(&file, d, ooxml.Options{Paper: ooxml.Letter}); err != nil {
		fmt.Println(err)
	}
	parts, err := unzipped(file.Bytes())
	if err != nil {
		fmt.Println(err)
	}
	for _, p := range paragraphs(parts["word/document.xml"]) {
		fmt.Printf("%s: %q\n", p.style, p.text)
	}
	// Output:
	// Title: "Copper"
	// Step: "balance charge with electrons"
	// Equation: "\tCu\t→\u00a0Cu2+ +\u00a02\u00a0e−"
	// AnswerLine: "Silver:"
}

// Each slide has its talk track as notes.
func ExamplePPTX() {
	d := &document.Document{Blocks: []document.Block{
		document.Slide{Title: document.Plain("Copper"), Notes: []document.Inline{document.Plain("Copper loses two electrons.")}}, copper,
	}}
	var file bytes.Buffer
	if err := ooxml.PPTX(&file, d, ooxml.Options{}); err != nil {
		fmt.Println(err)
	}
	parts, err := unzipped(file.Bytes())
	if err != nil {
		fmt.Println(err)
	}
	for _, name := range []string{"ppt/slides/slide1.xml", "ppt/notesSlides/notesSlide1.xml"} {
		for _, line := range slideLines(parts[name]) {
			fmt.Printf("%q\n", line)
		}
	}
	// Output:
	// "Copper"
	// "balance charge with electrons"
	// "\tCu\t→\u00a0Cu2+ +\u00a02\u00a0e−"
	// "1"
	// "Copper loses two electrons."
}
