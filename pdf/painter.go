package pdf

import (
	"math"

	"halves/chem"
	"halves/drawing"
)

// A painter draws a picture on a page.
type painter struct {
	*writer
	x, y  float64 // the upper left corner on the page
	scale float64
	theme drawing.Theme
}

// at is a point of the picture on the page.
func (p *painter) at(q drawing.Point) (x, y float64) { return p.x + q.X*p.scale, p.y + q.Y*p.scale }

func (p *painter) picture(d *drawing.Picture) {
	p.file.RawWriteStr("q 1 j")
	p.file.ClipRect(p.x, p.y, d.Width*p.scale, d.Height*p.scale, false)
	for _, shape := range d.Shapes {
		p.shape(shape)
	}
	p.file.ClipEnd()
	p.file.RawWriteStr("Q")
}

// rgb reads a colour of a theme: "#", six hexadecimal digits.
func rgb(s string) (r, g, b int) {
	var n [3]int
	for i := range n {
		for _, c := range []byte(s[1+2*i : 3+2*i]) {
			d := int(c - '0')
			if c >= 'a' {
				d = int(c-'a') + 10
			}
			n[i] = 16*n[i] + d
		}
	}
	return n[0], n[1], n[2]
}

// colour returns the colour of a role, and whether it is drawn at all.
func (p *painter) colour(r drawing.Role) (string, bool) {
	if r == drawing.None || int(r) >= len(p.theme) || p.theme[r] == "" {
		return "", false
	}
	return p.theme[r], true
}

// stroke readies the pen.
func (p *painter) stroke(k drawing.Stroke) bool {
	c, ok := p.colour(k.Role)
	if !ok || k.Width <= 0 {
		return false
	}
	p.file.SetDrawColor(rgb(c))
	p.file.SetLineWidth(k.Width * p.scale)
	switch k.Dash {
	case drawing.Dashed:
		p.file.SetDashPattern([]float64{8 * p.scale, 5 * p.scale}, 0)
	case drawing.Dotted:
		p.file.SetDashPattern([]float64{2 * p.scale, 4 * p.scale}, 0)
	default:
		p.file.SetDashPattern([]float64{}, 0)
	}
	return true
}

// area fills a shape, hatches it and draws its edge. path draws or clips it.
func (p *painter) area(f drawing.Fill, k drawing.Stroke, path func(style string), clip func(), box drawing.Box) {
	if c, ok := p.colour(f.Role); ok {
		p.fill(c)
		path("F")
	}
	if c, ok := p.colour(f.Hatch); ok {
		p.file.SetDrawColor(rgb(c))
		p.file.SetLineWidth(2 * p.scale)
		p.file.SetDashPattern([]float64{}, 0)
		clip()
		// Strokes from the upper right to the lower left, 9 units apart.
		const apart = 9 * math.Sqrt2
		height := box.Max.Y - box.Min.Y
		first := math.Ceil((box.Min.X + box.Min.Y) / apart)
		for n := 0; n < 2000; n++ {
			sum := (first + float64(n)) * apart // x + y on the stroke
			if sum > box.Max.X+box.Max.Y {
				break
			}
			x1, y1 := p.at(drawing.Point{X: sum - box.Min.Y, Y: box.Min.Y})
			x2, y2 := p.at(drawing.Point{X: sum - box.Min.Y - height, Y: box.Max.Y})
			p.file.Line(x1, y1, x2, y2)
		}
		p.file.ClipEnd()
	}
	if p.stroke(k) {
		path("D")
	}
}

// fill readies the brush.
func (p *painter) fill(c string) { p.file.SetFillColor(rgb(c)) }

