package redox

import (
	"fmt"
	"slices"
	"strings"

	"halves/chem"
	"halves/names"
	"halves/reference"
)

// A Question is what was typed, read.
type Question struct {
	Text     string
	Medium   Medium // as the question names it, or Unstated
	Readings []chem.Reading
	More     bool   // there are more readings than were kept
	Halves   bool   // two half-reactions were given
	Notes    []Note // about how it was read
}

// ReadQuestion reads an equation, a half-reaction or two half-reactions parted
// by ";" or "and", in formulas, in names or in words ("permanganate becomes
// manganese(II) while ..."), with or without a medium at the end (", in acid")
// or at the beginning ("In acid, ..."). The error is a *chem.SyntaxError or a
// *chem.TooLargeError.
func ReadQuestion(text string) (Question, error) {
	q := Question{Text: text}
	body, medium := cutMedium(text)
	q.Medium = medium
	if err := oneMedium(text, body, medium); err != nil {
		return q, err
	}
	words, err := names.Translate(body)
	if err != nil {
		return q, placed(err, text, 0, names.Translation{})
	}
	q.readNames(words)
	parts := cutStatements(words.Text)
	switch len(parts) {
	case 1:
		r, err := chem.ReadEquation(parts[0].text, reference.Species())
		if err != nil {
			return q, placed(err, text, parts[0].offset, words)
		}
		q.Readings, q.More = r.All, r.More
		if len(r.All) > 1 || r.More {
			return q, nil
		}
		return q, electronsTyped(q, r.All[0].Equation)
	case 2:
		return q, q.readHalves(parts, words)
	}
	for _, p := range parts { // a slip in one of them matters more
		if _, err := chem.ReadEquation(p.text, nil); err != nil {
			return q, placed(err, q.Text, p.offset, words)
		}
	}
	at := parts[2]
	return q, placed(&chem.SyntaxError{Offset: 0, Width: len(at.text), Msg: "more than two statements on one line", Hint: "write one equation, or two half-reactions parted by a semicolon"}, text, at.offset, words)
}

// oneMedium refuses a second medium, and a phrase that only says that there is
// water. body is text without the medium that was read from it.
func oneMedium(text, body string, m Medium) error {
	rest, second := cutLastPhrase(body)
	if m != Unstated && second != Unstated && second != m {
		at := len(strings.TrimRight(rest, " ,;(")) + 1
		return &chem.SyntaxError{Text: text, Offset: at, Width: max(len(strings.TrimRight(text, " ."))-at, 1), Msg: "two media are named", Hint: "name one: in acid, in base, or neutral"}
	}
	i := strings.LastIndexByte(text, ',')
	if m != Unstated || i < 0 {
		return nil
	}
	words := strings.Fields(strings.ToLower(strings.Trim(text[i+1:], " .")))
	if len(words) < 2 || words[0] != "in" && words[0] != "under" {
		return nil
	}
	for _, w := range words {
		if _, ok := mediumWords[w]; !ok {
			return nil
		}
	}
	return &chem.SyntaxError{Text: text, Offset: i + 1, Width: len(text) - i - 1, Msg: "this does not say whether the medium is acidic, basic or neutral", Hint: "write in acid, in base, or neutral"}
}

// readNames says which names were read as what.
func (q *Question) readNames(t names.Translation) {
	var parts []string
	for _, r := range t.Replacements {
		if r.Species == nil {
			continue
		}
		if part := fmt.Sprintf("%s as %s", r.Name, r.Species); !slices.Contains(parts, part) {
			parts = append(parts, part)
		}
	}
	if len(parts) > 0 {
		q.Notes = append(q.Notes, Note{NoteReading, "Read " + listed(parts) + "."})
	}
}

// electronsTyped refuses electrons on both sides; on one side they make the
// equation a half, which is worked as such.
func electronsTyped(q Question, e chem.Equation) error {
	left := slices.ContainsFunc(e.Left, func(t chem.Term) bool { return t.Species.IsElectron() })
	right := slices.ContainsFunc(e.Right, func(t chem.Term) bool { return t.Species.IsElectron() })
	if left && right {
		return &chem.SyntaxError{Text: q.Text, Offset: 0, Width: len(q.Text), Msg: "electrons stand on both sides", Hint: "a half has its electrons on one side, a whole equation has none"}
	}
	return nil
}

// placed makes an error of a statement, shift bytes into the text with
// formulas, point into the whole text as typed.
func placed(err error, text string, shift int, words names.Translation) error {
	back := func(offset, width int) (int, int) {
		if words.Replacements == nil {
			return offset + shift, width
		}
		return words.Back(offset+shift, width)
	}
	switch e := err.(type) {
	case *chem.SyntaxError:
		c := *e
		c.Text = text
		c.Offset, c.Width = back(e.Offset, e.Width)
		return &c
	case *chem.TooLargeError:
		c := *e
		if e.Text == "" {
			return err
		}
		c.Text = text
		c.Offset, c.Width = back(e.Offset, e.Width)
		return &c
	}
	return err
}

// A statement is a stretch of the text that should be an equation.
type statement struct {
	text   string
	offset int
}

// cutStatements parts a line at semicolons and at the word "and".
func cutStatements(body string) []statement {
	var out []statement
	start := 0
	cut := func(i, next int) {
		if s := body[start:i]; strings.TrimSpace(s) != "" {
			out = append(out, statement{s, start})
		}
		start = next
	}
	for i := 0; i < len(body); i++ {
		switch {
		case body[i] == ';':
			cut(i, i+1)
		case strings.HasPrefix(body[i:], " and "):
			cut(i, i+len(" and "))
			i += len(" and ") - 1
		}
	}
	cut(len(body), len(body))
	if len(out) == 0 {
		out = []statement{{body, 0}}
	}
	return out
}

