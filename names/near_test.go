package names

import (
	"errors"
	"slices"
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
		{"Copper Oxide", []string{"copper(I)", "copper(II)", "copper(III)"}},
		{"tin chloride", []string{"tin(II)", "tin(IV)"}},
		{"iron ion", []string{"iron(II)", "iron(III)"}},
		{"mercury nitrate", []string{"mercury(I)", "mercury(II)"}},
	} {
		_, err := Find(c.name)
		var e *NumberError
		if !errors.As(err, &e) || e.Name != c.name || !slices.Equal(e.Choices, c.want) {
			t.Errorf("Find(%s): %v, want %q", c.name, err, c.want)
		}
	}
}

// No species, by any rule.
func TestFindNothing(t *testing.T) {
	for _, name := range []string{
		"", " ", "ion", "ions", "acid", "hydrate", "xyz", "pentahydrate", "(III)", "sodium(III) ion", "sodium(II) chloride", "manganese(VIII) ion",
		"gold(IV) ion", "water ion", "copper anion", "sulfate cation", "chlorine ion", "sodium chloride ion",
		"sulfate(V)", "permanganate(VI)", "permanganate(2-)", "manganate(VIII)", "ironic acid", "iodine nonoxide", "dihydrogen sulfate ion",
		"hydrogen(III) chloride", "calcium trichloride", "trisodium chloride", "sodium copper", "chloride sodium", "tetracopper(II)", "coppercopper(II)",
	} {
		if s, err := Find(name); err == nil {
			t.Errorf("Find(%s) = %s, want none", name, s)
		}
	}
}
