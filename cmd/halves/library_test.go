package main

import (
	"bytes"
	"context"
	"os"
	"strings"
	"testing"
)

// TestLibraryList: the list in the docs is what the program prints.
func TestLibraryList(t *testing.T) {
	want, err := os.ReadFile("../../docs/library.md")
	if err != nil {
		t.Fatal(err)
	}
	var out, errs bytes.Buffer
	if status := run(context.Background(), []string{"set", "library", "--format", "markdown"}, strings.NewReader(""), &out, &errs); status != statusWorked {
		t.Fatalf("status %d: %s", status, errs.String())
	}
	if !bytes.Equal(out.Bytes(), want) {
		t.Error("docs/library.md is not what halves set library prints; run: go run ./cmd/halves set library --format markdown -o docs/library.md")
	}
}
