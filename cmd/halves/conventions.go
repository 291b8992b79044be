package main

import (
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"halves/conventions"
	"halves/redox"
)

// A class is what a command line says of the conventions: a file, and flags
// that win over it.
type class struct {
	classFile string
	values    map[string]*string // by the name of the convention
}

// addFlags adds the flags of the conventions named, of all where none is.
func (c *class) addFlags(cmd *cobra.Command, only ...string) {
	c.values = map[string]*string{}
	f := cmd.Flags()
	f.StringVar(&c.classFile, "class", "", "take the conventions of a class from `FILE` (halves conventions writes one); flags win over it")
	for _, v := range conventions.All() {
		if len(only) > 0 && !slices.Contains(only, v.Name) {
			continue
		}
		word := v.Words[0]
		c.values[v.Name] = &word
		flag := f.VarPF(&enumValue{what: "value of --" + v.Name, words: v.Words, get: func() string { return word }, set: func(s string) error {
			if _, ok := conventions.Find(v.Name); !ok {
				return errors.New("unknown")
			}
			var scratch redox.Conventions
			if err := v.Set(&scratch, s); err != nil {
				return err
			}
			word = s
			return nil
		}}, v.Name, "", v.Help)
		if v.OnOff() {
			flag.NoOptDefVal = "true"
			continue
		}
		complete(cmd, v.Name, v.Words)
	}
}

// conventions returns what the file and the flags say together.
func (a *app) conventions(cmd *cobra.Command, c *class) (redox.Conventions, error) {
	var out redox.Conventions
	if cmd.Flags().Changed("class") {
		var err error
		if out, err = a.readClass(c.classFile); err != nil {
			return out, err
		}
	}
	for _, v := range conventions.All() {
		if c.values[v.Name] == nil || !cmd.Flags().Changed(v.Name) {
			continue
		}
		if err := v.Set(&out, *c.values[v.Name]); err != nil {
			return out, &usageError{msg: err.Error()} // the flag took the word, so it is one
		}
	}
	return out, nil
}

// readClass reads the file of a class.
func (a *app) readClass(path string) (redox.Conventions, error) {
	if path == "" {
		return redox.Conventions{}, &usageError{msg: "--class names no file", hint: "halves conventions -o class.yaml writes one to begin with"}
	}
	in, name, _, err := a.input(path)
	if err != nil {
		return redox.Conventions{}, err
	}
	defer in.Close()
	text, err := io.ReadAll(io.LimitReader(in, conventions.MaxFile+1))
	if err != nil {
		return redox.Conventions{}, &fileError{name, err}
	}
	v, err := conventions.Read(text)
	var wrong *conventions.FileError
	if errors.As(err, &wrong) {
		return v, &placedError{name, string(text), wrong.Error(), wrong.Hint, wrong.Line, wrong.Column, nil}
	}
	return v, err
}

// A placedError is a file that cannot be read, with the place.
type placedError struct {
	name, text   string
	msg, hint    string
	line, column int   // from 1, in characters; 0 where it is no single place
	err          error // what it was made from, or nil
}

func (e *placedError) Error() string { return e.name + ": " + e.msg }

func (e *placedError) Unwrap() error { return e.err }

// report draws the error under the line that has it.
func (e *placedError) report() redox.Report {
	r := redox.Report{Message: e.Error(), Hint: e.hint, Offset: -1}
	lines := strings.Split(e.text, "\n")
	if n := e.line; n > 0 && n <= len(lines) {
		line := strings.TrimRight(lines[n-1], "\r")
		r.Text = line
		chars := []rune(line)
		r.Offset = len(string(chars[:min(max(e.column-1, 0), len(chars))]))
		r.Width = len(wordAt(line[r.Offset:]))
	}
	return r
}

// wordAt returns the word that a text begins with.
func wordAt(s string) string {
	if i := strings.IndexAny(s, " \t:#,"); i > 0 {
		return s[:i]
	}
	return s
}

func (a *app) conventionsCommand() *cobra.Command {
	c, d := &class{}, &display{}
	cmd := &cobra.Command{
		Use:   "conventions",
		Short: "Write the file in which a class keeps its conventions",
		Long: `Write a file that holds the conventions of a class: the method, H^+ or H3O^+, the
names, and so on, each with what it means. The flags say what the class does;
what they do not say is as by default, or as in the file of --class. Change the
file as you like, and give it to the other commands with --class.

` + statuses("written", ""),
		Example: `  halves conventions --hydronium --names stock -o class.yaml
  halves work 'MnO4^- + Fe^2+ -> Mn^2+ + Fe^3+, in acid' --class class.yaml`,
		GroupID:           groupWork,
		ValidArgsFunction: noFiles,
		RunE: func(cmd *cobra.Command, args []string) error {
			if len(args) > 0 {
				return &usageError{msg: fmt.Sprintf("%q is no convention that can be given without --", args[0]), hint: "halves conventions --help lists the flags"}
			}
			if err := d.check(cmd); err != nil {
				return err
			}
			v, err := a.conventions(cmd, c)
			if err != nil {
				return err
			}
			return a.output(d.file, func(w io.Writer) error {
				_, err := w.Write(conventions.Write(v))
				return err
			})
		},
	}
	c.addFlags(cmd)
	d.addOutput(cmd)
	return cmd
}
