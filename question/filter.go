package question

import (
	"slices"
	"strings"

	"halves/chem"
	"halves/names"
	"halves/redox"
	"halves/reference"
	"halves/speech"
)

// A Filter says which questions are looked for. The zero value is met by all.
type Filter struct {
	// Words are parted by spaces. Each stands in the text, the note, the source or
	// the features in words, in whatever case, or in the names of the species; or it
	// is the formula of a species of the question, as one types it: "MnO4-".
	Words       string
	Medium      redox.Medium // redox.Unstated for any
	Features    Features     // all of them
	Least, Most Tenths       // 0 for no bound
}

// Of returns those that meet the filter, in their order.
func (f Filter) Of(all []*Question) []*Question {
	words := strings.Fields(strings.ToLower(f.Words))
	formulas := make([][]string, len(words))
	for i, w := range strings.Fields(f.Words) {
		formulas[i] = keysRead(w)
	}
	var out []*Question
	for _, q := range all {
		if f.Medium != redox.Unstated && q.Medium != f.Medium || !q.Features.Has(f.Features) || q.Difficulty < f.Least || f.Most > 0 && q.Difficulty > f.Most {
			continue
		}
		if len(words) > 0 && !q.holdsWords(words, formulas) {
			continue
		}
		out = append(out, q)
	}
	return out
}

// keysRead are the species that a word may be, by their keys.
func keysRead(word string) []string {
	readings, err := chem.ReadSpecies(strings.Trim(word, ",;"), reference.Species())
	if err != nil {
		return nil
	}
	var out []string
	for _, r := range readings {
		out = append(out, r.Species.WithPhase(chem.NoPhase).Key())
	}
	return out
}

func (q *Question) holdsWords(words []string, formulas [][]string) bool {
	text := strings.ToLower(strings.Join(append(q.Features.Words(), q.Text, string(q.Medium), q.Note, q.Source), "\n"))
	spoken := ""
	for i, w := range words {
		if strings.Contains(text, w) || slices.ContainsFunc(formulas[i], func(k string) bool { return slices.Contains(q.species, k) }) {
			continue
		}
		if spoken == "" {
			spoken = strings.ToLower(speech.Equation(q.skeleton, names.Choice{}))
		}
		if !strings.Contains(spoken, w) {
			return false
		}
	}
	return true
}
