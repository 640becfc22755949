package cli

import (
	"encoding/json"
	"fmt"
	"math"
	"path/filepath"
	"time"

	"bookstead/internal/book"
	"bookstead/internal/calendar"
	"bookstead/internal/class"
	"bookstead/internal/kit"
	"bookstead/internal/prepare"
)

type kitCmd struct {
	Book    string `arg:"" help:"The book: an EPUB or a plain text file." type:"path"`
	Grade   int    `help:"The grade to prepare for, 1 to 6." default:"4"`
	Start   string `help:"The first day, as 2026-09-01. Default: next Monday." placeholder:"DATE"`
	Out     string `help:"The folder for the kit. Default: a folder named after the book." placeholder:"DIR" type:"path"`
	Minutes int    `help:"Minutes for books on a day." default:"60"`
	Mode    string `help:"How the class reads: turns, teacher or silent." enum:"turns,teacher,silent" default:"turns"`
	Paper   string `help:"Paper: letter or a4." enum:"letter,a4" default:"letter"`
	Large   bool   `help:"Large print."`
	JSON    bool   `help:"Write one JSON object about the kit to standard output." name:"json"`
	Quiet   bool   `help:"No progress bar."`
}

// Help is shown by "bookstead kit --help".
func (kitCmd) Help() string {
	return `Makes everything that a class needs from one book, without a browser: student pages, teacher's edition, quizzes and a test with keys (from grade 3 on), word cards (grades 1 and 2), the plan as weekly sheets and a checklist, and the plan as an iCalendar file.

Example:
  bookstead kit my-novel.epub --grade 4 --start 2026-09-07 --out kits/my-novel

The JSON object has: book (title, author, parts, chapters with title and words), lessons (number, title, firstChapter, lastChapter, words, minutes, items by kind), files (path, pages), plan (first, last, days, notes), quotedPercent, and seconds by stage.`
}

type kitReport struct {
	Book    bookReport         `json:"book"`
	Lessons []lessonReport     `json:"lessons"`
	Files   []fileReport       `json:"files"`
	Plan    planReport         `json:"plan"`
	Quoted  float64            `json:"quotedPercent"`
	Seconds map[string]float64 `json:"seconds"`
}

type bookReport struct {
	Title    string          `json:"title"`
	Author   string          `json:"author"`
	Words    int             `json:"words"`
	Parts    []string        `json:"parts,omitempty"`
	Chapters []chapterReport `json:"chapters"`
	Notes    []string        `json:"notes,omitempty"`
}

type chapterReport struct {
	Label string `json:"label"`
	Title string `json:"title"`
	Kind  string `json:"kind"`
	Part  string `json:"part,omitempty"`
	Words int    `json:"words"`
}

type lessonReport struct {
	Number  int              `json:"number"`
	Title   string           `json:"title"`
	First   int              `json:"firstChapter"` // index in book.chapters, from 0
	Last    int              `json:"lastChapter"`
	Words   int              `json:"words"`
	Minutes float64          `json:"minutes"`
	Items   map[kit.Kind]int `json:"items"`
}

type fileReport struct {
	Path  string `json:"path"`
	Pages int    `json:"pages,omitempty"`
}

type planReport struct {
	First calendar.Date `json:"first"`
	Last  calendar.Date `json:"last"`
	Days  int           `json:"days"`
	Notes []string      `json:"notes,omitempty"`
}

func (c kitCmd) class(now time.Time) (class.Class, error) {
	start := calendar.FromTime(now)
	for start.Weekday() != time.Monday {
		start++
	}
	if c.Start != "" {
		d, err := calendar.Parse(c.Start)
		if err != nil {
			return class.Class{}, err
		}
		start = d
	}
	cl := class.Class{ID: "cli", Name: fmt.Sprintf("Grade %d", c.Grade), Grade: c.Grade, Settings: class.Defaults(c.Grade)}
	cl.Settings.Minutes, cl.Settings.Mode = c.Minutes, class.Mode(c.Mode)
	cl.Settings.Paper, cl.Settings.LargePrint = c.Paper, c.Large
	cl.Calendar = calendar.PlainYear(start, c.Minutes)
	return cl, cl.Validate()
}

