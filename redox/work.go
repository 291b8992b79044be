package redox

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"halves/balance"
	"halves/chem"
)

// Work reads a question and works it. medium is what the caller states and may
// be Unstated; the question may name one itself (", in acid"). A medium stated
// by the caller wins.
//
// The errors are *chem.SyntaxError and *chem.TooLargeError for what cannot be
// read, *NoAnswerError, *ManyAnswersError, *HalfMissingError and
// *MediumNeededError where chemistry says no, and *InternalError for a defect.
func Work(question string, medium Medium, c Conventions) (sol *Solution, err error) {
	defer func() {
		if r := recover(); r != nil {
			if _, ok := r.(chem.OverflowError); !ok {
				err = &InternalError{question, fmt.Sprint(r)}
				sol = nil
				return
			}
			sol, err = nil, &chem.TooLargeError{Msg: "a number on the way passes what is computed exactly in 64 bits"}
		}
	}()
	q, err := ReadQuestion(question)
	if err != nil {
		return nil, err
	}
	if medium != Unstated {
		if q.Medium != Unstated && q.Medium != medium {
			q.Notes = append(q.Notes, Note{NoteMedium, fmt.Sprintf("The question says %s; the medium stated beside it, %s, was taken.", q.Medium, medium)})
		}
		q.Medium = medium
	}
	// Of several readings the first that can be worked is taken; after the
	// likeliest, only those that may balance are tried.
	var first error
	tried := 0
	looks := maxLooks
	for i, r := range q.Readings {
		if i > 0 {
			// A look at a long equation costs as much as several at a short one.
			if looks -= len(r.Equation.Left) + len(r.Equation.Right); looks < 0 {
				break
			}
			if !mayBalance(q, r) {
				continue
			}
		}
		if tried++; tried > maxTries {
			break
		}
		sol, err := workReading(q, r, c)
		if err == nil {
			for _, a := range r.Assumptions {
				sol.note(NoteReading, fmt.Sprintf("Read %s as %s.", withoutNumber(a.Typed), a.Read))
			}
			return sol, nil
		}
		if i == 0 {
			first = err
			var half *HalfMissingError
			if errors.As(err, &half) {
				break // it makes sense as it stands
			}
		}
	}
	if q.More && len(q.Readings) > 1 {
		return nil, &chem.SyntaxError{Text: question, Offset: 0, Width: len(question), Msg: "this can be read in more than 256 ways, and none of those tried balances", Hint: "write a caret before each charge: SO4^2-"}
	}
	return nil, first
}

// withoutNumber drops a typed coefficient.
func withoutNumber(typed string) string {
	return strings.TrimLeft(typed, "0123456789./*½⅓⅔¼¾ ")
}

// maxTries bounds the readings that are worked in full, maxLooks the terms of
// those whose null space is looked at: all 256 readings of 16 terms.
const (
	maxTries = 8
	maxLooks = 4096
)

// mayBalance reports whether a reading has a chance, by a look at its null
// space in the question's medium, or in acid where none was named.
func mayBalance(q Question, r chem.Reading) bool {
	w := &work{Solution: &Solution{Skeleton: bare(r.Equation)}, book: &stateBook{}}
	m := q.Medium
	if m == Unstated || m == Neutral {
		m = Acidic
	}
	w.parts(m)
	return balance.Possible(balance.Problem{Left: w.left, Right: w.right, Free: slices.Concat(w.free, w.helpers(m))})
}

// A work is one reading of a question being worked.
type work struct {
	*Solution
	book        *stateBook
	left, right []*chem.Species // the skeleton that must be used
	free        []*chem.Species // typed, but moved or left out as needed
	typed       map[*chem.Species]int64
	halves      bool                   // the question gave half-reactions
	changes     map[*chem.Species]bool // reactants that change otherwise than by water's oxygen or hydrogen
	noHelpers   bool                   // the skeleton is water and its ions alone
	asTyped     chem.Equation
	molecular   bool // worked as a molecular equation, though a medium was named
	final       tally
}

