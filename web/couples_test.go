package web

import (
	"encoding/xml"
	"errors"
	"io"
	"net/url"
	"strings"
	"testing"

	"halves/course"
	"halves/energetics"
	"halves/redox"
	"halves/reference"
)

// TestCouplesPages asks for each of the pages. Potentials are those of OpenStax,
// Chemistry 2e, Appendix L.
func TestCouplesPages(t *testing.T) {
	s, _ := desk(t)
	for _, test := range []struct {
		path   string
		query  url.Values
		status int
		holds  []string // in the text of the page
		lacks  []string
	}{
		{"/couples", nil, 200, []string{"Elements in pictures", "manganese Mn", "All couples of the table"}, []string{"francium"}},
		{"/couples", url.Values{"q": {"Mn"}}, 200, []string{"Couples of manganese", "+1.507 V", "in acid · source", "OpenStax Chemistry 2e, Appendix L", "from memory of its source", "not the preferred figure", "Pictures of manganese"}, []string{"repository", "formation.tsv"}},
		{"/couples", url.Values{"q": {"manganese"}}, 200, []string{"Couples of manganese"}, nil},
		{"/couples", url.Values{"q": {"permanganate"}}, 200, []string{"Couples with MnO4−", "+1.507 V"}, nil},
		{"/couples", url.Values{"q": {"MnO4^-"}}, 200, []string{"Couples with MnO4−", "+1.507 V"}, nil},
		{"/couples", url.Values{"q": {"perman"}}, 200, []string{"Couples with “perman”", "+1.507 V"}, nil},
		// Slow and why, common practice: perchlorate.
		{"/couples", url.Values{"q": {"ClO4^-"}}, 200, []string{"In practice: perchlorate is reduced very slowly", "(source"}, nil},
		{"/couples", url.Values{"element": {"Cu"}, "medium": {"acidic"}}, 200, []string{"Couples of copper, in acid", "+0.337 V"}, []string{"OH−(aq)"}},
		{"/couples", url.Values{"from": {"2.8"}, "to": {"2,9"}}, 200, []string{"from 2.8 V, up to 2,9 V", "+2.866 V"}, []string{"+1.507"}},
		{"/couples", url.Values{"to": {"-3"}}, 200, []string{"up to −3 V", "−3.04"}, []string{"−2."}},
		{"/couples", url.Values{"all": {"yes"}}, 200, []string{"1 to 60 of", "Lower potentials"}, []string{"Higher potentials"}},
		{"/couples", url.Values{"all": {"yes"}, "page": {"999"}}, 200, []string{"Higher potentials"}, []string{"Lower potentials"}},
		{"/couples", url.Values{"from": {"9"}}, 200, []string{"No couple of the table is like that"}, nil},
		{"/couples", url.Values{"q": {"francium"}}, 200, []string{"The tables have no couples of francium", "caesium"}, nil},
		{"/couples", url.Values{"q": {"permangante"}}, 422, []string{"did you mean permanganate ion?"}, nil},
		{"/couples", url.Values{"q": {"co2x"}}, 422, []string{"co"}, nil},
		{"/couples", url.Values{"element": {"Xy"}}, 404, []string{"No element is called “Xy”"}, nil},
		{"/couples", url.Values{"from": {"high"}}, 422, []string{"“high” is no potential"}, nil},
		{"/couples", url.Values{"medium": {"purple"}}, 400, []string{"No medium is called “purple”"}, nil},
		{"/couples", url.Values{"q": {"MnO4^- -> Mn^2+"}}, 303, nil, nil},

		{"/couples/half", nil, 200, []string{"To begin with"}, nil},
		{"/couples/half", url.Values{"q": {"MnO4^- -> Mn^2+"}}, 200, []string{"E° = +1.507 V, looked up", "Appendix L", "Rows of the table"}, nil},
		{"/couples/half", url.Values{"q": {"PtCl4^2- -> Pt"}}, 200, []string{"E° = +0.755 V, looked up; +0.85 V if computed from free energies", "Free energies of formation that were used", "PtCl42−(aq)−361.4"}, nil},
		{"/couples/half", url.Values{"q": {"Zn + Cu^2+ -> Zn^2+ + Cu"}}, 422, []string{"This is a whole reaction; give one of its halves"}, nil},
		{"/couples/half", url.Values{"q": {"NpO2 -> Np"}}, 422, []string{"there is no free energy of formation", "never invented"}, nil},
		{"/couples/half", url.Values{"q": {"MnO4^- -> mn^2+"}}, 422, []string{"did you mean Mn?"}, nil},
		{"/couples/half", url.Values{"q": {strings.Repeat("x", 5000)}}, 422, []string{"too long"}, nil},

		{"/couples/among", nil, 200, []string{"To begin with"}, nil},
		// Tin(II) before iron(II): +0.15 V and +0.77 V.
		{"/couples/among", url.Values{"species": {"MnO4^-, Fe^2+, Sn^2+"}}, 200, []string{"First, by the potentials: MnO4− + 8 H+ + 5 e− → Mn2+ + 4 H2O", "with the reverse of Sn4+ + 2 e− → Sn2+", "Appendix L"}, nil},
		{"/couples/among", url.Values{"species": {"permanganate; iron(II)"}, "medium": {"basic"}}, 200, []string{"Potentials at pH 14"}, nil},
		{"/couples/among", url.Values{"species": {","}}, 422, []string{"No species is named"}, nil},
		{"/couples/among", url.Values{"species": {"MnO4^-, zzz"}}, 422, []string{"zzz"}, nil},
		{"/couples/among", url.Values{"species": {strings.Repeat("Fe^2+,", 50)}}, 422, []string{"No more than 40 species"}, nil},
		{"/couples/among", url.Values{"species": {"Zn"}, "medium": {"x"}}, 400, []string{"No medium is called “x”"}, nil},

		{"/couples/Mn", nil, 200, []string{"Ladder of potentials, in acid, pH 0", "Latimer row, in acid", "Frost plot", "Potential-pH map", "looked up, source", "Sources", "OpenStax", "NBS tables", "Download as SVG"}, nil},
		{"/couples/Mn", url.Values{"medium": {"basic"}}, 200, []string{"Ladder of potentials, in base, pH 14"}, nil},
		{"/couples/Mn", url.Values{"c": {"0,01"}}, 200, []string{"0.01 moles per litre"}, nil},
		{"/couples/Mn", url.Values{"species": {"Mn, Mn^2+, MnO4^-"}}, 200, []string{"each of 3 species of manganese"}, nil},
		{"/couples/Mn", url.Values{"c": {"much"}}, 422, []string{"“much” is no concentration", "Frost plot"}, nil},
		{"/couples/Mn", url.Values{"c": {"1e-30"}}, 422, []string{"out of range"}, nil},
		{"/couples/Mn", url.Values{"species": {"zzz"}}, 422, []string{"zzz", "Frost plot"}, nil},
		{"/couples/Mn/map", url.Values{"c": {"0.01"}}, 200, []string{"0.01 moles per litre"}, []string{"Ladder"}},
		{"/couples/O", nil, 200, []string{"Ladder of potentials", "No picture of this kind"}, nil},
		{"/couples/Fr", nil, 404, []string{"The tables have no couples of francium", "caesium (Cs)"}, nil},
		{"/couples/manganese", nil, 303, nil, nil},
		{"/couples/aluminum", nil, 303, nil, nil},
		{"/couples/mangan", nil, 404, []string{"No element is called “mangan”", "Did you mean manganese"}, nil},
		{"/couples/Mn/nothing.svg", nil, 404, []string{"There is no such picture"}, nil},
		{"/couples/O/frost.svg", nil, 404, nil, nil},
		{"/couples/Mn/map.svg", url.Values{"c": {"x"}}, 422, nil, nil},

		{"/couples/cell", nil, 200, []string{"To begin with"}, nil},
		{"/couples/cell", url.Values{"q": {"Zn + Cu^2+ -> Zn^2+ + Cu"}}, 200, []string{"Goes.", "+1.099 V+1.099 V", "Zn(s) | Zn2+(aq) || Cu2+(aq) | Cu(s)"}, nil},
		// By the Nernst equation (OpenStax, section 17.4): 1.099 - 0.0592/2 log(1/0.01) = 1.040.
		{"/couples/cell", url.Values{"q": {"Zn + Cu^2+ -> Zn^2+ + Cu"}, "a1": {"0.01"}}, 200, []string{"+1.099 V+1.040 V", "0.002.00"}, nil},
		// 0.736 - 0.0592/5 log(10^24) = 0.452, by hand.
		{"/couples/cell", url.Values{"q": {"MnO4^- + Fe^2+ -> Mn^2+ + Fe^3+, in acid"}, "ph": {"3"}}, 200, []string{"+0.736 V+0.452 V"}, nil},
		{"/couples/cell/now", url.Values{"q": {"MnO4^- + Fe^2+ -> Mn^2+ + Fe^3+, in acid"}, "ph": {"3"}}, 200, []string{"+0.736 V+0.452 V"}, []string{"The reaction"}},
		{"/couples/cell", url.Values{"q": {"Zn + Cu^2+ -> Zn^2+ + Cu"}, "a1": {"abc"}}, 422, []string{"“abc” is no concentration", "The cell"}, nil},
		{"/couples/cell", url.Values{"q": {"Zn + Cu^2+ -> Zn^2+ + Cu"}, "a1": {"-1"}}, 422, []string{"cannot have the concentration"}, nil},
		{"/couples/cell", url.Values{"q": {"MnO4^- + Fe^2+ -> Mn^2+ + Fe^3+, in acid"}, "ph": {"77"}}, 422, []string{"pH 77.00 is out of range"}, nil},
		{"/couples/cell", url.Values{"q": {"Ag^+ + Cl^- -> AgCl"}}, 422, nil, nil},
		{"/couples/cell", url.Values{"q": {"x -> y"}}, 422, nil, nil},
	} {
		address := test.path + "?" + test.query.Encode()
		status, page := get(t, s, address)
		if status != test.status {
			t.Errorf("%s: status %d, want %d", address, status, test.status)
		}
		_, body, _ := strings.Cut(page, "<main")
		if body == "" {
			body = page
		}
		text := plain(signsOnly(body))
		for _, want := range test.holds {
			if !strings.Contains(text, want) {
				t.Errorf("%s: the page lacks %q", address, want)
			}
		}
		for _, not := range test.lacks {
			if strings.Contains(text, not) {
				t.Errorf("%s: the page has %q", address, not)
			}
		}
		if strings.Contains(page, "ZgotmplZ") || strings.Contains(text, "&") {
			t.Errorf("%s: something is not escaped, or twice", address)
		}
	}
}

