package marking

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"
	"sync"
	"testing"

	"halves/checks"
	"halves/chem"
	"halves/redox"
)

// The generator writes workings as students do, sound ones and ones with a slip
// at a known line. It has its own arithmetic, so that the judge is held to
// something that it did not compute. Questions come from the published
// equations of package checks; the styles are common practice, no source.

// An eqn is an equation with whole coefficients, left and right, as written.
type eqn [2][]gterm

type gterm struct {
	sp *chem.Species
	n  int64
}

const (
	onLeft = iota
	onRight
)

func (e eqn) clone() eqn { return eqn{slices.Clone(e[0]), slices.Clone(e[1])} }

// with adds n of a species to a side; terms that come to nothing go.
func (e eqn) with(side int, sp *chem.Species, n int64) eqn {
	e = e.clone()
	i := slices.IndexFunc(e[side], func(t gterm) bool { return t.sp.Same(sp) })
	if i < 0 {
		i = len(e[side])
		e[side] = append(e[side], gterm{sp: sp})
	}
	if e[side][i].n += n; e[side][i].n == 0 {
		e[side] = slices.Delete(e[side], i, i+1)
	}
	return e
}

func (e eqn) on(side int, sp *chem.Species) int64 {
	for _, t := range e[side] {
		if t.sp.Same(sp) {
			return t.n
		}
	}
	return 0
}

func (e eqn) net(sp *chem.Species) int64 { return e.on(onRight, sp) - e.on(onLeft, sp) }

// put adds n of a species on the right, or -n on the left where n is negative.
func (e eqn) put(sp *chem.Species, n int64) eqn {
	switch {
	case n > 0:
		return e.with(onRight, sp, n)
	case n < 0:
		return e.with(onLeft, sp, -n)
	}
	return e
}

// excess counts an element, or the charge for 0, right less left.
func (e eqn) excess(el chem.Element) int64 {
	sum := int64(0)
	for side, terms := range e {
		for _, t := range terms {
			x := t.sp.Charge()
			if el != 0 {
				x = t.sp.Atoms(el)
			}
			sum += int64(2*side-1) * x * t.n
		}
	}
	return sum
}

func (e eqn) times(k int64) eqn {
	e = e.clone()
	for _, side := range e {
		for i := range side {
			side[i].n *= k
		}
	}
	return e
}

func (e eqn) plus(f eqn) eqn {
	for side, terms := range f {
		for _, t := range terms {
			e = e.with(side, t.sp, t.n)
		}
	}
	return e
}

// cancelled takes away what stands on both sides.
func (e eqn) cancelled() eqn {
	out := e
	for _, t := range e[onLeft] {
		if m := min(t.n, e.on(onRight, t.sp)); m > 0 {
			out = out.with(onLeft, t.sp, -m).with(onRight, t.sp, -m)
		}
	}
	return out
}

func (e eqn) reversed() eqn { return eqn{e[1], e[0]}.clone() }

func (e eqn) factor() int64 {
	g := int64(0)
	for _, side := range e {
		for _, t := range side {
			g = chem.GCD(g, t.n)
		}
	}
	return max(g, 1)
}

func (e eqn) divided(g int64) eqn {
	e = e.clone()
	for _, side := range e {
		for i := range side {
			side[i].n /= g
		}
	}
	return e
}

func (e eqn) both(sp *chem.Species) bool { return e.on(0, sp) > 0 && e.on(1, sp) > 0 }

// watered, hydrogened and charged balance oxygen, hydrogen and charge from what
// stands there.
func (e eqn) watered() eqn    { return e.put(chem.Water, -e.excess(chem.O)) }
func (e eqn) hydrogened() eqn { return e.put(chem.Hydron, -e.excess(chem.H)) }
func (e eqn) charged() eqn    { return e.put(chem.Electron, e.excess(0)) }

// based adds hydroxide ions for the hydrogen ions to both sides.
func (e eqn) based() eqn {
	h := e.on(0, chem.Hydron) + e.on(1, chem.Hydron)
	if h == 0 {
		return e
	}
	return e.with(onLeft, chem.Hydroxide, h).with(onRight, chem.Hydroxide, h)
}

// combined makes water of hydrogen and hydroxide ions that stand on one side.
func (e eqn) combined() eqn {
	for side := range e {
		if m := min(e.on(side, chem.Hydron), e.on(side, chem.Hydroxide)); m > 0 {
			e = e.with(side, chem.Hydron, -m).with(side, chem.Hydroxide, -m).with(side, chem.Water, m)
		}
	}
	return e
}

// hydroniumed writes H3O^+ for H^+.
func (e eqn) hydroniumed() eqn {
	for side := range e {
		if n := e.on(side, chem.Hydron); n > 0 {
			e = e.with(side, chem.Hydron, -n).with(side, chem.Hydronium, n).with(1-side, chem.Water, n)
		}
	}
	return e
}

// A ghalf is a half of a question: its skeleton, its main species balanced, and
// the whole, in hydrogen ions.
type ghalf struct {
	role               redox.Role
	bare, atoms, whole eqn
	ladder             bool // no water or ion of water is the half's own
	times              int64
}

// A gquestion is a question with what the generator needs of it.
type gquestion struct {
	*Question
	text  string
	base  bool
	half  []ghalf
	whole eqn // in hydrogen ions, lowest
	put   eqn // the answer of a molecular question, substances put back for ions
}

func isMedium(sp *chem.Species) bool {
	return sp.Same(chem.Water) || sp.Same(chem.Hydron) || sp.Same(chem.Hydroxide) || sp.Same(chem.Hydronium) || sp.IsElectron()
}

// gquestions returns the questions of the published equations, in acid and in
// base, made once. skipped counts those left out, by reason.
func gquestions(t testing.TB) (all, molecular []*gquestion, skipped map[string]int) {
	t.Helper()
	q := madeOnce()
	return q.all, q.molecular, q.skipped
}

type gset struct {
	all, molecular []*gquestion
	skipped        map[string]int
}

var madeOnce = sync.OnceValue(func() gset {
	all, molecular, skipped := makeQuestions()
	return gset{all, molecular, skipped}
})

