package question

import (
	"crypto/sha256"
	"fmt"
	"halves/redox"
	"slices"
	"strings"
)

// A Set is what a wish was granted.
type Set struct {
	Wish     Wish
	Versions []Version
	Notes    []string // what could not quite be done; nil for nothing
	Code     string   // of the whole set
}

// A Version is a set of questions for some of the class. All versions have as
// many items.
type Version struct {
	Letter string // "A"
	Code   string // on paper and key, so that they are not mixed up
	Items  []Item
}

// Difficulty adds up the difficulties.
func (v Version) Difficulty() Tenths {
	sum := Tenths(0)
	for _, x := range v.Items {
		sum += x.Question.Difficulty
	}
	return sum
}

// Worth adds up the marks.
func (v Version) Worth() int {
	n := 0
	for _, x := range v.Items {
		n += x.Worth
	}
	return n
}

// A ShortError says that a wish asks for more than can be made.
type ShortError struct {
	Asked, Found int      // questions
	Versions     int      // asked for
	Missing      Features // that no question has under the other wishes
	Conflict     *ConflictError
}

func (e *ShortError) Error() string {
	switch {
	case e.Conflict != nil:
		return e.Conflict.Error()
	case e.Missing != 0 && e.Found > 0:
		return fmt.Sprintf("no question that meets the other wishes has: %s", strings.Join(e.Missing.Words(), ", "))
	case e.Versions > 1:
		return fmt.Sprintf("%d questions in %d versions of equal difficulty were asked for, and %d can be made", e.Asked, e.Versions, e.Found)
	case e.Found == 0:
		return "no question meets these wishes"
	}
	return fmt.Sprintf("%d questions were asked for, and %d can be made", e.Asked, e.Found)
}

// Unwrap returns the two wishes that exclude each other, where they were found.
func (e *ShortError) Unwrap() error {
	if e.Conflict == nil {
		return nil
	}
	return e.Conflict
}

// Hint says what is nearest.
func (e *ShortError) Hint() string {
	switch {
	case e.Conflict != nil:
		return e.Conflict.Hint()
	case e.Missing != 0 && e.Found > 0:
		return "leave that feature out, or widen the media, the difficulty or the species: species: any"
	case e.Found == 0:
		return "widen the media, the difficulty or the species (species: any), or ask for fewer versions"
	case e.Versions > 1:
		return fmt.Sprintf("ask for %d, or for fewer versions, or widen the species: species: any", e.Found)
	}
	return fmt.Sprintf("ask for %d, or widen the media, the difficulty or the species: species: any", e.Found)
}

// Make makes the set of a wish from a pool, or from own questions alone where
// there are some. The errors are *ConflictError and *ShortError.
func Make(w Wish, pool *Pool, own []*Question) (*Set, error) {
	if err := w.check(); err != nil {
		return nil, err
	}
	d := &draw{wish: w, pool: pool, own: own, rng: newRand(w.Seed)}
	all := d.candidates()
	d.rng.Shuffle(len(all), func(i, j int) { all[i], all[j] = all[j], all[i] })
	d.run(all, false)
	if w.Versions > 1 && (len(d.slots) < w.Questions || !d.covered()) {
		d.run(all, true)
	}
	if len(d.slots) < w.Questions || !d.covered() {
		return nil, d.short(all)
	}
	chosen, notes := d.choose()
	s := &Set{Wish: w, Notes: notes}
	if err := s.fill(chosen, d); err != nil {
		return nil, err
	}
	return s, nil
}

// short says what a draw that failed could do, and which two wishes exclude each
// other.
func (d *draw) short(all []candidate) *ShortError {
	e := &ShortError{Asked: d.wish.Questions, Found: len(d.slots), Versions: d.wish.Versions}
	var have Features
	for _, s := range d.slots {
		have |= s[0].Features
	}
	e.Missing = d.wish.Want &^ have
	e.Conflict = d.conflict()
	return e
}

// conflict looks for two lines of the wish that no question meets together,
// though each is met by some.
func (d *draw) conflict() *ConflictError {
	open := *d
	open.wish = NewWish()
	open.wish.Media = redox.Media
	open.wish.Species, open.wish.From, open.wish.Slow, open.wish.Margin = Any, d.wish.From, d.wish.Slow, d.wish.Margin
	open.wish.Ask = Asks
	var all []*Question
	for _, c := range open.candidates() {
		if q := open.take(c); q != nil {
			all = append(all, q)
		}
	}
	lines := d.lines()
	meets := func(q *Question, l line) bool { return l.met(q) }
	for i, a := range lines {
		for _, b := range lines[i+1:] {
			one, other, both := false, false, false
			for _, q := range all {
				x, y := meets(q, a), meets(q, b)
				one, other, both = one || x, other || y, both || x && y
			}
			if one && other && !both {
				return &ConflictError{a.text, b.text, "no question meets both"}
			}
		}
	}
	return nil
}

