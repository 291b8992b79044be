package web

import (
	"bytes"
	"cmp"
	"encoding/json"
	"fmt"
	"io"
	"net/http"
	"net/http/httptest"
	"net/url"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/goccy/go-yaml"
	"github.com/santhosh-tekuri/jsonschema/v6"

	"halves/conventions"
	"halves/course"
	"halves/redox"
)

// A described API is what the description says, to hold answers to.
type described struct {
	Paths map[string]map[string]struct {
		OperationID string
		Parameters  []struct {
			Name, In string
			Required bool
		}
		RequestBody *struct {
			Content map[string]any
		}
		Responses map[string]struct {
			Headers map[string]any
			Content map[string]struct{ Schema any }
		}
	}
	compiler *jsonschema.Compiler
}

// readDescription asks a desk for its description.
func readDescription(t testing.TB, s *Server) described {
	t.Helper()
	status, body := get(t, s, apiPath+"/openapi.json")
	if status != 200 {
		t.Fatalf("the description: status %d", status)
	}
	var d described
	if err := json.Unmarshal([]byte(body), &d); err != nil {
		t.Fatal(err)
	}
	whole, err := jsonschema.UnmarshalJSON(strings.NewReader(body))
	if err != nil {
		t.Fatal(err)
	}
	d.compiler = jsonschema.NewCompiler()
	d.compiler.DefaultDraft(jsonschema.Draft2020) // OpenAPI 3.1.0, "Schema Object"
	d.compiler.AssertFormat()
	if err := d.compiler.AddResource("openapi.json", whole); err != nil {
		t.Fatal(err)
	}
	return d
}

// hold holds an answer to what the description says of an operation.
func (d described) hold(t *testing.T, method, path string, w *httptest.ResponseRecorder) {
	t.Helper()
	op, ok := d.Paths[path][strings.ToLower(method)]
	if !ok {
		t.Errorf("%s %s is not described", method, path)
		return
	}
	name := fmt.Sprint(w.Code)
	response, ok := op.Responses[name]
	if !ok {
		name = "default"
		if response, ok = op.Responses[name]; !ok || w.Code < 400 {
			t.Errorf("%s %s: status %d is not described", method, path, w.Code)
			return
		}
	}
	for h := range response.Headers {
		if w.Header().Get(h) == "" {
			t.Errorf("%s %s: no header %s", method, path, h)
		}
	}
	kind := w.Header().Get("Content-Type")
	if len(response.Content) == 0 {
		if w.Body.Len() > 0 {
			t.Errorf("%s %s: a body where none is described: %s", method, path, w.Body)
		}
		return
	}
	if _, ok := response.Content[kind]; !ok {
		t.Errorf("%s %s: status %d has the type %q, which is not described", method, path, w.Code, kind)
		return
	}
	escape := strings.NewReplacer("~", "~0", "/", "~1")
	at := fmt.Sprintf("openapi.json#/paths/%s/%s/responses/%s/content/%s/schema", escape.Replace(path), strings.ToLower(method), name, escape.Replace(kind))
	schema, err := d.compiler.Compile(strings.NewReplacer("{", "%7B", "}", "%7D", "+", "%2B").Replace(at))
	if err != nil {
		t.Fatalf("%s %s: %v", method, path, err)
	}
	v, err := jsonschema.UnmarshalJSON(bytes.NewReader(w.Body.Bytes()))
	if strings.HasSuffix(kind, "yaml") {
		var text []byte
		if text, err = yaml.YAMLToJSON(w.Body.Bytes()); err == nil {
			v, err = jsonschema.UnmarshalJSON(bytes.NewReader(text))
		}
	}
	if err != nil {
		t.Errorf("%s %s: %v\n%s", method, path, err, w.Body)
		return
	}
	if err := schema.Validate(v); err != nil {
		t.Errorf("%s %s: status %d: %v\n%.2000s", method, path, w.Code, err, w.Body)
	}
}

// A call is a request to an act, and what must come of it.
type call struct {
	method, path string // as it is described
	at           string // the address where it differs from path
	body         string
	status       int
	holds        string // of the answer
	kind         string // of a problem
}

