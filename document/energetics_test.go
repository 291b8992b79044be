package document_test

import (
	"bytes"
	"regexp"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"

	"halves/caution"
	"halves/chem"
	"halves/diagram"
	"halves/document"
	"halves/energetics"
	"halves/internal/headless"
	"halves/redox"
	"halves/reference"
)

// chemistryOf works a question and finds its chemistry under conditions.
func chemistryOf(t *testing.T, question string, c redox.Conventions, k energetics.Conditions) (*redox.Solution, document.Chemistry) {
	t.Helper()
	s, err := redox.Work(question, redox.Unstated, c)
	if err != nil {
		t.Fatal(err)
	}
	tables := energetics.Shipped()
	x := document.Chemistry{Remarks: tables.Remarks(s.Equation, s.Medium), Advice: caution.For(s.Equation)}
	if x.Cell, err = tables.Work(s, k); err != nil {
		x.Cell, x.Without = nil, err.Error()
	}
	return s, x
}

func textOf(t *testing.T, d *document.Document) string {
	t.Helper()
	var b bytes.Buffer
	if err := document.Text(&b, d, document.TextOptions{Width: 100}); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

func TestChemistryShows(t *testing.T) {
	for _, c := range []struct {
		question    string
		conventions redox.Conventions
		want        []string
		not         []string
	}{
		{"Zn + Cu^2+ -> Zn^2+ + Cu", redox.Conventions{},
			[]string{"Does it go?", "Goes. The potential of the cell is +1.099 V", "E° of the cell: +1.099", "2 electrons", "Sources of the figures", "OpenStax", "before: Zn", caution.Deferral, "from memory"},
			[]string{"On paper only"}},
		{"Zn + Cu^2+ -> Zn^2+ + Cu", redox.Conventions{Comma: true}, []string{"+1,099"}, []string{"+1.099"}},
		{"Fe2O3 + CO -> Fe + CO2", redox.Conventions{}, []string{"No potentials: the reaction has no two half-reactions in water"}, []string{"E° of the cell"}},
		{"CrO4^2- + SO3^2- -> Cr^3+ + SO4^2-, in acid", redox.Conventions{}, []string{"CrO₄²⁻ does not persist in strong acid"}, nil},
		{"NaClO + HCl -> NaCl + Cl2 + H2O", redox.Conventions{}, []string{"On paper only. This is not to be tried."}, []string{"gloves", "fume", "extraction"}},
		{"UO2^2+ + Zn -> U^4+ + Zn^2+, in acid", redox.Conventions{}, []string{caution.NoData}, nil},
	} {
		s, x := chemistryOf(t, c.question, c.conventions, energetics.Conditions{})
		d := document.FromSolution(s)
		d.AddChemistry(s, x)
		got := strings.Join(strings.Fields(textOf(t, d)), " ")
		for _, w := range c.want {
			if !strings.Contains(got, strings.Join(strings.Fields(w), " ")) {
				t.Errorf("%s: no %q in\n%s", c.question, w, got[strings.Index(got, "Does it go"):])
			}
		}
		for _, w := range c.not {
			if i := strings.Index(got, "Does it go"); strings.Contains(got[i:], w) {
				t.Errorf("%s: %q in\n%s", c.question, w, got[i:])
			}
		}
	}
}

// cellPage is a page with a picture.
func cellPage(t *testing.T) *document.Document {
	t.Helper()
	ph := 3.0
	s, x := chemistryOf(t, "MnO4^- + Fe^2+ -> Mn^2+ + Fe^3+, in acid", redox.Conventions{}, energetics.Conditions{PH: &ph})
	return document.FromCell(s, x)
}

// Every format shows the numbers of a picture, and HTML the picture too.
func TestFigures(t *testing.T) {
	d := cellPage(t)
	var html, md, tex bytes.Buffer
	if err := document.HTML(&html, d, document.HTMLOptions{}); err != nil {
		t.Fatal(err)
	}
	if err := document.Markdown(&md, d); err != nil {
		t.Fatal(err)
	}
	if err := document.LaTeX(&tex, d, document.LaTeXOptions{}); err != nil {
		t.Fatal(err)
	}
	for name, text := range map[string]string{"HTML": html.String(), "Markdown": md.String(), "LaTeX": tex.String(), "text": textOf(t, d)} {
		if !strings.Contains(text, "1.507") || !strings.Contains(text, "0.771") {
			t.Errorf("%s lacks the potentials", name)
		}
	}
	if n := strings.Count(html.String(), "<svg"); n != 1 {
		t.Errorf("HTML has %d pictures, want 1", n)
	}
	// Ids of pictures are their own.
	e, _ := chem.ElementBySymbol("Mn")
	f, err := energetics.Shipped().Frost(e)
	if err != nil {
		t.Fatal(err)
	}
	p := document.Figure{Drawn: diagram.FrostPlot(f, diagram.Style{})}
	html.Reset()
	if err := document.HTML(&html, &document.Document{Blocks: []document.Block{p, p}}, document.HTMLOptions{}); err != nil {
		t.Fatal(err)
	}
	seen := map[string]bool{}
	for _, id := range regexp.MustCompile(` id="([^"]+)"`).FindAllStringSubmatch(html.String(), -1) {
		if seen[id[1]] {
			t.Errorf("the id %s stands twice", id[1])
		}
		seen[id[1]] = true
	}
	if len(seen) == 0 {
		t.Error("no ids were found, so the test sees nothing")
	}
}

// A list of couples tells source and doubt of each figure.
func TestFromCouples(t *testing.T) {
	var some []*reference.Couple
	for _, c := range reference.Couples().All() {
		if strings.Contains(c.ID, "mno4") {
			some = append(some, c)
		}
	}
	got := textOf(t, document.FromCouples(redox.Conventions{}, "Couples of permanganate", some))
	for _, w := range []string{"+1.507", "OpenStax", "not the preferred figure"} {
		if !strings.Contains(got, w) {
			t.Errorf("no %q in\n%s", w, got)
		}
	}
	if got := textOf(t, document.FromCouples(redox.Conventions{}, "Couples", nil)); !strings.Contains(got, "No couple of the table is like that.") {
		t.Errorf("an empty list is\n%s", got)
	}
}

// Pages with pictures pass axe in light and dark, and scroll nowhere sideways.
func TestBrowserFigures(t *testing.T) {
	ctx := headless.Open(t)
	e, _ := chem.ElementBySymbol("Fe")
	m, err := energetics.Shipped().Map(e, 1e-6, nil)
	if err != nil {
		t.Fatal(err)
	}
	for name, d := range map[string]*document.Document{"cell": cellPage(t), "map": document.FromFigure(diagram.PHMap(m, diagram.Style{}))} {
		show(t, ctx, htmlOf(t, d, document.HTMLOptions{}))
		for _, colors := range []string{"light", "dark"} {
			scheme(t, ctx, "screen", colors)
			for _, v := range violations(t, ctx) {
				t.Errorf("%s: %s: %s", name, colors, v)
			}
		}
		for _, width := range []int64{320, 360, 800} {
			if err := chromedp.Do(ctx, chromedp.EmulateViewport(width, 800)); err != nil {
				t.Fatal(err)
			}
			wide := headless.Evaluate[string](t, ctx, `document.documentElement.scrollWidth <= document.documentElement.clientWidth ? "" :
				[...document.querySelectorAll("body *")].filter(e => e.getBoundingClientRect().right > document.documentElement.clientWidth + 0.5).slice(0, 6).map(e => e.tagName + "." + e.getAttribute("class")).join(" ")`)
			if wide != "" {
				t.Errorf("%s: at %d px the page scrolls sideways: %s", name, width, wide)
			}
		}
	}
}
