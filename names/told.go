package names

import (
	"halves/chem"
	"halves/reference"
)

// species returns the species that a term names, by name or formula, nil for
// none.
func (t *translator) species(k token) *chem.Species {
	text := t.text[k.start:k.end]
	if len(text) > maxName {
		return nil
	}
	if s, _ := find(text); s != nil {
		return s
	}
	if a, b, ok := formulaWithin(text); ok { // Cu^2+ ions
		text = text[a:b]
	}
	if r, err := chem.ReadSpecies(text, reference.Species()); err == nil {
		return r[0].Species
	}
	return nil
}

// A subject is a species of which a statement says what it becomes.
type subject struct {
	species *chem.Species
	start   int // byte at which the statement starts
}

// told reports whether a statement other than that at byte i says what the only
// species of a list becomes.
func (t *translator) told(list []token, i int) bool {
	if len(list) != 1 {
		return false
	}
	s := t.species(list[0])
	if s == nil {
		return false
	}
	if !t.subjectsRead { // once, so that the work grows with the text
		t.subjectsRead = true
		for a := 0; a < t.body; {
			b := a
			for b < t.body && t.text[b] != ';' {
				b++
			}
			t.readSubjects(a, b)
			a = b + 1
		}
	}
	for _, k := range t.subjects {
		if k.start != i && k.species.Same(s) {
			return true
		}
	}
	return false
}

// readSubjects notes the species that stand before "becomes", "to" or an arrow
// in the statement of bytes i to j.
func (t *translator) readSubjects(i, j int) {
	arrow := lastArrow(t.text[i:j])
	end := j
	if arrow >= 0 {
		end = i + arrow
	}
	var found []subject
	closed := false
	for _, k := range t.tokens(i, end) {
		switch k.part {
		case 0:
			if s := t.species(k); s != nil && !closed {
				found = append(found, subject{s, i})
			}
		case becomes, to:
			closed = true
		case comma, which:
		default:
			if !closed {
				return // A is oxidized by B to C
			}
		}
	}
	if closed || arrow >= 0 {
		t.subjects = append(t.subjects, found...)
	}
}
