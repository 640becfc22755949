package plan

import (
	"encoding/json"
	"reflect"
	"testing"

	"bookstead/internal/calendar"
	"bookstead/internal/class"
	"bookstead/internal/kit"
)

func day(d int) calendar.Date { return calendar.Of(2026, 9, d) }

func TestDiff(t *testing.T) {
	before := Plan{Days: []Day{
		{Date: day(7), Steps: []Step{{Kit: "k", Lesson: 1, Kind: Background}, {Kit: "k", Lesson: 1, Kind: Reading}}},
		{Date: day(8), Steps: []Step{{Kit: "k", Lesson: 2, Kind: Reading}, {Kit: "k", Lesson: 2, Kind: Quiz}}},
		{Date: day(9), Steps: []Step{{Kit: "k", Lesson: 3, Kind: Reading}}},
	}}
	after := Plan{Days: []Day{
		{Date: day(7), Steps: []Step{{Kit: "k", Lesson: 1, Kind: Background}}},
		{Date: day(8), Steps: []Step{{Kit: "k", Lesson: 1, Kind: Reading}}},
		{Date: day(9), Steps: []Step{{Kit: "k", Lesson: 2, Kind: Reading}, {Kit: "k", Lesson: 2, Kind: Quiz}}},
		{Date: day(10), Steps: []Step{{Kit: "k", Lesson: 4, Kind: Reading}}},
	}}
	want := []Change{
		{"k", 2, "", day(8), day(9)}, {"k", 2, Quiz, day(8), day(9)},
		{"k", 4, "", calendar.None, day(10)}, {"k", 3, "", day(9), calendar.None},
	}
	if got := Diff(before, after); !reflect.DeepEqual(got, want) {
		t.Errorf("got  %v\nwant %v", got, want)
	}
	if got := Diff(before, before); got != nil {
		t.Errorf("nothing changed, but %v", got)
	}
}

func TestJSON(t *testing.T) {
	p := Plan{Class: "c", Days: []Day{{Date: day(7), Available: 60, Steps: []Step{{Kit: "k", Lesson: 1, Kind: Reading, Minutes: 20}}}},
		Shortfalls: []Shortfall{{Kit: "k", Wanted: day(8), Days: 2}}}
	b, err := json.Marshal(p)
	if err != nil {
		t.Fatal(err)
	}
	var q Plan
	if err := json.Unmarshal(b, &q); err != nil || !reflect.DeepEqual(p, q) {
		t.Errorf("%v: %s", err, b)
	}
}

func TestSpan(t *testing.T) {
	p := Plan{Days: []Day{{Date: day(7), Steps: []Step{{Kit: "a"}}}, {Date: day(8), Steps: []Step{{Kit: "b"}, {Kit: "a"}}}, {Date: day(9), Steps: []Step{{Kit: "b"}}}}}
	for id, want := range map[string][2]calendar.Date{"a": {day(7), day(8)}, "b": {day(8), day(9)}} {
		if f, l, ok := p.Span(kit.ID(id)); !ok || f != want[0] || l != want[1] {
			t.Errorf("%s: %s to %s", id, f, l)
		}
	}
	if _, _, ok := p.Span("c"); ok {
		t.Error("a book that is not there has days")
	}
}

func TestWithOf(t *testing.T) {
	for _, c := range []struct {
		s     Step
		grade int
		want  With
	}{
		{Step{Kind: Reading, Mode: class.Turns}, 4, WithTeacher}, {Step{Kind: Reading, Mode: class.Silent}, 1, Alone}, {Step{Kind: Questions}, 2, WithTeacher},
		{Step{Kind: Questions}, 3, Alone}, {Step{Kind: Again}, 1, Alone}, {Step{Kind: Test}, 6, Alone}, {Step{Kind: Corrections}, 6, WithTeacher},
		{Step{Kind: Test, With: WithEach}, 6, WithEach},
	} {
		if got := WithOf(c.s, c.grade); got != c.want {
			t.Errorf("%+v in grade %d: %s", c.s, c.grade, got)
		}
	}
}
