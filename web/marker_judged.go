package web

import (
	"fmt"
	"html/template"
	"slices"
	"strconv"
	"strings"

	"halves/document"
	"halves/marking"
	"halves/redox"
)

// A judgedPart is what became of a working.
type judgedPart struct {
	Mistake *told // why nothing could be judged
	Told    string
	Empty   bool // no working is there yet
	Lines   []judgedLine
	Beyond  int  // lines that are judged and not shown
	Short   bool // not all lines say what led to their verdicts
	First   string
	End     string
	Unsure  string // why the marks are provisional
	Marks   marking.Marks
	// Effect is what the rulings did to the marks, "" where there are none.
	Effect  string
	Points  []markedStep
	Bare    bool
	Wrong   *told // of the scheme
	Rulings []keptRuling
	Kinds   []kindChoice
	Form    markerForm
	Student *document.Document
	Slips   *document.Document
	Count   int // of usual slips
}

// A judgedLine is a line of the working with its verdict.
type judgedLine struct {
	Number   int
	Text     template.HTML // as typed
	Verdict  marking.Verdict
	Words    string
	First    bool
	Kind     string
	Why      document.Inline
	Thread   string
	Explain  []document.Inline
	Earned   []string // what the line earned or cost
	Ruling   int      // of Rulings, from 1; 0 for none
	May      bool     // be overruled
	Look     bool     // a person should
	Panel    bool     // is being overruled
	Form     markerForm
	Kinds    []kindChoice
	Verdicts []verdictChoice
}

// A markedStep is a line of the marks.
type markedStep struct {
	Step   string // as a form names it; in words a template would write it
	Words  string
	Worth  string // as it stands in the form
	Earned int
	Why    document.Inline
}

// A keptRuling is a ruling as the form keeps it.
type keptRuling struct {
	ruling
	Index int
	Words string
	There bool // its line stands in the working
}

type kindChoice struct {
	Kind  marking.Kind
	Words string
}

type verdictChoice struct {
	Verdict marking.Verdict
	Words   string
}

// Of a long working so many lines are shown, and of so many what led to the verdict;
// of those that slip it always is.
const (
	mostLines     = 60
	mostExplained = 30
)

// judge holds a working to its question.
func judge(f markerForm, c redox.Conventions) *judgedPart {
	p := &judgedPart{Form: f, Bare: f.Bare, Empty: strings.TrimSpace(f.Working) == ""}
	p.keepRulings(f, nil)
	q, err := f.prepare()
	if err == nil {
		err = f.check()
	}
	if err != nil {
		t := explain(err)
		p.Mistake, p.Told = &t, t.Message
		return p
	}
	scheme, err := f.scheme(q)
	if err != nil {
		t := explain(err)
		p.Wrong = &t
	}
	result := f.judgeWith(q)
	p.Marks = result.Mark(scheme)
	for _, x := range p.Marks.Points {
		p.Points = append(p.Points, markedStep{string(x.Step), x.Step.String(), f.worthOf(x.Step, scheme), x.Earned, document.Prose(signed(x.Why), c)})
	}
	// What is worth nothing has no point, and its field stays.
	for _, step := range marking.Steps {
		if worth, ok := scheme.Worth[step]; ok && worth == 0 {
			p.Points = append(p.Points, markedStep{string(step), step.String(), f.worthOf(step, scheme), 0, document.Plain("worth nothing")})
		}
	}
	slices.SortStableFunc(p.Points, func(a, b markedStep) int {
		return slices.Index(marking.Steps, marking.Step(a.Step)) - slices.Index(marking.Steps, marking.Step(b.Step))
	})
	routes := q.Routes()
	p.Count = len(routes)
	p.Slips = document.FromRoutes(c, f.asked(), "No usual slip of this question is known.", routes)
	if p.Empty {
		p.Told = "No working is there yet."
		return p
	}
	p.lines(f, result, c)
	p.keepRulings(f, p.Lines)
	p.First, p.End, p.Unsure = markedWords(result, p.Marks)
	p.Told = fmt.Sprintf("%d of %d marks. %s", p.Marks.Earned, p.Marks.OutOf, p.First)
	if len(f.Rulings) > 0 {
		alone := q.Judge(f.Working).Mark(scheme)
		if alone.Earned == p.Marks.Earned {
			p.Effect = fmt.Sprintf("Your verdicts leave the marks as they were: %d of %d.", alone.Earned, alone.OutOf)
		} else {
			p.Effect = fmt.Sprintf("Without your verdicts they would be %d of %d.", alone.Earned, alone.OutOf)
		}
	}
	short := result
	if len(short.Lines) > mostLines {
		short.Lines = short.Lines[:mostLines]
	}
	p.Student = f.feedback(short, p.Marks, c)
	return p
}

// worthOf is what stands in the field of a step: what was typed, right or wrong.
func (f markerForm) worthOf(step marking.Step, scheme marking.Scheme) string {
	if text, ok := f.Worth[step]; ok {
		return text
	}
	return strconv.Itoa(scheme.Worth[step])
}

