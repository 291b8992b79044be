package energetics_test

import (
	"testing"

	"halves/energetics"
	"halves/reference"
)

// TestPictureSources: every figure of a row or a plot names its sources, and each is
// in the table of sources.
func TestPictureSources(t *testing.T) {
	tables := energetics.Shipped()
	check := func(what string, keys []string) {
		t.Helper()
		if len(keys) == 0 {
			t.Errorf("%s has no source", what)
		}
		for _, k := range keys {
			if _, ok := reference.SourceOf(k); !ok {
				t.Errorf("%s: no source has the key %q", what, k)
			}
		}
	}
	for _, symbol := range []string{"Mn", "Cl", "N", "S", "Fe", "Cr"} {
		e := element(t, symbol)
		for _, medium := range energetics.Media {
			l, err := tables.Latimer(e, medium)
			if err != nil {
				t.Fatal(err)
			}
			for _, x := range l.Links {
				check(symbol+" "+medium+" "+x.Source, x.Sources)
			}
		}
		f, err := tables.Frost(e)
		if err != nil {
			t.Fatal(err)
		}
		for _, c := range f.Curves {
			for _, p := range c.Points {
				if p.State.Sign() != 0 {
					check(symbol+" "+c.Medium+" "+p.Species.String(), p.Sources)
				}
			}
		}
	}
}
