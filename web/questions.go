package web

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"net/http"
	"net/url"
	"slices"
	"strconv"
	"strings"
	"sync"

	"halves/course"
	"halves/document"
	"halves/question"
	"halves/redox"
)

func (s *Server) questionRoutes() {
	s.mux.Handle("GET /questions", s.page(s.questions))
	s.mux.Handle("POST /questions", s.page(s.keepQuestion))
	s.mux.Handle("POST /questions/add", s.page(s.addToSet))
	s.mux.Handle("GET "+importPath, s.page(s.importPage))
	s.mux.Handle("POST "+importPath, s.page(s.importQuestions))
	s.mux.Handle("GET /questions/{id}", s.page(s.oneQuestion))
	s.mux.Handle("POST /questions/{id}", s.page(s.changeQuestion))
	s.mux.Handle("POST /questions/{id}/delete", s.page(s.deleteQuestion))
	s.mux.Handle("POST /undo", s.page(s.takeBack))
}

// pageLength is how many questions stand on a page.
const pageLength = 50

// A questionsPage lists questions: those of the library and one's own.
type questionsPage struct {
	Done    *done
	Mistake *told
	Filter  questionFilter
	Back    string // the filter as a query, for forms that come back here
	Rows    []questionRow
	Total   int
	Owns    int // kept altogether
	Pages   pager
	Sets    []course.Set
	Set     *course.Set // to which questions are being added; nil for none
	Title   string      // of a new set, as typed
	Keep    questionForm
	Typing  bool // what was typed is wrong: its form comes first
}

// A questionRow is a question in a list.
type questionRow struct {
	Pick       string // how a form names it: "library:zinc-copper", "own:12"
	Place      int    // on the page, from 0
	Own        int64  // its ID; 0 for one of the library
	Picked     bool
	Line       document.Inline
	Note       document.Inline
	Source     string
	Difficulty string
	Features   string
	asked             // for the work page and the board
	Problem    string // why it cannot be put into a set; "" where it can
	question   *question.Question
}

// A questionFilter is what a form asks for, as typed.
type questionFilter struct {
	Words, Medium, Source, Order string
	Least, Most                  string
	Features                     []featureBox
	Open                         bool // something of what is folded was asked for
}

// A featureBox is a checkbox of a feature.
type featureBox struct {
	Name, Words string
	Checked     bool
}

// A questionForm is a question as typed.
type questionForm struct {
	Text, Note string
	Medium     redox.Medium
	Reading    *readingPart
}

// A pager leads from page to page.
type pager struct {
	Page, Pages  int
	First, Last  int // questions, from 1
	Before, Next string
}

// newPager says which of n things are on a page; query leads to others.
func newPager(page, n int, address string, query url.Values) pager {
	p := pager{Pages: max(1, (n+pageLength-1)/pageLength)}
	p.Page = min(max(page, 1), p.Pages)
	p.First, p.Last = min((p.Page-1)*pageLength+1, n), min(p.Page*pageLength, n)
	to := func(k int) string {
		v := url.Values{}
		for name, values := range query {
			if name != "done" {
				v[name] = values
			}
		}
		v.Set("page", strconv.Itoa(k))
		return address + "?" + v.Encode()
	}
	if p.Page > 1 {
		p.Before = to(p.Page - 1)
	}
	if p.Page < p.Pages {
		p.Next = to(p.Page + 1)
	}
	return p
}

// questions shows the list.
func (s *Server) questions(r *http.Request) (view, error) {
	p, err := s.newQuestionsPage(r.Context(), r.URL.Query())
	if err != nil {
		return view{}, err
	}
	p.Done = s.changes.told(r)
	return p.view(), nil
}

func (p questionsPage) view() view {
	v := view{page: "questions", here: "questions", title: "Questions", data: p}
	if p.Mistake != nil {
		v.status = p.Mistake.Status
	}
	return v
}

