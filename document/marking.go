package document

import (
	"fmt"
	"strconv"
	"strings"

	"halves/chem"
	"halves/cohort"
	"halves/diagram"
	"halves/drawing"
	"halves/marking"
	"halves/redox"
)

// A Working is a marked working with whose it is.
type Working struct {
	Student  string
	Question string // as typed
	Result   marking.Result
	Marks    marking.Marks
	Repaired bool // show how a line that slips could stand
}

// FromWorking lays out the page that a student gets back: each line with its
// verdict in words, what to look at, and the marks with the reason for each.
func FromWorking(c redox.Conventions, w Working) *Document {
	d := newLayout(c)
	d.Title = Plain(w.Student)
	d.add(Paragraph{d.prose(w.Question)})
	t := Table{Caption: "the working, line by line", Head: []Inline{Plain("Line"), Plain("What you wrote"), Plain("Verdict")}, Right: []bool{true, false, false}}
	for _, l := range w.Result.Lines {
		text := strings.TrimSpace(l.Text)
		if text == "" {
			continue
		}
		t.Rows = append(t.Rows, []Inline{Plain(strconv.Itoa(l.Number)), Plain(text), d.prose(verdictOf(l))})
	}
	if len(t.Rows) > 0 {
		d.add(Heading{Level: 1, Text: Plain("Line by line")}, t)
	}
	first := true
	for _, l := range w.Result.Lines {
		f, ok := w.Result.Feedback(l.Number)
		if !ok {
			continue
		}
		if first {
			d.add(Heading{Level: 1, Text: Plain("What to look at")})
			first = false
		}
		d.add(Paragraph{d.said("Line %d, %s: %s. %s %s", l.Number, l.Kind.Words(), f.Matter, f.Rule, f.Question)})
		if w.Repaired && f.Repaired != "" {
			d.add(Paragraph{d.said("Line %d could be: %s", l.Number, f.Repaired)})
		}
	}
	d.marks(w.Marks)
	return d.Document
}

// verdictOf says a line's verdict.
func verdictOf(l marking.Line) string {
	if l.Verdict == marking.Slips {
		return "look again: " + l.Kind.Words()
	}
	return l.Verdict.Words()
}

// said makes a text of a sentence with formulas and true minus signs.
func (d layout) said(format string, values ...any) Inline {
	s := fmt.Sprintf(format, values...)
	for n := range 10 {
		s = strings.ReplaceAll(s, " -"+strconv.Itoa(n), " \u2212"+strconv.Itoa(n))
	}
	return d.prose(s)
}

// marks writes the marks, step by step.
func (d layout) marks(m marking.Marks) {
	d.add(Heading{Level: 1, Text: Plain(fmt.Sprintf("Marks: %d of %d", m.Earned, m.OutOf)), Keep: true})
	if m.Provisional {
		d.add(Note{Plain("A line could not be read. The marks are provisional until a person has looked at it.")})
	}
	t := Table{Caption: "marks by step", Head: []Inline{Plain("Step"), Plain("Marks"), Plain("Why")}, Right: []bool{false, true, false}}
	for _, p := range m.Points {
		t.Rows = append(t.Rows, []Inline{Plain(p.Step.String()), Plain(fmt.Sprintf("%d of %d", p.Earned, p.OutOf)), d.said("%s", p.Why)})
	}
	d.add(t)
}

