package document

import (
	"slices"
	"strings"

	"halves/balance"
	"halves/chem"
	"halves/names"
	"halves/redox"
	"halves/reference"
	"halves/speech"
)

// A Span is a piece of a line: prose or a formula, never both.
type Span struct {
	Prose   string     // minus signs are U+2212; U+00A0 keeps two words on one line
	Formula []chem.Run // a formula, a term or an equation
	// Spoken is the piece in words: "permanganate ion", "plus 7". It is "" for
	// prose that is said as it is written.
	Spoken string
}

// An Inline is a line of prose and formulas.
type Inline []Span

// Spoken returns the line in words, and whether any of them differ from what
// is written.
func (text Inline) Spoken() (string, bool) {
	n, differs := 0, false
	for _, s := range text {
		n += len(s.Prose) + len(s.Spoken)
		differs = differs || s.Spoken != "" || slices.Contains(s.Formula, Blank)
	}
	if !differs {
		return "", false
	}
	var b strings.Builder
	b.Grow(n)
	for _, s := range text {
		switch {
		case s.Spoken != "":
			b.WriteString(s.Spoken)
		case slices.Contains(s.Formula, Blank):
			b.WriteString(sayBlanks(s.Formula))
		case s.Formula != nil:
			b.WriteString(chem.PlainText(s.Formula))
		default:
			b.WriteString(s.Prose)
		}
	}
	return b.String(), true
}

// formula makes a text of one formula.
func formula(s *chem.Species, c names.Choice) Inline {
	return Inline{{Formula: s.Runs(), Spoken: speech.Species(s, c)}}
}

// equation makes a text of an equation.
func equation(e chem.Equation, style chem.Style, c names.Choice) Inline {
	return Inline{{Formula: e.Runs(style), Spoken: speech.Equation(e, c)}}
}

// signsOf writes runs in plain characters, with true minus signs.
func signsOf(runs []chem.Run) string { return minus(chem.UnicodeText(runs)) }

// minus gives a number its true minus sign.
func minus(s string) string { return strings.ReplaceAll(s, "-", "−") }

// signed makes a text of a number with its sign: "+7".
func signed(s string) Inline {
	s = minus(s)
	if spoken := saySigns(s); spoken != s {
		return Said(s, spoken)
	}
	return Plain(s)
}

var signNames = strings.NewReplacer("+", "plus ", "−", "minus ", "×", "times ", noBreak, " ")

// saySigns puts words for the signs of numbers, since some screen readers pass
// over a true minus sign and a plus sign.
func saySigns(s string) string { return signNames.Replace(s) }

// sayLaw names what a line of a ledger counts.
func sayLaw(l balance.Law, c names.Choice) string {
	e := reference.ElementOf(l.Element)
	switch {
	case e == nil:
		return l.String() // charge
	case c.Sulph && e.OtherName == "sulphur":
		return e.OtherName
	}
	return e.Name
}

// sayLedger says a ledger: "manganese: left 1, right 1; oxygen: left 4, right
// 0, not equal". What agrees is not said to agree.
func sayLedger(l balance.Ledger, c names.Choice) string {
	var b strings.Builder
	for i, e := range l {
		if i > 0 {
			b.WriteString("; ")
		}
		left, right := sides(e)
		b.WriteString(sayLaw(e.Law, c))
		b.WriteString(": left ")
		b.WriteString(saySigns(left))
		b.WriteString(", right ")
		b.WriteString(saySigns(right))
		if !e.Closed() {
			b.WriteString(", not equal")
		}
	}
	return b.String()
}

// noBreak keeps the words on its sides on one line.
const noBreak = "\u00a0"

// Prose makes a text of a sentence of the engine, in which formulas stand in
// canonical plain text. A word is taken for a formula if it has a digit or a
// caret and chem prints what it reads there as the same word; a whole number
// before it is its coefficient.
func Prose(s string, c redox.Conventions) Inline { return proseWith(s, nil, c.Names) }

