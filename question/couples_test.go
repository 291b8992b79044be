package question

import (
	"slices"
	"testing"

	"halves/balance"
	"halves/chem"
	"halves/energetics"
	"halves/redox"
)

// pool is shared by the tests: what one has worked the others need not.
var pool = NewPool(energetics.Shipped())

// TestPairs makes every question of the couples that are taught, and holds each
// to what a question promises: it balances, goes by the margin, leads back to its
// couples, and nothing of it precipitates or is unstable in the medium.
func TestPairs(t *testing.T) {
	tables := energetics.Shipped()
	for _, m := range []redox.Medium{redox.Acidic, redox.Basic} {
		n := 0
		for _, k := range pool.pairs(m, 0.2, false, false) {
			q := pool.question(k, 0.2, false)
			if q == nil {
				continue
			}
			n++
			if l, err := balance.NewLedger(q.Answer()); err != nil || !l.Closed() {
				t.Errorf("%s does not balance", q.Answer())
			}
			s, err := q.Work(redox.Conventions{})
			if err != nil {
				t.Fatal(err)
			}
			cell, err := tables.Work(s, energetics.Conditions{})
			if err != nil || cell.Verdict != energetics.Goes || cell.Volts < 0.2 {
				t.Errorf("%s: %v, %v", q.Text, cell, err)
			}
			if r := tables.Remarks(s.Equation, m); r != nil {
				t.Errorf("%s: %v", q.Text, r)
			}
			if pair := q.Pair(); len(pair) != 2 || pair[0].Volts-pair[1].Volts < 0.2 {
				t.Errorf("%s: couples %v", q.Text, q.Couples)
			}
			if s := pool.sides(m); isKept(s[k.r], s[k.o]) && (draws(q, nil) || !draws(q, append(s[k.r].oxidized, s[k.o].reduced...))) {
				t.Errorf("%s is kept for those who ask for both couples", q.ID)
			}
		}
		t.Logf("%s: %d questions", m, n)
		if n < 150 {
			t.Errorf("%d questions in %s", n, m)
		}
	}
}

// draws reports whether a wish for some species may get a question.
func draws(q *Question, wanted []*chem.Species) bool {
	w := NewWish()
	w.Couples = wanted
	d := &draw{wish: w, pool: pool}
	return slices.ContainsFunc(d.candidates(), func(c candidate) bool {
		got := d.take(c)
		return got != nil && got.ID == q.ID
	})
}

// TestBeside refuses what something else happens to (common practice, no source,
// where nothing is named).
func TestBeside(t *testing.T) {
	find := func(m redox.Medium, oxidized, reduced string) int {
		for i, s := range pool.sides(m) {
			if len(s.oxidized) == 1 && len(s.reduced) == 1 && s.oxidized[0].String() == oxidized && s.reduced[0].String() == reduced {
				return i
			}
		}
		t.Fatalf("no couple %s/%s in %s", oxidized, reduced, m)
		return -1
	}
	for _, test := range []struct {
		medium redox.Medium
		r, o   [2]string
		made   bool
		why    string
	}{
		{redox.Acidic, [2]string{"Fe^3+", "Fe^2+"}, [2]string{"Sn^4+", "Sn^2+"}, true, "OpenStax, Chemistry 2e, chapter 17"},
		{redox.Acidic, [2]string{"MnO4^-", "Mn^2+"}, [2]string{"Fe^3+", "Fe^2+"}, true, "the titration of iron"},
		{redox.Acidic, [2]string{"MnO4^-", "Mn^2+"}, [2]string{"Fe^2+", "Fe"}, false, "permanganate takes iron on to iron(III)"},
		{redox.Acidic, [2]string{"Cu^2+", "Cu"}, [2]string{"Na^+", "Na"}, false, "sodium attacks water"},
		{redox.Acidic, [2]string{"Fe^3+", "Fe^2+"}, [2]string{"Zn^2+", "Zn"}, false, "zinc attacks the acid, and takes iron(II) on to iron"},
		{redox.Acidic, [2]string{"Cr2O7^2-", "Cr^3+"}, [2]string{"Fe^3+", "Fe^2+"}, true, "OpenStax, Chemistry 2e, chapter 4"},
		{redox.Acidic, [2]string{"H2O2", "H2O"}, [2]string{"Fe^3+", "Fe^2+"}, true, "peroxide oxidizes iron(II)"},
		{redox.Acidic, [2]string{"H2O2", "H2O"}, [2]string{"Cr2O7^2-", "Cr^3+"}, false, "dichromate takes peroxide to oxygen"},
		{redox.Acidic, [2]string{"MnO4^-", "MnO2"}, [2]string{"Fe^3+", "Fe^2+"}, false, "in acid permanganate goes to manganese(II)"},
		{redox.Acidic, [2]string{"Cu^+", "Cu"}, [2]string{"Co^2+", "Co"}, false, "copper(I) breaks up into copper and copper(II)"},
		{redox.Basic, [2]string{"ClO^-", "Cl^-"}, [2]string{"CrO4^2-", "Cr(OH)4^-"}, true, "hypochlorite oxidizes chromium(III)"},
		{redox.Acidic, [2]string{"Ag^+", "Ag"}, [2]string{"Cl2", "Cl^-"}, false, "silver chloride comes down, and it does not go"},
	} {
		k := pair{test.medium, find(test.medium, test.r[0], test.r[1]), find(test.medium, test.o[0], test.o[1])}
		if q := pool.question(k, 0.2, false); (q != nil) != test.made {
			t.Errorf("%v with %v: made %v, want %v (%s)", test.r, test.o, q != nil, test.made, test.why)
		}
	}
}
