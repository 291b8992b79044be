package names

import (
	"errors"
	"slices"
	"strings"
	"testing"
)

func TestNear(t *testing.T) {
	for _, c := range []struct {
		name string
		want []string
	}{
		{"permangante ion", []string{"permanganate ion"}},
		{"sodum hydroxide", []string{"sodium hydroxide"}},
		{"Wtaer", []string{"water"}},
		{"xyzzyxyzzy", nil},
		{"watar", []string{"water"}},
		{"oxone", nil}, // no ozone
		// The ion that is meant: OpenStax, Chemistry 2e, section 2.7, from memory.
		{"chlorine ion", []string{"chloride ion"}},
		{"bromine ions", []string{"bromide ion"}},
		{"oxygen ion", []string{"oxide ion"}},
		{"sulfur ion", []string{"sulfide ion"}},
		{"sulphur anion", []string{"sulphide ion"}},
		// Older usage was of both: common practice, no source.
		{"biphosphate", []string{"dihydrogenphosphate ion", "hydrogenphosphate ion"}},
		{"sodium biphosphate", []string{"sodium dihydrogenphosphate", "sodium hydrogenphosphate"}},
		// spelled as typed
		{"sulfrous acid", []string{"sulfurous acid"}},
		{"hydrogen sulfit", []string{"hydrogensulfite ion"}},
		{"hydrogen sulphit", []string{"hydrogensulphite ion"}},
	} {
		_, err := Find(c.name)
		var e *UnknownError
		if !errors.As(err, &e) || e.Name != c.name || !slices.Equal(e.Near, c.want) {
			t.Errorf("Find(%s): %v, want near %q", c.name, err, c.want)
		}
	}
}

// OpenStax, Chemistry 2e, section 2.7: metals with several charges are named
// with the charge; which of them have two salts in the table is its own matter.
func TestNumberError(t *testing.T) {
	for _, c := range []struct {
		name string
		want []string
	}{
		{"iron sulfate", []string{"iron(II)", "iron(III)"}},
		{"Copper Oxide", []string{"copper(I)", "copper(II)"}},
		{"tin chloride", []string{"tin(II)", "tin(IV)"}},
		{"iron ion", []string{"iron(II)", "iron(III)"}},
		// Never read by luck of the table: common practice, no source.
		{"copper nitrate", []string{"copper(I)", "copper(II)"}},
		{"cobalt nitrate", []string{"cobalt(II)", "cobalt(III)"}},
		{"iron carbonate", []string{"iron(II)", "iron(III)"}},
		{"lead oxide", []string{"lead(II)", "lead(IV)"}},
		{"mercury nitrate", []string{"mercury(I)", "mercury(II)"}},
	} {
		_, err := Find(c.name)
		var e *NumberError
		if !errors.As(err, &e) || e.Name != c.name || !slices.Equal(e.Choices, c.want) {
			t.Errorf("Find(%s): %v, want %q", c.name, err, c.want)
		}
	}
}

func TestHint(t *testing.T) {
	for _, c := range []struct{ name, want string }{
		// There is no such state: by charge, the odd electron of each would be lone.
		{"chlorate(VI)", "there are chlorate(I), chlorate(III), chlorate(V) and chlorate(VII)"},
		{"sulphate(V) ion", "there are sulphate(IV) and sulphate(VI)"},
		{"nitrate(II)", "there are nitrate(III) and nitrate(V)"},
		// No species: common practice, no source.
		{"rust", "rust is hydrated iron(III) oxide: write Fe2O3, or another formula"},
		{"Vinegar", "vinegar is dilute acetic acid: write CH3COOH"},
		{"water gas", "water gas is a mixture: write CO and H2"},
	} {
		s, err := Find(c.name)
		var e *UnknownError
		if !errors.As(err, &e) || e.Hint != c.want || e.Near != nil {
			t.Errorf("Find(%s) = %v, %v, want the hint %q", c.name, s, err, c.want)
		}
	}
	// What a hint tells to write is read.
	for name, text := range mixtures {
		_, after, ok := strings.Cut(text, ": write ")
		formula, _, _ := strings.Cut(after, " ")
		if s := resolve(strings.TrimSuffix(formula, ",")); !ok || known(s) == nil {
			t.Errorf("the hint for %s, %q, begins with no species of the table", name, text)
		}
		if squash(name) != name {
			t.Errorf("%s is no key", name)
		}
	}
}

// No species, by any rule.
func TestFindNothing(t *testing.T) {
	for _, name := range []string{
		"", " ", "ion", "ions", "acid", "hydrate", "xyz", "pentahydrate", "(III)", "sodium(III) ion", "sodium(II) chloride", "manganese(VIII) ion",
		"gold(IV) ion", "water ion", "copper anion", "sulfate cation", "chlorine ion", "sodium chloride ion",
		"sulfate(V)", "permanganate(VI)", "permanganate(2-)", "manganate(VIII)", "ironic acid", "iodine nonoxide", "dihydrogen sulfate ion",
		"hydrogen(III) chloride", "bimanganate", "biphosphate", "ferrate(4-)", "boron trisulfide", "nickel carbide", "copper(II) sulfate 0-hydrate", "calcium trichloride", "trisodium chloride", "sodium copper", "chloride sodium", "tetracopper(II)", "coppercopper(II)",
	} {
		if s, err := Find(name); err == nil {
			t.Errorf("Find(%s) = %s, want none", name, s)
		}
	}
}
