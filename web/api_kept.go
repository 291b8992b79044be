package web

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"net/http"
	"strings"
	"time"

	"github.com/danielgtaylor/huma/v2"

	"halves/course"
	"halves/question"
	"halves/redox"
)

// idIn names what is kept.
type idIn struct {
	ID int64 `path:"id" minimum:"1" doc:"Its number."`
}

// A questionJSON is a question that is kept.
type questionJSON struct {
	ID       int64      `json:"id" minimum:"1"`
	Question string     `json:"question" doc:"As typed."`
	Medium   mediumJSON `json:"medium"`
	Note     string     `json:"note"`
	Created  time.Time  `json:"created"`
}

func newQuestionJSON(q course.Question) questionJSON {
	return questionJSON{q.ID, q.Text, mediumJSON(q.Medium), q.Note, q.Created}
}

// questionBody is what of a question is given. Bounds are those of package course.
type questionBody struct {
	Question string     `json:"question" minLength:"1" maxLength:"4096" doc:"It is worked before it is kept." example:"H2O2 + Cr(OH)4^- -> CrO4^2-, in base"`
	Medium   mediumJSON `json:"medium,omitempty"`
	Note     string     `json:"note,omitempty" maxLength:"4096"`
}

// question is the question of a body, worked: what cannot be worked is not kept.
func (b questionBody) question() (course.Question, error) {
	f := questionForm{Text: strings.TrimSpace(b.Question), Note: strings.TrimSpace(b.Note), Medium: redox.Medium(b.Medium)}
	return f.check()
}

type questionsIn struct {
	Search string `query:"search" maxLength:"200" doc:"Words that the text or the note holds."`
}

type questionsOut struct {
	Body struct {
		Questions []questionJSON `json:"questions" nullable:"false" doc:"The newest first."`
	}
}

type newQuestionIn struct{ Body questionBody }

type changeQuestionIn struct {
	ID   int64 `path:"id" minimum:"1" doc:"Its number."`
	Body questionBody
}

type questionOut struct{ Body questionJSON }

// createdOut says where what was made is.
type createdOut[T any] struct {
	Location string `header:"Location"`
	Body     T
}

// questions adds the acts on questions that are kept.
func (a *api) questions() {
	s := a.desk
	tags := []string{"questions"}
	act(a, huma.Operation{OperationID: "list-questions", Method: http.MethodGet, Path: "/questions", Tags: tags, Summary: "List the questions that are kept"},
		func(ctx context.Context, in *questionsIn) (*questionsOut, error) {
			all, err := s.o.Store.Questions(ctx, in.Search)
			if err != nil {
				return nil, err
			}
			out := &questionsOut{}
			out.Body.Questions = []questionJSON{}
			for _, q := range all {
				out.Body.Questions = append(out.Body.Questions, newQuestionJSON(q))
			}
			return out, nil
		})
	act(a, huma.Operation{OperationID: "get-question", Method: http.MethodGet, Path: "/questions/{id}", Tags: tags, Summary: "Get a question"},
		func(ctx context.Context, in *idIn) (*questionOut, error) {
			q, err := s.o.Store.Question(ctx, in.ID)
			return &questionOut{newQuestionJSON(q)}, err
		})
	act(a, huma.Operation{OperationID: "keep-question", Method: http.MethodPost, Path: "/questions", Tags: tags, Summary: "Keep a question", DefaultStatus: http.StatusCreated},
		func(ctx context.Context, in *newQuestionIn) (*createdOut[questionJSON], error) {
			q, err := in.Body.question()
			if err != nil {
				return nil, err
			}
			q.Created = a.now()
			if q.ID, err = s.o.Store.SaveQuestion(ctx, q); err != nil {
				return nil, err
			}
			return &createdOut[questionJSON]{fmt.Sprintf("%s/questions/%d", apiPath, q.ID), newQuestionJSON(q)}, nil
		})
	act(a, huma.Operation{OperationID: "change-question", Method: http.MethodPut, Path: "/questions/{id}", Tags: tags, Summary: "Change a question"},
		func(ctx context.Context, in *changeQuestionIn) (*questionOut, error) {
			old, err := s.o.Store.Question(ctx, in.ID)
			if err != nil {
				return nil, err
			}
			q, err := in.Body.question()
			if err != nil {
				return nil, err
			}
			q.ID, q.Created = old.ID, old.Created
			_, err = s.o.Store.SaveQuestion(ctx, q)
			return &questionOut{newQuestionJSON(q)}, err
		})
	act(a, huma.Operation{OperationID: "delete-question", Method: http.MethodDelete, Path: "/questions/{id}", Tags: tags, Summary: "Delete a question; sets that hold it keep it"},
		func(ctx context.Context, in *idIn) (*struct{}, error) {
			return nil, s.o.Store.DeleteQuestion(ctx, in.ID)
		})
}

