package diagram

import (
	"fmt"
	"strings"
	"unicode"
	"unicode/utf8"

	"halves/chem"
	"halves/drawing"
)

// A Chart is what a bar chart shows, from the top down.
type Chart struct {
	Title string // a few words: what is counted, by what
	Rows  []Bar
	Whole float64 // the value of a bar of full length; 0 for the greatest of the rows
	Table Table   // the numbers, to stand beside the picture
}

// A Bar is a row of a bar chart: its label, its value and the figure at its end.
type Bar struct {
	Label  []chem.Run // as it is printed: formulas went through drawing.Signs
	Spoken string     // the label in words, "" if it is read as it stands
	Value  float64    // what its length shows, not negative
	End    string     // the value in figures: "3, 43 %"
}

// Measures of a bar chart, in units of the canvas. It is narrow, so that on a
// telephone its letters stay about as large as those of a page. Labels are set
// flush left, as in a table; bars begin behind the longest line of them.
const (
	chartWidth = 420.0
	chartEdge  = 1.0 // at the sides: labels begin where the text of a page does
	chartHead  = 4.0 // above and below
	labelRoom  = 210.0
	leastRoom  = 72.0 // of the longest bar, however long the figures are
	barHeight  = 14.0
	barGap     = 8.0  // before and behind a bar
	rowGap     = 10.0 // between rows
	lineHeight = 1.25 * letters
)

// Bars draws a horizontal bar for each row, all from one line and on one scale
// that begins at zero. Labels stand at the left, in several lines where they are
// long, and the figures at the ends. A value that is no number, is negative or is
// beyond the whole is drawn as the nearest that can be. It reports false, and
// draws nothing, where there are no rows.
func Bars(c Chart) (Drawn, bool) {
	if len(c.Rows) == 0 {
		return Drawn{}, false
	}
	whole := c.Whole
	if !finite(whole) || whole <= 0 {
		whole = 0
		for _, r := range c.Rows {
			if finite(r.Value) {
				whole = max(whole, r.Value)
			}
		}
	}
	labels := make([][][]chem.Run, len(c.Rows))
	column, figures := 0.0, 0.0
	for i, r := range c.Rows {
		labels[i] = wrapped(r.Label)
		column = max(column, widestOf(labels[i]))
		figures = max(figures, drawing.Width(drawing.Plain(r.End), letters, false))
	}
	zero := chartEdge + column + barGap
	room := max(leastRoom, chartWidth-zero-barGap-figures-chartEdge)

	p := &drawing.Picture{Width: zero + room + barGap + figures + chartEdge, Height: chartHead}
	for i, r := range c.Rows {
		if i > 0 {
			p.Height += rowGap
		}
		height := lineHeight * float64(max(1, len(labels[i])))
		middle := p.Height + height/2
		for k, line := range labels[i] {
			t := drawing.Text{Runs: line, Size: letters, Role: drawing.Ink}.CentredOn(drawing.Point{Y: p.Height + lineHeight*(float64(k)+0.5)})
			t.At.X, t.Anchor = chartEdge, drawing.Start
			p.Add(t)
		}
		end := zero
		if whole > 0 && r.Value > 0 {
			end += room * min(r.Value/whole, 1)
		}
		if end > zero {
			p.Add(drawing.Rectangle{
				Box:    drawing.Box{Min: drawing.Point{X: zero, Y: middle - barHeight/2}, Max: drawing.Point{X: end, Y: middle + barHeight/2}},
				Fill:   drawing.Fill{Role: drawing.FillA},
				Stroke: drawing.Stroke{Role: drawing.AccentA, Width: 1.5},
			})
		}
		t := drawing.Text{Runs: drawing.Plain(r.End), Size: letters, Role: drawing.Ink}.CentredOn(drawing.Point{Y: middle})
		t.At.X, t.Anchor = end+barGap, drawing.Start
		p.Add(t)
		p.Height += height
	}
	p.Add(drawing.Line{From: drawing.Point{X: zero, Y: chartHead}, To: drawing.Point{X: zero, Y: p.Height}, Stroke: drawing.Stroke{Role: drawing.Quiet, Width: 1.5}})
	p.Height += chartHead
	return drawn(p, c.Title, c.words(), c.Table), true
}

