package document_test

import (
	"regexp"
	"slices"
	"strings"
	"testing"
	"unicode/utf8"

	"golang.org/x/net/html"
	"pgregory.net/rapid"

	"halves/chem"
	"halves/document"
)

// someText draws a line of words, formulas and blanks.
var someText = rapid.Custom(func(t *rapid.T) document.Inline {
	var out document.Inline
	for i := range rapid.IntRange(1, 6).Draw(t, "pieces") {
		if i > 0 {
			out = append(out, document.Span{Prose: " "})
		}
		out = append(out, rapid.SampledFrom([]document.Span{
			{Prose: "electrons"}, {Prose: "on the left,"}, {Prose: "+7", Spoken: "plus 7"}, {Prose: "(why?)"}, {Prose: "a_b * c # d & e"}, {Prose: "100 % <b> {x} $y$"},
			{Formula: []chem.Run{{Text: "MnO"}, {Text: "4", Level: chem.Subscript}, {Text: "-", Level: chem.Superscript}}, Spoken: "permanganate ion"},
			{Formula: runsOf("Cu + 2 Ag^+ -> Cu^2+ + 2 Ag")},
			{Formula: []chem.Run{document.Blank, {Text: " "}, {Text: "Cu"}, {Text: "2+", Level: chem.Superscript}}},
		}).Draw(t, "piece"))
	}
	return out
})

var someWord = rapid.SampledFrom([]string{"Name", "Version A", "6 marks", "Code", "1 & 2 #", "7Q2F", "General Chemistry II, section B"})

// orNot draws a value, or its zero.
func orNot[T any](t *rapid.T, g *rapid.Generator[T], label string) T {
	var zero T
	if rapid.Bool().Draw(t, label+"?") {
		return zero
	}
	return g.Draw(t, label)
}

// someBlock draws a block of any kind.
var someBlock = rapid.Custom(func(t *rapid.T) document.Block {
	text := func(label string) document.Inline { return someText.Draw(t, label) }
	switch rapid.IntRange(0, 12).Draw(t, "kind") {
	case 0:
		return document.Heading{Level: rapid.IntRange(1, 2).Draw(t, "level"), Text: text("heading"), Keep: rapid.Bool().Draw(t, "keep")}
	case 1:
		return document.Paragraph{Text: text("paragraph")}
	case 2:
		return document.Note{Text: text("note")}
	case 3:
		return document.List{Items: rapid.SliceOfN(someText, 1, 3).Draw(t, "items")}
	case 4:
		return document.Table{Caption: "A table", Head: []document.Inline{text("head"), text("head")}, Right: []bool{false, true}, Rows: [][]document.Inline{{text("cell"), text("cell")}}}
	case 5:
		line := rapid.SampledFrom([]string{"Cu + 2 Ag^+ -> Cu^2+ + 2 Ag", "MnO4^- + 8 H^+ + 5 e^- -> Mn^2+ + 4 H2O", "MnO4^- -> Mn^2+"}).Draw(t, "line")
		e := document.Equation{Label: orNot(t, someText, "label"), Line: runsOf(line), Reason: orNot(t, someText, "reason"), Fresh: rapid.Bool().Draw(t, "fresh")}
		if rapid.Bool().Draw(t, "final") {
			e = document.Equation{Line: e.Line, Final: true}
		} else if rapid.Bool().Draw(t, "ledger") {
			e.Ledger = ledgerOf(line)
		}
		return e
	case 6:
		return document.Equation{Line: []chem.Run{document.Blank, {Text: " "}, {Text: "Cu"}, {Text: " -> "}, document.Blank, {Text: " "}, {Text: "Cu"}}, Fresh: rapid.Bool().Draw(t, "fresh")}
	case 7:
		return document.Exercise{Number: rapid.IntRange(1, 120).Draw(t, "number"), Marks: orNot(t, someWord, "marks"), Text: orNot(t, someText, "asked")}
	case 8:
		c := document.Choices{}
		for range rapid.IntRange(1, 5).Draw(t, "choices") {
			c.Items = append(c.Items, document.Choice{Text: text("choice"), Right: rapid.Bool().Draw(t, "right"), Note: orNot(t, someText, "why")})
		}
		return c
	case 9:
		return document.Space{Label: orNot(t, someText, "label"), Lines: rapid.IntRange(1, 6).Draw(t, "lines")}
	case 10:
		return document.Fields{Labels: rapid.SliceOfN(someWord, 1, 4).Draw(t, "labels")}
	case 11:
		return document.Break{}
	}
	return document.Slide{Title: text("slide"), Notes: rapid.SliceOfN(someText, 0, 2).Draw(t, "said")}
})

