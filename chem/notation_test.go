package chem_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"halves/checks"
	"halves/chem"
	"halves/reference"
)

// typedForms are the notations of the trade: common practice, no source. Each
// has to be read as the species in canonical text, first of its readings.
var typedForms = []struct{ typed, want string }{
	{"MnO4^-", "MnO4^-"}, {"MnO4-", "MnO4^-"}, {"MnO4 -", "MnO4^-"}, {"MnO4(-)", "MnO4^-"}, {"MnO₄⁻", "MnO4^-"},
	{"MnO4^(-)", "MnO4^-"}, {"MnO4^{-}", "MnO4^-"}, {"MnO4^1-", "MnO4^-"}, {"MnO₄-", "MnO4^-"}, {"MnO<sub>4</sub><sup>-</sup>", "MnO4^-"},
	{"Cr2O7^2-", "Cr2O7^2-"}, {"Cr2O7 2-", "Cr2O7^2-"}, {"Cr2O7(2-)", "Cr2O7^2-"}, {"Cr2O7--", "Cr2O7^2-"}, {"Cr₂O₇²⁻", "Cr2O7^2-"},
	{"Cr2O7^--", "Cr2O7^2-"}, {"Cr2O7^-2", "Cr2O7^2-"}, {"Cr2O7-2", "Cr2O7^2-"}, {"Cr2O7[2-]", "Cr2O7^2-"}, {"Cr2O7{2-}", "Cr2O7^2-"},
	{"Cr2O7(-2)", "Cr2O7^2-"}, {"Cr2O7(--)", "Cr2O7^2-"}, {"Cr₂O₇2-", "Cr2O7^2-"}, {"Cr₂O₇⁻²", "Cr2O7^2-"}, {"Cr₂O₇²-", "Cr2O7^2-"},
	{"Cr<SUB>2</SUB>O<SUB>7</SUB><SUP>2-</SUP>", "Cr2O7^2-"}, {"Cr2O7 --", "Cr2O7^2-"}, {"Cr2O7^²⁻", "Cr2O7^2-"},
	{"Fe^3+", "Fe^3+"}, {"Fe3+", "Fe^3+"}, {"Fe+3", "Fe^3+"}, {"Fe+++", "Fe^3+"}, {"Fe³⁺", "Fe^3+"}, {"Fe^+3", "Fe^3+"}, {"Fe^+++", "Fe^3+"},
	{"Fe(3+)", "Fe^3+"}, {"Fe⁺³", "Fe^3+"}, {"Fe⁺⁺⁺", "Fe^3+"}, {"Fe 3+", "Fe^3+"}, {"Fe^3+(aq)", "Fe^3+"}, {"Fe3+ (aq)", "Fe^3+"},
	{"e-", "e^-"}, {"e^-", "e^-"}, {"e⁻", "e^-"}, {"e^1-", "e^-"}, {"e(-)", "e^-"}, {"e –", "e^-"}, {"e<sup>−</sup>", "e^-"},

	// Superscripts lost on the way from a page.
	{"SO42-", "SO4^2-"}, {"Cr2O72-", "Cr2O7^2-"}, {"MnO42-", "MnO4^2-"}, {"NH4+", "NH4^+"}, {"Hg22+", "Hg2^2+"}, {"I3-", "I3^-"},
	{"PO43-", "PO4^3-"}, {"Fe(CN)64-", "Fe(CN)6^4-"}, {"[Fe(CN)6]4-", "[Fe(CN)6]^4-"}, {"S2O32-", "S2O3^2-"}, {"S4O62-", "S4O6^2-"},
	{"H3O+", "H3O^+"}, {"OH-", "OH^-"}, {"Ag+", "Ag^+"}, {"Cl-", "Cl^-"}, {"Cu2+", "Cu^2+"}, {"O22-", "O2^2-"}, {"CO32-", "CO3^2-"},

	// Hydrates, brackets, states.
	{"CuSO4.5H2O", "CuSO4.5H2O"}, {"CuSO4·5H2O", "CuSO4.5H2O"}, {"CuSO4*5H2O", "CuSO4.5H2O"}, {"CuSO4 . 5 H2O", "CuSO4.5H2O"}, {"CuSO₄•5H₂O", "CuSO4.5H2O"},
	{"CuSO4∙5H2O", "CuSO4.5H2O"}, {"CuSO4⋅5H2O", "CuSO4.5H2O"}, {"CuSO4×5H2O", "CuSO4.5H2O"}, {"K2SO4.Al2(SO4)3.24H2O", "K2SO4.Al2(SO4)3.24H2O"},
	{"[Fe(CN)6]^4-", "[Fe(CN)6]^4-"}, {"{[Fe(CN)6]}^4-", "{[Fe(CN)6]}^4-"}, {"Fe4[Fe(CN)6]3", "Fe4[Fe(CN)6]3"}, {"((((OH))))^-", "((((OH))))^-"},
	{"NaCl(s)", "NaCl"}, {"H2O(l)", "H2O"}, {"Cl2(g)", "Cl2"}, {"NaCl(aq)", "NaCl"}, {"NaCl (AQ)", "NaCl"}, {"NaCl( s )", "NaCl"}, {"AgCl↓", "AgCl"}, {"H2↑", "H2"},
	{"CH3CH2OH", "CH3CH2OH"}, {"  H2O  ", "H2O"}, {"\tH2O\r\n", "H2O"}, {"\ufeffH2O", "H2O"}, {"H\u200b2O", "H2O"},

	// Every dash, space and digit that an editor may put in.
	{"Cl‐", "Cl^-"}, {"Cl‑", "Cl^-"}, {"Cl‒", "Cl^-"}, {"Cl–", "Cl^-"}, {"Cl—", "Cl^-"}, {"Cl―", "Cl^-"}, {"Cl−", "Cl^-"}, {"Cl﹣", "Cl^-"}, {"Cl－", "Cl^-"},
	{"Cl^−", "Cl^-"}, {"Cl¯", "Cl^-"}, {"Na＋", "Na^+"}, {"Na^＋", "Na^+"},
	{"SO4\u00a02-", "SO4^2-"}, {"SO4\u20092-", "SO4^2-"}, {"SO4\u202f2-", "SO4^2-"}, {"SO4\u30002-", "SO4^2-"}, {"SO4\u20032-", "SO4^2-"},
	{"C₁₂H₂₂O₁₁", "C12H22O11"}, {"B₁₀H₁₄", "B10H14"}, {"P₄S₃", "P4S3"}, {"C₆₀", "C60"}, {"S₈", "S8"}, {"XeF₅⁻", "XeF5^-"}, {"ＣＯ２", "CO2"},
	{"U⁴⁺", "U^4+"}, {"V⁵⁺", "V^5+"}, {"W⁶⁺", "W^6+"}, {"Mn⁷⁺", "Mn^7+"}, {"Os⁸⁺", "Os^8+"}, {"Al¹³⁺", "Al^13+"}, {"Xe⁹⁺", "Xe^9+"}, {"Ar¹⁰⁺", "Ar^10+"},
}

