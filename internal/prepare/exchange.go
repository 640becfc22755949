package prepare

import (
	"archive/zip"
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"io"
	"time"

	"bookstead/internal/book"
	"bookstead/internal/class"
	"bookstead/internal/fault"
	"bookstead/internal/kit"
)

// kitFormat and kitVersion name the file in which a kit travels: a zip with one
// JSON document, kit.json, whose schema is docs/kit-file.md. It carries the
// decisions with their places and short quotations, and never the book.
const (
	kitFormat  = "bookstead-kit"
	kitVersion = 1
	kitEntry   = "kit.json"
	mostKit    = 32 << 20 // bytes of JSON that are read
)

type kitFile struct {
	Format  string         `json:"format"`
	Version int            `json:"version"`
	Made    time.Time      `json:"made"`
	Book    kitBook        `json:"book"`
	Grade   int            `json:"grade"`
	Cuts    []kit.Cut      `json:"cuts,omitempty"`
	Edition any            `json:"edition"`
	Items   []kit.Decision `json:"items"`
}

type kitBook struct {
	ID     book.ID `json:"id"`
	Title  string  `json:"title"`
	Author string  `json:"author"`
}

// Export writes a kit as one file: what was decided and, so that the receiver
// gets the whole kit, the drafts that are printed as they stand.
func (p *Prepared) Export(w io.Writer, now time.Time) error {
	f := kitFile{Format: kitFormat, Version: kitVersion, Made: now.UTC().Truncate(time.Second), Book: kitBook{p.Book.ID, p.Book.Title, p.Book.Author},
		Grade: p.Class.Grade, Cuts: p.Kit.Cuts, Edition: p.Kit.Edition}
	for _, l := range p.Lessons {
		for _, it := range l.Items {
			if it.State == kit.Drafted && it.Printed(p.Hold()) {
				f.Items = append(f.Items, it.Decision(kit.Kept))
			} else if it.State != kit.Drafted {
				f.Items = append(f.Items, it.Decision(it.State))
			}
		}
	}
	f.Items = append(f.Items, p.Lost...)
	doc, err := json.MarshalIndent(f, "", " ")
	if err != nil {
		return fmt.Errorf("writing the kit: %w", err)
	}
	z := zip.NewWriter(w)
	e, err := z.CreateHeader(&zip.FileHeader{Name: kitEntry, Method: zip.Deflate, Modified: f.Made})
	if err == nil {
		_, err = e.Write(doc)
	}
	if err == nil {
		err = z.Close()
	}
	if err != nil {
		return fault.Wrap(fault.Full, err, "The kit file could not be written.", "Check that the disk has room.")
	}
	return nil
}

// ExportKit is a kit of the store as one file.
func (w *Workshop) ExportKit(ctx context.Context, id kit.ID) (name string, data []byte, err error) {
	o, err := w.Open(ctx, id, nil)
	if err != nil {
		return "", nil, err
	}
	var b bytes.Buffer
	if err := o.Export(&b, w.now()); err != nil {
		return "", nil, err
	}
	return FileName(o.Book.Title) + ".kit.zip", b.Bytes(), nil
}

// ImportKit brings a kit file in for a class. The book must be in the library,
// by the same ID or the same title; lost is how many of its items belong to
// words that this copy of the book does not have (they are kept all the same).
// When the class already has a kit of the book nothing is changed: Conflict.
func (w *Workshop) ImportKit(ctx context.Context, r io.ReaderAt, size int64, c class.ID) (id kit.ID, lost int, err error) {
	var e book.Edition
	f := kitFile{Edition: &e}
	if err := readKit(r, size, &f); err != nil {
		return "", 0, err
	}
	b, err := w.bookFor(ctx, f.Book)
	if err != nil {
		return "", 0, err
	}
	kits, err := w.classKits(ctx, c)
	if err != nil {
		return "", 0, err
	}
	for _, k := range kits {
		if k.Book == b.ID {
			return "", 0, fault.New(fault.Conflict, fmt.Sprintf("This class already has a kit of %s.", b.Title), "Put that kit into the bin first, or choose another class.")
		}
	}
	for _, d := range f.Items {
		if _, ok := b.Find(d.Place); !ok {
			lost++
		}
	}
	k := kit.Kit{ID: kit.ID(w.newID()), Book: b.ID, Class: c, Cuts: f.Cuts, Edition: e, Decisions: f.Items}
	return k.ID, lost, w.store.Kits().Create(ctx, k, w.now())
}

func readKit(r io.ReaderAt, size int64, f *kitFile) error {
	const what = "This is not a kit file of Bookstead."
	z, err := zip.NewReader(r, size)
	if err != nil {
		return fault.Wrap(fault.Unreadable, err, what, "Choose a file whose name ends in .kit.zip.")
	}
	e, err := z.Open(kitEntry)
	if err != nil {
		return fault.Wrap(fault.Unreadable, err, what, "Choose a file whose name ends in .kit.zip.")
	}
	defer e.Close()
	doc, err := io.ReadAll(io.LimitReader(e, mostKit+1))
	if err == nil && len(doc) > mostKit {
		return fault.New(fault.TooLarge, "This kit file is too large to be a kit.", "Ask for a new copy of it.")
	}
	if err == nil {
		err = json.Unmarshal(doc, f)
	}
	switch {
	case err != nil || f.Format != kitFormat:
		return fault.Wrap(fault.Unreadable, fmt.Errorf("format %q: %w", f.Format, err), what, "It may be damaged. Ask for a new copy of it.")
	case f.Version > kitVersion:
		return fault.New(fault.Unreadable, "This kit was made by a newer Bookstead.", "Get the newest version of the program and try again.")
	}
	for _, d := range f.Items {
		if err := checkContent(d.Content); err != nil {
			return err
		}
	}
	return nil
}

// bookFor finds the library's own copy of a kit's book.
func (w *Workshop) bookFor(ctx context.Context, kb kitBook) (*book.Book, error) {
	all, err := w.store.Books().List(ctx)
	if err != nil {
		return nil, err
	}
	for _, s := range all {
		if s.ID == kb.ID || FileName(s.Title) == FileName(kb.Title) {
			return w.store.Books().Get(ctx, s.ID)
		}
	}
	return nil, fault.New(fault.NotFound, fmt.Sprintf("This kit belongs to %q, which is not in your library.", kb.Title), "Bring in your own copy of the book first; a kit carries no book.")
}
