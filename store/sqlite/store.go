// Package sqlite keeps the course in one SQLite file.
//
// Beside the file stand two more while it is open, -wal and -shm. A change is on
// the disk when the method that made it returns: each is one transaction, and
// the write-ahead log is flushed at its end (https://www.sqlite.org/wal.html,
// PRAGMA synchronous).
//
// One connection writes and four read, so that a list never waits for a save.
// What belongs to a connection stands in its data source name.
//
// That only one process serves a folder is left to the caller; two of them wait
// for each other here, and nothing is lost, but neither sees that the other
// changed what it shows.
package sqlite

import (
	"context"
	"database/sql"
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"time"

	"halves/course"
)

// A Store is a course.Store. It may be used by several goroutines at once.
type Store struct {
	path   string
	writer *sql.DB // one connection
	reader *sql.DB // four, which cannot write
	copier *sql.DB // one, for the time of a backup
	options
}

var _ course.Store = (*Store)(nil)

// An Option changes how a store is opened.
type Option func(*options)

type options struct {
	timeout    time.Duration
	now        func() time.Time
	migrations fs.FS    // numbered files
	pragmas    []string // more of the connection that writes
}

// BusyTimeout sets how long to wait while another program holds the data; 5
// seconds where it is not set. The wait ends with course.ErrBusy.
func BusyTimeout(d time.Duration) Option { return func(o *options) { o.timeout = d } }

func newOptions(opts []Option) options {
	o := options{timeout: 5 * time.Second, now: time.Now, migrations: released()}
	for _, opt := range opts {
		opt(&o)
	}
	return o
}

// Open opens the store in the file at path, whose folder is there already. A new
// file is made for the owner alone; one of an older version is brought forward.
//
// The errors are *FileError where the file is none of ours, of a newer version,
// or damaged, and course.ErrBusy and course.ErrFull.
func Open(path string, opts ...Option) (*Store, error) {
	ctx, doing := context.Background(), "opening the data in "+path
	o := newOptions(opts)
	path, err := filepath.Abs(path)
	if err != nil {
		return nil, failed(ctx, doing, err)
	}
	if err := ensure(path); err != nil {
		return nil, failed(ctx, doing, err)
	}
	if err := bringForward(ctx, path, o); err != nil {
		return nil, failed(ctx, doing, err)
	}
	s := &Store{
		path:    path,
		writer:  pool(1, writerName(path, o)),
		reader:  pool(4, readerName(path, o)),
		copier:  pool(1, plainName(path, o)),
		options: o,
	}
	s.copier.SetMaxIdleConns(-1) // none
	if err := errors.Join(s.writer.PingContext(ctx), s.reader.PingContext(ctx)); err != nil {
		return nil, errors.Join(failed(ctx, doing, err), s.Close())
	}
	return s, nil
}

// ensure makes an empty file where there is none.
func ensure(path string) error {
	info, err := os.Stat(path)
	switch {
	case err == nil && !info.Mode().IsRegular():
		return &FileError{Path: path, Err: ErrForeign}
	case err == nil || !errors.Is(err, fs.ErrNotExist):
		return err
	}
	// SQLite deletes a log whose file is new and empty.
	if info, err := os.Stat(path + "-wal"); err == nil && info.Size() > 0 {
		return &FileError{Path: path, Err: ErrDamaged, Msg: "the file is gone, and its last changes are still in " + path + "-wal",
			hint: "put the file back beside it; or move that file away to begin anew"}
	}
	f, err := os.OpenFile(path, os.O_RDWR|os.O_CREATE|os.O_EXCL, 0o600)
	if errors.Is(err, fs.ErrExist) {
		return nil // another process was first
	}
	if err != nil {
		return err
	}
	return f.Close()
}

// Close closes the store. Closing it again does nothing.
func (s *Store) Close() error {
	// The last connection folds the log into the file, and readers may not.
	return failed(context.Background(), "closing the data in "+s.path,
		errors.Join(s.copier.Close(), s.reader.Close(), s.writer.Close()))
}

// write makes one change: all that act does, or nothing.
func (s *Store) write(ctx context.Context, doing string, act func(*sql.Tx) error) error {
	tx, err := s.writer.BeginTx(ctx, nil)
	if err != nil {
		return failed(ctx, doing, err)
	}
	defer tx.Rollback() // does nothing after Commit
	if err := act(tx); err != nil {
		return failed(ctx, doing, err)
	}
	return failed(ctx, doing, tx.Commit())
}

// list calls row for each row that the query finds.
func (s *Store) list(ctx context.Context, doing, query string, row func(scan func(...any) error) error) error {
	rows, err := s.reader.QueryContext(ctx, query)
	if err != nil {
		return failed(ctx, doing, err)
	}
	defer rows.Close()
	for rows.Next() {
		if err := row(rows.Scan); err != nil {
			return failed(ctx, doing, err)
		}
	}
	return failed(ctx, doing, rows.Err())
}

// one reports what is missing where a change reached no row.
func one(r sql.Result, err error, what string, id int64) error {
	if err != nil {
		return err
	}
	n, err := r.RowsAffected()
	if err == nil && n == 0 {
		err = &course.NotFoundError{What: what, ID: id}
	}
	return err
}

// given returns a time in milliseconds since 1970, that of now for the zero time.
func given(t, now time.Time) int64 {
	if t.IsZero() {
		t = now
	}
	return t.UnixMilli()
}

func instant(milliseconds int64) time.Time { return time.UnixMilli(milliseconds).UTC() }
