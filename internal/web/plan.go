package web

import (
	"context"
	"fmt"
	"net/http"
	"slices"
	"strconv"
	"strings"
	"time"

	"github.com/go-chi/chi/v5"

	"bookstead/internal/calendar"
	"bookstead/internal/class"
	"bookstead/internal/fault"
	"bookstead/internal/kit"
	"bookstead/internal/plan"
	"bookstead/internal/prepare"
)

type planPage struct {
	page
	ClassID  class.ID
	Class    class.Class
	Seen     prepare.Revision
	Books    []prepare.YearBook
	Strip    []stripWeek
	Weeks    []planWeek
	Short    []string
	Notes    []string
	Pins     []pinView
	KitID    kit.ID // the book looked at, "" for all
	Agreed   int    // its version, 0 for none
	Fresh    bool
	Changes  []string
	Earlier  []int // versions agreed before
	Missed   []missedView
	Pace     prepare.Pace
	Care     []careView
	Ways     []prepare.Way
	Learned  []string
	Unkept   []string
	Undo     string
	Redo     string
	Lessons  []lessonChoice
	Calendar bool // only a first day was given
}

type stripWeek struct {
	Label, Title, Class string
}

type planWeek struct {
	ID, Name string
	Days     []planDay
}

type planDay struct {
	Date      calendar.Date
	Name, Off string
	Minutes   int
	Available int
	Steps     []planStep
}

type planStep struct {
	Book, Name string
	Kit        kit.ID
	Lesson     int
	Starts     bool // a lesson begins here; on the plan it can be moved
	Minutes    int
}

// careView is something that the plan would rather keep, and how much it counts.
type careView struct {
	Concern plan.Concern
	Words   string
	Counts  float64
}

var concernWords = map[plan.Concern]string{
	plan.Soon: "be done early", plan.Whole: "lessons whole on one day", plan.Weekends: "no lesson cut by a weekend or days off", plan.TestDays: "no test beside days off",
	plan.EvenDays: "no thin days", plan.LightDays: "lighter Fridays", plan.TalkLong: "full time to talk over", plan.EvenYear: "free days spread over the year", plan.Stay: "what was agreed stays",
}

// missedView is what a student who was away has missed.
type missedView struct {
	Name   string
	Days   []planDay
	MakeUp []string
}

type pinView struct {
	Kit    kit.ID
	Lesson int
	What   string
}

type lessonChoice struct {
	Kit    kit.ID
	Lesson int
	What   string
}

func classID(r *http.Request) class.ID { return class.ID(chi.URLParam(r, "class")) }

// year plans the class's year, through a job when a book must first be read.
func (s *Server) year(w http.ResponseWriter, r *http.Request) (*prepare.Year, error) {
	id := classID(r)
	if s.shop.YearReady(r.Context(), id) {
		return s.shop.Year(r.Context(), id, nil)
	}
	to := r.URL.RequestURI()
	jb := s.jobs.start("Planning the year", func(ctx context.Context, p prepare.Progress) (string, error) {
		_, err := s.shop.Year(ctx, id, p)
		return to, err
	})
	return nil, s.follow(w, r, jb)
}

func (s *Server) plan(w http.ResponseWriter, r *http.Request) error {
	y, err := s.year(w, r)
	if y == nil {
		return err
	}
	only := kit.ID(r.URL.Query().Get("kit"))
	p := planPage{page: page{Title: "Plan, " + y.Class.Name}, ClassID: y.Class.ID, Class: y.Class, Seen: y.WishRevision(), Books: y.Books,
		Notes: y.Plan.Notes, KitID: only, Fresh: y.Fresh, Undo: y.Wish.Undo.Label, Redo: y.Wish.Redo.Label, Calendar: y.Class.Calendar.Plain,
		Pace: prepare.Pace{Reserve: y.Wish.Reserve, Spread: y.Wish.Spread, TestsMove: y.Wish.TestsMove}}
	for _, c := range plan.Concerns {
		v, ok := y.Wish.Care[c]
		if !ok {
			v = 1
		}
		p.Care = append(p.Care, careView{c, concernWords[c], v})
	}
	p.Agreed, p.Changes, p.Learned = y.Agreed.Sequence, changes(y), y.Learned
	if p.Ways, err = s.shop.CatchUp(r.Context(), y); err != nil {
		return err
	}
	_, unkept := y.Habits()
	for _, u := range unkept {
		p.Unkept = append(p.Unkept, u.Why)
	}
	for v := p.Agreed; v > 0; v-- {
		p.Earlier = append(p.Earlier, v)
	}
	for _, m := range y.Missed() {
		v := missedView{Name: m.Student.Name}
		for _, d := range m.Days {
			x := planDay{Date: d.Date, Name: d.Date.Time().Format("Mon 2 Jan")}
			for _, st := range d.Steps {
				x.Steps = append(x.Steps, planStep{Book: y.Title(st.Kit), Name: prepare.StepName(st), Kit: st.Kit, Lesson: st.Lesson})
			}
			v.Days = append(v.Days, x)
		}
		for _, x := range y.MakeUp(m) {
			v.MakeUp = append(v.MakeUp, fmt.Sprintf("%s: lesson %d, %s, %d minutes", x.Date.Time().Format("Mon 2 Jan"), x.Step.Lesson, prepare.StepName(x.Step), x.Step.Minutes))
		}
		p.Missed = append(p.Missed, v)
	}
	if only != "" && s.shop.Ready(r.Context(), only) {
		if o, err := s.shop.Open(r.Context(), only, nil); err == nil {
			p.Kit = nav(o, "plan", 1)
		}
	}
	for _, f := range y.Plan.Shortfalls {
		p.Short = append(p.Short, shortfall(y, f))
	}
	for _, x := range y.Wish.Pins {
		p.Pins = append(p.Pins, pinView{x.Kit, x.Lesson, fmt.Sprintf("%s, lesson %d, starts on %s", y.Title(x.Kit), x.Lesson, x.Date.Time().Format("Monday 2 January"))})
	}
	p.Weeks, p.Lessons = weeksOf(y, only)
	p.Strip = strip(y, only)
	return render(w, http.StatusOK, "plan", p)
}

