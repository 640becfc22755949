package planner

import (
	"fmt"
	"math/rand/v2"
	"strings"
	"testing"

	"bookstead/internal/calendar"
	"bookstead/internal/fault"
)

func novelOf(title string, words ...int) Novel {
	n := Novel{Title: title}
	for i, w := range words {
		n.Chapters = append(n.Chapters, Length{fmt.Sprint("Chapter ", i+1), w})
	}
	return n
}

var weekdays = [7]bool{1: true, 2: true, 3: true, 4: true, 5: true}

func TestReadAhead(t *testing.T) {
	// 5,200 words at 260 a minute are 20 minutes.
	a, err := ReadAhead([]Novel{novelOf("The Quay", 2600, 2600, 5200, 1300), novelOf("The Fox", 2600)}, weekdays, monday, monday+6, 0)
	if err != nil {
		t.Fatal(err)
	}
	var got []string
	for _, s := range a.Sittings {
		got = append(got, fmt.Sprintf("%s %s %s–%s %d", s.Date.Time().Format("02"), s.Title, s.From, s.To, s.Minutes))
	}
	want := "07 The Quay Chapter 1–Chapter 2 20, 08 The Quay Chapter 3–Chapter 3 20, 09 The Quay Chapter 4–Chapter 4 5, 09 The Fox Chapter 1–Chapter 1 10"
	if s := strings.Join(got, ", "); s != want || a.Most != 20 || !strings.Contains(a.Says, "260 words a minute") {
		t.Errorf("got  %s\nwant %s\n%s", s, want, a.Says)
	}
	// Read by Wednesday, a novel makes the days before it longer.
	first := novelOf("The Quay", 2600, 2600, 5200, 1300)
	first.By = monday + 2
	if a, err = ReadAhead([]Novel{first, novelOf("The Fox", 2600)}, weekdays, monday, monday+6, 100); err != nil || a.Most != 65 || a.Sittings[len(a.Sittings)-2].Date >= monday+2 || !strings.Contains(a.Says, "your 100 words") {
		t.Errorf("%+v %v", a, err)
	}
	first.By = monday
	for says, f := range map[string]func() (*Ahead, error){
		"begins on 7 September 2026, before there is a day": func() (*Ahead, error) { return ReadAhead([]Novel{first}, weekdays, monday, monday+6, 0) },
		"no day for reading":    func() (*Ahead, error) { return ReadAhead([]Novel{first}, weekdays, monday+5, monday+6, 0) },
		"nothing to read ahead": func() (*Ahead, error) { return ReadAhead(nil, weekdays, monday, monday+6, 0) },
		"before it starts":      func() (*Ahead, error) { return ReadAhead([]Novel{first}, weekdays, monday, monday-1, 0) },
	} {
		if _, err := f(); !fault.Is(err, fault.Invalid) || !strings.Contains(err.Error(), says) {
			t.Errorf("%s: %v", says, err)
		}
	}
}

// No way to lay whole chapters has a shorter longest day, by trying every way.
func TestReadAheadIsShortest(t *testing.T) {
	rnd := rand.New(rand.NewPCG(1, 2))
	for range 200 {
		var words []int
		for range 1 + rnd.IntN(8) {
			words = append(words, 100*(1+rnd.IntN(30)))
		}
		days := 1 + rnd.IntN(5)
		a, err := ReadAhead([]Novel{novelOf("x", words...)}, [7]bool{true, true, true, true, true, true, true}, monday, monday+calendar.Date(days-1), 100)
		if err != nil {
			t.Fatal(err)
		}
		best := 1 << 30
		var at func(k, day, load, longest int)
		at = func(k, day, load, longest int) {
			if longest = max(longest, load); longest >= best {
				return
			}
			if k == len(words) {
				best = longest
				return
			}
			at(k+1, day, load+words[k], longest)
			if day+1 < days && load > 0 {
				at(k+1, day+1, words[k], longest)
			}
		}
		at(0, 0, 0, 0)
		if a.Most != best/100 {
			t.Fatalf("%v on %d days: %d minutes, could %d", words, days, a.Most, best/100)
		}
	}
}
