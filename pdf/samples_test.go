package pdf

import (
	"strings"
	"testing"

	"halves/chem"
	"halves/diagram"
	"halves/document"
	"halves/drawing"
	"halves/energetics"
	"halves/redox"
)

// questions are those of the scenario and one of each kind: in acid, in base,
// a molecular equation, a disproportionation, by algebra.
var questions = []string{
	"MnO4^- + H2C2O4 -> Mn^2+ + CO2, in acid",
	"Cr(OH)4^- + H2O2 -> CrO4^2- + H2O, in base",
	"Cl2 -> Cl^- + ClO3^-, in base",
	"Cu + HNO3 -> Cu(NO3)2 + NO + H2O",
	"As2S3 + NO3^- -> H3AsO4 + SO4^2- + NO, in acid",
	"P4 + OH^- -> PH3 + H2PO2^-, in base",
	"KMnO4 + FeSO4 + H2SO4 -> MnSO4 + Fe2(SO4)3 + K2SO4 + H2O",
}

func solved(t testing.TB, question string, c redox.Conventions) *redox.Solution {
	t.Helper()
	s, err := redox.Work(question, redox.Unstated, c)
	if err != nil {
		t.Fatalf("%s: %v", question, err)
	}
	return s
}

func worked(t testing.TB, question string) *document.Document {
	t.Helper()
	return document.FromSolution(solved(t, question, redox.Conventions{}))
}

func plain(s string) document.Inline { return document.Inline{{Prose: s}} }

// asked is a question on a skeleton.
func asked(s *redox.Solution) document.Inline {
	return document.Join(plain("Balance by half-reactions: "), document.EquationOf(s.Skeleton, s.Conventions), document.MediumPhrase(s.Medium), plain("."))
}

// worksheet is a sheet to fill in, made up for the tests.
func worksheet(t testing.TB, version string, n int) *document.Document {
	t.Helper()
	d := &document.Document{
		Title:   plain("Balancing by half-reactions"),
		Running: document.Running{Left: "Tarn Hollow College · General Chemistry II, section B", Right: "Version " + version, Foot: "Sheet 7F3A-" + version},
		Blocks: []document.Block{
			document.Fields{Labels: []string{"Name", "Code", "Date"}},
			document.Paragraph{Text: plain("Show the two half-reactions, the electrons, and the sum in lowest terms. Answers without working earn no more than one mark. Atoms and charge are to be checked on both sides.")},
		},
	}
	for i := range n {
		s := solved(t, questions[i%len(questions)], redox.Conventions{})
		d.Blocks = append(d.Blocks, document.Exercise{Number: i + 1, Marks: "6 marks", Text: asked(s)})
		switch i % 4 {
		case 0, 2:
			d.Blocks = append(d.Blocks,
				document.Space{Label: plain("Oxidation:"), Lines: 2},
				document.Space{Label: plain("Reduction:"), Lines: 2},
				document.Space{Label: plain("Sum:"), Lines: 2})
		case 1:
			d.Blocks = append(d.Blocks, document.Blanks(s.Equation, s.Conventions), document.Space{Lines: 3})
		case 3:
			d.Blocks = append(d.Blocks, document.Paragraph{Text: plain("How many electrons are transferred as the equation is written?")},
				document.Choices{Items: []document.Choice{{Text: plain("2")}, {Text: plain("3")}, {Text: plain("6")}, {Text: plain("12")}}})
		}
	}
	return d
}

// key has the workings of a worksheet.
func key(t testing.TB, n int) *document.Document {
	t.Helper()
	d := &document.Document{Title: plain("Key: balancing by half-reactions"), Running: document.Running{Left: "Tarn Hollow College · General Chemistry II", Right: "Key", Foot: "Sheet 7F3A"}}
	for i := range n {
		s := solved(t, questions[i%len(questions)], redox.Conventions{})
		d.Blocks = append(d.Blocks, document.Exercise{Number: i + 1, Marks: "6 marks", Text: asked(s)})
		if i%4 == 3 {
			permanganate := []chem.Run{{Text: "MnO"}, {Text: "4", Level: chem.Subscript}, {Text: "-", Level: chem.Superscript}}
			d.Blocks = append(d.Blocks, document.Choices{Items: []document.Choice{
				{Text: plain("2"), Note: plain("Counts the electrons of one half before it is multiplied.")},
				{Text: plain("3"), Note: document.Inline{{Prose: "Takes the change of nitrogen alone, as one would with "}, {Formula: permanganate, Spoken: "permanganate ion"}, {Prose: "; copper must lose as many as nitrogen gains, and the least common multiple of two and three is six."}}},
				{Text: plain("6"), Right: true},
				{Text: plain("12")},
			}})
		}
		d.Blocks = append(d.Blocks, document.Worked(s)...)
	}
	return d
}

