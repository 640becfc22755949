package sheet

import (
	"fmt"
	"strings"
	"time"

	"bookstead/internal/calendar"
	"bookstead/internal/plan"
	"bookstead/internal/print"
)

// StepName is a step in words, on paper and on screen.
func StepName(s plan.Step) string {
	part := ""
	if s.Parts > 1 {
		part = fmt.Sprintf(", part %d of %d", s.Part, s.Parts)
	}
	switch s.Kind {
	case plan.Background:
		return "Background and words"
	case plan.Vocabulary:
		return "Words from the page"
	case plan.Practice:
		return "Words to practice"
	case plan.Reading:
		if s.Pages != "" {
			return "Read " + s.Pages + part
		}
		return "Read" + part
	case plan.Again:
		return "Read it again, silently" + part
	case plan.Questions:
		return "What happened, and why" + part
	case plan.Discussion:
		return "To talk over"
	case plan.Extension:
		return "Further on"
	case plan.Quiz:
		return "Quiz" + covers(s)
	case plan.Review:
		return "Look back" + covers(s)
	case plan.Test:
		return "Test" + covers(s)
	case plan.Corrections:
		return "Go over what was written"
	}
	return string(s.Kind)
}

func covers(s plan.Step) string {
	if s.From == 0 || s.From == s.Lesson {
		return ""
	}
	return fmt.Sprintf(" on lessons %d to %d", s.From, s.Lesson)
}

func longDate(d calendar.Date) string  { return d.Time().Format("2 January 2006") }
func shortDate(d calendar.Date) string { return d.Time().Format("Mon 2 Jan") }

// Weeks are the plan as weekly sheets for the teacher. Title names the book of
// a kit, for plans of several books.
func Weeks(k Kit, p plan.Plan, title func(plan.Step) string) print.Document {
	d := k.document(k.Title+": the plan, week by week", "")
	d.Running.Name, d.Running.Foot = "", ""
	var table *print.Table
	var current calendar.Date
	flush := func() {
		if table != nil {
			d.Blocks = append(d.Blocks, *table)
		}
	}
	for _, n := range p.Notes {
		d.Blocks = append(d.Blocks, print.Paragraph{Text: text(n)})
	}
	weeks := 0
	for _, day := range p.Days {
		if w := day.Date.Week(time.Weekday(k.Class.Settings.WeekStart)); table == nil || w != current {
			flush()
			current = w
			name := "Week of " + longDate(w)
			d.Blocks = append(d.Blocks, print.Heading{Level: 1, Text: text(name), NewPage: weeks%2 == 0 && weeks > 0})
			table = &print.Table{Columns: []print.Column{
				{Head: text("Day"), Share: 3}, {Head: text("Lesson"), Share: 4}, {Head: text("What to do"), Share: 10}, {Head: text("Minutes"), Share: 2, Align: print.Right},
			}}
			weeks++
		}
		table.Rows = append(table.Rows, k.dayRows(day, title)...)
	}
	flush()
	return d
}

// dayRows gives a day a row for each lesson or paper of it: the date stands on
// the first.
func (k Kit) dayRows(day plan.Day, title func(plan.Step) string) []print.Row {
	var rows []print.Row
	var steps []string
	minutes, last := 0, ""
	flush := func() {
		if last == "" {
			return
		}
		date := ""
		if len(rows) == 0 {
			date = shortDate(day.Date)
		}
		rows = append(rows, print.Row{Head: true, Least: print.Millimetres(9), Cells: []print.Cell{
			{Texts: []print.Text{text(date)}}, {Texts: []print.Text{text(last)}}, {Texts: []print.Text{text(strings.Join(steps, "; "))}}, {Texts: []print.Text{text(fmt.Sprint(minutes))}},
		}})
		steps, minutes = nil, 0
	}
	for _, s := range day.Steps {
		name := fmt.Sprintf("Lesson %d", s.Lesson)
		if !s.Kind.OfLesson() {
			name = "Whole book"
		}
		if t := title(s); t != k.Title {
			name = t + ", " + lowerFirst(name)
		}
		if name != last {
			flush()
			last = name
		}
		steps = append(steps, StepName(s))
		minutes += s.Minutes
	}
	flush()
	return rows
}

func lowerFirst(s string) string { return strings.ToLower(s[:1]) + s[1:] }

// Checklist is what an older student can follow alone: a box for each thing to
// do, by day.
func Checklist(k Kit, p plan.Plan, title func(plan.Step) string) print.Document {
	d := k.document(k.Title+": my checklist", "")
	d.Running.Foot = ""
	d.Blocks = append(d.Blocks, print.Heading{Level: 1, Text: text("My checklist"), Subtitle: text(k.Title + ", for " + k.Class.Name)})
	var month time.Month
	for _, day := range p.Days {
		if m := day.Date.Time().Month(); m != month {
			month = m
			d.Blocks = append(d.Blocks, print.Heading{Level: 2, Text: text(day.Date.Time().Format("January 2006"))})
		}
		var items []print.ListItem
		for _, s := range day.Steps {
			items = append(items, print.ListItem{Text: text(childStep(s, title(s)))})
		}
		d.Blocks = append(d.Blocks, print.Group{Blocks: []print.Block{
			print.Heading{Level: 3, Text: text(day.Date.Time().Format("Monday 2 January"))}, print.List{Items: items, Boxes: true},
		}})
	}
	return d
}

// childStep tells a student what to do.
func childStep(s plan.Step, title string) string {
	lesson := fmt.Sprintf("lesson %d", s.Lesson)
	switch s.Kind {
	case plan.Background, plan.Vocabulary, plan.Practice:
		return "Look at the words of " + lesson + "."
	case plan.Reading:
		if s.Pages != "" {
			return fmt.Sprintf("Read %s, %s.", title, s.Pages)
		}
		return fmt.Sprintf("Read the passage of %s in %s.", lesson, title)
	case plan.Questions:
		return "Answer the questions of " + lesson + "."
	case plan.Discussion:
		return "Think about what to say when we talk over " + lesson + "."
	case plan.Extension:
		return "Do the task at the end of " + lesson + "."
	case plan.Quiz:
		return "Learn for the quiz" + covers(s) + ", then write it."
	case plan.Review:
		return "Look back over " + strings.TrimPrefix(covers(s), " on ") + "."
	case plan.Test:
		return "Write the test" + covers(s) + "."
	case plan.Corrections:
		return "Go over what you wrote, and mend it."
	}
	return StepName(s)
}
