package main

import (
	"bufio"
	"bytes"
	"context"
	"fmt"
	"io"
	"os"
	"runtime"
	"runtime/debug"
	"sync"

	"halves/redox"
)

// Lines go to the workers in batches, so that handing over costs little.
const (
	batchLines = 64
	batchBytes = 64 << 10
)

// A batch is some lines and, later, their answers.
type batch struct {
	text  []byte
	lines []batchLine
	out   []byte
	done  chan struct{}
}

type batchLine struct {
	number   int
	from, to int // in text
	long     bool
}

// A task is what is done with each line. The answer is a JSON object.
type task struct {
	key    string // the member of a JSON line that holds the text
	answer func(request) ([]byte, error)
	resume bool  // go on where a run was broken off
	done   int64 // lines that were answered before
}

// eachLine answers every line of the file from, or of standard input for "-",
// into the file to, or on standard output.
func (a *app) eachLine(ctx context.Context, from, to string, t task) error {
	if from == "" {
		return &usageError{msg: "--each names no file", hint: "give the name of a file, or - for standard input"}
	}
	in, name, size, err := a.input(from)
	if err != nil {
		return err
	}
	defer in.Close()
	// Each line leaves much garbage and little that stays; collecting it less
	// often is a third faster, and the limit keeps the memory small.
	defer debug.SetGCPercent(debug.SetGCPercent(400))
	defer debug.SetMemoryLimit(debug.SetMemoryLimit(48 << 20))
	bar := a.newProgress(to, size, "lines")
	defer bar.stop()
	write := func(w io.Writer, done int64) error {
		t.done = done
		if err := each(ctx, in, w, t, bar); err != nil {
			return &fileError{name, err}
		}
		return nil
	}
	if t.resume {
		return continued(to, write)
	}
	return a.output(to, func(w io.Writer) error { return write(w, 0) })
}

// continued writes lines to path by way of path.part, in which a run that was
// broken off leaves what it has; the next goes on behind its last whole line.
// done is how many stand there.
func continued(path string, write func(w io.Writer, done int64) error) error {
	part := path + ".part"
	f, err := os.OpenFile(part, os.O_RDWR|os.O_CREATE, 0o666)
	if err != nil {
		return &fileError{part, err}
	}
	defer f.Close() // again, perhaps
	done, size, err := wholeLines(f)
	if err == nil {
		err = f.Truncate(size)
	}
	if err == nil {
		_, err = f.Seek(size, io.SeekStart)
	}
	if err != nil {
		return &fileError{part, err}
	}
	w := &errWriter{w: f}
	if err := write(w, done); err != nil && w.err == nil {
		return err
	}
	for _, step := range []func() error{func() error { return w.err }, f.Sync, f.Close, func() error { return os.Rename(part, path) }} {
		if err := step(); err != nil {
			return &fileError{part, err}
		}
	}
	return nil
}

// wholeLines counts the lines of a file that are ended, and their bytes.
func wholeLines(f io.Reader) (lines, size int64, err error) {
	r := bufio.NewReaderSize(f, 64<<10)
	at := int64(0)
	for {
		b, err := r.ReadSlice('\n')
		at += int64(len(b))
		switch err {
		case nil:
			lines, size = lines+1, at
		case bufio.ErrBufferFull:
		case io.EOF:
			return lines, size, nil
		default:
			return 0, 0, err
		}
	}
}

// each reads lines from in and writes the answer to each to out, in order; the
// first t.done of them, which were answered before, it leaves out. It works on all
// cores and keeps only a few batches at a time.
func each(ctx context.Context, in io.Reader, out io.Writer, t task, bar *progress) error {
	ctx, cancel := context.WithCancel(ctx)
	defer cancel()
	workers := runtime.GOMAXPROCS(0)
	todo := make(chan *batch, 2*workers)
	order := make(chan *batch, 4*workers) // what was handed out, to be written in this order
	pool := sync.Pool{New: func() any { return &batch{done: make(chan struct{}, 1)} }}

	var reading error
	go func() {
		defer close(order)
		defer close(todo)
		lines := newLineReader(in)
		if reading = lines.skip(t.done); reading != nil {
			return
		}
		reading = readBatches(ctx, lines, func() *batch { return pool.Get().(*batch) }, func(b *batch) bool {
			select {
			case order <- b:
			case <-ctx.Done():
				return false
			}
			select {
			case todo <- b:
				return true
			case <-ctx.Done():
				return false
			}
		})
	}()
	for range workers {
		go func() {
			for b := range todo {
				b.work(t)
				b.done <- struct{}{}
			}
		}()
	}
	w := bufio.NewWriterSize(out, 64<<10)
	var lines int64
	for {
		var b *batch
		var ok bool
		select {
		case b, ok = <-order:
		default:
			// Nothing is waiting: somebody may be reading along.
			if err := w.Flush(); err != nil {
				return err
			}
			select {
			case b, ok = <-order:
			case <-ctx.Done():
				return ctx.Err()
			}
		}
		if !ok {
			if err := ctx.Err(); err != nil {
				return err
			}
			if err := w.Flush(); err != nil {
				return err
			}
			return reading
		}
		select {
		case <-b.done:
		case <-ctx.Done():
			return ctx.Err()
		}
		if _, err := w.Write(b.out); err != nil {
			return err
		}
		lines += int64(len(b.lines))
		bar.set(lines, int64(len(b.text)))
		pool.Put(b)
	}
}

// readBatches cuts the input into batches. It ends at the end of the input, at
// an error of reading, which it returns, or where send is false. Before it may
// have to wait for input it sends what it has.
func readBatches(ctx context.Context, r *lineReader, get func() *batch, send func(*batch) bool) error {
	for ctx.Err() == nil {
		b := get()
		b.text, b.lines, b.out = b.text[:0], b.lines[:0], b.out[:0]
		var err error
		for len(b.lines) < batchLines && len(b.text) < batchBytes {
			from := len(b.text)
			var long bool
			if b.text, long, err = r.next(b.text); err != nil {
				break
			}
			if long || len(bytes.TrimSpace(b.text[from:])) > 0 {
				b.lines = append(b.lines, batchLine{r.number, from, len(b.text), long})
			}
			if r.waiting() {
				break
			}
		}
		if len(b.lines) > 0 && !send(b) {
			return nil
		}
		if err == io.EOF {
			return nil
		}
		if err != nil {
			return err
		}
	}
	return nil
}

// work answers the lines of a batch.
func (b *batch) work(t task) {
	for _, l := range b.lines {
		b.out = l.answer(b.out, b.text[l.from:l.to], t)
	}
}

// answer appends the answer to one line. A defect met on the way is that
// line's error and does not take the others with it.
func (l batchLine) answer(dst, text []byte, t task) (out []byte) {
	id, start := fmt.Append(nil, l.number), len(dst)
	fail := func(err error) []byte {
		object, err := report(err).MarshalJSON()
		if err != nil {
			return dst[:start] // a report is always written
		}
		return appendLine(dst[:start], id, object)
	}
	defer func() {
		if r := recover(); r != nil {
			out = fail(&redox.InternalError{Given: string(text), Msg: fmt.Sprint(r)})
		}
	}()
	if l.long {
		return fail(&lineError{kind: redox.KindTooLarge, msg: fmt.Sprintf("too large: a line may have %d bytes", maxLine), hint: "give one question on each line"})
	}
	r, err := readRequest(text, l.number, t.key)
	id = r.id
	if err != nil {
		return fail(err)
	}
	object, err := t.answer(r)
	if err != nil {
		return fail(err)
	}
	return appendLine(dst, id, object)
}
