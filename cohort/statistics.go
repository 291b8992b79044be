package cohort

import (
	"fmt"
	"math"
	"math/big"
	"math/bits"
)

// Marks are integers, and so are the sums that alpha and a correlation need:
// they are kept exact, whatever their size. Only the last quotient and the root
// of it are rounded.

// minPairs is the least number of students for a correlation: through two
// points there is always a straight line, and the correlation is -1 or 1.
const minPairs = 3

// A wide is a sum of products in 128 bits. Marks are not negative and their sum
// fits an int64, so a sum of their products is below 2¹²⁶.
type wide struct{ high, low uint64 }

// add adds x times y, neither below 0.
func (w *wide) add(x, y int64) {
	high, low := bits.Mul64(uint64(x), uint64(y))
	var carry uint64
	w.low, carry = bits.Add64(w.low, low, 0)
	w.high += high + carry
}

// scaled is n Σxy - Σx Σy for n pairs, where w is Σxy.
func (w wide) scaled(n, x, y int64) *big.Int {
	whole := new(big.Int).SetUint64(w.high)
	whole.Lsh(whole, 64).Add(whole, new(big.Int).SetUint64(w.low))
	whole.Mul(whole, big.NewInt(n))
	return whole.Sub(whole, new(big.Int).Mul(big.NewInt(x), big.NewInt(y)))
}

// A spread gathers values for their variance.
type spread struct {
	n, sum  int64
	squares wide
}

func (v *spread) add(x int64) {
	v.n++
	v.sum += x
	v.squares.add(x, x)
}

// scaled is n(n-1) times the variance of the sample, n Σx² - (Σx)². It is 0
// just where the values do not vary.
func (v *spread) scaled() *big.Int { return v.squares.scaled(v.n, v.sum, v.sum) }

// Pairs gather two values of each student for their correlation.
type pairs struct {
	x, y     spread
	products wide
}

func (p *pairs) add(x, y int64) {
	p.x.add(x)
	p.y.add(y)
	p.products.add(x, y)
}

// correlation is Pearson's. Both values must vary.
func (p *pairs) correlation() float64 {
	both := p.products.scaled(p.x.n, p.x.sum, p.y.sum)
	// The square is at most 1 (Cauchy and Schwarz) and is rounded to at most 1.
	square, _ := new(big.Rat).SetFrac(
		new(big.Int).Mul(both, both),
		new(big.Int).Mul(p.x.scaled(), p.y.scaled()),
	).Float64()
	return math.Copysign(math.Sqrt(square), float64(both.Sign()))
}

// coefficient is alpha for k questions, at least two: k/(k-1) times
// (1 - items/total), where items is the sum of the variances of the questions
// and total is the variance of the totals, in the same unit and above 0.
func coefficient(k int, items, total *big.Int) float64 {
	above := new(big.Int).Sub(total, items)
	above.Mul(above, big.NewInt(int64(k)))
	below := new(big.Int).Mul(total, big.NewInt(int64(k-1)))
	value, _ := new(big.Rat).SetFrac(above, below).Float64()
	return value
}

// meanShare is the mean share of the marked ones among scripts. They come
// ordered by student, so the last digit does not depend on the list either.
func meanShare(scripts []*Script) Figure {
	n, sum := 0, 0.0
	for _, s := range scripts {
		if s.marked() {
			n++
			sum += float64(s.Earned) / float64(s.OutOf)
		}
	}
	if n == 0 {
		return Figure{Reason: "no script has marks"}
	}
	return Figure{Value: sum / float64(n)}
}

// discrimination compares the scripts of one question with the rest of what
// their students did.
func (c *class) discrimination(scripts []*Script) Discrimination {
	var d Discrimination
	var p pairs
	own := false
	for _, s := range scripts {
		if !s.marked() {
			continue
		}
		own = true
		st := c.students[s.Student]
		if st.marked < 2 {
			continue
		}
		d.Students++
		if st.marked < c.marked {
			d.Partial++
		}
		p.add(int64(s.Earned), st.marks-int64(s.Earned))
	}
	switch {
	case !own:
		d.Reason = "no script has marks"
	case c.marked < 2:
		d.Reason = "there is no other question with marks"
	case c.uneven != "":
		d.Reason = c.uneven
	case d.Students < minPairs:
		d.Reason = fmt.Sprintf("students with marks for this question and for another: %d; it takes %d", d.Students, minPairs)
	case p.x.scaled().Sign() == 0:
		d.Reason = "all students have the same marks for this question"
	case p.y.scaled().Sign() == 0:
		d.Reason = "all students have the same total for the other questions"
	default:
		d.Value = p.correlation()
	}
	return d
}

// alpha is that of all questions with marks.
func (c *class) alpha(questions [][]*Script) Alpha {
	a := Alpha{Questions: c.marked}
	var totals spread
	for _, st := range c.students {
		if c.marked == 0 || st.marked < c.marked {
			a.LeftOut++
			continue
		}
		a.Students++
		totals.add(st.marks)
	}
	total := totals.scaled()
	switch {
	case c.marked < 2:
		a.Reason = fmt.Sprintf("questions with marks: %d; it takes 2", c.marked)
	case c.uneven != "":
		a.Reason = c.uneven
	case a.Students < 2:
		a.Reason = fmt.Sprintf("students with marks for all %d questions: %d; it takes 2", c.marked, a.Students)
	case total.Sign() == 0:
		a.Reason = "all students have the same total"
	default:
		a.Value = coefficient(c.marked, c.within(questions), total)
	}
	return a
}

// within is the sum of the scaled variances of the questions, over the
// students who have marks for all of them.
func (c *class) within(questions [][]*Script) *big.Int {
	sum := new(big.Int)
	for _, scripts := range questions {
		var v spread
		for _, s := range scripts {
			if s.marked() && c.students[s.Student].marked == c.marked {
				v.add(int64(s.Earned))
			}
		}
		sum.Add(sum, v.scaled())
	}
	return sum
}
