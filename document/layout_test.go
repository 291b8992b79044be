package document_test

import (
	"strings"
	"testing"

	"halves/chem"
	"halves/document"
	"halves/names"
	"halves/redox"
)

func workedDocument(t *testing.T, question string, c redox.Conventions) *document.Document {
	t.Helper()
	sol, err := redox.Work(question, redox.Unstated, c)
	if err != nil {
		t.Fatalf("Work(%s): %v", question, err)
	}
	return document.FromSolution(sol)
}

// TestWayTaken holds that each output names the method and the conventions
// where they are not the default.
func TestWayTaken(t *testing.T) {
	for _, tt := range []struct {
		c    redox.Conventions
		want string
	}{
		{redox.Conventions{}, ""},
		{redox.Conventions{By: redox.ByStates}, "By oxidation states."},
		{redox.Conventions{Hydronium: true}, "H₃O⁺ stands for H⁺."},
		{redox.Conventions{BaseInHalves: true}, ""}, // in acid it changes nothing
		{redox.Conventions{Roman: true, Ones: true}, "Oxidation states are in Roman numerals. The coefficient 1 is written."},
		{redox.Conventions{Names: names.Choice{Style: names.Systematic, Sulph: true}}, "Names are systematic. Sulphur is spelled with ph."},
	} {
		d := workedDocument(t, questions[0], tt.c)
		got := ""
		if n, ok := d.Blocks[0].(document.Note); ok {
			got = written(n.Text)
		}
		if got != tt.want {
			t.Errorf("with %+v the page says %q, want %q", tt.c, got, tt.want)
		}
		if tt.want == "" {
			continue
		}
		for name, s := range map[string]string{
			"text": text(t, d, document.TextOptions{Width: 200}), "Markdown": rendered(t, markdownOf(t, d)).seen.String(),
		} {
			if !strings.Contains(s, tt.want) {
				t.Errorf("%s does not say %q", name, tt.want)
			}
		}
	}
	d := workedDocument(t, questions[1], redox.Conventions{BaseInHalves: true})
	if n, ok := d.Blocks[0].(document.Note); !ok || written(n.Text) != "Hydroxide is added within each half." {
		t.Errorf("in base, with hydroxide in the halves, the first block is %v", d.Blocks[0])
	}
}

// TestRomanStates holds that the table and the changes use the convention, and
// that a numeral is said as a number.
func TestRomanStates(t *testing.T) {
	d := workedDocument(t, questions[0], redox.Conventions{Roman: true})
	s := text(t, d, document.TextOptions{Width: 80})
	for _, want := range []string{"VII", "−II", "Mn goes from VII to II ("} {
		if !strings.Contains(s, want) {
			t.Errorf("no %q in\n%s", want, s)
		}
	}
	said := readPage(t, htmlOf(t, d, document.HTMLOptions{})).spoken.String()
	if !strings.Contains(said, "manganese goes from 7 to 2 (permanganate ion to manganese") {
		t.Errorf("the change is said otherwise:\n%s", said)
	}
}

// TestNamesWhereTheyFit holds that the names of species stand in the table of
// states where there is room, and are left out first where there is none.
func TestNamesWhereTheyFit(t *testing.T) {
	d := workedDocument(t, questions[0], redox.Conventions{})
	for width, want := range map[int]bool{30: false, 40: false, 60: true, 80: true, 140: true} {
		s := text(t, d, document.TextOptions{Width: width})
		if got := strings.Contains(s, "oxalic acid"); got != want {
			t.Errorf("at width %d the names are there: %t, want %t", width, got, want)
		}
		if !strings.Contains(s, "Mn    O    H    C") && width >= 40 {
			t.Errorf("at width %d the table is no table:\n%s", width, s)
		}
	}
}

// TestWrittenLines holds that a line of algebra is the line of its step, that
// it has no ledger, and that the label is not said twice.
func TestWrittenLines(t *testing.T) {
	sol, err := redox.Work(questions[0], redox.Unstated, redox.Conventions{})
	if err != nil {
		t.Fatal(err)
	}
	unknown := chem.Run{Text: "a", Level: chem.Variable}
	algebra := func(rule redox.Rule) redox.Step {
		return redox.Step{Rule: rule, Half: -1, Done: true, Written: []chem.Run{unknown, {Text: " = "}, {Text: "2"}}, Reason: "manganese"}
	}
	sol.Steps = []redox.Step{algebra(redox.NameUnknowns), algebra(redox.Conserve), algebra(redox.Conserve), algebra(redox.ChooseOne), algebra(redox.SolveFor), {Rule: redox.PutNumbers, Half: -1, Done: true, After: sol.Equation}}
	var got []string
	for _, b := range document.FromSolution(sol).Blocks {
		switch b := b.(type) {
		case document.Heading:
			got = append(got, "# "+written(b.Text))
		case document.Note:
			got = append(got, "note "+written(b.Text))
		case document.Equation:
			if b.Final {
				continue
			}
			line := written(b.Label) + "|" + written(document.Inline{{Formula: b.Line}})
			if b.Ledger != nil {
				line += "|ledger"
			}
			if b.Line != nil && b.Spoken == "" {
				t.Errorf("%s has no spoken form", line)
			}
			got = append(got, line)
		}
	}
	want := `note By algebra: an equation for each element and for the charge.
# Oxidation states
# Unknowns and laws
name the unknown coefficients|a = 2
write what each law demands|a = 2
|a = 2
# Solving
choose one unknown|a = 2
solve for another|a = 2
# The whole equation
put the numbers in|2 MnO₄⁻ + 5 H₂C₂O₄ + 6 H⁺ ⟶ 2 Mn²⁺ + 10 CO₂ + 8 H₂O|ledger
# The answer
# Check`
	if g := strings.Join(got, "\n"); g != want {
		t.Errorf("laid out:\n%s\nwant:\n%s", g, want)
	}
}

func TestProseSpoken(t *testing.T) {
	for _, tt := range []struct{ in, want string }{
		{"add 8 H^+ on the left", "add eight hydrogen ions on the left"},
		{"the MnO4^- is left", "the permanganate ion is left"},
	} {
		got, _ := document.Prose(tt.in, redox.Conventions{}).Spoken()
		if got != tt.want {
			t.Errorf("Prose(%q) is said %q, want %q", tt.in, got, tt.want)
		}
	}
	if said, differs := (document.Inline{{Prose: "as it stands"}}).Spoken(); differs || said != "" {
		t.Errorf("Spoken = %q, %t, want none", said, differs)
	}
}

func TestPlainTitle(t *testing.T) {
	if got, want := every().PlainTitle(), "MnO₄⁻ + Fe²⁺ ⟶ Mn²⁺ + Fe³⁺, in acid"; got != want {
		t.Errorf("PlainTitle = %q, want %q", got, want)
	}
	if s := htmlOf(t, &document.Document{Blocks: []document.Block{document.Heading{Level: 1, Text: prose("Only a heading")}}}, document.HTMLOptions{}); !strings.Contains(s, "<title>Only a heading</title>") {
		t.Error("a page without a title is not called after its first heading")
	}
}
