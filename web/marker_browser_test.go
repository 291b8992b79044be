package web

import (
	"fmt"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
)

// pasted puts a text into a field as a paste does, and tells the page.
func (b boardBrowser) pasted(id, text string) {
	b.Helper()
	read[bool](b, fmt.Sprintf(`(() => { const e = document.getElementById(%q); e.value = %q; return e.dispatchEvent(new Event("input", {bubbles: true})); })()`, id, text))
}

// focused puts the focus on an element.
func (b boardBrowser) focused(selector string) {
	b.Helper()
	if !read[bool](b, fmt.Sprintf(`(() => { const e = document.querySelector(%q); e?.focus(); return document.activeElement === e; })()`, selector)) {
		b.Fatalf("%s cannot have the focus", selector)
	}
}

// clean holds a page to axe, in light and dark, and to the widths of a telephone.
func (b boardBrowser) clean(state string) {
	b.Helper()
	for _, colors := range []string{"light", "dark"} {
		b.looks(colors, "no-preference")
		for _, fault := range b.faults() {
			b.Errorf("%s, %s: %s", state, colors, fault)
		}
	}
	for _, width := range []int64{320, 360, 1280} {
		b.do(chromedp.EmulateViewport(width, 800))
		if wide := read[int64](b, `document.documentElement.scrollWidth`); wide > width {
			b.Errorf("%s: at %d px the page is %d wide", state, width, wide)
		}
	}
}

// TestBrowserMarker pastes a working and sees it judged, changes the scheme,
// overrules a line, and comes back to what was typed.
func TestBrowserMarker(t *testing.T) {
	b := openBoard(t)
	b.do(chromedp.EmulateViewport(1280, 900), chromedp.Navigate(b.base+"/marker"))
	b.clean("empty")
	b.pasted("q", markerQuestion)
	b.until(`document.querySelector("#reading .read") !== null`)
	b.pasted("working", slippedWorking())
	b.until(`document.querySelector(".first-slip .n")?.textContent.includes("5") === true`)
	if got := read[string](b, `document.getElementById("told").textContent`); !strings.HasPrefix(got, "4 of 6 marks. The first slip is on line 5") {
		t.Errorf("told %q", got)
	}
	if got := read[string](b, `[...document.querySelectorAll(".judged-lines .verdict")].map(v => v.textContent).join("; ")`); got != "stands; stands; stands; stands; first slip" {
		t.Errorf("the verdicts are %q", got)
	}
	b.clean("judged")

	// Typing goes on where it was while the judgement is replaced.
	b.do(chromedp.EmulateViewport(1280, 900))
	b.focused("#worth-oxidation")
	read[bool](b, `document.activeElement.select() ?? true`)
	b.do(chromedp.KeyEvent("1"))
	b.do(chromedp.KeyEvent("2"))
	b.until(`document.getElementById("outcome").textContent.includes("15 of 17")`)
	if got := read[string](b, `document.activeElement.id + " " + document.activeElement.value + " " + document.activeElement.selectionStart`); got != "worth-oxidation 12 2" {
		t.Errorf("after typing a worth: %q", got)
	}

	// A line is overruled by keyboard alone.
	b.focused("#why-5 summary")
	b.do(chromedp.KeyEvent(kb.Enter), chromedp.KeyEvent(kb.Tab), chromedp.KeyEvent(kb.Enter))
	b.until(`document.activeElement.id === "panel-verdict"`)
	b.clean("a line being overruled")
	b.do(chromedp.EmulateViewport(1280, 900))
	b.focused("#panel-verdict")
	b.do(chromedp.KeyEvent("st"), chromedp.KeyEvent(kb.Tab), chromedp.KeyEvent(kb.Tab), chromedp.KeyEvent("as in class"), chromedp.KeyEvent(kb.Tab), chromedp.KeyEvent(kb.Enter))
	b.until(`document.getElementById("outcome").parentElement.textContent.includes("Without your verdicts they would be 15 of 17.")`)
	if got := read[string](b, `document.querySelector(".judged-lines li:nth-child(5)").textContent`); !strings.Contains(got, "As in class.") || !strings.Contains(got, "Overruled by you") {
		t.Errorf("line 5 says %q", got)
	}
	b.clean("overruled")

	// The student's page and the map of slips.
	read[bool](b, `[...document.querySelectorAll("#judged details")].forEach(d => d.open = true) ?? true`)
	b.clean("all open")

	// A later visit finds what was typed, and begins anew when asked.
	b.do(chromedp.EmulateViewport(1280, 900), chromedp.Navigate(b.base+"/couples"), chromedp.Navigate(b.base+"/marker"))
	b.until(`document.querySelector(".first-slip") !== null`)
	b.do(chromedp.Click(chromedp.CSS("[data-anew]")), chromedp.WaitVisible(chromedp.CSS("[data-empty]")))
	if got := read[string](b, `document.getElementById("working").value`); got != "" {
		t.Errorf("begun anew, the field has %q", got)
	}

	// Nothing is lost when the desk does not answer.
	b.pasted("q", markerQuestion)
	b.stop()
	b.pasted("working", soundWorking)
	b.until(`document.getElementById("told").textContent === "The desk does not answer. What you typed is still here."`)
	if got := read[string](b, `document.getElementById("working").value`); got != soundWorking {
		t.Errorf("left in the field: %q", got)
	}
}
