package main

import (
	"errors"
	"fmt"
	"io"
	"path/filepath"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"halves/document"
	"halves/ooxml"
	"halves/paper"
	"halves/pdf"
	"halves/question"
	"halves/redox"
)

// What a set can be printed as.
var printings = []string{"worksheet", "key", "exam", "slides", "reference", "versions"}

// paperFormats are those in which paper is written, by the endings of files.
var paperFormats = map[string]string{
	".pdf": "pdf", ".docx": "docx", ".pptx": "pptx", ".tex": "latex", ".html": "html", ".htm": "html", ".md": "markdown", ".markdown": "markdown", ".txt": "text",
}

var paperFormatNames = []string{"pdf", "docx", "pptx", "latex", "html", "markdown", "text"}

type setPrintOptions struct {
	class
	display
	as, version, paper, scaffold string
	students                     string
	vary                         bool
	folder                       string
	conventions                  redox.Conventions
}

func (a *app) setPrintCommand() *cobra.Command {
	o := &setPrintOptions{as: printings[0], paper: "a4", scaffold: string(paper.Open)}
	cmd := &cobra.Command{
		Use:   "print SET.json",
		Short: "Lay a set out as a worksheet, key, exam, slides, or a page of reference",
		Long: `Lay a set out on paper or as slides. The name after -o says the format: .pdf, .docx,
.pptx (slides), .tex, .html, .md or .txt; without -o text is written to standard
output.

  worksheet   the questions with room to work in
  key         the full working of each, with the marks of its lines
  exam        the questions with a cover
  slides      each question worked, one line more on each slide, with the talk
              track in the notes
  reference   one page: the couples with their potentials, the rules
  versions    which question of each version stands where; the plan of seats

All versions go into one PDF; in the other formats each has a file of its own
(week7-A.docx), unless --version names one.

With --students, a file with one student a line (codes rather than names), each
gets a worksheet of their own: the versions in turn or, with --vary, a set drawn
for each by the same wish. --as key gives the keys to them.

Every paper carries a check code that its key carries too.

` + statuses("written", "the wish cannot be met for a student"),
		Example: `  halves set print week7.json -o week7.pdf
  halves set print week7.json --as key -o week7-key.docx
  halves set print week7.json --as slides -o week7.pptx
  halves set print week7.json --scaffold fade --paper letter -o week7.pdf
  halves set print week7.json --students section-b.txt --vary -o section-b.pdf`,
		RunE: func(cmd *cobra.Command, args []string) error { return a.setPrint(cmd, o, args) },
	}
	f := cmd.Flags()
	addWords(cmd, &o.as, "as", "what to lay it out as", printings)
	addWords(cmd, &o.paper, "paper", "the size of the pages", []string{"a4", "letter"})
	addWords(cmd, &o.scaffold, "scaffold", "room to work in: open lines, lines behind the steps, or fading from full working to none", scaffolds())
	addWords(cmd, &o.format, "format", "what to write (default: what the name after -o ends in, or text)", paperFormatNames)
	f.Lookup("format").DefValue = ""
	f.StringVar(&o.version, "version", "", "only this `VERSION`: A")
	f.StringVar(&o.students, "students", "", "a worksheet or key for each student of `FILE`, one a line")
	f.BoolVar(&o.vary, "vary", false, "with --students, draw a set for each")
	addTablesFlag(cmd, &o.folder)
	o.display.addOutput(cmd)
	o.class.addFlags(cmd)
	return cmd
}

func scaffolds() []string {
	var out []string
	for _, s := range paper.Scaffolds {
		out = append(out, string(s))
	}
	return out
}

// addWords adds a flag that has one of a few words.
func addWords(cmd *cobra.Command, at *string, name, help string, words []string) {
	cmd.Flags().Var(&enumValue{what: what(name), words: words, get: func() string { return *at }, set: func(s string) error {
		if !slices.Contains(words, s) {
			return errors.New("unknown")
		}
		*at = s
		return nil
	}}, name, help)
	complete(cmd, name, words)
}

// what names what a flag chooses among.
func what(flag string) string {
	switch flag {
	case "as":
		return "layout"
	case "paper":
		return "size of paper"
	}
	return flag
}

// settleFormat takes the format from the name of the file where none was given.
func (o *setPrintOptions) settleFormat(cmd *cobra.Command) error {
	if cmd.Flags().Changed("output") && o.file == "" {
		return &usageError{msg: "-o names no file", hint: "give a name, or leave -o out for standard output"}
	}
	if cmd.Flags().Changed("format") {
		return nil
	}
	o.format = "text"
	if o.file == "" {
		return nil
	}
	format, ok := paperFormats[strings.ToLower(filepath.Ext(o.file))]
	if !ok {
		return &usageError{msg: fmt.Sprintf("what to write into %s its name does not say", o.file), hint: "end it in .pdf, .docx, .pptx, .tex, .html, .md or .txt, or give --format"}
	}
	o.format = format
	return nil
}

