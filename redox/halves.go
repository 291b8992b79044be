package redox

import (
	"slices"

	"halves/balance"
	"halves/chem"
	"halves/reference"
)

// A component is the part of a skeleton that makes one half: its species and
// the further laws that its own elements obey.
type component struct {
	role        Role
	flows       []flow
	left, right []*chem.Species // without water, H^+, OH^-
	against     []flow          // the other way, in a species that changes as one (C in SCN^-)
	vector      tally           // balanced in lowest whole numbers with water, H^+ and e^-
	electrons   int64           // in vector, positive
	byWhole     bool            // the ratio of its products is that of the whole equation
}

// isMedium reports whether a species is one that a medium supplies.
func isMedium(s *chem.Species) bool {
	return s.Same(chem.Water) || s.Same(chem.Hydron) || s.Same(chem.Hydroxide) || s.Same(chem.Hydronium)
}

// ofMedium reports whether atoms of this element and state are the medium's:
// they come from water and go into water, whatever else holds them.
func ofMedium(e chem.Element, state chem.Ratio) bool {
	return e == chem.O && state.Equal(chem.Whole(-2)) || e == chem.H && state.Equal(chem.Whole(1))
}

// components groups the flows: those that are tied by a reactant, or, for
// different elements, by a product, make one half.
func components(flows []flow) []*component {
	var all []*component
	for _, f := range flows {
		c := &component{role: f.role(), flows: []flow{f}}
		if !ofMedium(f.element, f.from) {
			c.left = own(f.left)
		}
		if !ofMedium(f.element, f.to) {
			c.right = own(f.right)
		}
		rest := all[:0:0]
		for _, d := range all {
			if d.role == c.role && d.tied(c) {
				d.flows = append(d.flows, c.flows...)
				d.left, d.right = union(d.left, c.left), union(d.right, c.right)
				c = d
			} else {
				rest = append(rest, d)
			}
		}
		all = append(rest, c)
	}
	inOrder(all)
	return all
}

// inOrder puts oxidations before reductions.
func inOrder(all []*component) {
	slices.SortStableFunc(all, func(a, b *component) int {
		switch {
		case a.role == b.role:
			return 0
		case a.role == Oxidation:
			return -1
		}
		return 1
	})
}

func own(species []*chem.Species) []*chem.Species {
	var out []*chem.Species
	for _, s := range species {
		if !isMedium(s) {
			out = append(out, s)
		}
	}
	return out
}

func (d *component) tied(c *component) bool {
	if meet(d.left, c.left) {
		return true
	}
	if meet(d.right, c.right) {
		for _, f := range d.flows {
			for _, g := range c.flows {
				if f.element != g.element {
					return true
				}
			}
		}
	}
	return false
}

func meet(a, b []*chem.Species) bool {
	return slices.ContainsFunc(a, func(s *chem.Species) bool { return slices.ContainsFunc(b, s.Same) })
}

func union(a, b []*chem.Species) []*chem.Species {
	out := slices.Clone(a)
	for _, s := range b {
		if !slices.ContainsFunc(out, s.Same) {
			out = append(out, s)
		}
	}
	return out
}

// A scene is what a component may take from: the species of the skeleton,
// without those of the medium, and their states.
type scene struct {
	left, right []*chem.Species
	book        *stateBook
	target      tally // the balanced equation, nil where it is not known yet
}

// complete adds the helpers that do not change: for an element that the half
// has on one side only, the species of the other side that holds it in the
// same state. It is false where there is none.
func (c *component) complete(sc scene) bool {
	for range len(sc.left) + len(sc.right) + 1 {
		l, r := elements(c.left), elements(c.right)
		added := false
		for _, e := range l {
			if e != chem.O && e != chem.H && !slices.Contains(r, e) {
				s := c.helper(e, c.left, sc.right, sc.book)
				if s == nil {
					return false
				}
				c.right, added = append(c.right, s), true
				break
			}
		}
		if added {
			continue
		}
		for _, e := range r {
			if e != chem.O && e != chem.H && !slices.Contains(l, e) {
				s := c.helper(e, c.right, sc.left, sc.book)
				if s == nil {
					return false
				}
				c.left, added = append(c.left, s), true
				break
			}
		}
		if !added {
			break
		}
	}
	// Ozone leaves one dioxygen for each atom of oxygen that it gives, and is
	// made from one.
	if c.role == Reduction && slices.ContainsFunc(c.left, isOzone) {
		c.right = union(c.right, only(sc.right, isDioxygen))
	}
	if c.role == Oxidation && slices.ContainsFunc(c.right, isOzone) {
		c.left = union(c.left, only(sc.left, isDioxygen))
	}
	return true
}

