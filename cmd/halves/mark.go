package main

import (
	"encoding/json"
	"errors"
	"fmt"
	"path/filepath"
	"slices"
	"strings"
	"sync"

	"github.com/spf13/cobra"

	"halves/marking"
	"halves/redox"
)

type markOptions struct {
	workOptions
	question string
	worth    string
	working  bool
	answer   string
	slipMap  bool
	feedback string
	summary  string
	repaired bool
	pages    string // their format
	scheme   string
	explain  bool
	resume   bool
}

func (a *app) markCommand() *cobra.Command {
	o := &markOptions{}
	inQuotes, _, _ := strings.Cut(quoting, "\nOr keep it out") // here - is a working
	cmd := &cobra.Command{
		Use:   "mark WORKING...",
		Short: "Mark students' workings, line by line",
		Long: `Judge the workings of students line by line: which lines stand, which is the
first that slips and in what, and the marks for each step with the reason.

A WORKING is a text file of one student's working, named after the student; a
folder of such files (*.txt); a table (.csv, or the first sheet of an .xlsx) whose
first row names its columns: student, working, and where the question differs
question and medium; or - for standard input. One working is shown with its lines
and its marks; several as a table. A name after -o that ends in .csv, .xlsx or
.json settles the format. What cannot be marked is listed with its reason, and the
rest goes on.

A table may have any number of rows; those of a .csv are marked as they are read,
and with -o marks.csv none is kept. A working may have 64 KB, a row 1 MB. Where a
quotation mark is not closed, the lines that it swallows are named.

A point is worth one mark; --worth says otherwise, and a step that it leaves out
earns nothing. The steps are species, oxidation, reduction, equalized, added,
medium (in base) and final. With --working a bare answer earns the final point
alone; where nothing dissolves they are states, changes, equalized, coefficients
and final. --scheme reads the same from a file. Marks that rest on a line that could not be read are provisional until a
person has looked.

--feedback writes a page for each student into a folder, with --repaired also how
a line that slips could stand. --summary writes what the class did: slips by kind
and by step, how hard each question was and how well it tells students apart,
equal answers, and for several questions Cronbach's alpha.

Most scripts are on paper. With --answer and --question, type the last line of one,
or one wrong coefficient ('7 H2O'), and see the single slips that lead to it, those
that cost least first; with --map
the usual slips of the question with their answers.

With --each every line of a file is a working, as JSON {"id": ..., "question":
"...", "medium": "...", "text": "..."}; the question may be {"skeleton": "...",
"medium": "..."}, or is that of --question. One line of JSON comes out for each,
in order: {"id": ..., "firstSlip": ..., "kind": ..., "finalCorrect": ...,
"marks": ..., "outOf": ..., "provisional": ..., "lines": [...]}, or {"id": ...,
"error": {...}}; the exit status is 0 once all lines were read. With --resume and -o
what is done stands in a file that ends in .part until all is, and a run that was
broken off goes on behind it.

` + inQuotes + `
` + statuses("marked", `chemistry says no: the question has no answer, many answers, one half only, or
     needs a medium`) + `
A working that cannot be read gives 2 after the others were marked.`,
		Example: `  halves mark --question 'MnO4^- + Fe^2+ -> Mn^2+ + Fe^3+, in acid' hand-in.txt
  halves mark --question 'Cl2 -> Cl^- + ClO3^-, in base' section-b/ -o marks.csv
  halves mark section-b.xlsx -o marks.xlsx
  halves mark section-b.csv --worth 'species=1, oxidation=2, reduction=2, final=1'
  halves mark section-b.csv --feedback pages --summary class.html
  halves mark --question 'Cu + NO3^- -> Cu^2+ + NO, in acid' --answer 'Cu + NO3^- + 4 H^+ -> Cu^2+ + NO + 2 H2O'
  halves mark --each workings.jsonl -o marks.jsonl`,
		GroupID: groupWork,
		RunE:    func(cmd *cobra.Command, args []string) error { return a.mark(cmd, o, args) },
	}
	f := cmd.Flags()
	f.StringVar(&o.question, "question", "", "the `EQUATION` that was to be balanced")
	f.Var(mediumValue(&o.medium), "medium", "what may be added, where the question does not say")
	f.StringVar(&o.worth, "worth", "", "what the `STEPS` are worth: 'species=1, oxidation=2, final=3'")
	f.StringVar(&o.scheme, "scheme", "", "read what the steps are worth from `FILE` (YAML, a step a line: 'oxidation: 2')")
	f.BoolVar(&o.explain, "explain", false, "of one working, say for each line what led to its verdict")
	f.BoolVar(&o.resume, "resume", false, "with --each and -o, go on where a run was broken off")
	f.BoolVar(&o.working, "working", false, "the working was asked for: a bare answer earns the final point alone")
	f.StringVar(&o.feedback, "feedback", "", "write a page for each student into `FOLDER`")
	o.pages = pageFormats[0]
	f.Var(&enumValue{what: "format", words: pageFormats, get: func() string { return o.pages }, set: func(s string) error {
		if !slices.Contains(pageFormats, s) {
			return errors.New("unknown")
		}
		o.pages = s
		return nil
	}}, "pages", "format of the pages of --feedback")
	complete(cmd, "pages", pageFormats)
	f.BoolVar(&o.repaired, "repaired", false, "on the pages of --feedback, show how a line that slips could stand")
	f.StringVar(&o.summary, "summary", "", "write what the class did to `FILE` (.html, .md, .tex, .txt)")
	f.StringVar(&o.answer, "answer", "", "of --question: the single slips that lead to this last `LINE`")
	f.BoolVar(&o.slipMap, "map", false, "of --question: the usual slips and their answers")
	o.format = "text"
	format := &enumValue{what: "format", words: markFormats, get: func() string { return o.format }, set: func(s string) error {
		if !slices.Contains(markFormats, s) {
			return errors.New("unknown")
		}
		o.format = s
		return nil
	}}
	f.Var(format, "format", "what to write (default: what the name after -o ends in, or text)")
	f.Lookup("format").DefValue = ""
	o.display.addOutput(cmd)
	f.StringVar(&o.each, "each", "", "mark every line of `FILE`, or of standard input for -")
	complete(cmd, "medium", mediumWords())
	complete(cmd, "format", markFormats)
	return cmd
}

