package marking

import (
	"bufio"
	"encoding/json"
	"os"
	"slices"
	"strings"
	"testing"

	"halves/redox"
)

type sample struct {
	ID       string
	Question struct{ Skeleton, Medium string }
	Text     string
	Expect   struct {
		Class        string
		First        *int  `json:"first_wrong_line"`
		Accept       []int `json:"accept_lines"`
		Kind         *string
		Kinds        []string `json:"accept_kinds"`
		FinalCorrect bool     `json:"final_correct"`
		OK           []int    `json:"ok_lines"`
		Follows      []int    `json:"follows_lines"`
		Recovered    []int    `json:"recovered_lines"`
	}
}

func samples(t testing.TB) []sample {
	t.Helper()
	f, err := os.Open("testdata/workings.jsonl")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	var all []sample
	sc := bufio.NewScanner(f)
	sc.Buffer(nil, 4<<20)
	for sc.Scan() {
		var s sample
		if err := json.Unmarshal(sc.Bytes(), &s); err != nil {
			t.Fatal(err)
		}
		all = append(all, s)
	}
	return all
}

func questionOf(t testing.TB, skeleton, medium string) *Question {
	t.Helper()
	s, err := redox.Work(skeleton, redox.Medium(medium), redox.Conventions{})
	if err != nil {
		t.Fatalf("%s: %v", skeleton, err)
	}
	q, err := NewQuestion(s)
	if err != nil {
		t.Fatalf("%s: %v", skeleton, err)
	}
	return q
}

// TestSamples holds the judge to 136 labelled workings, of which it has no list:
// the first wrong line, its kind, and no false alarm. Of the other lines it logs
// those that the labels see otherwise.
func TestSamples(t *testing.T) {
	line, kind, slips, alarms, finals, others, all := 0, 0, 0, 0, 0, 0, 0
	for _, s := range samples(t) {
		q := questionOf(t, s.Question.Skeleton, s.Question.Medium)
		r := q.Judge(s.Text)
		all++
		if r.FinalCorrect == s.Expect.FinalCorrect {
			finals++
		} else {
			t.Logf("%s: final %v, want %v", s.ID, r.FinalCorrect, s.Expect.FinalCorrect)
		}
		for _, g := range []struct {
			want  string
			lines []int
			ok    []Verdict
		}{
			{"ok", s.Expect.OK, []Verdict{Stands, Comment, Recovered, Follows}},
			{"follows", s.Expect.Follows, []Verdict{Follows, Stands, Comment, Recovered}},
			{"recovered", s.Expect.Recovered, []Verdict{Recovered}},
		} {
			for _, n := range g.lines {
				if !slices.Contains(g.ok, r.Lines[n-1].Verdict) {
					others++
					t.Logf("%s: line %d is %s %s (%s), want %s\n%s", s.ID, n, r.Lines[n-1].Verdict, r.Lines[n-1].Kind, r.Lines[n-1].Why, g.want, s.Text)
				}
			}
		}
		if s.Expect.First == nil {
			if r.FirstSlip != 0 {
				alarms++
				t.Logf("%s (%s): false alarm, line %d %s: %s\n%s", s.ID, s.Expect.Class, r.FirstSlip, r.Kind, r.Lines[r.FirstSlip-1].Why, s.Text)
			}
			continue
		}
		slips++
		if slices.Contains(s.Expect.Accept, r.FirstSlip) {
			line++
		} else {
			t.Logf("%s: first slip %d %s, want %v %v\n%s", s.ID, r.FirstSlip, r.Kind, s.Expect.Accept, s.Expect.Kinds, s.Text)
			continue
		}
		if slices.Contains(s.Expect.Kinds, string(r.Kind)) {
			kind++
		} else {
			t.Logf("%s: line %d kind %s (%s), want %v\n%s", s.ID, r.FirstSlip, r.Kind, r.Lines[r.FirstSlip-1].Why, s.Expect.Kinds, s.Text)
		}
	}
	t.Logf("%d: first slip %d of %d, kind %d, false alarms %d, finals %d, other lines amiss %d", all, line, slips, kind, alarms, finals, others)
	if line*100 < slips*99 || kind*100 < slips*95 || alarms > 0 || finals < all || others > 3 {
		t.Error("that is not good enough")
	}
}