func (p *painter) shape(shape drawing.Shape) {
	switch v := shape.(type) {
	case drawing.Line:
		if p.stroke(v.Stroke) {
			x1, y1 := p.at(v.From)
			x2, y2 := p.at(v.To)
			p.file.Line(x1, y1, x2, y2)
		}
	case drawing.Polyline:
		if len(v.Points) > 1 && p.stroke(v.Stroke) {
			p.file.MoveTo(p.at(v.Points[0]))
			for _, q := range v.Points[1:] {
				p.file.LineTo(p.at(q))
			}
			p.file.DrawPath("D")
		}
	case drawing.Polygon:
		p.polygon(v.Points, v.Fill, v.Stroke)
	case drawing.Rectangle:
		a, b := v.Box.Min, v.Box.Max
		p.polygon([]drawing.Point{a, {X: b.X, Y: a.Y}, b, {X: a.X, Y: b.Y}}, v.Fill, v.Stroke)
	case drawing.Circle:
		x, y := p.at(v.Centre)
		r := max(0, v.Radius*p.scale)
		box := drawing.Box{Min: v.Centre, Max: v.Centre}.Grow(max(0, v.Radius))
		p.area(v.Fill, v.Stroke, func(style string) { p.file.Circle(x, y, r, style) }, func() { p.file.ClipCircle(x, y, r, false) }, box)
	case drawing.Text:
		p.text(v)
	}
}

func (p *painter) polygon(points []drawing.Point, f drawing.Fill, k drawing.Stroke) {
	if len(points) < 2 {
		return
	}
	all := make([]point, len(points))
	box := drawing.Box{Min: points[0], Max: points[0]}
	for i, q := range points {
		all[i].X, all[i].Y = p.at(q)
		box.Min = drawing.Point{X: min(box.Min.X, q.X), Y: min(box.Min.Y, q.Y)}
		box.Max = drawing.Point{X: max(box.Max.X, q.X), Y: max(box.Max.Y, q.Y)}
	}
	p.area(f, k, func(style string) {
		p.file.MoveTo(all[0].X, all[0].Y)
		for _, q := range all[1:] {
			p.file.LineTo(q.X, q.Y)
		}
		p.file.ClosePath()
		p.file.DrawPath(style)
	}, func() { p.file.ClipPolygon(all, false) }, box)
}

// text draws a text of a picture, turned and on a ground of its own where it has
// them.
func (p *painter) text(t drawing.Text) {
	st := style{face: regular, size: max(t.Size*p.scale, 0.1)}
	if t.Bold {
		st.face = bold
	}
	var w word
	for _, r := range t.Runs {
		text := readable(r.Text)
		switch r.Level {
		case chem.Subscript, chem.Superscript:
			small := st
			small.size *= scriptSize
			rise := -scriptDrop * st.size
			if r.Level == chem.Superscript {
				rise = scriptRaise * st.size
				w.extra(hairSpace * st.size)
			}
			w.add(text, small, rise)
		case chem.Variable:
			slanted := st
			slanted.face = italic
			w.add(text, slanted, 0)
		default:
			w.add(text, st, 0)
		}
	}
	w.reads(t.Runs)
	x, y := p.at(t.At)
	marks := draw(nil, []word{w}, x-[...]float64{0, 0.5, 1}[min(t.Anchor, drawing.End)]*w.width, y)
	if t.Turn != 0 {
		p.file.TransformBegin()
		p.file.TransformRotate(-t.Turn, x, y)
		defer p.file.TransformEnd()
	}
	if c, ok := p.colour(t.Halo); ok {
		p.file.SetDrawColor(rgb(c))
		p.file.SetLineWidth(4 * p.scale)
		p.file.SetDashPattern([]float64{}, 0)
		p.file.RawWriteStr("/Span <</ActualText ()>> BDC 1 Tr")
		for _, m := range marks {
			p.letters(m, 0, 0)
		}
		p.file.RawWriteStr("0 Tr EMC")
	}
	if c, ok := p.colour(t.Role); ok {
		p.file.SetTextColor(rgb(c))
		if len(marks) > 0 && marks[0].reads != "" {
			p.file.RawWriteStr("/Span <</ActualText " + textString(marks[0].reads) + ">> BDC")
			defer p.file.RawWriteStr("EMC")
		}
		for _, m := range marks {
			p.letters(m, 0, 0)
		}
	}
}
