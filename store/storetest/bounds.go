package storetest

import (
	"errors"
	"slices"
	"strings"
	"testing"
	"time"

	"halves/course"
)

func testNotFound(t *testing.T, s course.Store) {
	ctx := t.Context()
	kept := save(t, s, course.Question{Text: copper})
	keptSet := saveSet(t, s, course.Set{Title: "Quiz 3", JSON: []byte("{}")})
	for _, id := range []int64{-1, kept + 1, 1 << 62} {
		_, err := s.Question(ctx, id)
		_, errSave := s.SaveQuestion(ctx, course.Question{ID: id, Text: copper})
		_, errSet := s.Set(ctx, id)
		_, errSaveSet := s.SaveSet(ctx, course.Set{ID: id, Title: "Quiz 3", JSON: []byte("{}")})
		for _, c := range []struct {
			call, what string
			err        error
		}{
			{"Question", "question", err},
			{"SaveQuestion", "question", errSave},
			{"DeleteQuestion", "question", s.DeleteQuestion(ctx, id)},
			{"Set", "set", errSet},
			{"SaveSet", "set", errSaveSet},
			{"DeleteSet", "set", s.DeleteSet(ctx, id)},
		} {
			var e *course.NotFoundError
			if !errors.As(c.err, &e) || *e != (course.NotFoundError{What: c.what, ID: id}) {
				t.Errorf("%s(%d) = %v, want a *NotFoundError of %s %d", c.call, id, c.err, c.what, id)
			}
		}
	}
	for _, c := range []struct {
		call string
		err  error
	}{
		{"Question(0)", second(s.Question(ctx, 0))},
		{"DeleteQuestion(0)", s.DeleteQuestion(ctx, 0)},
		{"Set(0)", second(s.Set(ctx, 0))},
		{"DeleteSet(0)", s.DeleteSet(ctx, 0)},
	} {
		if e := (*course.NotFoundError)(nil); !errors.As(c.err, &e) {
			t.Errorf("%s = %v, want a *NotFoundError", c.call, c.err)
		}
	}
	if got := ids(questions(t, s, "")); !slices.Equal(got, []int64{kept}) {
		t.Errorf("Questions() has the IDs %v, want %v alone", got, kept)
	}
	if got := setIDs(sets(t, s)); !slices.Equal(got, []int64{keptSet}) {
		t.Errorf("Sets() has the IDs %v, want %v alone", got, keptSet)
	}
}

// What Check refuses is refused by the store too, and changes nothing.
func testInvalid(t *testing.T, s course.Store) {
	ctx := t.Context()
	id := save(t, s, course.Question{Text: copper})
	setID := saveSet(t, s, course.Set{Title: "Quiz 3", JSON: []byte("{}")})
	must(t, s.SaveSettings(ctx, course.Settings{Course: "General Chemistry II"}))
	must(t, s.Remember(ctx, course.Worked{Text: copper}))
	_, errNew := s.SaveQuestion(ctx, course.Question{Text: " "})
	_, errChange := s.SaveQuestion(ctx, course.Question{ID: id, Text: strings.Repeat("x", course.MaxQuestion+1)})
	_, errGone := s.SaveQuestion(ctx, course.Question{ID: id + 1, Text: ""})
	_, errZero := s.SaveQuestion(ctx, course.Question{Text: "Cu\x00"})
	_, errMedium := s.SaveQuestion(ctx, course.Question{Text: copper, Medium: "sour"})
	_, errSet := s.SaveSet(ctx, course.Set{ID: setID, Title: "", JSON: []byte("{}")})
	for _, c := range []struct {
		call string
		err  error
	}{
		{"SaveQuestion, empty", errNew},
		{"SaveQuestion, too long", errChange},
		{"SaveQuestion, empty and not there", errGone},
		{"SaveQuestion, a character 0", errZero},
		{"SaveQuestion, no such medium", errMedium},
		{"SaveSet, no title", errSet},
		{"SaveSettings", s.SaveSettings(ctx, course.Settings{Course: "two\nlines"})},
		{"Remember", s.Remember(ctx, course.Worked{})},
	} {
		if e := (*course.InvalidError)(nil); !errors.As(c.err, &e) {
			t.Errorf("%s = %v, want an *InvalidError", c.call, c.err)
		}
	}
	if got := questions(t, s, ""); len(got) != 1 || got[0].Text != copper {
		t.Errorf("Questions() = %+v, want the first alone", got)
	}
	if got, err := s.Set(ctx, setID); err != nil || got.Title != "Quiz 3" {
		t.Errorf("Set(%d) = %+v, %v, want it as it was", setID, got, err)
	}
	if got, err := s.Settings(ctx); err != nil || got.Course != "General Chemistry II" {
		t.Errorf("Settings() = %+v, %v, want them as they were", got, err)
	}
	if got := history(t, s); len(got) != 1 {
		t.Errorf("History() = %+v, want one entry", got)
	}
}

