package document_test

import (
	"fmt"
	"os"
	"slices"
	"strings"
	"testing"

	"halves/chem"
	"halves/document"
	"halves/redox"
)

func solutionOf(t testing.TB, question string) *redox.Solution {
	t.Helper()
	sol, err := redox.Work(question, redox.Unstated, redox.Conventions{})
	if err != nil {
		t.Fatalf("Work(%s): %v", question, err)
	}
	return sol
}

// worksheet is a sheet with its key behind it.
func worksheet(t testing.TB) *document.Document {
	t.Helper()
	c := redox.Conventions{}
	oxalate, copper := solutionOf(t, questions[0]), solutionOf(t, questions[3])
	question := func(s *redox.Solution) document.Inline {
		return document.Join(document.EquationOf(s.Skeleton, c), document.MediumPhrase(s.Medium), document.Plain("."))
	}
	choices := []document.Choice{
		{Text: document.Prose("1 electron", c)},
		{Text: document.Prose("3 electrons", c)},
		{Text: document.Prose("5 electrons, on the side of the MnO4^-", c)},
		{Text: document.Prose("8 electrons, on the side of the Mn^2+", c)},
	}
	key := make([]document.Choice, len(choices))
	for i, x := range choices {
		key[i] = x
		key[i].Right = i == 2
		switch i {
		case 1:
			key[i].Note = document.Prose("Counts as if MnO2 were formed: manganese would go from +7 to +4.", c)
		case 2:
			key[i].Note = document.Prose("Manganese goes from +7 to +2, so the half reads MnO4^- + 8 H^+ + 5 e^- -> Mn^2+ + 4 H2O.", c)
		}
	}
	b := []document.Block{
		document.Fields{Labels: []string{"Name", "Code"}},
		document.Paragraph{Text: document.Plain("Work by half-reactions. Show each line.")},
		document.Exercise{Number: 1, Marks: "6 marks", Text: document.Join(document.Plain("Balance "), question(oxalate))},
		document.Space{Label: document.Plain("Oxidation half"), Lines: 2},
		document.Space{Label: document.Plain("Reduction half"), Lines: 2},
		document.Space{Label: document.Plain("The whole equation"), Lines: 1},
		document.Exercise{Number: 2, Marks: "2 marks", Text: document.Plain("The equation below is balanced but for its coefficients. Write a number into each blank, 1 where it is one, so that the atoms and the charge agree on both sides.")},
		document.Blanks(copper.Equation, c),
		document.Exercise{Number: 3, Marks: "1 mark", Text: document.Prose("How many electrons does the half of MnO4^- take up in acid, and where are they written?", c)},
		document.Choices{Items: choices},
		document.Exercise{Number: 12, Text: document.Plain("Say in one sentence why the electrons must cancel.")},
		document.Space{Lines: 2},
		document.Break{},
		document.Heading{Level: 1, Text: document.Plain("Key")},
		document.Exercise{Number: 1, Marks: "6 marks", Text: document.Join(document.Plain("Balance "), question(oxalate))},
	}
	b = append(b, document.Worked(oxalate)...)
	b = append(b,
		document.Exercise{Number: 3, Marks: "1 mark", Text: document.Prose("How many electrons does the half of MnO4^- take up in acid, and where are they written?", c)},
		document.Choices{Items: key},
	)
	return &document.Document{
		Title:   document.Plain("Worksheet 4: redox equations in acid"),
		Running: document.Running{Left: "General Chemistry II, section B", Right: "Version A", Foot: "Check code 7Q2F"},
		Blocks:  b,
	}
}

