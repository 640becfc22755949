package pace

import (
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"bookstead/internal/calendar"
	"bookstead/internal/class"
)

// Cells and rules of the oral table, from Hasbrouck & Tindal (2017).
func TestOralCells(t *testing.T) {
	for _, c := range []struct {
		grade  int
		s      Season
		p, out int
	}{
		{1, Winter, 90, 97}, {1, Spring, 50, 60}, {1, Winter, 10, 9},
		{2, Fall, 50, 50}, {2, Winter, 50, 84}, {2, Spring, 50, 100}, // 2006: 51, 72, 89
		{3, Fall, 25, 59}, {3, MidYear, 50, 97}, {4, Spring, 90, 184}, {4, Winter, 50, 120},
		{5, Fall, 50, 121}, {5, Spring, 10, 102}, {6, Spring, 50, 146}, {6, Winter, 75, 166}, // 2006: 150
	} {
		if got, ok := Oral(c.grade, c.s, c.p); !ok || got != c.out {
			t.Errorf("Oral(%d, %s, %d) = %d, %v, want %d", c.grade, c.s, c.p, got, ok, c.out)
		}
	}
	for _, c := range []struct {
		grade int
		s     Season
		p     int
	}{{1, Fall, 50}, {0, Winter, 50}, {7, Winter, 50}, {3, Winter, 60}} {
		if got, ok := Oral(c.grade, c.s, c.p); ok || got != 0 {
			t.Errorf("Oral(%d, %s, %d) = %d, want no cell", c.grade, c.s, c.p, got)
		}
	}
}

func TestOralGrows(t *testing.T) {
	cells := 0
	for grade := 1; grade <= 6; grade++ {
		for _, p := range Percentiles {
			last := 0
			for _, s := range []Season{Fall, Winter, Spring} {
				n, ok := Oral(grade, s, p)
				if !ok {
					continue
				}
				cells++
				if n < last { // grade 6 stands still at the 10th: not strict
					t.Errorf("grade %d, %d: %d in %s after %d", grade, p, n, s, last)
				}
				last = n
			}
		}
		for _, s := range []Season{Winter, Spring} {
			for i := 1; i < len(Percentiles); i++ {
				a, _ := Oral(grade, s, Percentiles[i-1])
				if z, _ := Oral(grade, s, Percentiles[i]); z >= a {
					t.Errorf("grade %d, %s: percentile %d is not below %d", grade, s, Percentiles[i], Percentiles[i-1])
				}
			}
		}
	}
	if cells != 85 {
		t.Errorf("the table has %d cells, the published one 85", cells)
	}
}

// The three cells that are printed wrongly beside the published table.
func TestGrowthIsComputed(t *testing.T) {
	for _, c := range []struct {
		grade, p int
		want     float64
	}{{1, 10, 0.5625}, {5, 10, 1.1875}, {6, 50, 0.4375}, {2, 50, 50.0 / 32}} {
		if got, ok := Growth(c.grade, c.p); !ok || math.Abs(got-c.want) > 1e-9 {
			t.Errorf("Growth(%d, %d) = %g, want %g", c.grade, c.p, got, c.want)
		}
	}
	if _, ok := Growth(7, 50); ok {
		t.Error("grade 7 has growth")
	}
}

// Spichtig et al. (2016).
func TestSilentCells(t *testing.T) {
	for _, c := range [][3]int{{2, 25, 87}, {2, 50, 106}, {3, 50, 123}, {4, 50, 141}, {5, 50, 149}, {6, 50, 157}, {6, 75, 191}} {
		if got, ok := Silent(c[0], c[1]); !ok || got != c[2] {
			t.Errorf("Silent(%d, %d) = %d, %v, want %d", c[0], c[1], got, ok, c[2])
		}
	}
	if _, ok := Silent(1, 50); ok {
		t.Error("grade 1 was never measured")
	}
}

func grade(n int, mode class.Mode, wcpm ...float64) class.Class {
	c := class.Class{Grade: n, Settings: class.Defaults(n)}
	c.Settings.Mode = mode
	for _, w := range wcpm {
		c.Students = append(c.Students, class.Student{WCPM: w})
	}
	return c
}

