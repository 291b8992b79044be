package web

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"halves/balance"
	"halves/chem"
	"halves/document"
	"halves/lesson"
	"halves/redox"
)

// A boardFrame is what stands on the board at one moment.
type boardFrame struct {
	N       int    // its place: 0 is the question
	Kind    string // "question", "line" or "answer"
	Place   string // "The question", "Line 3 of 14"
	Heading string // "Reduction: balance oxygen with water"
	// Passed are the steps before it for which there was nothing to do.
	Passed []document.Inline
	Line   *boardLine
	Text   document.Inline // in the place of a line, where the step writes none
	Reason document.Inline
	Notes  []document.Inline
	Ledger []boardLaw
	Stands []int // frames whose lines stay above it
	Say    string
	Talk   []string
	// Pace says how long the talk is, and all that comes after it.
	Pace string

	step    redox.Step
	seconds int
}

// Above lists the frames that stay, for the page.
func (f boardFrame) Above() string {
	out := make([]string, len(f.Stands))
	for i, n := range f.Stands {
		out[i] = strconv.Itoa(n)
	}
	return strings.Join(out, " ")
}

// boardFrames are the frames of a solution: the question, each step that writes
// something, and the answer with the check.
//
// What is said of a step that writes nothing goes to the frame after it, and so
// does the remark that there was nothing to do.
func boardFrames(s *redox.Solution) []boardFrame {
	c := s.Conventions
	out := []boardFrame{{
		Kind: "question", Place: "The question", Heading: "The question", Line: lineOfEquation(s.Skeleton, c.LineStyle(s.Skeleton), c.Names),
		Reason: document.Plain(boardTask(s)), Notes: boardNotes(s, true), step: redox.Step{Half: -1},
	}}
	answer := boardFrame{
		Kind: "answer", Place: "The answer", Heading: "The answer", Line: lineOfEquation(s.Equation, c.Style(), c.Names),
		Notes: append(boardFacts(s), boardNotes(s, false)...), Ledger: boardLaws(s.Ledger, c.Names), step: redox.Step{Half: -1},
	}
	var waiting boardFrame // what goes to the frame after it
	take := func(f *boardFrame) {
		f.Passed, f.Talk, f.seconds = waiting.Passed, append(waiting.Talk, f.Talk...), waiting.seconds+f.seconds
		waiting = boardFrame{}
		f.N = len(out)
		out = append(out, *f)
	}
	for i, cue := range lesson.NewTrack(s, lesson.Full).Cues {
		if cue.Step < 0 { // the opening and the close
			f := &answer
			if i == 0 {
				f = &out[0]
			}
			f.Talk, f.seconds = cue.Say, cue.Seconds
			continue
		}
		st := s.Steps[cue.Step]
		f := boardFrame{Kind: "line", Heading: cue.Heading, Line: lineOfStep(st, c), Talk: cue.Say, seconds: cue.Seconds, step: st}
		switch {
		case f.Line == nil && (!st.Done || st.Rule == redox.Check):
			if !st.Done {
				waiting.Passed = append(waiting.Passed, document.Prose(sentence(c.Label(st.Rule)+" ("+st.Reason+")"), c))
			}
			waiting.Talk = append(waiting.Talk, cue.Say...)
			waiting.seconds += cue.Seconds
			continue
		case f.Line == nil:
			f.Text = document.Prose(sentence(st.Reason), c)
		default:
			f.Reason = document.Prose(sentence(st.Reason), c)
			f.Ledger = boardLedger(st, c.Names)
		}
		take(&f)
	}
	take(&answer)
	left := 0
	for i := len(out) - 1; i >= 0; i-- {
		f := &out[i]
		if f.Kind == "line" {
			f.Place = fmt.Sprintf("Line %d of %d", i, len(out)-2)
		}
		f.Pace = sentence("this takes "+lesson.About(f.seconds)) + " " + boardRest(left)
		left += f.seconds
		f.Stands = standing(out, i)
		f.Say = sayFrame(f)
	}
	cutTerms(out)
	return out
}

func boardRest(seconds int) string {
	if seconds == 0 {
		return "It is the last."
	}
	return "The rest takes " + lesson.About(seconds) + "."
}

// boardTask says what is to be done.
func boardTask(s *redox.Solution) string {
	way := ", by half-reactions"
	if !s.Redox() || document.WayTaken(s) != nil && s.Conventions.By != redox.ByHalves {
		way = "" // or a note says it
	}
	switch s.Medium {
	case redox.Acidic:
		return "Balance in acidic solution" + way + "."
	case redox.Basic:
		return "Balance in basic solution" + way + "."
	case redox.Neutral:
		return "Balance in neutral solution" + way + "."
	}
	return "Balance" + strings.TrimPrefix(way, ",") + ": every substance is there already."
}