// lines lists the lines that have something on them.
func (p *judgedPart) lines(f markerForm, r marking.Result, c redox.Conventions) {
	earned := map[int][]string{}
	for _, x := range p.Marks.Points {
		if x.Line > 0 {
			earned[x.Line] = append(earned[x.Line], fmt.Sprintf("%d of %d for %s", x.Earned, x.OutOf, x.Step))
		}
	}
	for _, kind := range marking.Kinds {
		p.Kinds = append(p.Kinds, kindChoice{kind, kind.Words()})
	}
	var verdicts []verdictChoice
	for _, v := range rulingVerdicts {
		verdicts = append(verdicts, verdictChoice{v, v.Words()})
	}
	panel := false // of lines that are the same one has it
	for _, l := range r.Lines {
		text := strings.TrimSpace(l.Text)
		if text == "" {
			continue
		}
		if len(p.Lines) == mostLines {
			p.Beyond++
			continue
		}
		x := judgedLine{Number: l.Number, Text: asTyped(text), Verdict: l.Verdict, Words: l.Verdict.Words(), First: l.Number == r.FirstSlip, Kind: sentence(l.Kind.Words()), Thread: l.Thread, Earned: earned[l.Number], May: l.Verdict != marking.Comment}
		if l.Why != "" {
			x.Why = document.Prose(signed(sentence(l.Why)), c)
		}
		if len(p.Lines) < mostExplained || l.Verdict == marking.Slips {
			for _, e := range r.Explain(l.Number) {
				if e != l.Why { // which stands there already
					x.Explain = append(x.Explain, document.Prose(signed(e), c))
				}
			}
		} else {
			p.Short = true
		}
		x.Look = l.Verdict == marking.Unread || l.Verdict == marking.Elsewhere
		for i, ruled := range f.Rulings {
			if sameLine(ruled.Text, text) && x.May {
				x.Ruling = i + 1
			}
		}
		if f.Panel.Text != "" && !panel && x.May && sameLine(f.Panel.Text, text) {
			x.Panel, panel = true, true
			x.Form, x.Kinds, x.Verdicts = f, p.Kinds, verdicts
		}
		p.Lines = append(p.Lines, x)
	}
}

// keepRulings lists the rulings for the form, whether their lines are still there
// or not.
func (p *judgedPart) keepRulings(f markerForm, lines []judgedLine) {
	p.Rulings = nil
	for i, x := range f.Rulings {
		k := keptRuling{ruling: x, Index: i, Words: marking.Verdict(x.Verdict).Words()}
		if x.Verdict == string(marking.Slips) {
			k.Words += ": " + marking.Kind(x.Kind).Words()
		}
		k.There = slices.ContainsFunc(lines, func(l judgedLine) bool { return l.Ruling == i+1 })
		p.Rulings = append(p.Rulings, k)
	}
}

// markedWords says of a working where it first slips, how it ends, and why its marks
// are provisional.
func markedWords(r marking.Result, m marking.Marks) (first, end, unsure string) {
	var unread, elsewhere []string
	moves := false
	for _, l := range r.Lines {
		switch l.Verdict {
		case marking.Unread:
			unread = append(unread, strconv.Itoa(l.Number))
		case marking.Elsewhere:
			elsewhere = append(elsewhere, strconv.Itoa(l.Number))
		case marking.Comment:
		default:
			moves = true
		}
	}
	switch {
	case r.FirstSlip > 0:
		first = fmt.Sprintf("The first slip is on line %d: %s.", r.FirstSlip, r.Kind.Words())
	case !moves && unread == nil && elsewhere == nil:
		first = "Nothing to judge was found."
	default:
		first = "No slip was found."
	}
	switch {
	case r.FinalCorrect:
		end = "The last whole equation is the answer."
	case r.FirstSlip == 0 && moves:
		end = "The answer is not reached."
	case moves:
		end = "The working does not end with the answer."
	}
	if m.Provisional {
		var why []string
		if unread != nil {
			why = append(why, lineNumbers(unread)+" could not be read")
		}
		if elsewhere != nil {
			why = append(why, lineNumbers(elsewhere)+" "+isAre(elsewhere)+" about something else")
		}
		if why == nil {
			why = append(why, "nothing in it could be judged")
		}
		unsure = "The marks are provisional: " + strings.Join(why, ", and ") + ". Look there before the marks go out; you may overrule a verdict."
	}
	return first, end, unsure
}

// lineNumbers names lines: "line 3", "lines 3, 5 and 8".
func lineNumbers(all []string) string {
	const most = 8
	switch {
	case len(all) == 1:
		return "line " + all[0]
	case len(all) > most:
		return fmt.Sprintf("lines %s and %d more", strings.Join(all[:most], ", "), len(all)-most)
	}
	return "lines " + strings.Join(all[:len(all)-1], ", ") + " and " + all[len(all)-1]
}

func isAre(all []string) string {
	if len(all) == 1 {
		return "is"
	}
	return "are"
}

// signed writes the minus signs of numbers in a sentence as such.
func signed(s string) string {
	for n := range 10 {
		s = strings.ReplaceAll(s, " -"+strconv.Itoa(n), " \u2212"+strconv.Itoa(n))
	}
	return s
}

// asTyped writes a line as it was typed, whose arrows are not broken at the end of
// a line. The result is safe: what was typed is escaped.
func asTyped(text string) template.HTML {
	return template.HTML(strings.ReplaceAll(template.HTMLEscapeString(text), "-&gt;", `<span class="arrow">-&gt;</span>`))
}
