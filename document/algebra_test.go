package document_test

import (
	"strings"
	"testing"

	"halves/chem"
	"halves/document"
	"halves/redox"
)

// slanted lists the unknowns that a text sets as such, in order.
func slanted(text document.Inline) string {
	var out []string
	for _, s := range text {
		for i, r := range s.Formula {
			if r.Level != chem.Variable {
				continue
			}
			name := r.Text
			if i+1 < len(s.Formula) && s.Formula[i+1].Level == chem.Subscript {
				name += s.Formula[i+1].Text
			}
			out = append(out, name)
		}
	}
	return strings.Join(out, " ")
}

// TestReasonsSlantUnknowns: in the reasons by equations the unknowns stand as in
// the lines, and are said. The values derive themselves.
func TestReasonsSlantUnknowns(t *testing.T) {
	d := documentBy(t, "MnO4^- + H2C2O4 -> Mn^2+ + CO2, in acid", redox.Conventions{By: redox.ByEquations})
	want := map[string][2]string{ // by the line: the unknowns of its reason, and how that is said
		"g = 4":   {"b f g b f", "from oxygen and carbon together, four b plus four equals two f plus g and two b equals f"},
		"c = 3":   {"c", "from charge, c minus one equals two"},
		"b = 5/2": {"b", "from hydrogen, two b plus three equals eight"},
	}
	for _, b := range d.Blocks {
		e, ok := b.(document.Equation)
		if !ok {
			continue
		}
		line := chem.PlainText(e.Line)
		w, ok := want[line]
		if !ok {
			continue
		}
		delete(want, line)
		if got := slanted(e.Reason); got != w[0] {
			t.Errorf("%s: unknowns of the reason %q, want %q", line, got, w[0])
		}
		if got, _ := e.Reason.Spoken(); got != w[1] {
			t.Errorf("%s: the reason is said %q, want %q", line, got, w[1])
		}
	}
	if len(want) > 0 {
		t.Errorf("no line %v", want)
	}
}

// TestWordsAreNoUnknowns: the word "a", and letters where no unknown is asked
// for, stay as they are.
func TestWordsAreNoUnknowns(t *testing.T) {
	for _, q := range questions {
		for _, by := range []redox.Method{redox.ByHalves, redox.ByStates, redox.ByEquations} {
			for _, b := range documentBy(t, q, redox.Conventions{By: by}).Blocks {
				var texts []document.Inline
				switch b := b.(type) {
				case document.Note:
					texts = append(texts, b.Text)
				case document.Paragraph:
					texts = append(texts, b.Text)
				case document.List:
					texts = b.Items
				case document.Equation:
					texts = append(texts, b.Label)
					if by != redox.ByEquations {
						texts = append(texts, b.Reason)
					}
				}
				for _, x := range texts {
					if got := slanted(x); got != "" {
						t.Errorf("%s: unknowns %s in %v", q, got, x)
					}
				}
			}
		}
	}
}

// TestListsBreakAfterCommas: a list of values is parted between them, a long
// title before its arrow, and no list item ends in a single word on a line of its own.
func TestListsBreakAfterCommas(t *testing.T) {
	d := documentBy(t, "[Cr(N2H4CO)6]4[Cr(CN)6]3 + KMnO4 + H2SO4 -> K2Cr2O7 + MnSO4 + CO2 + KNO3 + K2SO4 + H2O", redox.Conventions{By: redox.ByEquations})
	got := text(t, d, document.TextOptions{Width: 80})
	for _, want := range []string{
		"KMnO₄ + H₂SO₄\n    ⟶ K₂Cr₂O₇ +",
		"f = 1176, g = 420,\n                            h = 660, j = 223, k = 1879\n",
		"together:\n",
	} {
		if !strings.Contains(got, want) {
			t.Errorf("no %q in\n%s", want, got)
		}
	}
	if got := text(t, documentOf(t, worked), document.TextOptions{Width: 80}); !strings.Contains(got, "(MnO₄⁻ to Mn²⁺):\n    each atom gains 5 electrons, reduction.") {
		t.Errorf("the change of manganese ends in one word:\n%s", got)
	}
	page := htmlOf(t, d, document.HTMLOptions{})
	for _, want := range []string{`<span class="f"><var>a</var> = 10,</span> <span class="f"><var>b</var> = 1176,</span>`, `<span class="f">2<var>c</var> + 96 = 2<var>k</var></span>`} {
		if !strings.Contains(page, want) {
			t.Errorf("the page has no %q", want)
		}
	}
}
