package web

import (
	"fmt"
	"net/http"
	"strconv"
	"strings"
	"time"

	"bookstead/internal/book"
	"bookstead/internal/calendar"
	"bookstead/internal/class"
	"bookstead/internal/fault"
	"bookstead/internal/prepare"
)

// classPage is the form of a class. Lists are text, a line for each entry, so
// that a teacher can paste them.
type classPage struct {
	page
	Class    class.Class
	Seen     prepare.Revision
	Book     string // to be prepared once the class is saved
	Students string
	Terms    string
	DaysOff  string
	Special  string
	// Appointments, rules and standings are lists, too; Sequence is the teacher's
	// own file of spelling steps.
	Appointments string
	Rules        string
	Standings    string
	QuizWays     string
	TestWays     string
	Steps        []string
	Choosing     []weighView
	Weekdays     []weekday
	New          bool
	RateNote     string
	Undo         string // the last change, "" for none
	Redo         string
	Grades       [6]int
}

type weighView struct {
	Name, Label string
	Weigh       class.Weigh
}

type weekday struct {
	Name    string
	Index   int
	Minutes int
}

func classForm(c class.Class) classPage {
	p := classPage{page: page{Title: c.Name}, Class: c, RateNote: prepare.RateNote(c), Grades: [6]int{1, 2, 3, 4, 5, 6}}
	for i := range 7 {
		d := (i + 1) % 7 // Monday first
		p.Weekdays = append(p.Weekdays, weekday{time.Weekday(d).String(), d, c.Calendar.Minutes[d]})
	}
	p.Students, p.Terms, p.DaysOff = prepare.StudentLines(c.Students), prepare.RangeLines(c.Calendar.Terms), prepare.RangeLines(c.Calendar.DaysOff)
	p.Special, p.Appointments = prepare.SpecialLines(c.Calendar.Special), prepare.AppointmentLines(c.Calendar.Appointments)
	p.Rules, p.Standings, p.Steps = prepare.RuleLines(c.Students), prepare.StandingLines(c), prepare.StepNames(c)
	p.QuizWays, p.TestWays = prepare.WayLines(c.Settings.QuizWays), prepare.WayLines(c.Settings.TestWays)
	for _, x := range choosing(&c.Settings.Choosing) {
		p.Choosing = append(p.Choosing, weighView{x.name, x.label, *x.to})
	}
	return p
}

// choosing are the parts of the choice of words, with their names in the form.
func choosing(c *class.Choosing) []struct {
	name, label string
	to          *class.Weigh
} {
	return []struct {
		name, label string
		to          *class.Weigh
	}{
		{"weighFit", "right for the grade", &c.Fit}, {"weighWorth", "useful beyond this book", &c.Worth}, {"weighGuess", "its sentence gives it away", &c.Guess},
		{"weighAgain", "comes again in the book", &c.Again}, {"weighVariety", "different parts of speech", &c.Variety}, {"weighSpread", "spread through the lesson", &c.Spread},
	}
}

func (s *Server) classNew(w http.ResponseWriter, r *http.Request) error {
	grade, err := strconv.Atoi(r.URL.Query().Get("grade"))
	if err != nil {
		grade = 4
	}
	grade = max(1, min(6, grade))
	c := class.Class{Name: fmt.Sprintf("Grade %d", grade), Grade: grade, Settings: class.Defaults(grade)}
	c.Calendar = prepare.SchoolYear(calendar.FromTime(s.shop.Now()), c.Settings.Minutes)
	p := classForm(c)
	p.New, p.Book, p.Title = true, r.URL.Query().Get("book"), "Set up a class"
	return render(w, http.StatusOK, "class", p)
}

func (s *Server) classEdit(w http.ResponseWriter, r *http.Request) error {
	c, err := s.shop.Class(r.Context(), classID(r))
	if err != nil {
		return err
	}
	p := classForm(c.Class)
	p.Seen, p.Undo, p.Redo = prepare.ClassRevision(c), c.Undo.Label, c.Redo.Label
	return render(w, http.StatusOK, "class", p)
}

