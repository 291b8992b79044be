package redox

import (
	"errors"
	"slices"

	"halves/chem"
	"halves/oxidation"
)

// A site is the atoms of one element in one state in one species.
type site struct {
	species *chem.Species
	state   chem.Ratio
	atoms   int64 // in one formula
	average bool
}

// states looks up the states of each species once.
type stateBook struct {
	species []*chem.Species
	states  [][]oxidation.State
	open    [][]chem.Element
}

// of returns the states of s and the elements that stay open.
func (b *stateBook) of(s *chem.Species) ([]oxidation.State, []chem.Element) {
	for i, t := range b.species {
		if t == s || t.Same(s) {
			return b.states[i], b.open[i]
		}
	}
	states, err := oxidation.States(s)
	var open *oxidation.OpenError
	var elements []chem.Element
	if errors.As(err, &open) {
		elements = open.Elements
	}
	b.species = append(b.species, s)
	b.states = append(b.states, states)
	b.open = append(b.open, elements)
	return states, elements
}

// sites returns the sites of element e among species; ok is false where a
// state of e is open in one of them.
func (b *stateBook) sites(e chem.Element, species []*chem.Species) (all []site, ok bool) {
	for _, s := range species {
		states, open := b.of(s)
		if slices.Contains(open, e) {
			return nil, false
		}
		for _, st := range states {
			if st.Element != e {
				continue
			}
			for _, x := range st.Sites {
				all = append(all, site{s, x.State, x.Atoms, st.Average})
			}
		}
	}
	return all, true
}

// elements returns the elements of some species, in order of first sight.
func elements(species []*chem.Species) []chem.Element {
	var all []chem.Element
	for _, s := range species {
		for _, c := range s.Composition() {
			if !slices.Contains(all, c.Element) {
				all = append(all, c.Element)
			}
		}
	}
	return all
}

// A flow is a number of atoms of one element going from one state to another.
type flow struct {
	element  chem.Element
	from, to chem.Ratio
	atoms    chem.Ratio // in the whole equation
	left     []*chem.Species
	right    []*chem.Species
}

func (f flow) role() Role {
	if f.to.Cmp(f.from) > 0 {
		return Oxidation
	}
	return Reduction
}

// electrons returns the electrons that the flow moves, positive.
func (f flow) electrons() chem.Ratio {
	e := f.to.Sub(f.from).Mul(f.atoms)
	if e.Sign() < 0 {
		return e.Neg()
	}
	return e
}

// A level is all atoms of an element in one state on one side.
type level struct {
	state   chem.Ratio
	atoms   chem.Ratio
	species []*chem.Species
	held    []int64 // atoms of each of the species
	average bool
}

func levels(sites []site, coefficient func(*chem.Species) int64) []level {
	var out []level
	for _, s := range sites {
		n := coefficient(s.species)
		if n == 0 {
			continue
		}
		i := slices.IndexFunc(out, func(l level) bool { return l.state.Equal(s.state) })
		if i < 0 {
			i = len(out)
			out = append(out, level{state: s.state, average: true})
		}
		atoms := product(n, s.atoms)
		out[i].atoms = out[i].atoms.Add(chem.Whole(atoms))
		out[i].average = out[i].average && s.average
		out[i].species, out[i].held = append(out[i].species, s.species), append(out[i].held, atoms)
	}
	slices.SortFunc(out, func(a, b level) int { return a.state.Cmp(b.state) })
	return out
}

// flowsOf finds the changes of state in a balanced equation: for each element
// the atoms that keep their state are set aside, the others go from the
// nearest states on, so that two changes of one element do not cross. open
// lists the elements whose states the rules leave open somewhere.
func flowsOf(final tally, book *stateBook) (flows []flow, open []chem.Element) {
	left, right := final.sides()
	for _, e := range elements(append(append([]*chem.Species(nil), left...), right...)) {
		ls, ok1 := book.sites(e, left)
		rs, ok2 := book.sites(e, right)
		if !ok1 || !ok2 {
			open = append(open, e)
			continue
		}
		l := levels(ls, func(s *chem.Species) int64 { return -final.get(s) })
		r := levels(rs, func(s *chem.Species) int64 { return final.get(s) })
		for _, p := range chargedPairs(e, ls, rs) {
			n := min(product(-final.get(p.left.species), p.left.atoms), product(final.get(p.right.species), p.right.atoms))
			flows = append(flows, p.flow(e, chem.Whole(n)))
			takeFrom(l, p.left.state, n)
			takeFrom(r, p.right.state, n)
		}
		if e == chem.O {
			flows = append(flows, ozoneFlow(final, l, r)...)
		}
		flows = append(flows, transport(e, l, r)...)
	}
	return flows, open
}

