package speech

import (
	"reflect"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"halves/chem"
	"halves/reference"
)

// roundTrip says a species and hears it.
func roundTrip(t interface {
	Errorf(format string, args ...any)
}, s *chem.Species) {
	words := Words(Spell(s))
	if !plainText.MatchString(words) {
		t.Errorf("Words(%s) = %q: not plain words", s, words)
	}
	tokens, err := ParseTokens(words)
	if err != nil {
		t.Errorf("ParseTokens(%q): %v", words, err)
		return
	}
	if want := Spell(s); !reflect.DeepEqual(tokens, want) {
		t.Errorf("ParseTokens(%q) = %v, want %v", words, tokens, want)
	}
	back, err := Unspell(tokens)
	if err != nil {
		t.Errorf("Unspell(%q): %v", words, err)
		return
	}
	if back.String() != s.String() || back.Phase() != s.Phase() || !reflect.DeepEqual(back.Formula(), s.Formula()) {
		t.Errorf("%s%s was heard as %s%s: %q", s, s.Phase(), back, back.Phase(), words)
	}
}

// TestRoundTripTable hears every species and spelling of the table.
func TestRoundTripTable(t *testing.T) {
	for _, e := range reference.Species().All() {
		for _, s := range append([]*chem.Species{e.Species}, e.Spellings...) {
			roundTrip(t, s)
			roundTrip(t, s.WithPhase(chem.Aqueous))
		}
	}
}

// formulas draws any formula, also such as nobody would write.
func formulas() *rapid.Generator[*chem.Species] {
	return rapid.Custom(func(t *rapid.T) *chem.Species {
		phase := chem.Phase(rapid.IntRange(0, 4).Draw(t, "phase"))
		if rapid.IntRange(0, 49).Draw(t, "electron") == 0 {
			return chem.Electron.WithPhase(phase)
		}
		count := rapid.OneOf(rapid.Int64Range(1, 4), rapid.Int64Range(1, 300), rapid.SampledFrom([]int64{1000, 1004, 99999}))
		var units func(depth int) []chem.Unit
		units = func(depth int) []chem.Unit {
			all := make([]chem.Unit, rapid.IntRange(1, 4).Draw(t, "units"))
			for i := range all {
				if depth < 3 && rapid.IntRange(0, 4).Draw(t, "group") == 0 {
					all[i] = chem.Unit{Group: units(depth + 1), Bracket: rapid.SampledFrom([]byte("([{")).Draw(t, "bracket"), Count: rapid.Int64Range(1, 12).Draw(t, "times")}
					continue
				}
				all[i] = chem.Unit{Element: chem.Element(rapid.IntRange(1, int(chem.MaxElement)).Draw(t, "element")), Count: count.Draw(t, "count")}
			}
			return all
		}
		parts := make([]chem.Part, rapid.IntRange(1, 3).Draw(t, "parts"))
		for i := range parts {
			parts[i] = chem.Part{Count: rapid.Int64Range(1, 12).Draw(t, "count of part"), Units: units(0)}
		}
		s, ok := chem.NewSpecies(chem.Formula{Parts: parts}, rapid.Int64Range(-chem.MaxCharge, chem.MaxCharge).Draw(t, "charge"), phase)
		if !ok {
			return chem.Water
		}
		return s
	})
}

func TestRoundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) { roundTrip(t, formulas().Draw(t, "formula")) })
}

// TestWordsDiffer: two formulas that differ are said in different words; it
// is what the round trip means, shown on those that sound most alike.
func TestWordsDiffer(t *testing.T) {
	for _, pair := range [][2]string{{"Co", "CO"}, {"Cs", "CS"}, {"No", "NO"}, {"SN", "Sn"}, {"HF", "Hf"}, {"PO4^3-", "Po4^3-"}, {"NaS", "NAs"}, {"C2H4", "C2(H4)"}} {
		a := species(t, pair[0])
		if b := species(t, pair[1]); Words(Spell(a)) == Words(Spell(b)) {
			t.Errorf("%s and %s are both said as %q", a, b, Words(Spell(a)))
		}
	}
}

// TestSymbolWords: every element has a word of its own, and none is a word of
// another token.
func TestSymbolWords(t *testing.T) {
	if n := len(symbolsByWord()); n != int(chem.MaxElement) {
		t.Errorf("%d elements have %d words", chem.MaxElement, n)
	}
	for w, e := range symbolsByWord() {
		if tokens, err := ParseTokens(w); err != nil || len(tokens) != 1 || tokens[0].Element != e {
			t.Errorf("ParseTokens(%q) = %v, %v, want the element %s", w, tokens, err, e)
		}
	}
}

