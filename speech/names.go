package speech

import (
	"strconv"
	"strings"
	"unicode"
)

// speakable writes a name as it is said: "iron(III) ion" is "iron three ion",
// "tetraoxidomanganate(1-) ion" is "tetraoxidomanganate one minus ion",
// "1,4-benzoquinone" is "one four-benzoquinone". What stands in brackets of its
// own after a space is a remark and is not said.
func speakable(name string) string {
	var b strings.Builder
	for i := 0; i < len(name); {
		rest := name[i:]
		switch {
		case strings.HasPrefix(rest, " ("):
			if j := strings.IndexByte(rest, ')'); j > 0 {
				i += j + 1
				continue
			}
		case rest[0] == '(':
			if j := strings.IndexByte(rest, ')'); j > 0 {
				if said, ok := bracketed(rest[1:j]); ok {
					b.WriteString(" " + said + " ")
					i += j + 1
					continue
				}
			}
		case rest[0] >= '0' && rest[0] <= '9':
			j := 1
			for j < len(rest) && rest[j] >= '0' && rest[j] <= '9' {
				j++
			}
			if n, err := strconv.ParseInt(rest[:j], 10, 64); err == nil {
				b.WriteString(" " + Number(n))
			}
			i += j
			continue
		}
		b.WriteByte(name[i])
		i++
	}
	return plainWords(b.String())
}

// bracketed says what stands in the brackets of a name: states in Roman
// numerals, or a charge.
func bracketed(s string) (string, bool) {
	var said []string
	for part := range strings.SplitSeq(s, ",") {
		n, ok := roman(part)
		if !ok {
			break
		}
		said = append(said, Number(n))
	}
	if len(said) == strings.Count(s, ",")+1 {
		return strings.Join(said, " "), true
	}
	digits := strings.TrimRight(s, "+-−")
	n, err := strconv.ParseInt(digits, 10, 64)
	if err != nil {
		return "", false
	}
	switch s[len(digits):] {
	case "+":
		return Number(n) + " plus", true
	case "-", "−":
		return Number(n) + " minus", true
	case "":
		return Number(n), true
	}
	return "", false
}

// roman reads a numeral from I to XXXIX, and 0; a minus sign may stand before it.
func roman(s string) (int64, bool) {
	if s == "0" {
		return 0, true
	}
	plain := strings.TrimPrefix(strings.TrimPrefix(s, "-"), "−")
	if plain == "" || len(plain) > 7 || strings.Trim(plain, "IVX") != "" {
		return 0, false
	}
	value := map[byte]int64{'I': 1, 'V': 5, 'X': 10}
	n := int64(0)
	for i := range len(plain) {
		v := value[plain[i]]
		if i+1 < len(plain) && value[plain[i+1]] > v {
			v = -v
		}
		n += v
	}
	if plain != s {
		n = -n
	}
	return n, true
}

// plainWords leaves letters, spaces, commas and hyphens; other signs part
// words, except an apostrophe, which is dropped.
func plainWords(s string) string {
	var b strings.Builder
	for _, r := range s {
		switch {
		case r == '\'' || r == '’':
		case r == ',':
			b.WriteString(", ")
		case unicode.IsLetter(r) || r == '-':
			b.WriteRune(r)
		default:
			b.WriteByte(' ')
		}
	}
	words := strings.Fields(b.String())
	for i, w := range words {
		words[i] = strings.TrimLeft(w, "-,")
	}
	out := strings.Join(strings.Fields(strings.Join(words, " ")), " ")
	return strings.TrimRight(out, " ,-")
}
