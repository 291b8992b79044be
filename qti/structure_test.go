package qti_test

import (
	"archive/zip"
	"bytes"
	"fmt"
	"io"
	"maps"
	"path"
	"reflect"
	"regexp"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"halves/qti"
)

// What stands in the place of a schema of QTI 3.0, and beside that of 2.2: the
// rules that the tables below and structure hold. The names of 3.0 are from
// memory of 1EdTech, QTI 3.0, Assessment, Section, Item, Test Part information
// model; the rules of references are those of the documentation in the schema of
// 2.2.4 ("Each response variable declared may be bound to one and only one
// interaction") and its Schematron rules.

// namespaces of each edition: items and test, manifest (from memory).
var namespaces = map[string][2]string{
	"2.2": {"http://www.imsglobal.org/xsd/imsqti_v2p2", "http://www.imsglobal.org/xsd/imscp_v1p1"},
	"3.0": {"http://www.imsglobal.org/xsd/imsqtiasi_v3p0", "http://www.imsglobal.org/xsd/qti/qtiv3p0/imscp_v1p1"},
}

// parents lists the elements that may stand in each element of QTI 3.0.
var parents = map[string]string{
	"qti-assessment-item":        "qti-response-declaration qti-outcome-declaration qti-item-body qti-response-processing qti-modal-feedback",
	"qti-response-declaration":   "qti-correct-response qti-mapping",
	"qti-correct-response":       "qti-value",
	"qti-mapping":                "qti-map-entry",
	"qti-outcome-declaration":    "qti-default-value",
	"qti-default-value":          "qti-value",
	"qti-item-body":              "p qti-choice-interaction",
	"qti-choice-interaction":     "qti-simple-choice",
	"qti-simple-choice":          "span sub sup var",
	"p":                          "span sub sup var qti-text-entry-interaction",
	"span":                       "sub sup var",
	"qti-response-processing":    "qti-response-condition qti-set-outcome-value",
	"qti-response-condition":     "qti-response-if qti-response-else",
	"qti-response-if":            "qti-match qti-not qti-and qti-set-outcome-value",
	"qti-response-else":          "qti-set-outcome-value",
	"qti-not":                    "qti-is-null",
	"qti-is-null":                "qti-variable",
	"qti-and":                    "qti-match",
	"qti-match":                  "qti-variable qti-correct",
	"qti-sum":                    "qti-variable qti-map-response qti-test-variables",
	"qti-set-outcome-value":      "qti-base-value qti-variable qti-sum",
	"qti-modal-feedback":         "qti-content-body",
	"qti-content-body":           "p",
	"qti-assessment-test":        "qti-outcome-declaration qti-test-part qti-outcome-processing",
	"qti-test-part":              "qti-item-session-control qti-assessment-section",
	"qti-assessment-section":     "qti-assessment-item-ref",
	"qti-outcome-processing":     "qti-set-outcome-value",
	"qti-assessment-item-ref":    "",
	"qti-item-session-control":   "",
	"manifest":                   "metadata organizations resources",
	"metadata":                   "schema schemaversion",
	"resources":                  "resource",
	"resource":                   "file dependency",
	"qti-text-entry-interaction": "", "qti-value": "", "qti-map-entry": "", "qti-variable": "", "qti-correct": "", "qti-map-response": "",
	"qti-base-value": "", "qti-test-variables": "", "sub": "", "sup": "", "var": "", "schema": "", "schemaversion": "",
	"organizations": "", "file": "", "dependency": "",
}

// mixed are the elements that hold text.
const mixed = " p span sub sup var simpleChoice value baseValue schema schemaversion "

var ncName = regexp.MustCompile(`^[A-Za-z_][A-Za-z0-9._-]*$`)

