package drawing_test

import (
	"bytes"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"math"
	"os"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"halves/chem"
	"halves/drawing"
)

func write(t testing.TB, p *drawing.Picture, o drawing.Options) string {
	t.Helper()
	var b bytes.Buffer
	if err := drawing.SVG(&b, p, o); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

func permanganate(t testing.TB) []chem.Run {
	t.Helper()
	r, err := chem.ReadSpecies("MnO4^-", nil)
	if err != nil {
		t.Fatal(err)
	}
	return drawing.Signs(r[0].Species.Runs())
}

func ExampleSVG() {
	p := &drawing.Picture{Width: 80, Height: 40, Title: "An ion", Description: "The formula of an ion."}
	p.Add(drawing.Line{From: drawing.Point{X: 10, Y: 30}, To: drawing.Point{X: 70, Y: 30}, Stroke: drawing.Stroke{Role: drawing.Ink, Width: 1, Dash: drawing.Dashed}})
	p.Add(drawing.Text{At: drawing.Point{X: 40, Y: 20}, Size: 10, Anchor: drawing.Middle, Role: drawing.Ink,
		Runs: []chem.Run{{Text: "SO"}, {Text: "4", Level: chem.Subscript}, {Text: "2−", Level: chem.Superscript}}})
	if err := drawing.SVG(os.Stdout, p, drawing.Options{Prefix: "ion", Bare: true}); err != nil {
		fmt.Println(err)
	}
	// Output:
	// <svg xmlns="http://www.w3.org/2000/svg" class="halves-picture" role="img" aria-labelledby="ion-title" aria-describedby="ion-desc" width="80" height="40" viewBox="0 0 80 40" font-family='Arial,Helvetica,"Liberation Sans","DejaVu Sans",sans-serif'>
	// <title id="ion-title">An ion</title>
	// <desc id="ion-desc">The formula of an ion.</desc>
	// <rect x="0" y="0" width="80" height="40" class="f-ground" fill="#fdfcf9"/>
	// <line x1="10" y1="30" x2="70" y2="30" class="s-ink" fill="none" stroke="#1c1c1a" stroke-width="1" stroke-dasharray="8 5"/>
	// <text x="40" y="20" font-size="10" text-anchor="middle" class="f-ink" fill="#1c1c1a">SO<tspan dy="2.2" font-size="7.2">4</tspan><tspan dy="-6" font-size="7.2">2−</tspan></text>
	// </svg>
}

// TestShapes names what each shape must have in the output.
func TestShapes(t *testing.T) {
	at := drawing.Point{X: 10, Y: 12.345}
	stroke := drawing.Stroke{Role: drawing.AccentB, Width: 1.5}
	box := drawing.Box{Min: at, Max: drawing.Point{X: 20, Y: 30}}
	tests := []struct {
		name  string
		shape drawing.Shape
		want  []string
	}{
		{"polyline", drawing.Polyline{Points: []drawing.Point{at, box.Max}, Stroke: stroke}, []string{`<polyline points="10,12.35 20,30"`, `class="s-accent-b"`, `fill="none"`}},
		{"polygon", drawing.Polygon{Points: []drawing.Point{at, box.Max, at}, Fill: drawing.Fill{Role: drawing.FillA}}, []string{`<polygon`, `class="f-fill-a"`}},
		{"hatching", drawing.Rectangle{Box: box, Fill: drawing.Fill{Role: drawing.FillB, Hatch: drawing.Shade}, Stroke: stroke},
			[]string{`<pattern id="x-hatch-shade"`, `fill="url(#x-hatch-shade)" class="s-accent-b"`, `class="s-shade"`, `class="f-fill-b"`}},
		{"circle", drawing.Circle{Centre: at, Radius: 3, Fill: drawing.Fill{Role: drawing.Ink}, Stroke: stroke}, []string{`<circle cx="10" cy="12.35" r="3" class="f-ink s-accent-b"`}},
		{"turned", drawing.Text{At: at, Runs: drawing.Plain("a<b"), Size: 9, Turn: -90, Bold: true, Halo: drawing.Ground, Role: drawing.Ink},
			[]string{`transform="rotate(-90 10 12.35)"`, `font-weight="700"`, `paint-order="stroke"`, ">a&lt;b</text>"}},
		{"back to the line", drawing.Text{At: at, Runs: append(permanganate(t), chem.Run{Text: " x"}), Size: 10}, []string{`MnO<tspan dy="2.2" font-size="7.2">4</tspan><tspan dy="-6" font-size="7.2">−</tspan><tspan dy="3.8"> x</tspan>`}},
		{"slanted", drawing.Text{At: at, Runs: []chem.Run{{Text: "n", Level: chem.Variable}}, Size: 10}, []string{`<tspan font-style="italic">n</tspan>`}},
		{"minus zero", drawing.Line{From: drawing.Point{X: math.Copysign(0, -1), Y: -0.001}}, []string{`x1="0" y1="0"`}},
	}
	for _, tt := range tests {
		p := &drawing.Picture{Width: 50, Height: 50}
		p.Add(tt.shape)
		got := write(t, p, drawing.Options{Prefix: "x", Bare: true})
		for _, want := range tt.want {
			if !strings.Contains(got, want) {
				t.Errorf("%s: no %s in\n%s", tt.name, want, got)
			}
		}
		if strings.Contains(got, "baseline-shift") || strings.Contains(got, "<style") {
			t.Errorf("%s: %s", tt.name, got)
		}
	}
}

func TestRefusals(t *testing.T) {
	for _, prefix := range []string{"1a", "-a", "a b", `a"`, "ä"} {
		if err := drawing.SVG(io.Discard, &drawing.Picture{}, drawing.Options{Prefix: prefix}); err == nil || !strings.Contains(err.Error(), "prefix") {
			t.Errorf("prefix %q: %v", prefix, err)
		}
	}
	for _, x := range []float64{math.NaN(), math.Inf(1), 1e300} {
		p := &drawing.Picture{Width: 1, Height: 1}
		p.Add(drawing.Circle{Centre: drawing.Point{X: x}})
		var b bytes.Buffer
		if err := drawing.SVG(&b, p, drawing.Options{}); err == nil || b.Len() > 0 {
			t.Errorf("%v: error %v, %d bytes written", x, err, b.Len())
		}
	}
	want := errors.New("full")
	if err := drawing.SVG(failing{want}, &drawing.Picture{}, drawing.Options{}); err != want {
		t.Errorf("writer's error: %v", err)
	}
}

type failing struct{ err error }

func (f failing) Write([]byte) (int, error) { return 0, f.err }

// TestAnyText holds that whatever text a picture has, the output is XML and has
// the text.
func TestAnyText(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		text := rapid.String().Draw(r, "text")
		p := &drawing.Picture{Width: 9, Height: 9, Title: text, Description: string(rapid.SliceOf(rapid.Byte()).Draw(r, "bytes"))}
		p.Add(drawing.Text{Runs: []chem.Run{{Text: text, Level: chem.Level(rapid.IntRange(0, 5).Draw(r, "level"))}}, Size: 10, Role: drawing.Role(rapid.Byte().Draw(r, "role")), Anchor: drawing.Anchor(rapid.Byte().Draw(r, "anchor"))})
		p.Add(drawing.Circle{Fill: drawing.Fill{Role: drawing.Ink, Hatch: drawing.Role(rapid.Byte().Draw(r, "hatch"))}, Stroke: drawing.Stroke{Role: drawing.Ink, Width: 1, Dash: drawing.Dash(rapid.Byte().Draw(r, "dash"))}})
		out := write(t, p, drawing.Options{})
		title, in := "", false
		for d := xml.NewDecoder(strings.NewReader(out)); ; {
			tok, err := d.Token()
			if err == io.EOF {
				break
			}
			if err != nil {
				r.Fatalf("%v in\n%s", err, out)
			}
			switch v := tok.(type) {
			case xml.StartElement:
				in = v.Name.Local == "title"
			case xml.EndElement:
				in = false
			case xml.CharData:
				if in {
					title += string(v)
				}
			}
		}
		want := strings.Map(func(c rune) rune {
			if c < ' ' && c != '\t' && c != '\n' || c == 0xfffe || c == 0xffff {
				return 0xfffd
			}
			return c
		}, text)
		if title != want {
			r.Fatalf("title %q, want %q", title, want)
		}
		p.Shapes[0].(drawing.Text).Box()
	})
}

func BenchmarkSVG(b *testing.B) {
	p := &drawing.Picture{Width: 500, Height: 500}
	for i := range 100 {
		at := drawing.Point{X: float64(i), Y: 5 * float64(i)}
		p.Add(drawing.Circle{Centre: at, Radius: 3, Fill: drawing.Fill{Role: drawing.Ink}}, drawing.Text{At: at, Runs: permanganate(b), Size: 16, Role: drawing.Ink})
	}
	b.ReportAllocs()
	for b.Loop() {
		if err := drawing.SVG(io.Discard, p, drawing.Options{}); err != nil {
			b.Fatal(err)
		}
	}
}