// signsOnly leaves out of a page what is there for those who hear it, so that a
// formula stands as it is seen.
func signsOnly(page string) string {
	for {
		from := strings.Index(page, `<span class="said">`)
		if from < 0 {
			return page
		}
		to := strings.Index(page[from:], "</span>")
		page = page[:from] + page[from+to+len("</span>"):]
	}
}

// TestEveryElement shows each element that is listed, in both media, with a ladder
// in one of them at least, and no page is too large.
func TestEveryElement(t *testing.T) {
	s, _ := desk(t)
	all := s.coveredElements()
	if len(all) < 60 {
		t.Fatalf("%d elements are listed", len(all))
	}
	for _, e := range all {
		ladders := 0
		for _, medium := range energetics.Media {
			status, page := get(t, s, "/couples/"+e.Symbol+"?medium="+medium)
			if status != 200 || len(page) > 150<<10 {
				t.Errorf("%s, %s: status %d, %d kB", e.Symbol, medium, status, len(page)>>10)
			}
			if strings.Contains(page, `href="/couples/`+e.Symbol+`/ladder.svg`) {
				ladders++
			}
			if pictures, sources := strings.Count(page, "<figure"), strings.Count(page, `class="cited"`); pictures != sources {
				t.Errorf("%s, %s: %d pictures, %d with sources", e.Symbol, medium, pictures, sources)
			}
		}
		if ladders == 0 {
			t.Errorf("%s has no ladder", e.Symbol)
		}
		if status, page := get(t, s, "/couples?element="+e.Symbol); status != 200 || !strings.Contains(page, `class="volts"`) || len(page) > 150<<10 {
			t.Errorf("the couples of %s: status %d, %d kB", e.Symbol, status, len(page)>>10)
		}
	}
}

