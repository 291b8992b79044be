package sqlite_test

import (
	"database/sql"
	"errors"
	"flag"
	"fmt"
	"io/fs"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"sync"
	"testing"
	"testing/fstest"
	"time"

	"halves/course"
	"halves/store/sqlite"
)

var keepVersion = flag.Bool("keep-version", false, "write testdata/versionN.db for the last migration, once, before it is released")

// Each version left a file behind, testdata/versionN.db, where N is the number of
// its last migration. It is opened and brought forward with all that it holds, and
// has then the same tables as a new file: nobody edited a migration that was
// released.
func TestVersions(t *testing.T) {
	migrations, err := fs.Glob(sqlite.Released(), "*.sql")
	if err != nil {
		t.Fatal(err)
	}
	if *keepVersion {
		keepLast(t, len(migrations))
	}
	fresh := filepath.Join(t.TempDir(), "course.db")
	closedStore(t, fresh)
	want := schema(t, fresh)
	for n := range migrations {
		name := fmt.Sprintf("testdata/version%d.db", n+1)
		text, err := os.ReadFile(name)
		if err != nil {
			t.Fatalf("%v: write it with go test ./store/sqlite -run TestVersions -keep-version", err)
		}
		path := filepath.Join(t.TempDir(), "course.db")
		write(t, path, string(text))
		s := open(t, path)
		holdsFill(t, s)
		if q, err := s.Question(t.Context(), 1); err != nil || q.Created != released {
			t.Errorf("%s: Question(1) = %+v, %v, want it created at %v", name, q, err, released)
		}
		if x, err := s.Set(t.Context(), 1); err != nil || x.Created != released || x.Changed != released {
			t.Errorf("%s: Set(1) = %+v, %v, want it created and changed at %v", name, x, err, released)
		}
		if got := schema(t, path); !maps.Equal(got, want) {
			t.Errorf("%s has the tables %v, want %v", name, got, want)
		}
		if got := applied(t, path); len(got) != len(migrations)+1 {
			t.Errorf("%s has the migrations %v, want %d", name, got, len(migrations))
		}
	}
}

// released is the time of what is in testdata/versionN.db.
var released = time.Date(2026, 3, 2, 8, 15, 0, 0, time.UTC)

func keepLast(t *testing.T, n int) {
	name := fmt.Sprintf("testdata/version%d.db", n)
	if _, err := os.Stat(name); err == nil {
		t.Fatalf("%s is there; one that was released may not be written again", name)
	}
	s := open(t, filepath.Join(t.TempDir(), "course.db"), sqlite.Clock(func() time.Time { return released }))
	fill(t, s)
	if err := s.Backup(t.Context(), name); err != nil {
		t.Fatal(err)
	}
}

// schema returns the text of each table and index.
func schema(t *testing.T, path string) map[string]string {
	t.Helper()
	out := map[string]string{}
	for _, row := range column(t, path, `SELECT name || ': ' || coalesce(sql, '') FROM sqlite_schema`) {
		out[row] = ""
	}
	return out
}

// applied returns the numbers of the migrations that were applied, 0 first.
func applied(t *testing.T, path string) []string {
	t.Helper()
	return column(t, path, `SELECT version_id FROM goose_db_version ORDER BY id`)
}

// column returns what a query of one column finds in the file at path.
func column(t *testing.T, path, query string) []string {
	t.Helper()
	db, err := sql.Open("sqlite", path)
	if err != nil {
		t.Fatal(err)
	}
	defer db.Close()
	rows, err := db.Query(query)
	if err != nil {
		t.Fatal(err)
	}
	defer rows.Close()
	var out []string
	for rows.Next() {
		var s string
		if err := rows.Scan(&s); err != nil {
			t.Fatal(err)
		}
		out = append(out, s)
	}
	if err := rows.Err(); err != nil {
		t.Fatal(err)
	}
	return out
}

