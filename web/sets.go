package web

import (
	"errors"
	"fmt"
	"io"
	"net/http"
	"net/url"
	"strconv"
	"strings"

	"halves/course"
	"halves/document"
	"halves/question"
	"halves/redox"
)

func (s *Server) setRoutes() {
	s.mux.Handle("GET /sets", s.page(s.sets))
	s.mux.Handle("GET /sets/new", s.page(s.newSet))
	s.mux.Handle("POST /sets", s.page(s.makeSet))
	s.mux.Handle("POST /sets/file", s.page(s.takeSetFile))
	s.mux.Handle("GET /sets/{id}", s.page(s.set))
	s.mux.Handle("POST /sets/{id}/change", s.page(s.changeItems))
	s.mux.Handle("GET /sets/{id}/replace", s.page(s.replacements))
	s.mux.Handle("POST /sets/{id}/replace", s.page(s.replaceItem))
	s.mux.Handle("POST /sets/{id}/title", s.page(s.retitle))
	s.mux.Handle("POST /sets/{id}/another", s.page(s.drawAnew))
	s.mux.Handle("POST /sets/{id}/copy", s.page(s.copySet))
	s.mux.Handle("POST /sets/{id}/delete", s.page(s.deleteSet))
	s.paperRoutes()
}

// A setsPage lists the sets.
type setsPage struct {
	Done    *done
	Mistake *told
	Rows    []setRow
}

type setRow struct {
	ID              int64
	Title           string
	Count, Versions string // "6 questions", "4 versions"
	Changed, When   string
}

// sets shows the list.
func (s *Server) sets(r *http.Request) (view, error) { return s.setsView(r, nil) }

func (s *Server) setsView(r *http.Request, wrong error) (view, error) {
	all, err := s.o.Store.Sets(r.Context())
	if err != nil {
		return view{}, err
	}
	p := setsPage{Done: s.changes.told(r)}
	v := view{page: "sets", here: "sets", title: "Sets"}
	if wrong != nil {
		p.Mistake = s.mistaken(r, wrong)
		v.status = p.Mistake.Status
	}
	for _, x := range all {
		p.Rows = append(p.Rows, setRow{x.ID, x.Title, counted(x.Count, "question", "questions"), counted(x.Version, "version", "versions"),
			x.Changed.Format("2006-01-02T15:04:05Z07:00"), x.Changed.Local().Format("2 January 2006, 15:04")})
	}
	v.data = p
	return v, nil
}

// openSet reads the set of a path.
func (s *Server) openSet(r *http.Request) (course.Set, *question.Set, error) {
	id, err := idOf(r)
	if err != nil {
		return course.Set{}, nil, err
	}
	return s.setOf(r, id)
}

func (s *Server) setOf(r *http.Request, id int64) (course.Set, *question.Set, error) {
	kept, err := s.o.Store.Set(r.Context(), id)
	if err != nil {
		return kept, nil, err
	}
	set, err := question.ReadSet(kept.JSON, s.o.Tables.Couples)
	if err != nil {
		return kept, nil, hinted(err)
	}
	return kept, set, nil
}

// A setPage shows the versions of a set, one at a time.
type setPage struct {
	ID      int64
	Done    *done
	Mistake *told

	Title, Course, Section string // as typed, where that failed
	Head                   string // "6 questions in 4 versions, 51 marks"
	Notes                  []string
	Code                   string // of the set: what is sent back with a change

	Version    string // the letter of that which is shown
	Versions   []versionTab
	Worth      int
	Difficulty string
	Check      string // the code of the version
	Alike      bool   // a move goes for all versions
	Rows       []itemRow
	Pages      pager
	Another    bool // a wish can be granted anew
}

// A versionTab leads to a version.
type versionTab struct {
	Letter, Difficulty string
	Here               bool
}

