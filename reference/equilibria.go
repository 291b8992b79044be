package reference

import (
	_ "embed"
	"strings"
	"sync"

	"halves/chem"
)

//go:embed equilibria.tsv
var equilibriaTSV string

// An Equilibrium is a constant at 25 °C: of solubility (Ksp), of formation of a
// complex (Kf), of an acid (Ka) or a base (Kb), of water (Kw).
type Equilibrium struct {
	Row        int           // place in the table, from 0
	Kind       string        // "Ksp", "Kf", "Ka", "Kb" or "Kw"
	Species    *chem.Species // the solid, the complex, the acid or the base, with its phase
	Reaction   chem.Equation // balanced, every species with its phase
	LogK       float64       // power of ten; K is of activities, so without a unit
	Text       string        // K as printed: "1.6e-10"
	Source     string        // a key for SourceOf
	Confidence string        // "source-read" or "memory"
	Note       string
}

// Equilibria returns the table of equilibrium constants, in order. A solid of
// two forms has two rows.
func Equilibria() []*Equilibrium { return equilibria() }

var equilibria = sync.OnceValue(func() []*Equilibrium {
	return must(loadEquilibria(equilibriaTSV))
})

var equilibriumColumns = []string{"kind", "species", "reaction", "K", "log10K", "source", "confidence", "note"}

func loadEquilibria(text string) ([]*Equilibrium, error) {
	all := make([]*Equilibrium, 0, strings.Count(text, "\n"))
	err := eachRow("equilibria.tsv", text, equilibriumColumns, func(line string) error {
		f, err := fieldsOf(line, equilibriumColumns)
		if err != nil {
			return err
		}
		e := &Equilibrium{Row: len(all), Kind: f[0], Text: f[3], Source: f[5], Confidence: f[6], Note: f[7]}
		if e.Reaction, err = readReaction("reaction", f[2]); err != nil {
			return err
		}
		for _, s := range e.Reaction.Species() {
			if s.String() == f[1] {
				e.Species = s
			}
		}
		if e.Species == nil {
			return fieldError("species", f[1], "is not in the reaction")
		}
		if e.LogK, err = figure("log10K", f[4]); err != nil {
			return err
		}
		all = append(all, e)
		return nil
	})
	return all, err
}
