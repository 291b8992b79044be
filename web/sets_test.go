package web

import (
	"archive/zip"
	"bytes"
	"context"
	"encoding/csv"
	"errors"
	"fmt"
	"net/http"
	"net/http/httptest"
	"net/url"
	"regexp"
	"strings"
	"testing"

	"halves/course"
	"halves/question"
)

// The sets of the demo course, by their places in the store.
const (
	quizSet = iota
	examSet
	worksheetSet
)

// keptOf reads a set of the store.
func keptOf(t testing.TB, m *memory, id int64) *question.Set {
	t.Helper()
	kept, err := m.Set(context.Background(), id)
	if err != nil {
		t.Fatal(err)
	}
	set, err := question.ReadSet(kept.JSON, nil)
	if err != nil {
		t.Fatal(err)
	}
	if kept.Title != set.Wish.Title || kept.Count != len(set.Versions[0].Items) || kept.Version != len(set.Versions) {
		t.Errorf("what the list says of %q is not so", kept.Title)
	}
	return set
}

// textsOf are the questions of a version in their order.
func textsOf(set *question.Set, version int) []string {
	var out []string
	for _, x := range set.Versions[version].Items {
		out = append(out, x.Question.Text)
	}
	return out
}

// TestSets lists, copies and deletes sets, and takes that back.
func TestSets(t *testing.T) {
	s, _ := desk(t)
	if status, body := get(t, s, "/sets"); status != 200 || !strings.Contains(body, "No sets yet") || !strings.Contains(body, "/sets/new") || !strings.Contains(body, "/questions") {
		t.Errorf("without sets: status %d", status)
	}
	s, m := demoDesk(t)
	m.sets[0].Title = `"><script>alert(1)</script>`
	status, body := get(t, s, "/sets")
	if status != 200 || !strings.Contains(body, "8 questions in 4 versions") || strings.Count(body, `<li><div><h2>`) != 3 {
		t.Errorf("status %d", status)
	}
	checkEscaped(t, "the list", body)
	exam := m.sets[examSet]
	page := fmt.Sprintf("/sets/%d", exam.ID)
	status, _, to := submit(t, s, page+"/copy", nil)
	if status != http.StatusSeeOther || len(m.sets) != 4 || m.sets[3].Title != exam.Title+" (copy)" {
		t.Fatalf("copying: status %d, %d sets", status, len(m.sets))
	}
	if keptOf(t, m, m.sets[3].ID).Code != keptOf(t, m, exam.ID).Code {
		t.Error("the copy is another set")
	}
	if _, body := get(t, s, to); !strings.Contains(body, "This is the copy") {
		t.Error("the copy is not told")
	}
	status, _, to = submit(t, s, page+"/delete", nil)
	if status != http.StatusSeeOther || len(m.sets) != 3 {
		t.Fatalf("deleting: status %d", status)
	}
	_, body = get(t, s, to)
	if !strings.Contains(body, "Deleted: "+exam.Title) {
		t.Error("what was deleted is not told")
	}
	if _, to := undo(t, s, body); len(m.sets) != 4 || !bytes.Equal(m.sets[3].JSON, exam.JSON) || !strings.HasPrefix(to, fmt.Sprintf("/sets/%d?", m.sets[3].ID)) {
		t.Errorf("taken back: %d sets, led to %s", len(m.sets), to)
	}
	for _, path := range []string{"/sets/999", "/sets/x", "/sets/999/paper", "/sets/999/replace?item=1", "/sets/999/paper/key.pdf", "/sets/999/export.csv", "/sets/999/qti22.zip"} {
		if status, _ := get(t, s, path); status != 404 {
			t.Errorf("%s: status %d", path, status)
		}
	}
	for _, act := range []string{"change", "replace", "title", "another", "copy", "delete"} {
		if status, _, _ := submit(t, s, "/sets/999/"+act, nil); status != 404 {
			t.Errorf("%s of no set: status %d", act, status)
		}
	}
	// What is kept and cannot be read is told, not a defect.
	m.sets[0].JSON = []byte(`{"format": "<script>alert(1)</script>"}`)
	status, body = get(t, s, fmt.Sprintf("/sets/%d", m.sets[0].ID))
	if status != 422 || !strings.Contains(body, "no set of this program") {
		t.Errorf("a set that cannot be read: status %d", status)
	}
	checkEscaped(t, "a set that cannot be read", body)
}

