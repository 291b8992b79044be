package main

import (
	"fmt"
	"io"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"halves/chem"
	"halves/diagram"
	"halves/document"
	"halves/drawing"
	"halves/energetics"
	"halves/names"
)

// pictures are the kinds of diagrams.
var pictures = []string{"ladder", "latimer", "frost", "ph"}

type diagramOptions struct {
	workOptions
	medium        string
	concentration string
	species       []string
}

func (a *app) diagramCommand() *cobra.Command {
	o := &diagramOptions{medium: energetics.Acidic}
	cmd := &cobra.Command{
		Use:   "diagram ladder|latimer|frost|ph ELEMENT",
		Short: "Draw potentials: a ladder, a Latimer row, a Frost plot, a pH map",
		Long: `Draw a picture of the potentials of an element, as SVG, or with its numbers as a
page:
  ladder    its couples to scale
  latimer   its species from the highest oxidation state to the lowest
  frost     free energy against oxidation state, in acid and in base
  ph        which species is stable, over pH and potential

What is drawn is computed from the tables; species and couples without figures are
left out. The map takes all species of the element with oxygen and hydrogen, or
those of --species.

` + statuses("drawn", "there are no figures for such a picture"),
		Example: `  halves diagram frost Mn -o manganese.svg
  halves diagram latimer Cl --medium basic -o chlorine.html
  halves diagram ph Fe --concentration 1e-6 -o iron.svg`,
		GroupID:           groupChemistry,
		ValidArgsFunction: cobra.FixedCompletions(pictures, cobra.ShellCompDirectiveNoFileComp),
		RunE:              func(cmd *cobra.Command, args []string) error { return a.diagram(cmd, o, args) },
	}
	o.format = "svg"
	formats := append([]string{"svg"}, formats...)
	f := cmd.Flags()
	f.Var(&enumValue{what: "format", words: formats, get: func() string { return o.format }, set: func(s string) error {
		if !slices.Contains(formats, s) {
			return fmt.Errorf("unknown")
		}
		o.format = s
		return nil
	}}, "format", "what to write (default: what the name after -o ends in, or svg)")
	f.Lookup("format").DefValue = ""
	complete(cmd, "format", formats)
	f.BoolVar(&o.ascii, "ascii", false, "plain ASCII, with --format text")
	f.IntVar(&o.width, "width", 0, "columns of text, 20 to 1000 (default: the terminal's, or 80)")
	o.display.addOutput(cmd)
	o.class.addFlags(cmd, "comma", "names", "sulph")
	f.Var(&enumValue{what: "medium", words: energetics.Media, get: func() string { return o.medium }, set: func(s string) error {
		if !slices.Contains(energetics.Media, s) {
			return fmt.Errorf("unknown")
		}
		o.medium = s
		return nil
	}}, "medium", "of a ladder or a Latimer row: acidic is pH 0, basic pH 14")
	addTablesFlag(cmd, &o.tablesFolder)
	f.StringVar(&o.concentration, "concentration", "1e-6", "of dissolved species of a map, in mol/L")
	f.StringSliceVar(&o.species, "species", nil, "draw a map of these species alone: formulas parted by commas")
	return cmd
}

func (a *app) diagram(cmd *cobra.Command, o *diagramOptions, args []string) error {
	if err := o.picture(cmd); err != nil {
		return err
	}
	var err error
	if o.conventions, err = a.conventions(cmd, &o.class); err != nil {
		return err
	}
	if len(args) != 2 || !slices.Contains(pictures, args[0]) {
		return &usageError{msg: "a diagram has a kind and an element", hint: "halves diagram frost Mn; the kinds are " + strings.Join(pictures, ", ")}
	}
	e, err := elementOf(args[1])
	if err != nil {
		return err
	}
	tables, err := a.tables(o.tablesFolder)
	if err != nil {
		return err
	}
	d, data, err := o.draw(tables, args[0], e)
	if err != nil {
		return a.refuse(&o.workOptions, err)
	}
	switch o.format {
	case "svg":
		return a.output(o.file, func(w io.Writer) error { return drawing.SVG(w, d.Picture, drawing.Options{}) })
	case "json":
		return a.showJSON(o.display, data)
	}
	return a.show(o.display, document.FromFigure(d))
}

// picture takes the format from the name of the file where none was given.
func (o *diagramOptions) picture(cmd *cobra.Command) error {
	if !cmd.Flags().Changed("format") && strings.HasSuffix(strings.ToLower(o.file), ".svg") {
		return nil
	}
	return o.check(cmd)
}

// elementOf reads a symbol or a name of an element.
func elementOf(text string) (chem.Element, error) {
	if e, ok := chem.ElementBySymbol(text); ok {
		return e, nil
	}
	if s, err := names.Find(text); err == nil && s.IsElement() {
		return s.Composition()[0].Element, nil
	}
	return 0, &usageError{msg: fmt.Sprintf("no element is called %q", text), hint: "write its symbol: Mn"}
}

