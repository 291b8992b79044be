package question

import (
	"slices"
	"strings"
	"sync"

	"halves/caution"
	"halves/chem"
	"halves/energetics"
	"halves/redox"
	"halves/reference"
)

// A pool holds the questions that the couples of a table give. What was worked
// once is kept.
type Pool struct {
	tables energetics.Tables
	sides  func(redox.Medium) sides

	mu     sync.Mutex
	worked map[pair]*Question // nil for a pair that makes none
}

// NewPool returns the pool of a table of potentials.
func NewPool(t energetics.Tables) *Pool {
	p := &Pool{tables: t, worked: map[pair]*Question{}}
	acid := sync.OnceValue(func() sides { return p.sidesIn(redox.Acidic) })
	base := sync.OnceValue(func() sides { return p.sidesIn(redox.Basic) })
	p.sides = func(m redox.Medium) sides {
		if m == redox.Basic {
			return base()
		}
		return acid()
	}
	return p
}

// A side is a couple that may be one half of a question.
type side struct {
	couple            *reference.Couple
	oxidized, reduced []*chem.Species // what stands in a skeleton
	hindered          bool            // slow in practice, in one direction or both
	slowly            [2]bool         // as a reduction, and as an oxidation
	familiar          bool            // of the textbook's table or twice in the library, and a first course meets all its species
}

// sides are the couples of a medium, in the order of the table.
type sides []side

// A pair is a reduction with an oxidation, by their places among the sides.
type pair struct {
	medium redox.Medium
	r, o   int
}

// sidesIn lists the couples that may be asked for in a medium. Of couples that
// would read alike in a skeleton the first is taken: the preferred rows differ in
// phases only.
func (p *Pool) sidesIn(m redox.Medium) sides {
	var out sides
	seen := map[string]bool{}
	for _, c := range p.tables.Couples.All() {
		if !(c.Preferred || c.Own) || !suits(c, m) {
			continue
		}
		s := side{couple: c, oxidized: mains(c.Half.Left), reduced: mains(c.Half.Right), hindered: c.Slow != ""}
		if slices.ContainsFunc(c.Half.Species(), isFragment) {
			continue
		}
		for _, h := range c.Hindrances {
			s.slowly[0], s.slowly[1] = s.slowly[0] || h.Reduction, s.slowly[1] || h.Oxidation
		}
		key := coupleKey(s.oxidized, s.reduced)
		if seen[key] {
			continue
		}
		seen[key] = true
		s.familiar = (c.Textbook || c.Own || library().couples[key] > 1) && !slices.ContainsFunc(c.Half.Species(), func(x *chem.Species) bool { return !isFamiliar(x) })
		out = append(out, s)
	}
	return out
}

// suits reports whether a couple belongs to a medium.
func suits(c *reference.Couple, m redox.Medium) bool {
	against, other := chem.Hydroxide, "basic"
	if m == redox.Basic {
		against, other = chem.Hydron, "acidic"
	}
	return c.Medium != other && !slices.ContainsFunc(c.Half.Species(), against.Same)
}

// Mains returns what a skeleton names of a couple: its species without water and
// its ions, unless nothing else is there.
func Mains(c *reference.Couple) (oxidized, reduced []*chem.Species) {
	return mains(c.Half.Left), mains(c.Half.Right)
}

// mains are the species of a side that a skeleton names: all but the electron,
// water and its ions; those where nothing else is there.
func mains(terms []chem.Term) []*chem.Species {
	var all, water []*chem.Species
	for _, x := range terms {
		s := x.Species.WithPhase(chem.NoPhase)
		switch {
		case s.IsElectron():
		case isWater(s):
			water = append(water, s)
		default:
			all = append(all, s)
		}
	}
	if all == nil {
		return water
	}
	return all
}

func keysOf(all []*chem.Species) string {
	var b strings.Builder
	for _, s := range all {
		b.WriteString(s.Key())
		b.WriteByte(' ')
	}
	return b.String()
}

// pairs lists the pairs of a medium that might make a question: the potentials
// differ by the margin or more, and no species stands on both sides of the
// skeleton. hindered lets slow couples in, all lets in what a first course does
// not meet.
func (p *Pool) pairs(m redox.Medium, margin float64, hindered, all bool) []pair {
	s := p.sides(m)
	var out []pair
	for r, red := range s {
		if red.hindered && !hindered || !red.familiar && !all {
			continue
		}
		for o, ox := range s {
			if r == o || ox.hindered && !hindered || !ox.familiar && !all || red.couple.Volts-ox.couple.Volts < margin {
				continue
			}
			if meet(red.oxidized, red.reduced) || meet(ox.oxidized, ox.reduced) || meet(red.oxidized, ox.oxidized) || meet(red.reduced, ox.reduced) && !isOneElement(red, ox) {
				continue
			}
			out = append(out, pair{m, r, o})
		}
	}
	return out
}

// isOneElement reports whether what both couples make is one species: a
// comproportionation.
func isOneElement(a, b side) bool {
	return len(a.reduced) == 1 && len(b.oxidized) == 1 && a.reduced[0].Same(b.oxidized[0])
}

func meet(a, b []*chem.Species) bool {
	return slices.ContainsFunc(a, func(x *chem.Species) bool { return slices.ContainsFunc(b, x.Same) })
}

// question returns the question of a pair, nil where it makes none: see make.
func (p *Pool) question(k pair, margin float64, hindered bool) *Question {
	p.mu.Lock()
	q, known := p.worked[k]
	p.mu.Unlock()
	if !known {
		q = p.make(k)
		p.mu.Lock()
		p.worked[k] = q
		p.mu.Unlock()
	}
	if q == nil || q.hindered && !hindered || q.volts < margin {
		return nil
	}
	return q
}

