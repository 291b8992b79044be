package marking

import (
	"fmt"
	"slices"

	"halves/chem"
)

// classify names what is wrong with a statement that neither is true nor
// follows: by which single change it would have been.
func (w *working) classify(s *statement, before []*judged) (Kind, string) {
	if kind, why := w.formulas(s, before); kind != "" {
		return kind, why
	}
	if w.isBackwards(s) {
		return Backwards, "what reacts stands on the right and what forms on the left"
	}
	if kind, why := w.lost(s, before); kind != "" {
		return kind, why
	}
	if s.thread == overall {
		return w.classifyWhole(s, before)
	}
	return w.classifyHalf(s, before)
}

// earlier returns the statements of a thread before s, the latest first, that
// count.
func earlier(before []*judged, thread int) []*judged {
	var out []*judged
	for i := len(before) - 1; i >= 0; i-- {
		if b := before[i]; b.thread == thread && b.verdict != Elsewhere && b.verdict != Comment {
			out = append(out, b)
		}
	}
	return out
}

// formulas looks for species that are not the question's: an altered subscript,
// a miscopied charge, oxygen itself, or a stray.
func (w *working) formulas(s *statement, before []*judged) (Kind, string) {
	for i := firstOwn; i < len(w.book); i++ {
		if !has(s.left, i) && !has(s.right, i) {
			continue
		}
		if s.thread >= 0 && w.owns(s.thread, i) || s.thread == overall && i < len(w.q.isOwn) && w.q.isOwn[i] {
			continue
		}
		if w.carried(i, s, before) || w.isSpectator(i) || s.at(i).Sign() == 0 || slices.ContainsFunc(w.q.solution.Skeleton.Species(), w.book[i].Same) {
			continue
		}
		x := w.book[i]
		if x.Charge() == 0 && x.Composition().Only(chem.O) && s.thread >= 0 && !w.changesOxygen(s.thread) {
			return OxygenWithoutWater, fmt.Sprintf("%s was brought in for the oxygen, which water brings", x)
		}
		// A species of the question that is missing where this one stands, first on
		// its own side.
		for _, near := range []bool{true, false} {
			for k, m := range w.q.species {
				if k < firstOwn || !w.q.isOwn[k] || s.thread >= 0 && !w.owns(s.thread, k) || near && !w.missing(s, k, i) {
					continue
				}
				switch {
				case x.Composition().Equal(m.Composition()) && x.Charge() != m.Charge():
					return ChargeMiscopied, fmt.Sprintf("%s should be %s", x, m)
				case sameElements(x, m) && near && x.Charge() != m.Charge():
					return SubscriptAltered, fmt.Sprintf("%s stands where the question has %s", x, m)
				case sameElements(x, m) && near:
					return SubscriptAltered, fmt.Sprintf("%s should be %s: a coefficient balances atoms, not a subscript", x, m)
				}
			}
		}
		return StraySpecies, fmt.Sprintf("%s is not in the question", x)
	}
	return "", ""
}

// missing reports whether a species of the question is not on its side, where
// another stands instead.
func (w *working) missing(s *statement, species, instead int) bool {
	if w.sideOf(species) < 0 {
		return !has(s.left, species) && has(s.left, instead)
	}
	return !has(s.right, species) && has(s.right, instead)
}

// owns reports whether a species is one of a half's.
func (w *working) owns(thread, i int) bool { return slices.Contains(w.q.halves[thread].mains, i) }

// carried reports whether a species that is not the question's stood in an
// earlier line that leads here.
func (w *working) carried(i int, s *statement, before []*judged) bool {
	return slices.ContainsFunc(before, func(b *judged) bool {
		return (b.thread == s.thread || s.thread == overall) && (has(b.left, i) || has(b.right, i))
	})
}

func (w *working) changesOxygen(thread int) bool {
	for _, m := range w.q.halves[thread].mains {
		if w.book[m].Composition().Only(chem.O, chem.H) {
			return true
		}
	}
	return false
}

// sideOf returns where a species of the question belongs: -1 left, 1 right.
func (w *working) sideOf(i int) int {
	if i < len(w.q.acid) {
		return w.q.acid[i].Sign()
	}
	return 0
}

func sameElements(a, b *chem.Species) bool {
	if len(a.Composition()) != len(b.Composition()) {
		return false
	}
	for _, c := range a.Composition() {
		if b.Atoms(c.Element) == 0 {
			return false
		}
	}
	return true
}