// A line is one wish that a question meets or does not.
type line struct {
	text string
	met  func(*Question) bool
}

// lines are the wishes that limit a set.
func (d *draw) lines() []line {
	w, usual := d.wish, NewWish()
	var out []line
	add := func(text string, met func(*Question) bool) { out = append(out, line{text, met}) }
	for i, name := range FeatureNames {
		f := Features(1) << i
		if w.Want.Has(f) {
			add("want: "+name, func(q *Question) bool { return q.Features.Has(f) })
		}
		if w.Avoid.Has(f) {
			add("avoid: "+name, func(q *Question) bool { return !q.Features.Has(f) })
		}
	}
	add("media: "+strings.Join(texts(w.Media), ", "), func(q *Question) bool { return slices.Contains(w.Media, q.Medium) })
	if w.Least != usual.Least || w.Most != usual.Most {
		add("difficulty: "+w.Least.String()+"-"+w.Most.String(), func(q *Question) bool { return q.Difficulty >= w.Least && q.Difficulty <= w.Most })
	}
	if w.Only != nil {
		add("only: "+strings.Join(texts(w.Only), ", "), func(q *Question) bool { return q.within(w.Only) })
	}
	if w.Couples != nil {
		add("couples: "+strings.Join(texts(w.Couples), ", "), func(q *Question) bool { return q.holds(w.Couples) })
	}
	if w.Species == Taught {
		add("species: taught", func(q *Question) bool { return !q.Features.Has(Unfamiliar) })
	}
	add("ask: "+strings.Join(texts(w.Ask), ", "), func(q *Question) bool {
		return slices.ContainsFunc(w.Ask, func(a Ask) bool { return q.can(a) })
	})
	return out
}

// fill deals the slots out to versions, orders them, and puts the codes on.
func (s *Set) fill(slots [][]*Question, d *draw) error {
	w := d.wish
	s.Versions = make([]Version, w.Versions)
	sums := make([]Tenths, w.Versions)
	for v := range s.Versions {
		s.Versions[v].Letter = string(rune('A' + v))
	}
	for i, slot := range slots {
		// The hardest of a slot goes to the version with the smallest sum so far,
		// so that the sums stay together.
		order := make([]int, w.Versions)
		for v := range order {
			order[v] = v
		}
		slices.SortStableFunc(order, func(a, b int) int { return int(sums[a] - sums[b]) })
		members := slices.Clone(slot)
		slices.SortStableFunc(members, func(a, b *Question) int { return int(b.Difficulty - a.Difficulty) })
		a := askOf(slot, w.Ask, i)
		reversed := a == WillItGo && d.rng.IntN(2) == 1
		for k, q := range members {
			v := order[k]
			sums[v] += q.Difficulty
			x, err := newItem(q, a, w, reversed, d.rng)
			if err != nil {
				return err
			}
			x.Slot = i + 1
			s.Versions[v].Items = append(s.Versions[v].Items, x)
		}
	}
	for v := range s.Versions {
		items := s.Versions[v].Items
		if v > 0 && w.Shuffle {
			d.rng.Shuffle(len(items), func(i, j int) { items[i], items[j] = items[j], items[i] })
		}
		for i := range items {
			items[i].Number = i + 1
		}
		s.Versions[v].Code = code(s.Versions[v].text()) + "-" + s.Versions[v].Letter
	}
	var all strings.Builder
	for _, v := range s.Versions {
		all.WriteString(v.text())
	}
	s.Code = code(all.String())
	return nil
}

// askOf returns what is asked in a slot: each ask of the wish in turn, the next
// one where the questions do not allow it.
func askOf(slot []*Question, asks []Ask, turn int) Ask {
	for k := range asks {
		a := asks[(turn+k)%len(asks)]
		if !slices.ContainsFunc(slot, func(q *Question) bool { return !q.can(a) }) {
			return a
		}
	}
	return Balance
}

// text is all of a version that its code stands for.
func (v Version) text() string {
	var b strings.Builder
	for _, x := range v.Items {
		fmt.Fprintf(&b, "%s %d %s %s %s %d", v.Letter, x.Number, x.Question.Text, x.Question.Medium, x.Ask, x.Worth)
		for _, o := range x.Options {
			fmt.Fprintf(&b, " | %s", o.Text)
		}
		b.WriteByte('\n')
	}
	return b.String()
}

// codeLetters are those that are not taken for each other in a hand.
const codeLetters = "ABCDEFGHJKLMNPQRSTUVWXYZ23456789"

// code returns five letters that stand for a text.
func code(text string) string {
	sum := sha256.Sum256([]byte(text))
	out := make([]byte, 5)
	for i := range out {
		out[i] = codeLetters[sum[i]%32]
	}
	return string(out)
}
