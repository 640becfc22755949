package prepare

import (
	"cmp"
	"context"
	"fmt"
	"runtime"
	"sync"
	"sync/atomic"

	"bookstead/internal/kit"
	"bookstead/internal/lead"
	"bookstead/internal/lexicon"
	"bookstead/internal/print"
	"bookstead/internal/print/sheet"
)

// Notes says how to teach a lesson (from 1), from its own items.
func (p *Prepared) Notes(ctx context.Context, lesson int) (lead.Notes, error) {
	return p.notes(ctx, p.Lessons[lesson-1])
}

func (p *Prepared) notes(ctx context.Context, l kit.Prepared) (lead.Notes, error) {
	j, err := judge()
	if err != nil {
		return lead.Notes{}, err
	}
	lex, err := lexicon.Open()
	if err != nil {
		return lead.Notes{}, fmt.Errorf("opening the word data: %w", err)
	}
	return lead.For(ctx, lead.Input{Lesson: l, Doc: p.Doc, Judge: j, Grade: p.Class.Grade, Hold: p.Hold(),
		Keep: func(s string) bool { return lex.Warning(s) != "" }})
}

// teachingNotes is the half page of each lesson.
func (p *Prepared) teachingNotes(ctx context.Context, k sheet.Kit) (print.Document, error) {
	all := make([]lead.Notes, len(k.Lessons))
	errs := make([]error, len(k.Lessons))
	var wg sync.WaitGroup
	var next atomic.Int64
	for range runtime.GOMAXPROCS(0) {
		wg.Go(func() {
			for i := int(next.Add(1)) - 1; i < len(all); i = int(next.Add(1)) - 1 {
				if errs[i] = ctx.Err(); errs[i] == nil {
					all[i], errs[i] = p.notes(ctx, k.Lessons[i])
				}
			}
		})
	}
	wg.Wait()
	if err := cmp.Or(errs...); err != nil {
		return print.Document{}, err
	}
	return sheet.TeachingNotes(k, all), nil
}

// levelled are the lessons at a level; with support, each question has the
// beginning of its answer.
func (p *Prepared) levelled(ctx context.Context, k sheet.Kit, level lead.Level) (print.Document, error) {
	lessons := make([]kit.Prepared, len(k.Lessons))
	for i, l := range k.Lessons {
		lessons[i] = level.At(l, p.Hold())
		if level != lead.Support {
			continue
		}
		n, err := p.notes(ctx, lessons[i])
		if err != nil {
			return print.Document{}, err
		}
		if k.Starters == nil {
			k.Starters = map[kit.ItemID]string{}
		}
		for _, a := range n.Answers {
			k.Starters[a.ID] = a.Starter
		}
	}
	k.Lessons = lessons
	return sheet.Lessons(k), nil
}
