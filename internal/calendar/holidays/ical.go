package holidays

import (
	"context"
	"fmt"
	"strconv"
	"strings"
	"time"

	"github.com/teambition/rrule-go"

	"bookstead/internal/calendar"
	"bookstead/internal/fault"
)

// property is one content line of RFC 5545, section 3.1.
type property struct {
	line   int // of the file, from 1
	name   string
	params map[string]string
	value  string
}

// vevent is an event while it is read.
type vevent struct {
	line     int
	uid      string
	name     string
	start    calendar.Date
	days     int // how many it lasts
	end      calendar.Date
	timed    bool
	gone     bool
	rule     *property
	more     []calendar.Date // RDATE
	except   []calendar.Date // EXDATE
	replaces calendar.Date   // RECURRENCE-ID
	broken   bool
}

func readCalendar(ctx context.Context, text string, first, last calendar.Date) (*Import, error) {
	m := &Import{}
	var events []*vevent
	var open []string
	var e *vevent
	ended := false
	for p, err := range properties(text) {
		if err != nil {
			m.problem(p.line, "“%s” is no line of a calendar.", clip(p.value))
			if e != nil {
				e.broken = true
			}
			continue
		}
		switch p.name {
		case "BEGIN":
			kind := strings.ToUpper(p.value)
			if len(open) == 0 && kind != "VCALENDAR" {
				return nil, fault.New(fault.Unreadable, fmt.Sprintf("This is not a calendar: line %d begins a %s.", p.line, clip(p.value)), "Save it again from the calendar program, as iCalendar (.ics).")
			}
			open = append(open, kind)
			if kind == "VEVENT" && e == nil {
				if e = (&vevent{line: p.line}); len(events) >= MostEvents {
					return nil, fault.New(fault.TooLarge, fmt.Sprintf("The calendar has more than %d entries.", MostEvents), "Save only the school's holidays from it.")
				}
			}
		case "END":
			kind := strings.ToUpper(p.value)
			if len(open) == 0 || open[len(open)-1] != kind {
				m.problem(p.line, "%s ends here, but did not begin.", clip(p.value))
				continue
			}
			if open = open[:len(open)-1]; kind == "VEVENT" && e != nil {
				events = append(events, e)
				e = nil
			}
			ended = ended || len(open) == 0
		default:
			if e != nil && open[len(open)-1] == "VEVENT" {
				e.take(m, p)
			}
		}
	}
	if !ended || e != nil {
		line := strings.Count(text, "\n") + 1
		m.problem(line, "the calendar breaks off; what stands before it was read.")
	}
	m.Events = len(events)
	return m, m.layOut(ctx, events, first, last)
}

// properties gives the content lines, with folded ones joined; err is set on a
// line that is none, with its text for the value.
func properties(text string) func(yield func(property, error) bool) {
	return func(yield func(property, error) bool) {
		lines := strings.Split(strings.ReplaceAll(strings.ReplaceAll(text, "\r\n", "\n"), "\r", "\n"), "\n")
		for i := 0; i < len(lines); {
			at := i + 1
			var b strings.Builder
			b.WriteString(lines[i])
			for i++; i < len(lines) && lines[i] != "" && (lines[i][0] == ' ' || lines[i][0] == '\t'); i++ {
				b.WriteString(lines[i][1:])
			}
			if s := b.String(); strings.TrimSpace(s) != "" && !yield(parse(s, at)) {
				return
			}
		}
	}
}

