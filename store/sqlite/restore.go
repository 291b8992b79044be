package sqlite

import (
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
)

// Restore puts a backup in the place of the store at path, which must be closed,
// or in a place where there is none yet. What was there is kept beside it as
// path.before-restore, or as path.2.before-restore and so on where there are such
// files from before; the backup stays as it is. A backup of an older version is
// brought forward when the store is opened.
//
// The error is a *FileError where the backup is not a sound file of ours or of a
// newer version, or where another program's file is at path; course.ErrBusy where
// the store is open; course.ErrFull. The store is then as it was.
func Restore(backup, path string, opts ...Option) error {
	ctx := context.Background()
	return failed(ctx, "restoring "+backup, restore(ctx, backup, path, newOptions(opts)))
}

func restore(ctx context.Context, backup, path string, o options) error {
	path, err := filepath.Abs(path)
	if err != nil {
		return err
	}
	if real, err := filepath.EvalSymlinks(path); err == nil {
		path = real // what a link points to is replaced; its log stands there too
	}
	if err := closed(backup, path); err != nil {
		return err
	}
	if err := isDatabase(backup); err != nil {
		return err
	}
	part, err := beside(path)
	if err != nil {
		return err
	}
	defer os.Remove(part) // gone already where all went well
	if err := copyFile(backup, part); err != nil {
		return err
	}
	if _, err := check(ctx, part, o); err != nil {
		if e := (*FileError)(nil); errors.As(err, &e) {
			e.Path = backup
		}
		return err
	}
	if err := settle(ctx, path, o); err != nil {
		return err
	}
	if err := keep(path); err != nil {
		return err
	}
	return put(part, path)
}

// isDatabase refuses a file that does not begin as one of SQLite (Database File
// Format, section 1.3), before it is copied.
func isDatabase(path string) error {
	f, err := os.Open(path)
	if err != nil {
		return err
	}
	defer f.Close()
	begin := make([]byte, 16)
	if _, err := io.ReadFull(f, begin); err != nil || string(begin) != "SQLite format 3\x00" {
		return &FileError{Path: path, Err: ErrForeign}
	}
	return nil
}

// closed reports a backup that is the store itself, or another that is open.
func closed(backup, path string) error {
	info, err := os.Stat(backup)
	if err != nil {
		return err
	}
	if there, err := os.Stat(path); err == nil && os.SameFile(info, there) {
		return fmt.Errorf("%s is the data itself, not a backup of it", backup)
	}
	for _, log := range logs {
		if _, err := os.Stat(backup + log); err == nil {
			return &FileError{Path: backup, Err: ErrDamaged, Msg: "it is the file of an open store: part of it is in " + backup + log,
				hint: "make a backup of that store, or start Halves on it and close it"}
		}
	}
	return nil
}

// logs end the names of the files in which SQLite keeps what is not in the file
// yet. One that is left beside another file spoils that.
var logs = []string{"-wal", "-journal"}

// settle folds the log of the store at path into its file. It fails where the
// store is open or no store of ours; a damaged one is left as it is.
func settle(ctx context.Context, path string, o options) error {
	// SQLite deletes the logs beside a file without its header.
	if begins, err := beginsRight(path); !begins || err != nil {
		return err
	}
	switch _, err := inspect(ctx, path, o); {
	case errors.Is(err, ErrDamaged):
		return nil
	case err != nil && !errors.Is(err, ErrNewer):
		return err
	}
	db := pool(1, plainName(path, o))
	defer db.Close()
	// Only the last connection of all may leave the mode of the log.
	_, err := db.ExecContext(ctx, `PRAGMA journal_mode = delete`)
	if err = fileError(path, err); errors.Is(err, ErrDamaged) {
		return nil
	}
	return err
}

// beginsRight reports whether a file is there and begins as one of SQLite
// (https://www.sqlite.org/fileformat2.html, 1.3).
func beginsRight(path string) (bool, error) {
	f, err := os.Open(path)
	if errors.Is(err, fs.ErrNotExist) {
		return false, nil
	}
	if err != nil {
		return false, err
	}
	defer f.Close()
	const header = "SQLite format 3\x00"
	head := make([]byte, len(header))
	switch _, err := io.ReadFull(f, head); {
	case errors.Is(err, io.EOF) || errors.Is(err, io.ErrUnexpectedEOF):
		return false, nil
	case err != nil:
		return false, err
	}
	return string(head) == header, nil
}

// keep gives what is at path a second name, so that there is never nothing at
// path, and moves the logs of a damaged store there too.
func keep(path string) error {
	name := path + ".before-restore"
	for n := 2; exists(name) || exists(name+logs[0]) || exists(name+logs[1]); n++ {
		name = fmt.Sprintf("%s.%d.before-restore", path, n)
	}
	for _, log := range logs {
		if err := os.Rename(path+log, name+log); err != nil && !errors.Is(err, fs.ErrNotExist) {
			return err
		}
	}
	if err := os.Remove(path + "-shm"); err != nil && !errors.Is(err, fs.ErrNotExist) {
		return err
	}
	if !exists(path) || os.Link(path, name) == nil {
		return nil
	}
	if err := copyFile(path, name); err != nil { // where a file has one name only
		os.Remove(name)
		return err
	}
	return nil
}

func exists(path string) bool {
	_, err := os.Lstat(path)
	return !errors.Is(err, fs.ErrNotExist)
}

// copyFile copies a file for the owner alone, and flushes it.
func copyFile(from, to string) error {
	in, err := os.Open(from)
	if err != nil {
		return err
	}
	defer in.Close()
	out, err := os.OpenFile(to, os.O_WRONLY|os.O_CREATE|os.O_TRUNC, 0o600)
	if err != nil {
		return err
	}
	_, err = io.Copy(out, in)
	return errors.Join(err, out.Sync(), out.Close())
}
