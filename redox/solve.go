package redox

import (
	"fmt"
	"slices"
	"strings"

	"halves/balance"
	"halves/chem"
)

// balanceIn asks package balance, with what the medium adds.
func (w *work) balanceIn(m Medium) (balance.Outcome, error) {
	free := slices.Clone(w.free)
	for _, s := range w.helpers(m) {
		if !slices.ContainsFunc(free, s.Same) {
			free = append(free, s)
		}
	}
	return balance.Solve(balance.Problem{Left: w.left, Right: w.right, Free: free})
}

// vector names the numbers of an outcome.
func (w *work) vector(m Medium, v []int64) tally {
	species := slices.Concat(w.left, w.right, w.free)
	for _, s := range w.helpers(m) {
		if !slices.ContainsFunc(w.free, s.Same) {
			species = append(species, s)
		}
	}
	t := make(tally, 0, len(species))
	for i, s := range species {
		t = append(t, amount{s, v[i]})
	}
	return t
}

// solve finds the final coefficients.
func (w *work) solve() error {
	if slices.ContainsFunc(w.Skeleton.Species(), (*chem.Species).IsElectron) && !w.halves {
		return w.refuse(&balance.Cause{}) // a half, by its electrons
	}
	if done, err := w.solveMolecular(); done || err != nil {
		return err
	}
	if w.Medium == Neutral {
		return w.solveNeutral()
	}
	o, err := w.balanceIn(w.Medium)
	if err != nil {
		return err
	}
	switch {
	case o.Answer != nil:
		w.final = w.vector(w.Medium, o.Answer)
		if w.waterChanges() {
			return w.refuse(&balance.Cause{})
		}
		return nil
	case o.Cause != nil:
		return w.refuse(o.Cause)
	}
	return w.several(o)
}

// waterChanges reports whether the answer makes water or its ions, which the
// question does not name, the other half of a skeleton that shows one half
// alone (O2 -> H2O2 or H2O2 -> O2 in acid, which algebra would balance with
// water as what is oxidized, or as what forms).
func (w *work) waterChanges() bool {
	if w.Medium == None {
		return false
	}
	flows, open := flowsOf(w.final, w.book)
	if len(open) > 0 {
		return false
	}
	named := func(s *chem.Species) bool {
		return !isMedium(s) || slices.ContainsFunc(w.Skeleton.Species(), s.Same)
	}
	for _, f := range flows {
		if slices.ContainsFunc(f.left, named) && slices.ContainsFunc(f.right, named) {
			continue
		}
		shown, _, _ := pattern(w.left, w.right, w.book, true, false)
		return len(shown) > 0 && !slices.ContainsFunc(shown, func(g flow) bool { return g.role() == f.role() })
	}
	return false
}

// solveNeutral adds water alone where that suffices, else hydrogen ions, and
// turns those that would stand on the left into hydroxide ions on the right.
func (w *work) solveNeutral() error {
	saved := w.free
	if !w.noHelpers {
		w.free = append(slices.Clone(saved), chem.Water)
	}
	o, err := w.balanceIn(Neutral)
	if err != nil {
		return err
	}
	if o.Answer != nil {
		w.final = w.vector(Neutral, o.Answer)
		return nil
	}
	w.free = append(slices.Clone(saved), chem.Water, chem.Hydron)
	if o, err = w.balanceIn(Neutral); err != nil {
		return err
	}
	switch {
	case o.Answer != nil:
		w.final = w.vector(Neutral, o.Answer)
	case o.Cause != nil:
		return w.refuse(o.Cause)
	default:
		if err := w.several(o); err != nil {
			return err
		}
	}
	switch n := w.final.get(chem.Hydron); {
	case n < 0:
		w.final = inBase(w.final)
		w.note(NotePH, "Hydroxide ions form: the solution becomes basic, its pH rises.")
	case n > 0:
		w.note(NotePH, "Hydrogen ions form: the solution becomes acidic, its pH falls.")
	}
	return nil
}

// inBase writes a vector with hydroxide ions for hydrogen ions: as many on
// both sides as there are hydrogen ions, each pair one water.
func inBase(t tally) tally {
	n := t.get(chem.Hydron)
	out := make(tally, 0, len(t)+1)
	for _, a := range t {
		if !a.species.Same(chem.Hydron) {
			out = append(out, a)
		}
	}
	if n != 0 {
		out = out.add(chem.Water, n)
		out = out.add(chem.Hydroxide, -n)
	}
	return out
}

// several asks the halves for an answer that algebra leaves open.
func (w *work) several(o balance.Outcome) error {
	many := &ManyAnswersError{Equation: w.Skeleton, Medium: w.Medium, Nullity: o.Nullity, Complete: o.Complete}
	m := w.Medium
	name := func(v []int64) chem.Equation { return w.vector(m, v).equation(w.Conventions.Hydronium) }
	for _, v := range o.Elementary {
		many.Elementary = append(many.Elementary, name(v))
	}
	if o.Example != nil {
		many.Example = name(o.Example)
	}
	total, all := w.byHalvesAlone(w.left, w.right, w.free, m)
	if total == nil {
		if t := w.throughIons(m); t != nil {
			w.final = t
			return nil
		}
		return many
	}
	// In the order of the skeleton.
	w.final = nil
	for _, s := range slices.Concat(w.left, w.right) {
		w.final = w.final.add(s, total.get(s))
	}
	for _, a := range total {
		if !slices.ContainsFunc(w.final, func(b amount) bool { return b.species.Same(a.species) }) {
			w.final = append(w.final, a)
		}
	}
	w.note(NoteAssumption, w.assumption(all, o))
	return nil
}

