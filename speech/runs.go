package speech

import (
	"strings"
	"unicode"

	"halves/chem"
)

// Runs spells what runs show: a formula, an equation with unknown coefficients,
// or a line of algebra. "4a + 4b = 2e + f" is "four a plus four b equals two e
// plus f"; formulas are spelled, not named.
func Runs(runs []chem.Run) string {
	var out []string
	var piece []chem.Run // of one term, so far
	flush := func() {
		out = append(out, sayPiece(piece)...)
		piece = nil
	}
	for _, r := range runs {
		if r.Level != chem.Normal {
			if r.Level == chem.Variable {
				flush()
				out = append(out, variable(r.Text)...)
				continue
			}
			piece = append(piece, r)
			continue
		}
		// Spaces part terms and their signs.
		for i, w := range strings.Split(r.Text, " ") {
			if i > 0 {
				flush()
			}
			if w != "" {
				piece = append(piece, chem.Run{Text: w})
			}
		}
	}
	flush()
	return tidy(strings.Join(out, " "))
}

// variable says the letters of unknowns one by one.
func variable(s string) []string {
	var out []string
	for _, r := range s {
		switch w := sign(string(r)); {
		case w != "":
			out = append(out, w)
		case r >= '0' && r <= '9':
			out = append(out, units[r-'0'])
		case unicode.IsLetter(r):
			out = append(out, string(r))
		}
	}
	return out
}

// signs are the words of signs that stand alone.
var signWords = map[string]string{
	"+": "plus", "-": "minus", "−": "minus", "=": "equals", "->": "gives", "×": "times", "·": "times", "*": "times",
	"/": "over", "≠": "is not equal to", "→": "gives", "⟶": "gives", "<": "is less than", ">": "is more than",
	"(": "open bracket", ")": "close bracket", "[": "open bracket", "]": "close bracket",
}

func sign(s string) string { return signWords[s] }

// sayPiece says the runs between two spaces: a formula, a number, a sign, or
// several of them in a row.
func sayPiece(piece []chem.Run) []string {
	if len(piece) == 0 {
		return nil
	}
	text := chem.PlainText(piece)
	if w := sign(text); w != "" {
		return []string{w}
	}
	if n, ok := number(text); ok {
		return []string{n}
	}
	if s := canonical(text); s != nil {
		said := Words(Spell(s))
		if strings.Contains(said, ", ") { // a pause after a charge
			said += ","
		}
		return []string{said}
	}
	return sayAlgebra(text)
}

// sayAlgebra says what is neither a formula nor a number: digits together,
// every sign by itself, words as they are.
func sayAlgebra(text string) []string {
	var out []string
	for i := 0; i < len(text); {
		j := i + 1
		switch {
		case isDigit(text[i]):
			for j < len(text) && (isDigit(text[j]) || text[j] == '/' && j+1 < len(text) && isDigit(text[j+1])) {
				j++
			}
			if n, ok := number(text[i:j]); ok {
				out = append(out, n)
			} else {
				for k := i; k < j; k++ {
					if isDigit(text[k]) {
						out = append(out, units[text[k]-'0'])
					} else {
						out = append(out, "over")
					}
				}
			}
		case isLetter(text[i]):
			for j < len(text) && isLetter(text[j]) {
				j++
			}
			out = append(out, text[i:j])
		default:
			for j < len(text) && text[j]&0xC0 == 0x80 { // the bytes of one character
				j++
			}
			if text[i:j] == "^" {
				out = append(out, "to the power")
			} else if w := sign(text[i:j]); w != "" {
				out = append(out, w)
			} else if text[i] == ',' {
				out = append(out, ",")
			}
		}
		i = j
	}
	return out
}

func isDigit(c byte) bool  { return c >= '0' && c <= '9' }
func isLetter(c byte) bool { return c >= 'a' && c <= 'z' || c >= 'A' && c <= 'Z' }

// canonical reads a word as the species whose canonical text it is, an (aq)
// behind it allowed; nil where it is none.
func canonical(w string) *chem.Species {
	if len(w) == 0 || len(w) > 200 {
		return nil
	}
	if c := w[0]; (c < 'A' || c > 'Z') && strings.IndexByte("([{", c) < 0 && !strings.HasPrefix(w, "e^-") {
		return nil
	}
	all, err := chem.ReadSpecies(w, nil)
	if err != nil {
		return nil
	}
	for _, r := range all {
		if s := r.Species; s.String() == w || s.String()+s.Phase().String() == w {
			return s
		}
	}
	return nil
}

// tidy parts words by one space and takes commas off the ends.
func tidy(s string) string {
	s = strings.Join(strings.Fields(s), " ")
	for strings.Contains(s, ",,") || strings.Contains(s, " ,") {
		s = strings.ReplaceAll(strings.ReplaceAll(s, ",,", ","), " ,", ",")
	}
	return strings.Trim(s, ", ")
}