func shortfall(y *prepare.Year, f plan.Shortfall) string {
	var b strings.Builder
	if f.Ends == calendar.None {
		fmt.Fprintf(&b, "%s does not fit into the year: %d minutes of work find no day.", y.Title(f.Kit), f.Minutes)
	} else {
		fmt.Fprintf(&b, "%s ends on %s, %d school days after %s.", y.Title(f.Kit), f.Ends.Time().Format("2 January 2006"), f.Days, f.Wanted.Time().Format("2 January"))
	}
	var helps []string
	if f.MoreMinutes > 0 {
		helps = append(helps, fmt.Sprintf("%d more minutes every day", f.MoreMinutes))
	}
	if f.FewerLessons > 0 {
		helps = append(helps, fmt.Sprintf("leaving out its last %d lessons", f.FewerLessons))
	}
	if len(helps) > 0 {
		fmt.Fprintf(&b, " What would help: %s.", strings.Join(helps, ", or "))
	}
	return b.String()
}

// weeksOf lists the weeks of the plan with every day that has lessons or a
// reason to have none; lessons are those that can be moved.
func weeksOf(y *prepare.Year, only kit.ID) (weeks []planWeek, lessons []lessonChoice) {
	if len(y.Plan.Days) == 0 {
		return nil, nil
	}
	byDate := map[calendar.Date]plan.Day{}
	first, last := calendar.None, calendar.None
	for _, d := range y.Plan.Days {
		if only != "" && !slices.ContainsFunc(d.Steps, func(s plan.Step) bool { return s.Kit == only }) {
			continue
		}
		byDate[d.Date] = d
		if first == calendar.None {
			first = d.Date
		}
		last = d.Date
	}
	seen := map[string]bool{}
	c := y.Class.Calendar
	for d := first; d <= last && first != calendar.None; d++ {
		day := planDay{Date: d, Name: d.Time().Format("Mon 2 Jan"), Available: c.MinutesOn(d), Off: c.Off(d)}
		if day.Available == 0 && (c.Minutes[d.Weekday()] == 0 || day.Off == "") {
			continue
		}
		for _, s := range byDate[d].Steps {
			st := planStep{Book: y.Title(s.Kit), Name: prepare.StepName(s), Kit: s.Kit, Lesson: s.Lesson, Minutes: s.Minutes}
			if key := fmt.Sprint(s.Kit, s.Lesson); s.Kind.OfLesson() && !seen[key] {
				seen[key], st.Starts = true, true
				lessons = append(lessons, lessonChoice{s.Kit, s.Lesson, fmt.Sprintf("%s, lesson %d (%s)", st.Book, s.Lesson, day.Name)})
			}
			day.Minutes += s.Minutes
			day.Steps = append(day.Steps, st)
		}
		if w := d.Week(time.Weekday(y.Class.Settings.WeekStart)); len(weeks) == 0 || weeks[len(weeks)-1].ID != "w"+w.String() {
			weeks = append(weeks, planWeek{ID: "w" + w.String(), Name: "Week of " + w.Time().Format("2 January 2006")})
		}
		k := len(weeks) - 1
		weeks[k].Days = append(weeks[k].Days, day)
	}
	return weeks, lessons
}

// strip is the year as weeks in which the books lie at their true length.
func strip(y *prepare.Year, only kit.ID) []stripWeek {
	start := time.Weekday(y.Class.Settings.WeekStart)
	var out []stripWeek
	month := ""
	for w := y.Class.Calendar.First.Week(start); w <= y.Class.Calendar.Last && len(out) < 110; w += 7 {
		x := stripWeek{Title: "Week of " + w.Time().Format("2 January")}
		if m := w.Time().Format("Jan"); m != month {
			month, x.Label = m, m
		}
		names := map[string]bool{}
		for _, d := range y.Plan.Days {
			if d.Date >= w && d.Date < w+7 {
				for _, s := range d.Steps {
					names[y.Title(s.Kit)] = true
					if only == "" || s.Kit == only {
						x.Class = "busy"
					} else if x.Class == "" {
						x.Class = "other"
					}
				}
			}
		}
		for _, b := range y.Books {
			if names[b.Title] {
				x.Title += ": " + b.Title
			}
		}
		out = append(out, x)
	}
	return out
}

