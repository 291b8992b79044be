package diagram

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"halves/chem"
	"halves/drawing"
	"halves/energetics"
	"halves/speech"
)

// widest is how wide a row may become before it goes on in another line; the
// last species of a line then stands again at the head of the next.
const widest = 860.0

// LatimerRow draws the species of a row from the highest state to the lowest,
// states below them, potentials over the arrows, and the potentials that span
// several as brackets below. Links that lead to no station or are no numbers are
// left out.
func LatimerRow(l energetics.Latimer, s Style) Drawn {
	title := "Latimer row of " + speech.Element(l.Element, s.Names) + " " + medium(l.Medium)
	if len(l.Stations) == 0 {
		return empty(title, "There is no species to draw.")
	}
	r := row{style: s, stations: l.Stations, next: make([]*energetics.Link, len(l.Stations))}
	var links []energetics.Link
	for _, k := range l.Links {
		if k.From < 0 || k.To <= k.From || k.To >= len(l.Stations) || !finite(k.Volts) {
			continue
		}
		links = append(links, k)
		if k.To == k.From+1 && r.next[k.From] == nil {
			r.next[k.From] = &k
		} else {
			r.spans = append(r.spans, k)
		}
	}
	r.measure()

	head := drawing.Text{At: drawing.Point{X: margin, Y: margin + letters}, Runs: append(potential(""), chem.Run{Text: " in V, " + medium(l.Medium)}), Size: small, Role: drawing.Quiet}
	p := &drawing.Picture{Width: head.Width() + 2*margin, Height: margin + 1.4*letters}
	p.Add(head)
	for _, line := range r.lines() {
		r.draw(p, line[0], line[1])
	}
	p.Height += margin
	return drawn(p, title, s.latimerWords(l, links), s.latimerTable(l, links))
}

// A row is what of a Latimer row does not depend on its lines.
type row struct {
	style    Style
	stations []energetics.Station
	next     []*energetics.Link // from each station to its neighbour, or nil
	spans    []energetics.Link
	widths   []float64 // of the stations
	gaps     []float64 // after each
}

func (r *row) measure() {
	for i, st := range r.stations {
		w := max(drawing.Width(formula(st.Species), letters+2, false), drawing.Width(drawing.Plain(state(st.State)), small, false))
		gap := 64.0
		if k := r.next[i]; k != nil {
			gap = max(gap, drawing.Width(drawing.Plain(r.style.volts(k.Volts)), letters, false)+34)
		}
		r.widths, r.gaps = append(r.widths, w), append(r.gaps, gap)
	}
}

// lines parts the stations into as few lines as go, of about the same width.
// Each is its first and its last station.
func (r *row) lines() [][2]int {
	least := r.fill(widest)
	total := 0.0
	for i := range r.stations {
		total += r.widths[i] + r.gaps[i]
	}
	for limit := total / float64(len(least)); limit < widest; limit += 10 {
		if even := r.fill(limit); len(even) <= len(least) {
			return even
		}
	}
	return least
}

func (r *row) fill(limit float64) [][2]int {
	var lines [][2]int
	first, width := 0, r.widths[0]
	for i := 1; i < len(r.stations); i++ {
		add := r.gaps[i-1] + r.widths[i]
		if width+add > limit && i-1 > first {
			lines = append(lines, [2]int{first, i - 1})
			first, width = i-1, r.widths[i-1]
		}
		width += add
	}
	return append(lines, [2]int{first, len(r.stations) - 1})
}

// A piece is the part of a span that is in one line.
type piece struct {
	link       energetics.Link
	from, to   float64 // places
	open, goes bool    // it came from the line before, goes on in the next
	level      int
}

// draw adds a line of stations below what the picture has.
func (r *row) draw(p *drawing.Picture, first, last int) {
	const levelHeight = 36.0
	base := p.Height + letters + 26
	centre := make([]float64, len(r.stations))
	left := margin // where spans from the line before begin
	for _, k := range r.spans {
		if k.From < first && k.To > first {
			left = max(left, margin+drawing.Width(formula(r.stations[k.From].Species), letters, false)+6)
		}
	}
	x := left + 12
	for i := first; i <= last; i++ {
		w := r.widths[i]
		centre[i] = x + w/2
		role := drawing.Ink
		if i == first && first > 0 {
			role = drawing.Quiet // it stands at the end of the line before, too
		}
		p.Add(drawing.Text{At: drawing.Point{X: centre[i], Y: base}, Runs: formula(r.stations[i].Species), Size: letters + 2, Anchor: drawing.Middle, Role: role},
			drawing.Text{At: drawing.Point{X: centre[i], Y: base + 1.75*small}, Runs: drawing.Plain(state(r.stations[i].State)), Size: small, Anchor: drawing.Middle, Role: drawing.Quiet})
		if i == last {
			x += w
			break
		}
		if k := r.next[i]; k != nil {
			from, to := x+w+7, x+w+r.gaps[i]-7
			p.Add(drawing.Arrow(drawing.Point{X: from, Y: base - 6}, drawing.Point{X: to, Y: base - 6}, drawing.Stroke{Role: drawing.Ink, Width: 1.5})...)
			p.Add(drawing.Text{At: drawing.Point{X: (from+to)/2 - 3, Y: base - 15}, Runs: drawing.Plain(r.style.volts(k.Volts)), Size: letters, Anchor: drawing.Middle, Role: drawing.Ink})
		}
		x += w + r.gaps[i]
	}
	right := x + 12
	foot := base + 1.75*small + 9
	pieces := r.pieces(first, last, centre, left, right)
	deepest := 0
	for i, c := range pieces {
		deepest = max(deepest, c.level+1)
		y := foot + float64(c.level+1)*levelHeight
		points := []drawing.Point{{X: c.from, Y: foot}, {X: c.from, Y: y}, {X: c.to, Y: y}}
		if c.open {
			points = points[1:]
		}
		stroke := drawing.Stroke{Role: drawing.AccentA, Width: 1.5}
		p.Add(drawing.Polyline{Points: points, Stroke: stroke})
		end := drawing.Text{Size: letters, Role: drawing.AccentA} // the station that is in another line
		end.At.Y = y + half*letters
		switch {
		case c.goes:
			p.Add(drawing.Arrow(drawing.Point{X: c.to - 1, Y: y}, drawing.Point{X: c.to + 10, Y: y}, stroke)...)
			end.At.X, end.Runs = c.to+15, formula(r.stations[c.link.To].Species)
			p.Add(end)
			right = max(right, end.Box().Max.X)
		default:
			p.Add(drawing.Arrow(drawing.Point{X: c.to, Y: y}, drawing.Point{X: c.to, Y: foot}, stroke)...)
		}
		if c.open {
			end.At.X, end.Runs, end.Anchor = c.from-5, formula(r.stations[c.link.From].Species), drawing.End
			p.Add(end)
		}
		label := drawing.Text{Runs: drawing.Plain(r.style.volts(c.link.Volts)), Size: letters, Anchor: drawing.Middle, Role: drawing.AccentA, Halo: drawing.Ground}
		label.At = drawing.Point{X: labelPlace(pieces, i, label.Width()), Y: y - 8}
		p.Add(label)
		right = max(right, label.Box().Max.X)
	}
	p.Width = max(p.Width, right+margin)
	p.Height = foot + float64(deepest)*levelHeight + 8
}

