package document

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"halves/caution"
	"halves/chem"
	"halves/diagram"
	"halves/energetics"
	"halves/redox"
	"halves/reference"
	"halves/speech"
)

// A Chemistry is what is known of a worked reaction beside its numbers.
type Chemistry struct {
	Cell    *energetics.Cell // nil where the reaction is none
	Without string           // why there is no cell, a sentence without a full stop
	Remarks []string         // about species that do not persist in the medium
	Advice  caution.Advice
}

// NewChemistry finds what is known of a worked reaction. Where there is no cell it
// says why; a fault in the conditions is an error.
func NewChemistry(t energetics.Tables, s *redox.Solution, c energetics.Conditions) (Chemistry, error) {
	x := Chemistry{Remarks: t.Remarks(s.Equation, s.Medium), Advice: caution.For(s.Equation)}
	cell, err := t.Work(s, c)
	var wrong *energetics.ConditionError
	switch {
	case errors.As(err, &wrong):
		return x, err
	case err != nil:
		x.Without = strings.TrimSuffix(err.Error(), ".")
	default:
		x.Cell = cell
	}
	return x, nil
}

// AddChemistry adds to a worked solution whether it goes, what is seen, and the
// cautions.
func (d *Document) AddChemistry(s *redox.Solution, x Chemistry) {
	l := layout{Document: d, conventions: s.Conventions}
	l.add(Heading{Level: 1, Text: Plain("Does it go?")})
	switch {
	case x.Cell != nil:
		l.verdict(x.Cell)
		l.potentials(x.Cell)
		l.strength(x.Cell)
		l.now(x.Cell)
	case x.Without != "":
		l.add(Paragraph{l.prose("No potentials: " + x.Without + ".")})
	}
	for _, r := range x.Remarks {
		l.add(Note{l.prose(r)})
	}
	l.seen(s.Equation)
	if x.Cell != nil {
		l.sources(x.Cell.Reduction, x.Cell.Oxidation)
	}
	l.cautions(x.Advice)
}

// FromCell lays out a reaction as a galvanic cell.
func FromCell(s *redox.Solution, x Chemistry) *Document {
	d := newLayout(s.Conventions)
	d.Title = equation(s.Equation, d.conventions.Style(), d.conventions.Names)
	first, _ := d.notes(s.Notes)
	d.add(first...)
	c := x.Cell
	d.verdict(c)
	n := c.Notation()
	d.add(Heading{Level: 1, Text: Plain("The cell")}, Equation{Line: n.Runs, Spoken: d.spokenCell(c)},
		Paragraph{Plain("The anode, where the oxidation takes place, stands at the left; | is a boundary of phases, || the junction of the solutions.")})
	if n.Inert {
		d.add(Paragraph{Plain("Where no metal of the couple conducts, platinum is taken as an inert electrode.")})
	}
	d.add(Heading{Level: 1, Text: Plain("Potentials")})
	d.potentials(c)
	d.add(Figure{diagram.Ladder(c.Ladder(), diagram.Style{Comma: s.Conventions.Comma})})
	d.strength(c)
	d.now(c)
	for _, r := range x.Remarks {
		d.add(Note{d.prose(r)})
	}
	d.sources(c.Reduction, c.Oxidation)
	d.cautions(x.Advice)
	return d.Document
}

func (d layout) spokenCell(c *energetics.Cell) string {
	return "anode, " + speech.Equation(turned(c.Oxidation.Half), d.conventions.Names) + "; cathode, " + speech.Equation(c.Reduction.Half, d.conventions.Names)
}

func turned(e chem.Equation) chem.Equation { return chem.Equation{Left: e.Right, Right: e.Left} }

// verdict says what the potentials allow to be said.
func (d layout) verdict(c *energetics.Cell) {
	text := string(c.Verdict)
	d.add(Paragraph{Join(Plain(strings.ToUpper(text[:1])+text[1:]+". "), d.prose(d.decimals(c.Why)))})
}

