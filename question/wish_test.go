package question

import (
	"errors"
	"fmt"
	"slices"
	"strings"
	"testing"
)

// TestReadWish reads a wish with a line of each kind.
func TestReadWish(t *testing.T) {
	w, err := ReadWish([]byte(`# what next week needs
title: Week 7
questions: 12
versions: 4
want: [water-twice, base]
avoid: complex
media:
  - acidic
  - basic
difficulty: 2-6.5
only: ["MnO4^-", "Mn^2+", "CO2", H2C2O4]
order: stepwise
shuffle: false
seed: 18446744073709551615
`))
	if err != nil {
		t.Fatal(err)
	}
	if w.Title != "Week 7" || w.Questions != 12 || w.Versions != 4 || w.Want != WaterTwice|InBase || w.Avoid != Complex ||
		w.Least != 20 || w.Most != 65 || len(w.Only) != 4 || w.Order != Stepwise || w.Shuffle || w.Seed != 1<<64-1 || len(w.Media) != 2 {
		t.Errorf("%+v", w)
	}
}

// TestKeys: what a line gives it takes again.
func TestKeys(t *testing.T) {
	w := NewWish()
	for _, k := range Keys() {
		if k.Help == "" || strings.HasSuffix(k.Help, ".") {
			t.Errorf("%s: help %q", k.Name, k.Help)
		}
		v := k.Get(&w)
		if err := k.Set(&w, v); err != nil {
			t.Errorf("%s does not take %q: %v", k.Name, v, err)
		}
		if got := k.Get(&w); !slices.Equal(got, v) {
			t.Errorf("%s is %q after it was set to %q", k.Name, got, v)
		}
	}
}

// TestBadWish: the text between « and » is where the error must point; both marks
// are taken out before reading.
func TestBadWish(t *testing.T) {
	for _, test := range []struct{ text, want, hint string }{
		{"«qestions»: 10", `no line of a wish is called "qestions"`, "did you mean questions?"},
		{"questions: «many»", `questions cannot be "many"`, "from 1 to 200"},
		{"questions: «0»", `questions cannot be "0"`, "from 1 to 200"},
		{"title: x\nwant: [water, «watr»]", `no feature is called "watr"`, "did you mean water?"},
		{"media: [acidic, «acrid»]", `no medium is called "acrid"`, "acidic"},
		{"order: «riseing»", `"riseing"`, "did you mean rising?"},
		{"difficulty: «6-2»", `difficulty cannot be "6-2"`, "the easier end first"},
		{"difficulty: «0-11»", `difficulty cannot be "0-11"`, "1 to 10"},
		{"ask: [balance, «ballance»]", `no thing to ask is called "ballance"`, "did you mean balance?"},
		{"only: [\"MnO4^-\", «Mn5Qq»]", `only cannot be "Mn5Qq"`, "write formulas"},
		{"questions: 5\n«questions»: 6", "already defined", ""},
		{"shuffle: «maybe»", `shuffle cannot be "maybe"`, "true or false"},
		{"seed: «-1»", "seed cannot be", "whole number"},
		{"title: «{a: b}»", "has no value that can be read", ""},
		{"«- questions»", "this is no wish", "questions: 10"},
	} {
		before, _, _ := strings.Cut(test.text, "«")
		text := strings.NewReplacer("«", "", "»", "").Replace(test.text)
		line := strings.Count(before, "\n") + 1
		column := len([]rune(before[strings.LastIndexByte(before, '\n')+1:])) + 1
		_, err := ReadWish([]byte(text))
		var e *FileError
		if !errors.As(err, &e) || !strings.Contains(err.Error(), test.want) || e.Line != line || e.Column != column || !strings.Contains(e.Hint(), test.hint) {
			t.Errorf("%q: %v (hint %q), want %q at line %d, column %d, hint %q", text, err, hintOf(err), test.want, line, column, test.hint)
		}
	}
	for _, text := range []string{"\xff\xfe", strings.Repeat("#", MaxWish+1), "a: [", "title: \"x", "? [a]: b"} {
		if _, err := ReadWish([]byte(text)); err == nil {
			t.Errorf("%.20q is read", text)
		}
	}
}

func hintOf(err error) string {
	var e *FileError
	if errors.As(err, &e) {
		return e.Hint()
	}
	return fmt.Sprint(err)
}

func FuzzReadWish(f *testing.F) {
	f.Add("title: Week 7\nquestions: 12\nwant: [water-twice, base]\n")
	f.Add("media:\n  - acidic\n  - none\ndifficulty: 2-6\nonly: [\"MnO4^-\"]\n")
	f.Add("? a\n: b")
	f.Fuzz(func(t *testing.T, text string) {
		w, err := ReadWish([]byte(text))
		if err == nil && (w.Questions < 1 || w.Questions > MostQuestions || w.Versions < 1 || w.Versions > MostVersions || w.Least > w.Most || len(w.Media) == 0 || len(w.Ask) == 0) {
			t.Errorf("%q is read as %+v", text, w)
		}
	})
}

func FuzzReadSet(f *testing.F) {
	f.Add(`{"format":"halves-set","edition":1,"code":"AAAAA","wish":{"questions":"1"},"versions":[{"letter":"A","code":"x","items":[{"number":1,"slot":1,"id":"x","question":"Cu + Ag^+ -> Cu^2+ + Ag","medium":"neutral","ask":"balance","worth":6,"difficulty":1.6,"features":[],"answer":"x -> y","options":[{"text":"Cu + 2 Ag^+ -> Cu^2+ + 2 Ag","right":true},{"text":"Cu + Ag^+ -> Cu^2+ + Ag","kind":"sum-slip","shows":"x"}]}]}]}`)
	f.Add(`{"format":"halves-set","edition":1,"versions":[{"items":[{"question":"Cl2 -> Cl^- + ClO3^-","medium":"basic","ask":"error","working":{"lines":["Cl2 -> Cl^-"]}}]}]}`)
	f.Add(`{"format":"halves-set","edition":1,"versions":[]}`)
	f.Fuzz(func(t *testing.T, text string) {
		s, err := ReadSet([]byte(text), nil)
		if err != nil {
			return
		}
		if b, err := s.MarshalJSON(); err != nil || len(b) == 0 {
			t.Errorf("%q is read and cannot be written: %v", text, err)
		}
	})
}

func FuzzReadOwn(f *testing.F) {
	f.Add("MnO4^- + Fe^2+ -> Mn^2+ + Fe^3+, in acid\n# x\n")
	f.Add("Cl2 -> Cl^- + ClO3^-, in base\r\n\ufeff")
	f.Fuzz(func(t *testing.T, text string) {
		all, faults := ReadOwn("own", []byte(text))
		for _, q := range all {
			if q.Text == "" || q.Difficulty < Easiest || q.Difficulty > Hardest {
				t.Errorf("%q gives %+v", text, q)
			}
			again, err := New("x", q.Text, q.Medium)
			if err != nil || again.Answer().String() != q.Answer().String() {
				t.Errorf("%q is kept as %q, which gives %v", text, q.Text, err)
			}
		}
		for _, e := range faults {
			if e.Msg == "" {
				t.Errorf("%q: an empty fault", text)
			}
		}
	})
}
