package ooxml_test

import (
	"encoding/xml"
	"fmt"
	"io"
	"regexp"
	"slices"
	"strings"
	"testing"

	"halves/chem"
	"halves/document"
	"halves/ooxml"
	"halves/redox"
)

func body(t testing.TB, d *document.Document) string {
	t.Helper()
	return opened(t, written(t, "docx", d, ooxml.Options{}))["word/document.xml"]
}

// A paragraph as it stands in a file: its text, its style, and what it has
// besides.
type paragraph struct{ style, text, markup string }

var (
	paragraphPattern = regexp.MustCompile(`(?s)<w:p>.*?</w:p>`)
	stylePattern     = regexp.MustCompile(`<w:pStyle w:val="([^"]*)"/>`)
	runPattern       = regexp.MustCompile(`(?s)<w:tab/>|<w:br/>|<w:t xml:space="preserve">(.*?)</w:t>`)
)

func paragraphs(part string) []paragraph {
	var out []paragraph
	for _, m := range paragraphPattern.FindAllString(part, -1) {
		p := paragraph{markup: m}
		if s := stylePattern.FindStringSubmatch(m); s != nil {
			p.style = s[1]
		}
		content := m
		if i := strings.Index(m, "</w:pPr>"); i >= 0 {
			content = m[i:]
		}
		for _, r := range runPattern.FindAllStringSubmatch(content, -1) {
			switch r[0] {
			case "<w:tab/>":
				p.text += "\t"
			case "<w:br/>":
				p.text += "\n"
			default:
				p.text += r[1]
			}
		}
		out = append(out, p)
	}
	return out
}

// shown makes what is not seen visible: no-break and em spaces, word joiners.
var shown = strings.NewReplacer("\u00a0", "~", "\u2003", "__", "\u2060", "^")

// lines writes paragraphs as "Style: text".
func lines(all []paragraph) string {
	var b strings.Builder
	for _, p := range all {
		fmt.Fprintf(&b, "%s: %s\n", p.style, shown.Replace(p.text))
	}
	return b.String()
}

// TestParagraphs holds a sheet with one of each kind against what a teacher
// expects to find, style by style.
func TestParagraphs(t *testing.T) {
	got := lines(paragraphs(body(t, &document.Document{
		Title: prose("Worksheet"),
		Blocks: []document.Block{
			document.Fields{Labels: []string{"Name", "Code"}},
			document.Exercise{Number: 1, Marks: "6 marks", Text: prose("Balance it.")},
			document.Blanks(solution(t, questions[3], redox.Conventions{}).Skeleton, redox.Conventions{}),
			document.Space{Label: prose("Reduction:"), Lines: 2},
			document.Choices{Items: []document.Choice{{Text: prose("+2"), Right: true}, {Text: prose("+4"), Note: prose("of another")}}},
			document.Heading{Level: 2, Text: prose("A part")},
			document.List{Items: []document.Inline{prose("an item")}},
			document.Note{Text: prose("a note")},
			document.Equation{Label: prose("add"), Reason: prose("all of both"), Line: []chem.Run{{Text: "Cu"}, {Text: "2+", Level: chem.Superscript}, {Text: " + "}, {Text: "2 e"}, {Text: "-", Level: chem.Superscript}, {Text: " -> "}, {Text: "Cu"}}, Ledger: ledgerOf(t, "Cu^2+ + e^- -> Cu")},
			document.Equation{Line: []chem.Run{{Text: "Fe(OH)(SO"}, {Text: "4", Level: chem.Subscript}, {Text: ")"}}, Final: true},
		},
	})))
	want := `Title: Worksheet
Fields: Name~	~ Code~	
Question: Balance it.	6~marks
Equation: 	~~~~~~~~Cu +~~~~~~~~~NO3−	→~~~~~~~~~Cu2+ +~~~~~~~~~NO
AnswerLine: Reduction:
AnswerLine: 
RightChoice: +2~✓
Choice: +4
ChoiceNote: of another
Heading2: A part
ListBullet: an item
Note: a note
Step: add: all of both
Equation: 	Cu2+ +~2~e−	→~Cu
Ledger: Cu~1~=~1 __charge~+1~≠~0
FinalEquation: Fe(OH)^(SO4)
`
	if got != want {
		t.Errorf("the paragraphs are\n%s\nwant\n%s", got, want)
	}
}

