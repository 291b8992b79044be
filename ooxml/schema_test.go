package ooxml_test

import (
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"halves/ooxml"
)

// needProgram returns the path of a program, or skips; with HALVES_NO_SKIP it
// fails.
func needProgram(t testing.TB, name, debian string) string {
	t.Helper()
	path, err := exec.LookPath(name)
	if err == nil {
		return path
	}
	missing(t, "needs "+name+" (Debian package "+debian+")")
	return ""
}

func missing(t testing.TB, what string) {
	t.Helper()
	if os.Getenv("HALVES_NO_SKIP") != "" {
		t.Fatal(what)
	}
	t.Skip(what)
}

// schemas returns the folder of the published schemas of ISO/IEC 29500
// (transitional) and of its packages. They are their publishers' property, and no
// part of the project.
func schemas(t testing.TB) string {
	t.Helper()
	root := os.Getenv("HALVES_SCHEMAS")
	if root == "" {
		root = filepath.Join("..", "..", "shared", "schemas")
	}
	dir, err := filepath.Abs(filepath.Join(root, "ooxml"))
	if err != nil {
		t.Fatal(err)
	}
	if _, err := os.Stat(filepath.Join(dir, "wml.xsd")); err != nil {
		t.Skipf("the schemas of ISO/IEC 29500 are not at %s; HALVES_SCHEMAS names their folder", root)
	}
	return dir
}

// schemaOf is the schema of a part, by a word of its name. The first that fits
// counts.
var schemaOf = []struct{ word, schema string }{
	{"[Content_Types]", "opc-contentTypes.xsd"}, {".rels", "opc-relationships.xsd"}, {"core.xml", "opc-coreProperties.xsd"},
	{"theme", "dml-main.xsd"}, {"tableStyles", "dml-main.xsd"}, {"word/", "wml.xsd"}, {"ppt/", "pml.xsd"},
}

// The properties refer to the elements of Dublin Core by the addresses of their
// schemas, which are not among the others. These declare what is used of them.
const (
	dublinCore = `<xs:schema xmlns:xs="http://www.w3.org/2001/XMLSchema" targetNamespace="http://purl.org/dc/elements/1.1/">
<xs:element name="title" type="xs:string"/><xs:element name="language" type="xs:string"/><xs:element name="creator" type="xs:string"/>
<xs:element name="description" type="xs:string"/><xs:element name="identifier" type="xs:string"/><xs:element name="subject" type="xs:string"/></xs:schema>`
	dublinTerms = `<xs:schema xmlns:xs="http://www.w3.org/2001/XMLSchema" targetNamespace="http://purl.org/dc/terms/">
<xs:element name="created" type="xs:dateTime"/><xs:element name="modified" type="xs:dateTime"/></xs:schema>`
	xmlNamespace = `<xs:schema xmlns:xs="http://www.w3.org/2001/XMLSchema" targetNamespace="http://www.w3.org/XML/1998/namespace"><xs:attribute name="lang" type="xs:language"/></xs:schema>`
	catalog      = `<catalog xmlns="urn:oasis:names:tc:entity:xmlns:xml:catalog">
<uri name="http://dublincore.org/schemas/xmls/qdc/2003/04/02/dc.xsd" uri="dc.xsd"/>
<uri name="http://dublincore.org/schemas/xmls/qdc/2003/04/02/dcterms.xsd" uri="dcterms.xsd"/></catalog>`
)

// TestSchemas holds each part of every sample against the published schemas:
// word processors are strict about the order of elements, and others forgive it.
func TestSchemas(t *testing.T) {
	xmllint := needProgram(t, "xmllint", "libxml2-utils")
	dir := schemas(t)
	tmp := t.TempDir()
	put := func(name, text string) string {
		path := filepath.Join(tmp, filepath.FromSlash(name))
		if err := os.MkdirAll(filepath.Dir(path), 0o777); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(path, []byte(text), 0o666); err != nil {
			t.Fatal(err)
		}
		return path
	}
	put("dc.xsd", dublinCore)
	put("dcterms.xsd", dublinTerms)
	put("xml.xsd", xmlNamespace)
	catalogs := put("catalog.xml", catalog)
	core, err := os.ReadFile(filepath.Join(dir, "opc-coreProperties.xsd"))
	if err != nil {
		t.Fatal(err)
	}
	// One import has no place to be found at.
	place := strings.Replace(string(core), `<xs:import id="xml" namespace="http://www.w3.org/XML/1998/namespace"/>`, `<xs:import namespace="http://www.w3.org/XML/1998/namespace" schemaLocation="xml.xsd"/>`, 1)
	coreSchema := put("opc-coreProperties.xsd", place)

	files := map[string][]string{} // by schema
	all := samples(t)
	all["every"] = every()
	for name, d := range all {
		for format := range formats {
			for _, paper := range []ooxml.Paper{ooxml.A4, ooxml.Letter} {
				for part, text := range opened(t, written(t, format, d, ooxml.Options{Paper: paper})) {
					if strings.HasSuffix(part, ".emf") {
						continue
					}
					schema := ""
					for _, s := range schemaOf {
						if schema == "" && strings.Contains(part, s.word) {
							schema = s.schema
						}
					}
					if schema == "" {
						t.Fatalf("%s has no schema", part)
					}
					folder := strings.Map(func(r rune) rune {
						if r >= 'a' && r <= 'z' || r >= '0' && r <= '9' {
							return r
						}
						return '_'
					}, strings.ToLower(name))
					files[schema] = append(files[schema], put(folder+"/"+format+string('0'+rune(paper))+"/"+part, text))
				}
			}
		}
	}
	for schema, paths := range files {
		place := filepath.Join(dir, schema)
		if schema == "opc-coreProperties.xsd" {
			place = coreSchema
		}
		for len(paths) > 0 {
			n := min(len(paths), 200) // a command line has an end
			cmd := exec.Command(xmllint, append([]string{"--nonet", "--noout", "--schema", place}, paths[:n]...)...)
			cmd.Env = append(os.Environ(), "XML_CATALOG_FILES="+catalogs)
			if out, err := cmd.CombinedOutput(); err != nil {
				var faults []string
				for line := range strings.SplitSeq(string(out), "\n") {
					if !strings.HasSuffix(line, " validates") {
						faults = append(faults, line)
					}
				}
				t.Errorf("%s: %v\n%s", schema, err, strings.Join(faults[:min(len(faults), 20)], "\n"))
			}
			paths = paths[n:]
		}
	}
}
