package diagram_test

import (
	"fmt"
	"html"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
	"pgregory.net/rapid"

	"halves/chem"
	"halves/diagram"
	"halves/drawing"
	"halves/internal/headless"
)

func bar(label string, value float64, end string) diagram.Bar {
	return diagram.Bar{Label: drawing.Plain(label), Value: value, End: end}
}

func formulaBar(t testing.TB, label, spoken string, value float64, end string) diagram.Bar {
	t.Helper()
	return diagram.Bar{Label: drawing.Signs(equation(t, label).Runs(chem.Style{})), Spoken: spoken, Value: value, End: end}
}

// barSamples are a class that is invented, and the limits.
func barSamples(t testing.TB) []diagram.Chart {
	slips := diagram.Chart{Title: "Workings by kind of first slip", Rows: []diagram.Bar{
		bar("electrons not made equal", 12, "12, 29\u00a0%"), bar("number of electrons", 9, "9, 21\u00a0%"),
		bar("only a part multiplied", 4, "4, 10\u00a0%"), bar("water on the wrong side", 2, "2, 5\u00a0%"), bar("not the lowest whole numbers", 1, "1, 2\u00a0%"),
	}}
	questions := diagram.Chart{Title: "Share of marks by question", Whole: 1, Rows: []diagram.Bar{
		formulaBar(t, "MnO4^- + Fe^2+ -> Mn^2+ + Fe^3+", "permanganate ion plus iron two ion give manganese two ion plus iron three ion", 0.83, "83\u00a0%"),
		formulaBar(t, "Cu + NO3^- -> Cu^2+ + NO", "", 1, "100\u00a0%"),
		formulaBar(t, "CrO4^2- + Fe(OH)2 -> Cr(OH)3 + Fe(OH)3", "", 0, "0\u00a0%"),
		bar("a question in words that nobody has been marked on so far", 0, "none"),
	}}
	many := diagram.Chart{Title: "Many"}
	for i := range 26 {
		many.Rows = append(many.Rows, bar(fmt.Sprintf("row %d with a label of some length", i+1), float64(26-i), fmt.Sprintf("%d, %d\u00a0%%", 26-i, 26-i)))
	}
	one := diagram.Chart{Title: "One", Rows: []diagram.Bar{bar(strings.Repeat("unbroken", 12), 3, "3, 100\u00a0%")}}
	return []diagram.Chart{slips, questions, many, one}
}

func drawBars(t testing.TB, c diagram.Chart) diagram.Drawn {
	t.Helper()
	d, ok := diagram.Bars(c)
	if !ok {
		t.Fatalf("%s: no chart", c.Title)
	}
	return d
}

// barsOf are the bars of a picture, from the top.
func barsOf(d diagram.Drawn) []drawing.Box {
	var out []drawing.Box
	for _, s := range d.Picture.Shapes {
		if r, ok := s.(drawing.Rectangle); ok {
			out = append(out, r.Box)
		}
	}
	return out
}

// barFaults are those of every picture, and letters over bars, letters that
// were lost.
func barFaults(c diagram.Chart, d diagram.Drawn) []string {
	out := faults(d)
	var seen, want strings.Builder
	for _, s := range d.Picture.Shapes {
		x, ok := s.(drawing.Text)
		if !ok {
			continue
		}
		seen.WriteString(chem.PlainText(x.Runs))
		for _, b := range barsOf(d) {
			if x.Box().Overlaps(b) {
				out = append(out, fmt.Sprintf("%q stands over a bar", chem.PlainText(x.Runs)))
			}
		}
	}
	for _, r := range c.Rows {
		want.WriteString(chem.PlainText(r.Label) + r.End)
	}
	letters := func(s string) string {
		return strings.Map(func(c rune) rune {
			if c == ' ' || c == '\n' || c == '\t' || c == '^' { // a caret may be said again behind a break
				return -1
			}
			return c
		}, s)
	}
	if letters(seen.String()) != letters(want.String()) {
		out = append(out, fmt.Sprintf("the picture has %q, want %q", seen.String(), want.String()))
	}
	return out
}

