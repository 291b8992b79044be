package oxidation

import (
	"fmt"
	"slices"
	"strings"

	"halves/chem"
	"halves/reference"
)

// highest holds the highest states known for elements whose group number does
// not tell (N. N. Greenwood, A. Earnshaw, Chemistry of the Elements, 2nd
// edition, 1997, the tables of oxidation states of each chapter; from memory).
var highest = map[string]int64{
	"Fe": 6, "Co": 4, "Ni": 4, "Cu": 3, "Zn": 2, "Rh": 6, "Pd": 4, "Ag": 3, "Cd": 2, "Ir": 9, "Pt": 6, "Au": 5, "Hg": 2,
	"Sc": 3, "Y": 3, "La": 3, "Ce": 4, "Pr": 4, "Nd": 4, "Tb": 4, "Dy": 4,
	"Th": 4, "Pa": 5, "U": 6, "Np": 7, "Pu": 7, "Am": 6, "Cm": 4, "Bk": 4, "Cf": 4,
	"He": 0, "Ne": 0, "Ar": 0, "Kr": 2, "Rn": 2, "O": 2, "F": -1, "H": 1,
}

// Highest returns the highest oxidation state that an element shows.
func Highest(e chem.Element) int64 {
	if n, ok := highest[e.Symbol()]; ok {
		return n
	}
	g := int64(reference.ElementOf(e).Group)
	switch {
	case g == 0:
		return 3 // f block
	case g > 10:
		return g - 10
	}
	return g
}

// lowestState returns the lowest oxidation state that is believed without a table.
func lowestState(e chem.Element) int64 {
	if e == chem.H {
		return -1
	}
	if g := int64(reference.ElementOf(e).Group); g >= 14 && !IsMetal(e) {
		return g - 18
	}
	return -2
}

// IsMetal reports whether an element is a metal. It draws the border as school tables do, boron, silicon, germanium,
// arsenic, antimony and tellurium with the non-metals (common practice, no source).
func IsMetal(e chem.Element) bool {
	switch e.Symbol() {
	case "H", "He", "B", "C", "N", "O", "F", "Ne", "Si", "P", "S", "Cl", "Ar", "Ge", "As", "Se", "Br", "Kr", "Sb", "Te", "I", "Xe", "At", "Rn":
		return false
	}
	return true
}

// fixed returns the state that a metal always has in compounds.
func fixed(e chem.Element) (int64, bool) {
	switch e.Symbol() {
	case "Li", "Na", "K", "Rb", "Cs", "Fr":
		return 1, true
	case "Be", "Mg", "Ca", "Sr", "Ba", "Ra", "Zn", "Cd":
		return 2, true
	case "Al", "Sc", "Y", "La":
		return 3, true
	case "Ag":
		return 1, true
	}
	return 0, false
}

// taken is the order in which the other elements take their lowest usual state
// until one is left: by falling electronegativity (Pauling's scale).
var taken = []struct {
	element chem.Element
	state   int64
}{
	{chem.Cl, -1}, {chem.N, -3}, {chem.Br, -1}, {chem.I, -1}, {chem.S, -2}, {chem.Se, -2},
	{chem.C, -4}, {chem.As, -3}, {chem.P, -3}, {chem.Te, -2}, {chem.Sb, -3}, {chem.B, -3}, {chem.Si, -4},
}

// A solving works the rules on one composition.
type solving struct {
	species *chem.Species // for messages
	atoms   chem.Composition
	charge  int64
	states  map[chem.Element]State
	open    []chem.Element
}

// composition applies the rules to a formula that does not fall into ions.
func composition(s *chem.Species, atoms chem.Composition, charge int64) ([]State, error) {
	w := &solving{species: s, atoms: atoms, charge: charge, states: map[chem.Element]State{}}
	for _, c := range atoms {
		w.open = append(w.open, c.Element)
	}
	w.settle()
	out := make([]State, 0, len(atoms))
	var open []chem.Element
	for _, c := range atoms {
		if st, ok := w.states[c.Element]; ok {
			out = append(out, st)
		} else {
			open = append(open, c.Element)
		}
	}
	if open != nil {
		return out, &OpenError{s, open}
	}
	return out, nil
}

func (w *solving) has(e chem.Element) bool { return slices.Contains(w.open, e) }

func (w *solving) set(e chem.Element, state chem.Ratio, reason string) {
	w.states[e] = State{Element: e, Sites: []Site{{state, w.atoms.Atoms(e)}}, Reason: reason}
	w.open = slices.DeleteFunc(w.open, func(x chem.Element) bool { return x == e })
}

// assign gives e a whole state, unless it is the last one open: that one goes
// by charge.
func (w *solving) assign(e chem.Element, state int64, reason string) {
	if w.has(e) && len(w.open) > 1 {
		w.set(e, chem.Whole(state), fmt.Sprintf("%s is %s, %s", name(e), minus(chem.Whole(state).Signed()), reason))
	}
}

func (w *solving) settle() {
	if len(w.atoms) == 1 {
		w.single()
		return
	}
	w.assign(chem.F, -1, "as in all its compounds")
	for _, c := range w.atoms {
		if n, ok := fixed(c.Element); ok && c.Element.Symbol() != "Ag" {
			w.assign(c.Element, n, "as always in its compounds")
		}
	}
	if w.hydridic() {
		w.assign(chem.H, -1, "since it is joined to a metal, boron or silicon")
	} else {
		w.assign(chem.H, 1, "since it is joined to non-metals")
	}
	organic := w.atoms.Atoms(chem.C) > 0 && w.atoms.Atoms(chem.H) > 0
	w.assign(chem.O, -2, "as in most of its compounds")
	if len(w.open) > 1 {
		for _, c := range w.atoms { // silver, only where another element is open
			if n, ok := fixed(c.Element); ok {
				w.assign(c.Element, n, "as in nearly all its compounds")
			}
		}
	}
	for _, t := range taken {
		e, state := t.element, t.state
		switch {
		case e == chem.C && organic:
			continue
		case e == chem.P && organic && w.atoms.Atoms(chem.O) > 0:
			state = 5
		case (e == chem.B || e == chem.Si) && organic:
			state = Highest(e)
		case e == chem.N && w.nitro():
			w.assign(e, 3, "since it stands in a nitro group")
			continue
		}
		w.assign(e, state, "the more electronegative element, with its usual state")
	}
	if len(w.open) != 1 {
		return
	}
	w.byCharge(w.open[0])
}

