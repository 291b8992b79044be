package names

import (
	"cmp"
	"slices"

	"halves/internal/nearest"
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
		if d := nearest.Distance(key, c.key, limit); d <= limit {
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
