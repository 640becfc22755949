package planner

import (
	"fmt"
	"testing"

	"bookstead/internal/calendar"
	"bookstead/internal/kit"
)

// schoolOf is a year of so many weeks with two weeks of holidays and a few
// days off, and books of 45 lessons each with quizzes and a test.
func schoolOf(weeks, books int) Request {
	c := schoolYear(7*weeks, 60)
	for _, off := range []int{45, 46, 80, 81, 120, 121, 122, 123, 124, 125, 126, 127, 128, 129, 130, 131, 132, 133, 160, 200} {
		c.DaysOff = append(c.DaysOff, calendar.Range{First: monday + calendar.Date(off), Last: monday + calendar.Date(off)})
	}
	var list []Book
	for b := range books {
		reading := make([]int, 180/books)
		for i := range reading {
			reading[i] = 14 + (i*7+b*3)%12
		}
		list = append(list, novel(kit.ID(fmt.Sprint("k", b)), true, reading...))
	}
	return request(c, list...)
}

func BenchmarkPlan(b *testing.B) {
	spread := schoolOf(52, 4)
	spread.Wish.Reserve = 10
	dated := schoolOf(52, 4)
	for i := range dated.Wish.Books {
		dated.Wish.Books[i].End = monday + calendar.Date(85*(i+1)) // each a little late
	}
	for _, c := range []struct {
		name string
		r    Request
	}{
		{"36 weeks, 4 books", schoolOf(36, 4)}, {"40 weeks, 4 books", schoolOf(40, 4)}, {"40 weeks, 10 books", schoolOf(40, 10)},
		{"40 weeks, 20 books", schoolOf(40, 20)}, {"40 weeks, 30 books", schoolOf(40, 30)}, {"52 weeks, 4 books", schoolOf(52, 4)},
		{"52 weeks, 4 books, a tenth in reserve", spread}, {"52 weeks, 4 books, dates that cannot be kept", dated},
	} {
		b.Run(c.name, func(b *testing.B) {
			for b.Loop() {
				if _, err := Plan(ctx, c.r); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

func BenchmarkReplan(b *testing.B) {
	r := schoolOf(52, 4)
	first, err := Plan(ctx, r)
	if err != nil {
		b.Fatal(err)
	}
	r.Agreed, r.From = &first.Plan, monday+30
	r.Undone = []Ref{}
	for k := range first.Plan.Days[len(first.Plan.Days)/10].Steps {
		ref, _ := RefOf(first.Plan, first.Plan.Days[len(first.Plan.Days)/10].Date, k)
		r.Undone = append(r.Undone, ref)
	}
	for b.Loop() {
		if _, err := Plan(ctx, r); err != nil {
			b.Fatal(err)
		}
	}
}
