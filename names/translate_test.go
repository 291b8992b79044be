package names

import (
	"errors"
	"strings"
	"testing"

	"halves/checks"
	"halves/chem"
	"halves/reference"

	"pgregory.net/rapid"
)

// Names and sentences: common practice, no source.
func TestTranslate(t *testing.T) {
	for _, c := range []struct{ text, want string }{
		// names in an equation
		{"permanganate ion + oxalic acid -> manganese(II) ion + carbon dioxide", "MnO4^- + H2C2O4 -> Mn^2+ + CO2"},
		{"Permanganate Ion + Oxalic Acid -> Manganese(II) Ion + Carbon Dioxide", "MnO4^- + H2C2O4 -> Mn^2+ + CO2"},
		{"MnO4^- + oxalic acid -> Mn^2+ + carbon dioxide", "MnO4^- + H2C2O4 -> Mn^2+ + CO2"},
		{"2 permanganate ions + 5 oxalic acid --> 2 Mn^2+ + 10 carbon dioxide (g)", "2 MnO4^- + 5 H2C2O4 --> 2 Mn^2+ + 10 CO2 (g)"},
		{"2permanganate + 1/2 oxygen = water(l)", "2MnO4^- + 1/2 O2 = H2O(l)"},
		{"permanganate+oxalic acid->manganese(II)+carbon dioxide", "MnO4^- + H2C2O4 -> Mn^2+ + CO2"},
		{"H2O2+oxalic acid -> H2O+CO2", "H2O2+H2C2O4 -> H2O+CO2"},
		{"chloride=chlorine", "Cl^- = Cl2"},
		{"iron(3+) + tin(2+) <=> iron(2+) + tin(4+)", "Fe^3+ + Sn^2+ <=> Fe^2+ + Sn^4+"},
		{"sulphite ⇌ sulphate", "SO3^2- ⇌ SO4^2-"},
		{"dichromate ⟶ chromium(III)", "Cr2O7^2- ⟶ Cr^3+"},
		{"dichromate → chromium(III) ; iron(II) => iron(III)", "Cr2O7^2- → Cr^3+ ; Fe^2+ => Fe^3+"},
		{"dichromate -> chromium(III) and iron(II) -> iron(III)", "Cr2O7^2- -> Cr^3+ and Fe^2+ -> Fe^3+"},
		{"dichromate -> chromium(III) while iron(II) -> iron(III)", "Cr2O7^2- -> Cr^3+ ; Fe^2+ -> Fe^3+"},
		{"copper + nitric acid -> copper(II) nitrate, nitrogen monoxide and water", "Cu + HNO3 -> Cu(NO3)2 + NO + H2O"},
		{"copper + nitric acid -> copper(II) nitrate, nitrogen monoxide, and water", "Cu + HNO3 -> Cu(NO3)2 + NO + H2O"},
		{"Fe^3+ ions + Sn^2+ ions -> Fe^2+ ions + tin(IV) ions", "Fe^3+ + Sn^2+ -> Fe^2+ + Sn^4+"},
		{"Ag+ ions + copper metal -> Ag + Cu2+ ions", "Ag+ + Cu -> Ag + Cu2+"},
		{"solid I2 + thiosulfate -> iodide + tetrathionate", "I2 + S2O3^2- -> I^- + S4O6^2-"},
		{"iron(III) + electron -> iron(II)", "Fe^3+ + e^- -> Fe^2+"},
		{"2-hydroxypropanoic acid + 3 oxygen -> carbon dioxide + water", "C3H6O3 + 3 O2 -> CO2 + H2O"},
		{"3 2-hydroxypropanoic acid -> 2 (E)-but-2-enedioic acid", "3 C3H6O3 -> 2 C4H4O4"},
		{"WATER + SODIUM = SODIUM HYDROXIDE + HYDROGEN", "H2O + Na = NaOH + H2"},
		{"tin + HIO -> Tin + Co + CO + I2", "Sn + HIO -> Sn + Co + CO + I2"},
		{"permanganate + chloride -> manganese(II) + chlorine, in acid", "MnO4^- + Cl^- -> Mn^2+ + Cl2, in acid"},
		{"permanganate + chloride -> manganese(II) + chlorine in acidic solution", "MnO4^- + Cl^- -> Mn^2+ + Cl2 in acidic solution"},
		{"permanganate ion", "MnO4^-"},
		{"iron(III) + zinc -> Fe(III)", "Fe^3+ + Zn -> Fe(III)"}, // package chem speaks of Fe(III)
		{"iron(III) + zinc -> naoh + co2 + tio2", "Fe^3+ + Zn -> naoh + co2 + tio2"},
		// word equations
		{"copper reacts with nitric acid to give copper(II) nitrate, nitrogen monoxide and water", "Cu + HNO3 -> Cu(NO3)2 + NO + H2O"},
		{"zinc and sulfuric acid form zinc sulfate and hydrogen", "Zn + H2SO4 -> ZnSO4 + H2"},
		{"Zinc metal reacts with dilute hydrochloric acid, producing zinc chloride and hydrogen gas.", "Zn + HCl -> ZnCl2 + H2"},
		{"copper burns in oxygen to form copper(II) oxide", "Cu + O2 -> CuO"},
		{"H2O2 and iodide yield iodine and water", "H2O2 + I^- -> I2 + H2O"},
		{"Fe + Cu^2+ gives Fe^2+ + Cu", "Fe + Cu^2+ -> Fe^2+ + Cu"},
		{"magnesium combines with oxygen to produce magnesium oxide", "Mg + O2 -> MgO"},
		// pairs in words
		{"permanganate becomes manganese(II) while oxalic acid becomes carbon dioxide", "MnO4^- -> Mn^2+ ; H2C2O4 -> CO2"},
		{"permanganate becomes manganese(II) while oxalic acid becomes carbon dioxide, in acid", "MnO4^- -> Mn^2+ ; H2C2O4 -> CO2, in acid"},
		{"permanganate becomes manganese(II); oxalic acid becomes carbon dioxide", "MnO4^- -> Mn^2+; H2C2O4 -> CO2"},
		{"MnO4^- becomes Mn^2+ while oxalic acid goes to CO2", "MnO4^- -> Mn^2+ ; H2C2O4 -> CO2"},
		{"permanganate is reduced to manganese(II) and iron(II) is oxidised to iron(III)", "MnO4^- -> Mn^2+ ; Fe^2+ -> Fe^3+"},
		{"iron(II) is oxidized to iron(III) by dichromate, which is reduced to chromium(III)", "Fe^2+ -> Fe^3+ ; Cr2O7^2- -> Cr^3+"},
		{"Fe^2+ is oxidized to Fe^3+ by MnO4^-, which becomes Mn^2+", "Fe^2+ -> Fe^3+ ; MnO4^- -> Mn^2+"},
		{"iron(II) is oxidized by dichromate to iron(III), and dichromate turns into chromium(III)", "Fe^2+ -> Fe^3+ ; Cr2O7^2- -> Cr^3+"},
		{"dichromate oxidizes sulfite to sulfate and is itself reduced to chromium(III)", "SO3^2- -> SO4^2- ; Cr2O7^2- -> Cr^3+"},
		{"bromide is oxidized to bromine by chlorine, and chlorine is reduced to chloride", "Br^- -> Br2 ; Cl2 -> Cl^-"},
		{"Zinc reduces copper(II) to copper and is oxidised to zinc ion", "Cu^2+ -> Cu ; Zn -> Zn^2+"},
		{"chlorine oxidises bromide to bromine, becoming chloride", "Br^- -> Br2 ; Cl2 -> Cl^-"},
		{"nitrate changes to nitrogen dioxide whereas copper is converted to copper(II)", "NO3^- -> NO2 ; Cu -> Cu^2+"},
		{"As becomes AsO4^3- as nitrate becomes NO", "As -> AsO4^3- ; NO3^- -> NO"},
		{"The permanganate ion is reduced to the manganese(II) ion while Iron(II) ions are oxidized to iron(III) ions.", "MnO4^- -> Mn^2+ ; Fe^2+ -> Fe^3+"},
		{"dichromate is reduced by ethanol to chromium(III), while ethanol is oxidized to ethanoic acid", "Cr2O7^2- -> Cr^3+ ; C2H5OH -> CH3COOH"},
		{"hydrogen peroxide decomposes into water and oxygen", "H2O2 -> H2O + O2"},
		{"chlorine disproportionates to chloride and chlorate, in base", "Cl2 -> Cl^- + ClO3^-, in base"},
		{"chlorine becomes chloride and chlorate", "Cl2 -> Cl^- + ClO3^-"},
		{"chlorate(V) to chloride and chlorate(VII)", "ClO3^- -> Cl^- + ClO4^-"},
		{"MnO4^- to Mn^2+ and iron(II) to iron(III)", "MnO4^- -> Mn^2+ ; Fe^2+ -> Fe^3+"},
		{"methane burns in oxygen to carbon dioxide and water", "CH4 + O2 -> CO2 + H2O"},
		// what the other becomes stands in another statement
		{"arsenic(III) sulfide is oxidized by nitrate to arsenic acid and sulfate; nitrate becomes nitrogen monoxide", "As2S3 -> H3AsO4 + SO4^2-; NO3^- -> NO"},
		{"sulfite is oxidized to sulfate by dichromate; Cr2O7^2- -> chromium(III)", "SO3^2- -> SO4^2-; Cr2O7^2- -> Cr^3+"},
		{"permanganate becomes manganese(II); MnO4^- ions oxidize Fe^2+ to Fe^3+", "MnO4^- -> Mn^2+; Fe^2+ -> Fe^3+"},
		// a metal displaces a metal
		{"zinc displaces copper from copper(II) sulfate", "Zn + CuSO4 -> ZnSO4 + Cu"},
		{"Magnesium displaces silver from silver nitrate solution.", "Mg + AgNO3 -> Mg(NO3)2 + Ag"},
		{"zinc displaces copper from Cu^2+ ions", "Zn + Cu^2+ -> Zn^2+ + Cu"},
		{"aluminium displaces lead from lead(II) nitrate", "Al + Pb(NO3)2 -> Al(NO3)3 + Pb"},
		// lead-ins
		{"Balance: MnO4^- + Fe^2+ -> Mn^2+ + Fe^3+, in acid", "MnO4^- + Fe^2+ -> Mn^2+ + Fe^3+, in acid"},
		{"balance the equation: permanganate becomes manganese(II) while oxalic acid becomes carbon dioxide", "MnO4^- -> Mn^2+ ; H2C2O4 -> CO2"},
		{"Balance the following half-reaction: dichromate -> chromium(III)", "Cr2O7^2- -> Cr^3+"},
		{"Please balance Zn + Ag+ -> Zn2+ + Ag", "Zn + Ag+ -> Zn2+ + Ag"},
	} {
		got, err := Translate(c.text)
		if err != nil || got.Text != c.want {
			t.Errorf("Translate(%s) = %q, %v, want %q", c.text, got.Text, err, c.want)
			continue
		}
		if got.Typed != c.text || got.Replacements == nil {
			t.Errorf("Translate(%s): Typed %q, Replacements %v", c.text, got.Typed, got.Replacements)
		}
	}
}

