package energetics

import (
	"errors"
	"fmt"
	"math"
	"slices"

	"halves/chem"
	"halves/oxidation"
)

// The media of rows and plots, at pH 0 and at pH 14.
const (
	Acidic = "acidic"
	Basic  = "basic"
)

// Media lists them.
var Media = []string{Acidic, Basic}

// A candidate is a species that may stand in a row for its state.
type candidate struct {
	Station
	formed bool    // it has a free energy
	stands int     // in how many couples of the medium
	height float64 // for one atom, at the pH of the medium
}

// better reports whether c stands in a row rather than d: the element in its
// standard state; in acid what is dissolved before what is not, but carbon
// dioxide before carbonate; then what has the lower free energy.
func (c candidate) better(d candidate, medium string, standard func(*chem.Species) bool) bool {
	if x, y := standard(c.Species), standard(d.Species); x != y {
		return x
	}
	if x, y := c.Species.Phase() == chem.Aqueous, d.Species.Phase() == chem.Aqueous; medium == Acidic && x != y && c.State.Sign() != 0 {
		if gas, aqueous := c, d; c.formed && d.formed {
			if x {
				gas, aqueous = d, c
			}
			if gas.Species.Phase() == chem.Gas && aqueous.height-gas.height > 2*alike {
				return !x
			}
		}
		return x
	}
	if c.formed != d.formed {
		return c.formed
	}
	// Forms that differ by little more than water: the one that is taught more.
	if math.Abs(c.height-d.height) < alike && c.stands != d.stands {
		return c.stands > d.stands
	}
	return c.height < d.height
}

// alike is the difference in kJ for one atom below which two forms of a state
// count as equally stable.
const alike = 10

// stations are the species of a Latimer row or a Frost plot: one for each whole
// oxidation state that stands in a couple of the table in this medium. The
// highest state stands first.
func (t Tables) stations(e chem.Element, medium string) ([]Station, error) {
	ph := 0.0
	if medium == Basic {
		ph = 14
	}
	standard := func(s *chem.Species) bool {
		f := t.Formations.Find(s)
		return s.IsElement() && f != nil && f.G == 0
	}
	var all []candidate
	for _, s := range t.withElement(t.taught(e, medium), e) {
		charges, ok := stateOf(s, e)
		if !ok {
			continue
		}
		c := candidate{Station: Station{s, chem.NewRatio(charges, s.Atoms(e))}, stands: len(t.Couples.Holding(s))}
		if f := t.Formations.Find(s); f != nil {
			p, _ := t.planeOf(f, e)
			c.formed, c.height = true, p.height(ph, 0)
		}
		// A compound does not stand for the element, nor the mean of an organic
		// molecule for a state.
		if !c.State.IsWhole() || c.State.Sign() == 0 && !s.IsElement() || e == chem.C && s.Atoms(e) > 1 && !c.State.Equal(chem.Whole(3)) {
			continue
		}
		i := slices.IndexFunc(all, func(x candidate) bool { return x.State.Equal(c.State) })
		switch {
		case i < 0:
			all = append(all, c)
		case c.better(all[i], medium, standard):
			all[i] = c
		}
	}
	if len(all) < 2 {
		return nil, &NoPictureError{e, "fewer than two of its states stand in the tables with oxygen and hydrogen alone"}
	}
	slices.SortFunc(all, func(a, b candidate) int { return b.State.Cmp(a.State) })
	out := make([]Station, len(all))
	for i, c := range all {
		out[i] = c.Station
	}
	return out, nil
}

// taught are the species of an element, with oxygen and hydrogen alone, that
// stand in couples of the table in a medium: those that are taught.
func (t Tables) taught(e chem.Element, medium string) []*chem.Species {
	var out []*chem.Species
	if e == chem.O || e == chem.H {
		return nil
	}
	for _, c := range t.Couples.All() {
		if c.Medium != medium && c.Medium != "any" && !c.Own {
			continue
		}
		for _, x := range c.Half.Terms {
			s := x.Species
			if s.Atoms(e) > 0 && s.Composition().Only(e, chem.O, chem.H) && !slices.ContainsFunc(out, func(o *chem.Species) bool { return o.Same(s) && o.Phase() == s.Phase() }) {
				out = append(out, s)
			}
		}
	}
	return out
}

// withElement adds the element in its standard state, where it has a free energy.
func (t Tables) withElement(all []*chem.Species, e chem.Element) []*chem.Species {
	if len(all) == 0 {
		return nil
	}
	for _, f := range t.Formations.Of(e) {
		if f.Species.IsElement() && f.G == 0 {
			return append(all, f.Species)
		}
	}
	return all
}

