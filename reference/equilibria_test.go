package reference_test

import (
	"math"
	"slices"
	"strconv"
	"strings"
	"testing"

	"halves/reference"
)

func TestEquilibriumRows(t *testing.T) {
	seen := map[string]bool{}
	for i, e := range reference.Equilibria() {
		name := e.Kind + " " + e.Species.String()
		if e.Row != i {
			t.Errorf("%s: row %d, want %d", name, e.Row, i)
		}
		if !slices.Contains([]string{"Ksp", "Kf", "Ka", "Kb", "Kw"}, e.Kind) {
			t.Errorf("%s: kind", name)
		}
		if key := name + e.Note; seen[key] {
			t.Errorf("%s stands twice without a note that tells the two apart", name)
		} else {
			seen[key] = true
		}
		checkReaction(t, name, e.Reaction)
		checkSource(t, name, e.Source, e.Confidence)
		k, err := strconv.ParseFloat(e.Text, 64)
		if err != nil || math.Abs(math.Log10(k)-e.LogK) > 0.0151 {
			t.Errorf("%s: K %s and log K %v", name, e.Text, e.LogK)
		}
	}
}

// A constant and the free energies of its reaction: log K = -dG/(RT ln 10).
// Where they differ by more than a power of ten, the note says so.
func TestEquilibriaFromFormations(t *testing.T) {
	n, close := 0, 0
	for _, e := range reference.Equilibria() {
		g, complete := 0.0, true
		for side, term := range e.Reaction.Terms {
			f := reference.Formations().Find(term.Species)
			if f == nil {
				complete = false
				break
			}
			g += float64(side*term.Coefficient.Num()) * f.G
		}
		if !complete {
			continue
		}
		n++
		logK := -1000 * g / (gasConstant * kelvin * math.Ln10)
		name := strings.TrimSpace(e.Kind + " " + e.Species.String() + " " + e.Note)
		switch gap := math.Abs(logK - e.LogK); {
		case e.Source == "derived" && gap > 0.05:
			t.Errorf("%s: log K %v, the free energies give %.2f", name, e.LogK, logK)
		case gap <= 1:
			close++
		case !strings.Contains(e.Note, "free energies") && !strings.Contains(e.Note, "printed"):
			t.Errorf("%s: log K %v, the free energies give %.2f, and nothing is said of it", name, e.LogK, logK)
		default:
			t.Logf("%s: log K %v, the free energies give %.2f", name, e.LogK, logK)
		}
	}
	if n < 100 || close < 90 {
		t.Errorf("%d of %d constants agree within a power of ten", close, n)
	}
}

func TestTitrationFacts(t *testing.T) {
	seen := map[string]bool{}
	for i, f := range reference.TitrationFacts() {
		if f.Row != i || f.ID == "" || f.Topic == "" || f.Fact == "" || seen[f.ID] {
			t.Errorf("row %d: %+v", i+2, f)
		}
		seen[f.ID] = true
		checkSource(t, f.ID, f.Source, f.Confidence)
		if f.Value == "" && f.Note == "" && !strings.Contains(f.Topic, "condition") && !strings.Contains(f.Topic, "relation") && !strings.Contains(f.Topic, "indicator") && !strings.HasPrefix(f.Topic, "pre") {
			t.Errorf("%s says nothing but %q", f.ID, f.Fact)
		}
		if equation, ok := equationOf(f.Fact); ok {
			checkTyped(t, f.ID, equation)
		}
	}
}
