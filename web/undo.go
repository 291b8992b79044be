package web

import (
	"context"
	"encoding/json"
	"net/http"
	"strconv"
	"strings"
	"sync"

	"halves/course"
	"halves/document"
)

// changes are what was done lately to questions and sets, in memory alone: enough to
// tell it on the next page, and to take it back.
type changes struct {
	editing sync.Mutex // held while a set is read, changed and kept

	mu   sync.Mutex
	next int64 // number of the next
	all  []change
	size int // bytes
}

// Bounds of what can be taken back.
const (
	mostChanges = 50
	mostUndo    = 16 << 20 // bytes
)

// A change is something that was done, with how to take it back.
type change struct {
	key string
	msg document.Inline // a sentence: "Question 3 was removed."

	// What is put back: questions and a set as they were; those without an ID are
	// kept anew. nil for nothing.
	questions []course.Question
	set       *course.Set
	after     string  // stamp of the set after the change; "" where it was deleted
	drop      []int64 // questions that are deleted
	to        string  // where one is led then
}

// A done is a change as a page tells it.
type done struct {
	Msg  document.Inline
	Undo string // its key; "" where it cannot be taken back
}

// add keeps a change and returns its key.
func (c *changes) add(at int64, x change) string {
	c.mu.Lock()
	defer c.mu.Unlock()
	// Keys of an earlier run of the program stand for nothing in this one.
	c.next = max(c.next+1, at)
	x.key = strconv.FormatInt(c.next, 36)
	c.all = append(c.all, x)
	c.size += x.bytes()
	for len(c.all) > mostChanges || c.size > mostUndo && len(c.all) > 1 {
		c.size -= c.all[0].bytes()
		c.all = c.all[1:]
	}
	return x.key
}

func (x *change) bytes() int {
	n := 200
	for _, q := range x.questions {
		n += len(q.Text) + len(q.Note) + 100
	}
	if x.set != nil {
		n += len(x.set.JSON)
	}
	return n
}

// find returns a change; nil for none.
func (c *changes) find(key string) *change {
	c.mu.Lock()
	defer c.mu.Unlock()
	for i := range c.all {
		if c.all[i].key == key {
			x := c.all[i]
			return &x
		}
	}
	return nil
}

// forget drops a change that was taken back.
func (c *changes) forget(key string) {
	c.mu.Lock()
	defer c.mu.Unlock()
	for i := range c.all {
		if c.all[i].key == key {
			c.size -= c.all[i].bytes()
			c.all = append(c.all[:i:i], c.all[i+1:]...)
			return
		}
	}
}

// told returns what a page says of the change that ?done= names, nil for none.
func (c *changes) told(r *http.Request) *done {
	x := c.find(r.FormValue("done"))
	if x == nil {
		return nil
	}
	d := &done{Msg: x.msg}
	if x.questions != nil || x.set != nil || x.drop != nil {
		d.Undo = x.key
	}
	return d
}

// happened keeps a change and returns the address that tells it.
func (s *Server) happened(x change, to, fragment string) string {
	join := "?"
	if strings.Contains(to, "?") {
		join = "&"
	}
	return to + join + "done=" + s.changes.add(s.o.Now().UnixMilli(), x) + fragment
}

// takeBack undoes a change.
func (s *Server) takeBack(r *http.Request) (view, error) {
	key := r.FormValue("key")
	x := s.changes.find(key)
	if x == nil {
		return view{}, &pageError{http.StatusGone, "That cannot be taken back any more.", "Only what was done lately can be, until the program ends."}
	}
	to, err := s.putBackChange(r.Context(), x)
	if err != nil {
		return view{}, err
	}
	s.changes.forget(key)
	return view{to: s.happened(change{msg: document.Plain("Taken back: it is as it was.")}, to, "")}, nil
}

// putBackChange puts things back as they were before a change.
func (s *Server) putBackChange(ctx context.Context, x *change) (to string, err error) {
	store := s.o.Store
	to = x.to
	if x.set != nil {
		s.changes.editing.Lock()
		defer s.changes.editing.Unlock()
		set := *x.set
		if set.ID != 0 {
			now, err := store.Set(ctx, set.ID)
			if err != nil {
				return "", err
			}
			if stampOf(now.JSON) != x.after {
				return "", &pageError{http.StatusConflict, "The set was changed since, so nothing was taken back.", "Take back what was done last, or change it by hand."}
			}
		}
		id, err := store.SaveSet(ctx, set)
		if err != nil {
			return "", err
		}
		to = "/sets/" + strconv.FormatInt(id, 10)
	}
	for _, q := range x.questions {
		if _, err := store.SaveQuestion(ctx, q); err != nil {
			return "", err
		}
	}
	for _, id := range x.drop {
		if err := store.DeleteQuestion(ctx, id); err != nil {
			return "", err
		}
	}
	return to, nil
}

// stampOf tells whether a set was changed: its check code, and what stands at the
// head of its papers, which the code leaves out.
func stampOf(text []byte) string {
	var j struct {
		Code string
		Wish struct{ Title, Course, Section string }
	}
	if json.Unmarshal(text, &j) != nil {
		return ""
	}
	return j.Code + j.Wish.Title + "\n" + j.Wish.Course + "\n" + j.Wish.Section
}
