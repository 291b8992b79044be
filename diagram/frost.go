package diagram

import (
	"fmt"
	"math"
	"strings"

	"halves/chem"
	"halves/drawing"
	"halves/energetics"
	"halves/speech"
)

// FrostPlot draws the free energy of each species, as oxidation state times
// potential, against oxidation state. Curves differ by marks and line patterns.
// A species that disproportionates has a ring, and a dotted line joins the two
// between which it lies. Points that are no numbers are left out.
func FrostPlot(f energetics.Frost, s Style) Drawn {
	title := "Frost plot of " + speech.Element(f.Element, s.Names)
	curves := finiteCurves(f.Curves)
	if len(curves) == 0 {
		return empty(title, "There is no species to draw.")
	}
	// A plot that is too full for its labels becomes larger.
	var p *drawing.Picture
	for size := 1.0; size < 4; size *= 1.25 {
		var all bool
		if p, all = s.frost(curves, 720*size, 500*size); all {
			break
		}
	}
	return drawn(p, title, s.frostWords(f.Element, curves), s.frostTable(f.Element, curves))
}

// finiteCurves leaves out what cannot be drawn and keeps what Unstable means.
func finiteCurves(curves []energetics.Curve) []energetics.Curve {
	var out []energetics.Curve
	for _, c := range curves {
		place := make([]int, len(c.Points))
		kept := energetics.Curve{Medium: c.Medium}
		for i, p := range c.Points {
			place[i] = -1
			if p.Species != nil && finite(p.Height, float(p.State)) {
				place[i] = len(kept.Points)
				kept.Points = append(kept.Points, p)
			}
		}
		at := func(i int) int {
			if i < 0 || i >= len(place) {
				return -1
			}
			return place[i]
		}
		for _, u := range c.Unstable {
			if u = (energetics.Disproportionation{Point: at(u.Point), Lower: at(u.Lower), Upper: at(u.Upper)}); min(u.Point, u.Lower, u.Upper) >= 0 {
				kept.Unstable = append(kept.Unstable, u)
			}
		}
		if len(kept.Points) > 0 {
			out = append(out, kept)
		}
	}
	return out
}

// The strokes of the curves, in their order.
var curveStrokes = [...]drawing.Stroke{
	{Role: drawing.AccentA, Width: 2},
	{Role: drawing.AccentB, Width: 2, Dash: drawing.Dashed},
	{Role: drawing.Ink, Width: 2, Dash: drawing.Dotted},
}

const mark = 5.0 // radius of marks

// addMark draws the mark of a curve: disc, open square, triangle.
func addMark(p *drawing.Picture, curve int, at drawing.Point) {
	role := curveStrokes[curve%len(curveStrokes)].Role
	switch curve % len(curveStrokes) {
	case 0:
		p.Add(drawing.Circle{Centre: at, Radius: mark, Fill: drawing.Fill{Role: role}})
	case 1:
		p.Add(drawing.Rectangle{Box: drawing.Box{Min: at, Max: at}.Grow(mark - 0.5), Fill: drawing.Fill{Role: drawing.Ground}, Stroke: drawing.Stroke{Role: role, Width: 2}})
	default:
		p.Add(drawing.Polygon{Points: []drawing.Point{{X: at.X, Y: at.Y - mark}, {X: at.X + mark, Y: at.Y + mark}, {X: at.X - mark, Y: at.Y + mark}}, Fill: drawing.Fill{Role: role}})
	}
}

func addRing(p *drawing.Picture, at drawing.Point) {
	p.Add(drawing.Circle{Centre: at, Radius: mark + 4, Stroke: drawing.Stroke{Role: drawing.Ink, Width: 1.5}})
}

