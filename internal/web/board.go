package web

import (
	"fmt"
	"net/http"

	"bookstead/internal/kit"
	"bookstead/internal/prepare"
)

// boardPage is what is shown to the class, large: the words in their sentences,
// and one question from the spoken answer to the sentence to copy. What is not
// to be seen yet opens at a click.
type boardPage struct {
	page
	ID       kit.ID
	Lesson   kit.Prepared
	Words    []kit.Item
	Practice []kit.Item
	Together *prepare.TogetherNote
}

func (s *Server) board(w http.ResponseWriter, r *http.Request) error {
	o, err := s.open(w, r)
	if o == nil {
		return err
	}
	n, err := lessonNumber(o, r)
	if err != nil {
		return err
	}
	notes, err := o.Notes(r.Context(), n)
	if err != nil {
		return err
	}
	l := o.Lessons[n-1]
	p := boardPage{page: page{Title: fmt.Sprintf("Board, lesson %d", n), Kit: nav(o, "desk", n)}, ID: o.Kit.ID, Lesson: l, Together: notes.Together}
	for _, it := range l.Of(kit.Vocabulary) {
		if it.Printed(o.Hold()) {
			p.Words = append(p.Words, it)
		}
	}
	for _, it := range l.Of(kit.Practice) {
		if it.Printed(o.Hold()) {
			p.Practice = append(p.Practice, it)
		}
	}
	return render(w, http.StatusOK, "board", p)
}
