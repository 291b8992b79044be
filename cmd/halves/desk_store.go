package main

import (
	"context"
	"fmt"
	"io"
	"os"
	"sync"

	"halves/course"
	"halves/store/sqlite"
)

// An openedStore is the store of a running desk. Another can be put in its place
// while the desk runs: acts that are under way end first.
type openedStore struct {
	path string
	mu   sync.RWMutex
	now  *sqlite.Store
}

func openStore(path string) (*openedStore, error) {
	s, err := sqlite.Open(path)
	if err != nil {
		return nil, err
	}
	return &openedStore{path: path, now: s}, nil
}

// restore puts a backup in the place of the store. Where it is none, the store
// stays as it is.
func (s *openedStore) restore(ctx context.Context, backup io.Reader) error {
	f, err := os.CreateTemp("", "halves-restore-*")
	if err != nil {
		return err
	}
	defer os.Remove(f.Name())
	_, err = io.Copy(f, backup)
	if closing := f.Close(); err == nil {
		err = closing
	}
	if err != nil {
		return fmt.Errorf("taking the backup: %w", err)
	}
	s.mu.Lock()
	defer s.mu.Unlock()
	if err := s.now.Close(); err != nil {
		return err
	}
	failed := sqlite.Restore(f.Name(), s.path)
	opened, err := sqlite.Open(s.path)
	if err != nil {
		return err
	}
	s.now = opened
	return failed
}

// use hands the store to an act.
func use[T any](s *openedStore, act func(course.Store) (T, error)) (T, error) {
	s.mu.RLock()
	defer s.mu.RUnlock()
	return act(s.now)
}

func (s *openedStore) do(act func(course.Store) error) error {
	_, err := use(s, func(c course.Store) (struct{}, error) { return struct{}{}, act(c) })
	return err
}

var _ course.Store = (*openedStore)(nil)

func (s *openedStore) Settings(ctx context.Context) (course.Settings, error) {
	return use(s, func(c course.Store) (course.Settings, error) { return c.Settings(ctx) })
}

func (s *openedStore) SaveSettings(ctx context.Context, x course.Settings) error {
	return s.do(func(c course.Store) error { return c.SaveSettings(ctx, x) })
}

func (s *openedStore) Questions(ctx context.Context, search string) ([]course.Question, error) {
	return use(s, func(c course.Store) ([]course.Question, error) { return c.Questions(ctx, search) })
}

func (s *openedStore) Question(ctx context.Context, id int64) (course.Question, error) {
	return use(s, func(c course.Store) (course.Question, error) { return c.Question(ctx, id) })
}

func (s *openedStore) SaveQuestion(ctx context.Context, q course.Question) (int64, error) {
	return use(s, func(c course.Store) (int64, error) { return c.SaveQuestion(ctx, q) })
}

func (s *openedStore) DeleteQuestion(ctx context.Context, id int64) error {
	return s.do(func(c course.Store) error { return c.DeleteQuestion(ctx, id) })
}

func (s *openedStore) Sets(ctx context.Context) ([]course.Set, error) {
	return use(s, func(c course.Store) ([]course.Set, error) { return c.Sets(ctx) })
}

func (s *openedStore) Set(ctx context.Context, id int64) (course.Set, error) {
	return use(s, func(c course.Store) (course.Set, error) { return c.Set(ctx, id) })
}

func (s *openedStore) SaveSet(ctx context.Context, x course.Set) (int64, error) {
	return use(s, func(c course.Store) (int64, error) { return c.SaveSet(ctx, x) })
}

func (s *openedStore) DeleteSet(ctx context.Context, id int64) error {
	return s.do(func(c course.Store) error { return c.DeleteSet(ctx, id) })
}

func (s *openedStore) History(ctx context.Context) ([]course.Worked, error) {
	return use(s, func(c course.Store) ([]course.Worked, error) { return c.History(ctx) })
}

func (s *openedStore) Remember(ctx context.Context, w course.Worked) error {
	return s.do(func(c course.Store) error { return c.Remember(ctx, w) })
}

func (s *openedStore) ForgetHistory(ctx context.Context) error {
	return s.do(func(c course.Store) error { return c.ForgetHistory(ctx) })
}

func (s *openedStore) Backup(ctx context.Context, path string) error {
	return s.do(func(c course.Store) error { return c.Backup(ctx, path) })
}

// Close closes the store that is open.
func (s *openedStore) Close() error {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.now.Close()
}
