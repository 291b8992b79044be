package chem_test

import (
	"errors"
	"strings"
	"testing"

	"halves/chem"
	"halves/reference"
)

// A refusal is a line with the error that it gives. The text between « and »
// is what the error must point at; both marks are taken out before reading.
type refusal struct{ name, text, msg, hint string }

func unmarked(text string) string { return strings.NewReplacer("«", "", "»", "").Replace(text) }

var equationRefusals = []refusal{
	{"unknown symbol", "«Xx» + O2 -> XxO", `no element has the symbol "Xx"`, "symbols are one capital letter"},
	{"wrong case", "MnO4^- + H2C2O4 -> Mn^2+ + «co2»", `no element has the symbol "co"`, "did you mean CO2?"},
	{"wrong case, small and large", "N«A»CL -> Na", `no element has the symbol "A"`, "did you mean NaCl?"},
	{"wrong case with a charge", "«mno4»- -> Mn^2+", `no element has the symbol "mno"`, "did you mean MnO4?"},
	{"a name", "«iron» -> Fe^2+", `no element has the symbol "iron"`, "write the formula in place of a name"},
	{"isotope", "«D»2O -> H2O", `no element has the symbol "D"`, "write hydrogen as H"},
	{"mass number", "«²»H2O -> H2O", "a superscript before a formula", "mass numbers are not read"},
	{"letter after a coefficient", "2«x» Zn -> Zn^2+", `no element has the symbol "x"`, ""},

	{"unclosed bracket", "Ca«(»OH2 + HCl -> CaCl2", "the bracket ( is not closed", ""},
	{"unclosed before a charge", "«[»Fe(CN)6^3- + I^- -> I2", "the bracket [ is not closed before the charge", "close it with ]"},
	{"unclosed in a hydrate", "CuSO4.5«(»H2O -> CuSO4", "the bracket ( is not closed", ""},
	{"unclosed twice", "Zn -> (Zn«(»OH", "the bracket ( is not closed", ""},
	{"closed by another", "Fe(CN«]»2 -> Fe", "the bracket ] does not close (", ""},
	{"never opened", "Fe«)» -> Fe", "the bracket ) was never opened", ""},
	{"never opened at the start", "«]»Fe -> Fe", "the bracket ] was never opened", ""},
	{"empty bracket", "Fe«()»2 + Cl2 -> FeCl3", "the brackets are empty", ""},

	{"missing arrow", "Cu + NO3^-«»", "no arrow", "write reactants, an arrow ->, products"},
	{"missing arrow, dashes", "Cu + NO3^- -- Cu^2+«»", "no arrow", "write reactants, an arrow ->, products"},
	{"two arrows", "Cu -> Cu^+ «->» Cu^2+", "a second arrow", "one equation with one arrow"},
	{"two kinds of arrow", "Cu = Cu^+ «⟶» Cu^2+", "a second arrow", "one equation with one arrow"},
	{"two equations", "Zn + Cu^2+ -> Zn^2+ + Cu; Fe + Ag^+ «->» Fe^2+ + Ag", "a second arrow", "one equation with one arrow"},
	{"arrow to the left", "Cu^2+ «<-» Cu", "the arrow points to the left", "write reactants, an arrow ->, products"},
	{"arrow sign to the left", "Cu^2+ «←» Cu", "the arrow points to the left", ""},
	{"double arrow to the left", "Cu^2+ «<=» Cu", "the arrow points to the left", ""},
	{"nothing", "«»", "nothing was typed", "write an equation such as"},
	{"spaces", "« \t »", "nothing was typed", "write an equation such as"},
	{"empty left side", "  «->» Cu", "nothing stands before the arrow", "write reactants, an arrow ->, products"},
	{"empty right side", "Cu «->» ", "nothing stands after the arrow", "write reactants, an arrow ->, products"},

	{"caret and number without a sign", "SO4«^2» -> S", "the charge ^2 has no sign", "write ^2+ or ^2-"},
	{"space before the sign", "Fe«^2 +» -> Fe", "a space parts the charge 2 from its sign", "write ^2+ without a space"},
	{"space before the sign and a term", "Cr2O7«^2 -» + Fe -> Cr", "a space parts the charge 2 from its sign", "write ^2- without a space"},
	{"lone caret", "Fe«^» -> Fe", "what follows the caret is not a charge", "a number and a sign"},
	{"letter after a caret", "Fe«^»x -> Fe", "what follows the caret is not a charge", "a number and a sign"},
	{"bracket without a sign after a caret", "Cu«^(»2) -> Cu", "what follows the caret is not a charge", "a number and a sign"},
	{"charge 0", "Fe«^0» -> Fe", "a charge does not begin with 0", "leave the charge out"},
	{"charge 02", "Fe«^02»+ -> Fe", "a charge does not begin with 0", "leave the charge out"},
	{"charge 0 after a true subscript", "SO₄«0»- -> S", "a charge does not begin with 0", "leave the charge out"},
	{"number after a charge", "Fe«^2+3» + Cl2 -> Fe", "a number follows the charge", "a space between terms"},
	{"charge without a formula", "«^»2+ -> Fe", "a charge without a formula", "write the formula first"},
	{"two charges", "Fe^3+«^»2+ -> Fe", "a second charge follows the first", "write one charge"},
	{"charge inside a bracket", "«[»H+] -> H2", "the bracket [ is not closed before the charge", "a charge belongs to the whole species"},
	{"Roman numeral", "Fe«(III)» -> Fe", "a Roman numeral belongs to a name", "write iron(III) for the name, Fe^3+ for the ion"},
	{"small Roman numeral", "Fe«(iii)»Cl3 -> Fe", "a Roman numeral belongs to a name", "write iron(III) for the name, Fe^3+ for the ion"},
	{"superscript inside a formula", "Mn«⁰»O4^- -> Mn", "a superscript that is not a charge", "at the end of the formula"},
	{"positive electron", "«e^+» -> Fe", "an electron has the charge 1-", "write e^-"},
	{"two electrons in one", "«e2-» -> Fe", "an electron has the charge 1-", "write the number of electrons in front: 2 e^-"},

	{"subscript 0", "H«0» -> H2", "a subscript does not begin with 0", "whole numbers from 1"},
	{"subscript 0 of a group", "Ca(OH)«0» -> Ca", "a subscript does not begin with 0", "whole numbers from 1"},
	{"subscript 00", "H2O«00» -> H2", "a subscript does not begin with 0", "whole numbers from 1"},
	{"negative subscript", "H«-2»O -> H2", "a number follows a minus sign", "subscripts are whole numbers from 1"},
	{"negative true subscript", "H«₋»₂O -> H2", "a sign stands among the subscripts", "a charge is a superscript"},
	{"subscript marked with an underscore", "H«_»2O -> H2", "an underscore has no meaning here", "write subscripts as plain digits"},
	{"subscript before a formula", "«₂»H -> H2", "a subscript without a formula", ""},
	{"half a water in a hydrate", "CaSO4.«0».5H2O -> CaSO4", "parts of a hydrate are counted in whole numbers", "multiply the formula"},
	{"half a water as a fraction", "CaSO4.«1»/2H2O -> CaSO4", "parts of a hydrate are counted in whole numbers", "multiply the formula"},
	{"no water in a hydrate", "CaSO4.«0»H2O -> CaSO4", "parts of a hydrate are counted in whole numbers", ""},
	{"dot without water", "CaSO4«·» -> CaSO4", "nothing follows the dot of a hydrate", "CuSO4.5H2O"},
	{"coefficient 0", "«0» Zn -> Zn^2+", "the coefficient is zero", "leave the term out"},
	{"coefficient 0.0", "«0.0» Zn -> Zn^2+", "the coefficient is zero", "leave the term out"},
	{"denominator 0", "«1/0» Zn -> Zn^2+", "a fraction with denominator 0", ""},
	{"negative coefficient", "«-»2 Zn -> Zn^2+", "a minus sign before a formula", "coefficients are positive"},
	{"coefficient alone", "Zn + «2» -> Zn^2+", "the number 2 has no formula after it", ""},
	{"coefficient before a plus", "«2» + Zn -> Zn^2+", "the number 2 has no formula after it", ""},
	{"number behind", "FeCl3 «2» -> Fe", "a number follows a finished formula", "put + between terms"},

	{"nothing after a plus", "Zn «+» -> Zn^2+", "nothing follows the plus sign", "add the missing term"},
	{"plus before all", "«+» Zn -> Zn^2+", "a plus sign with nothing before it", "put one + between two terms"},
	{"two plus signs", "Zn + «+» Cu -> Zn^2+", "a plus sign with nothing before it", "put one + between two terms"},
	{"plus signs together", "Zn +«+» Cu^2+ -> Zn^2+", "a plus sign with nothing before it", "put one + between two terms"},
	{"minus between terms", "Zn^2+ «-» Cu -> Zn", "a minus sign stands between terms", "terms are joined by +"},
	{"space inside a formula", "Fe «Cl3» -> Fe", `"Cl3" follows a finished formula`, "put + between terms"},
	{"ampersand", "Zn «&» Cu^2+ -> Zn^2+", `"&" has no meaning here`, "terms are joined by +"},
	{"comma", "H2O«,» NaCl -> H2", `"," has no meaning here`, "terms are joined by +"},
	{"second state", "NaCl(aq)«(s)» -> Na", `"(s)" follows a finished formula`, ""},

	{"Greek omicron", "C«ο»^2+ -> Co", "the letter \"ο\" (U+03BF, Greek) is not a letter of the Latin alphabet", "it looks like the letter o; type that one"},
	{"Cyrillic A", "Zn -> «А»g", "the letter \"А\" (U+0410, Cyrillic) is not a letter of the Latin alphabet", "it looks like the letter A; type that one"},
	{"Cyrillic es", "«С»O2 -> C", "the letter \"С\" (U+0421, Cyrillic) is not a letter of the Latin alphabet", "it looks like the letter C; type that one"},
	{"Greek capital nu", "«Ν»H3 -> N2", "the letter \"Ν\" (U+039D, Greek) is not a letter of the Latin alphabet", "it looks like the letter N; type that one"},
	{"Cyrillic o", "Z«о» -> Zn", "the letter \"о\" (U+043E, Cyrillic) is not a letter of the Latin alphabet", "it looks like the letter o; type that one"},
	{"accent", "Z«ñ» -> Zn", "the letter \"ñ\" (U+00F1, with an accent) is not a letter of the Latin alphabet", "it looks like the letter n; type that one"},
	{"ring", "«Å»g^+ -> Ag", "the letter \"Å\" (U+00C5, with an accent) is not a letter of the Latin alphabet", "it looks like the letter A; type that one"},
	{"letter without a likeness", "«ж» -> Zn", "the letter \"ж\" (U+0436, Cyrillic) is not a letter of the Latin alphabet", "chemical symbols use the letters A to Z"},
	{"not UTF-8", "Zn«\xff» -> Zn", "this is not text (a byte that is not UTF-8)", "save the file as UTF-8 text"},
	{"NUL", "Zn«\x00» -> Zn", "a control character (U+0000) stands here", "delete it"},
	{"private use", "«\ue000»Zn -> Zn", "an invisible or unknown character (U+E000) stands here", "delete it"},
	{"direction mark", "Zn«\u2067» -> Zn", "an invisible or unknown character (U+2067) stands here", "delete it"},
	{"triple bond", "HC«≡»CH -> C", `the character "≡" has no meaning in an equation`, ""},
}

