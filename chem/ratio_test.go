package chem_test

import (
	"math"
	"math/big"
	"testing"

	"pgregory.net/rapid"

	"halves/chem"
)

// anyRatio draws numbers from small to the ends of the range.
var anyRatio = rapid.Custom(func(t *rapid.T) chem.Ratio {
	limit := rapid.SampledFrom([]int64{12, 1000, 1 << 31, math.MaxInt64}).Draw(t, "limit")
	return chem.NewRatio(rapid.Int64Range(-limit, limit).Draw(t, "num"), rapid.Int64Range(1, limit).Draw(t, "den"))
})

var smallRatio = rapid.Custom(func(t *rapid.T) chem.Ratio {
	return chem.NewRatio(rapid.Int64Range(-1000, 1000).Draw(t, "num"), rapid.Int64Range(1, 1000).Draw(t, "den"))
})

func rat(r chem.Ratio) *big.Rat { return big.NewRat(r.Num(), r.Den()) }

// failer is what a test and a property have in common.
type failer interface{ Fatalf(string, ...any) }

// exact runs f and returns nil where it overflowed; any other panic fails.
func exact(t failer, f func() chem.Ratio) (r *chem.Ratio) {
	defer func() {
		switch p := recover(); p.(type) {
		case nil:
		case chem.OverflowError:
			r = nil
		default:
			t.Fatalf("panic %v (%T), want an OverflowError alone", p, p)
		}
	}()
	got := f()
	return &got
}

// againstBig fails where an operation on a and b is not that of math/big in
// lowest terms. It returns how many results there were and how many overflows.
func againstBig(t failer, a, b chem.Ratio) (results, overflows int) {
	for _, op := range []struct {
		name string
		got  func() chem.Ratio
		want func() *big.Rat
	}{
		{"Add", func() chem.Ratio { return a.Add(b) }, func() *big.Rat { return new(big.Rat).Add(rat(a), rat(b)) }},
		{"Sub", func() chem.Ratio { return a.Sub(b) }, func() *big.Rat { return new(big.Rat).Sub(rat(a), rat(b)) }},
		{"Mul", func() chem.Ratio { return a.Mul(b) }, func() *big.Rat { return new(big.Rat).Mul(rat(a), rat(b)) }},
		{"Quo", func() chem.Ratio { return a.Quo(b) }, func() *big.Rat { return new(big.Rat).Quo(rat(a), rat(b)) }},
		{"Neg", func() chem.Ratio { return a.Neg() }, func() *big.Rat { return new(big.Rat).Neg(rat(a)) }},
	} {
		if op.name == "Quo" && b.Sign() == 0 {
			continue
		}
		want := op.want()
		r := exact(t, op.got)
		if r == nil {
			overflows++
			if (op.name == "Mul" || op.name == "Quo") && want.Num().IsInt64() && want.Denom().IsInt64() && want.Num().Cmp(big.NewInt(math.MinInt64)) != 0 {
				t.Fatalf("%s.%s(%s) overflows, but %s fits", a, op.name, b, want)
			}
			continue
		}
		results++
		if want.Num().Cmp(big.NewInt(r.Num())) != 0 || want.Denom().Cmp(big.NewInt(r.Den())) != 0 {
			t.Fatalf("%s.%s(%s) = %d/%d, want %s", a, op.name, b, r.Num(), r.Den(), want)
		}
	}
	if c := exact(t, func() chem.Ratio { return chem.Whole(int64(a.Cmp(b))) }); c != nil && c.Num() != int64(rat(a).Cmp(rat(b))) {
		t.Fatalf("%s.Cmp(%s) = %s, want %d", a, b, c, rat(a).Cmp(rat(b)))
	}
	return results, overflows
}

