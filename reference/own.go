package reference

import (
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"
)

// Limits on a user's table.
const (
	MaxOwnRows = 10_000 // lines of the file
	MaxOwnLine = 4096   // bytes of a line
)

// An ownColumn is a column that a user's table may have.
type ownColumn struct {
	name   string
	needed bool
}

// An ownRow is a row of a user's table, its fields by column, without the
// blanks around them; "" where the table lacks the column.
type ownRow struct {
	line   int // of the file, from 1
	fields map[string]string
}

func (r ownRow) get(column string) string { return r.fields[column] }

// eachOwnRow reads a user's table: a header that names its columns, in any
// order, and a row on each line after it. Fields are parted by tabs, commas or
// semicolons, whichever the header holds; a field with such a mark, or with
// quotation marks, stands in quotation marks (RFC 4180). Empty lines and lines
// that begin with # are passed over. The error is a *TableError.
func eachOwnRow(name, text string, columns []ownColumn, row func(r ownRow) error) error {
	text = strings.TrimPrefix(text, "\ufeff")
	if err := measure(name, text); err != nil {
		return err
	}
	r := csv.NewReader(strings.NewReader(text))
	r.Comma = separator(text)
	r.Comment = '#'
	r.FieldsPerRecord = -1
	r.ReuseRecord = true
	header, err := nextRecord(name, r)
	if err == io.EOF {
		return &TableError{Table: name, Msg: "the table is empty", Hint: "begin with a line that names the columns: " + columnNames(columns)}
	}
	if err != nil {
		return err
	}
	line, _ := r.FieldPos(0)
	order, err := readHeader(header, columns)
	if err != nil {
		return rowError(name, line, err)
	}
	for {
		record, err := nextRecord(name, r)
		if err == io.EOF {
			return nil
		}
		if err != nil {
			return err
		}
		line, _ := r.FieldPos(0)
		fields, err := readRecord(record, order, columns)
		if err == nil && fields != nil {
			err = row(ownRow{line, fields})
		}
		if err != nil {
			return rowError(name, line, err)
		}
	}
}

// measure refuses what is too large or no text before anything is read.
func measure(name, text string) error {
	n := 0
	for line := range strings.Lines(text) {
		n++
		switch {
		case n > MaxOwnRows:
			return &TableError{Table: name, Row: n, Msg: fmt.Sprintf("a table may have %d lines", MaxOwnRows), Hint: "part it into several files"}
		case len(line) > MaxOwnLine:
			return &TableError{Table: name, Row: n, Msg: fmt.Sprintf("the line is longer than %d bytes", MaxOwnLine), Hint: "shorten it"}
		case !utf8.ValidString(line) || strings.ContainsRune(line, 0):
			return &TableError{Table: name, Row: n, Msg: "the line is no UTF-8 text", Hint: "save the table as text in UTF-8"}
		}
	}
	return nil
}

// separator returns the mark that parts the fields of the header.
func separator(text string) rune {
	for line := range strings.Lines(text) {
		if strings.HasPrefix(line, "#") || strings.TrimSpace(line) == "" {
			continue
		}
		for _, mark := range "\t;" {
			if strings.ContainsRune(line, mark) {
				return mark
			}
		}
		break
	}
	return ','
}

// nextRecord returns the next record, io.EOF after the last.
func nextRecord(name string, r *csv.Reader) ([]string, error) {
	record, err := r.Read()
	var parse *csv.ParseError
	switch {
	case err == nil || err == io.EOF:
		return record, err
	case errors.As(err, &parse):
		return nil, &TableError{Table: name, Row: parse.StartLine, Msg: "quotation marks do not pair", Hint: "put the whole field in quotation marks and double those within it", Err: err}
	}
	return nil, &TableError{Table: name, Msg: err.Error(), Err: err}
}

// readHeader returns the columns in the order of the file.
func readHeader(header []string, columns []ownColumn) ([]string, error) {
	order := make([]string, len(header))
	for i, typed := range header {
		column := strings.ToLower(strings.ReplaceAll(strings.TrimSpace(typed), " ", "_"))
		if !slices.ContainsFunc(columns, func(c ownColumn) bool { return c.name == column }) {
			return nil, &TableError{Text: typed, Msg: "is no column of this table", Hint: "the columns are " + columnNames(columns)}
		}
		if slices.Contains(order[:i], column) {
			return nil, &TableError{Text: typed, Msg: "names a second column", Hint: "keep one of the two"}
		}
		order[i] = column
	}
	for _, c := range columns {
		if c.needed && !slices.Contains(order, c.name) {
			return nil, &TableError{Msg: fmt.Sprintf("the column %q is missing", c.name), Hint: "the columns are " + columnNames(columns)}
		}
	}
	return order, nil
}

func columnNames(columns []ownColumn) string {
	var b strings.Builder
	for i, c := range columns {
		if i > 0 {
			b.WriteString(", ")
		}
		b.WriteString(c.name)
		if !c.needed {
			b.WriteString(" (may be left out)")
		}
	}
	return b.String()
}

// readRecord returns the fields by column, nil for a row without any text.
// Fields that are missing at the end of a row are empty.
func readRecord(record, order []string, columns []ownColumn) (map[string]string, error) {
	fields := make(map[string]string, len(order))
	any := false
	for i, text := range record {
		text = strings.TrimSpace(text)
		if i >= len(order) {
			if text != "" {
				return nil, &TableError{Text: text, Msg: fmt.Sprintf("is field %d, but the header names %d columns", i+1, len(order)), Hint: "a field that holds the mark between fields stands in quotation marks"}
			}
			continue
		}
		fields[order[i]] = text
		any = any || text != ""
	}
	if !any {
		return nil, nil
	}
	for _, c := range columns {
		if c.needed && fields[c.name] == "" {
			return nil, &TableError{Column: c.name, Msg: "is empty", Hint: "write it, or leave out the row"}
		}
	}
	return fields, nil
}

// ownFigure reads a measured figure as people write it: with a point or a comma
// before the decimals, and with any minus sign. It returns the figure with a
// point and a plain minus sign too.
func ownFigure(column, text string, most float64, unit string) (float64, string, error) {
	plain := strings.NewReplacer("\u2212", "-", "\u2013", "-", ",", ".").Replace(text)
	x, err := strconv.ParseFloat(plain, 64)
	if err != nil || strings.Trim(plain, "+-.0123456789") != "" {
		return 0, "", &TableError{Column: column, Text: text, Msg: "is not a decimal number", Hint: "write it as 1.507 or -0.25, without a unit"}
	}
	if x < -most || x > most {
		return 0, "", &TableError{Column: column, Text: text, Msg: fmt.Sprintf("is beyond %g %s", most, unit), Hint: "the unit is " + unit}
	}
	return x, plain, nil
}
