package diagram

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"halves/chem"
	"halves/drawing"
	"halves/energetics"
	"halves/speech"
)

// PHMap draws the regions of the species of an element, solids hatched, with the
// lines of water dashed. A name stands in its region where it has room, else at
// the right with a line to it. Boundaries along an axis bear their pH or
// potential where there is room; the table has all boundaries.
func PHMap(m energetics.PHMap, s Style) Drawn {
	title := "Potential–pH map of " + speech.Element(m.Element, s.Names)
	if !finite(m.PH[0], m.PH[1], m.Volts[0], m.Volts[1]) || m.PH[1]-m.PH[0] < 0.01 || m.Volts[1]-m.Volts[0] < 0.01 {
		return empty(title, "The map has no width or no height to draw.")
	}
	var regions []energetics.Region
	for _, r := range m.Regions {
		ok := len(r.Corners) > 2 && r.Species != nil
		for _, c := range r.Corners {
			ok = ok && finite(c.PH, c.Volts)
		}
		if ok {
			regions = append(regions, r)
		}
	}
	if len(regions) == 0 {
		return empty(title, "There is no species to draw.")
	}
	lines := boundaries(regions, (m.PH[1]-m.PH[0])*1e-4, (m.Volts[1]-m.Volts[0])*1e-4)
	v := &mapView{style: s, m: m, regions: regions}
	p := v.draw(lines, 0)
	if len(v.above) > 0 { // once more, with room for what is above
		v = &mapView{style: s, m: m, regions: regions}
		p = v.draw(lines, 1.8*letters)
	}
	return drawn(p, title, s.mapWords(m, regions, lines), s.mapTable(m, regions, lines))
}

// A mapView draws one map.
type mapView struct {
	style   Style
	m       energetics.PHMap
	regions []energetics.Region
	frame   drawing.Box
	x, y    axis
	taken   []drawing.Box
	beside  []label // right of the map
	above   []label
}

// A label outside the map has a line to what it names.
type label struct {
	text drawing.Text
	to   drawing.Point // what it names
	dot  bool          // mark that point, which is inside a region
}

func (v *mapView) point(c energetics.Vertex) drawing.Point {
	// A region is drawn no further than the frame.
	return drawing.Point{X: v.x.at(min(max(c.PH, v.m.PH[0]), v.m.PH[1])), Y: v.y.at(min(max(c.Volts, v.m.Volts[0]), v.m.Volts[1]))}
}

// draw draws the map with room between it and its key.
func (v *mapView) draw(lines []boundary, room float64) *drawing.Picture {
	s, m := v.style, v.m
	byX, byY := step(m.PH[1]-m.PH[0], 8), step(m.Volts[1]-m.Volts[0], 9)
	tickWidth := 0.0
	for _, t := range ticks(m.Volts[0], m.Volts[1], byY) {
		tickWidth = max(tickWidth, drawing.Width(drawing.Plain(s.signed(t, places(byY))), small, false))
	}
	v.frame.Min = drawing.Point{X: margin + 2*small + tickWidth + tick + 4, Y: margin + 2.2*letters + room}
	v.frame.Max = drawing.Point{X: v.frame.Min.X + 600, Y: v.frame.Min.Y + 500}
	v.x = axis{m.PH[0], m.PH[1], v.frame.Min.X, v.frame.Max.X}
	v.y = axis{m.Volts[0], m.Volts[1], v.frame.Max.Y, v.frame.Min.Y}
	p := &drawing.Picture{Width: v.frame.Max.X + margin, Height: v.frame.Max.Y + margin + 3.4*small}

	water, waterNames := v.water()
	v.areas(p)
	for _, w := range water {
		p.Add(drawing.Line{From: w.a, To: w.b, Stroke: drawing.Stroke{Role: drawing.AccentA, Width: 2, Dash: drawing.Dashed}})
	}
	for i, w := range water {
		v.beside = append(v.beside, label{drawing.Text{Runs: waterNames[i], Size: small, Role: drawing.AccentA}, w.b, false})
	}
	v.names(p, water)
	v.numbers(p, lines, water)
	p.Add(drawing.Rectangle{Box: v.frame, Stroke: thin})
	s.upright(p, v.y, v.frame.Min.X, margin+small, byY, []chem.Run{{Text: "E", Level: chem.Variable}, {Text: " in V"}})
	s.level(p, v.x, v.frame.Max.Y, byX, false, drawing.Plain("pH"))
	v.key(p, len(water) > 0)
	v.outside(p)
	return p
}

