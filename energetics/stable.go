package energetics

import (
	"fmt"
	"math"
	"slices"
	"sync"

	"halves/chem"
	"halves/oxidation"
	"halves/redox"
	"halves/reference"
)

// Which species of an element is stable, at a pH and a potential, follows from
// one free energy for each: that of its formation from the element, water and
// hydrogen ions, for one atom of the element. It is a plane over pH and
// potential.

// A plane is the free energy in kJ for one atom: at + ph*pH + volts*E.
type plane struct {
	species        *chem.Species
	at, ph, volts  float64
	atoms, charges int64 // atoms of the element; electrons given up in forming it
	stands         int   // in how many couples
}

func (p plane) height(ph, e float64) float64 { return p.at + p.ph*ph + p.volts*e }

// in returns the plane at a concentration in mol/L of what is dissolved.
func (p plane) in(concentration float64) plane {
	if p.species.Phase() == chem.Aqueous {
		p.at += Gas * Room * math.Log(concentration) / 1000 / float64(p.atoms)
	}
	return p
}

// planesOf returns the planes of the species that hold an element beside oxygen
// and hydrogen alone, at 1 mol/L, in the order of the table.
func (t Tables) planesOf(e chem.Element) []plane {
	water := t.formation(chem.Water)
	if water == nil || e == chem.O || e == chem.H {
		return nil
	}
	var out []plane
	for _, f := range t.Formations.Of(e) {
		s := f.Species
		if !s.Composition().Only(e, chem.O, chem.H) {
			continue
		}
		charges, ok := stateOf(s, e)
		if !ok {
			continue
		}
		k, o, h := s.Atoms(e), float64(s.Atoms(chem.O)), float64(s.Atoms(chem.H))
		n := float64(k)
		// k E + o H2O -> X + (2 o - h) H^+ + charges e^-
		out = append(out, plane{
			species: s,
			at:      (f.G - o*water.G) / n,
			ph:      -(2*o - h) * decade(Room) * Faraday / 1000 / n,
			volts:   -float64(charges) * Faraday / 1000 / n,
			atoms:   k, charges: charges,
			stands: len(t.Couples.Holding(s)),
		})
	}
	return out
}

// planeOf returns the plane of a row of the table at 1 mol/L, where it has one.
func (t Tables) planeOf(f *reference.Formation, e chem.Element) (plane, bool) {
	for _, p := range t.planes(e) {
		if p.species == f.Species {
			return p, true
		}
	}
	return plane{}, false
}

// stateOf returns the sum of the oxidation states of an element in a species of
// oxygen, hydrogen and it. It is false where oxygen is not -2 or hydrogen not +1
// there, as in a peroxide: then the element's states are not those of the count.
func stateOf(s *chem.Species, e chem.Element) (int64, bool) {
	charges := s.Charge() + 2*s.Atoms(chem.O) - s.Atoms(chem.H)
	if s.Composition().Only(e) {
		return charges, true
	}
	states, err := oxidation.States(s)
	if err != nil {
		return 0, false
	}
	for _, st := range states {
		if st.Element == e {
			return charges, st.Total().Equal(chem.Whole(charges))
		}
	}
	return 0, false
}

// mapped are the planes of a map: of all species of an element that have a free
// energy, or of those in only, where it names some. No gas is among them but the
// element itself, which is then not dissolved.
func (t Tables) mapped(e chem.Element, concentration float64, only []*chem.Species) []plane {
	var out []plane
	gas := slices.ContainsFunc(t.Formations.Of(e), func(f *reference.Formation) bool {
		return f.Species.IsElement() && f.Species.Phase() == chem.Gas && f.G == 0
	})
	for _, p := range t.planes(e) {
		s := p.species
		switch {
		case len(only) > 0 && !slices.ContainsFunc(only, func(o *chem.Species) bool { return same(o, s) && alikePhase(o, s) }):
		case s.Phase() == chem.Gas && !(s.IsElement() && t.Formations.Find(s).G == 0), gas && s.IsElement() && s.Phase() != chem.Gas:
		default:
			out = append(out, p.in(concentration))
		}
	}
	// Solids that differ by water alone lie on parallel planes; where they are
	// about as stable the one that is taught more stands for both.
	return slices.DeleteFunc(slices.Clone(out), func(p plane) bool {
		return slices.ContainsFunc(out, func(q plane) bool {
			if p.species == q.species || p.species.Phase() != chem.Solid || q.species.Phase() != chem.Solid || p.charges*q.atoms != q.charges*p.atoms || math.Abs(p.ph-q.ph) > 1e-9 || math.Abs(p.at-q.at) > alike {
				return false
			}
			return q.stands > p.stands || q.stands == p.stands && q.at < p.at
		})
	})
}