func makeQuestions() (all, molecular []*gquestion, skipped map[string]int) {
	skipped = map[string]int{}
	for _, row := range checks.Equations() {
		for _, medium := range []redox.Medium{redox.Acidic, redox.Basic} {
			s, err := redox.Work(row.Skeleton, medium, redox.Conventions{})
			if err != nil {
				skipped["not worked"]++
				continue
			}
			q, err := NewQuestion(s)
			if err != nil || len(q.halves) < 2 {
				skipped["no two halves in water"]++
				continue
			}
			g := &gquestion{Question: q, text: s.Skeleton.String(), base: medium == redox.Basic}
			sum := eqn{}
			for _, h := range s.Halves {
				x := ghalf{role: h.Role, times: h.Multiplier, ladder: true}
				for side, t := range h.Equation.Terms {
					x.whole = x.whole.with(int(side+1)/2, t.Species.WithPhase(chem.NoPhase), t.Coefficient.Num())
				}
				x.whole = x.whole.hydroxideFree()
				for side, t := range h.Skeleton.Terms {
					sp := t.Species.WithPhase(chem.NoPhase)
					x.bare = x.bare.with(int(side+1)/2, sp, 1)
					x.ladder = x.ladder && !isMedium(sp)
				}
				for side, terms := range x.whole {
					for _, t := range terms {
						if !isMedium(t.sp) {
							x.atoms = x.atoms.with(side, t.sp, t.n)
						}
					}
				}
				sum = sum.plus(x.whole.times(x.times))
				g.half = append(g.half, x)
			}
			sum = sum.cancelled()
			g.whole = sum.divided(sum.factor())
			// Where the final equation is not the sum, substances were put back
			// for ions.
			want := eqn{}
			for side, t := range s.Equation.Terms {
				want = want.with(int(side+1)/2, t.Species.WithPhase(chem.NoPhase), t.Coefficient.Num())
			}
			if got := g.answer(); !got.same(want) || sum.on(0, chem.Electron)+sum.on(1, chem.Electron) != 0 || g.base != q.inBase() && len(got) > 0 && g.whole.net(chem.Hydron) != 0 {
				if skipped["substances put back for ions"]++; row.Medium == "none" && medium == redox.Acidic {
					g.put = want
					molecular = append(molecular, g)
				}
				continue
			}
			all = append(all, g)
		}
	}
	return all, molecular, skipped
}

// hydroxideFree writes water for hydroxide and hydrogen ions.
func (e eqn) hydroxideFree() eqn {
	for side := range e {
		if n := e.on(side, chem.Hydroxide); n > 0 {
			e = e.with(side, chem.Hydroxide, -n).with(side, chem.Water, n).with(1-side, chem.Hydron, n)
		}
	}
	return e.cancelled()
}

func (e eqn) same(f eqn) bool {
	count := 0
	for side, terms := range e {
		for _, t := range terms {
			if f.on(side, t.sp) != t.n {
				return false
			}
			count++
		}
	}
	return count == len(f[0])+len(f[1])
}

func (g *gquestion) answer() eqn {
	e := g.whole
	if g.base {
		e = e.based().combined().cancelled()
	}
	return e.divided(e.factor())
}

// A gline is one line of a working before it is typed.
type gline struct {
	half  int // -1 for the whole
	stage string
	e     eqn
	by    int64 // the factor of a multiplied line
	over  int64 // the coefficients are typed as so many of 1/over; 0 for whole
	slip  bool
}

// A plan is how a student goes about it.
type plan struct {
	rungs     string // "ladder", "direct", "electrons", "final"
	order     string // "first", "second", "both"
	times     bool   // multiplied lines are written
	sum       bool   // the sum is written before it is cancelled
	base      string // "end", "halves", "start"
	steps     bool   // the steps of the change of medium are written
	hydronium bool
	swap      bool                                                        // labels swapped
	stop      bool                                                        // stop at the line with the slip
	mutate    func(stage string, half int, e eqn, by int64) (eqn, string) // "" for no slip
	lacking   int                                                         // the half whose electrons are left out, plus 1
	unequal   bool
	factors   []int64 // of the halves, in place of the right ones
	last      string  // the stage at which the student stops, thinking it final
}

// A gworking is a working before it is typed.
type gworking struct {
	q     *gquestion
	lines []gline
	kinds []Kind // accepted for the slip
	swap  bool
	plain bool // formulas keep their carets, so that a changed one is read as meant
}

// slipLine returns the index of the line with the slip, -1 for none.
func (w *gworking) slipLine() int {
	return slices.IndexFunc(w.lines, func(l gline) bool { return l.slip })
}

// work writes a working by a plan. It is nil where the plan does not fit.
func (g *gquestion) work(p plan) *gworking {
	w := &gworking{q: g, swap: p.swap}
	slipped := false
	stop := false
	emit := func(lines *[]gline, stage string, half int, e eqn, by int64, show bool) eqn {
		if stop {
			return e
		}
		l := gline{half: half, stage: stage, e: e, by: by}
		if p.mutate != nil && !slipped && show {
			if f, ok := p.mutate(stage, half, e, by); ok != "" {
				e, l.e, l.slip, slipped = f, f, true, true
				show = true
				stop = p.stop
			}
		}
		if p.hydronium {
			l.e = l.e.hydroniumed()
			for _, s := range []*chem.Species{chem.Water} {
				if m := min(l.e.on(0, s), l.e.on(1, s)); m > 0 && stage != "sum" {
					l.e = l.e.with(0, s, -m).with(1, s, -m)
				}
			}
		}
		if show {
			*lines = append(*lines, l)
		}
		return e
	}
	// Each half through its rungs.
	blocks := make([][]gline, len(g.half))
	done := make([]eqn, len(g.half))
	order := make([]int, len(g.half))
	for k := range order {
		order[k] = k
	}
	if p.order == "second" {
		slices.Reverse(order)
	}
	for _, k := range order {
		h := g.half[k]
		b := &blocks[k]
		show := p.rungs != "final"
		rungs := p.rungs
		if !h.ladder && rungs != "final" {
			rungs = "direct"
		}
		var e eqn
		switch rungs {
		case "ladder":
			e = emit(b, "bare", k, h.bare, 1, true)
			if !h.atoms.same(h.bare) {
				next := h.atoms
				if slipped && !e.same(h.bare) { // carried: the altered species stays
					next = carry(h.bare, e, next)
				}
				e = emit(b, "atoms", k, next, 1, true)
			}
			if g.base && p.base == "start" {
				if next := e.watered().hydrogened().based().combined().cancelled(); !next.same(e) {
					e = emit(b, "hydroxide", k, next, 1, true)
				}
			} else {
				if next := e.watered(); !next.same(e) {
					e = emit(b, "water", k, next, 1, true)
				}
				if next := e.hydrogened(); !next.same(e) {
					e = emit(b, "hydron", k, next, 1, true)
				}
			}
			if p.lacking&(1<<k) == 0 {
				e = emit(b, "charge", k, e.charged(), 1, true)
			}
		case "electrons":
			e = emit(b, "bare", k, h.bare, 1, true)
			if !h.atoms.same(h.bare) {
				e = emit(b, "atoms", k, h.atoms, 1, true)
			}
			e = emit(b, "electrons", k, e.put(chem.Electron, h.whole.net(chem.Electron)), 1, true)
			// Charge by hydrogen ions, or hydroxide ions in base; then water.
			if g.base && p.base == "start" {
				if next := e.put(chem.Hydroxide, e.excess(0)); !next.same(e) {
					e = emit(b, "hydron", k, next, 1, true)
				}
			} else if next := e.put(chem.Hydron, -e.excess(0)); !next.same(e) {
				e = emit(b, "hydron", k, next, 1, true)
			}
			if next := e.watered(); !next.same(e) {
				e = emit(b, "charge", k, next, 1, true)
			}
		default:
			if show && h.ladder == false {
				emit(b, "bare", k, h.bare, 1, p.rungs == "ladder")
			}
			e = h.whole
			if p.lacking&(1<<k) != 0 {
				e = e.put(chem.Electron, -e.net(chem.Electron)).cancelled()
			}
			if !(g.base && p.base != "end" && show) {
				e = emit(b, "charge", k, e, 1, show)
			}
		}
		if g.base && p.base != "end" && show {
			if p.steps && p.rungs == "ladder" && !e.same(e.based()) {
				emit(b, "based-half", k, e.based(), 1, true)
				emit(b, "combined-half", k, e.based().combined(), 1, true)
			}
			if next := e.based().combined().cancelled(); rungs == "direct" || !next.same(e) {
				e = emit(b, "charge-base", k, next, 1, true)
			}
		}
		done[k] = e
	}
	if p.order == "both" {
		for i := 0; ; i++ {
			any := false
			for k := range blocks {
				if i < len(blocks[k]) {
					w.lines = append(w.lines, blocks[k][i])
					any = true
				}
			}
			if !any {
				break
			}
		}
	} else {
		for _, k := range order {
			w.lines = append(w.lines, blocks[k]...)
		}
	}
	if i := w.slipLine(); i >= 0 && p.stop {
		w.lines = w.lines[:i+1]
	}
	if stop {
		return w
	}
	g.join(w, p, emit, done, &slipped, &stop)
	if p.mutate != nil && !slipped {
		return nil
	}
	return w
}

