package document_test

import (
	"errors"
	"os"
	"slices"
	"strings"
	"testing"
	"unicode/utf8"

	"halves/chem"
	"halves/document"
	"halves/redox"
)

// questions are of all shapes that a solution has.
var questions = []string{
	"MnO4^- + H2C2O4 -> Mn^2+ + CO2, in acid",
	"H2O2 + [Cr(OH)4]^- -> CrO4^2- + H2O, in base",
	"Cl2 -> Cl^- + ClO3^-, in base",
	"Cu + NO3^- -> Cu^2+ + NO, in acid",
	"As2S3 + NO3^- -> H3AsO4 + SO4^2- + NO, in acid",
	"KMnO4 + FeSO4 + H2SO4 -> MnSO4 + Fe2(SO4)3 + K2SO4 + H2O",
	"[Cr(N2H4CO)6]4[Cr(CN)6]3 + KMnO4 + H2SO4 -> K2Cr2O7 + MnSO4 + CO2 + KNO3 + K2SO4 + H2O",
	"C3H8 + O2 -> CO2 + H2O",
	"NH4NO3 -> N2O + H2O",
	"AgNO3 + NaCl -> AgCl + NaNO3",
	"MnO4^- + H2O2 -> Mn^2+ + O2, in acid",
	"SO42- + Ba2+ -> BaSO4",
	"MnO4^- + S2O3^2- -> MnO2 + SO4^2-, neutral",
	// One half, and many answers.
	"Mn^2+ -> MnO4^-, in acid",
	"KClO3 + HCl -> KCl + Cl2 + ClO2 + H2O",
}

func documentOf(t *testing.T, question string) *document.Document {
	t.Helper()
	return documentBy(t, question, redox.Conventions{})
}

func documentBy(t *testing.T, question string, c redox.Conventions) *document.Document {
	t.Helper()
	sol, err := redox.Work(question, redox.Unstated, c)
	if err == nil {
		return document.FromSolution(sol)
	}
	d := document.FromReport(redox.NewReport(err), c)
	if d == nil {
		t.Fatalf("Work(%s): %v", question, err)
	}
	return d
}

