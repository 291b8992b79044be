package cohort

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
)

// Summarize tells what a class did. Where one student has several scripts for
// one question, the last in the list stands and the others are counted as
// replaced; otherwise the order of the scripts changes nothing.
func Summarize(scripts []Script) Summary {
	kept := latest(scripts)
	sum := Summary{Scripts: len(kept), Replaced: len(scripts) - len(kept)}
	kinds, steps := map[string]int{}, map[string]int{}
	c := class{students: map[string]standing{}}
	for _, s := range kept {
		if s.Provisional {
			sum.Provisional++
		}
		if s.Slip != "" {
			sum.Slipped++
			kinds[s.Slip]++
			if s.Step != "" {
				steps[s.Step]++
			}
		}
		if !s.marked() {
			sum.Unmarked++
		}
		c.add(s)
	}
	sum.Students = len(c.students)
	sum.Kinds, sum.Steps = tallies(kinds, len(kept)), tallies(steps, len(kept))

	questions := runs(kept, func(s *Script) string { return s.Question })
	for _, q := range questions {
		c.addQuestion(q)
	}
	for _, q := range questions {
		sum.Items = append(sum.Items, c.item(q))
	}
	sum.Alpha = c.alpha(questions)
	return sum
}

// latest returns the last script of each student and question, ordered by
// question, then student.
func latest(scripts []Script) []*Script {
	order := make([]int, len(scripts))
	for i := range order {
		order[i] = i
	}
	same := func(i, j int) int {
		a, b := &scripts[i], &scripts[j]
		return cmp.Or(strings.Compare(a.Question, b.Question), strings.Compare(a.Student, b.Student))
	}
	slices.SortFunc(order, func(i, j int) int { return cmp.Or(same(i, j), i-j) })
	kept := make([]*Script, 0, len(order))
	for n, i := range order {
		if n+1 == len(order) || same(i, order[n+1]) != 0 {
			kept = append(kept, &scripts[i])
		}
	}
	return kept
}

// runs cuts scripts, which are ordered by key, where the key changes.
func runs(scripts []*Script, key func(*Script) string) [][]*Script {
	var cut [][]*Script
	start := 0
	for i := range scripts {
		if i+1 == len(scripts) || key(scripts[i]) != key(scripts[i+1]) {
			cut = append(cut, scripts[start:i+1])
			start = i + 1
		}
	}
	return cut
}

// tallies orders counts, commonest first, then by name; shares are of whole.
func tallies(counts map[string]int, whole int) []Tally {
	var list []Tally
	for name, n := range counts {
		list = append(list, Tally{name, n, float64(n) / float64(whole)})
	}
	slices.SortFunc(list, func(a, b Tally) int {
		return cmp.Or(b.Count-a.Count, strings.Compare(a.Name, b.Name))
	})
	return list
}

// A standing is what one student has over all questions.
type standing struct {
	marks  int64
	marked int // questions with marks
}

// A class is what the figures of one question need to know of the others.
type class struct {
	students map[string]standing
	marked   int    // questions with marks
	uneven   string // why totals are not on one scale, "" if they are
}

func (c *class) add(s *Script) {
	st := c.students[s.Student]
	if s.marked() {
		st.marks += int64(s.Earned)
		st.marked++
	}
	c.students[s.Student] = st
}

// addQuestion takes note of the scripts of one question.
func (c *class) addQuestion(scripts []*Script) {
	low, high := MaxMarks, 0
	for _, s := range scripts {
		if s.marked() {
			low, high = min(low, s.OutOf), max(high, s.OutOf)
		}
	}
	if high == 0 {
		return
	}
	c.marked++
	if low != high && c.uneven == "" {
		c.uneven = fmt.Sprintf("question %s is out of %d for some students and out of %d for others, so totals cannot be compared",
			scripts[0].Question, low, high)
	}
}

// item is the summary of one question, from its scripts, ordered by student.
func (c *class) item(scripts []*Script) Item {
	it := Item{
		Question:       scripts[0].Question,
		Scripts:        len(scripts),
		Difficulty:     meanShare(scripts),
		Discrimination: c.discrimination(scripts),
	}
	for _, s := range scripts {
		if s.Provisional {
			it.Provisional++
		}
		if !s.marked() {
			it.Unmarked++
		}
		if s.Answer == "" {
			it.Unanswered++
		}
	}
	it.Answers = groups(scripts)
	return it
}

// groups gathers identical answers; scripts are ordered by student.
func groups(scripts []*Script) []Group {
	answered := make([]*Script, 0, len(scripts))
	for _, s := range scripts {
		if s.Answer != "" {
			answered = append(answered, s)
		}
	}
	// Stable, so that the students of a group keep their order.
	slices.SortStableFunc(answered, func(a, b *Script) int { return strings.Compare(a.Answer, b.Answer) })
	var list []Group
	for _, run := range runs(answered, func(s *Script) string { return s.Answer }) {
		g := Group{Answer: run[0].Answer, Count: len(run), MeanShare: meanShare(run)}
		g.Students = make([]string, len(run))
		for i, s := range run {
			g.Students[i] = s.Student
		}
		list = append(list, g)
	}
	slices.SortStableFunc(list, func(a, b Group) int { return b.Count - a.Count })
	return list
}
