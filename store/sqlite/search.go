package sqlite

import (
	"strings"
	"unicode"
)

// words are what a search looks for, folded.
//
// The questions are searched here and not in the database: SQLite folds A to Z
// alone, and a folded copy in a column would be of the Unicode of the version
// that wrote it. A thousand questions take a few milliseconds.
type words []string

func wordsOf(search string) words { return strings.Fields(fold(search)) }

// in reports whether every word stands in one of the texts.
func (w words) in(texts ...string) bool {
	if len(w) == 0 {
		return true
	}
	all := fold(strings.Join(texts, "\n")) // no word has a line break in it
	for _, word := range w {
		if !strings.Contains(all, word) {
			return false
		}
	}
	return true
}

// fold gives letters that differ in case alone one form: the least of them
// (Unicode, simple case folding). Σ, σ and ς are one; ß and SS are not.
func fold(s string) string {
	return strings.Map(func(r rune) rune {
		least := r
		for f := unicode.SimpleFold(r); f != r; f = unicode.SimpleFold(f) {
			least = min(least, f)
		}
		return least
	}, s)
}
