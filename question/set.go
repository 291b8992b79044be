package question

import (
	"crypto/sha256"
	"errors"
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
	Few          bool     // so few questions cannot have all of Missing
	Conflict     *ConflictError
	Alone        string // a line of the wish that no question meets, whatever the others; "" for none
}

func (e *ShortError) Error() string {
	switch {
	case e.Few:
		return fmt.Sprintf("%d question%s cannot have all the features that are wished for; left out would be: %s", e.Asked, plural(e.Asked), strings.Join(e.Missing.Words(), ", "))
	case e.Alone != "":
		return fmt.Sprintf("no question at all meets %q", e.Alone)
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
	case e.Few:
		return "ask for more questions, or for fewer features"
	case e.Conflict != nil:
		return e.Conflict.Hint()
	case e.Missing != 0 && e.Found > 0:
		return "leave that feature out, or widen the media, the difficulty or the species (species: any)"
	case e.Found == 0 && e.Versions > 1:
		return "widen the media, the difficulty or the species (species: any), or ask for fewer versions"
	case e.Found == 0:
		return "widen the media, the difficulty or the species (species: any)"
	case e.Versions > 1:
		return fmt.Sprintf("ask for %d, or for fewer versions, or widen the species (species: any)", e.Found)
	}
	return fmt.Sprintf("ask for %d, or widen the media, the difficulty or the species (species: any)", e.Found)
}

// Make makes the set of a wish from a pool, or from own questions alone where
// there are some. The errors are *ConflictError and *ShortError.
func Make(w Wish, pool *Pool, own []*Question) (*Set, error) {
	if err := w.check(); err != nil {
		return nil, err
	}
	s, failed, err := grant(w, pool, own)
	var short *ShortError
	if failed != nil && errors.As(err, &short) && !short.Few {
		return nil, failed.short()
	}
	return s, err
}

// grant draws a set. Where the wish cannot be met it returns the draw that failed,
// with a *ShortError that does not say yet which wishes exclude each other.
func grant(w Wish, pool *Pool, own []*Question) (s *Set, failed *draw, err error) {
	// Where the sums of the versions are too far apart, questions that are nearer to
	// each other are drawn.
	for _, apart := range []Tenths{near, near / 2, 0} {
		d := &draw{wish: w, pool: pool, own: own, rng: newRand(w.Seed), apart: apart}
		all := d.candidates()
		d.rng.Shuffle(len(all), func(i, j int) { all[i], all[j] = all[j], all[i] })
		d.run(all)
		if len(d.slots) < w.Questions || !d.covered() {
			return nil, d, &ShortError{Asked: w.Questions, Found: len(d.slots), Versions: w.Versions}
		}
		chosen, notes := d.choose()
		var have Features
		for _, slot := range chosen {
			have |= slot[0].Features
		}
		if missing := w.Want &^ have; missing != 0 {
			d.slots = chosen
			return nil, d, &ShortError{Asked: w.Questions, Found: len(chosen), Versions: w.Versions, Missing: missing, Few: true}
		}
		dealt, equal := deal(chosen, w.Versions)
		if !equal {
			continue
		}
		s = &Set{Wish: w, Notes: notes}
		return s, nil, s.fill(dealt, d)
	}
	return nil, nil, &ShortError{Asked: w.Questions, Versions: w.Versions} // with nothing apart all sums are equal
}

// short says what a draw that failed could do, and which two wishes exclude each
// other.
func (d *draw) short() *ShortError {
	e := &ShortError{Asked: d.wish.Questions, Found: len(d.slots), Versions: d.wish.Versions}
	var have Features
	for _, s := range d.slots {
		have |= s[0].Features
	}
	e.Missing = d.wish.Want &^ have
	e.Alone, e.Conflict = d.conflict()
	return e
}

// conflict looks for a line of the wish that no question meets, and for two that
// none meets together, though each is met by some.
func (d *draw) conflict() (alone string, two *ConflictError) {
	open := *d
	open.wish = NewWish()
	open.wish.Media = redox.Media
	open.wish.Species, open.wish.Slow, open.wish.Margin = d.wish.Species, d.wish.Slow, d.wish.Margin
	open.wish.Ask = Asks
	var all []*Question
	for _, c := range open.candidates() {
		if q := open.take(c); q != nil {
			all = append(all, q)
		}
	}
	lines := d.lines()
	for _, l := range lines {
		if !slices.ContainsFunc(all, l.met) {
			return l.text, nil
		}
	}
	meets := func(q *Question, l line) bool { return l.met(q) }
	for i, a := range lines {
		for _, b := range lines[i+1:] {
			one, other, both := false, false, false
			for _, q := range all {
				x, y := meets(q, a), meets(q, b)
				one, other, both = one || x, other || y, both || x && y
			}
			if one && other && !both {
				return "", &ConflictError{a.text, b.text, "no question meets both"}
			}
		}
	}
	return "", nil
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
	switch w.From {
	case FromCouples:
		add("from: couples", func(q *Question) bool { return q.Couples != nil })
	case FromLibrary:
		add("from: library", func(q *Question) bool { return q.Couples == nil })
	}
	add("ask: "+strings.Join(texts(w.Ask), ", "), func(q *Question) bool {
		return slices.ContainsFunc(w.Ask, func(a Ask) bool { return q.can(a) })
	})
	return out
}

