package document

import (
	"strconv"
	"strings"
)

// A line of underscores is a rule across the page in CommonMark (4.1), and looks
// like one where the source is read.
const markdownRule = "____________________________________________________________\n"

// head writes what stands at the head of the pages, once.
func (m *markdownWriter) head(r Running) {
	var parts []Inline
	for _, s := range [...]string{r.Left, r.Right} {
		if strings.TrimSpace(s) != "" {
			parts = append(parts, Plain(s))
		}
	}
	switch len(parts) {
	case 1:
		m.line("", parts[0], "")
	case 2:
		m.line("", Join(parts[0], Plain(" · "), parts[1]), "")
	}
}

// foot writes what stands at the foot of the pages, once.
func (m *markdownWriter) foot(r Running) {
	if strings.TrimSpace(r.Foot) != "" {
		m.line("", Plain(r.Foot), "")
	}
}

// exercise writes a heading, which takes one from exercise to exercise, and the
// question under it.
func (m *markdownWriter) exercise(e Exercise) {
	head := "Question " + strconv.Itoa(e.Number)
	if strings.TrimSpace(e.Marks) != "" {
		head += " (" + e.Marks + ")"
	}
	m.line("## ", Plain(head), "")
	if len(e.Text) > 0 {
		m.line("", e.Text, "")
	}
}

// choices writes a list with letters: the lists of Markdown have numbers alone.
func (m *markdownWriter) choices(c Choices) {
	m.gap()
	for i, x := range c.Items {
		m.tag("- ")
		text := Join(Plain(Letter(i)+". "), x.Text)
		if x.Right {
			m.strong(Join(text, Plain(" ("+rightSaid+")")), false)
		} else {
			m.inline(text)
		}
		m.tag("\n")
		if x.Note != nil {
			m.tag("\n  ")
			m.inline(x.Note)
			m.tag("\n")
		}
	}
}

func (m *markdownWriter) space(s Space) {
	if len(s.Label) > 0 {
		m.line("", s.Label, "")
	}
	for range max(s.Lines, 1) {
		m.gap()
		m.tag(markdownRule)
	}
}

// fields writes rules of underscores: between spaces they mean themselves.
func (m *markdownWriter) fields(f Fields) {
	m.gap()
	for i, label := range f.Labels {
		if i > 0 {
			m.tag(" ")
		}
		m.write(Plain(label), i == 0)
		m.tag(" ________________")
	}
	m.tag("\n")
}

// said writes what is said on a slide, behind what is seen.
func (m *markdownWriter) said() {
	if len(m.notes) == 0 {
		return
	}
	m.gap()
	m.tag("> *" + notesSaid + "*\n")
	for _, note := range m.notes {
		m.tag(">\n> ")
		m.inline(note)
		m.tag("\n")
	}
	m.notes = nil
}
