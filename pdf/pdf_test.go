package pdf

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
	"unicode"

	"halves/document"
)

// needProgram returns the path of a program, or skips; with HALVES_NO_SKIP it
// fails.
func needProgram(t testing.TB, name, debian string) string {
	path, err := exec.LookPath(name)
	if err == nil {
		return path
	}
	if os.Getenv("HALVES_NO_SKIP") != "" {
		t.Fatalf("needs %s (Debian package %s)", name, debian)
	}
	t.Skipf("needs %s (Debian package %s)", name, debian)
	return ""
}

// run runs a program on a file and returns what it prints.
func run(t testing.TB, debian, name string, args ...string) string {
	t.Helper()
	out, err := exec.Command(needProgram(t, name, debian), args...).CombinedOutput()
	if err != nil {
		t.Fatalf("%s %s: %v\n%s", name, strings.Join(args, " "), err, out)
	}
	return string(out)
}

// fileOf writes documents to a file.
func fileOf(t testing.TB, o Options, docs ...*document.Document) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), "pages.pdf")
	f, err := os.Create(path)
	if err != nil {
		t.Fatal(err)
	}
	if err := Write(f, o, docs...); err != nil {
		t.Fatal(err)
	}
	if err := f.Close(); err != nil {
		t.Fatal(err)
	}
	return path
}

func ExampleWrite() {
	d := &document.Document{
		Title:   document.Plain("Balancing by half-reactions"),
		Running: document.Running{Left: "Tarn Hollow College", Right: "Version A"},
		Blocks: []document.Block{
			document.Fields{Labels: []string{"Name", "Code"}},
			document.Exercise{Number: 1, Marks: "2 marks", Text: document.Plain("Which half loses electrons?")},
			document.Space{Lines: 3},
		},
	}
	var b bytes.Buffer
	if err := Write(&b, Options{Paper: Letter}, d); err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%s and no more than 40 kB: %t\n", b.Bytes()[:8], b.Len() < 40000)
	// Output:
	// %PDF-1.7 and no more than 40 kB: true
}

// samples are documents of every kind, by what they show.
func samples(t testing.TB) map[string][]*document.Document {
	t.Helper()
	out := map[string][]*document.Document{
		"worksheets": {worksheet(t, "A", 7), worksheet(t, "B", 3)},
		"key":        {key(t, 5)},
		"deck":       {deck(t)},
		"pictures":   {pictures(t)},
		"long":       {long(t)},
		"empty":      {{}, {Title: document.Inline{}}, {Blocks: []document.Block{document.Slide{}}}},
	}
	for _, q := range questions {
		out["solutions"] = append(out["solutions"], worked(t, q))
	}
	return out
}

// TestValid holds that other programs read the files: qpdf finds nothing wrong,
// every font is embedded and says which letters it has.
func TestValid(t *testing.T) {
	for name, docs := range samples(t) {
		for paper, o := range map[string]Options{"A4": {}, "Letter": {Paper: Letter, BothSides: true}} {
			path := fileOf(t, o, docs...)
			run(t, "qpdf", "qpdf", "--check", path)
			fonts := strings.Split(strings.TrimSpace(run(t, "poppler-utils", "pdffonts", path)), "\n")[2:]
			if len(fonts) == 0 {
				t.Errorf("%s: no fonts", name)
			}
			for _, f := range fonts {
				// Columns: name, type (two words), encoding, emb, sub, uni, number.
				if x := strings.Fields(f); x[len(x)-5] != "yes" || x[len(x)-3] != "yes" {
					t.Errorf("%s, %s: a font is not embedded, or cannot be copied from: %s", name, paper, f)
				}
			}
		}
	}
}

// TestSame holds that the same documents give the same bytes.
func TestSame(t *testing.T) {
	for name, docs := range samples(t) {
		var a, b bytes.Buffer
		if err := errors.Join(Write(&a, Options{}, docs...), Write(&b, Options{}, docs...)); err != nil {
			t.Fatal(err)
		}
		if !bytes.Equal(a.Bytes(), b.Bytes()) {
			t.Errorf("%s: two runs differ", name)
		}
	}
}

