package speech

import (
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"halves/chem"
	"halves/names"
)

// Prose says a sentence of the engine, in which formulas stand in canonical
// plain text: "the left has the charge +7" is "the left has the charge plus
// seven", "add 4 H2O on the right" is "add four water on the right", "Mn 1 on
// each side" is "manganese one on each side".
//
// A word is taken for a formula if chem prints what it reads there as the same
// word and it has a digit, a caret or a second capital; a symbol alone is the
// element. What could be a word of the sentence (In, As, I) is an element only
// where a number or a verb of the working follows.
func Prose(text string, c names.Choice) string {
	text = strings.NewReplacer("\u00a0", " ", "\u202f", " ").Replace(text)
	p := prose{words: strings.Fields(text), choice: c}
	var out []string
	for p.i < len(p.words) {
		out = append(out, p.next()...)
	}
	said := sentence(strings.Join(out, " "))
	// What is said may be a piece between formulas: the pauses at its ends stay.
	if pausesAt(text[:min(1, len(text))]) {
		said = strings.TrimSpace(", " + said)
	}
	if last := strings.TrimRight(text, " "); last != "" && said != "," && pausesAt(last[len(last)-1:]) {
		said += ","
	}
	sentences := strings.SplitAfter(said, ". ")
	for i, s := range sentences {
		if first, _ := utf8.DecodeRuneInString(text); i > 0 || unicode.IsUpper(first) {
			sentences[i] = capital(s)
		}
	}
	return strings.Join(sentences, "")
}

// pausesAt reports whether a sign parts a sentence.
func pausesAt(sign string) bool { return sign == "," || sign == ";" || sign == ":" }

// capital gives a sentence that begins with a formula its capital.
func capital(s string) string {
	first, n := utf8.DecodeRuneInString(s)
	if n == 0 {
		return s
	}
	return string(unicode.ToUpper(first)) + s[n:]
}

type prose struct {
	words  []string
	i      int
	choice names.Choice
}

// next says the next word, or a number with its formula.
func (p *prose) next() []string {
	before, core, after := around(p.words[p.i])
	p.i++
	said := p.say(core)
	// A number and a formula are one term: 10 H^+ is "ten hydrogen ions".
	if n, ok := ratio(core); ok && after == "" && p.i < len(p.words) {
		if b, next, a := around(p.words[p.i]); b == "" {
			if s := formula(next); s != nil {
				p.i++
				said, after = Term(chem.Term{Coefficient: n, Species: s}, p.choice), a
			}
		}
	}
	if before != "" {
		said = ", " + said
	}
	switch {
	case strings.ContainsAny(after, ".?!") && !strings.ContainsAny(after, ","):
		said += string(after[strings.IndexAny(after, ".?!")])
	case strings.ContainsAny(after, ",;:)"):
		said += ","
	}
	return []string{said}
}

// say says one word without the signs around it.
func (p *prose) say(w string) string {
	if w == "" {
		return ""
	}
	if s := sign(w); s != "" {
		return s
	}
	if n, ok := number(w); ok {
		return n
	}
	if e, ok := chem.ElementBySymbol(w); ok {
		switch {
		case w == "V" && p.afterDecimal():
			return "volts"
		case p.afterState() && strings.Trim(w, "IVX") == "":
			n, _ := roman(w)
			return Number(n)
		case !slices.Contains(alsoWords[:], w) || p.elementFollows():
			return Element(e, p.choice)
		}
		return w
	}
	if n, ok := roman(w); ok && len(w) > 1 {
		return Number(n)
	}
	if s := formula(w); s != nil {
		said := Species(s, p.choice)
		if ph := s.Phase(); ph != chem.NoPhase {
			said += ", " + phaseWords[ph] + ","
		}
		return said
	}
	for ph, mark := range [...]string{"", "s", "l", "g", "aq"} {
		if mark != "" && w == "("+mark+")" {
			return phaseWords[ph]
		}
	}
	if plain(w) {
		return w
	}
	if s, n, ok := strings.Cut(w, "("); ok && strings.HasSuffix(n, ")") { // iron(III)
		if inner, ok := bracketed(strings.TrimSuffix(n, ")")); ok && plain(s) {
			return strings.TrimSpace(s + " " + inner)
		}
	}
	if unit, ok := unitWords[w]; ok {
		return unit
	}
	return strings.Join(sayAlgebra(w), " ")
}

