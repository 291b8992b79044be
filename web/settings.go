package web

import (
	"context"
	"errors"
	"net/http"
	"strings"

	"halves/course"
	"halves/document"
	"halves/redox"
	"halves/reference"
)

func (s *Server) settingsRoutes() {
	s.mux.Handle("GET /settings", s.page(s.settings))
	s.mux.Handle("POST /settings", s.page(s.saveSettings))
	s.mux.Handle("GET /settings/example", s.page(s.settingsExample))
	s.mux.HandleFunc("GET /settings/class.yaml", s.classFile)
	s.mux.Handle("POST /settings/class", s.page(s.takeClassFile))
	s.mux.HandleFunc("POST /settings/backup", s.backup)
	s.mux.Handle("GET "+restorePath, s.page(s.restoring))
	s.mux.Handle("POST "+restorePath, s.page(s.restore))
}

// A settingsPage is the page of the settings.
type settingsPage struct {
	Course, Section string
	Letter          bool
	Conventions     []conventionField
	Example         *document.Document
	Tried           bool   // what is shown is not kept yet
	Said            string // what was done, a sentence
	Mistake         *told  // of the form
	FileMistake     *told  // of the file of conventions
	Data, Edition   string
	Kept            kept
	CanRestore      bool
}

// kept counts what is in the store.
type kept struct{ Questions, Sets, Worked int }

// said are the sentences that stand on the page after something was done, by the
// word in its address.
var said = map[string]string{
	"settings": "The settings are kept.",
	"class":    "The conventions of the file are kept.",
	"restored": "The backup is in place. What was here before is kept beside it.",
}

// settings shows the page. A query shows other settings without keeping them.
func (s *Server) settings(r *http.Request) (view, error) {
	now, err := s.o.Store.Settings(r.Context())
	if err != nil {
		return view{}, err
	}
	tried := now
	if r.URL.Query().Has("course") {
		tried = fieldsOf(r, tried)
	}
	if tried.Conventions, err = conventionsOf(r, now.Conventions); err != nil {
		return view{}, err
	}
	p, err := s.newSettingsPage(r, tried)
	if err != nil {
		return view{}, err
	}
	p.Tried = tried != now
	p.Said = said[r.FormValue("done")]
	return settingsView(p), nil
}

func settingsView(p settingsPage) view {
	v := view{page: "settings", here: "settings", title: "Settings", data: p}
	for _, m := range []*told{p.Mistake, p.FileMistake} {
		if m != nil {
			v.status = m.Status
		}
	}
	return v
}

// newSettingsPage is the page with these settings in its form.
func (s *Server) newSettingsPage(r *http.Request, with course.Settings) (settingsPage, error) {
	p := settingsPage{Course: with.Course, Section: with.Section, Letter: with.Letter, Conventions: conventionFields(with.Conventions),
		Data: s.o.Data, Edition: reference.Edition, CanRestore: s.o.Restore != nil}
	var err error
	if p.Kept, err = s.count(r.Context()); err != nil {
		return p, err
	}
	p.Example, err = s.example(with.Conventions)
	return p, err
}

// count says how much is kept.
func (s *Server) count(ctx context.Context) (k kept, err error) {
	questions, err := s.o.Store.Questions(ctx, "")
	if err != nil {
		return k, err
	}
	sets, err := s.o.Store.Sets(ctx)
	if err != nil {
		return k, err
	}
	history, err := s.o.Store.History(ctx)
	return kept{len(questions), len(sets), len(history)}, err
}

// fieldsOf reads the fields of the form but its conventions.
func fieldsOf(r *http.Request, s course.Settings) course.Settings {
	s.Course, s.Section = strings.TrimSpace(r.FormValue("course")), strings.TrimSpace(r.FormValue("section"))
	s.Letter = r.FormValue("paper") == "letter"
	return s
}

