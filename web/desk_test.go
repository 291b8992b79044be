package web

import (
	"context"
	"io"
	"net/http"
	"net/http/httptest"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"halves/course"
	"halves/energetics"
)

// memory keeps everything in memory: enough for a page.
type memory struct {
	mu        sync.Mutex
	settings  course.Settings
	questions []course.Question
	sets      []course.Set
	history   []course.Worked
	next      int64
	fail      error // what saving answers
}

func (m *memory) Settings(context.Context) (course.Settings, error) {
	m.mu.Lock()
	defer m.mu.Unlock()
	return m.settings, nil
}

func (m *memory) SaveSettings(_ context.Context, s course.Settings) error {
	m.mu.Lock()
	defer m.mu.Unlock()
	if m.fail != nil {
		return m.fail
	}
	m.settings = s
	return s.Check()
}

func (m *memory) Questions(_ context.Context, search string) ([]course.Question, error) {
	m.mu.Lock()
	defer m.mu.Unlock()
	var out []course.Question
	for _, q := range m.questions {
		if strings.Contains(strings.ToLower(q.Text+" "+q.Note), strings.ToLower(search)) {
			out = append(out, q)
		}
	}
	slices.Reverse(out)
	return out, nil
}

func (m *memory) Question(_ context.Context, id int64) (course.Question, error) {
	m.mu.Lock()
	defer m.mu.Unlock()
	for _, q := range m.questions {
		if q.ID == id {
			return q, nil
		}
	}
	return course.Question{}, &course.NotFoundError{What: "question", ID: id}
}

func (m *memory) SaveQuestion(_ context.Context, q course.Question) (int64, error) {
	m.mu.Lock()
	defer m.mu.Unlock()
	if m.fail != nil {
		return 0, m.fail
	}
	if err := q.Check(); err != nil {
		return 0, err
	}
	for i, old := range m.questions {
		if old.ID == q.ID && q.ID != 0 {
			m.questions[i] = q
			return q.ID, nil
		}
	}
	m.next++
	q.ID = m.next
	m.questions = append(m.questions, q)
	return q.ID, nil
}

func (m *memory) DeleteQuestion(_ context.Context, id int64) error {
	m.mu.Lock()
	defer m.mu.Unlock()
	n := len(m.questions)
	m.questions = slices.DeleteFunc(m.questions, func(q course.Question) bool { return q.ID == id })
	if len(m.questions) == n {
		return &course.NotFoundError{What: "question", ID: id}
	}
	return nil
}

func (m *memory) Sets(context.Context) ([]course.Set, error) {
	m.mu.Lock()
	defer m.mu.Unlock()
	out := slices.Clone(m.sets)
	slices.Reverse(out)
	for i := range out {
		out[i].JSON = nil
	}
	return out, nil
}

func (m *memory) Set(_ context.Context, id int64) (course.Set, error) {
	m.mu.Lock()
	defer m.mu.Unlock()
	for _, s := range m.sets {
		if s.ID == id {
			return s, nil
		}
	}
	return course.Set{}, &course.NotFoundError{What: "set", ID: id}
}

func (m *memory) SaveSet(_ context.Context, s course.Set) (int64, error) {
	m.mu.Lock()
	defer m.mu.Unlock()
	if m.fail != nil {
		return 0, m.fail
	}
	if err := s.Check(); err != nil {
		return 0, err
	}
	for i, old := range m.sets {
		if old.ID == s.ID && s.ID != 0 {
			m.sets[i] = s
			return s.ID, nil
		}
	}
	m.next++
	s.ID = m.next
	m.sets = append(m.sets, s)
	return s.ID, nil
}

func (m *memory) DeleteSet(_ context.Context, id int64) error {
	m.mu.Lock()
	defer m.mu.Unlock()
	n := len(m.sets)
	m.sets = slices.DeleteFunc(m.sets, func(s course.Set) bool { return s.ID == id })
	if len(m.sets) == n {
		return &course.NotFoundError{What: "set", ID: id}
	}
	return nil
}

func (m *memory) History(context.Context) ([]course.Worked, error) {
	m.mu.Lock()
	defer m.mu.Unlock()
	out := slices.Clone(m.history)
	slices.Reverse(out)
	return out, nil
}

func (m *memory) Remember(_ context.Context, w course.Worked) error {
	m.mu.Lock()
	defer m.mu.Unlock()
	if m.fail != nil {
		return m.fail
	}
	m.history = append(slices.DeleteFunc(m.history, func(o course.Worked) bool { return o.Text == w.Text && o.Medium == w.Medium }), w)
	return nil
}

func (m *memory) ForgetHistory(context.Context) error {
	m.mu.Lock()
	defer m.mu.Unlock()
	m.history = nil
	return nil
}

func (m *memory) Backup(context.Context, string) error { return m.fail }
func (m *memory) Close() error                         { return nil }

// desk is a desk to be tested, with its store.
func desk(t testing.TB) (*Server, *memory) {
	t.Helper()
	m := &memory{}
	s, err := New(Options{Store: m, Tables: energetics.Shipped(), Gallery: true, Now: func() time.Time { return time.Date(2026, 11, 26, 9, 30, 0, 0, time.UTC) }})
	if err != nil {
		t.Fatal(err)
	}
	return s, m
}

// get asks the desk for a page and returns its status and its body.
func get(t testing.TB, s *Server, path string) (int, string) {
	t.Helper()
	return send(t, s, httptest.NewRequest("GET", "http://localhost"+path, nil))
}

// post sends a form.
func post(t testing.TB, s *Server, path, form string) (int, string) {
	t.Helper()
	r := httptest.NewRequest("POST", "http://localhost"+path, strings.NewReader(form))
	r.Header.Set("Content-Type", "application/x-www-form-urlencoded")
	r.Header.Set("Sec-Fetch-Site", "same-origin")
	return send(t, s, r)
}

func send(t testing.TB, s *Server, r *http.Request) (int, string) {
	t.Helper()
	w := httptest.NewRecorder()
	s.Handler().ServeHTTP(w, r)
	body, err := io.ReadAll(w.Result().Body)
	if err != nil {
		t.Fatal(err)
	}
	return w.Code, string(body)
}