func only(species []*chem.Species, want func(*chem.Species) bool) []*chem.Species {
	var out []*chem.Species
	for _, s := range species {
		if want(s) {
			out = append(out, s)
		}
	}
	return out
}

func isOzone(s *chem.Species) bool    { return s.IsElement() && s.Atoms(chem.O) == 3 }
func isDioxygen(s *chem.Species) bool { return s.IsElement() && s.Atoms(chem.O) == 2 }

// helper chooses among candidates one that holds e in a state that it has in
// the half, with as few elements as possible that are new to the half.
func (c *component) helper(e chem.Element, have, candidates []*chem.Species, book *stateBook) *chem.Species {
	states, ok := book.sites(e, have)
	known := elements(append(slices.Clone(c.left), c.right...))
	var best *chem.Species
	bestNew := 1 << 30
	for _, s := range candidates {
		if s.Atoms(e) == 0 || slices.ContainsFunc(c.left, s.Same) || slices.ContainsFunc(c.right, s.Same) {
			continue
		}
		if theirs, ok2 := book.sites(e, []*chem.Species{s}); ok && ok2 {
			if !slices.ContainsFunc(theirs, func(x site) bool {
				return slices.ContainsFunc(states, func(y site) bool { return y.state.Equal(x.state) })
			}) {
				continue
			}
		}
		fresh := 0
		for _, x := range elements([]*chem.Species{s}) {
			if x != chem.O && x != chem.H && !slices.Contains(known, x) {
				fresh++
			}
		}
		if fresh < bestNew {
			best, bestNew = s, fresh
		}
	}
	return best
}

// laws returns the further laws of the half over left, right and n free
// species: the atoms of oxygen or hydrogen that change and are not the medium's
// go from the reactant to the product; ozone gives one dioxygen.
func (c *component) laws(book *stateBook, free int) [][]int64 {
	species := append(slices.Clone(c.left), c.right...)
	var rows [][]int64
	for _, f := range c.flows {
		if f.element != chem.O && f.element != chem.H || ofMedium(f.element, f.from) || ofMedium(f.element, f.to) {
			continue
		}
		row := make([]int64, len(species)+free)
		for i, s := range species {
			want := f.from
			if i >= len(c.left) {
				want = f.to
			}
			row[i] = atomsIn(book, f.element, s, want)
		}
		rows = append(rows, row)
	}
	for i, s := range c.left {
		for j, t := range c.right {
			if isOzone(s) && isDioxygen(t) || isDioxygen(s) && isOzone(t) {
				row := make([]int64, len(species)+free)
				row[i], row[len(c.left)+j] = 1, 1
				rows = append(rows, row)
			}
		}
	}
	return rows
}

// atomsIn counts the atoms of e in s that are in one state.
func atomsIn(book *stateBook, e chem.Element, s *chem.Species, state chem.Ratio) int64 {
	all, _ := book.sites(e, []*chem.Species{s})
	n := int64(0)
	for _, x := range all {
		if x.state.Equal(state) {
			n += x.atoms
		}
	}
	return n
}

// solve balances the half with water, hydrogen ions and electrons. It is false
// where that has no answer or several.
func (c *component) solve(book *stateBook) bool {
	free := []*chem.Species{chem.Water, chem.Hydron, chem.Electron}
	p := balance.Problem{Left: c.left, Right: c.right, Free: free, Extra: c.laws(book, len(free))}
	o, err := balance.Solve(p)
	if err != nil || o.Answer == nil {
		return false
	}
	return c.take(p, o.Answer)
}

