package names

import (
	"halves/chem"
	"halves/reference"
)

// displacement makes a statement of "zinc displaces copper from copper(II)
// sulfate". What the first metal forms is not said; it is certain where its
// cation is and the salt holds the second metal as a simple cation.
func (t *translator) displacement(l [][]token, v []token) ([]change, error) {
	var s [3]*chem.Species
	for n := range s {
		if len(l[n]) != 1 {
			return nil, t.fail(l[n][1].start, l[n][1].end, "a displacement has one metal, another metal, and a salt", displacementHint)
		}
		k := l[n][0]
		if s[n] = t.species(k); s[n] == nil {
			_, err := Find(t.text[k.start:k.end])
			return nil, t.noName(k.start, k.end, err)
		}
	}
	made, metals := displaced(s[0], s[1], s[2])
	if made == nil {
		text := func(n int) string { return t.text[l[n][0].start:l[n][0].end] }
		msg := "what " + text(0) + " forms here is not certain"
		if !metals {
			msg = "a displacement is read only of a metal by a metal from a salt or an ion"
		}
		return nil, t.fail(v[0].start, v[0].end, msg, "name what forms: "+text(0)+" + "+text(2)+" -> ... + "+text(1))
	}
	return []change{{left: []token{l[0][0], l[2][0]}, right: l[1], arrow: v[0], made: made}}, nil
}

const displacementHint = "write it as in zinc displaces copper from copper(II) sulfate, or use an arrow"

// displaced returns what the metal new forms as it takes the place of the metal
// old in a salt or an ion, nil where that is not certain, and whether both are
// metals.
func displaced(new, old, from *chem.Species) (made *chem.Species, metals bool) {
	z, ok := metalOf(new)
	gone, ok2 := metalOf(old)
	if !ok || !ok2 {
		return nil, false
	}
	if z == gone || from.Atoms(gone) == 0 || len(from.Formula().Parts) != 1 {
		return nil, true
	}
	w := &words().of[z]
	q := max(w.fixed, w.meant)
	if q == 0 {
		return nil, true
	}
	if from.Charge() > 0 && from.Composition().Only(gone) {
		return monatomic(z, q), true
	}
	e := reference.Species().Find(from)
	if e == nil || len(e.Ions) != 2 || !e.Ions[0].Species.Composition().Only(gone) {
		return nil, true
	}
	return salt(monatomic(z, q), 0, e.Ions[1].Species, 0), true
}

// metalOf returns the element of a metal as a substance.
func metalOf(s *chem.Species) (chem.Element, bool) {
	c := s.Composition()
	if len(c) != 1 || c[0].Atoms != 1 || s.Charge() != 0 {
		return 0, false
	}
	return c[0].Element, !nonmetal(c[0].Element) && c[0].Element != chem.H
}
