package marking

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"halves/chem"
)

// A Route is one slip that a working could have, carried through to the end: the
// lines as a student would write them, which of them slips, and what comes out.
type Route struct {
	Kind   Kind
	Line   int      // of Lines, from 1: the one that slips
	Lines  []string // finished halves, multiplied halves, the sum, the answer
	Answer string   // the last line
	Marks  int      // by the usual scheme
	OutOf  int
}

// Routes are the usual single slips of a question, in the order of the method:
// the slip map of a marker's desk. Each was judged: its kind is the verdict on
// its lines, and routes that end at the right answer are left out.
func (q *Question) Routes() []Route {
	var out []Route
	seen := map[string]bool{}
	for _, lines := range q.routes() {
		text := strings.Join(lines, "\n")
		r := q.Judge(text)
		if r.FirstSlip == 0 || r.FinalCorrect || seen[text] {
			continue
		}
		seen[text] = true
		m := r.Mark(q.Scheme())
		out = append(out, Route{Kind: r.Kind, Line: r.FirstSlip, Lines: lines, Answer: lines[len(lines)-1], Marks: m.Earned, OutOf: m.OutOf})
	}
	return out
}

// FromAnswer returns the routes that lead to an answer, those that cost least
// first; nil for one that no single slip of ours leads to. An answer is a whole
// equation, or one wrong coefficient with its species: "7 H2O". The error says that
// the line is neither; it is nil, with no route, for the right answer.
func (q *Question) FromAnswer(line string) ([]Route, error) {
	if from, _ := arrowAt(line); from < 0 {
		return q.fromCoefficient(line)
	}
	r := q.Judge("final answer: " + line)
	if r.working == nil || r.working.answer == nil {
		return nil, fmt.Errorf("%q is no whole equation of this question", line)
	}
	if r.FinalCorrect {
		return nil, nil
	}
	given := r.working.answer
	var out []Route
	for _, x := range q.Routes() {
		if sameAnswer(q, x.Answer, given) {
			out = append(out, x)
		}
	}
	slices.SortStableFunc(out, func(a, b Route) int { return cmp.Compare(b.Marks, a.Marks) })
	return out, nil
}

// fromCoefficient returns the routes whose answer has a species as often as told.
func (q *Question) fromCoefficient(text string) ([]Route, error) {
	w := &working{q: q, book: slices.Clip(slices.Clone(q.species))}
	s := w.statement(piece{equation: text + " -> H2O"}, 0)
	if s == nil || len(s.wrote[0]) != 1 || s.wrote[0][0].species >= len(q.species) {
		return nil, fmt.Errorf("%q is no whole equation of this question, nor a coefficient with a species of it", strings.TrimSpace(text))
	}
	want := s.wrote[0][0]
	var out []Route
	for _, x := range q.Routes() {
		answer := q.Judge(x.Answer).working.answer
		for _, side := range answer.wrote {
			if on(side, want.species).Equal(want.n) {
				out = append(out, x)
				break
			}
		}
	}
	slices.SortStableFunc(out, func(a, b Route) int { return cmp.Compare(b.Marks, a.Marks) })
	return out, nil
}

// sameAnswer reports whether a line has the terms of a statement.
func sameAnswer(q *Question, line string, s *judged) bool {
	w := q.Judge("final answer: " + line).working
	if w == nil || w.answer == nil {
		return false
	}
	for n := range 2 {
		a, b := terms(w.answer.wrote[n]), terms(s.wrote[n])
		if !slices.EqualFunc(a, b, func(x, y term) bool { return x.species == y.species && x.n.Equal(y.n) }) {
			return false
		}
	}
	return true
}

// terms adds up the terms of a side, by species.
func terms(side []term) []term {
	var out []term
	for _, t := range side {
		if i := slices.IndexFunc(out, func(x term) bool { return x.species == t.species }); i >= 0 {
			out[i].n = out[i].n.Add(t.n)
		} else {
			out = append(out, t)
		}
	}
	slices.SortFunc(out, func(a, b term) int { return cmp.Compare(a.species, b.species) })
	return out
}

// routes writes workings with one slip each, and carries it through.
func (q *Question) routes() [][]string {
	var out [][]string
	if len(q.halves) != 2 {
		return nil
	}
	w := &working{q: q, book: slices.Clip(slices.Clone(q.species))}
	right := [2][]chem.Ratio{q.padded(q.halves[0].vector), q.padded(q.halves[1].vector)}
	// Slips within a half: a helper of the wrong number or on the wrong side, a
	// main coefficient left at one; what comes after it is balanced anew.
	for k := range right {
		for i := range right[k] {
			n := right[k][i]
			if n.Sign() == 0 {
				continue
			}
			one := chem.Whole(1)
			tries := []chem.Ratio{n.Add(one), n.Sub(one), n.Neg(), chem.Ratio{}}
			if i >= firstOwn {
				tries = []chem.Ratio{chem.Whole(int64(n.Sign()))}
			}
			for _, to := range tries {
				if to.Equal(n) {
					continue
				}
				v := slices.Clone(right[k])
				v[i] = to
				w.rebalance(v, i)
				halves := right
				halves[k] = v
				out = append(out, w.carry(halves, nil)...)
			}
		}
	}
	// Slips in putting the halves together.
	e := [2]chem.Ratio{magnitude(right[0][electron]), magnitude(right[1][electron])}
	for _, times := range [][2]chem.Ratio{{chem.Whole(1), chem.Whole(1)}, {e[0], e[1]}, {e[1], chem.Whole(1)}, {chem.Whole(1), e[0]}} {
		out = append(out, w.carry(right, &times)...)
	}
	return append(out, w.slipsOfSum(right)...)
}

