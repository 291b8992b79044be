package cohort

import (
	"fmt"
	"reflect"
	"strings"
	"testing"
)

// small is a class of three students with two questions, invented.
var small = []Script{
	{Student: "B-01", Question: "Q1", Earned: 1, OutOf: 4, Slip: "electrons", Step: "charge", Answer: "a"},
	{Student: "B-02", Question: "Q1", Earned: 2, OutOf: 4, Slip: "water", Step: "oxygen", Answer: "b"},
	{Student: "B-03", Question: "Q1", Earned: 3, OutOf: 4, Answer: "b", Provisional: true},
	{Student: "B-01", Question: "Q2", Earned: 1, OutOf: 4, Slip: "electrons", Step: "charge"},
	{Student: "B-02", Question: "Q2", Earned: 3, OutOf: 4, Slip: "unread", Answer: "c"},
	{Student: "B-03", Question: "Q2", Earned: 2, OutOf: 4, Slip: "arrow", Answer: "c"},
}

// TestSummarize holds every field of a class that is small enough to do by
// hand. Marks 1 2 3 and 1 3 2: deviations -1 0 1 and -1 1 0, so the correlation
// is 1/2. Variances 1 and 1, of the totals 2 5 5 it is 3: alpha is
// 2(1 - 2/3) = 2/3, and by Spearman and Brown's formula for two questions of
// one variance 2r/(1+r) = 2/3 too.
func TestSummarize(t *testing.T) {
	half := Discrimination{Figure{Value: 0.5}, 3, 0}
	want := Summary{
		Scripts: 6, Students: 3, Provisional: 1, Slipped: 5,
		Kinds: []Tally{{"electrons", 2, 1.0 / 3}, {"arrow", 1, 1.0 / 6}, {"unread", 1, 1.0 / 6}, {"water", 1, 1.0 / 6}},
		Steps: []Tally{{"charge", 2, 1.0 / 3}, {"oxygen", 1, 1.0 / 6}},
		Items: []Item{
			{Question: "Q1", Scripts: 3, Provisional: 1, Difficulty: Figure{Value: 0.5}, Discrimination: half, Answers: []Group{
				{"b", []string{"B-02", "B-03"}, 2, Figure{Value: 5.0 / 8}},
				{"a", []string{"B-01"}, 1, Figure{Value: 1.0 / 4}},
			}},
			{Question: "Q2", Scripts: 3, Difficulty: Figure{Value: 0.5}, Discrimination: half, Unanswered: 1, Answers: []Group{
				{"c", []string{"B-02", "B-03"}, 2, Figure{Value: 5.0 / 8}},
			}},
		},
		Alpha: Alpha{Figure{Value: 2.0 / 3}, 2, 3, 0},
	}
	if got := Summarize(small); !reflect.DeepEqual(got, want) {
		t.Errorf("Summarize(small)\n got %+v\nwant %+v", got, want)
	}
}

func TestSummarizeNothing(t *testing.T) {
	want := Summary{Alpha: Alpha{Figure: Figure{Reason: "questions with marks: 0; it takes 2"}}}
	for _, none := range [][]Script{nil, {}} {
		if got := Summarize(none); !reflect.DeepEqual(got, want) {
			t.Errorf("Summarize(%#v)\n got %+v\nwant %+v", none, got, want)
		}
	}
}

// TestLaterScript hands in again: the last script stands, even with fewer
// marks, and the caller's list is left as it was.
func TestLaterScript(t *testing.T) {
	list := []Script{
		{Student: "B-01", Question: "Q1", Earned: 4, OutOf: 4, Slip: "water", Step: "oxygen", Answer: "a", Provisional: true},
		{Student: "B-02", Question: "Q1", Earned: 1, OutOf: 4, Answer: "a"},
		{Student: "B-01", Question: "Q1", Earned: 3, OutOf: 4, Answer: "b"},
		{Student: "B-01", Question: "Q1", Earned: 0, OutOf: 4, Answer: "c"},
	}
	before := append([]Script(nil), list...)
	got := Summarize(list)
	want := Summarize([]Script{list[1], list[3]})
	want.Replaced = 2
	if !reflect.DeepEqual(got, want) {
		t.Errorf("Summarize with two replaced scripts\n got %+v\nwant %+v", got, want)
	}
	if d := got.Items[0].Difficulty; d.Value != 1.0/8 {
		t.Errorf("difficulty = %v, want 1/8: the marks 1 and 0 of 4", d)
	}
	if !reflect.DeepEqual(list, before) {
		t.Error("Summarize changed the scripts that it was given")
	}
}

