package chem_test

import (
	"fmt"
	"strings"
	"testing"
	"unicode/utf8"

	"halves/chem"
	"halves/reference"
)

type worstLine struct{ name, line string }

// worstLines are lines of up to MaxLine characters that are made to be slow to
// read: many ways to cut them, deep or long formulas, errors late.
func worstLines() []worstLine {
	join := func(n int, s, last string) string { return strings.Repeat(s, n) + last }
	lines := []worstLine{
		{"plus_signs", join(2000, "+", "->H")},
		{"plus_signs_on_one_symbol", "Cu" + join(4000, "+", "->H")},
		{"bare_charges", join(1000, "Cu2+", "->Cu")},
		{"bare_charges_and_plus", join(31, "Cu2++", "Cu->") + join(31, "Cu2++", "Cu")},
		{"bare_charges_and_plus_too_many", join(400, "Cu2++", "Cu->") + join(400, "Cu2++", "Cu")},
		{"double_plus", join(1300, "H++", "H->H")},
		{"double_plus_spaced", join(800, "H++ + ", "H->H")},
		{"rows_of_plus", join(40, "H"+strings.Repeat("+", 99), "->H")},
		{"rows_of_eight_plus", join(63, "H"+strings.Repeat("+", 9), "H->H")},
		{"rows_of_minus", join(40, "H"+strings.Repeat("-", 99), "->H")},
		{"arrow_of_dashes", "Cl" + join(4000, "-", "->Cl2")},
		{"arrows", join(1300, "-->", "")},
		{"arrows_and_symbols", join(1000, "H-->", "H")},
		{"dashes_after_ambiguous_terms", join(60, "O2-+", "O2") + join(99, "-", "->H")},
		{"dashes_after_a_long_formula", join(3000, "C", "9") + join(99, "-", "->") + join(60, "O2-+", "O2-")},
		{"dashes_after_a_long_hydrate", join(1800, "H.", "H9") + join(99, "-", "->H")},
		{"numbers_and_plus", join(1000, "2+", "->H")},
		{"digits", join(4000, "9", "->H")},
		{"digits_after_a_symbol", "H" + join(4000, "1", "->H")},
		{"digits_apart", join(1300, "H1 ", "->H")},
		{"hydrate_chain", join(1300, "H2.", "H->H")},
		{"hydrate_chain_counted", join(1000, "9H.", "H->H")},
		{"hydrate_chain_and_charges", join(1800, "H.", "H9") + join(8, "+", "+H->H")},
		{"hydrates_and_charges", join(13, strings.Repeat("H.", 140)+"H9++", "H->H")},
		{"open_brackets", join(4000, "(", "->H")},
		{"deep_brackets", strings.Repeat(join(32, "(", "H")+strings.Repeat(")", 32), 60) + "->H"},
		{"brackets_spaced", join(1300, "H( ", "->H")},
		{"bracket_far_apart", "H(" + join(4000, " ", "->H")},
		{"bracketed_signs", "H(" + join(4000, "-", "->H")},
		{"empty_states", join(800, "H(s)+", "H->H")},
		{"ambiguous_terms", join(31, "SO42-+", "O2- ->") + join(31, "Hg22++", "Cu2+")},
		{"ambiguous_unknown_terms", join(31, "UF92-+", "Rn2- ->") + join(31, "Xe92++", "Rn2+")},
		{"long_ambiguous_terms", join(63, "C"+strings.Repeat("(OH)2", 10)+"92-+", "H->H")},
		{"wrong_case", "H->" + join(64, "nononononono+", "H")},
		{"wrong_case_before_plus", join(60, "Cu2++", "nononononono->H")},
		{"wrong_case_after_arrow_of_dashes", join(30, "O2-+", "O2") + join(99, "-", "->nononononono")},
		{"long_word", join(4000, "n", "->H")},
		{"electrons", join(1000, "e-+", "e->H")},
		{"electrons_bare", join(2000, "e+", "e->H")},
		{"spaces", "H" + join(4000, " ", "->H")},
		{"spaces_between", join(1300, "H +", "H->H")},
		{"equals", join(4000, "=", "")},
		{"left_arrows", join(4000, "<", "->H")},
		{"marks_of_a_page", join(4000, "<sub>", "->H")},
		{"superscripts", "H" + join(4000, "⁺", "->H")},
		{"superscripts_apart", join(1300, "H⁺+", "H->H")},
		{"subscripts", "H" + join(4000, "₁", "->H")},
		{"carets", join(1300, "H^+", "->H")},
		{"commas", join(2000, "1,", "->H")},
		{"fractions", join(2000, "1/", "->H")},
	}
	for i, l := range lines {
		if n := utf8.RuneCountInString(l.line); n > chem.MaxLine {
			// Cut in front, where repetition is, so that the arrow stays.
			lines[i].line = string([]rune(l.line)[n-chem.MaxLine:])
		}
	}
	return lines
}

// A counter is a lexicon that counts how often it is asked: the work that a
// line makes, independent of the machine.
type counter struct{ asked int }

func (c *counter) Rank(*chem.Species) (int, bool) { c.asked++; return 0, false }

// TestWorkOnWorstLines bounds the work, not the time: questions to the lexicon
// and allocations, each of which a way to cut or read the line costs.
// BenchmarkWorstLines gives the times.
func TestWorkOnWorstLines(t *testing.T) {
	for _, l := range worstLines() {
		var c counter
		readings, err := chem.ReadEquation(l.line, &c)
		if err != nil {
			if bad := readError(l.line, err); bad != "" {
				t.Errorf("%s: %s", l.name, bad)
			}
		} else if len(readings.All) > chem.MaxReadings {
			t.Errorf("%s: %d readings", l.name, len(readings.All))
		}
		// A term has at most 10 readings, and the terms before the arrow are
		// read for at most 9 arrows.
		if most := chem.MaxTerms * 10 * 10; c.asked > most {
			t.Errorf("%s: the lexicon was asked %d times, want at most %d", l.name, c.asked, most)
		}
		if n := testing.AllocsPerRun(1, func() { chem.ReadEquation(l.line, nil) }); n > 60_000 {
			t.Errorf("%s: %.0f allocations, want at most 60000", l.name, n)
		}
	}
}

// BenchmarkWorstLines reports milliseconds a line; none may pass 50.
func BenchmarkWorstLines(b *testing.B) {
	for _, l := range worstLines() {
		b.Run("line="+l.name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				chem.ReadEquation(l.line, reference.Species())
			}
			b.ReportMetric(b.Elapsed().Seconds()*1000/float64(b.N), "ms/line")
		})
	}
}

// BenchmarkReadEquation reads what people type.
func BenchmarkReadEquation(b *testing.B) {
	for _, c := range []struct{ name, line string }{
		{"carets", "MnO4^- + H2C2O4 -> Mn^2+ + CO2"},
		{"lost_superscripts", "MnO4- + H2C2O4 -> Mn2+ + CO2"},
		{"unicode", "MnO₄⁻ + H₂C₂O₄ ⟶ Mn²⁺ + CO₂"},
		{"monster", "[Cr(N2H4CO)6]4[Cr(CN)6]3 + KMnO4 + H2SO4 -> K2Cr2O7 + MnSO4 + CO2 + KNO3 + K2SO4 + H2O"},
	} {
		b.Run(fmt.Sprintf("typed=%s", c.name), func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				if _, err := chem.ReadEquation(c.line, reference.Species()); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
