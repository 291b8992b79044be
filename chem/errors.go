package chem

import "fmt"

// A SyntaxError reports text that is not a formula or an equation.
type SyntaxError struct {
	Text   string // the line as typed
	Offset int    // bytes from the start of Text to the trouble, from 0
	Width  int    // bytes; 0 where something is missing
	Msg    string // no capital, no full stop
	Hint   string // a way out, or ""
}

func (e *SyntaxError) Error() string {
	return fmt.Sprintf("column %d: %s", e.Column(), e.Msg)
}

// Column returns the place of the trouble in characters, counted from 1.
func (e *SyntaxError) Column() int {
	n := 1
	for i := range e.Text {
		if i >= e.Offset {
			break
		}
		n++
	}
	if e.Offset >= len(e.Text) {
		n = len([]rune(e.Text)) + 1
	}
	return n
}

// A TooLargeError reports a line, a number or a nesting beyond the limits that
// are computed exactly and quickly.
type TooLargeError struct {
	Text   string // the line as typed, "" where the trouble is in a result
	Offset int    // bytes from the start of Text, from 0
	Width  int
	Msg    string // what is too large, and the limit
}

func (e *TooLargeError) Error() string { return "too large: " + e.Msg }
