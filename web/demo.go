package web

import (
	"context"
	"encoding/json"
	"fmt"
	"slices"
	"time"

	"halves/course"
	"halves/question"
)

// SeedDemo puts the demo course into an empty store: the settings, the questions
// and the sets, which are drawn from the pool.
func SeedDemo(ctx context.Context, store course.Store, pool *question.Pool, now time.Time) error {
	d := course.Demo(now)
	if err := store.SaveSettings(ctx, d.Settings); err != nil {
		return fmt.Errorf("the settings of the demo course: %w", err)
	}
	// The oldest first, as they would have been kept.
	for _, q := range slices.Backward(d.Questions) {
		if _, err := store.SaveQuestion(ctx, q); err != nil {
			return fmt.Errorf("the question %s of the demo course: %w", q.Text, err)
		}
	}
	for i, text := range slices.Backward(d.Wishes) {
		w, err := question.ReadWish([]byte(text))
		if err != nil {
			return fmt.Errorf("wish %d of the demo course: %w", i+1, err)
		}
		w.Course, w.Section = d.Settings.Course, d.Settings.Section
		set, err := question.Make(w, pool, nil)
		if err != nil {
			return fmt.Errorf("set %d of the demo course: %w", i+1, err)
		}
		kept, err := keptSet(0, set, now.Add(-time.Duration(i+1)*time.Minute))
		if err != nil {
			return err
		}
		if _, err := store.SaveSet(ctx, kept); err != nil {
			return fmt.Errorf("set %d of the demo course: %w", i+1, err)
		}
	}
	return nil
}

// keptSet is a set as a store keeps it.
func keptSet(id int64, set *question.Set, at time.Time) (course.Set, error) {
	text, err := json.Marshal(set)
	if err != nil {
		return course.Set{}, fmt.Errorf("writing the set %q: %w", set.Wish.Title, err)
	}
	at = at.UTC().Truncate(time.Millisecond)
	return course.Set{ID: id, Title: set.Wish.Title, JSON: text, Count: len(set.Versions[0].Items), Version: len(set.Versions), Created: at, Changed: at}, nil
}
