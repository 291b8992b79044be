package web

import (
	"net/url"
	"strings"

	"halves/course"
)

// markerGallery are the states of the marker's page.
func (s *Server) markerGallery() []galleryState {
	nothing, ordinary, overfull := madeUpCourses()
	slipped := markerWorkings[0]
	form := func(pairs ...string) url.Values {
		v := url.Values{"q": {slipped.Question.Text}, "working": {slipped.Working}}
		for i := 0; i+1 < len(pairs); i += 2 {
			v.Set(pairs[i], pairs[i+1])
		}
		return v
	}
	try := func(in course.Store, v url.Values) func() view {
		return s.shows(in, (*Server).marker, "POST", "/marker", v)
	}
	last := slipped.Working[strings.LastIndexByte(slipped.Working, '\n')+1:]
	return []galleryState{
		{"empty", s.shows(nothing, (*Server).marker, "GET", "/marker", nil)},
		{"ordinary", try(ordinary, form())},
		{"base", try(ordinary, form("q", markerWorkings[1].Question.Text, "working", markerWorkings[1].Working, "repaired", "yes"))},
		{"question-alone", try(ordinary, form("working", ""))},
		{"unread", try(ordinary, form("working", "MnO4 @@ 3 -> ??\nZn -> Zn^2+ + 2 e^-\nas in the book\n"+slipped.Working))},
		{"overruling", try(ordinary, form("overrule", "5"))},
		{"overruling-unfinished", try(ordinary, form("panel-line", last, "panel-verdict", "slips", "panel", "take", "panel-reason", "as we said in class"))},
		{"overruled", try(ordinary, form("ruled-line", last, "ruled-verdict", "stands", "ruled-reason", "as we said in class"))},
		{"scheme", try(ordinary, form("worth-oxidation", "3", "worth-final", "none", "bare", "yes"))},
		{"overfull", try(overfull, form("working", strings.Repeat("Reduction: MnO4^- + 8 H^+ + 5 e^- -> Mn^2+ + 4 H2O\n", 200)))},
		{"too-long", try(ordinary, form("working", strings.Repeat("MnO4^- ", 10<<10)))},
		{"failing", try(ordinary, form("q", "MnO4^- + H2C2O4 -> Mn^2+ + co2, in acid"))},
		{"not-marked", try(ordinary, form("q", "Ag^+ + Cl^- -> AgCl"))},
	}
}
