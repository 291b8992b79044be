package names

import (
	"cmp"
	"slices"
)

// A suggestion is a name with its distance from what was typed.
type suggestion struct {
	name     string
	distance int
	other    bool // an ion where none was named, or the reverse
}

// near returns the names of the table likest to one that is not known, at most
// three. The work is one comparison with each name of about the same length.
func near(name string) []string {
	if len(name) > maxName {
		return nil
	}
	base, kind := cutKind(plainText(name))
	key := squash(base)
	if len(key) < 3 {
		return nil
	}
	limit := min(1+len(key)/5, 3)
	var found []suggestion
	for _, c := range names().all {
		if d := distance(key, c.key, limit); d <= limit {
			s := suggestion{name: c.name, distance: d, other: kind != substance && !c.ion}
			if c.ion {
				s.name += " ion"
			}
			found = append(found, s)
		}
	}
	slices.SortStableFunc(found, func(a, b suggestion) int {
		return cmp.Or(cmp.Compare(a.distance, b.distance), boolCompare(a.other, b.other))
	})
	var out []string
	for _, s := range found {
		if s.distance > found[0].distance || len(out) == 3 {
			break
		}
		if !slices.Contains(out, s.name) {
			out = append(out, s.name)
		}
	}
	return out
}

func boolCompare(a, b bool) int {
	switch {
	case a == b:
		return 0
	case b:
		return -1
	}
	return 1
}

// distance returns how many letters must be changed, put in, left out or
// swapped with a neighbour to make a of b, or more than limit (optimal string
// alignment).
func distance(a, b string, limit int) int {
	if len(a)-len(b) > limit || len(b)-len(a) > limit || len(b) > maxName {
		return limit + 1
	}
	var rows [3][maxName + 1]uint8
	before, above, row := &rows[0], &rows[1], &rows[2]
	for j := range len(b) + 1 {
		above[j] = uint8(j)
	}
	for i := 1; i <= len(a); i++ {
		row[0] = uint8(i)
		least := row[0]
		for j := 1; j <= len(b); j++ {
			cost := uint8(1)
			if a[i-1] == b[j-1] {
				cost = 0
			}
			d := min(above[j]+1, row[j-1]+1, above[j-1]+cost)
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
