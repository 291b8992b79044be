package ooxml_test

import (
	"bytes"
	"html"
	"regexp"
	"strings"
	"testing"
	"unicode"

	"pgregory.net/rapid"

	"halves/balance"
	"halves/chem"
	"halves/document"
	"halves/ooxml"
)

// A tree is a document made at random, and the texts that were put into it.
type tree struct {
	t     *rapid.T
	texts []string
}

func (g *tree) text(label string) string {
	s := rapid.OneOf(rapid.String(), rapid.StringMatching(`[ -~]{0,12}`), rapid.Just("\x00\x1b[1m\ufffe\u202e]]>&<\"\r\n\t"), rapid.Just(strings.Repeat("long", 200)),
		rapid.Map(rapid.SliceOf(rapid.Byte()), func(b []byte) string { return string(b) })).Draw(g.t, label)
	g.texts = append(g.texts, s)
	return s
}

func (g *tree) runs() []chem.Run {
	var out []chem.Run
	for range rapid.IntRange(0, 6).Draw(g.t, "runs") {
		out = append(out, rapid.OneOf(
			rapid.Map(rapid.SampledFrom([]string{" + ", " -> ", " = ", "->", " - ", ", ", "____", "Cu", ")(", "2"}), func(s string) chem.Run { return chem.Run{Text: s} }),
			rapid.Custom(func(t *rapid.T) chem.Run {
				return chem.Run{Text: rapid.String().Draw(t, "run"), Level: chem.Level(rapid.IntRange(0, 5).Draw(t, "level"))}
			}),
		).Draw(g.t, "run"))
	}
	return out
}

func (g *tree) inline() document.Inline {
	var out document.Inline
	for range rapid.IntRange(0, 3).Draw(g.t, "spans") {
		if rapid.Bool().Draw(g.t, "formula") {
			out = append(out, document.Span{Formula: g.runs()})
		} else {
			out = append(out, document.Span{Prose: g.text("prose")})
		}
	}
	return out
}

func (g *tree) inlines() []document.Inline {
	var out []document.Inline
	for range rapid.IntRange(0, 4).Draw(g.t, "inlines") {
		out = append(out, g.inline())
	}
	return out
}

func (g *tree) block() document.Block {
	switch rapid.IntRange(0, 12).Draw(g.t, "block") {
	case 0:
		return document.Heading{Level: rapid.IntRange(-1, 9).Draw(g.t, "level"), Text: g.inline(), Keep: rapid.Bool().Draw(g.t, "keep")}
	case 1:
		return document.Paragraph{Text: g.inline()}
	case 2:
		e := document.Equation{Label: g.inline(), Line: g.runs(), Reason: g.inline(), Fresh: rapid.Bool().Draw(g.t, "fresh")}
		if rapid.Bool().Draw(g.t, "ledger") {
			e.Ledger = balance.Ledger{{Left: chem.Whole(rapid.Int64Range(-1e12, 1e12).Draw(g.t, "left"))}}
		}
		return e
	case 3:
		return document.Equation{Line: g.runs(), Final: true}
	case 4:
		known := len(g.texts)
		t := document.Table{Head: g.inlines(), Right: rapid.SliceOfN(rapid.Bool(), 0, 4).Draw(g.t, "right")}
		g.texts = g.texts[:known] // the head of an empty column is left out where there is no room
		for range rapid.IntRange(0, 4).Draw(g.t, "rows") {
			t.Rows = append(t.Rows, g.inlines()) // of any length
		}
		return t
	case 5:
		return document.List{Items: g.inlines()}
	case 6:
		return document.Note{Text: g.inline()}
	case 7:
		return document.Exercise{Number: rapid.Int().Draw(g.t, "number"), Marks: strings.ReplaceAll(g.text("marks"), " ", "\u00a0"), Text: g.inline()}
	case 8:
		var c document.Choices
		for range rapid.IntRange(0, 3).Draw(g.t, "choices") {
			c.Items = append(c.Items, document.Choice{Text: g.inline(), Right: rapid.Bool().Draw(g.t, "right"), Note: g.inline()})
		}
		return c
	case 9:
		return document.Space{Label: g.inline(), Lines: rapid.IntRange(-2, 30).Draw(g.t, "lines")}
	case 10:
		var f document.Fields
		for range rapid.IntRange(0, 5).Draw(g.t, "fields") {
			f.Labels = append(f.Labels, g.text("label"))
		}
		return f
	case 11:
		return document.Break{}
	}
	return document.Slide{Title: g.inline(), Notes: g.inlines()}
}

