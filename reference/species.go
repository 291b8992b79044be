package reference

import (
	_ "embed"
	"fmt"
	"iter"
	"math/bits"
	"slices"
	"strconv"
	"strings"
	"sync"

	"halves/chem"
)

//go:embed species.tsv
var speciesTSV string

// A SpeciesTable is the table of species, in its own order: where two species
// are written with the same characters, the commoner stands first. It
// implements chem.Lexicon.
type SpeciesTable struct {
	rows       []row[Entry]
	own        int            // rows at the beginning that are a user's
	bySpelling map[string]int // row by plain spelling
	byElements func() map[elementsKey][]int
}

// An Entry is a row of the table of species.
type Entry struct {
	Row        int             // place in the table, from 0
	Species    *chem.Species   // without phase
	Spellings  []*chem.Species // other formulas of the same atoms and charge; nil if none
	Names      []string        // at least one, a systematic one first where there is one
	Phase      chem.Phase      // usual at 25 °C and 1 bar; Aqueous where it exists only dissolved
	Soluble    string          // in water at 25 °C: "yes", "no" or "slight"; "" where a user's row does not say
	Ions       []chem.Term     // the ions as which it is written dissolved, cations first; nil if none; coefficients whole
	Colour     string          // "" where unknown
	States     []ElementStates // each element of the species once; nil where a user's row of an unknown species gives none
	Note       string
	Source     string // a key for SourceOf; of a user's row as the user wrote it, which may be ""
	Confidence string // "source-read" or "memory"; of a user's row "own"
	Own        bool   // from the user's table
}

// ElementStates are the oxidation states of one element in a species.
type ElementStates struct {
	Element chem.Element
	// Sites is one site with Atoms 0 where all atoms are alike or only their
	// mean is told, else two or more sites whose Atoms add up to all.
	Sites []Site
}

// A Site is a number of atoms in one oxidation state.
type Site struct {
	State chem.Ratio // in elementary charges per atom
	Atoms int64
}

var _ chem.Lexicon = (*SpeciesTable)(nil)

// Species returns the table of species, with the user's rows where UseSpecies
// was given some.
func Species() *SpeciesTable {
	if t := used.Load(); t != nil {
		return t
	}
	return species()
}

var species = sync.OnceValue(func() *SpeciesTable {
	return must(loadSpecies(speciesTSV))
})

// Len returns the number of rows.
func (t *SpeciesTable) Len() int { return len(t.rows) }

// All returns the rows in order.
func (t *SpeciesTable) All() []*Entry {
	all := make([]*Entry, len(t.rows))
	for i := range all {
		all[i] = t.entry(i)
	}
	return all
}

// Names calls yield for each row, in order, with its formula and its names
// parted by bars, as the table writes them. It reads no formula.
func (t *SpeciesTable) Names(yield func(formula, names string) bool) {
	for i := range t.rows {
		formula, rest, _ := strings.Cut(t.rows[i].line, "\t")
		_, rest, _ = strings.Cut(rest, "\t")
		names, _, _ := strings.Cut(rest, "\t")
		if !yield(formula, names) {
			return
		}
	}
}

// At returns row i, from 0.
func (t *SpeciesTable) At(i int) *Entry { return t.entry(i) }

// entry returns row i, from 0.
func (t *SpeciesTable) entry(i int) *Entry {
	return t.rows[i].get(func(string) (*Entry, error) { return t.readRow(i) })
}

// rankOfIsomer is added to the rank of a species that only has the same atoms
// and charge as a row; no table is that long.
const rankOfIsomer = 10000

// Rank returns the place of s in the table, from 0, and whether it is known. A
// formula that no row spells is known too if it has two elements or more and
// the atoms and charge of a row (C6H6O for C6H5OH); its place is 10000 later.
func (t *SpeciesTable) Rank(s *chem.Species) (int, bool) {
	if i, ok := t.find(s); ok {
		return i, true
	}
	if c := s.Composition(); len(c) > 1 {
		if same := t.Isomers(c, s.Charge()); len(same) > 0 {
			return rankOfIsomer + same[0].Row, true
		}
	}
	return 0, false
}

// Find returns the row that spells s as its formula or as another formula of
// it, nil if none. The kind of bracket, and brackets that multiply by one, make
// no difference: K3[Fe(CN)6] is K3Fe(CN)6.
func (t *SpeciesTable) Find(s *chem.Species) *Entry {
	if i, ok := t.find(s); ok {
		return t.entry(i)
	}
	return nil
}

func (t *SpeciesTable) find(s *chem.Species) (int, bool) {
	i, ok := t.bySpelling[plainSpelling(s.Key())]
	return i, ok
}

