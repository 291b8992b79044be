package web

import (
	"fmt"
	"hash/fnv"
	"html/template"
	"net/http"
	"slices"
	"strings"

	"halves/document"
	"halves/redox"
)

func (s *Server) boardRoutes() {
	s.mux.Handle("GET /board", s.page(s.board))
	s.mux.Handle("GET /board/presenter", s.page(s.presenter))
}

func (s *Server) board(r *http.Request) (view, error)     { return s.shown(r, boardView) }
func (s *Server) presenter(r *http.Request) (view, error) { return s.shown(r, presenterView) }

// An asking is the page on which the board asks what to show, with what is wrong
// with what was typed.
type asking struct {
	asked
	Kept    [][2]string // conventions that differ from the settings, by name
	Mistake *told
	Report  *document.Document // what an error brings with it
}

// Query is the question as part of an address, with the conventions that were
// asked for.
func (a asking) Query() template.URL {
	v := a.values()
	for _, k := range a.Kept {
		v.Set(k[0], k[1])
	}
	return template.URL(v.Encode()) // an encoded query is safe in an address
}

// shown works the question of a request and shows it.
func (s *Server) shown(r *http.Request, show func(*redox.Solution, boardPlaces) view) (view, error) {
	settings, err := s.o.Store.Settings(r.Context())
	if err != nil {
		return view{}, err
	}
	c, err := conventionsOf(r, settings.Conventions)
	if err != nil {
		return view{}, err
	}
	m, err := mediumOf(r)
	if err != nil {
		return view{}, err
	}
	ask := asking{asked: asked{strings.TrimSpace(r.FormValue("q")), m}}
	values := ask.values()
	for name, v := range changed(c, settings.Conventions) {
		values[name] = v
		ask.Kept = append(ask.Kept, [2]string{name, v[0]})
	}
	slices.SortFunc(ask.Kept, func(a, b [2]string) int { return strings.Compare(a[0], b[0]) })
	v := view{page: "board", here: "work", title: "The board", data: &boardPage{Ask: &ask}}
	if ask.Text == "" {
		return v, nil
	}
	sol, err := redox.Work(ask.Text, m, c)
	if err != nil {
		t := explain(err)
		if t.Status >= http.StatusInternalServerError {
			return view{}, err
		}
		ask.Mistake, ask.Report = &t, document.FromReport(redox.NewReport(err), c)
		v.status = t.Status
		return v, nil
	}
	query := "?" + values.Encode()
	return show(sol, boardPlaces{Board: "/board" + query, Presenter: "/board/presenter" + query, Back: "/work" + query}), nil
}

// boardPlaces are the addresses that the two windows of a board lead to.
type boardPlaces struct {
	Board, Presenter string
	Back             string // the page that one comes from
}

// boardView is the window that the class sees.
func boardView(s *redox.Solution, p boardPlaces) view { return newBoard(s, p).view("board") }

// presenterView is the window of who speaks: what is said, what comes next, and a
// clock.
func presenterView(s *redox.Solution, p boardPlaces) view { return newBoard(s, p).view("presenter") }

// A boardPage is a worked question, frame by frame.
type boardPage struct {
	Ask *asking // where there is nothing to show; all else is empty then
	boardPlaces
	Title  document.Inline
	Frames []boardFrame
	// Channel is the name by which the windows of one working know each other.
	Channel string
}

// After is the frame after frame i, nil for none.
func (b *boardPage) After(i int) *boardFrame {
	if i+1 >= len(b.Frames) {
		return nil
	}
	return &b.Frames[i+1]
}

func (b *boardPage) view(page string) view {
	title := (&document.Document{Title: b.Title}).PlainTitle()
	if page == "presenter" {
		title = "Presenter: " + title
	}
	return view{page: page, title: title, data: b, bare: true}
}

// newBoard lays out a worked question.
func newBoard(s *redox.Solution, p boardPlaces) *boardPage {
	b := &boardPage{boardPlaces: p, Title: document.Join(document.EquationOf(s.Skeleton, s.Conventions), document.MediumPhrase(s.Medium)), Frames: boardFrames(s)}
	h := fnv.New64a()
	for _, f := range b.Frames {
		h.Write([]byte(f.Say + "\n"))
	}
	b.Channel = fmt.Sprintf("board-%x", h.Sum64())
	return b
}
