package sqlite_test

import (
	"database/sql"
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"
	"time"

	"halves/course"
	"halves/store/sqlite"
)

// backupOf makes a store at path that holds what fill keeps, and a backup of it
// beside it; then the store changes.
func backupOf(t *testing.T, path string) (backup string) {
	t.Helper()
	s := open(t, path)
	fill(t, s)
	backup = path + ".backup"
	if err := s.Backup(t.Context(), backup); err != nil {
		t.Fatal(err)
	}
	if _, err := s.SaveQuestion(t.Context(), course.Question{Text: "Cu + NO3^- -> Cu^2+ + NO"}); err != nil {
		t.Fatal(err)
	}
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
	return backup
}

// holdsBoth reports a store that is not as backupOf left it.
func holdsBoth(t *testing.T, path string) {
	t.Helper()
	s := open(t, path)
	if q, err := s.Questions(t.Context(), ""); err != nil || len(q) != 2 {
		t.Errorf("%s: Questions() = %+v, %v, want two", filepath.Base(path), q, err)
	}
	sound(t, s)
	if err := s.Close(); err != nil {
		t.Error(err)
	}
}

func TestRestore(t *testing.T) {
	path := filepath.Join(t.TempDir(), "course.db")
	backup := backupOf(t, path)
	text, err := os.ReadFile(backup)
	if err != nil {
		t.Fatal(err)
	}
	for range 2 {
		if err := sqlite.Restore(backup, path); err != nil {
			t.Fatal(err)
		}
		s := open(t, path)
		holdsFill(t, s)
		if err := s.Close(); err != nil {
			t.Fatal(err)
		}
	}
	holdsBoth(t, path+".before-restore")
	holdsFill(t, open(t, path+".2.before-restore"))
	if again, err := os.ReadFile(backup); err != nil || string(again) != string(text) {
		t.Errorf("the backup changed, %v", err)
	}
}

func TestRestoreWhereNothingIs(t *testing.T) {
	backup := backupOf(t, filepath.Join(t.TempDir(), "course.db"))
	path := filepath.Join(t.TempDir(), "course.db")
	if err := sqlite.Restore(backup, path); err != nil {
		t.Fatal(err)
	}
	if got := names(t, filepath.Dir(path)); got != "course.db" {
		t.Errorf("the files are %s, want course.db alone", got)
	}
	holdsFill(t, open(t, path))
}

// The changes of a process that was killed are in the log; what is kept has them
// too, and what is restored does not.
func TestRestoreAfterKill(t *testing.T) {
	folder := t.TempDir()
	running := filepath.Join(t.TempDir(), "course.db")
	s := open(t, running)
	fill(t, s)
	backup := filepath.Join(folder, "backup")
	if err := s.Backup(t.Context(), backup); err != nil {
		t.Fatal(err)
	}
	if _, err := s.SaveQuestion(t.Context(), course.Question{Text: "Cu + NO3^- -> Cu^2+ + NO"}); err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(folder, "course.db")
	for _, end := range []string{"", "-wal"} { // as a kill leaves them
		text, err := os.ReadFile(running + end)
		if err != nil {
			t.Fatal(err)
		}
		write(t, path+end, string(text))
	}
	if err := sqlite.Restore(backup, path); err != nil {
		t.Fatal(err)
	}
	if got, want := names(t, folder), "backup course.db course.db.before-restore"; got != want {
		t.Errorf("the files are %s, want %s", got, want)
	}
	holdsFill(t, open(t, path))
	holdsBoth(t, path+".before-restore")
}

// A damaged store is kept as it is, with its logs: the restored one must not find
// them.
func TestRestoreDamaged(t *testing.T) {
	good := filepath.Join(t.TempDir(), "course.db")
	backup := backupOf(t, good)
	folder := t.TempDir()
	path := filepath.Join(folder, "course.db")
	for _, end := range []string{"", "-wal", "-journal"} {
		write(t, path+end, strings.Repeat("damaged"+end, 2000))
	}
	write(t, path+"-shm", "")
	if err := sqlite.Restore(backup, path); err != nil {
		t.Fatal(err)
	}
	for _, end := range []string{"", "-wal", "-journal"} {
		if text, err := os.ReadFile(path + ".before-restore" + end); err != nil || string(text) != strings.Repeat("damaged"+end, 2000) {
			t.Errorf("course.db.before-restore%s has %d bytes, %v, want those that were there", end, len(text), err)
		}
	}
	if got, want := names(t, folder), "course.db course.db.before-restore course.db.before-restore-journal course.db.before-restore-wal"; got != want {
		t.Errorf("the files are %s, want %s", got, want)
	}
	holdsFill(t, open(t, path))

	spoil(t, good)
	if err := sqlite.Restore(backup, good); err != nil {
		t.Fatal(err)
	}
	holdsFill(t, open(t, good))
}