// TestRatioAgainstBig: every result is that of math/big in lowest terms, or
// overflows. The pairs at the ends of the range are fixed, so that both are
// seen in every run.
func TestRatioAgainstBig(t *testing.T) {
	ends := []chem.Ratio{
		{}, chem.Whole(1), chem.Whole(-3), chem.NewRatio(5, 2), chem.NewRatio(1, 1<<40),
		chem.Whole(1 << 32), chem.Whole(math.MaxInt64), chem.Whole(-math.MaxInt64),
		chem.NewRatio(1, math.MaxInt64), chem.NewRatio(math.MaxInt64, math.MaxInt64-1),
	}
	results, overflows := 0, 0
	for _, a := range ends {
		for _, b := range ends {
			r, o := againstBig(t, a, b)
			results, overflows = results+r, overflows+o
		}
	}
	if results == 0 || overflows == 0 {
		t.Errorf("%d overflows, %d results: the test has to see both", overflows, results)
	}
	rapid.Check(t, func(t *rapid.T) {
		againstBig(t, anyRatio.Draw(t, "a"), anyRatio.Draw(t, "b"))
	})
}

// TestRatioField: the laws of a field.
func TestRatioField(t *testing.T) {
	zero, one := chem.Ratio{}, chem.Whole(1)
	rapid.Check(t, func(t *rapid.T) {
		a, b, c := smallRatio.Draw(t, "a"), smallRatio.Draw(t, "b"), smallRatio.Draw(t, "c")
		for _, law := range []struct {
			name      string
			got, want chem.Ratio
		}{
			{"a+b = b+a", a.Add(b), b.Add(a)},
			{"ab = ba", a.Mul(b), b.Mul(a)},
			{"(a+b)+c = a+(b+c)", a.Add(b).Add(c), a.Add(b.Add(c))},
			{"(ab)c = a(bc)", a.Mul(b).Mul(c), a.Mul(b.Mul(c))},
			{"a(b+c) = ab+ac", a.Mul(b.Add(c)), a.Mul(b).Add(a.Mul(c))},
			{"a+0 = a", a.Add(zero), a},
			{"a*1 = a", a.Mul(one), a},
			{"a-a = 0", a.Sub(a), zero},
			{"a+(-a) = 0", a.Add(a.Neg()), zero},
			{"a*0 = 0", a.Mul(zero), zero},
		} {
			if !law.got.Equal(law.want) {
				t.Fatalf("%s for %s, %s, %s: %s and %s", law.name, a, b, c, law.got, law.want)
			}
		}
		if b.Sign() != 0 && !a.Quo(b).Mul(b).Equal(a) {
			t.Fatalf("(%s/%s)*%s = %s", a, b, b, a.Quo(b).Mul(b))
		}
		if g := chem.GCD(a.Num(), a.Den()); g != 1 || a.Den() < 1 {
			t.Fatalf("%d/%d is not in lowest terms", a.Num(), a.Den())
		}
		if a.IsWhole() != (a.Den() == 1) || a.Sign() != rat(a).Sign() || a.Equal(b) != (rat(a).Cmp(rat(b)) == 0) {
			t.Fatalf("IsWhole, Sign or Equal of %s and %s are wrong", a, b)
		}
	})
}

func TestRatioText(t *testing.T) {
	for _, c := range []struct {
		r            chem.Ratio
		text, signed string
	}{
		{chem.Ratio{}, "0", "0"},
		{chem.Whole(7), "7", "+7"},
		{chem.Whole(-2), "-2", "-2"},
		{chem.NewRatio(5, 2), "5/2", "+5/2"},
		{chem.NewRatio(1, -2), "-1/2", "-1/2"},
		{chem.NewRatio(-6, -4), "3/2", "+3/2"},
		{chem.NewRatio(0, -5), "0", "0"},
		{chem.NewRatio(10, 5), "2", "+2"},
	} {
		if c.r.String() != c.text || c.r.Signed() != c.signed {
			t.Errorf("String() = %s, Signed() = %s, want %s and %s", c.r, c.r.Signed(), c.text, c.signed)
		}
	}
}