// remarkable is how much more stable another form must be to be remarked on, in
// kJ for one atom: ten to one at 25 °C.
const remarkable = 5.7

// ordinary is the concentration that remarks assume, in mol/L.
const ordinary = 0.1

// Remarks tells of the species of an equation that do not persist in its
// medium: those of which another form, of the same oxidation state, has a much
// lower free energy at pH 1 in acid or 13 in base. Sentences, none where nothing
// is to say; a remark is never a refusal.
func (t Tables) Remarks(e chem.Equation, m redox.Medium) []string {
	var ph float64
	var where string
	switch m {
	case redox.Acidic:
		ph, where = 1, "in strong acid"
	case redox.Basic:
		ph, where = 13, "in strong base"
	default:
		return nil
	}
	var out []string
	for _, x := range e.Terms {
		if text := t.remark(x.Species, ph, where); text != "" {
			out = appendOnce(out, text)
		}
	}
	return out
}

func (t Tables) remark(s *chem.Species, ph float64, where string) string {
	// Solids are often meant as they stand: only what is dissolved, or a gas that
	// dissolves as something else, is held to the medium.
	if phase := likelyPhase(s); phase != chem.Aqueous && phase != chem.Gas || s.IsElement() || s.Same(chem.Hydron) || s.Same(chem.Hydroxide) || s.Same(chem.Hydronium) {
		return ""
	}
	f := t.formation(s)
	if f == nil {
		return ""
	}
	if text := t.acidBase(s, ph, where); text != "" {
		return text
	}
	for _, c := range s.Composition() {
		own, ok := t.planeOf(f, c.Element)
		if !ok {
			continue
		}
		own = own.in(ordinary)
		// Of carbon only carbonates and carbon dioxide: isomers are no forms of
		// one another.
		if c.Element == chem.C && (own.atoms != 1 || own.charges != 4) {
			continue
		}
		best := t.mostStable(own, c.Element, ph, false)
		if best.species == own.species && ph > 7 && s.Charge() > 0 {
			best = t.mostStable(own, c.Element, ph, true) // Ag^+ has no hydroxide, but an oxide
		}
		if best.species != own.species {
			return fmt.Sprintf("%s does not persist %s: %s forms%s (by free energies of formation, at %s mol/L).", s, where, best.species, asWhat(best.species.Phase()), fixed(ordinary, 1))
		}
	}
	return ""
}

// Dissolves reports whether a solid oxide or hydroxide does not persist in a
// medium: what is dissolved of it, in the same oxidation state, has a much lower
// free energy at pH 1 in acid or 13 in base.
func (t Tables) Dissolves(s *chem.Species, m redox.Medium) bool {
	ph := 1.0
	switch {
	case m == redox.Basic:
		ph = 13
	case m != redox.Acidic:
		return false
	}
	f := t.formation(s)
	if f == nil || f.Species.Phase() != chem.Solid || s.IsElement() {
		return false
	}
	for _, c := range s.Composition() {
		own, ok := t.planeOf(f, c.Element)
		if !ok {
			continue
		}
		for _, p := range t.planes(c.Element) {
			if p.species.Phase() == chem.Aqueous && p.charges*own.atoms == own.charges*p.atoms && own.height(ph, 0)-p.in(ordinary).height(ph, 0) > remarkable {
				return true
			}
		}
	}
	return false
}

