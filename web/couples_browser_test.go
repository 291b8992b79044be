package web

import (
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
)

// TestBrowserCouplesClean holds each page of couples to axe and to its width.
func TestBrowserCouplesClean(t *testing.T) {
	b := openBoard(t)
	for _, page := range []string{
		"/couples", "/couples?q=Mn", "/couples?q=permangante", "/couples?from=9", "/couples?q=Fr", "/couples/half", "/couples/half?q=PtCl4%5E2-+-%3E+Pt", "/couples/half?q=NpO2+-%3E+Np",
		"/couples/among", "/couples/among?species=MnO4%5E-%2C+Fe%5E2%2B", "/couples/Mn", "/couples/N?medium=basic", "/couples/O", "/couples/Fr", "/couples/cell",
		"/couples/cell?q=MnO4%5E-+%2B+H2C2O4+-%3E+Mn%5E2%2B+%2B+CO2%2C+in+acid&ph=3", "/couples/cell?q=Zn+%2B+Cu%5E2%2B+-%3E+Zn%5E2%2B+%2B+Cu&a1=abc",
	} {
		b.do(chromedp.EmulateViewport(1280, 800), chromedp.Navigate(b.base+page))
		read[bool](b, `[...document.querySelectorAll("details")].forEach(d => d.open = true) ?? true`)
		b.clean(page)
	}
}

// TestBrowserCell slides the pH and sees the figures follow, by keyboard and by
// number.
func TestBrowserCell(t *testing.T) {
	b := openBoard(t)
	b.do(chromedp.EmulateViewport(1280, 900))
	b.ask("/couples/cell", "MnO4^- + Fe^2+ -> Mn^2+ + Fe^3+, in acid", "")
	const now = `document.querySelector("#now td.now")?.textContent.trim()`
	if got := read[string](b, now); got != "+0.736\u00a0V" {
		t.Fatalf("in the standard state E is %q", got)
	}
	// Ten steps of a tenth: 0.736 - 0.0592/5 * 8 = 0.641, by hand (the Nernst
	// equation, OpenStax, Chemistry 2e, section 17.4).
	b.focused(`[data-for="ph"]`)
	for range 10 {
		b.do(chromedp.KeyEvent(kb.ArrowRight))
	}
	b.until(now + ` === "+0.641\u00a0V"`)
	if got := read[string](b, `document.getElementById("ph").value + " " + location.search`); !strings.HasPrefix(got, "1 ") || !strings.Contains(got, "ph=1") {
		t.Errorf("the field and the address: %q", got)
	}
	// A number that is typed moves the slider: 0.736 - 0.0592/5 * 24 = 0.452.
	b.pasted("ph", "3,0")
	b.until(now + ` === "+0.452\u00a0V"`)
	if got := read[string](b, `document.querySelector('[data-for="ph"]').value`); got != "3" {
		t.Errorf("the slider stands at %s", got)
	}
	// A concentration by its slider: ten times less MnO4^- is a fifth of 0.0592 V less.
	b.pasted("ph", "0")
	b.focused(`[data-for="a1"]`)
	for range 10 {
		b.do(chromedp.KeyEvent(kb.ArrowLeft))
	}
	b.until(now + ` === "+0.724\u00a0V"`)
	if got := read[string](b, `document.getElementById("a1").value + " " + document.querySelector('[data-for="a1"]').getAttribute("aria-valuetext")`); got != "0.1 0.1 mol/L" {
		t.Errorf("the concentration is %q", got)
	}
	// What is no number is said, and the address stays one that works.
	b.pasted("a1", "much")
	b.until(`document.querySelector("#now .mistake") !== null`)
	b.clean("a wrong number")
	// The address makes the same page again.
	b.pasted("a1", "0.1")
	b.until(now + ` === "+0.724\u00a0V"`)
	b.do(chromedp.Reload())
	b.until(now + ` === "+0.724\u00a0V"`)
}

// TestBrowserOvertaken drops an answer that was overtaken by a later one.
func TestBrowserOvertaken(t *testing.T) {
	b := openBoard(t)
	b.do(chromedp.EmulateViewport(1280, 900))
	b.ask("/couples/cell", "Zn + Cu^2+ -> Zn^2+ + Cu", "")
	// The first answer is held back until the second is there.
	read[bool](b, `(() => {
		const send = window.fetch, held = [];
		window.asked = 0;
		window.fetch = (...what) => {
			if (++window.asked > 1) return send(...what).finally(() => setTimeout(() => held.forEach(go => go()), 100));
			return new Promise((done, fail) => {
				what[1].signal.addEventListener("abort", () => (window.dropped = true, fail(what[1].signal.reason)));
				held.push(() => send(what[0]).then(done, fail));
			});
		};
		return true;
	})()`)
	b.pasted("a1", "0.01")
	b.until(`window.asked === 1`)
	b.pasted("a1", "100")
	// 1.099 + 0.0592/2 * 2 = 1.158, by hand.
	b.until(`document.querySelector("#now td.now").textContent.trim() === "+1.158\u00a0V"`)
	b.until(`window.dropped === true`)
	if got := read[string](b, `new Promise(r => setTimeout(() => r(document.querySelector("#now td.now").textContent.trim()), 400))`); got != "+1.158\u00a0V" {
		t.Errorf("an answer that was overtaken is shown: %s", got)
	}
}

// TestBrowserMap slides the concentration of a map and sees it drawn anew.
func TestBrowserMap(t *testing.T) {
	b := openBoard(t)
	b.do(chromedp.EmulateViewport(1280, 900), chromedp.Navigate(b.base+"/couples/Mn"))
	const words = `(document.querySelector("#map-figure desc")?.textContent ?? "")`
	if got := read[string](b, words); !strings.Contains(got, "0.000001 moles per litre") {
		t.Fatalf("the map says %.120q", got)
	}
	read[bool](b, `document.getElementById("map-numbers").open = true`)
	b.focused(`[data-for="c"]`)
	b.do(chromedp.KeyEvent(kb.End))
	b.until(words + `.includes("at 1 mole")`)
	if !read[bool](b, `document.getElementById("map-numbers").open && document.activeElement.dataset.for === "c" && document.querySelector("#map-figure a[download]").href.includes("c=1")`) {
		t.Error("what was open is closed, the focus is lost, or the file is of another map")
	}
	b.pasted("c", "2e-6")
	b.until(words + `.includes("0.000002 moles per litre")`)
}

// TestBrowserElements finds an element while one types.
func TestBrowserElements(t *testing.T) {
	b := openBoard(t)
	b.do(chromedp.EmulateViewport(1280, 900), chromedp.Navigate(b.base+"/couples"))
	b.focused("#filter")
	b.do(chromedp.KeyEvent("mang"))
	b.until(`[...document.querySelectorAll("#element-list li")].filter(i => i.checkVisibility()).length === 1`)
	b.do(chromedp.KeyEvent(kb.Enter), chromedp.WaitVisible(chromedp.CSS("#latimer")))
	if got := read[string](b, `location.pathname`); got != "/couples/Mn" {
		t.Errorf("Enter went to %s", got)
	}
}
