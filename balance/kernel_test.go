package balance

import (
	"errors"
	"fmt"
	"math"
	"math/big"
	"os"
	"os/exec"
	"slices"
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"halves/chem"
)

// permanganate holds MnO4^-, H2C2O4, H^+ | Mn^2+, CO2, H2O as columns and Mn,
// O, C, H and charge as rows, all as they are counted, without signs for sides.
var permanganate = [][]int64{
	{1, 0, 0, 1, 0, 0},
	{4, 4, 0, 0, 2, 1},
	{0, 2, 0, 0, 1, 0},
	{0, 2, 1, 0, 0, 2},
	{-1, 0, 1, 2, 0, 0},
}

// TestKernel: small cases solved by hand.
func TestKernel(t *testing.T) {
	for _, c := range []struct {
		name    string
		rows    [][]int64
		columns int
		want    string
	}{
		{"permanganate and oxalic acid (OpenStax Chemistry 2e prints 2, 5, 6, 2, 10, 8)", permanganate, 6, "[[-2 -5 -6 2 10 8]]"},
		{"water: H 2a = 2c, O 2b = c", [][]int64{{2, 0, 2}, {0, 2, 1}}, 3, "[[-2 -1 2]]"},
		{"one law, three species", [][]int64{{2, 3, 4}}, 3, "[[-3 2 0] [-2 0 1]]"},
		{"full rank", [][]int64{{1, 2}, {3, 4}}, 2, "[]"},
		{"dependent rows", [][]int64{{1, 2}, {2, 4}, {-3, -6}}, 2, "[[-2 1]]"},
		{"no laws", nil, 2, "[[1 0] [0 1]]"},
		{"zero row", [][]int64{{0, 0}}, 2, "[[1 0] [0 1]]"},
		{"zero column in front", [][]int64{{0, 1, 1}}, 3, "[[1 0 0] [0 -1 1]]"},
		{"pivot not in the first row", [][]int64{{0, 1, 2}, {3, 0, 3}}, 3, "[[-1 -2 1]]"},
		{"no columns", nil, 0, "[]"},
		{"negative pivots", [][]int64{{-2, 4, 0}, {0, -3, 6}}, 3, "[[4 2 1]]"},
	} {
		got, err := Kernel(c.rows, c.columns)
		if err != nil || fmt.Sprint(got) != c.want {
			t.Errorf("%s: Kernel(%v) = %v, %v, want %s", c.name, c.rows, got, err, c.want)
		}
		if big, err := kernelBig(c.rows, c.columns); err != nil || len(big) != len(got) || len(got) > 0 && fmt.Sprint(big) != c.want {
			t.Errorf("%s: kernelBig(%v) = %v, %v, want %s", c.name, c.rows, big, err, c.want)
		}
	}
}