// potentials writes both couples as reductions, with how they were found.
func (d layout) potentials(c *energetics.Cell) {
	for _, x := range []struct {
		label string
		p     energetics.Potential
	}{{"cathode: the reduction", c.Reduction}, {"anode: the oxidation, reversed", c.Oxidation}} {
		d.add(d.potential(Plain(x.label), x.p))
	}
}

// potential writes one half-reaction with its potential.
func (d layout) potential(label Inline, p energetics.Potential) Equation {
	style := d.conventions.Style()
	style.Phases = true
	reason := "E\u00b0 = " + signedVolts(p.Volts, p.Decimals()) + " V, " + string(p.Says)
	if p.Memory {
		reason += " (a figure from memory of its source is among them)"
	}
	if p.Other != nil {
		reason += fmt.Sprintf("; %s V if %s", signedVolts(p.Other.Volts, p.Other.Decimals()), p.Other.Says)
	}
	if p.Remark != "" {
		reason += ". " + strings.TrimSuffix(remarkMinus.Replace(p.Remark), ".")
	}
	return Equation{Label: label, Line: p.Half.Runs(style), Spoken: speech.Equation(p.Half, d.conventions.Names), Reason: d.prose(d.decimals(reason))}
}

// remarkMinus writes the minus signs of a table's remark as such.
var remarkMinus = strings.NewReplacer(" -", " \u2212", "(-", "(\u2212")

func signedVolts(v float64, decimals int) string {
	s := fmt.Sprintf("%+.*f", decimals, v)
	if strings.Trim(s, "+-0.") == "" {
		s = s[1:]
	}
	return strings.Replace(s, "-", "\u2212", 1)
}

// strength writes the cell's figures.
func (d layout) strength(c *energetics.Cell) {
	decimals := c.Decimals()
	number := func(x float64, decimals int) string { return d.decimals(minus(fmt.Sprintf("%.*f", decimals, x))) }
	gibbs := 0
	if float64(c.Electrons)*c.Doubt*96.5 < 0.5 {
		gibbs = 1
	}
	items := []Inline{
		Plain(fmt.Sprintf("E\u00b0 of the cell: %s%sV", d.decimals(signedVolts(c.Volts, decimals)), noBreak)),
		Plain(fmt.Sprintf("\u0394G\u00b0 = %s%skJ/mol for the equation as printed, %s", number(c.Gibbs, gibbs), noBreak, electrons(chem.Whole(c.Electrons)))),
		Join(Plain(fmt.Sprintf("log K = %s, ", number(c.LogK, logDecimals(c)))), d.constant(c)),
	}
	d.add(List{items})
}

// logDecimals are as many decimals of log K as the potentials leave.
func logDecimals(c *energetics.Cell) int {
	if float64(c.Electrons)*c.Doubt*17 < 0.05 {
		return 2
	}
	if float64(c.Electrons)*c.Doubt*17 < 0.5 {
		return 1
	}
	return 0
}

// constant writes K in scientific form.
func (d layout) constant(c *energetics.Cell) Inline {
	mantissa, exponent := c.K()
	power := fmt.Sprint(exponent)
	spoken := "ten to the power of " + speech.Signed(chem.Whole(exponent))
	if mantissa == "" {
		return Join(Plain("K about "), Inline{{Formula: []chem.Run{{Text: "10"}, {Text: power, Level: chem.Superscript}}, Spoken: spoken}})
	}
	return Join(Plain("K = "+d.decimals(mantissa)+noBreak+"×"+noBreak), Inline{{Formula: []chem.Run{{Text: "10"}, {Text: power, Level: chem.Superscript}}, Spoken: spoken}})
}

