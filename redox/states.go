package redox

import (
	"fmt"
	"slices"
	"strings"

	"halves/balance"
	"halves/chem"
)

// The method by oxidation states: total loss is made equal to total gain, which
// fixes the numbers of the species that change; the rest follows by counting.
// Every number is counted here again and must be that of the final equation.

// A states is a solution being written by oxidation states.
type states struct {
	*work
	now  line                   // the line as it stands
	set  map[*chem.Species]bool // whose number is settled
	side map[*chem.Species]int64
}

// byStates presents the solution by oxidation states.
func (w *work) byStates(flows []flow) error {
	all := components(flows)
	for _, c := range all {
		w.changeStep(c)
	}
	if len(all) > 2 {
		w.note(NoteTie, "More than one element is oxidized or reduced; their ratio is fixed by the formulas, since every atom must be accounted for.")
	}
	s := &states{work: w, set: map[*chem.Species]bool{}}
	s.start()
	s.equalize(all, flows)
	var err error
	if w.Medium == None || w.molecular {
		err = s.count(nil)
	} else {
		err = s.inMedium()
	}
	if err != nil {
		return err
	}
	if !sameVector(s.now.vector(), w.final) {
		return w.disagree("by oxidation states", s.now.equation(false))
	}
	w.check()
	return nil
}

func (w *work) disagree(method string, got chem.Equation) error {
	return &InternalError{w.Given, fmt.Sprintf("%s gives %s, the exact balance %s", method, got, w.Equation)}
}

// changeStep writes what one half's elements lose or gain.
func (w *work) changeStep(c *component) {
	h := Half{Role: c.role, Multiplier: 1}
	total := chem.Whole(0)
	parts := make([]string, len(c.flows))
	for i, f := range c.flows {
		total = total.Add(f.electrons())
		h.Changes = append(h.Changes, w.change(f))
		parts[i] = fmt.Sprintf("%s goes from %s to %s, %s %s", f.element, w.Conventions.State(f.from), w.Conventions.State(f.to), verb(c.role), electronsFor(f.to.Sub(f.from)))
		if s, n := w.carrier(f); s != nil && n > 1 {
			parts[i] += fmt.Sprintf(", %s for the %d in %s", magnitude(f.to.Sub(f.from).Mul(chem.Whole(n))), n, s)
		}
	}
	if total.IsWhole() {
		h.Electrons = total.Num()
	}
	reason := strings.Join(parts, "; ")
	if s, n := w.perUnit(c); s != nil && len(c.flows) > 1 {
		reason += fmt.Sprintf(": %s for each %s", magnitude(n), s)
	}
	w.Steps = append(w.Steps, Step{Rule: ChangesOfState, Half: len(w.Halves), Done: true, Reason: reason})
	w.Halves = append(w.Halves, h)
}

func verb(r Role) string {
	if r == Oxidation {
		return "a loss of"
	}
	return "a gain of"
}

func electronsFor(n chem.Ratio) string {
	text := fmt.Sprintf("%s electron%s for each atom", magnitude(n), plural(n))
	if !n.IsWhole() {
		text += " on average"
	}
	return text
}

// carrier returns the one reactant whose atoms a flow moves, all of them, and
// how many one formula holds; nil where there is no such reactant.
func (w *work) carrier(f flow) (*chem.Species, int64) {
	if len(f.left) != 1 || ofMedium(f.element, f.from) {
		return nil, 0
	}
	s := f.left[0]
	n := atomsIn(w.book, f.element, s, f.from)
	if n == 0 || !f.atoms.Equal(chem.Whole(product(-w.final.get(s), n))) {
		return nil, 0
	}
	return s, n
}

// perUnit returns the reactant in which all that a half changes is held, and
// the electrons that one formula of it loses or gains; nil where there is none.
func (w *work) perUnit(c *component) (*chem.Species, chem.Ratio) {
	var unit *chem.Species
	total := chem.Whole(0)
	for _, f := range c.flows {
		s, n := w.carrier(f)
		if s == nil || unit != nil && unit != s {
			return nil, total
		}
		unit = s
		total = total.Add(f.to.Sub(f.from).Mul(chem.Whole(n)))
	}
	return unit, total
}

// start takes the skeleton, without what the medium supplies, as the first
// line.
func (s *states) start() {
	s.side = map[*chem.Species]int64{}
	for _, a := range s.final {
		s.side[a.species] = 1
		if a.n < 0 {
			s.side[a.species] = -1
		}
		if s.Medium != None && !s.molecular && isMedium(a.species) {
			continue
		}
		s.put(a.species, 1)
	}
}

// put gives a species its number on its side.
func (s *states) put(x *chem.Species, n int64) {
	side := &s.now.right
	if s.side[x] < 0 {
		side = &s.now.left
	}
	out := slices.Clone(*side)
	for i := range out {
		if out[i].species.Same(x) && out[i].species.Phase() == x.Phase() {
			out[i].n = n
			*side = out
			return
		}
	}
	*side = append(out, amount{x, n})
}

// number returns the final number of a species, positive.
func (s *states) number(x *chem.Species) int64 { return s.side[x] * s.final.get(x) }