func TestTypedForms(t *testing.T) {
	for _, c := range typedForms {
		readings, err := chem.ReadSpecies(c.typed, reference.Species())
		if err != nil {
			t.Errorf("ReadSpecies(%q): %v, want %s", c.typed, err, c.want)
			continue
		}
		if got := readings[0].Species.String(); got != c.want {
			t.Errorf("ReadSpecies(%q) = %s, want %s", c.typed, got, c.want)
		}
	}
}

func TestPhases(t *testing.T) {
	for _, c := range []struct {
		typed string
		want  chem.Phase
	}{
		{"NaCl", chem.NoPhase}, {"NaCl(s)", chem.Solid}, {"H2O(l)", chem.Liquid}, {"Cl2(g)", chem.Gas}, {"Cl^-(aq)", chem.Aqueous},
		{"AgCl↓", chem.Solid}, {"H2↑", chem.Gas}, {"H2O [l]", chem.Liquid}, {"Cl- ( aq )", chem.Aqueous},
	} {
		readings, err := chem.ReadSpecies(c.typed, reference.Species())
		if err != nil {
			t.Errorf("ReadSpecies(%q): %v", c.typed, err)
			continue
		}
		if got := readings[0].Species.Phase(); got != c.want {
			t.Errorf("ReadSpecies(%q) has the phase %q, want %q", c.typed, got, c.want)
		}
	}
}

