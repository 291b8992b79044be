package qti_test

import (
	"bytes"
	"fmt"
	"io"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"halves/chem"
	"halves/document"
	"halves/names"
	"halves/qti"
	"halves/speech"
)

// versions are the two editions with their writers.
var versions = []struct {
	name  string
	write func(io.Writer, qti.Set) error
}{
	{"2.2", qti.Write22},
	{"3.0", qti.Write30},
}

// formula reads a formula, with its spoken form.
func formula(text string) document.Span {
	readings, err := chem.ReadSpecies(text, nil)
	if err != nil {
		panic(err)
	}
	s := readings[0].Species
	return document.Span{Formula: s.Runs(), Spoken: speech.Species(s, names.Choice{})}
}

// equation reads an equation, with its spoken form.
func equation(text string) document.Span {
	readings, err := chem.ReadEquation(text, nil)
	if err != nil {
		panic(err)
	}
	e := readings.All[0].Equation
	return document.Span{Formula: e.Runs(chem.Style{}), Spoken: speech.Equation(e, names.Choice{})}
}

func prose(text string) document.Inline { return document.Inline{{Prose: text}} }

// gaps makes a line of gaps before formulas: "5 Fe^2+ + 1 MnO4^- -> ...".
func gaps(text string) []qti.Piece {
	var line []qti.Piece
	var before document.Inline
	words := strings.Fields(text)
	for i := 0; i < len(words); i++ {
		switch w := words[i]; w {
		case "+":
			before = append(before, document.Span{Prose: " + "})
		case "->":
			before = append(before, document.Span{Formula: []chem.Run{{Text: " -> "}}, Spoken: "gives"})
		default:
			i++
			f := formula(words[i])
			line = append(line, qti.Piece{Text: before, Gap: &qti.Gap{Answer: w, Label: "coefficient of " + f.Spoken}})
			before = document.Inline{{Prose: " "}, f}
		}
	}
	return append(line, qti.Piece{Text: before})
}

// week is a set of both kinds. The equation is from OpenStax, Chemistry 2e,
// "Occurrence, Preparation, and Properties of Transition Metals and Their
// Compounds", exercises; the states are counted by charge.
func week() qti.Set {
	return qti.Set{
		ID: "week-4", Title: "Half-reactions & <ions>", Language: "en-GB",
		Items: []qti.Item{{
			ID: "state of Mn", Title: "An oxidation state", Worth: 1,
			Stem: []document.Inline{{
				{Prose: "What is the oxidation state of manganese in "}, formula("MnO4^-"), {Prose: "?"},
			}},
			Choices: []qti.Choice{
				{Text: document.Inline{{Prose: "+7", Spoken: "plus 7"}}, Right: true},
				{Text: document.Inline{{Prose: "+8", Spoken: "plus 8"}}, Feedback: prose("The charge of the ion was left out.")},
				{Text: document.Inline{{Prose: "−1", Spoken: "minus 1"}}, Feedback: prose("That is the charge of the ion.")},
			},
			Feedback: document.Inline{{Prose: "7 + 4 × (−2) = −1, as it must.", Spoken: "7 plus 4 times minus 2 equals minus 1, as it must."}},
		}, {
			ID: "iron", Worth: 2,
			Stem: []document.Inline{prose("Balance the equation in acid."), prose("Whole numbers, as small as they can be.")},
			Line: gaps("1 MnO4^- + 8 H^+ + 5 Fe^2+ -> 1 Mn^2+ + 4 H2O + 5 Fe^3+"),
			Feedback: document.Inline{
				{Prose: "Five electrons: "}, equation("MnO4^- + 8 H^+ + 5 e^- -> Mn^2+ + 4 H2O"),
			},
		}, {
			ID: "hydrate", Worth: 1,
			Stem:    []document.Inline{{{Prose: "Which salt has water in it?"}}},
			Choices: []qti.Choice{{Text: document.Inline{formula("CuSO4.5H2O")}, Right: true}, {Text: document.Inline{formula("CuSO4")}}},
		}},
	}
}

