package reference

import (
	_ "embed"
	"strings"
	"sync"

	"halves/chem"
)

//go:embed formation.tsv
var formationTSV string

// A Formation is the standard free energy of a species in one phase.
type Formation struct {
	Row     int           // place in its table, from 0
	Species *chem.Species // with its phase
	G       float64       // kJ/mol, standard Gibbs energy of formation at 25 °C and 1 bar
	Text    string        // G as printed: "-131.228"
	H       *float64      // kJ/mol, standard enthalpy of formation; nil where unknown
	S       *float64      // J/(mol K), standard entropy; nil where unknown

	Source     string // a key for SourceOf; of a user's row as the user wrote it, which may be ""
	Confidence string // "source-read" or "memory"; of a user's row "own"
	Note       string
	Own        bool // from the user's table
}

// A FormationTable is the table of free energies.
type FormationTable struct {
	rows       []*row[Formation]
	bySpelling map[string][]int              // rows by spelling in the table of species, without phase
	byElement  func() map[chem.Element][]int // rows
}

// Formations returns the table of free energies of the program.
func Formations() *FormationTable { return formations() }

var formations = sync.OnceValue(func() *FormationTable {
	return must(loadFormations(formationTSV))
})

// All returns the rows in order, a user's rows first.
func (t *FormationTable) All() []*Formation {
	all := make([]*Formation, len(t.rows))
	for i := range all {
		all[i] = t.row(i)
	}
	return all
}

// Find returns the row of this species in its phase; for a species without a
// phase that of the usual phase in the table of species, else the only one,
// which may then be in another phase (H2C2O4 is known dissolved only). It
// returns nil where there is none, or several without a usual one. Formulas are
// taken for the same where the table of species says so (CH3COOH, HC2H3O2).
//
// A strong acid or a salt is not taken apart: HNO3 without a phase is the pure
// liquid.
func (t *FormationTable) Find(s *chem.Species) *Formation {
	rows := t.Phases(s)
	phase := s.Phase()
	if phase == chem.NoPhase {
		if len(rows) == 1 {
			return rows[0]
		}
		if e := Species().Find(s); e != nil {
			phase = e.Phase
		}
	}
	for _, f := range rows {
		if f.Species.Phase() == phase {
			return f
		}
	}
	return nil
}

// Phases returns the rows of this formula and charge in all phases, in order,
// nil if none.
func (t *FormationTable) Phases(s *chem.Species) []*Formation {
	var found []*Formation
	for _, i := range t.bySpelling[spellingOf(s)] {
		found = append(found, t.row(i))
	}
	return found
}

// Of returns the rows of all species that hold e, in order, nil if none.
func (t *FormationTable) Of(e chem.Element) []*Formation {
	rows := t.byElement()[e]
	if rows == nil {
		return nil
	}
	all := make([]*Formation, len(rows))
	for i, r := range rows {
		all[i] = t.row(r)
	}
	return all
}

// With returns a table in which own rows stand first and win: a row of t of the
// same species in the same phase is left out. t stays as it is.
func (t *FormationTable) With(own []*Formation) *FormationTable {
	n := newFormationTable(len(own) + len(t.rows))
	taken := map[string]bool{}
	take := func(spelling string, phase chem.Phase, r *row[Formation]) {
		key := spelling + phase.String()
		if !taken[key] {
			n.bySpelling[spelling] = append(n.bySpelling[spelling], len(n.rows))
			n.rows = append(n.rows, r)
		}
		taken[key] = true
	}
	for _, f := range own {
		mine := *f
		mine.Own = true
		take(spellingOf(f.Species), f.Species.Phase(), &row[Formation]{value: &mine})
	}
	for i, r := range t.rows {
		f := t.row(i)
		take(spellingOf(f.Species), f.Species.Phase(), r)
	}
	return n
}

func (t *FormationTable) row(i int) *Formation {
	return t.rows[i].get(func(line string) (*Formation, error) { return readFormation(i, line) })
}

var formationColumns = []string{"formula", "phase", "dGf_kJ_mol", "dHf_kJ_mol", "S_J_molK", "source", "confidence", "note"}

func newFormationTable(n int) *FormationTable {
	t := &FormationTable{rows: make([]*row[Formation], 0, n), bySpelling: make(map[string][]int, n)}
	t.byElement = sync.OnceValue(func() map[chem.Element][]int {
		all := map[chem.Element][]int{}
		for i, r := range t.rows {
			formula := fieldOf(r.line, 0)
			if r.line == "" { // a user's row
				formula = r.value.Species.String()
			}
			for e := range elementsIn(formula).all() {
				all[e] = append(all[e], i)
			}
		}
		return all
	})
	return t
}

// loadFormations indexes the table; its rows are read later.
func loadFormations(text string) (*FormationTable, error) {
	t := newFormationTable(strings.Count(text, "\n"))
	err := eachRow("formation.tsv", text, formationColumns, func(line string) error {
		spelling := Species().spelling(plainSpelling(fieldOf(line, 0)))
		t.bySpelling[spelling] = append(t.bySpelling[spelling], len(t.rows))
		t.rows = append(t.rows, &row[Formation]{line: line})
		return nil
	})
	return t, err
}

// readFormation reads row i, from 0.
func readFormation(i int, line string) (*Formation, error) {
	f, err := fieldsOf(line, formationColumns)
	if err != nil {
		return nil, rowError("formation.tsv", i+2, err)
	}
	x := &Formation{Row: i, Text: f[2], Source: f[5], Confidence: f[6], Note: f[7]}
	if err := x.readFields(f); err != nil {
		return nil, rowError("formation.tsv", i+2, err)
	}
	return x, nil
}

func (x *Formation) readFields(f []string) error {
	s, err := readOne("formula", f[0])
	if err != nil {
		return err
	}
	if phases[f[1]] == chem.NoPhase {
		return fieldError("phase", f[1], "is not s, l, g or aq")
	}
	x.Species = s.WithPhase(phases[f[1]])
	if x.G, err = figure("dGf_kJ_mol", f[2]); err != nil {
		return err
	}
	if x.H, err = figureOrNone("dHf_kJ_mol", f[3]); err != nil {
		return err
	}
	x.S, err = figureOrNone("S_J_molK", f[4])
	return err
}

// figureOrNone reads a measured figure, nil where the field is empty.
func figureOrNone(column, text string) (*float64, error) {
	if text == "" {
		return nil, nil
	}
	x, err := figure(column, text)
	return &x, err
}
