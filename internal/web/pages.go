package web

import (
	"fmt"
	"net/http"
	"strings"

	"bookstead/internal/book"
	"bookstead/internal/fault"
	"bookstead/internal/kit"
	"bookstead/internal/prepare"
)

type pagesPage struct {
	page
	ID       kit.ID
	Seen     prepare.Revision
	Name     string
	Last     string
	Chapters []chapterPageRow
	Fixed    []book.FixedPage
	Lessons  []kit.Prepared
	FromFile bool // the file itself has a page list
}

type chapterPageRow struct {
	Index       int
	Name, Value string
}

func (s *Server) pages(w http.ResponseWriter, r *http.Request) error {
	o, err := s.open(w, r)
	if o == nil {
		return err
	}
	e := o.Kit.Edition
	if r.URL.Query().Get("from") == "file" {
		if own, ok := o.Book.EditionFromPageList(); ok {
			e = own
		}
	}
	return render(w, http.StatusOK, "pages", pagesOf(o, e, ""))
}

func pagesOf(o *prepare.Opened, e book.Edition, say string) pagesPage {
	p := pagesPage{page: page{Title: "Your copy of " + o.Book.Title, Kit: nav(o, "pages", 1), Say: say}, ID: o.Kit.ID, Seen: o.PagesRevision(),
		Name: e.Name, Fixed: e.Fixed, Lessons: o.Lessons}
	if e.Last > 0 {
		p.Last = fmt.Sprint(e.Last)
	}
	_, p.FromFile = o.Book.EditionFromPageList()
	for i, c := range o.Book.Chapters {
		if !c.Kind.Told() {
			continue
		}
		row := chapterPageRow{Index: i, Name: strings.TrimSpace(c.Label + "  " + c.Title)}
		if v, ok := e.First[i]; ok {
			row.Value = fmt.Sprint(v)
		}
		p.Chapters = append(p.Chapters, row)
	}
	return p
}

func (s *Server) savePages(w http.ResponseWriter, r *http.Request) error {
	o, err := s.open(w, r)
	if o == nil {
		return err
	}
	e := book.Edition{Name: strings.TrimSpace(r.FormValue("name")), First: map[int]int{}, Last: atoi(r.FormValue("last"))}
	for i := range o.Book.Chapters {
		if n := atoi(r.FormValue(fmt.Sprintf("first-%d", i))); n != 0 {
			e.First[i] = n
		}
	}
	for _, f := range o.Kit.Edition.Fixed {
		if r.FormValue(fmt.Sprintf("forget-%d", f.Place.Start)) == "" {
			e.Fixed = append(e.Fixed, f)
		}
	}
	if err := s.shop.SetPages(r.Context(), o.Kit.ID, e, seen(r)); err != nil {
		f := fault.Of(err)
		if f.Kind != fault.Invalid {
			return err
		}
		return render(w, status(f.Kind), "pages", pagesOf(o, e, f.Message+" "+f.Hint))
	}
	return see(w, r, fmt.Sprintf("/kits/%s/pages", o.Kit.ID))
}

// fixPage corrects the page where a lesson begins.
func (s *Server) fixPage(w http.ResponseWriter, r *http.Request) error {
	id := kitID(r)
	if err := s.shop.FixPage(r.Context(), id, atoi(r.FormValue("offset")), atoi(r.FormValue("page"))); err != nil {
		return err
	}
	return see(w, r, fmt.Sprintf("/kits/%s/pages", id))
}