// now is the time as a store keeps it.
func (a *api) now() time.Time { return a.desk.o.Now().UTC().Truncate(time.Millisecond) }

// A setInfo is a set without its questions.
type setInfo struct {
	ID        int64     `json:"id" minimum:"1"`
	Title     string    `json:"title"`
	Questions int       `json:"questions" minimum:"0" doc:"In each version."`
	Versions  int       `json:"versions" minimum:"0"`
	Created   time.Time `json:"created"`
	Changed   time.Time `json:"changed"`
}

func newSetInfo(x course.Set) setInfo {
	return setInfo{x.ID, x.Title, x.Count, x.Version, x.Created, x.Changed}
}

// A keptSetJSON is a set with its questions.
type keptSetJSON struct {
	ID        int64     `json:"id" minimum:"1"`
	Title     string    `json:"title"`
	Questions int       `json:"questions" minimum:"0" doc:"In each version."`
	Versions  int       `json:"versions" minimum:"0"`
	Created   time.Time `json:"created"`
	Changed   time.Time `json:"changed"`
	Set       setText   `json:"set"`
}

// A setText is a set as its file has it.
type setText json.RawMessage

// Schema says where it is described.
func (setText) Schema(huma.Registry) *huma.Schema { return refTo("Set") }

// MarshalJSON writes what is kept.
func (t setText) MarshalJSON() ([]byte, error) { return json.RawMessage(t).MarshalJSON() }

// newKeptSet is a set of the store, which has no other way to be broken than from
// outside.
func newKeptSet(x course.Set) (keptSetJSON, error) {
	if !json.Valid(x.JSON) {
		return keptSetJSON{}, errors.New("what is kept as a set is no JSON")
	}
	return keptSetJSON{x.ID, x.Title, x.Count, x.Version, x.Created, x.Changed, setText(x.JSON)}, nil
}

type setsOut struct {
	Body struct {
		Sets []setInfo `json:"sets" nullable:"false" doc:"That changed last first."`
	}
}

type setOut struct{ Body keptSetJSON }

type newSetIn struct {
	Body struct {
		Wish wishJSON `json:"wish" doc:"What the set should hold. Lines that are not there are as usual; course and section are those of the settings."`
	}
}

// sets adds the acts on sets.
func (a *api) sets() {
	s := a.desk
	tags := []string{"sets"}
	act(a, huma.Operation{OperationID: "list-sets", Method: http.MethodGet, Path: "/sets", Tags: tags, Summary: "List the sets that are kept"},
		func(ctx context.Context, _ *struct{}) (*setsOut, error) {
			all, err := s.o.Store.Sets(ctx)
			if err != nil {
				return nil, err
			}
			out := &setsOut{}
			out.Body.Sets = []setInfo{}
			for _, x := range all {
				out.Body.Sets = append(out.Body.Sets, newSetInfo(x))
			}
			return out, nil
		})
	act(a, huma.Operation{OperationID: "get-set", Method: http.MethodGet, Path: "/sets/{id}", Tags: tags, Summary: "Get a set with its questions"},
		func(ctx context.Context, in *idIn) (*setOut, error) {
			x, err := s.o.Store.Set(ctx, in.ID)
			if err != nil {
				return nil, err
			}
			j, err := newKeptSet(x)
			return &setOut{j}, err
		})
	act(a, huma.Operation{OperationID: "make-set", Method: http.MethodPost, Path: "/sets", Tags: tags, Summary: "Make a set from a wish, and keep it", DefaultStatus: http.StatusCreated},
		func(ctx context.Context, in *newSetIn) (*createdOut[keptSetJSON], error) {
			settings, err := s.o.Store.Settings(ctx)
			if err != nil {
				return nil, err
			}
			w, err := in.Body.Wish.wish()
			if err != nil {
				return nil, err
			}
			if _, ok := in.Body.Wish["course"]; !ok {
				w.Course = settings.Course
			}
			if _, ok := in.Body.Wish["section"]; !ok {
				w.Section = settings.Section
			}
			made, err := question.Make(w, s.pool, nil)
			if err != nil {
				return nil, err
			}
			x, err := keptSet(0, made, a.now())
			if err != nil {
				return nil, err
			}
			if x.ID, err = s.o.Store.SaveSet(ctx, x); err != nil {
				return nil, err
			}
			j, err := newKeptSet(x)
			return &createdOut[keptSetJSON]{fmt.Sprintf("%s/sets/%d", apiPath, x.ID), j}, err
		})
	act(a, huma.Operation{OperationID: "delete-set", Method: http.MethodDelete, Path: "/sets/{id}", Tags: tags, Summary: "Delete a set"},
		func(ctx context.Context, in *idIn) (*struct{}, error) { return nil, s.o.Store.DeleteSet(ctx, in.ID) })
}

