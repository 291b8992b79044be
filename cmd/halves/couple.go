package main

import (
	"encoding/json"
	"fmt"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"halves/chem"
	"halves/document"
	"halves/energetics"
	"halves/names"
	"halves/redox"
	"halves/reference"
)

type coupleOptions struct {
	workOptions
	least, most string
	among       string
	medium      string
}

func (a *app) coupleCommand() *cobra.Command {
	o := &coupleOptions{}
	cmd := &cobra.Command{
		Use:   "couple [HALF-REACTION|SPECIES|ELEMENT]",
		Short: "Find couples and their potentials, with sources",
		Long: `Give the standard potential of a half-reaction, balanced or only what is oxidized
and what is reduced, with phases where they matter ('Br2(aq) -> Br^-'): looked up,
else computed from free energies of formation, else combined from known couples,
with the way and its sources.

With --among, say which of some species that are together oxidizes which first, by
the potentials of the table, water's own among them.

Or list couples of the table: those that hold a species (by formula or name) or an
element (by symbol), or those between two potentials.

With --each every line of a file is a half-reaction: as plain text, or as JSON
{"id": ..., "text": "..."}. One line of JSON comes out for each, in order: {"id":
..., "halfReaction": ..., "E0": ..., "from": "table"|"formation"|"couples",
"sources": [...]}, or {"id": ..., "error": {...}}.

` + quoting + `
` + statuses("found", "no figure: it is not in the tables and does not follow from them"),
		Example: `  halves couple 'MnO4^- -> Mn^2+'
  halves couple 'Fe(OH)3 -> Fe(OH)2, in base'
  halves couple permanganate
  halves couple Mn
  halves couple --above 1.2 --below 1.6
  halves couple --among 'MnO4^-, Fe^2+, Sn^2+' --medium acidic`,
		GroupID:           groupChemistry,
		ValidArgsFunction: noFiles,
		RunE:              func(cmd *cobra.Command, args []string) error { return a.couple(cmd, o, args) },
	}
	o.display.addFlags(cmd)
	o.class.addFlags(cmd, "ones", "equals", "comma", "names", "sulph")
	f := cmd.Flags()
	f.StringVar(&o.least, "above", "", "couples with a potential of at least so many `VOLTS`")
	f.StringVar(&o.most, "below", "", "couples with a potential of at most so many `VOLTS`")
	o.medium = energetics.Acidic
	f.StringVar(&o.among, "among", "", "which of these `SPECIES` reacts first with which: formulas parted by commas")
	f.Var(&enumValue{what: "medium", words: energetics.Media, get: func() string { return o.medium }, set: func(s string) error {
		if !slices.Contains(energetics.Media, s) {
			return fmt.Errorf("unknown")
		}
		o.medium = s
		return nil
	}}, "medium", "of --among: acidic is pH 0, basic pH 14")
	complete(cmd, "medium", energetics.Media)
	addTablesFlag(cmd, &o.tablesFolder)
	f.StringVar(&o.each, "each", "", "find the potential of every line of `FILE`, or of standard input for -")
	return cmd
}

func (a *app) couple(cmd *cobra.Command, o *coupleOptions, args []string) error {
	if err := a.settle(cmd, &o.workOptions); err != nil {
		return err
	}
	tables, err := a.tables(o.tablesFolder)
	if err != nil {
		return err
	}
	if cmd.Flags().Changed("each") {
		if err := eachAlone(cmd, args); err != nil {
			return err
		}
		return a.eachLine(cmd.Context(), o.each, o.file, task{key: "text", answer: func(r request) ([]byte, error) { return coupleLine(tables, r) }})
	}
	if cmd.Flags().Changed("among") {
		return a.compete(o, tables)
	}
	if cmd.Flags().Changed("above") || cmd.Flags().Changed("below") || len(args) == 1 && isOneWord(args[0]) || len(args) > 0 && !strings.ContainsAny(strings.Join(args, " "), ">=→⟶⇌") && !isSentence(args) {
		return a.listCouples(cmd, o, tables, strings.Join(args, " "))
	}
	text, err := a.question(args, "no half-reaction was given", "halves couple 'MnO4^- -> Mn^2+'")
	if err == nil {
		var p energetics.Potential
		if p, err = potentialOf(tables, text); err == nil {
			if o.format == "json" {
				return a.showJSON(o.display, newPotentialJSON(p))
			}
			return a.show(o.display, document.FromPotential(o.conventions, p))
		}
	}
	return a.refuse(&o.workOptions, quoteHint(err, args))
}

func isOneWord(s string) bool { return s != "-" && !strings.ContainsAny(s, " >=→⟶⇌") }

// isSentence reports whether words tell what becomes what.
func isSentence(args []string) bool {
	return slices.ContainsFunc(strings.Fields(strings.Join(args, " ")), func(w string) bool {
		return w == "becomes" || w == "become" || w == "to" || w == "gives"
	})
}

func potentialOf(t energetics.Tables, text string) (energetics.Potential, error) {
	half, err := t.Read(text)
	if err != nil {
		return energetics.Potential{}, err
	}
	return t.Of(half)
}

