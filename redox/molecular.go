package redox

import (
	"fmt"
	"slices"
	"strings"

	"halves/balance"
	"halves/chem"
	"halves/reference"
)

// ionsOf returns the ions as which a species is written in solution, nil for
// one that is written whole.
func ionsOf(s *chem.Species) []chem.Term {
	if s.Charge() != 0 || s.Phase() == chem.Solid || s.Phase() == chem.Gas || s.Phase() == chem.Liquid {
		return nil
	}
	if e := reference.Species().Find(s); e != nil && e.Ions != nil {
		return e.Ions
	}
	// A hydrate dissolves as what it is the hydrate of.
	parts := s.Formula().Parts
	if len(parts) < 2 || waterOf(s) == 0 {
		return nil
	}
	dry, ok := chem.NewSpecies(chem.Formula{Parts: parts[:1]}, 0, chem.NoPhase)
	if !ok || parts[0].Count != 1 {
		return nil
	}
	e := reference.Species().Find(dry)
	switch {
	case e == nil || e.Soluble != "yes":
		return nil
	case e.Ions != nil:
		return e.Ions
	}
	return []chem.Term{{Coefficient: chem.Whole(1), Species: e.Species}}
}

// Ions returns what a species of a solution in water is written as: its ions, with
// the water of a hydrate, or nil for one that is written whole.
func (s *Solution) Ions(x *chem.Species) []chem.Term {
	ions := ionsOf(x)
	if ions == nil {
		return nil
	}
	ions = (&work{Solution: s}).splitSulfate(x, ions)
	if k := waterOf(x); k > 0 {
		ions = append(slices.Clone(ions), chem.Term{Coefficient: chem.Whole(k), Species: chem.Water})
	}
	return ions
}

// isAcid reports whether a species is a strong acid by the table, or H2SO4 and
// HNO3 in any strength.
func isAcid(s *chem.Species) bool {
	e := reference.Species().Find(s)
	return e != nil && s.Phase() != chem.Gas && slices.ContainsFunc(e.Ions, func(t chem.Term) bool { return t.Species.Same(chem.Hydron) })
}

func isBase(s *chem.Species) bool {
	e := reference.Species().Find(s)
	return s.Same(chem.Hydroxide) || e != nil && s.Phase() != chem.Solid && s.Phase() != chem.Liquid && slices.ContainsFunc(e.Ions, func(t chem.Term) bool { return t.Species.Same(chem.Hydroxide) })
}

// wet decides whether a molecular equation takes place in water, and says why.
func (w *work) wet() (bool, string) {
	const by = "It was worked by half-reactions, with water and hydrogen ions that cancel in the end."
	if w.Medium != None {
		return true, "A medium is named, so the reaction takes place in water. " + by
	}
	var salt, acid, base, alkali, weak, fuel, solid *chem.Species
	water, waterReacts, oxygen, reactants := false, false, false, 0
	for _, a := range w.final {
		s := a.species
		water = water || s.Same(chem.Water)
		if s.Charge() != 0 {
			return true, "Ions stand in the equation, so it takes place in water. " + by
		}
		if s.Phase() == chem.Aqueous {
			return true, s.String() + " is marked (aq), so the reaction takes place in water. " + by
		}
		if isAcid(s) {
			acid = s
		}
		if isBase(s) {
			base = s
		}
		entry := reference.Species().Find(s)
		metalOxide := entry != nil && entry.Soluble == "no" && len(s.Composition()) > 1 && s.Atoms(chem.O) > 0
		if a.n > 0 {
			if metalOxide && entry.Ions == nil && s.Composition().Only(chem.O, otherThan(s, chem.O)) {
				solid = s
			}
			continue
		}
		reactants++
		switch {
		case isAcid(s):
			return true, s.String() + " is a strong acid, so the reaction takes place in water or in the acid. " + by
		case isBase(s):
			alkali = s
		case s.Same(chem.Water):
			waterReacts = s.Phase() != chem.Gas
		case isDioxygen(s):
			oxygen = true
		case isWeakAcid(s):
			weak = s
		case ionsOf(s) != nil:
			salt = s
		case s.IsElement() && burnsDry(s.Composition()[0].Element):
			fuel = s
		case metalOxide:
			solid = s
		}
	}
	switch {
	case alkali != nil && oxygen && solid != nil && !waterReacts:
		return false, fmt.Sprintf("%s with oxygen and %s is a melt, not a solution, so the changes are followed by oxidation states in place of the water and hydrogen-ion steps.", alkali, solid)
	case alkali != nil:
		return true, alkali.String() + " is a strong base, so the reaction takes place in water. " + by
	case waterReacts && base != nil:
		return true, fmt.Sprintf("Water reacts and %s dissolves in it. ", base) + by
	case weak != nil && reactants > 1 && !oxygen:
		return true, weak.String() + " is an acid, so the reaction takes place in water. " + by
	case acid != nil && water:
		return true, acid.String() + " and water stand in the equation, so it takes place in water. " + by
	case base != nil && water && fuel == nil:
		return true, base.String() + " and water stand in the equation, so it takes place in water. " + by
	case salt != nil && fuel == nil && solid == nil && reactants > 1 && !oxygen:
		return true, salt.String() + " dissolves as ions, so the reaction was taken to be in water. " + by
	}
	return false, "Nothing says that it takes place in water, so the changes are followed by oxidation states in place of the water and hydrogen-ion steps."
}

