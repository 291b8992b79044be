package redox

import _ "embed"

// Schema is the JSON Schema (draft 2020-12) of a solution and of a report.
//
//go:embed solution.schema.json
var Schema []byte
