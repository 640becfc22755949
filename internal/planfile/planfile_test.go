package planfile

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"os"
	"slices"
	"strings"
	"testing"

	"bookstead/internal/calendar"
	"bookstead/internal/fault"
)

var (
	ctx    = context.Background()
	monday = calendar.Of(2026, 9, 7)
)

func read(t *testing.T, s string) *File {
	t.Helper()
	f, err := Read(strings.NewReader(s))
	if err != nil {
		t.Fatal(err)
	}
	return f
}

// Both examples of the documentation are read and answered as it says.
func TestExamples(t *testing.T) {
	doc, err := os.ReadFile("../../docs/plan-file.md")
	if err != nil {
		t.Fatal(err)
	}
	_, rest, _ := strings.Cut(string(doc), "```json\n")
	one, _, _ := strings.Cut(rest, "```")
	f := read(t, one)
	a, err := f.Plan(ctx)
	if err != nil || len(a.Classes) != 1 || len(a.Classes[0].Plan.Days) != 2 || len(a.Classes[0].Unmet) != 0 {
		t.Fatalf("%+v %v", a, err)
	}
	if err := f.Timetable(ctx, a, monday); !fault.Is(err, fault.Invalid) || !strings.Contains(err.Error(), "no students") {
		t.Errorf("a timetable without children: %v", err)
	}
	two, err := os.ReadFile("../../docs/plan-example.json")
	if err != nil {
		t.Fatal(err)
	}
	f = read(t, string(two))
	if a, err = f.Plan(ctx); err != nil {
		t.Fatal(err)
	}
	if err := f.Timetable(ctx, a, monday); err != nil {
		t.Fatal(err)
	}
	if d := a.Timetable; !d.Exact || d.Ends != 10*60+45 || len(d.Placed) != len(d.Blocks) {
		t.Errorf("%+v", d.Result)
	}
	var out bytes.Buffer
	if err := f.WriteText(&out, a); err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{"Grade 4\n", "Mon 07 Sep 2026   60 of  60  The Bell on the Quay, lesson 1: background 10", "Price, 193 points: days 120, lessons cut 25",
		"What could not be met\n    Ann should read aloud", "09:20–09:30  with you  Ann, Ben: background, lesson 1 of The Bell on the Quay", "No other order of the day is better."} {
		if !strings.Contains(out.String(), want) {
			t.Errorf("%q is missing in\n%s", want, out.String())
		}
	}
	b, err := json.Marshal(a)
	var keys map[string]json.RawMessage
	if err != nil || json.Unmarshal(b, &keys) != nil || keys["classes"] == nil || keys["timetable"] == nil || !bytes.Contains(b, []byte(`"unkept":[{"child":"ann"`)) {
		t.Errorf("%v: %s", err, b)
	}
	// A block that was moved stays where it was put.
	i := slices.IndexFunc(f.Classes, func(c Class) bool { return c.Name == "Grade 1" })
	f.Day.Pins = append(f.Day.Pins, f.Day.Pins...)
	if i != 1 {
		t.Errorf("%v", f.Classes)
	}
	err = f.Timetable(ctx, a, monday+2)
	if !fault.Is(err, fault.Invalid) || !strings.Contains(fault.Of(err).Message, "No class has work on Wednesday 9 September 2026") {
		t.Errorf("%v", err)
	}
}

// A plan made anew shows what changes and how to catch up.
func TestAnew(t *testing.T) {
	first := read(t, school(`{"steps": [{"kind": "reading", "minutes": 20}]}`, `{"steps": [{"kind": "reading", "minutes": 40, "mode": "turns"}, {"kind": "extension", "minutes": 15}]}, {"steps": [{"kind": "reading", "minutes": 40, "mode": "turns"}, {"kind": "extension", "minutes": 15}]}`))
	a, err := first.Plan(ctx)
	if err != nil || len(a.Classes[0].Changes)+len(a.Classes[0].Ways) != 0 {
		t.Fatalf("%+v %v", a, err)
	}
	c := &first.Classes[0]
	c.Agreed, c.From, c.Wish.Days = &a.Classes[0].Plan, monday+1, []calendar.Special{{Name: "Flu", Date: monday + 1}}
	if a, err = first.Plan(ctx); err != nil {
		t.Fatal(err)
	}
	var out bytes.Buffer
	if err := first.WriteText(&out, a); err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{"What changes\n    The Quay, lesson 2: from Tue 8 Sep to Wed 9 Sep", "Ways to catch up\n    Read lesson 2 aloud yourself", "Leave out the extension in lesson 2. Saves 15 minutes"} {
		if !strings.Contains(out.String(), want) {
			t.Errorf("%q is missing in\n%s", want, out.String())
		}
	}
}

// school is a file with one book of one lesson; change puts something else into it.
func school(old, new string) string {
	s := `{"calendar": {"first": "2026-09-07", "last": "2026-12-18", "minutes": [0, 60, 60, 60, 60, 60, 0], "terms": [{"name": "Autumn", "first": "2026-09-07", "last": "2026-12-18"}], "daysOff": []},
 "grade": 4, "children": [{"id": "ann", "rules": []}], "books": [{"kit": "k", "title": "The Quay", "lessons": [{"steps": [{"kind": "reading", "minutes": 20}]}]}]}`
	if !strings.Contains(s, old) {
		panic(old)
	}
	return strings.Replace(s, old, new, 1)
}