// The two scales lie so close in grades 2 to 5 that a mix-up would not show in
// a plan: it has to show here.
func TestScalesAreNeverMixed(t *testing.T) {
	for g := 1; g <= 6; g++ {
		for _, s := range []Season{MidYear, Fall, Winter, Spring} {
			aloud, quiet := Of(grade(g, class.Turns), "", s), Of(grade(g, class.Silent), "", s)
			if aloud.Scale != OralScale || aloud.Source != OralSource || quiet.Scale != SilentScale || quiet.Source != SilentSource {
				t.Fatalf("grade %d: %+v, %+v", g, aloud, quiet)
			}
			if want, ok := Oral(g, s, 50); ok && aloud.WPM != float64(want) {
				t.Errorf("grade %d aloud in %s: %g, want %d", g, s, aloud.WPM, want)
			}
			if want, ok := Silent(g, 50); ok && quiet.WPM != float64(want) {
				t.Errorf("grade %d silent: %g, want %d", g, quiet.WPM, want)
			}
		}
	}
	// Readings heard aloud change the oral rate and leave the silent one alone.
	if got := Of(grade(4, class.Silent, 60, 60), "", Winter); got.WPM != 141 || !strings.Contains(got.Why, "another measure") {
		t.Errorf("silent with readings heard aloud: %+v", got)
	}
	if got := Of(grade(4, class.Turns, 60, 60), "", Winter); got.WPM != 60 {
		t.Errorf("turns with readings heard aloud: %+v", got)
	}
	if got := Of(grade(4, class.Turns, 60, 60), class.Teacher, Winter); got.WPM != 183 || got.Scale != AdultScale {
		t.Errorf("the teacher reads: %+v", got)
	}
}

func TestOf(t *testing.T) {
	// Equal turns in words: 90 and 45 words a minute make 60, not 67.5.
	if got := Of(grade(3, class.Turns, 90, 45), "", Winter); math.Abs(got.WPM-60) > 1e-9 {
		t.Errorf("two readers: %g, want 60", got.WPM)
	}
	// A child not heard yet counts with the published median, 97.
	got := Of(grade(3, class.Turns, 48.5, 0), "", Winter)
	if want := 2 / (1/48.5 + 1/97.0); math.Abs(got.WPM-want) > 1e-9 || !strings.Contains(got.Why, "one child") || !strings.Contains(got.Why, "other child counts") {
		t.Errorf("one of two heard: %+v, want %g", got, want)
	}
	if got := Of(grade(1, class.Turns), "", Fall); got.WPM != 29 || !strings.Contains(got.Why, "first season measured") {
		t.Errorf("grade 1 in fall: %+v", got)
	}
	if got := Of(grade(1, class.Silent), "", Fall); got.WPM != 87 || !strings.Contains(got.Why, "not measured in grade 1") {
		t.Errorf("grade 1 silent: %+v", got)
	}
	set := grade(5, class.Silent)
	set.Settings.Rate = 111
	if got := Of(set, "", Winter); got.WPM != 111 || got.Source != "" {
		t.Errorf("a rate that was set: %+v", got)
	}
	if got := Of(set, class.Turns, Winter); got.WPM != 133 {
		t.Errorf("a rate set for silent reading serves turns too: %+v", got)
	}
	if got := Of(grade(4, class.Turns, 1, 1), "", Winter); got.WPM != slowest {
		t.Errorf("beginners: %+v", got)
	}
}

func TestMinutes(t *testing.T) {
	r := Rate{WPM: 120}
	if r.Minutes(2700) != 22.5 || r.Words(22.5) != 2700 || r.Words(0.001) != 0 {
		t.Errorf("%g minutes, %d words", r.Minutes(2700), r.Words(22.5))
	}
}

