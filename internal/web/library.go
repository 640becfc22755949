package web

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"mime/multipart"
	"net/http"

	"github.com/go-chi/chi/v5"

	"bookstead/internal/book"
	"bookstead/internal/class"
	"bookstead/internal/fault"
	"bookstead/internal/kit"
	"bookstead/internal/prepare"
)

type libraryPage struct {
	page
	prepare.Shelf
}

func (s *Server) library(w http.ResponseWriter, r *http.Request) error {
	shelf, err := s.shop.Shelf(r.Context())
	if err != nil {
		return err
	}
	return render(w, http.StatusOK, "library", libraryPage{page{Title: "Library"}, shelf})
}

// mostUpload bounds what is taken from the browser; the importer has its own,
// lower limit with a sentence of its own.
const mostUpload = 400 << 20

// sent is what a form with a file brought.
type sent struct {
	name   string
	data   []byte
	fields map[string]string
}

// upload reads a form with a file into memory.
func upload(w http.ResponseWriter, r *http.Request) (sent, error) {
	r.Body = http.MaxBytesReader(w, r.Body, mostUpload)
	in := sent{fields: map[string]string{}}
	mr, err := r.MultipartReader()
	for err == nil {
		var part *multipart.Part
		if part, err = mr.NextPart(); err != nil {
			break
		}
		var data []byte
		if data, err = io.ReadAll(io.LimitReader(part, prepare.LargestBook+1)); err != nil {
			break
		}
		if part.FileName() != "" {
			in.name, in.data = part.FileName(), data
		} else {
			in.fields[part.FormName()] = string(data)
		}
	}
	var large *http.MaxBytesError
	switch {
	case errors.As(err, &large):
		return in, fault.New(fault.TooLarge, "This file is far too large for a book.", "Choose the EPUB or text file of the novel itself.")
	case !errors.Is(err, io.EOF) || in.name == "":
		return in, fault.Wrap(fault.Invalid, err, "No file came with the form.", "Choose a file and try again.")
	}
	return in, nil
}

func (s *Server) importBook(w http.ResponseWriter, r *http.Request) error {
	in, err := upload(w, r)
	if err != nil {
		return err
	}
	jb := s.jobs.start("Bringing in "+in.name, func(ctx context.Context, p prepare.Progress) (string, error) {
		b, err := s.shop.ImportBook(ctx, in.name, bytes.NewReader(in.data), int64(len(in.data)), p)
		if err != nil {
			return "", err
		}
		return "/books/" + string(b.ID), nil
	})
	return s.follow(w, r, jb)
}

type chapterRow struct {
	PartName, Label, Title string
	Words                  int
	Told                   bool
}

type bookPage struct {
	page
	Book     *book.Book
	Words    int
	Ease     string
	Chapters []chapterRow
	Classes  []class.Class
}

func (s *Server) book(w http.ResponseWriter, r *http.Request) error {
	b, err := s.shop.Book(r.Context(), book.ID(chi.URLParam(r, "book")))
	if err != nil {
		return err
	}
	shelf, err := s.shop.Shelf(r.Context())
	if err != nil {
		return err
	}
	p := bookPage{page: page{Title: b.Title}, Book: b, Classes: shelf.Classes, Ease: prepare.Ease(b)}
	part := -1
	for _, c := range b.Chapters {
		row := chapterRow{Label: c.Label, Title: c.Title, Words: book.Words(b.Slice(c.Span)), Told: c.Kind.Told()}
		if c.Part != part && c.Part >= 0 {
			part = c.Part
			row.PartName = b.Parts[part].Name()
		}
		if row.Told {
			p.Words += row.Words
		}
		p.Chapters = append(p.Chapters, row)
	}
	return render(w, http.StatusOK, "book", p)
}

func (s *Server) deleteBook(w http.ResponseWriter, r *http.Request) error {
	if err := s.shop.DeleteBook(r.Context(), book.ID(chi.URLParam(r, "book")), r.FormValue("force") != ""); err != nil {
		return err
	}
	return see(w, r, "/")
}

type paperPage struct {
	page
	In prepare.PaperBook
}

func (s *Server) paperForm(w http.ResponseWriter, _ *http.Request) error {
	return render(w, http.StatusOK, "paper", paperPage{page: page{Title: "A book on paper"}})
}

// paperSave keeps a typed book; what is wrong is said above the form, with
// everything that was typed still in it.
func (s *Server) paperSave(w http.ResponseWriter, r *http.Request) error {
	in := prepare.PaperBook{Title: r.FormValue("title"), Author: r.FormValue("author"), Chapters: r.FormValue("chapters"),
		Last: r.FormValue("last"), Passages: r.FormValue("passages"), Lists: r.FormValue("lists")}
	b, err := s.shop.TypeBook(r.Context(), in)
	if err != nil {
		f := fault.Of(err)
		if f.Kind != fault.Invalid {
			return err
		}
		return render(w, status(f.Kind), "paper", paperPage{page{Title: "A book on paper", Say: f.Message + " " + f.Hint}, in})
	}
	return see(w, r, "/books/"+string(b.ID))
}

func (s *Server) newKit(w http.ResponseWriter, r *http.Request) error {
	b, c := book.ID(r.FormValue("book")), class.ID(r.FormValue("class"))
	if c == "" {
		return see(w, r, "/classes/new?book="+string(b))
	}
	id, err := s.shop.NewKit(r.Context(), b, c)
	if err != nil {
		return err
	}
	return see(w, r, "/kits/"+string(id))
}

func (s *Server) importKit(w http.ResponseWriter, r *http.Request) error {
	in, err := upload(w, r)
	if err != nil {
		return err
	}
	id, lost, err := s.shop.ImportKit(r.Context(), bytes.NewReader(in.data), int64(len(in.data)), class.ID(in.fields["class"]))
	if err != nil {
		return err
	}
	to := "/kits/" + string(id)
	if lost > 0 {
		to += fmt.Sprintf("/lessons?lost=%d", lost)
	}
	return see(w, r, to)
}

func (s *Server) deleteKit(w http.ResponseWriter, r *http.Request) error {
	if err := s.shop.DeleteKit(r.Context(), kit.ID(chi.URLParam(r, "kit"))); err != nil {
		return err
	}
	return see(w, r, "/")
}

type binPage struct {
	page
	Items []prepare.Binned
}

func (s *Server) bin(w http.ResponseWriter, r *http.Request) error {
	items, err := s.shop.Bin(r.Context())
	if err != nil {
		return err
	}
	return render(w, http.StatusOK, "bin", binPage{page{Title: "Bin"}, items})
}

func ref(r *http.Request) prepare.Ref {
	return prepare.Ref{Kind: prepare.RefKind(r.FormValue("kind")), ID: r.FormValue("id")}
}

func (s *Server) binRestore(w http.ResponseWriter, r *http.Request) error {
	if err := s.shop.Restore(r.Context(), ref(r)); err != nil {
		return err
	}
	return see(w, r, "/")
}

func (s *Server) binErase(w http.ResponseWriter, r *http.Request) error {
	if err := s.shop.Erase(r.Context(), ref(r)); err != nil {
		return err
	}
	return see(w, r, "/bin")
}

type carePage struct {
	page
	Copyright string
}

func (s *Server) care(w http.ResponseWriter, _ *http.Request) error {
	return render(w, http.StatusOK, "care", carePage{page{Title: "Care and rights"}, prepare.CopyrightWord})
}
