package lesson

import (
	"slices"
	"strings"

	"halves/balance"
	"halves/chem"
	"halves/redox"
	"halves/speech"
)

// split begins a half.
func (t *talk) split(st redox.Step) {
	name := "the " + t.half(st.Half)
	switch {
	case st.Half == 0 || st.Half >= len(t.Halves):
		name = "we begin with " + name
	default:
		name = "now " + name
	}
	line := t.skeleton(st.After)
	if t.brief {
		t.say(name + ": " + line)
		return
	}
	t.say(name, t.turn("skeleton", "we write down only what takes part: ", "again only what takes part: ")+line)
	if st.Half < 0 || st.Half >= len(t.Halves) {
		return
	}
	h := t.Halves[st.Half]
	if len(h.Changes) == 0 {
		t.say("these share an element, so they belong together")
		return
	}
	var parts []string
	for _, c := range h.Changes {
		parts = append(parts, t.element(c.Element)+" goes from "+t.state(c.From)+" to "+t.state(c.To))
	}
	does := "loses"
	if h.Role == redox.Reduction {
		does = "gains"
	}
	t.say(t.turn("half does", "here ", "in this half ") + listed(parts) + ", so it " + does + " electrons")
}

// otherAtoms balances what is neither oxygen nor hydrogen, or, by oxidation
// states, one species after another.
func (t *talk) otherAtoms(st redox.Step) {
	made, changed := closed(st), moves(st.Before, st.After)
	if st.Rule == redox.OtherAtoms && st.Half >= 0 {
		kept := made[:0]
		for _, e := range made {
			if others(balance.Ledger{e}) != nil {
				kept = append(kept, e)
			}
		}
		made = kept
	}
	if len(made) > 0 && len(made) <= 2 {
		for _, e := range made {
			t.full(t.sides(e))
		}
	} else if len(made) > 2 {
		t.full("we count " + t.laws(made))
	}
	if len(made) == 0 {
		t.full(t.reason(st))
	}
	front := t.inFront(changed)
	if t.brief && len(made) > 0 && front != "" {
		front = "for " + t.laws(made) + " " + strings.TrimPrefix(front, "so ")
	}
	t.say(front)
	t.full(t.line(st.After)...)
	if len(made) <= 2 {
		t.nowEqual(made, ledger(st.After))
	}
}

// line reads a line out, as sentences for the full length.
func (t *talk) line(e chem.Equation) []string {
	if t.brief {
		return nil
	}
	saved := t.said
	t.said = nil
	t.reads(e)
	out := t.said
	t.said = saved
	return out
}

// oxygen adds water.
func (t *talk) oxygen(st redox.Step) {
	law := balance.Law{Element: chem.O}
	before := ledger(st.Before)
	if entry(before, law).Closed() { // counted by hydrogen
		law.Element = chem.H
	}
	t.full(t.sides(entry(before, law)))
	t.addTo(st, chem.Water, []string{"we are in water, so water is always there to use", "again, the solution has water enough", "the water is there, as before"}, law)
}

// addTo says what is put on a side to make a law equal, and reads the line.
func (t *talk) addTo(st redox.Step, s *chem.Species, why []string, law balance.Law) {
	said := false
	for _, m := range moves(st.Before, st.After) {
		if !m.species.Same(s) {
			continue
		}
		said = true
		what := t.count(m.is.Num(), s) + " on the " + m.side
		switch {
		case m.is.Sign() == 0:
			t.say("the " + speech.Substance(s, t.names()) + " on the " + m.side + " goes away")
		case t.brief && m.was.Sign() == 0:
			t.say(t.turn("add for", "for "+t.law(law)+" we add "+what, t.law(law)+" needs "+what, "to make "+t.law(law)+" equal, we add "+what))
		case m.was.Sign() == 0:
			t.say(t.turn("add", "so we add ", "so we put ", "that needs ")+what, t.turn("why "+s.Key(), why...))
		default:
			t.say("so we need " + what)
		}
	}
	if !said {
		t.say(t.reason(st))
	}
	t.full(t.line(st.After)...)
	led := ledger(st.After)
	if e := entry(led, law); e.Closed() {
		t.nowEqual([]balance.Entry{e}, led)
	}
	if st.Half >= 0 {
		t.stillOpen(led)
	}
}

// hydrogen adds hydrogen ions, or hydronium ions with their water.
func (t *talk) hydrogen(st redox.Step) {
	law := balance.Law{Element: chem.H}
	t.full(t.sides(entry(ledger(st.Before), law)))
	if !t.Conventions.Hydronium {
		t.addTo(st, chem.Hydron, []string{"they bring hydrogen and no other atoms", "no other atoms come with them", "again, no other atoms come along"}, law)
		return
	}
	said, meets := false, false
	for _, m := range moves(st.Before, st.After) {
		if !m.species.Same(chem.Hydronium) || m.is.Sign() == 0 {
			continue
		}
		said = true
		other := "right"
		if m.side == other {
			other = "left"
		}
		what := t.count(m.is.Num(), chem.Hydronium) + " on the " + m.side
		if t.brief {
			t.say("for " + t.law(law) + " we add " + what + ", and as many water molecules on the " + other)
		} else {
			t.say(t.turn("hydronium", "so we add ", "that needs ") + what)
		}
		meets = slices.ContainsFunc(moves(st.Before, st.After), func(w move) bool {
			return w.species.Same(chem.Water) && (w.side != other || !w.difference.Equal(m.is))
		})
		t.full(t.turn("own water", "each of them brings a water molecule of its own, so as many water molecules go to the "+other, "as before, for each of them a water molecule goes to the "+other))
	}
	if !said {
		t.say(t.reason(st))
	} else if meets {
		t.full("the water that would stand on both sides we leave out right away")
	}
	t.full(t.line(st.After)...)
	led := ledger(st.After)
	if e := entry(led, law); e.Closed() {
		t.nowEqual([]balance.Entry{e}, led)
	}
	t.stillOpen(led)
}

// charge adds electrons.
func (t *talk) charge(st redox.Step) {
	e := entry(ledger(st.Before), balance.Charge)
	t.full(t.sides(e))
	for _, m := range moves(st.Before, st.After) {
		if !m.species.IsElectron() {
			continue
		}
		what := t.count(m.is.Num(), chem.Electron) + " on the " + m.side
		if t.brief {
			t.say(t.turn("electrons", "for the charge we add "+what, "the charge needs "+what))
			continue
		}
		t.say(t.turn("electrons", "electrons are negative, so we add ", "so we add ", "that takes ") + what)
		stand, are := "they stand", "they are"
		if m.is.Equal(chem.Whole(1)) {
			stand, are = "it stands", "it is"
		}
		if m.side == "left" {
			t.full(t.turn("gained", stand+" on the left because "+are+" gained", "again "+stand+" on the left, as in every reduction"))
		} else {
			t.full(t.turn("lost", stand+" on the right because "+are+" lost", "again "+stand+" on the right, as in every oxidation"))
		}
	}
	led := ledger(st.After)
	if now := entry(led, balance.Charge); now.Closed() {
		t.full(t.turn("charge equal", "now the charge is ", "that brings the charge to ") + each(now))
	}
	t.full(t.line(st.After)...)
	if led.Closed() {
		t.full(t.turn("half done", "this half is balanced", "with that this half is balanced too"))
	}
}
