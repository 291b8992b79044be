package web

import (
	"context"
	"fmt"
	"net/http/httptest"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/input"
	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
)

// openSets is a browser that looks at a desk with the demo course.
func openSets(t *testing.T) (boardBrowser, *Server, *memory) {
	t.Helper()
	b := openBoard(t)
	s, m := demoDesk(t)
	server := httptest.NewServer(s.Handler())
	t.Cleanup(server.Close)
	b.base, b.stop = server.URL, server.Close
	return b, s, m
}

// goTo opens a page of a desk at 1280 px.
func (b boardBrowser) goTo(path string) {
	b.Helper()
	b.do(chromedp.EmulateViewport(1280, 900), chromedp.Navigate(b.base+path))
}

// comes waits for an expression to come true, here or on the page that is led to.
func (b boardBrowser) comes(expression string) {
	b.Helper()
	var err error
	for end := time.Now().Add(30 * time.Second); time.Now().Before(end); time.Sleep(20 * time.Millisecond) {
		var done bool
		// While a page is exchanged for another there is none to ask.
		if done, err = chromedp.Run(b.ctx, chromedp.Evaluate[bool](expression)); err == nil && done {
			return
		}
	}
	b.Fatalf("waited for %s: %v", expression, err)
}

// press clicks an element as a person does, and fails where there is none.
func (b boardBrowser) press(selector string) {
	b.Helper()
	at := read[[]float64](b, fmt.Sprintf(`(() => { const e = document.querySelector(%q); if (!e) return []; e.scrollIntoView({block: "center", behavior: "instant"}); const r = e.getBoundingClientRect(); return [r.left + r.width / 2, r.top + r.height / 2]; })()`, selector))
	if len(at) != 2 {
		b.Fatalf("there is no %s", selector)
	}
	b.do(chromedp.MouseClickXY(at[0], at[1]))
}

// keys presses keys one after the other.
func (b boardBrowser) keys(all ...string) {
	b.Helper()
	for _, k := range all {
		b.do(chromedp.KeyEvent(k))
	}
}

// order is the numbers that the items of the page had when it was loaded, in the
// order in which they stand now.
const order = `[...document.querySelectorAll(".item")].map(e => e.dataset.number).join(" ")`

// heard is what the page says to those who do not see it.
const heard = `document.querySelector("[data-live-region]").textContent`

