package web

import (
	"fmt"
	"net/http"
	"slices"
	"strings"

	"halves/chem"
	"halves/document"
	"halves/energetics"
	"halves/redox"
	"halves/reference"
)

// half shows the potential of the half-reaction in ?q=.
func (d couplesDesk) half(r *http.Request) (view, error) {
	settings, err := d.o.Store.Settings(r.Context())
	if err != nil {
		return view{}, err
	}
	p := couplesPage{Mode: "half", Half: strings.TrimSpace(r.FormValue("q"))}
	v := view{page: "couples", here: "couples", title: "Potential of a half-reaction"}
	if p.Half != "" {
		if err := d.potential(&p, settings.Conventions); err != nil {
			t := explainCouples(err)
			p.Mistake, v.status = &t, t.Status
		} else {
			v.title = p.Half
		}
	}
	v.data = p
	return v, nil
}

// potential puts a potential on a page, with the rows that it was found by.
func (d couplesDesk) potential(p *couplesPage, c redox.Conventions) error {
	if len(p.Half) > 4096 {
		return &pageError{http.StatusUnprocessableEntity, "That is too long for a half-reaction.", ""}
	}
	half, err := d.o.Tables.Read(p.Half)
	if err != nil {
		return err
	}
	found, err := d.o.Tables.Of(half)
	if err != nil {
		return err
	}
	p.Answer = document.FromPotential(c, found)
	used := slices.Clone(found.Rows)
	if found.Other != nil {
		used = append(used, found.Other.Rows...)
	}
	// Rows of the same half-reaction that are not preferred stand beside those that
	// were used.
	var texts []string
	for _, x := range d.o.Tables.Couples.All() {
		if slices.Contains(used, x.ID) {
			texts = append(texts, plainHalf(x.Half))
		}
	}
	var rows []*reference.Couple
	for _, x := range d.o.Tables.Couples.All() {
		if texts != nil && slices.Contains(texts, plainHalf(x.Half)) {
			rows = append(rows, x)
		}
	}
	p.Used = d.rowsOf(rows, nil, c)
	for _, f := range d.o.Tables.Formations.All() {
		if !slices.Contains(used, f.Species.String()+f.Species.Phase().String()) {
			continue
		}
		row := formationRow{Species: document.Join(speciesInline(f.Species, c.Names), document.Plain(f.Species.Phase().String())), Energy: decimalsAs(signedFigure(f.Text), c.Comma), Memory: f.Confidence == "memory", Own: f.Own}
		if f.Source != "" {
			row.Cited = cite(f.Source)
		}
		p.Energies = append(p.Energies, row)
	}
	if len(p.Energies) > 0 {
		first := p.Energies[0].Cited
		if !slices.ContainsFunc(p.Energies, func(f formationRow) bool { return f.Cited != first }) {
			p.AllFrom = first
		}
	}
	return nil
}

// mostPresent is how many species may be together.
const mostPresent = 40

// among shows which of the species in ?species= reacts first with which.
func (d couplesDesk) among(r *http.Request) (view, error) {
	settings, err := d.o.Store.Settings(r.Context())
	if err != nil {
		return view{}, err
	}
	p := couplesPage{Mode: "among", Among: strings.TrimSpace(r.FormValue("species")), Medium: r.FormValue("medium")}
	if p.Medium == "" {
		p.Medium = energetics.Acidic
	}
	v := view{page: "couples", here: "couples", title: "What reacts first"}
	if p.Among != "" {
		if err := d.compete(&p, settings.Conventions); err != nil {
			t := explainCouples(err)
			p.Mistake, v.status = &t, t.Status
		}
	}
	v.data = p
	return v, nil
}

func (d couplesDesk) compete(p *couplesPage, c redox.Conventions) error {
	if !slices.Contains(energetics.Media, p.Medium) {
		medium := p.Medium
		p.Medium = energetics.Acidic
		return &pageError{http.StatusBadRequest, fmt.Sprintf("No medium is called “%s”.", medium), "It is acidic or basic."}
	}
	var present []*chem.Species
	for text := range strings.FieldsFuncSeq(p.Among, func(r rune) bool { return r == ',' || r == ';' || r == '\n' }) {
		if text = strings.TrimSpace(text); text == "" {
			continue
		}
		if len(present) == mostPresent {
			return &pageError{http.StatusUnprocessableEntity, fmt.Sprintf("No more than %d species can be together.", mostPresent), ""}
		}
		s, err := speciesCalled(text)
		if err != nil {
			return err
		}
		present = append(present, s)
	}
	if len(present) == 0 {
		return &pageError{http.StatusUnprocessableEntity, "No species is named.", "Write formulas or names, parted by commas: MnO4^-, Fe^2+, Sn^2+."}
	}
	found, err := d.o.Tables.Compete(present, redox.Medium(p.Medium))
	if err != nil {
		return err
	}
	p.Answer = document.FromCompetition(c, present, p.Medium, found)
	return nil
}

// plainHalf writes a half-reaction with its phases, as a page takes it.
func plainHalf(e chem.Equation) string { return chem.PlainText(e.Runs(chem.Style{Phases: true})) }
