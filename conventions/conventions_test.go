package conventions_test

import (
	"errors"
	"fmt"
	"os"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"halves/conventions"
	"halves/names"
	"halves/redox"
)

// anyConventions draws a value of each convention.
var anyConventions = rapid.Custom(func(t *rapid.T) redox.Conventions {
	var v redox.Conventions
	for _, c := range conventions.All() {
		if err := c.Set(&v, rapid.SampledFrom(c.Words).Draw(t, c.Name)); err != nil {
			t.Fatal(err)
		}
	}
	return v
})

// What is written is read as the same conventions.
func TestRoundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		v := anyConventions.Draw(t, "conventions")
		got, err := conventions.Read(conventions.Write(v))
		if err != nil || got != v {
			t.Fatalf("Read(Write(%+v)) = %+v, %v", v, got, err)
		}
	})
}

// Every convention changes its own field and nothing else, and the default has
// the first word of each.
func TestEveryConvention(t *testing.T) {
	seen := map[redox.Conventions]string{}
	for _, c := range conventions.All() {
		var v redox.Conventions
		if got := c.Get(&v); got != c.Words[0] {
			t.Errorf("%s is %q by default, want its first word %q", c.Name, got, c.Words[0])
		}
		for _, w := range c.Words[1:] {
			v = redox.Conventions{}
			if err := c.Set(&v, w); err != nil || c.Get(&v) != w {
				t.Errorf("%s set to %q is %q, %v", c.Name, w, c.Get(&v), err)
			}
			if other := seen[v]; other != "" || v == (redox.Conventions{}) {
				t.Errorf("%s: %s gives %+v, as %s does", c.Name, w, v, other)
			}
			seen[v] = c.Name
		}
	}
}

func TestRead(t *testing.T) {
	for _, c := range []struct {
		name, text string
		want       redox.Conventions
	}{
		{"empty", "", redox.Conventions{}},
		{"comment alone", "# General Chemistry II\n", redox.Conventions{}},
		{"one", "hydronium: true\n", redox.Conventions{Hydronium: true}},
		{"no newline at the end", "roman: true", redox.Conventions{Roman: true}},
		{"several", "by: states # as in the book\nnames: stock\nsulph: yes\n", redox.Conventions{By: redox.ByStates, Names: names.Choice{Style: names.Stock, Sulph: true}}},
		{"capitals, quotes, Windows", "by: \"Equations\"\r\nbase-in-halves: True\r\n", redox.Conventions{By: redox.ByEquations, BaseInHalves: true}},
		{"byte order mark", "\ufeffones: true\n", redox.Conventions{Ones: true}},
		{"off", "ones: no\nequals: off\n", redox.Conventions{}},
	} {
		got, err := conventions.Read([]byte(c.text))
		if err != nil || got != c.want {
			t.Errorf("%s: Read(%q) = %+v, %v, want %+v", c.name, c.text, got, err, c.want)
		}
	}
}

// The text between the marks is where the error must point.
func TestReadErrors(t *testing.T) {
	for _, c := range []struct{ name, text, msg, hint string }{
		{"unknown", "by: halves\n«hydronum»: true", `there is no convention "hydronum"`, "did you mean hydronium?"},
		{"unknown, nothing near", "«colour»: true", `there is no convention "colour"`, "the conventions are: by, hydronium"},
		{"underscore", "«base_in_halves»: true", `there is no convention "base_in_halves"`, "did you mean base-in-halves?"},
		{"wrong word", "names: «stok»", `names cannot be "stok"`, "did you mean stock?"},
		{"wrong kind", "roman: «II»", `roman cannot be "II"`, "it is one of: false, true"},
		{"number", "ones: «1»", "ones has one word as its value", "it is one of: false, true"},
		{"twice", "ones: true\n«ones»: false", "", ""},
		{"no value", "«ones»:", "ones has no value", "its values are: false, true"},
		{"list", "- ones", "this is not a convention with its value", "one convention a line"},
		{"sentence", "we write H3O^+", "this is not a convention with its value", "one convention a line"},
		{"two documents", "ones: true\n---\nones: true", "a second document begins here", ""},
		{"bad YAML", "ones: [", "", "one convention a line"},
		{"not text", "\xff\xfe", "this is not text", "one convention a line"},
		{"too long", strings.Repeat("# a comment\n", 8000), "a file of conventions may have 65536 bytes", ""},
	} {
		before, rest, marked := strings.Cut(c.text, "«")
		_, err := conventions.Read([]byte(before + strings.ReplaceAll(rest, "»", "")))
		var e *conventions.FileError
		if !errors.As(err, &e) {
			t.Errorf("%s: Read = %v, want a *FileError", c.name, err)
			continue
		}
		line := strings.Count(before, "\n") + 1
		column := len(before) - strings.LastIndex(before, "\n")
		if marked && (e.Line != line || e.Column != column) {
			t.Errorf("%s: the error is at line %d, column %d, want %d and %d: %v", c.name, e.Line, e.Column, line, column, e)
		}
		if !strings.Contains(e.Msg, c.msg) || !strings.Contains(e.Hint, c.hint) {
			t.Errorf("%s: Read = %q, hint %q; want %q, %q", c.name, e.Msg, e.Hint, c.msg, c.hint)
		}
	}
}

// FuzzRead: any text is conventions or a *FileError in the text, and what is
// read is written and read as the same.
func FuzzRead(f *testing.F) {
	f.Add("by: halves\nnames: stock\n")
	f.Add("- a\n- b")
	f.Add("{ones: true, by: states}")
	f.Add("? ones\n: true")
	f.Add("&a ones: *a")
	f.Fuzz(func(t *testing.T, text string) {
		v, err := conventions.Read([]byte(text))
		if err == nil {
			if again, err := conventions.Read(conventions.Write(v)); err != nil || again != v {
				t.Fatalf("%q reads as %+v, written and read again as %+v, %v", text, v, again, err)
			}
			return
		}
		var e *conventions.FileError
		if !errors.As(err, &e) || e.Msg == "" || e.Line < 0 || e.Line > strings.Count(text, "\n")+strings.Count(text, "\r")+1 {
			t.Fatalf("%q: %v", text, err)
		}
	})
}

func ExampleRead() {
	v, err := conventions.Read([]byte("by: states\nnames: stock\n"))
	fmt.Println(v.By, v.Names.Style, err)
	_, err = conventions.Read([]byte("hydronum: true\n"))
	fmt.Println(err)
	// Output:
	// states stock <nil>
	// line 1, column 1: there is no convention "hydronum"
}

// The file that the manual shows is what is written for the default.
func TestExampleFile(t *testing.T) {
	text, err := os.ReadFile("testdata/class.yaml")
	if err != nil {
		t.Fatal(err)
	}
	if got := string(conventions.Write(redox.Conventions{})); got != string(text) {
		t.Errorf("Write of the default is\n%s\nwant testdata/class.yaml", got)
	}
}
