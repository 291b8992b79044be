package names

import (
	"strings"
	"sync"

	"halves/chem"
	"halves/reference"
)

// Of returns the name of a species, and whether it has one: "permanganate
// ion", "oxalic acid", "water". Ions are called ions. A species of the table
// has the names of its row, or names made from them by rule; another has a
// name only where the rules give one for certain: simple ions, salts of known
// ions and their hydrates, complexes, compounds of two nonmetals. Find reads
// each of these names back as the same species.
func Of(s *chem.Species, c Choice) (string, bool) {
	name, ok := nameOf(s, c.Style)
	if !ok {
		return "", false
	}
	if s.Charge() != 0 && !s.IsElectron() {
		name += " ion"
	}
	if c.Sulph {
		name = strings.ReplaceAll(name, "sulf", "sulph")
	}
	return name, true
}

// OfDissolved returns the name of a species as dissolved in water, whatever
// phase it is marked with: hydrogen chloride is hydrochloric acid, as hydrogen
// fluoride, bromide, iodide, cyanide and azide are acids (OpenStax, Chemistry
// 2e, section 2.7, from memory). Systematic names do not tell these apart.
// Hydrogen sulfide, of which both names are written, keeps its name. All others
// are named as by Of.
func OfDissolved(s *chem.Species, c Choice) (string, bool) {
	return Of(s.WithPhase(chem.Aqueous), c)
}

// nameOf returns the name without the word "ion".
func nameOf(s *chem.Species, style Style) (string, bool) {
	if s.IsElectron() {
		return "electron", true
	}
	e := reference.Species().Find(s)
	if len(s.Composition()) == 1 && s.Charge() > 0 && (e != nil || s.Charge() < 5 && usual(s.Composition()[0].Element, s.Charge())) {
		if name, ok := cationName(s, style); ok {
			return name, true
		}
	}
	if e != nil {
		return rowName(e, s.Phase(), style), true
	}
	return madeName(s, style)
}

// rowName returns the name of a row in a style.
func rowName(e *reference.Entry, phase chem.Phase, style Style) string {
	switch {
	case style == Systematic:
		return systematicName(e)
	case phase == chem.Aqueous && e.Species.Atoms(chem.H) == 1 && len(e.Names) > 1 && strings.HasPrefix(e.Names[1], "hydr") && strings.HasSuffix(e.Names[1], " acid"):
		return e.Names[1] // hydrogen chloride dissolved is hydrochloric acid
	case style == Stock:
		return stockName(e, commonName(e))
	case style == Traditional:
		return traditionalName(e, commonName(e))
	}
	return commonName(e)
}

// cationName writes the name of a simple cation.
func cationName(s *chem.Species, style Style) (string, bool) {
	c := s.Composition()[0]
	w := &words().of[c.Element]
	state := s.Charge()
	if c.Element == mercury && c.Atoms == 2 && state == 2 {
		if style == Systematic {
			return "dimercury(2+)", true
		}
		state = 1
	} else if c.Atoms != 1 || state > 9 || c.Element == mercury && state == 1 {
		return "", false
	}
	switch {
	case nonmetal(c.Element) && (c.Element != chem.As && c.Element != chem.I || style == Systematic):
		return "", false
	case style == Systematic:
		return w.name + "(" + signedNumber(s.Charge()) + ")", true
	case style == Traditional && w.oldOf(state) != "":
		return w.oldOf(state), true
	case w.fixed == state:
		return w.name, true
	}
	return w.name + "(" + Roman(state) + ")", true
}

