package document

import (
	"errors"
	"fmt"
	"strings"

	"halves/chem"
	"halves/oxidation"
	"halves/redox"
	"halves/reference"
)

// FromSpecies shows what is known of a species, in the conventions of a class:
// its names, charge, molar mass, and oxidation states with their reasons; and the
// other ways in which what was typed can be read.
func FromSpecies(c redox.Conventions, s *chem.Species, others []*chem.Species) *Document {
	d := newLayout(c)
	d.Title = d.species(s)
	entry := reference.Species().Find(s)
	facts := Table{Caption: "What is known of it", Head: []Inline{nil, nil}, Right: []bool{false, false}}
	fact := func(name string, value Inline) { facts.Rows = append(facts.Rows, []Inline{plain(name), value}) }
	if entry != nil {
		d.Title = join(d.Title, plain(", "+entry.Names[0]))
		if len(entry.Names) > 1 {
			fact("also called", plain(strings.Join(entry.Names[1:], ", ")))
		}
		if !entry.Species.Same(s) {
			fact("listed as", d.species(entry.Species))
		}
	}
	fact("charge", signed(chem.Whole(s.Charge()).Signed()))
	switch mass, decimals, err := reference.MolarMass(s.Composition()); {
	case s.IsElectron():
	case err != nil:
		fact("molar mass", plain(err.Error()))
	default:
		number := mass.FloatString(decimals)
		if c.Comma {
			number = strings.Replace(number, ".", ",", 1)
		}
		fact("molar mass", said(number+noBreak+"g/mol", number+" grams per mole"))
	}
	d.add(facts)
	if entry == nil && !s.IsElectron() {
		d.add(Note{plain("This formula is not in the table of species.")})
	}
	states, err := oxidation.States(s)
	if len(states) > 0 || err != nil {
		d.add(Heading{Level: 1, Text: plain("Oxidation states")})
	}
	for _, st := range states {
		d.add(Equation{Label: join(d.element(st.Element), plain(noBreak), d.sites(st)), Reason: d.prose(st.Reason)})
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
			item = join(item, plain(", "+e.Names[0]))
		}
		items = append(items, item)
	}
	if items != nil {
		d.add(Heading{Level: 1, Text: plain("It can also be read as")}, List{items},
			Note{join(plain("A caret before the charge settles it: "), plain(fmt.Sprintf("%s.", s)))})
	}
	return d.Document
}
