package chem

import (
	"math"
	"math/bits"
	"strconv"
)

// A Ratio is an exact rational number: numerator over denominator, in lowest
// terms, the denominator positive. The zero value is 0.
//
// Its arithmetic is meant for coefficients and oxidation states, which are
// small; where a number does not fit in 64 bits it panics with an
// OverflowError, and never gives a rounded value.
type Ratio struct {
	num int64
	den int64 // 0 stands for 1, so that the zero value is the number 0
}

// Whole returns n/1, with the limits of NewRatio.
func Whole(n int64) Ratio {
	if n == math.MinInt64 {
		panic(OverflowError{})
	}
	return Ratio{n, 1}
}

// NewRatio returns num/den in lowest terms. It panics where den is 0, and with
// an OverflowError where either is the least int64, which has no negative.
func NewRatio(num, den int64) Ratio {
	if den == 0 {
		panic("chem: ratio with denominator 0")
	}
	if num == math.MinInt64 || den == math.MinInt64 {
		panic(OverflowError{})
	}
	if den < 0 {
		num, den = -num, -den
	}
	if g := GCD(num, den); g > 1 {
		num, den = num/g, den/g
	}
	return Ratio{num, den}
}

// GCD returns the greatest common divisor of the absolute values; GCD(0, n) is |n|.
func GCD(a, b int64) int64 {
	if a < 0 {
		a = -a
	}
	if b < 0 {
		b = -b
	}
	for b != 0 {
		a, b = b, a%b
	}
	return a
}

// LCM returns the least common multiple of two positive numbers, and false
// where it does not fit.
func LCM(a, b int64) (int64, bool) { return Product(a/GCD(a, b), b) }

// Product returns a*b, and false where it does not fit in 64 bits.
func Product(a, b int64) (int64, bool) {
	hi, lo := bits.Mul64(magnitude(a), magnitude(b))
	if hi != 0 || lo > 1<<63-1 {
		return 0, false
	}
	if (a < 0) != (b < 0) {
		return -int64(lo), true
	}
	return int64(lo), true
}

// Sum returns a+b, and false where it does not fit in 64 bits.
func Sum(a, b int64) (int64, bool) {
	c := a + b
	return c, (c > a) == (b > 0)
}

func magnitude(a int64) uint64 {
	if a < 0 {
		return uint64(-a)
	}
	return uint64(a)
}

// Num returns the numerator, which carries the sign.
func (r Ratio) Num() int64 { return r.num }

// Den returns the denominator, at least 1.
func (r Ratio) Den() int64 {
	if r.den == 0 {
		return 1
	}
	return r.den
}

// IsWhole reports whether the denominator is 1.
func (r Ratio) IsWhole() bool { return r.Den() == 1 }

// Sign returns -1, 0 or 1.
func (r Ratio) Sign() int {
	switch {
	case r.num < 0:
		return -1
	case r.num > 0:
		return 1
	}
	return 0
}

// Equal reports whether the two are the same number.
func (r Ratio) Equal(q Ratio) bool { return r.num == q.num && r.Den() == q.Den() }

// Neg returns -r.
func (r Ratio) Neg() Ratio { return Ratio{-r.num, r.den} }

// Add returns r+q; it panics with an OverflowError where that does not fit.
func (r Ratio) Add(q Ratio) Ratio {
	a := mustProduct(r.num, q.Den())
	b := mustProduct(q.num, r.Den())
	n, ok := Sum(a, b)
	if !ok {
		panic(OverflowError{})
	}
	return NewRatio(n, mustProduct(r.Den(), q.Den()))
}

// Sub returns r-q, with the limits of Add.
func (r Ratio) Sub(q Ratio) Ratio { return r.Add(q.Neg()) }

// Mul returns r*q, with the limits of Add.
func (r Ratio) Mul(q Ratio) Ratio {
	g, h := GCD(r.num, q.Den()), GCD(q.num, r.Den())
	if g == 0 || h == 0 {
		return Whole(0)
	}
	return NewRatio(mustProduct(r.num/g, q.num/h), mustProduct(r.Den()/h, q.Den()/g))
}

// Quo returns r/q, with the limits of Add; q must not be 0.
func (r Ratio) Quo(q Ratio) Ratio { return r.Mul(NewRatio(q.Den(), q.num)) }

// Cmp returns -1, 0 or 1 as r is less than, equal to or greater than q.
func (r Ratio) Cmp(q Ratio) int { return r.Sub(q).Sign() }

// String returns "3", "-1/2".
func (r Ratio) String() string {
	if r.IsWhole() {
		return strconv.FormatInt(r.num, 10)
	}
	return strconv.FormatInt(r.num, 10) + "/" + strconv.FormatInt(r.den, 10)
}

// Signed returns the number with its sign, as oxidation states are written:
// "+2", "-1/2", "0".
func (r Ratio) Signed() string {
	if r.num > 0 {
		return "+" + r.String()
	}
	return r.String()
}

// An OverflowError says that a number left the range that is computed exactly.
// The arithmetic of Ratio raises it as a panic; package redox turns it into a
// TooLargeError at its border, so that no caller sees it.
type OverflowError struct{}

func (OverflowError) Error() string { return "a number is too large to be computed exactly" }

func mustProduct(a, b int64) int64 {
	p, ok := Product(a, b)
	if !ok {
		panic(OverflowError{})
	}
	return p
}