// structure returns what is wrong with a package, by the rules above.
func structure(edition string, files []file) (faults []string) {
	fault := func(format string, a ...any) { faults = append(faults, fmt.Sprintf(format, a...)) }
	if len(files) == 0 || files[0].path != "imsmanifest.xml" {
		return []string{"the manifest is not the first file"}
	}
	byPath := map[string]*node{}
	for _, f := range files {
		byPath[f.path] = f.root
		space := namespaces[edition][0]
		if f.root.name == "manifest" {
			space = namespaces[edition][1]
		}
		f.root.walk(func(n *node) {
			if n.space != space {
				fault("%s: %s is in namespace %q", f.path, n.written, n.space)
			}
			for _, k := range n.kids {
				if k.name == "" && !strings.Contains(mixed, " "+n.name+" ") && strings.TrimSpace(k.text) != "" {
					fault("%s: %s holds text", f.path, n.written)
				}
			}
			if id, ok := n.attributes["identifier"]; ok && !ncName.MatchString(id) {
				fault("%s: identifier %q of %s is no name", f.path, id, n.written)
			}
			if edition != "3.0" {
				return
			}
			may, known := parents[n.written]
			if !known {
				fault("%s: no element is called %s", f.path, n.written)
			}
			for _, k := range n.elements() {
				if !slices.Contains(strings.Fields(may), k.written) {
					fault("%s: %s stands in %s", f.path, k.written, n.written)
				}
			}
		})
		switch f.root.name {
		case "assessmentItem":
			for _, s := range itemFaults(f.root) {
				fault("%s: %s", f.path, s)
			}
		case "manifest", "assessmentTest":
		default:
			fault("%s: root %s", f.path, f.root.written)
		}
	}
	// The manifest lists every file and no other; the test lists every item.
	listed := map[string]bool{"imsmanifest.xml": true}
	ids := map[string]string{} // resource to the file
	for _, r := range files[0].root.all("resource") {
		href := r.attributes["href"]
		f := r.all("file")
		if len(f) != 1 || f[0].attributes["href"] != href || byPath[href] == nil || listed[href] {
			fault("resource %q does not list its one file", href)
			continue
		}
		listed[href] = true
		if id := r.attributes["identifier"]; ids[id] != "" || id != byPath[href].attributes["identifier"] {
			fault("resource %q: identifier %q", href, id)
		}
		ids[r.attributes["identifier"]] = href
		kind := "item"
		if byPath[href].name == "assessmentTest" {
			kind = "test"
		}
		if want := "imsqti_" + kind + "_xmlv" + strings.Replace(edition, ".", "p", 1); r.attributes["type"] != want {
			fault("resource %q has type %q, want %q", href, r.attributes["type"], want)
		}
	}
	if len(listed) != len(files) {
		fault("the manifest lists %d files of %d", len(listed), len(files))
	}
	depends := map[string]bool{}
	for _, d := range files[0].root.all("dependency") {
		depends[d.attributes["identifierref"]] = true
	}
	test := byPath["test.xml"]
	if test == nil {
		return append(faults, "no test")
	}
	seen := map[string]bool{}
	for _, name := range []string{"assessmentTest", "testPart", "assessmentSection", "assessmentItemRef"} {
		for _, n := range test.all(name) { // Schematron, general rules 2a to 2c
			id := n.attributes["identifier"]
			if seen[id] {
				fault("the test has two identifiers %q", id)
			}
			seen[id] = true
		}
	}
	refs := test.all("assessmentItemRef")
	for _, r := range refs {
		id := r.attributes["identifier"]
		if ids[id] != path.Clean(r.attributes["href"]) || !depends[id] {
			fault("the test lists %q as %q", id, r.attributes["href"])
		}
	}
	if len(refs) != len(files)-2 || len(depends) != len(refs) {
		fault("the test lists %d items of %d, the manifest %d", len(refs), len(files)-2, len(depends))
	}
	return faults
}