func (c *component) take(p balance.Problem, v []int64) bool {
	species := append(append(append([]*chem.Species(nil), p.Left...), p.Right...), p.Free...)
	c.vector = nil
	for i, s := range species {
		if v[i] != 0 {
			c.vector = c.vector.add(s, v[i])
		}
	}
	e := c.vector.get(chem.Electron)
	switch {
	case e > 0 && c.role == Oxidation:
		c.electrons = e
	case e < 0 && c.role == Reduction:
		c.electrons = -e
	default:
		return false
	}
	return true
}

// solveAll balances every component, with helpers from the scene. Where a
// half cannot stand by itself it is tried with carriers, and with the other
// change of the same reactant.
func solveAll(all []*component, sc scene) ([]*component, bool) {
	var done, stuck []*component
	for _, c := range all {
		left, right := c.left, c.right
		if c.withHelpers(sc) {
			done = append(done, c)
			continue
		}
		if c.byCarriers(sc) {
			done = append(done, c)
			continue
		}
		c.left, c.right = left, right
		if c.byTarget(sc, all) {
			done = append(done, c)
			continue
		}
		c.left, c.right = left, right
		stuck = append(stuck, c)
	}
	ok := len(stuck) == 0
	if !ok {
		done, ok = asOne(all, sc)
	}
	for _, c := range done { // in the order of the question
		slices.SortStableFunc(c.left, func(a, b *chem.Species) int { return position(sc.left, a) - position(sc.left, b) })
		slices.SortStableFunc(c.right, func(a, b *chem.Species) int { return position(sc.right, a) - position(sc.right, b) })
	}
	return done, ok
}

// byTarget balances a half with several products of one change (HSO4^- and
// SO4^2- from HSO3^-): their ratio is that of the whole equation, where no
// other half shares them.
func (c *component) byTarget(sc scene, all []*component) bool {
	if sc.target == nil || !c.complete(sc) {
		return false
	}
	for _, d := range all {
		if d != c && (meet(c.left, d.left) || meet(c.right, d.right)) {
			return false
		}
	}
	free := []*chem.Species{chem.Water, chem.Hydron, chem.Electron}
	species := slices.Concat(c.left, c.right)
	p := balance.Problem{Left: c.left, Right: c.right, Free: free, Extra: c.laws(sc.book, len(free))}
	for i := 1; i < len(species); i++ {
		m, n := sc.target.get(species[i-1]), sc.target.get(species[i])
		if m == 0 || n == 0 {
			return false
		}
		row := make([]int64, len(species)+len(free))
		row[i-1], row[i] = n, -m
		p.Extra = append(p.Extra, row)
	}
	o, err := balance.Solve(p)
	c.byWhole = err == nil && o.Answer != nil && c.take(p, o.Answer)
	return c.byWhole
}

// position returns the place of s, or the end for what is not there.
func position(all []*chem.Species, s *chem.Species) int {
	if i := slices.IndexFunc(all, s.Same); i >= 0 {
		return i
	}
	return len(all)
}

// asOne joins an oxidation with a reduction that starts from the same
// reactant, as in SCN^- -> SO4^2- + HCN: together they are one half, whose
// role its electrons tell.
func asOne(all []*component, sc scene) ([]*component, bool) {
	for i, c := range all {
		for j, d := range all {
			if i == j || c.role == d.role || !meet(c.left, d.left) {
				continue
			}
			one := &component{role: c.role, flows: c.flows, against: d.flows, left: union(c.left, d.left), right: union(c.right, d.right)}
			if !one.withHelpers(sc) {
				continue
			}
			rest := []*component{one}
			for k, x := range all {
				if k != i && k != j {
					rest = append(rest, x)
				}
			}
			for _, x := range rest[1:] {
				if x.role == one.role || one.couples(x) || !x.withHelpers(sc) {
					return nil, false
				}
			}
			if len(rest) < 2 {
				return nil, false
			}
			inOrder(rest)
			return rest, true
		}
	}
	return nil, false
}