// TestJudgeSoFar: line by line, the verdicts are those of the working when it is
// handed in, but for the last whole equation.
func TestJudgeSoFar(t *testing.T) {
	for _, s := range samples(t) {
		q := questionOf(t, s.Question.Skeleton, s.Question.Medium)
		whole := q.Judge(s.Text)
		lines := strings.Split(strings.NewReplacer("\r\n", "\n", "\r", "\n").Replace(s.Text), "\n")
		for n := 1; n <= len(lines); n++ {
			r := q.JudgeSoFar(strings.Join(lines[:n], "\n"))
			last := -1
			for i, l := range r.Lines {
				if l.Thread == "overall" {
					last = i
				}
			}
			for i, l := range r.Lines {
				if i == last || l.Thread != "overall" && whole.Lines[i].Thread == "overall" {
					continue
				}
				if l.Verdict != whole.Lines[i].Verdict || l.Kind != whole.Lines[i].Kind {
					t.Errorf("%s: after %d lines line %d is %s %s, and %s %s in the end\n%s", s.ID, n, i+1, l.Verdict, l.Kind, whole.Lines[i].Verdict, whole.Lines[i].Kind, s.Text)
				}
			}
		}
	}
	q := questionOf(t, "MnO4^- + Fe^2+ -> Mn^2+ + Fe^3+", "acidic")
	const twice = "2MnO4- + 16H+ + 10Fe2+ -> 2Mn2+ + 8H2O + 10Fe3+"
	if r := q.JudgeSoFar(twice); r.FirstSlip != 0 || r.FinalCorrect {
		t.Errorf("not yet the answer: %+v", r)
	}
	if r := q.JudgeSoFar("answer: " + twice); r.Kind != NotLowest {
		t.Errorf("called the answer: %+v", r)
	}
}

// FuzzJudge: whatever is typed, there is a verdict for each line, and no panic.
func FuzzJudge(f *testing.F) {
	for _, s := range samples(f) {
		f.Add(s.Text)
	}
	for _, s := range []string{"", "\x00", "<b>Fe -> Fe</b>", "999999999999999999 Fe -> Fe", "e -> e", "-> ", "Fe - e- -> ", "1/0 Fe -> Fe", "Fe^2+ -> 1/999999 Fe^3+ + 1/999983 e-", "Fe²⁺ → Fe³⁺ + e⁻; Fe = Fe and Fe -> Fe"} {
		f.Add(s)
	}
	questions := []*Question{
		questionOf(f, "MnO4^- + Fe^2+ -> Mn^2+ + Fe^3+", "acidic"),
		questionOf(f, "ClO2 -> ClO2^- + ClO3^-", "basic"),
		questionOf(f, "Cr(OH)4^- + H2O2 -> CrO4^2- + H2O", "basic"),
	}
	f.Fuzz(func(t *testing.T, text string) {
		for _, q := range questions {
			r := q.Judge(text)
			for i, l := range r.Lines {
				if l.Number != i+1 || l.Verdict == "" || l.Verdict == Slips && (l.Kind == "" || l.Why == "") {
					t.Errorf("line %d: %+v", i+1, l)
				}
			}
			m := r.Mark(q.Scheme())
			if m.Earned < 0 || m.Earned > m.OutOf {
				t.Errorf("%d of %d", m.Earned, m.OutOf)
			}
		}
	})
}

func BenchmarkJudge(b *testing.B) {
	q := questionOf(b, "MnO4^- + H2C2O4 -> Mn^2+ + CO2", "acidic")
	const text = "MnO4^- -> Mn^2+\nMnO4^- -> Mn^2+ + 4 H2O\nMnO4^- + 8 H^+ -> Mn^2+ + 4 H2O\nMnO4^- + 8 H^+ + 5 e^- -> Mn^2+ + 4 H2O\n" +
		"H2C2O4 -> CO2\nH2C2O4 -> 2 CO2\nH2C2O4 -> 2 CO2 + 2 H^+\nH2C2O4 -> 2 CO2 + 2 H^+ + 2 e^-\n" +
		"2 MnO4^- + 16 H^+ + 10 e^- -> 2 Mn^2+ + 8 H2O\n5 H2C2O4 -> 10 CO2 + 10 H^+ + 10 e^-\n" +
		"2 MnO4^- + 16 H^+ + 5 H2C2O4 -> 2 Mn^2+ + 8 H2O + 10 CO2 + 10 H^+\n2 MnO4^- + 6 H^+ + 5 H2C2O4 -> 2 Mn^2+ + 8 H2O + 10 CO2"
	b.ReportAllocs()
	for b.Loop() {
		if r := q.Judge(text); r.FirstSlip != 0 || !r.FinalCorrect {
			b.Fatal(r)
		}
	}
}
