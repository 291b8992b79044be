package balance

import (
	"errors"
	"fmt"
	"math/big"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"halves/checks"
	"halves/chem"
	"halves/reference"
)

func equation(t testing.TB, text string) chem.Equation {
	t.Helper()
	readings, err := chem.ReadEquation(text, reference.Species())
	if err != nil {
		t.Fatalf("ReadEquation(%s): %v", text, err)
	}
	return readings.All[0].Equation
}

// problem is the skeleton with what its medium lets in. What the skeleton
// names already is not free.
func problem(t testing.TB, skeleton, medium string) Problem {
	t.Helper()
	e := equation(t, skeleton)
	var p Problem
	for _, x := range e.Left {
		p.Left = append(p.Left, x.Species)
	}
	for _, x := range e.Right {
		p.Right = append(p.Right, x.Species)
	}
	free := map[string][]*chem.Species{
		"acidic":  {chem.Water, chem.Hydron},
		"basic":   {chem.Water, chem.Hydroxide},
		"neutral": {chem.Water, chem.Hydron},
	}[medium]
	for _, s := range free {
		if !slices.ContainsFunc(e.Species(), s.Same) {
			p.Free = append(p.Free, s)
		}
	}
	return p
}

func (p Problem) all() []*chem.Species { return slices.Concat(p.Left, p.Right, p.Free) }

// matrix counts atoms and charge by Composition: elements in any order, then
// charge, then the extra laws.
func (p Problem) matrix() [][]int64 {
	var m [][]int64
	for z := chem.Element(1); z <= chem.MaxElement; z++ {
		row := make([]int64, len(p.all()))
		for j, s := range p.all() {
			row[j] = s.Atoms(z)
		}
		if slices.ContainsFunc(row, func(x int64) bool { return x != 0 }) {
			m = append(m, row)
		}
	}
	charge := make([]int64, len(p.all()))
	for j, s := range p.all() {
		charge[j] = s.Charge()
	}
	return append(append(m, charge), p.Extra...)
}

// write prints a vector as an equation, species in the order of the problem.
func (p Problem) write(v []int64) string {
	var left, right []string
	for j, s := range p.all() {
		n, side := v[j], &right
		if n < 0 {
			n, side = -n, &left
		}
		switch n {
		case 0:
		case 1:
			*side = append(*side, s.String())
		default:
			*side = append(*side, fmt.Sprint(n, " ", s))
		}
	}
	return strings.Join(left, " + ") + " -> " + strings.Join(right, " + ")
}

// vector is an equation as a vector over the species of the problem.
func (p Problem) vector(t testing.TB, e chem.Equation) []int64 {
	t.Helper()
	v := make([]int64, len(p.all()))
	for side, term := range e.Terms {
		j := slices.IndexFunc(p.all(), term.Species.Same)
		if j < 0 || !term.Coefficient.IsWhole() {
			t.Fatalf("%s: %s is not in the problem", e, term.Species)
		}
		v[j] += side * term.Coefficient.Num()
	}
	return v
}

// onSides reports whether v uses each species on its own side, or some only.
func (p Problem) onSides(v []int64, every bool) bool {
	for j := range len(p.Left) + len(p.Right) {
		x := v[j]
		if j < len(p.Left) {
			x = -x
		}
		if x < 0 || every && x == 0 {
			return false
		}
	}
	return true
}

func solve(t testing.TB, p Problem) Outcome {
	t.Helper()
	o, err := Solve(p)
	if err != nil {
		t.Fatalf("Solve: %v", err)
	}
	return o
}

