package names

import (
	"fmt"
	"strings"
	"unicode"
	"unicode/utf8"

	"halves/chem"
)

// maxName is the longest name that is read, in bytes; the longest in use has
// some eighty.
const maxName = 120

// An UnknownError reports a name that no species has.
type UnknownError struct {
	Name string
	Near []string // names that may be meant, the likest first, at most three; nil for none
	Hint string   // what is known of the name, "" for nothing; then Near is nil
}

func (e *UnknownError) Error() string {
	switch {
	case e.Hint != "":
		return fmt.Sprintf("no species is called %q; %s", e.Name, e.Hint)
	case len(e.Near) > 0:
		return fmt.Sprintf("no species is called %q; did you mean %s?", e.Name, either(e.Near))
	}
	return fmt.Sprintf("no species is called %q", e.Name)
}

// A NumberError reports a name that leaves open which ion of a metal is meant:
// iron sulfate.
type NumberError struct {
	Name    string
	Choices []string // what may be written: "iron(II)", "iron(III)"
}

func (e *NumberError) Error() string {
	return fmt.Sprintf("%q does not say which ion of the metal is meant; write %s", e.Name, either(e.Choices))
}

// either joins names: "a, b or c".
func either(all []string) string {
	if len(all) == 1 {
		return all[0]
	}
	return strings.Join(all[:len(all)-1], ", ") + " or " + all[len(all)-1]
}

// A kind is what a name says that it names.
type kind uint8

const (
	substance kind = iota
	ion
	anion
	cation
)

// Find returns the species that a name stands for, in the formula of the table
// where it has one. Capitals, spaces and hyphens make no difference, nor do
// sulph- and sulf-, aluminum and aluminium, cesium and caesium, nor a last word
// "ion". A bare name of an ion means the ion (sulfate, iron(III)); a bare name
// of an element means the element as a substance (hydrogen is H2, sodium the
// metal). One space does make a difference: hydrogensulfide is an ion, hydrogen
// sulfide a gas. Names are read by rule where the table has none. The error is
// an *UnknownError or a *NumberError.
func Find(name string) (*chem.Species, error) {
	if len(name) <= maxName && utf8.ValidString(name) {
		s, metal := find(name)
		if s != nil {
			return s, nil
		}
		if metal != nil {
			return nil, &NumberError{Name: strings.TrimSpace(name), Choices: metal}
		}
	}
	e := &UnknownError{Name: strings.TrimSpace(name)}
	if e.Hint = hint(name); e.Hint == "" {
		e.Near = near(name)
	}
	return nil, e
}

// find returns the species, or the names of ions of a metal that lacks its
// number.
func find(name string) (*chem.Species, []string) {
	plain := plainText(name)
	if oneWordIon(plain) {
		plain += " ion"
	}
	for {
		base, kind := cutKind(plain)
		key := squash(base)
		s, metal := findKey(key, kind)
		if s != nil || metal != nil {
			return s, metal
		}
		if _, mixed := mixtures[key]; mixed { // water gas is not water
			return nil, nil
		}
		shorter := cutDescription(plain)
		if shorter == plain {
			return nil, nil
		}
		plain = shorter
	}
}

// oneWordIon reports whether a name, written as one word, is that of an ion:
// hydrogensulfide beside hydrogencarbonate. As two words it is a gas (IUPAC Red
// Book 2005, IR-5.5, from memory).
func oneWordIon(plain string) bool {
	rest, ok := strings.CutPrefix(plain, "hydrogen")
	return ok && (rest == "sulfide" || rest == "sulphide" || rest == "selenide" || rest == "telluride")
}

func findKey(key string, kind kind) (*chem.Species, []string) {
	if len(key) < 3 {
		return nil, nil
	}
	x := names()
	r := reader{index: x, words: words()}
	if kind == substance {
		if row, ok := x.neutral[key]; ok {
			return species(row), nil
		}
		if key == "electron" {
			return chem.Electron, nil
		}
	}
	if kind != cation {
		if s := r.anion(key); s != nil {
			return s, nil
		}
	}
	if kind != anion {
		if s := r.cation(key); s != nil {
			return s, nil
		}
	}
	if kind == substance {
		s := r.substance(key)
		if s != nil {
			return s, nil
		}
	} else if z, rest := r.words.element(key); rest == "" && z != 0 && kind != anion {
		if q := r.words.of[z].meant; q > 0 {
			return monatomic(z, q), nil
		}
		r.open(z, r.ionsOf(z))
	}
	return nil, r.metal
}

