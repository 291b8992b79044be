package document_test

import (
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"unicode"
	"unicode/utf8"

	"golang.org/x/net/html"

	"halves/document"
)

func htmlOf(t testing.TB, d *document.Document, o document.HTMLOptions) string {
	t.Helper()
	var b strings.Builder
	if err := document.HTML(&b, d, o); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

// A page is what a parser of the HTML Living Standard finds in a page.
type page struct {
	tags          []string
	seen, spoken  strings.Builder // what the eye and what the ear gets
	title, styles string
}

func readPage(t testing.TB, text string) *page {
	t.Helper()
	root, err := html.Parse(strings.NewReader(text))
	if err != nil {
		t.Fatal(err)
	}
	p := &page{}
	var walk func(n *html.Node, seen, spoken bool)
	walk = func(n *html.Node, seen, spoken bool) {
		if n.Type == html.TextNode {
			if seen {
				p.seen.WriteString(n.Data)
			}
			if spoken {
				p.spoken.WriteString(n.Data)
			}
		}
		if n.Type == html.ElementNode {
			p.tags = append(p.tags, n.Data)
			switch n.Data {
			case "title":
				p.title = n.FirstChild.Data
				return
			case "style":
				p.styles += n.FirstChild.Data
				return
			}
			for _, a := range n.Attr {
				switch {
				case a.Key == "class" && a.Val == "said":
					seen = false
				case a.Key == "aria-hidden":
					spoken = false
				}
			}
		}
		for c := n.FirstChild; c != nil; c = c.NextSibling {
			walk(c, seen, spoken)
		}
	}
	walk(root, true, true)
	return p
}

// bare takes out spaces, so that texts compare by their characters.
func bare(s string) string {
	return strings.Map(func(r rune) rune {
		if unicode.IsSpace(r) {
			return -1
		}
		return r
	}, s)
}

// signs of a text that are written otherwise in HTML, whose subscripts are
// elements.
var asHTML = strings.NewReplacer("₀", "0", "₁", "1", "₂", "2", "₃", "3", "₄", "4", "₅", "5", "₆", "6", "₇", "7", "₈", "8", "₉", "9",
	"⁰", "0", "¹", "1", "²", "2", "³", "3", "⁴", "4", "⁵", "5", "⁶", "6", "⁷", "7", "⁸", "8", "⁹", "9", "⁺", "+", "⁻", "−", "⟶", "→", "─", "", "•", "")

// TestHTMLShowsAll compares what is seen of a page with the text for a
// terminal, character by character, whatever their order.
func TestHTMLShowsAll(t *testing.T) {
	for _, q := range questions {
		d := documentOf(t, q)
		p := readPage(t, htmlOf(t, d, document.HTMLOptions{}))
		got := letters([]string{bare(p.seen.String())})
		want := letters([]string{bare(asHTML.Replace(text(t, d, document.TextOptions{Width: 10000})))})
		if got != want {
			t.Errorf("%s: the page shows\n%s\nand the text\n%s", q, got, want)
		}
		if want := d.PlainTitle(); p.title != want {
			t.Errorf("%s: title %q, want %q", q, p.title, want)
		}
	}
}

// TestHTMLSpeaksWords holds that a screen reader finds no formula and no sign
// in what is said, in particular no true minus, no superscript and no arrow.
func TestHTMLSpeaksWords(t *testing.T) {
	for _, q := range questions {
		said := readPage(t, htmlOf(t, documentOf(t, q), document.HTMLOptions{})).spoken.String()
		if i := strings.IndexAny(said, "−≠→⟶×+=^_₂⁺"); i >= 0 {
			t.Errorf("%s: said: %q", q, said[max(0, i-60):min(len(said), i+20)])
		}
	}
	said := readPage(t, htmlOf(t, every(), document.HTMLOptions{})).spoken.String()
	for _, want := range []string{
		"A remark on permanganate ion & more.",
		"permanganate ion gives manganese two ion",
		"oxygen: left 4, right 0, not equal; charge: left minus 1, right plus 2, not equal",
		"add five electrons",
	} {
		if !strings.Contains(said, want) {
			t.Errorf("not said: %q", want)
		}
	}
}

func TestHTMLElements(t *testing.T) {
	s := htmlOf(t, every(), document.HTMLOptions{})
	for _, want := range []string{
		`<html lang="en">`, `<meta name="viewport" content="width=device-width, initial-scale=1">`,
		"<title>MnO₄⁻ + Fe²⁺ ⟶ Mn²⁺ + Fe³⁺, in acid</title>",
		`<span class="f">MnO<sub>4</sub><sup>−</sup></span>`, // the charge after the subscript
		`<var>a</var>`, `·5H<sub>2</sub>O`,
		`<th scope="col" class="number">`, `<th scope="row">`, "<caption>",
		`<span class="law open">O 4 ≠ 0</span>`, `<section class="keep">`,
		`<var>a</var></span> <span class="f">− <var>b</var>`,
	} {
		if !strings.Contains(s, want) {
			t.Errorf("the page has no %q", want)
		}
	}
	for _, not := range []string{"http:", "https:", "url(", "@import", "<script", "onclick"} {
		if strings.Contains(s, not) {
			t.Errorf("the page has %q: it should load and run nothing", not)
		}
	}
}

// TestHTMLHeadings holds that levels follow each other without a gap.
func TestHTMLHeadings(t *testing.T) {
	untitled := every()
	untitled.Title = nil
	for _, tt := range []struct {
		d     *document.Document
		level int
		want  string
	}{
		{every(), 0, "h1 h2 h2 h3 h2"},
		{every(), 3, "h3 h4 h4 h5 h4"},
		{every(), 6, "h6 h6 h6 h6 h6"},
		{untitled, 0, "h1 h1 h2 h1"},
	} {
		var got []string
		for _, tag := range readPage(t, htmlOf(t, tt.d, document.HTMLOptions{Level: tt.level})).tags {
			if len(tag) == 2 && tag[0] == 'h' && tag[1] >= '1' && tag[1] <= '6' {
				got = append(got, tag)
			}
		}
		if g := strings.Join(got, " "); g != tt.want {
			t.Errorf("from level %d: headings %s, want %s", tt.level, g, tt.want)
		}
	}
}

func TestHTMLFragment(t *testing.T) {
	s := htmlOf(t, every(), document.HTMLOptions{Fragment: true, Level: 2})
	if !strings.HasPrefix(s, `<article class="halves" lang="en">`) || !strings.HasSuffix(s, "</article>\n") {
		t.Errorf("a fragment is one article element, got %.60q ... %q", s, s[len(s)-40:])
	}
	if strings.Contains(s, "<style") || strings.Contains(s, "<h1>") || strings.Contains(s, " id=") {
		t.Error("a fragment has a style, a first heading, or an id that could stand twice on a page")
	}
	for line := range strings.SplitSeq(document.HTMLStyle, "\n") {
		if !strings.HasPrefix(line, ".halves") && !strings.HasPrefix(line, "@") && line != "}" && line != "" {
			t.Errorf("a rule reaches beyond a document: %s", line)
		}
	}
}

// shown is what a page shows of a text: characters that a page may not hold
// are replaced.
func shown(s string) string {
	s = strings.ToValidUTF8(s, "\uFFFD")
	return strings.Map(func(r rune) rune {
		switch {
		case r == '\n' || r == '\t' || r == '\r':
			return r
		case unicode.IsControl(r), r >= 0x202a && r <= 0x202e, r >= 0x2066 && r <= 0x2069, r >= 0xfdd0 && r <= 0xfdef, r&0xfffe == 0xfffe:
			return '\uFFFD'
		}
		return r
	}, s)
}

// squeezed returns the characters of a text, sorted, with one sign for all that
// were replaced: ToValidUTF8 puts one for several wrong bytes, a writer one for
// each.
func squeezed(s string) string {
	s = letters([]string{bare(s)})
	if i := strings.IndexRune(s, '\uFFFD'); i >= 0 {
		s = strings.ReplaceAll(s, "\uFFFD", "") + "\uFFFD"
	}
	return s
}

func checkHTMLEscapes(t *testing.T, s string) {
	d := asDocument(s)
	p := readPage(t, htmlOf(t, d, document.HTMLOptions{}))
	got := p.seen.String()
	want := strings.Repeat(shown(s), times)
	if g, w := squeezed(got), squeezed(want+"Cu→Cu"+"7."+"(right answer)"+"What is said"); g != w {
		t.Errorf("of %q the page shows\n%q, want\n%q", s, g, w)
	}
	plain := readPage(t, htmlOf(t, asDocument("x"), document.HTMLOptions{}))
	if g, w := strings.Join(p.tags, " "), strings.Join(plain.tags, " "); g != w && s != "" {
		t.Errorf("%q makes elements: %s, want %s", s, g, w)
	}
}

func TestHTMLEscapes(t *testing.T) {
	for _, s := range hostile {
		checkHTMLEscapes(t, s)
	}
}

func FuzzHTML(f *testing.F) {
	for _, s := range hostile {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) { checkHTMLEscapes(t, s) })
}