var unitWords = map[string]string{"g/mol": "grams a mole", "%": "percent", "°C": "degrees Celsius"}

// alsoWords are the symbols that are words of English too.
var alsoWords = [...]string{"I", "In", "As", "At", "No", "He", "Be", "Am"}

// elementFollows reports whether what comes after the current word says that
// it is an element.
func (p *prose) elementFollows() bool {
	if p.i >= len(p.words) {
		return p.i > 1 // the last word of a sentence is no preposition
	}
	_, next, _ := around(p.words[p.i])
	if _, ok := number(next); ok || next == "goes" || next == "atoms" || next == "atom" {
		return true
	}
	if p.i < 2 {
		return false
	}
	_, last, mark := around(p.words[p.i-2])
	return mark == "" && last != "" // a capital within a sentence
}

// afterState reports whether the current word is a state: "from V to II". After
// "from" alone it is an element.
func (p *prose) afterState() bool {
	at := func(i int) string {
		if i < 0 || i >= len(p.words) {
			return ""
		}
		return p.words[i]
	}
	here := p.i - 1
	return at(here-1) == "from" && at(here+1) == "to" || at(here-1) == "to" && at(here-3) == "from"
}

// afterDecimal reports whether the word before is a decimal: 1.51 V is no
// vanadium.
func (p *prose) afterDecimal() bool {
	if p.i < 2 {
		return false
	}
	_, last, after := around(p.words[p.i-2])
	_, ok := number(last)
	return ok && after == "" && strings.ContainsAny(last, ".,")
}

// formula reads a word as a species that is written as a formula, not as a
// word.
func formula(w string) *chem.Species {
	capitals := 0
	for i := range len(w) {
		if w[i] >= 'A' && w[i] <= 'Z' {
			capitals++
		}
	}
	if capitals < 2 && !strings.ContainsAny(w, "0123456789^") {
		return nil
	}
	return canonical(w)
}

// around parts a word from the punctuation before and after it. Brackets belong
// to the word where they open and close in it.
func around(w string) (before, core, after string) {
	core = strings.TrimRight(w, ".,;:?!\"”")
	for strings.HasSuffix(core, ")") && strings.Count(core, ")") > strings.Count(core, "(") {
		core = core[:len(core)-1]
	}
	switch core {
	case "(s)", "(l)", "(g)", "(aq)":
		return "", core, w[len(core):]
	}
	if strings.HasPrefix(core, "(") && strings.HasSuffix(core, ")") && strings.Count(core, "(") == 1 {
		return "(", core[1 : len(core)-1], ")" + w[len(core):]
	}
	after = w[len(core):]
	for core != "" {
		if rest, ok := strings.CutPrefix(core, "\""); ok {
			core = rest
			continue
		}
		if rest, ok := strings.CutPrefix(core, "“"); ok {
			core = rest
			continue
		}
		if core[0] == '(' && strings.Count(core, "(") > strings.Count(core, ")") {
			before, core = "(", core[1:]
			continue
		}
		break
	}
	return before, core, after
}

// plain reports whether a word is letters and hyphens, with an apostrophe.
func plain(w string) bool {
	for _, r := range w {
		if !unicode.IsLetter(r) && r != '-' && r != '\'' && r != '’' {
			return false
		}
	}
	return w[0] != '-'
}

// sentence tidies what was said: one space, no comma before another mark.
func sentence(s string) string {
	s = strings.NewReplacer("'", "", "’", "").Replace(s)
	s = strings.Join(strings.Fields(s), " ")
	for {
		t := strings.NewReplacer(" ,", ",", ",,", ",", ", .", ".", ",.", ".", "., ", ". ").Replace(s)
		if t == s {
			return strings.Trim(s, ", ")
		}
		s = t
	}
}
