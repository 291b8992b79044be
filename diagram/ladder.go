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

// Ladder draws couples to the scale of their potentials, each with its value and
// its half-reaction; labels of close rungs are moved apart and led to them. The
// two rungs of a reaction are heavy and joined by an arrow, in the direction in
// which electrons go, with the potential of the cell beside it. Rungs whose
// potential is not a number are left out, and said to be.
func Ladder(l energetics.Ladder, s Style) Drawn {
	title := l.Title
	if title == "" {
		title = "Ladder of standard potentials"
	}
	var rungs []energetics.Rung
	oxidizing, reducing := -1, -1
	left := 0
	for i, r := range l.Rungs {
		if !finite(r.Volts) {
			left++
			continue
		}
		if i == l.Oxidizing {
			oxidizing = len(rungs)
		}
		if i == l.Reducing {
			reducing = len(rungs)
		}
		rungs = append(rungs, r)
	}
	if len(rungs) == 0 {
		return empty(title, "There is no couple with a potential to draw.")
	}
	joined := oxidizing >= 0 && reducing >= 0 && oxidizing != reducing
	if !joined {
		oxidizing, reducing = -1, -1
	}

	// The labels, and from them the columns.
	const line = letters * 1.45
	values, halves, remarks := make([][]chem.Run, len(rungs)), make([][]chem.Run, len(rungs)), make([][]chem.Run, len(rungs))
	lots := make([]lot, len(rungs))
	low, high := rungs[0].Volts, rungs[0].Volts
	valueWidth, halfWidth, height := 0.0, 0.0, 0.0
	for i, r := range rungs {
		bold := i == oxidizing || i == reducing
		values[i] = drawing.Plain(s.volts(r.Volts) + " V")
		halves[i] = drawing.Signs(r.Half.Runs(chem.Style{Phases: s.Phases}))
		lots[i].height = line
		switch i {
		case oxidizing:
			remarks[i] = drawing.Plain("the reduction: takes up electrons")
		case reducing:
			remarks[i] = drawing.Plain("the oxidation, read backward: gives off electrons")
		}
		if remarks[i] != nil {
			lots[i].height = 2 * line
			halfWidth = max(halfWidth, drawing.Width(remarks[i], small, false))
		}
		low, high = min(low, r.Volts), max(high, r.Volts)
		valueWidth = max(valueWidth, drawing.Width(values[i], letters, bold))
		halfWidth = max(halfWidth, drawing.Width(halves[i], letters, bold))
		height += lots[i].height
	}
	low, high, by := around(low, high, 8)

	var cell []chem.Run
	cellWidth := 0.0
	if joined {
		volts := rungs[oxidizing].Volts - rungs[reducing].Volts
		cell = append(potential("cell"), chem.Run{Text: " = " + s.signed(volts, fewer(rungs[oxidizing].Volts, rungs[reducing].Volts)) + " V"})
		cellWidth = drawing.Width(cell, letters, true) + 24
	}
	tickWidth := 0.0
	for _, v := range ticks(low, high, by) {
		tickWidth = max(tickWidth, drawing.Width(drawing.Plain(s.signed(v, places(by))), small, false))
	}
	axisX := margin + 2*small + tickWidth + tick + 4
	arrowX := axisX + cellWidth + 14
	shortX, endX := arrowX+34, arrowX+130
	if !joined {
		shortX, endX = axisX+14, axisX+110
	}
	valueX := endX + 44 + valueWidth
	halfX := valueX + 14

	// The scale, and the labels beside it.
	scale := axis{low: low, high: high, to: margin + line, from: margin + line + max(340, 0.9*height)}
	for i, r := range rungs {
		lots[i].want = scale.at(r.Volts)
	}
	middles := spread(lots, math.Inf(-1))
	top, foot := scale.to-line/2, scale.from+line/2
	for i, y := range middles {
		top, foot = min(top, y-lots[i].height/2), max(foot, y+lots[i].height/2)
	}
	down := margin - top // what reaches over the upper edge moves all down
	scale.from, scale.to = scale.from+down, scale.to+down
	for i := range middles {
		middles[i] += down
	}
	p := &drawing.Picture{Width: halfX + halfWidth + margin, Height: foot + down + margin}

	p.Add(drawing.Line{From: drawing.Point{X: axisX, Y: scale.from}, To: drawing.Point{X: axisX, Y: scale.to}, Stroke: thin})
	s.upright(p, scale, axisX, margin+small, by, append(potential(""), chem.Run{Text: " in V"}))
	for _, heavy := range [2]bool{false, true} { // the heavy rungs over those at the same height
		for i, r := range rungs {
			if (i == oxidizing || i == reducing) != heavy {
				continue
			}
			y, x, stroke := scale.at(r.Volts), shortX, drawing.Stroke{Role: drawing.Ink, Width: 1.5}
			if heavy {
				x, stroke = arrowX-8, drawing.Stroke{Role: drawing.AccentA, Width: 3}
			}
			p.Add(drawing.Line{From: drawing.Point{X: x, Y: y}, To: drawing.Point{X: endX, Y: y}, Stroke: stroke})
		}
	}
	for i, r := range rungs {
		y, bold := scale.at(r.Volts), i == oxidizing || i == reducing
		first := middles[i]
		if remarks[i] != nil {
			first -= line / 2
			p.Add(drawing.Text{At: drawing.Point{X: halfX, Y: middles[i] + line/2 + half*small - 2}, Runs: remarks[i], Size: small, Role: drawing.Quiet})
		}
		p.Add(drawing.Polyline{Points: []drawing.Point{{X: endX, Y: y}, {X: endX + 8, Y: y}, {X: endX + 30, Y: first}, {X: valueX - drawing.Width(values[i], letters, bold) - 5, Y: first}}, Stroke: hair})
		p.Add(drawing.Text{At: drawing.Point{X: valueX, Y: first + half*letters}, Runs: values[i], Size: letters, Anchor: drawing.End, Role: drawing.Ink, Bold: bold},
			drawing.Text{At: drawing.Point{X: halfX, Y: first + half*letters}, Runs: halves[i], Size: letters, Role: drawing.Ink, Bold: bold})
	}
	if joined {
		from, to := scale.at(rungs[reducing].Volts), scale.at(rungs[oxidizing].Volts)
		p.Add(drawing.Arrow(drawing.Point{X: arrowX, Y: from}, drawing.Point{X: arrowX, Y: to}, drawing.Stroke{Role: drawing.AccentA, Width: 2})...)
		p.Add(drawing.Text{At: drawing.Point{X: arrowX - 14, Y: (from+to)/2 + half*letters}, Runs: cell, Size: letters, Anchor: drawing.End, Role: drawing.AccentA, Bold: true})
	}
	return drawn(p, title, s.ladderWords(rungs, oxidizing, reducing, left), s.ladderTable(rungs))
}

