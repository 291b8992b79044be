package web

import (
	"errors"
	"fmt"
	"math"
	"net/http"
	"net/url"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"sync"

	"halves/chem"
	"halves/document"
	"halves/energetics"
	"halves/names"
	"halves/redox"
	"halves/reference"
	"halves/speech"
)

// A couplesDesk is the pages of couples, with what they look up again and again.
type couplesDesk struct {
	*Server
	elements func() []coveredElement
	texts    func() []string // of each couple what a search looks through
}

func newCouplesDesk(s *Server) couplesDesk {
	return couplesDesk{Server: s, elements: sync.OnceValue(s.coveredElements), texts: sync.OnceValue(s.coupleTexts)}
}

func (s *Server) couplesRoutes() {
	d := newCouplesDesk(s)
	s.mux.Handle("GET /couples", s.page(d.list))
	s.mux.Handle("GET /couples/half", s.page(d.half))
	s.mux.Handle("GET /couples/among", s.page(d.among))
	s.mux.Handle("GET /couples/cell", s.page(d.cell))
	s.mux.Handle("GET /couples/cell/now", s.page(d.cellNow))
	s.mux.Handle("GET /couples/{element}", s.page(d.element))
	s.mux.Handle("GET /couples/{element}/map", s.page(d.mapPart))
	s.mux.Handle("GET /couples/{element}/{file}", s.download(d.elementFile))
}

// A couplesPage is the page on which couples are looked for.
type couplesPage struct {
	Mode     string // "list", "half", "among"
	Search   couplesSearch
	Elements []coveredElement
	Mistake  *told
	Title    document.Inline // of the list
	Element  *coveredElement // whose pictures there are
	Rows     []coupleRow
	Sources  []string
	Total    int
	From, To int    // of the rows that are shown, from 1
	Before   string // address of the rows before, "" for none
	After    string
	Half     string // as typed
	Among    string
	Medium   string // of among
	Answer   *document.Document
	Used     []coupleRow      // rows of the table that an answer was made of
	Energies []formationRow   // free energies that it was made of
	AllFrom  string           // their source, where it is one for all
	Bare     *coveredElement  // an element without couples
	Near     []coveredElement // near it
}

// A couplesSearch is what is looked for, as typed.
type couplesSearch struct {
	Text, Element, From, To, Medium string
	All                             bool
}

func (q couplesSearch) empty() bool {
	return q.Text == "" && q.Element == "" && q.From == "" && q.To == "" && q.Medium == "" && !q.All
}

// A coupleRow is a row of the table of potentials as a page shows it.
type coupleRow struct {
	ID      string
	Volts   string
	Half    document.Inline
	Ask     string // the half-reaction as a page takes it
	Medium  string
	Source  int    // number in the list of sources, from 1; 0 for none
	Cited   string // the source itself, where the page has no list
	Own     bool
	Memory  bool
	Second  bool // not the preferred row of its half-reaction
	Remarks []document.Inline
}

// A formationRow is a free energy of formation as a page shows it.
type formationRow struct {
	Species document.Inline
	Energy  string
	Cited   string
	Memory  bool
	Own     bool
}

// A coveredElement is one that stands in the tables of potentials.
type coveredElement struct {
	Element      chem.Element
	Symbol, Name string
	Other        string // another spelling of the name
}

// mostCouples is how many rows are shown at a time.
const mostCouples = 60

// list shows the couples that are looked for.
func (d couplesDesk) list(r *http.Request) (view, error) {
	settings, err := d.o.Store.Settings(r.Context())
	if err != nil {
		return view{}, err
	}
	q := couplesSearch{Text: strings.TrimSpace(r.FormValue("q")), Element: strings.TrimSpace(r.FormValue("element")), From: strings.TrimSpace(r.FormValue("from")), To: strings.TrimSpace(r.FormValue("to")), Medium: r.FormValue("medium"), All: r.FormValue("all") != ""}
	if strings.ContainsAny(q.Text, ">→⟶⇌") {
		return view{to: "/couples/half?" + url.Values{"q": {q.Text}}.Encode()}, nil
	}
	p := couplesPage{Mode: "list", Search: q, Elements: d.elements(), Medium: energetics.Acidic}
	v := view{page: "couples", here: "couples", title: "Couples"}
	if !q.empty() {
		if err := d.find(&p, r, settings.Conventions); err != nil {
			t := explainCouples(err)
			p.Mistake, v.status = &t, t.Status
		}
	}
	v.data = p
	return v, nil
}