// deck is a few slides that build up a half.
func deck(t testing.TB) *document.Document {
	t.Helper()
	c := redox.Conventions{}
	sol := solutionOf(t, questions[0])
	line := func(text string, fresh bool) document.Equation {
		readings, err := chem.ReadEquation(text, nil)
		if err != nil {
			t.Fatal(err)
		}
		e := document.Line(readings.All[0].Equation, c)
		e.Fresh = fresh
		return e
	}
	return &document.Document{
		Title:   document.Plain("Permanganate and oxalic acid"),
		Running: document.Running{Left: "General Chemistry II", Foot: "Tarn Hollow College"},
		Blocks: []document.Block{
			document.Slide{Title: document.Join(document.EquationOf(sol.Skeleton, c), document.MediumPhrase(sol.Medium)), Notes: []document.Inline{
				document.Prose("Manganese goes from +7 to +2, carbon from +3 to +4.", c),
				document.Prose("Ask the class which of the two is the oxidation before you write MnO4^- -> Mn^2+ on the board.", c),
			}},
			document.List{Items: []document.Inline{document.Prose("Mn: +7 to +2", c), document.Prose("C: +3 to +4", c)}},
			document.Slide{Title: document.Plain("Reduction: oxygen"), Notes: []document.Inline{document.Prose("Four oxygens at the left, none at the right: add 4 H2O.", c)}},
			line("MnO4^- -> Mn^2+", false),
			line("MnO4^- -> Mn^2+ + 4 H2O", true),
			document.Slide{Title: document.Plain("Reduction: hydrogen and charge")},
			line("MnO4^- -> Mn^2+ + 4 H2O", false),
			line("MnO4^- + 8 H^+ -> Mn^2+ + 4 H2O", false),
			line("MnO4^- + 8 H^+ + 5 e^- -> Mn^2+ + 4 H2O", true),
			document.Slide{Title: document.Plain("The answer"), Notes: []document.Inline{document.Plain("Check it aloud.")}},
			document.Answer(sol.Equation, c),
		},
	}
}

func TestLetter(t *testing.T) {
	for i, want := range map[int]string{0: "A", 3: "D", 25: "Z", 26: "AA", 27: "AB", 52: "BA", -1: "A"} {
		if got := document.Letter(i); got != want {
			t.Errorf("Letter(%d) = %q, want %q", i, got, want)
		}
	}
}

// TestPaperGolden is looked at in a terminal, at both widths.
func TestPaperGolden(t *testing.T) {
	golden(t, "paper.txt", text(t, onPaper(), document.TextOptions{})+text(t, onPaper(), document.TextOptions{Width: 32, ASCII: true}))
}

// TestPaperSpoken holds that those who listen find exercises, room, blanks and
// the right answer.
func TestPaperSpoken(t *testing.T) {
	said := strings.Join(strings.Fields(readPage(t, htmlOf(t, onPaper(), document.HTMLOptions{})).spoken.String()), " ")
	for _, want := range []string{
		"Name blank Code blank", "Question 1.", "6 marks", "Reduction half (3 lines to write on)", "(one line to write on)",
		"on the left (right answer)", "blank copper give blank copper two ions", "What is said First this. permanganate ion then.",
	} {
		if !strings.Contains(said, want) {
			t.Errorf("not said: %q in %q", want, said)
		}
	}
}

// TestMargins holds that nothing that runs at the head or foot leaves its string.
func TestMargins(t *testing.T) {
	const hostile = `"}</style><script>x</script>*/ \a 'é` + "\n\x00"
	d := &document.Document{Running: document.Running{Left: hostile, Foot: hostile}}
	p := readPage(t, htmlOf(t, d, document.HTMLOptions{}))
	if slices.Contains(p.tags, "script") {
		t.Errorf("a script was made: %v", p.tags)
	}
	_, margins, _ := strings.Cut(p.styles, "@top-left")
	if strings.Count(margins, `"`) != 8 || strings.ContainsAny(margins, "<é'*\x00\n") != strings.HasSuffix(margins, "\n") || !strings.Contains(margins, `\22 \7d \3c `) {
		t.Errorf("the margins are %s", margins)
	}
	if plain := htmlOf(t, every(), document.HTMLOptions{}); strings.Contains(plain, "@top-left") || strings.Contains(plain, "running\"") {
		t.Error("a page without head and foot has margins")
	}
}

// TestSections holds that the parts of a working stand beside each other.
func TestSections(t *testing.T) {
	for _, d := range paperPages(t) {
		checkNesting(t, htmlOf(t, d, document.HTMLOptions{}))
	}
}

func TestJoinedRunning(t *testing.T) {
	a, b := onPaper(), every()
	if got := document.Joined(a, b); got.Running != a.Running {
		t.Errorf("joined the pages have %+v, want %+v", got.Running, a.Running)
	}
}

// paperPages are looked at in a browser.
func paperPages(t *testing.T) map[string]*document.Document {
	return map[string]*document.Document{"worksheet": worksheet(t), "deck": deck(t), "every block": onPaper()}
}

