package diagram_test

import (
	"bytes"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"halves/chem"
	"halves/diagram"
	"halves/drawing"
	"halves/energetics"
)

// samples are the pictures that are looked at, by the names of their files.
func samples(t testing.TB) []struct {
	name string
	diagram.Drawn
} {
	english, comma := diagram.Style{}, diagram.Style{Comma: true}
	return []struct {
		name string
		diagram.Drawn
	}{
		{"ladder", diagram.Ladder(ladderSample(t), english)},
		{"latimer", diagram.LatimerRow(latimerSample(t), english)},
		{"frost", diagram.FrostPlot(frostSample(t), english)},
		{"phmap", diagram.PHMap(mapSample(t), english)},
		{"latimer_long", diagram.LatimerRow(longLatimer(t), comma)},
	}
}

func svgOf(t testing.TB, p *drawing.Picture, o drawing.Options) string {
	t.Helper()
	var b bytes.Buffer
	if err := drawing.SVG(&b, p, o); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

// TestGolden holds the pictures to those that were looked at.
func TestGolden(t *testing.T) {
	for _, s := range samples(t) {
		path := filepath.Join("testdata", s.name+".svg")
		want, err := os.ReadFile(path)
		if err != nil && !errors.Is(err, os.ErrNotExist) {
			t.Fatal(err)
		}
		got := svgOf(t, s.Picture, drawing.Options{Prefix: strings.ReplaceAll(s.name, "_", "-")})
		if got == string(want) {
			continue
		}
		if err := os.WriteFile(path+".got", []byte(got), 0o666); err != nil {
			t.Fatal(err)
		}
		t.Errorf("%s differs; look at both, then: diff diagram/%s diagram/%s.got", s.name, path, path)
	}
}

// faults lists what no picture may have: letters outside the canvas or over
// each other, XML that does not parse, an id twice, no words.
func faults(d diagram.Drawn) []string {
	var out []string
	canvas := drawing.Box{Max: drawing.Point{X: d.Picture.Width, Y: d.Picture.Height}}
	var texts []drawing.Text
	for _, s := range d.Picture.Shapes {
		if x, ok := s.(drawing.Text); ok {
			if !x.Box().Inside(canvas) {
				out = append(out, fmt.Sprintf("%q reaches out of the canvas", chem.PlainText(x.Runs)))
			}
			for _, y := range texts {
				if x.Box().Overlaps(y.Box()) {
					out = append(out, fmt.Sprintf("%q overlaps %q", chem.PlainText(x.Runs), chem.PlainText(y.Runs)))
				}
			}
			texts = append(texts, x)
		}
	}
	var b bytes.Buffer
	if err := drawing.SVG(&b, d.Picture, drawing.Options{}); err != nil {
		return append(out, err.Error())
	}
	ids := map[string]bool{}
	words := map[string]string{}
	element := ""
	for r := xml.NewDecoder(&b); ; {
		tok, err := r.Token()
		if err == io.EOF {
			break
		}
		if err != nil {
			return append(out, err.Error())
		}
		switch v := tok.(type) {
		case xml.StartElement:
			element = v.Name.Local
			for _, a := range v.Attr {
				if a.Name.Local == "id" {
					if ids[a.Value] {
						out = append(out, "id twice: "+a.Value)
					}
					ids[a.Value] = true
				}
			}
		case xml.EndElement:
			element = ""
		case xml.CharData:
			words[element] += string(v)
		}
	}
	if words["title"] == "" || words["title"] != d.Title || words["desc"] == "" || words["desc"] != d.Description {
		out = append(out, fmt.Sprintf("title %q, description %q", words["title"], words["desc"]))
	}
	for i, row := range d.Table.Rows {
		if len(row) != len(d.Table.Head) || len(d.Table.Right) != len(d.Table.Head) {
			out = append(out, fmt.Sprintf("row %d has %d cells", i, len(row)))
		}
	}
	return out
}

func TestSamples(t *testing.T) {
	for _, s := range samples(t) {
		for _, f := range faults(s.Drawn) {
			t.Errorf("%s: %s", s.name, f)
		}
	}
}

// TestFaults shows that faults sees each kind.
func TestFaults(t *testing.T) {
	p := &drawing.Picture{Width: 50, Height: 20}
	text := drawing.Text{At: drawing.Point{X: 5, Y: 15}, Runs: drawing.Plain("ab"), Size: 10, Role: drawing.Ink}
	p.Add(text, text, drawing.Text{At: drawing.Point{X: 45, Y: 15}, Runs: drawing.Plain("wide"), Size: 10, Role: drawing.Ink})
	got := strings.Join(faults(diagram.Drawn{Picture: p}), "\n")
	for _, want := range []string{`"ab" overlaps "ab"`, `"wide" reaches out`, `title ""`} {
		if !strings.Contains(got, want) {
			t.Errorf("faults found no %s: %s", want, got)
		}
	}
}

// TestWords holds that the descriptions and tables have the numbers.
func TestWords(t *testing.T) {
	want := map[string][]string{
		"ladder": {"1.507 volts: ", "Minus 0.762 volts: ", "An arrow leads up from the couple at 0.771 volts, which gives off electrons, to the couple at 1.507 volts, which takes them up.",
			"the difference, 0.736 volts."},
		"latimer": {"6 species of manganese in acid, pH 0, from the highest oxidation state to the lowest: permanganate ion (plus seven)", "from manganese two ion to manganese minus 1.18 volts"},
		"frost": {"Manganese three ion disproportionates: it lies above the line between manganese two ion and manganese four oxide.", "In base, pH 14: manganese, state zero, at 0.00 volts",
			"permanganate ion, state plus seven, at minus 1.38 volts"},
		"phmap": {"Dissolved species are at 0.01 moles per litre.", "Iron two ion: pH 0.0 to 7.0, minus 0.50 to 0.77 volts, beside ",
			"Dashed, the line of water and hydrogen: 0.00 volts at pH 0, minus 0.83 volts at pH 14."},
		"latimer_long": {"0,957 volts"},
	}
	for _, s := range samples(t) {
		for _, w := range want[s.name] {
			if !strings.Contains(s.Description, w) {
				t.Errorf("%s: no %q in\n%s", s.name, w, s.Description)
			}
		}
	}
}

// row prints a row of a table.
func row(cells []diagram.Cell) string {
	var out []string
	for _, c := range cells {
		out = append(out, c.Prose+chem.PlainText(c.Formula))
	}
	return strings.Join(out, " | ")
}

func TestTables(t *testing.T) {
	want := map[string]string{ // the last row
		"ladder":  "Zn^2+ + 2 e^- -> Zn | −0.762 | A sample.",
		"latimer": "MnO2 | +4 | Mn^2+ | +2 | +1.23 | 2 | A sample.",
		"frost":   "in base, pH 14 | MnO4^- | +7 | −1.38 | ",
		"phmap":   "Fe3O4 | Fe | 7.0 | −0.50 | 14.0 | −0.91",
	}
	for _, s := range samples(t) {
		if w := want[s.name]; w != "" && row(s.Table.Rows[len(s.Table.Rows)-1]) != w {
			t.Errorf("%s: last row %s, want %s", s.name, row(s.Table.Rows[len(s.Table.Rows)-1]), w)
		}
	}
}

// pool are species of various lengths for random pictures.
var pool = []string{"Mn^2+", "MnO4^-", "Cr2O7^2-", "Fe(CN)6^3-", "Cl2(g)", "H2O2", "Ag(s)", "S2O8^2-", "Mn(OH)2(s)", "HClO", "NO3^-", "Al(OH)4^-"}

func drawSpecies(t *rapid.T, tb testing.TB) *chem.Species {
	return species(tb, rapid.SampledFrom(pool).Draw(t, "species"))
}

func noFaults(t *rapid.T, d diagram.Drawn) {
	if f := faults(d); f != nil {
		t.Fatalf("%s", strings.Join(f, "\n"))
	}
}

func TestRandomLadders(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		l := energetics.Ladder{}
		n := rapid.IntRange(0, 30).Draw(r, "rungs")
		width := rapid.Float64Range(0, 6).Draw(r, "range")
		for range n {
			a, b := chem.Term{Coefficient: chem.Whole(1), Species: drawSpecies(r, t)}, chem.Term{Coefficient: chem.Whole(12), Species: drawSpecies(r, t)}
			l.Rungs = append(l.Rungs, energetics.Rung{Half: chem.Equation{Left: []chem.Term{a}, Right: []chem.Term{b, a}}, Volts: width * rapid.Float64Range(-0.5, 0.5).Draw(r, "volts")})
		}
		l.Oxidizing, l.Reducing = rapid.IntRange(-1, n).Draw(r, "oxidizing"), rapid.IntRange(-1, n).Draw(r, "reducing")
		noFaults(r, diagram.Ladder(l, diagram.Style{}))
	})
}

