package web

import (
	"bytes"
	"errors"
	"html/template"
	"io"
	"net/http"
	"net/url"
	"strings"
	"time"

	"halves/chem"
	"halves/course"
	"halves/diagram"
	"halves/document"
	"halves/drawing"
	"halves/energetics"
	"halves/lesson"
	"halves/names"
	"halves/ooxml"
	"halves/paper"
	"halves/pdf"
	"halves/redox"
	"halves/speech"
)

func (s *Server) workRoutes() {
	s.mux.Handle("GET /{$}", s.page(s.work))
	s.mux.Handle("GET /work", s.page(s.work))
	s.mux.Handle("GET /read", s.page(s.read))
	s.mux.Handle("POST /history/forget", s.page(s.forget))
	for _, format := range []string{"html", "tex", "md", "txt", "pdf", "docx", "pptx"} {
		s.mux.Handle("GET /work."+format, s.file(format))
	}
}

// Examples are the featured equations of the demo course.
var examples = []asked{
	{Text: "MnO4^- + H2C2O4 -> Mn^2+ + CO2, in acid"},
	{Text: "H2O2 + Cr(OH)4^- -> CrO4^2-, in base"},
	{Text: "Cl2 -> Cl^- + ClO3^-, in base"},
	{Text: "Cu + HNO3 -> Cu(NO3)2 + NO + H2O"},
	{Text: "As2S3 + NO3^- -> H3AsO4 + SO4^2- + NO, in acid"},
}

// asked is a question as typed, with the medium beside it.
type asked struct {
	Text   string
	Medium redox.Medium
}

// Query is the question as part of an address.
func (a asked) Query() template.URL { return template.URL(a.values().Encode()) } // an encoded query is safe in an address

func (a asked) values() url.Values {
	v := url.Values{"q": {a.Text}}
	if a.Medium != redox.Unstated {
		v.Set("medium", string(a.Medium))
	}
	return v
}

// A workPage is the page on which a question is typed and worked.
type workPage struct {
	Text        string
	Medium      redox.Medium
	Conventions []conventionField
	Changed     bool // the conventions are not those of the settings
	Reading     *readingPart
	Mistake     *told
	Report      *document.Document // what an error brings with it
	Solved      *solved
	History     []lately
	Examples    []example
}

type example struct {
	asked
	Line document.Inline
}

type lately struct {
	example
	At, When string
}

// solved is a worked question as a page shows it.
type solved struct {
	asked
	Query    template.URL
	Link     string
	Document *document.Document
	Figures  []figure
	Lines    []copied
	Species  []withStates
}

// copied is a line of a working in the forms in which it can be copied.
type copied struct {
	What              string // "oxidation: balance oxygen with water"
	Line              document.Inline
	Text, HTML, LaTeX string
}

// withStates is a species with its oxidation states, to be looked up.
type withStates struct {
	Species document.Inline
	Name    string
	States  document.Inline
}

// copiedLines are the lines that a working writes, and the answer.
func copiedLines(s *redox.Solution) []copied {
	var out []copied
	add := func(what string, runs []chem.Run, spoken string) {
		out = append(out, copied{
			What: what, Line: document.Inline{{Formula: runs, Spoken: spoken}},
			Text: chem.UnicodeText(runs), HTML: plainHTML(runs), LaTeX: document.LaTeXLine(runs),
		})
	}
	for _, st := range s.Steps {
		line := lesson.Line(st, s.Conventions)
		if line == nil || !st.Done || st.Written != nil {
			continue
		}
		what := string(st.Rule)
		if st.Half >= 0 && st.Half < len(s.Halves) {
			what = string(s.Halves[st.Half].Role) + ": " + what
		}
		add(what, line, speech.Equation(st.After, s.Conventions.Names))
	}
	add("the answer", s.Equation.Runs(s.Conventions.Style()), speech.Equation(s.Equation, s.Conventions.Names))
	return out
}

