package redox

import (
	"fmt"
	"slices"
	"strings"

	"halves/chem"
	"halves/oxidation"
)

// present makes the lines of the solution from its final numbers.
func (w *work) present() error {
	w.final = w.final.divided(w.final.factor())
	w.Equation = w.final.equation(w.Conventions.Hydronium)
	w.remarkMoved()
	w.remarkTyped()
	for _, t := range w.Equation.Terms {
		states, open := w.book.of(t.Species)
		w.Species = append(w.Species, SpeciesStates{t.Species, states, open})
	}
	flows, open := flowsOf(w.final, w.book)
	w.takeChanges(flows, open)
	if len(flows) == 0 && len(open) == 0 {
		return w.notRedox()
	}
	if len(open) > 0 {
		w.remarkOpen(open)
	}
	w.remarkTwoJobs(flows)
	w.remarkConcentrated(flows)
	for _, x := range w.Species {
		for _, r := range oxidation.Remarks(x.Species) {
			w.note(NoteStates, x.Species.String()+": "+r)
		}
	}
	switch {
	case w.Conventions.By == ByEquations:
		w.agentsByHalves(flows, open)
		return w.byEquations()
	case w.Conventions.By == ByStates && len(open) > 0:
		return &OpenStatesError{w.Equation, w.openSpecies()}
	case w.Conventions.By == ByStates:
		w.agentsByHalves(flows, open)
		return w.byStates(flows)
	case w.Medium != None && !w.molecular:
		if w.byHalves(w.final, nil, flows, open) {
			return nil
		}
		return w.withoutHalves(flows, open, func(text string) { w.note(NoteRoute, text) })
	default:
		wet, why := w.wet()
		w.Notes = slices.Insert(w.Notes, 0, Note{NoteRoute, why})
		if wet {
			ionic := w.ionic(w.final)
			ionic = ionic.divided(ionic.factor())
			if flows, open := flowsOf(ionic, w.book); w.byHalves(ionic, w.final, flows, open) {
				return nil
			}
			if w.byHalves(w.final, nil, flows, open) {
				return nil
			}
		}
		return w.withoutHalves(flows, open, func(text string) {
			if wet || len(open) > 0 {
				w.Notes[0].Text = text
			}
		})
	}
}

// withoutHalves works what does not part into halves by the states, and by
// algebra where those are open; say is told which.
func (w *work) withoutHalves(flows []flow, open []chem.Element, say func(string)) error {
	if len(open) > 0 {
		say("No half-reactions were found and the rules leave oxidation states open, so the equation was balanced by one equation for each element and for charge.")
		return w.byEquations()
	}
	say("No half-reactions with water and its ions were found for this equation, so the changes were followed by oxidation states.")
	return w.byStates(flows)
}

// agentsByHalves takes who is oxidized and the electrons from the halves, for a
// method that does not write them: where the states alone leave that open, or
// a species changes as one, all methods tell the same.
func (w *work) agentsByHalves(flows []flow, open []chem.Element) {
	c := *w.Solution
	v := *w
	v.Solution = &c
	c.Notes, c.Steps, c.Halves = nil, nil, nil
	if w.Medium != None && !w.molecular {
		v.byHalves(w.final, nil, flows, open)
	} else if wet, _ := w.wet(); wet {
		ionic := w.ionic(w.final)
		ionic = ionic.divided(ionic.factor())
		if flows, open := flowsOf(ionic, w.book); !v.byHalves(ionic, w.final, flows, open) {
			v.byHalves(w.final, nil, flows, open)
		}
	}
	w.Electrons, w.Oxidized, w.Reduced = c.Electrons, c.Oxidized, c.Reduced
}

// remarkTwoJobs tells of a reactant of which a part changes and the rest keeps
// its state: the acid that also brings the anion of a salt.
func (w *work) remarkTwoJobs(flows []flow) {
	for i, f := range flows {
		if len(f.left) != 1 || ofMedium(f.element, f.from) {
			continue
		}
		s := f.left[0]
		changed, roles := chem.Whole(0), map[Role]bool{}
		first := true
		for j, g := range flows {
			if g.element != f.element || !g.from.Equal(f.from) || !slices.Contains(g.left, s) {
				continue
			}
			if len(g.left) != 1 {
				return // whose atoms change cannot be told
			}
			first = first && j >= i
			changed = changed.Add(g.atoms)
			roles[g.role()] = true
		}
		k, n := atomsIn(w.book, f.element, s, f.from), -w.final.get(s)
		if k == 0 || !first {
			continue
		}
		part := changed.Quo(chem.Whole(k))
		if !part.IsWhole() || part.Num() <= 0 || part.Num() >= n {
			continue
		}
		does := "changed"
		if len(roles) == 1 {
			does = map[Role]string{Oxidation: "oxidized", Reduction: "reduced"}[f.role()]
		}
		keep := n - part.Num()
		w.note(NoteSpectators, fmt.Sprintf("%s has two jobs: of %d, %d %s %s, and in the other %d %s stays %s.", s, n, part.Num(), isAre(part.Num()), does, keep, f.element, w.Conventions.State(f.from)))
	}
}

