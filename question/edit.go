package question

import (
	"fmt"
	"slices"

	"halves/redox"
)

// A ChangeError says why a set cannot be changed so.
type ChangeError struct{ Msg, Tip string }

func (e *ChangeError) Error() string { return e.Msg }

// Hint says what to do, or "".
func (e *ChangeError) Hint() string { return e.Tip }

// Collect makes a set of one version of given questions, in their order. What
// cannot stand beside those before it is left out and told. The error is a
// *ChangeError where nothing is left.
func Collect(w Wish, all []*Question) (s *Set, left []error, err error) {
	w.Versions = 1
	s = &Set{Wish: w, Versions: []Version{{Letter: "A"}}}
	for _, q := range all {
		if _, err := s.Add(q, nil); err != nil {
			left = append(left, err)
		}
	}
	if len(s.Versions[0].Items) == 0 {
		return nil, left, &ChangeError{"a set has at least one question", "choose some"}
	}
	return s, left, nil
}

// At returns a question of a version. Versions count from 0, numbers from 1: At(0, 3)
// is question 3 of version A. The error is a *ChangeError.
func (s *Set) At(version, number int) (*Item, error) {
	if version < 0 || version >= len(s.Versions) {
		return nil, &ChangeError{Msg: "the set has no such version"}
	}
	items := s.Versions[version].Items
	if number < 1 || number > len(items) {
		return nil, &ChangeError{Msg: fmt.Sprintf("version %s has no question %d", s.Versions[version].Letter, number)}
	}
	return &items[number-1], nil
}

// Move puts a question elsewhere in its version: number from becomes number to.
// Where no version is shuffled all are ordered alike, and stay so.
func (s *Set) Move(version, from, to int) error {
	if _, err := s.At(version, from); err != nil {
		return err
	}
	if _, err := s.At(version, to); err != nil {
		return err
	}
	alike := !s.Wish.Shuffle && s.inOneOrder()
	for v := range s.Versions {
		if v != version && !alike {
			continue
		}
		items := s.Versions[v].Items
		x := items[from-1]
		items = slices.Insert(slices.Delete(items, from-1, from), to-1, x)
		s.Versions[v].Items = items
	}
	s.Recount()
	return nil
}

// inOneOrder reports whether all versions have their slots in one order.
func (s *Set) inOneOrder() bool {
	return !slices.ContainsFunc(s.Versions, func(v Version) bool {
		return !slices.EqualFunc(v.Items, s.Versions[0].Items, func(a, b Item) bool { return a.Slot == b.Slot })
	})
}

// Remove takes a question out, and out of the other versions those that can stand
// for it. The last one stays: a set has at least one question.
func (s *Set) Remove(version, number int) error {
	x, err := s.At(version, number)
	if err != nil {
		return err
	}
	if len(s.Versions[version].Items) == 1 {
		return &ChangeError{"a set has at least one question", "delete the set instead"}
	}
	slot := x.Slot
	for v := range s.Versions {
		items := s.Versions[v].Items
		if len(items) > 1 {
			s.Versions[v].Items = slices.DeleteFunc(items, func(y Item) bool { return y.Slot == slot })
		}
	}
	s.Recount()
	return nil
}

// MostWorth is how many marks a question can be worth.
const MostWorth = 100

// SetWorth gives a question its marks, and in the other versions those that can
// stand for it.
func (s *Set) SetWorth(version, number, worth int) error {
	x, err := s.At(version, number)
	if err != nil {
		return err
	}
	if worth < 0 || worth > MostWorth {
		return &ChangeError{fmt.Sprintf("question %d cannot be worth %d marks", number, worth), fmt.Sprintf("give a whole number from 0 to %d", MostWorth)}
	}
	slot := x.Slot
	for v := range s.Versions {
		for i := range s.Versions[v].Items {
			if y := &s.Versions[v].Items[i]; y.Slot == slot {
				y.Worth = worth
			}
		}
	}
	s.Recount()
	return nil
}

// where says where a question that is trivially the same stands already, "" for
// nowhere.
func (s *Set) where(q *Question) string {
	for _, v := range s.Versions {
		for _, x := range v.Items {
			if x.Question.Same(q) {
				if len(s.Versions) == 1 {
					return fmt.Sprintf("question %d", x.Number)
				}
				return fmt.Sprintf("question %d of version %s", x.Number, v.Letter)
			}
		}
	}
	return ""
}

