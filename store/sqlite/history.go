package sqlite

import (
	"context"
	"database/sql"

	"halves/course"
)

// History implements course.Store.
func (s *Store) History(ctx context.Context) ([]course.Worked, error) {
	var all []course.Worked
	err := s.list(ctx, "listing what was worked lately",
		`SELECT id, text, medium, at FROM history ORDER BY id DESC`,
		func(scan func(...any) error) error {
			var w course.Worked
			var at int64
			err := scan(&w.ID, &w.Text, &w.Medium, &at)
			w.At = instant(at)
			all = append(all, w)
			return err
		})
	return all, err
}

// Remember implements course.Store. What is remembered again gets a new ID, so
// that the order of the IDs is that of the acts.
func (s *Store) Remember(ctx context.Context, w course.Worked) error {
	if err := w.Check(); err != nil {
		return err
	}
	now := s.now()
	return s.write(ctx, "remembering what was worked", func(tx *sql.Tx) error {
		if _, err := tx.ExecContext(ctx, `DELETE FROM history WHERE text = $1 AND medium = $2`, w.Text, w.Medium); err != nil {
			return err
		}
		if _, err := tx.ExecContext(ctx, `INSERT INTO history (text, medium, at) VALUES ($1, $2, $3)`,
			w.Text, w.Medium, given(w.At, now)); err != nil {
			return err
		}
		_, err := tx.ExecContext(ctx,
			`DELETE FROM history WHERE id <= (SELECT id FROM history ORDER BY id DESC LIMIT 1 OFFSET $1)`, course.MaxHistory)
		return err
	})
}

// ForgetHistory implements course.Store.
func (s *Store) ForgetHistory(ctx context.Context) error {
	return s.write(ctx, "forgetting what was worked", func(tx *sql.Tx) error {
		_, err := tx.ExecContext(ctx, `DELETE FROM history`)
		return err
	})
}