// otherThan returns the element of a compound of two that is not e.
func otherThan(s *chem.Species, e chem.Element) chem.Element {
	for _, c := range s.Composition() {
		if c.Element != e {
			return c.Element
		}
	}
	return e
}

// isWeakAcid reports whether the table calls a species an acid.
func isWeakAcid(s *chem.Species) bool {
	e := reference.Species().Find(s)
	return e != nil && e.Soluble == "yes" && slices.ContainsFunc(e.Names, func(n string) bool { return strings.HasSuffix(n, " acid") })
}

// burnsDry names the elements that react with water or, as solids, with molten
// salts, so that a salt beside them is not dissolved (common practice, no source).
func burnsDry(e chem.Element) bool {
	switch e.Symbol() {
	case "Li", "Na", "K", "Rb", "Cs", "Ca", "Sr", "Ba", "C", "S", "P", "Si", "B":
		return true
	}
	return false
}

// ionic writes a balanced molecular equation as its net ionic one.
func (w *work) ionic(final tally) tally { return nonZero(w.allIons(final).vector()) }

// splitSulfate writes sulfuric acid as two hydrogen ions and sulfate where no
// hydrogensulfate stands in the question, as courses do.
func (w *work) splitSulfate(s *chem.Species, ions []chem.Term) []chem.Term {
	if s.Key() != "H2SO4" {
		return ions
	}
	for _, t := range w.Skeleton.Terms {
		if t.Species.Key() != "H2SO4" {
			for _, i := range ionsOf(t.Species) {
				if i.Species.Key() == "HSO4^-" {
					return ions
				}
			}
		}
	}
	sulfate := Sulfate()
	return []chem.Term{{Coefficient: chem.Whole(2), Species: chem.Hydron}, {Coefficient: chem.Whole(1), Species: sulfate}}
}

// Sulfate returns the sulfate ion.
func Sulfate() *chem.Species {
	r, err := chem.ReadSpecies("SO4^2-", nil)
	if err != nil {
		panic(err) // a constant
	}
	return r[0].Species
}

