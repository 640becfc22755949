package holidays

import (
	"context"
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"bookstead/internal/calendar"
	"bookstead/internal/fault"
)

var (
	ctx   = context.Background()
	first = calendar.Of(2026, time.August, 1)
	last  = calendar.Of(2027, time.July, 31)
)

func read(t *testing.T, s string) *Import {
	t.Helper()
	m, err := Read(ctx, []byte(s), first, last, MonthFirst)
	if err != nil {
		t.Fatalf("%v\n%s", err, s)
	}
	return m
}

func show(list []calendar.Range) string {
	var out []string
	for _, r := range list {
		s := r.First.String()
		if r.Last != r.First {
			s += ".." + r.Last.String()
		}
		out = append(out, s+" "+r.Name)
	}
	return strings.Join(out, "; ")
}

func file(events ...string) string {
	s := "BEGIN:VCALENDAR\r\nVERSION:2.0\r\n"
	for _, e := range events {
		s += "BEGIN:VEVENT\r\n" + strings.ReplaceAll(e, "\n", "\r\n") + "\r\nEND:VEVENT\r\n"
	}
	return s + "END:VCALENDAR\r\n"
}

func TestCalendarFiles(t *testing.T) {
	for name, c := range map[string]struct{ event, want string }{
		"one day":                  {"DTSTART;VALUE=DATE:20261126\nDTEND;VALUE=DATE:20261127\nSUMMARY:Harvest\\, home", "2026-11-26 Harvest, home"},
		"no end":                   {"DTSTART;VALUE=DATE:20261126\nSUMMARY:Fair", "2026-11-26 Fair"},
		"over New Year":            {"DTSTART;VALUE=DATE:20261221\nDTEND;VALUE=DATE:20270105\nSUMMARY:Winter", "2026-12-21..2027-01-04 Winter"},
		"a length":                 {"DTSTART;VALUE=DATE:20261221\nDURATION:P2W\nSUMMARY:Winter", "2026-12-21..2027-01-03 Winter"},
		"a folded line":            {"DTSTART;VALUE=DATE:20261126\nSUMMARY:A very long na\n me of a day", "2026-11-26 A very long name of a day"},
		"midnight to midnight":     {"DTSTART:20261126T000000\nDTEND:20261128T000000\nSUMMARY:Fair", "2026-11-26..2026-11-27 Fair"},
		"a zone shifts nothing":    {"DTSTART;TZID=\"Pacific/Kiritimati\":20261126T000000\nDTEND;TZID=\"Pacific/Kiritimati\":20261128T235900\nSUMMARY:Fair", "2026-11-26..2026-11-28 Fair"},
		"hours are no day off":     {"DTSTART:20261126T180000Z\nDTEND:20261126T200000Z\nSUMMARY:Evening", ""},
		"called off":               {"DTSTART;VALUE=DATE:20261126\nSTATUS:CANCELLED\nSUMMARY:Fair", ""},
		"another year":             {"DTSTART;VALUE=DATE:20241126\nSUMMARY:Fair", ""},
		"every year":               {"DTSTART;VALUE=DATE:20101225\nRRULE:FREQ=YEARLY\nSUMMARY:Feast", "2026-12-25 Feast"},
		"every leap year":          {"DTSTART;VALUE=DATE:20240229\nRRULE:FREQ=YEARLY\nSUMMARY:Leap", ""},
		"the fourth Thursday":      {"DTSTART;VALUE=DATE:20101125\nRRULE:FREQ=YEARLY;BYMONTH=11;BYDAY=4TH\nSUMMARY:Thanks", "2026-11-26 Thanks"},
		"every other Friday":       {"DTSTART;VALUE=DATE:20261002\nRRULE:FREQ=WEEKLY;INTERVAL=2;COUNT=3\nSUMMARY:Off", "2026-10-02 Off; 2026-10-16 Off; 2026-10-30 Off"},
		"until, with an hour":      {"DTSTART;VALUE=DATE:20261002\nRRULE:FREQ=WEEKLY;UNTIL=20261016T000000Z\nSUMMARY:Off", "2026-10-02 Off; 2026-10-09 Off; 2026-10-16 Off"},
		"but not on":               {"DTSTART;VALUE=DATE:20261002\nRRULE:FREQ=DAILY;COUNT=3\nEXDATE;VALUE=DATE:20261003\nSUMMARY:Off", "2026-10-02 Off; 2026-10-04 Off"},
		"and on":                   {"DTSTART;VALUE=DATE:20261002\nRDATE;VALUE=DATE:20261105,20261002\nSUMMARY:Off", "2026-10-02 Off; 2026-11-05 Off"},
		"begun before the window":  {"DTSTART;VALUE=DATE:20260725\nDTEND;VALUE=DATE:20260803\nSUMMARY:Summer", "2026-07-25..2026-08-02 Summer"},
		"an alarm inside":          {"DTSTART;VALUE=DATE:20261126\nSUMMARY:Fair\nBEGIN:VALARM\nDURATION:PT5M\nSUMMARY:Ring\nEND:VALARM", "2026-11-26 Fair"},
		"recurring, over New Year": {"DTSTART;VALUE=DATE:20151224\nDTEND;VALUE=DATE:20160103\nRRULE:FREQ=YEARLY\nSUMMARY:Winter", "2026-12-24..2027-01-02 Winter"},
	} {
		m := read(t, file(c.event))
		if got := show(m.DaysOff); got != c.want || len(m.Problems) != 0 || m.Events != 1 {
			t.Errorf("%s: %q, want %q; %v", name, got, c.want, m.Problems)
		}
	}
	// A single day of a series was moved.
	m := read(t, file("UID:a\nDTSTART;VALUE=DATE:20261002\nRRULE:FREQ=WEEKLY;COUNT=3\nSUMMARY:Off", "UID:a\nRECURRENCE-ID;VALUE=DATE:20261009\nDTSTART;VALUE=DATE:20261010\nSUMMARY:Off, moved"))
	if got := show(m.DaysOff); got != "2026-10-02 Off; 2026-10-10 Off, moved; 2026-10-16 Off" {
		t.Errorf("%s", got)
	}
	// Twice the same, and hours that are told.
	m = read(t, file("DTSTART;VALUE=DATE:20261126\nSUMMARY:Fair", "DTSTART;VALUE=DATE:20261126\nSUMMARY:Fair", "DTSTART:20261126T180000\nDTEND:20261126T190000"))
	if show(m.DaysOff) != "2026-11-26 Fair" || len(m.Notes) != 1 || !strings.Contains(m.Notes[0], "left out, 1 of them") {
		t.Errorf("%+v", m)
	}
}