// TestSolveEquations: every row of checks/equations.jsonl whose null space has
// one dimension is solved, and the printed answer of the others lies in theirs.
func TestSolveEquations(t *testing.T) {
	unique, several := 0, 0
	for _, r := range checks.Equations() {
		p := problem(t, r.Skeleton, r.Medium)
		answer := equation(t, r.Answer)
		// Water and hydrogen ions that the skeleton names are recomputed in
		// package redox; here they would be bound to their side.
		for _, s := range answer.Species() {
			if !slices.ContainsFunc(p.all(), s.Same) {
				p.Free = append(p.Free, s)
			}
		}
		want := p.vector(t, answer)
		if !annihilates(p.matrix(), want) {
			t.Errorf("%s: %s is not balanced", r.ID, r.Answer)
			continue
		}
		o := solve(t, p)
		switch {
		case o.Nullity != len(want)-rank(p.matrix()):
			t.Errorf("%s: Solve(%s) has nullity %d, want %d species - rank %d", r.ID, r.Skeleton, o.Nullity, len(want), rank(p.matrix()))
		case o.Answer != nil:
			unique++
			if !slices.Equal(o.Answer, want) {
				t.Errorf("%s: Solve(%s) = %s, want %s", r.ID, r.Skeleton, p.write(o.Answer), r.Answer)
			}
		case o.Cause != nil:
			// Only a species that cancels out of the answer may be missed.
			if p.onSides(want, true) {
				t.Errorf("%s: Solve(%s) finds no answer (%+v), want %s", r.ID, r.Skeleton, *o.Cause, r.Answer)
			}
		default:
			several++
			if o.Nullity < 2 {
				t.Errorf("%s: Solve(%s) has several answers and nullity %d", r.ID, r.Skeleton, o.Nullity)
			}
		}
	}
	if unique < 130 {
		t.Errorf("%d rows with one answer, %d with several: fewer than 130 with one", unique, several)
	}
}

// TestSolveAmbiguous: rows of checks/ambiguous.jsonl. The elementary equations
// are those that a search through all subsets of species finds.
func TestSolveAmbiguous(t *testing.T) {
	for _, r := range checks.Ambiguous() {
		p := problem(t, r.Skeleton, r.Medium)
		o := solve(t, p)
		if o.Nullity != r.Nullity || o.Answer != nil || o.Cause != nil {
			t.Errorf("%s: Solve(%s) has nullity %d, answer %v, cause %v; want nullity %d and several answers", r.ID, r.Skeleton, o.Nullity, o.Answer, o.Cause, r.Nullity)
			continue
		}
		if got, want := texts(p, o.Elementary), texts(p, subsets(p)); !o.Complete || !slices.Equal(got, want) {
			t.Errorf("%s: Solve(%s) is elementary in\n%s\nwant\n%s", r.ID, r.Skeleton, strings.Join(got, "\n"), strings.Join(want, "\n"))
		}
		elementaryLaws(t, p, o)

		var published [][]int64
		for _, e := range r.Examples {
			v := p.vector(t, equation(t, e))
			if !annihilates(p.matrix(), v) || !p.onSides(v, true) {
				t.Errorf("%s: the example %s does not lie in the null space", r.ID, e)
			}
			published = append(published, v)
		}
		for _, b := range r.Basis {
			v := make([]int64, len(b))
			for k, name := range r.Species {
				readings, err := chem.ReadSpecies(name, reference.Species())
				if err != nil {
					t.Fatal(err)
				}
				v[slices.IndexFunc(p.all(), readings[0].Species.Same)] = b[k]
			}
			if !annihilates(p.matrix(), v) {
				t.Errorf("%s: %v of the row's basis is not in the null space", r.ID, b)
			}
			published = append(published, v)
		}
		if n := rank(append(published, o.Elementary...)); n != r.Nullity {
			t.Errorf("%s: the published vectors and ours span %d dimensions, want %d", r.ID, n, r.Nullity)
		}
	}
}

// elementaryLaws: each vector is balanced, in lowest terms, on its sides, and
// holds no other; the example is balanced and uses every species.
func elementaryLaws(t interface {
	Helper()
	Errorf(string, ...any)
}, p Problem, o Outcome) {
	t.Helper()
	if len(o.Elementary) > MaxElementary {
		t.Errorf("%d elementary equations, want at most %d", len(o.Elementary), MaxElementary)
	}
	for i, v := range o.Elementary {
		if !annihilates(p.matrix(), v) || !p.onSides(v, false) || gcd(v) != 1 {
			t.Errorf("%s: not balanced, not on its sides or not in lowest terms", p.write(v))
		}
		if n := len(restricted(p, v)); n != 1 {
			t.Errorf("%s: its species alone have nullity %d, want 1", p.write(v), n)
		}
		for k, w := range o.Elementary {
			if i != k && covers(v, w) {
				t.Errorf("%s holds %s", p.write(v), p.write(w))
			}
		}
	}
	if o.Example != nil && (!annihilates(p.matrix(), o.Example) || !p.onSides(o.Example, true) || gcd(o.Example) != 1) {
		t.Errorf("example %s: not balanced, or not with every species on its side", p.write(o.Example))
	}
}

