package redox

import (
	"fmt"
	"slices"
	"strings"

	"halves/balance"
	"halves/chem"
)

// byHalves presents the way to target by half-reactions. molecular is the
// equation whose net ionic form target is, nil where target is the answer;
// flows and open are the changes of target. It is false, with nothing written, where the changes do not part into halves.
func (w *work) byHalves(target, molecular tally, flows []flow, open []chem.Element) bool {
	left, right := target.sides()
	var all []*component
	sc := scene{left: own(left), right: own(right), book: w.book, target: target}
	if len(open) > 0 {
		all = w.byElements(sc)
	} else {
		var ok bool
		if all, ok = solveAll(components(flows), sc); !ok {
			return false
		}
	}
	if len(all) < 2 {
		return false
	}
	times, scale, ok := multipliers(all, len(open) > 0)
	if !ok {
		return false
	}
	total := added(all, times)
	if total.get(chem.Electron) != 0 {
		return false
	}
	inOH := target.get(chem.Hydroxide) != 0 || w.Medium == Basic && target.get(chem.Hydron) == 0
	reached := total
	if inOH {
		reached = inBase(total)
	}
	// What the halves do not account for takes part without a change of state.
	rest := target.times(scale)
	if len(open) > 0 {
		rest = target.times(reached.factor())
	}
	for _, a := range reached {
		if target.get(a.species) == 0 && !isMedium(a.species) {
			return false
		}
		rest = rest.add(a.species, -a.n)
	}
	rest = rest.divided(1)
	if len(rest) > 0 && (len(open) > 0 || !w.quiet(rest)) {
		return false
	}
	w.write(all, times, total, inOH, target, molecular, scale)
	return true
}

// quiet reports whether a balanced remainder changes no oxidation state.
func (w *work) quiet(rest tally) bool {
	flows, open := flowsOf(rest, w.book)
	return len(flows) == 0 && len(open) == 0
}

// multipliers returns the whole number by which each half enters the sum, and
// how many times the target that sum is. The electrons of a half in the target
// are those of its flows.
func multipliers(all []*component, byCharge bool) ([]int64, int64, bool) {
	if byCharge {
		l, ok := chem.LCM(all[0].electrons, all[1].electrons)
		return []int64{l / all[0].electrons, l / all[1].electrons}, 1, ok
	}
	share := make([]chem.Ratio, len(all))
	den := int64(1)
	for i, c := range all {
		share[i] = c.moved().Quo(chem.Whole(c.electrons))
		var ok bool
		if den, ok = chem.LCM(den, share[i].Den()); !ok {
			return nil, 0, false
		}
	}
	times := make([]int64, len(all))
	g := int64(0)
	for i, s := range share {
		times[i] = s.Mul(chem.Whole(den)).Num()
		g = chem.GCD(g, times[i])
	}
	if g == 0 {
		return nil, 0, false
	}
	// Textbooks take the smallest numbers that make the electrons equal; the
	// sum is then target times den over g.
	scale := chem.NewRatio(den, g)
	for i := range times {
		times[i] /= g
	}
	if !scale.IsWhole() {
		for i := range times {
			times[i] = product(times[i], scale.Den())
		}
		return times, scale.Num(), true
	}
	return times, scale.Num(), true
}

// byElements parts a scene with open states into halves by the elements that
// its species share; the charge tells which is which.
func (w *work) byElements(sc scene) []*component {
	var groups []*component
	join := func(s *chem.Species, left bool) {
		c := &component{}
		if left {
			c.left = []*chem.Species{s}
		} else {
			c.right = []*chem.Species{s}
		}
		rest := groups[:0:0]
		for _, g := range groups {
			if shareElement(slices.Concat(g.left, g.right), s) {
				c.left, c.right = slices.Concat(g.left, c.left), slices.Concat(g.right, c.right)
			} else {
				rest = append(rest, g)
			}
		}
		groups = append(rest, c)
	}
	for _, s := range sc.left {
		join(s, true)
	}
	for _, s := range sc.right {
		join(s, false)
	}
	if len(groups) != 2 {
		return nil
	}
	for _, c := range groups {
		c.role = Oxidation
		if !c.solve(w.book) {
			c.role = Reduction
			if !c.solve(w.book) {
				return nil
			}
		}
	}
	if groups[0].role == groups[1].role {
		return nil
	}
	if groups[0].role == Reduction {
		groups[0], groups[1] = groups[1], groups[0]
	}
	return groups
}

func shareElement(species []*chem.Species, s *chem.Species) bool {
	for _, e := range elements([]*chem.Species{s}) {
		if e == chem.O || e == chem.H {
			continue
		}
		for _, t := range species {
			if t.Atoms(e) > 0 {
				return true
			}
		}
	}
	return false
}