// fill makes the items of slots that were dealt out to versions, orders them, and
// puts the codes on.
func (s *Set) fill(slots [][]*Question, d *draw) error {
	w := d.wish
	s.Versions = make([]Version, w.Versions)
	for v := range s.Versions {
		s.Versions[v].Letter = string(rune('A' + v))
	}
	for i, slot := range slots {
		a := askOf(slot, w.Ask, i)
		reversed := a == WillItGo && d.rng.IntN(2) == 1
		items := make([]Item, len(slot))
		for v, q := range slot {
			x, err := newItem(q, a, w, reversed, d.rng)
			if err != nil {
				return err
			}
			x.Slot = i + 1
			items[v] = x
		}
		alikeOptions(items, d.rng)
		for v, x := range items {
			s.Versions[v].Items = append(s.Versions[v].Items, x)
		}
	}
	if w.Order == Rising {
		s.rise()
	}
	for v := range s.Versions {
		items := s.Versions[v].Items
		if v > 0 && w.Shuffle {
			d.rng.Shuffle(len(items), func(i, j int) { items[i], items[j] = items[j], items[i] })
		}
	}
	s.Recount()
	return nil
}

// Recount numbers the questions of each version, and the slots by the order of
// version A; it counts questions, versions and the check codes. A set that was
// changed is counted again before it is kept.
func (s *Set) Recount() {
	s.Wish.Versions = len(s.Versions)
	slots := map[int]int{} // from what they were to what they are
	for v := range s.Versions {
		items := s.Versions[v].Items
		if v == 0 {
			s.Wish.Questions = len(items)
		}
		taken := map[int]bool{} // slots of this version
		for i := range items {
			items[i].Number = i + 1
			if v == 0 {
				slots[items[i].Slot] = i + 1
				items[i].Slot = i + 1
				continue
			}
			k := slots[items[i].Slot]
			for n := 1; k == 0 || taken[k]; n++ {
				k = n // a slot that version A does not have, or that stands here twice
			}
			taken[k] = true
			items[i].Slot = k
		}
	}
	s.recode()
}

// recode counts the check codes.
func (s *Set) recode() {
	var all strings.Builder
	for v := range s.Versions {
		text := s.Versions[v].text()
		s.Versions[v].Code = code(text) + "-" + s.Versions[v].Letter
		all.WriteString(text)
	}
	s.Code = code(all.String())
}

// plural is "s" for more than one.
func plural(n int) string {
	if n == 1 {
		return ""
	}
	return "s"
}

// deal gives each question of a slot to a version, so that the sums of the
// difficulties are as near to each other as exchanges within a slot can bring
// them: as long as one brings the hardest version nearer to the easiest it is made.
// equal says that they are within two in a hundred.
func deal(slots [][]*Question, versions int) (out [][]*Question, equal bool) {
	out = make([][]*Question, len(slots))
	sums := make([]Tenths, versions)
	for i, slot := range slots {
		out[i] = slices.Clone(slot)
		for v, q := range slot {
			sums[v] += q.Difficulty
		}
	}
	for {
		hard, easy := 0, 0
		for v := range sums {
			if sums[v] > sums[hard] {
				hard = v
			}
			if sums[v] < sums[easy] {
				easy = v
			}
		}
		gap := sums[hard] - sums[easy]
		best, gain := -1, Tenths(0)
		for i, slot := range out {
			moved := slot[hard].Difficulty - slot[easy].Difficulty
			// The gap shrinks by twice what is moved, and may turn round.
			if g := gap - max(gap-2*moved, 2*moved-gap); moved > 0 && g > gain {
				best, gain = i, g
			}
		}
		if best < 0 {
			return out, 50*gap <= sums[easy]
		}
		moved := out[best][hard].Difficulty - out[best][easy].Difficulty
		out[best][hard], out[best][easy] = out[best][easy], out[best][hard]
		sums[hard] -= moved
		sums[easy] += moved
	}
}

// rise orders the slots by the difficulty that they have in version A.
func (s *Set) rise() {
	order := make([]int, len(s.Versions[0].Items))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int {
		return int(s.Versions[0].Items[a].Question.Difficulty - s.Versions[0].Items[b].Question.Difficulty)
	})
	for v := range s.Versions {
		items := make([]Item, len(order))
		for i, k := range order {
			items[i] = s.Versions[v].Items[k]
			items[i].Slot = i + 1
		}
		s.Versions[v].Items = items
	}
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
		fmt.Fprintf(&b, "%s %d %s %s %s %d %v %v", v.Letter, x.Number, x.Question.Text, x.Question.Medium, x.Ask, x.Worth, x.Reversed, x.Question.Couples)
		if x.Working != nil {
			fmt.Fprintf(&b, " %q", x.Working.Lines)
		}
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
