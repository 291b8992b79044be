package diagram

import (
	"math"
	"slices"

	"halves/drawing"
)

// A lot is a label that stands in a column: where it would stand best and how
// high it is.
type lot struct{ want, height float64 }

// spread moves lots along their column so that none overlap, in the order of
// what they want, each as near to it as the sum of squares allows. It returns
// the middles. Neighbours that press on each other become one block, which
// stands at the mean of what its members want (pool adjacent violators). None
// begins above top; what would is moved down, and what is below it, too.
func spread(lots []lot, top float64) []float64 {
	order := make([]int, len(lots))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(i, j int) int {
		switch {
		case lots[i].want < lots[j].want:
			return -1
		case lots[i].want > lots[j].want:
			return 1
		}
		return 0
	})
	type block struct {
		n           int
		top, height float64 // top: the mean of the tops that its members want of it
	}
	var blocks []block
	for _, i := range order {
		b := block{1, lots[i].want - lots[i].height/2, lots[i].height}
		for len(blocks) > 0 {
			a := blocks[len(blocks)-1]
			if a.top+a.height <= b.top {
				break
			}
			// b's members would have the block begin a.height higher.
			b.top = (float64(a.n)*a.top + float64(b.n)*(b.top-a.height)) / float64(a.n+b.n)
			b.n += a.n
			b.height += a.height
			blocks = blocks[:len(blocks)-1]
		}
		blocks = append(blocks, b)
	}
	out := make([]float64, len(lots))
	k := 0
	for _, b := range blocks {
		y := max(b.top, top)
		for range b.n {
			i := order[k]
			out[i] = y + lots[i].height/2
			y += lots[i].height
			k++
		}
		top = y
	}
	return out
}

// A segment is a straight line that labels keep off.
type segment struct{ a, b drawing.Point }

// distance is how far a point is from the segment.
func (s segment) distance(p drawing.Point) float64 {
	dx, dy := s.b.X-s.a.X, s.b.Y-s.a.Y
	t := 0.0
	if l := dx*dx + dy*dy; l > 0 {
		t = min(max(((p.X-s.a.X)*dx+(p.Y-s.a.Y)*dy)/l, 0), 1)
	}
	return math.Hypot(p.X-s.a.X-t*dx, p.Y-s.a.Y-t*dy)
}

// crosses reports whether the segment runs through a box (Liang and Barsky,
// 1984: the part of the line that is inside each of the four sides).
func (s segment) crosses(b drawing.Box) bool {
	t0, t1 := 0.0, 1.0
	dx, dy := s.b.X-s.a.X, s.b.Y-s.a.Y
	for _, e := range [4][2]float64{{-dx, s.a.X - b.Min.X}, {dx, b.Max.X - s.a.X}, {-dy, s.a.Y - b.Min.Y}, {dy, b.Max.Y - s.a.Y}} {
		switch p, q := e[0], e[1]; {
		case p == 0 && q <= 0:
			return false
		case p < 0:
			t0 = max(t0, q/p)
		case p > 0:
			t1 = min(t1, q/p)
		}
	}
	return t0 < t1
}

// overlapsAny reports whether b shares an area with one of the boxes.
func overlapsAny(b drawing.Box, taken []drawing.Box) bool {
	for _, t := range taken {
		if b.Overlaps(t) {
			return true
		}
	}
	return false
}

// nearest is the point of a box that is nearest to p.
func nearest(b drawing.Box, p drawing.Point) drawing.Point {
	return drawing.Point{X: min(max(p.X, b.Min.X), b.Max.X), Y: min(max(p.Y, b.Min.Y), b.Max.Y)}
}
