package ooxml_test

import (
	"fmt"
	"regexp"
	"slices"
	"strings"
	"testing"

	"halves/chem"
	"halves/document"
	"halves/ooxml"
)

var (
	slideParagraph = regexp.MustCompile(`(?s)<a:p>.*?</a:p>`)
	slideRun       = regexp.MustCompile(`(?s)<a:br/>|<a:t>(.*?)</a:t>`)
)

// slideLines returns the paragraphs of a slide, or of its notes.
func slideLines(part string) []string {
	var out []string
	for _, p := range slideParagraph.FindAllString(part, -1) {
		line := ""
		for _, r := range slideRun.FindAllStringSubmatch(p, -1) {
			if r[0] == "<a:br/>" {
				line += "\n"
			}
			line += r[1]
		}
		out = append(out, line)
	}
	return out
}

func deckOf(t testing.TB, d *document.Document) map[string]string {
	t.Helper()
	return opened(t, written(t, "pptx", d, ooxml.Options{}))
}

// slidesOf returns the lines of each slide, without its number.
func slidesOf(t testing.TB, d *document.Document) []string {
	t.Helper()
	parts := deckOf(t, d)
	var out []string
	for _, name := range names(parts, "ppt/slides/*.xml") {
		all := slideLines(parts[name])
		out = append(out, shown.Replace(strings.Join(all[:len(all)-1], " / ")))
	}
	return out
}

func same(t *testing.T, what string, got, want []string) {
	t.Helper()
	if !slices.Equal(got, want) {
		t.Errorf("%s:\n%s\nwant\n%s", what, strings.Join(got, "\n"), strings.Join(want, "\n"))
	}
}

// TestSlides holds how documents are parted into slides.
func TestSlides(t *testing.T) {
	p := func(s string) document.Block { return document.Paragraph{Text: prose(s)} }
	slide := func(s string) document.Block { return document.Slide{Title: prose(s)} }
	same(t, "a deck", slidesOf(t, &document.Document{Title: prose("names the file"), Blocks: []document.Block{
		slide("One"), p("a"), document.Heading{Level: 1, Text: prose("within")}, p("b"), document.Exercise{Number: 2, Marks: "1 mark", Text: prose("c?")}, document.Break{}, p("d"), slide("Two"), slide(""), p("e"),
	}}), []string{"One / a / within / b / 2.~c? (1~mark)", "One / d", "Two", "names the file / e"})
	same(t, "a document", slidesOf(t, &document.Document{Title: prose("Title"), Blocks: []document.Block{
		p("a"), document.Heading{Level: 1, Text: prose("One")}, p("b"), document.Heading{Level: 2, Text: prose("within")}, p("c"), document.Break{}, document.Exercise{Number: 1, Marks: "2 marks", Text: prose("d?")}, document.Space{Label: prose("Oxidation:"), Lines: 3},
	}}), []string{"Title / a", "One / b / within / c", "Question~1 (2~marks) / d? / Oxidation:"})
	same(t, "nothing", slidesOf(t, &document.Document{}), []string{"Working"})
	same(t, "choices", slidesOf(t, &document.Document{Blocks: []document.Block{slide("Q"), document.Choices{Items: []document.Choice{{Text: prose("+2"), Note: prose("no")}, {Text: prose("+4"), Right: true}}}}}),
		[]string{"Q / +2 / +4~✓ / A:~no"})
}