// TestKernelFallsBack: where 64 bits do not hold the way to the answer, big
// integers do; where the answer passes 10^15, it is too large.
func TestKernelFallsBack(t *testing.T) {
	// Each row is made so that it vanishes on (3, -5, 7, 2, 1).
	want := []int64{3, -5, 7, 2, 1}
	var rows [][]int64
	for _, r := range [][]int64{
		{999_999_999_989, 999_999_999_961, 999_999_999_937, 999_999_999_899},
		{999_999_999_877, 999_999_999_863, -999_999_999_847, 999_999_999_803},
		{-999_999_999_767, 999_999_999_733, 999_999_999_719, 999_999_999_671},
		{999_999_999_653, -999_999_999_641, 999_999_999_619, -999_999_999_607},
	} {
		last := int64(0)
		for j, x := range r {
			last -= x * want[j]
		}
		rows = append(rows, append(slices.Clone(r), last))
	}
	if _, ok := kernel64(rows, 5); ok {
		t.Errorf("kernel64 holds a matrix of 12-digit entries: the test does not reach the fall-back")
	}
	if got, err := Kernel(rows, 5); err != nil || fmt.Sprint(got) != fmt.Sprint([][]int64{want}) {
		t.Errorf("Kernel of 12-digit entries = %v, %v, want %v", got, err, want)
	}

	// Doublings by a million and three: 1, 1000003, 1000003^2 (10^12), 1000003^3 (10^18).
	const n = 1_000_003
	chain := [][]int64{{n, -1, 0, 0}, {0, n, -1, 0}, {0, 0, n, -1}}
	if got, err := Kernel(chain[:2], 3); err == nil {
		if fmt.Sprint(got) != fmt.Sprintf("[[1 %d %d]]", n, n*n) {
			t.Errorf("Kernel = %v, want 1, n, n^2", got)
		}
	} else {
		t.Errorf("Kernel: %v, want 1, n, n^2", err)
	}
	_, err := Kernel(chain, 4)
	var large *chem.TooLargeError
	if !errors.As(err, &large) || !strings.Contains(large.Msg, "19 digits") || !strings.Contains(large.Msg, "10^15") {
		t.Errorf("Kernel with the answer 1000003^3 gives %v, want a *chem.TooLargeError naming 19 digits and 10^15", err)
	}

	// The limit itself, from both sides.
	if got, err := Kernel([][]int64{{MaxResult, -1}}, 2); err != nil || fmt.Sprint(got) != "[[1 1000000000000000]]" {
		t.Errorf("Kernel at the limit = %v, %v", got, err)
	}
	if got, err := Kernel([][]int64{{MaxResult + 1, -1}}, 2); !errors.As(err, &large) {
		t.Errorf("Kernel beyond the limit = %v, %v, want a *chem.TooLargeError", got, err)
	}

	// The least number has no negative in 64 bits.
	for _, c := range []struct {
		rows [][]int64
		want string
	}{
		{[][]int64{{math.MinInt64, math.MinInt64}}, "[[-1 1]]"},
		{[][]int64{{math.MinInt64, 0}}, "[[0 1]]"},
		{[][]int64{{1 << 62, math.MinInt64}}, "[[2 1]]"},
		{[][]int64{{math.MinInt64, 1 << 62}}, "[[1 2]]"},
	} {
		if got, err := Kernel(c.rows, 2); err != nil || fmt.Sprint(got) != c.want {
			t.Errorf("Kernel(%v) = %v, %v, want %s", c.rows, got, err, c.want)
		}
	}
}

// anyMatrix draws up to 6 rows and 1 to 8 columns: chemical ones (small, many
// zeros) and large ones.
var anyMatrix = rapid.Custom(func(t *rapid.T) [][]int64 {
	rows, columns := rapid.IntRange(1, 6).Draw(t, "rows"), rapid.IntRange(1, 8).Draw(t, "columns")
	entry := rapid.SampledFrom([]*rapid.Generator[int64]{
		rapid.Int64Range(-4, 12),
		rapid.OneOf(rapid.Just[int64](0), rapid.Int64Range(-3, 8)),
		rapid.Int64Range(-1000, 1000),
		rapid.Int64Range(-1e6, 1e6),
	}).Draw(t, "kind")
	m := make([][]int64, rows)
	for i := range m {
		m[i] = rapid.SliceOfN(entry, columns, columns).Draw(t, "row")
	}
	return m
})

// rank is elimination over fractions, sharing nothing with the package.
func rank(m [][]int64) int {
	var a [][]*big.Rat
	for _, r := range m {
		var row []*big.Rat
		for _, x := range r {
			row = append(row, new(big.Rat).SetInt64(x))
		}
		a = append(a, row)
	}
	k := 0
	for c := 0; len(a) > 0 && c < len(a[0]); c++ {
		p := slices.IndexFunc(a[k:], func(r []*big.Rat) bool { return r[c].Sign() != 0 })
		if p < 0 {
			continue
		}
		a[k], a[k+p] = a[k+p], a[k]
		for _, r := range a[k+1:] {
			q := new(big.Rat).Quo(r[c], a[k][c])
			for j := range r {
				r[j].Sub(r[j], new(big.Rat).Mul(q, a[k][j]))
			}
		}
		if k++; k == len(a) {
			break
		}
	}
	return k
}

// annihilates reports whether every row of m vanishes on v, in big integers.
func annihilates(m [][]int64, v []int64) bool {
	for _, r := range m {
		sum := new(big.Int)
		for j, x := range r {
			sum.Add(sum, new(big.Int).Mul(big.NewInt(x), big.NewInt(v[j])))
		}
		if sum.Sign() != 0 {
			return false
		}
	}
	return true
}

func gcd(v []int64) int64 {
	g := new(big.Int)
	for _, x := range v {
		g.GCD(nil, nil, g, new(big.Int).Abs(big.NewInt(x)))
	}
	return g.Int64()
}