// listCouples lists couples by what they hold and by their potentials.
func (a *app) listCouples(cmd *cobra.Command, o *coupleOptions, t energetics.Tables, what string) error {
	title := "Couples"
	all := t.Couples.All()
	keep := func(f func(*reference.Couple) bool) {
		all = slices.DeleteFunc(slices.Clone(all), func(c *reference.Couple) bool { return !f(c) })
	}
	if what != "" {
		if e, ok := chem.ElementBySymbol(what); ok {
			title += " of " + what
			keep(func(c *reference.Couple) bool { return changes(c, e) })
		} else {
			s, err := oneSpecies(what)
			if err != nil {
				return a.refuse(&o.workOptions, err)
			}
			title += " with " + s.String()
			all = slices.Clone(t.Couples.Holding(s))
		}
	}
	for _, bound := range []struct {
		name, text, says string
		keeps            func(v, x float64) bool
	}{
		{"above", o.least, "at least", func(v, x float64) bool { return v >= x }},
		{"below", o.most, "at most", func(v, x float64) bool { return v <= x }},
	} {
		if !cmd.Flags().Changed(bound.name) {
			continue
		}
		x, err := number(bound.text)
		if err != nil {
			return &usageError{msg: fmt.Sprintf("--%s %q is not a potential", bound.name, bound.text), hint: "write it as --" + bound.name + " 1.23"}
		}
		title += fmt.Sprintf(", %s %s V", bound.says, strings.Replace(bound.text, "-", "−", 1))
		keep(func(c *reference.Couple) bool { return bound.keeps(c.Volts, x) })
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
	if o.format == "json" {
		list := []coupleJSON{}
		for _, c := range all {
			list = append(list, coupleJSON{ID: c.ID, Half: withPhases(c.Half), E0: c.Volts, Medium: c.Medium, Source: c.Source, Memory: c.Confidence == "memory", Preferred: c.Preferred, Own: c.Own, Slow: c.Slow, Note: c.Note})
		}
		return a.showJSON(o.display, struct {
			Couples []coupleJSON `json:"couples"`
		}{list})
	}
	return a.show(o.display, document.FromCouples(o.conventions, title, all))
}

// compete tells which of some species reacts first with which.
func (a *app) compete(o *coupleOptions, t energetics.Tables) error {
	var present []*chem.Species
	for text := range strings.SplitSeq(o.among, ",") {
		if text = strings.TrimSpace(text); text == "" {
			continue
		}
		s, err := oneSpecies(text)
		if err != nil {
			return a.refuse(&o.workOptions, err)
		}
		present = append(present, s)
	}
	if len(present) == 0 {
		return &usageError{msg: "--among names no species", hint: "write them as --among 'MnO4^-, Fe^2+'"}
	}
	c, err := t.Compete(present, redox.Medium(o.medium))
	if err != nil {
		return a.refuse(&o.workOptions, err)
	}
	if o.format == "json" {
		j := competitionJSON{Oxidizing: []potentialJSON{}, Reducing: []potentialJSON{}, Window: [2]float64{round(c.Window[0], 4), round(c.Window[1], 4)}}
		for _, p := range c.Oxidizing {
			j.Oxidizing = append(j.Oxidizing, newPotentialJSON(p))
		}
		for _, p := range c.Reducing {
			j.Reducing = append(j.Reducing, newPotentialJSON(p))
		}
		_, _, j.Reacts = c.First()
		return a.showJSON(o.display, j)
	}
	return a.show(o.display, document.FromCompetition(o.conventions, present, o.medium, c))
}

type competitionJSON struct {
	Oxidizing []potentialJSON `json:"oxidizing"` // the strongest first
	Reducing  []potentialJSON `json:"reducing"`
	Reacts    bool            `json:"reacts"` // the strongest of both have potentials that favour it
	Window    [2]float64      `json:"window"` // of water, in V
}

// changes reports whether a couple is one of an element: that it stands on both
// sides otherwise than in water and its ions.
func changes(c *reference.Couple, e chem.Element) bool {
	holds := func(terms []chem.Term) bool {
		return slices.ContainsFunc(terms, func(x chem.Term) bool {
			s := x.Species
			return s.Atoms(e) > 0 && !s.Same(chem.Water) && !s.Same(chem.Hydron) && !s.Same(chem.Hydroxide)
		})
	}
	return holds(c.Half.Left) || holds(c.Half.Right)
}

// oneSpecies reads a formula or a name.
func oneSpecies(text string) (*chem.Species, error) {
	if s, err := names.Find(text); err == nil {
		return s, nil
	}
	r, err := readSpecies(text)
	if err != nil {
		return nil, err
	}
	return r[0].Species, nil
}

type coupleJSON struct {
	ID        string  `json:"id"`
	Half      string  `json:"halfReaction"`
	E0        float64 `json:"E0"`
	Medium    string  `json:"medium"`
	Source    string  `json:"source"`
	Memory    bool    `json:"memory"`
	Preferred bool    `json:"preferred"`
	Own       bool    `json:"own"`
	Slow      string  `json:"slow,omitempty"`
	Note      string  `json:"note,omitempty"`
}

// coupleLine answers a line of --each.
func coupleLine(t energetics.Tables, r request) ([]byte, error) {
	p, err := potentialOf(t, r.text)
	if err != nil {
		return nil, err
	}
	j := newPotentialJSON(p)
	b, err := json.Marshal(struct {
		potentialJSON
		Citations []string `json:"citations"`
	}{j, sourcesOf(p.Sources)})
	return plainJSON(b), err
}
