package names

import (
	"slices"
	"strconv"
	"strings"

	"halves/chem"
	"halves/reference"
)

// A ligand is an ion or molecule bound to a central atom (IUPAC Red Book 2005,
// IR-9.2.2.3 and table IX, from memory; the second names are older ones).
type ligand struct {
	name, older string
	formula     string
	charge      int64
	bracketed   bool // takes bis, tris: tris(oxalato)
}

var ligands = [...]ligand{
	{"ammine", "", "NH3", 0, false},
	{"aqua", "aquo", "H2O", 0, false},
	{"carbonyl", "", "CO", 0, false},
	{"fluorido", "fluoro", "F", -1, false},
	{"chlorido", "chloro", "Cl", -1, false},
	{"bromido", "bromo", "Br", -1, false},
	{"iodido", "iodo", "I", -1, false},
	{"cyanido", "cyano", "CN", -1, false},
	{"hydroxido", "hydroxo", "OH", -1, false},
	{"oxido", "oxo", "O", -2, false},
	{"peroxido", "peroxo", "O2", -2, false},
	{"thiocyanato", "isothiocyanato", "SCN", -1, false},
	{"thiosulfato", "", "S2O3", -2, true},
	{"sulfido", "thio", "S", -2, false},
	{"hydrido", "hydro", "H", -1, false},
	{"nitrito", "nitro", "NO2", -1, false},
	{"nitrato", "", "NO3", -1, false},
	{"azido", "", "N3", -1, false},
	{"amido", "", "NH2", -1, false},
	{"acetato", "", "CH3COO", -1, true},
	{"oxalato", "ethanedioato", "C2O4", -2, true},
	{"sulfato", "", "SO4", -2, true},
	{"sulfito", "", "SO3", -2, true},
	{"carbonato", "", "CO3", -2, true},
	{"phosphato", "", "PO4", -3, true},
	{"ethane1,2diamine", "ethylenediamine", "C2H8N2", 0, true},
	{"1,10phenanthroline", "", "C12H8N2", 0, true},
	{"2,2'bipyridine", "", "C10H8N2", 0, true},
	{"nitrosyl", "", "NO", 0, false},
}

// A boundLigand is a ligand with its number.
type boundLigand struct {
	*ligand
	n int64
}

// maxLigands bounds the kinds of ligand in a name that is read.
const maxLigands = 4

// complex reads an additive name: hexacyanidoferrate(III),
// tetraamminecopper(2+), tetraoxidomanganate(1-).
func (r *reader) complex(key string) *chem.Species {
	base, number := cutNumber(key)
	return r.complexOf(base, number)
}

func (r *reader) complexOf(base string, number number) *chem.Species {
	if z, _ := r.words.element(base); z > chem.H {
		return nil
	}
	var bound [maxLigands]boundLigand
	return r.ligandsOf(base, bound[:0], number)
}

func (r *reader) ligandsOf(key string, bound []boundLigand, number number) *chem.Species {
	if len(bound) > 0 {
		if s := r.centre(key, bound, number); s != nil {
			return s
		}
	}
	if len(bound) == maxLigands {
		return nil
	}
	for n, rest := range prefixes(key) {
		rest, inBrackets := strings.CutPrefix(rest, "(")
		for i := range ligands {
			l := &ligands[i]
			after, ok := strings.CutPrefix(rest, l.name)
			if !ok && l.older != "" {
				after, ok = strings.CutPrefix(rest, l.older)
			}
			if ok && inBrackets {
				after, ok = strings.CutPrefix(after, ")")
			}
			if !ok {
				continue
			}
			if s := r.ligandsOf(after, append(bound, boundLigand{l, max(n, 1)}), number); s != nil {
				return s
			}
		}
		if l, after := r.anionLigand(rest); l != nil {
			if inBrackets {
				var ok bool
				if after, ok = strings.CutPrefix(after, ")"); !ok {
					continue
				}
			}
			if s := r.ligandsOf(after, append(bound, boundLigand{l, max(n, 1)}), number); s != nil {
				return s
			}
		}
	}
	return nil
}

// anionLigand reads a ligand that is an anion of the table: tartrato,
// hydrogenphosphato.
func (r *reader) anionLigand(key string) (*ligand, string) {
	i := strings.Index(key, "ato")
	if i < 3 {
		return nil, key
	}
	i += len("ato")
	row, ok := r.index.anions[key[:i-1]+"e"]
	if !ok {
		return nil, key
	}
	a := species(row)
	return &ligand{name: key[:i], formula: a.Formula().String(), charge: a.Charge(), bracketed: true}, key[i:]
}

// centre reads what follows the ligands: copper, ferrate, disulfate.
func (r *reader) centre(key string, bound []boundLigand, number number) *chem.Species {
	for n, rest := range prefixes(key) {
		z, after := r.words.element(rest)
		anion := false
		if z == 0 || after != "" {
			stem, ok := strings.CutSuffix(rest, "ate")
			if z = r.words.byStem[stem]; !ok || z == 0 {
				continue
			}
			anion = true
		}
		if s := r.assemble(z, max(n, 1), anion, bound, number); s != nil {
			return s
		}
	}
	return nil
}

