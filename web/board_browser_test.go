package web

import (
	"context"
	"encoding/json"
	"halves/internal/headless"
	"net/http/httptest"
	"net/url"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
)

// A boardBrowser is a browser without a window that looks at a desk.
type boardBrowser struct {
	*testing.T
	ctx  context.Context // of a tab
	base string
	stop func() // ends the desk
}

// openBoard starts a desk and a browser with a profile of its own. Without a
// browser the test is skipped; with HALVES_NO_SKIP it fails.
func openBoard(t *testing.T) boardBrowser {
	t.Helper()
	ctx := headless.Open(t)
	s, _ := desk(t)
	server := httptest.NewServer(s.Handler())
	t.Cleanup(server.Close)
	return boardBrowser{t, ctx, server.URL, server.Close}
}

// tab opens another window of the same browser.
func (b boardBrowser) tab() boardBrowser {
	b.Helper()
	ctx, cancel := chromedp.NewContext(b.ctx)
	b.Cleanup(cancel)
	if err := chromedp.Do(ctx); err != nil {
		b.Fatal(err)
	}
	b.ctx = ctx
	return b
}

func (b boardBrowser) do(steps ...chromedp.Action[chromedp.Void]) {
	b.Helper()
	if err := chromedp.Do(b.ctx, steps...); err != nil {
		b.Fatal(err)
	}
}

// ask goes to a page with a question.
func (b boardBrowser) ask(path, question, hash string) {
	b.Helper()
	b.do(chromedp.Navigate("about:blank")) // a new part behind # alone would load nothing
	b.do(chromedp.Navigate(b.base + path + "?" + url.Values{"q": {question}}.Encode() + hash))
}

// read evaluates an expression of the page; while another page is on its way it
// asks again.
func read[T any](b boardBrowser, expression string) T {
	b.Helper()
	for try := 1; ; try++ {
		v, err := chromedp.Run(b.ctx, chromedp.Evaluate[T](expression, chromedp.EvalAwaitPromise))
		if err == nil {
			return v
		}
		if try == 40 || !strings.Contains(err.Error(), "-32000") { // no page to ask
			b.Fatalf("%.80s: %v", expression, err)
		}
		time.Sleep(50 * time.Millisecond)
	}
}

// until waits for an expression to come true, on this page or on the one that is on
// its way.
func (b boardBrowser) until(expression string) {
	b.Helper()
	var err error
	for range 400 {
		var yes bool
		if yes, err = chromedp.Run(b.ctx, chromedp.Evaluate[bool](expression)); err == nil && yes {
			return
		}
		time.Sleep(50 * time.Millisecond)
	}
	b.Fatalf("waited for %s: %v", expression, err)
}

// at is the number of the frame that is shown, with the part of the address that
// keeps it.
func (b boardBrowser) at() string {
	b.Helper()
	return read[string](b, `[...document.querySelectorAll(".frame.now")].map(f => f.id).join() + " " + location.hash`)
}

// faults lists what axe-core finds; its rules are vendored.
func (b boardBrowser) faults() []string {
	b.Helper()
	read[bool](b, headless.Axe+";true")
	// What is fading in has its color in the end.
	found := read[string](b, `Promise.all(document.getAnimations().map(a => a.finished)).then(() => axe.run(document, {resultTypes: ["violations"]})).then(r =>
		JSON.stringify(r.violations.map(v => v.id + ": " + v.help + ": " + v.nodes.map(n => n.html).slice(0, 3).join(" "))))`)
	var all []string
	if err := json.Unmarshal([]byte(found), &all); err != nil {
		b.Fatal(err)
	}
	return all
}

// looks sets what a person prefers.
func (b boardBrowser) looks(colors, motion string) {
	b.Helper()
	p := emulation.SetEmulatedMediaParams{Media: "screen", Features: []*emulation.MediaFeature{{Name: "prefers-color-scheme", Value: colors}, {Name: "prefers-reduced-motion", Value: motion}}}
	if _, err := chromedp.Call(b.ctx, emulation.SetEmulatedMedia, p); err != nil {
		b.Fatal(err)
	}
}

// The questions of the demo course, and their mediums.
const (
	boardAcid      = "MnO4^- + H2C2O4 -> Mn^2+ + CO2, in acid"
	boardBase      = "H2O2 + Cr(OH)4^- -> CrO4^2-, in base"
	boardLong      = "As2S3 + NO3^- -> H3AsO4 + SO4^2- + NO, in acid"
	boardMolecular = "Cu + HNO3 -> Cu(NO3)2 + NO + H2O"
)

