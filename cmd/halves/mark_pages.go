package main

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"unicode"

	"github.com/spf13/cobra"

	"halves/cohort"
	"halves/document"
	"halves/marking"
	"halves/redox"
)

// routes shows the slips that lead to an answer, or all usual ones.
func (a *app) routes(cmd *cobra.Command, o *markOptions, args []string) error {
	flag := "map"
	if cmd.Flags().Changed("answer") {
		flag = "answer"
	}
	if len(args) > 0 {
		return &usageError{msg: fmt.Sprintf("%q stands beside --%s", args[0], flag), hint: "give workings, or --" + flag + " with --question"}
	}
	if strings.TrimSpace(o.question) == "" {
		return &usageError{msg: "--" + flag + " needs --question", hint: "halves mark --question 'MnO4^- + Fe^2+ -> Mn^2+ + Fe^3+, in acid' --" + flag}
	}
	if o.format == "csv" || o.format == "xlsx" {
		return &usageError{msg: "--" + flag + " writes no table of marks", hint: "leave --format out, and name the file .html, .md, .tex, .json or .txt"}
	}
	m := &marker{question: o.question, medium: o.medium}
	p, err := m.prepare("", "")
	if err != nil {
		return a.refuseQuestion(o, err)
	}
	title, none := "The usual slips of "+p.text, "No usual slip leads to a wrong answer."
	all := p.question.Routes()
	if flag == "answer" {
		if all, err = p.question.FromAnswer(o.answer); err != nil {
			return &usageError{msg: "--answer: " + err.Error(), hint: "type the last line of the working, or one coefficient of it: '7 H2O'"}
		}
		title, none = "Slips that lead to "+strings.TrimSpace(o.answer), "No single usual slip leads to this answer. That does not mean that it is right."
		if len(all) == 0 && p.question.Judge("answer: "+o.answer).FinalCorrect {
			none = "This is the right answer."
		}
	}
	if o.format == "json" {
		out := make([]routeJSON, len(all))
		for i, r := range all {
			out[i] = routeJSON{r.Answer, r.Kind, r.Line, r.Lines, r.Marks, r.OutOf}
		}
		return a.showJSON(o.display, struct {
			Question string      `json:"question"`
			Routes   []routeJSON `json:"routes"`
		}{p.text, out})
	}
	return a.show(o.display, document.FromRoutes(redox.Conventions{}, title, none, all))
}

// A routeJSON is one slip, carried through to the answer.
type routeJSON struct {
	Answer string       `json:"answer"`
	Kind   marking.Kind `json:"kind"`
	Line   int          `json:"line"` // of lines, from 1: the one that slips
	Lines  []string     `json:"lines"`
	Marks  int          `json:"marks"`
	OutOf  int          `json:"outOf"`
}

// refuseQuestion refuses a question that workings cannot be held to.
func (a *app) refuseQuestion(o *markOptions, err error) error {
	var line *lineError
	switch {
	case errors.As(err, &line):
		return &usageError{msg: line.msg, hint: line.hint}
	case o.format == "json":
		return a.refuse(&o.workOptions, err)
	}
	return err
}

// pages writes what goes back to the class: a page for each student, and what the
// class did.
type pages struct {
	folder, summary string
	pageFormat      string // of the pages
	format          string // of summary
	repaired        bool
	scripts         []cohort.Script
	used            map[string]bool // names of pages
}

// newPages looks at where pages are to go; nil where none are wanted.
func (a *app) newPages(cmd *cobra.Command, o *markOptions) (*pages, error) {
	p := &pages{folder: o.feedback, pageFormat: o.pages, summary: o.summary, repaired: o.repaired, used: map[string]bool{}}
	if cmd.Flags().Changed("feedback") {
		if p.folder == "" {
			return nil, &usageError{msg: "--feedback names no folder", hint: "give the name of a folder: --feedback pages"}
		}
		if err := os.MkdirAll(p.folder, 0o777); err != nil {
			return nil, &fileError{p.folder, err}
		}
	}
	if cmd.Flags().Changed("summary") {
		ending := strings.ToLower(filepath.Ext(p.summary))
		p.format = formatOf[ending]
		if p.format == "" || p.format == "json" {
			return nil, &usageError{msg: fmt.Sprintf("--summary cannot be written as %q", p.summary), hint: "name it .html, .md, .tex or .txt"}
		}
	}
	for _, name := range []string{"repaired", "pages"} {
		if cmd.Flags().Changed(name) && p.folder == "" {
			return nil, &usageError{msg: "--" + name + " is for the pages of --feedback", hint: "add --feedback with the name of a folder"}
		}
	}
	return p, nil
}

// add writes the page of one student.
func (p *pages) add(a *app, student, question string, r marking.Result, m marking.Marks) error {
	if p.summary != "" {
		p.scripts = append(p.scripts, cohort.Script{
			Student: student, Question: question, Earned: m.Earned, OutOf: m.OutOf,
			Slip: string(r.Kind), Step: string(r.Step()), Answer: r.Answer(), Provisional: m.Provisional,
		})
	}
	if p.folder == "" {
		return nil
	}
	d := document.FromWorking(redox.Conventions{}, document.Working{Student: student, Question: question, Result: r, Marks: m, Repaired: p.repaired})
	return a.show(display{format: p.pageFormat, file: filepath.Join(p.folder, p.name(student))}, d)
}

// pageEndings are the endings of pages by their format.
var pageEndings = map[string]string{"html": ".html", "markdown": ".md", "latex": ".tex"}

var pageFormats = []string{"html", "markdown", "latex"}

// name is that of a student's page: letters and digits of the name, and a number
// where two are alike.
func (p *pages) name(student string) string {
	base := strings.Map(func(r rune) rune {
		if unicode.IsLetter(r) || unicode.IsDigit(r) || r == '-' || r == '_' {
			return r
		}
		return '-'
	}, student)
	if r := []rune(base); len(r) > 60 {
		base = string(r[:60])
	}
	if strings.Trim(base, "-") == "" {
		base = "working"
	}
	name := base
	for n := 2; p.used[strings.ToLower(name)]; n++ {
		name = fmt.Sprintf("%s-%d", base, n)
	}
	p.used[strings.ToLower(name)] = true
	return name + pageEndings[p.pageFormat]
}

// finish writes what the class did.
func (p *pages) finish(a *app) error {
	if p.summary == "" {
		return nil
	}
	return a.show(display{format: p.format, file: p.summary}, document.FromClass(redox.Conventions{}, cohort.Summarize(slices.Clip(p.scripts))))
}
