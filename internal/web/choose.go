package web

import (
	"context"
	"fmt"
	"net/http"
	"strconv"

	"bookstead/internal/book"
	"bookstead/internal/calendar"
	"bookstead/internal/class"
	"bookstead/internal/prepare"
)

// choosePage puts the books of the library side by side for a class.
type choosePage struct {
	page
	ClassID  class.ID
	Name     string
	Columns  []prepare.FactColumn
	Sort     string
	Down     bool
	Words    string
	Key      string // of the column that is bounded
	Least    string
	Most     string
	Books    []prepare.Candidate
	Missing  int
	Measured int
}

// choose shows the books that are measured; those that are not are measured as a
// job when the teacher asks for it.
func (s *Server) choose(w http.ResponseWriter, r *http.Request) error {
	c, err := s.shop.Class(r.Context(), classID(r))
	if err != nil {
		return err
	}
	q := r.URL.Query()
	list, missing, err := s.shop.Candidates(r.Context(), c.ID, true, nil)
	if err != nil {
		return err
	}
	p := choosePage{page: page{Title: "Choose books, " + c.Name}, ClassID: c.ID, Name: c.Name, Columns: prepare.FactColumns(), Missing: missing, Measured: len(list),
		Sort: q.Get("sort"), Down: q.Get("down") != "", Words: q.Get("words"), Key: q.Get("key"), Least: q.Get("least"), Most: q.Get("most")}
	if p.Sort == "" {
		p.Sort = "title"
	}
	if list, err = prepare.FilterBooks(list, p.Words, p.Key, number(p.Least, 0), number(p.Most, 1e12)); err != nil {
		return err
	}
	if p.Books, err = prepare.SortBooks(list, p.Sort, p.Down); err != nil {
		return err
	}
	return render(w, http.StatusOK, "choose", p)
}

func number(s string, otherwise float64) float64 {
	if v, err := strconv.ParseFloat(s, 64); err == nil {
		return v
	}
	return otherwise
}

// measureBooks measures all books for a class.
func (s *Server) measureBooks(w http.ResponseWriter, r *http.Request) error {
	id := classID(r)
	jb := s.jobs.start("Looking into the books", func(ctx context.Context, p prepare.Progress) (string, error) {
		_, _, err := s.shop.Candidates(ctx, id, false, p)
		return fmt.Sprintf("/classes/%s/choose", id), err
	})
	return s.follow(w, r, jb)
}

// candidatePage is one book of the shelf: what a teacher may want to see first,
// and where in the year it fits.
type candidatePage struct {
	page
	ClassID class.ID
	Name    string
	Facts   prepare.Candidate
	Columns []prepare.FactColumn
	Fits    string
	Sights  []sights
}

// sights are the sentences of one kind to see first.
type sights struct {
	Name string
	See  []prepare.Sight
}

func (s *Server) candidate(w http.ResponseWriter, r *http.Request) error {
	c, err := s.shop.Class(r.Context(), classID(r))
	if err != nil {
		return err
	}
	if y, err := s.year(w, r); y == nil {
		return err
	}
	id := book.ID(r.URL.Query().Get("book"))
	facts, err := s.shop.Candidate(r.Context(), c.ID, id)
	if err != nil {
		return err
	}
	stay, err := s.shop.WhereItFits(r.Context(), c.ID, id)
	if err != nil {
		return err
	}
	p := candidatePage{page: page{Title: facts.Title}, ClassID: c.ID, Name: c.Name, Facts: facts, Columns: prepare.FactColumns()}
	switch {
	case stay.First == calendar.None:
		p.Fits = "Behind the books that the class has, this year has no day left for it."
	case stay.Whole:
		p.Fits = fmt.Sprintf("Behind the books that the class has, it would be read from %s to %s.", stay.First.Words(), stay.Last.Words())
	default:
		p.Fits = fmt.Sprintf("Behind the books that the class has, it would begin on %s and not be done this year. %s", stay.First.Words(), stay.Why)
	}
	for _, k := range prepare.SightKinds {
		x := sights{Name: k.Name}
		for _, see := range facts.See {
			if see.Kind == k.Kind {
				x.See = append(x.See, see)
			}
		}
		if len(x.See) > 0 {
			p.Sights = append(p.Sights, x)
		}
	}
	return render(w, http.StatusOK, "candidate", p)
}
