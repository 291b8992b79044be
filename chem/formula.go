package chem

import (
	"slices"
	"strconv"
)

// A Formula is the tree of a formula as it was typed, so that CH3CH2OH prints
// as it was written. It has no charge. A Formula without parts is the electron's.
type Formula struct {
	Parts []Part // one, or several joined by dots in a hydrate
}

// A Part is one part of a hydrate or double salt: 5H2O in CuSO4.5H2O.
type Part struct {
	Count int64 // at least 1
	Units []Unit
}

// A Unit is an element or a bracketed group, with its subscript.
type Unit struct {
	Element Element // 0 for a group
	Group   []Unit  // nil for an element
	Bracket byte    // '(', '[' or '{' for a group
	Count   int64   // the subscript, at least 1
}

// A Count is a number of atoms of one element.
type Count struct {
	Element Element
	Atoms   int64
}

// Composition is atoms by element, in the order of atomic numbers, each
// element once and with at least one atom.
type Composition []Count

// Atoms returns the number of atoms of e, 0 where there is none.
func (c Composition) Atoms(e Element) int64 {
	for _, n := range c {
		if n.Element == e {
			return n.Atoms
		}
	}
	return 0
}

// Equal reports whether the two hold the same atoms.
func (c Composition) Equal(d Composition) bool { return slices.Equal(c, d) }

// Only reports whether every element is one of those given.
func (c Composition) Only(elements ...Element) bool {
	for _, n := range c {
		if !slices.Contains(elements, n.Element) {
			return false
		}
	}
	return true
}

// maxAtoms bounds the atoms of one element in one formula; it leaves room for
// sums of 64 terms with coefficients of a million.
const maxAtoms = 1e9

// CompositionOf counts the atoms of a row of units. It returns false where a
// count passes a thousand million.
func CompositionOf(units []Unit) (Composition, bool) {
	var c Composition
	ok := addUnits(&c, units, 1)
	return c, ok
}

func compositionOf(parts []Part) (Composition, bool) {
	c := make(Composition, 0, 4)
	for _, p := range parts {
		if !addUnits(&c, p.Units, p.Count) {
			return nil, false
		}
	}
	return c, true
}

func addUnits(c *Composition, units []Unit, times int64) bool {
	for _, u := range units {
		n, ok := Product(u.Count, times)
		if !ok || n > maxAtoms {
			return false
		}
		if u.Group != nil {
			if !addUnits(c, u.Group, n) {
				return false
			}
			continue
		}
		i, found := slices.BinarySearchFunc(*c, u.Element, func(x Count, e Element) int { return int(x.Element) - int(e) })
		if !found {
			*c = slices.Insert(*c, i, Count{Element: u.Element})
		}
		if (*c)[i].Atoms += n; (*c)[i].Atoms > maxAtoms {
			return false
		}
	}
	return true
}

var closing = map[byte]byte{'(': ')', '[': ']', '{': '}'}

// appendRuns appends the formula's runs.
func (f Formula) appendRuns(r []Run) []Run {
	for i, p := range f.Parts {
		if i > 0 {
			r = appendRun(r, ".", Normal)
		}
		if p.Count > 1 {
			r = appendRun(r, strconv.FormatInt(p.Count, 10), Normal)
		}
		r = appendUnitRuns(r, p.Units)
	}
	return r
}

func appendUnitRuns(r []Run, units []Unit) []Run {
	for _, u := range units {
		if u.Group != nil {
			r = appendRun(r, string(u.Bracket), Normal)
			r = appendUnitRuns(r, u.Group)
			r = appendRun(r, string(closing[u.Bracket]), Normal)
		} else {
			r = appendRun(r, u.Element.Symbol(), Normal)
		}
		if u.Count > 1 {
			r = appendRun(r, strconv.FormatInt(u.Count, 10), Subscript)
		}
	}
	return r
}

// String returns the formula in plain text, brackets as typed: K3[Fe(CN)6],
// CuSO4.5H2O.
func (f Formula) String() string {
	return string(f.appendText(make([]byte, 0, 24)))
}

func (f Formula) appendText(b []byte) []byte {
	for i, p := range f.Parts {
		if i > 0 {
			b = append(b, '.')
		}
		if p.Count > 1 {
			b = strconv.AppendInt(b, p.Count, 10)
		}
		b = appendUnitText(b, p.Units)
	}
	return b
}

func appendUnitText(b []byte, units []Unit) []byte {
	for _, u := range units {
		if u.Group != nil {
			b = append(b, u.Bracket)
			b = appendUnitText(b, u.Group)
			b = append(b, closing[u.Bracket])
		} else {
			b = append(b, u.Element.Symbol()...)
		}
		if u.Count > 1 {
			b = strconv.AppendInt(b, u.Count, 10)
		}
	}
	return b
}

// unwrapped returns the formula without brackets that embrace all of it:
// [Fe(CN)6] is Fe(CN)6.
func (f Formula) unwrapped() Formula {
	for len(f.Parts) == 1 && f.Parts[0].Count == 1 && len(f.Parts[0].Units) == 1 {
		u := f.Parts[0].Units[0]
		if u.Group == nil || u.Count != 1 {
			break
		}
		f = Formula{Parts: []Part{{Count: 1, Units: u.Group}}}
	}
	return f
}
