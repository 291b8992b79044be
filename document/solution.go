package document

import (
	"fmt"
	"slices"
	"strings"

	"halves/balance"
	"halves/chem"
	"halves/oxidation"
	"halves/redox"
)

// FromSolution lays out a worked question as it would stand on a board: the
// question, the oxidation states, each half line by line, the halves together,
// the answer, and the check.
func FromSolution(s *redox.Solution) *Document {
	style := chem.Style{Phases: s.Conventions.Phases, Ones: s.Conventions.Ones, Equals: s.Conventions.Equals}
	d := &Document{Title: question(s.Skeleton, s.Medium, style)}
	first, last := notes(s.Notes)
	d.add(first...)
	d.states(s)
	d.steps(s.Steps, s.Halves, style)
	d.add(Heading{1, plain("The answer")}, Equation{Line: s.Equation.Runs(style), Final: true})
	d.transfer(s)
	d.add(Heading{1, plain("Check")})
	d.check(s.Ledger)
	if len(last) > 0 {
		d.add(Heading{1, plain("Notes")})
		d.add(last...)
	}
	return d
}

// question writes a skeleton with its medium.
func question(e chem.Equation, m redox.Medium, style chem.Style) Inline {
	style.Ones = false // the numbers are what is asked
	return join(formula(e.Runs(style)), plain(mediumPhrase(m)))
}

func mediumPhrase(m redox.Medium) string {
	switch m {
	case redox.Acidic:
		return ", in acid"
	case redox.Basic:
		return ", in base"
	case redox.Neutral:
		return ", in neutral solution"
	case redox.None:
		return ", nothing added"
	}
	return ""
}

// notes parts the remarks into those that a reader needs before the working,
// since they say what was understood, and those that come after it.
func notes(all []redox.Note) (first, last []Block) {
	for _, n := range all {
		b := Note{Prose(n.Text)}
		switch n.Kind {
		case redox.NoteReading, redox.NoteMedium, redox.NoteRoute, redox.NoteNotRedox, redox.NoteBalanced, redox.NoteAcid:
			first = append(first, b)
		default:
			last = append(last, b)
		}
	}
	return first, last
}

// states writes a table of species against elements, and what changes.
func (d *Document) states(s *redox.Solution) {
	var elements []chem.Element // in the order of the question
	for _, e := range s.Ledger {
		if e.Law != balance.Charge {
			elements = append(elements, e.Law.Element)
		}
	}
	t := Table{Head: []Inline{nil}, Right: []bool{false}}
	for _, e := range elements {
		t.Head = append(t.Head, plain(e.Symbol()))
		t.Right = append(t.Right, true)
	}
	for i, x := range s.Species {
		if slices.ContainsFunc(s.Species[:i], func(y redox.SpeciesStates) bool { return y.Species.Same(x.Species) }) {
			continue
		}
		row := []Inline{formula(x.Species.Runs())}
		for _, e := range elements {
			row = append(row, stateOf(x, e))
		}
		t.Rows = append(t.Rows, row)
	}
	d.add(Heading{1, plain("Oxidation states")}, t)
	var changes []Inline
	for _, c := range s.Changes {
		changes = append(changes, change(c))
	}
	if changes != nil {
		d.add(List{changes})
	}
}

// stateOf returns the state of one element, nil where x does not hold it.
func stateOf(x redox.SpeciesStates, e chem.Element) Inline {
	for _, st := range x.States {
		if st.Element == e {
			return plain(stateText(st))
		}
	}
	if slices.Contains(x.Open, e) {
		return plain("?")
	}
	return nil
}

// stateText writes "+7", or "+2 ×2, +4" where atoms differ.
func stateText(st oxidation.State) string {
	parts := make([]string, len(st.Sites))
	for i, site := range st.Sites {
		parts[i] = minus(site.State.Signed())
		if len(st.Sites) > 1 && site.Atoms > 1 {
			parts[i] += fmt.Sprintf(noBreak+"×%d", site.Atoms)
		}
	}
	return strings.Join(parts, ", ")
}