// TestScripts holds that sub- and superscripts are marked as such, that no run of
// a formula is checked for spelling, and that a minus is one.
func TestScripts(t *testing.T) {
	got := body(t, &document.Document{Blocks: []document.Block{document.Paragraph{Text: document.Inline{{Formula: []chem.Run{{Text: "SO"}, {Text: "4", Level: chem.Subscript}, {Text: "2-", Level: chem.Superscript}, {Text: " -> "}, {Text: "x", Level: chem.Variable}}}}}}})
	for _, want := range []string{
		`<w:r><w:rPr><w:rStyle w:val="Formula"/></w:rPr><w:t xml:space="preserve">SO</w:t></w:r>`,
		`<w:r><w:rPr><w:rStyle w:val="Formula"/><w:vertAlign w:val="subscript"/></w:rPr><w:t xml:space="preserve">4</w:t></w:r>`,
		`<w:r><w:rPr><w:rStyle w:val="Formula"/><w:vertAlign w:val="superscript"/></w:rPr><w:t xml:space="preserve">2−</w:t></w:r>`,
		`<w:r><w:rPr><w:rStyle w:val="Arrow"/></w:rPr><w:t xml:space="preserve">→</w:t></w:r>`,
		`<w:rStyle w:val="Variable"/></w:rPr><w:t xml:space="preserve">x</w:t>`,
	} {
		if !strings.Contains(got, want) {
			t.Errorf("no %s in\n%s", want, got)
		}
	}
	styles := opened(t, written(t, "docx", &document.Document{}, ooxml.Options{}))["word/styles.xml"]
	if formula := between(styles, `w:styleId="Formula"`, "</w:style>"); !strings.Contains(formula, "<w:noProof/>") {
		t.Errorf("the style Formula is checked for spelling: %s", formula)
	}
	if line := between(styles, `w:styleId="AnswerLine"`, "</w:style>"); !strings.Contains(line, "<w:bottom ") || !strings.Contains(line, "<w:between ") {
		t.Errorf("answer lines are ruled below each and between: %s", line)
	}
}

func between(s, from, to string) string {
	_, s, _ = strings.Cut(s, from)
	s, _, _ = strings.Cut(s, to)
	return s
}

// TestNumbers holds that questions are numbered by lists that go on, and that a
// number which does not follow the last one begins another list.
func TestNumbers(t *testing.T) {
	var blocks []document.Block
	for _, n := range []int{1, 2, 5, 6, 1} {
		blocks = append(blocks, document.Exercise{Number: n, Text: prose(fmt.Sprint("question ", n))})
	}
	blocks = append(blocks, document.Choices{Items: []document.Choice{{}, {}}}, document.Choices{Items: []document.Choice{{}}})
	parts := opened(t, written(t, "docx", &document.Document{Blocks: blocks}, ooxml.Options{}))
	starts := map[string]string{}
	for _, m := range regexp.MustCompile(`<w:num w:numId="(\d+)"><w:abstractNumId w:val="(\d)"/><w:lvlOverride w:ilvl="0"><w:startOverride w:val="(\d+)"/>`).FindAllStringSubmatch(parts["word/numbering.xml"], -1) {
		starts[m[1]] = m[2] + " from " + m[3]
	}
	var got []string
	for _, m := range regexp.MustCompile(`<w:numId w:val="(\d+)"/>`).FindAllStringSubmatch(parts["word/document.xml"], -1) {
		got = append(got, m[1]+": "+starts[m[1]])
	}
	want := []string{"4: 2 from 1", "4: 2 from 1", "5: 2 from 5", "5: 2 from 5", "6: 2 from 1", "7: 3 from 1", "7: 3 from 1", "8: 3 from 1"}
	if !slices.Equal(got, want) {
		t.Errorf("the lists are %q, want %q", got, want)
	}
}

