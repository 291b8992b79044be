package names

import (
	"slices"
	"strings"

	"halves/chem"
	"halves/reference"
)

// A reader reads one name by rule. Its methods take keys and return nil where
// a key is not such a name.
type reader struct {
	index *index
	words *vocabulary
	metal []string // set where the only trouble is a number that is not given
}

// resolve reads a formula that was put together, and returns the species of
// the table where it is one.
func resolve(formula string) *chem.Species {
	r, err := chem.ReadSpecies(formula, nil)
	if err != nil {
		return nil
	}
	if e := reference.Species().Find(r[0].Species); e != nil {
		return e.Species
	}
	return r[0].Species
}

// known returns the species if the table has it.
func known(s *chem.Species) *chem.Species {
	if s == nil || reference.Species().Find(s) == nil {
		return nil
	}
	return s
}

// anion reads the name of an anion without the word "ion".
func (r *reader) anion(key string) *chem.Species {
	x := r.index
	if row, ok := x.anions[key]; ok {
		return species(row)
	}
	base, number := cutNumber(key)
	switch {
	case number.charge:
		if row, ok := x.anions[base]; ok && species(row).Charge() == number.value {
			return species(row)
		}
		// The charge alone tells which one is meant: manganate(1-), permanganate.
		if stem, ok := strings.CutSuffix(base, "ate"); ok && r.words.byStem[stem] != 0 {
			if row, ok := x.oxo[oxoKey{r.words.byStem[stem].Symbol(), number.value}]; ok && row >= 0 {
				return species(row)
			}
		}
	case number.given:
		if row, ok := x.stock[key]; ok {
			return species(row)
		}
		if row, ok := x.anions[base]; ok && holdsState(reference.Species().At(row), number.value) {
			return species(row) // permanganate(VII)
		}
	}
	if s := r.hydrogenAnion(key); s != nil {
		return s
	}
	if s := r.complex(key); s != nil && s.Charge() < 0 {
		return s
	}
	return nil
}

// holdsState reports whether an atom other than hydrogen or oxygen has the
// state.
func holdsState(e *reference.Entry, state int64) bool {
	for _, s := range e.States {
		if s.Element != chem.H && s.Element != chem.O {
			for _, site := range s.Sites {
				if site.State.Equal(chem.Whole(state)) {
					return true
				}
			}
		}
	}
	return false
}

// biAnions are the anions with which bi- stands for hydrogen. Bichromate is the
// dichromate; biphosphate was said of more than one ion. Common practice, no
// source.
const biAnions = " carbonate sulfate sulfite sulfide selenide oxalate tartrate phthalate selenite selenate "

// hydrogenAnion reads an anion that took up hydrogen ions: hydrogencarbonate,
// bisulfate, dihydrogenphosphate(V).
func (r *reader) hydrogenAnion(key string) *chem.Species {
	i := strings.Index(key, "hydrogen")
	if i < 0 {
		if rest, ok := strings.CutPrefix(key, "bi"); ok && strings.Contains(biAnions, " "+rest+" ") {
			if row, ok := r.index.anions[rest]; ok && species(row).Charge() == -2 {
				return protonated(species(row), 1)
			}
		}
		return nil
	}
	n := int64(1)
	if i > 0 {
		if n = exactMultiplier(key[:i]); n == 0 {
			return nil
		}
	}
	rest := key[i+len("hydrogen"):]
	if len(rest) < 3 || strings.HasPrefix(rest, "hydrogen") {
		return nil
	}
	if inner, ok := strings.CutPrefix(rest, "("); ok { // hydrogen(tetraoxidosulfate)(1-)
		rest = inner
		if i := strings.IndexByte(rest, ')'); i > 0 && strings.Count(rest, "(") < strings.Count(rest, ")") {
			rest = rest[:i] + rest[i+1:]
		}
	}
	a := r.anion(rest)
	if a == nil {
		if base, number := cutNumber(rest); number.charge { // the charge is that of the whole
			if a = r.complexOf(base, numberOf(number.value-n)); a == nil {
				return nil
			}
		} else {
			return nil
		}
	}
	if a.Charge()+n >= 0 {
		return nil
	}
	return protonated(a, n)
}

