package web

import (
	"fmt"
	"net/http"
	"net/url"
	"slices"
	"strconv"
	"strings"

	"halves/document"
	"halves/question"
)

// A setChange changes a set. It returns what is said of the change, and where on the
// page it is: "#q3", or "".
type setChange func(*question.Set) (told document.Inline, fragment string, err error)

// editSet reads a set, changes it and keeps it, and returns the address that tells
// it. A form that was made for another state of the set changes nothing: code is the
// check code that it has, "" for any. letter is the version that is shown then.
func (s *Server) editSet(r *http.Request, id int64, code, letter string, do setChange) (to string, err error) {
	s.changes.editing.Lock()
	defer s.changes.editing.Unlock()
	was, set, err := s.setOf(r, id)
	if err != nil {
		return "", err
	}
	if code != "" && code != set.Code {
		return "", &pageError{http.StatusConflict, "The set was changed in another window, so nothing was done here.", "This is how it is now."}
	}
	msg, fragment, err := do(set)
	if err != nil {
		return "", err
	}
	kept, err := keptSet(was.ID, set, s.o.Now())
	if err != nil {
		return "", err
	}
	kept.Created = was.Created
	if _, err := s.o.Store.SaveSet(r.Context(), kept); err != nil {
		return "", err
	}
	to = fmt.Sprintf("/sets/%d", was.ID)
	if query := placeOf(letter, fragment); query != "" {
		to += "?" + query
	}
	return s.happened(change{msg: msg, set: &was, after: stampOf(kept.JSON)}, to, fragment), nil
}

// changeSet is editSet for a form of the page of a set: what cannot be done is told
// there, with the set as it is.
func (s *Server) changeSet(r *http.Request, letter string, do setChange) (view, error) {
	form, err := typed(r)
	if err != nil {
		return view{}, err
	}
	id, err := idOf(r)
	if err != nil {
		return view{}, err
	}
	to, err := s.editSet(r, id, form.Get("code"), letter, do)
	if err == nil {
		return view{to: to}, nil
	}
	kept, set, failed := s.setOf(r, id)
	if failed != nil {
		return view{}, failed
	}
	return s.setView(r, kept, set, err, form)
}

// placeOf is the query that leads to a version, and to the page of it on which a
// question stands ("#q60").
func placeOf(letter, fragment string) string {
	v := url.Values{}
	if letter != "" {
		v.Set("version", letter)
	}
	if n, err := strconv.Atoi(strings.TrimPrefix(fragment, "#q")); err == nil && n > pageLength {
		v.Set("page", strconv.Itoa((n-1)/pageLength+1))
	}
	return v.Encode()
}

// changeItems does what a button of the list says: "marks" keeps the marks alone,
// "move-3-5" makes number 3 number 5, "remove-3" takes it out. Marks that were typed
// are kept in any case.
func (s *Server) changeItems(r *http.Request) (view, error) {
	form, err := typed(r)
	if err != nil {
		return view{}, err
	}
	letter := form.Get("version")
	return s.changeSet(r, letter, func(set *question.Set) (document.Inline, string, error) {
		v, at, err := versionOf(set, letter)
		if err != nil {
			return nil, "", err
		}
		changed := 0
		for i := range v.Items {
			x := v.Items[i]
			text := strings.TrimSpace(form.Get(fmt.Sprintf("worth-%d", x.Number)))
			if text == "" || text == strconv.Itoa(x.Worth) {
				continue
			}
			worth, err := strconv.Atoi(text)
			if err != nil {
				return nil, "", &question.ChangeError{Msg: fmt.Sprintf("question %d cannot be worth %q", x.Number, text), Tip: fmt.Sprintf("give a whole number from 0 to %d", question.MostWorth)}
			}
			if err := set.SetWorth(at, x.Number, worth); err != nil {
				return nil, "", err
			}
			changed++
		}
		act, rest, _ := strings.Cut(form.Get("do"), "-")
		one, other, _ := strings.Cut(rest, "-")
		from, _ := strconv.Atoi(one)
		to, _ := strconv.Atoi(other)
		switch act {
		case "marks":
			if changed == 0 {
				return document.Plain("The marks are as they were."), "", nil
			}
			return document.Plain(counted(changed, "question has", "questions have") + " other marks" + inAll(set) + "."), "", nil
		case "move":
			if err := set.Move(at, from, to); err != nil {
				return nil, "", err
			}
			return document.Plain(fmt.Sprintf("Number %d is number %d now.", from, to)), fmt.Sprintf("#q%d", to), nil
		case "remove":
			if err := set.Remove(at, from); err != nil {
				return nil, "", err
			}
			return document.Plain(fmt.Sprintf("Question %d was removed%s.", from, inAll(set))), fmt.Sprintf("#q%d", min(from, len(v.Items))), nil
		}
		return nil, "", &pageError{http.StatusBadRequest, "This form cannot be read.", "Go back, and send it again."}
	})
}

