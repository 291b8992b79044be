package qti

import (
	"strings"
	"unicode/utf8"
)

// A writer appends the elements of one file. Names are given as QTI 2.2 has
// them; it turns them into those of QTI 3.0.
type writer struct {
	version version
	b       []byte
	opened  []string // elements that are not closed yet, the outermost first
}

// file begins a file.
func (w *writer) file() {
	w.b = append(w.b[:0], `<?xml version="1.0" encoding="UTF-8"?>`...)
}

// open opens an element. Attributes are names and values in turn.
func (w *writer) open(name string, attributes ...string) {
	w.start(name, attributes)
	w.b = append(w.b, '>')
	w.opened = append(w.opened, name)
}

// empty writes an element without content.
func (w *writer) empty(name string, attributes ...string) {
	w.start(name, attributes)
	w.b = append(w.b, '/', '>')
}

// close closes the element that was opened last.
func (w *writer) close() {
	last := len(w.opened) - 1
	w.b = append(w.b, '<', '/')
	w.element(w.opened[last])
	w.b = append(w.b, '>')
	w.opened = w.opened[:last]
}

// leaf writes an element that holds text alone.
func (w *writer) leaf(name, text string, attributes ...string) {
	w.open(name, attributes...)
	w.text(text)
	w.close()
}

func (w *writer) text(s string) { w.b = appendText(w.b, s) }

func (w *writer) start(name string, attributes []string) {
	switch name {
	case "span", "sub", "sup", "var", "textEntryInteraction":
		// They stand in running text, where a new line would be a space.
	default:
		w.b = append(w.b, '\n')
	}
	w.b = append(w.b, '<')
	w.element(name)
	for i := 0; i+1 < len(attributes); i += 2 {
		w.b = append(w.b, ' ')
		w.name(attributes[i])
		w.b = append(w.b, '=', '"')
		w.text(attributes[i+1])
		w.b = append(w.b, '"')
	}
}

// element writes the name of an element. Those of XHTML are the same in both
// editions.
func (w *writer) element(name string) {
	switch name {
	case "p", "span", "sub", "sup", "var":
	default:
		if w.version.kebab {
			w.b = append(w.b, "qti-"...)
		}
	}
	w.name(name)
}

func (w *writer) name(name string) {
	for i := range len(name) {
		c := name[i]
		if w.version.kebab && c >= 'A' && c <= 'Z' {
			w.b = append(w.b, '-')
			c += 'a' - 'A'
		}
		w.b = append(w.b, c)
	}
}

// appendText appends s as it stands in an element or an attribute. Control
// characters are dropped, a tab or a new line is a space, a byte that is no UTF-8
// is U+FFFD.
func appendText(b []byte, s string) []byte {
	for i := 0; i < len(s); {
		r, n := utf8.DecodeRuneInString(s[i:])
		switch {
		case r == '&':
			b = append(b, "&amp;"...)
		case r == '<':
			b = append(b, "&lt;"...)
		case r == '>':
			b = append(b, "&gt;"...)
		case r == '"':
			b = append(b, "&quot;"...)
		case r == '\t' || r == '\n' || r == '\r':
			b = append(b, ' ')
		case r == utf8.RuneError && n == 1:
			b = append(b, "\uFFFD"...)
		case isControl(r):
		default:
			b = append(b, s[i:i+n]...)
		}
		i += n
	}
	return b
}

// isBlank reports whether nothing of s is seen in a file.
func isBlank(s string) bool { return strings.TrimSpace(string(appendText(nil, s))) == "" }

// isControl reports characters that are dropped: controls, the signs that turn
// the direction of writing, and what is no character (XML 1.0, 2.2, forbids some
// of them and discourages the others).
func isControl(r rune) bool {
	switch {
	case r < ' ' || r >= 0x7f && r < 0xa0:
		return true
	case r >= 0x202a && r <= 0x202e || r >= 0x2066 && r <= 0x2069:
		return true
	case r >= 0xfdd0 && r <= 0xfdef || r&0xfffe == 0xfffe:
		return true
	}
	return false
}

// identifier turns any text but "" into a name (NCName of Namespaces in XML
// 1.0), different texts into different names: a full stop and two hexadecimal
// digits stand for a byte that has no place in it, and a name that does not begin
// with a letter gets an underscore. So a full stop before any other letter is
// free for names of our own, as week-4.section.
func identifier(id string) string {
	const hex = "0123456789ABCDEF"
	var b strings.Builder
	b.Grow(len(id))
	if !isLetter(id[0]) {
		b.WriteByte('_')
	}
	for i := range len(id) {
		if c := id[i]; isLetter(c) || isDigit(c) || c == '-' || c == '_' {
			b.WriteByte(c)
		} else {
			b.Write([]byte{'.', hex[c>>4], hex[c&15]})
		}
	}
	return b.String()
}
