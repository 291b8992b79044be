package course_test

import (
	"slices"
	"strings"
	"testing"
	"time"

	"halves/course"
	"halves/question"
	"halves/redox"
)

// TestDemo works every question of the demo course and reads every wish.
func TestDemo(t *testing.T) {
	now := time.Date(2026, 11, 26, 9, 30, 0, 123456789, time.UTC)
	d := course.Demo(now)
	if err := d.Settings.Check(); err != nil || !strings.Contains(d.Settings.Course, "Tarn Hollow College") {
		t.Errorf("%+v, %v", d.Settings, err)
	}
	if len(d.Questions) != 5 || len(d.Wishes) != 3 {
		t.Errorf("%d questions and %d wishes, want 5 and 3", len(d.Questions), len(d.Wishes))
	}
	for i, q := range d.Questions {
		if err := q.Check(); err != nil || q.Note == "" {
			t.Errorf("%s: %v, note %q", q.Text, err, q.Note)
		}
		if _, err := redox.Work(q.Text, q.Medium, redox.Conventions{}); err != nil {
			t.Errorf("%s: %v", q.Text, err)
		}
		if !q.Created.Before(now) || q.Created != q.Created.UTC().Truncate(time.Millisecond) || i > 0 && !q.Created.Before(d.Questions[i-1].Created) {
			t.Errorf("%s: created at %v", q.Text, q.Created)
		}
	}
	var titles []string
	for _, text := range d.Wishes {
		w, err := question.ReadWish([]byte(text))
		if err != nil {
			t.Errorf("%v in\n%s", err, text)
		}
		if slices.Contains(titles, w.Title) {
			t.Errorf("two sets are called %q", w.Title)
		}
		titles = append(titles, w.Title)
	}
}