// make works a pair. It returns nil where the reaction does not go or is too
// close to call, where it is forbidden or something else happens beside it, and
// where the skeleton does not lead back to the two couples.
func (p *Pool) make(k pair) *Question {
	s := p.sides(k.medium)
	red, ox := s[k.r], s[k.o]
	left, right := union(red.oxidized, ox.reduced), union(red.reduced, ox.oxidized)
	sc := scene{red, ox, left, right, k.medium}
	if meet(left, right) || clash(union(left, right)) || otherwise(left, right, k.medium) || unusual(sc) || besides(sc, s) {
		return nil
	}
	text := formulas(left) + " -> " + formulas(right)
	w, err := redox.Work(text, k.medium, redox.Conventions{})
	if err != nil || len(w.Halves) != 2 {
		return nil
	}
	q, err := fromSolution(red.couple.ID+"|"+ox.couple.ID, text, w)
	if err != nil {
		return nil
	}
	q.Couples = []string{red.couple.ID, ox.couple.ID}
	q.pair = [2]*reference.Couple{red.couple, ox.couple}
	q.Source = Citation(red.couple.Source)
	if t := Citation(ox.couple.Source); t != q.Source {
		q.Source += "; " + t
	}
	cell, err := p.tables.Work(w, energetics.Conditions{})
	if err != nil || !slices.Contains(cell.Reduction.Rows, red.couple.ID) || !slices.Contains(cell.Oxidation.Rows, ox.couple.ID) {
		return nil
	}
	switch cell.Verdict {
	case energetics.Goes:
	case energetics.Slow:
		q.hindered = true
	default:
		return nil
	}
	q.volts = cell.Volts
	if p.tables.Remarks(w.Equation, w.Medium) != nil || slices.ContainsFunc(w.Equation.Species(), func(x *chem.Species) bool { return p.tables.Dissolves(x, w.Medium) }) {
		return nil
	}
	if a := caution.For(w.Equation); a.PaperOnly || slices.ContainsFunc(a.Reasons, func(r caution.Reason) bool { return r.If == "" }) {
		return nil
	}
	return q
}

// Citation says where a potential comes from, as it is printed beside a question:
// the work and the table, without the state of the text that was read.
func Citation(key string) string {
	s, ok := reference.SourceOf(key)
	if !ok {
		return key
	}
	if s.Key == "derived" {
		return "computed from free energies of formation"
	}
	short, _, _ := strings.Cut(s.Citation, ", module ")
	return short
}

// isFragment reports a species of hydrogen and oxygen alone with an odd number of
// electrons: a free atom or a radical, which no class has in a bottle.
func isFragment(s *chem.Species) bool {
	if s.IsElectron() || s.Same(chem.Hydron) || !s.Composition().Only(chem.O, chem.H) {
		return false
	}
	return (8*s.Atoms(chem.O)+s.Atoms(chem.H)-s.Charge())%2 != 0
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

func formulas(all []*chem.Species) string {
	out := make([]string, len(all))
	for i, s := range all {
		out[i] = s.String()
	}
	return strings.Join(out, " + ")
}

// clash reports whether two of the species of a question, before and after, make
// a solid or a complex together: a table of solubility products and of complexes says so, or the table
// of species lists their salt as insoluble.
func clash(all []*chem.Species) bool {
	for _, e := range reactions() {
		if !slices.ContainsFunc(e, func(s *chem.Species) bool { return !slices.ContainsFunc(all, s.Same) }) {
			return true
		}
	}
	for _, a := range all {
		for _, b := range all {
			if a.Charge() > 0 && b.Charge() < 0 && !a.Same(chem.Hydron) && !b.Same(chem.Hydroxide) && insoluble(a, b) {
				return true
			}
		}
	}
	return false
}

// reactions are the ions and ligands that make the solids and the complexes of
// the table of equilibria, water and its ions left out.
var reactions = sync.OnceValue(func() [][]*chem.Species {
	var out [][]*chem.Species
	for _, e := range reference.Equilibria() {
		terms := e.Reaction.Right
		if e.Kind == "Kf" {
			terms = e.Reaction.Left
		}
		if e.Kind != "Ksp" && e.Kind != "Kf" {
			continue
		}
		var all []*chem.Species
		for _, x := range terms {
			if !isWater(x.Species) {
				all = append(all, x.Species.WithPhase(chem.NoPhase))
			}
		}
		if len(all) > 1 {
			out = append(out, all)
		}
	}
	return out
})

// insoluble reports whether the salt of two ions is listed as insoluble.
func insoluble(cation, anion *chem.Species) bool {
	m, n := cation.Charge(), -anion.Charge()
	g := chem.GCD(m, n)
	atoms := map[chem.Element]int64{}
	for _, c := range cation.Composition() {
		atoms[c.Element] += c.Atoms * (n / g)
	}
	for _, c := range anion.Composition() {
		atoms[c.Element] += c.Atoms * (m / g)
	}
	var c chem.Composition
	for e := chem.Element(1); e <= chem.MaxElement; e++ {
		if atoms[e] > 0 {
			c = append(c, chem.Count{Element: e, Atoms: atoms[e]})
		}
	}
	return slices.ContainsFunc(reference.Species().Isomers(c, 0), func(e *reference.Entry) bool { return e.Soluble == "no" })
}
