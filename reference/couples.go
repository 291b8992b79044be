package reference

import (
	_ "embed"
	"fmt"
	"slices"
	"strconv"
	"strings"
	"sync"

	"halves/chem"
)

//go:embed couples.tsv
var couplesTSV string

// A Couple is a half-reaction of the table of potentials.
type Couple struct {
	Row        int           // place in its table, from 0
	ID         string        // "mno4_1m.mn_2p.acidic"; of a user's row the table and the line: "mine.tsv:3"
	Half       chem.Equation // as a reduction, balanced, every species with its phase, whole coefficients
	Medium     string        // "acidic", "basic" or "any"
	Volts      float64       // standard potential at 25 °C against the standard hydrogen electrode
	Text       string        // the figure as printed: "0.7996"
	Electrons  int64         // in Half, at least 1
	Source     string        // a key for SourceOf; of a user's row as the user wrote it, which may be ""
	Confidence string        // "source-read" or "memory"; of a user's row "own"
	Note       string
	Preferred  bool        // exactly one row of a half-reaction with phases is
	Textbook   bool        // of the open textbook's table, as it prints it
	Slow       string      // why the couple is slow or hindered in practice, "" where it is not
	Hindrances []Hindrance // when it is slow, at least one where Slow is not ""
	SlowSource string      // a key for SourceOf, or "common practice, no source"
	Own        bool        // from the user's table
}

// A CoupleTable is the table of potentials.
type CoupleTable struct {
	rows    []*row[Couple]
	holding map[string][]int // rows by spelling in the table of species, without phase
}

// Couples returns the table of potentials of the program.
func Couples() *CoupleTable { return couples() }

var couples = sync.OnceValue(func() *CoupleTable {
	return must(loadCouples(couplesTSV))
})

// All returns the rows in order, a user's rows first.
func (t *CoupleTable) All() []*Couple {
	all := make([]*Couple, len(t.rows))
	for i := range all {
		all[i] = t.row(i)
	}
	return all
}

// Holding returns the rows with this species, whatever the side: a user's rows
// first, then preferred ones, then in order. A species with a phase is found in
// that phase only. Formulas are taken for the same where the table of species
// says so: HC2H3O2 and CH3COOH. H^+ and H3O^+ are two species; the table writes
// H^+.
func (t *CoupleTable) Holding(s *chem.Species) []*Couple {
	var found []*Couple
	for _, i := range t.holding[spellingOf(s)] {
		c := t.row(i)
		if s.Phase() == chem.NoPhase || holds(c.Half, s) {
			found = append(found, c)
		}
	}
	slices.SortStableFunc(found, func(a, b *Couple) int { return b.place() - a.place() })
	return found
}

func (c *Couple) place() int {
	switch {
	case c.Own:
		return 2
	case c.Preferred:
		return 1
	}
	return 0
}

// holds reports whether an equation has this species in this phase.
func holds(e chem.Equation, s *chem.Species) bool {
	for _, o := range e.Terms {
		o := o.Species
		if o.Phase() != s.Phase() || o.Charge() != s.Charge() || !o.Composition().Equal(s.Composition()) {
			continue
		}
		if o.Same(s) || spellingOf(o) == spellingOf(s) {
			return true
		}
	}
	return false
}

// With returns a table in which own rows stand first and win: a row of t with
// the same half-reaction, phases included, is no longer the preferred one. t
// stays as it is.
func (t *CoupleTable) With(own []*Couple) *CoupleTable {
	n := &CoupleTable{rows: make([]*row[Couple], 0, len(own)+len(t.rows)), holding: make(map[string][]int, len(t.holding))}
	beaten := map[int]bool{} // rows of t
	seen := map[string]bool{}
	for i, c := range own {
		key := halfKey(c.Half)
		mine := *c
		mine.Own, mine.Preferred = true, !seen[key]
		seen[key] = true
		n.rows = append(n.rows, &row[Couple]{value: &mine})
		n.enter(i, c.Half)
		for _, j := range t.holding[spellingOf(c.Half.Left[0].Species)] {
			if halfKey(t.row(j).Half) == key {
				beaten[j] = true
			}
		}
	}
	for j, r := range t.rows {
		if beaten[j] {
			loser := *t.row(j)
			loser.Preferred = false
			r = &row[Couple]{value: &loser}
		}
		n.rows = append(n.rows, r)
	}
	for key, rows := range t.holding {
		for _, j := range rows {
			n.holding[key] = append(n.holding[key], len(own)+j)
		}
	}
	return n
}

func (t *CoupleTable) row(i int) *Couple {
	return t.rows[i].get(func(line string) (*Couple, error) { return readCouple(i, line) })
}

// enter takes up the species of row i, each once.
func (t *CoupleTable) enter(i int, half chem.Equation) {
	for _, s := range half.Species() {
		t.enterSpelling(i, spellingOf(s))
	}
}

func (t *CoupleTable) enterSpelling(i int, spelling string) {
	rows := t.holding[spelling]
	if len(rows) == 0 || rows[len(rows)-1] != i {
		t.holding[spelling] = append(rows, i)
	}
}

// halfKey names a half-reaction for comparison: each side in alphabetical
// order, with phases, in lowest whole numbers.
func halfKey(half chem.Equation) string {
	divisor := int64(0)
	for _, t := range half.Terms {
		divisor = chem.GCD(divisor, t.Coefficient.Num())
	}
	side := func(terms []chem.Term) string {
		var all []string
		for _, t := range terms {
			all = append(all, t.Coefficient.Quo(chem.Whole(divisor)).String()+" "+spellingOf(t.Species)+t.Species.Phase().String())
		}
		slices.Sort(all)
		return strings.Join(all, " + ")
	}
	return side(half.Left) + " -> " + side(half.Right)
}