func covers(v, w []int64) bool {
	for j := range v {
		if v[j] == 0 && w[j] != 0 {
			return false
		}
	}
	return true
}

// restricted returns the null space over the species of v alone.
func restricted(p Problem, v []int64) [][]int64 {
	var m [][]int64
	n := 0
	for _, r := range p.matrix() {
		var row []int64
		for j, x := range v {
			if x != 0 {
				row = append(row, r[j])
			}
		}
		n = len(row)
		m = append(m, row)
	}
	basis, err := Kernel(m, n)
	if err != nil {
		panic(err)
	}
	return basis
}

// subsets finds the elementary equations the slow way: every subset of species
// whose null space has one dimension, with no entry 0 and the signs right.
func subsets(p Problem) [][]int64 {
	n := len(p.all())
	var found [][]int64
	for set := 1; set < 1<<n; set++ {
		v := make([]int64, n)
		main := false
		for j := range n {
			if set>>j&1 == 1 {
				v[j] = 1
				main = main || j < len(p.Left)+len(p.Right)
			}
		}
		basis := restricted(p, v)
		if !main || len(basis) != 1 || slices.Contains(basis[0], 0) {
			continue
		}
		for _, sign := range []int64{1, -1} {
			w, k := make([]int64, n), 0
			for j := range n {
				if v[j] != 0 {
					w[j] = sign * basis[0][k]
					k++
				}
			}
			if p.onSides(w, false) {
				found = append(found, w)
			}
		}
	}
	return found
}

func texts(p Problem, vectors [][]int64) []string {
	all := make([]string, 0, len(vectors))
	for _, v := range vectors {
		all = append(all, p.write(v))
	}
	slices.Sort(all)
	return all
}

// TestSolveCauses: why nothing balances.
func TestSolveCauses(t *testing.T) {
	for _, c := range []struct{ skeleton, medium, want string }{
		// The rows of checks/impossible.jsonl, in their order.
		{"KClO3 -> KCl", "none", "one-sided: O left"},
		{"NaCl + AgNO3 -> AgCl", "none", "one-sided: Na left, N left, O left"},
		{"(NH4)2Cr2O7 -> Cr2O3 + N2", "none", "one-sided: H left"},
		{"S2O3^2- + I2 -> S4O6^2-", "acidic", "one-sided: I left"},
		{"MnO4^- + CN^- -> MnO2 + CO3^2-", "basic", "one-sided: N left"},
		{"Bi(OH)3 + SnO2^2- -> Bi", "basic", "one-sided: Sn left"},
		{"Na^+ + Cl2 -> NaCl", "none", "contradiction: charge"},                           // +1 on the left, nothing on the right
		{"Cu + Ag^+ -> Cu^+ + Ag^2+", "none", "wrong side: Ag^+, Ag^2+"},                  // Cu + Ag^2+ -> Cu^+ + Ag^+ balances
		{"Zn^2+ + OH^- -> ZnOH", "none", "contradiction: Zn, H, charge"},                  // one to one, but 2+ and 1-
		{"Cu -> CuO", "none", "one-sided: O right"},                                       // derived: oxygen appears
		{"H2 + O2 -> H2O2 + H^+", "none", "unused: H^+"},                                  // by charge its coefficient is 0
		{"H2O2 + O2 -> H2O", "none", "wrong side: O2"},                                    // 2 H2O2 -> 2 H2O + O2
		{"H2O2 + H2O -> O2", "none", "one-sided: H left"},                                 // though it would balance with water on the right
		{"MnO4^- + Fe^2+ + OH^- -> Mn^2+ + Fe^3+ + H2O", "none", "wrong side: OH^-, H2O"}, // 4 H2O left, 8 OH^- right
		{"CO + CO2 -> C2O4", "none", "unused: CO"},                                        // a+b = 2c and a+2b = 4c leave a = 0
		{"Zn + Fe -> Zn2 + Fe^2+", "none", "unused: Fe, Fe^2+"},                           // zinc alone balances
	} {
		o := solve(t, problem(t, c.skeleton, c.medium))
		if o.Answer != nil || o.Cause == nil || o.Elementary != nil || o.Example != nil {
			t.Errorf("Solve(%s, %s) = %+v, want %s", c.skeleton, c.medium, o, c.want)
			continue
		}
		if got := cause(o.Cause); got != c.want {
			t.Errorf("Solve(%s, %s): %s, want %s", c.skeleton, c.medium, got, c.want)
		}
	}
}

