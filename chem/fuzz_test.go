package chem_test

import (
	"errors"
	"fmt"
	"strings"
	"testing"
	"time"
	"unicode/utf8"

	"halves/checks"
	"halves/chem"
	"halves/reference"
)

// deadline is generous: a line is read in milliseconds, and what passes two
// seconds hangs.
const deadline = 2 * time.Second

// readError says what is wrong with an error of a reader, "" for nothing.
func readError(text string, err error) string {
	var syntax *chem.SyntaxError
	var large *chem.TooLargeError
	var offset, width int
	var msg string
	switch {
	case errors.As(err, &syntax):
		offset, width, msg = syntax.Offset, syntax.Width, syntax.Msg
		if syntax.Text != text {
			return fmt.Sprintf("error is about %q", syntax.Text)
		}
		if c := syntax.Column(); c < 1 || c > utf8.RuneCountInString(text)+1 {
			return fmt.Sprintf("error in column %d", c)
		}
	case errors.As(err, &large):
		offset, width, msg = large.Offset, large.Width, large.Msg
		if large.Text != text {
			return fmt.Sprintf("error is about %q", large.Text)
		}
	default:
		return fmt.Sprintf("error of type %T: %v", err, err)
	}
	switch {
	case offset < 0 || width < 0 || offset+width > len(text):
		return fmt.Sprintf("error at %d, width %d, in a text of %d bytes", offset, width, len(text))
	case msg == "" || err.Error() == "":
		return "error without a message"
	case offset < len(text) && utf8.ValidString(text) && !utf8.RuneStart(text[offset]):
		return fmt.Sprintf("error at %d, inside a character", offset)
	}
	return ""
}

// readBack says how s differs from what its texts are read as, "" for not.
func readBack(s *chem.Species) string {
	for _, text := range []string{s.String(), chem.UnicodeText(s.Runs())} {
		if utf8.RuneCountInString(text) > chem.MaxLine {
			continue
		}
		again, err := chem.ReadSpecies(text, nil)
		if err != nil {
			return fmt.Sprintf("ReadSpecies(%s): %v", text, err)
		}
		if len(again) != 1 {
			return fmt.Sprintf("ReadSpecies(%s) has %d readings, want 1", text, len(again))
		}
		if d := differs(again[0].Species, s); d != "" {
			return fmt.Sprintf("ReadSpecies(%s): %s", text, d)
		}
	}
	return ""
}

func differs(got, want *chem.Species) string {
	switch {
	case got.String() != want.String():
		return fmt.Sprintf("String() = %s, want %s", got, want)
	case got.Key() != want.Key():
		return fmt.Sprintf("Key() = %s, want %s", got.Key(), want.Key())
	case got.Charge() != want.Charge():
		return fmt.Sprintf("Charge() = %d, want %d", got.Charge(), want.Charge())
	case !got.Composition().Equal(want.Composition()):
		return fmt.Sprintf("Composition() = %v, want %v", got.Composition(), want.Composition())
	}
	return ""
}

func FuzzSpecies(f *testing.F) {
	for _, r := range checks.Notation() {
		f.Add(r.Input)
	}
	for _, r := range checks.OxidationStates() {
		f.Add(r.Formula)
	}
	for _, r := range typedForms {
		f.Add(r.typed)
	}
	for _, r := range speciesRefusals {
		f.Add(unmarked(r.text))
	}
	f.Fuzz(func(t *testing.T, text string) {
		start := time.Now()
		for _, lexicon := range []chem.Lexicon{nil, reference.Species()} {
			readings, err := chem.ReadSpecies(text, lexicon)
			if err != nil {
				if bad := readError(text, err); bad != "" {
					t.Fatalf("ReadSpecies(%q): %s", text, bad)
				}
				continue
			}
			if len(readings) == 0 {
				t.Fatalf("ReadSpecies(%q) gives neither readings nor an error", text)
			}
			for _, r := range readings {
				if bad := readBack(r.Species); bad != "" {
					t.Fatalf("ReadSpecies(%q) gives %s, but %s", text, r.Species, bad)
				}
			}
		}
		if d := time.Since(start); d > deadline {
			t.Fatalf("ReadSpecies(%q) took %v", text, d)
		}
	})
}

