package document

import (
	"halves/chem"
	"halves/redox"
)

// FromReport lays out what an error brings with it: the worked half where only
// one is there, or the several answers. It returns nil where there is nothing
// of the kind. The message itself is not in it.
func FromReport(r redox.Report, c redox.Conventions) *Document {
	style := chem.Style{Phases: c.Phases, Ones: c.Ones, Equals: c.Equals}
	d := &Document{}
	switch {
	case len(r.Halves) > 0:
		var items []Inline
		for _, h := range r.Halves {
			items = append(items, question(h.Skeleton, redox.Unstated, style))
		}
		d.Title = join(list(items), plain(mediumPhrase(r.Medium)))
		var changes []Inline
		for _, h := range r.Halves {
			for _, x := range h.Changes {
				changes = append(changes, change(x))
			}
		}
		if changes != nil {
			d.add(List{changes})
		}
		d.steps(r.Steps, r.Halves, style)
		if len(r.Halves) == 1 {
			d.add(Heading{1, plain("The " + string(r.Halves[0].Role) + " half")})
		} else {
			d.add(Heading{1, plain("The " + string(r.Halves[0].Role) + " halves")})
		}
		for _, h := range r.Halves {
			d.add(Equation{Line: h.Equation.Runs(style), Final: true})
		}
	case len(r.Answers) > 0:
		d.Title = plain("Many answers")
		lead := "Each of these balances by itself, and so does any sum of them:"
		if !r.All {
			lead = "Each of these balances by itself, and so does any sum of them; there are more:"
		}
		d.add(Paragraph{plain(lead)})
		var items []Inline
		for _, e := range r.Answers {
			items = append(items, formula(e.Runs(style)))
		}
		d.add(List{items})
		if len(r.Example.Left) > 0 {
			d.add(Paragraph{plain("One of the many that use every species:")}, Equation{Line: r.Example.Runs(style), Final: true})
		}
	default:
		return nil
	}
	return d
}
