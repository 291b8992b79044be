package reference

import (
	_ "embed"
	"slices"
	"strings"
	"sync"

	"halves/chem"
)

//go:embed incompatible.tsv
var incompatibleTSV string

// A Severity says what a mixture can do at its worst.
type Severity string

// Paper reports whether an equation with such a mixture is for paper only.
func (s Severity) Paper() bool {
	i := slices.Index(severities, s)
	return i >= 0 && i < slices.Index(severities, "toxic gas")
}

// Rank returns the place of the severity, the worst 0; -1 if it is none.
func (s Severity) Rank() int { return slices.Index(severities, s) }

// severities is the closed list, the worst first. Down to burns an equation is
// for paper only.
var severities = []Severity{"explosion", "fire", "lethal gas", "lethal", "eruption", "burns", "toxic gas", "toxic"}

// A Mixture is a row of the table of mixtures that are never to be suggested.
type Mixture struct {
	ID            string
	Parts         [2]string // in words, as given; the second is "" where one substance alone is dangerous
	Match         []Part    // what must be present, one to three; one species may be several parts
	Reactants     bool      // only where the parts are put together as reactants
	WhatCanHappen string
	Severity      Severity
	Advice        string
	Source        string // a key for SourceOf
	Confidence    string // "memory"
}

// A Part is what one part of a mixture can be.
type Part struct {
	Any        []PartKind // one of them
	Conditions []string   // all of them; nil if none
}

// A PartKind says which species are meant.
type PartKind struct {
	Kind string // "class", "species", "ion" (contained as an ion), "element" (the element as a substance) or "with" (a compound of the element)
	Name string // of the class, or the formula as chem prints it
}

// conditions is the closed list. Package caution says when each is met.
var conditions = []string{"concentrated", "solid", "marked solid", "marked gas", "marked liquid", "dry", "hot", "in quantity", "on standing", "collected together", "product", "anywhere"}

// Mixtures returns the rows in order.
func Mixtures() []*Mixture { return mixtures() }

var mixtures = sync.OnceValue(func() []*Mixture { return must(loadMixtures(incompatibleTSV)) })

var mixtureColumns = []string{"id", "part_1", "part_2", "match_1", "match_2", "match_3", "where", "what_can_happen", "severity", "advice", "source", "confidence"}

func loadMixtures(text string) ([]*Mixture, error) {
	var all []*Mixture
	last := ""
	err := eachRow("incompatible.tsv", text, mixtureColumns, func(line string) error {
		m, err := readMixture(line)
		if err != nil {
			return err
		}
		if m.ID <= last {
			return fieldError("id", m.ID, "does not follow "+last)
		}
		last = m.ID
		all = append(all, m)
		return nil
	})
	return all, err
}

func readMixture(line string) (*Mixture, error) {
	f, err := fieldsOf(line, mixtureColumns)
	if err != nil {
		return nil, err
	}
	m := &Mixture{ID: f[0], Parts: [2]string{f[1], f[2]}, Reactants: f[6] == "reactants", WhatCanHappen: f[7], Severity: Severity(f[8]), Advice: f[9], Source: f[10], Confidence: f[11]}
	for i, text := range f[3:6] {
		if text == "" {
			continue
		}
		if len(m.Match) != i {
			return nil, fieldError(mixtureColumns[3+i], text, "follows an empty part")
		}
		p, err := readPart(mixtureColumns[3+i], text)
		if err != nil {
			return nil, err
		}
		m.Match = append(m.Match, p)
	}
	switch {
	case len(m.ID) != 4 || m.ID[0] != 'X':
		return nil, fieldError("id", m.ID, "is not X and three digits")
	case m.Parts[0] == "" || m.Match == nil:
		return nil, fieldError("part_1", m.Parts[0], "or what it matches is empty")
	case f[6] != "reactants" && f[6] != "any":
		return nil, rowField("where", f[6])
	case m.WhatCanHappen == "" || m.Advice == "":
		return nil, fieldError("what_can_happen", m.WhatCanHappen, "or the advice is empty")
	case m.Severity.Rank() < 0:
		return nil, rowField("severity", f[8])
	case m.Confidence != "memory":
		return nil, rowField("confidence", m.Confidence)
	}
	return m, nil
}

// readPart reads "class:acid|species:HClO4;concentrated;hot".
func readPart(column, text string) (Part, error) {
	kinds, rest, some := strings.Cut(text, ";")
	var p Part
	if some {
		p.Conditions = strings.Split(rest, ";")
	}
	for _, c := range p.Conditions {
		if !slices.Contains(conditions, c) {
			return p, fieldError(column, c, "is not a condition")
		}
	}
	var err error
	p.Any, err = ReadPartKinds(column, kinds)
	return p, err
}

// ReadPartKinds reads kinds parted by bars: "class:acid|species:HClO4". column
// is for errors.
func ReadPartKinds(column, text string) ([]PartKind, error) {
	var all []PartKind
	for k := range strings.SplitSeq(text, "|") {
		kind, name, _ := strings.Cut(k, ":")
		switch kind {
		case "class":
			if name == "" {
				return nil, fieldError(column, k, "names no class")
			}
		case "species", "ion":
			s, err := knownSpecies(column, name)
			if err != nil {
				return nil, err
			}
			if (kind == "ion") != (s.Charge() != 0) && kind == "ion" {
				return nil, fieldError(column, k, "is not an ion")
			}
		case "element", "with":
			if _, ok := chem.ElementBySymbol(name); !ok {
				return nil, fieldError(column, k, "does not name an element")
			}
		default:
			return nil, fieldError(column, k, "is not class, species, ion, element or with")
		}
		all = append(all, PartKind{kind, name})
	}
	return all, nil
}