func parse(s string, line int) (property, error) {
	p := property{line: line, value: s}
	quoted := false
	colon := -1
	var cuts []int
scan:
	for i := range len(s) {
		switch s[i] {
		case '"':
			quoted = !quoted
		case ';':
			if !quoted {
				cuts = append(cuts, i)
			}
		case ':':
			if !quoted {
				colon = i
				break scan
			}
		}
	}
	if colon < 1 {
		return p, fmt.Errorf("reading line %d: no colon", line)
	}
	cuts = append(cuts, colon)
	p.name = strings.ToUpper(strings.TrimSpace(s[:cuts[0]]))
	if strings.ContainsAny(p.name, " \t,\"=") {
		return p, fmt.Errorf("reading line %d: no name", line)
	}
	p.params = map[string]string{}
	for k := 1; k < len(cuts); k++ {
		name, v, _ := strings.Cut(s[cuts[k-1]+1:cuts[k]], "=")
		p.params[strings.ToUpper(name)] = strings.Trim(v, `"`)
	}
	p.value = s[colon+1:]
	return p, nil
}

func (e *vevent) take(m *Import, p property) {
	var err error
	fail := func() {
		if err != nil {
			what := "date"
			if p.name == "DURATION" {
				what = "length of time"
			}
			m.problem(p.line, "“%s” is no %s.", clip(p.value), what)
			e.broken = true
		}
	}
	switch p.name {
	case "UID":
		e.uid = p.value
	case "SUMMARY":
		e.name = unescape(p.value)
	case "STATUS":
		e.gone = strings.EqualFold(p.value, "CANCELLED")
	case "DTSTART":
		e.start, e.timed, err = date(p.value)
		fail()
	case "DTEND":
		var timed bool
		e.end, timed, err = date(p.value)
		if err == nil && timed && !strings.Contains(p.value, "T000000") {
			e.end++ // its own day belongs to it
		}
		fail()
	case "DURATION":
		e.days, err = days(p.value)
		fail()
	case "RRULE":
		e.rule = &p
	case "RDATE", "EXDATE":
		for _, v := range strings.Split(p.value, ",") {
			v, _, _ = strings.Cut(v, "/") // a period: its beginning
			var d calendar.Date
			if d, _, err = date(v); err != nil {
				fail()
				return
			}
			if p.name == "RDATE" {
				e.more = append(e.more, d)
			} else {
				e.except = append(e.except, d)
			}
		}
	case "RECURRENCE-ID":
		e.replaces, _, err = date(p.value)
		fail()
	}
}

// date reads DATE and DATE-TIME; the day counts as it is written.
func date(s string) (d calendar.Date, timed bool, err error) {
	s = strings.TrimSpace(s)
	day, clock, timed := strings.Cut(s, "T")
	t, err := time.Parse("20060102", day)
	if err != nil {
		return calendar.None, false, fmt.Errorf("reading a date: %w", err)
	}
	if timed {
		if _, err := time.Parse("150405", strings.TrimSuffix(clock, "Z")); err != nil {
			return calendar.None, false, fmt.Errorf("reading a time: %w", err)
		}
	}
	return calendar.FromTime(t), timed, nil
}

// days is the whole days of a DURATION such as P1D, P2W or PT24H, at least one.
func days(s string) (int, error) {
	rest, ok := strings.CutPrefix(strings.TrimPrefix(strings.ToUpper(strings.TrimSpace(s)), "+"), "P")
	if !ok {
		return 0, fmt.Errorf("reading a duration: %q", s)
	}
	n, hours := 0, 0
	day, clock, _ := strings.Cut(rest, "T")
	for _, part := range []string{day, clock} {
		for part != "" {
			i := strings.IndexFunc(part, func(r rune) bool { return r < '0' || r > '9' })
			if i < 1 {
				return 0, fmt.Errorf("reading a duration: %q", s)
			}
			x, err := strconv.Atoi(part[:i])
			if err != nil || x > 10_000 {
				return 0, fmt.Errorf("reading a duration: %q", s)
			}
			switch part[i] {
			case 'W':
				n += 7 * x
			case 'D':
				n += x
			case 'H':
				hours += x
			}
			part = part[i+1:]
		}
	}
	return max(1, n+(hours+23)/24), nil
}

