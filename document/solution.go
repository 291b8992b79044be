package document

import (
	"fmt"
	"slices"
	"strings"

	"halves/balance"
	"halves/chem"
	"halves/names"
	"halves/oxidation"
	"halves/redox"
	"halves/speech"
)

// A layout is a document while it is laid out, in the conventions of a class.
type layout struct {
	*Document
	conventions redox.Conventions
	unknowns    []string // of the solution, as they are written; nil for none
}

func newLayout(c redox.Conventions) layout { return layout{Document: &Document{}, conventions: c} }

// FromSolution lays out a worked question as it would stand on a board: the
// question, how it was worked, the oxidation states, each line by line, the
// answer, and the check.
func FromSolution(s *redox.Solution) *Document {
	d := newLayout(s.Conventions)
	d.unknowns = unknownsOf(s.Steps)
	d.Title = d.question(s.Skeleton, s.Medium)
	if text := wayTaken(s.Steps, s.Equation, s.Conventions); text != nil {
		d.add(Note{text})
	}
	first, last := d.notes(s.Notes)
	d.add(first...)
	d.working(s)
	d.transfer(s)
	d.add(Heading{Level: 1, Text: Plain("Check"), Keep: true})
	d.check(s.Ledger)
	if len(last) > 0 {
		d.add(Heading{Level: 1, Text: Plain("Notes")})
		d.add(last...)
	}
	return d.Document
}

// working lays out the oxidation states, each line, and the answer.
func (d layout) working(s *redox.Solution) {
	d.states(s)
	d.steps(s.Steps, s.Halves)
	d.add(Heading{Level: 1, Text: Plain("The answer"), Keep: true}, d.answer(s.Equation))
}

// answer sets an equation off from the rest.
func (d layout) answer(e chem.Equation) Equation { return Answer(e, d.conventions) }

// species makes a text of a formula.
func (d layout) species(s *chem.Species) Inline { return FormulaOf(s, d.conventions) }

// prose makes a text of a sentence of the engine.
func (d layout) prose(s string) Inline { return proseWith(s, d.unknowns, d.conventions.Names) }

// element makes a text of a symbol.
func (d layout) element(e chem.Element) Inline {
	return Said(e.Symbol(), sayLaw(balance.Law{Element: e}, d.conventions.Names))
}

// question writes a skeleton with its medium.
func (d layout) question(e chem.Equation, m redox.Medium) Inline {
	return Join(EquationOf(e, d.conventions), MediumPhrase(m))
}

// notes parts the remarks into those that a reader needs before the working,
// since they say what was understood, and those that come after it.
func (d layout) notes(all []redox.Note) (first, last []Block) {
	for _, n := range all {
		b := Note{d.prose(n.Text)}
		switch n.Kind {
		case redox.NoteReading, redox.NoteMedium, redox.NoteRoute, redox.NoteNotRedox, redox.NoteBalanced, redox.NoteAcid, redox.NoteDissolved:
			first = append(first, b)
		default:
			last = append(last, b)
		}
	}
	return first, last
}

// states writes a table of species against elements, and what changes.
func (d layout) states(s *redox.Solution) {
	var elements []chem.Element // in the order of the question
	for _, e := range s.Ledger {
		if e.Law != balance.Charge {
			elements = append(elements, e.Law.Element)
		}
	}
	t := Table{
		Caption: "The oxidation state of each element in each species",
		Head:    []Inline{Plain("species"), Plain("name")}, Right: []bool{false, false}, Spare: 1,
	}
	for _, e := range elements {
		t.Head = append(t.Head, d.element(e))
		t.Right = append(t.Right, true)
	}
	nameOf := names.Of
	if slices.ContainsFunc(s.Steps, func(st redox.Step) bool { return st.Rule == redox.WriteIons }) {
		nameOf = names.OfDissolved // hydrochloric acid, not hydrogen chloride
	}
	named := false
	for i, x := range s.Species {
		if slices.ContainsFunc(s.Species[:i], func(y redox.SpeciesStates) bool { return y.Species.Same(x.Species) }) {
			continue
		}
		row := []Inline{d.species(x.Species), nil}
		if name, ok := nameOf(x.Species, d.conventions.Names); ok {
			named = true
			row[1] = Plain(nameText(name))
		}
		for _, e := range elements {
			row = append(row, d.stateOf(x, e))
		}
		t.Rows = append(t.Rows, row)
	}
	if !named {
		t = t.without(1)
	}
	d.add(Heading{Level: 1, Text: Plain("Oxidation states"), Keep: true}, t)
	var changes []Inline
	for _, c := range s.Changes {
		changes = append(changes, d.change(c))
	}
	if changes != nil {
		d.add(List{changes})
	}
}

// nameText writes a name with true minus signs in its charge numbers; the other
// hyphens are the name's own.
func nameText(s string) string { return strings.ReplaceAll(s, "-)", "−)") }

