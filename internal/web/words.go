package web

import (
	"fmt"
	"net/http"

	"bookstead/internal/class"
	"bookstead/internal/kit"
	"bookstead/internal/prepare"
)

// wordsPage holds the teacher's own list, and what the class and each child can
// read of the book by its letters.
type wordsPage struct {
	page
	ID       kit.ID
	ClassID  class.ID
	Seen     prepare.Revision
	Own      string
	Had      int // words of earlier books
	Students []class.Student
	Student  string
	Reading  prepare.Reading
	Cards    bool
}

func (s *Server) words(w http.ResponseWriter, r *http.Request) error {
	o, err := s.open(w, r)
	if o == nil {
		return err
	}
	student := r.URL.Query().Get("student")
	reading, err := o.Reading(student)
	if err != nil {
		return err
	}
	return render(w, http.StatusOK, "words", wordsPage{page: page{Title: "Words, " + o.Book.Title, Kit: nav(o, "words", 1)}, ID: o.Kit.ID, ClassID: o.Class.ID,
		Seen: o.WordsRevision(), Own: prepare.OwnWordsText(o.Kit.Words), Had: len(o.Class.Had), Students: o.Class.Students, Student: student, Reading: reading,
		Cards: class.Young(o.Class.Grade) || o.Class.Settings.Practice})
}

func (s *Server) ownWords(w http.ResponseWriter, r *http.Request) error {
	if err := s.shop.SetOwnWords(r.Context(), kitID(r), r.FormValue("words"), seen(r)); err != nil {
		return err
	}
	return see(w, r, fmt.Sprintf("/kits/%s/words", kitID(r)))
}

func (s *Server) rememberWords(w http.ResponseWriter, r *http.Request) error {
	if err := s.shop.RememberWords(r.Context(), kitID(r)); err != nil {
		return err
	}
	return see(w, r, fmt.Sprintf("/kits/%s/words", kitID(r)))
}

// childCards are the word cards of one child.
func (s *Server) childCards(w http.ResponseWriter, r *http.Request) error {
	o, err := s.open(w, r)
	if o == nil {
		return err
	}
	data, _, err := o.CardsFor(r.Context(), r.URL.Query().Get("student"), prepare.Range{}, s.shop.Today())
	if err != nil {
		return err
	}
	return inline(w, "word-cards.pdf", data)
}