// plainText makes letters lower-case and look-alikes of punctuation one, and
// takes away the space before a number in brackets.
func plainText(name string) string {
	var b strings.Builder
	b.Grow(len(name))
	space := true // the last char was a space, or there was none
	for _, c := range name {
		switch {
		case unicode.IsSpace(c) || c == '\u00a0' || c == '\u2007' || c == '\u202f':
			if !space {
				b.WriteByte(' ')
			}
			space = true
			continue
		case c == '\u00ad' || c == '\u200b' || c == '\ufeff':
			continue
		case c == '‐' || c == '‑' || c == '‒' || c == '–' || c == '—' || c == '−' || c == '⁻':
			c = '-'
		case c == '’' || c == '‘' || c == '′':
			c = '\''
		case c == '⁺':
			c = '+'
		case c >= '⁴' && c <= '⁹':
			c = c - '⁰' + '0'
		case c == '²' || c == '³':
			c = c - '²' + '2'
		case c == '¹':
			c = '1'
		case c < utf8.RuneSelf:
			if c >= 'A' && c <= 'Z' {
				c += 'a' - 'A'
			}
		default:
			c = unicode.ToLower(c)
		}
		b.WriteRune(c)
		space = false
	}
	s := strings.TrimRight(b.String(), " .,")
	if !strings.Contains(s, " ") {
		return s
	}
	// iron iii chloride
	f := strings.Fields(s)
	changed := false
	for i, w := range f {
		if i > 0 && romanOf(w) > 0 {
			f[i] = "(" + w + ")"
			changed = true
		}
	}
	if changed {
		s = strings.Join(f, " ")
	}
	return s
}

// cutKind takes a last word such as "ion" off a name.
func cutKind(name string) (string, kind) {
	for _, w := range [...]struct {
		word string
		kind kind
	}{{"ion", ion}, {"ions", ion}, {"anion", anion}, {"anions", anion}, {"cation", cation}, {"cations", cation}} {
		if rest, ok := strings.CutSuffix(name, w.word); ok {
			if rest, ok = strings.CutSuffix(rest, " "); ok {
				return rest, w.kind
			}
			if rest, ok = strings.CutSuffix(rest, ")"); ok { // iron(III)ion
				return rest + ")", w.kind
			}
		}
	}
	switch name {
	case "electrons", "protons", "hydrons":
		name = name[:len(name)-1]
	}
	return name, substance
}

// descriptions are words that say in what form a substance is met.
const descriptions = " a an the some excess solid liquid gaseous aqueous dissolved molecular elemental metallic anhydrous pure dilute concentrated glacial hot cold gas metal solution vapour vapor powder crystals "

// cutDescription takes one such word from the beginning or the end.
func cutDescription(name string) string {
	if first, rest, ok := strings.Cut(name, " "); ok && strings.Contains(descriptions, " "+first+" ") {
		return rest
	}
	if i := strings.LastIndexByte(name, ' '); i > 0 && strings.Contains(descriptions, name[i:]+" ") {
		return name[:i]
	}
	return name
}

// romanOf reads a Roman numeral from 1 to 9 in small letters, 0 for none.
func romanOf(s string) int64 {
	switch s {
	case "i":
		return 1
	case "ii":
		return 2
	case "iii":
		return 3
	case "iv", "iiii":
		return 4
	case "v":
		return 5
	case "vi":
		return 6
	case "vii":
		return 7
	case "viii":
		return 8
	case "ix":
		return 9
	}
	return 0
}

// A number is what stands in brackets at the end of a name.
type number struct {
	given  bool
	charge bool  // (3+), a charge; else (III), a state
	value  int64 // signed
}

// cutNumber takes a number in brackets off the end of a key.
func cutNumber(key string) (string, number) {
	open := strings.LastIndexByte(key, '(')
	if open < 1 || key[len(key)-1] != ')' {
		return key, number{}
	}
	return cutNumberAt(key, open)
}

func cutNumberAt(key string, open int) (string, number) {
	in := key[open+1 : len(key)-1]
	base := key[:open]
	if r := romanOf(in); r > 0 {
		return base, number{given: true, value: r}
	}
	switch in {
	case "":
		return key, number{}
	case "0":
		return base, number{given: true}
	}
	digit := func(c byte) bool { return c >= '1' && c <= '9' }
	switch first, last := in[0], in[len(in)-1]; {
	case len(in) == 1 && last == '+':
		return base, number{given: true, charge: true, value: 1}
	case len(in) == 2 && digit(first) && last == '+':
		return base, number{given: true, charge: true, value: int64(first - '0')}
	case in == "-":
		return base, number{given: true, charge: true, value: -1}
	case len(in) == 2 && digit(first) && last == '-':
		return base, number{given: true, charge: true, value: -int64(first - '0')}
	case len(in) == 2 && digit(last) && first == '+':
		return base, number{given: true, value: int64(last - '0')}
	}
	return key, number{}
}