// The text between « and » is what the error must point at; both marks are
// taken out before reading.
func TestTranslateErrors(t *testing.T) {
	for _, c := range []struct{ text, msg, hint string }{
		{"«permangante ion» + Fe^2+ -> Mn^2+ + Fe^3+", `no species is called "permangante ion"`, "did you mean permanganate ion?"},
		{"MnO4^- + 5 «oxallic acid» -> Mn^2+ + CO2", `no species is called "oxallic acid"`, "did you mean oxalic acid?"},
		{"MnO4^- + «phlogiston» (g) -> Mn^2+", `no species is called "phlogiston"`, "write its formula"},
		{"zinc + «iron sulfate» -> zinc sulfate + iron", `"iron sulfate" does not say which ion of the metal is meant`, "give the number: iron(II) or iron(III)"},
		{"permanganate + «iron ion» -> manganese(II)", `"iron ion" does not say which`, "iron(II) or iron(III)"},
		{"sulfite is oxidized to sulfate by «dichromate»", `does not say what "dichromate" becomes`, "becomes"},
		{"sulfite is oxidized to sulfate by «dichromate»; permanganate becomes manganese(II)", `does not say what "dichromate" becomes`, "becomes"},
		{"iron «displaces» copper from copper(II) sulfate", "what iron forms here is not certain", "iron + copper(II) sulfate -> ... + copper"},
		{"chlorine «displaces» bromine from potassium bromide", "only of a metal by a metal", "chlorine + potassium bromide -> ... + bromine"},
		{"zinc «displaces» copper", "does not say from what", "zinc displaces copper from"},
		{"zinc displaces copper and «silver» from copper(II) sulfate", "one metal", "zinc displaces copper from"},
		{"zinc «displaces» copper from silver nitrate", "not certain", "zinc + silver nitrate"},
		{"Balance: «chlorate(VI)» -> chloride", `no species is called "chlorate(VI)"`, "chlorate(V) and chlorate(VII)"},
		{"«balance» -> chloride", `no species is called "balance"`, "write"},
		{"permanganate «becomes»", `nothing follows "becomes"`, "write"},
		{"«becomes» manganese(II)", `nothing stands before "becomes"`, "write"},
		{"«permanganate by chlorine oxidizes iron gives water»", "not understood", "write"},
	} {
		before, rest, _ := strings.Cut(c.text, "«")
		mark, after, _ := strings.Cut(rest, "»")
		text := before + mark + after
		got, err := Translate(text)
		var e *chem.SyntaxError
		if !errors.As(err, &e) {
			t.Errorf("Translate(%s) = %q, %v, want an error", text, got.Text, err)
			continue
		}
		if e.Text != text || e.Offset != len(before) || e.Width != len(mark) || !strings.Contains(e.Msg, c.msg) || !strings.Contains(e.Hint, c.hint) {
			t.Errorf("Translate(%s): %q at %d, %d, hint %q, want %q at %d, %d, hint %q", text, e.Msg, e.Offset, e.Width, e.Hint, c.msg, len(before), len(mark), c.hint)
		}
	}
}

