package web

import (
	"fmt"
	"net/http"
	"strings"

	"github.com/go-chi/chi/v5"

	"bookstead/internal/fault"
	"bookstead/internal/kit"
	"bookstead/internal/prepare"
)

type printPage struct {
	page
	ID        kit.ID
	Papers    []paperRow
	Count     int // lessons
	Lesson    int // only this one, 0 for all
	Quoted    string
	Over      bool
	Limit     float64
	Copyright string
	Waiting   int
	Hold      bool
	ClassID   string
	Written   bool // there is a quiz or a test
}

type paperRow struct {
	prepare.Paper
	Note string
}

var paperNotes = map[prepare.Paper]string{
	prepare.StudentPages:  "one lesson after another, each on its own pages",
	prepare.TeachersPages: "the same pages with the answers on their lines",
	prepare.Quizzes:       "from the items marked for the quiz",
	prepare.Tests:         "from the items marked for the test",
	prepare.WordCards:     "to cut out",
	prepare.TeachingNotes: "for you: half a page for each lesson, made from its own items",
	prepare.SupportPages:  "fewer questions, beginnings of sentences, wider lines",
	prepare.FurtherPages:  "more questions that ask why, and a further task",
}

func (s *Server) print(w http.ResponseWriter, r *http.Request) error {
	o, err := s.open(w, r)
	if o == nil {
		return err
	}
	quoted := o.Quoted()
	p := printPage{page: page{Title: "Print, " + o.Book.Title, Kit: nav(o, "print", 1)}, ID: o.Kit.ID, Count: len(o.Lessons), Quoted: fmt.Sprintf("%.1f", quoted),
		Over: quoted > o.Class.Settings.QuoteLimit, Limit: o.Class.Settings.QuoteLimit, Copyright: prepare.CopyrightWord, Hold: o.Hold(), ClassID: string(o.Class.ID)}
	if n := atoi(r.URL.Query().Get("lesson")); n >= 1 && n <= p.Count {
		p.Lesson, p.Kit.Lesson = n, n
	}
	for _, x := range o.KitPapers() {
		p.Papers = append(p.Papers, paperRow{x, paperNotes[x]})
		p.Written = p.Written || x == prepare.Quizzes || x == prepare.Tests
	}
	for _, l := range o.Lessons {
		p.Waiting += count(l.Items).Waiting
	}
	return render(w, http.StatusOK, "print", p)
}

// file is a paper as a PDF, or the kit as one file for another teacher.
func (s *Server) file(w http.ResponseWriter, r *http.Request) error {
	name := chi.URLParam(r, "file")
	if name == "kit.zip" {
		name, data, err := s.shop.ExportKit(r.Context(), kitID(r))
		if err != nil {
			return err
		}
		return download(w, "application/zip", name, data)
	}
	paper, ok := strings.CutSuffix(name, ".pdf")
	if !ok {
		return fault.New(fault.NotFound, "There is no such file.", "Choose one from the list.")
	}
	o, err := s.open(w, r)
	if o == nil {
		return err
	}
	var rg prepare.Range
	if q := r.URL.Query(); q.Get("from") != "" {
		rg = prepare.Range{First: atoi(q.Get("from")), Last: atoi(q.Get("to"))}
	}
	data, _, err := o.Set(r.Context(), prepare.Paper(paper), rg, s.shop.Today())
	if err != nil {
		return err
	}
	return inline(w, name, data)
}

func inline(w http.ResponseWriter, name string, data []byte) error {
	return send(w, "application/pdf", "inline", name, data)
}

func download(w http.ResponseWriter, typ, name string, data []byte) error {
	return send(w, typ, "attachment", name, data)
}

func send(w http.ResponseWriter, typ, how, name string, data []byte) error {
	w.Header().Set("Content-Type", typ)
	w.Header().Set("Content-Disposition", fmt.Sprintf("%s; filename=%q", how, name))
	w.Header().Set("Content-Length", fmt.Sprint(len(data)))
	_, err := w.Write(data)
	if err != nil {
		return nil // the browser went away
	}
	return nil
}

// secondPage is where what a child missed is ticked.
type secondPage struct {
	page
	ID      kit.ID
	Quiz    int // 0 for the test
	Quizzes int
	Test    bool
	Asked   []prepare.Asked
}

func (s *Server) second(w http.ResponseWriter, r *http.Request) error {
	o, err := s.open(w, r)
	if o == nil {
		return err
	}
	q := r.URL.Query()
	quiz := atoi(q.Get("quiz"))
	if missed := q["missed"]; len(missed) > 0 {
		ids := make([]kit.ItemID, len(missed))
		for i, m := range missed {
			ids[i] = kit.ItemID(m)
		}
		data, err := o.SetSecondChance(r.Context(), quiz, ids, q.Get("key") != "", s.shop.Today())
		if err != nil {
			return err
		}
		return inline(w, "second-chance.pdf", data)
	}
	quizzes, test := o.Papers()
	return render(w, http.StatusOK, "second", secondPage{page: page{Title: "A second chance", Kit: nav(o, "print", 1)}, ID: o.Kit.ID, Quiz: quiz,
		Quizzes: len(quizzes), Test: len(test) > 0, Asked: o.AskedOn(quiz)})
}