// equalize gives the species that change the numbers that make loss and gain
// equal. A species of which only a part changes has the number of that part.
func (s *states) equalize(all []*component, flows []flow) {
	part := map[*chem.Species]int64{}
	for _, f := range flows {
		for _, x := range []struct {
			state   chem.Ratio
			species []*chem.Species
		}{{f.from, f.left}, {f.to, f.right}} {
			if ofMedium(f.element, x.state) && !s.alone(f.element, x.species) || len(x.species) != 1 {
				continue
			}
			one := x.species[0]
			k := atomsIn(s.book, f.element, one, x.state)
			n := f.atoms.Quo(chem.Whole(max(k, 1)))
			// A species that two changes share has the atoms of both.
			for _, g := range flows {
				if g.element == f.element && !sameFlow(g, f) && (slices.Contains(g.left, one) && slices.Contains(f.left, one) && g.from.Equal(f.from) || slices.Contains(g.right, one) && slices.Contains(f.right, one) && g.to.Equal(f.to)) {
					n = n.Add(g.atoms.Quo(chem.Whole(max(k, 1))))
				}
			}
			if k > 0 && n.IsWhole() && n.Num() > 0 && n.Num() <= s.number(one) {
				part[one] = max(part[one], n.Num())
			}
		}
	}
	before := s.now
	for _, a := range s.final { // in the order of the question
		if n := part[a.species]; n > 0 {
			s.put(a.species, n)
			s.set[a.species] = n == s.number(a.species)
		}
	}
	s.step(EqualChanges, before, s.now, !sameLine(before, s.now), s.equalReason(all, before))
}

func sameFlow(a, b flow) bool {
	return a.element == b.element && a.from.Equal(b.from) && a.to.Equal(b.to) && slices.Equal(a.left, b.left) && slices.Equal(a.right, b.right)
}

// alone reports whether atoms in the medium's state are the only ones of their
// element that a change can take: hydrogen ions that become H2.
func (s *states) alone(e chem.Element, holders []*chem.Species) bool {
	return len(holders) == 1 && (s.Medium == None || e == chem.H && holders[0].Same(chem.Hydron))
}

func sameLine(a, b line) bool { return slices.Equal(a.left, b.left) && slices.Equal(a.right, b.right) }

// equalReason says how loss and gain were made equal.
func (s *states) equalReason(all []*component, before line) string {
	nothing := ""
	if sameLine(before, s.now) {
		nothing = "nothing to do: "
	}
	total := "loss and gain"
	if s.Electrons != nil {
		total = fmt.Sprintf("loss and gain are both %s", count(*s.Electrons, "electron"))
	}
	parts := make([]string, len(all))
	for i, c := range all {
		does := map[Role]string{Oxidation: "lose", Reduction: "gain"}[c.role]
		if unit, each := s.perUnit(c); unit != nil {
			if n := s.number(unit); n > 1 {
				parts[i] = fmt.Sprintf("%d %s %s %s each", n, unit, does, magnitude(each))
			} else {
				parts[i] = fmt.Sprintf("%s %ss %s", unit, does, magnitude(each))
			}
			continue
		}
		var atoms []string
		for _, f := range c.flows {
			if f.atoms.Equal(chem.Whole(1)) {
				atoms = append(atoms, fmt.Sprintf("1 atom of %s %ss %s", f.element, does, magnitude(f.to.Sub(f.from))))
				continue
			}
			atoms = append(atoms, fmt.Sprintf("%s atoms of %s %s %s each", f.atoms, f.element, does, magnitude(f.to.Sub(f.from))))
		}
		parts[i] = strings.Join(atoms, ", ")
	}
	return nothing + strings.Join(parts, ", ") + ": " + total
}

// inMedium balances the other atoms, then the charge with the medium's ions,
// then oxygen with water.
func (s *states) inMedium() error {
	before := s.now
	var why []string
	settled := func(e chem.Element, x *chem.Species, n int64) {
		why = append(why, fmt.Sprintf("%s decides: %d %s", e, n, x))
	}
	if err := s.count(settled); err != nil {
		return err
	}
	if rest := s.together(); len(rest) > 0 {
		why = append(why, "counted together: "+listed(rest))
	}
	if len(why) > 0 {
		s.step(OtherAtoms, before, s.now, true, strings.Join(why, ", "))
	} else {
		s.step(OtherAtoms, before, s.now, false, otherReason(s.work.count(s.now), false))
	}
	s.ions()
	before = s.now
	oxygen := entry(s.work.count(before), balance.Law{Element: chem.O})
	n, law := oxygen.Left.Sub(oxygen.Right), chem.O
	if s.waterByHydrogen() {
		hydrogen := entry(s.work.count(before), balance.Law{Element: chem.H})
		n, law = hydrogen.Left.Sub(hydrogen.Right).Quo(chem.Whole(2)), chem.H
	}
	if !n.IsWhole() {
		return s.disagree("by oxidation states", s.now.equation(false))
	}
	if n.Sign() != 0 {
		s.now = put(s.now, chem.Water, n.Num()+s.now.vector().get(chem.Water))
	}
	reason, done := s.addReason(law, before, s.now, chem.Water)
	s.step(Oxygen, before, s.now, done, reason)
	return nil
}

