package web

import (
	"context"
	"errors"
	"fmt"
	"net/http"
	"reflect"
	"strings"

	"github.com/danielgtaylor/huma/v2"

	"halves/course"
	"halves/energetics"
	"halves/names"
	"halves/question"
	"halves/redox"
)

// A problem is an error as the API tells it (RFC 9457, "Problem Details for HTTP
// APIs"), with members of its own: kind, offset, width, hint, errors, report.
type problem struct {
	Type     string         `json:"type" format:"uri" doc:"Names the kind of the problem: urn:halves:problem: and the kind."`
	Title    string         `json:"title" doc:"What the status says."`
	Status   int            `json:"status" minimum:"400" maximum:"599" doc:"The HTTP status."`
	Detail   string         `json:"detail" minLength:"1" doc:"What is wrong, in one sentence."`
	Instance string         `json:"instance,omitempty" format:"uri" doc:"Where the log has more of it: urn:halves:reference: and a reference."`
	Kind     string         `json:"kind" minLength:"1" doc:"For programs: unreadable, no-answer, many-answers, only-oxidation, only-reduction, medium-needed, states-open, too-large, missing-figure, wish, not-marked, not-found, invalid, method, forbidden, unsupported, full, busy, broken-off, internal. New ones may come."`
	Offset   *int           `json:"offset" minimum:"0" nullable:"true" doc:"Bytes (of UTF-8) from the start of the question to the trouble, null where there is no place."`
	Width    int            `json:"width" minimum:"0" doc:"Bytes; 0 where something is missing or there is no place."`
	Hint     string         `json:"hint" doc:"A way out, or the empty string."`
	Errors   []problemPlace `json:"errors,omitempty" nullable:"false" doc:"What of the request is not as described."`
	Report   *reportJSON    `json:"report,omitempty" doc:"What the error brings with it: the worked half, or the several answers."`
}

// A problemPlace is a part of the request that is not as described.
type problemPlace struct {
	Location string `json:"location" doc:"body.question, query.half, path.id"`
	Message  string `json:"message"`
}

var problemType = reflect.TypeFor[problem]()

func (p *problem) Error() string             { return p.Detail }
func (p *problem) GetStatus() int            { return p.Status }
func (p *problem) ContentType(string) string { return "application/problem+json" }

// filled adds what follows from the status and the kind.
func (p *problem) filled() *problem {
	p.Type, p.Title = "urn:halves:problem:"+p.Kind, http.StatusText(p.Status)
	if p.Title == "" {
		p.Title = "Broken off"
	}
	return p
}

// reportJSON is the report of an error as the command line writes it.
type reportJSON struct{ redox.Report }

// Schema says where it is described.
func (reportJSON) Schema(huma.Registry) *huma.Schema { return refTo("Report") }

// Kinds of problems that package redox does not have.
const (
	kindMissing     = "missing-figure"
	kindWish        = "wish"
	kindNotMarked   = "not-marked"
	kindNotFound    = "not-found"
	kindInvalid     = "invalid"
	kindMethod      = "method"
	kindForbidden   = "forbidden"
	kindUnsupported = "unsupported"
	kindFull        = "full"
	kindBusy        = "busy"
	kindBrokenOff   = "broken-off"
)

// A notMarkedError says that workings cannot be held to a question.
type notMarkedError struct{ err error }

func (e *notMarkedError) Error() string { return "This question cannot be marked: " + e.err.Error() }

// Unwrap says it as a page would.
func (e *notMarkedError) Unwrap() error {
	return &pageError{http.StatusUnprocessableEntity, sentence(e.Error()), ""}
}

