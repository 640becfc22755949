package ical

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"
	"unicode/utf8"

	"pgregory.net/rapid"

	"bookstead/internal/calendar"
	"bookstead/internal/fault"
	"bookstead/internal/kit"
	"bookstead/internal/plan"
)

var stamp = time.Date(2026, 9, 1, 12, 0, 0, 0, time.UTC)

func options() Options {
	return Options{Name: "Grade 4; Miss Ames, room 3", Stamp: stamp,
		Title: func(kit.ID) string { return "The Bell\\Under; the Water, retold" },
		Lesson: func(_ kit.ID, n int) string {
			return fmt.Sprintf("Chapter %d, “The Tide Comes In Over the Old Stone Quay at Night”", n)
		}}
}

func day(d int, steps ...plan.Step) plan.Day {
	return plan.Day{Date: calendar.Of(2026, 12, d), Available: 60, Steps: steps}
}

func step(lesson int, kind plan.StepKind, minutes int) plan.Step {
	return plan.Step{Kit: "k", Lesson: lesson, Kind: kind, Minutes: minutes}
}

func example() plan.Plan {
	quiz := step(2, plan.Quiz, 15)
	quiz.From = 1
	return plan.Plan{Class: "c", Days: []plan.Day{
		day(30, step(1, plan.Background, 10), step(1, plan.Reading, 25)),
		day(31, step(1, plan.Questions, 15), step(2, plan.Background, 10), step(2, plan.Reading, 1), quiz),
	}}
}