// words says the chart row by row, with the figures.
func (c Chart) words() string {
	var list []string
	for _, r := range c.Rows {
		label := r.Spoken
		if label == "" {
			label = chem.PlainText(r.Label)
		}
		list = append(list, label+" ("+r.End+")")
	}
	what := "bars, from the top"
	if len(c.Rows) == 1 {
		what = "bar"
	}
	return fmt.Sprintf("%s. %d %s: %s.", c.Title, len(c.Rows), what, strings.Join(list, "; "))
}

// wrapped parts a label into as few lines as the column of labels allows, and
// these as even as they can be. Of an equation in several lines the arrow begins
// one.
func wrapped(label []chem.Run) [][]chem.Run {
	words := wordsOf(label)
	lines := fill(words, labelRoom)
	for limit := labelRoom - 4; limit > labelRoom/4; limit -= 4 {
		even := fill(words, limit)
		if len(even) > len(lines) || widestOf(even) > limit {
			break
		}
		lines = even
	}
	for i, l := range lines {
		lines[i] = merged(l)
	}
	return lines
}

// fill sets words into lines of a limit. A word that is wider has its own line.
func fill(words [][]chem.Run, limit float64) [][]chem.Run {
	lines := flow(words, limit, false)
	if len(lines) > 1 {
		lines = flow(words, limit, true)
	}
	return lines
}

func flow(words [][]chem.Run, limit float64, arrow bool) [][]chem.Run {
	var lines [][]chem.Run
	for _, w := range words {
		if n := len(lines); n > 0 && !(arrow && strings.HasPrefix(w[0].Text, "→")) {
			longer := append(append(lines[n-1][:len(lines[n-1]):len(lines[n-1])], chem.Run{Text: " "}), w...)
			if drawing.Width(longer, letters, false) <= limit {
				lines[n-1] = longer
				continue
			}
		}
		lines = append(lines, w)
	}
	return lines
}

func widestOf(lines [][]chem.Run) float64 {
	w := 0.0
	for _, l := range lines {
		w = max(w, drawing.Width(l, letters, false))
	}
	return w
}

// wordsOf parts a label at its spaces. A sign and a number stay with what comes
// behind them; what is wider than the column is cut between letters.
func wordsOf(label []chem.Run) [][]chem.Run {
	var words [][]chem.Run
	open := false // the last word may go on
	put := func(text string, level chem.Level) {
		add := chem.Run{Text: text, Level: level}
		if open {
			longer := append(words[len(words)-1], add)
			if drawing.Width(longer, letters, false) <= labelRoom {
				words[len(words)-1] = longer
				return
			}
		}
		words = append(words, []chem.Run{add})
		open = true
	}
	for _, r := range label {
		for text := r.Text; text != ""; {
			c, n := utf8.DecodeRuneInString(text)
			if c != ' ' && c != '\n' && c != '\t' {
				put(text[:n], r.Level)
			} else if open && leads(words[len(words)-1]) {
				put(" ", chem.Normal)
			} else {
				open = false
			}
			text = text[n:]
		}
	}
	for i, w := range words {
		words[i] = merged(w)
	}
	return words
}

// leads reports whether a word is a sign or a number, which stays with the next.
func leads(word []chem.Run) bool {
	for _, r := range word {
		for _, c := range r.Text {
			if !strings.ContainsRune("+−=→⇌", c) && !unicode.IsDigit(c) {
				return false
			}
		}
	}
	return true
}

// merged joins neighbours of one level.
func merged(runs []chem.Run) []chem.Run {
	var out []chem.Run
	for _, r := range runs {
		if n := len(out); n > 0 && out[n-1].Level == r.Level {
			out[n-1].Text += r.Text
		} else {
			out = append(out, r)
		}
	}
	return out
}
