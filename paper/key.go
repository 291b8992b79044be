package paper

import (
	"fmt"
	"slices"
	"strings"

	"halves/document"
	"halves/marking"
	"halves/question"
	"halves/redox"
)

// Key lays out the answers of a version: each with its full working and the marks
// of its lines.
func Key(s *question.Set, v *question.Version, o Options) (*document.Document, error) {
	title := "Key: " + s.Wish.Title
	if len(s.Versions) > 1 {
		title += ", version " + v.Letter
	}
	d := newDocument(s, v, title)
	if o.Student != "" {
		add(d, document.Paragraph{Text: document.Plain("For " + o.Student)})
	}
	add(d, document.Paragraph{Text: sentence("%s, %s in all. The check code stands on the paper too: %s.", sentenceCase(count(len(v.Items), "question")), marks(v.Worth()), v.Code)})
	for i := range v.Items {
		x := &v.Items[i]
		text, blocks := prompt(x, o.Conventions)
		add(d, document.Exercise{Number: x.Number, Marks: marks(x.Worth), Text: text})
		for _, b := range blocks {
			if _, ok := b.(document.Choices); !ok {
				add(d, b)
			}
		}
		answer, err := answerOf(x, o.Conventions)
		if err != nil {
			return nil, err
		}
		add(d, answer...)
		add(d, about(x))
	}
	add(d, paperLine())
	return d, nil
}

// about says what kind of question it is, for the instructor.
func about(x *question.Item) document.Note {
	q := x.Question
	text := "Difficulty " + q.Difficulty.String()
	if w := q.Features.Words(); len(w) > 0 {
		text += ": " + join(w)
	}
	text += "."
	if q.Source != "" {
		text += " Source: " + strings.TrimSuffix(q.Source, ".") + "."
	}
	return document.Note{Text: document.Plain(text)}
}

// answerOf is what is right, with the working.
func answerOf(x *question.Item, c redox.Conventions) ([]document.Block, error) {
	s, err := x.Question.Work(c)
	if err != nil {
		return nil, err
	}
	var out []document.Block
	if x.Options != nil {
		out = append(out, choices(x, c, true))
	}
	switch x.Ask {
	case question.Balance, question.Complete:
		if x.Options != nil {
			return out, nil
		}
		return append(out, marked(s, x)...), nil
	case question.Split:
		for _, h := range s.Halves {
			line := document.Line(h.Equation, c)
			line.Label = document.Plain(string(h.Role))
			out = append(out, line)
		}
	case question.Agents:
		if x.Options != nil {
			break
		}
		for _, r := range []struct {
			what string
			x    document.Inline
		}{
			{"oxidized, and so the reducing agent: ", speciesList(s.Oxidized, c)},
			{"reduced, and so the oxidizing agent: ", speciesList(s.Reduced, c)},
		} {
			out = append(out, document.Paragraph{Text: document.Join(document.Plain(sentenceCase(r.what)), r.x)})
		}
	case question.States:
		t := document.Table{Caption: "The states that change", Head: []document.Inline{document.Plain("element"), document.Plain("before"), document.Plain("in"), document.Plain("after"), document.Plain("in")}, Right: []bool{false, true, false, true, false}}
		for _, k := range s.Changes {
			t.Rows = append(t.Rows, []document.Inline{document.Plain(k.Element.Symbol()), document.Prose(c.State(k.From), c), speciesList(k.Reactants, c), document.Prose(c.State(k.To), c), speciesList(k.Products, c)})
		}
		out = append(out, t)
	case question.FindError:
		out = append(out, slip(x, s, c)...)
	case question.Electrons:
		if x.Options == nil {
			out = append(out, document.Paragraph{Text: sentence("%s.", sentenceCase(count(int(*s.Electrons), "electron")))})
		}
		out = append(out, document.Answer(s.Equation, c))
	case question.WillItGo:
		out = append(out, document.Paragraph{Text: goes(x, c)})
		if x.Reversed {
			out = append(out, document.Paragraph{Text: document.Plain("What the potentials favour is:")})
		}
		out = append(out, document.Answer(s.Equation, c))
	}
	return out, nil
}

