package speech

import (
	"strings"

	"halves/chem"
	"halves/names"
	"halves/reference"
)

// A Kind is what a token of a spelled formula is.
type Kind uint8

// The kinds of tokens.
const (
	Symbol   Kind = iota + 1 // an element
	Count                    // the subscript of an element, or how often a part of a hydrate is there
	Times                    // the subscript of a bracket
	Open                     // an opening bracket
	Close                    // a closing bracket
	Dot                      // joins the parts of a hydrate
	Charge                   // of the whole
	Phase                    // of the whole
	Electron                 // alone, or with a phase
)

// A Token is a piece of a spelled formula. What does not belong to its kind is
// zero.
type Token struct {
	Kind    Kind
	Element chem.Element // of a Symbol
	Number  int64        // of Count and Times from 2, of a Charge not 0
	Bracket byte         // of Open and Close: '(', '[' or '{'
	Phase   chem.Phase   // of a Phase
}

var phaseWords = [...]string{"", "solid", "liquid", "gas", "aqueous"}

var bracketWords = map[byte]string{'(': "bracket", '[': "square bracket", '{': "curly bracket"}

// Word says a token: "M-n", "cobalt", "four", "times six", "open bracket",
// "dot", "charge two minus", "aqueous".
//
// A symbol of one letter is that letter, one of two letters is both with a
// hyphen. Where both letters are symbols too the element is named, so that Co
// and CO differ in the ear: "cobalt", "C O".
func (t Token) Word() string {
	switch t.Kind {
	case Symbol:
		return symbolWord(t.Element)
	case Count:
		return Number(t.Number)
	case Times:
		return "times " + Number(t.Number)
	case Open:
		return "open " + bracketWords[t.Bracket]
	case Close:
		return "close " + bracketWords[t.Bracket]
	case Dot:
		return "dot"
	case Charge:
		return "charge " + chargeWords(t.Number)
	case Phase:
		if int(t.Phase) < len(phaseWords) {
			return phaseWords[t.Phase]
		}
	case Electron:
		return "electron"
	}
	return ""
}

func symbolWord(e chem.Element) string {
	s := e.Symbol()
	if len(s) < 2 {
		return s
	}
	_, first := chem.ElementBySymbol(s[:1])
	_, second := chem.ElementBySymbol(strings.ToUpper(s[1:]))
	if first && second {
		return Element(e, names.Choice{})
	}
	return s[:1] + "-" + s[1:]
}

// Element names an element: "manganese". It is "" for an invalid one.
func Element(e chem.Element, c names.Choice) string {
	r := reference.ElementOf(e)
	switch {
	case r == nil:
		return ""
	case c.Sulph && e == chem.S && r.OtherName != "":
		return r.OtherName
	}
	return r.Name
}

// chargeWords says "minus", "two minus", "three plus".
func chargeWords(n int64) string {
	sign := "plus"
	if n < 0 {
		sign = "minus"
	}
	if n == 1 || n == -1 {
		return sign
	}
	return cardinal(magnitude(n)) + " " + sign
}

func magnitude(n int64) uint64 {
	if n < 0 {
		return uint64(-n)
	}
	return uint64(n)
}

// Words says tokens one after the other; charge and phase come after a comma.
func Words(tokens []Token) string {
	var b strings.Builder
	for i, t := range tokens {
		switch {
		case i == 0:
		case t.Kind == Charge || t.Kind == Phase:
			b.WriteString(", ")
		default:
			b.WriteByte(' ')
		}
		b.WriteString(t.Word())
	}
	return b.String()
}

// Spell returns the tokens of a species, brackets and phase as they were typed.
func Spell(s *chem.Species) []Token {
	var out []Token
	if s.IsElectron() {
		out = append(out, Token{Kind: Electron})
	}
	for i, p := range s.Formula().Parts {
		if i > 0 {
			out = append(out, Token{Kind: Dot})
		}
		if p.Count > 1 {
			out = append(out, Token{Kind: Count, Number: p.Count})
		}
		out = spellUnits(out, p.Units)
	}
	if s.Charge() != 0 && !s.IsElectron() {
		out = append(out, Token{Kind: Charge, Number: s.Charge()})
	}
	if s.Phase() != chem.NoPhase {
		out = append(out, Token{Kind: Phase, Phase: s.Phase()})
	}
	return out
}

func spellUnits(out []Token, all []chem.Unit) []Token {
	for _, u := range all {
		kind := Count
		if u.Group != nil {
			kind = Times
			out = append(out, Token{Kind: Open, Bracket: u.Bracket})
			out = spellUnits(out, u.Group)
			out = append(out, Token{Kind: Close, Bracket: u.Bracket})
		} else {
			out = append(out, Token{Kind: Symbol, Element: u.Element})
		}
		if u.Count > 1 {
			out = append(out, Token{Kind: kind, Number: u.Count})
		}
	}
	return out
}
