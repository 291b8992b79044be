package qti_test

import (
	"archive/zip"
	"bytes"
	"encoding/xml"
	"fmt"
	"io"
	"strings"

	"halves/qti"
)

// A node is an element read back. Names and attributes of QTI 3.0 are turned
// into those of QTI 2.2: qti-response-if is responseIf.
type node struct {
	space, name string
	written     string // the name as it stands in the file
	attributes  map[string]string
	kids        []*node
	text        string // of a piece of text, which has no name
}

// A file is one of those in a package, read back.
type file struct {
	path string
	raw  []byte
	root *node
}

// unpacked reads a package back, in the order of its files.
func unpacked(packed []byte) ([]file, error) {
	z, err := zip.NewReader(bytes.NewReader(packed), int64(len(packed)))
	if err != nil {
		return nil, err
	}
	var files []file
	for _, f := range z.File {
		r, err := f.Open()
		if err != nil {
			return nil, err
		}
		raw, err := io.ReadAll(r)
		r.Close()
		if err != nil {
			return nil, err
		}
		root, err := readTree(raw)
		if err != nil {
			return nil, fmt.Errorf("%s: %w\n%s", f.Name, err, raw)
		}
		files = append(files, file{f.Name, raw, root})
	}
	return files, nil
}

// itemsOf returns the items of a set as they are read back from its package.
func itemsOf(write func(io.Writer, qti.Set) error, s qti.Set) ([]*node, error) {
	var b bytes.Buffer
	if err := write(&b, s); err != nil {
		return nil, err
	}
	files, err := unpacked(b.Bytes())
	if err != nil {
		return nil, err
	}
	var items []*node
	for _, f := range files {
		if f.root.name == "assessmentItem" {
			items = append(items, f.root)
		}
	}
	return items, nil
}

func readTree(raw []byte) (*node, error) {
	d := xml.NewDecoder(bytes.NewReader(raw))
	top := &node{}
	path := []*node{top}
	for {
		token, err := d.Token()
		if err == io.EOF {
			if roots := top.elements(); len(roots) == 1 {
				return roots[0], nil
			}
			return nil, fmt.Errorf("not one root")
		}
		if err != nil {
			return nil, err
		}
		at := path[len(path)-1]
		switch x := token.(type) {
		case xml.StartElement:
			n := &node{space: x.Name.Space, name: camel(strings.TrimPrefix(x.Name.Local, "qti-")), written: x.Name.Local, attributes: map[string]string{}}
			for _, a := range x.Attr {
				name := a.Name.Local
				if !strings.HasPrefix(name, "aria-") {
					name = camel(name)
				}
				if _, twice := n.attributes[name]; twice {
					return nil, fmt.Errorf("%s has two attributes %s", n.written, name)
				}
				n.attributes[name] = a.Value
			}
			at.kids = append(at.kids, n)
			path = append(path, n)
		case xml.EndElement:
			path = path[:len(path)-1]
		case xml.CharData:
			at.kids = append(at.kids, &node{text: string(x)})
		}
	}
}

func camel(name string) string {
	parts := strings.Split(name, "-")
	for i := 1; i < len(parts); i++ {
		parts[i] = strings.ToUpper(parts[i][:1]) + parts[i][1:]
	}
	return strings.Join(parts, "")
}

// all returns the elements of a name at or below n, in their order.
func (n *node) all(name string) []*node {
	var found []*node
	n.walk(func(m *node) {
		if m.name == name {
			found = append(found, m)
		}
	})
	return found
}

// walk visits n and every element below it.
func (n *node) walk(visit func(*node)) {
	visit(n)
	for _, k := range n.elements() {
		k.walk(visit)
	}
}

// elements returns the children that are elements.
func (n *node) elements() []*node {
	var kids []*node
	for _, k := range n.kids {
		if k.name != "" {
			kids = append(kids, k)
		}
	}
	return kids
}

// content returns the characters below n.
func (n *node) content() string {
	var b strings.Builder
	b.WriteString(n.text)
	for _, k := range n.kids {
		b.WriteString(k.content())
	}
	return b.String()
}

// canonical returns the characters below n in the plain text of chem: a caret
// before what is raised, ASCII signs.
func (n *node) canonical() string {
	var b strings.Builder
	if n.name == "sup" {
		b.WriteByte('^')
	}
	b.WriteString(strings.NewReplacer("⟶", "->", "−", "-", "·", ".").Replace(n.text))
	for _, k := range n.kids {
		b.WriteString(k.canonical())
	}
	return b.String()
}
