package main

import (
	"errors"
	"fmt"
	"math"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"halves/caution"
	"halves/chem"
	"halves/document"
	"halves/energetics"
	"halves/redox"
	"halves/reference"
)

// conditionFlags are what a reaction takes place in.
type conditionFlags struct {
	ph, celsius string
	activities  []string
}

func (o *conditionFlags) add(cmd *cobra.Command) {
	f := cmd.Flags()
	f.StringVar(&o.ph, "ph", "", "`pH` of the solution, -1 to 15")
	f.StringVar(&o.celsius, "celsius", "", "temperature in °C, 0 to 100, where the entropies are known")
	f.StringArrayVar(&o.activities, "with", nil, "concentration in mol/L, or pressure in bar, of a species: `SPECIES=NUMBER`, as 'Fe^2+=0.01'; may be given several times")
}

// conditions reads the flags.
func (o *conditionFlags) conditions(cmd *cobra.Command) (energetics.Conditions, error) {
	var c energetics.Conditions
	read := func(name, text string, into **float64) error {
		if !cmd.Flags().Changed(name) {
			return nil
		}
		x, err := number(text)
		if err != nil {
			return &usageError{msg: fmt.Sprintf("--%s %q is not a number", name, text), hint: "write it as 2.5"}
		}
		*into = &x
		return nil
	}
	if err := read("ph", o.ph, &c.PH); err != nil {
		return c, err
	}
	if err := read("celsius", o.celsius, &c.Celsius); err != nil {
		return c, err
	}
	for _, text := range o.activities {
		name, value, found := cutLast(text, "=")
		x, err := number(value)
		if !found || err != nil {
			return c, &usageError{msg: fmt.Sprintf("--with %q is not a species and a number", text), hint: "write it as --with 'Fe^2+=0.01'"}
		}
		readings, err := readSpecies(name)
		if err != nil {
			return c, err
		}
		c.Activities = append(c.Activities, energetics.Activity{Species: readings[0].Species, Value: x})
	}
	return c, nil
}

// number reads a decimal number with a point or a comma.
func number(text string) (float64, error) {
	x, err := strconv.ParseFloat(strings.Replace(strings.TrimSpace(text), ",", ".", 1), 64)
	if err == nil && (math.IsNaN(x) || math.IsInf(x, 0)) {
		return 0, errors.New("not a number")
	}
	return x, err
}

// cutLast cuts at the last separator.
func cutLast(s, sep string) (before, after string, found bool) {
	i := strings.LastIndex(s, sep)
	if i < 0 {
		return s, "", false
	}
	return s[:i], s[i+len(sep):], true
}

func (a *app) cellCommand() *cobra.Command {
	o, k := &workOptions{}, &conditionFlags{}
	cmd := &cobra.Command{
		Use:   "cell QUESTION...",
		Short: "Show a reaction as a galvanic cell: potentials, free energy, K",
		Long: `Work a question and show it as a galvanic cell: the cell diagram, the potential of
each half with its source, the potential of the cell, the free energy, the
equilibrium constant, and what may be said of whether it goes. With --ph and
--with it also shows what the Nernst equation makes of the conditions given;
activities are taken as concentrations.

A potential is never invented: it is looked up, or computed from free energies of
formation, or combined from known couples, and the way is told; where a figure is
missing, it says which.

` + quoting + `
` + statuses("a cell", "no cell: chemistry says no, or a figure is missing"),
		Example: `  halves cell 'Zn + Cu^2+ -> Zn^2+ + Cu'
  halves cell 'MnO4^- + Fe^2+ -> Mn^2+ + Fe^3+, in acid' --ph 3 --with 'Fe^2+=0.01'`,
		GroupID:           groupChemistry,
		ValidArgsFunction: noFiles,
		RunE:              func(cmd *cobra.Command, args []string) error { return a.cell(cmd, o, k, args) },
	}
	o.display.addFlags(cmd)
	o.class.addFlags(cmd, "phases", "ones", "equals", "comma", "names", "sulph")
	k.add(cmd)
	addTablesFlag(cmd, &o.tablesFolder)
	cmd.Flags().Var(mediumValue(&o.medium), "medium", "what may be added, where the question does not say")
	complete(cmd, "medium", mediumWords())
	return cmd
}

func (a *app) cell(cmd *cobra.Command, o *workOptions, k *conditionFlags, args []string) error {
	if err := a.settle(cmd, o); err != nil {
		return err
	}
	conditions, err := k.conditions(cmd)
	if err != nil {
		return err
	}
	tables, err := a.tables(o.tablesFolder)
	if err != nil {
		return err
	}
	question, err := a.question(args, "no question was given", "halves cell 'Zn + Cu^2+ -> Zn^2+ + Cu'")
	if err == nil {
		var sol *redox.Solution
		if sol, err = redox.Work(question, o.medium, o.conventions); err == nil {
			var x document.Chemistry
			if x, err = document.NewChemistry(tables, sol, conditions); err == nil && x.Cell == nil {
				_, err = tables.Work(sol, conditions) // the reason, as an error
			}
			if err == nil {
				if o.format == "json" {
					return a.showJSON(o.display, newChemistryJSON(x))
				}
				return a.show(o.display, document.FromCell(sol, x))
			}
		}
	}
	return a.refuse(o, quoteHint(err, args))
}