// A golden file is compared byte by byte. It was looked at as it is shown.
func golden(t *testing.T, name, got string) {
	t.Helper()
	path := filepath.Join("testdata", name)
	want, err := os.ReadFile(path)
	if err == nil && string(want) == got {
		return
	}
	if err := os.WriteFile(path+".got", []byte(got), 0o666); err != nil {
		t.Fatal(err)
	}
	t.Errorf("what is written differs; look at it, and see: diff document/%s document/%s.got", path, path)
}

func TestHTMLGolden(t *testing.T) {
	golden(t, "every.html", htmlOf(t, every(), document.HTMLOptions{Fragment: true}))
	golden(t, "paper.html", htmlOf(t, onPaper(), document.HTMLOptions{Fragment: true}))
}

func TestWritersReportErrors(t *testing.T) {
	d := every()
	for name, write := range map[string]func(w *failing) error{
		"HTML":     func(w *failing) error { return document.HTML(w, d, document.HTMLOptions{}) },
		"Markdown": func(w *failing) error { return document.Markdown(w, d) },
		"LaTeX":    func(w *failing) error { return document.LaTeX(w, d, document.LaTeXOptions{}) },
	} {
		if err := write(&failing{10}); !errors.Is(err, errFull) {
			t.Errorf("%s returned %v, want %v", name, err, errFull)
		}
	}
}

// TestWritersWriteText holds that what is written is valid UTF-8, whatever was
// put in.
func TestWritersWriteText(t *testing.T) {
	d := asDocument("\xff\x00\x1b[31m\u202e\ud7ff\xed\xa0\x80")
	for name, s := range map[string]string{"HTML": htmlOf(t, d, document.HTMLOptions{}), "Markdown": markdownOf(t, d), "LaTeX": latexOf(t, d, document.LaTeXOptions{})} {
		if !utf8.ValidString(s) || strings.ContainsAny(s, "\x00\x1b\u202e") {
			t.Errorf("%s wrote what is no text: %q", name, s)
		}
	}
}

// The pages of a real question, looked at in a browser and printed.
const worked = "MnO4^- + H2C2O4 -> Mn^2+ + CO2, in acid"

func TestWorkedGolden(t *testing.T) {
	d := documentOf(t, worked)
	golden(t, "oxalate.html", htmlOf(t, d, document.HTMLOptions{Fragment: true}))
	golden(t, "oxalate.md", markdownOf(t, d))
	golden(t, "oxalate.tex", latexOf(t, d, document.LaTeXOptions{}))
}