// itemFaults returns what is wrong with the references of an item.
func itemFaults(item *node) (faults []string) {
	fault := func(format string, a ...any) { faults = append(faults, fmt.Sprintf(format, a...)) }
	order := ""
	for _, k := range item.elements() {
		order += k.name + " "
	}
	if !regexp.MustCompile(`^(responseDeclaration )+(outcomeDeclaration )+itemBody responseProcessing (modalFeedback )*$`).MatchString(order) {
		fault("its parts are %s", order)
	}
	for _, name := range []string{"adaptive", "timeDependent", "title", "lang"} {
		if _, ok := item.attributes[name]; !ok {
			fault("no attribute %s", name)
		}
	}
	declared, used := map[string]*node{}, map[string]int{}
	for _, d := range slices.Concat(item.all("responseDeclaration"), item.all("outcomeDeclaration")) {
		id := d.attributes["identifier"]
		if declared[id] != nil {
			fault("%s is declared twice", id)
		}
		declared[id] = d
	}
	is := func(id, kind string) bool { return declared[id] != nil && declared[id].name == kind }
	interactions := slices.Concat(item.all("choiceInteraction"), item.all("textEntryInteraction"))
	for _, n := range interactions {
		id := n.attributes["responseIdentifier"]
		used[id]++
		if !is(id, "responseDeclaration") {
			fault("interaction %q is not declared", id)
		}
	}
	for id, d := range declared {
		if d.name == "responseDeclaration" && used[id] != 1 {
			fault("response %s belongs to %d interactions", id, used[id])
		}
	}
	choices := map[string]bool{}
	for _, c := range item.all("simpleChoice") {
		id := c.attributes["identifier"]
		if choices[id] {
			fault("two choices are called %s", id)
		}
		choices[id] = true
	}
	for _, d := range item.all("responseDeclaration") {
		answer := d.all("value")[0].content()
		switch d.attributes["baseType"] {
		case "identifier":
			if !choices[answer] {
				fault("the right choice %q is none of them", answer)
			}
		case "string":
			if entries := d.all("mapEntry"); len(entries) != 1 || entries[0].attributes["mapKey"] != answer {
				fault("the right answer %q is not mapped", answer)
			}
		default:
			fault("baseType %q", d.attributes["baseType"])
		}
	}
	marked := map[string]bool{}
	item.all("responseProcessing")[0].walk(func(n *node) {
		id := n.attributes["identifier"]
		switch n.name {
		case "variable":
			if declared[id] == nil {
				fault("%s %q is not declared", n.name, id)
			}
			marked[id] = true
		case "correct", "mapResponse":
			if !is(id, "responseDeclaration") {
				fault("%s %q is not declared", n.name, id)
			}
		case "setOutcomeValue":
			if !is(id, "outcomeDeclaration") {
				fault("outcome %q is not declared", id)
			}
		}
	})
	shown := map[string]bool{}
	for _, m := range item.all("modalFeedback") {
		id := m.attributes["identifier"]
		if m.attributes["outcomeIdentifier"] != "FEEDBACK" || !is("FEEDBACK", "outcomeDeclaration") || shown[id] {
			fault("feedback %q is not declared, or twice", id)
		}
		if !choices[id] && (id != "RIGHT" || len(choices) > 0) {
			fault("feedback %q is for no choice", id)
		}
		shown[id] = true
	}
	if is("FEEDBACK", "outcomeDeclaration") != (len(shown) > 0) {
		fault("FEEDBACK is declared: %v, but there are %d", len(shown) == 0, len(shown))
	}
	for id := range declared {
		if is(id, "responseDeclaration") && !marked[id] {
			fault("response %s is not marked", id)
		}
	}
	// Accessibility: a label needs a role, and a box a name.
	for _, s := range item.all("span") {
		if s.attributes["role"] != "img" || strings.TrimSpace(s.attributes["aria-label"]) == "" || strings.TrimSpace(s.content()) == "" {
			fault("span %v has no role, no label or nothing in it", s.attributes)
		}
	}
	for _, e := range item.all("textEntryInteraction") {
		if strings.TrimSpace(e.attributes["aria-label"]) == "" {
			fault("box %s has no label", e.attributes["responseIdentifier"])
		}
	}
	return faults
}

func TestStructure(t *testing.T) {
	for _, v := range versions {
		for _, s := range []qti.Set{week(), manyWeeks(20)} {
			files, err := unpacked(written(t, v.write, s))
			if err != nil {
				t.Fatal(err)
			}
			for _, f := range structure(v.name, files) {
				t.Errorf("QTI %s: %s", v.name, f)
			}
		}
		t.Run(v.name, rapid.MakeCheck(func(t *rapid.T) {
			var b bytes.Buffer
			if err := v.write(&b, anySet.Draw(t, "set")); err != nil {
				t.Fatal(err)
			}
			files, err := unpacked(b.Bytes())
			if err != nil {
				t.Fatal(err)
			}
			for _, f := range structure(v.name, files) {
				t.Error(f)
			}
		}))
	}
}

