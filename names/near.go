package names

import (
	"cmp"
	"slices"
	"strings"

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
	if meant := meantAnions(base, key, kind); meant != nil {
		return meant
	}
	if len(key) < 3 {
		return nil
	}
	limit := 3
	switch {
	case len(key) < 6:
		limit = 1
	case len(key) < 10:
		limit = 2
	}
	var found []suggestion
	for _, c := range names().all {
		if len(key) < 6 && !sameStart(key, c.key) {
			continue
		}
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
	ph := strings.Contains(strings.ToLower(name), "sulph")
	for _, s := range found {
		if s.distance > found[0].distance || len(out) == 3 {
			break
		}
		s.name = sulfAs(s.name, ph)
		if !slices.Contains(out, s.name) {
			out = append(out, s.name)
		}
	}
	return out
}

// sulfAs spells a name with sulph- or with sulf-.
func sulfAs(name string, ph bool) string {
	if ph {
		return strings.ReplaceAll(name, "sulf", "sulph")
	}
	return strings.ReplaceAll(name, "sulph", "sulf")
}

// sameStart reports whether two keys begin with the same two letters, or with
// the same three of which neighbours changed places. A short key is like many
// names that it was not meant for.
func sameStart(a, b string) bool {
	return len(b) > 2 && (a[:2] == b[:2] || a[0] == b[1] && a[1] == b[0] || a[0] == b[0] && a[1] == b[2] && a[2] == b[1])
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
