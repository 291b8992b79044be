package pdf

import (
	"bytes"
	"math"
	"testing"

	"pgregory.net/rapid"

	"halves/balance"
	"halves/chem"
	"halves/diagram"
	"halves/document"
	"halves/drawing"
)

// Documents that are made at random, hostile ones among them.

func anyText(t *rapid.T) string {
	return rapid.OneOf(
		rapid.StringMatching(`([a-zA-Z,.\-]{1,12} ){0,30}`),
		rapid.StringMatching(`[a-zA-Z]{1,400}`),
		rapid.StringN(0, 40, -1),
		rapid.SampledFrom([]string{"", " ", "\u00a0", "____", "a\u00a0b", "⟶", "\x00", "中文", "half-reactions/sheets"}),
	).Draw(t, "text")
}

func anyRuns(t *rapid.T) []chem.Run {
	if rapid.Bool().Draw(t, "nil runs") {
		return nil
	}
	signs := []chem.Run{{Text: " + "}, {Text: " -> "}, {Text: " = "}, {Text: " - "}, {Text: "->"}, {Text: ", "}, document.Blank}
	one := rapid.Custom(func(t *rapid.T) chem.Run {
		if rapid.IntRange(0, 3).Draw(t, "sign") == 0 {
			return rapid.SampledFrom(signs).Draw(t, "which")
		}
		text := rapid.OneOf(rapid.StringMatching(`[A-Z][a-z]?`), rapid.StringMatching(`[0-9]{1,3} ?`), rapid.StringMatching(`[A-Za-z0-9.+\-]{0,60}`), rapid.StringN(0, 5, -1)).Draw(t, "text")
		return chem.Run{Text: text, Level: chem.Level(rapid.IntRange(0, 4).Draw(t, "level"))}
	})
	return rapid.SliceOfN(one, 0, 40).Draw(t, "runs")
}

func anyInline(t *rapid.T) document.Inline {
	one := rapid.Custom(func(t *rapid.T) document.Span {
		s := document.Span{Formula: anyRuns(t)}
		if s.Formula == nil {
			s.Prose = anyText(t)
		}
		if rapid.Bool().Draw(t, "said") {
			s.Spoken = anyText(t)
		}
		return s
	})
	return rapid.SliceOfN(one, 0, 4).Draw(t, "inline")
}

func anyTable(t *rapid.T) document.Table {
	row := rapid.Custom(func(t *rapid.T) []document.Inline {
		return rapid.SliceOfN(rapid.Custom(anyInline), 0, 6).Draw(t, "row")
	})
	return document.Table{
		Caption: anyText(t), Head: row.Draw(t, "head"), Spare: rapid.IntRange(-1, 4).Draw(t, "spare"),
		Right: rapid.SliceOfN(rapid.Bool(), 0, 6).Draw(t, "right"), Rows: rapid.SliceOfN(row, 0, 6).Draw(t, "rows"),
	}
}

func anyPicture(t *rapid.T) *drawing.Picture {
	number := rapid.OneOf(rapid.Float64Range(-200, 700), rapid.SampledFrom([]float64{0, math.NaN(), math.Inf(1), 1e9, -3}))
	if rapid.IntRange(0, 3).Draw(t, "tame") > 0 {
		number = rapid.Float64Range(0, 500)
	}
	point := rapid.Custom(func(t *rapid.T) drawing.Point {
		return drawing.Point{X: number.Draw(t, "x"), Y: number.Draw(t, "y")}
	})
	role := func() drawing.Role { return drawing.Role(rapid.IntRange(0, 12).Draw(t, "role")) }
	stroke := func() drawing.Stroke {
		return drawing.Stroke{Role: role(), Width: number.Draw(t, "width") / 100, Dash: drawing.Dash(rapid.IntRange(0, 4).Draw(t, "dash"))}
	}
	fill := func() drawing.Fill { return drawing.Fill{Role: role(), Hatch: role()} }
	p := &drawing.Picture{Width: number.Draw(t, "width"), Height: number.Draw(t, "height")}
	for range rapid.IntRange(0, 8).Draw(t, "shapes") {
		switch rapid.IntRange(0, 5).Draw(t, "shape") {
		case 0:
			p.Add(drawing.Line{From: point.Draw(t, "from"), To: point.Draw(t, "to"), Stroke: stroke()})
		case 1:
			p.Add(drawing.Polyline{Points: rapid.SliceOfN(point, 0, 5).Draw(t, "points"), Stroke: stroke()})
		case 2:
			p.Add(drawing.Polygon{Points: rapid.SliceOfN(point, 0, 5).Draw(t, "points"), Fill: fill(), Stroke: stroke()})
		case 3:
			p.Add(drawing.Rectangle{Box: drawing.Box{Min: point.Draw(t, "min"), Max: point.Draw(t, "max")}, Fill: fill(), Stroke: stroke()})
		case 4:
			p.Add(drawing.Circle{Centre: point.Draw(t, "centre"), Radius: number.Draw(t, "radius"), Fill: fill(), Stroke: stroke()})
		default:
			p.Add(drawing.Text{At: point.Draw(t, "at"), Runs: anyRuns(t), Size: number.Draw(t, "size") / 20, Anchor: drawing.Anchor(rapid.IntRange(0, 4).Draw(t, "anchor")), Turn: number.Draw(t, "turn"), Role: role(), Bold: rapid.Bool().Draw(t, "bold"), Halo: role()})
		}
	}
	return p
}

