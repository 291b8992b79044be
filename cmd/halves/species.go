package main

import (
	"encoding/json"
	"errors"
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"halves/chem"
	"halves/document"
	"halves/names"
	"halves/oxidation"
	"halves/reference"
)

type speciesOptions struct {
	workOptions
}

func (a *app) speciesCommand() *cobra.Command {
	o := &speciesOptions{}
	cmd := &cobra.Command{
		Use:   "species NAME|FORMULA...",
		Short: "Say what a formula or a name means",
		Long: `Read formulas, or names of species, and show each with its names, its charge,
its molar mass, and the oxidation states of its elements with their reasons.
Where the characters allow several readings, the likeliest is shown and the
others are named.

With --each every line of a file is a formula or a name: as plain text, or as
JSON {"id": ..., "text": "..."}. One line of JSON comes out for each, in order:
{"id": ..., "readings": [...]}, the best reading first, or {"id": ..., "error":
{...}}; the exit status is 0 once all lines were read.

` + quoting + `
` + statuses("read", ""),
		Example: `  halves species 'S4O6^2-'
  halves species 'SO42-' 'iron(III)' 'oxalic acid'
  halves species --each formulas.txt -o readings.jsonl`,
		GroupID:           groupWork,
		ValidArgsFunction: noFiles,
		RunE:              func(cmd *cobra.Command, args []string) error { return a.species(cmd, o, args) },
	}
	o.display.addFlags(cmd)
	o.class.addFlags(cmd, "roman", "comma", "names", "sulph")
	cmd.Flags().StringVar(&o.each, "each", "", "read every line of `FILE`, or of standard input for -")
	return cmd
}

func (a *app) species(cmd *cobra.Command, o *speciesOptions, args []string) error {
	if err := a.settle(cmd, &o.workOptions); err != nil {
		return err
	}
	if cmd.Flags().Changed("each") {
		if err := eachAlone(cmd, args); err != nil {
			return err
		}
		return a.eachLine(cmd.Context(), o.each, o.file, task{key: "text", answer: speciesLine})
	}
	if len(args) == 0 || len(args) == 1 && args[0] == "-" {
		text, err := a.question(args, "no formula and no name was given", "halves species 'S4O6^2-' 'oxalic acid'")
		if err != nil {
			return a.refuse(&o.workOptions, err)
		}
		args = []string{text}
	}
	args = joinNames(args)
	var docs []*document.Document
	var values []any
	var first error
	for _, text := range args {
		readings, err := readSpecies(text)
		if err != nil {
			if first == nil {
				first = err
			}
			values = append(values, newReport(err))
			continue
		}
		docs = append(docs, document.FromSpecies(o.conventions, readings[0].Species, otherReadings(readings)))
		values = append(values, readingsJSON{newReadings(readings)})
	}
	if o.format == "json" {
		if err := a.showJSON(o.display, values...); err != nil {
			return err
		}
		if first != nil {
			return &shownError{kindOf(first)}
		}
		return nil
	}
	if docs != nil {
		if err := a.show(o.display, docs...); err != nil {
			return err
		}
	}
	return first
}

// joinNames puts the words of a name together, so that it need not be quoted:
// the longest that is a name.
func joinNames(args []string) []string {
	const most = 6 // words of a name
	var out []string
	for len(args) > 0 {
		n := min(len(args), most)
		for ; n > 1; n-- {
			if _, err := names.Find(strings.Join(args[:n], " ")); err == nil {
				break
			}
		}
		out = append(out, strings.Join(args[:n], " "))
		args = args[n:]
	}
	return out
}

// readSpecies reads a formula or a name. There is at least one reading; its
// errors are *chem.SyntaxError and *chem.TooLargeError.
func readSpecies(text string) ([]chem.SpeciesReading, error) {
	var missing error
	if hasWord(text) {
		s, err := names.Find(text)
		if err == nil {
			_, known := reference.Species().Rank(s)
			return []chem.SpeciesReading{{Species: s, Known: known}}, nil
		}
		missing = err
	}
	readings, err := chem.ReadSpecies(text, reference.Species())
	if err == nil {
		return readings, nil
	}
	if missing == nil { // tin, a name of three letters
		if s, err := names.Find(text); err == nil {
			return []chem.SpeciesReading{{Species: s, Known: true}}, nil
		}
	}
	var syntax *chem.SyntaxError
	if missing != nil && errors.As(err, &syntax) && isName(text) {
		return nil, nameError(text, missing)
	}
	return nil, err
}

