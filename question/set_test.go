package question

import (
	"bytes"
	"encoding/json"
	"errors"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"github.com/santhosh-tekuri/jsonschema/v6"

	"halves/balance"
	"halves/marking"
	"halves/redox"
)

// TestThousandSets makes 1,000 sets of 10 from random wishes. Every question is
// proved, none stands twice, every feature that is wished for is there or refused,
// and versions are equal: sums within 2 %, question by question within half a
// point, with the same features and different species.
func TestThousandSets(t *testing.T) {
	rng := rand.New(rand.NewPCG(7, 7))
	made, refused := 0, 0
	for seed := range uint64(1000) {
		w := NewWish()
		w.Seed = seed
		w.Versions = 1 + rng.IntN(4)
		w.From = []string{FromBoth, FromCouples, FromLibrary}[rng.IntN(3)]
		w.Order = []string{Rising, Stepwise, Mixed}[rng.IntN(3)]
		w.Media = [][]redox.Medium{{redox.Acidic, redox.Basic}, {redox.Acidic}, {redox.Basic}, redox.Media}[rng.IntN(4)]
		for range rng.IntN(3) {
			w.Want |= 1 << rng.IntN(len(FeatureNames))
		}
		for range rng.IntN(2) {
			w.Avoid |= 1 << rng.IntN(len(FeatureNames)) &^ w.Want
		}
		if rng.IntN(3) == 0 {
			w.Least, w.Most, w.ranged = Tenths(10+rng.IntN(20)), Tenths(40+rng.IntN(40)), true
		}
		s, err := quickly(w)
		var short *ShortError
		var conflict *ConflictError
		switch {
		case errors.As(err, &short), errors.As(err, &conflict):
			refused++
			continue
		case err != nil:
			t.Fatalf("seed %d: %v", seed, err)
		}
		made++
		checkSet(t, s)
		if t.Failed() {
			t.Fatalf("seed %d: wish %v", seed, w.lines())
		}
	}
	t.Logf("%d sets made, %d wishes refused", made, refused)
	if made < 300 {
		t.Errorf("only %d of 1,000 wishes were granted", made)
	}
}

// quickly is Make without the search for two wishes that exclude each other.
func quickly(w Wish) (*Set, error) {
	if err := w.check(); err != nil {
		return nil, err
	}
	s, _, err := grant(w, pool, nil)
	return s, err
}

func checkSet(t *testing.T, s *Set) {
	t.Helper()
	w := s.Wish
	var all []*Question
	for _, v := range s.Versions {
		var have Features
		if len(v.Items) != w.Questions {
			t.Errorf("version %s has %d questions, want %d", v.Letter, len(v.Items), w.Questions)
		}
		for i, x := range v.Items {
			q := x.Question
			have |= q.Features
			if x.Number != i+1 {
				t.Errorf("question %d is numbered %d", i+1, x.Number)
			}
			l, err := balance.NewLedger(q.Answer())
			if err != nil || !l.Closed() {
				t.Errorf("%s does not balance", q.Answer())
			}
			if q.Features&w.Avoid != 0 || q.Difficulty < w.Least || q.Difficulty > w.Most || !slices.Contains(w.Media, q.Medium) {
				t.Errorf("%s, in %s, %s, %s: not what was wished for", q.Text, q.Medium, q.Features, q.Difficulty)
			}
			if slices.ContainsFunc(all, q.Same) {
				t.Errorf("%s stands twice", q.Text)
			}
			all = append(all, q)
		}
		if !have.Has(w.Want) {
			t.Errorf("version %s lacks %s", v.Letter, w.Want&^have)
		}
	}
	if w.Order == Rising {
		for i, x := range s.Versions[0].Items[1:] {
			if before := s.Versions[0].Items[i].Question.Difficulty; x.Question.Difficulty < before {
				t.Errorf("question %d is easier than the one before: %s after %s", x.Number, x.Question.Difficulty, before)
			}
		}
	}
	least, most := s.Versions[0].Difficulty(), s.Versions[0].Difficulty()
	for _, v := range s.Versions {
		least, most = min(least, v.Difficulty()), max(most, v.Difficulty())
	}
	if 50*(most-least) > least {
		t.Errorf("the sums of the versions go from %s to %s", least, most)
	}
	for slot := 1; slot <= w.Questions; slot++ {
		var same []*Question
		for _, v := range s.Versions {
			i := slices.IndexFunc(v.Items, func(x Item) bool { return x.Slot == slot })
			if i < 0 {
				t.Fatalf("version %s has nothing in slot %d", v.Letter, slot)
			}
			q := v.Items[i].Question
			for _, r := range same {
				if d := q.Difficulty - r.Difficulty; d > near || -d > near || q.Features != r.Features || q.Medium != r.Medium || q.Shares(r) {
					t.Errorf("slot %d: %s (%s, %s) against %s (%s, %s)", slot, q.Text, q.Difficulty, q.Features, r.Text, r.Difficulty, r.Features)
				}
			}
			same = append(same, q)
		}
	}
}