func cause(c *Cause) string {
	var kinds []string
	add := func(kind string, items []string) {
		if items != nil {
			kinds = append(kinds, kind+": "+strings.Join(items, ", "))
		}
	}
	var one, laws []string
	for i, e := range c.OneSided {
		one = append(one, e.Symbol()+map[bool]string{true: " left", false: " right"}[c.Left[i]])
	}
	for _, l := range c.Contradiction {
		laws = append(laws, l.String())
	}
	names := func(all []*chem.Species) (out []string) {
		for _, s := range all {
			out = append(out, s.String())
		}
		return out
	}
	add("one-sided", one)
	add("contradiction", laws)
	add("wrong side", names(c.WrongSide))
	add("unused", names(c.Unused))
	return strings.Join(kinds, "; ")
}

// TestSolveSeveral: null spaces of two dimensions, with and without a choice.
func TestSolveSeveral(t *testing.T) {
	// A set piece of every course: the ratio is open by algebra alone.
	p := problem(t, "MnO4^- + H2O2 -> Mn^2+ + O2", "acidic")
	o := solve(t, p)
	want := []string{
		"2 H2O2 -> O2 + 2 H2O", // peroxide alone
		"4 MnO4^- + 12 H^+ -> 4 Mn^2+ + 5 O2 + 6 H2O",
	}
	if got := texts(p, o.Elementary); o.Nullity != 2 || !o.Complete || !slices.Equal(got, want) {
		t.Errorf("Solve gives nullity %d and\n%s\nwant\n%s", o.Nullity, strings.Join(got, "\n"), strings.Join(want, "\n"))
	}
	elementaryLaws(t, p, o)

	// All the oxygen from the peroxide: one O2 for each H2O2. OpenStax prints
	// 2, 5, 6 -> 2, 5, 8.
	p.Extra = [][]int64{{0, 1, 0, 1, 0, 0}}
	if o := solve(t, p); o.Nullity != 1 || p.write(o.Answer) != "2 MnO4^- + 5 H2O2 + 6 H^+ -> 2 Mn^2+ + 5 O2 + 8 H2O" {
		t.Errorf("with one O2 for each H2O2 Solve gives %s", p.write(o.Answer))
	}
	// The same doubled and turned round changes nothing.
	p.Extra = [][]int64{{0, -2, 0, -2, 0, 0}}
	if o := solve(t, p); p.write(o.Answer) != "2 MnO4^- + 5 H2O2 + 6 H^+ -> 2 Mn^2+ + 5 O2 + 8 H2O" {
		t.Errorf("with the law doubled Solve gives %s", p.write(o.Answer))
	}
	// A law that contradicts: no O2 for peroxide.
	p.Extra = [][]int64{{0, 0, 0, 1, 0, 0}}
	if o := solve(t, p); o.Answer != nil || o.Cause == nil {
		t.Errorf("without O2 Solve gives %+v, want a cause", o)
	}
}

// TestSolveTooMany: where the elementary equations are too many to find, that
// is said, and nothing is listed: a vector of the null space need not keep each
// species on its side.
func TestSolveTooMany(t *testing.T) {
	var left, right []string
	for i := range 31 {
		left = append(left, fmt.Sprintf("C%dH%dO%dN%d", 1+i*7%13, 1+i*5%17, 1+i*11%19, 1+i*3%7))
		right = append(right, fmt.Sprintf("C%dH%dO%dN%d", 1+i*4%11, 1+i*9%23, 1+i*6%13, 1+i*2%9))
	}
	o, err := Solve(problem(t, strings.Join(left, " + ")+" -> "+strings.Join(right, " + "), "none"))
	var large *chem.TooLargeError
	if !errors.As(err, &large) || o.Elementary != nil || o.Answer != nil || o.Complete {
		t.Errorf("Solve with 62 species of four elements = %+v, %v, want a *chem.TooLargeError alone", o, err)
	}
}