// frost draws the curves on a canvas of a size and reports whether every label
// found a place.
func (s Style) frost(curves []energetics.Curve, width, height float64) (*drawing.Picture, bool) {
	p := &drawing.Picture{Width: width, Height: height}
	x := axis{low: float(curves[0].Points[0].State)}
	x.high = x.low
	y := axis{} // zero is always shown: the element
	for _, c := range curves {
		for _, q := range c.Points {
			x.low, x.high = min(x.low, float(q.State)), max(x.high, float(q.State))
			y.low, y.high = min(y.low, q.Height), max(y.high, q.Height)
		}
	}
	var byY float64
	y.low, y.high, byY = around(y.low, y.high, 8)
	byX := max(1, step(max(1, x.high-x.low), 10))
	x.low, x.high = math.Floor(x.low/byX)*byX, math.Ceil(x.high/byX)*byX
	if x.low == x.high {
		x.low, x.high = x.low-1, x.high+1
	}
	tickWidth := 0.0
	for _, v := range ticks(y.low, y.high, byY) {
		tickWidth = max(tickWidth, drawing.Width(drawing.Plain(s.signed(v, places(byY))), small, false))
	}
	frame := drawing.Box{Min: drawing.Point{X: margin + 2*small + tickWidth + tick + 4, Y: margin + 2.4*letters}, Max: drawing.Point{X: width - margin, Y: height - margin - 3.4*small}}
	x.from, x.to = frame.Min.X+26, frame.Max.X-34
	y.from, y.to = frame.Max.Y-16, frame.Min.Y+20

	s.frostKey(p, curves, frame)
	p.Add(drawing.Rectangle{Box: frame, Stroke: thin})
	if y.low < 0 && y.high > 0 {
		p.Add(drawing.Line{From: drawing.Point{X: frame.Min.X, Y: y.at(0)}, To: drawing.Point{X: frame.Max.X, Y: y.at(0)}, Stroke: hair})
	}
	s.upright(p, y, frame.Min.X, margin+small, byY, []chem.Run{{Text: "n", Level: chem.Variable}, {Text: "\u00a0"}, {Text: "E", Level: chem.Variable}, {Text: "° in V, free energy for one atom in eV"}})
	s.level(p, x, frame.Max.Y, byX, true, []chem.Run{{Text: "oxidation state "}, {Text: "n", Level: chem.Variable}})

	// Lines first, then marks, then labels around both.
	at := func(q energetics.Point) drawing.Point {
		return drawing.Point{X: x.at(float(q.State)), Y: y.at(q.Height)}
	}
	keepOff := []segment{{drawing.Point{X: frame.Min.X, Y: y.at(0)}, drawing.Point{X: frame.Max.X, Y: y.at(0)}}}
	var taken []drawing.Box
	for i, c := range curves {
		for _, u := range c.Unstable {
			a, b := at(c.Points[u.Lower]), at(c.Points[u.Upper])
			p.Add(drawing.Line{From: a, To: b, Stroke: drawing.Stroke{Role: drawing.Faint, Width: 1.5, Dash: drawing.Dotted}})
			keepOff = append(keepOff, segment{a, b})
		}
		var points []drawing.Point
		for j, q := range c.Points {
			points = append(points, at(q))
			if j > 0 {
				keepOff = append(keepOff, segment{points[j-1], points[j]})
			}
		}
		if len(points) > 1 {
			p.Add(drawing.Polyline{Points: points, Stroke: curveStrokes[i%len(curveStrokes)]})
		}
	}
	ringed := map[drawing.Point]bool{}
	for i, c := range curves {
		for _, q := range c.Points {
			addMark(p, i, at(q))
		}
		for _, u := range c.Unstable {
			if r := at(c.Points[u.Point]); !ringed[r] {
				ringed[r] = true
				addRing(p, r)
			}
		}
		for _, q := range c.Points {
			taken = append(taken, drawing.Box{Min: at(q), Max: at(q)}.Grow(mark+6))
		}
	}
	all := true
	type named struct {
		species string
		at      drawing.Point
	}
	curvesAt := map[named]int{} // one label stands for all curves that meet, as they do at the element
	for _, c := range curves {
		for _, q := range c.Points {
			curvesAt[named{q.Species.Key(), at(q)}]++
		}
	}
	for i, c := range curves {
		for _, q := range c.Points {
			l := named{q.Species.Key(), at(q)}
			t := drawing.Text{Runs: formula(q.Species), Size: letters, Role: curveStrokes[i%len(curveStrokes)].Role, Halo: drawing.Ground}
			switch n := curvesAt[l]; {
			case n == 0:
				continue
			case n > 1:
				t.Role = drawing.Ink
			}
			curvesAt[l] = 0
			t, ok := place(t, l.at, frame.Grow(-3), taken, keepOff, i%2 == 0)
			if !ok {
				all = false
				continue
			}
			b := t.Box()
			if e := nearest(b, l.at); math.Hypot(e.X-l.at.X, e.Y-l.at.Y) > 2.5*mark+8 {
				s := segment{l.at, e}
				keepOff = append(keepOff, s)
				p.Add(drawing.Line{From: s.a, To: s.b, Stroke: hair})
			}
			taken = append(taken, b)
			p.Add(t)
		}
	}
	return p, all
}