func (c call) do(t *testing.T, s *Server) *httptest.ResponseRecorder {
	t.Helper()
	r := httptest.NewRequest(c.method, "http://localhost"+cmp.Or(c.at, c.path), strings.NewReader(c.body))
	if c.body != "" {
		r.Header.Set("Content-Type", "application/json")
	}
	w := httptest.NewRecorder()
	s.Handler().ServeHTTP(w, r)
	return w
}

const v1 = apiPath

// calls are of every operation, well and badly. The desk has a question 1, a set
// 2, one question worked, and the conventions of the case before.
var calls = []call{
	{"GET", v1 + "/openapi.json", "", "", 200, `"openapi": "3.1.0"`, ""},
	{"GET", v1 + "/openapi.yaml", "", "", 200, `openapi: 3.1.0`, ""},

	{"POST", v1 + "/work", "", `{"question":"MnO4^- + Fe^2+ -> Mn^2+ + Fe^3+, in acid"}`, 200, `"equation":"MnO4^- + 5 Fe^2+ + 8 H^+ -> Mn^2+ + 5 Fe^3+ + 4 H2O"`, ""},
	{"POST", v1 + "/work", "", `{"question":"Cl2 -> Cl^- + ClO3^-","medium":"basic","conventions":{"by":"states","baseInHalves":true,"names":"stock"},"remember":true}`, 200, `"by":"states"`, ""},
	{"POST", v1 + "/work", "", `{"question":"Cu + HNO3 -> Cu(NO3)2 + NO + H2O"}`, 200, `"spectators"`, ""},
	{"POST", v1 + "/work", "", `{"question":"AgNO3 + NaCl -> AgCl + NaNO3"}`, 200, `"redox":false`, ""},
	{"POST", v1 + "/work", "", `{"question":"MnO4^- + H2C2O4 -> Mn^2+ + co2, in acid"}`, 422, `"offset":27,"width":3`, "unreadable"},
	{"POST", v1 + "/work", "", `{"question":"MnO4^- + Fe^2+ -> Mn^2+ + Fe^3+"}`, 422, `"offset":null`, "medium-needed"},
	{"POST", v1 + "/work", "", `{"question":"Mn^2+ -> MnO4^-, in acid"}`, 422, `"report":{"error"`, "only-oxidation"},
	{"POST", v1 + "/work", "", `{"question":"MnO4^- -> Mn^2+, in acid"}`, 422, `"halves"`, "only-reduction"},
	{"POST", v1 + "/work", "", `{"question":"I2 -> I^- + IO^- + IO3^-, in base"}`, 422, `"equations"`, "many-answers"},
	{"POST", v1 + "/work", "", `{"question":"KClO3 -> KCl","medium":"none"}`, 422, ``, "no-answer"},
	{"POST", v1 + "/work", "", `{"question":"Cu2000000 -> Cu, in acid"}`, 422, `"offset":2,"width":7`, "too-large"},
	{"POST", v1 + "/work", "", `{"question":"Cu","medium":"purple"}`, 422, `"location":"body.medium"`, "invalid"},
	{"POST", v1 + "/work", "", `{"question":"Cu","conventions":{"by":"magic"}}`, 422, `"location":"body.conventions.by"`, "invalid"},
	{"POST", v1 + "/work", "", `{"question":"Cu","conventions":{"roman":"yes"}}`, 422, `"location":"body.conventions.roman"`, "invalid"},
	{"POST", v1 + "/work", "", `{"question":"Cu","answer":"42"}`, 422, `"location":"body.answer"`, "invalid"},
	{"POST", v1 + "/work", "", `{"question":""}`, 422, ``, "invalid"},
	{"POST", v1 + "/work", "", `{"question":"` + strings.Repeat("x", 5000) + `"}`, 422, ``, "invalid"},
	{"POST", v1 + "/work", "", `{"question":"` + strings.Repeat("x", 2<<20) + `"}`, 413, ``, "too-large"},
	{"POST", v1 + "/work", "", `{"question":`, 400, ``, "invalid"},
	{"POST", v1 + "/work", "", ``, 400, ``, "invalid"},
	{"POST", v1 + "/work", "", `[]`, 422, ``, "invalid"},
	{"POST", v1 + "/work", "", `{"question":"\u0000<script>alert(1)</script>\"'"}`, 422, ``, "unreadable"},

	{"GET", v1 + "/read", v1 + "/read?question=" + url.QueryEscape("MnO4- + Fe2+ -> Mn2+ + Fe3+, in acid"), "", 200, `"equation":"MnO4^- + Fe^2+ -> Mn^2+ + Fe^3+"`, ""},
	{"GET", v1 + "/read", v1 + "/read?question=" + url.QueryEscape("permanganate becomes manganese(II), in base"), "", 200, `"notes":[{"kind":"reading"`, ""},
	{"GET", v1 + "/read", v1 + "/read?question=" + url.QueryEscape("MnO4- + co2"), "", 422, ``, "unreadable"},
	{"GET", v1 + "/read", v1 + "/read", "", 422, `"location":"query.question"`, "invalid"},
	{"GET", v1 + "/read", v1 + "/read?question=Cu&colour=blue", "", 422, `"location":"query.colour"`, "invalid"},

	{"POST", v1 + "/mark", "", `{"question":"MnO4^- + Fe^2+ -> Mn^2+ + Fe^3+, in acid","student":"B-07","working":"MnO4^- + 8 H^+ + 5 e^- -> Mn^2+ + 4 H2O\nFe^2+ -> Fe^3+ + e^-\nMnO4^- + 5 Fe^2+ + 8 H^+ -> Mn^2+ + 5 Fe^3+ + 4 H2O"}`, 200, `"finalCorrect":true`, ""},
	{"POST", v1 + "/mark", "", `{"question":"MnO4^- + Fe^2+ -> Mn^2+ + Fe^3+, in acid","working":"MnO4^- + 4 H^+ + 5 e^- -> Mn^2+ + 4 H2O\n<script>\nFe^2+ + e^- -> Fe^3+"}`, 200, `"firstSlip":1`, ""},
	{"POST", v1 + "/mark", "", `{"question":"Fe2O3 + CO -> Fe + CO2","working":"Fe +3 to 0"}`, 200, `"step":"states"`, ""},
	{"POST", v1 + "/mark", "", `{"question":"AgNO3 + NaCl -> AgCl + NaNO3","working":"AgCl"}`, 422, ``, "not-marked"},
	{"POST", v1 + "/mark", "", `{"question":"co2","working":"x"}`, 422, ``, "unreadable"},
	{"POST", v1 + "/mark", "", `{"question":"Zn + Cu^2+ -> Zn^2+ + Cu"}`, 422, `"location":"body"`, "invalid"},

	{"GET", v1 + "/questions", "", "", 200, `"question":"Cl2 -> Cl^- + ClO3^-, in base"`, ""},
	{"GET", v1 + "/questions", v1 + "/questions?search=nothing+of+this", "", 200, `{"questions":[]}`, ""},
	{"GET", v1 + "/questions", v1 + "/questions?search=" + strings.Repeat("x", 300), "", 422, ``, "invalid"},
	{"GET", v1 + "/questions/{id}", v1 + "/questions/1", "", 200, `"id":1`, ""},
	{"GET", v1 + "/questions/{id}", v1 + "/questions/99", "", 404, ``, "not-found"},
	{"GET", v1 + "/questions/{id}", v1 + "/questions/one", "", 422, `"location":"path.id"`, "invalid"},
	{"GET", v1 + "/questions/{id}", v1 + "/questions/0", "", 422, ``, "invalid"},
	{"POST", v1 + "/questions", "", `{"question":"H2O2 + Cr(OH)4^- -> CrO4^2-","medium":"basic","note":"<b>second week</b>"}`, 201, `"note":"<b>second week</b>"`, ""},
	{"POST", v1 + "/questions", "", `{"question":"KClO3 -> KCl","medium":"none"}`, 422, ``, "no-answer"},
	{"POST", v1 + "/questions", "", `{"question":"   "}`, 422, ``, "invalid"},
	{"PUT", v1 + "/questions/{id}", v1 + "/questions/1", `{"question":"Cl2 -> Cl^- + ClO3^-, in base","note":"hot"}`, 200, `"note":"hot"`, ""},
	{"PUT", v1 + "/questions/{id}", v1 + "/questions/99", `{"question":"Zn + Cu^2+ -> Zn^2+ + Cu"}`, 404, ``, "not-found"},
	{"PUT", v1 + "/questions/{id}", v1 + "/questions/1", `{"question":"Zn + Cu"}`, 422, ``, "unreadable"},
	{"DELETE", v1 + "/questions/{id}", v1 + "/questions/1", "", 204, ``, ""},
	{"DELETE", v1 + "/questions/{id}", v1 + "/questions/1", "", 404, ``, "not-found"},

	{"GET", v1 + "/sets", "", "", 200, `"sets":[{"id":2`, ""},
	{"GET", v1 + "/sets/{id}", v1 + "/sets/2", "", 200, `"format":"halves-set"`, ""},
	{"GET", v1 + "/sets/{id}", v1 + "/sets/99", "", 404, ``, "not-found"},
	{"POST", v1 + "/sets", "", `{"wish":{"title":"Week 7","questions":4,"versions":2,"want":["base"],"difficulty":"2-7","shuffle":false,"margin":250,"seed":7}}`, 201, `"title":"Week 7"`, ""},
	{"POST", v1 + "/sets", "", `{"wish":{"questions":0}}`, 422, `whole number`, "wish"},
	{"POST", v1 + "/sets", "", `{"wish":{"want":["bse"]}}`, 422, `Did you mean base?`, "wish"},
	{"POST", v1 + "/sets", "", `{"wish":{"want":["base"],"avoid":["base"]}}`, 422, `cannot both be met`, "wish"},
	{"POST", v1 + "/sets", "", `{"wish":{"questions":200,"versions":8,"from":"library"}}`, 422, ``, "wish"},
	{"POST", v1 + "/sets", "", `{"wish":{"colour":"blue"}}`, 422, `"location":"body.wish.colour"`, "invalid"},
	{"POST", v1 + "/sets", "", `{"wish":{"questions":[4]}}`, 422, ``, "invalid"},
	{"DELETE", v1 + "/sets/{id}", v1 + "/sets/2", "", 204, ``, ""},
	{"DELETE", v1 + "/sets/{id}", v1 + "/sets/2", "", 404, ``, "not-found"},

	{"GET", v1 + "/couples", v1 + "/couples?q=permanganate&above=1&below=1.6", "", 200, `"id":"mno4_1m.mn_2p.acidic"`, ""},
	{"GET", v1 + "/couples", "", "", 200, `"couples":[{"id":`, ""},
	{"GET", v1 + "/couples", v1 + "/couples?q=Mn", "", 200, `"couples":[{"id":`, ""},
	{"GET", v1 + "/couples", v1 + "/couples?above=9", "", 200, `{"couples":[]}`, ""},
	{"GET", v1 + "/couples", v1 + "/couples?above=NaN", "", 200, `{"couples":[]}`, ""},
	{"GET", v1 + "/couples", v1 + "/couples?q=unobtainate", "", 422, ``, "unreadable"},
	{"GET", v1 + "/couples", v1 + "/couples?q=Zz%5E", "", 422, ``, "unreadable"},
	{"GET", v1 + "/couples", v1 + "/couples?above=high", "", 422, `"location":"query.above"`, "invalid"},
	{"GET", v1 + "/potential", v1 + "/potential?half=" + url.QueryEscape("MnO4^- -> Mn^2+"), "", 200, `"E0":1.507`, ""},
	{"GET", v1 + "/potential", v1 + "/potential?half=" + url.QueryEscape("Fe(OH)3 -> Fe(OH)2, in base"), "", 200, `"from":"`, ""},
	{"GET", v1 + "/potential", v1 + "/potential?half=" + url.QueryEscape("Og -> Og^2+"), "", 422, ``, "missing-figure"},
	{"GET", v1 + "/potential", v1 + "/potential?half=" + url.QueryEscape("Zn + Cu^2+ -> Zn^2+ + Cu"), "", 422, ``, "unreadable"},
	{"GET", v1 + "/potential", "", "", 422, ``, "invalid"},

	{"GET", v1 + "/settings", "", "", 200, `"paper":"A4"`, ""},
	{"PUT", v1 + "/settings", "", `{"course":"General Chemistry II","section":"B","paper":"Letter","conventions":{"by":"equations","comma":true,"sulph":true}}`, 200, `"comma":true`, ""},
	{"PUT", v1 + "/settings", "", `{"course":"two\nlines","section":"","paper":"A4","conventions":{}}`, 422, ``, "invalid"},
	{"PUT", v1 + "/settings", "", `{"course":"","section":"","paper":"A5","conventions":{}}`, 422, `"location":"body.paper"`, "invalid"},
	{"PUT", v1 + "/settings", "", `{"course":""}`, 422, ``, "invalid"},

	{"GET", v1 + "/history", "", "", 200, `"question":"Cl2 -> Cl^- + ClO3^-","medium":"basic"`, ""},
	{"DELETE", v1 + "/history", "", "", 204, ``, ""},
	{"GET", v1 + "/history", "", "", 200, `{"worked":[]}`, ""},
}

