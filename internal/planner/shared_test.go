//go:build bench

package planner

import (
	"bytes"
	"context"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"bookstead/internal/book"
	"bookstead/internal/book/epub"
	"bookstead/internal/book/txt"
	"bookstead/internal/calendar"
	"bookstead/internal/divide"
	"bookstead/internal/kit"
	"bookstead/internal/plan"
)

// sharedBooks are the six novels, from the shortest to the longest, and how
// many chapters of the story each has.
var sharedBooks = []struct {
	file     string
	chapters int
}{
	{"alices_adventures_in_wonderland.txt", 12}, {"the-wonderful-wizard-of-oz.epub", 24}, {"black-beauty.epub", 49},
	{"the_adventures_of_tom_sawyer.txt", 36}, {"the-secret-garden.epub", 27}, {"little_women.txt", 47},
}

func sharedBook(t *testing.T, name string) *book.Book {
	t.Helper()
	data, err := os.ReadFile(filepath.Join("../../../shared/books", name))
	if err != nil {
		t.Fatal(err)
	}
	var b *book.Book
	if strings.HasSuffix(name, ".txt") {
		b, err = txt.Read(context.Background(), name, data, nil)
	} else {
		b, err = epub.Read(context.Background(), bytes.NewReader(data), int64(len(data)), nil)
	}
	if err != nil {
		t.Fatal(err)
	}
	return b
}

// The six novels in grade 5, in a year of 36 weeks of five days: with an hour a
// day five fit and it is said what the sixth would need; with half an hour the
// plan says how much less there is room for.
func TestSharedYear(t *testing.T) {
	c := grade(5)
	var books []Book
	for i, x := range sharedBooks {
		b := sharedBook(t, x.file)
		o := divide.For(c, kit.Kit{})
		lessons, ex, err := divide.Divide(b, o)
		if err != nil {
			t.Fatal(err)
		}
		told := 0
		for _, ch := range b.Chapters {
			if ch.Kind.Told() && ch.Kind != book.Introduction {
				told++
			}
		}
		if told != x.chapters {
			t.Errorf("%s has %d chapters, want %d", x.file, told, x.chapters)
		}
		var prepared []kit.Prepared
		for _, l := range lessons {
			if l.Minutes > o.Most+1e-9 {
				t.Errorf("%s, %s: %.1f minutes", x.file, l.Title, l.Minutes)
			}
			prepared = append(prepared, kit.Prepared{Lesson: l, Items: []kit.Item{{Kind: kit.Vocabulary, State: kit.Drafted,
				Marks: kit.Marks{Quiz: true, Test: true}, Content: kit.Content{Head: "word", Meaning: "meaning"}}, {Kind: kit.Question, State: kit.Drafted}, {Kind: kit.Discussion, State: kit.Drafted}}})
		}
		t.Logf("%s: %s", x.file, ex)
		for k := range prepared {
			for range c.Settings.Questions - 1 {
				prepared[k].Items = append(prepared[k].Items, kit.Item{Kind: kit.Question, State: kit.Drafted})
			}
		}
		books = append(books, NewBook(b, kit.ID("k"+string(rune('0'+i))), c, prepared, Options{}))
	}
	year := func(minutes int) calendar.Calendar {
		y := calendar.PlainYear(monday, minutes)
		y.Plain, y.Last = false, monday+36*7-1
		return y
	}
	for _, x := range []struct {
		minutes, short int
	}{{60, 1}, {30, 3}} {
		start := time.Now()
		res := mustPlan(t, request(year(x.minutes), books...))
		t.Logf("%d minutes: %d days in %v, %+v\n%s", x.minutes, len(res.Plan.Days), time.Since(start).Round(time.Millisecond), res.Cost, strings.Join(res.Plan.Notes, "\n"))
		if len(res.Plan.Shortfalls) != x.short {
			t.Errorf("with %d minutes %d books fall short, want %d", x.minutes, len(res.Plan.Shortfalls), x.short)
		}
		lawful(t, request(year(x.minutes), books...), res)
		// What would help does help.
		first := res.Plan.Shortfalls[len(res.Plan.Shortfalls)-1]
		if first.MoreMinutes > 0 {
			if again := mustPlan(t, request(year(x.minutes+first.MoreMinutes), books...)).Plan; len(again.Shortfalls) != 0 {
				t.Errorf("with %d minutes more: %v", first.MoreMinutes, again.Notes)
			}
		}
		if got := on(res.Plan, books[0].Kit, 1, plan.Reading); got != monday {
			t.Errorf("the year begins on %s", got)
		}
	}
}
