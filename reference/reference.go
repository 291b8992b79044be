// Package reference holds tables of the trade, embedded, each row with its
// source: the elements, the species, standard potentials and free energies,
// equilibrium constants, facts of redox titrations, hazards.
//
// Its words: a couple is a half-reaction of the table of potentials, written as
// a reduction; of several rows of one half-reaction one is preferred; a
// formation is the standard free energy of a species in one phase; what is known
// to be wrong or doubtful of a row is a suspicion. A user's own rows stand before
// those of the program, win, and are marked.
//
// It only looks things up. What a formula means is read in package chem; which
// oxidation state follows from rules is decided in package oxidation, which may
// compare its answer with the states written here; what a reaction's potential
// is, and whether it goes, is worked out in package energetics. README.md beside
// the tables gives their columns, units, conditions and licences.
//
// A table is read at its first use, its rows one by one when they are asked for,
// and then kept; all that is returned is shared and must not be changed.
package reference

import (
	"errors"
	"fmt"
	"math/big"
	"strconv"
	"strings"
	"sync"

	"halves/chem"
)

// Edition names the state of the tables, year and month.
const Edition = "2026-11"

// A row is read when it is asked for: a run of the program asks for few.
type row[T any] struct {
	line  string
	once  sync.Once
	value *T
}

// get returns the row, reading its line the first time. A line that cannot be
// read is a broken table.
func (r *row[T]) get(read func(line string) (*T, error)) *T {
	r.once.Do(func() {
		if r.value == nil {
			r.value = must(read(r.line))
		}
	})
	return r.value
}

// fieldOf returns field i of a line, from 0, without cutting the others.
func fieldOf(line string, i int) string {
	for range i {
		_, line, _ = strings.Cut(line, "\t")
	}
	field, _, _ := strings.Cut(line, "\t")
	return field
}

// must gives up on a broken table: it is part of the program, and the tests
// read every row.
func must[T any](v T, err error) T {
	if err != nil {
		panic("reference: " + err.Error())
	}
	return v
}

// eachRow calls row with each line after the header, which must name exactly
// these columns. Its errors name table and row; rows are counted as lines of
// the file, from 1.
func eachRow(name, text string, columns []string, row func(line string) error) error {
	header, rest, _ := strings.Cut(text, "\n")
	if header != strings.Join(columns, "\t") {
		return fmt.Errorf("%s, row 1: the columns are %q, want %q", name, strings.Split(header, "\t"), columns)
	}
	for n := 2; rest != ""; n++ {
		var line string
		line, rest, _ = strings.Cut(rest, "\n")
		if err := row(line); err != nil {
			return rowError(name, n, err)
		}
	}
	return nil
}

// A TableError says what is wrong with a row of a table.
type TableError struct {
	Table  string // file name
	Row    int    // line of the file, the header being 1; 0 where the whole table is meant
	Column string // "" where the whole row is meant
	Text   string // what stands there
	Msg    string // no capital, no full stop
	Hint   string // what to do, or ""
	Err    error  // what the message was made from, or nil
}

func (e *TableError) Error() string {
	var b strings.Builder
	b.WriteString(e.Table)
	if e.Row > 0 {
		fmt.Fprintf(&b, ", row %d", e.Row)
	}
	if e.Column != "" {
		fmt.Fprintf(&b, ", column %q", e.Column)
	}
	b.WriteString(": ")
	if e.Text != "" {
		fmt.Fprintf(&b, "%q ", shortened(e.Text))
	}
	b.WriteString(e.Msg)
	if e.Hint != "" {
		b.WriteString("; " + e.Hint)
	}
	return b.String()
}

// Unwrap returns the error of package chem where a formula could not be read.
func (e *TableError) Unwrap() error { return e.Err }

// shortened keeps a message to a line.
func shortened(text string) string {
	const most = 60
	if r := []rune(text); len(r) > most {
		return string(r[:most]) + "..."
	}
	return text
}

// rowError adds the place to what is wrong with a row.
func rowError(table string, row int, err error) error {
	var field *TableError
	if !errors.As(err, &field) {
		return &TableError{Table: table, Row: row, Msg: err.Error(), Err: err}
	}
	placed := *field
	placed.Table, placed.Row = table, row
	return &placed
}

// fieldsOf cuts a line into the fields of these columns.
func fieldsOf(line string, columns []string) ([]string, error) {
	f := strings.Split(line, "\t")
	if len(f) != len(columns) {
		return nil, fieldError("", line, fmt.Sprintf("has %d columns, want %d", len(f), len(columns)))
	}
	return f, nil
}

// fieldError says what is wrong with one field; rowError adds the place.
func fieldError(column, text, msg string) *TableError {
	return &TableError{Column: column, Text: text, Msg: msg}
}

// unread says why package chem could not read a field.
func unread(column, text string, err error) *TableError {
	e := &TableError{Column: column, Text: text, Msg: "cannot be read: " + err.Error(), Err: err}
	var syntax *chem.SyntaxError
	if errors.As(err, &syntax) {
		e.Msg = fmt.Sprintf("cannot be read: %s (character %d)", syntax.Msg, syntax.Column())
		e.Hint = syntax.Hint
	}
	return e
}

// decimal reads a decimal number such as "15.999" exactly and returns the
// number of its decimals too.
func decimal(column, text string) (r *big.Rat, decimals int, err error) {
	r, ok := new(big.Rat).SetString(text)
	if !ok || strings.ContainsAny(text, "eE/") {
		return nil, 0, fieldError(column, text, "is not a decimal number")
	}
	if _, after, ok := strings.Cut(text, "."); ok {
		decimals = len(after)
	}
	return r, decimals, nil
}

// signed reads a signed number or fraction such as "+5/2", "-1" or "0".
func signed(text string) (chem.Ratio, bool) {
	numText, denText, fraction := strings.Cut(text, "/")
	num, err := strconv.ParseInt(numText, 10, 64)
	if err != nil || (num > 0) != strings.HasPrefix(numText, "+") || num < -chem.MaxNumber || num > chem.MaxNumber {
		return chem.Ratio{}, false
	}
	if !fraction {
		return chem.Whole(num), true
	}
	den, err := strconv.ParseInt(denText, 10, 64)
	if err != nil || den < 2 || den > chem.MaxNumber {
		return chem.Ratio{}, false
	}
	return chem.NewRatio(num, den), true
}