// kernelOf is Kernel, where too large an answer ends the trial.
func kernelOf(t *rapid.T, m [][]int64) [][]int64 {
	basis, err := Kernel(m, len(m[0]))
	var large *chem.TooLargeError
	if errors.As(err, &large) {
		t.Skip("an answer beyond the limit")
	}
	if err != nil {
		t.Fatalf("Kernel(%v): %v", m, err)
	}
	return basis
}

// TestKernelLaws: rank and nullity, the vectors vanish, are independent, in
// lowest whole numbers, and each belongs to one free column; 64 bits and big
// integers agree.
func TestKernelLaws(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := anyMatrix.Draw(t, "matrix")
		n := len(m[0])
		basis := kernelOf(t, m)
		if r := rank(m); len(basis) != n-r {
			t.Fatalf("Kernel(%v) has %d vectors, want %d columns - rank %d", m, len(basis), n, r)
		}
		if rank(basis) != len(basis) {
			t.Fatalf("Kernel(%v) = %v is not independent", m, basis)
		}
		for k, v := range basis {
			if len(v) != n || !annihilates(m, v) {
				t.Fatalf("Kernel(%v) has %v, which is not in the null space", m, v)
			}
			if gcd(v) != 1 {
				t.Fatalf("Kernel(%v) has %v, not in lowest terms", m, v)
			}
			own := slices.IndexFunc(v, func(x int64) bool { return x != 0 })
			for j, x := range v {
				free := x > 0 && !slices.ContainsFunc(basis, func(w []int64) bool { return &w[0] != &v[0] && w[j] != 0 })
				if free {
					own = -1 // found its column
				}
			}
			if own >= 0 {
				t.Fatalf("Kernel(%v): vector %d of %v has no column of its own", m, k, basis)
			}
		}
		if big, err := kernelBig(m, n); err != nil || fmt.Sprint(big) != fmt.Sprint(basis) && len(basis) > 0 {
			t.Fatalf("kernelBig(%v) = %v, %v; Kernel = %v", m, big, err, basis)
		}
	})
}

// TestKernelShuffled: scaling and shuffling rows changes nothing; shuffling
// columns shuffles the span; scaling a column scales its entries back.
func TestKernelShuffled(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := anyMatrix.Draw(t, "matrix")
		n := len(m[0])
		basis := kernelOf(t, m)

		var rows [][]int64
		for _, i := range rapid.Permutation(indices(len(m))).Draw(t, "order of rows") {
			k := rapid.SampledFrom([]int64{-7, -1, 1, 2, 5, 360}).Draw(t, "factor")
			row := slices.Clone(m[i])
			for j := range row {
				row[j] *= k
			}
			rows = append(rows, row)
		}
		if got := kernelOf(t, rows); fmt.Sprint(got) != fmt.Sprint(basis) {
			t.Fatalf("Kernel(%v) = %v, rows scaled and shuffled %v", m, basis, got)
		}

		columns := rapid.Permutation(indices(n)).Draw(t, "order of columns")
		factor := rapid.SliceOfN(rapid.SampledFrom([]int64{-2, -1, 1, 3}), n, n).Draw(t, "factors of columns")
		moved := make([][]int64, len(m))
		for i := range m {
			for _, j := range columns {
				moved[i] = append(moved[i], m[i][j]*factor[j])
			}
		}
		got := kernelOf(t, moved)
		if len(got) != len(basis) {
			t.Fatalf("Kernel(%v) has %d vectors, with columns shuffled %d", m, len(basis), len(got))
		}
		for _, v := range got {
			back := make([]int64, n)
			for k, j := range columns {
				back[j] = v[k] * factor[j]
			}
			if !annihilates(m, back) {
				t.Fatalf("Kernel(%v) shuffled has %v, which is not in the null space", m, v)
			}
		}
	})
}

func indices(n int) []int {
	all := make([]int, n)
	for i := range all {
		all[i] = i
	}
	return all
}

// needGP returns the path of PARI/GP, or skips; with HALVES_NO_SKIP it fails.
func needGP(t testing.TB) string {
	path, err := exec.LookPath("gp")
	if err == nil {
		return path
	}
	if os.Getenv("HALVES_NO_SKIP") != "" {
		t.Fatal("needs gp (Debian package pari-gp)")
	}
	t.Skip("needs gp (Debian package pari-gp)")
	return ""
}

