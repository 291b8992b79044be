package ooxml

import (
	"slices"

	"halves/chem"
	"halves/document"
)

// A slide is 960 by 540 points (16:9). Its content has this much room.
const (
	slideWidth  = 888.0
	slideHeight = 396.0
	segmentGap  = 16.0 // between two segments
	framePad    = 10.0 // between an answer and its frame
	leastFigure = 180.0
)

// scales are those of the letters, from the large ones that are wanted to the
// least that can be read from the last row.
var scales = [...]float64{1, 0.94, 0.875, 0.8, 0.75, 0.7}

const (
	wholeScale = 0.75  // down to this an equation is kept on one line
	wrapScale  = 0.875 // from this on down it may take more
	pourScale  = 0.75  // of what goes on from slide to slide
)

// A page is a slide as it is written.
type page struct {
	segments []segment
	scale    float64
}

// fit lays blocks out on one slide, in the largest letters that have room, or on
// as many as it takes. Nothing is cut off.
func fit(blocks []document.Block) []page {
	for _, wrap := range [...]bool{false, true} {
		for _, scale := range scales {
			if wrap && scale > wrapScale || !wrap && scale < wholeScale {
				continue
			}
			all := segmentsOf(blocks, scale, nil)
			if h, wraps := heightOfAll(all, scale); h <= slideHeight && (wrap || !wraps) {
				return []page{{all, scale}}
			}
		}
	}
	return pour(segmentsOf(blocks, pourScale, nil), pourScale)
}

// fitAll lays slides out. Those that begin with the same line show a working that
// grows: they have letters of one size and their arrows in one place, so that
// what stands there does not move when a line is added.
func fitAll(all []slide) [][]page {
	out := make([][]page, len(all))
	for from := 0; from < len(all); {
		to := from + 1
		first := firstLine(all[from])
		for to < len(all) && first != nil && slices.Equal(firstLine(all[to]), first) {
			to++
		}
		scale := 1.0
		var lines []document.Block
		for i := from; i < to; i++ {
			if out[i] = fit(all[i].blocks); len(out[i]) == 1 {
				scale = min(scale, out[i][0].scale)
				for _, b := range all[i].blocks {
					if e, ok := b.(document.Equation); ok && !e.Final {
						lines = append(lines, e)
					}
				}
			}
		}
		if to > from+1 {
			arrows := slideArrows(lines, scale)
			for i := from; i < to; i++ {
				p := page{segmentsOf(all[i].blocks, scale, arrows), scale}
				if h, _ := heightOfAll(p.segments, scale); len(out[i]) == 1 && h <= slideHeight {
					out[i][0] = p
				}
			}
		}
		from = to
	}
	return out
}

// firstLine is the first line of a working on a slide, nil for none.
func firstLine(s slide) []chem.Run {
	for _, b := range s.blocks {
		if e, ok := b.(document.Equation); ok && e.Line != nil && !e.Final {
			return e.Line
		}
	}
	return nil
}

// heightOfAll is the height of segments, and whether an equation takes more than
// one line.
func heightOfAll(all []segment, scale float64) (h float64, wraps bool) {
	for i, s := range all {
		if i > 0 {
			h += segmentGap
		}
		x, w := s.height(scale)
		h += x
		wraps = wraps || w
	}
	return h, wraps
}

// room is what the lines of a segment have from the left to the right.
func (s segment) room() float64 {
	if s.framed {
		return slideWidth - 2*framePad
	}
	return slideWidth
}

func (s segment) height(scale float64) (h float64, wraps bool) {
	for _, l := range s.lines {
		x, n := l.height(scale, s.room())
		h += x
		wraps = wraps || l.level == equationLevel && n > 1
	}
	if s.framed {
		h += 2 * framePad
	}
	if s.table != nil {
		size := cellSize(scale)
		for i, r := range s.table.all() {
			h += rowHeight(r, s.table.widths, size, i == 0 && s.table.head != nil)
		}
	}
	if s.figure != nil {
		h += leastFigure
	}
	return h, wraps
}

// pour fills slide after slide. A line stays with those that it is kept with, and
// the head of a table is repeated. What is larger than a slide by itself has one
// to itself, in smaller letters.
func pour(all []segment, scale float64) []page {
	var out []page
	var now []segment
	used := 0.0
	next := func() {
		if len(now) > 0 {
			out = append(out, page{now, scale})
		}
		now, used = nil, 0
	}
	place := func(s segment, h float64) {
		if used > 0 && used+segmentGap+h > slideHeight {
			next()
		}
		if used > 0 {
			used += segmentGap
		}
		now, used = append(now, s), used+h
	}
	for _, s := range all {
		switch {
		case s.table != nil:
			head := 0.0
			if s.table.head != nil {
				head = rowHeight(s.table.head, s.table.widths, cellSize(scale), true)
			}
			part, h := *s.table, head
			part.rows = nil
			for _, r := range s.table.rows {
				x := rowHeight(r, part.widths, cellSize(scale), false)
				before := used
				if used > 0 {
					before += segmentGap
				}
				if before+h+x > slideHeight && (len(part.rows) > 0 || used > 0) {
					if len(part.rows) > 0 {
						cut := part
						place(segment{table: &cut}, h)
					}
					next()
					part.rows, h = nil, head
				}
				part.rows, h = append(part.rows, r), h+x
			}
			cut := part
			place(segment{table: &cut}, h)
		case s.figure != nil || s.framed:
			h, _ := s.height(scale)
			place(s, h)
		default:
			for from := 0; from < len(s.lines); {
				to, h := from, 0.0
				for {
					x, _ := s.lines[to].height(scale, s.room())
					h += x
					to++
					if to == len(s.lines) || !s.lines[to-1].keep || h > slideHeight/2 {
						break
					}
				}
				if n := len(now); n > 0 && now[n-1].lines != nil && !now[n-1].framed && used+h <= slideHeight {
					now[n-1].lines = append(now[n-1].lines[:len(now[n-1].lines):len(now[n-1].lines)], s.lines[from:to]...)
					used += h
				} else {
					place(segment{lines: s.lines[from:to]}, h)
				}
				from = to
			}
		}
	}
	next()
	for i, p := range out {
		for h, _ := heightOfAll(p.segments, out[i].scale); h > slideHeight && out[i].scale > leastScale; h, _ = heightOfAll(p.segments, out[i].scale) {
			out[i].scale *= 0.9
		}
	}
	return out
}

const leastScale = 0.2 // 6 points for an equation