// isBackwards reports whether the reverse of a statement would be right.
func (w *working) isBackwards(s *statement) bool {
	turned := &statement{thread: s.thread, left: s.right, right: s.left}
	for _, n := range s.vector {
		turned.vector = append(turned.vector, n.Neg())
	}
	return w.isTrue(turned)
}

// lost looks for a species that an earlier line of the thread had and this one
// has not.
func (w *working) lost(s *statement, before []*judged) (Kind, string) {
	say := func(i int) (Kind, string) {
		return TermLost, fmt.Sprintf("%s was dropped", w.book[i])
	}
	if s.thread >= 0 {
		for _, m := range w.q.halves[s.thread].mains {
			if !has(s.left, m) && !has(s.right, m) && !w.stoodIn(s, m) {
				return say(m)
			}
		}
		for _, b := range earlier(before, s.thread)[:min(1, len(earlier(before, s.thread)))] {
			for i := water; i <= electron; i++ {
				if b.at(i).Sign() != 0 && !has(s.left, i) && !has(s.right, i) && w.dropped(b.statement, s, i) {
					return say(i)
				}
			}
		}
		return "", ""
	}
	for i, own := range w.q.isOwn {
		if own && !has(s.left, i) && !has(s.right, i) && w.inAnswer(i) && !w.stoodIn(s, i) {
			return say(i)
		}
	}
	return "", ""
}

// stoodIn reports whether an altered form of a species stands in its place.
func (w *working) stoodIn(s *statement, m int) bool {
	for i := len(w.q.isOwn); i < len(w.book); i++ {
		if (has(s.left, i) || has(s.right, i)) && sharesElement(w.book[i], w.book[m]) {
			return true
		}
	}
	return false
}

func (w *working) inAnswer(i int) bool { return i < len(w.q.acid) && w.q.acid[i].Sign() != 0 }

// dropped reports whether a helper went without the move that lets it: hydrogen
// ions may become hydroxide ions and water.
func (w *working) dropped(p, s *statement, i int) bool {
	k, ok := w.proportion(s, p.vector)
	if !ok {
		return false
	}
	was, now := helperOf(p.vector).times(k), helperOf(s.vector)
	switch i {
	case electron:
		return now.electron.Sign() == 0
	case water:
		return was.water.Sign() != 0 && now.water.Sign() == 0
	}
	return was.hydron.Sign() != 0 && now.hydron.Sign() == 0
}

// classifyHalf names what is wrong with a half whose formulas are right.
func (w *working) classifyHalf(s *statement, before []*judged) (Kind, string) {
	h := w.q.halves[s.thread]
	past := earlier(before, s.thread)
	for _, p := range past {
		if only, ok := w.partMultiplied(p.statement, s); ok {
			return PartMultiplied, only
		}
	}
	k, ok := w.proportion(s, h.vector)
	if !ok || k.Sign() < 0 {
		// The student's own wrong coefficients may be what was multiplied.
		from := (*judged)(nil)
		for _, p := range past {
			if f, same := w.proportion(s, p.vector); same && f.Sign() > 0 {
				from, k = p, f
				break
			}
		}
		if from == nil || w.rungOf(from.statement) == bareRung {
			return MainCoefficient, w.unbalancedMain(s)
		}
		return w.classifyHelpers(s, helperOf(from.vector).times(k), from.statement)
	}
	var from *statement
	for _, p := range past {
		if f, same := w.proportion(s, p.vector); same && f.Sign() > 0 {
			from = p.statement
			break
		}
	}
	if s.at(hydroxide).Sign() != 0 && !w.q.inBase() {
		return OxygenWithoutWater, "oxygen was balanced with OH^-, and the solution is acidic"
	}
	return w.classifyHelpers(s, helperOf(h.vector).times(k), from)
}

// unbalancedMain says which element does not balance.
func (w *working) unbalancedMain(s *statement) string {
	for _, e := range w.elements(s) {
		if e == chem.O || e == chem.H {
			continue
		}
		if l, r := w.count(s, e); !l.Equal(r) {
			return fmt.Sprintf("%s is %s on the left and %s on the right", e, l, r)
		}
	}
	return "the numbers of the main species are not those of this half"
}

func (w *working) elements(s *statement) []chem.Element {
	var out []chem.Element
	for i, n := range s.vector {
		if n.Sign() == 0 {
			continue
		}
		for _, c := range w.book[i].Composition() {
			if !slices.Contains(out, c.Element) {
				out = append(out, c.Element)
			}
		}
	}
	return out
}

