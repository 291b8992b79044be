package names

import (
	"strings"

	"halves/chem"
)

// madeName makes the name of a species that the table does not have, where the
// rules give one for certain.
func madeName(s *chem.Species, style Style) (string, bool) {
	name, ok := ruleName(s, style)
	if !ok {
		return "", false
	}
	if back, _ := findKey(squash(strings.ToLower(name)), kindOf(s)); back == nil || back.Charge() != s.Charge() || !back.Composition().Equal(s.Composition()) {
		return "", false
	}
	return name, true
}

func ruleName(s *chem.Species, style Style) (string, bool) {
	if name, ok := complexName(s, style == Systematic); ok {
		return name, true
	}
	if s.Charge() != 0 {
		return "", false
	}
	f := s.Formula()
	if len(f.Parts) == 2 {
		return hydrateName(f, style)
	}
	if len(f.Parts) != 1 || f.Parts[0].Count != 1 {
		return "", false
	}
	units := f.Parts[0].Units
	if name, ok := binaryName(units, style); ok {
		return name, true
	}
	return madeSalt(units, style)
}

func hydrateName(f chem.Formula, style Style) (string, bool) {
	base, ok := chem.NewSpecies(chem.Formula{Parts: f.Parts[:1]}, 0, chem.NoPhase)
	water := f.Parts[1]
	if !ok || f.Parts[0].Count != 1 || (chem.Formula{Parts: []chem.Part{{Count: 1, Units: water.Units}}}).String() != "H2O" {
		return "", false
	}
	prefix := multiplierOf(water.Count)
	if water.Count == 1 {
		prefix = "mono"
	}
	name, ok := nameOf(base, style)
	if !ok || prefix == "" || strings.HasSuffix(name, "hydrate") {
		return "", false
	}
	return name + " " + prefix + "hydrate", true
}

// binaryName names a compound of two nonmetals with multiplying prefixes.
func binaryName(units []chem.Unit, style Style) (string, bool) {
	if len(units) != 2 || units[0].Group != nil || units[1].Group != nil {
		return "", false
	}
	w, x := &words().of[units[0].Element], &words().of[units[1].Element]
	n, m := units[0].Count, units[1].Count
	if !nonmetal(units[0].Element) || !nonmetal(units[1].Element) || x.ide == "" || units[0].Element == units[1].Element || n > 10 || m > 10 {
		return "", false
	}
	second := multiplierOf(m)
	if m == 1 {
		second = "mono"
	}
	if style != Systematic && strings.HasPrefix(x.ide, "o") {
		second = strings.TrimRight(second, "ao")
	}
	return multiplierOf(n) + w.name + " " + second + x.ide, true
}

// madeSalt names a salt whose formula can be cut in one way only into ions
// that are known.
func madeSalt(units []chem.Unit, style Style) (string, bool) {
	found := ""
	for i := 1; i < len(units); i++ {
		anions, n := ionUnits(units[i:])
		text := chem.Formula{Parts: []chem.Part{{Count: 1, Units: anions}}}.String()
		for q := int64(1); q <= 4; q++ {
			a := known(resolve(text + chargeText(-q)))
			if a == nil || nonsimple(anions, a) {
				continue
			}
			c := cationOf(units[:i], q*n)
			if c == nil {
				continue
			}
			cation, ok := nameOf(c, style)
			anion, ok2 := nameOf(a, style)
			if !ok || !ok2 || found != "" {
				return "", false
			}
			found = cation + " " + anion
		}
	}
	if found == "" {
		return "", false
	}
	return found, true
}

// nonsimple reports whether an anion of one element is not the usual one: O2
// stands for two oxides as well as for a peroxide.
func nonsimple(units []chem.Unit, a *chem.Species) bool {
	return len(a.Composition()) == 1 && a.Composition()[0].Atoms > 1 && len(units) == 1
}

// ionUnits takes the subscript off a single unit: (NO3)2 is NO3 twice.
func ionUnits(units []chem.Unit) ([]chem.Unit, int64) {
	if len(units) != 1 {
		return units, 1
	}
	u := units[0]
	if u.Group != nil {
		return u.Group, u.Count
	}
	n := u.Count
	u.Count = 1
	return []chem.Unit{u}, n
}

// cationOf returns the cation that units are if they carry this charge
// together, nil where it is not certain.
func cationOf(units []chem.Unit, charge int64) *chem.Species {
	ions, m := ionUnits(units)
	if charge%m != 0 {
		return nil
	}
	q := charge / m
	if len(ions) == 1 && ions[0].Group == nil {
		z := ions[0].Element
		if nonmetal(z) || z == mercury || z == chem.H {
			return nil
		}
		if fixed := words().of[z].fixed; fixed > 0 && fixed != q {
			return nil
		}
		if !usual(z, q) {
			return nil
		}
		return known(monatomic(z, q))
	}
	return known(resolve(chem.Formula{Parts: []chem.Part{{Count: 1, Units: ions}}}.String() + chargeText(q)))
}