// field returns what pdfinfo says of a file under a name.
func field(t testing.TB, path, name string, more ...string) string {
	t.Helper()
	out := run(t, "poppler-utils", "pdfinfo", append(more, path)...)
	for line := range strings.Lines(out) {
		if rest, ok := strings.CutPrefix(line, name+":"); ok {
			return strings.TrimSpace(rest)
		}
	}
	return ""
}

// TestPages holds how many pages there are, how large, and what they say of
// themselves.
func TestPages(t *testing.T) {
	short := &document.Document{Title: plain("A"), Blocks: []document.Block{document.Paragraph{Text: plain("One page.")}, document.Break{}, document.Break{}, document.Paragraph{Text: plain("Another.")}, document.Break{}}}
	slides := &document.Document{Language: "de", Title: plain("Folien"), Blocks: []document.Block{document.Slide{Title: plain("1")}, document.Slide{Title: plain("2")}, document.Break{}, document.Paragraph{Text: plain("x")}}}
	tests := []struct {
		name  string
		o     Options
		docs  []*document.Document
		pages string
		size  string
		title string
	}{
		{"breaks", Options{}, []*document.Document{short}, "2", "595.28 x 841.89 pts (A4)", "A"}, // ISO 216: 210 mm by 297 mm
		{"letter", Options{Paper: Letter, Title: "Its own"}, []*document.Document{short}, "2", "612 x 792 pts (letter)", "Its own"},
		{"several", Options{}, []*document.Document{short, nil, short, {}}, "5", "595.28 x 841.89 pts (A4)", "A"},
		{"both sides", Options{BothSides: true}, []*document.Document{{}, {}, short}, "6", "595.28 x 841.89 pts (A4)", "Working"},
		{"deck", Options{}, []*document.Document{slides}, "3", "960 x 540 pts", "Folien"},
	}
	for _, tt := range tests {
		path := fileOf(t, tt.o, tt.docs...)
		for name, want := range map[string]string{"Pages": tt.pages, "Page size": tt.size, "Title": tt.title, "Tagged": "yes", "JavaScript": "no", "Encrypted": "no", "CreationDate": ""} {
			if got := field(t, path, name); got != want {
				t.Errorf("%s: pdfinfo: %s = %q, want %q", tt.name, name, got, want)
			}
		}
	}
	text := run(t, "poppler-utils", "pdftotext", "-raw", fileOf(t, Options{}, short, slides), "-")
	for _, want := range []string{"1 of 2", "2 of 2", "1 of 3", "3 of 3"} {
		if !strings.Contains(text, want) {
			t.Errorf("no page has the number %q", want)
		}
	}
}

func TestNone(t *testing.T) {
	var b bytes.Buffer
	for _, docs := range [][]*document.Document{nil, {nil}} {
		if err := Write(&b, Options{}, docs...); !errors.Is(err, ErrNone) || b.Len() > 0 {
			t.Errorf("Write(no document) = %v and %d bytes, want ErrNone and none", err, b.Len())
		}
	}
}

// full is a writer that has room for some bytes.
type full struct{ room int }

var errFull = errors.New("no room is left")

func (f *full) Write(b []byte) (int, error) {
	if f.room -= len(b); f.room < 0 {
		return 0, errFull
	}
	return len(b), nil
}

// TestFull holds that the error of the writer comes back, wherever it happens.
func TestFull(t *testing.T) {
	var whole bytes.Buffer
	d := worked(t, questions[0])
	if err := Write(&whole, Options{}, d); err != nil {
		t.Fatal(err)
	}
	for _, room := range []int{0, 100, whole.Len() / 2, whole.Len() - 3000, whole.Len() - 1} {
		if err := Write(&full{room}, Options{}, d); !errors.Is(err, errFull) {
			t.Errorf("with room for %d bytes of %d: %v, want the error of the writer", room, whole.Len(), err)
		}
	}
}

