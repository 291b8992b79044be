package names

import (
	"strings"

	"halves/chem"
	"halves/reference"
)

// substance reads the name of a neutral substance that the table does not
// give: an acid, a hydrate, a salt, a compound with multiplying prefixes.
func (r *reader) substance(key string) *chem.Species {
	if base, ok := strings.CutSuffix(key, "acid"); ok {
		if s := r.acid(base); s != nil {
			return s
		}
	}
	if base, waters, ok := cutHydrate(key); ok {
		return r.hydrate(base, waters)
	}
	if s := r.binary(key); s != nil {
		return s
	}
	if s := r.salt(key); s != nil {
		return s
	}
	if s := r.complex(key); s != nil && s.Charge() == 0 {
		return s
	}
	return nil
}

// acid reads what stands before "acid": chloric(v), hydrobrom-ic, sulfurous.
func (r *reader) acid(base string) *chem.Species {
	if row, ok := r.index.acids[base+"acid"]; ok {
		return species(row)
	}
	stem, number := cutNumber(base)
	ending := ""
	for _, e := range [...]struct{ acid, anion string }{{"ic", "ate"}, {"ous", "ite"}} {
		if rest, ok := strings.CutSuffix(stem, e.acid); ok {
			stem, ending = rest, e.anion
		}
	}
	if ending == "" {
		return nil
	}
	if rest, ok := strings.CutPrefix(stem, "hydro"); ok && ending == "ate" && !number.given {
		if row, ok := r.index.anions[rest+"ide"]; ok {
			return acidOf(species(row))
		}
		if rest, ok = strings.CutSuffix(rest, "ur"); ok { // hydrosulfuric
			if row, ok := r.index.anions[rest+"ide"]; ok {
				return acidOf(species(row))
			}
		}
	}
	if s, ok := strings.CutSuffix(stem, "sulfur"); ok {
		stem = s + "sulf"
	}
	if s, ok := strings.CutSuffix(stem, "phosphor"); ok {
		stem = s + "phosph"
	}
	name := stem + ending
	if number.given && !number.charge {
		name = stem + "ate(" + strings.ToLower(Roman(number.value)) + ")"
	}
	if a := r.anion(name); a != nil {
		return acidOf(a)
	}
	return nil
}

// acidOf returns the acid of an anion.
func acidOf(a *chem.Species) *chem.Species {
	s := resolve(hydrogens(-a.Charge()) + a.Formula().String())
	if s == nil || known(s) != nil {
		return s
	}
	if same := reference.Species().Isomers(s.Composition(), 0); len(same) == 1 {
		return same[0].Species
	}
	return s
}

// cutHydrate takes "pentahydrate", "5-hydrate" or "5 water" off the end of a
// key.
func cutHydrate(key string) (base string, waters int64, ok bool) {
	rest, ok := strings.CutSuffix(key, "hydrate")
	hydrate := ok
	if !ok {
		if rest, ok = strings.CutSuffix(key, "water"); !ok {
			return "", 0, false
		}
	}
	i := len(rest)
	for i > 0 && isDigit(rest[i-1]) && len(rest)-i < 2 {
		i--
		waters += int64(rest[i]-'0') * [...]int64{1, 10}[len(rest)-1-i]
	}
	if waters > 0 && i > 3 {
		return rest[:i], waters, true
	}
	if !hydrate {
		return "", 0, false
	}
	best := 0
	for _, m := range multipliers {
		if before, ok := strings.CutSuffix(rest, m.text); ok && len(m.text) > best {
			best, base, waters = len(m.text), before, m.n
		}
	}
	return base, waters, best > 0 && base != ""
}

func (r *reader) hydrate(base string, waters int64) *chem.Species {
	s, metal := findKey(base, substance)
	if s == nil {
		r.metal = metal
		return nil
	}
	if s.Charge() != 0 || len(s.Formula().Parts) != 1 {
		return nil
	}
	text := s.Formula().String() + "."
	if waters > 1 {
		text += digits(waters)
	}
	return resolve(text + "H2O")
}

// binary reads a compound of two elements with multiplying prefixes:
// dinitrogen tetroxide, sulfur hexafluoride, iron trichloride.
func (r *reader) binary(key string) *chem.Species {
	i := strings.LastIndex(key, "ide")
	if i < 0 || i+3 != len(key) {
		return nil
	}
	for n, rest := range prefixes(key) {
		z, second := r.words.element(rest)
		if z == 0 || second == "" {
			continue
		}
		for m, ide := range prefixes(second) {
			if m == 0 && n == 0 {
				continue // as it stands for a salt, or for nothing certain
			}
			x, ok := r.words.byIde[ide]
			if !ok || x == z {
				continue
			}
			var b strings.Builder
			b.WriteString(z.Symbol())
			writeCount(&b, max(n, 1))
			b.WriteString(x.Symbol())
			writeCount(&b, max(m, 1))
			s := resolve(b.String())
			switch {
			case s == nil:
			case known(s) != nil:
				return s
			case n == 0 && m%2 == 1 && (x == chem.O || x == chem.S && (nonmetal(z) || z == chem.Sb)):
				// Common usage leaves the di- out: nitrogen pentoxide, arsenic
				// trisulfide.
				if s = known(resolve(z.Symbol() + "2" + x.Symbol() + digits(m))); s != nil {
					return s
				}
				continue
			case nonmetal(z) && m > 0 && (n > 0 || usual(z, m*charges[x])):
				return s
			}
			if m > 0 && !nonmetal(z) && x != chem.O { // two forms of one salt: Fe2Cl6 is none
				if q := r.words.of[z].fixed; q*max(n, 1) == m*charges[x] {
					return s
				}
			}
		}
	}
	return nil
}

