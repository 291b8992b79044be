package drawing

import (
	"errors"
	"fmt"
	"io"
	"math"
	"strconv"
	"unicode/utf8"

	"halves/chem"
)

// Options are the ways of writing SVG.
type Options struct {
	// Prefix begins every id, so that several pictures can stand in one page. It
	// has letters, digits and hyphens, a letter first; "" is "picture".
	Prefix string
	// Bare leaves the style sheet to the page, which has Style once.
	Bare bool
}

// SVG writes a picture as one svg element, which stands alone as a file and
// inside a page of HTML. Its size is that of the canvas in CSS pixels; it shrinks
// where there is less room. The output depends on p and o alone.
//
// The error is that of w, or says which number of the picture or which prefix
// cannot be written; nothing is written then.
func SVG(w io.Writer, p *Picture, o Options) error {
	if o.Prefix == "" {
		o.Prefix = "picture"
	}
	if !validPrefix(o.Prefix) {
		return fmt.Errorf("the prefix of ids is %q; it should have letters, digits and hyphens, a letter first", o.Prefix)
	}
	s := &svg{prefix: o.Prefix, colours: Light(), b: make([]byte, 0, 16<<10)}
	s.picture(p, o)
	if s.bad {
		return errors.New("the picture has a length that is not a number, or is beyond a million; look at the data that it was made from")
	}
	_, err := w.Write(s.b)
	return err
}

func validPrefix(s string) bool {
	for i, c := range []byte(s) {
		letter := c|0x20 >= 'a' && c|0x20 <= 'z'
		if !letter && (i == 0 || c != '-' && (c < '0' || c > '9')) {
			return false
		}
	}
	return true
}

type svg struct {
	b       []byte
	prefix  string
	colours Theme
	bad     bool // a number that cannot be written was met
}

func (s *svg) raw(text string) { s.b = append(s.b, text...) }

// text writes text inside an element or an attribute. What XML 1.0 has no
// place for becomes U+FFFD.
func (s *svg) text(text string) {
	for _, c := range text {
		switch {
		case c == '&':
			s.raw("&amp;")
		case c == '<':
			s.raw("&lt;")
		case c == '>':
			s.raw("&gt;")
		case c == '"':
			s.raw("&quot;")
		case c < ' ' && c != '\t' && c != '\n' || c == 0xfffe || c == 0xffff:
			s.raw("\ufffd")
		default:
			s.b = utf8.AppendRune(s.b, c)
		}
	}
}

// number writes a length, rounded to hundredths.
func (s *svg) number(x float64) {
	if !(math.Abs(x) < 1e6) {
		s.bad = true
		return
	}
	x = math.Round(x*100) / 100
	s.b = strconv.AppendFloat(s.b, x+0, 'f', -1, 64) // -0 + 0 is 0
}

func (s *svg) attribute(name string, x float64) {
	s.raw(" ")
	s.raw(name)
	s.raw(`="`)
	s.number(x)
	s.raw(`"`)
}

func (s *svg) picture(p *Picture, o Options) {
	s.raw(`<svg xmlns="http://www.w3.org/2000/svg" class="halves-picture" role="img" aria-labelledby="` + s.prefix + `-title" aria-describedby="` + s.prefix + `-desc"`)
	s.attribute("width", p.Width)
	s.attribute("height", p.Height)
	s.raw(` viewBox="0 0 `)
	s.number(p.Width)
	s.raw(" ")
	s.number(p.Height)
	// The face stands here for what reads no style sheet.
	s.raw("\" font-family='" + family + "'>\n<title id=\"" + s.prefix + "-title\">")
	s.text(p.Title)
	s.raw("</title>\n<desc id=\"" + s.prefix + "-desc\">")
	s.text(p.Description)
	s.raw("</desc>\n")
	if !o.Bare {
		s.raw("<style>\n" + style + "</style>\n")
	}
	s.hatches(p)
	s.rectangle(Rectangle{Box: Box{Max: Point{p.Width, p.Height}}, Fill: Fill{Role: Ground}})
	for _, shape := range p.Shapes {
		s.shape(shape)
	}
	s.raw("</svg>\n")
}

// hatches writes a pattern for each role that hatches.
func (s *svg) hatches(p *Picture) {
	var used [roles]bool
	for _, shape := range p.Shapes {
		if f := fillOf(shape); f.Hatch != None && f.Hatch < roles {
			used[f.Hatch] = true
		}
	}
	for r, u := range used {
		if !u {
			continue
		}
		s.raw(`<pattern id="` + s.prefix + "-hatch-" + names[r] + `" width="9" height="9" patternUnits="userSpaceOnUse" patternTransform="rotate(45)"><path d="M0 0V9" class="s-` + names[r] + `"`)
		s.stroke(Stroke{Role: Role(r), Width: 2})
		s.raw(` fill="none"/></pattern>` + "\n")
	}
}

func fillOf(shape Shape) Fill {
	switch v := shape.(type) {
	case Polygon:
		return v.Fill
	case Rectangle:
		return v.Fill
	case Circle:
		return v.Fill
	}
	return Fill{}
}

// shape writes a shape. One with hatching is written twice, the area before the
// hatching.
func (s *svg) shape(shape Shape) {
	switch v := shape.(type) {
	case Line:
		s.line(v)
	case Polyline:
		s.points("polyline", v.Points, Fill{}, v.Stroke)
	case Polygon:
		s.points("polygon", v.Points, v.Fill, v.Stroke)
	case Rectangle:
		s.rectangle(v)
	case Circle:
		s.circle(v)
	case Text:
		s.write(v)
	}
}