// TestCopyTitle keeps titles within their bound.
func TestCopyTitle(t *testing.T) {
	for title, want := range map[string]string{
		"Week 3":                 "Week 3 (copy)",
		"Week 3 (copy)":          "Week 3 (copy)",
		strings.Repeat("é", 100): strings.Repeat("é", 96) + " (copy)",
	} {
		if got := copyTitle(title); got != want {
			t.Errorf("copyTitle(%q) = %q, want %q", title, got, want)
		}
	}
}

// wishOf is the form of a wish as the page sends it.
func wishOf(change func(url.Values)) url.Values {
	w := question.NewWish()
	f := formOfWish(&w)
	f.Set("title", "My <set>")
	if change != nil {
		change(f.Values)
	}
	return f.Values
}

// TestNewSet grants wishes, and gives those that cannot be met back as typed.
func TestNewSet(t *testing.T) {
	s, m := demoDesk(t)
	status, body := get(t, s, "/sets/new")
	for _, want := range []string{"Tarn Hollow College", "my own (5)", "water in both halves", "name what is oxidized", `name="media" value="acidic" checked`, `value="true" checked`} {
		if status != 200 || !strings.Contains(body, want) {
			t.Errorf("the form: status %d, without %q", status, want)
		}
	}
	for _, test := range []struct {
		name   string
		change func(url.Values)
		check  func(*question.Set) bool
	}{
		{"as usual", nil, func(x *question.Set) bool { return len(x.Versions[0].Items) == 10 && x.Wish.Title == "My <set>" }},
		{"versions", func(f url.Values) { f.Set("questions", "4"); f.Set("versions", "3"); f.Del("shuffle") }, func(x *question.Set) bool { return len(x.Versions) == 3 && !x.Wish.Shuffle }},
		{"features", func(f url.Values) { f["want"] = []string{"water-twice"}; f["avoid"] = []string{"complex", "organic"} }, func(x *question.Set) bool {
			return x.Wish.Want == question.WaterTwice && x.Wish.Avoid == question.Complex|question.Organic
		}},
		{"difficulty", func(f url.Values) { f.Set("least", "3") }, func(x *question.Set) bool { return x.Wish.Least == 30 && x.Wish.Most == 100 }},
		{"choices", func(f url.Values) { f["ask"] = []string{"electrons", "agents"}; f.Set("choices", "4") }, func(x *question.Set) bool { return x.Versions[0].Items[0].Options != nil }},
		{"species", func(f url.Values) { f.Set("couples", " MnO4-, Fe^2+ ; Cu"); f.Set("questions", "3") }, func(x *question.Set) bool { return len(x.Wish.Couples) == 3 }},
		{"own", func(f url.Values) { f.Set("from", "own"); f.Set("questions", "3") }, func(x *question.Set) bool { return ofOwn(x) }},
		{"blank numbers", func(f url.Values) { f.Set("questions", ""); f.Set("seed", "") }, func(x *question.Set) bool { return len(x.Versions[0].Items) == 10 }},
	} {
		n := len(m.sets)
		status, body, to := submit(t, s, "/sets", wishOf(test.change))
		if status != http.StatusSeeOther || len(m.sets) != n+1 {
			t.Errorf("%s: status %d: %s", test.name, status, regexp.MustCompile(`class="what">[^<]*`).FindString(body))
			continue
		}
		if set := keptOf(t, m, m.sets[n].ID); !test.check(set) {
			t.Errorf("%s: the set is %v", test.name, textsOf(set, 0))
		}
		status, body = get(t, s, to)
		if status != 200 || !strings.Contains(body, "The set is made") || !strings.Contains(body, "My &lt;set&gt;") {
			t.Errorf("%s: the page of the set: status %d", test.name, status)
		}
	}
	n := len(m.sets)
	for _, test := range []struct {
		name   string
		change func(url.Values)
		holds  []string
	}{
		{"two that exclude each other", func(f url.Values) { f["want"] = []string{"base"}; f["media"] = []string{"acidic"} },
			[]string{"exclude each other", "<li>at least once: in base</li>", "<li>media: in acid</li>", `name="want" value="base"`, `class="boxes few clash"`, `class="features clash"`}},
		{"wished for and avoided", func(f url.Values) { f["want"] = []string{"water"}; f["avoid"] = []string{"water"} }, []string{"at least once: water in one half", "never: water in one half"}},
		{"too many", func(f url.Values) { f.Set("questions", "150"); f.Set("versions", "8") }, []string{"can be made", "Ask for ", `value="150"`}},
		{"no medium", func(f url.Values) { f.Del("media") }, []string{"Name at least one"}},
		{"no number", func(f url.Values) { f.Set("questions", "ten"); f.Set("seed", "-1") }, []string{`value="ten"`, "whole number from 1 to 200", `<details class="more" open`, `value="-1"`}},
		{"no difficulty", func(f url.Values) { f.Set("least", "7"); f.Set("most", "<script>alert(1)") }, []string{"give a range", "&lt;script&gt;"}},
		{"no species", func(f url.Values) { f.Set("only", "Xx^2+ <img src=x onerror=alert(1)>") }, []string{"Write formulas", "&lt;img"}},
		{"no feature", func(f url.Values) { f["want"] = []string{"watr"} }, []string{"Did you mean water?"}},
		{"no order", func(f url.Values) { f.Set("order", "sideways") }, []string{"no value of order"}},
		{"half a plan of seats", func(f url.Values) { f.Set("rows", "5") }, []string{"a plan of seats needs both"}},
		{"a long title", func(f url.Values) { f.Set("title", strings.Repeat("é", 150)) }, []string{"at most 200 characters", strings.Repeat("é", 150)}},
		{"a title of two lines", func(f url.Values) { f.Set("title", "a\nb") }, []string{"one line"}},
		{"a title with a null byte", func(f url.Values) { f.Set("title", "a\x00b") }, []string{"one line"}},
	} {
		status, body, _ := submit(t, s, "/sets", wishOf(test.change))
		if status != 422 || len(m.sets) != n {
			t.Errorf("%s: status %d, %d sets more", test.name, status, len(m.sets)-n)
		}
		for _, want := range test.holds {
			if !strings.Contains(strings.ToLower(body), strings.ToLower(want)) {
				t.Errorf("%s: the page lacks %q", test.name, want)
			}
		}
		checkEscaped(t, test.name, body)
	}
	m.fail = course.ErrFull
	if status, body, _ := submit(t, s, "/sets", wishOf(nil)); status != http.StatusInsufficientStorage || !strings.Contains(body, "My &lt;set&gt;") {
		t.Errorf("a full disk: status %d", status)
	}
	s, _ = desk(t)
	if status, body, _ := submit(t, s, "/sets", wishOf(func(f url.Values) { f.Set("from", "own") })); status != 422 || !strings.Contains(body, "no questions of your own") {
		t.Errorf("none of one's own: status %d", status)
	}
}