func workReading(q Question, r chem.Reading, c Conventions) (*Solution, error) {
	w := &work{
		Solution: &Solution{Given: q.Text, Skeleton: bare(r.Equation), Medium: q.Medium, Conventions: c},
		book:     &stateBook{},
		halves:   q.Halves,
	}
	w.Notes = append(w.Notes, q.Notes...)
	w.asTyped = r.Equation
	if err := w.run(); err != nil {
		return nil, err
	}
	return w.Solution, nil
}

// bare returns an equation with all coefficients 1.
func bare(e chem.Equation) chem.Equation {
	one := func(terms []chem.Term) []chem.Term {
		out := make([]chem.Term, len(terms))
		for i, t := range terms {
			out[i] = chem.Term{Coefficient: chem.Whole(1), Species: t.Species}
		}
		return out
	}
	return chem.Equation{Left: one(e.Left), Right: one(e.Right)}
}

// remarkTyped remarks on an equation that is balanced as it was typed.
func (w *work) remarkTyped() {
	l, err := balance.NewLedger(w.asTyped)
	if err != nil || !l.Closed() {
		return
	}
	den := int64(1)
	for _, t := range w.asTyped.Terms {
		den = product(den, t.Coefficient.Den()/chem.GCD(den, t.Coefficient.Den()))
	}
	var typed tally
	for side, t := range w.asTyped.Terms {
		typed = typed.add(t.Species, side*t.Coefficient.Mul(chem.Whole(den)).Num())
	}
	if sameVector(typed.divided(typed.factor()), vectorOf(w.Equation)) {
		w.note(NoteBalanced, "The equation is balanced as it stands; it is worked all the same.")
	} else {
		w.note(NoteBalanced, "The typed numbers balance atoms and charge, but they are not the ones that follow here, so they were replaced.")
	}
}

func (w *work) run() error {
	for _, t := range w.Skeleton.Terms {
		if t.Species.Same(chem.Hydronium) && !w.Conventions.Hydronium {
			w.Conventions.Hydronium = true
			w.note(NoteReading, "H3O^+ was typed, so it stands for H^+ throughout.")
		}
	}
	if err := w.settleMedium(); err != nil {
		return err
	}
	if err := w.solve(); err != nil {
		return err
	}
	if err := w.present(); err != nil {
		return err
	}
	return w.prove()
}

// parts sorts the species of the skeleton for a medium: those that must be
// used on their side, and those that may move. Water and its ions are the
// medium's where one is given, and may change sides where none is.
func (w *work) parts(m Medium) {
	w.left, w.right, w.free, w.noHelpers = nil, nil, nil, false
	w.typed = map[*chem.Species]int64{}
	place := func(terms []chem.Term, side int64) (rest []*chem.Species) {
		for _, t := range terms {
			s := t.Species
			switch {
			case s.IsElectron():
			case isMedium(s):
				if m == None {
					if s.Same(chem.Hydronium) {
						s = chem.Hydron
						if !slices.ContainsFunc(w.free, chem.Water.Same) {
							w.free = append(w.free, chem.Water)
						}
					}
					i := slices.IndexFunc(w.free, s.Same)
					if i < 0 {
						i = len(w.free)
						w.free = append(w.free, s)
					}
					w.typed[w.free[i]] += side
				}
			case !slices.ContainsFunc(rest, func(o *chem.Species) bool { return same(o, s) && o.Phase() == s.Phase() }):
				rest = append(rest, s)
			}
		}
		return rest
	}
	w.left = place(w.Skeleton.Left, -1)
	w.right = place(w.Skeleton.Right, 1)
	// What stands on both sides alike need not change.
	for i := 0; i < len(w.left); i++ {
		s := w.left[i]
		j := slices.IndexFunc(w.right, func(o *chem.Species) bool { return same(o, s) && o.Phase() == s.Phase() })
		if j < 0 {
			continue
		}
		w.left = slices.Delete(w.left, i, i+1)
		w.right = slices.Delete(w.right, j, j+1)
		w.free = append(w.free, s)
		w.typed[s] = 0
		i--
	}
	if len(w.left)+len(w.right) == 0 {
		// Only water and its ions: each is a species like any other.
		for _, t := range w.Skeleton.Left {
			w.left = append(w.left, t.Species)
		}
		for _, t := range w.Skeleton.Right {
			w.right = append(w.right, t.Species)
		}
		w.free = nil
		w.typed = nil
		w.noHelpers = true
	}
}

