package web

import (
	"fmt"
	"net/http"
	"slices"
	"strings"

	"github.com/go-chi/chi/v5"

	"bookstead/internal/calendar"
	"bookstead/internal/class"
	"bookstead/internal/fault"
	"bookstead/internal/kit"
	"bookstead/internal/plan"
	"bookstead/internal/prepare"
)

// dayPage is one school day: its work, and the form for what came between.
type dayPage struct {
	page
	ClassID       class.ID
	Name          string // of the class
	Date          calendar.Date
	Day           string
	Off           string
	Seen          prepare.Revision
	Note          plan.Happened
	Steps         []dayStep
	Minutes       int
	Available     int
	Students      []dayStudent
	Before, After calendar.Date
	Agreed        bool
	Come          bool // the day is today or lies behind
	Open          bool // its work can still be given other minutes
	Added         []string
}

type dayStep struct {
	planStep
	Key    string
	Pages  string
	Undone bool
	Part   bool // only a part of the step lies on the day
	Took   int
}

type dayStudent struct {
	class.Student
	Away  bool
	Rules []dayRule
}

// dayRule is a rule of a child, which may have been kept in another subject.
type dayRule struct {
	Key, Words string
	Done       bool
}

// stepKey and readKey write a step's reference into a form and back.
func stepKey(r plan.Ref) string {
	return fmt.Sprintf("%s %d %s %s", r.Kit, r.Lesson, r.Kind, r.After)
}

func readKey(s string) (plan.Ref, bool) {
	f := strings.Split(s, " ")
	if len(f) != 4 {
		return plan.Ref{}, false
	}
	return plan.Ref{Kit: kit.ID(f[0]), Lesson: atoi(f[1]), Kind: plan.StepKind(f[2]), After: plan.StepKind(f[3])}, true
}

func dateParam(r *http.Request) (calendar.Date, error) {
	return calendar.Parse(chi.URLParam(r, "date"))
}

// today leads to the class's next day with work, today's if there is one.
func (s *Server) today(w http.ResponseWriter, r *http.Request) error {
	y, err := s.year(w, r)
	if y == nil {
		return err
	}
	for _, d := range y.Plan.Days {
		if d.Date >= y.Today {
			return see(w, r, fmt.Sprintf("/classes/%s/days/%s", y.Class.ID, d.Date))
		}
	}
	return see(w, r, fmt.Sprintf("/classes/%s/plan", y.Class.ID))
}

func (s *Server) day(w http.ResponseWriter, r *http.Request) error {
	date, err := dateParam(r)
	if err != nil {
		return err
	}
	if y, err := s.year(w, r); y == nil {
		return err
	}
	d, err := s.shop.SchoolDay(r.Context(), classID(r), date)
	if err != nil {
		return err
	}
	p := dayPage{page: page{Title: date.Time().Format("Monday 2 January 2006")}, ClassID: d.Class.ID, Name: d.Class.Name, Date: date,
		Day: date.Time().Format("Monday 2 January 2006"), Off: d.Off, Seen: d.WishRevision(), Note: d.Note,
		Minutes: d.Day.Minutes(), Available: d.Day.Available, Before: d.Before, After: d.After, Agreed: d.Agreed.Sequence > 0, Come: date <= d.Today, Open: d.Open()}
	for k, st := range d.Day.Steps {
		x := dayStep{planStep: planStep{Book: d.Title(st.Kit), Name: prepare.StepName(st), Kit: st.Kit, Lesson: st.Lesson, Minutes: st.Minutes, Starts: k == 0 || d.Day.Steps[k-1].Kit != st.Kit || d.Day.Steps[k-1].Lesson != st.Lesson},
			Key: stepKey(d.Refs[k]), Pages: st.Pages, Part: st.Parts > 1, Undone: slices.Contains(d.Note.Undone, d.Refs[k])}
		for _, t := range d.Note.Took {
			if t.Ref == d.Refs[k] {
				x.Took = t.Minutes
			}
		}
		p.Steps = append(p.Steps, x)
	}
	for _, st := range d.Class.Students {
		x := dayStudent{Student: st, Away: slices.Contains(d.Note.Absent, st.ID)}
		for i, rule := range st.Rules {
			x.Rules = append(x.Rules, dayRule{Key: fmt.Sprintf("%s %d", st.ID, i), Words: prepare.RuleWords(rule),
				Done: slices.ContainsFunc(d.Note.Elsewhere, func(e plan.Elsewhere) bool { return e.Student == st.ID && e.Habit == rule.Habit })})
		}
		p.Students = append(p.Students, x)
	}
	added, _ := d.Habits()
	for _, a := range added {
		if a.Date == date {
			p.Added = append(p.Added, fmt.Sprintf("%s %s, %d minutes.", studentName(d.Class, a.Child), prepare.HabitWords(a.Habit), a.Minutes))
		}
	}
	return render(w, http.StatusOK, "day", p)
}