// TestLikeSet fills the form by the wish of a set, with the next seed.
func TestLikeSet(t *testing.T) {
	s, m := demoDesk(t)
	_, body := get(t, s, fmt.Sprintf("/sets/new?like=%d", m.sets[examSet].ID))
	for _, want := range []string{`value="Common exam: redox equations"`, `name="want" value="water-twice" aria-labelledby="f-water-twice h-want" checked`, `name="seed" inputmode="numeric" value="6"`, `name="least" inputmode="decimal" value="2.0"`} {
		if !strings.Contains(body, want) {
			t.Errorf("the form lacks %q", want)
		}
	}
	if status, _ := get(t, s, "/sets/new?like=999"); status != 404 {
		t.Errorf("like no set: status %d", status)
	}
}

// TestSetPage shows each version with its questions.
func TestSetPage(t *testing.T) {
	s, m := demoDesk(t)
	for i, kept := range m.sets {
		set := keptOf(t, m, kept.ID)
		for _, v := range set.Versions {
			status, body := get(t, s, fmt.Sprintf("/sets/%d?version=%s", kept.ID, v.Letter))
			if status != 200 || strings.Count(body, `class="item"`) != len(v.Items) || !strings.Contains(body, v.Code) || !strings.Contains(body, "/board?") || !strings.Contains(body, "worksheet.pdf") {
				t.Errorf("set %d, version %s: status %d", i, v.Letter, status)
			}
			if len(body) > 150<<10 {
				t.Errorf("set %d, version %s: %d bytes", i, v.Letter, len(body))
			}
		}
		if status, _ := get(t, s, fmt.Sprintf("/sets/%d?version=K", kept.ID)); status != 404 {
			t.Errorf("version K: status %d", status)
		}
	}
	_, body := get(t, s, fmt.Sprintf("/sets/%d", m.sets[quizSet].ID))
	if !strings.Contains(body, "answers to choose from") || strings.Count(body, "<strong>(right)</strong>") != 8 {
		t.Error("the quiz does not show its answers")
	}
	// A long set is shown a page at a time.
	w := question.NewWish()
	w.Questions, w.Species = 130, question.Any
	set, err := question.Make(w, s.pool, nil)
	if err != nil {
		t.Fatal(err)
	}
	long, err := keptSet(0, set, s.o.Now())
	if err != nil {
		t.Fatal(err)
	}
	id, _ := m.SaveSet(context.Background(), long)
	_, body = get(t, s, fmt.Sprintf("/sets/%d?page=3", id))
	if !strings.Contains(body, "page 3 of 3") || strings.Count(body, `class="item"`) != 30 || !strings.Contains(body, `id="q130"`) || len(body) > 150<<10 {
		t.Errorf("the third page of a long set, %d bytes", len(body))
	}
	_, _, to := submit(t, s, fmt.Sprintf("/sets/%d/change", id), url.Values{"do": {"move-1-101"}})
	if !strings.Contains(to, "page=3") || !strings.HasSuffix(to, "#q101") {
		t.Errorf("moved to the third page, led to %s", to)
	}
}

