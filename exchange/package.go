package exchange

import (
	"fmt"

	"halves/paper"
	"halves/qti"
	"halves/question"
	"halves/redox"
)

// Package makes the items of a package of a version: the options to choose from, or
// a box for each coefficient of an equation that is to be balanced. left is how many
// questions ask for neither and are left out.
func Package(s *question.Set, v *question.Version, c redox.Conventions) (set qti.Set, left int) {
	set = qti.Set{ID: "halves-" + v.Code, Title: s.Wish.Title}
	if len(s.Versions) > 1 {
		set.Title += ", version " + v.Letter
	}
	for i := range v.Items {
		x := &v.Items[i]
		item := qti.Item{ID: fmt.Sprintf("q%d", x.Number), Title: fmt.Sprintf("Question %d", x.Number), Worth: max(x.Worth, 1)}
		item.Stem = paper.Stem(x, c)
		switch {
		case x.Options != nil:
			for _, o := range paper.Choices(x, c) {
				item.Choices = append(item.Choices, qti.Choice{Text: o.Text, Right: o.Right, Feedback: o.Note})
			}
		case x.Ask == question.Balance:
			for _, p := range paper.Gaps(x, c) {
				piece := qti.Piece{Text: p.Text}
				if p.Answer != "" {
					piece.Gap = &qti.Gap{Answer: p.Answer, Label: p.Label}
				}
				item.Line = append(item.Line, piece)
			}
		default:
			left++
			continue
		}
		set.Items = append(set.Items, item)
	}
	return set, left
}
