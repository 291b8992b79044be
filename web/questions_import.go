package web

import (
	"errors"
	"fmt"
	"io"
	"net/http"
	"slices"
	"strings"

	"halves/course"
	"halves/document"
	"halves/question"
)

// Bounds of an import.
const (
	maxImport   = question.MaxOwn + 64<<10 // bytes, with what a form adds
	mostLinesIn = 2000                     // questions at a time: each is worked, and kept by itself
	mostToldOf  = 50                       // that are shown
)

// A questionsImport is the page on which many questions are brought in.
type questionsImport struct {
	Text    string
	Mistake *told
	Read    bool // the text was read
	Good    []document.Inline
	Number  int // that can be kept
	Known   int // of them kept already
	Faults  []lineFault
	More    int // faults that are not shown
}

// A lineFault is a line that makes no question.
type lineFault struct {
	Line int
	told
}

func (s *Server) importPage(*http.Request) (view, error) {
	return importView(questionsImport{}), nil
}

func importView(p questionsImport) view {
	v := view{page: "questionimport", here: "questions", title: "Bring in questions", data: p}
	if p.Mistake != nil {
		v.status = p.Mistake.Status
	}
	return v
}

// importQuestions reads questions, one a line, from a file or a field; those that
// can be worked are kept where the form says so.
func (s *Server) importQuestions(r *http.Request) (view, error) {
	r.Body = http.MaxBytesReader(nil, r.Body, maxImport)
	text, err := importedText(r)
	if err != nil {
		return view{}, err
	}
	p := questionsImport{Text: text}
	fail := func(err error) (view, error) {
		p.Mistake = s.mistaken(r, err)
		return importView(p), nil
	}
	switch {
	case strings.TrimSpace(text) == "":
		return fail(&pageError{http.StatusUnprocessableEntity, "No question was sent.", "Choose a file, or paste lines."})
	case strings.Count(text, "\n") > mostLinesIn:
		return fail(&pageError{http.StatusUnprocessableEntity, fmt.Sprintf("More than %d lines cannot be brought in at a time.", mostLinesIn), "Part them."})
	}
	settings, err := s.o.Store.Settings(r.Context())
	if err != nil {
		return fail(err)
	}
	all, faults := question.ReadOwn("line", []byte(text))
	own, err := s.o.Store.Questions(r.Context(), "")
	if err != nil {
		return fail(err)
	}
	known := func(q *question.Question) bool {
		return slices.ContainsFunc(own, func(o course.Question) bool {
			if o.Text == q.Text && o.Medium == q.Medium {
				return true
			}
			w, err := s.owns.work(o)
			return err == nil && w.Same(q) && w.Medium == q.Medium
		})
	}
	p.Read = true
	var fresh []*question.Question
	for _, q := range all {
		if known(q) {
			p.Known++
			continue
		}
		fresh = append(fresh, q)
		if len(p.Good) < mostToldOf {
			p.Good = append(p.Good, document.Join(document.EquationOf(q.Skeleton(), settings.Conventions), document.MediumPhrase(q.Medium)))
		}
	}
	p.Number = len(fresh)
	lines := strings.Split(text, "\n")
	for _, f := range faults {
		if len(p.Faults) == mostToldOf {
			p.More = len(faults) - mostToldOf
			break
		}
		p.Faults = append(p.Faults, newLineFault(f, lines))
	}
	if r.FormValue("do") != "keep" {
		return importView(p), nil
	}
	if len(fresh) == 0 {
		return fail(&pageError{http.StatusUnprocessableEntity, "There is nothing to keep.", "Mend a line, then read it again."})
	}
	var drop []int64
	for i, q := range fresh {
		id, err := s.o.Store.SaveQuestion(r.Context(), course.Question{Text: q.Text, Medium: q.Medium, Created: s.o.Now()})
		if err != nil {
			v, _ := fail(err)
			p.Mistake.Hint = strings.TrimSpace(fmt.Sprintf("%s %d of %d were kept; sent again, those are passed over.", p.Mistake.Hint, i, len(fresh)))
			v.data = p
			return v, nil
		}
		drop = append(drop, id)
	}
	text = counted(len(fresh), "question was", "questions were") + " kept."
	if n := len(faults); n > 0 {
		text += " " + counted(n, "line was", "lines were") + " left out."
	}
	return view{to: s.happened(change{msg: document.Plain(text), drop: drop, to: "/questions"}, "/questions?source=own", "")}, nil
}

// importedText is the text of a file, or of the field where no file was chosen.
func importedText(r *http.Request) (string, error) {
	if err := r.ParseMultipartForm(maxImport); err != nil && !errors.Is(err, http.ErrNotMultipart) {
		var large *http.MaxBytesError
		if errors.As(err, &large) {
			return "", err
		}
		return "", &pageError{http.StatusBadRequest, "This form cannot be read.", "Go back, and send it again."}
	}
	if file, _, err := r.FormFile("file"); err == nil {
		defer file.Close()
		text, err := io.ReadAll(file)
		if err != nil {
			return "", fmt.Errorf("reading the file that was sent: %w", err)
		}
		if len(text) > 0 {
			return strings.ReplaceAll(string(text), "\r\n", "\n"), nil
		}
	}
	return strings.ReplaceAll(r.FormValue("text"), "\r\n", "\n"), nil
}

// newLineFault says what is wrong with a line, and where in it.
func newLineFault(f *question.FileError, lines []string) lineFault {
	t := told{Message: sentence(f.Msg), Hint: sentence(f.Tip)}
	if f.Err != nil {
		t = explain(hinted(f.Err))
	}
	out := lineFault{f.Line, t}
	if f.Line > 0 && f.Line <= len(lines) && out.Before+out.At+out.End == "" {
		out.Before = strings.TrimSpace(lines[f.Line-1])
	}
	return out
}