// TestBrowserBuildSet makes a set by a form, puts it in order by keys, by dragging and
// by buttons, changes marks, takes back, and gets its worksheet.
func TestBrowserBuildSet(t *testing.T) {
	b, _, m := openSets(t)
	b.goTo("/sets")
	b.press(`a[href="/sets/new"]`)
	b.comes(`document.activeElement.id === "title"`)
	b.keys("W", "7")
	b.press(`[name=want][value=water-twice]`)
	b.press(`.wish button`)
	b.comes(`document.querySelector("h1")?.textContent === "W7"`)
	if len(m.sets) != 4 {
		t.Fatalf("%d sets", len(m.sets))
	}
	id := m.sets[3].ID
	was := textsOf(keptOf(t, m, id), 0)
	now := func() []string { return textsOf(keptOf(t, m, id), 0) }

	// By keys: lifted, moved, put back.
	b.focused("#q1 .grip")
	b.keys(" ", kb.ArrowDown, kb.ArrowDown)
	if got := read[string](b, order); got != "2 3 1 4 5 6 7 8 9 10" {
		t.Errorf("two down: %s", got)
	}
	if got := read[string](b, heard); got != "Number 3 of 10." {
		t.Errorf("heard %q", got)
	}
	b.keys(kb.Escape)
	if got := read[string](b, order); got != "1 2 3 4 5 6 7 8 9 10" {
		t.Errorf("left: %s", got)
	}
	if got := now(); fmt.Sprint(got) != fmt.Sprint(was) {
		t.Error("what was left is kept")
	}
	// By keys, and kept: the focus goes along.
	b.keys(" ", kb.ArrowDown, kb.ArrowDown, " ")
	b.comes(heard + ` === "Number 1 is number 3 now."`)
	if got := now(); got[2] != was[0] || got[0] != was[1] {
		t.Errorf("number 1 is not number 3: %v", got)
	}
	if got := read[string](b, `document.activeElement.closest(".item").id + " " + document.activeElement.className`); got != "q3 grip" {
		t.Errorf("the focus is on %s", got)
	}
	// To the end and to the beginning.
	b.keys(" ", kb.End, " ")
	b.comes(heard + ` === "Number 3 is number 10 now."`)
	b.keys(" ", kb.Home, " ")
	b.comes(heard + ` === "Number 10 is number 1 now."`)
	if got := now(); fmt.Sprint(got) != fmt.Sprint(was) {
		t.Errorf("there and back: %v", got)
	}
	// Leaving with the tabulator leaves it where it was.
	b.keys(" ", kb.ArrowDown, kb.Tab)
	b.comes(order + ` === "1 2 3 4 5 6 7 8 9 10"`)

	// By dragging, down below the fourth and up again.
	b.drag("#q1 .grip", "#q4", 0.9)
	b.comes(`document.querySelector(".done p")?.textContent === "Number 1 is number 4 now."`)
	if got := now(); got[3] != was[0] {
		t.Errorf("dragged down: %v", got)
	}
	b.drag("#q4 .grip", "#q1", 0.1)
	b.comes(`document.querySelector(".done p")?.textContent === "Number 4 is number 1 now."`)
	if got := now(); fmt.Sprint(got) != fmt.Sprint(was) {
		t.Errorf("dragged up: %v", got)
	}

	// By buttons: the focus stays on the button, so that one can go on.
	b.focused(`#q2 .step[value="move-2-3"]`)
	b.keys(kb.Enter)
	b.comes(heard + ` === "Number 2 is number 3 now."`)
	b.keys(kb.Enter)
	b.comes(heard + ` === "Number 3 is number 4 now."`)
	if got := now(); got[3] != was[1] {
		t.Errorf("two steps down: %v", got)
	}
	// Taken back once, since that is what the page tells.
	b.press(".done button")
	b.comes(`document.querySelector(".done p")?.textContent.startsWith("Taken back")`)
	if got := now(); got[2] != was[1] {
		t.Errorf("taken back: %v", got)
	}

	// Marks: a button comes when some are typed.
	if read[bool](b, `document.querySelector("[data-marks]").checkVisibility()`) {
		t.Error("marks can be kept before any were typed")
	}
	b.focused("#q1 .marks input")
	read[bool](b, `document.activeElement.select() ?? true`)
	b.keys("9")
	if !read[bool](b, `document.querySelector("[data-marks]").checkVisibility()`) {
		t.Error("marks cannot be kept")
	}
	b.keys(kb.Enter)
	b.comes(heard + ` === "1 question has other marks."`)
	if got := keptOf(t, m, id).Versions[0].Items[0].Worth; got != 9 {
		t.Errorf("worth %d", got)
	}

	// The worksheet.
	got := read[string](b, `fetch([...document.querySelectorAll("a")].find(a => a.textContent === "Worksheet, PDF").href).then(r => r.blob()).then(async f => f.type + " " + await f.slice(0, 5).text())`)
	if got != "application/pdf %PDF-" {
		t.Errorf("the worksheet is %q", got)
	}

	// A desk that does not answer keeps nothing, says so, and leaves the order.
	b.stop()
	b.focused("#q1 .grip")
	b.keys(" ", kb.ArrowDown, " ")
	b.comes(`document.querySelector("#silent")?.textContent.includes("does not answer")`)
	if got := read[string](b, order); !strings.HasPrefix(got, "1 2 3") {
		t.Errorf("after nothing was kept: %s", got)
	}
}

