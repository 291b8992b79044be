package question

import (
	"fmt"
	"math/bits"
	"strings"

	"halves/internal/nearest"
)

// Features are a set of what a working asks of a student.
type Features uint32

// The features, in the order in which a course meets them.
const (
	OtherAtoms         Features = 1 << iota // a coefficient before the atoms that change
	Water                                   // oxygen balanced in one half
	WaterTwice                              // in both halves
	Hydrogen                                // hydrogen balanced in a half
	Multiply                                // the electrons of the halves differ
	MultiplyBoth                            // both halves are multiplied
	Cancel                                  // water or its ions cancel in the sum
	CommonFactor                            // the sum is divided at the end
	InBase                                  // hydrogen ions are neutralized
	NothingAdded                            // every species is there from the beginning
	Spectators                              // a molecular equation: ions apart and together again
	Disproportionation                      // one species is both oxidized and reduced
	Comproportionation                      // one element comes together from two states
	SeveralElements                         // more than two changes
	AverageState                            // a state that is no whole number
	Complex                                 // an ion with ligands
	Organic                                 // a compound of carbon with hydrogen
	Unfamiliar                              // a species that a first course does not meet
)

// FeatureNames are the names of the features, by their order: in wishes, flags
// and tags.
var FeatureNames = []string{
	"other-atoms", "water", "water-twice", "hydrogen", "multiply", "multiply-both", "cancel", "common-factor", "base", "nothing-added",
	"spectators", "disproportionation", "comproportionation", "several-elements", "average-state", "complex", "organic", "unfamiliar",
}

// featureWords say the features to a teacher, by their order.
var featureWords = []string{
	"a coefficient before the main atom", "water in one half", "water in both halves", "hydrogen ions in a half", "one half multiplied", "both halves multiplied",
	"water or its ions cancel", "a common factor at the end", "in base", "nothing may be added", "spectator ions", "disproportionation",
	"comproportionation", "more than two changes", "an average oxidation state", "a complex ion", "organic", "unfamiliar species",
}

// Has reports whether all of g are in f.
func (f Features) Has(g Features) bool { return f&g == g }

// Names lists the features of the set.
func (f Features) Names() []string { return f.pick(FeatureNames) }

// Words lists the features in words.
func (f Features) Words() []string { return f.pick(featureWords) }

func (f Features) pick(from []string) []string {
	out := make([]string, 0, bits.OnesCount32(uint32(f)))
	for i, s := range from {
		if f&(1<<i) != 0 {
			out = append(out, s)
		}
	}
	return out
}

// String lists the names, parted by commas.
func (f Features) String() string { return strings.Join(f.Names(), ", ") }

// ParseFeature reads the name of a feature. The error names the nearest.
func ParseFeature(s string) (Features, error) {
	for i, name := range FeatureNames {
		if strings.EqualFold(s, name) {
			return 1 << i, nil
		}
	}
	return 0, unknownWord("feature", s, FeatureNames)
}

// A WordError is a word that stands for nothing here.
type WordError struct{ What, Word, Nearest string }

func unknownWord(what, word string, known []string) *WordError {
	return &WordError{what, word, nearest.Word(word, func(yield func(string) bool) {
		for _, k := range known {
			if !yield(k) {
				return
			}
		}
	})}
}

func (e *WordError) Error() string { return fmt.Sprintf("no %s is called %q", e.What, e.Word) }

// Hint names the nearest word, or "".
func (e *WordError) Hint() string {
	if e.Nearest == "" {
		return ""
	}
	return "did you mean " + e.Nearest + "?"
}
