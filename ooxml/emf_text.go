package ooxml

import (
	"encoding/binary"
	"math"
	"unicode/utf16"

	"halves/chem"
	"halves/drawing"
)

// text writes the runs of a text one behind the other, as the widths of letters
// place them.
func (e *emf) text(t drawing.Text) {
	ink, ok := e.colour(t.Role)
	if !ok || !(t.Size > 0 && t.Size < emfMost) {
		return
	}
	var length float64
	for _, r := range t.Runs {
		length += arialWidth(r, t.Size, t.Bold)
	}
	along := [...]float64{0, -length / 2, -length}[min(t.Anchor, drawing.End)]
	sin, cos := math.Sincos(t.Turn * math.Pi / 180)
	for _, r := range t.Runs {
		size, down := t.Size, 0.0
		switch r.Level {
		case chem.Subscript:
			size, down = scriptSize*t.Size, scriptDrop*t.Size
		case chem.Superscript:
			size, down = scriptSize*t.Size, -scriptRaise*t.Size
		}
		e.font(size, t.Turn, t.Bold, r.Level == chem.Variable)
		e.record(emfSelect, emfObject)
		at := drawing.Point{X: t.At.X + along*cos - down*sin, Y: t.At.Y + along*sin + down*cos}
		if halo, ok := e.colour(t.Halo); ok {
			e.record(emfTextColour, halo)
			for i := range 8 {
				y, x := math.Sincos(float64(i) * math.Pi / 4)
				e.letters(r, drawing.Point{X: at.X + 1.5*x, Y: at.Y + 1.5*y}, size, t.Bold)
			}
		}
		e.record(emfTextColour, ink)
		e.letters(r, at, size, t.Bold)
		e.record(emfSelect, 0x8000000d) // the font of the system
		e.record(emfDelete, emfObject)
		along += arialWidth(r, t.Size, t.Bold)
	}
}

// font makes the object a font of a size, turned clockwise by degrees.
func (e *emf) font(size, turn float64, bold, italic bool) {
	e.begin(emfFont, 12+320)
	start := len(e.b)
	weight, slant := uint32(400), byte(0)
	if bold {
		weight = 700
	}
	if italic {
		slant = 1
	}
	tenths := 0.0
	if math.Abs(turn) <= 360 {
		tenths = math.Round(-10 * turn)
	}
	e.words(emfObject, -e.at(size), 0, uint32(int32(tenths)), uint32(int32(tenths)), weight)
	e.b = append(e.b, slant, 0, 0, 1, 0, 0, 0, 0x20) // a face without serifs
	for _, c := range emfFace {
		e.b = binary.LittleEndian.AppendUint16(e.b, uint16(c))
	}
	e.b = append(e.b, make([]byte, start+4+320-len(e.b))...)
}

// letters writes a run with the advance of each letter.
func (e *emf) letters(r chem.Run, at drawing.Point, size float64, bold bool) {
	const fixed = 76 // bytes before the letters
	var text []uint16
	var widths []uint32
	for _, c := range r.Text {
		if isControl(c) {
			continue
		}
		w := e.at(size * float64(arialAdvance(c, bold)) / 1000)
		for i, u := range utf16.AppendRune(nil, c) {
			if i > 0 {
				w = 0
			}
			text, widths = append(text, u), append(widths, w)
		}
	}
	if len(text) == 0 {
		return
	}
	n := len(text)
	padded := n + n%2
	e.begin(emfText, fixed+2*padded+4*n)
	scale := math.Float32bits(2540.0 / 96 / emfFine)
	e.words(0, 0, 0, 0, 1, scale, scale, e.at(at.X), e.at(at.Y), uint32(n), fixed, 0, 0, 0, 0, 0, uint32(fixed+2*padded))
	for _, u := range text {
		e.b = binary.LittleEndian.AppendUint16(e.b, u)
	}
	if padded > n {
		e.b = append(e.b, 0, 0)
	}
	e.words(widths...)
}
