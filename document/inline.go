package document

import (
	"strings"

	"halves/chem"
)

// A Span is a piece of a line: prose or a formula, never both.
type Span struct {
	Prose   string     // minus signs are U+2212; U+00A0 keeps two words on one line
	Formula []chem.Run // a formula or an equation
}

// An Inline is a line of prose and formulas.
type Inline []Span

// plain makes a text of prose that holds no formulas.
func plain(s string) Inline { return Inline{{Prose: s}} }

// formula makes a text of one formula or equation.
func formula(runs []chem.Run) Inline { return Inline{{Formula: runs}} }

// join strings texts together.
func join(parts ...Inline) Inline {
	var out Inline
	for _, p := range parts {
		out = append(out, p...)
	}
	return out
}

// list names things in a sentence: a, b and c.
func list(items []Inline) Inline {
	var out Inline
	for i, t := range items {
		switch {
		case i == 0:
		case i == len(items)-1:
			out = append(out, Span{Prose: " and "})
		default:
			out = append(out, Span{Prose: ", "})
		}
		out = append(out, t...)
	}
	return out
}

// noBreak keeps the words on its sides on one line.
const noBreak = "\u00a0"

// Prose makes a text of a sentence of the engine, in which formulas stand in
// canonical plain text. A word is taken for a formula if it has a digit or a
// caret and chem prints what it reads there as the same word.
func Prose(s string) Inline {
	var out Inline
	var prose strings.Builder
	flush := func() {
		if prose.Len() > 0 {
			out = append(out, Span{Prose: prose.String()})
			prose.Reset()
		}
	}
	number := false // the last word was a number
	for i, w := range strings.Split(s, " ") {
		before, core, after := punctuation(w)
		runs := wordRuns(core)
		if i > 0 {
			if number && runs != nil && before == "" {
				prose.WriteString(noBreak)
			} else {
				prose.WriteByte(' ')
			}
		}
		number = w != "" && strings.Trim(w, "0123456789") == ""
		if runs == nil {
			prose.WriteString(w)
			continue
		}
		prose.WriteString(before)
		flush()
		out = append(out, Span{Formula: runs})
		prose.WriteString(after)
	}
	flush()
	return out
}

// punctuation parts a word from the signs before and after it. Brackets belong
// to the word where it has both.
func punctuation(w string) (before, core, after string) {
	core = strings.TrimRight(w, ".,;:?!\"")
	for strings.HasSuffix(core, ")") && strings.Count(core, ")") > strings.Count(core, "(") {
		core = core[:len(core)-1]
	}
	if strings.HasPrefix(core, "(") && strings.HasSuffix(core, ")") && strings.Count(core, "(") == 1 {
		return "(", core[1 : len(core)-1], ")" + w[len(core):]
	}
	after = w[len(core):]
	for strings.HasPrefix(core, "\"") || strings.HasPrefix(core, "(") && strings.Count(core, "(") > strings.Count(core, ")") {
		before, core = before+core[:1], core[1:]
	}
	return before, core, after
}

// wordRuns returns the runs of a word that is a formula or an arrow, nil for
// any other.
func wordRuns(w string) []chem.Run {
	if w == "->" {
		return []chem.Run{{Text: w}}
	}
	if len(w) < 2 || len(w) > 200 || !strings.ContainsAny(w, "0123456789^") {
		return nil
	}
	if c := w[0]; (c < 'A' || c > 'Z') && strings.IndexByte("([{", c) < 0 && w != "e^-" {
		return nil
	}
	readings, err := chem.ReadSpecies(w, nil)
	if err != nil {
		return nil
	}
	for _, r := range readings {
		if r.Species.String() == w {
			return r.Species.Runs()
		}
	}
	return nil
}
