package planner

import (
	"math"

	"bookstead/internal/plan"
)

// Weights are the prices of what a teacher would rather not have, in points.
// Minutes and days are counted as they stand, so every price is linear.
type Weights struct {
	// Day is the price of each school day on which work that could be done is
	// still open: it ends a year early rather than late.
	Day int `json:"day"`
	// A lesson that goes on on another day, by where it breaks off: between two
	// of its steps; inside its reading at a scene break, or at any other
	// paragraph; inside another step.
	CutStep      int `json:"cutStep"`
	CutScene     int `json:"cutScene"`
	CutParagraph int `json:"cutParagraph"`
	CutPiece     int `json:"cutPiece"`
	// Weekend and Break come on top when a weekend or days off lie between.
	Weekend int `json:"weekend"`
	Break   int `json:"break"`
	// Test and Quiz are the prices of one on the first day after days off or
	// the last day before.
	Test int `json:"test"`
	Quiz int `json:"quiz"`
	// Thin is the price of a minute that a day with work stays under three
	// quarters of its time, and again of a minute under a half. The last day of
	// all is free of it.
	Thin int `json:"thin"`
	// Light is the price of a minute above three quarters on the days that
	// should be lighter, LightDays by weekday, Sunday first.
	Light     int     `json:"light"`
	LightDays [7]bool `json:"lightDays"`
	// Short is the price of a minute by which discussions of a day are
	// shortened, at most by half, to make it fit.
	Short int `json:"short"`
	// Reserve is the price of a minute by which the work is more than a day
	// ahead of or behind an even course, for each day; without a reserve or
	// spread wished it has no effect.
	Reserve int `json:"reserve"`
	// Moved is the price of a school day by which a lesson, quiz or test lies
	// off the day agreed before; Announced, instead, of a test.
	Moved     int `json:"moved"`
	Announced int `json:"announced"`
}

// Usual are the prices that stand until a teacher changes them (our choice; in
// docs/planning.md with what they mean).
func Usual() Weights {
	return Weights{
		Day: 60, CutStep: 25, CutScene: 30, CutParagraph: 45, CutPiece: 60, Weekend: 15, Break: 40,
		Test: 150, Quiz: 30, Thin: 1, Light: 1, LightDays: [7]bool{5: true}, Short: 2, Reserve: 1, Moved: 10, Announced: 100,
	}
}

// care multiplies the prices by what the teacher cares about.
func (w Weights) care(c map[plan.Concern]float64) Weights {
	times := func(k plan.Concern, prices ...*int) {
		f, ok := c[k]
		if !ok {
			return
		}
		for _, p := range prices {
			*p = int(math.Round(float64(*p) * min(plan.MostCare, max(0, f))))
		}
	}
	times(plan.Soon, &w.Day)
	times(plan.Whole, &w.CutStep, &w.CutScene, &w.CutParagraph, &w.CutPiece)
	times(plan.Weekends, &w.Weekend, &w.Break)
	times(plan.TestDays, &w.Test, &w.Quiz)
	times(plan.EvenDays, &w.Thin)
	times(plan.LightDays, &w.Light)
	times(plan.TalkLong, &w.Short)
	times(plan.EvenYear, &w.Reserve)
	times(plan.Stay, &w.Moved, &w.Announced)
	return w
}

// Cost is the price of a plan or a day, by wish, in points.
type Cost struct {
	// Late counts the school days behind an end date or a moved day, once for
	// each book or pin: never traded for points.
	Late int `json:"late"`

	Days     int `json:"days"`
	Cuts     int `json:"cuts"`
	Weekends int `json:"weekends"` // lessons open over a weekend or days off
	Tests    int `json:"tests"`
	Thin     int `json:"thin"`
	Light    int `json:"light"`
	Short    int `json:"short"`
	Reserve  int `json:"reserve"`
	Moved    int `json:"moved"`
}

// Points is the sum of all wishes; Late is not among them.
func (c Cost) Points() int {
	return c.Days + c.Cuts + c.Weekends + c.Tests + c.Thin + c.Light + c.Short + c.Reserve + c.Moved
}

func (c *Cost) add(o Cost) {
	c.Late += o.Late
	c.Days += o.Days
	c.Cuts += o.Cuts
	c.Weekends += o.Weekends
	c.Tests += o.Tests
	c.Thin += o.Thin
	c.Light += o.Light
	c.Short += o.Short
	c.Reserve += o.Reserve
	c.Moved += o.Moved
}