// drag takes hold of an element and lets go over another, at a part of its height.
func (b boardBrowser) drag(from, to string, part float64) {
	b.Helper()
	at := read[[]float64](b, fmt.Sprintf(`(() => { scrollTo({top: 0, behavior: "instant"}); const a = document.querySelector(%q).getBoundingClientRect(), b = document.querySelector(%q).getBoundingClientRect(); return [a.left + a.width / 2, a.top + a.height / 2, b.top + b.height * %v]; })()`, from, to, part))
	left := func(p *input.DispatchMouseEventParams) {
		p.Button, p.Buttons, p.ClickCount = input.MouseButtonLeft, 1, 1
	}
	b.do(chromedp.MouseEvent(input.DispatchMouseEventTypeMousePressed, at[0], at[1], left))
	const steps = 12
	for i := range steps {
		y := at[1] + (at[2]-at[1])*float64(i+1)/steps
		b.do(chromedp.MouseEvent(input.DispatchMouseEventTypeMouseMoved, at[0], y, left))
	}
	b.do(chromedp.MouseEvent(input.DispatchMouseEventTypeMouseReleased, at[0], at[2], left))
}

// TestBrowserChoose ticks questions of the list and makes a set of them.
func TestBrowserChoose(t *testing.T) {
	b, _, m := openSets(t)
	b.goTo("/questions")
	b.press(`input[value="library:zinc-copper"]`)
	b.focused(`input[value="library:iron-copper-ion"]`)
	b.keys(" ")
	if got := read[string](b, `document.querySelector("#adding button").textContent`); got != "Add 2 questions" {
		t.Errorf("the button says %q", got)
	}
	read[bool](b, `(() => { const s = document.getElementById("into"); s.value = s.options[1].value; return s.dispatchEvent(new Event("change", {bubbles: true})); })()`)
	if read[bool](b, `document.getElementById("title").checkVisibility()`) {
		t.Error("a title is asked for where the set has one")
	}
	b.press("#adding button")
	b.comes(`document.querySelector(".done p")?.textContent.startsWith("2 questions were added")`)
	if m.sets[worksheetSet].Count != 8 && m.sets[examSet].Count != 10 && m.sets[quizSet].Count != 10 {
		t.Error("nothing was added")
	}
	// The reading stands under what one types.
	b.goTo("/questions#type")
	b.focused("#text")
	b.do(chromedp.KeyEvent("Zn + Cu2+ -> Zn2+ + Cu, neutral"))
	b.comes(`document.querySelector("#reading .read") !== null`)
	b.press(".typing button")
	b.comes(`document.querySelector(".done p")?.textContent.startsWith("Kept: ")`)
	if len(m.questions) != 6 {
		t.Errorf("%d questions", len(m.questions))
	}
}

// TestBrowserSetsWithoutScripts: the same acts are forms.
func TestBrowserSetsWithoutScripts(t *testing.T) {
	b, _, m := openSets(t)
	id := m.sets[examSet].ID
	was := textsOf(keptOf(t, m, id), 1)
	if _, err := chromedp.Call(b.ctx, emulation.SetScriptExecutionDisabled, emulation.SetScriptExecutionDisabledParams{Value: true}); err != nil {
		t.Fatal(err)
	}
	b.goTo(fmt.Sprintf("/sets/%d?version=B", id))
	if got := read[int](b, `[...document.querySelectorAll(".grip")].filter(g => g.checkVisibility()).length`); got != 0 {
		t.Errorf("%d handles that do nothing are shown", got)
	}
	b.press(`[value="move-2-1"]`)
	b.comes(`document.querySelector(".done p")?.textContent === "Number 2 is number 1 now."`)
	if got := textsOf(keptOf(t, m, id), 1); got[0] != was[1] {
		t.Errorf("moved up: %v", got)
	}
	b.press(`[value="remove-1"]`)
	b.comes(`document.querySelector(".done p")?.textContent.startsWith("Question 1 was removed")`)
	b.press(".done button")
	b.comes(`document.querySelector(".done p")?.textContent.startsWith("Taken back")`)
	// Enter in a field of marks keeps the marks, and presses no other button.
	read[bool](b, `(() => { const e = document.querySelector("#q2 .marks input"); e.value = "3"; e.focus(); return true; })()`)
	b.keys(kb.Enter)
	b.comes(`document.querySelector(".done p")?.textContent.includes("other marks")`)
	if got := len(textsOf(keptOf(t, m, id), 1)); got != 8 {
		t.Errorf("%d questions", got)
	}
	// Deleting has a step that confirms it.
	b.goTo("/sets")
	b.press(".sets .sure summary")
	b.press(".sets .sure button")
	b.comes(`document.querySelector(".done p")?.textContent.startsWith("Deleted")`)
	if len(m.sets) != 2 {
		t.Errorf("%d sets", len(m.sets))
	}
}