// A broken line is told with its number, and the rest is read.
func TestBrokenCalendars(t *testing.T) {
	good := "DTSTART;VALUE=DATE:20261126\nSUMMARY:Fair"
	for name, c := range map[string]struct{ in, says string }{
		"no colon":      {file(good, "DTSTART;VALUE=DATE:20261127\nThis is no line\nSUMMARY:Off"), "Line 9: “This is no line” is no line of a calendar."},
		"no such date":  {file(good, "DTSTART;VALUE=DATE:20270229\nSUMMARY:Off"), "Line 8: “20270229” is no date."},
		"no such hour":  {file(good, "DTSTART:20261126T990000\nSUMMARY:Off"), "Line 8: “20261126T990000” is no date."},
		"no date":       {file(good, "SUMMARY:Off"), "Line 7: an entry has no date."},
		"end first":     {file(good, "DTSTART;VALUE=DATE:20261128\nDTEND;VALUE=DATE:20261120\nSUMMARY:Off"), "Line 7: “Off” ends on 19 November 2026, before it starts on 28 November 2026."},
		"no rule":       {file(good, "DTSTART;VALUE=DATE:20261128\nRRULE:FREQ=SOMETIMES\nSUMMARY:Off"), "Line 9: “FREQ=SOMETIMES” is no rule"},
		"every second":  {file(good, "DTSTART;VALUE=DATE:20261128\nRRULE:FREQ=SECONDLY\nSUMMARY:Off"), "Line 9: “FREQ=SECONDLY” is no rule"},
		"no length":     {file(good, "DTSTART;VALUE=DATE:20261128\nDURATION:long"), "Line 9: “long” is no length of time."},
		"ends wrongly":  {file(good, "DTSTART;VALUE=DATE:20261128\nEND:VTODO"), "Line 9: VTODO ends here, but did not begin."},
		"breaks off":    {strings.TrimSuffix(file(good, "DTSTART;VALUE=DATE:20261128"), "END:VEVENT\r\nEND:VCALENDAR\r\n"), "Line 9: the calendar breaks off"},
		"bad exception": {file(good, "DTSTART;VALUE=DATE:20261128\nEXDATE:never"), "Line 9: “never” is no date."},
	} {
		m := read(t, c.in)
		if len(m.Problems) != 1 || !strings.HasPrefix(m.Problems[0], c.says) || !strings.Contains(show(m.DaysOff), "2026-11-26 Fair") {
			t.Errorf("%s: %v, %s", name, m.Problems, show(m.DaysOff))
		}
	}
	m := read(t, file(strings.Repeat("x\n", 50)+good))
	if len(m.Problems) != 21 || m.Problems[20] != "30 more lines could not be read." {
		t.Errorf("%v", m.Problems)
	}
	for says, in := range map[string]string{
		"begins a VCARD":      "BEGIN:VCARD\nFN:Ann\nEND:VCARD",
		"No dates were found": "hello\nworld",
		"No dates":            "",
	} {
		if _, err := Read(ctx, []byte(in), first, last, MonthFirst); !fault.Is(err, fault.Unreadable) || !strings.Contains(err.Error(), says) {
			t.Errorf("%q: %v", in, err)
		}
	}
	if _, err := Read(ctx, make([]byte, Largest+1), first, last, MonthFirst); !fault.Is(err, fault.TooLarge) {
		t.Errorf("%v", err)
	}
	if _, err := Read(ctx, []byte(file(slices.Repeat([]string{"DTSTART;VALUE=DATE:20260801\nRRULE:FREQ=DAILY\nSUMMARY:x"}, 300)...)), first, last, MonthFirst); err != nil && !fault.Is(err, fault.TooLarge) {
		t.Errorf("%v", err)
	}
}

