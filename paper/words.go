package paper

import (
	"fmt"
	"strconv"
	"strings"

	"halves/chem"
	"halves/document"
	"halves/redox"
)

// count says how many: "1 question", "12 questions".
func count(n int, what string) string {
	if n == 1 {
		return "1 " + what
	}
	return fmt.Sprintf("%d %ss", n, what)
}

func number(n int) document.Inline { return document.Plain(strconv.Itoa(n)) }

// sentenceCase begins a text with a capital.
func sentenceCase(s string) string {
	if s == "" {
		return s
	}
	return strings.ToUpper(s[:1]) + s[1:]
}

// speciesList names species: "a, b and c".
func speciesList(all []*chem.Species, c redox.Conventions) document.Inline {
	items := make([]document.Inline, len(all))
	for i, s := range all {
		items[i] = document.FormulaOf(s, c)
	}
	return document.Series(items)
}