// plainHTML writes runs with sub and sup alone, for a page of somebody else's.
func plainHTML(runs []chem.Run) string {
	var b strings.Builder
	for _, r := range runs {
		text := template.HTMLEscapeString(chem.UnicodeText([]chem.Run{{Text: r.Text}}))
		switch r.Level {
		case chem.Subscript:
			text = "<sub>" + text + "</sub>"
		case chem.Superscript:
			text = "<sup>" + strings.ReplaceAll(text, "-", "\u2212") + "</sup>"
		}
		b.WriteString(text)
	}
	return b.String()
}

// speciesOf are the species of a solution with their states, each once.
func speciesOf(s *redox.Solution) []withStates {
	var out []withStates
	seen := map[string]bool{}
	for _, x := range s.Species {
		if seen[x.Species.Key()] {
			continue
		}
		seen[x.Species.Key()] = true
		w := withStates{Species: document.FormulaOf(x.Species, s.Conventions)}
		if name, ok := names.Of(x.Species, s.Conventions.Names); ok {
			w.Name = name
		}
		var parts []document.Inline
		for _, st := range x.States {
			var values []string
			for _, site := range st.Sites {
				values = append(values, s.Conventions.State(site.State))
			}
			parts = append(parts, document.Prose(st.Element.Symbol()+" "+strings.Join(values, " and "), s.Conventions))
		}
		w.States = document.Series(parts)
		out = append(out, w)
	}
	return out
}

type figure struct {
	Title   string
	Prefix  string
	Picture *drawing.Picture
	Table   *document.Document
}

// work shows the page, with the solution of ?q= where there is one.
func (s *Server) work(r *http.Request) (view, error) {
	settings, err := s.o.Store.Settings(r.Context())
	if err != nil {
		return view{}, err
	}
	p := workPage{Text: strings.TrimSpace(r.FormValue("q"))}
	c, err := conventionsOf(r, settings.Conventions)
	if err != nil {
		return view{}, err
	}
	p.Conventions = conventionFields(c)
	p.Changed = len(changed(c, settings.Conventions)) > 0
	if p.Medium, err = mediumOf(r); err != nil {
		return view{}, err
	}
	v := view{page: "work", here: "work", title: "Work"}
	if p.Text != "" {
		s.solve(r, &p, c, settings.Conventions)
		if p.Mistake != nil {
			v.status = p.Mistake.Status
		} else {
			v.title = p.Text
		}
	}
	if err := s.recall(r, &p, c); err != nil {
		return view{}, err
	}
	v.data = p
	return v, nil
}

// solve works the question of a page and puts the solution, or what is wrong, on
// it.
func (s *Server) solve(r *http.Request, p *workPage, c, usual redox.Conventions) {
	sol, err := redox.Work(p.Text, p.Medium, c)
	if err != nil {
		t := explain(err)
		p.Mistake = &t
		p.Report = document.FromReport(redox.NewReport(err), c)
		return
	}
	if err := s.o.Store.Remember(r.Context(), course.Worked{Text: p.Text, Medium: p.Medium, At: s.o.Now()}); err != nil {
		s.o.Log.Warn("the history was not kept", "error", err) // the answer matters more
	}
	d := document.FromSolution(sol)
	x, err := document.NewChemistry(s.o.Tables, sol, energetics.Conditions{})
	if err == nil {
		d.AddChemistry(sol, x)
	}
	q := asked{p.Text, p.Medium}
	values := q.values()
	for k, v := range changed(c, usual) {
		values[k] = v
	}
	out := &solved{asked: q, Query: template.URL(values.Encode()), Link: "/work?" + values.Encode(), Document: d, Lines: copiedLines(sol), Species: speciesOf(sol)}
	if x.Cell != nil {
		drawn := diagram.Ladder(x.Cell.Ladder(), diagram.Style{Names: c.Names})
		out.Figures = append(out.Figures, figure{Title: drawn.Title, Prefix: "ladder", Picture: drawn.Picture, Table: document.FigureTable(drawn)})
	}
	p.Solved = out
}

