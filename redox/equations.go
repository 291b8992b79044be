package redox

import (
	"fmt"
	"slices"

	"halves/balance"
	"halves/chem"
)

// The method by equations: every coefficient is an unknown, every element and
// the charge demand one equation among them; one unknown is chosen, the others
// follow, and fractions are cleared. It is solved here by substitution, in exact
// fractions, and must give the final equation.

// letters are those of the unknowns. Left out are those that look like a
// number or like another sign: e (the electron), i, l, o, s, x.
const letters = "abcdfghjkmnpqrtuvwyz"

// A relation is one equation among the unknowns: the sum of factor times
// unknown is zero.
type relation struct {
	name    string // the law: "Mn", "charge"; or why it holds
	factors []chem.Ratio
	halves  bool // demanded by the halves, not by atoms or charge
}

// algebra is a solution being written by equations.
type algebra struct {
	*work
	terms []chem.Term // the species with their unknowns, left side first
	sides []int64     // -1 or +1
	value []*chem.Ratio
	laws  []relation
}

// byEquations presents the solution by one equation for each element and for
// charge.
func (w *work) byEquations() error {
	a := &algebra{work: w}
	for side, t := range w.Equation.Terms {
		a.terms = append(a.terms, t)
		a.sides = append(a.sides, side)
	}
	a.value = make([]*chem.Ratio, len(a.terms))
	a.name()
	if err := a.conserve(); err != nil {
		return err
	}
	if err := a.askHalves(); err != nil {
		return err
	}
	a.choose()
	if err := a.solve(); err != nil {
		return err
	}
	if err := a.clear(); err != nil {
		return err
	}
	w.check()
	return nil
}

// unknown returns the runs of an unknown.
func (a *algebra) unknown(i int) []chem.Run {
	if len(a.terms) <= len(letters) {
		return []chem.Run{{Text: letters[i : i+1], Level: chem.Variable}}
	}
	return []chem.Run{{Text: "x", Level: chem.Variable}, {Text: fmt.Sprint(i + 1), Level: chem.Subscript}}
}

// write adds a step that writes a line of algebra.
func (a *algebra) write(r Rule, runs []chem.Run, reason string) {
	a.Steps = append(a.Steps, Step{Rule: r, Half: -1, Written: runs, Done: true, Reason: reason})
}

// name writes the equation with unknown coefficients.
func (a *algebra) name() {
	var runs []chem.Run
	for i, t := range a.terms {
		switch {
		case i == 0:
		case a.sides[i] != a.sides[i-1]:
			runs = append(runs, arrow(a.Conventions))
		default:
			runs = append(runs, chem.Run{Text: " + "})
		}
		runs = append(runs, a.unknown(i)...)
		runs = append(runs, chem.Run{Text: " "})
		runs = append(runs, t.Species.Runs()...)
	}
	reason := fmt.Sprintf("each of the %d species has a coefficient that is not known yet", len(a.terms))
	if added := a.added(); len(added) > 0 {
		reason += fmt.Sprintf("; %s, which the medium supplies, stand%s where the coefficients come out positive", speciesAnd(added), singular(len(added)))
	}
	a.Steps = append(a.Steps, Step{Rule: NameUnknowns, Half: -1, Before: a.Skeleton, Written: runs, Done: true, Reason: reason})
}

func singular(n int) string {
	if n == 1 {
		return "s"
	}
	return ""
}

func arrow(c Conventions) chem.Run {
	if c.Equals {
		return chem.Run{Text: " = "}
	}
	return chem.Run{Text: " -> "}
}

// added lists what the answer has and the skeleton has not.
func (a *algebra) added() []*chem.Species {
	var out []*chem.Species
	for _, t := range a.terms {
		if !slices.ContainsFunc(a.Skeleton.Species(), t.Species.Same) {
			out = append(out, t.Species)
		}
	}
	return out
}

func speciesAnd(all []*chem.Species) string {
	parts := make([]string, len(all))
	for i, s := range all {
		parts[i] = s.String()
	}
	return listed(parts)
}

// conserve writes what each element and the charge demand.
func (a *algebra) conserve() error {
	led, err := balance.NewLedger(a.Equation)
	if err != nil {
		return err
	}
	for _, e := range led {
		r := relation{name: e.Law.String(), factors: make([]chem.Ratio, len(a.terms))}
		for i, t := range a.terms {
			n := t.Species.Charge()
			if e.Law != balance.Charge {
				n = t.Species.Atoms(e.Law.Element)
			}
			r.factors[i] = chem.Whole(product(a.sides[i], n))
		}
		if !r.holdsAnything() {
			continue
		}
		a.laws = append(a.laws, r)
		reason := fmt.Sprintf("%s is the same on both sides", r.name)
		if e.Law != balance.Charge {
			reason = fmt.Sprintf("as many %s on the right as on the left", r.name)
		}
		a.write(Conserve, a.runs(r, nil), reason)
	}
	return nil
}

