package chem

import "fmt"

// A chargeReading is one way to understand what follows a formula.
type chargeReading struct {
	charge int64
	next   int
	lost   bool // the formula's last digit was taken for the charge number
}

// charges returns the readings of the charge at i, likeliest first; no charge
// at all is one of them where the characters allow it.
//
//	after a caret   ^2-  ^-  ^-2  ^--  ^(2-)
//	superscripts    ²⁻  ⁻  ⁻²
//	in brackets     (2-)  (-)
//	bare            -  --  -2  2- (the last digit of the formula: SO42-)
//	after a space   2-  -
func (p *parser) charges(i, end int, t tail) ([]chargeReading, error) {
	none := []chargeReading{{next: i}}
	if i >= end {
		return none, nil
	}
	r, level := p.at(i), p.chars[i].level
	switch {
	case level == Superscript:
		all, err := p.superscriptCharge(i, end)
		if t.plainDigits && t.digit > 1 && t.rest == 0 && len(all) == 1 && isSign(r) && all[0].next == i+1 {
			// The sign was raised and the number before it lost: Fe2⁺.
			all = append(all, chargeReading{charge: signed(t.digit, r), next: i + 1, lost: true})
		}
		return all, err
	case r == '^':
		return p.caretCharge(i, end)
	case r == '(' || r == '[' || r == '{':
		if c, ok := p.bracketedCharge(i, end); ok {
			return []chargeReading{c}, nil
		}
	case isDigit(r): // after true subscripts: SO₄2-
		n, j, err := p.number(i, end)
		if err != nil {
			return nil, err
		}
		switch {
		case j >= end || !isSign(p.at(j)):
		case r == '0':
			return nil, p.fail(i, j, "a charge does not begin with 0", "leave the charge out, or write ^2+")
		case n > MaxCharge:
			return nil, p.tooLarge(i, j, fmt.Sprintf("charges up to %d are read", MaxCharge))
		default:
			return []chargeReading{{charge: signed(n, p.at(j)), next: j + 1}}, nil
		}
	case isSign(r):
		return p.bareCharge(i, end, t), nil
	case r == ' ':
		if c, ok := p.spacedCharge(i, end); ok {
			return []chargeReading{c}, nil
		}
	}
	return none, nil
}

func signed(n int64, sign rune) int64 {
	if sign == '-' {
		return -n
	}
	return n
}

// signRun returns how many of the same sign stand from i on.
func (p *parser) signRun(i, end int) int {
	n := 0
	for i+n < end && p.at(i+n) == p.at(i) && p.chars[i+n].level == p.chars[i].level {
		n++
	}
	return n
}

func (p *parser) caretCharge(i, end int) ([]chargeReading, error) {
	j := i + 1
	if j >= end {
		return nil, p.fail(i, j, "nothing follows the caret", "a charge is a number and a sign: ^2-")
	}
	switch r := p.at(j); {
	case p.chars[j].level == Superscript:
		return p.superscriptCharge(j, end)
	case r == '(' || r == '[' || r == '{':
		if c, ok := p.bracketedCharge(j, end); ok {
			return []chargeReading{c}, nil
		}
		return nil, p.fail(i, j+1, "what follows the caret is not a charge", "a charge is a number and a sign: ^2-")
	case isDigit(r):
		n, k, err := p.number(j, end)
		if err != nil {
			return nil, err
		}
		switch {
		case r == '0':
			return nil, p.fail(i, k, "a charge does not begin with 0", "leave the charge out, or write ^2+")
		case k < end && isSign(p.at(k)):
			if n > MaxCharge {
				return nil, p.tooLarge(i, k, fmt.Sprintf("charges up to %d are read", MaxCharge))
			}
			if k+1 < end && isDigit(p.at(k+1)) {
				return nil, p.fail(i, k+2, "a number follows the charge", "put + and a space between terms: Fe^2+ + 3 Cl2")
			}
			return []chargeReading{{charge: signed(n, p.at(k)), next: k + 1}}, nil
		}
		if m := p.skipSpace(k, end); m > k && m < end && isSign(p.at(m)) {
			return nil, p.fail(i, m+1, fmt.Sprintf("a space parts the charge %s from its sign", p.typed(j, k)), fmt.Sprintf("write %s without a space", p.typed(i, k)+p.typed(m, m+1)))
		}
		return nil, p.fail(i, k, fmt.Sprintf("the charge %s has no sign", p.typed(i, k)), fmt.Sprintf("write %s+ or %s-; subscripts need no caret", p.typed(i, k), p.typed(i, k)))
	case isSign(r):
		return p.signCharges(j, end), nil
	}
	return nil, p.fail(i, j, "what follows the caret is not a charge", "a charge is a number and a sign: ^2-")
}

// maxSigns bounds a charge that is written as a row of signs (PO4---): no ion
// that is written so has a charge beyond 8, and a longer row is a slip. It
// keeps the readings of a row few.
const maxSigns = 8

// signCharges reads -, --, -2 at i: every way in which a run of signs can end,
// the longest first.
func (p *parser) signCharges(i, end int) []chargeReading {
	var all []chargeReading
	if c, ok := p.signDigits(i, end); ok {
		all = append(all, c)
	}
	for k := min(p.signRun(i, end), maxSigns); k >= 1; k-- {
		all = append(all, chargeReading{charge: signed(int64(k), p.at(i)), next: i + k})
	}
	return all
}