// between returns the reduction from one station to another, balanced with
// water, its ions and electrons.
func between(e chem.Element, from, to Station, medium string) chem.Equation {
	a, b := from.Species, to.Species
	l, _ := chem.LCM(a.Atoms(e), b.Atoms(e)) // two small numbers
	m, n := l/a.Atoms(e), l/b.Atoms(e)
	oxygen := m*a.Atoms(chem.O) - n*b.Atoms(chem.O)              // as water on the right
	hydrogen := n*b.Atoms(chem.H) + 2*oxygen - m*a.Atoms(chem.H) // hydrogen ions on the left
	electrons := m*a.Charge() + hydrogen - n*b.Charge()          // on the left
	var out chem.Equation
	put := func(s *chem.Species, n int64) {
		switch {
		case n < 0:
			out.Left = append(out.Left, chem.Term{Coefficient: chem.Whole(-n), Species: s})
		case n > 0:
			out.Right = append(out.Right, chem.Term{Coefficient: chem.Whole(n), Species: s})
		}
	}
	put(a, -m)
	put(b, n)
	if medium == Basic {
		put(chem.Water.WithPhase(chem.Liquid), oxygen-hydrogen)
		put(chem.Hydroxide.WithPhase(chem.Aqueous), hydrogen)
	} else {
		put(chem.Water.WithPhase(chem.Liquid), oxygen)
		put(chem.Hydron.WithPhase(chem.Aqueous), -hydrogen)
	}
	put(chem.Electron, -electrons)
	return reduced(out)
}

// reduced divides an equation by the common factor of its coefficients.
func reduced(e chem.Equation) chem.Equation {
	g := int64(0)
	for _, x := range e.Terms {
		g = chem.GCD(g, x.Coefficient.Num())
	}
	if g < 2 {
		return e
	}
	side := func(terms []chem.Term) []chem.Term {
		out := slices.Clone(terms)
		for i := range out {
			out[i].Coefficient = out[i].Coefficient.Quo(chem.Whole(g))
		}
		return out
	}
	return chem.Equation{Left: side(e.Left), Right: side(e.Right)}
}

// link returns the potential between two stations.
func (t Tables) link(e chem.Element, all []Station, from, to int, medium string) (Link, error) {
	p, err := t.Of(between(e, all[from], all[to], medium))
	if err != nil {
		return Link{}, err
	}
	return Link{From: from, To: to, Volts: rounded(p.Volts, p.Decimals()), Electrons: all[from].State.Sub(all[to].State), Source: p.Says, Sources: p.Sources, Memory: p.Memory}, nil
}

// Latimer returns the Latimer row of an element: neighbours, then the spans over
// one station. Links without figures are left out. The error is a
// *NoPictureError.
func (t Tables) Latimer(e chem.Element, medium string) (Latimer, error) {
	stations, err := t.stations(e, medium)
	if err != nil {
		return Latimer{}, err
	}
	out := Latimer{Element: e, Medium: medium, Stations: stations}
	for span := 1; span <= 2; span++ {
		for i := 0; i+span < len(stations); i++ {
			l, err := t.link(e, stations, i, i+span, medium)
			var missing *MissingError
			if errors.As(err, &missing) {
				continue
			}
			if err != nil {
				return Latimer{}, err
			}
			if span > 1 {
				l = overSteps(l, out.Links)
			}
			out.Links = append(out.Links, l)
		}
	}
	return out, nil
}

// overSteps gives a link over one station the potential that follows from its two
// steps, weighted by their electrons, so that a row does not contradict itself;
// where the tables have another figure for the link, its source says so. Without
// both steps it stays as it is.
func overSteps(l Link, steps []Link) Link {
	var a, b *Link
	for i, k := range steps {
		switch {
		case k.From == l.From && k.To == l.From+1:
			a = &steps[i]
		case k.From == l.From+1 && k.To == l.To:
			b = &steps[i]
		}
	}
	if a == nil || b == nil {
		return l
	}
	n, m := electrons(a), electrons(b)
	if n+m == 0 {
		return l
	}
	told, source := l.Volts, l.Source
	l.Volts = rounded((n*a.Volts+m*b.Volts)/(n+m), 3)
	l.Source = "from its two steps, weighted by their electrons"
	for _, key := range append(slices.Clone(a.Sources), b.Sources...) {
		l.Sources = appendOnce(l.Sources, key)
	}
	l.Memory = l.Memory || a.Memory || b.Memory
	if math.Abs(told-l.Volts) > 0.0055 { // more than figures of two decimals differ by
		l.Source += fmt.Sprintf("; %s it is %s V", source, fixed(told, 3))
	}
	return l
}

// electrons is how many a step moves for one atom.
func electrons(l *Link) float64 { return float64(l.Electrons.Num()) / float64(l.Electrons.Den()) }