// write makes the steps.
// scale is how often target holds their sum.
func (w *work) write(all []*component, times []int64, total tally, inOH bool, target, molecular tally, scale int64) {
	if molecular != nil {
		w.writeIons(target, molecular)
	}
	inHalves := inOH && w.Conventions.BaseInHalves
	lines := make([]line, len(all))
	for i, c := range all {
		half, steps := w.halfLines(c, i, inHalves)
		half.Multiplier = times[i]
		half.Changes = w.changesOf(c)
		w.Halves = append(w.Halves, half)
		w.Steps = append(w.Steps, steps...)
		v := c.vector
		if inHalves {
			v = inBase(v).divided(1)
		}
		lines[i] = v.line()
	}
	per := int64(1) // the net equation in the molecular one
	if molecular != nil {
		per = w.ionic(molecular).factor()
	}
	w.takeHalves(all, times, total, per)
	// Equalize.
	electrons := make([]string, len(all))
	for i, c := range all {
		electrons[i] = fmt.Sprint(c.electrons)
	}
	for i, l := range lines {
		s := Step{Rule: Equalize, Half: i, Before: l.equation(w.Conventions.Hydronium), Done: times[i] > 1}
		lines[i] = line{l.left.times(times[i]), l.right.times(times[i])}
		s.After = lines[i].equation(w.Conventions.Hydronium)
		switch {
		case len(all) == 2 && times[i] == 1 && times[0] != times[1]:
			s.Reason = fmt.Sprintf("nothing to do: %s already, and the other half is taken %s", count(all[i].electrons, "electron"), timesWord(times[1-i]))
		case len(all) == 2 && times[0] == 1 && times[1] == 1:
			s.Reason = fmt.Sprintf("nothing to do: %s in each half", count(all[0].electrons, "electron"))
		case len(all) == 2:
			s.Reason = fmt.Sprintf("%s and %s electrons: both become %d, so this half is taken %s", electrons[0], electrons[1], product(times[i], all[i].electrons), timesWord(times[i]))
		default:
			s.Reason = fmt.Sprintf("loss and gain are made equal, so this half is taken %s", timesWord(times[i]))
		}
		w.Steps = append(w.Steps, s)
	}
	// Add.
	var l line
	for _, a := range target { // in the order of the question
		for _, x := range lines {
			if n := x.left.get(a.species); n > 0 {
				l.left = l.left.add(a.species, n)
			}
			if n := x.right.get(a.species); n > 0 {
				l.right = l.right.add(a.species, n)
			}
		}
	}
	for _, x := range lines {
		for _, a := range x.left {
			if target.get(a.species) == 0 {
				l.left = l.left.add(a.species, a.n)
			}
		}
		for _, a := range x.right {
			if target.get(a.species) == 0 {
				l.right = l.right.add(a.species, a.n)
			}
		}
	}
	w.step(Add, line{}, l, true, "all that stands on the left of the halves, then all on the right")
	if !inOH || inHalves {
		l = w.cancel(l)
	} else {
		l = w.cancel(l)
		l = w.neutralize(l, -1)
	}
	// Divide.
	v := l.vector().divided(1)
	g := v.factor()
	lowest := v.divided(g).line()
	if g > 1 {
		w.step(LowestNumbers, l, lowest, true, fmt.Sprintf("every coefficient can be divided by %d", g))
	} else {
		w.step(LowestNumbers, l, lowest, false, "nothing to do: the coefficients have no common factor")
	}
	if !sameVector(lowest.vector(), target) {
		lowest = w.restoreOthers(lowest, g, scale, target)
	}
	if molecular != nil {
		w.restoreIons(lowest, molecular)
	}
	w.check()
}

// restoreOthers adds what takes part without a change of state: an acid that
// gives up its hydrogen ions, a salt that forms. g times lowest is the sum of the
// halves, which target holds scale times.
func (w *work) restoreOthers(lowest line, g, scale int64, target tally) line {
	now := lowest
	if m := g / scale; g%scale == 0 && m > 1 {
		now = line{lowest.left.times(m), lowest.right.times(m)}
		w.step(MultiplyNet, lowest, now, true, fmt.Sprintf("the whole equation holds the halves %s", timesWord(m)))
	}
	rest := slices.Clone(target)
	for _, a := range now.vector() {
		rest = rest.add(a.species, -a.n)
	}
	w.step(RestoreOthers, now, target.line(), true, fmt.Sprintf("added, since it takes part without a change of oxidation state: %s", nonZero(rest).equation(w.Conventions.Hydronium)))
	return target.line()
}