// recall puts on a page what was worked lately, and examples where nothing was.
func (s *Server) recall(r *http.Request, p *workPage, c redox.Conventions) error {
	all, err := s.o.Store.History(r.Context())
	if err != nil {
		return err
	}
	const most = 12
	for _, w := range all {
		if len(p.History) == most {
			break
		}
		line, ok := lineOf(w.Text, w.Medium, c)
		if !ok || p.Solved != nil && w.Text == p.Text && w.Medium == p.Medium {
			continue
		}
		p.History = append(p.History, lately{example{asked{w.Text, w.Medium}, line}, w.At.Format(time.RFC3339), w.At.Local().Format("2 January, 15:04")})
	}
	for _, e := range examples {
		if line, ok := lineOf(e.Text, e.Medium, c); ok {
			p.Examples = append(p.Examples, example{e, line})
		}
	}
	return nil
}

// lineOf writes a question as it is read: the likeliest reading.
func lineOf(text string, m redox.Medium, c redox.Conventions) (document.Inline, bool) {
	q, err := redox.ReadQuestion(text)
	if err != nil || len(q.Readings) == 0 {
		return nil, false
	}
	if m == redox.Unstated {
		m = q.Medium
	}
	return document.Join(document.EquationOf(q.Readings[0].Equation, c), document.MediumPhrase(m)), true
}

// A readingPart is what stands under the field while one types.
type readingPart struct {
	Line    document.Inline
	Notes   []document.Inline
	Mistake *told
}

// read answers with the live reading of ?q=.
func (s *Server) read(r *http.Request) (view, error) {
	settings, err := s.o.Store.Settings(r.Context())
	if err != nil {
		return view{}, err
	}
	return view{page: "work", part: "reading", data: reading(r.FormValue("q"), settings.Conventions)}, nil
}

// reading reads a text without working it.
func reading(text string, c redox.Conventions) readingPart {
	var p readingPart
	if strings.TrimSpace(text) == "" {
		return p
	}
	q, err := redox.ReadQuestion(text)
	if err != nil {
		t := explain(err)
		p.Mistake = &t
		return p
	}
	if len(q.Readings) == 0 {
		return p
	}
	first := q.Readings[0]
	p.Line = document.Join(document.EquationOf(first.Equation, c), document.MediumPhrase(q.Medium))
	for _, a := range first.Assumptions {
		p.Notes = append(p.Notes, document.Prose("Read "+a.Typed+" as "+a.Read.String()+".", c))
	}
	if q.Medium == redox.Unstated && !onBothSides(first.Equation) {
		p.Notes = append(p.Notes, document.Plain("Say the medium behind a comma, or choose it: in acid, in base, in neutral solution."))
	}
	return p
}

// onBothSides reports whether each element stands on both sides, so that nothing
// need be added.
func onBothSides(e chem.Equation) bool {
	var sides [2]map[chem.Element]bool
	for i, terms := range [][]chem.Term{e.Left, e.Right} {
		sides[i] = map[chem.Element]bool{}
		for _, t := range terms {
			for _, c := range t.Species.Composition() {
				sides[i][c.Element] = true
			}
		}
	}
	if len(sides[0]) != len(sides[1]) {
		return false
	}
	for el := range sides[0] {
		if !sides[1][el] {
			return false
		}
	}
	return true
}

// forget empties the history.
func (s *Server) forget(r *http.Request) (view, error) {
	if err := s.o.Store.ForgetHistory(r.Context()); err != nil {
		return view{}, err
	}
	return view{to: "/"}, nil
}

// kinds are those of the files that are handed out, by their endings.
var kinds = map[string]string{
	"html": "text/html; charset=utf-8", "tex": "application/x-tex; charset=utf-8", "md": "text/markdown; charset=utf-8", "txt": "text/plain; charset=utf-8",
	"pdf": "application/pdf", "docx": "application/vnd.openxmlformats-officedocument.wordprocessingml.document",
	"pptx": "application/vnd.openxmlformats-officedocument.presentationml.presentation", "json": "application/json", "zip": "application/zip",
	"csv": "text/csv; charset=utf-8", "svg": "image/svg+xml", "xlsx": "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet",
}