// Isomers returns the rows with these atoms and this charge, in order, nil if
// none.
func (t *SpeciesTable) Isomers(c chem.Composition, charge int64) []*Entry {
	key := elementsKey{charge: charge}
	for _, n := range c {
		key.add(n.Element)
	}
	var same []*Entry
	for _, i := range t.byElements()[key] {
		if e := t.entry(i); e.Species.Composition().Equal(c) {
			same = append(same, e)
		}
	}
	return same
}

// mostCharge is beyond the charge of every species of the table.
const mostCharge = 12

// WithAtoms returns the rows with these atoms, whatever the charge, in order, nil
// if none.
func (t *SpeciesTable) WithAtoms(c chem.Composition) []*Entry {
	var all []*Entry
	for charge := int64(-mostCharge); charge <= mostCharge; charge++ {
		all = append(all, t.Isomers(c, charge)...)
	}
	slices.SortFunc(all, func(a, b *Entry) int { return a.Row - b.Row })
	return all
}

// Charged returns the rows of ions, in order.
func (t *SpeciesTable) Charged() []*Entry {
	var all []*Entry
	for i := range t.rows {
		if strings.Contains(fieldOf(t.rows[i].line, 0), "^") {
			all = append(all, t.entry(i))
		}
	}
	return all
}

// plainSpelling returns the key of a species with round brackets only, and
// without brackets that multiply by one.
func plainSpelling(key string) string {
	if !strings.ContainsAny(key, "([{") {
		return key
	}
	plain := make([]byte, 0, len(key))
	var open []int // places in plain
	for i := range len(key) {
		switch c := key[i]; c {
		case '(', '[', '{':
			open = append(open, len(plain))
			plain = append(plain, '(')
		case ')', ']', '}':
			last := open[len(open)-1]
			open = open[:len(open)-1]
			if i+1 < len(key) && key[i+1] >= '0' && key[i+1] <= '9' {
				plain = append(plain, ')')
			} else {
				plain = append(plain[:last], plain[last+1:]...)
			}
		default:
			plain = append(plain, c)
		}
	}
	return string(plain)
}

// An elementsKey is a set of elements, a bit for each atomic number, with a
// charge.
type elementsKey struct {
	elements [2]uint64
	charge   int64
}

func (k *elementsKey) add(e chem.Element) { k.elements[e/64] |= 1 << (e % 64) }

// all goes through the elements, by atomic number.
func (k elementsKey) all() iter.Seq[chem.Element] {
	return func(yield func(chem.Element) bool) {
		for word, set := range k.elements {
			for ; set != 0; set &= set - 1 {
				if !yield(chem.Element(64*word + bits.TrailingZeros64(set))) {
					return
				}
			}
		}
	}
}

var speciesColumns = []string{"formula", "alt_formula", "names", "phase", "soluble_in_water", "strong_electrolyte", "ions", "colour", "oxidation_states", "note", "source", "confidence"}

var phases = map[string]chem.Phase{"s": chem.Solid, "l": chem.Liquid, "g": chem.Gas, "aq": chem.Aqueous}

// loadSpecies indexes the table; its rows are read later.
func loadSpecies(text string) (*SpeciesTable, error) {
	t := newSpeciesTable(strings.Count(text, "\n"))
	err := eachRow("species.tsv", text, speciesColumns, func(line string) error {
		formula, rest, _ := strings.Cut(line, "\t")
		others, _, _ := strings.Cut(rest, "\t")
		if err := t.enter(formula); err != nil {
			return err
		}
		for others != "" {
			var other string
			other, others, _ = strings.Cut(others, "|")
			if err := t.enter(other); err != nil {
				return err
			}
		}
		t.rows = append(t.rows, row[Entry]{line: line})
		return nil
	})
	return t, err
}

// newSpeciesTable returns a table with room for n rows.
func newSpeciesTable(n int) *SpeciesTable {
	t := &SpeciesTable{rows: make([]row[Entry], 0, n), bySpelling: make(map[string]int, n+n/2)}
	t.byElements = sync.OnceValue(t.indexElements)
	return t
}

// enter takes up a spelling of the row to come. A spelling belongs to one row.
func (t *SpeciesTable) enter(formula string) error {
	plain := plainSpelling(formula)
	if i, taken := t.bySpelling[plain]; taken && i != len(t.rows) {
		return fieldError("formula", formula, fmt.Sprintf("stands in row %d too", i+2))
	}
	t.bySpelling[plain] = len(t.rows)
	return nil
}

// readRow reads row i, from 0.
func (t *SpeciesTable) readRow(i int) (*Entry, error) {
	f, err := fieldsOf(t.rows[i].line, speciesColumns)
	if err != nil {
		return nil, rowError("species.tsv", i+2, err)
	}
	e := &Entry{Row: i, Names: strings.Split(f[2], "|"), Phase: phases[f[3]], Soluble: f[4], Colour: f[7], Note: f[9], Source: f[10], Confidence: f[11]}
	if err := t.readFields(e, f); err != nil {
		return nil, rowError("species.tsv", i+2, err)
	}
	return e, nil
}

