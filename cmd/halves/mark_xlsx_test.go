package main

import (
	"archive/zip"
	"bytes"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"
)

// bookOf writes a workbook with these rows, each from its first cell.
func bookOf(t testing.TB, rows map[int][]any) string {
	t.Helper()
	f := excelize.NewFile()
	defer f.Close()
	for n, cells := range rows {
		if err := f.SetSheetRow("Sheet1", fmt.Sprintf("A%d", n), &cells); err != nil {
			t.Fatal(err)
		}
	}
	path := filepath.Join(t.TempDir(), "section.xlsx")
	if err := f.SaveAs(path); err != nil {
		t.Fatal(err)
	}
	return path
}

// A workbook is marked as the same table in comma-separated text; rows have the
// numbers that the spreadsheet shows, and a number is a name too.
func TestMarkBook(t *testing.T) {
	const question, answer = "Cu + Ag^+ -> Cu^2+ + Ag", "Cu + 2 Ag^+ -> Cu^2+ + 2 Ag"
	book := bookOf(t, map[int][]any{
		2: {"Working", " Student ", "question"},
		3: {"Cu -> Cu^2+ + 2 e^-\nAg^+ + e^- -> Ag\n" + answer, "ada", question},
		5: {answer, 123456789012, question},
		6: {nil, "cai", question},
		7: {answer, nil, question},
		9: {answer, "eve", "Cu + Xx -> Cu^2+"},
	})
	rows := marksOf(t, 2, book)
	var got []string
	for _, r := range rows {
		got = append(got, strings.Join([]string{r[0], r[1], strings.TrimPrefix(r[8], filepath.Dir(book)+string(filepath.Separator))}, "|"))
	}
	want := []string{"ada|6|", "123456789012|6|", "cai||section.xlsx, row 6: it is empty", "||section.xlsx, row 7: no student is named",
		`eve||section.xlsx, row 9: the question: no element has the symbol "Xx"`}
	if strings.Join(got, "\n") != strings.Join(want, "\n") {
		t.Errorf("the marks are\n%s\nwant\n%s", strings.Join(got, "\n"), strings.Join(want, "\n"))
	}
}

// The marks as a workbook: numbers are numbers, and text is text, be it ever so
// like a formula; the first row is bold and stays in view.
func TestMarksAsBook(t *testing.T) {
	const question, answer = "Cu + Ag^+ -> Cu^2+ + Ag", "Cu + 2 Ag^+ -> Cu^2+ + 2 Ag"
	table := bookOf(t, map[int][]any{
		1: {"student", "working"},
		2: {"=1+1", answer},
		3: {"<a & b>\x01", "Cu -> Cu^2+ + 2 e^-\nAg^+ + e^- -> Ag\nCu + Ag^+ -> Cu^2+ + Ag"},
		4: {"007", answer},
		5: {"eve", nil},
	})
	out := filepath.Join(t.TempDir(), "marks.xlsx")
	var stdout, stderr bytes.Buffer
	if status := run(t.Context(), []string{"mark", table, "--question", question, "-o", out}, nil, &stdout, &stderr); status != 2 || stdout.Len() > 0 {
		t.Fatalf("status %d, want 2: %s%s", status, stdout.String(), stderr.String())
	}
	f, err := excelize.OpenFile(out)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	const sheet = "Marks"
	if got := f.GetSheetList(); len(got) != 1 || got[0] != sheet {
		t.Fatalf("the sheets are %q", got)
	}
	rows, err := f.GetRows(sheet)
	if err != nil || len(rows) != 5 {
		t.Fatalf("%d rows, error %v: %q", len(rows), err, rows)
	}
	for cell, want := range map[string]string{
		"A1": "student", "I1": "remark", "A2": "=1+1", "B2": "6", "D2": "", "F2": "yes", "B3": "4", "D3": "3", "A4": "007", "A5": "eve", "B5": "",
		"I5": table + ", row 5: it is empty",
	} {
		if got, err := f.GetCellValue(sheet, cell); err != nil || got != want {
			t.Errorf("%s is %q (error %v), want %q", cell, got, err, want)
		}
		if formula, err := f.GetCellFormula(sheet, cell); err != nil || formula != "" {
			t.Errorf("%s has the formula %q (error %v)", cell, formula, err)
		}
	}
	if got, _ := f.GetCellValue(sheet, "A3"); !strings.HasPrefix(got, "<a & b>") {
		t.Errorf("A3 is %q", got)
	}
	for cell, number := range map[string]bool{"A2": false, "A4": false, "B2": true, "C2": true, "D3": true} {
		kind, err := f.GetCellType(sheet, cell)
		if got := kind == excelize.CellTypeNumber || kind == excelize.CellTypeUnset; err != nil || got != number {
			t.Errorf("%s is of the type %v (error %v), number %v", cell, kind, err, number)
		}
	}
	style, err := f.GetCellStyle(sheet, "A1")
	if err != nil {
		t.Fatal(err)
	}
	if s, err := f.GetStyle(style); err != nil || s.Font == nil || !s.Font.Bold {
		t.Errorf("the first row is not bold: %v (error %v)", s, err)
	}
	if p, err := f.GetPanes(sheet); err != nil || !p.Freeze || p.YSplit != 1 {
		t.Errorf("the first row is not frozen: %+v (error %v)", p, err)
	}
}