// find puts on a page the rows that are looked for.
func (d couplesDesk) find(p *couplesPage, r *http.Request, c redox.Conventions) error {
	q := p.Search
	const most = 300 // bytes of what is looked for
	if len(q.Text) > most {
		return &pageError{http.StatusUnprocessableEntity, "That is too long for a species or a name.", ""}
	}
	all := slices.Clone(d.o.Tables.Couples.All())
	title := document.Plain("Couples")
	if q.Text != "" {
		var err error
		if all, title, err = d.holding(p, q.Text, c); err != nil {
			return err
		}
	}
	if q.Element != "" {
		e, ok := elementCalled(q.Element)
		if !ok {
			return d.noElement(q.Element)
		}
		of := d.couplesOf(e.Element)
		all = slices.DeleteFunc(all, func(c *reference.Couple) bool { return !slices.Contains(of, c) })
		p.Element, p.Search.Element = &e, e.Symbol
		if q.Text == "" {
			title = document.Plain("Couples of " + e.Name)
		} else {
			title = document.Join(title, document.Plain(", of "+e.Name))
		}
	}
	for _, bound := range []struct {
		text, words string
		keeps       func(v, x float64) bool
	}{{q.From, ", from %s V", func(v, x float64) bool { return v >= x }}, {q.To, ", up to %s V", func(v, x float64) bool { return v <= x }}} {
		if bound.text == "" {
			continue
		}
		x, err := numberOf(bound.text)
		if err != nil {
			return &pageError{http.StatusUnprocessableEntity, fmt.Sprintf("“%s” is no potential.", bound.text), "Write it in volts: 1.23 or -0.76."}
		}
		all = slices.DeleteFunc(all, func(c *reference.Couple) bool { return !bound.keeps(c.Volts, x) })
		title = document.Join(title, document.Plain(fmt.Sprintf(bound.words, strings.Replace(bound.text, "-", "\u2212", 1))))
	}
	switch q.Medium {
	case "":
	case energetics.Acidic, energetics.Basic:
		all = slices.DeleteFunc(all, func(c *reference.Couple) bool { return c.Medium != q.Medium && c.Medium != "any" })
		title = document.Join(title, document.Plain(map[string]string{energetics.Acidic: ", in acid", energetics.Basic: ", in base"}[q.Medium]))
	default:
		return &pageError{http.StatusBadRequest, fmt.Sprintf("No medium is called “%s”.", q.Medium), "It is acidic or basic, or left out."}
	}
	slices.SortStableFunc(all, func(x, y *reference.Couple) int {
		switch {
		case x.Volts > y.Volts:
			return -1
		case x.Volts < y.Volts:
			return 1
		}
		return 0
	})
	p.Title, p.Total = title, len(all)
	page, err := strconv.Atoi(r.FormValue("page"))
	if last := (len(all) - 1) / mostCouples; err != nil || page < 1 {
		page = 1
	} else if page > last+1 {
		page = last + 1
	}
	from := (page - 1) * mostCouples
	to := min(from+mostCouples, len(all))
	p.From, p.To = from+1, to
	address := func(page int) string {
		v := url.Values{"page": {strconv.Itoa(page)}}
		for name, text := range map[string]string{"q": q.Text, "element": q.Element, "from": q.From, "to": q.To, "medium": q.Medium} {
			if text != "" {
				v.Set(name, text)
			}
		}
		if q.All {
			v.Set("all", "yes")
		}
		return "/couples?" + v.Encode()
	}
	if from > 0 {
		p.Before = address(page - 1)
	}
	if to < len(all) {
		p.After = address(page + 1)
	}
	cited := &citations{}
	p.Rows = d.rowsOf(all[from:to], cited, c)
	p.Sources = cited.list()
	return nil
}

// holding returns the couples of an element, of a species, or with names that hold
// what was typed.
func (d couplesDesk) holding(p *couplesPage, text string, c redox.Conventions) ([]*reference.Couple, document.Inline, error) {
	if e, ok := elementCalled(text); ok {
		all := d.couplesOf(e.Element)
		if len(all) > 0 {
			p.Element = &e
		} else {
			p.Bare, p.Near = &e, d.nearElements(e.Element)
		}
		return all, document.Plain("Couples of " + e.Name), nil
	}
	s, err := speciesCalled(text)
	if err == nil {
		if all := d.o.Tables.Couples.Holding(s); len(all) > 0 {
			return slices.Clone(all), document.Join(document.Plain("Couples with "), speciesInline(s, c.Names)), nil
		}
	}
	var found []*reference.Couple
	words := strings.Fields(strings.ToLower(text))
	for i, t := range d.texts() {
		if !slices.ContainsFunc(words, func(w string) bool { return !strings.Contains(t, w) }) {
			found = append(found, d.o.Tables.Couples.All()[i])
		}
	}
	if len(found) == 0 && err != nil {
		return nil, nil, err
	}
	return found, document.Plain("Couples with “" + text + "”"), nil
}