// someDocument draws a document of blocks in any order.
var someDocument = rapid.Custom(func(t *rapid.T) *document.Document {
	return &document.Document{
		Title:   orNot(t, someText, "title"),
		Running: document.Running{Left: orNot(t, someWord, "left"), Right: orNot(t, someWord, "right"), Foot: orNot(t, someWord, "foot")},
		Blocks:  rapid.SliceOfN(someBlock, 0, 10).Draw(t, "blocks"),
	}
})

// textsOf lists what a page must show of a document, in order: what is said on a
// slide stands behind it.
func textsOf(d *document.Document) []string {
	var out, notes []string
	add := func(all ...document.Inline) {
		for _, text := range all {
			out = append(out, written(text))
		}
	}
	out = append(out, d.Running.Left, d.Running.Right)
	add(d.Title)
	for _, b := range d.Blocks {
		h, heading := b.(document.Heading)
		switch b.(type) {
		case document.Exercise, document.Slide, document.Break:
			heading, h.Level = true, 1
		}
		if heading && h.Level == 1 {
			out, notes = append(out, notes...), nil
		}
		switch b := b.(type) {
		case document.Heading:
			add(b.Text)
		case document.Paragraph:
			add(b.Text)
		case document.Note:
			add(b.Text)
		case document.List:
			add(b.Items...)
		case document.Table:
			add(b.Head...)
			add(b.Rows[0]...)
		case document.Equation:
			// The reason stands before the line in some formats.
			add(b.Label)
			add(document.Inline{{Formula: b.Line}})
		case document.Exercise:
			add(b.Text)
		case document.Choices:
			for _, c := range b.Items {
				add(c.Text)
				if c.Right {
					out = append(out, "(right answer)")
				}
				add(c.Note)
			}
		case document.Space:
			add(b.Label)
		case document.Fields:
			out = append(out, b.Labels...)
		case document.Slide:
			add(b.Title)
			if len(b.Notes) > 0 {
				notes = append(notes, "What is said")
			}
			for _, n := range b.Notes {
				notes = append(notes, written(n))
			}
		}
	}
	out = append(out, notes...)
	return append(out, d.Running.Foot)
}

// A reporter is a test, or a property while it is tried.
type reporter interface {
	Helper()
	Errorf(string, ...any)
	Fatalf(string, ...any)
}

// checkInOrder holds that a page shows texts one after the other.
func checkInOrder(t reporter, format, page string, texts []string) {
	t.Helper()
	rest := bare(page)
	for _, want := range texts {
		_, after, ok := strings.Cut(rest, bare(want))
		if !ok {
			t.Errorf("%s does not show %q, or not in its place, in\n%s", format, want, page)
			return
		}
		rest = after
	}
}

// TestAnyDocument draws documents and holds that each writer shows all of them,
// in order, and that what is written is well formed.
func TestAnyDocument(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		d := someDocument.Draw(rt, "document")
		texts := textsOf(d)
		var forHTML []string
		for _, s := range texts {
			forHTML = append(forHTML, asHTML.Replace(s))
		}
		source := htmlOf(t, d, document.HTMLOptions{})
		checkInOrder(rt, "HTML", readPage(t, source).seen.String(), forHTML)
		checkNesting(rt, source)
		checkInOrder(rt, "Markdown", rendered(t, markdownOf(t, d)).seen.String(), texts)
		checkInOrder(rt, "text", text(t, d, document.TextOptions{Width: 4000}), texts)
		checkEnvironments(rt, latexOf(t, d, document.LaTeXOptions{Fragment: rapid.Bool().Draw(rt, "fragment")}))
		width := rapid.IntRange(20, 140).Draw(rt, "width")
		for _, ascii := range []bool{false, true} {
			s := text(t, d, document.TextOptions{Width: width, ASCII: ascii})
			for line := range strings.SplitSeq(s, "\n") {
				if utf8.RuneCountInString(line) > width || strings.TrimRight(line, " \u00a0") != line {
					rt.Errorf("at width %d there is a line %q", width, line)
				}
			}
			if strings.HasPrefix(s, "\n") || strings.Contains(s, "\n\n\n") {
				rt.Errorf("there are two blank lines together, or one at the top, in\n%s", s)
			}
			if ascii && strings.ContainsFunc(s, func(r rune) bool { return r > '~' }) {
				rt.Errorf("not ASCII:\n%s", s)
			}
		}
	})
}