// marks makes scripts from rows, one for each student, of columns, one for
// each question; all out of 4. A column "-" is no script, "?" one without marks,
// and 3/5 is out of 5.
func marks(rows ...string) []Script {
	var list []Script
	for i, row := range rows {
		for j, cell := range strings.Fields(row) {
			s := Script{Student: fmt.Sprintf("B-%02d", i+1), Question: fmt.Sprintf("Q%d", j+1), OutOf: 4}
			switch {
			case cell == "-":
				continue
			case cell == "?":
				s.OutOf = 0
			case strings.Contains(cell, "/"):
				fmt.Sscanf(cell, "%d/%d", &s.Earned, &s.OutOf)
			default:
				fmt.Sscanf(cell, "%d", &s.Earned)
			}
			list = append(list, s)
		}
	}
	return list
}

// TestReasons has each reason for which there is no figure.
func TestReasons(t *testing.T) {
	const (
		single = "there is no other question with marks"
		uneven = "question Q2 is out of 4 for some students and out of 5 for others, so totals cannot be compared"
	)
	tests := []struct {
		name           string
		rows           string // one for each student
		discrimination string // of Q1
		alpha          string
	}{
		{"one student", "1 2", "students with marks for this question and for another: 1; it takes 3", "students with marks for all 2 questions: 1; it takes 2"},
		{"two students", "1 2, 2 3", "students with marks for this question and for another: 2; it takes 3", ""},
		{"three students", "1 2, 2 3, 3 3", "", ""},
		{"one question", "1, 2, 3", single, "questions with marks: 1; it takes 2"},
		{"other question without marks", "1 ?, 2 ?, 3 ?", single, "questions with marks: 1; it takes 2"},
		{"no marks at all", "? 1, ? 2, ? 3", "no script has marks", "questions with marks: 1; it takes 2"},
		{"question does not vary", "2 1, 2 2, 2 3", "all students have the same marks for this question", ""},
		{"the rest does not vary", "1 2, 2 2, 3 2", "all students have the same total for the other questions", ""},
		{"the total does not vary", "1 3, 2 2, 3 1", "", "all students have the same total"},
		{"nobody has both", "1 -, - 2, 3 -", "students with marks for this question and for another: 0; it takes 3", "students with marks for all 2 questions: 0; it takes 2"},
		{"two scales", "1 2, 2 3, 3 3/5", uneven, uneven},
	}
	for _, tt := range tests {
		sum := Summarize(marks(strings.Split(tt.rows, ",")...))
		for _, f := range []struct {
			name string
			got  Figure
			want string
		}{
			{"discrimination", sum.Items[0].Discrimination.Figure, tt.discrimination},
			{"alpha", sum.Alpha.Figure, tt.alpha},
		} {
			if f.got.Reason != f.want || f.got.Known() != (f.want == "") || !f.got.Known() && f.got.Value != 0 {
				t.Errorf("%s: %s = %+v, want the reason %q", tt.name, f.name, f.got, f.want)
			}
		}
	}
}

// TestLeftOut has students who lack a question: alpha leaves them out and says
// how many; a discrimination takes the total that there is.
func TestLeftOut(t *testing.T) {
	sum := Summarize(marks("1 1 0", "2 3 0", "3 2 0", "4 0 -", "4 ? 1", "4 - -", "? ? ?"))
	a := sum.Alpha
	if a.Questions != 3 || a.Students != 3 || a.LeftOut != 4 {
		t.Errorf("alpha = %+v, want 3 questions, 3 students and 4 left out", a)
	}
	// Variances 1, 1 and 0, of the total 3: 3/2 (1 - 2/3).
	if a.Value != 0.5 {
		t.Errorf("alpha = %v, want 1/2", a.Value)
	}
	// The marks 1 2 3 4 4 beside 1 3 2 0 1.
	d := sum.Items[0].Discrimination
	if d.Students != 5 || d.Partial != 2 {
		t.Errorf("discrimination of Q1 = %+v, want 5 students, 2 of them with part of the questions", d)
	}
	near(t, "discrimination of Q1", d.Value, twoPass([]float64{1, 2, 3, 4, 4}, []float64{1, 3, 2, 0, 1}))
	if sum.Unmarked != 4 || sum.Items[1].Unmarked != 2 || sum.Items[1].Scripts != 6 {
		t.Errorf("unmarked = %d, of Q2 %d among %d; want 4, 2 among 6", sum.Unmarked, sum.Items[1].Unmarked, sum.Items[1].Scripts)
	}
}

