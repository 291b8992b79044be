package sqlite_test

import (
	"context"
	"database/sql"
	"errors"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"
	"time"

	"halves/course"
	"halves/store/sqlite"
)

// Where there is no room the error says so, all that was acknowledged stays, and
// the store goes on. The room is that of some pages here; what a disk itself does
// is in TestFullDisk.
func TestFull(t *testing.T) {
	ctx := t.Context()
	path := filepath.Join(t.TempDir(), "course.db")
	s := open(t, path, sqlite.Pragmas("max_page_count(40)"))
	fill(t, s)
	saved := untilFull(t, s)
	for call, err := range map[string]error{
		"SaveSet":  second(s.SaveSet(ctx, course.Set{ID: 1, Title: "Quiz 9", JSON: []byte(strings.Repeat("x", 1<<20))})),
		"Remember": s.Remember(ctx, course.Worked{Text: long}),
	} {
		if !errors.Is(err, course.ErrFull) {
			t.Errorf("%s in a full store = %v, want course.ErrFull", call, err)
		}
	}
	hasAll(t, s, saved)
	if x, err := s.Set(ctx, 1); err != nil || x.Title != "Quiz 3" {
		t.Errorf("Set(1) = %+v, %v, want it as it was", x, err)
	}
	if w, err := s.History(ctx); err != nil || len(w) != 1 {
		t.Errorf("History() = %+v, %v, want it as it was", w, err)
	}

	// Room that is made can be used.
	if err := s.DeleteQuestion(ctx, saved[0]); err != nil {
		t.Error(err)
	}
	if _, err := s.SaveQuestion(ctx, course.Question{Text: long}); err != nil {
		t.Error(err)
	}
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
	s = open(t, path)
	hasAll(t, s, saved[1:])
	if _, err := s.SaveQuestion(ctx, course.Question{Text: long, Note: long}); err != nil {
		t.Error(err)
	}
}

var long = strings.Repeat("x", course.MaxQuestion)

// untilFull saves questions until there is no room, and returns their IDs.
func untilFull(t *testing.T, s *sqlite.Store) (saved []int64) {
	t.Helper()
	for range 10_000 {
		id, err := s.SaveQuestion(t.Context(), course.Question{Text: long})
		if err != nil {
			if !errors.Is(err, course.ErrFull) {
				t.Fatalf("SaveQuestion in a full store = %v, want course.ErrFull", err)
			}
			if len(saved) == 0 {
				t.Fatal("there was no room from the beginning")
			}
			return saved
		}
		saved = append(saved, id)
	}
	t.Fatal("there is room without end")
	return nil
}

// hasAll reports questions of untilFull that are not there.
func hasAll(t *testing.T, s *sqlite.Store, saved []int64) {
	t.Helper()
	for _, id := range saved {
		if q, err := s.Question(t.Context(), id); err != nil || q.Text != long {
			t.Errorf("Question(%d), acknowledged before, = %.20q, %v", id, q.Text, err)
		}
	}
	sound(t, s)
}

func second[T any](_ T, err error) error { return err }

// Where another program holds the data the wait has an end; who reads does not
// wait at all.
func TestBusy(t *testing.T) {
	path := filepath.Join(t.TempDir(), "course.db")
	s := open(t, path, sqlite.BusyTimeout(20*time.Millisecond))
	fill(t, s)
	release := hold(t, path, "")
	_, errQuestion := s.SaveQuestion(t.Context(), course.Question{Text: "Cu + NO3^- -> Cu^2+ + NO"})
	for call, err := range map[string]error{
		"SaveQuestion":  errQuestion,
		"DeleteSet":     s.DeleteSet(t.Context(), 1),
		"ForgetHistory": s.ForgetHistory(t.Context()),
	} {
		if !errors.Is(err, course.ErrBusy) {
			t.Errorf("%s while another writes = %v, want course.ErrBusy", call, err)
		}
	}
	holdsFill(t, s)
	if err := s.Backup(t.Context(), filepath.Join(t.TempDir(), "backup")); err != nil {
		t.Errorf("Backup while another writes = %v", err)
	}
	release()
	if err := s.DeleteSet(t.Context(), 1); err != nil {
		t.Error(err)
	}
}

// Who gives up need not wait for the end of that.
func TestBusyCancelled(t *testing.T) {
	path := filepath.Join(t.TempDir(), "course.db")
	s := open(t, path, sqlite.BusyTimeout(time.Hour))
	defer hold(t, path, "")()
	ctx, cancel := context.WithTimeout(t.Context(), 20*time.Millisecond)
	defer cancel()
	if _, err := s.SaveQuestion(ctx, course.Question{Text: long}); !errors.Is(err, context.DeadlineExceeded) {
		t.Errorf("SaveQuestion with 20 ms while another writes = %v, want context.DeadlineExceeded", err)
	}
}

func TestOpenBusy(t *testing.T) {
	path := filepath.Join(t.TempDir(), "course.db")
	closedStore(t, path)
	release := hold(t, path, "PRAGMA locking_mode = exclusive")
	if _, err := sqlite.Open(path, sqlite.BusyTimeout(20*time.Millisecond)); !errors.Is(err, course.ErrBusy) {
		t.Errorf("Open while another holds the file = %v, want course.ErrBusy", err)
	}
	release()
	holdsFill(t, open(t, path))
}

// hold holds the file at path, as another program does, until it is released.
func hold(t *testing.T, path, pragma string) (release func()) {
	t.Helper()
	db, err := sql.Open("sqlite", path)
	if err != nil {
		t.Fatal(err)
	}
	db.SetMaxOpenConns(1)
	for _, statement := range []string{pragma, "BEGIN IMMEDIATE"} {
		if _, err := db.Exec(statement); err != nil {
			t.Fatal(err)
		}
	}
	return func() {
		if err := db.Close(); err != nil {
			t.Error(err)
		}
	}
}

// Where the file was taken away no empty one is made in its place.
func TestGone(t *testing.T) {
	if runtime.GOOS == "windows" {
		t.Skip("a file that is open cannot be taken away there")
	}
	folder := t.TempDir()
	path := filepath.Join(folder, "course.db")
	s := open(t, path)
	fill(t, s)
	for _, end := range []string{"", "-wal", "-shm"} {
		if err := os.Remove(path + end); err != nil {
			t.Fatal(err)
		}
	}
	if err := s.Backup(t.Context(), filepath.Join(t.TempDir(), "backup")); err == nil {
		t.Error("Backup of a store whose file is gone returned no error")
	}
	if got := names(t, folder); got != "" {
		t.Errorf("in the place of the file are %s", got)
	}
}

// Damage that is found while the store is open says what it is.
func TestDamaged(t *testing.T) {
	path := filepath.Join(t.TempDir(), "course.db")
	closedStore(t, path)
	spoil(t, path)
	s := open(t, path)
	if _, err := s.Questions(t.Context(), ""); !errors.Is(err, sqlite.ErrDamaged) {
		t.Errorf("Questions() of a damaged file = %v, want %v", err, sqlite.ErrDamaged)
	}
}
