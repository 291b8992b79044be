package web

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"mime/multipart"
	"net/http"
	"net/http/httptest"
	"net/url"
	"regexp"
	"strings"
	"testing"

	"halves/course"
	"halves/question"
)

// demoDesk is a desk with the demo course.
func demoDesk(t testing.TB) (*Server, *memory) {
	t.Helper()
	s, m := desk(t)
	if err := SeedDemo(context.Background(), m, s.pool, s.o.Now()); err != nil {
		t.Fatal(err)
	}
	return s, m
}

// submit sends a form and returns where the answer leads, with the status and the
// body.
func submit(t testing.TB, s *Server, path string, form url.Values) (status int, body, to string) {
	t.Helper()
	r := httptest.NewRequest("POST", "http://localhost"+path, strings.NewReader(form.Encode()))
	r.Header.Set("Content-Type", "application/x-www-form-urlencoded")
	r.Header.Set("Sec-Fetch-Site", "same-origin")
	w := httptest.NewRecorder()
	s.Handler().ServeHTTP(w, r)
	return w.Code, w.Body.String(), w.Header().Get("Location")
}

// upload sends a form with a file.
func upload(t testing.TB, s *Server, path, field, name string, file []byte, fields url.Values) (status int, body, to string) {
	t.Helper()
	var b bytes.Buffer
	form := multipart.NewWriter(&b)
	for k, all := range fields {
		for _, v := range all {
			if err := form.WriteField(k, v); err != nil {
				t.Fatal(err)
			}
		}
	}
	if field != "" {
		w, err := form.CreateFormFile(field, name)
		if err != nil {
			t.Fatal(err)
		}
		if _, err := w.Write(file); err != nil {
			t.Fatal(err)
		}
	}
	if err := form.Close(); err != nil {
		t.Fatal(err)
	}
	r := httptest.NewRequest("POST", "http://localhost"+path, &b)
	r.Header.Set("Content-Type", form.FormDataContentType())
	r.Header.Set("Sec-Fetch-Site", "same-origin")
	w := httptest.NewRecorder()
	s.Handler().ServeHTTP(w, r)
	return w.Code, w.Body.String(), w.Header().Get("Location")
}

// undo takes back what a page tells, and returns where that leads.
func undo(t testing.TB, s *Server, page string) (status int, to string) {
	t.Helper()
	key := regexp.MustCompile(`name="key" value="([^"]+)"`).FindStringSubmatch(page)
	if key == nil {
		t.Fatal("nothing can be taken back")
	}
	status, _, to = submit(t, s, "/undo", url.Values{"key": {key[1]}})
	return status, to
}

// checkEscaped holds that nothing that was typed became markup.
func checkEscaped(t testing.TB, where, body string) {
	t.Helper()
	for _, bad := range []string{"<script>alert", "<img src=x", "ZgotmplZ", `onmouseover="`} {
		if strings.Contains(body, bad) {
			t.Errorf("%s: the page holds %q", where, bad)
		}
	}
}

// pathOf is an address without its fragment.
func pathOf(to string) string {
	path, _, _ := strings.Cut(to, "#")
	return path
}

