package lesson

import (
	"strings"

	"halves/balance"
	"halves/chem"
	"halves/names"
	"halves/redox"
	"halves/speech"
)

// A talk is a track being spoken.
type talk struct {
	*redox.Solution
	brief bool
	said  []string       // of the cue at hand
	turns map[string]int // how often each turn of phrase was used
}

func (t *talk) names() names.Choice { return t.Conventions.Names }

// say takes up sentences; each is given its capital and its full stop.
func (t *talk) say(sentences ...string) {
	for _, s := range sentences {
		if s = strings.TrimSpace(s); s == "" {
			continue
		}
		if !strings.HasSuffix(s, ".") && !strings.HasSuffix(s, "?") {
			s += "."
		}
		if s = sentenceCase(s); len(t.said) == 0 || t.said[len(t.said)-1] != s {
			t.said = append(t.said, s)
		}
	}
}

// full says what only the full length says.
func (t *talk) full(sentences ...string) {
	if !t.brief {
		t.say(sentences...)
	}
}

// cue takes what was said.
func (t *talk) cue(step int, with []int, heading string, line []chem.Run) Cue {
	c := Cue{Step: step, With: with, Heading: heading, Say: t.said, Seconds: seconds(t.said, line)}
	t.said = nil
	return c
}

// turn chooses between wordings, the first at first, then the others in turn.
func (t *talk) turn(key string, wordings ...string) string {
	n := t.turns[key]
	t.turns[key]++
	return wordings[n%len(wordings)]
}

// reads reads out the line.
func (t *talk) reads(e chem.Equation) {
	t.say(t.turn("reads", "now the line reads: ", "so we have: ", "we write: ", "the line is now: ") + t.equation(e))
}

// equation says a line; without a number other than one, and without electrons,
// it is said like a skeleton.
func (t *talk) equation(e chem.Equation) string {
	for _, x := range e.Terms {
		if !x.Coefficient.Equal(chem.Whole(1)) || x.Species.IsElectron() {
			return speech.Equation(e, t.names())
		}
	}
	return t.skeleton(e)
}

// skeleton says a line without its numbers: "permanganate ions give
// manganese two ions".
func (t *talk) skeleton(e chem.Equation) string {
	side := func(terms []chem.Term) string {
		parts := make([]string, len(terms))
		for i, x := range terms {
			parts[i] = speech.Substance(x.Species, t.names())
		}
		return strings.Join(parts, " plus ")
	}
	verb := " give "
	if len(e.Left) == 1 && t.are(speciesOf(e.Left)) == "is" {
		verb = " gives "
	}
	return side(e.Left) + verb + side(e.Right)
}

// half names a half among the others: "oxidation", "second reduction".
func (t *talk) half(i int) string {
	if i < 0 || i >= len(t.Halves) {
		return "whole"
	}
	n, of := 0, 0
	for k, h := range t.Halves {
		if h.Role == t.Halves[i].Role {
			of++
			if k <= i {
				n++
			}
		}
	}
	ordinals := [...]string{"first", "second", "third", "fourth", "fifth", "sixth"}
	switch {
	case of == 1:
		return string(t.Halves[i].Role)
	case n <= len(ordinals):
		return ordinals[n-1] + " " + string(t.Halves[i].Role)
	}
	return "next " + string(t.Halves[i].Role)
}

// count says a number of a species where it is added or taken away: "four water
// molecules", "one electron", "ten hydrogen ions".
func (t *talk) count(n int64, s *chem.Species) string {
	if s.Same(chem.Water) {
		if n == 1 {
			return "one water molecule"
		}
		return speech.Number(n) + " water molecules"
	}
	if n != 1 {
		return speech.Term(chem.Term{Coefficient: chem.Whole(n), Species: s}, t.names())
	}
	return "one " + speech.Species(s, t.names())
}

// element names an element.
func (t *talk) element(e chem.Element) string { return speech.Element(e, t.names()) }

// law names what a law conserves.
func (t *talk) law(l balance.Law) string {
	if l == balance.Charge {
		return "the charge"
	}
	return t.element(l.Element)
}

// laws names several in a row.
func (t *talk) laws(all []balance.Entry) string {
	parts := make([]string, len(all))
	for i, e := range all {
		parts[i] = t.law(e.Law)
	}
	return listed(parts)
}

