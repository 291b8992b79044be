package pdf

import (
	"math"

	"halves/diagram"
	"halves/document"
	"halves/drawing"
)

// figure sets a picture with its title below it, and the table of its numbers.
// A picture that cannot be drawn is described instead.
func (s *setter) figure(f document.Figure) []*node {
	var out []*node
	p := f.Drawn.Picture
	caption := f.Drawn.Title
	if drawable(p) {
		scale := s.pictureScale(p)
		own := s.tags.child(s.own, figureTag, f.Drawn.Description)
		if f.Drawn.Description == "" {
			s.tags.all[own].alt = caption
		}
		out = append(out, &node{
			before: s.look.section * 0.7, height: p.Height * scale, next: true,
			marks: []mark{{kind: pictured, x: s.indent, width: p.Width * scale, height: p.Height * scale, size: scale, own: own, figure: p}},
		})
	} else {
		out = s.text(document.Inline{{Prose: f.Drawn.Description}}, style{regular, ink, s.body, s.tags.child(s.own, paragraphTag, "")}, s.paragraph)
	}
	if caption != "" && !s.deck {
		st := style{italic, ink, s.reason, s.tags.child(s.own, paragraphTag, "")}
		out = append(out, s.text(document.Inline{{Prose: caption}}, st, 0.6*s.paragraph)...)
	}
	if s.deck && drawable(p) {
		return out // the table is for paper
	}
	return append(out, s.table(numbersOf(f.Drawn.Table))...)
}

// pictureLetters is the size of the letters of most pictures, in their units.
const pictureLetters = 16

// pictureScale is how large a unit of a picture is, in points: its letters are as
// large as those of the text, or smaller where there is no room. Its caption stays
// with it; a slide has its title above it.
func (s *setter) pictureScale(p *drawing.Picture) float64 {
	return min(s.body/pictureLetters, (s.width-s.indent)/p.Width, 0.78*s.room/p.Height)
}

// drawable reports whether all numbers of a picture can be drawn.
func drawable(p *drawing.Picture) bool {
	if p == nil || !(p.Width > 0 && p.Height > 0) {
		return false
	}
	good := true
	check := func(all ...float64) {
		for _, x := range all {
			good = good && math.Abs(x) < 1e6
		}
	}
	check(p.Width, p.Height)
	points := func(all ...drawing.Point) {
		for _, q := range all {
			check(q.X, q.Y)
		}
	}
	for _, shape := range p.Shapes {
		switch v := shape.(type) {
		case drawing.Line:
			points(v.From, v.To)
			check(v.Stroke.Width)
		case drawing.Polyline:
			points(v.Points...)
			check(v.Stroke.Width)
		case drawing.Polygon:
			points(v.Points...)
			check(v.Stroke.Width)
		case drawing.Rectangle:
			points(v.Box.Min, v.Box.Max)
			check(v.Stroke.Width)
		case drawing.Circle:
			points(v.Centre)
			check(v.Radius, v.Stroke.Width)
		case drawing.Text:
			points(v.At)
			check(v.Size, v.Turn)
		}
	}
	return good
}

// numbersOf is the table of a picture as one of a document.
func numbersOf(t diagram.Table) document.Table {
	cells := func(row []diagram.Cell) []document.Inline {
		out := make([]document.Inline, len(row))
		for i, c := range row {
			switch {
			case c.Formula != nil:
				out[i] = document.Inline{{Formula: c.Formula, Spoken: c.Spoken}}
			case c.Prose != "":
				out[i] = document.Inline{{Prose: c.Prose, Spoken: c.Spoken}}
			}
		}
		return out
	}
	out := document.Table{Caption: t.Caption, Head: cells(t.Head), Right: t.Right}
	for _, r := range t.Rows {
		out.Rows = append(out.Rows, cells(r))
	}
	return out
}
