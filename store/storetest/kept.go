package storetest

import (
	"fmt"
	"slices"
	"strings"
	"testing"
	"time"

	"halves/course"
	"halves/redox"
)

func testEmpty(t *testing.T, s course.Store) {
	ctx := t.Context()
	if got, err := s.Settings(ctx); err != nil || got != (course.Settings{}) {
		t.Errorf("Settings() = %+v, %v, want the zero value", got, err)
	}
	if got := questions(t, s, ""); len(got) != 0 {
		t.Errorf("Questions() = %v, want none", got)
	}
	if got, err := s.Sets(ctx); err != nil || len(got) != 0 {
		t.Errorf("Sets() = %v, %v, want none", got, err)
	}
	if got := history(t, s); len(got) != 0 {
		t.Errorf("History() = %v, want none", got)
	}
	if err := s.ForgetHistory(ctx); err != nil {
		t.Errorf("ForgetHistory() = %v", err)
	}
}

func testSettings(t *testing.T, s course.Store) {
	for _, want := range []course.Settings{
		{Course: "General Chemistry II", Section: "B", Letter: true,
			Conventions: redox.Conventions{By: redox.ByStates, Hydronium: true, Roman: true}},
		{Course: "General Chemistry II", Section: "D"}, // nothing of the first is left
		{Conventions: redox.Conventions{Comma: true}},
		{},
	} {
		must(t, s.SaveSettings(t.Context(), want))
		if got, err := s.Settings(t.Context()); err != nil || got != want {
			t.Errorf("Settings() = %+v, %v, want %+v", got, err, want)
		}
	}
}

func testQuestions(t *testing.T, s course.Store) {
	ctx := t.Context()
	first := save(t, s, course.Question{Text: permanganate, Medium: redox.Acidic, Note: "for the start"})
	second := save(t, s, course.Question{Text: chlorine, Medium: redox.Basic})
	third := save(t, s, course.Question{Text: permanganate, Medium: redox.Acidic, Note: "for the start"}) // as the first: it is kept too
	if got, want := ids(questions(t, s, "")), []int64{third, second, first}; !slices.Equal(got, want) || first == 0 {
		t.Fatalf("Questions() has the IDs %v, want %v, the newest first", got, want)
	}

	q, err := s.Question(ctx, first)
	must(t, err)
	created := q.Created
	if want := (course.Question{ID: first, Text: permanganate, Medium: redox.Acidic, Note: "for the start", Created: created}); q != want {
		t.Errorf("Question(%d) = %+v, want %+v", first, q, want)
	}
	if got := questions(t, s, "")[2]; got != q {
		t.Errorf("Questions() lists %+v, want %+v, as Question has it", got, q)
	}

	// A change keeps the ID, the place in the list and the time.
	q.Text, q.Medium, q.Note, q.Created = copper, redox.Unstated, "", created.Add(time.Hour)
	if id := save(t, s, q); id != first {
		t.Errorf("SaveQuestion of question %d returned the ID %d", first, id)
	}
	q.Created = created
	if got, err := s.Question(ctx, first); err != nil || got != q {
		t.Errorf("Question(%d) after a change = %+v, %v, want %+v", first, got, err, q)
	}
	if got, want := ids(questions(t, s, "")), []int64{third, second, first}; !slices.Equal(got, want) {
		t.Errorf("Questions() after a change has the IDs %v, want %v", got, want)
	}

	must(t, s.DeleteQuestion(ctx, second))
	if got, want := ids(questions(t, s, "")), []int64{third, first}; !slices.Equal(got, want) {
		t.Errorf("Questions() after deleting %d has the IDs %v, want %v", second, got, want)
	}
	must(t, s.DeleteQuestion(ctx, third))
	if id := save(t, s, course.Question{Text: chlorine}); id == second || id == third {
		t.Errorf("a new question got the ID %d of one that was deleted", id)
	}
}

