package main

import (
	"errors"
	"fmt"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"halves/document"
	"halves/paper"
	"halves/question"
)

type setNewOptions struct {
	display
	own    string
	folder string
	flags  map[string]*[]string // of the wish, by name
}

func (a *app) setNewCommand() *cobra.Command {
	o := &setNewOptions{flags: map[string]*[]string{}}
	var lines strings.Builder
	for _, k := range question.Keys() {
		fmt.Fprintf(&lines, "  %-11s %s\n", k.Name, k.Help)
	}
	cmd := &cobra.Command{
		Use:   "new [WISH.yaml]",
		Short: "Make a set from a wish",
		Long: `Make a set of questions. A wish says what it should hold: a file (YAML, one line for
each thing wished for) or flags of the same names, which win over the file:

` + lines.String() + `
The features: ` + strings.Join(question.FeatureNames, ", ") + `.

The same wish with the same seed gives the same set everywhere. Where a wish cannot
be met, what is nearest is said, and which two wishes exclude each other.

With --own the questions are your own: a file with one a line, each with its
medium; every line is worked before it is taken.

` + statuses("made", "the wish cannot be met"),
		Example: `  halves set new -o week7.json
  halves set new --questions 20 --versions 4 --difficulty 2-6 --rows 6 --columns 5 -o exam.json
  halves set new week7.yaml --seed 8 -o week8.json
  halves set new --own mine.txt --questions 12 -o mine.json`,
		RunE: func(cmd *cobra.Command, args []string) error { return a.setNew(cmd, o, args) },
	}
	f := cmd.Flags()
	for _, k := range question.Keys() {
		values := &[]string{}
		o.flags[k.Name] = values
		f.Var(&wishValue{key: k, values: values}, k.Name, k.Help)
	}
	f.StringVar(&o.own, "own", "", "take the questions of `FILE`, one a line")
	addTablesFlag(cmd, &o.folder)
	o.display.addOutput(cmd)
	return cmd
}

// A wishValue is a flag of a wish.
type wishValue struct {
	key    question.Key
	values *[]string
}

var _ pflag.Value = (*wishValue)(nil)

func (v *wishValue) String() string {
	if v.values == nil {
		return ""
	}
	return strings.Join(*v.values, ",")
}

func (v *wishValue) Type() string {
	if v.key.List {
		return "list"
	}
	return "value"
}

func (v *wishValue) Set(s string) error {
	*v.values = []string{s}
	if v.key.List {
		*v.values = nil
		for _, x := range strings.Split(s, ",") {
			if x = strings.TrimSpace(x); x != "" {
				*v.values = append(*v.values, x)
			}
		}
	}
	return nil
}

func (a *app) setNew(cmd *cobra.Command, o *setNewOptions, args []string) error {
	if err := o.display.check(cmd); err != nil && !strings.HasSuffix(strings.ToLower(o.file), ".json") {
		return err
	}
	if o.file != "" && strings.ToLower(filepath.Ext(o.file)) != ".json" {
		return &usageError{msg: "a set is kept as JSON, and " + o.file + " does not end in .json", hint: "halves set new -o week7.json; then halves set print week7.json -o week7.pdf"}
	}
	w, err := a.wish(cmd, o, args)
	if err != nil {
		return err
	}
	pool, _, err := a.pool(o.folder)
	if err != nil {
		return err
	}
	var own []*question.Question
	if o.own != "" {
		if own, err = a.ownQuestions(o.own); err != nil {
			return err
		}
		if !cmd.Flags().Changed("questions") && len(args) == 0 {
			w.Questions = len(own)
		}
		w.Media = nil
		for _, q := range own {
			w.Media = append(w.Media, q.Medium)
		}
	}
	s, err := question.Make(w, pool, own)
	if err != nil {
		return err
	}
	for _, n := range s.Notes {
		fmt.Fprintf(a.stderr, "halves: %s\n", n)
	}
	if o.file == "" {
		o.format = "text"
		if err := a.show(o.display, paper.List(s, paper.Options{})); err != nil {
			return err
		}
		fmt.Fprintln(a.stderr, "halves: give -o FILE.json to keep this set")
		return nil
	}
	if err := a.showJSON(o.display, s); err != nil {
		return err
	}
	fmt.Fprintf(a.stderr, "halves: %s: %s in %s, difficulty %s in all, code %s\n",
		o.file, count(len(s.Versions[0].Items), "question"), count(len(s.Versions), "version"), s.Versions[0].Difficulty(), s.Code)
	return nil
}

