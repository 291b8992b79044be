package web

import (
	"context"
	"net/http"

	"github.com/danielgtaylor/huma/v2"

	"halves/course"
	"halves/marking"
	"halves/redox"
)

// solutionJSON is a worked question as the command line writes it.
type solutionJSON struct{ *redox.Solution }

// Schema says where it is described.
func (solutionJSON) Schema(huma.Registry) *huma.Schema { return refTo("Solution") }

type workIn struct {
	Body struct {
		Question    string          `json:"question" minLength:"1" maxLength:"4096" doc:"As one types it: formulas, names or words, with or without the medium." example:"MnO4^- + H2C2O4 -> Mn^2+ + CO2, in acid"`
		Medium      mediumJSON      `json:"medium,omitempty"`
		Conventions conventionsJSON `json:"conventions,omitempty" doc:"Those that are not named are as in the settings."`
		Remember    bool            `json:"remember,omitempty" doc:"Put it among what was worked lately."`
	}
}

type workOut struct{ Body solutionJSON }

type readIn struct {
	Question string `query:"question" required:"true" minLength:"1" maxLength:"4096" example:"MnO4- + Fe2+ -> Mn2+ + Fe3+"`
}

type readOut struct{ Body readingJSON }

// A readingJSON is how a question is read, without working it.
type readingJSON struct {
	Question string        `json:"question" doc:"As typed."`
	Medium   mediumJSON    `json:"medium"`
	Readings []readingOf   `json:"readings" nullable:"false" doc:"The likeliest first."`
	More     bool          `json:"more" doc:"There are more readings than are listed."`
	Notes    []readingNote `json:"notes" nullable:"false"`
}

type readingOf struct {
	Equation string        `json:"equation" doc:"Canonical plain text."`
	Read     []readingTerm `json:"read" nullable:"false" doc:"What allows another reading."`
}

type readingTerm struct {
	Typed   string `json:"typed"`
	Formula string `json:"formula"`
}

type readingNote struct {
	Kind string `json:"kind" minLength:"1"`
	Text string `json:"text" minLength:"1"`
}

type markIn struct {
	Body struct {
		Question string     `json:"question" minLength:"1" maxLength:"4096" example:"MnO4^- + Fe^2+ -> Mn^2+ + Fe^3+, in acid"`
		Medium   mediumJSON `json:"medium,omitempty"`
		Working  string     `json:"working" minLength:"1" maxLength:"65536" doc:"As handed in, a line of it on each line."`
		Student  string     `json:"student,omitempty" maxLength:"200" doc:"A code, which is handed back: B-07."`
	}
}

type markOut struct{ Body markedJSON }

// A markedJSON is a marked working as the command line writes it.
type markedJSON struct {
	Student      string      `json:"student"`
	Question     string      `json:"question" minLength:"1"`
	FirstSlip    *int        `json:"firstSlip" nullable:"true" minimum:"1" doc:"Number of the first line that slips, from 1."`
	Kind         slipJSON    `json:"kind" doc:"Of the first slip."`
	FinalCorrect bool        `json:"finalCorrect" doc:"The last whole equation is the answer."`
	Marks        int         `json:"marks" minimum:"0"`
	OutOf        int         `json:"outOf" minimum:"0"`
	Provisional  bool        `json:"provisional" doc:"A line could not be read: a person should look."`
	Lines        []markLine  `json:"lines" nullable:"false"`
	Points       []markPoint `json:"points" nullable:"false"`
}

type markLine struct {
	Line    int      `json:"line" minimum:"1"`
	Thread  string   `json:"thread" enum:"oxidation half,reduction half,overall,oxidation states," doc:"What the line is about; empty for nothing."`
	Verdict string   `json:"verdict" enum:"comment,stands,follows,recovered,slips,unread,elsewhere"`
	Kind    slipJSON `json:"kind"`
	Why     string   `json:"why"`
}

type markPoint struct {
	Step    string `json:"step" enum:"species,oxidation,reduction,equalized,added,medium,states,changes,coefficients,final"`
	Marks   int    `json:"marks" minimum:"0"`
	OutOf   int    `json:"outOf" minimum:"1"`
	Line    *int   `json:"line" nullable:"true" minimum:"1" doc:"That earned or lost it."`
	Follows bool   `json:"follows" doc:"Earned by a line that follows from a wrong one."`
	Why     string `json:"why" minLength:"1"`
}

