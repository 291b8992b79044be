package main

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"math/rand/v2"
	"os"
	"path/filepath"
	"syscall"

	"golang.org/x/term"

	"halves/document"
)

// output lets write make what belongs into the file at path, or on standard
// output where path is empty. A file is written beside and renamed, so that it
// is there whole or not at all. The error is write's own, or a *fileError.
func (a *app) output(path string, write func(io.Writer) error) error {
	if path == "" {
		w := &errWriter{w: a.stdout}
		if err := write(w); w.err == nil {
			return err
		}
		return &fileError{"standard output", w.err}
	}
	return writeFile(path, write)
}

// An errWriter remembers the first error of writing.
type errWriter struct {
	w   io.Writer
	err error
}

func (e *errWriter) Write(p []byte) (int, error) {
	if e.err != nil {
		return 0, e.err
	}
	n, err := e.w.Write(p)
	e.err = err
	return n, err
}

func writeFile(path string, write func(io.Writer) error) (err error) {
	// A link stays a link: what it points to is replaced.
	target := path
	if real, err := filepath.EvalSymlinks(path); err == nil {
		target = real
	}
	info, err := os.Stat(target)
	switch {
	case err == nil && info.IsDir():
		return &fileError{path, syscall.EISDIR}
	case err == nil && !info.Mode().IsRegular():
		return writeDevice(path, target, write)
	}
	f, err := createBeside(target)
	if err != nil {
		if errors.Is(err, fs.ErrNotExist) {
			return &fileError{path, fmt.Errorf("there is no folder %s", filepath.Dir(path))}
		}
		return &fileError{path, err}
	}
	defer func() {
		if err != nil {
			f.Close() // again, perhaps; the file goes
			os.Remove(f.Name())
		}
	}()
	w := &errWriter{w: f}
	if err := write(w); err != nil && w.err == nil {
		return err
	}
	steps := []func() error{
		func() error { return w.err },
		func() error {
			if info != nil {
				return f.Chmod(info.Mode().Perm())
			}
			return nil
		},
		f.Sync,
		f.Close,
		func() error { return os.Rename(f.Name(), target) },
	}
	for _, step := range steps {
		if err := step(); err != nil {
			return &fileError{path, err}
		}
	}
	return nil
}

// writeDevice writes straight into what is no ordinary file.
func writeDevice(path, target string, write func(io.Writer) error) error {
	f, err := os.OpenFile(target, os.O_WRONLY, 0)
	if err != nil {
		return &fileError{path, err}
	}
	w := &errWriter{w: f}
	err = write(w)
	closing := f.Close()
	switch {
	case w.err != nil:
		return &fileError{path, w.err}
	case err != nil:
		return err
	case closing != nil:
		return &fileError{path, closing}
	}
	return nil
}

// createBeside makes a new file in the folder of target, with the rights that a
// new file has here.
func createBeside(target string) (*os.File, error) {
	dir, base := filepath.Split(target)
	for {
		name := fmt.Sprintf("%s.%s.%08x.part", dir, base, rand.Uint32())
		f, err := os.OpenFile(name, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o666)
		if !errors.Is(err, fs.ErrExist) {
			return f, err
		}
	}
}

// input opens the file at path, or standard input where path is "-". size is
// -1 where it is not known.
func (a *app) input(path string) (r io.ReadCloser, name string, size int64, err error) {
	if path == "-" {
		return io.NopCloser(a.stdin), "standard input", -1, nil
	}
	f, err := os.Open(path)
	if err != nil {
		return nil, path, 0, &fileError{path, err}
	}
	info, err := f.Stat()
	if err == nil && info.IsDir() {
		err = syscall.EISDIR
	}
	if err != nil {
		f.Close()
		return nil, path, 0, &fileError{path, err}
	}
	if !info.Mode().IsRegular() {
		return f, path, -1, nil
	}
	return f, path, info.Size(), nil
}

// isTerminal reports whether w is a terminal.
func isTerminal(w any) bool {
	f, ok := w.(*os.File)
	return ok && term.IsTerminal(int(f.Fd()))
}

// widest is the widest text that is still easy to read, where the width is
// taken from the terminal.
const widest = 120

// textOptions settles how text is written to the terminal or file it goes to.
func (a *app) textOptions(d display) document.TextOptions {
	o := document.TextOptions{Width: d.width, ASCII: d.ascii}
	if d.file == "" && isTerminal(a.stdout) {
		// NO_COLOR: any value but the empty one means no (no-color.org).
		o.Color = os.Getenv("NO_COLOR") == "" && os.Getenv("TERM") != "dumb"
		if o.Width == 0 {
			if columns, _, err := term.GetSize(int(a.stdout.(*os.File).Fd())); err == nil && columns > 0 {
				o.Width = min(columns, widest)
			}
		}
	}
	return o
}

// plainJSON writes the characters <, > and & as themselves, which the encoder
// writes for web pages as numbers. The strings stay the same. It works in place.
func plainJSON(b []byte) []byte {
	if !bytes.Contains(b, []byte(`\u00`)) {
		return b
	}
	out := b[:0]
	for i := 0; i < len(b); i++ {
		if b[i] != '\\' || i+1 == len(b) {
			out = append(out, b[i])
			continue
		}
		if i+5 < len(b) && b[i+1] == 'u' {
			switch string(b[i+2 : i+6]) {
			case "003e":
				out = append(out, '>')
				i += 5
				continue
			case "003c":
				out = append(out, '<')
				i += 5
				continue
			case "0026":
				out = append(out, '&')
				i += 5
				continue
			}
		}
		out = append(out, b[i], b[i+1])
		i++
	}
	return out
}
