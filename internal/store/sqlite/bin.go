package sqlite

import (
	"context"
	"database/sql"
	"fmt"
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
	n, err := changed(tx.ExecContext(ctx, "UPDATE "+table+" SET binned = ?, with_kind = '', with_id = '' WHERE id = ? AND binned IS NULL", micros(at), r.ID))
	if err != nil {
		return err
	}
	if n == 0 {
		return notFound("It is not there any more.", "Look into the bin.")
	}
	if r.Kind == store.KitRef {
		return nil
	}
	n, err = changed(tx.ExecContext(ctx, "UPDATE kit SET binned = ?, with_kind = ?, with_id = ? WHERE "+table+" = ? AND binned IS NULL", micros(at), r.Kind, r.ID, r.ID))
	if err != nil {
		return err
	}
	if n > 0 && !force {
		kits := "a kit uses it"
		if n > 1 {
			kits = fmt.Sprintf("%d kits use it", n)
		}
		return fault.New(fault.Conflict, fmt.Sprintf("This %s cannot be deleted alone: %s.", r.Kind, kits),
			"Put it into the bin together with what uses it; everything can be taken out of the bin again.")
	}
	return nil
}

func changed(res sql.Result, err error) (int64, error) {
	if err != nil {
		return 0, err
	}
	return res.RowsAffected()
}

// unbin takes a thing and what went in with it out of the bin, and what these need.
func unbin(ctx context.Context, tx *sql.Tx, r store.Ref) error {
	for _, q := range []struct {
		query string
		args  []any
	}{
		{"UPDATE " + tables[r.Kind] + " SET binned = NULL WHERE id = ?", []any{r.ID}},
		{"UPDATE kit SET binned = NULL, with_kind = '', with_id = '' WHERE binned IS NOT NULL AND (with_kind = ? AND with_id = ? OR ? = 'kit' AND id = ?)", []any{r.Kind, r.ID, r.Kind, r.ID}},
		// A kit outside the bin has its book and its class outside of it.
		{"UPDATE book SET binned = NULL WHERE binned IS NOT NULL AND id IN (SELECT book FROM kit WHERE binned IS NULL)", nil},
		{"UPDATE class SET binned = NULL WHERE binned IS NOT NULL AND id IN (SELECT class FROM kit WHERE binned IS NULL)", nil},
	} {
		if _, err := tx.ExecContext(ctx, q.query, q.args...); err != nil {
			return err
		}
	}
	return nil
}

func (b bin) List(ctx context.Context) (out []store.Binned, err error) {
	err = b.s.view(ctx, func(tx *sql.Tx) error {
		return each(ctx, tx, func(rows *sql.Rows) error {
			var x store.Binned
			var at int64
			err := rows.Scan(&x.Kind, &x.ID, &x.Name, &at, &x.With.Kind, &x.With.ID)
			x.At = fromMicros(at)
			out = append(out, x)
			return err
		}, `
WITH named_book AS (SELECT b.*, v.title AS name FROM book b JOIN book_version v ON v.book = b.id AND v.version = b.version),
named_class AS (SELECT c.*, json_extract(v.json, '$.name') AS name FROM class c JOIN value v ON v.kind = 'class' AND v.subject = c.id AND v.key = 'class')
SELECT 'book', id, name, binned, with_kind, with_id FROM named_book WHERE binned IS NOT NULL
UNION ALL
SELECT 'class', id, name, binned, with_kind, with_id FROM named_class WHERE binned IS NOT NULL
UNION ALL
SELECT 'kit', k.id, b.name || ', ' || c.name, k.binned, k.with_kind, k.with_id FROM kit k JOIN named_book b ON b.id = k.book JOIN named_class c ON c.id = k.class WHERE k.binned IS NOT NULL
ORDER BY 4 DESC, 1, 2`)
	})
	return out, err
}

// inBin is NotFound when the thing does not lie in the bin.
func inBin(ctx context.Context, tx *sql.Tx, r store.Ref) error {
	n := 0
	if t, ok := tables[r.Kind]; ok {
		if err := tx.QueryRowContext(ctx, "SELECT count(*) FROM "+t+" WHERE id = ? AND binned IS NOT NULL", r.ID).Scan(&n); err != nil {
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
		if err := erase(ctx, tx, r); err != nil {
			return err
		}
		// The copies go before the commit: whatever happens in between, nothing
		// that was erased stays in one.
		all, err := b.s.backups()
		if err != nil {
			return err
		}
		return remove(all)
	})
	if err != nil {
		return err
	}
	return b.s.afterErase(ctx)
}

// erase deletes a thing with the kits that need it, and all their values and journals.
func erase(ctx context.Context, tx *sql.Tx, r store.Ref) error {
	kits := "SELECT id FROM kit WHERE " + map[store.RefKind]string{store.BookRef: "book", store.ClassRef: "class", store.KitRef: "id"}[r.Kind] + " = ?"
	var queries []string
	for _, t := range []string{"value", "step", "edit"} {
		queries = append(queries, "DELETE FROM "+t+" WHERE kind = 'kit' AND subject IN ("+kits+")")
		if r.Kind == store.ClassRef {
			queries = append(queries, "DELETE FROM "+t+" WHERE kind IN ('class', 'plan') AND subject = ?")
		}
	}
	queries = append(queries, "DELETE FROM kit WHERE id IN ("+kits+")")
	if r.Kind != store.KitRef {
		queries = append(queries, "DELETE FROM "+tables[r.Kind]+" WHERE id = ?") // its versions or plans with it
	}
	for _, q := range queries {
		if _, err := tx.ExecContext(ctx, q, r.ID); err != nil {
			return err
		}
	}
	return nil
}

// afterErase empties the log, which still holds what was erased, and makes a
// backup in place of those removed. Without room for it there is none until the
// next day.
func (s *Store) afterErase(ctx context.Context) error {
	s.work.RLock()
	defer s.work.RUnlock()
	var busy, frames, done int
	if err := s.write.QueryRowContext(ctx, "PRAGMA wal_checkpoint(TRUNCATE)").Scan(&busy, &frames, &done); err != nil {
		return s.told(ctx, err)
	}
	if err := s.told(ctx, s.backup(ctx)); err != nil && !fault.Is(err, fault.Full) {
		return err
	}
	return nil
}
