// Package ical writes a plan as an iCalendar file (RFC 5545) that calendar
// programs import or subscribe to.
//
// Each lesson has one event for each day on which it lies; a quiz, review, test
// and corrections have one each. An event's UID is made of the class, the kit,
// the lesson and the kind, never of its date, so a changed plan moves the
// events that were imported before instead of doubling them, and SEQUENCE rises
// with each plan agreed, and once more for a changed plan that is not agreed yet. Dates are local: all-day events carry plain dates,
// timed ones floating times, so no time zone can shift them. Start with [Write].
package ical

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"io"
	"slices"
	"strings"
	"time"

	"bookstead/internal/calendar"
	"bookstead/internal/class"
	"bookstead/internal/fault"
	"bookstead/internal/kit"
	"bookstead/internal/plan"
)

// Options say how the plan reads in a calendar.
type Options struct {
	// Name of the calendar.
	Name string
	// Stamp is when the file is made (DTSTAMP).
	Stamp time.Time
	// Title names the book of a kit, Lesson a lesson of it, Step a step; each
	// may be nil.
	Title  func(kit.ID) string
	Lesson func(id kit.ID, number int) string
	Step   func(plan.Step) string
	// Begins is the local time at which each day's work begins, since midnight;
	// events are then timed, one behind the other. Without Timed they are all-day.
	Timed  bool
	Begins time.Duration
	// Before is the plan that was exported last, nil when none was, and Earlier
	// others that were exported: their events that the plan does not have any
	// more are written as cancelled. A calendar that missed an export is put
	// right only when that one is among them.
	Before  *plan.Plan
	Earlier []plan.Plan
}

// event is one VEVENT.
type event struct {
	uid     string
	date    calendar.Date
	begins  int // minutes since midnight, timed events
	minutes int
	kind    plan.StepKind // empty for a lesson
	step    plan.Step     // the first
	steps   []plan.Step
	nth, of int // which day of the lesson's days
	gone    bool
}

// Write writes the plan. It is Invalid when the days begin outside the day.
func Write(w io.Writer, p plan.Plan, o Options) error {
	if o.Timed && (o.Begins < 0 || o.Begins >= 24*time.Hour) {
		return fault.New(fault.Invalid, "The day cannot begin at that time.", "Choose a time between 0:00 and 23:59.")
	}
	events := eventsOf(p, o)
	here := map[string]bool{}
	for _, e := range events {
		here[e.uid] = true
	}
	earlier := o.Earlier
	if o.Before != nil {
		earlier = append([]plan.Plan{*o.Before}, earlier...)
	}
	sequence := p.Sequence
	for _, old := range earlier {
		sequence = max(sequence, old.Sequence)
		for _, e := range eventsOf(old, o) {
			if !here[e.uid] {
				here[e.uid] = true
				e.gone = true
				events = append(events, e)
			}
		}
	}
	if sequence > p.Sequence || o.Before != nil && sequence == o.Before.Sequence && !slices.EqualFunc(o.Before.Days, p.Days, sameDay) {
		sequence++ // a plan that changed and was not agreed yet is newer than what was exported
	}
	var b lines
	b.put("BEGIN", "VCALENDAR")
	b.put("VERSION", "2.0")
	b.put("PRODID", "-//Bookstead//Plan//EN")
	b.put("CALSCALE", "GREGORIAN")
	b.put("METHOD", "PUBLISH")
	if o.Name != "" {
		b.put("NAME", text(o.Name))
		b.put("X-WR-CALNAME", text(o.Name))
	}
	for _, e := range events {
		e.write(&b, sequence, o)
	}
	b.put("END", "VCALENDAR")
	if _, err := io.WriteString(w, b.String()); err != nil {
		return fmt.Errorf("writing the calendar: %w", err)
	}
	return nil
}

func sameDay(a, b plan.Day) bool { return a.Date == b.Date && slices.Equal(a.Steps, b.Steps) }

