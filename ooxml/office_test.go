package ooxml_test

import (
	"context"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"halves/chem"
	"halves/document"
	"halves/ooxml"
)

// printed opens files in an office suite, prints them, and returns the text of each,
// without spaces and without the foot of the pages.
func printed(t *testing.T, files map[string][]byte) map[string]string {
	t.Helper()
	office, totext := needProgram(t, "soffice", "libreoffice"), needProgram(t, "pdftotext", "poppler-utils")
	dir := t.TempDir()
	args := []string{"-env:UserInstallation=file://" + filepath.ToSlash(filepath.Join(dir, "profile")), "--headless", "--convert-to", "pdf", "--outdir", dir}
	for name, data := range files {
		path := filepath.Join(dir, name)
		if err := os.WriteFile(path, data, 0o666); err != nil {
			t.Fatal(err)
		}
		args = append(args, path)
	}
	ctx, cancel := context.WithTimeout(t.Context(), 4*time.Minute)
	defer cancel()
	if out, err := exec.CommandContext(ctx, office, args...).CombinedOutput(); err != nil {
		t.Fatalf("soffice: %v\n%s", err, out)
	}
	all := map[string]string{}
	for name := range files {
		pdf := filepath.Join(dir, strings.TrimSuffix(name, filepath.Ext(name))+".pdf")
		out, err := exec.Command(totext, "-raw", pdf, "-").Output()
		if err != nil {
			t.Fatalf("pdftotext: %v", err)
		}
		var text strings.Builder
		for page := range strings.SplitSeq(string(out), "\f") {
			lines := strings.Split(strings.TrimSpace(page), "\n")
			text.WriteString(strings.Join(lines[:len(lines)-1], "")) // the last is the number of the page
		}
		all[name] = bare(text.String())
	}
	return all
}

// bare leaves out spaces and word joiners.
func bare(s string) string { return strings.ReplaceAll(withoutSpaces(s), "\u2060", "") }

// asPrinted are runs in plain characters, sub- and superscripts like the others.
func asPrinted(runs []chem.Run) string {
	var b strings.Builder
	for _, r := range runs {
		if r != document.Blank {
			b.WriteString(strings.NewReplacer("->", "→", "-", "−", ".", "·").Replace(r.Text))
		}
	}
	return bare(b.String())
}

// contents lists what must be read in a document: texts, lines, cells.
func contents(d *document.Document) []string {
	var out []string
	inline := func(all ...document.Inline) {
		for _, t := range all {
			s := ""
			for _, span := range t {
				s += bare(span.Prose) + asPrinted(span.Formula)
			}
			out = append(out, s)
		}
	}
	for _, b := range d.Blocks {
		switch b := b.(type) {
		case document.Heading:
			inline(b.Text)
		case document.Slide:
			inline(b.Title)
		case document.Paragraph:
			inline(b.Text)
		case document.Note:
			inline(b.Text)
		case document.List:
			inline(b.Items...)
		case document.Exercise:
			inline(b.Text, prose(b.Marks))
		case document.Space:
			inline(b.Label)
		case document.Fields:
			for _, l := range b.Labels {
				inline(prose(l))
			}
		case document.Choices:
			for _, c := range b.Items {
				inline(c.Text, c.Note)
			}
		case document.Table:
			for _, r := range append([][]document.Inline{b.Head}, b.Rows...) {
				inline(r...)
			}
		case document.Figure:
			inline(prose(b.Drawn.Title))
		case document.Equation:
			inline(b.Label, b.Reason)
			out = append(out, asPrinted(b.Line))
		}
	}
	return out
}

// TestOffice opens a document and a deck in a word processor and a presentation
// program, and holds that what they print has every text and every formula.
func TestOffice(t *testing.T) {
	paper := document.Joined(worked(t, questions[0]), worked(t, questions[5]), worksheet(t, true))
	paper.Blocks = append(paper.Blocks, chart())
	slides := deck(t, questions[1])
	got := printed(t, map[string][]byte{
		"paper.docx":  written(t, "docx", paper, ooxml.Options{}),
		"slides.pptx": written(t, "pptx", slides, ooxml.Options{}),
	})
	for name, d := range map[string]*document.Document{"paper.docx": paper, "slides.pptx": slides} {
		for _, want := range contents(d) {
			if !strings.Contains(got[name], want) {
				t.Errorf("%s: no %s", name, want)
			}
		}
		if t.Failed() {
			t.Logf("%s is printed as\n%s", name, got[name])
		}
	}
	// The picture is drawn, with its letters.
	if !strings.Contains(got["paper.docx"], "7,44%") {
		t.Error("the picture is not drawn")
	}
}
