package document_test

import (
	"context"
	_ "embed"
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/chromedp"

	"halves/chem"
	"halves/document"
	"halves/internal/headless"
	"halves/redox"
)

// show writes a page into a file and loads it.
func show(t *testing.T, ctx context.Context, text string) {
	t.Helper()
	path := filepath.Join(t.TempDir(), "page.html")
	if err := os.WriteFile(path, []byte(text), 0o666); err != nil {
		t.Fatal(err)
	}
	if err := chromedp.Do(ctx, chromedp.Navigate("file://"+path)); err != nil {
		t.Fatal(err)
	}
}

// violations lists what headless.Axe finds against WCAG 2.2 A and AA and its own good
// practice.
func violations(t *testing.T, ctx context.Context) []string {
	t.Helper()
	headless.Evaluate[bool](t, ctx, headless.Axe+";true")
	found := headless.Evaluate[string](t, ctx, `axe.run(document, {resultTypes: ["violations"]}).then(r =>
		JSON.stringify(r.violations.map(v => v.id + ": " + v.help + ": " + v.nodes.map(n => n.html).slice(0, 3).join(" "))))`, chromedp.EvalAwaitPromise)
	var all []string
	if err := json.Unmarshal([]byte(found), &all); err != nil {
		t.Fatal(err)
	}
	return all
}

// scheme sets light or dark, for a screen or for paper.
func scheme(t *testing.T, ctx context.Context, media, colors string) {
	t.Helper()
	p := emulation.SetEmulatedMediaParams{Media: media, Features: []*emulation.MediaFeature{{Name: "prefers-color-scheme", Value: colors}}}
	if _, err := chromedp.Call(ctx, emulation.SetEmulatedMedia, p); err != nil {
		t.Fatal(err)
	}
}

func TestBrowserAccessibility(t *testing.T) {
	ctx := headless.Open(t)
	for _, q := range append(questions[:7:7], "") {
		d := every()
		if q != "" {
			d = documentOf(t, q)
		}
		show(t, ctx, htmlOf(t, d, document.HTMLOptions{}))
		for _, colors := range []string{"light", "dark"} {
			scheme(t, ctx, "screen", colors)
			for _, v := range violations(t, ctx) {
				t.Errorf("%s: %s: %s", q, colors, v)
			}
		}
	}
}

// TestBrowserFindsFaults shows that headless.Axe sees what is wrong: light grey letters,
// a picture and a page without a language.
func TestBrowserFindsFaults(t *testing.T) {
	ctx := headless.Open(t)
	show(t, ctx, `<!DOCTYPE html><html><head><title>x</title></head><body><main><h1>x</h1><p style="color:#ccc;background:#fff">grey</p></main></body></html>`)
	found := strings.Join(violations(t, ctx), "\n")
	for _, id := range []string{"color-contrast", "html-has-lang"} {
		if !strings.Contains(found, id) {
			t.Errorf("axe found no %s: %s", id, found)
		}
	}
}

// TestBrowserWidths holds that no page scrolls sideways, from the narrowest
// telephone on (WCAG 2.2, 1.4.10 asks for 320 px), and that no formula reaches
// out of it.
func TestBrowserWidths(t *testing.T) {
	ctx := headless.Open(t)
	permanganate, err := chem.ReadSpecies("KMnO4", nil) // it has long names
	if err != nil {
		t.Fatal(err)
	}
	for _, q := range append(questions[:len(questions):len(questions)], "", "KMnO4") {
		d := every()
		switch {
		case q == "KMnO4":
			d = document.FromSpecies(redox.Conventions{}, permanganate[0].Species, nil)
		case q != "":
			d = documentOf(t, q)
		}
		show(t, ctx, htmlOf(t, d, document.HTMLOptions{}))
		for _, width := range []int64{320, 360, 600, 680, 800, 1280} {
			if err := chromedp.Do(ctx, chromedp.EmulateViewport(width, 800)); err != nil {
				t.Fatal(err)
			}
			wide := headless.Evaluate[string](t, ctx, `(() => {
				const w = document.documentElement.clientWidth, out = [];
				if (document.documentElement.scrollWidth > w) out.push("the page");
				for (const e of document.querySelectorAll("p, h1, h2, li, .f")) {
					const r = e.getBoundingClientRect();
					if (!e.closest(".wide") && (r.right > w + 0.5 || r.left < -0.5)) out.push(e.className + " " + e.textContent.slice(0, 40));
				}
				return out.slice(0, 5).join("; ");
			})()`)
			if wide != "" {
				t.Errorf("%s: at %d px too wide: %s", q, width, wide)
			}
		}
	}
}

