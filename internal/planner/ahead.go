package planner

import (
	"fmt"
	"math"

	"bookstead/internal/calendar"
	"bookstead/internal/fault"
	"bookstead/internal/pace"
)

// Novel is a book that the teacher reads ahead.
type Novel struct {
	Title    string   `json:"title"`
	Chapters []Length `json:"chapters"`
	// By is the day before which it should be read, None for the last day.
	By calendar.Date `json:"by,omitzero"`
}

// Length is a chapter's length.
type Length struct {
	Name  string `json:"name"`
	Words int    `json:"words"`
}

// Sitting is what the teacher reads on one day: chapters of one novel.
type Sitting struct {
	Date    calendar.Date `json:"date"`
	Title   string        `json:"title"`
	From    string        `json:"from"` // name of the first chapter
	To      string        `json:"to"`
	Words   int           `json:"words"`
	Minutes int           `json:"minutes"`
}

// Ahead is the plan for reading ahead.
type Ahead struct {
	Sittings []Sitting `json:"sittings"`
	// Most is the longest day, in minutes.
	Most int `json:"most"`
	// Says is how the plan came about.
	Says string `json:"says"`
}

// ReadAhead lays the year's novels, in order and in whole chapters, on the given
// weekdays (Sunday first) from first to last, so that the longest day is as short
// as can be: no other way to lay whole chapters has a shorter one. wpm is the
// teacher's rate, 0 for adults reading fiction (Brysbaert 2019). It is Invalid
// when there is no day or nothing to read, or a novel's day has come before any.
func ReadAhead(novels []Novel, weekdays [7]bool, first, last calendar.Date, wpm float64) (*Ahead, error) {
	own := wpm > 0
	if !own {
		wpm = pace.AdultFiction
	}
	var days []calendar.Date
	for d := first; d <= last; d++ {
		if weekdays[d.Weekday()] {
			days = append(days, d)
		}
	}
	lo, hi := 0, 0
	for _, n := range novels {
		for _, c := range n.Chapters {
			lo, hi = max(lo, c.Words), hi+c.Words
		}
	}
	switch {
	case last < first:
		return nil, fault.New(fault.Invalid, fmt.Sprintf("The reading ends on %s, before it starts on %s.", last.Words(), first.Words()), "Check the two dates.")
	case len(days) == 0:
		return nil, fault.New(fault.Invalid, "There is no day for reading between the two dates.", "Choose more weekdays, or later weeks.")
	case hi == 0:
		return nil, fault.New(fault.Invalid, "There is nothing to read ahead.", "Choose a book.")
	}
	if i := tooLate(novels, days, hi); i >= 0 {
		return nil, fault.New(fault.Invalid, fmt.Sprintf("“%s” begins on %s, before there is a day to read it.", novels[i].Title, novels[i].By.Words()), "Start reading earlier.")
	}
	for lo < hi { // the least words a day that suffice
		if mid := (lo + hi) / 2; tooLate(novels, days, mid) < 0 {
			hi = mid
		} else {
			lo = mid + 1
		}
	}
	out := &Ahead{}
	lay(novels, days, hi, func(day, novel, from, to, words int) {
		n := novels[novel]
		m := int(math.Ceil(float64(words) / wpm))
		out.Sittings = append(out.Sittings, Sitting{days[day], n.Title, n.Chapters[from].Name, n.Chapters[to].Name, words, m})
	})
	day := 0
	for i, s := range out.Sittings {
		if i > 0 && out.Sittings[i-1].Date == s.Date {
			day += s.Minutes
		} else {
			day = s.Minutes
		}
		out.Most = max(out.Most, day)
	}
	rate := fmt.Sprintf("the %.0f words a minute that adults read of fiction (Brysbaert 2019)", wpm)
	if own {
		rate = fmt.Sprintf("your %.0f words a minute", wpm)
	}
	out.Says = fmt.Sprintf("%s in whole chapters, at %s, on %s; the longest day takes %s.", many(len(novels), "novel"), rate, many(len(days), "day"), minutes(out.Most))
	return out, nil
}

// tooLate is the first novel that is not read before its day, or at all, when
// each day reads as many whole chapters as fit into so many words; -1 when none.
// No other way to read is ahead of this one on any day.
func tooLate(novels []Novel, days []calendar.Date, words int) int {
	late := -1
	reached := lay(novels, days, words, func(day, novel, _, _, _ int) {
		if by := novels[novel].By; late < 0 && by != calendar.None && days[day] >= by {
			late = novel
		}
	})
	if late < 0 && reached < len(novels) {
		return reached
	}
	return late
}

// lay reads on each day as many whole chapters as fit, and returns the first
// novel that is not read to its end.
func lay(novels []Novel, days []calendar.Date, words int, visit func(day, novel, from, to, words int)) (reached int) {
	novel, chapter := 0, 0
	for day := range days {
		left := words
		for novel < len(novels) {
			n := novels[novel]
			from, sum := chapter, 0
			for chapter < len(n.Chapters) && n.Chapters[chapter].Words <= left {
				left -= n.Chapters[chapter].Words
				sum += n.Chapters[chapter].Words
				chapter++
			}
			if chapter > from {
				visit(day, novel, from, chapter-1, sum)
			}
			if chapter < len(n.Chapters) {
				break
			}
			novel, chapter = novel+1, 0
		}
	}
	return novel
}
