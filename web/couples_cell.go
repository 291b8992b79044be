package web

import (
	"fmt"
	"math"
	"net/http"
	"strconv"
	"strings"

	"halves/chem"
	"halves/document"
	"halves/energetics"
	"halves/redox"
)

// A cellPage is the page of a reaction as a galvanic cell, with its conditions.
type cellPage struct {
	asked
	Examples []example
	Mistake  *told
	Document *document.Document
	PH       *slideField
	Slides   []slideField
	Now      cellNow
	Board    string // address of the question worked
}

// A slideField is a condition that can be slid: a number, and where the slider
// stands.
type slideField struct {
	ID, Name string // of the field of the number
	Of       string // species as text, "" for the pH
	Label    document.Inline
	Spoken   string
	Unit     string
	Value    string // as typed
	At       string // of the slider: pH, or the power of ten
	Min, Max string
	Step     string
}

// cellNow is what conditions make of a cell.
type cellNow struct {
	Mistake  *told
	Standard bool // nothing but the standard state is asked for
	Verdict  string
	Why      document.Inline
	Rows     []cellFigure
	Taken    []document.Inline
	Told     string
}

// A cellFigure is one figure, standard and under the conditions.
type cellFigure struct {
	Name          document.Inline
	Standard, Now string
}

// cellExamples are featured reactions that are cells.
var cellExamples = []asked{
	{Text: "MnO4^- + Fe^2+ -> Mn^2+ + Fe^3+, in acid"},
	examples[0],
	{Text: "Zn + Cu^2+ -> Zn^2+ + Cu"},
	examples[2],
}

// cell shows the reaction of ?q= as a galvanic cell.
func (d couplesDesk) cell(r *http.Request) (view, error) {
	settings, err := d.o.Store.Settings(r.Context())
	if err != nil {
		return view{}, err
	}
	c := settings.Conventions
	p := cellPage{asked: asked{Text: strings.TrimSpace(r.FormValue("q"))}}
	if p.Medium, err = mediumOf(r); err != nil {
		return view{}, err
	}
	v := view{page: "couples_cell", here: "couples", title: "A cell"}
	for _, e := range cellExamples {
		if line, ok := lineOf(e.Text, e.Medium, c); ok {
			p.Examples = append(p.Examples, example{e, line})
		}
	}
	if p.Text != "" {
		if err := d.fillCell(&p, r, c); err != nil {
			t := explainCouples(err)
			p.Mistake, v.status = &t, t.Status
		} else {
			v.title = p.Text
			if p.Now.Mistake != nil {
				v.status = p.Now.Mistake.Status
			}
		}
	}
	v.data = p
	return v, nil
}

// cellNow answers with the figures under the conditions alone.
func (d couplesDesk) cellNow(r *http.Request) (view, error) {
	settings, err := d.o.Store.Settings(r.Context())
	if err != nil {
		return view{}, err
	}
	m, err := mediumOf(r)
	if err != nil {
		return view{}, err
	}
	sol, cell, err := d.workCell(asked{strings.TrimSpace(r.FormValue("q")), m}, settings.Conventions)
	if err != nil {
		t := explainCouples(err)
		return view{page: "couples_cell", part: "now", data: cellNow{Mistake: &t}}, nil
	}
	return view{page: "couples_cell", part: "now", data: d.now(sol, cell, readSlides(r, cell), settings.Conventions)}, nil
}

// workCell works a question and its cell in the standard state.
func (d couplesDesk) workCell(q asked, c redox.Conventions) (*redox.Solution, *energetics.Cell, error) {
	sol, err := redox.Work(q.Text, q.Medium, c)
	if err != nil {
		return nil, nil, err
	}
	cell, err := d.o.Tables.Work(sol, energetics.Conditions{})
	return sol, cell, err
}

func (d couplesDesk) fillCell(p *cellPage, r *http.Request, c redox.Conventions) error {
	sol, cell, err := d.workCell(p.asked, c)
	if err != nil {
		return err
	}
	x, err := document.NewChemistry(d.o.Tables, sol, energetics.Conditions{})
	if err != nil {
		return err
	}
	p.Document = document.FromCell(sol, x)
	p.Board = "/work?" + p.values().Encode()
	slides := readSlides(r, cell)
	for _, s := range slides {
		if s.species == nil {
			p.PH = &slideField{ID: "ph", Name: "ph", Label: document.Plain("pH"), Spoken: "pH", Value: s.text, At: s.at(), Min: "0", Max: "14", Step: "0.1"}
			continue
		}
		f := slideField{ID: s.name, Name: s.name, Of: s.species.String(), Label: speciesInline(s.species, c.Names), Unit: "mol/L", Value: s.text, At: s.at(), Min: "-8", Max: "1", Step: "0.1"}
		if s.species.Phase() == chem.Gas {
			f.Unit, f.Max = "bar", "2"
		}
		f.Spoken, _ = f.Label.Spoken()
		p.Slides = append(p.Slides, f)
	}
	p.Now = d.now(sol, cell, slides, c)
	return nil
}

