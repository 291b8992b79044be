package web

import (
	"encoding/json"
	"fmt"
	"html/template"
	"io"
	"net/http"
	"slices"
	"strings"

	"halves/document"
	"halves/exchange"
	"halves/paper"
	"halves/qti"
	"halves/question"
)

func (s *Server) paperRoutes() {
	s.mux.Handle("GET /sets/{id}/paper", s.page(s.paper))
	s.mux.Handle("GET /sets/{id}/paper/{file}", s.download(s.paperFile))
	for _, as := range []string{"json", "csv", "xlsx"} {
		s.mux.Handle("GET /sets/{id}/export."+as, s.download(func(r *http.Request) (download, error) { return s.exported(r, as) }))
	}
	for _, as := range []string{"qti22", "qti30"} {
		s.mux.Handle("GET /sets/{id}/"+as+".zip", s.download(func(r *http.Request) (download, error) { return s.packaged(r, as) }))
	}
}

// A printing is what a set can be laid out as.
type printing struct {
	Key, Name, Help string
	each            bool // each version has its own
}

// Wants reports whether it is of one version.
func (p printing) Wants() bool { return p.each }

// printings lists them.
var printings = []printing{
	{"worksheet", "Worksheet", "The questions with room to work in.", true},
	{"key", "Key", "The full working of each, with the marks of its lines.", true},
	{"exam", "Exam", "The questions with a cover, and where the marks are written in.", true},
	{"slides", "Slides", "Each question worked, one line more on each slide, with what is said in the notes.", true},
	{"reference", "Reference page", "One page for the class: the couples with their potentials, and the rules.", false},
	{"versions", "Versions and seats", "Which question of each version stands where, and the plan of seats.", false},
}

// A paperFormat is one in which paper is handed out.
type paperFormat struct{ Ending, Name string }

var paperFormats = []paperFormat{{"pdf", "PDF"}, {"docx", "DOCX"}, {"pptx", "PPTX"}, {"tex", "LaTeX"}, {"html", "HTML"}, {"md", "Markdown"}, {"txt", "Text"}}

// scaffoldWords say how much of the working a worksheet gives.
var scaffoldWords = map[paper.Scaffold]string{
	paper.Open: "ruled lines alone", paper.Steps: "lines behind what is to be done", paper.Fade: "fading: from the full working to lines alone",
}

// A paperPage shows what can be printed, with a preview.
type paperPage struct {
	ID        int64
	Title     string
	Here      printing
	Printings []printing
	Version   string
	Letters   []string // of all versions
	Scaffold  paper.Scaffold
	Scaffolds []paper.Scaffold
	Formats   []paperFormat
	Letter    bool // US Letter
	Rows      []paperRow
	Preview   *document.Document
	Cut       string // what the preview leaves out; "" for nothing
	Left      int    // questions that QTI has no form for
	NoQTI     bool
	Mistake   *told // in place of the preview
}

// A paperRow is a row of the table of files: all versions, or one.
type paperRow struct{ Name, Query string }

// URL is the query as part of an address.
func (r paperRow) URL() template.URL { return template.URL(r.Query) } // letters and words of ours alone

// Words says a scaffold.
func (paperPage) Words(c paper.Scaffold) string { return scaffoldWords[c] }

// Can reports whether a row is handed out in a format: slides alone are PPTX, and
// all versions together are one file as PDF alone.
func (p paperPage) Can(row paperRow, f paperFormat) bool {
	if f.Ending == "pptx" && p.Here.Key != "slides" {
		return false
	}
	return f.Ending == "pdf" || row.Name != allVersions
}

const allVersions = "All versions"

