package reference

import (
	_ "embed"
	"strings"
	"sync"
)

//go:embed titration_facts.tsv
var titrationTSV string

// A TitrationFact is a fact of redox titrimetry: a stoichiometry, an indicator,
// a formal potential, a condition, a standard.
type TitrationFact struct {
	Row        int    // place in the table, from 0
	ID         string // "ind-ferroin"
	Topic      string // "indicator", "formal potential", "condition" and so on
	Fact       string // in words, or an equation
	Value      string // a number, a range, a ratio; "" where there is none
	Unit       string // or scale, or medium; "" where there is none
	Source     string // a key for SourceOf
	Confidence string // "source-read" or "memory"
	Note       string
}

// TitrationFacts returns the table of facts, in order.
func TitrationFacts() []*TitrationFact { return titrationFacts() }

var titrationFacts = sync.OnceValue(func() []*TitrationFact {
	return must(loadTitrationFacts(titrationTSV))
})

var titrationColumns = []string{"id", "topic", "fact", "value", "unit_or_scale", "source", "confidence", "note"}

func loadTitrationFacts(text string) ([]*TitrationFact, error) {
	all := make([]*TitrationFact, 0, strings.Count(text, "\n"))
	err := eachRow("titration_facts.tsv", text, titrationColumns, func(line string) error {
		f, err := fieldsOf(line, titrationColumns)
		if err != nil {
			return err
		}
		all = append(all, &TitrationFact{Row: len(all), ID: f[0], Topic: f[1], Fact: f[2], Value: f[3], Unit: f[4], Source: f[5], Confidence: f[6], Note: f[7]})
		return nil
	})
	return all, err
}
