package paper

import (
	"halves/chem"
	"halves/document"
	"halves/lesson"
	"halves/question"
	"halves/redox"
	"halves/speech"
)

// Worksheet lays out a version with room to work in.
func Worksheet(s *question.Set, v *question.Version, o Options) (*document.Document, error) {
	d := newDocument(s, v, s.Wish.Title)
	if o.Student != "" {
		add(d, document.Paragraph{Text: document.Plain("For " + o.Student)})
	} else {
		add(d, document.Fields{Labels: []string{"Name", "Date"}})
	}
	return d, exercises(d, v, o)
}

// Exam lays out a version as an examination, with a cover.
func Exam(s *question.Set, v *question.Version, o Options) (*document.Document, error) {
	d := newDocument(s, v, s.Wish.Title)
	add(d, document.Fields{Labels: []string{"Code", "Seat", "Date"}})
	what := "This paper"
	if len(s.Versions) > 1 {
		what = "This is version " + v.Letter + ". It"
	}
	items := []document.Inline{
		sentence("%s has %s worth %s.", what, count(len(v.Items), "question"), marks(v.Worth())),
		sentence("The check code of the paper and of its key is %s.", v.Code),
		document.Plain("Show each line of the working: marks are given for lines, not for the answer alone."),
		document.Plain("Answers have the lowest whole numbers."),
	}
	add(d, document.List{Items: items}, marksTable(v), document.Break{})
	o.Scaffold = Open
	return d, exercises(d, v, o)
}

// marksTable is where the marks are written in.
func marksTable(v *question.Version) document.Table {
	t := document.Table{Caption: "Marks", Head: []document.Inline{document.Plain("Question"), document.Plain("out of"), document.Plain("earned")}, Right: []bool{true, true, true}}
	for _, x := range v.Items {
		t.Rows = append(t.Rows, []document.Inline{number(x.Number), number(x.Worth), nil})
	}
	t.Rows = append(t.Rows, []document.Inline{document.Plain("all"), number(v.Worth()), nil})
	return t
}

// exercises lays out the items with the room that each needs.
func exercises(d *document.Document, v *question.Version, o Options) error {
	for i := range v.Items {
		x := &v.Items[i]
		text, blocks := prompt(x, o.Conventions)
		add(d, document.Exercise{Number: x.Number, Marks: marks(x.Worth), Text: text})
		add(d, blocks...)
		room, err := space(x, i, len(v.Items), o)
		if err != nil {
			return err
		}
		add(d, room...)
	}
	add(d, paperLine())
	return nil
}

// space is the room for the answer to an item, the i-th of n.
func space(x *question.Item, i, n int, o Options) ([]document.Block, error) {
	if x.Options != nil {
		return nil, nil
	}
	switch x.Ask {
	case question.Balance, question.Complete:
	case question.Split:
		return []document.Block{document.Space{Label: document.Plain("oxidation"), Lines: 1}, document.Space{Label: document.Plain("reduction"), Lines: 1}}, nil
	case question.Electrons:
		return []document.Block{document.Space{Lines: 1}}, nil
	default:
		return []document.Block{document.Space{Lines: 2}}, nil
	}
	s, err := x.Question.Work(o.Conventions)
	if err != nil {
		return nil, err
	}
	var steps []redox.Step // that write a line
	for _, st := range s.Steps {
		if st.Done && lesson.Line(st, o.Conventions) != nil {
			steps = append(steps, st)
		}
	}
	shown := 0
	if o.Scaffold == Fade && n > 0 {
		shown = len(steps) * (n - 1 - i) / max(1, n-1)
		if x.Ask == question.Complete {
			shown = 0 // the lines give the products away
		}
	}
	if o.Scaffold == Open || o.Scaffold == "" || o.Scaffold == Fade && shown == 0 {
		return []document.Block{document.Space{Lines: min(max(4, len(steps)), 12)}}, nil
	}
	var out []document.Block
	half := -2
	for k, st := range steps {
		part := st.Half
		if len(s.Halves) == 0 || o.Conventions.By != redox.ByHalves {
			part = -2 // it is not parted
		}
		if st.Rule == redox.Equalize {
			part = -1 // it belongs to the whole
		}
		if part != half {
			title := "The whole equation"
			if part >= 0 {
				title = sentenceCase(string(s.Halves[part].Role))
			}
			out = append(out, document.Heading{Level: 2, Text: document.Plain(title), Keep: true})
		}
		half = part
		label := document.Plain(string(st.Rule))
		if k < shown {
			line := stepLine(st, o.Conventions)
			line.Label = label
			out = append(out, line)
			continue
		}
		out = append(out, document.Space{Label: label, Lines: 1})
	}
	return out, nil
}

// stepLine is the line that a step writes.
func stepLine(st redox.Step, c redox.Conventions) document.Equation {
	line := lesson.Line(st, c)
	return document.Equation{Line: line, Spoken: spokenLine(st, line, c)}
}

func spokenLine(st redox.Step, line []chem.Run, c redox.Conventions) string {
	if st.Written != nil {
		return speech.Runs(line)
	}
	return speech.Equation(st.After, c.Names)
}
