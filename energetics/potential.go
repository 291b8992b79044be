package energetics

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"sync"

	"halves/chem"
	"halves/reference"
)

// A Way is how a potential was found.
type Way string

// The ways.
const (
	ByTable     Way = "table"     // looked up
	ByFormation Way = "formation" // from free energies of formation
	ByCouples   Way = "couples"   // from known couples and equilibria, by adding free energies
)

// words says the way in a word or two.
func (w Way) words() string {
	switch w {
	case ByTable:
		return "looked up"
	case ByFormation:
		return "from free energies"
	}
	return "from other couples"
}

// Apart is the difference in volts from which two ways are both shown.
const Apart = 0.030

// A Potential is the standard potential of a half-reaction at 25 °C.
type Potential struct {
	Half       chem.Equation // as a reduction, written as asked for, with the phases that were taken
	Volts      float64
	Doubt      float64 // how far off the figure may be by its digits, in volts
	Electrons  int64   // in Half
	From       Way
	Rows       []string // ids of couples, or formulas with phases, that were used
	Sources    []string // keys of reference.SourceOf, each once
	Memory     bool     // a figure from memory is among them
	Own        bool     // a figure of the user's own table is among them
	Says       string   // one sentence: which way, with which rows
	Remark     string   // what is known to be doubtful of a row, "" for nothing
	Slow       string   // why the couple is slow or hindered in practice, in one direction at least; "" where it is not
	SlowBy     string   // source of Slow
	hindrances []hindrance
	// Other is what another way gives where it differs by more than Apart.
	Other *Potential
}

// Decimals is how many decimals the figure carries by its doubt, 2 to 4.
func (p Potential) Decimals() int {
	switch {
	case p.Doubt < 0.0001:
		return 4
	case p.Doubt < 0.001:
		return 3
	}
	return 2
}

// A MissingError says that no potential can be given, and what figures are
// missing. One is never invented.
type MissingError struct {
	Half    chem.Equation
	Missing []*chem.Species // without a free energy of formation
}

func (e *MissingError) Error() string {
	if len(e.Missing) == 0 {
		return fmt.Sprintf("no potential of %s is in the tables, and it does not follow from others", e.Half)
	}
	names := make([]string, len(e.Missing))
	for i, s := range e.Missing {
		names[i] = s.String() + s.Phase().String()
	}
	return fmt.Sprintf("no potential of %s is in the tables, and there is no free energy of formation of %s", e.Half, strings.Join(names, ", "))
}

// Hint says what to do.
func (e *MissingError) Hint() string {
	return "add a row with its source to a table of your own, or ask for couples that are listed: halves couple"
}

// A HalfError says that what was given is not a balanced half-reaction.
type HalfError struct {
	Half chem.Equation
	Msg  string
}

func (e *HalfError) Error() string { return e.Msg }

// Hint says what to do.
func (e *HalfError) Hint() string {
	return "give one half-reaction, balanced with its electrons or only what is oxidized and what is reduced: Fe^3+ -> Fe^2+"
}

// Tables are the figures that potentials are found in. New makes one.
type Tables struct {
	Couples    *reference.CoupleTable
	Formations *reference.FormationTable
	parts      func() []*part             // what may be combined
	planes     func(chem.Element) []plane // see planesOf
}

// New returns the tables of a user.
func New(couples *reference.CoupleTable, formations *reference.FormationTable) Tables {
	t := Tables{Couples: couples, Formations: formations}
	t.parts = sync.OnceValue(t.allParts)
	t.planes = once(t.planesOf)
	return t
}

// once returns a function that asks f once for each argument.
func once[K comparable, V any](f func(K) V) func(K) V {
	var known sync.Map // K to V
	return func(k K) V {
		if v, ok := known.Load(k); ok {
			return v.(V)
		}
		v, _ := known.LoadOrStore(k, f(k))
		return v.(V)
	}
}

// Shipped returns the tables of the program.
func Shipped() Tables { return shipped() }

var shipped = sync.OnceValue(func() Tables { return New(reference.Couples(), reference.Formations()) })

