package chem

import (
	"cmp"
	"fmt"
	"slices"
)

// Limits on an equation and on its readings.
const (
	MaxTerms    = 64
	MaxReadings = 256
)

// An Assumption tells how characters that allow several readings were read.
type Assumption struct {
	Offset int // bytes from the start of the text
	Typed  string
	Read   *Species
}

// A SpeciesReading is one way to understand a formula.
type SpeciesReading struct {
	Species *Species
	Known   bool // the lexicon has it
}

// ReadSpecies reads one species and returns all its readings, the likeliest
// first: those that the lexicon knows in its order, then the others. lexicon
// may be nil. The error is a *SyntaxError or a *TooLargeError.
func ReadSpecies(text string, lexicon Lexicon) ([]SpeciesReading, error) {
	in, err := newInput(text)
	if err != nil {
		return nil, err
	}
	p := &parser{input: in, lexicon: lexicon, alone: true}
	end := len(in.chars)
	i := p.skipSpace(0, end)
	if i >= end {
		return nil, in.fail(0, end, "nothing was typed", "write a formula such as MnO4^-")
	}
	if isDigit(in.chars[i].r) || fractions[in.chars[i].r] != (Ratio{}) {
		if _, j, err := p.coefficient(i, end); err != nil {
			return nil, err
		} else if j > i {
			return nil, in.fail(i, j, "a coefficient stands before the formula", "ask for the species alone")
		}
	}
	var whole []reading
	for _, r := range p.species(i, end) {
		if next := p.skipSpace(r.next, end); next < end {
			p.note(next, p.unexpected(next, end))
			continue
		}
		whole = append(whole, r)
	}
	if len(whole) == 0 {
		return nil, p.err
	}
	c := p.choices(i, end, whole)
	out := make([]SpeciesReading, len(c.readings))
	for k, r := range c.readings {
		out[k] = SpeciesReading{Species: r.term.Species}
		if lexicon != nil {
			_, out[k].Known = lexicon.Rank(r.term.Species)
		}
	}
	return out, nil
}

// A choice is a stretch of the text with the readings of one term.
type choice struct {
	readings []reading // known ones first, by rank; then as the characters suggest
	ranks    []int     // of the readings, nil where there is nothing to choose
	known    int
	from, to int
}

// choices sorts the readings of the term at chars i to j.
func (p *parser) choices(i, j int, all []reading) choice {
	c := choice{readings: all, from: i, to: j}
	if len(all) == 1 {
		return c // nothing to choose; the lexicon is not asked, for speed
	}
	ranks := make([]int, len(all))
	for k, r := range all {
		ranks[k] = 1<<20 + k + p.unlikely(r)
		if p.lexicon != nil {
			if n, known := p.lexicon.Rank(r.term.Species); known {
				ranks[k] = n
				c.known++
				if r.lost && p.raisedSign(r) {
					ranks[k] += 1 << 19 // O2⁻ is what it says
				}
			}
		}
	}
	order := make([]int, len(all))
	for k := range order {
		order[k] = k
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(ranks[a], ranks[b]) })
	c.readings = make([]reading, len(all))
	c.ranks = make([]int, len(all))
	for k, o := range order {
		c.readings[k], c.ranks[k] = all[o], ranks[o]
	}
	return c
}

// raisedSign reports whether the charge of a reading ends in a superscript.
func (p *parser) raisedSign(r reading) bool {
	for i := min(r.next, len(p.chars)) - 1; i >= 0; i-- {
		if isSign(p.at(i)) {
			return p.chars[i].level == Superscript
		}
	}
	return false
}

// judge asks the lexicon about the one reading of c too: it decides whose the
// dashes before an arrow are (Cl-->).
func (p *parser) judge(c *choice) {
	if len(c.readings) > 1 {
		return
	}
	c.ranks = []int{1 << 20}
	if p.lexicon != nil {
		if n, known := p.lexicon.Rank(c.readings[0].term.Species); known {
			c.ranks[0], c.known = n, 1
		}
	}
}

// unlikely puts P3^- behind P^3-: an unknown ion of one element is taken to
// have one atom.
func (p *parser) unlikely(r reading) int {
	s := r.term.Species
	if !r.lost && len(s.composition) == 1 && s.composition[0].Atoms > 1 && s.charge != 0 {
		return 100
	}
	return 0
}

// A Reading is one way to understand a line as an equation.
type Reading struct {
	Equation Equation
	// Assumptions lists the terms that allow another reading, those where a
	// digit on the line was taken for a charge, and a term whose charge may be
	// part of the arrow (Typed then holds the arrow too).
	Assumptions []Assumption
}