// TestSolveTooLarge: an answer beyond 10^15 is an error, and the law that
// would need it is not guessed.
func TestSolveTooLarge(t *testing.T) {
	// By chain: 1 to 999983 to 999983^2 to 999983^3, about 10^18.
	_, err := Solve(problem(t, "Cu999983 + AgZn999983 + FeNi999983 -> CuAg + ZnFe + Ni", "none"))
	var large *chem.TooLargeError
	if !errors.As(err, &large) {
		t.Errorf("Solve gives %v, want a *chem.TooLargeError", err)
	}
}

// TestSolveProperties: random problems over few elements, so that every kind
// of outcome comes up; each is checked against the search through subsets.
func TestSolveProperties(t *testing.T) {
	kinds := map[string]int{}
	property := func(t *rapid.T) {
		p := anyProblem.Draw(t, "problem")
		o, err := Solve(p)
		if err != nil {
			t.Fatalf("Solve: %v", err)
		}
		all := subsets(p)
		used := make([]bool, len(p.Left)+len(p.Right))
		for _, v := range all {
			for j := range used {
				used[j] = used[j] || v[j] != 0
			}
		}
		solvable := !slices.Contains(used, false)
		switch {
		case !solvable:
			kinds["none"]++
			if o.Cause == nil || o.Answer != nil || o.Elementary != nil {
				t.Fatalf("no equation uses every species, but Solve gives %+v", o)
			}
			if n := len(strings.Split(cause(o.Cause), "; ")); n != 1 || cause(o.Cause) == "" {
				t.Fatalf("%d kinds of cause: %s", n, cause(o.Cause))
			}
			for _, s := range o.Cause.Unused {
				if k := slices.Index(p.all(), s); used[k] {
					t.Fatalf("%s is said to be unused, but is not", s)
				}
			}
		case len(all) == 1:
			kinds["one"]++
			if !slices.Equal(o.Answer, all[0]) || o.Cause != nil {
				t.Fatalf("Solve = %v (%v), want %s", o.Answer, o.Cause, p.write(all[0]))
			}
		default:
			kinds["several"]++
			if o.Answer != nil || o.Cause != nil || o.Complete != (len(all) <= MaxElementary) {
				t.Fatalf("Solve = %+v, want %d elementary equations", o, len(all))
			}
			want := texts(p, all)
			for _, got := range texts(p, o.Elementary) {
				if !slices.Contains(want, got) {
					t.Fatalf("Solve lists %s, which is not elementary", got)
				}
			}
			if o.Complete && len(o.Elementary) != len(all) || len(o.Elementary) < min(len(all), MaxElementary) {
				t.Fatalf("Solve lists %d elementary equations of %d", len(o.Elementary), len(all))
			}
			elementaryLaws(t, p, o)
		}

		// Exchanging the sides reverses the equation, shuffling changes nothing.
		back, err := Solve(Problem{Left: p.Right, Right: p.Left, Free: p.Free})
		if err != nil || back.Nullity != o.Nullity || (back.Answer == nil) != (o.Answer == nil) || len(back.Elementary) != len(o.Elementary) {
			t.Fatalf("Solve = %+v, with the sides exchanged %+v, %v", o, back, err)
		}
		turned := Problem{Left: rapid.Permutation(p.Left).Draw(t, "left"), Right: rapid.Permutation(p.Right).Draw(t, "right"), Free: rapid.Permutation(p.Free).Draw(t, "free")}
		again, err := Solve(turned)
		if err != nil {
			t.Fatal(err)
		}
		if o.Answer != nil {
			reversed := slices.Concat(back.Answer[len(p.Right):len(p.Right)+len(p.Left)], back.Answer[:len(p.Right)], back.Answer[len(p.Right)+len(p.Left):])
			for j := range reversed {
				reversed[j] = -reversed[j]
			}
			if !slices.Equal(reversed, o.Answer) {
				t.Fatalf("Solve = %v, reversed %v", o.Answer, reversed)
			}
			for j, s := range p.all() {
				if again.Answer == nil || again.Answer[slices.Index(turned.all(), s)] != o.Answer[j] {
					t.Fatalf("Solve = %v, shuffled %v", o.Answer, again.Answer)
				}
			}
		}
		if o.Complete && len(again.Elementary) != len(o.Elementary) {
			t.Fatalf("%d elementary equations, shuffled %d", len(o.Elementary), len(again.Elementary))
		}
	}
	// One round in a hundred or so draws no problem with one answer; ten in a
	// row do not.
	all := []string{"none", "one", "several"}
	unseen := func(kind string) bool { return kinds[kind] == 0 }
	for round := 0; round < 10 && slices.ContainsFunc(all, unseen); round++ {
		rapid.Check(t, property)
	}
	for _, kind := range all {
		if unseen(kind) {
			t.Errorf("no random problem has %s answers: %v", kind, kinds)
		}
	}
}

