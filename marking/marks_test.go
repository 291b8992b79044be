package marking

import (
	"strings"
	"testing"
)

// TestMarks holds the marks of workings to what an instructor would give by the
// scheme of marking.md; read by hand.
func TestMarks(t *testing.T) {
	const skeleton = "MnO4^- + Fe^2+ -> Mn^2+ + Fe^3+"
	tests := []struct {
		name, medium, text string
		marks              int
		costs              string // steps without a point
	}{
		{"all of it", "acidic", "MnO4- -> Mn2+\nMnO4- + 8H+ + 5e- -> Mn2+ + 4H2O\nFe2+ -> Fe3+ + e-\n5Fe2+ -> 5Fe3+ + 5e-\nMnO4- + 8H+ + 5Fe2+ -> Mn2+ + 4H2O + 5Fe3+", 6, ""},
		{"the answer alone", "acidic", "MnO4- + 8H+ + 5Fe2+ -> Mn2+ + 4H2O + 5Fe3+", 6, ""},
		{"electrons miscounted and carried through", "acidic", "MnO4- + 8H+ + 3e- -> Mn2+ + 4H2O\nFe2+ -> Fe3+ + e-\n3Fe2+ -> 3Fe3+ + 3e-\nMnO4- + 8H+ + 3Fe2+ -> Mn2+ + 4H2O + 3Fe3+", 4, "reduction final"},
		{"mended", "acidic", "MnO4- + 8H+ + 3e- -> Mn2+ + 4H2O\nMnO4- + 8H+ + 5e- -> Mn2+ + 4H2O\nFe2+ -> Fe3+ + e-\nMnO4- + 8H+ + 5Fe2+ -> Mn2+ + 4H2O + 5Fe3+", 6, ""},
		{"added as they are", "acidic", "MnO4- + 8H+ + 5e- -> Mn2+ + 4H2O\nFe2+ -> Fe3+ + e-\nMnO4- + 8H+ + Fe2+ -> Mn2+ + 4H2O + Fe3+", 4, "equalized final"},
		{"labels swapped", "acidic", "oxidation: MnO4- + 8H+ + 5e- -> Mn2+ + 4H2O\nreduction: Fe2+ -> Fe3+ + e-\nMnO4- + 8H+ + 5Fe2+ -> Mn2+ + 4H2O + 5Fe3+", 5, "species"},
		{"halves alone", "acidic", "MnO4- + 8H+ + 5e- -> Mn2+ + 4H2O\nFe2+ -> Fe3+ + e-", 3, "equalized added final"},
		{"twice too much", "acidic", "MnO4- + 8H+ + 5e- -> Mn2+ + 4H2O\nFe2+ -> Fe3+ + e-\n2MnO4- + 16H+ + 10Fe2+ -> 2Mn2+ + 8H2O + 10Fe3+", 5, "final"},
		{"nothing", "acidic", "see my other sheet", 0, "species oxidation reduction equalized added final"},
	}
	for _, test := range tests {
		q := questionOf(t, skeleton, test.medium)
		m := q.Judge(test.text).Mark(q.Scheme())
		var costs []string
		for _, p := range m.Points {
			if p.Earned == 0 {
				costs = append(costs, string(p.Step))
			}
			if p.Why == "" {
				t.Errorf("%s: %s has no reason", test.name, p.Step)
			}
		}
		if m.Earned != test.marks || strings.Join(costs, " ") != test.costs {
			t.Errorf("%s: %d of %d, without %q; want %d without %q\n%+v", test.name, m.Earned, m.OutOf, costs, test.marks, test.costs, m.Points)
		}
	}
}

// TestMarksOfSamples: never more than there is, all of it for a sound working, and
// less while a slip is not mended.
func TestMarksOfSamples(t *testing.T) {
	for _, s := range samples(t) {
		q := questionOf(t, s.Question.Skeleton, s.Question.Medium)
		r := q.Judge(s.Text)
		m := r.Mark(q.Scheme())
		switch {
		case m.Earned > m.OutOf || m.Earned < 0:
			t.Errorf("%s: %d of %d", s.ID, m.Earned, m.OutOf)
		case s.Expect.Class == "sound" && m.Earned != m.OutOf:
			t.Errorf("%s: a sound working earns %d of %d: %+v\n%s", s.ID, m.Earned, m.OutOf, m.Points, s.Text)
		case r.working.unmended() != nil && m.Earned == m.OutOf:
			t.Errorf("%s: all marks, and a slip is not mended\n%s", s.ID, s.Text)
		case s.Expect.Class == "slip" && m.Earned < m.OutOf-3:
			t.Logf("%s: %d of %d: %+v\n%s", s.ID, m.Earned, m.OutOf, m.Points, s.Text)
		}
	}
}

