package names

import (
	"strings"

	"halves/chem"
	"halves/reference"
)

// An oxo is the name of an oxoanion or an oxoacid, taken apart: the atoms of
// one element, with oxygen and perhaps hydrogen, in the state that the name
// stands for.
type oxo struct {
	element   chem.Element
	stem      string // as it stands in the name: sulfur in sulfuric acid
	centres   int64  // 2 in dichromate
	hydrogens int64  // 1 in hydrogensulfate
	word      string // "hydrogen" with its prefix, "" for none
}

// stateless are the elements that have one state in all their oxoanions, so
// that no book gives it. Common practice, no source.
const stateless = " B C Si Ge Al Ga Be Zn Cd Ti Zr Nb Ta "

// oxoanionNamed takes apart a name such as permanganate, dichromate, sulfite
// or dihydrogenphosphate.
func oxoanionNamed(name string) (o oxo, ok bool) {
	stem, ok := strings.CutSuffix(name, "ate")
	if !ok {
		if stem, ok = strings.CutSuffix(name, "ite"); !ok {
			return oxo{}, false
		}
	}
	if i := strings.Index(stem, "hydrogen"); i >= 0 {
		n := int64(1)
		if i > 0 {
			if n = exactMultiplier(stem[:i]); n == 0 {
				return oxo{}, false
			}
		}
		i += len("hydrogen")
		o.hydrogens, o.word = n, stem[:i]
		stem = strings.TrimPrefix(stem[i:], " ")
	}
	return o, o.readStem(stem, words().byStem)
}

// oxoacidNamed takes apart a name such as perchloric acid or sulfurous acid.
func oxoacidNamed(name string) (o oxo, ok bool) {
	stem, ok := strings.CutSuffix(name, "ic acid")
	if !ok {
		if stem, ok = strings.CutSuffix(name, "ous acid"); !ok {
			return oxo{}, false
		}
	}
	acidStem := ""
	for _, f := range [...]struct{ acid, anion string }{{"sulfur", "sulf"}, {"phosphor", "phosph"}} {
		if rest, ok := strings.CutSuffix(stem, f.acid); ok {
			stem, acidStem = rest+f.anion, f.acid
		}
	}
	ok = o.readStem(stem, words().byStem)
	if acidStem != "" {
		o.stem = acidStem
	}
	return o, ok
}

// readStem reads what stands before -ate, -ite, -ic or -ous.
func (o *oxo) readStem(stem string, byStem map[string]chem.Element) bool {
	o.centres = 1
	for _, p := range [...]string{"per", "hypo"} {
		if rest, ok := strings.CutPrefix(stem, p); ok {
			stem = rest
			break
		}
	}
	if _, ok := byStem[stem]; !ok {
		if rest, ok := strings.CutPrefix(stem, "di"); ok {
			stem, o.centres = rest, 2
		}
	}
	o.element, o.stem = byStem[stem], stem
	return o.element != 0 && !strings.Contains(stateless, " "+o.element.Symbol()+" ")
}

func exactMultiplier(text string) int64 {
	for _, m := range multipliers {
		if m.text == text {
			return m.n
		}
	}
	return 0
}

// state returns the state of the central atoms in a row, if the row holds as
// many as the name says, beside oxygen with -2 and hydrogen, and their state
// is one positive whole number.
func (o oxo) state(e *reference.Entry) (int64, bool) {
	if e.Species.Atoms(o.element) != o.centres || !e.Species.Composition().Only(o.element, chem.O, chem.H) {
		return 0, false
	}
	state := int64(0)
	for _, s := range e.States {
		if len(s.Sites) != 1 || !s.Sites[0].State.IsWhole() {
			return 0, false
		}
		switch n := s.Sites[0].State.Num(); s.Element {
		case o.element:
			state = n
		case chem.O:
			if n != -2 {
				return 0, false
			}
		}
	}
	return state, state > 0
}

// stock writes the name with the state of the central atom; ending is "ate" or
// "ic".
func (o oxo) stock(state int64, ending string) string {
	b := o.word
	if o.centres == 2 {
		b += "di"
	}
	return b + o.stem + ending + "(" + Roman(state) + ")"
}
