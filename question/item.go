package question

import (
	"cmp"
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"

	"halves/balance"
	"halves/chem"
	"halves/marking"
	"halves/redox"
	"halves/reference"
	"halves/speech"
)

// An Item is a question with what is asked of it.
type Item struct {
	Number   int // in its version, from 1
	Slot     int // in all versions: items of one slot can stand for each other
	Question *Question
	Ask      Ask
	Worth    int
	Options  []Option       // to choose from; nil for none
	Working  *marking.Route // with one slip to find; nil for other asks
	Reversed bool           // what is asked to go is the reverse
}

// An Option is an answer to choose. One of an item is right; each of the others
// was proved wrong and comes from another slip.
type Option struct {
	Text  string     // as typed
	Runs  []chem.Run // as printed
	Right bool
	Kind  marking.Kind // the slip behind it; "" where it is right, or none of the kinds
	Shows string       // what choosing it shows, one sentence without a full stop; "" where it is right
}

// newItem makes an item of a question.
func newItem(q *Question, a Ask, w Wish, reversed bool, rng *rand.Rand) (Item, error) {
	x := Item{Question: q, Ask: a, Reversed: reversed && a == WillItGo}
	s, err := q.Work(redox.Conventions{})
	if err != nil {
		return x, err
	}
	if a == FindError || a == Balance || a == Complete {
		m, err := marking.NewQuestion(s)
		if err != nil {
			return x, fmt.Errorf("%s: %w", q.Text, err)
		}
		x.Worth = m.Scheme().OutOf()
		if a == FindError {
			x.Working = slipOf(m, rng)
		} else if w.Choices > 0 && a == Balance {
			x.Options = equations(q, m)
		}
	}
	switch {
	case w.Choices > 0 && a == Electrons:
		x.Options = numbers(s)
	case w.Choices > 0 && a == Agents:
		x.Options = reagents(s)
	}
	if x.Options != nil {
		x.Options = pick(x.Options, w.Choices, rng)
	}
	switch {
	case w.Worth > 0:
		x.Worth = w.Worth
	case x.Options != nil || a == Electrons:
		x.Worth = 1
	case worths[a] > 0:
		x.Worth = worths[a]
	}
	return x, nil
}

// worths are the usual marks of what is asked; those of Balance and Complete are
// the steps of the usual scheme of package marking (common practice, no source).
var worths = map[Ask]int{Split: 4, Agents: 2, States: 2, FindError: 2, Electrons: 1, WillItGo: 2}

// slipOf takes one of the usual slips of a question, that of a rare kind as likely
// as that of a frequent one.
func slipOf(m *marking.Question, rng *rand.Rand) *marking.Route {
	// What is only not in lowest terms may be so from an earlier line on.
	all := slices.DeleteFunc(m.Routes(), func(r marking.Route) bool { return r.Kind == marking.NotLowest })
	if len(all) == 0 {
		return nil
	}
	var kinds []marking.Kind
	for _, r := range all {
		if !slices.Contains(kinds, r.Kind) {
			kinds = append(kinds, r.Kind)
		}
	}
	kind := kinds[rng.IntN(len(kinds))]
	var those []marking.Route
	for _, r := range all {
		if r.Kind == kind {
			those = append(those, r)
		}
	}
	return &those[rng.IntN(len(those))]
}

// finalAnswer is how a route marks its last line.
const finalAnswer = "final answer: "

// Lines reads the lines of a working with a slip; nil for none.
func Lines(r *marking.Route) []chem.Equation {
	if r == nil {
		return nil
	}
	var out []chem.Equation
	for _, l := range r.Lines {
		_, text, found := strings.Cut(l, ": ")
		if !found {
			text = l
		}
		e, err := chem.ReadEquation(text, reference.Species())
		if err != nil {
			continue // what a route writes can be read: a test says so
		}
		out = append(out, e.All[0].Equation)
	}
	return out
}

// Spoken says an option in words.
func Spoken(o Option, c redox.Conventions) string {
	if strings.Trim(o.Text, "0123456789") == "" {
		return ""
	}
	if e, err := chem.ReadEquation(o.Text, reference.Species()); err == nil {
		return speech.Equation(e.All[0].Equation, c.Names)
	}
	return speech.Runs(o.Runs)
}

