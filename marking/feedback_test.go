package marking

import (
	"fmt"
	"strings"
	"testing"
)

// TestFeedback logs what is said of each kind of slip in the samples and in the
// generated workings, once each, for a person to read; and holds the repaired
// line to the judge: it stands where the slip stood.
func TestFeedback(t *testing.T) {
	seen := map[Kind]bool{}
	for _, s := range samples(t) {
		q := questionOf(t, s.Question.Skeleton, s.Question.Medium)
		r := q.Judge(s.Text)
		if r.FirstSlip == 0 {
			continue
		}
		f, ok := r.Feedback(r.FirstSlip)
		if !ok || f.Matter == "" || f.Rule == "" || f.Question == "" {
			t.Errorf("%s: nothing is said of %s", s.ID, r.Kind)
			continue
		}
		if !seen[r.Kind] {
			seen[r.Kind] = true
			t.Logf("%s: %s\n  student: %s\n  instructor: %s\n  %s", r.Kind, strings.TrimSpace(r.Lines[r.FirstSlip-1].Text), f.Student(true), f.Instructor(r.Kind), strings.Join(r.Explain(r.FirstSlip), "; "))
		}
		lines := strings.Split(s.Text, "\n")
		lines[r.FirstSlip-1] = f.Repaired
		again := q.Judge(strings.Join(lines[:r.FirstSlip], "\n"))
		if v := again.Lines[r.FirstSlip-1].Verdict; v != Stands && v != Comment {
			t.Errorf("%s: the repaired line %q is %s %s (%s), for\n%s", s.ID, f.Repaired, v, again.Kind, again.Lines[r.FirstSlip-1].Why, s.Text)
		}
	}
	for _, k := range Kinds {
		if a := advices[k]; a.words == "" || a.rule == "" || a.ask == "" || !strings.HasSuffix(a.ask, "?") || !strings.HasSuffix(a.rule, ".") {
			t.Errorf("%s: %+v", k, a)
		}
	}
}

// TestHints: three rungs, of which only the last gives the line; following the
// last ones leads from an empty page to the answer.
func TestHints(t *testing.T) {
	for _, question := range [][2]string{{"MnO4^- + H2C2O4 -> Mn^2+ + CO2", "acidic"}, {"ClO2 -> ClO2^- + ClO3^-", "basic"}, {"Cr(OH)4^- + H2O2 -> CrO4^2- + H2O", "basic"}, {"Cu + NO3^- -> Cu^2+ + NO", "acidic"}} {
		q := questionOf(t, question[0], question[1])
		text := ""
		for step := 0; ; step++ {
			r := q.Judge(text)
			if r.FirstSlip != 0 {
				t.Fatalf("%s: the hints slip: %s: %s", question[0], r.Kind, text)
			}
			if r.FinalCorrect {
				break
			}
			for rung := 1; rung <= 2; rung++ {
				if h := r.Hint(rung); h == "" || strings.Contains(h, "->") {
					t.Errorf("hint %d of %q: %q", rung, text, h)
				}
			}
			_, line, ok := strings.Cut(r.Hint(3), ": ")
			if !ok || step > 12 {
				t.Fatalf("%s: no way on from\n%s\n%s", question[0], text, r.Hint(3))
			}
			text = strings.TrimSpace(text + "\n" + line)
		}
		t.Logf("\n%s", text)
		if h := q.Judge(text).Hint(1); h != "This is the answer." {
			t.Errorf("at the end: %q", h)
		}
	}
	q := questionOf(t, "MnO4^- + Fe^2+ -> Mn^2+ + Fe^3+", "acidic")
	r := q.Judge("MnO4- + 8H+ + 3e- -> Mn2+ + 4H2O")
	for rung, want := range map[int]string{1: "Look at line 1", 2: "charge of both sides", 3: "5 e^-"} {
		if h := r.Hint(rung); !strings.Contains(h, want) {
			t.Errorf("hint %d: %q", rung, h)
		}
	}
}

func ExampleResult_Explain() {
	t := &testing.T{}
	q := questionOf(t, "MnO4^- + Fe^2+ -> Mn^2+ + Fe^3+", "acidic")
	r := q.Judge("MnO4- + 8H+ + 3e- -> Mn2+ + 4H2O")
	for _, s := range r.Explain(1) {
		fmt.Println(s)
	}
	// Output:
	// read as MnO4^- + 8 H^+ + 3 e^- -> Mn^2+ + 4 H2O
	// it is the reduction half, by MnO4^- and Mn^2+
	// left has the charge +4, right +2
	// the nearest line that stands: MnO4^- + 8 H^+ + 5 e^- -> Mn^2+ + 4 H2O
}
