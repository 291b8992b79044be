package ooxml

import (
	"encoding/binary"
	"errors"
	"math"
	"slices"
	"strconv"

	"halves/drawing"
)

// A picture is written as an enhanced metafile (EMF): a list of drawing records,
// so that it is sharp at any size and can be taken apart into shapes. The records
// and their numbers are those of the open specification [MS-EMF].

// The records that are written.
const (
	emfHeader         = 1
	emfPolygon        = 3
	emfPolyline       = 4
	emfWindowExtent   = 9
	emfWindowOrigin   = 10
	emfViewExtent     = 11
	emfViewOrigin     = 12
	emfEnd            = 14
	emfMapMode        = 17
	emfBackgroundMode = 18
	emfTextAlign      = 22
	emfTextColour     = 24
	emfSelect         = 37
	emfBrush          = 39
	emfDelete         = 40
	emfEllipse        = 42
	emfRectangle      = 43
	emfFont           = 82
	emfText           = 84
	emfPen            = 95
)

const (
	emfFine     = 16 // logical units of a unit of the canvas
	emfNoBrush  = 0x80000005
	emfNoPen    = 0x80000008
	emfObject   = 1 // the one object beside those of stock
	emfFace     = "Arial"
	emfMost     = 20000 // units of the canvas that a picture may measure
	emfBaseline = 24
)

// Where sub- and superscripts stand, in sizes of the letters: as package drawing
// has them.
const (
	scriptSize  = 0.72
	scriptDrop  = 0.22
	scriptRaise = 0.38
)

var errNoPicture = errors.New("there is no picture, or one with a length that is not a number")

type emf struct {
	b       []byte
	records int
	colours drawing.Theme
	bad     bool // a number that cannot be written was met
}

// encodeEMF draws a picture in the colours of paper. The error is errNoPicture.
func encodeEMF(p *drawing.Picture) ([]byte, error) {
	if p == nil || !(p.Width > 0 && p.Height > 0 && p.Width < emfMost && p.Height < emfMost) {
		return nil, errNoPicture
	}
	e := &emf{colours: drawing.Paper()}
	e.header(p)
	e.record(emfMapMode, 8) // both directions by their own scale
	e.record(emfWindowOrigin, 0, 0)
	e.record(emfWindowExtent, e.at(p.Width), e.at(p.Height))
	e.record(emfViewOrigin, 0, 0)
	e.record(emfViewExtent, uint32(p.Width), uint32(p.Height))
	e.record(emfBackgroundMode, 1) // what is between dashes and letters stays
	e.record(emfTextAlign, emfBaseline)
	e.rectangle(drawing.Box{Max: drawing.Point{X: p.Width, Y: p.Height}}, drawing.Fill{Role: drawing.Ground}, drawing.Stroke{})
	for _, s := range p.Shapes {
		e.shape(s)
	}
	e.record(emfEnd, 0, 16, 20)
	if e.bad {
		return nil, errNoPicture
	}
	binary.LittleEndian.PutUint32(e.b[48:], uint32(len(e.b)))
	binary.LittleEndian.PutUint32(e.b[52:], uint32(e.records))
	return e.b, nil
}

// record writes a record of 32-bit words.
func (e *emf) record(kind uint32, words ...uint32) {
	e.begin(kind, 8+4*len(words))
	e.words(words...)
}

func (e *emf) begin(kind uint32, size int) {
	e.words(kind, uint32(size))
	e.records++
}

func (e *emf) words(words ...uint32) {
	for _, w := range words {
		e.b = binary.LittleEndian.AppendUint32(e.b, w)
	}
}

// at is a length in logical units.
func (e *emf) at(x float64) uint32 {
	if !(math.Abs(x) < emfMost) {
		e.bad = true
		return 0
	}
	return uint32(int32(math.Round(x * emfFine)))
}

func (e *emf) box(b drawing.Box) []uint32 {
	return []uint32{e.at(b.Min.X), e.at(b.Min.Y), e.at(b.Max.X), e.at(b.Max.Y)}
}

// header says how large the picture is: pixels of 1/96 inch on a device of 960
// of them, which measures 254 mm.
func (e *emf) header(p *drawing.Picture) {
	w, h := uint32(p.Width), uint32(p.Height)
	hundredths := func(x float64) uint32 { return uint32(math.Round(x * 2540 / 96)) }
	e.record(emfHeader, 0, 0, w, h, 0, 0, hundredths(p.Width), hundredths(p.Height),
		0x464d4520, 0x10000, 0, 0, 2, // the sizes are filled in at the end; two objects, the first of them reserved
		0, 0, 0, 960, 960, 254, 254, 0, 0, 0, 254000, 254000)
}

func (e *emf) shape(s drawing.Shape) {
	switch s := s.(type) {
	case drawing.Line:
		e.points(emfPolyline, []drawing.Point{s.From, s.To}, drawing.Fill{}, s.Stroke)
	case drawing.Polyline:
		e.points(emfPolyline, s.Points, drawing.Fill{}, s.Stroke)
	case drawing.Polygon:
		e.points(emfPolygon, s.Points, s.Fill, s.Stroke)
	case drawing.Rectangle:
		e.rectangle(s.Box, s.Fill, s.Stroke)
	case drawing.Circle:
		e.circle(s)
	case drawing.Text:
		e.text(s)
	}
}