// TestPictureFiles hands out pictures that are whole files of SVG.
func TestPictureFiles(t *testing.T) {
	s, _ := desk(t)
	for _, file := range []string{"ladder.svg?medium=basic", "latimer.svg", "frost.svg", "map.svg?c=0.001"} {
		status, svg := get(t, s, "/couples/Mn/"+file)
		if status != 200 || !strings.HasPrefix(svg, "<svg") || !strings.Contains(svg, "<title") || !strings.Contains(svg, "<style") {
			t.Errorf("%s: status %d, begins %.40q", file, status, svg)
		}
		for d := xml.NewDecoder(strings.NewReader(svg)); ; {
			if _, err := d.Token(); errors.Is(err, io.EOF) {
				break
			} else if err != nil {
				t.Fatalf("%s: %v", file, err)
			}
		}
	}
}

// TestOwnRows marks rows of the user's own table, and writes decimals as the class
// does.
func TestOwnRows(t *testing.T) {
	own, err := reference.ReadCouples("mine.tsv", "half_reaction\tvolts\tmedium\tsource\nMnO4^-(aq) + 8 H^+(aq) + 5 e^- -> Mn^2+(aq) + 4 H2O(l)\t1.51\tacidic\tTarn Hollow handout <b>4</b>\n")
	if err != nil {
		t.Fatal(err)
	}
	m := &memory{settings: course.Settings{Conventions: redox.Conventions{Comma: true}}}
	shipped := energetics.Shipped()
	s, err := New(Options{Store: m, Tables: energetics.New(shipped.Couples.With(own), shipped.Formations)})
	if err != nil {
		t.Fatal(err)
	}
	for _, path := range []string{"/couples?q=permanganate", "/couples/half?q=MnO4%5E-+-%3E+Mn%5E2%2B"} {
		_, page := get(t, s, path)
		for _, want := range []string{"your own table", "+1,51", "Tarn Hollow handout &lt;b&gt;4&lt;/b&gt;"} {
			if !strings.Contains(strings.ReplaceAll(page, "&#43;", "+"), want) {
				t.Errorf("%s: the page lacks %q", path, want)
			}
		}
	}
}

