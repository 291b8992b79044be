package qti

import (
	"errors"
	"fmt"
	"strings"

	"halves/chem"
	"halves/document"
)

// A Fault is a kind of SetError.
type Fault uint8

// The faults of a set, of an item, of its choices, of its gaps.
const (
	NoItems Fault = iota + 1
	BadLanguage
	NoID
	DuplicateID

	NoStem
	BadWorth
	NoAnswers // neither choices nor a line with a gap
	TwoKinds  // both

	OneChoice
	EmptyChoice
	NoRight
	SeveralRight
	SameChoices

	TooManyGaps
	BadAnswer
)

// A SetError says why a set cannot be written.
type SetError struct {
	Fault Fault
	Item  int    // the question, from 1; 0 for the set
	ID    string // of the question
	Part  int    // the choice or the gap, from 1; 0 for the question
	Read  string // what was read, "" where something is missing
	Msg   string // no capital, no full stop
	Hint  string // a way out
}

func (e *SetError) Error() string {
	var b strings.Builder
	if e.Item > 0 {
		fmt.Fprintf(&b, "question %d", e.Item)
		if e.ID != "" {
			fmt.Fprintf(&b, " (%s)", e.ID)
		}
		switch {
		case e.Part == 0:
		case e.Fault == BadAnswer:
			fmt.Fprintf(&b, ", gap %d", e.Part)
		default:
			fmt.Fprintf(&b, ", choice %d", e.Part)
		}
		b.WriteString(": ")
	}
	b.WriteString(e.Msg)
	b.WriteString("; ")
	b.WriteString(e.Hint)
	return b.String()
}

// check returns all faults of a set, joined; nil for none.
func check(s Set) error {
	var faults []error
	fault := func(f Fault, read, msg, hint string) {
		faults = append(faults, &SetError{Fault: f, Read: read, Msg: msg, Hint: hint})
	}
	if len(s.Items) == 0 {
		fault(NoItems, "", "the set has no questions", "add at least one")
	}
	if s.ID == "" {
		fault(NoID, "", "the set has no identifier", "give it a short name, as week-4")
	}
	if s.Language != "" && !isTag(s.Language) {
		fault(BadLanguage, s.Language, fmt.Sprintf("%q is no tag of a language", s.Language), "write one as en or en-GB")
	}
	first := make(map[string]int, len(s.Items)) // identifier to question
	for i := range s.Items {
		it := &s.Items[i]
		c := itemCheck{n: i + 1, it: it}
		switch seen := first[it.ID]; {
		case it.ID == "":
			c.fault(NoID, 0, "", "it has no identifier", "give it a short name, as q1")
		case it.ID == s.ID:
			c.fault(DuplicateID, 0, it.ID, "the set has the same identifier", "give the question another one")
		case seen > 0:
			c.fault(DuplicateID, 0, it.ID, fmt.Sprintf("question %d has the same identifier", seen), "give each its own")
		default:
			first[it.ID] = c.n
		}
		c.item()
		faults = append(faults, c.faults...)
	}
	return errors.Join(faults...)
}

// itemCheck gathers the faults of one question.
type itemCheck struct {
	n      int // from 1
	it     *Item
	faults []error
}

func (c *itemCheck) fault(f Fault, part int, read, msg, hint string) {
	c.faults = append(c.faults, &SetError{Fault: f, Item: c.n, ID: c.it.ID, Part: part, Read: read, Msg: msg, Hint: hint})
}

func (c *itemCheck) item() {
	asks := false
	for _, p := range c.it.Stem {
		asks = asks || plain(p) != ""
	}
	if !asks {
		c.fault(NoStem, 0, "", "it asks nothing", "say what is to be done")
	}
	if n := c.it.Worth; n < 1 || n > MaxWorth {
		c.fault(BadWorth, 0, fmt.Sprint(n), fmt.Sprintf("it is worth %d marks", n), fmt.Sprintf("give it 1 to %d", MaxWorth))
	}
	gaps := c.it.gaps()
	switch {
	case len(c.it.Choices) > 0 && len(c.it.Line) > 0:
		c.fault(TwoKinds, 0, "", "it has both choices and a line with gaps", "make it two questions")
	case len(c.it.Choices) > 0:
		c.choices()
	case len(gaps) > 0:
		c.gaps(gaps)
	default:
		c.fault(NoAnswers, 0, "", "it has neither choices nor gaps", "add choices, or a line with a gap")
	}
}

func (c *itemCheck) choices() {
	choices := c.it.Choices
	if len(choices) == 1 {
		c.fault(OneChoice, 0, "", "it has one choice only", "add another")
	}
	right := 0
	for i := range choices {
		switch {
		case !choices[i].Right:
		case right > 0:
			c.fault(SeveralRight, i+1, "", fmt.Sprintf("it is right, and so is choice %d", right), "leave one right, or ask two questions")
		default:
			right = i + 1
		}
		text := plain(choices[i].Text)
		if text == "" {
			c.fault(EmptyChoice, i+1, "", "it is empty", "write it or leave it out")
			continue
		}
		for j := range choices[:i] {
			if plain(choices[j].Text) == text {
				c.fault(SameChoices, i+1, text, fmt.Sprintf("it reads as choice %d does", j+1), "leave one of them out")
				break
			}
		}
	}
	if right == 0 {
		c.fault(NoRight, 0, "", "none of its choices is right", "mark the one that is")
	}
}

func (c *itemCheck) gaps(gaps []*Gap) {
	if n := len(gaps); n > MaxGaps {
		c.fault(TooManyGaps, 0, fmt.Sprint(n), fmt.Sprintf("it has %d gaps, more than %d", n, MaxGaps), "make it several questions")
	}
	for i, g := range gaps {
		if !isCoefficient(g.Answer) {
			c.fault(BadAnswer, i+1, g.Answer, fmt.Sprintf("%q is no whole number from 1", g.Answer), "write its digits alone, as 5")
		}
	}
}

// gaps returns the gaps of a line in their order.
func (it *Item) gaps() []*Gap {
	var all []*Gap
	for _, p := range it.Line {
		if p.Gap != nil {
			all = append(all, p.Gap)
		}
	}
	return all
}

// isCoefficient reports whether s is a whole number from 1, as it is typed.
func isCoefficient(s string) bool {
	return s != "" && s[0] != '0' && strings.Trim(s, "0123456789") == ""
}

// isTag reports whether s has the form that xml:lang asks for (XML Schema part
// 2, 3.3.3: [a-zA-Z]{1,8}(-[a-zA-Z0-9]{1,8})*).
func isTag(s string) bool {
	for i, part := range strings.Split(s, "-") {
		if len(part) < 1 || len(part) > 8 {
			return false
		}
		for k := range len(part) {
			if c := part[k]; !isLetter(c) && (i == 0 || !isDigit(c)) {
				return false
			}
		}
	}
	return true
}

func isLetter(c byte) bool { return c >= 'a' && c <= 'z' || c >= 'A' && c <= 'Z' }
func isDigit(c byte) bool  { return c >= '0' && c <= '9' }

// plain returns what a reader sees of a line, as plain text, without spaces at
// its ends.
func plain(text document.Inline) string {
	var b []byte
	for _, s := range text {
		b = appendText(b, s.Prose)
		b = appendText(b, chem.PlainText(s.Formula))
	}
	return strings.Join(strings.Fields(string(b)), " ")
}
