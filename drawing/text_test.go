package drawing_test

import (
	"math"
	"testing"

	"halves/chem"
	"halves/drawing"
)

func TestWidth(t *testing.T) {
	tests := []struct {
		runs []chem.Run
		bold bool
		want float64 // in letters of 1000
	}{
		{drawing.Plain("H"), false, 752}, // DejaVu Sans 2.37
		{drawing.Plain("H"), true, 837},  // DejaVu Sans Bold 2.37
		{[]chem.Run{{Text: "H"}, {Text: "2", Level: chem.Subscript}, {Text: "O"}}, false, 752 + 0.72*636 + 787},
		{drawing.Plain("→"), false, 1000},
		{drawing.Plain("漢"), false, 1100}, // in no table
		{nil, false, 0},
	}
	for _, tt := range tests {
		if got := drawing.Width(tt.runs, 1000, tt.bold); math.Abs(got-tt.want) > 1e-6 {
			t.Errorf("Width(%v, bold %v) = %v, want %v", tt.runs, tt.bold, got, tt.want)
		}
	}
}

func TestBox(t *testing.T) {
	text := drawing.Text{At: drawing.Point{X: 100, Y: 50}, Runs: drawing.Plain("HH"), Size: 10}
	near := func(a, b drawing.Point) bool { return math.Abs(a.X-b.X)+math.Abs(a.Y-b.Y) < 1e-6 }
	check := func(name string, got drawing.Box, x0, y0, x1, y1 float64) {
		t.Helper()
		if want := (drawing.Box{Min: drawing.Point{X: x0, Y: y0}, Max: drawing.Point{X: x1, Y: y1}}); !near(got.Min, want.Min) || !near(got.Max, want.Max) {
			t.Errorf("%s: %v, want %v", name, got, want)
		}
	}
	check("start", text.Box(), 100, 41.4, 115.04, 52.8)
	text.Anchor = drawing.End
	check("end", text.Box(), 84.96, 41.4, 100, 52.8)
	text.Turn = -90 // it now ends above: reads upward to its point
	check("turned", text.Box(), 91.4, 50, 102.8, 65.04)
	c := text.CentredOn(drawing.Point{X: 3, Y: 4}).Box().Centre()
	if !near(c, drawing.Point{X: 3, Y: 4}) {
		t.Errorf("centred on 3, 4: %v", c)
	}
}

func TestSigns(t *testing.T) {
	in := []chem.Run{{Text: "CuSO"}, {Text: "4", Level: chem.Subscript}, {Text: ".5 H"}, {Text: "-", Level: chem.Superscript}, {Text: " -> "}}
	if got, want := chem.PlainText(drawing.Signs(in)), "CuSO4·5 H^− → "; got != want {
		t.Errorf("Signs: %q, want %q", got, want)
	}
	if in[2].Text != ".5 H" {
		t.Error("Signs changed what it was given")
	}
}

func TestArrow(t *testing.T) {
	from, to := drawing.Point{X: 0, Y: 0}, drawing.Point{X: 0, Y: 50}
	shapes := drawing.Arrow(from, to, drawing.Stroke{Role: drawing.Ink, Width: 2})
	if len(shapes) != 2 || shapes[1].(drawing.Polygon).Points[0] != to || shapes[0].(drawing.Line).To.Y >= 50 {
		t.Errorf("Arrow: %v", shapes)
	}
	if got := drawing.Arrow(from, from, drawing.Stroke{}); got != nil {
		t.Errorf("Arrow of no length: %v", got)
	}
}