var markFormats = []string{"text", "csv", "xlsx", "json"}

func (a *app) mark(cmd *cobra.Command, o *markOptions, args []string) error {
	if o.slipMap || cmd.Flags().Changed("answer") {
		if err := o.check(cmd); err != nil {
			return err
		}
		return a.routes(cmd, o, args)
	}
	if err := o.settleFormat(cmd); err != nil {
		return err
	}
	m := &marker{working: o.working, question: o.question, medium: o.medium, explain: o.explain}
	if cmd.Flags().Changed("scheme") {
		if err := a.readScheme(cmd, o, m); err != nil {
			return err
		}
	}
	if o.resume && (!cmd.Flags().Changed("each") || o.file == "") {
		return &usageError{msg: "--resume is for --each with -o", hint: "halves mark --each workings.jsonl -o marks.jsonl --resume"}
	}
	if cmd.Flags().Changed("worth") {
		if err := m.readWorth(o.worth); err != nil {
			return err
		}
	}
	if cmd.Flags().Changed("question") {
		if _, err := m.prepare("", ""); err != nil {
			return a.refuseQuestion(o, err)
		}
	}
	if cmd.Flags().Changed("each") {
		switch {
		case len(args) > 0:
			return &usageError{msg: fmt.Sprintf("%q stands beside --each", args[0]), hint: "give workings, or --each with the name of a file"}
		case o.format == "csv" || o.format == "xlsx" || cmd.Flags().Changed("format") && o.format != "json":
			return &usageError{msg: "--each writes lines of JSON", hint: "leave --format out, and name the file .jsonl"}
		}
		if err := notOver(o.file, o.each); err != nil {
			return err
		}
		return a.eachLine(cmd.Context(), o.each, o.file, task{key: keyWorking, answer: m.line, resume: o.resume})
	}
	if len(args) == 0 {
		return &usageError{msg: "no working was given", hint: "halves mark --question 'MnO4^- + Fe^2+ -> Mn^2+ + Fe^3+, in acid' hand-in.txt"}
	}
	from, err := sources(args, o)
	if err != nil {
		return err
	}
	p, err := a.newPages(cmd, o)
	if err != nil {
		return err
	}
	return a.markAll(cmd.Context(), o, m, from, p)
}

// settleFormat takes the format from the name of the output where no flag names
// one.
func (o *markOptions) settleFormat(cmd *cobra.Command) error {
	if cmd.Flags().Changed("output") && o.file == "" {
		return &usageError{msg: "-o names no file", hint: "give a name, or leave -o out for standard output"}
	}
	if cmd.Flags().Changed("format") {
		if o.format == "xlsx" && o.file == "" {
			return &usageError{msg: "a workbook goes into a file", hint: "give it a name: -o marks.xlsx"}
		}
		return nil
	}
	ending := strings.ToLower(filepath.Ext(o.file))
	switch {
	case ending == ".csv" || ending == ".xlsx" || ending == ".json":
		o.format = ending[1:]
	case ending != ".txt" && (formatOf[ending] != "" || slices.Contains(otherEndings, ending)):
		return &usageError{msg: fmt.Sprintf("%s files are not written", ending), hint: "name it .csv, .xlsx, .json or .txt, or give --format"}
	}
	return nil
}