// Five thousand events, one in five recurring, give what an independent
// parser makes of them.
func TestAgreesWithAnIndependentParser(t *testing.T) {
	node, err := exec.LookPath("node")
	if err != nil {
		t.Fatal("This check needs Node.js, which lays the calendar out with an independent parser.")
	}
	rnd := rand.New(rand.NewPCG(1, 2))
	var events []string
	for i := range 5000 {
		d := calendar.Of(2015+rnd.IntN(14), time.Month(1+rnd.IntN(12)), 1+rnd.IntN(28))
		ymd := func(d calendar.Date) string { return d.Time().Format("20060102") }
		e := fmt.Sprintf("UID:%d\nDTSTART;VALUE=DATE:%s\nDTEND;VALUE=DATE:%s\nSUMMARY:Day %d", i, ymd(d), ymd(d+calendar.Date(1+rnd.IntN(10))), i)
		rules := []string{"FREQ=YEARLY", "FREQ=YEARLY;INTERVAL=2", "FREQ=WEEKLY;COUNT=40", "FREQ=DAILY;COUNT=5", "FREQ=WEEKLY;BYDAY=MO,FR;UNTIL=20261101",
			"FREQ=MONTHLY;BYDAY=1MO;COUNT=30", "FREQ=YEARLY;BYMONTH=11;BYDAY=4TH", "FREQ=MONTHLY;BYMONTHDAY=-1;INTERVAL=5"}
		if rnd.IntN(5) == 0 && d > calendar.Of(2020, 1, 1) {
			e += "\nRRULE:" + rules[rnd.IntN(len(rules))]
			if rnd.IntN(3) == 0 {
				e += fmt.Sprintf("\nEXDATE;VALUE=DATE:%s", ymd(calendar.Of(2026, d.Time().Month(), d.Time().Day())))
			}
		}
		events = append(events, e)
	}
	in := file(events...)
	path := filepath.Join(t.TempDir(), "year.ics")
	if err := os.WriteFile(path, []byte(in), 0o600); err != nil {
		t.Fatal(err)
	}
	out, err := exec.Command(node, "testdata/expand.mjs", path, first.String(), last.String()).Output()
	if err != nil {
		t.Fatalf("laying out with ical.js (run `npm ci`): %v", err)
	}
	m := read(t, in)
	if m.Events != 5000 || len(m.Problems) != 0 {
		t.Fatalf("%d events, %v", m.Events, m.Problems)
	}
	var got []string
	for _, r := range m.DaysOff {
		got = append(got, fmt.Sprintf("%s %s %s", r.First, r.Last, r.Name))
	}
	slices.Sort(got)
	want := strings.Split(strings.TrimSpace(string(out)), "\n")
	if len(want) < 800 {
		t.Fatalf("only %d days off", len(want))
	}
	for i := range max(len(got), len(want)) {
		if i >= len(got) || i >= len(want) || got[i] != want[i] {
			t.Fatalf("%d days off, the parser finds %d; the first difference: %v, %v", len(got), len(want), got[min(i, len(got)-1)], want[min(i, len(want)-1)])
		}
	}
}

