package prepare

import (
	"bytes"
	"context"
	"fmt"
	"slices"

	"bookstead/internal/calendar"
	"bookstead/internal/class"
	"bookstead/internal/export/csv"
	"bookstead/internal/kit"
	"bookstead/internal/materials"
	"bookstead/internal/plan"
	"bookstead/internal/print/sheet"
)

// Materials are what a class's year needs to be bought, with what was said of it.
type Materials struct {
	*Year
	List *MaterialsList
}

// Materials works out what to buy. The list is for all the teacher's classes
// together, since one class can use the copies that another has read.
func (w *Workshop) Materials(ctx context.Context, id class.ID, progress Progress) (*Materials, error) {
	classes, err := w.store.Classes().List(ctx)
	if err != nil {
		return nil, err
	}
	out := &Materials{}
	var r materials.Request
	for _, c := range classes {
		y, err := w.Year(ctx, c.ID, progress)
		if err != nil {
			return nil, err
		}
		if c.ID == id {
			out.Year = y
		}
		m := y.Wish.Materials
		r.Owned, r.Offers = append(r.Owned, m.Owned...), append(r.Offers, m.Offers...)
		for _, s := range m.Sources {
			if !slices.ContainsFunc(r.Sources, func(x plan.Source) bool { return x.Name == s.Name }) {
				r.Sources = append(r.Sources, s)
			}
		}
		if m.Paper != (plan.Paper{}) {
			r.Paper = m.Paper
		}
		for _, b := range y.Books {
			first, last := readFrom(y, b.Kit)
			if !b.In || len(c.Students) == 0 || first == calendar.None {
				continue
			}
			r.Uses = append(r.Uses, use(y, b, first, last))
			pages, err := w.pageCount(ctx, b.Kit)
			if err != nil {
				return nil, err
			}
			r.Printing = append(r.Printing, materials.Printing{What: "Student pages of " + b.Title, Class: c.Name, Pages: pages, Copies: len(c.Students) + 1, TwoSided: m.TwoSided})
		}
	}
	if out.Year == nil {
		if out.Year, err = w.Year(ctx, id, progress); err != nil { // says that there is none
			return nil, err
		}
	}
	out.List, err = materials.Plan(r)
	return out, err
}

// use is a class's reading of a novel; a class that never said how it has its
// novels shares what there is when there are fewer copies than children.
func use(y *Year, b YearBook, first, last calendar.Date) materials.Use {
	n := novelWish(y, b.Kit)
	u := materials.Use{Book: b.Title, Class: y.Class.Name, Policy: n.Policy, PerCopy: n.PerCopy, Marked: n.Marked, First: first, Last: last}
	for _, s := range y.Class.Students {
		child := materials.Child{Name: s.Name}
		for _, f := range y.Wish.Materials.Families {
			if slices.Contains(f, s.Name) {
				child.Family = f[0]
			}
		}
		u.Children = append(u.Children, child)
	}
	return u
}

// NovelWish is how the class wants a novel: as it said, else one each.
func (y *Year) NovelWish(id kit.ID) plan.NovelWish { return novelWish(y, id) }

func novelWish(y *Year, id kit.ID) plan.NovelWish {
	for _, n := range y.Wish.Materials.Novels {
		if n.Kit == id {
			return n
		}
	}
	return plan.NovelWish{Kit: id, Policy: plan.OneEach}
}

func readFrom(y *Year, id kit.ID) (first, last calendar.Date) {
	for _, d := range y.Plan.Days {
		if slices.ContainsFunc(d.Steps, func(s plan.Step) bool { return s.Kit == id }) {
			if last = d.Date; first == calendar.None {
				first = d.Date
			}
		}
	}
	return first, last
}

// pageCount is how many student pages a kit has.
func (w *Workshop) pageCount(ctx context.Context, id kit.ID) (int, error) {
	x, err := w.bookWork(ctx, id, nil)
	if err != nil || x.pages > 0 {
		return x.pages, err
	}
	o, err := w.Open(ctx, id, nil)
	if err != nil {
		return 0, err
	}
	_, n, err := o.Set(ctx, StudentPages, Range{}, w.Today())
	if err != nil {
		return 0, err
	}
	w.mu.Lock()
	x.pages = n
	w.mu.Unlock()
	return n, nil
}

// SetMaterials keeps what a class wants and has of novels, offers and paper.
func (w *Workshop) SetMaterials(ctx context.Context, id class.ID, seen Revision, m plan.Materials) error {
	return w.wish(ctx, id, seen, "Changed what there is of novels and paper", func(p *plan.Wish) error {
		p.Materials = m
		return nil
	})
}

// ShoppingFile is the list of what to buy as a table (CSV).
func (w *Workshop) ShoppingFile(ctx context.Context, id class.ID) ([]byte, error) {
	m, err := w.Materials(ctx, id, nil)
	if err != nil {
		return nil, err
	}
	var b bytes.Buffer
	if err := csv.Shopping(&b, m.List); err != nil {
		return nil, fmt.Errorf("writing the list: %w", err)
	}
	return b.Bytes(), nil
}

// shoppingPaper is the list of what to buy, as a PDF.
func (w *Workshop) shoppingPaper(ctx context.Context, y *Year) ([]byte, error) {
	m, err := w.Materials(ctx, y.Class.ID, nil)
	if err != nil {
		return nil, err
	}
	return setPlain(ctx, sheet.Shopping(sheet.Kit{Title: y.Class.Name, Class: y.Class, Date: w.Today()}, *m.List), ShoppingPaper, y.Class)
}
