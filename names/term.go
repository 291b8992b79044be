package names

import (
	"errors"
	"fmt"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"halves/chem"
)

// hasWord reports whether s begins with a word, in any letters.
func hasWord(s, word string) bool {
	return len(s) >= len(word) && strings.EqualFold(s[:len(word)], word) && (len(s) == len(word) || !isLetter(s[len(word)]))
}

func isLetter(c byte) bool { return isSmall(c) || c >= 'A' && c <= 'Z' }
func isSmall(c byte) bool  { return c >= 'a' && c <= 'z' }
func isDigit(c byte) bool  { return c >= '0' && c <= '9' }

// nameLike reports whether a term looks like a name: it holds three small
// letters side by side, or a capital and two small ones, or only capitals,
// five and more, that are no formula.
func nameLike(s string) bool {
	small, capitals := 0, 0
	for i := range len(s) {
		switch c := s[i]; {
		case isSmall(c):
			if small++; small == 3 || small == 2 && i > 1 && s[i-2] >= 'A' && s[i-2] <= 'Z' {
				return true
			}
			continue
		case c >= 'A' && c <= 'Z':
			capitals++
		}
		small = 0
	}
	if capitals >= 5 && !strings.ContainsFunc(s, func(r rune) bool { return r >= '0' && r <= '9' || r == '^' || r >= 'a' && r <= 'z' }) {
		_, err := chem.ReadSpecies(s, nil)
		return err != nil
	}
	return false
}

// nameFollows reports whether s begins with a small letter of a name.
func nameFollows(s string) bool {
	n := 0
	for n < len(s) && isSmall(s[n]) {
		n++
	}
	return n >= 3
}

// term translates one term, bytes i to j with the spaces around it.
func (t *translator) term(i, j int) error {
	from, to := i, j
	for from < to && t.text[from] == ' ' {
		from++
	}
	for to > from && t.text[to-1] == ' ' {
		to--
	}
	if !nameLike(t.text[from:to]) {
		t.copy(i, j)
		return nil
	}
	from += coefficientWidth(t.text[from:to])
	phase := to
	for _, p := range [...]string{"(s)", "(l)", "(g)", "(aq)"} {
		if strings.HasSuffix(t.text[from:to], p) {
			phase = to - len(p)
		}
	}
	bare := phase // the end of the name
	for bare > from && t.text[bare-1] == ' ' {
		bare--
	}
	name := t.text[from:bare]
	if strings.HasSuffix(name, ".") {
		name, bare = name[:len(name)-1], bare-1
	}
	if !nameLike(name) || strings.ContainsFunc(name, foreign) {
		t.copy(i, j)
		return nil
	}
	s, err := Find(name)
	if err != nil {
		if a, b, ok := formulaWithin(name); ok { // Fe^3+ ions, solid I2
			t.copy(i, from)
			t.drop(from, from+a)
			t.copy(from+a, from+b)
			t.drop(from+b, bare)
			t.copy(bare, j)
			return nil
		}
		if wrongCase(name) {
			t.copy(i, j)
			return nil
		}
		return t.noName(from, bare, err)
	}
	t.copy(i, from)
	t.put(from, bare, s.String(), s)
	t.copy(bare, j)
	return nil
}

// drop leaves out bytes i to j, the word "ions" after a formula.
func (t *translator) drop(i, j int) {
	if i < j {
		t.put(i, j, "", nil)
	}
}

// foreign reports whether a character stands in no name: package chem then
// says what is wrong with it.
func foreign(r rune) bool {
	return !(r < utf8.RuneSelf && (isLetter(byte(r)) || isDigit(byte(r))) || strings.ContainsRune(" ()[],'.+-^–−‐‑’ \u00a0", r))
}

// noName makes the error for a name that was not found.
func (t *translator) noName(i, j int, err error) error {
	var open *NumberError
	var unknown *UnknownError
	switch {
	case errors.As(err, &open):
		return t.fail(i, j, fmt.Sprintf("%q does not say which ion of the metal is meant", open.Name), "give the number: "+either(open.Choices))
	case errors.As(err, &unknown) && unknown.Hint != "":
		return t.fail(i, j, fmt.Sprintf("no species is called %q", unknown.Name), unknown.Hint)
	case errors.As(err, &unknown) && len(unknown.Near) > 0:
		return t.fail(i, j, fmt.Sprintf("no species is called %q", unknown.Name), "did you mean "+either(unknown.Near)+"?")
	}
	return t.fail(i, j, fmt.Sprintf("no species is called %q", t.text[i:j]), "write its formula, or another name")
}

// coefficientWidth returns the bytes of a number before a name, with the
// spaces after it: "2 ", "1/2 ", "5". The number in 2-hydroxypropanoic acid is
// part of the name.
func coefficientWidth(s string) int {
	i := 0
	for i < len(s) {
		r, w := utf8.DecodeRuneInString(s[i:])
		if !(r >= '0' && r <= '9' || i > 0 && (r == '/' || r == '.' || r == ',' || r == '⁄') && i+w < len(s) && isDigit(s[i+w]) || unicode.Is(unicode.No, r)) {
			break
		}
		i += w
	}
	if i == 0 {
		return 0
	}
	k := i
	for k < len(s) && (s[k] == ' ' || s[k] == '*') {
		k++
	}
	if k < len(s) && (isLetter(s[k]) || k > i && (isDigit(s[k]) || s[k] == '(')) {
		return k
	}
	return 0
}

// formulaWithin finds the formula among words such as "ions" or "solid".
func formulaWithin(name string) (from, to int, ok bool) {
	to = len(name)
	isWord := func(w string) bool {
		w = strings.ToLower(w)
		return w != "" && strings.Contains(descriptions+"ion ions anion anions cation cations atom atoms ", " "+w+" ")
	}
	for {
		rest := name[from:to]
		first, _, found := strings.Cut(rest, " ")
		if found && isWord(first) {
			from += len(first) + 1
			continue
		}
		if i := strings.LastIndexByte(rest, ' '); i >= 0 && isWord(rest[i+1:]) {
			to = from + i
			continue
		}
		break
	}
	return from, to, to > from && to-from < len(name) && !nameLike(name[from:to])
}

// wrongCase reports whether a term is a formula of the table in the wrong
// capitals: naoh. Package chem has an error for that.
func wrongCase(term string) bool {
	if len(term) > 16 || strings.Contains(term, " ") {
		return false
	}
	return recased(strings.ToLower(term), 0, make([]byte, 0, len(term)))
}

func recased(s string, i int, made []byte) bool {
	if i == len(s) {
		r, err := chem.ReadSpecies(string(made), nil)
		return err == nil && slices.ContainsFunc(r, func(r chem.SpeciesReading) bool { return known(r.Species) != nil })
	}
	if !isSmall(s[i]) {
		return recased(s, i+1, append(made, s[i]))
	}
	upper := s[i] - ('a' - 'A')
	if _, ok := chem.ElementBySymbol(string(rune(upper))); ok && recased(s, i+1, append(made, upper)) {
		return true
	}
	if i+1 < len(s) && isSmall(s[i+1]) {
		if _, ok := chem.ElementBySymbol(string([]byte{upper, s[i+1]})); ok {
			return recased(s, i+2, append(made, upper, s[i+1]))
		}
	}
	return false
}