func (t *SpeciesTable) readFields(e *Entry, f []string) (err error) {
	if e.Species, err = readOne("formula", f[0]); err != nil {
		return err
	}
	if f[1] != "" {
		for text := range strings.SplitSeq(f[1], "|") {
			s, err := readOne("alt_formula", text)
			if err != nil {
				return err
			}
			if s.Charge() != e.Species.Charge() || !s.Composition().Equal(e.Species.Composition()) {
				return fieldError("alt_formula", text, "is another species than "+f[0])
			}
			e.Spellings = append(e.Spellings, s)
		}
	}
	if e.Phase == chem.NoPhase {
		return fieldError("phase", f[3], "is not s, l, g or aq")
	}
	if (f[5] == "yes") != (f[6] != "") {
		return fieldError("ions", f[6], "does not agree with the column \"strong_electrolyte\"")
	}
	if e.Ions, err = t.readIons(f[6]); err != nil {
		return err
	}
	e.States, err = readStates(f[8])
	return err
}

// readOne reads a formula that allows one reading and is written as chem
// prints it.
func readOne(column, text string) (*chem.Species, error) {
	r, err := chem.ReadSpecies(text, nil)
	if err != nil {
		return nil, unread(column, text, err)
	}
	s := r[0].Species
	if s.String() != text {
		return nil, fieldError(column, text, "is printed as "+s.String())
	}
	return s, nil
}

// readStates reads "Fe:+2*1,+3*2;O:-2".
func readStates(text string) ([]ElementStates, error) {
	all := make([]ElementStates, 0, 4)
	for part := range strings.SplitSeq(text, ";") {
		symbol, sites, _ := strings.Cut(part, ":")
		e, ok := chem.ElementBySymbol(symbol)
		if !ok {
			return nil, fieldError("oxidation_states", part, "does not name an element")
		}
		states := ElementStates{Element: e, Sites: make([]Site, 0, 1)}
		for site := range strings.SplitSeq(sites, ",") {
			stateText, atomsText, counted := strings.Cut(site, "*")
			var s Site
			if s.State, ok = signed(stateText); ok && counted {
				s.Atoms, _ = strconv.ParseInt(atomsText, 10, 64)
				ok = s.Atoms > 0
			}
			if !ok {
				return nil, fieldError("oxidation_states", site, "is not a state such as +3, -1/3 or +3*2")
			}
			states.Sites = append(states.Sites, s)
		}
		all = append(all, states)
	}
	return all, nil
}

// readIons reads "2 Na^+ + SO4^2-", where each ion is a row.
func (t *SpeciesTable) readIons(text string) ([]chem.Term, error) {
	if text == "" {
		return nil, nil
	}
	ions := make([]chem.Term, 0, 3)
	for part := range strings.SplitSeq(text, " + ") {
		n := int64(1)
		if count, rest, counted := strings.Cut(part, " "); counted {
			var err error
			if n, err = strconv.ParseInt(count, 10, 64); err != nil || n < 2 {
				return nil, fieldError("ions", part, "does not begin with a number of ions")
			}
			part = rest
		}
		s, err := readOne("ions", part)
		if err != nil {
			return nil, err
		}
		if _, known := t.find(s); !known || s.Charge() == 0 {
			return nil, fieldError("ions", part, "is not an ion of the table")
		}
		ions = append(ions, chem.Term{Coefficient: chem.Whole(n), Species: s})
	}
	return ions, nil
}

// indexElements gathers the rows by their elements, which are seen in the text
// without reading it as a formula.
func (t *SpeciesTable) indexElements() map[elementsKey][]int {
	m := make(map[elementsKey][]int, len(t.rows))
	for i := range t.rows {
		formula, _, _ := strings.Cut(t.rows[i].line, "\t")
		atoms, charge, charged := strings.Cut(formula, "^")
		k := elementsIn(atoms)
		if charged { // "2-", "+"
			digits, sign := charge[:len(charge)-1], charge[len(charge)-1]
			k.charge = 1
			if digits != "" {
				k.charge, _ = strconv.ParseInt(digits, 10, 64)
			}
			if sign == '-' {
				k.charge = -k.charge
			}
		}
		m[k] = append(m[k], i)
	}
	return m
}

// elementsIn returns the elements of a formula without reading it as one.
func elementsIn(formula string) (k elementsKey) {
	for j := 0; j < len(formula); j++ {
		if c := formula[j]; c < 'A' || c > 'Z' {
			continue
		}
		symbol := formula[j : j+1]
		if j+1 < len(formula) && formula[j+1] >= 'a' && formula[j+1] <= 'z' {
			symbol = formula[j : j+2]
		}
		if e, ok := chem.ElementBySymbol(symbol); ok {
			k.add(e)
		}
	}
	return k
}