// Add puts a question at the end of each version: in version A the question
// itself, in the others questions that can stand for it, from the pool and the
// library. Where there are none, or pool is nil, it is the same in all versions,
// and same is true. The error is a *ChangeError.
func (s *Set) Add(q *Question, pool *Pool) (same bool, err error) {
	n := len(s.Versions[0].Items)
	if n >= MostQuestions {
		return false, &ChangeError{fmt.Sprintf("a set has at most %d questions", MostQuestions), "begin another set"}
	}
	if at := s.where(q); at != "" {
		return false, &ChangeError{fmt.Sprintf("%s is %s already", q.Text, at), ""}
	}
	slot := []*Question{q}
	if pool != nil && len(s.Versions) > 1 {
		for _, r := range s.like(q, pool, s.Wish.Seed, 12*len(s.Versions)) {
			if len(slot) < len(s.Versions) && !slices.ContainsFunc(slot, func(m *Question) bool { return m.Shares(r) || !m.near(r) }) {
				slot = append(slot, r)
			}
		}
	}
	if len(slot) < len(s.Versions) {
		same = len(s.Versions) > 1
		slot = slices.Repeat([]*Question{q}, len(s.Versions))
	}
	ask := askOf(slot, s.Wish.Ask, n)
	rng := newRand(s.Wish.Seed + uint64(n))
	items := make([]Item, len(slot))
	for v, r := range slot {
		if items[v], err = newItem(r, ask, s.Wish, false, rng); err != nil {
			return false, err
		}
		items[v].Slot = s.free()
	}
	for v := range s.Versions {
		s.Versions[v].Items = append(s.Versions[v].Items, items[v])
	}
	s.Recount()
	return same, nil
}

// free is a slot that no item has.
func (s *Set) free() int {
	most := 0
	for _, v := range s.Versions {
		for _, x := range v.Items {
			most = max(most, x.Slot)
		}
	}
	return most + 1
}

// Alternatives lists, the most at a time, questions that could take the place of
// one: the same medium, features and ask, difficulty within half a point, in no
// version yet, and nothing in common with those of its slot in other versions.
// Another seed lists others where there are more.
func (s *Set) Alternatives(version, number int, pool *Pool, seed uint64, most int) ([]*Question, error) {
	x, err := s.At(version, number)
	if err != nil {
		return nil, err
	}
	var out []*Question
	for _, q := range s.like(x.Question, pool, seed, 4*most) {
		if len(out) < most && s.Fits(version, number, q) == nil {
			out = append(out, q)
		}
	}
	return out, nil
}

// near reports whether two questions can stand for each other.
func (q *Question) near(r *Question) bool {
	return q.Medium == r.Medium && q.Features == r.Features && max(q.Difficulty-r.Difficulty, r.Difficulty-q.Difficulty) <= near
}

// Fits reports whether a question can take the place of one: it stands in no
// version yet, it allows what is asked, and in a set of several versions it can
// stand for those of its slot. The error is a *ChangeError.
func (s *Set) Fits(version, number int, q *Question) error {
	x, err := s.At(version, number)
	if err != nil {
		return err
	}
	if at := s.where(q); at != "" {
		return &ChangeError{fmt.Sprintf("%s is %s already", q.Text, at), ""}
	}
	if !q.can(x.Ask) {
		return &ChangeError{fmt.Sprintf("%q cannot be asked of %s", x.Ask.Words(), q.Text), "choose another"}
	}
	for v := range s.Versions {
		for _, y := range s.Versions[v].Items {
			if v == version || y.Slot != x.Slot {
				continue
			}
			if m := y.Question; !m.near(q) || m.Shares(q) {
				return &ChangeError{fmt.Sprintf("%s cannot stand for question %d of version %s", q.Text, y.Number, s.Versions[v].Letter),
					"the questions of one row have the same medium and features, difficulty within half a point, and no species in common"}
			}
		}
	}
	return nil
}

// Replace puts a question in the place of one, with what is asked and its marks,
// if these were given by hand. The error is a *ChangeError.
func (s *Set) Replace(version, number int, q *Question) error {
	if err := s.Fits(version, number, q); err != nil {
		return err
	}
	x, err := s.At(version, number)
	if err != nil {
		return err
	}
	rng := newRand(s.Wish.Seed + uint64(number))
	usual, err := newItem(x.Question, x.Ask, s.Wish, false, rng)
	if err != nil {
		return err
	}
	y, err := newItem(q, x.Ask, s.Wish, x.Reversed, rng)
	if err != nil {
		return err
	}
	y.Number, y.Slot = x.Number, x.Slot
	if len(s.Versions) > 1 || x.Worth != usual.Worth {
		y.Worth = x.Worth // versions are worth the same
	}
	*x = y
	s.Recount()
	return nil
}

