package marking

import (
	"fmt"
	"slices"

	"halves/chem"
	"halves/redox"
)

// A helper is a vector's water, hydrogen ions and electrons, with hydroxide
// written as water less a hydrogen ion: H^+ + OH^- is then H2O and nothing
// changes where water forms.
type helper struct{ water, hydron, electron chem.Ratio }

func helperOf(v []chem.Ratio) helper {
	at := func(i int) chem.Ratio {
		if i < len(v) {
			return v[i]
		}
		return chem.Ratio{}
	}
	oh := at(hydroxide)
	return helper{at(water).Add(oh), at(hydron).Sub(oh), at(electron)}
}

func (h helper) times(k chem.Ratio) helper {
	return helper{h.water.Mul(k), h.hydron.Mul(k), h.electron.Mul(k)}
}

func (h helper) equal(g helper) bool {
	return h.water.Equal(g.water) && h.hydron.Equal(g.hydron) && h.electron.Equal(g.electron)
}

var zero chem.Ratio

// judge gives a statement its verdict, by those before it.
func (w *working) judge(s *judged, before []*judged) {
	if s.thread == elsewhere {
		s.verdict, s.why = Elsewhere, "its species are not those of the question"
		return
	}
	if s.claim != nil {
		w.judgeClaim(s)
		return
	}
	if w.copied(s) {
		s.verdict, s.why = Comment, "the question, copied"
		return
	}
	if len(w.q.halves) == 0 && (has(s.left, electron) || has(s.right, electron)) {
		s.verdict, s.why = Unread, "a half-reaction, where nothing dissolves: left to a person"
		return
	}
	if s.label.table && s.thread >= 0 && w.isTrue(turned(s.statement)) {
		s.verdict, s.why = Stands, "as a table has it, to be turned round"
		return
	}
	s.holds = w.isTrue(s.statement)
	if s.thread >= 0 && w.mislabelled(s) {
		w.swapped = true
		s.slip(LabelsSwapped, fmt.Sprintf("this half is the %s", w.q.halves[s.thread].role))
		return
	}
	if s.holds {
		s.verdict = Stands
		if w.hasSlipped(s.thread, before) {
			s.verdict = Recovered
		}
		if s.plain != nil {
			s.why = w.formsOf(s.statement)
		}
		kind, why := w.purpose(s, before)
		switch {
		case kind == "":
		case (kind == OxygenWithoutWater || kind == WaterUncombined || kind == HydroxideOneSide) && w.carriesHydroxide(before):
			s.verdict, s.why = Follows, "hydroxide ions are carried along"
		case kind == UnequalElectrons && charged(kind, before):
			s.verdict, s.why = Follows, "the halves were multiplied so before"
		default:
			s.slip(kind, why)
		}
		return
	}
	if s.thread == overall && s != w.answer && w.byStates(before) {
		if w.isPartial(s.statement) {
			s.verdict = Stands
			return
		}
		if s.dissolved || len(w.q.spectators) > 0 {
			s.verdict, s.why = Unread, "a step between the states and the answer, with whole substances, is left to a person"
			return
		}
	}
	if from := w.follows(s.statement, before); from != nil {
		s.verdict, s.from, s.why = Follows, from, "a right step from the line before it that was wrong"
		if s == w.answer {
			if kind, why := w.settled(s.statement); kind == ElectronsKept && !w.electronsCannotVanish(before) && !charged(kind, before) {
				s.slip(kind, why)
			}
		}
		return
	}
	// What a person let stand, though it does not hold, is carried along too.
	if s.thread == overall {
		if from, times := w.sumOf(s.statement, before, false); from != nil && w.isSum(s.statement, from, times) &&
			slices.ContainsFunc(from, func(p *judged) bool { return p.person && p.verdict == Stands && !w.isTrue(p.statement) }) {
			s.verdict, s.from, s.why = Follows, from, "a right step from a line that a person let stand"
			return
		}
	}
	kind, why := w.classify(s.statement, before)
	s.slip(kind, why)
}

