package redox_test

import (
	"fmt"
	"math/rand"
	"strings"
	"testing"
	"time"

	"halves/redox"
)

// worstQuestions are built to be slow: up to 64 terms over few or many
// elements, with neutral species (a wide null space), charged ones, and lost
// superscripts (256 readings). They are at most 4,096 characters long.
func worstQuestions() []string {
	r := rand.New(rand.NewSource(1))
	symbols := []string{"C", "H", "O", "N", "S", "P", "Fe", "Cl"}
	suffixes := []func() string{
		func() string { return "" },
		func() string { return "2+" },
		func() string { return []string{"", "^2+", "^3-"}[r.Intn(3)] },
	}
	// One long formula, and ions that can be told apart in many ways.
	out := []string{
		strings.Repeat("U", 4000) + " -> U",
		strings.Repeat("UO2", 60) + " + Xe -> U",
		strings.Repeat("(UO2)", 60) + "Cl + H2 -> U + H2O + HCl",
		strings.Repeat("Fe(NO3)2", 250) + " -> Fe2O3 + NO2 + O2",
	}
	for _, elements := range []int{2, 3, 4, 6, 8} {
		for _, terms := range []int{10, 20, 40, 64} {
			for _, suffix := range suffixes {
				var sides [2][]string
				seen := map[string]bool{}
				for len(sides[0])+len(sides[1]) < terms {
					formula := ""
					for _, s := range symbols[:elements] {
						if r.Intn(3) > 0 {
							formula += fmt.Sprint(s, 1+r.Intn(30))
						}
					}
					if formula == "" || seen[formula] {
						continue
					}
					seen[formula] = true
					k := len(seen) % 2
					sides[k] = append(sides[k], formula+suffix())
				}
				if q := strings.Join(sides[0], " + ") + " -> " + strings.Join(sides[1], " + "); len(q) <= 4096 {
					out = append(out, q)
				}
			}
		}
	}
	return out
}

// No question hangs. The limit is fifty times what BenchmarkWorstQuestions
// measures, so that a busy machine does not fail it.
func TestWorstQuestionsEnd(t *testing.T) {
	for _, q := range worstQuestions() {
		for _, m := range []redox.Medium{redox.None, redox.Acidic, redox.Unstated} {
			start := time.Now()
			s, err := redox.Work(q, m, redox.Conventions{})
			if d := time.Since(start); d > 2500*time.Millisecond {
				t.Errorf("Work(%.60s..., %s) took %s", q, m, d)
			}
			if err == nil {
				mustBalance(t, s)
			} else if redox.NewReport(err).Kind == redox.KindInternal {
				t.Errorf("Work(%s, %s) = %v", q, m, err)
			}
		}
	}
}

// BenchmarkWorstQuestions reports the slowest of them in milliseconds.
func BenchmarkWorstQuestions(b *testing.B) {
	all := worstQuestions()
	b.ReportAllocs()
	var worst time.Duration
	for b.Loop() {
		for _, q := range all {
			start := time.Now()
			redox.Work(q, redox.Acidic, redox.Conventions{})
			worst = max(worst, time.Since(start))
		}
	}
	b.ReportMetric(float64(worst.Microseconds())/1000, "worst-ms")
}
