package sqlite

import (
	"cmp"
	"context"
	"database/sql"
	"encoding/json"
	"errors"
	"fmt"
	"slices"
	"strings"
	"time"

	"bookstead/internal/book"
	"bookstead/internal/fault"
	"bookstead/internal/store"
)

type books struct{ s *Store }

func noBook() error {
	return notFound("This book is not in your library.", "Bring it in again, or look into the bin.")
}

func (b books) Put(ctx context.Context, x *book.Book, at time.Time) (version int, err error) {
	doc, err := json.Marshal(x)
	if err != nil {
		return 0, fmt.Errorf("writing book %q: %w", x.ID, err)
	}
	err = b.s.tx(ctx, func(tx *sql.Tx) error {
		var same bool
		err := tx.QueryRowContext(ctx, "SELECT b.version, v.doc = ? FROM book b JOIN book_version v ON v.book = b.id AND v.version = b.version WHERE b.id = ?", string(doc), x.ID).Scan(&version, &same)
		if err != nil && !errors.Is(err, sql.ErrNoRows) {
			return err
		}
		if !same {
			version++
			if _, err := tx.ExecContext(ctx, "INSERT INTO book (id, version) VALUES (?, ?) ON CONFLICT DO UPDATE SET version = excluded.version", x.ID, version); err != nil {
				return err
			}
			sum := store.Summarize(x, version, at)
			if _, err := tx.ExecContext(ctx, "INSERT INTO book_version (book, version, title, author, words, chapters, imported, doc) VALUES (?, ?, ?, ?, ?, ?, ?, ?)",
				x.ID, version, sum.Title, sum.Author, sum.Words, sum.Chapters, micros(at), string(doc)); err != nil {
				return err
			}
		}
		r := store.Ref{Kind: store.BookRef, ID: string(x.ID)}
		if err := inBin(ctx, tx, r); err != nil {
			if fault.Is(err, fault.NotFound) {
				return nil
			}
			return err
		}
		return unbin(ctx, tx, r)
	})
	if err != nil {
		return 0, err
	}
	return version, nil
}

func (b books) Get(ctx context.Context, id book.ID) (*book.Book, error) {
	return b.get(ctx, "SELECT v.doc FROM book b JOIN book_version v ON v.book = b.id AND v.version = b.version WHERE b.id = ? AND b.binned IS NULL", id)
}

func (b books) GetVersion(ctx context.Context, id book.ID, version int) (*book.Book, error) {
	return b.get(ctx, "SELECT v.doc FROM book b JOIN book_version v ON v.book = b.id WHERE b.id = ? AND b.binned IS NULL AND v.version = ?", id, version)
}

func (b books) get(ctx context.Context, query string, args ...any) (*book.Book, error) {
	var doc []byte
	err := b.s.view(ctx, func(tx *sql.Tx) error {
		err := tx.QueryRowContext(ctx, query, args...).Scan(&doc)
		if errors.Is(err, sql.ErrNoRows) {
			return noBook()
		}
		return err
	})
	if err != nil {
		return nil, err
	}
	var out book.Book
	if err := json.Unmarshal(doc, &out); err != nil {
		return nil, b.s.damaged(fmt.Errorf("reading a book: %w", err))
	}
	return &out, nil
}

const summary = "SELECT v.book, v.title, v.author, v.words, v.chapters, v.version, v.imported FROM book b JOIN book_version v ON v.book = b.id"

func (b books) List(ctx context.Context) ([]store.BookSummary, error) {
	out, err := b.list(ctx, summary+" AND v.version = b.version WHERE b.binned IS NULL")
	slices.SortFunc(out, func(x, y store.BookSummary) int { return compareNames(x.Title, y.Title, string(x.ID), string(y.ID)) })
	return out, err
}

func (b books) Versions(ctx context.Context, id book.ID) ([]store.BookSummary, error) {
	out, err := b.list(ctx, summary+" WHERE b.id = ? AND b.binned IS NULL ORDER BY v.version DESC", id)
	if err == nil && len(out) == 0 {
		return nil, noBook()
	}
	return out, err
}

func (b books) list(ctx context.Context, query string, args ...any) (out []store.BookSummary, err error) {
	err = b.s.view(ctx, func(tx *sql.Tx) error {
		return each(ctx, tx, func(rows *sql.Rows) error {
			var x store.BookSummary
			var at int64
			err := rows.Scan(&x.ID, &x.Title, &x.Author, &x.Words, &x.Chapters, &x.Version, &at)
			x.Imported = fromMicros(at)
			out = append(out, x)
			return err
		}, query, args...)
	})
	if err != nil {
		return nil, err
	}
	return out, nil
}

func (b books) Delete(ctx context.Context, id book.ID, force bool, at time.Time) error {
	return b.s.tx(ctx, func(tx *sql.Tx) error {
		return toBin(ctx, tx, store.Ref{Kind: store.BookRef, ID: string(id)}, force, at)
	})
}

// compareNames orders without regard to case.
func compareNames(a, b, ida, idb string) int {
	return cmp.Or(strings.Compare(strings.ToLower(a), strings.ToLower(b)), strings.Compare(ida, idb))
}
