package energetics

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"halves/chem"
	"halves/reference"
)

// A half-reaction that no row holds may be the sum of some that do: the free
// energies are added, each as often as its row is taken, and the sum is divided
// by the electrons. Adding volts would be wrong wherever the electrons differ.

// A part is a row that may be taken, with its free energy in kJ, written with
// hydrogen ions.
type part struct {
	vector   vector
	elements elements
	g        float64
	doubt    float64 // kJ
	id       string
	text     func() string
	source   string
	memory   bool
	own      bool
}

// deepest is how many rows are combined at most.
const deepest = 3

// byCouples combines up to three couples and equilibria.
func (t Tables) byCouples(half chem.Equation) (Potential, bool) {
	ion, ok := t.ionProduct()
	if !ok {
		return Potential{}, false
	}
	// Marked, so that no part in one phase cancels another in a second.
	v := vectorOf(marked(half))
	// Parts whose elements, oxygen and hydrogen aside, are those of the half.
	var parts []*part
	elements := elementsOf(v)
	for _, p := range t.parts() {
		if elements.hold(p.elements) {
			parts = append(parts, p)
		}
	}
	if len(v.amounts) == 0 || !rarestFirst(v.amounts, parts) {
		return Potential{}, false
	}
	for depth := 2; depth <= deepest; depth++ {
		s := &search{parts: parts, depth: depth}
		if !s.find(v, 1, nil) {
			continue
		}
		g := s.g + float64(v.hydroxide)*ion
		p := Potential{Half: phased(half, s.phases(), unknown), Volts: volts(float64(v.electrons), g), Electrons: v.electrons, From: ByCouples}
		var says []string
		for _, u := range s.used {
			x := parts[u.part]
			p.Rows = appendOnce(p.Rows, x.id)
			p.Sources = appendOnce(p.Sources, x.source)
			p.Memory, p.Own = p.Memory || x.memory, p.Own || x.own
			p.Doubt += math.Abs(u.times) * x.doubt * 1000 / Faraday / float64(v.electrons)
			says = append(says, x.text())
		}
		p.Says = fmt.Sprintf("combined, by adding free energies, from %s", strings.Join(says, "; "))
		return p, true
	}
	return Potential{}, false
}

// rarestFirst puts the species that stands in the fewest parts first, so that
// little is tried. It is false where one stands in none: there is no sum then.
func rarestFirst(amounts []amount, parts []*part) bool {
	rarest, fewest := 0, len(parts)+1
	for i, a := range amounts {
		n := 0
		for _, p := range parts {
			if p.vector.of(a.species) != 0 {
				n++
			}
		}
		if n < fewest {
			rarest, fewest = i, n
		}
	}
	amounts[0], amounts[rarest] = amounts[rarest], amounts[0]
	return fewest > 0
}

// allParts are the preferred couples and the equilibria, a user's own couples
// first and those from memory last; none where water's ions have no free energy.
func (t Tables) allParts() []*part {
	ion, ok := t.ionProduct()
	if !ok {
		return nil
	}
	var out []*part
	for _, c := range t.Couples.All() {
		if !c.Preferred && !c.Own {
			continue
		}
		w := vectorOf(c.Half)
		out = append(out, &part{vector: w, elements: elementsOf(w), g: kilojoules(float64(w.electrons), c.Volts) - float64(w.hydroxide)*ion, doubt: digits(c.Text) * Faraday / 1000 * float64(w.electrons),
			id: c.ID, text: func() string { return fmt.Sprintf("%s, %s V", c.Half, signedText(c.Text)) }, source: c.Source, memory: c.Confidence == "memory", own: c.Own})
	}
	for _, e := range reference.Equilibria() {
		w := vectorOf(e.Reaction)
		out = append(out, &part{vector: w, elements: elementsOf(w), g: -Gas*Room*math.Ln10*e.LogK/1000 - float64(w.hydroxide)*ion, doubt: Gas * Room * math.Ln10 * 0.05 / 1000,
			id: e.Kind + " of " + e.Species.String(), text: func() string { return fmt.Sprintf("%s, log K = %s", e.Reaction, fixed(e.LogK, 2)) }, source: e.Source, memory: e.Confidence == "memory"})
	}
	slices.SortStableFunc(out, func(a, b *part) int { return rank(a) - rank(b) })
	return out
}

// elements is a set of elements without oxygen and hydrogen, one bit each.
type elements [2]uint64

func elementsOf(v vector) (all elements) {
	for _, a := range v.amounts {
		for _, c := range a.species.Composition() {
			if c.Element != chem.O && c.Element != chem.H {
				all[c.Element/64] |= 1 << (c.Element % 64)
			}
		}
	}
	return all
}

// hold reports whether all of some, of which there is at least one, are among e.
func (e elements) hold(some elements) bool {
	return some != elements{} && some[0]&^e[0] == 0 && some[1]&^e[1] == 0
}

// rank puts a user's own rows first and those from memory last.
func rank(p *part) int {
	switch {
	case p.own:
		return 0
	case p.memory:
		return 2
	}
	return 1
}

// A use is a part, taken a number of times.
type use struct {
	part  int
	times float64
}

// A search looks for parts that add up to a vector.
type search struct {
	parts []*part
	depth int
	used  []use
	g     float64
}

// find reports whether v, which stands for the half-reaction scale times, is a
// sum of parts that are not in used, and fills in the rest.
func (s *search) find(v vector, scale float64, used []use) bool {
	if len(v.amounts) == 0 {
		if v.electrons != 0 || v.hydron != 0 || v.water != 0 {
			return false
		}
		s.used = slices.Clone(used)
		for _, u := range used {
			s.g += u.times * s.parts[u.part].g
		}
		return true
	}
	if len(used) == s.depth {
		return false
	}
	goal := v.amounts[0]
	last := len(used) == s.depth-1
	for i, p := range s.parts {
		if last && len(p.vector.amounts) != len(v.amounts) || slices.ContainsFunc(used, func(u use) bool { return u.part == i }) {
			continue
		}
		n := p.vector.of(goal.species)
		if n == 0 || last && !p.vector.ends(v, n, goal.n) {
			continue
		}
		rest := v.times(n).plus(p.vector.times(-goal.n))
		if tooLarge(rest) {
			continue
		}
		if s.find(rest, scale*float64(n), append(used, use{i, float64(goal.n) / (scale * float64(n))})) {
			return true
		}
	}
	return false
}

// tooLarge bounds the numbers of a search.
func tooLarge(v vector) bool {
	const most = 1 << 40
	for _, a := range v.amounts {
		if a.n > most || -a.n > most {
			return true
		}
	}
	return false
}

// phases returns the parts' species as one vector, for their phases.
func (s *search) phases() vector {
	var v vector
	for _, u := range s.used {
		for _, a := range s.parts[u.part].vector.amounts {
			if !slices.ContainsFunc(v.amounts, func(b amount) bool { return same(a.species, b.species) }) {
				v.amounts = append(v.amounts, a)
			}
		}
	}
	return v
}