var speciesRefusals = []refusal{
	{"nothing", "«»", "nothing was typed", "write a formula such as MnO4^-"},
	{"coefficient", "«2 »H2O", "a coefficient stands before the formula", "ask for the species alone"},
	{"fraction", "«½»O2", "a coefficient stands before the formula", "ask for the species alone"},
	{"two species", "Zn «+» Cu", `"+" has no meaning here`, ""},
	{"wrong case", "«co2»", `no element has the symbol "co"`, "did you mean CO2?"},
	{"unclosed bracket", "Ca«(»OH", "the bracket ( is not closed", ""},
	{"charge in the middle", "SO4^2-«Na»", `"Na" follows a finished formula`, ""},
}

func TestRefusals(t *testing.T) {
	for _, c := range equationRefusals {
		_, err := chem.ReadEquation(unmarked(c.text), reference.Species())
		refused(t, "ReadEquation", c, err)
	}
	for _, c := range speciesRefusals {
		_, err := chem.ReadSpecies(unmarked(c.text), reference.Species())
		refused(t, "ReadSpecies", c, err)
	}
}

func refused(t *testing.T, call string, c refusal, err error) {
	t.Helper()
	text := unmarked(c.text)
	var e *chem.SyntaxError
	if !errors.As(err, &e) {
		t.Errorf("%s: %s(%q) gives %T (%v), want a *SyntaxError", c.name, call, text, err, err)
		return
	}
	if e.Offset < 0 || e.Width < 0 || e.Offset+e.Width > len(text) {
		t.Errorf("%s: %s(%q) points at %d, width %d, outside the text", c.name, call, text, e.Offset, e.Width)
		return
	}
	end := e.Offset + e.Width
	if got := text[:e.Offset] + "«" + text[e.Offset:end] + "»" + text[end:]; got != c.text {
		t.Errorf("%s: %s points at %q, want %q", c.name, call, got, c.text)
	}
	if e.Msg != c.msg {
		t.Errorf("%s: %s(%q) says %q, want %q", c.name, call, text, e.Msg, c.msg)
	}
	if !strings.Contains(e.Hint, c.hint) {
		t.Errorf("%s: %s(%q) hints %q, want %q in it", c.name, call, text, e.Hint, c.hint)
	}
}