// Frost returns the Frost plot of an element, in acid and in base. The height of
// a species is its oxidation state times the potential of its reduction to the
// element. The error is a *NoPictureError.
func (t Tables) Frost(e chem.Element) (Frost, error) {
	out := Frost{Element: e}
	var none error
	for _, medium := range Media {
		stations, err := t.stations(e, medium)
		if err != nil {
			none = err
			continue
		}
		zero := slices.IndexFunc(stations, func(s Station) bool { return s.State.Sign() == 0 })
		if zero < 0 {
			none = &NoPictureError{e, "the element itself does not stand in the tables"}
			continue
		}
		c := Curve{Medium: medium}
		for i := len(stations) - 1; i >= 0; i-- {
			p := Point{Station: stations[i]}
			if i != zero {
				against, err := t.toElement(e, stations, i, zero, medium)
				var missing *MissingError
				if errors.As(err, &missing) {
					continue
				}
				if err != nil {
					return out, err
				}
				p.Height = float64(p.State.Num()) * against.Volts
				p.Sources, p.Memory = against.Sources, against.Memory
			}
			c.Points = append(c.Points, p)
		}
		c.Unstable = unstable(c.Points)
		out.Curves = append(out.Curves, c)
	}
	if len(out.Curves) == 0 {
		return out, none
	}
	return out, nil
}

// toElement returns the potential of station i against the element.
func (t Tables) toElement(e chem.Element, all []Station, i, zero int, medium string) (Potential, error) {
	if all[i].State.Sign() > 0 {
		return t.Of(between(e, all[i], all[zero], medium))
	}
	// A negative state is what the element is reduced to.
	return t.Of(between(e, all[zero], all[i], medium))
}

// unstable finds the points above the line between two others: those that
// disproportionate. The neighbours with the lowest line are named.
func unstable(points []Point) []Disproportionation {
	var out []Disproportionation
	for i, p := range points {
		best, drop := Disproportionation{}, 0.0
		for j, l := range points[:i] {
			for k := i + 1; k < len(points); k++ {
				u := points[k]
				width := float64(u.State.Num() - l.State.Num())
				line := l.Height + (u.Height-l.Height)*float64(p.State.Num()-l.State.Num())/width
				if d := p.Height - line; d > drop && d > Close {
					best, drop = Disproportionation{i, j, k}, d
				}
			}
		}
		if drop > 0 {
			out = append(out, best)
		}
	}
	return out
}

// Ladder returns the couples of an element, the highest potential first.
func (t Tables) Ladder(e chem.Element, medium string) (Ladder, error) {
	var rungs []Rung
	for _, c := range t.Couples.All() {
		if !(c.Preferred || c.Own) || !(c.Medium == medium || c.Medium == "any") {
			continue
		}
		if !changes(c.Half, e) {
			continue
		}
		rungs = append(rungs, Rung{Half: c.Half, Volts: c.Volts, From: fmt.Sprintf("%s V", signedText(c.Text)), Source: c.Source})
	}
	if len(rungs) == 0 {
		return Ladder{}, &NoPictureError{e, "no couple of it stands in the table in this medium"}
	}
	sortRungs(rungs)
	return Ladder{Title: fmt.Sprintf("Potentials of %s", e), Rungs: rungs, Oxidizing: -1, Reducing: -1}, nil
}

// changes reports whether an element is reduced or oxidized in a half-reaction.
// Where its states are open it does if it stands there at all.
func changes(half chem.Equation, e chem.Element) bool {
	total, there := chem.Whole(0), false
	for side, x := range half.Terms {
		if x.Species.Atoms(e) == 0 {
			continue
		}
		there = true
		states, _ := oxidation.States(x.Species)
		i := slices.IndexFunc(states, func(s oxidation.State) bool { return s.Element == e })
		if i < 0 {
			return true
		}
		total = total.Add(states[i].Total().Mul(x.Coefficient).Mul(chem.Whole(side)))
	}
	return there && total.Sign() != 0
}

func sortRungs(rungs []Rung) {
	slices.SortStableFunc(rungs, func(a, b Rung) int { return compare(b.Volts, a.Volts) })
}

// Ladder returns the two couples of a cell, joined.
func (c *Cell) Ladder() Ladder {
	rungs := []Rung{
		{Half: c.Reduction.Half, Volts: rounded(c.Reduction.Volts, c.Reduction.Decimals()), From: c.Reduction.From.words()},
		{Half: c.Oxidation.Half, Volts: rounded(c.Oxidation.Volts, c.Oxidation.Decimals()), From: c.Oxidation.From.words()},
	}
	out := Ladder{Title: "The two couples", Rungs: rungs, Oxidizing: 0, Reducing: 1}
	if rungs[1].Volts > rungs[0].Volts {
		rungs[0], rungs[1] = rungs[1], rungs[0]
		out.Oxidizing, out.Reducing = 1, 0
	}
	return out
}

// rounded rounds to the decimals that a figure carries.
func rounded(x float64, decimals int) float64 {
	f := math.Pow10(decimals)
	return math.Round(x*f) / f
}