func (q *Question) padded(v []chem.Ratio) []chem.Ratio {
	out := make([]chem.Ratio, len(q.species))
	copy(out, v)
	return out
}

// rebalance balances what comes after species i in the method: water after the
// main species, hydrogen ions after water, electrons after hydrogen ions.
func (w *working) rebalance(v []chem.Ratio, i int) {
	s := &statement{vector: v}
	set := func(j int, e chem.Element, each int64) {
		v[j] = v[j].Sub(w.residual(s, e).Quo(chem.Whole(each)))
	}
	if i >= firstOwn {
		set(water, chem.O, 1)
	}
	if i >= firstOwn || i == water {
		set(hydron, chem.H, 1)
	}
	if i != electron {
		set(electron, 0, -1)
	}
}

// multipliers returns what makes the electrons of two halves equal.
func multipliers(halves [2][]chem.Ratio) (out [2]chem.Ratio, ok bool) {
	a, b := magnitude(halves[0][electron]), magnitude(halves[1][electron])
	if a.Sign() == 0 || b.Sign() == 0 || halves[0][electron].Sign() == halves[1][electron].Sign() || !a.IsWhole() || !b.IsWhole() {
		return out, false
	}
	l, ok := chem.LCM(a.Num(), b.Num())
	return [2]chem.Ratio{chem.Whole(l).Quo(a), chem.Whole(l).Quo(b)}, ok
}

// carry writes a working from two finished halves: multiplied by times, or by what
// makes the electrons equal; added; in base with hydroxide ions.
func (w *working) carry(halves [2][]chem.Ratio, times *[2]chem.Ratio) [][]string {
	m, ok := multipliers(halves)
	if times != nil {
		m, ok = *times, true
	}
	if !ok {
		return nil
	}
	lines := []string{w.write(halves[0], false), w.write(halves[1], false)}
	total := make([]chem.Ratio, len(halves[0]))
	for k, h := range halves {
		v := make([]chem.Ratio, len(h))
		for i, n := range h {
			v[i] = n.Mul(m[k])
			total[i] = total[i].Add(v[i])
		}
		if !m[k].Equal(chem.Whole(1)) {
			lines = append(lines, w.write(v, false))
		}
	}
	total[electron] = zero // as who adds them without looking does
	return [][]string{append(lines, w.inMedium(total)...)}
}

// inMedium writes the sum, and in base what becomes of it.
func (w *working) inMedium(total []chem.Ratio) []string {
	if !w.q.inBase() || total[hydron].Sign() == 0 {
		return []string{"final answer: " + w.write(total, false)}
	}
	v := slices.Clone(total)
	h := v[hydron]
	v[hydron], v[water], v[hydroxide] = zero, v[water].Add(h), v[hydroxide].Sub(h)
	return []string{"sum: " + w.write(total, false), "final answer: " + w.write(v, false)}
}

// slipsOfSum writes workings whose halves are right and whose sum is not.
func (w *working) slipsOfSum(halves [2][]chem.Ratio) [][]string {
	m, ok := multipliers(halves)
	if !ok {
		return nil
	}
	base := w.carry(halves, nil)[0]
	end := 1
	if w.q.inBase() && strings.HasPrefix(base[len(base)-2], "sum: ") {
		end = 2
	}
	lines := base[:len(base)-end]
	total := make([]chem.Ratio, len(halves[0]))
	for k, h := range halves {
		for i, n := range h {
			total[i] = total[i].Add(n.Mul(m[k]))
		}
	}
	var out [][]string
	add := func(answer ...string) { out = append(out, slices.Concat(lines, answer)) }
	double := make([]chem.Ratio, len(total))
	for i, n := range total {
		double[i] = n.Add(n)
	}
	add("final answer: " + w.write(w.mediumOf(double), false))
	// What stands on both sides was taken from one of them alone.
	for i := water; i <= electron; i++ {
		a, b := halves[0][i].Mul(m[0]), halves[1][i].Mul(m[1])
		if a.Sign()*b.Sign() >= 0 {
			continue
		}
		for _, n := range []chem.Ratio{a, b} {
			v := slices.Clone(total)
			v[i] = n
			add(w.inMedium(v)...)
		}
	}
	if w.q.inBase() && total[hydron].Sign() != 0 {
		add("final answer: " + w.write(total, false)) // left as in acid
		v := slices.Clone(total)
		v[water], v[hydron] = v[water].Add(v[hydron]), zero // hydroxide on the side of the hydrogen ions alone
		add("sum: "+w.write(total, false), "final answer: "+w.write(v, false))
	}
	return out
}

// mediumOf writes a sum in the medium of the question.
func (w *working) mediumOf(total []chem.Ratio) []chem.Ratio {
	if !w.q.inBase() {
		return total
	}
	v := slices.Clone(total)
	h := v[hydron]
	v[hydron], v[water], v[hydroxide] = zero, v[water].Add(h), v[hydroxide].Sub(h)
	return v
}