// areas paints the regions: dissolved species plain, solids hatched.
func (v *mapView) areas(p *drawing.Picture) {
	for _, r := range v.regions {
		var corners []drawing.Point
		for _, c := range r.Corners {
			corners = append(corners, v.point(c))
		}
		fill := drawing.Fill{Role: drawing.FillA}
		if r.Species.Phase() == chem.Solid {
			fill = drawing.Fill{Role: drawing.FillB, Hatch: drawing.Shade}
		}
		p.Add(drawing.Polygon{Points: corners, Fill: fill, Stroke: drawing.Stroke{Role: drawing.Ink, Width: 1.5}})
	}
}

// water are the lines of water inside the frame, and their names.
func (v *mapView) water() ([]segment, [][]chem.Run) {
	var lines []segment
	var called [][]chem.Run
	for i, w := range [2][2]energetics.Vertex{v.m.Oxygen, v.m.Hydrogen} {
		a, b := w[0], w[1]
		if !finite(a.PH, a.Volts, b.PH, b.Volts) || a == b {
			continue
		}
		// Cut at the frame: the part of the line that is inside.
		t0, t1 := 0.0, 1.0
		for _, e := range [4][2]float64{{a.PH - b.PH, a.PH - v.m.PH[0]}, {b.PH - a.PH, v.m.PH[1] - a.PH}, {a.Volts - b.Volts, a.Volts - v.m.Volts[0]}, {b.Volts - a.Volts, v.m.Volts[1] - a.Volts}} {
			switch {
			case e[0] < 0:
				t0 = max(t0, e[1]/e[0])
			case e[0] > 0:
				t1 = min(t1, e[1]/e[0])
			case e[1] < 0:
				t1 = -1
			}
		}
		if t0 >= t1 {
			continue
		}
		at := func(t float64) drawing.Point {
			return v.point(energetics.Vertex{PH: a.PH + t*(b.PH-a.PH), Volts: a.Volts + t*(b.Volts-a.Volts)})
		}
		lines = append(lines, segment{at(t0), at(t1)})
		if i == 0 {
			called = append(called, []chem.Run{{Text: "O"}, {Text: "2", Level: chem.Subscript}, {Text: " / H"}, {Text: "2", Level: chem.Subscript}, {Text: "O"}})
		} else {
			called = append(called, []chem.Run{{Text: "H"}, {Text: "+", Level: chem.Superscript}, {Text: " / H"}, {Text: "2", Level: chem.Subscript}})
		}
	}
	return lines, called
}

// names writes the species into their regions: level, else upright, else in
// small letters, else above or beside the map, whichever is nearer.
func (v *mapView) names(p *drawing.Picture, water []segment) {
	var left []int
	called, shape := make([]drawing.Text, len(v.regions)), make([][]drawing.Point, len(v.regions))
	for i, r := range v.regions {
		called[i] = drawing.Text{Runs: formula(r.Species), Size: letters, Role: drawing.Ink, Halo: drawing.FillA}
		if r.Species.Phase() == chem.Solid {
			called[i].Halo = drawing.FillB
		}
		for _, c := range r.Corners {
			shape[i] = append(shape[i], v.point(c))
		}
		if !v.inside(p, called[i], shape[i], water) {
			left = append(left, i)
		}
	}
	for _, i := range left {
		called[i].Halo = drawing.None
		up, right := foothold(shape[i], 0, -1), foothold(shape[i], 1, 0)
		if v.way(up, drawing.Point{X: up.X, Y: v.frame.Min.Y}) < v.way(right, drawing.Point{X: v.frame.Max.X, Y: right.Y}) {
			v.above = append(v.above, label{called[i], up, true})
		} else {
			v.beside = append(v.beside, label{called[i], right, true})
		}
	}
}