// TestChangeSet moves, removes, gives marks and titles, and takes each back.
func TestChangeSet(t *testing.T) {
	s, m := demoDesk(t)
	id := m.sets[examSet].ID
	page := fmt.Sprintf("/sets/%d", id)
	before := keptOf(t, m, id)
	b := textsOf(before, 1)
	created := m.sets[examSet].Created
	for _, test := range []struct {
		name, path string
		form       url.Values
		check      func(now *question.Set) bool
		told       string
	}{
		{"down", "/change", url.Values{"do": {"move-1-2"}, "version": {"B"}}, func(now *question.Set) bool {
			x := textsOf(now, 1)
			return x[0] == b[1] && x[1] == b[0] && textsOf(now, 0)[0] == textsOf(before, 0)[0]
		}, "Number 1 is number 2 now."},
		{"to the end", "/change", url.Values{"do": {"move-1-8"}, "version": {"B"}}, func(now *question.Set) bool { return textsOf(now, 1)[7] == b[0] }, "Number 1 is number 8 now."},
		{"remove", "/change", url.Values{"do": {"remove-3"}, "version": {"B"}}, func(now *question.Set) bool {
			return len(now.Versions[0].Items) == 7 && len(now.Versions[3].Items) == 7 && textsOf(now, 1)[2] == b[3]
		}, "Question 3 was removed, in all versions."},
		{"marks", "/change", url.Values{"do": {"marks"}, "version": {"B"}, "worth-2": {"9"}, "worth-1": {""}}, func(now *question.Set) bool {
			return now.Versions[1].Items[1].Worth == 9 && now.Versions[0].Worth() == now.Versions[1].Worth()
		}, "1 question has other marks, in all versions."},
		{"marks with a move", "/change", url.Values{"do": {"move-2-1"}, "version": {"B"}, "worth-2": {"9"}}, func(now *question.Set) bool { return now.Versions[1].Items[0].Worth == 9 }, "Number 2 is number 1 now."},
		{"title", "/title", url.Values{"title": {` "New" <title> `}, "course": {"C"}, "section": {""}}, func(now *question.Set) bool {
			return now.Wish.Title == `"New" <title>` && now.Wish.Course == "C" && now.Wish.Section == ""
		}, "The head of the papers is changed."},
		{"anew", "/another", nil, func(now *question.Set) bool {
			return now.Wish.Seed == before.Wish.Seed+1 && now.Code != before.Code && len(now.Versions) == 4
		}, "Drawn anew"},
	} {
		form := url.Values{"code": {before.Code}}
		for k, v := range test.form {
			form[k] = v
		}
		status, body, to := submit(t, s, page+test.path, form)
		if status != http.StatusSeeOther {
			t.Fatalf("%s: status %d: %s", test.name, status, regexp.MustCompile(`class="what">[^<]*`).FindString(body))
		}
		now := keptOf(t, m, id)
		if !test.check(now) || len(now.Notes) > 0 {
			t.Errorf("%s: not done; notes %q", test.name, now.Notes)
		}
		if kept, _ := m.Set(context.Background(), id); !kept.Created.Equal(created) || !kept.Changed.Equal(s.o.Now()) {
			t.Errorf("%s: created %v", test.name, kept.Created)
		}
		if letter := form.Get("version"); letter != "" && !strings.Contains(to, "version="+letter) {
			t.Errorf("%s: led to %s", test.name, to)
		}
		_, body = get(t, s, pathOf(to))
		if !strings.Contains(body, test.told) {
			t.Errorf("%s: the page lacks %q", test.name, test.told)
		}
		undo(t, s, body)
		if back := keptOf(t, m, id); back.Code != before.Code || back.Wish.Title != before.Wish.Title {
			t.Fatalf("%s: not taken back", test.name)
		}
	}
	for _, test := range []struct {
		name, path string
		form       url.Values
		status     int
		holds      []string
	}{
		{"another window", "/change", url.Values{"do": {"remove-1"}, "code": {"AAAAA"}}, 409, []string{"another window"}},
		{"marks that are none", "/change", url.Values{"do": {"marks"}, "worth-2": {"many"}, "code": {before.Code}}, 422, []string{"question 2 cannot be worth", `value="many"`}},
		{"too many marks", "/change", url.Values{"do": {"marks"}, "worth-2": {"101"}, "code": {before.Code}}, 422, []string{"cannot be worth 101 marks"}},
		{"no number", "/change", url.Values{"do": {"move-1-99"}}, 422, []string{"no question 99"}},
		{"no numbers", "/change", url.Values{"do": {"move-x-y"}}, 422, []string{"no question 0"}},
		{"no version", "/change", url.Values{"do": {"remove-1"}, "version": {"K"}}, 404, []string{"no such version"}},
		{"no act", "/change", url.Values{"do": {"<script>alert(1)"}}, 400, []string{"cannot be read"}},
		{"no title", "/title", url.Values{"title": {" "}, "course": {"typed course"}}, 422, []string{"no title", "typed course"}},
		{"a long title", "/title", url.Values{"title": {strings.Repeat("x", 300)}}, 422, []string{"at most 200 characters", strings.Repeat("x", 300)}},
		{"a title of two lines", "/title", url.Values{"title": {"a\r\nb<script>alert(1)</script>"}}, 422, []string{"is one line"}},
		{"nothing to replace", "/replace", url.Values{"item": {"77"}}, 422, []string{"no question 77"}},
		{"not offered", "/replace", url.Values{"item": {"1"}, "pick": {"<script>alert(1)</script>"}}, 422, []string{"not offered any more"}},
		{"no row", "/replace", url.Values{"item": {"1"}, "pick": {"row x y"}}, 422, []string{"not offered any more"}},
	} {
		status, body, _ := submit(t, s, page+test.path, test.form)
		if status != test.status {
			t.Errorf("%s: status %d, want %d", test.name, status, test.status)
		}
		for _, want := range test.holds {
			if !strings.Contains(strings.ToLower(body), strings.ToLower(want)) {
				t.Errorf("%s: the page lacks %q", test.name, want)
			}
		}
		checkEscaped(t, test.name, body)
		if now := keptOf(t, m, id); now.Code != before.Code || now.Wish.Title != before.Wish.Title {
			t.Fatalf("%s: the set was changed", test.name)
		}
	}
	// What was changed since is not overwritten by taking back: not a title either.
	_, _, to := submit(t, s, page+"/title", url.Values{"title": {"One"}})
	_, one := get(t, s, pathOf(to))
	submit(t, s, page+"/title", url.Values{"title": {"Two"}})
	if status, _ := undo(t, s, one); status != http.StatusConflict || keptOf(t, m, id).Wish.Title != "Two" {
		t.Errorf("a title taken back out of turn: status %d", status)
	}
	_, _, to = submit(t, s, page+"/change", url.Values{"do": {"move-1-2"}})
	_, first := get(t, s, pathOf(to))
	if status, _, _ := submit(t, s, page+"/change", url.Values{"do": {"remove-5"}}); status != http.StatusSeeOther {
		t.Fatalf("status %d", status)
	}
	now := keptOf(t, m, id).Code
	if status, _ := undo(t, s, first); status != http.StatusConflict || keptOf(t, m, id).Code != now {
		t.Errorf("taken back out of turn: status %d", status)
	}
	m.fail = errors.New("secret")
	if status, body, _ := submit(t, s, page+"/change", url.Values{"do": {"remove-1"}}); status != 500 || strings.Contains(body, "secret") || keptOf(t, m, id).Code != now {
		t.Errorf("a store that fails: status %d", status)
	}
	m.fail = nil
	// The last one stays.
	for range 6 {
		submit(t, s, page+"/change", url.Values{"do": {"remove-1"}})
	}
	if status, body, _ := submit(t, s, page+"/change", url.Values{"do": {"remove-1"}}); status != 422 || !strings.Contains(body, "at least one question") {
		t.Errorf("removing the last: status %d", status)
	}
}

