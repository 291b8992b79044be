package pdf

import (
	"fmt"
	"strings"
	"unicode/utf8"
)

// readable returns a text in letters that the fonts have. Marks that are written
// after their letter are put together with it, spaces of all widths become
// spaces, what is not seen is left out, controls become U+FFFD. A letter of
// another script is given by its number, so that it is not lost in silence.
func readable(s string) string {
	plain := true
	for i := range len(s) {
		if s[i] < ' ' || s[i] > '~' {
			plain = false
			break
		}
	}
	if plain {
		return s
	}
	var b strings.Builder
	b.Grow(len(s))
	for i := 0; i < len(s); {
		r, n := utf8.DecodeRuneInString(s[i:])
		if next, m := utf8.DecodeRuneInString(s[i+n:]); next >= 0x300 && next <= 0x328 {
			if c := composed(r, next); c != 0 {
				r, n = c, n+m
			}
		}
		if r == utf8.RuneError && n == 1 {
			b.WriteRune('\ufffd')
		} else if _, ok := faceOf(r, regular); ok && r != '\u00ad' {
			b.WriteRune(r)
		} else {
			b.WriteString(instead(r))
		}
		i += n
	}
	return b.String()
}

// instead writes a letter that the fonts do not have.
func instead(r rune) string {
	switch {
	case r == '\t', r == '\n', r == '\r', r == 0x2028, r == 0x2029,
		r >= 0x2000 && r <= 0x200a && r != 0x2007, r == 0x205f, r == 0x3000:
		return " "
	case r == 0x2007 || r == 0x202f:
		return "\u00a0"
	case r == 0x00ad, r >= 0x200b && r <= 0x200f, r == 0x2060, r == 0xfeff, r >= 0xfe00 && r <= 0xfe0f:
		return "" // not seen
	case r < ' ', r >= 0x7f && r < 0xa0, r >= 0x202a && r <= 0x202e, r >= 0x2066 && r <= 0x2069,
		r >= 0xfdd0 && r <= 0xfdef, r&0xfffe == 0xfffe:
		return "\ufffd"
	case r >= 0xff01 && r <= 0xff5e:
		return string(r - 0xff01 + '!') // the wide forms of ASCII
	case r >= 0xfb00 && r <= 0xfb04:
		return [...]string{"ff", "fi", "fl", "ffi", "ffl"}[r-0xfb00]
	}
	switch r {
	case '✗', '✘', '✕', '✖':
		return "×"
	case '✔':
		return "✓"
	case '☓':
		return "☒"
	case '➔', '➜', '⟹':
		return "→"
	case '⇀':
		return "→"
	case '⩽':
		return "≤"
	case '⩾':
		return "≥"
	case '⋯':
		return "…"
	case '‣', '⁃':
		return "•"
	case '﹣', '⁒':
		return "−"
	}
	return fmt.Sprintf("[U+%04X]", r)
}

// accents are the letters with a mark, by the mark: the plain letter, then the
// one with its mark (Unicode, canonical decompositions).
var accents = map[rune]string{
	0x300: "AÀEÈIÌOÒUÙaàeèiìoòuùWẀwẁYỲyỳ",
	0x301: "AÁEÉIÍOÓUÚYÝaáeéiíoóuúyýCĆcćLĹlĺNŃnńRŔrŕSŚsśZŹzź",
	0x302: "AÂEÊIÎOÔUÛaâeêiîoôuûCĈcĉGĜgĝHĤhĥJĴjĵSŜsŝWŴwŵYŶyŷ",
	0x303: "AÃNÑOÕaãnñoõIĨiĩUŨuũEẼeẽYỸyỹ",
	0x304: "AĀaāEĒeēIĪiīOŌoōUŪuū",
	0x306: "AĂaăEĔeĕGĞgğIĬiĭOŎoŏUŬuŭ",
	0x307: "CĊcċEĖeėGĠgġIİZŻzż",
	0x308: "AÄEËIÏOÖUÜaäeëiïoöuüyÿYŸWẄwẅ",
	0x30a: "AÅaåUŮuů",
	0x30b: "OŐoőUŰuű",
	0x30c: "CČcčDĎdďEĚeěLĽlľNŇnňRŘrřSŠsšTŤtťZŽzž",
	0x326: "SȘsșTȚtț",
	0x327: "CÇcçGĢKĶkķLĻlļNŅnņRŖrŗSŞsşTŢtţ",
	0x328: "AĄaąEĘeęIĮiįUŲuų",
}

// composed puts a letter and a mark together, 0 for what is no letter.
func composed(letter, mark rune) rune {
	plain, found := true, false
	for _, r := range accents[mark] {
		if found {
			return r
		}
		found = plain && r == letter
		plain = !plain
	}
	return 0
}