// ozoneFlow sets aside what ozone does: one atom of each goes to -2, the other
// two become dioxygen, whatever else makes dioxygen in the equation.
func ozoneFlow(final tally, l, r []level) []flow {
	for _, a := range final {
		if a.n >= 0 || !isOzone(a.species) || !slices.ContainsFunc(final, func(b amount) bool { return b.n > 0 && isDioxygen(b.species) }) {
			continue
		}
		n, oxide := chem.Whole(-a.n), chem.Whole(-2)
		for _, x := range r {
			if x.state.Equal(oxide) && x.atoms.Cmp(n) >= 0 {
				takeFrom(l, chem.Whole(0), -a.n)
				takeFrom(r, oxide, -a.n)
				return []flow{{chem.O, chem.Whole(0), oxide, n, []*chem.Species{a.species}, x.species}}
			}
		}
	}
	return nil
}

// A pair is one particle before and after it lost or took up electrons and
// nothing else.
type pair struct{ left, right site }

func (p pair) flow(e chem.Element, atoms chem.Ratio) flow {
	return flow{e, p.left.state, p.right.state, atoms, []*chem.Species{p.left.species}, []*chem.Species{p.right.species}}
}

// chargedPairs finds the complexes that differ in their charge alone, such as
// Fe(CN)6^3- and Fe(CN)6^4-: beside Fe^2+ and Fe^3+ the states alone would not
// show that they change.
func chargedPairs(e chem.Element, left, right []site) []pair {
	var out []pair
	for _, l := range left {
		if len(l.species.Composition()) < 2 {
			continue
		}
		for _, r := range right {
			if l.species.Charge() != r.species.Charge() && !l.state.Equal(r.state) && l.species.Formula().String() == r.species.Formula().String() {
				out = append(out, pair{l, r})
			}
		}
	}
	if len(out) > 1 {
		return nil // several sites or several partners: left to the states
	}
	return out
}

func takeFrom(all []level, state chem.Ratio, n int64) {
	for i := range all {
		if all[i].state.Equal(state) {
			all[i].atoms = all[i].atoms.Sub(chem.Whole(n))
		}
	}
}

// transport moves the atoms of the left levels to the right ones.
func transport(e chem.Element, l, r []level) []flow {
	if onlyAverages(e, l, r) {
		return nil
	}
	for i := range l {
		for j := range r {
			if l[i].state.Equal(r[j].state) {
				n := least(l[i].atoms, r[j].atoms)
				l[i].atoms, r[j].atoms = l[i].atoms.Sub(n), r[j].atoms.Sub(n)
			}
		}
	}
	var out []flow
	for i, j := 0, 0; i < len(l) && j < len(r); {
		switch {
		case l[i].atoms.Sign() == 0:
			i++
		case r[j].atoms.Sign() == 0:
			j++
		default:
			n := least(l[i].atoms, r[j].atoms)
			out = append(out, l[i].flows(e, r[j], n)...)
			l[i].atoms, r[j].atoms = l[i].atoms.Sub(n), r[j].atoms.Sub(n)
		}
	}
	return out
}

// flows moves n atoms of a level to another: one flow for each reactant where
// all of them go there, else one for all, since it cannot be told whose they are
// (nor of water's oxygen and hydrogen, which every reactant may bring).
func (l level) flows(e chem.Element, to level, n chem.Ratio) []flow {
	total := chem.Whole(0)
	for _, k := range l.held {
		total = total.Add(chem.Whole(k))
	}
	if len(l.species) == 1 || !n.Equal(total) || ofMedium(e, l.state) {
		return []flow{{e, l.state, to.state, n, l.species, to.species}}
	}
	var out []flow
	for i, s := range l.species {
		out = append(out, flow{e, l.state, to.state, chem.Whole(l.held[i]), []*chem.Species{s}, to.species})
	}
	return out
}

// onlyAverages reports whether an element has averages on both sides, their sum
// stays the same, and its species are put together or taken apart: an ester from
// an acid and an alcohol, which averages would show as a change. Where every
// species holds as many atoms (an aldehyde to its acid and its alcohol) the
// averages tell the truth.
func onlyAverages(e chem.Element, l, r []level) bool {
	total := chem.Whole(0)
	size, mixed := int64(0), false
	for i, x := range slices.Concat(l, r) {
		if !x.average {
			return false
		}
		sum := x.state.Mul(x.atoms)
		if i < len(l) {
			sum = sum.Neg()
		}
		total = total.Add(sum)
		for _, s := range x.species {
			mixed = mixed || size != 0 && s.Atoms(e) != size
			size = s.Atoms(e)
		}
	}
	return total.Sign() == 0 && mixed
}

func least(a, b chem.Ratio) chem.Ratio {
	if a.Cmp(b) < 0 {
		return a
	}
	return b
}