// Text is kept to the byte.
func testAnyText(t *testing.T, s course.Store) {
	ctx := t.Context()
	for _, text := range []string{
		"MnO₄⁻ + H₂C₂O₄ ⟶ Mn²⁺ + CO₂",
		"Ü Å ﬁ \u0041\u030a 例 ع \U0001F9EA", // Å twice: as one character and as two
		" spaces at both ends ",
		"tab\tand\r\nlines\n",
		`quotes ' " \ % _ ; -- /* $1 ? :a @b`,
		"\ufeff\u200b\u202e",
		"NULL",
		"0012",
	} {
		q := course.Question{Text: text, Note: text}
		q.ID = save(t, s, q)
		got, err := s.Question(ctx, q.ID)
		must(t, err)
		if got.Text != text || got.Note != text {
			t.Errorf("question %q came back as %q, note %q", text, got.Text, got.Note)
		}
		must(t, s.Remember(ctx, course.Worked{Text: text}))
		if got := history(t, s)[0].Text; got != text {
			t.Errorf("worked %q came back as %q", text, got)
		}
		x := course.Set{Title: strings.Map(oneLine, text), JSON: []byte(text)}
		x.ID = saveSet(t, s, x)
		gotSet, err := s.Set(ctx, x.ID)
		must(t, err)
		if gotSet.Title != x.Title || string(gotSet.JSON) != text {
			t.Errorf("set %q came back as %q, %q", x.Title, gotSet.Title, gotSet.JSON)
		}
		v := course.Settings{Course: x.Title, Section: x.Title}
		must(t, s.SaveSettings(ctx, v))
		if got, err := s.Settings(ctx); err != nil || got != v {
			t.Errorf("settings %+v came back as %+v, %v", v, got, err)
		}
	}
}

func oneLine(r rune) rune {
	if r == '\n' || r == '\r' {
		return ' '
	}
	return r
}

// What Check lets through is kept, at the bounds too.
func testLargest(t *testing.T, s course.Store) {
	ctx := t.Context()
	q := course.Question{Text: strings.Repeat("x", course.MaxQuestion), Note: strings.Repeat("é", course.MaxNote/2)}
	got, err := s.Question(ctx, save(t, s, q))
	must(t, err)
	if got.Text != q.Text || got.Note != q.Note {
		t.Error("the longest question came back changed")
	}
	must(t, s.Remember(ctx, course.Worked{Text: q.Text}))
	if got := history(t, s); got[0].Text != q.Text {
		t.Error("the longest question that was worked came back changed")
	}
	x := course.Set{Title: strings.Repeat("例", course.MaxName), JSON: []byte(strings.Repeat("0123456789abcdef", course.MaxSet/16)),
		Count: 1 << 30, Version: 26}
	gotSet, err := s.Set(ctx, saveSet(t, s, x))
	must(t, err)
	if gotSet.Title != x.Title || string(gotSet.JSON) != string(x.JSON) || gotSet.Count != x.Count || gotSet.Version != x.Version {
		t.Error("the largest set came back changed")
	}
}

// Times are in UTC, to the millisecond; a time that is not given is that of the
// act.
func testTimes(t *testing.T, s course.Store) {
	ctx := t.Context()
	zone := time.FixedZone("five hours east", 5*60*60)
	at := time.Date(2026, 3, 2, 1, 15, 30, 123_999_999, zone)
	want := time.Date(2026, 3, 1, 20, 15, 30, 123_000_000, time.UTC)
	q, err := s.Question(ctx, save(t, s, course.Question{Text: copper, Created: at}))
	must(t, err)
	if q.Created != want {
		t.Errorf("a question created at %v came back with %v, want %v", at, q.Created, want)
	}
	x, err := s.Set(ctx, saveSet(t, s, course.Set{Title: "Quiz 3", JSON: []byte("{}"), Created: at}))
	must(t, err)
	if x.Created != want {
		t.Errorf("a set created at %v came back with %v, want %v", at, x.Created, want)
	}
	must(t, s.Remember(ctx, course.Worked{Text: copper, At: at}))
	if w := history(t, s)[0]; w.At != want {
		t.Errorf("worked at %v came back with %v, want %v", at, w.At, want)
	}

	old := save(t, s, course.Question{Text: "an older one", Created: want.AddDate(-60, 0, 0)}) // before 1970
	if list := questions(t, s, ""); list[len(list)-1].ID != old || list[len(list)-1].Created != want.AddDate(-60, 0, 0) {
		t.Errorf("Questions() ends with %+v, want the one of 60 years before", list[len(list)-1])
	}

	before := time.Now().Truncate(time.Millisecond)
	q, err = s.Question(ctx, save(t, s, course.Question{Text: copper}))
	must(t, err)
	x, err = s.Set(ctx, saveSet(t, s, course.Set{Title: "Quiz 4", JSON: []byte("{}")}))
	must(t, err)
	must(t, s.Remember(ctx, course.Worked{Text: chlorine}))
	w := history(t, s)[0]
	after := time.Now()
	for what, at := range map[string]time.Time{"question": q.Created, "set": x.Created, "change of the set": x.Changed, "worked": w.At} {
		if at.Before(before) || at.After(after) || at.Location() != time.UTC {
			t.Errorf("%s has the time %v, want one in UTC from %v to %v", what, at, before, after)
		}
	}
}