// carry puts what was altered in e, which was from, into next.
func carry(from, e, next eqn) eqn {
	for side := range from {
		for i, t := range from[side] {
			if i < len(e[side]) && !e[side][i].sp.Same(t.sp) {
				for j := range next[side] {
					if next[side][j].sp.Same(t.sp) {
						next = next.clone()
						next[side][j].sp = e[side][i].sp
					}
				}
			}
		}
	}
	return next
}

// join multiplies, adds, cancels and changes the medium.
func (g *gquestion) join(w *gworking, p plan, emit func(*[]gline, string, int, eqn, int64, bool) eqn, done []eqn, slipped, stop *bool) {
	factors := make([]int64, len(done))
	for k := range factors {
		factors[k] = g.half[k].times
	}
	if len(done) == 2 {
		a, b := done[0].net(chem.Electron), done[1].net(chem.Electron)
		if p.lacking == 0 && (a <= 0 || b >= 0) {
			return // nothing can be added
		}
		if p.lacking == 0 {
			l, _ := chem.LCM(a, -b)
			factors = []int64{l / a, l / -b}
		}
	}
	if p.factors != nil {
		factors = p.factors
	}
	sum := eqn{}
	for k := range done {
		e := done[k]
		if factors[k] != 1 {
			e = emit(&w.lines, "times", k, e.times(factors[k]), factors[k], p.times && p.rungs != "final")
		}
		sum = sum.plus(e)
	}
	if *stop {
		return
	}
	final := func(e eqn) bool { return e.factor() == 1 && e.on(0, chem.Electron)+e.on(1, chem.Electron) == 0 }
	show := p.rungs != "final"
	if !sum.same(sum.cancelled()) || p.last == "sum" {
		stage := "sum"
		sum = emit(&w.lines, stage, -1, sum, 1, p.sum && show)
		if p.last == "sum" || *stop {
			return
		}
	}
	e := sum.cancelled()
	if e.on(0, chem.Electron)+e.on(1, chem.Electron) > 0 && !p.unequal && p.lacking == 0 {
		return
	}
	change := g.base && e.on(0, chem.Hydron)+e.on(1, chem.Hydron) > 0
	stage := "final"
	if change || !final(e) {
		stage = "cancel"
	}
	if stage == "cancel" {
		e = emit(&w.lines, stage, -1, e, 1, show || p.last == "cancel")
	} else {
		e = emit(&w.lines, stage, -1, e, 1, true)
	}
	if p.last == "cancel" || *stop {
		return
	}
	if change {
		e = emit(&w.lines, "based", -1, e.based(), 1, p.steps && show || p.last == "based")
		if p.last == "based" || *stop {
			return
		}
		e = emit(&w.lines, "combined", -1, e.combined(), 1, p.steps && show || p.last == "combined")
		if p.last == "combined" || *stop {
			return
		}
		if e.same(e.cancelled()) && e.factor() == 1 && p.steps && show {
			return
		}
		e = e.cancelled()
	}
	if stage == "cancel" {
		if g := e.factor(); g > 1 {
			if change {
				e = emit(&w.lines, "cancel", -1, e, 1, p.sum && show)
			}
			if p.last == "unlowered" {
				emit(&w.lines, "final", -1, e, 1, true)
				return
			}
			e = e.divided(g)
		}
		emit(&w.lines, "final", -1, e, 1, true)
	}
}

// somePlan draws a sound plan.
func somePlan(r *rand.Rand, g *gquestion) plan {
	p := plan{
		rungs: []string{"ladder", "ladder", "ladder", "direct", "electrons", "final"}[r.IntN(6)],
		order: []string{"first", "second", "both"}[r.IntN(3)],
		times: r.IntN(3) > 0, sum: r.IntN(2) > 0, steps: r.IntN(2) > 0,
		base: []string{"end", "end", "halves", "start"}[r.IntN(4)],
	}
	p.hydronium = !g.base && r.IntN(5) == 0
	if len(g.half) == 2 && r.IntN(6) == 0 { // each by the other's electrons; a common factor goes at the end
		p.factors = []int64{-g.half[1].whole.net(chem.Electron), g.half[0].whole.net(chem.Electron)}
	}
	return p
}

// A typing is how a working is typed.
type typing struct {
	notation         string // "caret", "none", "unicode"
	arrow            string
	tight            bool   // no space after a coefficient
	ones             bool   // the coefficient 1
	electron         string // "e^-", "e-", "e", "electrons"
	minus            bool   // electrons on the left with a minus sign
	shuffle          bool
	states           bool
	labels           int // index of a set of wordings
	spaces           string
	crlf             bool
	question, remark bool
	blank            bool
	header           bool   // the label stands on a line of its own
	join             string // between the lines of two halves that stand on one line
}

// Label wordings: oxidation, reduction, multiplied, whole, answer. % is the
// name of the half, # the factor.
var wordings = [][5]string{
	{"", "", "", "", ""},
	{"Oxidation: ", "Reduction: ", "% x#: ", "Overall: ", "Overall: "},
	{"ox: ", "red: ", "%, times #: ", "Sum: ", "Answer: "},
	{"oxidation half: ", "reduction half: ", "% multiplied by #: ", "adding: ", "Final answer: "},
	{"Ox. half-reaction: ", "Red. half-reaction: ", "×#: ", "total: ", "final: "},
	{"(oxidation) ", "(reduction) ", "(x#) ", "(sum) ", "(answer) "},
	{"Step 1 (oxidation half): ", "Step 1 (reduction half): ", "Step 2 (% by #): ", "Step 3: ", "Step 4, the answer: "},
	{"a) oxidation: ", "b) reduction: ", "c) # times %: ", "d) both together: ", "e) so, finally: "},
	{"1. Oxidation - ", "2. Reduction - ", "3. % x # - ", "4. Overall - ", "5. Final - "},
}