func TestBars(t *testing.T) {
	for _, c := range barSamples(t) {
		d := drawBars(t, c)
		for _, f := range barFaults(c, d) {
			t.Errorf("%s: %s", c.Title, f)
		}
		if d.Picture.Width > 440 {
			t.Errorf("%s is %v wide", c.Title, d.Picture.Width)
		}
		for _, r := range c.Rows {
			if !strings.Contains(d.Description, "("+r.End+")") {
				t.Errorf("%s: no %q in %s", c.Title, r.End, d.Description)
			}
		}
	}
	if d, ok := diagram.Bars(diagram.Chart{Title: "Nothing"}); ok || d.Picture != nil {
		t.Errorf("a chart of no rows: %v", d)
	}
}

// TestBarLengths holds that bars begin on one line and are as long as their
// values, against each other and against the whole.
func TestBarLengths(t *testing.T) {
	all := barSamples(t)
	slips := barsOf(drawBars(t, all[0]))
	if len(slips) != 5 {
		t.Fatalf("%d bars", len(slips))
	}
	length := func(b drawing.Box) float64 { return b.Max.X - b.Min.X }
	for i, r := range all[0].Rows {
		if b := slips[i]; b.Min.X != slips[0].Min.X || math.Abs(length(b)-length(slips[0])*r.Value/12) > 0.01 {
			t.Errorf("row %d, %v of 12: %v of %v long", i, r.Value, length(b), length(slips[0]))
		}
	}
	shares := barsOf(drawBars(t, all[1])) // those of zero have no bar
	if len(shares) != 2 || math.Abs(length(shares[0])-0.83*length(shares[1])) > 0.01 {
		t.Errorf("0.83 and 1 of 1: %v", shares)
	}
	half := diagram.Chart{Title: "Half", Whole: 1, Rows: []diagram.Bar{bar("a", 0.5, "50\u00a0%"), bar("b", 7, "700\u00a0%"), bar("c", -1, "-"), bar("d", math.NaN(), "-"), bar("e", math.Inf(1), "-")}}
	got := barsOf(drawBars(t, half))
	if len(got) != 3 || math.Abs(length(got[0])-length(got[1])/2) > 0.01 || length(got[2]) != length(got[1]) {
		t.Errorf("0.5, too much, less than nothing, no number, no end: %v", got)
	}
}

func TestBarWords(t *testing.T) {
	all := barSamples(t)
	want := "Workings by kind of first slip. 5 bars, from the top: electrons not made equal (12, 29\u00a0%); number of electrons (9, 21\u00a0%); "
	if d := drawBars(t, all[0]); !strings.HasPrefix(d.Description, want) || d.Title != all[0].Title {
		t.Errorf("%s: %s", d.Title, d.Description)
	}
	if d := drawBars(t, all[1]); !strings.Contains(d.Description, "permanganate ion plus iron two ion give manganese two ion plus iron three ion (83\u00a0%)") || !strings.Contains(d.Description, " (none).") {
		t.Error(d.Description)
	}
	if d := drawBars(t, all[3]); !strings.Contains(d.Description, "1 bar: ") {
		t.Error(d.Description)
	}
}

// TestBarLabels holds where labels are broken: the arrow begins a line, and
// formulas stay whole.
func TestBarLabels(t *testing.T) {
	c := barSamples(t)[1]
	c.Rows = append([]diagram.Bar{formulaBar(t, "Cu + Ag^+ -> Cu^2+ + Ag", "", 1, "1")}, c.Rows...)
	c.Rows[0].Label = append(c.Rows[0].Label, chem.Run{Text: ", in acid"})
	var got []string
	for _, s := range drawBars(t, c).Picture.Shapes {
		if x, ok := s.(drawing.Text); ok {
			got = append(got, chem.PlainText(x.Runs))
		}
	}
	want := []string{"Cu + Ag^+", "→ Cu^2+ + Ag, in acid", "1", "MnO4^− + Fe^2+", "→ Mn^2+ + Fe^3+", "83\u00a0%", "Cu + NO3^− → Cu^2+ + NO", "100\u00a0%"}
	if !slices.Equal(got[:len(want)], want) {
		t.Errorf("%q, want %q", got[:len(want)], want)
	}
}