func (s *judged) slip(kind Kind, why string) { s.verdict, s.kind, s.why = Slips, kind, why }

// charged reports whether a slip of a kind was found.
func charged(kind Kind, all []*judged) bool {
	return slices.ContainsFunc(all, func(b *judged) bool { return b.verdict == Slips && b.kind == kind })
}

// electronsCannotVanish reports whether a slip in a half left electrons that no
// right step takes away: on the wrong side, or multiplied by a wrong number.
func (w *working) electronsCannotVanish(all []*judged) bool {
	return slices.ContainsFunc(all, func(b *judged) bool {
		if b.thread < 0 {
			return false
		}
		wrongSide := b.at(electron).Sign()*w.q.halves[b.thread].vector[electron].Sign() < 0
		return wrongSide || b.verdict == Slips && (b.kind == UnequalElectrons || b.kind == PartMultiplied)
	})
}

// formsOf says which species stand in another form than the question's.
func (w *working) formsOf(s *statement) string {
	for n, side := range [][]term{s.left, s.right} {
		for k, t := range side {
			if k < len(s.wrote[n]) && s.wrote[n][k].species != t.species && t.species >= firstOwn && !s.dissolved {
				return fmt.Sprintf("%s is another form of %s", w.book[s.wrote[n][k].species], w.book[t.species])
			}
		}
	}
	return "a species stands in another form than in the question"
}

// carriesHydroxide reports whether hydroxide ions were charged before in a half,
// where they do not belong.
func (w *working) carriesHydroxide(before []*judged) bool {
	return slices.ContainsFunc(before, func(b *judged) bool {
		return b.verdict == Slips && b.kind == OxygenWithoutWater && (has(b.left, hydroxide) || has(b.right, hydroxide))
	})
}

func (w *working) hasSlipped(thread int, before []*judged) bool {
	return slices.ContainsFunc(before, func(b *judged) bool {
		return b.verdict == Slips && b.kind != LabelsSwapped && (b.thread == thread || thread == overall)
	})
}

// copied reports whether a statement is the question itself.
func (w *working) copied(s *judged) bool {
	if s.thread != overall || s.label.answer || s == w.answer && len(w.statements) > 1 && s.label.overall {
		return false
	}
	if slices.ContainsFunc(w.statements, func(b *judged) bool { return b.line < s.line && b.thread >= 0 }) {
		return false
	}
	for n, side := range s.wrote {
		for _, t := range side {
			if !t.n.Equal(chem.Whole(1)) || !slices.ContainsFunc(w.skeleton(n), func(x chem.Term) bool { return w.book[t.species].Same(x.Species) }) {
				return false
			}
		}
		for _, x := range w.skeleton(n) {
			if !slices.ContainsFunc(side, func(t term) bool { return w.book[t.species].Same(x.Species) }) {
				return false
			}
		}
	}
	return !w.isTrue(s.statement)
}

// skeleton returns a side of the question.
func (w *working) skeleton(side int) []chem.Term {
	if side == 0 {
		return w.q.solution.Skeleton.Left
	}
	return w.q.solution.Skeleton.Right
}

// mislabelled reports whether the words call a half by the other's name, for the
// first time.
func (w *working) mislabelled(s *judged) bool {
	if w.swapped || s.label.weak || s.label.oxidation == s.label.reduction {
		return false
	}
	role := w.q.halves[s.thread].role
	if s.label.oxidation == (role == redox.Oxidation) {
		return false
	}
	// A shared species alone does not tell which half is meant.
	others := 0
	for i := firstOwn; i < len(s.vector); i++ {
		if s.vector[i].Sign() == 0 {
			continue
		}
		shared := 0
		for k := range w.q.halves {
			if w.belongs(i, k) {
				shared++
			}
		}
		if shared == 1 {
			others++
		}
	}
	return others > 0
}