// place finds the place near a point where a label meets no other, no mark, and
// as few lines as can be: around the point first, then further out. Above is
// tried before below where above is true.
func place(t drawing.Text, at drawing.Point, frame drawing.Box, taken []drawing.Box, keepOff []segment, above bool) (drawing.Text, bool) {
	w, h := t.Width(), t.CentredOn(at).Box().Max.Y-t.CentredOn(at).Box().Min.Y
	side := 1.0
	if above {
		side = -1
	}
	directions := [...][2]float64{{0, side}, {0.7, side}, {-0.7, side}, {1, 0}, {-1, 0}, {0, -side}, {0.7, -side}, {-0.7, -side}, {1, side}, {-1, side}, {1, -side}, {-1, -side}}
	best, found, cost := t, false, math.Inf(1)
	for ring := range 24 {
		far := mark + 6 + 12*float64(ring)
		if cost <= 3*float64(ring) {
			break // no place further out can be better
		}
		for i, d := range directions {
			c := t.CentredOn(drawing.Point{X: at.X + d[0]*(w/2+far), Y: at.Y + d[1]*(h/2+far)})
			b := c.Box()
			if !b.Inside(frame) || overlapsAny(b, taken) {
				continue
			}
			price := 3*float64(ring) + 0.1*float64(i)
			for _, s := range keepOff {
				if s.crosses(b.Grow(1)) {
					price += 10
				}
			}
			if ring > 0 { // the leader should cross nothing
				lead := segment{at, nearest(b, at)}
				for _, o := range taken {
					if lead.crosses(o) && !(at.X > o.Min.X && at.X < o.Max.X && at.Y > o.Min.Y && at.Y < o.Max.Y) {
						price += 8
					}
				}
			}
			if price < cost {
				best, found, cost = c, true, price
			}
		}
	}
	return best, found
}

// frostKey says above the plot which mark and line is which medium.
func (s Style) frostKey(p *drawing.Picture, curves []energetics.Curve, frame drawing.Box) {
	x, y := frame.Min.X, margin+letters*0.6
	write := func(text string) {
		t := drawing.Text{At: drawing.Point{X: x, Y: y + half*small}, Runs: drawing.Plain(text), Size: small, Role: drawing.Ink}
		p.Add(t)
		x += t.Width() + 22
	}
	unstable := false
	for i, c := range curves {
		p.Add(drawing.Line{From: drawing.Point{X: x, Y: y}, To: drawing.Point{X: x + 42, Y: y}, Stroke: curveStrokes[i%len(curveStrokes)]})
		addMark(p, i, drawing.Point{X: x + 21, Y: y})
		x += 50
		write(medium(c.Medium))
		unstable = unstable || len(c.Unstable) > 0
	}
	if unstable {
		addRing(p, drawing.Point{X: x + mark + 4, Y: y})
		x += 2*mark + 14
		write("ringed, above a dotted line: disproportionates")
	}
	p.Width = max(p.Width, x-22+margin)
}

func (s Style) frostWords(e chem.Element, curves []energetics.Curve) string {
	var b strings.Builder
	fmt.Fprintf(&b, "The free energy of the species of %s, as oxidation state times standard potential in volts, against oxidation state.", speech.Element(e, s.Names))
	for _, c := range curves {
		fmt.Fprintf(&b, " %s: ", capital(medium(c.Medium)))
		var list []string
		for _, q := range c.Points {
			list = append(list, fmt.Sprintf("%s, state %s, at %s", s.called(q.Species), speech.Signed(q.State), s.sayVolts(q.Height)))
		}
		b.WriteString(strings.Join(list, "; ") + ".")
		if len(c.Unstable) == 0 {
			b.WriteString(" No species is marked as disproportionating.")
		}
		for _, u := range c.Unstable {
			fmt.Fprintf(&b, " %s disproportionates: it lies above the line between %s and %s.",
				capital(s.called(c.Points[u.Point].Species)), s.called(c.Points[u.Lower].Species), s.called(c.Points[u.Upper].Species))
		}
	}
	return b.String()
}

func (s Style) frostTable(e chem.Element, curves []energetics.Curve) Table {
	t := Table{Caption: "Free energies of the species of " + speech.Element(e, s.Names),
		Head:  []Cell{plain("medium"), plain("species"), plain("state"), plain("n E° in V"), plain("disproportionates into")},
		Right: []bool{false, false, true, true, false}}
	for _, c := range curves {
		for i, q := range c.Points {
			into := Cell{}
			for _, u := range c.Unstable {
				if u.Point != i {
					continue
				}
				if into.Formula != nil {
					into.Formula, into.Spoken = append(into.Formula, chem.Run{Text: ", "}), into.Spoken+"; "
				}
				lower, upper := c.Points[u.Lower].Species, c.Points[u.Upper].Species
				into.Formula = append(append(append(into.Formula, lower.Runs()...), chem.Run{Text: " + "}), upper.Runs()...)
				into.Spoken += s.called(lower) + " and " + s.called(upper)
			}
			t.Rows = append(t.Rows, []Cell{plain(medium(c.Medium)), s.species(q.Species), stateCell(q.State), s.voltsCell(q.Height), into})
		}
	}
	return t
}