// TestAnyBars: whatever the rows are, nothing overlaps, is lost or reaches out.
func TestAnyBars(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		c := diagram.Chart{Title: "Any", Whole: rapid.Float64().Draw(r, "whole")}
		for range rapid.IntRange(1, 26).Draw(r, "rows") {
			label := drawing.Plain(rapid.StringMatching(`[a-z0-9+ ]{0,60}`).Draw(r, "label"))
			if rapid.Bool().Draw(r, "formula") {
				label = append(label, drawing.Signs(drawSpecies(r, t).Runs())...)
			}
			c.Rows = append(c.Rows, diagram.Bar{Label: label, Value: rapid.Float64().Draw(r, "value"), End: rapid.StringMatching(`[0-9]{1,3}, [0-9]{1,3} %`).Draw(r, "end")})
		}
		for _, f := range barFaults(c, drawBars(t, c)) {
			r.Error(f)
		}
	})
}

// TestBrowserBars holds that a browser's letters are inside the picture and over
// no bar, that on a telephone they are large enough to read, and that axe finds
// nothing.
func TestBrowserBars(t *testing.T) {
	ctx := headless.Open(t)
	var b strings.Builder
	b.WriteString(`<!DOCTYPE html><html lang="en"><head><meta charset="utf-8"><meta name="viewport" content="width=device-width"><meta name="color-scheme" content="light dark"><title>Bars</title><style>body{margin:16px}` + drawing.Style() + `</style></head><body><main><h1>Bars</h1>`)
	for i, c := range barSamples(t) {
		fmt.Fprintf(&b, "<h2>%s</h2>%s", html.EscapeString(c.Title), svgOf(t, drawBars(t, c).Picture, drawing.Options{Prefix: fmt.Sprintf("b%d", i), Bare: true}))
	}
	b.WriteString("</main></body></html>")
	path := filepath.Join(t.TempDir(), "bars.html")
	if err := os.WriteFile(path, []byte(b.String()), 0o666); err != nil {
		t.Fatal(err)
	}
	if err := chromedp.Do(ctx, chromedp.Navigate("file://"+path)); err != nil {
		t.Fatal(err)
	}
	for _, width := range []int64{360, 1000} {
		if err := chromedp.Do(ctx, chromedp.EmulateViewport(width, 800)); err != nil {
			t.Fatal(err)
		}
		if wide := headless.Evaluate[int](t, ctx, "document.documentElement.scrollWidth"); wide > int(width) {
			t.Errorf("at %d px the page is %d wide", width, wide)
		}
		bad := headless.Evaluate[string](t, ctx, `[...document.querySelectorAll("svg")].flatMap(s => {
			const box = s.getBoundingClientRect(), bars = [...s.querySelectorAll("rect.f-fill-a")].map(e => e.getBoundingClientRect());
			const size = 16 * box.width / s.viewBox.baseVal.width;
			return [...s.querySelectorAll("text")].filter(e => {
				const r = e.getBoundingClientRect();
				return size < 12 || r.left < box.left || r.right > box.right || r.top < box.top || r.bottom > box.bottom || bars.some(b => r.left < b.right && b.left < r.right && r.top < b.bottom && b.top < r.bottom);
			}).map(e => e.textContent + ", letters of " + size + " px");
		}).join("; ")`)
		if bad != "" {
			t.Errorf("at %d px small, outside or over a bar: %s", width, bad)
		}
	}
	for _, colours := range []string{"light", "dark"} {
		scheme(t, ctx, "screen", colours)
		for _, v := range violations(t, ctx) {
			t.Errorf("%s: %s", colours, v)
		}
	}
}