// A text in formulas stays as it is, mistakes included.
func TestTranslateFormulas(t *testing.T) {
	texts := []string{
		"", " ", "Co", "CO", "In", "I2", "HIO", "Fe(III)", "FE(III) -> FE", "co2", "MnO4^- + H2C2O4 -> Mn^2+ + co2, in acid",
		"MnO4^- + 8 H^+ + 5 e^- -> Mn^2+ + 4 H2O and Fe^2+ -> Fe^3+ + e^-", "naoh", "HCOOH + CH3COOH -> CO2", "Mno4- + agcl -> hcl",
		"H<sub>2</sub>O -> H<sup>+</sup>", "HC≡CH + O2 -> CO2 + H2O", "Zn(s) | Zn^2+ || Cu^2+ | Cu(s)", "../../../../etc/passwd",
		"{{define \"x\"}}{{end}} -> Cu",
	}
	for _, e := range checks.Equations() {
		texts = append(texts, e.Skeleton, e.Answer, e.Skeleton+", in acidic solution")
	}
	for _, n := range checks.Notation() {
		texts = append(texts, n.Input)
	}
	for _, m := range checks.Malformed() {
		if m.Expect == "ok-as" {
			texts = append(texts, m.Input)
		}
	}
	for _, e := range reference.Species().All() {
		texts = append(texts, e.Species.String(), e.Species.String()+"(aq)")
	}
	for _, text := range texts {
		got, err := Translate(text)
		if err != nil || got.Text != text || got.Typed != text || got.Replacements != nil {
			t.Errorf("Translate(%s) = %q, %v, %v, want no change", text, got.Text, got.Replacements, err)
		}
	}
}