func someTyping(r *rand.Rand, plain bool) typing {
	t := typing{
		notation: []string{"caret", "none", "unicode"}[r.IntN(3)],
		arrow:    pick(r, []string{" -> ", " --> ", " => ", " → ", " ⟶ ", " = ", "->", "→"}),
		tight:    r.IntN(2) == 0, ones: r.IntN(6) == 0,
		electron: pick(r, []string{"e^-", "e-", "e", "e⁻", "e−", "electrons"}),
		minus:    r.IntN(4) == 0, shuffle: r.IntN(2) == 0, states: r.IntN(4) == 0,
		labels: r.IntN(len(wordings)), spaces: []string{"", "", "  ", "\t"}[r.IntN(4)],
		crlf: r.IntN(6) == 0, question: r.IntN(5) == 0, remark: r.IntN(5) == 0, blank: r.IntN(4) == 0,
	}
	t.header = t.labels == 1 && r.IntN(2) == 0
	if plain {
		t.notation = "caret"
	}
	return t
}

var subscripts, superscripts = []rune("₀₁₂₃₄₅₆₇₈₉"), map[rune]rune{'0': '⁰', '1': '¹', '2': '²', '3': '³', '4': '⁴', '5': '⁵', '6': '⁶', '7': '⁷', '8': '⁸', '9': '⁹', '+': '⁺', '-': '⁻'}

func typeSpecies(sp *chem.Species, t typing) string {
	s := sp.String()
	switch t.notation {
	case "none":
		s = strings.Replace(s, "^", "", 1)
	case "unicode":
		var b strings.Builder
		raised := false
		for _, c := range s {
			switch {
			case c == '^':
				raised = true
			case raised:
				b.WriteRune(superscripts[c])
			case c >= '0' && c <= '9':
				b.WriteRune(subscripts[c-'0'])
			default:
				b.WriteRune(c)
			}
		}
		s = b.String()
	}
	if t.states {
		switch {
		case sp.Same(chem.Water):
			s += "(l)"
		case sp.Charge() != 0:
			s += "(aq)"
		}
	}
	return s
}

// number types a coefficient, as a fraction where it is one.
func number(n, over int64) string {
	if over < 2 || n%over == 0 {
		return fmt.Sprint(n / max(over, 1))
	}
	return fmt.Sprintf("%d/%d", n, over)
}

func typeEqn(e eqn, over int64, t typing, r *rand.Rand, half bool) string {
	if over > 1 {
		t.ones = false
	}
	gap := " "
	if t.tight {
		gap = ""
	}
	taken := int64(0)
	if n := e.on(onRight, chem.Electron); half && t.minus && n > 0 && e.on(onLeft, chem.Electron) == 0 && len(e[onRight]) > 1 {
		taken, e = n, e.with(onRight, chem.Electron, -n)
	}
	electrons := func(n int64) string {
		switch {
		case t.electron == "electrons" && n == max(over, 1):
			return "1 electron"
		case t.electron == "electrons":
			return number(n, over) + " electrons"
		case n == max(over, 1) && !t.ones:
			return t.electron
		}
		return number(n, over) + gap + t.electron
	}
	var sides [2]string
	for i, side := range e {
		side = slices.Clone(side)
		if t.shuffle && r != nil {
			r.Shuffle(len(side), func(a, b int) { side[a], side[b] = side[b], side[a] })
		}
		for k, x := range side {
			if k > 0 {
				sides[i] += " + " + t.spaces
			}
			switch {
			case x.sp.IsElectron():
				sides[i] += electrons(x.n)
			case x.n == max(over, 1) && !t.ones:
				sides[i] += typeSpecies(x.sp, t)
			case over > 1 && x.n%over != 0:
				sides[i] += number(x.n, over) + " " + typeSpecies(x.sp, t)
			default:
				sides[i] += number(x.n, over) + gap + typeSpecies(x.sp, t)
			}
		}
	}
	if taken > 0 {
		sides[0] += " - " + electrons(taken)
	}
	return sides[0] + t.arrow + sides[1]
}

// typed writes the text; at holds the number of the text's line for each line of
// the working, from 1.
func (w *gworking) typed(t typing, r *rand.Rand) (text string, at []int) {
	var out []string
	if t.question {
		out = append(out, "Question: "+w.q.text)
	}
	words := wordings[t.labels]
	last := 0
	for i, l := range w.lines {
		if l.half < 0 {
			last = i
		}
	}
	for i, l := range w.lines {
		if t.blank && i > 0 && l.half != w.lines[i-1].half {
			out = append(out, "")
		}
		if t.remark && i == len(w.lines)/2 {
			out = append(out, "now I check the charges")
		}
		label := words[3]
		switch {
		case l.half >= 0:
			k := 0
			if (w.q.half[l.half].role == redox.Reduction) != w.swap {
				k = 1
			}
			if label = words[k]; l.stage == "times" && words[2] != "" {
				name := []string{"oxidation", "reduction"}[k]
				label = strings.NewReplacer("%", name, "#", fmt.Sprint(l.by)).Replace(words[2])
			}
		case i == last:
			label = words[4]
		}
		if t.header && label != "" {
			if i == 0 || l.half != w.lines[i-1].half {
				out = append(out, strings.TrimRight(label, " "))
			}
			label = ""
		}
		line := label + typeEqn(l.e, l.over, t, r, l.half >= 0)
		if t.spaces != "" {
			line = t.spaces + line + t.spaces
		}
		if t.join != "" && i > 0 && l.half >= 0 && l.half == w.lines[i-1].half+1 && len(at) > 0 && at[i-1] == len(out) && l.stage == w.lines[i-1].stage {
			out[len(out)-1] += t.join + strings.TrimSpace(line)
		} else {
			out = append(out, line)
		}
		at = append(at, len(out))
	}
	end := "\n"
	if t.crlf {
		end = "\r\n"
	}
	return strings.Join(out, end), at
}

// A slipper writes a working with one slip of its kind; nil where the question
// offers none.
type slipper func(r *rand.Rand, g *gquestion, half int) *gworking

// inStage is a slip at one stage of one half, or of the whole for -1.
func inStage(g *gquestion, p plan, stages string, half int, change func(e eqn) (eqn, bool)) *gworking {
	p.mutate = func(stage string, k int, e eqn, by int64) (eqn, string) {
		if k != half || !slices.Contains(strings.Fields(stages), stage) {
			return e, ""
		}
		f, ok := change(e)
		if !ok || f.same(e) || len(f[0]) == 0 || len(f[1]) == 0 || g.holds(k, f) {
			return e, ""
		}
		return f, stage
	}
	return g.work(p)
}

