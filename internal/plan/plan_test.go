package plan

import (
	"encoding/json"
	"reflect"
	"testing"

	"bookstead/internal/calendar"
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
