package main

import (
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"halves/marking"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"
)

// A script is one student's working, before it is marked.
type script struct {
	student, question, medium, text string
	from                            string // the file, and the row where it is a table
}

// A fault is a working that cannot be marked.
type fault struct {
	From    string `json:"from"` // the file, and the row where it is a table
	Student string `json:"student"`
	Why     string `json:"why"`
}

// Scripts are what the workings of a command line hold, in their order.
type scripts struct {
	good   []script
	faults []fault
}

func (s *scripts) refuse(x script, why string) {
	s.faults = append(s.faults, fault{x.from, x.student, why})
}

// maxMarkTable is how many bytes a table of workings may have.
const maxMarkTable = 64 << 20

// scripts reads what the arguments name. Its errors are *usageError and
// *fileError; a working that cannot be read is a fault.
func (a *app) scripts(args []string, o *markOptions) (*scripts, error) {
	in := &scripts{}
	if err := notTwice(args); err != nil {
		return nil, err
	}
	for _, arg := range args {
		if err := notOver(o.file, arg); err != nil {
			return nil, err
		}
		if info, err := os.Stat(arg); err == nil && info.IsDir() {
			if err := a.readFolder(in, arg, o); err != nil {
				return nil, err
			}
			continue
		}
		var err error
		if strings.EqualFold(filepath.Ext(arg), ".csv") {
			err = a.readWorkings(in, arg, o)
		} else {
			err = a.readWorking(in, arg, o)
		}
		if err != nil {
			return nil, err
		}
	}
	return in, nil
}

// notTwice refuses standard input that is named more than once.
func notTwice(args []string) error {
	if i := slices.Index(args, "-"); i >= 0 && slices.Contains(args[i+1:], "-") {
		return &usageError{msg: "- stands twice, and standard input is read once", hint: "give names of files"}
	}
	return nil
}

// notOver refuses to write over a file that is read.
func notOver(out, in string) error {
	if out == "" || in == "-" {
		return nil
	}
	x, err := os.Stat(out)
	if err != nil {
		return nil // not there yet
	}
	if y, err := os.Stat(in); err == nil && os.SameFile(x, y) && x.Mode().IsRegular() {
		return &usageError{msg: in + " is read, and -o would write over it", hint: "give -o another name"}
	}
	return nil
}

// readFolder reads the text files of a folder, by name.
func (a *app) readFolder(in *scripts, folder string, o *markOptions) error {
	entries, err := os.ReadDir(folder)
	if err != nil {
		return &fileError{folder, err}
	}
	found := false
	for _, e := range entries {
		if e.IsDir() || !strings.EqualFold(filepath.Ext(e.Name()), ".txt") {
			continue
		}
		found = true
		path := filepath.Join(folder, e.Name())
		if err := notOver(o.file, path); err != nil {
			return err
		}
		if err := a.readWorking(in, path, o); err != nil {
			return err
		}
	}
	if !found {
		return &usageError{msg: "the folder " + folder + " holds no .txt files", hint: "put each working into a file of its own, named after the student: ada.txt"}
	}
	return nil
}

// readWorking reads a file of one working.
func (a *app) readWorking(in *scripts, path string, o *markOptions) error {
	if o.question == "" {
		return &usageError{msg: "no question was given", hint: "halves mark --question 'MnO4^- + Fe^2+ -> Mn^2+ + Fe^3+, in acid' " + path}
	}
	b, name, err := a.readText(path, marking.MaxText)
	if err != nil {
		return err
	}
	s := script{from: name, student: strings.TrimSuffix(filepath.Base(path), filepath.Ext(path))}
	if path == "-" {
		s.student = name
	}
	s.text = string(b)
	in.add(s)
	return nil
}

// add adds a working, or says what is the matter with it.
func (in *scripts) add(s script) {
	switch {
	case len(s.text) > marking.MaxText:
		in.refuse(s, fmt.Sprintf("it is too long: a working may have %d bytes", marking.MaxText))
	case !isText(s.text):
		in.refuse(s, notText)
	case strings.TrimSpace(s.text) == "":
		in.refuse(s, "it is empty")
	default:
		in.good = append(in.good, s)
	}
}

const notText = "it is no text; save it as plain text (UTF-8)"

func isText(s string) bool { return utf8.ValidString(s) && !strings.ContainsRune(s, 0) }

// readText reads at most one byte more than most, without a byte order mark.
func (a *app) readText(path string, most int64) (b []byte, name string, err error) {
	in, name, _, err := a.input(path)
	if err != nil {
		return nil, name, err
	}
	defer in.Close()
	if b, err = io.ReadAll(io.LimitReader(in, most+1)); err != nil {
		return nil, name, &fileError{name, err}
	}
	return bytes.TrimPrefix(b, []byte("\ufeff")), name, nil
}

// readWorkings reads a table of workings (RFC 4180). Semicolons and tabs part
// its cells too, as some spreadsheets write them.
func (a *app) readWorkings(in *scripts, path string, o *markOptions) error {
	b, name, err := a.readText(path, maxMarkTable)
	switch {
	case err != nil:
		return err
	case len(b) > maxMarkTable:
		return &usageError{msg: fmt.Sprintf("%s has more than %d bytes", name, maxMarkTable), hint: "mark it in parts"}
	case !isText(string(b)):
		return &usageError{msg: name + " is no text", hint: "save it from the spreadsheet as CSV, UTF-8"}
	}
	r := csv.NewReader(bytes.NewReader(b))
	r.FieldsPerRecord = -1
	first, _, _ := bytes.Cut(b, []byte("\n"))
	for _, sign := range []rune{';', '\t'} {
		if bytes.Count(first, []byte(string(sign))) > bytes.Count(first, []byte(string(r.Comma))) {
			r.Comma = sign
		}
	}
	head, err := r.Read()
	if err != nil {
		return &usageError{msg: name + " has no row that names its columns", hint: columnsHint}
	}
	column := map[string]int{}
	for i, h := range head {
		h = strings.ToLower(strings.TrimSpace(h))
		if _, twice := column[h]; !twice {
			column[h] = i
		}
	}
	for _, must := range []string{"student", "working", "question"} {
		if _, ok := column[must]; ok || must == "question" && o.question != "" {
			continue
		}
		return &usageError{msg: fmt.Sprintf("%s has no column %q; its columns are %s", name, must, quoted(head)), hint: columnsHint}
	}
	for row := 2; ; row++ {
		cells, err := r.Read()
		if err == io.EOF {
			return nil
		}
		s := script{from: fmt.Sprintf("%s, row %d", name, row)}
		var wrong *csv.ParseError
		if errors.As(err, &wrong) {
			in.refuse(s, fmt.Sprintf("the row cannot be read: %v, on line %d of the file", wrong.Err, wrong.Line))
			continue
		}
		if !slices.ContainsFunc(cells, func(c string) bool { return strings.TrimSpace(c) != "" }) {
			continue // what a spreadsheet leaves below its rows
		}
		cell := func(name string) string {
			if i, ok := column[name]; ok && i < len(cells) {
				return cells[i]
			}
			return ""
		}
		s.student, s.question, s.medium, s.text = strings.TrimSpace(cell("student")), cell("question"), cell("medium"), cell("working")
		if s.student == "" {
			in.refuse(s, "no student is named")
			continue
		}
		in.add(s)
	}
}

const columnsHint = "the first row names the columns: student, working, and question unless --question is given"

// quoted lists words in quotes.
func quoted(words []string) string {
	var out []string
	for _, w := range words {
		out = append(out, strconv.Quote(w))
	}
	return strings.Join(out, ", ")
}