// apiDesk is a desk with a question 1 and a set 2.
func apiDesk(t *testing.T) (*Server, *memory) {
	t.Helper()
	s, m := desk(t)
	first := call{method: "POST", path: v1 + "/questions", body: `{"question":"Cl2 -> Cl^- + ClO3^-, in base"}`}.do(t, s)
	second := call{method: "POST", path: v1 + "/sets", body: `{"wish":{"questions":3}}`}.do(t, s)
	if first.Header().Get("Location") != v1+"/questions/1" || second.Header().Get("Location") != v1+"/sets/2" {
		t.Fatalf("the desk was not filled: %s %s", first.Body, second.Body)
	}
	return s, m
}

// TestAPI calls every operation, and holds every answer to the description.
func TestAPI(t *testing.T) {
	s, _ := apiDesk(t)
	d := readDescription(t, s)
	called := map[string]int{}
	for _, c := range calls {
		w := c.do(t, s)
		name := fmt.Sprintf("%s %s %.80s", c.method, cmp.Or(c.at, c.path), c.body)
		if w.Code != c.status {
			t.Errorf("%s: status %d, want %d: %.600s", name, w.Code, c.status, w.Body)
			continue
		}
		d.hold(t, c.method, c.path, w)
		if w.Code < 400 {
			called[c.method+" "+c.path]++
		}
		body := w.Body.String()
		if !strings.Contains(body, c.holds) {
			t.Errorf("%s: the answer lacks %q: %.600s", name, c.holds, body)
		}
		if c.kind != "" {
			var p problem
			if err := json.Unmarshal([]byte(strings.Replace(body, `"report":{`, `"x":{`, 1)), &p); err != nil || p.Kind != c.kind || p.Status != c.status {
				t.Errorf("%s: a problem of kind %q, status %d, %v; want %q", name, p.Kind, p.Status, err, c.kind)
			}
		}
		if len(body) > 4<<20 || !utf8.ValidString(body) {
			t.Errorf("%s: %d bytes", name, len(body))
		}
	}
	for path, ops := range d.Paths {
		for method := range ops {
			if name := strings.ToUpper(method) + " " + path; called[name] == 0 {
				t.Errorf("%s is described and was never called with success", name)
			}
		}
	}
}

