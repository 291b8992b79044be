package reference

import (
	"fmt"
	"slices"
	"strings"

	"halves/chem"
)

var ownSpeciesColumns = []ownColumn{
	{"formula", true}, {"names", true}, {"other_formulas", false}, {"phase", false}, {"soluble_in_water", false}, {"ions", false},
	{"colour", false}, {"oxidation_states", false}, {"source", false}, {"note", false},
}

// ReadSpeciesTable reads a user's table of species, parted by tabs, commas or
// semicolons, for SpeciesTable.With. Its header names the columns formula and
// names and may name other_formulas (bars between several of either), phase,
// soluble_in_water, ions, colour, oxidation_states, source and note; what they
// hold is written as in species.tsv.
//
// An ion needs no phase, it is in solution; another species takes its phase
// from the table of the program where the field is empty. Of ions each must be
// known to that table or stand in an earlier row, and they add up to the
// formula; oxidation states name each element and add up to the charge; where
// they are left out, those of the table of the program stand. The rows come in the order of the file. name is the name of the
// table for messages; the error is a *TableError.
func ReadSpeciesTable(name, text string) ([]*Entry, error) {
	var all []*Entry
	lineOf := map[string]int{} // by plain spelling, and by plain name
	err := eachOwnRow(name, text, ownSpeciesColumns, func(r ownRow) error {
		e, err := ownEntry(r, func(s *chem.Species) bool {
			_, mine := lineOf[plainSpelling(s.Key())]
			return mine || Species().Find(s) != nil
		})
		if err != nil {
			return err
		}
		for _, s := range append([]*chem.Species{e.Species}, e.Spellings...) {
			if err := once(lineOf, plainSpelling(s.Key()), "formula", s.String(), r.line); err != nil {
				return err
			}
		}
		for _, n := range e.Names {
			if err := once(lineOf, "name "+strings.ToLower(n), "names", n, r.line); err != nil {
				return err
			}
		}
		e.Row = len(all)
		all = append(all, e)
		return nil
	})
	if err != nil {
		return nil, err
	}
	return all, nil
}

// once refuses what an earlier row has taken.
func once(lineOf map[string]int, key, column, text string, line int) error {
	if first, twice := lineOf[key]; twice && first != line {
		return &TableError{Column: column, Text: text, Msg: fmt.Sprintf("stands in row %d too", first), Hint: "keep one of the two"}
	}
	lineOf[key] = line
	return nil
}

func ownEntry(r ownRow, known func(*chem.Species) bool) (*Entry, error) {
	e := &Entry{Soluble: r.get("soluble_in_water"), Colour: r.get("colour"), Source: r.get("source"), Confidence: "own", Note: r.get("note"), Own: true}
	text := r.get("formula")
	s, err := ownSpecies("formula", text)
	if err != nil {
		return nil, err
	}
	if s.IsElectron() {
		return nil, &TableError{Column: "formula", Text: text, Msg: "is the electron", Hint: "leave out the row"}
	}
	e.Species = s.WithPhase(chem.NoPhase)
	for typed := range barred(r.get("other_formulas")) {
		o, err := ownSpecies("other_formulas", typed)
		if err != nil {
			return nil, err
		}
		if o.Charge() != s.Charge() || !o.Composition().Equal(s.Composition()) {
			return nil, &TableError{Column: "other_formulas", Text: typed, Msg: fmt.Sprintf("has other atoms or another charge than %s", s), Hint: "give it a row of its own"}
		}
		e.Spellings = append(e.Spellings, o.WithPhase(chem.NoPhase))
	}
	for n := range barred(r.get("names")) {
		e.Names = append(e.Names, n)
	}
	if e.Soluble != "" && e.Soluble != "yes" && e.Soluble != "no" && e.Soluble != "slight" {
		return nil, &TableError{Column: "soluble_in_water", Text: e.Soluble, Msg: "is not yes, no or slight"}
	}
	if e.Phase, err = ownPhase(s, r.get("phase")); err != nil {
		return nil, err
	}
	if e.Ions, err = ownIons(s, r.get("ions"), known); err != nil {
		return nil, err
	}
	if e.States, err = ownStates(s, r.get("oxidation_states")); err != nil {
		return nil, err
	}
	if base := Species().Find(s); e.States == nil && base != nil {
		e.States = base.States
	}
	return e, nil
}