// couples reports whether two halves put atoms of one element into the same
// particle, as NH2Cl and NH3 do into N2H4: then neither stands by itself.
func (c *component) couples(d *component) bool {
	for _, f := range slices.Concat(c.flows, c.against) {
		for _, g := range d.flows {
			if f.element != g.element {
				continue
			}
			for _, s := range f.right {
				if s.Atoms(f.element) > 1 && slices.ContainsFunc(g.right, s.Same) {
					return true
				}
			}
		}
	}
	return false
}

// withHelpers balances the half with the helpers that its elements call for
// and, where those do not suffice, with one more species of the scene (the Cl^-
// of PtCl6^2- -> PtCl4^2-). Where it fails the half is left as it was.
func (c *component) withHelpers(sc scene) bool {
	left, right := c.left, c.right
	if c.complete(sc) {
		if c.solve(sc.book) {
			return true
		}
		l, r := c.left, c.right
		for _, s := range sc.right {
			if !slices.ContainsFunc(r, s.Same) && shareElement(l, s) {
				if c.left, c.right = l, append(slices.Clone(r), s); c.solve(sc.book) {
					return true
				}
			}
		}
		for _, s := range sc.left {
			if !slices.ContainsFunc(l, s.Same) && shareElement(r, s) {
				if c.left, c.right = append(slices.Clone(l), s), r; c.solve(sc.book) {
					return true
				}
			}
		}
	}
	c.left, c.right = left, right
	return false
}

// moved returns the electrons that the half moves in the whole equation.
func (c *component) moved() chem.Ratio {
	e := chem.Whole(0)
	for _, f := range c.flows {
		e = e.Add(f.electrons())
	}
	for _, f := range c.against {
		e = e.Sub(f.electrons())
	}
	return e
}

// byCarriers balances a half that needs a simple ion or ligand which the other
// half gives back: CN^- for [Ag(CN)2]^- -> Ag beside Zn -> [Zn(CN)4]^2-. The
// carrier may stand on either side and must cancel when the halves are added.
func (c *component) byCarriers(sc scene) bool {
	carriers := carriersOf(slices.Concat(sc.left, sc.right))
	carriers = slices.DeleteFunc(carriers, func(s *chem.Species) bool {
		return slices.ContainsFunc(c.left, s.Same) || slices.ContainsFunc(c.right, s.Same) || !shareElement(slices.Concat(c.left, c.right), s)
	})
	if len(carriers) == 0 {
		return false
	}
	free := append([]*chem.Species{chem.Water, chem.Hydron, chem.Electron}, carriers...)
	p := balance.Problem{Left: c.left, Right: c.right, Free: free, Extra: c.laws(sc.book, len(free))}
	o, err := balance.Solve(p)
	if err != nil || o.Answer == nil || !c.take(p, o.Answer) {
		return false
	}
	for _, s := range carriers {
		switch n := c.vector.get(s); {
		case n < 0:
			c.left = append(c.left, s)
		case n > 0:
			c.right = append(c.right, s)
		}
	}
	return true
}

// carriersOf lists the ligands in brackets and the halide ions of some species.
func carriersOf(species []*chem.Species) []*chem.Species {
	var out []*chem.Species
	add := func(s *chem.Species) {
		if !isMedium(s) && !slices.ContainsFunc(out, s.Same) {
			out = append(out, s)
		}
	}
	var walk func(units []chem.Unit)
	walk = func(units []chem.Unit) {
		for _, u := range units {
			switch {
			case u.Group != nil:
				if c, ok := chem.CompositionOf(u.Group); ok && len(c) > 1 {
					for _, charge := range []int64{-1, 0, -2} {
						if found := reference.Species().Isomers(c, charge); len(found) > 0 {
							add(found[0].Species)
							break
						}
					}
				}
				walk(u.Group)
			case u.Element == chem.F || u.Element == chem.Cl || u.Element == chem.Br || u.Element == chem.I:
				if s, ok := chem.NewSpecies(chem.Formula{Parts: []chem.Part{{Count: 1, Units: []chem.Unit{{Element: u.Element, Count: 1}}}}}, -1, chem.NoPhase); ok {
					add(s)
				}
			}
		}
	}
	for _, s := range species {
		for _, p := range s.Formula().Parts {
			walk(p.Units)
		}
	}
	return out
}
