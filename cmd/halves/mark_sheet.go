package main

import (
	"encoding/csv"
	"fmt"
	"io"
	"strconv"
	"strings"
	"unicode"

	"github.com/xuri/excelize/v2"
)

// A sheet of marks is written row by row, and nothing of it is kept. Its cells
// are of type string or int.
type sheet interface {
	put(cells ...any) error
	// close ends the sheet; without it nothing of it may be used.
	close() error
}

// writeSheet writes a sheet as format has it, csv or xlsx. fill puts the marked
// workings and returns what could not be marked.
func writeSheet(w io.Writer, format string, fill func(put func(marked) error) ([]fault, error)) error {
	var s sheet = &csvSheet{csv.NewWriter(w)}
	if format == "xlsx" {
		book, err := newBook(w)
		if err != nil {
			return err
		}
		defer book.file.Close() // and its temporary files
		s = book
	}
	if err := s.put("student", "marks", "outOf", "firstSlip", "kind", "finalCorrect", "provisional", "question", "remark"); err != nil {
		return err
	}
	faults, err := fill(func(x marked) error {
		var slip any = ""
		if x.result.FirstSlip > 0 {
			slip = x.result.FirstSlip
		}
		return s.put(x.student, x.marks.Earned, x.marks.OutOf, slip, x.result.Kind.Words(), yesNo(x.result.FinalCorrect), yesNo(x.marks.Provisional), x.question, x.remark)
	})
	if err != nil {
		return err
	}
	for _, f := range faults {
		if err := s.put(f.Student, "", "", "", "", "", "", "", f.From+": "+f.Why); err != nil {
			return err
		}
	}
	return s.close()
}

// A csvSheet is comma-separated text (RFC 4180).
type csvSheet struct{ out *csv.Writer }

func (s *csvSheet) put(cells ...any) error {
	row := make([]string, len(cells))
	for i, c := range cells {
		switch c := c.(type) {
		case int:
			row[i] = strconv.Itoa(c)
		case string:
			row[i] = guarded(c)
		}
	}
	return s.out.Write(row)
}

func (s *csvSheet) close() error {
	s.out.Flush()
	return s.out.Error()
}

// guarded keeps a spreadsheet from taking a cell for a formula of its own.
func guarded(cell string) string {
	if strings.IndexAny(strings.TrimLeftFunc(cell, unicode.IsSpace), "=+-@＝＋－＠") == 0 {
		return "'" + cell
	}
	return cell
}

func yesNo(b bool) string {
	if b {
		return "yes"
	}
	return "no"
}

// A bookSheet is the one sheet of a workbook (ISO/IEC 29500-1). Its strings are
// marked as text, which a spreadsheet never takes for a formula.
type bookSheet struct {
	w    io.Writer
	file *excelize.File
	out  *excelize.StreamWriter
	rows int
	bold int // the style of the first row
}

// newBook begins a workbook.
func newBook(w io.Writer) (s *bookSheet, err error) {
	s = &bookSheet{w: w, file: excelize.NewFile()}
	defer func() {
		if err != nil {
			s.file.Close()
			s, err = nil, bookError(err)
		}
	}()
	const name = "Marks"
	if err = s.file.SetSheetName(s.file.GetSheetName(0), name); err != nil {
		return nil, err
	}
	if s.bold, err = s.file.NewStyle(&excelize.Style{Font: &excelize.Font{Bold: true}}); err != nil {
		return nil, err
	}
	if s.out, err = s.file.NewStreamWriter(name); err != nil {
		return nil, err
	}
	for _, c := range []struct {
		from, to int
		width    float64 // in characters
	}{{1, 1, 20}, {2, 4, 9}, {5, 5, 28}, {6, 7, 12}, {8, 9, 45}} {
		if err = s.out.SetColWidth(c.from, c.to, c.width); err != nil {
			return nil, err
		}
	}
	err = s.out.SetPanes(&excelize.Panes{Freeze: true, YSplit: 1, TopLeftCell: "A2", ActivePane: "bottomLeft"})
	return s, err
}

func (s *bookSheet) put(cells ...any) error {
	if s.rows++; s.rows > excelize.TotalRows {
		return &usageError{msg: fmt.Sprintf("a sheet of a workbook has %d rows, and there are more workings", excelize.TotalRows), hint: "name the file .csv"}
	}
	row := make([]any, len(cells))
	for i, c := range cells {
		if c != "" {
			row[i] = c
		}
	}
	var all []excelize.RowOpts
	if s.rows == 1 {
		all = append(all, excelize.RowOpts{StyleID: s.bold})
	}
	return bookError(s.out.SetRow("A"+strconv.Itoa(s.rows), row, all...))
}

func (s *bookSheet) close() error {
	if err := s.out.Flush(); err != nil {
		return bookError(err)
	}
	return bookError(s.file.Write(s.w))
}

// bookError is an error of making a workbook, which may need temporary files.
func bookError(err error) error {
	if err == nil {
		return nil
	}
	return &fileError{"the workbook", err}
}
