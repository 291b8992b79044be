package redox

import (
	"fmt"
	"strings"
)

// A Medium says what may be added to a skeleton equation.
type Medium string

// The media. Unstated is what a question has that names none.
const (
	Unstated Medium = ""
	Acidic   Medium = "acidic"  // water and hydrogen ions
	Basic    Medium = "basic"   // water and hydroxide ions
	Neutral  Medium = "neutral" // water; hydrogen or hydroxide ions as products only
	None     Medium = "none"    // nothing: every species is in the skeleton
)

// Media lists the media that can be asked for.
var Media = []Medium{Acidic, Basic, Neutral, None}

// ParseMedium reads the name of a medium as a flag or a file gives it.
func ParseMedium(s string) (Medium, error) {
	switch strings.ToLower(strings.TrimSpace(s)) {
	case "acidic", "acid":
		return Acidic, nil
	case "basic", "base", "alkaline":
		return Basic, nil
	case "neutral":
		return Neutral, nil
	case "none":
		return None, nil
	case "":
		return Unstated, nil
	}
	return Unstated, fmt.Errorf("no medium is called %q; the media are acidic, basic, neutral and none", s)
}
