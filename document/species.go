package document

import (
	"errors"
	"fmt"
	"strings"

	"halves/chem"
	"halves/oxidation"
	"halves/reference"
)

// FromSpecies shows what is known of a species: its names, charge, molar mass,
// and oxidation states with their reasons; and the other ways in which what
// was typed can be read.
func FromSpecies(s *chem.Species, others []*chem.Species) *Document {
	d := &Document{Title: formula(s.Runs())}
	entry := reference.Species().Find(s)
	facts := Table{Head: []Inline{nil, nil}, Right: []bool{false, false}}
	fact := func(name string, value Inline) { facts.Rows = append(facts.Rows, []Inline{plain(name), value}) }
	if entry != nil {
		d.Title = join(d.Title, plain(", "+entry.Names[0]))
		if len(entry.Names) > 1 {
			fact("also called", plain(strings.Join(entry.Names[1:], ", ")))
		}
		if !entry.Species.Same(s) {
			fact("listed as", formula(entry.Species.Runs()))
		}
	}
	fact("charge", plain(minus(chem.Whole(s.Charge()).Signed())))
	switch mass, decimals, err := reference.MolarMass(s.Composition()); {
	case s.IsElectron():
	case err != nil:
		fact("molar mass", plain(err.Error()))
	default:
		fact("molar mass", plain(mass.FloatString(decimals)+noBreak+"g/mol"))
	}
	d.add(facts)
	if entry == nil && !s.IsElectron() {
		d.add(Note{plain("This formula is not in the table of species.")})
	}
	states, err := oxidation.States(s)
	if len(states) > 0 || err != nil {
		d.add(Heading{1, plain("Oxidation states")})
	}
	for _, st := range states {
		d.add(Equation{Label: plain(st.Element.Symbol() + noBreak + stateText(st)), Reason: Prose(st.Reason)})
	}
	for _, r := range oxidation.Remarks(s) {
		d.add(Note{Prose(r)})
	}
	var open *oxidation.OpenError
	if errors.As(err, &open) {
		d.add(Note{Prose(strings.ToUpper(open.Error()[:1]) + open.Error()[1:] + ".")})
	}
	var items []Inline
	for _, o := range others {
		item := formula(o.Runs())
		if e := reference.Species().Find(o); e != nil {
			item = join(item, plain(", "+e.Names[0]))
		}
		items = append(items, item)
	}
	if items != nil {
		d.add(Heading{1, plain("It can also be read as")}, List{items},
			Note{join(plain("A caret before the charge settles it: "), plain(fmt.Sprintf("%s.", s)))})
	}
	return d
}