// slip says which line of a working is wrong, and how it could stand.
func slip(x *question.Item, s *redox.Solution, c redox.Conventions) []document.Block {
	if x.Working == nil {
		return nil
	}
	text := fmt.Sprintf("Line %d: %s.", x.Working.Line, x.Working.Kind.Words())
	if m, err := marking.NewQuestion(s); err == nil {
		if f, ok := m.Judge(strings.Join(x.Working.Lines, "\n")).Feedback(x.Working.Line); ok {
			text = f.Instructor(x.Working.Kind)
		}
	}
	return []document.Block{document.Paragraph{Text: document.Prose(text, c)}, document.Answer(s.Equation, c)}
}

// marked is the full working of a solution, with the mark of each line that earns
// one. Where an item is worth other than its lines, it has no marks a line.
func marked(s *redox.Solution, x *question.Item) []document.Block {
	blocks := written(document.Worked(s))
	q, err := marking.NewQuestion(s)
	if err != nil {
		return blocks
	}
	scheme := q.Scheme()
	if _, dry := scheme.Worth[marking.StatesStep]; scheme.OutOf() != x.Worth || s.Conventions.By != redox.ByHalves && !dry {
		return blocks // the steps are those of another way
	}
	// The first line of each step earns its marks; those of a step that has no line,
	// since nothing was to do, go to the line that shows it.
	lines := map[marking.Step]int{}
	half := redox.Role("")
	for i, b := range blocks {
		switch b := b.(type) {
		case document.Heading:
			half = ""
			switch title := strings.ToLower((&document.Document{Title: b.Text}).PlainTitle()); {
			case strings.HasPrefix(title, "oxidation") && !strings.Contains(title, "states"):
				half = redox.Oxidation
			case strings.HasPrefix(title, "reduction"):
				half = redox.Reduction
			}
		case document.Equation:
			step := stepOf(b, half)
			if _, before := lines[step]; step != "" && !before {
				lines[step] = i
			}
		}
	}
	earned := map[int]int{}
	for step, n := range scheme.Worth {
		i, ok := lines[step]
		if !ok {
			switch step {
			case marking.EqualizedStep:
				i, ok = lines[marking.AddedStep]
			case marking.ChangesStep:
				i, ok = lines[marking.StatesStep]
			}
		}
		if !ok {
			if i, ok = lines[marking.FinalStep]; !ok {
				return blocks
			}
		}
		earned[i] += n
	}
	for i, n := range earned {
		text := document.Plain(" (" + strings.ReplaceAll(marks(n), " ", "\u00a0") + ")")
		// The answer stands alone, without a label: its heading has its marks.
		if h, ok := blocks[max(i-1, 0)].(document.Heading); ok && i == lines[marking.FinalStep] {
			h.Text = document.Join(h.Text, text)
			blocks[i-1] = h
			continue
		}
		e := blocks[i].(document.Equation)
		e.Label = document.Join(e.Label, text)
		blocks[i] = e
	}
	return blocks
}

// written leaves out the lines of rules that have nothing to do.
func written(all []document.Block) []document.Block {
	return slices.DeleteFunc(all, func(b document.Block) bool {
		e, ok := b.(document.Equation)
		return ok && len(e.Line) == 0 && strings.HasPrefix((&document.Document{Title: e.Reason}).PlainTitle(), "nothing to do")
	})
}

// stepOf returns the step of the usual scheme that a line earns, "" for none.
func stepOf(e document.Equation, half redox.Role) marking.Step {
	if e.Final {
		return marking.FinalStep
	}
	rule, _, _ := strings.Cut((&document.Document{Title: e.Label}).PlainTitle(), ":")
	switch redox.Rule(strings.ReplaceAll(rule, "\u00a0", " ")) {
	case redox.Split:
		return marking.SpeciesStep
	case redox.ChargeRule:
		if half == redox.Oxidation {
			return marking.OxidationStep
		}
		return marking.ReductionStep
	case redox.Equalize:
		return marking.EqualizedStep
	case redox.Add:
		return marking.AddedStep
	case redox.Neutralize:
		return marking.MediumStep
	case redox.ChangesOfState:
		return marking.StatesStep
	case redox.EqualChanges:
		return marking.EqualizedStep
	case redox.OtherNumbers:
		return marking.OthersStep
	}
	return ""
}
