package lesson

import (
	"fmt"
	"strings"

	"halves/chem"
)

// The pace of a lesson: common practice, no source. Teachers who explain speak
// 130 to 150 words a minute, and at the board one writes somewhat more than a
// sign a second, so that the last row can read it.
const (
	WordsPerMinute = 140
	SignsPerMinute = 80
)

// seconds estimates the time of sentences and of a line that is written, each
// rounded up to a second. One speaks before or after one writes.
func seconds(say []string, line []chem.Run) int {
	words := 0
	for _, s := range say {
		words += len(strings.Fields(s))
	}
	signs := 0
	for _, r := range chem.UnicodeText(line) {
		if r != ' ' {
			signs++
		}
	}
	return up(words*60, WordsPerMinute) + up(signs*60, SignsPerMinute)
}

// up divides and rounds up.
func up(n, by int) int { return (n + by - 1) / by }

// About shows a time, "about 6 minutes": below two minutes in steps of ten
// seconds, above in whole minutes, rounded to the nearest.
func About(seconds int) string {
	switch n := max((seconds+5)/10*10, 10); {
	case n >= 120:
		return fmt.Sprintf("about %d minutes", (seconds+30)/60)
	case n > 60:
		return fmt.Sprintf("about 1 minute %d seconds", n-60)
	case n == 60:
		return "about 1 minute"
	default:
		return fmt.Sprintf("about %d seconds", n)
	}
}
