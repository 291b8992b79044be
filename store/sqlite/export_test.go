package sqlite

import (
	"context"
	"database/sql"
	"io/fs"
	"time"
)

// Pools returns the connections that write and those that read.
func (s *Store) Pools() (writer, reader *sql.DB) { return s.writer, s.reader }

// Write makes one change.
func (s *Store) Write(ctx context.Context, act func(*sql.Tx) error) error {
	return s.write(ctx, "trying", act)
}

// Released returns the migrations of this version.
var Released = released

// Migrations takes other migrations than those of this version.
func Migrations(files fs.FS) Option { return func(o *options) { o.migrations = files } }

// Pragmas gives the connection that writes more pragmas.
func Pragmas(p ...string) Option { return func(o *options) { o.pragmas = p } }

// Clock takes another clock.
func Clock(now func() time.Time) Option { return func(o *options) { o.now = now } }
