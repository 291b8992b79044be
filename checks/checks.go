// Package checks holds published and derivable cases to test the program
// against: test data only, which no package of the program imports.
package checks

import (
	"bytes"
	_ "embed"
	"encoding/json"
	"fmt"
	"io"
	"strings"
)

// An Equation is a skeleton equation with its answer.
type Equation struct {
	ID, Category string
	Medium       string // acidic, basic, neutral or none
	Skeleton     string
	Answer       string   // in lowest whole numbers
	Electrons    *int64   // transferred in Answer; nil where convention decides
	Oxidized     []string // reactants that hold the atoms which are oxidized
	Reduced      []string
	Source, Note string
}

// An AmbiguousRow is a skeleton whose ratio is not fixed.
type AmbiguousRow struct {
	ID, Skeleton, Medium string
	Nullity              int
	Species              []string  // of the skeleton, then those that the medium adds
	Basis                [][]int64 // of the null space; negative on the left
	Examples             []string
	Note                 string
}

// An ImpossibleRow is a skeleton without an answer, without redox, or with one
// half only.
type ImpossibleRow struct {
	ID, Skeleton, Medium string
	Expect               string   // element-on-one-side, charge-cannot-balance, no-redox, only-oxidation or only-reduction
	AlsoAcceptable       []string `json:"also_acceptable"`
	Why                  string
	Balanced             string // "" where nothing balances
}

// A MalformedRow is a line as people mistype or paste it.
type MalformedRow struct {
	ID, Input string
	Expect    string // error or ok-as
	OkAs      string `json:"ok_as"` // what is understood, "" for an error
	Why, Alt  string
	Medium    string // of OkAs
	Balanced  string // OkAs in lowest whole numbers
}

// Particle says what a formula holds.
type Particle struct {
	Atoms  map[string]int64 // by symbol
	Charge int64
}

// A NotationRow is a formula as it is typed.
type NotationRow struct {
	ID, Input string
	Particle
	Tier      int    // 1 must be read, 2 should be, 3 may be refused but never misread
	Canonical string // plain text
	Ambiguous bool
	Also      []Particle // further readings of an ambiguous row
	Note      string
}

// A StatesRow is a formula with its oxidation states.
type StatesRow struct {
	ID, Formula string
	Charge      int64
	// States holds by symbol one value, or one a site where sites differ.
	States       map[string][]State
	Average      map[string]State // where sites differ
	Source, Note string
}

// A State is an oxidation state as text without a plus sign: "2", "-1/2".
type State string

// UnmarshalJSON takes whole numbers and text.
func (s *State) UnmarshalJSON(b []byte) error {
	*s = State(strings.Trim(string(b), `"`))
	return nil
}

//go:embed equations.jsonl
var equations []byte

//go:embed ambiguous.jsonl
var ambiguous []byte

//go:embed impossible.jsonl
var impossible []byte

//go:embed malformed.jsonl
var malformed []byte

//go:embed notation.jsonl
var notation []byte

//go:embed oxidation_states.jsonl
var oxidationStates []byte

// Equations returns the equations with one answer.
func Equations() []Equation { return rows[Equation]("equations", equations) }

// Ambiguous returns the skeletons whose ratio is not fixed.
func Ambiguous() []AmbiguousRow { return rows[AmbiguousRow]("ambiguous", ambiguous) }

// Impossible returns the skeletons that are refused, or balance without redox.
func Impossible() []ImpossibleRow { return rows[ImpossibleRow]("impossible", impossible) }

// Malformed returns the mistyped lines.
func Malformed() []MalformedRow { return rows[MalformedRow]("malformed", malformed) }

// Notation returns the formulas in many notations.
func Notation() []NotationRow { return rows[NotationRow]("notation", notation) }

// OxidationStates returns the formulas with their oxidation states.
func OxidationStates() []StatesRow { return rows[StatesRow]("oxidation_states", oxidationStates) }

// rows reads JSON lines. A mistake in the data is a mistake in the tests, so
// it panics.
func rows[T any](name string, data []byte) []T {
	d := json.NewDecoder(bytes.NewReader(data))
	d.DisallowUnknownFields()
	var all []T
	for {
		var row T
		switch err := d.Decode(&row); {
		case err == io.EOF:
			return all
		case err != nil:
			panic(fmt.Sprintf("checks: %s.jsonl, row %d: %v", name, len(all)+1, err))
		}
		all = append(all, row)
	}
}
