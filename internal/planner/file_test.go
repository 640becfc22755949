package planner

import (
	"encoding/json"
	"os"
	"strings"
	"testing"

	"bookstead/internal/calendar"
	"bookstead/internal/fault"
	"bookstead/internal/plan"
)

// The example of docs/plan-file.md is read and planned as it says.
func TestPlanFile(t *testing.T) {
	doc, err := os.ReadFile("../../docs/plan-file.md")
	if err != nil {
		t.Fatal(err)
	}
	_, rest, ok := strings.Cut(string(doc), "```json\n")
	example, _, ok2 := strings.Cut(rest, "```")
	if !ok || !ok2 {
		t.Fatal("docs/plan-file.md has no example")
	}
	r, err := Read(strings.NewReader(example))
	if err != nil {
		t.Fatal(err)
	}
	if r.Weights.Test != 0 || r.Weights.Day != Usual().Day {
		t.Errorf("weights: %+v", r.Weights)
	}
	if err := Check(r); err != nil {
		t.Error(err)
	}
	p := mustPlan(t, r).Plan
	if got := show(p); got != "07 1b10 1r20 1q15 1d5 2b10 | 08 2r24 2q15 2d6 2Q15" {
		t.Errorf("%s", got)
	}
	// What is written can be read again, with the plan agreed.
	r.Agreed, r.From = &p, monday+1
	b, err := json.Marshal(r)
	if err != nil {
		t.Fatal(err)
	}
	again, err := Read(strings.NewReader(string(b)))
	if err != nil {
		t.Fatalf("%v: %s", err, b)
	}
	if got := mustPlan(t, again).Plan; show(got) != show(p) || len(plan.Diff(p, got)) != 0 {
		t.Errorf("%s", show(got))
	}
}

func TestPlanFileBroken(t *testing.T) {
	for in, says := range map[string]string{
		``:                                       "it is empty",
		"{\n\"books\": [}":                       "at line 2",
		`{"calendar": {`:                         "it breaks off before its end",
		`{"book": []}`:                           `a field that there is not, "book"`,
		`{"books": 7}`:                           `"books" should not be a number`,
		`{"calendar": {"first": "7 September"}}`: "is not a date",
		`{} {}`:                                  "cannot be read",
		`{"books": [{"title": "The Quay", "lessons": [{"steps": [{"minutes": 5}]}]}]}`: "lesson 1 of “The Quay” has no kind",
	} {
		_, err := Read(strings.NewReader(in))
		if f := fault.Of(err); err == nil || f.Kind == fault.Internal || !strings.Contains(f.Message, says) || f.Hint == "" {
			t.Errorf("%s: %v", in, err)
		}
	}
	if _, err := Plan(ctx, Request{Calendar: calendar.PlainYear(monday, 60)}); !fault.Is(err, fault.Invalid) {
		t.Errorf("an empty request: %v", err)
	}
}
