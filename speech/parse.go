package speech

import (
	"errors"
	"fmt"
	"strings"
	"sync"

	"halves/chem"
)

// symbolsByWord finds an element by the word that says its symbol.
var symbolsByWord = sync.OnceValue(func() map[string]chem.Element {
	m := make(map[string]chem.Element, chem.MaxElement)
	for e := chem.Element(1); e <= chem.MaxElement; e++ {
		m[symbolWord(e)] = e
	}
	return m
})

// ParseTokens reads the words of a spelled formula back, as Words writes them;
// commas make no difference, capitals do. The error names the word, counted
// from 1.
func ParseTokens(spoken string) ([]Token, error) {
	words := strings.Fields(strings.ReplaceAll(spoken, ",", " "))
	var out []Token
	for i := 0; i < len(words); {
		t, used := parseToken(words[i:])
		if used == 0 {
			return nil, fmt.Errorf("word %d, %q: no part of a spelled formula", i+1, words[i])
		}
		out = append(out, t)
		i += used
	}
	if out == nil {
		return nil, errors.New("nothing was said")
	}
	return out, nil
}

// parseToken reads the token at the start of words and returns how many words
// it took, 0 for none.
func parseToken(words []string) (Token, int) {
	switch words[0] {
	case "dot":
		return Token{Kind: Dot}, 1
	case "electron":
		return Token{Kind: Electron}, 1
	case "times":
		if n, used := parseNumber(words[1:], chem.MaxNumber); n > 0 {
			return Token{Kind: Times, Number: n}, used + 1
		}
		return Token{}, 0
	case "charge":
		n, used := parseNumber(words[1:], chem.MaxCharge)
		if used == 0 {
			n = 1
		}
		if used++; n > 0 && used < len(words) {
			switch words[used] {
			case "plus":
				return Token{Kind: Charge, Number: n}, used + 1
			case "minus":
				return Token{Kind: Charge, Number: -n}, used + 1
			}
		}
		return Token{}, 0
	case "open", "close":
		kind := Open
		if words[0] == "close" {
			kind = Close
		}
		for b, name := range bracketWords {
			n := strings.Count(name, " ") + 1
			if len(words) > n && strings.Join(words[1:n+1], " ") == name {
				return Token{Kind: kind, Bracket: b}, n + 1
			}
		}
		return Token{}, 0
	}
	for p := chem.Solid; p <= chem.Aqueous; p++ {
		if words[0] == phaseWords[p] {
			return Token{Kind: Phase, Phase: p}, 1
		}
	}
	if e, ok := symbolsByWord()[words[0]]; ok {
		return Token{Kind: Symbol, Element: e}, 1
	}
	if n, used := parseNumber(words, chem.MaxNumber); n > 0 {
		return Token{Kind: Count, Number: n}, used
	}
	return Token{}, 0
}
