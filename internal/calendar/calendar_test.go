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

func TestAppointments(t *testing.T) {
	c := PlainYear(Of(2026, 9, 7), 60)
	c.Appointments = []Appointment{
		{Name: "Choir", Days: [7]bool{2: true}, From: 600, To: 640, Takes: 20, First: Of(2026, 10, 1)},
		{Name: "Dentist", First: Of(2026, 9, 9), Takes: 90}, {Name: "Lunch", Days: [7]bool{true, true, true, true, true, true, true}, From: 720, To: 750},
	}
	for d, want := range map[Date]int{Of(2026, 9, 8): 60, Of(2026, 9, 9): 0, Of(2026, 10, 6): 40, Of(2026, 10, 7): 60} {
		if got := c.MinutesOn(d); got != want {
			t.Errorf("%s has %d minutes, want %d", d, got, want)
		}
	}
	if err := c.Validate(); err != nil {
		t.Error(err)
	}
	for says, a := range map[string]Appointment{
		"has no day":         {Name: "Choir"},
		"before it starts":   {Name: "Choir", Days: [7]bool{2: true}, First: 9, Last: 8},
		"before it begins":   {Name: "Choir", First: 9, From: 60, To: 50},
		"takes 700 minutes":  {Name: "Choir", First: 9, Takes: 700},
		"An appointment has": {},
	} {
		c.Appointments = []Appointment{a}
		if err := c.Validate(); err == nil || !strings.Contains(err.Error(), says) {
			t.Errorf("%s: %v", says, err)
		}
	}
	c.Appointments = []Appointment{{Name: "Choir", First: Of(2030, 1, 1)}}
	if w := c.Warnings(); len(w) != 1 || !strings.Contains(w[0], "“Choir” lies outside the school year") {
		t.Errorf("%v", w)
	}
}

func TestClock(t *testing.T) {
	for in, want := range map[string]Clock{"9:30": 570, "09:30": 570, "00:00": 0, "23:59": 1439, " 14:05 ": 845} {
		if c, err := ParseClock(in); err != nil || c != want {
			t.Errorf("%q: %d, %v", in, c, err)
		}
	}
	for _, in := range []string{"", "9", "24:00", "9:60", "9:5", "noon", "-1:00", "9.30"} {
		if _, err := ParseClock(in); err == nil {
			t.Errorf("%q is taken for a time", in)
		}
	}
	var c Clock
	if b, err := Clock(570).MarshalText(); err != nil || string(b) != "09:30" || c.UnmarshalText(b) != nil || c != 570 {
		t.Errorf("%s %v %d", b, err, c)
	}
}

// A year over New Year and a leap day: every day once, weeks that start on
// Sunday or on Monday.
func TestOverNewYear(t *testing.T) {
	c := PlainYear(Of(2027, 9, 6), 60)
	c.DaysOff = []Range{{"Winter", Of(2027, 12, 24), Of(2028, 1, 2)}}
	c.Last = Of(2028, 3, 31)
	days := c.SchoolDays(c.First)
	seen := map[Date]bool{}
	for i, d := range days {
		if i > 0 && d <= days[i-1] {
			t.Fatalf("%s behind %s", d, days[i-1])
		}
		seen[d] = true
	}
	if seen[Of(2027, 12, 31)] || !seen[Of(2027, 12, 23)] || !seen[Of(2028, 1, 3)] || !seen[Of(2028, 2, 29)] || Of(2028, 3, 1)-Of(2028, 2, 28) != 2 {
		t.Error("the days around New Year and the leap day are wrong")
	}
	// Of 30 weeks less the Friday and the week of the winter holidays.
	if want := 5*30 - 1 - 5; len(days) != want {
		t.Errorf("%d school days, want %d", len(days), want)
	}
	for d, want := range map[Date][2]Date{
		Of(2028, 1, 1): {Of(2027, 12, 26), Of(2027, 12, 27)}, Of(2028, 1, 2): {Of(2028, 1, 2), Of(2027, 12, 27)}, Of(2028, 1, 3): {Of(2028, 1, 2), Of(2028, 1, 3)},
	} {
		if d.Week(time.Sunday) != want[0] || d.Week(time.Monday) != want[1] {
			t.Errorf("the week of %s begins on %s or %s", d, d.Week(time.Sunday), d.Week(time.Monday))
		}
	}
}