// inAll says that a change goes for all versions, where there are several.
func inAll(set *question.Set) string {
	if len(set.Versions) > 1 {
		return ", in all versions"
	}
	return ""
}

// retitle changes what stands at the head of the papers.
func (s *Server) retitle(r *http.Request) (view, error) {
	form, err := typed(r)
	if err != nil {
		return view{}, err
	}
	return s.changeSet(r, form.Get("version"), func(set *question.Set) (document.Inline, string, error) {
		for _, k := range question.Keys() {
			switch k.Name {
			case "title", "course", "section":
			default:
				continue
			}
			text := strings.TrimSpace(form.Get(k.Name))
			if k.Name == "title" && text == "" {
				return nil, "", &question.ChangeError{Msg: "the set has no title", Tip: "type one"}
			}
			if strings.ContainsAny(text, "\n\r\x00") {
				return nil, "", &question.ChangeError{Msg: k.Help + " is one line", Tip: "type it anew"}
			}
			if err := k.Set(&set.Wish, []string{text}); err != nil {
				return nil, "", err
			}
		}
		return document.Plain("The head of the papers is changed."), "", nil
	})
}

// drawAnew grants the wish of a set once more, with the next seed.
func (s *Server) drawAnew(r *http.Request) (view, error) {
	var own []*question.Question
	return s.changeSet(r, "", func(set *question.Set) (document.Inline, string, error) {
		w := set.Wish
		w.Seed++
		if ofOwn(set) {
			var err error
			if own, err = s.ownQuestions(r); err != nil {
				return nil, "", err
			}
		}
		fresh, err := question.Make(w, s.pool, own)
		if err != nil {
			return nil, "", err
		}
		*set = *fresh
		return document.Plain(fmt.Sprintf("Drawn anew by the same wish, with the seed %d.", w.Seed)), "", nil
	})
}

// ofOwn reports whether all questions of a set are one's own.
func ofOwn(set *question.Set) bool {
	for _, v := range set.Versions {
		for _, x := range v.Items {
			if x.Question.Source != question.OwnSource {
				return false
			}
		}
	}
	return true
}

// ownQuestions are those of one's own that can stand in a set.
func (s *Server) ownQuestions(r *http.Request) ([]*question.Question, error) {
	all, err := s.o.Store.Questions(r.Context(), "")
	if err != nil {
		return nil, err
	}
	var out []*question.Question
	for _, q := range all {
		if w, err := s.owns.work(q); err == nil {
			out = append(out, w)
		}
	}
	if out == nil {
		return nil, &question.ChangeError{Msg: "there are no questions of your own that can stand in a set", Tip: "keep some on the page of questions, or draw from the library"}
	}
	return out, nil
}

// A replacePage offers questions to take the place of one.
type replacePage struct {
	ID      int64
	Title   string
	Code    string
	Version string
	Number  int
	Item    itemRow
	Several bool // the set has several versions
	Like    []questionRow
	Rows    []offeredRow  // for all versions; only where there are several
	Other   []questionRow // not alike; only where the set has one version
	Seed    uint64        // of what is offered
	Next    uint64
	Back    string
	Filter  string // the words that are looked for
	Mistake *told
}

// An offeredRow is a question for each version.
type offeredRow struct {
	Pick       string
	Lines      []document.Inline
	Difficulty string
	Features   string
}

// pickOfRow names a row in a form.
func pickOfRow(row []*question.Question) string {
	out := "row"
	for _, q := range row {
		out += " " + q.ID
	}
	return out
}

// mostOffered is how many questions are offered at a time.
const (
	mostOffered = 12
	mostRows    = 5
)

