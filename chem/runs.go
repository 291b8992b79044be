package chem

import "strings"

// A Level is the height at which a run of text stands.
type Level uint8

// The levels of a run.
const (
	Normal Level = iota
	Subscript
	Superscript
	Variable // at normal height, slanted: an unknown of algebra
)

// A Run is a piece of text at one level. Every written form of a formula
// (terminal, HTML, LaTeX, speech) is made from runs.
//
// The text of runs is canonical ASCII: "-" is a minus sign, " -> " is the arrow,
// "." at Normal level joins the parts of a hydrate.
type Run struct {
	Text  string `json:"text"`
	Level Level  `json:"level"`
}

// appendRun appends text, joining it to the last run where the level is the same.
func appendRun(r []Run, text string, level Level) []Run {
	if n := len(r); n > 0 && r[n-1].Level == level && r[n-1].Text != " + " && r[n-1].Text != " -> " && r[n-1].Text != " = " {
		r[n-1].Text += text
		return r
	}
	return append(r, Run{Text: text, Level: level})
}

// PlainText returns canonical ASCII text: subscripts as plain digits, a caret
// before each superscript.
func PlainText(runs []Run) string {
	var b strings.Builder
	for _, r := range runs {
		if r.Level == Superscript {
			b.WriteByte('^')
		}
		b.WriteString(r.Text)
	}
	return b.String()
}

var (
	subscripts   = strings.NewReplacer("0", "₀", "1", "₁", "2", "₂", "3", "₃", "4", "₄", "5", "₅", "6", "₆", "7", "₇", "8", "₈", "9", "₉")
	superscripts = strings.NewReplacer("0", "⁰", "1", "¹", "2", "²", "3", "³", "4", "⁴", "5", "⁵", "6", "⁶", "7", "⁷", "8", "⁸", "9", "⁹", "+", "⁺", "-", "⁻")
	signs        = strings.NewReplacer("->", "⟶", ".", "·", "-", "−")
)

// UnicodeText returns text with real sub- and superscript characters, a raised
// dot in hydrates, an arrow and true minus signs.
func UnicodeText(runs []Run) string {
	var b strings.Builder
	for _, r := range runs {
		switch r.Level {
		case Subscript:
			b.WriteString(subscripts.Replace(r.Text))
		case Superscript:
			b.WriteString(superscripts.Replace(r.Text))
		default:
			b.WriteString(signs.Replace(r.Text))
		}
	}
	return b.String()
}
