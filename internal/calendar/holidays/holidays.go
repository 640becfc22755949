// Package holidays reads lists of days off into a school calendar: iCalendar
// files (RFC 5545) such as school offices and calendar programs give out, and
// tables (CSV).
//
// Dates are local: a date is taken as it is written, whatever time zone stands
// beside it, so no day can shift. What cannot be read is told with its line, and
// the rest is read all the same. Start with [Read].
package holidays

import (
	"bytes"
	"cmp"
	"context"
	"fmt"
	"slices"
	"strings"
	"unicode/utf8"

	"golang.org/x/text/encoding/charmap"

	"bookstead/internal/calendar"
	"bookstead/internal/fault"
)

// Limits of a file.
const (
	Largest    = 16 << 20 // bytes
	MostEvents = 50_000
	mostDays   = 20_000 // days off in the window, after recurring ones are laid out
)

// Import is what a file gave.
type Import struct {
	// DaysOff by date, each once; Special are days with minutes of their own,
	// which only tables have.
	DaysOff []calendar.Range
	Special []calendar.Special
	// Events is how many entries the file has, Outside how many of them lie
	// outside the window.
	Events, Outside int
	// Problems are sentences on what could not be read, each with its line;
	// Notes say how the rest was read.
	Problems []string
	Notes    []string
}

// Order is how numbers in a date such as 3/4/2027 are meant when the file does
// not show it.
type Order uint8

const (
	MonthFirst Order = iota // 3/4 is 4 March, as in the United States
	DayFirst                // 3/4 is 3 April
)

// Read reads an iCalendar file or a table, whichever it is. Entries that do not
// touch the days from first to last are counted and left out; recurring ones
// are laid out in that window. Faults: Unreadable for a file that is neither,
// TooLarge beyond the limits, Canceled.
func Read(ctx context.Context, data []byte, first, last calendar.Date, o Order) (*Import, error) {
	if len(data) > Largest {
		return nil, fault.New(fault.TooLarge, "The file is larger than 16 megabytes, too large for a list of days off.", "Check that it is the right file.")
	}
	text := decode(data)
	var out *Import
	var err error
	if head := strings.ToUpper(strings.TrimSpace(text[:min(len(text), 200)])); strings.HasPrefix(head, "BEGIN:") {
		out, err = readCalendar(ctx, text, first, last)
	} else {
		out, err = readTable(text, first, last, o)
	}
	if err != nil {
		return nil, err
	}
	out.tidy()
	return out, nil
}

// decode makes UTF-8 of what may be UTF-8 with a mark, or an old Windows file.
func decode(data []byte) string {
	data = bytes.TrimPrefix(data, []byte("\ufeff"))
	if utf8.Valid(data) {
		return string(data)
	}
	s, err := charmap.Windows1252.NewDecoder().Bytes(data)
	if err != nil {
		return strings.ToValidUTF8(string(data), "�")
	}
	return string(s)
}

// tidy sorts, and takes out what stands twice.
func (m *Import) tidy() {
	slices.SortStableFunc(m.DaysOff, func(a, b calendar.Range) int {
		return cmp.Or(cmp.Compare(a.First, b.First), cmp.Compare(a.Last, b.Last), cmp.Compare(a.Name, b.Name))
	})
	m.DaysOff = slices.Compact(m.DaysOff)
	slices.SortStableFunc(m.Special, func(a, b calendar.Special) int { return cmp.Compare(a.Date, b.Date) })
	m.Special = slices.CompactFunc(m.Special, func(a, b calendar.Special) bool { return a.Date == b.Date })
	const most = 20
	if n := len(m.Problems); n > most {
		m.Problems = append(m.Problems[:most:most], fmt.Sprintf("%d more lines could not be read.", n-most))
	}
}

func (m *Import) problem(line int, format string, args ...any) {
	m.Problems = append(m.Problems, fmt.Sprintf("Line %d: ", line)+fmt.Sprintf(format, args...))
}

// add takes a day off if it touches the window.
func (m *Import) add(r calendar.Range, first, last calendar.Date) {
	if r.Last < first || r.First > last {
		m.Outside++
		return
	}
	m.DaysOff = append(m.DaysOff, r)
}
