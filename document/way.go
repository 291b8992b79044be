package document

import (
	"slices"

	"halves/chem"
	"halves/names"
	"halves/redox"
)

// wayTaken says by which method the lines were worked and in which conventions
// they are written, so far as these differ from the default and show in the
// lines: "By oxidation states. H3O^+ stands for H^+." It is nil where nothing
// does.
func wayTaken(steps []redox.Step, answer chem.Equation, c redox.Conventions) Inline {
	var out Inline
	say := func(text Inline) {
		if out != nil {
			out = append(out, Span{Prose: " "})
		}
		out = Join(out, text)
	}
	took := func(rules ...redox.Rule) bool {
		return slices.ContainsFunc(steps, func(st redox.Step) bool { return slices.Contains(rules, st.Rule) })
	}
	holds := func(x *chem.Species) bool {
		in := func(e chem.Equation) bool { return slices.ContainsFunc(e.Species(), x.Same) }
		return in(answer) || slices.ContainsFunc(steps, func(st redox.Step) bool { return in(st.After) })
	}
	// The steps tell the method, not the wish: where nothing is redox there is
	// but one.
	switch {
	case took(redox.NameUnknowns):
		say(Plain("By algebra: an equation for each element and for the charge."))
	case took(redox.ChangesOfState):
		say(Plain("By oxidation states."))
	}
	if c.Hydronium && holds(chem.Hydronium) {
		say(Join(formula(chem.Hydronium, c.Names), Plain(" stands for "), formula(chem.Hydron, c.Names), Plain(".")))
	}
	if c.BaseInHalves && holds(chem.Hydroxide) && took(redox.Split) {
		say(Plain("Hydroxide is added within each half."))
	}
	if c.Roman {
		say(Plain("Oxidation states are in Roman numerals."))
	}
	if c.Phases {
		say(Plain("The state of matter is marked where it is known."))
	}
	if c.Ones {
		say(Plain("The coefficient 1 is written."))
	}
	if c.Equals {
		say(Plain("An equals sign stands for the arrow where a line balances."))
	}
	switch c.Names.Style {
	case names.Traditional:
		say(Plain("Names are traditional."))
	case names.Stock:
		say(Plain("Names give the state of each central atom."))
	case names.Systematic:
		say(Plain("Names are systematic."))
	}
	if c.Names.Sulph {
		say(Plain("Sulphur is spelled with ph."))
	}
	return out
}