// preferredText holds names that textbooks print although another stands first
// in its row. A salt is preferred by the name of its anion. Common practice, no
// source.
const preferredText = `
1,4-benzoquinone
acetone
acetyl chloride
acrolein
acrylonitrile
alanine
benzyl alcohol
boron trichloride
borohydride
carbon tetrachloride
chloroform
cyanogen
diethyl ether
dilead trioxide
dioxidouranium(V) ion
dimethyl ether
dimethylamine
dimethylammonium ion
disilver dioxide
ethoxide
ethylamine
ethylammonium ion
ethylene glycol
ethylenediamine
ferrocene
glycerol
glyoxal
hydrogen peroxide
hydronium ion
hydroquinone
hydroxylammonium ion
hypochlorous acid
hypophosphite
hypophosphorous acid
metaantimonic acid
methoxide
methylamine
methylammonium ion
nitrogen monoxide
nitroprusside
octasulfur
osmium tetroxide
oxamide
periodate
periodic acid
phenoxide
phosphite
phosphorous acid
propylene glycol
pyrogallol
salicylate
silicon tetrachloride
sodium hexafluoridoaluminate
stearate
tetrafluoroborate
tetramethylammonium ion
titanium dioxide
trimethylamine
vanadate
vanadyl ion
`

var preferred = sync.OnceValue(func() map[string]bool {
	m := map[string]bool{}
	for line := range strings.Lines(preferredText) {
		if line = strings.TrimSpace(line); line != "" {
			m[line] = true
		}
	}
	return m
})

// commonName returns the name that most textbooks print. The names of a row
// stand in no order of commonness but that a systematic one is first.
func commonName(e *reference.Entry) string {
	first := e.Names[0]
	if len(e.Names) > 1 {
		p := preferred()
		for _, name := range e.Names {
			if p[name] || p[lastWord(name)] {
				return tidy(name)
			}
		}
	}
	if e.Species.Charge() == 0 {
		return commonSubstance(e, first)
	}
	if additive(first) && hasLigand(first) {
		if name, ok := complexCommon(e, first); ok {
			return name
		}
	}
	if rare(first) {
		for _, name := range e.Names[1:] {
			if !rare(name) && !isOld(name) {
				return tidy(name)
			}
		}
		if name, ok := complexCommon(e, first); ok {
			return name
		}
	}
	return tidy(first)
}

// commonSubstance chooses among the names of a neutral row.
func commonSubstance(e *reference.Entry, first string) string {
	if len(e.Names) > 1 {
		// Metals are named with their state: manganese(IV) oxide.
		if z, rest := words().element(first); !nonmetal(z) && (rest == "" || rest[0] != '(') {
			for _, name := range e.Names[1:] {
				if z, rest := words().element(name); z != 0 && (!nonmetal(z) || z == chem.As) && rest != "" && rest[0] == '(' && rest[1] != '0' && !strings.Contains(name, ",") {
					return tidy(name)
				}
			}
		}
		if rare(first) && !remarked(first) {
			for _, name := range e.Names[1:] {
				if !rare(name) && !isOld(name) {
					return tidy(name)
				}
			}
		}
	}
	name := tidy(first)
	if len(e.Ions) == 2 { // disodium hydrogenphosphate: the charges tell it
		for n, rest := range prefixes(name) {
			if n > 1 && (strings.HasPrefix(rest, "ammonium ") || strings.HasPrefix(rest, "sodium ") || strings.HasPrefix(rest, "potassium ")) {
				return rest
			}
		}
	}
	if strings.HasSuffix(name, " oxide") && e.Species.Atoms(chem.O) == 1 && len(e.Species.Composition()) == 2 {
		if z, ok := centreOf(e.Species); ok && nonmetal(z) {
			return strings.TrimSuffix(name, "oxide") + "monoxide"
		}
	}
	return name
}

func lastWord(name string) string { return name[strings.LastIndexByte(name, ' ')+1:] }

// tidy takes the word "ion" and a remark off a name, and elides as English
// does: tetroxide.
func tidy(name string) string {
	name = strings.TrimSuffix(strings.TrimSuffix(withoutRemark(name), " ion"), " cation")
	if strings.Contains(name, "aoxid") {
		name = strings.ReplaceAll(name, "aoxide", "oxide")
	}
	return name
}

func remarked(name string) bool {
	return strings.HasSuffix(name, ")") && strings.Contains(name, " (") || strings.Contains(name, " in ")
}

// additive reports whether a name ends in the charge of an ion: it is an
// additive or other systematic name.
func additive(name string) bool {
	return strings.HasSuffix(name, "+)") || strings.HasSuffix(name, "-)")
}