// count counts an element, or the charge for 0, on both sides as written.
func (w *working) count(s *statement, e chem.Element) (left, right chem.Ratio) {
	side := func(terms []term) chem.Ratio {
		sum := zero
		for _, t := range terms {
			x := w.book[t.species].Charge()
			if e != 0 {
				x = w.book[t.species].Atoms(e)
				if s.hydronium && t.species == hydron {
					x += chem.Water.Atoms(e)
				}
			}
			sum = sum.Add(t.n.Mul(chem.Whole(x)))
		}
		return sum
	}
	return side(s.left), side(s.right)
}

// partMultiplied reports whether s is p with some terms multiplied and others
// not.
func (w *working) partMultiplied(p, s *statement) (string, bool) {
	var factors []chem.Ratio
	unchanged := -1
	for i := range max(len(p.vector), len(s.vector)) {
		x, y := p.at(i), s.at(i)
		if x.Sign() == 0 && y.Sign() == 0 {
			continue
		}
		if x.Sign() == 0 || y.Sign() == 0 || x.Sign() != y.Sign() {
			return "", false
		}
		f := y.Quo(x)
		if f.Equal(chem.Whole(1)) {
			unchanged = i
			continue
		}
		if !slices.ContainsFunc(factors, f.Equal) {
			factors = append(factors, f)
		}
	}
	if unchanged < 0 || len(factors) != 1 || factors[0].Cmp(chem.Whole(1)) < 0 || p.at(electron).Sign() == 0 {
		return "", false
	}
	changed := 0
	for i := range p.vector {
		if p.at(i).Sign() != 0 && !p.at(i).Equal(s.at(i)) {
			changed++
		}
	}
	if changed < 2 && !s.label.times {
		return "", false // one number that differs is a slip of that number
	}
	return fmt.Sprintf("%s was not multiplied by %s", w.book[unchanged], factors[0]), true
}

// classifyHelpers names the first of water, hydrogen ions and electrons that is
// not as it should be. true is what the half needs; from is the line before.
func (w *working) classifyHelpers(s *statement, want helper, from *statement) (Kind, string) {
	got := helperOf(s.vector)
	var was helper
	if from != nil && w.rungOf(from) == noRung {
		if k, ok := w.proportion(s, from.vector); ok {
			was = helperOf(from.vector).times(k)
		}
	}
	// What stood there already is not to blame twice.
	expect := func(was, want chem.Ratio) chem.Ratio {
		if was.Sign() != 0 {
			return was
		}
		return want
	}
	// Electrons put in first, then hydrogen ions for the charge, water last.
	if dry := func(x *statement) bool { return x.at(water).Sign() == 0 && x.at(hydroxide).Sign() == 0 }; want.water.Sign() != 0 && dry(s) && got.electron.Sign() != 0 && (from == nil || dry(from)) {
		if !got.electron.Equal(want.electron) && (from == nil || !w.sameElectrons(from, s)) {
			return sided(got.electron, want.electron, ElectronSide, ElectronCount, fmt.Sprintf("%s electrons where the change of state takes %s", magnitude(got.electron), w.electronsWanted(want)))
		}
		if got.hydron.Sign() != 0 {
			return sided(got.hydron, want.hydron, HydrogenSide, HydrogenCount, w.say(s, 0))
		}
	}
	water1 := expect(was.water, want.water)
	if !got.water.Equal(water1) && (got.water.Sign() != 0 || was.water.Sign() != 0 || got.electron.Sign() != 0 || got.hydron.Sign() != 0) {
		if s.at(hydroxide).Sign() != 0 && s.at(water).Sign() == 0 && !w.q.inBase() {
			return OxygenWithoutWater, "oxygen was balanced with OH^-"
		}
		if s.hydronium { // the water of H3O^+ is counted too, and tells no side
			return WaterCount, w.say(s, chem.O)
		}
		return sided(got.water, water1, WaterSide, WaterCount, w.say(s, chem.O))
	}
	hydron1 := want.hydron
	if !got.water.Equal(want.water) || was.hydron.Sign() != 0 {
		// Hydrogen ions that go with the student's own water.
		hydron1 = expect(was.hydron, got.hydron.Sub(w.residual(s, chem.H)))
	}
	if !got.hydron.Equal(hydron1) && (got.hydron.Sign() != 0 || was.hydron.Sign() != 0 || got.electron.Sign() != 0) {
		return sided(got.hydron, hydron1, HydrogenSide, HydrogenCount, w.say(s, chem.H))
	}
	electron1 := want.electron
	if !got.water.Equal(want.water) || !got.hydron.Equal(want.hydron) || was.electron.Sign() != 0 {
		// The electron counts -1 for the charge.
		electron1 = expect(was.electron, got.electron.Add(w.residual(s, 0)))
	}
	if !got.electron.Equal(electron1) {
		return sided(got.electron, electron1, ElectronSide, ElectronCount, w.say(s, 0))
	}
	return MainCoefficient, w.unbalancedMain(s)
}

