package ooxml

import (
	"encoding/binary"
	"math"
	"testing"
	"unicode/utf16"

	"pgregory.net/rapid"

	"halves/chem"
	"halves/drawing"
)

// A record of a metafile, as another reader of [MS-EMF] sees it.
type record struct {
	kind uint32
	data []byte
}

// records reads a metafile back. The sizes of records are multiples of four and
// fill the file (section 2.3), the header tells the bytes and the records (2.3.4.2),
// the last record ends the file and repeats its own size (2.3.4.1).
func records(t interface{ Fatalf(string, ...any) }, b []byte) []record {
	word := binary.LittleEndian.Uint32
	var out []record
	for rest := b; len(rest) > 0; {
		if len(rest) < 8 {
			t.Fatalf("%d bytes behind the last record", len(rest))
		}
		n := word(rest[4:])
		if n < 8 || n%4 != 0 || int(n) > len(rest) {
			t.Fatalf("record %d of type %d has %d bytes of %d", len(out), word(rest), n, len(rest))
		}
		out = append(out, record{word(rest), rest[8:n]})
		rest = rest[n:]
	}
	head, last := out[0], out[len(out)-1]
	if head.kind != emfHeader || string(head.data[32:36]) != " EMF" {
		t.Fatalf("the file begins with a record of type %d", head.kind)
	}
	if got := word(head.data[40:]); int(got) != len(b) {
		t.Fatalf("the header tells %d bytes of %d", got, len(b))
	}
	if got := word(head.data[44:]); int(got) != len(out) {
		t.Fatalf("the header tells %d records of %d", got, len(out))
	}
	if last.kind != emfEnd || word(last.data[8:]) != 20 {
		t.Fatalf("the file ends with a record of type %d", last.kind)
	}
	return out
}

func TestMetafile(t *testing.T) {
	p := &drawing.Picture{Width: 96, Height: 48}
	p.Add(
		drawing.Line{From: drawing.Point{X: 1, Y: 2}, To: drawing.Point{X: 3.5, Y: -4}, Stroke: drawing.Stroke{Role: drawing.Ink, Width: 2, Dash: drawing.Dashed}},
		drawing.Rectangle{Box: drawing.Box{Max: drawing.Point{X: 40, Y: 40}}, Fill: drawing.Fill{Role: drawing.FillA, Hatch: drawing.Shade}, Stroke: drawing.Stroke{Role: drawing.AccentA, Width: 1}},
		drawing.Circle{Centre: drawing.Point{X: 9, Y: 9}, Radius: 4, Fill: drawing.Fill{Role: drawing.Ink}},
		drawing.Text{At: drawing.Point{X: 50, Y: 20}, Runs: []chem.Run{{Text: "Mn"}, {Text: "2+", Level: chem.Superscript}}, Size: 10, Role: drawing.Ink, Anchor: drawing.End},
	)
	b, err := encodeEMF(p)
	if err != nil {
		t.Fatal(err)
	}
	word := func(b []byte) int { return int(int32(binary.LittleEndian.Uint32(b))) }
	all := records(t, b)
	// 96 pixels are an inch: 2540 hundredths of a millimetre.
	if w, h := word(all[0].data[24:]), word(all[0].data[28:]); w != 2540 || h != 1270 {
		t.Errorf("the frame is %d by %d", w, h)
	}
	count := map[uint32]int{}
	var text string
	var places []int
	for _, r := range all {
		count[r.kind]++
		if r.kind == emfText {
			n, at := word(r.data[36:]), word(r.data[40:])
			var units []uint16
			for i := range n {
				units = append(units, binary.LittleEndian.Uint16(r.data[at-8+2*i:]))
			}
			text += string(utf16.Decode(units)) + "|"
			places = append(places, word(r.data[28:]), word(r.data[32:]))
		}
		if r.kind == emfPolyline && count[emfPolyline] == 1 {
			for i, want := range []int{2, 16, 32, 56, -64} { // sixteenths
				if got := word(r.data[16+4*i:]); got != want {
					t.Errorf("word %d of the line is %d, want %d", i, got, want)
				}
			}
		}
	}
	if text != "Mn|2+|" {
		t.Errorf("the text is %s", text)
	}
	// Arial: M 833, n 556, 2 556, + 584 thousandths; a superscript has 0.72 of the
	// size and stands 0.38 higher.
	end := 50 - 10*(0.833+0.556) - 7.2*(0.556+0.584)
	for i, want := range []float64{end, 20, end + 13.89, 16.2} {
		if got := float64(places[i]) / 16; math.Abs(got-want) > 0.05 {
			t.Errorf("place %d of the text is %.2f, want %.2f", i, got, want)
		}
	}
	// The ground and the rectangle with its edge; its hatching is of lines.
	if count[emfRectangle] != 3 || count[emfEllipse] != 1 || count[emfPolyline] < 4 {
		t.Errorf("%d rectangles, %d circles, %d lines", count[emfRectangle], count[emfEllipse], count[emfPolyline])
	}
	if count[emfBrush]+count[emfPen]+count[emfFont] != count[emfDelete] {
		t.Errorf("%d objects are made and %d deleted", count[emfBrush]+count[emfPen]+count[emfFont], count[emfDelete])
	}
}

