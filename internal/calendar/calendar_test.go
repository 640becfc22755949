package calendar

import (
	"encoding/json"
	"reflect"
	"slices"
	"strings"
	"testing"
	"time"

	"bookstead/internal/fault"
)

func TestDates(t *testing.T) {
	for _, s := range []string{"2026-09-07", "2027-12-31", "2028-01-01", "2028-02-29", "1969-07-20"} {
		d, err := Parse(s)
		if err != nil || d.String() != s {
			t.Errorf("%s reads as %s, %v", s, d, err)
		}
		want, _ := time.Parse(time.DateOnly, s)
		if d.Weekday() != want.Weekday() {
			t.Errorf("%s is a %s, not a %s", s, want.Weekday(), d.Weekday())
		}
	}
	for _, s := range []string{"", "2027-02-29", "2026-13-01", "7.9.2026", "2026-9-7", "2026-09-07T00:00:00Z"} {
		if d, err := Parse(s); !fault.Is(err, fault.Invalid) {
			t.Errorf("%q reads as %s, %v", s, d, err)
		}
	}
	if Of(2028, 3, 1)-Of(2028, 2, 28) != 2 || Of(2027, 3, 1)-Of(2027, 2, 28) != 1 || Of(2027, 1, 1)-Of(2026, 12, 31) != 1 {
		t.Error("leap days or New Year are wrong")
	}
	// Shortly before midnight in a zone behind UTC is still that zone's day.
	late := time.Date(2026, 9, 7, 23, 30, 0, 0, time.FixedZone("west", -8*3600))
	if got := FromTime(late); got != Of(2026, 9, 7) {
		t.Errorf("a late evening is %s", got)
	}
	if got := Of(2026, 9, 7).Words(); got != "7 September 2026" || None.Words() != "" || None.String() != "" {
		t.Errorf("in words: %s", got)
	}
}

// A year that crosses New Year and a leap day.
func year() Calendar {
	c := Calendar{First: Of(2027, 9, 1), Last: Of(2028, 6, 30),
		Terms:   []Range{{"Autumn", Of(2027, 9, 1), Of(2027, 12, 17)}, {"Spring", Of(2028, 1, 10), Of(2028, 6, 30)}},
		DaysOff: []Range{{"Thanksgiving", Of(2027, 11, 25), Of(2027, 11, 26)}},
		Special: []Special{{"Half day", Of(2027, 11, 24), 30}, {"Open day", Of(2027, 10, 2), 45}}}
	for wd := time.Monday; wd <= time.Friday; wd++ {
		c.Minutes[wd] = 60
	}
	return c
}

func TestMinutesOn(t *testing.T) {
	c := year()
	for _, x := range []struct {
		d    Date
		want int
	}{
		{Of(2027, 8, 31), 0}, {Of(2027, 9, 1), 60}, {Of(2027, 9, 4), 0}, {Of(2027, 10, 2), 45}, // a Saturday with school
		{Of(2027, 11, 24), 30}, {Of(2027, 11, 25), 0}, {Of(2027, 12, 20), 0}, {Of(2028, 1, 7), 0}, {Of(2028, 1, 10), 60},
		{Of(2028, 2, 29), 60}, {Of(2028, 6, 30), 60}, {Of(2028, 7, 3), 0},
	} {
		if got := c.MinutesOn(x.d); got != x.want {
			t.Errorf("%s has %d minutes, want %d", x.d, got, x.want)
		}
	}
	days := c.SchoolDays(Of(2028, 2, 28))
	if !slices.Equal(days[:3], []Date{Of(2028, 2, 28), Of(2028, 2, 29), Of(2028, 3, 1)}) || c.Off(Of(2027, 11, 25)) != "Thanksgiving" {
		t.Errorf("%v", days[:3])
	}
}

func TestPlainYear(t *testing.T) {
	c := PlainYear(Of(2026, 9, 9), 60) // a Wednesday
	if err := c.Validate(); err != nil || !c.Plain || len(c.SchoolDays(None)) != 260 {
		t.Errorf("%v, %d days", err, len(c.SchoolDays(None)))
	}
}

func TestValidate(t *testing.T) {
	for name, change := range map[string]func(*Calendar){
		"has no first":          func(c *Calendar) { c.First = None },
		"before it starts on 1": func(c *Calendar) { c.Last = c.First - 1 },
		"two years":             func(c *Calendar) { c.Last = c.First + 800 },
		"\"Backwards\" ends":    func(c *Calendar) { c.DaysOff = []Range{{"Backwards", c.First + 9, c.First + 2}} },
		"Tuesday has 700":       func(c *Calendar) { c.Minutes[2] = 700 },
		"has -5 minutes":        func(c *Calendar) { c.Special[0].Minutes = -5 },
		"No day of the school":  func(c *Calendar) { c.DaysOff = []Range{{"All", c.First, c.Last}}; c.Special = nil },
	} {
		c := year()
		change(&c)
		if err := c.Validate(); !fault.Is(err, fault.Invalid) || !strings.Contains(err.Error(), name) {
			t.Errorf("%q: %v", name, err)
		}
	}
	if err := year().Validate(); err != nil {
		t.Error(err)
	}
}

func TestWarnings(t *testing.T) {
	c := year()
	if w := c.Warnings(); w != nil {
		t.Errorf("a sound year: %q", w)
	}
	c.DaysOff = append(c.DaysOff, Range{"Flood", Of(2028, 1, 1), Of(2028, 7, 15)}, Range{"Old", Of(2026, 1, 1), Of(2026, 1, 2)})
	if w := c.Warnings(); len(w) != 2 || !strings.Contains(w[0], "“Spring” has no school day left") || !strings.Contains(w[1], "“Old” (1 January 2026)") {
		t.Errorf("%q", w)
	}
}

func TestJSON(t *testing.T) {
	b, err := json.Marshal(year())
	var c Calendar
	if err == nil {
		err = json.Unmarshal(b, &c)
	}
	if err != nil || !reflect.DeepEqual(c, year()) || !strings.Contains(string(b), `"first":"2027-09-01"`) {
		t.Errorf("%v: %s", err, b)
	}
}