// The spelling is our own.
func TestWords(t *testing.T) {
	for _, tt := range []struct{ formula, want string }{
		{"MnO4^-", "M-n O four, charge minus"},
		{"Co", "cobalt"},
		{"CO", "C O"},
		{"K3[Fe(CN)6]", "K three open square bracket F-e open bracket C N close bracket times six close square bracket"},
		{"CuSO4.5H2O", "copper S O four dot five H two O"},
		{"Fe^3+(aq)", "F-e, charge three plus, aqueous"},
		{"e^-", "electron"},
		{"H2O(l)", "H two O, liquid"},
	} {
		if got := Words(Spell(species(t, tt.formula))); got != tt.want {
			t.Errorf("Words(%s) = %q, want %q", tt.formula, got, tt.want)
		}
	}
}

// TestUnspellRefusals: what is no formula is refused, with the word.
func TestUnspellRefusals(t *testing.T) {
	for _, tt := range []struct{ spoken, want string }{
		{"four", "at the end: an element is missing"},
		{"H two three", `word 3, "three": it cannot stand here`},
		{"H times two", `word 2, "times two": it cannot stand here`},
		{"open bracket H close square bracket", `word 3, "close square bracket": "close bracket" is missing`},
		{"open bracket H", `at the end: "close bracket" is missing`},
		{"open bracket close bracket", `word 2, "close bracket": an element is missing`},
		{"H dot", "at the end: an element is missing"},
		{"H, charge minus, charge plus", `word 3, "charge plus": it cannot stand here`},
		{"electron, charge minus", `word 2, "charge minus": it cannot stand here`},
		{"H, solid, liquid", `word 3, "liquid": it cannot stand here`},
		{strings.Repeat("open bracket ", 40) + "H", `word 33, "open bracket": brackets are read 32 deep`},
		{"H one million O, charge minus H", `word 5, "H": it cannot stand here`},
	} {
		tokens, err := ParseTokens(tt.spoken)
		if err != nil {
			t.Errorf("ParseTokens(%q): %v", tt.spoken, err)
			continue
		}
		if s, err := Unspell(tokens); err == nil || err.Error() != tt.want {
			t.Errorf("Unspell(%q) = %v, %v, want the error %s", tt.spoken, s, err, tt.want)
		}
	}
	for _, tokens := range [][]Token{nil, {{}}, {{Kind: Symbol}}, {{Kind: Symbol, Element: 200}}, {{Kind: Open, Bracket: '<'}}, {{Kind: Symbol, Element: 1}, {Kind: Charge}}, {{Kind: Symbol, Element: 1}, {Kind: Phase, Phase: 9}}, {{Kind: Symbol, Element: 1}, {Kind: Count, Number: -1}}, {{Kind: Symbol, Element: 1}, {Kind: Charge, Number: 100}}} {
		if s, err := Unspell(tokens); err == nil {
			t.Errorf("Unspell(%v) = %s, want an error", tokens, s)
		}
	}
}

func TestParseTokensRefusals(t *testing.T) {
	for _, tt := range []struct{ spoken, want string }{
		{"", "nothing was said"},
		{" , ", "nothing was said"},
		{"H two Oh", `word 3, "Oh": no part of a spelled formula`},
		{"h two O", `word 1, "h": no part of a spelled formula`},
		{"H charge", `word 2, "charge": no part of a spelled formula`},
		{"H charge two", `word 2, "charge": no part of a spelled formula`},
		{"open sesame", `word 1, "open": no part of a spelled formula`},
		{"H times", `word 2, "times": no part of a spelled formula`},
		{"H two million", `word 2, "two": no part of a spelled formula`},
	} {
		if tokens, err := ParseTokens(tt.spoken); err == nil || err.Error() != tt.want {
			t.Errorf("ParseTokens(%q) = %v, %v, want the error %s", tt.spoken, tokens, err, tt.want)
		}
	}
}

// FuzzParseTokens: what is read is said again in words that give the same
// tokens, and what is a formula comes back as that formula.
func FuzzParseTokens(f *testing.F) {
	for _, s := range []string{"M-n O four, charge minus", "K three open square bracket F-e open bracket C N close bracket times six close square bracket", "copper S O four dot five H two O, solid", "electron", "cobalt, charge two plus, aqueous", "H one hundred two thousand four", "H one", "open curly bracket H close curly bracket times twenty-one"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, spoken string) {
		tokens, err := ParseTokens(spoken)
		if err != nil {
			return
		}
		again, err := ParseTokens(Words(tokens))
		if err != nil || !reflect.DeepEqual(tokens, again) {
			t.Errorf("ParseTokens(%q) = %v, said again %v, %v", spoken, tokens, again, err)
		}
		if s, err := Unspell(tokens); err == nil {
			roundTrip(t, s)
		}
	})
}