func (s *Server) classCreate(w http.ResponseWriter, r *http.Request) error {
	c, p, err := readClass(r, class.Class{Settings: class.Defaults(atoi(r.FormValue("grade")))})
	if err == nil {
		c, err = s.shop.NewClass(r.Context(), c)
	}
	if err != nil {
		p.New, p.Book = true, r.FormValue("book")
		return s.classAgain(w, p, err)
	}
	if b := r.FormValue("book"); b != "" {
		id, err := s.shop.NewKit(r.Context(), book.ID(b), c.ID)
		if err != nil {
			return err
		}
		return see(w, r, "/kits/"+string(id))
	}
	return see(w, r, "/")
}

func (s *Server) classSave(w http.ResponseWriter, r *http.Request) error {
	old, err := s.shop.Class(r.Context(), classID(r))
	if err != nil {
		return err
	}
	c, p, err := readClass(r, old.Class)
	p.Seen = prepare.Revision(atoi(r.FormValue("seen")))
	if err == nil {
		err = s.shop.SaveClass(r.Context(), c, p.Seen)
	}
	if err != nil {
		return s.classAgain(w, p, err)
	}
	return see(w, r, "/")
}

// classAgain shows the form with what was typed and what is wrong.
func (s *Server) classAgain(w http.ResponseWriter, p classPage, err error) error {
	f := fault.Of(err)
	if f.Kind != fault.Invalid && f.Kind != fault.Conflict {
		return err
	}
	p.Say = f.Message + " " + f.Hint
	return render(w, status(f.Kind), "class", p)
}

// holidays takes a calendar file into the school year and shows the form with
// what came of it.
func (s *Server) holidays(w http.ResponseWriter, r *http.Request) error {
	in, err := upload(w, r)
	if err != nil {
		return err
	}
	said, err := s.shop.ImportHolidays(r.Context(), classID(r), in.data, in.fields["order"] == "day")
	if err != nil {
		return err
	}
	c, err := s.shop.Class(r.Context(), classID(r))
	if err != nil {
		return err
	}
	p := classForm(c.Class)
	p.Seen, p.Undo, p.Redo, p.Say = prepare.ClassRevision(c), c.Undo.Label, c.Redo.Label, strings.Join(said, " ")
	return render(w, http.StatusOK, "class", p)
}

func (s *Server) undoClass(w http.ResponseWriter, r *http.Request) error {
	return s.backToClass(w, r, s.shop.UndoClass(r.Context(), classID(r)))
}

func (s *Server) redoClass(w http.ResponseWriter, r *http.Request) error {
	return s.backToClass(w, r, s.shop.RedoClass(r.Context(), classID(r)))
}

func (s *Server) backToClass(w http.ResponseWriter, r *http.Request, err error) error {
	if err != nil {
		return err
	}
	return see(w, r, "/classes/"+string(classID(r)))
}

func (s *Server) deleteClass(w http.ResponseWriter, r *http.Request) error {
	if err := s.shop.DeleteClass(r.Context(), classID(r), true); err != nil {
		return err
	}
	return see(w, r, "/")
}

func atoi(s string) int {
	n, err := strconv.Atoi(strings.TrimSpace(s))
	if err != nil {
		return 0 // Validate refuses a nought where it matters
	}
	return n
}