// A line that is no question is refused here, or left to be refused as before.
func TestTranslateMalformed(t *testing.T) {
	for _, m := range checks.Malformed() {
		if m.Expect != "error" {
			continue
		}
		if got, err := Translate(m.Input); err == nil && got.Text != m.Input {
			t.Errorf("Translate(%s) = %q, want no change", m.Input, got.Text)
		}
	}
}

func TestBack(t *testing.T) {
	text := "  2 permanganate ion + Fe^2+->iron(III) ion, in acid"
	tr, err := Translate(text)
	if err != nil || tr.Text != "  2 MnO4^- + Fe^2+-> Fe^3+, in acid" && tr.Text != "  2 MnO4^- + Fe^2+->Fe^3+, in acid" {
		t.Fatalf("Translate(%s) = %q, %v", text, tr.Text, err)
	}
	for _, c := range []struct{ part, want string }{
		{"MnO4^-", "permanganate ion"},
		{"Mn", "permanganate ion"}, // a part of a formula is the whole name
		{"2 ", "2 "},
		{"Fe^2+", "Fe^2+"},
		{"^2", "^2"},
		{"Fe^3+", "iron(III) ion"},
		{"MnO4^- + Fe^2+", "permanganate ion + Fe^2+"},
		{"in acid", "in acid"},
		{tr.Text, text},
	} {
		offset, width := tr.Back(strings.Index(tr.Text, c.part), len(c.part))
		if got := text[offset : offset+width]; got != c.want {
			t.Errorf("Back(%s) = %q, want %q", c.part, got, c.want)
		}
	}
	if offset, width := tr.Back(len(tr.Text), 0); offset != len(text) || width != 0 {
		t.Errorf("Back(end) = %d, %d, want %d, 0", offset, width, len(text))
	}
	same, _ := Translate("Zn + Cu^2+ -> Zn^2+ + Cu")
	if offset, width := same.Back(5, 4); offset != 5 || width != 4 {
		t.Errorf("Back(5, 4) = %d, %d without names", offset, width)
	}
}

