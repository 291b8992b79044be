package document_test

import (
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"halves/document"
)

func latexOf(t testing.TB, d *document.Document, o document.LaTeXOptions) string {
	t.Helper()
	var b strings.Builder
	if err := document.LaTeX(&b, d, o); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

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

// typeset compiles LaTeX and returns the text of the pages. It fails where
// LaTeX warns of anything, boxes that are too full among it.
func typeset(t *testing.T, source string) string {
	t.Helper()
	latex, totext := needProgram(t, "pdflatex", "texlive-latex-base"), needProgram(t, "pdftotext", "poppler-utils")
	dir := t.TempDir()
	if err := os.WriteFile(filepath.Join(dir, "page.tex"), []byte(source), 0o666); err != nil {
		t.Fatal(err)
	}
	runs := 1
	if strings.Contains(source, `\label{`) {
		runs = 2 // how many pages there are is known after the first
	}
	var out []byte
	for range runs {
		cmd := exec.Command(latex, "-interaction=nonstopmode", "-halt-on-error", "-no-shell-escape", "page.tex")
		cmd.Dir = dir
		var err error
		if out, err = cmd.CombinedOutput(); err != nil {
			t.Fatalf("pdflatex: %v\n%s", err, out[max(0, len(out)-2000):])
		}
	}
	for line := range strings.SplitSeq(string(out), "\n") {
		if strings.Contains(line, "Overfull") || strings.Contains(line, "Warning") || strings.Contains(line, "mktexpk") {
			t.Errorf("pdflatex: %s", line)
		}
	}
	cmd := exec.Command(totext, "-raw", "page.pdf", "-")
	cmd.Dir = dir
	out, err := cmd.Output()
	if err != nil {
		t.Fatalf("pdftotext: %v", err)
	}
	return string(out)
}

// asRead is a text as it is read back from a page of LaTeX, where sub- and
// superscripts are digits, the long arrow is put together, and ≠ is a stroke
// through =.
func asRead(s string) string {
	s = asHTML.Replace(s)
	s = strings.NewReplacer("−→", "→", "\u0338=", "≠", "≠", "≠", "6=", "≠", "•", "", "\f", " ").Replace(s)
	return s
}

// TestLaTeXCompiles typesets solutions and reads the pages back.
func TestLaTeXCompiles(t *testing.T) {
	for _, q := range questions[:7] {
		t.Run(q, func(t *testing.T) {
			d := documentOf(t, q)
			got := bare(asRead(typeset(t, latexOf(t, d, document.LaTeXOptions{}))))
			for _, b := range d.Blocks {
				var want []string
				switch b := b.(type) {
				case document.Equation:
					want = []string{written(document.Inline{{Formula: b.Line}})}
					if b.Line == nil {
						want = nil
					}
					want = append(want, written(b.Reason), written(b.Label))
				case document.Paragraph:
					want = []string{written(b.Text)}
				case document.Note:
					want = []string{written(b.Text)}
				case document.Heading:
					want = []string{written(b.Text)}
				case document.List:
					for _, item := range b.Items {
						want = append(want, written(item))
					}
				}
				for _, w := range want {
					if w = bare(asRead(w)); !strings.Contains(got, w) {
						t.Errorf("the page has no %q", w)
					}
				}
			}
			if t.Failed() {
				t.Logf("read back:\n%s", got)
			}
		})
	}
	t.Run("every block", func(t *testing.T) { typeset(t, latexOf(t, every(), document.LaTeXOptions{})) })
}

// TestLaTeXHostile typesets every character that means something.
func TestLaTeXHostile(t *testing.T) {
	d := &document.Document{Running: document.Running{Left: `\ # $ %`, Right: "& { }", Foot: `\pageref{x} "<" −`}}
	for _, s := range hostile {
		d.Blocks = append(d.Blocks, asDocument(s).Blocks...)
	}
	got := typeset(t, latexOf(t, d, document.LaTeXOptions{}))
	for _, want := range []string{`<script>alert(“1”)</script>`, `$x$ $$ # `, `& < >`, "| pipes |", "[* a star behind a bracket", "− × ", `\ # $ % & { }`, `\pageref{x} “<” − 1 of `} {
		if !strings.Contains(bare(got), bare(want)) {
			t.Errorf("the page has no %q:\n%s", want, got)
		}
	}
}

// TestLaTeXElements holds what the source says.
func TestLaTeXElements(t *testing.T) {
	s := latexOf(t, every(), document.LaTeXOptions{})
	for _, want := range []string{
		`\usepackage{amsmath}`, `\mathrm{MnO_{4}{}^{-}}`, ` &\longrightarrow \mathrm{Mn{}^{2+}}`, `\boxed{`, `\cdot`,
		`a\mathrm{\,CuSO_{4}`, `\mathrm{4}a-b &=`, `$\neq$`, `\& more`, `\begin{flalign*}`,
	} {
		if !strings.Contains(s, want) {
			t.Errorf("the source has no %q:\n%s", want, s)
		}
	}
	if n := strings.Count(s, `\usepackage`); n != 1 {
		t.Errorf("%d packages, want amsmath alone", n)
	}
	if f := latexOf(t, every(), document.LaTeXOptions{Fragment: true}); strings.Contains(f, "documentclass") || strings.Contains(f, `\end{document}`) || !strings.HasPrefix(f, `\begingroup`) {
		t.Errorf("a fragment has a document around it: %.80q", f)
	}
}

// TestLaTeXSigns holds that the signs that the engine writes are there.
func TestLaTeXSigns(t *testing.T) {
	s := latexOf(t, &document.Document{Blocks: []document.Block{document.Paragraph{Text: prose("ΔG° ≤ 3 ± 1 ≈ 2 × 10⁻⁵, λ ≠ δ ≥ β; – − · …")}}}, document.LaTeXOptions{})
	if strings.Contains(s, "[U+") || !strings.Contains(s, `$\Delta$G$^{\circ}$ $\leq$ 3 $\pm$ 1`) {
		t.Errorf("a sign is given by its number, or otherwise:\n%s", s)
	}
	typeset(t, s)
}

// checkLaTeXEscapes holds that braces balance and that no character acts.
func checkLaTeXEscapes(t *testing.T, s string) {
	source := latexOf(t, asDocument(s), document.LaTeXOptions{Fragment: true})
	plain := latexOf(t, asDocument("x"), document.LaTeXOptions{Fragment: true})
	// What the commands for paper are made of is no text of the document.
	_, source, _ = strings.Cut(source, `-#1\relax}`)
	_, plain, _ = strings.Cut(plain, `-#1\relax}`)
	depth, dollars, comments := 0, 0, 0
	for i := 0; i < len(source); i++ {
		switch source[i] {
		case '\\':
			i++
		case '{':
			depth++
		case '}':
			if depth--; depth < 0 {
				t.Fatalf("%q closes a brace that is not open:\n%s", s, source[:i+1])
			}
		case '$':
			dollars++
		case '%', '#':
			comments++
		}
	}
	if depth != 0 || dollars%2 != 0 || comments != 0 {
		t.Errorf("%q leaves %d braces open, writes %d dollar signs, %d signs of comments", s, depth, dollars, comments)
	}
	for _, command := range []string{`\begin{`, `\end{`, `\item`, `\section`, `\par`, `\intertext{`} {
		g, w := strings.Count(source, command), strings.Count(plain, command)
		if strings.HasSuffix(command, "{") && g == w-1 || command == `\par` && g >= w {
			continue // a table that was too wide, row by row
		}
		if g != w {
			t.Errorf("%q makes %d of %s, want %d", s, g, command, w)
		}
	}
}

func TestLaTeXEscapes(t *testing.T) {
	for _, s := range hostile {
		checkLaTeXEscapes(t, s)
	}
}

func FuzzLaTeX(f *testing.F) {
	for _, s := range hostile {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) { checkLaTeXEscapes(t, s) })
}

func TestLaTeXGolden(t *testing.T) {
	golden(t, "every.tex", latexOf(t, every(), document.LaTeXOptions{}))
	golden(t, "paper.tex", latexOf(t, onPaper(), document.LaTeXOptions{}))
}