// change says what one element does: "Mn goes from +7 to +2, MnO4^- to Mn^2+:
// each atom gains 5 electrons."
func change(c redox.Change) Inline {
	out := plain(fmt.Sprintf("%s goes from %s to %s", c.Element, minus(c.From.Signed()), minus(c.To.Signed())))
	if len(c.Reactants) > 0 && len(c.Products) > 0 {
		out = join(out, plain(" ("), species(c.Reactants), plain(" to "), species(c.Products), plain(")"))
	}
	n, verb, what := c.Electrons(), "loses", "oxidation"
	if n.Sign() < 0 {
		n, verb, what = n.Neg(), "gains", "reduction"
	}
	return join(out, plain(fmt.Sprintf(": each atom %s %s, %s.", verb, electrons(n), what)))
}

func species(all []*chem.Species) Inline {
	items := make([]Inline, len(all))
	for i, s := range all {
		items[i] = formula(s.Runs())
	}
	return list(items)
}

// electrons writes a number of electrons.
func electrons(n chem.Ratio) string {
	if n.Equal(chem.Whole(1)) {
		return "1" + noBreak + "electron"
	}
	return n.String() + noBreak + "electrons"
}

// minus gives a number its true minus sign.
func minus(s string) string { return strings.ReplaceAll(s, "-", "−") }

// steps writes the lines of the working, a section for each half and one for
// the whole.
func (d *Document) steps(steps []redox.Step, halves []redox.Half, style chem.Style) {
	section, explained := "", false
	for i, st := range steps {
		if st.Rule == redox.Check {
			continue // the table at the end is the check
		}
		if i > 0 && sameWords(st, steps[i-1]) {
			continue // said once for both halves
		}
		e := line(st, style)
		if st.Rule == redox.Equalize && (i+1 == len(steps) || !sameWords(st, steps[i+1])) {
			e.Label = plain(string(st.Rule) + ": " + halfName(st.Half, halves))
		}
		if next := sectionOf(st, halves); next != section {
			section = next
			d.add(Heading{1, plain(section)})
			if !explained && e.Ledger != nil {
				explained = true
				d.add(Paragraph{plain("Under each line: its atoms and its charge, left against right. What is marked ≠ is still to do.")})
			}
		}
		d.add(e)
	}
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
func line(st redox.Step, style chem.Style) Equation {
	e := Equation{Label: plain(string(st.Rule)), Reason: Prose(st.Reason)}
	if !st.Done || len(st.After.Left)+len(st.After.Right) == 0 {
		return e
	}
	e.Line = st.After.Runs(style)
	if st.Rule == redox.WriteIons || st.Rule == redox.LeaveOut {
		return e // it says which species there are, not yet how many
	}
	if l, err := balance.NewLedger(st.After); err == nil {
		e.Ledger = l
	}
	return e
}

// transfer says who gives how many electrons to whom.
func (d *Document) transfer(s *redox.Solution) {
	if !s.Redox() {
		return
	}
	var out Inline
	switch {
	case s.Electrons == nil:
		out = plain("How many electrons are transferred depends on oxidation states that the rules leave open.")
	default:
		verb := " are"
		if *s.Electrons == 1 {
			verb = " is"
		}
		out = plain(electrons(chem.Whole(*s.Electrons)) + verb + " transferred.")
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
			items = append(items, join(species(all), plain(one)))
		default:
			items = append(items, join(species(all), plain(many)))
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
func (d *Document) check(l balance.Ledger) {
	t := Table{Head: []Inline{nil, plain("left"), plain("right"), nil}, Right: []bool{false, true, true, false}}
	var charge balance.Entry
	open := false
	for _, e := range l {
		open = open || !e.Closed()
	}
	for _, e := range l {
		left, right := sides(e)
		verdict := ""
		if open && !e.Closed() {
			verdict = "not equal"
		}
		t.Rows = append(t.Rows, []Inline{plain(e.Law.String()), plain(left), plain(right), plain(verdict)})
		if e.Law == balance.Charge {
			charge = e
		}
	}
	if !open {
		t.Head, t.Right = t.Head[:3], t.Right[:3]
		for i := range t.Rows {
			t.Rows[i] = t.Rows[i][:3]
		}
	}
	d.add(t)
	if charge.Closed() && charge.Left.Sign() != 0 {
		d.add(Paragraph{plain(fmt.Sprintf("The charge is %s on each side: not zero, but equal.", minus(charge.Left.Signed())))})
	}
}

// sides writes what each side holds: atoms plainly, charge with its sign.
func sides(e balance.Entry) (left, right string) {
	if e.Law == balance.Charge {
		return minus(e.Left.Signed()), minus(e.Right.Signed())
	}
	return e.Left.String(), e.Right.String()
}
