package chem

import (
	"fmt"
	"strings"
	"unicode"
	"unicode/utf8"
)

// MaxLine is the longest line that is read, in characters.
const MaxLine = 4096

// A char is one character of the input after look-alikes of punctuation were
// made one: every dash is '-', every arrow '→', every space ' ', and a sub- or
// superscript is its plain character with a level.
type char struct {
	r     rune
	level Level
	off   int // bytes from the start of the text
	width int // bytes
}

// An input is a line being read.
type input struct {
	text  string
	chars []char
}

var superscriptChars = map[rune]rune{
	'⁰': '0', '¹': '1', '²': '2', '³': '3', '⁴': '4', '⁵': '5', '⁶': '6', '⁷': '7', '⁸': '8', '⁹': '9',
	'⁺': '+', '⁻': '-', '¯': '-', '⁽': '(', '⁾': ')',
}

var subscriptChars = map[rune]rune{
	'₀': '0', '₁': '1', '₂': '2', '₃': '3', '₄': '4', '₅': '5', '₆': '6', '₇': '7', '₈': '8', '₉': '9',
	'₊': '+', '₋': '-', '₍': '(', '₎': ')',
}

// plainChars maps typographical variants to the character that is meant.
var plainChars = map[rune]rune{
	'‐': '-', '‑': '-', '‒': '-', '–': '-', '—': '-', '―': '-', '−': '-', '﹣': '-', '－': '-', '˗': '-', '➖': '-', '⁃': '-',
	'＋': '+', '﹢': '+', '➕': '+',
	'＝': '=', '˄': '^', 'ˆ': '^', '＾': '^',
	'•': '·', '∙': '·', '⋅': '·', '・': '·', '‧': '·', '･': '·', '⸱': '·', '∗': '*', '×': '*', '＊': '*', '✕': '*',
	'→': '→', '⟶': '→', '⇌': '→', '⇄': '→', '⇆': '→', '⇋': '→', '⇒': '→', '⟹': '→', '⇔': '→', '⟷': '→', '↔': '→', '⟺': '→',
	'⭢': '→', '➔': '→', '➙': '→', '➛': '→', '➜': '→', '➝': '→', '➞': '→', '➟': '→', '➡': '→', '⇨': '→', '⇾': '→', '↦': '→', '⟼': '→', '⥂': '→', '⮕': '→', '🡒': '→', '⇀': '→', '⇁': '→', '￫': '→', '🠖': '→',
	'←': '←', '⟵': '←', '⇐': '←', '⇦': '←',
	'⁄': '/', '∕': '/', '／': '/',
	'，': ',', '；': ';',
}

// looksLike maps letters of other alphabets to the Latin letters that they are
// taken for, for the hint alone.
var looksLike = map[rune]rune{
	'А': 'A', 'В': 'B', 'Е': 'E', 'З': '3', 'К': 'K', 'М': 'M', 'Н': 'H', 'О': 'O', 'Р': 'P', 'С': 'C', 'Т': 'T', 'У': 'Y', 'Х': 'X', 'І': 'I', 'Ѕ': 'S', 'Ј': 'J',
	'а': 'a', 'е': 'e', 'о': 'o', 'р': 'p', 'с': 'c', 'у': 'y', 'х': 'x', 'і': 'i', 'ѕ': 's', 'ј': 'j', 'ԁ': 'd', 'ո': 'n', 'ɡ': 'g',
	'Α': 'A', 'Β': 'B', 'Ε': 'E', 'Ζ': 'Z', 'Η': 'H', 'Ι': 'I', 'Κ': 'K', 'Μ': 'M', 'Ν': 'N', 'Ο': 'O', 'Ρ': 'P', 'Τ': 'T', 'Υ': 'Y', 'Χ': 'X',
	'α': 'a', 'ι': 'i', 'κ': 'k', 'ν': 'v', 'ο': 'o', 'ρ': 'p', 'υ': 'u', 'χ': 'x', 'ϲ': 'c',
	'Å': 'A', 'ñ': 'n', 'ö': 'o', 'ü': 'u', 'é': 'e', 'ı': 'i', 'ł': 'l', 'Ø': 'O', 'ø': 'o',
}

var fractions = map[rune]Ratio{
	'½': NewRatio(1, 2), '⅓': NewRatio(1, 3), '⅔': NewRatio(2, 3), '¼': NewRatio(1, 4), '¾': NewRatio(3, 4),
	'⅕': NewRatio(1, 5), '⅖': NewRatio(2, 5), '⅗': NewRatio(3, 5), '⅘': NewRatio(4, 5), '⅙': NewRatio(1, 6), '⅚': NewRatio(5, 6),
	'⅐': NewRatio(1, 7), '⅛': NewRatio(1, 8), '⅜': NewRatio(3, 8), '⅝': NewRatio(5, 8), '⅞': NewRatio(7, 8), '⅑': NewRatio(1, 9), '⅒': NewRatio(1, 10),
}