// TestBrowserBoardKeys reveals a working by keys, by clicks and from the list.
func TestBrowserBoardKeys(t *testing.T) {
	b := openBoard(t)
	b.do(chromedp.EmulateViewport(1280, 720))
	b.ask("/board", boardAcid, "")
	if got := b.at(); got != "line=0 #line=0" {
		t.Errorf("the board begins at %q", got)
	}
	// The browser looks at the icon again at each change of the address, in its store.
	const things = `performance.getEntriesByType("resource").map(e => e.name).filter(n => !n.endsWith("mark.svg")).join(" ")`
	b.until(`[...document.fonts].every(f => f.status === "loaded")`)
	fetched := read[string](b, things)
	b.stop()
	for _, step := range []struct {
		name string
		act  chromedp.Action[chromedp.Void]
		want string
	}{
		{"space", chromedp.KeyEvent(" "), "1"},
		{"right", chromedp.KeyEvent(kb.ArrowRight), "2"},
		{"down", chromedp.KeyEvent(kb.ArrowDown), "3"},
		{"page down", chromedp.KeyEvent(kb.PageDown), "4"},
		{"page up", chromedp.KeyEvent(kb.PageUp), "3"},
		{"left", chromedp.KeyEvent(kb.ArrowLeft), "2"},
		{"up", chromedp.KeyEvent(kb.ArrowUp), "1"},
		{"end", chromedp.KeyEvent(kb.End), "13"},
		{"space at the end", chromedp.KeyEvent(" "), "13"},
		{"home", chromedp.KeyEvent(kb.Home), "0"},
		{"left at the beginning", chromedp.KeyEvent(kb.ArrowLeft), "0"},
		{"a click on the right", chromedp.MouseClickXY(900, 300), "1"},
		{"and another", chromedp.MouseClickXY(600, 300), "2"},
		{"a click on the left", chromedp.MouseClickXY(100, 300), "1"},
		{"the button", chromedp.Click(chromedp.CSS(`[data-act="on"]`)), "2"},
		{"a key after the button", chromedp.KeyEvent(" "), "3"},
		{"the other button", chromedp.Click(chromedp.CSS(`[data-act="back"]`)), "2"},
	} {
		b.do(step.act)
		if got, want := b.at(), "line="+step.want+" #line="+step.want; got != want {
			t.Errorf("after %s the board is at %q, want %q", step.name, got, want)
		}
	}
	// A line of the list, by keys alone.
	b.do(chromedp.KeyEvent("j"))
	if got := read[string](b, `document.querySelector("dialog[open] a:focus")?.dataset.go`); got != "2" {
		t.Errorf("in the list line %q is focused, want 2", got)
	}
	b.do(chromedp.KeyEvent("\t"), chromedp.KeyEvent("\t"), chromedp.KeyEvent("\r"))
	b.until(`document.querySelector("dialog[open]") === null`)
	if got := b.at(); got != "line=4 #line=4" {
		t.Errorf("from the list the board went to %q", got)
	}
	// What was written before stays above; its ledger is that of the line.
	if got := read[string](b, `[...document.querySelectorAll(".stands")].filter(f => f.offsetHeight).map(f => f.id).join(" ")`); got != "line=1 line=2 line=3" {
		t.Errorf("above line 4 stand %q", got)
	}
	if got := read[string](b, `document.querySelector("[data-told]").textContent`); !strings.HasPrefix(got, "Line 4 of 12. Oxidation: balance charge with electrons. One oxalic acid gives") && !strings.HasPrefix(got, "Line 4 of 12. Oxidation: balance charge with electrons. Oxalic acid gives") {
		t.Errorf("told: %q", got)
	}
	if now := read[string](b, things); now != fetched {
		t.Errorf("after the page was there more was fetched: %s, before: %s", now, fetched)
	}
}