func FuzzEquation(f *testing.F) {
	for _, r := range checks.Equations() {
		f.Add(r.Skeleton)
		f.Add(r.Answer)
	}
	for _, r := range checks.Ambiguous() {
		f.Add(r.Skeleton)
	}
	for _, r := range checks.Impossible() {
		f.Add(r.Skeleton)
	}
	for _, r := range checks.Malformed() {
		f.Add(r.Input)
	}
	for _, r := range typedForms {
		f.Add(r.typed + " -> Zn + " + r.typed)
		f.Add(r.typed + "+Zn->" + r.typed)
	}
	for _, r := range equationRefusals {
		f.Add(unmarked(r.text))
	}
	for _, r := range worstLines() {
		f.Add(r.line)
	}
	f.Fuzz(func(t *testing.T, text string) {
		start := time.Now()
		for _, lexicon := range []chem.Lexicon{nil, reference.Species()} {
			readings, err := chem.ReadEquation(text, lexicon)
			if err != nil {
				if bad := readError(text, err); bad != "" {
					t.Fatalf("ReadEquation(%q): %s", text, bad)
				}
				continue
			}
			if n := len(readings.All); n == 0 || n > chem.MaxReadings {
				t.Fatalf("ReadEquation(%q) gives %d readings and no error", text, n)
			}
			for i, r := range readings.All {
				e := r.Equation
				if len(e.Left) == 0 || len(e.Right) == 0 || len(e.Left)+len(e.Right) > chem.MaxTerms {
					t.Fatalf("ReadEquation(%q) gives an equation of %d and %d terms", text, len(e.Left), len(e.Right))
				}
				for _, a := range r.Assumptions {
					if a.Typed == "" || a.Read == nil || a.Offset < 0 || a.Offset+len(a.Typed) > len(text) || !strings.HasPrefix(text[a.Offset:], a.Typed) {
						t.Fatalf("ReadEquation(%q) assumes %q at %d", text, a.Typed, a.Offset)
					}
				}
				if i > 3 { // the others differ in single terms, which FuzzSpecies sees
					continue
				}
				if bad := equationReadsBack(e); bad != "" {
					t.Fatalf("ReadEquation(%q) gives %s, but %s", text, e, bad)
				}
			}
		}
		if d := time.Since(start); d > deadline {
			t.Fatalf("ReadEquation(%q) took %v", text, d)
		}
	})
}

// equationReadsBack says how e differs from what its texts are read as, in
// every style of print.
func equationReadsBack(e chem.Equation) string {
	for _, style := range []chem.Style{{}, {Ones: true}, {Phases: true}, {Equals: true}, {Ones: true, Phases: true, Equals: true}} {
		runs := e.Runs(style)
		for _, text := range []string{chem.PlainText(runs), chem.UnicodeText(runs)} {
			if utf8.RuneCountInString(text) > chem.MaxLine {
				continue
			}
			again, err := chem.ReadEquation(text, nil)
			if err != nil {
				return fmt.Sprintf("ReadEquation(%s): %v", text, err)
			}
			if len(again.All) != 1 {
				return fmt.Sprintf("ReadEquation(%s) has %d readings, want 1", text, len(again.All))
			}
			got := again.All[0].Equation
			if len(got.Left) != len(e.Left) || len(got.Right) != len(e.Right) {
				return fmt.Sprintf("ReadEquation(%s) has %d and %d terms, want %d and %d", text, len(got.Left), len(got.Right), len(e.Left), len(e.Right))
			}
			want := append(append([]chem.Term(nil), e.Left...), e.Right...)
			for i, g := range append(append([]chem.Term(nil), got.Left...), got.Right...) {
				if d := differs(g.Species, want[i].Species); d != "" {
					return fmt.Sprintf("ReadEquation(%s), term %d: %s", text, i+1, d)
				}
				if !g.Coefficient.Equal(want[i].Coefficient) {
					return fmt.Sprintf("ReadEquation(%s), term %d: coefficient %s, want %s", text, i+1, g.Coefficient, want[i].Coefficient)
				}
				if style.Phases && g.Species.Phase() != want[i].Species.Phase() {
					return fmt.Sprintf("ReadEquation(%s), term %d: phase %q, want %q", text, i+1, g.Species.Phase(), want[i].Species.Phase())
				}
			}
		}
	}
	return ""
}
