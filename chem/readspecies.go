package chem

import (
	"fmt"
	"strings"
)

// Limits on what is read. Each has its own message.
const (
	MaxNumber = 1_000_000 // subscripts and coefficients
	MaxDepth  = 32        // nested brackets
	MaxCharge = 99
)

// A Lexicon knows which species exist. Rank returns the place of a species in
// the order of commonness (smaller is commoner) and whether it is known.
type Lexicon interface {
	Rank(s *Species) (rank int, known bool)
}

// A reading is one way to understand the characters of a term.
type reading struct {
	term Term
	next int  // the char after it
	lost bool // a plain digit was taken for a charge, as where a superscript was lost
}

// A parser reads one line.
type parser struct {
	*input
	lexicon Lexicon
	alone   bool  // one species is read, not an equation
	err     error // the trouble furthest to the right
	errAt   int
}

// note keeps the error that is furthest along the line: it is where the
// likeliest reading broke off.
func (p *parser) note(at int, err error) {
	if p.err == nil || at > p.errAt {
		p.err, p.errAt = err, at
	}
}

// term returns the readings of the term at i, none with an error noted. Each
// ends where a plus sign or the end follows.
func (p *parser) term(i, end int) []reading {
	coefficient, i, err := p.coefficient(i, end)
	if err != nil {
		p.note(i, err)
		return nil
	}
	all := p.species(i, end)
	kept := all[:0]
	for _, r := range all {
		next := p.skipSpace(r.next, end)
		switch {
		case next >= end || p.at(next) == '+' && p.chars[next].level == Normal:
			r.next = next
			r.term.Coefficient = coefficient
			kept = append(kept, r)
		default:
			p.note(next, p.unexpected(next, end))
		}
	}
	return kept
}

// unexpected says what is wrong with the char after a finished term.
func (p *parser) unexpected(i, end int) error {
	switch r := p.at(i); {
	case r == '-':
		return p.fail(i, i+1, "a minus sign stands between terms", "terms are joined by +; a charge is written without a space, as in Cl^-")
	case r == '^':
		return p.fail(i, i+1, "a second charge follows the first", "write one charge, as in Fe^3+")
	case r == ')' || r == ']' || r == '}':
		return p.fail(i, i+1, fmt.Sprintf("the bracket %c was never opened", r), "")
	case p.chars[i].level == Superscript:
		return p.fail(i, i+1, "a superscript stands here without meaning", "a charge is a number and a sign at the end of the formula, as in Fe^3+")
	case isDigit(r) && p.at(i-1) == '-':
		return p.fail(i-1, i+1, "a number follows a minus sign", "subscripts are whole numbers from 1; a charge stands at the end of the formula, as in SO4^2-")
	case isDigit(r):
		return p.fail(i, i+1, "a number follows a finished formula", "put + between terms")
	case isUpper(r) || isLower(r) || r == '(' || r == '[' || r == '{':
		j := i
		for j < end && p.at(j) != ' ' && p.at(j) != '+' {
			j++
		}
		return p.fail(i, j, fmt.Sprintf("%q follows a finished formula", p.typed(i, j)), "put + between terms")
	}
	return p.fail(i, i+1, fmt.Sprintf("%q has no meaning here", p.typed(i, i+1)), "terms are joined by +")
}

