package balance

import (
	"fmt"
	"math/big"

	"halves/chem"
)

// MaxResult is the largest coefficient that is given as an answer.
const MaxResult = 1_000_000_000_000_000

// Kernel returns a basis of the null space of a matrix of whole numbers: each
// vector has one entry for each of the columns, in lowest whole numbers, and
// exactly one of the free columns is not 0 in it. Rows shorter than columns
// are a mistake of the caller. The error is a *chem.TooLargeError where an
// entry passes MaxResult.
func Kernel(rows [][]int64, columns int) ([][]int64, error) {
	if basis, ok := kernel64(rows, columns); ok {
		return basis, nil
	}
	return kernelBig(rows, columns)
}

// kernel64 works in 64 bits and reports false where a number does not fit.
func kernel64(rows [][]int64, n int) ([][]int64, bool) {
	m := make([]int64, len(rows)*n)
	a := make([][]int64, len(rows))
	for i, r := range rows {
		a[i] = m[i*n : (i+1)*n : (i+1)*n]
		copy(a[i], r)
	}
	pivots := make([]int, 0, n) // pivots[i] is the pivot column of row i
	for c := 0; c < n && len(pivots) < len(a); c++ {
		k := len(pivots)
		best := -1
		for i := k; i < len(a); i++ {
			if a[i][c] != 0 && (best < 0 || abs(a[i][c]) < abs(a[best][c])) {
				best = i
			}
		}
		if best < 0 {
			continue
		}
		a[k], a[best] = a[best], a[k]
		for i := range a {
			if i != k && a[i][c] != 0 && !eliminate(a[i], a[k], c) {
				return nil, false
			}
		}
		pivots = append(pivots, c)
	}
	basis := make([][]int64, 0, n-len(pivots))
	next := 0
	for f := range n {
		if next < len(pivots) && pivots[next] == f {
			next++
			continue
		}
		v := make([]int64, n)
		scale := int64(1)
		for i, p := range pivots {
			q := abs(a[i][p]) / chem.GCD(a[i][p], a[i][f])
			var ok bool
			if scale, ok = chem.LCM(scale, q); !ok {
				return nil, false
			}
		}
		v[f] = scale
		for i, p := range pivots {
			x, ok := chem.Product(a[i][f], scale)
			if !ok {
				return nil, false
			}
			v[p] = -x / a[i][p]
		}
		// scale is the least number that makes every entry whole, so v is in
		// lowest terms.
		for _, x := range v {
			if abs(x) > MaxResult {
				return nil, false // the big version words the error
			}
		}
		basis = append(basis, v)
	}
	return basis, true
}

// eliminate makes row[c] zero by adding a multiple of pivot, and divides the
// row by its common factor, so that numbers stay small.
func eliminate(row, pivot []int64, c int) bool {
	g := chem.GCD(row[c], pivot[c])
	p, q := pivot[c]/g, row[c]/g
	g = 0
	for j := range row {
		x, ok1 := chem.Product(row[j], p)
		y, ok2 := chem.Product(pivot[j], -q)
		z, ok3 := chem.Sum(x, y)
		if !ok1 || !ok2 || !ok3 {
			return false
		}
		row[j] = z
		g = chem.GCD(g, z)
	}
	if g > 1 {
		for j := range row {
			row[j] /= g
		}
	}
	return true
}

// lowest divides v by the common factor of its entries.
func lowest(v []int64) {
	g := int64(0)
	for _, x := range v {
		g = chem.GCD(g, x)
	}
	if g > 1 {
		for i := range v {
			v[i] /= g
		}
	}
}

func abs(x int64) int64 {
	if x < 0 {
		return -x
	}
	return x
}

// kernelBig is kernel64 without a limit on the way.
func kernelBig(rows [][]int64, n int) ([][]int64, error) {
	a := make([][]*big.Int, len(rows))
	for i, r := range rows {
		a[i] = make([]*big.Int, n)
		for j, x := range r {
			a[i][j] = big.NewInt(x)
		}
	}
	var pivots []int
	for c := 0; c < n && len(pivots) < len(a); c++ {
		k := len(pivots)
		best := -1
		for i := k; i < len(a); i++ {
			if a[i][c].Sign() != 0 && (best < 0 || a[i][c].CmpAbs(a[best][c]) < 0) {
				best = i
			}
		}
		if best < 0 {
			continue
		}
		a[k], a[best] = a[best], a[k]
		for i := range a {
			if i != k && a[i][c].Sign() != 0 {
				eliminateBig(a[i], a[k], c)
			}
		}
		pivots = append(pivots, c)
	}
	var basis [][]int64
	next := 0
	for f := range n {
		if next < len(pivots) && pivots[next] == f {
			next++
			continue
		}
		scale := big.NewInt(1)
		for i, p := range pivots {
			scale.Mul(scale, new(big.Int).Abs(a[i][p]))
		}
		v := make([]*big.Int, n)
		for j := range v {
			v[j] = new(big.Int)
		}
		v[f].Set(scale)
		for i, p := range pivots {
			v[p].Mul(a[i][f], scale)
			v[p].Quo(v[p], a[i][p]) // exact: scale is a multiple of the pivot
			v[p].Neg(v[p])
		}
		reduceBig(v)
		small := make([]int64, n)
		for j, x := range v {
			if x.CmpAbs(big.NewInt(MaxResult)) > 0 {
				return nil, &chem.TooLargeError{Msg: fmt.Sprintf("a coefficient of the answer has %d digits; coefficients up to 10^15 are given", len(new(big.Int).Abs(x).String()))}
			}
			small[j] = x.Int64()
		}
		basis = append(basis, small)
	}
	return basis, nil
}

func eliminateBig(row, pivot []*big.Int, c int) {
	p, q := new(big.Int).Set(pivot[c]), new(big.Int).Set(row[c])
	for j := range row {
		row[j].Mul(row[j], p)
		row[j].Sub(row[j], new(big.Int).Mul(pivot[j], q))
	}
	reduceBig(row)
}

func reduceBig(v []*big.Int) {
	g := new(big.Int)
	for _, x := range v {
		g.GCD(nil, nil, g, new(big.Int).Abs(x))
	}
	if g.CmpAbs(big.NewInt(1)) > 0 {
		for _, x := range v {
			x.Quo(x, g)
		}
	}
}