// readHalves reads two half-reactions and makes one skeleton of them.
func (q *Question) readHalves(parts []statement, words names.Translation) error {
	var sides [2]chem.Equation
	var roles [2]Role
	for i, p := range parts {
		r, err := chem.ReadEquation(p.text, reference.Species())
		if err != nil {
			return placed(err, q.Text, p.offset, words)
		}
		role := Role("")
		for _, reading := range r.All {
			if role = roleOf(reading.Equation); role != "" {
				sides[i], roles[i] = reading.Equation, role
				for _, a := range reading.Assumptions {
					q.Notes = append(q.Notes, Note{NoteReading, fmt.Sprintf("Read %s as %s.", withoutNumber(a.Typed), a.Read)})
				}
				break
			}
		}
		if role == "" {
			return placed(&chem.SyntaxError{Width: len(p.text), Msg: "two statements stand on the line, and this one is not a half-reaction", Hint: "give one equation at a time, or two half-reactions parted by a semicolon"}, q.Text, p.offset, words)
		}
		if q.Medium == Unstated {
			for _, t := range r.All[0].Equation.Terms {
				switch {
				case t.Species.Same(chem.Hydron), t.Species.Same(chem.Hydronium):
					q.Medium = Acidic
				case t.Species.Same(chem.Hydroxide):
					q.Medium = Basic
				}
			}
		}
	}
	if roles[0] == roles[1] {
		sides[1].Left, sides[1].Right = sides[1].Right, sides[1].Left
		q.Notes = append(q.Notes, Note{NoteReading, fmt.Sprintf("Both are %ss as written; the second was turned round.", roles[0])})
	}
	join := func(a, b []chem.Term) []chem.Term {
		var out []chem.Term
		for _, t := range slices.Concat(a, b) {
			if !t.Species.IsElectron() && !slices.ContainsFunc(out, func(o chem.Term) bool { return o.Species.Same(t.Species) }) {
				out = append(out, chem.Term{Coefficient: chem.Whole(1), Species: t.Species})
			}
		}
		return out
	}
	q.Halves = true
	q.Readings = []chem.Reading{{Equation: chem.Equation{Left: join(sides[0].Left, sides[1].Left), Right: join(sides[0].Right, sides[1].Right)}}}
	return nil
}

// roleOf tells whether an equation is an oxidation or a reduction half; "" for
// neither.
func roleOf(e chem.Equation) Role {
	w := &work{Solution: &Solution{Skeleton: e}, book: &stateBook{}}
	w.parts(Acidic)
	halves, err := w.loneHalves(Acidic)
	if err != nil || len(halves) != 1 {
		return ""
	}
	return halves[0].role
}

// mediumWords are the words of a phrase that names a medium, with the medium
// of those that name one.
var mediumWords = map[string]Medium{
	"acid": Acidic, "acidic": Acidic, "acidified": Acidic,
	"base": Basic, "basic": Basic, "alkaline": Basic, "alkali": Basic,
	"neutral": Neutral, "none": None, "nothing": None, "dry": None,
	"in": "", "under": "", "an": "", "a": "", "the": "", "solution": "", "medium": "", "conditions": "", "aqueous": "",
	"hot": "", "cold": "", "dilute": "", "concentrated": "", "strongly": "", "weakly": "", "water": "", "added": "",
}

// cutMedium takes a phrase such as ", in acidic solution" from the end, or "In
// acid, " from the beginning, which becomes blanks, so that places stay.
func cutMedium(text string) (body string, m Medium) {
	if body, m = cutLastPhrase(text); m != Unstated {
		return body, m
	}
	phrase, rest, found := strings.Cut(text, ",")
	words := strings.Fields(strings.ToLower(phrase))
	if !found || len(words) < 2 || words[0] != "in" && words[0] != "under" {
		return text, Unstated
	}
	for _, w := range words {
		named, ok := mediumWords[w]
		if !ok {
			return text, Unstated
		}
		if named != "" {
			m = named
		}
	}
	if m == Unstated {
		return text, Unstated
	}
	return strings.Repeat(" ", len(phrase)+1) + rest, m
}

func cutLastPhrase(text string) (body string, m Medium) {
	isLetter := func(c byte) bool { return c >= 'a' && c <= 'z' || c >= 'A' && c <= 'Z' }
	end := len(text)
	for {
		i := end
		for i > 0 && strings.IndexByte(" \t\r\n.()", text[i-1]) >= 0 {
			i--
		}
		j := i
		for j > 0 && isLetter(text[j-1]) {
			j--
		}
		if j == i || j > 0 && strings.IndexByte(" \t\r\n,;(", text[j-1]) < 0 {
			break
		}
		named, ok := mediumWords[strings.ToLower(text[j:i])]
		if !ok {
			break
		}
		if named != "" {
			m = named
		}
		end = j
	}
	if m == Unstated {
		return text, Unstated
	}
	// The phrase is parted from the equation by a comma, a bracket or "in".
	before := strings.TrimRight(text[:end], " \t\r\n")
	phrase := strings.ToLower(strings.TrimSpace(text[end:]))
	parted := before != "" && strings.IndexByte(",;(", before[len(before)-1]) >= 0
	if !parted && !strings.HasPrefix(phrase, "in ") && !strings.HasPrefix(phrase, "under ") {
		return text, Unstated
	}
	return strings.TrimRight(before, " \t\r\n,;("), m
}