// coefficient reads an optional number before a formula.
func (p *parser) coefficient(i, end int) (Ratio, int, error) {
	one := Whole(1)
	start := i
	r := p.at(i)
	if i >= end {
		return one, i, p.fail(i, i, "a formula is missing", "")
	}
	if p.chars[i].level != Normal {
		return one, i, nil
	}
	var value Ratio
	switch {
	case isDigit(r):
		n, j, err := p.number(i, end)
		if err != nil {
			return one, i, err
		}
		value, i = Whole(n), j
		switch next := p.at(i); {
		case i < end && next == '/' && i+1 < end && isDigit(p.at(i+1)):
			d, j, err := p.number(i+1, end)
			if err != nil {
				return one, i, err
			}
			if d == 0 {
				return one, i, p.fail(start, j, "a fraction with denominator 0", "")
			}
			value, i = NewRatio(n, d), j
		case i < end && (next == '.' || next == ',') && i+1 < end && isDigit(p.at(i+1)):
			j, scale, digits := i+1, int64(1), int64(0)
			for j < end && isDigit(p.at(j)) && scale < MaxNumber {
				digits, scale = digits*10+int64(p.at(j)-'0'), scale*10
				j++
			}
			value, i = Whole(n).Add(NewRatio(digits, scale)), j
		case i < end && fractions[next] != Ratio{}:
			value, i = value.Add(fractions[next]), i+1
		}
	case fractions[r] != Ratio{}:
		value, i = fractions[r], i+1
	default:
		return one, i, nil
	}
	if value.Sign() == 0 {
		return one, i, p.fail(start, i, "the coefficient is zero", "leave the term out, or give the coefficient that is meant")
	}
	if value.Num() > MaxNumber {
		// 1.000001 and 1000000½ have numerators that could not be read back.
		return one, start, p.tooLarge(start, i, fmt.Sprintf("numbers up to %d are read, also above a fraction line; this one is %s", MaxNumber, value))
	}
	j := p.skipSpace(i, end)
	if j < end && (p.at(j) == '*' || p.at(j) == '·') {
		j = p.skipSpace(j+1, end)
	}
	if j >= end || p.at(j) == '+' {
		return one, j, p.fail(start, i, fmt.Sprintf("the number %s has no formula after it", p.typed(start, i)), "")
	}
	return value, j, nil
}

// number reads digits as a whole number of at most MaxNumber.
func (p *parser) number(i, end int) (int64, int, error) {
	start, n := i, int64(0)
	level := p.chars[i].level
	for i < end && isDigit(p.at(i)) && p.chars[i].level == level {
		if n = n*10 + int64(p.at(i)-'0'); n > MaxNumber {
			for i < end && isDigit(p.at(i)) {
				i++
			}
			return 0, start, p.tooLarge(start, i, fmt.Sprintf("numbers up to %d are read", MaxNumber))
		}
		i++
	}
	return n, i, nil
}

// A tail is what is needed to take the last digit of a formula for a charge.
type tail struct {
	plainDigits bool // the formula ends in digits on the line
	digit       int64
	rest        int64 // the subscript without its last digit, 0 for none
}

// species reads a formula with charge and phase, or an electron.
func (p *parser) species(i, end int) []reading {
	start := i
	if p.at(i) == 'e' && p.chars[i].level == Normal && (i+1 >= end || !isLower(p.at(i+1))) {
		return p.electron(i, end)
	}
	parts, i, t, err := p.formula(i, end)
	if err != nil {
		p.note(i, err)
		return nil
	}
	charges, err := p.charges(i, end, t)
	if err != nil {
		p.note(i, err)
		return nil
	}
	all := make([]reading, 0, len(charges))
	for _, c := range charges {
		f := Formula{Parts: parts}
		if c.lost {
			f = withLastCount(f, max(t.rest, 1))
			units := f.Parts[len(f.Parts)-1].Units
			if u := units[len(units)-1]; len(units) > 1 && u.Group != nil && u.Count == 1 && isNumeral(u.Group) {
				continue // Pb(I)2+ is not Pb(I) with 2+, which would be refused
			}
		}
		phase, next := p.phase(c.next, end)
		s, ok := NewSpecies(f, c.charge, phase)
		if !ok {
			p.note(start, p.tooLarge(start, next, "the formula holds too many atoms"))
			return nil
		}
		all = append(all, reading{term: Term{Species: s}, next: next, lost: c.lost})
	}
	return all
}