// assemble puts a complex together.
func (r *reader) assemble(z chem.Element, n int64, anion bool, bound []boundLigand, number number) *chem.Species {
	var b strings.Builder
	b.WriteString(z.Symbol())
	writeCount(&b, n)
	charge := number.value
	if !number.charge {
		charge *= n
	}
	for _, l := range bound {
		if len(l.formula) > 2 || len(l.formula) == 2 && l.formula[1] < 'a' {
			if l.n > 1 {
				b.WriteString("(" + l.formula + ")")
				writeCount(&b, l.n)
			} else {
				b.WriteString(l.formula)
			}
		} else {
			b.WriteString(l.formula)
			writeCount(&b, l.n)
		}
		if !number.charge {
			if l.formula == "NO" {
				return nil // its charge is a matter of opinion
			}
			charge += l.n * l.charge
		}
	}
	text := b.String()
	if !number.given {
		return r.unnumbered(text, z, n, anion, bound)
	}
	if anion != (charge < 0) || charge > 9 || charge < -9 {
		return nil
	}
	return complexOfTable(text, charge)
}

// unnumbered finds the charge of a complex whose name leaves it out: that of
// the only one in the table, else by the one state of its centre.
func (r *reader) unnumbered(text string, z chem.Element, n int64, anion bool, bound []boundLigand) *chem.Species {
	var only *chem.Species
	for q := int64(-6); q <= 3; q++ {
		if anion != (q < 0) {
			continue
		}
		s := complexOfTable(text, q)
		if known(s) == nil {
			continue
		}
		if only != nil {
			return nil
		}
		only = s
	}
	if q := r.words.of[z].fixed; only == nil && q > 0 {
		charge := q * n
		for _, l := range bound {
			charge += l.n * l.charge
		}
		if anion == (charge < 0) {
			return complexOfTable(text, charge)
		}
	}
	return only
}

// complexOfTable returns the species of the table with these atoms, if there
// is just one, else the formula as it was put together.
func complexOfTable(text string, charge int64) *chem.Species {
	s := resolve(text + chargeText(charge))
	if s == nil || known(s) != nil {
		return s
	}
	if same := reference.Species().Isomers(s.Composition(), charge); len(same) == 1 {
		return same[0].Species
	}
	return s
}

func writeCount(b *strings.Builder, n int64) {
	if n > 1 {
		b.WriteString(digits(n))
	}
}

func digits(n int64) string { return strconv.FormatInt(n, 10) }

// complexName writes the name of a complex of one central atom from its
// formula, without the word "ion": hexacyanidoferrate and its number. It
// returns false where the formula is not one for certain.
func complexName(s *chem.Species, byCharge bool) (string, bool) {
	f := s.Formula()
	if len(f.Parts) != 1 || f.Parts[0].Count != 1 {
		return "", false
	}
	units := f.Parts[0].Units
	if len(units) == 1 && units[0].Group != nil && units[0].Count == 1 {
		units = units[0].Group
	}
	if len(units) < 2 || units[0].Group != nil || units[0].Count != 1 {
		return "", false
	}
	z := units[0].Element
	w := &words().of[z]
	if nonmetal(z) || z == chem.H || w.stem == "" && s.Charge() < 0 {
		return "", false
	}
	state := s.Charge()
	var bound []boundLigand
	for _, u := range units[1:] {
		l := ligandOf(u)
		if l == nil {
			return "", false
		}
		if slices.ContainsFunc(bound, func(o boundLigand) bool { return o.ligand == l }) {
			return "", false
		}
		bound = append(bound, boundLigand{l, u.Count})
		state -= u.Count * l.charge
	}
	if state < 1 || state > 9 || len(bound) > maxLigands {
		return "", false
	}
	slices.SortFunc(bound, func(a, b boundLigand) int { return strings.Compare(a.name, b.name) })
	var b strings.Builder
	for _, l := range bound {
		name := l.name
		if name == "ethane1,2diamine" {
			name = "ethane-1,2-diamine"
		}
		switch {
		case l.n > 12 || l.bracketed && l.n > 6:
			return "", false
		case l.bracketed && l.n > 1:
			b.WriteString([...]string{"", "", "bis", "tris", "tetrakis", "pentakis", "hexakis"}[l.n] + "(" + name + ")")
		default:
			b.WriteString(multiplierOf(l.n) + name)
		}
	}
	if s.Charge() < 0 {
		b.WriteString(w.stem + "ate")
	} else {
		b.WriteString(w.name)
	}
	switch {
	case byCharge && s.Charge() != 0:
		b.WriteString("(" + signedNumber(s.Charge()) + ")")
	case !numberless(z, state):
		b.WriteString("(" + Roman(state) + ")")
	}
	return b.String(), true
}

// ligandOf returns the ligand that a unit of a formula is, nil for none. An
// atom of oxygen or hydrogen may be part of something else, and is none.
func ligandOf(u chem.Unit) *ligand {
	text := u.Element.Symbol()
	if u.Group != nil {
		text = chem.Formula{Parts: []chem.Part{{Count: 1, Units: u.Group}}}.String()
	}
	for i := range ligands {
		if l := &ligands[i]; l.formula == text && l.formula != "O" && l.formula != "H" && l.formula != "S" && l.formula != "NO" {
			return l
		}
	}
	return nil
}

// signedNumber writes a charge as in names: 2+, 1-.
func signedNumber(charge int64) string {
	if charge < 0 {
		return digits(-charge) + "-"
	}
	return digits(charge) + "+"
}

// chargeNumber writes a charge as in formulas: 2+, -.
func chargeNumber(charge int64) string {
	if charge == 1 || charge == -1 {
		return signedNumber(charge)[1:]
	}
	return signedNumber(charge)
}