var tags = regexp.MustCompile(`(?s)<[^>]*>`)

// seen is all text of a file, without what stands in attributes. Spaces are left
// out: no-break spaces may stand for others.
func seen(parts map[string]string) string {
	var b strings.Builder
	for name, part := range parts {
		if strings.HasPrefix(name, "word/") || strings.Contains(name, "/slides/") || strings.Contains(name, "/notesSlides/") {
			b.WriteString(html.UnescapeString(tags.ReplaceAllString(part, "")))
			b.WriteString("\n")
		}
	}
	return withoutSpaces(b.String())
}

func withoutSpaces(s string) string {
	return strings.Map(func(r rune) rune {
		if unicode.IsSpace(r) {
			return -1
		}
		return r
	}, s)
}

// cleaned is what a text should be in a file: controls and what is no character
// are left out, broken UTF-8 is marked.
func cleaned(s string) string {
	return withoutSpaces(strings.Map(func(r rune) rune {
		switch {
		case r == '\n' || r == '\t' || r == '\r':
			return ' '
		case unicode.IsControl(r), r >= 0x202a && r <= 0x202e, r >= 0x2066 && r <= 0x2069, r >= 0xfdd0 && r <= 0xfdef, r&0xffff >= 0xfffe:
			return -1
		}
		return r
	}, strings.ToValidUTF8(s, "\ufffd")))
}

// TestAnyTree holds that whatever a document is made of, its file is XML that has
// all of its text, and is the same at the second run.
func TestAnyTree(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		g := &tree{t: t}
		title := g.inline()
		titles := g.texts
		g.texts = nil
		d := &document.Document{Title: title, Language: rapid.String().Draw(t, "language"), Running: document.Running{Left: g.text("left"), Right: g.text("right"), Foot: g.text("foot")}}
		for range rapid.IntRange(0, 8).Draw(t, "blocks") {
			d.Blocks = append(d.Blocks, g.block())
		}
		if !d.IsDeck() { // the title of a deck names the file
			g.texts = append(g.texts, titles...)
		}
		for format, write := range formats {
			var b, again bytes.Buffer
			if err := write(&b, d, ooxml.Options{}); err != nil {
				t.Fatalf("%s: %v", format, err)
			}
			parts, err := unzipped(b.Bytes())
			if err != nil {
				t.Fatal(err)
			}
			wellFormed(t, parts)
			all := seen(parts)
			for _, s := range g.texts {
				for _, piece := range strings.FieldsFunc(cleaned(s), func(r rune) bool { return r == '\ufffd' }) {
					if !strings.Contains(all, piece) {
						t.Fatalf("%s: no %q in\n%q", format, piece, all)
					}
				}
			}
			for _, r := range all {
				if unicode.IsControl(r) {
					t.Fatalf("%s: %q in the text", format, r)
				}
			}
			if err := write(&again, d, ooxml.Options{}); err != nil || !bytes.Equal(b.Bytes(), again.Bytes()) {
				t.Fatalf("%s: the second run differs (error %v)", format, err)
			}
		}
	})
}

// TestLarge holds that large and strange documents are written.
func TestLarge(t *testing.T) {
	long := prose(strings.Repeat("word ", 20000))
	wide := document.Table{Head: []document.Inline{prose("a")}, Right: []bool{true}}
	for range 300 {
		wide.Rows = append(wide.Rows, make([]document.Inline, 200))
	}
	var many []document.Block
	for range 2000 {
		many = append(many, document.Heading{Level: 2, Keep: true, Text: prose("h")}, document.Equation{Line: []chem.Run{{Text: "Cu"}, {Text: " -> "}, {Text: "Cu"}}}, document.Exercise{})
	}
	for name, d := range map[string]*document.Document{
		"a long paragraph": {Title: long, Blocks: []document.Block{document.Paragraph{Text: long}}},
		"one long word":    {Title: prose(strings.Repeat("x", 100000)), Blocks: []document.Block{document.Note{Text: prose(strings.Repeat("x", 100000))}, document.Table{Rows: [][]document.Inline{{prose(strings.Repeat("x", 100000))}}}}},
		"a wide table":     {Blocks: []document.Block{wide}},
		"many blocks":      {Blocks: many},
		"deep steps":       {Blocks: append([]document.Block{document.Slide{}}, many...)},
	} {
		for format := range formats {
			t.Run(name+"/"+format, func(t *testing.T) {
				wellFormed(t, opened(t, written(t, format, d, ooxml.Options{})))
			})
		}
	}
}