// TestBrowserSetsClean holds every page of questions and sets to axe and to the
// widths of a telephone, in light and dark.
func TestBrowserSetsClean(t *testing.T) {
	if testing.Short() {
		t.Skip("a browser, for a minute")
	}
	b, _, m := openSets(t)
	exam, quiz := m.sets[examSet].ID, m.sets[quizSet].ID
	long := m.sets[quizSet]
	long.ID, long.Title = 0, strings.Repeat("Redoxreaktionsgleichungsübungsaufgaben", 5)
	if _, err := m.SaveSet(context.Background(), long); err != nil {
		t.Fatal(err)
	}
	open := `document.querySelectorAll("details").forEach(d => d.open = true)`
	for _, page := range []struct{ name, path, act, then string }{
		{"questions", "/questions?source=own", open, ""},
		{"no question", "/questions?q=unobtainium", "", ""},
		{"a wrong filter", "/questions?least=x", open, ""},
		{"a wrong question", "/questions", `(() => { const e = document.getElementById("text"); e.value = "Zn -> zn"; e.form.requestSubmit(); })()`, `document.querySelector(".mistake")`},
		{"own question", fmt.Sprintf("/questions/%d", m.questions[0].ID), open, ""},
		{"import", importPath, "", ""},
		{"an import with faults", importPath, `(() => { const e = document.getElementById("text"); e.value = "Zn -> zn\nSn^2+ + Fe^3+ -> Sn^4+ + Fe^2+, in acid"; e.form.requestSubmit(); })()`, `document.querySelector(".faults")`},
		{"sets", "/sets", open, ""},
		{"new set", "/sets/new", open, ""},
		{"a wish that cannot be met", "/sets/new", `(() => { document.querySelector("[name=want][value=base]").click(); document.querySelector("[name=media][value=basic]").click(); document.querySelector(".wish").requestSubmit(); })()`, `document.querySelector(".mistake")`},
		{"exam", fmt.Sprintf("/sets/%d?version=C", exam), open, ""},
		{"quiz", fmt.Sprintf("/sets/%d", quiz), open, ""},
		{"after a change", fmt.Sprintf("/sets/%d", quiz), `document.querySelector(".step").click()`, `document.querySelector(".done")`},
		{"lifted", fmt.Sprintf("/sets/%d", quiz), `(() => { const g = document.querySelector(".grip"); g.focus(); g.dispatchEvent(new KeyboardEvent("keydown", {key: " ", bubbles: true})); })()`, `document.querySelector(".lifted")`},
		{"replace", fmt.Sprintf("/sets/%d/replace?item=2", exam), "", ""},
		{"worksheet", fmt.Sprintf("/sets/%d/paper?scaffold=fade", quiz), "", ""},
		{"key", fmt.Sprintf("/sets/%d/paper?what=key", exam), "", ""},
		{"exam paper", fmt.Sprintf("/sets/%d/paper?what=exam&version=D", exam), "", ""},
		{"slides", fmt.Sprintf("/sets/%d/paper?what=slides", exam), open, ""},
		{"reference", fmt.Sprintf("/sets/%d/paper?what=reference", exam), "", ""},
		{"versions", fmt.Sprintf("/sets/%d/paper?what=versions", exam), "", ""},
	} {
		b.goTo(page.path)
		if page.act != "" {
			read[bool](b, "("+page.act+", true)")
		}
		if page.then != "" {
			b.comes(page.then + " !== null")
		}
		b.clean(page.name)
	}
}
