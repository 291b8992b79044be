package chem

// An Element is an atomic number, from 1 (hydrogen) to 118 (oganesson).
type Element uint8

// The elements that the rules of the trade name one by one.
const (
	H  Element = 1
	B  Element = 5
	C  Element = 6
	N  Element = 7
	O  Element = 8
	F  Element = 9
	Na Element = 11
	Al Element = 13
	Si Element = 14
	P  Element = 15
	S  Element = 16
	Cl Element = 17
	K  Element = 19
	V  Element = 23
	As Element = 33
	Se Element = 34
	Br Element = 35
	Sb Element = 51
	Te Element = 52
	I  Element = 53
)

// symbols holds the 118 symbols by atomic number (IUPAC periodic table of the
// elements, release of 4 May 2022; compared in a test with the CIAAW table
// that package reference ships).
var symbols = [...]string{"",
	"H", "He", "Li", "Be", "B", "C", "N", "O", "F", "Ne",
	"Na", "Mg", "Al", "Si", "P", "S", "Cl", "Ar", "K", "Ca",
	"Sc", "Ti", "V", "Cr", "Mn", "Fe", "Co", "Ni", "Cu", "Zn",
	"Ga", "Ge", "As", "Se", "Br", "Kr", "Rb", "Sr", "Y", "Zr",
	"Nb", "Mo", "Tc", "Ru", "Rh", "Pd", "Ag", "Cd", "In", "Sn",
	"Sb", "Te", "I", "Xe", "Cs", "Ba", "La", "Ce", "Pr", "Nd",
	"Pm", "Sm", "Eu", "Gd", "Tb", "Dy", "Ho", "Er", "Tm", "Yb",
	"Lu", "Hf", "Ta", "W", "Re", "Os", "Ir", "Pt", "Au", "Hg",
	"Tl", "Pb", "Bi", "Po", "At", "Rn", "Fr", "Ra", "Ac", "Th",
	"Pa", "U", "Np", "Pu", "Am", "Cm", "Bk", "Cf", "Es", "Fm",
	"Md", "No", "Lr", "Rf", "Db", "Sg", "Bh", "Hs", "Mt", "Ds",
	"Rg", "Cn", "Nh", "Fl", "Mc", "Lv", "Ts", "Og",
}

// MaxElement is the largest atomic number.
const MaxElement = Element(len(symbols) - 1)

// index finds an element by the letters of its symbol: first letter, then 0
// for none or 1 to 26 for the second.
var index = func() (t [26][27]Element) {
	for z := Element(1); z <= MaxElement; z++ {
		s := symbols[z]
		second := 0
		if len(s) == 2 {
			second = int(s[1]-'a') + 1
		}
		t[s[0]-'A'][second] = z
	}
	return t
}()

// Symbol returns the element's symbol, "" for an invalid element.
func (e Element) Symbol() string {
	if e > MaxElement {
		return ""
	}
	return symbols[e]
}

func (e Element) String() string { return e.Symbol() }

// ElementBySymbol returns the element with exactly this symbol, case included.
func ElementBySymbol(s string) (Element, bool) {
	if len(s) < 1 || len(s) > 2 || s[0] < 'A' || s[0] > 'Z' {
		return 0, false
	}
	second := 0
	if len(s) == 2 {
		if s[1] < 'a' || s[1] > 'z' {
			return 0, false
		}
		second = int(s[1]-'a') + 1
	}
	e := index[s[0]-'A'][second]
	return e, e != 0
}