// wish reads the file of a wish and the flags over it.
func (a *app) wish(cmd *cobra.Command, o *setNewOptions, args []string) (question.Wish, error) {
	w := question.NewWish()
	if len(args) > 1 {
		return w, &usageError{msg: "more than one wish was given", hint: "halves set new week7.yaml"}
	}
	if len(args) == 1 {
		text, name, err := a.readFile(args[0], question.MaxWish)
		if err != nil {
			return w, err
		}
		if w, err = question.ReadWish(text); err != nil {
			var wrong *question.FileError
			if errors.As(err, &wrong) {
				return w, &placedError{name, string(text), wrong.Error(), wrong.Tip, wrong.Line, wrong.Column, err}
			}
			return w, err
		}
	}
	for _, k := range question.Keys() {
		if !cmd.Flags().Changed(k.Name) {
			continue
		}
		if err := k.Set(&w, *o.flags[k.Name]); err != nil {
			e := &usageError{msg: "--" + k.Name + ": " + err.Error()}
			var hinted interface{ Hint() string }
			if errors.As(err, &hinted) {
				e.hint = hinted.Hint()
			}
			if e.hint == "" {
				e.hint = k.Help
			}
			return w, e
		}
	}
	return w, nil
}

// ownQuestions reads a file of own questions; any that cannot be worked stops it.
func (a *app) ownQuestions(path string) ([]*question.Question, error) {
	text, name, err := a.readFile(path, question.MaxOwn)
	if err != nil {
		return nil, err
	}
	all, faults := question.ReadOwn(filepath.Base(path), text)
	const mostTold = 10
	for i, f := range faults {
		if i == mostTold {
			fmt.Fprintf(a.stderr, "halves: and %s more\n", count(len(faults)-mostTold, "line"))
			break
		}
		fmt.Fprintf(a.stderr, "halves: %s, %v\n", name, f)
		if f.Tip != "" {
			fmt.Fprintf(a.stderr, "hint: %s\n", f.Tip)
		}
	}
	switch {
	case len(faults) > 0:
		return nil, &usageError{msg: fmt.Sprintf("%s of %s cannot be taken", count(len(faults), "line"), name), hint: "mend them, or put # before them"}
	case len(all) == 0:
		return nil, &usageError{msg: name + " holds no questions", hint: "write one a line: MnO4^- + Fe^2+ -> Mn^2+ + Fe^3+, in acid"}
	}
	return all, nil
}

func (a *app) setShowCommand() *cobra.Command {
	d := &display{}
	c := &class{}
	answers := false
	var folder string
	cmd := &cobra.Command{
		Use:   "show SET.json",
		Short: "List the questions of a set",
		Long: `List the questions of a set with their difficulty, where there is room with their
features, and with --answers the balanced equations.

` + statuses("shown", ""),
		Example: `  halves set show week7.json --answers
  halves set show week7.json --format html -o week7.html`,
		RunE: func(cmd *cobra.Command, args []string) error {
			if err := d.check(cmd); err != nil {
				return err
			}
			conventions, err := a.conventions(cmd, c)
			if err != nil {
				return err
			}
			t, err := a.tables(folder)
			if err != nil {
				return err
			}
			s, err := a.readSet(args, t)
			if err != nil {
				return err
			}
			if d.format == "json" {
				return a.showJSON(*d, s)
			}
			return a.show(*d, paper.List(s, paper.Options{Conventions: conventions, Answers: answers}))
		},
	}
	cmd.Flags().BoolVar(&answers, "answers", false, "with the balanced equations")
	addTablesFlag(cmd, &folder)
	d.addFlags(cmd)
	c.addFlags(cmd)
	return cmd
}

func (a *app) setLibraryCommand() *cobra.Command {
	d := &display{}
	cmd := &cobra.Command{
		Use:   "library",
		Short: "List the curated library, the easiest first",
		Long: `List the equations of the curated library with their difficulty, their features,
where they are taught and what makes them worth teaching, the easiest first.

` + statuses("shown", ""),
		Example: `  halves set library
  halves set library --format markdown -o library.md`,
		Args: cobra.NoArgs,
		RunE: func(cmd *cobra.Command, args []string) error {
			if err := d.check(cmd); err != nil {
				return err
			}
			if d.format == "json" {
				return &usageError{msg: "the library is not written as JSON", hint: "give --format text, html, markdown or latex"}
			}
			var docs []*document.Document
			docs = append(docs, paper.Library(paper.Options{}))
			return a.show(*d, docs...)
		},
	}
	d.addFlags(cmd)
	return cmd
}

// count says how many: "1 line", "3 lines".
func count(n int, what string) string {
	if n == 1 {
		return "1 " + what
	}
	return fmt.Sprintf("%d %ss", n, what)
}
