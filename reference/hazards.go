package reference

import (
	_ "embed"
	"fmt"
	"slices"
	"strings"
	"sync"

	"halves/chem"
)

//go:embed hazards.tsv
var hazardsTSV string

// A Hazard is a row of the table of hazards: a reagent in one form or strength.
//
// The rows are from memory of classifications, which change; a missing row or
// code never means that a substance is safe.
type Hazard struct {
	Formula      *chem.Species // without phase
	Name         string
	Form         string          // in words: "solid", "dilute, 5 to 8 %"
	Phases       []chem.Phase    // that the form covers, at least one
	Supplies     []*chem.Species // what is dissolved when this usual reagent is; nil if none
	H            []string        // codes for Statement; nil where usually not classified
	Signal       string          // "Danger", "Warning" or ""
	Basis        string          // of the classification
	Incompatible []string        // in words, nil if none
	Control      string
	Waste        string
	Source       string // a key for SourceOf
	Confidence   string // "memory"
}

// Covers reports whether the form of the row can have this phase.
func (h *Hazard) Covers(p chem.Phase) bool { return slices.Contains(h.Phases, p) }

// Hazards returns the rows in order: the usual reagent for an ion before the
// others, the rows of one formula together, the strongest solution first.
func Hazards() []*Hazard { return hazards().rows }

// HazardsOf returns the rows of this formula, nil if none. A known other
// spelling finds them too; the water of a hydrate is not added or taken away.
func HazardsOf(s *chem.Species) []*Hazard {
	return hazards().byFormula[knownKey(s)]
}

// HazardsOfHydrates returns the rows of the same salt with other water or none
// (CuSO4 for CuSO4.5H2O, and back), nil if none.
func HazardsOfHydrates(s *chem.Species) []*Hazard {
	return hazards().byAnhydrous[anhydrous(s)]
}

// anhydrous is the key of s without its water of crystallization.
func anhydrous(s *chem.Species) string {
	key := knownKey(s)
	if i := strings.LastIndexByte(key, '.'); i > 0 && strings.HasSuffix(key, "H2O") {
		return key[:i]
	}
	return key
}

// HazardsSupplying returns, for each usual reagent that gives this species when
// it is dissolved, its rows.
func HazardsSupplying(s *chem.Species) [][]*Hazard {
	return hazards().bySupply[knownKey(s)]
}

// knownKey is the key of the row that spells s, else its own.
func knownKey(s *chem.Species) string {
	if e := Species().Find(s); e != nil {
		return e.Species.Key()
	}
	return s.Key()
}

type hazardTable struct {
	rows        []*Hazard
	byFormula   map[string][]*Hazard
	byAnhydrous map[string][]*Hazard
	bySupply    map[string][][]*Hazard
}

var hazards = sync.OnceValue(func() *hazardTable { return must(loadHazards(hazardsTSV)) })

var hazardColumns = []string{"formula", "name", "form", "phases", "supplies", "H_codes", "signal_word", "basis", "incompatible_with", "typical_control", "waste_note", "source", "confidence"}

var hazardBases = []string{"harmonised entry or its concentration rule", "common SDS classification", "usually not classified"}

func loadHazards(text string) (*hazardTable, error) {
	t := &hazardTable{byFormula: map[string][]*Hazard{}, byAnhydrous: map[string][]*Hazard{}, bySupply: map[string][][]*Hazard{}}
	last := ""
	err := eachRow("hazards.tsv", text, hazardColumns, func(line string) error {
		h, err := readHazard(line)
		if err != nil {
			return err
		}
		key := h.Formula.Key()
		if _, earlier := t.byFormula[key]; earlier && key != last {
			return fieldError("formula", key, "stands apart from its other rows")
		} else if earlier && h.Supplies != nil {
			return fieldError("supplies", key, "is filled in a row that is not the first of its formula")
		}
		last = key
		t.rows = append(t.rows, h)
		t.byFormula[key] = append(t.byFormula[key], h)
		dry := anhydrous(h.Formula)
		t.byAnhydrous[dry] = append(t.byAnhydrous[dry], h)
		return nil
	})
	for _, h := range t.rows {
		for _, s := range h.Supplies {
			t.bySupply[s.Key()] = append(t.bySupply[s.Key()], t.byFormula[h.Formula.Key()])
		}
	}
	return t, err
}

func readHazard(line string) (*Hazard, error) {
	f, err := fieldsOf(line, hazardColumns)
	if err != nil {
		return nil, err
	}
	h := &Hazard{Name: f[1], Form: f[2], Signal: f[6], Basis: f[7], Control: f[9], Waste: f[10], Source: f[11], Confidence: f[12]}
	if h.Formula, err = knownSpecies("formula", f[0]); err != nil {
		return nil, err
	}
	for p := range strings.SplitSeq(f[3], "|") {
		phase, ok := phases[p]
		if !ok {
			return nil, fieldError("phases", p, "is not s, l, g or aq")
		}
		h.Phases = append(h.Phases, phase)
	}
	if f[4] != "" {
		for text := range strings.SplitSeq(f[4], "|") {
			s, err := knownSpecies("supplies", text)
			if err != nil {
				return nil, err
			}
			h.Supplies = append(h.Supplies, s)
		}
	}
	for code := range strings.FieldsSeq(f[5]) {
		if _, ok := Statement(code); !ok {
			return nil, fieldError("H_codes", code, "has no statement")
		}
		h.H = append(h.H, code)
	}
	if f[8] != "" {
		h.Incompatible = splitOutside(f[8])
	}
	switch {
	case h.Name == "" || h.Form == "":
		return nil, fieldError("name", h.Name, "or its form is empty")
	case !slices.Contains([]string{"", "Danger", "Warning"}, h.Signal):
		return nil, fieldError("signal_word", h.Signal, "is not Danger or Warning")
	case h.Signal != "" && h.H == nil:
		return nil, fieldError("signal_word", h.Signal, "stands without a code")
	case !slices.Contains(hazardBases, h.Basis) || (h.H == nil) != (h.Basis == hazardBases[2]):
		return nil, fieldError("basis", h.Basis, "does not agree with the codes")
	case h.Confidence != "memory":
		return nil, fieldError("confidence", h.Confidence, "is not memory")
	}
	return h, nil
}

