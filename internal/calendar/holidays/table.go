package holidays

import (
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"regexp"
	"strconv"
	"strings"
	"time"

	"bookstead/internal/calendar"
	"bookstead/internal/fault"
)

// columns say what the fields of a table are; -1 for one that it does not have.
type columns struct{ from, to, name, minutes int }

// headers are the words by which a table may name its columns.
var headers = [...]struct {
	word  string
	field func(*columns) *int
}{
	{"date", func(c *columns) *int { return &c.from }}, {"from", func(c *columns) *int { return &c.from }},
	{"start", func(c *columns) *int { return &c.from }}, {"start date", func(c *columns) *int { return &c.from }},
	{"first", func(c *columns) *int { return &c.from }}, {"first day", func(c *columns) *int { return &c.from }},
	{"day", func(c *columns) *int { return &c.from }}, {"begins", func(c *columns) *int { return &c.from }},
	{"to", func(c *columns) *int { return &c.to }}, {"end", func(c *columns) *int { return &c.to }},
	{"end date", func(c *columns) *int { return &c.to }}, {"last", func(c *columns) *int { return &c.to }},
	{"last day", func(c *columns) *int { return &c.to }}, {"until", func(c *columns) *int { return &c.to }}, {"ends", func(c *columns) *int { return &c.to }},
	{"name", func(c *columns) *int { return &c.name }}, {"holiday", func(c *columns) *int { return &c.name }},
	{"title", func(c *columns) *int { return &c.name }}, {"subject", func(c *columns) *int { return &c.name }}, {"event", func(c *columns) *int { return &c.name }},
	{"description", func(c *columns) *int { return &c.name }}, {"summary", func(c *columns) *int { return &c.name }},
	{"minutes", func(c *columns) *int { return &c.minutes }},
}

// readTable reads a date, or a first and a last one, with a name, a line; minutes
// make a special day of it. The first line may name the columns.
func readTable(text string, first, last calendar.Date, o Order) (*Import, error) {
	r := csv.NewReader(strings.NewReader(text))
	r.Comma = separator(text)
	r.FieldsPerRecord, r.LazyQuotes, r.TrimLeadingSpace = -1, true, true
	m := &Import{}
	var rows [][]string
	var lines []int
	for {
		row, err := r.Read()
		if errors.Is(err, io.EOF) {
			break
		}
		var broken *csv.ParseError
		if errors.As(err, &broken) {
			m.problem(broken.StartLine, "it cannot be read as part of a table.")
			continue
		}
		line, _ := r.FieldPos(0)
		if strings.TrimSpace(strings.Join(row, "")) != "" {
			rows, lines = append(rows, row), append(lines, line)
		}
		if len(rows) > MostEvents {
			return nil, fault.New(fault.TooLarge, fmt.Sprintf("The table has more than %d lines.", MostEvents), "Keep only the school's holidays in it.")
		}
	}
	c, named := header(rows)
	if named {
		rows, lines = rows[1:], lines[1:]
	}
	guess := ordering(rows, o)
	if !named {
		c = shape(rows, guess.order)
	}
	if c.from < 0 {
		return nil, fault.New(fault.Unreadable, "No dates were found in this file.", "It should be an iCalendar file, or a table with a date, or a first and a last one, and a name on each line.")
	}
	for i, row := range rows {
		m.Events++
		m.row(row, lines[i], c, guess.order, first, last)
	}
	if guess.unsure && m.Events > len(m.Problems) {
		how := "the month first"
		if guess.order == DayFirst {
			how = "the day first"
		}
		m.Notes = append(m.Notes, fmt.Sprintf("Dates such as %s were read with %s.", guess.example, how))
	}
	return m, nil
}

func (m *Import) row(row []string, line int, c columns, o Order, first, last calendar.Date) {
	cell := func(i int) string {
		if i < 0 || i >= len(row) {
			return ""
		}
		return strings.TrimSpace(row[i])
	}
	from, ok := local(cell(c.from), o)
	if !ok {
		m.problem(line, "“%s” is no date.", clip(cell(c.from)))
		return
	}
	to := from
	if s := cell(c.to); s != "" {
		if to, ok = local(s, o); !ok {
			m.problem(line, "“%s” is no date.", clip(s))
			return
		}
	}
	if to < from {
		m.problem(line, "“%s” ends on %s, before it starts on %s.", clip(cell(c.name)), to.Words(), from.Words())
		return
	}
	if s := cell(c.minutes); s != "" {
		n, err := strconv.Atoi(s)
		if err != nil || n < 0 || n > 600 || to-from > 366 {
			m.problem(line, "“%s” is no number of minutes.", clip(s))
			return
		}
		for d := from; d <= to; d++ {
			if d < first || d > last {
				m.Outside++
				continue
			}
			m.Special = append(m.Special, calendar.Special{Name: cell(c.name), Date: d, Minutes: n})
		}
		return
	}
	m.add(calendar.Range{Name: cell(c.name), First: from, Last: to}, first, last)
}

