package web

import (
	"context"
	"net/http"
	"net/url"
	"strings"
	"time"

	"halves/course"
	"halves/names"
	"halves/redox"
)

// The gallery shows each page in each of its states with made-up data, for those
// who build the desk: screenshots and the checks of accessibility walk it. It is
// there where Options.Gallery is set, and nowhere else.

// A galleryPage is a page with its states.
type galleryPage struct {
	Page   string
	States []galleryState
}

// A galleryState is a page as it looks at some moment: "empty", "ordinary",
// "overfull", "failing" and others.
type galleryState struct {
	Name string
	View func() view
}

// gallery lists the pages. Each file adds its own by a function.
func (s *Server) gallery() []galleryPage {
	return []galleryPage{
		{"work", s.workGallery()},
		{"error", s.errorGallery()},
		{"questions", s.questionsGallery()},
		{"sets", s.setsGallery()},
		{"settings", s.settingsGallery()},
		{"marker", s.markerGallery()},
		{"couples", s.couplesGallery()},
	}
}

func (s *Server) galleryRoutes() {
	s.mux.Handle("GET /gallery", s.page(func(*http.Request) (view, error) {
		return view{page: "gallery", title: "Gallery", data: s.gallery()}, nil
	}))
	s.mux.Handle("GET /gallery/{page}/{state}", s.page(s.galleryShow))
}

func (s *Server) galleryShow(r *http.Request) (view, error) {
	for _, p := range s.gallery() {
		for _, st := range p.States {
			if p.Page == r.PathValue("page") && st.Name == r.PathValue("state") {
				v := st.View()
				v.status = 0 // the picture of a failure is there
				return v, nil
			}
		}
	}
	return view{}, &pageError{http.StatusNotFound, "There is no such page.", ""}
}

// shows runs a handler for a page of the gallery, on what a store holds.
func (s *Server) shows(in course.Store, h func(s *Server, r *http.Request) (view, error), method, address string, form url.Values) func() view {
	return func() view {
		desk := *s
		desk.o.Store = in
		desk.o.Data = "/home/instructor/.local/share/halves"
		r, err := http.NewRequestWithContext(context.Background(), method, address, strings.NewReader(form.Encode()))
		if err != nil {
			return desk.errorView(r, err)
		}
		r.Header.Set("Content-Type", "application/x-www-form-urlencoded")
		v, err := h(&desk, r)
		if err != nil {
			return desk.errorView(r, err)
		}
		return v
	}
}

// A madeUp store holds what does not change. Of what is not here there is nothing.
type madeUp struct {
	course.Store
	settings  course.Settings
	questions []course.Question
	sets      []course.Set
	history   []course.Worked
	fail      error // what each act answers
}

func (m madeUp) Settings(context.Context) (course.Settings, error)   { return m.settings, nil }
func (m madeUp) SaveSettings(context.Context, course.Settings) error { return m.fail }
func (m madeUp) Questions(context.Context, string) ([]course.Question, error) {
	return m.questions, nil
}
func (m madeUp) Sets(context.Context) ([]course.Set, error)       { return m.sets, nil }
func (m madeUp) History(context.Context) ([]course.Worked, error) { return m.history, nil }
func (m madeUp) Remember(context.Context, course.Worked) error    { return nil }

// Question and Set find what is in the lists.
func (m madeUp) Question(_ context.Context, id int64) (course.Question, error) {
	for _, q := range m.questions {
		if q.ID == id {
			return q, nil
		}
	}
	return course.Question{}, &course.NotFoundError{What: "question", ID: id}
}

func (m madeUp) Set(_ context.Context, id int64) (course.Set, error) {
	for _, x := range m.sets {
		if x.ID == id {
			return x, nil
		}
	}
	return course.Set{}, &course.NotFoundError{What: "set", ID: id}
}

// madeUpCourses are a desk that was never used, one in the middle of a term, and
// one with the longest of everything.
func madeUpCourses() (nothing, ordinary, overfull madeUp) {
	ordinary = madeUp{
		settings:  course.Settings{Course: "General Chemistry II", Section: "B"},
		questions: madeUpQuestions(5),
		history:   madeUpHistory(4),
	}
	overfull = madeUp{
		settings: course.Settings{
			Course: strings.TrimSpace(strings.Repeat("General Chemistry II ", 9)), Section: strings.Repeat("B", 60), Letter: true,
			Conventions: redox.Conventions{By: redox.ByStates, Hydronium: true, BaseInHalves: true, Phases: true, Ones: true, Equals: true, Roman: true, Comma: true, Names: names.Choice{Style: names.Systematic, Sulph: true}},
		},
		questions: madeUpQuestions(240),
		history:   madeUpHistory(200),
	}
	return nothing, ordinary, overfull
}

// madeUpLines are questions of the demo course and some that are long.
var madeUpLines = []string{
	"MnO4^- + H2C2O4 -> Mn^2+ + CO2, in acid",
	"H2O2 + Cr(OH)4^- -> CrO4^2-, in base",
	"Cl2 -> Cl^- + ClO3^-, in base",
	"Cu + HNO3 -> Cu(NO3)2 + NO + H2O",
	"As2S3 + NO3^- -> H3AsO4 + SO4^2- + NO, in acid",
	"KMnO4 + Na2C2O4 + H2SO4 -> K2SO4 + Na2SO4 + MnSO4 + CO2 + H2O",
	"permanganate becomes manganese(II) while oxalic acid becomes carbon dioxide, in acid",
}

