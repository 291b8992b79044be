package main

import (
	"bytes"
	"context"
	"strings"
	"testing"

	"github.com/santhosh-tekuri/jsonschema/v6"

	"halves/redox"
)

// What work writes as JSON, for one question and for each of many, is what the
// published schema describes.
func TestJSONKeepsToTheSchema(t *testing.T) {
	doc, err := jsonschema.UnmarshalJSON(bytes.NewReader(redox.Schema))
	if err != nil {
		t.Fatal(err)
	}
	c := jsonschema.NewCompiler()
	if err := c.AddResource("solution.schema.json", doc); err != nil {
		t.Fatal(err)
	}
	schema, err := c.Compile("solution.schema.json")
	if err != nil {
		t.Fatal(err)
	}
	validate := func(text string) {
		t.Helper()
		v, err := jsonschema.UnmarshalJSON(strings.NewReader(text))
		if err != nil {
			t.Fatalf("not JSON: %v\n%s", err, text)
		}
		if err := schema.Validate(v); err != nil {
			t.Errorf("%v\n%s", err, text)
		}
	}
	lines := []string{
		"MnO4^- + Fe^2+ -> Mn^2+ + Fe^3+, in acid",
		`{"id":"B-07","question":"Cl2 -> Cl^- + ClO3^-","medium":"basic"}`,
		`{"id":null,"question":"Fe2O3 + CO -> Fe + CO2"}`,
		"Mn^2+ -> MnO4^-, in acid",
		"I2 -> I^- + IO^- + IO3^-, in base",
		"MnO4^- + Fe^2+ -> Mn^2+ + Fe^3+",
		"KClO3 -> KCl",
		"co2 -> CO2",
		`{"id":3,"question":"Zn + H2","medium":"purple"}`,
		"{not JSON",
	}
	var out, errs bytes.Buffer
	if status := run(context.Background(), []string{"work", "--each", "-"}, strings.NewReader(strings.Join(lines, "\n")), &out, &errs); status != statusWorked {
		t.Fatalf("status %d: %s", status, errs.String())
	}
	answers := strings.Split(strings.TrimSpace(out.String()), "\n")
	if len(answers) != len(lines) {
		t.Fatalf("%d answers to %d lines", len(answers), len(lines))
	}
	for _, a := range answers {
		validate(a)
	}
	for _, q := range []string{"Zn + Cu^2+ -> Zn^2+ + Cu", "Mn^2+ -> MnO4^-, in acid", "co2 -> CO2"} {
		out.Reset()
		run(context.Background(), []string{"work", "--format", "json", q}, strings.NewReader(""), &out, &errs)
		validate(out.String())
	}
}