var coupleColumns = []string{"id", "half_reaction", "medium", "E0_V", "n", "source", "confidence", "preferred", "textbook", "slow", "slow_way", "slow_source", "note"}

// loadCouples indexes the table; its rows are read later.
func loadCouples(text string) (*CoupleTable, error) {
	n := strings.Count(text, "\n")
	t := &CoupleTable{rows: make([]*row[Couple], 0, n), holding: make(map[string][]int, n)}
	err := eachRow("couples.tsv", text, coupleColumns, func(line string) error {
		for spelling := range spellings(fieldOf(line, 1)) {
			t.enterSpelling(len(t.rows), spelling)
		}
		t.rows = append(t.rows, &row[Couple]{line: line})
		return nil
	})
	return t, err
}

// readCouple reads row i, from 0.
func readCouple(i int, line string) (*Couple, error) {
	f, err := fieldsOf(line, coupleColumns)
	if err != nil {
		return nil, rowError("couples.tsv", i+2, err)
	}
	c := &Couple{Row: i, ID: f[0], Medium: f[2], Text: f[3], Source: f[5], Confidence: f[6], Slow: f[9], SlowSource: f[11], Note: f[12]}
	if err := c.readFields(f); err != nil {
		return nil, rowError("couples.tsv", i+2, err)
	}
	return c, nil
}

func (c *Couple) readFields(f []string) (err error) {
	if c.Half, err = readReaction("half_reaction", f[1]); err != nil {
		return err
	}
	if c.Volts, err = figure("E0_V", f[3]); err != nil {
		return err
	}
	if c.Electrons, err = strconv.ParseInt(f[4], 10, 64); err != nil {
		return fieldError("n", f[4], "is not a number of electrons")
	}
	if c.Hindrances, err = readHindrances("slow_way", f[10]); err != nil {
		return err
	}
	if c.Preferred, err = yes("preferred", f[7]); err != nil {
		return err
	}
	c.Textbook, err = yes("textbook", f[8])
	return err
}

// yes reads "yes" or "no".
func yes(column, text string) (bool, error) {
	if text != "yes" && text != "no" {
		return false, fieldError(column, text, `is not "yes" or "no"`)
	}
	return text == "yes", nil
}

// figure reads a measured figure, a plain decimal number.
func figure(column, text string) (float64, error) {
	x, err := strconv.ParseFloat(text, 64)
	if err != nil || strings.Trim(text, "+-.0123456789") != "" {
		return 0, fieldError(column, text, "is not a decimal number such as 1.507 or -0.25")
	}
	return x, nil
}

// readReaction reads a reaction as the tables write it: one space on each side
// of " + " and " -> ", whole coefficients, every species but the electron with
// its phase.
func readReaction(column, text string) (e chem.Equation, err error) {
	left, right, ok := strings.Cut(text, " -> ")
	if !ok {
		return e, fieldError(column, text, "has no arrow")
	}
	if e.Left, err = readTerms(column, left); err != nil {
		return e, err
	}
	e.Right, err = readTerms(column, right)
	return e, err
}

func readTerms(column, text string) ([]chem.Term, error) {
	terms := make([]chem.Term, 0, 4)
	for part := range strings.SplitSeq(text, " + ") {
		coefficient := int64(1)
		if count, rest, counted := strings.Cut(part, " "); counted {
			n, err := strconv.ParseInt(count, 10, 64)
			if err != nil || n < 2 {
				return nil, fieldError(column, part, "does not begin with a whole number")
			}
			coefficient, part = n, rest
		}
		formula, phase := cutPhase(part)
		s, err := readOne(column, formula)
		if err != nil {
			return nil, err
		}
		if s.IsElectron() != (phase == "") {
			return nil, fieldError(column, part, "needs its phase: (s), (l), (g) or (aq)")
		}
		terms = append(terms, chem.Term{Coefficient: chem.Whole(coefficient), Species: s.WithPhase(phases[phase])})
	}
	return terms, nil
}

// cutPhase parts "Cl^-(aq)" into "Cl^-" and "aq".
func cutPhase(text string) (formula, phase string) {
	if !strings.HasSuffix(text, ")") {
		return text, ""
	}
	i := strings.LastIndexByte(text, '(')
	if i < 0 || phases[text[i+1:len(text)-1]] == chem.NoPhase {
		return text, ""
	}
	return text[:i], text[i+1 : len(text)-1]
}

// spellings calls yield for the species of a reaction, spelled as in the table
// of species and without phase. It reads no formula.
func spellings(reaction string) func(yield func(string) bool) {
	return func(yield func(string) bool) {
		for side := range strings.SplitSeq(reaction, " -> ") {
			for part := range strings.SplitSeq(side, " + ") {
				if count, rest, counted := strings.Cut(part, " "); counted && count != "" {
					part = rest
				}
				formula, _ := cutPhase(part)
				if !yield(Species().spelling(plainSpelling(formula))) {
					return
				}
			}
		}
	}
}

// spellingOf returns the spelling by which the tables find a species: that of
// its row in the table of species, so that CH3COOH and HC2H3O2 are one.
func spellingOf(s *chem.Species) string {
	return Species().spelling(plainSpelling(s.Key()))
}

// spelling returns the formula of the row that spells plain, in its plain
// spelling; plain itself where there is none.
func (t *SpeciesTable) spelling(plain string) string {
	if i, ok := t.bySpelling[plain]; ok {
		return plainSpelling(fieldOf(t.rows[i].line, 0))
	}
	return plain
}

// String returns the half-reaction and its potential, for messages.
func (c *Couple) String() string {
	return fmt.Sprintf("%s, %s V", c.Half, c.Text)
}