// sameElectrons reports whether a line has the electrons of the one before, as
// often as its species.
func (w *working) sameElectrons(from, s *statement) bool {
	k, ok := w.proportion(s, from.vector)
	return ok && from.at(electron).Mul(k).Equal(s.at(electron))
}

// electronsWanted says how many electrons belong on which side.
func (w *working) electronsWanted(want helper) string {
	side := "on the left"
	if want.electron.Sign() > 0 {
		side = "on the right"
	}
	return fmt.Sprintf("%s %s", magnitude(want.electron), side)
}

// sided tells a wrong side from a wrong number.
func sided(got, want chem.Ratio, side, count Kind, counts string) (Kind, string) {
	if got.Sign()*want.Sign() < 0 {
		return side, counts
	}
	return count, counts
}

// say counts an element, or the charge for 0, as a sentence.
func (w *working) say(s *statement, e chem.Element) string {
	l, r := w.count(s, e)
	if l.Equal(r) {
		return "the numbers are not those of this question"
	}
	if e == 0 {
		return fmt.Sprintf("left has the charge %s, right %s", l.Signed(), r.Signed())
	}
	return fmt.Sprintf("left has %s %s, right %s", l, e, r)
}

// classifyWhole names what is wrong with a whole equation whose formulas are
// right.
func (w *working) classifyWhole(s *statement, before []*judged) (Kind, string) {
	past := earlier(before, overall)
	if len(past) > 0 {
		if kind, why := w.fromWhole(s, past[0].statement); kind != "" {
			return kind, why
		}
	}
	if kind, why := w.fromHalves(s, before); kind != "" {
		return kind, why
	}
	return w.alone(s)
}

// fromWhole compares a whole equation with the one before it.
func (w *working) fromWhole(s, p *statement) (Kind, string) {
	k, ok := w.proportion(s, p.vector)
	if !ok || k.Sign() < 0 {
		// A main species differs: cancelled unevenly, or copied wrongly.
		for i := firstOwn; i < len(w.q.isOwn); i++ {
			if has(p.left, i) && has(p.right, i) && !s.at(i).Equal(p.at(i)) {
				return UnevenCancel, fmt.Sprintf("%s: different amounts were cancelled on the two sides", w.book[i])
			}
		}
		if only, ok := w.partMultiplied(p, s); ok {
			return SumSlip, only
		}
		return "", ""
	}
	was, now := helperOf(p.vector).times(k), helperOf(s.vector)
	bothIn := func(i int) bool { return has(p.left, i) && has(p.right, i) }
	switch {
	case !now.electron.Equal(was.electron):
		if bothIn(electron) && now.electron.Sign() != 0 {
			return ElectronsKept, "electrons were left on one side"
		}
		return ElectronsKept, "the electrons of the two sides were not cancelled alike"
	case !s.at(hydroxide).Equal(p.at(hydroxide).Mul(k)) && s.at(hydron).Equal(p.at(hydron).Mul(k)) && s.at(water).Equal(p.at(water).Mul(k)) && p.at(hydroxide).Sign() == 0:
		return HydroxideOneSide, "hydroxide ions were added to one side only"
	case w.addedHydroxide(s, p):
		return HydroxideOneSide, "hydroxide ions were added to one side only"
	}
	for _, i := range []int{water, hydron, hydroxide} {
		if bothIn(i) && !s.at(i).Equal(p.at(i).Mul(k)) {
			return UnevenCancel, fmt.Sprintf("%s: different amounts were cancelled on the two sides", w.book[i])
		}
	}
	return "", ""
}

// addedHydroxide reports whether the change from p to s is hydroxide added to the
// side of the hydrogen ions alone and made into water there.
func (w *working) addedHydroxide(s, p *statement) bool {
	h := p.at(hydron)
	return w.q.inBase() && h.Sign() != 0 && s.at(hydron).Sign() == 0 && s.at(hydroxide).Sign() == 0 && s.at(water).Equal(p.at(water).Add(h))
}

