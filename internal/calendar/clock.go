package calendar

import (
	"fmt"
	"strconv"
	"strings"

	"bookstead/internal/fault"
)

// Clock is a local time of day: minutes since midnight, 0 to 1439. As text it
// is "09:30"; the empty text is midnight, which no school day begins at.
type Clock int

// ParseClock reads a time of day: "9:30", "09:30", "14:05".
func ParseClock(s string) (Clock, error) {
	h, m, ok := strings.Cut(strings.TrimSpace(s), ":")
	hour, err1 := strconv.Atoi(h)
	minute, err2 := strconv.Atoi(m)
	if !ok || err1 != nil || err2 != nil || len(m) != 2 || hour < 0 || hour > 23 || minute < 0 || minute > 59 {
		return 0, fault.New(fault.Invalid, fmt.Sprintf("%q is not a time of day.", s), "Write hours and minutes, as in 09:30.")
	}
	return Clock(hour*60 + minute), nil
}

// String is "09:30". Times behind midnight count on, "24:10".
func (c Clock) String() string { return fmt.Sprintf("%02d:%02d", int(c)/60, int(c)%60) }

// MarshalText writes it as String does.
func (c Clock) MarshalText() ([]byte, error) { return []byte(c.String()), nil }

// UnmarshalText reads what ParseClock reads; empty text is 0.
func (c *Clock) UnmarshalText(b []byte) error {
	if len(b) == 0 {
		*c = 0
		return nil
	}
	v, err := ParseClock(string(b))
	if err == nil {
		*c = v
	}
	return err
}