// proportion returns the factor by which the species that are not the medium's
// are those of v, and whether there is one. Strays make it false.
func (w *working) proportion(s *statement, v []chem.Ratio) (k chem.Ratio, ok bool) {
	for i := firstOwn; i < max(len(s.vector), len(v)); i++ {
		x, y := s.at(i), zero
		if i < len(v) {
			y = v[i]
		}
		switch {
		case x.Sign() == 0 && y.Sign() == 0:
		case x.Sign() == 0 || y.Sign() == 0:
			return zero, false
		case k.Sign() == 0:
			k = x.Quo(y)
		case !x.Equal(y.Mul(k)):
			return zero, false
		}
	}
	return k, k.Sign() != 0
}

// residual counts an element, or the charge where e is 0, right less left.
func (w *working) residual(s *statement, e chem.Element) chem.Ratio {
	sum := zero
	for i, n := range s.vector {
		if n.Sign() == 0 {
			continue
		}
		x := w.book[i].Charge()
		if e != 0 {
			x = w.book[i].Atoms(e)
		}
		if x != 0 {
			sum = sum.Add(n.Mul(chem.Whole(x)))
		}
	}
	return sum
}

func (w *working) closed(s *statement, e chem.Element) bool { return w.residual(s, e).Sign() == 0 }

// isTrue reports whether a statement is right by itself.
func (w *working) isTrue(s *statement) bool {
	if s.thread == overall {
		k, ok := w.proportion(s, w.q.acid)
		if ok && k.Sign() > 0 && helperOf(s.vector).equal(helperOf(w.q.acid).times(k)) {
			return true
		}
		return w.isFull(s)
	}
	return w.rungOf(s) > noRung
}

// isFull reports whether a whole statement is a multiple of the answer with its
// substances as the question writes them.
func (w *working) isFull(s *statement) bool {
	if s.hydronium {
		return false // its water would have to be counted, and was
	}
	k := zero
	for n, terms := range [][]chem.Term{w.q.solution.Equation.Left, w.q.solution.Equation.Right} {
		if len(terms) != len(s.wrote[n]) {
			return false
		}
		for _, x := range terms {
			i := slices.IndexFunc(s.wrote[n], func(t term) bool { return w.book[t.species].Same(x.Species) })
			if i < 0 {
				return false
			}
			r := s.wrote[n][i].n.Quo(x.Coefficient)
			if k.Sign() != 0 && !r.Equal(k) {
				return false
			}
			k = r
		}
	}
	return k.Sign() > 0
}

// A rung is how far a half is balanced.
type rung int

const (
	noRung rung = iota
	bareRung
	atomsRung
	electronsFirst
	oxygenRung
	hydrogenRung
	chargeRung
)

// rungOf returns the rung of a half on which a statement is true. One that has
// another form of a species is true with the hydrogen ions and the water that this
// takes, or as if it were the half's own.
func (w *working) rungOf(s *statement) rung {
	r := w.rungOfVector(s)
	if r == noRung && s.plain != nil {
		t := *s
		t.vector = s.plain
		r = w.rungOfVector(&t)
	}
	if r == noRung && w.closesWithOthers(s) {
		return chargeRung
	}
	return r
}

// turned returns a statement with its sides exchanged.
func turned(s *statement) *statement {
	t := *s
	t.left, t.right, t.plain = s.right, s.left, nil
	t.vector = make([]chem.Ratio, len(s.vector))
	for i, n := range s.vector {
		t.vector[i] = n.Neg()
	}
	return &t
}