// TestBrowserBoardState keeps line, reasons, ledger and colors in the address.
func TestBrowserBoardState(t *testing.T) {
	b := openBoard(t)
	b.do(chromedp.EmulateViewport(1280, 720))
	b.looks("light", "no-preference")
	b.ask("/board", boardAcid, "#line=5")
	seen := func(selector string) bool {
		return read[bool](b, `document.querySelector(".now `+selector+`").offsetHeight > 0`)
	}
	if got := b.at(); got != "line=5 #line=5" || !seen(".reason") || !seen(".ledger") {
		t.Errorf("at %q, reason %v, ledger %v", got, seen(".reason"), seen(".ledger"))
	}
	b.do(chromedp.KeyEvent("r"), chromedp.KeyEvent("l"), chromedp.KeyEvent("d"), chromedp.KeyEvent(" "))
	for _, when := range []string{"first", "after a reload"} {
		if got := b.at(); !strings.HasPrefix(got, "line=6 #line=6") || seen(".reason") || seen(".ledger") {
			t.Errorf("%s: at %q, reason %v, ledger %v", when, got, seen(".reason"), seen(".ledger"))
		}
		if got := read[string](b, `getComputedStyle(document.body).backgroundColor`); got != "rgb(21, 23, 26)" {
			t.Errorf("%s: the ground is %s", when, got)
		}
		if got := read[string](b, `[...document.querySelectorAll("[aria-pressed]")].map(e => e.dataset.act + " " + e.ariaPressed).join()`); got != "reasons false,ledger false,dark true,full false" {
			t.Errorf("%s: pressed: %s", when, got)
		}
		b.do(chromedp.Reload())
		b.until(`document.querySelector(".now") !== null`)
	}
	b.do(chromedp.KeyEvent("R"), chromedp.KeyEvent("L"))
	if !seen(".reason") || !seen(".ledger") {
		t.Error("reasons and ledger do not come back")
	}
	b.do(chromedp.KeyEvent("?"))
	if got := read[string](b, `document.querySelector("dialog[open] h2").textContent`); got != "Keys of the board" {
		t.Errorf("the key ? opens %q", got)
	}
	b.do(chromedp.KeyEvent(" "), chromedp.KeyEvent(kb.Escape))
	b.until(`document.querySelector("dialog[open]") === null`)
	if got := b.at(); !strings.HasPrefix(got, "line=6 ") {
		t.Errorf("a key in a dialog moved the board to %q", got)
	}
	read[bool](b, `location.hash = "#line=8", true`)
	b.until(`document.querySelector(".now").id === "line=8"`)
	read[bool](b, `location.hash = "#line=999", true`)
	b.until(`document.querySelector(".now").id === "line=13"`)
}

// TestBrowserPresenter keeps two windows in step, whichever is moved.
func TestBrowserPresenter(t *testing.T) {
	b := openBoard(t)
	b.ask("/board", boardAcid, "#line=3")
	p := b.tab()
	p.ask("/board/presenter", boardAcid, "")
	p.until(`document.querySelector(".now").id === "line=3"`) // it asks the board
	p.until(`document.querySelector("[data-linked]").textContent === "In step with the board."`)
	p.do(chromedp.KeyEvent(kb.PageDown))
	b.until(`document.querySelector(".now").id === "line=4"`)
	b.do(chromedp.KeyEvent(" "), chromedp.KeyEvent(" "))
	p.until(`document.querySelector(".now").id === "line=6"`)
	if got := p.at(); got != "line=6 #line=6" {
		t.Errorf("the presenter is at %q", got)
	}
	if got := read[string](p, `document.querySelector(".now .talk").innerText`); !strings.Contains(got, "four water molecules on the right") {
		t.Errorf("at line 6 is said: %s", got)
	}
	if got := read[string](p, `document.querySelector(".now .next h3").innerText`); !strings.HasSuffix(got, "Reduction: balance hydrogen with hydrogen ions") {
		t.Errorf("after line 6 comes %q", got)
	}
	// A board of another question goes its own way.
	other := b.tab()
	other.ask("/board", boardBase, "")
	other.do(chromedp.KeyEvent(" "))
	p.do(chromedp.KeyEvent(kb.Home))
	b.until(`document.querySelector(".now").id === "line=0"`)
	if got := other.at(); got != "line=1 #line=1" {
		t.Errorf("a board of another question went to %q", got)
	}
	// The clock, by key and by button; a reload keeps it.
	clock := func() string { return read[string](p, `document.querySelector('[data-act="clock"]').textContent`) }
	got := clock()
	p.do(chromedp.KeyEvent("t"))
	got += ", " + clock()
	p.do(chromedp.Reload())
	p.until(`document.querySelector(".now") !== null`)
	got += ", " + clock()
	p.do(chromedp.Click(chromedp.CSS(`[data-act="clock"]`)))
	got += ", " + clock()
	p.do(chromedp.Click(chromedp.CSS(`[data-act="zero"]`)))
	got += ", " + clock() + " " + read[string](p, `document.querySelector("[data-elapsed]").textContent`)
	if want := "Start the clock, Pause the clock, Pause the clock, Go on, Start the clock 0:00"; got != want {
		t.Errorf("the clock says %s, want %s", got, want)
	}
	b.do(chromedp.Navigate("about:blank"))
	p.until(`document.querySelector("[data-linked]").textContent === "The board was closed."`)
}

