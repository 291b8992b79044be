package web

import (
	"errors"
	"fmt"
	"io"
	"net/http"
	"net/url"
	"slices"
	"strconv"
	"strings"

	"halves/chem"
	"halves/diagram"
	"halves/document"
	"halves/drawing"
	"halves/energetics"
	"halves/internal/nearest"
	"halves/redox"
	"halves/reference"
)

// A couplePage is the page of the pictures of an element.
type couplePage struct {
	Element coveredElement
	Medium  string
	Covered bool
	Near    []coveredElement
	Count   int // couples in the table
	Figures []coupleFigure
	Map     coupleFigure
	// The map's controls, as typed.
	Concentration, Species string
	Exponent               string // of the concentration, where the slider stands
	Oxygen                 bool   // the element is one of water
}

// A coupleFigure is a picture with what belongs to it, or why there is none.
type coupleFigure struct {
	Kind, Title string
	Prefix      string
	Picture     *drawing.Picture
	Table       *document.Document
	Sources     []string
	Memory      bool // a figure from memory is among them
	File        string
	None        string // why there is none, a sentence
	Mistake     *told  // of what was asked for
}

// usualConcentration is that of the dissolved species of a map, in mol/L, where
// nothing else is asked for (common practice in maps of corrosion, no source).
const usualConcentration = "1e-6"

// pictureNames are the kinds of pictures, as addresses name them, in their order.
var pictureNames = []string{"ladder", "latimer", "frost", "map"}

// element shows the pictures of an element.
func (d couplesDesk) element(r *http.Request) (view, error) {
	settings, err := d.o.Store.Settings(r.Context())
	if err != nil {
		return view{}, err
	}
	e, ok := elementCalled(r.PathValue("element"))
	if !ok {
		return view{}, d.noElement(r.PathValue("element"))
	}
	if e.Symbol != r.PathValue("element") {
		to := "/couples/" + e.Symbol
		if r.URL.RawQuery != "" {
			to += "?" + r.URL.RawQuery
		}
		return view{to: to}, nil
	}
	p := couplePage{Element: e, Medium: energetics.Acidic, Count: len(d.couplesOf(e.Element)), Oxygen: e.Element == chem.O || e.Element == chem.H}
	if r.FormValue("medium") == energetics.Basic {
		p.Medium = energetics.Basic
	}
	v := view{page: "couple", here: "couples", title: strings.ToUpper(e.Name[:1]) + e.Name[1:] + " in pictures"}
	p.Covered = p.Count > 0
	if !p.Covered {
		p.Near, v.status = d.nearElements(e.Element), http.StatusNotFound
		v.data = p
		return v, nil
	}
	p.Concentration, p.Species = concentrationOf(r), strings.TrimSpace(r.FormValue("species"))
	p.Exponent = exponentOf(p.Concentration)
	for _, kind := range pictureNames[:3] {
		p.Figures = append(p.Figures, d.figure(kind, e, p.Medium, settings.Conventions))
	}
	p.Map = d.phMap(e, p.Concentration, p.Species, settings.Conventions)
	if p.Map.Mistake != nil {
		v.status = p.Map.Mistake.Status
	}
	v.data = p
	return v, nil
}

// mapPart answers with the map alone.
func (d couplesDesk) mapPart(r *http.Request) (view, error) {
	settings, err := d.o.Store.Settings(r.Context())
	if err != nil {
		return view{}, err
	}
	e, ok := elementCalled(r.PathValue("element"))
	if !ok {
		return view{}, d.noElement(r.PathValue("element"))
	}
	return view{page: "couple", part: "figure", data: d.phMap(e, concentrationOf(r), strings.TrimSpace(r.FormValue("species")), settings.Conventions)}, nil
}

