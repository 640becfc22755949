package cli

import (
	"fmt"
	"os"
	"path/filepath"

	"bookstead/internal/class"
	"bookstead/internal/fault"
	"bookstead/internal/kit"
	"bookstead/internal/prepare"
)

type importCmd struct {
	File  string `arg:"" help:"A book (EPUB or plain text), or a kit file." type:"path"`
	Class string `help:"For a kit file: the class to bring it in for, by name."`
}

// Run brings a book or a kit into the library.
func (c importCmd) Run(r *runContext) error {
	f, st, err := openFile(c.File)
	if err != nil {
		return err
	}
	defer f.Close()
	w, err := r.workshop()
	if err != nil {
		return err
	}
	defer w.Close()
	if c.Class != "" {
		return c.kit(r, w, f, st.Size())
	}
	bar := newBar(r.Err, true)
	b, err := w.ImportBook(r.ctx, filepath.Base(c.File), f, st.Size(), bar.at)
	bar.done()
	if err != nil {
		return err
	}
	fmt.Fprintf(r.Out, "%s is in your library (%s).\n", b.Title, b.ID)
	for _, n := range b.Notes {
		fmt.Fprintln(r.Out, n)
	}
	return nil
}

func (c importCmd) kit(r *runContext, w *prepare.Workshop, f *os.File, size int64) error {
	shelf, err := w.Shelf(r.ctx)
	if err != nil {
		return err
	}
	for _, cl := range shelf.Classes {
		if cl.Name == c.Class || string(cl.ID) == c.Class {
			return c.kitFor(r, w, f, size, cl.ID)
		}
	}
	return fault.New(fault.NotFound, fmt.Sprintf("There is no class called %q.", c.Class), "Set it up in the desk first: bookstead serve")
}

func (c importCmd) kitFor(r *runContext, w *prepare.Workshop, f *os.File, size int64, id class.ID) error {
	k, lost, err := w.ImportKit(r.ctx, f, size, id)
	if err != nil {
		return err
	}
	fmt.Fprintf(r.Out, "The kit is in your library (%s).\n", k)
	if lost > 0 {
		fmt.Fprintf(r.Out, "%d of its items belong to words that are not in your copy of the book. They are kept and shown on the page of lessons.\n", lost)
	}
	return nil
}

type exportCmd struct {
	Kit string `arg:"" help:"The kit, by its ID or by the title of its book."`
	Out string `help:"The file to write. Default: named after the book." placeholder:"FILE" type:"path"`
}

// Run writes a kit as one file.
func (c exportCmd) Run(r *runContext) error {
	w, err := r.workshop()
	if err != nil {
		return err
	}
	defer w.Close()
	shelf, err := w.Shelf(r.ctx)
	if err != nil {
		return err
	}
	for _, k := range shelf.Kits {
		if k.ID == kit.ID(c.Kit) || prepare.FileName(k.BookTitle) == prepare.FileName(c.Kit) {
			name, data, err := w.ExportKit(r.ctx, k.ID)
			if err != nil {
				return err
			}
			if c.Out != "" {
				name = c.Out
			}
			if err := writeWhole(name, data); err != nil {
				return err
			}
			fmt.Fprintf(r.Out, "Wrote %s.\n", name)
			return nil
		}
	}
	return fault.New(fault.NotFound, fmt.Sprintf("There is no kit called %q.", c.Kit), "Give the title of a book that you prepared.")
}
