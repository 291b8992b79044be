package qti

import (
	"strings"

	"halves/chem"
	"halves/document"
)

// paragraph writes a line as a paragraph, if there is anything in it.
func (w *writer) paragraph(text document.Inline) {
	if plain(text) == "" {
		return
	}
	w.open("p")
	w.inline(text)
	w.close()
}

// inline writes a line of prose and formulas.
func (w *writer) inline(text document.Inline) {
	for _, s := range text {
		switch {
		case len(s.Formula) > 0:
			w.said(s.Spoken, func() { w.formula(s.Formula) })
		case s.Spoken != "" && s.Spoken != s.Prose && !isBlank(s.Prose):
			before, changed, said, after := change(s.Prose, s.Spoken)
			w.text(before)
			w.said(said, func() { w.text(changed) })
			w.text(after)
		default:
			w.text(s.Prose)
		}
	}
}

// said writes what is seen, under a label that is said instead; one without words is none.
func (w *writer) said(label string, seen func()) {
	if isBlank(label) {
		seen()
		return
	}
	// The role img is the one that takes a label and hides what is inside it.
	w.open("span", "role", "img", "aria-label", label)
	seen()
	w.close()
}

func (w *writer) formula(runs []chem.Run) {
	for _, r := range runs {
		switch r.Level {
		case chem.Subscript:
			w.leaf("sub", minus.Replace(r.Text))
		case chem.Superscript:
			w.leaf("sup", minus.Replace(r.Text))
		case chem.Variable:
			w.leaf("var", r.Text)
		default:
			w.text(signs.Replace(r.Text))
		}
	}
}

// What canonical text writes in ASCII; see chem.Run.
var (
	minus = strings.NewReplacer("-", "−")
	signs = strings.NewReplacer("->", "⟶", ".", "·", "-", "−")
)

// change finds the words of prose that are said in other words, so that the
// rest is read as text: of "from +2 to +3, as told" said "from plus 2 to plus 3,
// as told" it returns "from ", "+2 to +3,", "plus 2 to plus 3,", " as told".
func change(prose, spoken string) (before, changed, said, after string) {
	from := 0
	for i := 0; i < min(len(prose), len(spoken)) && prose[i] == spoken[i]; i++ {
		if prose[i] == ' ' {
			from = i + 1
		}
	}
	p, s := prose[from:], spoken[from:]
	tail := 0
	for i := 1; i <= min(len(p), len(s)) && p[len(p)-i] == s[len(s)-i]; i++ {
		if p[len(p)-i] == ' ' {
			tail = i
		}
	}
	changed, said = p[:len(p)-tail], s[:len(s)-tail]
	if isBlank(changed) || isBlank(said) {
		return "", prose, spoken, "" // words were added or left out
	}
	return prose[:from], changed, said, p[len(p)-tail:]
}