// What is no sound backup is refused, and the store stays as it was.
func TestRestoreOthers(t *testing.T) {
	for _, c := range []struct {
		name string
		make func(t *testing.T, backup string)
		want error
	}{
		{"none", func(t *testing.T, backup string) {}, fs.ErrNotExist},
		{"a text", func(t *testing.T, backup string) { write(t, backup, "MnO4^-\n") }, sqlite.ErrForeign},
		{"empty", func(t *testing.T, backup string) { write(t, backup, "") }, sqlite.ErrForeign},
		{"a database of another program", func(t *testing.T, backup string) {
			execute(t, backup, `CREATE TABLE questions (id INTEGER, text TEXT)`)
		}, sqlite.ErrForeign},
		{"one without tables", func(t *testing.T, backup string) { execute(t, backup, `VACUUM`) }, sqlite.ErrForeign},
		{"of a newer version", func(t *testing.T, backup string) { closedStore(t, backup, next(t, addColumn)) }, sqlite.ErrNewer},
		{"cut off", func(t *testing.T, backup string) {
			closedStore(t, backup)
			if err := os.Truncate(backup, 20_000); err != nil {
				t.Fatal(err)
			}
		}, sqlite.ErrDamaged},
		{"a page of nothing", func(t *testing.T, backup string) {
			closedStore(t, backup)
			spoil(t, backup)
		}, sqlite.ErrDamaged},
		{"an open store", func(t *testing.T, backup string) { fill(t, open(t, backup)) }, sqlite.ErrDamaged},
	} {
		t.Run(c.name, func(t *testing.T) {
			path := filepath.Join(t.TempDir(), "course.db")
			closedStore(t, path)
			backup := filepath.Join(t.TempDir(), "backup")
			c.make(t, backup)
			before, backupBefore := contents(filepath.Dir(path)), contents(filepath.Dir(backup))
			err := sqlite.Restore(backup, path)
			if !errors.Is(err, c.want) {
				t.Errorf("Restore = %v, want %v", err, c.want)
			}
			if e := (*sqlite.FileError)(nil); errors.As(err, &e) && (e.Path != backup || e.Hint() == "") {
				t.Errorf("Restore = %#v, want an error of %s with a hint", err, backup)
			}
			if contents(filepath.Dir(path)) != before {
				t.Errorf("the store is not as it was; its folder has %s", names(t, filepath.Dir(path)))
			}
			if contents(filepath.Dir(backup)) != backupBefore {
				t.Error("the backup is not as it was")
			}
		})
	}
}

// A file that is not ours, a store that is open, and the store itself are not
// written over.
func TestRestoreOver(t *testing.T) {
	folder := t.TempDir()
	path := filepath.Join(folder, "course.db")
	backup := backupOf(t, path)

	other := filepath.Join(t.TempDir(), "other.db")
	execute(t, other, `CREATE TABLE marks (student TEXT, marks INTEGER)`)
	before := contents(filepath.Dir(other))
	if err := sqlite.Restore(backup, other); !errors.Is(err, sqlite.ErrForeign) {
		t.Errorf("Restore over a database of another program = %v, want %v", err, sqlite.ErrForeign)
	}
	if contents(filepath.Dir(other)) != before {
		t.Error("the database of another program is not as it was")
	}

	before = contents(folder)
	for _, itself := range []string{path, filepath.Join(folder, ".", "course.db")} {
		if err := sqlite.Restore(itself, path); err == nil {
			t.Errorf("Restore of %s over itself returned no error", itself)
		}
	}
	if contents(folder) != before {
		t.Error("after Restore over itself the store is not as it was")
	}

	s := open(t, path)
	if err := sqlite.Restore(backup, path, sqlite.BusyTimeout(20*time.Millisecond)); !errors.Is(err, course.ErrBusy) {
		t.Errorf("Restore over a store that is open = %v, want course.ErrBusy", err)
	}
	if got := names(t, folder); strings.Contains(got, "restore") || strings.Contains(got, "part") {
		t.Errorf("after Restore over a store that is open there are %s", got)
	}
	if _, err := s.SaveQuestion(t.Context(), course.Question{Text: "Cl2 -> Cl^- + ClO3^-"}); err != nil {
		t.Error(err)
	}
	if err := s.Backup(t.Context(), path); err == nil {
		t.Error("Backup into the store itself returned no error")
	}
	if err := s.Backup(t.Context(), path+"-wal"); err == nil {
		t.Error("Backup into the log of the store returned no error")
	}
	sound(t, s)
}

// A link to the store stays a link.
func TestRestoreLink(t *testing.T) {
	if runtime.GOOS == "windows" {
		t.Skip("links need a permission there")
	}
	path := filepath.Join(t.TempDir(), "course.db")
	backup := backupOf(t, path)
	link := filepath.Join(t.TempDir(), "link.db")
	if err := os.Symlink(path, link); err != nil {
		t.Fatal(err)
	}
	if err := sqlite.Restore(backup, link); err != nil {
		t.Fatal(err)
	}
	holdsFill(t, open(t, path))
	holdsBoth(t, path+".before-restore")
}

// spoil writes nothing over the page in which the questions begin.
func spoil(t *testing.T, path string) {
	t.Helper()
	db, err := sql.Open("sqlite", path)
	if err != nil {
		t.Fatal(err)
	}
	var page, size int64
	err = db.QueryRow(`SELECT rootpage, (SELECT page_size FROM pragma_page_size) FROM sqlite_schema WHERE name = 'questions'`).Scan(&page, &size)
	if err := errors.Join(err, db.Close()); err != nil {
		t.Fatal(err)
	}
	f, err := os.OpenFile(path, os.O_RDWR, 0)
	if err != nil {
		t.Fatal(err)
	}
	_, err = f.WriteAt(make([]byte, size), (page-1)*size)
	if err := errors.Join(err, f.Close()); err != nil {
		t.Fatal(err)
	}
}
