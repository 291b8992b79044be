package sqlite

import (
	"context"
	"database/sql"
	"errors"

	"halves/course"
)

// Questions implements course.Store.
func (s *Store) Questions(ctx context.Context, search string) ([]course.Question, error) {
	var found []course.Question
	words := wordsOf(search)
	err := s.list(ctx, "listing the questions",
		`SELECT id, text, medium, note, created FROM questions ORDER BY created DESC, id DESC`,
		func(scan func(...any) error) error {
			q, err := question(scan)
			if err == nil && words.in(q.Text, q.Note) {
				found = append(found, q)
			}
			return err
		})
	return found, err
}

// Question implements course.Store.
func (s *Store) Question(ctx context.Context, id int64) (course.Question, error) {
	row := s.reader.QueryRowContext(ctx, `SELECT id, text, medium, note, created FROM questions WHERE id = $1`, id)
	q, err := question(row.Scan)
	if errors.Is(err, sql.ErrNoRows) {
		err = &course.NotFoundError{What: "question", ID: id}
	}
	return q, failed(ctx, "reading the question", err)
}

func question(scan func(...any) error) (course.Question, error) {
	var q course.Question
	var created int64
	if err := scan(&q.ID, &q.Text, &q.Medium, &q.Note, &created); err != nil {
		return course.Question{}, err
	}
	q.Created = instant(created)
	return q, nil
}

// SaveQuestion implements course.Store.
func (s *Store) SaveQuestion(ctx context.Context, q course.Question) (int64, error) {
	if err := q.Check(); err != nil {
		return 0, err
	}
	id, now := q.ID, s.now()
	err := s.write(ctx, "saving the question", func(tx *sql.Tx) error {
		if id == 0 {
			return tx.QueryRowContext(ctx,
				`INSERT INTO questions (text, medium, note, created) VALUES ($1, $2, $3, $4) RETURNING id`,
				q.Text, q.Medium, q.Note, given(q.Created, now)).Scan(&id)
		}
		r, err := tx.ExecContext(ctx, `UPDATE questions SET text = $1, medium = $2, note = $3 WHERE id = $4`,
			q.Text, q.Medium, q.Note, id)
		return one(r, err, "question", id)
	})
	if err != nil {
		return 0, err
	}
	return id, nil
}

// DeleteQuestion implements course.Store.
func (s *Store) DeleteQuestion(ctx context.Context, id int64) error {
	return s.write(ctx, "deleting the question", func(tx *sql.Tx) error {
		r, err := tx.ExecContext(ctx, `DELETE FROM questions WHERE id = $1`, id)
		return one(r, err, "question", id)
	})
}
