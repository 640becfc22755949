package sqlite

import (
	"context"
	"database/sql"
	"errors"
)

type settings struct{ s *Store }

func (x settings) Get(ctx context.Context, name string) (v string, err error) {
	err = x.s.view(ctx, func(tx *sql.Tx) error {
		err := tx.QueryRowContext(ctx, "SELECT value FROM setting WHERE key = ?", name).Scan(&v)
		if errors.Is(err, sql.ErrNoRows) {
			return nil
		}
		return err
	})
	return v, err
}

func (x settings) Set(ctx context.Context, name, v string) error {
	return x.s.tx(ctx, func(tx *sql.Tx) error {
		_, err := tx.ExecContext(ctx, "INSERT INTO setting (key, value) VALUES (?, ?) ON CONFLICT DO UPDATE SET value = excluded.value", name, v)
		return err
	})
}
