package caution

import (
	"strings"

	"halves/chem"
	"halves/reference"
)

// condition returns what stays open as "if H2SO4 is concentrated", "" if
// nothing.
//
// Where no strength is marked and the two parts are all that react, what is
// called for is the concentrated reagent: it counts as certain.
func (m *mix) condition(row *wiredMixture, parts []found) string {
	var b strings.Builder
	alone := m.alone(parts)
	for i, f := range parts {
		for _, c := range f.open {
			if c == "concentrated" && alone && m.species[f.species[0]].Phase() == chem.NoPhase {
				continue
			}
			if b.Len() == 0 {
				b.WriteString("if ")
			} else {
				b.WriteString(" and ")
			}
			b.WriteString(m.conditionWords(c, f, row.Parts, i))
		}
	}
	return b.String()
}

func (m *mix) conditionWords(c string, f found, parts [2]string, i int) string {
	s := &m.species[f.species[0]]
	switch {
	case c == "collected together":
		return "the gases are collected together"
	case c == "on standing":
		return "the mixture is left to stand"
	case c == "in quantity":
		return "it is made in quantity"
	case c == "hot" || c == "dry":
		return "the mixture is " + c
	case c == "concentrated" && (s.Same(chem.Hydron) || s.Same(chem.Hydronium)):
		return "the acid that gives " + s.String() + " is concentrated"
	}
	return s.String() + " is " + c
}

// alone reports whether the reactants are formulas of whole substances, without
// a phase, and all of them parts of the mixture.
func (m *mix) alone(parts []found) bool {
	if m.left == 0 || len(parts) > 2 {
		return false
	}
	for i := range m.species[:m.left] {
		p := &m.species[i]
		if p.ionic || p.Phase() == chem.Aqueous {
			return false
		}
		in := false
		for _, f := range parts {
			for _, j := range f.species {
				in = in || i == j
			}
		}
		if !in {
			return false
		}
	}
	return true
}

// how says how each part was found: "KClO3 is a chlorate; S8 is sulfur."
func (m *mix) how(row *wiredMixture, parts []found) string {
	t := classes()
	var b strings.Builder
	assumed := false
	for i, f := range parts {
		for _, j := range f.species {
			p := &m.species[j]
			text := p.String() + " is " + m.noun(row, i, p, t)
			if strings.Contains(b.String(), text) {
				continue
			}
			if b.Len() > 0 {
				b.WriteString("; ")
			}
			b.WriteString(text)
			assumed = assumed || p.Phase() == chem.NoPhase && has(row.parts[i].conditions, "solid")
		}
	}
	b.WriteString(".")
	if assumed {
		b.WriteString(" No phase is marked and nothing is dissolved, so it is taken as solid.")
	}
	return b.String()
}

func has(list []string, s string) bool {
	for _, l := range list {
		if l == s {
			return true
		}
	}
	return false
}

// noun says what p is as a part of the mixture: the class's noun, the name of
// the substance, or what it contains.
func (m *mix) noun(row *wiredMixture, i int, p *present, t *classTable) string {
	for _, k := range row.parts[i].kinds {
		if p.classes.has(k) && t.nouns[k] != "" {
			return t.nouns[k]
		}
	}
	if name := nameOf(p.Species); name != "" {
		return name
	}
	for _, k := range row.Match[i].Any {
		if k.Kind == "ion" && p.classes.has(t.byName[kindName(k)]) {
			return "a substance that contains " + k.Name
		}
	}
	return row.Parts[min(i, 1)]
}

// nameOf returns the name on the label where there is a row of hazards, else
// the first of the table of species, "" where it is not known.
func nameOf(s *chem.Species) string {
	if rows := reference.HazardsOf(s); rows != nil {
		return rows[0].Name
	}
	if e := reference.Species().Find(s); e != nil {
		return e.Names[0]
	}
	return ""
}

// where tells the sides of the parts.
func (m *mix) where(parts []found) string {
	var left, right bool
	n := 0
	first := -1
	for _, f := range parts {
		j := f.species[0] // a reactant before a product: the mix is in order
		if m.species[j].product {
			right = true
		} else {
			left = true
		}
		if j != first {
			n++
			first = j
		}
	}
	switch {
	case left && right:
		return "a reactant with a product"
	case n == 1 && left:
		return "a reactant"
	case n == 1:
		return "a product"
	case left:
		return "reactants together"
	}
	return "products together"
}

const gasAdvice = "Only in a working fume cupboard and with a qualified person."

// gases returns the toxic gases and vapours.
func (m *mix) gases() []Gas {
	var all []Gas
	w := wired()
	for i := range m.species {
		p := &m.species[i]
		phase := p.Phase()
		gas := p.classes.has(w.gas) || p.classes.has(w.loose) && phase != chem.Aqueous || p.classes.has(w.marked) && phase == chem.Gas
		if !gas && !p.classes.has(w.vapour) {
			continue
		}
		var b strings.Builder
		b.WriteString(p.String())
		if name := nameOf(p.Species); name != "" {
			b.WriteString(" (" + name + ")")
		}
		switch {
		case !gas:
			b.WriteString(" has a toxic vapour")
		case phase == chem.Aqueous:
			b.WriteString(" is a toxic gas that leaves its solution")
		default:
			b.WriteString(" is a toxic gas")
		}
		if p.product {
			b.WriteString(" and is a product.")
		} else {
			b.WriteString(" and is a reactant.")
		}
		all = append(all, Gas{p.Species, p.product, b.String(), gasAdvice})
	}
	return all
}