// writeIons writes the first lines of a molecular equation: all as ions, then
// without the spectators. What is written as ions, and what whole, is said.
func (w *work) writeIons(target, molecular tally) {
	var full line
	var apart, dry, whole, unmarked []string
	for _, a := range molecular {
		side := &full.right
		if a.n < 0 {
			side = &full.left
		}
		ions := ionsOf(a.species)
		if ions == nil {
			*side = addOnce(*side, a.species)
			whole = append(whole, a.species.String())
			continue
		}
		if len(ions) == 1 && ions[0].Species.Charge() == 0 {
			dry = append(dry, a.species.String())
		} else {
			apart = append(apart, a.species.String())
		}
		if a.species.Phase() == chem.NoPhase {
			unmarked = append(unmarked, a.species.String())
		}
		for _, i := range w.splitSulfate(a.species, ions) {
			*side = addOnce(*side, i.Species)
		}
	}
	if len(apart)+len(dry) == 0 {
		return // nothing dissolves into ions
	}
	var net line
	for _, a := range target {
		switch {
		case a.n < 0:
			net.left = append(net.left, amount{a.species, 1})
		case a.n > 0:
			net.right = append(net.right, amount{a.species, 1})
		}
	}
	const nothing = "what takes no part is left out"
	leave := Step{Rule: LeaveOut, Half: -1, Before: full.equation(w.Conventions.Hydronium), After: net.equation(w.Conventions.Hydronium), Done: true, Reason: nothing}
	if spectators := common(full, net); len(spectators) > 0 {
		leave.Reason = fmt.Sprintf("%s on both sides alike: %s", standing(spectators), map[bool]string{true: "a spectator", false: "spectators"}[len(spectators) == 1])
	}
	if some := partly(full, net); len(some) > 0 {
		leave.Reason = strings.TrimPrefix(leave.Reason+"; ", nothing+"; ") + fmt.Sprintf("of the %s only the part that takes part is kept", listed(some))
	}
	if sameEquation(leave.Before, leave.After) {
		leave.Done, leave.Reason = false, "nothing to do: every ion takes part"
	}
	reason := fmt.Sprintf("in water %s stand%s as ions", listed(apart), singular(len(apart)))
	if len(dry) > 0 {
		reason += fmt.Sprintf("; %s give%s up water", listed(dry), singular(len(dry)))
	}
	if len(whole) > 0 {
		reason += fmt.Sprintf("; %s stay%s whole", listed(whole), singular(len(whole)))
	}
	w.Steps = append(w.Steps, Step{Rule: WriteIons, Half: -1, Before: w.Skeleton, After: leave.Before, Done: true, Reason: reason}, leave)
	if len(unmarked) > 0 {
		w.note(NoteDissolved, fmt.Sprintf("Taken as dissolved, since no state was typed: %s (by the table of species).", listed(unmarked)))
	}
}

// common lists what stands on both sides of full and not in net.
func common(full, net line) []string {
	var out []string
	for _, a := range full.left {
		if full.right.get(a.species) > 0 && net.left.get(a.species) == 0 && net.right.get(a.species) == 0 {
			out = append(out, a.species.String())
		}
	}
	return out
}

// partly lists what stands on both sides of full and on one of net.
func partly(full, net line) []string {
	var out []string
	for _, a := range full.left {
		if full.right.get(a.species) > 0 && (net.left.get(a.species) > 0) != (net.right.get(a.species) > 0) {
			out = append(out, a.species.String())
		}
	}
	return out
}

func standing(names []string) string {
	return listed(names) + " stand" + singular(len(names))
}

// restoreIons leads from the net ionic equation back to the molecular one: as
// often as the formulas need it, with the spectators, and with the ions joined.
func (w *work) restoreIons(net line, molecular tally) {
	full := w.allIons(molecular)
	if sameVector(full.vector(), molecular) {
		return // nothing dissolves into ions
	}
	now := net
	if times := nonZero(full.vector()).factor(); times > 1 {
		now = line{net.left.times(times), net.right.times(times)}
		w.step(MultiplyNet, net, now, true, fmt.Sprintf("taken %s, so that every formula of the question comes out whole", timesWord(times)))
	}
	var added []string
	for _, a := range full.left {
		if n := a.n - now.left.get(a.species); n > 0 {
			added = append(added, fmt.Sprintf("%d %s", n, a.species))
		}
	}
	if len(added) > 0 {
		w.step(RestoreSpectators, now, full, true, listed(added)+" on each side")
	} else {
		w.step(RestoreSpectators, now, full, false, "nothing to do: no ion was left out")
	}
	var joined []string
	for _, a := range molecular {
		if ionsOf(a.species) != nil {
			joined = append(joined, a.species.String())
		}
	}
	w.Steps = append(w.Steps, Step{Rule: JoinIons, Half: -1, Before: full.equation(w.Conventions.Hydronium), After: w.Equation, Done: true, Reason: "the ions stand together again as " + listed(joined)})
}

func nonZero(t tally) tally { return t.divided(1) }

