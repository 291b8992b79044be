package web

import (
	"context"
	"encoding/json"
	"fmt"
	"net/http"
	"reflect"
	"slices"
	"strings"

	"github.com/danielgtaylor/huma/v2"
	"github.com/danielgtaylor/huma/v2/adapters/humago"
)

// apiPath is where the acts of the desk are for programs. What is under it is kept
// within a version: members may be added, none is taken away.
const apiPath = "/api/v1"

// An api is the JSON API: the same acts as the pages, described as OpenAPI 3.1.
// Handlers return values and errors of the domain; what they are as JSON and as a
// problem stands in one place each.
type api struct {
	huma.API
	desk *Server
	mux  *describedMux
}

// A describedMux notes the patterns that go through it, so that a test can hold
// them to the description.
type describedMux struct {
	*http.ServeMux
	patterns []string
}

func (m *describedMux) HandleFunc(pattern string, h func(http.ResponseWriter, *http.Request)) {
	m.patterns = append(m.patterns, pattern)
	m.ServeMux.HandleFunc(pattern, h)
}

func (s *Server) apiRoutes() {
	newAPI(s, s.mux)
	s.mux.HandleFunc("/api/", s.noAct)
}

// newAPI puts the acts on a mux.
func newAPI(s *Server, mux *http.ServeMux) *api {
	registry := huma.NewMapRegistry("#/components/schemas/", func(t reflect.Type, hint string) string {
		name := huma.DefaultSchemaNamer(t, hint)
		for _, ending := range []string{"JSON", "InBody", "OutBody"} {
			name = strings.TrimSuffix(name, ending)
		}
		return name
	})
	publish(registry.Map())
	a := &api{desk: s, mux: &describedMux{ServeMux: mux}}
	// No pages of documentation: those of the library load scripts from elsewhere.
	a.API = humago.New(a.mux, huma.Config{
		OpenAPI: &huma.OpenAPI{
			OpenAPI: "3.1.0",
			Info: &huma.Info{Title: "Halves", Version: "1.0.0", Description: "Work redox equations by half-reactions, keep questions and sets, mark workings, and look up potentials: " +
				"what the pages of the desk do. Equations and formulas are plain text: MnO4^- + 8 H^+ + 5 e^- -> Mn^2+ + 4 H2O. " +
				"An error is a problem of RFC 9457 with a kind, a sentence, a place in the question, and a way out. " +
				"Requests that change something are refused where they come from another site in a browser."},
			Components: &huma.Components{Schemas: registry},
		},
		Formats:                      map[string]huma.Format{"application/json": huma.DefaultJSONFormat, "json": huma.DefaultJSONFormat},
		DefaultFormat:                "application/json",
		RejectUnknownQueryParameters: true,
		Transformers:                 []huma.Transformer{asProblem},
	})
	a.UseMiddleware(func(ctx huma.Context, next func(huma.Context)) {
		ctx.SetHeader("Cache-Control", "no-store")
		next(ctx)
	})
	a.work()
	a.questions()
	a.sets()
	a.couples()
	a.settings()
	a.description()
	return a
}

// act adds one act. Its handler's error becomes a problem.
func act[I, O any](a *api, op huma.Operation, h func(context.Context, *I) (*O, error)) {
	op.Path = apiPath + op.Path
	op.MaxBodyBytes = maxBody
	op.Responses = map[string]*huma.Response{"default": {
		Description: "Why it could not be done",
		Content:     map[string]*huma.MediaType{"application/problem+json": {Schema: a.OpenAPI().Components.Schemas.Schema(problemType, true, "")}},
	}}
	huma.Register(a.API, op, func(ctx context.Context, in *I) (out *O, err error) {
		defer func() {
			if p := recover(); p != nil {
				out, err = nil, a.desk.problem(op.OperationID, fmt.Errorf("panic: %v", p))
			}
		}()
		if out, err = h(ctx, in); err != nil {
			return nil, a.desk.problem(op.OperationID, err)
		}
		return out, nil
	})
	// The library's own shape of an error is not used.
	delete(a.OpenAPI().Components.Schemas.Map(), "ErrorModel")
	delete(a.OpenAPI().Components.Schemas.Map(), "ErrorDetail")
}

// description hands out the description, and describes that.
func (a *api) description() {
	for ending, kind := range map[string]string{"json": "application/openapi+json", "yaml": "application/openapi+yaml"} {
		a.OpenAPI().AddOperation(&huma.Operation{
			OperationID: "describe-" + ending, Method: http.MethodGet, Path: apiPath + "/openapi." + ending,
			Summary: "This description as " + strings.ToUpper(ending), Tags: []string{"description"},
			Responses: map[string]*huma.Response{"200": {Description: "OK", Content: map[string]*huma.MediaType{kind: {Schema: &huma.Schema{Type: "object", AdditionalProperties: true}}}}},
		})
	}
	asJSON, err := json.MarshalIndent(a.OpenAPI(), "", "  ")
	if err != nil {
		panic(err) // it is made of constants; a test makes it
	}
	asYAML, err := a.OpenAPI().YAML()
	if err != nil {
		panic(err)
	}
	a.mux.HandleFunc("GET "+apiPath+"/openapi.json", text("application/openapi+json", string(asJSON)))
	a.mux.HandleFunc("GET "+apiPath+"/openapi.yaml", text("application/openapi+yaml", string(asYAML)))
}

// noAct answers what is under the path of the API and is no act of it.
func (s *Server) noAct(w http.ResponseWriter, r *http.Request) {
	var allowed []string
	for _, m := range []string{"GET", "POST", "PUT", "DELETE"} {
		try := r.Clone(r.Context())
		try.Method = m
		if _, pattern := s.mux.Handler(try); strings.HasPrefix(pattern, m+" "+apiPath+"/") {
			allowed = append(allowed, m)
		}
	}
	if allowed == nil {
		writeProblem(w, &problem{Status: http.StatusNotFound, Kind: kindNotFound, Detail: "There is no such act.", Hint: "The acts are described at " + apiPath + "/openapi.json."})
		return
	}
	w.Header().Set("Allow", strings.Join(allowed, ", "))
	writeProblem(w, &problem{Status: http.StatusMethodNotAllowed, Kind: kindMethod, Detail: "This cannot be done there by " + shortMethod(r.Method) + ".", Hint: "It can by " + strings.Join(allowed, " and ") + "."})
}

// shortMethod keeps a made-up method out of an answer.
func shortMethod(m string) string {
	if slices.Contains([]string{"GET", "HEAD", "POST", "PUT", "PATCH", "DELETE", "OPTIONS"}, m) {
		return m
	}
	return "this method"
}

// writeProblem answers a request that no act took.
func writeProblem(w http.ResponseWriter, p *problem) {
	w.Header().Set("Content-Type", "application/problem+json")
	w.Header().Set("Cache-Control", "no-store")
	w.WriteHeader(p.Status)
	_ = json.NewEncoder(w).Encode(p.filled())
}

// refuse answers a request that does not get as far as a page or an act.
func refuse(w http.ResponseWriter, r *http.Request, status int, msg string) {
	if isAPI(r) {
		writeProblem(w, &problem{Status: status, Kind: kindOfStatus(status), Detail: msg})
		return
	}
	http.Error(w, msg, status)
}

// isAPI reports whether a request is of a program.
func isAPI(r *http.Request) bool { return strings.HasPrefix(r.URL.Path, "/api/") }
