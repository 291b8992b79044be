package pdf

import (
	"math"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"halves/chem"
	"halves/document"
)

func wordsOf(widths ...float64) []word {
	out := make([]word, len(widths))
	for i, w := range widths {
		out[i] = word{width: w, space: 2}
	}
	return out
}

func TestBreakLines(t *testing.T) {
	for _, tt := range []struct {
		name        string
		words       []word
		first, room float64
		want        []lineOf
	}{
		{"none", nil, 10, 10, nil},
		{"one line", wordsOf(4, 4), 10, 10, []lineOf{{0, 2}}},
		{"two even lines, not 3 and 1", wordsOf(4, 4, 4, 4), 17, 17, []lineOf{{0, 2}, {2, 4}}},
		{"a shorter first line", wordsOf(4, 4, 4), 5, 16, []lineOf{{0, 1}, {1, 3}}},
		{"a word that is too wide for the first line", wordsOf(12, 4), 5, 20, []lineOf{{0, 1}, {1, 2}}},
	} {
		if tt.name == "two even lines, not 3 and 1" {
			tt.words[2].worse = beforeSign * 4 // no good end
		}
		if got := breakLines(tt.words, tt.first, tt.room); !slices.Equal(got, tt.want) {
			t.Errorf("%s: %v, want %v", tt.name, got, tt.want)
		}
	}
}

// TestBreakLinesAlways holds that lines have all words in their order, are no
// wider than the room and no more than those that are filled one after the other.
func TestBreakLinesAlways(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		words := wordsOf(rapid.SliceOfN(rapid.Float64Range(0.1, 20), 1, 60).Draw(t, "widths")...)
		room := rapid.Float64Range(20, 80).Draw(t, "room")
		got := breakLines(words, room, room)
		next := 0
		for _, l := range got {
			if l.from != next || l.to <= l.from {
				t.Fatalf("%v does not go on from word %d", got, next)
			}
			next = l.to
			if w := widthOf(words[l.from:l.to]); w > room+slack {
				t.Fatalf("the line %v is %g wide, the room is %g", l, w, room)
			}
		}
		if next != len(words) {
			t.Fatalf("%v leaves out words from %d on", got, next)
		}
		if n := len(greedy(words, room, room)); len(got) > n {
			t.Fatalf("%d lines, where %d do", len(got), n)
		}
	})
}

// lineLeaf is a leaf of a height.
func lineLeaf(height float64) *node { return &node{height: height} }

func leaves(n int, height float64) []*node {
	out := make([]*node, n)
	for i := range out {
		out[i] = lineLeaf(height)
	}
	return out
}

// counts are the numbers of leaves on each page.
func counts(f *flow) []int {
	var out []int
	for _, p := range f.pages {
		out = append(out, len(p.leaves))
	}
	return out
}

// A page of these tests has room for ten leaves of height 10.
var testSheet = sheet{width: 100, height: 120, left: 10, right: 10, top: 10, bottom: 10}

func TestFlow(t *testing.T) {
	chained := leaves(12, 10)
	chained[8].next, chained[9].next = true, true
	kept := &node{kids: leaves(4, 10), whole: true}
	soft := &node{kids: leaves(8, 10), whole: true, soft: true}
	long := &node{kids: leaves(14, 10), whole: true}
	turned := lineLeaf(10)
	turned.turn = true
	gaps := leaves(3, 10)
	for _, n := range gaps {
		n.before = 40
	}
	tests := []struct {
		name  string
		nodes []*node
		want  []int
	}{
		{"nothing", nil, []int{0}},
		{"a page is full", leaves(11, 10), []int{10, 1}},
		{"what stays with the next", chained, []int{8, 4}},
		{"a group is kept together", append(leaves(7, 10), kept), []int{7, 4}},
		{"and is torn where half a page would be empty", append(leaves(4, 10), soft), []int{10, 2}},
		{"but not for less", append(leaves(6, 10), soft), []int{6, 8}},
		{"longer than a page", append(leaves(3, 10), long), []int{10, 7}},
		{"a new page", append(leaves(2, 10), turned), []int{2, 1}},
		{"no new page where one begins", []*node{turned}, []int{1}},
		{"room between, but not at the top of a page", gaps, []int{2, 1}},
	}
	for _, tt := range tests {
		f := newFlow(testSheet)
		f.put(tt.nodes)
		if got := counts(f); !slices.Equal(got, tt.want) {
			t.Errorf("%s: %v leaves on the pages, want %v", tt.name, got, tt.want)
		}
	}
}