// FromClass lays out what a class did: slips by kind and by step, each question
// with its difficulty and discrimination, and equal answers. Slips by kind and
// the shares of marks of two questions or more come with a bar chart.
func FromClass(c redox.Conventions, s cohort.Summary) *Document {
	d := newLayout(c)
	d.Title = Plain("What the class did")
	text := fmt.Sprintf("%s of %s, %d of them with a slip.", counted(s.Scripts, "working"), counted(s.Students, "student"), s.Slipped)
	if s.Provisional > 0 {
		text += fmt.Sprintf(" Marks of %s are provisional: a line could not be read, or is about something else.", counted(s.Provisional, "working"))
	}
	if s.Replaced > 0 {
		text += fmt.Sprintf(" Of %s handed in again the later one counts.", counted(s.Replaced, "working"))
	}
	d.add(Paragraph{Plain(text)})
	tally := func(title, what, chart string, all []cohort.Tally, words func(string) string) {
		if len(all) == 0 {
			return
		}
		var bars []diagram.Bar
		t := Table{Caption: title, Head: []Inline{Plain(what), Plain("Workings"), Plain("Share")}, Right: []bool{false, true, true}}
		for _, x := range all {
			t.Rows = append(t.Rows, []Inline{Plain(words(x.Name)), Plain(strconv.Itoa(x.Count)), Plain(percent(x.Share))})
			bars = append(bars, diagram.Bar{Label: drawing.Plain(words(x.Name)), Value: float64(x.Count), End: fmt.Sprintf("%d, %s", x.Count, percent(x.Share))})
		}
		d.add(Heading{Level: 1, Text: Plain(title)})
		if chart == "" {
			d.add(t)
			return
		}
		d.charted(chart, 0, bars, t)
	}
	tally("First slips by kind", "Slip", "Workings by kind of first slip", s.Kinds, func(k string) string { return marking.Kind(k).Words() })
	tally("First slips by step of the method", "Step", "", s.Steps, func(k string) string { return marking.Step(k).String() })
	t := Table{Caption: "questions", Head: []Inline{Plain("Question"), Plain("Workings"), Plain("Share of marks"), Plain("Discrimination")}, Right: []bool{false, true, true, true}}
	var reasons []Inline
	var bars []diagram.Bar
	for _, x := range s.Items {
		discrimination := d.decimals(fmt.Sprintf("%.2f", x.Discrimination.Value))
		if !x.Discrimination.Known() {
			discrimination = "none"
			reasons = append(reasons, Join(d.prose(x.Question), Plain(": "+x.Discrimination.Reason)))
		}
		share := "none"
		if x.Difficulty.Known() {
			share = percent(x.Difficulty.Value)
		}
		question := d.prose(x.Question)
		t.Rows = append(t.Rows, []Inline{question, Plain(strconv.Itoa(x.Scripts)), Plain(share), Plain(minus(discrimination))})
		spoken, _ := question.Spoken()
		bars = append(bars, diagram.Bar{Label: printed(question), Spoken: spoken, Value: x.Difficulty.Value, End: share})
	}
	if len(t.Rows) > 0 {
		d.add(Heading{Level: 1, Text: Plain("Questions")})
		if len(bars) > 1 {
			d.charted("Share of marks by question", 1, bars, t)
		} else {
			d.add(t)
		}
		d.add(Note{Plain("Share of marks: what was earned of what could be; a larger share is an easier question. Discrimination: the correlation of the marks of the question with those of the others.")})
	}
	if len(reasons) > 0 {
		d.add(Paragraph{Plain("No discrimination is given where it cannot be:")}, List{reasons})
	}
	if len(s.Items) > 1 {
		if s.Alpha.Known() {
			d.add(Paragraph{Plain(minus(d.decimals(fmt.Sprintf("Cronbach’s alpha of the %d questions is %.2f, from %s who answered all of them.", s.Alpha.Questions, s.Alpha.Value, counted(s.Alpha.Students, "student")))))})
		} else {
			d.add(Paragraph{Plain("Cronbach’s alpha is not given: " + s.Alpha.Reason + ".")})
		}
	}
	for _, x := range s.Items {
		d.answers(x)
	}
	return d.Document
}

