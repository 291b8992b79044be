// Package lesson makes the talk track of a worked question: what a teacher says
// at the board while the lines go up, with an estimate of the time.
//
// A track has a cue for the opening, one for each step of the working, and one
// for the close. A cue says what we look at, what we add and why, what the line
// now reads, and what its ledger says. Every number in it is counted from the
// lines themselves, and every sentence holds for the line of which it is said.
// Where one rule comes twice the wording changes, by turns and not by chance:
// the same solution always gives the same track.
//
// How formulas, numbers and lines are said is left to package speech, the
// working to package redox, and how a track looks on paper to package document.
package lesson

import (
	"strings"

	"halves/chem"
	"halves/redox"
)

// A Length says how much is said.
type Length uint8

// The lengths.
const (
	Full  Length = iota // each line with its reason, read out and counted
	Brief               // a sentence or two a line; lines with nothing to do run together
)

// Lengths lists the lengths by the words that name them.
var Lengths = []string{"full", "brief"}

// String returns the word that names the length.
func (l Length) String() string {
	if int(l) < len(Lengths) {
		return Lengths[l]
	}
	return ""
}

// A Track is all that is said of one solution.
type Track struct {
	Title string // the question, as it is said
	Cues  []Cue  // the opening, the steps in order, the close
}

// A Cue is what is said at one point of the working.
type Cue struct {
	Step    int   // index into Solution.Steps; -1 for the opening and the close
	With    []int // further steps, right after Step, of which it speaks too; nil for none
	Heading string
	Say     []string // sentences
	Seconds int      // to say them and to write the line, at the pace of this package
}

// Seconds returns the time of the whole track.
func (t Track) Seconds() int {
	n := 0
	for _, c := range t.Cues {
		n += c.Seconds
	}
	return n
}

// NewTrack makes the talk track of a solution.
func NewTrack(s *redox.Solution, length Length) Track {
	t := &talk{Solution: s, brief: length == Brief, turns: map[string]int{}}
	track := Track{Title: sentenceCase(t.skeleton(s.Skeleton) + mediumPhrase(s.Medium))}
	t.open()
	track.Cues = append(track.Cues, t.cue(-1, nil, "Opening", s.Skeleton.Runs(s.Conventions.LineStyle(s.Skeleton))))
	for i := 0; i < len(s.Steps); {
		next := i + 1
		if t.brief && !s.Steps[i].Done {
			for next < len(s.Steps) && !s.Steps[next].Done && s.Steps[next].Half == s.Steps[i].Half {
				next++
			}
		}
		var with []int
		for k := i + 1; k < next; k++ {
			with = append(with, k)
		}
		if t.brief && !s.Steps[i].Done {
			t.nothing(s.Steps[i:next])
		} else {
			t.step(i)
		}
		track.Cues = append(track.Cues, t.cue(i, with, t.heading(s.Steps[i]), Line(s.Steps[i], s.Conventions)))
		i = next
	}
	t.close()
	track.Cues = append(track.Cues, t.cue(-1, nil, "Close", nil))
	return track
}

// Line returns the line that a step puts on the board, nil for none: a step that
// does nothing, or the check, writes none.
func Line(st redox.Step, c redox.Conventions) []chem.Run {
	switch {
	case !st.Done:
		return nil
	case st.Written != nil:
		return st.Written
	case st.Rule == redox.Check || len(st.After.Left)+len(st.After.Right) == 0:
		return nil
	}
	return st.After.Runs(c.LineStyle(st.After))
}

// heading names a step with its half.
func (t *talk) heading(st redox.Step) string {
	if st.Half < 0 {
		return sentenceCase(t.Conventions.Label(st.Rule))
	}
	return sentenceCase(t.half(st.Half)) + ": " + t.Conventions.Label(st.Rule)
}

// mediumPhrase ends a question.
func mediumPhrase(m redox.Medium) string {
	switch m {
	case redox.Acidic:
		return ", in acid"
	case redox.Basic:
		return ", in base"
	case redox.Neutral:
		return ", in neutral solution"
	}
	return ""
}

// sentenceCase gives a sentence its capital.
func sentenceCase(s string) string {
	if s == "" {
		return s
	}
	return strings.ToUpper(s[:1]) + s[1:]
}