// paper shows the page.
func (s *Server) paper(r *http.Request) (view, error) {
	kept, set, err := s.openSet(r)
	if err != nil {
		return view{}, err
	}
	settings, err := s.o.Store.Settings(r.Context())
	if err != nil {
		return view{}, err
	}
	here, err := printingOf(r.FormValue("what"))
	if err != nil {
		return view{}, err
	}
	v, _, err := versionOf(set, r.FormValue("version"))
	if err != nil {
		return view{}, err
	}
	o, err := s.paperOptions(r)
	if err != nil {
		return view{}, err
	}
	p := paperPage{ID: kept.ID, Title: set.Wish.Title, Here: here, Printings: printings, Version: v.Letter, Scaffold: o.Scaffold, Scaffolds: paper.Scaffolds, Letter: settings.Letter}
	for _, f := range paperFormats {
		if f.Ending != "pptx" || here.Key == "slides" {
			p.Formats = append(p.Formats, f)
		}
	}
	for _, w := range set.Versions {
		p.Letters = append(p.Letters, w.Letter)
	}
	scaffold := ""
	if here.Key == "worksheet" && o.Scaffold != paper.Open {
		scaffold = "&scaffold=" + string(o.Scaffold)
	}
	if !here.each || len(set.Versions) == 1 {
		p.Rows = []paperRow{{here.Name, strings.TrimPrefix(scaffold, "&")}}
	} else {
		p.Rows = []paperRow{{allVersions, strings.TrimPrefix(scaffold, "&")}}
		for _, l := range p.Letters {
			p.Rows = append(p.Rows, paperRow{"Version " + l, "version=" + l + scaffold})
		}
	}
	if d, err := s.layOut(set, v, here.Key, o); err != nil {
		p.Mistake = s.mistaken(r, err)
	} else {
		p.Preview, p.Cut = previewOf(d)
	}
	q, left := exchange.Package(set, v, o.Conventions)
	p.Left, p.NoQTI = left, len(q.Items) == 0
	return view{page: "setprint", here: "sets", title: "Paper: " + set.Wish.Title, data: p}, nil
}

// Others are the versions beside that which is shown.
func (p paperPage) Others() bool { return p.Here.each && len(p.Letters) > 1 }

func printingOf(key string) (printing, error) {
	if key == "" {
		key = printings[0].Key
	}
	i := slices.IndexFunc(printings, func(p printing) bool { return p.Key == key })
	if i < 0 {
		return printing{}, &pageError{http.StatusNotFound, "There is no such paper.", ""}
	}
	return printings[i], nil
}

// paperOptions are those of a request.
func (s *Server) paperOptions(r *http.Request) (paper.Options, error) {
	settings, err := s.o.Store.Settings(r.Context())
	if err != nil {
		return paper.Options{}, err
	}
	o := paper.Options{Conventions: settings.Conventions, Scaffold: paper.Open}
	if word := r.FormValue("scaffold"); word != "" {
		if o.Scaffold = paper.Scaffold(word); !slices.Contains(paper.Scaffolds, o.Scaffold) {
			return o, &pageError{http.StatusBadRequest, "There is no such room to work in.", "It is open, steps or fade."}
		}
	}
	return o, nil
}

// layOut makes the document of a version.
func (s *Server) layOut(set *question.Set, v *question.Version, what string, o paper.Options) (*document.Document, error) {
	switch what {
	case "key":
		return paper.Key(set, v, o)
	case "exam":
		return paper.Exam(set, v, o)
	case "slides":
		return paper.SetSlides(set, v, o)
	case "reference":
		return paper.Reference(set, s.o.Tables, o)
	case "versions":
		return paper.Concordance(set, o), nil
	}
	return paper.Worksheet(set, v, o)
}

// mostPreviewed is how many blocks of a document a preview has at most; it ends
// before an exercise or a slide.
const mostPreviewed = 60

// previewOf is the beginning of a document, and what is left out of it.
func previewOf(d *document.Document) (*document.Document, string) {
	end, shown, all, what := len(d.Blocks), 0, 0, ""
	for i, b := range d.Blocks {
		switch b.(type) {
		case document.Exercise:
			what = "questions"
		case document.Slide:
			what = "slides"
		default:
			continue
		}
		all++
		if i <= mostPreviewed {
			shown, end = all-1, i
		}
	}
	if all == 0 || len(d.Blocks) <= mostPreviewed || shown == 0 {
		return d, ""
	}
	cut := *d
	cut.Blocks = d.Blocks[:end]
	return &cut, fmt.Sprintf("The preview ends here, after %d of %d %s. The files have all.", shown, all, what)
}