// notesBefore are the kinds of notes that one needs before the working.
var notesBefore = []redox.NoteKind{redox.NoteReading, redox.NoteMedium, redox.NoteRoute, redox.NoteNotRedox, redox.NoteBalanced, redox.NoteAcid, redox.NoteDissolved}

// boardNotes are the remarks that stand with the question, or those with the answer.
func boardNotes(s *redox.Solution, first bool) []document.Inline {
	var out []document.Inline
	if way := document.WayTaken(s); way != nil && first {
		out = append(out, way)
	}
	for _, n := range s.Notes {
		if slices.Contains(notesBefore, n.Kind) == first {
			out = append(out, document.Prose(n.Text, s.Conventions))
		}
	}
	return out
}

// boardFacts says who gave how many electrons to whom, and what the check shows.
func boardFacts(s *redox.Solution) []document.Inline {
	var out []document.Inline
	if s.Redox() {
		var who document.Inline
		for _, x := range []struct {
			what    string
			species []*chem.Species
		}{{"Oxidized: ", s.Oxidized}, {" Reduced: ", s.Reduced}} {
			var all []document.Inline
			for _, y := range x.species {
				all = append(all, document.FormulaOf(y, s.Conventions))
			}
			if all != nil {
				who = document.Join(who, document.Plain(x.what), document.Series(all), document.Plain("."))
			}
		}
		if s.Electrons != nil {
			who = document.Join(who, document.Plain(fmt.Sprintf(" Electrons that change hands: %d.", *s.Electrons)))
		}
		out = append(out, who)
	}
	for _, e := range s.Ledger {
		if e.Law == balance.Charge && e.Closed() && e.Left.Sign() != 0 {
			out = append(out, document.Join(document.Plain("The charge is "), chargeText(e.Left), document.Plain(" on each side: not zero, but equal.")))
		}
	}
	return out
}

// mostStanding is how many lines stay above the one that is shown.
const mostStanding = 4

// standing lists the frames whose lines stay above frame i: those before it in its
// part, or, where the halves are put together, the last line of each half, and
// where gain and loss are, the changes.
func standing(frames []boardFrame, i int) []int {
	f := frames[i]
	var out []int
	switch {
	case f.Kind != "line":
		return nil
	case f.step.Rule == redox.Equalize || f.step.Rule == redox.Add:
		last := map[int]int{}
		for k, x := range frames[:i] {
			if x.step.Half >= 0 && x.Line != nil {
				last[x.step.Half] = k
			}
		}
		for _, k := range last {
			out = append(out, k)
		}
	case f.step.Rule == redox.ChangesOfState || f.step.Rule == redox.EqualChanges:
		for k, x := range frames[:i] {
			if x.step.Rule == redox.ChangesOfState {
				out = append(out, k)
			}
		}
	default:
		for k := i - 1; k > 0 && frames[k].step.Half == f.step.Half && frames[k].step.Rule != redox.Equalize; k-- {
			out = append(out, k)
		}
	}
	slices.Sort(out)
	return out[max(len(out)-mostStanding, 0):]
}

// sayFrame is what is told when a frame comes up: the line in words, what is new
// in it, and what still disagrees.
func sayFrame(f *boardFrame) string {
	parts := []string{f.Place}
	if f.Kind == "line" {
		parts = append(parts, f.Heading)
	}
	if f.Line != nil {
		parts = append(parts, f.Line.Spoken)
		if f.Line.New != "" {
			parts = append(parts, "New: "+f.Line.New)
		}
	}
	if f.Text != nil {
		parts = append(parts, boardWords(f.Text))
	}
	var open []string
	for _, r := range f.Ledger {
		if r.Open {
			open = append(open, boardWords(r.Law))
		}
	}
	if open != nil {
		parts = append(parts, "Not equal yet: "+strings.Join(open, ", "))
	} else if f.Ledger != nil {
		parts = append(parts, "Both sides agree")
	}
	for i, p := range parts {
		parts[i] = sentence(p)
	}
	return strings.Join(slices.DeleteFunc(parts, func(p string) bool { return p == "" }), " ")
}

// boardWords is a text in words.
func boardWords(text document.Inline) string {
	if said, differs := text.Spoken(); differs {
		return strings.ReplaceAll(said, "\u00a0", " ")
	}
	var b strings.Builder
	for _, s := range text {
		b.WriteString(s.Prose)
	}
	return strings.ReplaceAll(b.String(), "\u00a0", " ")
}