// closesWithOthers reports whether a half is balanced with substances of the
// question that neither half has, as ammonium ions that give hydrogen ions: its own
// species and its electrons in proportion, every atom and the charge conserved.
func (w *working) closesWithOthers(s *statement) bool {
	h := w.q.halves[s.thread]
	if len(h.mains) == 0 || s.at(electron).Sign() == 0 {
		return false
	}
	k := s.at(h.mains[0]).Quo(h.vector[h.mains[0]])
	if k.Sign() <= 0 || !s.at(electron).Equal(h.vector[electron].Mul(k)) {
		return false
	}
	for i := firstOwn; i < len(s.vector); i++ {
		switch {
		case slices.Contains(h.mains, i):
			if !s.at(i).Equal(h.vector[i].Mul(k)) {
				return false
			}
		case s.at(i).Sign() != 0 && (i < len(w.q.isOwn) && w.q.isOwn[i] || !slices.ContainsFunc(w.q.solution.Skeleton.Species(), w.book[i].Same)):
			return false
		}
	}
	return !w.atomsOff(s) && w.closed(s, 0)
}

func (w *working) rungOfVector(s *statement) rung {
	h := w.q.halves[s.thread]
	own := func(i int) bool { return i < len(h.own) && h.own[i] }
	// The bare split: each of its own species once, or all as often.
	times := zero
	once := func(i int) bool {
		n := magnitude(s.at(i))
		if times.Sign() == 0 {
			times = n
		}
		return n.Equal(times)
	}
	bare := true
	for i := range max(len(s.vector), len(h.vector)) {
		want := zero
		if i < len(h.vector) {
			want = h.vector[i]
		}
		switch {
		case i >= firstOwn && want.Sign() != 0:
			bare = bare && s.at(i).Sign() == want.Sign() && once(i)
		case i < electron && own(i) && s.at(i).Sign() != 0:
			bare = bare && once(i)
		default:
			bare = bare && s.at(i).Sign() == 0
		}
	}
	if bare && (len(h.mains) > 1 || s.at(water).Sign() != 0 || s.at(hydron).Sign() != 0 || s.at(hydroxide).Sign() != 0) {
		return bareRung
	}
	k, ok := w.proportion(s, h.vector)
	if len(h.mains) == 0 {
		k, ok = w.mediumProportion(s, h.vector)
	}
	if !ok || k.Sign() < 0 {
		return noRung
	}
	got, want := helperOf(s.vector), helperOf(h.vector).times(k)
	e := got.electron.Sign() != 0
	switch {
	case got.equal(want):
		return chargeRung
	case !e && got.water.Equal(want.water) && got.hydron.Equal(want.hydron):
		return hydrogenRung
	case !e && got.water.Equal(want.water) && got.hydron.Sign() == 0:
		return oxygenRung
	case !e && got.water.Sign() == 0 && got.hydron.Sign() == 0:
		return atomsRung
	case e && got.electron.Equal(want.electron) && s.at(water).Sign() == 0 && s.at(hydron).Sign() == 0 && s.at(hydroxide).Sign() == 0:
		return electronsFirst
	case e && got.electron.Equal(want.electron) && s.at(water).Sign() == 0 && !(has(s.left, water) && has(s.right, water)) && w.closed(s, 0):
		return electronsFirst
	case !e && w.ownMedium(s, h, k):
		return atomsRung
	}
	return noRung
}

// ownMedium reports whether all that stands beside the half's species is its own
// water or ions, which claim nothing by standing there once.
func (w *working) ownMedium(s *statement, h half, k chem.Ratio) bool {
	for i := water; i <= electron; i++ {
		n := s.at(i)
		if n.Sign() == 0 {
			continue
		}
		if i >= len(h.own) || !h.own[i] || !n.Mul(n).Equal(chem.Whole(1)) {
			return false
		}
	}
	return true
}

// mediumProportion is proportion for a half of water and its ions alone.
func (w *working) mediumProportion(s *statement, v []chem.Ratio) (chem.Ratio, bool) {
	if w.hasMains(s) {
		return zero, false
	}
	for i := water; i < electron; i++ {
		if i < len(v) && v[i].Sign() != 0 && s.at(i).Sign() != 0 {
			return s.at(i).Quo(v[i]), true
		}
	}
	return zero, false
}

