package prepare

import (
	"context"
	"fmt"
	"math"
	"slices"
	"time"

	"bookstead/internal/class"
	"bookstead/internal/fault"
	"bookstead/internal/pace"
	"bookstead/internal/plan"
	"bookstead/internal/planner"
)

// Way is a way to catch up, with what it saves.
type Way = planner.Way

// CatchUp offers ways to gain time in the book that is read.
func (w *Workshop) CatchUp(ctx context.Context, y *Year) ([]Way, error) {
	if y.request == nil {
		return nil, nil
	}
	rate := pace.Of(y.Class, "", pace.SeasonOf(y.Class.Calendar, y.Today))
	return planner.CatchUp(ctx, *y.request, y.result, rate.WPM)
}

// TakeWay takes one of the ways to catch up.
func (w *Workshop) TakeWay(ctx context.Context, id class.ID, seen Revision, kind string) error {
	y, err := w.Year(ctx, id, nil)
	if err != nil {
		return err
	}
	ways, err := w.CatchUp(ctx, y)
	if err != nil {
		return err
	}
	i := slices.IndexFunc(ways, func(x Way) bool { return string(x.Kind) == kind })
	if i < 0 {
		return fault.New(fault.Conflict, "This way is not open any more.", "Load the page again.")
	}
	learned := y.learn()
	return w.wish(ctx, id, seen, "To catch up: "+ways[i].Says, func(p *plan.Wish) error {
		taken := ways[i].Wish
		// What was learned stands in no wish: it is learned anew each time.
		p.Steps = slices.DeleteFunc(slices.Clone(taken.Steps), func(s plan.StepWish) bool { return slices.Contains(learned, s) })
		p.Days, p.Books, p.Pins = taken.Days, taken.Books, taken.Pins
		return nil
	})
}

// changeStep puts a change to a step into a wish, in place of an earlier one; who
// it needs and how it is read stay.
func changeStep(p *plan.Wish, c plan.StepWish) error {
	if c.Minutes < 1 || c.Minutes > 600 {
		return fault.New(fault.Invalid, fmt.Sprintf("A step cannot take %d minutes.", c.Minutes), "Type a number between 1 and 600.")
	}
	same := func(s plan.StepWish) bool { return s.Kit == c.Kit && s.Lesson == c.Lesson && s.Kind == c.Kind }
	if i := slices.IndexFunc(p.Steps, same); i >= 0 {
		c.Mode, c.With = p.Steps[i].Mode, p.Steps[i].With
	}
	p.Steps = append(slices.DeleteFunc(slices.Clone(p.Steps), same), c)
	return nil
}

// learn gives the steps of lessons to come the minutes that steps of their kind
// really take in this class, and says how it came to them. What the teacher set
// for a step stays.
func (y *Year) learn() []plan.StepWish {
	took := map[plan.StepKind][]pace.Took{}
	var kinds []plan.StepKind
	for _, h := range y.Wish.Happened {
		for _, t := range h.Took {
			if !slices.Contains(kinds, t.Kind) {
				kinds = append(kinds, t.Kind)
			}
			took[t.Kind] = append(took[t.Kind], pace.Took{Planned: float64(t.Planned), Took: float64(t.Minutes)})
		}
	}
	var out []plan.StepWish
	y.Learned, y.factors = nil, map[plan.StepKind]float64{}
	for _, kind := range kinds {
		factor, why := pace.Learn(took[kind])
		y.factors[kind] = factor
		y.Learned = append(y.Learned, StepName(plan.Step{Kind: kind})+": "+why)
		for _, b := range y.books {
			for _, l := range b.Lessons {
				for _, s := range slices.Concat(l.Steps, l.After) {
					if m := int(math.Round(float64(s.Minutes) * factor)); s.Kind == kind && m != s.Minutes && m > 0 {
						out = append(out, plan.StepWish{Kit: b.Kit, Lesson: s.Lesson, Kind: kind, Minutes: m})
					}
				}
			}
		}
	}
	return out
}

// Habits are the children's rules on the plan: the reading that must be added to
// keep them, and where they cannot be kept.
func (y *Year) Habits() (added []planner.Added, unkept []planner.Unkept) {
	var readers []planner.Reader
	for _, s := range y.Class.Students {
		r := planner.Reader{ID: s.ID, Name: s.Name, Rules: s.Rules}
		for _, h := range y.Wish.Happened {
			for _, e := range h.Elsewhere {
				if e.Student == s.ID {
					r.Ticks = append(r.Ticks, planner.Tick{Date: h.Date, Habit: e.Habit, Minutes: e.Minutes})
				}
			}
		}
		readers = append(readers, r)
	}
	if !slices.ContainsFunc(readers, func(r planner.Reader) bool { return len(r.Rules) > 0 }) {
		return nil, nil
	}
	return planner.Habits(y.Class.Calendar, y.Plan, readers, time.Weekday(y.Class.Settings.WeekStart))
}