func TestBadFiles(t *testing.T) {
	for _, c := range []struct{ old, new, says string }{
		{`"daysOff": []`, `"daysOff": [{"name": "Rebuilding", "first": "2026-09-01", "last": "2026-12-31"}]`, "No day of the school year has time for books."},
		{`"last": "2026-12-18", "min`, `"last": "2026-08-18", "min`, "The school year ends on 18 August 2026, before it starts on 7 September 2026."},
		{`"daysOff": []`, `"daysOff": [{"name": "Fair", "first": "2026-10-02", "last": "2026-10-01"}]`, `"Fair" ends on 1 October 2026, before it starts`},
		{`"daysOff": []`, `"appointments": [{"name": "Choir"}]`, "“Choir” has no day."},
		{`[0, 60, 60, 60, 60, 60, 0]`, `[0, 0, 0, 0, 0, 0, 0]`, "No day of the school year has time for books."},
		{`[0, 60, 60, 60, 60, 60, 0]`, `[0, -5, 0, 0, 0, 0, 0]`, "Monday has -5 minutes."},
		{`"minutes": 20`, `"minutes": 0`, "There is nothing to plan"},
		{`"minutes": 20`, `"minutes": -3`, "has -3 minutes"},
		{`"kind": "reading"`, `"kind": "reeding"`, `of a kind that there is not: "reeding"`},
		{`"rules": []`, `"rules": [{"habit": "sings", "minutes": 5}]`, `ann: "sings" is no kind of reading`},
		{`"rules": []`, `"rules": [{"habit": "aloud"}]`, "ann: A rule asks for 0 minutes."},
		{`"id": "ann"`, `"id": ""`, "has no id"},
		{`"grade": 4`, `"grade": 9`, "is of grade 9"},
		{`"grade": 4`, `"grade": 4, "weekStart": 8`, "cannot start on day 8"},
		{`"grade": 4`, `"grade": 4, "classes": [{"class": "x"}]`, "books beside its classes"},
		{`"first": "2026-09-07", "last"`, `"first": "next week", "last"`, `"next week" is not a date`},
		{`"grade": 4`, `"grade": "four"`, `"grade" should not be a string`},
		{`"grade": 4`, `"grades": 4`, "cannot be read"},
		{`}]}]}]}`, `}]}]}`, "cannot be read"},
	} {
		f, err := Read(strings.NewReader(school(c.old, c.new)))
		if err == nil {
			_, err = f.Plan(ctx)
		}
		if x := fault.Of(err); err == nil || x.Kind == fault.Internal || !strings.Contains(x.Message, c.says) || x.Hint == "" {
			t.Errorf("%s:\n%v", c.says, err)
		}
	}
}

// What is allowed and yet likely a mistake is said, and the plan made all the same.
func TestOddFiles(t *testing.T) {
	for _, c := range []struct{ old, new, says string }{
		{`"minutes": 20`, `"minutes": 95`, "One lesson is longer than any day, so it goes on over more than one: lesson 1 of “The Quay” takes 95 minutes, a day has 60."},
		{`{"kind": "reading", "minutes": 20}`, `{"kind": "reading", "minutes": 20}, {"kind": "questions", "minutes": 0}`, "Steps without minutes are left out of the plan; there are 1."},
		{`[{"id": "ann", "rules": []}]`, `[]`, "The class has no students"},
		{`"daysOff": []`, `"daysOff": [], "special": [{"name": "Fair", "date": "2027-02-29", "minutes": 0}]`, ""},
		{`"terms": [`, `"terms": [{"name": "Summer", "first": "2026-06-01", "last": "2026-07-01"}, `, "“Summer” lies outside the school year."},
		{`"terms": [`, `"daysOff": [{"name": "Half term", "first": "2026-10-19", "last": "2026-10-23"}], "terms": [{"name": "Short term", "first": "2026-10-19", "last": "2026-10-21"}, `, "“Short term” has no school day left: days off cover all of it."},
	} {
		s := school(c.old, c.new)
		if c.new != `"daysOff": []` {
			s = strings.Replace(s, `, "daysOff": []}`, "}", 1)
		}
		f, err := Read(strings.NewReader(s))
		if c.says == "" {
			if err == nil || !strings.Contains(err.Error(), "2027-02-29") {
				t.Errorf("29 February 2027: %v", err)
			}
			continue
		}
		if err != nil {
			t.Fatal(err)
		}
		a, err := f.Plan(ctx)
		if err != nil || len(a.Classes[0].Plan.Days) == 0 || !strings.Contains(strings.Join(a.Classes[0].Plan.Notes, " "), c.says) {
			t.Errorf("%s: %v", c.says, err)
		}
	}
	long := school(`"lessons": [`, `"lessons": [`+strings.Repeat(`{"steps": [{"kind": "reading", "minutes": 55}]},`, 200))
	f := read(t, long)
	a, err := f.Plan(ctx)
	if err != nil || len(a.Classes[0].Unmet) == 0 || !strings.Contains(a.Classes[0].Unmet[0], "too short for “The Quay”") {
		t.Errorf("%v", err)
	}
	if _, err := Read(endless{}); !fault.Is(err, fault.TooLarge) {
		t.Errorf("an endless file: %v", err)
	}
	f = read(t, fmt.Sprintf(`{"calendar": {"first": "2026-09-07", "last": "2026-12-18", "minutes": [0,60,0,0,0,0,0]}, "classes": [%s]}`,
		strings.Repeat(`{"books": [{"kit": "k", "lessons": [{"steps": [{"kind": "reading", "minutes": 20}]}]}]}, `, 2)+`{"name": "Empty"}`))
	if _, err := f.Plan(ctx); !fault.Is(err, fault.Invalid) || !strings.Contains(err.Error(), "Empty: There is nothing to plan") {
		t.Errorf("%v", err)
	}
}

type endless struct{}

func (endless) Read(b []byte) (int, error) {
	for i := range b {
		b[i] = ' '
	}
	return len(b), nil
}
