package question

import (
	"math"
	"slices"
	"strings"
	"testing"

	"halves/balance"
	"halves/redox"
)

// TestLibrary visits every row: it is worked, has one answer whose ledger closes,
// is told apart from every other, and says where it comes from.
func TestLibrary(t *testing.T) {
	rows, all := libraryRows(), Library()
	if len(all) < 150 {
		t.Errorf("%d rows, want 150 or more", len(all))
	}
	kinds := []string{"ionic", "molecular", "disproportionation", "comproportionation", "organic", "complex", "several-elements", "dry"}
	seen := map[string]string{}
	ids := map[string]bool{}
	for i, q := range all {
		r := rows[i]
		if ids[r.id] || r.source == "" || r.note == "" {
			t.Errorf("%s: an id twice, or no source or note", r.id)
		}
		ids[r.id] = true
		for _, k := range r.kinds {
			if !slices.Contains(kinds, k) {
				t.Errorf("%s: kind %q", r.id, k)
			}
		}
		l, err := balance.NewLedger(q.Answer())
		if err != nil || !l.Closed() {
			t.Errorf("%s: %s does not balance (%v)", r.id, q.Answer(), err)
		}
		key := slices.Clone(q.species)
		slices.Sort(key)
		k := strings.Join(key, " ") + string(q.Medium)
		if other, twice := seen[k]; twice {
			t.Errorf("%s has the species of %s", r.id, other)
		}
		seen[k] = r.id
		s, err := q.Work(redox.Conventions{})
		if err != nil {
			t.Errorf("%s: %v", r.id, err)
			continue
		}
		for _, n := range s.Notes {
			if n.Kind == redox.NoteReading {
				t.Errorf("%s is read doubtfully: %s", r.id, n.Text)
			}
		}
	}
}

// TestDifficultyAgrees holds the measure to the grades of the library, which were
// given before the measure was made: rank correlation (Spearman) 0.7 or more, and
// each grade up to 7 harder on average than the one before.
func TestDifficultyAgrees(t *testing.T) {
	var grades, measured []float64
	sum, n := map[int]int{}, map[int]int{}
	for i, q := range Library() {
		g := libraryRows()[i].grade
		grades, measured = append(grades, float64(g)), append(measured, float64(q.Difficulty))
		sum[g] += int(q.Difficulty)
		n[g]++
	}
	rho := spearman(grades, measured)
	t.Logf("Spearman's rank correlation over %d equations: %.2f", len(grades), rho)
	if rho < 0.7 {
		t.Errorf("the measure and the grades correlate by %.2f only", rho)
	}
	for g := 2; g <= 7; g++ {
		if sum[g]*n[g-1] <= sum[g-1]*n[g] {
			t.Errorf("grade %d has %d/%d tenths on average, grade %d %d/%d", g, sum[g], n[g], g-1, sum[g-1], n[g-1])
		}
	}
}

// spearman is the correlation of ranks, equal values sharing theirs.
func spearman(a, b []float64) float64 {
	x, y := ranks(a), ranks(b)
	var sx, sy, sxy, sxx, syy float64
	n := float64(len(x))
	for i := range x {
		sx, sy = sx+x[i], sy+y[i]
	}
	for i := range x {
		dx, dy := x[i]-sx/n, y[i]-sy/n
		sxy, sxx, syy = sxy+dx*dy, sxx+dx*dx, syy+dy*dy
	}
	return sxy / math.Sqrt(sxx*syy)
}

func ranks(all []float64) []float64 {
	out := make([]float64, len(all))
	for i, v := range all {
		below, same := 0, 0
		for _, w := range all {
			switch {
			case w < v:
				below++
			case w == v:
				same++
			}
		}
		out[i] = float64(below) + float64(same-1)/2
	}
	return out
}

// TestGrade reads features and difficulty off questions that textbooks work.
func TestGrade(t *testing.T) {
	for _, test := range []struct {
		text       string
		medium     redox.Medium
		features   string
		difficulty Tenths // added up by hand from the weights
		why        string
	}{
		{"Fe^3+ + Cr^2+ -> Fe^2+ + Cr^3+", redox.Acidic, "", 10, "one electron each: nothing to do but add (common practice, no source)"},
		{"Cu + Ag^+ -> Cu^2+ + Ag", redox.Neutral, "multiply", 16, "OpenStax, Chemistry 2e, chapter 17: one half doubled, 1.0 + 0.6"},
		{"Cr2O7^2- + Fe^2+ -> Cr^3+ + Fe^3+", redox.Acidic, "other-atoms, water, hydrogen, multiply", 10 + 6 + 5 + 4 + 6 + 3 + 4 + 4, "OpenStax, Chemistry 2e, example 4.7: 14 and six times"},
		{"MnO4^- + Cr(OH)3 -> MnO2 + CrO4^2-", redox.Basic, "water-twice, hydrogen, cancel, base", 10 + 5 + 4 + 5 + 4 + 4 + 6, "OpenStax, Chemistry 2e, chapter 17"},
		{"Cl2 -> Cl^- + ClO3^-", redox.Basic, "other-atoms, water, hydrogen, multiply, cancel, common-factor, base, disproportionation",
			10 + 6 + 6 + 5 + 4 + 6 + 3 + 4 + 2 + 6 + 5 + 4, "the demo course"},
	} {
		q, err := New("x", test.text, test.medium)
		if err != nil {
			t.Errorf("%s: %v", test.text, err)
			continue
		}
		if got := q.Features.String(); got != test.features || q.Difficulty != test.difficulty {
			t.Errorf("%s has %q and %s, want %q and %s (%s)", test.text, got, q.Difficulty, test.features, test.difficulty, test.why)
		}
	}
}

func TestUnfit(t *testing.T) {
	for _, text := range []string{"AgNO3 + NaCl -> AgCl + NaNO3", "Fe + -> Fe^2+", "MnO4^- -> Mn^2+"} {
		if q, err := New("x", text, redox.Acidic); err == nil {
			t.Errorf("New(%s) = %v", text, q.Answer())
		}
	}
}