// byHalvesAlone finds one answer from the halves: one oxidation and one
// reduction, each with one product of each change and one balance of its own.
// It returns nil where there is none.
func (w *work) byHalvesAlone(left, right, free []*chem.Species, m Medium) (tally, []*component) {
	sc := scene{left: own(slices.Concat(left, free)), right: own(slices.Concat(right, free)), book: w.book}
	for _, widen := range []bool{false, true} {
		l, r := left, right
		if widen {
			l, r = sc.left, sc.right
		}
		flows, single, open := pattern(l, r, w.book, true, widen)
		if !single || len(open) > 0 {
			continue
		}
		all := components(withOzone(flows, left, right))
		if len(all) != 2 || all[0].role == all[1].role || !all[0].withHelpers(sc) || !all[1].withHelpers(sc) {
			continue
		}
		total := added(all, []int64{all[1].electrons, all[0].electrons})
		if m == Basic {
			total = inBase(total)
		}
		total = total.divided(total.factor())
		if w.usesAll(total, left, right, free, m) {
			return total, all
		}
	}
	return nil, nil
}

// usesAll reports whether a vector has every species on its side, and nothing
// that the medium does not supply.
func (w *work) usesAll(t tally, left, right, free []*chem.Species, m Medium) bool {
	for _, s := range left {
		if t.get(s) >= 0 {
			return false
		}
	}
	for _, s := range right {
		if t.get(s) <= 0 {
			return false
		}
	}
	if m == Acidic || m == Basic {
		return true
	}
	for _, a := range t {
		if isMedium(a.species) && a.n != 0 && !slices.ContainsFunc(free, a.species.Same) {
			return false
		}
	}
	return true
}

// withOzone adds the reduction of ozone to dioxygen, and its making from it:
// both are in the state 0, so the states do not show it.
func withOzone(flows []flow, left, right []*chem.Species) []flow {
	water := []*chem.Species{chem.Water}
	seen := func(s *chem.Species) bool {
		return slices.ContainsFunc(flows, func(f flow) bool { return slices.Contains(f.left, s) || slices.Contains(f.right, s) })
	}
	for _, s := range left {
		if isOzone(s) && slices.ContainsFunc(right, isDioxygen) && !seen(s) {
			flows = append(flows, flow{chem.O, chem.Whole(0), chem.Whole(-2), chem.Whole(1), []*chem.Species{s}, water})
		}
	}
	for _, s := range right {
		if isOzone(s) && slices.ContainsFunc(left, isDioxygen) && !seen(s) {
			flows = append(flows, flow{chem.O, chem.Whole(-2), chem.Whole(0), chem.Whole(1), water, []*chem.Species{s}})
		}
	}
	return flows
}

// added sums halves, each times a number; electrons are gone where the numbers
// equalize them.
func added(all []*component, times []int64) tally {
	var t tally
	for i, c := range all {
		for _, a := range c.vector {
			t = t.add(a.species, product(a.n, times[i]))
		}
	}
	out := t[:0]
	for _, a := range t {
		if a.n != 0 {
			out = append(out, a)
		}
	}
	return out
}

// contested reports whether another reactant holds the element of a flow too,
// so that the product might come from that one.
func (w *work) contested(f flow) bool {
	for _, s := range slices.Concat(w.left, w.free) {
		if s.Atoms(f.element) > 0 && !slices.ContainsFunc(f.left, s.Same) {
			return true
		}
	}
	return w.Medium != None && (f.element == chem.O || f.element == chem.H) || slices.ContainsFunc(f.left, isOzone)
}

// assumption says what the halves took for granted, and what algebra alone
// would let in.
func (w *work) assumption(all []*component, o balance.Outcome) string {
	var parts []string
	flows := slices.Concat(all[0].flows, all[1].flows)
	if some := slices.DeleteFunc(slices.Clone(flows), func(f flow) bool { return !w.contested(f) }); len(some) > 0 {
		flows = some
	}
	for _, f := range flows {
		switch from, to := own(f.left), own(f.right); {
		case len(from) == 1 && len(to) == 1:
			parts = append(parts, fmt.Sprintf("all the %s comes from %s", to[0], from[0]))
		case len(from) == 1 && isOzone(from[0]):
			parts = append(parts, "each O3 leaves one O2")
		}
	}
	text := "Atoms and charge alone leave the ratio open; the halves fix it: " + strings.Join(parts, ", ") + "."
	answer := w.final.divided(w.final.factor())
	for _, v := range o.Elementary {
		t := w.vector(w.Medium, v).divided(1)
		if len(t) < len(answer) && len(t) > 0 {
			text += fmt.Sprintf(" Algebra alone would also let in %s.", t.equation(w.Conventions.Hydronium))
			break
		}
	}
	return text
}