// helpers returns what a medium may add.
func (w *work) helpers(m Medium) []*chem.Species {
	if w.noHelpers {
		return nil
	}
	switch m {
	case Acidic:
		return []*chem.Species{chem.Water, chem.Hydron}
	case Basic:
		return []*chem.Species{chem.Water, chem.Hydroxide}
	}
	return nil
}

// settleMedium finds the medium where the question states none: from hydrogen
// or hydroxide ions that were typed, or none where nothing need be added.
func (w *work) settleMedium() error {
	if w.Medium != Unstated {
		w.parts(w.Medium)
		if w.Medium == None {
			return nil
		}
		other := map[Medium]*chem.Species{Acidic: chem.Hydroxide, Basic: chem.Hydron}[w.Medium]
		for _, t := range w.Skeleton.Terms {
			if other != nil && (t.Species.Same(other) || w.Medium == Basic && t.Species.Same(chem.Hydronium)) {
				w.note(NoteMedium, fmt.Sprintf("%s was typed, but the medium is stated as %s: that was taken.", t.Species, w.Medium))
				break
			}
		}
		return nil
	}
	acid, base := false, false
	for _, t := range w.Skeleton.Terms {
		acid = acid || t.Species.Same(chem.Hydron) || t.Species.Same(chem.Hydronium)
		base = base || t.Species.Same(chem.Hydroxide)
	}
	switch {
	case acid && !base:
		w.Medium = Acidic
		w.note(NoteMedium, "No medium was named; hydrogen ions stand in the equation, so it was worked in acid.")
		w.parts(Acidic)
		return nil
	case base && !acid:
		w.Medium = Basic
		w.note(NoteMedium, "No medium was named; hydroxide ions stand in the equation, so it was worked in base.")
		w.parts(Basic)
		return nil
	}
	w.parts(None)
	o, err := w.balanceIn(None)
	if err != nil {
		return err
	}
	if o.Answer == nil && o.Cause != nil && w.matters(o) {
		return w.mediumOfReagents()
	}
	w.Medium = None
	return nil
}

// mediumOfReagents takes the medium from an acid or a base among the reactants
// of an equation that lacks water, and says so.
func (w *work) mediumOfReagents() error {
	for _, s := range w.left {
		m := Unstated
		switch {
		case isAcid(s):
			m = Acidic
		case isBase(s):
			m = Basic
		default:
			continue
		}
		w.Medium = m
		w.note(NoteMedium, fmt.Sprintf("No medium was named; %s stands in the equation, so it was worked as %s, and water was added.", s, m))
		w.parts(m)
		return nil
	}
	return &MediumNeededError{Equation: w.Skeleton}
}

// matters reports whether an equation that does not balance by itself would do
// so, alone or as a half, if water and its ions could be added.
func (w *work) matters(o balance.Outcome) bool {
	for _, e := range o.Cause.OneSided {
		if e != chem.O && e != chem.H {
			return false
		}
	}
	defer w.parts(None)
	w.parts(Acidic)
	if in, err := w.balanceIn(Acidic); err == nil && in.Cause == nil {
		return true
	}
	halves, err := w.loneHalves(Acidic)
	if err != nil {
		return false
	}
	for _, c := range halves {
		if c.vector.get(chem.Water) != 0 || c.vector.get(chem.Hydron) != 0 {
			return true
		}
	}
	return false
}

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

