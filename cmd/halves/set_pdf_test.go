package main

import (
	"bytes"
	"context"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"halves/chem"
	"halves/question"
)

// TestPrintedFormulas prints sets of every kind as PDF and reads them back: each
// formula of each question stands there, every font is embedded, and no character
// is missing. It needs pdftotext and pdffonts (poppler).
func TestPrintedFormulas(t *testing.T) {
	for _, name := range []string{"pdftotext", "pdffonts"} {
		if _, err := exec.LookPath(name); err != nil {
			const needs = "needs pdftotext and pdffonts (Debian package poppler-utils)"
			if os.Getenv("HALVES_NO_SKIP") != "" {
				t.Fatal(needs)
			}
			t.Skip(needs)
		}
	}
	folder := t.TempDir()
	do := func(args ...string) {
		t.Helper()
		var out, errs bytes.Buffer
		if status := run(context.Background(), args, strings.NewReader(""), &out, &errs); status != statusWorked {
			t.Fatalf("halves %s: status %d, %s", strings.Join(args, " "), status, errs.String())
		}
	}
	for i, wish := range [][]string{
		{"--questions", "6", "--versions", "2"},
		{"--questions", "9", "--ask", "balance,split,agents,states,complete,error,electrons,will-it-go", "--from", "couples"},
		{"--questions", "8", "--ask", "balance,electrons,agents", "--choices", "4"},
		{"--questions", "8", "--from", "library", "--media", "acidic,basic,neutral,none", "--difficulty", "1-10"},
		{"--questions", "5", "--species", "any", "--want", "complex,organic"},
	} {
		set := filepath.Join(folder, fmt.Sprintf("set%d.json", i))
		do(append([]string{"set", "new", "-o", set, "--seed", fmt.Sprint(i + 40)}, wish...)...)
		text, err := os.ReadFile(set)
		if err != nil {
			t.Fatal(err)
		}
		s, err := question.ReadSet(text, nil)
		if err != nil {
			t.Fatal(err)
		}
		for _, as := range []string{"worksheet", "key", "exam", "slides", "versions"} {
			if as == "slides" && i > 1 {
				continue // a deck has a hundred pages
			}
			pdf := filepath.Join(folder, as+".pdf")
			do("set", "print", set, "--as", as, "-o", pdf, "--scaffold", "fade")
			out, err := exec.Command("pdftotext", "-layout", pdf, "-").Output()
			if err != nil {
				t.Fatal(err)
			}
			got := strings.Join(strings.Fields(strings.ReplaceAll(string(out), "\u2060", "")), " ")
			if strings.ContainsAny(got, "\ufffd\x00") || strings.Contains(got, "[U+") {
				t.Errorf("set %d as %s: a character is missing", i, as)
			}
			for _, v := range s.Versions {
				for _, x := range v.Items {
					terms := x.Question.Skeleton().Left
					if x.Reversed {
						terms = x.Question.Skeleton().Right
					}
					for _, term := range terms {
						want := strings.ReplaceAll(chem.UnicodeText(term.Species.Runs()), "-", "−")
						if !strings.Contains(got, want) {
							t.Errorf("set %d as %s: no %s", i, as, want)
						}
					}
				}
			}
			fonts, err := exec.Command("pdffonts", pdf).Output()
			if err != nil {
				t.Fatal(err)
			}
			for _, line := range strings.Split(strings.TrimSpace(string(fonts)), "\n")[2:] {
				f := strings.Fields(line)
				// The columns from the right: object ID (two), uni, sub, emb.
				if len(f) < 6 || f[len(f)-5] != "yes" {
					t.Errorf("set %d as %s: a font is not embedded: %s", i, as, line)
				}
			}
		}
	}
}
