package names

import (
	"strings"
	"testing"

	"halves/chem"
)

// The dearest names and lines that were thought of. Their work is bounded by
// maxName and maxText; that it is small is seen in the benchmark.
var dearest = []struct{ name, text string }{
	{"ligands", strings.Repeat("diaquatetra", 10) + "copper(II)"},
	{"hydrogens", strings.Repeat("hydrogen", 14)},
	{"brackets", strings.Repeat("bis(", 29)},
	{"salt", "tetraaquadichloridodihydroxidochromium(III)tetraaquadichloridodihydroxidochromate(III)oxide"},
	{"sums", strings.Repeat("a+", 2000) + "iron"},
	{"commas", strings.Repeat("a, ", 1300) + "iron"},
	{"ands", strings.Repeat("a and ", 600) + "-> iron"},
	{"becomes", strings.Repeat("iron becomes ", 300) + "iron"},
	{"is", strings.Repeat("is ", 1300) + "reduced"},
	{"told", strings.Repeat("iron is reduced by zinc to tin;", 130) + "zinc to tin"},
	{"untold", "iron is reduced by zinc to tin;" + strings.Repeat("qermanganateqqion becomes tin;", 130)},
	{"lead", strings.Repeat("balance ", 500) + "iron"},
	{"case", "sisisisisisisisi"},
	{"near", "qermanganateqqion"},
}

func TestDearest(t *testing.T) {
	for _, c := range dearest {
		Find(c.text)
		tr, err := Translate(c.text)
		checkTranslation(t, c.text, tr, err)
	}
	long := strings.Repeat("permanganate ", chem.MaxLine)
	if tr, err := Translate(long); err != nil || tr.Text != long {
		t.Errorf("Translate of %d bytes = %d bytes, %v, want no change", len(long), len(tr.Text), err)
	}
}

func BenchmarkDearest(b *testing.B) {
	for _, c := range dearest {
		b.Run("find="+c.name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				Find(c.text)
			}
		})
		b.Run("translate="+c.name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				Translate(c.text)
			}
		})
	}
}

func BenchmarkFirstFind(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		buildIndex()
	}
}
