package sqlite

import (
	"context"
	"database/sql"
	"errors"

	"halves/conventions"
	"halves/course"
)

// Settings implements course.Store.
func (s *Store) Settings(ctx context.Context) (course.Settings, error) {
	const doing = "reading the settings"
	var v course.Settings
	var text string
	err := s.reader.QueryRowContext(ctx, `SELECT course, section, conventions, letter FROM settings`).
		Scan(&v.Course, &v.Section, &text, &v.Letter)
	if errors.Is(err, sql.ErrNoRows) {
		return course.Settings{}, nil
	}
	if err != nil {
		return course.Settings{}, failed(ctx, doing, err)
	}
	if v.Conventions, err = conventions.Read([]byte(text)); err != nil {
		return course.Settings{}, failed(ctx, doing, err)
	}
	return v, nil
}

// SaveSettings implements course.Store. The conventions are kept as the file in
// which a class keeps them: that form is promised, the fields of a type are not.
func (s *Store) SaveSettings(ctx context.Context, v course.Settings) error {
	if err := v.Check(); err != nil {
		return err
	}
	return s.write(ctx, "saving the settings", func(tx *sql.Tx) error {
		_, err := tx.ExecContext(ctx,
			`INSERT INTO settings (id, course, section, conventions, letter) VALUES (1, $1, $2, $3, $4)
			ON CONFLICT (id) DO UPDATE SET course = excluded.course, section = excluded.section,
			conventions = excluded.conventions, letter = excluded.letter`,
			v.Course, v.Section, string(conventions.Write(v.Conventions)), v.Letter)
		return err
	})
}