// TestPlaceholders holds that title and content are placeholders, in the order in
// which they are read, and that nothing stands where there is nothing to show.
func TestPlaceholders(t *testing.T) {
	table := document.Table{Caption: "States", Head: []document.Inline{prose("a"), prose("b")}, Right: []bool{false, true}, Rows: [][]document.Inline{{prose("x"), prose("+1")}}}
	for _, tt := range []struct {
		name   string
		blocks []document.Block
		want   []string
	}{
		{"text", []document.Block{document.Paragraph{Text: prose("x")}}, []string{`type="title"`, `idx="1"`, "sldNum"}},
		{"nothing", nil, []string{`type="title"`, "sldNum"}},
		{"a table and text", []document.Block{table, document.Paragraph{Text: prose("x")}}, []string{`type="title"`, `<p:graphicFrame>`, `idx="1"`, `<a:tbl><a:tblPr firstRow="1"`, `txBox="1"`, "sldNum"}},
		{"an answer", []document.Block{document.Equation{Line: []chem.Run{{Text: "Cu"}}, Final: true}}, []string{`type="title"`, `idx="1"`, `<a:ln w="25400">`, "sldNum"}},
		{"a picture", []document.Block{chart()}, []string{`type="title"`, `descr="` + chart().Drawn.Description[:20], `<a:blip r:embed="rId2"/>`, "sldNum"}},
	} {
		part := deckOf(t, &document.Document{Blocks: append([]document.Block{document.Slide{Title: prose("T")}}, tt.blocks...)})["ppt/slides/slide1.xml"]
		rest := part
		for _, want := range tt.want {
			_, after, found := strings.Cut(rest, want)
			if !found {
				t.Errorf("%s: no %s, or not in its place, in\n%s", tt.name, want, part)
				break
			}
			rest = after
		}
		if got, want := strings.Contains(part, `idx="1"`), slices.Contains(tt.want, `idx="1"`); got != want {
			t.Errorf("%s: there is a placeholder for content: %t, want %t", tt.name, got, want)
		}
	}
}

// TestFormulasOnSlides holds how runs are marked: heights, weight of what was
// just revealed, rules to write upon.
func TestFormulasOnSlides(t *testing.T) {
	line := []chem.Run{document.Blank, {Text: " "}, {Text: "SO"}, {Text: "4", Level: chem.Subscript}, {Text: "2-", Level: chem.Superscript}, {Text: " -> "}, {Text: "x", Level: chem.Variable}}
	got := deckOf(t, &document.Document{Blocks: []document.Block{document.Slide{Title: prose("T")}, document.Equation{Line: line, Fresh: true}, document.Equation{Line: line}}})["ppt/slides/slide1.xml"]
	for _, want := range []string{
		`<a:rPr lang="en-GB" b="1" u="sng" noProof="1"/>`,
		`<a:rPr lang="en-GB" b="1" baseline="-25000" noProof="1"/><a:t>4</a:t>`,
		`<a:rPr lang="en-GB" b="1" baseline="30000" noProof="1"/><a:t>2−</a:t>`,
		`<a:rPr lang="en-GB" baseline="30000" noProof="1"/><a:t>2−</a:t>`,
		`<a:rPr lang="en-GB" i="1" noProof="1"/><a:t>x</a:t>`,
		`<a:latin typeface="Times New Roman"/>`,
	} {
		if !strings.Contains(got, want) {
			t.Errorf("no %s in\n%s", want, got)
		}
	}
	tabs := regexp.MustCompile(`<a:tabLst><a:tab pos="(\d+)" algn="r"/><a:tab pos="\d+" algn="l"/></a:tabLst>`).FindAllString(got, -1)
	if len(tabs) != 2 || tabs[0] != tabs[1] {
		t.Errorf("the arrows stand at %q", tabs)
	}
}

// TestLongEquation holds that an equation without room on a line ends it before
// its arrow, on a slide with others and in the frame of an answer.
func TestLongEquation(t *testing.T) {
	side := strings.Repeat("Cu", 30)
	line := []chem.Run{{Text: side}, {Text: " -> "}, {Text: side}}
	same(t, "long equations", slidesOf(t, &document.Document{Blocks: []document.Block{document.Slide{Title: prose("T")}, document.Equation{Line: line}, document.Equation{Line: line, Final: true}}}),
		[]string{"T / " + side + "\n→~" + side + " / " + side + "\n→~" + side})
}

var sizePattern = regexp.MustCompile(`<a:lvl2pPr.*?<a:defRPr sz="(\d+)"`)