// waterByHydrogen reports whether water's number must be counted by hydrogen,
// as where oxygen is counted already by a species with a number of its own.
func (s *states) waterByHydrogen() bool {
	return s.final.get(chem.Water) != 0 && entry(s.work.count(s.now), balance.Law{Element: chem.O}).Closed()
}

// ions balances the charge with hydrogen or hydroxide ions.
func (s *states) ions() {
	before := s.now
	e := entry(s.work.count(before), balance.Charge)
	ion, missing := chem.Hydron, e.Left.Sub(e.Right) // on the right
	if s.Medium == Basic || s.final.get(chem.Hydroxide) != 0 {
		ion, missing = chem.Hydroxide, missing.Neg()
	}
	charges := fmt.Sprintf("the left has the charge %s, the right %s", minus(e.Left.Signed()), minus(e.Right.Signed()))
	if missing.Sign() == 0 {
		s.step(ChargeByIons, before, before, false, fmt.Sprintf("nothing to do: the charge is %s on each side", minus(e.Left.Signed())))
		return
	}
	s.now = put(before, ion, missing.Num()+before.vector().get(ion))
	side, n := "right", missing.Num()
	if n < 0 {
		side, n = "left", -n
	}
	name := ion.String()
	if s.Conventions.Hydronium && ion == chem.Hydron {
		name = chem.Hydronium.String()
	}
	s.step(ChargeByIons, before, s.now, true, fmt.Sprintf("%s: add %d %s on the %s", charges, n, name, side))
}

// count settles one species after another by an element that no other unsettled
// species holds. With settled it keeps to the elements that are not oxygen or
// hydrogen and tells each number; without, every number is a step.
func (s *states) count(settled func(chem.Element, *chem.Species, int64)) error {
	steps := 0
	for {
		e, x := s.next(settled != nil)
		if x == nil {
			break
		}
		before := s.now
		have := entry(s.work.count(s.now), balance.Law{Element: e})
		own := chem.Whole(product(s.current(x), x.Atoms(e)))
		short := have.Left.Sub(have.Right)
		if s.side[x] < 0 {
			short = short.Neg()
		}
		n := short.Add(own).Quo(chem.Whole(x.Atoms(e)))
		if !n.IsWhole() || n.Num() != s.number(x) {
			return s.disagree("by oxidation states", s.now.equation(false))
		}
		s.put(x, n.Num())
		s.set[x] = true
		if !entry(s.work.count(s.now), balance.Law{Element: e}).Closed() {
			return s.disagree("by oxidation states", s.now.equation(false))
		}
		changed := !sameLine(before, s.now)
		switch {
		case !changed:
		case settled != nil:
			settled(e, x, n.Num())
		default:
			steps++
			s.step(OtherNumbers, before, s.now, true, fmt.Sprintf("%s decides: %d %s", e, n.Num(), x))
		}
	}
	if settled != nil {
		return nil
	}
	before := s.now
	if rest := s.together(); len(rest) > 0 {
		s.step(OtherNumbers, before, s.now, true, "the atoms that are left, counted together: "+listed(rest))
	} else if steps == 0 {
		s.step(OtherNumbers, s.now, s.now, false, "nothing to do: every number is settled")
	}
	return nil
}

// together settles what no single element decides but several do, and returns
// the numbers that are new.
func (s *states) together() (rest []string) {
	for _, a := range s.final {
		if s.set[a.species] || s.Medium != None && !s.molecular && isMedium(a.species) {
			continue
		}
		if s.current(a.species) != s.number(a.species) {
			rest = append(rest, fmt.Sprintf("%d %s", s.number(a.species), a.species))
		}
		s.put(a.species, s.number(a.species))
		s.set[a.species] = true
	}
	return rest
}

// current returns the number that a species has in the line as it stands.
func (s *states) current(x *chem.Species) int64 {
	side := s.now.right
	if s.side[x] < 0 {
		side = s.now.left
	}
	for _, a := range side {
		if a.species.Same(x) && a.species.Phase() == x.Phase() {
			return a.n
		}
	}
	return 0
}

// next finds an element that one unsettled species alone holds, hydrogen and
// oxygen last. A species that is settled but stands there only in part is
// unsettled.
func (s *states) next(notOH bool) (chem.Element, *chem.Species) {
	var species []*chem.Species
	for _, a := range s.final {
		species = append(species, a.species)
	}
	all := elements(species)
	slices.SortStableFunc(all, func(a, b chem.Element) int { return late(a) - late(b) })
	for _, e := range all {
		if notOH && late(e) > 0 {
			continue
		}
		var only *chem.Species
		n := 0
		for _, x := range species {
			if !s.set[x] && x.Atoms(e) > 0 {
				only = x
				n++
			}
		}
		if n == 1 {
			return e, only
		}
	}
	return 0, nil
}

// late puts hydrogen, then oxygen, behind the other elements: they stand in the
// most species.
func late(e chem.Element) int {
	switch e {
	case chem.H:
		return 1
	case chem.O:
		return 2
	}
	return 0
}
