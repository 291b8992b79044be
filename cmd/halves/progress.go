package main

import (
	"fmt"
	"sync/atomic"

	"github.com/vbauerster/mpb/v8"
	"github.com/vbauerster/mpb/v8/decor"
)

// A progress is a bar on a terminal; nil is none.
type progress struct {
	all   *mpb.Progress
	bar   *mpb.Bar
	lines atomic.Int64
	bytes int64
}

// newProgress shows a bar where standard error is a terminal and the answers go
// elsewhere. size is that of the input in bytes, -1 where it is not known: the
// lines are counted then. what is counted is said beside the bar.
func (a *app) newProgress(file string, size int64, what string) *progress {
	if !isTerminal(a.stderr) || file == "" && isTerminal(a.stdout) {
		return nil
	}
	p := &progress{all: mpb.New(mpb.WithOutput(a.stderr), mpb.WithWidth(60))}
	count := decor.Any(func(decor.Statistics) string { return fmt.Sprintf("%d %s", p.lines.Load(), what) })
	if size <= 0 {
		p.bar = p.all.New(0, mpb.NopStyle(), mpb.PrependDecorators(count))
	} else {
		p.bar = p.all.AddBar(size, mpb.PrependDecorators(decor.Percentage(decor.WCSyncSpace)), mpb.AppendDecorators(count))
	}
	return p
}

// set tells that so many lines in all, and so many bytes more, are done.
func (p *progress) set(lines, bytes int64) {
	if p == nil {
		return
	}
	p.lines.Store(lines)
	p.bytes += bytes
	p.bar.SetCurrent(p.bytes)
}

// stop leaves the bar as it is.
func (p *progress) stop() {
	if p == nil {
		return
	}
	p.bar.SetTotal(-1, true)
	p.all.Wait()
}
