package prepare

import (
	"context"
	"fmt"
	"io"

	"bookstead/internal/book"
	"bookstead/internal/book/importer"
	"bookstead/internal/class"
	"bookstead/internal/kit"
	"bookstead/internal/store"
)

// Shelf is the library: books, classes and the kits made of them.
type Shelf struct {
	Books   []store.BookSummary
	Classes []class.Class
	Kits    []store.KitSummary
}

// Shelf returns everything that the library's page shows.
func (w *Workshop) Shelf(ctx context.Context) (s Shelf, err error) {
	if s.Books, err = w.store.Books().List(ctx); err != nil {
		return s, err
	}
	if s.Classes, err = w.store.Classes().List(ctx); err != nil {
		return s, err
	}
	s.Kits, err = w.store.Kits().List(ctx)
	return s, err
}

// ReadBook reads a book's file without keeping it.
func ReadBook(ctx context.Context, name string, r io.ReaderAt, size int64, progress Progress) (*book.Book, error) {
	progress.at(StageImport, 0)
	b, err := importer.Import(ctx, name, r, size, progress.bytes(StageImport))
	if err == nil {
		progress.at(StageImport, 1)
	}
	return b, err
}

// ImportBook reads a book's file and puts it into the library. The same book
// again becomes its next version.
func (w *Workshop) ImportBook(ctx context.Context, name string, r io.ReaderAt, size int64, progress Progress) (*book.Book, error) {
	b, err := ReadBook(ctx, name, r, size, progress)
	if err != nil {
		return nil, err
	}
	_, err = w.store.Books().Put(ctx, b, w.now())
	return b, err
}

// Book returns a book of the library.
func (w *Workshop) Book(ctx context.Context, id book.ID) (*book.Book, error) {
	return w.store.Books().Get(ctx, id)
}

// DeleteBook puts a book into the bin; forced, with the kits that use it.
func (w *Workshop) DeleteBook(ctx context.Context, id book.ID, force bool) error {
	return w.store.Books().Delete(ctx, id, force, w.now())
}

// Bin lists what was deleted.
func (w *Workshop) Bin(ctx context.Context) ([]store.Binned, error) { return w.store.Bin().List(ctx) }

// Restore takes a thing out of the bin.
func (w *Workshop) Restore(ctx context.Context, r store.Ref) error {
	return w.store.Bin().Restore(ctx, r)
}

// Erase removes a thing in the bin for good.
func (w *Workshop) Erase(ctx context.Context, r store.Ref) error { return w.store.Bin().Erase(ctx, r) }

// Class returns a class with where it stands.
func (w *Workshop) Class(ctx context.Context, id class.ID) (store.Class, error) {
	return w.store.Classes().Get(ctx, id)
}

// NewClass keeps a new class and returns it with its ID.
func (w *Workshop) NewClass(ctx context.Context, c class.Class) (class.Class, error) {
	c.ID = class.ID(w.newID())
	w.nameStudents(&c)
	if err := validClass(c); err != nil {
		return c, err
	}
	return c, w.store.Classes().Create(ctx, c, w.now())
}

// SaveClass changes a class; seen is the revision that the page showed.
func (w *Workshop) SaveClass(ctx context.Context, c class.Class, seen store.Revision) error {
	w.nameStudents(&c)
	if err := validClass(c); err != nil {
		return err
	}
	_, err := w.store.Journal().Change(ctx, store.OfClass(c.ID), store.Change{
		Label: fmt.Sprintf("Changed the class %s", c.Name), At: w.now(), Edits: []store.Edit{store.SetClass(c, seen)}})
	return err
}

// validClass says the first thing that is wrong with a class.
func validClass(c class.Class) error {
	if err := c.Validate(); err != nil {
		return err
	}
	return CheckSpelling(c)
}

// UndoClass takes the last change to a class back.
func (w *Workshop) UndoClass(ctx context.Context, id class.ID) error {
	_, err := w.store.Journal().Undo(ctx, store.OfClass(id), store.Any, w.now())
	return err
}

// RedoClass does the change undone last again.
func (w *Workshop) RedoClass(ctx context.Context, id class.ID) error {
	_, err := w.store.Journal().Redo(ctx, store.OfClass(id), store.Any, w.now())
	return err
}

// nameStudents gives an ID to each student who has none yet.
func (w *Workshop) nameStudents(c *class.Class) {
	for i := range c.Students {
		if c.Students[i].ID == "" {
			c.Students[i].ID = w.newID()
		}
	}
}

// DeleteClass puts a class into the bin; forced, with its kits.
func (w *Workshop) DeleteClass(ctx context.Context, id class.ID, force bool) error {
	return w.store.Classes().Delete(ctx, id, force, w.now())
}

// NewKit prepares a book for a class. The same book for the same class gives
// the kit that is there. A book on paper brings the pages of its copy along.
func (w *Workshop) NewKit(ctx context.Context, b book.ID, c class.ID) (kit.ID, error) {
	kits, err := w.store.Kits().List(ctx)
	if err != nil {
		return "", err
	}
	for _, k := range kits {
		if k.Book == b && k.Class == c {
			return k.ID, nil
		}
	}
	k := kit.Kit{ID: kit.ID(w.newID()), Book: b, Class: c}
	whole, err := w.store.Books().Get(ctx, b)
	if err != nil {
		return "", err
	}
	if e, ok := whole.EditionFromPageList(); ok && whole.Source.Format == "paper" {
		k.Edition = e
	}
	if err := w.store.Kits().Create(ctx, k, w.now()); err != nil {
		return "", err
	}
	return k.ID, nil
}

// DeleteKit puts a kit into the bin.
func (w *Workshop) DeleteKit(ctx context.Context, id kit.ID) error {
	return w.store.Kits().Delete(ctx, id, w.now())
}