func gpMatrix(m [][]int64) string {
	var rows []string
	for _, r := range m {
		rows = append(rows, strings.Trim(strings.ReplaceAll(fmt.Sprint(r), " ", ","), "[]"))
	}
	return "Mat([" + strings.Join(rows, ";") + "])" // Mat, since one row alone would be a vector
}

// TestKernelAgainstPARI: the null space that matkerint of PARI/GP gives
// (another elimination, lattice reduction after) is the same, for 400 random
// matrices in one process.
func TestKernelAgainstPARI(t *testing.T) {
	gp := needGP(t)
	matrices := [][][]int64{permanganate}
	for seed := range 400 {
		matrices = append(matrices, anyMatrix.Example(seed))
	}
	var script strings.Builder
	for _, m := range matrices {
		fmt.Fprintf(&script, "K=matkerint(%s);for(i=1,#K,print(Vec(K[,i])));print(\"end\")\n", gpMatrix(m))
	}
	cmd := exec.Command(gp, "-q", "-f")
	cmd.Stdin = strings.NewReader(script.String())
	out, err := cmd.Output()
	if err != nil {
		t.Fatalf("gp: %v", err)
	}
	answers := strings.Split(strings.TrimSuffix(string(out), "end\n"), "end\n")
	if len(answers) != len(matrices) {
		t.Fatalf("gp gave %d answers to %d matrices", len(answers), len(matrices))
	}
	compared, nonzero := 0, 0
	for k, m := range matrices {
		basis, err := Kernel(m, len(m[0]))
		var large *chem.TooLargeError
		if errors.As(err, &large) {
			continue
		}
		if err != nil {
			t.Errorf("Kernel(%v): %v", m, err)
			continue
		}
		var theirs [][]int64
		for line := range strings.Lines(answers[k]) {
			var v []int64
			for _, f := range strings.Split(strings.Trim(strings.TrimSpace(line), "[]"), ",") {
				x, err := strconv.ParseInt(strings.TrimSpace(f), 10, 64)
				if err != nil {
					t.Fatalf("gp printed %q: %v", line, err)
				}
				v = append(v, x)
			}
			theirs = append(theirs, v)
		}
		if len(theirs) != len(basis) || rank(append(slices.Clone(basis), theirs...)) != len(basis) {
			t.Errorf("Kernel(%v) = %v, matkerint = %v: not the same span", m, basis, theirs)
		}
		compared++
		if len(basis) > 0 {
			nonzero++
		}
	}
	if compared < 300 || nonzero < 100 {
		t.Errorf("%d matrices compared, %d with a null space: too few to tell", compared, nonzero)
	}
}

func BenchmarkKernel5x6(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		if basis, err := Kernel(permanganate, 6); err != nil || len(basis) != 1 {
			b.Fatal(basis, err)
		}
	}
}

// BenchmarkKernelBig is the fall-back on the same matrix.
func BenchmarkKernelBig(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		if basis, err := kernelBig(permanganate, 6); err != nil || len(basis) != 1 {
			b.Fatal(basis, err)
		}
	}
}

// BenchmarkKernelGP is the same null space by PARI/GP: a hundred thousand in
// one process, timed inside it, so that neither its start nor reading counts.
func BenchmarkKernelGP(b *testing.B) {
	gp := needGP(b)
	const many = 100_000
	for _, function := range []string{"matkerint", "matker"} {
		b.Run("function="+function, func(b *testing.B) {
			total, runs := 0, 0
			for b.Loop() {
				cmd := exec.Command(gp, "-q", "-f")
				cmd.Stdin = strings.NewReader(fmt.Sprintf("M=%s;t=getwalltime();for(i=1,%d,%s(M));print(getwalltime()-t)\n", gpMatrix(permanganate), many, function))
				out, err := cmd.Output()
				if err != nil {
					b.Fatal(err)
				}
				ms, err := strconv.Atoi(strings.TrimSpace(string(out)))
				if err != nil {
					b.Fatalf("gp printed %q", out)
				}
				total, runs = total+ms, runs+1
			}
			b.ReportMetric(float64(total)*1e6/float64(many*runs), "ns/matrix")
			b.ReportMetric(0, "ns/op") // of the process, which says nothing
		})
	}
}
