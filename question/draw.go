package question

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"

	"halves/chem"
	"halves/redox"
)

// A draw chooses the slots of a set. A slot is one question of each version.
type draw struct {
	wish  Wish
	pool  *Pool
	own   []*Question
	rng   *rand.Rand
	apart Tenths // how far the questions of a slot may be from each other
	slots [][]*Question
	wells map[well][]*Question // questions that wait for others like them
}

// A well holds questions that can stand for each other if their difficulties are
// near.
type well struct {
	medium   redox.Medium
	features Features
}

// Of each drawn question, how many more are looked at before a choice is made: a
// set that is spread over a range, or in steps, is chosen from so many times its
// size.
const choiceOf = 8

// near is how far the questions of a slot may be apart at most: half a point.
const near Tenths = 5

// newRand returns the generator of a seed: PCG, the same on every platform.
func newRand(seed uint64) *rand.Rand { return rand.New(rand.NewPCG(seed, 0x68616c766573)) }

// candidate is a question, or a pair that may make one.
type candidate struct {
	question *Question
	pair     pair
}

// candidates lists all that might qualify, in a fixed order.
func (d *draw) candidates() []candidate {
	var out []candidate
	for _, q := range d.own {
		out = append(out, candidate{question: q})
	}
	if d.own != nil {
		return out
	}
	if d.wish.From != FromCouples {
		for _, q := range Library() {
			out = append(out, candidate{question: q})
		}
	}
	if d.wish.From != FromLibrary {
		for _, m := range d.wish.Media {
			if m != redox.Acidic && m != redox.Basic {
				continue
			}
			for _, k := range d.pool.pairs(m, d.margin(), d.wish.Slow, d.wish.Species == Any) {
				out = append(out, candidate{pair: k})
			}
		}
	}
	return out
}

func (d *draw) margin() float64 { return float64(d.wish.Margin) / 1000 }

// take returns the question of a candidate where it is one that is wished for.
func (d *draw) take(c candidate) *Question {
	q := c.question
	if q == nil {
		if !d.mayHold(c.pair) {
			return nil
		}
		if q = d.pool.question(c.pair, d.margin(), d.wish.Slow); q == nil {
			return nil
		}
	}
	if d.fault(q) != "" {
		return nil
	}
	return q
}

// mayHold looks at the species of a pair before it is worked.
func (d *draw) mayHold(k pair) bool {
	s := d.pool.sides(k.medium)
	all := slices.Concat(s[k.r].oxidized, s[k.r].reduced, s[k.o].oxidized, s[k.o].reduced)
	if len(d.wish.Couples) > 0 && !meet(all, d.wish.Couples) {
		return false
	}
	if isKept(s[k.r], s[k.o]) && !(meet(s[k.r].oxidized, d.wish.Couples) && meet(s[k.o].reduced, d.wish.Couples)) {
		return false
	}
	return d.wish.Only == nil || !slices.ContainsFunc(all, func(x *chem.Species) bool { return !isWater(x) && !slices.ContainsFunc(d.wish.Only, x.Same) })
}

// fault names the line of the wish that a question does not meet, "" for none.
func (d *draw) fault(q *Question) string {
	w := d.wish
	switch {
	case !slices.Contains(w.Media, q.Medium):
		return "media"
	case q.Features&w.Avoid != 0:
		return "avoid"
	case q.Difficulty < w.Least || q.Difficulty > w.Most:
		return "difficulty"
	case w.Species == Taught && q.Features.Has(Unfamiliar) && d.own == nil:
		return "species"
	case w.Only != nil && !q.within(w.Only):
		return "only"
	case w.Couples != nil && !q.holds(w.Couples):
		return "couples"
	}
	if !slices.ContainsFunc(w.Ask, func(a Ask) bool { return q.can(a) }) {
		return "ask"
	}
	return ""
}