// deck is a talk of a few slides, the last of them with more than fits.
func deck(t testing.TB) *document.Document {
	t.Helper()
	s := solved(t, questions[0], redox.Conventions{})
	d := &document.Document{Title: plain("Permanganate and oxalic acid"), Running: document.Running{Left: "General Chemistry II", Right: "Section B", Foot: "Tarn Hollow College"}}
	d.Blocks = append(d.Blocks,
		document.Slide{Title: plain("Permanganate and oxalic acid"), Notes: []document.Inline{plain("Said aloud.")}},
		document.Paragraph{Text: asked(s)},
		document.List{Items: []document.Inline{plain("Manganese gains electrons."), plain("Carbon loses them."), plain("Both counts must agree on one number before the halves can be added, whatever the medium is.")}},
	)
	d.Blocks = append(d.Blocks, document.Slide{Title: plain("Reduction, line by line")})
	var lines []document.Block
	for _, b := range document.Worked(s) {
		if e, ok := b.(document.Equation); ok && e.Line != nil && !e.Final {
			lines = append(lines, e)
		}
	}
	for i := range 3 {
		e := lines[i].(document.Equation)
		e.Fresh = i == 2
		d.Blocks = append(d.Blocks, e)
	}
	d.Blocks = append(d.Blocks, document.Slide{Title: plain("The answer")}, document.Answer(s.Equation, s.Conventions),
		document.Choices{Items: []document.Choice{{Text: plain("five electrons")}, {Text: plain("ten electrons"), Right: true}}})
	for _, b := range pictures(t).Blocks[:4] {
		if f, ok := b.(document.Figure); ok {
			d.Blocks = append(d.Blocks, document.Slide{Title: plain(f.Drawn.Title)}, f)
		}
	}
	d.Blocks = append(d.Blocks, document.Slide{Title: plain("All of it at once, which is more than a slide has room for")})
	d.Blocks = append(d.Blocks, lines...)
	return d
}

// pictures has one of each kind of diagram.
func pictures(t testing.TB) *document.Document {
	t.Helper()
	d := &document.Document{Title: plain("Pictures of potentials"), Running: document.Running{Left: "General Chemistry II"}}
	tables := energetics.Shipped()
	manganese, _ := chem.ElementBySymbol("Mn")
	iron, _ := chem.ElementBySymbol("Fe")
	add := func(p diagram.Drawn, err error) {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
		d.Blocks = append(d.Blocks, document.Heading{Level: 1, Text: plain(p.Title), Keep: true}, document.Figure{Drawn: p})
	}
	f, err := tables.Frost(manganese)
	add(diagram.FrostPlot(f, diagram.Style{}), err)
	l, err := tables.Latimer(manganese, "acidic")
	add(diagram.LatimerRow(l, diagram.Style{}), err)
	r, err := tables.Ladder(manganese, "acidic")
	add(diagram.Ladder(r, diagram.Style{}), err)
	m, err := tables.Map(iron, 1e-6, nil)
	add(diagram.PHMap(m, diagram.Style{}), err)
	b, _ := diagram.Bars(diagram.Chart{Title: "Slips by question", Whole: 28, Rows: []diagram.Bar{
		{Label: drawing.Plain("charge not balanced"), Value: 12, End: "12 of 28"},
		{Label: drawing.Plain("electrons on the wrong side"), Value: 5, End: "5 of 28"},
	}, Table: diagram.Table{Caption: "Slips", Head: []diagram.Cell{{Prose: "slip"}, {Prose: "scripts"}}, Right: []bool{false, true}, Rows: [][]diagram.Cell{{{Prose: "charge not balanced"}, {Prose: "12"}}, {{Prose: "electrons on the wrong side"}, {Prose: "5"}}}}})
	add(b, nil)
	return d
}

// long has what is longer or wider than a page.
func long(t testing.TB) *document.Document {
	t.Helper()
	d := &document.Document{Title: plain("What is longer and wider than usual"), Running: document.Running{Left: strings.Repeat("a long name of a course ", 9), Right: "Version A", Foot: strings.Repeat("foot", 60)}}
	wide := document.Table{Caption: "A wide table", Head: []document.Inline{plain("couple"), plain("from"), plain("what a student is told"), plain("volts")}, Right: []bool{false, false, false, true}}
	for i := range 70 {
		wide.Rows = append(wide.Rows, []document.Inline{
			{{Formula: solved(t, questions[i%5], redox.Conventions{}).Equation.Runs(chem.Style{})}},
			plain("a handbook of the library"),
			plain("The potential holds at 25 °C and unit activities; in other solutions it is another, and in base the hydroxide settles."),
			plain("+1.507"),
		})
	}
	very := chem.Run{Text: strings.Repeat("Fe", 120)}
	d.Blocks = append(d.Blocks,
		document.Heading{Level: 1, Text: plain("A table")}, wide,
		document.Heading{Level: 1, Text: plain("Words")},
		document.Paragraph{Text: plain(strings.Repeat("donaudampfschifffahrt", 30) + " and more.")},
		document.Equation{Label: plain("a long formula"), Line: []chem.Run{very, {Text: " -> "}, {Text: "Fe"}}, Reason: plain("it is set smaller, and cut at last")},
		document.Equation{Label: plain("many terms"), Line: manyTerms(30)},
		document.Equation{Line: manyTerms(40), Final: true},
		document.Paragraph{Text: document.Inline{{Prose: "In a sentence: "}, {Formula: manyTerms(12)}, {Prose: ", and so on. Letters of other scripts: 中文, emoji 🧪, a cross ✗, a tick ✔, n\u0303 and e\u0301, ﬁ, a\u200bb, tab\tend, a zero: \x00, not UTF-8: \xff."}}},
		document.Note{Text: plain(strings.Repeat("A note that goes on for more than a page. ", 200))},
	)
	return d
}

func manyTerms(n int) []chem.Run {
	var out []chem.Run
	for i := range n {
		switch {
		case i == n/2:
			out = append(out, chem.Run{Text: " -> "})
		case i > 0:
			out = append(out, chem.Run{Text: " + "})
		}
		out = append(out, chem.Run{Text: "12 "}, chem.Run{Text: "KCr(SO"}, chem.Run{Text: "4", Level: chem.Subscript}, chem.Run{Text: ")"}, chem.Run{Text: "2", Level: chem.Subscript}, chem.Run{Text: ".12H"}, chem.Run{Text: "2", Level: chem.Subscript}, chem.Run{Text: "O"})
	}
	return out
}