// charted adds a bar chart with the table of its numbers.
func (d layout) charted(title string, whole float64, bars []diagram.Bar, t Table) {
	cells := func(row []Inline) []diagram.Cell {
		out := make([]diagram.Cell, len(row))
		for i, text := range row {
			out[i] = cell(text)
		}
		return out
	}
	data := diagram.Table{Caption: t.Caption, Head: cells(t.Head), Right: t.Right}
	for _, r := range t.Rows {
		data.Rows = append(data.Rows, cells(r))
	}
	if f, ok := diagram.Bars(diagram.Chart{Title: title, Rows: bars, Whole: whole, Table: data}); ok {
		d.add(Figure{f})
	}
}

// cell makes a cell of a text, which is prose or a formula there. An equation
// takes the prose beside it into its formula ("..., in acid"), since a table that
// has an equation may be scrolled; other formulas become plain characters.
func cell(text Inline) diagram.Cell {
	spoken, differs := text.Spoken()
	if !differs {
		spoken = ""
	}
	var runs []chem.Run
	var prose strings.Builder
	for _, s := range text {
		if s.Prose != "" {
			runs = append(runs, drawing.Plain(s.Prose)...)
		}
		runs = append(runs, s.Formula...)
		prose.WriteString(s.Prose + signsOf(s.Formula))
	}
	if _, right := SidesOf(runs); right != nil || len(text) == 1 && text[0].Formula != nil {
		return diagram.Cell{Formula: runs, Spoken: spoken}
	}
	return diagram.Cell{Prose: prose.String(), Spoken: spoken}
}

// printed are the runs of a text for a picture.
func printed(text Inline) []chem.Run {
	var out []chem.Run
	for _, s := range text {
		if s.Prose != "" {
			out = append(out, drawing.Plain(s.Prose)...)
		}
		out = append(out, drawing.Signs(s.Formula)...)
	}
	return out
}

// answers lists the equal answers to a question.
func (d layout) answers(x cohort.Item) {
	if len(x.Answers) == 0 {
		return
	}
	t := Table{Caption: "equal answers", Head: []Inline{Plain("Answer"), Plain("Students"), Plain("Share of marks")}, Right: []bool{false, true, true}}
	for _, g := range x.Answers {
		share := "none"
		if g.MeanShare.Known() {
			share = percent(g.MeanShare.Value)
		}
		t.Rows = append(t.Rows, []Inline{d.prose(g.Answer), Plain(strconv.Itoa(g.Count)), Plain(share)})
	}
	d.add(Heading{Level: 1, Text: Join(Plain("Answers to "), d.prose(x.Question))}, t)
	if x.Unanswered > 0 {
		d.add(Note{Plain(counted(x.Unanswered, "working") + " came to no whole equation.")})
	}
}

// FromRoutes lays out the slips that lead to wrong answers: the slip map of a
// question, or those that lead to one answer.
func FromRoutes(c redox.Conventions, title, none string, all []marking.Route) *Document {
	d := newLayout(c)
	d.Title = d.prose(title)
	if len(all) == 0 {
		d.add(Paragraph{Plain(none)})
		return d.Document
	}
	var order []string
	by := map[string][]Inline{}
	for _, r := range all {
		answer := bare(r.Answer)
		if by[answer] == nil {
			order = append(order, answer)
		}
		where := d.prose(bare(r.Lines[r.Line-1]))
		by[answer] = append(by[answer], Join(Plain(r.Kind.Words()+", at "), where, Plain(fmt.Sprintf(": %d of %d marks", r.Marks, r.OutOf))))
	}
	d.add(Note{Plain("One slip each, carried through to the end. Marks are by the usual scheme, with the whole working shown.")})
	for _, answer := range order {
		d.add(Heading{Level: 1, Text: d.prose(answer), Keep: true}, List{by[answer]})
	}
	return d.Document
}

// bare cuts the label off a line of a route.
func bare(line string) string {
	if _, rest, ok := strings.Cut(line, ": "); ok {
		return rest
	}
	return line
}

func counted(n int, what string) string {
	if n == 1 {
		return "1 " + what
	}
	return strconv.Itoa(n) + " " + what + "s"
}

func percent(share float64) string { return fmt.Sprintf("%.0f%s%%", 100*share, noBreak) }