// signDigits reads -2 where no letter follows.
func (p *parser) signDigits(i, end int) (chargeReading, bool) {
	j := i + 1
	if j >= end || !isDigit(p.at(j)) || p.at(j) == '0' || p.chars[j].level != p.chars[i].level {
		return chargeReading{}, false
	}
	n, k, err := p.number(j, end)
	if err != nil || n > MaxCharge || k < end && (isUpper(p.at(k)) || isLower(p.at(k)) || p.at(k) == '/' || p.at(k) == '.') {
		return chargeReading{}, false
	}
	return chargeReading{charge: signed(n, p.at(i)), next: k}, true
}

func (p *parser) superscriptCharge(i, end int) ([]chargeReading, error) {
	j := i
	for j < end && p.chars[j].level == Superscript && (isDigit(p.at(j)) || isSign(p.at(j))) {
		j++
	}
	bad := p.fail(i, max(j, i+1), "a superscript that is not a charge", "a charge is a number and a sign at the end of the formula: Fe³⁺ or Fe^3+")
	if j == i {
		return nil, bad
	}
	if isDigit(p.at(i)) {
		n, k, err := p.number(i, j)
		if err != nil {
			return nil, err
		}
		if p.at(i) == '0' || n > MaxCharge {
			return nil, bad
		}
		if k == j-1 || k == j && j < end && isSign(p.at(j)) { // the sign raised, or left on the line
			return []chargeReading{{charge: signed(n, p.at(k)), next: k + 1}}, nil
		}
		return nil, bad
	}
	if c, ok := p.signDigits(i, j); ok && c.next == j {
		return []chargeReading{c}, nil
	}
	if n := p.signRun(i, j); i+n == j && n <= MaxCharge {
		return []chargeReading{{charge: signed(int64(n), p.at(i)), next: j}}, nil
	}
	return nil, bad
}

// bracketedCharge reads (2-), (-), (-2).
func (p *parser) bracketedCharge(i, end int) (chargeReading, bool) {
	if i >= end || p.at(i) > 127 || closing[byte(p.at(i))] == 0 {
		return chargeReading{}, false
	}
	shut := rune(closing[byte(p.at(i))])
	j := p.skipSpace(i+1, end)
	var c chargeReading
	switch r := p.at(j); {
	case j < end && isDigit(r) && r != '0':
		n, k, err := p.number(j, end)
		if err != nil || n > MaxCharge || k >= end || !isSign(p.at(k)) {
			return chargeReading{}, false
		}
		c = chargeReading{charge: signed(n, p.at(k)), next: k + 1}
	case j < end && isSign(r):
		var ok bool
		if c, ok = p.signDigits(j, end); !ok {
			n := p.signRun(j, end)
			if n > MaxCharge {
				return chargeReading{}, false
			}
			c = chargeReading{charge: signed(int64(n), r), next: j + n}
		}
	default:
		return chargeReading{}, false
	}
	c.next = p.skipSpace(c.next, end)
	if c.next >= end || p.at(c.next) != shut {
		return chargeReading{}, false
	}
	c.next++
	return c, true
}

// bareCharge reads a sign that follows a formula without caret or space.
func (p *parser) bareCharge(i, end int, t tail) []chargeReading {
	var all []chargeReading
	if t.plainDigits && t.digit > 1 {
		lost := chargeReading{charge: signed(t.digit, p.at(i)), next: i + 1, lost: true}
		// One digit is a subscript in MnO4-, the charge in Fe3+; two digits
		// are one of each. The caller's lexicon may know better.
		if t.rest > 0 {
			all = append(all, lost)
			all = append(all, p.signCharges(i, end)...)
		} else {
			all = append(all, p.signCharges(i, end)...)
			all = append(all, lost)
		}
	} else {
		all = p.signCharges(i, end)
	}
	if p.at(i) == '+' {
		all = append(all, chargeReading{next: i})
	}
	return all
}

// spacedCharge reads a charge after a space: Cr2O7 2-, MnO4 -.
func (p *parser) spacedCharge(i, end int) (chargeReading, bool) {
	j := p.skipSpace(i, end)
	var c chargeReading
	switch r := p.at(j); {
	case j >= end || p.chars[j].level != Normal:
		return c, false
	case isDigit(r) && r != '0':
		n, k, err := p.number(j, end)
		if err != nil || n > MaxCharge || k >= end || !isSign(p.at(k)) {
			return c, false
		}
		c = chargeReading{charge: signed(n, p.at(k)), next: k + 1}
	case r == '-', r == '+' && p.alone: // in an equation a lone plus joins terms
		n := p.signRun(j, end)
		if n > maxSigns {
			return c, false
		}
		c = chargeReading{charge: signed(int64(n), r), next: j + n}
		if r == '+' && p.skipSpace(c.next, end) < end {
			return c, false
		}
	default:
		return c, false
	}
	if c.next < end {
		if r := p.at(c.next); isUpper(r) || isLower(r) || isDigit(r) {
			return chargeReading{}, false
		}
	}
	return c, true
}
