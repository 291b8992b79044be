package diagram_test

import (
	"context"
	"encoding/json"
	"fmt"
	"html"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/chromedp"

	"halves/drawing"
	"halves/internal/headless"
)

// show writes a page that holds every sample and loads it.
func show(t *testing.T, ctx context.Context) {
	t.Helper()
	var b strings.Builder
	b.WriteString(`<!DOCTYPE html><html lang="en"><head><meta charset="utf-8"><meta name="color-scheme" content="light dark"><title>Pictures</title><style>` + drawing.Style() + `</style></head><body><main><h1>Pictures</h1>`)
	for i, s := range samples(t) {
		fmt.Fprintf(&b, "<h2>%s</h2>%s", html.EscapeString(s.Title), svgOf(t, s.Picture, drawing.Options{Prefix: fmt.Sprintf("p%d", i), Bare: i > 0}))
	}
	b.WriteString("</main></body></html>")
	path := filepath.Join(t.TempDir(), "page.html")
	if err := os.WriteFile(path, []byte(b.String()), 0o666); err != nil {
		t.Fatal(err)
	}
	if err := chromedp.Do(ctx, chromedp.Navigate("file://"+path)); err != nil {
		t.Fatal(err)
	}
}

// scheme sets light or dark, for a screen or for paper.
func scheme(t *testing.T, ctx context.Context, media, colours string) {
	t.Helper()
	p := emulation.SetEmulatedMediaParams{Media: media, Features: []*emulation.MediaFeature{{Name: "prefers-color-scheme", Value: colours}}}
	if _, err := chromedp.Call(ctx, emulation.SetEmulatedMedia, p); err != nil {
		t.Fatal(err)
	}
}

// violations lists what axe-core finds against WCAG 2.2 A and AA and its own
// good practice.
func violations(t *testing.T, ctx context.Context) []string {
	t.Helper()
	headless.Evaluate[bool](t, ctx, headless.Axe+";true")
	found := headless.Evaluate[string](t, ctx, `axe.run(document, {resultTypes: ["violations"]}).then(r =>
		JSON.stringify(r.violations.map(v => v.id + ": " + v.help + ": " + v.nodes.map(n => n.html.slice(0, 200)).slice(0, 3).join(" "))))`, chromedp.EvalAwaitPromise)
	var all []string
	if err := json.Unmarshal([]byte(found), &all); err != nil {
		t.Fatal(err)
	}
	return all
}

func TestBrowserAccessibility(t *testing.T) {
	ctx := headless.Open(t)
	show(t, ctx)
	for _, colours := range []string{"light", "dark"} {
		scheme(t, ctx, "screen", colours)
		for _, v := range violations(t, ctx) {
			t.Errorf("%s: %s", colours, v)
		}
	}
	// That axe looks at the pictures: without its words one is a fault.
	headless.Evaluate[bool](t, ctx, `(() => { const s = document.querySelector("svg"); s.querySelector("title").remove(); s.removeAttribute("aria-labelledby"); s.removeAttribute("aria-describedby"); return true })()`)
	if v := strings.Join(violations(t, ctx), "\n"); !strings.Contains(v, "svg-img-alt") {
		t.Errorf("a picture without words is no fault to axe: %s", v)
	}
}

// TestBrowserColours holds that light, dark and paper have their colours, the
// hatching too.
func TestBrowserColours(t *testing.T) {
	ctx := headless.Open(t)
	show(t, ctx)
	colour := func(hex string) string {
		var r, g, b int
		if _, err := fmt.Sscanf(hex, "#%02x%02x%02x", &r, &g, &b); err != nil {
			t.Fatal(err)
		}
		return fmt.Sprintf("rgb(%d, %d, %d)", r, g, b)
	}
	for _, tt := range []struct {
		media, colours string
		theme          drawing.Theme
	}{{"screen", "light", drawing.Light()}, {"screen", "dark", drawing.Dark()}, {"print", "light", drawing.Paper()}, {"print", "dark", drawing.Paper()}} {
		scheme(t, ctx, tt.media, tt.colours)
		got := headless.Evaluate[string](t, ctx, `(() => {
			const s = (q, p) => getComputedStyle(document.querySelector(q))[p];
			return [s("svg > rect", "fill"), s("svg text.f-ink", "fill"), s("pattern path", "stroke"), s("polygon.f-fill-b", "fill")].join("; ");
		})()`)
		want := strings.Join([]string{colour(tt.theme[drawing.Ground]), colour(tt.theme[drawing.Ink]), colour(tt.theme[drawing.Shade]), colour(tt.theme[drawing.FillB])}, "; ")
		if got != want {
			t.Errorf("%s, %s: %s, want %s", tt.media, tt.colours, got, want)
		}
	}
}

// TestBrowserWidths holds the widths that were reckoned with against those of a
// browser: no text is longer, none reaches out of its picture, and on a narrow
// window a picture shrinks.
func TestBrowserWidths(t *testing.T) {
	ctx := headless.Open(t)
	show(t, ctx)
	if err := chromedp.Do(ctx, chromedp.EmulateViewport(1400, 900)); err != nil {
		t.Fatal(err)
	}
	var reckoned []float64
	for _, s := range samples(t) {
		for _, shape := range s.Picture.Shapes {
			if x, ok := shape.(drawing.Text); ok {
				reckoned = append(reckoned, x.Width())
			}
		}
	}
	type text struct {
		Text    string
		Width   float64
		Outside bool
	}
	var texts []text
	if err := json.Unmarshal([]byte(headless.Evaluate[string](t, ctx, `JSON.stringify([...document.querySelectorAll("svg text")].map(e => {
		const r = e.getBoundingClientRect(), s = e.ownerSVGElement.getBoundingClientRect();
		return {Text: e.textContent, Width: e.getComputedTextLength(), Outside: r.left < s.left || r.right > s.right || r.top < s.top || r.bottom > s.bottom};
	}))`)), &texts); err != nil {
		t.Fatal(err)
	}
	if len(texts) != len(reckoned) {
		t.Fatalf("%d texts on the page, %d in the pictures", len(texts), len(reckoned))
	}
	for i, x := range texts {
		if x.Width > reckoned[i]*1.005+0.1 || x.Width < reckoned[i]*0.6 {
			t.Errorf("%q is %.1f wide, reckoned %.1f", x.Text, x.Width, reckoned[i])
		}
		if x.Outside {
			t.Errorf("%q reaches out of its picture", x.Text)
		}
	}
	if err := chromedp.Do(ctx, chromedp.EmulateViewport(400, 900)); err != nil {
		t.Fatal(err)
	}
	if wide := headless.Evaluate[int](t, ctx, "document.documentElement.scrollWidth"); wide > 400 {
		t.Errorf("at 400 px the page is %d wide", wide)
	}
}
