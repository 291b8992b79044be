package web

import (
	"errors"
	"fmt"
	"io"
	"net/http"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	"halves/course"
	"halves/document"
	"halves/marking"
	"halves/redox"
)

func (s *Server) markerRoutes() {
	s.mux.Handle("GET /marker", s.page(s.marker))
	s.mux.Handle("POST /marker", s.page(s.marker))
	s.mux.Handle("POST /marker/judged", s.page(s.markerJudged))
	for _, format := range []string{"pdf", "docx"} {
		s.mux.Handle("POST /marker."+format, s.studentPage(format))
	}
}

// A markerPage is the page on which a working is tried.
type markerPage struct {
	Form     markerForm
	Kept     []keptQuestion
	Judged   *judgedPart
	Examples []markerExample
}

// A keptQuestion is one that may be chosen.
type keptQuestion struct {
	ID     int64
	Text   string
	Medium redox.Medium
}

// A markerExample is a working with one slip in it, to try.
type markerExample struct {
	Number   int
	Question asked
	Line     document.Inline
	Working  string
}

// The examples: two featured equations as a student might have written them down.
var markerWorkings = []markerExample{
	{Question: examples[0], Working: `Oxidation: H2C2O4 -> 2 CO2 + 2 H^+ + 2 e^-
Reduction: MnO4^- + 8 H^+ + 5 e^- -> Mn^2+ + 4 H2O
Oxidation times 5: 5 H2C2O4 -> 10 CO2 + 10 H^+ + 10 e^-
Reduction times 2: 2 MnO4^- + 16 H^+ + 10 e^- -> 2 Mn^2+ + 8 H2O
Added: 5 H2C2O4 + 2 MnO4^- + 16 H^+ -> 10 CO2 + 2 Mn^2+ + 8 H2O`},
	{Question: examples[2], Working: `Reduction: Cl2 + 2 e^- -> 2 Cl^-
Oxidation: Cl2 + 6 H2O -> 2 ClO3^- + 12 H^+ + 8 e^-
Reduction times 4: 4 Cl2 + 8 e^- -> 8 Cl^-
Added: 5 Cl2 + 6 H2O -> 8 Cl^- + 2 ClO3^- + 12 H^+
Hydroxide on both sides: 5 Cl2 + 12 OH^- -> 8 Cl^- + 2 ClO3^- + 6 H2O`},
}

// A markerForm is what was sent: nothing of it is lost.
type markerForm struct {
	Text     string
	Medium   redox.Medium
	Working  string
	Repaired bool
	Bare     bool // a bare answer earns the final point alone
	Worth    map[marking.Step]string
	Rulings  []ruling
	Panel    ruling // the line that is being overruled; no Text for none
	// Wrong says what of the panel is missing.
	Wrong string
}

// A ruling is a person's verdict on a line, as the form keeps it.
type ruling struct{ Text, Verdict, Kind, Reason string }

// mostRulings is how many lines may be overruled at a time.
const mostRulings = 100

// rulingVerdicts are those that a person may give.
var rulingVerdicts = []marking.Verdict{marking.Stands, marking.Follows, marking.Slips}

// marker shows the page, and what became of the working that was sent.
func (s *Server) marker(r *http.Request) (view, error) {
	form, err := s.readMarker(r)
	if err != nil {
		return view{}, err
	}
	settings, err := s.o.Store.Settings(r.Context())
	if err != nil {
		return view{}, err
	}
	p := markerPage{Form: form}
	if p.Kept, err = s.keptQuestions(r); err != nil {
		return view{}, err
	}
	for i, e := range markerWorkings {
		if line, ok := lineOf(e.Question.Text, e.Question.Medium, settings.Conventions); ok {
			e.Number, e.Line = i+1, line
			p.Examples = append(p.Examples, e)
		}
	}
	v := view{page: "marker", here: "marker", title: "Marker"}
	if form.Text != "" || form.Working != "" {
		p.Judged = judge(form, settings.Conventions)
		if p.Judged.Mistake != nil {
			v.status = p.Judged.Mistake.Status
		}
	}
	v.data = p
	return v, nil
}

// markerJudged answers with what became of a working, without the page around it.
func (s *Server) markerJudged(r *http.Request) (view, error) {
	form, err := s.readMarker(r)
	if err != nil {
		return view{}, err
	}
	settings, err := s.o.Store.Settings(r.Context())
	if err != nil {
		return view{}, err
	}
	return view{page: "marker", part: "judged", data: judge(form, settings.Conventions)}, nil
}