func sameVector(a, b tally) bool {
	for _, x := range a {
		if b.get(x.species) != x.n {
			return false
		}
	}
	for _, x := range b {
		if a.get(x.species) != x.n {
			return false
		}
	}
	return true
}

// takeHalves takes electrons and agents from the halves where the states leave
// them open, or where a species that changes as one loses and gains at once.
func (w *work) takeHalves(all []*component, times []int64, total tally, per int64) {
	asOne := slices.ContainsFunc(all, func(c *component) bool { return len(c.against) > 0 })
	if w.Electrons != nil && !asOne {
		return
	}
	n := int64(0)
	w.Oxidized, w.Reduced = nil, nil
	for i, c := range all {
		agents := c.left
		if len(c.flows) > 0 {
			agents = nil
			for _, f := range c.flows {
				agents = union(agents, w.holders(f))
			}
		}
		if c.role == Oxidation {
			n = sum(n, product(c.electrons, times[i]))
			w.Oxidized = union(w.Oxidized, agents)
		} else {
			w.Reduced = union(w.Reduced, agents)
		}
		if len(c.against) > 0 {
			w.note(NoteTie, fmt.Sprintf("%s changes as one: what one of its elements gains is taken off what the others lose, %s in all for its half.", c.left[0], count(c.electrons, "electron")))
		}
	}
	w.inSkeletonOrder()
	w.Electrons = nil
	if g := total.factor(); n%g == 0 {
		n = product(n/g, per)
		w.Electrons = &n
	}
}

func (w *work) changesOf(c *component) []Change {
	var out []Change
	for _, f := range slices.Concat(c.flows, c.against) {
		out = append(out, w.change(f))
	}
	return out
}

// listed joins with commas and a last "and".
func listed(parts []string) string {
	if n := len(parts); n > 1 {
		return strings.Join(parts[:n-1], ", ") + " and " + parts[n-1]
	}
	return strings.Join(parts, "")
}

func timesWord(n int64) string {
	switch n {
	case 1:
		return "once"
	case 2:
		return "twice"
	}
	return fmt.Sprintf("%d times", n)
}

func count(n int64, noun string) string {
	if n == 1 {
		return "1 " + noun
	}
	return fmt.Sprintf("%d %ss", n, noun)
}

func (w *work) step(r Rule, before, after line, done bool, reason string) {
	w.Steps = append(w.Steps, w.makeStep(r, -1, before, after, done, reason))
}

func (w *work) makeStep(r Rule, half int, before, after line, done bool, reason string) Step {
	s := Step{Rule: r, Half: half, After: after.equation(w.Conventions.Hydronium), Done: done, Reason: reason}
	if len(before.left)+len(before.right) > 0 {
		s.Before = before.equation(w.Conventions.Hydronium)
	}
	return s
}

// cancel takes away what stands on both sides.
func (w *work) cancel(l line) line {
	out, gone := l.cancelled()
	if w.Conventions.Hydronium {
		// What a reader sees to be cancelled are the written species.
		_, gone = l.hydronium().cancelled()
	}
	if len(gone) == 0 {
		w.step(Cancel, l, out, false, "nothing to do: no species stands on both sides")
	} else {
		w.step(Cancel, l, out, true, listed(gone)+" from each side")
	}
	return out
}

// cancelled returns the line without what stands on both sides, and what went.
func (l line) cancelled() (line, []string) {
	var out line
	var gone []string
	less := map[*chem.Species]int64{}
	for _, a := range l.left {
		n := min(a.n, l.right.get(a.species))
		if n > 0 {
			gone = append(gone, fmt.Sprintf("%d %s", n, a.species))
			less[a.species] = n
		}
		if a.n > n {
			out.left = append(out.left, amount{a.species, a.n - n})
		}
	}
	for _, a := range l.right {
		if n := a.n - min(a.n, l.left.get(a.species)); n > 0 {
			out.right = append(out.right, amount{a.species, n})
		}
	}
	return out, gone
}

