package sqlite

import (
	"context"
	"database/sql"
	"encoding/json"
	"fmt"
	"slices"
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
		if err := fresh(ctx, tx, store.ClassRef, string(x.ID)); err != nil {
			return err
		}
		if _, err := tx.ExecContext(ctx, "INSERT INTO class (id) VALUES (?)", x.ID); err != nil {
			return err
		}
		return put(ctx, tx, store.OfClass(x.ID), store.ClassKey, store.Value{JSON: doc, Revision: 1})
	})
}

// fresh is Conflict when an ID is taken, also in the bin.
func fresh(ctx context.Context, tx *sql.Tx, kind store.RefKind, id string) error {
	var n int
	if err := tx.QueryRowContext(ctx, "SELECT count(*) FROM "+tables[kind]+" WHERE id = ?", id).Scan(&n); err != nil {
		return err
	}
	if n > 0 {
		return fault.New(fault.Conflict, fmt.Sprintf("This %s is there already, perhaps in the bin.", kind), "Load the page again.")
	}
	return nil
}

func (c classes) Get(ctx context.Context, id class.ID) (out store.Class, err error) {
	subject := store.OfClass(id)
	err = c.s.view(ctx, func(tx *sql.Tx) error {
		if err := there(ctx, tx, subject); err != nil {
			return err
		}
		v, err := value(ctx, tx, subject, store.ClassKey)
		if err != nil {
			return err
		}
		if err := json.Unmarshal(v.JSON, &out.Class); err != nil {
			return c.s.damaged(fmt.Errorf("reading class %q: %w", id, err))
		}
		out.Standing, err = standing(ctx, tx, subject)
		return err
	})
	if err != nil {
		return store.Class{}, err
	}
	return out, nil
}

func (c classes) List(ctx context.Context) (out []class.Class, err error) {
	err = c.s.view(ctx, func(tx *sql.Tx) error {
		return each(ctx, tx, func(rows *sql.Rows) error {
			var doc []byte
			var x class.Class
			if err := rows.Scan(&doc); err != nil {
				return err
			}
			if err := json.Unmarshal(doc, &x); err != nil {
				return c.s.damaged(fmt.Errorf("reading a class: %w", err))
			}
			out = append(out, x)
			return nil
		}, "SELECT v.json FROM class c JOIN value v ON v.kind = 'class' AND v.subject = c.id AND v.key = 'class' WHERE c.binned IS NULL")
	})
	if err != nil {
		return nil, err
	}
	slices.SortFunc(out, func(x, y class.Class) int { return compareNames(x.Name, y.Name, string(x.ID), string(y.ID)) })
	return out, nil
}

func (c classes) Delete(ctx context.Context, id class.ID, force bool, at time.Time) error {
	return c.s.tx(ctx, func(tx *sql.Tx) error {
		return toBin(ctx, tx, store.Ref{Kind: store.ClassRef, ID: string(id)}, force, at)
	})
}