// keptQuestions lists those that may be chosen, the newest first.
func (s *Server) keptQuestions(r *http.Request) ([]keptQuestion, error) {
	all, err := s.o.Store.Questions(r.Context(), "")
	if err != nil {
		return nil, err
	}
	const most = 100 // the list of questions has the others
	var out []keptQuestion
	for _, q := range all[:min(len(all), most)] {
		out = append(out, keptQuestion{q.ID, q.Text, q.Medium})
	}
	return out, nil
}

// readMarker reads the form, and does what its buttons ask for: a question is
// taken from those that are kept, a line is overruled, a ruling is taken back.
func (s *Server) readMarker(r *http.Request) (markerForm, error) {
	var f markerForm
	err := r.ParseForm() // of which the next call would lose the error
	if err == nil {
		err = r.ParseMultipartForm(maxBody)
	}
	if err != nil && !errors.Is(err, http.ErrNotMultipart) {
		var large *http.MaxBytesError
		if errors.As(err, &large) {
			return f, &pageError{http.StatusRequestEntityTooLarge, fmt.Sprintf("More than %d kB cannot be taken at a time.", large.Limit>>10), "Go back in the browser: what you typed is still in the page. One working is judged at a time."}
		}
		return f, &pageError{http.StatusBadRequest, "What was sent cannot be read.", "Go back in the browser: what you typed is still in the page."}
	}
	f.Text, f.Working = strings.TrimSpace(r.FormValue("q")), plainLines(r.FormValue("working"))
	f.Repaired, f.Bare = r.FormValue("repaired") == "yes", r.FormValue("bare") == "yes"
	if m, err := redox.ParseMedium(r.FormValue("medium")); err == nil {
		f.Medium = m
	}
	f.Worth = map[marking.Step]string{}
	for _, step := range marking.Steps {
		if v := strings.TrimSpace(r.FormValue("worth-" + string(step))); v != "" && len(v) < 20 {
			f.Worth[step] = v
		}
	}
	if n, err := strconv.Atoi(r.FormValue("example")); err == nil && n >= 1 && n <= len(markerWorkings) && f.Text == "" && f.Working == "" {
		e := markerWorkings[n-1]
		f.Text, f.Medium, f.Working = e.Question.Text, e.Question.Medium, e.Working
	}
	if id, err := strconv.ParseInt(r.FormValue("kept"), 10, 64); err == nil {
		q, err := s.o.Store.Question(r.Context(), id)
		var gone *course.NotFoundError
		switch {
		case err == nil:
			f.Text, f.Medium = q.Text, q.Medium
		case !errors.As(err, &gone):
			return f, err
		}
	}
	f.readRulings(r)
	return f, nil
}

// readRulings reads the lines that were overruled.
func (f *markerForm) readRulings(r *http.Request) {
	at := func(name string, i int) string {
		if all := r.Form[name]; i < len(all) {
			return strings.TrimSpace(all[i])
		}
		return ""
	}
	for i := range min(len(r.Form["ruled-line"]), mostRulings) {
		x := ruling{at("ruled-line", i), at("ruled-verdict", i), at("ruled-kind", i), at("ruled-reason", i)}
		if x.Text != "" && x.wrong() == "" {
			f.Rulings = append(f.Rulings, x)
		}
	}
	if n, err := strconv.Atoi(r.FormValue("back")); err == nil && n >= 0 && n < len(f.Rulings) {
		f.Rulings = slices.Delete(f.Rulings, n, n+1)
	}
	f.Panel = ruling{at("panel-line", 0), at("panel-verdict", 0), at("panel-kind", 0), at("panel-reason", 0)}
	if n, err := strconv.Atoi(r.FormValue("overrule")); err == nil {
		if lines := strings.Split(f.Working, "\n"); n >= 1 && n <= len(lines) {
			f.Panel = ruling{Text: strings.TrimSpace(lines[n-1])}
		}
	}
	switch r.FormValue("panel") {
	case "leave":
		f.Panel = ruling{}
	case "take":
		if f.Wrong = f.Panel.wrong(); f.Wrong != "" || f.Panel.Text == "" {
			return
		}
		f.Rulings = slices.DeleteFunc(f.Rulings, func(x ruling) bool { return sameLine(x.Text, f.Panel.Text) })
		if len(f.Rulings) == mostRulings {
			f.Wrong = fmt.Sprintf("No more than %d lines can be overruled.", mostRulings)
			return
		}
		f.Rulings, f.Panel = append(f.Rulings, f.Panel), ruling{}
	}
}

// wrong says what is missing of a ruling, "" for nothing.
func (x ruling) wrong() string {
	switch {
	case !slices.Contains(rulingVerdicts, marking.Verdict(x.Verdict)):
		return "Choose a verdict."
	case x.Verdict == string(marking.Slips) && !slices.Contains(marking.Kinds, marking.Kind(x.Kind)):
		return "Choose what kind of slip it is."
	}
	return ""
}