// manyWeeks is a set of n items.
func manyWeeks(n int) qti.Set {
	s := week()
	items := s.Items
	s.Items = nil
	for i := range n {
		it := items[i%len(items)]
		it.ID = fmt.Sprintf("q%d", i+1)
		s.Items = append(s.Items, it)
	}
	return s
}

// anySet is any set that can be written, however odd its texts.
var anySet = rapid.Custom(func(t *rapid.T) qti.Set {
	formulas := []document.Span{
		formula("MnO4^-"), formula("Fe^3+"), formula("CuSO4.5H2O"), formula("K3[Fe(CN)6]"), formula("e^-"),
		equation("MnO4^- + 8 H^+ + 5 e^- -> Mn^2+ + 4 H2O"),
		{Formula: []chem.Run{{Text: "4 "}, {Text: "x", Level: chem.Variable}, {Text: " - 8 = -1"}}, Spoken: "4 x minus 8 equals minus 1"},
	}
	text := rapid.OneOf(rapid.String(), rapid.StringOf(rapid.RuneFrom([]rune("a1 <>&\"']-\x00\x1f\x7f\u0085\u202e\ufffe\t\r\n−⟶é漢😀"))),
		rapid.Map(rapid.SliceOf(rapid.Byte()), func(b []byte) string { return string(b) }))
	span := rapid.Custom(func(t *rapid.T) document.Span {
		switch rapid.IntRange(0, 2).Draw(t, "span") {
		case 0:
			return rapid.SampledFrom(formulas).Draw(t, "formula")
		case 1:
			return document.Span{Prose: text.Draw(t, "prose"), Spoken: text.Draw(t, "spoken")}
		}
		return document.Span{Prose: text.Draw(t, "prose")}
	})
	inline := rapid.Map(rapid.SliceOfN(span, 0, 4), func(s []document.Span) document.Inline { return s })
	// told begins with a word of its own, so that it is neither empty nor that of
	// another.
	told := func(word string) document.Inline {
		return append(document.Inline{{Prose: word + " "}}, inline.Draw(t, "text")...)
	}
	s := qti.Set{
		ID: "set" + text.Draw(t, "id"), Title: text.Draw(t, "title"),
		Language: rapid.SampledFrom([]string{"", "en", "en-GB", "EN-us", "de", "zh-Hant-TW"}).Draw(t, "language"),
	}
	for i := range rapid.IntRange(1, 4).Draw(t, "items") {
		it := qti.Item{
			ID: fmt.Sprint(i, text.Draw(t, "id")), Title: text.Draw(t, "title"),
			Stem: []document.Inline{told("stem"), inline.Draw(t, "text")}, Feedback: inline.Draw(t, "feedback"),
			Worth: rapid.IntRange(1, 12).Draw(t, "worth"),
		}
		n := rapid.IntRange(2, 9).Draw(t, "answers")
		if rapid.Bool().Draw(t, "choices") {
			right := rapid.IntRange(0, n-1).Draw(t, "right")
			for k := range n {
				it.Choices = append(it.Choices, qti.Choice{Text: told(fmt.Sprint("c", k)), Right: k == right, Feedback: inline.Draw(t, "feedback")})
			}
		} else {
			for range n - 1 {
				answer := fmt.Sprint(rapid.IntRange(1, 5000).Draw(t, "answer"))
				it.Line = append(it.Line, qti.Piece{Text: inline.Draw(t, "text"), Gap: &qti.Gap{Answer: answer, Label: text.Draw(t, "label")}})
			}
			it.Line = append(it.Line, qti.Piece{Text: inline.Draw(t, "text")})
		}
		s.Items = append(s.Items, it)
	}
	return s
})

// written returns the package of a set as bytes.
func written(t testing.TB, write func(io.Writer, qti.Set) error, s qti.Set) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := write(&b, s); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}
