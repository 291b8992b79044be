package question

import (
	"encoding/json"
	"errors"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"
)

// madeSet is a set of n questions in k versions.
func madeSet(t *testing.T, n, k int) *Set {
	t.Helper()
	w := NewWish()
	w.Questions, w.Versions, w.Seed = n, k, 3
	s, err := Make(w, pool, nil)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// checkChanged holds what must hold of a set however it was changed: numbers and
// slots count from 1 in all versions, those of one slot can stand for each other
// or are the same, and the file of the set is read back as it is, with its codes.
func checkChanged(t *testing.T, s *Set) {
	t.Helper()
	n := len(s.Versions[0].Items)
	if s.Wish.Questions != n || s.Wish.Versions != len(s.Versions) {
		t.Errorf("the wish says %d questions in %d versions, and there are %d in %d", s.Wish.Questions, s.Wish.Versions, n, len(s.Versions))
	}
	for v, version := range s.Versions {
		if len(version.Items) != n {
			t.Fatalf("version %s has %d questions, want %d", version.Letter, len(version.Items), n)
		}
		var slots []int
		for i, x := range version.Items {
			if x.Number != i+1 || v == 0 && x.Slot != i+1 {
				t.Errorf("version %s, place %d: number %d, slot %d", version.Letter, i+1, x.Number, x.Slot)
			}
			slots = append(slots, x.Slot)
			a := s.Versions[0].Items[x.Slot-1].Question
			if b := x.Question; v > 0 && a.Text != b.Text && (!a.near(b) || a.Shares(b)) {
				t.Errorf("slot %d: %s and %s cannot stand for each other", x.Slot, a.Text, b.Text)
			}
			if x.Worth != s.Versions[0].Items[x.Slot-1].Worth && a.Features == x.Question.Features && x.Worth == 77 {
				t.Errorf("slot %d: worth %d and %d", x.Slot, s.Versions[0].Items[x.Slot-1].Worth, x.Worth)
			}
		}
		slices.Sort(slots)
		for i, k := range slots {
			if k != i+1 {
				t.Fatalf("version %s has the slots %v", version.Letter, slots)
			}
		}
	}
	text, err := json.Marshal(s)
	if err != nil {
		t.Fatal(err)
	}
	back, err := ReadSet(text, nil)
	if err != nil {
		t.Fatalf("the set that was changed cannot be read back: %v", err)
	}
	if back.Code != s.Code || len(back.Notes) != len(s.Notes) {
		t.Errorf("code %s, read back %s; notes %q", s.Code, back.Code, back.Notes)
	}
}

// TestChanges changes sets at random, and checks them after each change.
func TestChanges(t *testing.T) {
	rng := rand.New(rand.NewPCG(11, 11))
	lib := Library()
	replaced := 0
	for _, versions := range []int{1, 2, 4} {
		for _, shuffle := range []bool{true, false} {
			w := NewWish()
			w.Questions, w.Versions, w.Shuffle = 6, versions, shuffle
			s, err := Make(w, pool, nil)
			if err != nil {
				t.Fatal(err)
			}
			for range 40 {
				v, n := rng.IntN(versions), len(s.Versions[0].Items)
				i := 1 + rng.IntN(n)
				before := s.Code
				switch rng.IntN(6) {
				case 0:
					j := 1 + rng.IntN(n)
					q := s.Versions[v].Items[i-1].Question
					if err := s.Move(v, i, j); err != nil {
						t.Fatal(err)
					}
					if s.Versions[v].Items[j-1].Question != q {
						t.Errorf("number %d did not become number %d", i, j)
					}
					if i != j && s.Code == before {
						t.Error("the code did not change")
					}
				case 1:
					if err := s.Remove(v, i); (err == nil) != (n > 1) {
						t.Errorf("removing one of %d: %v", n, err)
					}
				case 2:
					if err := s.SetWorth(v, i, 77); err != nil {
						t.Fatal(err)
					}
				case 3:
					all, err := s.Alternatives(v, i, pool, rng.Uint64(), 3)
					if err != nil {
						t.Fatal(err)
					}
					for _, q := range all {
						if !q.near(s.Versions[v].Items[i-1].Question) {
							t.Errorf("%s cannot stand for %s", q.Text, s.Versions[v].Items[i-1].Question.Text)
						}
					}
					if len(all) > 0 {
						worth := s.Versions[v].Items[i-1].Worth
						if err := s.Replace(v, i, all[0]); err != nil {
							t.Fatal(err)
						}
						if x := s.Versions[v].Items[i-1]; x.Question != all[0] || versions > 1 && x.Worth != worth {
							t.Errorf("number %d is %s, worth %d", i, x.Question.Text, x.Worth)
						}
					}
				case 5:
					rows, err := s.Rows(v, i, pool, rng.Uint64(), 2)
					if err != nil {
						t.Fatal(err)
					}
					if len(rows) > 0 {
						if err := s.ReplaceRow(v, i, rows[0]); err != nil {
							t.Fatal(err)
						}
						if s.Versions[v].Items[i-1].Question != rows[0][v] {
							t.Errorf("number %d is %s", i, s.Versions[v].Items[i-1].Question.Text)
						}
						replaced++
					}
				case 4:
					q := lib[rng.IntN(len(lib))]
					at := s.where(q)
					if _, err := s.Add(q, pool); (err == nil) != (at == "") {
						t.Errorf("adding %s, which stands at %q: %v", q.Text, at, err)
					}
				}
				checkChanged(t, s)
				if t.Failed() {
					t.FailNow()
				}
			}
		}
	}
	if replaced == 0 {
		t.Error("no row was replaced")
	}
}

// TestMoveAlike: versions that are not shuffled stay in one order, and the others
// have their own.
func TestMoveAlike(t *testing.T) {
	for _, shuffle := range []bool{false, true} {
		w := NewWish()
		w.Questions, w.Versions, w.Shuffle = 5, 2, shuffle
		s, err := Make(w, pool, nil)
		if err != nil {
			t.Fatal(err)
		}
		last := s.Versions[1].Items[4].Question
		if err := s.Move(0, 5, 1); err != nil {
			t.Fatal(err)
		}
		if moved := s.Versions[1].Items[0].Question == last; moved == shuffle {
			t.Errorf("shuffle %v: version B moved too: %v", shuffle, moved)
		}
	}
}

// TestRefusedChanges: what cannot be done is told, and nothing is changed.
func TestRefusedChanges(t *testing.T) {
	s := madeSet(t, 3, 2)
	first, second := s.Versions[0].Items[0].Question, s.Versions[0].Items[1].Question
	unlike, err := New("x", "As2S3 + NO3^- -> H3AsO4 + SO4^2- + NO", "acidic")
	if err != nil {
		t.Fatal(err)
	}
	code := s.Code
	for _, test := range []struct {
		name string
		do   func() error
		want string
	}{
		{"no version", func() error { return s.Move(5, 1, 2) }, "no such version"},
		{"no number", func() error { return s.Move(0, 1, 9) }, "version A has no question 9"},
		{"number 0", func() error { return s.Remove(1, 0) }, "version B has no question 0"},
		{"worth", func() error { return s.SetWorth(0, 1, 101) }, "cannot be worth 101"},
		{"twice", func() error { _, err := s.Add(first, pool); return err }, "is question 1 of version A already"},
		{"replace by one that is there", func() error { return s.Replace(0, 1, second) }, "is question 2 of version A already"},
		{"replace by one that is unlike", func() error { return s.Replace(0, 1, unlike) }, "cannot stand for question"},
		{"a row of one", func() error { return s.ReplaceRow(0, 1, []*Question{unlike}) }, "a row of this set has 2"},
		{"a row of two that are unlike", func() error { return s.ReplaceRow(0, 1, []*Question{unlike, Library()[0]}) }, "cannot stand for"},
		{"a set of none", func() error { _, _, err := Collect(NewWish(), nil); return err }, "at least one"},
	} {
		err := test.do()
		var change *ChangeError
		if !errors.As(err, &change) || !strings.Contains(err.Error(), test.want) {
			t.Errorf("%s: %v, want %q", test.name, err, test.want)
		}
	}
	if s.Code != code {
		t.Error("what was refused changed the set")
	}
}

// TestCollect makes a set of chosen questions, one of them twice.
func TestCollect(t *testing.T) {
	lib := Library()
	w := NewWish()
	w.Title, w.Versions = "Chosen", 4
	s, left, err := Collect(w, []*Question{lib[3], lib[0], lib[3]})
	if err != nil || len(left) != 1 || len(s.Versions) != 1 || len(s.Versions[0].Items) != 2 || s.Versions[0].Items[0].Question != lib[3] {
		t.Fatalf("%v, left %v, %v", s, left, err)
	}
	checkChanged(t, s)
}

// TestAddSame: a question that no other can stand for is the same in all versions.
func TestAddSame(t *testing.T) {
	s := madeSet(t, 3, 3)
	q, err := Own("own:1", "As2S3 + NO3^- -> H3AsO4 + SO4^2- + NO, in acid", "")
	if err != nil {
		t.Fatal(err)
	}
	same, err := s.Add(q, pool)
	if err != nil || !same {
		t.Fatalf("same %v, %v", same, err)
	}
	for _, v := range s.Versions {
		if v.Items[3].Question.Text != q.Text {
			t.Errorf("version %s has %s", v.Letter, v.Items[3].Question.Text)
		}
	}
	checkChanged(t, s)
}

// TestRecount mends slots that a hand has muddled: each version has each once.
func TestRecount(t *testing.T) {
	s := madeSet(t, 4, 2)
	s.Versions[0].Items[1].Slot = 9
	s.Versions[1].Items[2].Slot = 0
	s.Versions[1].Items[3].Slot = s.Versions[1].Items[0].Slot
	s.Versions[0].Items[3].Number = 1
	s.Recount()
	for _, v := range s.Versions {
		var slots []int
		for i, x := range v.Items {
			slots = append(slots, x.Slot)
			if x.Number != i+1 {
				t.Errorf("number %d at place %d", x.Number, i+1)
			}
		}
		slices.Sort(slots)
		if !slices.Equal(slots, []int{1, 2, 3, 4}) {
			t.Errorf("version %s: %v", v.Letter, slots)
		}
	}
}

// TestFilter finds questions by what one types.
func TestFilter(t *testing.T) {
	all := Library()
	for _, test := range []struct {
		name string
		f    Filter
		has  func(*Question) bool // of each that is found
		some bool
	}{
		{"all", Filter{}, func(*Question) bool { return true }, true},
		{"a formula as typed", Filter{Words: "MnO4-"}, func(q *Question) bool { return strings.Contains(q.Text, "MnO4^-") }, true},
		{"a name", Filter{Words: "Permanganate"}, func(q *Question) bool {
			return strings.Contains(q.Text, "MnO4") || strings.Contains(q.Note, "ermanganate")
		}, true},
		{"two words", Filter{Words: "MnO4- OpenStax"}, func(q *Question) bool {
			return strings.Contains(q.Source, "OpenStax") && strings.Contains(q.Text, "MnO4^-")
		}, true},
		{"a medium", Filter{Medium: "basic"}, func(q *Question) bool { return q.Medium == "basic" }, true},
		{"features", Filter{Features: WaterTwice | InBase}, func(q *Question) bool { return q.Features.Has(WaterTwice) && q.Features.Has(InBase) }, true},
		{"difficulty", Filter{Least: 30, Most: 35}, func(q *Question) bool { return q.Difficulty >= 30 && q.Difficulty <= 35 }, true},
		{"nothing", Filter{Words: "unobtainium"}, nil, false},
	} {
		found := test.f.Of(all)
		if len(found) > 0 != test.some {
			t.Errorf("%s: %d found", test.name, len(found))
		}
		for _, q := range found {
			if !test.has(q) {
				t.Errorf("%s: found %s", test.name, q.Text)
			}
		}
	}
	if n := len((Filter{Words: "MnO4-"}).Of(all)); n < 10 {
		t.Errorf("%d questions of permanganate, want ten or more", n)
	}
	if a := Ask("other"); a.Words() != "other" || Balance.Words() != "balance the equation" || len(askWords) != len(Asks) {
		t.Error("asks in words")
	}
}