func (s *Server) backToPlan(w http.ResponseWriter, r *http.Request, err error) error {
	if err != nil {
		return err
	}
	to := fmt.Sprintf("/classes/%s/plan", classID(r))
	if k := r.FormValue("only"); k != "" {
		to += "?kit=" + k
	}
	return see(w, r, to)
}

func seen(r *http.Request) prepare.Revision { return prepare.Revision(atoi(r.FormValue("seen"))) }

// planBooks takes the books of the year: those ticked, by their order.
func (s *Server) planBooks(w http.ResponseWriter, r *http.Request) error {
	if err := r.ParseForm(); err != nil {
		return fault.Wrap(fault.Invalid, err, "This form is not complete.", "Load the page again.")
	}
	type row struct {
		order int
		plan.BookWish
	}
	var rows []row
	for _, id := range r.Form["kit"] {
		x := row{order: atoi(r.FormValue("order-" + id)), BookWish: plan.BookWish{Kit: kit.ID(id)}}
		for field, to := range map[string]*calendar.Date{"start-": &x.Start, "end-": &x.End} {
			if v := r.FormValue(field + id); v != "" {
				d, err := calendar.Parse(v)
				if err != nil {
					return err
				}
				*to = d
			}
		}
		rows = append(rows, x)
	}
	slices.SortStableFunc(rows, func(a, b row) int { return a.order - b.order })
	books := make([]plan.BookWish, len(rows))
	for i, x := range rows {
		books[i] = x.BookWish
	}
	care := map[plan.Concern]float64{}
	for _, c := range plan.Concerns {
		if v, err := strconv.ParseFloat(r.FormValue("care-"+string(c)), 64); err == nil && v != 1 {
			care[c] = v
		}
	}
	set := prepare.Pace{Care: care, Reserve: atoi(r.FormValue("reserve")), Spread: r.FormValue("spread") != "", TestsMove: r.FormValue("testsMove") != ""}
	return s.backToPlan(w, r, s.shop.SetBooks(r.Context(), classID(r), seen(r), books, set))
}

func (s *Server) planPin(w http.ResponseWriter, r *http.Request) error {
	k, l := r.FormValue("kit"), r.FormValue("lesson")
	if choice := r.FormValue("choice"); k == "" && choice != "" { // "kit lesson", from the list
		k, l, _ = strings.Cut(choice, " ")
	}
	lesson, err := strconv.Atoi(l)
	if err != nil {
		return fault.New(fault.Invalid, "No lesson was chosen.", "Choose the lesson to move.")
	}
	d, err := calendar.Parse(r.FormValue("date"))
	if err != nil {
		return err
	}
	return s.backToPlan(w, r, s.shop.PinLesson(r.Context(), classID(r), seen(r), kit.ID(k), lesson, d))
}

func (s *Server) planUnpin(w http.ResponseWriter, r *http.Request) error {
	return s.backToPlan(w, r, s.shop.Unpin(r.Context(), classID(r), seen(r), kit.ID(r.FormValue("kit")), atoi(r.FormValue("lesson"))))
}

func (s *Server) planAgree(w http.ResponseWriter, r *http.Request) error {
	return s.backToPlan(w, r, s.shop.Agree(r.Context(), classID(r)))
}

func (s *Server) planCatchUp(w http.ResponseWriter, r *http.Request) error {
	return s.backToPlan(w, r, s.shop.TakeWay(r.Context(), classID(r), seen(r), r.FormValue("way")))
}

func (s *Server) planUndo(w http.ResponseWriter, r *http.Request) error {
	return s.backToPlan(w, r, s.shop.UndoPlan(r.Context(), classID(r)))
}

func (s *Server) planRedo(w http.ResponseWriter, r *http.Request) error {
	return s.backToPlan(w, r, s.shop.RedoPlan(r.Context(), classID(r)))
}

func (s *Server) planICal(w http.ResponseWriter, r *http.Request) error {
	data, err := s.shop.CalendarFile(r.Context(), classID(r))
	if err != nil {
		return err
	}
	return download(w, "text/calendar; charset=utf-8", "plan.ics", data)
}

func (s *Server) planPDF(w http.ResponseWriter, r *http.Request) error {
	paper := chi.URLParam(r, "paper")
	data, err := s.shop.PlanPaper(r.Context(), classID(r), prepare.Paper(paper), kit.ID(r.URL.Query().Get("kit")))
	if err != nil {
		return err
	}
	return inline(w, paper+".pdf", data)
}