// paperFile hands out {file}: "worksheet.pdf", of the version ?version= or of all.
func (s *Server) paperFile(r *http.Request) (download, error) {
	what, ending, found := strings.Cut(r.PathValue("file"), ".")
	here, err := printingOf(what)
	if err != nil || what == "" {
		return download{}, &pageError{http.StatusNotFound, "There is no such paper.", ""}
	}
	i := slices.IndexFunc(paperFormats, func(f paperFormat) bool { return f.Ending == ending })
	if !found || i < 0 || ending == "pptx" && here.Key != "slides" {
		return download{}, &pageError{http.StatusNotFound, "It is not handed out in this format.", ""}
	}
	_, set, err := s.openSet(r)
	if err != nil {
		return download{}, err
	}
	settings, err := s.o.Store.Settings(r.Context())
	if err != nil {
		return download{}, err
	}
	o, err := s.paperOptions(r)
	if err != nil {
		return download{}, err
	}
	name := fileName(set.Wish.Title) + "-" + here.Key
	first := &set.Versions[0]
	versions := []*question.Version{first}
	switch letter := r.FormValue("version"); {
	case !here.each:
	case letter != "":
		v, _, err := versionOf(set, letter)
		if err != nil {
			return download{}, err
		}
		versions[0] = v
		if len(set.Versions) > 1 {
			name += "-" + v.Letter
		}
	case len(set.Versions) > 1 && ending != "pdf":
		return download{}, oneByOne(set)
	default:
		versions = nil
		for i := range set.Versions {
			versions = append(versions, &set.Versions[i])
		}
	}
	var docs []*document.Document
	for _, v := range versions {
		d, err := s.layOut(set, v, here.Key, o)
		if err != nil {
			return download{}, err
		}
		docs = append(docs, d)
	}
	return download{name + "." + ending, func(w io.Writer) error { return writeDocument(w, ending, settings.Letter, docs...) }}, nil
}

// oneByOne says that each version has a file of its own.
func oneByOne(set *question.Set) error {
	return &pageError{http.StatusUnprocessableEntity, "Each version has a file of its own in this format.", fmt.Sprintf("Choose a version, A to %s.", set.Versions[len(set.Versions)-1].Letter)}
}

// fileName makes the beginning of the name of a file of a title.
func fileName(title string) string {
	const most = 60
	var b strings.Builder
	gap := false
	for _, r := range title {
		if b.Len() >= most {
			break
		}
		if r >= 'a' && r <= 'z' || r >= 'A' && r <= 'Z' || r >= '0' && r <= '9' {
			if gap && b.Len() > 0 {
				b.WriteByte('-')
			}
			gap = false
			b.WriteRune(r)
			continue
		}
		gap = true
	}
	if b.Len() == 0 {
		return "set"
	}
	return b.String()
}

// exported hands a set on as a table, or as the set itself.
func (s *Server) exported(r *http.Request, as string) (download, error) {
	_, set, err := s.openSet(r)
	if err != nil {
		return download{}, err
	}
	var versions []*question.Version
	for i := range set.Versions {
		versions = append(versions, &set.Versions[i])
	}
	return download{fileName(set.Wish.Title) + "." + as, func(w io.Writer) error {
		switch as {
		case "csv":
			return exchange.CSV(w, exchange.Rows(versions))
		case "xlsx":
			return exchange.Book(w, exchange.Rows(versions))
		}
		e := json.NewEncoder(w)
		e.SetIndent("", "  ")
		e.SetEscapeHTML(false)
		return e.Encode(set)
	}}, nil
}

// packaged hands a version on as a package of QTI.
func (s *Server) packaged(r *http.Request, as string) (download, error) {
	_, set, err := s.openSet(r)
	if err != nil {
		return download{}, err
	}
	o, err := s.paperOptions(r)
	if err != nil {
		return download{}, err
	}
	letter := r.FormValue("version")
	if letter == "" && len(set.Versions) > 1 {
		return download{}, oneByOne(set)
	}
	v, _, err := versionOf(set, letter)
	if err != nil {
		return download{}, err
	}
	items, _ := exchange.Package(set, v, o.Conventions)
	if len(items.Items) == 0 {
		return download{}, &pageError{http.StatusUnprocessableEntity, "No question of this set can be handed on as QTI.", "Ask to balance, or make a set with answers to choose from."}
	}
	name := fileName(set.Wish.Title) + "-" + as
	if len(set.Versions) > 1 {
		name += "-" + v.Letter
	}
	write := qti.Write22
	if as == "qti30" {
		write = qti.Write30
	}
	return download{name + ".zip", func(w io.Writer) error { return write(w, items) }}, nil
}
