package sqlite

import (
	"context"
	"database/sql"
	"encoding/json"
	"errors"
	"fmt"
	"time"

	"bookstead/internal/class"
	"bookstead/internal/fault"
	"bookstead/internal/store"
)

type classes struct{ s *Store }

func (c classes) Create(ctx context.Context, x class.Class, at time.Time) error {
	doc, err := json.Marshal(x)
	if err != nil {
		return fmt.Errorf("writing class %q: %w", x.ID, err)
	}
	return c.s.tx(ctx, func(tx *sql.Tx) error {
		if err := fresh(ctx, tx, "class", string(x.ID)); err != nil {
			return err
		}
		if _, err := tx.ExecContext(ctx, "INSERT INTO class (id) VALUES (?)", x.ID); err != nil {
			return err
		}
		return put(ctx, tx, store.OfClass(x.ID), store.ClassKey, store.Value{JSON: doc, Revision: 1})
	})
}

// fresh is Conflict when the ID is taken in the table, also in the bin.
func fresh(ctx context.Context, d db, table, id string) error {
	var n int
	if err := d.QueryRowContext(ctx, "SELECT count(*) FROM "+table+" WHERE id = ?", id).Scan(&n); err != nil {
		return err
	}
	if n > 0 {
		return fault.New(fault.Conflict, "This is there already.", "Load the page again.")
	}
	return nil
}

func (c classes) Get(ctx context.Context, id class.ID) (out store.Class, err error) {
	v, err := value(ctx, c.s.read, store.OfClass(id), store.ClassKey)
	if err == nil {
		err = there(ctx, c.s.read, store.OfClass(id))
	}
	if err == nil {
		err = json.Unmarshal(v.JSON, &out.Class)
	}
	if err == nil {
		out.Standing, err = standing(ctx, c.s.read, store.OfClass(id))
	}
	if err != nil {
		return store.Class{}, told(err)
	}
	return out, nil
}

func (c classes) List(ctx context.Context) (out []class.Class, err error) {
	rows, err := c.s.read.QueryContext(ctx, "SELECT v.json FROM class c JOIN value v ON v.kind = 'class' AND v.subject = c.id AND v.key = 'class' WHERE c.binned IS NULL ORDER BY json_extract(v.json, '$.name'), c.id")
	if err != nil {
		return nil, told(err)
	}
	defer rows.Close()
	for rows.Next() {
		var doc string
		var x class.Class
		if err := rows.Scan(&doc); err != nil {
			return nil, told(err)
		}
		if err := json.Unmarshal([]byte(doc), &x); err != nil {
			return nil, fault.Wrap(fault.Unreadable, err, "A stored class is damaged.", "Take the newest backup.")
		}
		out = append(out, x)
	}
	return out, told(rows.Err())
}

func (c classes) Delete(ctx context.Context, id class.ID, force bool, at time.Time) error {
	return c.s.tx(ctx, func(tx *sql.Tx) error {
		return toBin(ctx, tx, store.Ref{Kind: store.ClassRef, ID: string(id)}, force, at)
	})
}

type settings struct{ s *Store }

func (x settings) Get(ctx context.Context, name string) (string, error) {
	var v string
	err := x.s.read.QueryRowContext(ctx, "SELECT value FROM setting WHERE key = ?", name).Scan(&v)
	if errors.Is(err, sql.ErrNoRows) {
		return "", nil
	}
	return v, told(err)
}

func (x settings) Set(ctx context.Context, name, v string) error {
	return x.s.tx(ctx, func(tx *sql.Tx) error {
		if v == "" {
			_, err := tx.ExecContext(ctx, "DELETE FROM setting WHERE key = ?", name)
			return err
		}
		_, err := tx.ExecContext(ctx, "INSERT INTO setting VALUES (?, ?) ON CONFLICT DO UPDATE SET value = excluded.value", name, v)
		return err
	})
}