func TestNoMetafile(t *testing.T) {
	nan := &drawing.Picture{Width: 9, Height: 9}
	nan.Add(drawing.Circle{Centre: drawing.Point{X: math.NaN()}, Fill: drawing.Fill{Role: drawing.Ink}})
	far := &drawing.Picture{Width: 9, Height: 9}
	far.Add(drawing.Polygon{Points: []drawing.Point{{}, {X: math.Inf(1)}, {Y: 1e300}}, Fill: drawing.Fill{Hatch: drawing.Shade}})
	for i, p := range []*drawing.Picture{nil, {}, {Width: math.NaN(), Height: 1}, {Width: 1e9, Height: 1}, nan, far} {
		if b, err := encodeEMF(p); err != errNoPicture || b != nil {
			t.Errorf("picture %d: %d bytes, error %v", i, len(b), err)
		}
	}
}

// TestAnyMetafile holds that whatever a picture has, its metafile can be read
// back, or is refused.
func TestAnyMetafile(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		number := rapid.Float64Range(-200, 200)
		point := rapid.Custom(func(t *rapid.T) drawing.Point { return drawing.Point{X: number.Draw(t, "x"), Y: number.Draw(t, "y")} })
		fill := drawing.Fill{Role: drawing.Role(rapid.Byte().Draw(t, "fill")), Hatch: drawing.Role(rapid.Byte().Draw(t, "hatch"))}
		stroke := drawing.Stroke{Role: drawing.Role(rapid.Byte().Draw(t, "stroke")), Width: number.Draw(t, "width"), Dash: drawing.Dash(rapid.Byte().Draw(t, "dash"))}
		points := rapid.SliceOfN(point, 0, 6).Draw(t, "points")
		p := &drawing.Picture{Width: rapid.OneOf(rapid.Float64Range(1, 900), rapid.Float64()).Draw(t, "w"), Height: rapid.Float64Range(-1, 900).Draw(t, "h")}
		p.Add(
			drawing.Polygon{Points: points, Fill: fill, Stroke: stroke}, drawing.Polyline{Points: points, Stroke: stroke},
			drawing.Circle{Centre: point.Draw(t, "centre"), Radius: number.Draw(t, "radius"), Fill: fill, Stroke: stroke},
			drawing.Text{At: point.Draw(t, "at"), Runs: []chem.Run{{Text: rapid.String().Draw(t, "text"), Level: chem.Level(rapid.Byte().Draw(t, "level"))}}, Size: number.Draw(t, "size"), Role: fill.Role, Halo: fill.Hatch, Turn: rapid.Float64().Draw(t, "turn"), Anchor: drawing.Anchor(rapid.Byte().Draw(t, "anchor")), Bold: rapid.Bool().Draw(t, "bold")},
		)
		if b, err := encodeEMF(p); err == nil {
			records(t, b)
		}
	})
}
