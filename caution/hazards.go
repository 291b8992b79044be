package caution

import (
	"halves/chem"
	"halves/reference"
)

// hazards returns an entry for each species that has rows, and the others.
func (m *mix) hazards() (entries []Entry, missing []*chem.Species) {
	entries = make([]Entry, 0, len(m.species))
	for i := range m.species {
		p := &m.species[i]
		if i >= m.left && m.holds(p.Species, false) {
			continue // shown as a reactant
		}
		if rows, how := m.rows(p); rows != nil {
			entries = append(entries, Entry{p.Species, shown(rows), how})
		} else {
			missing = append(missing, p.Species)
		}
	}
	return entries, missing
}

// rows returns the rows for one species, nil if none, and how they were found.
func (m *mix) rows(p *present) ([]*reference.Hazard, string) {
	if rows := reference.HazardsOf(p.Species); rows != nil {
		return byPhase(rows, p, "by its formula")
	}
	if rows := reference.HazardsOfHydrates(p.Species); rows != nil {
		return byPhase(rows, p, "by its formula apart from water, as "+rows[0].Name+" "+rows[0].Formula.String())
	}
	var best []*reference.Hazard
	most := 0
	for _, rows := range reference.HazardsSupplying(p.Species) {
		if n := m.supplied(rows[0], p.product); n > most {
			best, most = rows, n
		}
	}
	if best == nil {
		return nil, ""
	}
	q := *p
	q.Species = p.WithPhase(chem.NoPhase) // the reagent may be weighed as a solid
	return byPhase(best, &q, "as "+best[0].Name+", a usual reagent that gives it")
}

// supplied counts the species of a side that a reagent gives: with nitrate,
// hydrogen ions come from nitric acid.
func (m *mix) supplied(h *reference.Hazard, product bool) int {
	n := 0
	for i := range m.species {
		if p := &m.species[i]; p.product == product && contains(h.Supplies, p.Species) {
			n++
		}
	}
	return n
}

// byPhase keeps the rows whose form can have the phase that is marked, and all
// where none is marked or none fits. Of a solution it keeps all, the dissolved
// forms first: dilute rows alone would reassure where the strength is unknown.
func byPhase(rows []*reference.Hazard, p *present, how string) ([]*reference.Hazard, string) {
	phase := p.Phase()
	if phase == chem.NoPhase {
		if len(rows) > 1 {
			how += "; no phase or strength is given, so all forms are shown"
		}
		return rows, "Found " + how + "."
	}
	fit := make([]*reference.Hazard, 0, len(rows))
	for _, r := range rows {
		if r.Covers(phase) {
			fit = append(fit, r)
		}
	}
	switch {
	case len(fit) == 0:
		return rows, "Found " + how + "; there is no row for the phase " + phase.String() + ", so the others are shown."
	case phase == chem.Aqueous:
		if len(fit) > 1 {
			how += "; the strength is not given, so all are shown, the strongest first"
		}
		if len(fit) < len(rows) {
			how += "; other forms follow, since solutions are made from them or set them free"
			for _, r := range rows {
				if !r.Covers(phase) {
					fit = append(fit, r)
				}
			}
		}
	case len(fit) < len(rows):
		how += " and by the phase " + phase.String()
	}
	return fit, "Found " + how + "."
}

func shown(rows []*reference.Hazard) []Row {
	all := make([]Row, len(rows))
	for i, h := range rows {
		all[i] = Row{h.Name, h.Form, h.H, h.Signal, h.Basis, h.Incompatible, h.Control, h.Waste, h.Source, h.Confidence}
	}
	return all
}
