package prepare

import (
	"cmp"
	"context"
	"fmt"
	"maps"
	"slices"
	"sync"

	"bookstead/internal/assess"
	"bookstead/internal/book"
	"bookstead/internal/calendar"
	"bookstead/internal/class"
	"bookstead/internal/divide"
	"bookstead/internal/kit"
	"bookstead/internal/lang"
	"bookstead/internal/lang/english"
	"bookstead/internal/lexicon"
	"bookstead/internal/passage"
	"bookstead/internal/preference"
	"bookstead/internal/question"
	"bookstead/internal/vocabulary"
)

// Progress hears how far a stage of long work is, 0 to 1. It may be nil.
type Progress func(stage string, done float64)

func (p Progress) at(stage string, done float64) {
	if p != nil {
		p(stage, done)
	}
}

// bytes is the progress as an annotator tells it.
func (p Progress) bytes(stage string) func(done, total int) {
	return func(done, total int) {
		if total > 0 {
			p.at(stage, float64(done)/float64(total))
		}
	}
}

// Stage names, in order, as Progress uses them.
const (
	StageImport = "import"
	StageRead   = "read"
	StageDivide = "divide"
	StageDraft  = "draft"
	StagePrint  = "print"
	StagePlan   = "plan"
)

// Prepared is a kit with everything that is derived from it: the analysis, the
// lessons and their items. It is computed by [Prepare], never stored, and must
// not be changed.
type Prepared struct {
	Book    *book.Book
	Class   class.Class
	Kit     kit.Kit
	Doc     *lang.Doc
	Lessons []kit.Prepared
	// Pages of the class's own copy; nil when none are known.
	Pages *book.Pages
	// Lost are decisions whose place is not in this text any more; they are
	// kept and shown, never thrown away.
	Lost []kit.Decision
	// Division explains the lessons in a sentence or two.
	Division string
	// day is the day for which it was prepared.
	day calendar.Date

	learned preference.Learned
	papers  func() (quizzes [][]assess.Paper, test []assess.Paper) // made when first asked for
}

// Analyze reads a book. The result depends on the text alone, so it can be
// kept for as long as the text stands.
func Analyze(ctx context.Context, b *book.Book, progress Progress) (*lang.Doc, error) {
	d, err := english.Cut(ctx, b.Text, passage.Paragraphs(b), english.Options{})
	if err != nil {
		return nil, err
	}
	return d, english.Understand(ctx, d, english.Options{Progress: progress.bytes(StageRead)})
}

// Prepare divides the book, drafts every lesson and lays the teacher's
// decisions over the drafts, for a class as it will stand in the end.
func Prepare(ctx context.Context, b *book.Book, c class.Class, k kit.Kit, doc *lang.Doc, progress Progress) (*Prepared, error) {
	return PrepareOn(ctx, b, c, k, doc, class.Latest, progress)
}

// PrepareOn is [Prepare] for a class as it stands on a day: which spellings it has
// been taught by then.
func PrepareOn(ctx context.Context, b *book.Book, c class.Class, k kit.Kit, doc *lang.Doc, day calendar.Date, progress Progress) (*Prepared, error) {
	d, err := draftKit(ctx, b, c, k, doc, day, progress)
	if err != nil {
		return nil, err
	}
	return d.lay(b, c, k, doc, day), nil
}

// drafted is what the program makes of a book for a class: all that does not
// depend on the teacher's decisions on single items.
type drafted struct {
	lessons  []kit.Lesson
	division string
	drafts   [][]kit.Draft // by lesson
}

func draftKit(ctx context.Context, b *book.Book, c class.Class, k kit.Kit, doc *lang.Doc, day calendar.Date, progress Progress) (*drafted, error) {
	progress.at(StageDivide, 0)
	lessons, why, err := divide.Divide(b, divide.For(c, k))
	if err != nil {
		return nil, err
	}
	drafts, err := draft(ctx, b, c, k, doc, lessons, day, progress)
	return &drafted{lessons, why.String(), drafts}, err
}

// lay lays the teacher's decisions over the drafts.
func (d *drafted) lay(b *book.Book, c class.Class, k kit.Kit, doc *lang.Doc, day calendar.Date) *Prepared {
	p := &Prepared{Book: b, Class: c, Kit: k, Doc: doc, Pages: k.Edition.Pages(b), Division: d.division, day: day}
	decided, lost := place(b, k.Decisions, d.lessons)
	p.Lost = lost
	if !c.Settings.PlainDrafts {
		p.learned = preference.Learn(k.Decisions)
	}
	for i, l := range d.lessons {
		drafts := d.drafts[i]
		if len(decided[i]) == 0 { // what a teacher has begun to decide on stays as it is
			drafts = p.learned.Prefer(drafts)
		}
		p.Lessons = append(p.Lessons, kit.Prepared{Lesson: l, Items: kit.Merge(drafts, decided[i]), Pages: PagesOf(p.Pages, l.Span)})
	}
	p.markDefaults()
	p.papers = sync.OnceValues(p.makePapers)
	return p
}