func testSearch(t *testing.T, s course.Store) {
	number := map[int64]int{}
	for i, q := range []course.Question{
		{Text: "MnO4^- + H2C2O4 -> Mn^2+ + CO2", Note: "The first example: decolorizes"},
		{Text: "H2O2 + Cr(OH)4^- -> CrO4^2- + H2O", Note: "Übung für Gruppe B, 50 % of the marks"},
		{Text: "Cl2 -> Cl^- + ClO3^-", Note: "hot base_solution; ΣΟΦΟΣ"},
		{Text: "As2S3 + NO3^- -> H3AsO4 + SO4^2- + NO", Note: `a \ and a "quote" and 'another'`},
	} {
		number[save(t, s, q)] = i + 1
	}
	for _, c := range []struct {
		search string
		want   string // the numbers of those found, from 1, the newest first
	}{
		{"", "4321"},
		{" \t\n", "4321"},
		{"MnO4^-", "1"},
		{"mno4", "1"},
		{"^2+", "1"},
		{"^2-", "42"},
		{"^", "4321"},
		{"+", "4321"},
		{"->", "4321"},
		{"first DECOLORIZES", "1"}, // in any order, each somewhere
		{"decolorizes first", "1"},
		{"co2 example", "1"}, // one in the text, one in the note
		{"first base", ""},
		{"no3^- so4", "4"},
		{"übung", "2"},
		{"ÜBUNG FÜR", "2"},
		{"ubung", ""}, // another letter
		{"σοφος", "3"},
		{"σοφοσ", "3"},
		{"%", "2"}, // stands for itself
		{"_", "3"},
		{"\\", "4"},
		{`"quote"`, "4"},
		{"'another'", "4"},
		{"*", ""},
		{"h2o2 OR cl2", ""}, // a word like any other
		{"(oh)4", "2"},
		{"\xff", ""}, // no text
		{strings.Repeat("a ", 5000), "4321"},
		{strings.Repeat("z", 100_000), ""},
	} {
		var got string
		for _, q := range questions(t, s, c.search) {
			got += fmt.Sprint(number[q.ID])
		}
		if got != c.want {
			t.Errorf("Questions(%.40q) finds %q, want %q", c.search, got, c.want)
		}
	}
}

func testSets(t *testing.T, s course.Store) {
	ctx := t.Context()
	// Spaces and the order of names in the JSON are kept as they are.
	first := course.Set{Title: "Quiz 3", JSON: []byte("{\"b\": 1,  \"a\": [2]}\n"), Count: 6, Version: 4}
	second := course.Set{Title: "Quiz 4", JSON: []byte(`{"a":1}`), Count: 1, Version: 1}
	first.ID, second.ID = saveSet(t, s, first), saveSet(t, s, second)

	list := sets(t, s)
	if got, want := setIDs(list), []int64{second.ID, first.ID}; !slices.Equal(got, want) || first.ID == 0 {
		t.Fatalf("Sets() has the IDs %v, want %v, that changed last first", got, want)
	}
	for i, want := range []course.Set{second, first} {
		got, err := s.Set(ctx, want.ID)
		must(t, err)
		want.Created, want.Changed = got.Created, got.Changed
		if !equal(got, want) {
			t.Errorf("Set(%d) = %+v, want %+v", want.ID, got, want)
		}
		want.JSON = nil
		if !equal(list[i], want) || list[i].JSON != nil {
			t.Errorf("Sets() lists %+v, want %+v", list[i], want)
		}
	}

	// A change comes first, and keeps the ID and the time when the set was made.
	before, err := s.Set(ctx, first.ID)
	must(t, err)
	changed := course.Set{ID: first.ID, Title: "Quiz 3, again", JSON: []byte(`[]`), Count: 5, Version: 2,
		Created: before.Created.Add(time.Hour)}
	if id := saveSet(t, s, changed); id != first.ID {
		t.Errorf("SaveSet of set %d returned the ID %d", first.ID, id)
	}
	got, err := s.Set(ctx, first.ID)
	must(t, err)
	if got.Changed.Before(before.Changed) {
		t.Errorf("Set(%d) changed at %v, before %v", first.ID, got.Changed, before.Changed)
	}
	changed.Created, changed.Changed = before.Created, got.Changed
	if !equal(got, changed) {
		t.Errorf("Set(%d) after a change = %+v, want %+v", first.ID, got, changed)
	}
	if got, want := setIDs(sets(t, s)), []int64{first.ID, second.ID}; !slices.Equal(got, want) {
		t.Errorf("Sets() after a change has the IDs %v, want %v", got, want)
	}

	// The time of the change may be given: the order is by it.
	changed.Changed = before.Changed.Add(-time.Hour)
	saveSet(t, s, changed)
	if got, err := s.Set(ctx, first.ID); err != nil || !equal(got, changed) {
		t.Errorf("Set(%d) after a change of an hour before = %+v, %v, want %+v", first.ID, got, err, changed)
	}
	if got, want := setIDs(sets(t, s)), []int64{second.ID, first.ID}; !slices.Equal(got, want) {
		t.Errorf("Sets() after a change of an hour before has the IDs %v, want %v", got, want)
	}

	must(t, s.DeleteSet(ctx, second.ID))
	if got, want := setIDs(sets(t, s)), []int64{first.ID}; !slices.Equal(got, want) {
		t.Errorf("Sets() after deleting %d has the IDs %v, want %v", second.ID, got, want)
	}
	deleted := second.ID
	second.ID = 0
	if id := saveSet(t, s, second); id == deleted {
		t.Errorf("a new set got the ID %d of one that was deleted", id)
	}
}

