package sqlite

import (
	"context"
	"database/sql"
	"encoding/json"
	"errors"
	"fmt"
	"time"

	"bookstead/internal/book"
	"bookstead/internal/fault"
	"bookstead/internal/store"
)

type books struct{ s *Store }

const noBook = "This book is not in your library."

func (b books) Put(ctx context.Context, x *book.Book, at time.Time) (version int, err error) {
	doc, err := json.Marshal(x)
	if err != nil {
		return 0, fmt.Errorf("writing book %q: %w", x.ID, err)
	}
	err = b.s.tx(ctx, func(tx *sql.Tx) error {
		var now string
		err := tx.QueryRowContext(ctx, "SELECT v.version, v.doc FROM book b JOIN book_version v ON v.book = b.id AND v.version = b.version WHERE b.id = ?", x.ID).Scan(&version, &now)
		if err != nil && !errors.Is(err, sql.ErrNoRows) {
			return err
		}
		if err == nil && now == string(doc) {
			return unbin(ctx, tx, store.Ref{Kind: store.BookRef, ID: string(x.ID)})
		}
		version++
		if _, err := tx.ExecContext(ctx, "INSERT INTO book (id, version) VALUES (?, ?) ON CONFLICT DO UPDATE SET version = excluded.version", x.ID, version); err != nil {
			return err
		}
		sum := store.Summarize(x, version, at)
		if _, err := tx.ExecContext(ctx, "INSERT INTO book_version VALUES (?, ?, ?, ?, ?, ?, ?, ?)", x.ID, version, sum.Title, sum.Author, sum.Words, sum.Chapters, micros(at), string(doc)); err != nil {
			return err
		}
		return unbin(ctx, tx, store.Ref{Kind: store.BookRef, ID: string(x.ID)})
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
	var doc string
	err := b.s.read.QueryRowContext(ctx, query, args...).Scan(&doc)
	if errors.Is(err, sql.ErrNoRows) {
		return nil, notFound(noBook, "Bring it in again, or look into the bin.")
	}
	if err != nil {
		return nil, told(err)
	}
	var out book.Book
	if err := json.Unmarshal([]byte(doc), &out); err != nil {
		return nil, fault.Wrap(fault.Unreadable, err, "The stored text of this book is damaged.", "Bring the book in again.")
	}
	return &out, nil
}

const summary = "SELECT v.book, v.title, v.author, v.words, v.chapters, v.version, v.imported FROM book b JOIN book_version v ON v.book = b.id"

func (b books) List(ctx context.Context) ([]store.BookSummary, error) {
	return b.list(ctx, summary+" AND v.version = b.version WHERE b.binned IS NULL ORDER BY v.title, v.book")
}

func (b books) Versions(ctx context.Context, id book.ID) ([]store.BookSummary, error) {
	out, err := b.list(ctx, summary+" WHERE b.id = ? AND b.binned IS NULL ORDER BY v.version DESC", id)
	if err == nil && len(out) == 0 {
		return nil, notFound(noBook, "Bring it in again, or look into the bin.")
	}
	return out, err
}

func (b books) list(ctx context.Context, query string, args ...any) (out []store.BookSummary, err error) {
	rows, err := b.s.read.QueryContext(ctx, query, args...)
	if err != nil {
		return nil, told(err)
	}
	defer rows.Close()
	for rows.Next() {
		var x store.BookSummary
		var at int64
		if err := rows.Scan(&x.ID, &x.Title, &x.Author, &x.Words, &x.Chapters, &x.Version, &at); err != nil {
			return nil, told(err)
		}
		x.Imported = fromMicros(at)
		out = append(out, x)
	}
	return out, told(rows.Err())
}

func (b books) Delete(ctx context.Context, id book.ID, force bool, at time.Time) error {
	return b.s.tx(ctx, func(tx *sql.Tx) error {
		return toBin(ctx, tx, store.Ref{Kind: store.BookRef, ID: string(id)}, force, at)
	})
}
