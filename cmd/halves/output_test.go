package main

import (
	"bytes"
	"context"
	_ "embed"
	"strings"
	"testing"

	"github.com/santhosh-tekuri/jsonschema/v6"
)

//go:embed output.schema.json
var outputSchema []byte

// What the commands beside work write as JSON is what the published schema
// describes.
func TestOutputKeepsToTheSchema(t *testing.T) {
	doc, err := jsonschema.UnmarshalJSON(bytes.NewReader(outputSchema))
	if err != nil {
		t.Fatal(err)
	}
	compiler := jsonschema.NewCompiler()
	if err := compiler.AddResource("output.schema.json", doc); err != nil {
		t.Fatal(err)
	}
	ada, section := workingFiles(t)
	for _, c := range []struct {
		part string
		args []string
		in   string
	}{
		{"chemistry", []string{"cell", "--format", "json", "--ph", "3", "--with", "Fe^2+=0.01", "MnO4^- + Fe^2+ -> Mn^2+ + Fe^3+, in acid"}, ""},
		{"chemistry", []string{"cell", "--format", "json", "2 Fe^3+ + Sn^2+ -> 2 Fe^2+ + Sn^4+"}, ""},
		{"potential", []string{"couple", "--format", "json", "MnO4^- -> Mn^2+"}, ""},
		{"couples", []string{"couple", "--format", "json", "Co"}, ""},
		{"couples", []string{"couple", "--format", "json", "--above", "2"}, ""},
		{"competition", []string{"couple", "--format", "json", "--among", "MnO4^-, Fe^2+, Sn^2+"}, ""},
		{"coupleLine", []string{"couple", "--each", "-"}, "ClO^- -> Cl^-, in base\n{\"id\":\"x\",\"text\":\"Br2(aq) -> Br^-\"}\nCO2 -> CH3OH\n"},
		{"error", []string{"couple", "--each", "-"}, "Zn + Cu^2+ -> Zn^2+ + Cu\nXx -> Yy\nEs^3+ -> Es\n"},
		{"error", []string{"cell", "--format", "json", "Fe2O3 + CO -> Fe + CO2"}, ""},
		{"ladder", []string{"diagram", "ladder", "Fe", "--format", "json"}, ""},
		{"latimer", []string{"diagram", "latimer", "Cl", "--medium", "basic", "--format", "json"}, ""},
		{"frost", []string{"diagram", "frost", "Mn", "--format", "json"}, ""},
		{"map", []string{"diagram", "ph", "Fe", "--format", "json"}, ""},
		{"talk", []string{"talk", "--format", "json", "Zn + Cu^2+ -> Zn^2+ + Cu"}, ""},
		{"marked", []string{"mark", "--format", "json", "--question", "MnO4^- + Fe^2+ -> Mn^2+ + Fe^3+, in acid", ada}, ""},
		{"marked", []string{"mark", "--format", "json", "--worth", "medium=2", "--medium", "acidic", "--question", "MnO4^- + Fe^2+ -> Mn^2+ + Fe^3+", ada}, ""},
		{"markedClass", []string{"mark", "--format", "json", section}, ""},
		{"routes", []string{"mark", "--format", "json", "--question", "Cu + Ag^+ -> Cu^2+ + Ag", "--map"}, ""},
		{"markedLine", []string{"mark", "--each", "-"}, markLines},
		{"error", []string{"mark", "--each", "-"}, "Cu -> Cu^2+\n{\"question\":\"CaCO3 -> CaO + CO2\",\"text\":\"\"}\n{\"question\":{}}\n{\"question\":\"Mn^2+ -> MnO4^-, in acid\",\"text\":\"x\"}\n{\"question\":\"Zn + Cu^2+ -> Zn^2+ + Cu\",\"medium\":\"sour\",\"text\":\"x\"}\n"},
		{"error", []string{"mark", "--format", "json", "--question", "Cu + Xx -> Cu^2+", ada}, ""},
	} {
		part, err := compiler.Compile("output.schema.json#/$defs/" + c.part)
		if err != nil {
			t.Fatal(err)
		}
		var out, errs bytes.Buffer
		status := run(context.Background(), c.args, strings.NewReader(c.in), &out, &errs)
		if out.Len() == 0 || status == statusInternal {
			t.Errorf("%v: status %d, %s", c.args, status, errs.String())
			continue
		}
		texts := []string{out.String()}
		if c.in != "" {
			texts = strings.Split(strings.TrimSpace(out.String()), "\n")
		}
		for _, text := range texts {
			v, err := jsonschema.UnmarshalJSON(strings.NewReader(text))
			if err != nil {
				t.Fatalf("%v: not JSON: %v\n%s", c.args, err, text)
			}
			if m, ok := v.(map[string]any); ok && c.part == "error" {
				delete(m, "id")
				v = m
			}
			if err := part.Validate(v); err != nil {
				t.Errorf("%v: %v\n%s", c.args, err, text)
			}
		}
	}
}