// Rows draws other rows for the place of one, the most at a time: a question for each
// version, all of the same medium, features and difficulty among themselves, and as
// hard as those that are there to within a point. None of them is in the set.
func (s *Set) Rows(version, number int, pool *Pool, seed uint64, most int) ([][]*Question, error) {
	x, err := s.At(version, number)
	if err != nil {
		return nil, err
	}
	q := x.Question
	w := s.Wish
	w.Questions, w.Versions, w.Order, w.ranged = 3*most, len(s.Versions), Mixed, false
	w.Media, w.Want, w.Ask = []redox.Medium{q.Medium}, 0, []Ask{x.Ask}
	w.Least, w.Most = max(q.Difficulty-2*near, Easiest), min(q.Difficulty+2*near, Hardest)
	d := &draw{wish: w, pool: pool, rng: newRand(seed), apart: near}
	all := d.candidates()
	d.rng.Shuffle(len(all), func(i, j int) { all[i], all[j] = all[j], all[i] })
	d.run(all)
	out := slices.DeleteFunc(d.slots, func(row []*Question) bool {
		return slices.ContainsFunc(row, func(r *Question) bool { return s.where(r) != "" })
	})
	return out[:min(most, len(out))], nil
}

// ReplaceRow puts a row, a question for each version, in the place of those that can
// stand for one now. Their places, what is asked and, if they were given by hand,
// the marks stay. The error is a *ChangeError.
func (s *Set) ReplaceRow(version, number int, row []*Question) error {
	x, err := s.At(version, number)
	if err != nil {
		return err
	}
	if len(row) != len(s.Versions) {
		return &ChangeError{Msg: fmt.Sprintf("a row of this set has %d questions", len(s.Versions))}
	}
	for i, q := range row {
		if at := s.where(q); at != "" {
			return &ChangeError{fmt.Sprintf("%s is %s already", q.Text, at), ""}
		}
		if !q.can(x.Ask) {
			return &ChangeError{fmt.Sprintf("%q cannot be asked of %s", x.Ask.Words(), q.Text), "choose others"}
		}
		if !q.near(row[0]) || slices.ContainsFunc(row[:i], q.Shares) {
			return &ChangeError{Msg: fmt.Sprintf("%s cannot stand for %s", q.Text, row[0].Text)}
		}
	}
	slot, ask := x.Slot, x.Ask
	usual, err := newItem(x.Question, ask, s.Wish, false, newRand(s.Wish.Seed))
	if err != nil {
		return err
	}
	byHand := x.Worth != usual.Worth
	var fresh []Item
	rng := newRand(s.Wish.Seed + uint64(number))
	for _, q := range row {
		y, err := newItem(q, ask, s.Wish, x.Reversed, rng)
		if err != nil {
			return err
		}
		fresh = append(fresh, y)
	}
	for v := range s.Versions {
		for i := range s.Versions[v].Items {
			if y := &s.Versions[v].Items[i]; y.Slot == slot {
				fresh[v].Number, fresh[v].Slot = y.Number, slot
				if byHand {
					fresh[v].Worth = y.Worth
				}
				*y = fresh[v]
			}
		}
	}
	s.Recount()
	return nil
}

// like draws questions that could stand for one by their medium, features and
// difficulty, and that no version holds.
func (s *Set) like(q *Question, pool *Pool, seed uint64, most int) []*Question {
	w := s.Wish
	w.Media, w.Want, w.Avoid = []redox.Medium{q.Medium}, 0, ^q.Features
	w.Least, w.Most = max(q.Difficulty-near, Easiest), min(q.Difficulty+near, Hardest)
	w.Ask = Asks
	if q.Features.Has(Unfamiliar) {
		w.Species = Any
	}
	d := &draw{wish: w, pool: pool, rng: newRand(seed)}
	all := d.candidates()
	d.rng.Shuffle(len(all), func(i, j int) { all[i], all[j] = all[j], all[i] })
	var out []*Question
	for _, c := range all {
		if len(out) == most {
			break
		}
		if r := d.take(c); r != nil && r.near(q) && s.where(r) == "" && !slices.ContainsFunc(out, r.Same) {
			out = append(out, r)
		}
	}
	return out
}