// TestAPIRoutes holds the routes to the description, and the description to the
// routes.
func TestAPIRoutes(t *testing.T) {
	s, _ := desk(t)
	d := readDescription(t, s)
	var said []string
	for path, ops := range d.Paths {
		for method := range ops {
			said = append(said, strings.ToUpper(method)+" "+path)
		}
	}
	there := newAPI(s, http.NewServeMux()).mux.patterns
	slices.Sort(said)
	slices.Sort(there)
	if !slices.Equal(said, there) {
		t.Errorf("described are\n%s\nand there are\n%s", strings.Join(said, "\n"), strings.Join(there, "\n"))
	}
	for _, name := range said {
		method, path, _ := strings.Cut(name, " ")
		r := httptest.NewRequest(method, "http://localhost"+strings.ReplaceAll(path, "{id}", "1"), nil)
		if _, pattern := s.mux.Handler(r); pattern != name {
			t.Errorf("%s is answered by %q", name, pattern)
		}
	}
	// A route that is put beside newAPI would be seen by nothing above.
	files, err := filepath.Glob("*.go")
	if err != nil {
		t.Fatal(err)
	}
	route := regexp.MustCompile(`mux\.Handle(Func)?\((.*)`)
	for _, f := range files {
		if strings.HasSuffix(f, "_test.go") {
			continue
		}
		text, err := os.ReadFile(f)
		if err != nil {
			t.Fatal(err)
		}
		for _, m := range route.FindAllStringSubmatch(string(text), -1) {
			if (strings.Contains(m[2], "/api/") || strings.Contains(m[2], "apiPath")) && f != "api.go" {
				t.Errorf("%s: a route of the API beside it: %s", f, m[0])
			}
		}
	}
	text, err := os.ReadFile("api.go")
	if err != nil {
		t.Fatal(err)
	}
	if n := len(regexp.MustCompile(`s\.mux\.Handle(Func)?\(`).FindAllString(string(text), -1)); n != 1 {
		t.Errorf("%d routes are put beside the description, want one, for what is no act", n)
	}
}

