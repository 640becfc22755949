package storetest

import (
	"testing"

	"bookstead/internal/book"
	"bookstead/internal/fault"
	"bookstead/internal/store"
)

var bookCases = []testCase{
	{"Books.Put and Get give the same book", func(t *testing.T, f *fixture) {
		b := aBook("gate", "The Gate", gateText)
		v, err := f.Books().Put(f.ctx, b, at(0))
		f.must(err)
		f.want("version", v, 1)
		got, err := f.Books().Get(f.ctx, "gate")
		f.must(err)
		f.want("book", got, b)
	}},
	{"Books.Put makes a corrected file the next version and keeps the older text", func(t *testing.T, f *fixture) {
		old, fixed := aBook("gate", "The Gate", gateText), aBook("gate", "The Gate, mended", gateText+" Then rain.")
		for i, b := range []*book.Book{old, fixed} {
			v, err := f.Books().Put(f.ctx, b, at(i))
			f.must(err)
			f.want("version", v, i+1)
		}
		got, err := f.Books().Get(f.ctx, "gate")
		f.must(err)
		f.want("the text that stands", got, fixed)
		got, err = f.Books().GetVersion(f.ctx, "gate", 1)
		f.must(err)
		f.want("the older text", got, old)
	}},
	{"Books.Put of the same book changes nothing", func(t *testing.T, f *fixture) {
		for i := range 2 {
			v, err := f.Books().Put(f.ctx, aBook("gate", "The Gate", gateText), at(i))
			f.must(err)
			f.want("version", v, 1)
		}
		vs, err := f.Books().Versions(f.ctx, "gate")
		f.must(err)
		f.want("versions", len(vs), 1)
		f.want("imported", vs[0].Imported, kept(0))
	}},
	{"Books.Put of an older text again makes it the newest version", func(t *testing.T, f *fixture) {
		texts := []string{"The one.", "The other one.", "The one."}
		for i, text := range texts {
			v, err := f.Books().Put(f.ctx, aBook("gate", "The Gate", text), at(i))
			f.must(err)
			f.want("version", v, i+1)
		}
	}},
	{"Books.Put takes a book and what went with it out of the bin", func(t *testing.T, f *fixture) {
		b, _, k := f.library()
		f.must(f.Books().Delete(f.ctx, b.ID, true, at(2)))
		v, err := f.Books().Put(f.ctx, b, at(3))
		f.must(err)
		f.want("version", v, 1)
		_, err = f.Books().Get(f.ctx, b.ID)
		f.must(err)
		f.kit(k.ID)
		in, err := f.Bin().List(f.ctx)
		f.must(err)
		f.want("in the bin", len(in), 0)
	}},
	{"Books.Get finds nothing", func(t *testing.T, f *fixture) {
		_, err := f.Books().Get(f.ctx, "nowhere")
		f.wantFault("no such book", err, fault.NotFound)
	}},
	{"Books.GetVersion finds nothing", func(t *testing.T, f *fixture) {
		b, _, _ := f.library()
		_, err := f.Books().GetVersion(f.ctx, b.ID, 2)
		f.wantFault("no such version", err, fault.NotFound)
		_, err = f.Books().GetVersion(f.ctx, "nowhere", 1)
		f.wantFault("no such book", err, fault.NotFound)
	}},
	{"Books.List is by title and says what a shelf shows", func(t *testing.T, f *fixture) {
		list, err := f.Books().List(f.ctx)
		f.must(err)
		f.want("an empty library", len(list), 0)
		for i, title := range []string{"beech", "The Gate", "Acorn"} {
			_, err := f.Books().Put(f.ctx, aBook(book.ID(title), title, gateText), at(i))
			f.must(err)
		}
		_, err = f.Books().Put(f.ctx, aBook("beech", "birch", gateText), at(9))
		f.must(err)
		list, err = f.Books().List(f.ctx)
		f.must(err)
		f.want("library", list, []store.BookSummary{
			{ID: "Acorn", Title: "Acorn", Author: "A. Writer", Words: gateWords, Chapters: gateChapters, Version: 1, Imported: kept(2)},
			{ID: "beech", Title: "birch", Author: "A. Writer", Words: gateWords, Chapters: gateChapters, Version: 2, Imported: kept(9)},
			{ID: "The Gate", Title: "The Gate", Author: "A. Writer", Words: gateWords, Chapters: gateChapters, Version: 1, Imported: kept(1)},
		})
	}},
	{"Books.Versions are the newest first", func(t *testing.T, f *fixture) {
		for i, title := range []string{"The Gait", "The Gate"} {
			_, err := f.Books().Put(f.ctx, aBook("gate", title, gateText), at(i))
			f.must(err)
		}
		vs, err := f.Books().Versions(f.ctx, "gate")
		f.must(err)
		f.want("titles", []string{vs[0].Title, vs[1].Title}, []string{"The Gate", "The Gait"})
		f.want("versions", []int{vs[0].Version, vs[1].Version}, []int{2, 1})
		_, err = f.Books().Versions(f.ctx, "nowhere")
		f.wantFault("no such book", err, fault.NotFound)
	}},
	{"Books.Delete puts a book out of sight", func(t *testing.T, f *fixture) {
		_, err := f.Books().Put(f.ctx, aBook("gate", "The Gate", gateText), at(0))
		f.must(err)
		f.must(f.Books().Delete(f.ctx, "gate", false, at(1)))
		_, err = f.Books().Get(f.ctx, "gate")
		f.wantFault("get", err, fault.NotFound)
		_, err = f.Books().GetVersion(f.ctx, "gate", 1)
		f.wantFault("get version", err, fault.NotFound)
		_, err = f.Books().Versions(f.ctx, "gate")
		f.wantFault("versions", err, fault.NotFound)
		list, err := f.Books().List(f.ctx)
		f.must(err)
		f.want("library", len(list), 0)
		f.wantFault("delete again", f.Books().Delete(f.ctx, "gate", true, at(2)), fault.NotFound)
	}},
	{"Books.Delete is refused while a kit uses the book, unless forced", func(t *testing.T, f *fixture) {
		b, _, k := f.library()
		f.wantFault("delete", f.Books().Delete(f.ctx, b.ID, false, at(2)), fault.Conflict)
		_, err := f.Books().Get(f.ctx, b.ID)
		f.must(err)
		f.kit(k.ID)
		f.must(f.Books().Delete(f.ctx, b.ID, true, at(2)))
		_, err = f.Kits().Get(f.ctx, k.ID)
		f.wantFault("its kit", err, fault.NotFound)
	}},
	{"Books.Delete does not mind kits in the bin", func(t *testing.T, f *fixture) {
		b, _, k := f.library()
		f.must(f.Kits().Delete(f.ctx, k.ID, at(2)))
		f.must(f.Books().Delete(f.ctx, b.ID, false, at(3)))
		// Each went alone: the book comes back without the kit.
		f.must(f.Bin().Restore(f.ctx, bookRef(b.ID)))
		_, err := f.Kits().Get(f.ctx, k.ID)
		f.wantFault("kit", err, fault.NotFound)
	}},
}