// eventsOf gathers the events of a plan, in its order.
func eventsOf(p plan.Plan, o Options) []event {
	type key struct {
		kit    kit.ID
		lesson int
		kind   plan.StepKind
	}
	days := map[key]int{}
	var out []event
	for _, d := range p.Days {
		at := int(o.Begins / time.Minute)
		byKey := map[key]int{}
		for _, s := range d.Steps {
			k := key{s.Kit, s.Lesson, s.Kind}
			if s.Kind.OfLesson() {
				k.kind = ""
			}
			i, ok := byKey[k]
			if !ok {
				days[k]++
				i = len(out)
				byKey[k] = i
				out = append(out, event{date: d.Date, begins: at, kind: k.kind, step: s, nth: days[k],
					uid: uid(p.Class, s.Kit, k.kind, s.Lesson, days[k])})
			}
			out[i].steps = append(out[i].steps, s)
			out[i].minutes += s.Minutes
			at += s.Minutes
		}
	}
	for i := range out {
		out[i].of = days[key{out[i].step.Kit, out[i].step.Lesson, out[i].kind}]
	}
	return out
}

// uid names an event for good: 128 bits of a hash, so that no name of a class
// or a book leaves the program in it.
func uid(c class.ID, k kit.ID, kind plan.StepKind, lesson, nth int) string {
	h := sha256.Sum256(fmt.Appendf(nil, "%q %q %q %d %d", c, k, kind, lesson, nth))
	return hex.EncodeToString(h[:16]) + "@bookstead"
}

func (e event) write(b *lines, sequence int, o Options) {
	b.put("BEGIN", "VEVENT")
	b.put("UID", e.uid)
	b.put("DTSTAMP", o.Stamp.UTC().Format("20060102T150405Z"))
	b.put("SEQUENCE", fmt.Sprint(sequence))
	if o.Timed {
		b.put("DTSTART", floating(e.date, e.begins))
		b.put("DTEND", floating(e.date, e.begins+max(1, e.minutes)))
	} else {
		b.put("DTSTART;VALUE=DATE", e.date.Time().Format("20060102"))
		b.put("DTEND;VALUE=DATE", (e.date + 1).Time().Format("20060102"))
		b.put("TRANSP", "TRANSPARENT")
	}
	b.put("SUMMARY", text(e.summary(o)))
	b.put("DESCRIPTION", text(e.description(o)))
	b.put("CATEGORIES", text(e.category()))
	if e.gone {
		b.put("STATUS", "CANCELLED")
	} else {
		b.put("STATUS", "CONFIRMED")
	}
	b.put("END", "VEVENT")
}

func floating(d calendar.Date, minutes int) string {
	return d.Time().Add(time.Duration(minutes) * time.Minute).Format("20060102T150405")
}

func (e event) category() string {
	if e.kind == "" {
		return "lesson"
	}
	return string(e.kind)
}

// summary is the event's line in a calendar: "The Secret Garden: lesson 4,
// Chapter 4, “Martha” (day 1 of 2)".
func (e event) summary(o Options) string {
	var s strings.Builder
	if o.Title != nil {
		if t := o.Title(e.step.Kit); t != "" {
			s.WriteString(t + ": ")
		}
	}
	if e.kind == "" {
		fmt.Fprintf(&s, "lesson %d", e.step.Lesson)
		if o.Lesson != nil {
			if t := o.Lesson(e.step.Kit, e.step.Lesson); t != "" {
				s.WriteString(", " + t)
			}
		}
	} else {
		fmt.Fprintf(&s, "%s", e.kind)
		if e.step.From > 0 && e.step.From != e.step.Lesson {
			fmt.Fprintf(&s, " on lessons %d to %d", e.step.From, e.step.Lesson)
		}
	}
	if e.of > 1 {
		fmt.Fprintf(&s, " (day %d of %d)", e.nth, e.of)
	}
	return s.String()
}

// description lists the event's steps, one a line.
func (e event) description(o Options) string {
	var out []string
	for _, s := range e.steps {
		name := string(s.Kind)
		if o.Step != nil {
			name = o.Step(s)
		}
		unit := "minutes"
		if s.Minutes == 1 {
			unit = "minute"
		}
		out = append(out, fmt.Sprintf("%s: %d %s", name, s.Minutes, unit))
	}
	return strings.Join(out, "\n")
}
