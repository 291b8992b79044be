package sqlite_test

import (
	"context"
	"database/sql"
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"testing"
	"time"

	"halves/course"
	"halves/redox"
	"halves/store/sqlite"
	"halves/store/storetest"
)

func TestContract(t *testing.T) {
	storetest.Run(t,
		func(t *testing.T) course.Store { return open(t, filepath.Join(t.TempDir(), "course.db")) },
		func(t *testing.T, backup string) course.Store {
			path := filepath.Join(t.TempDir(), "restored.db")
			if err := sqlite.Restore(backup, path); err != nil {
				t.Fatal(err)
			}
			return open(t, path)
		})
}

// What is kept is there when the store is opened again.
func TestOpenAgain(t *testing.T) {
	path := filepath.Join(t.TempDir(), "course.db")
	s := open(t, path)
	fill(t, s)
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
	if names := names(t, filepath.Dir(path)); names != "course.db" {
		t.Errorf("the files of a closed store are %s, want course.db alone", names)
	}
	holdsFill(t, open(t, path))
}

// The files are for the owner alone.
func TestModes(t *testing.T) {
	if runtime.GOOS == "windows" {
		t.Skip("files have no such modes there")
	}
	folder := t.TempDir()
	path := filepath.Join(folder, "course.db")
	s := open(t, path)
	fill(t, s)
	if err := s.Backup(t.Context(), path+".backup"); err != nil {
		t.Fatal(err)
	}
	if err := sqlite.Restore(path+".backup", path+".restored"); err != nil {
		t.Fatal(err)
	}
	for _, name := range []string{"course.db", "course.db-wal", "course.db-shm", "course.db.backup", "course.db.restored"} {
		info, err := os.Stat(filepath.Join(folder, name))
		if err != nil {
			t.Error(err)
		} else if info.Mode().Perm() != 0o600 {
			t.Errorf("%s has the mode %v, want 0600", name, info.Mode().Perm())
		}
	}
}

// Any name of a file will do.
func TestNames(t *testing.T) {
	for _, name := range []string{"50% of a=b&c? #2;.db", "Übung 例.db", "file:x.db", "a'b.db", ":memory:", "x?mode=ro", "%41"} {
		if runtime.GOOS == "windows" && strings.ContainsAny(name, `:?`) {
			continue
		}
		folder := filepath.Join(t.TempDir(), name)
		if err := os.Mkdir(folder, 0o700); err != nil {
			t.Fatal(err)
		}
		s := open(t, filepath.Join(folder, name))
		fill(t, s)
		if err := s.Close(); err != nil {
			t.Fatal(err)
		}
		if got := names(t, folder); got != name {
			t.Errorf("the store %q made the files %q", name, got)
		}
		holdsFill(t, open(t, filepath.Join(folder, name)))
	}
	t.Chdir(t.TempDir())
	fill(t, open(t, "course.db"))
	if _, err := os.Stat("course.db"); err != nil {
		t.Error(err)
	}
}

// What is no store is refused, and left as it is.
func TestOpenOthers(t *testing.T) {
	for _, c := range []struct {
		name string
		make func(t *testing.T, path string)
		want error
	}{
		{"no folder", func(t *testing.T, path string) {
			if err := os.Remove(filepath.Dir(path)); err != nil {
				t.Fatal(err)
			}
		}, fs.ErrNotExist},
		{"a folder", func(t *testing.T, path string) {
			if err := os.Mkdir(path, 0o700); err != nil {
				t.Fatal(err)
			}
		}, sqlite.ErrForeign},
		{"a text", func(t *testing.T, path string) { write(t, path, strings.Repeat("MnO4^-\n", 1000)) }, sqlite.ErrDamaged},
		{"a database of another program", func(t *testing.T, path string) {
			execute(t, path, `CREATE TABLE questions (id INTEGER, text TEXT)`)
		}, sqlite.ErrForeign},
		{"one with a number of its own", func(t *testing.T, path string) {
			execute(t, path, `PRAGMA application_id = 7`)
		}, sqlite.ErrForeign},
		{"one of ours without its versions", func(t *testing.T, path string) {
			closedStore(t, path)
			execute(t, path, `DROP TABLE goose_db_version`)
		}, sqlite.ErrDamaged},
		{"one of a newer version", func(t *testing.T, path string) {
			closedStore(t, path)
			execute(t, path, `INSERT INTO goose_db_version (version_id, is_applied) VALUES (1000000, 1)`)
		}, sqlite.ErrNewer},
		{"a log without its file", func(t *testing.T, path string) { write(t, path+"-wal", "changes") }, sqlite.ErrDamaged},
	} {
		t.Run(c.name, func(t *testing.T) {
			folder := filepath.Join(t.TempDir(), "data")
			if err := os.Mkdir(folder, 0o700); err != nil {
				t.Fatal(err)
			}
			path := filepath.Join(folder, "course.db")
			c.make(t, path)
			before := contents(folder)
			s, err := sqlite.Open(path)
			if err == nil {
				s.Close()
			}
			if !errors.Is(err, c.want) {
				t.Errorf("Open = %v, want %v", err, c.want)
			}
			var e *sqlite.FileError
			if errors.As(err, &e) != (c.want != fs.ErrNotExist) || e != nil && (e.Path != path || e.Hint() == "") {
				t.Errorf("Open = %#v, want a *FileError of %s with a hint", err, path)
			}
			if after := contents(folder); after != before {
				t.Error("the folder is not as it was")
			}
		})
	}
}