func draft(ctx context.Context, b *book.Book, c class.Class, k kit.Kit, doc *lang.Doc, lessons []kit.Lesson, day calendar.Date, progress Progress) ([][]kit.Draft, error) {
	lex, err := lexicon.Open()
	if err != nil {
		return nil, fmt.Errorf("opening the word data: %w", err)
	}
	passages := passage.Split(b, doc, lessons, c.Grade)
	progress.at(StageDraft, 0)
	wanted, err := vocabularyOptions(c, k, day)
	if err != nil {
		return nil, err
	}
	// Words and questions do not look at one another.
	var asked [][]kit.Draft
	var askErr error
	var wg sync.WaitGroup
	wg.Go(func() {
		asked, askErr = question.Draft(ctx, lex, passages, question.Options{Questions: c.Settings.Questions, Quotations: c.Settings.Quotations})
	})
	drafts, err := vocabulary.Draft(ctx, lex, passages, wanted)
	wg.Wait()
	if err = cmp.Or(err, askErr); err != nil {
		return nil, err
	}
	for i := range drafts {
		drafts[i] = append(drafts[i], asked[i]...)
	}
	progress.at(StageDraft, 1)
	return drafts, nil
}

// place finds each decision's place in the text and gives it to the lesson that
// holds its start. An added item without a quote stands where it was put.
func place(b *book.Book, decisions []kit.Decision, lessons []kit.Lesson) (by [][]kit.Decision, lost []kit.Decision) {
	by = make([][]kit.Decision, len(lessons))
	for _, d := range decisions {
		s, ok := b.Find(d.Place)
		if !ok {
			lost = append(lost, d)
			continue
		}
		d.Place = b.Place(s)
		i := slices.IndexFunc(lessons, func(l kit.Lesson) bool { return l.Start <= s.Start && s.Start < l.End })
		if i < 0 {
			lost = append(lost, d)
			continue
		}
		by[i] = append(by[i], d)
	}
	return by, lost
}

// markDefaults proposes which drafts come up in quizzes and the test, when the
// class has them: as many as fit their time. What the teacher decided keeps its
// own marks.
func (p *Prepared) markDefaults() {
	s := p.Class.Settings
	lessons := p.assessed()
	quiz, test := map[kit.ItemID]bool{}, map[kit.ItemID]bool{}
	if s.Quizzes {
		for _, x := range p.spans() {
			maps.Copy(quiz, assess.Propose(assess.Quiz, s.QuizMinutes, lessons[x.First-1:x.Last]))
		}
	}
	if s.Tests && len(lessons) > 0 {
		test = assess.Propose(assess.Test, s.TestMinutes, lessons)
	}
	for i := range p.Lessons {
		for j := range p.Lessons[i].Items {
			if it := &p.Lessons[i].Items[j]; it.State == kit.Drafted && !it.Spare {
				it.Marks = kit.Marks{Quiz: quiz[it.ID], Test: test[it.ID]}
			}
		}
	}
}

// Learned says in sentences what the teacher's decisions have changed in the
// drafts of lessons not begun; nothing when they have changed nothing. The class
// setting PlainDrafts turns it off.
func (p *Prepared) Learned() []string { return p.learned.Say() }

// Hold reports whether undecided drafts stay off the paper.
func (p *Prepared) Hold() bool { return p.Class.Settings.HoldDrafts }

// Quoted is the share of the book's words, in percent, that the pages print as
// quotations from it.
func (p *Prepared) Quoted() float64 {
	total := 0
	var spans []book.Span
	for _, l := range p.Lessons {
		total += l.Words
		for _, it := range l.Items {
			if !it.Printed(p.Hold()) || it.Content.Sentence == "" {
				continue
			}
			if s := p.Doc.SentenceAt(it.Place.Start); s >= 0 {
				sp := p.Doc.SentenceSpan(s)
				spans = append(spans, book.Span{Start: sp.Start, End: max(sp.End, it.Place.End)})
			}
		}
	}
	if total == 0 {
		return 0
	}
	slices.SortFunc(spans, func(a, b book.Span) int { return a.Start - b.Start })
	words, end := 0, 0
	for _, s := range spans {
		s.Start = max(s.Start, end)
		if s.Start < s.End {
			words += book.Words(p.Book.Slice(s))
			end = s.End
		}
	}
	return 100 * float64(words) / float64(total)
}