// TestBrowserAligns holds that the arrows of a half stand under each other
// where there is room.
func TestBrowserAligns(t *testing.T) {
	ctx := headless.Open(t)
	show(t, ctx, htmlOf(t, documentOf(t, questions[0]), document.HTMLOptions{}))
	if err := chromedp.Do(ctx, chromedp.EmulateViewport(1280, 800)); err != nil {
		t.Fatal(err)
	}
	lines := headless.Evaluate[string](t, ctx, `[...document.querySelectorAll("ol.work")].map(ol =>
		[...new Set([...ol.querySelectorAll(ol.querySelector(".left") ? ".left + .right" : ".line .right")].map(e => Math.round(e.getBoundingClientRect().left)))].length).join(" ")`)
	if lines != "1 1 1" {
		t.Errorf("in the sections the arrows stand at %s places, want 1 in each", lines)
	}
}

// TestBrowserCopy holds that a copy has the signs and not the words.
func TestBrowserCopy(t *testing.T) {
	ctx := headless.Open(t)
	show(t, ctx, htmlOf(t, every(), document.HTMLOptions{}))
	copied := headless.Evaluate[string](t, ctx, `getSelection().selectAllChildren(document.body), getSelection().toString()`)
	if !strings.Contains(copied, "MnO4− → Mn2+") || strings.Contains(copied, "permanganate ion gives") || strings.Contains(copied, "not equal") {
		t.Errorf("copied:\n%s", copied)
	}
}

// TestBrowserTree reads what the page as a browser built it leaves to a screen
// reader: all that is neither hidden from it nor not displayed.
func TestBrowserTree(t *testing.T) {
	ctx := headless.Open(t)
	show(t, ctx, htmlOf(t, every(), document.HTMLOptions{}))
	heard := headless.Evaluate[string](t, ctx, `(() => {
		const out = [], walk = n => {
			if (n.nodeType === 3) out.push(n.data);
			else if (n.getAttribute("aria-hidden") !== "true" && getComputedStyle(n).display !== "none" && n.tagName !== "STYLE") n.childNodes.forEach(walk);
		};
		walk(document.body);
		return out.join("");
	})()`)
	for _, want := range []string{"permanganate ion gives manganese two ion", "A remark on permanganate ion & more.", "plus 7"} {
		if !strings.Contains(heard, want) {
			t.Errorf("not heard: %q in\n%s", want, heard)
		}
	}
}

// TestBrowserPrints holds that on paper letters are black and paper is white,
// in light and dark, and that halves are not torn.
func TestBrowserPrints(t *testing.T) {
	ctx := headless.Open(t)
	show(t, ctx, htmlOf(t, every(), document.HTMLOptions{}))
	for _, colors := range []string{"light", "dark"} {
		scheme(t, ctx, "print", colors)
		got := headless.Evaluate[string](t, ctx, `(() => {
			const s = (q, p) => getComputedStyle(document.querySelector(q))[p];
			return [s(".why", "color"), s(".halves", "backgroundColor"), s("body", "backgroundColor"), s(".keep", "breakInside"), s(".work li", "breakInside")].join("; ");
		})()`)
		if want := "rgb(0, 0, 0); rgb(255, 255, 255); rgb(255, 255, 255); avoid; avoid"; got != want {
			t.Errorf("printed, %s: %s, want %s", colors, got, want)
		}
	}
	if pdf, err := chromedp.Run(ctx, chromedp.PrintToPDF()); err != nil || len(pdf) == 0 {
		t.Error(fmt.Errorf("printed %d bytes: %w", len(pdf), err))
	}
}