// TestNotation: the first reading of each row of checks/notation.jsonl has its
// atoms and charge, and the other readings of an ambiguous row are there too.
func TestNotation(t *testing.T) {
	for _, r := range checks.Notation() {
		readings, err := chem.ReadSpecies(r.Input, reference.Species())
		if err != nil {
			if r.Tier < 3 {
				t.Errorf("%s: ReadSpecies(%q): %v, want %s", r.ID, r.Input, err, r.Canonical)
			} else if bad := readError(r.Input, err); bad != "" {
				t.Errorf("%s: ReadSpecies(%q): %s", r.ID, r.Input, bad)
			}
			continue
		}
		place := func(p checks.Particle) int {
			return slices.IndexFunc(readings, func(x chem.SpeciesReading) bool { return particle(x.Species, p) })
		}
		first := place(r.Particle)
		if first != 0 {
			t.Errorf("%s: ReadSpecies(%q)[0] = %s; %s is reading %d", r.ID, r.Input, readings[0].Species, r.Canonical, first)
		}
		if first >= 0 {
			// The canonical text may leave out brackets around the whole.
			canonical, err := chem.ReadSpecies(r.Canonical, nil)
			if err != nil || canonical[0].Species.Key() != readings[first].Species.Key() {
				t.Errorf("%s: ReadSpecies(%q) = %s, want %s (%v)", r.ID, r.Input, readings[first].Species, r.Canonical, err)
			}
		}
		for _, also := range r.Also {
			if place(also) < 0 {
				t.Errorf("%s: ReadSpecies(%q) has no reading with %v", r.ID, r.Input, also)
			}
		}
	}
}

func particle(s *chem.Species, p checks.Particle) bool {
	if s.Charge() != p.Charge || len(s.Composition()) != len(p.Atoms) {
		return false
	}
	for _, c := range s.Composition() {
		if p.Atoms[c.Element.Symbol()] != c.Atoms {
			return false
		}
	}
	return true
}

// TestMalformed: a row of checks/malformed.jsonl is refused at a place inside
// the text, or is the same equation as its ok_as, coefficients aside.
func TestMalformed(t *testing.T) {
	for _, r := range checks.Malformed() {
		got, err := chem.ReadEquation(r.Input, reference.Species())
		if r.Expect == "error" {
			if err == nil {
				t.Errorf("%s (%s): ReadEquation(%q) = %s, want an error", r.ID, r.Why, r.Input, got.All[0].Equation)
			} else if bad := readError(r.Input, err); bad != "" {
				t.Errorf("%s (%s): ReadEquation(%q): %s", r.ID, r.Why, r.Input, bad)
			}
			continue
		}
		if err != nil {
			t.Errorf("%s (%s): ReadEquation(%q): %v", r.ID, r.Why, r.Input, err)
			continue
		}
		if g := bare(got.All[0].Equation).String(); g != r.OkAs {
			t.Errorf("%s (%s): ReadEquation(%q) = %s, want %s", r.ID, r.Why, r.Input, g, r.OkAs)
		}
	}
}

// bare returns e with coefficients of 1.
func bare(e chem.Equation) chem.Equation {
	side := func(terms []chem.Term) (out []chem.Term) {
		for _, t := range terms {
			out = append(out, chem.Term{Coefficient: chem.Whole(1), Species: t.Species})
		}
		return out
	}
	return chem.Equation{Left: side(e.Left), Right: side(e.Right)}
}

// TestCheckRowsPrint: the rows are in canonical text, and are printed so.
func TestCheckRowsPrint(t *testing.T) {
	same := func(id, text string) {
		t.Helper()
		got, err := chem.ReadEquation(text, reference.Species())
		if err != nil {
			t.Errorf("%s: ReadEquation(%s): %v", id, text, err)
		} else if g := chem.PlainText(got.All[0].Equation.Runs(chem.Style{Phases: true})); g != text || len(got.All) != 1 || len(got.All[0].Assumptions) != 0 {
			t.Errorf("%s: ReadEquation(%s) = %s, readings %d, assumptions %v", id, text, g, len(got.All), got.All[0].Assumptions)
		}
	}
	for _, r := range checks.Equations() {
		same(r.ID, r.Skeleton)
		same(r.ID, r.Answer)
	}
	for _, r := range checks.Ambiguous() {
		same(r.ID, r.Skeleton)
		for _, e := range r.Examples {
			same(r.ID, e)
		}
	}
	for _, r := range checks.Impossible() {
		same(r.ID, r.Skeleton)
		if r.Balanced != "" {
			same(r.ID, r.Balanced)
		}
	}
}