func (q *Question) within(all []*chem.Species) bool {
	return !slices.ContainsFunc(q.species, func(key string) bool {
		return !slices.ContainsFunc(all, func(s *chem.Species) bool { return s.Key() == key })
	})
}

func (q *Question) holds(any []*chem.Species) bool {
	return slices.ContainsFunc(any, func(s *chem.Species) bool { return slices.Contains(q.species, s.Key()) })
}

// run draws candidates in the order of the seed until the slots that were wished
// for can be chosen, or nothing is left.
func (d *draw) run(all []candidate) {
	enough := d.wish.Questions
	if d.wish.ranged || d.wish.Order == Stepwise {
		enough *= choiceOf
	}
	d.slots, d.wells = nil, map[well][]*Question{}
	for _, c := range all {
		if len(d.slots) >= enough && d.covered() {
			return
		}
		q := d.take(c)
		if q == nil {
			continue
		}
		if d.wish.Versions == 1 {
			if d.fits([]*Question{q}) {
				d.slots = append(d.slots, []*Question{q})
			}
			continue
		}
		key := well{q.Medium, q.Features}
		d.wells[key] = append(d.wells[key], q)
		if slot := d.gather(d.wells[key]); slot != nil && d.fits(slot) {
			d.slots = append(d.slots, slot)
			d.wells[key] = slices.DeleteFunc(d.wells[key], func(x *Question) bool { return slices.Contains(slot, x) })
		}
	}
}

// gather picks one question for each version from a well: the newest with those
// that are nearest to it in difficulty, that share no species with it or with
// each other, all within apart.
func (d *draw) gather(from []*Question) []*Question {
	newest := from[len(from)-1]
	off := func(q *Question) Tenths { return max(q.Difficulty-newest.Difficulty, newest.Difficulty-q.Difficulty) }
	others := slices.DeleteFunc(slices.Clone(from[:len(from)-1]), func(q *Question) bool { return off(q) > d.apart || newest.Shares(q) })
	if len(others) < d.wish.Versions-1 {
		return nil
	}
	slices.SortStableFunc(others, func(a, b *Question) int { return int(off(a) - off(b)) })
	slot := []*Question{newest}
	least, most := newest.Difficulty, newest.Difficulty
	for _, q := range others {
		if len(slot) == d.wish.Versions {
			break
		}
		if max(most, q.Difficulty)-min(least, q.Difficulty) > d.apart || slices.ContainsFunc(slot, q.Shares) {
			continue
		}
		slot = append(slot, q)
		least, most = min(least, q.Difficulty), max(most, q.Difficulty)
	}
	if len(slot) < d.wish.Versions {
		return nil
	}
	return slot
}

// fits reports whether no question of a slot is trivially the same as one that
// was chosen, in whatever version.
func (d *draw) fits(slot []*Question) bool {
	for _, other := range d.slots {
		for _, a := range other {
			if slices.ContainsFunc(slot, a.Same) {
				return false
			}
		}
	}
	return true
}

// covered reports whether each feature that is wished for is there.
func (d *draw) covered() bool {
	var have Features
	for _, s := range d.slots {
		have |= s[0].Features
	}
	return have.Has(d.wish.Want)
}

