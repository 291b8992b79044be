package caution

import (
	_ "embed"
	"fmt"
	"strings"
	"sync"

	"halves/chem"
	"halves/reference"
)

//go:embed classes.tsv
var classesTSV string

// classWords is the size of a set of classes, in words of 64 bits.
const classWords = 4

// A classSet is a set of classes, a bit each.
type classSet [classWords]uint64

func (s *classSet) add(i int)      { s[i/64] |= 1 << (i % 64) }
func (s *classSet) has(i int) bool { return s[i/64]&(1<<(i%64)) != 0 }
func (s *classSet) join(t classSet) {
	for i := range s {
		s[i] |= t[i]
	}
}

// A classTable tells the classes of a species.
type classTable struct {
	nouns    []string // by class
	byName   map[string]int
	species  map[string]classSet
	ions     map[string]classSet
	ionUnits []ionUnits
	elements [chem.MaxElement + 1]classSet // the element as a substance
	with     [chem.MaxElement + 1]classSet // a compound of it

	metal, organic, organicLiquid classSet
}

// ionUnits is an anion by the units of its formula, to find it in a salt that
// the table of species does not know.
type ionUnits struct {
	key     string
	units   []chem.Unit
	classes classSet
}

var classes = sync.OnceValue(func() *classTable {
	t, err := loadClasses(classesTSV)
	if err != nil {
		panic("caution: " + err.Error()) // a part of the program; the tests read every row
	}
	return t
})

const classHeader = "class\tnoun\tmembers"

// loadClasses reads the table; a class may have classes as members, named in
// any row.
func loadClasses(text string) (*classTable, error) {
	header, rest, _ := strings.Cut(text, "\n")
	if header != classHeader {
		return nil, fmt.Errorf("classes.tsv, row 1: the columns are %q, want %q", header, classHeader)
	}
	t := &classTable{byName: map[string]int{}, species: map[string]classSet{}, ions: map[string]classSet{}}
	var members []string
	for line := range strings.SplitSeq(strings.TrimSuffix(rest, "\n"), "\n") {
		f := strings.Split(line, "\t")
		if len(f) != 3 || f[0] == "" || f[1] == "" {
			return nil, fmt.Errorf("classes.tsv, row %d: want a class, a noun and its members", len(members)+2)
		}
		if _, twice := t.byName[f[0]]; twice {
			return nil, fmt.Errorf("classes.tsv, row %d: class %q stands twice", len(members)+2, f[0])
		}
		t.byName[f[0]] = len(members)
		t.nouns = append(t.nouns, f[1])
		members = append(members, f[2])
	}
	// The classes that hold a class, directly or through others.
	holders := make([]classSet, len(members))
	for i := range holders {
		holders[i].add(i)
	}
	for range members {
		for i, m := range members {
			for k := range strings.SplitSeq(m, "|") {
				if name, ok := strings.CutPrefix(k, "class:"); ok {
					j, known := t.byName[name]
					if !known {
						return nil, fmt.Errorf("classes.tsv, row %d: no class %q", i+2, name)
					}
					holders[j].join(holders[i])
				}
			}
		}
	}
	for i, m := range members {
		if err := t.enter(m, holders[i]); err != nil {
			return nil, fmt.Errorf("classes.tsv, row %d: %w", i+2, err)
		}
	}
	// A part of a mixture that is no class becomes one, without a noun: what
	// the mixture calls it is said instead.
	for _, m := range reference.Mixtures() {
		for _, p := range m.Match {
			for _, k := range p.Any {
				if err := t.enterKind(k); err != nil {
					return nil, fmt.Errorf("mixture %s: %w", m.ID, err)
				}
			}
		}
	}
	if len(t.nouns) > classWords*64 {
		return nil, fmt.Errorf("%d classes, at most %d", len(t.nouns), classWords*64)
	}
	return t, nil
}

