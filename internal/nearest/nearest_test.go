package nearest_test

import (
	"slices"
	"strings"
	"testing"

	"halves/internal/nearest"
)

func TestWord(t *testing.T) {
	words := []string{"hydronium", "medium", "base-in-halves", "names"}
	for _, c := range []struct{ typed, want string }{
		{"hydronum", "hydronium"},
		{"HYDRONIUM", "hydronium"},
		{"mediun", "medium"},
		{"base-in-halfs", "base-in-halves"},
		{"nmaes", "names"}, // one swap
		{"nmeas", ""},      // two changes of five letters
		{"colour", ""},
		{"", ""},
		{strings.Repeat("medium", 40), ""},
	} {
		if got := nearest.Word(c.typed, slices.Values(words)); got != c.want {
			t.Errorf("Word(%q) = %q, want %q", c.typed, got, c.want)
		}
	}
}

func TestWords(t *testing.T) {
	words := []string{"sulfide", "sulfite", "sulfate", "nitrate"}
	got := nearest.Words("sulfte", slices.Values(words), 2)
	if want := []string{"sulfite", "sulfate"}; !slices.Equal(got, want) {
		t.Errorf("Words(sulfte, 2) = %v, want %v", got, want)
	}
	if got := nearest.Words("sulfte", slices.Values(words), 9); len(got) != 3 {
		t.Errorf("Words(sulfte, 9) = %v, want the three that are like it", got)
	}
}

// Distances counted by hand.
func TestDistance(t *testing.T) {
	for _, c := range []struct {
		a, b string
		want int
	}{
		{"nitrate", "nitrate", 0},
		{"nitrate", "nitrite", 1},
		{"nitrate", "nitrat", 1},
		{"nitrate", "nitraet", 1}, // two neighbours swapped
		{"sulfate", "sulfite", 1},
		{"sulfate", "fulsate", 2},
		{"iodate", "periodate", 3},
		{"iron", "copper", 4}, // beyond the limit
	} {
		if got := min(nearest.Distance(c.a, c.b, 3), 4); got != c.want {
			t.Errorf("Distance(%s, %s) = %d, want %d", c.a, c.b, got, c.want)
		}
	}
}