// A slipJSON is a kind of slip, null for none.
type slipJSON marking.Kind

// Schema lists the kinds.
func (slipJSON) Schema(huma.Registry) *huma.Schema {
	enum := []any{}
	for _, k := range marking.Kinds {
		enum = append(enum, string(k))
	}
	return &huma.Schema{OneOf: []*huma.Schema{{Type: huma.TypeString, Enum: enum}, {Type: "null"}}}
}

// MarshalJSON writes null for none.
func (k slipJSON) MarshalJSON() ([]byte, error) {
	if k == "" {
		return []byte("null"), nil
	}
	return []byte(`"` + string(k) + `"`), nil
}

// work adds the acts that keep nothing.
func (a *api) work() {
	s := a.desk
	act(a, huma.Operation{OperationID: "work", Method: http.MethodPost, Path: "/work", Tags: []string{"work"}, Summary: "Work a question, line by line"},
		func(ctx context.Context, in *workIn) (*workOut, error) {
			settings, err := s.o.Store.Settings(ctx)
			if err != nil {
				return nil, err
			}
			c, err := in.Body.Conventions.over(settings.Conventions)
			if err != nil {
				return nil, err
			}
			m := redox.Medium(in.Body.Medium)
			sol, err := redox.Work(in.Body.Question, m, c)
			if err != nil {
				return nil, err
			}
			if in.Body.Remember {
				if err := s.o.Store.Remember(ctx, course.Worked{Text: in.Body.Question, Medium: m, At: s.o.Now()}); err != nil {
					return nil, err
				}
			}
			return &workOut{solutionJSON{sol}}, nil
		})
	act(a, huma.Operation{OperationID: "read", Method: http.MethodGet, Path: "/read", Tags: []string{"work"}, Summary: "Say how a question is read, without working it"},
		func(_ context.Context, in *readIn) (*readOut, error) {
			q, err := redox.ReadQuestion(in.Question)
			if err != nil {
				return nil, err
			}
			out := readingJSON{Question: q.Text, Medium: mediumJSON(q.Medium), More: q.More, Readings: []readingOf{}, Notes: []readingNote{}}
			for _, r := range q.Readings {
				one := readingOf{Equation: r.Equation.String(), Read: []readingTerm{}}
				for _, t := range r.Assumptions {
					one.Read = append(one.Read, readingTerm{t.Typed, t.Read.String()})
				}
				out.Readings = append(out.Readings, one)
			}
			for _, n := range q.Notes {
				out.Notes = append(out.Notes, readingNote{string(n.Kind), n.Text})
			}
			return &readOut{out}, nil
		})
	act(a, huma.Operation{OperationID: "mark", Method: http.MethodPost, Path: "/mark", Tags: []string{"work"}, Summary: "Mark a working: each line judged, and the marks of each step"},
		func(_ context.Context, in *markIn) (*markOut, error) {
			sol, err := redox.Work(in.Body.Question, redox.Medium(in.Body.Medium), redox.Conventions{})
			if err != nil {
				return nil, err
			}
			q, err := marking.NewQuestion(sol)
			if err != nil {
				return nil, &notMarkedError{err}
			}
			result := q.Judge(in.Body.Working)
			return &markOut{newMarkedJSON(in.Body.Student, in.Body.Question, result, result.Mark(q.Scheme()))}, nil
		})
}

func newMarkedJSON(student, question string, r marking.Result, m marking.Marks) markedJSON {
	j := markedJSON{
		Student: student, Question: question, FirstSlip: numberOrNull(r.FirstSlip), Kind: slipJSON(r.Kind), FinalCorrect: r.FinalCorrect,
		Marks: m.Earned, OutOf: m.OutOf, Provisional: m.Provisional, Lines: []markLine{}, Points: []markPoint{},
	}
	for _, l := range r.Lines {
		j.Lines = append(j.Lines, markLine{l.Number, l.Thread, string(l.Verdict), slipJSON(l.Kind), l.Why})
	}
	for _, p := range m.Points {
		j.Points = append(j.Points, markPoint{string(p.Step), p.Earned, p.OutOf, numberOrNull(p.Line), p.Follows, p.Why})
	}
	return j
}

// numberOrNull is null for a line that is none.
func numberOrNull(n int) *int {
	if n == 0 {
		return nil
	}
	return &n
}
