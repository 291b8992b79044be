package sqlite

import (
	"context"
	"database/sql"
	"embed"
	"errors"
	"fmt"
	"io/fs"
	"math/rand/v2"
	"time"

	"github.com/pressly/goose/v3"

	"halves/course"
)

// The migrations are numbered from 1 and never edited once released. Those of
// every other database have the same numbers.
//
//go:embed migrations/*.sql
var files embed.FS

// applicationID stands in the header of each file of ours: "Halv" in ASCII.
const applicationID = 0x48616c76

// released returns the migrations of this version.
func released() fs.FS {
	sub, err := fs.Sub(files, "migrations")
	if err != nil {
		panic(err) // the name of the folder above is no valid path
	}
	return sub
}

// latest returns the number of the last migration.
func latest(migrations fs.FS) (int64, error) {
	names, err := fs.Glob(migrations, "*.sql")
	if err != nil {
		return 0, err
	}
	var last int64
	for _, name := range names {
		n, err := goose.NumericComponent(name)
		if err != nil {
			return 0, err
		}
		last = max(last, n)
	}
	return last, nil
}

// bringForward applies the migrations that the file lacks. A file that is not
// ours, or of a newer version, is left as it is; the error is a *FileError.
//
// Who applies them has the file for himself. Others that come at the same time
// let go, look again, and find it done; one that serves the file, perhaps of an
// older version, is not overtaken.
func bringForward(ctx context.Context, path string, o options) error {
	last, err := latest(o.migrations)
	if err != nil {
		return err
	}
	for end := time.Now().Add(o.timeout); ; {
		have, err := inspect(ctx, path, o)
		if err != nil || have == last {
			return err
		}
		if err = apply(ctx, path, o); !errors.Is(err, course.ErrBusy) || time.Now().After(end) {
			return err
		}
		time.Sleep(time.Millisecond + rand.N(20*time.Millisecond)) // not in step with the others
	}
}

// apply applies the migrations. The error is course.ErrBusy where another has the
// file open.
func apply(ctx context.Context, path string, o options) error {
	o.timeout = 0 // two that wait would wait for each other
	db := pool(1, sourceName(path, o, "locking_mode(exclusive)", "journal_mode(wal)", "synchronous(2)", "fullfsync(1)")+"&_txlock=immediate")
	defer db.Close()
	// The first transaction takes the file, and the connection keeps it until it
	// is closed (https://www.sqlite.org/pragma.html, locking_mode).
	tx, err := db.BeginTx(ctx, nil)
	if err != nil {
		return kind(err)
	}
	if err := tx.Commit(); err != nil {
		return kind(err)
	}
	p, err := goose.NewProvider(goose.DialectSQLite3, db, o.migrations, goose.WithDisableGlobalRegistry(true))
	if err != nil {
		return err
	}
	if _, err := p.Up(ctx); err != nil {
		return fmt.Errorf("bringing it forward: %w", err)
	}
	return db.Close()
}

// inspect returns the number of the last migration that was applied to the file,
// 0 for a new one, and changes nothing. The error is a *FileError where it is no
// file of ours.
func inspect(ctx context.Context, path string, o options) (version int64, err error) {
	db := pool(1, plainName(path, o))
	defer db.Close()
	tx, err := db.BeginTx(ctx, &sql.TxOptions{ReadOnly: true}) // one view of what another may be making
	if err != nil {
		return 0, fileError(path, err)
	}
	defer tx.Rollback()
	return inspectIn(ctx, tx, path, o)
}

func inspectIn(ctx context.Context, tx *sql.Tx, path string, o options) (version int64, err error) {
	var id, others, counted int64
	if err := tx.QueryRowContext(ctx, `PRAGMA application_id`).Scan(&id); err != nil {
		return 0, fileError(path, err)
	}
	// A process that was killed at the very beginning leaves the table of the
	// migrations alone.
	if err := tx.QueryRowContext(ctx, `SELECT
		count(*) FILTER (WHERE name <> 'goose_db_version' AND name <> 'sqlite_sequence'),
		count(*) FILTER (WHERE name = 'goose_db_version')
		FROM sqlite_schema`).Scan(&others, &counted); err != nil {
		return 0, fileError(path, err)
	}
	switch {
	case id == 0 && others == 0:
		return 0, nil
	case id != applicationID:
		return 0, &FileError{Path: path, Err: ErrForeign}
	case counted == 0:
		return 0, &FileError{Path: path, Err: ErrDamaged, Msg: "it does not say which version wrote it"}
	}
	if err := tx.QueryRowContext(ctx, `SELECT coalesce(max(version_id), 0) FROM goose_db_version`).Scan(&version); err != nil {
		return 0, fileError(path, err)
	}
	last, err := latest(o.migrations)
	if err == nil && version > last {
		err = &FileError{Path: path, Err: ErrNewer, Msg: fmt.Sprintf("it has form %d, and this version knows %d", version, last)}
	}
	return version, err
}