// allIons writes a molecular equation as ions, spectators on both sides.
func (w *work) allIons(molecular tally) line {
	var l line
	for _, a := range molecular {
		side, n := &l.right, a.n
		if n < 0 {
			side, n = &l.left, -n
		}
		ions := ionsOf(a.species)
		if ions == nil {
			*side = side.add(a.species, n)
			continue
		}
		for _, i := range w.splitSulfate(a.species, ions) {
			*side = side.add(i.Species, product(n, i.Coefficient.Num()))
		}
		if k := waterOf(a.species); k > 0 {
			*side = side.add(chem.Water, product(n, k))
		}
	}
	return l
}

// waterOf counts the water of a hydrate, which goes into the solution.
func waterOf(s *chem.Species) int64 {
	n := int64(0)
	if parts := s.Formula().Parts; len(parts) > 1 {
		for _, p := range parts[1:] {
			if water, ok := chem.NewSpecies(chem.Formula{Parts: []chem.Part{{Count: 1, Units: p.Units}}}, 0, chem.NoPhase); ok && water.Same(chem.Water) {
				n = sum(n, p.Count)
			}
		}
	}
	return n
}

func addOnce(side tally, s *chem.Species) tally {
	if side.get(s) != 0 {
		return side
	}
	return append(side, amount{s, 1})
}

// solveMolecular answers a molecular skeleton with a medium, as
// KMnO4 + FeSO4 -> MnSO4 + Fe2(SO4)3 + K2SO4, in acid: it must stay molecular,
// so what is added is water and, where that does not suffice, the acid of an
// anion or the base of a cation that is there already. done is false where the
// skeleton is not molecular, or is better worked with ions.
func (w *work) solveMolecular() (done bool, err error) {
	if w.Medium == None {
		return false, nil
	}
	salts := false
	for _, s := range slices.Concat(w.left, w.right) {
		if s.Charge() != 0 {
			return false, nil
		}
		salts = salts || ionsOf(s) != nil
	}
	if !salts {
		return false, nil
	}
	saved, stated, notes := w.free, w.Medium, len(w.Notes)
	try := func(added ...*chem.Species) (tally, error) {
		// Neutral adds nothing by itself: what may be added is in free.
		w.free, w.Medium = append(append(slices.Clone(saved), chem.Water), added...), Neutral
		defer func() { w.free, w.Medium = saved, stated }()
		o, err := w.balanceIn(Neutral)
		switch {
		case err != nil || o.Cause != nil:
			return nil, err
		case o.Answer != nil:
			return w.vector(Neutral, o.Answer), nil
		}
		w.Notes = w.Notes[:notes]
		if w.several(o) != nil {
			return nil, nil
		}
		return w.final, nil
	}
	final, err := try()
	if err != nil {
		return false, err
	}
	if final == nil {
		var answers []tally
		var reagents []*chem.Species
		for _, s := range w.reagents() {
			t, err := try(s)
			if err != nil {
				return false, err
			}
			if t != nil && t.get(s) < 0 {
				answers, reagents = append(answers, t), append(reagents, s)
			}
		}
		switch len(answers) {
		case 0:
			return false, nil
		case 1:
			final = answers[0]
			w.note(NoteAcid, fmt.Sprintf("The question names no %s; %s was taken, whose ions are there already.", map[Medium]string{Basic: "base"}[w.Medium]+map[Medium]string{Acidic: "acid"}[w.Medium], reagents[0]))
		default:
			return false, &MediumNeededError{Equation: w.Skeleton, Reagents: reagents}
		}
	}
	w.final, w.molecular = final, true
	return true, nil
}

// reagents lists the acids of the anions, or the bases of the cations, that
// the skeleton's salts hold.
func (w *work) reagents() []*chem.Species {
	var out []*chem.Species
	partner, sign := chem.Hydron, int64(-1)
	switch w.Medium {
	case Basic:
		partner, sign = chem.Hydroxide, 1
	case Neutral:
		return nil
	}
	for _, s := range slices.Concat(w.right, w.left) {
		for _, t := range ionsOf(s) {
			ion := t.Species
			if ion.Charge()*sign <= 0 || ion.Same(partner) {
				continue
			}
			if e := electrolyte(ion, partner); e != nil && !slices.ContainsFunc(out, e.Same) && !slices.ContainsFunc(w.left, e.Same) {
				out = append(out, e)
			}
		}
	}
	return out
}