func numberOf(charge int64) number { return number{given: true, charge: true, value: charge} }

// protonated returns the species of the table with n hydrogen ions more, or
// one put together.
func protonated(a *chem.Species, n int64) *chem.Species {
	text := hydrogens(n) + a.Formula().String()
	s := resolve(text + chargeText(a.Charge()+n))
	if s == nil || known(s) != nil {
		return s
	}
	if same := reference.Species().Isomers(s.Composition(), s.Charge()); len(same) > 0 {
		return same[0].Species
	}
	return s
}

func hydrogens(n int64) string {
	if n == 1 {
		return "H"
	}
	return "H" + digits(n)
}

// cation reads the name of a cation without the word "ion".
func (r *reader) cation(key string) *chem.Species {
	if row, ok := r.index.cations[key]; ok {
		return species(row)
	}
	if o, ok := r.words.byOld[key]; ok {
		return monatomic(o.element, o.charge)
	}
	if z, rest := r.words.element(key); z != 0 {
		if rest == "" {
			if q := r.words.of[z].fixed; q > 0 {
				return monatomic(z, q)
			}
			return nil
		}
		if rest[0] == '(' && rest[len(rest)-1] == ')' {
			if base, number := cutNumberAt(key, len(key)-len(rest)); number.given && len(base) < len(key) {
				if number.value <= 0 || !number.charge && nonmetal(z) {
					return nil
				}
				s := monatomic(z, number.value)
				if known(s) == nil && (number.value > 4 || !usual(z, number.value)) {
					return nil // no such ion stands alone
				}
				return s
			}
		}
	}
	if r.words.endsInElement(key) {
		if s := r.complex(key); s != nil && s.Charge() > 0 {
			return s
		}
	}
	return nil
}

// nonmetal reports whether an element makes no simple cation.
func nonmetal(z chem.Element) bool {
	return strings.Contains(" B C N O F Ne Si P S Cl Ar As Se Br Kr Te I Xe At Rn He ", " "+z.Symbol()+" ")
}

// usual reports whether the table of elements gives the state as a common one.
func usual(z chem.Element, state int64) bool {
	return slices.Contains(reference.ElementOf(z).CommonStates, state)
}

// mercury is the one metal whose ion with the state 1 is a pair.
const mercury = chem.Element(80)

// monatomic returns the ion of one element, Hg2^2+ for mercury(I).
func monatomic(z chem.Element, charge int64) *chem.Species {
	if z == mercury && charge == 1 {
		return resolve("Hg2^2+")
	}
	return resolve(z.Symbol() + chargeText(charge))
}

// ionsOf returns the charges of the cations of an element that the table has.
func (r *reader) ionsOf(z chem.Element) []int64 {
	var all []int64
	for q := int64(1); q <= 4; q++ {
		if known(monatomic(z, q)) != nil {
			all = append(all, q)
		}
	}
	return all
}

// open notes that the number of a metal is missing, where it is open. Of its
// ions the usual ones are offered, another only where none of them is usual.
func (r *reader) open(z chem.Element, charges []int64) {
	if len(charges) < 2 || r.metal != nil {
		return
	}
	rare := !slices.ContainsFunc(charges, func(q int64) bool { return usual(z, q) })
	for _, q := range charges {
		if !rare && !usual(z, q) {
			continue
		}
		r.metal = append(r.metal, r.words.of[z].name+"("+Roman(q)+")")
	}
}

// chargeText writes a charge as chem does: ^2-.
func chargeText(charge int64) string {
	if charge == 0 {
		return ""
	}
	return "^" + chargeNumber(charge)
}
