package qti_test

import (
	"fmt"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"halves/chem"
	"halves/document"
	"halves/qti"
)

// formulasOf returns the plain text of every formula of an item.
func formulasOf(it qti.Item) []string {
	var lines []document.Inline
	lines = append(lines, it.Stem...)
	lines = append(lines, it.Feedback)
	for _, c := range it.Choices {
		lines = append(lines, c.Text, c.Feedback)
	}
	for _, p := range it.Line {
		lines = append(lines, p.Text)
	}
	var all []string
	for _, l := range lines {
		for _, s := range l {
			if s.Formula != nil {
				all = append(all, chem.PlainText(s.Formula))
			}
		}
	}
	return all
}

// TestFormulas: every formula of a set is read back from its package, the spoken
// form as the label.
func TestFormulas(t *testing.T) {
	for _, v := range versions {
		t.Run(v.name, rapid.MakeCheck(func(t *rapid.T) {
			s := anySet.Draw(t, "set")
			items, err := itemsOf(v.write, s)
			if err != nil {
				t.Fatal(err)
			}
			for i, it := range s.Items {
				found := map[string]int{}
				for _, span := range items[i].all("span") {
					found[span.canonical()]++
				}
				for _, f := range formulasOf(it) {
					if found[f]--; found[f] < 0 {
						t.Fatalf("item %d: %s is not read back; there are %v", i+1, f, found)
					}
				}
			}
		}))
	}
}

// TestInline: how a line is written. The elements are those of XHTML.
func TestInline(t *testing.T) {
	x := chem.Run{Text: "x", Level: chem.Variable}
	tests := []struct {
		text document.Inline
		want string
	}{
		{document.Inline{formula("SO4^2-")},
			`<span role="img" aria-label="sulfate ion">SO<sub>4</sub><sup>2−</sup></span>`},
		{document.Inline{formula("CuSO4.5H2O")},
			`<span role="img" aria-label="copper two sulfate pentahydrate">CuSO<sub>4</sub>·5H<sub>2</sub>O</span>`},
		{document.Inline{equation("Zn + 2 H^+ -> Zn^2+ + H2")},
			`<span role="img" aria-label="zinc plus two hydrogen ions give one zinc ion plus hydrogen">Zn + 2 H<sup>+</sup> ⟶ Zn<sup>2+</sup> + H<sub>2</sub></span>`},
		{document.Inline{{Formula: []chem.Run{{Text: "2"}, x, {Text: " = 8"}}}},
			`2<var>x</var> = 8`},
		{document.Inline{{Prose: "from +2 to +3, as told", Spoken: "from plus 2 to plus 3, as told"}},
			`from <span role="img" aria-label="plus 2 to plus 3,">+2 to +3,</span> as told`},
		{document.Inline{{Prose: " −1 ", Spoken: " minus 1 "}},
			` <span role="img" aria-label="minus 1">−1</span> `},
		{document.Inline{{Prose: "a b", Spoken: "a or b"}},
			`a <span role="img" aria-label="or b">b</span>`},
		{document.Inline{{Prose: "a b", Spoken: "a b c"}},
			`a <span role="img" aria-label="b c">b</span>`},
		{document.Inline{{Prose: "a ", Spoken: "a b"}},
			`<span role="img" aria-label="a b">a </span>`},
		{document.Inline{{Prose: "alike", Spoken: "alike"}}, `alike`},
		{document.Inline{{Prose: "unseen:\x00\x07\u202e \ufffe.", Spoken: "\x01"}}, `unseen: .`},
		{document.Inline{{Prose: "<b>&\"'\t\xff", Spoken: ""}}, "&lt;b&gt;&amp;&quot;' \uFFFD"},
	}
	for _, tt := range tests {
		s := week()
		s.Items = []qti.Item{{ID: "q", Stem: []document.Inline{append(prose("«"), append(tt.text, prose("»")...)...)}, Worth: 1, Choices: week().Items[2].Choices}}
		for _, v := range versions {
			files, err := unpacked(written(t, v.write, s))
			if err != nil {
				t.Fatal(err)
			}
			_, after, _ := strings.Cut(string(files[2].raw), "«")
			if got, _, _ := strings.Cut(after, "»"); got != tt.want {
				t.Errorf("QTI %s:\n got %s\nwant %s", v.name, got, tt.want)
			}
		}
	}
}