// TestLimits: what lies at a limit is read, what lies beyond is too large, at
// its place and with a message of its own.
func TestLimits(t *testing.T) {
	terms := func(n int) string { return strings.TrimSuffix(strings.Repeat("Zn + ", n), " + ") }
	deep := func(n int) string { return strings.Repeat("(", n) + "OH" + strings.Repeat(")", n) + "^- -> O2" }
	pad := func(n int, tail string) string { return strings.Repeat(" ", n-len(tail)) + tail }
	for _, c := range []struct {
		name, within, beyond string
		at, msg              string // what the error points at begins with at
	}{
		{"line", pad(chem.MaxLine, "Zn -> Zn"), pad(chem.MaxLine+1, "Zn -> Zn"), "n", "a line may have 4096 characters"},
		{"terms on a side", terms(63) + " -> Zn", terms(65) + " -> Zn", "Zn -> Zn", "an equation may have 64 terms"},
		{"terms on both sides", terms(32) + " -> " + terms(32), terms(32) + " -> " + terms(33), "Zn + Zn", "an equation may have 64 terms"},
		{"terms with bare charges", strings.Repeat("Cu2++", 62) + "Zn -> Zn", strings.Repeat("Cu2++", 66) + "Zn -> Zn", "Cu2++", "an equation may have 64 terms"},
		{"subscript", "H1000000 -> H2", "H1000001 -> H2", "1000001", "numbers up to 1000000 are read"},
		{"long subscript", "H1 -> H2", "H" + strings.Repeat("9", 400) + " -> H2", "9999", "numbers up to 1000000 are read"},
		{"true subscript", "H₁₀₀₀₀₀₀ -> H2", "H₁₀₀₀₀₀₁ -> H2", "₁", "numbers up to 1000000 are read"},
		{"coefficient", "1000000 H2 -> H2", "1000001 H2 -> H2", "1000001", "numbers up to 1000000 are read"},
		{"numerator", "1000000/3 H2 -> H2", "1000001/3 H2 -> H2", "1000001", "numbers up to 1000000 are read"},
		{"denominator", "1/1000000 H2 -> H2", "1/1000001 H2 -> H2", "1000001", "numbers up to 1000000 are read"},
		{"decimal", "0.999999 H2 -> H2", "1.000001 H2 -> H2", "1.000001", "also above a fraction line; this one is 1000001/1000000"},
		{"mixed number", "499999½ H2 -> H2", "1000000½ H2 -> H2", "1000000½", "also above a fraction line; this one is 2000001/2"},
		{"waters", "CuSO4.1000000H2O -> Cu", "CuSO4.1000001H2O -> Cu", "1000001", "numbers up to 1000000 are read"},
		{"charge", "U^99+ -> U", "U^100+ -> U", "^100", "charges up to 99 are read"},
		{"charge after a true subscript", "C₆₀99+ -> C", "C₆₀100+ -> C", "100+", "charges up to 99 are read"},
		{"depth", deep(chem.MaxDepth), deep(chem.MaxDepth + 1), "(OH", "brackets may be nested 32 deep"},
		{"atoms", "((H1000)1000)1000 -> H2", "((H1000)1000)1001 -> H2", "((H", "the formula holds too many atoms"},
		{"atoms in sum", "(H500000)1000(H500000)1000 -> H2", "(H500000)1000(H500000)1001 -> H2", "(H", "the formula holds too many atoms"},
	} {
		if _, err := chem.ReadEquation(c.within, nil); err != nil {
			t.Errorf("%s: ReadEquation(%.40q...) at the limit: %v", c.name, c.within, err)
		}
		_, err := chem.ReadEquation(c.beyond, nil)
		var e *chem.TooLargeError
		if !errors.As(err, &e) {
			t.Errorf("%s: ReadEquation(%.40q...) beyond the limit gives %T (%v), want a *TooLargeError", c.name, c.beyond, err, err)
			continue
		}
		if !strings.Contains(e.Msg, c.msg) {
			t.Errorf("%s: ReadEquation(%.40q...) says %q, want %q", c.name, c.beyond, e.Msg, c.msg)
		}
		if bad := readError(c.beyond, err); bad != "" {
			t.Errorf("%s: ReadEquation(%.40q...): %s", c.name, c.beyond, bad)
		} else if !strings.HasPrefix(c.beyond[e.Offset:], c.at) {
			t.Errorf("%s: ReadEquation(%.40q...) points at %.20q, want %q", c.name, c.beyond, c.beyond[e.Offset:], c.at)
		}
	}
}

// TestColumn: columns count characters, from 1.
func TestColumn(t *testing.T) {
	for _, c := range []struct {
		text string
		want int
	}{
		{"Xx -> Zn", 1},
		{"Zn -> Xx", 7},
		{"Zn ⟶ Xx", 6},        // the arrow is one character of three bytes
		{"H₂O ⟶ H₂ + Xx", 12}, // and the digits are one each
		{"Zn", 3},             // no arrow: behind the last character
		{"H₂", 3},
		{"", 1},
	} {
		_, err := chem.ReadEquation(c.text, nil)
		var e *chem.SyntaxError
		if !errors.As(err, &e) {
			t.Errorf("ReadEquation(%q) gives %v, want a *SyntaxError", c.text, err)
		} else if e.Column() != c.want {
			t.Errorf("ReadEquation(%q) fails in column %d, want %d", c.text, e.Column(), c.want)
		}
	}
}