// saveSettings keeps what the form says.
func (s *Server) saveSettings(r *http.Request) (view, error) {
	if err := r.ParseForm(); err != nil {
		return view{}, formError(err)
	}
	now, err := s.o.Store.Settings(r.Context())
	if err != nil {
		return view{}, err
	}
	asked := fieldsOf(r, now)
	asked.Conventions, err = conventionsOf(r, now.Conventions)
	if err == nil {
		err = asked.Check()
	}
	if err == nil {
		err = s.o.Store.SaveSettings(r.Context(), asked)
	}
	if err == nil {
		return view{to: "/settings?done=settings"}, nil
	}
	p, failed := s.newSettingsPage(r, asked)
	if failed != nil {
		return view{}, failed
	}
	t := s.tell(r, err)
	p.Mistake = &t
	return settingsView(p), nil
}

// formError explains a form that cannot be read.
func formError(err error) error {
	if large := (*http.MaxBytesError)(nil); errors.As(err, &large) {
		return err
	}
	return &pageError{http.StatusBadRequest, "This form did not arrive whole.", "Send it again."}
}

// settingsExample answers with the example of the conventions of a query.
func (s *Server) settingsExample(r *http.Request) (view, error) {
	now, err := s.o.Store.Settings(r.Context())
	if err != nil {
		return view{}, err
	}
	c, err := conventionsOf(r, now.Conventions)
	if err != nil {
		return view{}, err
	}
	d, err := s.example(c)
	return view{page: "settings", part: "example", data: d}, err
}

// What the example shows: names and states, phases and the ions of an acid; a half
// in base; a decimal.
const (
	exampleInAcid = "MnO4^-(aq) + SO2(g) -> Mn^2+(aq) + SO4^2-(aq), in acid"
	exampleInBase = "H2O2 + Cr(OH)4^- -> CrO4^2-, in base"
	exampleCouple = "Fe^3+ -> Fe^2+"
)

// example lays out some lines that each convention changes one of.
func (s *Server) example(c redox.Conventions) (*document.Document, error) {
	d := &document.Document{}
	for _, q := range []string{exampleInAcid, exampleInBase} {
		sol, err := redox.Work(q, redox.Unstated, c)
		if err != nil {
			return nil, err
		}
		d.Blocks = append(d.Blocks, document.Paragraph{Text: document.Join(document.EquationOf(sol.Skeleton, c), document.MediumPhrase(sol.Medium))})
		d.Blocks = append(d.Blocks, excerpt(document.Worked(sol), q == exampleInAcid)...)
	}
	half, err := s.o.Tables.Read(exampleCouple)
	if err != nil {
		return nil, err
	}
	// A table of one's own may lack the couple; the example is then without.
	if p, err := s.o.Tables.Of(half); err == nil {
		for _, b := range document.FromPotential(c, p).Blocks {
			if e, ok := b.(document.Equation); ok && e.Label != nil {
				d.Blocks = append(d.Blocks, document.Paragraph{Text: document.Plain("A figure of the tables:")}, e)
				break
			}
		}
	}
	return d, nil
}

// excerpt takes from a working the last line before the whole equation is put
// together and, where it is to be full, the table of states before and the answer
// after it.
func excerpt(blocks []document.Block, full bool) []document.Block {
	var states, line, answer document.Block
	whole := false
	for _, b := range blocks {
		switch b := b.(type) {
		case document.Table:
			if states == nil && full {
				states = b
			}
		case document.Heading:
			whole = whole || strings.HasPrefix(proseOf(b.Text), "The whole")
		case document.Equation:
			switch {
			case b.Final && full:
				answer = b
			case b.Final:
			case !whole && len(b.Line) > 0:
				line = b
			}
		}
	}
	var out []document.Block
	for _, b := range []document.Block{states, line, answer} {
		if b != nil {
			out = append(out, b)
		}
	}
	return out
}

// proseOf is the prose of a text.
func proseOf(text document.Inline) string {
	var b strings.Builder
	for _, s := range text {
		b.WriteString(s.Prose)
	}
	return b.String()
}

// tell explains an error that stands on the page, and logs what a person cannot
// mend.
func (s *Server) tell(r *http.Request, err error) told {
	return s.errorView(r, err).data.(told)
}