func TestRandomFrostPlots(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		var f energetics.Frost
		labels := map[string]bool{}
		for _, medium := range []string{"acidic", "basic"} {
			c := energetics.Curve{Medium: medium}
			state := rapid.Int64Range(-4, 0).Draw(r, "lowest")
			for range rapid.IntRange(0, 9).Draw(r, "points") {
				q := energetics.Point{Station: energetics.Station{Species: drawSpecies(r, t), State: chem.Whole(state)}, Height: float64(rapid.IntRange(-60, 60).Draw(r, "height")) / 10}
				c.Points = append(c.Points, q)
				labels[fmt.Sprint(q.Species, state, q.Height)] = true // one place has one label
				state += rapid.Int64Range(0, 2).Draw(r, "up")
			}
			if len(c.Points) > 2 {
				c.Unstable = []energetics.Disproportionation{{Point: 1, Lower: 0, Upper: 2}}
			}
			f.Curves = append(f.Curves, c)
		}
		d := diagram.FrostPlot(f, diagram.Style{})
		noFaults(r, d)
		if n := labelled(t, d.Picture); n != len(labels) {
			r.Fatalf("%d labels for %d points", n, len(labels))
		}
	})
}

// labelled counts the texts that are a species of the pool.
func labelled(t testing.TB, p *drawing.Picture) int {
	known := map[string]bool{}
	for _, s := range pool {
		known[chem.PlainText(drawing.Signs(species(t, s).Runs()))] = true
	}
	n := 0
	for _, s := range p.Shapes {
		if x, ok := s.(drawing.Text); ok && known[chem.PlainText(x.Runs)] {
			n++
		}
	}
	return n
}