// TestAPIIsGuarded holds that the API is guarded as the pages are, and that what
// it refuses is a problem too.
func TestAPIIsGuarded(t *testing.T) {
	s, m := apiDesk(t)
	d := readDescription(t, s)
	schema, err := d.compiler.Compile("openapi.json#/components/schemas/Problem")
	if err != nil {
		t.Fatal(err)
	}
	for _, test := range []struct {
		method, url, site, kind, body string
		status                        int
		problem                       string
	}{
		{"DELETE", "http://localhost" + v1 + "/questions/1", "cross-site", "", "", 403, "forbidden"},
		{"POST", "http://localhost" + v1 + "/questions", "cross-site", "text/plain", `{"question":"Zn + Cu^2+ -> Zn^2+ + Cu"}`, 403, "forbidden"},
		{"GET", "http://attacker.example" + v1 + "/questions", "", "", "", 421, "forbidden"},
		{"POST", "http://localhost" + v1 + "/questions", "", "text/plain", `{"question":"Zn + Cu^2+ -> Zn^2+ + Cu"}`, 415, "unsupported"},
		{"POST", "http://localhost" + v1 + "/questions", "", "application/x-www-form-urlencoded", `question=Zn`, 415, "unsupported"},
		{"PATCH", "http://localhost" + v1 + "/questions/1", "", "", "", 405, "method"},
		{"<script>", "http://localhost" + v1 + "/questions/1", "", "", "", 405, "method"},
		{"GET", "http://localhost" + v1 + "/nothing", "", "", "", 404, "not-found"},
		{"GET", "http://localhost/api/v2/work", "", "", "", 404, "not-found"},
		{"GET", "http://localhost" + v1 + "/docs", "", "", "", 404, "not-found"},
		{"GET", "http://localhost" + v1 + "/openapi-3.0.json", "", "", "", 404, "not-found"},
	} {
		r := httptest.NewRequest("GET", test.url, strings.NewReader(test.body))
		r.Method = test.method
		r.Header.Set("Content-Type", test.kind)
		if test.site != "" {
			r.Header.Set("Sec-Fetch-Site", test.site)
		}
		w := httptest.NewRecorder()
		s.Handler().ServeHTTP(w, r)
		v, err := jsonschema.UnmarshalJSON(bytes.NewReader(w.Body.Bytes()))
		if err == nil {
			err = schema.Validate(v)
		}
		if w.Code != test.status || err != nil || !strings.Contains(w.Body.String(), `"kind":"`+test.problem+`"`) || w.Header().Get("Content-Type") != "application/problem+json" {
			t.Errorf("%s %s: status %d, %s, %v", test.method, test.url, w.Code, w.Body, err)
		}
		if strings.Contains(w.Body.String(), "script") || !strings.Contains(w.Header().Get("Content-Security-Policy"), "default-src 'none'") {
			t.Errorf("%s %s: %s", test.method, test.url, w.Body)
		}
	}
	if len(m.questions) != 1 {
		t.Errorf("%d questions are kept, want the one of before", len(m.questions))
	}
}

