package chem

import (
	"fmt"
	"sort"
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
	p := &parser{input: in, lexicon: lexicon}
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
	ranks    []int
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
			}
		}
	}
	order := make([]int, len(all))
	for k := range order {
		order[k] = k
	}
	sort.SliceStable(order, func(a, b int) bool { return ranks[order[a]] < ranks[order[b]] })
	c.readings = make([]reading, len(all))
	c.ranks = make([]int, len(all))
	for k, o := range order {
		c.readings[k], c.ranks[k] = all[o], ranks[o]
	}
	return c
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
	// Assumptions lists the terms that allow another reading and those where
	// a digit on the line was taken for a charge.
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
	for _, a := range arrows {
		for _, left := range p.side(0, a.from) {
			for _, right := range p.side(a.to, len(in.chars)) {
				lines = append(lines, line{left, right})
			}
		}
	}
	if len(lines) == 0 {
		return Readings{}, p.err
	}
	return p.readings(lines)
}

// A line is both sides as choices.
type line struct{ left, right []choice }

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
				i = j - 1
				continue
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
			for k := from + 1; k < to-1; k++ {
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
			p.note(i, p.tooLarge(i, end, fmt.Sprintf("an equation may have %d terms", MaxTerms)))
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

// readings turns rows of choices into equations.
func (p *parser) readings(lines []line) (Readings, error) {
	var out Readings
	type scored struct {
		Reading
		unknown, rank int
	}
	var all []scored
	for _, l := range lines {
		row := append(append([]choice(nil), l.left...), l.right...)
		if len(row) > MaxTerms {
			return out, p.tooLarge(0, len(p.chars), fmt.Sprintf("an equation may have %d terms", MaxTerms))
		}
		total := 1
		for _, c := range row {
			if n := c.open(); total <= MaxReadings {
				total *= n
			}
		}
		if total > MaxReadings {
			total, out.More = MaxReadings, true
		}
		terms := make([]Term, len(row))
		for n := range total {
			var s scored
			for k, rest := 0, n; k < len(row); k++ {
				c := row[k]
				pick := rest % c.open()
				rest /= c.open()
				r := c.readings[pick]
				terms[k] = r.term
				if len(c.readings) > 1 {
					s.rank += c.ranks[pick]
					if c.known == 0 {
						s.unknown++
					}
					if r.lost || c.open() > 1 {
						off, width := p.span(c.from, c.to)
						typed := trimTerm(p.text[off : off+width])
						s.Assumptions = append(s.Assumptions, Assumption{Offset: off, Typed: typed, Read: r.term.Species})
					}
				}
			}
			// Every reading owns its terms.
			own := append([]Term(nil), terms...)
			s.Equation = Equation{Left: own[:len(l.left):len(l.left)], Right: own[len(l.left):]}
			all = append(all, s)
		}
	}
	if len(all) > 1 {
		sort.SliceStable(all, func(a, b int) bool {
			if all[a].unknown != all[b].unknown {
				return all[a].unknown < all[b].unknown
			}
			return all[a].rank < all[b].rank
		})
	}
	if len(all) > MaxReadings {
		all, out.More = all[:MaxReadings], true
	}
	out.All = make([]Reading, len(all))
	for i, s := range all {
		out.All[i] = s.Reading
	}
	return out, nil
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
