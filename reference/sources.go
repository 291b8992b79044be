package reference

import (
	_ "embed"
	"sync"
)

//go:embed sources.tsv
var sourcesTSV string

// A Source is where figures or facts were taken from.
type Source struct {
	Key      string // as rows name it: "openstax-l"
	Citation string
	Licence  string // or status
	Read     string // how it was read; "memory" where it was not
}

// SourceOf returns the source that a row names by its key, and whether there is
// such a source.
func SourceOf(key string) (Source, bool) {
	s, ok := sources()[key]
	return s, ok
}

var sources = sync.OnceValue(func() map[string]Source {
	return must(loadSources(sourcesTSV))
})

var sourceColumns = []string{"key", "citation", "licence_or_status", "how_read"}

func loadSources(text string) (map[string]Source, error) {
	m := map[string]Source{}
	err := eachRow("sources.tsv", text, sourceColumns, func(line string) error {
		f, err := fieldsOf(line, sourceColumns)
		if err != nil {
			return err
		}
		if _, twice := m[f[0]]; twice {
			return fieldError("key", f[0], "stands in an earlier row too")
		}
		m[f[0]] = Source{Key: f[0], Citation: f[1], Licence: f[2], Read: f[3]}
		return nil
	})
	return m, err
}
