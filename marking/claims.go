package marking

import (
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"unicode"

	"halves/chem"
	"halves/redox"
)

// A claim says that an element goes from one oxidation state to another, and
// perhaps how many electrons that takes: "Mn: +7 -> +2, gains 5 e-",
// "C goes from +2 to +4", "Mn^+7 + 5 e^- -> Mn^+2".
type claim struct {
	element   chem.Element
	from, to  chem.Ratio
	electrons chem.Ratio // 0 where none are told
}

// A state has its sign before its number: behind it, it would be an ion's charge.
const stateText = `([+\-−–]?\d+(?:/\d+)?|[+\-−–]?(?:VIII|VII|VI|IV|V|III|II|I))`

var (
	// A state behind a symbol, the word or arrow between two, another state, and
	// what is said of electrons behind it.
	claimPattern = regexp.MustCompile(`^\W*([A-Z][a-z]?)\s+\(?` + stateText + `\)?\s*(?:[-=]+>|→|⟶|to\b)\s*\(?` + stateText + `\)?(?:$|[\s,;(.])(.*)$`)
	// Words that stand between a symbol and its state.
	claimWords = regexp.MustCompile(`\b(?:goes|changes|is|was|are|oxidation|state|states|number|of|in|from|the|each|atom|oxidised|oxidized|reduced)\b|:|=(?:$|[^>])`)
	// "Mn^+7 + 5 e^- -> Mn^+2", with the electrons on either side.
	claimSymbols   = regexp.MustCompile(`^\s*([A-Z][a-z]?)\s*\^\(?([+\-−–]\d+)\)?\s*(?:([+\-−–])\s*(\d*)\s*e(?:\^?[\-−–⁻])?)?\s*(?:-+>|=+>|→|⟶)\s*([A-Z][a-z]?)\s*\^\(?([+\-−–]\d+)\)?\s*(?:\+\s*(\d*)\s*e(?:\^?[\-−–⁻])?)?\s*$`)
	claimElectrons = regexp.MustCompile(`(\d+(?:/\d+)?)\s*(?:x\s*)?(?:e\b|e[\^\-−–⁻]|electron)`)
)

// claimOf reads a line as a claim of states.
func claimOf(line string) (c claim, ok bool) {
	capitals := 0
	for i := range len(line) {
		if line[i] >= 'A' && line[i] <= 'Z' {
			capitals++
		}
	}
	if capitals == 0 || capitals > 10 || len(line) > 200 { // one element, two numerals, a sentence
		return c, false
	}
	line = plainScripts.Replace(line)
	if m := claimSymbols.FindStringSubmatch(line); m != nil && m[1] == m[5] {
		c.from, _ = stateOf(m[2])
		c.to, _ = stateOf(m[6])
		if n := m[4] + m[7]; m[3] != "" || strings.Contains(line, "e") && n != "" {
			c.electrons, _ = ratioOf(n)
		}
		c.element, ok = chem.ElementBySymbol(m[1])
		return c, ok
	}
	text := strings.Join(strings.Fields(claimWords.ReplaceAllString(line, " ")), " ")
	m := claimPattern.FindStringSubmatch(text)
	if m == nil {
		return c, false
	}
	var good [2]bool
	c.from, good[0] = stateOf(m[2])
	c.to, good[1] = stateOf(m[3])
	if !good[0] || !good[1] {
		return c, false
	}
	// A number of electrons behind a second element is not of the first alone.
	if e := claimElectrons.FindStringSubmatch(m[4]); e != nil && !strings.ContainsFunc(m[4], unicode.IsUpper) {
		c.electrons, _ = ratioOf(e[1])
	}
	c.element, ok = chem.ElementBySymbol(m[1])
	return c, ok
}

// plainScripts writes raised digits and signs plainly.
var plainScripts = strings.NewReplacer("⁰", "0", "¹", "1", "²", "2", "³", "3", "⁴", "4", "⁵", "5", "⁶", "6", "⁷", "7", "⁸", "8", "⁹", "9", "⁺", "+", "⁻", "-", "−", "-", "–", "-")

// stateOf reads "+7", "7+", "-2", "0", "VII", "-8/3".
func stateOf(s string) (chem.Ratio, bool) {
	sign := int64(1)
	if strings.ContainsAny(s, "-−–") {
		sign = -1
	}
	s = strings.Trim(s, "+-−–")
	if i := slices.Index([]string{"", "I", "II", "III", "IV", "V", "VI", "VII", "VIII"}, s); i > 0 {
		return chem.Whole(sign * int64(i)), true
	}
	n, ok := ratioOf(s)
	return n.Mul(chem.Whole(sign)), ok
}