// TestStructureFaults shows that the rules find faults: one word of a sound file
// is changed, or left out.
func TestStructureFaults(t *testing.T) {
	tests := []struct{ path, from, to, want string }{
		{"items/item-001.xml", `response-identifier="RESPONSE"`, `response-identifier="R"`, `interaction "R" is not declared`},
		{"items/item-002.xml", `<qti-text-entry-interaction response-identifier="GAP2"`, `<qti-text-entry-interaction response-identifier="GAP1"`, "response GAP1 belongs to 2 interactions"},
		{"items/item-001.xml", `<qti-value>C1<`, `<qti-value>C9<`, `the right choice "C9" is none of them`},
		{"items/item-001.xml", `outcome-identifier="FEEDBACK" identifier="C2"`, `outcome-identifier="FEEDBACK" identifier="C1"`, `feedback "C1" is not declared, or twice`},
		{"items/item-001.xml", `imsqtiasi_v3p0`, `imsqti_v2p2`, "is in namespace"},
		{"items/item-001.xml", `qti-item-body`, `qti-itemBody`, "no element is called qti-itemBody"},
		{"items/item-001.xml", `identifier="state`, `identifier="4state`, "is no name"},
		{"items/item-001.xml", `<span role="img"`, `<span`, "has no role"},
		{"items/item-002.xml", `<qti-variable identifier="GAP3"/>`, ``, "response GAP3 is not marked"},
		{"items/item-002.xml", `map-key="8"`, `map-key="9"`, `the right answer "8" is not mapped`},
		{"test.xml", `identifier="iron"`, `identifier="iran"`, `the test lists "iran"`},
		{"test.xml", `identifier="week-4.part"`, `identifier="week-4"`, `the test has two identifiers "week-4"`},
		{"imsmanifest.xml", `<dependency identifierref="iron"/>`, ``, `the test lists "iron"`},
		{"imsmanifest.xml", `item_xmlv3p0`, `item_xmlv2p2`, "has type"},
	}
	for _, tt := range tests {
		files, err := unpacked(written(t, qti.Write30, week()))
		if err != nil {
			t.Fatal(err)
		}
		for i := range files {
			if files[i].path != tt.path {
				continue
			}
			changed := strings.ReplaceAll(string(files[i].raw), tt.from, tt.to)
			if changed == string(files[i].raw) {
				t.Fatalf("%s has no %s", tt.path, tt.from)
			}
			if files[i].root, err = readTree([]byte(changed)); err != nil {
				t.Fatal(err)
			}
		}
		if got := strings.Join(structure("3.0", files), "\n"); !strings.Contains(got, tt.want) {
			t.Errorf("%s, %s for %s: %q, want %q", tt.path, tt.to, tt.from, got, tt.want)
		}
	}
}

// TestEditionsAgree: the two editions say the same, names apart.
func TestEditionsAgree(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := anySet.Draw(t, "set")
		old, err := itemsOf(qti.Write22, s)
		if err != nil {
			t.Fatal(err)
		}
		recent, err := itemsOf(qti.Write30, s)
		if err != nil {
			t.Fatal(err)
		}
		if len(old) != len(s.Items) || len(recent) != len(s.Items) {
			t.Fatalf("%d and %d items, want %d", len(old), len(recent), len(s.Items))
		}
		for i := range old {
			if a, b := shape(old[i]), shape(recent[i]); !reflect.DeepEqual(a, b) {
				t.Fatalf("item %d:\n%s\n%s", i+1, strings.Join(a, "\n"), strings.Join(b, "\n"))
			}
		}
	})
}

// shape lists the elements and texts of a tree, without what an edition alone
// has.
func shape(n *node) []string {
	var lines []string
	if n.name != "contentBody" {
		attributes := maps.Clone(n.attributes)
		delete(attributes, "xmlns")
		lines = append(lines, fmt.Sprint(n.name, attributes, strings.TrimSpace(n.text)))
	}
	for _, k := range n.kids {
		if k.name != "" || strings.TrimSpace(k.text) != "" {
			lines = append(lines, shape(k)...)
		}
	}
	return lines
}

// TestDeterminism: the same set gives the same bytes, and no file has a date of
// today.
func TestDeterminism(t *testing.T) {
	for _, v := range versions {
		first := written(t, v.write, week())
		for range 5 {
			if !bytes.Equal(first, written(t, v.write, week())) {
				t.Fatalf("QTI %s: other bytes from the same set", v.name)
			}
		}
		z, err := zip.NewReader(bytes.NewReader(first), int64(len(first)))
		if err != nil {
			t.Fatal(err)
		}
		for _, f := range z.File {
			if got := f.Modified.Format("2006-01-02 15:04"); got != "1980-01-01 00:00" {
				t.Errorf("QTI %s: %s is dated %s", v.name, f.Name, got)
			}
		}
	}
}

// failing is a writer that takes n bytes.
type failing struct{ n int }

func (f *failing) Write(p []byte) (int, error) {
	if f.n -= len(p); f.n < 0 {
		return 0, io.ErrShortWrite
	}
	return len(p), nil
}

// TestWriterFails: the error of the writer comes back from wherever it arises.
func TestWriterFails(t *testing.T) {
	whole := len(written(t, qti.Write22, manyWeeks(40)))
	for n := 0; n < whole; n += whole / 20 {
		if err := qti.Write22(&failing{n}, manyWeeks(40)); err != io.ErrShortWrite {
			t.Errorf("Write22 to a writer that takes %d of %d bytes: %v, want %v", n, whole, err, io.ErrShortWrite)
		}
	}
}
