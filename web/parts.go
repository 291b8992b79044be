package web

import (
	"bytes"
	"fmt"
	"html/template"
	"net/http"
	"net/url"
	"strings"

	"halves/chem"
	"halves/conventions"
	"halves/document"
	"halves/drawing"
	"halves/names"
	"halves/redox"
	"halves/speech"
)

// functions are those that templates may call.
var functions = template.FuncMap{
	"formula":  formulaHTML,
	"inline":   inlineHTML,
	"fragment": fragmentHTML,
	"picture":  pictureHTML,
	"letter":   document.Letter,
	"add":      func(a, b int) int { return a + b },
	"join":     strings.Join,
	"query":    url.QueryEscape,
}

// formulaHTML writes runs as real text, with its spoken form beside it for those
// who hear it. The result is safe: every run is escaped.
func formulaHTML(runs []chem.Run, spoken string) template.HTML {
	return inlineHTML(document.Inline{{Formula: runs, Spoken: spoken}})
}

// inlineHTML writes a line of prose and formulas.
func inlineHTML(text document.Inline) template.HTML {
	var b bytes.Buffer
	// Writing to memory cannot fail; the writer escapes what it writes.
	_ = document.InlineHTML(&b, text)
	return template.HTML(b.String())
}

// fragmentHTML writes a document as an article; headings begin at a level.
func fragmentHTML(d *document.Document, level int) template.HTML {
	if d == nil {
		return ""
	}
	var b bytes.Buffer
	_ = document.HTML(&b, d, document.HTMLOptions{Fragment: true, Level: level, BareFigures: true})
	return template.HTML(b.String())
}

// pictureHTML writes a picture for a page that has the style sheet of pictures.
func pictureHTML(p *drawing.Picture, prefix string) template.HTML {
	var b bytes.Buffer
	if err := drawing.SVG(&b, p, drawing.Options{Prefix: prefix, Bare: true}); err != nil {
		return template.HTML("<p>This picture cannot be drawn.</p>")
	}
	return template.HTML(b.String())
}

// speciesInline is a formula with its name for those who hear it.
func speciesInline(s *chem.Species, c names.Choice) document.Inline {
	return document.Inline{{Formula: s.Runs(), Spoken: speech.Species(s, c)}}
}

// conventionsOf are those of the settings, with what the request says over them:
// ?by=states&hydronium=true. Unknown values are told as an error.
func conventionsOf(r *http.Request, base redox.Conventions) (redox.Conventions, error) {
	c := base
	for _, k := range conventions.All() {
		v := r.FormValue(k.Name)
		if v == "" {
			continue
		}
		if err := k.Set(&c, v); err != nil {
			return base, &pageError{http.StatusBadRequest, sentence(err.Error()), ""}
		}
	}
	return c, nil
}

// A convention is one line of a form of conventions.
type conventionField struct {
	Name  string
	Help  document.Inline
	Value string
	Words []string
	OnOff bool
}

// conventionFields are the lines of a form, with the values of c.
func conventionFields(c redox.Conventions) []conventionField {
	var out []conventionField
	for _, k := range conventions.All() {
		out = append(out, conventionField{k.Name, document.Prose(k.Help, redox.Conventions{}), k.Get(&c), k.Words, k.OnOff()})
	}
	return out
}

// changed are the conventions of c that differ from base, as a query.
func changed(c, base redox.Conventions) url.Values {
	out := url.Values{}
	for _, k := range conventions.All() {
		if v := k.Get(&c); v != k.Get(&base) {
			out.Set(k.Name, v)
		}
	}
	return out
}

// mediumOf reads the medium of a form.
func mediumOf(r *http.Request) (redox.Medium, error) {
	m, err := redox.ParseMedium(r.FormValue("medium"))
	if err != nil {
		return m, &pageError{http.StatusBadRequest, sentence(err.Error()), ""}
	}
	return m, nil
}

// idOf reads the {id} of a path.
func idOf(r *http.Request) (int64, error) {
	var id int64
	if _, err := fmt.Sscanf(r.PathValue("id"), "%d", &id); err != nil || fmt.Sprint(id) != r.PathValue("id") {
		return 0, &pageError{http.StatusNotFound, "There is no such page.", ""}
	}
	return id, nil
}