// Run makes the kit.
func (c kitCmd) Run(r *runContext) error {
	cl, err := c.class(r.Now())
	if err != nil {
		return err
	}
	f, st, err := openFile(c.Book)
	if err != nil {
		return err
	}
	defer f.Close()
	bar := newBar(r.Err, !c.Quiet && !c.JSON)
	clock := stopwatch{now: r.Now, seconds: map[string]float64{}}
	progress := func(stage string, done float64) { clock.at(stage); bar.at(stage, done) }

	made, err := prepare.WholeKit(r.ctx, f, st.Size(), filepath.Base(c.Book), cl, r.Now(), progress)
	if err != nil {
		bar.done()
		return err
	}
	out := c.Out
	if out == "" {
		out = prepare.FileName(made.Book.Title)
	}
	err = writeFiles(out, made.Files)
	clock.at("")
	bar.done()
	if err != nil {
		return err
	}
	rep := report(made, out, clock.seconds)
	if c.JSON {
		enc := json.NewEncoder(r.Out)
		enc.SetIndent("", "  ")
		return enc.Encode(rep)
	}
	c.tell(r, rep, out, cl)
	return nil
}

// tell sums the kit up for a person.
func (c kitCmd) tell(r *runContext, rep kitReport, out string, cl class.Class) {
	p := func(format string, a ...any) { fmt.Fprintf(r.Out, format+"\n", a...) }
	p("%s: %d words in %d lessons, %s to %s.", rep.Book.Title, rep.Book.Words, len(rep.Lessons), rep.Plan.First, rep.Plan.Last)
	for _, n := range append(rep.Book.Notes, rep.Plan.Notes...) {
		p("%s", n)
	}
	p("The pages quote %.1f %% of the book's words.", rep.Quoted)
	if rep.Quoted > cl.Settings.QuoteLimit {
		p("That is above %.0f %%. %s", cl.Settings.QuoteLimit, prepare.CopyrightWord)
	}
	p("In %s:", out)
	for _, f := range rep.Files {
		if f.Pages > 0 {
			p("  %-28s %d pages", filepath.Base(f.Path), f.Pages)
		} else {
			p("  %s", filepath.Base(f.Path))
		}
	}
}

func report(m *prepare.Made, out string, seconds map[string]float64) kitReport {
	rep := kitReport{Seconds: seconds, Quoted: round1(m.Quoted()), Book: bookReport{Title: m.Book.Title, Author: m.Book.Author, Notes: m.Book.Notes}}
	for _, p := range m.Book.Parts {
		rep.Book.Parts = append(rep.Book.Parts, p.Name())
	}
	for _, ch := range m.Book.Chapters {
		cr := chapterReport{Label: ch.Label, Title: ch.Title, Kind: string(ch.Kind), Words: book.Words(m.Book.Slice(ch.Span))}
		if ch.Part >= 0 && ch.Part < len(m.Book.Parts) {
			cr.Part = m.Book.Parts[ch.Part].Name()
		}
		if ch.Kind.Told() {
			rep.Book.Words += cr.Words
		}
		rep.Book.Chapters = append(rep.Book.Chapters, cr)
	}
	for _, l := range m.Lessons {
		lr := lessonReport{Number: l.Number, Title: l.Title, First: l.First, Last: l.Last, Words: l.Words, Minutes: round1(l.Minutes), Items: map[kit.Kind]int{}}
		for _, it := range l.Items {
			if it.Printed(m.Hold()) {
				lr.Items[it.Kind]++
			}
		}
		rep.Lessons = append(rep.Lessons, lr)
	}
	for _, f := range m.Files {
		rep.Files = append(rep.Files, fileReport{Path: filepath.Join(out, f.Name), Pages: f.Pages})
	}
	rep.Plan = planReport{Last: m.Plan.Last(), Days: len(m.Plan.Days), Notes: m.Plan.Notes}
	if len(m.Plan.Days) > 0 {
		rep.Plan.First = m.Plan.Days[0].Date
	}
	return rep
}

func round1(x float64) float64 { return math.Round(x*10) / 10 }
