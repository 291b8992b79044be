package web

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"mime/multipart"
	"net/http"
	"net/http/httptest"
	"net/url"
	"os"
	"strings"
	"syscall"
	"testing"

	"halves/conventions"
	"halves/course"
	"halves/names"
	"halves/redox"
	"halves/reference"
)

// file sends a form with a file, after other fields.
func file(t testing.TB, s *Server, path, field, name, text string, fields ...string) (int, string) {
	t.Helper()
	return send(t, s, fileRequest(t, path, field, name, text, fields...))
}

func fileRequest(t testing.TB, path, field, name, text string, fields ...string) *http.Request {
	t.Helper()
	var b bytes.Buffer
	w := multipart.NewWriter(&b)
	for i := 0; i+1 < len(fields); i += 2 {
		if err := w.WriteField(fields[i], fields[i+1]); err != nil {
			t.Fatal(err)
		}
	}
	part, err := w.CreateFormFile(field, name)
	if err == nil {
		_, err = io.WriteString(part, text)
	}
	if err := errors.Join(err, w.Close()); err != nil {
		t.Fatal(err)
	}
	r := httptest.NewRequest("POST", "http://localhost"+path, &b)
	r.Header.Set("Content-Type", w.FormDataContentType())
	r.Header.Set("Sec-Fetch-Site", "same-origin")
	return r
}

// TestSettings keeps what the form says, and gives it back where it cannot be kept.
func TestSettings(t *testing.T) {
	const wished = "&by=states&hydronium=true&names=stock&paper=letter"
	for _, test := range []struct {
		name, form string
		fail       error
		status     int
		holds      []string
		kept       bool
	}{
		{"kept", "course=General+Chemistry+II&section=B" + wished, nil, http.StatusSeeOther, nil, true},
		{"without names", "course=&section=" + wished, nil, http.StatusSeeOther, nil, true},
		{"too long", "course=" + strings.Repeat("x", 201) + "&section=B" + wished, nil, 422, []string{"The course is longer than 200 characters", strings.Repeat("x", 201)}, false},
		{"two lines", "course=General%0AChemistry&section=B" + wished, nil, 422, []string{"more than one line"}, false},
		{"null byte", "course=General%00Chemistry&section=B" + wished, nil, 422, []string{"The course is"}, false},
		{"hostile", "course=%22%3E%3Cscript%3Ealert(1)%3C/script%3E&section=" + strings.Repeat("%27", 300) + wished, nil, 422, []string{"&#34;&gt;&lt;script&gt;alert(1)", strings.Repeat("&#39;", 300)}, false},
		{"no such convention", "course=General+Chemistry+II&section=B&by=magic&paper=letter", nil, 400, []string{`By cannot be &#34;magic&#34;.`, `value="General Chemistry II"`}, false},
		{"full", "course=General+Chemistry+II&section=B" + wished, course.ErrFull, http.StatusInsufficientStorage, []string{"disk is full", `value="General Chemistry II"`}, false},
		{"busy", "course=General+Chemistry+II&section=B" + wished, course.ErrBusy, http.StatusServiceUnavailable, []string{"Another program", `value="B"`}, false},
		{"defect", "course=General+Chemistry+II&section=B" + wished, io.ErrNoProgress, 500, []string{"Reference ", `value="B"`}, false},
		{"1 MB", "course=" + strings.Repeat("x", 1<<20), nil, http.StatusRequestEntityTooLarge, nil, false},
		{"no form", "%zz", nil, 400, []string{"did not arrive whole"}, false},
	} {
		s, m := desk(t)
		m.fail = test.fail
		status, body := post(t, s, "/settings", test.form)
		if status != test.status {
			t.Errorf("%s: status %d, want %d", test.name, status, test.status)
		}
		for _, want := range test.holds {
			if !strings.Contains(body, want) {
				t.Errorf("%s: the page lacks %.80q", test.name, want)
			}
		}
		if strings.Contains(body, "<script>alert") || strings.Contains(body, "ZgotmplZ") {
			t.Errorf("%s: something is not escaped", test.name)
		}
		want := course.Settings{}
		if test.kept {
			form, err := url.ParseQuery(test.form)
			if err != nil {
				t.Fatal(err)
			}
			want = course.Settings{Course: form.Get("course"), Section: form.Get("section"), Letter: true,
				Conventions: redox.Conventions{By: redox.ByStates, Hydronium: true, Names: names.Choice{Style: names.Stock}}}
		}
		if m.settings != want {
			t.Errorf("%s: kept is %+v, want %+v", test.name, m.settings, want)
		}
		// What was chosen is still chosen where it was not kept.
		if test.status == 422 || test.fail != nil {
			for _, chosen := range []string{"<option selected>states</option>", "<option selected>stock</option>", `<option value="letter" selected>`} {
				if !strings.Contains(body, chosen) {
					t.Errorf("%s: %s is lost", test.name, chosen)
				}
			}
		}
	}
}