// TestAPIFailures holds that a store that fails is told plainly, and a defect with
// a reference.
func TestAPIFailures(t *testing.T) {
	s, m := apiDesk(t)
	d := readDescription(t, s)
	for err, want := range map[error]struct {
		status int
		kind   string
	}{
		course.ErrFull:      {507, "full"},
		course.ErrBusy:      {503, "busy"},
		io.ErrUnexpectedEOF: {500, "internal"},
	} {
		m.fail = err
		w := call{method: "POST", path: v1 + "/questions", body: `{"question":"Zn + Cu^2+ -> Zn^2+ + Cu"}`}.do(t, s)
		d.hold(t, "POST", v1+"/questions", w)
		body := w.Body.String()
		if w.Code != want.status || !strings.Contains(body, `"kind":"`+want.kind+`"`) || !strings.Contains(body, "urn:halves:reference:") || strings.Contains(body, "unexpected EOF") {
			t.Errorf("%v: status %d, %s", err, w.Code, body)
		}
	}
	m.fail = nil
	m.sets[0].JSON = []byte("{broken")
	w := call{method: "GET", path: v1 + "/sets/2"}.do(t, s)
	if d.hold(t, "GET", v1+"/sets/{id}", w); w.Code != 500 {
		t.Errorf("a broken set: status %d", w.Code)
	}
	// A panic of a handler is a defect, and the desk goes on.
	s.o.Store = nil
	w = call{method: "GET", path: v1 + "/settings"}.do(t, s)
	if d.hold(t, "GET", v1+"/settings", w); w.Code != 500 {
		t.Errorf("without a store: status %d", w.Code)
	}
}

