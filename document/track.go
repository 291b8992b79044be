package document

import (
	"fmt"
	"strings"

	"halves/chem"
	"halves/lesson"
	"halves/redox"
	"halves/speech"
)

// FromTrack lays out a talk track to speak from: a section for each cue, with
// its time, the line that goes on the board, and what is said.
func FromTrack(t lesson.Track, s *redox.Solution) *Document {
	d := newLayout(s.Conventions)
	d.Title = d.question(s.Skeleton, s.Medium)
	d.add(Paragraph{Plain(fmt.Sprintf("Talk track, %s in all, at %d words a minute and %d signs a minute at the board. The time of each part is in brackets.",
		lesson.About(t.Seconds()), lesson.WordsPerMinute, lesson.SignsPerMinute))})
	for _, c := range t.Cues {
		d.add(Heading{Level: 1, Text: Join(Plain(c.Heading+" "), duration(c.Seconds)), Keep: true})
		if e, ok := d.board(c, s); ok {
			d.add(e)
		}
		d.add(Paragraph{Plain(strings.Join(c.Say, " "))})
	}
	return d.Document
}

// board is the line that goes up at a cue; it is false where there is none.
func (d layout) board(c lesson.Cue, s *redox.Solution) (Equation, bool) {
	if c.Step < 0 {
		if c.Heading == "Opening" {
			return Line(s.Skeleton, d.conventions), true
		}
		return d.answer(s.Equation), true
	}
	st := s.Steps[c.Step]
	line := lesson.Line(st, d.conventions)
	if line == nil {
		return Equation{}, false
	}
	return Equation{Line: line, Spoken: d.spokenLine(st, line)}, true
}

// spokenLine says what a step writes.
func (d layout) spokenLine(st redox.Step, line []chem.Run) string {
	if st.Written != nil {
		return speech.Runs(line)
	}
	return speech.Equation(st.After, d.conventions.Names)
}

// duration writes a time in brackets: "(40 s)", "(1 min 5 s)".
func duration(seconds int) Inline {
	words := speech.Number(int64(seconds)) + " seconds"
	if m, s := seconds/60, seconds%60; m > 0 {
		return Said(fmt.Sprintf("(%d%smin %d%ss)", m, noBreak, s, noBreak), words)
	}
	return Said(fmt.Sprintf("(%d%ss)", seconds, noBreak), words)
}
