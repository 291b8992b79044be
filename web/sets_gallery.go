package web

import (
	"net/http"
	"net/url"
	"strconv"
	"strings"

	"halves/course"
	"halves/question"
)

// madeUpSets are sets by wishes, kept under the numbers from 1.
func (s *Server) madeUpSets(wishes ...func(*question.Wish)) []course.Set {
	var out []course.Set
	for i, change := range wishes {
		w := question.NewWish()
		w.Title, w.Course, w.Section = "Week "+strconv.Itoa(i+1), "General Chemistry II", "B"
		change(&w)
		set, err := question.Make(w, s.pool, nil)
		if err != nil {
			continue
		}
		kept, err := keptSet(int64(i+1), set, madeUpDay)
		if err != nil {
			continue
		}
		out = append(out, kept)
	}
	return out
}

// of puts the number of a set or a question into the path of a request.
func of(id int, h func(*Server, *http.Request) (view, error)) func(*Server, *http.Request) (view, error) {
	return func(s *Server, r *http.Request) (view, error) {
		r.SetPathValue("id", strconv.Itoa(id))
		return h(s, r)
	}
}

// questionsGallery are the states of the pages of questions.
func (s *Server) questionsGallery() []galleryState {
	nothing, ordinary, overfull := madeUpCourses()
	ordinary.sets = []course.Set{{ID: 1, Title: "Week 1", Count: 10, Version: 1, Created: madeUpDay, Changed: madeUpDay}}
	list := func(in course.Store, query string) func() view {
		return s.shows(in, (*Server).questions, "GET", "/questions?"+query, nil)
	}
	lines := url.Values{"text": {"# week 7\nMnO4^- + H2C2O4 -> Mn^2+ + co2, in acid\nSn^2+ + Fe^3+ -> Sn^4+ + Fe^2+, in acid\nAgNO3 + NaCl -> AgCl + NaNO3"}}
	return []galleryState{
		{"empty", list(nothing, "source=own")},
		{"ordinary", list(ordinary, "")},
		{"filter", list(ordinary, "q=MnO4-&medium=acidic&least=2&most=6&feature=water")},
		{"nothing", list(ordinary, "q=unobtainium")},
		{"adding", list(ordinary, "set=1")},
		{"overfull", list(overfull, "source=own&page=5")},
		{"filter-failing", list(ordinary, "least=eleven")},
		{"failing", s.shows(ordinary, (*Server).keepQuestion, "POST", "/questions", url.Values{"text": {"MnO4^- + H2C2O4 -> Mn^2+ + co2, in acid"}, "note": {"for week 7"}})},
		{"none-chosen", s.shows(ordinary, (*Server).addToSet, "POST", "/questions/add", url.Values{"set": {"new"}, "title": {"Week 7"}})},
		{"own", s.shows(ordinary, of(1, (*Server).oneQuestion), "GET", "/questions/1", nil)},
		{"import", s.shows(ordinary, (*Server).importPage, "GET", importPath, nil)},
		{"import-faults", s.shows(ordinary, (*Server).importQuestions, "POST", importPath, lines)},
	}
}

// setsGallery are the states of the pages of sets.
func (s *Server) setsGallery() []galleryState {
	nothing, ordinary, overfull := madeUpCourses()
	// Sets are made when they are looked at: the list of the gallery does not wait.
	some := func() course.Store {
		ordinary.sets = s.madeUpSets(
			func(*question.Wish) {},
			func(w *question.Wish) { w.Questions, w.Versions, w.Rows, w.Columns = 6, 4, 5, 6 },
			func(w *question.Wish) {
				w.Choices, w.Ask = 4, []question.Ask{question.Agents, question.Electrons, question.Balance, question.FindError}
			},
		)
		return ordinary
	}
	many := func() course.Store {
		overfull.sets = s.madeUpSets(func(w *question.Wish) {
			w.Title, w.Questions, w.Species = strings.TrimSpace(strings.Repeat("Redox equations of the whole term ", 5)), 120, question.Any
		})
		return overfull
	}
	shown := func(in func() course.Store, id int, h func(*Server, *http.Request) (view, error), method, rest string, form url.Values) func() view {
		return func() view { return s.shows(in(), of(id, h), method, "/sets/"+strconv.Itoa(id)+rest, form)() }
	}
	set := func(in func() course.Store, id int, query string) func() view {
		return shown(in, id, (*Server).set, "GET", "?"+query, nil)
	}
	paper := func(id int, query string) func() view {
		return shown(some, id, (*Server).paper, "GET", "/paper?"+query, nil)
	}
	wish := func(change func(url.Values)) func() view {
		w := question.NewWish()
		f := formOfWish(&w)
		change(f.Values)
		return s.shows(ordinary, (*Server).makeSet, "POST", "/sets", f.Values)
	}
	return []galleryState{
		{"empty", s.shows(nothing, (*Server).sets, "GET", "/sets", nil)},
		{"list", shown(some, 1, (*Server).sets, "GET", "", nil)},
		{"new", s.shows(ordinary, (*Server).newSet, "GET", "/sets/new", nil)},
		{"new-conflict", wish(func(f url.Values) { f["want"], f["media"] = []string{"base"}, []string{"acidic"} })},
		{"new-failing", wish(func(f url.Values) { f.Set("questions", "ten"); f.Set("only", "Xx"); f.Set("seed", "-1") })},
		{"ordinary", set(some, 1, "")},
		{"versions", set(some, 2, "version=C")},
		{"choices", set(some, 3, "")},
		{"overfull", set(many, 1, "page=2")},
		{"failing", shown(some, 1, (*Server).changeItems, "POST", "/change", url.Values{"do": {"marks"}, "worth-2": {"many"}})},
		{"replace", shown(some, 1, (*Server).replacements, "GET", "/replace?item=4", nil)},
		{"replace-row", shown(some, 2, (*Server).replacements, "GET", "/replace?item=2&version=B", nil)},
		{"worksheet", paper(2, "scaffold=steps")},
		{"key", paper(1, "what=key")},
		{"exam", paper(2, "what=exam&version=D")},
		{"slides", paper(1, "what=slides")},
		{"reference", paper(2, "what=reference")},
		{"concordance", paper(2, "what=versions")},
	}
}