// TestKept holds that what belongs to a question stays on its page, that the last
// of it lets the next question go, and that what has no room on a page is not
// held together.
func TestKept(t *testing.T) {
	keeps := func(blocks ...document.Block) string {
		s := ""
		for _, p := range paragraphs(body(t, &document.Document{Blocks: blocks})) {
			switch {
			case p.style == "Question": // by its style
				s += "Q"
			case strings.Contains(p.markup, "<w:keepNext/>"):
				s += "k"
			default:
				s += "."
			}
		}
		return s
	}
	question := document.Exercise{Text: prose("?")}
	table := document.Table{Head: []document.Inline{prose("a")}, Right: []bool{false}, Rows: [][]document.Inline{{prose("1")}, {prose("2")}}}
	for _, tt := range []struct {
		name   string
		blocks []document.Block
		want   string
	}{
		{"answer lines", []document.Block{question, document.Space{Lines: 3}, question}, "Qkk.Q"},
		{"lines and a table", []document.Block{question, document.Paragraph{Text: prose("x")}, table, document.Space{Lines: 2}, document.Break{}, question}, "Qkkkkk.Q"},
		{"more than a page", []document.Block{question, document.Space{Lines: 40}}, "Q" + strings.Repeat(".", 40)},
		{"no question", []document.Block{document.Paragraph{}, document.Space{Lines: 2}}, "..."},
		{"a section", []document.Block{document.Heading{Level: 1, Keep: true}, document.Paragraph{}, document.List{Items: []document.Inline{nil, nil}}, document.Heading{Level: 1}, document.Paragraph{}}, "kkk..."},
		{"a section that may be torn", []document.Block{document.Heading{Level: 1}, document.Paragraph{}}, ".."},
		{"a step with its line and its ledger", []document.Block{document.Equation{Label: prose("l"), Line: []chem.Run{{Text: "Cu"}}, Ledger: ledgerOf(t, "Cu -> Cu")}}, "kk."},
	} {
		if got := keeps(tt.blocks...); got != tt.want {
			t.Errorf("%s: %s, want %s", tt.name, got, tt.want)
		}
	}
}

// TestPages holds the size of the paper, the fields of the foot, and that a break
// begins a page and no break at the end makes an empty one.
func TestPages(t *testing.T) {
	for paper, want := range map[ooxml.Paper]string{
		ooxml.A4:     `<w:pgSz w:w="11906" w:h="16838"/>`, // ISO 216: 210 mm by 297 mm
		ooxml.Letter: `<w:pgSz w:w="12240" w:h="15840"/>`, // 8.5 in by 11 in
	} {
		parts := opened(t, written(t, "docx", &document.Document{Running: course}, ooxml.Options{Paper: paper}))
		if !strings.Contains(parts["word/document.xml"], want) {
			t.Errorf("paper %d: no %s", paper, want)
		}
		if got := lines(paragraphs(parts["word/header1.xml"])); got != "Header: General Chemistry II, section B\tVersion A\n" {
			t.Errorf("the head is %q", got)
		}
		foot := parts["word/footer1.xml"]
		for _, want := range []string{"Check code 4F-2C", `w:instr=" PAGE "`, " of ", `w:instr=" NUMPAGES "`} {
			if !strings.Contains(foot, want) {
				t.Errorf("the foot has no %s: %s", want, foot)
			}
		}
	}
	pages := func(blocks ...document.Block) int {
		return strings.Count(body(t, &document.Document{Blocks: blocks}), "<w:pageBreakBefore/>")
	}
	p := document.Paragraph{Text: prose("x")}
	if n := pages(p, document.Break{}, p); n != 1 {
		t.Errorf("one break makes %d", n)
	}
	if n := pages(p, document.Break{}, document.Break{}, p); n != 2 {
		t.Errorf("two breaks make %d", n)
	}
	if n := pages(p, document.Break{}); n != 0 {
		t.Errorf("a break at the end makes %d", n)
	}
}

