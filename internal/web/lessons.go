package web

import (
	"fmt"
	"net/http"
	"strconv"

	"bookstead/internal/fault"
	"bookstead/internal/kit"
	"bookstead/internal/prepare"
)

type lessonRow struct {
	kit.Prepared
	Tally tally
	// Begin and Split are offered for the lesson that is open for changing.
	Open         bool
	Begin, Split []prepare.Cut
}

type lessonsPage struct {
	page
	ID       kit.ID
	Revision prepare.Revision
	Division string
	Learned  []string // what the teacher's decisions changed in later drafts
	Own      bool     // the teacher moved a boundary
	Rows     []lessonRow
	Lost     []kit.Decision
}

func (s *Server) lessons(w http.ResponseWriter, r *http.Request) error {
	o, err := s.open(w, r)
	if o == nil {
		return err
	}
	open, _ := strconv.Atoi(r.URL.Query().Get("change")) //nolint:errcheck // none is open without a number
	p := lessonsPage{page: page{Title: "Lessons, " + o.Book.Title, Kit: nav(o, "lessons", 1)}, ID: o.Kit.ID, Revision: o.CutsRevision(),
		Division: o.Division, Learned: o.Learned(), Own: len(o.Kit.Cuts) > 0, Lost: o.Lost}
	if n := r.URL.Query().Get("lost"); n != "" {
		p.Say = n + " decisions belong to words that are not in your copy of the text. They are kept below."
	}
	for _, l := range o.Lessons {
		row := lessonRow{Prepared: l, Tally: count(l.Items), Open: l.Number == open}
		if row.Open {
			row.Begin, row.Split = o.CutsNear(l.Number, 8)
		}
		p.Rows = append(p.Rows, row)
	}
	return render(w, http.StatusOK, "lessons", p)
}

// cuts changes the division of the book.
func (s *Server) cuts(w http.ResponseWriter, r *http.Request) error {
	seen, err := strconv.ParseInt(r.FormValue("seen"), 10, 64)
	lesson, _ := strconv.Atoi(r.FormValue("lesson")) //nolint:errcheck // some changes need none
	offset, _ := strconv.Atoi(r.FormValue("offset")) //nolint:errcheck // as above
	if err != nil {
		return fault.New(fault.Invalid, "This form is not complete.", "Load the page again.")
	}
	id, rev := kitID(r), prepare.Revision(seen)
	switch r.FormValue("do") {
	case "begin":
		err = s.shop.BeginLesson(r.Context(), id, rev, lesson, offset)
	case "split":
		err = s.shop.SplitLesson(r.Context(), id, rev, offset)
	case "join":
		err = s.shop.JoinLesson(r.Context(), id, rev, lesson)
	case "name":
		err = s.shop.NameLesson(r.Context(), id, rev, lesson, r.FormValue("title"))
	case "redivide":
		err = s.shop.Redivide(r.Context(), id, rev)
	default:
		err = fault.New(fault.Invalid, "This form is not complete.", "Load the page again.")
	}
	if err != nil {
		return err
	}
	return see(w, r, fmt.Sprintf("/kits/%s/lessons#lesson-%d", id, max(1, lesson-1)))
}