// TestFairness: over 1,000 sets with no wish about species no couple is used more
// than three times its share, counted in two ways: against the questions that it
// is in, and against all couples alike.
func TestFairness(t *testing.T) {
	w := NewWish()
	w.From = FromCouples
	d := &draw{wish: w, pool: pool}
	share := map[string]int{}
	qualify := 0
	for _, c := range d.candidates() {
		if q := d.take(c); q != nil {
			qualify++
			for _, id := range q.Couples {
				share[id]++
			}
		}
	}
	used := map[string]int{}
	drawn := 0
	for seed := range uint64(1000) {
		w.Seed = seed
		s, err := quickly(w)
		if err != nil {
			t.Fatal(err)
		}
		for _, x := range s.Versions[0].Items {
			drawn++
			for _, id := range x.Question.Couples {
				used[id]++
			}
		}
	}
	worst, alike := 0.0, 0.0
	for id, n := range used {
		of := float64(n) / float64(drawn)
		expected := float64(share[id]) / float64(qualify)
		worst = max(worst, of/expected)
		alike = max(alike, of/(2/float64(len(share))))
		// A couple of one question is drawn by luck: what counts is what stands out
		// from it.
		if of > 3*expected && n > 30 {
			t.Errorf("%s is in %d of %d questions; its share is %.4f", id, n, drawn, expected)
		}
	}
	t.Logf("%d questions of %d couples qualify; used at most %.1f times the share, %.1f times the mean of all couples", qualify, len(share), worst, alike)
	if worst > 3 {
		t.Errorf("a couple is used %.1f times its share", worst)
	}
}

// TestSameSeed: the same wish gives the same set, byte for byte, on every
// platform; the codes were read off once, and change with the tables.
func TestSameSeed(t *testing.T) {
	for _, test := range []struct {
		seed uint64
		code string
	}{{1, "8LGB3"}, {2, "XHUUN"}} {
		w := NewWish()
		w.Seed, w.Versions, w.Choices = test.seed, 2, 4
		w.Ask = []Ask{Balance, Electrons, Agents, FindError}
		var texts [][]byte
		for range 2 {
			s, err := Make(w, NewPool(pool.tables), nil)
			if err != nil {
				t.Fatal(err)
			}
			b, err := json.Marshal(s)
			if err != nil {
				t.Fatal(err)
			}
			texts = append(texts, b)
			if s.Code != test.code {
				t.Errorf("seed %d gives the set %s, want %s", test.seed, s.Code, test.code)
			}
		}
		if !bytes.Equal(texts[0], texts[1]) {
			t.Errorf("seed %d gives two sets", test.seed)
		}
	}
}

// TestSetFile writes a set, reads it, and writes it again; the file keeps to its
// schema.
func TestSetFile(t *testing.T) {
	doc, err := jsonschema.UnmarshalJSON(bytes.NewReader(Schema))
	if err != nil {
		t.Fatal(err)
	}
	c := jsonschema.NewCompiler()
	if err := c.AddResource("set.schema.json", doc); err != nil {
		t.Fatal(err)
	}
	schema, err := c.Compile("set.schema.json")
	if err != nil {
		t.Fatal(err)
	}
	for seed := range uint64(12) {
		w := NewWish()
		w.Seed, w.Questions = seed, 8
		w.Ask = Asks
		if seed%2 == 1 {
			w.Choices, w.Ask = 4, []Ask{Balance, Agents, Electrons}
		}
		if seed%3 == 0 {
			w.Versions, w.Rows, w.Columns = 2, 3, 4
		}
		if seed%4 == 0 {
			w.Media = redox.Media
		}
		s, err := Make(w, pool, nil)
		if err != nil {
			t.Fatal(err)
		}
		text, err := json.Marshal(s)
		if err != nil {
			t.Fatal(err)
		}
		v, err := jsonschema.UnmarshalJSON(bytes.NewReader(text))
		if err != nil {
			t.Fatal(err)
		}
		if err := schema.Validate(v); err != nil {
			t.Errorf("seed %d: %v", seed, err)
		}
		again, err := ReadSet(text, nil)
		if err != nil {
			t.Errorf("seed %d: %v", seed, err)
			continue
		}
		if len(again.Notes) != len(s.Notes) {
			t.Errorf("seed %d: what was read is said to be changed: %v", seed, again.Notes)
		}
		second, err := json.Marshal(again)
		if err != nil {
			t.Fatal(err)
		}
		if !bytes.Equal(text, second) {
			t.Errorf("seed %d: written twice:\n%s\n%s", seed, text, second)
		}
	}
}

