package document

import (
	"bytes"
	"io"
	"strings"
	"unicode"
	"unicode/utf8"
)

// Markdown writes d in CommonMark with the pipe tables of GitHub's
// specification. The error is that of w.
//
// Formulas are plain characters with real sub- and superscripts (MnO₄⁻): these
// are seen alike where HTML tags are taken out or shown as they stand (chats,
// forums, learning platforms, a reader of the source), and can be copied from
// anywhere.
func Markdown(w io.Writer, d *Document) error {
	m := &markdownWriter{b: make([]byte, 0, 16<<10)}
	m.head(d.Running)
	if d.Title != nil {
		m.line("# ", d.Title, "")
	}
	for i := 0; i < len(d.Blocks); {
		if n := equationsAt(d.Blocks[i:]); n > 0 {
			for _, b := range d.Blocks[i : i+n] {
				m.equation(b.(Equation))
			}
			i += n
			continue
		}
		b := d.Blocks[i]
		i++
		if closes(b) {
			m.said()
		}
		m.block(b)
	}
	m.said()
	m.foot(d.Running)
	_, err := w.Write(m.b)
	return err
}

type markdownWriter struct {
	b     []byte
	notes []Inline // of the slide, still to be written
}

func (m *markdownWriter) tag(s string) { m.b = append(m.b, s...) }

// gap writes the blank line between two blocks.
func (m *markdownWriter) gap() {
	if len(m.b) > 0 {
		m.tag("\n")
	}
}

// line writes a block of one line between two marks.
func (m *markdownWriter) line(before string, text Inline, after string) {
	m.gap()
	m.tag(before)
	m.inline(text)
	m.tag(after)
	m.tag("\n")
}

func (m *markdownWriter) block(b Block) {
	switch b := b.(type) {
	case Heading:
		m.line(strings.Repeat("#", min(max(b.Level, 1)+1, 6))+" ", b.Text, "")
	case Paragraph:
		m.line("", b.Text, "")
	case Note:
		m.line("", b.Text, "")
	case List:
		m.gap()
		for _, item := range b.Items {
			m.tag("- ")
			m.inline(item)
			m.tag("\n")
		}
	case Figure:
		for _, x := range b.blocks() {
			m.block(x)
		}
	case Table:
		m.table(b)
	case Equation:
		m.line("> **", Inline{{Formula: b.Line}}, "**")
	case Exercise:
		m.exercise(b)
	case Choices:
		m.choices(b)
	case Space:
		m.space(b)
	case Fields:
		m.fields(b)
	case Break:
		m.gap()
		m.tag("***\n") // hyphens at the head of a file are taken for something else
	case Slide:
		m.line("## ", b.Title, "")
		m.notes = b.Notes
	}
}

// equation writes a step: what is done and why, and under it, as a quotation,
// the line with its ledger.
func (m *markdownWriter) equation(e Equation) {
	if len(e.Label)+len(e.Reason) > 0 {
		m.gap()
		if len(e.Label) > 0 {
			m.strong(e.Label, len(e.Reason) > 0)
		}
		m.inline(e.Reason)
		m.tag("\n")
	}
	if e.Line == nil {
		return
	}
	if e.Fresh {
		m.line("> **", Inline{{Formula: e.Line}}, "**")
	} else {
		m.line("> ", Inline{{Formula: e.Line}}, "")
	}
	for i, x := range e.Ledger {
		if i == 0 {
			m.tag(">\n> ")
		} else {
			m.tag(", ")
		}
		left, right := sides(x)
		sign := " = "
		if !x.Closed() {
			sign = " ≠ "
		}
		m.text(x.Law.String(), false)
		m.tag(noBreak + left + strings.ReplaceAll(sign, " ", noBreak) + right)
	}
	if len(e.Ledger) > 0 {
		m.tag("\n")
	}
}

// strong writes a label, which must not begin or end in a space to be one.
func (m *markdownWriter) strong(text Inline, colon bool) {
	m.tag("**")
	start := len(m.b)
	m.inline(text)
	m.b = bytes.TrimRightFunc(m.b, unicode.IsSpace)
	switch {
	case len(m.b) <= start:
		m.b = m.b[:start-len("**")]
	case colon:
		m.tag(":** ")
	default:
		m.tag("**")
	}
}

func (m *markdownWriter) table(t Table) {
	m.gap()
	line := func(cells []Inline) {
		m.tag("|")
		for _, c := range cells {
			m.tag(" ")
			m.write(c, false)
			m.tag(" |")
		}
		m.tag("\n")
	}
	line(t.Head)
	m.tag("|")
	for _, right := range t.Right {
		if right {
			m.tag(" ---: |")
		} else {
			m.tag(" --- |")
		}
	}
	m.tag("\n")
	for _, r := range t.Rows {
		line(r)
	}
}

// inline writes a line that a block may begin with.
func (m *markdownWriter) inline(text Inline) { m.write(text, true) }

func (m *markdownWriter) write(text Inline, first bool) {
	for _, s := range text {
		for _, part := range [...]string{s.Prose, signsOf(s.Formula)} {
			if first {
				part = strings.TrimLeftFunc(part, unicode.IsSpace)
			}
			if part != "" {
				m.text(part, first)
				first = false
			}
		}
	}
}

// text writes characters that mean themselves. first tells that a block may
// begin with them.
func (m *markdownWriter) text(s string, first bool) {
	if first {
		// A number with a stop begins a list.
		if i := strings.IndexFunc(s, func(r rune) bool { return r < '0' || r > '9' }); i > 0 && (s[i] == '.' || s[i] == ')') {
			m.tag(s[:i] + `\`)
			s = s[i:]
			m.tag(s[:1])
			s = s[1:]
		} else if s != "" && strings.IndexByte("+-=", s[0]) >= 0 {
			m.tag(`\`)
		}
	}
	for i, r := range s {
		switch {
		case r < utf8.RuneSelf && strings.ContainsRune("\\`*_{}[]<>#|~&$@^!", r):
			m.b = append(m.b, '\\', byte(r))
		case r == ':' && i+1 < len(s) && s[i+1] != ' ':
			m.tag(`\:`) // else https: is a link, and :name: a picture
		case r == '.' && i >= 3 && strings.EqualFold(s[i-3:i], "www"):
			m.tag(`\.`)
		case r == '\n' || r == '\r' || r == '\t':
			m.tag(" ")
		case r == utf8.RuneError || isControl(r):
			m.tag("\uFFFD")
		default:
			m.b = utf8.AppendRune(m.b, r)
		}
	}
}
