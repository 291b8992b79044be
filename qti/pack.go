package qti

import (
	"archive/zip"
	"fmt"
	"io"
)

// testFile is the path of the test in the package.
const testFile = "test.xml"

// itemFile is the path of item i, from 0. The files are numbered, not named after
// identifiers: on some systems two that differ in case are one file.
func itemFile(i int) string { return fmt.Sprintf("items/item-%03d.xml", i+1) }

// write writes the package. It begins once the set is known to be sound.
func write(to io.Writer, s Set, v version) error {
	if err := check(s); err != nil {
		return err
	}
	if s.Language == "" {
		s.Language = "en"
	}
	archive := zip.NewWriter(to)
	w := &writer{version: v, b: make([]byte, 0, 16<<10)}
	// The manifest stands first, so that a reader knows at once what this is.
	w.manifest(&s)
	if err := add(archive, "imsmanifest.xml", w.b); err != nil {
		return err
	}
	w.test(&s)
	if err := add(archive, testFile, w.b); err != nil {
		return err
	}
	for i := range s.Items {
		w.item(&s.Items[i], s.Language)
		if err := add(archive, itemFile(i), w.b); err != nil {
			return err
		}
	}
	return archive.Close()
}

// add adds a file. All are dated 1 January 1980, the first day that the format
// can tell: the bytes do not depend on the clock.
func add(archive *zip.Writer, name string, content []byte) error {
	h := &zip.FileHeader{Name: name, Method: zip.Deflate}
	//lint:ignore SA1019 the other field needs a clock's type, which is not for this layer
	h.ModifiedDate = 1<<5 | 1
	f, err := archive.CreateHeader(h)
	if err != nil {
		return err
	}
	_, err = f.Write(content)
	return err
}

// manifest writes what is in the package. Its names keep their spelling in both
// editions.
func (w *writer) manifest(s *Set) {
	v := w.version
	w.version.kebab = false
	defer func() { w.version = v }()
	w.file()
	id := identifier(s.ID)
	w.open("manifest", "xmlns", v.manifest, "identifier", id+".manifest")
	w.open("metadata")
	w.leaf("schema", v.schema)
	w.leaf("schemaversion", v.edition)
	w.close()
	w.empty("organizations")
	w.open("resources")
	w.resource(id, v.test, testFile)
	for i := range s.Items {
		w.empty("dependency", "identifierref", identifier(s.Items[i].ID))
	}
	w.close()
	for i := range s.Items {
		w.resource(identifier(s.Items[i].ID), v.item, itemFile(i))
		w.close()
	}
	w.close()
	w.close()
	w.b = append(w.b, '\n')
}

// resource begins a resource of one file.
func (w *writer) resource(id, kind, path string) {
	w.open("resource", "identifier", id, "type", kind, "href", path)
	w.empty("file", "href", path)
}

// test writes the test: the items in their order, each to be handed in by
// itself, so that its feedback comes at once.
func (w *writer) test(s *Set) {
	w.file()
	id := identifier(s.ID)
	w.open("assessmentTest", "xmlns", w.version.namespace, "identifier", id, "title", title(s.Title, s.ID))
	worth := 0
	for i := range s.Items {
		worth += s.Items[i].Worth
	}
	w.score(worth)
	w.open("testPart", "identifier", id+".part", "navigationMode", "nonlinear", "submissionMode", "individual")
	w.empty("itemSessionControl", "showFeedback", "true") // by default it is false
	w.open("assessmentSection", "identifier", id+".section", "title", title(s.Title, s.ID), "visible", "true")
	for i := range s.Items {
		w.empty("assessmentItemRef", "identifier", identifier(s.Items[i].ID), "href", itemFile(i))
	}
	w.close()
	w.close()
	w.open("outcomeProcessing")
	w.open("setOutcomeValue", "identifier", "SCORE")
	w.open("sum")
	w.empty("testVariables", "variableIdentifier", "SCORE")
	w.close()
	w.close()
	w.close()
	w.close()
	w.b = append(w.b, '\n')
}
