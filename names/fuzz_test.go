package names

import (
	"strings"
	"testing"

	"halves/chem"
)

func FuzzTranslate(f *testing.F) {
	for _, text := range []string{
		"permanganate ion + oxalic acid -> manganese(II) ion + carbon dioxide",
		"permanganate becomes manganese(II) while oxalic acid becomes carbon dioxide, in acid",
		"dichromate oxidizes sulfite to sulfate and is itself reduced to chromium(III)",
		"iron(II) is oxidized to iron(III) by MnO4^-, which becomes Mn^2+",
		"copper reacts with nitric acid to give copper(II) nitrate, nitrogen monoxide and water",
		"permanganate->manganese(II); Fe^3+ ions + iron sulfate",
		"MnO4^- + H2C2O4 -> Mn^2+ + co2",
		"½ oxygen ⇌ ozone (g)",
		"becomes becomes and while , which by to",
		"zinc displaces copper from copper(II) sulfate; Balance: Fe2+ to Fe3+",
		"Balance the equation: sulfite is oxidized by nitrate to sulfate; nitrate becomes NO",
	} {
		f.Add(text)
	}
	f.Fuzz(func(t *testing.T, text string) {
		tr, err := Translate(text)
		checkTranslation(t, text, tr, err)
		if !strings.ContainsFunc(text, func(r rune) bool { return r >= 'a' && r <= 'z' }) && !wordy(text) && (err != nil || tr.Text != text) {
			t.Errorf("Translate(%q) = %q, %v without small letters", text, tr.Text, err)
		}
		// What came out in formulas holds no names any more.
		if err == nil && !strings.ContainsFunc(tr.Text, foreign) {
			if again, err := Translate(tr.Text); err == nil && len(again.Replacements) > len(tr.Replacements) {
				t.Errorf("Translate(%q) = %q, which becomes %q", text, tr.Text, again.Text)
			}
		}
	})
}

func FuzzFind(f *testing.F) {
	for _, name := range []string{
		"permanganate ion", "manganate(VII)", "iron(III) sulfate", "iron sulfate", "dinitrogen tetroxide", "hexacyanidoferrate(III)",
		"copper(II) sulfate pentahydrate", "hydrogen(tetraoxidosulfate)(1-)", "tris(dihydrogendiphosphato)manganate(3-)",
		"calcium bis(dihydrogenphosphate)", "permangante ion", "tetratetratetraaquaaquaaquacopper(II)", "(((", "chlorate(VI)", "manganate(1-)", "copper(II) sulfate 5-hydrate", "lead sulfate", "sodium biphosphate", "water gas", "hydrogenhydrogenhydrogensulfate",
	} {
		f.Add(name)
	}
	f.Fuzz(func(t *testing.T, name string) {
		s, err := Find(name)
		if (s == nil) == (err == nil) {
			t.Fatalf("Find(%q) = %v, %v", name, s, err)
		}
		if u, ok := err.(*UnknownError); ok && len(u.Near) > 3 {
			t.Errorf("Find(%q): %d names near it", name, len(u.Near))
		}
		if s == nil {
			return
		}
		r, err := chem.ReadSpecies(s.String(), nil)
		if err != nil || !r[0].Species.Same(s) {
			t.Errorf("Find(%q) = %s, which is not read as such: %v", name, s, err)
		}
		for style := Common; style <= Systematic; style++ {
			back, ok := Of(s, Choice{Style: style})
			if !ok {
				continue
			}
			if got, err := Find(back); err != nil || got.Charge() != s.Charge() || !got.Composition().Equal(s.Composition()) {
				t.Errorf("Find(%q) = %s; Find(Of(%s, %s)) = Find(%s) = %v, %v", name, s, s, style, back, got, err)
			}
		}
	})
}
