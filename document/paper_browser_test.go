package document_test

import (
	"context"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"

	"halves/document"
	"halves/internal/headless"
)

func TestBrowserPaper(t *testing.T) {
	ctx := headless.Open(t)
	for name, d := range paperPages(t) {
		show(t, ctx, htmlOf(t, d, document.HTMLOptions{}))
		for _, open := range []string{"false", "true"} {
			headless.Evaluate[bool](t, ctx, `document.querySelectorAll("details").forEach(e => e.open = `+open+`); true`)
			for _, colors := range []string{"light", "dark"} {
				scheme(t, ctx, "screen", colors)
				for _, v := range violations(t, ctx) {
					t.Errorf("%s: %s: %s", name, colors, v)
				}
			}
		}
		for _, width := range []int64{320, 360, 600, 800, 1280, 1920} {
			if err := chromedp.Do(ctx, chromedp.EmulateViewport(width, 800)); err != nil {
				t.Fatal(err)
			}
			wide := headless.Evaluate[string](t, ctx, `(() => {
				const w = document.documentElement.clientWidth, out = [];
				if (document.documentElement.scrollWidth > w) out.push("the page");
				for (const e of document.querySelectorAll("p, h1, h2, h3, li, .f, .ruled, .field")) {
					const r = e.getBoundingClientRect();
					if (!e.closest(".wide") && !e.closest(".said") && (r.right > w + 0.5 || r.left < -0.5)) out.push(e.className + " " + e.textContent.slice(0, 40));
				}
				return out.slice(0, 5).join("; ");
			})()`)
			if wide != "" {
				t.Errorf("%s: at %d px too wide: %s", name, width, wide)
			}
		}
	}
}

// TestBrowserRules holds that rules are drawn, all as far apart, and can be seen.
func TestBrowserRules(t *testing.T) {
	ctx := headless.Open(t)
	show(t, ctx, htmlOf(t, onPaper(), document.HTMLOptions{}))
	for _, media := range []string{"screen", "print"} {
		scheme(t, ctx, media, "light")
		got := headless.Evaluate[string](t, ctx, `(() => {
			const first = document.querySelector("p.ruled"), all = [...document.querySelectorAll("div.ruled")].slice(0, 2);
			const ends = [first, ...all].map(e => e.getBoundingClientRect().bottom);
			const gaps = ends.slice(1).map((y, i) => y - ends[i]);
			const border = getComputedStyle(first, "::after"), last = getComputedStyle(all[1]);
			const alone = [...document.querySelectorAll("p.ruled")][1].getBoundingClientRect().height;
			return [...gaps, alone].map(Math.round).concat(border.borderBottomStyle, last.borderBottomStyle, last.borderBottomColor).join(" ");
		})()`)
		want := "36 36 36 solid solid rgb(85, 83, 78)" // 2.1 em
		if media == "print" {
			want = "32 32 32 solid solid rgb(0, 0, 0)" // 8.5 mm are 32.1 px of CSS
		}
		if got != want {
			t.Errorf("on %s the rules are %s, want %s", media, got, want)
		}
	}
}

// pagesOf prints what the browser shows and returns the text of each page.
func pagesOf(t *testing.T, ctx context.Context) []string {
	t.Helper()
	totext := needProgram(t, "pdftotext", "poppler-utils")
	pdf, err := chromedp.Run(ctx, chromedp.PrintToPDF())
	if err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(t.TempDir(), "page.pdf")
	if err := os.WriteFile(path, pdf, 0o666); err != nil {
		t.Fatal(err)
	}
	out, err := exec.Command(totext, "-layout", path, "-").Output()
	if err != nil {
		t.Fatal(err)
	}
	all := strings.Split(string(out), "\f")
	return all[:len(all)-1]
}

// TestBrowserPrintsPaper holds that each page has its head, foot and number, that a
// break begins a page and leaves none empty, and that notes are printed where
// they are open.
func TestBrowserPrintsPaper(t *testing.T) {
	ctx := headless.Open(t)
	d := worksheet(t)
	show(t, ctx, htmlOf(t, d, document.HTMLOptions{}))
	pages := pagesOf(t, ctx)
	for i, page := range pages {
		for _, want := range []string{d.Running.Left, d.Running.Right, d.Running.Foot, fmt.Sprintf("%d of %d", i+1, len(pages))} {
			if n := strings.Count(page, want); n != 1 && (n != 2 || want != d.Running.Foot || i < len(pages)-1) {
				t.Errorf("page %d has %q %d times:\n%s", i+1, want, n, page)
			}
		}
	}
	if len(pages) < 3 || strings.Contains(pages[0], "Key") || !strings.Contains(pages[0], "12.") || !strings.Contains(pages[1], "Key") {
		t.Errorf("the key does not begin the second of %d pages: %s", len(pages), pages)
	}
	few := &document.Document{Blocks: []document.Block{
		document.Exercise{Number: 1}, document.Break{}, document.Exercise{Number: 2}, document.Break{}, document.Break{}, document.Heading{Level: 1, Text: prose("three")},
		document.Break{}, document.Equation{Line: runsOf("Cu -> Cu^2+ + 2 e^-")}, document.Break{},
	}}
	show(t, ctx, htmlOf(t, few, document.HTMLOptions{}))
	if got := strings.Join(strings.Fields(strings.Join(pagesOf(t, ctx), "/")), ""); got != "1./2./three/Cu→Cu2++2e−" {
		t.Errorf("breaks make pages %q", got)
	}
	show(t, ctx, htmlOf(t, deck(t), document.HTMLOptions{}))
	pages = pagesOf(t, ctx)
	if len(pages) != 4 || strings.Contains(strings.Join(pages, ""), "What is said") {
		t.Errorf("the deck has %d pages, want 4, without notes: %q", len(pages), pages)
	}
	headless.Evaluate[bool](t, ctx, `document.querySelectorAll("details").forEach(e => e.open = true); true`)
	if pages = pagesOf(t, ctx); len(pages) != 4 || !strings.Contains(pages[0], "What is said") || !strings.Contains(pages[3], "Check it aloud.") {
		t.Errorf("the deck with open notes has %d pages, want 4 with notes: %q", len(pages), pages)
	}
}
