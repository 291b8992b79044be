package drawing

import (
	"math"
	"strings"

	"halves/chem"
)

// An Anchor says which end of a text stands at its point.
type Anchor uint8

// The anchors of a text.
const (
	Start Anchor = iota
	Middle
	End
)

// A Text is one line of runs. They are shown as they are; runs in canonical
// ASCII are first given to Signs.
type Text struct {
	At     Point // on the base line
	Runs   []chem.Run
	Size   float64 // of the letters, in units of the canvas
	Anchor Anchor
	Turn   float64 // degrees, clockwise, about At
	Role   Role
	Bold   bool
	Halo   Role // drawn around the letters where lines pass behind them, or None
}

// Plain makes runs of prose.
func Plain(text string) []chem.Run { return []chem.Run{{Text: text}} }

var printed = strings.NewReplacer("->", "→", ".", "·", "-", "−", "<=>", "⇌")

// Signs returns canonical runs of a formula or an equation with the signs that
// are printed: a true minus, an arrow, a raised dot in hydrates.
func Signs(runs []chem.Run) []chem.Run {
	out := make([]chem.Run, len(runs))
	for i, r := range runs {
		out[i] = chem.Run{Text: printed.Replace(r.Text), Level: r.Level}
	}
	return out
}

// Letters of sub- and superscripts against those on the line, and how far they
// are lowered and raised, in sizes of the text. Those of package document's
// pages.
const (
	scriptSize  = 0.72
	scriptDrop  = 0.22
	scriptRaise = 0.38
)

// Heights of a line above and below its base line, in sizes: those of DejaVu
// Sans for letters (0.76 with accents left out, 0.24), with room for raised and
// lowered runs.
const (
	ascent  = 0.86
	descent = 0.28
)

// Width is the length of runs in letters of a size. It is an upper estimate:
// see the table of advances.
func Width(runs []chem.Run, size float64, bold bool) float64 {
	w := 0
	scripts := 0
	for _, r := range runs {
		n := 0
		for _, c := range r.Text {
			n += advance(c, bold)
		}
		if r.Level == chem.Subscript || r.Level == chem.Superscript {
			scripts += n
		} else {
			w += n
		}
	}
	return size * (float64(w) + scriptSize*float64(scripts)) / 1000
}

// Width is the length of the text on its line.
func (t Text) Width() float64 { return Width(t.Runs, t.Size, t.Bold) }

// Box is the upright box around the text, turned or not.
func (t Text) Box() Box {
	w := t.Width()
	x := [...]float64{0, -w / 2, -w}[min(t.Anchor, End)]
	corners := [4]Point{{x, -ascent * t.Size}, {x + w, -ascent * t.Size}, {x, descent * t.Size}, {x + w, descent * t.Size}}
	sin, cos := math.Sincos(t.Turn * math.Pi / 180)
	b := Box{Point{math.Inf(1), math.Inf(1)}, Point{math.Inf(-1), math.Inf(-1)}}
	for _, c := range corners {
		p := Point{t.At.X + c.X*cos - c.Y*sin, t.At.Y + c.X*sin + c.Y*cos}
		b.Min = Point{min(b.Min.X, p.X), min(b.Min.Y, p.Y)}
		b.Max = Point{max(b.Max.X, p.X), max(b.Max.Y, p.Y)}
	}
	return b
}

// CentredOn returns the text with its box, unturned, centred on a point.
func (t Text) CentredOn(p Point) Text {
	t.Anchor, t.Turn = Middle, 0
	t.At = Point{p.X, p.Y + (ascent-descent)/2*t.Size}
	return t
}