// A slide is a condition as typed: of a species, or the pH.
type slide struct {
	name    string
	species *chem.Species // nil for the pH
	text    string
	usual   string // the standard state
}

// at is where the slider stands for what was typed; the standard state where that
// is no number.
func (s slide) at() string {
	if s.species != nil {
		return exponentOf(s.text)
	}
	x, err := numberOf(s.text)
	if err != nil {
		return s.usual
	}
	return strconv.FormatFloat(math.Round(min(max(x, 0), 14)*10)/10, 'f', -1, 64)
}

// exponentOf is the power of ten of a number, to a tenth; 0 where it is none.
func exponentOf(text string) string {
	x, err := numberOf(text)
	if err != nil || !(x > 0) {
		return "0"
	}
	return strconv.FormatFloat(math.Round(math.Log10(x)*10)/10, 'f', -1, 64)
}

// readSlides reads the conditions of a request, for what stands in the net
// reaction: the pH where hydrogen or hydroxide ions do, and what is dissolved or a
// gas.
func readSlides(r *http.Request, cell *energetics.Cell) []slide {
	var out []slide
	read := func(s slide) {
		if s.text = strings.TrimSpace(r.FormValue(s.name)); s.text == "" || len(s.text) > 30 {
			s.text = s.usual
		}
		out = append(out, s)
	}
	n := 0
	ph := false
	for _, x := range cell.Net.Species() {
		switch {
		case x.Same(chem.Hydron), x.Same(chem.Hydroxide):
			if !ph {
				ph = true
				usual := "0"
				if x.Same(chem.Hydroxide) {
					usual = "14"
				}
				read(slide{name: "ph", usual: usual})
			}
		case x.IsElectron(), x.Phase() != chem.Aqueous && x.Phase() != chem.Gas:
		default:
			n++
			read(slide{name: "a" + strconv.Itoa(n), species: x, usual: "1"})
		}
	}
	return out
}

// now works what the conditions make of a cell.
func (d couplesDesk) now(sol *redox.Solution, cell *energetics.Cell, slides []slide, c redox.Conventions) cellNow {
	fail := func(err error) cellNow {
		t := explainCouples(err)
		return cellNow{Mistake: &t, Told: t.Message}
	}
	var k energetics.Conditions
	standard := true
	for _, s := range slides {
		x, err := numberOf(s.text)
		if err != nil {
			if s.species == nil {
				return fail(&energetics.ConditionError{Msg: "“" + s.text + "” is no pH", Way: "write a number: 3.5"})
			}
			return fail(&energetics.ConditionError{Msg: fmt.Sprintf("“%s” is no concentration or pressure of %s", s.text, s.species), Way: "write a number: 0.01 or 1e-6"})
		}
		usual, _ := numberOf(s.usual)
		standard = standard && x == usual
		if s.species == nil {
			k.PH = &x
		} else {
			k.Activities = append(k.Activities, energetics.Activity{Species: s.species, Value: x})
		}
	}
	var at *energetics.Now
	verdict, why := cell.Verdict, cell.Why
	if !standard {
		changed, err := d.o.Tables.Work(sol, k)
		if err != nil {
			return fail(err)
		}
		at, verdict, why = changed.At, changed.Verdict, changed.Why
	}
	out := cellNow{Standard: standard, Verdict: sentence(strings.ToUpper(string(verdict)[:1]) + string(verdict)[1:]), Why: document.Prose(decimalsAs(why, c.Comma), c)}
	figure := func(x float64, decimals int, sign bool, unit string) string {
		s := energetics.Figure(x, decimals)
		if sign && strings.Trim(s, "0.\u2212") != "" && !strings.HasPrefix(s, "\u2212") {
			s = "+" + s
		}
		if unit != "" {
			s += "\u00a0" + unit
		}
		return decimalsAs(s, c.Comma)
	}
	volts, gibbs, logQ := cell.Volts, cell.Gibbs, 0.0
	if at != nil {
		volts, gibbs, logQ = at.Volts, at.Gibbs, at.LogQ
		for _, t := range at.Taken {
			out.Taken = append(out.Taken, document.Prose(decimalsAs(t, c.Comma), c))
		}
	}
	decimals := min(cell.Reduction.Decimals(), cell.Oxidation.Decimals(), 3)
	out.Rows = []cellFigure{
		{document.Plain("potential E of the cell"), figure(cell.Volts, decimals, true, "V"), figure(volts, decimals, true, "V")},
		{document.Plain("free energy \u0394G, for the equation as printed"), figure(cell.Gibbs, 0, true, "kJ/mol"), figure(gibbs, 0, true, "kJ/mol")},
		{document.Plain("log Q of the net reaction"), figure(0, 2, false, ""), figure(logQ, 2, false, "")},
	}
	out.Told = fmt.Sprintf("%s E is %s.", out.Verdict, out.Rows[0].Now)
	return out
}