// draw makes one picture, and its numbers as data.
func (o *diagramOptions) draw(t energetics.Tables, kind string, e chem.Element) (d diagram.Drawn, data any, err error) {
	style := diagram.Style{Comma: o.conventions.Comma, Names: o.conventions.Names}
	switch kind {
	case "ladder":
		var l energetics.Ladder
		if l, err = t.Ladder(e, o.medium); err == nil {
			return diagram.Ladder(l, style), newLadderJSON(l), nil
		}
	case "latimer":
		var l energetics.Latimer
		if l, err = t.Latimer(e, o.medium); err == nil {
			return diagram.LatimerRow(l, style), newLatimerJSON(l), nil
		}
	case "frost":
		var f energetics.Frost
		if f, err = t.Frost(e); err == nil {
			return diagram.FrostPlot(f, style), newFrostJSON(f), nil
		}
	default:
		var c float64
		if c, err = number(o.concentration); err != nil {
			return d, nil, &usageError{msg: fmt.Sprintf("--concentration %q is not a number", o.concentration), hint: "write it as 1e-6"}
		}
		var only []*chem.Species
		for _, text := range o.species {
			s, err := oneSpecies(text)
			if err != nil {
				return d, nil, err
			}
			only = append(only, s)
		}
		var m energetics.PHMap
		if m, err = t.Map(e, c, only); err == nil {
			return diagram.PHMap(m, style), newMapJSON(m), nil
		}
	}
	return d, nil, err
}

// The JSON of the pictures' numbers.
type ladderJSON struct {
	Rungs []rungJSON `json:"rungs"` // the highest potential first
}

type rungJSON struct {
	Half   string  `json:"halfReaction"`
	E0     float64 `json:"E0"`
	Source string  `json:"source"`
}

func newLadderJSON(l energetics.Ladder) ladderJSON {
	j := ladderJSON{Rungs: []rungJSON{}}
	for _, r := range l.Rungs {
		j.Rungs = append(j.Rungs, rungJSON{withPhases(r.Half), round(r.Volts, 4), r.Source})
	}
	return j
}

type latimerJSON struct {
	Element  string        `json:"element"`
	Medium   string        `json:"medium"`
	Stations []stationJSON `json:"stations"` // the highest state first
	Links    []linkJSON    `json:"links"`
}

type stationJSON struct {
	Species string   `json:"species"`
	State   string   `json:"state"`
	Height  *float64 `json:"height,omitempty"` // of a Frost plot, in V
}

type linkJSON struct {
	From int     `json:"from"` // indexes of stations
	To   int     `json:"to"`
	E0   float64 `json:"E0"`
	Says string  `json:"says"`
}

func newStationJSON(s energetics.Station) stationJSON {
	return stationJSON{Species: s.Species.String() + s.Species.Phase().String(), State: s.State.Signed()}
}

func newLatimerJSON(l energetics.Latimer) latimerJSON {
	j := latimerJSON{Element: l.Element.Symbol(), Medium: l.Medium, Stations: []stationJSON{}, Links: []linkJSON{}}
	for _, s := range l.Stations {
		j.Stations = append(j.Stations, newStationJSON(s))
	}
	for _, x := range l.Links {
		j.Links = append(j.Links, linkJSON{x.From, x.To, round(x.Volts, 4), x.Source})
	}
	return j
}

type frostJSON struct {
	Element string      `json:"element"`
	Curves  []curveJSON `json:"curves"`
}

type curveJSON struct {
	Medium   string        `json:"medium"`
	Points   []stationJSON `json:"points"`   // the lowest state first
	Unstable []string      `json:"unstable"` // species that disproportionate
}

func newFrostJSON(f energetics.Frost) frostJSON {
	j := frostJSON{Element: f.Element.Symbol(), Curves: []curveJSON{}}
	for _, c := range f.Curves {
		x := curveJSON{Medium: c.Medium, Points: []stationJSON{}, Unstable: []string{}}
		for _, p := range c.Points {
			s := newStationJSON(p.Station)
			h := round(p.Height, 4)
			s.Height = &h
			x.Points = append(x.Points, s)
		}
		for _, u := range c.Unstable {
			x.Unstable = append(x.Unstable, x.Points[u.Point].Species)
		}
		j.Curves = append(j.Curves, x)
	}
	return j
}

type mapJSON struct {
	Element       string       `json:"element"`
	Concentration float64      `json:"concentration"` // mol/L
	Regions       []regionJSON `json:"regions"`
}

type regionJSON struct {
	Species string       `json:"species"`
	Corners [][2]float64 `json:"corners"` // pH and V, in order round the region
}

func newMapJSON(m energetics.PHMap) mapJSON {
	j := mapJSON{Element: m.Element.Symbol(), Concentration: m.Concentration, Regions: []regionJSON{}}
	for _, r := range m.Regions {
		x := regionJSON{Species: r.Species.String() + r.Species.Phase().String()}
		for _, v := range r.Corners {
			x.Corners = append(x.Corners, [2]float64{round(v.PH, 4), round(v.Volts, 4)})
		}
		j.Regions = append(j.Regions, x)
	}
	return j
}
