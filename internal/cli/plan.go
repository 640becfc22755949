package cli

import (
	"bufio"
	"io"

	"bookstead/internal/calendar"
	"bookstead/internal/fault"
	"bookstead/internal/prepare"
)

type planCmd struct {
	File      string `arg:"" help:"The plan file, or - for standard input." default:"-"`
	Timetable string `help:"Lay out this day on the clock, too, as 2026-09-07." placeholder:"DATE"`
	JSON      bool   `help:"Write one JSON object." name:"json"`
}

// Help is shown by "bookstead plan --help".
func (planCmd) Help() string {
	return `Reads a planning problem (school calendar, classes, children, books with their lessons and steps) as JSON and writes the best plan there is for what it asks, the plan's price by wish, and what could not be met. docs/plan-file.md describes the file and the answer.

With --timetable it also writes that day: who does what when, so that you are never needed in two places and no child waits longer than must be.

Example:
  bookstead plan year.json --timetable 2026-09-07`
}

// Run plans.
func (c planCmd) Run(r *runContext) error {
	day := calendar.None
	if c.Timetable != "" {
		var err error
		if day, err = calendar.Parse(c.Timetable); err != nil {
			return err
		}
	}
	var in io.Reader = r.In
	if c.File != "-" {
		f, _, err := openFile(c.File)
		if err != nil {
			return err
		}
		defer f.Close()
		in = f
	}
	out := bufio.NewWriter(r.Out)
	if err := prepare.PlanFile(r.ctx, out, in, day, c.JSON); err != nil {
		return err
	}
	if err := out.Flush(); err != nil {
		return fault.Wrap(fault.Full, err, "The result could not be written.", "Check that the disk has room.")
	}
	return nil
}
