package main

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"
	"unicode/utf8"

	"github.com/spf13/cobra"

	"halves/chem"
	"halves/document"
	"halves/energetics"
	"halves/redox"
)

type workOptions struct {
	display
	class
	medium       redox.Medium
	conventions  redox.Conventions // of class, once it is read
	each         string
	tablesFolder string
	tables       energetics.Tables // of the folder, once they are read
	plain        bool              // leave out whether it goes, and the cautions
}

func (a *app) workCommand() *cobra.Command {
	o := &workOptions{}
	cmd := &cobra.Command{
		Use:   "work QUESTION...",
		Short: "Work an equation, line by line",
		Long: `Work a redox equation and show every line with its reason and its ledger of atoms
and charge: by half-reactions, or with --by by oxidation states or by equations
among the coefficients.

A question is an equation without numbers, or with any; two half-reactions with
a semicolon between; or one half-reaction. It may stand in formulas, in names or
in both, and pairs may be told in words: "permanganate becomes manganese(II)
while oxalic acid becomes carbon dioxide". The medium stands in it (", in acid",
", in base", ", neutral") or is given with --medium. Several words are read as
one question; - reads it from standard input.

After the working it is told whether the reaction goes by its potentials, with
their sources, and what to beware of; --plain leaves that out.

The conventions of the class (H3O^+ for H^+, the names, ...) are given by flags,
or by a file with --class.

With --each every line of a file is a question: as plain text, or as JSON
{"id": ..., "question": "...", "medium": "..."}. One line of JSON comes out for
each, in order, with the same id (the number of the line where it has none),
without potentials and cautions. A
line that cannot be worked gives {"id": ..., "error": {...}} and does not stop
the rest; the exit status is 0 once all lines were read.

` + quoting + `
` + statuses("worked", `chemistry says no: no answer, many answers, one half only, or the medium is
     needed and not given`),
		Example: `  halves work 'MnO4^- + H2C2O4 -> Mn^2+ + CO2, in acid'
  halves work 'H2O2 + Cr(OH)4^- -> CrO4^2-' --medium basic --base-in-halves
  halves work 'MnO4^- + 8 H^+ + 5 e^- -> Mn^2+ + 4 H2O; Fe^3+ + e^- -> Fe^2+'
  halves work 'permanganate becomes manganese(II) while oxalic acid becomes carbon dioxide, in acid'
  halves work 'Fe2O3 + CO -> Fe + CO2' --by states
  halves work 'Cl2 -> Cl^- + ClO3^-, in base' --class class.yaml -o page.html
  halves work - < question.txt
  halves work --each questions.txt -o answers.jsonl`,
		GroupID:           groupWork,
		ValidArgsFunction: noFiles,
		RunE:              func(cmd *cobra.Command, args []string) error { return a.work(cmd, o, args) },
	}
	f := cmd.Flags()
	o.display.addFlags(cmd)
	o.class.addFlags(cmd)
	f.Var(mediumValue(&o.medium), "medium", "what may be added, where the question does not say")
	addTablesFlag(cmd, &o.tablesFolder)
	f.BoolVar(&o.plain, "plain", false, "leave out whether it goes, and the cautions")
	f.StringVar(&o.each, "each", "", "work every line of `FILE`, or of standard input for -")
	complete(cmd, "medium", mediumWords())
	return cmd
}

// work works one question, or each line of a file.
func (a *app) work(cmd *cobra.Command, o *workOptions, args []string) error {
	if err := a.settle(cmd, o); err != nil {
		return err
	}
	var err error
	if o.tables, err = a.tables(o.tablesFolder); err != nil { // before a question is read
		return err
	}
	if cmd.Flags().Changed("each") {
		if err := eachAlone(cmd, args); err != nil {
			return err
		}
		return a.eachLine(cmd.Context(), o.each, o.file, task{key: "question", answer: o.line})
	}
	question, err := a.question(args, "no question was given", "halves work 'MnO4^- + Fe^2+ -> Mn^2+ + Fe^3+, in acid'")
	if err == nil {
		var sol *redox.Solution
		if sol, err = redox.Work(question, o.medium, o.conventions); err == nil {
			return a.showSolution(o, sol)
		}
	}
	return a.refuse(o, quoteHint(err, args))
}

// showSolution shows a worked question and, unless it is to be plain, whether it
// goes and what to beware of.
func (a *app) showSolution(o *workOptions, sol *redox.Solution) error {
	if o.plain {
		if o.format == "json" {
			return a.showJSON(o.display, sol)
		}
		return a.show(o.display, document.FromSolution(sol))
	}
	x, err := document.NewChemistry(o.tables, sol, energetics.Conditions{})
	if err != nil {
		return err
	}
	if o.format == "json" {
		return a.showJSON(o.display, workedJSON{sol, newChemistryJSON(x)})
	}
	doc := document.FromSolution(sol)
	doc.AddChemistry(sol, x)
	return a.show(o.display, doc)
}

// workedJSON is a solution with its chemistry as one more member.
type workedJSON struct {
	solution  *redox.Solution
	chemistry chemistryJSON
}

