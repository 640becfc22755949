package store

import (
	"context"
	"time"
)

// Bin holds what was deleted until it is restored or erased.
type Bin interface {
	// List returns what lies in the bin, the latest first, then by kind and ID.
	List(ctx context.Context) ([]Binned, error)
	// Restore takes a thing out of the bin, and with it what belongs together: the
	// kits that went in with a book or a class, the book and the class that a kit
	// needs. NotFound when it does not lie in the bin.
	Restore(ctx context.Context, r Ref) error
	// Erase removes a thing in the bin for good: a book with all its versions, a
	// class with its students and plans, a kit, each with its journal; and with a
	// book or a class the kits that need it. What the store keeps as backup must
	// not hold it either afterwards. NotFound when it does not lie in the bin.
	Erase(ctx context.Context, r Ref) error
}

// RefKind says what a [Ref] names.
type RefKind string

const (
	BookRef  RefKind = "book"
	ClassRef RefKind = "class"
	KitRef   RefKind = "kit"
)

// Ref names a thing that can lie in the bin.
type Ref struct {
	Kind RefKind
	ID   string
}

// Binned is a thing in the bin.
type Binned struct {
	Ref
	Name string // title of the book, name of the class; both for a kit
	At   time.Time
	With Ref // the book or class that it went in with; the zero Ref when it went alone
}
