package web

import (
	"context"
	"fmt"
	"net/http"
	"slices"

	"bookstead/internal/calendar"
	"bookstead/internal/prepare"
)

// timetablePage is a day of all classes on the clock: a row for each time at
// which something begins or ends, a column for each track.
type timetablePage struct {
	page
	Date          calendar.Date
	Day           string
	Before, After calendar.Date
	Tracks        []string
	Rows          []timeRow
	Blocks        []prepare.TableBlock
	Ends          calendar.Clock
	Classes       []prepare.TableClass
	Notes         []string
	Without       []string
}

type timeRow struct {
	At    calendar.Clock
	Cells []timeCell
}

// timeCell is a block over Rows rows, or time without work.
type timeCell struct {
	prepare.TableBlock
	Rows int
	Free bool
}

// timetable shows a day of all classes, through a job when a book must first be
// read.
func (s *Server) timetable(w http.ResponseWriter, r *http.Request) error {
	date := calendar.FromTime(s.shop.Now())
	if r.URL.Path != "/today" {
		var err error
		if date, err = dateParam(r); err != nil {
			return err
		}
	}
	if !s.shop.DaysReady(r.Context()) {
		to := r.URL.RequestURI()
		jb := s.jobs.start("Planning the day", func(ctx context.Context, p prepare.Progress) (string, error) {
			_, err := s.shop.DayTable(ctx, date, p)
			return to, err
		})
		return s.follow(w, r, jb)
	}
	t, err := s.shop.DayTable(r.Context(), date, nil)
	if err != nil {
		return err
	}
	p := timetablePage{page: page{Title: "Timetable"}, Date: date, Day: date.Time().Format("Monday 2 January 2006"), Before: date - 1, After: date + 1,
		Tracks: t.Tracks, Blocks: t.Blocks, Ends: t.Result.Ends, Classes: t.Classes, Notes: t.Result.Notes, Without: t.Without}
	p.Rows = timeRows(t)
	return render(w, http.StatusOK, "timetable", p)
}

// timeRows makes the rows of the table.
func timeRows(t *prepare.DayTable) []timeRow {
	var times []calendar.Clock
	for _, b := range t.Blocks {
		times = append(times, b.From, b.To)
	}
	slices.Sort(times)
	times = slices.Compact(times)
	if len(times) == 0 {
		return nil
	}
	rows := make([]timeRow, len(times)-1)
	for i := range rows {
		rows[i].At = times[i]
	}
	for k := range t.Tracks {
		for i := 0; i < len(rows); {
			c := timeCell{Free: true}
			end := calendar.Clock(0)
			for _, b := range t.Blocks {
				if !slices.Contains(b.Tracks, k) {
					continue
				}
				if b.From == times[i] {
					c, end = timeCell{TableBlock: b}, b.To
					break
				}
				if b.From > times[i] && (end == 0 || b.From < end) {
					end = b.From // free until then
				}
			}
			n := 1
			for i+n < len(rows) && (end == 0 || times[i+n] < end) {
				n++
			}
			c.Rows = n
			rows[i].Cells = append(rows[i].Cells, c)
			i += n
		}
	}
	return rows
}

func (s *Server) holdBlock(w http.ResponseWriter, r *http.Request) error {
	date, err := dateParam(r)
	if err != nil {
		return err
	}
	if r.FormValue("free") != "" {
		err = s.shop.FreeBlock(r.Context(), date, r.FormValue("block"))
	} else {
		var at calendar.Clock
		if at, err = calendar.ParseClock(r.FormValue("at")); err == nil {
			err = s.shop.HoldBlock(r.Context(), date, r.FormValue("block"), at)
		}
	}
	if err != nil {
		return err
	}
	return see(w, r, fmt.Sprintf("/days/%s", date))
}