// proseWith is Prose for a sentence of a solution that has unknowns: equations
// among these are set as algebra, the unknowns slanted.
func proseWith(s string, unknowns []string, c names.Choice) Inline {
	var out Inline
	from := 0 // where the prose that is not yet written begins
	flush := func(to int) {
		if text := s[from:to]; text != "" {
			out = append(out, Span{Prose: text, Spoken: sayProse(text, c)})
		}
	}
	number, numberAt := int64(0), 0 // the last word, where it was a number
	for at := 0; at <= len(s); {
		end := len(s)
		if i := strings.IndexByte(s[at:], ' '); i >= 0 {
			end = at + i
		}
		w := s[at:end]
		if runs, n := algebraAt(s[at:], unknowns); n > 0 {
			flush(at)
			out = append(out, Span{Formula: runs, Spoken: speech.Runs(runs)})
			from, number = at+n, 0
			next := strings.IndexByte(s[from:], ' ') // a sign behind it is prose
			if next < 0 {
				break
			}
			at = from + next + 1
			continue
		}
		before, core, after := punctuation(w)
		span := wordSpan(core, number, c)
		if span.Formula != nil {
			start := at + len(before)
			if number > 0 && before == "" && core != "->" {
				start = numberAt
			} else if number > 0 {
				span = wordSpan(core, 0, c)
			}
			flush(start)
			out = append(out, span)
			from = end - len(after)
		}
		number, numberAt = wholeNumber(w), at
		at = end + 1
	}
	flush(len(s))
	return out
}

// sayProse says a piece of a sentence without formulas, "" if as it stands. The
// spaces at its ends stay.
func sayProse(s string, c names.Choice) string {
	core := strings.Trim(s, " ")
	if core == "" {
		return ""
	}
	at := strings.Index(s, core)
	spoken := strings.ReplaceAll(s[:at]+speech.Prose(core, c)+s[at+len(core):], "≠", "is not equal to")
	if spoken == s {
		return ""
	}
	return spoken
}

// wholeNumber reads a word as a number, 0 for any other.
func wholeNumber(w string) int64 {
	if w == "" || len(w) > 9 || strings.Trim(w, "0123456789") != "" || w[0] == '0' {
		return 0
	}
	n := int64(0)
	for i := range len(w) {
		n = 10*n + int64(w[i]-'0')
	}
	return n
}

// punctuation parts a word from the signs before and after it. Brackets belong
// to the word where it has both.
func punctuation(w string) (before, core, after string) {
	core = strings.TrimRight(w, ".,;:?!\"")
	for strings.HasSuffix(core, ")") && strings.Count(core, ")") > strings.Count(core, "(") {
		core = core[:len(core)-1]
	}
	if strings.HasPrefix(core, "(") && strings.HasSuffix(core, ")") && strings.Count(core, "(") == 1 {
		return "(", core[1 : len(core)-1], ")" + w[len(core):]
	}
	after = w[len(core):]
	for strings.HasPrefix(core, "\"") || strings.HasPrefix(core, "(") && strings.Count(core, "(") > strings.Count(core, ")") {
		before, core = before+core[:1], core[1:]
	}
	return before, core, after
}

// wordSpan returns a word that is a formula or an arrow, with the coefficient n
// if that is positive. Its Formula is nil for any other word.
func wordSpan(w string, n int64, c names.Choice) Span {
	if w == "->" {
		return Span{Formula: []chem.Run{{Text: w}}, Spoken: "gives"}
	}
	if len(w) < 2 || len(w) > 200 || !strings.ContainsAny(w, "0123456789^") {
		return Span{}
	}
	if c := w[0]; (c < 'A' || c > 'Z') && strings.IndexByte("([{", c) < 0 && w != "e^-" {
		return Span{}
	}
	readings, err := chem.ReadSpecies(w, nil)
	if err != nil {
		return Span{}
	}
	for _, r := range readings {
		if r.Species.String() != w {
			continue
		}
		if n > 0 {
			t := chem.Term{Coefficient: chem.Whole(n), Species: r.Species}
			runs := t.Runs()
			if n == 1 {
				runs = append([]chem.Run{{Text: "1 "}}, runs...)
			}
			return Span{Formula: runs, Spoken: speech.Term(t, c)}
		}
		return Span{Formula: r.Species.Runs(), Spoken: speech.Species(r.Species, c)}
	}
	return Span{}
}
