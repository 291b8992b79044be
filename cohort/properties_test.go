package cohort

import (
	"fmt"
	"reflect"
	"testing"

	"pgregory.net/rapid"
)

// drawScripts draws a class: few students, questions and answers, so that they
// meet; some scripts twice, some without marks.
func drawScripts(t *rapid.T) []Script {
	return rapid.SliceOfN(rapid.Custom(func(t *rapid.T) Script {
		return Script{
			Student:     fmt.Sprintf("B-%02d", rapid.IntRange(1, 8).Draw(t, "student")),
			Question:    fmt.Sprintf("Q%d", rapid.IntRange(1, 4).Draw(t, "question")),
			Earned:      rapid.IntRange(-1, 7).Draw(t, "earned"),
			OutOf:       rapid.SampledFrom([]int{7, 7, 7, 7, 7, 7, 3, 0}).Draw(t, "out of"),
			Slip:        rapid.SampledFrom([]string{"", "water", "electrons", "charge"}).Draw(t, "slip"),
			Step:        rapid.SampledFrom([]string{"", "oxygen", "electrons"}).Draw(t, "step"),
			Answer:      rapid.SampledFrom([]string{"", "a", "b", "c"}).Draw(t, "answer"),
			Provisional: rapid.Bool().Draw(t, "provisional"),
		}
	}), 0, 60).Draw(t, "scripts")
}

// drawMarks draws a full table, questions by students, out of 9.
func drawMarks(t *rapid.T) [][]float64 {
	k, n := rapid.IntRange(2, 6).Draw(t, "questions"), rapid.IntRange(3, 12).Draw(t, "students")
	table := make([][]float64, k)
	for i := range table {
		table[i] = make([]float64, n)
		for j := range table[i] {
			table[i][j] = float64(rapid.IntRange(0, 9).Draw(t, "mark"))
		}
	}
	return table
}

// scriptsOf turns a table into scripts.
func scriptsOf(table [][]float64) []Script {
	var list []Script
	for i, marks := range table {
		for j, m := range marks {
			list = append(list, Script{Student: fmt.Sprintf("B-%02d", j), Question: fmt.Sprintf("Q%d", i), Earned: int(m), OutOf: 9})
		}
	}
	return list
}

// TestOrder shuffles: nothing changes, to the last digit, while the scripts of
// one student and question keep their order among themselves.
func TestOrder(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		list := drawScripts(t)
		type place struct{ student, question string }
		queue := map[place][]Script{}
		for _, s := range list {
			p := place{s.Student, s.Question}
			queue[p] = append(queue[p], s)
		}
		var mixed []Script
		for _, s := range rapid.Permutation(list).Draw(t, "mixed") {
			p := place{s.Student, s.Question}
			mixed = append(mixed, queue[p][0])
			queue[p] = queue[p][1:]
		}
		if got, want := Summarize(mixed), Summarize(list); !reflect.DeepEqual(got, want) {
			t.Fatalf("in another order\n got %+v\nwant %+v", got, want)
		}
	})
}

// TestBounds holds the figures to their ranges and the counts to each other.
func TestBounds(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		list := drawScripts(t)
		sum := Summarize(list)
		within := func(what string, f Figure, low, high float64) {
			if f.Known() && !(low <= f.Value && f.Value <= high) {
				t.Errorf("%s = %v, want %v to %v", what, f.Value, low, high)
			}
		}
		equal := func(what string, got, want int) {
			if got != want {
				t.Errorf("%s: %d, want %d", what, got, want)
			}
		}
		if sum.Alpha.Known() && !(sum.Alpha.Value <= 1) {
			t.Errorf("alpha = %v, want at most 1", sum.Alpha.Value)
		}
		equal("scripts and replaced", sum.Scripts+sum.Replaced, len(list))
		equal("students of alpha", sum.Alpha.Students+sum.Alpha.LeftOut, sum.Students)
		var scripts, provisional, unmarked, slipped int
		for _, it := range sum.Items {
			within("difficulty", it.Difficulty, 0, 1)
			within("discrimination", it.Discrimination.Figure, -1, 1)
			scripts, provisional, unmarked = scripts+it.Scripts, provisional+it.Provisional, unmarked+it.Unmarked
			answers := it.Unanswered
			for i, g := range it.Answers {
				within("mean share of a group", g.MeanShare, 0, 1)
				equal("students of a group", len(g.Students), g.Count)
				answers += g.Count
				if i > 0 {
					if before := it.Answers[i-1]; before.Count < g.Count || before.Count == g.Count && before.Answer >= g.Answer {
						t.Errorf("group %q (%d) comes before %q (%d)", before.Answer, before.Count, g.Answer, g.Count)
					}
				}
			}
			equal("scripts in groups and unanswered", answers, it.Scripts)
		}
		equal("scripts of all questions", scripts, sum.Scripts)
		equal("provisional of all questions", provisional, sum.Provisional)
		equal("unmarked of all questions", unmarked, sum.Unmarked)
		for _, k := range sum.Kinds {
			slipped += k.Count
			within("share of a slip", Figure{Value: k.Share}, 0, 1)
		}
		equal("slips of all kinds", slipped, sum.Slipped)
	})
}

// TestOtherFormulas computes alpha from covariances and each discrimination in
// two passes of floats.
func TestOtherFormulas(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		table := drawMarks(t)
		sum := Summarize(scriptsOf(table))
		if sum.Alpha.Known() {
			near(t, "alpha", sum.Alpha.Value, alphaByCovariances(table))
		}
		for i, it := range sum.Items {
			rest := make([]float64, len(table[i]))
			for j := range rest {
				for other := range table {
					if other != i {
						rest[j] += table[other][j]
					}
				}
			}
			if it.Discrimination.Known() {
				near(t, "discrimination of "+it.Question, it.Discrimination.Value, twoPass(table[i], rest))
			}
			near(t, "difficulty of "+it.Question, it.Difficulty.Value, mean(table[i])/9)
		}
	})
}

// TestDuplicates asks one question several times: alpha and discrimination are
// 1, not nearly 1.
func TestDuplicates(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		table := drawMarks(t)
		for i := range table {
			table[i] = table[0]
		}
		sum := Summarize(scriptsOf(table))
		varies := covariance(table[0], table[0]) > 1e-6
		if sum.Alpha.Known() != varies || varies && sum.Alpha.Value != 1 {
			t.Errorf("alpha = %+v, want 1 if the marks vary: %t", sum.Alpha, varies)
		}
		for _, it := range sum.Items {
			if d := it.Discrimination; d.Known() != varies || varies && d.Value != 1 {
				t.Errorf("discrimination of %s = %+v, want 1 if the marks vary: %t", it.Question, d, varies)
			}
		}
	})
}