// elementFile hands a picture out as a file of its own.
func (d couplesDesk) elementFile(r *http.Request) (download, error) {
	settings, err := d.o.Store.Settings(r.Context())
	if err != nil {
		return download{}, err
	}
	kind, ok := strings.CutSuffix(r.PathValue("file"), ".svg")
	if !ok || !slices.Contains(pictureNames, kind) {
		return download{}, &pageError{http.StatusNotFound, "There is no such picture.", ""}
	}
	e, ok := elementCalled(r.PathValue("element"))
	if !ok {
		return download{}, d.noElement(r.PathValue("element"))
	}
	medium := energetics.Acidic
	if r.FormValue("medium") == energetics.Basic {
		medium = energetics.Basic
	}
	var f coupleFigure
	if kind == "map" {
		f = d.phMap(e, concentrationOf(r), strings.TrimSpace(r.FormValue("species")), settings.Conventions)
	} else {
		f = d.figure(kind, e, medium, settings.Conventions)
	}
	switch {
	case f.Mistake != nil:
		return download{}, &pageError{f.Mistake.Status, f.Mistake.Message, f.Mistake.Hint}
	case f.Picture == nil:
		return download{}, &pageError{http.StatusNotFound, f.None, ""}
	}
	return download{e.Symbol + "-" + kind + ".svg", func(w io.Writer) error { return drawing.SVG(w, f.Picture, drawing.Options{}) }}, nil
}

// figure draws one of the pictures that need no conditions.
func (d couplesDesk) figure(kind string, e coveredElement, medium string, c redox.Conventions) coupleFigure {
	style := diagram.Style{Comma: c.Comma, Names: c.Names}
	cited := &citations{}
	f := coupleFigure{Kind: kind, Prefix: kind, File: "/couples/" + e.Symbol + "/" + kind + ".svg"}
	in := map[string]string{energetics.Acidic: "in acid, pH 0", energetics.Basic: "in base, pH 14"}[medium]
	var drawn diagram.Drawn
	var err error
	switch kind {
	case "ladder":
		f.Title = "Ladder of potentials, " + in
		f.File += "?medium=" + medium
		var l energetics.Ladder
		if l, err = d.o.Tables.Ladder(e.Element, medium); err == nil {
			for i := range l.Rungs {
				x := &l.Rungs[i]
				if x.From = "of your own table"; x.Source != "" {
					x.From = fmt.Sprintf("looked up, source %d", cited.number(x.Source))
				}
			}
			for _, x := range d.couplesOf(e.Element) {
				f.Memory = f.Memory || x.Confidence == "memory" && x.Preferred && (x.Medium == medium || x.Medium == "any")
			}
			drawn = diagram.Ladder(l, style)
		}
	case "latimer":
		f.Title = "Latimer row, " + in
		f.File += "?medium=" + medium
		var l energetics.Latimer
		if l, err = d.o.Tables.Latimer(e.Element, medium); err == nil {
			for i := range l.Links {
				x := &l.Links[i]
				x.Source += numbersOf(cited, x.Sources)
				f.Memory = f.Memory || x.Memory
			}
			drawn = diagram.LatimerRow(l, style)
		}
	case "frost":
		f.Title = "Frost plot, in acid and in base"
		var l energetics.Frost
		if l, err = d.o.Tables.Frost(e.Element); err == nil {
			for _, curve := range l.Curves {
				for _, x := range curve.Points {
					numbersOf(cited, x.Sources)
					f.Memory = f.Memory || x.Memory
				}
			}
			drawn = diagram.FrostPlot(l, style)
		}
	}
	f.draw(drawn, err, e, cited)
	return f
}

// draw takes a picture that was drawn, or why it was not.
func (f *coupleFigure) draw(drawn diagram.Drawn, err error, e coveredElement, cited *citations) {
	var none *energetics.NoPictureError
	switch {
	case errors.As(err, &none):
		f.None = sentence(none.Msg)
	case err != nil:
		t := explainCouples(err)
		f.Mistake = &t
	default:
		f.Picture, f.Table, f.Sources = drawn.Picture, document.FigureTable(drawn), cited.list()
	}
}

// numbersOf names the sources of a figure: ", sources 1 and 3".
func numbersOf(cited *citations, keys []string) string {
	var all []string
	for _, k := range keys {
		if k != "" {
			all = append(all, strconv.Itoa(cited.number(k)))
		}
	}
	switch len(all) {
	case 0:
		return ""
	case 1:
		return ", source " + all[0]
	}
	return ", sources " + strings.Join(all[:len(all)-1], ", ") + " and " + all[len(all)-1]
}

