package storetest

import (
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"sync"
	"sync/atomic"
	"testing"

	"halves/course"
	"halves/redox"
)

// A method whose context is done returns the error of the context and changes
// nothing.
func testCancelled(t *testing.T, s course.Store) {
	ctx := t.Context()
	id := save(t, s, course.Question{Text: copper})
	setID := saveSet(t, s, course.Set{Title: "Quiz 3", JSON: []byte("{}")})
	must(t, s.Remember(ctx, course.Worked{Text: copper}))

	done, cancel := context.WithCancel(ctx)
	cancel()
	backup := t.TempDir() + "/backup"
	for call, err := range map[string]error{
		"Settings":       second(s.Settings(done)),
		"SaveSettings":   s.SaveSettings(done, course.Settings{Course: "General Chemistry II"}),
		"Questions":      second(s.Questions(done, "")),
		"Question":       second(s.Question(done, id)),
		"SaveQuestion":   second(s.SaveQuestion(done, course.Question{ID: id, Text: chlorine})),
		"DeleteQuestion": s.DeleteQuestion(done, id),
		"Sets":           second(s.Sets(done)),
		"Set":            second(s.Set(done, setID)),
		"SaveSet":        second(s.SaveSet(done, course.Set{Title: "Quiz 4", JSON: []byte("{}")})),
		"DeleteSet":      s.DeleteSet(done, setID),
		"History":        second(s.History(done)),
		"Remember":       s.Remember(done, course.Worked{Text: chlorine}),
		"ForgetHistory":  s.ForgetHistory(done),
		"Backup":         s.Backup(done, backup),
	} {
		if !errors.Is(err, context.Canceled) {
			t.Errorf("%s with a context that is done = %v, want context.Canceled", call, err)
		}
	}
	if got := questions(t, s, ""); len(got) != 1 || got[0].Text != copper {
		t.Errorf("Questions() = %+v, want them as they were", got)
	}
	if got := sets(t, s); len(got) != 1 {
		t.Errorf("Sets() = %+v, want them as they were", got)
	}
	if got := history(t, s); len(got) != 1 || got[0].Text != copper {
		t.Errorf("History() = %+v, want it as it was", got)
	}
	if got, err := s.Settings(ctx); err != nil || got != (course.Settings{}) {
		t.Errorf("Settings() = %+v, %v, want them as they were", got, err)
	}
}

// A closed store returns errors, and may be closed again.
func testClosed(t *testing.T, s course.Store) {
	ctx := t.Context()
	must(t, s.Close())
	for call, err := range map[string]error{
		"Settings":     second(s.Settings(ctx)),
		"Questions":    second(s.Questions(ctx, "")),
		"SaveQuestion": second(s.SaveQuestion(ctx, course.Question{Text: copper})),
		"History":      second(s.History(ctx)),
		"Backup":       s.Backup(ctx, t.TempDir()+"/backup"),
	} {
		if err == nil {
			t.Errorf("%s of a closed store returned no error", call)
		}
	}
	if err := s.Close(); err != nil {
		t.Errorf("the second Close() = %v", err)
	}
}

// Several write and read at once: nobody sees half an act, everybody sees what he
// has saved himself, and nothing is lost.
func testAtOnce(t *testing.T, s course.Store) {
	const writers, rounds = 4, 20
	ctx := t.Context()
	for i := range course.MaxHistory { // so that each act drops an entry
		must(t, s.Remember(ctx, course.Worked{Text: fmt.Sprint("question ", i)}))
	}
	shared := saveSet(t, s, course.Set{Title: "0", JSON: []byte("0")})

	var write, read sync.WaitGroup
	var written atomic.Bool
	for w := range writers {
		write.Go(func() {
			for i := range rounds {
				text := fmt.Sprintf("writer %d, round %d", w, i)
				id, err := s.SaveQuestion(ctx, course.Question{Text: text})
				if err != nil {
					t.Error(err)
					return
				}
				if q, err := s.Question(ctx, id); err != nil || q.Text != text {
					t.Errorf("Question(%d), just saved as %q = %+v, %v", id, text, q, err)
				}
				_, errSet := s.SaveSet(ctx, course.Set{ID: shared, Title: text, JSON: []byte(text)})
				if err := errors.Join(errSet, s.Remember(ctx, course.Worked{Text: text})); err != nil {
					t.Error(err)
				}
			}
		})
	}
	for range writers {
		read.Go(func() {
			for n := 0; !written.Load(); {
				list, err := s.Questions(ctx, "")
				if err != nil || len(list) < n {
					t.Errorf("Questions() has %d after %d, %v", len(list), n, err)
				}
				n = len(list)
				if x, err := s.Set(ctx, shared); err != nil || x.Title != string(x.JSON) {
					t.Errorf("Set(%d) has the title %q and the JSON %q, %v: two acts", shared, x.Title, x.JSON, err)
				}
				lately, err := s.History(ctx)
				seen := map[string]bool{}
				for _, w := range lately {
					seen[w.Text] = true
				}
				if err != nil || len(lately) != course.MaxHistory || len(seen) != len(lately) {
					t.Errorf("History() has %d entries, %d of them different, %v; want %d", len(lately), len(seen), err, course.MaxHistory)
				}
				if t.Failed() {
					return
				}
			}
		})
	}
	write.Wait()
	written.Store(true)
	read.Wait()
	if got := len(questions(t, s, "")); got != writers*rounds {
		t.Errorf("%d questions are kept, want %d", got, writers*rounds)
	}
}

