package sqlite

import (
	"context"
	"database/sql"
	"errors"
	"time"

	"bookstead/internal/fault"
	"bookstead/internal/store"
)

type bin struct{ s *Store }

// tables by kind of thing.
var tables = map[store.RefKind]string{store.BookRef: "book", store.ClassRef: "class", store.KitRef: "kit"}

// toBin puts a thing into the bin, with force the kits that need it as well.
func toBin(ctx context.Context, tx *sql.Tx, r store.Ref, force bool, at time.Time) error {
	table := tables[r.Kind]
	res, err := tx.ExecContext(ctx, "UPDATE "+table+" SET binned = ?, with_kind = '', with_id = '' WHERE id = ? AND binned IS NULL", micros(at), r.ID)
	if err != nil {
		return err
	}
	if n, err := res.RowsAffected(); err != nil || n == 0 {
		return errors.Join(err, notFound("It is not there any more.", "Look into the bin."))
	}
	if r.Kind == store.KitRef {
		return nil
	}
	res, err = tx.ExecContext(ctx, "UPDATE kit SET binned = ?, with_kind = ?, with_id = ? WHERE "+table+" = ? AND binned IS NULL", micros(at), r.Kind, r.ID, r.ID)
	if err != nil {
		return err
	}
	if n, err := res.RowsAffected(); err != nil || n > 0 && !force {
		return errors.Join(err, fault.New(fault.Conflict, "A kit needs this.", "Put the kit into the bin first, or both together."))
	}
	return nil
}

// unbin takes a thing and what went in with it out of the bin, and what it needs.
func unbin(ctx context.Context, tx *sql.Tx, r store.Ref) error {
	if _, err := tx.ExecContext(ctx, "UPDATE "+tables[r.Kind]+" SET binned = NULL, with_kind = '', with_id = '' WHERE id = ? AND binned IS NOT NULL", r.ID); err != nil {
		return err
	}
	if r.Kind == store.KitRef {
		for _, t := range []string{"book", "class"} {
			if _, err := tx.ExecContext(ctx, "UPDATE "+t+" SET binned = NULL WHERE binned IS NOT NULL AND id = (SELECT "+t+" FROM kit WHERE id = ?)", r.ID); err != nil {
				return err
			}
		}
		return nil
	}
	// The kits that went in with it come out, and with them what else they need.
	rows, err := tx.QueryContext(ctx, "SELECT id FROM kit WHERE with_kind = ? AND with_id = ? AND binned IS NOT NULL ORDER BY id", r.Kind, r.ID)
	if err != nil {
		return err
	}
	var ids []string
	for rows.Next() {
		var id string
		if err := rows.Scan(&id); err != nil {
			rows.Close() //nolint:errcheck // the first error is the one to tell
			return err
		}
		ids = append(ids, id)
	}
	if err := errors.Join(rows.Err(), rows.Close()); err != nil {
		return err
	}
	for _, id := range ids {
		if err := unbin(ctx, tx, store.Ref{Kind: store.KitRef, ID: id}); err != nil {
			return err
		}
	}
	return nil
}

func (b bin) List(ctx context.Context) (out []store.Binned, err error) {
	rows, err := b.s.read.QueryContext(ctx, `
SELECT 'book', b.id, v.title, b.binned, b.with_kind, b.with_id FROM book b JOIN book_version v ON v.book = b.id AND v.version = b.version WHERE b.binned IS NOT NULL
UNION ALL
SELECT 'class', c.id, json_extract(v.json, '$.name'), c.binned, c.with_kind, c.with_id FROM class c JOIN value v ON v.kind = 'class' AND v.subject = c.id AND v.key = 'class' WHERE c.binned IS NOT NULL
UNION ALL
SELECT 'kit', k.id, w.title || ', ' || json_extract(v.json, '$.name'), k.binned, k.with_kind, k.with_id FROM kit k
  JOIN book b ON b.id = k.book JOIN book_version w ON w.book = b.id AND w.version = b.version
  JOIN value v ON v.kind = 'class' AND v.subject = k.class AND v.key = 'class' WHERE k.binned IS NOT NULL
ORDER BY 4 DESC, 1, 2`)
	if err != nil {
		return nil, told(err)
	}
	defer rows.Close()
	for rows.Next() {
		var x store.Binned
		var at int64
		if err := rows.Scan(&x.Kind, &x.ID, &x.Name, &at, &x.With.Kind, &x.With.ID); err != nil {
			return nil, told(err)
		}
		x.At = fromMicros(at)
		out = append(out, x)
	}
	return out, told(rows.Err())
}

// inBin is NotFound when the thing does not lie in the bin.
func inBin(ctx context.Context, d db, r store.Ref) error {
	n := 0
	if t, ok := tables[r.Kind]; ok {
		if err := d.QueryRowContext(ctx, "SELECT count(*) FROM "+t+" WHERE id = ? AND binned IS NOT NULL", r.ID).Scan(&n); err != nil {
			return err
		}
	}
	if n == 0 {
		return notFound("This does not lie in the bin.", "Load the page again.")
	}
	return nil
}

func (b bin) Restore(ctx context.Context, r store.Ref) error {
	return b.s.tx(ctx, func(tx *sql.Tx) error {
		if err := inBin(ctx, tx, r); err != nil {
			return err
		}
		return unbin(ctx, tx, r)
	})
}

func (b bin) Erase(ctx context.Context, r store.Ref) error {
	err := b.s.tx(ctx, func(tx *sql.Tx) error {
		if err := inBin(ctx, tx, r); err != nil {
			return err
		}
		where := "id = ?"
		if r.Kind != store.KitRef {
			where = tables[r.Kind] + " = ?"
		}
		for _, q := range []string{
			"DELETE FROM value WHERE kind = 'kit' AND subject IN (SELECT id FROM kit WHERE " + where + ")",
			"DELETE FROM step WHERE kind = 'kit' AND subject IN (SELECT id FROM kit WHERE " + where + ")",
			"DELETE FROM edit WHERE kind = 'kit' AND subject IN (SELECT id FROM kit WHERE " + where + ")",
			"DELETE FROM kit WHERE " + where,
		} {
			if _, err := tx.ExecContext(ctx, q, r.ID); err != nil {
				return err
			}
		}
		switch r.Kind {
		case store.BookRef:
			_, err := tx.ExecContext(ctx, "DELETE FROM book WHERE id = ?", r.ID)
			return err
		case store.ClassRef:
			for _, t := range []string{"value", "step", "edit"} {
				if _, err := tx.ExecContext(ctx, "DELETE FROM "+t+" WHERE kind IN ('class', 'plan') AND subject = ?", r.ID); err != nil {
					return err
				}
			}
			_, err := tx.ExecContext(ctx, "DELETE FROM class WHERE id = ?", r.ID)
			return err
		}
		return nil
	})
	if err != nil {
		return err
	}
	// Nothing of it may be left in the log or in older copies.
	if _, err := b.s.write.ExecContext(ctx, "PRAGMA wal_checkpoint(TRUNCATE)"); err != nil {
		return told(err)
	}
	return b.s.eraseBackups()
}