// A settingsJSON is how the class works, and on what paper.
type settingsJSON struct {
	Course      string          `json:"course" maxLength:"200"`
	Section     string          `json:"section" maxLength:"200"`
	Paper       string          `json:"paper" enum:"A4,Letter"`
	Conventions conventionsJSON `json:"conventions" doc:"Those that are not named are as by default."`
}

func newSettingsJSON(s course.Settings) settingsJSON {
	paper := "A4"
	if s.Letter {
		paper = "Letter"
	}
	return settingsJSON{s.Course, s.Section, paper, newConventionsJSON(s.Conventions)}
}

type settingsIn struct{ Body settingsJSON }

type settingsOut struct{ Body settingsJSON }

// A workedJSON is a question that was worked.
type workedJSON struct {
	Question string     `json:"question"`
	Medium   mediumJSON `json:"medium"`
	At       time.Time  `json:"at"`
}

type historyOut struct {
	Body struct {
		Worked []workedJSON `json:"worked" nullable:"false" doc:"The latest first."`
	}
}

// settings adds the acts on the settings and on what was worked lately.
func (a *api) settings() {
	desk := a.desk
	act(a, huma.Operation{OperationID: "get-settings", Method: http.MethodGet, Path: "/settings", Tags: []string{"settings"}, Summary: "Get the settings"},
		func(ctx context.Context, _ *struct{}) (*settingsOut, error) {
			s, err := desk.o.Store.Settings(ctx)
			return &settingsOut{newSettingsJSON(s)}, err
		})
	act(a, huma.Operation{OperationID: "put-settings", Method: http.MethodPut, Path: "/settings", Tags: []string{"settings"}, Summary: "Replace the settings"},
		func(ctx context.Context, in *settingsIn) (*settingsOut, error) {
			c, err := in.Body.Conventions.over(redox.Conventions{})
			if err != nil {
				return nil, err
			}
			s := course.Settings{Course: in.Body.Course, Section: in.Body.Section, Letter: in.Body.Paper == "Letter", Conventions: c}
			if err := s.Check(); err != nil {
				return nil, err
			}
			return &settingsOut{newSettingsJSON(s)}, desk.o.Store.SaveSettings(ctx, s)
		})
	act(a, huma.Operation{OperationID: "list-history", Method: http.MethodGet, Path: "/history", Tags: []string{"history"}, Summary: "List what was worked lately"},
		func(ctx context.Context, _ *struct{}) (*historyOut, error) {
			all, err := desk.o.Store.History(ctx)
			if err != nil {
				return nil, err
			}
			out := &historyOut{}
			out.Body.Worked = []workedJSON{}
			for _, w := range all {
				out.Body.Worked = append(out.Body.Worked, workedJSON{w.Text, mediumJSON(w.Medium), w.At})
			}
			return out, nil
		})
	act(a, huma.Operation{OperationID: "forget-history", Method: http.MethodDelete, Path: "/history", Tags: []string{"history"}, Summary: "Forget what was worked lately"},
		func(ctx context.Context, _ *struct{}) (*struct{}, error) { return nil, desk.o.Store.ForgetHistory(ctx) })
}