func (e *emf) points(kind uint32, points []drawing.Point, f drawing.Fill, k drawing.Stroke) {
	if len(points) < 2 {
		return
	}
	words := []uint32{0, 0, 0, 0, uint32(len(points))}
	for _, p := range points {
		words = append(words, e.at(p.X), e.at(p.Y))
	}
	e.area(points, f, k, func() { e.record(kind, words...) })
}

func (e *emf) rectangle(b drawing.Box, f drawing.Fill, k drawing.Stroke) {
	box := e.box(b)
	corners := []drawing.Point{b.Min, {X: b.Max.X, Y: b.Min.Y}, b.Max, {X: b.Min.X, Y: b.Max.Y}}
	e.area(corners, f, k, func() { e.record(emfRectangle, box...) })
}

func (e *emf) circle(c drawing.Circle) {
	r := max(c.Radius, 0)
	box := e.box(drawing.Box{Min: drawing.Point{X: c.Centre.X - r, Y: c.Centre.Y - r}, Max: drawing.Point{X: c.Centre.X + r, Y: c.Centre.Y + r}})
	var round []drawing.Point
	for i := range 32 {
		sin, cos := math.Sincos(float64(i) * math.Pi / 16)
		round = append(round, drawing.Point{X: c.Centre.X + r*cos, Y: c.Centre.Y + r*sin})
	}
	e.area(round, c.Fill, c.Stroke, func() { e.record(emfEllipse, box...) })
}

// area draws an area within its outline, hatching over it, and its edge, one
// after the other: there is one object at a time.
func (e *emf) area(outline []drawing.Point, f drawing.Fill, k drawing.Stroke, draw func()) {
	if c, ok := e.colour(f.Role); ok {
		e.with(emfNoPen, func() { e.record(emfBrush, emfObject, 0, c, 0) }, draw)
	}
	if c, ok := e.colour(f.Hatch); ok {
		e.with(emfNoBrush, func() { e.pen(c, drawing.Stroke{Width: 2}) }, func() { e.hatch(outline) })
	}
	if c, ok := e.colour(k.Role); ok && k.Width > 0 {
		e.with(emfNoBrush, func() { e.pen(c, k) }, draw)
	}
}

func (e *emf) pen(colour uint32, k drawing.Stroke) {
	const geometric, flat = 0x10000, 0x200 // joined round
	style := uint32(geometric | flat)
	switch k.Dash {
	case drawing.Dashed:
		style |= 1
	case drawing.Dotted:
		style |= 2
	}
	e.record(emfPen, emfObject, 0, 0, 0, 0, style, e.at(k.Width), 0, colour, 0, 0)
}

// hatch draws lines from the lower left to the upper right within an outline,
// 9 units apart. Hatched brushes would be simpler, and are drawn as plain areas
// by some programs.
func (e *emf) hatch(outline []drawing.Point) {
	const step = 9 * math.Sqrt2 // along the edge of the canvas
	low, high := math.Inf(1), math.Inf(-1)
	for _, p := range outline {
		low, high = min(low, p.X+p.Y), max(high, p.X+p.Y)
	}
	if !(high-low < emfMost) {
		e.bad = true
		return
	}
	for c := math.Ceil(low/step) * step; c < high; c += step { // of the line x + y = c
		var cuts []float64 // x where the outline crosses it
		for i, p := range outline {
			q := outline[(i+1)%len(outline)]
			a, b := p.X+p.Y-c, q.X+q.Y-c
			if (a < 0) != (b < 0) {
				cuts = append(cuts, p.X+(q.X-p.X)*a/(a-b))
			}
		}
		slices.Sort(cuts)
		for i := 0; i+1 < len(cuts); i += 2 {
			e.record(emfPolyline, 0, 0, 0, 0, 2, e.at(cuts[i]), e.at(c-cuts[i]), e.at(cuts[i+1]), e.at(c-cuts[i+1]))
		}
	}
}

// with draws with an object, and with one of stock in place of the other kind.
func (e *emf) with(stock uint32, object, draw func()) {
	object()
	e.record(emfSelect, emfObject)
	e.record(emfSelect, stock)
	draw()
	// What is selected cannot be deleted.
	e.record(emfSelect, emfNoBrush)
	e.record(emfSelect, emfNoPen)
	e.record(emfDelete, emfObject)
}

// colour is that of a role, as blue, green and red; not ok for none.
func (e *emf) colour(r drawing.Role) (uint32, bool) {
	if r == drawing.None || int(r) >= len(e.colours) {
		return 0, false
	}
	c, err := strconv.ParseUint(e.colours[r][1:], 16, 32)
	return uint32(c>>16 | c&0xff00 | c&0xff<<16), err == nil
}
