package caution

import (
	"sync"

	"halves/chem"
	"halves/reference"
)

// A mix is the species of an equation, each once on its side.
type mix struct {
	species []present
	left    int  // how many of them are reactants
	wet     bool // something is dissolved, or water is among the reactants
}

// A present species stands on one side of the equation.
type present struct {
	*chem.Species
	*kind
	product bool
}

func newMix(e chem.Equation) *mix {
	m := &mix{species: make([]present, 0, len(e.Left)+len(e.Right))}
	for side, t := range e.Terms {
		s := t.Species
		if s == nil || s.IsElectron() || m.holds(s, side > 0) {
			continue
		}
		p := present{s, kindOf(s), side > 0}
		m.species = append(m.species, p)
		if !p.product {
			m.left++
		}
		if p.ionic || s.Phase() == chem.Aqueous || !p.product && p.classes.has(wired().solution) && s.Phase() == chem.NoPhase {
			m.wet = true
		}
	}
	return m
}

func (m *mix) holds(s *chem.Species, product bool) bool {
	for _, p := range m.species {
		if p.product == product && p.Phase() == s.Phase() && p.Same(s) {
			return true
		}
	}
	return false
}

// wiring is the mixtures with their classes by number.
type wiring struct {
	rows                                 []wiredMixture
	solution, gas, vapour, loose, marked int
}

type wiredMixture struct {
	*reference.Mixture
	parts []wiredPart
}

type wiredPart struct {
	any        classSet
	kinds      []int
	conditions []string
	role       string // "product", "anywhere" or ""
}

var wired = sync.OnceValue(func() *wiring {
	t := classes()
	w := &wiring{
		solution: t.byName["reagent in solution"], gas: t.byName["toxic gas"], vapour: t.byName["toxic vapour"],
		loose: t.byName["gas unless dissolved"], marked: t.byName["gas if marked"],
	}
	for _, m := range reference.Mixtures() {
		row := wiredMixture{Mixture: m}
		for _, p := range m.Match {
			var part wiredPart
			for _, k := range p.Any {
				i := t.byName[kindName(k)]
				part.any.add(i)
				part.kinds = append(part.kinds, i)
			}
			for _, c := range p.Conditions {
				if c == "product" || c == "anywhere" {
					part.role = c
				} else {
					part.conditions = append(part.conditions, c)
				}
			}
			row.parts = append(row.parts, part)
		}
		w.rows = append(w.rows, row)
	}
	return w
})

// A verdict on a condition.
type verdict uint8

const (
	unmet verdict = iota
	open          // the equation does not tell
	met
)

// A found part is the species that stand for it.
type found struct {
	species []int // places in the mix
	open    []string
}

func (m *mix) reasons() []Reason {
	var all []Reason
	for i := range wired().rows {
		if r, ok := m.match(&wired().rows[i]); ok {
			all = append(all, r)
		}
	}
	sortReasons(all)
	return all
}

// match looks for one mixture. For each part it takes the species whose
// conditions are best met.
func (m *mix) match(row *wiredMixture) (Reason, bool) {
	var parts [3]found
	for i := range row.parts {
		if !m.find(row, &row.parts[i], &parts[i]) {
			return Reason{}, false
		}
	}
	fs := parts[:len(row.parts)]
	r := Reason{
		Mixture: row.ID, Parts: row.Parts, What: row.WhatCanHappen, Severity: row.Severity, Source: row.Source, Confidence: row.Confidence,
		If: m.condition(row, fs), How: m.how(row, fs), Where: m.where(fs),
	}
	if !row.Severity.Paper() {
		r.Advice = row.Mixture.Advice
	}
	for _, f := range fs {
		for _, i := range f.species {
			if s := m.species[i].Species; !contains(r.Species, s) {
				r.Species = append(r.Species, s)
			}
		}
	}
	return r, true
}

func contains(list []*chem.Species, s *chem.Species) bool {
	for _, l := range list {
		if l.Same(s) {
			return true
		}
	}
	return false
}

// find looks for the species that can be one part.
func (m *mix) find(row *wiredMixture, part *wiredPart, f *found) bool {
	best := unmet
	for i := range m.species {
		p := &m.species[i]
		if !overlap(&p.classes, &part.any) {
			continue
		}
		switch {
		case part.role == "product" && !p.product, part.role == "" && row.Reactants && p.product:
			continue
		}
		v, conditions := m.judge(p, part.conditions)
		if v == unmet || v < best {
			continue
		}
		if v > best {
			best, f.species, f.open = v, f.species[:0], conditions
		}
		f.species = append(f.species, i)
	}
	return best != unmet
}

func overlap(a, b *classSet) bool {
	for i := range a {
		if a[i]&b[i] != 0 {
			return true
		}
	}
	return false
}

// judge tells whether the conditions hold for p, and which stay open.
func (m *mix) judge(p *present, conditions []string) (verdict, []string) {
	v := met
	var left []string
	for _, c := range conditions {
		switch m.holdsFor(p, c) {
		case unmet:
			return unmet, nil
		case open:
			v = open
			left = append(left, c)
		}
	}
	return v, left
}

func (m *mix) holdsFor(p *present, condition string) verdict {
	phase := p.Phase()
	yes := func(b bool) verdict {
		if b {
			return met
		}
		return unmet
	}
	switch condition {
	case "marked solid":
		return yes(phase == chem.Solid)
	case "marked gas":
		return yes(phase == chem.Gas)
	case "marked liquid":
		return yes(phase == chem.Liquid)
	case "solid":
		return yes(phase == chem.Solid || phase == chem.NoPhase && !p.ionic && !m.wet && (p.usual == chem.Solid || p.usual == chem.NoPhase))
	case "dry":
		switch {
		case phase == chem.Solid:
			return met
		case phase != chem.NoPhase || p.ionic || m.wet:
			return unmet
		}
		return open
	case "concentrated":
		// A substance that is marked as itself has nothing to dilute it.
		if phase != chem.NoPhase && phase != chem.Aqueous && !p.ionic {
			return met
		}
	}
	return open // hot, in quantity, on standing, collected together
}