// single handles one kind of atom alone.
func (w *solving) single() {
	e, n := w.atoms[0].Element, w.atoms[0].Atoms
	switch state := chem.NewRatio(w.charge, n); {
	case w.charge == 0:
		w.set(e, state, fmt.Sprintf("%s is 0, as in every free element", name(e)))
	case n == 1:
		w.set(e, state, fmt.Sprintf("%s is %s, the charge of the ion", name(e), minus(state.Signed())))
	default:
		w.set(e, state, fmt.Sprintf("%s is %s: the charge shared by %d atoms", name(e), minus(state.Signed()), n))
		if !state.IsWhole() {
			st := w.states[e]
			st.Average = true
			w.states[e] = st
		}
	}
}

// hydridic reports whether hydrogen is joined to metals, boron or silicon only.
func (w *solving) hydridic() bool {
	for _, c := range w.atoms {
		e := c.Element
		if e == chem.H || e == chem.B || e == chem.Si {
			continue
		}
		if (e == chem.F || e == chem.Cl || e == chem.Br || e == chem.I) && w.atoms.Atoms(chem.Si) > 0 {
			continue
		}
		g := reference.ElementOf(e).Group
		if !IsMetal(e) || g >= 15 {
			return false
		}
	}
	return true
}

// nitro reports whether an organic formula as typed ends in NO2.
func (w *solving) nitro() bool {
	if w.atoms.Atoms(chem.C) == 0 || w.atoms.Atoms(chem.N) == 0 || len(w.species.Formula().Parts) != 1 {
		return false
	}
	units := w.species.Formula().Parts[0].Units
	if n := len(units); n >= 3 {
		a, b := units[n-2], units[n-1]
		return a.Element == chem.N && a.Count == 1 && b.Element == chem.O && b.Count == 2 && w.atoms.Atoms(chem.N) == 1
	}
	return false
}

// byCharge gives the last element what the charge demands.
func (w *solving) byCharge(e chem.Element) {
	rest := chem.Whole(w.charge)
	var sum strings.Builder
	for _, c := range w.atoms {
		if st, ok := w.states[c.Element]; ok {
			rest = rest.Sub(st.Total())
			fmt.Fprintf(&sum, " + %s(%s)", times(c.Atoms), minus(st.Sites[0].State.Signed()))
		}
	}
	n := w.atoms.Atoms(e)
	state := rest.Quo(chem.Whole(n))
	if high := Highest(e); state.Cmp(chem.Whole(high)) > 0 {
		if !w.peroxide(e, high) {
			w.reopen(e)
		}
		return
	}
	if state.Cmp(chem.Whole(lowestState(e))) < 0 {
		w.reopen(e)
		return
	}
	reason := fmt.Sprintf("%s is %s by charge: %sx%s = %s", name(e), minus(state.Signed()), times(n), sum.String(), minus(chem.Whole(w.charge).Signed()))
	w.set(e, state, reason)
	st := w.states[e]
	st.Average = !state.IsWhole() || e == chem.C && n > 1 && w.atoms.Atoms(chem.H) > 0
	if st.Average {
		st.Reason += " (an average)"
	}
	w.states[e] = st
}

func times(n int64) string {
	if n == 1 {
		return ""
	}
	return fmt.Sprint(n)
}

// reopen takes back what was only assumed when the assumption led nowhere.
func (w *solving) reopen(e chem.Element) {
	for _, t := range taken {
		if st, ok := w.states[t.element]; ok && strings.Contains(st.Reason, "electronegative") {
			delete(w.states, t.element)
		}
	}
}

// peroxide explains a state that would pass the highest of e by oxygen atoms
// joined to each other: e keeps its highest state and as many oxygen atoms as
// the charge demands are -1.
func (w *solving) peroxide(e chem.Element, high int64) bool {
	oxygen, ok := w.states[chem.O]
	if !ok {
		return false
	}
	nO := w.atoms.Atoms(chem.O)
	rest := chem.Whole(w.charge - high*w.atoms.Atoms(e)).Add(oxygen.Total())
	for _, st := range w.states {
		rest = rest.Sub(st.Total())
	}
	// rest is what all oxygen atoms carry together; each one at -1 in place of
	// -2 adds 1.
	if !rest.IsWhole() {
		return false
	}
	p := rest.Num() + 2*nO
	if p <= 0 || p%2 != 0 || p > nO {
		return false
	}
	w.set(e, chem.Whole(high), fmt.Sprintf("%s is %s, its highest state", name(e), minus(chem.Whole(high).Signed())))
	sites := []Site{{chem.Whole(-2), nO - p}, {chem.Whole(-1), p}}
	reason := fmt.Sprintf("%d of the oxygen atoms are −1 (joined to each other, a peroxide), the others −2: else %s would pass its highest state", p, name(e))
	if p == nO {
		sites = sites[1:]
		reason = fmt.Sprintf("oxygen is −1 (a peroxide): else %s would pass its highest state", name(e))
	}
	w.states[chem.O] = State{Element: chem.O, Sites: sites, Reason: reason}
	return true
}