func testHistory(t *testing.T, s course.Store) {
	ctx := t.Context()
	at := time.Date(2026, 3, 2, 8, 15, 0, 0, time.UTC)
	for i, w := range []course.Worked{
		{Text: permanganate, Medium: redox.Acidic},
		{Text: chlorine, Medium: redox.Basic},
		{Text: permanganate},                       // another medium: another entry
		{Text: chlorine, Medium: redox.Basic},      // again: to the front, once
		{Text: permanganate, Medium: redox.Acidic}, // again
	} {
		w.At = at.Add(time.Duration(i) * time.Minute)
		must(t, s.Remember(ctx, w))
	}
	got := history(t, s)
	for i := range got {
		got[i].ID = 0
	}
	want := []course.Worked{
		{Text: permanganate, Medium: redox.Acidic, At: at.Add(4 * time.Minute)},
		{Text: chlorine, Medium: redox.Basic, At: at.Add(3 * time.Minute)},
		{Text: permanganate, At: at.Add(2 * time.Minute)},
	}
	if !slices.Equal(got, want) {
		t.Errorf("History() = %+v, want %+v", got, want)
	}

	// The latest is what was remembered last, whatever its time says.
	must(t, s.Remember(ctx, course.Worked{Text: copper, At: at.Add(-time.Hour)}))
	if got := history(t, s); got[0].Text != copper {
		t.Errorf("History() begins with %+v, want what was remembered last", got[0])
	}

	must(t, s.ForgetHistory(ctx))
	if got := history(t, s); len(got) != 0 {
		t.Errorf("History() after ForgetHistory = %v, want none", got)
	}

	const more = course.MaxHistory + 5
	for i := range more {
		must(t, s.Remember(ctx, course.Worked{Text: fmt.Sprint("question ", i)}))
	}
	must(t, s.Remember(ctx, course.Worked{Text: fmt.Sprint("question ", more-course.MaxHistory)})) // the oldest
	got = history(t, s)
	if len(got) != course.MaxHistory {
		t.Fatalf("History() has %d entries, want %d", len(got), course.MaxHistory)
	}
	if got[0].Text != "question 5" || got[1].Text != "question 204" || got[len(got)-1].Text != "question 6" {
		t.Errorf("History() is %q, %q, ..., %q; want question 5, 204, ..., 6", got[0].Text, got[1].Text, got[len(got)-1].Text)
	}
}
