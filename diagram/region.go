package diagram

import (
	"math"

	"halves/drawing"
	"halves/energetics"
)

// within reports whether a point is inside a polygon, by the crossings of a ray
// (even-odd rule).
func within(p drawing.Point, corners []drawing.Point) bool {
	in := false
	for i, a := range corners {
		b := corners[(i+1)%len(corners)]
		if (a.Y > p.Y) != (b.Y > p.Y) && p.X < (b.X-a.X)*(p.Y-a.Y)/(b.Y-a.Y)+a.X {
			in = !in
		}
	}
	return in
}

// edges are the sides of a polygon.
func edges(corners []drawing.Point) []segment {
	s := make([]segment, len(corners))
	for i, a := range corners {
		s[i] = segment{a, corners[(i+1)%len(corners)]}
	}
	return s
}

// bounds is the box around points.
func bounds(points []drawing.Point) drawing.Box {
	b := drawing.Box{Min: points[0], Max: points[0]}
	for _, p := range points {
		b.Min = drawing.Point{X: min(b.Min.X, p.X), Y: min(b.Min.Y, p.Y)}
		b.Max = drawing.Point{X: max(b.Max.X, p.X), Y: max(b.Max.Y, p.Y)}
	}
	return b
}

// grid is how many points across a region are tried.
const grid = 21

// roomiest finds in a polygon the place for a box of a width and height that is
// far from its sides, half as far from the lines to keep off, and near to the
// middle; ok reports whether there is room for the box at all.
func roomiest(corners []drawing.Point, width, height float64, off []segment) (at drawing.Point, ok bool) {
	const enough = 60 // further from all sides is no better
	sides := edges(corners)
	box := bounds(corners)
	middle := box.Centre()
	best := math.Inf(-1)
	for p := range scatter(box) {
		b := drawing.Box{Min: drawing.Point{X: p.X - width/2, Y: p.Y - height/2}, Max: drawing.Point{X: p.X + width/2, Y: p.Y + height/2}}
		if !b.Inside(box) || !within(p, corners) {
			continue
		}
		far := float64(enough)
		free := true
		for _, s := range sides {
			far = min(far, s.distance(p))
			free = free && !s.crosses(b)
		}
		far -= 0.05 * math.Hypot(p.X-middle.X, p.Y-middle.Y)
		if !free || far <= best {
			continue
		}
		for _, s := range off {
			if s.crosses(b) {
				far -= enough
			}
			far = min(far, 2*s.distance(p))
		}
		if far > best {
			at, best, ok = p, far, true
		}
	}
	return at, ok
}

// scatter are points all over a box.
func scatter(box drawing.Box) func(yield func(drawing.Point) bool) {
	return func(yield func(drawing.Point) bool) {
		for i := range grid {
			for j := range grid {
				if !yield(drawing.Point{X: box.Min.X + (float64(i)+0.5)/grid*(box.Max.X-box.Min.X), Y: box.Min.Y + (float64(j)+0.5)/grid*(box.Max.Y-box.Min.Y)}) {
					return
				}
			}
		}
	}
}

// foothold is the place in a polygon where a line to it from without ends: as
// far as can be in the direction of a vector, but not close to a side. A polygon
// without an area has the middle of its box.
func foothold(corners []drawing.Point, dx, dy float64) drawing.Point {
	sides := edges(corners)
	box := bounds(corners)
	clearance := func(p drawing.Point) float64 {
		far := math.Inf(1)
		for _, s := range sides {
			far = min(far, s.distance(p))
		}
		return far
	}
	pole := 0.0 // how far a point can be from all sides
	for p := range scatter(box) {
		if within(p, corners) {
			pole = max(pole, clearance(p))
		}
	}
	at, best := box.Centre(), math.Inf(-1)
	for p := range scatter(box) {
		if d := p.X*dx + p.Y*dy; d > best && within(p, corners) && clearance(p) >= min(8, 0.7*pole) {
			at, best = p, d
		}
	}
	return at
}

// A boundary is a straight line between two regions.
type boundary struct {
	a, b     int // regions
	from, to energetics.Vertex
}

// boundaries finds where regions touch: sides of two of them that lie on one
// line and overlap. dx and dy are lengths that count as nothing along pH and
// volts. From is at the lesser pH, or of the lesser potential.
func boundaries(regions []energetics.Region, dx, dy float64) []boundary {
	var out []boundary
	for i, r := range regions {
		for j := i + 1; j < len(regions); j++ {
			for k, p := range r.Corners {
				q := r.Corners[(k+1)%len(r.Corners)]
				for m, u := range regions[j].Corners {
					v := regions[j].Corners[(m+1)%len(regions[j].Corners)]
					if from, to, ok := common(p, q, u, v, dx, dy); ok {
						out = append(out, boundary{i, j, from, to})
					}
				}
			}
		}
	}
	return out
}

// common is the part that the lines from p to q and from u to v share.
func common(p, q, u, v energetics.Vertex, dx, dy float64) (from, to energetics.Vertex, ok bool) {
	// In units of what counts as nothing, along and across the line p to q.
	x, y := (q.PH-p.PH)/dx, (q.Volts-p.Volts)/dy
	length := math.Hypot(x, y)
	if !(length > 1) {
		return from, to, false
	}
	along := func(w energetics.Vertex) (float64, bool) {
		a, b := (w.PH-p.PH)/dx, (w.Volts-p.Volts)/dy
		return (a*x + b*y) / length, math.Abs(a*y-b*x)/length < 1
	}
	s, on := along(u)
	t, both := along(v)
	if !on || !both {
		return from, to, false
	}
	low, high := max(min(s, t), 0), min(max(s, t), length)
	if high-low <= 1 {
		return from, to, false
	}
	at := func(s float64) energetics.Vertex {
		return energetics.Vertex{PH: p.PH + s/length*(q.PH-p.PH), Volts: p.Volts + s/length*(q.Volts-p.Volts)}
	}
	from, to = at(low), at(high)
	if from.PH > to.PH+dx || math.Abs(from.PH-to.PH) <= dx && from.Volts > to.Volts {
		from, to = to, from
	}
	return from, to, true
}
