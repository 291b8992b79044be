package qti_test

import (
	"bytes"
	"errors"
	"strings"
	"testing"

	"halves/document"
	"halves/qti"
)

// TestErrors: each fault of a set is told with its place, and nothing is
// written.
func TestErrors(t *testing.T) {
	// The second question is the one with gaps.
	tests := []struct {
		name   string
		change func(*qti.Set)
		fault  qti.Fault
		want   string
	}{
		{"no items", func(s *qti.Set) { s.Items = nil }, qti.NoItems, "the set has no questions; add at least one"},
		{"no id of the set", func(s *qti.Set) { s.ID = "" }, qti.NoID, "the set has no identifier; give it a short name, as week-4"},
		{"language", func(s *qti.Set) { s.Language = "British English" }, qti.BadLanguage, `"British English" is no tag of a language; write one as en or en-GB`},
		{"language with an underscore", func(s *qti.Set) { s.Language = "en_GB" }, qti.BadLanguage, `"en_GB" is no tag of a language; write one as en or en-GB`},
		{"language with an empty part", func(s *qti.Set) { s.Language = "en-" }, qti.BadLanguage, `"en-" is no tag of a language; write one as en or en-GB`},
		{"language of digits", func(s *qti.Set) { s.Language = "419" }, qti.BadLanguage, `"419" is no tag of a language; write one as en or en-GB`},
		{"no id", func(s *qti.Set) { s.Items[1].ID = "" }, qti.NoID, "question 2: it has no identifier; give it a short name, as q1"},
		{"two ids", func(s *qti.Set) { s.Items[2].ID = "iron" }, qti.DuplicateID, "question 3 (iron): question 2 has the same identifier; give each its own"},
		{"id of the set", func(s *qti.Set) { s.Items[2].ID = s.ID }, qti.DuplicateID, "question 3 (week-4): the set has the same identifier; give the question another one"},
		{"no stem", func(s *qti.Set) { s.Items[1].Stem = []document.Inline{prose(" \x00")} }, qti.NoStem, "question 2 (iron): it asks nothing; say what is to be done"},
		{"no marks", func(s *qti.Set) { s.Items[1].Worth = 0 }, qti.BadWorth, "question 2 (iron): it is worth 0 marks; give it 1 to 1000"},
		{"too many marks", func(s *qti.Set) { s.Items[1].Worth = 1001 }, qti.BadWorth, "question 2 (iron): it is worth 1001 marks; give it 1 to 1000"},
		{"no answers", func(s *qti.Set) { s.Items[1].Line = s.Items[1].Line[6:] }, qti.NoAnswers, "question 2 (iron): it has neither choices nor gaps; add choices, or a line with a gap"},
		{"both kinds", func(s *qti.Set) { s.Items[1].Choices = s.Items[0].Choices }, qti.TwoKinds, "question 2 (iron): it has both choices and a line with gaps; make it two questions"},
		{"one choice", func(s *qti.Set) { s.Items[2].Choices = s.Items[2].Choices[:1] }, qti.OneChoice, "question 3 (hydrate): it has one choice only; add another"},
		{"no right choice", func(s *qti.Set) { s.Items[2].Choices[0].Right = false }, qti.NoRight, "question 3 (hydrate): none of its choices is right; mark the one that is"},
		{"two right choices", func(s *qti.Set) { s.Items[2].Choices[1].Right = true }, qti.SeveralRight, "question 3 (hydrate), choice 2: it is right, and so is choice 1; leave one right, or ask two questions"},
		{"empty choice", func(s *qti.Set) { s.Items[2].Choices[1].Text = nil }, qti.EmptyChoice, "question 3 (hydrate), choice 2: it is empty; write it or leave it out"},
		{"same choices", func(s *qti.Set) { s.Items[2].Choices[1].Text = prose(" CuSO4.5H2O ") }, qti.SameChoices, "question 3 (hydrate), choice 2: it reads as choice 1 does; leave one of them out"},
		{"too many gaps", func(s *qti.Set) {
			for len(s.Items[1].Line) < 102 {
				s.Items[1].Line = append(s.Items[1].Line, s.Items[1].Line[0])
			}
		}, qti.TooManyGaps, "question 2 (iron): it has 101 gaps, more than 100; make it several questions"},
	}
	for _, answer := range []string{"", "0", "08", "-5", "+5", "5 ", "5.0", "1/2", "five", "５", "n"} {
		tests = append(tests, struct {
			name   string
			change func(*qti.Set)
			fault  qti.Fault
			want   string
		}{"answer " + answer, func(s *qti.Set) { s.Items[1].Line[1].Gap.Answer = answer }, qti.BadAnswer,
			`question 2 (iron), gap 2: "` + answer + `" is no whole number from 1; write its digits alone, as 5`})
	}
	for _, tt := range tests {
		s := week()
		tt.change(&s)
		for _, v := range versions {
			var b bytes.Buffer
			err := v.write(&b, s)
			var fault *qti.SetError
			if !errors.As(err, &fault) {
				t.Errorf("%s: QTI %s is written: %v", tt.name, v.name, err)
				continue
			}
			if err.Error() != tt.want || fault.Fault != tt.fault {
				t.Errorf("%s:\n got %s (fault %d)\nwant %s (fault %d)", tt.name, err, fault.Fault, tt.want, tt.fault)
			}
			if b.Len() > 0 {
				t.Errorf("%s: %d bytes were written", tt.name, b.Len())
			}
		}
	}
}

// TestAllErrors: a teacher hears of every fault at once, in the order of the
// questions.
func TestAllErrors(t *testing.T) {
	s := week()
	s.Items[2].Choices[0].Right = false
	s.Items[1].Line[0].Gap.Answer = "x"
	s.Items[1].Worth = -1
	got := qti.Write22(new(bytes.Buffer), s).Error()
	want := []string{"question 2 (iron): it is worth -1", `question 2 (iron), gap 1: "x"`, "question 3 (hydrate): none"}
	lines := strings.Split(got, "\n")
	if len(lines) != len(want) {
		t.Fatalf("%d errors, want %d:\n%s", len(lines), len(want), got)
	}
	for i := range want {
		if !strings.HasPrefix(lines[i], want[i]) {
			t.Errorf("error %d is %q, want %q", i+1, lines[i], want[i])
		}
	}
}