// way is how long a line to a label is; through another label it is far.
func (v *mapView) way(from, to drawing.Point) float64 {
	d := math.Hypot(to.X-from.X, to.Y-from.Y)
	for _, b := range v.taken {
		if (segment{from, to}).crosses(b) {
			d += 1000
		}
	}
	return d
}

// inside writes a name into its region if it has room there.
func (v *mapView) inside(p *drawing.Picture, t drawing.Text, corners []drawing.Point, water []segment) bool {
	for _, size := range [2]float64{letters, small} {
		t.Size = size
		b := t.CentredOn(drawing.Point{}).Box().Grow(size / 8)
		w, h := b.Max.X-b.Min.X, b.Max.Y-b.Min.Y
		if at, ok := roomiest(corners, w, h, water); ok {
			return v.write(p, t.CentredOn(at))
		}
		if at, ok := roomiest(corners, h, w, water); ok {
			t.At, t.Anchor, t.Turn = drawing.Point{X: at.X + half*size, Y: at.Y}, drawing.Middle, -90
			return v.write(p, t)
		}
	}
	return false
}

func (v *mapView) write(p *drawing.Picture, t drawing.Text) bool {
	if overlapsAny(t.Box(), v.taken) {
		return false
	}
	v.taken = append(v.taken, t.Box())
	p.Add(t)
	return true
}

// numbers writes the pH along upright boundaries and the potential along level
// ones, where there is room beside them.
func (v *mapView) numbers(p *drawing.Picture, lines []boundary, water []segment) {
	var all []segment
	for _, l := range lines {
		all = append(all, segment{v.point(l.from), v.point(l.to)})
	}
	all = append(all, water...)
	for _, b := range append(v.above, v.beside...) {
		if b.dot {
			v.taken = append(v.taken, drawing.Box{Min: b.to, Max: b.to}.Grow(6))
		}
	}
	for i, l := range lines {
		a, b := all[i].a, all[i].b
		t := drawing.Text{Size: small, Anchor: drawing.Middle, Role: drawing.Ink}
		var dx, dy float64 // from the line to the side on which the number stands
		switch {
		case math.Abs(b.X-a.X) < 1:
			t.Runs, t.Turn, dx = drawing.Plain("pH "+v.style.number(l.from.PH, 1)), -90, 1
		case math.Abs(b.Y-a.Y) < 1:
			t.Runs, dy = drawing.Plain(v.style.signed(l.from.Volts, 2)+" V"), 1
		default:
			continue
		}
		v.number(p, t, a, b, dx, dy, all)
	}
}

// number tries places along a boundary on both sides, the middle first.
func (v *mapView) number(p *drawing.Picture, t drawing.Text, a, b drawing.Point, dx, dy float64, all []segment) {
	if math.Hypot(b.X-a.X, b.Y-a.Y) < t.Width()+8 {
		return
	}
	for _, f := range [...]float64{0.5, 0.4, 0.6, 0.3, 0.7, 0.2, 0.8} {
		for _, side := range [2]float64{-1, 1} {
			middle := drawing.Point{X: a.X + f*(b.X-a.X) + side*dx*(small*0.57+4), Y: a.Y + f*(b.Y-a.Y) + side*dy*(small*0.57+4)}
			t.At = drawing.Point{X: middle.X, Y: middle.Y + half*small}
			if t.Turn != 0 {
				t.At = drawing.Point{X: middle.X + half*small, Y: middle.Y}
			}
			box := t.Box()
			free := box.Inside(v.frame) && !overlapsAny(box.Grow(2), v.taken)
			for _, s := range all {
				free = free && !s.crosses(box)
			}
			if !free {
				continue
			}
			t.Halo = v.fillAt(middle)
			v.taken = append(v.taken, box)
			p.Add(t)
			return
		}
	}
}