// splitOutside splits at ", " where it is outside brackets.
func splitOutside(text string) []string {
	var parts []string
	depth, from := 0, 0
	for i := range len(text) {
		switch {
		case text[i] == '(':
			depth++
		case text[i] == ')':
			depth--
		case depth == 0 && strings.HasPrefix(text[i:], ", "):
			parts = append(parts, text[from:i])
			from = i + 2
		}
	}
	return append(parts, text[from:])
}

// knownSpecies reads a species that has a row of its own in the table of
// species.
func knownSpecies(column, text string) (*chem.Species, error) {
	s, err := readOne(column, text)
	if err != nil {
		return nil, err
	}
	if e := Species().Find(s); e == nil || !e.Species.Same(s) {
		return nil, fieldError(column, text, "is not a formula of the table of species")
	}
	return s, nil
}

// Statement returns the hazard statement of a code, and whether it is known.
// The code alone, without the letters that follow (H360FD), has the general
// wording.
//
// The wording is that of the United Nations GHS (Rev. 10, 2023, annex 3) and,
// for the letters and the EUH codes, of Regulation (EC) 1272/2008, annex III:
// from memory.
func Statement(code string) (string, bool) {
	s, ok := statements[code]
	return s, ok
}

var statements = map[string]string{
	"H201":   "Explosive; mass explosion hazard",
	"H220":   "Extremely flammable gas",
	"H221":   "Flammable gas",
	"H224":   "Extremely flammable liquid and vapour",
	"H225":   "Highly flammable liquid and vapour",
	"H226":   "Flammable liquid and vapour",
	"H228":   "Flammable solid",
	"H250":   "Catches fire spontaneously if exposed to air",
	"H251":   "Self-heating; may catch fire",
	"H260":   "In contact with water releases flammable gases which may ignite spontaneously",
	"H261":   "In contact with water releases flammable gas",
	"H270":   "May cause or intensify fire; oxidizer",
	"H271":   "May cause fire or explosion; strong oxidizer",
	"H272":   "May intensify fire; oxidizer",
	"H280":   "Contains gas under pressure; may explode if heated",
	"H290":   "May be corrosive to metals",
	"H300":   "Fatal if swallowed",
	"H301":   "Toxic if swallowed",
	"H302":   "Harmful if swallowed",
	"H304":   "May be fatal if swallowed and enters airways",
	"H310":   "Fatal in contact with skin",
	"H311":   "Toxic in contact with skin",
	"H312":   "Harmful in contact with skin",
	"H314":   "Causes severe skin burns and eye damage",
	"H315":   "Causes skin irritation",
	"H317":   "May cause an allergic skin reaction",
	"H318":   "Causes serious eye damage",
	"H319":   "Causes serious eye irritation",
	"H330":   "Fatal if inhaled",
	"H331":   "Toxic if inhaled",
	"H332":   "Harmful if inhaled",
	"H334":   "May cause allergy or asthma symptoms or breathing difficulties if inhaled",
	"H335":   "May cause respiratory irritation",
	"H336":   "May cause drowsiness or dizziness",
	"H340":   "May cause genetic defects",
	"H341":   "Suspected of causing genetic defects",
	"H350":   "May cause cancer",
	"H350i":  "May cause cancer by inhalation",
	"H351":   "Suspected of causing cancer",
	"H360D":  "May damage the unborn child",
	"H360Df": "May damage the unborn child. Suspected of damaging fertility",
	"H360F":  "May damage fertility",
	"H360FD": "May damage fertility. May damage the unborn child",
	"H361":   "Suspected of damaging fertility or the unborn child",
	"H361d":  "Suspected of damaging the unborn child",
	"H361f":  "Suspected of damaging fertility",
	"H361fd": "Suspected of damaging fertility. Suspected of damaging the unborn child",
	"H362":   "May cause harm to breast-fed children",
	"H370":   "Causes damage to organs",
	"H372":   "Causes damage to organs through prolonged or repeated exposure",
	"H373":   "May cause damage to organs through prolonged or repeated exposure",
	"H400":   "Very toxic to aquatic life",
	"H410":   "Very toxic to aquatic life with long lasting effects",
	"H411":   "Toxic to aquatic life with long lasting effects",
	"H412":   "Harmful to aquatic life with long lasting effects",
	"H420":   "Harms public health and the environment by destroying ozone in the upper atmosphere",
	"EUH014": "Reacts violently with water",
	"EUH031": "Contact with acids liberates toxic gas",
	"EUH032": "Contact with acids liberates very toxic gas",
	"EUH071": "Corrosive to the respiratory tract",
}

func rowField(column, text string) error {
	return fieldError(column, text, fmt.Sprintf("is not of the closed list of %q", column))
}