// TestSettingsPage shows what is kept, where, and of what edition the tables are.
func TestSettingsPage(t *testing.T) {
	s, m := desk(t)
	s.o.Data = "/home/instructor/.local/share/<halves>"
	m.settings = course.Settings{Course: "General Chemistry II", Section: "B", Conventions: redox.Conventions{Comma: true}}
	m.questions = []course.Question{{ID: 1, Text: "Zn + Cu^2+ -> Zn^2+ + Cu"}}
	status, body := get(t, s, "/settings")
	for _, want := range []string{`value="General Chemistry II"`, "/home/instructor/.local/share/&lt;halves&gt;", "edition " + reference.Edition, "1 question, 0 sets, 0 worked lately", "+0,771", `action="/settings/backup"`} {
		if status != 200 || !strings.Contains(body, want) {
			t.Errorf("status %d: the page lacks %q", status, want)
		}
	}
	if strings.Contains(body, "/settings/restore") {
		t.Error("a backup could be put back where that cannot be done")
	}
	if _, body := get(t, s, "/settings?done=settings"); !strings.Contains(body, "The settings are kept.") {
		t.Error("it is not said that the settings are kept")
	}
	if _, body := get(t, s, "/settings?done=%3Cscript%3E"); strings.Contains(body, "<script>") || strings.Contains(body, `class="told"`) {
		t.Error("what stands in the address is said")
	}
	// A trial shows other settings and keeps none.
	before := m.settings
	_, body = get(t, s, "/settings?course=Another&section=D&by=equations")
	if !strings.Contains(body, "This is a trial") || !strings.Contains(body, `value="Another"`) || !strings.Contains(body, "<option selected>equations</option>") || m.settings != before {
		t.Errorf("a trial: %.300s", body)
	}
	if status, _ := get(t, s, "/settings?by=magic"); status != 400 {
		t.Errorf("a method that there is not: status %d", status)
	}
}

// TestExample holds that the example shows the effect of every convention.
func TestExample(t *testing.T) {
	s, _ := desk(t)
	seen := map[string]string{}
	show := func(query string) {
		status, body := get(t, s, "/settings/example"+query)
		if status != 200 || strings.Contains(body, "<html") || !strings.Contains(body, `<article class="halves"`) {
			t.Fatalf("%s: status %d, %.200s", query, status, body)
		}
		if other, ok := seen[body]; ok {
			t.Errorf("the example is the same for %q and %q", query, other)
		}
		seen[body] = query
	}
	show("")
	for _, k := range conventions.All() {
		for _, w := range k.Words[1:] {
			show("?" + k.Name + "=" + w)
		}
	}
	if status, _ := get(t, s, "/settings/example?by=magic"); status != 400 {
		t.Errorf("a method that there is not: status %d", status)
	}
}

