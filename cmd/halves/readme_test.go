package main

import (
	"bytes"
	"context"
	"os"
	"strings"
	"testing"
)

// The worked example of the README is what the program prints.
func TestReadmeExample(t *testing.T) {
	readme, err := os.ReadFile("../../README.md")
	if err != nil {
		t.Fatal(err)
	}
	const question = "MnO4^- + H2C2O4 -> Mn^2+ + CO2, in acid"
	_, rest, ok := strings.Cut(string(readme), "$ halves work --plain '"+question+"'\n")
	if !ok {
		t.Fatal("the README has no worked example")
	}
	want, _, _ := strings.Cut(rest, "```")
	var out, errs bytes.Buffer
	if status := run(context.Background(), []string{"work", "--plain", question}, strings.NewReader(""), &out, &errs); status != statusWorked {
		t.Fatalf("status %d: %s", status, errs.String())
	}
	if out.String() != want {
		t.Errorf("the README's example is not what the program prints; it prints\n%s", out.String())
	}
}
