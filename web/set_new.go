package web

import (
	"errors"
	"fmt"
	"net/http"
	"net/url"
	"slices"
	"strconv"
	"strings"

	"halves/document"
	"halves/question"
	"halves/redox"
)

// A newSetPage is the form of a wish.
type newSetPage struct {
	Mistake *told
	Between []wishLine // the two wishes that exclude each other
	Form    wishForm
	Own     int // questions of one's own that can stand in a set
}

// A wishLine is a line of a wish in words: "media: in acid".
type wishLine struct{ Name, Value string }

// A wishForm is a wish as typed: its lines by their names, and "least" and "most"
// for the two ends of the difficulty.
type wishForm struct {
	url.Values
	faults map[string]string // by the names of lines
}

// Has reports whether a box is ticked.
func (f wishForm) Has(name, value string) bool { return slices.Contains(f.Values[name], value) }

// Fault says what is wrong with a line, "" for nothing.
func (f wishForm) Fault(name string) string { return f.faults[name] }

// Clash reports whether a line is one of two that exclude each other.
func (p newSetPage) Clash(name string) bool {
	return slices.ContainsFunc(p.Between, func(l wishLine) bool { return l.Name == name })
}

// Media, Asks and Features are what can be ticked.
func (newSetPage) Media() []redox.Medium       { return redox.Media }
func (newSetPage) Asks() []question.Ask        { return question.Asks }
func (newSetPage) Features() []featureBox      { return featureBoxes(0) }
func (newSetPage) Words(m redox.Medium) string { return mediumWords(m) }

// mediumWords says a medium as a form does.
func mediumWords(m redox.Medium) string {
	switch m {
	case redox.Acidic:
		return "in acid"
	case redox.Basic:
		return "in base"
	case redox.Neutral:
		return "in neutral solution"
	case redox.None:
		return "nothing added"
	}
	return string(m)
}

// newSet shows the form: as usual, or by the wish of the set ?like=.
func (s *Server) newSet(r *http.Request) (view, error) {
	settings, err := s.o.Store.Settings(r.Context())
	if err != nil {
		return view{}, err
	}
	w := question.NewWish()
	w.Title, w.Course, w.Section = "", settings.Course, settings.Section
	if id, err := strconv.ParseInt(r.FormValue("like"), 10, 64); err == nil {
		_, set, err := s.setOf(r, id)
		if err != nil {
			return view{}, err
		}
		w = set.Wish
		w.Seed++
	}
	return s.wishView(r, newSetPage{Form: formOfWish(&w)})
}

func (s *Server) wishView(r *http.Request, p newSetPage) (view, error) {
	own, err := s.ownQuestions(r)
	var none *question.ChangeError
	if err != nil && !errors.As(err, &none) {
		return view{}, err
	}
	p.Own = len(own)
	v := view{page: "setnew", here: "sets", title: "New set", data: p}
	if p.Mistake != nil {
		v.status = p.Mistake.Status
	}
	return v, nil
}

// formOfWish fills the form.
func formOfWish(w *question.Wish) wishForm {
	f := wishForm{Values: url.Values{}}
	usual := question.NewWish()
	for _, k := range question.Keys() {
		values := k.Get(w)
		switch {
		case k.Name == "difficulty":
			if !slices.Equal(values, k.Get(&usual)) {
				least, most, _ := strings.Cut(values[0], "-")
				f.Set("least", least)
				f.Set("most", most)
			}
		case k.Name == "only", k.Name == "couples":
			f.Set(k.Name, strings.Join(values, ", "))
		case k.List:
			f.Values[k.Name] = values
		default:
			f.Set(k.Name, values[0])
		}
	}
	return f
}

