package web

import (
	"context"
	"encoding/json"
	"fmt"
	"halves/internal/headless"
	"net/http/httptest"
	"net/url"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/log"
	"github.com/chromedp/cdproto/network"
	"github.com/chromedp/cdproto/runtime"
	"github.com/chromedp/chromedp"
)

// violations lists what axe finds against WCAG 2.2 A and AA and its own good
// practice, on a page that has its rules.
func violations(t *testing.T, ctx context.Context) []string {
	t.Helper()
	found := headless.Evaluate[string](t, ctx, `axe.run(document, {resultTypes: ["violations"]}).then(r =>
		JSON.stringify(r.violations.map(v => v.id + ": " + v.help + ": " + v.nodes.map(n => n.html).slice(0, 3).join(" "))))`, chromedp.EvalAwaitPromise)
	var all []string
	if err := json.Unmarshal([]byte(found), &all); err != nil {
		t.Fatal(err)
	}
	return all
}

// wide names what reaches out of the window without a box of its own that scrolls.
const wide = `(() => {
	const w = document.documentElement.clientWidth, out = [];
	if (document.documentElement.scrollWidth > w) out.push("the page is " + document.documentElement.scrollWidth + " px wide");
	const boxed = e => { for (; e; e = e.parentElement) if (/auto|scroll|hidden|clip/.test(getComputedStyle(e).overflowX)) return true; return false; };
	for (const e of document.body.querySelectorAll("*")) {
		const r = e.getBoundingClientRect();
		if (r.width > 1 && r.height > 1 && (r.right > w + 0.5 || r.left < -0.5) && !boxed(e) && !e.matches(".skip, .said, .said *")) out.push(e.tagName + "." + e.className + " " + e.textContent.trim().slice(0, 40));
	}
	return out.slice(0, 5).join("; ");
})()`

// A watcher notes what a page asks for, and what it complains of.
type watcher struct {
	mu     sync.Mutex
	origin string
	urls   map[network.RequestID]string
	bytes  int      // of all but fonts
	fonts  int      // font files
	faults []string // what should not be
}

func (w *watcher) see(ev any) {
	w.mu.Lock()
	defer w.mu.Unlock()
	switch ev := ev.(type) {
	case *network.EventRequestWillBeSent:
		w.urls[ev.RequestID] = ev.Request.URL
		if !strings.HasPrefix(ev.Request.URL, w.origin+"/") && !strings.HasPrefix(ev.Request.URL, "data:") {
			w.faults = append(w.faults, "asks for "+ev.Request.URL)
		}
	case *network.EventResponseReceived:
		if ev.Response.Status >= 400 {
			w.faults = append(w.faults, fmt.Sprintf("%s: status %d", ev.Response.URL, ev.Response.Status))
		}
	case *network.EventLoadingFinished:
		address := w.urls[ev.RequestID]
		if u, err := url.Parse(address); err == nil && strings.HasSuffix(u.Path, ".woff2") {
			w.fonts++
		} else if !strings.HasPrefix(address, "data:") {
			w.bytes += int(ev.EncodedDataLength)
		}
	case *network.EventLoadingFailed:
		w.faults = append(w.faults, w.urls[ev.RequestID]+": "+ev.ErrorText+" "+string(ev.BlockedReason))
	case *log.EventEntryAdded:
		if ev.Entry.Level == log.EntryLevelError || ev.Entry.Level == log.EntryLevelWarning {
			w.faults = append(w.faults, "the console: "+ev.Entry.Text)
		}
	case *runtime.EventExceptionThrown:
		w.faults = append(w.faults, "a script: "+ev.ExceptionDetails.Text)
	}
}

// take returns what was noted, and begins anew.
func (w *watcher) take() (bytes, fonts int, faults []string) {
	w.mu.Lock()
	defer w.mu.Unlock()
	bytes, fonts, faults = w.bytes, w.fonts, w.faults
	w.urls, w.bytes, w.fonts, w.faults = map[network.RequestID]string{}, 0, 0, nil
	return bytes, fonts, faults
}

// watch notes what the pages of an origin do. Nothing is taken from a cache.
func watch(t *testing.T, ctx context.Context, origin string) *watcher {
	t.Helper()
	w := &watcher{origin: origin}
	w.take()
	if err := chromedp.Listen(ctx, w.see); err != nil {
		t.Fatal(err)
	}
	if _, err := chromedp.Call(ctx, network.Enable, network.EnableParams{}); err != nil {
		t.Fatal(err)
	}
	if _, err := chromedp.Call(ctx, network.SetCacheDisabled, network.SetCacheDisabledParams{CacheDisabled: true}); err != nil {
		t.Fatal(err)
	}
	return w
}

// maxPage is how many bytes a page may have without its fonts.
const maxPage = 150 << 10

