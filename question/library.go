package question

import (
	_ "embed"
	"fmt"
	"strconv"
	"strings"
	"sync"

	"halves/chem"
	"halves/redox"
	"halves/reference"
)

//go:embed library.tsv
var libraryTSV string

// A row is a line of the curated library (see LIBRARY.md).
type row struct {
	id, text     string
	medium       redox.Medium
	kinds        []string
	grade        int // a teacher's judgement, 1 to 10, made before the measure
	source, note string
	skeleton     chem.Equation // the likeliest reading
}

var libraryColumns = []string{"id", "skeleton", "medium", "kind", "grade", "source", "note"}

// libraryRows are the lines of the library, read but not worked.
var libraryRows = sync.OnceValue(func() []row {
	rows, err := readLibrary(libraryTSV)
	if err != nil {
		panic(err) // a broken table of the program: a test visits every row
	}
	return rows
})

func readLibrary(text string) ([]row, error) {
	lines := strings.Split(strings.TrimRight(text, "\n"), "\n")
	if lines[0] != strings.Join(libraryColumns, "\t") {
		return nil, fmt.Errorf("library.tsv, row 1: the columns are %q", lines[0])
	}
	var out []row
	for i, line := range lines[1:] {
		f := strings.Split(line, "\t")
		if len(f) != len(libraryColumns) {
			return nil, fmt.Errorf("library.tsv, row %d: %d fields, not %d", i+2, len(f), len(libraryColumns))
		}
		r := row{id: f[0], text: f[1], source: f[5], note: f[6]}
		var err error
		if r.medium, err = redox.ParseMedium(f[2]); err != nil {
			return nil, fmt.Errorf("library.tsv, row %d: %w", i+2, err)
		}
		if r.grade, err = strconv.Atoi(f[4]); err != nil || r.grade < 1 || r.grade > 10 {
			return nil, fmt.Errorf("library.tsv, row %d: the grade %q is not from 1 to 10", i+2, f[4])
		}
		for _, k := range strings.Split(f[3], ",") {
			r.kinds = append(r.kinds, strings.TrimSpace(k))
		}
		e, err := chem.ReadEquation(r.text, reference.Species())
		if err != nil {
			return nil, fmt.Errorf("library.tsv, row %d: %w", i+2, err)
		}
		r.skeleton = e.All[0].Equation
		out = append(out, r)
	}
	return out, nil
}

// Library returns the questions of the curated library, in the order of the
// table.
func Library() []*Question { return library().questions }

// worked is the library, with the couples that its halves are.
type worked struct {
	questions []*Question
	couples   map[string]int // how many have it as a half; see coupleKey
	// becomes tells of a reagent, in a medium and a role, which couples it is in, and
	// how often.
	becomes map[use]map[string]int
}

// A use is a reagent that is reduced or oxidized in a medium.
type use struct {
	medium  redox.Medium
	role    redox.Role
	reagent string // key
}

// usual reports whether the library has a reagent become what a couple says, or
// meets it too seldom to know.
func (w worked) usual(m redox.Medium, role redox.Role, reagents []*chem.Species, couple string) bool {
	const often = 3
	for _, s := range reagents {
		all := w.becomes[use{m, role, s.Key()}]
		n := 0
		for _, k := range all {
			n += k
		}
		if n >= often && all[couple] == 0 {
			return false
		}
	}
	return true
}

var library = sync.OnceValue(func() worked {
	out := worked{couples: map[string]int{}, becomes: map[use]map[string]int{}}
	for _, r := range libraryRows() {
		s, err := redox.Work(r.text, r.medium, redox.Conventions{})
		var q *Question
		if err == nil {
			q, err = fromSolution(r.id, r.text, s)
		}
		if err != nil {
			panic(fmt.Errorf("library.tsv, %s: %w", r.id, err)) // a test visits every row
		}
		q.Source, q.Note = r.source, r.note
		out.questions = append(out.questions, q)
		for _, h := range s.Halves {
			left, right := mains(h.Skeleton.Left), mains(h.Skeleton.Right)
			reagents := left
			if h.Role == redox.Oxidation {
				left, right = right, left
			}
			key := coupleKey(left, right)
			out.couples[key]++
			if len(reagents) == 1 { // of several, which is the reagent is not told
				u := use{s.Medium, h.Role, reagents[0].Key()}
				if out.becomes[u] == nil {
					out.becomes[u] = map[string]int{}
				}
				out.becomes[u][key]++
			}
		}
	}
	return out
})

// coupleKey names a couple by its species without water and its ions.
func coupleKey(oxidized, reduced []*chem.Species) string {
	return keysOf(oxidized) + "/" + keysOf(reduced)
}