// TestQuestions lists what a filter asks for, a page at a time.
func TestQuestions(t *testing.T) {
	s, m := demoDesk(t)
	m.questions = append(m.questions, course.Question{ID: 99, Text: `<script>alert(1)</script>`, Note: `"><img src=x>`})
	library := len(question.Library())
	for _, test := range []struct {
		query  string
		status int
		rows   int
		holds  []string
	}{
		{"", 200, 50, []string{fmt.Sprint(library+6, " questions"), "page 1 of 8", "my own", "coefficient before the carbon", "Not for a set", "difficulty"}},
		{"page=8", 200, library + 6 - 350, []string{"page 8 of 8"}},
		{"page=999", 200, library + 6 - 350, []string{"page 8 of 8"}},
		{"page=x", 200, 50, []string{"page 1 of 8"}},
		{"source=own", 200, 6, []string{"6 questions", "H<sub>2</sub>C<sub>2</sub>O<sub>4</sub>"}},
		{"source=own&q=arsenic", 200, 1, []string{"28 electrons"}},
		{"q=MnO4-&medium=basic&source=library", 200, -1, []string{"in\u00a0base"}},
		{"feature=water-twice&feature=base&least=3&most=6.5", 200, -1, []string{`value="6.5"`, `value="water-twice" checked`, "<details class=\"more\" open"}},
		{"order=hardest&source=library", 200, 50, nil},
		{"order=listed&source=library", 200, 50, []string{"The first example"}},
		{"q=unobtainium", 200, 0, []string{"No question meets this", `value="unobtainium"`}},
		{"least=eleven", 400, 50, []string{"cannot be &#34;eleven&#34;", `value="eleven"`}},
		{"least=6&most=2", 400, 0, []string{"Exchange the two"}},
		{"medium=purple", 400, 50, []string{"o medium is called"}},
		{"feature=watr", 422, 50, []string{"Did you mean water?"}},
		{"q=" + strings.Repeat("a", 300), 400, 50, []string{"cannot be looked for"}},
		{"q=%3Cscript%3Ealert(1)%3C/script%3E&order=%22%3E%3Cimg%20src=x%3E", 200, 1, nil},
		{"q=%00%ff", 200, 0, nil},
	} {
		status, body := get(t, s, "/questions?"+test.query)
		if status != test.status {
			t.Errorf("%s: status %d, want %d", test.query, status, test.status)
		}
		if n := strings.Count(body, `<tr role="row"><td role="cell" class="pick">`); n != test.rows && test.rows >= 0 || n == 0 && test.rows < 0 {
			t.Errorf("%s: %d questions, want %d", test.query, n, test.rows)
		}
		for _, want := range test.holds {
			if !strings.Contains(body, want) {
				t.Errorf("%s: the page lacks %q", test.query, want)
			}
		}
		checkEscaped(t, test.query, body)
		if len(body) > 150<<10 {
			t.Errorf("%s: %d bytes", test.query, len(body))
		}
	}
	// The order of the difficulties.
	_, body := get(t, s, "/questions?order=hardest&source=library")
	var last float64 = 11
	for _, d := range regexp.MustCompile(`difficulty </span>([0-9.]+)`).FindAllStringSubmatch(body, -1) {
		var x float64
		if _, err := fmt.Sscan(d[1], &x); err != nil || x > last {
			t.Errorf("difficulty %s after %v", d[1], last)
		}
		last = x
	}
	if last == 11 {
		t.Error("no difficulties are shown")
	}
	// Someone who has nothing yet is led on.
	s, _ = desk(t)
	if _, body := get(t, s, "/questions?source=own"); !strings.Contains(body, "no questions of your own yet") || strings.Contains(body, `id="adding"`) {
		t.Error("the page without questions does not lead on")
	}
}