// anyProblem draws 2 to 6 different species of hydrogen, oxygen and chlorine,
// some charged, and up to two free ones.
var anyProblem = rapid.Custom(func(t *rapid.T) Problem {
	var all []*chem.Species
	add := func(s *chem.Species) bool {
		if slices.ContainsFunc(all, s.Same) {
			return false
		}
		all = append(all, s)
		return true
	}
	var p Problem
	for _, s := range rapid.SampledFrom([][]*chem.Species{nil, {chem.Water}, {chem.Water, chem.Hydron}}).Draw(t, "free") {
		add(s)
		p.Free = append(p.Free, s)
	}
	for i := range rapid.IntRange(2, 6).Draw(t, "species") {
		var units []chem.Unit
		for _, e := range []chem.Element{chem.H, chem.O, chem.Cl} {
			if n := rapid.Int64Range(0, 3).Draw(t, "atoms"); n > 0 {
				units = append(units, chem.Unit{Element: e, Count: n})
			}
		}
		if units == nil {
			continue
		}
		s, _ := chem.NewSpecies(chem.Formula{Parts: []chem.Part{{Count: 1, Units: units}}}, rapid.SampledFrom([]int64{0, 0, 0, 1, -1, 2}).Draw(t, "charge"), chem.NoPhase)
		switch {
		case !add(s):
		case i == 0 || i > 1 && rapid.Bool().Draw(t, "left"):
			p.Left = append(p.Left, s)
		default:
			p.Right = append(p.Right, s)
		}
	}
	if p.Left == nil || p.Right == nil {
		t.Skip("an empty side")
	}
	return p
})

// TestLedger: counted apart, through compositions in fractions of math/big.
func TestLedger(t *testing.T) {
	var species []*chem.Species
	for _, r := range checks.Equations() {
		species = append(species, equation(t, r.Answer).Species()...)
	}
	side := rapid.SliceOfN(rapid.Custom(func(t *rapid.T) chem.Term {
		return chem.Term{
			Coefficient: chem.NewRatio(rapid.Int64Range(1, 60).Draw(t, "num"), rapid.Int64Range(1, 6).Draw(t, "den")),
			Species:     rapid.SampledFrom(append(species, chem.Electron)).Draw(t, "species"),
		}
	}), 0, 8)
	rapid.Check(t, func(t *rapid.T) {
		e := chem.Equation{Left: side.Draw(t, "left"), Right: side.Draw(t, "right")}
		l, err := NewLedger(e)
		if err != nil {
			t.Fatalf("NewLedger(%s): %v", e, err)
		}
		if n := len(l); n == 0 || l[n-1].Law != Charge {
			t.Fatalf("NewLedger(%s) does not end with the charge", e)
		}
		seen := map[chem.Element]bool{}
		closed := true
		for i, entry := range l {
			if seen[entry.Law.Element] {
				t.Fatalf("NewLedger(%s) has %s twice", e, entry.Law)
			}
			seen[entry.Law.Element] = true
			left, right := new(big.Rat), new(big.Rat)
			for s, term := range e.Terms {
				each := term.Species.Charge()
				if i < len(l)-1 {
					each = term.Species.Atoms(entry.Law.Element)
				}
				n := new(big.Rat).Mul(big.NewRat(term.Coefficient.Num(), term.Coefficient.Den()), new(big.Rat).SetInt64(each))
				if s < 0 {
					left.Add(left, n)
				} else {
					right.Add(right, n)
				}
			}
			if left.RatString() != entry.Left.String() || right.RatString() != entry.Right.String() {
				t.Fatalf("NewLedger(%s): %s %s and %s, want %s and %s", e, entry.Law, entry.Left, entry.Right, left.RatString(), right.RatString())
			}
			if entry.Closed() != (left.Cmp(right) == 0) {
				t.Fatalf("NewLedger(%s): %s closed is %v", e, entry.Law, entry.Closed())
			}
			closed = closed && entry.Closed()
		}
		for _, term := range slices.Concat(e.Left, e.Right) {
			for _, c := range term.Species.Composition() {
				if !seen[c.Element] {
					t.Fatalf("NewLedger(%s) has no %s", e, c.Element)
				}
			}
		}
		if l.Closed() != closed {
			t.Fatalf("NewLedger(%s).Closed() = %v, its entries say %v", e, l.Closed(), closed)
		}
	})
}