// fromHalves compares a whole equation with the halves before it.
func (w *working) fromHalves(s *statement, before []*judged) (Kind, string) {
	from, times := w.sumOf(s, before, false)
	if from == nil {
		return "", ""
	}
	total := sum(from, times)
	lacking := slices.ContainsFunc(from, func(p *judged) bool { return p.at(electron).Sign() == 0 })
	spent := &statement{vector: slices.Clone(s.vector), thread: overall}
	spent.add(electron, total[electron].Sub(s.at(electron)))
	if w.agrees(spent, total) {
		switch {
		case lacking:
			return ElectronsMissing, "a half was added without its electrons"
		case total[electron].Sign() == 0 && s.at(electron).Sign() == 0:
			return WaterCount, "a half was added before its water was put in: " + w.sayFailing(s)
		case total[electron].Sign() == 0:
			return ElectronsKept, "the electrons are the same on both sides, and yet some are left"
		case w.asTheyStand(times):
			return UnequalElectrons, fmt.Sprintf("the electrons are not equal: %s", w.electronsOf(from, times))
		}
		return ChargeUnbalanced, w.say(s, 0)
	}
	if lacking && s.at(electron).Sign() == 0 {
		return ElectronsMissing, "a half was added without its electrons"
	}
	// One species alone differs from the sum.
	differs := []int{}
	for i := range max(len(s.vector), len(total)) {
		x := zero
		if i < len(total) {
			x = total[i]
		}
		if !s.at(i).Equal(x) {
			differs = append(differs, i)
		}
	}
	if len(differs) >= 1 {
		i := differs[0]
		if i == electron && len(differs) > 1 {
			i = differs[1]
		}
		l, r := zero, zero
		for k, p := range from {
			l, r = l.Add(on(p.left, i).Mul(times[k])), r.Add(on(p.right, i).Mul(times[k]))
		}
		if l.Sign() > 0 && r.Sign() > 0 && !(has(s.left, i) && has(s.right, i)) {
			return UnevenCancel, fmt.Sprintf("%s: %s on the left and %s on the right were not cancelled alike", w.book[i], l, r)
		}
		if len(differs) == 1 || w.atomsOff(s) {
			return SumSlip, fmt.Sprintf("%s: the halves add up to another number", w.book[i])
		}
	}
	return "", ""
}

func (w *working) asTheyStand(times []chem.Ratio) bool {
	return !slices.ContainsFunc(times, func(t chem.Ratio) bool { return !t.IsWhole() })
}

func (w *working) electronsOf(from []*judged, times []chem.Ratio) string {
	out := ""
	for k, p := range from {
		if k > 0 {
			out += " and "
		}
		out += magnitude(p.at(electron).Mul(times[k])).String()
	}
	return out
}

// atomsOff reports whether an element does not balance.
func (w *working) atomsOff(s *statement) bool {
	return slices.ContainsFunc(w.elements(s), func(e chem.Element) bool { return !w.closed(s, e) })
}

// alone judges a whole equation by itself.
func (w *working) alone(s *statement) (Kind, string) {
	if s.at(electron).Sign() != 0 {
		return ElectronsKept, "electrons were left in the whole equation"
	}
	if !w.atomsOff(s) {
		if w.closed(s, 0) {
			return SumSlip, "atoms and charge balance, and yet the numbers are not those of these two half-reactions together"
		}
		return ChargeUnbalanced, w.say(s, 0)
	}
	if len(w.q.halves) == 0 {
		return MainCoefficient, w.sayFailing(s)
	}
	k, ok := w.proportion(s, w.q.acid)
	if !ok || k.Sign() < 0 {
		for _, e := range w.elements(s) {
			if e != chem.O && e != chem.H && !w.closed(s, e) {
				return MainCoefficient, w.say(s, e)
			}
		}
		if !w.closed(s, 0) {
			return ChargeUnbalanced, w.say(s, 0)
		}
		return SumSlip, w.sayFailing(s)
	}
	got, want := helperOf(s.vector), helperOf(w.q.acid).times(k)
	switch {
	case w.q.inBase() && s.at(hydroxide).Sign() != 0 && s.at(hydron).Sign() != 0:
		return HydroxideOneSide, "hydroxide ions stand on one side only"
	case !got.water.Equal(want.water) && got.hydron.Equal(want.hydron):
		return sided(got.water, want.water, WaterSide, WaterCount, w.say(s, chem.O))
	case !got.hydron.Equal(want.hydron) && got.water.Equal(want.water):
		return sided(got.hydron, want.hydron, HydrogenSide, HydrogenCount, w.say(s, chem.H))
	}
	return SumSlip, w.sayFailing(s)
}

// sayFailing counts the first element that does not balance, else the charge.
func (w *working) sayFailing(s *statement) string {
	for _, e := range w.elements(s) {
		if !w.closed(s, e) {
			return w.say(s, e)
		}
	}
	return w.say(s, 0)
}
