package lesson

import (
	"slices"

	"halves/chem"
	"halves/redox"
	"halves/speech"
)

// open says what is given, in which medium, and what changes.
func (t *talk) open() {
	t.say(t.given())
	t.full(t.medium())
	t.notes(redox.NoteAcid)
	if !t.Redox() {
		t.say("No oxidation state changes here, so this is not a redox reaction", "We only have to count atoms and charge")
		return
	}
	byStates := slices.ContainsFunc(t.Steps, func(st redox.Step) bool { return st.Rule == redox.ChangesOfState })
	if !byStates { // there the changes are the first steps
		for _, c := range t.Changes {
			t.say(t.change(c))
		}
		t.sameElement()
	}
	if len(t.Changes) == 0 {
		t.say("The rules leave the oxidation states open here, and balancing does not need them")
	}
	switch {
	case t.brief:
	case byStates:
		t.say("We follow the oxidation states, because all that is lost must be gained")
	case slices.ContainsFunc(t.Steps, func(st redox.Step) bool { return st.Rule == redox.NameUnknowns }):
		t.say("We let algebra do the work, with an equation for each element and for the charge")
	default:
		if slices.ContainsFunc(t.Steps, func(st redox.Step) bool { return st.Rule == redox.WriteIons }) {
			t.say("What is dissolved as ions we write as ions, and we put the formulas together again at the end")
		}
		t.say("So we write " + speech.Number(int64(len(t.Halves))) + " half-reactions, balance each by itself, and add them")
		if slices.ContainsFunc(t.Steps, func(st redox.Step) bool { return st.Rule == redox.Neutralize && st.Half < 0 && st.Done }) {
			t.say("We work with hydrogen ions first, and turn to hydroxide ions at the end")
		}
	}
}

// given says what is there before and after.
func (t *talk) given() string {
	left, right := speciesOf(t.Skeleton.Left), speciesOf(t.Skeleton.Right)
	s := "from " + t.substances(left) + " we get " + t.substances(right)
	if t.brief {
		s += mediumPhrase(t.Medium)
	}
	return s
}

func speciesOf(terms []chem.Term) []*chem.Species {
	out := make([]*chem.Species, len(terms))
	for i, x := range terms {
		out[i] = x.Species
	}
	return out
}

// medium says what may be added.
func (t *talk) medium() string {
	hydrogen := chem.Hydron
	if t.Conventions.Hydronium {
		hydrogen = chem.Hydronium
	}
	switch t.Medium {
	case redox.Acidic:
		return "the solution is acidic, so water and " + speech.Substance(hydrogen, t.names()) + " are there for us to use"
	case redox.Basic:
		return "the solution is basic, so water and hydroxide ions are there for us to use"
	case redox.Neutral:
		return "the solution is neutral, so water is there for us to use. Hydrogen or hydroxide ions may form, but there are none to use up"
	}
	return "nothing is added: whatever reacts and whatever forms is named already"
}

// change says what an element does: "manganese goes from plus seven in
// permanganate ions to plus two in manganese two ions, so each atom gains five
// electrons and is reduced".
func (t *talk) change(c redox.Change) string {
	mean := !c.From.IsWhole() || !c.To.IsWhole()
	s := t.element(c.Element) + " goes from "
	if mean {
		s = t.element(c.Element) + " goes on average from "
	}
	s += t.state(c.From)
	if len(c.Reactants) > 0 {
		s += " in " + t.within(c, c.Reactants)
	}
	s += " to " + t.state(c.To)
	if len(c.Products) > 0 {
		s += " in " + t.within(c, c.Products)
	}
	n, does, is := c.Electrons(), "loses", "oxidized"
	if n.Sign() < 0 {
		n, does, is = n.Neg(), "gains", "reduced"
	}
	switch {
	case t.brief:
		return s + ", so it is " + is
	case mean:
		return s + ", so it " + does + " electrons and is " + is
	}
	return s + t.turn("atom", ": each atom ", ", so every atom ") + does + " " + t.electrons(n) + " and is " + is
}

// within says where an element changes: one that has the same name as its
// substance is not said twice.
func (t *talk) within(c redox.Change, all []*chem.Species) string {
	if s := t.substances(all); s != t.element(c.Element) {
		return s
	}
	return "the element"
}

// state says an oxidation state as the class writes it.
func (t *talk) state(r chem.Ratio) string {
	if t.Conventions.Roman && r.IsWhole() {
		return speech.Ratio(r)
	}
	return speech.Signed(r)
}

// electrons says a number of them.
func (t *talk) electrons(n chem.Ratio) string {
	if n.Equal(chem.Whole(1)) {
		return "one electron"
	}
	return speech.Ratio(n) + " electrons"
}

// sameElement remarks on an element that goes both ways.
func (t *talk) sameElement() {
	for i, a := range t.Changes {
		for _, b := range t.Changes[:i] {
			if a.Element != b.Element || a.Electrons().Sign() == b.Electrons().Sign() {
				continue
			}
			switch {
			case a.From.Equal(b.From):
				t.say("the same element goes up and down, and that is called a disproportionation")
			case a.To.Equal(b.To):
				t.say("the same element comes from above and from below to the same state, and that is called a comproportionation")
			}
			return
		}
	}
}

// close says who did what, and repeats the answer.
func (t *talk) close() {
	t.say("so the answer is: " + t.equation(t.Equation))
	if !t.Redox() {
		return
	}
	var both, oxidized, reduced []*chem.Species
	for _, x := range t.Oxidized {
		if slices.ContainsFunc(t.Reduced, x.Same) {
			both = append(both, x)
		} else {
			oxidized = append(oxidized, x)
		}
	}
	for _, x := range t.Reduced {
		if !slices.ContainsFunc(t.Oxidized, x.Same) {
			reduced = append(reduced, x)
		}
	}
	agents := func(all []*chem.Species, is, agent string) {
		if len(all) > 0 {
			t.say(t.substances(all) + " " + t.are(all) + " " + is + ", so " + t.pronoun(all) + " the " + agent)
		}
	}
	agents(oxidized, "oxidized", "reducing agent")
	agents(reduced, "reduced", "oxidizing agent")
	agents(both, "both oxidized and reduced", "reducing agent and the oxidizing agent at once")
	if t.Solution.Electrons != nil {
		verb := " are transferred"
		if *t.Solution.Electrons == 1 {
			verb = " is transferred"
		}
		t.say("in this equation " + t.electrons(chem.Whole(*t.Solution.Electrons)) + verb)
	}
	t.notes(redox.NoteSpectators, redox.NotePH)
}

// notes says the remarks of some kinds.
func (t *talk) notes(kinds ...redox.NoteKind) {
	for _, n := range t.Notes {
		if slices.Contains(kinds, n.Kind) {
			t.full(t.prose(n.Text))
		}
	}
}

// pronoun begins "it is", "they are together".
func (t *talk) pronoun(all []*chem.Species) string {
	switch {
	case len(all) > 1:
		return "together they are"
	case t.are(all) == "is":
		return "it is"
	}
	return "they are"
}
