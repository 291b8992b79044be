package redox_test

import (
	"errors"
	"strings"
	"testing"

	"halves/chem"
	"halves/redox"
)

// Questions in names and in words, each with its answer. The reactions are
// those of the other tests (see there for sources); the names are common ones
// (IUPAC Red Book 2005 style and textbook names, from memory).
func TestWords(t *testing.T) {
	const (
		oxalic = "2 MnO4^- + 5 H2C2O4 + 6 H^+ -> 2 Mn^2+ + 10 CO2 + 8 H2O"
		copper = "3 Cu + 8 HNO3 -> 3 Cu(NO3)2 + 2 NO + 4 H2O"
	)
	for _, c := range []struct{ question, want string }{
		{"permanganate ion + oxalic acid -> manganese(II) ion + carbon dioxide, in acid", oxalic},
		{"MnO4^- + oxalic acid -> Mn^2+ + carbon dioxide, in acid", oxalic},
		{"2 permanganate ions + 5 oxalic acid → manganese(II) ions + carbon dioxide, in acidic solution", oxalic},
		{"permanganate becomes manganese(II) while oxalic acid becomes carbon dioxide, in acid", oxalic},
		{"In acid, permanganate becomes manganese(II) while oxalic acid becomes carbon dioxide", oxalic},
		{"Under acidic conditions, MnO4^- -> Mn^2+; H2C2O4 -> CO2", oxalic},
		{"manganate(VII) becomes manganese(II) while ethanedioic acid becomes carbon dioxide, in acid", oxalic},
		{"copper reacts with nitric acid to give copper(II) nitrate, nitrogen monoxide and water", copper},
		{"copper + nitric acid -> copper(II) nitrate + nitrogen monoxide + water", copper},
		{"chlorine becomes chloride and chlorate, in hot base", "3 Cl2 + 6 OH^- -> 5 Cl^- + ClO3^- + 3 H2O"},
		{"hydrogen peroxide becomes water while tetrahydroxidochromate(III) becomes chromate, in base", "3 H2O2 + 2 Cr(OH)4^- + 2 OH^- -> 2 CrO4^2- + 8 H2O"},
		{"manganate(VII) is reduced to manganese(II) and sulphate(IV) is oxidised to sulphate(VI), in acid", "2 MnO4^- + 5 SO3^2- + 6 H^+ -> 2 Mn^2+ + 5 SO4^2- + 3 H2O"},
		{"potassium manganate(VII) + iron(II) sulphate -> manganese(II) sulphate + iron(III) sulphate + potassium sulphate, in acid", "2 KMnO4 + 10 FeSO4 + 8 H2SO4 -> 2 MnSO4 + 5 Fe2(SO4)3 + K2SO4 + 8 H2O"},
		{"iron(III) + tin(II) -> iron(II) + tin(IV)", "2 Fe^3+ + Sn^2+ -> 2 Fe^2+ + Sn^4+"},
		{"arsenic(III) sulfide + nitrate -> arsenic acid + sulfate + nitrogen monoxide, in acid", "3 As2S3 + 28 NO3^- + 4 H2O + 10 H^+ -> 6 H3AsO4 + 9 SO4^2- + 28 NO"},
		{"potassium chlorate -> potassium chloride + oxygen", "2 KClO3 -> 2 KCl + 3 O2"},
	} {
		s, err := redox.Work(c.question, redox.Unstated, redox.Conventions{})
		if err != nil {
			t.Errorf("Work(%s) = %v", c.question, err)
			continue
		}
		mustBalance(t, s)
		if lowest(s.Equation) != lowest(mustRead(t, c.want)) {
			t.Errorf("Work(%s) = %s, want %s", c.question, s.Equation, c.want)
		}
		named := false
		for _, n := range s.Notes {
			named = named || n.Kind == redox.NoteReading && strings.HasPrefix(n.Text, "Read ")
		}
		if !named && !strings.HasPrefix(c.question, "Under") {
			t.Errorf("Work(%s) does not say how it read the names: %v", c.question, s.Notes)
		}
	}
}

func mustRead(t *testing.T, equation string) chem.Equation {
	t.Helper()
	r, err := chem.ReadEquation(equation, nil)
	if err != nil {
		t.Fatal(err)
	}
	return r.All[0].Equation
}

// The text between « and » is what the error must point at; both marks are
// taken out before reading.
func TestWordsRefused(t *testing.T) {
	for _, c := range []struct{ name, question, msg, hint string }{
		{"no name", "«permangante ion» + iron(II) ion -> manganese(II) ion + iron(III) ion, in acid", `no species is called "permangante ion"`, "permanganate ion"},
		{"no number", "«iron sulfate» + potassium permanganate -> manganese(II) sulfate + iron(III) sulfate, in acid", "which ion of the metal", "iron(II) or iron(III)"},
		{"a formula after names", "permanganate ion + Fe^2+ -> manganese(II) ion + «Xx»^3+, in acid", `no element has the symbol "Xx"`, ""},
		{"a formula in the wrong case", "«co2» + hydrogen -> carbon monoxide + water", `no element has the symbol "co"`, "CO2"},
	} {
		before, rest, _ := strings.Cut(c.question, "«")
		at, after, _ := strings.Cut(rest, "»")
		_, err := redox.Work(before+at+after, redox.Unstated, redox.Conventions{})
		var e *chem.SyntaxError
		if !errors.As(err, &e) {
			t.Errorf("%s: Work = %v, want a *chem.SyntaxError", c.name, err)
			continue
		}
		if e.Offset != len(before) || !strings.HasPrefix(at, (before + at + after)[e.Offset:min(e.Offset+e.Width, len(before+at+after))]) || e.Width == 0 {
			t.Errorf("%s: the error is at %d, %d bytes wide, want %q at %d", c.name, e.Offset, e.Width, at, len(before))
		}
		if !strings.Contains(e.Msg, c.msg) || !strings.Contains(e.Hint, c.hint) {
			t.Errorf("%s: %q, hint %q; want %q, %q", c.name, e.Msg, e.Hint, c.msg, c.hint)
		}
	}
}
