package ooxml_test

import (
	"fmt"
	"testing"

	"halves/balance"
	"halves/chem"
	"halves/diagram"
	"halves/document"
	"halves/drawing"
	"halves/lesson"
	"halves/redox"
)

// questions are of all shapes that a solution has: in acid, in base, a
// disproportionation, several elements oxidized at once, whole substances, and
// lines that have no room on a page.
var questions = []string{
	"MnO4^- + H2C2O4 -> Mn^2+ + CO2, in acid",
	"H2O2 + [Cr(OH)4]^- -> CrO4^2- + H2O, in base",
	"Cl2 -> Cl^- + ClO3^-, in base",
	"Cu + NO3^- -> Cu^2+ + NO, in acid",
	"As2S3 + NO3^- -> H3AsO4 + SO4^2- + NO, in acid",
	"KMnO4 + FeSO4 + H2SO4 -> MnSO4 + Fe2(SO4)3 + K2SO4 + H2O",
	"[Cr(N2H4CO)6]4[Cr(CN)6]3 + KMnO4 + H2SO4 -> K2Cr2O7 + MnSO4 + CO2 + KNO3 + K2SO4 + H2O",
}

func prose(s string) document.Inline { return document.Inline{{Prose: s}} }

func solution(t testing.TB, question string, c redox.Conventions) *redox.Solution {
	t.Helper()
	s, err := redox.Work(question, redox.Unstated, c)
	if err != nil {
		t.Fatalf("Work(%s): %v", question, err)
	}
	return s
}

func worked(t testing.TB, question string) *document.Document {
	t.Helper()
	return document.FromSolution(solution(t, question, redox.Conventions{}))
}

// course is what stands at the head and the foot of the samples.
var course = document.Running{Left: "General Chemistry II, section B", Right: "Version A", Foot: "Check code 4F-2C"}

// worksheet is a sheet of questions, or its key.
func worksheet(t testing.TB, key bool) *document.Document {
	t.Helper()
	d := &document.Document{Title: prose("Half-reactions: worksheet 3"), Running: course}
	add := func(b ...document.Block) { d.Blocks = append(d.Blocks, b...) }
	add(document.Fields{Labels: []string{"Name", "Code", "Date"}},
		document.Note{Text: prose("Balance by half-reactions. Show every line; a line that follows from an earlier slip still earns its mark.")})
	for i, q := range questions[:4] {
		s := solution(t, q, redox.Conventions{})
		text := document.Join(prose("Balance "), document.EquationOf(s.Skeleton, s.Conventions), document.MediumPhrase(s.Medium),
			prose(", by half-reactions. Show each line with its atoms and its charge, and say which species is the oxidizing agent."))
		add(document.Exercise{Number: i + 1, Marks: fmt.Sprint(6+i, " marks"), Text: text})
		switch {
		case key:
			add(document.Equation{Line: s.Equation.Runs(chem.Style{}), Final: true})
		case i == 1:
			add(document.Blanks(s.Skeleton, s.Conventions))
		default:
			add(document.Space{Label: prose("Reduction:"), Lines: 3}, document.Space{Label: prose("Oxidation:"), Lines: 3}, document.Space{Label: prose("Both together:"), Lines: 2})
		}
	}
	add(document.Break{})
	add(document.Exercise{Number: 5, Marks: "1 mark", Text: document.Inline{{Prose: "What is the oxidation state of sulfur in "}, {Formula: []chem.Run{{Text: "S"}, {Text: "4", Level: chem.Subscript}, {Text: "O"}, {Text: "6", Level: chem.Subscript}, {Text: "2-", Level: chem.Superscript}}}, {Prose: "?"}}})
	choices := document.Choices{Items: []document.Choice{
		{Text: prose("+2")}, {Text: prose("+5/2"), Right: key}, {Text: prose("+5")}, {Text: prose("+6")},
	}}
	if key {
		choices.Items[0].Note = document.Inline{{Prose: "would be right for "}, {Formula: []chem.Run{{Text: "S"}, {Text: "2", Level: chem.Subscript}, {Text: "O"}, {Text: "3", Level: chem.Subscript}, {Text: "2-", Level: chem.Superscript}}}}
		choices.Items[2].Note = prose("leaves out the two inner atoms, which count as 0")
		choices.Items[3].Note = prose("is the state in sulfate")
	}
	add(choices)
	return d
}

