package cohort

import (
	"math"
	"math/big"
	"testing"

	"pgregory.net/rapid"
)

// near compares what two ways of computing give.
func near(t interface {
	Helper()
	Errorf(string, ...any)
}, what string, got, want float64) {
	t.Helper()
	if !(math.Abs(got-want) <= 1e-9*max(1, math.Abs(want))) {
		t.Errorf("%s = %v, want %v", what, got, want)
	}
}

func mean(x []float64) float64 {
	sum := 0.0
	for _, v := range x {
		sum += v
	}
	return sum / float64(len(x))
}

// covariance of a sample, in two passes: the means first, then the deviations.
func covariance(x, y []float64) float64 {
	mx, my, sum := mean(x), mean(y), 0.0
	for i := range x {
		sum += (x[i] - mx) * (y[i] - my)
	}
	return sum / float64(len(x)-1)
}

// twoPass is Pearson's correlation from deviations, in floats.
func twoPass(x, y []float64) float64 {
	return covariance(x, y) / math.Sqrt(covariance(x, x)*covariance(y, y))
}

// alphaByCovariances is the other form of alpha: k c / (v + (k-1) c), where c
// is the mean covariance of two questions and v the mean variance of one.
func alphaByCovariances(items [][]float64) float64 {
	k := float64(len(items))
	v, c := 0.0, 0.0
	for i := range items {
		for j := range items {
			if i == j {
				v += covariance(items[i], items[i]) / k
			} else {
				c += covariance(items[i], items[j]) / (k * (k - 1))
			}
		}
	}
	return k * c / (v + (k-1)*c)
}

// TestPublishedAlpha is the worked example of J. M. Bland and D. G. Altman,
// "Statistics notes: Cronbach's alpha", BMJ 314 (1997) 572, from memory: ten
// items, sum of their variances 11.16, variance of the totals 77.44; printed
// as 0.95.
func TestPublishedAlpha(t *testing.T) {
	got := coefficient(10, big.NewInt(1116), big.NewInt(7744))
	if math.Round(got*100) != 95 {
		t.Errorf("coefficient(10, 11.16, 77.44) = %v, want 0.95", got)
	}
}

// TestPointBiserial compares with the formula that names it, for a question
// that is right or wrong: (M1 - M0)/s √(pq), where M1 and M0 are the mean rest
// of those right and of those wrong, s is the standard deviation of the rest
// (over n) and p and q are the shares of right and wrong. Common practice, no
// source.
func TestPointBiserial(t *testing.T) {
	right := []float64{7, 9, 4, 8, 6} // totals of the others, of those right
	wrong := []float64{3, 5, 8, 2}
	var list []Script
	for i, rest := range append(append([]float64(nil), right...), wrong...) {
		student := string(rune('a' + i))
		one := 0
		if i < len(right) {
			one = 1
		}
		list = append(list,
			Script{Student: student, Question: "Q1", Earned: one, OutOf: 1},
			Script{Student: student, Question: "Q2", Earned: int(rest), OutOf: 10})
	}
	all := append(append([]float64(nil), right...), wrong...)
	n := float64(len(all))
	s := math.Sqrt(covariance(all, all) * (n - 1) / n)
	p := float64(len(right)) / n
	want := (mean(right) - mean(wrong)) / s * math.Sqrt(p*(1-p))
	near(t, "discrimination of Q1", Summarize(list).Items[0].Discrimination.Value, want)
}

// TestLargeMarks has sums of squares far beyond an int64, and marks that
// differ in the tenth digit only: floats would lose them.
func TestLargeMarks(t *testing.T) {
	var list []Script
	for i, m := range []int{MaxMarks, MaxMarks - 1, MaxMarks - 2, MaxMarks - 3} {
		for _, q := range []string{"Q1", "Q2"} {
			list = append(list, Script{Student: string(rune('a' + i)), Question: q, Earned: m, OutOf: MaxMarks})
		}
	}
	sum := Summarize(list)
	if sum.Alpha.Value != 1 || sum.Items[0].Discrimination.Value != 1 {
		t.Errorf("alpha = %+v, discrimination = %+v; want 1 and 1", sum.Alpha, sum.Items[0].Discrimination)
	}
}

// TestWide carries from the low word to the high one, against math/big.
func TestWide(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		// Five products below 2¹²⁴, so that the sum stays below 2¹²⁷.
		factor := rapid.Int64Range(0, 1<<62-1)
		var w wide
		want := new(big.Int)
		for range 5 {
			x, y := factor.Draw(t, "x"), factor.Draw(t, "y")
			w.add(x, y)
			want.Add(want, new(big.Int).Mul(big.NewInt(x), big.NewInt(y)))
		}
		if got := w.scaled(1, 0, 0); got.Cmp(want) != 0 {
			t.Errorf("sum = %v, want %v", got, want)
		}
	})
}