// TestReplaceItem takes one of the questions that are offered.
func TestReplaceItem(t *testing.T) {
	s, m := demoDesk(t)
	picked := regexp.MustCompile(`name="pick" value="([^"]+)">Take this( row)?<`)
	hidden := regexp.MustCompile(`type="hidden" name="(\w+)" value="([^"]*)"`)
	for _, place := range []int{worksheetSet, examSet, quizSet} {
		id := m.sets[place].ID
		one, row := false, false
		for number := 1; number <= m.sets[place].Count; number++ {
			status, body := get(t, s, fmt.Sprintf("/sets/%d/replace?item=%d", id, number))
			if status != 200 {
				t.Fatalf("set %d, question %d: status %d", place, number, status)
			}
			offers := picked.FindAllStringSubmatch(body, -1)
			if len(offers) == 0 {
				continue
			}
			offer := offers[number%len(offers)]
			form := url.Values{"pick": {strings.ReplaceAll(offer[1], "&#43;", "+")}}
			for _, h := range hidden.FindAllStringSubmatch(body, -1) {
				form.Set(h[1], h[2])
			}
			before := keptOf(t, m, id)
			status, body, to := submit(t, s, fmt.Sprintf("/sets/%d/replace", id), form)
			if status != http.StatusSeeOther || !strings.HasSuffix(to, fmt.Sprintf("#q%d", number)) {
				t.Fatalf("set %d, question %d: status %d: %s", place, number, status, regexp.MustCompile(`class="what">[^<]*`).FindString(body))
			}
			now := keptOf(t, m, id)
			for v := range now.Versions {
				if same := textsOf(before, v)[number-1] == textsOf(now, v)[number-1]; v == 0 && same {
					t.Errorf("set %d, question %d is as it was", place, number)
				}
			}
			if before.Versions[0].Items[number-1].Ask != now.Versions[0].Items[number-1].Ask {
				t.Errorf("set %d, question %d asks something else", place, number)
			}
			one, row = one || offer[2] == "", row || offer[2] != ""
		}
		if !one && place != examSet || !row && place == examSet {
			t.Errorf("set %d: nothing was replaced", place)
		}
	}
	if status, body := get(t, s, fmt.Sprintf("/sets/%d/replace?item=99", m.sets[0].ID)); status != 422 || !strings.Contains(body, "no question 99") {
		t.Errorf("question 99: status %d", status)
	}
}

