package web

import (
	"strings"
	"testing"
)

// TestGallery shows each state of each page, and only where it is wished for.
func TestGallery(t *testing.T) {
	s, _ := desk(t)
	_, list := get(t, s, "/gallery")
	for _, p := range s.gallery() {
		seen := map[string]bool{}
		for _, st := range p.States {
			address := "/gallery/" + p.Page + "/" + st.Name
			status, body := get(t, s, address)
			if status != 200 || !strings.Contains(body, "<h1") || strings.Contains(body, "Something failed that should not") != (st.Name == "defect") {
				t.Errorf("%s: status %d, %.300s", address, status, body)
			}
			if seen[st.Name] || !strings.Contains(list, `href="`+address+`"`) {
				t.Errorf("%s is there twice, or not in the list", address)
			}
			seen[st.Name] = true
		}
	}
	for _, path := range []string{"/gallery/work/nothing", "/gallery/nothing/empty", "/gallery/work"} {
		if status, _ := get(t, s, path); status != 404 {
			t.Errorf("%s: status %d", path, status)
		}
	}
	o := s.o
	o.Gallery = false
	plain, err := New(o)
	if err != nil {
		t.Fatal(err)
	}
	for _, path := range []string{"/gallery", "/gallery/work/empty"} {
		if status, _ := get(t, plain, path); status != 404 {
			t.Errorf("%s without being wished for: status %d", path, status)
		}
	}
}