func unescape(s string) string {
	return strings.TrimSpace(strings.NewReplacer(`\\`, `\`, `\;`, ";", `\,`, ",", `\n`, " ", `\N`, " ").Replace(s))
}

// clip shortens what is quoted in a message.
func clip(s string) string {
	r := []rune(strings.TrimSpace(s))
	if len(r) > 40 {
		return string(r[:40]) + "…"
	}
	return string(r)
}

// layOut turns events into days off.
func (m *Import) layOut(ctx context.Context, events []*vevent, first, last calendar.Date) error {
	type instance struct {
		uid string
		day calendar.Date
	}
	replaced := map[instance]bool{}
	for _, e := range events {
		if e.replaces != calendar.None {
			replaced[instance{e.uid, e.replaces}] = true
		}
	}
	timed := 0
	for i, e := range events {
		if i%256 == 0 && ctx.Err() != nil {
			return fault.Wrap(fault.Canceled, ctx.Err(), "The calendar was not read to its end.", "Nothing has changed.")
		}
		switch {
		case e.broken || e.gone:
			continue
		case e.start == calendar.None:
			m.problem(e.line, "an entry has no date.")
			continue
		case e.timed && e.whole() < 1:
			timed++
			continue
		case e.end != calendar.None && e.end < e.start:
			m.problem(e.line, "“%s” ends on %s, before it starts on %s.", clip(e.name), (e.end - 1).Words(), e.start.Words())
			continue
		}
		starts, err := e.starts(first, last)
		if err != nil {
			m.problem(e.rule.line, "“%s” is no rule by which a day comes again.", clip(e.rule.value))
			continue
		}
		length := calendar.Date(max(1, e.whole()))
		for _, d := range starts {
			if e.replaces == calendar.None && replaced[instance{e.uid, d}] {
				continue
			}
			m.add(calendar.Range{Name: e.name, First: d, Last: d + length - 1}, first, last)
		}
		if len(starts) == 0 {
			m.Outside++
		}
		if len(m.DaysOff) > mostDays {
			return fault.New(fault.TooLarge, fmt.Sprintf("The calendar gives more than %d days off between %s and %s.", mostDays, first.Words(), last.Words()), "Save only the school's holidays from it.")
		}
	}
	if timed > 0 {
		m.Notes = append(m.Notes, fmt.Sprintf("Entries with hours of the day were left out, %d of them: only whole days can be days off.", timed))
	}
	return nil
}

// whole is how many days an event lasts; 0 for one of some hours.
func (e *vevent) whole() int {
	n := e.days
	if e.end != calendar.None {
		n = int(e.end - e.start)
	}
	if e.timed && n <= 1 {
		return 0
	}
	return n
}

// starts are the days on which an event begins that can touch the window.
func (e *vevent) starts(first, last calendar.Date) ([]calendar.Date, error) {
	var out []calendar.Date
	except := map[calendar.Date]bool{}
	for _, d := range e.except {
		except[d] = true
	}
	take := func(d calendar.Date) {
		if !except[d] {
			except[d] = true
			out = append(out, d)
		}
	}
	if e.rule == nil {
		take(e.start)
	} else {
		rule, err := rrule.StrToROptionInLocation(strings.TrimSuffix(e.rule.value, ";"), time.UTC)
		if err != nil {
			return nil, fmt.Errorf("reading a recurrence rule: %w", err)
		}
		if rule.Freq > rrule.DAILY || len(rule.Byhour)+len(rule.Byminute)+len(rule.Bysecond) > 0 {
			return nil, fmt.Errorf("reading a recurrence rule: by the hour")
		}
		rule.Dtstart = e.start.Time()
		if !rule.Until.IsZero() { // the day of UNTIL belongs to it, whatever its hour
			rule.Until = calendar.FromTime(rule.Until).Time()
		}
		r, err := rrule.NewRRule(*rule)
		if err != nil {
			return nil, fmt.Errorf("reading a recurrence rule: %w", err)
		}
		from := max(e.start, first-calendar.Date(max(1, e.whole())))
		for _, t := range r.Between(from.Time(), last.Time(), true) {
			take(calendar.FromTime(t))
		}
	}
	for _, d := range e.more {
		take(d)
	}
	return out, nil
}
