package web

import (
	"errors"
	"fmt"
	"net/http"
	"net/url"
	"slices"
	"strconv"
	"strings"

	"halves/course"
	"halves/document"
	"halves/question"
	"halves/redox"
)

// typed reads the fields of a form. Unlike r.FormValue it tells of a form that is
// too large.
func typed(r *http.Request) (url.Values, error) {
	if err := r.ParseForm(); err != nil {
		var large *http.MaxBytesError
		if errors.As(err, &large) {
			return nil, err
		}
		return nil, &pageError{http.StatusBadRequest, "This form cannot be read.", "Go back, and send it again."}
	}
	return r.PostForm, nil
}

// formOfQuestion is a question as a form has it.
func formOfQuestion(form url.Values) questionForm {
	f := questionForm{Text: strings.TrimSpace(form.Get("text")), Note: strings.TrimSpace(form.Get("note"))}
	// A medium that is none is told when the question is worked.
	f.Medium = redox.Medium(form.Get("medium"))
	return f
}

// check works the question of a form: what cannot be worked is not kept.
func (f *questionForm) check() (course.Question, error) {
	m, err := redox.ParseMedium(string(f.Medium))
	if err != nil {
		return course.Question{}, &pageError{http.StatusBadRequest, sentence(err.Error()), ""}
	}
	f.Medium = m
	q := course.Question{Text: f.Text, Medium: m, Note: f.Note}
	if err := q.Check(); err != nil {
		return q, err
	}
	_, err = question.Own("", q.Text, q.Medium)
	var unfit *question.UnfitError
	if errors.As(err, &unfit) {
		err = nil // it has an answer, and may be worth keeping
	}
	return q, err
}

// keepQuestion keeps what was typed, here or on the work page.
func (s *Server) keepQuestion(r *http.Request) (view, error) {
	form, err := typed(r)
	if err != nil {
		return view{}, err
	}
	f := formOfQuestion(form)
	q, err := f.check()
	if err == nil {
		var again bool
		if again, err = s.keptAlready(r, q); again {
			return view{to: s.happened(change{msg: document.Join(document.Plain("Kept before: "), s.lineInline(r, q), document.Plain("."))}, "/questions", "")}, nil
		}
	}
	if err == nil {
		q.Created = s.o.Now()
		if q.ID, err = s.o.Store.SaveQuestion(r.Context(), q); err == nil {
			x := change{msg: document.Join(document.Plain("Kept: "), s.lineInline(r, q), document.Plain(".")), drop: []int64{q.ID}, to: "/questions"}
			return view{to: s.happened(x, "/questions", "")}, nil
		}
	}
	return s.questionsAgain(r, url.Values{}, func(p *questionsPage) {
		p.Mistake, p.Keep, p.Typing = s.mistaken(r, err), f, true
	})
}

// questionsAgain shows the list with what was typed and what is wrong with it.
func (s *Server) questionsAgain(r *http.Request, back url.Values, put func(*questionsPage)) (view, error) {
	p, err := s.newQuestionsPage(r.Context(), back)
	if err != nil {
		return view{}, err
	}
	put(&p)
	return p.view(), nil
}

// mistaken is an error as the page that it came from tells it.
func (s *Server) mistaken(r *http.Request, err error) *told {
	t := s.errorView(r, hinted(err)).data.(told)
	return &t
}

// keptAlready reports whether a question is kept, with the same medium.
func (s *Server) keptAlready(r *http.Request, q course.Question) (bool, error) {
	all, err := s.o.Store.Questions(r.Context(), "")
	return slices.ContainsFunc(all, func(o course.Question) bool { return o.Text == q.Text && o.Medium == q.Medium }), err
}

// lineInline is a question as a sentence holds it.
func (s *Server) lineInline(r *http.Request, q course.Question) document.Inline {
	settings, err := s.o.Store.Settings(r.Context())
	if err == nil {
		if line, ok := lineOf(q.Text, q.Medium, settings.Conventions); ok {
			return line
		}
	}
	return document.Plain(q.Text)
}

// A questionPage is one of one's own questions, to be changed.
type questionPage struct {
	ID      int64
	Done    *done
	Mistake *told
	Line    document.Inline
	asked
	Form       questionForm
	Difficulty string
	Features   []string
	Problem    string
}

// oneQuestion shows an own question.
func (s *Server) oneQuestion(r *http.Request) (view, error) {
	id, err := idOf(r)
	if err != nil {
		return view{}, err
	}
	q, err := s.o.Store.Question(r.Context(), id)
	if err != nil {
		return view{}, err
	}
	return s.questionView(r, q, questionForm{Text: q.Text, Note: q.Note, Medium: q.Medium}, nil), nil
}

func (s *Server) questionView(r *http.Request, q course.Question, f questionForm, wrong error) view {
	p := questionPage{ID: q.ID, Done: s.changes.told(r), Line: s.lineInline(r, q), asked: asked{q.Text, q.Medium}, Form: f}
	w, err := s.owns.work(q)
	if err != nil {
		p.Problem = explain(hinted(err)).Message
	} else {
		p.Difficulty, p.Features = w.Difficulty.String(), w.Features.Words()
	}
	v := view{page: "question", here: "questions", title: "Own question"}
	if wrong != nil {
		p.Mistake = s.mistaken(r, wrong)
		v.status = p.Mistake.Status
	}
	v.data = p
	return v
}