func (a *app) setPrint(cmd *cobra.Command, o *setPrintOptions, args []string) error {
	if err := o.settleFormat(cmd); err != nil {
		return err
	}
	if o.format == "pptx" && o.as != "slides" {
		return &usageError{msg: "what is laid out as " + o.as + " is no deck of slides", hint: "give --as slides, or write .pdf or .docx"}
	}
	if (o.format == "pdf" || o.format == "docx" || o.format == "pptx") && o.file == "" && isTerminal(a.stdout) {
		return &usageError{msg: o.format + " is nothing for a terminal", hint: "give -o FILE." + o.format}
	}
	if o.vary && o.students == "" {
		return &usageError{msg: "--vary needs --students", hint: "--students section-b.txt --vary"}
	}
	if o.vary && o.version != "" {
		return &usageError{msg: "--vary draws a set for each student, which has one version", hint: "leave --version or --vary out"}
	}
	var err error
	if o.conventions, err = a.conventions(cmd, &o.class); err != nil {
		return err
	}
	pool, tables, err := a.pool(o.folder)
	if err != nil {
		return err
	}
	s, err := a.readSet(args, tables)
	if err != nil {
		return err
	}
	if o.students != "" {
		return a.printStudents(o, s, pool)
	}
	options := o.options()
	switch o.as {
	case "reference":
		d, err := paper.Reference(s, tables, options)
		if err != nil {
			return err
		}
		return a.writePaper(o, o.file, d)
	case "versions":
		return a.writePaper(o, o.file, paper.Concordance(s, options))
	}
	versions, err := chosen(s, o.version)
	if err != nil {
		return err
	}
	var docs []*document.Document
	for _, v := range versions {
		d, err := layOut(o.as, s, v, options)
		if err != nil {
			return err
		}
		docs = append(docs, d)
	}
	if len(docs) == 1 || o.format == "pdf" || o.file == "" {
		return a.writePaper(o, o.file, docs...)
	}
	for i, d := range docs {
		path := lettered(o.file, versions[i].Letter)
		if err := a.writePaper(o, path, d); err != nil {
			return err
		}
		fmt.Fprintf(a.stderr, "halves: wrote %s\n", path)
	}
	return nil
}

func (o *setPrintOptions) options() paper.Options {
	return paper.Options{Conventions: o.conventions, Scaffold: paper.Scaffold(o.scaffold)}
}

// layOut makes the document of a version.
func layOut(as string, s *question.Set, v *question.Version, o paper.Options) (*document.Document, error) {
	switch as {
	case "key":
		return paper.Key(s, v, o)
	case "exam":
		return paper.Exam(s, v, o)
	case "slides":
		return paper.SetSlides(s, v, o)
	}
	return paper.Worksheet(s, v, o)
}

// writePaper writes documents into one file.
func (a *app) writePaper(o *setPrintOptions, path string, docs ...*document.Document) error {
	size := pdf.A4
	page := ooxml.A4
	if o.paper == "letter" {
		size, page = pdf.Letter, ooxml.Letter
	}
	return a.output(path, func(w io.Writer) error {
		switch o.format {
		case "pdf":
			return pdf.Write(w, pdf.Options{Paper: size}, docs...)
		case "docx":
			return ooxml.DOCX(w, document.Joined(docs...), ooxml.Options{Paper: page})
		case "pptx":
			return ooxml.PPTX(w, document.Joined(docs...), ooxml.Options{Paper: page})
		}
		return a.writeDocuments(w, display{file: path, format: o.format}, docs)
	})
}

func (a *app) setVersionsCommand() *cobra.Command {
	o := &setPrintOptions{as: "versions", paper: "a4"}
	cmd := &cobra.Command{
		Use:   "versions SET.json",
		Short: "Show which question of each version stands where, and the plan of seats",
		Long: `Show the concordance of the versions of a set: which question stands where, its
difficulty and features, the check codes, and the plan of seats where rows and
columns were wished for. It is halves set print --as versions.

` + statuses("written", ""),
		Example: `  halves set versions exam.json
  halves set versions exam.json -o versions.pdf`,
		RunE: func(cmd *cobra.Command, args []string) error { return a.setPrint(cmd, o, args) },
	}
	addWords(cmd, &o.paper, "paper", "the size of the pages", []string{"a4", "letter"})
	addWords(cmd, &o.format, "format", "what to write (default: what the name after -o ends in, or text)", paperFormatNames)
	cmd.Flags().Lookup("format").DefValue = ""
	addTablesFlag(cmd, &o.folder)
	o.display.addOutput(cmd)
	o.class.addFlags(cmd)
	return cmd
}
