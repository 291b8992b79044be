package paper

import (
	"fmt"
	"halves/balance"
	"halves/chem"
	"halves/document"
	"halves/lesson"
	"halves/question"
	"halves/redox"
	"slices"
)

// mostLines is how many lines of a half stand on one slide.
const mostLines = 5

// Slides lays out a worked example as a deck: a slide for the question, one for
// each line of the working, which stands below those before it, and one for the
// answer. What is said stands in the notes.
func Slides(s *redox.Solution) *document.Document {
	d := &document.Document{Title: document.Join(document.EquationOf(s.Skeleton, s.Conventions), document.MediumPhrase(s.Medium))}
	deck(d, s, "")
	return d
}

// SetSlides lays out the worked examples of a version one after the other.
func SetSlides(s *question.Set, v *question.Version, o Options) (*document.Document, error) {
	d := newDocument(s, v, s.Wish.Title)
	for i := range v.Items {
		w, err := v.Items[i].Question.Work(o.Conventions)
		if err != nil {
			return nil, err
		}
		deck(d, w, fmt.Sprintf("Question %d. ", v.Items[i].Number))
	}
	return d, nil
}

// deck adds the slides of a solution; before stands before each title.
func deck(d *document.Document, s *redox.Solution, before string) {
	c := s.Conventions
	track := lesson.NewTrack(s, lesson.Full)
	var lines []document.Block // of the part that is on the slide
	part := -2
	for _, cue := range track.Cues {
		title := cue.Heading
		if cue.Step < 0 {
			title = map[string]string{"Opening": "The question", "Close": "The answer"}[cue.Heading]
		}
		slide := document.Slide{Title: document.Plain(before + title)}
		for _, say := range cue.Say {
			slide.Notes = append(slide.Notes, document.Plain(say))
		}
		if cue.Step < 0 {
			add(d, slide)
			if cue.Heading == "Opening" {
				add(d, document.Line(s.Skeleton, c), document.Paragraph{Text: document.Plain(opening(s))})
			} else {
				add(d, document.Answer(s.Equation, c))
			}
			continue
		}
		st := s.Steps[cue.Step]
		if !st.Done {
			// Nothing new goes up: what is said belongs to the slide before.
			if n := len(d.Blocks); n > 0 {
				said(d, slide.Notes)
				continue
			}
		}
		if st.Half != part {
			part, lines = st.Half, nil
			if st.Half < 0 {
				lines = finished(s)
			}
		}
		if lesson.Line(st, c) != nil {
			for i, b := range lines {
				e := b.(document.Equation)
				e.Fresh = false
				lines[i] = e
			}
			fresh := stepLine(st, c)
			fresh.Fresh = true
			lines = append(lines, fresh)
			if len(lines) > mostLines {
				lines = lines[len(lines)-mostLines:]
			}
		}
		add(d, slide)
		add(d, lines...)
		if st.Reason != "" {
			add(d, document.Paragraph{Text: document.Prose(sentenceCase(st.Reason)+".", c)})
		}
		if t, ok := counts(st); ok {
			add(d, t)
		}
	}
}

// said adds what is said to the slide that was laid out last.
func said(d *document.Document, notes []document.Inline) {
	for i := len(d.Blocks) - 1; i >= 0; i-- {
		if slide, ok := d.Blocks[i].(document.Slide); ok {
			slide.Notes = append(slices.Clip(slide.Notes), notes...)
			d.Blocks[i] = slide
			return
		}
	}
}

// opening says what is to be done.
func opening(s *redox.Solution) string {
	switch s.Medium {
	case redox.Acidic:
		return "Balance by half-reactions, in acidic solution."
	case redox.Basic:
		return "Balance by half-reactions, in basic solution."
	case redox.Neutral:
		return "Balance by half-reactions, in neutral solution."
	}
	return "Balance; every substance is there already."
}

// finished are the balanced halves as often as they are taken, from which the
// whole is put together.
func finished(s *redox.Solution) []document.Block {
	var out []document.Block
	for _, h := range s.Halves {
		if len(h.Equation.Left) == 0 {
			continue
		}
		times := func(terms []chem.Term) []chem.Term {
			all := slices.Clone(terms)
			for i := range all {
				all[i].Coefficient = all[i].Coefficient.Mul(chem.Whole(max(h.Multiplier, 1)))
			}
			return all
		}
		out = append(out, document.Line(chem.Equation{Left: times(h.Equation.Left), Right: times(h.Equation.Right)}, s.Conventions))
	}
	return out
}

// counts is the ledger of a line as a table; false where the line has none.
func counts(st redox.Step) (document.Table, bool) {
	if !st.Done || st.Written != nil || len(st.After.Left) == 0 || len(st.After.Right) == 0 {
		return document.Table{}, false
	}
	l, err := balance.NewLedger(st.After)
	if err != nil {
		return document.Table{}, false
	}
	t := document.Table{Caption: "Atoms and charge", Head: []document.Inline{nil}, Right: []bool{false}}
	left, right := []document.Inline{document.Plain("left")}, []document.Inline{document.Plain("right")}
	for _, e := range l {
		t.Head = append(t.Head, document.Plain(e.Law.String()))
		t.Right = append(t.Right, true)
		left, right = append(left, counted(e, e.Left)), append(right, counted(e, e.Right))
	}
	t.Rows = [][]document.Inline{left, right}
	return t, true
}

// counted writes atoms, or a charge with its sign.
func counted(e balance.Entry, n chem.Ratio) document.Inline {
	if e.Law != balance.Charge || n.Sign() == 0 {
		return document.Plain(n.String())
	}
	if n.Sign() < 0 {
		return document.Said("\u2212"+n.Neg().String(), "minus "+n.Neg().String())
	}
	return document.Said("+"+n.String(), "plus "+n.String())
}