// area closes a tag with its fill and stroke; again opens the same one for the
// hatching.
func (s *svg) area(f Fill, k Stroke, again func()) {
	if f.Hatch == None || f.Hatch >= roles {
		s.paint(f.Role, k)
		s.raw("/>\n")
		return
	}
	s.paint(f.Role, Stroke{})
	s.raw("/>\n")
	again()
	s.raw(` fill="url(#` + s.prefix + "-hatch-" + names[f.Hatch] + `)"`)
	if k.drawn() {
		s.raw(` class="s-` + names[k.Role] + `"`)
		s.stroke(k)
	}
	s.raw("/>\n")
}

func (k Stroke) drawn() bool { return k.Role != None && k.Role < roles && k.Width > 0 }

// paint writes the classes of a shape, and the same as attributes for what reads
// no style sheet.
func (s *svg) paint(f Role, k Stroke) {
	filled := f != None && f < roles
	if filled || k.drawn() {
		s.raw(` class="`)
		if filled {
			s.raw("f-" + names[f])
		}
		if k.drawn() {
			if filled {
				s.raw(" ")
			}
			s.raw("s-" + names[k.Role])
		}
		s.raw(`"`)
	}
	if filled {
		s.raw(` fill="` + s.colours[f] + `"`)
	} else {
		s.raw(` fill="none"`)
	}
	if k.drawn() {
		s.stroke(k)
	}
}

func (s *svg) stroke(k Stroke) {
	s.raw(` stroke="` + s.colours[k.Role] + `"`)
	s.attribute("stroke-width", k.Width)
	if d := k.Dash.lengths(); d != nil {
		s.raw(` stroke-dasharray="`)
		for i, x := range d {
			if i > 0 {
				s.raw(" ")
			}
			s.number(x)
		}
		s.raw(`"`)
	}
}

func (s *svg) line(l Line) {
	s.raw("<line")
	s.attribute("x1", l.From.X)
	s.attribute("y1", l.From.Y)
	s.attribute("x2", l.To.X)
	s.attribute("y2", l.To.Y)
	s.area(Fill{}, l.Stroke, nil)
}

func (s *svg) points(tag string, points []Point, f Fill, k Stroke) {
	open := func() {
		s.raw("<" + tag + ` points="`)
		for i, p := range points {
			if i > 0 {
				s.raw(" ")
			}
			s.number(p.X)
			s.raw(",")
			s.number(p.Y)
		}
		s.raw(`" stroke-linejoin="round"`)
	}
	open()
	s.area(f, k, open)
}

func (s *svg) rectangle(r Rectangle) {
	open := func() {
		s.raw("<rect")
		s.attribute("x", r.Box.Min.X)
		s.attribute("y", r.Box.Min.Y)
		s.attribute("width", max(0, r.Box.Max.X-r.Box.Min.X))
		s.attribute("height", max(0, r.Box.Max.Y-r.Box.Min.Y))
	}
	open()
	s.area(r.Fill, r.Stroke, open)
}

func (s *svg) circle(c Circle) {
	open := func() {
		s.raw("<circle")
		s.attribute("cx", c.Centre.X)
		s.attribute("cy", c.Centre.Y)
		s.attribute("r", max(0, c.Radius))
	}
	open()
	s.area(c.Fill, c.Stroke, open)
}

// write writes a text. Sub- and superscripts are moved by dy, which every
// program that draws SVG knows; what follows them is moved back.
func (s *svg) write(t Text) {
	if len(t.Runs) == 0 {
		return
	}
	s.raw("<text")
	s.attribute("x", t.At.X)
	s.attribute("y", t.At.Y)
	s.attribute("font-size", t.Size)
	switch t.Anchor {
	case Middle:
		s.raw(` text-anchor="middle"`)
	case End:
		s.raw(` text-anchor="end"`)
	}
	if t.Bold {
		s.raw(` font-weight="700"`)
	}
	if t.Turn != 0 {
		s.raw(` transform="rotate(`)
		s.number(t.Turn)
		s.raw(" ")
		s.number(t.At.X)
		s.raw(" ")
		s.number(t.At.Y)
		s.raw(`)"`)
	}
	halo := Stroke{Role: t.Halo, Width: 4}
	s.paint(t.Role, halo)
	if halo.drawn() {
		s.raw(` paint-order="stroke" stroke-linejoin="round"`)
	}
	s.raw(">")
	height := 0.0 // of the line that is being written, below the base line
	for _, r := range t.Runs {
		want := 0.0
		switch r.Level {
		case chem.Subscript:
			want = scriptDrop * t.Size
		case chem.Superscript:
			want = -scriptRaise * t.Size
		}
		if want == height && r.Level == chem.Normal {
			s.text(r.Text)
			continue
		}
		s.raw("<tspan")
		if want != height {
			s.attribute("dy", want-height)
		}
		switch r.Level {
		case chem.Subscript, chem.Superscript:
			s.attribute("font-size", scriptSize*t.Size)
		case chem.Variable:
			s.raw(` font-style="italic"`)
		}
		s.raw(">")
		s.text(r.Text)
		s.raw("</tspan>")
		height = want
	}
	s.raw("</text>\n")
}