// next are the migrations of this version and one more, which is invented.
func next(t *testing.T, statements string) sqlite.Option {
	t.Helper()
	files := fstest.MapFS{}
	names, err := fs.Glob(sqlite.Released(), "*.sql")
	if err != nil {
		t.Fatal(err)
	}
	for _, name := range names {
		text, err := fs.ReadFile(sqlite.Released(), name)
		if err != nil {
			t.Fatal(err)
		}
		files[name] = &fstest.MapFile{Data: text}
	}
	files[fmt.Sprintf("%04d_invented.sql", len(names)+1)] = &fstest.MapFile{Data: []byte("-- +goose Up\n" + statements)}
	return sqlite.Migrations(files)
}

const addColumn = "ALTER TABLE questions ADD COLUMN source TEXT NOT NULL DEFAULT '';\nUPDATE questions SET source = source || 'own';\n"

// A store is brought forward once, and the version before then refuses it.
func TestBringForward(t *testing.T) {
	path := filepath.Join(t.TempDir(), "course.db")
	closedStore(t, path)
	for range 2 {
		s := open(t, path, next(t, addColumn))
		holdsFill(t, s)
		if err := s.Close(); err != nil {
			t.Fatal(err)
		}
		if got := column(t, path, `SELECT source FROM questions`); !slices.Equal(got, []string{"own"}) {
			t.Errorf("the new column has %q, want one own", got)
		}
	}
	before := contents(filepath.Dir(path))
	_, err := sqlite.Open(path)
	if e := (*sqlite.FileError)(nil); !errors.Is(err, sqlite.ErrNewer) || !errors.As(err, &e) {
		t.Errorf("Open of a store of the version after = %v, want %v", err, sqlite.ErrNewer)
	}
	if contents(filepath.Dir(path)) != before {
		t.Error("the store of the version after is not as it was")
	}
}

// A migration that fails changes nothing.
func TestBringForwardFails(t *testing.T) {
	path := filepath.Join(t.TempDir(), "course.db")
	closedStore(t, path)
	want := schema(t, path)
	for _, statements := range []string{
		addColumn + "DELETE FROM questions;\nSELECT * FROM nowhere;\n",
		"DROP TABLE questions;\nCREATE TABLE sets (id INTEGER);\n",
	} {
		if _, err := sqlite.Open(path, next(t, statements)); err == nil {
			t.Error("Open with a migration that cannot be applied returned no error")
		}
		if got := schema(t, path); !maps.Equal(got, want) {
			t.Errorf("after a migration that failed the tables are %v, want %v", got, want)
		}
		s := open(t, path)
		holdsFill(t, s)
		if err := s.Close(); err != nil {
			t.Fatal(err)
		}
	}
}

// Of several that come at once one brings the store forward, and the others find
// it done.
func TestBringForwardTogether(t *testing.T) {
	for range 5 {
		path := filepath.Join(t.TempDir(), "course.db")
		closedStore(t, path)
		forward := next(t, addColumn)
		var all sync.WaitGroup
		for range 4 {
			all.Go(func() {
				s, err := sqlite.Open(path, forward, sqlite.BusyTimeout(time.Minute))
				if err != nil {
					t.Error(err)
					return
				}
				if err := s.Close(); err != nil {
					t.Error(err)
				}
			})
		}
		all.Wait()
		if got := column(t, path, `SELECT source FROM questions`); !slices.Equal(got, []string{"own"}) {
			t.Errorf("the new column has %q, want one own", got)
		}
	}
}

// A store that another serves is not brought forward under its feet.
func TestBringForwardInUse(t *testing.T) {
	path := filepath.Join(t.TempDir(), "course.db")
	s := open(t, path)
	fill(t, s)
	if _, err := sqlite.Open(path, next(t, addColumn), sqlite.BusyTimeout(20*time.Millisecond)); !errors.Is(err, course.ErrBusy) {
		t.Errorf("Open of a store that is open, with a migration = %v, want course.ErrBusy", err)
	}
	holdsFill(t, s)
	if _, err := s.SaveQuestion(t.Context(), course.Question{Text: "Cu + NO3^- -> Cu^2+ + NO"}); err != nil {
		t.Error(err)
	}
}
