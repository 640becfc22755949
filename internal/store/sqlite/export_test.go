package sqlite

import (
	"context"
	"fmt"
)

// Migrations are the names of the scripts; Script is one of them.
var Migrations = migrations

func Script(name string) ([]byte, error) { return scripts.ReadFile(name) }

// Pragma runs a pragma on the connection that writes and returns what it says.
func (s *Store) Pragma(ctx context.Context, name string) (said string, err error) {
	rows, err := s.write.QueryContext(ctx, "PRAGMA "+name)
	if err != nil {
		return "", err
	}
	defer rows.Close() //nolint:errcheck // rows.Err tells
	for rows.Next() {
		var v any
		if err := rows.Scan(&v); err != nil {
			return "", err
		}
		said = fmt.Sprint(v)
	}
	return said, rows.Err()
}
