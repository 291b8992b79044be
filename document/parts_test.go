package document_test

import (
	"slices"
	"strings"
	"testing"

	"halves/chem"
	"halves/document"
	"halves/redox"
)

// TestBlanks holds that a blank stands for each coefficient, and is said.
func TestBlanks(t *testing.T) {
	sol := solutionOf(t, "Cu + NO3^- -> Cu^2+ + NO, in acid")
	e := document.Blanks(sol.Equation, redox.Conventions{})
	if got, want := written(document.Inline{{Formula: e.Line}}), "____ Cu + ____ NO₃⁻ + ____ H⁺ ⟶ ____ Cu²⁺ + ____ NO + ____ H₂O"; got != want {
		t.Errorf("Blanks = %s, want %s", got, want)
	}
	if want := "blank copper plus blank nitrate ions plus blank hydrogen ions give blank copper two ions plus blank nitrogen monoxide plus blank water"; e.Spoken != want {
		t.Errorf("Blanks is said %q, want %q", e.Spoken, want)
	}
	// Conventions that write the coefficient 1 or an equals sign give no answer away.
	if got := document.Blanks(sol.Equation, redox.Conventions{Ones: true, Equals: true}); !slices.Equal(got.Line, e.Line) {
		t.Errorf("with ones and equals signs Blanks = %v, want %v", got.Line, e.Line)
	}
	// One that comes without words is said too, in a line and in a sentence.
	line := []chem.Run{document.Blank, {Text: " "}, {Text: "Cu"}, {Text: " -> "}, document.Blank, {Text: " "}, {Text: "Cu"}, {Text: "2+", Level: chem.Superscript}}
	d := &document.Document{Blocks: []document.Block{document.Equation{Line: line}, document.Equation{Line: line, Final: true}, document.Paragraph{Text: document.Inline{{Prose: "Fill in "}, {Formula: line}, {Prose: "."}}}}}
	said := readPage(t, htmlOf(t, d, document.HTMLOptions{})).spoken.String()
	if n := strings.Count(said, "blank copper gives blank copper, charge two plus"); n != 3 || strings.Contains(said, "_") {
		t.Errorf("blanks are said %d times, want 3: %q", n, said)
	}
}

// TestWorked holds that the working of a question is that of its page, one level
// deeper, without title and check.
func TestWorked(t *testing.T) {
	for _, q := range questions[:5] {
		sol := solutionOf(t, q)
		all := document.Worked(sol)
		page := document.FromSolution(sol)
		var lines, answers int
		for _, b := range all {
			switch b := b.(type) {
			case document.Heading:
				if b.Level != 2 || written(b.Text) == "Check" {
					t.Errorf("%s: a heading %q of level %d", q, written(b.Text), b.Level)
				}
			case document.Equation:
				lines++
				if b.Final {
					answers++
				}
			}
		}
		want := 0
		for _, b := range page.Blocks {
			if _, ok := b.(document.Equation); ok {
				want++
			}
		}
		if lines != want || answers != 1 {
			t.Errorf("%s: %d lines and %d answers, want %d and 1", q, lines, answers, want)
		}
	}
}

func TestMediumPhrase(t *testing.T) {
	for m, want := range map[redox.Medium]string{redox.Unstated: "", redox.Acidic: ", in acid", redox.Basic: ", in base", redox.Neutral: ", in neutral solution", redox.None: ", nothing added"} {
		if got := written(document.MediumPhrase(m)); got != want {
			t.Errorf("MediumPhrase(%v) = %q, want %q", m, got, want)
		}
	}
}
