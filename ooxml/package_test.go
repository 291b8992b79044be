package ooxml_test

import (
	"archive/zip"
	"bytes"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"path"
	"slices"
	"strings"
	"testing"

	"halves/document"
	"halves/ooxml"
)

// formats are the writers, by the ending of their files.
var formats = map[string]func(io.Writer, *document.Document, ooxml.Options) error{"docx": ooxml.DOCX, "pptx": ooxml.PPTX}

func written(t testing.TB, format string, d *document.Document, o ooxml.Options) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := formats[format](&b, d, o); err != nil {
		t.Fatalf("%s: %v", format, err)
	}
	return b.Bytes()
}

// unzipped returns the parts of a package by their names.
func unzipped(data []byte) (map[string]string, error) {
	z, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
	if err != nil {
		return nil, err
	}
	out := map[string]string{}
	for _, f := range z.File {
		r, err := f.Open()
		if err != nil {
			return nil, err
		}
		b, err := io.ReadAll(r)
		if err != nil {
			return nil, err
		}
		if _, twice := out[f.Name]; twice {
			return nil, fmt.Errorf("%s is there twice", f.Name)
		}
		out[f.Name] = string(b)
	}
	return out, nil
}

func opened(t testing.TB, data []byte) map[string]string {
	t.Helper()
	parts, err := unzipped(data)
	if err != nil {
		t.Fatal(err)
	}
	return parts
}

// elements calls see for each element of a part.
func elements(t testing.TB, name, part string, see func(xml.StartElement)) {
	t.Helper()
	d := xml.NewDecoder(strings.NewReader(part))
	for {
		tok, err := d.Token()
		if err == io.EOF {
			return
		}
		if err != nil {
			t.Fatalf("%s: %v in\n%s", name, err, part)
		}
		if e, ok := tok.(xml.StartElement); ok {
			see(e)
		}
	}
}

func attribute(e xml.StartElement, name string) string {
	for _, a := range e.Attr {
		if a.Name.Local == name {
			return a.Value
		}
	}
	return ""
}

const relationSpace = "http://schemas.openxmlformats.org/officeDocument/2006/relationships"

// TestWhole holds that the parts of a file are whole: each has a content type,
// each is named by another, each relation leads to a part, each id that is used
// is one of a relation, no two shapes of a slide have one id, and each style and
// list that is used is defined.
func TestWhole(t *testing.T) {
	for name, d := range samples(t) {
		for format := range formats {
			name := name + "." + format
			parts := opened(t, written(t, format, d, ooxml.Options{}))
			types, reached := map[string]bool{}, map[string]bool{}
			elements(t, name, parts["[Content_Types].xml"], func(e xml.StartElement) {
				if e.Name.Local == "Override" {
					types[strings.TrimPrefix(attribute(e, "PartName"), "/")] = true
				}
			})
			for n := range types {
				if _, ok := parts[n]; !ok {
					t.Errorf("%s: a content type for %s, which is not there", name, n)
				}
			}
			for n, part := range parts {
				if dir, file := path.Split(n); path.Base(dir) == "_rels" {
					from := path.Dir(path.Clean(dir))
					of := path.Join(from, strings.TrimSuffix(file, ".rels"))
					ids := map[string]bool{}
					elements(t, n, part, func(e xml.StartElement) {
						if e.Name.Local != "Relationship" {
							return
						}
						target := path.Join(from, attribute(e, "Target"))
						if _, ok := parts[target]; !ok {
							t.Errorf("%s: %s leads to %s, which is not there", name, n, target)
						}
						reached[target] = true
						ids[attribute(e, "Id")] = true
					})
					if of == "." {
						continue
					}
					elements(t, of, parts[of], func(e xml.StartElement) {
						for _, a := range e.Attr {
							if a.Name.Space == relationSpace && !ids[a.Value] {
								t.Errorf("%s: %s names the relation %s, which it has not", name, of, a.Value)
							}
						}
					})
				}
			}
			for n, part := range parts {
				if strings.HasSuffix(n, ".rels") || n == "[Content_Types].xml" {
					continue
				}
				if !reached[n] {
					t.Errorf("%s: nothing leads to %s", name, n)
				}
				if strings.HasSuffix(n, ".xml") && !types[n] {
					t.Errorf("%s: %s has no content type", name, n)
				}
				if strings.Contains(n, "/slides/") {
					seen := map[string]bool{}
					elements(t, n, part, func(e xml.StartElement) {
						if e.Name.Local != "cNvPr" {
							return
						}
						if id := attribute(e, "id"); seen[id] {
							t.Errorf("%s: %s has two shapes with the id %s", name, n, id)
						} else {
							seen[id] = true
						}
					})
				}
			}
			if format == "docx" {
				usesWhatIsDefined(t, name, parts)
			}
		}
	}
}