// kindOf names the kind of an error.
func kindOf(err error) string {
	var (
		page     *pageError
		missing  *course.NotFoundError
		invalid  *course.InvalidError
		large    *http.MaxBytesError
		figure   *energetics.MissingError
		half     *energetics.HalfError
		short    *question.ShortError
		conflict *question.ConflictError
		value    *question.ValueError
		word     *question.WordError
		unfit    *question.UnfitError
		unknown  *names.UnknownError
		number   *names.NumberError
		marked   *notMarkedError
	)
	switch {
	case errors.As(err, &marked):
		return kindNotMarked
	case errors.As(err, &page):
		return kindOfStatus(page.status)
	case errors.As(err, &missing):
		return kindNotFound
	case errors.As(err, &invalid):
		return kindInvalid
	case errors.As(err, &large):
		return string(redox.KindTooLarge)
	case errors.As(err, &figure):
		return kindMissing
	case errors.As(err, &half), errors.As(err, &unknown), errors.As(err, &number):
		return string(redox.KindUnreadable)
	case errors.As(err, &unfit):
		return string(redox.KindNotRedox)
	case errors.As(err, &short), errors.As(err, &conflict), errors.As(err, &value), errors.As(err, &word):
		return kindWish
	case errors.Is(err, course.ErrFull):
		return kindFull
	case errors.Is(err, course.ErrBusy):
		return kindBusy
	}
	if errors.Is(err, context.Canceled) {
		return kindBrokenOff
	}
	return string(redox.NewReport(err).Kind)
}

// kindOfStatus is for errors that have no other kind.
func kindOfStatus(status int) string {
	switch status {
	case http.StatusNotFound:
		return kindNotFound
	case http.StatusMethodNotAllowed:
		return kindMethod
	case http.StatusForbidden, http.StatusMisdirectedRequest:
		return kindForbidden
	case http.StatusUnsupportedMediaType:
		return kindUnsupported
	case http.StatusRequestEntityTooLarge:
		return string(redox.KindTooLarge)
	case http.StatusRequestTimeout, 499:
		return kindBrokenOff
	}
	if status >= http.StatusInternalServerError {
		return string(redox.KindInternal)
	}
	return kindInvalid
}

// problem explains an error of an act, and logs what a program cannot mend.
func (s *Server) problem(act string, err error) *problem {
	told := explainCouples(hinted(err))
	p := &problem{Kind: kindOf(err), Status: told.Status, Detail: told.Message, Hint: told.Hint}
	if p.Status >= http.StatusInternalServerError {
		reference := fmt.Sprintf("%x", s.o.Now().UnixMilli())
		p.Instance = "urn:halves:reference:" + reference
		s.o.Log.Error("an act failed", "reference", reference, "act", act, "error", err)
	}
	r := redox.NewReport(err)
	if r.Offset >= 0 && r.Text != "" {
		p.Offset, p.Width = &r.Offset, r.Width
	}
	if r.Halves != nil || r.Answers != nil {
		p.Report = &reportJSON{r}
	}
	return p.filled()
}

// asProblem turns what the library found wrong with a request into a problem.
func asProblem(_ huma.Context, _ string, v any) (any, error) {
	e, ok := v.(*huma.ErrorModel)
	if !ok {
		return v, nil
	}
	p := &problem{Kind: kindOfStatus(e.Status), Status: e.Status, Detail: sentence(e.Detail)}
	for _, d := range e.Errors {
		if d != nil {
			p.Errors = append(p.Errors, problemPlace{d.Location, d.Message})
		}
	}
	if len(p.Errors) > 0 {
		p.Detail = "The request is not as described: " + strings.TrimPrefix(p.Errors[0].Location+": ", ": ") + p.Errors[0].Message + "."
	}
	switch p.Status {
	case http.StatusRequestEntityTooLarge:
		p.Detail = fmt.Sprintf("More than %d kB cannot be taken at a time.", maxBody>>10)
	case http.StatusUnsupportedMediaType:
		p.Detail, p.Errors = "Only JSON is read here.", nil
		p.Hint = "Send it with Content-Type: application/json."
	case http.StatusInternalServerError:
		p.Kind, p.Detail, p.Errors = kindBrokenOff, "The request did not arrive whole.", nil
	}
	return p.filled(), nil
}