// refuse says why nothing balances: a half is missing, or there is no answer.
func (w *work) refuse(c *balance.Cause) error {
	no := &NoAnswerError{Equation: w.Skeleton, Medium: w.Medium, Cause: c}
	for _, e := range c.OneSided {
		if e != chem.O && e != chem.H || w.Medium != None {
			return no
		}
	}
	halves, err := w.loneHalves(w.Medium)
	if err != nil {
		return no
	}
	missing := &HalfMissingError{Present: halves[0].role, Medium: w.Medium}
	for _, h := range halves {
		if w.Medium == None && (h.vector.get(chem.Water) != 0 || h.vector.get(chem.Hydron) != 0) && !w.mayAdd(h) {
			return no
		}
		half, steps := w.halfSteps(h, len(missing.Halves))
		missing.Halves = append(missing.Halves, half)
		missing.Steps = append(missing.Steps, steps...)
	}
	return missing
}

// mayAdd reports whether the water and ions of a half were typed.
func (w *work) mayAdd(h *component) bool {
	for _, a := range h.vector {
		if isMedium(a.species) && a.n != 0 && !slices.ContainsFunc(w.free, a.species.Same) {
			return false
		}
	}
	return true
}

var errNoHalves = errors.New("not a set of halves of one role")

// loneHalves solves the skeleton as halves of one role, as where only an
// oxidation was given.
func (w *work) loneHalves(m Medium) ([]*component, error) {
	flows, _, open := pattern(w.left, w.right, w.book, true, false)
	sc := scene{left: own(w.left), right: own(w.right), book: w.book}
	all := components(withOzone(flows, w.left, w.right))
	if len(open) == 0 && w.covers(all, sc) {
		return all, nil
	}
	// States that the rules leave open, or one species that gains and loses at
	// once (Si -> SiH4): the charge tells.
	for _, r := range []Role{Oxidation, Reduction} {
		c := &component{role: r, left: sc.left, right: sc.right}
		if c.solve(w.book) {
			return []*component{c}, nil
		}
	}
	return nil, errNoHalves
}

// covers solves components that must all have one role and use every species.
func (w *work) covers(all []*component, sc scene) bool {
	var used []*chem.Species
	for _, c := range all {
		if c.role != all[0].role || !c.withHelpers(sc) {
			return false
		}
		used = union(union(used, c.left), c.right)
	}
	for _, s := range slices.Concat(sc.left, sc.right) {
		if !slices.ContainsFunc(used, s.Same) {
			return false
		}
	}
	return len(all) > 0
}

// prove checks the final equation and every line with code that shares nothing
// with the solver.
func (w *work) prove() error {
	l, err := balance.NewLedger(w.Equation)
	if err != nil {
		return err
	}
	w.Ledger = l
	if !l.Closed() {
		return &InternalError{w.Given, "the ledger of the final equation does not close: " + w.Equation.String()}
	}
	for _, s := range w.Steps {
		if bad := unproved(s); bad != "" {
			return &InternalError{w.Given, fmt.Sprintf("the line %q (%s) does not conserve %s", s.After, s.Rule, bad)}
		}
	}
	return nil
}

// unproved names what a line fails to conserve of what its rule promises.
func unproved(s Step) string {
	if len(s.After.Left)+len(s.After.Right) == 0 {
		return ""
	}
	l, err := balance.NewLedger(s.After)
	if err != nil {
		return "what can be counted"
	}
	for _, e := range l {
		if !e.Closed() && s.Rule.promises(e.Law) {
			return e.Law.String()
		}
	}
	return ""
}

// promises reports whether a line under this rule must conserve a law.
func (r Rule) promises(l balance.Law) bool {
	switch r {
	case WriteIons, LeaveOut, Split, ChangesOfState, EqualChanges:
		return false
	case OtherAtoms:
		return l != balance.Charge && l.Element != chem.O && l.Element != chem.H
	case Oxygen:
		return l != balance.Charge && l.Element != chem.H
	case Hydrogen:
		return l != balance.Charge
	}
	return true
}
