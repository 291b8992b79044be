package paper

import (
	"slices"

	"halves/document"
	"halves/question"
)

// List lays out the questions of a set as tables, a version each; with
// Options.Answers the balanced equations too.
func List(s *question.Set, o Options) *document.Document {
	d := newDocument(s, nil, s.Wish.Title)
	for _, n := range s.Notes {
		add(d, document.Note{Text: document.Plain(n)})
	}
	for _, v := range s.Versions {
		if len(s.Versions) > 1 {
			add(d, document.Heading{Level: 1, Text: document.Plain("Version " + v.Letter), Keep: true})
		}
		add(d, document.Paragraph{Text: sentence("%s, %s, difficulty %s in all. Check code %s.", sentenceCase(count(len(v.Items), "question")), marks(v.Worth()), v.Difficulty(), v.Code)})
		t := document.Table{Caption: "The questions", Head: []document.Inline{nil, document.Plain("question"), document.Plain("asked"), document.Plain("marks"), document.Plain("difficulty"), document.Plain("features")},
			Right: []bool{true, false, false, true, true, false}, Spare: 5}
		for _, x := range v.Items {
			t.Rows = append(t.Rows, []document.Inline{number(x.Number), itemText(&x, o), document.Plain(string(x.Ask)), number(x.Worth),
				document.Plain(x.Question.Difficulty.String()), document.Plain(join(x.Question.Features.Words()))})
		}
		add(d, t)
		if o.Answers {
			for _, x := range v.Items {
				line := document.Line(x.Question.Answer(), o.Conventions)
				line.Label = sentence("%d", x.Number)
				add(d, line)
			}
		}
	}
	return d
}

// itemText is the question as it is asked: from right to left where it is the
// reverse that may go or not.
func itemText(x *question.Item, o Options) document.Inline {
	e := x.Question.Skeleton()
	if x.Reversed {
		e = turned(e)
	}
	return document.Join(document.EquationOf(e, o.Conventions), document.MediumPhrase(x.Question.Medium))
}

func questionText(q *question.Question, o Options) document.Inline {
	return document.Join(document.EquationOf(q.Skeleton(), o.Conventions), document.MediumPhrase(q.Medium))
}

// Library lays out the curated library, the easiest first.
func Library(o Options) *document.Document {
	all := slices.Clone(question.Library())
	slices.SortStableFunc(all, func(a, b *question.Question) int { return int(a.Difficulty - b.Difficulty) })
	d := &document.Document{Title: document.Plain("The curated library, the easiest first")}
	t := document.Table{Caption: "The questions", Head: []document.Inline{document.Plain("difficulty"), document.Plain("question"), document.Plain("features"), document.Plain("what it teaches")},
		Right: []bool{true, false, false, false}}
	for _, q := range all {
		t.Rows = append(t.Rows, []document.Inline{document.Plain(q.Difficulty.String()), questionText(q, o), document.Plain(join(q.Features.Words())), document.Prose(q.Note, o.Conventions)})
	}
	add(d, document.Paragraph{Text: sentence("%s. The difficulty is computed from the worked solution.", sentenceCase(count(len(all), "question")))}, t)
	return d
}
