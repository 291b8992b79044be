package marking

import (
	"errors"
	"strings"
	"testing"
)

func TestReadScheme(t *testing.T) {
	s, err := ReadScheme([]byte("# for the test in week 5\nspecies: 1\noxidation: 2\nfinal: 0\nworking: true\n"))
	if err != nil || s.Worth[SpeciesStep] != 1 || s.Worth[OxidationStep] != 2 || s.Worth[FinalStep] != 0 || !s.Working || s.OutOf() != 3 {
		t.Errorf("read %+v, %v", s, err)
	}
	tests := []struct{ text, says, hint string }{
		{"", "no marks", "oxidation: 2"},
		{"species: 1\noxydation: 2", "line 2, column 1: there is no step", "did you mean oxidation?"},
		{"species: 1\n\nfinal: -1", "line 3, column 1: final cannot be worth -1", "whole number"},
		{"species: 1.5", "line 1, column 1: species cannot be worth 1.5", "whole number"},
		{"species: [1]", "species cannot be worth", "whole number"},
		{"species: 1000", "cannot be worth 1000", "whole number"},
		{"working: 3\nspecies: 1", "working cannot be 3", "true or false"},
		{"species: 1\nspecies: 2", "line 2", "oxidation: 2"},
		{"species: {", "line 1", "oxidation: 2"},
		{"just words", "", "oxidation: 2"},
		{"\xff", "no text", "oxidation: 2"},
	}
	for _, test := range tests {
		_, err := ReadScheme([]byte(test.text))
		var e *SchemeError
		if !errors.As(err, &e) || !strings.Contains(e.Error(), test.says) || !strings.Contains(e.Hint, test.hint) {
			t.Errorf("%q: %v, hint %q; want %q, %q", test.text, err, func() string {
				if e != nil {
					return e.Hint
				}
				return ""
			}(), test.says, test.hint)
		}
	}
}

func FuzzReadScheme(f *testing.F) {
	for _, s := range []string{"species: 1", "working: true\nfinal: 2", "a: &x [*x]", "? {", "- 1", "species: !!int 3", "species: 0x10"} {
		f.Add([]byte(s))
	}
	f.Fuzz(func(t *testing.T, text []byte) {
		s, err := ReadScheme(text)
		if err == nil && (s.OutOf() < 1 || s.OutOf() > maxWorth*len(Steps)) {
			t.Errorf("%q gives %d marks", text, s.OutOf())
		}
	})
}
