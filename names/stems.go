package names

import (
	"strings"
	"sync"

	"halves/chem"
	"halves/reference"
)

// stemTable holds, for an element, the stem before -ate and the name of its
// simple anion. Element names: IUPAC Red Book 2005, tables I and X, from
// memory.
const stemTable = `
H - hydride
Be beryll -
B bor boride
C carbon carbide
N nitr nitride
O - oxide
F fluor fluoride
Mg magnes -
Al alumin -
Si silic silicide
P phosph phosphide
S sulf sulfide
Cl chlor chloride
Sc scand -
Ti titan -
V vanad -
Cr chrom -
Mn mangan -
Fe ferr -
Co cobalt -
Ni nickel -
Cu cupr -
Zn zinc -
Ga gall -
Ge german germanide
As arsen arsenide
Se selen selenide
Br brom bromide
Zr zircon -
Nb niob -
Mo molybd -
Tc technet -
Ru ruthen -
Rh rhod -
Pd pallad -
Ag argent -
Cd cadm -
In ind -
Sn stann -
Sb antimon antimonide
Te tellur telluride
I iod iodide
Xe xen -
Ce cer -
Hf hafn -
Ta tantal -
W tungst -
Re rhen -
Os osm -
Ir irid -
Pt platin -
Au aur auride
Hg mercur -
Tl thall -
Pb plumb -
Bi bismuth -
U uran -
`

// oldTable holds the old names of cations: element, name, charge (OpenStax,
// Chemistry 2e, section 2.7, from memory, and older usage).
const oldTable = `
Fe ferrous 2
Fe ferric 3
Cu cuprous 1
Cu cupric 2
Sn stannous 2
Sn stannic 4
Pb plumbous 2
Pb plumbic 4
Hg mercurous 1
Hg mercuric 2
Cr chromous 2
Cr chromic 3
Mn manganous 2
Mn manganic 3
Co cobaltous 2
Co cobaltic 3
Ni nickelous 2
Ni nickelic 3
Au aurous 1
Au auric 3
Ce cerous 3
Ce ceric 4
Ti titanous 3
Ti titanic 4
V vanadous 2
V vanadic 3
Tl thallous 1
Tl thallic 3
U uranous 4
Sb antimonous 3
Pt platinous 2
Pt platinic 4
`

// fixedTable holds the elements whose cation needs no number, by charge.
// Common practice, no source.
const fixedTable = `
1 H Li Na K Rb Cs Fr Ag
2 Be Mg Ca Sr Ba Ra Zn Cd
3 Al Ga In Sc Y La
`

// meantTable holds, by charge, the elements whose salts are often named without
// the number that belongs to them, since one cation is met in nearly all: lead
// sulfate. Common practice, no source.
const meantTable = `
2 Ni Pb
3 Bi
`

// openMetals are the elements of which two cations or more are common, so that
// a salt without a number is not read even where the table has one only.
const openMetals = " Ti V Cr Mn Fe Co Cu Sn Ce Pt Au Hg Tl U "

// An elementWords holds the words that name an element.
type elementWords struct {
	name  string // as IUPAC spells it
	stem  string // before -ate, "" for none
	ide   string // "chloride", "" for none
	fixed int64  // charge of the cation that needs no number, 0 for none
	meant int64  // charge of the cation that is meant where a number is left out, 0 for none
	old   []oldName
}

// An oldName is an old name of a cation: ferrous.
type oldName struct {
	name    string
	element chem.Element
	charge  int64
}

// oldOf returns the old name of the cation with this charge, "" for none.
func (w *elementWords) oldOf(charge int64) string {
	for _, o := range w.old {
		if o.charge == charge {
			return o.name
		}
	}
	return ""
}

// A vocabulary holds the words of all elements.
type vocabulary struct {
	of      [chem.MaxElement + 1]elementWords
	byName  map[string]chem.Element // with both spellings
	byStem  map[string]chem.Element
	byIde   map[string]chem.Element
	byOld   map[string]oldName
	longest int // of the keys of byName
}