// stateOf returns the state of one element, nil where x does not hold it.
func (d layout) stateOf(x redox.SpeciesStates, e chem.Element) Inline {
	for _, st := range x.States {
		if st.Element == e {
			return d.sites(st)
		}
	}
	if slices.Contains(x.Open, e) {
		return Said("?", "not settled")
	}
	return nil
}

// state makes a text of one oxidation state. Roman numerals are said as the
// numbers that they are.
func (d layout) state(r chem.Ratio) Inline {
	text := d.conventions.State(r)
	spoken := saySigns(text)
	if d.conventions.Roman {
		spoken = saySigns(minus(r.String()))
	}
	return Said(text, spoken)
}

// sites writes "+7", or "+2 ×2, +4" where atoms differ.
func (d layout) sites(st oxidation.State) Inline {
	var out Inline
	for i, site := range st.Sites {
		if i > 0 {
			out = append(out, Span{Prose: ", "})
		}
		out = Join(out, d.state(site.State))
		if len(st.Sites) > 1 && site.Atoms > 1 {
			out = append(out, Span{Prose: fmt.Sprintf(noBreak+"×%d", site.Atoms), Spoken: fmt.Sprintf(" for %d atoms", site.Atoms)})
		}
	}
	return out
}

// change says what one element does: "Mn goes from +7 to +2 (MnO4^- to Mn^2+):
// each atom gains 5 electrons, reduction."
func (d layout) change(c redox.Change) Inline {
	out := Join(d.element(c.Element), Plain(" goes from "), d.state(c.From), Plain(" to "), d.state(c.To))
	if len(c.Reactants) > 0 && len(c.Products) > 0 {
		out = Join(out, Plain(" ("), d.all(c.Reactants), Plain(" to "), d.all(c.Products), Plain(")"))
	}
	n, verb, what := c.Electrons(), "loses", "oxidation"
	if n.Sign() < 0 {
		n, verb, what = n.Neg(), "gains", "reduction"
	}
	each := "each atom"
	if !n.IsWhole() {
		each = "on average each atom"
	}
	return Join(out, Plain(fmt.Sprintf(": %s %s %s, %s.", each, verb, electrons(n), what)))
}

// all names species in a sentence.
func (d layout) all(species []*chem.Species) Inline {
	items := make([]Inline, len(species))
	for i, s := range species {
		items[i] = d.species(s)
	}
	return Series(items)
}

// electrons writes a number of electrons.
func electrons(n chem.Ratio) string {
	if n.Equal(chem.Whole(1)) {
		return "1" + noBreak + "electron"
	}
	return n.String() + noBreak + "electrons"
}

// steps writes the lines of the working, a section for each half and one for
// the whole.
func (d layout) steps(steps []redox.Step, halves []redox.Half) {
	section, explained := "", false
	for i, st := range steps {
		if st.Rule == redox.Check {
			continue // the table at the end is the check
		}
		if i > 0 && sameWords(st, steps[i-1]) {
			continue // said once for both halves
		}
		e := d.line(st)
		next := sectionOf(st, halves)
		switch {
		case st.Rule == redox.Equalize && (i+1 == len(steps) || !sameWords(st, steps[i+1])):
			e.Label = Plain(d.conventions.Label(st.Rule) + ": " + halfName(st.Half, halves))
		case next == section && steps[i-1].Rule == st.Rule && st.Rule != redox.Equalize:
			e.Label = nil // the same again, for the next law or element
		}
		if next != section {
			section = next
			d.add(Heading{Level: 1, Text: Plain(section), Keep: st.Half >= 0})
			if !explained && leavesOpen(steps[i:], section, halves) {
				explained = true
				d.add(Paragraph{Join(Plain("Under each line: its atoms and its charge, left against right. What is marked "),
					Said("≠", "not equal"), Plain(" is still to"+noBreak+"do."))})
			}
		}
		d.add(e)
	}
}

// leavesOpen reports whether a line of the section that steps begin with does
// not balance yet.
func leavesOpen(steps []redox.Step, section string, halves []redox.Half) bool {
	for _, st := range steps {
		if sectionOf(st, halves) != section {
			return false
		}
		if counts(st) {
			if l, err := balance.NewLedger(st.After); err == nil && !l.Closed() {
				return true
			}
		}
	}
	return false
}

// counts reports whether a step writes an equation with numbers, and not just
// which species there are.
func counts(st redox.Step) bool {
	return st.Written == nil && st.Done && len(st.After.Left)+len(st.After.Right) > 0 &&
		st.Rule != redox.WriteIons && st.Rule != redox.LeaveOut
}

// sameWords reports whether two steps that change nothing say the same.
func sameWords(a, b redox.Step) bool {
	return !a.Done && !b.Done && a.Rule == b.Rule && a.Reason == b.Reason
}

