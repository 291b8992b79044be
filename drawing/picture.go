package drawing

import "math"

// A Point is a place on the canvas.
type Point struct{ X, Y float64 }

// A Picture is a canvas with its shapes in the order in which they are painted,
// and its words.
type Picture struct {
	Width, Height float64
	Title         string // what it is, a few words
	Description   string // what it shows, with the numbers
	Shapes        []Shape
}

// Add paints shapes over those that are there.
func (p *Picture) Add(s ...Shape) { p.Shapes = append(p.Shapes, s...) }

// A Shape is a Line, Polyline, Polygon, Rectangle, Circle or Text.
type Shape interface{ shape() }

// A Dash is the pattern of a line. Patterns tell lines apart without colour.
type Dash uint8

// The patterns of a line.
const (
	Solid  Dash = iota
	Dashed      // long strokes
	Dotted      // short strokes, closely set
)

// lengths are the strokes and gaps of a dash, in units of the canvas.
func (d Dash) lengths() []float64 {
	return [...][]float64{nil, {8, 5}, {2, 4}}[min(d, Dotted)]
}

// A Stroke is how a line is drawn. One without a role or a width is not drawn.
type Stroke struct {
	Role  Role
	Width float64
	Dash  Dash
}

// A Fill is how an area is painted: a role, and hatching over it in the role
// Hatch, which None leaves out.
type Fill struct {
	Role  Role
	Hatch Role
}

// A Line is straight.
type Line struct {
	From, To Point
	Stroke   Stroke
}

// A Polyline is an open line through points.
type Polyline struct {
	Points []Point
	Stroke Stroke
}

// A Polygon is a closed area.
type Polygon struct {
	Points []Point
	Fill   Fill
	Stroke Stroke
}

// A Rectangle stands upright.
type Rectangle struct {
	Box    Box
	Fill   Fill
	Stroke Stroke
}

// A Circle has a centre and a radius.
type Circle struct {
	Centre Point
	Radius float64
	Fill   Fill
	Stroke Stroke
}

func (Line) shape()      {}
func (Polyline) shape()  {}
func (Polygon) shape()   {}
func (Rectangle) shape() {}
func (Circle) shape()    {}
func (Text) shape()      {}

// A Box is an upright rectangle; Min is its upper left corner.
type Box struct{ Min, Max Point }

// Overlaps reports whether two boxes share an area. Touching ones do not.
func (b Box) Overlaps(c Box) bool {
	return b.Min.X < c.Max.X && c.Min.X < b.Max.X && b.Min.Y < c.Max.Y && c.Min.Y < b.Max.Y
}

// Inside reports whether b lies in c.
func (b Box) Inside(c Box) bool {
	return b.Min.X >= c.Min.X && b.Min.Y >= c.Min.Y && b.Max.X <= c.Max.X && b.Max.Y <= c.Max.Y
}

// Grow returns the box with a margin of d all round.
func (b Box) Grow(d float64) Box {
	return Box{Point{b.Min.X - d, b.Min.Y - d}, Point{b.Max.X + d, b.Max.Y + d}}
}

// Centre is the middle of the box.
func (b Box) Centre() Point { return Point{(b.Min.X + b.Max.X) / 2, (b.Min.Y + b.Max.Y) / 2} }

// Arrow returns a line with a filled head at its end.
func Arrow(from, to Point, s Stroke) []Shape {
	length := math.Hypot(to.X-from.X, to.Y-from.Y)
	if length == 0 {
		return nil
	}
	head := min(6+2*s.Width, length)
	ux, uy := (to.X-from.X)/length, (to.Y-from.Y)/length
	foot := Point{to.X - head*ux, to.Y - head*uy}
	half := head * 0.42
	return []Shape{
		Line{from, foot, s},
		Polygon{Points: []Point{to, {foot.X - half*uy, foot.Y + half*ux}, {foot.X + half*uy, foot.Y - half*ux}}, Fill: Fill{Role: s.Role}},
	}
}
