package pdf

import (
	_ "embed"
	"encoding/binary"
	"fmt"
	"sync"
)

// A face is one of the fonts. The maths face has signs alone.
type face uint8

const (
	regular face = iota
	bold
	italic
	signs
	faces
)

// family and style are the names of the faces in package fpdf.
var faceNames = [faces]struct{ family, style string }{
	{"stixtwotext", ""}, {"stixtwotext", "B"}, {"stixtwotext", "I"}, {"stixtwomath", ""},
}

// The files are described in fonts/README.md.
var (
	//go:embed fonts/STIXTwoText-Regular.ttf
	textRegular []byte
	//go:embed fonts/STIXTwoText-Bold.ttf
	textBold []byte
	//go:embed fonts/STIXTwoText-Italic.ttf
	textItalic []byte
	//go:embed fonts/STIXTwoMath-Regular.ttf
	mathRegular []byte
)

// Heights of all faces in thousandths of the size (table hhea).
const (
	ascent  = 0.762
	descent = 0.238
)

// A font is what is measured with: advances and kerning.
type font struct {
	file    []byte
	low     [lowest]int16 // advances in thousandths of the size; -1 for no such letter
	others  map[rune]int16
	kerning [kerned * kerned]int16 // of two letters of printable ASCII
}

const (
	lowest = 0x180
	kerned = 0x60 // from U+0020
)

// advance is how wide a letter is, and whether the font has it.
func (f *font) advance(r rune) (int, bool) {
	if r < lowest {
		w := f.low[max(r, 0)]
		return int(w), w >= 0
	}
	w, ok := f.others[r]
	return int(w), ok
}

// leastKern is the kerning that is worth a place of its own, in thousandths of
// the size.
const leastKern = 12

// kern is how much nearer two letters stand, 0 for most.
func (f *font) kern(a, b rune) int {
	a, b = a-' ', b-' '
	if a < 0 || b < 0 || a >= kerned || b >= kerned {
		return 0
	}
	return int(f.kerning[a*kerned+b])
}

// fonts reads the files once.
var fonts = sync.OnceValue(func() *[faces]*font {
	var out [faces]*font
	for i, file := range [faces][]byte{textRegular, textBold, textItalic, mathRegular} {
		f, err := readFont(file)
		if err != nil {
			panic(fmt.Sprintf("%s%s: %v", faceNames[i].family, faceNames[i].style, err)) // a file of the program itself
		}
		out[i] = f
	}
	return &out
})

// readFont reads the tables of TrueType that say how wide letters are (OpenType
// 1.9: cmap format 4, hmtx, kern format 0; 1000 units to the size).
func readFont(file []byte) (f *font, err error) {
	defer func() {
		if recover() != nil {
			f, err = nil, fmt.Errorf("a table ends too early")
		}
	}()
	u16 := func(b []byte, at int) int { return int(binary.BigEndian.Uint16(b[at:])) }
	u32 := func(b []byte, at int) int { return int(binary.BigEndian.Uint32(b[at:])) }
	tables := map[string][]byte{}
	for i := range u16(file, 4) {
		entry := file[12+16*i:]
		tables[string(entry[:4])] = file[u32(entry, 8):][:u32(entry, 12)]
	}
	f = &font{file: file, others: map[rune]int16{}}
	for i := range f.low {
		f.low[i] = -1
	}
	metrics, widths := u16(tables["hhea"], 34), tables["hmtx"]
	width := func(glyph int) int16 { return int16(u16(widths, 4*min(glyph, metrics-1))) }
	letters := map[int]rune{} // of printable ASCII, by glyph
	add := func(r rune, glyph int) {
		switch {
		case glyph == 0:
			return
		case r < lowest:
			f.low[r] = width(glyph)
		default:
			f.others[r] = width(glyph)
		}
		if r >= ' ' && r < ' '+kerned {
			letters[glyph] = r
		}
	}
	cmap := tables["cmap"]
	for i := range u16(cmap, 2) {
		t := cmap[u32(cmap, 4+8*i+4):]
		if u16(t, 0) != 4 {
			continue
		}
		n := u16(t, 6) / 2
		ends, starts, deltas, ranges := t[14:], t[16+2*n:], t[16+4*n:], t[16+6*n:]
		for k := range n {
			for c := u16(starts, 2*k); c <= u16(ends, 2*k) && c != 0xffff; c++ {
				glyph := c
				if at := u16(ranges, 2*k); at != 0 {
					if glyph = u16(ranges, 2*k+at+2*(c-u16(starts, 2*k))); glyph == 0 {
						continue
					}
				}
				add(rune(c), (glyph+u16(deltas, 2*k))&0xffff)
			}
		}
		break
	}
	if kern := tables["kern"]; kern != nil {
		for i := range u16(kern, 10) {
			pair := kern[18+6*i:]
			a, okA := letters[u16(pair, 0)]
			b, okB := letters[u16(pair, 2)]
			if value := int16(u16(pair, 4)); okA && okB && max(value, -value) >= leastKern {
				f.kerning[(a-' ')*kerned+b-' '] = value
			}
		}
	}
	return f, nil
}

// width measures a text that one face has, in sizes.
func (f *font) width(text string) float64 {
	n := 0
	before := rune(0)
	for _, r := range text {
		w, _ := f.advance(r)
		n += w + f.kern(before, r)
		before = r
	}
	return float64(n) / 1000
}

// faceOf returns the face that a letter is set in where want is asked for.
func faceOf(r rune, want face) (face, bool) {
	all := fonts()
	for _, f := range [...]face{want, signs, regular} {
		if _, ok := all[f].advance(r); ok {
			return f, true
		}
	}
	return want, false
}
