package redox_test

import (
	"testing"

	"halves/redox"
)

// FuzzWork works whatever is typed, by each method: no defect is reported, and
// whatever is printed balances by other code.
func FuzzWork(f *testing.F) {
	for _, q := range questions {
		f.Add(q.question, "")
	}
	for _, q := range refusals {
		f.Add(q.question, string(q.medium))
	}
	f.Add("permanganate becomes manganese(II) while oxalic acid becomes carbon dioxide", "acidic")
	f.Add("copper reacts with nitric acid to give copper(II) nitrate, nitrogen monoxide and water", "")
	f.Fuzz(func(t *testing.T, question, medium string) {
		m, err := redox.ParseMedium(medium)
		if err != nil {
			m = redox.Acidic
		}
		c := redox.Conventions{By: redox.Method(len(question) / 6 % 3), BaseInHalves: len(question)%2 == 0, Hydronium: len(question)%3 == 0}
		s, err := redox.Work(question, m, c)
		if err != nil {
			r := redox.NewReport(err)
			if r.Kind == redox.KindInternal {
				t.Fatalf("Work(%q, %s) = %v", question, m, err)
			}
			if r.Message == "" || r.Text != "" && (r.Offset < 0 || r.Offset+r.Width > len(r.Text)) {
				t.Fatalf("Work(%q, %s): report %+v points outside the text", question, m, r)
			}
			return
		}
		mustBalance(t, s)
	})
}
