package exchange_test

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"os"
	"strconv"
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"

	"halves/energetics"
	"halves/exchange"
	"halves/qti"
	"halves/question"
	"halves/redox"
)

// made is a set by a wish.
func made(t *testing.T, change func(*question.Wish)) (*question.Set, []*question.Version) {
	t.Helper()
	w := question.NewWish()
	w.Title = "Week 7"
	w.Questions = 6
	change(&w)
	s, err := question.Make(w, question.NewPool(energetics.Shipped()), nil)
	if err != nil {
		t.Fatal(err)
	}
	var versions []*question.Version
	for i := range s.Versions {
		versions = append(versions, &s.Versions[i])
	}
	return s, versions
}

// TestPackage hands on what has a form in QTI, with its marks, and counts the rest.
func TestPackage(t *testing.T) {
	for _, test := range []struct {
		name          string
		change        func(*question.Wish)
		choices, gaps int // items of each form
		left          int
		title         string
	}{
		{"balance", func(w *question.Wish) {}, 0, 6, 0, "Week 7"},
		{"versions", func(w *question.Wish) { w.Versions = 2 }, 0, 6, 0, "Week 7, version A"},
		{"choices", func(w *question.Wish) { w.Choices = 4; w.Ask = []question.Ask{question.Electrons} }, 6, 0, 0, "Week 7"},
		{"split alone", func(w *question.Wish) { w.Ask = []question.Ask{question.Split} }, 0, 0, 6, "Week 7"},
		{"in turn", func(w *question.Wish) { w.Ask = []question.Ask{question.Balance, question.Split} }, 0, 3, 3, "Week 7"},
	} {
		s, versions := made(t, test.change)
		set, left := exchange.Package(s, versions[0], redox.Conventions{})
		if left != test.left || set.Title != test.title || set.ID != "halves-"+versions[0].Code {
			t.Errorf("%s: %d left out, title %q, id %q", test.name, left, set.Title, set.ID)
		}
		choices, gaps := 0, 0
		for _, item := range set.Items {
			if item.Choices != nil {
				choices++
			}
			if item.Line != nil {
				gaps++
			}
			if item.Worth < 1 || len(item.Stem) == 0 {
				t.Errorf("%s: %s is worth %d, with %d paragraphs", test.name, item.ID, item.Worth, len(item.Stem))
			}
		}
		if choices != test.choices || gaps != test.gaps {
			t.Errorf("%s: %d with choices, %d with gaps; want %d and %d", test.name, choices, gaps, test.choices, test.gaps)
		}
		if len(set.Items) == 0 {
			continue
		}
		var b bytes.Buffer
		if err := qti.Write22(&b, set); err != nil || b.Len() == 0 {
			t.Errorf("%s: %v", test.name, err)
		}
	}
}

// TestRows holds the table against the set: one row a question, with what is right.
func TestRows(t *testing.T) {
	_, versions := made(t, func(w *question.Wish) {
		w.Versions, w.Choices, w.Ask = 2, 4, []question.Ask{question.Electrons, question.Balance}
	})
	rows := exchange.Rows(versions)
	if len(rows) != 13 {
		t.Fatalf("%d rows, want a head and 12", len(rows))
	}
	column := map[string]int{}
	for i, name := range rows[0] {
		column[name] = i
	}
	n := 1
	for _, v := range versions {
		for _, x := range v.Items {
			row := rows[n]
			n++
			for name, want := range map[string]string{"version": v.Letter, "number": strconv.Itoa(x.Number), "question": x.Question.Text, "answer": x.Question.Answer().String(), "check code": v.Code} {
				if got := row[column[name]]; got != want {
					t.Errorf("row %d: %s is %q, want %q", n, name, got, want)
				}
			}
			if letter := row[column["right option"]]; x.Options != nil && !x.Options[letter[0]-'A'].Right {
				t.Errorf("row %d: %s is not right", n, letter)
			}
		}
	}
	var b bytes.Buffer
	if err := exchange.CSV(&b, rows); err != nil {
		t.Fatal(err)
	}
	back, err := csv.NewReader(&b).ReadAll()
	if err != nil || fmt.Sprint(back) != fmt.Sprint(rows) {
		t.Errorf("the table is not read back: %v", err)
	}
}

// TestBook holds that a workbook has the table, and numbers as numbers.
func TestBook(t *testing.T) {
	_, versions := made(t, func(*question.Wish) {})
	rows := exchange.Rows(versions)
	var b bytes.Buffer
	if err := exchange.Book(&b, rows); err != nil {
		t.Fatal(err)
	}
	book, err := excelize.OpenReader(&b)
	if err != nil {
		t.Fatal(err)
	}
	defer book.Close()
	back, err := book.GetRows("Questions")
	if err != nil || len(back) != len(rows) {
		t.Fatalf("%d rows, %v", len(back), err)
	}
	for i, row := range rows {
		if got, want := strings.Join(back[i], "|"), strings.TrimRight(strings.Join(row, "|"), "|"); got != want {
			t.Errorf("row %d: %q, want %q", i+1, got, want)
		}
	}
	// The number of a question is a number, its text is a text.
	for cell, want := range map[string]excelize.CellType{"B2": excelize.CellTypeUnset, "D2": excelize.CellTypeSharedString} {
		if kind, err := book.GetCellType("Questions", cell); err != nil || kind != want {
			t.Errorf("%s has the type %v, want %v; %v", cell, kind, want, err)
		}
	}
}

func ExampleCSV() {
	q, err := question.New("1", "Zn + Cu^2+ -> Zn^2+ + Cu", redox.Neutral)
	if err != nil {
		panic(err)
	}
	s, _, err := question.Collect(question.NewWish(), []*question.Question{q})
	if err != nil {
		panic(err)
	}
	rows := exchange.Rows([]*question.Version{&s.Versions[0]})
	for i := range rows {
		rows[i] = rows[i][:6]
	}
	if err := exchange.CSV(os.Stdout, rows); err != nil {
		panic(err)
	}
	// Output:
	// version,number,row,question,medium,ask
	// A,1,1,Zn + Cu^2+ -> Zn^2+ + Cu,neutral,balance
}