// replacements offers questions that could take the place of ?item=.
func (s *Server) replacements(r *http.Request) (view, error) {
	kept, set, err := s.openSet(r)
	if err != nil {
		return view{}, err
	}
	settings, err := s.o.Store.Settings(r.Context())
	if err != nil {
		return view{}, err
	}
	v, at, err := versionOf(set, r.FormValue("version"))
	if err != nil {
		return view{}, err
	}
	number, _ := strconv.Atoi(r.FormValue("item"))
	x, err := set.At(at, number)
	if err != nil {
		return view{}, hinted(err)
	}
	seed, _ := strconv.ParseUint(r.FormValue("seed"), 10, 64)
	like, err := set.Alternatives(at, number, s.pool, set.Wish.Seed+uint64(number)+seed, mostOffered)
	if err != nil {
		return view{}, hinted(err)
	}
	p := replacePage{ID: kept.ID, Title: set.Wish.Title, Code: set.Code, Version: v.Letter, Number: number, Item: rowOf(set, at, number-1, settings.Conventions),
		Several: len(set.Versions) > 1, Seed: seed, Next: seed + 1, Back: fmt.Sprintf("/sets/%d?version=%s#q%d", kept.ID, v.Letter, number)}
	row := func(q *question.Question) questionRow {
		out := questionRow{Pick: q.ID, asked: asked{q.Text, q.Medium}, Source: q.Source, question: q}
		out.dress(settings.Conventions)
		return out
	}
	for _, q := range like {
		p.Like = append(p.Like, row(q))
	}
	if p.Several {
		rows, err := set.Rows(at, number, s.pool, set.Wish.Seed+uint64(number)+seed, mostRows)
		if err != nil {
			return view{}, hinted(err)
		}
		for _, row := range rows {
			o := offeredRow{Pick: pickOfRow(row), Difficulty: row[0].Difficulty.String(), Features: strings.Join(row[0].Features.Words(), ", ")}
			for _, q := range row {
				o.Lines = append(o.Lines, document.EquationOf(q.Skeleton(), settings.Conventions))
			}
			p.Rows = append(p.Rows, o)
		}
	}
	if !p.Several && len(like) < mostOffered {
		for _, q := range s.nearest(set, at, number, x.Question) {
			if len(p.Like)+len(p.Other) < mostOffered {
				p.Other = append(p.Other, row(q))
			}
		}
	}
	return view{page: "setreplace", here: "sets", title: fmt.Sprintf("Another question %d", number), data: p}, nil
}

// nearest are questions of the library in the same medium that are unlike one, those
// first that differ least in difficulty.
func (s *Server) nearest(set *question.Set, version, number int, like *question.Question) []*question.Question {
	var out []*question.Question
	f := question.Filter{Medium: like.Medium, Least: max(like.Difficulty-10, question.Easiest), Most: min(like.Difficulty+10, question.Hardest)}
	for _, q := range f.Of(question.Library()) {
		if q.Features != like.Features && set.Fits(version, number, q) == nil {
			out = append(out, q)
		}
	}
	off := func(q *question.Question) question.Tenths {
		return max(q.Difficulty-like.Difficulty, like.Difficulty-q.Difficulty)
	}
	slices.SortStableFunc(out, func(a, b *question.Question) int { return int(off(a) - off(b)) })
	return out
}

// replaceItem puts a question in the place of another: one that was offered, named
// by its ID with its text and medium.
func (s *Server) replaceItem(r *http.Request) (view, error) {
	form, err := typed(r)
	if err != nil {
		return view{}, err
	}
	letter := form.Get("version")
	return s.changeSet(r, letter, func(set *question.Set) (document.Inline, string, error) {
		_, at, err := versionOf(set, letter)
		if err != nil {
			return nil, "", err
		}
		number, _ := strconv.Atoi(form.Get("item"))
		seed, _ := strconv.ParseUint(form.Get("seed"), 10, 64)
		x, err := set.At(at, number)
		if err != nil {
			return nil, "", err
		}
		// It is drawn again: what a form says of a question is not taken for true.
		all, err := set.Alternatives(at, number, s.pool, set.Wish.Seed+uint64(number)+seed, mostOffered)
		if err != nil {
			return nil, "", err
		}
		if len(set.Versions) == 1 {
			all = append(all, s.nearest(set, at, number, x.Question)...)
		} else if strings.HasPrefix(form.Get("pick"), "row ") {
			rows, err := set.Rows(at, number, s.pool, set.Wish.Seed+uint64(number)+seed, mostRows)
			if err != nil {
				return nil, "", err
			}
			for _, row := range rows {
				if pickOfRow(row) == form.Get("pick") {
					return document.Plain(fmt.Sprintf("Question %d is another now, in all versions.", number)), fmt.Sprintf("#q%d", number), set.ReplaceRow(at, number, row)
				}
			}
		}
		for _, q := range all {
			if q.ID != form.Get("pick") {
				continue
			}
			if err := set.Replace(at, number, q); err != nil {
				return nil, "", err
			}
			return document.Plain(fmt.Sprintf("Question %d is another now.", number)), fmt.Sprintf("#q%d", number), nil
		}
		return nil, "", &question.ChangeError{Msg: "this question is not offered any more", Tip: "choose among those that are"}
	})
}