// mostStable returns the form of a species, of the same oxidation state, that
// has the lowest free energy at a pH; own itself where none is remarkable.
// Anhydrous oxides are no forms, unless asked for: from a solution they come
// slowly, if at all. In base that holds for oxide hydroxides too: Fe(OH)3 comes
// down, not FeO(OH).
func (t Tables) mostStable(own plane, e chem.Element, ph float64, anhydrous bool) plane {
	best, lowest := own, own.height(ph, 0)
	for _, p := range t.planes(e) {
		s := p.species
		k, o, h := p.atoms, s.Atoms(chem.O), s.Atoms(chem.H)
		switch {
		case s.IsElement() || p.charges*own.atoms != own.charges*k || k != own.atoms && !isMetal(e):
			continue
		case s.Phase() == chem.Solid && o > 0 && !anhydrous && (h == 0 || ph > 7 && o != h || p.stands == 0):
			continue
		}
		// What forms has more of what the medium brings: in base it has given up
		// hydrogen ions, in acid it has taken them up.
		if given := own.ph - p.ph; given == 0 || (given > 0) != (ph > 7) {
			continue
		}
		p = p.in(ordinary)
		height := p.height(ph, 0)
		if ph > 7 && s.Charge() < 0 && h > 0 && isMetal(e) {
			height -= amphoteric
		}
		// Cr(OH)4^- and CrO2^- are one ion, written in two ways.
		if height < lowest-1 || height < lowest+1 && p.stands > best.stands {
			best, lowest = p, height
		}
	}
	if own.height(ph, 0)-best.height(ph, 0) > remarkable {
		return best
	}
	return own
}

// amphoteric is how much less stable than an aged hydroxide its complex may be,
// in kJ for one atom, and yet form: fresh hydroxides of aluminium, zinc and
// chromium dissolve in base (common practice, no source).
const amphoteric = 20.0

// asWhat says in which phase something forms.
func asWhat(p chem.Phase) string {
	switch p {
	case chem.Solid:
		return " as a solid"
	case chem.Gas:
		return " as a gas"
	case chem.Liquid:
		return " as a liquid"
	}
	return ""
}

// acidBase remarks by ionization constants: the base of a weak acid in strong
// acid, the acid in strong base, as far as they go.
func (t Tables) acidBase(s *chem.Species, ph float64, where string) string {
	form, pka := s, 0.0
	beyond := 1.0 // ten to one, to be remarked on; the form named is then the commonest
	for range 4 { // no acid here gives up more hydrogen ions
		next, p := t.otherForm(form, ph, beyond)
		if next == nil {
			break
		}
		form, pka, beyond = next, p, 0
	}
	if form == s {
		return ""
	}
	return fmt.Sprintf("%s does not persist %s: %s forms (pKa %s).", s, where, form, fixed(pka, 1))
}

// otherForm returns the acid or the base of a species that takes its place at a
// pH that lies beyond the pKa by more than so many units, and the pKa; nil where
// there is none.
func (t Tables) otherForm(s *chem.Species, ph, beyond float64) (*chem.Species, float64) {
	for _, q := range ionizations() {
		switch {
		case ph < 7 && ph-q.pka < -beyond && s.Charge() == q.base.Charge() && same(s, q.base):
			return q.acid, q.pka
		case ph > 7 && ph-q.pka > beyond && s.Charge() == q.acid.Charge() && same(s, q.acid):
			return q.base, q.pka
		}
	}
	return nil, 0
}

// An ionization is an acid with its base.
type ionization struct {
	acid, base *chem.Species
	pka        float64
}

var ionizations = sync.OnceValue(func() []ionization {
	var out []ionization
	for _, q := range reference.Equilibria() {
		if q.Kind != "Ka" || len(q.Reaction.Left) != 1 || len(q.Reaction.Right) != 2 {
			continue
		}
		base := q.Reaction.Right[0].Species
		if base.Same(chem.Hydron) {
			base = q.Reaction.Right[1].Species
		}
		out = append(out, ionization{q.Reaction.Left[0].Species, base, -q.LogK})
	}
	return out
})