func text(t *testing.T, d *document.Document, o document.TextOptions) string {
	t.Helper()
	var b strings.Builder
	if err := document.Text(&b, d, o); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

// written is a text in plain characters.
func written(text document.Inline) string { return (&document.Document{Title: text}).PlainTitle() }

// withoutTables leaves out what is written in another way where it is too wide.
func withoutTables(d *document.Document) *document.Document {
	c := &document.Document{Title: d.Title}
	for _, b := range d.Blocks {
		if _, ok := b.(document.Table); !ok {
			c.Blocks = append(c.Blocks, b)
		}
	}
	return c
}

// words returns the words of a text without rules, sorted: a label that is
// folded stands between the lines beside it.
func words(s string) []string {
	all := strings.FieldsFunc(s, func(r rune) bool { return r == ' ' || r == '\n' || r == '─' })
	all = slices.DeleteFunc(all, func(w string) bool { return strings.Trim(w, "-") == "" })
	slices.Sort(all)
	return all
}

// widths are those at which the layout changes, and some between.
var widths = []int{20, 21, 22, 23, 24, 25, 26, 27, 28, 30, 33, 37, 40, 45, 50, 55, 59, 60, 61, 70, 75, 76, 77, 79, 80, 81, 95, 100, 119, 120, 121, 140, 200}

func TestTextWidth(t *testing.T) {
	for _, q := range questions {
		d := documentOf(t, q)
		for _, width := range widths {
			for _, ascii := range []bool{false, true} {
				for line := range strings.SplitSeq(text(t, d, document.TextOptions{Width: width, ASCII: ascii}), "\n") {
					if n := utf8.RuneCountInString(line); n > width {
						t.Errorf("%s: at width %d a line has %d columns: %q", q, width, n, line)
					}
					if strings.TrimRight(line, " \u00a0") != line {
						t.Errorf("%s: at width %d a line ends in spaces: %q", q, width, line)
					}
				}
			}
		}
	}
}

// TestTextLosesNothing compares the words at each width with those of a text
// that is not wrapped.
func TestTextLosesNothing(t *testing.T) {
	for _, q := range questions {
		d := withoutTables(documentOf(t, q))
		for _, ascii := range []bool{false, true} {
			want := words(text(t, d, document.TextOptions{Width: 10000, ASCII: ascii}))
			for _, width := range widths {
				got := words(text(t, d, document.TextOptions{Width: width, ASCII: ascii}))
				if width < 60 {
					// Long formulas are cut there.
					if a, b := letters(got), letters(want); a != b {
						t.Errorf("%s: at width %d the letters are\n%s, want\n%s", q, width, a, b)
					}
				} else if !slices.Equal(got, want) {
					t.Errorf("%s: at width %d the words are\n%q, want\n%q", q, width, got, want)
				}
			}
		}
	}
}

// letters returns the characters of words, sorted.
func letters(words []string) string {
	all := []rune(strings.Join(words, ""))
	slices.Sort(all)
	return strings.ReplaceAll(string(all), "-", "")
}

func TestTextASCII(t *testing.T) {
	for _, q := range questions {
		s := text(t, documentOf(t, q), document.TextOptions{ASCII: true})
		for i := range len(s) {
			if s[i] > '~' || s[i] < ' ' && s[i] != '\n' {
				t.Fatalf("%s: %q is not ASCII", q, s[max(0, i-20):i+3])
			}
		}
		if strings.Contains(s, "?") {
			t.Errorf("%s: a character has no ASCII form: %s", q, s)
		}
	}
}

// TestTextColor holds that the sequences change weight only, are closed on
// each line, and take no columns.
func TestTextColor(t *testing.T) {
	for _, q := range questions {
		d := documentOf(t, q)
		plain := text(t, d, document.TextOptions{Width: 80})
		colored := text(t, d, document.TextOptions{Width: 80, Color: true})
		if !strings.Contains(colored, "\x1b[1m") || !strings.Contains(colored, "\x1b[2m") {
			t.Errorf("%s: no bold, or nothing faint", q)
		}
		for line := range strings.SplitSeq(colored, "\n") {
			if on, off := strings.Count(line, "\x1b[1m")+strings.Count(line, "\x1b[2m"), strings.Count(line, "\x1b[22m"); on != off {
				t.Errorf("%s: %d sequences on, %d off: %q", q, on, off, line)
			}
		}
		bare := strings.NewReplacer("\x1b[1m", "", "\x1b[2m", "", "\x1b[22m", "").Replace(colored)
		if bare != plain {
			t.Errorf("%s: without its sequences the text differs from the plain one", q)
		}
	}
}

// TestTextShows holds what a worked solution must tell.
func TestTextShows(t *testing.T) {
	s := text(t, documentOf(t, questions[0]), document.TextOptions{Width: 140})
	for _, want := range []string{
		"MnO₄⁻ + H₂C₂O₄ ⟶ Mn²⁺ + CO₂, in acid\n",
		"C goes from +3 to +4 (H₂C₂O₄ to CO₂): each atom loses 1 electron, oxidation.",
		"MnO₄⁻ + 8 H⁺ + 5 e⁻ ⟶ Mn²⁺ + 4 H₂O\n",
		"charge +7 ≠ +2\n",
		"nothing to do: O 4 on each side\n",
		"  2 MnO₄⁻ + 5 H₂C₂O₄ + 6 H⁺ ⟶ 2 Mn²⁺ + 10 CO₂ + 8 H₂O\n",
		"  O          28      28\n",
		"  charge     +4      +4\n",
		"10 electrons are transferred.",
		"H₂C₂O₄ is oxidized: it is the reducing agent.",
		"MnO₄⁻ is reduced: it is the oxidizing agent.",
	} {
		if !strings.Contains(s, want) {
			t.Errorf("the text has no %q:\n%s", want, s)
		}
	}
}

func TestProse(t *testing.T) {
	tests := []struct{ in, want string }{
		{"add 8 H^+ on the left", "add 8 H⁺ on the left"},
		{"Read SO42- as SO4^2-.", "Read SO42- as SO₄²⁻."},
		{"in Fe(CN)6^4-: iron is +2", "in Fe(CN)₆⁴⁻: iron is +2"},
		{"carbon is +3 by charge: 2x + 4(−2) = −2", "carbon is +3 by charge: 2x + 4(−2) = −2"},
		{"let in 2 H2O2 -> 2 H2O + O2.", "let in 2 H₂O₂ ⟶ 2 H₂O + O₂."},
		{"(CuSO4.5H2O)", "(CuSO₄·5H₂O)"},
		{"5 e^- on the right", "5 e⁻ on the right"},
		{"No element is iron(III), 5 or In", "No element is iron(III), 5 or In"},
		{"", ""},
		{"a  b", "a  b"},
	}
	for _, tt := range tests {
		got := ""
		for _, s := range document.Prose(tt.in, redox.Conventions{}) {
			got += s.Prose + chem.UnicodeText(s.Formula)
		}
		if got != tt.want {
			t.Errorf("Prose(%q) = %q, want %q", tt.in, got, tt.want)
		}
	}
}

// TestTextRecords shows a table that is too wide for its columns.
func TestTextRecords(t *testing.T) {
	cell := func(s string) document.Inline {
		if s == "" {
			return nil
		}
		return document.Inline{{Prose: s}}
	}
	d := &document.Document{Blocks: []document.Block{document.Table{
		Head:  []document.Inline{nil, cell("left"), cell("right")},
		Right: []bool{false, true, true},
		Rows:  [][]document.Inline{{cell("manganese"), cell("1"), cell("2")}, {cell("O"), nil, cell("4")}},
	}}}
	if got, want := text(t, d, document.TextOptions{Width: 40}), "              left   right\n  manganese      1       2\n  O                      4\n"; got != want {
		t.Errorf("at width 40:\n%swant\n%s", got, want)
	}
	if got, want := text(t, d, document.TextOptions{Width: 21}), "  manganese: left 1,\n      right 2\n  O: right 4\n"; got != want {
		t.Errorf("at width 21:\n%swant\n%s", got, want)
	}
}

// A failing is a writer that takes some bytes and then no more.
type failing struct{ left int }

var errFull = errors.New("full")

func (f *failing) Write(p []byte) (int, error) {
	if len(p) > f.left {
		n := f.left
		f.left = 0
		return n, errFull
	}
	f.left -= len(p)
	return len(p), nil
}

func TestTextReportsErrors(t *testing.T) {
	d := documentOf(t, questions[6])
	for _, room := range []int{0, 100, 5000} {
		if err := document.Text(&failing{room}, d, document.TextOptions{}); !errors.Is(err, errFull) {
			t.Errorf("with room for %d bytes Text returned %v, want %v", room, err, errFull)
		}
	}
}

func TestFromReportWithoutMore(t *testing.T) {
	_, err := redox.Work("Cu + Xx -> Cu", redox.Unstated, redox.Conventions{})
	if d := document.FromReport(redox.NewReport(err), redox.Conventions{}); d != nil {
		t.Errorf("FromReport of an unreadable line = %v, want nil", d)
	}
}

// A short solution, as it is printed.
func ExampleText() {
	sol, err := redox.Work("Cu + Ag^+ -> Cu^2+ + Ag", redox.Unstated, redox.Conventions{})
	if err != nil {
		panic(err)
	}
	d := document.FromSolution(sol)
	// The answer and what follows it.
	d.Title = nil
	for len(d.Blocks) > 0 {
		if e, ok := d.Blocks[0].(document.Equation); ok && e.Final {
			break
		}
		d.Blocks = d.Blocks[1:]
	}
	document.Text(os.Stdout, d, document.TextOptions{Width: 60})
	// Output:
	// ────────────────────────
	//   Cu + 2 Ag⁺ ⟶ Cu²⁺ + 2 Ag
	//   ────────────────────────
	//
	//   2 electrons are transferred.
	//
	//   • Cu is oxidized: it is the reducing agent.
	//   • Ag⁺ is reduced: it is the oxidizing agent.
	//
	// Check
	//
	//            left   right
	//   Cu          1       1
	//   Ag          2       2
	//   charge     +2      +2
	//
	//   The charge is +2 on each side: not zero, but equal.
}