// TestEquations: whole lines as they are typed. Each has exactly the readings
// given, in this order.
func TestEquations(t *testing.T) {
	for _, c := range []struct{ name, typed, want string }{
		{"no spaces", "4Fe+3O2->2Fe2O3", "4 Fe + 3 O2 -> 2 Fe2O3"},
		{"no spaces, bare charges", "Zn+Cu2+->Zn2++Cu", "Zn + Cu^2+ -> Zn^2+ + Cu"},
		{"no spaces, carets", "Zn+Cu^2+->Zn^2++Cu", "Zn + Cu^2+ -> Zn^2+ + Cu"},
		{"spaces around everything", " Zn  +  Cu 2+  ->  Zn 2+  +  Cu ", "Zn + Cu^2+ -> Zn^2+ + Cu"},
		{"charge before an equals sign", "Fe^3++I^-=Fe^2++I2", "Fe^3+ + I^- -> Fe^2+ + I2"},
		{"charge before a long equals sign", "Cl^-==Cl2", "Cl^- -> Cl2"},
		{"charge before an arrow sign", "I-→I2", "I^- -> I2"},
		{"charge before an arrow, spaced", "Cl- -> Cl2", "Cl^- -> Cl2"},
		{"caret settles the dashes", "SO4^2-->SO2", "SO4^2- -> SO2"},
		{"dashes for charge and arrow", "Cl-->Cl2", "Cl^- -> Cl2 | Cl -> Cl2"},
		{"dashes for the arrow only", "H2O2-->O2", "H2O2 -> O2 | H2O2^- -> O2 | H2O^2- -> O2"},
		{"spaced long arrow", "H2O2 --> O2", "H2O2 -> O2"},
		{"coefficient with a space", "2 H2O -> 2 H2 + O2", "2 H2O -> 2 H2 + O2"},
		{"coefficient with an asterisk", "2*H2O -> 2*H2 + O2", "2 H2O -> 2 H2 + O2"},
		{"coefficient with a raised dot", "2·H2O -> 2·H2 + O2", "2 H2O -> 2 H2 + O2"},
		{"fraction", "H2 + 1/2 O2 -> H2O", "H2 + 1/2 O2 -> H2O"},
		{"fraction as one character", "H2 + ½ O2 -> H2O", "H2 + 1/2 O2 -> H2O"},
		{"mixed number", "CH4 + 2½O2 -> CO2", "CH4 + 5/2 O2 -> CO2"},
		{"decimal point", "CH4 + 2.5 O2 -> CO2", "CH4 + 5/2 O2 -> CO2"},
		{"decimal comma", "CH4 + 2,5 O2 -> CO2", "CH4 + 5/2 O2 -> CO2"},
		{"fraction not in lowest terms", "H2 + 2/4 O2 -> H2O", "H2 + 1/2 O2 -> H2O"},
		{"hydrate with a coefficient", "2CuSO4.5H2O -> CuSO4", "2 CuSO4.5H2O -> CuSO4"},
		{"electrons", "Fe3+ + e- -> Fe2+", "Fe^3+ + e^- -> Fe^2+"},
		{"electrons without spaces", "MnO4^-+8H^++5e^-->Mn^2++4H2O", "MnO4^- + 8 H^+ + 5 e^- -> Mn^2+ + 4 H2O"},
		{"phases are kept apart only where they differ", "H2O(l) -> H2O(g)", "H2O(l) -> H2O(g)"},
		{"phases left out", "H2O(l) -> H2(g)", "H2O -> H2"},
		{"lost superscripts, both known", "VO2+ + Zn -> VO2+", "VO2^+ + Zn -> VO2^+ | VO^2+ + Zn -> VO2^+ | VO2^+ + Zn -> VO^2+ | VO^2+ + Zn -> VO^2+"},
		{"full stop at the end", "Zn -> Zn.", "Zn -> Zn"},
	} {
		got, err := chem.ReadEquation(c.typed, reference.Species())
		if err != nil {
			t.Errorf("%s: ReadEquation(%q): %v", c.name, c.typed, err)
			continue
		}
		var all []string
		for _, r := range got.All {
			all = append(all, r.Equation.String())
		}
		if g := strings.Join(all, " | "); g != c.want {
			t.Errorf("%s: ReadEquation(%q)\n got %s\nwant %s", c.name, c.typed, g, c.want)
		}
	}
}

