package main

import (
	"context"
	"fmt"
	"io"
	"os"
	"runtime"
	"runtime/debug"
	"slices"

	"halves/marking"
	"halves/redox"
)

// markAll marks workings and shows what came of them.
func (a *app) markAll(ctx context.Context, o *markOptions, m *marker, paths []string, pages *pages) error {
	var faults []fault
	n := 0
	// fill hands on each marked working, in order.
	fill := func(put func(marked) error) ([]fault, error) {
		bar := a.markProgress(o, paths)
		defer bar.stop()
		err := a.judgeAll(ctx, o, m, paths, bar, func(x judged) error {
			if x.why != "" {
				faults = append(faults, fault{x.from(), x.script.student, x.why})
				return nil
			}
			n++
			if err := pages.add(a, x.script.student, x.marked.question, x.full, x.marks); err != nil {
				return err
			}
			return put(x.marked)
		})
		switch {
		case err != nil:
			return nil, err
		case n == 0 && len(faults) == 1:
			return nil, &usageError{msg: faults[0].From + " cannot be marked: " + faults[0].Why}
		case n == 0 && len(faults) == 0:
			return nil, &usageError{msg: "there is no working to mark: the table has no rows below its first"}
		}
		return faults, pages.finish(a)
	}
	var err error
	if o.format == "csv" || o.format == "xlsx" {
		// Nothing stays but a few batches. Collecting what each working leaves less
		// often is faster.
		defer debug.SetGCPercent(debug.SetGCPercent(200))
		err = a.output(o.file, func(w io.Writer) error { return writeSheet(w, o.format, fill) })
	} else {
		var all []marked
		_, err = fill(func(x marked) error {
			if o.format != "json" && len(all) > 0 {
				// The lines are shown of a single working.
				x.leaveLines()
				all[0].leaveLines()
			}
			all = append(all, x)
			return nil
		})
		if err == nil {
			err = a.showMarked(o, all, faults)
		}
	}
	if err != nil {
		return err
	}
	if len(faults) > 0 {
		return &usageError{msg: fmt.Sprintf("%d of %d workings could not be marked", len(faults), len(faults)+n), hint: "the reasons stand below the marks"}
	}
	return nil
}

// leaveLines drops what only a single working shows.
func (x *marked) leaveLines() { x.result.Lines, x.marks.Points = nil, nil }

// markProgress shows a bar where a table is read; its length is known where all
// are of comma-separated text.
func (a *app) markProgress(o *markOptions, paths []string) *progress {
	var size int64
	tables := 0
	for _, path := range paths {
		switch ending(path) {
		case "":
			continue
		case ".xlsx":
			size = -1
		}
		tables++
		if info, err := os.Stat(path); err != nil || !info.Mode().IsRegular() || size < 0 {
			size = -1
		} else {
			size += info.Size()
		}
	}
	if tables == 0 {
		return nil
	}
	return a.newProgress(o.file, size, "lines")
}

// A judged script is marked, or why says what is in the way.
type judged struct {
	script
	marked
	full  marking.Result // with the working, for its page
	blank bool           // a row that holds nothing
}

// A judgedBatch is some scripts and, later, what came of them.
type judgedBatch struct {
	all  []judged
	size int64
	done chan struct{}
}

// judgeAll reads the scripts of files one after the other, judges them on all
// cores, and hands each to take in its order. Only a few batches are kept.
func (a *app) judgeAll(ctx context.Context, o *markOptions, m *marker, paths []string, bar *progress, take func(judged) error) error {
	ctx, cancel := context.WithCancel(ctx)
	workers := runtime.GOMAXPROCS(0)
	todo := make(chan *judgedBatch, workers)
	order := make(chan *judgedBatch, 2*workers) // what was handed out, to be taken in this order
	var reading error
	read := make(chan struct{})
	defer func() {
		cancel()
		// A workbook has temporary files to remove; other input may never end.
		if slices.ContainsFunc(paths, func(p string) bool { return ending(p) == ".xlsx" }) {
			<-read
		}
	}()
	go func() {
		defer close(read)
		defer close(order)
		defer close(todo)
		b := &judgedBatch{done: make(chan struct{})}
		send := func() bool {
			for _, to := range []chan *judgedBatch{order, todo} {
				select {
				case to <- b:
				case <-ctx.Done():
					return false
				}
			}
			b = &judgedBatch{done: make(chan struct{})}
			return true
		}
		reading = a.readAll(paths, o, func(s script) bool {
			b.all = append(b.all, judged{script: s})
			b.size += s.size
			return len(b.all) < batchLines && b.size < batchBytes || send()
		})
		if len(b.all) > 0 {
			send()
		}
	}()
	for range workers {
		go func() {
			for b := range todo {
				for i := range b.all {
					m.judge(&b.all[i])
				}
				close(b.done)
			}
		}()
	}
	var rows int64
	for {
		var b *judgedBatch
		var more bool
		select {
		case b, more = <-order:
		case <-ctx.Done():
		}
		if b != nil {
			select {
			case <-b.done:
			case <-ctx.Done():
			}
		}
		switch err := ctx.Err(); {
		case err != nil:
			return &fileError{"the workings", err}
		case !more:
			return reading
		}
		for _, x := range b.all {
			if x.blank {
				continue
			}
			if err := take(x); err != nil {
				return err
			}
			rows++
		}
		bar.set(rows, b.size)
	}
}

// judge judges and marks one script. A defect met on the way is that of the
// script and does not take the others with it.
func (m *marker) judge(x *judged) {
	defer func() {
		if r := recover(); r != nil {
			x.why = (&redox.InternalError{Given: x.text, Msg: fmt.Sprint(r)}).Error()
		}
	}()
	if x.cells != nil {
		x.blank = x.part()
	}
	x.look()
	if x.blank || x.why != "" {
		return
	}
	p, err := m.prepare(x.script.question, x.medium)
	if err != nil {
		x.why = "the question: " + report(err).Message
		return
	}
	x.full = p.question.Judge(x.text)
	r := x.full
	x.marked = marked{
		student: x.script.student, question: p.text, marks: r.Mark(p.scheme), remark: remark(r),
		result: marking.Result{Lines: r.Lines, FirstSlip: r.FirstSlip, Kind: r.Kind, FinalCorrect: r.FinalCorrect},
	}
	if m.explain {
		for i, l := range r.Lines {
			var all []string
			if l.Verdict != marking.Comment {
				all = r.Explain(i + 1)
			}
			x.marked.explained = append(x.marked.explained, all)
		}
	}
}
