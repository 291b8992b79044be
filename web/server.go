package web

import (
	"bytes"
	"context"
	"embed"
	"errors"
	"fmt"
	"html/template"
	"io"
	"io/fs"
	"log/slog"
	"net/http"
	"strings"
	"time"

	"halves/course"
	"halves/document"
	"halves/drawing"
	"halves/energetics"
	"halves/question"
	"halves/redox"
)

//go:embed pages/*.html
var pagesFS embed.FS

//go:embed static
var staticFS embed.FS

// Options are what a desk is made of.
type Options struct {
	Store  course.Store
	Tables energetics.Tables
	Log    *slog.Logger
	// Now is the clock; nil for the system's.
	Now func() time.Time
	// Hosts are the names by which the desk may be asked, without ports; nil for
	// those of loopback.
	Hosts []string
	// Data is where the data are, for the settings page.
	Data string
	// Gallery adds the page that shows each state of each page, for development.
	Gallery bool
	// Restore puts a backup in the place of the store, which is opened anew; nil
	// where that cannot be done here.
	Restore func(ctx context.Context, backup io.Reader) error
}

// A Server is the desk.
type Server struct {
	o     Options
	pool  *question.Pool
	pages map[string]*template.Template
	mux   *http.ServeMux

	changes *changes  // what was done lately, to be taken back
	owns    *ownWorks // own questions that were worked
}

// New returns a desk.
func New(o Options) (*Server, error) {
	if o.Log == nil {
		o.Log = slog.New(slog.DiscardHandler)
	}
	if o.Now == nil {
		o.Now = time.Now
	}
	s := &Server{o: o, pool: question.NewPool(o.Tables), mux: http.NewServeMux(), changes: &changes{}, owns: &ownWorks{}}
	var err error
	if s.pages, err = parsePages(); err != nil {
		return nil, err
	}
	s.routes()
	return s, nil
}

// Handler answers requests.
func (s *Server) Handler() http.Handler { return s.guard(s.mux) }

// routes lists the pages: the patterns are the documentation. Each file adds its
// own.
func (s *Server) routes() {
	static, err := fs.Sub(staticFS, "static")
	if err != nil {
		panic(err) // a constant
	}
	files := http.FileServerFS(static)
	s.mux.Handle("GET /static/", http.StripPrefix("/static/", cached(files)))
	s.mux.HandleFunc("GET /static/document.css", text("text/css; charset=utf-8", document.HTMLStyle))
	s.mux.HandleFunc("GET /static/picture.css", text("text/css; charset=utf-8", drawing.Style()))
	s.mux.HandleFunc("GET /favicon.ico", func(w http.ResponseWriter, r *http.Request) {
		http.Redirect(w, r, "/static/mark.svg", http.StatusMovedPermanently)
	})
	for _, add := range []func(){s.workRoutes, s.boardRoutes, s.questionRoutes, s.setRoutes, s.markerRoutes, s.couplesRoutes, s.settingsRoutes, s.apiRoutes} {
		add()
	}
	if s.o.Gallery {
		s.galleryRoutes()
	}
	s.mux.Handle("/", s.page(func(r *http.Request) (view, error) {
		return view{}, &pageError{http.StatusNotFound, "There is no such page.", ""}
	}))
}

// text serves a constant.
func text(kind, body string) http.HandlerFunc {
	return func(w http.ResponseWriter, r *http.Request) {
		w.Header().Set("Content-Type", kind)
		w.Header().Set("Cache-Control", "max-age=3600")
		_, _ = io.WriteString(w, body)
	}
}

// cached lets the browser keep what is in the program. A folder is no page.
func cached(h http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if r.URL.Path == "" || strings.HasSuffix(r.URL.Path, "/") {
			http.NotFound(w, r)
			return
		}
		w.Header().Set("Cache-Control", "max-age=3600")
		h.ServeHTTP(w, r)
	})
}

// A view is a page to be shown: its template with what it shows.
type view struct {
	page  string // name of the template file without its ending: "work"
	title string // of the window, without the name of the program
	here  string // the entry of the navigation that is current: "work"
	data  any
	// part is a template of the page that is sent alone, "" for the whole.
	part string
	// bare pages have no navigation: the board.
	bare bool
	// status is that of the answer; 0 is 200.
	status int
	// to is where the browser goes instead, after a form was taken.
	to string
}

// layoutData is what the layout of every page gets.
type layoutData struct {
	Title, Here string
	Nav         []navEntry
	Data        any
}

type navEntry struct{ Key, Name, Path string }

// nav is what a person can do, in the order of a week.
var nav = []navEntry{
	{"work", "Work", "/"},
	{"questions", "Questions", "/questions"},
	{"sets", "Sets", "/sets"},
	{"marker", "Marker", "/marker"},
	{"couples", "Couples", "/couples"},
	{"settings", "Settings", "/settings"},
}

// A pageError is what a person is told, with a status.
type pageError struct {
	status int
	msg    string // a sentence
	hint   string // what to do, a sentence, or ""
}

func (e *pageError) Error() string { return e.msg }