// overruling is the ruling as a marker takes it.
func (x ruling) overruling() marking.Overruling {
	o := marking.Overruling{Text: x.Text, Verdict: marking.Verdict(x.Verdict), Reason: strings.TrimSuffix(x.Reason, ".")}
	if o.Reason == "" {
		o.Reason = "so judged by a person"
	}
	if o.Verdict == marking.Slips {
		o.Kind = marking.Kind(x.Kind)
	}
	return o
}

// sameLine reports whether two lines are the same but for spaces.
func sameLine(a, b string) bool { return slices.Equal(strings.Fields(a), strings.Fields(b)) }

// plainLines writes line ends as one character each, as every form sends them as
// two.
func plainLines(s string) string {
	return strings.NewReplacer("\r\n", "\n", "\r", "\n").Replace(s)
}

// prepare works the question of a form, so that the working can be held to it.
func (f markerForm) prepare() (*marking.Question, error) {
	if f.Text == "" {
		return nil, &pageError{http.StatusUnprocessableEntity, "There is no question to hold the working to.", "Type the question, or choose one that you keep."}
	}
	sol, err := redox.Work(f.Text, f.Medium, redox.Conventions{})
	if err != nil {
		return nil, err
	}
	q, err := marking.NewQuestion(sol)
	if err != nil {
		return nil, &pageError{http.StatusUnprocessableEntity, sentence("this question cannot be marked: " + err.Error()), ""}
	}
	return q, nil
}

// check reports what is wrong with a working before it is judged.
func (f markerForm) check() error {
	switch {
	case len(f.Working) > marking.MaxText:
		return &pageError{http.StatusUnprocessableEntity, fmt.Sprintf("A working may have %d kB, and this one has %d kB.", marking.MaxText>>10, (len(f.Working)+1023)>>10), "Nothing of it is lost: leave in the field what belongs to this question."}
	case !utf8.ValidString(f.Working) || strings.ContainsRune(f.Working, 0):
		return &pageError{http.StatusUnprocessableEntity, "This working holds characters that are no text.", "Paste it as plain text."}
	}
	return nil
}

// scheme is that of the question with the worths of the form. The error names the
// step whose worth is no number.
func (f markerForm) scheme(q *marking.Question) (marking.Scheme, error) {
	scheme := q.Scheme()
	scheme.Working = f.Bare
	var wrong error
	for step := range scheme.Worth {
		text, given := f.Worth[step]
		if !given {
			continue
		}
		worth, err := marking.ReadSteps(string(step) + "=" + text)
		if err != nil {
			wrong = &pageError{http.StatusUnprocessableEntity, fmt.Sprintf("“%s” is no worth of a step (%s).", text, step), "Give a whole number from 0 to 100; until then it is worth 1."}
			continue
		}
		scheme.Worth[step] = worth[step]
	}
	if wrong == nil && scheme.OutOf() == 0 {
		wrong = &pageError{http.StatusUnprocessableEntity, "This scheme gives no marks.", "Let at least one step be worth something."}
	}
	return scheme, wrong
}

// studentPage hands out what the student gets back.
func (s *Server) studentPage(format string) http.Handler {
	return s.download(func(r *http.Request) (download, error) {
		f, err := s.readMarker(r)
		if err != nil {
			return download{}, err
		}
		settings, err := s.o.Store.Settings(r.Context())
		if err != nil {
			return download{}, err
		}
		q, err := f.prepare()
		if err == nil {
			err = f.check()
		}
		if err != nil {
			return download{}, err
		}
		scheme, err := f.scheme(q)
		if err != nil {
			return download{}, err
		}
		result := f.judgeWith(q)
		d := f.feedback(result, result.Mark(scheme), settings.Conventions)
		return download{"your-working." + format, func(w io.Writer) error { return writeDocument(w, format, settings.Letter, d) }}, nil
	})
}

func (f markerForm) judgeWith(q *marking.Question) marking.Result {
	by := make([]marking.Overruling, len(f.Rulings))
	for i, x := range f.Rulings {
		by[i] = x.overruling()
	}
	return q.JudgeWith(f.Working, by)
}

// feedback lays out what the student gets back.
func (f markerForm) feedback(r marking.Result, m marking.Marks, c redox.Conventions) *document.Document {
	return document.FromWorking(c, document.Working{Student: "Your working", Question: f.asked(), Result: r, Marks: m, Repaired: f.Repaired})
}

// asked is the question with the medium that was chosen beside it.
func (f markerForm) asked() string {
	if q, err := redox.ReadQuestion(f.Text); f.Medium == redox.Unstated || err != nil || q.Medium != redox.Unstated {
		return f.Text
	}
	text, _ := document.MediumPhrase(f.Medium).Spoken()
	return f.Text + text
}
