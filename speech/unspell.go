package speech

import (
	"errors"
	"fmt"

	"halves/chem"
)

// Unspell puts a species together from its tokens; it is the inverse of Spell.
// The error says which token, counted from 1, cannot stand where it stands.
func Unspell(tokens []Token) (*chem.Species, error) {
	u := unspeller{tokens: tokens}
	s, err := u.species()
	if err != nil {
		if u.i < len(tokens) {
			return nil, fmt.Errorf("word %d, %q: %w", u.i+1, tokens[u.i].Word(), err)
		}
		return nil, fmt.Errorf("at the end: %w", err)
	}
	return s, nil
}

type unspeller struct {
	tokens []Token
	i      int
}

// peek returns the next token, one of kind 0 at the end.
func (u *unspeller) peek() Token {
	if u.i < len(u.tokens) {
		return u.tokens[u.i]
	}
	return Token{}
}

func (u *unspeller) species() (*chem.Species, error) {
	var f chem.Formula
	charge := int64(0)
	if u.peek().Kind == Electron {
		u.i++
		charge = -1
	} else {
		for {
			p := chem.Part{Count: 1}
			var err error
			if p.Count, err = u.count(Count); err != nil {
				return nil, err
			}
			if p.Units, err = u.units(0); err != nil {
				return nil, err
			}
			f.Parts = append(f.Parts, p)
			if u.peek().Kind != Dot {
				break
			}
			u.i++
		}
		if t := u.peek(); t.Kind == Charge {
			if t.Number == 0 || magnitude(t.Number) > chem.MaxCharge {
				return nil, fmt.Errorf("charges from 1 to %d are read", chem.MaxCharge)
			}
			charge = t.Number
			u.i++
		}
	}
	phase := chem.NoPhase
	if t := u.peek(); t.Kind == Phase {
		if t.Phase < chem.Solid || t.Phase > chem.Aqueous {
			return nil, errors.New("there is no such phase")
		}
		phase = t.Phase
		u.i++
	}
	if u.i < len(u.tokens) {
		return nil, errors.New("it cannot stand here")
	}
	s, ok := chem.NewSpecies(f, charge, phase)
	if !ok {
		return nil, errors.New("the formula holds too many atoms")
	}
	return s, nil
}

// count reads a number that may be there; it is 1 where it is not.
func (u *unspeller) count(kind Kind) (int64, error) {
	t := u.peek()
	if t.Kind != kind {
		return 1, nil
	}
	if t.Number < 1 || t.Number > chem.MaxNumber {
		return 0, fmt.Errorf("numbers from 1 to %d are read", chem.MaxNumber)
	}
	u.i++
	return t.Number, nil
}

// units reads one unit or more.
func (u *unspeller) units(depth int) ([]chem.Unit, error) {
	var all []chem.Unit
	for {
		t := u.peek()
		var unit chem.Unit
		kind := Count
		switch t.Kind {
		case Symbol:
			if t.Element < 1 || t.Element > chem.MaxElement {
				return nil, errors.New("there is no such element")
			}
			unit.Element = t.Element
			u.i++
		case Open:
			if bracketWords[t.Bracket] == "" {
				return nil, errors.New("there is no such bracket")
			}
			if depth >= chem.MaxDepth {
				return nil, fmt.Errorf("brackets are read %d deep", chem.MaxDepth)
			}
			u.i++
			group, err := u.units(depth + 1)
			if err != nil {
				return nil, err
			}
			if c := u.peek(); c.Kind != Close || c.Bracket != t.Bracket {
				return nil, fmt.Errorf("%q is missing", Token{Kind: Close, Bracket: t.Bracket}.Word())
			}
			unit.Group, unit.Bracket, kind = group, t.Bracket, Times
			u.i++
		default:
			if all == nil {
				return nil, errors.New("an element is missing")
			}
			return all, nil
		}
		var err error
		if unit.Count, err = u.count(kind); err != nil {
			return nil, err
		}
		all = append(all, unit)
	}
}
