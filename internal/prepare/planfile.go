package prepare

import (
	"context"
	"encoding/json"
	"fmt"
	"io"

	"bookstead/internal/calendar"
	"bookstead/internal/planfile"
)

// PlanFile reads a planning problem as docs/plan-file.md describes it and writes
// the answer: plans, prices by wish and what could not be met, and, when a day is
// given, its timetable. As JSON, or for people.
func PlanFile(ctx context.Context, w io.Writer, r io.Reader, day calendar.Date, asJSON bool) error {
	f, err := planfile.Read(r)
	if err != nil {
		return err
	}
	a, err := f.Plan(ctx)
	if err != nil {
		return err
	}
	if day != calendar.None {
		if err := f.Timetable(ctx, a, day); err != nil {
			return err
		}
	}
	if !asJSON {
		return f.WriteText(w, a)
	}
	e := json.NewEncoder(w)
	e.SetIndent("", "  ")
	if err := e.Encode(a); err != nil {
		return fmt.Errorf("writing the plan: %w", err)
	}
	return nil
}
