package redox

import (
	"bytes"
	"encoding/json"
	"errors"
	"strconv"
	"unicode/utf8"

	"halves/balance"
	"halves/chem"
	"halves/oxidation"
)

// The JSON of solutions and errors, described by solution.schema.json. Equations
// and species are canonical plain text.

// MarshalJSON writes the solution as solution.schema.json describes it. It is
// written by hand, since it is most of the time that a line of many takes.
func (s *Solution) MarshalJSON() ([]byte, error) {
	w := &jsonWriter{b: make([]byte, 0, 8<<10)}
	w.object(func() {
		w.text("question", s.Given)
		w.text("equation", s.Equation.String())
		w.text("medium", string(s.Medium))
		w.key("conventions")
		w.object(func() {
			w.text("by", s.Conventions.By.String())
			w.flag("hydronium", s.Conventions.Hydronium)
			w.flag("baseInHalves", s.Conventions.BaseInHalves)
			w.flag("phases", s.Conventions.Phases)
			w.flag("ones", s.Conventions.Ones)
			w.flag("equals", s.Conventions.Equals)
			w.flag("roman", s.Conventions.Roman)
			w.flag("comma", s.Conventions.Comma)
			w.text("names", s.Conventions.Names.Style.String())
			w.flag("sulph", s.Conventions.Names.Sulph)
		})
		w.flag("redox", s.Redox())
		w.key("electrons")
		if s.Electrons == nil {
			w.raw("null")
		} else {
			w.b = strconv.AppendInt(w.b, *s.Electrons, 10)
		}
		w.names("oxidized", s.Oxidized)
		w.names("reduced", s.Reduced)
		list(w, "species", s.Species, func(x SpeciesStates) {
			w.text("formula", x.Species.String())
			w.number("charge", x.Species.Charge())
			list(w, "states", x.States, func(st oxidation.State) {
				w.text("element", st.Element.Symbol())
				w.key("values")
				w.strings(st.Values())
				w.flag("average", st.Average)
				w.text("reason", st.Reason)
			})
		})
		w.changes(s.Changes)
		w.halves(s.Halves)
		w.steps(s.Steps)
		list(w, "ledger", s.Ledger, func(e balance.Entry) {
			w.text("law", e.Law.String())
			w.text("left", e.Left.String())
			w.text("right", e.Right.String())
		})
		list(w, "notes", s.Notes, func(n Note) {
			w.text("kind", string(n.Kind))
			w.text("text", n.Text)
		})
	})
	return w.b, nil
}

// A jsonWriter appends JSON members; a comma stands before each but the first.
type jsonWriter struct{ b []byte }

func (w *jsonWriter) raw(s string) { w.b = append(w.b, s...) }

func (w *jsonWriter) comma() {
	if c := w.b[len(w.b)-1]; c != '{' && c != '[' {
		w.b = append(w.b, ',')
	}
}

func (w *jsonWriter) key(k string) {
	w.comma()
	w.b = append(w.b, '"')
	w.raw(k)
	w.raw(`":`)
}

func (w *jsonWriter) object(members func()) {
	w.b = append(w.b, '{')
	members()
	w.b = append(w.b, '}')
}

// string writes s; what is not plain ASCII takes the standard library's way.
func (w *jsonWriter) string(s string) {
	for i := range len(s) {
		if c := s[i]; c < ' ' || c == '"' || c == '\\' || c >= utf8.RuneSelf {
			var quoted bytes.Buffer
			e := json.NewEncoder(&quoted)
			e.SetEscapeHTML(false)
			e.Encode(s) // cannot fail on a string
			w.b = append(w.b, bytes.TrimSuffix(quoted.Bytes(), []byte("\n"))...)
			return
		}
	}
	w.b = append(w.b, '"')
	w.raw(s)
	w.b = append(w.b, '"')
}

func (w *jsonWriter) strings(all []string) {
	w.b = append(w.b, '[')
	for _, s := range all {
		w.comma()
		w.string(s)
	}
	w.b = append(w.b, ']')
}

func (w *jsonWriter) text(k, s string) {
	w.key(k)
	w.string(s)
}

func (w *jsonWriter) number(k string, n int64) {
	w.key(k)
	w.b = strconv.AppendInt(w.b, n, 10)
}

func (w *jsonWriter) flag(k string, f bool) {
	w.key(k)
	w.b = strconv.AppendBool(w.b, f)
}

func (w *jsonWriter) names(k string, all []*chem.Species) {
	w.key(k)
	w.b = append(w.b, '[')
	for _, s := range all {
		w.comma()
		w.string(s.String())
	}
	w.b = append(w.b, ']')
}

// list writes an array of objects.
func list[T any](w *jsonWriter, k string, all []T, members func(T)) {
	w.key(k)
	w.b = append(w.b, '[')
	for _, x := range all {
		w.comma()
		w.object(func() { members(x) })
	}
	w.b = append(w.b, ']')
}

func (w *jsonWriter) changes(all []Change) {
	list(w, "changes", all, func(c Change) {
		w.text("element", c.Element.Symbol())
		w.text("from", c.From.Signed())
		w.text("to", c.To.Signed())
		w.text("electronsPerAtom", c.Electrons().String())
		w.names("reactants", c.Reactants)
		w.names("products", c.Products)
	})
}