// newQuestionsPage lists the questions that a query asks for. What the query has
// that cannot be is told on the page, and left out.
func (s *Server) newQuestionsPage(ctx context.Context, query url.Values) (questionsPage, error) {
	settings, err := s.o.Store.Settings(ctx)
	if err != nil {
		return questionsPage{}, err
	}
	own, err := s.o.Store.Questions(ctx, "")
	if err != nil {
		return questionsPage{}, err
	}
	p := questionsPage{Owns: len(own)}
	if p.Sets, err = s.o.Store.Sets(ctx); err != nil {
		return p, err
	}
	if id, err := strconv.ParseInt(query.Get("set"), 10, 64); err == nil {
		for i := range p.Sets {
			if p.Sets[i].ID == id {
				p.Set = &p.Sets[i]
			}
		}
	}
	query.Del("done")
	p.Back = query.Encode()
	f, err := p.Filter.read(query)
	if err != nil {
		t := explain(err)
		p.Mistake = &t
	}
	rows := s.listed(f, p.Filter.Source, p.Filter.Order, own)
	p.Total = len(rows)
	page, _ := strconv.Atoi(query.Get("page"))
	p.Pages = newPager(page, p.Total, "/questions", query)
	if p.Total > 0 {
		p.Rows = rows[p.Pages.First-1 : p.Pages.Last]
	}
	for i := range p.Rows {
		p.Rows[i].Place = i
		p.Rows[i].dress(settings.Conventions)
	}
	return p, nil
}

// The orders of the list.
const (
	ownFirst = "own"
	easiest  = "easiest"
	hardest  = "hardest"
	asListed = "listed"
)

// read takes the filter of a query.
func (f *questionFilter) read(query url.Values) (question.Filter, error) {
	f.Words, f.Medium, f.Source, f.Order = query.Get("q"), query.Get("medium"), query.Get("source"), query.Get("order")
	f.Least, f.Most = query.Get("least"), query.Get("most")
	var out question.Filter
	var wrong error
	out.Words = strings.Join(strings.Fields(f.Words), " ")
	if len(out.Words) > course.MaxName {
		out.Words, wrong = "", &pageError{http.StatusBadRequest, fmt.Sprintf("More than %d characters cannot be looked for.", course.MaxName), ""}
	}
	var err error
	if out.Medium, err = redox.ParseMedium(f.Medium); err != nil {
		wrong = &pageError{http.StatusBadRequest, sentence(err.Error()), ""}
	}
	for _, b := range []struct {
		typed string
		at    *question.Tenths
	}{{f.Least, &out.Least}, {f.Most, &out.Most}} {
		if strings.TrimSpace(b.typed) == "" {
			continue
		}
		t, ok := question.ParseTenths(b.typed)
		if !ok {
			wrong = &pageError{http.StatusBadRequest, fmt.Sprintf("The difficulty cannot be %q.", b.typed), "Give a number from 1 to 10, with one decimal at most: 3.5."}
			continue
		}
		*b.at = t
	}
	if out.Most > 0 && out.Least > out.Most {
		wrong = &pageError{http.StatusBadRequest, "The difficulty goes from the easier to the harder: no question meets this.", "Exchange the two."}
	}
	for _, name := range query["feature"] {
		x, err := question.ParseFeature(name)
		if err != nil {
			wrong = hintedError(err)
			continue
		}
		out.Features |= x
	}
	f.Features = featureBoxes(out.Features)
	f.Open = f.Least != "" || f.Most != "" || out.Features != 0
	return out, wrong
}

// featureBoxes are checkboxes for all features, in words.
func featureBoxes(checked question.Features) []featureBox {
	out := make([]featureBox, len(question.FeatureNames))
	for i, name := range question.FeatureNames {
		f := question.Features(1) << i
		out[i] = featureBox{name, f.Words()[0], checked.Has(f)}
	}
	return out
}

// hintedError makes a page's error of one that may have a hint.
func hintedError(err error) error {
	e := &pageError{http.StatusUnprocessableEntity, sentence(err.Error()), ""}
	var hinted interface{ Hint() string }
	if errors.As(err, &hinted) {
		e.hint = sentence(hinted.Hint())
	}
	return e
}

// listed are the questions that meet a filter, in an order.
func (s *Server) listed(f question.Filter, source, order string, own []course.Question) []questionRow {
	var rows []questionRow
	if source != "library" {
		for _, q := range own {
			row := questionRow{Pick: fmt.Sprintf("own:%d", q.ID), Own: q.ID, asked: asked{q.Text, q.Medium}, Source: question.OwnSource}
			w, err := s.owns.work(q)
			if err != nil {
				row.Problem = explain(hinted(err)).Message
				// What cannot be worked is found by its text alone.
				if f.Medium != redox.Unstated || f.Features != 0 || f.Least != 0 || f.Most != 0 || !strings.Contains(strings.ToLower(q.Text+" "+q.Note), strings.ToLower(f.Words)) {
					continue
				}
			} else if len(f.Of([]*question.Question{w})) == 0 {
				continue
			}
			row.question = w
			row.Note = document.Plain(q.Note)
			rows = append(rows, row)
		}
	}
	owns := len(rows)
	if source != "own" {
		for _, q := range f.Of(question.Library()) {
			rows = append(rows, questionRow{Pick: "library:" + q.ID, asked: asked{q.Text, q.Medium}, Source: q.Source, question: q})
		}
	}
	difficulty := func(r questionRow) question.Tenths {
		if r.question == nil {
			return 0
		}
		return r.question.Difficulty
	}
	switch order {
	case asListed:
	case easiest:
		slices.SortStableFunc(rows, func(a, b questionRow) int { return cmp.Compare(difficulty(a), difficulty(b)) })
	case hardest:
		slices.SortStableFunc(rows, func(a, b questionRow) int { return cmp.Compare(difficulty(b), difficulty(a)) })
	default:
		slices.SortStableFunc(rows[owns:], func(a, b questionRow) int { return cmp.Compare(difficulty(a), difficulty(b)) })
	}
	return rows
}