// TestBrowserGallery walks the gallery: every state of every page, light and dark,
// on a telephone and on a desk.
func TestBrowserGallery(t *testing.T) {
	if testing.Short() {
		t.Skip("a browser, for a minute")
	}
	ctx := headless.Open(t)
	s, _ := desk(t)
	server := httptest.NewServer(s.Handler())
	t.Cleanup(server.Close)
	w := watch(t, ctx, server.URL)
	addresses := []string{"/gallery"}
	for _, p := range s.gallery() {
		for _, st := range p.States {
			addresses = append(addresses, "/gallery/"+p.Page+"/"+st.Name)
		}
	}
	for _, address := range addresses {
		if err := chromedp.Do(ctx, chromedp.EmulateViewport(1280, 800), chromedp.Navigate(server.URL+address)); err != nil {
			t.Fatal(err)
		}
		headless.Evaluate[bool](t, ctx, `document.fonts.ready.then(() => true)`, chromedp.EvalAwaitPromise)
		size, fonts, faults := w.take()
		for _, f := range faults {
			t.Errorf("%s: %s", address, f)
		}
		if size == 0 || size > maxPage {
			t.Errorf("%s: %d bytes without fonts, want at most %d", address, size, maxPage)
		}
		if fonts > 2 {
			t.Errorf("%s: %d font files, want at most 2", address, fonts)
		}
		headless.Evaluate[bool](t, ctx, headless.Axe+";true")
		for _, colors := range []string{"light", "dark"} {
			media := emulation.SetEmulatedMediaParams{Media: "screen", Features: []*emulation.MediaFeature{{Name: "prefers-color-scheme", Value: colors}, {Name: "prefers-reduced-motion", Value: "reduce"}}}
			if _, err := chromedp.Call(ctx, emulation.SetEmulatedMedia, media); err != nil {
				t.Fatal(err)
			}
			for _, width := range []int64{360, 1280} {
				if err := chromedp.Do(ctx, chromedp.EmulateViewport(width, 800)); err != nil {
					t.Fatal(err)
				}
				if out := headless.Evaluate[string](t, ctx, wide); out != "" {
					t.Errorf("%s: at %d px too wide: %s", address, width, out)
				}
				// Colours do not hang on the width, nor names on the colours.
				if colors == "light" != (width == 360) {
					continue
				}
				for _, v := range violations(t, ctx) {
					t.Errorf("%s: %s, %d px: %s", address, colors, width, v)
				}
			}
		}
		if _, _, faults := w.take(); len(faults) > 0 {
			t.Errorf("%s: while it was looked at: %s", address, strings.Join(faults, "; "))
		}
	}
}

// TestBrowserWatches shows that the watcher sees what should not be: something from
// elsewhere, a style and a script that the policy forbids, and what is missing; and
// that what is too wide is found.
func TestBrowserWatches(t *testing.T) {
	ctx := headless.Open(t)
	s, _ := desk(t)
	server := httptest.NewServer(s.Handler())
	t.Cleanup(server.Close)
	w := watch(t, ctx, server.URL)
	if err := chromedp.Do(ctx, chromedp.EmulateViewport(360, 800), chromedp.Navigate(server.URL+"/")); err != nil {
		t.Fatal(err)
	}
	w.take()
	headless.Evaluate[bool](t, ctx, `(() => {
		document.body.insertAdjacentHTML("beforeend", '<p style="color:red">x</p><img src="http://elsewhere.example/x.png" alt="x"><div class="far">x</div>');
		const s = document.createElement("script"); s.textContent = "window.bad = true"; document.body.append(s);
		document.querySelector(".far").style.width = "900px";
		return true;
	})()`)
	headless.Evaluate[bool](t, ctx, `fetch("/nothing").then(() => true)`, chromedp.EvalAwaitPromise)
	if out := headless.Evaluate[string](t, ctx, wide); !strings.Contains(out, "DIV.far") {
		t.Errorf("too wide: %q", out)
	}
	_, _, faults := w.take()
	all := strings.Join(faults, "\n")
	for _, want := range []string{"elsewhere.example", "style", "script", "/nothing: status 404"} {
		if !strings.Contains(all, want) {
			t.Errorf("not seen: %s in\n%s", want, all)
		}
	}
}

// TestBrowserSettings changes a convention by keyboard: the example follows, and it
// is kept when that is said.
func TestBrowserSettings(t *testing.T) {
	ctx := headless.Open(t)
	s, m := desk(t)
	server := httptest.NewServer(s.Handler())
	t.Cleanup(server.Close)
	if err := chromedp.Do(ctx, chromedp.Navigate(server.URL+"/settings")); err != nil {
		t.Fatal(err)
	}
	before := headless.Evaluate[string](t, ctx, `document.getElementById("example").textContent`)
	headless.Evaluate[bool](t, ctx, `document.getElementById("c-hydronium").focus(), true`)
	if err := chromedp.Do(ctx, chromedp.KeyEvent("y")); err != nil {
		t.Fatal(err)
	}
	if _, err := chromedp.Run(ctx, chromedp.Poll[bool](`document.getElementById("example").textContent.includes("H3O+")`, chromedp.WithPollingTimeout(10*time.Second))); err != nil {
		t.Fatalf("the example does not follow: %v\n%s", err, before)
	}
	if m.settings.Conventions.Hydronium {
		t.Error("a choice is kept before it was said")
	}
	// Enter in a field keeps what was chosen.
	if err := chromedp.Do(ctx, chromedp.SendKeys("#course", "General Chemistry II\r"), chromedp.WaitVisible(".told")); err != nil {
		t.Fatal(err)
	}
	if said := headless.Evaluate[string](t, ctx, `document.querySelector(".told").textContent`); said != "The settings are kept." {
		t.Errorf("said is %q", said)
	}
	m.mu.Lock()
	kept := m.settings
	m.mu.Unlock()
	if !kept.Conventions.Hydronium || kept.Course != "General Chemistry II" {
		t.Errorf("kept is %+v", kept)
	}
}