// separator is the mark that parts the fields: of tab, semicolon and comma the
// first that is on most of the first lines.
func separator(text string) rune {
	best, most := ',', 0
	head := strings.SplitN(text, "\n", 12)
	for _, r := range "\t;," {
		n := 0
		for _, l := range head {
			if strings.ContainsRune(l, r) {
				n++
			}
		}
		if n > most {
			best, most = r, n
		}
	}
	return best
}

func header(rows [][]string) (columns, bool) {
	c := columns{-1, -1, -1, -1}
	if len(rows) == 0 {
		return c, false
	}
	for i, cell := range rows[0] {
		for _, h := range headers {
			if f := h.field(&c); strings.EqualFold(strings.TrimSpace(cell), h.word) && *f < 0 {
				*f = i
			}
		}
	}
	return c, c.from >= 0
}

// shape finds the columns of a table without a header: those in which most
// lines have dates, the first two of them, and the first of the others.
func shape(rows [][]string, o Order) columns {
	c := columns{-1, -1, -1, -1}
	dates, texts, width := map[int]int{}, map[int]int{}, 0
	for _, row := range rows {
		width = max(width, len(row))
		for i, cell := range row {
			cell = strings.TrimSpace(cell)
			if _, ok := local(cell, o); ok || dateLike.MatchString(cell) {
				dates[i]++
			} else if cell != "" {
				texts[i]++
			}
		}
	}
	for i := range width {
		switch {
		case dates[i] > texts[i] && c.from < 0:
			c.from = i
		case dates[i] > texts[i] && c.to < 0:
			c.to = i
		case texts[i] > 0 && c.name < 0:
			c.name = i
		}
	}
	return c
}

var numbers = regexp.MustCompile(`^(\d{1,2})([./-])\s?(\d{1,2})[./-]\s?(\d{4}|\d{2})$`)

// dateLike is what was meant for a date, whether there is such a day or not.
var dateLike = regexp.MustCompile(`^\d{1,4}[./-]\d{1,2}[./-]\d{1,4}$`)

type guess struct {
	order   Order
	unsure  bool
	example string
}

// ordering looks at all dates with the year last: one number above 12 tells the
// order of all of them; dots mean the day first.
func ordering(rows [][]string, o Order) guess {
	g := guess{order: o}
	for _, row := range rows {
		for _, cell := range row {
			f := numbers.FindStringSubmatch(strings.TrimSpace(cell))
			if f == nil || f[2] == "." {
				continue
			}
			a, _ := strconv.Atoi(f[1]) //nolint:errcheck // digits
			b, _ := strconv.Atoi(f[3]) //nolint:errcheck // digits
			switch {
			case a > 12 && b <= 12:
				return guess{order: DayFirst}
			case b > 12 && a <= 12:
				return guess{order: MonthFirst}
			case a != b && !g.unsure:
				g.unsure, g.example = true, strings.TrimSpace(cell)
			}
		}
	}
	return g
}

// written are forms of dates with the month in words or the year first.
var written = [...]string{"2006-01-02", "2006-1-2", "20060102", "2006/1/2", "2006.1.2", "2 January 2006", "2 Jan 2006", "January 2, 2006", "Jan 2, 2006",
	"January 2 2006", "Jan 2 2006", "2. January 2006", "2-Jan-2006", "2-Jan-06", "2006-01-02T15:04:05", "2006-01-02 15:04:05"}

var ordinal = regexp.MustCompile(`(?i)(\d)(st|nd|rd|th)\b`)

// local reads a date in one of the common forms, with or without its weekday.
func local(s string, o Order) (calendar.Date, bool) {
	for _, wd := range [...]string{"Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun"} {
		if len(s) > 3 && strings.EqualFold(s[:3], wd) {
			i := strings.IndexFunc(s, func(r rune) bool { return r == ' ' || r == ',' || r == '.' })
			if i < 0 {
				return calendar.None, false
			}
			s = strings.TrimLeft(s[i:], " ,.")
			break
		}
	}
	s = ordinal.ReplaceAllString(s, "$1")
	for _, form := range written {
		if t, err := time.Parse(form, s); err == nil {
			return calendar.FromTime(t), true
		}
	}
	f := numbers.FindStringSubmatch(s)
	if f == nil {
		return calendar.None, false
	}
	var n [3]int
	for i, x := range []string{f[1], f[3], f[4]} {
		n[i], _ = strconv.Atoi(x) //nolint:errcheck // digits
	}
	day, month, year := n[1], n[0], n[2]
	if o == DayFirst || f[2] == "." {
		day, month = n[0], n[1]
	}
	if year < 100 {
		year += 2000
	}
	d := calendar.Of(year, time.Month(month), day)
	if month < 1 || month > 12 || d.Time().Day() != day {
		return calendar.None, false
	}
	return d, true
}