// hasMains reports whether a statement has more than water and its ions.
func (w *working) hasMains(s *statement) bool {
	return slices.ContainsFunc(s.vector[min(firstOwn, len(s.vector)):], func(n chem.Ratio) bool { return n.Sign() != 0 })
}

// follows returns the earlier statements from which s is a legal move, nil where
// it is none.
func (w *working) follows(s *statement, before []*judged) []*judged {
	for i := len(before) - 1; i >= 0; i-- {
		p := before[i]
		// A step from a line that is right would be right itself.
		if p.thread != s.thread || p.verdict != Slips && p.verdict != Follows || p.holds {
			continue
		}
		if w.moves(p.statement, s) {
			return []*judged{p}
		}
	}
	if s.thread == overall {
		if from, _ := w.sumOf(s, before, true); from != nil {
			return from
		}
	}
	return nil
}

// moves reports whether s is a legal move from p in one thread: a multiple, or a
// helper added so that its law holds.
func (w *working) moves(p, s *statement) bool {
	k, ok := w.proportion(s, p.vector)
	if !w.hasMains(p) {
		k, ok = w.mediumProportion(s, p.vector)
	}
	if !ok && w.coefficientsSet(p, s) {
		k, ok = chem.Whole(1), true
	}
	if !ok || k.Sign() < 0 {
		return false
	}
	was, now := helperOf(p.vector).times(k), helperOf(s.vector)
	if was.equal(now) {
		// What stood on both sides may go, and water may form.
		return true
	}
	if s.thread == overall {
		return false
	}
	if !was.water.Equal(now.water) && (was.water.Sign() != 0 || !w.closed(s, chem.O)) {
		return false
	}
	if !was.hydron.Equal(now.hydron) && (was.hydron.Sign() != 0 || !w.closed(s, chem.H)) {
		return false
	}
	if !was.electron.Equal(now.electron) && (was.electron.Sign() != 0 || !w.closed(s, 0)) {
		return false
	}
	return true
}

// coefficientsSet reports whether s is p, with each species once, given the
// coefficients that balance the elements other than oxygen and hydrogen.
func (w *working) coefficientsSet(p, s *statement) bool {
	if s.thread == overall {
		return false
	}
	for i := range max(len(p.vector), len(s.vector)) {
		x, y := p.at(i), s.at(i)
		switch {
		case i < firstOwn && x.Sign() != 0, i >= firstOwn && x.Sign() != y.Sign(), x.Sign() != 0 && !x.Mul(x).Equal(chem.Whole(1)):
			return false
		}
	}
	for _, e := range w.elements(s) {
		if e != chem.O && e != chem.H && !w.closed(s, e) {
			return false
		}
	}
	return true
}

// sumOf returns the halves whose sum, each times a number, a whole statement is,
// and the numbers. With strict the electrons must vanish and all else agree.
func (w *working) sumOf(s *statement, before []*judged, strict bool) (from []*judged, times []chem.Ratio) {
	if len(w.q.halves) == 0 {
		return nil, nil
	}
	// Of each half the latest statement, then the ones before it.
	lists := make([][]*judged, len(w.q.halves))
	for i := len(before) - 1; i >= 0; i-- {
		if b := before[i]; b.thread >= 0 && b.verdict != Elsewhere && b.verdict != Comment {
			if len(lists[b.thread]) < 6 {
				lists[b.thread] = append(lists[b.thread], b)
			}
		}
	}
	for _, l := range lists {
		if len(l) == 0 {
			return nil, nil
		}
	}
	pick := make([]*judged, len(lists))
	var try func(k int) bool
	try = func(k int) bool {
		if k == len(lists) {
			t, ok := w.weights(s, pick)
			if !ok {
				return false
			}
			if strict && (!slices.ContainsFunc(pick, func(p *judged) bool { return !p.holds || p.verdict == Slips }) || !w.isSum(s, pick, t)) {
				return false
			}
			from, times = slices.Clone(pick), t
			return true
		}
		for _, b := range lists[k] {
			pick[k] = b
			if try(k + 1) {
				return true
			}
		}
		return false
	}
	if try(0) {
		return from, times
	}
	return nil, nil
}