func write(t testing.TB, p plan.Plan, o Options) string {
	t.Helper()
	var b bytes.Buffer
	if err := Write(&b, p, o); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

type held struct {
	Name   string
	Events []struct {
		UID, Summary, Description, Start, End, Zone, Stamp string
		AllDay                                             bool
		Sequence                                           int
	}
}

// read imports the calendars with ical.js and gives what a calendar then holds.
func read(t *testing.T, calendars ...string) held {
	t.Helper()
	node, err := exec.LookPath("node")
	if err != nil {
		t.Fatal("This check needs Node.js, which reads the calendar back with an independent parser.")
	}
	args := []string{"testdata/read.mjs"}
	for i, c := range calendars {
		file := filepath.Join(t.TempDir(), fmt.Sprint(i, ".ics"))
		if err := os.WriteFile(file, []byte(c), 0o600); err != nil {
			t.Fatal(err)
		}
		args = append(args, file)
	}
	out, err := exec.Command(node, args...).CombinedOutput()
	if err != nil {
		t.Fatalf("reading back with ical.js (run `npm ci`): %v\n%s", err, out)
	}
	var h held
	if err := json.Unmarshal(out, &h); err != nil {
		t.Fatalf("%v: %s", err, out)
	}
	return h
}

func TestReadBackByAnIndependentParser(t *testing.T) {
	h := read(t, write(t, example(), options()))
	// ical.js does not know NAME (RFC 7986), so it leaves its escapes in.
	if h.Name != `Grade 4\; Miss Ames\, room 3` || len(h.Events) != 4 {
		t.Fatalf("%+v", h)
	}
	e := h.Events[1]
	if e.Summary != "The Bell\\Under; the Water, retold: lesson 1, Chapter 1, “The Tide Comes In Over the Old Stone Quay at Night” (day 2 of 2)" ||
		e.Description != "questions: 15 minutes" || !e.AllDay || e.Start != "2026-12-31" || e.End != "2027-01-01" || e.Zone != "floating" || e.Stamp != "2026-09-01T12:00:00Z" {
		t.Errorf("%+v", e)
	}
	if e := h.Events[2]; e.Description != "background: 10 minutes\nreading: 1 minute" || !strings.Contains(e.Summary, "lesson 2") || strings.Contains(e.Summary, "day") {
		t.Errorf("%+v", e)
	}
	if e := h.Events[3]; e.Summary != "The Bell\\Under; the Water, retold: quiz on lessons 1 to 2" {
		t.Errorf("%+v", e)
	}
}

func TestTimed(t *testing.T) {
	o := options()
	o.Timed, o.Begins = true, 9*time.Hour+30*time.Minute
	h := read(t, write(t, example(), o))
	var got []string
	for _, e := range h.Events {
		got = append(got, e.Start+" "+e.End)
		if e.AllDay || e.Zone != "floating" {
			t.Errorf("%+v", e)
		}
	}
	want := []string{"2026-12-30T09:30:00 2026-12-30T10:05:00", "2026-12-31T09:30:00 2026-12-31T09:45:00",
		"2026-12-31T09:45:00 2026-12-31T09:56:00", "2026-12-31T09:56:00 2026-12-31T10:11:00"}
	if !slices.Equal(got, want) {
		t.Errorf("got  %v\nwant %v", got, want)
	}
	o.Begins = 25 * time.Hour
	if err := Write(&bytes.Buffer{}, example(), o); !fault.Is(err, fault.Invalid) {
		t.Errorf("a day that begins at 25 o'clock: %v", err)
	}
}

// A plan that was imported, then changed and imported again, leaves each event
// once, where the new plan has it.
func TestUpdate(t *testing.T) {
	before := example()
	after := plan.Plan{Class: "c", Sequence: 1, Days: []plan.Day{
		day(30, step(1, plan.Background, 10), step(1, plan.Reading, 25), step(1, plan.Questions, 15)),               // on one day now
		{Date: calendar.Of(2027, 1, 4), Steps: []plan.Step{step(2, plan.Background, 10), step(2, plan.Reading, 1)}}, // moved
	}} // the quiz is gone
	o := options()
	first := write(t, before, o)
	o.Before = &before
	second := write(t, after, o)
	h := read(t, first, second)
	var got []string
	for _, e := range h.Events {
		got = append(got, fmt.Sprint(e.Start, " ", e.Sequence, " ", e.Summary[len("The Bell\\Under; the Water, retold: "):][:8]))
	}
	if want := []string{"2026-12-30 1 lesson 1", "2027-01-04 1 lesson 2"}; !slices.Equal(got, want) {
		t.Errorf("got  %v\nwant %v", got, want)
	}
	// Imported in the wrong order, the newer plan stays.
	if again := read(t, second, first); len(again.Events) < 2 || again.Events[0].Sequence != 1 {
		t.Errorf("%+v", again)
	}
	if !strings.Contains(second, "STATUS:CANCELLED") || strings.Contains(first, "CANCELLED") {
		t.Error("what is gone is not cancelled")
	}
}

// A changed plan that is not agreed yet updates what was imported; one agreed
// behind it does so again; a calendar that missed an export is put right when
// that export is named.
func TestUpdateBeforeAgreed(t *testing.T) {
	agreed := example()
	agreed.Sequence = 3
	changed := plan.Plan{Class: "c", Sequence: 3, Days: []plan.Day{
		day(30, step(1, plan.Background, 10), step(1, plan.Reading, 25), step(1, plan.Questions, 15), step(3, plan.Extension, 5)),
		{Date: calendar.Of(2027, 1, 4), Steps: []plan.Step{step(2, plan.Background, 10), step(2, plan.Reading, 1)}},
	}}
	o := options()
	first := write(t, agreed, o)
	o.Before = &agreed
	if h := read(t, first, write(t, agreed, o)); h.Events[0].Sequence != 3 {
		t.Errorf("nothing changed: %+v", h.Events[0])
	}
	second := write(t, changed, o)
	h := read(t, first, second)
	if len(h.Events) != 3 || h.Events[0].Sequence != 4 {
		t.Errorf("%+v", h.Events)
	}
	last := example()
	last.Sequence = 4
	o.Before, o.Earlier = &agreed, []plan.Plan{changed}
	third := write(t, last, o)
	if h := read(t, first, second, third); len(h.Events) != 4 || h.Events[0].Sequence != 4 && h.Events[0].Sequence != 5 {
		t.Errorf("%+v", h.Events)
	}
	for _, e := range read(t, first, second, third).Events {
		if strings.Contains(e.Summary, "lesson 3") {
			t.Errorf("what was exported between is still there: %+v", e)
		}
	}
}

func TestUIDs(t *testing.T) {
	a := eventsOf(example(), Options{})
	moved := example()
	for i := range moved.Days {
		moved.Days[i].Date += 7
	}
	b := eventsOf(moved, Options{})
	seen := map[string]bool{}
	for i := range a {
		if a[i].uid != b[i].uid || seen[a[i].uid] {
			t.Errorf("event %d: %s, %s", i, a[i].uid, b[i].uid)
		}
		seen[a[i].uid] = true
	}
	other := example()
	other.Class = "d"
	if eventsOf(other, Options{})[0].uid == a[0].uid {
		t.Error("two classes share an event")
	}
}

// Laws of content lines, RFC 5545 sections 3.1 and 3.3.11.
func TestLines(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := rapid.StringOf(rapid.OneOf(rapid.Rune(), rapid.SampledFrom([]rune(`\;,:"“é🌊`+"\n\r\t")))).Draw(t, "text")
		var b lines
		b.put("SUMMARY", text(s))
		out := b.String()
		if !strings.HasSuffix(out, "\r\n") || !utf8.ValidString(out) {
			t.Fatalf("%q", out)
		}
		for _, l := range strings.Split(strings.TrimSuffix(out, "\r\n"), "\r\n") {
			if len(l) > 75 || !utf8.ValidString(l) || strings.ContainsAny(l, "\r\n") {
				t.Fatalf("a line of %d octets: %q", len(l), l)
			}
		}
		// Unfolded and unescaped, it is the text without control characters.
		flat := strings.TrimPrefix(strings.ReplaceAll(strings.TrimSuffix(out, "\r\n"), "\r\n ", ""), "SUMMARY:")
		back := strings.NewReplacer(`\\`, `\`, `\;`, ";", `\,`, ",", `\n`, "\n").Replace(flat)
		want := strings.NewReplacer("\r\n", "\n", "\r", "\n").Replace(s)
		want = strings.Map(func(r rune) rune {
			if r == '\n' || r == '\t' || r >= ' ' && (r < 0x7f || r >= 0xa0) {
				return r
			}
			return -1
		}, want)
		if back != want {
			t.Fatalf("%q became %q", want, back)
		}
	})
	var b lines
	b.put("X", strings.Repeat("a", 300))
	for i, l := range strings.Split(strings.TrimSuffix(b.String(), "\r\n"), "\r\n") {
		if want := []int{75, 75, 75, 75, 6}[i]; len(l) != want || i > 0 && l[0] != ' ' {
			t.Errorf("line %d has %d octets, want %d", i, len(l), want)
		}
	}
	for in, want := range map[string]string{"a\r\nb\rc\nd": `a\nb\nc\nd`, "x\x00y\x7f": "xy", "\xff!": "!", `1;2,3\4`: `1\;2\,3\\4`} {
		if got := text(in); got != want {
			t.Errorf("text(%q) = %s, want %s", in, got, want)
		}
	}
}

func TestSameBytes(t *testing.T) {
	if write(t, example(), options()) != write(t, example(), options()) {
		t.Error("not the same twice")
	}
	if got := write(t, plan.Plan{}, Options{Stamp: stamp}); got != "BEGIN:VCALENDAR\r\nVERSION:2.0\r\nPRODID:-//Bookstead//Plan//EN\r\nCALSCALE:GREGORIAN\r\nMETHOD:PUBLISH\r\nEND:VCALENDAR\r\n" {
		t.Errorf("an empty plan: %q", got)
	}
}

type full struct{}

func (full) Write([]byte) (int, error) { return 0, errors.New("no space left") }

func TestDiskFull(t *testing.T) {
	if err := Write(full{}, example(), options()); err == nil || !strings.Contains(err.Error(), "writing the calendar: no space left") {
		t.Error(err)
	}
}