// barred calls yield for the parts of a field, without blanks and without
// empty ones.
func barred(text string) func(yield func(string) bool) {
	return func(yield func(string) bool) {
		for part := range strings.SplitSeq(text, "|") {
			if part = strings.TrimSpace(part); part != "" && !yield(part) {
				return
			}
		}
	}
}

func ownPhase(s *chem.Species, text string) (chem.Phase, error) {
	if text != "" {
		if p := phases[text]; p != chem.NoPhase {
			return p, nil
		}
		return 0, &TableError{Column: "phase", Text: text, Msg: "is not s, l, g or aq"}
	}
	if s, ok := inUsualPhase(s); ok {
		return s.Phase(), nil
	}
	return 0, &TableError{Column: "phase", Msg: fmt.Sprintf("is empty, and the phase of %s is not known", s), Hint: "write s, l, g or aq"}
}

// ownIons reads "2 Na^+ + SO4^2-" and holds it to the formula: the ions leave
// no charge, and at most the water of a hydrate.
func ownIons(s *chem.Species, text string, known func(*chem.Species) bool) ([]chem.Term, error) {
	if text == "" {
		return nil, nil
	}
	wrong := func(msg, hint string) error {
		return &TableError{Column: "ions", Text: text, Msg: msg, Hint: hint}
	}
	if s.Charge() != 0 {
		return nil, wrong(fmt.Sprintf("belong to %s, which is an ion itself", s), "leave the field empty")
	}
	var ions []chem.Term
	charge := int64(0)
	left := map[chem.Element]int64{}
	for _, n := range s.Composition() {
		left[n.Element] = n.Atoms
	}
	for part := range strings.SplitSeq(text, " + ") {
		if len(ions) == chem.MaxTerms {
			return nil, wrong(fmt.Sprintf("are more than %d", chem.MaxTerms), "")
		}
		n, formula, ok := cutCount(strings.TrimSpace(part))
		if !ok {
			return nil, wrong(fmt.Sprintf("hold %q, which does not begin with a number of ions", part), "write them as 2 Na^+ + SO4^2-")
		}
		ion, err := ownSpecies("ions", formula)
		if err != nil {
			return nil, err
		}
		if ion.Charge() == 0 {
			return nil, wrong(fmt.Sprintf("hold %s, which has no charge", ion), "write them as 2 Na^+ + SO4^2-")
		}
		if !known(ion) {
			return nil, wrong(fmt.Sprintf("hold %s, which no table has", ion), "give the ion a row of its own, further up")
		}
		charge += n * ion.Charge()
		for _, c := range ion.Composition() {
			left[c.Element] -= n * c.Atoms
		}
		ions = append(ions, chem.Term{Coefficient: chem.Whole(n), Species: ion.WithPhase(chem.NoPhase)})
	}
	water := left[chem.O]
	if water > 0 && len(s.Formula().Parts) < 2 {
		return nil, wrong(fmt.Sprintf("do not add up to %s", s), "only the water of a hydrate is left out")
	}
	left[chem.O] -= water
	left[chem.H] -= 2 * water
	for _, n := range left {
		if n != 0 || water < 0 || charge != 0 {
			return nil, wrong(fmt.Sprintf("do not add up to %s", s), "check their numbers and charges")
		}
	}
	return ions, nil
}

// cutCount parts "2 Na^+" into 2 and "Na^+".
func cutCount(text string) (n int64, formula string, ok bool) {
	i := 0
	for i < len(text) && text[i] >= '0' && text[i] <= '9' {
		n = 10*n + int64(text[i]-'0')
		if n > chem.MaxNumber {
			return 0, "", false
		}
		i++
	}
	if i == 0 {
		return 1, text, text != ""
	}
	formula = strings.TrimSpace(text[i:])
	return n, formula, n > 0 && formula != ""
}