// deck reveals the working of a question line by line.
func deck(t testing.TB, question string) *document.Document {
	t.Helper()
	s := solution(t, question, redox.Conventions{})
	track := lesson.NewTrack(s, lesson.Full)
	d := &document.Document{Title: document.Join(document.EquationOf(s.Skeleton, s.Conventions), document.MediumPhrase(s.Medium)), Running: course}
	var shown []document.Block
	for _, c := range track.Cues {
		slide := document.Slide{Title: prose(c.Heading)}
		for _, say := range c.Say {
			slide.Notes = append(slide.Notes, document.Prose(say, s.Conventions))
		}
		if c.Step < 0 {
			d.Blocks = append(d.Blocks, slide)
			if c.Heading == "Opening" {
				d.Blocks = append(d.Blocks, document.Equation{Line: s.Skeleton.Runs(chem.Style{}), Fresh: true})
			} else {
				d.Blocks = append(d.Blocks, document.Equation{Line: s.Equation.Runs(chem.Style{}), Final: true})
			}
			continue
		}
		st := s.Steps[c.Step]
		if len(shown) > 0 && (s.Steps[c.Step-1].Half != st.Half || len(shown) > 3) {
			shown = nil
		}
		if line := lesson.Line(st, s.Conventions); line != nil {
			e := document.Equation{Label: prose(string(st.Rule)), Reason: document.Prose(st.Reason, s.Conventions), Line: line, Fresh: true}
			if l, err := balance.NewLedger(st.After); err == nil && st.Written == nil {
				e.Ledger = l
			}
			for i, b := range shown {
				old := b.(document.Equation)
				old.Fresh, old.Ledger, old.Reason = false, nil, nil
				shown[i] = old
			}
			shown = append(shown, e)
		}
		d.Blocks = append(d.Blocks, slide)
		d.Blocks = append(d.Blocks, shown...)
	}
	return d
}

// chart is a picture with its numbers.
func chart() document.Figure {
	bars := []diagram.Bar{
		{Label: drawing.Plain("electrons lost, not gained"), Value: 7, End: "7, 44 %"},
		{Label: []chem.Run{{Text: "H"}, {Text: "2", Level: chem.Subscript}, {Text: "O on the wrong side"}}, Value: 6, End: "6, 38 %"},
		{Label: drawing.Plain("not in lowest terms"), Value: 3, End: "3, 19 %"},
	}
	table := diagram.Table{Caption: "First slips by kind", Head: []diagram.Cell{{Prose: "Slip"}, {Prose: "Workings"}}, Right: []bool{false, true}}
	for _, b := range bars {
		label := diagram.Cell{Prose: b.Label[0].Text}
		if len(b.Label) > 1 {
			label = diagram.Cell{Formula: b.Label}
		}
		table.Rows = append(table.Rows, []diagram.Cell{label, {Prose: fmt.Sprint(b.Value)}})
	}
	drawn, ok := diagram.Bars(diagram.Chart{Title: "First slips by kind", Rows: bars, Table: table})
	if !ok {
		panic("no chart")
	}
	return document.Figure{Drawn: drawn}
}

func samples(t testing.TB) map[string]*document.Document {
	t.Helper()
	all := map[string]*document.Document{
		"empty":     {},
		"worksheet": worksheet(t, false),
		"key":       worksheet(t, true),
		"deck":      deck(t, questions[0]),
		"long deck": deck(t, questions[6]),
		"class": {Title: prose("What the class did"), Blocks: []document.Block{
			document.Paragraph{Text: prose("Sixteen workings, all of them with a slip.")}, chart(), document.Paragraph{Text: prose("Teach the electrons again.")}, document.Figure{}}},
	}
	for _, q := range questions {
		all[q] = worked(t, q)
	}
	return all
}

