package sqlite_test

import (
	"database/sql"
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"halves/course"
	"halves/redox"
	"halves/store/sqlite"
)

// open opens a store that is closed at the end of the test.
func open(t testing.TB, path string, opts ...sqlite.Option) *sqlite.Store {
	t.Helper()
	s, err := sqlite.Open(path, opts...)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() {
		if err := s.Close(); err != nil {
			t.Error(err)
		}
	})
	return s
}

// closedStore makes a store with something in it.
func closedStore(t *testing.T, path string, opts ...sqlite.Option) {
	t.Helper()
	s := open(t, path, opts...)
	fill(t, s)
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
}

// fill keeps one of each.
func fill(t *testing.T, s *sqlite.Store) {
	t.Helper()
	ctx := t.Context()
	_, errQuestion := s.SaveQuestion(ctx, course.Question{Text: "MnO4^- + H2C2O4 -> Mn^2+ + CO2", Medium: redox.Acidic, Note: "for the start"})
	_, errSet := s.SaveSet(ctx, course.Set{Title: "Quiz 3", JSON: []byte(`{"a": 1}`), Count: 6, Version: 4})
	if err := errors.Join(errQuestion, errSet,
		s.SaveSettings(ctx, course.Settings{Course: "General Chemistry II", Section: "B", Conventions: redox.Conventions{Roman: true}, Letter: true}),
		s.Remember(ctx, course.Worked{Text: "Cl2 -> Cl^- + ClO3^-", Medium: redox.Basic}),
	); err != nil {
		t.Fatal(err)
	}
}

// holdsFill reports a store that does not hold what fill kept, and that alone.
func holdsFill(t *testing.T, s *sqlite.Store) {
	t.Helper()
	ctx := t.Context()
	v, err := s.Settings(ctx)
	if want := (course.Settings{Course: "General Chemistry II", Section: "B", Conventions: redox.Conventions{Roman: true}, Letter: true}); err != nil || v != want {
		t.Errorf("Settings() = %+v, %v, want %+v", v, err, want)
	}
	q, err := s.Questions(ctx, "")
	if err != nil || len(q) != 1 || q[0].Text != "MnO4^- + H2C2O4 -> Mn^2+ + CO2" || q[0].Medium != redox.Acidic || q[0].Note != "for the start" {
		t.Errorf("Questions() = %+v, %v", q, err)
	}
	list, err := s.Sets(ctx)
	if err != nil || len(list) != 1 {
		t.Fatalf("Sets() = %+v, %v", list, err)
	}
	x, err := s.Set(ctx, list[0].ID)
	if err != nil || x.Title != "Quiz 3" || string(x.JSON) != `{"a": 1}` || x.Count != 6 || x.Version != 4 {
		t.Errorf("Set(%d) = %+v, %v", list[0].ID, x, err)
	}
	w, err := s.History(ctx)
	if err != nil || len(w) != 1 || w[0].Text != "Cl2 -> Cl^- + ClO3^-" || w[0].Medium != redox.Basic {
		t.Errorf("History() = %+v, %v", w, err)
	}
	sound(t, s)
}

// sound reports a file that the database finds damaged.
func sound(t *testing.T, s *sqlite.Store) {
	t.Helper()
	_, reader := s.Pools()
	var found string
	if err := reader.QueryRow(`PRAGMA integrity_check`).Scan(&found); err != nil || found != "ok" {
		t.Errorf("PRAGMA integrity_check = %q, %v", found, err)
	}
}

// execute runs a script on the file at path, past the store.
func execute(t *testing.T, path, script string) {
	t.Helper()
	db, err := sql.Open("sqlite", path)
	if err != nil {
		t.Fatal(err)
	}
	_, err = db.Exec(script)
	if err := errors.Join(err, db.Close()); err != nil {
		t.Fatal(err)
	}
}

func write(t *testing.T, path, text string) {
	t.Helper()
	if err := os.WriteFile(path, []byte(text), 0o600); err != nil {
		t.Fatal(err)
	}
}

// names lists the files in a folder.
func names(t *testing.T, folder string) string {
	t.Helper()
	entries, err := os.ReadDir(folder)
	if err != nil {
		t.Fatal(err)
	}
	var out []string
	for _, e := range entries {
		out = append(out, e.Name())
	}
	return strings.Join(out, " ")
}

// contents returns all that is in the files of a folder, by their names; "" where
// there is none.
func contents(folder string) string {
	var out strings.Builder
	entries, _ := os.ReadDir(folder)
	for _, e := range entries {
		text, _ := os.ReadFile(filepath.Join(folder, e.Name()))
		out.WriteString(e.Name() + "\n" + string(text) + "\n")
	}
	return out.String()
}