// Readings are the ways to understand a line.
type Readings struct {
	All  []Reading // at least one, the likeliest first
	More bool      // there are more than MaxReadings
}

// ReadEquation reads an equation and returns its readings. Terms that the
// lexicon knows win over those that it does not know. The error is a
// *SyntaxError or a *TooLargeError.
func ReadEquation(text string, lexicon Lexicon) (Readings, error) {
	in, err := newInput(text)
	if err != nil {
		return Readings{}, err
	}
	p := &parser{input: in, lexicon: lexicon}
	arrows, err := p.arrows()
	if err != nil {
		return Readings{}, err
	}
	var lines []line
	possible := 0         // arrows with a left side before them
	var rights [][]choice // the same for every arrow, since all end at one place
	for _, a := range arrows {
		lefts := p.side(0, a.from)
		if lefts == nil {
			continue
		}
		possible++
		if len(arrows) > 1 {
			for _, left := range lefts {
				p.judge(&left[len(left)-1])
			}
		}
		if rights == nil {
			if rights = p.side(a.to, len(in.chars)); rights == nil {
				break
			}
		}
		for _, left := range lefts {
			for _, right := range rights {
				lines = append(lines, line{left: left, right: right, arrow: a.to})
			}
		}
	}
	if len(lines) == 0 {
		return Readings{}, p.err
	}
	for i := range lines {
		lines[i].shared = possible > 1
	}
	return p.readings(lines)
}

// A line is both sides as choices.
type line struct {
	left, right []choice
	arrow       int  // the char after the arrow
	shared      bool // dashes belong to the arrow or to the term before it
}

// An arrow is the stretch of chars from, to.
type arrow struct{ from, to int }

// arrows finds the arrow. After a bare charge the first dash may belong to the
// charge (Cl-->), which gives several.
func (p *parser) arrows() ([]arrow, error) {
	var found []arrow
	end := len(p.chars)
	first := p.skipSpace(0, end)
	if first >= end {
		return nil, p.fail(0, end, "nothing was typed", "write an equation such as MnO4^- + Fe^2+ -> Mn^2+ + Fe^3+")
	}
	for i := 0; i < end; i++ {
		from, to := i, i
		if p.chars[i].level != Normal {
			continue
		}
		switch r := p.at(i); r {
		case '→':
			to = i + 1
		case '←':
			return nil, p.fail(i, i+1, "the arrow points to the left", "write reactants, an arrow ->, products")
		case '<':
			j := i + 1
			for j < end && (p.at(j) == '-' || p.at(j) == '=') {
				j++
			}
			if j < end && p.at(j) == '>' {
				to = j + 1
			} else if j > i+1 {
				return nil, p.fail(i, j, "the arrow points to the left", "write reactants, an arrow ->, products")
			}
		case '-', '=':
			j := i
			for j < end && (p.at(j) == '-' || p.at(j) == '=') {
				j++
			}
			switch {
			case j < end && p.at(j) == '>':
				to = j + 1
			case r == '=':
				to = j
			default:
				// The dash before an equals sign is a charge: Cl^-=.
				for from < j && p.at(from) == '-' {
					from++
				}
				if from == j {
					i = j - 1
					continue
				}
				to = j
			}
		}
		if to == from {
			continue
		}
		if len(found) > 0 {
			return nil, p.fail(from, to, "a second arrow", "write one equation with one arrow")
		}
		found = append(found, arrow{from, to})
		// Dashes that touch a formula may be its charge.
		if from > 0 && p.at(from) == '-' && p.at(from-1) != ' ' {
			for k := from + 1; k < min(to-1, from+1+maxSigns); k++ {
				found = append(found, arrow{k, to})
			}
		}
		i = to - 1
	}
	if len(found) == 0 {
		return nil, p.fail(end, end, "no arrow", "write reactants, an arrow ->, products")
	}
	a := found[0]
	if p.skipSpace(0, a.from) >= a.from {
		return nil, p.fail(a.from, a.to, "nothing stands before the arrow", "write reactants, an arrow ->, products")
	}
	if p.skipSpace(a.to, end) >= end {
		return nil, p.fail(a.from, a.to, "nothing stands after the arrow", "write reactants, an arrow ->, products")
	}
	return found, nil
}

// maxSplits bounds the ways to cut a side into terms.
const maxSplits = 16

