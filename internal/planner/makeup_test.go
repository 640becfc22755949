package planner

import (
	"fmt"
	"strings"
	"testing"

	"bookstead/internal/calendar"
	"bookstead/internal/class"
	"bookstead/internal/plan"
)

func TestMakeUp(t *testing.T) {
	c := schoolYear(60, 60)
	p := plan.Plan{Days: []plan.Day{{Date: monday, Steps: []plan.Step{{Kind: plan.Background, Minutes: 10}, {Kind: plan.Reading, Minutes: 10, Mode: class.Turns}, {Kind: plan.Questions, Minutes: 15}, {Kind: plan.Discussion, Minutes: 5}}}}}
	for i, m := range []int{50, 40, 55, 60} {
		p.Days = append(p.Days, plan.Day{Date: monday + calendar.Date(i+1), Steps: []plan.Step{{Kind: plan.Reading, Minutes: m}}})
	}
	made, left := MakeUp(c, p, p.Days[:1], monday)
	var got []string
	for _, m := range made {
		got = append(got, fmt.Sprint(int(m.Date-monday), " ", m.Step.Kind, " ", m.Step.Minutes, " ", int(m.Missed-monday)))
		if m.Step.With != plan.Alone || m.Step.Kind == plan.Reading && m.Step.Mode != class.Silent {
			t.Errorf("%+v", m.Step)
		}
	}
	// Ten minutes of reading fit on the second day, fifteen of questions on the
	// third; background and talking over are not made up.
	if s := strings.Join(got, ", "); s != "1 reading 10 0, 2 questions 15 0" || left != nil {
		t.Errorf("%s, left %v", s, left)
	}
	if _, left = MakeUp(c, p, p.Days[4:], monday); len(left) != 1 {
		t.Errorf("behind the last day: %v", left)
	}
	if p.Days[0].Steps[1].Mode != class.Turns {
		t.Error("the plan was changed")
	}
}