// changeQuestion keeps an own question as it was typed anew.
func (s *Server) changeQuestion(r *http.Request) (view, error) {
	id, err := idOf(r)
	if err != nil {
		return view{}, err
	}
	form, err := typed(r)
	if err != nil {
		return view{}, err
	}
	was, err := s.o.Store.Question(r.Context(), id)
	if err != nil {
		return view{}, err
	}
	f := formOfQuestion(form)
	q, err := f.check()
	if err == nil {
		q.ID, q.Created = was.ID, was.Created
		_, err = s.o.Store.SaveQuestion(r.Context(), q)
	}
	if err != nil {
		return s.questionView(r, was, f, err), nil
	}
	to := fmt.Sprintf("/questions/%d", id)
	return view{to: s.happened(change{msg: document.Plain("The question is kept as you changed it."), questions: []course.Question{was}, to: to}, to, "")}, nil
}

// deleteQuestion deletes an own question; it can be taken back.
func (s *Server) deleteQuestion(r *http.Request) (view, error) {
	id, err := idOf(r)
	if err != nil {
		return view{}, err
	}
	q, err := s.o.Store.Question(r.Context(), id)
	if err != nil {
		return view{}, err
	}
	line := s.lineInline(r, q)
	if err := s.o.Store.DeleteQuestion(r.Context(), id); err != nil {
		return view{}, err
	}
	q.ID = 0 // taken back, it is kept anew
	x := change{msg: document.Join(document.Plain("Deleted: "), line, document.Plain(". Sets that hold it keep it.")), questions: []course.Question{q}, to: "/questions"}
	return view{to: s.happened(x, "/questions", "")}, nil
}

// addToSet adds the chosen questions to a set, or makes a new set of them.
func (s *Server) addToSet(r *http.Request) (view, error) {
	form, err := typed(r)
	if err != nil {
		return view{}, err
	}
	v, err := s.addPicked(r, form)
	if err == nil {
		return v, nil
	}
	back, _ := url.ParseQuery(form.Get("back"))
	if id := form.Get("set"); id != "" && id != "new" {
		back.Set("set", id)
	}
	return s.questionsAgain(r, back, func(p *questionsPage) {
		p.Mistake, p.Title = s.mistaken(r, err), form.Get("title")
		for i := range p.Rows {
			p.Rows[i].Picked = slices.Contains(form["pick"], p.Rows[i].Pick)
		}
	})
}

func (s *Server) addPicked(r *http.Request, form url.Values) (view, error) {
	if len(form["pick"]) == 0 {
		return view{}, &pageError{http.StatusUnprocessableEntity, "No question was chosen.", "Tick those that you want to add, then send it again."}
	}
	if len(form["pick"]) > question.MostQuestions {
		return view{}, &pageError{http.StatusUnprocessableEntity, fmt.Sprintf("A set has at most %d questions.", question.MostQuestions), ""}
	}
	all, err := s.picked(r.Context(), form["pick"])
	if err != nil {
		return view{}, err
	}
	if form.Get("set") == "new" {
		return s.collectSet(r, strings.TrimSpace(form.Get("title")), all)
	}
	id, err := strconv.ParseInt(form.Get("set"), 10, 64)
	if err != nil {
		return view{}, &pageError{http.StatusUnprocessableEntity, "No set was chosen.", "Choose one, or a new one."}
	}
	to, err := s.editSet(r, id, "", "", func(set *question.Set) (told document.Inline, fragment string, err error) {
		n := len(set.Versions[0].Items)
		var left []error
		alike := 0
		for _, q := range all {
			same, err := set.Add(q, s.pool)
			if err != nil {
				left = append(left, err)
				continue
			}
			if same {
				alike++
			}
		}
		added := len(set.Versions[0].Items) - n
		if added == 0 {
			return nil, "", left[0]
		}
		text := counted(added, "question was", "questions were") + " added at the end."
		if len(set.Versions) > 1 && alike < added {
			text += " In the other versions stand questions that are as hard and ask the same."
		}
		if alike > 0 {
			text += " " + counted(alike, "is", "are") + " the same in all versions, for no others were found that can stand for them."
		}
		return document.Join(document.Plain(text), leftOut(left)), fmt.Sprintf("#q%d", n+1), nil
	})
	return view{to: to}, err
}

// leftOut says what was not taken.
func leftOut(left []error) document.Inline {
	if len(left) == 0 {
		return nil
	}
	text := " Left out: "
	for i, err := range left {
		if i == 3 {
			text += fmt.Sprintf("; and %d more", len(left)-3)
			break
		}
		if i > 0 {
			text += "; "
		}
		text += err.Error()
	}
	return document.Prose(text+".", redox.Conventions{})
}

// counted says how many: "1 question was", "12 questions were".
func counted(n int, one, more string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %s", n, more)
}

// collectSet makes a new set of chosen questions.
func (s *Server) collectSet(r *http.Request, title string, all []*question.Question) (view, error) {
	settings, err := s.o.Store.Settings(r.Context())
	if err != nil {
		return view{}, err
	}
	w := question.NewWish()
	w.Course, w.Section = settings.Course, settings.Section
	if title != "" {
		w.Title = title
	}
	set, left, err := question.Collect(w, all)
	if err != nil {
		return view{}, err
	}
	kept, err := keptSet(0, set, s.o.Now())
	if err != nil {
		return view{}, err
	}
	if kept.ID, err = s.o.Store.SaveSet(r.Context(), kept); err != nil {
		return view{}, err
	}
	msg := document.Join(document.Plain("A new set of "+counted(len(set.Versions[0].Items), "question", "questions")+"."), leftOut(left))
	return view{to: s.happened(change{msg: msg}, fmt.Sprintf("/sets/%d", kept.ID), "")}, nil
}