func (s *Server) noteDay(w http.ResponseWriter, r *http.Request) error {
	date, err := dateParam(r)
	if err != nil {
		return err
	}
	if err := r.ParseForm(); err != nil {
		return fault.Wrap(fault.Invalid, err, "This form is not complete.", "Load the page again.")
	}
	h := plan.Happened{Date: date, Lost: r.FormValue("lost") != "", Why: r.FormValue("why"), Absent: r.Form["absent"]}
	for _, k := range r.Form["undone"] {
		if ref, ok := readKey(k); ok {
			h.Undone = append(h.Undone, ref)
		}
	}
	var steps []plan.StepWish
	for _, k := range r.Form["step"] {
		ref, ok := readKey(k)
		if n := atoi(r.FormValue("minutes " + k)); ok && n != 0 && n != atoi(r.FormValue("planned "+k)) {
			steps = append(steps, plan.StepWish{Kit: ref.Kit, Lesson: ref.Lesson, Kind: ref.Kind, Minutes: n})
		}
		v := strings.TrimSpace(r.FormValue("took " + k))
		if !ok || v == "" {
			continue
		}
		n := atoi(v)
		if n < 1 || n > 600 {
			return fault.New(fault.Invalid, fmt.Sprintf("A step cannot have taken %q minutes.", v), "Type a number of minutes, or leave it empty.")
		}
		h.Took = append(h.Took, plan.Took{Ref: ref, Planned: atoi(r.FormValue("planned " + k)), Minutes: n})
	}
	c, err := s.shop.Class(r.Context(), classID(r))
	if err != nil {
		return err
	}
	for _, st := range c.Students {
		for i, rule := range st.Rules {
			if slices.Contains(r.Form["elsewhere"], fmt.Sprintf("%s %d", st.ID, i)) {
				h.Elsewhere = append(h.Elsewhere, plan.Elsewhere{Student: st.ID, Habit: rule.Habit, Minutes: rule.Minutes})
			}
		}
	}
	if err := s.shop.NoteDay(r.Context(), classID(r), seen(r), h, steps); err != nil {
		return err
	}
	return see(w, r, fmt.Sprintf("/classes/%s/plan#changes", classID(r)))
}

// studentName is the name of a student of a class, "" when there is none of the ID.
func studentName(c class.Class, id string) string {
	for _, s := range c.Students {
		if s.ID == id {
			return s.Name
		}
	}
	return ""
}

type earlierPage struct {
	page
	ClassID  class.ID
	Name     string
	Sequence int
	Latest   bool
	Changes  []string
	Weeks    []planWeek
}

// earlierPlan shows a plan agreed before.
func (s *Server) earlierPlan(w http.ResponseWriter, r *http.Request) error {
	n := atoi(chi.URLParam(r, "sequence"))
	if y, err := s.year(w, r); y == nil {
		return err
	}
	y, err := s.shop.EarlierPlan(r.Context(), classID(r), n)
	if err != nil {
		return err
	}
	p := earlierPage{page: page{Title: fmt.Sprintf("Version %d of the plan", n)}, ClassID: y.Class.ID, Name: y.Class.Name, Sequence: n, Latest: y.Fresh, Changes: changes(y)}
	p.Weeks, _ = weeksOf(y, "")
	return render(w, http.StatusOK, "earlier", p)
}

func (s *Server) bringBack(w http.ResponseWriter, r *http.Request) error {
	return s.backToPlan(w, r, s.shop.BringBack(r.Context(), classID(r), atoi(chi.URLParam(r, "sequence"))))
}

// changes says in words what begins on another day.
func changes(y *prepare.Year) []string {
	out := make([]string, 0, len(y.Changes))
	for _, c := range y.Changes {
		what := prepare.StepName(plan.Step{Kit: c.Kit, Lesson: c.Lesson, Kind: c.Kind})
		if c.Kind == "" {
			what = fmt.Sprintf("Lesson %d", c.Lesson)
		}
		if len(y.Books) > 1 {
			what = y.Title(c.Kit) + ", " + what
		}
		day := func(d calendar.Date) string { return d.Time().Format("Monday 2 January") }
		switch {
		case c.From == calendar.None:
			what += ": new, on " + day(c.To)
		case c.To == calendar.None:
			what += ": no longer on " + day(c.From)
		default:
			what += ": from " + day(c.From) + " to " + day(c.To)
		}
		out = append(out, what+".")
	}
	return out
}