// madeUpDay is a Thursday of the invented term.
var madeUpDay = time.Date(2026, 11, 26, 9, 30, 0, 0, time.UTC)

func madeUpHistory(n int) []course.Worked {
	out := make([]course.Worked, n)
	for i := range out {
		out[i] = course.Worked{ID: int64(n - i), Text: madeUpLines[i%len(madeUpLines)], At: madeUpDay.Add(-time.Duration(i) * time.Hour)}
	}
	return out
}

func madeUpQuestions(n int) []course.Question {
	out := make([]course.Question, n)
	for i := range out {
		out[i] = course.Question{ID: int64(n - i), Text: madeUpLines[i%len(madeUpLines)], Note: "for the second week", Created: madeUpDay.Add(-time.Duration(i) * time.Hour)}
	}
	return out
}

// workGallery are the states of the work page.
func (s *Server) workGallery() []galleryState {
	nothing, ordinary, overfull := madeUpCourses()
	work := func(in course.Store, q string, more ...string) func() view {
		query := url.Values{}
		if q != "" {
			query.Set("q", q)
		}
		for i := 0; i+1 < len(more); i += 2 {
			query.Set(more[i], more[i+1])
		}
		return s.shows(in, (*Server).work, "GET", "/work?"+query.Encode(), nil)
	}
	return []galleryState{
		{"empty", work(nothing, "")},
		{"lately", work(ordinary, "")},
		{"ordinary", work(ordinary, madeUpLines[0])},
		{"overfull", work(overfull, madeUpLines[5], "by", "equations")},
		{"failing", work(ordinary, "MnO4^- + H2C2O4 -> Mn^2+ + co2, in acid")},
		{"half", work(ordinary, "Mn^2+ -> MnO4^-, in acid")},
		{"endless", work(nothing, strings.Repeat("MnO4^-+", 300)+" -> Mn^2+")},
		{"conventions", work(nothing, madeUpLines[1], "base-in-halves", "true", "names", "systematic")},
	}
}

// errorGallery are the errors that have a page of their own.
func (s *Server) errorGallery() []galleryState {
	fails := func(err error) func() view {
		return s.shows(madeUp{}, func(*Server, *http.Request) (view, error) { return view{}, err }, "GET", "/", nil)
	}
	return []galleryState{
		{"missing", fails(&course.NotFoundError{What: "set", ID: 7})},
		{"full", fails(course.ErrFull)},
		{"busy", fails(course.ErrBusy)},
		{"defect", fails(&redox.InternalError{Given: "x", Msg: "y"})},
	}
}

// settingsGallery are the states of the settings and of the step before a backup
// is put back.
func (s *Server) settingsGallery() []galleryState {
	nothing, ordinary, overfull := madeUpCourses()
	long := url.Values{"course": {strings.Repeat("General Chemistry II, ", 12)}, "section": {"B"}, "paper": {"letter"}}
	busy := ordinary
	busy.fail = course.ErrBusy
	file := func(s *Server, r *http.Request) (view, error) { return s.takeClassText(r, []byte(wrongClassFile)) }
	restore := func(s *Server, r *http.Request) (view, error) {
		p, err := s.newRestorePage(r)
		p.CanRestore = true
		return restoreView(p), err
	}
	refused := func(s *Server, r *http.Request) (view, error) {
		v, err := restore(s, r)
		p := v.data.(restorePage)
		p.Mistake = &told{Status: http.StatusUnprocessableEntity, Message: "This is not a file of Halves. Nothing was replaced.", Hint: "Give the file that Halves made."}
		v.data = p
		return v, err
	}
	return []galleryState{
		{"empty", s.shows(nothing, (*Server).settings, "GET", "/settings", nil)},
		{"ordinary", s.shows(ordinary, (*Server).settings, "GET", "/settings", nil)},
		{"kept", s.shows(ordinary, (*Server).settings, "GET", "/settings?done=settings", nil)},
		{"trial", s.shows(ordinary, (*Server).settings, "GET", "/settings?course=General+Chemistry+II&section=D&by=equations&comma=true", nil)},
		{"overfull", s.shows(overfull, (*Server).settings, "GET", "/settings", nil)},
		{"failing", s.shows(ordinary, (*Server).saveSettings, "POST", "/settings", long)},
		{"busy", s.shows(busy, (*Server).saveSettings, "POST", "/settings", url.Values{"course": {"General Chemistry II"}, "by": {"states"}})},
		{"file", s.shows(ordinary, file, "POST", "/settings/class", nil)},
		{"restore", s.shows(ordinary, restore, "GET", "/settings/restore", nil)},
		{"restore-refused", s.shows(overfull, refused, "POST", "/settings/restore", nil)},
		{"restore-never", s.shows(ordinary, func(s *Server, r *http.Request) (view, error) { return restoreView(restorePage{}), nil }, "GET", "/settings/restore", nil)},
	}
}

// wrongClassFile is a file of conventions with a slip.
const wrongClassFile = "# General Chemistry II, section B\nby: halves\nhydronum: true\n"
