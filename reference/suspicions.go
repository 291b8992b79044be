package reference

import (
	_ "embed"
	"strings"
	"sync"
)

// The two tables of doubt: what is wrong or old in a source, and where a
// potential and the free energies disagree by more than 0.03 V.
var (
	//go:embed suspect.tsv
	suspectTSV string
	//go:embed differences.tsv
	differencesTSV string
)

// A Suspicion is what is known to be wrong or doubtful of a row of the table of
// potentials.
type Suspicion struct {
	ID         string // of the couple
	Kind       string // "sign", "old value", "formal" and so on; "" where only free energies disagree
	Calculated string // potential from the free energies, in volts; "" where the two do not disagree
	Nearer     string // to the truth: "tabulated", "formation", "both", "undecided"; "" where not judged
	Judgement  string // why, in one or two sentences
	Suggested  string // figure in volts, or a range, to be preferred; "" where the row stands
}

// Suspect returns what is known to be wrong or doubtful of a row, and whether
// anything is. Of a user's row nothing is.
func (t *CoupleTable) Suspect(id string) (Suspicion, bool) {
	s, ok := suspicions()[id]
	return s, ok
}

var suspicions = sync.OnceValue(func() map[string]Suspicion {
	return must(loadSuspicions(suspectTSV, differencesTSV))
})

var (
	suspectColumns    = []string{"id", "source", "table", "row", "item", "printed", "kind", "reason", "suggested"}
	differenceColumns = []string{"id", "E0_V", "E0_calc_V", "nearer", "judgement"}
)

func loadSuspicions(suspect, differences string) (map[string]Suspicion, error) {
	m := map[string]Suspicion{}
	err := eachRow("suspect.tsv", suspect, suspectColumns, func(line string) error {
		f, err := fieldsOf(line, suspectColumns)
		if err != nil {
			return err
		}
		if f[2] != "couples.tsv" || f[3] == "" {
			return nil
		}
		if _, twice := m[f[3]]; twice {
			return fieldError("row", f[3], "stands in an earlier row too")
		}
		m[f[3]] = Suspicion{ID: f[3], Kind: f[6], Judgement: sentence(f[7]), Suggested: f[8]}
		return nil
	})
	if err != nil {
		return nil, err
	}
	err = eachRow("differences.tsv", differences, differenceColumns, func(line string) error {
		f, err := fieldsOf(line, differenceColumns)
		if err != nil {
			return err
		}
		s := m[f[0]]
		if s.Calculated != "" {
			return fieldError("id", f[0], "stands in an earlier row too")
		}
		s.ID, s.Calculated, s.Nearer, s.Judgement = f[0], f[2], f[3], f[4]
		m[f[0]] = s
		return nil
	})
	return m, err
}

// sentence makes a clause of the table a sentence.
func sentence(clause string) string {
	if clause == "" {
		return ""
	}
	return strings.ToUpper(clause[:1]) + clause[1:] + "."
}