// sectionOf names the section that a step belongs to.
func sectionOf(st redox.Step, halves []redox.Half) string {
	switch {
	case st.Rule == redox.WriteIons || st.Rule == redox.LeaveOut:
		return "What reacts"
	case st.Rule == redox.ChangesOfState || st.Rule == redox.EqualChanges:
		return "Gain and loss"
	case st.Rule == redox.NameUnknowns || st.Rule == redox.Conserve || st.Rule == redox.AskHalves:
		return "Unknowns and laws"
	case st.Rule == redox.ChooseOne || st.Rule == redox.SolveFor || st.Rule == redox.ClearUnits:
		return "Solving"
	case st.Half >= 0 && st.Rule != redox.Equalize:
		name := halfName(st.Half, halves)
		return strings.ToUpper(name[:1]) + name[1:]
	}
	return "The whole equation"
}

// halfName tells a half from the others: "oxidation", "second reduction".
func halfName(i int, halves []redox.Half) string {
	if i < 0 || i >= len(halves) {
		return "half"
	}
	n, of := 0, 0
	for k, h := range halves {
		if h.Role == halves[i].Role {
			of++
			if k <= i {
				n++
			}
		}
	}
	if of == 1 {
		return string(halves[i].Role)
	}
	ordinals := [...]string{"first", "second", "third", "fourth", "fifth", "sixth"}
	if n <= len(ordinals) {
		return ordinals[n-1] + " " + string(halves[i].Role)
	}
	return fmt.Sprintf("%s number %d", halves[i].Role, n)
}

// line writes one step. One that changes nothing has no line of its own.
func (d layout) line(st redox.Step) Equation {
	e := Equation{Label: Plain(d.conventions.Label(st.Rule)), Reason: d.prose(st.Reason)}
	if st.Written != nil {
		e.Line, e.Spoken = st.Written, speech.Runs(st.Written)
		return e
	}
	if !st.Done || len(st.After.Left)+len(st.After.Right) == 0 {
		return e
	}
	e.Line = st.After.Runs(d.conventions.LineStyle(st.After))
	e.Spoken = speech.Equation(st.After, d.conventions.Names)
	if !counts(st) {
		return e
	}
	if l, err := balance.NewLedger(st.After); err == nil {
		e.Ledger, e.SpokenLedger = l, sayLedger(l, d.conventions.Names)
	}
	return e
}

// transfer says who gives how many electrons to whom.
func (d layout) transfer(s *redox.Solution) {
	if !s.Redox() {
		return
	}
	var out Inline
	switch {
	case s.Electrons == nil:
		out = Plain("How many electrons are transferred depends on oxidation states that the rules leave open.")
	default:
		verb := " are"
		if *s.Electrons == 1 {
			verb = " is"
		}
		out = Plain(electrons(chem.Whole(*s.Electrons)) + verb + " transferred.")
	}
	d.add(Paragraph{out})
	var both, oxidized, reduced []*chem.Species
	for _, x := range s.Oxidized {
		if slices.ContainsFunc(s.Reduced, x.Same) {
			both = append(both, x)
		} else {
			oxidized = append(oxidized, x)
		}
	}
	for _, x := range s.Reduced {
		if !slices.ContainsFunc(s.Oxidized, x.Same) {
			reduced = append(reduced, x)
		}
	}
	var items []Inline
	say := func(all []*chem.Species, one, many string) {
		switch len(all) {
		case 0:
		case 1:
			items = append(items, Join(d.all(all), Plain(one)))
		default:
			items = append(items, Join(d.all(all), Plain(many)))
		}
	}
	say(oxidized, " is oxidized: it is the reducing agent.", " are oxidized: they are the reducing agents.")
	say(reduced, " is reduced: it is the oxidizing agent.", " are reduced: they are the oxidizing agents.")
	say(both, " is both oxidized and reduced: it is both the reducing and the oxidizing agent.", " are both oxidized and reduced: they are both reducing and oxidizing agents.")
	if items != nil {
		d.add(List{items})
	}
}

// check writes a ledger as a table, and the sentence about the charge.
func (d layout) check(l balance.Ledger) {
	t := Table{
		Caption: "Atoms and charge of each side",
		Head:    []Inline{nil, Plain("left"), Plain("right"), nil}, Right: []bool{false, true, true, false},
	}
	var charge balance.Entry
	open := false
	for _, e := range l {
		open = open || !e.Closed()
	}
	for _, e := range l {
		left, right := sides(e)
		row := []Inline{Said(e.Law.String(), sayLaw(e.Law, d.conventions.Names)), signed(left), signed(right), nil}
		if !e.Closed() {
			row[3] = Plain("not equal")
		}
		t.Rows = append(t.Rows, row)
		if e.Law == balance.Charge {
			charge = e
		}
	}
	if !open {
		t = t.without(3)
	}
	d.add(t)
	if charge.Closed() && charge.Left.Sign() != 0 {
		d.add(Paragraph{Join(Plain("The charge is "), signed(charge.Left.Signed()), Plain(" on each side: not zero, but equal."))})
	}
}

// sides writes what each side holds: atoms plainly, charge with its sign.
func sides(e balance.Entry) (left, right string) {
	if e.Law == balance.Charge {
		return minus(e.Left.Signed()), minus(e.Right.Signed())
	}
	return e.Left.String(), e.Right.String()
}
