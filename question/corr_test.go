package question
import ("testing";"fmt";"slices";"math")
func ranks(x []float64) []float64 {
	idx := make([]int, len(x)); for i := range idx { idx[i] = i }
	slices.SortStableFunc(idx, func(a, b int) int { if x[a] < x[b] { return -1 }; if x[a] > x[b] { return 1 }; return 0 })
	r := make([]float64, len(x))
	for i := 0; i < len(idx); { j := i; for j < len(idx) && x[idx[j]] == x[idx[i]] { j++ }; for k := i; k < j; k++ { r[idx[k]] = float64(i+j-1)/2 }; i = j }
	return r
}
func TestCorr(t *testing.T) {
	rows := libraryRows(); qs := Library()
	var a, b []float64
	by := map[int][]Tenths{}
	for i := range rows { a = append(a, float64(rows[i].grade)); b = append(b, float64(qs[i].Difficulty)); by[rows[i].grade] = append(by[rows[i].grade], qs[i].Difficulty) }
	ra, rb := ranks(a), ranks(b)
	ma, mb := 0.0, 0.0
	for i := range ra { ma += ra[i]; mb += rb[i] }
	ma /= float64(len(ra)); mb /= float64(len(ra))
	sab, saa, sbb := 0.0, 0.0, 0.0
	for i := range ra { sab += (ra[i]-ma)*(rb[i]-mb); saa += (ra[i]-ma)*(ra[i]-ma); sbb += (rb[i]-mb)*(rb[i]-mb) }
	fmt.Println("spearman", sab/math.Sqrt(saa*sbb))
	for g := 1; g <= 10; g++ { s := Tenths(0); for _, d := range by[g] { s += d }; if len(by[g])>0 { fmt.Println(g, len(by[g]), s/Tenths(len(by[g]))) } }
	idx := make([]int, len(rows)); for i := range idx { idx[i] = i }
	slices.SortFunc(idx, func(x, y int) int { d := func(i int) float64 { return math.Abs(float64(qs[i].Difficulty)-10*a[i]) }; return int(d(y)-d(x)) })
	for _, i := range idx[:40] { fmt.Println(rows[i].grade, qs[i].Difficulty, rows[i].text, rows[i].medium, qs[i].Features) }
	// per feature mean residual
	for k, n := range FeatureNames { s, c := 0.0, 0; for i := range rows { if qs[i].Features.Has(1<<k) { s += 10*a[i]-b[i]; c++ } }; if c > 0 { fmt.Printf("%s %d %.1f\n", n, c, s/float64(c)) } }
}
