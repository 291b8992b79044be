package ooxml

import (
	"fmt"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"halves/chem"
	"halves/document"
)

// TestLinesOf counts lines by hand: letters of size 10 of one width.
func TestLinesOf(t *testing.T) {
	x := widthOfText("x", prose, 10, false)
	space := widthOfText(" ", prose, 10, false)
	for _, tt := range []struct {
		text        string
		first, rest float64
		want        int
	}{
		{"", 100, 100, 1},
		{"xx xx", 4*x + space, 100, 1},
		{"xx xx", 4*x + space - 1, 100, 2},
		{"xx xx", 3 * x, 100, 2},
		{"xx\u00a0xx", 1000, 100, 1},
		{strings.Repeat("x", 30), 10 * x, 10*x + 0.01, 3},
		{strings.Repeat("xxxx ", 6), 4 * x, 8*x + 2*space, 4}, // one word, then two to a line, and one
		{"x x x x", 3*x + 2*space + 0.01, x + 6, 2},
	} {
		if got := linesOf([]piece{{tt.text, prose}}, 10, false, tt.first, tt.rest); got != tt.want {
			t.Errorf("linesOf(%q, %.1f, %.1f) = %d, want %d", tt.text, tt.first, tt.rest, got, tt.want)
		}
	}
	// A word may be of several pieces, and a line may be ended.
	if got := linesOf([]piece{{"xx x", prose}, {"x", lowered}, {"x", prose}}, 10, false, 4*x+space, 100); got != 2 {
		t.Errorf("a word of three pieces is torn: %d lines", got)
	}
	if got := linesOf([]piece{{"x", prose}, {"", newLine}, {"x", prose}}, 10, false, 1000, 1000); got != 2 {
		t.Errorf("a line that is ended makes %d", got)
	}
}

// TestSlidesHaveRoom holds that what is laid out on a slide has room there, in
// letters that can be read unless one piece fills the slide alone, and that every
// line and row is there, in order.
func TestSlidesHaveRoom(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var blocks []document.Block
		words := func() document.Inline {
			return document.Inline{{Prose: strings.Repeat("word ", rapid.IntRange(0, 300).Draw(t, "words"))}}
		}
		var want []string
		name := func() document.Inline {
			s := fmt.Sprintf("<%d>", len(want))
			want = append(want, s)
			return append(document.Inline{{Prose: s}}, words()...)
		}
		for range rapid.IntRange(0, 12).Draw(t, "blocks") {
			switch rapid.IntRange(0, 3).Draw(t, "kind") {
			case 0:
				blocks = append(blocks, document.Paragraph{Text: name()})
			case 1:
				term := strings.Repeat("Cu", rapid.IntRange(1, 20).Draw(t, "term"))
				blocks = append(blocks, document.Equation{Label: name(), Line: []chem.Run{{Text: term}, {Text: " -> "}, {Text: term}}})
			case 2:
				var table document.Table
				table.Head = []document.Inline{{{Prose: "head"}}, nil}
				table.Right = []bool{false, true}
				for range rapid.IntRange(1, 30).Draw(t, "rows") {
					table.Rows = append(table.Rows, []document.Inline{name(), nil})
				}
				blocks = append(blocks, table)
			case 3:
				blocks = append(blocks, document.Equation{Line: []chem.Run{{Text: "Cu"}}, Final: true})
			}
		}
		var got []string
		see := func(all []piece) {
			for _, p := range all {
				if at := strings.IndexByte(p.text, '>'); strings.HasPrefix(p.text, "<") && at > 0 {
					got = append(got, p.text[:at+1])
				}
			}
		}
		pages := fit(blocks)
		for i, p := range pages {
			h, _ := heightOfAll(p.segments, p.scale)
			if h > slideHeight+0.01 && p.scale > leastScale {
				t.Fatalf("slide %d of %d: height %.0f at scale %.2f", i+1, len(pages), h, p.scale)
			}
			units := 0
			for _, s := range p.segments {
				for _, l := range s.lines {
					units++
					var all []piece
					for _, x := range l.parts {
						all = append(all, x.piece)
					}
					see(all)
				}
				if s.table != nil {
					for _, r := range s.table.rows {
						units++
						see(r[0])
					}
				}
			}
			if p.scale < scales[len(scales)-1] && units > 3 {
				t.Fatalf("slide %d of %d has %d lines in letters of scale %.2f", i+1, len(pages), units, p.scale)
			}
		}
		if strings.Join(got, "") != strings.Join(want, "") {
			t.Fatalf("the slides have %q, want %q", got, want)
		}
	})
}

// TestRelative holds how parts name each other.
func TestRelative(t *testing.T) {
	for _, tt := range [][3]string{
		{"", "word/document.xml", "word/document.xml"},
		{"word/document.xml", "word/styles.xml", "styles.xml"},
		{"word/document.xml", "word/theme/theme1.xml", "theme/theme1.xml"},
		{"ppt/slides/slide1.xml", "ppt/slideLayouts/slideLayout1.xml", "../slideLayouts/slideLayout1.xml"},
		{"ppt/slides/slide1.xml", "docProps/core.xml", "../../docProps/core.xml"},
	} {
		if got := relative(tt[0], tt[1]); got != tt[2] {
			t.Errorf("relative(%q, %q) = %q, want %q", tt[0], tt[1], got, tt[2])
		}
	}
}