// TestAPIWritesAsTheCommandLine holds what is answered to the schemas of what the
// command line writes.
func TestAPIWritesAsTheCommandLine(t *testing.T) {
	s, _ := desk(t)
	const q = "MnO4^- + Fe^2+ -> Mn^2+ + Fe^3+, in acid"
	sol, err := redox.Work(q, redox.Unstated, redox.Conventions{})
	if err != nil {
		t.Fatal(err)
	}
	want, err := sol.MarshalJSON()
	if err != nil {
		t.Fatal(err)
	}
	if w := (call{method: "POST", path: v1 + "/work", body: `{"question":"` + q + `"}`}).do(t, s); strings.TrimSpace(w.Body.String()) != string(want) {
		t.Errorf("worked:\n%s\nwant\n%s", w.Body, want)
	}
	text, err := os.ReadFile(filepath.Join("..", "cmd", "halves", "output.schema.json"))
	if err != nil {
		t.Fatal(err)
	}
	doc, err := jsonschema.UnmarshalJSON(bytes.NewReader(text))
	if err != nil {
		t.Fatal(err)
	}
	c := jsonschema.NewCompiler()
	if err := c.AddResource("output.schema.json", doc); err != nil {
		t.Fatal(err)
	}
	for _, test := range []struct {
		def  string
		call call
	}{
		{"couples", call{method: "GET", path: v1 + "/couples"}},
		{"coupleLine", call{method: "GET", path: v1 + "/potential?half=" + url.QueryEscape("MnO4^- -> Mn^2+")}},
		{"marked", call{method: "POST", path: v1 + "/mark", body: `{"question":"` + q + `","student":"B-07","working":"MnO4^- + 4 H^+ + 5 e^- -> Mn^2+ + 4 H2O\nFe^2+ -> Fe^3+ + e^-"}`}},
	} {
		schema, err := c.Compile("output.schema.json#/$defs/" + test.def)
		if err != nil {
			t.Fatal(err)
		}
		body := test.call.do(t, s).Body.String()
		if test.def == "coupleLine" {
			body = strings.Replace(body, "{", `{"id":1,`, 1) // a line has the id of its input
		}
		v, err := jsonschema.UnmarshalJSON(strings.NewReader(body))
		if err == nil {
			err = schema.Validate(v)
		}
		if err != nil {
			t.Errorf("%s: %v\n%.600s", test.def, err, body)
		}
	}
}