// equations are the right answer and what the usual slips lead to, one for each
// kind. An answer that only has a common factor is left out: it balances.
func equations(q *Question, m *marking.Question) []Option {
	right := q.Answer()
	if alike(right, q.skeleton) {
		return nil // the question would show it
	}
	out := []Option{{Text: right.String(), Runs: right.Runs(chem.Style{}), Right: true}}
	seen := []chem.Equation{right}
	var kinds []marking.Kind
	for _, r := range m.Routes() {
		text := strings.TrimPrefix(r.Answer, finalAnswer)
		if slices.Contains(kinds, r.Kind) {
			continue
		}
		e, ok := wrongEquation(text, q)
		if !ok || slices.ContainsFunc(seen, func(o chem.Equation) bool { return alike(o, e) }) {
			continue
		}
		e = inOrder(e, right)
		seen = append(seen, e)
		kinds = append(kinds, r.Kind)
		out = append(out, Option{Text: e.String(), Runs: e.Runs(chem.Style{}), Kind: r.Kind, Shows: r.Kind.Words()})
	}
	return out
}

// inOrder writes the terms of an equation in the order of another, so that no
// order tells which is right.
func inOrder(e, like chem.Equation) chem.Equation {
	side := func(terms, like []chem.Term) []chem.Term {
		place := func(s *chem.Species) int {
			i := slices.IndexFunc(like, func(t chem.Term) bool { return t.Species.Same(s) })
			switch {
			case i >= 0:
				return i
			case isWater(s): // as an answer has it: behind the others
				return len(like) + 1
			}
			return len(like)
		}
		out := slices.Clone(terms)
		slices.SortStableFunc(out, func(a, b chem.Term) int { return place(a.Species) - place(b.Species) })
		return out
	}
	return chem.Equation{Left: side(e.Left, like.Left), Right: side(e.Right, like.Right)}
}

// wrongEquation reads a line and proves it wrong: atoms or charge are not
// conserved, or it holds hydrogen ions in base.
func wrongEquation(text string, q *Question) (chem.Equation, bool) {
	r, err := chem.ReadEquation(text, reference.Species())
	if err != nil {
		return chem.Equation{}, false
	}
	e := r.All[0].Equation
	if len(e.Left) == 0 || len(e.Right) == 0 {
		return e, false
	}
	l, err := balance.NewLedger(e)
	if err != nil {
		return e, false
	}
	inBase := q.Medium == redox.Basic && slices.ContainsFunc(e.Species(), chem.Hydron.Same)
	return e, !l.Closed() || inBase
}

// alike reports whether two equations have the same terms, in whatever order.
func alike(a, b chem.Equation) bool {
	side := func(x, y []chem.Term) bool {
		return len(x) == len(y) && !slices.ContainsFunc(x, func(t chem.Term) bool {
			return !slices.ContainsFunc(y, func(u chem.Term) bool { return t.Species.Same(u.Species) && t.Coefficient.Equal(u.Coefficient) })
		})
	}
	return side(a.Left, b.Left) && side(a.Right, b.Right)
}

// numbers are the electrons transferred, and what comes of counting them wrong.
func numbers(s *redox.Solution) []Option {
	n := *s.Electrons
	out := []Option{numberOption(n, "", "")}
	out[0].Right = true
	add := func(k int64, kind marking.Kind, shows string) {
		text := fmt.Sprint(k)
		if k > 0 && !slices.ContainsFunc(out, func(o Option) bool { return o.Text == text || o.Shows == shows }) {
			out = append(out, numberOption(k, kind, shows))
		}
	}
	if len(s.Halves) == 2 {
		a, b := s.Halves[0].Electrons, s.Halves[1].Electrons
		add(a, marking.UnequalElectrons, "the electrons of the "+string(s.Halves[0].Role)+" alone, before it is multiplied")
		add(b, marking.UnequalElectrons, "the electrons of the "+string(s.Halves[1].Role)+" alone, before it is multiplied")
		add(a+b, marking.SumSlip, "the electrons of the two halves added, not made equal")
		add(a*b, marking.NotLowest, "the electrons of the two halves multiplied, where a lower number does")
	}
	for _, c := range s.Changes {
		if e := c.Electrons(); e.IsWhole() {
			add(max(e.Num(), -e.Num()), marking.MainCoefficient, "the electrons of one atom of "+c.Element.Symbol())
		}
	}
	add(2*n, marking.SumSlip, "those lost and those gained added up")
	add(n+1, marking.ElectronCount, "a charge counted wrong: one electron too many")
	add(n-1, marking.ElectronCount, "a charge counted wrong: one electron too few")
	if n%2 == 0 {
		add(n/2, marking.ElectronCount, "half of them: one of two atoms left out")
	}
	add(3*n, marking.SumSlip, "the electrons multiplied once more than needed")
	return out
}