// TestPaper lays a set out in each way, in each format.
func TestPaper(t *testing.T) {
	s, m := demoDesk(t)
	begins := map[string]string{"pdf": "%PDF-", "docx": "PK", "pptx": "PK", "tex": `\documentclass`, "html": "<!DOCTYPE html>", "md": "Tarn Hollow College, General Chemistry II, section B", "txt": ""}
	for _, kept := range m.sets {
		set := keptOf(t, m, kept.ID)
		several := len(set.Versions) > 1
		for _, p := range printings {
			status, body := get(t, s, fmt.Sprintf("/sets/%d/paper?what=%s", kept.ID, p.Key))
			if status != 200 || !strings.Contains(body, `class="halves"`) || !strings.Contains(body, p.Help) || len(body) > 150<<10 {
				t.Errorf("%s, %s: status %d, %d bytes", kept.Title, p.Key, status, len(body))
			}
			for ending, begin := range begins {
				for _, query := range []string{"", "?version=A", "?version=" + set.Versions[len(set.Versions)-1].Letter} {
					path := fmt.Sprintf("/sets/%d/paper/%s.%s%s", kept.ID, p.Key, ending, query)
					want := 200
					switch {
					case ending == "pptx" && p.Key != "slides":
						want = 404
					case query == "" && several && p.each && ending != "pdf":
						want = 422
					}
					if testing.Short() && ending == "pdf" && query != "" {
						continue
					}
					status, body := get(t, s, path)
					if status != want || want == 200 && !strings.HasPrefix(body, begin) {
						t.Errorf("%s: status %d, want %d; begins %.20q", path, status, want, body)
					}
					if want == 200 && ending == "md" && p.each && p.Key != "slides" && query != "" {
						if code := set.Versions[0].Code; strings.HasSuffix(query, "A") && !strings.Contains(body, code) {
							t.Errorf("%s: without the check code %s", path, code)
						}
					}
				}
			}
		}
	}
	exam := fmt.Sprintf("/sets/%d/paper", m.sets[examSet].ID)
	for path, want := range map[string]int{
		exam + "/worksheet.pdf?scaffold=fade":      200,
		exam + "/worksheet.pdf?scaffold=sideways":  400,
		exam + "/worksheet.pdf?version=K":          404,
		exam + "/worksheet.odt":                    404,
		exam + "/worksheet":                        404,
		exam + "/.pdf":                             404,
		exam + "/nothing.pdf":                      404,
		exam + "?what=nothing":                     404,
		exam + "?version=K":                        404,
		exam + "?what=worksheet&scaffold=steps":    200,
		exam + "?what=worksheet&scaffold=<script>": 400,
	} {
		if status, body := get(t, s, strings.ReplaceAll(path, "<", "%3C")); status != want {
			t.Errorf("%s: status %d, want %d", path, status, want)
		} else {
			checkEscaped(t, path, body)
		}
	}
	// The size of the paper is that of the settings.
	box := func() string {
		_, body := get(t, s, exam+"/worksheet.pdf")
		return regexp.MustCompile(`/MediaBox ?\[[^\]]*\]`).FindString(body)
	}
	a4 := box()
	m.settings.Letter = true
	if letter := box(); a4 == letter || a4 == "" {
		t.Errorf("A4 is %q, Letter is %q", a4, letter)
	}
	if _, body := get(t, s, exam); !strings.Contains(body, "On US Letter paper") {
		t.Error("the page does not say the size")
	}
	// All versions are in one PDF.
	_, all := get(t, s, exam+"/exam.pdf")
	_, one := get(t, s, exam+"/exam.pdf?version=B")
	if len(all) < 2*len(one)-60<<10 || len(all) <= len(one) {
		t.Errorf("all versions have %d bytes, one has %d", len(all), len(one))
	}
	// The name of the file.
	r := httptest.NewRequest("GET", "http://localhost"+exam+"/key.docx?version=C", nil)
	w := httptest.NewRecorder()
	s.Handler().ServeHTTP(w, r)
	if got := w.Header().Get("Content-Disposition"); got != `attachment; filename="Common-exam-redox-equations-key-C.docx"` {
		t.Errorf("Content-Disposition: %s", got)
	}
}