// side cuts chars i to end into terms at plus signs, in every way that the
// characters allow (up to maxSplits), and returns each as a row of choices.
// Without any, the trouble was noted.
func (p *parser) side(i, end int) [][]choice {
	dead := map[int]bool{} // starts from which no cut reaches the end
	var out [][]choice
	var row []choice
	var walk func(i int) bool
	walk = func(i int) bool {
		if dead[i] || len(out) >= maxSplits {
			return false
		}
		if len(row) >= MaxTerms {
			// Noted at the end: no other trouble on this side matters more.
			p.note(end, p.tooLarge(p.skipSpace(i, end), end, fmt.Sprintf("an equation may have %d terms", MaxTerms)))
			return false
		}
		start := p.skipSpace(i, end)
		if start >= end {
			p.note(start, p.fail(max(i-1, 0), i, "nothing follows the plus sign", "leave it out, or add the missing term"))
			dead[i] = true
			return false
		}
		all := p.term(start, end)
		reached := false
		for len(all) > 0 {
			// The readings that end at the same place are one choice.
			next := all[0].next
			var same, others []reading
			for _, r := range all {
				if r.next == next {
					same = append(same, r)
				} else {
					others = append(others, r)
				}
			}
			all = others
			row = append(row, p.choices(start, next, same))
			if next >= end {
				out = append(out, append([]choice(nil), row...))
				reached = true
			} else if walk(next + 1) {
				reached = true
			}
			row = row[:len(row)-1]
		}
		if !reached {
			dead[i] = true
		}
		return reached
	}
	walk(i)
	return out
}

// A combination is one way to read a line: n, in the mixed radix of the open
// readings of its terms, says which reading each has.
type combination struct {
	line          *line
	n             int
	unknown, rank int
}

// readings turns rows of choices into equations. Only those that are returned
// are built.
func (p *parser) readings(lines []line) (Readings, error) {
	var out Readings
	var all []combination
	for i := range lines {
		l := &lines[i]
		if len(l.left)+len(l.right) > MaxTerms {
			continue
		}
		total := 1
		for _, c := range l.terms {
			if total <= MaxReadings {
				total *= c.open()
			}
		}
		if total > MaxReadings {
			total, out.More = MaxReadings, true
		}
		for n := range total {
			all = append(all, weigh(l, n))
		}
	}
	if len(all) == 0 {
		return out, p.tooLarge(0, len(p.chars), fmt.Sprintf("an equation may have %d terms", MaxTerms))
	}
	if len(all) > 1 {
		slices.SortStableFunc(all, func(a, b combination) int {
			return cmp.Or(cmp.Compare(a.unknown, b.unknown), cmp.Compare(a.rank, b.rank))
		})
	}
	if len(all) > MaxReadings {
		all, out.More = all[:MaxReadings], true
	}
	out.All = make([]Reading, len(all))
	for i, c := range all {
		out.All[i] = p.build(c)
	}
	return out, nil
}

// terms calls yield for each term of the line, the left side first.
func (l *line) terms(yield func(k int, c choice) bool) {
	for k, c := range l.left {
		if !yield(k, c) {
			return
		}
	}
	for k, c := range l.right {
		if !yield(len(l.left)+k, c) {
			return
		}
	}
}

// weigh counts the unknown species of combination n and adds up the ranks.
func weigh(l *line, n int) combination {
	w := combination{line: l, n: n}
	for _, c := range l.terms {
		if c.ranks != nil {
			w.rank += c.ranks[n%c.open()]
			if c.known == 0 {
				w.unknown++
			}
		}
		n /= c.open()
	}
	return w
}

func (p *parser) build(w combination) Reading {
	var r Reading
	terms := make([]Term, len(w.line.left)+len(w.line.right)) // every reading owns its terms
	n := w.n
	for k, c := range w.line.terms {
		pick := c.readings[n%c.open()]
		n /= c.open()
		terms[k] = pick.term
		shared := w.line.shared && k == len(w.line.left)-1
		if shared || len(c.readings) > 1 && (pick.lost || c.open() > 1) {
			to := c.to
			if shared {
				to = w.line.arrow
			}
			off, width := p.span(c.from, to)
			typed := trimTerm(p.text[off : off+width])
			r.Assumptions = append(r.Assumptions, Assumption{Offset: off, Typed: typed, Read: pick.term.Species})
		}
	}
	left := len(w.line.left)
	r.Equation = Equation{Left: terms[:left:left], Right: terms[left:]}
	return r
}

// open returns how many of the readings are in question: the known ones, or
// all where none is known.
func (c choice) open() int {
	if c.known > 0 {
		return c.known
	}
	return len(c.readings)
}

func trimTerm(s string) string {
	for len(s) > 0 && s[len(s)-1] == ' ' {
		s = s[:len(s)-1]
	}
	return s
}
