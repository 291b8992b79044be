package ooxml

import (
	"strconv"
	"unicode/utf8"
)

// markup is XML while it is written.
type markup []byte

const declaration = `<?xml version="1.0" encoding="UTF-8" standalone="yes"?>` + "\n"

// tag writes markup as it stands.
func (m *markup) tag(parts ...string) {
	for _, s := range parts {
		*m = append(*m, s...)
	}
}

// number writes a whole number.
func (m *markup) number(n int) { *m = strconv.AppendInt(*m, int64(n), 10) }

// attribute writes an attribute with a number, a space before it.
func (m *markup) attribute(name string, n int) {
	m.tag(" ", name, `="`)
	m.number(n)
	m.tag(`"`)
}

// text writes characters, which may stand in an attribute too. What ends a line
// becomes a space; what no format may hold is left out.
func (m *markup) text(s string) {
	for _, r := range s {
		switch {
		case r == '&':
			m.tag("&amp;")
		case r == '<':
			m.tag("&lt;")
		case r == '>':
			m.tag("&gt;")
		case r == '"':
			m.tag("&quot;")
		case r == '\n' || r == '\r' || r == '\t' || r == '\u2028' || r == '\u2029':
			m.tag(" ")
		case isControl(r):
		default:
			*m = utf8.AppendRune(*m, r)
		}
	}
}

// isControl reports characters that mean nothing on paper: controls, the signs
// that turn the direction of writing, and what is no character. XML 1.0 forbids
// some of them.
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