// holds reports whether a statement is true by the rules of marking.md, told
// apart from the judge: a rung of the half, or the whole with atoms and charge.
func (g *gquestion) holds(half int, e eqn) bool {
	whole := g.whole
	if half >= 0 {
		if e.divided(e.factor()).same(g.half[half].bare) {
			return true
		}
		whole = g.half[half].whole
	}
	e = e.hydroxideFree()
	k := chem.Ratio{}
	var names []*chem.Species
	for _, x := range []eqn{e, whole} {
		for _, side := range x {
			for _, t := range side {
				names = append(names, t.sp)
			}
		}
	}
	for _, sp := range names {
		if isMedium(sp) {
			continue
		}
		if whole.net(sp) == 0 {
			if e.net(sp) != 0 {
				return false
			}
			continue
		}
		q := chem.NewRatio(e.net(sp), whole.net(sp))
		if k.Sign() != 0 && !k.Equal(q) || q.Sign() <= 0 {
			return false
		}
		k = q
	}
	is := func(sp *chem.Species) bool { return chem.Whole(e.net(sp)).Equal(k.Mul(chem.Whole(whole.net(sp)))) }
	none := func(sp *chem.Species) bool { return e.net(sp) == 0 }
	w, h, x := is(chem.Water), is(chem.Hydron), is(chem.Electron)
	switch {
	case w && h && x:
		return true
	case half < 0:
		return false
	case none(chem.Electron):
		return w && (h || none(chem.Hydron)) || none(chem.Water) && none(chem.Hydron)
	}
	// Electrons first.
	return x && none(chem.Water) && (none(chem.Hydron) || e.excess(0) == 0)
}

// careful draws a plan with lines enough to hold a slip.
func careful(r *rand.Rand, g *gquestion, rungs string) plan {
	p := somePlan(r, g)
	p.rungs, p.hydronium, p.factors = rungs, false, nil
	if g.base && p.base == "start" {
		p.base = "end"
	}
	p.stop = r.IntN(3) == 0
	return p
}

func pick[T any](r *rand.Rand, all []T) T { return all[r.IntN(len(all))] }

// shift moves a number of a species by one, or moves it to the other side.
func shift(r *rand.Rand, e eqn, sp *chem.Species) (eqn, bool) {
	for side := range e {
		if n := e.on(side, sp); n > 0 && e.on(1-side, sp) == 0 {
			d := int64(1)
			if n > 1 && r.IntN(2) == 0 {
				d = -1
			}
			return e.with(side, sp, d), true
		}
	}
	return e, false
}

func cross(e eqn, sp *chem.Species) (eqn, bool) {
	for side := range e {
		if n := e.on(side, sp); n > 0 && e.on(1-side, sp) == 0 {
			return e.with(side, sp, -n).with(1-side, sp, n), true
		}
	}
	return e, false
}

// swapSpecies puts one species in the place of another.
func swapSpecies(e eqn, from, to *chem.Species) eqn {
	e = e.clone()
	for _, side := range e {
		for i := range side {
			if side[i].sp.Same(from) {
				side[i].sp = to
			}
		}
	}
	return e
}

func species(text string) *chem.Species {
	all, err := chem.ReadSpecies(text, nil)
	if err != nil || len(all) == 0 || all[0].Species.String() != text {
		return nil
	}
	return all[0].Species
}

// alterations are the ways to change one subscript, or the charge, of a formula.
func alterations(sp *chem.Species, charge bool) (out []*chem.Species) {
	formula, _, _ := strings.Cut(sp.String(), "^")
	if charge {
		for c := sp.Charge() - 1; c <= sp.Charge()+1; c++ {
			if c == sp.Charge() {
				continue
			}
			if x, ok := chem.NewSpecies(sp.Formula(), c, chem.NoPhase); ok {
				out = append(out, x)
			}
		}
		return out
	}
	rest := strings.TrimPrefix(sp.String(), formula)
	for i, c := range formula {
		if c < '2' || c > '8' || i+1 < len(formula) && formula[i+1] >= '0' && formula[i+1] <= '9' || formula[i-1] >= '0' && formula[i-1] <= '9' || formula[i-1] == '.' {
			continue
		}
		for _, d := range []rune{c - 1, c + 1} {
			digit := string(d)
			if d == '1' {
				digit = ""
			}
			if x := species(formula[:i] + digit + formula[i+1:] + rest); x != nil {
				out = append(out, x)
			}
		}
	}
	if !strings.ContainsAny(formula, "0123456789([") {
		if x := species(formula + "2" + rest); x != nil {
			out = append(out, x)
		}
	}
	return out
}

// foreign reports whether a species is neither the question's nor another form
// of a substance in it.
func (g *gquestion) foreign(sp *chem.Species) bool {
	for _, t := range g.species {
		if t.Composition().Equal(sp.Composition()) && t.Charge() == sp.Charge() || isMedium(sp) {
			return false
		}
		// The same atoms besides oxygen and hydrogen, and a charge that H^+, H2O
		// and OH^- explain.
		if t.IsElectron() {
			continue
		}
		alike := true
		for el := chem.Element(2); el <= chem.MaxElement; el++ {
			alike = alike && (el == chem.O || t.Atoms(el) == sp.Atoms(el))
		}
		d := t.Charge() - sp.Charge() - (t.Atoms(chem.H) - sp.Atoms(chem.H)) + 2*(t.Atoms(chem.O)-sp.Atoms(chem.O))
		if alike && d == 0 && !t.Composition().Only(chem.O, chem.H) {
			return false
		}
	}
	return true
}

func altered(charge bool, kinds ...Kind) slipper {
	return func(r *rand.Rand, g *gquestion, half int) *gworking {
		h := g.half[half]
		side := r.IntN(2)
		if len(h.bare[side]) == 0 {
			return nil
		}
		old := pick(r, h.bare[side]).sp
		if isMedium(old) || charge && old.Charge() == 0 {
			return nil
		}
		var out []*chem.Species
		for _, x := range alterations(old, charge) {
			if g.foreign(x) {
				out = append(out, x)
			}
		}
		if len(out) == 0 {
			return nil
		}
		to := pick(r, out)
		p := careful(r, g, pick(r, []string{"ladder", "direct"}))
		stages := "bare"
		if p.rungs == "direct" || !h.ladder {
			stages = "charge"
			if p.base != "end" {
				return nil
			}
			p.stop = true
		} else if !charge && !h.atoms.same(h.bare) {
			stages = "atoms"
		}
		w := inStage(g, p, stages, half, func(e eqn) (eqn, bool) { return swapSpecies(e, old, to), true })
		if w == nil {
			return nil
		}
		w.plain, w.kinds = true, kinds
		// An altered formula that people know may be a stray as well.
		if rank, known := (lexicon{g.Question}).Rank(to); known || rank < 1000 {
			w.kinds = append(slices.Clone(kinds), StraySpecies)
		}
		return w
	}
}

