package oxidation

import (
	"fmt"
	"slices"
	"strings"
	"sync"

	"halves/chem"
	"halves/reference"
)

// A Site is a number of atoms of one element in one state.
type Site struct {
	State chem.Ratio // elementary charges per atom
	Atoms int64
}

// A State is what the rules say about one element of a species.
type State struct {
	Element chem.Element
	Sites   []Site // at least one, ascending by state; their atoms are all atoms of the element
	Average bool   // atoms may differ and only their mean is known
	Reason  string // one sentence, no full stop
}

// Total returns the sum of the states over all atoms.
func (s State) Total() chem.Ratio {
	t := chem.Whole(0)
	for _, site := range s.Sites {
		t = t.Add(site.State.Mul(chem.Whole(site.Atoms)))
	}
	return t
}

// Values returns one text for each site, such as "+5/2"; a site of several
// atoms is given once unless there are several sites, when each atom counts.
func (s State) Values() []string {
	if len(s.Sites) == 1 {
		return []string{s.Sites[0].State.Signed()}
	}
	var out []string
	for _, site := range s.Sites {
		for range min(site.Atoms, 1000) {
			out = append(out, site.State.Signed())
		}
	}
	return out
}

// An OpenError says that the rules do not settle some elements of a species.
type OpenError struct {
	Species  *chem.Species
	Elements []chem.Element
}

func (e *OpenError) Error() string {
	names := make([]string, len(e.Elements))
	for i, x := range e.Elements {
		names[i] = name(x)
	}
	return fmt.Sprintf("the rules do not settle the oxidation state of %s in %s", strings.Join(names, " and "), e.Species)
}

func name(e chem.Element) string { return reference.ElementOf(e).Name }

// States returns one State for each element of s, in the order of atomic
// numbers; none for the electron. Atoms times states sum to the charge of s.
// The result is shared and must not be changed.
//
// If the rules leave elements open, States returns those that they settle and
// an *OpenError naming the rest.
func States(s *chem.Species) ([]State, error) {
	if s.IsElectron() {
		return nil, nil
	}
	entry := reference.Species().Find(s)
	if entry == nil || !entry.Species.Same(s) {
		return work(s, entry)
	}
	// A species of the table is worked once.
	memo := &listed()[entry.Row]
	memo.once.Do(func() { memo.states, memo.err = work(s, entry) })
	return memo.states, memo.err
}

// A result is what States found for a row of the table.
type result struct {
	once   sync.Once
	states []State
	err    error
}

var listed = sync.OnceValue(func() []result { return make([]result, reference.Species().Len()) })

// work finds the states of s, whose row is entry, nil for none.
func work(s *chem.Species, entry *reference.Entry) ([]State, error) {
	byRule, err := byRules(s)
	if entry == nil && err != nil {
		// Another arrangement of the same atoms is better than nothing, if all
		// that are known agree.
		if same := reference.Species().Isomers(s.Composition(), s.Charge()); len(same) > 0 && agree(same) {
			entry = same[0]
		}
	}
	if entry == nil {
		return byRule, err
	}
	if err == nil && confirms(entry, byRule) {
		return byRule, nil
	}
	return fromTable(s, entry), nil
}

// confirms reports whether a row of the table gives the same states.
func confirms(entry *reference.Entry, states []State) bool {
	if len(entry.States) != len(states) {
		return false
	}
	for _, es := range entry.States {
		i := slices.IndexFunc(states, func(s State) bool { return s.Element == es.Element })
		if i < 0 || len(states[i].Sites) != len(es.Sites) {
			return false
		}
		for _, x := range es.Sites {
			if !slices.ContainsFunc(states[i].Sites, func(y Site) bool {
				return x.State.Equal(y.State) && (x.Atoms == 0 || x.Atoms == y.Atoms)
			}) {
				return false
			}
		}
	}
	return true
}

// fromTable turns a row of the table of species into states.
func fromTable(s *chem.Species, entry *reference.Entry) []State {
	states := make([]State, 0, len(entry.States))
	why := "listed for " + entry.Species.String() + " in the table of species"
	if entry.Note != "" && len(entry.Note) < 80 {
		why += " (" + entry.Note + ")"
	}
	for _, es := range entry.States {
		st := State{Element: es.Element, Reason: fmt.Sprintf("%s is %s, %s", name(es.Element), siteText(es.Sites), why)}
		for _, site := range es.Sites {
			atoms := site.Atoms
			if atoms == 0 {
				atoms = s.Atoms(es.Element)
			}
			st.Sites = append(st.Sites, Site{site.State, atoms})
			st.Average = st.Average || !site.State.IsWhole()
		}
		slices.SortFunc(st.Sites, func(a, b Site) int { return a.State.Cmp(b.State) })
		states = append(states, st)
	}
	slices.SortFunc(states, func(a, b State) int { return int(a.Element) - int(b.Element) })
	return states
}

func siteText(sites []reference.Site) string {
	parts := make([]string, len(sites))
	for i, s := range sites {
		parts[i] = minus(s.State.Signed())
	}
	return strings.Join(parts, " and ")
}

// minus gives a number in a sentence its true minus sign.
func minus(s string) string { return strings.Replace(s, "-", "−", 1) }

func agree(entries []*reference.Entry) bool {
	for _, e := range entries[1:] {
		if !sameStates(fromTable(e.Species, e), fromTable(entries[0].Species, entries[0])) {
			return false
		}
	}
	return true
}

func sameStates(a, b []State) bool {
	return slices.EqualFunc(a, b, func(x, y State) bool {
		return x.Element == y.Element && slices.Equal(x.Sites, y.Sites)
	})
}

// byRules works without the species' own row.
func byRules(s *chem.Species) ([]State, error) {
	parts := s.Formula().Parts
	if len(parts) == 1 || s.Charge() != 0 {
		units := parts[0].Units
		if len(parts) > 1 {
			return composition(s, s.Composition(), s.Charge())
		}
		if states, ok := fromIons(s, units, s.Charge()); ok {
			return states, nil
		}
		return composition(s, s.Composition(), s.Charge())
	}
	// The parts of a hydrate are neutral, each by itself.
	var sum gathering
	for _, p := range parts {
		part, ok := chem.NewSpecies(chem.Formula{Parts: []chem.Part{{Count: 1, Units: p.Units}}}, 0, chem.NoPhase)
		if !ok {
			return nil, &OpenError{s, nil}
		}
		states, err := States(part)
		if err != nil {
			return nil, err
		}
		sum.add(states, p.Count, "")
	}
	return sum.states(), nil
}

// A gathering adds up the states of the pieces of a formula.
type gathering []State

func (g *gathering) add(states []State, times int64, prefix string) {
	for _, st := range states {
		i, found := slices.BinarySearchFunc(*g, st.Element, func(x State, e chem.Element) int { return int(x.Element) - int(e) })
		if !found {
			*g = slices.Insert(*g, i, State{Element: st.Element, Reason: prefix + st.Reason})
		} else if r := prefix + st.Reason; !strings.Contains((*g)[i].Reason, st.Reason) {
			(*g)[i].Reason += "; " + r
		}
		to := &(*g)[i]
		to.Average = to.Average || st.Average
		for _, site := range st.Sites {
			j, found := slices.BinarySearchFunc(to.Sites, site.State, func(x Site, r chem.Ratio) int { return x.State.Cmp(r) })
			if !found {
				to.Sites = slices.Insert(to.Sites, j, Site{State: site.State})
			}
			to.Sites[j].Atoms += site.Atoms * times
		}
	}
}

func (g gathering) states() []State { return g }