func TestRandomLatimerRows(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		l := energetics.Latimer{Medium: "basic"}
		n := rapid.IntRange(0, 10).Draw(r, "stations")
		for i := range n {
			l.Stations = append(l.Stations, energetics.Station{Species: drawSpecies(r, t), State: chem.Whole(int64(7 - i))})
			if i > 0 && rapid.Bool().Draw(r, "known") {
				l.Links = append(l.Links, energetics.Link{From: i - 1, To: i, Volts: rapid.Float64Range(-3, 3).Draw(r, "volts")})
			}
		}
		for range rapid.IntRange(0, 5).Draw(r, "spans") {
			l.Links = append(l.Links, energetics.Link{From: rapid.IntRange(-1, n).Draw(r, "from"), To: rapid.IntRange(-1, n).Draw(r, "to"), Volts: rapid.Float64Range(-3, 3).Draw(r, "volts")})
		}
		noFaults(r, diagram.LatimerRow(l, diagram.Style{}))
	})
}

// TestRandomMaps cuts the map into upright strips and those into cells.
// Regions of no area, many in one place, are none that a table gives.
func TestRandomMaps(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		m := energetics.PHMap{Concentration: 1e-3, PH: [2]float64{0, 14}, Volts: [2]float64{-2, 2}}
		m.Oxygen, m.Hydrogen = [2]energetics.Vertex(corners(0, 1.23, 14, 0.4)), [2]energetics.Vertex(corners(0, 0, 14, -0.83))
		cuts := func(low, high float64, n int) []float64 {
			out := []float64{low}
			for range n {
				low += (high - low) * rapid.Float64Range(0.1, 0.9).Draw(r, "cut")
				out = append(out, low)
			}
			return append(out, high)
		}
		x := cuts(0, 14, rapid.IntRange(0, 3).Draw(r, "strips"))
		for i := range len(x) - 1 {
			y := cuts(-2, 2, rapid.IntRange(0, 3).Draw(r, "cells"))
			for j := range len(y) - 1 {
				m.Regions = append(m.Regions, energetics.Region{Species: drawSpecies(r, t), Corners: corners(x[i], y[j], x[i+1], y[j], x[i+1], y[j+1], x[i], y[j+1])})
			}
		}
		d := diagram.PHMap(m, diagram.Style{})
		noFaults(r, d)
		if n := labelled(t, d.Picture); n != len(m.Regions) {
			r.Fatalf("%d names for %d regions", n, len(m.Regions))
		}
	})
}

// TestBadNumbers holds that nothing is drawn of what is no number, and that it
// is no panic.
func TestBadNumbers(t *testing.T) {
	nan := math.NaN()
	l := ladderSample(t)
	l.Rungs[1].Volts = nan
	d := diagram.Ladder(l, diagram.Style{})
	if !strings.HasSuffix(d.Description, "not drawn: 1.") || len(d.Table.Rows) != len(l.Rungs)-1 {
		t.Errorf("Ladder with NaN: %d rows, %s", len(d.Table.Rows), d.Description)
	}
	row := latimerSample(t)
	row.Links[0].Volts = math.Inf(1)
	f := frostSample(t)
	f.Curves[0].Points[1].Height = nan
	m := mapSample(t)
	m.Regions[0].Corners[0].Volts = nan
	flat := mapSample(t)
	flat.PH[1] = 0
	var none energetics.Frost
	for _, d := range []diagram.Drawn{d, diagram.LatimerRow(row, diagram.Style{}), diagram.FrostPlot(f, diagram.Style{}), diagram.PHMap(m, diagram.Style{}),
		diagram.PHMap(flat, diagram.Style{}), diagram.FrostPlot(none, diagram.Style{}), diagram.Ladder(energetics.Ladder{}, diagram.Style{}), diagram.LatimerRow(energetics.Latimer{}, diagram.Style{})} {
		for _, f := range faults(d) {
			t.Errorf("%s: %s", d.Title, f)
		}
	}
}

func BenchmarkPictures(b *testing.B) {
	ladder, row, frost, m := ladderSample(b), latimerSample(b), frostSample(b), mapSample(b)
	for _, bb := range []struct {
		name string
		draw func() diagram.Drawn
	}{
		{"ladder", func() diagram.Drawn { return diagram.Ladder(ladder, diagram.Style{}) }},
		{"latimer", func() diagram.Drawn { return diagram.LatimerRow(row, diagram.Style{}) }},
		{"frost", func() diagram.Drawn { return diagram.FrostPlot(frost, diagram.Style{}) }},
		{"phmap", func() diagram.Drawn { return diagram.PHMap(m, diagram.Style{}) }},
	} {
		b.Run("picture="+bb.name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				if err := drawing.SVG(io.Discard, bb.draw().Picture, drawing.Options{}); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