// A file that a process left behind which was killed at the very beginning.
func TestOpenBegun(t *testing.T) {
	for _, script := range []string{"", `CREATE TABLE goose_db_version (
		id INTEGER PRIMARY KEY AUTOINCREMENT, version_id INTEGER NOT NULL, is_applied INTEGER NOT NULL,
		tstamp TIMESTAMP DEFAULT (datetime('now'))); INSERT INTO goose_db_version (version_id, is_applied) VALUES (0, 1)`} {
		path := filepath.Join(t.TempDir(), "course.db")
		write(t, path, "")
		execute(t, path, script)
		fill(t, open(t, path))
	}
}

// Each connection of the pools has its settings, not one of them alone
// (https://www.sqlite.org/pragma.html).
func TestConnections(t *testing.T) {
	s := open(t, filepath.Join(t.TempDir(), "course.db"))
	writer, reader := s.Pools()
	for _, c := range []struct {
		name        string
		pool        *sql.DB
		connections int
		want        map[string]string
	}{
		{"writer", writer, 1, map[string]string{
			"journal_mode": "wal", "busy_timeout": "5000", "foreign_keys": "1", "query_only": "0",
			"synchronous": "2", "fullfsync": "1", "checkpoint_fullfsync": "1", "locking_mode": "normal",
		}},
		{"reader", reader, 4, map[string]string{
			"journal_mode": "wal", "busy_timeout": "5000", "foreign_keys": "1", "query_only": "1", "locking_mode": "normal",
		}},
	} {
		if got := c.pool.Stats().MaxOpenConnections; got != c.connections {
			t.Errorf("%s has at most %d connections, want %d", c.name, got, c.connections)
		}
		for i := range c.connections {
			conn, err := c.pool.Conn(t.Context()) // held, so that the next is another
			if err != nil {
				t.Fatal(err)
			}
			defer conn.Close()
			for pragma, want := range c.want {
				var got string
				if err := conn.QueryRowContext(t.Context(), "PRAGMA "+pragma).Scan(&got); err != nil || got != want {
					t.Errorf("%s, connection %d: PRAGMA %s = %q, %v, want %q", c.name, i, pragma, got, err, want)
				}
			}
		}
	}
}

// The tables are strict, and no row can be of the wrong kind.
func TestStrict(t *testing.T) {
	s := open(t, filepath.Join(t.TempDir(), "course.db"))
	_, reader := s.Pools()
	rows, err := reader.Query(`SELECT name, strict FROM pragma_table_list WHERE schema = 'main' AND type = 'table'`)
	if err != nil {
		t.Fatal(err)
	}
	defer rows.Close()
	var ours int
	for rows.Next() {
		var name string
		var strict bool
		if err := rows.Scan(&name, &strict); err != nil {
			t.Fatal(err)
		}
		if strings.HasPrefix(name, "sqlite_") || name == "goose_db_version" {
			continue
		}
		ours++
		if !strict {
			t.Errorf("table %s is not strict", name)
		}
	}
	if ours != 4 || rows.Err() != nil {
		t.Errorf("%d tables, %v, want 4", ours, rows.Err())
	}
}

// The conventions are kept as the file of a class, not as a type has them.
func TestConventionsText(t *testing.T) {
	s := open(t, filepath.Join(t.TempDir(), "course.db"))
	if err := s.SaveSettings(t.Context(), course.Settings{Conventions: redox.Conventions{By: redox.ByStates}}); err != nil {
		t.Fatal(err)
	}
	writer, _ := s.Pools()
	var text string
	if err := writer.QueryRow(`SELECT conventions FROM settings`).Scan(&text); err != nil || !strings.Contains(text, "by: states\n") {
		t.Errorf("the conventions are kept as %q, %v; want the line by: states", text, err)
	}
	if _, err := writer.Exec(`UPDATE settings SET conventions = 'by: guess'`); err != nil {
		t.Fatal(err)
	}
	if v, err := s.Settings(t.Context()); err == nil || v != (course.Settings{}) {
		t.Errorf("Settings() of conventions that cannot be read = %+v, %v, want an error", v, err)
	}
}

// What changes within one millisecond is in its order too.
func TestOrderInOneMoment(t *testing.T) {
	ctx := t.Context()
	s := open(t, filepath.Join(t.TempDir(), "course.db"), sqlite.Clock(func() time.Time { return released }))
	for _, id := range []int64{0, 0, 0, 1} { // three new ones, and the first is changed
		if _, err := s.SaveSet(ctx, course.Set{ID: id, Title: "Quiz 3", JSON: []byte("{}")}); err != nil {
			t.Fatal(err)
		}
	}
	var got []int64
	list, err := s.Sets(ctx)
	for _, x := range list {
		got = append(got, x.ID)
	}
	if want := []int64{1, 3, 2}; err != nil || !slices.Equal(got, want) {
		t.Errorf("Sets() has the IDs %v, %v, want %v", got, err, want)
	}
}

// An act whose context ends in its midst is not done, and the error is that of
// the context whatever the driver says.
func TestCancelledInAct(t *testing.T) {
	s := open(t, filepath.Join(t.TempDir(), "course.db"))
	fill(t, s)
	ctx, cancel := context.WithCancel(t.Context())
	err := s.Write(ctx, func(tx *sql.Tx) error {
		if _, err := tx.Exec(`DELETE FROM questions`); err != nil {
			return err
		}
		cancel()
		for !errors.Is(second(tx.Exec(`DELETE FROM sets`)), sql.ErrTxDone) { // until it is rolled back
		}
		return nil
	})
	if !errors.Is(err, context.Canceled) {
		t.Errorf("an act whose context ended = %v, want context.Canceled", err)
	}
	holdsFill(t, s)
}