// rareWords are systematic names that general chemistry does not use (IUPAC
// Red Book 2005, IR-6.2 and IR-6.4, from memory).
const rareWords = " oxidane azane diazane phosphane arsane stibane bismuthane sulfane selane tellane disulfane hydron oxidanium azanium phosphanium dioxidanide sulfanide selanide tellanide azanide azanediide methanide hydroxyazane diazene monohydrogen dihydrogen dioxygen trioxygen dinitrogen difluorine dichlorine dibromine diiodine tetraphosphorus monooxygen mononitrogen monochlorine monobromine monoiodine monofluorine oxidanyl dioxidanyl ethyne oxidochlorine "

// rareParts are parts of systematic names of which general chemistry uses
// others: ethanoic acid is acetic acid.
var rareParts = [...]string{"oxido", "chlorido", "fluorido", "bromido", "carboxyl", "dioic", "dioate", "ethanoic", "methanoic", "ethanoate", "methanoate", "propanoate", "butanoate", "octadecanoic", "hexadecanoic", "oxoethan", "propenoic", "oxidane", "carbonyl d", "ethanal", "methanal", "ethanenitrile", "methanamide", "ethanamide", "disulfite"}

// rare reports whether textbooks would rather print another name of the row.
func rare(name string) bool {
	if additive(name) || remarked(name) || strings.Contains(rareWords, " "+name+" ") {
		return true
	}
	for _, part := range rareParts {
		if strings.Contains(name, part) {
			return name != "disulfite"
		}
	}
	return strings.Contains(name, ",") && name[0] >= '0' && name[0] <= '9'
}

// isOld reports whether a name begins with an old name of a cation: ferrous
// oxide.
func isOld(name string) bool {
	first, _, _ := strings.Cut(name, " ")
	_, ok := words().byOld[first]
	return ok && !strings.HasSuffix(name, "acid")
}

// complexCommon writes hexacyanidoferrate(3-) as hexacyanidoferrate(III), by
// the state of the central atom.
func complexCommon(e *reference.Entry, name string) (string, bool) {
	z, ok := centreOf(e.Species)
	if !ok {
		return "", false
	}
	if !additive(name) {
		return "", false
	}
	base := strings.Replace(name[:strings.LastIndexByte(name, '(')], "nitrito-N-", "nitrito", 1)
	if z == chem.B || z == chem.Si {
		return base, true
	}
	if nonmetal(z) || strings.Contains(name, "nitrosyl") {
		return "", false
	}
	for _, s := range e.States {
		if s.Element != z {
			continue
		}
		if len(s.Sites) != 1 || !s.Sites[0].State.IsWhole() || s.Sites[0].State.Sign() < 0 {
			return "", false
		}
		state := s.Sites[0].State.Num()
		switch {
		case state == 0:
			return base + "(0)", true
		case numberless(z, state):
			return base, true
		}
		return base + "(" + Roman(state) + ")", true
	}
	return "", false
}

// numberless reports whether a complex is named without the state of its
// centre. Silver has more than one, and is given it.
func numberless(z chem.Element, state int64) bool {
	return z != silver && words().of[z].fixed == state
}

const silver = chem.Element(47)

// hasLigand reports whether an additive name holds a ligand other than oxygen
// or sulfur.
func hasLigand(name string) bool {
	for rest := name; ; {
		i := strings.Index(rest, "ido")
		if i < 0 {
			break
		}
		before := rest[:i]
		if strings.HasSuffix(before, "hydrox") || !strings.HasSuffix(before, "ox") && !strings.HasSuffix(before, "sulf") {
			return true
		}
		rest = rest[i+len("ido"):]
	}
	for _, part := range [...]string{"ammine", "aqua", "ato", "ito", "diamine", "phenanthroline", "bipyridine"} {
		if strings.Contains(name, part) {
			return true
		}
	}
	return false
}

// centreOf returns the element that a formula begins with.
func centreOf(s *chem.Species) (chem.Element, bool) {
	f := s.Formula()
	if len(f.Parts) != 1 {
		return 0, false
	}
	u := f.Parts[0].Units
	if len(u) == 1 && u[0].Group != nil {
		u = u[0].Group
	}
	return u[0].Element, len(u) > 1 && u[0].Group == nil
}