// withLastCount returns f with another subscript at its end.
func withLastCount(f Formula, n int64) Formula {
	parts := append([]Part(nil), f.Parts...)
	last := &parts[len(parts)-1]
	last.Units = append([]Unit(nil), last.Units...)
	last.Units[len(last.Units)-1].Count = n
	return Formula{Parts: parts}
}

func (p *parser) electron(i, end int) []reading {
	charges, err := p.charges(i+1, end, tail{})
	if err != nil {
		p.note(i, err)
		return nil
	}
	var all []reading
	for _, c := range charges {
		switch {
		case c.charge == -1, c.charge == 0 && len(charges) == 1, c.charge == 0 && p.at(i+1) == '+':
			electron, _ := NewSpecies(Formula{}, -1, NoPhase)
			all = append(all, reading{term: Term{Species: electron}, next: c.next})
		case c.charge == 1:
			p.note(i, p.fail(i, c.next, "an electron has the charge 1-", "write e^-"))
		default:
			p.note(i, p.fail(i, c.next, "an electron has the charge 1-", "write the number of electrons in front: 2 e^-"))
		}
	}
	return all
}

// formula reads a formula without its charge.
func (p *parser) formula(i, end int) ([]Part, int, tail, error) {
	var parts []Part
	part := Part{Count: 1}
	for {
		start := i
		units, next, err := p.units(i, end, 0)
		if err != nil {
			return nil, next, tail{}, err
		}
		if len(units) == 0 {
			return nil, i, tail{}, p.noFormula(i, end)
		}
		if n := len(parts); n > 0 && part.Count > 1 && len(units) == 1 && units[0].Group == nil {
			if u := parts[n-1].Units; u[len(u)-1].Count > 1 {
				return nil, start, tail{}, p.fail(start, next, "a number and one atom after the dot of a hydrate", "write a molecule there, as in CuSO4.5H2O; subscripts are whole numbers")
			}
		}
		part.Units = units
		parts = append(parts, part)
		i = next
		// A hydrate goes on after a dot or an asterisk.
		j := p.skipSpace(i, end)
		if j >= end || (p.at(j) != '.' && p.at(j) != '·' && p.at(j) != '*') {
			return parts, i, p.tail(start, i, units), nil
		}
		dot := j
		j = p.skipSpace(j+1, end)
		if j >= end && p.at(dot) == '.' { // the full stop of a sentence
			return parts, j, p.tail(start, i, units), nil
		}
		if k := dot + 1; i == dot && dot > start && k < end && isDigit(p.at(dot-1)) && isDigit(p.at(k)) && p.decimal(k, end) {
			return nil, dot, tail{}, p.fail(dot-1, k+1, "a subscript is not a whole number", "multiply the formula: Fe4O3 for Fe2O1.5; a dot joins the parts of a hydrate, as in CuSO4.5H2O")
		}
		part = Part{Count: 1}
		if j < end && isDigit(p.at(j)) && p.chars[j].level == Normal {
			n, k, err := p.number(j, end)
			if err != nil {
				return nil, j, tail{}, err
			}
			if n == 0 || k < end && (p.at(k) == '/' || p.at(k) == '.') {
				return nil, j, tail{}, p.fail(j, k, "parts of a hydrate are counted in whole numbers", "multiply the formula: 2CaSO4.H2O for half a water each")
			}
			part.Count = n
			j = p.skipSpace(k, end)
		}
		if j >= end {
			return nil, dot, tail{}, p.fail(dot, dot+1, "nothing follows the dot of a hydrate", "write it as CuSO4.5H2O")
		}
		i = j
	}
}

// decimal reports whether the number at i is the fraction of a subscript
// rather than the count of a hydrate's part: what follows it is one bare atom.
func (p *parser) decimal(i, end int) bool {
	if p.at(i) == '0' {
		return false
	}
	for i < end && isDigit(p.at(i)) {
		i++
	}
	units, _, err := p.units(i, end, 0)
	return err == nil && len(units) == 1 && units[0].Group == nil
}

