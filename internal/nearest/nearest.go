// Package nearest finds the words that a mistyped one may have meant.
//
// Two words are as far apart as the letters that must be put in, left out,
// changed or swapped with their neighbour to turn one into the other (optimal
// string alignment, the usual table a row at a time). Which words there are is
// left to who asks.
package nearest

import (
	"iter"
	"slices"
	"strings"
	"unicode/utf8"
)

// Word returns the word that is likest to s, "" where none is like it: at most
// one wrong letter in three. Capitals make no difference.
func Word(s string, words iter.Seq[string]) string {
	if near := Words(s, words, 1); len(near) > 0 {
		return near[0]
	}
	return ""
}

// Words returns at most n words, the likest first, in their own order where two
// are as like.
func Words(s string, words iter.Seq[string], n int) []string {
	if len(s) > MaxLetters {
		return nil
	}
	s = strings.ToLower(s)
	limit := utf8.RuneCountInString(s) / 3
	type found struct {
		word     string
		distance int
	}
	var all []found
	for w := range words {
		if d := Distance(s, strings.ToLower(w), limit); d <= limit {
			all = append(all, found{w, d})
		}
	}
	slices.SortStableFunc(all, func(x, y found) int { return x.distance - y.distance })
	var out []string
	for _, f := range all[:min(n, len(all))] {
		out = append(out, f.word)
	}
	return out
}

// MaxLetters bounds the work: no word that is meant has more bytes.
const MaxLetters = 120

// Distance counts the letters to put in, leave out, change or swap with their
// neighbour to make a of b, or returns more than limit. Letters are bytes; a word
// longer than MaxLetters is like none.
func Distance(a, b string, limit int) int {
	if len(a)-len(b) > limit || len(b)-len(a) > limit || len(a) > MaxLetters || len(b) > MaxLetters {
		return limit + 1
	}
	var rows [3][MaxLetters + 1]uint8
	before, above, row := &rows[0], &rows[1], &rows[2]
	for j := range len(b) + 1 {
		above[j] = uint8(j)
	}
	for i := 1; i <= len(a); i++ {
		row[0] = uint8(i)
		least := row[0]
		for j := 1; j <= len(b); j++ {
			change := uint8(1)
			if a[i-1] == b[j-1] {
				change = 0
			}
			d := min(above[j]+1, row[j-1]+1, above[j-1]+change)
			if i > 1 && j > 1 && a[i-1] == b[j-2] && a[i-2] == b[j-1] {
				d = min(d, before[j-2]+1)
			}
			row[j] = d
			least = min(least, d)
		}
		if int(least) > limit {
			return limit + 1
		}
		before, above, row = above, row, before
	}
	return int(above[len(b)])
}