// wish reads the form. What cannot be is told by line, and the error is the first.
func (f *wishForm) wish() (question.Wish, error) {
	w := question.NewWish()
	f.faults = map[string]string{}
	var first error
	for _, k := range question.Keys() {
		var values []string
		typed := strings.TrimSpace(f.Get(k.Name))
		switch {
		case k.Name == "difficulty":
			least, most := strings.TrimSpace(f.Get("least")), strings.TrimSpace(f.Get("most"))
			if least+most == "" {
				continue
			}
			if least == "" {
				least = question.Easiest.String()
			}
			if most == "" {
				most = question.Hardest.String()
			}
			values = []string{least + "-" + most}
		case k.Name == "from" && typed == fromOwn:
			continue
		case k.Name == "only", k.Name == "couples":
			values = formulaList(typed)
		case k.List:
			values = f.Values[k.Name]
		case k.Name == "shuffle", k.Name == "slow":
			values = []string{strconv.FormatBool(typed != "")}
			if typed == "false" {
				values = []string{"false"}
			}
		case typed == "":
			continue // as usual
		default:
			values = []string{typed}
		}
		if err := k.Set(&w, values); err != nil {
			t := explain(hinted(err))
			f.faults[k.Name] = strings.TrimSpace(t.Message + " " + t.Hint)
			if first == nil {
				first = err
			}
		}
	}
	return w, first
}

// fromOwn draws from one's own questions alone.
const fromOwn = "own"

// formulaList parts formulas by commas, semicolons or spaces.
func formulaList(text string) []string {
	return strings.FieldsFunc(text, func(r rune) bool { return r == ',' || r == ';' || r == ' ' || r == '\n' || r == '\t' })
}

// makeSet grants a wish, or shows it again with what is wrong.
func (s *Server) makeSet(r *http.Request) (view, error) {
	values, err := typed(r)
	if err != nil {
		return view{}, err
	}
	p := newSetPage{Form: wishForm{Values: values}}
	set, err := s.granted(r, &p.Form)
	var to string
	if err == nil {
		to, err = s.keepMade(r, set)
	}
	if err == nil {
		return view{to: to}, nil
	}
	p.Mistake = s.mistaken(r, err)
	var conflict *question.ConflictError
	if errors.As(err, &conflict) {
		p.Mistake.Message = "Two of these wishes exclude each other: " + conflict.Why + "."
		p.Mistake.Hint = "Change one of the two."
		p.Between = []wishLine{lineOfWish(conflict.A), lineOfWish(conflict.B)}
	}
	return s.wishView(r, p)
}

func (s *Server) granted(r *http.Request, f *wishForm) (*question.Set, error) {
	w, err := f.wish()
	if err != nil {
		return nil, err
	}
	var own []*question.Question
	if f.Get("from") == fromOwn {
		if own, err = s.ownQuestions(r); err != nil {
			return nil, err
		}
	}
	return question.Make(w, s.pool, own)
}

func (s *Server) keepMade(r *http.Request, set *question.Set) (string, error) {
	kept, err := keptSet(0, set, s.o.Now())
	if err != nil {
		return "", err
	}
	if kept.ID, err = s.o.Store.SaveSet(r.Context(), kept); err != nil {
		return "", err
	}
	return s.happened(change{msg: document.Plain("The set is made. It can be changed below, and printed.")}, fmt.Sprintf("/sets/%d", kept.ID), ""), nil
}

// lineOfWish says a line of a wish in words: "want: water-twice" is water in both
// halves, at least once.
func lineOfWish(line string) wishLine {
	name, value, _ := strings.Cut(line, ": ")
	var words []string
	for _, v := range strings.Split(value, ", ") {
		switch name {
		case "want", "avoid":
			if f, err := question.ParseFeature(v); err == nil {
				v = f.Words()[0]
			}
		case "media":
			v = mediumWords(redox.Medium(v))
		case "ask":
			v = question.Ask(v).Words()
		}
		words = append(words, v)
	}
	return wishLine{name, strings.Join(words, ", ")}
}

// Says is the line in a sentence.
func (l wishLine) Says() string {
	switch l.Name {
	case "want":
		return "at least once: " + l.Value
	case "avoid":
		return "never: " + l.Value
	}
	return l.Name + ": " + l.Value
}
