package prepare

import (
	"context"
	"fmt"

	"bookstead/internal/book"
	"bookstead/internal/calendar"
	"bookstead/internal/class"
	"bookstead/internal/divide"
	"bookstead/internal/kit"
	"bookstead/internal/lang"
	"bookstead/internal/lang/english"
	"bookstead/internal/lexicon"
	"bookstead/internal/passage"
	"bookstead/internal/phonics"
	"bookstead/internal/planner"
	"bookstead/internal/shelf"
)

// factsKey names all that the facts of a book for a class are computed from.
type factsKey struct {
	text  string
	class class.ID
	head  Revision
	day   calendar.Date
}

// SightKinds are the kinds of sentences that a teacher may want to see first.
var SightKinds = [...]struct {
	Kind shelf.SightKind
	Name string
}{{shelf.Term, "Dated or offensive terms"}, {shelf.Death, "Death"}, {shelf.Cruelty, "Cruelty"}}

// Candidate is a book with its facts for a class.
type Candidate struct {
	*BookFacts
	// Opened is true when the class has the book already.
	Opened bool
}

// Candidates are the facts of all books of the library for a class, with those
// that are not measured yet left out when only known ones are asked for.
// Measuring takes about a second for a novel; it is kept while the program runs.
func (w *Workshop) Candidates(ctx context.Context, id class.ID, known bool, progress Progress) (out []Candidate, missing int, err error) {
	c, err := w.store.Classes().Get(ctx, id)
	if err != nil {
		return nil, 0, err
	}
	list, err := w.store.Books().List(ctx)
	if err != nil {
		return nil, 0, err
	}
	kits, err := w.classKits(ctx, id)
	if err != nil {
		return nil, 0, err
	}
	opened := map[book.ID]bool{}
	for _, k := range kits {
		opened[k.Book] = true
	}
	for i, s := range list {
		progress.at(StageRead, float64(i)/float64(len(list)))
		f, err := w.facts(ctx, s.ID, c, known)
		if err != nil {
			return nil, 0, err
		}
		if f == nil {
			missing++
			continue
		}
		out = append(out, Candidate{BookFacts: f.facts, Opened: opened[s.ID]})
	}
	return out, missing, nil
}

// measured are the facts of a book, and its work in the class's usual minutes.
type measured struct {
	facts *BookFacts
	work  planner.Book
}

// facts measures a book, or returns nil when only known facts are asked for and
// these are not.
func (w *Workshop) facts(ctx context.Context, id book.ID, c ClassState, known bool) (*measured, error) {
	b, err := w.store.Books().Get(ctx, id)
	if err != nil {
		return nil, err
	}
	key := factsKey{textKey(b), c.ID, c.Head, calendar.FromTime(w.now())}
	w.mu.Lock()
	m, ok := w.measured.get(key)
	w.mu.Unlock()
	if ok || known {
		return m, nil
	}
	if m, err = measure(ctx, b, c.Class, key.day); err != nil {
		return nil, err
	}
	w.mu.Lock()
	w.measured.put(key, m)
	w.mu.Unlock()
	return m, nil
}

func measure(ctx context.Context, b *book.Book, c class.Class, day calendar.Date) (*measured, error) {
	lex, err := lexicon.Open()
	if err != nil {
		return nil, fmt.Errorf("opening the word data: %w", err)
	}
	d, err := skim(ctx, b)
	if err != nil {
		return nil, err
	}
	o := shelf.Options{Step: c.Step("", day)}
	if o.Step > 0 {
		if o.Sequence, err = Steps(c); err != nil {
			return nil, err
		}
		if o.Speaker, err = phonics.NewSpeaker(lex); err != nil {
			return nil, err
		}
	}
	f, err := shelf.Measure(ctx, lex, b, d, c, o)
	if err != nil {
		return nil, err
	}
	id := kit.ID("candidate " + b.ID)
	lessons, _, err := divide.Divide(b, divide.For(c, kit.Kit{ID: id}))
	if err != nil {
		return nil, err
	}
	prepared := make([]kit.Prepared, len(lessons))
	for i, l := range lessons {
		prepared[i].Lesson = l
	}
	return &measured{f, planner.NewBook(b, id, c, prepared, planner.Options{})}, nil
}

// skim reads a book as far as choosing it needs: tokens, sentences, tags and
// lemmas, by rule and table.
func skim(ctx context.Context, b *book.Book) (*lang.Doc, error) {
	return english.Annotate(ctx, b.Text, passage.Paragraphs(b), english.Options{})
}

// WhereItFits plans the class's year with a book behind those that it has.
func (w *Workshop) WhereItFits(ctx context.Context, id class.ID, candidate book.ID) (Stay, error) {
	y, err := w.Year(ctx, id, nil)
	if err != nil {
		return Stay{}, err
	}
	c, err := w.store.Classes().Get(ctx, id)
	if err != nil {
		return Stay{}, err
	}
	m, err := w.facts(ctx, candidate, c, false)
	if err != nil {
		return Stay{}, err
	}
	r := planner.Request{Class: id, Calendar: y.Class.Calendar, Wish: y.Wish.Wish, From: y.Today}
	if y.request != nil {
		r = *y.request
	}
	return shelf.Fits(ctx, r, m.work)
}

// SortBooks orders candidates by a column.
func SortBooks(list []Candidate, key string, down bool) ([]Candidate, error) {
	return onFacts(list, func(facts []*BookFacts) ([]*BookFacts, error) { return facts, shelf.Sort(facts, key, down) })
}

// FilterBooks keeps the candidates whose title or author holds the words and
// whose column lies between two bounds; no column for all.
func FilterBooks(list []Candidate, words, key string, least, most float64) ([]Candidate, error) {
	var bounds []shelf.Bound
	if key != "" {
		bounds = []shelf.Bound{{Key: key, Least: least, Most: most}}
	}
	return onFacts(list, func(facts []*BookFacts) ([]*BookFacts, error) { return shelf.Filter(facts, words, bounds) })
}

// onFacts does to candidates what is done to their facts.
func onFacts(list []Candidate, do func([]*BookFacts) ([]*BookFacts, error)) ([]Candidate, error) {
	facts := make([]*BookFacts, len(list))
	by := map[book.ID]Candidate{}
	for i, c := range list {
		facts[i], by[c.Book] = c.BookFacts, c
	}
	facts, err := do(facts)
	if err != nil {
		return nil, err
	}
	out := make([]Candidate, len(facts))
	for i, f := range facts {
		out[i] = by[f.Book]
	}
	return out, nil
}

// FactColumns are what books can be compared by.
func FactColumns() []FactColumn { return shelf.Columns() }

// Candidate measures one book for a class.
func (w *Workshop) Candidate(ctx context.Context, id class.ID, b book.ID) (Candidate, error) {
	c, err := w.store.Classes().Get(ctx, id)
	if err != nil {
		return Candidate{}, err
	}
	m, err := w.facts(ctx, b, c, false)
	if err != nil {
		return Candidate{}, err
	}
	return Candidate{BookFacts: m.facts}, nil
}