// A marker marks workings of any questions. It may be used by several at once.
type marker struct {
	worth    map[marking.Step]int // nil for the usual
	working  bool
	explain  bool   // keep what led to each verdict
	question string // where a working names none
	medium   redox.Medium

	mu    sync.RWMutex
	known map[questionKey]prepared
}

type questionKey struct {
	text   string
	medium redox.Medium
}

// A prepared question, or why there is none.
type prepared struct {
	text     string // as it was typed
	question *marking.Question
	scheme   marking.Scheme
	err      error
}

// kindNotMarked is the kind of a question that workings cannot be held to.
const kindNotMarked redox.ErrorKind = "not-marked"

// maxQuestions is how many prepared questions are kept: a class has a few.
const maxQuestions = 256

// readScheme reads the file of a scheme.
func (a *app) readScheme(cmd *cobra.Command, o *markOptions, m *marker) error {
	if cmd.Flags().Changed("worth") {
		return &usageError{msg: "--worth stands beside --scheme", hint: "give one of the two"}
	}
	b, name, err := a.readText(o.scheme, marking.MaxText)
	if err != nil {
		return err
	}
	scheme, err := marking.ReadScheme(b)
	var wrong *marking.SchemeError
	if errors.As(err, &wrong) {
		return &usageError{msg: name + ": " + wrong.Error(), hint: wrong.Hint}
	}
	m.worth, m.working = scheme.Worth, m.working || scheme.Working
	return err
}

// readWorth reads what the steps are worth.
func (m *marker) readWorth(text string) error {
	worth, err := marking.ReadSteps(text)
	if err != nil {
		return &usageError{msg: "--worth: " + err.Error(), hint: "write it as --worth 'species=1, oxidation=2, reduction=2, final=1'"}
	}
	sum := 0
	for _, n := range worth {
		sum += n
	}
	if sum == 0 {
		return &usageError{msg: "--worth gives no marks", hint: "write it as --worth 'species=1, oxidation=2, reduction=2, final=1'"}
	}
	m.worth = worth
	return nil
}

// prepare returns a question ready for marking, that of the command line where
// text is empty.
func (m *marker) prepare(text, medium string) (prepared, error) {
	key := questionKey{text, m.medium}
	if strings.TrimSpace(text) == "" {
		key.text = m.question
	}
	if strings.TrimSpace(key.text) == "" {
		return prepared{}, &lineError{msg: "no question is given", hint: "name it here, or for all workings with --question"}
	}
	if medium != "" {
		var err error
		if key.medium, err = redox.ParseMedium(medium); err != nil {
			return prepared{}, &lineError{msg: err.Error()}
		}
	}
	m.mu.RLock()
	p, ok := m.known[key]
	m.mu.RUnlock()
	if ok {
		return p, p.err
	}
	// A question is a part of its row, which is not to be kept with it.
	key.text = strings.Clone(key.text)
	p = m.newQuestion(key)
	m.mu.Lock()
	defer m.mu.Unlock()
	if m.known == nil || len(m.known) >= maxQuestions {
		m.known = map[questionKey]prepared{}
	}
	m.known[key] = p
	return p, p.err
}

func (m *marker) newQuestion(key questionKey) prepared {
	s, err := redox.Work(key.text, key.medium, redox.Conventions{})
	if err != nil {
		return prepared{err: err}
	}
	q, err := marking.NewQuestion(s)
	if err != nil {
		return prepared{err: &lineError{kind: kindNotMarked, msg: "this question cannot be marked: " + err.Error()}}
	}
	p := prepared{text: strings.TrimSpace(key.text), question: q, scheme: q.Scheme()}
	if key.medium != redox.Unstated {
		p.text += " (" + string(key.medium) + ")"
	}
	p.scheme.Working = m.working
	if m.worth != nil {
		for step := range p.scheme.Worth { // a step that the question has
			p.scheme.Worth[step] = m.worth[step]
		}
	}
	return p
}

// line marks a line of --each.
func (m *marker) line(r request) ([]byte, error) {
	p, err := m.prepare(r.question, r.medium)
	if err != nil {
		return nil, err
	}
	result := p.question.Judge(r.text)
	return json.Marshal(newMarkJSON(result, result.Mark(p.scheme)))
}
