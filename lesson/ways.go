package lesson

import (
	"strings"

	"halves/balance"
	"halves/chem"
	"halves/redox"
	"halves/speech"
)

// writeIons shows which ions there are.
func (t *talk) writeIons(st redox.Step) {
	t.say("strong acids, strong bases and soluble salts are ions in water, so that is how we write them")
	t.full("on the left we have "+t.substances(speciesOf(st.After.Left)),
		"on the right we have "+t.substances(speciesOf(st.After.Right)),
		"we do not ask yet how many of each")
}

// leaveOut drops the spectators.
func (t *talk) leaveOut(st redox.Step) {
	var gone, partly []*chem.Species
	for _, x := range st.Before.Left {
		if !stands(x.Species, st.Before.Right) {
			continue
		}
		switch left, right := stands(x.Species, st.After.Left), stands(x.Species, st.After.Right); {
		case !left && !right:
			gone = append(gone, x.Species)
		case left != right:
			partly = append(partly, x.Species)
		}
	}
	if len(gone) > 0 {
		t.say(t.substances(gone) + " " + t.stand(gone) + " on both sides alike and " + t.are(gone) + " left out as spectators")
	}
	if len(partly) > 0 {
		t.say("of the " + t.substances(partly) + " we keep only the part that takes part")
	}
	if len(gone)+len(partly) == 0 {
		t.say("we keep only what takes part")
	}
	t.full("what is left is: " + t.skeleton(st.After))
}

// stand is the verb for what substances names.
func (t *talk) stand(all []*chem.Species) string {
	if t.are(all) == "is" {
		return "stands"
	}
	return "stand"
}

func stands(s *chem.Species, terms []chem.Term) bool {
	for _, x := range terms {
		if x.Species.Same(s) {
			return true
		}
	}
	return false
}

// restore brings back what took no part.
func (t *talk) restore(st redox.Step) {
	switch st.Rule {
	case redox.RestoreSpectators:
		t.say("now the spectators come back, the same number on each side")
		var parts []string
		for _, m := range moves(st.Before, st.After) {
			if m.side == "left" && m.difference.Sign() > 0 && m.difference.IsWhole() {
				parts = append(parts, t.count(m.difference.Num(), m.species))
			}
		}
		if len(parts) > 0 {
			t.full("to each side we add " + listed(parts))
		}
	case redox.JoinIons:
		t.say("now we join the ions into the formulas of the question")
	default:
		t.say("what takes part without a change of oxidation state comes back now")
	}
	t.full(t.line(st.After)...)
}

// changesOfState says what the elements of a half do.
func (t *talk) changesOfState(st redox.Step) {
	if st.Half >= 0 && st.Half < len(t.Halves) {
		h := t.Halves[st.Half]
		for _, c := range h.Changes {
			t.say(t.change(c))
		}
		if len(h.Changes) > 0 {
			if st.Half == len(t.Halves)-1 {
				t.sameElement()
			}
			return
		}
	}
	t.say(t.reason(st))
}

// equalChanges makes loss and gain equal.
func (t *talk) equalChanges(st redox.Step) {
	t.full("loss and gain must be equal, and that fixes the first numbers")
	t.say(t.reason(st))
	if st.Done {
		t.full(t.line(st.After)...)
	}
}

// chargeByIons balances the charge with hydrogen or hydroxide ions.
func (t *talk) chargeByIons(st redox.Step) {
	t.full(t.sides(entry(ledger(st.Before), balance.Charge)))
	ion := chem.Hydron
	for _, m := range moves(st.Before, st.After) {
		if m.species.Same(chem.Hydroxide) || m.species.Same(chem.Hydronium) {
			ion = m.species
			break
		}
	}
	why := []string{"they are in the solution, and they carry charge"}
	t.addTo(st, ion, why, balance.Charge)
}

// nameUnknowns gives each species its letter.
func (t *talk) nameUnknowns(st redox.Step) {
	t.say("we do not know the numbers yet, so each gets a letter")
	if names := unknowns(st.Written); len(names) == len(t.Equation.Species()) && !t.brief {
		parts := make([]string, len(names))
		for i, s := range t.Equation.Species() {
			parts[i] = names[i] + " for " + speech.Substance(s, t.names())
		}
		t.say("we take " + listed(parts))
	}
}

// unknowns says the unknowns of a line in order.
func unknowns(runs []chem.Run) []string {
	var out []string
	for i, r := range runs {
		if r.Level != chem.Variable {
			continue
		}
		one := runs[i : i+1]
		if i+1 < len(runs) && runs[i+1].Level == chem.Subscript {
			one = runs[i : i+2]
		}
		out = append(out, speech.Runs(one))
	}
	return out
}

// conserve says the equation of one law. The steps follow the laws of the
// ledger, those that bind nothing left out.
func (t *talk) conserve(i int) {
	k := 0
	for _, st := range t.Steps[:i] {
		if st.Rule == redox.Conserve {
			k++
		}
	}
	line := speech.Runs(t.Steps[i].Written)
	for _, e := range t.Ledger {
		if e.Law == balance.Charge && !charged(t.Equation) {
			continue
		}
		if k > 0 {
			k--
			continue
		}
		name := t.law(e.Law)
		if t.turns["conserve"] == 0 {
			t.full("the count of each element must be the same on both sides, and so must the charge")
		}
		if e.Law == balance.Charge {
			t.say("and the charge gives us: " + line)
			return
		}
		t.say(t.turn("conserve", "we count "+name+": ", "for "+name+" we get: ", name+" gives us: ", "from "+name+" we have: ") + line)
		return
	}
	t.say(t.reason(t.Steps[i]), line)
}

// solveFor finds one more unknown.
func (t *talk) solveFor(st redox.Step) {
	if why := t.reason(st); !t.brief && strings.HasPrefix(why, "from ") {
		t.say(t.turn("solve", "", "then ", "next, ") + strings.Replace(why, " charge", " the charge", 1))
	}
	t.say(t.turn("so", "so ", "that gives ", "this means ") + speech.Runs(st.Written))
}

// clearUnits makes the numbers whole.
func (t *talk) clearUnits(st redox.Step) {
	t.say("we "+strings.Replace(t.reason(st), "all times ", "multiply all of them by ", 1), "then "+speech.Runs(st.Written))
}