// now writes what the conditions make of it.
func (d layout) now(c *energetics.Cell) {
	if c.At == nil {
		return
	}
	d.add(Heading{Level: 1, Text: Plain("Under the conditions given")})
	d.add(List{[]Inline{
		Plain(fmt.Sprintf("E of the cell: %s%sV", d.decimals(signedVolts(c.At.Volts, c.Decimals())), noBreak)),
		Plain(fmt.Sprintf("\u0394G = %s%skJ/mol for the equation as printed", d.decimals(minus(fmt.Sprintf("%.0f", c.At.Gibbs))), noBreak)),
		Plain(fmt.Sprintf("log Q = %s", d.decimals(minus(fmt.Sprintf("%.2f", c.At.LogQ))))),
	}})
	for _, t := range c.At.Taken {
		d.add(Note{d.prose(d.decimals(t))})
	}
}

// seen tells the colours, where they are known.
func (d layout) seen(e chem.Equation) {
	side := func(terms []chem.Term) []Inline {
		var out []Inline
		var done []*chem.Species
		for _, x := range terms {
			entry := reference.Species().Find(x.Species)
			if entry == nil || entry.Colour == "" || x.Species.Same(chem.Water) || x.Species.Same(chem.Hydron) || x.Species.Same(chem.Hydroxide) || slices.ContainsFunc(done, x.Species.Same) {
				continue
			}
			done = append(done, x.Species)
			colour := entry.Colour
			if colour == "white" && entry.Soluble == "yes" && x.Species.Phase() != chem.Solid {
				colour = "colourless in solution"
			}
			out = append(out, Join(d.species(x.Species), Plain(" "+colour)))
		}
		return out
	}
	before, after := side(e.Left), side(e.Right)
	if before == nil && after == nil {
		return
	}
	var items []Inline
	if before != nil {
		items = append(items, Join(Plain("before: "), commas(before)))
	}
	if after != nil {
		items = append(items, Join(Plain("after: "), commas(after)))
	}
	d.add(Paragraph{Plain("What is seen, as the table of species has the colours:")}, List{items})
}

func commas(items []Inline) Inline {
	var out Inline
	for i, t := range items {
		if i > 0 {
			out = append(out, Span{Prose: "; "})
		}
		out = append(out, t...)
	}
	return out
}

// sources lists where the figures come from.
func (d layout) sources(all ...energetics.Potential) {
	var keys []string
	for _, p := range all {
		for _, k := range p.Sources {
			if !slices.Contains(keys, k) {
				keys = append(keys, k)
			}
		}
		if p.Other != nil {
			for _, k := range p.Other.Sources {
				if !slices.Contains(keys, k) {
					keys = append(keys, k)
				}
			}
		}
	}
	d.citations(keys)
}

func (d layout) citations(keys []string) {
	var items []Inline
	for _, k := range keys {
		items = append(items, Plain(Citation(k)))
	}
	if items != nil {
		d.add(Paragraph{Plain("Sources of the figures (25 \u00b0C, unit activities, against the standard hydrogen electrode):")}, List{items})
	}
}

// Citation is how the source of a key is cited: without where its electronic copy
// was taken from. A key of no source, as a user's own rows have, is cited as it is.
func Citation(key string) string {
	if s, ok := reference.SourceOf(key); ok {
		return short(s.Citation)
	}
	return key
}

// short leaves out of a citation where its electronic copy was taken from, which
// the table of sources keeps.
func short(citation string) string {
	for _, from := range []string{"; digital edition", " (repository", ", part of the", ", as transcribed", ", as reproduced", ", module "} {
		citation, _, _ = strings.Cut(citation, from)
	}
	return citation
}