func TestArrows(t *testing.T) {
	for _, arrow := range strings.Fields("-> --> ---> => ==> = == → ⟶ ⇌ <=> <-> <--> <==> ⇄ ⇒ ⟹ ↔ –> —> −> ➜ ﹣> ＝ －＞") {
		for _, space := range []string{" ", ""} {
			text := "Zn^2+" + space + arrow + space + "Zn"
			got, err := chem.ReadEquation(text, nil)
			if err != nil {
				t.Errorf("ReadEquation(%s): %v", text, err)
			} else if g := got.All[0].Equation.String(); g != "Zn^2+ -> Zn" || len(got.All) != 1 {
				t.Errorf("ReadEquation(%s) = %s, %d readings, want Zn^2+ -> Zn alone", text, g, len(got.All))
			}
		}
	}
}

// TestAssumptions: what was settled is stated; a caret leaves nothing to state.
func TestAssumptions(t *testing.T) {
	for _, c := range []struct{ typed, want string }{
		{"SO42- + Zn -> SO2", "0: read SO42- as SO4^2-"},
		{"SO4^2- + Zn -> SO2", ""},
		{"Zn + Cu2+ -> Zn2+ + Cu", "5: read Cu2+ as Cu^2+; 13: read Zn2+ as Zn^2+"},
		{"½ Br2 +  NH4+ -> Cl-", ""},
		{"Zn + 2 MnO42- -> Mn", "5: read 2 MnO42- as MnO4^2-"},
		{"Cl-->Cl2", "0: read Cl--> as Cl^-"},
		{"SO4^2-->SO2", ""},
	} {
		got, err := chem.ReadEquation(c.typed, reference.Species())
		if err != nil {
			t.Errorf("ReadEquation(%q): %v", c.typed, err)
			continue
		}
		var all []string
		for _, a := range got.All[0].Assumptions {
			all = append(all, fmt.Sprintf("%d: %s", a.Offset, chem.ReadsAs(a.Typed, a.Read)))
		}
		if g := strings.Join(all, "; "); g != c.want {
			t.Errorf("ReadEquation(%q) assumes %q, want %q", c.typed, g, c.want)
		}
	}
}

// TestKnownFirst: a reading that the lexicon knows comes before all others,
// and without a lexicon every reading that the characters allow is there.
func TestKnownFirst(t *testing.T) {
	for _, c := range []struct{ typed, want, bare string }{
		{"SO42-", "SO4^2- known | SO42^-", "SO4^2- | SO42^-"},
		{"I3-", "I3^- known | I^3-", "I^3- | I3^-"},
		{"O2-", "O^2- known | O2^- known", "O^2- | O2^-"},
		{"N3-", "N^3- known | N3^- known", "N^3- | N3^-"},
		{"Hg22+", "Hg2^2+ known | Hg22^+", "Hg2^2+ | Hg22^+"},
		{"Hg2++", "Hg2^2+ known", "Hg2^2+"},
		{"C6H12-", "C6H12^-", "C6H12^-"}, // H1 with the charge 2- is not written so
		{"Na1+", "Na^+ known", "Na^+"},   // one reading, not the same twice
	} {
		text := func(lexicon chem.Lexicon) string {
			readings, err := chem.ReadSpecies(c.typed, lexicon)
			if err != nil {
				return err.Error()
			}
			var all []string
			for _, r := range readings {
				s := r.Species.String()
				if r.Known {
					s += " known"
				}
				all = append(all, s)
			}
			return strings.Join(all, " | ")
		}
		if got := text(reference.Species()); got != c.want {
			t.Errorf("ReadSpecies(%s) = %s, want %s", c.typed, got, c.want)
		}
		if got := text(nil); got != c.bare {
			t.Errorf("ReadSpecies(%s) without a lexicon = %s, want %s", c.typed, got, c.bare)
		}
	}
}

// TestManyReadings: 64 terms of two readings each are cut at MaxReadings, the
// likeliest first, and it is said that there are more.
func TestManyReadings(t *testing.T) {
	side := strings.TrimSuffix(strings.Repeat("O2- + ", 32), " + ")
	got, err := chem.ReadEquation(side+" -> "+side, reference.Species())
	if err != nil {
		t.Fatal(err)
	}
	if len(got.All) != chem.MaxReadings || !got.More {
		t.Errorf("%d readings, more %v; want %d and more", len(got.All), got.More, chem.MaxReadings)
	}
	if n := strings.Count(got.All[0].Equation.String(), "O^2-"); n != 64 {
		t.Errorf("the first reading has %d oxide ions, want 64", n)
	}
	few, err := chem.ReadEquation("O2- + O2- -> O2- + O2-", reference.Species())
	if err != nil || len(few.All) != 16 || few.More {
		t.Errorf("%d readings, more %v, error %v; want 16 and no more", len(few.All), few.More, err)
	}
}