// TestLedgerOfRows: every answer closes, and no longer once a coefficient is
// changed.
func TestLedgerOfRows(t *testing.T) {
	closes := func(id, text string) {
		t.Helper()
		e := equation(t, text)
		l, err := NewLedger(e)
		if err != nil || !l.Closed() {
			t.Errorf("%s: NewLedger(%s) = %v, %v, want closed", id, text, l, err)
		}
		e.Left[0].Coefficient = e.Left[0].Coefficient.Add(chem.Whole(1))
		if l, err := NewLedger(e); err != nil || l.Closed() {
			t.Errorf("%s: NewLedger(%s) = %v, %v, want open", id, e, l, err)
		}
	}
	for _, r := range checks.Equations() {
		closes(r.ID, r.Answer)
	}
	for _, r := range checks.Ambiguous() {
		for _, e := range r.Examples {
			closes(r.ID, e)
		}
	}
	for _, r := range checks.Impossible() {
		if r.Balanced != "" {
			closes(r.ID, r.Balanced)
		}
	}
	for _, r := range checks.Malformed() {
		if r.Balanced != "" {
			closes(r.ID, r.Balanced)
		}
	}
	closes("fractions", "H2 + 1/2 O2 -> H2O")
	closes("fractions", "1/3 MnO4^- + 8/3 H^+ + 5/3 e^- -> 1/3 Mn^2+ + 4/3 H2O")
}

// TestLedgerTooLarge: counts that pass 64 bits are an error, not a number.
func TestLedgerTooLarge(t *testing.T) {
	e := equation(t, "H1000000 -> H2")
	for _, c := range []chem.Ratio{chem.Whole(1 << 62), chem.NewRatio(1<<62+1, 3)} {
		e.Left[0].Coefficient = c
		l, err := NewLedger(e)
		var large *chem.TooLargeError
		if !errors.As(err, &large) || l != nil || large.Msg == "" {
			t.Errorf("NewLedger(%s) = %v, %v, want a *chem.TooLargeError", e, l, err)
		}
	}
	e.Left[0].Coefficient = chem.Whole(1_000_000_000_000)
	if l, err := NewLedger(e); err != nil || l[0].Left.String() != "1000000000000000000" {
		t.Errorf("NewLedger(%s) = %v, %v, want 10^18 hydrogen", e, l, err)
	}
}

func TestLaw(t *testing.T) {
	if Charge.String() != "charge" || (Law{chem.Cl}).String() != "Cl" {
		t.Errorf("laws are called %s and %s", Charge, Law{chem.Cl})
	}
}

func BenchmarkSolve(b *testing.B) {
	for _, c := range []struct{ name, skeleton, medium string }{
		{"one", "MnO4^- + H2C2O4 -> Mn^2+ + CO2", "acidic"},
		{"several", "C2H5OH + Cr2O7^2- -> CH3CHO + CH3COOH + Cr^3+", "acidic"},
		{"none", "Zn^2+ + OH^- -> ZnOH", "none"},
		{"monster", "[Cr(N2H4CO)6]4[Cr(CN)6]3 + KMnO4 + H2SO4 -> K2Cr2O7 + MnSO4 + CO2 + KNO3 + K2SO4 + H2O", "none"},
	} {
		b.Run("answers="+c.name, func(b *testing.B) {
			p := problem(b, c.skeleton, c.medium)
			b.ReportAllocs()
			for b.Loop() {
				if _, err := Solve(p); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