// forgotten goes on from the bare half although its main atoms do not balance:
// the slip is the line after.
func forgotten(r *rand.Rand, g *gquestion, p plan, half int) *gworking {
	stop := p.stop
	p.stop, p.order = false, "first"
	p.mutate = func(stage string, k int, e eqn, _ int64) (eqn, string) {
		if stage != "atoms" || k != half {
			return e, ""
		}
		return g.half[k].bare, stage
	}
	w := g.work(p)
	if w == nil {
		return nil
	}
	i := w.slipLine()
	if i+1 >= len(w.lines) || w.lines[i+1].half != half || !strings.Contains("water hydron charge", w.lines[i+1].stage) || g.holds(half, w.lines[i+1].e) {
		return nil
	}
	w.lines[i].slip, w.lines[i+1].slip = false, true
	if w.kinds = []Kind{MainCoefficient}; stop {
		w.lines = w.lines[:i+2]
	}
	return w
}

// helperSlip is a slip of a helper's number or side at its own rung, or in the
// finished half, where the other numbers stay right.
func helperSlip(stage string, sp *chem.Species, aside bool, kind Kind) slipper {
	return func(r *rand.Rand, g *gquestion, half int) *gworking {
		p := careful(r, g, pick(r, []string{"ladder", "ladder", "direct", "electrons"}))
		at := stage
		if p.rungs == "electrons" { // electrons, then charge by hydrogen ions, then water
			at = map[string]string{"water": "charge", "hydron": "hydron", "charge": "electrons"}[stage]
			p.stop = true
		} else if !g.base {
			p.hydronium = r.IntN(5) == 0
		}
		if p.rungs == "direct" || !g.half[half].ladder {
			if p.rungs == "electrons" && at != "charge" {
				return nil // such a half is written in one go
			}
			at = "charge"
			p.stop = true
			if g.base && p.base != "end" || !g.half[half].ladder && at != stage && g.half[half].bare.net(sp) != 0 {
				return nil
			}
		}
		if aside && at == "charge" {
			p.stop = true
		}
		w := inStage(g, p, at, half, func(e eqn) (eqn, bool) {
			if aside {
				return cross(e, sp)
			}
			return shift(r, e, sp)
		})
		if w != nil {
			w.kinds = []Kind{kind}
			if l := w.lines[w.slipLine()]; g.reversedHolds(l) {
				return nil // turned round, the same line is right
			}
		}
		return w
	}
}

func (g *gquestion) reversedHolds(l gline) bool {
	return l.half >= 0 && g.holds(l.half, l.e.reversed())
}

// wholeSlip is a slip in a line of the whole.
func wholeSlip(stages string, set func(*plan), kinds []Kind, change func(r *rand.Rand, g *gquestion, e eqn) (eqn, bool)) slipper {
	return func(r *rand.Rand, g *gquestion, half int) *gworking {
		p := careful(r, g, pick(r, []string{"ladder", "direct"}))
		p.sum, p.steps, p.base = true, true, "end"
		if set != nil {
			set(&p)
		}
		w := inStage(g, p, stages, -1, func(e eqn) (eqn, bool) { return change(r, g, e) })
		if w != nil {
			w.kinds = kinds
		}
		return w
	}
}

// stopsAt is a working whose last line is a true one that is not the answer.
func stopsAt(last string, base bool, kinds ...Kind) slipper {
	return func(r *rand.Rand, g *gquestion, half int) *gworking {
		if g.base != base {
			return nil
		}
		p := careful(r, g, pick(r, []string{"ladder", "direct", "final"}))
		p.stop, p.sum, p.steps, p.base, p.last = false, true, true, "end", last
		w := g.work(p)
		if w == nil || len(w.lines) == 0 {
			return nil
		}
		l := &w.lines[len(w.lines)-1]
		if l.stage != last || l.e.same(g.answer()) || slices.Equal(kinds, []Kind{HydrogenInBase}) && l.e.on(0, chem.Hydron)+l.e.on(1, chem.Hydron) == 0 {
			return nil
		}
		l.slip, w.kinds = true, kinds
		return w
	}
}

// inBase is a wrong number in a half finished with hydroxide ions.
func inBase(r *rand.Rand, g *gquestion, half int) *gworking {
	if !g.base {
		return nil
	}
	p := careful(r, g, pick(r, []string{"ladder", "direct"}))
	p.base = pick(r, []string{"halves", "start"})
	sp := pick(r, []*chem.Species{chem.Hydroxide, chem.Water, chem.Electron})
	aside := r.IntN(3) == 0
	w := inStage(g, p, "charge-base hydroxide", half, func(e eqn) (eqn, bool) {
		if aside {
			return cross(e, sp)
		}
		return shift(r, e, sp)
	})
	if w == nil || g.reversedHolds(w.lines[w.slipLine()]) {
		return nil
	}
	switch {
	case sp.IsElectron():
		w.kinds = []Kind{ElectronCount, ElectronSide}
	default:
		w.kinds = []Kind{WaterCount, WaterSide, HydrogenCount, HydrogenSide, HydroxideOneSide}
	}
	return w
}

// onlyLine is a wrong number in the only line.
func onlyLine(r *rand.Rand, g *gquestion, half int) *gworking {
	e := g.answer().clone()
	side := r.IntN(2)
	i := r.IntN(len(e[side]))
	t := &e[side][i]
	if d := pick(r, []int64{1, -1}); t.n+d > 0 {
		t.n += d
	}
	ones := true
	for _, side := range e {
		for _, t := range side {
			ones = ones && t.n == 1
		}
	}
	if ones || e.same(g.answer()) || g.holds(-1, e) {
		return nil
	}
	kinds := []Kind{SumSlip}
	switch {
	case t.sp.Same(chem.Water):
		kinds = append(kinds, WaterCount)
	case t.sp.Same(chem.Hydron):
		kinds = append(kinds, HydrogenCount)
	case t.sp.Same(chem.Hydroxide):
		kinds = append(kinds, HydrogenCount, WaterCount, HydroxideOneSide)
	default:
		kinds = append(kinds, MainCoefficient)
		if e.excess(0) != 0 {
			kinds = append(kinds, ChargeUnbalanced)
		}
	}
	return &gworking{q: g, lines: []gline{{half: -1, stage: "final", e: e, slip: true}}, kinds: kinds}
}

