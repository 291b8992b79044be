package balance

import "halves/chem"

// budget bounds the comparisons of one Problem, so that no skeleton takes more
// than some milliseconds; one with more combinations is reported as incomplete.
const budget = 1_000_000

// MaxElementary is the largest number of elementary equations that are listed.
const MaxElementary = 12

type support [2]uint64 // one bit a column; 64 terms and the free species twice

func (s support) with(o support) support { return support{s[0] | o[0], s[1] | o[1]} }
func (s support) within(o support) bool  { return s[0]&^o[0] == 0 && s[1]&^o[1] == 0 }
func (s *support) set(i int)             { s[i/64] |= 1 << (i % 64) }

type candidate struct {
	v   []int64 // entries of the columns, nonnegative
	res []int64 // what is left of each law
	sup support
}

// elementary returns the elementary nonnegative vectors of a matrix: those
// whose support holds no other's. complete is false where there were too many
// to finish within what is left, which is counted down, or numbers too large.
func elementary(rows [][]int64, n int, left *int) (found [][]int64, complete bool) {
	if n > 128 {
		return nil, false
	}
	all := make([]candidate, n)
	for j := range all {
		c := candidate{v: make([]int64, n), res: make([]int64, len(rows))}
		c.v[j] = 1
		c.sup.set(j)
		for i := range rows {
			c.res[i] = rows[i][j]
		}
		all[j] = c
	}
	for i := range rows {
		var zero, plus, minus []candidate
		for _, c := range all {
			switch {
			case c.res[i] == 0:
				zero = append(zero, c)
			case c.res[i] > 0:
				plus = append(plus, c)
			default:
				minus = append(minus, c)
			}
		}
		for _, p := range plus {
			for _, m := range minus {
				sup := p.sup.with(m.sup)
				if *left -= len(all); *left < 0 {
					return nil, false
				}
				if !minimal(sup, all, p.sup, m.sup) {
					continue
				}
				c, ok := combine(p, m, i)
				if !ok {
					return nil, false
				}
				*left -= n + len(rows)
				zero = append(zero, c)
			}
		}
		all = zero
	}
	for _, c := range all {
		found = append(found, c.v)
	}
	return found, true
}

// minimal reports whether no third candidate lies within the joint support:
// the test by which only extreme rays are kept.
func minimal(sup support, all []candidate, a, b support) bool {
	for _, c := range all {
		if c.sup != a && c.sup != b && c.sup.within(sup) {
			return false
		}
	}
	return true
}

func combine(p, m candidate, i int) (candidate, bool) {
	g := chem.GCD(p.res[i], m.res[i])
	x, y := -m.res[i]/g, p.res[i]/g // both positive
	c := candidate{v: make([]int64, len(p.v)), res: make([]int64, len(p.res)), sup: p.sup.with(m.sup)}
	g = 0
	add := func(to, a, b []int64) bool {
		for j := range to {
			u, ok1 := chem.Product(a[j], x)
			w, ok2 := chem.Product(b[j], y)
			s, ok3 := chem.Sum(u, w)
			if !ok1 || !ok2 || !ok3 {
				return false
			}
			to[j] = s
			g = chem.GCD(g, s)
		}
		return true
	}
	if !add(c.v, p.v, m.v) || !add(c.res, p.res, m.res) {
		return c, false
	}
	if g > 1 {
		for j := range c.v {
			c.v[j] /= g
		}
		for j := range c.res {
			c.res[j] /= g
		}
	}
	return c, true
}