// TestTables holds that a head is marked and repeated, that numbers stand at the
// right, that a column to spare is left out where there is no room, and that a
// table with too many columns is written row by row.
func TestTables(t *testing.T) {
	states := document.Table{
		Caption: "The states", Spare: 1, Head: []document.Inline{prose("species"), prose("name"), prose("O")}, Right: []bool{false, false, true},
		Rows: [][]document.Inline{{prose("water"), prose("oxidane"), prose("−2")}},
	}
	got := body(t, &document.Document{Blocks: []document.Block{states}})
	for _, want := range []string{
		`<w:tr><w:trPr><w:cantSplit/><w:tblHeader/></w:trPr>`, `<w:tblCaption w:val="The states"/>`, `w:firstRow="1"`, `<w:tblStyle w:val="WorkingTable"/>`,
		`<w:pStyle w:val="TableNumber"/></w:pPr><w:r><w:t xml:space="preserve">−2</w:t>`, "oxidane",
	} {
		if !strings.Contains(got, want) {
			t.Errorf("no %s in\n%s", want, got)
		}
	}
	states.Rows[0][1] = prose(strings.Repeat("a name that is long ", 10))
	states.Rows[0][0] = prose(strings.Repeat("species", 6))
	if got := body(t, &document.Document{Blocks: []document.Block{states}}); strings.Contains(got, "a name that") || !strings.Contains(got, "−2") {
		t.Errorf("the column to spare is there, or the numbers are not:\n%s", got)
	}
	states.Spare = 0
	if got := body(t, &document.Document{Blocks: []document.Block{states}}); !strings.Contains(got, "a name that") || !strings.Contains(got, "<w:tbl>") {
		t.Errorf("a wide table does not wrap:\n%s", got)
	}
	wide := document.Table{Head: []document.Inline{prose("species")}, Rows: [][]document.Inline{{prose("x")}}}
	for i := range 40 {
		wide.Head = append(wide.Head, prose(fmt.Sprint("column", i)))
		wide.Rows[0] = append(wide.Rows[0], prose(fmt.Sprint("+", i)))
	}
	wide.Right = make([]bool, 41)
	got = body(t, &document.Document{Blocks: []document.Block{wide}})
	if strings.Contains(got, "<w:tbl>") || !strings.HasPrefix(lines(paragraphs(got)), "Record: x: column0~+0, column1~+1") {
		t.Errorf("a table of 41 columns is\n%s", got)
	}
	bare := body(t, &document.Document{Blocks: []document.Block{document.Table{Head: []document.Inline{nil}, Right: []bool{false}, Rows: [][]document.Inline{{prose("x")}}}}})
	if strings.Contains(bare, "tblHeader") || strings.Contains(bare, "TableHead") {
		t.Errorf("a table without a head has one:\n%s", bare)
	}
}

// TestDeckOnPaper holds that a deck is written as headings, each with the content
// of its slide and then what is said to it.
func TestDeckOnPaper(t *testing.T) {
	got := lines(paragraphs(body(t, &document.Document{Blocks: []document.Block{
		document.Slide{Title: prose("One"), Notes: []document.Inline{prose("said first"), prose("said then")}}, document.Paragraph{Text: prose("shown")},
		document.Slide{Title: prose("Two"), Notes: []document.Inline{prose("said last")}},
	}})))
	if want := "Heading1: One\n: shown\nTalkTrack: said first\nTalkTrack: said then\nHeading1: Two\nTalkTrack: said last\n"; got != want {
		t.Errorf("the deck is\n%s\nwant\n%s", got, want)
	}
}

// TestArrows holds that the arrows of lines that follow each other stand in one
// place, behind the widest left side, and that a line too long for the page ends
// before its arrow.
func TestArrows(t *testing.T) {
	line := func(left, right string) document.Equation {
		return document.Equation{Line: []chem.Run{{Text: left}, {Text: " -> "}, {Text: right}}}
	}
	long := strings.Repeat("LongFormula", 4)
	got := paragraphs(body(t, &document.Document{Blocks: []document.Block{line("Cu", "Zn"), line("CuCuCuCu", "Zn"), line(long, long), document.Paragraph{}, line("Cu", "Zn")}}))
	places := regexp.MustCompile(`<w:tab w:val="right" w:pos="(\d+)"/><w:tab w:val="left" w:pos="(\d+)"/>`)
	first, second, alone := places.FindString(got[0].markup), places.FindString(got[1].markup), places.FindString(got[4].markup)
	if first == "" || first != second || alone == "" || alone == first {
		t.Errorf("the arrows stand at %s, %s, and alone at %s", first, second, alone)
	}
	if got[2].text != long+"\n→\u00a0"+long {
		t.Errorf("the long line is %q", got[2].text)
	}
	// Each of two has room, and both together have none: the longer one stands for
	// itself.
	short, wide := strings.Repeat("Cu", 5), strings.Repeat("Cu", 20)
	got = paragraphs(body(t, &document.Document{Blocks: []document.Block{line(wide, short+short), line(short, wide)}}))
	if got[0].text != wide+" →\u00a0"+short+short || got[1].text != "\t"+short+"\t→\u00a0"+wide {
		t.Errorf("two lines without room together are %q and %q", got[0].text, got[1].text)
	}
}

// wellFormed fails where a part is not XML.
func wellFormed(t interface{ Fatalf(string, ...any) }, parts map[string]string) {
	for name, part := range parts {
		if strings.HasSuffix(name, ".emf") {
			continue
		}
		d := xml.NewDecoder(strings.NewReader(part))
		for {
			_, err := d.Token()
			if err == io.EOF {
				break
			}
			if err != nil {
				t.Fatalf("%s: %v in\n%s", name, err, part)
			}
		}
	}
}