// A workbook of a few cells, in bytes.
func aBook(t testing.TB) []byte {
	b, err := os.ReadFile(bookOf(t, map[int][]any{1: {"student", "working", "question"}, 2: {"ada", "Zn + Cu^2+ -> Zn^2+ + Cu", "Zn + Cu^2+ -> Zn^2+ + Cu"}}))
	if err != nil {
		t.Fatal(err)
	}
	return b
}

// A workbook that is cut short is refused, and says so.
func TestBrokenBook(t *testing.T) {
	whole := aBook(t)
	path := filepath.Join(t.TempDir(), "section.xlsx")
	for _, n := range []int{0, 1, len(whole) / 2, len(whole) - 1} {
		if err := os.WriteFile(path, whole[:n], 0o600); err != nil {
			t.Fatal(err)
		}
		var stderr bytes.Buffer
		if status := run(t.Context(), []string{"mark", path}, nil, io.Discard, &stderr); status != 2 || !strings.Contains(stderr.String(), "section.xlsx cannot be read as a workbook") {
			t.Errorf("%d of %d bytes: status %d: %s", n, len(whole), status, stderr.String())
		}
	}
}

// A workbook whose sheet breaks off is refused: the students below are not left
// out without a word.
func TestBrokenSheet(t *testing.T) {
	whole := aBook(t)
	in, err := zip.NewReader(bytes.NewReader(whole), int64(len(whole)))
	if err != nil {
		t.Fatal(err)
	}
	var b bytes.Buffer
	out := zip.NewWriter(&b)
	for _, f := range in.File {
		r, err := f.Open()
		if err != nil {
			t.Fatal(err)
		}
		text, err := io.ReadAll(r)
		if err != nil {
			t.Fatal(err)
		}
		if strings.HasSuffix(f.Name, "sheet1.xml") {
			text = text[:bytes.LastIndex(text, []byte("<c "))]
		}
		w, err := out.Create(f.Name)
		if err == nil {
			_, err = w.Write(text)
		}
		if err != nil {
			t.Fatal(err)
		}
	}
	if err := out.Close(); err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(t.TempDir(), "section.xlsx")
	if err := os.WriteFile(path, b.Bytes(), 0o600); err != nil {
		t.Fatal(err)
	}
	var stderr bytes.Buffer
	if status := run(t.Context(), []string{"mark", path}, nil, io.Discard, &stderr); status != 2 || !strings.Contains(stderr.String(), "section.xlsx cannot be read as a workbook") {
		t.Errorf("status %d: %s", status, stderr.String())
	}
}

// Whatever the bytes, a workbook is read or refused.
func FuzzReadBook(f *testing.F) {
	f.Add(aBook(f))
	f.Add([]byte("PK\x03\x04"))
	path := filepath.Join(f.TempDir(), "section.xlsx")
	f.Fuzz(func(t *testing.T, b []byte) {
		if err := os.WriteFile(path, b, 0o600); err != nil {
			t.Fatal(err)
		}
		err := (&app{}).readBook(path, &markOptions{}, func(script) bool { return true })
		switch err.(type) {
		case nil, *usageError, *fileError:
		default:
			t.Errorf("error %T: %v", err, err)
		}
	})
}