// fillAt is the role of the region at a place.
func (v *mapView) fillAt(at drawing.Point) drawing.Role {
	for _, r := range v.regions {
		var corners []drawing.Point
		for _, c := range r.Corners {
			corners = append(corners, v.point(c))
		}
		if within(at, corners) {
			if r.Species.Phase() == chem.Solid {
				return drawing.FillB
			}
			return drawing.FillA
		}
	}
	return drawing.Ground
}

// outside writes the labels above and right of the map, moved apart.
func (v *mapView) outside(p *drawing.Picture) {
	lots := make([]lot, len(v.above))
	for i, l := range v.above {
		lots[i] = lot{l.to.X, l.text.Width() + 10}
	}
	for i, x := range spread(lots, margin) {
		l := v.above[i]
		l.text.At, l.text.Anchor = drawing.Point{X: x, Y: v.frame.Min.Y - 16}, drawing.Middle
		l.draw(p, drawing.Point{X: x, Y: v.frame.Min.Y - 10})
	}
	lots = make([]lot, len(v.beside))
	for i, l := range v.beside {
		lots[i] = lot{l.to.Y, letters * 1.4}
	}
	for i, y := range spread(lots, v.frame.Min.Y-letters) {
		l := v.beside[i]
		l.text.At = drawing.Point{X: v.frame.Max.X + 34, Y: y + half*l.text.Size}
		l.draw(p, drawing.Point{X: v.frame.Max.X + 30, Y: y})
	}
}

// draw draws a label outside with a line to it that ends at a point.
func (l label) draw(p *drawing.Picture, end drawing.Point) {
	p.Add(drawing.Line{From: l.to, To: end, Stroke: drawing.Stroke{Role: l.text.Role, Width: 1}})
	if l.dot {
		p.Add(drawing.Circle{Centre: l.to, Radius: 3, Fill: drawing.Fill{Role: drawing.Ink}})
	}
	p.Add(l.text)
	b := l.text.Box()
	p.Width, p.Height = max(p.Width, b.Max.X+margin), max(p.Height, b.Max.Y+margin)
}

// key says above the map what it holds for.
func (v *mapView) key(p *drawing.Picture, water bool) {
	x, y := v.frame.Min.X, margin+letters*0.6
	write := func(runs []chem.Run) {
		t := drawing.Text{At: drawing.Point{X: x, Y: y + half*small}, Runs: runs, Size: small, Role: drawing.Ink}
		p.Add(t)
		x += t.Width() + 20
	}
	if c := v.style.concentration(v.m.Concentration); c != nil {
		write(append(append(drawing.Plain("dissolved species at "), c...), chem.Run{Text: " mol/L"}))
	}
	swatch := func(f drawing.Fill, text string) {
		p.Add(drawing.Rectangle{Box: drawing.Box{Min: drawing.Point{X: x, Y: y - 8}, Max: drawing.Point{X: x + 26, Y: y + 8}}, Fill: f, Stroke: thin})
		x += 34
		write(drawing.Plain(text))
	}
	swatch(drawing.Fill{Role: drawing.FillB, Hatch: drawing.Shade}, "solid")
	if water {
		p.Add(drawing.Line{From: drawing.Point{X: x, Y: y}, To: drawing.Point{X: x + 42, Y: y}, Stroke: drawing.Stroke{Role: drawing.AccentA, Width: 2, Dash: drawing.Dashed}})
		x += 50
		write(drawing.Plain("lines of water"))
	}
	p.Width = max(p.Width, x-20+margin)
}

// concentration writes a positive number as a power of ten where it is small:
// 10⁻³, 2.5 × 10⁻⁴, 0.1. It is nil for what is no concentration.
func (s Style) concentration(c float64) []chem.Run {
	if !finite(c) || c <= 0 {
		return nil
	}
	if c >= 0.01 {
		return drawing.Plain(s.number(c, max(0, decimals(c)-trailing(c))))
	}
	mantissa, exponent, _ := strings.Cut(strconv.FormatFloat(c, 'e', -1, 64), "e-")
	exponent = "−" + strings.TrimLeft(exponent, "0")
	head := "10"
	if mantissa != "1" {
		if s.Comma {
			mantissa = strings.Replace(mantissa, ".", ",", 1)
		}
		head = mantissa + " × 10"
	}
	return []chem.Run{{Text: head}, {Text: exponent, Level: chem.Superscript}}
}