func isAre(n int64) string {
	if n == 1 {
		return "is"
	}
	return "are"
}

// remarkConcentrated says what the usual bookkeeping hides where sulfuric acid
// is what oxidizes (common practice, no source).
func (w *work) remarkConcentrated(flows []flow) {
	for _, f := range flows {
		if f.element.Symbol() == "S" && f.role() == Reduction && slices.ContainsFunc(f.left, func(s *chem.Species) bool { return s.Key() == "H2SO4" }) {
			w.note(NoteRoute, "Sulfuric acid oxidizes where it is hot and concentrated, and there it is molecules more than ions; writing it as ions is the usual bookkeeping and gives the same numbers.")
			return
		}
	}
}

// openSpecies lists the species with a state that the rules leave open.
func (w *work) openSpecies() []*chem.Species {
	var out []*chem.Species
	for _, x := range w.Species {
		if len(x.Open) > 0 {
			out = union(out, []*chem.Species{x.Species})
		}
	}
	return out
}

// remarkMoved tells of water and its ions that were typed but stand elsewhere
// in the answer, and of species that stood on both sides.
func (w *work) remarkMoved() {
	for _, s := range w.free {
		side, typed := w.typed[s]
		n := w.final.get(s)
		switch {
		case !typed:
		case side == 0 && !isMedium(s) && n == 0:
			w.note(NoteSpectators, fmt.Sprintf("%s stands on both sides alike: a spectator, left out.", s))
		case side != 0 && n == 0 && !w.Conventions.Hydronium:
			w.note(NoteLeftOut, fmt.Sprintf("%s was typed but is not needed.", s))
		case side*n < 0:
			w.note(NoteMedium, fmt.Sprintf("%s was typed on the other side; it was moved.", s))
		}
	}
}

func (w *work) remarkOpen(open []chem.Element) {
	for _, x := range w.Species {
		if len(x.Open) > 0 {
			names := make([]string, len(x.Open))
			for i, e := range x.Open {
				names[i] = e.Symbol()
			}
			w.note(NoteStates, fmt.Sprintf("The rules do not settle the oxidation states of %s in %s; the balance does not depend on them.", strings.Join(names, " and "), x.Species))
		}
	}
}

// notRedox presents an equation in which no state changes.
func (w *work) notRedox() error {
	w.note(NoteNotRedox, "No oxidation state changes: this is not a redox reaction. It was balanced by counting atoms and charge.")
	zero := int64(0)
	w.Electrons = &zero
	if w.Conventions.By == ByEquations {
		return w.byEquations()
	}
	w.Steps = append(w.Steps,
		Step{Rule: OtherNumbers, Half: -1, Before: w.Skeleton, After: w.Equation, Done: !sameEquation(w.Skeleton, w.Equation), Reason: "each element and the charge are made equal on both sides"})
	w.check()
	return nil
}

func sameEquation(a, b chem.Equation) bool { return a.String() == b.String() }

// check is the last line.
func (w *work) check() {
	w.Steps = append(w.Steps, Step{Rule: Check, Half: -1, Before: w.Equation, After: w.Equation, Done: true, Reason: ledgerText(w.Equation)})
}

// takeChanges fills in what changes, the agents and the electrons.
func (w *work) takeChanges(flows []flow, open []chem.Element) {
	lost, gained := chem.Whole(0), chem.Whole(0)
	w.changes = map[*chem.Species]bool{}
	for _, f := range flows {
		for _, x := range f.left {
			if !ofMedium(f.element, f.from) {
				w.changes[x] = true
			}
		}
	}
	for _, f := range flows {
		c := w.change(f)
		w.Changes = append(w.Changes, c)
		if f.role() == Oxidation {
			lost = lost.Add(f.electrons())
			w.Oxidized = union(w.Oxidized, c.Reactants)
		} else {
			gained = gained.Add(f.electrons())
			w.Reduced = union(w.Reduced, c.Reactants)
		}
	}
	total := lost
	if len(open) > 0 {
		// What the open elements lose or gain together is what the others
		// gain or lose.
		var holding []*chem.Species
		for _, a := range w.final {
			if _, e := w.book.of(a.species); a.n < 0 && len(e) > 0 {
				holding = append(holding, a.species)
			}
		}
		switch lost.Cmp(gained) {
		case -1:
			total = gained
			w.Oxidized = union(w.Oxidized, holding)
		case 1:
			w.Reduced = union(w.Reduced, holding)
		default:
			return
		}
	} else if !lost.Equal(gained) {
		return
	}
	if total.IsWhole() {
		n := total.Num()
		w.Electrons = &n
	} else {
		w.note(NoteStates, fmt.Sprintf("Counted with average states, %s electrons are transferred in the equation as printed.", total))
	}
	w.inSkeletonOrder()
}