// TestRatioEdges: the ends of 64 bits, where a sign cannot be turned round.
func TestRatioEdges(t *testing.T) {
	const least, most = math.MinInt64, math.MaxInt64
	for _, c := range []struct {
		name string
		f    func() chem.Ratio
		want string // "overflow", or the number
	}{
		{"NewRatio(least, 1)", func() chem.Ratio { return chem.NewRatio(least, 1) }, "overflow"},
		{"NewRatio(least, 2)", func() chem.Ratio { return chem.NewRatio(least, 2) }, "overflow"},
		{"NewRatio(1, least)", func() chem.Ratio { return chem.NewRatio(1, least) }, "overflow"},
		{"NewRatio(most, most)", func() chem.Ratio { return chem.NewRatio(most, most) }, "1"},
		{"NewRatio(-most, 1)", func() chem.Ratio { return chem.NewRatio(-most, 1) }, "-9223372036854775807"},
		{"Whole(least)", func() chem.Ratio { return chem.Whole(least) }, "overflow"},
		{"most + 1", func() chem.Ratio { return chem.Whole(most).Add(chem.Whole(1)) }, "overflow"},
		{"-most - 1", func() chem.Ratio { return chem.Whole(-most).Sub(chem.Whole(1)) }, "overflow"},
		{"most - most", func() chem.Ratio { return chem.Whole(most).Sub(chem.Whole(most)) }, "0"},
		{"most * 2", func() chem.Ratio { return chem.Whole(most).Mul(chem.Whole(2)) }, "overflow"},
		{"most * 1/most", func() chem.Ratio { return chem.Whole(most).Mul(chem.NewRatio(1, most)) }, "1"},
		{"1/most + 1/(most-1)", func() chem.Ratio { return chem.NewRatio(1, most).Add(chem.NewRatio(1, most-1)) }, "overflow"},
	} {
		got := func() (s string) {
			defer func() {
				if p := recover(); p != nil {
					if _, ok := p.(chem.OverflowError); !ok {
						t.Errorf("%s: panic %v (%T), want an OverflowError", c.name, p, p)
					}
					s = "overflow"
				}
			}()
			return c.f().String()
		}()
		if got != c.want {
			t.Errorf("%s = %s, want %s", c.name, got, c.want)
		}
	}
	defer func() {
		if recover() == nil {
			t.Errorf("NewRatio(1, 0) does not panic")
		}
	}()
	chem.NewRatio(1, 0)
}

// TestWholeNumbers: GCD, LCM, Product and Sum against math/big.
func TestWholeNumbers(t *testing.T) {
	number := rapid.Custom(func(t *rapid.T) int64 {
		limit := rapid.SampledFrom([]int64{20, 1 << 20, 1 << 33, math.MaxInt64}).Draw(t, "limit")
		return rapid.Int64Range(-limit, limit).Draw(t, "number")
	})
	rapid.Check(t, func(t *rapid.T) {
		a, b := number.Draw(t, "a"), number.Draw(t, "b")
		x, y := big.NewInt(a), big.NewInt(b)
		check := func(name string, got int64, ok bool, want *big.Int) {
			fits := want.IsInt64() && want.Int64() != math.MinInt64
			if ok != fits && !(name == "Sum" && ok && want.IsInt64()) || ok && want.Cmp(big.NewInt(got)) != 0 {
				t.Fatalf("%s(%d, %d) = %d, %v, want %s", name, a, b, got, ok, want)
			}
		}
		p, ok := chem.Product(a, b)
		check("Product", p, ok, new(big.Int).Mul(x, y))
		s, ok := chem.Sum(a, b)
		check("Sum", s, ok, new(big.Int).Add(x, y))
		check("GCD", chem.GCD(a, b), true, new(big.Int).GCD(nil, nil, new(big.Int).Abs(x), new(big.Int).Abs(y)))
		if a > 0 && b > 0 {
			l, ok := chem.LCM(a, b)
			check("LCM", l, ok, new(big.Int).Quo(new(big.Int).Mul(x, y), new(big.Int).GCD(nil, nil, x, y)))
		}
	})
}