// kindName names what a part of a mixture can be, as a class.
func kindName(k reference.PartKind) string {
	if k.Kind == "class" {
		return k.Name
	}
	return k.Kind + ":" + k.Name
}

func (t *classTable) enterKind(k reference.PartKind) error {
	name := kindName(k)
	if _, known := t.byName[name]; known {
		return nil
	}
	if k.Kind == "class" {
		return fmt.Errorf("no class %q", name)
	}
	t.byName[name] = len(t.nouns)
	var set classSet
	set.add(len(t.nouns))
	t.nouns = append(t.nouns, "")
	return t.enter(name, set)
}

// enter gives the members, other classes aside, to the classes of set.
func (t *classTable) enter(members string, set classSet) error {
	for m := range strings.SplitSeq(members, "|") {
		switch kind, name, _ := strings.Cut(m, ":"); kind {
		case "class":
		case "built-in":
			switch name {
			case "metal":
				t.metal.join(set)
			case "organic":
				t.organic.join(set)
			case "organic liquid":
				t.organicLiquid.join(set)
			default:
				return fmt.Errorf("nothing built in is called %q", name)
			}
		default:
			if _, err := reference.ReadPartKinds("members", m); err != nil {
				return err
			}
			t.enterMember(kind, name, set)
		}
	}
	return nil
}

func (t *classTable) enterMember(kind, name string, set classSet) {
	add := func(m map[string]classSet) {
		s := m[name]
		s.join(set)
		m[name] = s
	}
	switch kind {
	case "species":
		add(t.species)
	case "ion":
		add(t.species)
		add(t.ions)
		t.enterUnits(name, set)
	case "element":
		e, _ := chem.ElementBySymbol(name)
		t.elements[e].join(set)
	case "with":
		e, _ := chem.ElementBySymbol(name)
		t.with[e].join(set)
	}
}

func (t *classTable) enterUnits(name string, set classSet) {
	for i := range t.ionUnits {
		if t.ionUnits[i].key == name {
			t.ionUnits[i].classes.join(set)
			return
		}
	}
	r, err := chem.ReadSpecies(name, nil)
	if err != nil || len(r[0].Species.Formula().Parts) != 1 || r[0].Species.Charge() >= 0 {
		return // cations are not sought in unknown salts, ammonium aside
	}
	t.ionUnits = append(t.ionUnits, ionUnits{name, r[0].Species.Formula().Parts[0].Units, set})
}

// A kind is what the tables know about a species.
type kind struct {
	classes classSet
	usual   chem.Phase // where it carries none; NoPhase if unknown
	ionic   bool       // an ion by itself
}

// memo holds the kinds of the rows of the table of species.
var memo = sync.OnceValue(func() []memoRow { return make([]memoRow, reference.Species().Len()) })

type memoRow struct {
	once sync.Once
	kind kind
}

// kindOf returns the kind of s. A species of the table is looked at once.
func kindOf(s *chem.Species) *kind {
	if e := reference.Species().Find(s); e != nil {
		row := &memo()[e.Row]
		row.once.Do(func() { row.kind = classes().find(e.Species, e) })
		return &row.kind
	}
	k := classes().find(s, nil)
	return &k
}

// find looks at s, whose row is e, nil if none.
func (t *classTable) find(s *chem.Species, e *reference.Entry) kind {
	k := kind{classes: t.species[s.Key()], ionic: s.Charge() != 0}
	var ions []chem.Term
	if e != nil {
		k.usual, ions = e.Phase, e.Ions
	} else if same := reference.Species().Isomers(s.Composition(), s.Charge()); len(same) > 0 {
		k.usual = same[0].Phase
	}
	for _, ion := range ions {
		k.classes.join(t.ions[ion.Species.Key()])
	}
	if ions == nil && s.Charge() == 0 {
		t.findIons(s, &k)
	}
	c := s.Composition()
	if s.IsElement() {
		k.classes.join(t.elements[c[0].Element])
		if isMetal(c[0].Element) {
			k.classes.join(t.metal)
		}
	} else {
		for _, n := range c {
			k.classes.join(t.with[n.Element])
		}
	}
	if isOrganic(s, &k, t) {
		k.classes.join(t.organic)
		if k.usual == chem.Liquid {
			k.classes.join(t.organicLiquid)
		}
	}
	return k
}

