package sqlite

import (
	"context"
	"database/sql"
	"errors"
	"time"

	"bookstead/internal/kit"
	"bookstead/internal/store"
)

type kits struct{ s *Store }

func (k kits) Create(ctx context.Context, x kit.Kit, at time.Time) error {
	written, err := store.Write(x)
	if err != nil {
		return err
	}
	subject := store.OfKit(x.ID)
	return k.s.tx(ctx, func(tx *sql.Tx) error {
		if err := fresh(ctx, tx, "kit", string(x.ID)); err != nil {
			return err
		}
		for table, id := range map[string]string{"book": string(x.Book), "class": string(x.Class)} {
			var n int
			if err := tx.QueryRowContext(ctx, "SELECT count(*) FROM "+table+" WHERE id = ? AND binned IS NULL", id).Scan(&n); err != nil {
				return err
			}
			if n == 0 {
				return notFound("The book or the class of this kit is not there.", "Bring the book in and set up the class first.")
			}
		}
		if _, err := tx.ExecContext(ctx, "INSERT INTO kit (id, book, class, created) VALUES (?, ?, ?, ?)", x.ID, x.Book, x.Class, micros(at)); err != nil {
			return err
		}
		for _, e := range written {
			if err := put(ctx, tx, subject, e.Key, store.Value{JSON: e.JSON, Revision: 1}); err != nil {
				return err
			}
		}
		return nil
	})
}

func (k kits) Get(ctx context.Context, id kit.ID) (store.Kit, error) {
	out, err := k.get(ctx, id)
	if err != nil {
		return store.Kit{}, told(err)
	}
	return out, nil
}

func (k kits) get(ctx context.Context, id kit.ID) (out store.Kit, err error) {
	// One transaction, so that values and standing belong together.
	tx, err := k.s.read.BeginTx(ctx, &sql.TxOptions{ReadOnly: true})
	if err != nil {
		return out, err
	}
	defer tx.Rollback() //nolint:errcheck // nothing was written
	var created int64
	err = tx.QueryRowContext(ctx, "SELECT id, book, class, created FROM kit WHERE id = ? AND binned IS NULL", id).Scan(&out.ID, &out.Book, &out.Class, &created)
	if errors.Is(err, sql.ErrNoRows) {
		return out, notFound("This kit is not there.", "Go back to the library; deleted things lie in the bin.")
	}
	if err != nil {
		return out, err
	}
	out.Created = fromMicros(created)
	rows, err := tx.QueryContext(ctx, "SELECT key, json FROM value WHERE kind = 'kit' AND subject = ? ORDER BY key", id)
	if err != nil {
		return out, err
	}
	defer rows.Close()
	for rows.Next() {
		var key store.Key
		var doc string
		if err := rows.Scan(&key, &doc); err != nil {
			return out, err
		}
		if err := out.Lay(key, []byte(doc)); err != nil {
			return out, err
		}
	}
	if err := rows.Err(); err != nil {
		return out, err
	}
	out.Standing, err = standing(ctx, tx, store.OfKit(id))
	return out, err
}

func (k kits) List(ctx context.Context) (out []store.KitSummary, err error) {
	rows, err := k.s.read.QueryContext(ctx, `
SELECT k.id, k.book, k.class, v.title, coalesce(json_extract(c.json, '$.name'), ''), k.created,
  (SELECT count(*) FROM value d WHERE d.kind = 'kit' AND d.subject = k.id AND d.key LIKE 'decision/%'),
  max(k.created, coalesce((SELECT max(max(s.at, coalesce(s.turned, 0))) FROM step s WHERE s.kind = 'kit' AND s.subject = k.id), 0)) AS changed
FROM kit k
JOIN book b ON b.id = k.book
JOIN book_version v ON v.book = b.id AND v.version = b.version
LEFT JOIN value c ON c.kind = 'class' AND c.subject = k.class AND c.key = 'class'
WHERE k.binned IS NULL ORDER BY changed DESC, k.id`)
	if err != nil {
		return nil, told(err)
	}
	defer rows.Close()
	for rows.Next() {
		var x store.KitSummary
		var created, changed int64
		if err := rows.Scan(&x.ID, &x.Book, &x.Class, &x.BookTitle, &x.ClassName, &created, &x.Decisions, &changed); err != nil {
			return nil, told(err)
		}
		x.Created, x.Changed = fromMicros(created), fromMicros(changed)
		out = append(out, x)
	}
	return out, told(rows.Err())
}

func (k kits) Delete(ctx context.Context, id kit.ID, at time.Time) error {
	return k.s.tx(ctx, func(tx *sql.Tx) error {
		return toBin(ctx, tx, store.Ref{Kind: store.KitRef, ID: string(id)}, false, at)
	})
}
