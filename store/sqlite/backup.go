package sqlite

import (
	"context"
	"database/sql"
	"errors"
	"os"
	"path/filepath"
	"runtime"
)

// Backup implements course.Store. The backup is one file for the owner alone. It
// is written beside path, flushed, checked, and renamed: what stood at path is
// replaced whole, or stays where an error is returned.
func (s *Store) Backup(ctx context.Context, path string) error {
	return failed(ctx, "writing the backup "+path, s.backup(ctx, path))
}

func (s *Store) backup(ctx context.Context, path string) error {
	path, err := filepath.Abs(path)
	if err != nil {
		return err
	}
	if info, err := os.Stat(path); err == nil {
		if !info.Mode().IsRegular() {
			return errors.New("this is not an ordinary file")
		}
		for _, own := range []string{s.path, s.path + "-wal", s.path + "-shm"} {
			if o, err := os.Stat(own); err == nil && os.SameFile(info, o) {
				return errors.New("this is the data itself: choose another name")
			}
		}
	}
	part, err := beside(path)
	if err != nil {
		return err
	}
	defer os.Remove(part) // gone already where all went well
	if _, err := s.copier.ExecContext(ctx, `VACUUM INTO $1`, part); err != nil {
		return err
	}
	if _, err := check(ctx, part, s.options); err != nil {
		return err
	}
	return put(part, path)
}

// beside makes an empty file for the owner alone in the folder of path, which
// put later moves there, and returns its name.
func beside(path string) (string, error) {
	f, err := os.CreateTemp(filepath.Dir(path), "."+filepath.Base(path)+".*.part")
	if err != nil {
		return "", err
	}
	return f.Name(), f.Close()
}

// put flushes the file part and gives it the name path.
func put(part, path string) error {
	f, err := os.OpenFile(part, os.O_RDWR, 0)
	if err != nil {
		return err
	}
	if err := errors.Join(f.Sync(), f.Close()); err != nil {
		return err
	}
	if err := os.Rename(part, path); err != nil {
		return err
	}
	return syncFolder(filepath.Dir(path))
}

// syncFolder flushes the names in a folder.
func syncFolder(folder string) error {
	if runtime.GOOS == "windows" {
		return nil // a folder cannot be flushed there
	}
	d, err := os.Open(folder)
	if err != nil {
		return err
	}
	return errors.Join(d.Sync(), d.Close())
}

// check reads the whole file at path, which nobody else has open, and returns the
// number of its last migration. The error is a *FileError where it is not a sound
// file of ours.
func check(ctx context.Context, path string, o options) (version int64, err error) {
	db := pool(1, plainName(path, o))
	defer db.Close()
	tx, err := db.BeginTx(ctx, &sql.TxOptions{ReadOnly: true})
	if err != nil {
		return 0, fileError(path, err)
	}
	defer tx.Rollback()
	if version, err = inspectIn(ctx, tx, path, o); err != nil {
		return 0, err
	}
	var first string
	if err := tx.QueryRowContext(ctx, `PRAGMA integrity_check(1)`).Scan(&first); err != nil {
		return 0, fileError(path, err)
	}
	if first != "ok" {
		return 0, &FileError{Path: path, Err: ErrDamaged, Msg: first}
	}
	if version == 0 {
		return 0, &FileError{Path: path, Err: ErrForeign, Msg: "it is empty"}
	}
	return version, nil
}