// Of returns the potential of a balanced half-reaction, as a reduction; one
// that is written as an oxidation is turned round. Species without a phase are
// taken in the likely one. The errors are *HalfError and *MissingError.
func (t Tables) Of(half chem.Equation) (Potential, error) {
	if !balanced(half) {
		return Potential{}, &HalfError{half, fmt.Sprintf("%s is not balanced with whole numbers", half)}
	}
	v := vectorOf(half)
	switch {
	case v.electrons == 0:
		return Potential{}, &HalfError{half, fmt.Sprintf("%s moves no electrons: it is not a half-reaction", half)}
	case v.electrons < 0:
		half = chem.Equation{Left: half.Right, Right: half.Left}
		v = v.turned()
	}
	p, found := t.byTable(half, v)
	if !found {
		q, missing := t.byFormation(half, v)
		if missing == nil {
			p, found = q, true
		} else if q, ok := t.byCouples(half); ok {
			p, found = q, true
		} else {
			return Potential{}, &MissingError{half, missing}
		}
		p.hinder(t.slowness(p.Half))
	}
	if p.From == ByTable {
		if q, missing := t.byFormation(p.Half, vectorOf(p.Half)); missing == nil && math.Abs(q.Volts-p.Volts) > Apart {
			p.Other = &q
		}
	}
	return p, nil
}

// byTable looks a half-reaction up. Of several rows the one in the likely phases
// is taken, then one in the same medium, then the preferred one.
func (t Tables) byTable(half chem.Equation, v vector) (Potential, bool) {
	var best *reference.Couple
	var score int
	for _, c := range t.candidates(v) {
		w := vectorOf(c.Half)
		if !v.agrees(w) {
			continue
		}
		n := 0
		for _, a := range w.amounts {
			if a.species.Phase() == likelyPhase(a.species.WithPhase(chem.NoPhase)) {
				n += 8
			}
		}
		if sign(w.hydroxide) == sign(v.hydroxide) {
			n += 2
		}
		if c.Preferred {
			n += 4
		}
		if c.Own {
			n += 1000
		}
		if best == nil || n > score {
			best, score = c, n
		}
	}
	if best == nil {
		return Potential{}, false
	}
	w := vectorOf(best.Half)
	p := Potential{
		Half: phased(half, w, unknown), Volts: best.Volts, Doubt: digits(best.Text), Electrons: v.electrons, From: ByTable,
		Rows: []string{best.ID}, Sources: []string{best.Source}, Memory: best.Confidence == "memory", Own: best.Own,
		Says: "looked up",
	}
	p.hinder(hindrancesOf(best))
	if best.Own {
		p.Says = "from your own table"
	}
	if s, ok := t.Couples.Suspect(best.ID); ok {
		p.Remark = s.Judgement
	}
	// The row may be of the other medium: pH 0 and pH 14 differ by water's ions.
	if d := v.hydroxide*w.electrons - w.hydroxide*v.electrons; d != 0 {
		ion, ok := t.ionProduct()
		if !ok {
			return Potential{}, false
		}
		p.Volts -= ion / Faraday * 1000 * float64(d) / float64(v.electrons*w.electrons)
		p.Doubt = max(p.Doubt, 0.0005)
		p.Says += fmt.Sprintf(" as %s V for %s, brought to the other medium by the ion product of water", signedText(best.Text), best.Half)
	}
	return p, true
}

func sign(n int64) int {
	switch {
	case n < 0:
		return -1
	case n > 0:
		return 1
	}
	return 0
}

// candidates are the couples that hold the species of v that stands in the
// fewest.
func (t Tables) candidates(v vector) []*reference.Couple {
	var best []*reference.Couple
	for i, a := range v.amounts {
		if held := t.Couples.Holding(a.species); i == 0 || len(held) < len(best) {
			best = held
		}
	}
	return best
}

// phased returns the half with the phases of w where none was typed; a species
// that is not in w gets the phase other, or its likely one for unknown.
func phased(half chem.Equation, w vector, other chem.Phase) chem.Equation {
	side := func(terms []chem.Term) []chem.Term {
		out := slices.Clone(terms)
		for i, x := range out {
			if x.Species.Phase() != chem.NoPhase {
				continue
			}
			phase := other
			if phase == unknown {
				phase = likelyPhase(x.Species)
			}
			for _, a := range w.amounts {
				if same(a.species, x.Species) {
					phase = a.species.Phase()
				}
			}
			out[i].Species = x.Species.WithPhase(phase)
		}
		return out
	}
	return chem.Equation{Left: side(half.Left), Right: side(half.Right)}
}

// unknown stands for a phase that is to be found.
const unknown = chem.Phase(255)