// bare takes out spaces, so that texts compare by their characters.
func bare(s string) string {
	return strings.Map(func(r rune) rune {
		if unicode.IsSpace(r) || r == noBreak {
			return -1
		}
		return r
	}, s)
}

// textsOf are the texts that the pages of a document show, formulas with real
// sub- and superscripts.
func textsOf(d *document.Document) []string {
	out := []string{plainText(d.Title)}
	add := func(all ...document.Inline) {
		for _, x := range all {
			out = append(out, plainText(x))
		}
	}
	for _, b := range d.Blocks {
		switch b := b.(type) {
		case document.Heading:
			add(b.Text)
		case document.Paragraph:
			add(b.Text)
		case document.Note:
			add(b.Text)
		case document.List:
			add(b.Items...)
		case document.Equation:
			add(b.Label, document.Inline{{Formula: b.Line}}, b.Reason)
			for _, e := range b.Ledger {
				out = append(out, entryText(e))
			}
		case document.Exercise:
			add(b.Text, plain(b.Marks))
		case document.Choices:
			for _, x := range b.Items {
				add(x.Text, x.Note)
			}
		case document.Space:
			add(b.Label)
		case document.Fields:
			out = append(out, b.Labels...)
		case document.Slide:
			add(b.Title)
		case document.Figure:
			out = append(out, b.Drawn.Title)
		case document.Table:
			if b.Spare == 0 {
				for _, r := range b.Rows {
					add(r...)
				}
			}
		}
	}
	return out
}

// TestText reads the pages back: every formula and every text is there, in
// characters that can be copied.
func TestText(t *testing.T) {
	for name, docs := range samples(t) {
		if name == "long" || name == "empty" {
			continue
		}
		got := bare(run(t, "poppler-utils", "pdftotext", "-raw", fileOf(t, Options{}, docs...), "-"))
		n := 0
		for _, d := range docs {
			if d.IsDeck() {
				d.Title = nil // it is in the foot alone where that has nothing else
			}
			for _, want := range textsOf(d) {
				if want = bare(want); want == "" {
					continue
				}
				n++
				if !strings.Contains(got, want) && !strings.Contains(strings.ReplaceAll(got, "6marks", ""), want) {
					t.Errorf("%s: the pages have no %q", name, want)
				}
			}
		}
		if n < 10 {
			t.Errorf("%s: %d texts were looked for, so the test sees little", name, n)
		}
		if t.Failed() {
			t.Logf("%s, read back:\n%s", name, got)
		}
	}
}

// A drawnMark is a mark at its place on a page.
type drawnMark struct {
	mark
	own  element
	page int
	at   struct{ x, y float64 } // the base line
}

// marksOf writes documents and returns what was drawn.
func marksOf(t testing.TB, o Options, docs ...*document.Document) ([]drawnMark, *writer) {
	t.Helper()
	return marksIn(t, io.Discard, o, docs...)
}

// marksIn is marksOf that keeps the file.
func marksIn(t testing.TB, file io.Writer, o Options, docs ...*document.Document) ([]drawnMark, *writer) {
	t.Helper()
	w := newWriter(o)
	var out []drawnMark
	w.seen = func(m *mark, own element, x, y float64) {
		d := drawnMark{mark: *m, own: own, page: len(w.sheets) - 1}
		d.at.x, d.at.y = x+m.x, y+m.y
		out = append(out, d)
	}
	for _, d := range docs {
		w.document(d)
	}
	if err := w.finish(file); err != nil {
		t.Fatal(err)
	}
	return out, w
}

