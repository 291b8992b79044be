package pdf

import (
	"testing"
	"unicode/utf8"

	"pgregory.net/rapid"
)

// TestLetters holds that the faces have what formulas and pages of this course
// need; ✗ is in none of them.
func TestLetters(t *testing.T) {
	for _, tt := range []struct {
		text string
		face face
	}{
		{"AZaz09.,;:()[]{}+=/", regular}, {"−×±·°½€‰…–—‘’“”", regular}, {"ÀÉñöŁžșĳ", bold}, {"αβΔμΩ", italic}, {"ЖщЁ", regular}, {"ếỹ", regular},
		{"⁰¹²³⁴⁵⁶⁷⁸⁹⁺⁻₀₁₂₃₄₅₆₇₈₉₊₋", regular}, {"⟶→⇌≠≈≤≥✓☐∣⦵\ufffd", signs},
	} {
		for _, r := range tt.text {
			if f, ok := faceOf(r, tt.face); !ok || f != tt.face {
				t.Errorf("faceOf(%q) = face %d, %t, want face %d", r, f, ok, tt.face)
			}
		}
	}
	for _, want := range []face{regular, bold, italic} {
		if f, ok := faceOf('⟶', want); !ok || f != signs {
			t.Errorf("faceOf(⟶, face %d) = face %d, %t, want the signs", want, f, ok)
		}
	}
	if _, ok := faceOf('✗', regular); ok {
		t.Error("a face has ✗ now: no other sign is needed for it")
	}
}

// TestAdvances holds widths that were read from the source (fontTools, table hmtx
// of STIX Two Text 2.13 b171).
func TestAdvances(t *testing.T) {
	for _, tt := range []struct {
		face face
		r    rune
		want int
	}{{regular, '0', 495}, {regular, ' ', 235}, {regular, '+', 720}, {bold, '+', 752}, {bold, '7', 493}, {italic, ' ', 225}, {signs, '⟶', 1612}, {signs, '→', 948}} {
		if got, ok := fonts()[tt.face].advance(tt.r); !ok || got != tt.want {
			t.Errorf("advance(%q) = %d, %t, want %d", tt.r, got, ok, tt.want)
		}
	}
	if k := fonts()[regular].kern('A', 'V'); k >= -leastKern {
		t.Errorf("kern(A, V) = %d, want less than %d", k, -leastKern)
	}
	if k := fonts()[regular].kern('n', 'n'); k != 0 {
		t.Errorf("kern(n, n) = %d, want 0", k)
	}
	if got, want := fonts()[regular].width("AV"), float64(fonts()[regular].kern('A', 'V')+722+705)/1000; got >= 0.722+0.705 && got != want {
		t.Errorf("width(AV) = %g, which leaves out the kerning", got)
	}
}

func TestDamagedFont(t *testing.T) {
	for _, n := range []int{0, 3, 100, len(textRegular) / 2} {
		if _, err := readFont(textRegular[:n]); err == nil {
			t.Errorf("readFont(the first %d bytes) gives no error", n)
		}
	}
}

func TestReadable(t *testing.T) {
	for _, tt := range []struct{ text, want string }{
		{"plain text, 1.5 −2 é", "plain text, 1.5 −2 é"},
		{"✗ ✔ ⩽", "× ✓ ≤"},
		{"n\u0303 e\u0301 E\u0301 A\u030a", "ñ é É Å"}, // Unicode, canonical composition
		{"e\u0301\u0301", "é[U+0301]"},
		{"q\u0301", "q[U+0301]"},
		{"a\tb\nc\u2003d\u202fe", "a b c d\u00a0e"},
		{"so\u00adft zero\u200bwidth \ufefftext", "soft zerowidth text"},
		{"\x00\u202e\xff", "\ufffd\ufffd\ufffd"},
		{"中 🧪", "[U+4E2D] [U+1F9EA]"},
		{"ＡＢ ﬁ ﬄ", "AB fi ffl"},
	} {
		if got := readable(tt.text); got != tt.want {
			t.Errorf("readable(%q) = %q, want %q", tt.text, got, tt.want)
		}
	}
}

// TestReadableAlways holds that every letter of a result is in a face.
func TestReadableAlways(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := rapid.String().Draw(t, "text")
		got := readable(s)
		if !utf8.ValidString(got) {
			t.Fatalf("readable(%q) = %q, which is not UTF-8", s, got)
		}
		for _, r := range got {
			if _, ok := faceOf(r, regular); !ok {
				t.Fatalf("readable(%q) = %q: no face has %q", s, got, r)
			}
		}
	})
}