// TestBody: what a student meets. A box is named, all of a line are equally
// wide, and the note on 1 stands in every question with gaps.
func TestBody(t *testing.T) {
	s := week()
	line := func(answers ...string) qti.Item {
		it := qti.Item{ID: fmt.Sprint(answers), Stem: []document.Inline{prose("Fill in.")}, Worth: 1}
		for _, a := range answers {
			it.Line = append(it.Line, qti.Piece{Gap: &qti.Gap{Answer: a}})
		}
		return it
	}
	s.Items = append(s.Items, line("2", "30"), line("10000", "6"))
	items, err := itemsOf(qti.Write22, s)
	if err != nil {
		t.Fatal(err)
	}
	for i, want := range []string{"", "3 3 3 3 3 3", "", "3 3", "5 5"} {
		var widths, labels []string
		for _, e := range items[i].all("textEntryInteraction") {
			widths = append(widths, e.attributes["expectedLength"])
			labels = append(labels, e.attributes["aria-label"])
		}
		if got := strings.Join(widths, " "); got != want {
			t.Errorf("item %d: boxes of %s, want %s", i+1, got, want)
		}
		if i == 1 && labels[0] != "coefficient of permanganate ion" || i == 3 && labels[1] != "gap 2 of 2" {
			t.Errorf("item %d: boxes are called %q", i+1, labels)
		}
		if got := strings.Contains(items[i].content(), "Where a coefficient is 1, type 1."); got != (want != "") {
			t.Errorf("item %d: the note on 1 is there: %v", i+1, got)
		}
	}
	for _, c := range items[0].all("choiceInteraction") {
		if c.attributes["shuffle"] != "true" || c.attributes["maxChoices"] != "1" {
			t.Errorf("choices: %v", c.attributes)
		}
	}
	if got, want := items[1].attributes["title"], "iron"; got != want {
		t.Errorf("an item without a title is called %q, want %q", got, want)
	}
	if got, want := items[0].attributes["identifier"], "state.20of.20Mn"; got != want {
		t.Errorf("identifier %q, want %q", got, want)
	}
}

// TestLanguage: a set in another language marks the sentences of the package
// itself as English.
func TestLanguage(t *testing.T) {
	for language, want := range map[string]string{"": "en", "en-US": "en-US", "EN": "EN", "de-AT": "de-AT en"} {
		s := week()
		s.Language = language
		items, err := itemsOf(qti.Write22, s)
		if err != nil {
			t.Fatal(err)
		}
		var found []string
		items[1].walk(func(n *node) {
			if l, ok := n.attributes["lang"]; ok {
				found = append(found, l)
			}
		})
		if got := strings.Join(found, " "); got != want {
			t.Errorf("language %q: xml:lang %q, want %q", language, got, want)
		}
	}
}

// TestTestMarks: the test says how many marks there are in all, and shows
// feedback.
func TestTestMarks(t *testing.T) {
	files, err := unpacked(written(t, qti.Write22, week()))
	if err != nil {
		t.Fatal(err)
	}
	test := files[1].root
	for _, d := range test.all("outcomeDeclaration") {
		want := map[string]string{"SCORE": "0", "MAXSCORE": "4"}[d.attributes["identifier"]]
		if got := strings.TrimSpace(d.content()); got != want {
			t.Errorf("%s begins at %s, want %s", d.attributes["identifier"], got, want)
		}
	}
	if got := test.all("itemSessionControl")[0].attributes["showFeedback"]; got != "true" {
		t.Errorf("showFeedback is %q", got)
	}
	if got, want := test.attributes["title"], "Half-reactions & <ions>"; got != want {
		t.Errorf("title %q, want %q", got, want)
	}
}

// TestIdentifiers: different texts are different names (by structure), whatever
// their letters are.
func TestIdentifiers(t *testing.T) {
	texts := []string{"a b", "a_b", "a.20b", "a.b", "A b", "1", "_1", "__1", "é", "e", "-", "a\x00b", "ab", "week-4.section", "x.part"}
	s := week()
	it := s.Items[2]
	s.Items = nil
	for _, id := range texts {
		it.ID = id
		s.Items = append(s.Items, it)
	}
	for _, v := range versions {
		files, err := unpacked(written(t, v.write, s))
		if err != nil {
			t.Fatal(err)
		}
		for _, f := range structure(v.name, files) {
			t.Errorf("QTI %s: %s", v.name, f)
		}
	}
}