// trailing counts the zeros at the end of the decimals of c.
func trailing(c float64) int {
	text := strconv.FormatFloat(c, 'f', decimals(c), 64)
	return len(text) - len(strings.TrimRight(text, "0"))
}

func (s Style) mapWords(m energetics.PHMap, regions []energetics.Region, lines []boundary) string {
	var b strings.Builder
	fmt.Fprintf(&b, "Where each of %d species of %s has the lowest free energy in water, pH from %s to %s across, potential from %s to %s upward.",
		len(regions), speech.Element(m.Element, s.Names), s.say(m.PH[0], 0), s.say(m.PH[1], 0), s.sayVolts(m.Volts[0]), s.sayVolts(m.Volts[1]))
	if m.Concentration > 0 && finite(m.Concentration) {
		text := strconv.FormatFloat(m.Concentration, 'f', -1, 64)
		if s.Comma {
			text = strings.Replace(text, ".", ",", 1)
		}
		fmt.Fprintf(&b, " Dissolved species are at %s moles per litre.", text)
	}
	for i, r := range regions {
		low, high := r.Corners[0], r.Corners[0]
		for _, c := range r.Corners {
			low = energetics.Vertex{PH: min(low.PH, c.PH), Volts: min(low.Volts, c.Volts)}
			high = energetics.Vertex{PH: max(high.PH, c.PH), Volts: max(high.Volts, c.Volts)}
		}
		kind := ""
		if r.Species.Phase() == chem.Solid {
			kind = ", a solid"
		}
		fmt.Fprintf(&b, " %s%s: pH %s to %s, %s to %s volts", capital(s.called(r.Species)), kind, s.say(low.PH, 1), s.say(high.PH, 1), s.say(low.Volts, 2), s.say(high.Volts, 2))
		var near []string
		seen := map[int]bool{}
		for _, l := range lines {
			for _, pair := range [2][2]int{{l.a, l.b}, {l.b, l.a}} {
				if pair[0] == i && !seen[pair[1]] {
					seen[pair[1]] = true
					near = append(near, s.called(regions[pair[1]].Species))
				}
			}
		}
		if near != nil {
			b.WriteString(", beside " + join(near))
		}
		b.WriteString(".")
	}
	for i, w := range [2][2]energetics.Vertex{m.Oxygen, m.Hydrogen} {
		if w[0] == w[1] || !finite(w[0].PH, w[1].PH, w[0].Volts, w[1].Volts) {
			continue
		}
		fmt.Fprintf(&b, " Dashed, the line of water and %s: %s volts at pH %s, %s volts at pH %s.", [2]string{"oxygen", "hydrogen"}[i],
			s.say(w[0].Volts, 2), s.say(w[0].PH, 0), s.say(w[1].Volts, 2), s.say(w[1].PH, 0))
	}
	return b.String()
}

func (s Style) mapTable(m energetics.PHMap, regions []energetics.Region, lines []boundary) Table {
	t := Table{Caption: "Boundaries of the map of " + speech.Element(m.Element, s.Names),
		Head:  []Cell{plain("species"), plain("species"), plain("from pH"), plain("E in V"), plain("to pH"), plain("E in V")},
		Right: []bool{false, false, true, true, true, true}}
	volts := func(v float64) Cell {
		c := plain(s.signed(v, 2))
		if v < 0 {
			c.Spoken = s.say(v, 2)
		}
		return c
	}
	for _, l := range lines {
		t.Rows = append(t.Rows, []Cell{s.species(regions[l.a].Species), s.species(regions[l.b].Species),
			plain(s.number(l.from.PH, 1)), volts(l.from.Volts), plain(s.number(l.to.PH, 1)), volts(l.to.Volts)})
	}
	return t
}
