package main

import (
	"bytes"
	"encoding/json"
	"fmt"
	"io"
	"path/filepath"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"halves/document"
)

// A display says how a result is shown and where.
type display struct {
	format string // one of formats
	ascii  bool
	width  int // columns; 0 for the terminal's, or 80
	file   string
}

var formats = []string{"text", "html", "markdown", "latex", "json"}

// formatOf are the formats that the name of a file asks for.
var formatOf = map[string]string{
	".html": "html", ".htm": "html", ".md": "markdown", ".markdown": "markdown", ".tex": "latex", ".json": "json", ".txt": "text",
}

// otherEndings are of files that people hope for; text under such a name would
// mislead.
var otherEndings = []string{".doc", ".docx", ".odt", ".rtf", ".pdf", ".ppt", ".pptx", ".odp", ".xls", ".xlsx", ".ods", ".csv", ".svg", ".png", ".jpg", ".jpeg", ".xml"}

func (d *display) addFlags(cmd *cobra.Command) {
	d.format = "text"
	format := &enumValue{what: "format", words: formats, get: func() string { return d.format }, set: func(s string) error {
		if !slices.Contains(formats, s) {
			return fmt.Errorf("unknown")
		}
		d.format = s
		return nil
	}}
	f := cmd.Flags()
	f.Var(format, "format", "what to write (default: what the name after -o ends in, or text)")
	f.Lookup("format").DefValue = "" // said in its own words
	f.BoolVar(&d.ascii, "ascii", false, "plain ASCII: Cr2O7^2-, ->, - for the minus sign")
	f.IntVar(&d.width, "width", 0, "columns of text, 20 to 1000 (default: the terminal's, or 80)")
	d.addOutput(cmd)
	complete(cmd, "format", formats)
}

func (d *display) addOutput(cmd *cobra.Command) {
	cmd.Flags().StringVarP(&d.file, "output", "o", "", "write to `FILE`: whole or not at all")
}

// check looks at flags that depend on each other.
func (d *display) check(cmd *cobra.Command) error {
	if cmd.Flags().Changed("width") && (d.width < 20 || d.width > 1000) {
		return &usageError{msg: fmt.Sprintf("--width %d is not a width", d.width), hint: "give 20 to 1000 columns"}
	}
	if cmd.Flags().Changed("output") && d.file == "" {
		return &usageError{msg: "-o names no file", hint: "give a name, or leave -o out for standard output"}
	}
	if f := cmd.Flags().Lookup("format"); f != nil && !f.Changed {
		ending := strings.ToLower(filepath.Ext(d.file))
		if format, ok := formatOf[ending]; ok {
			d.format = format
		} else if slices.Contains(otherEndings, ending) {
			return &usageError{msg: fmt.Sprintf("%s files are not written", ending), hint: "name it .html, .md, .tex, .json or .txt, or give --format"}
		}
	}
	if d.format != "text" {
		for _, name := range []string{"ascii", "width"} {
			if f := cmd.Flags().Lookup(name); f != nil && f.Changed && d.format != "json" {
				return &usageError{msg: fmt.Sprintf("--%s is for text, and %s is written", name, d.format), hint: "leave --" + name + " out, or give --format text"}
			}
		}
	}
	return nil
}

func complete(cmd *cobra.Command, flag string, words []string) {
	// It fails only where there is no such flag, which a test would show.
	_ = cmd.RegisterFlagCompletionFunc(flag, cobra.FixedCompletions(words, cobra.ShellCompDirectiveNoFileComp))
}

// noFiles is for arguments that are formulas.
func noFiles(*cobra.Command, []string, string) ([]string, cobra.ShellCompDirective) {
	return nil, cobra.ShellCompDirectiveNoFileComp
}

// show writes documents in the format asked for, as one.
func (a *app) show(d display, docs ...*document.Document) error {
	return a.output(d.file, func(w io.Writer) error { return a.writeDocuments(w, d, docs) })
}

// writeDocuments writes documents, as one, in a format that is text.
func (a *app) writeDocuments(w io.Writer, d display, docs []*document.Document) error {
	switch d.format {
	case "html":
		return document.HTML(w, document.Joined(docs...), document.HTMLOptions{})
	case "markdown":
		return document.Markdown(w, document.Joined(docs...))
	case "latex":
		return document.LaTeX(w, document.Joined(docs...), document.LaTeXOptions{})
	}
	for i, doc := range docs {
		if i > 0 {
			if _, err := io.WriteString(w, "\n"); err != nil {
				return err
			}
		}
		if err := document.Text(w, doc, a.textOptions(d)); err != nil {
			return err
		}
	}
	return nil
}

// showJSON writes values as indented JSON, one after the other.
func (a *app) showJSON(d display, values ...any) error {
	var b bytes.Buffer
	for _, v := range values {
		text, err := json.Marshal(v)
		if err != nil {
			return err
		}
		if err := json.Indent(&b, plainJSON(text), "", "  "); err != nil {
			return err
		}
		b.WriteByte('\n')
	}
	return a.output(d.file, func(w io.Writer) error {
		_, err := w.Write(b.Bytes())
		return err
	})
}