// tail looks at how the formula ended, for lost superscripts.
func (p *parser) tail(start, i int, units []Unit) tail {
	last := i - 1
	if last <= start || !isDigit(p.at(last)) || p.chars[last].level != Normal {
		return tail{}
	}
	t := tail{plainDigits: true, digit: int64(p.at(last) - '0'), rest: units[len(units)-1].Count / 10}
	// A charge is not 0, and nobody writes the subscript 1 that would be left
	// of a 12.
	if t.digit == 0 || t.rest == 1 {
		return tail{}
	}
	return t
}

// noFormula says what stands where a formula should begin.
func (p *parser) noFormula(i, end int) error {
	if i >= end {
		return p.fail(i, i, "a formula is missing", "")
	}
	switch r := p.at(i); {
	case isLower(r):
		return p.unknownSymbol(i, end)
	case r == '^':
		return p.fail(i, i+1, "a charge without a formula", "write the formula first, as in Fe^2+")
	case p.chars[i].level == Superscript:
		return p.fail(i, i+1, "a superscript before a formula", "mass numbers are not read; a charge follows its formula")
	case p.chars[i].level == Subscript:
		return p.fail(i, i+1, "a subscript without a formula", "")
	case r == '+':
		return p.fail(i, i+1, "a plus sign with nothing before it", "put one + between two terms")
	case r == '-':
		return p.fail(i, i+1, "a minus sign before a formula", "coefficients are positive; what is taken away stands on the other side")
	case r == ')' || r == ']' || r == '}':
		return p.fail(i, i+1, fmt.Sprintf("the bracket %c was never opened", r), "")
	case r == '_':
		return p.fail(i, i+1, "an underscore has no meaning here", "write subscripts as plain digits: H2O")
	}
	return p.fail(i, i+1, fmt.Sprintf("%q has no meaning here", p.typed(i, i+1)), "write a formula such as MnO4^-")
}

// units reads a row of elements and groups until something else comes.
func (p *parser) units(i, end, depth int) ([]Unit, int, error) {
	units := make([]Unit, 0, 4)
	for i < end {
		r := p.at(i)
		var u Unit
		next := i + 1
		switch {
		case p.chars[i].level != Normal:
			return units, i, nil
		case isUpper(r):
			symbol := [2]byte{byte(r)}
			n := 1
			if next < end && isLower(p.at(next)) && p.chars[next].level == Normal {
				symbol[1] = byte(p.at(next))
				n, next = 2, next+1
			}
			var ok bool
			if u.Element, ok = ElementBySymbol(string(symbol[:n])); !ok || next < end && isLower(p.at(next)) && p.chars[next].level == Normal {
				return nil, i, p.unknownSymbol(i, end)
			}
		case closing[byte(r)] != 0 && r < 128:
			if _, k := p.phase(i, end); k != i {
				return units, i, nil
			}
			if _, ok := p.bracketedCharge(i, end); ok && len(units) > 0 {
				return units, i, nil
			}
			var err error
			if u, next, err = p.group(i, end, depth+1, len(units) > 0); err != nil {
				return nil, next, err
			}
		default:
			return units, i, nil
		}
		u.Count = 1
		if next < end && isDigit(p.at(next)) && p.chars[next].level != Superscript {
			n, k, err := p.number(next, end)
			if err != nil {
				return nil, next, err
			}
			if p.at(next) == '0' {
				return nil, next, p.fail(next, k, "a subscript does not begin with 0", "subscripts are whole numbers from 1; for oxygen type the letter O")
			}
			u.Count, next = n, k
		}
		if next < end && p.chars[next].level == Subscript && isSign(p.at(next)) {
			return nil, next, p.fail(next, next+1, "a sign stands among the subscripts", "a charge is a superscript: SO4^2-")
		}
		if next < end && p.at(next) == '_' {
			return nil, next, p.fail(next, next+1, "an underscore has no meaning here", "write subscripts as plain digits: H2O")
		}
		units = append(units, u)
		i = next
		// After a true subscript a plain digit belongs to the charge: SO₄2-.
		if i < end && p.chars[i-1].level == Subscript && isDigit(p.at(i)) {
			return units, i, nil
		}
	}
	return units, i, nil
}

