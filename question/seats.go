package question

// Seats returns a plan: the letter of the version for each seat, row by row, so
// that no two neighbours, side by side or one behind the other, have the same;
// with four versions or more none that touch at a corner either. It is nil for
// fewer than two versions.
func Seats(rows, columns, versions int) [][]string {
	if versions < 2 || rows < 1 || columns < 1 {
		return nil
	}
	step := 1 // from one row to the next
	if versions > 3 {
		step = 2
	}
	out := make([][]string, rows)
	for r := range out {
		for c := range columns {
			out[r] = append(out[r], string(rune('A'+(c+step*r)%versions)))
		}
	}
	return out
}