// TestHeadsOfTables holds that a head is seen again on each page, as decoration.
func TestHeadsOfTables(t *testing.T) {
	head := lineLeaf(10)
	table := &node{kids: append([]*node{head}, leaves(20, 10)...), head: head}
	f := newFlow(testSheet)
	f.put([]*node{table, lineLeaf(10)})
	if got, want := counts(f), []int{10, 10, 4}; !slices.Equal(got, want) {
		t.Fatalf("%v leaves on the pages, want %v", got, want)
	}
	for i, p := range f.pages {
		if first := p.leaves[0]; first.node != head || first.artifact != (i > 0) {
			t.Errorf("page %d begins with %p, decoration %t; the head is %p", i+1, first.node, first.artifact, head)
		}
	}
}

// TestTorn holds that a leaf that is higher than a page is cut between its lines.
func TestTorn(t *testing.T) {
	tall := &node{height: 1000, entry: &entry{title: "x"}}
	for i := range 100 {
		tall.marks = append(tall.marks, mark{y: 8 + 10*float64(i), size: 8, text: "line"})
	}
	f := newFlow(testSheet)
	f.put([]*node{tall})
	n := 0
	for _, p := range f.pages {
		for _, l := range p.leaves {
			for _, m := range l.marks {
				n++
				if y := l.top + m.y; y > 110 || y-0.7*m.size < 10 {
					t.Errorf("a line stands at %.1f of a page with room from 10 to 110", y)
				}
			}
		}
	}
	if n != 100 {
		t.Errorf("%d lines are left of 100", n)
	}
	if len(f.pages) < 10 || len(f.pages) > 13 {
		t.Errorf("%d pages, want about 10", len(f.pages))
	}
}

// testSetter sets for a page of A4.
func testSetter() *setter {
	t := newTags()
	s := newSetter(paperLook, A4.sheet(), t, t.child(artifact, documentTag, ""))
	s.base = 1
	return s
}

// TestScripts holds the sizes and heights of sub- and superscripts, and that a
// charge stands behind its subscript.
func TestScripts(t *testing.T) {
	w := style{size: 10}.term([]chem.Run{{Text: "2 "}, {Text: "MnO"}, {Text: "4", Level: chem.Subscript}, {Text: "-", Level: chem.Superscript}})
	var got []string
	for _, p := range w.pieces {
		got = append(got, p.text)
	}
	if want := []string{"2 ", "MnO", "4", "−"}; !slices.Equal(got, want) {
		t.Fatalf("the pieces are %q, want %q", got, want)
	}
	sub, sup := w.pieces[2], w.pieces[3]
	if sub.size != 7 || sup.size != 7 || math.Abs(sub.rise+1.7) > 1e-9 || math.Abs(sup.rise-3.6) > 1e-9 {
		t.Errorf("subscript %g at %g, superscript %g at %g; want 7 at -1.7, 7 at 3.6", sub.size, sub.rise, sup.size, sup.rise)
	}
	if p := w.pieces[0]; p.width >= fonts()[regular].width("2 ")*10 {
		t.Errorf("behind a coefficient is %g, as wide as between words", p.width)
	}
	if w.pieces[0].reads != "2 MnO₄⁻" || w.pieces[0].covers != 4 {
		t.Errorf("the term is copied as %q", w.pieces[0].reads)
	}
	m := draw(nil, []word{w}, 100, 50)
	if m[3].x <= m[2].x || m[3].y >= m[2].y {
		t.Errorf("the charge stands at %g, %g, the subscript before it at %g, %g", m[3].x, m[3].y, m[2].x, m[2].y)
	}
}

