package pdf

import (
	"encoding/json"
	"fmt"
	"os/exec"
	"strings"
	"testing"

	"halves/chem"
	"halves/document"
)

// A tree is a file as qpdf reads it.
type tree struct {
	t       *testing.T
	objects map[string]struct {
		Value any `json:"value"`
	}
}

func treeOf(t *testing.T, path string) *tree {
	t.Helper()
	out, err := exec.Command(needProgram(t, "qpdf", "qpdf"), "--json=2", path).Output()
	if err != nil {
		t.Fatalf("qpdf --json: %v", err)
	}
	var file struct {
		QPDF []json.RawMessage `json:"qpdf"`
	}
	if err := json.Unmarshal(out, &file); err != nil || len(file.QPDF) < 2 {
		t.Fatalf("qpdf --json: %v", err)
	}
	x := &tree{t: t}
	if err := json.Unmarshal(file.QPDF[1], &x.objects); err != nil {
		// The trailer has another form; it is left out.
		var raw map[string]json.RawMessage
		if err := json.Unmarshal(file.QPDF[1], &raw); err != nil {
			t.Fatal(err)
		}
		x.objects = map[string]struct {
			Value any `json:"value"`
		}{}
		for k, v := range raw {
			var o struct {
				Value any `json:"value"`
			}
			if json.Unmarshal(v, &o) == nil {
				x.objects[k] = o
			}
		}
	}
	return x
}

// get follows references.
func (x *tree) get(v any) any {
	if s, ok := v.(string); ok && strings.HasSuffix(s, " R") {
		return x.objects["obj:"+s].Value
	}
	return v
}

func (x *tree) dict(v any) map[string]any {
	d, _ := x.get(v).(map[string]any)
	return d
}

func (x *tree) catalogue() map[string]any {
	root := x.dict("0 0 R")
	if trailer := x.objects["trailer"]; trailer.Value != nil {
		root = x.dict(x.dict(trailer.Value)["/Root"])
	}
	if root == nil {
		x.t.Fatal("the file has no catalogue")
	}
	return root
}

// text is a text string as qpdf writes it.
func text(v any) string {
	s, _ := v.(string)
	return strings.TrimPrefix(s, "u:")
}

// lines writes the structure below an element, one line for each: how deep it is,
// its type, what is said, how many pieces are drawn.
func (x *tree) lines(ref any, depth int, out *[]string) {
	d := x.dict(ref)
	line := strings.Repeat(" ", depth) + strings.TrimPrefix(d["/S"].(string), "/")
	if alt := text(d["/Alt"]); alt != "" {
		line += " " + fmt.Sprintf("%q", alt)
	}
	*out = append(*out, line)
	kids, _ := x.get(d["/K"]).([]any)
	for _, k := range kids {
		kid := x.dict(k)
		switch {
		case kid == nil: // a number
		case kid["/Type"] == "/MCR":
		default:
			if kid["/P"] != ref {
				x.t.Errorf("the parent of %v is %v, not %v which has it", k, kid["/P"], ref)
			}
			x.lines(k, depth+1, out)
		}
	}
}

// TestTags holds the structure of one of each block to what ISO 32000-1, 14.8.4
// has for it, and what is said instead of signs.
func TestTags(t *testing.T) {
	permanganate := document.Inline{{Formula: []chem.Run{{Text: "MnO"}, {Text: "4", Level: chem.Subscript}, {Text: "-", Level: chem.Superscript}}, Spoken: "permanganate ion"}}
	d := &document.Document{
		Title: plain("Title"),
		Blocks: []document.Block{
			document.Paragraph{Text: document.Join(plain("Of "), permanganate, document.Said(" +7", " plus 7"), plain("."))},
			document.Heading{Level: 1, Text: plain("Section")},
			document.List{Items: []document.Inline{plain("one"), plain("two")}},
			document.Equation{Label: plain("label"), Line: permanganate[0].Formula, Spoken: "said", Reason: plain("reason")},
			document.Heading{Level: 2, Text: plain("Deeper")},
			document.Table{Caption: "Caption", Head: []document.Inline{plain("a"), nil}, Right: []bool{false, true}, Rows: [][]document.Inline{{plain("b"), nil}}},
			document.Exercise{Number: 3, Marks: "2 marks", Text: plain("Ask.")},
			document.Choices{Items: []document.Choice{{Text: plain("no"), Note: plain("why")}, {Text: plain("yes"), Right: true}}},
			document.Space{Label: plain("Here:"), Lines: 2},
			document.Fields{Labels: []string{"Name"}},
			document.Equation{Line: []chem.Run{document.Blank, {Text: " "}, {Text: "Cu"}}, Final: true},
		},
	}
	x := treeOf(t, fileOf(t, Options{}, d))
	root := x.dict(x.catalogue()["/StructTreeRoot"])
	var got []string
	x.lines(root["/K"], 0, &got)
	want := `
Document
 Part
  H1
  P
   Formula "permanganate ion"
   Span " plus 7"
  Sect
   H2
   L
    LI
     Lbl
     LBody
    LI
     Lbl
     LBody
   L
    LI
     LBody
      P
      P
       Formula "said"
      P
   Sect
    H3
    Table
     TR
      TH
      TD
     TR
      TH
      TD
  Sect
   H2 "Question 3"
   P
   P
   L
    LI
     Lbl
     LBody
      P
    LI
     Lbl
      Span "right answer"
     LBody
   P
   P
   P
    Formula "____ Cu"`
	if g := "\n" + strings.Join(got, "\n"); g != want {
		t.Errorf("the structure is%s\nwant%s", g, want)
	}
}