var words = sync.OnceValue(func() *vocabulary {
	v := &vocabulary{byName: map[string]chem.Element{}, byStem: map[string]chem.Element{}, byIde: map[string]chem.Element{}, byOld: map[string]oldName{}}
	for z := chem.Element(1); z <= chem.MaxElement; z++ {
		e := reference.ElementOf(z)
		v.of[z].name = e.Name
		for _, name := range []string{e.Name, e.OtherName} {
			if name = squash(strings.ToLower(name)); name != "" {
				v.byName[name] = z
				v.longest = max(v.longest, len(name))
			}
		}
	}
	eachLine(stemTable, func(f []string) {
		z, _ := chem.ElementBySymbol(f[0])
		if f[1] != "-" {
			v.of[z].stem = f[1]
			v.byStem[f[1]] = z
		}
		if f[2] != "-" {
			v.of[z].ide = f[2]
			v.byIde[f[2]] = z
		}
	})
	v.byStem["wolfram"] = v.byStem["tungst"]
	v.byStem["bism"] = v.byStem["bismuth"]
	v.byStem["stib"] = v.byStem["antimon"]
	eachLine(oldTable, func(f []string) {
		z, _ := chem.ElementBySymbol(f[0])
		o := oldName{name: f[1], element: z, charge: int64(f[2][0] - '0')}
		v.of[z].old = append(v.of[z].old, o)
		v.byOld[o.name] = o
	})
	eachLine(fixedTable, func(f []string) {
		for _, symbol := range f[1:] {
			z, _ := chem.ElementBySymbol(symbol)
			v.of[z].fixed = int64(f[0][0] - '0')
		}
	})
	eachLine(meantTable, func(f []string) {
		for _, symbol := range f[1:] {
			z, _ := chem.ElementBySymbol(symbol)
			v.of[z].meant = int64(f[0][0] - '0')
		}
	})
	return v
})

func eachLine(table string, line func(fields []string)) {
	for text := range strings.Lines(table) {
		if f := strings.Fields(text); len(f) > 0 {
			line(f)
		}
	}
}

// element returns the element that begins key, by its longest name, and the
// rest of key.
func (v *vocabulary) element(key string) (chem.Element, string) {
	for n := min(len(key), v.longest); n >= 3; n-- {
		if z, ok := v.byName[key[:n]]; ok {
			return z, key[n:]
		}
	}
	return 0, key
}

// endsInElement reports whether key ends in the name of an element, perhaps
// with a number in brackets after it, as the name of every complex cation does.
func (v *vocabulary) endsInElement(key string) bool {
	if key[len(key)-1] == ')' {
		return true
	}
	for n := 3; n <= min(len(key), v.longest); n++ {
		if _, ok := v.byName[key[len(key)-n:]]; ok {
			return true
		}
	}
	return false
}

// A multiplier is a multiplying prefix (IUPAC Red Book 2005, table IV, from
// memory).
type multiplier struct {
	text string
	n    int64
}

// multipliers are the prefixes, each before those that begin it.
var multipliers = [...]multiplier{
	{"mono", 1}, {"mon", 1}, {"dodeca", 12}, {"di", 2}, {"trideca", 13}, {"tri", 3}, {"tetradeca", 14}, {"tetra", 4}, {"tetr", 4},
	{"pentadeca", 15}, {"penta", 5}, {"pent", 5}, {"hexadeca", 16}, {"hexa", 6}, {"hex", 6}, {"heptadeca", 17}, {"hepta", 7}, {"hept", 7},
	{"octadeca", 18}, {"octa", 8}, {"oct", 8}, {"nona", 9}, {"non", 9}, {"deca", 10}, {"dec", 10}, {"undeca", 11},
	{"bis", 2}, {"tris", 3}, {"tetrakis", 4}, {"pentakis", 5}, {"hexakis", 6},
}

// multiplierOf returns the usual prefix, "" where there is none.
func multiplierOf(n int64) string {
	if n == 1 {
		return ""
	}
	for _, m := range multipliers {
		if m.n == n && len(m.text) > 1 && m.text != "mon" && m.text != "bis" {
			return m.text
		}
	}
	return ""
}

// prefixes calls yield for each way to take a multiplying prefix from key; the
// first is none at all, with n = 0.
func prefixes(key string) func(yield func(n int64, rest string) bool) {
	return func(yield func(int64, string) bool) {
		if !yield(0, key) {
			return
		}
		for _, m := range multipliers {
			if rest, ok := strings.CutPrefix(key, m.text); ok && !yield(m.n, rest) {
				return
			}
		}
	}
}