// slippers has the slips by kind.
func slippers() map[Kind]slipper {
	oneOf := func(s slipper, more ...slipper) slipper {
		all := append([]slipper{s}, more...)
		return func(r *rand.Rand, g *gquestion, half int) *gworking { return pick(r, all)(r, g, half) }
	}
	mains := func(e eqn) (out [][2]int) {
		for side := range e {
			for i, t := range e[side] {
				if !isMedium(t.sp) {
					out = append(out, [2]int{side, i})
				}
			}
		}
		return out
	}
	m := map[Kind]slipper{
		MainCoefficient: func(r *rand.Rand, g *gquestion, half int) *gworking {
			p := careful(r, g, "ladder")
			if r.IntN(3) == 0 {
				return forgotten(r, g, p, half)
			}
			w := inStage(g, p, "atoms", half, func(e eqn) (eqn, bool) {
				x := pick(r, mains(e))
				d := pick(r, []int64{1, -1})
				if e[x[0]][x[1]].n+d < 1 {
					return e, false
				}
				e = e.clone()
				e[x[0]][x[1]].n += d
				for el := chem.Element(2); el <= chem.MaxElement; el++ {
					if el != chem.O && e.excess(el) != 0 {
						return e, true
					}
				}
				return e, false
			})
			if w != nil {
				w.kinds = []Kind{MainCoefficient}
			}
			return w
		},
		SubscriptAltered: altered(false, SubscriptAltered),
		ChargeMiscopied:  altered(true, ChargeMiscopied),
		OxygenWithoutWater: func(r *rand.Rand, g *gquestion, half int) *gworking {
			if g.base {
				return nil
			}
			instead := pick(r, []*chem.Species{chem.Hydroxide, species("O2"), species("O")})
			p := careful(r, g, "ladder")
			p.stop = true
			w := inStage(g, p, "water", half, func(e eqn) (eqn, bool) {
				n := e.net(chem.Water)
				per := instead.Atoms(chem.O)
				if n%per != 0 || slices.ContainsFunc(g.species[firstOwn:], instead.Same) || e.both(chem.Water) {
					return e, false
				}
				return e.put(chem.Water, -n).cancelled().put(instead, n/per), true
			})
			if w != nil {
				if w.plain, w.kinds = true, []Kind{OxygenWithoutWater}; !instead.Same(chem.Hydroxide) {
					w.kinds = append(w.kinds, StraySpecies)
				}
			}
			return w
		},
		WaterSide:     helperSlip("water", chem.Water, true, WaterSide),
		WaterCount:    helperSlip("water", chem.Water, false, WaterCount),
		HydrogenSide:  helperSlip("hydron", chem.Hydron, true, HydrogenSide),
		HydrogenCount: helperSlip("hydron", chem.Hydron, false, HydrogenCount),
		ElectronSide:  helperSlip("charge", chem.Electron, true, ElectronSide),
		ElectronCount: helperSlip("charge", chem.Electron, false, ElectronCount),
		ElectronsMissing: func(r *rand.Rand, g *gquestion, half int) *gworking {
			if len(g.half) != 2 {
				return nil
			}
			p := careful(r, g, pick(r, []string{"ladder", "direct"}))
			p.stop, p.lacking, p.times, p.sum, p.base, p.last = false, 1+r.IntN(3), false, true, "end", "sum"
			p.factors = []int64{1, 1}
			w := g.work(p)
			if w == nil || w.lines[len(w.lines)-1].half >= 0 {
				return nil
			}
			l := &w.lines[len(w.lines)-1]
			l.slip = true
			w.kinds = []Kind{ElectronsMissing, ElectronsKept, UnequalElectrons}
			if p.lacking == 3 {
				w.kinds = []Kind{ElectronsMissing, ChargeUnbalanced, UnequalElectrons}
			}
			if g.holds(-1, l.e) || l.e.excess(0) == 0 {
				return nil
			}
			return w
		},
		UnequalElectrons: func(r *rand.Rand, g *gquestion, half int) *gworking {
			if len(g.half) != 2 {
				return nil
			}
			a, b := g.half[0].whole.net(chem.Electron), -g.half[1].whole.net(chem.Electron)
			if a == b {
				return nil
			}
			p := careful(r, g, pick(r, []string{"ladder", "direct"}))
			p.times, p.sum, p.base = true, r.IntN(2) == 0, "end"
			p.unequal, p.factors = true, []int64{1, 1}
			own, other := []int64{a, b}[half], []int64{b, a}[half]
			// A wrong multiplier, or none.
			if k := int64(2 + r.IntN(2)); r.IntN(2) == 0 && own*k%other != 0 {
				p.factors[half] = k
				p.mutate = func(stage string, i int, e eqn, by int64) (eqn, string) {
					if stage == "times" && i == half {
						return e, stage
					}
					return e, ""
				}
				p.stop = true
				w := g.work(p)
				if w != nil {
					w.kinds = []Kind{UnequalElectrons}
				}
				return w
			}
			p.sum = false
			p.last = "cancel"
			p.mutate = func(stage string, i int, e eqn, by int64) (eqn, string) {
				if stage != "cancel" && stage != "final" || i >= 0 {
					return e, ""
				}
				return e.put(chem.Electron, -e.net(chem.Electron)).cancelled(), stage
			}
			p.stop = true
			if w := g.work(p); w != nil && !g.holds(-1, w.lines[len(w.lines)-1].e) {
				w.kinds = []Kind{UnequalElectrons, ChargeUnbalanced}
				return w
			}
			return nil
		},
		PartMultiplied: func(r *rand.Rand, g *gquestion, half int) *gworking {
			p := careful(r, g, pick(r, []string{"ladder", "direct"}))
			p.times, p.base = true, "end"
			left := chem.Electron
			p.mutate = func(stage string, i int, e eqn, k int64) (eqn, string) {
				if stage != "times" || i != half || len(e[0])+len(e[1]) < 3 {
					return e, ""
				}
				side := r.IntN(2)
				x := r.IntN(len(e[side]))
				f := e.clone()
				f[side][x].n /= k
				left = f[side][x].sp
				if g.holds(i, f) {
					return e, ""
				}
				return f, stage
			}
			w := g.work(p)
			if w == nil {
				return nil
			}
			w.kinds = []Kind{PartMultiplied}
			switch {
			case left.IsElectron():
				w.kinds = append(w.kinds, ElectronCount)
			case left.Same(chem.Water):
				w.kinds = append(w.kinds, WaterCount)
			case left.Same(chem.Hydron):
				w.kinds = append(w.kinds, HydrogenCount)
			default:
				w.kinds = append(w.kinds, MainCoefficient)
			}
			return w
		},
		ElectronsKept: oneOf(stopsAt("sum", false, ElectronsKept, UnevenCancel), stopsAt("sum", true, ElectronsKept, UnevenCancel, HydrogenInBase),
			wholeSlip("cancel final", func(p *plan) { p.stop = true }, []Kind{ElectronsKept, UnevenCancel}, func(r *rand.Rand, g *gquestion, e eqn) (eqn, bool) {
				return e.with(r.IntN(2), chem.Electron, g.half[0].whole.net(chem.Electron)*g.half[0].times), true
			})),
		UnevenCancel: func(r *rand.Rand, g *gquestion, half int) *gworking {
			p := careful(r, g, pick(r, []string{"ladder", "direct"}))
			p.sum, p.base, p.steps = true, "end", true
			var sum eqn
			p.mutate = func(stage string, i int, e eqn, by int64) (eqn, string) {
				if stage == "sum" {
					sum = e
				}
				if stage != "cancel" && stage != "final" || sum[0] == nil {
					return e, ""
				}
				for _, sp := range []*chem.Species{chem.Water, chem.Hydron} {
					if !sum.both(sp) {
						continue
					}
					side := r.IntN(2)
					f := e
					if n := e.on(side, sp); n > 0 {
						f = e.with(side, sp, sum.on(side, sp)-n)
					} else {
						f = e.with(side, sp, min(1, sum.on(side, sp)))
					}
					if !f.same(e) {
						return f, stage
					}
				}
				return e, ""
			}
			w := g.work(p)
			if w != nil {
				w.kinds = []Kind{UnevenCancel, SumSlip}
			}
			return w
		},
		SumSlip: wholeSlip("sum", nil, []Kind{SumSlip, UnevenCancel}, func(r *rand.Rand, g *gquestion, e eqn) (eqn, bool) {
			for _, sp := range []*chem.Species{chem.Water, chem.Hydron} {
				if n := e.on(0, sp); n > 1 {
					return e.with(0, sp, pick(r, []int64{1, -1})), true
				}
			}
			side := r.IntN(2)
			i := r.IntN(len(e[side]))
			if e[side][i].sp.IsElectron() || e[side][i].n < 2 {
				return e, false
			}
			e = e.clone()
			e[side][i].n--
			return e, true
		}),
		ChargeUnbalanced: func(r *rand.Rand, g *gquestion, half int) *gworking {
			if len(g.half) != 2 {
				return nil
			}
			a, b := g.half[0].whole, g.half[1].whole
			e := a.plus(b.times(int64(1 + r.IntN(2))))
			e = e.put(chem.Electron, -e.net(chem.Electron)).cancelled()
			if g.base {
				e = e.based().combined().cancelled()
			}
			e = e.divided(e.factor())
			if e.excess(0) == 0 || g.holds(-1, e) || len(e[0]) == 0 || len(e[1]) == 0 {
				return nil
			}
			ones := true
			for _, side := range e {
				for _, t := range side {
					ones = ones && t.n == 1 && !isMedium(t.sp)
				}
			}
			if ones {
				return nil // the question, copied
			}
			return &gworking{q: g, lines: []gline{{half: -1, stage: "final", e: e, slip: true}}, kinds: []Kind{ChargeUnbalanced, SumSlip, UnequalElectrons}}
		},
		NotLowest: func(r *rand.Rand, g *gquestion, half int) *gworking {
			p := careful(r, g, pick(r, []string{"ladder", "direct", "final"}))
			p.stop = true
			p.mutate = func(stage string, k int, e eqn, by int64) (eqn, string) {
				if (stage != "final") || !e.same(g.answer()) {
					return e, ""
				}
				return e.times(pick(r, []int64{2, 3})), stage
			}
			w := g.work(p)
			if w != nil {
				w.kinds = []Kind{NotLowest}
			}
			return w
		},
		HydrogenInBase: stopsAt("cancel", true, HydrogenInBase),
		HydroxideOneSide: wholeSlip("based", nil, []Kind{HydroxideOneSide}, func(r *rand.Rand, g *gquestion, e eqn) (eqn, bool) {
			side := r.IntN(2)
			return e.with(side, chem.Hydroxide, -e.on(side, chem.Hydroxide)), true
		}),
		WaterUncombined: oneOf(stopsAt("combined", true, WaterUncombined, UnevenCancel), stopsAt("based", true, WaterUncombined, HydrogenInBase),
			func(r *rand.Rand, g *gquestion, half int) *gworking {
				if g.answer().net(chem.Water) == 0 {
					return nil
				}
				e := g.answer().with(0, chem.Water, 1).with(1, chem.Water, 1)
				return &gworking{q: g, lines: []gline{{half: -1, stage: "final", e: e, slip: true}}, kinds: []Kind{WaterUncombined, UnevenCancel}}
			}),
		StraySpecies: func(r *rand.Rand, g *gquestion, half int) *gworking {
			stray := species(pick(r, []string{"Na^+", "K^+", "Ag^+", "CO2", "N2", "Cl^-"}))
			for _, sp := range g.species[firstOwn:] {
				for _, c := range stray.Composition() {
					if c.Element != chem.O && sp.Atoms(c.Element) > 0 {
						return nil
					}
				}
			}
			p := careful(r, g, pick(r, []string{"ladder", "direct"}))
			p.stop = true
			w := inStage(g, p, pick(r, []string{"bare", "charge", "final", "sum"}), pick(r, []int{half, -1}), func(e eqn) (eqn, bool) {
				return e.with(r.IntN(2), stray, 1), true
			})
			if w != nil {
				w.kinds = []Kind{StraySpecies}
			}
			return w
		},
		TermLost: func(r *rand.Rand, g *gquestion, half int) *gworking {
			p := careful(r, g, pick(r, []string{"ladder", "ladder", "direct"}))
			p.stop, p.base, p.sum = true, "end", true
			lose := func(e eqn) (eqn, bool) {
				side := r.IntN(2)
				i := r.IntN(len(e[side]))
				sp := e[side][i].sp
				if sp.IsElectron() || len(e[side]) < 2 || e.both(sp) {
					return e, false
				}
				return e.with(side, sp, -e[side][i].n), true
			}
			stage, at := "times", half
			switch r.IntN(3) {
			case 0:
				stage, at = "sum", -1
			case 1: // water or hydrogen ions, on going to the next rung
				w := inStage(g, p, "charge", half, lose)
				if w == nil || !g.half[half].ladder || p.rungs != "ladder" {
					return nil
				}
				w.kinds = []Kind{TermLost}
				if g.reversedHolds(w.lines[w.slipLine()]) {
					return nil
				}
				return w
			}
			p.times = true
			w := inStage(g, p, stage, at, lose)
			if w != nil {
				if w.kinds = []Kind{TermLost}; at < 0 {
					w.kinds = append(w.kinds, SumSlip)
				}
			}
			return w
		},
		LabelsSwapped: func(r *rand.Rand, g *gquestion, half int) *gworking {
			p := careful(r, g, pick(r, []string{"ladder", "direct"}))
			p.swap, p.stop = true, false
			w := g.work(p)
			if w == nil || len(w.lines) == 0 || w.lines[0].half < 0 {
				return nil
			}
			w.lines[0].slip, w.kinds = true, []Kind{LabelsSwapped}
			return w
		},
		Backwards: func(r *rand.Rand, g *gquestion, half int) *gworking {
			p := careful(r, g, pick(r, []string{"ladder", "direct", "final"}))
			p.stop = true
			stages, at := "bare charge", half
			if p.base != "end" {
				stages = "bare"
			}
			if r.IntN(3) == 0 || p.rungs == "final" {
				stages, at = "final", -1
			}
			w := inStage(g, p, stages, at, func(e eqn) (eqn, bool) { return e.reversed(), true })
			if w != nil {
				w.kinds = []Kind{Backwards}
			}
			return w
		},
	}
	m["(in base)"], m["(one line)"] = inBase, onlyLine
	return m
}