// readClass reads the form over what the class was. The page holds what was
// typed even when it can't be understood.
func readClass(r *http.Request, c class.Class) (class.Class, classPage, error) {
	f := func(k string) string { return strings.TrimSpace(r.FormValue(k)) }
	c.Name, c.School, c.Teacher = f("name"), f("school"), f("teacher")
	c.Grade, c.Copies = atoi(f("grade")), atoi(f("copies"))
	set := &c.Settings
	usual := set.Minutes
	set.Mode, set.Rate, set.Minutes = class.Mode(f("mode")), atoi(f("rate")), atoi(f("minutes"))
	for k, v := range map[string]*int{"vocabularyMinutes": &set.VocabularyMinutes, "questionMinutes": &set.QuestionMinutes, "discussionMinutes": &set.DiscussionMinutes,
		"quizMinutes": &set.QuizMinutes, "testMinutes": &set.TestMinutes, "reviewMinutes": &set.ReviewMinutes,
		"words": &set.Words, "backgrounds": &set.Backgrounds, "questions": &set.Questions, "quotations": &set.Quotations, "quizEvery": &set.QuizEvery} {
		*v = atoi(f(k))
	}
	set.Practice, set.Quizzes, set.Tests, set.LargePrint, set.HoldDrafts = f("practice") != "", f("quizzes") != "", f("tests") != "", f("largePrint") != "", f("holdDrafts") != ""
	set.Paper, set.WeekStart, set.Review, set.Again = f("paper"), atoi(f("weekStart")), atoi(f("review")), f("again") != ""
	set.Spelling.Sequence = strings.ReplaceAll(r.FormValue("sequence"), "\r\n", "\n")
	for _, x := range choosing(&set.Choosing) {
		*x.to = class.Weigh(atoi(f(x.name)))
	}
	if q, err := strconv.ParseFloat(f("quoteLimit"), 64); err == nil {
		set.QuoteLimit = q
	}
	err := readCalendar(r, &c.Calendar)
	for d, m := range c.Calendar.Minutes { // weekdays of the usual length follow it
		if m == usual {
			c.Calendar.Minutes[d] = set.Minutes
		}
	}
	if err == nil {
		c.Students, err = prepare.ReadStudents(r.FormValue("students"), c.Students)
	}
	if err == nil {
		err = prepare.ReadRules(r.FormValue("rules"), c.Students)
	}
	if err == nil {
		err = prepare.ReadStandings(r.FormValue("standings"), &c)
	}
	if err == nil && f("dayBegins") != "" {
		set.DayBegins, err = calendar.ParseClock(f("dayBegins"))
	}
	if err == nil {
		set.QuizWays, err = prepare.ReadWays(f("quizWays"))
	}
	if err == nil {
		set.TestWays, err = prepare.ReadWays(f("testWays"))
	}
	set.PlainDrafts = f("plainDrafts") != ""
	p := classForm(c)
	p.QuizWays, p.TestWays = r.FormValue("quizWays"), r.FormValue("testWays")
	p.Students, p.Terms, p.DaysOff, p.Special = r.FormValue("students"), r.FormValue("terms"), r.FormValue("daysOff"), r.FormValue("special")
	p.Appointments, p.Rules, p.Standings = r.FormValue("appointments"), r.FormValue("rules"), r.FormValue("standings")
	if err != nil {
		return c, p, err
	}
	return c, p, c.Validate()
}

func readCalendar(r *http.Request, c *calendar.Calendar) (err error) {
	if c.First, err = calendar.Parse(strings.TrimSpace(r.FormValue("first"))); err != nil {
		return err
	}
	if c.Last, err = calendar.Parse(strings.TrimSpace(r.FormValue("last"))); err != nil {
		return err
	}
	for d := range 7 {
		c.Minutes[d] = atoi(r.FormValue(fmt.Sprintf("day%d", d)))
	}
	if c.Terms, err = prepare.ReadRanges(r.FormValue("terms")); err != nil {
		return err
	}
	if c.DaysOff, err = prepare.ReadRanges(r.FormValue("daysOff")); err != nil {
		return err
	}
	if c.Special, err = prepare.ReadSpecial(r.FormValue("special")); err != nil {
		return err
	}
	c.Appointments, err = prepare.ReadAppointments(r.FormValue("appointments"))
	c.Plain = len(c.Terms) == 0 && len(c.DaysOff) == 0
	return err
}

func (s *Server) spellingSteps(w http.ResponseWriter, _ *http.Request) error {
	return download(w, "text/plain; charset=utf-8", "spelling-steps.txt", []byte(prepare.UsualSteps()))
}
