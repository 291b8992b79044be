package web

import (
	"net/http"
	"net/http/httptest"
	"net/url"
	"strings"
	"testing"
)

// TestWork works questions on the page, and keeps what was typed where that fails.
func TestWork(t *testing.T) {
	s, m := desk(t)
	for _, test := range []struct {
		query  url.Values
		status int
		holds  []string
	}{
		{nil, 200, []string{"Work an equation", "To begin with", "MnO4^-"}},
		{url.Values{"q": {"MnO4^- + Fe^2+ -> Mn^2+ + Fe^3+, in acid"}}, 200, []string{"The answer", "Does it go?", "/board?", "data-copy"}},
		{url.Values{"q": {"MnO4^- + Fe^2+ -> Mn^2+ + Fe^3+"}, "medium": {"acidic"}, "hydronium": {"true"}}, 200, []string{"The answer", "hydronium=true"}},
		{url.Values{"q": {"MnO4^- + H2C2O4 -> Mn^2+ + co2, in acid"}}, 422, []string{"<mark>co2</mark>", "did you mean CO2?", "MnO4^- &#43; H2C2O4 -&gt; Mn^2&#43; &#43; co2, in acid"}},
		{url.Values{"q": {"MnO4^- + Fe^2+ -> Mn^2+ + Fe^3+"}}, 422, []string{"medium"}},
		{url.Values{"q": {"Mn^2+ -> MnO4^-, in acid"}}, 422, []string{"The oxidation half"}},
		{url.Values{"q": {"x"}, "medium": {"purple"}}, 400, []string{"o medium is called"}},
		{url.Values{"q": {"<script>alert(1)</script>"}}, 422, []string{"&lt;script&gt;"}},
	} {
		status, body := get(t, s, "/work?"+test.query.Encode())
		if status != test.status {
			t.Errorf("%v: status %d, want %d", test.query, status, test.status)
		}
		for _, want := range test.holds {
			if !strings.Contains(body, want) {
				t.Errorf("%v: the page lacks %q", test.query, want)
			}
		}
		if strings.Contains(body, "<script>alert") || strings.Contains(body, "ZgotmplZ") {
			t.Errorf("%v: something is not escaped", test.query)
		}
	}
	if len(m.history) != 2 {
		t.Errorf("%d questions are remembered, want the two that were worked", len(m.history))
	}
	if _, body := get(t, s, "/"); !strings.Contains(body, "Worked lately") {
		t.Error("the history is not shown")
	}
	if status, _ := post(t, s, "/history/forget", ""); status != http.StatusSeeOther || len(m.history) != 0 {
		t.Errorf("forgetting: status %d, %d left", status, len(m.history))
	}
}

// TestRead answers while one types.
func TestRead(t *testing.T) {
	s, _ := desk(t)
	for q, want := range map[string]string{
		"MnO4- + Fe2+ -> Mn2+ + Fe3+": "read as",
		"MnO4^- + H2C2O4 -> co2":      "<mark>co2</mark>",
		"":                            "",
		"MnO4^- + Fe":                 "",
	} {
		status, body := get(t, s, "/read?q="+url.QueryEscape(q))
		if status != 200 || !strings.Contains(body, want) || strings.Contains(body, "<html") {
			t.Errorf("%q: status %d, %s", q, status, body)
		}
	}
}

// TestFiles hands a solution out in each format.
func TestFiles(t *testing.T) {
	s, _ := desk(t)
	q := "?q=" + url.QueryEscape("MnO4^- + Fe^2+ -> Mn^2+ + Fe^3+, in acid")
	for format, begins := range map[string]string{"html": "<!DOCTYPE html>", "tex": `\documentclass`, "md": "# ", "txt": "MnO", "pdf": "%PDF-", "docx": "PK", "pptx": "PK"} {
		status, body := get(t, s, "/work."+format+q)
		if status != 200 || !strings.HasPrefix(body, begins) {
			t.Errorf("%s: status %d, begins %.20q", format, status, body)
		}
	}
	if status, body := get(t, s, "/work.pdf?q=nonsense"); status != 422 || !strings.Contains(body, "<html") {
		t.Errorf("what cannot be worked: status %d", status)
	}
}

// TestGuard refuses other names, other sites, and too much.
func TestGuard(t *testing.T) {
	s, m := desk(t)
	for _, test := range []struct {
		method, url, site, body string
		status                  int
	}{
		{"GET", "http://127.0.0.1:8080/", "", "", 200},
		{"GET", "http://[::1]:8080/", "", "", 200},
		{"GET", "http://attacker.example/", "", "", http.StatusMisdirectedRequest},
		{"GET", "http://localhost.attacker.example/", "", "", http.StatusMisdirectedRequest},
		{"POST", "http://localhost/history/forget", "cross-site", "", http.StatusForbidden},
		{"POST", "http://localhost/history/forget", "same-origin", "", http.StatusSeeOther},
		{"GET", "http://localhost/nothing", "", "", 404},
	} {
		r := httptest.NewRequest(test.method, test.url, strings.NewReader(test.body))
		if test.site != "" {
			r.Header.Set("Sec-Fetch-Site", test.site)
		}
		w := httptest.NewRecorder()
		s.Handler().ServeHTTP(w, r)
		if w.Code != test.status {
			t.Errorf("%s %s from %q: status %d, want %d", test.method, test.url, test.site, w.Code, test.status)
		}
		if csp := w.Header().Get("Content-Security-Policy"); !strings.Contains(csp, "default-src 'none'") || strings.Contains(csp, "unsafe") {
			t.Errorf("%s: policy %q", test.url, csp)
		}
	}
	_ = m
}