// cut lists what is cut off or reaches out of the page.
const cut = `(() => {
	const w = document.documentElement.clientWidth, out = [];
	if (document.documentElement.scrollWidth > w) out.push("the page");
	for (const e of document.querySelectorAll("h1, h2, h3, p, li, .f, table, button, a")) {
		if (e.closest("[hidden],dialog,.said") || e.offsetHeight === 0) continue;
		const r = e.getBoundingClientRect();
		if (r.right > w + 0.5 || r.left < -0.5 || e.scrollWidth > e.clientWidth + 1 && getComputedStyle(e).display !== "inline") out.push(e.tagName + "." + e.className + " " + e.textContent.slice(0, 40));
	}
	const table = document.querySelector(".now .ledger")?.getBoundingClientRect(), body = document.querySelector(".now .eq, .now .text")?.getBoundingClientRect();
	if (table?.height && table.left < body.right && table.top < body.bottom && table.bottom > body.top) out.push("the ledger lies on the line");
	return out.slice(0, 4).join("; ");
})()`

// TestBrowserBoardFits: no line is clipped on a telephone, a laptop or a projector,
// and on the latter two each stands on one page without scrolling.
func TestBrowserBoardFits(t *testing.T) {
	b := openBoard(t)
	b.looks("light", "reduce")
	for _, q := range []struct{ text, by string }{{boardAcid, ""}, {boardBase, ""}, {boardLong, ""}, {boardMolecular, ""}, {boardLong, "equations"}, {boardAcid, "states"}, {"KMnO4 + FeSO4 + H2SO4 -> MnSO4 + Fe2(SO4)3 + K2SO4 + H2O", ""}} {
		for _, path := range []string{"/board", "/board/presenter"} {
			b.do(chromedp.Navigate(b.base + path + "?" + url.Values{"q": {q.text}, "by": {q.by}}.Encode()))
			lines := read[int](b, `document.querySelectorAll(".frame").length`)
			for _, size := range [][2]int64{{1280, 720}, {1920, 1080}, {360, 740}, {320, 568}} {
				b.do(chromedp.EmulateViewport(size[0], size[1]))
				b.do(chromedp.KeyEvent(kb.Home))
				for i := range lines {
					if found := read[string](b, cut); found != "" {
						t.Errorf("%s %s %s, line %d at %d by %d: %s", path, q.text, q.by, i, size[0], size[1], found)
					}
					if path == "/board" && size[0] >= 1280 {
						if tall := read[int](b, `document.documentElement.scrollHeight - innerHeight`); tall > 1 {
							t.Errorf("%s %s, line %d at %d by %d: %d px too tall", q.text, q.by, i, size[0], size[1], tall)
						}
						// A letter of the line is at least a twentieth of the height of the page.
						if em := read[float64](b, `parseFloat(getComputedStyle(document.querySelector(".now .eq, .now .text")).fontSize) / innerHeight`); em < 0.05 {
							t.Errorf("%s %s, line %d at %d by %d: the letters are %.3f of the height", q.text, q.by, i, size[0], size[1], em)
						}
					}
					b.do(chromedp.KeyEvent(kb.ArrowRight))
				}
			}
		}
	}
}

// TestBrowserBoardAccessible holds the pages to the rules of axe-core, in light and
// dark, with and without what can be opened.
func TestBrowserBoardAccessible(t *testing.T) {
	b := openBoard(t)
	b.do(chromedp.EmulateViewport(1280, 720))
	check := func(what string) {
		t.Helper()
		for _, colors := range []string{"light", "dark"} {
			b.looks(colors, "no-preference")
			for _, v := range b.faults() {
				t.Errorf("%s, %s: %s", what, colors, v)
			}
		}
	}
	for _, q := range []string{boardAcid, boardMolecular} {
		for _, hash := range []string{"#line=0", "#line=7", "#line=12", "#line=99"} {
			b.ask("/board", q, hash)
			check("board " + q + hash)
			b.ask("/board/presenter", q, hash)
			check("presenter " + q + hash)
		}
	}
	for _, key := range []string{"?", "j"} {
		b.ask("/board", boardAcid, "")
		b.do(chromedp.KeyEvent(key))
		check("board, key " + key)
	}
	b.ask("/board", "", "")
	check("nothing asked")
	b.ask("/board", "MnO4^- + H2C2O4 -> Mn^2+ + co2, in acid", "")
	check("a mistake")
	b.do(chromedp.EmulateViewport(360, 740))
	b.ask("/board", boardLong, "#line=12")
	check("a telephone")
}

