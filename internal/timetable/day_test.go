package timetable

import (
	"fmt"
	"strings"
	"testing"

	"bookstead/internal/class"
	"bookstead/internal/fault"
	"bookstead/internal/kit"
	"bookstead/internal/plan"
)

func step(k string, lesson int, kind plan.StepKind, minutes int) plan.Step {
	return plan.Step{Kit: kit.ID(k), Lesson: lesson, Kind: kind, Minutes: minutes, Mode: class.Turns}
}

func lesson(k string) []plan.Step {
	return []plan.Step{step(k, 1, plan.Background, 10), step(k, 1, plan.Reading, 20), step(k, 1, plan.Questions, 15), step(k, 1, plan.Discussion, 10)}
}

func blocks(p Problem) string {
	var out []string
	for _, b := range p.Blocks {
		s := fmt.Sprintf("%s %d %s", b.Kind, b.Minutes, strings.Join(b.Children, ""))
		if b.Teacher {
			s += "*"
		}
		if b.Copies > 0 {
			s += fmt.Sprint(" ", b.Copies, "c")
		}
		out = append(out, s)
	}
	return strings.Join(out, ", ")
}

func TestDay(t *testing.T) {
	ann, ben, cal := Child{ID: "A"}, Child{ID: "B"}, Child{ID: "C"}
	silent := lesson("k")
	silent[1].Mode = class.Silent
	for _, c := range []struct {
		name   string
		h      Hours
		groups []Group
		want   string
	}{
		{"a class keeps step", Hours{}, []Group{{Class: "c", Grade: 4, Children: []Child{ann, ben}, Steps: lesson("k")}},
			"background 10 AB*, reading 20 AB* 2c, questions 15 AB, break 5 AB, discussion 10 AB*"},
		{"no pauses", Hours{Pause: -1}, []Group{{Class: "c", Grade: 4, Children: []Child{ann}, Steps: lesson("k")}},
			"background 10 A*, reading 20 A* 1c, questions 15 A, discussion 10 A*"},
		{"one copy for two, read silently", Hours{Pause: -1, Copies: []Copies{{"k", 1}}}, []Group{{Class: "c", Grade: 4, Children: []Child{ann, ben}, Steps: silent}},
			"background 10 AB*, reading 20 A 1c, reading 20 B 1c, questions 15 A, questions 15 B, discussion 10 AB*"},
		{"grade 1 needs the teacher more", Hours{Pause: -1}, []Group{{Class: "c", Grade: 1, Children: []Child{ann}, Steps: silent}},
			"background 10 A*, reading 20 A 1c, questions 15 A*, discussion 10 A*"},
		{"two classes, one book", Hours{Pause: -1}, []Group{
			{Class: "c", Grade: 4, Children: []Child{ann}, Steps: append(lesson("k"), step("m", 1, plan.Test, 9))},
			{Class: "d", Grade: 5, Children: []Child{ben, cal}, Steps: append([]plan.Step{step("n", 3, plan.Corrections, 5)}, lesson("k")...)}},
			"corrections 5 BC*, background 10 ABC*, reading 20 ABC* 3c, questions 15 A, questions 15 BC, discussion 10 ABC*, test 9 A"},
	} {
		p, err := Day(c.h, c.groups)
		if err != nil {
			t.Fatal(err)
		}
		if got := blocks(p); got != c.want {
			t.Errorf("%s:\ngot  %s\nwant %s", c.name, got, c.want)
		}
		r, err := Solve(ctx, p)
		if err != nil || !r.Exact {
			t.Errorf("%s: %v %v", c.name, r, err)
		} else {
			lawful(t, p, r)
		}
	}
	// A school class of thirty with fifteen copies keeps step.
	var thirty []Child
	for i := range 30 {
		thirty = append(thirty, Child{ID: fmt.Sprint(i)})
	}
	silent[3].With = plan.WithEach
	p, err := Day(Hours{Copies: []Copies{{"k", 15}}}, []Group{{Class: "c", Grade: 4, Children: thirty, Steps: silent}})
	if err != nil || len(p.Blocks) != 5 {
		t.Fatal(len(p.Blocks), err)
	}
	if r, err := Solve(ctx, p); err != nil || !r.Exact || len(r.Waits) != 0 {
		t.Errorf("%+v %v", r, err)
	}
	for says, groups := range map[string][]Group{
		"no students":       {{Class: "c", Grade: 4, Steps: lesson("k")}},
		"is in two classes": {{Class: "c", Grade: 4, Children: []Child{ann}, Steps: lesson("k")}, {Class: "d", Grade: 4, Children: []Child{ann}, Steps: lesson("k")}},
	} {
		if _, err := Day(Hours{}, groups); !fault.Is(err, fault.Invalid) || !strings.Contains(err.Error(), says) {
			t.Errorf("%s: %v", says, err)
		}
	}
}
