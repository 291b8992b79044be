package document

import (
	"halves/chem"
	"halves/redox"
)

// FromReport lays out what an error brings with it: the worked half where only
// one is there, or the several answers. It returns nil where there is nothing
// of the kind. The message itself is not in it.
func FromReport(r redox.Report, c redox.Conventions) *Document {
	d := newLayout(c)
	way := func(e chem.Equation) {
		if text := wayTaken(r.Steps, e, c); text != nil {
			d.add(Note{text})
		}
	}
	switch {
	case len(r.Halves) > 0:
		var items []Inline
		for _, h := range r.Halves {
			items = append(items, d.question(h.Skeleton, redox.Unstated))
		}
		d.Title = Join(Series(items), MediumPhrase(r.Medium))
		way(chem.Equation{})
		var changes []Inline
		for _, h := range r.Halves {
			for _, x := range h.Changes {
				changes = append(changes, d.change(x))
			}
		}
		if changes != nil {
			d.add(List{changes})
		}
		d.steps(r.Steps, r.Halves)
		what := "The " + string(r.Halves[0].Role) + " half"
		if len(r.Halves) > 1 {
			what = "The " + string(r.Halves[0].Role) + " halves"
		}
		d.add(Heading{Level: 1, Text: Plain(what)})
		for _, h := range r.Halves {
			d.add(d.answer(h.Equation))
		}
	case len(r.Answers) > 0:
		d.Title = Plain("Many answers")
		way(r.Answers[0])
		lead := "Each of these balances by itself, and so does any sum of them:"
		if !r.All {
			lead = "Each of these balances by itself, and so does any sum of them; there are more:"
		}
		d.add(Paragraph{Plain(lead)})
		var items []Inline
		for _, e := range r.Answers {
			items = append(items, equation(e, c.Style(), c.Names))
		}
		d.add(List{items})
		if len(r.Example.Left) > 0 {
			d.add(Paragraph{Plain("One of the many that use every species:")}, d.answer(r.Example))
		}
	default:
		return nil
	}
	return d.Document
}