// TestClassFile hands out the conventions as a file, and takes them from one.
func TestClassFile(t *testing.T) {
	s, m := desk(t)
	m.settings = course.Settings{Course: "General Chemistry II", Conventions: redox.Conventions{By: redox.ByStates, Roman: true}}
	w := httptest.NewRecorder()
	s.Handler().ServeHTTP(w, httptest.NewRequest("GET", "http://localhost/settings/class.yaml", nil))
	// RFC 9512 registers application/yaml.
	if w.Body.String() != string(conventions.Write(m.settings.Conventions)) || w.Header().Get("Content-Type") != "application/yaml" || w.Header().Get("Content-Disposition") != `attachment; filename="class.yaml"` {
		t.Errorf("the file: %v\n%s", w.Header(), w.Body)
	}
	kept := m.settings
	m.settings.Conventions = redox.Conventions{}
	if status, _ := file(t, s, "/settings/class", "file", "class.yaml", w.Body.String()); status != http.StatusSeeOther || m.settings != kept {
		t.Errorf("taken back: status %d, %+v, want %+v", status, m.settings, kept)
	}
	for _, test := range []struct {
		name, text string
		status     int
		holds      []string
	}{
		{"a slip", "# mine\nby: halves\nhydronum: true\n", 422, []string{"Line 3, column 1: there is no convention &#34;hydronum&#34;.", "<mark>hydronum</mark>: true", "Did you mean hydronium?"}},
		{"a value, Windows", "by: halves\r\nnames: stok\r\n", 422, []string{"Line 2, column 8", "names: <mark>stok</mark>", "did you mean stock?"}},
		{"a long line", strings.Repeat("x", 5000) + ": true", 422, []string{"Line 1, column 1"}},
		{"hostile", "<script>alert(1)</script>: true\n", 422, []string{"&lt;script&gt;"}},
		{"no text", "\x00\xff\xfe", 422, []string{"not text in UTF-8"}},
		{"too large", strings.Repeat("# a comment\n", 8000), 422, []string{"may have 65536 bytes"}},
		{"1 MB", strings.Repeat("# a comment\n", 100000), 422, []string{"may have 65536 bytes"}},
	} {
		status, body := file(t, s, "/settings/class", "file", "<b>.yaml", test.text)
		if status != test.status || m.settings != kept {
			t.Errorf("%s: status %d, want %d; kept is %+v", test.name, status, test.status, m.settings)
		}
		for _, want := range test.holds {
			if !strings.Contains(body, want) {
				t.Errorf("%s: the page lacks %q", test.name, want)
			}
		}
		if strings.Contains(body, "<script>alert") || len(body) > 150<<10 {
			t.Errorf("%s: %d bytes, or something is not escaped", test.name, len(body))
		}
	}
	for name, r := range map[string]*http.Request{
		"no file":   fileRequest(t, "/settings/class", "file", "", ""),
		"no form":   httptest.NewRequest("POST", "http://localhost/settings/class", strings.NewReader("file=x")),
		"other one": fileRequest(t, "/settings/class", "picture", "x.png", "x"),
	} {
		if status, body := send(t, s, r); status != 422 || !strings.Contains(body, "No file was chosen.") {
			t.Errorf("%s: status %d", name, status)
		}
	}
	m.fail = course.ErrFull
	if status, body := file(t, s, "/settings/class", "file", "class.yaml", "ones: true\n"); status != http.StatusInsufficientStorage || !strings.Contains(body, "disk is full") {
		t.Errorf("a full disk: status %d", status)
	}
}

// backing is a store whose backup is a file.
type backing struct {
	*memory
	text string
	err  error
}

func (b backing) Backup(_ context.Context, path string) error {
	if b.err != nil {
		return b.err
	}
	return os.WriteFile(path, []byte(b.text), 0o600)
}