// TestParents holds that the tree of parents and the elements say the same: what
// is drawn under a number on a page belongs to the element that has it.
func TestParents(t *testing.T) {
	for name, docs := range samples(t) {
		if name == "long" {
			continue // large for qpdf's JSON
		}
		x := treeOf(t, fileOf(t, Options{}, docs...))
		c := x.catalogue()
		root := x.dict(c["/StructTreeRoot"])
		pages := x.dict(c["/Pages"])["/Kids"].([]any)
		// From the elements: page and number to element.
		has := map[string]string{}
		var walk func(ref any)
		walk = func(ref any) {
			d := x.dict(ref)
			kids, _ := x.get(d["/K"]).([]any)
			for _, k := range kids {
				page, number := d["/Pg"], k
				if kid := x.dict(k); kid != nil {
					if kid["/Type"] != "/MCR" {
						walk(k)
						continue
					}
					page, number = kid["/Pg"], kid["/MCID"]
				}
				has[fmt.Sprint(page, " ", number)] = fmt.Sprint(ref)
			}
		}
		walk(root["/K"])
		nums := x.dict(root["/ParentTree"])["/Nums"].([]any)
		n := 0
		for i := 0; i < len(nums); i += 2 {
			page := pages[int(nums[i].(float64))]
			if got := x.dict(page)["/StructParents"]; got != nums[i] {
				t.Errorf("%s: the page %v has the number %v in the tree of parents, %v of its own", name, page, nums[i], got)
			}
			for k, e := range x.get(nums[i+1]).([]any) {
				n++
				if got := has[fmt.Sprint(page, " ", k)]; got != fmt.Sprint(e) {
					t.Errorf("%s: what is drawn as %d on %v belongs to %v, but %v has it", name, k, page, e, got)
				}
			}
		}
		if n != len(has) || n < 1 && name != "empty" {
			t.Errorf("%s: %d pieces in the tree of parents, %d of elements", name, n, len(has))
		}
		if c["/Lang"] == nil || x.dict(c["/MarkInfo"])["/Marked"] != true {
			t.Errorf("%s: the catalogue has the language %v and the marks %v", name, c["/Lang"], c["/MarkInfo"])
		}
	}
}

// outlineLines writes the outline, indented.
func (x *tree) outlineLines(ref any, depth int, out *[]string) {
	for ref != nil {
		d := x.dict(ref)
		*out = append(*out, strings.Repeat(" ", depth)+text(d["/Title"]))
		if d["/First"] != nil {
			x.outlineLines(d["/First"], depth+1, out)
		}
		ref = d["/Next"]
	}
}

// TestOutline holds what the bookmarks are.
func TestOutline(t *testing.T) {
	one := &document.Document{Title: plain("One"), Running: document.Running{Right: "B-07"}, Blocks: []document.Block{
		document.Heading{Level: 3, Text: plain("deep")}, document.Heading{Level: 1, Text: plain("first")}, document.Heading{Level: 2, Text: plain("below")},
		document.Exercise{Number: 1, Text: document.Inline{{Prose: "Balance "}, {Formula: []chem.Run{{Text: "Fe"}, {Text: "2+", Level: chem.Superscript}}}, {Prose: " and tell in which of its states iron is found in the answer, with reasons."}}},
		document.Heading{Level: 2, Text: plain("worked")},
		document.Heading{Level: 1, Text: plain("last")},
	}}
	two := &document.Document{Blocks: []document.Block{document.Slide{Title: plain("Slide")}}}
	for _, tt := range []struct {
		docs []*document.Document
		want string
	}{
		{[]*document.Document{one}, `
deep
first
 below
1. Balance Fe²⁺ and tell in which of its states iron is found in the …
 worked
last`},
		{[]*document.Document{one, two}, `
One (B-07)
 deep
 first
  below
 1. Balance Fe²⁺ and tell in which of its states iron is found in the …
  worked
 last
Slide
 Slide`},
	} {
		x := treeOf(t, fileOf(t, Options{}, tt.docs...))
		var got []string
		x.outlineLines(x.dict(x.catalogue()["/Outlines"])["/First"], 0, &got)
		if g := "\n" + strings.Join(got, "\n"); g != tt.want {
			t.Errorf("the outline is%s\nwant%s", g, tt.want)
		}
	}
}

// TestSpoken holds that poppler reads the text of the structure in order, formulas
// with the signs of their lines.
func TestSpoken(t *testing.T) {
	got := run(t, "poppler-utils", "pdfinfo", "-struct-text", fileOf(t, Options{}, worked(t, questions[0])))
	got = strings.NewReplacer("\n", "", `"`, "").Replace(strings.Join(strings.Fields(got), " "))
	for _, want := range []string{"MnO4− + 8 H+ + 5 e− ⟶ Mn2+ + 4 H2O", "TH: /Scope /Column species"} {
		if !strings.Contains(bare(got), bare(want)) {
			t.Errorf("the structure has no %q:\n%.3000s", want, got)
		}
	}
}
