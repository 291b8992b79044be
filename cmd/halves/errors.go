package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"slices"
	"strings"
	"syscall"
	"unicode"
	"unicode/utf8"

	"github.com/spf13/pflag"

	"halves/energetics"
	"halves/internal/nearest"
	"halves/ooxml"
	"halves/question"
	"halves/redox"
)

// The exit statuses. They are a promise; new ones may be added.
const (
	statusWorked   = 0 // also: balanced, read
	statusNo       = 1 // chemistry says no; not balanced
	statusUnread   = 2 // the question or the command line cannot be read
	statusFile     = 3 // a file or the output failed
	statusInternal = 4 // a defect of the program
)

// statusByKind turns kinds of errors into exit statuses; nothing else does.
var statusByKind = map[redox.ErrorKind]int{
	redox.KindUnreadable:    statusUnread,
	redox.KindTooLarge:      statusUnread,
	redox.KindNoAnswer:      statusNo,
	redox.KindManyAnswers:   statusNo,
	redox.KindNotRedox:      statusNo,
	redox.KindOnlyOxidation: statusNo,
	redox.KindOnlyReduction: statusNo,
	redox.KindMediumNeeded:  statusNo,
	redox.KindStatesOpen:    statusNo,
	redox.KindInternal:      statusInternal,
	kindNotBalanced:         statusNo,
	kindMissing:             statusNo,
	kindNoCell:              statusNo,
	kindWish:                statusNo,
	kindConditions:          statusUnread,
	kindUsage:               statusUnread,
	kindFile:                statusFile,
}

// Kinds of errors that only the command line has.
const (
	kindNotBalanced redox.ErrorKind = "not-balanced"
	kindMissing     redox.ErrorKind = "missing-figure"
	kindNoCell      redox.ErrorKind = "no-cell"
	kindWish        redox.ErrorKind = "wish"
	kindConditions  redox.ErrorKind = "conditions"
	kindUsage       redox.ErrorKind = "usage"
	kindFile        redox.ErrorKind = "file"
)

// statuses is the part of the help on exit statuses: what 0 and 1 mean, "" for
// a command that has no 1.
func statuses(worked, no string) string {
	if no != "" {
		no = "  1  " + no + "\n"
	}
	return "Exit status:\n  0  " + worked + "\n" + no + `  2  the question or the command line cannot be read
  3  a file cannot be read or written
  4  a defect of the program`
}

// A usageError is a command line that makes no sense.
type usageError struct{ msg, hint string }

func (e *usageError) Error() string { return e.msg }

// A fileError is a file, or standard input or output, that failed.
type fileError struct {
	name string
	err  error
}

func (e *fileError) Error() string {
	var path *fs.PathError
	err := e.err
	if errors.As(err, &path) {
		err = path.Err
	}
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return "there is no file " + e.name
	case errors.Is(err, fs.ErrPermission):
		return e.name + " may not be opened: permission denied"
	case errors.Is(err, syscall.EISDIR):
		return e.name + " is a folder"
	case errors.Is(err, syscall.ENOSPC):
		return e.name + " could not be written: no space is left"
	case errors.Is(err, context.Canceled):
		return "interrupted"
	}
	return fmt.Sprintf("%s: %v", e.name, err)
}

func (e *fileError) Unwrap() error { return e.err }

// A shownError was shown already, as the result that was asked for; only its
// kind is left to tell.
type shownError struct{ kind redox.ErrorKind }

func (e *shownError) Error() string { return string(e.kind) }

// newReport explains any error of the engine.
func newReport(err error) redox.Report {
	r := redox.Report{Message: err.Error(), Offset: -1}
	if h, ok := err.(interface{ Hint() string }); ok {
		r.Hint = h.Hint()
	}
	var (
		missing    *energetics.MissingError
		cell       *energetics.NoCellError
		picture    *energetics.NoPictureError
		half       *energetics.HalfError
		conditions *energetics.ConditionError
		conflict   *question.ConflictError
		short      *question.ShortError
		space      *ooxml.SpaceError
	)
	switch {
	case errors.As(err, &missing):
		r.Kind = kindMissing
	case errors.As(err, &cell), errors.As(err, &picture):
		r.Kind = kindNoCell
	case errors.As(err, &half):
		r.Kind = redox.KindUnreadable
	case errors.As(err, &conditions):
		r.Kind = kindConditions
	case errors.As(err, &short), errors.As(err, &conflict):
		r.Kind = kindWish
	case errors.As(err, &space):
		r.Kind = kindUsage
	default:
		return redox.NewReport(err)
	}
	return r
}

