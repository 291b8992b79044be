package diagram

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"halves/drawing"
	"halves/energetics"
)

func TestSpread(t *testing.T) {
	tests := []struct {
		name string
		lots []lot
		top  float64
		want []float64
	}{
		{"apart", []lot{{10, 4}, {30, 4}}, 0, []float64{10, 30}},
		{"two at one place", []lot{{10, 4}, {10, 4}}, 0, []float64{8, 12}},
		{"out of order", []lot{{11, 4}, {10, 4}}, 0, []float64{12.5, 8.5}},
		{"a block grows", []lot{{10, 4}, {10, 4}, {13, 4}}, 0, []float64{7, 11, 15}},
		{"different heights", []lot{{10, 2}, {10, 6}}, 0, []float64{8, 12}},
		{"below the top", []lot{{1, 4}, {2, 4}, {50, 4}}, 0, []float64{2, 6, 50}},
	}
	for _, tt := range tests {
		got := spread(tt.lots, tt.top)
		for i := range got {
			if math.Abs(got[i]-tt.want[i]) > 1e-9 {
				t.Errorf("%s: spread(%v) = %v, want %v", tt.name, tt.lots, got, tt.want)
				break
			}
		}
	}
}

// TestSpreadLeast holds that no small move of one lot or of a run of them that
// keeps all apart would bring them nearer to what they want.
func TestSpreadLeast(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		lots := rapid.SliceOfN(rapid.Custom(func(r *rapid.T) lot {
			return lot{rapid.Float64Range(0, 50).Draw(r, "want"), rapid.Float64Range(1, 9).Draw(r, "height")}
		}), 1, 8).Draw(r, "lots")
		got := spread(lots, math.Inf(-1))
		fits := func(at []float64) bool {
			for i := range at {
				for j := range i {
					if math.Abs(at[i]-at[j]) < (lots[i].height+lots[j].height)/2-1e-9 {
						return false
					}
				}
			}
			return true
		}
		cost := func(at []float64) (sum float64) {
			for i, y := range at {
				sum += (y - lots[i].want) * (y - lots[i].want)
			}
			return sum
		}
		if !fits(got) {
			r.Fatalf("spread(%v) = %v overlaps", lots, got)
		}
		for i := range got {
			for j := range got {
				for _, d := range [2]float64{-0.01, 0.01} {
					moved := append([]float64(nil), got...)
					for k := range moved { // all that stand between i and j
						if got[k] >= got[i] && got[k] <= got[j] {
							moved[k] += d
						}
					}
					if fits(moved) && cost(moved) < cost(got)-1e-9 {
						r.Fatalf("spread(%v) = %v, nearer is %v", lots, got, moved)
					}
				}
			}
		}
	})
}

func TestSegment(t *testing.T) {
	s := segment{drawing.Point{X: 0, Y: 0}, drawing.Point{X: 10, Y: 10}}
	box := func(x0, y0, x1, y1 float64) drawing.Box {
		return drawing.Box{Min: drawing.Point{X: x0, Y: y0}, Max: drawing.Point{X: x1, Y: y1}}
	}
	for _, tt := range []struct {
		box  drawing.Box
		want bool
	}{
		{box(4, 4, 6, 6), true}, {box(8, 0, 12, 7), false}, {box(11, 11, 12, 12), false}, {box(-5, -5, 20, 20), true}, {box(0, 5, 10, 6), true},
	} {
		if got := s.crosses(tt.box); got != tt.want {
			t.Errorf("crosses(%v) = %v, want %v", tt.box, got, tt.want)
		}
	}
	if got := s.distance(drawing.Point{X: 0, Y: 10}); math.Abs(got-math.Sqrt(50)) > 1e-9 {
		t.Errorf("distance = %v, want the root of 50", got)
	}
	if got := s.distance(drawing.Point{X: 13, Y: 14}); math.Abs(got-5) > 1e-9 { // 3, 4, 5 beyond the end
		t.Errorf("distance = %v, want 5", got)
	}
}

func TestCommon(t *testing.T) {
	v := func(ph, volts float64) energetics.Vertex { return energetics.Vertex{PH: ph, Volts: volts} }
	tests := []struct {
		name       string
		p, q, u, v energetics.Vertex
		from, to   energetics.Vertex
		ok         bool
	}{
		{"the same, turned round", v(0, 1), v(4, 0), v(4, 0), v(0, 1), v(0, 1), v(4, 0), true},
		{"a part", v(0, 0), v(8, 0), v(5, 0), v(12, 0), v(5, 0), v(8, 0), true},
		{"upright, the lower first", v(3, 1), v(3, -1), v(3, -1), v(3, 0.5), v(3, -1), v(3, 0.5), true},
		{"a corner only", v(0, 0), v(8, 0), v(8, 0), v(12, 0), v(0, 0), v(0, 0), false},
		{"beside", v(0, 0), v(8, 0), v(0, 0.1), v(8, 0.1), v(0, 0), v(0, 0), false},
		{"crossing", v(0, 0), v(8, 0), v(4, -1), v(4, 1), v(0, 0), v(0, 0), false},
	}
	for _, tt := range tests {
		from, to, ok := common(tt.p, tt.q, tt.u, tt.v, 1e-3, 1e-3)
		near := func(a, b energetics.Vertex) bool { return math.Hypot(a.PH-b.PH, a.Volts-b.Volts) < 1e-9 }
		if ok != tt.ok || ok && (!near(from, tt.from) || !near(to, tt.to)) {
			t.Errorf("%s: common = %v, %v, %v; want %v, %v, %v", tt.name, from, to, ok, tt.from, tt.to, tt.ok)
		}
	}
}
