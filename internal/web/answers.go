package web

import (
	"fmt"
	"net/http"

	"github.com/go-chi/chi/v5"

	"bookstead/internal/class"
	"bookstead/internal/kit"
	"bookstead/internal/prepare"
	"bookstead/internal/record"
)

// answersPage is where answers to one question are looked at and kept.
type answersPage struct {
	page
	ID       kit.ID
	Item     kit.Item
	Lesson   int
	Grade    int
	Model    string
	Starter  string
	Students []class.Student
	Student  string
	Text     string
	Result   *prepare.AnswerResult
	Kept     []keptAnswer
}

type keptAnswer struct {
	record.Answer
	Name string
}

func (s *Server) answers(w http.ResponseWriter, r *http.Request) error {
	o, err := s.open(w, r)
	if o == nil {
		return err
	}
	v, err := s.item(o, r)
	if err != nil {
		return err
	}
	p := answersPage{page: page{Title: "Answers", Kit: nav(o, "desk", v.Lesson)}, ID: o.Kit.ID, Item: v.Item, Lesson: v.Lesson, Grade: o.Class.Grade,
		Students: o.Class.Students, Student: r.FormValue("student"), Text: r.FormValue("text")}
	if p.Model, p.Starter, err = o.ModelAnswer(r.Context(), v.Item); err != nil {
		return err
	}
	if r.Method == http.MethodPost {
		res, err := o.JudgeAnswer(r.Context(), v.ID, p.Text)
		if err != nil {
			return err
		}
		p.Result = &res
	}
	kept, err := s.shop.Answers(r.Context(), o.Kit.ID, v.ID)
	if err != nil {
		return err
	}
	for _, a := range kept {
		p.Kept = append(p.Kept, keptAnswer{a, studentName(o.Class, a.Student)})
	}
	return render(w, http.StatusOK, "answers", p)
}

// judgeAnswer looks at an answer, keeps it with the teacher's verdict, or takes
// one out.
func (s *Server) judgeAnswer(w http.ResponseWriter, r *http.Request) error {
	id, item := kitID(r), kit.ItemID(chi.URLParam(r, "item"))
	var err error
	switch r.FormValue("do") {
	case "keep":
		err = s.shop.KeepAnswer(r.Context(), id, record.Answer{Item: item, Student: r.FormValue("student"), Text: r.FormValue("text"), Verdict: record.Verdict(r.FormValue("verdict"))})
	case "drop":
		err = s.shop.DropAnswer(r.Context(), id, item, atoi(r.FormValue("n")))
	default:
		return s.answers(w, r)
	}
	if err != nil {
		return err
	}
	return see(w, r, fmt.Sprintf("/kits/%s/items/%s/answers", id, item))
}