// TestGrowingWorking holds that in a working that grows from slide to slide the
// lines that are there already keep their size and their place.
func TestGrowingWorking(t *testing.T) {
	var blocks []document.Block
	var lines []document.Block
	for i := range 4 {
		e := document.Equation{Label: prose("step"), Line: []chem.Run{{Text: strings.Repeat("Cu", 1+3*i)}, {Text: " -> "}, {Text: "Zn"}}, Ledger: ledgerOf(t, "Cu -> Zn")}
		lines = append(lines, e)
		blocks = append(blocks, document.Slide{Title: prose(fmt.Sprint("Slide ", i))})
		blocks = append(blocks, lines...)
	}
	parts := deckOf(t, &document.Document{Blocks: blocks})
	all := names(parts, "ppt/slides/*.xml")
	if len(all) != 4 {
		t.Fatalf("%d slides", len(all))
	}
	tab := regexp.MustCompile(`<a:tab pos="(\d+)" algn="r"/>`)
	size := func(part string) string {
		if m := sizePattern.FindStringSubmatch(part); m != nil {
			return m[1]
		}
		return "that of the master"
	}
	last := parts[all[3]]
	if size(last) == "that of the master" {
		t.Fatal("the last slide has room for all in large letters: the test shows nothing")
	}
	for _, name := range all {
		if got, want := size(parts[name]), size(last); got != want {
			t.Errorf("%s: size %s, on the last slide %s", name, got, want)
		}
		for _, m := range tab.FindAllString(parts[name], -1) {
			if want := tab.FindString(last); m != want {
				t.Errorf("%s: arrow at %s, on the last slide at %s", name, m, want)
			}
		}
	}
}

// TestNotes holds that what is said stands in the notes of its slide, once, and
// that a picture gives its numbers there.
func TestNotes(t *testing.T) {
	blocks := []document.Block{document.Slide{Title: prose("One"), Notes: []document.Inline{prose("said"), {{Formula: []chem.Run{{Text: "H"}, {Text: "2", Level: chem.Subscript}}}}}}}
	for i := range 40 {
		blocks = append(blocks, document.Paragraph{Text: prose(fmt.Sprint("line ", i))})
	}
	blocks = append(blocks, document.Slide{Title: prose("Two")}, document.Slide{Title: prose("Three")}, chart())
	parts := deckOf(t, &document.Document{Blocks: blocks})
	all := names(parts, "ppt/notesSlides/*.xml")
	if len(all) != 2 {
		t.Fatalf("notes are %q", all)
	}
	same(t, "notes", slideLines(parts[all[0]]), []string{"said", "H2"})
	if got := slideLines(parts[all[1]]); len(got) != 4 || got[3] != "not in lowest terms, 3" {
		t.Errorf("the notes of the picture are %q", got)
	}
}

// TestPaperOfNotes holds that notes are printed on the paper that is asked for.
func TestPaperOfNotes(t *testing.T) {
	for paper, want := range map[ooxml.Paper]string{ooxml.A4: `<p:notesSz cx="7560310" cy="10692130"/>`, ooxml.Letter: `<p:notesSz cx="7772400" cy="10058400"/>`} {
		if got := opened(t, written(t, "pptx", &document.Document{}, ooxml.Options{Paper: paper}))["ppt/presentation.xml"]; !strings.Contains(got, want) {
			t.Errorf("paper %d: no %s in %s", paper, want, got)
		}
	}
}

// TestLongTable holds that a table goes on from slide to slide with its head.
func TestLongTable(t *testing.T) {
	table := document.Table{Head: []document.Inline{prose("the head")}, Right: []bool{false}}
	for i := range 60 {
		table.Rows = append(table.Rows, []document.Inline{prose(fmt.Sprint("row ", i))})
	}
	got := slidesOf(t, &document.Document{Blocks: []document.Block{document.Slide{Title: prose("T")}, table}})
	rows := 0
	for i, s := range got {
		title := "T / the head / row "
		if i > 0 {
			title = "T (continued) / the head / row "
		}
		if !strings.HasPrefix(s, title) {
			t.Errorf("slide %d is %s", i+1, s)
		}
		rows += strings.Count(s, "row ")
	}
	if rows != 60 || len(got) < 3 {
		t.Errorf("%d rows on %d slides", rows, len(got))
	}
}
