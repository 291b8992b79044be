package main

import (
	"bufio"
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"
)

// maxRow is how many bytes a row of a table may have.
const maxRow = 1 << 20

// A csvRow is one row of comma-separated text, which may go over several lines.
type csvRow struct {
	text        []byte // good until the next row is read; nil where it is long
	row         int    // its number, from 1; empty lines are rows too
	first, last int    // its lines, from 1
	size        int64  // how many bytes it takes
	long        bool   // it has more than maxRow bytes
	open        bool   // the text ends inside a quoted cell
}

// A rowReader finds the rows of comma-separated text (RFC 4180) without keeping
// those that are too long. It ends a row where encoding/csv does.
type rowReader struct {
	in        *bufio.Reader
	comma     byte
	row, line int
	text      []byte
}

// newRowReader finds what parts the cells: commas, or the semicolons or tabs that
// some spreadsheets write. A byte order mark is left out.
func newRowReader(in io.Reader) *rowReader {
	r := &rowReader{in: bufio.NewReaderSize(in, 64<<10), comma: ','}
	start, _ := r.in.Peek(64 << 10) // an error comes again
	if mark := []byte("\ufeff"); bytes.HasPrefix(start, mark) {
		_, _ = r.in.Discard(len(mark))
		start = start[len(mark):]
	}
	first, _, _ := bytes.Cut(start, []byte("\n"))
	for _, sign := range []byte{';', '\t'} {
		if bytes.Count(first, []byte{sign}) > bytes.Count(first, []byte{r.comma}) {
			r.comma = sign
		}
	}
	return r
}

// next reads a row. The error is io.EOF after the last.
func (r *rowReader) next() (csvRow, error) {
	r.text = r.text[:0]
	r.row++
	x := csvRow{row: r.row, first: r.line + 1}
	for {
		from, size, err := len(r.text), x.size, error(nil)
		for {
			var part []byte
			part, err = r.in.ReadSlice('\n')
			x.size += int64(len(part))
			r.text = append(r.text, part...)
			if x.long = x.long || len(r.text) > maxRow; x.long {
				// None of it is kept. An odd number of marks opens or closes a cell.
				if bytes.Count(r.text[from:], []byte{'"'})%2 == 1 {
					x.open = !x.open
				}
				r.text, from = r.text[:0], 0
			}
			if err != bufio.ErrBufferFull {
				break
			}
		}
		if err != nil && err != io.EOF {
			return x, err
		}
		if x.size > size {
			r.line++
			if !x.long {
				x.open = staysOpen(withoutEnd(r.text[from:]), r.comma, x.open)
			}
		}
		if x.open && err == nil {
			continue
		}
		if x.size == 0 {
			return x, io.EOF
		}
		x.last, x.text = r.line, r.text
		if x.long {
			x.text = nil
		}
		return x, nil
	}
}

// withoutEnd leaves out the end of a line.
func withoutEnd(line []byte) []byte {
	return bytes.TrimSuffix(bytes.TrimSuffix(line, []byte("\n")), []byte("\r"))
}

// staysOpen tells whether a quoted cell is open at the end of a line. open says
// that one is at its beginning. A quotation mark out of place ends the row with
// its line.
func staysOpen(line []byte, comma byte, open bool) bool {
	for {
		if !open {
			if len(line) == 0 || line[0] != '"' {
				cell, rest, more := bytes.Cut(line, []byte{comma})
				if !more || bytes.IndexByte(cell, '"') >= 0 {
					return false
				}
				line = rest
				continue
			}
			line = line[1:]
		}
		i := bytes.IndexByte(line, '"')
		if i < 0 {
			return true
		}
		line = line[i+1:]
		switch {
		case len(line) == 0:
			return false
		case line[0] == '"': // two stand for one
			open = true
		case line[0] == comma:
			open = false
		default:
			return false
		}
		line = line[1:]
	}
}

// parted returns the cells of a row, none for an empty line.
func parted(text []byte, comma byte) ([]string, error) {
	r := csv.NewReader(bytes.NewReader(text))
	r.Comma, r.FieldsPerRecord = rune(comma), -1
	cells, err := r.Read()
	if err == io.EOF {
		return nil, nil
	}
	return cells, err
}