func (r relation) holdsAnything() bool {
	return slices.ContainsFunc(r.factors, func(x chem.Ratio) bool { return x.Sign() != 0 })
}

// runs writes a relation, left terms = right terms; what has a value in known
// stands as its number.
func (a *algebra) runs(r relation, known []*chem.Ratio) []chem.Run {
	var sides [2][]chem.Run
	var constant [2]chem.Ratio
	add := func(side int, negative bool, factor chem.Ratio, i int) {
		out := &sides[side]
		switch {
		case negative && len(*out) == 0:
			*out = append(*out, chem.Run{Text: "-"})
		case negative:
			*out = append(*out, chem.Run{Text: " - "})
		case len(*out) > 0:
			*out = append(*out, chem.Run{Text: " + "})
		}
		if i < 0 || !factor.Equal(chem.Whole(1)) {
			*out = append(*out, chem.Run{Text: factor.String()})
		}
		if i >= 0 {
			*out = append(*out, a.unknown(i)...)
		}
	}
	for i, f := range r.factors {
		if f.Sign() == 0 {
			continue
		}
		side := 0
		if a.sides[i] > 0 {
			side = 1
		}
		f = f.Mul(chem.Whole(a.sides[i])) // as it stands on its own side
		if known != nil && known[i] != nil {
			constant[side] = constant[side].Add(f.Mul(*known[i]))
			continue
		}
		negative := f.Sign() < 0
		if negative {
			f = f.Neg()
		}
		add(side, negative, f, i)
	}
	for side, c := range constant {
		if c.Sign() != 0 {
			negative := c.Sign() < 0
			if negative {
				c = c.Neg()
			}
			add(side, negative, c, -1)
		}
	}
	for i := range sides {
		if len(sides[i]) == 0 {
			sides[i] = []chem.Run{{Text: "0"}}
		}
	}
	return slices.Concat(sides[0], []chem.Run{{Text: " = "}}, sides[1])
}

// open returns the dimension of what the laws leave open.
func (a *algebra) open(laws []relation) int {
	return len(a.terms) - rank(laws, nil)
}

// rank counts the independent relations among the unknowns that have no value
// yet.
func rank(laws []relation, known []*chem.Ratio) int {
	var rows [][]chem.Ratio
	for _, l := range laws {
		row := slices.Clone(l.factors)
		for i := range row {
			if known != nil && known[i] != nil {
				row[i] = chem.Whole(0)
			}
		}
		rows = append(rows, row)
	}
	n := 0
	for col := 0; len(rows) > n && col < len(rows[0]); col++ {
		pivot := slices.IndexFunc(rows[n:], func(r []chem.Ratio) bool { return r[col].Sign() != 0 })
		if pivot < 0 {
			continue
		}
		rows[n], rows[n+pivot] = rows[n+pivot], rows[n]
		for i := n + 1; i < len(rows); i++ {
			if rows[i][col].Sign() == 0 {
				continue
			}
			f := rows[i][col].Quo(rows[n][col])
			for j := col; j < len(rows[i]); j++ {
				rows[i][j] = rows[i][j].Sub(rows[n][j].Mul(f))
			}
		}
		n++
	}
	return n
}

