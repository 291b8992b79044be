package web

import (
	"slices"
	"strings"

	"halves/balance"
	"halves/chem"
	"halves/document"
	"halves/lesson"
	"halves/names"
	"halves/redox"
	"halves/speech"
)

// A boardLine is an equation in its terms, or a line of algebra.
type boardLine struct {
	Left, Right []boardTerm
	Written     []chem.Run // in the place of terms
	Spoken      string
	New         string // the terms that are new, in words
}

// A boardTerm is a term as it is written, with what this line did to it.
type boardTerm struct {
	Sign    string // before it: "+", "→", "=" or ""
	Number  string // as it is written, "" for none
	Formula []chem.Run
	Mark    termMark
	// Cut says what the next line takes away, once that is shown: "term" or
	// "number", "" for nothing.
	Cut string
}

// A termMark says what a line did to a term.
type termMark string

const (
	termKept    termMark = ""
	termNew     termMark = "new"
	termChanged termMark = "changed" // another number
)

// A boardLaw is one law with both sides.
type boardLaw struct {
	Law, Left, Right document.Inline
	Open             bool // the sides disagree
}

// lineOfStep is the line that a step writes, nil for none.
func lineOfStep(st redox.Step, c redox.Conventions) *boardLine {
	runs := lesson.Line(st, c)
	switch {
	case runs == nil:
		return nil
	case st.Written != nil:
		return &boardLine{Written: runs, Spoken: speech.Runs(runs)}
	}
	l := lineOfEquation(st.After, c.LineStyle(st.After), c.Names)
	if len(st.Before.Left)+len(st.Before.Right) == 0 {
		return l // the first of its part: nothing was added
	}
	var fresh []string
	for i, side := range [][]boardTerm{l.Left, l.Right} {
		was, is := st.Before.Left, st.After.Left
		if i == 1 {
			was, is = st.Before.Right, st.After.Right
		}
		for k, m := range marksOf(was, is) {
			if k >= len(side) {
				break
			}
			side[k].Mark = m
			if m == termNew {
				fresh = append(fresh, speech.Term(is[k], c.Names))
			}
		}
	}
	l.New = strings.Join(fresh, "; ")
	return l
}

// lineOfEquation cuts an equation into its terms.
func lineOfEquation(e chem.Equation, style chem.Style, c names.Choice) *boardLine {
	l := &boardLine{Spoken: speech.Equation(e, c)}
	runs := e.Runs(style)
	sign := ""
	side := &l.Left
	for _, terms := range [][]chem.Term{e.Left, e.Right} {
		for _, t := range terms {
			x := boardTerm{Sign: sign}
			if len(runs) > 0 && (style.Ones || !t.Coefficient.Equal(chem.Whole(1))) {
				x.Number = strings.TrimSpace(runs[0].Text)
				runs = runs[1:]
			}
			n := slices.IndexFunc(runs, isTermSign)
			if n < 0 {
				n = len(runs)
			}
			x.Formula, runs = runs[:n], runs[n:]
			*side = append(*side, x)
			if len(runs) > 0 {
				sign = strings.ReplaceAll(strings.TrimSpace(runs[0].Text), "->", "→")
				runs = runs[1:]
			}
		}
		side = &l.Right
	}
	return l
}

// isTermSign reports the runs that stand between the terms of an equation.
func isTermSign(r chem.Run) bool {
	return r.Level == chem.Normal && (r.Text == " + " || r.Text == " -> " || r.Text == " = ")
}

// marksOf says of each term of one side what was done to it. Terms are the same
// where species and state are; of two that are, each is held against one.
func marksOf(was, is []chem.Term) []termMark {
	out := make([]termMark, len(is))
	taken := make([]bool, len(was))
	find := func(t chem.Term, number bool) bool {
		for k, x := range was {
			if !taken[k] && sameTerm(x, t) && (!number || x.Coefficient.Equal(t.Coefficient)) {
				taken[k] = true
				return true
			}
		}
		return false
	}
	for i, t := range is {
		if !find(t, true) {
			out[i] = termNew
		}
	}
	for i, t := range is {
		if out[i] == termNew && find(t, false) {
			out[i] = termChanged
		}
	}
	return out
}

func sameTerm(a, b chem.Term) bool {
	return a.Species.Same(b.Species) && a.Species.Phase() == b.Species.Phase()
}

// cutTerms marks on each line what the next one takes away, where that is what
// its step is for.
func cutTerms(frames []boardFrame) {
	for i := 1; i < len(frames); i++ {
		st, l := frames[i].step, frames[i-1].Line
		if st.Rule != redox.Cancel && st.Rule != redox.LeaveOut || l == nil || frames[i-1].step.After.String() != st.Before.String() {
			continue
		}
		for side, terms := range [][]boardTerm{l.Left, l.Right} {
			was, is := st.Before.Left, st.After.Left
			if side == 1 {
				was, is = st.Before.Right, st.After.Right
			}
			for k, m := range marksOf(is, was) { // backwards: what was and is not
				switch {
				case k >= len(terms):
				case m == termNew:
					terms[k].Cut = "term"
				case m == termChanged && terms[k].Number != "":
					terms[k].Cut = "number"
				}
			}
		}
	}
}

// boardLedger is the ledger of the line of a step, nil where the line does not count.
func boardLedger(st redox.Step, c names.Choice) []boardLaw {
	if st.Written != nil || st.Rule == redox.WriteIons || st.Rule == redox.LeaveOut {
		return nil // unknowns, or which species there are
	}
	l, err := balance.NewLedger(st.After)
	if err != nil {
		return nil
	}
	return boardLaws(l, c)
}

func boardLaws(l balance.Ledger, c names.Choice) []boardLaw {
	out := make([]boardLaw, len(l))
	for i, e := range l {
		if e.Law == balance.Charge {
			out[i] = boardLaw{document.Plain("charge"), chargeText(e.Left), chargeText(e.Right), !e.Closed()}
			continue
		}
		law := document.Said(e.Law.String(), speech.Element(e.Law.Element, c))
		out[i] = boardLaw{law, document.Plain(e.Left.String()), document.Plain(e.Right.String()), !e.Closed()}
	}
	return out
}

// chargeText writes a charge with its sign.
func chargeText(r chem.Ratio) document.Inline {
	return document.Said(strings.ReplaceAll(r.Signed(), "-", "−"), speech.Signed(r))
}
