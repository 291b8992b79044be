package lesson

import (
	"halves/balance"
	"halves/chem"
	"halves/redox"
	"halves/speech"
)

// equalize takes a half a number of times, or as it is.
func (t *talk) equalize(st redox.Step) {
	if st.Half < 0 || st.Half >= len(t.Halves) {
		t.say(t.reason(st))
		return
	}
	first := t.turns["equalize"] == 0
	t.turns["equalize"]++
	lost, gained := int64(0), int64(0)
	for _, h := range t.Halves {
		n := h.Electrons * h.Multiplier
		if h.Role == redox.Oxidation {
			lost += n
		} else {
			gained += n
		}
	}
	h := t.Halves[st.Half]
	electrons := t.electrons(chem.Whole(h.Electrons))
	if first && lost == gained {
		switch {
		case len(t.Halves) == 2 && lost == t.Halves[0].Electrons && gained == t.Halves[1].Electrons:
			t.full("the oxidation loses " + electrons + " and the reduction gains as many, so they fit as they are")
		case len(t.Halves) == 2:
			t.full("now the electrons, because what is lost must be gained",
				"the oxidation loses "+t.electrons(chem.Whole(t.Halves[0].Electrons))+" and the reduction gains "+speech.Number(t.Halves[1].Electrons)+", so both have to come to "+speech.Number(lost))
		default:
			t.full("now the electrons, because what is lost must be gained", "over all halves that is "+t.electrons(chem.Whole(lost)))
		}
	}
	name := "the " + t.half(st.Half)
	if !st.Done {
		t.say(t.idle(st))
		return
	}
	s := t.turn("times", "we take ", "and we take ") + name + " " + times(h.Multiplier)
	if t.brief {
		s += ", for " + t.electrons(chem.Whole(h.Electrons*h.Multiplier))
	}
	t.say(s)
	t.full(t.line(st.After)...)
}

// times says how often.
func times(n int64) string {
	switch n {
	case 1:
		return "once"
	case 2:
		return "twice"
	}
	return speech.Number(n) + " times"
}

// add puts the halves together.
func (t *talk) add(st redox.Step) {
	t.say(t.turn("sum", "now we add the halves, left side to left side and right side to right side"))
	if n := t.dropped(st); n > 0 {
		them := "them"
		if n == 1 {
			them = "it"
		}
		t.say(t.count(n, chem.Water) + " would stand on each side, so we leave " + them + " out right away")
	}
	t.full(t.line(st.After)...)
	left, right := int64(0), int64(0)
	for side, x := range st.After.Terms {
		if x.Species.IsElectron() {
			if side < 0 {
				left += x.Coefficient.Num()
			} else {
				right += x.Coefficient.Num()
			}
		}
	}
	if left == right && left > 0 {
		there := "there are "
		if left == 1 {
			there = "there is "
		}
		t.full(there + t.electrons(chem.Whole(left)) + " on each side, as there must be")
	}
}

// dropped counts the water that a sum has less, on each side, than the halves:
// where hydronium ions bring it along it is not written on both sides.
func (t *talk) dropped(sum redox.Step) int64 {
	water := func(terms []chem.Term) int64 {
		n := int64(0)
		for _, x := range terms {
			if x.Species.Same(chem.Water) {
				n += x.Coefficient.Num()
			}
		}
		return n
	}
	left, right := -water(sum.After.Left), -water(sum.After.Right)
	for _, st := range t.Steps {
		if st.Rule == redox.Equalize {
			left += water(st.After.Left)
			right += water(st.After.Right)
		}
	}
	if left != right {
		return 0
	}
	return left
}

// cancel takes away what stands on both sides.
func (t *talk) cancel(st redox.Step) {
	var gone []string
	all := moves(st.Before, st.After)
	even := true
	for _, m := range all {
		paired := false
		for _, o := range all {
			if o.side != m.side && o.species.Same(m.species) {
				paired = o.difference.Equal(m.difference)
			}
		}
		if !paired || m.difference.Sign() > 0 || !m.difference.IsWhole() {
			even = false
		}
		if m.side == "left" {
			gone = append(gone, t.count(-m.difference.Num(), m.species))
		}
	}
	if !even || len(gone) == 0 {
		t.say(t.reason(st))
	} else {
		t.say(t.turn("cancel", "from each side we take away ", "this time we take away from each side ") + listed(gone))
		t.full(t.turn("why cancel", "what stands on both sides is not used up", "again, what stands on both sides is not used up"))
	}
	t.full(t.line(st.After)...)
}