// askHalves adds what the halves demand where atoms and charge leave more than
// one ratio open.
func (a *algebra) askHalves() error {
	open := a.open(a.laws)
	if open < 1 {
		return a.disagree("by equations", a.Equation)
	}
	try := func(r relation, reason string) {
		if open == 1 || a.open(append(slices.Clone(a.laws), r)) == open {
			return
		}
		a.laws = append(a.laws, r)
		open--
		a.write(AskHalves, a.runs(r, nil), reason)
	}
	flows, _ := flowsOf(a.final, a.book)
	for _, f := range flows {
		if len(f.left) != 1 || len(f.right) != 1 {
			continue
		}
		l, r := f.left[0], f.right[0]
		kl, kr := atomsIn(a.book, f.element, l, f.from), atomsIn(a.book, f.element, r, f.to)
		i, j := a.index(l, -1), a.index(r, 1)
		// Only where all atoms of the reactant in that state go to the product.
		if i < 0 || j < 0 || !f.atoms.Equal(chem.Whole(product(kl, -a.final.get(l)))) || !f.atoms.Equal(chem.Whole(product(kr, a.final.get(r)))) {
			continue
		}
		rel := relation{name: "the halves", factors: make([]chem.Ratio, len(a.terms)), halves: true}
		rel.factors[i], rel.factors[j] = chem.Whole(-kl), chem.Whole(kr)
		try(rel, fmt.Sprintf("atoms and charge leave the ratio open; all the %s that goes from %s to %s in %s ends in %s", f.element, a.Conventions.State(f.from), a.Conventions.State(f.to), l, r))
	}
	for i := range a.terms {
		for j := range i {
			if open == 1 {
				return nil
			}
			rel := relation{name: "the halves", factors: make([]chem.Ratio, len(a.terms)), halves: true}
			m, n := a.terms[j].Coefficient.Num(), a.terms[i].Coefficient.Num()
			g := chem.GCD(m, n)
			rel.factors[j], rel.factors[i] = chem.Whole(a.sides[j]*n/g), chem.Whole(-a.sides[j]*m/g)
			if a.sides[i] == a.sides[j] {
				continue // the halves tie what reacts to what forms
			}
			try(rel, fmt.Sprintf("atoms and charge leave the ratio open; the halves give %s and %s in this ratio", a.terms[j].Species, a.terms[i].Species))
		}
	}
	if open != 1 {
		return a.disagree("by equations", a.Equation)
	}
	return nil
}

// index returns the place of a species on a side, -1 if none.
func (a *algebra) index(s *chem.Species, side int64) int {
	for i, t := range a.terms {
		if a.sides[i] == side && t.Species.Same(s) {
			return i
		}
	}
	return -1
}

// choose sets one unknown to 1: that from which the others follow with the
// fewest laws taken together, and of those the one in most laws.
func (a *algebra) choose() {
	best, least, most := 0, -1, 0
	for i := range a.terms {
		in := 0
		for _, l := range a.laws {
			if l.factors[i].Sign() != 0 {
				in++
			}
		}
		effort := 0
		if len(a.terms) <= maxWeighed {
			effort = a.effort(i)
		}
		if isMedium(a.terms[i].Species) {
			effort += 2 // a class begins with what the question names
		}
		if least < 0 || effort < least || effort == least && in > most {
			best, least, most = i, effort, in
		}
	}
	one := chem.Whole(1)
	a.value[best] = &one
	a.write(ChooseOne, append(a.unknown(best), chem.Run{Text: " = 1"}), fmt.Sprintf("only ratios are fixed, so one unknown may be chosen: that of %s", a.terms[best].Species))
}

// maxWeighed bounds the species of an equation in which every choice is tried.
const maxWeighed = 10

// effort returns how many laws have to be taken together, beyond one at a time,
// if unknown i is chosen.
func (a *algebra) effort(i int) int {
	b := &algebra{work: a.work, terms: a.terms, sides: a.sides, laws: a.laws, value: make([]*chem.Ratio, len(a.terms))}
	one := chem.Whole(1)
	b.value[i] = &one
	n := 0
	for {
		k, laws := b.next()
		if k < 0 {
			return n
		}
		v, _ := b.find(k, laws)
		b.value[k] = &v
		n += (len(laws) - 1) * (len(laws) - 1)
	}
}

// solve finds the other unknowns, one a step.
func (a *algebra) solve() error {
	for {
		i, laws := a.next()
		if i < 0 {
			break
		}
		v, ok := a.find(i, laws)
		if !ok {
			return a.disagree("by equations", a.Equation)
		}
		names := make([]string, len(laws))
		lines := make([]string, len(laws))
		for k, l := range laws {
			names[k] = l.name
			lines[k] = minuses(chem.PlainText(a.runs(l, a.value)))
		}
		reason := fmt.Sprintf("from %s: %s", names[0], lines[0])
		if len(laws) > 1 {
			reason = fmt.Sprintf("from %s together: %s", listed(names), listed(lines))
		}
		a.value[i] = &v
		a.write(SolveFor, append(a.unknown(i), chem.Run{Text: " = " + v.String()}), reason)
	}
	if slices.Contains(a.value, nil) {
		return a.disagree("by equations", a.Equation)
	}
	for _, l := range a.laws {
		if !a.holds(l) {
			return a.disagree("by equations", a.Equation)
		}
	}
	return nil
}

