package web

import (
	"context"
	"errors"
	"slices"
	"strings"
	"testing"
	"time"

	"halves/energetics"
	"halves/question"
)

// TestSeedDemo: the demo course can be looked at, is the same every time, and does
// not use the reaction that is set aside.
func TestSeedDemo(t *testing.T) {
	now := time.Date(2026, 11, 26, 9, 30, 0, 0, time.UTC)
	var texts []string
	for range 2 {
		m := &memory{}
		if err := SeedDemo(context.Background(), m, question.NewPool(energetics.Shipped()), now); err != nil {
			t.Fatal(err)
		}
		questions, _ := m.Questions(context.Background(), "")
		if len(questions) != 5 || !strings.Contains(questions[0].Text, "H2C2O4") || !strings.Contains(questions[4].Text, "As2S3") {
			t.Errorf("the questions are %v", questions)
		}
		if len(m.sets) != 3 {
			t.Fatalf("%d sets, want 3", len(m.sets))
		}
		text := ""
		for _, kept := range m.sets {
			set, err := question.ReadSet(kept.JSON, nil)
			if err != nil {
				t.Fatalf("%s: %v", kept.Title, err)
			}
			if kept.Count != len(set.Versions[0].Items) || kept.Version != len(set.Versions) || kept.Title != set.Wish.Title || !kept.Changed.Before(now) {
				t.Errorf("%+v", kept)
			}
			for _, v := range set.Versions {
				for _, x := range v.Items {
					if strings.Contains(x.Question.Text, "Cr2O7^2-") && slices.Contains(strings.Fields(x.Question.Text), "I^-") {
						t.Errorf("%s: %s", kept.Title, x.Question.Text)
					}
				}
			}
			text += string(kept.JSON)
		}
		texts = append(texts, text)
	}
	if texts[0] != texts[1] {
		t.Error("the demo course is not the same twice")
	}
	want := errors.New("no room")
	if err := SeedDemo(context.Background(), &memory{fail: want}, question.NewPool(energetics.Shipped()), now); !errors.Is(err, want) {
		t.Errorf("a store that keeps nothing: %v", err)
	}
}

// BenchmarkSeedDemo is what a first start waits for.
func BenchmarkSeedDemo(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		if err := SeedDemo(context.Background(), &memory{}, question.NewPool(energetics.Shipped()), time.Unix(0, 0)); err != nil {
			b.Fatal(err)
		}
	}
}
