// Package calendar holds school time: local dates without hours or zones, and
// the school year with its weekdays, terms, days off and short days.
//
// A [Date] is a day number, so that arithmetic is plain and no clock or time
// zone can shift it. Start with [Calendar.MinutesOn].
package calendar

import (
	"fmt"
	"time"

	"bookstead/internal/fault"
)

// Date is a local calendar day: days since 1 January 1970 (Gregorian).
type Date int32

// None is the date that is not set: the zero value, a day that no school year holds.
const None Date = 0

// Of makes a date from year, month (1-12) and day.
func Of(year int, month time.Month, day int) Date {
	return Date(time.Date(year, month, day, 0, 0, 0, 0, time.UTC).Unix() / 86400)
}

// FromTime takes the calendar day that t shows in its own location.
func FromTime(t time.Time) Date { y, m, d := t.Date(); return Of(y, m, d) }

// Parse reads an ISO 8601 date, "2026-09-01".
func Parse(s string) (Date, error) {
	t, err := time.Parse(time.DateOnly, s)
	if err != nil {
		return None, fault.New(fault.Invalid, fmt.Sprintf("%q is not a date.", s), "Write the year, the month and the day, as in 2026-09-01.")
	}
	return FromTime(t), nil
}

// Time is midnight UTC of the day.
func (d Date) Time() time.Time { return time.Unix(int64(d)*86400, 0).UTC() }

// String is the ISO 8601 form; "" for None.
func (d Date) String() string {
	if d == None {
		return ""
	}
	return d.Time().Format(time.DateOnly)
}

// Words is the date in a sentence, "7 September 2026"; "" for None.
func (d Date) Words() string {
	if d == None {
		return ""
	}
	return d.Time().Format("2 January 2006")
}

// Weekday of the day.
func (d Date) Weekday() time.Weekday { return d.Time().Weekday() }

// Week is the first day of the week in which d lies; weeks start on the given
// weekday.
func (d Date) Week(start time.Weekday) Date {
	return d - Date((d.Weekday()-start+7)%7)
}

// MarshalText writes the ISO form.
func (d Date) MarshalText() ([]byte, error) { return []byte(d.String()), nil }

// UnmarshalText reads the ISO form; empty text is None.
func (d *Date) UnmarshalText(b []byte) error {
	if len(b) == 0 {
		*d = None
		return nil
	}
	v, err := Parse(string(b))
	if err == nil {
		*d = v
	}
	return err
}

// Range is a closed range of days: both First and Last belong to it.
type Range struct {
	Name  string `json:"name"`
	First Date   `json:"first"`
	Last  Date   `json:"last"`
}

// Has reports whether the day lies in the range.
func (r Range) Has(d Date) bool { return r.First <= d && d <= r.Last }