// pieces are the parts of the spans in a line, the shortest at the least depth.
// Brackets that share a station are set side by side under it, nested.
func (r *row) pieces(first, last int, centre []float64, left, right float64) []piece {
	var out []piece
	spans := slices.Clone(r.spans)
	slices.SortStableFunc(spans, func(a, b energetics.Link) int { return (a.To - a.From) - (b.To - b.From) })
	starts, ends := map[int]int{}, map[int]int{} // brackets that still come, by station
	for _, k := range spans {
		starts[k.From]++
		ends[k.To]++
	}
	for _, k := range spans {
		starts[k.From]--
		ends[k.To]--
		if k.To <= first || k.From >= last {
			continue
		}
		c := piece{link: k, open: k.From < first, goes: k.To > last}
		c.from, c.to = left, right
		if !c.open {
			c.from = centre[k.From] + 7 + 8*float64(starts[k.From])
		}
		if !c.goes {
			c.to = centre[k.To] - 7 - 8*float64(ends[k.To])
		}
		for slices.ContainsFunc(out, func(d piece) bool { return d.level == c.level && d.from < c.to+8 && c.from < d.to+8 }) {
			c.level++
		}
		out = append(out, c)
	}
	return out
}

// labelPlace is the place along bracket i for a label of a width, as near to the
// middle as the legs of deeper brackets leave.
func labelPlace(pieces []piece, i int, width float64) float64 {
	c := pieces[i]
	middle := (c.from + c.to) / 2
	room := max(0, (c.to-c.from-width)/2-6)
	for d := 0.0; d <= room; d += 4 {
		for _, x := range [2]float64{middle - d, middle + d} {
			if !slices.ContainsFunc(pieces, func(e piece) bool {
				leg := func(at float64) bool { return at > x-width/2-4 && at < x+width/2+4 }
				return e.level > c.level && (!e.open && leg(e.from) || !e.goes && leg(e.to))
			}) {
				return x
			}
		}
	}
	return middle
}

func (s Style) latimerWords(l energetics.Latimer, links []energetics.Link) string {
	var b strings.Builder
	n := strconv.Itoa(len(l.Stations)) + " species"
	fmt.Fprintf(&b, "%s of %s %s, from the highest oxidation state to the lowest: ", n, speech.Element(l.Element, s.Names), medium(l.Medium))
	var list []string
	for _, st := range l.Stations {
		list = append(list, s.called(st.Species)+" ("+speech.Signed(st.State)+")")
	}
	b.WriteString(join(list) + ". Standard potentials: ")
	list = list[:0]
	for _, k := range links {
		list = append(list, fmt.Sprintf("from %s to %s %s", s.called(l.Stations[k.From].Species), s.called(l.Stations[k.To].Species), s.sayVolts(k.Volts)))
	}
	if len(list) == 0 {
		list = []string{"none known"}
	}
	b.WriteString(strings.Join(list, "; ") + ".")
	return b.String()
}

func (s Style) latimerTable(l energetics.Latimer, links []energetics.Link) Table {
	t := Table{Caption: "Potentials of " + speech.Element(l.Element, s.Names) + " " + medium(l.Medium),
		Head:  []Cell{plain("from"), plain("state"), plain("to"), plain("state"), plain("E° in V"), plain("electrons for one atom"), plain("source")},
		Right: []bool{false, true, false, true, true, true, false}}
	for _, k := range links {
		from, to := l.Stations[k.From], l.Stations[k.To]
		t.Rows = append(t.Rows, []Cell{s.species(from.Species), stateCell(from.State), s.species(to.Species), stateCell(to.State), s.voltsCell(k.Volts), plain(k.Electrons.String()), plain(k.Source)})
	}
	return t
}
