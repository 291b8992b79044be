package lesson

import (
	"strings"
	"testing"

	"halves/checks"
	"halves/redox"
)

// FuzzNewTrack: whatever can be worked can be told, every step once and in
// plain words.
func FuzzNewTrack(f *testing.F) {
	for i, row := range checks.Equations() {
		if i%10 == 0 {
			f.Add(row.Skeleton+", "+row.Medium, uint8(i))
		}
	}
	f.Fuzz(func(t *testing.T, question string, pick uint8) {
		c := conventions[int(pick)%len(conventions)]
		s, err := redox.Work(question, redox.Unstated, c.Conventions)
		if err != nil {
			return
		}
		track := NewTrack(s, Length(pick/128))
		n := 0
		for _, cue := range track.Cues {
			if cue.Step >= 0 {
				n += 1 + len(cue.With)
			}
			for _, x := range cue.Say {
				if !sayable.MatchString(strings.ReplaceAll(x, ". ", ", ")) {
					t.Errorf("%s, %s: %s: not plain words: %q", question, c.name, cue.Heading, x)
				}
			}
		}
		if n != len(s.Steps) {
			t.Errorf("%s, %s: %d steps are told of %d", question, c.name, n, len(s.Steps))
		}
	})
}