// An itemRow is a question of a set.
type itemRow struct {
	Number     int
	Line       document.Inline
	Ask        string
	Worth      string // as typed, where that failed
	Difficulty string
	Features   string
	Same       bool // in all versions
	Choices    []document.Choice
	Working    []document.Inline
	Slip       int // the line of the working that is wrong
	asked
	First, Last bool
}

// Up and Down are the numbers that it gets by a step.
func (x itemRow) Up() int   { return x.Number - 1 }
func (x itemRow) Down() int { return x.Number + 1 }

// set shows a set.
func (s *Server) set(r *http.Request) (view, error) {
	kept, set, err := s.openSet(r)
	if err != nil {
		return view{}, err
	}
	return s.setView(r, kept, set, nil, nil)
}

// setView shows a set, with what is wrong and what was typed.
func (s *Server) setView(r *http.Request, kept course.Set, set *question.Set, wrong error, form url.Values) (view, error) {
	settings, err := s.o.Store.Settings(r.Context())
	if err != nil {
		return view{}, err
	}
	v, at, err := versionOf(set, r.FormValue("version"))
	if err != nil {
		return view{}, err
	}
	n := len(v.Items)
	p := setPage{ID: kept.ID, Done: s.changes.told(r), Title: set.Wish.Title, Course: set.Wish.Course, Section: set.Wish.Section, Notes: set.Notes, Code: set.Code,
		Version: v.Letter, Worth: v.Worth(), Difficulty: v.Difficulty().String(), Check: v.Code, Alike: len(set.Versions) > 1 && !set.Wish.Shuffle, Another: true}
	p.Head = counted(n, "question", "questions")
	if len(set.Versions) > 1 {
		p.Head += " in " + counted(len(set.Versions), "version", "versions")
	}
	for i := range set.Versions {
		p.Versions = append(p.Versions, versionTab{set.Versions[i].Letter, set.Versions[i].Difficulty().String(), i == at})
	}
	page, _ := strconv.Atoi(r.FormValue("page"))
	p.Pages = newPager(page, n, fmt.Sprintf("/sets/%d", kept.ID), url.Values{"version": {v.Letter}})
	for i := max(p.Pages.First, 1) - 1; i < p.Pages.Last; i++ {
		p.Rows = append(p.Rows, rowOf(set, at, i, settings.Conventions))
	}
	out := view{page: "set", here: "sets", title: set.Wish.Title}
	if wrong != nil {
		p.Mistake = s.mistaken(r, wrong)
		out.status = p.Mistake.Status
		if form.Has("title") {
			p.Title, p.Course, p.Section = form.Get("title"), form.Get("course"), form.Get("section")
		}
		if form.Get("code") == set.Code { // the numbers mean what they meant
			for i := range p.Rows {
				if name := fmt.Sprintf("worth-%d", p.Rows[i].Number); form.Has(name) {
					p.Rows[i].Worth = form.Get(name)
				}
			}
		}
	}
	out.data = p
	return out, nil
}

// versionOf finds a version by its letter; the first for "".
func versionOf(set *question.Set, letter string) (*question.Version, int, error) {
	if letter == "" {
		letter = "A"
	}
	for i := range set.Versions {
		if strings.EqualFold(set.Versions[i].Letter, letter) {
			return &set.Versions[i], i, nil
		}
	}
	return nil, 0, &pageError{http.StatusNotFound, "This set has no such version.", fmt.Sprintf("It has A to %s.", set.Versions[len(set.Versions)-1].Letter)}
}