// faults lists what no page may have: letters that the font does not have, marks
// outside the margins, letters over other letters.
func faults(all []drawnMark, w *writer) []string {
	var out []string
	type box struct{ x1, y1, x2, y2 float64 }
	pages := map[int][]drawnMark{}
	for _, m := range all {
		s := w.sheets[m.page]
		what := fmt.Sprintf("page %d: %.60q at %.1f, %.1f", m.page+1, m.text, m.at.x, m.at.y)
		b := box{m.at.x, m.at.y, m.at.x + m.width, m.at.y + m.height}
		switch m.kind {
		case letters, unseen:
			if !(m.size > 1) {
				out = append(out, what+": the letters are of no size")
			}
			b.y1, b.y2 = m.at.y-0.7*m.size, m.at.y+0.2*m.size
			b.x2 = m.at.x + fonts()[m.face].width(strings.TrimRight(m.text, " "))*m.size
			for _, r := range m.text {
				if _, ok := fonts()[m.face].advance(r); !ok {
					out = append(out, fmt.Sprintf("%s: the font has no %q", what, r))
				}
			}
			if m.kind == letters && strings.TrimSpace(m.text) != "" {
				pages[m.page] = append(pages[m.page], m)
			}
		}
		if math.IsNaN(b.x1+b.x2+b.y1+b.y2) || b.x1 < s.left-0.5 || b.x2 > s.width-s.right+0.5 || b.y1 < 10 || b.y2 > s.height-10 {
			out = append(out, fmt.Sprintf("%s to %.1f, %.1f: outside the margins", what, b.x2, b.y2))
		}
		if m.own != artifact && (b.y1 < s.top-3 || b.y2 > s.height-s.bottom+5) {
			out = append(out, what+": above or below the margins")
		}
	}
	for page, all := range pages {
		slices.SortStableFunc(all, func(a, b drawnMark) int { return int(math.Copysign(1, a.at.y-b.at.y)) })
		for i, a := range all {
			for _, b := range all[i+1:] {
				if b.at.y-a.at.y > 0.5*max(a.size, b.size) {
					break
				}
				// Raised and lowered letters touch others at a corner at most.
				ax2 := a.at.x + fonts()[a.face].width(strings.TrimRight(a.text, " "))*a.size
				bx2 := b.at.x + fonts()[b.face].width(strings.TrimRight(b.text, " "))*b.size
				if overlap := min(ax2, bx2) - max(a.at.x, b.at.x); overlap > 0.05*min(a.size, b.size)+0.05 {
					out = append(out, fmt.Sprintf("page %d: %.40q stands over %.40q", page+1, a.text, b.text))
				}
			}
		}
	}
	return out
}

func TestFaults(t *testing.T) {
	for name, docs := range samples(t) {
		for _, o := range []Options{{}, {Paper: Letter}} {
			all, w := marksOf(t, o, docs...)
			for i, f := range faults(all, w) {
				if i < 10 {
					t.Errorf("%s: %s", name, f)
				}
			}
			if len(all) == 0 {
				t.Errorf("%s: nothing was drawn, so the test sees nothing", name)
			}
		}
	}
}

var numberOfPage = regexp.MustCompile(`^\d+ of \d+$`)

// TestHeads holds that head, foot and number stand on every page, outside the
// text.
func TestHeads(t *testing.T) {
	d := worksheet(t, "A", 7)
	all, w := marksOf(t, Options{}, d)
	for page, s := range w.sheets {
		found := map[string]bool{}
		for _, m := range all {
			if m.page == page && m.own == artifact && m.kind == letters {
				text := m.text
				if numberOfPage.MatchString(text) {
					text = "number"
				}
				found[text] = true
				if m.at.y > s.top-6 && m.at.y < s.height-s.bottom+10 {
					t.Errorf("page %d: %q stands in the text, at %.1f", page+1, m.text, m.at.y)
				}
			}
		}
		for _, want := range []string{d.Running.Left, d.Running.Right, d.Running.Foot, "number"} {
			if !found[want] {
				t.Errorf("page %d has no %q", page+1, want)
			}
		}
	}
}