// page wraps a handler that returns a view: it is rendered whole before anything
// is sent. What fails becomes a page with a sentence and a reference; the log has
// the rest.
func (s *Server) page(h func(r *http.Request) (view, error)) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		v, err := s.safely(h, r)
		if err != nil {
			v = s.errorView(r, err)
		}
		if v.to != "" {
			http.Redirect(w, r, v.to, http.StatusSeeOther)
			return
		}
		var b bytes.Buffer
		if err := s.render(&b, v); err != nil {
			s.o.Log.Error("a page cannot be rendered", "page", v.page, "error", err)
			http.Error(w, "This page cannot be shown. That is a defect of the program.", http.StatusInternalServerError)
			return
		}
		w.Header().Set("Content-Type", "text/html; charset=utf-8")
		w.Header().Set("Cache-Control", "no-store")
		if v.status != 0 {
			w.WriteHeader(v.status)
		}
		_, _ = w.Write(b.Bytes())
	})
}

// safely turns a panic of a handler into an error.
func (s *Server) safely(h func(r *http.Request) (view, error), r *http.Request) (v view, err error) {
	defer func() {
		if p := recover(); p != nil {
			err = fmt.Errorf("panic: %v", p)
		}
	}()
	return h(r)
}

// render writes a view with its layout.
func (s *Server) render(w io.Writer, v view) error {
	t, ok := s.pages[v.page]
	if !ok {
		return fmt.Errorf("there is no page %q", v.page)
	}
	layout := "layout"
	switch {
	case v.part != "":
		return t.ExecuteTemplate(w, v.part, v.data)
	case v.bare:
		layout = "bare"
	}
	return t.ExecuteTemplate(w, layout, layoutData{Title: v.title, Here: v.here, Nav: nav, Data: v.data})
}

// errorView says an error to a person.
func (s *Server) errorView(r *http.Request, err error) view {
	told := explain(err)
	reference := ""
	if told.Status >= http.StatusInternalServerError {
		reference = fmt.Sprintf("%x", s.o.Now().UnixMilli())
		s.o.Log.Error("a request failed", "reference", reference, "method", r.Method, "path", r.URL.Path, "error", err)
	}
	told.Reference = reference
	return view{page: "error", title: told.Message, status: told.Status, data: told}
}

// A told is an error as a page shows it.
type told struct {
	Status          int
	Message, Hint   string
	Reference       string
	Before, At, End string // the text with the place that the error points at; "" where there is none
}

// explain turns kinds of errors into a status and sentences; nothing else does.
func explain(err error) told {
	var (
		page    *pageError
		missing *course.NotFoundError
		invalid *course.InvalidError
		large   *http.MaxBytesError
	)
	switch {
	case errors.As(err, &page):
		return told{Status: page.status, Message: page.msg, Hint: page.hint}
	case errors.As(err, &missing):
		return told{Status: http.StatusNotFound, Message: sentence(missing.Error())}
	case errors.As(err, &invalid):
		return told{Status: http.StatusUnprocessableEntity, Message: sentence(invalid.Error())}
	case errors.As(err, &large):
		return told{Status: http.StatusRequestEntityTooLarge, Message: fmt.Sprintf("More than %d kB cannot be taken at a time.", large.Limit>>10)}
	case errors.Is(err, course.ErrFull):
		return told{Status: http.StatusInsufficientStorage, Message: sentence(course.ErrFull.Error()), Hint: "Make room on the disk, then send it again: what you typed is still in the page."}
	case errors.Is(err, course.ErrBusy):
		return told{Status: http.StatusServiceUnavailable, Message: sentence(course.ErrBusy.Error()), Hint: "What you typed is still in the page."}
	case errors.Is(err, context.Canceled):
		return told{Status: 499, Message: "The request was broken off."}
	}
	r := redox.NewReport(err)
	if r.Kind == redox.KindInternal || r.Kind == "" {
		return told{Status: http.StatusInternalServerError, Message: "Something failed that should not. That is a defect of the program."}
	}
	// A page has a field where a command has a flag.
	hint := strings.Replace(r.Hint, ", or --medium acidic|basic|neutral|none", ", or choose the medium", 1)
	t := told{Status: http.StatusUnprocessableEntity, Message: sentence(r.Message), Hint: sentence(hint)}
	if r.Offset >= 0 && r.Offset <= len(r.Text) {
		end := min(r.Offset+max(r.Width, 1), len(r.Text))
		t.Before, t.At, t.End = r.Text[:r.Offset], r.Text[r.Offset:end], r.Text[end:]
	}
	return t
}

// sentence gives a message a capital and a full stop.
func sentence(s string) string {
	if s == "" {
		return s
	}
	first := s[:1]
	// A formula keeps its letters; a word gets a capital.
	if len(s) > 1 && s[1] >= 'a' && s[1] <= 'z' || strings.HasPrefix(s, "a ") {
		first = strings.ToUpper(first)
	}
	s = first + s[1:]
	if strings.HasSuffix(s, ".") || strings.HasSuffix(s, "?") || strings.HasSuffix(s, "!") {
		return s
	}
	return s + "."
}

// parsePages parses each page with the layout and the parts that all may use.
func parsePages() (map[string]*template.Template, error) {
	names, err := fs.Glob(pagesFS, "pages/*.html")
	if err != nil {
		return nil, err
	}
	shared, err := template.New("").Funcs(functions).ParseFS(pagesFS, "pages/layout.html", "pages/parts.html")
	if err != nil {
		return nil, err
	}
	out := map[string]*template.Template{}
	for _, n := range names {
		base := strings.TrimSuffix(strings.TrimPrefix(n, "pages/"), ".html")
		if base == "layout" || base == "parts" {
			continue
		}
		t, err := shared.Clone()
		if err != nil {
			return nil, err
		}
		if out[base], err = t.ParseFS(pagesFS, n); err != nil {
			return nil, err
		}
	}
	return out, nil
}