// checkNesting holds that each element of a page is closed in its turn, and that
// exercises and slides stand beside each other.
func checkNesting(t reporter, source string) {
	t.Helper()
	var open []string
	for z := html.NewTokenizer(strings.NewReader(source)); z.Next() != html.ErrorToken; {
		token := z.Token()
		switch token.Type {
		case html.StartTagToken:
			switch token.Data {
			case "meta", "hr":
				continue
			case "section":
				class := ""
				for _, a := range token.Attr {
					class += a.Val
				}
				if n := slices.Index(open, "section"); n >= 0 && (class != "keep" && class != "" || open[len(open)-1] != "section" || n != len(open)-1) {
					t.Errorf("section %q stands in another: %s", class, source)
				}
			}
			open = append(open, token.Data)
		case html.EndTagToken:
			if len(open) == 0 || open[len(open)-1] != token.Data {
				t.Fatalf("</%s> closes %v in %s", token.Data, open, source)
			}
			open = open[:len(open)-1]
		}
	}
	if len(open) > 0 {
		t.Errorf("%v stay open in %s", open, source)
	}
}

// checkEnvironments holds that each environment of LaTeX ends in its turn.
func checkEnvironments(t reporter, source string) {
	t.Helper()
	_, source, _ = strings.Cut(source, "\\begingroup") // the definitions are no environments
	if _, after, ok := strings.Cut(source, `-#1\relax}`); ok {
		source = after
	}
	var open []string
	for {
		i := strings.IndexByte(source, '\\')
		if i < 0 {
			break
		}
		source = source[i+1:]
		if name, rest, ok := strings.Cut(source, "}"); ok && strings.HasPrefix(name, "begin{") {
			open, source = append(open, name[len("begin{"):]), rest
		} else if ok && strings.HasPrefix(name, "end{") {
			name = name[len("end{"):]
			if len(open) == 0 && name == "document" {
				continue
			}
			if len(open) == 0 || open[len(open)-1] != name {
				t.Fatalf("\\end{%s} ends %v", name, open)
			}
			open, source = open[:len(open)-1], rest
		} else {
			_, n := utf8.DecodeRuneInString(source)
			source = source[n:]
		}
	}
	if len(open) > 0 {
		t.Errorf("%v do not end", open)
	}
}

// betweenPages are the foot of a page and the head of the next.
var betweenPages = regexp.MustCompile(`Foot\d+of\d+LeftRight`)

// TestAnyDocumentTypesets compiles documents of all kinds of blocks and reads the
// pages back. The seeds are fixed.
func TestAnyDocumentTypesets(t *testing.T) {
	needProgram(t, "pdflatex", "texlive-latex-base")
	for seed := range 8 {
		all := &document.Document{Running: document.Running{Left: "Left", Right: "Right", Foot: "Foot"}}
		for i := range 12 {
			all.Blocks = append(all.Blocks, withoutTables(someDocument.Example(100*seed+i)).Blocks...)
		}
		got := bare(asRead(typeset(t, latexOf(t, all, document.LaTeXOptions{}))))
		got = betweenPages.ReplaceAllString(got, "")
		for _, want := range textsOf(all) {
			// A blank is a rule.
			want = strings.ReplaceAll(bare(asRead(want)), "_", "")
			if !strings.Contains(strings.ReplaceAll(got, "_", ""), want) {
				t.Errorf("seed %d: the page has no %q", seed, want)
			}
		}
		if t.Failed() {
			t.Fatalf("read back:\n%s", got)
		}
	}
}