// The JSON of the chemistry of a reaction.
type chemistryJSON struct {
	Cell    *cellJSON   `json:"cell"`              // null where there is none
	Without string      `json:"without,omitempty"` // why there is none
	Remarks []string    `json:"remarks"`
	Caution cautionJSON `json:"cautions"`
}

type cellJSON struct {
	Verdict   string        `json:"verdict"`
	Why       string        `json:"why"`
	Diagram   string        `json:"diagram"` // canonical plain text
	E0        float64       `json:"E0"`      // V
	Electrons int64         `json:"electrons"`
	Gibbs     float64       `json:"deltaG0"` // kJ/mol for the equation as printed
	LogK      float64       `json:"logK"`
	Net       string        `json:"net"`
	Cathode   potentialJSON `json:"cathode"`
	Anode     potentialJSON `json:"anode"` // as a reduction
	At        *nowJSON      `json:"at,omitempty"`
}

type potentialJSON struct {
	Half    string   `json:"halfReaction"` // as a reduction, with phases
	E0      float64  `json:"E0"`
	From    string   `json:"from"`
	Rows    []string `json:"rows"`
	Sources []string `json:"sources"`
	Memory  bool     `json:"memory"`
	Own     bool     `json:"own"`
	Says    string   `json:"says"`
	Slow    string   `json:"slow,omitempty"`
	Other   *float64 `json:"other,omitempty"` // E0 by another way that differs
}

type nowJSON struct {
	E     float64  `json:"E"`
	Gibbs float64  `json:"deltaG"`
	LogQ  float64  `json:"logQ"`
	Taken []string `json:"taken"`
}

type cautionJSON struct {
	PaperOnly bool     `json:"paperOnly"`
	Reasons   []string `json:"reasons"`
	Missing   []string `json:"noData"`
	Basis     string   `json:"basis"`
	Deferral  string   `json:"deferral"`
}

func newPotentialJSON(p energetics.Potential) potentialJSON {
	j := potentialJSON{Half: withPhases(p.Half), E0: round(p.Volts, 4), From: string(p.From), Rows: p.Rows, Sources: p.Sources, Memory: p.Memory, Own: p.Own, Says: p.Says, Slow: p.Slow}
	if p.Other != nil {
		x := round(p.Other.Volts, 4)
		j.Other = &x
	}
	return j
}

func withPhases(e chem.Equation) string { return chem.PlainText(e.Runs(chem.Style{Phases: true})) }

func round(x float64, decimals int) float64 {
	f := math.Pow10(decimals)
	return math.Round(x*f) / f
}

func newChemistryJSON(x document.Chemistry) chemistryJSON {
	j := chemistryJSON{Without: x.Without, Remarks: append([]string{}, x.Remarks...), Caution: newCautionJSON(x.Advice)}
	c := x.Cell
	if c == nil {
		return j
	}
	j.Cell = &cellJSON{
		Verdict: string(c.Verdict), Why: c.Why, Diagram: chem.PlainText(c.Notation().Runs), E0: round(c.Volts, 4), Electrons: c.Electrons,
		Gibbs: round(c.Gibbs, 1), LogK: round(c.LogK, 2), Net: withPhases(c.Net), Cathode: newPotentialJSON(c.Reduction), Anode: newPotentialJSON(c.Oxidation),
	}
	if c.At != nil {
		j.Cell.At = &nowJSON{E: round(c.At.Volts, 4), Gibbs: round(c.At.Gibbs, 1), LogQ: round(c.At.LogQ, 2), Taken: c.At.Taken}
	}
	return j
}

func newCautionJSON(a caution.Advice) cautionJSON {
	j := cautionJSON{PaperOnly: a.PaperOnly, Reasons: []string{}, Missing: []string{}, Basis: a.Basis, Deferral: a.Deferral}
	for _, r := range a.Reasons {
		text := r.What + " (" + string(r.Severity) + "). " + r.How
		if r.If != "" {
			text = r.If + ": " + text
		}
		j.Reasons = append(j.Reasons, text)
	}
	for _, s := range a.Missing {
		j.Missing = append(j.Missing, s.String())
	}
	return j
}

// sourcesOf lists the citations of keys.
func sourcesOf(keys []string) []string {
	out := []string{}
	for _, k := range keys {
		if s, ok := reference.SourceOf(k); ok {
			out = append(out, s.Citation)
		} else {
			out = append(out, k)
		}
	}
	return out
}
