package prepare

import (
	"bytes"
	"context"
	"fmt"

	"bookstead/internal/calendar"
	"bookstead/internal/class"
	"bookstead/internal/demo"
)

// LayOutDemo puts the invented classes and their books into an empty library,
// each book prepared for its class. A library that holds anything is left alone.
func (w *Workshop) LayOutDemo(ctx context.Context) error {
	shelf, err := w.Shelf(ctx)
	if err != nil {
		return err
	}
	if len(shelf.Books)+len(shelf.Classes)+len(shelf.Kits) > 0 {
		return nil
	}
	for _, d := range []struct {
		file  string
		text  []byte
		class demo.Class
	}{
		{demo.NovelFile, demo.Novel(), demo.Grade4()},
		{demo.ReaderFile, demo.Reader(), demo.Grade1()},
	} {
		c, err := demoClass(d.class)
		if err != nil {
			return err
		}
		if c, err = w.NewClass(ctx, c); err != nil {
			return err
		}
		b, err := w.ImportBook(ctx, d.file, bytes.NewReader(d.text), int64(len(d.text)), nil)
		if err != nil {
			return err
		}
		if _, err := w.NewKit(ctx, b.ID, c.ID); err != nil {
			return err
		}
	}
	return nil
}

func demoClass(d demo.Class) (class.Class, error) {
	c := class.Class{Name: d.Name, School: demo.School, Teacher: d.Teacher, Grade: d.Grade, Copies: d.Copies, Settings: class.Defaults(d.Grade)}
	c.Settings.Minutes = d.Minutes
	for _, s := range d.Students {
		c.Students = append(c.Students, class.Student{Name: s.Name, WCPM: s.WCPM, Note: s.Note})
	}
	y := demo.SchoolYear()
	var err error
	date := func(s string) calendar.Date {
		v, e := calendar.Parse(s)
		if e != nil && err == nil {
			err = fmt.Errorf("reading the invented school year: %w", e)
		}
		return v
	}
	c.Calendar = calendar.PlainYear(date(y.First), d.Minutes)
	c.Calendar.Last, c.Calendar.Plain = date(y.Last), false
	for _, t := range y.Terms {
		c.Calendar.Terms = append(c.Calendar.Terms, calendar.Range{Name: t.Name, First: date(t.First), Last: date(t.Last)})
	}
	for _, o := range y.DaysOff {
		c.Calendar.DaysOff = append(c.Calendar.DaysOff, calendar.Range{Name: o.Name, First: date(o.First), Last: date(o.Last)})
	}
	for _, h := range y.HalfDays {
		c.Calendar.Special = append(c.Calendar.Special, calendar.Special{Name: h.Name, Date: date(h.Date), Minutes: h.Minutes})
	}
	return c, err
}