func (s Style) ladderWords(rungs []energetics.Rung, oxidizing, reducing, left int) string {
	var b strings.Builder
	couples := "couples"
	if len(rungs) == 1 {
		couples = "couple"
	}
	fmt.Fprintf(&b, "A ladder of %d %s to the scale of their standard potentials, the greatest on top.", len(rungs), couples)
	for _, r := range rungs {
		fmt.Fprintf(&b, " %s: %s.", capital(s.sayVolts(r.Volts)), speech.Equation(r.Half, s.Names))
	}
	if oxidizing >= 0 {
		o, r := rungs[oxidizing], rungs[reducing]
		direction := "up"
		if o.Volts < r.Volts {
			direction = "down"
		}
		fmt.Fprintf(&b, " An arrow leads %s from the couple at %s, which gives off electrons, to the couple at %s, which takes them up. The standard potential of the cell is the difference, %s volts.",
			direction, s.sayVolts(r.Volts), s.sayVolts(o.Volts), s.say(o.Volts-r.Volts, fewer(o.Volts, r.Volts)))
	}
	if left > 0 {
		fmt.Fprintf(&b, " Without a potential and not drawn: %d.", left)
	}
	return b.String()
}

func (s Style) ladderTable(rungs []energetics.Rung) Table {
	t := Table{Caption: "Standard potentials, the greatest first", Head: []Cell{plain("half-reaction"), plain("E° in V"), plain("from")}, Right: []bool{false, true, false}}
	for _, r := range rungs {
		t.Rows = append(t.Rows, []Cell{{Formula: r.Half.Runs(chem.Style{Phases: s.Phases}), Spoken: speech.Equation(r.Half, s.Names)}, s.voltsCell(r.Volts), plain(r.From)})
	}
	return t
}

// fewer is how many decimals a difference of two potentials has: those of the one
// that has fewer, but two at least, since a last zero is not kept.
func fewer(a, b float64) int { return max(2, min(decimals(a), decimals(b))) }
