package ooxml

import (
	"archive/zip"
	"io"
	"path"
	"strings"
)

// A part is a file of a package (ISO/IEC 29500-2, Open Packaging Conventions).
type part struct {
	name    string // with its folders, without a slash before them; "" is the package itself
	content string // its content type; "" where the extension tells it
	data    []byte
	refers  []relation
}

// A relation is how one part refers to another.
type relation struct {
	kind   string // the last word of the type: "styles"
	target string // the name of the other part
}

const (
	office        = "http://schemas.openxmlformats.org/officeDocument/2006/relationships/"
	coreKind      = "http://schemas.openxmlformats.org/package/2006/relationships/metadata/core-properties"
	typesSpace    = "http://schemas.openxmlformats.org/package/2006/content-types"
	relationSpace = "http://schemas.openxmlformats.org/package/2006/relationships"
	wordType      = "application/vnd.openxmlformats-officedocument.wordprocessingml."
	slideType     = "application/vnd.openxmlformats-officedocument.presentationml."
	themeType     = "application/vnd.openxmlformats-officedocument.theme+xml"
	coreType      = "application/vnd.openxmlformats-package.core-properties+xml"
)

// id is what the n-th relation of a part is called in it, from 0.
func id(n int) string {
	var m markup
	m.tag("rId")
	m.number(n + 1)
	return string(m)
}

// writePackage writes parts as a ZIP archive, first the list of their types,
// each part before its relations. The files have no time: the output is the same
// at every run.
func writePackage(w io.Writer, parts []part) error {
	z := zip.NewWriter(w)
	write := func(name string, data []byte) error {
		f, err := z.CreateHeader(&zip.FileHeader{Name: name, Method: zip.Deflate})
		if err == nil {
			_, err = f.Write(data)
		}
		return err
	}
	if err := write("[Content_Types].xml", contentTypes(parts)); err != nil {
		return err
	}
	for _, p := range parts {
		if p.name != "" {
			if err := write(p.name, p.data); err != nil {
				return err
			}
		}
		if len(p.refers) > 0 {
			dir, file := path.Split(p.name)
			if err := write(dir+"_rels/"+file+".rels", relations(p)); err != nil {
				return err
			}
		}
	}
	return z.Close()
}

func contentTypes(parts []part) []byte {
	var m markup
	m.tag(declaration, `<Types xmlns="`, typesSpace, `"><Default Extension="rels" ContentType="application/vnd.openxmlformats-package.relationships+xml"/><Default Extension="xml" ContentType="application/xml"/><Default Extension="emf" ContentType="image/x-emf"/>`)
	for _, p := range parts {
		if p.content != "" {
			m.tag(`<Override PartName="/`, p.name, `" ContentType="`, p.content, `"/>`)
		}
	}
	m.tag("</Types>")
	return m
}

func relations(p part) []byte {
	var m markup
	m.tag(declaration, `<Relationships xmlns="`, relationSpace, `">`)
	for i, r := range p.refers {
		kind := office + r.kind
		if r.kind == "core-properties" {
			kind = coreKind
		}
		m.tag(`<Relationship Id="`, id(i), `" Type="`, kind, `" Target="`, relative(p.name, r.target), `"/>`)
	}
	m.tag("</Relationships>")
	return m
}

// relative is how a part names another from its own folder.
func relative(from, to string) string {
	dir, _ := path.Split(from)
	up := ""
	for dir != "" && !strings.HasPrefix(to, dir) {
		dir, _ = path.Split(strings.TrimSuffix(dir, "/"))
		up += "../"
	}
	return up + strings.TrimPrefix(to, dir)
}

// coreProperties are the title and the language. There is no date, since the
// same document makes the same file, and no author, who is whoever hands it out.
func coreProperties(title, language string) part {
	var m markup
	m.tag(declaration, `<cp:coreProperties xmlns:cp="http://schemas.openxmlformats.org/package/2006/metadata/core-properties" xmlns:dc="http://purl.org/dc/elements/1.1/"><dc:title>`)
	m.text(title)
	m.tag(`</dc:title><dc:language>`)
	m.text(language)
	m.tag(`</dc:language></cp:coreProperties>`)
	return part{name: "docProps/core.xml", content: coreType, data: m}
}
