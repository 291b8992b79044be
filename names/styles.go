package names

import (
	"strings"

	"halves/chem"
	"halves/reference"
)

// traditionalWords are old names for common ones, of ions and substances.
var traditionalWords = map[string]string{
	"hydrogencarbonate": "bicarbonate", "hydrogensulfate": "bisulfate", "hydrogensulfite": "bisulfite",
	"hexacyanidoferrate(II)": "ferrocyanide", "hexacyanidoferrate(III)": "ferricyanide",
	"peroxydisulfate": "persulfate", "dinitrogen monoxide": "nitrous oxide", "nitrogen monoxide": "nitric oxide",
}

// traditionalName replaces the cation and the anion of a common name by their
// old names, where there are such and Find reads the new name back.
func traditionalName(e *reference.Entry, name string) string {
	if old, ok := traditionalWords[name]; ok {
		return old
	}
	first, rest, ok := strings.Cut(name, " ")
	if !ok {
		return name
	}
	last, hydrate, hydrated := strings.Cut(rest, " ")
	if hydrated && !strings.HasSuffix(hydrate, "hydrate") {
		return name
	}
	if z, number := words().element(first); z != 0 && len(number) > 2 && number[0] == '(' {
		if old := words().of[z].oldOf(romanOf(strings.ToLower(number[1 : len(number)-1]))); old != "" {
			first = old
		}
	}
	if old, ok := traditionalWords[last]; ok {
		last = old
	}
	renamed := first + " " + last
	if hydrated {
		renamed += " " + hydrate
	}
	return readable(e, renamed, name)
}

// readable returns a name that was made for a row if Find reads it back, else
// the name instead.
func readable(e *reference.Entry, made, instead string) string {
	if made == instead {
		return made
	}
	if s, _ := findKey(squash(strings.ToLower(made)), kindOf(e.Species)); s != e.Species {
		return instead
	}
	return made
}

func kindOf(s *chem.Species) kind {
	switch {
	case s.Charge() < 0:
		return anion
	case s.Charge() > 0:
		return cation
	}
	return substance
}

// stockName gives the state of the central atom of an oxoanion or oxoacid, also
// in a salt: potassium manganate(VII).
func stockName(e *reference.Entry, name string) string {
	if e.Species.Charge() < 0 {
		return stockAnion(e)
	}
	if strings.HasSuffix(name, " acid") {
		for _, name := range e.Names {
			if a, ok := oxoacidNamed(name); ok {
				if state, ok := a.state(e); ok {
					return a.stock(state, "ic") + " acid"
				}
			}
		}
		return name
	}
	return saltName(e, name, stockAnion, func(cation string) string { return cation })
}

// stockAnion returns the Stock name of an anion of the table, or its common
// name where it has none.
func stockAnion(e *reference.Entry) string {
	for _, name := range e.Names {
		if o, ok := oxoanionNamed(strings.TrimSuffix(name, " ion")); ok {
			if state, ok := o.state(e); ok {
				if made := o.stock(state, "ate"); readable(e, made, "") == made {
					return made
				}
				break
			}
		}
	}
	return commonName(e)
}

// saltName writes a salt anew from its common name, with other names for its
// ions. It keeps the common name where Find would not read the new one back.
func saltName(e *reference.Entry, name string, anion func(*reference.Entry) string, cation func(string) string) string {
	i := strings.IndexByte(name, ' ')
	if e.Species.Charge() != 0 || i < 0 {
		return name
	}
	last, hydrate, hydrated := strings.Cut(name[i+1:], " ")
	if hydrated && !strings.HasSuffix(hydrate, "hydrate") {
		return name
	}
	row, ok := names().anions[squash(last)]
	if !ok {
		if row, ok = names().anions[squash(strings.ToLower(last))]; !ok {
			a := (&reader{index: names(), words: words()}).anion(squash(strings.ToLower(last)))
			if a == nil || known(a) == nil {
				return name
			}
			row = reference.Species().Find(a).Row
		}
	}
	renamed := cation(name[:i]) + " " + anion(reference.Species().At(row))
	if hydrated {
		renamed += " " + hydrate
	}
	return readable(e, renamed, name)
}

// systematicName returns an additive or other systematic name. Names that the
// Red Book keeps stay: water, ammonia, the acids (IR-6.2, IR-8.2).
func systematicName(e *reference.Entry) string {
	first := e.Names[0]
	charge := e.Species.Charge()
	switch {
	case charge < 0:
		return systematicAnion(e)
	case charge > 0:
		if additive(first) {
			return first
		}
		if name, ok := complexName(e.Species, true); ok {
			return name
		}
		return commonName(e)
	}
	switch first {
	case "oxidane", "azane":
		return commonName(e)
	}
	if remarked(first) {
		return commonName(e)
	}
	if len(e.Ions) == 2 && !e.Ions[0].Species.Same(chem.Hydron) {
		return saltName(e, commonName(e), systematicAnion, chargedCation)
	}
	return first
}

// systematicAnion returns the additive name of an anion of the table.
func systematicAnion(e *reference.Entry) string {
	first := strings.TrimSuffix(e.Names[0], " ion")
	if additive(first) {
		return first
	}
	if name, ok := complexName(e.Species, true); ok {
		return name
	}
	if strings.Contains(rareWords, " "+first+" ") {
		return first
	}
	return commonName(e)
}

// chargedCation writes iron(III) as iron(3+).
func chargedCation(name string) string {
	open := strings.IndexByte(name, '(')
	if open < 0 || name[len(name)-1] != ')' {
		return name
	}
	if r := romanOf(strings.ToLower(name[open+1 : len(name)-1])); r > 0 {
		if z, rest := words().element(name[:open]); z != 0 && rest == "" {
			if z == mercury && r == 1 {
				return "dimercury(2+)"
			}
			return name[:open] + "(" + signedNumber(r) + ")"
		}
	}
	return name
}