func TestTables(t *testing.T) {
	for name, c := range map[string]struct{ in, want string }{
		"ISO":                      {"2026-11-26,Harvest\n2026-12-21,Feast", "2026-11-26 Harvest; 2026-12-21 Feast"},
		"from, to, name":           {"from,to,name\n2026-12-21,2027-01-04,Winter", "2026-12-21..2027-01-04 Winter"},
		"the name first":           {"Name;First day;Last day\nWinter;21.12.2026;04.01.2027", "2026-12-21..2027-01-04 Winter"},
		"dots are days first":      {"01.02.2027;Fair", "2027-02-01 Fair"},
		"month first":              {"11/26/2026,Harvest\n12/1/2026,Fair", "2026-11-26 Harvest; 2026-12-01 Fair"},
		"day first, as one shows":  {"26/11/2026,Harvest\n1/12/2026,Fair", "2026-11-26 Harvest; 2026-12-01 Fair"},
		"words":                    {"\"Thursday, November 26th, 2026\"\tHarvest\n2 Jan 2027\tFair", "2026-11-26 Harvest; 2027-01-02 Fair"},
		"two digits":               {"date,name\n12/31/26,Eve", "2026-12-31 Eve"},
		"a mark and old line ends": {"\ufeffdate,name\r\n2026-11-26,Harvest\r\n\r\n", "2026-11-26 Harvest"},
		"an old Windows file":      {"2026-11-26,F\xeate", "2026-11-26 Fête"},
		"a leap day":               {"2028-02-29,Leap\n2026-11-26,Fair", "2026-11-26 Fair"},
		"quotes":                   {"2026-11-26,\"Harvest, home\"", "2026-11-26 Harvest, home"},
	} {
		m := read(t, c.in)
		if got := show(m.DaysOff); got != c.want || len(m.Problems) != 0 {
			t.Errorf("%s: %q, want %q; %v", name, got, c.want, m.Problems)
		}
	}
	m := read(t, "date,name,minutes\n2026-11-25,Half day,30\n2026-11-26,Harvest,\n2026-11-27,Odd,many")
	if show(m.DaysOff) != "2026-11-26 Harvest" || len(m.Special) != 1 || m.Special[0] != (calendar.Special{Name: "Half day", Date: calendar.Of(2026, 11, 25), Minutes: 30}) ||
		len(m.Problems) != 1 || m.Problems[0] != "Line 4: “many” is no number of minutes." {
		t.Errorf("%+v", m)
	}
	m = read(t, "2026-11-26,Fair\n2027-02-29,Leap\n\n2026-13-01,Odd\nfrom,2026-11-20,x\n")
	if len(m.Problems) != 3 || m.Problems[0] != "Line 2: “2027-02-29” is no date." || m.Problems[1] != "Line 4: “2026-13-01” is no date." {
		t.Errorf("%v", m.Problems)
	}
	m = read(t, "from,to\n2026-11-26,2026-11-20")
	if len(m.Problems) != 1 || !strings.Contains(m.Problems[0], "before it starts") {
		t.Errorf("%v", m.Problems)
	}
	// Nothing tells the order: the caller's, and it is said.
	for o, want := range map[Order]string{MonthFirst: "2026-09-10 x", DayFirst: "2026-10-09 x"} {
		m, err := Read(ctx, []byte("9/10/2026,x"), first, last, o)
		if err != nil || show(m.DaysOff) != want || len(m.Notes) != 1 || !strings.Contains(m.Notes[0], "Dates such as 9/10/2026") {
			t.Errorf("%v %v %v", show(m.DaysOff), m.Notes, err)
		}
	}
}

func BenchmarkRead(b *testing.B) {
	in := []byte(file(slices.Repeat([]string{"UID:a\nDTSTART;VALUE=DATE:20101125\nRRULE:FREQ=YEARLY;BYMONTH=11;BYDAY=4TH\nSUMMARY:Thanks"}, 5000)...))
	for b.Loop() {
		if _, err := Read(ctx, in, first, last, MonthFirst); err != nil {
			b.Fatal(err)
		}
	}
}