// neutralize adds hydroxide ions to both sides.
func (t *talk) neutralize(st redox.Step) {
	ion := chem.Hydron
	if t.Conventions.Hydronium {
		ion = chem.Hydronium
	}
	for _, e := range moves(st.Before, st.After) {
		if !e.species.Same(chem.Hydroxide) || e.side != "left" {
			continue
		}
		t.full(t.turn("base", t.whyNeutralize()+", so the "+speech.Substance(ion, t.names())+" cannot stay", "here too the "+speech.Substance(ion, t.names())+" cannot stay"))
		s := "we add " + t.count(e.difference.Num(), chem.Hydroxide) + " on each side"
		if t.brief {
			s += ", as many as there are " + speech.Substance(ion, t.names())
		}
		t.say(s)
		t.full(t.turn("same on both", "that is as many as there are "+speech.Substance(ion, t.names())+", and adding the same on both sides changes nothing", "it is the same number as that of the "+speech.Substance(ion, t.names())))
		t.full(t.line(st.After)...)
		return
	}
	t.say(t.reason(st))
	t.full(t.line(st.After)...)
}

// whyNeutralize says why hydrogen ions have no place.
func (t *talk) whyNeutralize() string {
	switch t.Medium {
	case redox.Basic:
		return "we are in base"
	case redox.Neutral:
		return "a neutral solution has no acid to give"
	}
	return "this equation has hydroxide ions"
}

// formWater lets hydrogen and hydroxide ions of one side be water.
func (t *talk) formWater(st redox.Step) {
	ion, side, n := chem.Hydron, "", int64(0)
	for _, m := range moves(st.Before, st.After) {
		if m.species.Same(chem.Hydronium) {
			ion = chem.Hydronium
		}
		if m.species.Same(ion) {
			side, n = m.side, -m.difference.Num()
		}
	}
	if n <= 0 {
		t.say(t.reason(st))
	} else {
		t.say("on the " + side + ", " + t.count(n, ion) + " and " + t.count(n, chem.Hydroxide) + " make water")
	}
	t.full(t.line(st.After)...)
}

// scale divides or multiplies every coefficient.
func (t *talk) scale(st redox.Step) {
	if len(st.Before.Left) > 0 && len(st.After.Left) > 0 && st.Before.Left[0].Species.Same(st.After.Left[0].Species) {
		r := st.Before.Left[0].Coefficient.Quo(st.After.Left[0].Coefficient)
		one := chem.Whole(1)
		switch {
		case r.IsWhole() && r.Cmp(one) > 0:
			t.say("every number can be divided by " + speech.Ratio(r))
			t.full(t.line(st.After)...)
			return
		case one.Quo(r).IsWhole() && r.Cmp(one) < 0:
			t.say("the formulas need whole ions, so we take everything " + times(one.Quo(r).Num()))
			t.full(t.line(st.After)...)
			return
		}
	}
	t.say(t.reason(st))
	t.full(t.line(st.After)...)
}

// check counts the last line.
func (t *talk) check(st redox.Step) {
	led := ledger(st.After)
	if t.brief {
		var parts []string
		for _, e := range led {
			if e.Law != balance.Charge {
				parts = append(parts, speech.Ratio(e.Left)+" "+t.element(e.Law.Element))
			}
		}
		t.say("the check: on each side we have " + listed(parts))
	} else {
		t.say("now the check, on the last line")
		for _, e := range led {
			if e.Law != balance.Charge {
				t.say(t.element(e.Law.Element) + ": " + each(e))
			}
		}
	}
	e := entry(led, balance.Charge)
	if !e.Closed() {
		return
	}
	switch {
	case e.Left.Sign() != 0:
		t.say("the charge is " + each(e) + ": not zero, but equal")
	case charged(st.After):
		t.say("the charge adds up to zero on each side")
	default:
		t.say("there is no charge on either side")
	}
}

// charged reports whether a line has ions.
func charged(e chem.Equation) bool {
	for _, s := range e.Species() {
		if s.Charge() != 0 {
			return true
		}
	}
	return false
}