// decimals writes the decimal points of a text as the class does: those between
// two digits.
func (d layout) decimals(text string) string {
	if !d.conventions.Comma {
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

// FromPotential lays out one half-reaction with its potential.
func FromPotential(c redox.Conventions, p energetics.Potential) *Document {
	d := newLayout(c)
	style := c.Style()
	style.Phases = true
	d.Title = Inline{{Formula: p.Half.Runs(style), Spoken: speech.Equation(p.Half, c.Names)}}
	d.add(d.potential(Plain("standard potential"), p))
	if p.Slow != "" {
		d.add(Note{d.prose("In practice: " + strings.TrimSuffix(p.Slow, ".") + ".")})
	}
	d.sources(p)
	return d.Document
}

// FromCouples lists couples of the table, as found.
func FromCouples(c redox.Conventions, title string, all []*reference.Couple) *Document {
	d := newLayout(c)
	d.Title = d.prose(title)
	var keys []string
	for _, x := range all {
		style := c.Style()
		style.Phases = true
		reason := ""
		add := func(s string) {
			if reason != "" {
				reason += ". "
			}
			reason += strings.TrimSuffix(s, ".")
		}
		if x.Own {
			add("of your own table")
		}
		if !x.Preferred && !x.Own {
			add("not the preferred figure of this couple")
		}
		if s, ok := reference.Couples().Suspect(x.ID); ok && !x.Own {
			add(s.Judgement)
		}
		if x.Slow != "" {
			add("in practice: " + x.Slow)
		}
		if x.Confidence == "memory" {
			add("from memory of its source")
		}
		d.add(Equation{Label: Plain(d.decimals(signedVolts(x.Volts, decimalsOf(x.Text))) + noBreak + "V"), Line: x.Half.Runs(style), Spoken: speech.Equation(x.Half, c.Names), Reason: d.prose(reason)})
		if !slices.Contains(keys, x.Source) {
			keys = append(keys, x.Source)
		}
	}
	if len(all) == 0 {
		d.add(Paragraph{Plain("No couple of the table is like that.")})
	}
	d.citations(keys)
	return d.Document
}

// FromCompetition tells which of some species reacts first with which.
func FromCompetition(c redox.Conventions, present []*chem.Species, medium string, k energetics.Competition) *Document {
	d := newLayout(c)
	d.Title = Join(Plain("Together: "), d.all(present))
	ph := map[string]string{energetics.Acidic: "0", energetics.Basic: "14"}[medium]
	switch o, r, ok := k.First(); {
	case len(k.Oxidizing) == 0 || len(k.Reducing) == 0:
		d.add(Paragraph{Plain("The table has no couples of these species of which one could oxidize another.")})
	case ok:
		d.add(Paragraph{Join(Plain("First, by the potentials: "), d.half(o.Half), Plain(" with the reverse of "), d.half(r.Half), Plain(d.decimals(", "+signedVolts(o.Volts-r.Volts, 2)+noBreak+"V between them. How fast it goes, and which product forms where an agent has several, they do not tell.")))})
	default:
		d.add(Paragraph{Plain("No two of these couples have potentials that favour a reaction.")})
	}
	list := func(title string, all []energetics.Potential) {
		if len(all) == 0 {
			return
		}
		d.add(Heading{Level: 1, Text: Plain(title)})
		for _, p := range all {
			d.add(d.potential(Plain(d.decimals(signedVolts(p.Volts, p.Decimals()))+noBreak+"V"), p))
		}
	}
	list("What can oxidize, the strongest first", k.Oxidizing)
	list("What can be oxidized, the strongest reducing agent first", k.Reducing)
	d.add(Note{Plain(d.decimals(fmt.Sprintf("Potentials at pH %s and 1 mol/L. Water itself gives hydrogen below %s V and oxygen above %s V there.", ph, signedVolts(k.Window[0], 2), signedVolts(k.Window[1], 2))))})
	d.sources(append(slices.Clone(k.Oxidizing), k.Reducing...)...)
	return d.Document
}

// half makes a text of a half-reaction.
func (d layout) half(e chem.Equation) Inline {
	return Inline{{Formula: e.Runs(d.conventions.Style()), Spoken: speech.Equation(e, d.conventions.Names)}}
}

func decimalsOf(text string) int {
	_, decimals, _ := strings.Cut(text, ".")
	return len(decimals)
}

// FromFigure lays out a picture alone, with its numbers.
func FromFigure(f diagram.Drawn) *Document {
	d := &Document{Title: Plain(f.Title)}
	d.add(Figure{f})
	return d
}
