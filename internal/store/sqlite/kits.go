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
	return k.s.tx(ctx, func(tx *sql.Tx) error {
		if err := fresh(ctx, tx, store.KitRef, string(x.ID)); err != nil {
			return err
		}
		var ready bool
		if err := tx.QueryRowContext(ctx, "SELECT EXISTS (SELECT 1 FROM book WHERE id = ? AND binned IS NULL) AND EXISTS (SELECT 1 FROM class WHERE id = ? AND binned IS NULL)", x.Book, x.Class).Scan(&ready); err != nil {
			return err
		}
		if !ready {
			return notFound("The book or the class of this kit is not there.", "Bring the book in and set up the class first, or look into the bin.")
		}
		if _, err := tx.ExecContext(ctx, "INSERT INTO kit (id, book, class, created) VALUES (?, ?, ?, ?)", x.ID, x.Book, x.Class, micros(at)); err != nil {
			return err
		}
		for _, e := range written {
			if err := put(ctx, tx, store.OfKit(x.ID), e.Key, store.Value{JSON: e.JSON, Revision: 1}); err != nil {
				return err
			}
		}
		return nil
	})
}

func (k kits) Get(ctx context.Context, id kit.ID) (out store.Kit, err error) {
	err = k.s.view(ctx, func(tx *sql.Tx) error {
		var created int64
		err := tx.QueryRowContext(ctx, "SELECT id, book, class, created FROM kit WHERE id = ? AND binned IS NULL", id).Scan(&out.ID, &out.Book, &out.Class, &created)
		if errors.Is(err, sql.ErrNoRows) {
			return notFound("This kit is not there.", "Go back to the library; deleted things lie in the bin.")
		}
		if err != nil {
			return err
		}
		out.Created = fromMicros(created)
		err = each(ctx, tx, func(rows *sql.Rows) error {
			var key store.Key
			var doc []byte
			if err := rows.Scan(&key, &doc); err != nil {
				return err
			}
			if err := out.Lay(key, doc); err != nil {
				return k.s.damaged(err)
			}
			return nil
		}, "SELECT key, json FROM value WHERE kind = 'kit' AND subject = ? ORDER BY key", id)
		if err != nil {
			return err
		}
		out.Standing, err = standing(ctx, tx, store.OfKit(id))
		return err
	})
	if err != nil {
		return store.Kit{}, err
	}
	return out, nil
}

func (k kits) List(ctx context.Context) (out []store.KitSummary, err error) {
	err = k.s.view(ctx, func(tx *sql.Tx) error {
		return each(ctx, tx, func(rows *sql.Rows) error {
			var x store.KitSummary
			var created, changed int64
			err := rows.Scan(&x.ID, &x.Book, &x.Class, &x.BookTitle, &x.ClassName, &created, &x.Decisions, &changed)
			x.Created, x.Changed = fromMicros(created), fromMicros(changed)
			out = append(out, x)
			return err
		}, `
SELECT k.id, k.book, k.class, v.title, json_extract(c.json, '$.name'), k.created,
  (SELECT count(*) FROM value d WHERE d.kind = 'kit' AND d.subject = k.id AND d.key GLOB 'decision/*'),
  max(k.created, coalesce((SELECT max(max(s.at, coalesce(s.turned, s.at))) FROM step s WHERE s.kind = 'kit' AND s.subject = k.id), k.created)) AS changed
FROM kit k
JOIN book b ON b.id = k.book
JOIN book_version v ON v.book = b.id AND v.version = b.version
JOIN value c ON c.kind = 'class' AND c.subject = k.class AND c.key = 'class'
WHERE k.binned IS NULL ORDER BY changed DESC, k.id`)
	})
	if err != nil {
		return nil, err
	}
	return out, nil
}

func (k kits) Delete(ctx context.Context, id kit.ID, at time.Time) error {
	return k.s.tx(ctx, func(tx *sql.Tx) error {
		return toBin(ctx, tx, store.Ref{Kind: store.KitRef, ID: string(id)}, false, at)
	})
}