// change tells a flow as a change. Oxygen that ends as -2 and hydrogen that
// ends as +1 are said to be the medium's where water or its ions stand among
// the products.
func (w *work) change(f flow) Change {
	c := Change{Element: f.element, From: f.from, To: f.to, Reactants: w.holders(f), Products: f.right}
	if ofMedium(f.element, f.to) {
		if water := only(f.right, isMedium); len(water) > 0 {
			c.Products = water
		} else if near := only(f.right, func(s *chem.Species) bool { return shareElement(f.left, s) }); len(near) > 0 {
			c.Products = near // the sulfate of peroxodisulfate, whatever else holds oxygen
		}
	}
	if f.atoms.IsWhole() {
		c.Atoms = f.atoms.Num()
	}
	return c
}

// inSkeletonOrder lists the agents as the skeleton names them.
func (w *work) inSkeletonOrder() {
	order := func(all []*chem.Species) {
		slices.SortStableFunc(all, func(a, b *chem.Species) int { return w.indexOf(a) - w.indexOf(b) })
	}
	order(w.Oxidized)
	order(w.Reduced)
	w.Oxidized, w.Reduced = w.asPrinted(w.Oxidized), w.asPrinted(w.Reduced)
}

// asPrinted names agents by the reactants of the printed equation: an ion by
// the formula that brings it, H^+ as H3O^+ where that stands for it.
func (w *work) asPrinted(agents []*chem.Species) []*chem.Species {
	var out []*chem.Species
	for _, s := range agents {
		switch {
		case w.Conventions.Hydronium && s.Same(chem.Hydron):
			out = union(out, []*chem.Species{chem.Hydronium})
		case w.final.get(s) < 0:
			out = union(out, []*chem.Species{s})
		default:
			for _, a := range w.final {
				if a.n < 0 && slices.ContainsFunc(ionsOf(a.species), func(t chem.Term) bool { return t.Species.Same(s) }) {
					out = union(out, []*chem.Species{a.species})
				}
			}
		}
	}
	return out
}

func (w *work) indexOf(s *chem.Species) int {
	for i, a := range w.final {
		if a.species.Same(s) {
			return i
		}
	}
	return len(w.final)
}

// holders chooses, where several reactants hold atoms of oxygen at -2 or
// hydrogen at +1, those that are said to change: hydrogen ions and acids before
// water, water before what changes otherwise, that before hydroxide and the
// rest, as many as are needed for the atoms (common practice, no source).
func (w *work) holders(f flow) []*chem.Species {
	if len(f.left) < 2 || !ofMedium(f.element, f.from) {
		return f.left
	}
	rank := func(s *chem.Species) int {
		switch {
		case f.element == chem.H && (s.Same(chem.Hydron) || s.Same(chem.Hydronium)):
			return 0
		case f.element == chem.H && isAcid(s):
			return 1
		case s.Same(chem.Water):
			return 2
		case w.changes[s]:
			return 3
		case isBase(s):
			return 4
		}
		return 5
	}
	all := slices.Clone(f.left)
	slices.SortStableFunc(all, func(a, b *chem.Species) int { return rank(a) - rank(b) })
	need := f.atoms
	var out []*chem.Species
	for i, s := range all {
		if i > 0 && rank(s) != rank(all[i-1]) && (need.Sign() <= 0 || isBase(s)) {
			break // hydroxide is said to change only where nothing else is there
		}
		out = append(out, s)
		need = need.Sub(chem.Whole(product(-w.final.get(s), s.Atoms(f.element))))
	}
	return out
}

func magnitude(r chem.Ratio) string {
	if r.Sign() < 0 {
		r = r.Neg()
	}
	return r.String()
}

func plural(r chem.Ratio) string {
	if r.Equal(chem.Whole(1)) || r.Equal(chem.Whole(-1)) {
		return ""
	}
	return "s"
}

// minus gives a number in a sentence its true minus sign.
func minus(s string) string { return strings.Replace(s, "-", "−", 1) }

func minuses(s string) string { return strings.ReplaceAll(s, "-", "−") }