// formationDoubt is how far off a potential from free energies is taken to be,
// in kJ for one electron: tables agree to about half a kilojoule (see the README
// of package reference).
const formationDoubt = 0.5

// byFormation computes dG of the half-reaction. missing is not nil where a
// species has no free energy.
func (t Tables) byFormation(half chem.Equation, v vector) (p Potential, missing []*chem.Species) {
	g, used, missing := t.gibbs(half)
	if missing != nil {
		return p, missing
	}
	n := float64(v.electrons)
	p = Potential{Half: used.equation, Volts: volts(n, g), Doubt: formationDoubt * 1000 / Faraday, Electrons: v.electrons, From: ByFormation,
		Rows: used.rows, Sources: used.sources, Memory: used.memory, Own: used.own,
		Says: fmt.Sprintf("computed from free energies of formation: ΔG° = %s kJ for %d electron%s", fixed(g, 1), v.electrons, plural(v.electrons))}
	return p, nil
}

// usage is what figures a computation took.
type usage struct {
	equation chem.Equation
	rows     []string
	sources  []string
	memory   bool
	own      bool
}

// gibbs returns dG of an equation in kJ, from free energies of formation. The
// electron and the hydrogen ion count zero. missing lists the species without
// one; it is nil where none is missing.
func (t Tables) gibbs(e chem.Equation) (g float64, u usage, missing []*chem.Species) {
	u.equation = chem.Equation{Left: slices.Clone(e.Left), Right: slices.Clone(e.Right)}
	take := func(terms []chem.Term, sign float64) {
		for i, x := range terms {
			s := x.Species
			if s.IsElectron() {
				continue
			}
			f := t.formation(s)
			if f == nil {
				missing = append(missing, s.WithPhase(likelyPhase(s)))
				continue
			}
			terms[i].Species = s.WithPhase(f.Species.Phase())
			g += sign * float64(x.Coefficient.Num()) / float64(x.Coefficient.Den()) * f.G
			if s.Same(chem.Hydron) {
				continue
			}
			u.rows = appendOnce(u.rows, f.Species.String()+f.Species.Phase().String())
			u.sources = appendOnce(u.sources, f.Source)
			u.memory = u.memory || f.Confidence == "memory"
			u.own = u.own || f.Own
		}
	}
	take(u.equation.Left, -1)
	take(u.equation.Right, 1)
	return g, u, missing
}

// formation finds the free energy of a species, in its phase, else the likely
// one, else the only one.
func (t Tables) formation(s *chem.Species) *reference.Formation {
	if s.Phase() == chem.NoPhase {
		if f := t.Formations.Find(s.WithPhase(likelyPhase(s))); f != nil {
			return f
		}
		if all := t.Formations.Phases(s); len(all) == 1 {
			return all[0]
		}
		return nil
	}
	return t.Formations.Find(s)
}

func appendOnce(all []string, s string) []string {
	if slices.Contains(all, s) {
		return all
	}
	return append(all, s)
}

// ionProduct returns dG of H2O -> H^+ + OH^- in kJ.
func (t Tables) ionProduct() (float64, bool) {
	water, hydroxide := t.Formations.Find(chem.Water.WithPhase(chem.Liquid)), t.Formations.Find(chem.Hydroxide.WithPhase(chem.Aqueous))
	if water == nil || hydroxide == nil {
		return 0, false
	}
	return hydroxide.G - water.G, true
}

// digits returns half a unit of the last place of a printed figure.
func digits(text string) float64 {
	_, decimals, found := strings.Cut(text, ".")
	if !found {
		return 0.5
	}
	return max(0.5*math.Pow10(-len(decimals)), 0.00005)
}

func signedText(text string) string {
	text = strings.TrimPrefix(text, "+")
	if strings.HasPrefix(text, "-") {
		return "\u2212" + text[1:]
	}
	return "+" + text
}

// Figure writes a figure with so many decimals and a true minus sign.
func Figure(x float64, decimals int) string { return fixed(x, decimals) }

// fixed writes a number with a true minus sign.
func fixed(x float64, decimals int) string {
	s := fmt.Sprintf("%.*f", decimals, x)
	if strings.Trim(s, "-0.") == "" {
		s = strings.TrimPrefix(s, "-")
	}
	return strings.Replace(s, "-", "\u2212", 1)
}

func plural(n int64) string {
	if n == 1 {
		return ""
	}
	return "s"
}