// TestUnmarked has each way in which marks cannot be used. The slip and the
// answer count all the same.
func TestUnmarked(t *testing.T) {
	tests := []struct {
		earned, outOf int
		want          bool
	}{
		{0, 1, true}, {1, 1, true}, {MaxMarks, MaxMarks, true},
		{0, 0, false}, {-1, 4, false}, {5, 4, false}, {-2, -1, false}, {1, MaxMarks + 1, false},
	}
	for _, tt := range tests {
		sum := Summarize([]Script{{Student: "B-01", Question: "Q1", Earned: tt.earned, OutOf: tt.outOf, Slip: "water", Answer: "a"}})
		it := sum.Items[0]
		if got := sum.Unmarked == 0; got != tt.want || it.Difficulty.Known() != tt.want || it.Answers[0].MeanShare.Known() != tt.want {
			t.Errorf("%d of %d: marks used = %t, want %t: %+v", tt.earned, tt.outOf, got, tt.want, sum)
		}
		if got := sum.Alpha.Students == 1; got != tt.want || sum.Alpha.Students+sum.Alpha.LeftOut != 1 {
			t.Errorf("%d of %d: alpha = %+v, want the student in it: %t", tt.earned, tt.outOf, sum.Alpha, tt.want)
		}
		if sum.Slipped != 1 || it.Answers[0].Count != 1 {
			t.Errorf("%d of %d: the slip or the answer is not counted: %+v", tt.earned, tt.outOf, sum)
		}
	}
}

// TestDifficultyOnTwoScales is the mean of shares, not the share of the sums:
// (1/4 + 5/5)/2, where 6 of 9 would be 2/3.
func TestDifficultyOnTwoScales(t *testing.T) {
	if got := Summarize(marks("1", "5/5")).Items[0].Difficulty; got.Value != 5.0/8 {
		t.Errorf("difficulty = %+v, want 5/8", got)
	}
}

// TestLargeClass has 10,001 students of five kinds, all alike in both
// questions, and one more who lacks one.
func TestLargeClass(t *testing.T) {
	const n = 10_001
	list := []Script{{Student: "late", Question: "Q1", Earned: 2, OutOf: 4}}
	for i := range n {
		student, answer := fmt.Sprintf("S-%05d", i), fmt.Sprint("answer ", i%5)
		for _, q := range []string{"Q1", "Q2"} {
			list = append(list, Script{Student: student, Question: q, Earned: i % 5, OutOf: 4, Answer: answer})
		}
	}
	sum := Summarize(list)
	if sum.Students != n+1 || sum.Alpha.Students != n || sum.Alpha.LeftOut != 1 || sum.Alpha.Value != 1 {
		t.Errorf("students = %d, alpha = %+v; want %d, and 1 from %d", sum.Students, sum.Alpha, n+1, n)
	}
	// 2000 students of each kind, one more with 0: 2000(0+1+2+3+4)/(4*10001).
	near(t, "difficulty of Q2", sum.Items[1].Difficulty.Value, 20000.0/40004)
	for i, g := range sum.Items[1].Answers {
		want := 2000
		if i == 0 {
			want++
		}
		if g.Count != want || g.Answer != fmt.Sprint("answer ", i) || g.MeanShare.Value != float64(i)/4 {
			t.Errorf("group %d = %s, %d students, %+v", i, g.Answer, g.Count, g.MeanShare)
		}
	}
}

func BenchmarkSummarize(b *testing.B) {
	for _, n := range []int{280, 100_000} {
		// Ten questions, answers of which a third are alike, in no order.
		list := make([]Script, n)
		for i := range list {
			at := i * 7919 % n // 7919 is prime to n: each place once
			list[at] = Script{
				Student: fmt.Sprintf("S-%05d", i/10), Question: fmt.Sprintf("Q%d", i%10),
				Earned: i * 31 % 9, OutOf: 8, Slip: []string{"", "water", "electrons"}[i%3], Step: "charge",
				Answer: fmt.Sprint("answer ", i*17%(n/3)),
			}
		}
		b.Run(fmt.Sprintf("scripts=%d", n), func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				if sum := Summarize(list); sum.Scripts != n {
					b.Fatal(sum.Scripts)
				}
			}
		})
	}
}