// group reads a bracketed group without its subscript.
func (p *parser) group(i, end, depth int, inside bool) (Unit, int, error) {
	if depth > MaxDepth {
		return Unit{}, i, p.tooLarge(i, i+1, fmt.Sprintf("brackets may be nested %d deep", MaxDepth))
	}
	open := byte(p.at(i))
	if inside {
		if k, ok := p.roman(i, end); ok {
			return Unit{}, i, p.romanNumeral(i, k)
		}
	}
	units, k, err := p.units(i+1, end, depth)
	if err != nil {
		return Unit{}, k, err
	}
	if k >= end {
		return Unit{}, k, p.fail(i, i+1, fmt.Sprintf("the bracket %c is not closed", open), "")
	}
	if len(units) == 0 && (p.at(k) == ')' || p.at(k) == ']' || p.at(k) == '}') {
		return Unit{}, i, p.fail(i, k+1, "the brackets are empty", "")
	}
	if byte(p.at(k)) != closing[open] || p.at(k) > 127 {
		switch c := p.at(k); {
		case c == ')' || c == ']' || c == '}':
			return Unit{}, k, p.fail(k, k+1, fmt.Sprintf("the bracket %c does not close %c", c, open), "")
		case c == '^' || p.chars[k].level == Superscript || isSign(c):
			return Unit{}, k, p.fail(i, i+1, fmt.Sprintf("the bracket %c is not closed before the charge", open), fmt.Sprintf("close it with %c; a charge belongs to the whole species", closing[open]))
		case isLower(c):
			return Unit{}, k, p.unknownSymbol(k, end)
		}
		return Unit{}, k, p.fail(i, i+1, fmt.Sprintf("the bracket %c is not closed", open), "")
	}
	if inside && isNumeral(units) && !p.multiplied(k+1, end) {
		return Unit{}, i, p.romanNumeral(i, k+1)
	}
	return Unit{Group: units, Bracket: open}, k + 1, nil
}

func (p *parser) romanNumeral(i, j int) error {
	return p.fail(i, j, "a Roman numeral belongs to a name", "write iron(III) for the name, Fe^3+ for the ion")
}

// roman recognizes (III) after an element.
func (p *parser) roman(i, end int) (int, bool) {
	j := i + 1
	for j < end && strings.ContainsRune("IVXivx", p.at(j)) {
		j++
	}
	if j == i+1 || j >= end || byte(p.at(j)) != closing[byte(p.at(i))] {
		return 0, false
	}
	return j + 1, !p.multiplied(j+1, end)
}

// multiplied reports whether a subscript above 1 stands at i: Pb(I)2 is lead
// iodide, Pb(I) and Pb(I)1 are not.
func (p *parser) multiplied(i, end int) bool {
	return i < end && isDigit(p.at(i)) && (p.at(i) != '1' || i+1 < end && isDigit(p.at(i+1)))
}

// isNumeral reports whether units print as a Roman numeral, as (I1V1) does.
func isNumeral(units []Unit) bool {
	for _, u := range units {
		if u.Count != 1 || u.Element != I && u.Element != V {
			return false
		}
	}
	return true
}

