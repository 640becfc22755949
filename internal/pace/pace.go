// Package pace says how fast a class reads: the published rates of the grades,
// and what is known of the class itself.
//
// Oral and silent rates are two scales, and a figure of one is never used for
// the other, although the two lie close together in grades 2 to 5. Which table
// serves which mode of reading:
//
//	aloud in turns   oral reading norms by grade and season (Hasbrouck & Tindal
//	                 2017), or the readings heard in this class
//	by the teacher   adults reading aloud (Brysbaert 2019)
//	silent           silent rates by grade (Spichtig et al. 2016); readings
//	                 heard aloud do not change them
//
// A rate that the teacher set wins, for the mode in which the class reads.
// [Of] gives a class's rate with its reason, [For] the minutes of a day that
// are left for reading, [Learn] what the class's own minutes teach.
package pace

import (
	"fmt"
	"math"

	"bookstead/internal/calendar"
	"bookstead/internal/class"
)

// Scale is what kind of reading a rate belongs to.
type Scale string

const (
	OralScale   Scale = "oral"   // children reading aloud
	AdultScale  Scale = "adult"  // an adult reading aloud
	SilentScale Scale = "silent" // children reading silently
)

// ScaleOf is the scale that serves a mode; an unknown mode reads in turns.
func ScaleOf(m class.Mode) Scale {
	switch m {
	case class.Teacher:
		return AdultScale
	case class.Silent:
		return SilentScale
	}
	return OralScale
}

// Rate is how fast a class reads in one mode.
type Rate struct {
	WPM    float64 // words per minute, above 0
	Mode   class.Mode
	Scale  Scale
	Why    string // one or two plain sentences for the teacher
	Source string // the publication, empty for a rate that the teacher set
}

// Minutes is the time that so many words take, not rounded.
func (r Rate) Minutes(words int) float64 {
	if r.WPM <= 0 {
		return 0
	}
	return float64(words) / r.WPM
}

// Words is how many whole words fit into the minutes.
func (r Rate) Words(minutes float64) int {
	return int(math.Floor(minutes*r.WPM + 1e-9))
}

// slowest is the rate below which a child's turns are taken to be shorter
// instead of slower, so that one beginner does not stand for the whole class.
const slowest = 10

// Of is the rate of a class in a mode; an empty mode is the class's own.
func Of(c class.Class, mode class.Mode, s Season) Rate {
	if mode == "" {
		mode = c.Settings.Mode
	}
	grade := max(1, min(6, c.Grade))
	r := Rate{Mode: mode, Scale: ScaleOf(mode)}
	if c.Settings.Rate > 0 && mode == c.Settings.Mode {
		r.WPM = float64(c.Settings.Rate)
		r.Why = fmt.Sprintf("%d words a minute, as you set it.", c.Settings.Rate)
		return r
	}
	switch r.Scale {
	case AdultScale:
		r.WPM, r.Source = AdultAloud, AdultSource
		r.Why = fmt.Sprintf("%d words a minute: the average of adults reading aloud.", AdultAloud)
	case SilentScale:
		r.silent(grade, c.Students)
	default:
		r.oral(grade, s, c.Students)
	}
	return r
}

func (r *Rate) silent(grade int, students []class.Student) {
	r.Source = SilentSource
	if n, ok := Silent(grade, 50); ok {
		r.WPM = float64(n)
		r.Why = fmt.Sprintf("%d words a minute: the published median of silent reading in grade %d.", n, grade)
	} else {
		n, _ := Silent(2, 25)
		r.WPM = float64(n)
		r.Why = fmt.Sprintf("%d words a minute: silent reading is not measured in grade %d, so this is the slower quarter of grade 2.", n, grade)
	}
	if heard(students) > 0 {
		r.Why += " The readings heard aloud are another measure and do not change it."
	}
}

func (r *Rate) oral(grade int, s Season, students []class.Student) {
	r.Source = OralSource
	when := s.String()
	median, ok := Oral(grade, s, 50)
	if !ok { // grade 1 has no fall
		median, _ = Oral(grade, Winter, 50)
		when = "winter, the first season measured"
	}
	n := heard(students)
	if n == 0 {
		r.WPM = float64(median)
		r.Why = fmt.Sprintf("%d words a minute: the published median of reading aloud in grade %d (%s).", median, grade, when)
		return
	}
	// Children who take turns of the same length in words need the sum of
	// their times, so the class's rate is the harmonic mean of theirs.
	var perWord float64
	for _, st := range students {
		w := float64(median)
		if st.WCPM > 0 {
			w = max(slowest, st.WCPM)
		}
		perWord += 1 / w
	}
	r.WPM = float64(len(students)) / perWord
	r.Why = fmt.Sprintf("%.0f words a minute: from the readings of %s.", r.WPM, children(n))
	if rest := len(students) - n; rest > 0 {
		others := "The other child counts"
		if rest > 1 {
			others = fmt.Sprintf("The other %d count", rest)
		}
		r.Why += fmt.Sprintf(" %s with the published median of grade %d, %d.", others, grade, median)
	}
}

func heard(students []class.Student) int {
	n := 0
	for _, s := range students {
		if s.WCPM > 0 {
			n++
		}
	}
	return n
}

func children(n int) string {
	if n == 1 {
		return "one child"
	}
	return fmt.Sprintf("%d children", n)
}

// schoolWeeks is the length of a school year in weeks (common practice, no
// source), for a calendar that was made up from a first day alone.
const schoolWeeks = 36

// SeasonOf is the part of the school year that a day lies in: its first, second
// or last third. Outside the year it is MidYear.
func SeasonOf(c calendar.Calendar, d calendar.Date) Season {
	last := c.Last
	if c.Plain {
		last = c.First + schoolWeeks*7 - 1
	}
	switch {
	case d == calendar.None || d < c.First || d > last:
		return MidYear
	case 3*(d-c.First) < last-c.First+1:
		return Fall
	case 3*(d-c.First) < 2*(last-c.First+1):
		return Winter
	}
	return Spring
}