// next returns an unknown that the values so far decide, and the fewest laws
// that do: one where one law has a single unknown left.
func (a *algebra) next() (int, []relation) {
	var left []relation
	for _, l := range a.laws {
		if n, i := a.unsettled(l); n == 1 {
			return i, []relation{l}
		} else if n > 1 {
			left = append(left, l)
		}
	}
	for size := 2; size <= len(left); size++ {
		if size > 3 && size < len(left) {
			continue // too many ways to choose; take all
		}
		if i, laws := a.decided(left, nil, size); i >= 0 {
			return i, laws
		}
	}
	return -1, nil
}

// unsettled counts the unknowns of a law without a value, and returns one.
func (a *algebra) unsettled(l relation) (n, i int) {
	for k, f := range l.factors {
		if f.Sign() != 0 && a.value[k] == nil {
			n, i = n+1, k
		}
	}
	return n, i
}

// decided looks for size laws, those in chosen among them, that decide an
// unknown.
func (a *algebra) decided(left, chosen []relation, size int) (int, []relation) {
	if len(chosen) == size {
		for i := range a.terms {
			if a.value[i] != nil {
				continue
			}
			if _, ok := a.find(i, chosen); ok {
				return i, slices.Clone(chosen)
			}
		}
		return -1, nil
	}
	for k, l := range left {
		if i, laws := a.decided(left[k+1:], append(chosen, l), size); i >= 0 {
			return i, laws
		}
	}
	return -1, nil
}

// find returns the value of unknown i if the laws decide it.
func (a *algebra) find(i int, laws []relation) (chem.Ratio, bool) {
	// Unknown i comes last, so that elimination leaves it alone in a row.
	var order []int
	for k := range a.terms {
		if a.value[k] == nil && k != i {
			order = append(order, k)
		}
	}
	order = append(order, i)
	rows := make([][]chem.Ratio, len(laws))
	for r, l := range laws {
		rows[r] = make([]chem.Ratio, len(order)+1)
		for c, k := range order {
			rows[r][c] = l.factors[k]
		}
		for k, v := range a.value {
			if v != nil {
				rows[r][len(order)] = rows[r][len(order)].Sub(l.factors[k].Mul(*v))
			}
		}
	}
	n := 0
	for col := 0; col < len(order)-1; col++ {
		pivot := slices.IndexFunc(rows[n:], func(r []chem.Ratio) bool { return r[col].Sign() != 0 })
		if pivot < 0 {
			continue
		}
		rows[n], rows[n+pivot] = rows[n+pivot], rows[n]
		for r := n + 1; r < len(rows); r++ {
			if f := rows[r][col]; f.Sign() != 0 {
				f = f.Quo(rows[n][col])
				for c := col; c <= len(order); c++ {
					rows[r][c] = rows[r][c].Sub(rows[n][c].Mul(f))
				}
			}
		}
		if n++; n == len(rows) {
			return chem.Ratio{}, false
		}
	}
	for _, r := range rows[n:] {
		if f := r[len(order)-1]; f.Sign() != 0 {
			return r[len(order)].Quo(f), true
		}
	}
	return chem.Ratio{}, false
}

// holds reports whether the values fulfil a law.
func (a *algebra) holds(l relation) bool {
	sum := chem.Whole(0)
	for i, f := range l.factors {
		sum = sum.Add(f.Mul(*a.value[i]))
	}
	return sum.Sign() == 0
}

// clear multiplies the values to whole numbers and puts them in.
func (a *algebra) clear() error {
	den := int64(1)
	for _, v := range a.value {
		l, ok := chem.LCM(den, v.Den())
		if !ok {
			panic(chem.OverflowError{})
		}
		den = l
	}
	var runs []chem.Run
	for i, v := range a.value {
		n := v.Mul(chem.Whole(den))
		a.value[i] = &n
		if i > 0 {
			runs = append(runs, chem.Run{Text: ", "})
		}
		runs = append(runs, a.unknown(i)...)
		runs = append(runs, chem.Run{Text: " = " + n.String()})
		if !n.Equal(a.terms[i].Coefficient) {
			return a.disagree("by equations", a.Equation)
		}
	}
	if den > 1 {
		a.write(ClearUnits, runs, fmt.Sprintf("all times %d, so that every number is whole", den))
	} else {
		a.Steps = append(a.Steps, Step{Rule: ClearUnits, Half: -1, Written: runs, Reason: "nothing to do: every number is whole"})
	}
	a.Steps = append(a.Steps, Step{Rule: PutNumbers, Half: -1, Before: a.Skeleton, After: a.Equation, Done: true, Reason: "each number in the place of its letter"})
	return nil
}