// nameError points at a name that is none, with a way out.
func nameError(text string, err error) error {
	e := &chem.SyntaxError{Text: text, Width: len(text), Msg: err.Error(), Hint: "write its formula"}
	var unknown *names.UnknownError
	var number *names.NumberError
	switch {
	case errors.As(err, &unknown):
		e.Msg = fmt.Sprintf("no species is called %q", unknown.Name)
		if unknown.Hint != "" {
			e.Hint = unknown.Hint
		} else if len(unknown.Near) > 0 {
			e.Hint = fmt.Sprintf("did you mean %s? or write its formula", strings.Join(unknown.Near, ", or "))
		}
	case errors.As(err, &number):
		e.Hint = "write " + strings.Join(number.Choices, " or ")
	}
	return e
}

// hasWord reports whether three small letters follow each other, as in no
// formula.
func hasWord(text string) bool {
	n := 0
	for i := range len(text) {
		if c := text[i]; c < 'a' || c > 'z' {
			n = 0
		} else if n++; n == 3 {
			return true
		}
	}
	return false
}

// isName reports whether a text has only what names are written with.
func isName(text string) bool {
	for _, c := range text {
		switch {
		case c >= 'a' && c <= 'z', c >= 'A' && c <= 'Z', c >= '0' && c <= '9', strings.ContainsRune(" ()-,+'", c):
		default:
			return false
		}
	}
	return len(text) <= 100
}

// otherReadings returns what else the characters can mean: what the table
// knows, or, where it knows none, the next few.
func otherReadings(all []chem.SpeciesReading) []*chem.Species {
	const few = 3
	var out []*chem.Species
	for _, r := range all[1:] {
		if r.Known || !all[0].Known && len(out) < few {
			out = append(out, r.Species)
		}
	}
	return out
}

// speciesLine reads a line of --each.
func speciesLine(r request) ([]byte, error) {
	readings, err := readSpecies(r.text)
	if err != nil {
		return nil, err
	}
	return json.Marshal(readingsJSON{newReadings(readings)})
}

// The JSON of a species.
type readingsJSON struct {
	Readings []readingJSON `json:"readings"` // the best first
}

type readingJSON struct {
	Formula   string              `json:"formula"` // canonical plain text
	Charge    int64               `json:"charge"`
	Atoms     map[string]int64    `json:"atoms"`
	States    map[string][]string `json:"states"` // one value a site, or the mean
	Reasons   map[string]string   `json:"reasons"`
	Open      []string            `json:"open,omitempty"` // elements that the rules do not settle
	Name      string              `json:"name"`           // "" where the table has none
	Names     []string            `json:"names"`
	Known     bool                `json:"known"`
	MolarMass string              `json:"molarMass"` // in g/mol, "" where an element has no standard atomic weight
}

func newReadings(all []chem.SpeciesReading) []readingJSON {
	out := make([]readingJSON, len(all))
	for i, r := range all {
		out[i] = newReading(r)
	}
	return out
}

func newReading(r chem.SpeciesReading) readingJSON {
	s := r.Species
	j := readingJSON{Formula: s.String(), Charge: s.Charge(), Atoms: map[string]int64{}, States: map[string][]string{}, Reasons: map[string]string{}, Names: []string{}, Known: r.Known}
	for _, n := range s.Composition() {
		j.Atoms[n.Element.Symbol()] = n.Atoms
	}
	states, err := oxidation.States(s)
	for _, st := range states {
		j.States[st.Element.Symbol()] = st.Values()
		j.Reasons[st.Element.Symbol()] = st.Reason
	}
	var open *oxidation.OpenError
	if errors.As(err, &open) {
		for _, e := range open.Elements {
			j.Open = append(j.Open, e.Symbol())
		}
	}
	if e := reference.Species().Find(s); e != nil {
		j.Name, j.Names = e.Names[0], e.Names
	}
	if mass, decimals, err := reference.MolarMass(s.Composition()); err == nil && !s.IsElectron() {
		j.MolarMass = mass.FloatString(decimals)
	}
	return j
}