// ownStates reads oxidation states and holds them to the formula.
func ownStates(s *chem.Species, text string) (states []ElementStates, err error) {
	if text == "" {
		return nil, nil
	}
	if states, err = readStates(text); err != nil {
		return nil, err
	}
	if fault := statesFault(s, states); fault != "" {
		return nil, &TableError{Column: "oxidation_states", Text: text, Msg: fault, Hint: "they are written for one atom, as in Mn:+7;O:-2"}
	}
	return states, nil
}

// statesFault says what is wrong with the states of a species, "" where they
// name each element once and add up to the charge.
func statesFault(s *chem.Species, states []ElementStates) (fault string) {
	defer func() {
		if p := recover(); p != nil {
			if _, ok := p.(chem.OverflowError); !ok {
				panic(p)
			}
			fault = "are numbers too large to be added up"
		}
	}()
	sum := chem.Whole(0)
	var seen []chem.Element
	for _, e := range states {
		atoms := s.Atoms(e.Element)
		if atoms == 0 {
			return fmt.Sprintf("name %s, which %s does not hold", e.Element, s)
		}
		if slices.Contains(seen, e.Element) {
			return fmt.Sprintf("name %s twice", e.Element)
		}
		seen = append(seen, e.Element)
		if len(e.Sites) == 1 && e.Sites[0].Atoms == 0 {
			sum = sum.Add(e.Sites[0].State.Mul(chem.Whole(atoms)))
			continue
		}
		for _, site := range e.Sites {
			if site.Atoms == 0 {
				return fmt.Sprintf("do not say how many atoms of %s each state has", e.Element)
			}
			if atoms -= site.Atoms; atoms < 0 {
				break
			}
			sum = sum.Add(site.State.Mul(chem.Whole(site.Atoms)))
		}
		if atoms != 0 {
			return fmt.Sprintf("do not have as many atoms of %s as %s", e.Element, s)
		}
	}
	if len(seen) != len(s.Composition()) {
		return fmt.Sprintf("do not name each element of %s", s)
	}
	if !sum.Equal(chem.Whole(s.Charge())) {
		return fmt.Sprintf("add up to %s, not to the charge of %s", sum.Signed(), s)
	}
	return ""
}

// With returns a table in which own rows stand first and win: a row of t with
// the formula of an own row is left out, and another formula of a row of t that
// an own row has leads to that one. Rows are counted anew. t stays as it is.
func (t *SpeciesTable) With(own []*Entry) *SpeciesTable {
	n := newSpeciesTable(len(own) + len(t.rows))
	n.own = len(own)
	for i, e := range own {
		mine := *e
		mine.Row, mine.Own = i, true
		spellings := []string{mine.Species.String()}
		for _, s := range mine.Spellings {
			spellings = append(spellings, s.String())
		}
		for _, s := range spellings {
			n.enterFirst(s, i)
		}
		line := spellings[0] + "\t" + strings.Join(spellings[1:], "|") + "\t" + strings.Join(mine.Names, "|")
		n.rows = append(n.rows, row[Entry]{line: line, value: &mine})
	}
	for i := range t.rows {
		formula := fieldOf(t.rows[i].line, 0)
		if _, taken := n.bySpelling[plainSpelling(formula)]; taken {
			continue
		}
		place := len(n.rows)
		n.enterFirst(formula, place)
		for other := range barred(fieldOf(t.rows[i].line, 1)) {
			n.enterFirst(other, place)
		}
		if i < t.own {
			mine := *t.entry(i)
			mine.Row = place
			n.rows = append(n.rows, row[Entry]{line: t.rows[i].line, value: &mine})
			n.own++
			continue
		}
		n.rows = append(n.rows, row[Entry]{line: t.rows[i].line})
	}
	return n
}

// enterFirst takes up a spelling unless an earlier row has it.
func (t *SpeciesTable) enterFirst(formula string, i int) {
	plain := plainSpelling(formula)
	if _, taken := t.bySpelling[plain]; !taken {
		t.bySpelling[plain] = i
	}
}
