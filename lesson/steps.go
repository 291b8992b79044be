package lesson

import (
	"slices"

	"halves/balance"
	"halves/chem"
	"halves/redox"
	"halves/speech"
)

// step says one step that changes something, or, in full, one that does not.
func (t *talk) step(i int) {
	st := t.Steps[i]
	if !st.Done && st.Rule != redox.Equalize {
		t.nothing([]redox.Step{st})
		return
	}
	switch st.Rule {
	case redox.WriteIons:
		t.writeIons(st)
	case redox.LeaveOut:
		t.leaveOut(st)
	case redox.Split:
		t.split(st)
	case redox.OtherAtoms, redox.OtherNumbers:
		t.otherAtoms(st)
	case redox.Oxygen:
		t.oxygen(st)
	case redox.Hydrogen:
		t.hydrogen(st)
	case redox.ChargeRule:
		t.charge(st)
	case redox.Equalize:
		t.equalize(st)
	case redox.Add:
		t.add(st)
	case redox.Cancel:
		t.cancel(st)
	case redox.Neutralize:
		t.neutralize(st)
	case redox.FormWater:
		t.formWater(st)
	case redox.LowestNumbers, redox.MultiplyNet:
		t.scale(st)
	case redox.RestoreOthers, redox.RestoreSpectators, redox.JoinIons:
		t.restore(st)
	case redox.ChangesOfState:
		t.changesOfState(st)
	case redox.EqualChanges:
		t.equalChanges(st)
	case redox.ChargeByIons:
		t.chargeByIons(st)
	case redox.NameUnknowns:
		t.nameUnknowns(st)
	case redox.Conserve:
		t.conserve(i)
	case redox.AskHalves:
		t.say("atoms and charge alone leave the ratio open, so we look at the halves as well")
		t.full(t.reason(st))
		t.say("that gives us: " + speech.Runs(st.Written))
	case redox.ChooseOne:
		t.full("all the equations together fix the ratios only, and so a single number is ours to choose")
		t.say("we let " + speech.Runs(st.Written[:len(st.Written)-1]) + " be one")
	case redox.SolveFor:
		t.solveFor(st)
	case redox.ClearUnits:
		t.clearUnits(st)
	case redox.PutNumbers:
		t.say("each number goes in the place of its letter")
		t.reads(st.After)
	case redox.Check:
		t.check(st)
	default:
		t.say(t.reason(st))
		if len(st.After.Left)+len(st.After.Right) > 0 {
			t.reads(st.After)
		} else if st.Written != nil {
			t.say(speech.Runs(st.Written))
		}
	}
}

// nothing says that there is nothing to do, for one step or several in a row.
func (t *talk) nothing(steps []redox.Step) {
	if len(steps) == 1 {
		t.say(t.idle(steps[0]))
		return
	}
	var what []string
	for _, st := range steps {
		if w := t.idleFor(st); w == "" {
			what = nil
			break
		} else if !slices.Contains(what, w) {
			what = append(what, w)
		}
	}
	if what != nil {
		t.say(t.turn("idle together", "there is nothing to do for ", "again there is nothing to do for ") + listed(what))
		return
	}
	for _, st := range steps {
		t.say(t.idle(st))
	}
}

// idleFor names what a step that does nothing would have made equal, "" where
// it is not about that.
func (t *talk) idleFor(st redox.Step) string {
	switch st.Rule {
	case redox.OtherAtoms:
		if all := others(ledger(st.After)); len(all) > 0 {
			return t.laws(all)
		}
		return "other atoms"
	case redox.Oxygen:
		return t.element(chem.O)
	case redox.Hydrogen:
		return t.element(chem.H)
	case redox.ChargeByIons:
		return "the charge"
	}
	return ""
}

