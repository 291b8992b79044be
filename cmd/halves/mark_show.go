package main

import (
	"bytes"
	"cmp"
	"fmt"
	"halves/marking"
	"io"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"
)

// A marked working. Its lines and points are left out where only a table of
// many is wanted.
type marked struct {
	student, question string
	result            marking.Result
	marks             marking.Marks
	remark            string     // of one that has no slip and no answer
	explained         [][]string // for each line what led to its verdict; nil where it was not asked for
}

// remark says why a working has no slip and yet not the answer, "" where it has
// either.
func remark(r marking.Result) string {
	if r.FirstSlip > 0 || r.FinalCorrect {
		return ""
	}
	has := func(all ...marking.Verdict) bool {
		return slices.ContainsFunc(r.Lines, func(l marking.Line) bool { return slices.Contains(all, l.Verdict) })
	}
	switch {
	case has(marking.Stands, marking.Recovered, marking.Follows):
		return "the answer is not reached"
	case has(marking.Unread):
		return "it could not be read"
	case has(marking.Elsewhere):
		return "it is about something else"
	}
	return "it holds nothing to judge"
}

// showMarked writes marks as text or JSON. A single working is shown with its
// lines.
func (a *app) showMarked(o *markOptions, all []marked, faults []fault) error {
	if o.format == "json" {
		list := make([]markedJSON, len(all))
		for i, x := range all {
			list[i] = newMarkedJSON(x)
		}
		if len(all) == 1 && len(faults) == 0 {
			return a.showJSON(o.display, list[0])
		}
		return a.showJSON(o.display, struct {
			Workings  []markedJSON `json:"workings"`
			NotMarked []fault      `json:"notMarked"`
		}{list, append([]fault{}, faults...)})
	}
	return a.output(o.file, func(w io.Writer) error {
		t := &markText{width: cmp.Or(a.textOptions(o.display).Width, 80)}
		if len(all) == 1 {
			t.working(all[0])
		} else {
			t.class(all)
		}
		t.faults(faults)
		_, err := w.Write(t.Bytes())
		return err
	})
}

// markText writes marks for a terminal.
type markText struct {
	bytes.Buffer
	width int
}

// wrapped writes words on lines of the width, the first indented by first, the
// others by rest.
func (t *markText) wrapped(first, rest int, text string) {
	at := first
	t.WriteString(strings.Repeat(" ", first))
	for i, w := range strings.Fields(text) {
		n := utf8.RuneCountInString(w)
		switch {
		case i == 0:
		case at+1+n > t.width:
			t.WriteString("\n" + strings.Repeat(" ", rest))
			at = rest
		default:
			t.WriteByte(' ')
			at++
		}
		t.WriteString(w)
		at += n
	}
	t.WriteByte('\n')
}

// working shows one working: its lines, each with its verdict at its end and the
// reason below, and the marks of each step.
func (t *markText) working(x marked) {
	t.wrapped(0, 2, shown(x.student))
	t.wrapped(0, 2, shown(x.question))
	t.WriteByte('\n')
	const indent, gap = 5, 3
	longest := 0
	for _, l := range x.result.Lines {
		longest = max(longest, utf8.RuneCountInString(shown(l.Text)))
	}
	longest = min(longest, t.width-indent-gap-len(marking.Follows.Words()))
	for i, l := range x.result.Lines {
		text := shown(l.Text)
		if text == "" && l.Why == "" {
			continue
		}
		fmt.Fprintf(t, "%3d  %s", l.Number, text)
		if n := utf8.RuneCountInString(text); n <= longest {
			fmt.Fprintf(t, "%*s%s\n", longest-n+gap, "", l.Verdict.Words())
		} else {
			fmt.Fprintf(t, "\n%*s%s\n", indent+longest+gap, "", l.Verdict.Words())
		}
		why := l.Why
		if l.Kind != "" {
			why = strings.TrimSuffix(l.Kind.Words()+": "+why, ": ")
		}
		if why != "" {
			t.wrapped(indent+2, indent+2, why)
		}
		if x.explained != nil {
			for _, sentence := range x.explained[i] {
				if sentence != l.Why {
					t.wrapped(indent+4, indent+4, sentence)
				}
			}
		}
	}
	t.WriteByte('\n')
	if x.result.FirstSlip > 0 {
		t.wrapped(0, 2, fmt.Sprintf("First slip: line %d, %s.", x.result.FirstSlip, x.result.Kind.Words()))
	} else {
		t.wrapped(0, 2, "No slip was found.")
	}
	switch {
	case x.result.FinalCorrect:
		t.wrapped(0, 2, "The last whole equation is the answer.")
	case x.remark != "":
		t.wrapped(0, 2, strings.ToUpper(x.remark[:1])+x.remark[1:]+".")
	default:
		t.wrapped(0, 2, "The working does not end with the answer.")
	}
	marks := fmt.Sprintf("Marks: %d of %d", x.marks.Earned, x.marks.OutOf)
	if x.marks.Provisional {
		marks += ", provisional until a person has looked at what was not read"
	}
	t.WriteByte('\n')
	t.wrapped(0, 2, marks)
	for _, p := range x.marks.Points {
		t.wrapped(2, 6, fmt.Sprintf("%d of %d for %s: %s", p.Earned, p.OutOf, p.Step, p.Why))
	}
}

