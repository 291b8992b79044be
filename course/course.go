// Package course is what an instructor keeps: the course with its settings, the
// questions that were saved or brought in, the sets, and what was worked lately.
//
// It says what is kept and what holds of it; how it is kept a store decides, which
// implements Store. Nothing here knows of pages or of files.
package course

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"strings"
	"time"
	"unicode/utf8"

	"halves/redox"
)

// Bounds of what is kept.
const (
	MaxName     = 200       // characters of a title or a name
	MaxQuestion = 4 << 10   // bytes of a question as typed
	MaxNote     = 4 << 10   // bytes of a note
	MaxSet      = 16 << 20  // bytes of a set
	MaxWorking  = 256 << 10 // bytes of a working
	MaxHistory  = 200       // questions that are remembered
)

// Settings are those of the desk: how the class works, and on what paper.
type Settings struct {
	Course      string // "General Chemistry II"
	Section     string // "B"; "" for none
	Conventions redox.Conventions
	Letter      bool // US Letter in place of A4
}

// A Question is one that the instructor keeps.
type Question struct {
	ID      int64 // 0 before it is kept
	Text    string
	Medium  redox.Medium
	Note    string
	Created time.Time
}

// A Set is a set of questions as package question writes it.
type Set struct {
	ID      int64
	Title   string
	JSON    []byte // nil in lists
	Count   int    // questions in each version
	Version int    // versions
	Created time.Time
	Changed time.Time
}

// A Worked is a question that was worked, with what was asked for.
type Worked struct {
	ID     int64
	Text   string
	Medium redox.Medium // as stated beside the question, or redox.Unstated
	At     time.Time
}

// A Store keeps it all. Every method is one act: done whole or not at all, and
// still there after a restart once it has returned. Times are in UTC, to the
// millisecond; the zero time in what is saved stands for now.
//
// The errors are *NotFoundError for an ID that is not kept, *InvalidError for what
// Check refuses, ErrFull where the disk has no room, ErrBusy where another program
// holds the store too long, and others of the store, wrapped with what was done.
type Store interface {
	// Settings returns the settings; the zero value before any were kept.
	Settings(ctx context.Context) (Settings, error)
	SaveSettings(ctx context.Context, s Settings) error

	// Questions lists those that are kept, the newest first. Those whose text or
	// note holds every word of search, in whatever case, are listed; all for "".
	Questions(ctx context.Context, search string) ([]Question, error)
	Question(ctx context.Context, id int64) (Question, error)
	// SaveQuestion keeps a new question (ID 0) or changes one, and returns its ID.
	// A change leaves Created as it is; an ID that was deleted is not given again.
	SaveQuestion(ctx context.Context, q Question) (int64, error)
	DeleteQuestion(ctx context.Context, id int64) error

	// Sets lists the sets without their JSON, that changed last first.
	Sets(ctx context.Context) ([]Set, error)
	Set(ctx context.Context, id int64) (Set, error)
	SaveSet(ctx context.Context, s Set) (int64, error)
	DeleteSet(ctx context.Context, id int64) error

	// History lists what was worked lately, the latest first, each text and medium
	// once; at most MaxHistory are remembered.
	History(ctx context.Context) ([]Worked, error)
	Remember(ctx context.Context, w Worked) error
	ForgetHistory(ctx context.Context) error

	// Backup writes the whole store into a new file at path, while others go on
	// reading and writing. Nothing is left at path where it fails.
	Backup(ctx context.Context, path string) error
	Close() error
}

// Errors of a store.
var (
	ErrFull = errors.New("the disk is full: nothing was kept")
	ErrBusy = errors.New("another program holds the data: nothing was kept; try again in a moment")
)

// A NotFoundError says that nothing is kept under an ID.
type NotFoundError struct {
	What string // "question", "set"
	ID   int64
}

func (e *NotFoundError) Error() string {
	return fmt.Sprintf("there is no %s %d any more", e.What, e.ID)
}

// An InvalidError says what of something cannot be kept.
type InvalidError struct{ What, Msg string }

func (e *InvalidError) Error() string { return e.What + " " + e.Msg }

// Check reports whether settings can be kept. The error is an *InvalidError.
func (s Settings) Check() error {
	if err := name("the course", s.Course, true); err != nil {
		return err
	}
	return name("the section", s.Section, true)
}

// Check reports whether a question can be kept.
func (q Question) Check() error {
	switch {
	case strings.TrimSpace(q.Text) == "":
		return &InvalidError{"the question", "is empty"}
	case len(q.Text) > MaxQuestion || !isText(q.Text):
		return &InvalidError{"the question", fmt.Sprintf("is longer than %d bytes, or no text", MaxQuestion)}
	case len(q.Note) > MaxNote || !isText(q.Note):
		return &InvalidError{"the note", fmt.Sprintf("is longer than %d bytes, or no text", MaxNote)}
	case q.Medium != redox.Unstated && !slices.Contains(redox.Media, q.Medium):
		return &InvalidError{"the medium", fmt.Sprintf("%q is none that Halves knows", q.Medium)}
	}
	return nil
}

// Check reports whether a set can be kept.
func (s Set) Check() error {
	if err := name("the title", s.Title, false); err != nil {
		return err
	}
	if len(s.JSON) == 0 || len(s.JSON) > MaxSet || !isText(string(s.JSON)) {
		return &InvalidError{"the set", fmt.Sprintf("is empty, larger than %d bytes, or no text", MaxSet)}
	}
	return nil
}

// Check reports whether a worked question can be remembered.
func (w Worked) Check() error { return Question{Text: w.Text, Medium: w.Medium}.Check() }

// isText reports whether every store can keep s: UTF-8 without the character 0,
// which some databases refuse in a text.
func isText(s string) bool { return utf8.ValidString(s) && !strings.ContainsRune(s, 0) }

// name checks a name or a title.
func name(what, s string, empty bool) error {
	switch {
	case !empty && strings.TrimSpace(s) == "":
		return &InvalidError{what, "has no name"}
	case utf8.RuneCountInString(s) > MaxName || !utf8.ValidString(s) || strings.ContainsAny(s, "\n\r\x00"):
		return &InvalidError{what, fmt.Sprintf("is longer than %d characters, or more than one line", MaxName)}
	}
	return nil
}