// idle says in a sentence why a step does nothing.
func (t *talk) idle(st redox.Step) string {
	led := ledger(st.After)
	switch st.Rule {
	case redox.Equalize:
		if st.Half >= 0 && st.Half < len(t.Halves) {
			return "the " + t.half(st.Half) + " stays as it is, with " + t.electrons(chem.Whole(t.Halves[st.Half].Electrons))
		}
	case redox.OtherAtoms:
		all := others(led)
		if len(all) == 0 {
			return "apart from oxygen and hydrogen there are no atoms here to balance"
		}
		parts := make([]string, len(all))
		for i, e := range all {
			parts[i] = t.law(e.Law) + " is " + each(e)
		}
		if len(all) == 1 {
			return t.turn("idle", "nothing to do for ", "nothing to add for ", "we are done already with ") + t.law(all[0].Law) + ": " + each(all[0])
		}
		return "nothing to do for the other atoms: " + listed(parts)
	case redox.Oxygen, redox.Hydrogen:
		element := chem.O
		if st.Rule == redox.Hydrogen {
			element = chem.H
		}
		e := entry(led, balance.Law{Element: element})
		switch {
		case e.Left.Sign() == 0 && e.Right.Sign() == 0:
			return t.turn("none", "there is no "+t.element(element)+" in this line", "no "+t.element(element)+" here, so we go on", "we see no "+t.element(element)+" on either side")
		case e.Closed():
			return t.turn("idle", "nothing to do for ", "nothing to add for ", "we are done already with ") + t.element(element) + ": " + each(e)
		}
	case redox.ChargeByIons:
		if e := entry(led, balance.Charge); e.Closed() {
			return "nothing to do for the charge: it is " + each(e)
		}
	case redox.Cancel:
		return t.turn("apart", "nothing stands on both sides, so nothing cancels", "on this line nothing cancels either")
	case redox.Neutralize:
		return t.turn("no hydrogen", "there are no hydrogen ions left, so there is nothing to neutralize", "here too no hydrogen ions are left to neutralize")
	case redox.LowestNumbers:
		return "the numbers have no common factor, so they stay as they are"
	case redox.LeaveOut:
		return "every ion takes part, so nothing is left out"
	case redox.RestoreSpectators:
		return "no ion was left out before, so none has to come back"
	case redox.ClearUnits:
		return "every number is whole already"
	case redox.OtherNumbers:
		return "every number is settled already"
	}
	return t.reason(st)
}

// others are the entries that are neither oxygen, hydrogen nor charge.
func others(l balance.Ledger) []balance.Entry {
	var out []balance.Entry
	for _, e := range l {
		if e.Law != balance.Charge && e.Law.Element != chem.O && e.Law.Element != chem.H {
			out = append(out, e)
		}
	}
	return out
}

// closed returns the entries that the step made equal.
func closed(st redox.Step) []balance.Entry {
	after := ledger(st.After)
	var out []balance.Entry
	for _, e := range ledger(st.Before) {
		if !e.Closed() && entry(after, e.Law).Closed() {
			out = append(out, e)
		}
	}
	return out
}

// nowEqual says of entries what both sides hold now.
func (t *talk) nowEqual(all []balance.Entry, after balance.Ledger) {
	for _, e := range all {
		e = entry(after, e.Law)
		if e.Law == balance.Charge {
			t.full("now the charge is " + each(e))
			continue
		}
		name := t.element(e.Law.Element)
		atoms := speech.Ratio(e.Left) + " " + name + " atom"
		if !e.Left.Equal(chem.Whole(1)) {
			atoms += "s"
		}
		t.full(t.turn("equal", "that makes "+atoms+" on each side", "with that, "+name+" is "+each(e), name+" is done: "+each(e)))
	}
}

// stillOpen says what a half lacks yet.
func (t *talk) stillOpen(l balance.Ledger) {
	var open []balance.Entry
	for _, e := range l {
		if !e.Closed() {
			open = append(open, e)
		}
	}
	if len(open) == 0 {
		return
	}
	is := "are"
	if len(open) == 1 {
		is = "is"
	}
	t.full(t.turn("open", t.laws(open)+" "+is+" not equal yet", t.laws(open)+" "+is+" still to do"))
}

// inFront says the new numbers: "so a two goes in front of carbon dioxide".
func (t *talk) inFront(all []move) string {
	var parts []string
	for _, m := range all {
		if m.is.Sign() > 0 {
			parts = append(parts, article(speech.Ratio(m.is))+" in front of "+speech.Substance(m.species, t.names()))
		}
	}
	if len(parts) == 0 {
		return ""
	}
	return t.turn("front", "so we put ", "so we write ", "that takes ") + listed(parts)
}