func anyBlock(t *rapid.T) document.Block {
	switch rapid.IntRange(0, 16).Draw(t, "block") {
	case 0:
		return document.Heading{Level: rapid.IntRange(-1, 9).Draw(t, "level"), Text: anyInline(t), Keep: rapid.Bool().Draw(t, "keep")}
	case 1:
		return document.Note{Text: anyInline(t)}
	case 2:
		return document.List{Items: rapid.SliceOfN(rapid.Custom(anyInline), 0, 4).Draw(t, "items")}
	case 3:
		return anyTable(t)
	case 4:
		return document.Figure{Drawn: diagram.Drawn{Picture: anyPicture(t), Title: anyText(t), Description: anyText(t)}}
	case 5:
		return document.Figure{}
	case 6:
		return document.Exercise{Number: rapid.Int().Draw(t, "number"), Marks: anyText(t), Text: anyInline(t)}
	case 7:
		one := rapid.Custom(func(t *rapid.T) document.Choice {
			return document.Choice{Text: anyInline(t), Right: rapid.IntRange(0, 3).Draw(t, "right") == 0, Note: anyInline(t)}
		})
		return document.Choices{Items: rapid.SliceOfN(one, 0, 30).Draw(t, "choices")}
	case 8:
		return document.Space{Label: anyInline(t), Lines: rapid.IntRange(-1, 60).Draw(t, "lines")}
	case 9:
		return document.Fields{Labels: rapid.SliceOfN(rapid.Custom(anyText), 0, 5).Draw(t, "labels")}
	case 10:
		return document.Break{}
	case 11:
		return document.Paragraph{Text: anyInline(t)}
	case 12:
		return document.Slide{Title: anyInline(t)}
	default:
		e := document.Equation{Label: anyInline(t), Line: anyRuns(t), Reason: anyInline(t), Spoken: anyText(t), Final: rapid.IntRange(0, 4).Draw(t, "final") == 0, Fresh: rapid.Bool().Draw(t, "fresh")}
		for range rapid.IntRange(0, 8).Draw(t, "ledger") {
			e.Ledger = append(e.Ledger, balance.Entry{Law: balance.Law{Element: chem.Element(rapid.IntRange(0, 118).Draw(t, "element"))}, Left: chem.Whole(rapid.Int64Range(-1e15, 1e15).Draw(t, "left")), Right: chem.Whole(rapid.Int64Range(-1e15, 1e15).Draw(t, "right"))})
		}
		return e
	}
}

func anyDocument(t *rapid.T) *document.Document {
	d := &document.Document{
		Title: anyInline(t), Language: rapid.SampledFrom([]string{"", "en", "de", "(\\"}).Draw(t, "language"),
		Running: document.Running{Left: anyText(t), Right: anyText(t), Foot: anyText(t)},
		Blocks:  rapid.SliceOfN(rapid.Custom(anyBlock), 0, 12).Draw(t, "blocks"),
	}
	if rapid.IntRange(0, 3).Draw(t, "deck") == 0 {
		d.Blocks = append([]document.Block{document.Slide{Title: anyInline(t)}}, d.Blocks...)
	}
	return d
}

// TestAnything holds that no document panics or fails, and that nothing is drawn
// outside the margins, over another text, or in letters that a font lacks.
func TestAnything(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		docs := rapid.SliceOfN(rapid.Custom(anyDocument), 1, 3).Draw(rt, "documents")
		o := Options{Paper: Paper(rapid.IntRange(0, 1).Draw(rt, "paper")), BothSides: rapid.Bool().Draw(rt, "both sides"), Title: anyText(rt)}
		var a, b bytes.Buffer
		all, w := marksIn(t, &a, o, docs...)
		for _, f := range faults(all, w) {
			rt.Error(f)
		}
		if err := Write(&b, o, docs...); err != nil || !bytes.Equal(a.Bytes(), b.Bytes()) {
			rt.Fatalf("two runs differ, or %v", err)
		}
	})
}

// TestAnythingValid holds that qpdf reads some of them.
func TestAnythingValid(t *testing.T) {
	for seed := range 12 {
		d := rapid.Custom(anyDocument).Example(seed)
		run(t, "qpdf", "qpdf", "--check", fileOf(t, Options{}, d, d))
	}
}