// coupleTexts are what a search looks through: formulas and names of each couple,
// in small letters.
func (s *Server) coupleTexts() []string {
	var out []string
	for _, c := range s.o.Tables.Couples.All() {
		parts := []string{c.ID, c.Half.String()}
		for _, x := range c.Half.Species() {
			if entry := reference.Species().Find(x); entry != nil && !x.Same(chem.Water) && !x.Same(chem.Hydron) && !x.Same(chem.Hydroxide) {
				parts = append(parts, entry.Names...)
			} else if name, ok := names.Of(x, names.Choice{}); ok {
				parts = append(parts, name)
			}
		}
		out = append(out, strings.ToLower(strings.Join(parts, "\n")))
	}
	return out
}

// couplesOf are the couples in which an element is oxidized or reduced, preferred
// or not, in the order of the table.
func (s *Server) couplesOf(e chem.Element) []*reference.Couple {
	halves := map[string]bool{}
	for _, medium := range energetics.Media {
		l, err := s.o.Tables.Ladder(e, medium)
		if err != nil {
			continue
		}
		for _, r := range l.Rungs {
			halves[plainHalf(r.Half)] = true
		}
	}
	if len(halves) == 0 {
		return nil
	}
	var out []*reference.Couple
	for _, c := range s.o.Tables.Couples.All() {
		if halves[plainHalf(c.Half)] {
			out = append(out, c)
		}
	}
	return out
}

// coveredElements lists the elements that have couples, by name.
func (s *Server) coveredElements() []coveredElement {
	there := map[chem.Element]bool{}
	for _, c := range s.o.Tables.Couples.All() {
		for _, x := range c.Half.Species() {
			for _, part := range x.Composition() {
				there[part.Element] = true
			}
		}
	}
	var out []coveredElement
	for e := range there {
		if len(s.couplesOf(e)) > 0 {
			out = append(out, covered(e))
		}
	}
	slices.SortFunc(out, func(a, b coveredElement) int { return strings.Compare(a.Name, b.Name) })
	return out
}

func covered(e chem.Element) coveredElement {
	entry := reference.ElementOf(e)
	return coveredElement{e, entry.Symbol, entry.Name, entry.OtherName}
}

// elementCalled finds an element by its symbol or its name.
func elementCalled(text string) (coveredElement, bool) {
	if e, ok := chem.ElementBySymbol(text); ok {
		return covered(e), true
	}
	for e := chem.H; e <= 118; e++ {
		if entry := reference.ElementOf(e); entry != nil && (strings.EqualFold(entry.Name, text) || entry.OtherName != "" && strings.EqualFold(entry.OtherName, text)) {
			return covered(e), true
		}
	}
	return coveredElement{}, false
}

// speciesCalled reads a formula or a name.
func speciesCalled(text string) (*chem.Species, error) {
	s, err := names.Find(text)
	if err == nil {
		return s, nil
	}
	readings, wrong := chem.ReadSpecies(text, reference.Species())
	if wrong == nil {
		return readings[0].Species, nil
	}
	// A word is a name that is not known, the rest a formula that is mistyped.
	word := strings.IndexFunc(text, func(r rune) bool { return !(r >= 'a' && r <= 'z' || r == ' ' || r == '-' || r == '(' || r == ')') }) < 0
	if word && len(text) > 2 {
		return nil, err
	}
	return nil, wrong
}

// rowsOf makes rows of a page. Where cited is nil each names its source itself.
func (d couplesDesk) rowsOf(all []*reference.Couple, cited *citations, c redox.Conventions) []coupleRow {
	style := c.Style()
	style.Phases = true
	out := make([]coupleRow, 0, len(all))
	for _, x := range all {
		r := coupleRow{
			ID: x.ID, Volts: decimalsAs(signedFigure(x.Text), c.Comma), Ask: plainHalf(x.Half),
			Half:   document.Inline{{Formula: x.Half.Runs(style), Spoken: speech.Equation(x.Half, c.Names)}},
			Medium: coupleMedium(x.Medium), Own: x.Own, Memory: x.Confidence == "memory", Second: !x.Preferred && !x.Own,
		}
		switch {
		case x.Source == "":
		case cited == nil:
			r.Cited = cite(x.Source)
		default:
			r.Source = cited.number(x.Source)
		}
		remark := func(lead, text string) {
			if text != "" {
				r.Remarks = append(r.Remarks, document.Prose(decimalsAs(trueMinus.Replace(sentence(lead+strings.TrimSuffix(apart(text), "."))), c.Comma), c))
			}
		}
		if s, ok := d.o.Tables.Couples.Suspect(x.ID); ok && !x.Own {
			remark("", s.Judgement)
		}
		slow := x.Slow
		if _, known := reference.SourceOf(x.SlowSource); known && cited != nil {
			slow += fmt.Sprintf(" (source %d)", cited.number(x.SlowSource))
		} else if slow != "" && x.SlowSource != "" {
			slow += " (" + cite(x.SlowSource) + ")"
		}
		remark("In practice: ", slow)
		// Where the preferred row stands is said by the rows themselves.
		if !strings.HasPrefix(x.Note, "preferred row") {
			note, _, _ := strings.Cut(x.Note, "; preferred row")
			remark("", strings.ReplaceAll(note, "formation.tsv", "the table of free energies"))
		}
		out = append(out, r)
	}
	return out
}