func kindOf(err error) redox.ErrorKind {
	var (
		shown  *shownError
		usage  *usageError
		file   *fileError
		placed *placedError
	)
	switch {
	case errors.As(err, &shown):
		return shown.kind
	case errors.As(err, &usage), errors.As(err, &placed):
		return kindUsage
	case errors.As(err, &file):
		return kindFile
	}
	return newReport(err).Kind
}

func statusOf(err error) int {
	if status, ok := statusByKind[kindOf(err)]; ok {
		return status
	}
	return statusInternal
}

// isClosedPipe reports that nobody reads the output any more.
func isClosedPipe(err error) bool {
	return errors.Is(err, syscall.EPIPE) || errors.Is(err, io.ErrClosedPipe)
}

// showError writes an error to w unless it was shown, or nobody reads.
func showError(w io.Writer, err error) {
	var (
		shown  *shownError
		usage  *usageError
		placed *placedError
	)
	switch {
	case errors.As(err, &shown) || isClosedPipe(err):
	case errors.As(err, &usage):
		showReport(w, redox.Report{Message: usage.msg, Hint: usage.hint})
	case errors.As(err, &placed):
		showReport(w, placed.report())
	case kindOf(err) == kindFile:
		showReport(w, redox.Report{Message: err.Error()})
	default:
		showReport(w, newReport(err))
	}
}

// showReport draws an error: what, where, and a way out.
//
//	halves: column 28: no element has the symbol "co"
//	    MnO4^- + H2C2O4 -> Mn^2+ + co2, in acid
//	                               ^^^
//	hint: symbols start with a capital letter; did you mean CO2?
func showReport(w io.Writer, r redox.Report) {
	var b strings.Builder
	b.WriteString("halves: ")
	if r.Column > 0 {
		fmt.Fprintf(&b, "column %d: ", r.Column)
	}
	b.WriteString(r.Message + "\n")
	if r.Text != "" && r.Offset >= 0 && r.Offset <= len(r.Text) {
		b.WriteString(place(r.Text, r.Offset, r.Width))
	}
	if r.Hint != "" {
		b.WriteString("hint: " + r.Hint + "\n")
	}
	io.WriteString(w, b.String())
}

// place draws two lines: the text around the place, and carets under it. offset
// and length count bytes.
func place(text string, offset, length int) string {
	const (
		margin = "    "
		window = 72 // columns of text that are shown
		before = 48 // at most so many of them before the place
	)
	end := min(offset+length, len(text))
	from, to := utf8.RuneCountInString(text[:offset]), 0
	to = max(from+utf8.RuneCountInString(text[offset:end]), from+1)
	chars := []rune(text)
	for i, c := range chars {
		switch {
		case c == '\t' || unicode.Is(unicode.Zs, c):
			chars[i] = ' '
		case c == utf8.RuneError || !unicode.IsPrint(c) || unicode.Is(unicode.M, c):
			chars[i] = '?' // one column, so that the carets stand right
		}
	}
	left, right := "", ""
	if first := from - before; first > 0 && len(chars) > window {
		first = min(first, max(0, max(len(chars), from+1)-window))
		if first > 0 {
			chars, from, to, left = chars[first:], from-first, to-first, "..."
		}
	}
	if len(chars) > window {
		chars, right = chars[:window], "..."
	}
	to = max(min(to, len(chars)), from+1)
	indent := strings.Repeat(" ", len(left)+from)
	return margin + left + string(chars) + right + "\n" + margin + indent + strings.Repeat("^", to-from) + "\n"
}

// enumValue is a flag that takes one of several words.
type enumValue struct {
	what  string // what the words name: "medium"
	words []string
	set   func(word string) error
	get   func() string
}

var _ pflag.Value = (*enumValue)(nil)

func (v *enumValue) String() string {
	if v.get == nil {
		return ""
	}
	return v.get()
}

func (v *enumValue) Type() string { return strings.Join(v.words, "|") }

func (v *enumValue) Set(s string) error {
	if err := v.set(s); err != nil {
		e := &usageError{msg: fmt.Sprintf("there is no %s %q", v.what, s), hint: "it is one of: " + strings.Join(v.words, ", ")}
		if near := nearest.Word(s, slices.Values(v.words)); near != "" {
			e.hint += "; did you mean " + near + "?"
		}
		return e
	}
	return nil
}
