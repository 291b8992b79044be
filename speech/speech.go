// Package speech says formulas, terms and lines in words, for a teacher's
// mouth and for screen readers.
//
// A species is said by its name where it has one, else it is spelled. What is
// spelled is made of tokens, each with its word, and can be heard back: the
// words of a formula give the same formula again (Spell, Words, ParseTokens,
// Unspell).
//
// Spoken forms are plain words: letters, spaces, commas and hyphens. A sentence
// keeps its full stop and its question mark. The ways of saying a number, a
// charge and an equation are common practice, no source.
//
// The package leaves to others which names a species has (package names), what
// a line means and why it is written (packages redox and lesson).
package speech

import (
	"strings"

	"halves/chem"
	"halves/names"
)

// Species says a species by its name, else it spells the formula: "permanganate
// ion", "iron three ion", "C O S". Its phase is not said.
func Species(s *chem.Species, c names.Choice) string {
	if s.IsElectron() {
		return "electron"
	}
	if name, ok := names.Of(s, c); ok {
		return speakable(name)
	}
	return Words(Spell(s.WithPhase(chem.NoPhase)))
}

// Term says a term with its coefficient: "two permanganate ions", "five oxalic
// acid", "three chlorine molecules". One is said of ions and electrons alone.
func Term(t chem.Term, c names.Choice) string { return term(t, c, true) }

// term says a term; one says whether a coefficient 1 is said where it can be
// counted in the ear, as with ions.
func term(t chem.Term, c names.Choice, one bool) string {
	noun := Species(t.Species, c)
	single := t.Coefficient.Equal(chem.Whole(1))
	many := !single && t.Coefficient.Cmp(chem.Whole(1)) > 0
	named := isNamed(t.Species, c)
	switch {
	case single && (!one || !countable(noun)):
		return noun
	case countable(noun):
		if many {
			noun += "s"
		}
	case named && !single && t.Species.IsElement() && t.Species.Composition()[0].Atoms > 1:
		// "three chlorine" could be three atoms.
		noun += " molecule"
		if many {
			noun += "s"
		}
	}
	return Ratio(t.Coefficient) + " " + noun
}

// isNamed reports whether a species is said by a name.
func isNamed(s *chem.Species, c names.Choice) bool {
	_, ok := names.Of(s, c)
	return ok || s.IsElectron()
}

// Substance says a species without a number: "permanganate ions", "water".
func Substance(s *chem.Species, c names.Choice) string {
	noun := Species(s, c)
	if countable(noun) {
		noun += "s"
	}
	return noun
}

// countable reports whether a noun takes a plural s when it is counted: ions
// and electrons do, substances do not ("eight water").
func countable(noun string) bool {
	for _, n := range [...]string{"ion", "electron", "hydron", "proton"} {
		if rest, ok := strings.CutSuffix(noun, n); ok && (rest == "" || rest[len(rest)-1] == ' ') {
			return true
		}
	}
	return false
}

// Equation says a line: "two permanganate ions plus five oxalic acid plus six
// hydrogen ions give two manganese two ions plus ten carbon dioxide plus eight
// water". Where no coefficient is other than one and there are no electrons, as
// in a skeleton, none is said. Phases are said where one species stands in two.
func Equation(e chem.Equation, c names.Choice) string {
	one := false
	for _, t := range e.Terms {
		one = one || !t.Coefficient.Equal(chem.Whole(1)) || t.Species.IsElectron()
	}
	both := twoPhases(e)
	var b strings.Builder
	side := func(terms []chem.Term) {
		for i, t := range terms {
			if i > 0 {
				b.WriteString(" plus ")
			}
			said := term(t, c, one)
			b.WriteString(said)
			if strings.Contains(said, ", ") { // a pause after a charge that was spelled
				b.WriteByte(',')
			}
			if both[t.Species.Key()] && t.Species.Phase() != chem.NoPhase {
				b.WriteString(", " + phaseWords[t.Species.Phase()] + ",")
			}
		}
	}
	side(e.Left)
	if len(e.Left) == 1 && e.Left[0].Coefficient.Cmp(chem.Whole(1)) <= 0 {
		b.WriteString(" gives ")
	} else {
		b.WriteString(" give ")
	}
	side(e.Right)
	return strings.TrimRight(b.String(), ",")
}

// twoPhases holds the keys of the species that stand in more than one phase.
func twoPhases(e chem.Equation) map[string]bool {
	first, both := map[string]chem.Phase{}, map[string]bool{}
	for _, s := range e.Species() {
		if p, seen := first[s.Key()]; seen && p != s.Phase() {
			both[s.Key()] = true
		}
		first[s.Key()] = s.Phase()
	}
	return both
}