// TestKeepQuestion keeps what can be worked, and gives the rest back as typed.
func TestKeepQuestion(t *testing.T) {
	s, m := desk(t)
	good := url.Values{"text": {" MnO4^- + Fe^2+ -> Mn^2+ + Fe^3+ "}, "medium": {"acidic"}, "note": {"<script>alert(1)</script>"}}
	status, _, to := submit(t, s, "/questions", good)
	if status != http.StatusSeeOther || len(m.questions) != 1 || m.questions[0].Text != "MnO4^- + Fe^2+ -> Mn^2+ + Fe^3+" || m.questions[0].Created != s.o.Now() {
		t.Fatalf("status %d, kept %+v", status, m.questions)
	}
	_, body := get(t, s, to)
	if !strings.Contains(body, "Kept: ") || !strings.Contains(body, "Undo") {
		t.Error("what was kept is not told")
	}
	checkEscaped(t, "the list", body)
	if _, _, to := submit(t, s, "/questions", good); len(m.questions) != 1 || to == "" {
		t.Error("a question is kept twice")
	}
	if status, _ := undo(t, s, body); status != http.StatusSeeOther || len(m.questions) != 0 {
		t.Errorf("taken back: status %d, %d left", status, len(m.questions))
	}
	// A reaction that is no redox reaction has an answer too.
	if status, _, _ := submit(t, s, "/questions", url.Values{"text": {"AgNO3 + NaCl -> AgCl + NaNO3"}}); status != http.StatusSeeOther || len(m.questions) != 1 {
		t.Errorf("no redox reaction: status %d", status)
	}
	for _, test := range []struct {
		name   string
		form   url.Values
		status int
		holds  []string
	}{
		{"wrong case", url.Values{"text": {"MnO4^- + H2C2O4 -> Mn^2+ + co2, in acid"}, "note": {"my note"}}, 422, []string{"<mark>co2</mark>", "did you mean CO2?", `value="my note"`, "co2, in acid</textarea>"}},
		{"empty", url.Values{"text": {" "}, "note": {"n"}}, 422, []string{"is empty", `value="n"`}},
		{"no medium", url.Values{"text": {"MnO4^- + Fe^2+ -> Mn^2+ + Fe^3+"}}, 422, []string{"choose the medium"}},
		{"unknown medium", url.Values{"text": {"Zn + Cu^2+ -> Zn^2+ + Cu"}, "medium": {"<script>alert(1)"}}, 400, []string{"o medium is called"}},
		{"markup", url.Values{"text": {`<script>alert("1")</script>`}, "note": {`" onmouseover="x`}}, 422, []string{"&lt;script&gt;"}},
		{"null bytes", url.Values{"text": {"Zn\x00 + Cu^2+ -> Zn^2+ + Cu"}}, 422, nil},
		{"no text", url.Values{"text": {"\xff\xfe -> Zn"}}, 422, nil},
		{"long", url.Values{"text": {strings.Repeat("Zn + ", 2000)}}, 422, []string{"is longer than"}},
		{"long note", url.Values{"text": {"Zn + Cu^2+ -> Zn^2+ + Cu, in acid"}, "note": {strings.Repeat("n", 5000)}}, 422, []string{"is longer than"}},
		{"a megabyte", url.Values{"text": {strings.Repeat("a", 2<<20)}}, 413, []string{"cannot be taken at a time"}},
	} {
		status, body, _ := submit(t, s, "/questions", test.form)
		if status != test.status || len(m.questions) != 1 {
			t.Errorf("%s: status %d, want %d; %d kept", test.name, status, test.status, len(m.questions))
		}
		for _, want := range test.holds {
			if !strings.Contains(body, want) {
				t.Errorf("%s: the page lacks %q", test.name, want)
			}
		}
		checkEscaped(t, test.name, body)
	}
	// A full disk keeps what was typed in the page.
	m.fail = course.ErrFull
	status, body, _ = submit(t, s, "/questions", url.Values{"text": {"Zn + Cu^2+ -> Zn^2+ + Cu, in acid"}, "note": {"keep me"}})
	if status != http.StatusInsufficientStorage || !strings.Contains(body, "The disk is full") || !strings.Contains(body, "keep me") || !strings.Contains(body, "Zn&#43;") && !strings.Contains(body, "Zn &#43; Cu^2&#43;") {
		t.Errorf("a full disk: status %d", status)
	}
	m.fail = errors.New("secret of the store")
	status, body, _ = submit(t, s, "/questions", url.Values{"text": {"Zn + Cu^2+ -> Zn^2+ + Cu, in acid"}})
	if status != 500 || strings.Contains(body, "secret") || !strings.Contains(body, "Reference ") {
		t.Errorf("a store that fails: status %d", status)
	}
}