func usesWhatIsDefined(t *testing.T, name string, parts map[string]string) {
	styles, lists := map[string]bool{}, map[string]bool{}
	elements(t, name, parts["word/styles.xml"], func(e xml.StartElement) {
		if e.Name.Local == "style" {
			styles[attribute(e, "styleId")] = true
		}
	})
	elements(t, name, parts["word/numbering.xml"], func(e xml.StartElement) {
		if e.Name.Local == "num" {
			lists[attribute(e, "numId")] = true
		}
	})
	for _, part := range []string{"word/document.xml", "word/header1.xml", "word/footer1.xml", "word/styles.xml", "word/numbering.xml"} {
		elements(t, name, parts[part], func(e xml.StartElement) {
			switch e.Name.Local {
			case "pStyle", "rStyle", "tblStyle", "basedOn", "next":
				if v := attribute(e, "val"); !styles[v] {
					t.Errorf("%s: %s uses the style %s, which is not defined", name, part, v)
				}
			case "numId":
				if v := attribute(e, "val"); !lists[v] {
					t.Errorf("%s: %s uses the list %s, which is not defined", name, part, v)
				}
			}
		})
	}
}

// TestSameBytes holds that a document makes the same file at every run, with no
// time in it.
func TestSameBytes(t *testing.T) {
	for name, d := range samples(t) {
		for format := range formats {
			first := written(t, format, d, ooxml.Options{})
			if !bytes.Equal(first, written(t, format, d, ooxml.Options{})) {
				t.Errorf("%s.%s differs from run to run", name, format)
			}
			z, err := zip.NewReader(bytes.NewReader(first), int64(len(first)))
			if err != nil {
				t.Fatal(err)
			}
			if z.File[0].Name != "[Content_Types].xml" {
				t.Errorf("%s.%s begins with %s", name, format, z.File[0].Name)
			}
			for _, f := range z.File {
				if year := f.Modified.Year(); year > 1980 {
					t.Errorf("%s.%s: %s is of %d", name, format, f.Name, year)
				}
			}
		}
	}
}

// TestProperties holds that the title and the language stand in the file.
func TestProperties(t *testing.T) {
	for _, tt := range []struct {
		d    *document.Document
		want []string
	}{
		{&document.Document{}, []string{"<dc:title>Working</dc:title>", "<dc:language>en</dc:language>"}},
		{&document.Document{Title: prose("A & B"), Language: "de"}, []string{"<dc:title>A &amp; B</dc:title>", "<dc:language>de</dc:language>"}},
		{&document.Document{Blocks: []document.Block{document.Heading{Text: prose("A heading")}}}, []string{"<dc:title>A heading</dc:title>"}},
		{&document.Document{Language: " \x01"}, []string{"<dc:language>en</dc:language>"}},
	} {
		for format := range formats {
			got := opened(t, written(t, format, tt.d, ooxml.Options{}))["docProps/core.xml"]
			for _, want := range tt.want {
				if !strings.Contains(got, want) {
					t.Errorf("%s: no %s in %s", format, want, got)
				}
			}
		}
	}
	// Spelling is checked in a language of a country.
	for paper, want := range map[ooxml.Paper]string{ooxml.A4: `<w:lang w:val="en-GB"/>`, ooxml.Letter: `<w:lang w:val="en-US"/>`} {
		if got := opened(t, written(t, "docx", &document.Document{}, ooxml.Options{Paper: paper}))["word/styles.xml"]; !strings.Contains(got, want) {
			t.Errorf("paper %d: no %s in the styles", paper, want)
		}
	}
}

func TestRefusals(t *testing.T) {
	for format, write := range formats {
		var b bytes.Buffer
		if err := write(&b, nil, ooxml.Options{}); !errors.Is(err, ooxml.ErrNoDocument) || b.Len() > 0 {
			t.Errorf("%s of nothing: error %v, %d bytes", format, err, b.Len())
		}
		var space *ooxml.SpaceError
		err := write(&b, &document.Document{Blocks: []document.Block{document.Break{}, document.Space{Lines: 1 << 40}}}, ooxml.Options{})
		if !errors.As(err, &space) || space.Block != 1 || b.Len() > 0 || !strings.Contains(err.Error(), "block 2") {
			t.Errorf("%s of a space without end: error %v, %d bytes", format, err, b.Len())
		}
		full := errors.New("full")
		if err := write(failing{full}, worked(t, questions[0]), ooxml.Options{}); !errors.Is(err, full) {
			t.Errorf("%s: the writer's error is %v", format, err)
		}
	}
}

type failing struct{ err error }

func (f failing) Write([]byte) (int, error) { return 0, f.err }

// names of the parts that match a pattern, in their order.
func names(parts map[string]string, pattern string) []string {
	var out []string
	for n := range parts {
		if ok, _ := path.Match(pattern, n); ok {
			out = append(out, n)
		}
	}
	slices.SortFunc(out, func(a, b string) int {
		if len(a) != len(b) {
			return len(a) - len(b)
		}
		return strings.Compare(a, b)
	})
	return out
}