// temporary makes a folder for temporary files, and returns what is in it.
func temporary(t *testing.T) func() int {
	t.Helper()
	folder := t.TempDir()
	t.Setenv("TMPDIR", folder)
	t.Setenv("TMP", folder) // on Windows
	return func() int {
		entries, err := os.ReadDir(folder)
		if err != nil {
			t.Fatal(err)
		}
		return len(entries)
	}
}

// TestBackup hands out the file that the store makes, and leaves none behind.
func TestBackup(t *testing.T) {
	left := temporary(t)
	s, m := desk(t)
	text := strings.Repeat("all of it\n", 300000)
	s.o.Store = backing{memory: m, text: text}
	r := httptest.NewRequest("POST", "http://localhost/settings/backup", nil)
	w := httptest.NewRecorder()
	s.Handler().ServeHTTP(w, r)
	if w.Code != 200 || w.Body.String() != text || w.Header().Get("Content-Length") != fmt.Sprint(len(text)) {
		t.Errorf("status %d, %d bytes, headers %v", w.Code, w.Body.Len(), w.Header())
	}
	if got := w.Header().Get("Content-Disposition"); got != `attachment; filename="halves-2026-11-26.backup"` {
		t.Errorf("handed out as %s", got)
	}
	for err, status := range map[error]int{course.ErrFull: 507, course.ErrBusy: 503, io.ErrNoProgress: 500} {
		s.o.Store = backing{memory: m, err: err}
		if got, body := post(t, s, "/settings/backup", ""); got != status || !strings.Contains(body, "<html") {
			t.Errorf("%v: status %d, want %d", err, got, status)
		}
	}
	if n := left(); n > 0 {
		t.Errorf("%d temporary files are left", n)
	}
	if status, _ := get(t, s, "/settings/backup"); status == 200 {
		t.Error("a backup by following a link")
	}
}

// A wrongFile is an error as the store has it for a file.
type wrongFile struct{ err error }

func (e *wrongFile) Error() string { return "/tmp/x/123.backup: " + e.err.Error() }
func (e *wrongFile) Unwrap() error { return e.err }
func (e *wrongFile) Hint() string  { return "give the file that Halves made" }

