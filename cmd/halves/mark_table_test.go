package main

import (
	"bufio"
	"bytes"
	"encoding/csv"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// sameRows holds the rows of text to those that encoding/csv finds: as many, with
// the same cells, and none where it has none.
func sameRows(t interface{ Fatalf(string, ...any) }, text string) {
	r := newRowReader(strings.NewReader(text))
	var got, want [][]string
	for {
		x, err := r.next()
		if err == io.EOF {
			break
		}
		if err != nil {
			t.Fatalf("%q: %v", text, err)
		}
		cells, err := parted(x.text, r.comma)
		switch {
		case err != nil:
			got = append(got, nil)
		case cells != nil:
			got = append(got, cells)
		}
		if x.open && err == nil {
			t.Fatalf("%q: row %d is open, and its cells are %q", text, x.row, cells)
		}
	}
	whole := csv.NewReader(strings.NewReader(strings.TrimPrefix(text, "\ufeff")))
	whole.Comma, whole.FieldsPerRecord = rune(r.comma), -1
	for {
		cells, err := whole.Read()
		if err == io.EOF {
			break
		}
		if err != nil {
			cells = nil
		}
		want = append(want, cells)
	}
	if !slices.EqualFunc(got, want, slices.Equal) {
		t.Fatalf("%q: the rows are\n%q, want\n%q", text, got, want)
	}
}

func TestRowReader(t *testing.T) {
	for _, text := range []string{"", "\n", "a,b\n\n\"c\nd\",e", "a;\"b;c\"\r\nd;e\r\n", "a\"b,c\nd,e", "a,\"b\"c\nd,\"e", "\"\"\"\"\n\"a\"\"\n\",b", "\ufeffa,b"} {
		sameRows(t, text)
	}
	rapid.Check(t, func(t *rapid.T) {
		sameRows(t, rapid.StringOf(rapid.SampledFrom([]rune("ab\"\"\",,;\t\n\n\r"))).Draw(t, "text"))
	})
}

func FuzzRowReader(f *testing.F) {
	f.Add("student,working\nada,\"Cu -> Cu^2+\n+ 2 e^-\"\n\nben,\"x\"y\ncai,\"z")
	f.Fuzz(func(t *testing.T, text string) { sameRows(t, text) })
}

// A row that is too long is passed over and not kept, whatever it holds, and its
// number and its lines are told.
func TestRowReaderLong(t *testing.T) {
	fill := strings.Repeat("x", 100)
	for _, tt := range []struct{ name, long string }{
		{"one line", strings.Repeat(fill, maxRow/100+1)},
		{"a cell of many lines", "\"" + strings.Repeat(fill+"\n", maxRow/100) + "\""},
		{"with marks in it", "\"" + strings.Repeat(fill+"\"\"\n", maxRow/100) + "\",end"},
	} {
		text := "a,b\n" + tt.long + "\nc,d\n"
		r := newRowReader(strings.NewReader(text))
		var got []csvRow
		for {
			x, err := r.next()
			if err == io.EOF {
				break
			}
			x.text = bytes.Clone(x.text)
			got = append(got, x)
		}
		lines := strings.Count(tt.long, "\n")
		if len(got) != 3 || !got[1].long || got[1].row != 2 || got[1].first != 2 || got[1].last != 2+lines || got[1].text != nil || string(got[2].text) != "c,d\n" {
			t.Errorf("%s: the rows are %.300v", tt.name, got)
		}
		if cap(r.text) > 4*maxRow {
			t.Errorf("%s: %d bytes are kept", tt.name, cap(r.text))
		}
	}
	// A mark that is not closed swallows the rest, and it is not kept either.
	r := newRowReader(io.MultiReader(strings.NewReader("a,b\nc,\""), io.LimitReader(unending{}, 8*maxRow)))
	_, _ = r.next()
	x, err := r.next()
	if err != nil || !x.open || !x.long || x.row != 2 || cap(r.text) > 4*maxRow {
		t.Errorf("the row is %v (error %v), %d bytes are kept", x, err, cap(r.text))
	}
	if _, err := r.next(); err != io.EOF {
		t.Errorf("after it: error %v, want the end", err)
	}
}

// Endless lines.
type unending struct{}

func (unending) Read(p []byte) (int, error) {
	for i := range p {
		p[i] = "line,\n"[i%6]
	}
	return len(p), nil
}

// An error of reading is told, and is no end.
func TestRowReaderError(t *testing.T) {
	broken := errors.New("broken")
	r := newRowReader(io.MultiReader(strings.NewReader("a,b\nc"), &failing{broken}))
	if _, err := r.next(); err != nil {
		t.Error(err)
	}
	if _, err := r.next(); !errors.Is(err, broken) {
		t.Errorf("error %v, want %v", err, broken)
	}
}

type failing struct{ err error }

func (f *failing) Read([]byte) (int, error) { return 0, f.err }

// marksOf runs halves mark and returns its rows without the first.
func marksOf(t *testing.T, want int, args ...string) [][]string {
	t.Helper()
	var stdout, stderr bytes.Buffer
	if status := run(t.Context(), append([]string{"mark", "--format", "csv"}, args...), nil, &stdout, &stderr); status != want {
		t.Fatalf("%q: status %d, want %d: %s", args, status, want, stderr.String())
	}
	rows, err := csv.NewReader(&stdout).ReadAll()
	if err != nil || len(rows) == 0 {
		t.Fatalf("%q: %d rows, error %v", args, len(rows), err)
	}
	return rows[1:]
}

// A table of many rows has the marks, in the order, that --each gives to the same
// workings.
func TestMarkTableAsEach(t *testing.T) {
	const rows = 5000
	table := filepath.Join(t.TempDir(), "section.csv")
	if err := os.WriteFile(table, tableOf(t, rows), 0o600); err != nil {
		t.Fatal(err)
	}
	got := marksOf(t, 0, table)
	var lines, out bytes.Buffer
	for i := range rows {
		line, err := json.Marshal(benchmarkWorkings[i%len(benchmarkWorkings)])
		if err != nil {
			t.Fatal(err)
		}
		lines.Write(append(line, '\n'))
	}
	if status := run(t.Context(), []string{"mark", "--each", "-"}, &lines, &out, io.Discard); status != 0 {
		t.Fatalf("--each: status %d", status)
	}
	n := 0
	for in := bufio.NewScanner(&out); in.Scan(); n++ {
		var x markJSON
		if err := json.Unmarshal(in.Bytes(), &x); err != nil {
			t.Fatal(err)
		}
		slip := ""
		if x.FirstSlip != nil {
			slip = strconv.Itoa(*x.FirstSlip)
		}
		want := []string{fmt.Sprintf("student %d", n), strconv.Itoa(x.Marks), strconv.Itoa(x.OutOf), slip}
		if n >= len(got) || !slices.Equal(got[n][:4], want) || got[n][5] != yesNo(x.FinalCorrect) || got[n][6] != yesNo(x.Provisional) {
			t.Fatalf("row %d differs from --each: want %q", n, want)
		}
	}
	if n != rows || len(got) != rows {
		t.Errorf("%d rows and %d lines, want %d of each", len(got), n, rows)
	}
}

// What cannot be marked is named with its row, and the rest goes on.
func TestMarkTableFaults(t *testing.T) {
	const answer = "Cu + 2 Ag^+ -> Cu^2+ + 2 Ag"
	table := filepath.Join(t.TempDir(), "section.csv")
	text := "student,working\n" +
		"ada," + strings.Repeat("x", 64<<10+1) + "\n" +
		"ben,\"" + strings.Repeat("long\n", maxRow/5+1) + "\"\n" +
		strings.Repeat("c", maxStudent+1) + "," + answer + "\n" +
		"dee,\x00\n" +
		"eve," + answer + "\n"
	if err := os.WriteFile(table, []byte(text), 0o600); err != nil {
		t.Fatal(err)
	}
	rows := marksOf(t, 2, table, "--question", "Cu + Ag^+ -> Cu^2+ + Ag")
	if len(rows) != 5 || rows[0][0] != "eve" || rows[0][1] != "6" {
		t.Fatalf("%d rows: %.300q", len(rows), rows)
	}
	for i, want := range []string{
		", row 2: it is too long: a working may have 65536 bytes",
		fmt.Sprintf(", row 3: a row may have 1048576 bytes, and this has more; perhaps a quotation mark is not closed: lines 3 to %d were not marked", 4+maxRow/5),
		", row 4: the name of the student is too long: it may have 200 bytes",
		", row 5: it is no text; save it as plain text (UTF-8)",
	} {
		if got := strings.TrimPrefix(rows[i+1][8], table); got != want {
			t.Errorf("fault %d is %q, want %q", i, got, want)
		}
	}
}