// phMap draws the map of an element at a concentration, of some species or all.
func (d couplesDesk) phMap(e coveredElement, concentration, species string, c redox.Conventions) coupleFigure {
	v := url.Values{"c": {concentration}}
	if species != "" {
		v.Set("species", species)
	}
	f := coupleFigure{Kind: "map", Title: "Potential-pH map", Prefix: "map", File: "/couples/" + e.Symbol + "/map.svg?" + v.Encode()}
	fail := func(err error) coupleFigure {
		f.draw(diagram.Drawn{}, err, e, nil)
		return f
	}
	x, err := numberOf(concentration)
	if err != nil {
		return fail(&energetics.ConditionError{Msg: "“" + concentration + "” is no concentration", Way: "write it in mol/L: 0.001 or 1e-6"})
	}
	var only []*chem.Species
	for text := range strings.FieldsFuncSeq(species, func(r rune) bool { return r == ',' || r == ';' || r == '\n' }) {
		if text = strings.TrimSpace(text); text == "" {
			continue
		}
		if len(only) == mostPresent {
			return fail(&energetics.ConditionError{Msg: fmt.Sprintf("no more than %d species can be chosen", mostPresent), Way: "leave some out"})
		}
		s, err := speciesCalled(text)
		if err != nil {
			return fail(err)
		}
		only = append(only, s)
	}
	m, err := d.o.Tables.Map(e.Element, x, only)
	if err != nil {
		return fail(err)
	}
	cited := &citations{}
	for _, s := range append([]*chem.Species{chem.Water.WithPhase(chem.Liquid)}, speciesOfMap(m)...) {
		if row := d.o.Tables.Formations.Find(s); row != nil && row.Source != "" {
			cited.number(row.Source)
			f.Memory = f.Memory || row.Confidence == "memory"
		}
	}
	f.draw(diagram.PHMap(m, diagram.Style{Comma: c.Comma, Names: c.Names}), nil, e, cited)
	return f
}

func speciesOfMap(m energetics.PHMap) []*chem.Species {
	var out []*chem.Species
	for _, r := range m.Regions {
		out = append(out, r.Species)
	}
	return out
}

// concentrationOf is ?c= of a request, as typed.
func concentrationOf(r *http.Request) string {
	if c := strings.TrimSpace(r.FormValue("c")); c != "" && len(c) <= 30 {
		return c
	}
	return usualConcentration
}

// noElement says that no element is called so, and which may be meant.
func (d couplesDesk) noElement(text string) error {
	if len(text) > 40 {
		text = text[:40]
	}
	e := &pageError{http.StatusNotFound, fmt.Sprintf("No element is called “%s”.", strings.ToValidUTF8(text, "?")), "Write its symbol or its name: Mn, or manganese."}
	var all, near []string
	for x := chem.H; x <= 118; x++ {
		if entry := reference.ElementOf(x); entry != nil {
			all = append(all, entry.Name)
			if len(text) > 2 && strings.HasPrefix(entry.Name, strings.ToLower(text)) {
				near = append(near, entry.Name)
			}
		}
	}
	if near == nil {
		near = nearest.Words(text, slices.Values(all), 3)
	}
	if len(near) > 0 {
		e.hint = "Did you mean " + strings.Join(near, ", or ") + "?"
	}
	return e
}

// nearElements lists elements with couples that stand near one without: of its
// group first, then by atomic number; at most four.
func (d couplesDesk) nearElements(e chem.Element) []coveredElement {
	here := reference.ElementOf(e)
	out := slices.Clone(d.elements())
	distance := func(x coveredElement) int {
		there := reference.ElementOf(x.Element)
		steps := abs(int(x.Element) - int(e))
		if here.Group != 0 && here.Group == there.Group {
			return abs(here.Period - there.Period)
		}
		return 2 + steps
	}
	slices.SortStableFunc(out, func(a, b coveredElement) int { return distance(a) - distance(b) })
	return out[:min(4, len(out))]
}

func abs(x int) int { return max(x, -x) }