// checkTranslation holds a translation to what its fields promise.
func checkTranslation(t interface {
	Errorf(string, ...any)
	Helper()
}, text string, tr Translation, err error) {
	t.Helper()
	if err != nil {
		var e *chem.SyntaxError
		if !errors.As(err, &e) {
			t.Errorf("Translate(%q): %T", text, err)
		} else if e.Text != text || e.Offset < 0 || e.Width < 0 || e.Offset+e.Width > len(text) || e.Msg == "" {
			t.Errorf("Translate(%q): error at %d, %d of %d bytes: %s", text, e.Offset, e.Width, len(text), e.Msg)
		}
		return
	}
	if tr.Typed != text || tr.Replacements == nil && tr.Text != text {
		t.Errorf("Translate(%q) = %q without a replacement", text, tr.Text)
	}
	at := 0
	for _, r := range tr.Replacements {
		if r.Start < at || r.End < r.Start || r.End > len(tr.Text) || r.Offset < 0 || r.Offset+r.Width > len(text) || r.Name != text[r.Offset:r.Offset+r.Width] {
			t.Errorf("Translate(%q): replacement %+v", text, r)
			return
		}
		if r.Species != nil && tr.Text[r.Start:r.End] != r.Species.String() {
			t.Errorf("Translate(%q): %q stands for %s", text, tr.Text[r.Start:r.End], r.Species)
		}
		if r.Species != nil {
			if o, w := tr.Back(r.Start, r.End-r.Start); o != r.Offset || w != r.Width {
				t.Errorf("Translate(%q): Back of %q is %d, %d, want %d, %d", text, r.Name, o, w, r.Offset, r.Width)
			}
		}
		at = r.End
	}
	for i := -1; i <= len(tr.Text)+1; i++ {
		for _, n := range []int{-1, 0, 1, 5, len(tr.Text)} {
			if o, w := tr.Back(i, n); o < 0 || w < 0 || o+w > len(text) {
				t.Errorf("Translate(%q): Back(%d, %d) = %d, %d of %d bytes", text, i, n, o, w, len(text))
				return
			}
		}
	}
}

// An equation of any species of the table, each by formula or by any of its
// names, is translated into the same equation in formulas.
func TestTranslateAnyNames(t *testing.T) {
	all := reference.Species().All()
	rapid.Check(t, func(t *rapid.T) {
		var typed, want strings.Builder
		n := rapid.IntRange(2, 5).Draw(t, "terms")
		for i := range n {
			if i > 0 {
				sign := " + "
				if i == n-1 {
					sign = rapid.SampledFrom([]string{" -> ", " => ", " = ", " → ", " <=> "}).Draw(t, "arrow")
				}
				typed.WriteString(sign)
				want.WriteString(sign)
			}
			e := rapid.SampledFrom(all).Draw(t, "row")
			if rapid.Bool().Draw(t, "coefficient") {
				typed.WriteString("3 ")
				want.WriteString("3 ")
			}
			want.WriteString(e.Species.String())
			if rapid.Bool().Draw(t, "name") {
				name, _ := Of(e.Species, Choice{Style(rapid.IntRange(0, 3).Draw(t, "style")), rapid.Bool().Draw(t, "sulph")})
				typed.WriteString(name)
			} else {
				typed.WriteString(e.Species.String())
			}
		}
		tr, err := Translate(typed.String())
		if err != nil || tr.Text != want.String() {
			t.Fatalf("Translate(%s) = %q, %v, want %q", typed.String(), tr.Text, err, want.String())
		}
		checkTranslation(t, typed.String(), tr, err)
	})
}

func BenchmarkTranslate(b *testing.B) {
	for _, c := range []struct{ name, text string }{
		{"formulas", "MnO4^- + H2C2O4 -> Mn^2+ + CO2"},
		{"phases", "MnO4^-(aq) + H2C2O4(aq) -> Mn^2+(aq) + CO2(g)"},
		{"names", "permanganate ion + oxalic acid -> manganese(II) ion + carbon dioxide"},
		{"pairs", "permanganate becomes manganese(II) while oxalic acid becomes carbon dioxide"},
	} {
		Translate(c.text)
		b.Run("text="+c.name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				Translate(c.text)
			}
		})
	}
}