// newInput checks the characters of a line and makes them one alphabet.
func newInput(text string) (*input, error) {
	in := &input{text: text, chars: make([]char, 0, len(text))}
	level := Normal // set by <sub> and <sup>, as text pasted from a page may hold
	count := 0
	for off := 0; off < len(text); {
		r, w := rune(text[off]), 1
		if r >= utf8.RuneSelf {
			r, w = utf8.DecodeRuneInString(text[off:])
		}
		if count++; count > MaxLine {
			return nil, &TooLargeError{Text: text, Offset: off, Width: w, Msg: fmt.Sprintf("a line may have %d characters", MaxLine)}
		}
		c := char{r: r, level: level, off: off, width: w}
		if r == '<' {
			if l, n, ok := scriptTag(text[off:]); ok {
				level = l
				off += n
				continue
			}
		}
		if r >= utf8.RuneSelf || r < ' ' || r == 0x7f {
			drop, err := c.normalize(text)
			if err != nil {
				return nil, err
			}
			if drop {
				off += w
				continue
			}
		}
		in.chars = append(in.chars, c)
		off += w
	}
	return in, nil
}

// scriptTag recognizes the marks of sub- and superscripts in text pasted from
// a page (HTML Living Standard, "The sub and sup elements").
func scriptTag(s string) (level Level, length int, ok bool) {
	for tag, l := range map[string]Level{"<sub>": Subscript, "<sup>": Superscript, "</sub>": Normal, "</sup>": Normal} {
		if len(s) >= len(tag) && strings.EqualFold(s[:len(tag)], tag) {
			return l, len(tag), true
		}
	}
	return 0, 0, false
}

// normalize replaces a character outside printable ASCII. drop means that the
// character is invisible and means nothing.
func (c *char) normalize(text string) (drop bool, err error) {
	if r, ok := superscriptChars[c.r]; ok {
		c.r, c.level = r, Superscript
		return false, nil
	}
	if r, ok := subscriptChars[c.r]; ok {
		c.r, c.level = r, Subscript
		return false, nil
	}
	if r, ok := plainChars[c.r]; ok {
		c.r = r
		return false, nil
	}
	fail := func(msg, hint string) (bool, error) {
		return false, &SyntaxError{Text: text, Offset: c.off, Width: c.width, Msg: msg, Hint: hint}
	}
	switch r := c.r; {
	case r == utf8.RuneError && c.width == 1:
		return fail("this is not text (a byte that is not UTF-8)", "save the file as UTF-8 text")
	case unicode.IsSpace(r) || unicode.Is(unicode.Zs, r):
		c.r = ' '
		return false, nil
	case r == 0xFEFF || r == 0x200B || r == 0x200C || r == 0x200D || r == 0x2060 || r == 0xAD || r >= 0xFE00 && r <= 0xFE0F:
		return true, nil // byte order mark, zero-width space and joiners, soft hyphen, variation selectors
	case r == '·' || r == '↑' || r == '↓':
		return false, nil
	case r >= '！' && r <= '～': // full-width forms, U+FF01 to U+FF5E
		c.r = r - '！' + '!'
		return false, nil
	case fractions[r] != Ratio{}:
		return false, nil
	case unicode.IsLetter(r) || unicode.IsMark(r):
		msg := fmt.Sprintf("the letter %q (U+%04X%s) is not a letter of the Latin alphabet", string(r), r, scriptName(r))
		if l, ok := looksLike[r]; ok {
			return fail(msg, fmt.Sprintf("it looks like the letter %c; type that one", l))
		}
		return fail(msg, "chemical symbols use the letters A to Z")
	case unicode.IsControl(r):
		return fail(fmt.Sprintf("a control character (U+%04X) stands here", r), "delete it, or type the line again")
	case !unicode.IsPrint(r):
		return fail(fmt.Sprintf("an invisible or unknown character (U+%04X) stands here", r), "delete it, or type the line again")
	}
	return fail(fmt.Sprintf("the character %q has no meaning in an equation", string(c.r)), "")
}

func scriptName(r rune) string {
	switch {
	case unicode.Is(unicode.Cyrillic, r):
		return ", Cyrillic"
	case unicode.Is(unicode.Greek, r):
		return ", Greek"
	case unicode.Is(unicode.Latin, r):
		return ", with an accent"
	}
	return ""
}

// span returns the bytes of the text from char i up to char j.
func (in *input) span(i, j int) (off, width int) {
	if i >= len(in.chars) {
		return len(in.text), 0
	}
	off = in.chars[i].off
	if j <= i {
		return off, 0
	}
	last := in.chars[j-1]
	return off, last.off + last.width - off
}

func (in *input) typed(i, j int) string {
	off, width := in.span(i, j)
	return in.text[off : off+width]
}

// fail makes an error about chars i up to j.
func (in *input) fail(i, j int, msg, hint string) *SyntaxError {
	off, width := in.span(i, j)
	return &SyntaxError{Text: in.text, Offset: off, Width: width, Msg: msg, Hint: hint}
}

func (in *input) tooLarge(i, j int, msg string) *TooLargeError {
	off, width := in.span(i, j)
	return &TooLargeError{Text: in.text, Offset: off, Width: width, Msg: msg}
}

// at returns the plain character at i, 0 past the end.
func (in *input) at(i int) rune {
	if i < len(in.chars) {
		return in.chars[i].r
	}
	return 0
}

func (in *input) skipSpace(i, end int) int {
	for i < end && in.chars[i].r == ' ' {
		i++
	}
	return i
}

func isDigit(r rune) bool { return r >= '0' && r <= '9' }
func isUpper(r rune) bool { return r >= 'A' && r <= 'Z' }
func isLower(r rune) bool { return r >= 'a' && r <= 'z' }
func isSign(r rune) bool  { return r == '+' || r == '-' }
