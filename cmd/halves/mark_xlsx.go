package main

import (
	"archive/zip"
	"encoding/xml"
	"fmt"
	"io"
	"strings"

	"github.com/xuri/excelize/v2"
)

// maxUnpacked is how many bytes a workbook may hold once it is unpacked.
const maxUnpacked = 1 << 30

const xlsxHint = "save it from the spreadsheet as .xlsx without a password, or as CSV, UTF-8"

// readBook hands out the scripts of the first sheet of a workbook (ISO/IEC
// 29500-1). Its errors are *usageError and *fileError.
func (a *app) readBook(path string, o *markOptions, yield func(script) bool) (err error) {
	in, _, _, err := a.input(path) // says it where there is no such file
	if err != nil {
		return err
	}
	in.Close()
	none := func() error { return &usageError{msg: path + " cannot be read as a workbook", hint: xlsxHint} }
	defer func() {
		if recover() != nil { // a broken workbook must not end the program
			err = none()
		}
	}()
	z, err := zip.OpenReader(path)
	if err != nil {
		return none()
	}
	defer z.Close()
	var size uint64
	for _, f := range z.File {
		if size += f.UncompressedSize64; size > maxUnpacked || f.UncompressedSize64 > maxUnpacked {
			return &usageError{msg: fmt.Sprintf("%s holds more than %d MB", path, maxUnpacked>>20), hint: "save it as CSV, UTF-8, which may have any size"}
		}
	}
	book, err := excelize.OpenFile(path, excelize.Options{UnzipSizeLimit: maxUnpacked})
	if err != nil {
		return none()
	}
	defer book.Close() // and its temporary files
	for _, f := range z.File {
		if err := wholePart(f, book.CharsetReader); err != nil {
			return none()
		}
	}
	sheets := book.GetSheetList()
	if len(sheets) == 0 {
		return none()
	}
	rows, err := book.Rows(sheets[0])
	if err != nil {
		return none()
	}
	defer rows.Close()
	var c *columns
	for n := 1; rows.Next(); n++ {
		cells, err := rows.Columns()
		if err != nil {
			return &usageError{msg: fmt.Sprintf("%s, row %d: the row cannot be read", path, n), hint: xlsxHint}
		}
		if blank(cells) {
			continue
		}
		if c == nil {
			if c, err = newColumns(path, cells, o); err != nil {
				return err
			}
			continue
		}
		s := script{name: path, row: n, size: int64(len(strings.Join(cells, "")))}
		c.fill(&s, cells)
		if !yield(s) {
			return nil
		}
	}
	if rows.Error() != nil {
		return none()
	}
	if c == nil {
		return &usageError{msg: path + " has no row that names its columns", hint: columnsHint}
	}
	return nil
}

// wholePart looks whether the rows or the texts of a workbook are there to their
// end. To the reader of rows, what is broken is the end of the sheet, and the
// students below would be left out without a word.
func wholePart(f *zip.File, charset func(string, io.Reader) (io.Reader, error)) error {
	name := strings.ToLower(f.Name)
	if !strings.HasSuffix(name, ".xml") || !strings.Contains(name, "worksheets") && !strings.HasSuffix(name, "sharedstrings.xml") {
		return nil
	}
	in, err := f.Open()
	if err != nil {
		return err
	}
	defer in.Close()
	d := xml.NewDecoder(in)
	d.CharsetReader = charset
	for {
		if _, err := d.Token(); err == io.EOF {
			break
		} else if err != nil {
			return err
		}
	}
	return nil
}