// charges are the charges of simple anions without sign.
var charges = map[chem.Element]int64{chem.H: 1, chem.F: 1, chem.Cl: 1, chem.Br: 1, chem.I: 1, chem.O: 2, chem.S: 2, chem.Se: 2, chem.Te: 2, chem.N: 3, chem.P: 3, chem.As: 3, chem.Sb: 3, chem.C: 4, chem.Si: 4}

// salt reads the name of a cation and the name of an anion.
func (r *reader) salt(key string) *chem.Species {
	for i := len(key) - 3; i >= 3; i-- {
		for m, name := range prefixes(key[:i]) {
			c := r.saltCation(name)
			if c == nil && m == 0 {
				if z, rest := r.words.element(name); z != 0 && rest == "" {
					if s := r.openSalt(z, key[i:]); s != nil {
						return s
					}
				}
			}
			if c == nil {
				continue
			}
			for n, name := range prefixes(key[i:]) {
				if len(name) < 3 {
					continue
				}
				name = strings.TrimPrefix(name, "(")
				if len(name) < len(key[i:]) && strings.HasSuffix(name, ")") && strings.Count(name, "(") < strings.Count(name, ")") {
					name = name[:len(name)-1]
				}
				if a := r.anion(name); a != nil {
					if s := salt(c, m, a, n); s != nil && (usualCation(c) || known(s) != nil) {
						return s
					}
				}
			}
		}
	}
	return nil
}

// saltCation reads a cation, or an element in a state that is no ion of its
// own: manganese(VII) in manganese(VII) oxide.
func (r *reader) saltCation(key string) *chem.Species {
	if len(key) < 3 {
		return nil
	}
	if c := r.cation(key); c != nil {
		return c
	}
	if z, rest := r.words.element(key); rest != "" && z != 0 && rest[0] == '(' && z != chem.O && z != chem.F {
		if base, number := cutNumber(key); number.given && number.value > 0 && len(base)+len(rest) == len(key) {
			return monatomic(z, number.value)
		}
	}
	return nil
}

// openSalt reads a salt of a metal without its number: the only one of the
// table, or that of the cation which is meant. Of metals with several common
// cations the number must be given, and for the oxides and hydroxides of lead,
// nickel and bismuth, where the table has several.
func (r *reader) openSalt(z chem.Element, name string) *chem.Species {
	if nonmetal(z) {
		return nil
	}
	a := r.anion(name)
	if a == nil {
		return nil
	}
	var only *chem.Species
	var open []int64
	for q := int64(1); q <= 8; q++ {
		if s := salt(monatomic(z, q), 0, a, 0); known(s) != nil {
			open = append(open, q)
			only = s
		}
	}
	several := strings.Contains(openMetals, " "+z.Symbol()+" ")
	if len(open) == 1 && !several {
		return only
	}
	if q := r.words.of[z].meant; q > 0 && meantWith(a) {
		return salt(monatomic(z, q), 0, a, 0)
	}
	if len(open) < 2 {
		open = r.ionsOf(z)
	}
	if len(open) < 2 {
		open = usualStates(z)
	}
	r.open(z, open)
	return nil
}

// usualStates returns the positive common states of an element, the lowest
// first.
func usualStates(z chem.Element) []int64 {
	var all []int64
	for q := int64(1); q <= 8; q++ {
		if usual(z, q) {
			all = append(all, q)
		}
	}
	return all
}

// meantWith reports whether an anion leaves no doubt of the cation of lead,
// nickel or bismuth: a halide, sulfide, selenide or telluride, or an anion of
// several elements other than hydroxide.
func meantWith(a *chem.Species) bool {
	c := a.Composition()
	if len(c) > 1 {
		return !c.Only(chem.O, chem.H)
	}
	return c[0].Atoms == 1 && strings.Contains(" F Cl Br I S Se Te ", " "+c[0].Element.Symbol()+" ")
}

// salt puts ions together with charges made neutral. A number of ions that is
// 0 is not told.
func salt(c *chem.Species, m int64, a *chem.Species, n int64) *chem.Species {
	q, p := c.Charge(), -a.Charge()
	g := gcd(q, p)
	cations, anions := p/g, q/g
	if n > 0 && m == 0 {
		m = 1 // magnesium dichloride
	}
	if m > 0 && m != cations || n > 0 && n != anions {
		return nil
	}
	s := resolve(counted(c, cations) + counted(a, anions))
	if s == nil || known(s) != nil {
		return s
	}
	for _, e := range reference.Species().Isomers(s.Composition(), 0) {
		if len(e.Ions) == 2 && e.Ions[0].Species.Same(c) && e.Ions[1].Species.Same(a) {
			return e.Species
		}
	}
	return s
}

// usualCation reports whether a cation is one of the table, or has a common
// state of its element: sodium(II) chloride is no name.
func usualCation(c *chem.Species) bool {
	z := c.Composition()[0]
	return known(c) != nil || len(c.Composition()) > 1 || usual(z.Element, c.Charge()/z.Atoms)
}

func counted(s *chem.Species, n int64) string {
	f := s.Formula()
	text := f.String()
	if n == 1 {
		return text
	}
	if u := f.Parts[0].Units; len(u) == 1 && u[0].Group == nil && u[0].Count == 1 {
		return text + digits(n)
	}
	return "(" + text + ")" + digits(n)
}

func gcd(a, b int64) int64 {
	for b != 0 {
		a, b = b, a%b
	}
	return a
}