// pattern finds the changes of a skeleton whose coefficients are not known:
// for each element the states that stand on both sides are set aside, the
// others are paired in order. wet adds the medium, which holds oxygen at -2 and
// hydrogen at +1 on both sides; widen lets a state that stands on both sides be
// the source or the goal of a change that would else have none of its own.
// single is false where one change has several products or several reactants.
func pattern(left, right []*chem.Species, book *stateBook, wet, widen bool) (flows []flow, single bool, open []chem.Element) {
	single = true
	one := func(*chem.Species) int64 { return 1 }
	all := append(append([]*chem.Species(nil), left...), right...)
	kinds := elements(all)
	for _, e := range kinds {
		ls, ok1 := book.sites(e, left)
		rs, ok2 := book.sites(e, right)
		if !ok1 || !ok2 {
			open = append(open, e)
			continue
		}
		for _, p := range chargedPairs(e, ls, rs) {
			flows = append(flows, p.flow(e, chem.Whole(0)))
			ls = slices.DeleteFunc(ls, func(s site) bool { return s.species == p.left.species })
			rs = slices.DeleteFunc(rs, func(s site) bool { return s.species == p.right.species })
		}
		if wet && (e == chem.O || e == chem.H) {
			m := chem.Whole(-2)
			s := chem.Water
			if e == chem.H {
				m, s = chem.Whole(1), chem.Hydron
			}
			ls = append(ls, site{s, m, 1, false})
			rs = append(rs, site{s, m, 1, false})
		}
		l, r := levels(ls, one), levels(rs, one)
		if len(l) == 0 || len(r) == 0 {
			continue // its partner is not named yet, as an acid's anion
		}
		keepL, keepR := apart(l, r), apart(r, l)
		if widen && len(keepL) > 0 && len(keepL) < len(keepR) && len(l) == len(keepR) {
			keepL = l // a state that stands on both sides may be a source too
		}
		if widen && len(keepR) > 0 && len(keepR) < len(keepL) && len(r) == len(keepL) {
			keepR = r
		}
		if len(keepL) == 0 && len(keepR) > 0 && !ofMedium(e, nearest(l, keepR[0].state).state) && holdersOf(e, right) > 1 {
			// Part of the atoms keep their state, in another product: the
			// formulas do not tell how many.
			single = false
		}
		switch {
		case len(keepL) == 0 && len(keepR) == 0:
		case len(keepR) == 0:
			for _, x := range keepL {
				y := nearest(r, x.state)
				if e == chem.O && x.state.Equal(chem.Whole(-1)) && slices.ContainsFunc(left, isOzone) {
					y = r[len(r)-1] // ozone is what is reduced, so the peroxide goes up
				}
				flows = append(flows, flow{e, x.state, y.state, chem.Whole(0), x.species, y.species})
			}
		case len(keepL) == 0:
			for _, x := range keepR {
				flows = append(flows, flow{e, nearest(l, x.state).state, x.state, chem.Whole(0), nearest(l, x.state).species, x.species})
			}
		case len(keepL) == len(keepR):
			for i, x := range keepL {
				flows = append(flows, flow{e, x.state, keepR[i].state, chem.Whole(0), x.species, keepR[i].species})
			}
		default:
			for i := range max(len(keepL), len(keepR)) {
				x, y := keepL[min(i, len(keepL)-1)], keepR[min(i, len(keepR)-1)]
				flows = append(flows, flow{e, x.state, y.state, chem.Whole(0), x.species, y.species})
			}
		}
	}
	for i, f := range flows {
		if len(f.left) > 1 && !ofMedium(f.element, f.from) || len(f.right) > 1 && !ofMedium(f.element, f.to) {
			single = false
		}
		for _, g := range flows[:i] {
			// One reactant with two products of one change.
			if f.element == g.element && f.role() == g.role() {
				single = false
			}
		}
	}
	return flows, single, open
}

// holdersOf counts the species, the medium's aside, that hold an element.
func holdersOf(e chem.Element, species []*chem.Species) int {
	n := 0
	for _, s := range species {
		if !isMedium(s) && s.Atoms(e) > 0 {
			n++
		}
	}
	return n
}

// apart returns the levels of a whose state does not stand in b.
func apart(a, b []level) []level {
	var out []level
	for _, x := range a {
		if !slices.ContainsFunc(b, func(y level) bool { return y.state.Equal(x.state) }) {
			out = append(out, x)
		}
	}
	return out
}

func nearest(all []level, state chem.Ratio) level {
	best := all[0]
	dist := func(l level) chem.Ratio {
		d := l.state.Sub(state)
		if d.Sign() < 0 {
			return d.Neg()
		}
		return d
	}
	for _, l := range all[1:] {
		if dist(l).Cmp(dist(best)) < 0 {
			best = l
		}
	}
	return best
}