func (w *jsonWriter) halves(all []Half) {
	list(w, "halves", all, func(h Half) {
		w.text("role", string(h.Role))
		w.equation("equation", h.Equation)
		w.number("electrons", h.Electrons)
		w.number("multiplier", h.Multiplier)
		w.changes(h.Changes)
	})
}

func (w *jsonWriter) steps(all []Step) {
	list(w, "steps", all, func(s Step) {
		w.text("rule", string(s.Rule))
		w.key("half") // an index into halves, null for the whole equation
		if s.Half < 0 {
			w.raw("null")
		} else {
			w.b = strconv.AppendInt(w.b, int64(s.Half), 10)
		}
		w.equation("before", s.Before)
		w.equation("after", s.After)
		if s.Written != nil {
			w.text("written", chem.PlainText(s.Written))
		}
		w.flag("done", s.Done)
		w.text("reason", s.Reason)
	})
}

// equation writes a member, unless the equation has no terms.
func (w *jsonWriter) equation(k string, e chem.Equation) {
	if len(e.Left)+len(e.Right) > 0 {
		w.text(k, e.String())
	}
}

// An ErrorKind names the kind of an error for programs.
type ErrorKind string

// The kinds of errors.
const (
	KindUnreadable    ErrorKind = "unreadable"
	KindNoAnswer      ErrorKind = "no-answer"
	KindManyAnswers   ErrorKind = "many-answers"
	KindNotRedox      ErrorKind = "not-redox"
	KindOnlyOxidation ErrorKind = "only-oxidation"
	KindOnlyReduction ErrorKind = "only-reduction"
	KindTooLarge      ErrorKind = "too-large"
	KindMediumNeeded  ErrorKind = "medium-needed"
	KindStatesOpen    ErrorKind = "states-open"
	KindInternal      ErrorKind = "internal"
)

// A Report is an error as every surface of the program draws it.
type Report struct {
	Kind    ErrorKind
	Message string // one sentence, no capital, no full stop
	Text    string // the line as typed, "" where there is no place
	Offset  int    // bytes from the start of Text; -1 where there is no place
	Width   int    // bytes
	Column  int    // characters, from 1; 0 where there is no place
	Hint    string
	Halves  []Half          // worked, where only one half is there
	Steps   []Step          // of these halves
	Answers []chem.Equation // where there are many
	Example chem.Equation   // one of the many that uses every species
	All     bool            // Answers are all elementary ones
	Medium  Medium          // of Halves
}

// NewReport explains any error of this package or of chem.
func NewReport(err error) Report {
	r := Report{Message: err.Error(), Offset: -1}
	if h, ok := err.(interface{ Hint() string }); ok {
		r.Hint = h.Hint()
	}
	var (
		syntax *chem.SyntaxError
		large  *chem.TooLargeError
		no     *NoAnswerError
		many   *ManyAnswersError
		half   *HalfMissingError
		medium *MediumNeededError
		states *OpenStatesError
	)
	switch {
	case errors.As(err, &syntax):
		r.Kind, r.Message, r.Text, r.Offset, r.Width, r.Column, r.Hint = KindUnreadable, syntax.Msg, syntax.Text, syntax.Offset, syntax.Width, syntax.Column(), syntax.Hint
	case errors.As(err, &large):
		r.Kind = KindTooLarge
		if large.Text != "" {
			at := chem.SyntaxError{Text: large.Text, Offset: large.Offset}
			r.Text, r.Offset, r.Width, r.Column = large.Text, large.Offset, large.Width, at.Column()
		}
	case errors.As(err, &no):
		r.Kind = KindNoAnswer
	case errors.As(err, &many):
		r.Kind, r.Answers, r.Example, r.All = KindManyAnswers, many.Elementary, many.Example, many.Complete
	case errors.As(err, &half):
		r.Kind, r.Halves, r.Steps, r.Medium = KindOnlyOxidation, half.Halves, half.Steps, half.Medium
		if half.Present == Reduction {
			r.Kind = KindOnlyReduction
		}
	case errors.As(err, &medium):
		r.Kind = KindMediumNeeded
	case errors.As(err, &states):
		r.Kind = KindStatesOpen
	default:
		r.Kind = KindInternal
	}
	return r
}

// MarshalJSON writes {"error":{"kind","message","offset","hint"}} and, by
// kind, the worked halves or the several answers.
func (r Report) MarshalJSON() ([]byte, error) {
	w := &jsonWriter{}
	w.object(func() {
		w.key("error")
		w.object(func() {
			w.text("kind", string(r.Kind))
			w.text("message", r.Message)
			w.key("offset") // bytes from the start of the question, null where there is no place
			if r.Offset < 0 {
				w.raw("null")
			} else {
				w.b = strconv.AppendInt(w.b, int64(r.Offset), 10)
			}
			w.text("hint", r.Hint)
		})
		if r.Halves != nil {
			w.halves(r.Halves)
			w.steps(r.Steps)
		}
		if r.Answers != nil {
			w.key("equations")
			texts := make([]string, len(r.Answers))
			for i, e := range r.Answers {
				texts[i] = e.String()
			}
			w.strings(texts)
			w.flag("complete", r.All)
		}
		w.equation("example", r.Example)
	})
	return w.b, nil
}
