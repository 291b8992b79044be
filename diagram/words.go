package diagram

import (
	"math"
	"strconv"
	"strings"

	"halves/chem"
	"halves/drawing"
	"halves/speech"
)

// finite reports whether all numbers can be drawn: they are numbers, and of a
// size that potentials and pH have.
func finite(x ...float64) bool {
	for _, v := range x {
		if !(math.Abs(v) <= 1e4) {
			return false
		}
	}
	return true
}

// decimals is how many places v needs, from 2 to 4. What is beyond the fourth is
// the rounding of a product or a difference.
func decimals(v float64) int {
	s := strings.TrimRight(strconv.FormatFloat(v, 'f', 4, 64), "0")
	_, places, _ := strings.Cut(s, ".")
	return max(len(places), 2)
}

// number writes v with places after the sign; zero has no minus.
func (s Style) number(v float64, places int) string {
	text := strconv.FormatFloat(math.Abs(v), 'f', places, 64)
	if v < 0 && strings.Trim(text, "0.") != "" {
		text = "−" + text
	}
	if s.Comma {
		text = strings.Replace(text, ".", ",", 1)
	}
	return text
}

// signed is number with a plus before what is positive.
func (s Style) signed(v float64, places int) string {
	text := s.number(v, places)
	if v > 0 && strings.Trim(text, "0.,") != "" {
		text = "+" + text
	}
	return text
}

// volts writes a potential with as many decimals as it has: "+1.51", "−0.763".
func (s Style) volts(v float64) string { return s.signed(v, decimals(v)) }

// say writes a number for a sentence that is read aloud: "minus 0.76".
func (s Style) say(v float64, places int) string {
	return strings.Replace(s.number(v, places), "−", "minus ", 1)
}

// sayVolts is a potential in a sentence: "minus 0.76 volts".
func (s Style) sayVolts(v float64) string { return s.say(v, decimals(v)) + " volts" }

func plain(text string) Cell { return Cell{Prose: text} }

func (s Style) voltsCell(v float64) Cell {
	c := Cell{Prose: s.volts(v)}
	if v < 0 {
		c.Spoken = s.say(v, decimals(v))
	}
	return c
}

func (s Style) species(x *chem.Species) Cell {
	return Cell{Formula: x.Runs(), Spoken: speech.Species(x, s.Names)}
}

func (s Style) called(x *chem.Species) string { return speech.Species(x, s.Names) }

// state writes an oxidation state: "+7", "−3", "+5/2".
func state(r chem.Ratio) string { return strings.Replace(r.Signed(), "-", "−", 1) }

func stateCell(r chem.Ratio) Cell { return Cell{Prose: state(r), Spoken: speech.Signed(r)} }

// float is a state as a length.
func float(r chem.Ratio) float64 { return float64(r.Num()) / float64(r.Den()) }

// medium names the medium of a row or a curve with its pH.
func medium(m string) string {
	switch m {
	case "acidic":
		return "in acid, pH 0"
	case "basic":
		return "in base, pH 14"
	}
	return m
}

// join lists words: "a, b and c".
func join(words []string) string {
	if len(words) < 2 {
		return strings.Join(words, "")
	}
	return strings.Join(words[:len(words)-1], ", ") + " and " + words[len(words)-1]
}

// capital begins a sentence.
func capital(s string) string {
	if s == "" {
		return s
	}
	return strings.ToUpper(s[:1]) + s[1:]
}

// formula is a species as it is printed.
func formula(x *chem.Species) []chem.Run { return drawing.Signs(x.Runs()) }

// potential is the symbol of a standard potential with an index: E°cell.
func potential(index string) []chem.Run {
	runs := []chem.Run{{Text: "E", Level: chem.Variable}, {Text: "°"}}
	if index != "" {
		runs = append(runs, chem.Run{Text: index, Level: chem.Subscript})
	}
	return runs
}
