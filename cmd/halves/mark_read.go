package main

import (
	"bytes"
	"fmt"
	"halves/marking"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"unicode/utf8"
)

// A script is one student's working, before it is marked.
type script struct {
	student, question, medium, text string

	name string // of the file
	row  int    // of a table, from 1; 0 where it is none
	why  string // it cannot be marked, "" where it can
	size int64  // how many bytes it takes

	// A row of comma-separated text, until its cells are parted.
	cells       []byte // nil for none
	columns     *columns
	comma       byte
	line, lines int // the first, from 1, and how many
}

// from names the file, and the row where it is a table.
func (s script) from() string {
	if s.row == 0 {
		return s.name
	}
	return fmt.Sprintf("%s, row %d", s.name, s.row)
}

// look says why a script cannot be marked where its text is the matter.
func (s *script) look() {
	switch {
	case s.why != "":
	case len(s.text) > marking.MaxText:
		s.why = fmt.Sprintf("it is too long: a working may have %d bytes", marking.MaxText)
	case !isText(s.text):
		s.why = notText
	case strings.TrimSpace(s.text) == "":
		s.why = "it is empty"
	}
}

// A fault is a working that cannot be marked.
type fault struct {
	From    string `json:"from"` // the file, and the row where it is a table
	Student string `json:"student"`
	Why     string `json:"why"`
}

// sources lists the files that the arguments name, those of a folder by name.
// Its errors are *usageError and *fileError.
func sources(args []string, o *markOptions) ([]string, error) {
	if err := notTwice(args); err != nil {
		return nil, err
	}
	var all []string
	for _, arg := range args {
		here := []string{arg}
		if arg != "-" {
			info, err := os.Stat(arg)
			if err != nil {
				return nil, &fileError{arg, err}
			}
			if info.IsDir() {
				if here, err = textFiles(arg); err != nil {
					return nil, err
				}
			}
		}
		for _, path := range here {
			if err := notOver(o.file, path); err != nil {
				return nil, err
			}
			if o.question == "" && ending(path) == "" {
				return nil, &usageError{msg: "no question was given", hint: "halves mark --question 'MnO4^- + Fe^2+ -> Mn^2+ + Fe^3+, in acid' " + path}
			}
		}
		all = append(all, here...)
	}
	return all, nil
}

// ending is that of a table, "" for a file of one working.
func ending(path string) string {
	if e := strings.ToLower(filepath.Ext(path)); e == ".csv" || e == ".xlsx" {
		return e
	}
	return ""
}

// readAll hands out the scripts of files, in their order, until yield is false.
func (a *app) readAll(paths []string, o *markOptions, yield func(script) bool) error {
	for _, path := range paths {
		read := a.readWorking
		switch ending(path) {
		case ".csv":
			read = a.readTable
		case ".xlsx":
			read = a.readBook
		}
		on := true
		if err := read(path, o, func(s script) bool { on = yield(s); return on }); err != nil || !on {
			return err
		}
	}
	return nil
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

// textFiles lists the text files of a folder, by name.
func textFiles(folder string) ([]string, error) {
	entries, err := os.ReadDir(folder)
	if err != nil {
		return nil, &fileError{folder, err}
	}
	var all []string
	for _, e := range entries {
		if !e.IsDir() && strings.EqualFold(filepath.Ext(e.Name()), ".txt") {
			all = append(all, filepath.Join(folder, e.Name()))
		}
	}
	if all == nil {
		return nil, &usageError{msg: "the folder " + folder + " holds no .txt files", hint: "put each working into a file of its own, named after the student: ada.txt"}
	}
	return all, nil
}

// readWorking hands out the working of a file.
func (a *app) readWorking(path string, _ *markOptions, yield func(script) bool) error {
	b, name, err := a.readText(path, marking.MaxText)
	if err != nil {
		return err
	}
	s := script{name: name, student: strings.TrimSuffix(filepath.Base(path), filepath.Ext(path)), text: string(b), size: int64(len(b))}
	if path == "-" {
		s.student = name
	}
	yield(s)
	return nil
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