// TestOptions: one answer is right; each other is wrong by other code, different
// from all others, and shows something of its own.
func TestOptions(t *testing.T) {
	for seed := range uint64(30) {
		w := NewWish()
		w.Seed, w.Choices, w.Ask = seed, 4, []Ask{Balance, Electrons, Agents}
		s, err := Make(w, pool, nil)
		if err != nil {
			t.Fatal(err)
		}
		for _, x := range s.Versions[0].Items {
			if x.Options == nil {
				continue
			}
			right := 0
			shows := map[string]bool{}
			texts := map[string]bool{}
			for _, o := range x.Options {
				if texts[o.Text] {
					t.Errorf("%s: %q stands twice", x.Question.Text, o.Text)
				}
				texts[o.Text] = true
				if o.Right {
					right++
					continue
				}
				if shows[o.Shows] || o.Shows == "" {
					t.Errorf("%s: two options show %q", x.Question.Text, o.Shows)
				}
				shows[o.Shows] = true
				if x.Ask == Balance {
					checkWrong(t, x.Question, o)
				}
			}
			if right != 1 {
				t.Errorf("%s, %s: %d options are right", x.Question.Text, x.Ask, right)
			}
		}
	}
}

// checkWrong proves an option wrong by the judge of workings.
func checkWrong(t *testing.T, q *Question, o Option) {
	t.Helper()
	s, err := q.Work(redox.Conventions{})
	if err != nil {
		t.Fatal(err)
	}
	m, err := marking.NewQuestion(s)
	if err != nil {
		t.Fatal(err)
	}
	if m.Judge("final answer: " + o.Text).FinalCorrect {
		t.Errorf("%s: the option %s is right", q.Text, o.Text)
	}
	if o.Kind == "" || !slices.Contains(marking.Kinds, o.Kind) {
		t.Errorf("%s: the option %s has no kind", q.Text, o.Text)
	}
}

// TestFindError: the line that is said to be wrong is the first that the judge
// finds, and all lines of the working can be printed.
func TestFindError(t *testing.T) {
	n := 0
	for seed := range uint64(20) {
		w := NewWish()
		w.Seed, w.Ask, w.Questions = seed, []Ask{FindError}, 5
		s, err := Make(w, pool, nil)
		if err != nil {
			t.Fatal(err)
		}
		for _, x := range s.Versions[0].Items {
			if x.Ask != FindError || x.Working == nil {
				t.Errorf("%s has no slip to find", x.Question.Text)
				continue
			}
			n++
			if got := len(Lines(x.Working)); got != len(x.Working.Lines) {
				t.Errorf("%s: %d of %d lines are read", x.Question.Text, got, len(x.Working.Lines))
			}
			if x.Working.Line < 1 || x.Working.Line > len(x.Working.Lines) {
				t.Errorf("%s: line %d of %d", x.Question.Text, x.Working.Line, len(x.Working.Lines))
			}
		}
	}
	if n == 0 {
		t.Error("no working with a slip was made")
	}
}