// weights returns how often each statement is taken, by a species that it alone
// has.
func (w *working) weights(s *statement, pick []*judged) ([]chem.Ratio, bool) {
	t := make([]chem.Ratio, len(pick))
	for k, p := range pick {
		for i := firstOwn; i < len(p.vector); i++ {
			if p.vector[i].Sign() == 0 {
				continue
			}
			alone := true
			for j, q := range pick {
				alone = alone && (j == k || q.at(i).Sign() == 0)
			}
			if alone && s.at(i).Sign() != 0 {
				t[k] = s.at(i).Quo(p.vector[i])
				break
			}
		}
	}
	// A half that has no such species, as one that lost a term, by its electrons.
	for k, p := range pick {
		if t[k].Sign() == 0 && p.at(electron).Sign() != 0 {
			others := zero
			for j, q := range pick {
				others = others.Add(q.at(electron).Mul(t[j]))
			}
			t[k] = others.Quo(p.at(electron)).Neg()
		}
		if t[k].Sign() <= 0 {
			return nil, false
		}
	}
	return t, true
}

// sum adds statements, each times a number.
func sum(pick []*judged, times []chem.Ratio) []chem.Ratio {
	var out []chem.Ratio
	for k, p := range pick {
		for i, x := range p.vector {
			for len(out) <= i {
				out = append(out, zero)
			}
			out[i] = out[i].Add(x.Mul(times[k]))
		}
	}
	return out
}

// isSum reports whether s is the sum, without electrons.
func (w *working) isSum(s *statement, pick []*judged, times []chem.Ratio) bool {
	total := sum(pick, times)
	if total[electron].Sign() != 0 {
		// Electrons that a slip in a half left over are not charged again where
		// they were carried along.
		dropped := s.at(electron).Sign() == 0 && charged(UnequalElectrons, pick)
		if !w.electronsCannotVanish(pick) || !dropped && !s.at(electron).Equal(total[electron]) {
			return false
		}
		total[electron] = s.at(electron)
	} else if s.at(electron).Sign() != 0 {
		return false
	}
	// Halves without their electrons add up to nothing that can be said.
	for _, p := range pick {
		if p.at(electron).Sign() == 0 {
			return false
		}
	}
	return w.agrees(s, total)
}

// agrees reports whether s is the vector, water formed or not.
func (w *working) agrees(s *statement, v []chem.Ratio) bool {
	for i := firstOwn; i < max(len(s.vector), len(v)); i++ {
		x := zero
		if i < len(v) {
			x = v[i]
		}
		if !s.at(i).Equal(x) {
			return false
		}
	}
	return helperOf(s.vector).equal(helperOf(v))
}

// purpose reports how a true statement fails its purpose; "" where it does not.
func (w *working) purpose(s *judged, before []*judged) (Kind, string) {
	if s.thread == overall {
		if s == w.answer {
			return w.settled(s.statement)
		}
		return "", ""
	}
	if w.q.medium == redox.Acidic && !w.ownsHydroxide(s.thread) && (has(s.left, hydroxide) || has(s.right, hydroxide)) && (has(s.left, hydron) || has(s.right, hydron)) {
		return OxygenWithoutWater, "hydroxide ions stand in this half, and the solution is acidic: water brings the oxygen"
	}
	return w.multiplied(s.statement, before)
}

func (w *working) ownsHydroxide(thread int) bool {
	own := w.q.halves[thread].own
	return hydroxide < len(own) && own[hydroxide]
}