func TestSeasonOf(t *testing.T) {
	c := calendar.Calendar{First: calendar.Of(2026, 9, 1), Last: calendar.Of(2027, 5, 28)}
	for _, x := range []struct {
		d    calendar.Date
		want Season
	}{
		{calendar.Of(2026, 9, 1), Fall}, {calendar.Of(2026, 11, 29), Fall}, {calendar.Of(2026, 11, 30), Winter},
		{calendar.Of(2027, 2, 27), Winter}, {calendar.Of(2027, 2, 28), Spring}, {calendar.Of(2027, 5, 28), Spring},
		{calendar.Of(2026, 8, 31), MidYear}, {calendar.None, MidYear},
	} {
		if got := SeasonOf(c, x.d); got != x.want {
			t.Errorf("SeasonOf(%s) = %s, want %s", x.d, got, x.want)
		}
	}
	if got := SeasonOf(calendar.PlainYear(calendar.Of(2026, 9, 7), 60), calendar.Of(2027, 5, 3)); got != Spring {
		t.Errorf("34 weeks into a plain year is %s", got)
	}
}

func TestFor(t *testing.T) {
	four, one := For(class.Defaults(4)), For(class.Defaults(1))
	if four.Reading != 25 || one.Reading != 20 || one.Practice != 5 {
		t.Errorf("%+v, %+v", four, one)
	}
	short := class.Defaults(4)
	short.Minutes = 30 // less than everything but reading needs
	if got := For(short).Reading; got != 10 {
		t.Errorf("a day of 30 minutes has %d for reading, want a third", got)
	}
	short.Minutes = 0
	if got := For(short).Reading; got != 0 {
		t.Errorf("a day of no minutes has %d for reading", got)
	}
}

func TestLearn(t *testing.T) {
	if f, why := Learn(nil); f != 1 || !strings.Contains(why, "No minutes") {
		t.Errorf("nothing noted: %g, %s", f, why)
	}
	one, _ := Learn([]Took{{20, 40}})
	many := make([]Took, 50)
	for i := range many {
		many[i] = Took{20, 40}
	}
	fifty, _ := Learn(many)
	if math.Abs(one-7.0/6) > 1e-9 || math.Abs(fifty-105.0/55) > 1e-9 {
		t.Errorf("one slow step gives %g, fifty %g", one, fifty)
	}
	if f, _ := Learn([]Took{{0, 10}, {10, 0}, {-1, 5}}); f != 1 {
		t.Errorf("steps without minutes teach %g", f)
	}
	// A step in which something else happened counts as three times its minutes.
	if a, _ := Learn([]Took{{10, 300}}); a != func() float64 { b, _ := Learn([]Took{{10, 30}}); return b }() {
		t.Errorf("a step of five hours teaches %g", a)
	}
	// It lies between the plan's own minutes and the class's, and says that it is
	// an estimate.
	rapid.Check(t, func(t *rapid.T) {
		var steps []Took
		planned, took := 0.0, 0.0
		for range rapid.IntRange(1, 30).Draw(t, "steps") {
			x := Took{rapid.Float64Range(1, 60).Draw(t, "planned"), 0}
			x.Took = x.Planned * rapid.Float64Range(0.6, 1.8).Draw(t, "times")
			planned, took, steps = planned+x.Planned, took+x.Took, append(steps, x)
		}
		f, why := Learn(steps)
		if raw := took / planned; f < min(1, raw)-1e-9 || f > max(1, raw)+1e-9 || !strings.Contains(why, "an estimate") {
			t.Fatalf("%g of %g: %s", f, raw, why)
		}
	})
}

// Reading again takes its part of the time for reading, about as the two
// published medians of grade 2 divide it.
func TestAgain(t *testing.T) {
	s := class.Defaults(2)
	once := For(s)
	s.Again = true
	twice := For(s)
	oral, _ := Oral(2, Winter, 50)
	silent, _ := Silent(2, 50)
	share := float64(oral) / float64(oral+silent) // of equal words
	if twice.Reading+twice.Again != once.Reading || math.Abs(float64(twice.Again)/float64(once.Reading)-share) > 0.05 {
		t.Errorf("%+v, once %+v, share %.3f", twice, once, share)
	}
	s.Mode = class.Silent
	if For(s).Again != 0 {
		t.Error("what is read silently is not read silently again")
	}
}
