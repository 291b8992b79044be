package qti_test

import (
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"halves/qti"
)

// needXMLLint returns the path of xmllint, or skips; with HALVES_NO_SKIP it
// fails.
func needXMLLint(t testing.TB) string {
	path, err := exec.LookPath("xmllint")
	if err == nil {
		return path
	}
	if os.Getenv("HALVES_NO_SKIP") != "" {
		t.Fatal("needs xmllint (Debian package libxml2-utils)")
	}
	t.Skip("needs xmllint (Debian package libxml2-utils)")
	return ""
}

// needSchema returns the path of a published schema. The schemas are their
// publishers' property and no part of this project: they are looked for in the
// folder that HALVES_SCHEMAS names, else in ../shared/schemas beside the project,
// and the test is skipped where there is none.
func needSchema(t testing.TB, name string) string {
	folder := os.Getenv("HALVES_SCHEMAS")
	named := folder != ""
	if !named {
		folder = filepath.Join("..", "..", "shared", "schemas")
	}
	path := filepath.Join(folder, "qti-2.2", filepath.FromSlash(name))
	if _, err := os.Stat(path); err != nil {
		if named {
			t.Fatalf("HALVES_SCHEMAS names a folder without the schema: %v", err)
		}
		t.Skip("the schemas of 1EdTech are not at hand; HALVES_SCHEMAS may name the folder that has qti-2.2/" + name)
	}
	return path
}

const (
	itemSchema     = "qtiv2p2p4/imsqti_v2p2p4.xsd" // QTI 2.2.4: items and tests
	manifestSchema = "imscp_v1p1.xsd"              // IMS Content Packaging 1.1.4
)

// validate checks files against a schema, all in one call, since the schema
// takes seconds to load. It returns what xmllint says of those that are not
// valid.
func validate(t testing.TB, schema string, paths []string) string {
	t.Helper()
	lint, xsd := needXMLLint(t), needSchema(t, schema)
	out, err := exec.Command(lint, append([]string{"--nonet", "--noout", "--schema", xsd}, paths...)...).CombinedOutput()
	var faults []string
	for _, line := range strings.Split(string(out), "\n") {
		if strings.Contains(line, "error") || strings.HasSuffix(line, "fails to validate") {
			faults = append(faults, line)
		}
	}
	if n := strings.Count(string(out), " validates\n"); err == nil && n != len(paths) {
		t.Fatalf("xmllint validated %d files of %d:\n%s", n, len(paths), out)
	}
	if err != nil && len(faults) == 0 {
		t.Fatalf("xmllint: %v\n%s", err, out)
	}
	return strings.Join(faults, "\n")
}

// saved writes the files of a package into a folder and returns the paths of
// manifests and of the rest.
func saved(t testing.TB, folder string, files []file) (manifests, others []string) {
	t.Helper()
	for _, f := range files {
		path := filepath.Join(folder, filepath.FromSlash(f.path))
		if err := os.MkdirAll(filepath.Dir(path), 0o777); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(path, f.raw, 0o666); err != nil {
			t.Fatal(err)
		}
		if f.root.name == "manifest" {
			manifests = append(manifests, path)
		} else {
			others = append(others, path)
		}
	}
	return manifests, others
}

// TestSchema checks every file of QTI 2.2 against the published schemas: of one
// set that a teacher would make, and of 60 odd ones.
func TestSchema(t *testing.T) {
	sets := []qti.Set{week()}
	for seed := range 60 {
		sets = append(sets, anySet.Example(seed))
	}
	var manifests, others []string
	for i, s := range sets {
		files, err := unpacked(written(t, qti.Write22, s))
		if err != nil {
			t.Fatal(err)
		}
		m, o := saved(t, filepath.Join(t.TempDir(), strconv.Itoa(i)), files)
		manifests, others = append(manifests, m...), append(others, o...)
	}
	if s := validate(t, itemSchema, others); s != "" {
		t.Errorf("items and tests:\n%s", s)
	}
	if s := validate(t, manifestSchema, manifests); s != "" {
		t.Errorf("manifests:\n%s", s)
	}
}

// TestSchemaFaults shows that the schemas find what is wrong.
func TestSchemaFaults(t *testing.T) {
	tests := []struct{ path, from, to, schema string }{
		{"items/item-002.xml", `identifier="GAP2"`, `identifier="2"`, itemSchema},
		{"items/item-001.xml", `maxChoices="1"`, `maxChoices="one"`, itemSchema},
		{"items/item-001.xml", `xml:lang="en-GB"`, `xml:lang="en_GB"`, itemSchema},
		{"test.xml", `submissionMode="individual"`, ``, itemSchema},
		{"imsmanifest.xml", `<organizations/>`, ``, manifestSchema},
	}
	folder := t.TempDir()
	files, err := unpacked(written(t, qti.Write22, week()))
	if err != nil {
		t.Fatal(err)
	}
	saved(t, folder, files)
	broken := map[string][]string{}
	for i, tt := range tests {
		raw, err := os.ReadFile(filepath.Join(folder, filepath.FromSlash(tt.path)))
		if err != nil {
			t.Fatal(err)
		}
		changed := strings.ReplaceAll(string(raw), tt.from, tt.to)
		if changed == string(raw) {
			t.Fatalf("%s has no %s", tt.path, tt.from)
		}
		path := filepath.Join(folder, strconv.Itoa(i)+".xml")
		if err := os.WriteFile(path, []byte(changed), 0o666); err != nil {
			t.Fatal(err)
		}
		broken[tt.schema] = append(broken[tt.schema], path)
	}
	for schema, paths := range broken {
		said := validate(t, schema, paths)
		for _, p := range paths {
			if !strings.Contains(said, p+" fails to validate") {
				t.Errorf("%s is taken for valid:\n%s", filepath.Base(p), said)
			}
		}
	}
}
