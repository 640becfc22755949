package class

import (
	"encoding/json"
	"testing"
	"time"

	"bookstead/internal/calendar"
)

func TestStepByDate(t *testing.T) {
	day := func(m time.Month, d int) calendar.Date { return calendar.Of(2026, m, d) }
	c := Class{Name: "Grade 1", Grade: 1, Settings: Defaults(1), Students: []Student{{ID: "a", Name: "Ana"}, {ID: "b", Name: "Ben", Standing: []Standing{{day(10, 1), 2}}}}}
	c.Settings.Spelling.Standing = []Standing{{day(9, 1), 3}, {day(11, 1), 5}}
	for _, x := range []struct {
		student string
		day     calendar.Date
		want    int
	}{
		{"", day(8, 1), 0}, {"", day(9, 1), 3}, {"", day(10, 31), 3}, {"", day(11, 1), 5}, {"", Latest, 5},
		{"a", day(12, 1), 5}, {"b", day(9, 15), 3}, {"b", day(12, 1), 2}, {"nobody", day(12, 1), 5},
	} {
		if got := c.Step(x.student, x.day); got != x.want {
			t.Errorf("Step(%q, %s) = %d, want %d", x.student, x.day, got, x.want)
		}
	}
	then := c.AsOf(day(9, 15))
	if then.Step("", Latest) != 3 || then.Step("b", Latest) != 3 || len(c.Students[1].Standing) != 1 {
		t.Errorf("as of September: %+v; the class itself: %+v", then.Settings.Spelling, c.Students[1])
	}
	data, err := json.Marshal(c)
	if err != nil {
		t.Fatal(err)
	}
	var back Class
	if err := json.Unmarshal(data, &back); err != nil || back.Step("b", day(12, 1)) != 2 || back.Step("a", day(12, 1)) != 5 {
		t.Errorf("what is kept does not come back: %s, %v", data, err)
	}
	c.Settings.Spelling.Standing = append(c.Settings.Spelling.Standing, Standing{day(9, 1), 4})
	c.Calendar = calendar.PlainYear(day(9, 1), 60)
	if c.Validate() == nil {
		t.Error("two steps for one day are taken")
	}
	c.Settings.Spelling.Standing = []Standing{{day(9, 1), 0}}
	if c.Validate() == nil {
		t.Error("step 0 is taken")
	}
}

func TestWeighFactor(t *testing.T) {
	for w, want := range map[Weigh]float64{LeaveOut: 0, Less: 0.5, Usual: 1, More: 1.5, Much: 2, 9: 2, -9: 0} {
		if got := w.Factor(); got != want {
			t.Errorf("Factor(%d) = %g, want %g", w, got, want)
		}
	}
}