// TestRestore puts a backup back after it was said that it may, and says plainly
// what is wrong.
func TestRestore(t *testing.T) {
	left := temporary(t)
	s, m := desk(t)
	m.questions = []course.Question{{ID: 1, Text: "x"}, {ID: 2, Text: "y"}}
	s.o.Data = "/home/instructor/halves"
	var got string
	var fails error
	s.o.Restore = func(_ context.Context, backup io.Reader) error {
		b, err := io.ReadAll(backup)
		got = string(b)
		return errors.Join(err, fails)
	}
	if status, body := get(t, s, "/settings/restore"); status != 200 || !strings.Contains(body, "2 saved questions") || !strings.Contains(body, "kept as a file beside the new data, in <code class=\"code path\">/home/instructor/halves</code>") {
		t.Errorf("the step before: status %d, %s", status, body)
	}
	large := strings.Repeat("all of it\n", 300000)
	undo := s.changes.add(0, change{})
	if status, _ := file(t, s, "/settings/restore", "backup", "halves.backup", large, "sure", "yes"); status != http.StatusSeeOther || got != large {
		t.Errorf("status %d, %d bytes were put back, want %d", status, len(got), len(large))
	}
	if s.changes.find(undo) != nil {
		t.Error("what was done before can still be taken back")
	}
	for _, test := range []struct {
		name   string
		r      *http.Request
		fails  error
		status int
		holds  string
	}{
		{"not said", fileRequest(t, "/settings/restore", "backup", "x.backup", "x"), nil, 422, "you did not say that it may be"},
		{"no", fileRequest(t, "/settings/restore", "backup", "x.backup", "x", "sure", "no"), nil, 422, "you did not say"},
		{"no file", fileRequest(t, "/settings/restore", "backup", "", "", "sure", "yes"), nil, 422, "No file was chosen."},
		{"other field", fileRequest(t, "/settings/restore", "picture", "x.png", "x", "sure", "yes"), nil, 422, "No file was chosen."},
		{"empty", fileRequest(t, "/settings/restore", "backup", "x.backup", "", "sure", "yes"), nil, 422, "This file is empty."},
		{"no form", httptest.NewRequest("POST", "http://localhost/settings/restore", strings.NewReader("sure=yes")), nil, 422, "No file was chosen."},
		{"wrong", fileRequest(t, "/settings/restore", "backup", "x.backup", "<script>alert(1)</script>", "sure", "yes"), &wrongFile{errors.New("this is not a file of Halves")}, 422, "This is not a file of Halves. Nothing was replaced."},
		{"invalid", fileRequest(t, "/settings/restore", "backup", "x.backup", "x", "sure", "yes"), &course.InvalidError{What: "the file", Msg: "is damaged"}, 422, "The file is damaged."},
		{"busy", fileRequest(t, "/settings/restore", "backup", "x.backup", "x", "sure", "yes"), course.ErrBusy, 503, "Another program"},
		{"full", fileRequest(t, "/settings/restore", "backup", "x.backup", "x", "sure", "yes"), fmt.Errorf("writing: %w", course.ErrFull), 507, "disk is full"},
		{"defect", fileRequest(t, "/settings/restore", "backup", "x.backup", "x", "sure", "yes"), errors.New("/secret/path failed"), 500, "Reference "},
	} {
		got, fails = "", test.fails
		status, body := send(t, s, test.r)
		if status != test.status || !strings.Contains(body, test.holds) || !strings.Contains(body, "2 saved questions") {
			t.Errorf("%s: status %d, want %d, %.1500s", test.name, status, test.status, body)
		}
		if strings.Contains(body, "/tmp/") || strings.Contains(body, "secret") || strings.Contains(body, "<script>alert") {
			t.Errorf("%s: the page tells too much", test.name)
		}
		if test.fails == nil && got != "" {
			t.Errorf("%s: %q was put back", test.name, got)
		}
	}
	r := fileRequest(t, "/settings/restore", "backup", "x.backup", "x", "sure", "yes")
	r.ContentLength = maxRestore + 1<<20
	if status, body := send(t, s, r); status != http.StatusRequestEntityTooLarge || !strings.Contains(body, "A backup may have 1024 MB") {
		t.Errorf("too large: status %d", status)
	}
	r = fileRequest(t, "/settings/restore", "backup", "x.backup", "x", "sure", "yes")
	r.Header.Set("Sec-Fetch-Site", "cross-site")
	if status, _ := send(t, s, r); status != http.StatusForbidden {
		t.Errorf("from another site: status %d", status)
	}
	s.o.Restore = nil
	if status, body := file(t, s, "/settings/restore", "backup", "x.backup", "x", "sure", "yes"); status != http.StatusNotImplemented || !strings.Contains(body, "cannot be put back here") {
		t.Errorf("where it cannot be done: status %d", status)
	}
	if n := left(); n > 0 {
		t.Errorf("%d temporary files are left", n)
	}
}

// TestReceive holds the bounds of a file that streams in.
func TestReceive(t *testing.T) {
	for _, test := range []struct {
		n    int
		want bool
	}{{0, false}, {1, true}, {10, true}, {11, false}, {1000, false}} {
		var b bytes.Buffer
		err := receive(&b, strings.NewReader(strings.Repeat("x", test.n)), 10)
		if (err == nil) != test.want || b.Len() > 11 {
			t.Errorf("%d bytes: %v, %d were taken", test.n, err, b.Len())
		}
	}
	if err := receive(full{}, strings.NewReader("x"), 10); !errors.Is(err, course.ErrFull) {
		t.Errorf("a full disk: %v", err)
	}
}

// full is a disk without room.
type full struct{}

func (full) Write([]byte) (int, error) {
	return 0, &os.PathError{Op: "write", Path: "x", Err: syscall.ENOSPC}
}