// readTable hands out the scripts of comma-separated text. The cells of a row are
// parted later, by whoever marks it. Its errors are *usageError and *fileError.
func (a *app) readTable(path string, o *markOptions, yield func(script) bool) error {
	in, name, _, err := a.input(path)
	if err != nil {
		return err
	}
	defer in.Close()
	r := newRowReader(in)
	var c *columns
	for {
		x, err := r.next()
		switch {
		case err == io.EOF && c == nil:
			return noColumns(name)
		case err == io.EOF:
			return nil
		case err != nil:
			return &fileError{name, err}
		}
		if c == nil {
			if c, err = readColumns(name, x, r.comma, o); err != nil {
				return err
			}
			continue
		}
		s := script{name: name, row: x.row, size: x.size, columns: c, comma: r.comma, line: x.first}
		lines := fmt.Sprintf("lines %d to %d", x.first, x.last)
		switch {
		case x.open:
			s.why = fmt.Sprintf("a quotation mark is not closed; from line %d to the end of the file nothing was marked", x.first)
		case x.long && x.first == x.last:
			s.why = fmt.Sprintf("a row may have %d bytes, and this has more", maxRow)
		case x.long:
			s.why = fmt.Sprintf("a row may have %d bytes, and this has more; perhaps a quotation mark is not closed: %s were not marked", maxRow, lines)
		default:
			s.cells, s.lines = bytes.Clone(x.text), x.last-x.first+1
		}
		if !yield(s) {
			return nil
		}
	}
}

func noColumns(name string) error {
	return &usageError{msg: name + " has no row that names its columns", hint: columnsHint}
}

// readColumns reads the first row of a table, nil where it is blank.
func readColumns(name string, x csvRow, comma byte, o *markOptions) (*columns, error) {
	if !isText(string(x.text)) {
		return nil, &usageError{msg: name + " is no text", hint: "save it from the spreadsheet as CSV, UTF-8"}
	}
	head, err := parted(x.text, comma)
	if err != nil || x.long {
		return nil, noColumns(name)
	}
	if blank(head) {
		return nil, nil
	}
	return newColumns(name, head, o)
}

// part parts the cells of a row of comma-separated text. Where it cannot, it says
// why. blank is a row that a spreadsheet leaves below the others.
func (s *script) part() (blankRow bool) {
	if !isText(string(s.cells)) {
		s.why = notText
		return false
	}
	cells, err := parted(s.cells, s.comma)
	s.cells = nil
	var wrong *csv.ParseError
	switch {
	case errors.As(err, &wrong):
		s.why = fmt.Sprintf("a quotation mark is out of place, on line %d of the file", s.line+wrong.Line-1)
		if s.lines > 1 {
			s.why += fmt.Sprintf("; lines %d to %d were not marked", s.line, s.line+s.lines-1)
		}
		return false
	case err != nil:
		s.why = err.Error()
		return false
	case blank(cells):
		return true
	}
	s.columns.fill(s, cells)
	return false
}

// Columns are where a table has what is needed: from 0, -1 for none.
type columns struct{ student, working, question, medium int }

// newColumns reads the row that names the columns.
func newColumns(name string, head []string, o *markOptions) (*columns, error) {
	at := func(column string) int {
		return slices.IndexFunc(head, func(h string) bool { return strings.ToLower(strings.TrimSpace(h)) == column })
	}
	c := &columns{at("student"), at("working"), at("question"), at("medium")}
	for _, must := range []string{"student", "working", "question"} {
		if at(must) >= 0 || must == "question" && o.question != "" {
			continue
		}
		return nil, &usageError{msg: fmt.Sprintf("%s has no column %q; its columns are %s", name, must, quoted(head)), hint: columnsHint}
	}
	return c, nil
}

// maxStudent is how many bytes the name of a student may have.
const maxStudent = 200

// fill takes a script from the cells of its row.
func (c *columns) fill(s *script, cells []string) {
	cell := func(i int) string {
		if i >= 0 && i < len(cells) {
			return cells[i]
		}
		return ""
	}
	s.question, s.medium, s.text = cell(c.question), cell(c.medium), cell(c.working)
	// The name is kept for the marks, and its row is not to be kept with it.
	s.student = strings.TrimSpace(cell(c.student))
	switch {
	case s.student == "":
		s.why = "no student is named"
	case len(s.student) > maxStudent:
		s.student = ""
		s.why = fmt.Sprintf("the name of the student is too long: it may have %d bytes", maxStudent)
	}
	s.student = strings.Clone(s.student)
}

// blank reports whether no cell holds anything.
func blank(cells []string) bool {
	return !slices.ContainsFunc(cells, func(c string) bool { return strings.TrimSpace(c) != "" })
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
