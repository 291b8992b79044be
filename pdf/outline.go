package pdf

import (
	"strings"
	"unicode/utf8"
)

// An entry of the outline names a place of the file: a document, a heading, an
// exercise.
type entry struct {
	title string
	level int // from 1; the outer ones are the least
	page  int // from 0
	top   float64
}

// longest is how many letters a title of the outline has.
const longest = 72

// shortened cuts a title between words.
func shortened(s string) string {
	if utf8.RuneCountInString(s) <= longest {
		return s
	}
	runes := []rune(s)[:longest]
	head := string(runes)
	if i := strings.LastIndexByte(head, ' '); i > len(head)/2 {
		head = head[:i]
	}
	return strings.TrimRight(head, " ,.;:+") + " …"
}

// An outlined entry has its place in the tree: its parent, its neighbours and its
// first and last below it, by number from 1. 0 is none, and the parent of the
// outer ones.
type outlined struct{ parent, before, after, first, last, count int }

// outline finds the tree of entries: an entry stands below the nearest one
// before it of a lesser level. The first of the result is the root.
func outline(all []entry) []outlined {
	out := make([]outlined, len(all)+1)
	var open []int // the entries that the next may stand below
	for i, e := range all {
		n := i + 1
		for len(open) > 0 && all[open[len(open)-1]-1].level >= e.level {
			open = open[:len(open)-1]
		}
		parent := 0
		if len(open) > 0 {
			parent = open[len(open)-1]
		}
		out[n].parent = parent
		if last := out[parent].last; last > 0 {
			out[n].before, out[last].after = last, n
		} else {
			out[parent].first = n
		}
		out[parent].last = n
		out[parent].count++
		open = append(open, n)
	}
	return out
}