// Bounds of a potential-pH map.
const (
	mapLeastPH, mapMostPH = 0.0, 14.0
	leastMap, mostMap     = 1e-12, 10.0 // mol/L
)

// Map returns the potential-pH map of an element, of all its species with
// oxygen and hydrogen or of those in only. The regions are exact: each is
// the rectangle cut by the lines on which its species and another are equally
// stable. The errors are *ConditionError and *NoPictureError.
func (t Tables) Map(e chem.Element, concentration float64, only []*chem.Species) (PHMap, error) {
	if !(concentration >= leastMap && concentration <= mostMap) {
		return PHMap{}, &ConditionError{fmt.Sprintf("a concentration of %v mol/L is out of range", concentration), "give one above zero, at most 10 mol/L; 1e-6 is usual for corrosion"}
	}
	planes := t.mapped(e, concentration, only)
	if len(planes) < 2 {
		return PHMap{}, &NoPictureError{e, "fewer than two of its species have free energies of formation"}
	}
	m := PHMap{Element: e, Concentration: concentration, PH: [2]float64{mapLeastPH, mapMostPH}}
	for i, ph := range m.PH {
		w := t.window(ph)
		m.Hydrogen[i], m.Oxygen[i] = Vertex{ph, w[0]}, Vertex{ph, w[1]}
	}
	// First over all potentials, to see where something happens, then there.
	m.Volts = [2]float64{-widest, widest}
	m.Regions = regionsOf(planes, m)
	m.Volts = framed(m)
	m.Regions = regionsOf(planes, m)
	return m, nil
}

// widest is the potential beyond which nothing of a map is shown, in volts.
const widest = 3.5

// framed is the range of potentials that shows water's window and every corner
// of a region, with room beyond.
func framed(m PHMap) [2]float64 {
	least, most := m.Hydrogen[1].Volts, m.Oxygen[0].Volts
	for _, r := range m.Regions {
		for _, v := range r.Corners {
			if math.Abs(v.Volts) < widest-1e-9 {
				least, most = min(least, v.Volts), max(most, v.Volts)
			}
		}
	}
	return [2]float64{math.Floor((least-0.3)*2) / 2, math.Ceil((most+0.3)*2) / 2}
}

// regionsOf cuts the rectangle of a map into the regions of its species.
func regionsOf(planes []plane, m PHMap) []Region {
	var out []Region
	frame := []Vertex{{m.PH[0], m.Volts[0]}, {m.PH[1], m.Volts[0]}, {m.PH[1], m.Volts[1]}, {m.PH[0], m.Volts[1]}}
	for i, p := range planes {
		corners := slices.Clone(frame)
		for j, q := range planes {
			if i != j {
				corners = cut(corners, q.at-p.at, q.ph-p.ph, q.volts-p.volts)
			}
			if len(corners) == 0 {
				break
			}
		}
		if area(corners) > 1e-6 {
			out = append(out, Region{p.species, corners})
		}
	}
	return out
}

// cut keeps the part of a polygon in which a + b*pH + c*E is not negative.
func cut(corners []Vertex, a, b, c float64) []Vertex {
	var out []Vertex
	value := func(v Vertex) float64 { return a + b*v.PH + c*v.Volts }
	for i, v := range corners {
		w := corners[(i+1)%len(corners)]
		x, y := value(v), value(w)
		if x >= 0 {
			out = append(out, v)
		}
		if x > 0 && y < 0 || x < 0 && y > 0 {
			f := x / (x - y)
			out = append(out, Vertex{v.PH + f*(w.PH-v.PH), v.Volts + f*(w.Volts-v.Volts)})
		}
	}
	return out
}

func area(corners []Vertex) float64 {
	sum := 0.0
	for i, v := range corners {
		w := corners[(i+1)%len(corners)]
		sum += v.PH*w.Volts - w.PH*v.Volts
	}
	return math.Abs(sum) / 2
}

// A NoPictureError says why there is no picture of an element.
type NoPictureError struct {
	Element chem.Element
	Msg     string
}

func (e *NoPictureError) Error() string {
	return fmt.Sprintf("there is no picture of %s: %s", e.Element, e.Msg)
}