// TestDraw holds that words stand apart, and are one text where they are of one
// kind.
func TestDraw(t *testing.T) {
	s := testSetter()
	st := style{size: 10, own: s.own}
	words := s.words(document.Inline{{Prose: "two words, "}, {Formula: []chem.Run{{Text: "e"}, {Text: "-", Level: chem.Superscript}}}, {Prose: " and"}}, st)
	m := draw(nil, words, 0, 0)
	var got []string
	for _, x := range m {
		got = append(got, x.text)
	}
	if want := []string{"two words, ", "e", "−", " ", "and"}; !slices.Equal(got, want) {
		t.Fatalf("the marks are %q, want %q", got, want)
	}
	f := fonts()[regular]
	for i, want := range []float64{0, f.width("two words, ") * 10, f.width("two words, e")*10 + hairSpace*10, 0, f.width("two words, e ")*10 + f.width("−")*7 + hairSpace*10} {
		if i != 3 && math.Abs(m[i].x-want) > 0.01 {
			t.Errorf("%q stands at %g, want %g", m[i].text, m[i].x, want)
		}
	}
}

// TestArrows holds that the lines of a group have their arrows one under the
// other.
func TestArrows(t *testing.T) {
	for _, q := range questions[:3] {
		d := worked(t, q)
		s := testSetter()
		s.labels = s.labelColumn(d.Blocks)
		n := 0
		for i := 0; i < len(d.Blocks); i++ {
			k := equationsAt(d.Blocks[i:])
			if k == 0 {
				continue
			}
			var at []float64
			for _, leaf := range s.equations(d.Blocks[i : i+k]) {
				lines := map[float64]bool{}
				x := 0.0
				for _, m := range leaf.marks {
					if m.size == s.line {
						lines[m.y] = true
					}
					if strings.HasPrefix(m.text, "⟶") && m.size == s.line {
						x = m.x
					}
				}
				if x > 0 && len(lines) == 1 { // of one line
					at = append(at, x)
				}
			}
			for _, x := range at {
				n++
				if math.Abs(x-at[0]) > 0.01 {
					t.Errorf("%s: arrows at %v", q, at)
					break
				}
			}
			i += k - 1
		}
		if n < 5 {
			t.Errorf("%s: %d arrows were compared, so the test sees little", q, n)
		}
	}
}

// TestNeverInsideFormula holds that a line of an equation ends before a sign, and
// that formulas become smaller where they have no room.
func TestNeverInsideFormula(t *testing.T) {
	s := testSetter()
	for _, n := range []int{2, 5, 20, 60} {
		runs := manyTerms(n)
		left, right := document.SidesOf(runs)
		st := style{regular, ink, s.line, artifact}
		rows := s.rows(line{left: st.formula(left), right: st.formula(right)}, 0, 200)
		terms := 0
		for i, r := range rows {
			if w := r.x + widthOf(r.words); w > 200+slack {
				t.Errorf("%d terms: a line is %g wide, the room is 200", n, w)
			}
			if first := strings.TrimSpace(r.words[0].pieces[0].text); i > 0 && first != "+" && first != "⟶" {
				t.Errorf("%d terms: line %d begins with %q, not with a sign", n, i+1, first)
			}
			terms += len(r.words)
		}
		if terms != n {
			t.Errorf("%d terms are left of %d", terms, n)
		}
	}
	wide := []chem.Run{{Text: strings.Repeat("Fe", 40)}, {Text: "2", Level: chem.Subscript}}
	words := fitted(style{size: 10}.formula(wide), 300)
	if len(words) != 1 || words[0].width > 300 || words[0].pieces[0].size >= 10 {
		t.Errorf("a formula that is wider than the page is cut into %d, %g wide", len(words), words[0].width)
	}
}