// TestLaTeXPaper typesets a sheet with its key, and slides, and holds what each
// page has.
func TestLaTeXPaper(t *testing.T) {
	d := worksheet(t)
	pages := strings.Split(typeset(t, latexOf(t, d, document.LaTeXOptions{})), "\f")
	pages = pages[:len(pages)-1]
	for i, page := range pages {
		for _, want := range []string{d.Running.Left, d.Running.Right, d.Running.Foot, fmt.Sprintf("%d of %d", i+1, len(pages))} {
			if strings.Count(page, want) != 1 {
				t.Errorf("page %d has not one %q:\n%s", i+1, want, page)
			}
		}
	}
	if len(pages) < 3 || strings.Contains(pages[0], "Key") || !strings.Contains(pages[0], "12.") || !strings.Contains(pages[1], "Key") {
		t.Errorf("the key does not begin the second of %d pages", len(pages))
	}
	typeset(t, latexOf(t, deck(t), document.LaTeXOptions{}))
	// Within another document, twice.
	fragment := latexOf(t, onPaper(), document.LaTeXOptions{Fragment: true})
	got := typeset(t, "\\documentclass{article}\\usepackage{amsmath}\\setlength{\\textwidth}{6.2in}\\begin{document}\n"+fragment+fragment+"\\end{document}\n")
	if n := strings.Count(got, "Check code 7Q2F"); n != 2 {
		t.Errorf("two fragments have %d feet, want 2", n)
	}
}

// TestLaTeXKeeps holds that an exercise that has no room at the end of a page is
// begun on the next, and that one that is longer than a page is torn.
func TestLaTeXKeeps(t *testing.T) {
	d := &document.Document{}
	for i := range 9 {
		d.Blocks = append(d.Blocks, document.Exercise{Number: i + 1, Text: document.Plain("Begin.")}, document.Space{Label: document.Plain("Work"), Lines: 6}, document.Paragraph{Text: document.Plain("End.")})
	}
	d.Blocks = append(d.Blocks, document.Exercise{Number: 10, Text: document.Plain("Begin.")}, document.Space{Lines: 40}, document.Paragraph{Text: document.Plain("End.")})
	pages := strings.Split(typeset(t, latexOf(t, d, document.LaTeXOptions{})), "\f")
	pages = pages[:len(pages)-1]
	for i, page := range pages[:2] {
		if b, e := strings.Count(page, "Begin."), strings.Count(page, "End."); b != e || b < 3 {
			t.Errorf("page %d begins %d exercises and ends %d", i+1, b, e)
		}
	}
	if n := len(pages); n != 5 && n != 4 {
		t.Errorf("%d pages, want 4 or 5", n)
	}
}

// A sheet as a package lays it out, and as it is printed in plain characters.
func ExampleExercise() {
	sol, err := redox.Work("Cu + NO3^- -> Cu^2+ + NO, in acid", redox.Unstated, redox.Conventions{})
	if err != nil {
		panic(err)
	}
	c := sol.Conventions
	d := &document.Document{
		Title: document.Plain("Worksheet 4"),
		Blocks: []document.Block{
			document.Fields{Labels: []string{"Name", "Code"}},
			document.Exercise{Number: 1, Marks: "2 marks", Text: document.Join(document.Plain("Balance "), document.EquationOf(sol.Skeleton, c), document.MediumPhrase(sol.Medium), document.Plain("."))},
			document.Blanks(sol.Equation, c),
			document.Exercise{Number: 2, Marks: "1 mark", Text: document.Join(document.Plain("Which element of "), document.FormulaOf(sol.Skeleton.Left[1].Species, c), document.Plain(" is reduced?"))},
			document.Choices{Items: []document.Choice{{Text: document.Plain("nitrogen")}, {Text: document.Plain("oxygen")}}},
		},
	}
	document.Text(os.Stdout, d, document.TextOptions{Width: 66})
	// Output:
	// Worksheet 4
	// ───────────
	//
	//   Name __________________________  Code __________________________
	//
	// 1.  Balance Cu + NO₃⁻ ⟶ Cu²⁺ + NO, in acid.                2 marks
	//
	//         ____ Cu + ____ NO₃⁻ + ____ H⁺
	//           ⟶ ____ Cu²⁺ + ____ NO + ____ H₂O
	//
	// 2.  Which element of NO₃⁻ is reduced?                       1 mark
	//
	//     A. nitrogen
	//     B. oxygen
}