// amount says what one side holds: "four", "none", for charge "plus seven".
func amount(e balance.Entry, r chem.Ratio) string {
	switch {
	case e.Law == balance.Charge:
		return speech.Signed(r)
	case r.Sign() == 0:
		return "none"
	}
	return speech.Ratio(r)
}

// sides compares: "count the oxygen: four on the left, none on the right".
func (t *talk) sides(e balance.Entry) string {
	left, right := amount(e, e.Left), amount(e, e.Right)
	if e.Law == balance.Charge {
		return t.turn("charges",
			"add up the charges: "+left+" on the left, "+right+" on the right",
			"now the charge: "+left+" on the left, "+right+" on the right",
			"the left has the charge "+left+", the right "+right)
	}
	name := t.element(e.Law.Element)
	return t.turn("sides", "count the ", "look at the ", "next comes ", "then we count the ") + name + ": " + left + " on the left, " + right + " on the right"
}

// each says what both sides hold: "two on each side".
func each(e balance.Entry) string { return amount(e, e.Left) + " on each side" }

// ledger counts a line; nil where it cannot be counted.
func ledger(e chem.Equation) balance.Ledger {
	l, err := balance.NewLedger(e)
	if err != nil {
		return nil
	}
	return l
}

// entry finds a law in a ledger; it is zero on both sides where it is not there.
func entry(l balance.Ledger, law balance.Law) balance.Entry {
	for _, e := range l {
		if e.Law == law {
			return e
		}
	}
	return balance.Entry{Law: law}
}

// A move is a species whose number changed between two lines.
type move struct {
	species    *chem.Species
	side       string     // "left" or "right"
	was, is    chem.Ratio // 0 where it does not stand
	difference chem.Ratio // is less was
}

// moves compares two lines, the left side first, each side in the order of
// after, then what is gone.
func moves(before, after chem.Equation) []move {
	var out []move
	side := func(name string, a, b []chem.Term) {
		find := func(all []chem.Term, s *chem.Species) chem.Ratio {
			n := chem.Whole(0)
			for _, x := range all {
				if x.Species.Same(s) && x.Species.Phase() == s.Phase() {
					n = n.Add(x.Coefficient)
				}
			}
			return n
		}
		for _, x := range b {
			if was, is := find(a, x.Species), find(b, x.Species); !was.Equal(is) {
				out = append(out, move{x.Species, name, was, is, is.Sub(was)})
			}
		}
		for _, x := range a {
			if is := find(b, x.Species); is.Sign() == 0 {
				out = append(out, move{x.Species, name, x.Coefficient, is, x.Coefficient.Neg()})
			}
		}
	}
	side("left", before.Left, after.Left)
	side("right", before.Right, after.Right)
	return out
}

// listed joins with commas and a last "and".
func listed(parts []string) string {
	if n := len(parts); n > 1 {
		return strings.Join(parts[:n-1], ", ") + " and " + parts[n-1]
	}
	return strings.Join(parts, "")
}

// substances names species without numbers, each once.
func (t *talk) substances(all []*chem.Species) string {
	var parts []string
	seen := map[string]bool{}
	for _, s := range all {
		if name := speech.Substance(s, t.names()); !seen[name] {
			seen[name] = true
			parts = append(parts, name)
		}
	}
	return listed(parts)
}

// are is the verb for species as substances names them.
func (t *talk) are(all []*chem.Species) string {
	if len(all) == 1 && speech.Substance(all[0], t.names()) == speech.Species(all[0], t.names()) {
		return "is"
	}
	return "are"
}

// article puts "a" or "an" before a number.
func article(n string) string {
	for _, vowel := range [...]string{"eight", "eleven"} {
		if strings.HasPrefix(n, vowel) {
			return "an " + n
		}
	}
	return "a " + n
}

// reason says the engine's own sentence.
func (t *talk) reason(st redox.Step) string { return t.prose(st.Reason) }

// prose says a sentence of the engine; its colons, at which one stops longer than
// at a comma, stay.
func (t *talk) prose(s string) string {
	parts := strings.Split(s, ": ")
	for i, p := range parts {
		parts[i] = speech.Prose(p, t.names())
	}
	return strings.Join(parts, ": ")
}