// electrolyte finds the strong acid or base that an ion makes with hydrogen or
// hydroxide ions.
func electrolyte(ion, partner *chem.Species) *chem.Species {
	n := ion.Charge()
	if n < 0 {
		n = -n
	}
	atoms := chem.Composition{}
	for _, u := range slices.Concat(ion.Composition(), partner.Composition()) {
		count := u.Atoms
		if partner.Atoms(u.Element) == u.Atoms && ion.Atoms(u.Element) == 0 {
			count *= n
		}
		atoms = append(atoms, chem.Count{Element: u.Element, Atoms: count})
	}
	// An element in both (H2PO4^- with H^+) would stand twice.
	slices.SortFunc(atoms, func(a, b chem.Count) int { return int(a.Element) - int(b.Element) })
	for i := 1; i < len(atoms); i++ {
		if atoms[i].Element == atoms[i-1].Element {
			return nil
		}
	}
	for _, e := range reference.Species().Isomers(atoms, 0) {
		if slices.ContainsFunc(e.Ions, func(t chem.Term) bool { return t.Species.Same(partner) }) {
			return e.Species
		}
	}
	return nil
}

// throughIons answers a molecular equation whose ratio is open by its ions:
// where the net ionic equation has one answer by its halves, the molecular one
// must give it, which fixes what algebra leaves open (the sulfate of
// Na2S2O3 + H2SO4 might else be thought to react). It returns nil where that
// does not settle it.
func (w *work) throughIons(m Medium) tally {
	if m != None && m != Neutral {
		return nil
	}
	parts := func(species []*chem.Species) (out []*chem.Species) {
		for _, s := range species {
			ions := ionsOf(s)
			if ions == nil {
				ions = []chem.Term{{Coefficient: chem.Whole(1), Species: s}}
			}
			for _, t := range w.splitSulfate(s, ions) {
				if !isMedium(t.Species) && !slices.ContainsFunc(out, t.Species.Same) {
					out = append(out, t.Species)
				}
			}
		}
		return out
	}
	l, r := parts(w.left), parts(w.right)
	var left, right, both []*chem.Species
	for _, s := range l {
		if slices.ContainsFunc(r, s.Same) {
			both = append(both, s)
		} else {
			left = append(left, s)
		}
	}
	for _, s := range r {
		if !slices.ContainsFunc(both, s.Same) {
			right = append(right, s)
		}
	}
	net, _ := w.byHalvesAlone(left, right, both, Acidic)
	if net == nil {
		return nil
	}
	// The molecular equation, written as ions, is a multiple of net.
	columns := slices.Concat(w.left, w.right, w.free)
	reference := net.first(left, right)
	if reference == nil {
		return nil
	}
	count := func(column, ion *chem.Species) int64 {
		ions := ionsOf(column)
		if ions == nil {
			if column.Same(ion) {
				return 1
			}
			return 0
		}
		n := int64(0)
		for _, t := range w.splitSulfate(column, ions) {
			if t.Species.Same(ion) {
				n += t.Coefficient.Num()
			}
		}
		return n
	}
	p := balance.Problem{Left: w.left, Right: w.right, Free: w.free}
	for _, a := range net {
		if isMedium(a.species) || a.species.Same(reference) {
			continue
		}
		row := make([]int64, len(columns))
		for i, c := range columns {
			row[i] = product(count(c, a.species), net.get(reference)) - product(count(c, reference), a.n)
		}
		p.Extra = append(p.Extra, row)
	}
	o, err := balance.Solve(p)
	if err != nil || o.Answer == nil {
		return nil
	}
	t := make(tally, len(columns))
	for i, c := range columns {
		t[i] = amount{c, o.Answer[i]}
	}
	w.note(NoteAssumption, "Atoms alone leave the ratio open; written as ions the equation has one answer by its halves, "+net.equation(w.Conventions.Hydronium).String()+", and the other ions are spectators.")
	return t
}

// first returns the first species of two lists that the vector holds.
func (t tally) first(lists ...[]*chem.Species) *chem.Species {
	for _, s := range slices.Concat(lists...) {
		if t.get(s) != 0 {
			return s
		}
	}
	return nil
}