// rowOf is item i, from 0, of a version.
func rowOf(set *question.Set, version, i int, c redox.Conventions) itemRow {
	v := set.Versions[version]
	x := &v.Items[i]
	q := x.Question
	row := itemRow{Number: x.Number, Line: document.Join(document.EquationOf(q.Skeleton(), c), document.MediumPhrase(q.Medium)), Ask: x.Ask.Words(), Worth: strconv.Itoa(x.Worth),
		Difficulty: q.Difficulty.String(), Features: strings.Join(q.Features.Words(), ", "), asked: asked{q.Text, q.Medium}, First: i == 0, Last: i == len(v.Items)-1}
	if x.Ask == question.Agents && x.Options != nil {
		row.Ask = "choose the oxidizing agent"
	}
	for k := range set.Versions {
		if k == version {
			continue
		}
		for _, y := range set.Versions[k].Items {
			row.Same = row.Same || y.Slot == x.Slot && y.Question.Text == q.Text
		}
	}
	for _, o := range x.Options {
		row.Choices = append(row.Choices, document.Choice{Text: document.Inline{{Formula: o.Runs, Spoken: question.Spoken(o, c)}}, Right: o.Right})
	}
	if x.Working != nil {
		row.Slip = x.Working.Line
		for _, e := range question.Lines(x.Working) {
			row.Working = append(row.Working, document.EquationOf(e, c))
		}
	}
	return row
}

// takeSetFile keeps a set that was handed on as JSON.
func (s *Server) takeSetFile(r *http.Request) (view, error) {
	kept, err := s.setOfFile(r)
	if err == nil {
		kept.ID, err = s.o.Store.SaveSet(r.Context(), kept)
	}
	if err != nil {
		return s.setsView(r, err)
	}
	return view{to: s.happened(change{msg: document.Plain("The set of the file is kept. Every question of it was worked again.")}, fmt.Sprintf("/sets/%d", kept.ID), "")}, nil
}

func (s *Server) setOfFile(r *http.Request) (course.Set, error) {
	file, _, err := r.FormFile("file")
	if err != nil {
		var large *http.MaxBytesError
		if errors.As(err, &large) {
			return course.Set{}, err
		}
		return course.Set{}, &pageError{http.StatusUnprocessableEntity, "No file was sent.", "Choose a set that was handed on as JSON."}
	}
	defer file.Close()
	text, err := io.ReadAll(file)
	if err != nil {
		return course.Set{}, fmt.Errorf("reading the file that was sent: %w", err)
	}
	set, err := question.ReadSet(text, s.o.Tables.Couples)
	if err != nil {
		return course.Set{}, err
	}
	return keptSet(0, set, s.o.Now())
}

// copySet keeps a set a second time.
func (s *Server) copySet(r *http.Request) (view, error) {
	_, set, err := s.openSet(r)
	if err != nil {
		return view{}, err
	}
	set.Wish.Title = copyTitle(set.Wish.Title)
	kept, err := keptSet(0, set, s.o.Now())
	if err != nil {
		return view{}, err
	}
	if kept.ID, err = s.o.Store.SaveSet(r.Context(), kept); err != nil {
		return view{}, err
	}
	return view{to: s.happened(change{msg: document.Plain("This is the copy; the other is as it was.")}, fmt.Sprintf("/sets/%d", kept.ID), "")}, nil
}

// copyTitle is the title of a copy, no longer than a title may be.
func copyTitle(title string) string {
	const mark = " (copy)"
	if k, found := strings.CutSuffix(title, mark); found {
		title = k
	}
	for len(title)+len(mark) > course.MaxName {
		runes := []rune(title)
		title = string(runes[:len(runes)-1])
	}
	return title + mark
}

// deleteSet deletes a set; it can be taken back.
func (s *Server) deleteSet(r *http.Request) (view, error) {
	s.changes.editing.Lock()
	defer s.changes.editing.Unlock()
	id, err := idOf(r)
	if err != nil {
		return view{}, err
	}
	kept, err := s.o.Store.Set(r.Context(), id)
	if err != nil {
		return view{}, err
	}
	if err := s.o.Store.DeleteSet(r.Context(), id); err != nil {
		return view{}, err
	}
	kept.ID = 0 // taken back, it is kept anew
	return view{to: s.happened(change{msg: document.Plain("Deleted: " + kept.Title + "."), set: &kept, to: "/sets"}, "/sets", "")}, nil
}