// ratioOf reads "5" or "8/3"; "" is one.
func ratioOf(s string) (chem.Ratio, bool) {
	if s == "" {
		return chem.Whole(1), true
	}
	top, bottom, broken := strings.Cut(s, "/")
	n, err := strconv.ParseInt(top, 10, 32)
	if err != nil {
		return chem.Ratio{}, false
	}
	d := int64(1)
	if broken {
		if d, err = strconv.ParseInt(bottom, 10, 32); err != nil || d == 0 {
			return chem.Ratio{}, false
		}
	}
	return chem.NewRatio(n, d), true
}

// judgeClaim gives a claim its verdict by the changes of the solution. One about
// an element that does not change is about something else.
func (w *working) judgeClaim(s *judged) {
	if s.claim.from.Equal(s.claim.to) {
		s.verdict = Comment // atoms counted: "Mn: 1 -> 1"
		return
	}
	var of []redox.Change
	for _, c := range w.q.solution.Changes {
		if c.Element == s.claim.element {
			of = append(of, c)
		}
	}
	if len(of) == 0 {
		for _, x := range w.q.solution.Species {
			if x.Species.Atoms(s.claim.element) > 0 {
				s.verdict = Comment // atoms counted: "O: 4 -> 0, so 4 H2O"
				return
			}
		}
		s.verdict, s.why = Elsewhere, fmt.Sprintf("%s is not in the question", s.claim.element)
		return
	}
	for _, c := range of {
		if !c.From.Equal(s.claim.from) || !c.To.Equal(s.claim.to) {
			continue
		}
		if s.claim.electrons.Sign() != 0 && !w.electronsOfChange(c, s.claim.electrons) {
			s.slip(OxidationStateWrong, fmt.Sprintf("from %s to %s each atom moves %s, not %s", c.From.Signed(), c.To.Signed(), magnitude(c.Electrons()), s.claim.electrons))
			return
		}
		s.verdict, s.holds = Stands, true
		if slices.ContainsFunc(w.statements, func(b *judged) bool {
			return b.line < s.line && b.verdict == Slips && b.claim != nil && b.claim.element == s.claim.element
		}) {
			s.verdict = Recovered
		}
		return
	}
	if !s.claim.from.IsWhole() || !s.claim.to.IsWhole() {
		s.verdict, s.why = Unread, "averages of oxidation states are left to a person"
		return
	}
	c := of[0]
	s.slip(OxidationStateWrong, fmt.Sprintf("%s goes from %s to %s", c.Element, c.From.Signed(), c.To.Signed()))
}

// electronsOfChange reports whether a number of electrons is that of one atom, of
// a formula that holds the atoms, or of all of them.
func (w *working) electronsOfChange(c redox.Change, n chem.Ratio) bool {
	each := magnitude(c.Electrons())
	if n.Equal(each) || n.Equal(each.Mul(chem.Whole(c.Atoms))) {
		return true
	}
	return slices.ContainsFunc(slices.Concat(c.Reactants, c.Products), func(x *chem.Species) bool {
		return n.Equal(each.Mul(chem.Whole(x.Atoms(c.Element))))
	})
}

// byStates reports whether a working counts oxidation states, by its lines so far.
func (w *working) byStates(before []*judged) bool {
	return len(w.q.halves) == 0 || slices.ContainsFunc(before, func(s *judged) bool { return s.claim != nil })
}

// isPartial reports whether a whole statement of a working by states has the
// numbers of two species at least of what changes, and others still at one. Water
// and its ions come later, hydrogen ions first so that the charge is balanced.
func (w *working) isPartial(s *statement) bool {
	for i, changing := range w.q.changing {
		if !changing || w.q.acid[i].Sign() == 0 || s.at(i).Sign() != w.q.acid[i].Sign() {
			continue
		}
		if w.agreesPartly(s, s.at(i).Quo(w.q.acid[i])) {
			return true
		}
	}
	return false
}

// agreesPartly reports whether the numbers of s are k times those of the answer,
// or still at one.
func (w *working) agreesPartly(s *statement, k chem.Ratio) bool {
	settled, helpers := 0, false
	for i := range max(len(s.vector), len(w.q.acid)) {
		x, y := s.at(i), zero
		if i < len(w.q.acid) {
			y = w.q.acid[i].Mul(k)
		}
		switch {
		case i < firstOwn && len(w.q.halves) > 0:
			helpers = helpers || x.Sign() != 0
		case x.Equal(y):
			if i < len(w.q.changing) && w.q.changing[i] {
				settled++
			}
		case x.Sign() != y.Sign() || !magnitude(x).Equal(chem.Whole(1)):
			return false
		case i < len(w.q.changing) && w.q.changing[i] && !k.Equal(chem.Whole(1)):
			return false // one side was multiplied by the number of the other
		}
	}
	return settled >= 2 && (!helpers || w.closed(s, 0))
}