// TestBrowserBoardMarks: what is new is heavier than the rest and has a bracket;
// what was cut is struck out once the next line is there.
func TestBrowserBoardMarks(t *testing.T) {
	b := openBoard(t)
	b.do(chromedp.EmulateViewport(1280, 720))
	b.ask("/board", boardAcid, "#line=7")
	if got := read[string](b, `[...document.querySelectorAll(".now .term")].map(e => getComputedStyle(e).fontWeight + (getComputedStyle(e, "::after").borderBottomStyle === "solid" ? " bracket" : "")).join()`); got != "400,700 bracket,400,400" {
		t.Errorf("line 7: %s", got)
	}
	b.do(chromedp.KeyEvent(kb.ArrowRight))
	if got := read[string](b, `[...document.querySelectorAll('[id="line=7"] .term')].map(e => getComputedStyle(e).fontWeight).join()`); got != "400,400,400,400" {
		t.Errorf("line 7, above line 8: %s", got)
	}
	struck := func() string {
		return read[string](b, `[...document.querySelectorAll('[id="line=11"] .cut')].map(e => getComputedStyle(e, "::before").borderTopStyle).join()`)
	}
	b.ask("/board", boardAcid, "#line=11")
	if got := struck(); strings.Contains(got, "solid") {
		t.Errorf("line 11 is struck out before line 12 is there: %s", got)
	}
	b.do(chromedp.KeyEvent(" "))
	if got := struck(); got != "solid,solid,solid,solid" {
		t.Errorf("line 11, above line 12: %s", got)
	}
}

// TestBrowserBoardCalm: who wants no motion sees none.
func TestBrowserBoardCalm(t *testing.T) {
	b := openBoard(t)
	for motion, want := range map[string]string{"reduce": "none", "no-preference": "write"} {
		b.looks("light", motion)
		b.ask("/board", boardAcid, "#line=2")
		if got := read[string](b, `getComputedStyle(document.querySelector(".now .eq")).animationName`); got != want {
			t.Errorf("prefers-reduced-motion %s: animation %s, want %s", motion, got, want)
		}
	}
}

// TestBrowserBoardWithoutScripts: all lines stand one under the other.
func TestBrowserBoardWithoutScripts(t *testing.T) {
	b := openBoard(t)
	if _, err := chromedp.Call(b.ctx, emulation.SetScriptExecutionDisabled, emulation.SetScriptExecutionDisabledParams{Value: true}); err != nil {
		t.Fatal(err)
	}
	for _, path := range []string{"/board", "/board/presenter"} {
		b.ask(path, boardAcid, "#line=5")
		got := read[string](b, `[...document.querySelectorAll(".frame")].filter(f => f.offsetHeight > 0 && getComputedStyle(f).visibility === "visible").length + " " + document.querySelector(".controls").offsetHeight + " " + (document.documentElement.scrollWidth <= document.documentElement.clientWidth)`)
		if got != "14 0 true" {
			t.Errorf("%s without scripts: frames, height of the controls, within the width: %s", path, got)
		}
	}
}

// TestBrowserBoardPrints: on paper are all lines with their ledgers, black on white,
// and no controls.
func TestBrowserBoardPrints(t *testing.T) {
	b := openBoard(t)
	b.ask("/board", boardAcid, "#line=7&look=dark")
	if _, err := chromedp.Call(b.ctx, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{Media: "print"}); err != nil {
		t.Fatal(err)
	}
	got := read[string](b, `["frame", "ledger", "controls"].map(c => [...document.querySelectorAll("." + c)].filter(f => f.offsetHeight > 0).length).join() + " " +
		[...new Set([...document.querySelectorAll(".eq, h2")].map(e => getComputedStyle(e).color))].join()`)
	if want := "14,13,0 rgb(0, 0, 0)"; got != want {
		t.Errorf("printed: frames, ledgers, controls, ink: %s, want %s", got, want)
	}
}