// findIons finds the anions in a formula that the table of species does not
// part into ions: at its end or in a bracket, after metals, hydrogen or
// ammonium only.
func (t *classTable) findIons(s *chem.Species, k *kind) {
	parts := s.Formula().Parts
	if len(parts) == 0 {
		return
	}
	units := parts[0].Units
	if len(units) > 1 && isAmmonium(units) {
		k.classes.join(t.ions["NH4^+"])
	}
	for _, ion := range t.ionUnits {
		if endsIn(units, ion.units) {
			k.classes.join(ion.classes)
		}
	}
}

// isAmmonium reports whether the formula begins with NH4 or (NH4).
func isAmmonium(units []chem.Unit) bool {
	u := units[0]
	if u.Group != nil {
		return len(u.Group) > 1 && isAmmonium(u.Group)
	}
	return u.Element == chem.N && u.Count == 1 && units[1].Element == chem.H && units[1].Count == 4
}

func endsIn(units, ion []chem.Unit) bool {
	if len(units) < 2 {
		return false
	}
	front := units[:len(units)-1]
	last := units[len(units)-1]
	switch {
	case last.Group != nil:
		if !sameUnits(last.Group, ion) {
			return false
		}
	case len(ion) == 1 && ion[0].Count == 1:
		if last.Element != ion[0].Element { // As2S3: any number of them
			return false
		}
	case len(units) <= len(ion):
		return false
	default:
		front = units[:len(units)-len(ion)]
		if !sameUnits(units[len(front):], ion) {
			return false
		}
	}
	if isAmmonium(units) {
		return true
	}
	for _, u := range front {
		if u.Group != nil || u.Element != chem.H && !isMetal(u.Element) && !isMetalloid(u.Element) {
			return false
		}
	}
	return true
}

func sameUnits(a, b []chem.Unit) bool {
	if len(a) != len(b) {
		return false
	}
	for i := range a {
		if a[i].Element != b[i].Element || a[i].Count != b[i].Count || a[i].Group != nil || b[i].Group != nil {
			return false
		}
	}
	return true
}

// isOrganic reports whether s is an organic substance: a molecule of carbon
// with hydrogen, without a metal, and neither an acid or salt of carbon that
// is taught with the inorganic ones nor a salt of ammonium.
func isOrganic(s *chem.Species, k *kind, t *classTable) bool {
	c := s.Composition()
	if s.Charge() != 0 || c.Atoms(chem.C) == 0 || c.Atoms(chem.H) == 0 {
		return false
	}
	for _, n := range c {
		if isMetal(n.Element) {
			return false
		}
	}
	for _, name := range []string{"cyanide", "oxalic acid", "ion:NH4^+", "ion:SCN^-", "ion:OCN^-", "ion:Fe(CN)6^4-"} {
		if i, ok := t.byName[name]; ok && k.classes.has(i) {
			return false
		}
	}
	return s.Key() != "H2CO3" && s.Key() != "HCN"
}

// isMetal reports whether the element is a metal as first courses count them.
func isMetal(e chem.Element) bool {
	switch {
	case e < 3, e >= 5 && e <= 10, e >= 14 && e <= 18, e >= 32 && e <= 36, e >= 51 && e <= 54, e >= 85 && e <= 86, e >= 117:
		return false
	}
	return true
}

func isMetalloid(e chem.Element) bool {
	switch e {
	case chem.B, chem.Si, chem.As, chem.Sb, chem.Te, 32:
		return true
	}
	return false
}