func coupleMedium(m string) string {
	switch m {
	case energetics.Acidic:
		return "in acid"
	case energetics.Basic:
		return "in base"
	}
	return "in acid and in base"
}

// citations number the sources of a page.
type citations struct{ keys []string }

func (c *citations) number(key string) int {
	if i := slices.Index(c.keys, key); i >= 0 {
		return i + 1
	}
	c.keys = append(c.keys, key)
	return len(c.keys)
}

// list writes the sources in full.
func (c *citations) list() []string {
	var out []string
	for _, k := range c.keys {
		out = append(out, cite(k))
	}
	return out
}

// cite is how a source is cited. What was worked out from the program's own table is
// told in the words of the page.
func cite(key string) string {
	if key == "derived" {
		return "Calculated from the free energies of formation of the table: E° = −ΔG°/nF"
	}
	return document.Citation(key)
}

// numberOf reads a number with a point or a comma.
func numberOf(text string) (float64, error) {
	text = strings.NewReplacer("\u2212", "-", ",", ".").Replace(strings.TrimSpace(text))
	x, err := strconv.ParseFloat(text, 64)
	if err == nil && (math.IsNaN(x) || math.IsInf(x, 0)) {
		err = errors.New("not a number")
	}
	return x, err
}

// signedFigure writes a figure as printed with its sign.
func signedFigure(text string) string {
	switch {
	case strings.HasPrefix(text, "-"):
		return "\u2212" + text[1:]
	case strings.Trim(text, "0.") == "":
		return text
	}
	return "+" + text
}

// trueMinus writes the minus signs of a remark as such.
var trueMinus = strings.NewReplacer(" -", " \u2212", "(-", "(\u2212")

// apart parts the two species of a couple that a remark writes as one word, so that
// each is seen to be a formula: MnO4^-/MnO4^2-.
func apart(text string) string { return pairOfSpecies.ReplaceAllString(text, "$1 / $2") }

// A formula with a number or a charge behind a bar or before one.
var pairOfSpecies = regexp.MustCompile(`([A-Za-z()]*[0-9^][A-Za-z0-9()^+-]*)/([A-Z(\[])`)

// decimalsAs writes the decimal points of a text as the class does: those between
// two digits.
func decimalsAs(text string, comma bool) string {
	if !comma {
		return text
	}
	b := []byte(text)
	digit := func(i int) bool { return i >= 0 && i < len(b) && b[i] >= '0' && b[i] <= '9' }
	for i := range b {
		if b[i] == '.' && digit(i-1) && digit(i+1) {
			b[i] = ','
		}
	}
	return string(b)
}

// explainCouples is explain with the errors of potentials and names.
func explainCouples(err error) told {
	var (
		missing    *energetics.MissingError
		cell       *energetics.NoCellError
		picture    *energetics.NoPictureError
		half       *energetics.HalfError
		conditions *energetics.ConditionError
		unknown    *names.UnknownError
		number     *names.NumberError
	)
	t := told{Status: http.StatusUnprocessableEntity, Message: sentence(err.Error())}
	switch {
	case errors.As(err, &missing):
		t.Hint = "A potential is never invented. A row with its source in a table of your own would supply it."
	case errors.As(err, &cell):
		t.Hint = sentence(cell.Hint())
	case errors.As(err, &half):
		t.Hint = sentence(half.Hint())
	case errors.As(err, &conditions):
		t.Hint = sentence(conditions.Hint())
	case errors.As(err, &unknown), errors.As(err, &number):
		t.Hint = "A formula will do too: MnO4^-."
	case errors.As(err, &picture):
	default:
		return explain(err)
	}
	return t
}