// every has each kind of block and of piece at least once, in unusual states too.
func every() *document.Document {
	open := balance.Ledger{{Law: balance.Law{}, Left: chem.Whole(0), Right: chem.Whole(2)}}
	unknown := func(s string) chem.Run { return chem.Run{Text: s, Level: chem.Variable} }
	ion := document.Span{Formula: []chem.Run{{Text: "[Fe(CN)"}, {Text: "6", Level: chem.Subscript}, {Text: "]"}, {Text: "4-", Level: chem.Superscript}}}
	line := []chem.Run{{Text: "Cu"}, {Text: " -> "}, {Text: "Cu"}, {Text: "2+", Level: chem.Superscript}, {Text: " + "}, {Text: "2 e"}, {Text: "-", Level: chem.Superscript}}
	return &document.Document{
		Title: document.Inline{{Prose: "Every block & "}, ion}, Language: "en-GB", Running: course,
		Blocks: []document.Block{
			document.Table{Head: []document.Inline{nil, nil}, Right: []bool{false}, Rows: [][]document.Inline{{prose("a"), prose("b"), prose("c")}, nil}},
			document.Table{Caption: `A "caption"`, Spare: 1, Head: []document.Inline{prose("species"), prose("name"), prose("Fe")}, Right: []bool{false, false, true}, Rows: [][]document.Inline{{{ion}, prose("hexacyanidoferrate(II) ion"), prose("+2")}}},
			document.Table{}, document.Figure{}, chart(),
			document.Heading{Text: prose("Level 0")}, document.Heading{Level: 9, Text: prose("Level 9"), Keep: true},
			document.Paragraph{Text: document.Inline{{Prose: "A paragraph with "}, ion, {Prose: " in it."}}}, document.Paragraph{},
			document.Note{Text: prose("A note.")},
			document.List{Items: []document.Inline{prose("an item"), {ion}}}, document.List{},
			document.Break{}, document.Break{},
			document.Table{Head: []document.Inline{prose("behind a break")}, Right: []bool{true}, Rows: [][]document.Inline{{prose("7")}}},
			document.Exercise{Number: 3, Marks: "2 marks", Text: document.Inline{{Prose: "Balance "}, {Formula: line}, {Prose: "."}}},
			document.Space{Label: prose("Oxidation:"), Lines: 2}, document.Space{},
			document.Exercise{Number: 4, Text: prose("A second one.")},
			document.Choices{Items: []document.Choice{{Text: document.Inline{ion}}, {Text: prose("right"), Right: true}, {Text: prose("wrong"), Note: document.Inline{{Prose: "forgets "}, ion}}}}, document.Choices{},
			document.Exercise{Number: -1}, document.Exercise{Number: 1 << 40},
			document.Fields{Labels: []string{"Name", "Code", "A label that is much longer than any that a sheet should have", "Date"}}, document.Fields{},
			document.Equation{Label: prose("split into halves"), Reason: document.Inline{{Prose: "since "}, ion, {Prose: " stays"}}, Line: line, Ledger: open, Fresh: true},
			document.Equation{Label: document.Inline{{Prose: "add "}, ion}, Line: []chem.Run{document.Blank, {Text: " "}, {Text: "Cu"}, {Text: " + "}, document.Blank, {Text: " "}, {Text: "Cl"}, {Text: " = "}, {Text: "CuCl"}}},
			document.Equation{Reason: prose("nothing to do")}, document.Equation{},
			document.Equation{Line: []chem.Run{unknown("a"), {Text: " = "}, {Text: "-2"}, unknown("b"), {Text: ", "}, unknown("c"), {Text: " = "}, {Text: "1"}}},
			document.Equation{Line: []chem.Run{{Text: "CuSO"}, {Text: "4", Level: chem.Subscript}, {Text: ".5H"}, {Text: "2", Level: chem.Subscript}, {Text: "O"}}},
			document.Equation{Line: line, Final: true}, document.Equation{Final: true},
			document.Slide{Title: prose("A slide within"), Notes: []document.Inline{prose("What is said."), {ion}}},
			document.Break{},
		},
	}
}

func ledgerOf(t testing.TB, text string) balance.Ledger {
	t.Helper()
	r, err := chem.ReadEquation(text, nil)
	if err != nil {
		t.Fatal(err)
	}
	l, err := balance.NewLedger(r.All[0].Equation)
	if err != nil {
		t.Fatal(err)
	}
	return l
}