// A backup holds all, may be written over, and is a store of its own.
func testBackup(t *testing.T, s course.Store, restore func(*testing.T, string) course.Store) {
	ctx := t.Context()
	path := filepath.Join(t.TempDir(), "50 % of it? #2.backup")
	must(t, s.SaveSettings(ctx, course.Settings{Course: "General Chemistry II", Section: "B", Conventions: redox.Conventions{Ones: true}}))
	id := save(t, s, course.Question{Text: permanganate, Medium: redox.Acidic, Note: "for the start"})
	saveSet(t, s, course.Set{Title: "Quiz 3", JSON: []byte(`{"a": 1}`), Count: 6, Version: 4})
	must(t, s.Remember(ctx, course.Worked{Text: chlorine, Medium: redox.Basic}))
	must(t, s.Backup(ctx, path))
	same(t, restore(t, path), s)

	must(t, s.DeleteQuestion(ctx, id))
	next := save(t, s, course.Question{Text: copper})
	must(t, s.Backup(ctx, path))
	copied := restore(t, path)
	same(t, copied, s)
	if files, err := os.ReadDir(filepath.Dir(path)); err != nil || len(files) != 1 {
		t.Errorf("beside the backup are %v, %v, want it alone", files, err)
	}

	must(t, copied.DeleteQuestion(ctx, next))
	if got := ids(questions(t, s, "")); !slices.Equal(got, []int64{next}) {
		t.Errorf("after a change of the restored store the first has the questions %v, want %v", got, next)
	}
}

// same compares all that two stores hold.
func same(t *testing.T, got, want course.Store) {
	t.Helper()
	ctx := t.Context()
	gotSettings, err := got.Settings(ctx)
	must(t, err)
	wantSettings, err := want.Settings(ctx)
	must(t, err)
	if gotSettings != wantSettings {
		t.Errorf("settings %+v, want %+v", gotSettings, wantSettings)
	}
	if g, w := questions(t, got, ""), questions(t, want, ""); !slices.Equal(g, w) {
		t.Errorf("questions %+v, want %+v", g, w)
	}
	if g, w := history(t, got), history(t, want); !slices.Equal(g, w) {
		t.Errorf("history %+v, want %+v", g, w)
	}
	if g, w := setIDs(sets(t, got)), setIDs(sets(t, want)); !slices.Equal(g, w) {
		t.Errorf("sets %v, want %v", g, w)
		return
	}
	for _, x := range sets(t, want) {
		g, err := got.Set(ctx, x.ID)
		must(t, err)
		w, err := want.Set(ctx, x.ID)
		must(t, err)
		if !equal(g, w) {
			t.Errorf("set %+v, want %+v", g, w)
		}
	}
}

// A backup that is written while others save is a whole store, and has all that
// was saved before it was begun.
func testBackupWhileWriting(t *testing.T, s course.Store, restore func(*testing.T, string) course.Store) {
	var mu sync.Mutex
	saved := []int64{save(t, s, course.Question{Text: copper, Note: copper})}
	var writers sync.WaitGroup
	var stop atomic.Bool
	for range 2 {
		writers.Go(func() {
			for !stop.Load() {
				id, err := s.SaveQuestion(t.Context(), course.Question{Text: permanganate, Note: permanganate})
				if err != nil {
					t.Error(err)
					return
				}
				mu.Lock()
				saved = append(saved, id)
				mu.Unlock()
			}
		})
	}
	defer writers.Wait()
	defer stop.Store(true)
	for range 5 {
		mu.Lock()
		before := slices.Clone(saved)
		mu.Unlock()
		path := filepath.Join(t.TempDir(), "backup")
		must(t, s.Backup(t.Context(), path))
		kept := map[int64]bool{}
		for _, q := range questions(t, restore(t, path), "") {
			kept[q.ID] = q.Text == q.Note && q.Text != ""
		}
		for _, id := range before {
			if !kept[id] {
				t.Fatalf("question %d, saved before the backup was begun, is not in it", id)
			}
		}
	}
}

// A backup that fails leaves nothing, and what stood in its place stays.
func testBackupFails(t *testing.T, s course.Store) {
	folder := t.TempDir()
	save(t, s, course.Question{Text: copper})
	if err := s.Backup(t.Context(), filepath.Join(folder, "none", "backup")); err == nil {
		t.Error("Backup into a folder that is not there returned no error")
	}
	if err := s.Backup(t.Context(), folder); err == nil {
		t.Error("Backup in the place of a folder returned no error")
	}
	done, cancel := context.WithCancel(t.Context())
	cancel()
	path := filepath.Join(folder, "backup")
	if err := s.Backup(done, path); err == nil {
		t.Error("Backup with a context that is done returned no error")
	}
	if files, err := os.ReadDir(folder); err != nil || len(files) != 0 {
		t.Errorf("after backups that failed there are %v, %v, want nothing", files, err)
	}
	must(t, os.WriteFile(path, []byte("an earlier backup"), 0o600))
	if err := s.Backup(done, path); err == nil {
		t.Error("Backup with a context that is done returned no error")
	}
	if text, err := os.ReadFile(path); err != nil || string(text) != "an earlier backup" {
		t.Errorf("after a backup that failed the earlier one is %q, %v", text, err)
	}
}
