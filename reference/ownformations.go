package reference

import (
	"fmt"

	"halves/chem"
)

var ownFormationColumns = []ownColumn{{"species", true}, {"g_kj_mol", true}, {"h_kj_mol", false}, {"s_j_mol_k", false}, {"source", false}, {"note", false}}

// maxEnergy is beyond every free energy of formation in kJ/mol, but not beyond
// most in J/mol.
const maxEnergy = 20_000

// ReadFormations reads a user's table of free energies, parted by tabs, commas
// or semicolons, for FormationTable.With. Its header names the columns species
// and G_kJ_mol and may name H_kJ_mol, S_J_mol_K, source and note; capitals make
// no difference.
//
// A species is written with its phase, as in CO2(g); without one it is taken in
// its usual phase. The rows come in the order of the file. name is the name of
// the table for messages; the error is a *TableError.
func ReadFormations(name, text string) ([]*Formation, error) {
	var all []*Formation
	lineOf := map[string]int{}
	err := eachOwnRow(name, text, ownFormationColumns, func(r ownRow) error {
		f, err := ownFormation(r)
		if err != nil {
			return err
		}
		key := spellingOf(f.Species) + f.Species.Phase().String()
		if first, twice := lineOf[key]; twice {
			return &TableError{Column: "species", Text: r.get("species"), Msg: fmt.Sprintf("stands in row %d too", first), Hint: "keep one of the two"}
		}
		lineOf[key] = r.line
		f.Row = len(all)
		all = append(all, f)
		return nil
	})
	if err != nil {
		return nil, err
	}
	return all, nil
}

func ownFormation(r ownRow) (*Formation, error) {
	f := &Formation{Source: r.get("source"), Confidence: "own", Note: r.get("note"), Own: true}
	text := r.get("species")
	s, err := ownSpecies("species", text)
	if err != nil {
		return nil, err
	}
	if s.IsElectron() {
		return nil, &TableError{Column: "species", Text: text, Msg: "is the electron, which has no free energy of its own", Hint: "leave out the row"}
	}
	var ok bool
	if f.Species, ok = inUsualPhase(s); !ok {
		return nil, &TableError{Column: "species", Text: text, Msg: "has no phase", Hint: fmt.Sprintf("write %s(s), (l), (g) or (aq)", s)}
	}
	if f.G, f.Text, err = ownFigure("g_kj_mol", r.get("g_kj_mol"), maxEnergy, "kJ/mol"); err != nil {
		return nil, err
	}
	if f.H, err = ownFigureOrNone("h_kj_mol", r.get("h_kj_mol"), "kJ/mol"); err != nil {
		return nil, err
	}
	f.S, err = ownFigureOrNone("s_j_mol_k", r.get("s_j_mol_k"), "J/(mol K)")
	return f, err
}

func ownFigureOrNone(column, text, unit string) (*float64, error) {
	if text == "" {
		return nil, nil
	}
	x, _, err := ownFigure(column, text, maxEnergy, unit)
	return &x, err
}

// ownSpecies reads a formula that allows one reading, or of which the table of
// species knows one.
func ownSpecies(column, text string) (*chem.Species, error) {
	readings, err := chem.ReadSpecies(text, Species())
	if err != nil {
		return nil, unread(column, text, err)
	}
	if len(readings) > 1 && readings[0].Known == readings[1].Known {
		return nil, &TableError{Column: column, Text: text, Msg: fmt.Sprintf("can be read as %s and as %s", readings[0].Species, readings[1].Species), Hint: "write the charge after a caret: SO4^2-"}
	}
	return readings[0].Species, nil
}
