package document_test

import (
	"bytes"
	"strings"
	"testing"

	"github.com/yuin/goldmark"
	"github.com/yuin/goldmark/extension"

	"halves/document"
)

func markdownOf(t testing.TB, d *document.Document) string {
	t.Helper()
	var b strings.Builder
	if err := document.Markdown(&b, d); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

// rendered is a page made of Markdown by a library that knows CommonMark and
// GitHub's extensions.
func rendered(t testing.TB, text string) *page {
	t.Helper()
	var b bytes.Buffer
	if err := goldmark.New(goldmark.WithExtensions(extension.GFM)).Convert([]byte(text), &b); err != nil {
		t.Fatal(err)
	}
	return readPage(t, b.String())
}

// decoration is what the text for a terminal has and Markdown has not, or the
// other way about.
var decoration = strings.NewReplacer("─", "", "•", "", ":", "", ",", "")

func TestMarkdownShowsAll(t *testing.T) {
	for _, q := range questions {
		d := documentOf(t, q)
		got := letters([]string{bare(decoration.Replace(rendered(t, markdownOf(t, d)).seen.String()))})
		want := letters([]string{bare(decoration.Replace(text(t, d, document.TextOptions{Width: 10000})))})
		if got != want {
			t.Errorf("%s: rendered it shows\n%s\nand the text\n%s", q, got, want)
		}
	}
}

func TestMarkdownElements(t *testing.T) {
	tags := " " + strings.Join(rendered(t, markdownOf(t, every())).tags, " ") + " "
	for _, want := range []string{" h1 ", " h2 ", " h3 ", " table ", " ul li li ", " blockquote p p ", " strong ", " blockquote p strong "} {
		if !strings.Contains(tags, want) {
			t.Errorf("no %s in %s", want, tags)
		}
	}
}

func checkMarkdownEscapes(t *testing.T, s string) {
	if bare(s) == "" || strings.ContainsAny(s, "\u2028\u2029\v\f\u0085") {
		return
	}
	p := rendered(t, markdownOf(t, asDocument(s)))
	plain := rendered(t, markdownOf(t, asDocument("x")))
	if g, w := strings.Join(p.tags, " "), strings.Join(plain.tags, " "); g != w {
		t.Errorf("%q makes elements\n%s, want\n%s\n%s", s, g, w, markdownOf(t, asDocument(s)))
	}
	// Two labels have a colon before their reason.
	const paper = "·Question7()A.(rightanswer)B." + "________________" + "________________" + "Whatissaid"
	if g, w := squeezed(p.seen.String()), squeezed(strings.Repeat(shown(s), times)+"Cu⟶Cu::"+paper); g != w {
		t.Errorf("of %q there is shown\n%q, want\n%q", s, g, w)
	}
}

func TestMarkdownEscapes(t *testing.T) {
	for _, s := range hostile {
		checkMarkdownEscapes(t, s)
	}
}

func FuzzMarkdown(f *testing.F) {
	for _, s := range hostile {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) { checkMarkdownEscapes(t, s) })
}

func TestMarkdownGolden(t *testing.T) {
	golden(t, "every.md", markdownOf(t, every()))
	golden(t, "paper.md", markdownOf(t, onPaper()))
}