func (w workedJSON) MarshalJSON() ([]byte, error) {
	b, err := w.solution.MarshalJSON()
	if err != nil {
		return nil, err
	}
	x, err := json.Marshal(w.chemistry)
	if err != nil {
		return nil, err
	}
	return slices.Concat(b[:len(b)-1], []byte(`,"chemistry":`), x, []byte("}")), nil
}

// settle looks at the flags and reads the conventions of the class.
func (a *app) settle(cmd *cobra.Command, o *workOptions) (err error) {
	if err := o.check(cmd); err != nil {
		return err
	}
	o.conventions, err = a.conventions(cmd, &o.class)
	return err
}

// refuse shows what an error brings with it: in JSON the error itself, in text
// the worked half or the several answers.
func (a *app) refuse(o *workOptions, err error) error {
	if kind := kindOf(err); kind == kindFile || kind == kindUsage {
		return err
	}
	r := newReport(err)
	if o.format == "json" {
		if failed := a.showJSON(o.display, r); failed != nil {
			return failed
		}
		return &shownError{r.Kind}
	}
	if doc := document.FromReport(r, o.conventions); doc != nil {
		if failed := a.show(o.display, doc); failed != nil {
			return failed
		}
	}
	return err
}

// eachAlone refuses what does not go with --each.
func eachAlone(cmd *cobra.Command, args []string) error {
	if len(args) > 0 {
		return &usageError{msg: fmt.Sprintf("%q stands beside --each", args[0]), hint: "give a question, or --each with the name of a file"}
	}
	for _, name := range []string{"format", "ascii", "width"} {
		if f := cmd.Flags().Lookup(name); f.Changed && f.Value.String() != "json" {
			return &usageError{msg: "--each writes lines of JSON, so --" + name + " has no meaning there", hint: "leave --" + name + " out"}
		}
	}
	return nil
}

// quoteHint adds to an error the likeliest reason for a line without an arrow
// that came in several words: a shell took > for itself.
func quoteHint(err error, args []string) error {
	var syntax *chem.SyntaxError
	if len(args) < 2 || !errors.As(err, &syntax) || strings.ContainsAny(syntax.Text, ">=→⟶⇌") {
		return err
	}
	e := *syntax
	e.Hint = strings.TrimPrefix(e.Hint+"; put the whole question in quotes, since a shell takes > for itself", "; ")
	return &e
}

// question puts the words of the command line together, or reads standard
// input where - stands there. Its errors are those of reading a line of
// chemistry, and *fileError.
func (a *app) question(args []string, missing, example string) (string, error) {
	switch {
	case len(args) == 0:
		return "", &usageError{msg: missing, hint: example}
	case len(args) == 1 && args[0] == "-":
		return a.standardInput()
	}
	return strings.Join(args, " "), nil
}

// standardInput reads one question. No more is read than the longest question
// takes, with some room for blank lines.
func (a *app) standardInput() (string, error) {
	const most = chem.MaxLine*utf8.UTFMax + 4096
	b, err := io.ReadAll(io.LimitReader(a.stdin, most+1))
	if err != nil {
		return "", &fileError{"standard input", err}
	}
	if len(b) > most {
		return "", &chem.TooLargeError{Msg: fmt.Sprintf("a question may have %d characters, and standard input holds more", chem.MaxLine)}
	}
	b = bytes.TrimPrefix(b, []byte("\ufeff"))
	text := strings.TrimRight(string(b), " \t\r\n")
	if !utf8.ValidString(text) || strings.ContainsRune(text, 0) {
		if _, err := chem.ReadEquation(text, nil); err != nil {
			return "", err // not text; this says where
		}
	}
	lines := 0
	for l := range strings.SplitSeq(text, "\n") {
		if strings.TrimSpace(l) != "" {
			lines++
		}
	}
	if lines > 1 {
		return "", &chem.SyntaxError{Text: text, Offset: strings.IndexByte(text, '\n'), Width: 1,
			Msg: fmt.Sprintf("standard input holds %d lines, and one question is read", lines), Hint: "write it in one line; for a question on each line: halves work --each -"}
	}
	return strings.TrimLeft(text, "\r\n"), nil
}

// line works a line of --each.
func (o *workOptions) line(r request) ([]byte, error) {
	medium := o.medium
	if r.medium != "" {
		m, err := redox.ParseMedium(r.medium)
		if err != nil {
			return nil, &lineError{msg: err.Error()}
		}
		medium = m
	}
	sol, err := redox.Work(r.text, medium, o.conventions)
	if err != nil {
		return nil, err
	}
	return sol.MarshalJSON()
}

func mediumWords() []string {
	words := make([]string, len(redox.Media))
	for i, m := range redox.Media {
		words[i] = string(m)
	}
	return words
}

// parseMediumWord reads a medium that must be named.
func parseMediumWord(s string) (redox.Medium, error) {
	m, err := redox.ParseMedium(s)
	if err == nil && m == redox.Unstated {
		err = errors.New("no medium is named")
	}
	return m, err
}

func mediumValue(m *redox.Medium) *enumValue {
	return &enumValue{what: "medium", words: mediumWords(), get: func() string { return string(*m) }, set: func(s string) (err error) {
		*m, err = parseMediumWord(s)
		return err
	}}
}