// TestTableColumns holds that numbers are set flush right, that the spare column
// goes first, and that cells wrap where they must.
func TestTableColumns(t *testing.T) {
	s := testSetter()
	leaf := s.table(document.Table{Head: []document.Inline{plain("a"), plain("number")}, Right: []bool{false, true}, Rows: [][]document.Inline{{plain("b"), plain("1")}, {plain("c"), plain("12345")}}})[0]
	var ends []float64
	for _, row := range leaf.kids {
		m := row.marks[slices.IndexFunc(row.marks, func(m mark) bool { return strings.HasSuffix(m.text, "number") || strings.HasPrefix(m.text, "1") })]
		ends = append(ends, m.x+m.width)
	}
	if math.Abs(ends[0]-ends[1]) > 0.01 || math.Abs(ends[1]-ends[2]) > 0.01 {
		t.Errorf("a column of numbers ends at %v", ends)
	}
	many := strings.Repeat("words ", 30)
	spare := document.Table{Spare: 1, Head: []document.Inline{plain("a"), plain("spare"), plain("c")}, Right: []bool{false, false, false}, Rows: [][]document.Inline{{plain("x"), plain(many), plain("stays")}}}
	if text := textOfNodes(s.table(spare)); strings.Contains(text, "spare") || !strings.Contains(text, "stays") {
		t.Errorf("a spare column without room is kept: %s", text)
	}
	spare.Rows[0][1] = plain("short")
	if text := textOfNodes(s.table(spare)); !strings.Contains(text, "spare") {
		t.Errorf("a spare column with room is left out: %s", text)
	}
	spare.Spare = 0
	spare.Rows[0][1] = plain(many)
	nodes := s.table(spare)
	if row := nodes[0].kids[1]; row.height < 2*1.25*s.body {
		t.Errorf("a long cell does not wrap: the row is %g high", row.height)
	}
	columns := document.Table{}
	for range 60 {
		columns.Head = append(columns.Head, plain("head"))
	}
	columns.Rows = [][]document.Inline{columns.Head}
	if text := textOfNodes(s.table(columns)); strings.Count(text, "head head") < 50 {
		t.Errorf("a table of 60 columns is not set as a list: %s", text)
	}
}

// textOfNodes is what leaves draw.
func textOfNodes(all []*node) string {
	var b strings.Builder
	for _, n := range all {
		for _, m := range n.marks {
			b.WriteString(m.text + "|")
		}
		b.WriteString(textOfNodes(n.kids))
	}
	return b.String()
}

// TestSlides holds that a slide becomes smaller before it goes on on another.
func TestSlides(t *testing.T) {
	size := func(items int) (pages int, letters float64) {
		d := &document.Document{Blocks: []document.Block{document.Slide{Title: plain("Title")}}}
		var l document.List
		for range items {
			l.Items = append(l.Items, plain("An item of the list."))
		}
		d.Blocks = append(d.Blocks, l)
		all, w := marksOf(t, Options{}, d)
		for _, m := range all {
			if strings.HasPrefix(m.text, "An item") {
				letters = m.size
			}
			if m.page > 0 && m.text == "Title" && m.own != artifact {
				t.Error("the title is read again on the next page")
			}
		}
		return len(w.sheets), letters
	}
	few, usual := size(4)
	more, smaller := size(13)
	many, least := size(60)
	if few != 1 || more != 1 || many < 2 {
		t.Errorf("%d, %d and %d pages for 4, 13 and 60 items, want 1, 1 and several", few, more, many)
	}
	if usual != slideLook.body || smaller >= usual || least < leastSlide*usual {
		t.Errorf("letters of %g, %g and %g points", usual, smaller, least)
	}
	sizes := map[float64]bool{}
	for items := range 10 {
		_, letters := size(9 + items)
		sizes[letters] = true
	}
	if len(sizes) < 4 {
		t.Errorf("from 9 items to 18 the letters have %d sizes, so they do not shrink by steps", len(sizes))
	}
}
