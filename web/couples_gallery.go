package web

import (
	"net/http"
	"net/url"

	"halves/course"
)

// couplesGallery are the states of the pages of couples.
func (s *Server) couplesGallery() []galleryState {
	_, ordinary, overfull := madeUpCourses()
	shows := func(in course.Store, h func(couplesDesk, *http.Request) (view, error), path string, pairs ...string) func() view {
		v := url.Values{}
		for i := 0; i+1 < len(pairs); i += 2 {
			v.Set(pairs[i], pairs[i+1])
		}
		return s.shows(in, func(s *Server, r *http.Request) (view, error) {
			if symbol := v.Get("symbol"); symbol != "" {
				r.SetPathValue("element", symbol)
			}
			return h(newCouplesDesk(s), r)
		}, "GET", path+"?"+v.Encode(), nil)
	}
	list, half, among, cell, element := couplesDesk.list, couplesDesk.half, couplesDesk.among, couplesDesk.cell, couplesDesk.element
	const iron, oxalic = "MnO4^- + Fe^2+ -> Mn^2+ + Fe^3+, in acid", "MnO4^- + H2C2O4 -> Mn^2+ + CO2, in acid"
	return []galleryState{
		{"empty", shows(ordinary, list, "/couples")},
		{"ordinary", shows(ordinary, list, "/couples", "q", "permanganate")},
		{"overfull", shows(overfull, list, "/couples", "all", "yes")},
		{"none", shows(ordinary, list, "/couples", "from", "9")},
		{"failing", shows(ordinary, list, "/couples", "q", "permangante")},
		{"half-empty", shows(ordinary, half, "/couples/half")},
		{"half", shows(ordinary, half, "/couples/half", "q", "MnO4^- -> Mn^2+")},
		{"half-two-ways", shows(overfull, half, "/couples/half", "q", "PtCl4^2- -> Pt")},
		{"half-missing", shows(ordinary, half, "/couples/half", "q", "NpO2 -> Np")},
		{"among-empty", shows(ordinary, among, "/couples/among")},
		{"among", shows(ordinary, among, "/couples/among", "species", "MnO4^-, Fe^2+, Sn^2+")},
		{"element", shows(ordinary, element, "/couples/Mn", "symbol", "Mn")},
		{"element-overfull", shows(overfull, element, "/couples/S", "symbol", "S")},
		{"element-bare", shows(ordinary, element, "/couples/Fr", "symbol", "Fr")},
		{"element-wrong", shows(ordinary, element, "/couples/Mn", "symbol", "Mn", "c", "much")},
		{"cell-empty", shows(ordinary, cell, "/couples/cell")},
		{"cell", shows(ordinary, cell, "/couples/cell", "q", iron, "ph", "3")},
		{"cell-long", shows(overfull, cell, "/couples/cell", "q", oxalic)},
		{"cell-wrong", shows(ordinary, cell, "/couples/cell", "q", iron, "a1", "much")},
		{"cell-none", shows(ordinary, cell, "/couples/cell", "q", "Ag^+ + Cl^- -> AgCl")},
	}
}
