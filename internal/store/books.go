package store

import (
	"context"
	"time"

	"bookstead/internal/book"
)

// Books is the library.
type Books interface {
	// Put keeps a book and returns the version that it became, from 1. An ID that
	// is already there means a corrected file: it becomes the next version, and
	// the older text stays as an earlier one. The same book again changes nothing
	// and returns the version that stands. A book in the bin comes out of it.
	Put(ctx context.Context, b *book.Book, at time.Time) (version int, err error)
	// Get returns the version that stands. NotFound when there is no such book or
	// it lies in the bin.
	Get(ctx context.Context, id book.ID) (*book.Book, error)
	// List returns the library by title without regard to case, then by ID.
	List(ctx context.Context) ([]BookSummary, error)
	// Versions returns all versions of a book, the newest first. NotFound as Get.
	Versions(ctx context.Context, id book.ID) ([]BookSummary, error)
	// GetVersion returns one version's text. NotFound as Get, or when the book
	// has no such version.
	GetVersion(ctx context.Context, id book.ID, version int) (*book.Book, error)
	// Delete puts a book into the bin. Conflict while kits use it, unless forced:
	// then these kits go into the bin with it. NotFound as Get.
	Delete(ctx context.Context, id book.ID, force bool, at time.Time) error
}

// BookSummary is what a shelf shows of one version of a book.
type BookSummary struct {
	ID       book.ID
	Title    string
	Author   string
	Words    int // of the chapters that a class reads, headings included
	Chapters int // chapters and stories; introductions and the like do not count
	Version  int
	Imported time.Time
}

// Summarize makes the summary of a book.
func Summarize(b *book.Book, version int, imported time.Time) BookSummary {
	s := BookSummary{ID: b.ID, Title: b.Title, Author: b.Author, Version: version, Imported: imported}
	for _, c := range b.Chapters {
		if c.Kind.Told() {
			s.Words += book.Words(b.Slice(c.Span))
		}
		if c.Kind == book.Body || c.Kind == book.Story {
			s.Chapters++
		}
	}
	return s
}
