package web

import (
	"fmt"
	"net/http"
	"strings"
	"time"

	"bookstead/internal/calendar"
	"bookstead/internal/class"
	"bookstead/internal/fault"
	"bookstead/internal/kit"
	"bookstead/internal/plan"
	"bookstead/internal/prepare"
)

// readyPage helps the teacher get ready: what each lesson needs, a plan for
// reading ahead, and each chapter in short for who could not.
type readyPage struct {
	page
	ID       kit.ID
	ClassID  class.ID
	Lessons  []readyRow
	Chapters []chapterShort
	From, To string
	Weekdays []pickedDay
	Ahead    *prepare.Ahead
	Wrong    string
}

type readyRow struct {
	prepare.Ready
	When string
	Copy []string
}

type chapterShort struct {
	prepare.Digest
	Lesson int
	Lines  map[string]int // the lesson of each line, by its text
}

type pickedDay struct {
	Name   string
	Index  int
	Picked bool
}

func (s *Server) ready(w http.ResponseWriter, r *http.Request) error {
	o, err := s.open(w, r)
	if o == nil {
		return err
	}
	list, err := s.shop.Checklist(r.Context(), o)
	if err != nil {
		return err
	}
	p := readyPage{page: page{Title: "Get ready, " + o.Book.Title, Kit: nav(o, "ready", 1)}, ID: o.Kit.ID, ClassID: o.Class.ID}
	for _, x := range list {
		row := readyRow{Ready: x}
		if x.Day != calendar.None {
			row.When = x.Day.Time().Format("Mon 2 Jan")
		}
		for _, c := range x.Copy {
			what := map[plan.StepKind]string{plan.Reading: "student pages", plan.Quiz: "quiz", plan.Test: "test"}[c.What]
			if c.Day != x.Day && c.Day != calendar.None {
				what += " for " + c.Day.Time().Format("Mon 2 Jan")
			}
			row.Copy = append(row.Copy, what)
		}
		p.Lessons = append(p.Lessons, row)
	}
	for _, d := range o.Digests() {
		c := chapterShort{Digest: d, Lines: map[string]int{}}
		for _, lines := range [][]prepare.DigestLine{d.Where, d.Happens, d.Changed} {
			for _, l := range lines {
				c.Lines[l.Text] = o.LessonOf(l.Place.Start)
			}
		}
		p.Chapters = append(p.Chapters, c)
	}
	return render(w, http.StatusOK, "ready", s.readAhead(r, p))
}

// readAhead reads the form of the plan for reading ahead and makes the plan when
// it was sent.
func (s *Server) readAhead(r *http.Request, p readyPage) readyPage {
	q := r.URL.Query()
	sent := q.Has("from")
	today := calendar.FromTime(s.shop.Now())
	p.From, p.To = today.String(), (today + 28).String()
	if sent {
		p.From, p.To = q.Get("from"), q.Get("to")
	}
	var days [7]bool
	for i := range 7 {
		d := (i + 1) % 7
		days[d] = !sent || q.Has(fmt.Sprintf("day%d", d))
		p.Weekdays = append(p.Weekdays, pickedDay{time.Weekday(d).String(), d, days[d]})
	}
	if !sent {
		return p
	}
	first, err := calendar.Parse(strings.TrimSpace(p.From))
	var last calendar.Date
	if err == nil {
		last, err = calendar.Parse(strings.TrimSpace(p.To))
	}
	if err == nil {
		p.Ahead, err = s.shop.ReadAhead(r.Context(), p.ClassID, days, first, last)
	}
	if err != nil {
		f := fault.Of(err)
		p.Wrong = f.Message + " " + f.Hint
	}
	return p
}
