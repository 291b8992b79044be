// Package headless opens a browser without a window for tests, and holds the rules
// by which they look at accessibility.
//
// It is for tests alone; what a test looks at is left to it.
package headless

import (
	"context"
	_ "embed"
	"os"
	"os/exec"
	"testing"
	"time"

	"github.com/chromedp/chromedp"
)

// Axe is axe-core 4.14.1, vendored; see axe/README.
//
//go:embed axe/axe.min.js
var Axe string

// limit is how long a test may use a browser.
const limit = 10 * time.Minute

// Open starts a browser with a profile of its own, which ends with the test, and
// returns a tab. Without a browser the test is skipped; with HALVES_NO_SKIP it
// fails.
func Open(t testing.TB) context.Context {
	t.Helper()
	path := ""
	for _, name := range []string{"chromium", "chromium-browser", "google-chrome"} {
		if p, err := exec.LookPath(name); err == nil {
			path = p
			break
		}
	}
	if path == "" {
		const needs = "needs chromium (Debian package chromium)"
		if os.Getenv("HALVES_NO_SKIP") != "" {
			t.Fatal(needs)
		}
		t.Skip(needs)
	}
	options := append(chromedp.DefaultExecAllocatorOptions[:], chromedp.ExecPath(path), chromedp.NoSandbox,
		chromedp.Flag("disable-quic", true), chromedp.UserDataDir(t.TempDir()))
	ctx, cancel := chromedp.NewExecAllocator(context.Background(), options...)
	t.Cleanup(cancel)
	ctx, cancel = chromedp.NewContext(ctx)
	t.Cleanup(cancel)
	if err := chromedp.Do(ctx); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { chromedp.Cancel(ctx) })
	ctx, cancel = context.WithTimeout(ctx, limit)
	t.Cleanup(cancel)
	return ctx
}

// Evaluate returns the value of an expression of the page.
func Evaluate[T any](t testing.TB, ctx context.Context, expression string, o ...chromedp.EvaluateOption) T {
	t.Helper()
	v, err := chromedp.Run(ctx, chromedp.Evaluate[T](expression, o...))
	if err != nil {
		t.Fatalf("%.60s: %v", expression, err)
	}
	return v
}
