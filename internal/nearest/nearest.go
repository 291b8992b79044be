// Package nearest finds the words that a mistyped one may have meant.
//
// Two words are as far apart as the letters that must be put in, left out or
// changed to turn one into the other (Levenshtein's distance). Which words there
// are is left to who asks.
package nearest

import (
	"iter"
	"slices"
	"strings"
)

// maxLetters bounds the work: no word that is meant is longer.
const maxLetters = 100

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
	if len(s) > maxLetters {
		return nil
	}
	a := []rune(strings.ToLower(s))
	limit := len(a)/3 + 1
	type found struct {
		word     string
		distance int
	}
	var all []found
	for w := range words {
		if d := len(w) - len(s); d > 2*limit || -d > 2*limit || len(w) > 2*maxLetters {
			continue
		}
		if d := distance(a, []rune(strings.ToLower(w))); d < limit {
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

// distance is counted by the usual table, a row at a time.
func distance(s, t []rune) int {
	row := make([]int, len(t)+1)
	for j := range row {
		row[j] = j
	}
	for i, x := range s {
		diagonal := row[0]
		row[0] = i + 1
		for j, y := range t {
			change := diagonal
			if x != y {
				change++
			}
			diagonal = row[j+1]
			row[j+1] = min(change, row[j]+1, row[j+1]+1)
		}
	}
	return row[len(t)]
}