// class shows a line for each working.
func (t *markText) class(all []marked) {
	if len(all) == 0 {
		return
	}
	rows := [][3]string{{"student", "marks", "first slip"}}
	count := map[marking.Kind]int{}
	for _, x := range all {
		slip := "none"
		if x.result.FirstSlip > 0 {
			count[x.result.Kind]++
			slip = fmt.Sprintf("line %d, %s", x.result.FirstSlip, x.result.Kind.Words())
			if x.marks.Earned == x.marks.OutOf {
				slip += "; it cost nothing"
			}
		} else if x.remark != "" {
			slip += "; " + x.remark
		}
		if x.marks.Provisional {
			slip += " (provisional)"
		}
		rows = append(rows, [3]string{shown(x.student), fmt.Sprintf("%d of %d", x.marks.Earned, x.marks.OutOf), slip})
	}
	var wide [2]int
	for _, r := range rows {
		for i := range wide {
			wide[i] = max(wide[i], utf8.RuneCountInString(r[i]))
		}
	}
	for _, r := range rows {
		fmt.Fprintf(t, "%-*s   %-*s   %s\n", wide[0], r[0], wide[1], r[1], r[2])
	}
	kinds := slices.DeleteFunc(slices.Clone(marking.Kinds), func(k marking.Kind) bool { return count[k] == 0 })
	slices.SortStableFunc(kinds, func(x, y marking.Kind) int { return cmp.Compare(count[y], count[x]) })
	var most []string
	for _, k := range kinds[:min(3, len(kinds))] {
		most = append(most, fmt.Sprintf("%s (%d)", k.Words(), count[k]))
	}
	if len(most) > 0 {
		t.WriteByte('\n')
		t.wrapped(0, 2, "First slips, the most often first: "+strings.Join(most, "; ")+".")
	}
	if slices.ContainsFunc(all, func(x marked) bool { return x.marks.Provisional }) {
		t.WriteByte('\n')
		t.wrapped(0, 2, "Provisional: a line could not be read; look at it before the marks go out.")
	}
}

// faults lists what was not marked.
func (t *markText) faults(all []fault) {
	if len(all) == 0 {
		return
	}
	if t.Len() > 0 {
		t.WriteByte('\n')
	}
	t.WriteString("Not marked:\n")
	for _, f := range all {
		from := f.From
		if f.Student != "" && strings.Contains(from, ", row ") {
			from += " (" + f.Student + ")"
		}
		t.wrapped(2, 4, shown(from)+": "+f.Why)
	}
}

// shown keeps what was typed from steering a terminal.
func shown(s string) string {
	return strings.Map(func(r rune) rune {
		switch {
		case unicode.IsSpace(r):
			return ' '
		case r == utf8.RuneError || !unicode.IsPrint(r):
			return '?'
		}
		return r
	}, strings.TrimSpace(s))
}

// The JSON of a marked working.
type markJSON struct {
	FirstSlip    *int           `json:"firstSlip"` // number of the line, from 1; null for none
	Kind         *marking.Kind  `json:"kind"`
	FinalCorrect bool           `json:"finalCorrect"`
	Marks        int            `json:"marks"`
	OutOf        int            `json:"outOf"`
	Provisional  bool           `json:"provisional"`
	Lines        []markLineJSON `json:"lines"`
}

type markLineJSON struct {
	Line    int             `json:"line"`
	Thread  string          `json:"thread"` // "" for none
	Verdict marking.Verdict `json:"verdict"`
	Kind    *marking.Kind   `json:"kind"`
	Why     string          `json:"why"`
}

type markedJSON struct {
	Student  string `json:"student"`
	Question string `json:"question"`
	markJSON
	Points []pointJSON `json:"points"`
}

type pointJSON struct {
	Step    marking.Step `json:"step"`
	Marks   int          `json:"marks"`
	OutOf   int          `json:"outOf"`
	Line    *int         `json:"line"`    // that earned or lost it, null for none
	Follows bool         `json:"follows"` // earned by a line that follows from a wrong one
	Why     string       `json:"why"`
}

func newMarkJSON(r marking.Result, m marking.Marks) markJSON {
	j := markJSON{FirstSlip: orNull(r.FirstSlip), Kind: orNull(r.Kind), FinalCorrect: r.FinalCorrect, Marks: m.Earned, OutOf: m.OutOf, Provisional: m.Provisional, Lines: make([]markLineJSON, len(r.Lines))}
	for i, l := range r.Lines {
		j.Lines[i] = markLineJSON{l.Number, l.Thread, l.Verdict, orNull(l.Kind), l.Why}
	}
	return j
}

func newMarkedJSON(x marked) markedJSON {
	j := markedJSON{Student: x.student, Question: x.question, markJSON: newMarkJSON(x.result, x.marks), Points: []pointJSON{}}
	for _, p := range x.marks.Points {
		j.Points = append(j.Points, pointJSON{p.Step, p.Earned, p.OutOf, orNull(p.Line), p.Follows, p.Why})
	}
	return j
}

// orNull returns nil for the zero value, which JSON writes as null.
func orNull[T comparable](v T) *T {
	var zero T
	if v == zero {
		return nil
	}
	return &v
}
