package diagram

import (
	"math"

	"halves/chem"
	"halves/drawing"
)

// Sizes of letters and distances, in units of the canvas.
const (
	letters = 16.0 // of labels
	small   = 13.5 // of ticks and remarks
	margin  = 14.0
	tick    = 6.0
	half    = (0.86 - 0.28) / 2 // of the height of letters above the middle of their box
)

// An axis maps values to places along one direction of the canvas.
type axis struct {
	low, high float64 // values
	from, to  float64 // places of low and high
}

func (a axis) at(v float64) float64 {
	return a.from + (v-a.low)/(a.high-a.low)*(a.to-a.from)
}

// step is the distance of ticks: 1, 2 or 5 times a power of ten, so that there
// are about n over a span.
func step(span float64, n int) float64 {
	rough := span / float64(max(n, 1))
	power := math.Pow(10, math.Floor(math.Log10(rough)))
	for _, m := range []float64{1, 2, 5} {
		if m*power >= rough*0.999 {
			return m * power
		}
	}
	return 10 * power
}

// places is how many decimals a step needs.
func places(step float64) int {
	return max(0, int(math.Ceil(-math.Log10(step)-1e-9)))
}

// ticks are the multiples of a step from low to high.
func ticks(low, high, step float64) []float64 {
	var t []float64
	for i := math.Ceil(low/step - 1e-9); i*step <= high+step*1e-9; i++ {
		t = append(t, i*step+0)
	}
	return t
}

// around is the range from low to high, widened to the ticks around it. A range
// of one value becomes one unit wide.
func around(low, high float64, n int) (from, to, by float64) {
	if high-low < 1e-6 {
		low, high = low-0.5, high+0.5
	}
	by = step(high-low, n)
	return math.Floor(low/by+1e-9) * by, math.Ceil(high/by-1e-9) * by, by
}

// upright draws an axis at the left of a plot: ticks, their numbers, and the
// title along it. Its numbers end at x.
func (s Style) upright(p *drawing.Picture, a axis, x, titleX, by float64, title []chem.Run) {
	for _, v := range ticks(a.low, a.high, by) {
		y := a.at(v)
		p.Add(drawing.Line{From: drawing.Point{X: x - tick, Y: y}, To: drawing.Point{X: x, Y: y}, Stroke: thin})
		p.Add(drawing.Text{At: drawing.Point{X: x - tick - 4, Y: y + half*small}, Runs: drawing.Plain(s.signed(v, places(by))), Size: small, Anchor: drawing.End, Role: drawing.Ink})
	}
	p.Add(drawing.Text{At: drawing.Point{X: titleX, Y: (a.from + a.to) / 2}, Runs: title, Size: small, Anchor: drawing.Middle, Turn: -90, Role: drawing.Ink})
}

// level draws an axis along the foot of a plot at y.
func (s Style) level(p *drawing.Picture, a axis, y, by float64, signs bool, title []chem.Run) {
	for _, v := range ticks(a.low, a.high, by) {
		x := a.at(v)
		text := s.number(v, places(by))
		if signs {
			text = s.signed(v, places(by))
		}
		p.Add(drawing.Line{From: drawing.Point{X: x, Y: y}, To: drawing.Point{X: x, Y: y + tick}, Stroke: thin})
		p.Add(drawing.Text{At: drawing.Point{X: x, Y: y + tick + small}, Runs: drawing.Plain(text), Size: small, Anchor: drawing.Middle, Role: drawing.Ink})
	}
	p.Add(drawing.Text{At: drawing.Point{X: (a.from + a.to) / 2, Y: y + tick + 2.5*small}, Runs: title, Size: small, Anchor: drawing.Middle, Role: drawing.Ink})
}

// The strokes that the pictures share.
var (
	thin = drawing.Stroke{Role: drawing.Ink, Width: 1}
	hair = drawing.Stroke{Role: drawing.Faint, Width: 1}
)