// file hands out the solution of ?q= in a format.
func (s *Server) file(format string) http.Handler {
	return s.download(func(r *http.Request) (download, error) {
		settings, err := s.o.Store.Settings(r.Context())
		if err != nil {
			return download{}, err
		}
		c, err := conventionsOf(r, settings.Conventions)
		if err != nil {
			return download{}, err
		}
		m, err := mediumOf(r)
		if err != nil {
			return download{}, err
		}
		sol, err := redox.Work(r.FormValue("q"), m, c)
		if err != nil {
			return download{}, err
		}
		var d *document.Document
		if format == "pptx" {
			d = paper.Slides(sol)
		} else {
			d = document.FromSolution(sol)
			if x, err := document.NewChemistry(s.o.Tables, sol, energetics.Conditions{}); err == nil {
				d.AddChemistry(sol, x)
			}
		}
		return download{"working." + format, func(w io.Writer) error { return writeDocument(w, format, settings.Letter, d) }}, nil
	})
}

// writeDocument writes documents in a format.
func writeDocument(w io.Writer, format string, letter bool, docs ...*document.Document) error {
	size, page := pdf.A4, ooxml.A4
	if letter {
		size, page = pdf.Letter, ooxml.Letter
	}
	switch format {
	case "pdf":
		return pdf.Write(w, pdf.Options{Paper: size}, docs...)
	case "docx":
		return ooxml.DOCX(w, document.Joined(docs...), ooxml.Options{Paper: page})
	case "pptx":
		return ooxml.PPTX(w, document.Joined(docs...), ooxml.Options{Paper: page})
	case "tex":
		return document.LaTeX(w, document.Joined(docs...), document.LaTeXOptions{})
	case "md":
		return document.Markdown(w, document.Joined(docs...))
	case "txt":
		return document.Text(w, document.Joined(docs...), document.TextOptions{Width: 80})
	case "html":
		return document.HTML(w, document.Joined(docs...), document.HTMLOptions{})
	}
	return errors.New("no format is called " + format)
}

// A download is a file that is handed out.
type download struct {
	name  string // its ending says its kind
	write func(io.Writer) error
}

// download wraps a handler that hands out a file: it is made whole before
// anything is sent.
func (s *Server) download(h func(r *http.Request) (download, error)) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		var d download
		var b bytes.Buffer
		_, err := s.safely(func(r *http.Request) (view, error) {
			var err error
			if d, err = h(r); err == nil {
				err = d.write(&b)
			}
			return view{}, err
		}, r)
		if err != nil {
			s.page(func(*http.Request) (view, error) { return view{}, err }).ServeHTTP(w, r)
			return
		}
		ending := d.name[strings.LastIndexByte(d.name, '.')+1:]
		w.Header().Set("Content-Type", kinds[ending])
		w.Header().Set("Content-Disposition", disposition(d.name, ending))
		w.Header().Set("Cache-Control", "no-store")
		if ending == "html" {
			// A page of its own, with its own style.
			w.Header().Set("Content-Security-Policy", "default-src 'none'; style-src 'unsafe-inline'; frame-ancestors 'none'")
		}
		_, _ = w.Write(b.Bytes())
	})
}

// disposition lets the browser show what it can show, and keep the rest under a
// name of plain characters.
func disposition(name, ending string) string {
	plain := strings.Map(func(r rune) rune {
		if r >= 'a' && r <= 'z' || r >= 'A' && r <= 'Z' || r >= '0' && r <= '9' || r == '.' || r == '-' || r == '_' {
			return r
		}
		return '-'
	}, name)
	kind := "attachment"
	if ending == "pdf" || ending == "html" || ending == "txt" {
		kind = "inline"
	}
	return kind + `; filename="` + plain + `"`
}
