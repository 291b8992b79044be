package layers

import (
	"errors"
	"fmt"
	"go/build"
	"io/fs"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

// module is the path that every import of our own begins with.
const module = "halves"

// layers, from the ground up: a package imports only from lines above its own.
const layers = `
chem checks cohort internal/nearest internal/headless
balance reference
names oxidation
redox speech drawing
energetics caution conventions lesson marking
question diagram
document
paper pdf ooxml qti course
exchange
store/storetest
store/sqlite web
cmd/halves
`

// aside are packages that are no part of the program: they import nothing of
// it, and nothing imports them.
const aside = "internal/layers"

// edges are the packages that may know of files, networks, databases and clocks.
const edges = "cmd/halves internal/headless store/sqlite store/storetest web"

// outside are the trees of the standard library that only the edges may import.
// Package embed is not among them: a table in the program is not a file.
const outside = "database log net os syscall time"

// excused are packages that need a name of those trees for a type alone: a PDF
// has a date, which is fixed, and what is kept has the time that the caller gives.
// No clock is read.
var excused = map[string]string{"pdf": "time", "course": "time"}

// platforms are those whose files are read, so that an import in a file for
// another system than the one that tests is seen too.
var platforms = []struct{ os, arch string }{
	{"linux", "amd64"}, {"darwin", "arm64"}, {"windows", "amd64"}, {"js", "wasm"},
}

// TestImports holds the tree to the list. Test files may import as they like.
func TestImports(t *testing.T) {
	imports, err := readTree(filepath.Join("..", ".."))
	if err != nil {
		t.Fatal(err)
	}
	if _, ok := imports[aside]; !ok {
		t.Fatalf("%s was not found in the tree: the test does not see the packages", aside)
	}
	for _, fault := range faults(imports) {
		t.Error(fault)
	}
}

// TestFaults shows that each kind of fault is found. The trees are invented.
func TestFaults(t *testing.T) {
	tests := []struct {
		name, pkg, imports string
		want               string // the one fault, or "" for none
	}{
		{"lower line", "redox", "halves/chem halves/balance halves/oxidation", ""},
		{"two lines down", "cmd/halves", "halves/chem os time net/http", ""},
		{"pure standard library", "reference", "embed io/fs math/big strings", ""},
		{"same line", "balance", "halves/reference", "balance imports reference, which is on its own line or below"},
		{"higher line", "chem", "halves/redox", "chem imports redox, which is on its own line or below"},
		{"not in the list", "util", "", "package util is not in the list of layers"},
		{"imports what is not in the list", "redox", "halves/util", "redox imports util, which is not in the list of layers"},
		{"imports the aside", "redox", "halves/internal/layers", "redox imports internal/layers, which is not in the list of layers"},
		{"aside imports", aside, "halves/chem", "internal/layers imports chem; it is no part of the program"},
		{"files", "chem", "os", "chem imports os, which only cmd/halves, internal/headless, store/sqlite, store/storetest, web may"},
		{"a package below os", "chem", "os/exec", "chem imports os/exec, which only cmd/halves, internal/headless, store/sqlite, store/storetest, web may"},
		{"network", "reference", "net/http", "reference imports net/http, which only cmd/halves, internal/headless, store/sqlite, store/storetest, web may"},
		{"database", "document", "database/sql", "document imports database/sql, which only cmd/halves, internal/headless, store/sqlite, store/storetest, web may"},
		{"clock", "redox", "time", "redox imports time, which only cmd/halves, internal/headless, store/sqlite, store/storetest, web may"},
		{"a date", "pdf", "time", ""},
		{"more than the date", "pdf", "os", "pdf imports os, which only cmd/halves, internal/headless, store/sqlite, store/storetest, web may"},
		{"name that only begins alike", "redox", "network.example/x timeless", ""},
	}
	for _, tt := range tests {
		got := strings.Join(faults(map[string][]string{tt.pkg: strings.Fields(tt.imports)}), "\n")
		if got != tt.want {
			t.Errorf("%s: faults(%s: %s)\n got %q\nwant %q", tt.name, tt.pkg, tt.imports, got, tt.want)
		}
	}
}

// faults compares imports with the list. Keys are folders from the top of the
// module (balance, cmd/halves), values are import paths as written. There is
// one sentence for each fault, in the order of the folders.
func faults(imports map[string][]string) []string {
	line := map[string]int{} // package to its line, from 1; 0 is not in the list
	for i, l := range strings.Split(strings.TrimSpace(layers), "\n") {
		for _, pkg := range strings.Fields(l) {
			line[pkg] = i + 1
		}
	}
	var found []string
	for _, pkg := range slices.Sorted(maps.Keys(imports)) {
		if pkg != aside && line[pkg] == 0 {
			found = append(found, fmt.Sprintf("package %s is not in the list of layers", pkg))
			continue
		}
		for _, path := range imports[pkg] {
			dep, ours := strings.CutPrefix(path, module+"/")
			switch {
			case !ours:
				root, _, _ := strings.Cut(path, "/")
				if !slices.Contains(strings.Fields(edges), pkg) && excused[pkg] != path && slices.Contains(strings.Fields(outside), root) {
					found = append(found, fmt.Sprintf("%s imports %s, which only %s may", pkg, path, strings.Join(strings.Fields(edges), ", ")))
				}
			case pkg == aside:
				found = append(found, fmt.Sprintf("%s imports %s; it is no part of the program", pkg, dep))
			case line[dep] == 0:
				found = append(found, fmt.Sprintf("%s imports %s, which is not in the list of layers", pkg, dep))
			case line[dep] >= line[pkg]:
				found = append(found, fmt.Sprintf("%s imports %s, which is on its own line or below", pkg, dep))
			}
		}
	}
	return found
}

// readTree returns the imports of every package below root, test files aside.
// It reads the files itself: that is fast, and the go command, which watches
// what a test opens, then never answers from its cache after an import changed.
func readTree(root string) (map[string][]string, error) {
	imports := map[string][]string{}
	err := filepath.WalkDir(root, func(dir string, entry fs.DirEntry, err error) error {
		if err != nil || !entry.IsDir() {
			return err
		}
		if dir != root {
			// The go command skips these too.
			name := entry.Name()
			if name == "testdata" || name == "vendor" || name[0] == '.' || name[0] == '_' {
				return fs.SkipDir
			}
			if _, err := os.Stat(filepath.Join(dir, "go.mod")); err == nil {
				return fs.SkipDir
			}
		}
		pkg, err := filepath.Rel(root, dir)
		if err != nil {
			return err
		}
		pkg = filepath.ToSlash(pkg)
		for _, p := range platforms {
			found, err := readPackage(dir, p.os, p.arch)
			var none *build.NoGoError
			if errors.As(err, &none) {
				continue
			}
			if err != nil {
				return err
			}
			imports[pkg] = append(imports[pkg], found...)
		}
		if _, ok := imports[pkg]; ok {
			slices.Sort(imports[pkg])
			imports[pkg] = slices.Compact(imports[pkg])
		}
		return nil
	})
	return imports, err
}

// readPackage returns what the package in dir imports when it is built for the
// system; the error is a *build.NoGoError where there is no package.
func readPackage(dir, system, arch string) ([]string, error) {
	context := build.Default
	context.GOOS, context.GOARCH = system, arch
	pkg, err := context.ImportDir(dir, 0)
	if err != nil {
		return nil, err
	}
	return pkg.Imports, nil
}