// unknownSymbol reports the letters at i, with a guess at what was meant.
func (p *parser) unknownSymbol(i, end int) error {
	j := i + 1
	for j < end && isLower(p.at(j)) && p.chars[j].level == Normal {
		j++
	}
	letters := p.typed(i, j)
	if k := j; len(letters) == 1 { // co2: name the letters, suggest from the word
		for k < end && isLower(p.at(k)) {
			k++
		}
	}
	// The whole word, for the suggestion.
	from, to := i, j
	for from > 0 && p.wordChar(from-1) {
		from--
	}
	for to < end && p.wordChar(to) {
		to++
	}
	word := p.typed(from, to)
	hint := ""
	switch {
	case letters == "D" || letters == "T":
		hint = "write hydrogen as H; isotopes are not told apart"
	default:
		if s := p.suggest(word); s != "" {
			hint = "symbols start with a capital letter; did you mean " + s + "?"
		} else if len(letters) > 3 {
			hint = "write the formula in place of a name"
		} else {
			hint = "symbols are one capital letter, or one and a small one: Co is cobalt, CO carbon monoxide"
		}
	}
	for isLower(rune(letters[0])) && j < to && isDigit(p.at(j)) {
		j++ // point at co2, not at co
	}
	return p.fail(i, j, fmt.Sprintf("no element has the symbol %q", letters), hint)
}

func (p *parser) wordChar(i int) bool {
	r := p.at(i)
	return (isUpper(r) || isLower(r) || isDigit(r)) && p.chars[i].level == Normal
}

// suggest finds the formula that has the letters of word in some other case,
// preferring known species. Letters alone have to be a known one: "iron" does
// not mean IrON.
func (p *parser) suggest(word string) string {
	if len(word) > 12 {
		return ""
	}
	best, bestRank := "", 1<<30
	if p.lexicon != nil && !strings.ContainsAny(word, "0123456789") {
		bestRank = 1 << 20
	}
	var try func(done, rest string)
	try = func(done, rest string) {
		if rest == "" {
			if done == word {
				return
			}
			r, err := ReadSpecies(done, nil)
			if err != nil {
				return
			}
			rank := 1 << 20
			if p.lexicon != nil {
				if n, known := p.lexicon.Rank(r[0].Species); known {
					rank = n
				}
			}
			if rank < bestRank {
				best, bestRank = done, rank
			}
			return
		}
		if isDigit(rune(rest[0])) {
			try(done+rest[:1], rest[1:])
			return
		}
		upper := strings.ToUpper(rest[:1])
		if _, ok := ElementBySymbol(upper); ok {
			try(done+upper, rest[1:])
		}
		if len(rest) > 1 && !isDigit(rune(rest[1])) {
			two := upper + strings.ToLower(rest[1:2])
			if _, ok := ElementBySymbol(two); ok {
				try(done+two, rest[2:])
			}
		}
	}
	try("", word)
	return best
}

// phase reads (s), (l), (g), (aq) or an arrow up or down; next is i where
// there is none.
func (p *parser) phase(i, end int) (Phase, int) {
	j := p.skipSpace(i, end)
	if j >= end {
		return NoPhase, i
	}
	switch p.at(j) {
	case '↑':
		return Gas, j + 1
	case '↓':
		return Solid, j + 1
	case '(', '[', '{':
		k := p.skipSpace(j+1, end)
		phase := NoPhase
		switch p.at(k) {
		case 's':
			phase, k = Solid, k+1
		case 'l':
			phase, k = Liquid, k+1
		case 'g':
			phase, k = Gas, k+1
		case 'a', 'A':
			if r := p.at(k + 1); r == 'q' || r == 'Q' {
				phase, k = Aqueous, k+2
			}
		case 'c', 'd': // a strength, which says nothing of the phase
			for _, word := range []string{"concentrated", "conc.", "conc", "dilute", "dil.", "dil"} {
				if n := len(word); k+n < end && p.typed(k, k+n) == word && byte(p.at(k+n)) == closing[byte(p.at(j))] {
					return NoPhase, k + n + 1
				}
			}
		}
		k = p.skipSpace(k, end)
		if phase != NoPhase && k < end && p.at(k) < 128 && byte(p.at(k)) == closing[byte(p.at(j))] {
			return phase, k + 1
		}
	}
	return NoPhase, i
}