// dress puts on a row what the page shows.
func (row *questionRow) dress(c redox.Conventions) {
	q := row.question
	if q == nil {
		row.Line = document.Plain(row.Text)
		if line, ok := lineOf(row.Text, row.Medium, c); ok {
			row.Line = line
		}
		return
	}
	row.Line = document.Join(document.EquationOf(q.Skeleton(), c), document.MediumPhrase(q.Medium))
	row.Difficulty, row.Features = q.Difficulty.String(), strings.Join(q.Features.Words(), ", ")
	if q.Note != "" {
		row.Note = document.Plain(q.Note) // as it was typed
		if row.Own != 0 {
			return
		}
		row.Note = document.Prose(q.Note, c)
	}
}

// ownWorks remembers own questions that were worked: a list works each.
type ownWorks struct {
	mu  sync.Mutex
	all map[asked]ownWork
}

type ownWork struct {
	q   *question.Question
	err error
}

// mostOwnWorks bounds what is remembered.
const mostOwnWorks = 5000

// work works a question that is kept. Its ID says so.
func (o *ownWorks) work(q course.Question) (*question.Question, error) {
	key := asked{q.Text, q.Medium}
	o.mu.Lock()
	w, ok := o.all[key]
	o.mu.Unlock()
	if !ok {
		w.q, w.err = question.Own("", q.Text, q.Medium)
		o.mu.Lock()
		if o.all == nil || len(o.all) >= mostOwnWorks {
			o.all = map[asked]ownWork{}
		}
		o.all[key] = w
		o.mu.Unlock()
	}
	if w.err != nil {
		return nil, w.err
	}
	mine := *w.q
	mine.ID, mine.Note = fmt.Sprintf("own:%d", q.ID), q.Note
	return &mine, nil
}

// hinted makes an error that a page can tell of one of package question; others
// stay as they are.
func hinted(err error) error {
	var (
		unfit    *question.UnfitError
		file     *question.FileError
		change   *question.ChangeError
		value    *question.ValueError
		word     *question.WordError
		conflict *question.ConflictError
		short    *question.ShortError
	)
	switch {
	case errors.As(err, &unfit):
		return &pageError{http.StatusUnprocessableEntity, sentence(strings.ToUpper(unfit.Msg[:1]) + unfit.Msg[1:]), ""}
	case errors.As(err, &file), errors.As(err, &change), errors.As(err, &value), errors.As(err, &word), errors.As(err, &conflict), errors.As(err, &short):
		return hintedError(err)
	}
	return err
}

// picked finds the questions that a form names, in its order.
func (s *Server) picked(ctx context.Context, picks []string) ([]*question.Question, error) {
	var out []*question.Question
	for _, pick := range picks {
		kind, id, _ := strings.Cut(pick, ":")
		switch kind {
		case "library":
			i := slices.IndexFunc(question.Library(), func(q *question.Question) bool { return q.ID == id })
			if i < 0 {
				return nil, &pageError{http.StatusUnprocessableEntity, "The library has no such question any more.", ""}
			}
			out = append(out, question.Library()[i])
		case "own":
			n, err := strconv.ParseInt(id, 10, 64)
			if err != nil {
				return nil, &pageError{http.StatusBadRequest, "That is no question.", ""}
			}
			q, err := s.o.Store.Question(ctx, n)
			if err != nil {
				return nil, err
			}
			w, err := s.owns.work(q)
			if err != nil {
				return nil, hinted(err)
			}
			out = append(out, w)
		default:
			return nil, &pageError{http.StatusBadRequest, "That is no question.", ""}
		}
	}
	return out, nil
}
