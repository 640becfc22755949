package prepare

import (
	"bytes"
	"context"
	"fmt"
	"strings"
	"sync"
	"time"
	"unicode"

	"bookstead/internal/assess"
	"bookstead/internal/class"
	"bookstead/internal/export/ical"
	"bookstead/internal/fault"
	"bookstead/internal/kit"
	"bookstead/internal/lead"
	"bookstead/internal/plan"
	"bookstead/internal/print"
	"bookstead/internal/print/fonts"
	"bookstead/internal/print/hyphen"
	"bookstead/internal/print/layout"
	"bookstead/internal/print/pdf"
	"bookstead/internal/print/sheet"
)

// CopyrightWord is what a teacher is told where pages quote from a book.
const CopyrightWord = "Books younger than about a hundred years are mostly under copyright. Short quotations for teaching are allowed in many places, but not everywhere and not without limit: look at your local law and your school’s rules. Bookstead prints sentences that a lesson needs and never the book."

// Paper is one kind of paper that can be printed.
type Paper string

// The papers of a kit and of a plan.
const (
	StudentPages   Paper = "student-pages"
	TeachersPages  Paper = "teachers-edition"
	Quizzes        Paper = "quizzes"
	QuizKeys       Paper = "quizzes-key"
	Tests          Paper = "test"
	TestKeys       Paper = "test-key"
	WordCards      Paper = "word-cards"
	TeachingNotes  Paper = "teaching-notes"
	SupportPages   Paper = "support-pages"
	SupportTeacher Paper = "support-teachers-edition"
	FurtherPages   Paper = "further-pages"
	FurtherTeacher Paper = "further-teachers-edition"
	WeeklySheets   Paper = "weekly-sheets"
	ChecklistPaper Paper = "checklist"
	ShoppingPaper  Paper = "shopping-list"
)

// edition and source say of which document a paper is a drawing.
func (p Paper) edition() print.Edition {
	switch p {
	case TeachersPages, QuizKeys, TestKeys, TeachingNotes, SupportTeacher, FurtherTeacher:
		return print.Teacher
	}
	return print.Student
}

// KitPapers are the papers of a kit in the order in which they are offered,
// those that would be empty left out.
func (p *Prepared) KitPapers() []Paper {
	out := []Paper{StudentPages, TeachersPages, TeachingNotes}
	quizzes, test := p.Papers()
	if len(quizzes) > 0 {
		out = append(out, Quizzes, QuizKeys)
	}
	if len(test) > 0 {
		out = append(out, Tests, TestKeys)
	}
	if class.Young(p.Class.Grade) || p.Class.Settings.Practice {
		out = append(out, WordCards)
	}
	return append(out, SupportPages, SupportTeacher, FurtherPages, FurtherTeacher)
}

// Title of a paper on the page where it is chosen.
func (p Paper) Title() string {
	switch p {
	case StudentPages:
		return "Student pages"
	case TeachersPages:
		return "Teacher’s edition"
	case Quizzes:
		return "Quizzes, forms A and B"
	case QuizKeys:
		return "Keys to the quizzes"
	case Tests:
		return "Test, forms A and B"
	case TestKeys:
		return "Key to the test"
	case WordCards:
		return "Word cards"
	case TeachingNotes:
		return "How to teach each lesson"
	case SupportPages:
		return "Student pages with more support"
	case SupportTeacher:
		return "Teacher’s edition of the pages with more support"
	case FurtherPages:
		return "Student pages that go further"
	case FurtherTeacher:
		return "Teacher’s edition of the pages that go further"
	case WeeklySheets:
		return "The plan, week by week"
	case ChecklistPaper:
		return "Checklist for a student"
	}
	return string(p)
}

// press is the layout engine with its typefaces, made once.
var press = sync.OnceValues(func() (*layout.Engine, error) {
	families, err := fonts.Families()
	if err != nil {
		return nil, err
	}
	return layout.New(families, func(language string) print.Hyphenator {
		d, err := hyphen.English(language)
		if err != nil {
			return nil // another language: words stay whole
		}
		return d
	})
})

// sheetKit is the kit as the sheets take it, for lessons first to last (from 1).
func (p *Prepared) sheetKit(first, last int, date time.Time) sheet.Kit {
	return sheet.Kit{Title: p.Book.Title, Author: p.Book.Author, Class: p.Class, Lessons: p.Lessons[first-1 : last], Page: p.Page, Clash: clash, Date: date}
}

// Range is a run of lessons to print; the zero Range is the whole book.
type Range struct{ First, Last int }

func (p *Prepared) clamp(r Range) (first, last int, err error) {
	if r == (Range{}) {
		return 1, len(p.Lessons), nil
	}
	if r.First < 1 || r.Last < r.First || r.Last > len(p.Lessons) {
		return 0, 0, fault.New(fault.Invalid, fmt.Sprintf("There are no lessons %d to %d.", r.First, r.Last), fmt.Sprintf("This book has lessons 1 to %d.", len(p.Lessons)))
	}
	return r.First, r.Last, nil
}

// document makes the document of a paper.
func (p *Prepared) document(ctx context.Context, paper Paper, r Range, date time.Time) (print.Document, error) {
	first, last, err := p.clamp(r)
	if err != nil {
		return print.Document{}, err
	}
	k := p.sheetKit(first, last, date)
	quizzes, test := p.Papers()
	switch paper {
	case StudentPages, TeachersPages:
		return sheet.Lessons(k), nil
	case Quizzes, QuizKeys:
		var all []assess.Paper
		for _, q := range quizzes {
			if q[0].First <= last && q[0].Last >= first {
				all = append(all, q...)
			}
		}
		return sheet.Papers(k, "quizzes", all), nil
	case Tests, TestKeys:
		return sheet.Papers(k, "test", test), nil
	case WordCards:
		return sheet.Cards(k), nil
	case TeachingNotes:
		return p.teachingNotes(ctx, k)
	case SupportPages, SupportTeacher:
		return p.levelled(ctx, k, lead.Support)
	case FurtherPages, FurtherTeacher:
		return p.levelled(ctx, k, lead.Further)
	}
	return print.Document{}, fault.New(fault.NotFound, fmt.Sprintf("There is no paper called %q.", paper), "Choose one from the list.")
}

