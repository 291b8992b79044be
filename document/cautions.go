package document

import (
	"slices"
	"strings"

	"halves/caution"
	"halves/reference"
)

// cautions writes what to beware of: what keeps an equation on paper, or the
// hazards of its substances, always with what the rows are worth.
func (d layout) cautions(a caution.Advice) {
	d.add(Heading{Level: 1, Text: Plain("Cautions")})
	if a.PaperOnly {
		d.add(Paragraph{Plain("On paper only. This is not to be tried.")})
	}
	var items []Inline
	for _, r := range a.Reasons {
		if a.PaperOnly && r.If != "" {
			continue // what is certain is reason enough
		}
		text := sentence(r.What)
		if r.If != "" {
			text = strings.TrimSuffix(sentence(r.If), ".") + ": " + r.What
		}
		items = append(items, d.prose(strings.TrimSuffix(text, ".")+" ("+string(r.Severity)+"). "+r.How+" "+sentence(r.Advice)))
	}
	for _, g := range a.Gases {
		items = append(items, d.prose(strings.TrimSpace(g.Sentence+" "+sentence(g.Advice))))
	}
	for _, e := range a.Hazards {
		if !classified(e) {
			continue // water, for one
		}
		items = append(items, d.hazard(e))
	}
	for _, s := range a.Missing {
		items = append(items, Join(d.species(s), Plain(": "+caution.NoData)))
	}
	if items != nil {
		d.add(List{items})
	}
	d.add(Note{Plain(a.Basis)}, Note{Plain(a.Deferral)})
}

// classified reports whether a row of an entry has a hazard.
func classified(e caution.Entry) bool {
	return slices.ContainsFunc(e.Rows, func(r caution.Row) bool { return len(r.H) > 0 })
}

// hazard writes the rows of one species in a line.
func (d layout) hazard(e caution.Entry) Inline {
	out := Join(d.species(e.Species), Plain(": "))
	for i, r := range e.Rows {
		if i > 0 {
			out = append(out, Span{Prose: "; "})
		}
		parts := []string{r.Name + ", " + r.Form + ":"}
		if len(r.H) == 0 {
			parts = append(parts, "usually not classified")
		}
		for j, code := range r.H {
			text, ok := reference.Statement(code)
			if !ok {
				text = code
			}
			if j < len(r.H)-1 {
				text += ","
			}
			parts = append(parts, strings.ToLower(text[:1])+text[1:])
		}
		out = Join(out, d.prose(strings.Join(parts, " ")))
		if r.Control != "" {
			out = Join(out, d.prose(" ("+r.Control+")"))
		}
	}
	return append(out, Span{Prose: "."})
}

// sentence gives a sentence its capital, unless it begins with a formula, and
// its full stop.
func sentence(s string) string {
	s = strings.TrimSpace(s)
	if s == "" {
		return ""
	}
	if first, _, _ := strings.Cut(s, " "); !strings.ContainsAny(first, "0123456789^") {
		s = strings.ToUpper(s[:1]) + s[1:]
	}
	return strings.TrimSuffix(s, ".") + "."
}