// TestFileName makes names of plain characters.
func TestFileName(t *testing.T) {
	for title, want := range map[string]string{
		"Week 3: the first": "Week-3-the-first", `"><script>..//`: "script", "Übung": "bung", "": "set", "…": "set",
		strings.Repeat("abc ", 50): "abc-abc-abc-abc-abc-abc-abc-abc-abc-abc-abc-abc-abc-abc-abc-a",
	} {
		if got := fileName(title); got != want {
			t.Errorf("fileName(%q) = %q, want %q", title, got, want)
		}
	}
}

// TestExport hands a set on by open standards, and takes it back from its file.
func TestExport(t *testing.T) {
	s, m := demoDesk(t)
	for _, kept := range m.sets {
		set := keptOf(t, m, kept.ID)
		path := fmt.Sprintf("/sets/%d/", kept.ID)
		n := len(set.Versions) * len(set.Versions[0].Items)
		status, body := get(t, s, path+"export.csv")
		rows, err := csv.NewReader(strings.NewReader(body)).ReadAll()
		if status != 200 || err != nil || len(rows) != n+1 || rows[1][13] != set.Versions[0].Code {
			t.Errorf("%s: CSV: status %d, %v, %d rows", kept.Title, status, err, len(rows))
		}
		if status, body := get(t, s, path+"export.xlsx"); status != 200 || !strings.HasPrefix(body, "PK") {
			t.Errorf("%s: XLSX: status %d", kept.Title, status)
		}
		status, body = get(t, s, path+"export.json")
		back, err := question.ReadSet([]byte(body), nil)
		if status != 200 || err != nil || back.Code != set.Code || len(back.Notes) > 0 {
			t.Fatalf("%s: JSON: status %d, %v", kept.Title, status, err)
		}
		sets := len(m.sets)
		status, _, to := upload(t, s, "/sets/file", "file", "set.json", []byte(body), nil)
		if status != http.StatusSeeOther || len(m.sets) != sets+1 || keptOf(t, m, m.sets[sets].ID).Code != set.Code {
			t.Errorf("%s: brought back: status %d", kept.Title, status)
		}
		if _, body := get(t, s, to); !strings.Contains(body, "worked again") {
			t.Error("what was brought in is not told")
		}
		for _, as := range []string{"qti22", "qti30"} {
			for _, v := range set.Versions {
				status, body := get(t, s, path+as+".zip?version="+v.Letter)
				z, err := zip.NewReader(strings.NewReader(body), int64(len(body)))
				if status != 200 || err != nil || len(z.File) < 3 {
					t.Errorf("%s: %s, version %s: status %d, %v", kept.Title, as, v.Letter, status, err)
				}
			}
			want := 200
			if len(set.Versions) > 1 {
				want = 422
			}
			if status, _ := get(t, s, path+as+".zip"); status != want {
				t.Errorf("%s: %s of all versions: status %d, want %d", kept.Title, as, status, want)
			}
		}
	}
	// Nothing of a set may have a form in QTI.
	_, _, to := submit(t, s, "/sets", wishOf(func(f url.Values) { f["ask"] = []string{"split"}; f.Set("questions", "2") }))
	path, _, _ := strings.Cut(to, "?")
	if status, body := get(t, s, path+"/qti22.zip"); status != 422 || !strings.Contains(body, "handed on as QTI") {
		t.Errorf("no form in QTI: status %d", status)
	}
	if _, body := get(t, s, path+"/paper"); !strings.Contains(body, "None of its questions") || strings.Contains(body, "qti22.zip") {
		t.Error("the page offers QTI where there is none")
	}
	n := len(m.sets)
	for name, file := range map[string][]byte{
		"nothing": nil, "no JSON": []byte("<script>alert(1)</script>"), "another file": []byte(`{"format":"<script>alert(1)</script>","edition":1}`),
		"an equation that does not balance": []byte(`{"format":"halves-set","edition":1,"wish":{"title":"T"},"versions":[{"letter":"A","items":[{"question":"Zn -> <script>alert(1)</script>","ask":"balance"}]}]}`),
		"null bytes":                        []byte("\x00\x00"),
		"no title":                          []byte(`{"format":"halves-set","edition":1,"wish":{"title":" "},"versions":[{"items":[{"question":"Zn + Cu^2+ -> Zn^2+ + Cu","medium":"neutral","ask":"balance"}]}]}`),
	} {
		status, body, _ := upload(t, s, "/sets/file", "file", "x.json", file, nil)
		if status != 422 || len(m.sets) != n || !strings.Contains(body, `class="mistake"`) {
			t.Errorf("%s: status %d, %d sets more", name, status, len(m.sets)-n)
		}
		checkEscaped(t, name, body)
	}
	if status, _, _ := upload(t, s, "/sets/file", "", "", nil, url.Values{"x": {"y"}}); status != 422 {
		t.Errorf("no file: status %d", status)
	}
	if status, _, _ := upload(t, s, "/sets/file", "file", "x.json", bytes.Repeat([]byte("x"), 2<<20), nil); status != 413 {
		t.Errorf("two megabytes: status %d", status)
	}
}

// TestShortWay holds the way from the sets to a printed worksheet to three acts.
func TestShortWay(t *testing.T) {
	s, m := demoDesk(t)
	follow := func(page, link string) string {
		_, body := get(t, s, page)
		match := regexp.MustCompile(link).FindStringSubmatch(body)
		if match == nil {
			t.Fatalf("%s has no link %s", page, link)
		}
		return match[1]
	}
	acts := 0
	page := "/"
	for _, link := range []string{`<a href="(/sets)"`, fmt.Sprintf(`<a href="(/sets/%d)"`, m.sets[worksheetSet].ID), `href="([^"]*worksheet.pdf)"`} {
		page = follow(page, link)
		acts++
	}
	if _, body := get(t, s, page); !strings.HasPrefix(body, "%PDF-") || acts > 5 {
		t.Errorf("after %d acts there is no worksheet", acts)
	}
}

// BenchmarkSet is the page of a version of an exam.
func BenchmarkSet(b *testing.B) {
	s, m := demoDesk(b)
	b.ReportAllocs()
	for b.Loop() {
		if status, _ := get(b, s, fmt.Sprintf("/sets/%d", m.sets[examSet].ID)); status != 200 {
			b.Fatal(status)
		}
	}
}