// choose takes the slots of the set from those that were drawn: first those that
// bring a feature that is wished for, then the others in the order of the wish.
// No two share a couple as long as there are others.
func (d *draw) choose() (chosen [][]*Question, notes []string) {
	n := d.wish.Questions
	left := slices.Clone(d.slots)
	take := func(i int) {
		chosen = append(chosen, left[i])
		left = slices.Delete(left, i, i+1)
	}
	var have Features
	for want := d.wish.Want; !have.Has(want) && len(chosen) < n; {
		best, gain := -1, 0
		for i, s := range left {
			if g := len((s[0].Features & want &^ have).Names()); g > gain {
				best, gain = i, g
			}
		}
		if best < 0 {
			break
		}
		have |= left[best][0].Features
		take(best)
	}
	switch {
	case d.wish.Order == Stepwise:
		return d.steps(chosen, left)
	case d.wish.ranged:
		for len(chosen) < n && len(left) > 0 {
			target := d.wish.Least + (d.wish.Most-d.wish.Least)*Tenths(len(chosen))/Tenths(max(1, n-1))
			best := 0
			for i, s := range left {
				if cost(s, target, chosen) < cost(left[best], target, chosen) {
					best = i
				}
			}
			take(best)
		}
	default:
		for _, apart := range []bool{true, false} {
			for i := 0; i < len(left) && len(chosen) < n; {
				if apart && slices.ContainsFunc(chosen, func(s []*Question) bool { return related(s, left[i]) }) {
					i++
					continue
				}
				take(i)
			}
		}
	}
	if d.wish.Order == Rising {
		slices.SortStableFunc(chosen, func(a, b []*Question) int { return int(a[0].Difficulty - b[0].Difficulty) })
	} else {
		d.rng.Shuffle(len(chosen), func(i, j int) { chosen[i], chosen[j] = chosen[j], chosen[i] })
	}
	return chosen, nil
}

// cost is how far a slot is from a difficulty; one that shares a couple with what
// was chosen costs more.
func cost(s []*Question, target Tenths, chosen [][]*Question) Tenths {
	c := s[0].Difficulty - target
	if c < 0 {
		c = -c
	}
	if slices.ContainsFunc(chosen, func(t []*Question) bool { return related(s, t) }) {
		c += near
	}
	return c
}

// related reports whether two slots have a couple in common in some version.
func related(a, b []*Question) bool {
	for i := range a {
		if slices.ContainsFunc(a[i].Couples, func(c string) bool { return slices.Contains(b[i].Couples, c) }) {
			return true
		}
	}
	return false
}

// steps orders a set so that each question adds one feature to those before it,
// as long as the pool allows, the easier first. chosen are slots that must be in
// it, for they bring what is wished for.
func (d *draw) steps(chosen, left [][]*Question) (out [][]*Question, notes []string) {
	easier := func(a, b []*Question) int { return int(a[0].Difficulty - b[0].Difficulty) }
	slices.SortStableFunc(chosen, easier)
	slices.SortStableFunc(left, easier)
	var seen Features
	added := func(s []*Question) int { return len((s[0].Features &^ seen).Names()) }
	// best is the first slot that adds one feature, else the one that adds fewest
	// but some, else the first.
	best := func(all [][]*Question) int {
		at := -1
		for i, s := range all {
			switch n := added(s); {
			case at < 0, n > 0 && added(all[at]) == 0, n > 0 && n < added(all[at]):
				at = i
			}
		}
		return at
	}
	for len(out) < d.wish.Questions && len(chosen)+len(left) > 0 {
		from := &left
		i := best(chosen)
		switch {
		case i >= 0 && (len(left) == 0 || d.wish.Questions-len(out) <= len(chosen) || added(chosen[i]) == 1):
			from = &chosen
		default:
			i = best(left)
		}
		s := (*from)[i]
		switch n := added(s); {
		case len(out) == 0 || n == 1:
		case n == 0:
			notes = append(notes, fmt.Sprintf("Question %d adds no feature that was not there before: the pool has none that adds one.", len(out)+1))
		default:
			notes = append(notes, fmt.Sprintf("Question %d adds more than one feature: %s.", len(out)+1, strings.Join((s[0].Features&^seen).Words(), ", ")))
		}
		seen |= s[0].Features
		out = append(out, s)
		*from = slices.Delete(*from, i, i+1)
	}
	return out, notes
}

// isKept reports a pair of couples that is made only where a wish names both of
// its reagents: it is set aside for the instructor's own use.
func isKept(red, ox side) bool {
	return has(red.oxidized, "Cr2O7^2-") && has(ox.reduced, "I^-")
}

func has(all []*chem.Species, formula string) bool {
	return slices.ContainsFunc(all, func(s *chem.Species) bool { return s.String() == formula })
}