// TestOneQuestion changes and deletes an own question, and takes both back.
func TestOneQuestion(t *testing.T) {
	s, m := demoDesk(t)
	first := m.questions[0]
	page := fmt.Sprintf("/questions/%d", first.ID)
	if status, body := get(t, s, page); status != 200 || !strings.Contains(body, first.Note[:20]) || !strings.Contains(body, "Yes, delete it") {
		t.Errorf("status %d", status)
	}
	status, _, to := submit(t, s, page, url.Values{"text": {"Zn + Cu^2+ -> Zn^2+ + Cu"}, "medium": {"neutral"}, "note": {"new"}})
	if status != http.StatusSeeOther || m.questions[0].Note != "new" || m.questions[0].Created != first.Created {
		t.Fatalf("status %d, %+v", status, m.questions[0])
	}
	_, body := get(t, s, to)
	if undo(t, s, body); m.questions[0] != first {
		t.Errorf("taken back: %+v", m.questions[0])
	}
	if status, body, _ := submit(t, s, page, url.Values{"text": {"Zn + Cu^2+ -> zn"}, "note": {"typed"}}); status != 422 || !strings.Contains(body, "typed</textarea>") || !strings.Contains(body, "<mark>") || m.questions[0] != first {
		t.Errorf("what cannot be worked: status %d", status)
	}
	status, _, to = submit(t, s, page+"/delete", nil)
	if status != http.StatusSeeOther || len(m.questions) != 4 {
		t.Fatalf("deleting: status %d", status)
	}
	_, body = get(t, s, to)
	if !strings.Contains(body, "Deleted: ") {
		t.Error("what was deleted is not told")
	}
	undo(t, s, body)
	if last := m.questions[len(m.questions)-1]; len(m.questions) != 5 || last.Text != first.Text || last.Note != first.Note || last.Created != first.Created {
		t.Errorf("taken back: %+v", last)
	}
	// It cannot be taken back twice.
	key := regexp.MustCompile(`name="key" value="([^"]+)"`).FindStringSubmatch(body)[1]
	if status, body, _ := submit(t, s, "/undo", url.Values{"key": {key}}); status != http.StatusGone || len(m.questions) != 5 || !strings.Contains(body, "cannot be taken back") {
		t.Errorf("taken back twice: status %d", status)
	}
	for path, want := range map[string]int{"/questions/77": 404, "/questions/x": 404, "/questions/007": 404, "/questions/-1": 404} {
		if status, _ := get(t, s, path); status != want {
			t.Errorf("%s: status %d, want %d", path, status, want)
		}
		if status, _, _ := submit(t, s, path+"/delete", nil); status != want {
			t.Errorf("deleting %s: status %d, want %d", path, status, want)
		}
	}
}

// TestAddToSet makes sets of chosen questions, and adds to sets.
func TestAddToSet(t *testing.T) {
	s, m := demoDesk(t)
	own := fmt.Sprintf("own:%d", m.questions[0].ID)
	status, _, to := submit(t, s, "/questions/add", url.Values{"pick": {"library:zinc-copper", own, "library:zinc-copper"}, "set": {"new"}, "title": {"  Chosen & <script>alert(1)</script>"}})
	if status != http.StatusSeeOther || len(m.sets) != 4 {
		t.Fatalf("status %d, %d sets", status, len(m.sets))
	}
	set := m.sets[3]
	if set.Title != "Chosen & <script>alert(1)</script>" || set.Count != 2 || set.Version != 1 {
		t.Errorf("the new set is %+v", set)
	}
	status, body := get(t, s, to)
	if status != 200 || !strings.Contains(body, "A new set of 2 questions. Left out: ") || !strings.Contains(body, "question 1 already") {
		t.Errorf("status %d: what was left out is not told", status)
	}
	checkEscaped(t, "the new set", body)
	// To a set of one version, and to one of four.
	for _, kept := range m.sets[:3] {
		status, _, to := submit(t, s, "/questions/add", url.Values{"pick": {"library:copper-silver"}, "set": {fmt.Sprint(kept.ID)}})
		now, _ := m.Set(context.Background(), kept.ID)
		if status != http.StatusSeeOther || now.Count != kept.Count+1 {
			t.Fatalf("%s: status %d, %d questions", kept.Title, status, now.Count)
		}
		status, body := get(t, s, pathOf(to))
		if status != 200 || !strings.Contains(body, "1 question was added at the end.") || !strings.HasSuffix(to, fmt.Sprintf("#q%d", now.Count)) {
			t.Errorf("%s: status %d, led to %s", kept.Title, status, to)
		}
		read, err := question.ReadSet(now.JSON, nil)
		if err != nil || len(read.Notes) > 0 {
			t.Errorf("%s: %v, %v", kept.Title, read, err)
		}
		undo(t, s, body)
		if back, _ := m.Set(context.Background(), kept.ID); !bytes.Equal(back.JSON, kept.JSON) {
			t.Errorf("%s is not as it was", kept.Title)
		}
	}
	for _, test := range []struct {
		form   url.Values
		status int
		holds  string
	}{
		{url.Values{"set": {"new"}, "title": {"My title"}}, 422, "No question was chosen"},
		{url.Values{"set": {"new"}, "pick": {"library:nothing"}}, 422, "no such question"},
		{url.Values{"set": {"new"}, "pick": {"own:999"}}, 404, "no question 999"},
		{url.Values{"set": {"new"}, "pick": {"own:x"}}, 400, "no question"},
		{url.Values{"set": {"new"}, "pick": {"<script>alert(1)"}}, 400, "no question"},
		{url.Values{"set": {"999"}, "pick": {own}}, 404, "no set 999"},
		{url.Values{"set": {"x"}, "pick": {own}}, 422, "No set was chosen"},
		{url.Values{"set": {"new"}, "pick": {own}, "title": {strings.Repeat("t", 300)}, "back": {"source=own"}}, 422, `value="` + own + `" form="adding" aria-labelledby="e4" checked`},
	} {
		status, body, _ := submit(t, s, "/questions/add", test.form)
		if status != test.status || !strings.Contains(body, test.holds) || len(m.sets) != 4 {
			t.Errorf("%v: status %d, want %d; %d sets", test.form, status, test.status, len(m.sets))
		}
		if title := test.form.Get("title"); !strings.Contains(body, title) {
			t.Errorf("%v: the title is lost", test.form)
		}
		checkEscaped(t, fmt.Sprint(test.form), body)
	}
	if _, body := get(t, s, fmt.Sprintf("/questions?set=%d", m.sets[0].ID)); !strings.Contains(body, "Adding to") || !strings.Contains(body, fmt.Sprintf(`value="%d" selected`, m.sets[0].ID)) {
		t.Error("the set that is added to is not chosen")
	}
}

