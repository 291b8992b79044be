package document_test

import (
	"strings"
	"testing"

	"halves/cohort"
	"halves/document"
	"halves/internal/headless"
	"halves/marking"
	"halves/redox"
)

func markingQuestion(t *testing.T, skeleton string, m redox.Medium) *marking.Question {
	t.Helper()
	s, err := redox.Work(skeleton, m, redox.Conventions{})
	if err != nil {
		t.Fatal(err)
	}
	q, err := marking.NewQuestion(s)
	if err != nil {
		t.Fatal(err)
	}
	return q
}

func pageText(t *testing.T, d *document.Document) string {
	t.Helper()
	var b strings.Builder
	if err := document.Text(&b, d, document.TextOptions{Width: 100}); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

// TestFromWorking: a page has the verdicts in words, what to look at, and the
// marks with reasons; the repaired line only where it is allowed.
func TestFromWorking(t *testing.T) {
	q := markingQuestion(t, "MnO4^- + Fe^2+ -> Mn^2+ + Fe^3+", redox.Acidic)
	r := q.Judge("MnO4- + 8H+ + 3e- -> Mn2+ + 4H2O\nFe2+ -> Fe3+ + e-\n\n<b>3Fe2+</b>\nMnO4- + 8H+ + 3Fe2+ -> Mn2+ + 4H2O + 3Fe3+")
	w := document.Working{Student: "S-07", Question: "MnO4^- + Fe^2+ -> Mn^2+ + Fe^3+, in acid", Result: r, Marks: r.Mark(q.Scheme())}
	page := pageText(t, document.FromWorking(redox.Conventions{}, w))
	for _, want := range []string{"S-07", "look again: number of electrons", "left has the charge +4, right +2", "follows from a wrong line", "Marks: 4 of 6", "lost on line 1"} {
		if !strings.Contains(page, want) {
			t.Errorf("no %q on\n%s", want, page)
		}
	}
	if strings.Contains(page, "could be") {
		t.Errorf("the repaired line stands on\n%s", page)
	}
	w.Repaired = true
	if page := pageText(t, document.FromWorking(redox.Conventions{}, w)); !strings.Contains(page, "Line 1 could be: MnO₄⁻ + 8 H⁺ + 5 e⁻ ⟶ Mn²⁺ + 4 H₂O") {
		t.Errorf("no repaired line on\n%s", page)
	}
	var b strings.Builder
	if err := document.HTML(&b, document.FromWorking(redox.Conventions{}, w), document.HTMLOptions{}); err != nil {
		t.Fatal(err)
	}
	if strings.Contains(b.String(), "<b>3Fe") || !strings.Contains(b.String(), "&lt;b&gt;3Fe") {
		t.Error("what a student typed is taken for a part of the page")
	}
}

// TestFromClass: figures where there are some, reasons where there are none.
func TestFromClass(t *testing.T) {
	all := []cohort.Script{
		{Student: "S-07", Question: "Cu + Ag^+ -> Cu^2+ + Ag", Earned: 6, OutOf: 6, Answer: "Cu + 2 Ag^+ -> Cu^2+ + 2 Ag"},
		{Student: "S-08", Question: "Cu + Ag^+ -> Cu^2+ + Ag", Earned: 4, OutOf: 6, Slip: string(marking.UnequalElectrons), Step: string(marking.EqualizedStep), Provisional: true},
	}
	page := pageText(t, document.FromClass(redox.Conventions{}, cohort.Summarize(all)))
	for _, want := range []string{"2 workings of 2 students, 1 of them with a slip", "1 working are provisional", "electrons not made equal", "electrons made equal", "83 %", "No discrimination is given", "Cu + 2 Ag⁺ ⟶ Cu²⁺ + 2 Ag", "1 working came to no whole equation"} {
		if !strings.Contains(page, want) {
			t.Errorf("no %q on\n%s", want, page)
		}
	}
	if page := pageText(t, document.FromClass(redox.Conventions{}, cohort.Summary{})); !strings.Contains(page, "0 workings of 0 students") {
		t.Errorf("of nothing:\n%s", page)
	}
}

// class is an invented class with slips of several kinds on some questions.
func class(questions ...string) cohort.Summary {
	var all []cohort.Script
	for i, student := range []string{"S-01", "S-02", "S-03", "S-04"} {
		for k, q := range questions {
			s := cohort.Script{Student: student, Question: q, Earned: 6 - i*k%6, OutOf: 6}
			if i+k > 1 {
				s.Slip, s.Step = string(marking.Kinds[(i+k)%len(marking.Kinds)]), string(marking.EqualizedStep)
			}
			all = append(all, s)
		}
	}
	return cohort.Summarize(all)
}

func classPage(t *testing.T, s cohort.Summary) string {
	t.Helper()
	var b strings.Builder
	if err := document.HTML(&b, document.FromClass(redox.Conventions{}, s), document.HTMLOptions{}); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

// TestClassCharts: kinds have a chart, and questions where there are two or
// more; each table stands once, and the words have the figures.
func TestClassCharts(t *testing.T) {
	const iron, copper = "MnO4^- + Fe^2+ -> Mn^2+ + Fe^3+, in acid", "Cu + Ag^+ -> Cu^2+ + Ag"
	two := class(copper, iron)
	page := classPage(t, two)
	if n := strings.Count(page, "<svg"); n != 2 {
		t.Errorf("%d charts for kinds and two questions", n)
	}
	for want, n := range map[string]int{
		"<figcaption>Workings by kind of first slip</figcaption>": 1,
		"<figcaption>Share of marks by question</figcaption>":     1,
		">Discrimination</th>":                                    1,
		">Slip</th>":                                              1,
		`aria-label="Table: questions"`:                           1, // an equation does not break: the table can be scrolled
		">, in acid</tspan></text>":                               1,
	} {
		if got := strings.Count(page, want); got != n {
			t.Errorf("%s stands %d times on the page", want, got)
		}
	}
	text := strings.Join(strings.Fields(pageText(t, document.FromClass(redox.Conventions{}, two))), " ")
	for _, want := range []string{"Workings by kind of first slip. 3 bars, from the top: ", "Share of marks by question. 2 bars, from the top: ", "iron three ion, in acid (75 %)", "MnO₄⁻ + Fe²⁺ ⟶ Mn²⁺ + Fe³⁺, in acid"} {
		if !strings.Contains(text, want) {
			t.Errorf("no %q in\n%s", want, text)
		}
	}
	if n := strings.Count(classPage(t, class(iron)), "<svg"); n != 1 {
		t.Errorf("%d charts for kinds and one question", n)
	}
	if n := strings.Count(classPage(t, cohort.Summary{}), "<svg"); n != 0 {
		t.Errorf("%d charts of nothing", n)
	}
}

// TestBrowserClass: axe finds nothing on the page, light and dark.
func TestBrowserClass(t *testing.T) {
	ctx := headless.Open(t)
	show(t, ctx, classPage(t, class("Cu + Ag^+ -> Cu^2+ + Ag", "MnO4^- + Fe^2+ -> Mn^2+ + Fe^3+, in acid")))
	for _, colours := range []string{"light", "dark"} {
		scheme(t, ctx, "screen", colours)
		for _, v := range violations(t, ctx) {
			t.Errorf("%s: %s", colours, v)
		}
	}
}

// TestFromRoutes: slips are gathered by the answer that they lead to.
func TestFromRoutes(t *testing.T) {
	q := markingQuestion(t, "Cu + NO3^- -> Cu^2+ + NO", redox.Acidic)
	routes, err := q.FromAnswer("Cu + NO3- + 4H+ -> Cu2+ + NO + 2H2O")
	if err != nil {
		t.Fatal(err)
	}
	page := pageText(t, document.FromRoutes(redox.Conventions{}, "Slips", "none", routes))
	if strings.Count(page, "\nCu + NO₃⁻ + 4 H⁺ ⟶ Cu²⁺ + NO + 2 H₂O\n") != 1 || !strings.Contains(page, "number of electrons, at Cu ⟶ Cu²⁺ + 3 e⁻: 4 of 6 marks") || !strings.Contains(page, "electrons not made equal") {
		t.Errorf("the slips:\n%s", page)
	}
	if page := pageText(t, document.FromRoutes(redox.Conventions{}, "Slips", "None is known.", nil)); !strings.Contains(page, "None is known.") {
		t.Errorf("of nothing:\n%s", page)
	}
}

// TestWrappingTable: on paper the prose of a table that is wider than the line
// wraps, and no row is broken up into sentences.
func TestWrappingTable(t *testing.T) {
	q := markingQuestion(t, "MnO4^- + Fe^2+ -> Mn^2+ + Fe^3+", redox.Acidic)
	r := q.Judge("MnO4- + 8H+ + 3e- -> Mn2+ + 4H2O\nFe2+ -> Fe3+ + e-\nMnO4- + 8H+ + 3Fe2+ -> Mn2+ + 4H2O + 3Fe3+")
	var b strings.Builder
	d := document.FromWorking(redox.Conventions{}, document.Working{Student: "S-07", Question: "q", Result: r, Marks: r.Mark(q.Scheme())})
	if err := document.LaTeX(&b, d, document.LaTeXOptions{}); err != nil {
		t.Fatal(err)
	}
	page := b.String()
	if strings.Count(page, `\begin{tabular}`) != 2 || !strings.Contains(page, `\linewidth}`) || !strings.Contains(page, `\tabularnewline`) {
		t.Errorf("the page:\n%s", page)
	}
}
