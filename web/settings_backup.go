package web

import (
	"context"
	"errors"
	"fmt"
	"io"
	"net/http"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"syscall"

	"halves/course"
)

// maxRestore is how many bytes a backup that is put back may have.
const maxRestore = 1 << 30

// backup hands out everything in one file.
func (s *Server) backup(w http.ResponseWriter, r *http.Request) {
	folder, err := os.MkdirTemp("", "halves-backup-") // for the owner alone
	if err != nil {
		s.fail(w, r, roomError(err))
		return
	}
	defer os.RemoveAll(folder)
	name := "halves-" + s.o.Now().Local().Format("2006-01-02") + ".backup"
	path := filepath.Join(folder, name)
	if err := s.o.Store.Backup(r.Context(), path); err != nil {
		s.fail(w, r, err)
		return
	}
	file, err := os.Open(path)
	if err != nil {
		s.fail(w, r, err)
		return
	}
	defer file.Close()
	info, err := file.Stat()
	if err != nil {
		s.fail(w, r, err)
		return
	}
	handOut(w, name, "application/octet-stream")
	w.Header().Set("Content-Length", fmt.Sprint(info.Size()))
	if _, err := io.Copy(w, file); err != nil {
		// The browser sees that it is too short.
		s.o.Log.Warn("a backup was not fetched to its end", "error", err)
	}
}

// A restorePage is the step between choosing a backup and putting it back.
type restorePage struct {
	Kept       kept
	Data       string
	CanRestore bool
	Mistake    *told
}

func (s *Server) newRestorePage(r *http.Request) (restorePage, error) {
	k, err := s.count(r.Context())
	return restorePage{Kept: k, Data: s.o.Data, CanRestore: s.o.Restore != nil}, err
}

func restoreView(p restorePage) view {
	v := view{page: "restore", here: "settings", title: "Put a backup back", data: p}
	if p.Mistake != nil {
		v.status = p.Mistake.Status
	}
	return v
}

// restoring says what would be replaced.
func (s *Server) restoring(r *http.Request) (view, error) {
	p, err := s.newRestorePage(r)
	return restoreView(p), err
}

// restore puts a backup in the place of what is here, once it arrived whole.
func (s *Server) restore(r *http.Request) (view, error) {
	err := s.putBack(r)
	if err == nil {
		return view{to: "/settings?done=restored"}, nil
	}
	t := s.tell(r, restoreError(err))
	p, failed := s.newRestorePage(r)
	if failed != nil {
		return view{}, failed
	}
	p.Mistake = &t
	return restoreView(p), nil
}

func (s *Server) putBack(r *http.Request) error {
	if s.o.Restore == nil {
		return &pageError{http.StatusNotImplemented, "A backup cannot be put back here.", "Start Halves on the machine that holds the data, and do it there."}
	}
	const form = 64 << 10 // what the form takes beside the file
	if r.ContentLength > maxRestore+form {
		return tooLarge(maxRestore)
	}
	fields := map[string]string{}
	part, err := sentFile(r, "backup", fields)
	if err != nil {
		return err
	}
	if fields["sure"] != "yes" {
		return &pageError{http.StatusUnprocessableEntity, "Nothing was replaced, since you did not say that it may be.", "Tick the box, choose the file again, and send it."}
	}
	file, err := os.CreateTemp("", "halves-restore-*.backup") // for the owner alone
	if err != nil {
		return roomError(err)
	}
	defer os.Remove(file.Name())
	defer file.Close()
	if err := receive(file, part, maxRestore); err != nil {
		if r.Context().Err() != nil {
			return context.Canceled
		}
		return err
	}
	if _, err := file.Seek(0, io.SeekStart); err != nil {
		return err
	}
	if err := s.o.Restore(r.Context(), file); err != nil {
		return err
	}
	s.changes.clear() // they were made to what is not here any more
	return nil
}

// receive copies a file that has at most so many bytes, and at least one.
func receive(into io.Writer, from io.Reader, most int64) error {
	n, err := io.Copy(into, io.LimitReader(from, most+1))
	switch {
	case err != nil:
		return roomError(err)
	case n > most:
		return tooLarge(most)
	case n == 0:
		return &pageError{http.StatusUnprocessableEntity, "This file is empty.", "Choose a file that was made by “Make a backup”."}
	}
	return nil
}

func tooLarge(most int64) error {
	return &pageError{http.StatusRequestEntityTooLarge, fmt.Sprintf("A backup may have %d MB, and this file has more.", most>>20), ""}
}

// clear forgets all that could be taken back.
func (c *changes) clear() {
	c.mu.Lock()
	defer c.mu.Unlock()
	c.all, c.size = nil, 0
}

// restoreError says plainly what is wrong with a file. An error of the store about
// a file has a way out, and below it what is wrong, without the name of a temporary
// file that says nothing to a person.
func restoreError(err error) error {
	var file interface {
		error
		Hint() string
		Unwrap() error
	}
	if errors.As(err, &file) && file.Unwrap() != nil {
		return &pageError{http.StatusUnprocessableEntity, sentence(file.Unwrap().Error()) + " Nothing was replaced.", sentence(file.Hint())}
	}
	return err
}

// roomError says that a temporary file had no room, where that is so.
func roomError(err error) error {
	full := []syscall.Errno{syscall.ENOSPC, syscall.EDQUOT}
	if runtime.GOOS == "windows" {
		// ERROR_HANDLE_DISK_FULL, ERROR_DISK_FULL, ERROR_DISK_QUOTA_EXCEEDED
		// (Microsoft, "System Error Codes").
		full = []syscall.Errno{39, 112, 1295}
	}
	if slices.ContainsFunc(full, func(n syscall.Errno) bool { return errors.Is(err, n) }) {
		return fmt.Errorf("%w (%w)", course.ErrFull, err)
	}
	return err
}