// TestCouplesHostile: what is typed comes back as text.
func TestCouplesHostile(t *testing.T) {
	s, _ := desk(t)
	for _, hostile := range []string{`"><script>alert(1)</script>`, "\x00", "\xff\xfe", "'; -- ", strings.Repeat("(", 3000), "<b>->"} {
		q := url.QueryEscape(hostile)
		for _, path := range []string{
			"/couples?q=" + q, "/couples?element=" + q, "/couples?from=" + q, "/couples?q=Mn&page=" + q, "/couples?medium=" + q, "/couples/half?q=" + q, "/couples/among?species=" + q,
			"/couples/cell?q=" + q, "/couples/cell/now?q=" + q, "/couples/Mn?c=" + q + "&species=" + q, "/couples/Mn/map?c=" + q, "/couples/Mn/map.svg?c=" + q, "/couples/Mn/" + url.PathEscape(hostile), "/couples/" + url.PathEscape(hostile),
			"/couples/cell?q=" + url.QueryEscape("Zn + Cu^2+ -> Zn^2+ + Cu") + "&a1=" + q,
		} {
			status, page := get(t, s, path)
			if status >= 500 || strings.Contains(page, "<script>alert") || strings.Contains(page, `"><script>`) {
				t.Errorf("%.60q: status %d, or not escaped", path, status)
			}
		}
	}
}

func FuzzCouples(f *testing.F) {
	s, _ := desk(f)
	for _, q := range []string{"Mn", "permanganate", "MnO4^- -> Mn^2+", "Fe^2+, Sn^2+", "1e-3", "<script>", "\x00\xff"} {
		f.Add(q)
	}
	f.Fuzz(func(t *testing.T, text string) {
		q := url.QueryEscape(text)
		for _, path := range []string{"/couples?q=" + q, "/couples?element=" + q, "/couples?from=" + q, "/couples/half?q=" + q, "/couples/among?species=" + q, "/couples/cell?q=" + q, "/couples/Mn/map?c=" + q + "&species=" + q} {
			if status, page := get(t, s, path); status >= 500 || strings.Contains(page, "<script>") {
				t.Errorf("%s: status %d", path, status)
			}
		}
	})
}
