package question

import (
	"errors"
	"fmt"
	"slices"
	"strings"
	"unicode/utf8"

	"halves/chem"
	"halves/redox"
)

// MaxOwn is how many bytes a file of own questions may have.
const MaxOwn = 4 << 20

// ReadOwn reads own questions, one a line, each with its medium where it needs
// one ("MnO4^- + Fe^2+ -> Mn^2+ + Fe^3+, in acid"). Empty lines and lines that
// begin with # are passed over. Each is worked; what cannot be is told with its
// line, and the others are returned beside. name stands in the ids.
func ReadOwn(name string, text []byte) (all []*Question, faults []*FileError) {
	switch {
	case len(text) > MaxOwn:
		return nil, []*FileError{{Msg: fmt.Sprintf("a file of questions may have %d bytes, and this one has %d", MaxOwn, len(text))}}
	case !utf8.Valid(text):
		return nil, []*FileError{{Msg: "this is not text in UTF-8", Tip: "save the file as UTF-8, one question a line"}}
	}
	lines := map[string]int{}
	for i, l := range strings.Split(strings.TrimPrefix(string(text), "\ufeff"), "\n") {
		l = strings.TrimSpace(l)
		if l == "" || strings.HasPrefix(l, "#") {
			continue
		}
		fault := func(msg, hint string, err error) {
			e := &FileError{Line: i + 1, Column: 1, Msg: msg, Tip: hint, Err: err}
			var syntax *chem.SyntaxError
			if errors.As(err, &syntax) {
				e.Column, e.Msg = utf8.RuneCountInString(l[:min(syntax.Offset, len(l))])+1, syntax.Msg
			}
			faults = append(faults, e)
		}
		q, err := Own(fmt.Sprintf("%s:%d", name, i+1), l, redox.Unstated)
		if err != nil {
			hint := ""
			var hinted interface{ Hint() string }
			if errors.As(err, &hinted) {
				hint = hinted.Hint()
			}
			var medium *redox.MediumNeededError
			if errors.As(err, &medium) {
				hint = "write it behind the question: , in acid"
			}
			fault(err.Error(), hint, err)
			continue
		}
		if before, twice := lines[q.key()]; twice {
			fault(fmt.Sprintf("this is the question of line %d again", before), "keep one of the two", nil)
			continue
		}
		lines[q.key()] = i + 1
		all = append(all, q)
	}
	return all, faults
}

// OwnSource is the source of questions of one's own.
const OwnSource = "own question"

// Own makes a question of a line that someone typed, which may say its medium. The
// medium is kept apart from the skeleton. The errors are those of New.
func Own(id, line string, m redox.Medium) (*Question, error) {
	q, err := New(id, line, m)
	if err != nil {
		return nil, err
	}
	q.Text, q.Source = q.skeleton.String(), OwnSource
	return q, nil
}

// key is the same for questions that are trivially the same.
func (q *Question) key() string {
	all := slices.Clone(q.species)
	slices.Sort(all)
	return strings.Join(all, " ") + string(q.Medium)
}