func TestReadSteps(t *testing.T) {
	w, err := ReadSteps("species=1, oxidation = 2,final=3")
	if err != nil || w[SpeciesStep] != 1 || w[OxidationStep] != 2 || w[FinalStep] != 3 {
		t.Errorf("read %v, %v", w, err)
	}
	for _, bad := range []string{"", "halves=1", "final", "final=x", "final=-1", "final=1000"} {
		if _, err := ReadSteps(bad); err == nil {
			t.Errorf("%q was read", bad)
		}
	}
}

// TestOverruling: a person's verdict stands for equal lines, and what follows is
// judged by it; without it nothing changes.
func TestOverruling(t *testing.T) {
	q := questionOf(t, "MnO4^- + Fe^2+ -> Mn^2+ + Fe^3+", "acidic")
	const text = "MnO4- + 8H+ + 3e-  -> Mn2+ + 4H2O\nFe2+ -> Fe3+ + e-\nMnO4- ~ what is this -> 5 Mn"
	if r := q.JudgeWith(text, nil); r.FirstSlip != 1 {
		t.Errorf("%+v", r.Lines)
	}
	r := q.JudgeWith(text, []Overruling{
		{Text: "MnO4- + 8H+ + 3e- -> Mn2+ + 4H2O", Verdict: Stands, Reason: "the 3 is a 5 on the sheet"},
		{Text: "MnO4- ~ what is this -> 5 Mn", Verdict: Stands, Reason: "crossed out"},
	})
	if r.FirstSlip != 0 || r.Lines[0].Verdict != Stands || r.Lines[0].Why != "the 3 is a 5 on the sheet" || r.Lines[2].Why != "crossed out" {
		t.Errorf("%+v", r.Lines)
	}
	if m := r.Mark(q.Scheme()); m.Provisional || m.Earned != 3 {
		t.Errorf("%d, %v: %+v", m.Earned, m.Provisional, m.Points)
	}
	r = q.JudgeWith("Fe2+ -> Fe3+ + e-", []Overruling{{Text: "Fe2+ -> Fe3+ + e-", Verdict: Slips, Kind: TermLost, Reason: "half the line is missing"}})
	if r.FirstSlip != 1 || r.Kind != TermLost {
		t.Errorf("%+v", r.Lines)
	}
}

// TestPuttingRight: marks never fall when the first slip is put right and the rest
// is done as the hints have it; in the end all marks are there.
func TestPuttingRight(t *testing.T) {
	for _, s := range samples(t) {
		q := questionOf(t, s.Question.Skeleton, s.Question.Medium)
		r := q.Judge(s.Text)
		f, ok := r.Feedback(r.FirstSlip)
		if !ok {
			continue
		}
		was := r.Mark(q.Scheme())
		lines := strings.Split(strings.NewReplacer("\r\n", "\n", "\r", "\n").Replace(s.Text), "\n")
		text := strings.Join(append(lines[:r.FirstSlip-1:r.FirstSlip-1], f.Repaired), "\n")
		for range 20 {
			r = q.Judge(text)
			if r.FinalCorrect || r.FirstSlip != 0 {
				break
			}
			_, line, _ := strings.Cut(r.Hint(3), ": ")
			text += "\n" + line
		}
		now := r.Mark(q.Scheme())
		if r.FirstSlip != 0 || now.Earned < was.Earned || now.Earned != now.OutOf {
			t.Errorf("%s: %d of %d with the slip, %d put right (%d %s: %s)\n%s", s.ID, was.Earned, was.OutOf, now.Earned, r.FirstSlip, r.Kind, func() string {
				if r.FirstSlip > 0 {
					return r.Lines[r.FirstSlip-1].Why
				}
				return ""
			}(), text)
		}
	}
}