// TestSeats: neighbours differ, with four versions or more those at a corner too.
func TestSeats(t *testing.T) {
	for versions := 2; versions <= MostVersions; versions++ {
		plan := Seats(7, 9, versions)
		used := map[string]bool{}
		for r, row := range plan {
			for c, letter := range row {
				used[letter] = true
				for _, d := range [][2]int{{0, 1}, {1, 0}, {1, 1}, {1, -1}} {
					if d[0] == 1 && d[1] != 0 && versions < 4 {
						continue
					}
					y, x := r+d[0], c+d[1]
					if y < len(plan) && x >= 0 && x < len(row) && plan[y][x] == letter {
						t.Errorf("%d versions: row %d, column %d and row %d, column %d have %s", versions, r, c, y, x, letter)
					}
				}
			}
		}
		if len(used) != versions {
			t.Errorf("%d of %d versions are used", len(used), versions)
		}
	}
	if Seats(3, 3, 1) != nil {
		t.Error("one version has a plan")
	}
}

// TestRefused: what cannot be met says what is nearest and which two wishes
// exclude each other.
func TestRefused(t *testing.T) {
	for _, test := range []struct{ wish, want string }{
		{"want: [water]\navoid: [water]", `"want: water" and "avoid: water" cannot both be met`},
		{"media: [acidic]\nwant: [base]", `"want: base" and "media: acidic" cannot both be met`},
		{"rows: 3", "a plan of seats needs both"},
		{"want: [unfamiliar]", "what is taught is familiar"},
		{"choices: 2", "3 answers or more"},
		{"from: couples\nmedia: [neutral]", `"media: neutral" and "from: couples" cannot both be met`},
		{"want: [organic, disproportionation, comproportionation, complex]\nquestions: 1", "1 question cannot have all the features"},
		{"difficulty: 9-10\nfrom: couples\nquestions: 50", "cannot both be met: no question meets both"},
		{"want: [organic]\nonly: [\"MnO4^-\", \"Mn^2+\", \"Fe^2+\", \"Fe^3+\"]", `cannot both be met: no question meets both`},
		{"difficulty: 6-7\nfrom: couples\nquestions: 50", "50 questions were asked for, and "},
		{"couples: [\"XeF2\"]\nspecies: taught\nfrom: couples", "meets"},
	} {
		w, err := ReadWish([]byte(test.wish))
		if err == nil {
			_, err = Make(w, pool, nil)
		}
		if err == nil || !strings.Contains(err.Error(), test.want) {
			t.Errorf("%q: %v, want %q", test.wish, err, test.want)
		}
		var hinted interface{ Hint() string }
		if err != nil && (!errors.As(err, &hinted) || hinted.Hint() == "") {
			t.Errorf("%q: %v has no hint", test.wish, err)
		}
	}
}

// TestOwn reads own questions, and tells of each line that makes none.
func TestOwn(t *testing.T) {
	text := `# week 7
MnO4^- + H2C2O4 -> Mn^2+ + CO2, in acid
Cu + HNO3 -> Cu(NO3)2 + NO + H2O

Fe + -> Fe^2+
AgNO3 + NaCl -> AgCl + NaNO3
MnO4^- + Fe^2+ -> Mn^2+ + Fe^3+
H2C2O4 + MnO4^- -> CO2 + Mn^2+, in acid
`
	all, faults := ReadOwn("mine.txt", []byte(text))
	if len(all) != 2 || all[0].ID != "mine.txt:2" || all[0].Medium != redox.Acidic || all[1].Medium != redox.None {
		t.Errorf("%v", all)
	}
	var lines []int
	for _, f := range faults {
		lines = append(lines, f.Line)
		if f.Msg == "" {
			t.Errorf("line %d: no message", f.Line)
		}
	}
	if !slices.Equal(lines, []int{5, 6, 7, 8}) {
		t.Errorf("faults in lines %v", lines)
	}
	w := NewWish()
	w.Questions, w.Media = 2, redox.Media
	s, err := Make(w, pool, all)
	if err != nil || len(s.Versions[0].Items) != 2 {
		t.Errorf("%v, %v", s, err)
	}
}

// BenchmarkMake makes a set from a pool that has worked nothing yet.
func BenchmarkMake(b *testing.B) {
	for _, x := range []struct {
		name                string
		questions, versions int
	}{{"questions=10/versions=1", 10, 1}, {"questions=20/versions=4", 20, 4}} {
		b.Run(x.name, func(b *testing.B) {
			w := NewWish()
			w.Questions, w.Versions = x.questions, x.versions
			b.ReportAllocs()
			for b.Loop() {
				w.Seed++
				if _, err := Make(w, NewPool(pool.tables), nil); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