// neutralize turns the hydrogen ions of a line into water with as many
// hydroxide ions on both sides.
func (w *work) neutralize(l line, half int) line {
	onLeft, onRight := l.left.get(chem.Hydron), l.right.get(chem.Hydron)
	n := onLeft + onRight
	emit := func(r Rule, after line, done bool, reason string) {
		w.Steps = append(w.Steps, w.makeStep(r, half, l, after, done, reason))
		l = after
	}
	if n == 0 {
		emit(Neutralize, l, false, "nothing to do: no hydrogen ions are there")
		return l
	}
	with := line{slices.Clone(l.left).add(chem.Hydroxide, n), slices.Clone(l.right).add(chem.Hydroxide, n)}
	formed := line{waterFormed(with.left), waterFormed(with.right)}
	if w.Conventions.Hydronium {
		// H3O^+ brings its water to the one side, for which water stands on the other.
		shown := with.hydronium()
		brought := shown.left.get(chem.Water) - with.left.get(chem.Water)
		if onLeft > 0 {
			brought = shown.right.get(chem.Water) - with.right.get(chem.Water)
		}
		formed = line{formed.left.add(chem.Water, brought), formed.right.add(chem.Water, brought)}
		emit(Neutralize, with, true, fmt.Sprintf("%s: %d OH^- on each side", count(n, "hydronium ion"), n))
		emit(FormWater, formed, true, fmt.Sprintf("%d H3O^+ and %d OH^- on one side are %d H2O", n, n, product(2, n)))
	} else {
		emit(Neutralize, with, true, fmt.Sprintf("%s: %d OH^- on each side", count(n, "hydrogen ion"), n))
		emit(FormWater, formed, true, fmt.Sprintf("%d H^+ and %d OH^- on one side are %d H2O", n, n, n))
	}
	after, gone := formed.cancelled()
	if len(gone) > 0 {
		emit(Cancel, after, true, listed(gone)+" from each side")
	} else {
		emit(Cancel, after, false, "nothing to do: no species stands on both sides")
	}
	return after
}

// waterFormed writes hydrogen with hydroxide ions of one side as water.
func waterFormed(side tally) tally {
	n := min(side.get(chem.Hydron), side.get(chem.Hydroxide))
	out := slices.Clone(side)
	if n > 0 {
		out = out.add(chem.Hydron, -n).add(chem.Hydroxide, -n).add(chem.Water, n)
	}
	kept := out[:0]
	for _, a := range out {
		if a.n != 0 {
			kept = append(kept, a)
		}
	}
	return kept
}

// halfSteps works a half that stands alone.
func (w *work) halfSteps(c *component, i int) (Half, []Step) {
	base := w.Medium == Basic
	half, steps := w.halfLines(c, i, base)
	half.Changes = w.changesOf(c)
	return half, steps
}

// halfLines writes one half from its split to its electrons, and on into base
// if asked.
func (w *work) halfLines(c *component, i int, inBaseToo bool) (Half, []Step) {
	var steps []Step
	var cur line
	emit := func(r Rule, next line, done bool, reason string) {
		steps = append(steps, w.makeStep(r, i, cur, next, done, reason))
		cur = next
	}
	for _, s := range c.left {
		cur.left = append(cur.left, amount{s, 1})
	}
	for _, s := range c.right {
		cur.right = append(cur.right, amount{s, 1})
	}
	// A half may start from water or hydrogen ions, or end in them.
	source := chem.Water
	for _, f := range c.flows {
		if f.element == chem.H {
			source = chem.Hydron
		}
	}
	if len(c.left) == 0 {
		cur.left = tally{{source, 1}}
	}
	if len(c.right) == 0 {
		cur.right = tally{{source, 1}}
	}
	split := cur
	cur = line{}
	emit(Split, split, true, w.splitReason(c))

	next := line{}
	for _, a := range split.left {
		next.left = append(next.left, amount{a.species, ownNumber(a, -c.vector.get(a.species))})
	}
	for _, a := range split.right {
		next.right = append(next.right, amount{a.species, ownNumber(a, c.vector.get(a.species))})
	}
	done := !sameVector(next.vector(), split.vector())
	reason := otherReason(w.count(next), done)
	if c.byWhole {
		reason += ", with the products in the ratio that the whole equation has"
	}
	emit(OtherAtoms, next, done, reason)

	for _, add := range []struct {
		rule    Rule
		species *chem.Species
		element chem.Element
	}{{Oxygen, chem.Water, chem.O}, {Hydrogen, chem.Hydron, chem.H}} {
		before := cur
		next := put(cur, add.species, c.vector.get(add.species))
		reason, done := w.addReason(add.element, before, next, add.species)
		emit(add.rule, next, done, reason)
	}
	before := cur
	next = put(cur, chem.Electron, c.vector.get(chem.Electron))
	emit(ChargeRule, next, true, w.chargeReason(before, next))
	if inBaseToo {
		saved := w.Steps
		w.Steps = nil
		cur = w.neutralize(cur, i)
		steps = append(steps, w.Steps...)
		w.Steps = saved
	}
	return Half{
		Role:      c.role,
		Skeleton:  split.equation(w.Conventions.Hydronium),
		Equation:  cur.equation(w.Conventions.Hydronium),
		Electrons: c.electrons,
	}, steps
}

