package drawing_test

import (
	"math"
	"strconv"
	"strings"
	"testing"

	"halves/drawing"
)

// luminance is that of WCAG 2.2, "relative luminance".
func luminance(t *testing.T, colour string) float64 {
	t.Helper()
	v, err := strconv.ParseUint(strings.TrimPrefix(colour, "#"), 16, 32)
	if err != nil || len(colour) != 7 {
		t.Fatalf("colour %q", colour)
	}
	part := func(shift int) float64 {
		c := float64(v>>shift&255) / 255
		if c <= 0.04045 {
			return c / 12.92
		}
		return math.Pow((c+0.055)/1.055, 2.4)
	}
	return 0.2126*part(16) + 0.7152*part(8) + 0.0722*part(0)
}

func contrast(t *testing.T, a, b string) float64 {
	x, y := luminance(t, a), luminance(t, b)
	return (max(x, y) + 0.05) / (min(x, y) + 0.05)
}

// TestContrast holds the themes to WCAG 2.2 AA: 4.5 for letters (1.4.3), 3 for
// lines that carry meaning (1.4.11).
func TestContrast(t *testing.T) {
	if got := contrast(t, "#000000", "#ffffff"); got != 21 { // WCAG 2.2, "contrast ratio"
		t.Fatalf("black on white: %v, want 21", got)
	}
	for name, theme := range map[string]drawing.Theme{"light": drawing.Light(), "dark": drawing.Dark(), "paper": drawing.Paper()} {
		for _, on := range []drawing.Role{drawing.Ground, drawing.FillA, drawing.FillB} {
			for _, role := range []drawing.Role{drawing.Ink, drawing.Quiet, drawing.AccentA, drawing.AccentB} {
				if c := contrast(t, theme[role], theme[on]); c < 4.5 {
					t.Errorf("%s: role %d on %d has the contrast %.2f", name, role, on, c)
				}
			}
		}
		if c := contrast(t, theme[drawing.Faint], theme[drawing.Ground]); c < 3 {
			t.Errorf("%s: faint lines have the contrast %.2f", name, c)
		}
	}
}

// TestStyle holds that the style sheet has the colours of each theme and touches
// nothing but pictures.
func TestStyle(t *testing.T) {
	style := drawing.Style()
	for name, theme := range map[string]drawing.Theme{"light": drawing.Light(), "dark": drawing.Dark(), "paper": drawing.Paper()} {
		for role := drawing.Ground; role <= drawing.Shade; role++ {
			if theme[role] == "" || !strings.Contains(style, ":"+theme[role]+";") {
				t.Errorf("%s: no colour of role %d: %q", name, role, theme[role])
			}
		}
	}
	for rule := range strings.SplitSeq(style, "}") {
		rule = strings.TrimSpace(rule)
		if i := strings.LastIndex(rule[:strings.LastIndex(rule, "{")+1], ".halves-picture"); rule != "" && i < 0 {
			t.Errorf("a rule beyond pictures: %s", rule)
		}
	}
	if strings.ContainsAny(style, "<&") {
		t.Error("the style sheet cannot stand in XML")
	}
}