// TestImport reads many lines, says what is wrong with each, and keeps the others.
func TestImport(t *testing.T) {
	s, m := demoDesk(t)
	text := "# week 7\r\nMnO4^- + H2C2O4 -> Mn^2+ + co2, in acid\r\nSn^2+ + Fe^3+ -> Sn^4+ + Fe^2+, in acid\r\n<script>alert(1)</script>\r\nAgNO3 + NaCl -> AgCl + NaNO3\r\nH2C2O4 + MnO4^- -> CO2 + Mn^2+, in acid\r\nZn + Cu^2+ -> Zn^2+ + Cu, in acid"
	holds := []string{"2 questions can be kept. 1 is among yours already. 3 lines cannot be taken.", "Line 2", "<mark>co2</mark>", "did you mean CO2?", "Line 4", "Line 5", "no half-reactions", "Keep the 2"}
	for name, send := range map[string]func(do string) (int, string, string){
		"a field": func(do string) (int, string, string) {
			return upload(t, s, importPath, "", "", nil, url.Values{"text": {text}, "do": {do}})
		},
		"a file": func(do string) (int, string, string) {
			return upload(t, s, importPath, "file", "<script>.txt", []byte("\ufeff"+text), url.Values{"text": {""}, "do": {do}})
		},
		"a plain form": func(do string) (int, string, string) {
			return submit(t, s, importPath, url.Values{"text": {text}, "do": {do}})
		},
	} {
		status, body, _ := send("read")
		if status != 200 || len(m.questions) != 5 {
			t.Errorf("%s: status %d, %d questions", name, status, len(m.questions))
		}
		for _, want := range holds {
			if !strings.Contains(body, want) {
				t.Errorf("%s: the page lacks %q", name, want)
			}
		}
		checkEscaped(t, name, body)
		status, _, to := send("keep")
		if status != http.StatusSeeOther || len(m.questions) != 7 || m.questions[5].Text != "Sn^2+ + Fe^3+ -> Sn^4+ + Fe^2+" || m.questions[5].Medium != "acidic" {
			t.Fatalf("%s: keeping: status %d, %d questions", name, status, len(m.questions))
		}
		_, body = get(t, s, to)
		if !strings.Contains(body, "2 questions were kept. 3 lines were left out.") {
			t.Errorf("%s: what was kept is not told", name)
		}
		if undo(t, s, body); len(m.questions) != 5 {
			t.Errorf("%s: taken back: %d questions", name, len(m.questions))
		}
	}
	many := strings.Repeat("# nothing\n", mostLinesIn+1)
	for _, test := range []struct {
		name, text string
		status     int
		holds      string
	}{
		{"nothing", " \n", 422, "No question was sent"},
		{"nothing to keep", "# only this", 422, "nothing to keep"},
		{"too many", many, 422, "Part them"},
		{"no text", "\xff\xfe\x00Zn", 422, "UTF-8"},
		{"null bytes", "Zn\x00 + Cu^2+ -> Zn^2+ + Cu", 422, "Line 1"},
		{"too large", strings.Repeat("x", 5<<20), 413, "cannot be taken at a time"},
	} {
		status, body, _ := upload(t, s, importPath, "", "", nil, url.Values{"text": {test.text}, "do": {"keep"}})
		if status != test.status || !strings.Contains(body, test.holds) || len(m.questions) != 5 {
			t.Errorf("%s: status %d, want %d; the page has %q: %v", test.name, status, test.status, test.holds, strings.Contains(body, test.holds))
		}
	}
	// Between 1 MB and 4 MB is let in here, and nowhere else.
	if status, _, _ := upload(t, s, importPath, "file", "q.txt", []byte(strings.Repeat("#"+strings.Repeat("x", 2000)+"\n", 1500)), nil); status != 200 {
		t.Errorf("3 MB: status %d", status)
	}
	m.fail = course.ErrBusy
	status, body, _ := upload(t, s, importPath, "", "", nil, url.Values{"text": {text}, "do": {"keep"}})
	if status != http.StatusServiceUnavailable || !strings.Contains(body, "0 of 2 were kept") || !strings.Contains(body, "Sn^2&#43;") {
		t.Errorf("a store that is held: status %d", status)
	}
	if status, body := get(t, s, importPath); status != 200 || !strings.Contains(body, "One question a line") {
		t.Errorf("the empty page: status %d", status)
	}
}

