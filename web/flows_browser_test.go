package web

import (
	"context"
	"io"
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
)

// A hand counts what a person does: a click, or something typed into a field that
// has the focus, or a key.
type hand struct {
	boardBrowser
	actions int
}

func (h *hand) click(selector string) {
	h.Helper()
	h.actions++
	h.do(chromedp.Click(chromedp.CSS(selector)))
}

func (h *hand) types(text string) {
	h.Helper()
	h.actions++
	h.do(chromedp.KeyEvent(text))
}

// flows is a desk with the demo course, and a hand in a browser.
func flows(t *testing.T) *hand {
	t.Helper()
	b := openBoard(t)
	s, m := desk(t)
	if err := SeedDemo(context.Background(), m, s.pool, time.Date(2026, 11, 26, 9, 0, 0, 0, time.UTC)); err != nil {
		t.Fatal(err)
	}
	server := httptest.NewServer(s.Handler())
	t.Cleanup(server.Close)
	b.base = server.URL
	return &hand{boardBrowser: b}
}

// TestFirstSolution: from the first page to the own worked solution in at most
// three actions: the field has the focus.
func TestFirstSolution(t *testing.T) {
	h := flows(t)
	h.do(chromedp.Navigate(h.base + "/"))
	h.until(`document.activeElement?.id === "q"`)
	h.types("MnO4- + Fe2+ -> Mn2+ + Fe3+, in acid")
	h.until(`document.querySelector("#reading .read") !== null`)
	h.types(kb.Enter)
	h.until(`document.querySelector(".paper .answer") !== null`)
	if h.actions > 3 {
		t.Errorf("%d actions, want 3 at most", h.actions)
	}
	if got := read[string](h.boardBrowser, `document.querySelector(".paper .answer [aria-hidden]").textContent.replace(/\s+/g, " ").trim()`); !strings.Contains(got, "5 Fe2+") {
		t.Errorf("the answer is %q", got)
	}
}

// TestPrintedWorksheet: from the demo course to a printed worksheet in at most six
// actions.
func TestPrintedWorksheet(t *testing.T) {
	h := flows(t)
	h.do(chromedp.Navigate(h.base + "/"))
	h.until(`document.readyState === "complete"`)
	h.click(`.desk-head a[href="/sets"]`)
	h.until(`location.pathname === "/sets" && document.readyState === "complete"`)
	h.click(`main a[href^="/sets/"]:not([href="/sets/new"])`)
	h.until(`/^\/sets\/\d+$/.test(location.pathname) && document.readyState === "complete"`)
	address := read[string](h.boardBrowser, `[...document.querySelectorAll("main a")].find(a => /worksheet\.pdf/.test(a.href))?.href ?? ""`)
	if address == "" {
		t.Fatal("the page of a set has no worksheet as PDF")
	}
	h.actions++ // the click on it
	if h.actions > 6 {
		t.Errorf("%d actions, want 6 at most", h.actions)
	}
	r, err := http.Get(address)
	if err != nil {
		t.Fatal(err)
	}
	defer r.Body.Close()
	begin := make([]byte, 5)
	if _, err := io.ReadFull(r.Body, begin); err != nil || string(begin) != "%PDF-" {
		t.Errorf("the worksheet begins %q, %v", begin, err)
	}
}

// TestByKeyboard goes from the first page to a worked solution, a kept question
// and back with keys alone.
func TestByKeyboard(t *testing.T) {
	h := flows(t)
	h.do(chromedp.Navigate(h.base + "/"))
	h.until(`document.activeElement?.id === "q"`)
	h.types("Cl2 -> Cl^- + ClO3^-, in base")
	h.types(kb.Enter)
	h.until(`document.querySelector(".paper .answer") !== null`)
	// Tab reaches every control that can be seen, and each shows that it has the
	// focus.
	seen := map[string]bool{}
	for range 60 {
		h.types(kb.Tab)
		at := read[string](h.boardBrowser, `(() => { const e = document.activeElement; if (!e || e === document.body) return ""; const s = getComputedStyle(e); const shown = s.outlineStyle !== "none" && parseFloat(s.outlineWidth) > 0; return (shown ? "" : "NO FOCUS SHOWN ") + (e.textContent.trim() || e.id || e.tagName); })()`)
		if strings.HasPrefix(at, "NO FOCUS") {
			t.Error(at)
		}
		seen[at] = true
	}
	for _, want := range []string{"Show on the board", "Keep as a question", "PDF", "Copy a line"} {
		found := false
		for k := range seen {
			found = found || strings.HasPrefix(k, want)
		}
		if !found {
			t.Errorf("the tab key does not reach %q", want)
		}
	}
}