func numberOption(n int64, kind marking.Kind, shows string) Option {
	text := fmt.Sprint(n)
	return Option{Text: text, Runs: []chem.Run{{Text: text}}, Kind: kind, Shows: shows}
}

// reagents are the oxidizing agent and what may be taken for it.
func reagents(s *redox.Solution) []Option {
	var out []Option
	add := func(x *chem.Species, right bool, kind marking.Kind, shows string) {
		// Each is wrong in a way of its own.
		if !slices.ContainsFunc(out, func(o Option) bool { return o.Text == x.String() || !right && o.Shows == shows }) {
			out = append(out, Option{Text: x.String(), Runs: x.Runs(), Right: right, Kind: kind, Shows: shows})
		}
	}
	add(s.Reduced[0], true, "", "")
	for _, x := range s.Oxidized {
		if !slices.ContainsFunc(s.Reduced, x.Same) {
			add(x, false, marking.LabelsSwapped, "the reducing agent: it is oxidized itself")
		}
	}
	for _, c := range s.Changes {
		for _, x := range c.Products {
			shows := "a product, formed by reduction"
			if c.Electrons().Sign() > 0 {
				shows = "a product, formed by oxidation"
			}
			add(x, false, marking.Backwards, shows)
		}
	}
	for _, t := range s.Equation.Terms {
		if x := t.Species; isWater(x) {
			add(x, false, "", "it belongs to the medium, and no state changes in it")
		}
	}
	return slices.DeleteFunc(out, func(o Option) bool {
		return !o.Right && slices.ContainsFunc(s.Reduced, func(x *chem.Species) bool { return x.String() == o.Text })
	})
}

// pick keeps the right option with as many others as are wanted, in a random
// order; nil where there are fewer than two others. Numbers stand in their order,
// and the place of the right one is chosen first, so that it tells nothing.
func pick(all []Option, n int, rng *rand.Rand) []Option {
	if len(all) < 3 {
		return nil
	}
	right, others := all[0], slices.Clone(all[1:])
	rng.Shuffle(len(others), func(i, j int) { others[i], others[j] = others[j], others[i] })
	n = min(max(n, 3), len(all))
	if !numeric(all) {
		out := append([]Option{right}, others[:n-1]...)
		rng.Shuffle(len(out), func(i, j int) { out[i], out[j] = out[j], out[i] })
		return out
	}
	var below, above []Option
	for _, o := range others {
		if byNumber(o, right) < 0 {
			below = append(below, o)
		} else {
			above = append(above, o)
		}
	}
	least, most := max(0, n-1-len(above)), min(len(below), n-1)
	k := least + rng.IntN(most-least+1)
	out := append([]Option{right}, below[:k]...)
	out = append(out, above[:n-1-k]...)
	slices.SortFunc(out, byNumber)
	return out
}

func byNumber(a, b Option) int {
	return cmp.Or(cmp.Compare(len(a.Text), len(b.Text)), cmp.Compare(a.Text, b.Text))
}

// alikeOptions gives the items of one slot as many options each: those that have
// more lose some, none loses the right one.
func alikeOptions(items []Item, rng *rand.Rand) {
	least := len(items[0].Options)
	for _, x := range items {
		least = min(least, len(x.Options))
	}
	for i := range items {
		for len(items[i].Options) > least {
			k := rng.IntN(len(items[i].Options))
			if least == 0 || !items[i].Options[k].Right {
				items[i].Options = slices.Delete(items[i].Options, k, k+1)
			}
		}
		if least == 0 {
			items[i].Options = nil
		}
	}
}

func numeric(all []Option) bool {
	return !slices.ContainsFunc(all, func(o Option) bool { return strings.Trim(o.Text, "0123456789") != "" })
}
