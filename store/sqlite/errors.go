package sqlite

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"syscall"

	driver "modernc.org/sqlite"
	codes "modernc.org/sqlite/lib"

	"halves/course"
)

// What may be wrong with a file.
var (
	ErrForeign = errors.New("this is not a file of Halves")
	ErrNewer   = errors.New("a newer version of Halves wrote this file")
	ErrDamaged = errors.New("this file is damaged")
)

// A FileError is a file that cannot be opened as a store or put in the place of
// one. It was left as it is.
type FileError struct {
	Path string
	Err  error  // ErrForeign, ErrNewer or ErrDamaged
	Msg  string // more about it, or ""
	hint string
}

func (e *FileError) Error() string {
	if e.Msg == "" {
		return fmt.Sprintf("%s: %v", e.Path, e.Err)
	}
	return fmt.Sprintf("%s: %v: %s", e.Path, e.Err, e.Msg)
}

func (e *FileError) Unwrap() error { return e.Err }

// Hint returns a way out.
func (e *FileError) Hint() string {
	switch {
	case e.hint != "":
		return e.hint
	case e.Err == ErrNewer:
		return "install the newer version again, or restore a backup that this version made"
	case e.Err == ErrDamaged:
		return "take another backup; this file is left as it is"
	}
	return "choose a file that Halves made: a backup ends in .backup, the data are in halves.db"
}

// failed says what was being done when err came, nil for nil. A
// *course.NotFoundError and a *FileError say enough themselves.
func failed(ctx context.Context, doing string, err error) error {
	var missing *course.NotFoundError
	var file *FileError
	switch {
	case err == nil:
		return nil
	case errors.As(err, &missing):
		return missing
	case errors.As(err, &file):
		return file
	case ctx.Err() != nil:
		err = ctx.Err() // what the driver says of it differs from place to place
	}
	return fmt.Errorf("%s: %w", doing, kind(err))
}

// kind puts the error of package course before one of the database or of the
// system that is of its kind.
func kind(err error) error {
	for _, known := range []error{course.ErrFull, course.ErrBusy, ErrDamaged} {
		if errors.Is(err, known) {
			return err
		}
	}
	var e *driver.Error
	if errors.As(err, &e) {
		if e.Code() == codes.SQLITE_IOERR_SHMSIZE { // no room for the -shm file
			return fmt.Errorf("%w (%w)", course.ErrFull, err)
		}
		switch e.Code() & 0xff { // the primary code
		case codes.SQLITE_FULL:
			return fmt.Errorf("%w (%w)", course.ErrFull, err)
		case codes.SQLITE_BUSY, codes.SQLITE_LOCKED:
			return fmt.Errorf("%w (%w)", course.ErrBusy, err)
		case codes.SQLITE_CORRUPT, codes.SQLITE_NOTADB:
			return fmt.Errorf("%w (%w)", ErrDamaged, err)
		}
	}
	if slices.ContainsFunc(noRoom, func(n syscall.Errno) bool { return errors.Is(err, n) }) {
		return fmt.Errorf("%w (%w)", course.ErrFull, err)
	}
	return err
}

// fileError tells of a file at path that SQLite found to be no sound database;
// other errors are returned as they are.
func fileError(path string, err error) error {
	if err = kind(err); errors.Is(err, ErrDamaged) {
		return &FileError{Path: path, Err: ErrDamaged, Msg: "it is not a sound database"}
	}
	return err
}