// ownNumber keeps water and hydrogen ions at 1 until their own rule comes.
func ownNumber(a amount, n int64) int64 {
	if isMedium(a.species) {
		return 1
	}
	return n
}

// put writes the medium's species with its final number: n negative on the
// left, positive on the right, 0 nowhere.
func put(l line, s *chem.Species, n int64) line {
	drop := func(side tally) tally {
		return slices.DeleteFunc(slices.Clone(side), func(a amount) bool { return a.species.Same(s) })
	}
	out := line{drop(l.left), drop(l.right)}
	switch {
	case n < 0:
		out.left = append(out.left, amount{s, -n})
	case n > 0:
		out.right = append(out.right, amount{s, n})
	}
	return out
}

func (w *work) splitReason(c *component) string {
	var parts []string
	for _, f := range slices.Concat(c.flows, c.against) {
		parts = append(parts, fmt.Sprintf("%s goes from %s to %s", f.element, w.Conventions.State(f.from), w.Conventions.State(f.to)))
	}
	if len(parts) == 0 {
		return "the species that share an element belong together"
	}
	return strings.Join(parts, ", ")
}

// count counts a line that is being built; lines are small, so it cannot fail.
func (w *work) count(l line) balance.Ledger {
	led, _ := balance.NewLedger(l.equation(false))
	return led
}

func entry(l balance.Ledger, law balance.Law) balance.Entry {
	for _, e := range l {
		if e.Law == law {
			return e
		}
	}
	return balance.Entry{Law: law}
}

func otherReason(l balance.Ledger, done bool) string {
	var parts []string
	for _, e := range l {
		if e.Law == balance.Charge || e.Law.Element == chem.O || e.Law.Element == chem.H {
			continue
		}
		if e.Closed() {
			parts = append(parts, fmt.Sprintf("%s %s on each side", e.Law, e.Left))
		}
	}
	switch {
	case len(parts) == 0 && !done:
		return "nothing to do: there are no atoms but oxygen and hydrogen"
	case !done:
		return "nothing to do: " + strings.Join(parts, ", ")
	case len(parts) == 0:
		return "the oxygen or hydrogen that changes is made equal"
	}
	return strings.Join(parts, ", ")
}

// addReason says why water or hydrogen ions are added.
func (w *work) addReason(e chem.Element, before, after line, s *chem.Species) (string, bool) {
	law := balance.Law{Element: e}
	had := entry(w.count(before), law)
	if sameVector(before.vector(), after.vector()) {
		if had.Left.Sign() == 0 && had.Right.Sign() == 0 {
			return fmt.Sprintf("nothing to do: there is no %s", e), false
		}
		return fmt.Sprintf("nothing to do: %s %s on each side", e, had.Left), false
	}
	side, n := "right", after.right.get(s)
	if n == 0 {
		side, n = "left", after.left.get(s)
	}
	was := before.left.get(s) + before.right.get(s)
	if was > 0 {
		return fmt.Sprintf("%s %s on the left, %s on the right: so it takes %d %s on the %s", e, had.Left, had.Right, n, s, side), true
	}
	if w.Conventions.Hydronium && s.Same(chem.Hydron) {
		other := map[string]string{"left": "right", "right": "left"}[side]
		return fmt.Sprintf("the %s has %d H too few: %d H3O^+ there and %d H2O on the %s", side, n, n, n, other), true
	}
	return fmt.Sprintf("%s %s on the left, %s on the right: add %d %s on the %s", e, had.Left, had.Right, n, s, side), true
}

func (w *work) chargeReason(before, after line) string {
	had := entry(w.count(before), balance.Charge)
	side, n := "right", after.right.get(chem.Electron)
	if n == 0 {
		side, n = "left", after.left.get(chem.Electron)
	}
	return fmt.Sprintf("the left has the charge %s, the right %s: add %d e^- on the %s", minus(had.Left.Signed()), minus(had.Right.Signed()), n, side)
}

// ledgerText reads a closed ledger as a sentence.
func ledgerText(e chem.Equation) string {
	l, err := balance.NewLedger(e)
	if err != nil {
		return "counted"
	}
	parts := make([]string, len(l))
	for i, x := range l {
		if x.Law == balance.Charge {
			parts[i] = fmt.Sprintf("charge %s = %s", minus(x.Left.Signed()), minus(x.Right.Signed()))
			if x.Left.Sign() != 0 {
				parts[i] += " (not zero, but equal)"
			}
			continue
		}
		parts[i] = fmt.Sprintf("%s %s = %s", x.Law, x.Left, x.Right)
	}
	return strings.Join(parts, ", ")
}
