package sqlite

import (
	"database/sql"
	"fmt"
	"net/url"
	"path/filepath"
	"strings"

	_ "modernc.org/sqlite" // the driver "sqlite"
)

// pool returns a pool of at most n connections, which stay open.
func pool(n int, name string) *sql.DB {
	db, err := sql.Open("sqlite", name)
	if err != nil {
		panic(err) // the driver is not linked in: it does not look at the name here
	}
	db.SetMaxOpenConns(n)
	db.SetMaxIdleConns(n)
	return db
}

// writerName is the data source name of the connection that writes. fullfsync is
// for macOS, where flushing a file does not flush the disk; elsewhere it does
// nothing.
func writerName(path string, o options) string {
	return sourceName(path, o, append([]string{
		"journal_mode(wal)", "synchronous(2)", "fullfsync(1)", "checkpoint_fullfsync(1)",
	}, o.pragmas...)...) + "&_txlock=immediate"
}

// readerName is that of the connections that read.
func readerName(path string, o options) string {
	return sourceName(path, o, "journal_mode(wal)", "query_only(1)")
}

// plainName is that of a connection that leaves the file as it is.
func plainName(path string, o options) string { return sourceName(path, o) }

// sourceName names an absolute path as a URI, since a path may have a question
// mark in it (https://www.sqlite.org/uri.html). The file must be there: a
// connection never makes an empty one in place of what was moved away.
func sourceName(path string, o options, pragmas ...string) string {
	p := filepath.ToSlash(path)
	if !strings.HasPrefix(p, "/") {
		p = "/" + p // C:/Users
	}
	query := fmt.Sprintf("mode=rw&_dqs=0&_pragma=busy_timeout(%d)&_pragma=foreign_keys(1)", o.timeout.Milliseconds())
	for _, p := range pragmas {
		query += "&_pragma=" + p
	}
	return (&url.URL{Scheme: "file", Path: p, RawQuery: query}).String()
}
