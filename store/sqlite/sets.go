package sqlite

import (
	"context"
	"database/sql"
	"errors"

	"halves/course"
)

// Sets implements course.Store.
func (s *Store) Sets(ctx context.Context) ([]course.Set, error) {
	var all []course.Set
	err := s.list(ctx, "listing the sets",
		`SELECT id, title, count, version, created, changed FROM sets ORDER BY changed DESC, turn DESC`,
		func(scan func(...any) error) error {
			x, err := set(scan)
			all = append(all, x)
			return err
		})
	return all, err
}

// Set implements course.Store.
func (s *Store) Set(ctx context.Context, id int64) (course.Set, error) {
	row := s.reader.QueryRowContext(ctx,
		`SELECT id, title, count, version, created, changed, json FROM sets WHERE id = $1`, id)
	var json []byte
	x, err := set(row.Scan, &json)
	if errors.Is(err, sql.ErrNoRows) {
		err = &course.NotFoundError{What: "set", ID: id}
	}
	x.JSON = json
	return x, failed(ctx, "reading the set", err)
}

func set(scan func(...any) error, more ...any) (course.Set, error) {
	var x course.Set
	var created, changed int64
	if err := scan(append([]any{&x.ID, &x.Title, &x.Count, &x.Version, &created, &changed}, more...)...); err != nil {
		return course.Set{}, err
	}
	x.Created, x.Changed = instant(created), instant(changed)
	return x, nil
}

// SaveSet implements course.Store.
func (s *Store) SaveSet(ctx context.Context, x course.Set) (int64, error) {
	if err := x.Check(); err != nil {
		return 0, err
	}
	id, now := x.ID, s.now()
	err := s.write(ctx, "saving the set", func(tx *sql.Tx) error {
		if id == 0 {
			return tx.QueryRowContext(ctx,
				`INSERT INTO sets (title, count, version, created, changed, turn, json)
				VALUES ($1, $2, $3, $4, $5, (SELECT coalesce(max(turn), 0) + 1 FROM sets), $6) RETURNING id`,
				x.Title, x.Count, x.Version, given(x.Created, now), given(x.Changed, now), string(x.JSON)).Scan(&id)
		}
		r, err := tx.ExecContext(ctx,
			`UPDATE sets SET title = $1, count = $2, version = $3, changed = $4,
			turn = (SELECT max(turn) + 1 FROM sets), json = $5 WHERE id = $6`,
			x.Title, x.Count, x.Version, given(x.Changed, now), string(x.JSON), id)
		return one(r, err, "set", id)
	})
	if err != nil {
		return 0, err
	}
	return id, nil
}

// DeleteSet implements course.Store.
func (s *Store) DeleteSet(ctx context.Context, id int64) error {
	return s.write(ctx, "deleting the set", func(tx *sql.Tx) error {
		r, err := tx.ExecContext(ctx, `DELETE FROM sets WHERE id = $1`, id)
		return one(r, err, "set", id)
	})
}
