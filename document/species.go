package document

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"halves/chem"
	"halves/names"
	"halves/oxidation"
	"halves/redox"
	"halves/reference"
	"halves/speech"
)

// FromSpecies shows what is known of a species, in the conventions of a class:
// its names, charge, molar mass, and oxidation states with their reasons; and the
// other ways in which what was typed can be read.
func FromSpecies(c redox.Conventions, s *chem.Species, others []*chem.Species) *Document {
	d := newLayout(c)
	d.Title = d.species(s)
	entry := reference.Species().Find(s)
	facts := Table{Caption: "What is known of it", Head: []Inline{nil, nil}, Right: []bool{false, false}}
	fact := func(name string, value Inline) { facts.Rows = append(facts.Rows, []Inline{Plain(name), value}) }
	called := namesOf(s, entry, c)
	if len(called) > 0 {
		d.Title = Join(d.Title, Plain(", "+nameText(called[0])))
	}
	if len(called) > 1 {
		fact("also called", Plain(nameText(strings.Join(called[1:], ", "))))
	}
	if entry != nil && !entry.Species.Same(s) {
		fact("listed as", d.species(entry.Species))
	}
	fact("charge", signed(chem.Whole(s.Charge()).Signed()))
	switch mass, decimals, err := reference.MolarMass(s.Composition()); {
	case s.IsElectron():
	case err != nil:
		fact("molar mass", Plain(err.Error()))
	default:
		number := mass.FloatString(decimals)
		if c.Comma {
			number = strings.Replace(number, ".", ",", 1)
		}
		fact("molar mass", Said(number+noBreak+"g/mol", speech.Prose(number+" g/mol", c.Names)))
	}
	d.add(facts)
	if entry == nil && !s.IsElectron() {
		d.add(Note{Plain("This formula is not in the table of species.")})
	}
	states, err := oxidation.States(s)
	if len(states) > 0 || err != nil {
		d.add(Heading{Level: 1, Text: Plain("Oxidation states")})
	}
	for _, st := range states {
		d.add(Equation{Label: Join(d.element(st.Element), Plain(noBreak), d.sites(st)), Reason: d.prose(roman(st, c))})
	}
	for _, r := range oxidation.Remarks(s) {
		d.add(Note{d.prose(r)})
	}
	var open *oxidation.OpenError
	if errors.As(err, &open) {
		d.add(Note{d.prose(strings.ToUpper(open.Error()[:1]) + open.Error()[1:] + ".")})
	}
	var items []Inline
	for _, o := range others {
		item := d.species(o)
		if e := reference.Species().Find(o); e != nil {
			item = Join(item, Plain(", "+nameText(e.Names[0])))
		}
		items = append(items, item)
	}
	if items != nil {
		d.add(Heading{Level: 1, Text: Plain("It can also be read as")}, List{items},
			Note{Join(Plain("A caret before the charge settles it: "), Plain(fmt.Sprintf("%s.", s)))})
	}
	return d.Document
}

// namesOf lists the names of a species, that of the class first, each once.
func namesOf(s *chem.Species, entry *reference.Entry, c redox.Conventions) []string {
	var out []string
	add := func(name string) {
		if name != "" && !slices.Contains(out, name) && !slices.Contains(out, name+" ion") {
			out = append(out, name)
		}
	}
	style := func(style names.Style) {
		if name, ok := names.Of(s, names.Choice{Style: style, Sulph: c.Names.Sulph}); ok {
			add(name)
		}
	}
	style(c.Names.Style)
	for i := range names.Styles {
		style(names.Style(i))
	}
	if entry != nil {
		for _, name := range entry.Names {
			add(name)
		}
	}
	return out
}

// roman writes the state that a reason names as the class does; the arithmetic
// behind it stays in figures.
func roman(st oxidation.State, c redox.Conventions) string {
	if len(st.Sites) != 1 {
		return st.Reason
	}
	state := st.Sites[0].State
	return strings.Replace(st.Reason, " is "+minus(state.Signed()), " is "+c.State(state), 1)
}