// TestConventionsJSON holds that each value of each convention is read as it is
// written, under the name that a solution has.
func TestConventionsJSON(t *testing.T) {
	sol, err := redox.Work("Zn + Cu^2+ -> Zn^2+ + Cu", redox.Unstated, redox.Conventions{})
	if err != nil {
		t.Fatal(err)
	}
	text, err := sol.MarshalJSON()
	if err != nil {
		t.Fatal(err)
	}
	var j struct{ Conventions map[string]any }
	if err := json.Unmarshal(text, &j); err != nil {
		t.Fatal(err)
	}
	for _, k := range conventions.All() {
		for _, word := range k.Words {
			var c redox.Conventions
			if err := k.Set(&c, word); err != nil {
				t.Fatal(err)
			}
			out := newConventionsJSON(c)
			if again, err := out.over(redox.Conventions{}); err != nil || again != c || len(out) != len(j.Conventions) {
				t.Errorf("%s %s: written as %v, read as %+v, %v", k.Name, word, out, again, err)
			}
		}
		if _, ok := j.Conventions[nameInJSON(k.Name)]; !ok {
			t.Errorf("a solution has no %q", nameInJSON(k.Name))
		}
	}
}

// TestDescriptionsAgree holds that both forms of the description are the same, and
// name nothing of elsewhere.
func TestDescriptionsAgree(t *testing.T) {
	s, _ := desk(t)
	_, asJSON := get(t, s, v1+"/openapi.json")
	_, asYAML := get(t, s, v1+"/openapi.yaml")
	var a, b any
	text, err := yaml.YAMLToJSON([]byte(asYAML))
	if err != nil {
		t.Fatal(err)
	}
	if err := json.Unmarshal([]byte(asJSON), &a); err != nil {
		t.Fatal(err)
	}
	if err := json.Unmarshal(text, &b); err != nil {
		t.Fatal(err)
	}
	x, _ := json.Marshal(a)
	y, _ := json.Marshal(b)
	if !bytes.Equal(x, y) {
		t.Error("the description as JSON and as YAML are not the same")
	}
	if strings.Contains(asJSON, "http://") || strings.Contains(asJSON, "https://") || strings.Contains(asJSON, "#/$defs") {
		t.Error("the description refers to elsewhere")
	}
}

// FuzzAPI sends any body to the acts that take one: each answer is as described,
// and none is a defect.
func FuzzAPI(f *testing.F) {
	var acts []string
	for _, c := range calls {
		if c.body == "" || len(c.body) > 1<<10 {
			continue
		}
		name := c.method + " " + c.path
		if !slices.Contains(acts, name) {
			acts = append(acts, name)
		}
		f.Add(slices.Index(acts, name), c.body)
	}
	s, m := desk(f)
	d := readDescription(f, s)
	f.Fuzz(func(t *testing.T, act int, body string) {
		if act < 0 || act >= len(acts) || strings.Contains(body, "questions") {
			return // many questions take their time
		}
		m.settings, m.questions, m.sets, m.history = course.Settings{}, nil, nil, nil
		method, path, _ := strings.Cut(acts[act], " ")
		w := call{method: method, path: path, at: strings.ReplaceAll(path, "{id}", "1"), body: body}.do(t, s)
		if d.hold(t, method, path, w); w.Code >= 500 {
			t.Errorf("%s: status %d: %s", acts[act], w.Code, w.Body)
		}
	})
}