// Set lays a paper out and writes it as a PDF.
func (p *Prepared) Set(ctx context.Context, paper Paper, r Range, date time.Time) (data []byte, pages int, err error) {
	d, err := p.document(ctx, paper, r, date)
	if err != nil {
		return nil, 0, err
	}
	if len(d.Blocks) == 0 {
		return nil, 0, fault.New(fault.Invalid, fmt.Sprintf("Nothing would stand on “%s”.", paper.Title()), "Keep or mark some items first.")
	}
	f, err := lay(ctx, d, paper, p.Class)
	if err != nil {
		return nil, 0, err
	}
	data, err = draw(f, paper)
	return data, len(f.Pages), err
}

func lay(ctx context.Context, d print.Document, paper Paper, c class.Class) (*print.Frames, error) {
	e, err := press()
	if err != nil {
		return nil, err
	}
	style := sheet.Style(c)
	switch paper {
	case SupportPages, SupportTeacher:
		style = sheet.Wider(style)
	case TeachingNotes:
		style = sheet.NotesStyle(c)
	}
	return e.Layout(ctx, d, style, nil)
}

func draw(f *print.Frames, paper Paper) ([]byte, error) {
	var b bytes.Buffer
	title := f.Title
	if paper.edition() == print.Teacher {
		title += " (" + paper.Title() + ")"
	}
	if err := pdf.Write(&b, f, pdf.Options{Edition: paper.edition(), Title: title}); err != nil {
		return nil, fmt.Errorf("writing %s: %w", paper, err)
	}
	return b.Bytes(), nil
}

// File is a finished file of a kit.
type File struct {
	Name  string
	Data  []byte
	Pages int
}

// pair is a document with the papers that are drawings of it.
type pair struct {
	doc    print.Document
	papers []Paper
}

// printAll sets all papers of a kit and its plan, documents side by side.
func (p *Prepared) printAll(ctx context.Context, pl plan.Plan, date time.Time, progress Progress) ([]File, error) {
	var pairs []pair
	have := map[Paper]bool{}
	for _, x := range p.KitPapers() {
		have[x] = true
	}
	for _, ps := range [][]Paper{{StudentPages, TeachersPages}, {TeachingNotes}, {Quizzes, QuizKeys}, {Tests, TestKeys}, {WordCards}} {
		if !have[ps[0]] {
			continue
		}
		d, err := p.document(ctx, ps[0], Range{}, date)
		if err != nil {
			return nil, err
		}
		if len(d.Blocks) > 0 {
			pairs = append(pairs, pair{d, ps})
		}
	}
	k := p.sheetKit(1, len(p.Lessons), date)
	title := func(plan.Step) string { return p.Book.Title }
	pairs = append(pairs, pair{sheet.Weeks(k, pl, title), []Paper{WeeklySheets}}, pair{sheet.Checklist(k, pl, title), []Paper{ChecklistPaper}})

	progress.at(StagePrint, 0)
	files := make([][]File, len(pairs))
	errs := make([]error, len(pairs))
	var wg sync.WaitGroup
	var mu sync.Mutex
	done := 0
	for i, pr := range pairs {
		wg.Go(func() {
			files[i], errs[i] = pr.print(ctx, p.Class)
			mu.Lock()
			done++
			progress.at(StagePrint, float64(done)/float64(len(pairs)))
			mu.Unlock()
		})
	}
	wg.Wait()
	var out []File
	for i := range files {
		if errs[i] != nil {
			return nil, errs[i]
		}
		out = append(out, files[i]...)
	}
	return out, nil
}

func (pr pair) print(ctx context.Context, c class.Class) ([]File, error) {
	f, err := lay(ctx, pr.doc, pr.papers[0], c)
	if err != nil {
		return nil, err
	}
	var out []File
	for _, paper := range pr.papers {
		data, err := draw(f, paper)
		if err != nil {
			return nil, err
		}
		out = append(out, File{Name: string(paper) + ".pdf", Data: data, Pages: len(f.Pages)})
	}
	return out, nil
}

// FileName makes a name for a folder or a file from a title.
func FileName(title string) string {
	var b strings.Builder
	dash := false
	for _, r := range strings.ToLower(title) {
		switch {
		case r < unicode.MaxASCII && (unicode.IsLetter(r) || unicode.IsDigit(r)):
			if dash && b.Len() > 0 {
				b.WriteByte('-')
			}
			dash = false
			b.WriteRune(r)
		case r == '\'' || r == '’':
		default:
			dash = true
		}
	}
	if b.Len() == 0 {
		return "kit"
	}
	return b.String()
}

// calendarFile writes a plan as iCalendar. Before is the version agreed before,
// whose events that are gone are cancelled; nil when there is none.
func calendarFile(p plan.Plan, earlier []plan.Plan, name string, title func(kit.ID) string, now time.Time) ([]byte, error) {
	var b bytes.Buffer
	err := ical.Write(&b, p, ical.Options{Name: name, Title: title, Stamp: now, Step: sheet.StepName, Earlier: earlier})
	return b.Bytes(), err
}

// Today dates what is printed now.
func (w *Workshop) Today() time.Time { return day(w.now()) }
