package paper

import (
	"fmt"

	"halves/document"
	"halves/question"
)

// Concordance lays out which question of each version stands where, what it is
// worth and how hard it is, and the plan of seats.
func Concordance(s *question.Set, o Options) *document.Document {
	d := newDocument(s, nil, "Versions: "+s.Wish.Title)
	add(d, document.Paragraph{Text: sentence("%s of %s. Questions of one row can stand for each other: same features, difficulty within half a point.",
		sentenceCase(count(len(s.Versions), "version")), count(s.Wish.Questions, "question"))})
	t := document.Table{Caption: "Numbers of the questions in each version", Head: []document.Inline{document.Plain("row")}, Right: []bool{true}}
	for _, v := range s.Versions {
		t.Head = append(t.Head, document.Plain(v.Letter))
		t.Right = append(t.Right, true)
	}
	t.Head = append(t.Head, document.Plain("difficulty"))
	t.Right = append(t.Right, true)
	wide := len(s.Versions) > widestVersions
	if !wide {
		t.Head, t.Right = append(t.Head, document.Plain("features")), append(t.Right, false)
	}
	var features []document.Inline
	for slot := 1; slot <= s.Wish.Questions; slot++ {
		row := []document.Inline{number(slot)}
		var some *question.Item
		least, most := question.Hardest, question.Easiest
		for i := range s.Versions {
			x := inSlot(&s.Versions[i], slot)
			if x == nil {
				row = append(row, nil)
				continue
			}
			some = x
			least, most = min(least, x.Question.Difficulty), max(most, x.Question.Difficulty)
			row = append(row, number(x.Number))
		}
		if some == nil {
			continue
		}
		text := least.String()
		if most != least {
			text += " to " + most.String()
		}
		what := document.Plain(join(some.Question.Features.Words()))
		row = append(row, document.Plain(text))
		if !wide {
			row = append(row, what)
		}
		t.Rows = append(t.Rows, row)
		features = append(features, document.Join(sentence("Row %d: ", slot), what))
	}
	sum := []document.Inline{document.Plain("sum")}
	for _, v := range s.Versions {
		sum = append(sum, document.Plain(v.Difficulty().String()))
	}
	for len(sum) < len(t.Head) {
		sum = append(sum, nil)
	}
	t.Rows = append(t.Rows, sum)
	add(d, t)
	if wide {
		add(d, document.Heading{Level: 1, Text: document.Plain("Features"), Keep: true}, document.List{Items: features})
	}
	codes := document.Table{Caption: "Check codes", Head: []document.Inline{document.Plain("version"), document.Plain("check code"), document.Plain("marks")}, Right: []bool{false, false, true}}
	for _, v := range s.Versions {
		codes.Rows = append(codes.Rows, []document.Inline{document.Plain(v.Letter), document.Plain(v.Code), number(v.Worth())})
	}
	add(d, document.Heading{Level: 1, Text: document.Plain("Check codes"), Keep: true}, codes)
	for i := range s.Versions {
		v := &s.Versions[i]
		add(d, document.Heading{Level: 1, Text: document.Plain("Version " + v.Letter), Keep: true})
		t := document.Table{Caption: "The questions of version " + v.Letter, Head: []document.Inline{nil, document.Plain("question"), document.Plain("asked")}, Right: []bool{true, false, false}}
		for _, x := range v.Items {
			t.Rows = append(t.Rows, []document.Inline{number(x.Number), itemText(&x, o), document.Plain(string(x.Ask))})
		}
		add(d, t)
	}
	if plan := question.Seats(s.Wish.Rows, s.Wish.Columns, len(s.Versions)); plan != nil {
		t := document.Table{Caption: "The version of each seat", Head: []document.Inline{document.Plain("row")}, Right: []bool{true}}
		for c := range s.Wish.Columns {
			t.Head = append(t.Head, number(c+1))
			t.Right = append(t.Right, false)
		}
		for r, letters := range plan {
			row := []document.Inline{number(r + 1)}
			for _, l := range letters {
				row = append(row, document.Plain(l))
			}
			t.Rows = append(t.Rows, row)
		}
		add(d, document.Heading{Level: 1, Text: document.Plain("Seats"), Keep: true},
			document.Paragraph{Text: document.Plain(fmt.Sprintf("Row 1 is at the front. %s", neighbours(len(s.Versions))))}, t)
	}
	return d
}

// widestVersions is how many versions leave room for the features in the table.
const widestVersions = 4

// neighbours says what a plan of seats keeps apart.
func neighbours(versions int) string {
	if versions > 3 {
		return "No two seats that touch, at a side or at a corner, have the same version."
	}
	return "No two seats side by side or one behind the other have the same version."
}

// inSlot returns the item of a slot, nil for none.
func inSlot(v *question.Version, slot int) *question.Item {
	for i := range v.Items {
		if v.Items[i].Slot == slot {
			return &v.Items[i]
		}
	}
	return nil
}