// multiplied reports whether a complete half was taken a number of times that
// cannot make the electrons equal.
func (w *working) multiplied(s *statement, before []*judged) (Kind, string) {
	e := magnitude(s.at(electron))
	if e.Sign() == 0 {
		return "", ""
	}
	var base chem.Ratio // the electrons of the half before it was multiplied
	var others []int64  // the electrons of the other half, as the student and as the question has them
	for _, b := range before {
		x := magnitude(b.at(electron))
		if b.thread < 0 || x.Sign() == 0 || !(b.isRight() || b.verdict == Follows || b.verdict == Slips) {
			continue
		}
		if b.thread == s.thread {
			if k, ok := w.proportion(s, b.vector); ok && k.Sign() > 0 && helperOf(b.vector).times(k).equal(helperOf(s.vector)) && (base.Sign() == 0 || x.Cmp(base) < 0) {
				base = x
			}
		} else if x.IsWhole() {
			others = append(others, x.Num())
		}
	}
	if base.Sign() == 0 || base.Equal(e) || e.Cmp(base) < 0 {
		return "", ""
	}
	if s.at(electron).Equal(lowest(s.vector)[electron]) {
		return "", "" // fractions were made whole
	}
	if !e.IsWhole() || !base.IsWhole() || len(w.q.halves) != 2 {
		return "", ""
	}
	for k, h := range w.q.halves {
		if k != s.thread && h.e.IsWhole() {
			others = append(others, h.e.Num())
		}
	}
	if slices.ContainsFunc(others, func(other int64) bool {
		l, ok := chem.LCM(base.Num(), other)
		// A number on the way to it will do: it may be multiplied again.
		return !ok || e.Num()%l == 0 || l%e.Num() == 0
	}) {
		return "", ""
	}
	return UnequalElectrons, fmt.Sprintf("%s electrons cannot be made equal to those of the other half, which moves %d", e, others[0])
}

func magnitude(r chem.Ratio) chem.Ratio {
	if r.Sign() < 0 {
		return r.Neg()
	}
	return r
}

// settled reports what is left to do in the answer; "" for nothing.
func (w *working) settled(s *statement) (Kind, string) {
	left, right := s.wrote[0], s.wrote[1]
	both := func(i int) bool { return has(left, i) && has(right, i) }
	if has(left, electron) || has(right, electron) {
		return ElectronsKept, "electrons stand in the answer"
	}
	if (has(left, hydron) || has(right, hydron)) && (has(left, hydroxide) || has(right, hydroxide)) {
		return WaterUncombined, "hydrogen ions and hydroxide ions stand in the answer together"
	}
	if w.q.inBase() && (has(left, hydron) || has(right, hydron)) {
		return HydrogenInBase, "hydrogen ions stand in the answer, and the solution is basic"
	}
	if !w.q.inBase() && (has(left, hydroxide) || has(right, hydroxide)) {
		return HydroxideOneSide, "hydroxide ions stand in the answer, and the solution is not basic"
	}
	if both(water) {
		return WaterUncombined, "water stands on both sides of the answer"
	}
	for i := range w.book {
		if both(i) {
			return UnevenCancel, fmt.Sprintf("%s stands on both sides of the answer", w.book[i])
		}
	}
	g, den := int64(0), int64(1)
	for _, side := range s.wrote {
		for _, t := range side {
			if l, ok := chem.LCM(den, t.n.Den()); ok {
				den = l
			}
			g = chem.GCD(g, t.n.Num())
		}
	}
	switch {
	case den > 1:
		return NotLowest, "a coefficient of the answer is not whole"
	case g > 1:
		return NotLowest, fmt.Sprintf("every coefficient of the answer can be divided by %d", g)
	}
	return "", ""
}

// isAnswer reports whether a statement is the answer, as it should stand.
func (w *working) isAnswer(s *judged) bool {
	if !w.isTrue(s.statement) {
		return false
	}
	kind, _ := w.settled(s.statement)
	return kind == ""
}