// TestOwnWorks remembers what was worked, no more than so much.
func TestOwnWorks(t *testing.T) {
	o := &ownWorks{}
	q := course.Question{ID: 3, Text: "Zn + Cu^2+ -> Zn^2+ + Cu, in acid", Note: "n"}
	a, err := o.work(q)
	if err != nil || a.ID != "own:3" || a.Note != "n" || a.Text != "Zn + Cu^2+ -> Zn^2+ + Cu" {
		t.Fatalf("%+v, %v", a, err)
	}
	q.ID, q.Note = 4, ""
	if b, err := o.work(q); err != nil || b.ID != "own:4" || b.Note != "" || a.ID != "own:3" {
		t.Errorf("%+v, %v: what was remembered is of another question", b, err)
	}
	for i := range mostOwnWorks + 10 {
		_, _ = o.work(course.Question{Text: fmt.Sprint(i)})
	}
	if len(o.all) > mostOwnWorks {
		t.Errorf("%d are remembered", len(o.all))
	}
}

// TestChanges keeps what was done lately, within bounds.
func TestChanges(t *testing.T) {
	c := &changes{}
	var keys []string
	for range mostChanges + 5 {
		keys = append(keys, c.add(1000, change{}))
	}
	if c.find(keys[0]) != nil || c.find(keys[len(keys)-1]) == nil || len(c.all) != mostChanges {
		t.Errorf("%d changes are kept", len(c.all))
	}
	big := &course.Set{JSON: make([]byte, mostUndo/2)}
	for range 4 {
		keys = append(keys, c.add(0, change{set: big}))
	}
	if c.size > mostUndo {
		t.Errorf("%d bytes are kept", c.size)
	}
	c.forget(keys[len(keys)-1])
	if c.find(keys[len(keys)-1]) != nil {
		t.Error("what was forgotten is found")
	}
	seen := map[string]bool{}
	for _, k := range keys {
		if seen[k] {
			t.Errorf("two changes have the key %s", k)
		}
		seen[k] = true
	}
}

// BenchmarkQuestions is the page with 50 of the library's questions.
func BenchmarkQuestions(b *testing.B) {
	s, _ := demoDesk(b)
	b.ReportAllocs()
	for b.Loop() {
		if status, _ := get(b, s, "/questions"); status != 200 {
			b.Fatal(status)
		}
	}
}
