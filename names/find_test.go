package names

import (
	"bytes"
	_ "embed"
	"encoding/json"
	"io"
	"strings"
	"testing"

	"halves/chem"
	"halves/reference"
)

// namesJSONL holds names with the particles that they stand for; each row
// names its source.
//
//go:embed testdata/names.jsonl
var namesJSONL []byte

type nameRow struct {
	ID, Name, Formula string
	Charge            int64
	Atoms             map[string]int64
	Also              []string
	Source            string
}

func nameRows(t *testing.T) []nameRow {
	t.Helper()
	d := json.NewDecoder(bytes.NewReader(namesJSONL))
	d.DisallowUnknownFields()
	var all []nameRow
	for {
		var row nameRow
		if err := d.Decode(&row); err == io.EOF {
			return all
		} else if err != nil {
			t.Fatal(err)
		}
		all = append(all, row)
	}
}

func TestFindNamesOfCourses(t *testing.T) {
	rows := nameRows(t)
	if len(rows) != 60 {
		t.Fatalf("%d rows, want 60", len(rows))
	}
	for _, row := range rows {
		for _, name := range append([]string{row.Name}, row.Also...) {
			s, err := Find(name)
			if err != nil {
				t.Errorf("%s: Find(%s): %v", row.ID, name, err)
				continue
			}
			same := s.Charge() == row.Charge && len(s.Composition()) == len(row.Atoms)
			for _, n := range s.Composition() {
				same = same && row.Atoms[n.Element.Symbol()] == n.Atoms
			}
			if !same {
				t.Errorf("%s: Find(%s) = %s, want %s", row.ID, name, s, row.Formula)
			}
		}
	}
}

// coursesText holds lines "name = formula" under comments that give the source.
//
//go:embed testdata/courses.txt
var coursesText string

func TestFindNamesOfFirstYear(t *testing.T) {
	for line := range strings.Lines(coursesText) {
		name, want, ok := strings.Cut(strings.TrimSpace(line), " = ")
		if !ok {
			if line[0] != '#' {
				t.Errorf("the line %q has no formula", line)
			}
			continue
		}
		if s, err := Find(name); err != nil || s.String() != want {
			t.Errorf("Find(%s) = %v, %v, want %s", name, s, err, want)
		}
	}
}

// Every name of the table leads to its row.
func TestFindNamesOfTheTable(t *testing.T) {
	for _, e := range reference.Species().All() {
		for _, name := range e.Names {
			if strings.HasSuffix(name, ")") && strings.Contains(name, " (") {
				continue // a remark
			}
			s, err := Find(name)
			if err != nil || s != e.Species {
				t.Errorf("Find(%s) = %v, %v, want %s", name, s, err, e.Species)
			}
		}
	}
}

func mustRead(t testing.TB, text string) *chem.Species {
	t.Helper()
	r, err := chem.ReadSpecies(text, nil)
	if err != nil {
		t.Fatalf("ReadSpecies(%s): %v", text, err)
	}
	return r[0].Species
}

func BenchmarkFind(b *testing.B) {
	for _, name := range []string{"permanganate ion", "manganate(VII)", "iron(III) sulfate", "hexacyanidoferrate(III) ion", "calcium dihydrogenphosphate", "copper(II) sulfate pentahydrate", "tetraaquadichloridochromium(III) chloride"} {
		Find(name)
		b.Run(name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				Find(name)
			}
		})
	}
}
