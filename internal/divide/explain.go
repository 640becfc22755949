package divide

import (
	"fmt"
	"math"
	"strings"

	"bookstead/internal/book"
	"bookstead/internal/class"
	"bookstead/internal/kit"
	"bookstead/internal/pace"
)

// Explanation says why the lessons are as they are. Its costs are those that
// the division was chosen by.
type Explanation struct {
	Rate         pace.Rate
	Target, Most int    // words in a lesson; Most is math.MaxInt without a limit
	Cost         Cost   // of the whole division
	Lessons      []Cost // of each lesson
	Reasons      []string
	Teacher      bool     // the division is the teacher's
	Notes        []string // sentences on what was unsure or could not be kept

	chapters, joined, split int
}

func (e *Explanation) note(format string, args ...any) {
	e.Notes = append(e.Notes, fmt.Sprintf(format, args...))
}

// explain fills in costs and reasons for a division.
func (e *Explanation) explain(t *table, starts []int, lessons []kit.Lesson) {
	e.chapters = t.chapters[len(t.bs)]
	for k, i := range starts {
		j := t.stop(starts, k)
		c := t.cost(i, j)
		e.Cost.add(c)
		e.Lessons = append(e.Lessons, c)
		e.Reasons = append(e.Reasons, e.reason(t, i, j, lessons[k]))
	}
}

// reason is one plain sentence on a lesson.
func (e *Explanation) reason(t *table, i, j int, l kit.Lesson) string {
	n := t.chapters[j] - t.chapters[i]
	if t.bs[i].Kind.Inside() {
		n++
	}
	starts, stops := t.bs[i].Kind, Chapter
	if j < len(t.bs) {
		stops = t.bs[j].Kind
	}
	size := fmt.Sprintf("%s words, about %.0f minutes", thousands(l.Words), math.Max(1, math.Round(l.Minutes)))
	const long = "because the whole chapter is too long for one lesson"
	switch {
	case starts.Inside() || stops.Inside():
		e.split++
		switch {
		case !starts.Inside():
			return fmt.Sprintf("%s; it stops %s, %s.", size, stops.where(), long)
		case n > 1:
			return fmt.Sprintf("%s; it begins %s, %s, and goes on into the next.", size, starts.where(), long)
		}
		return fmt.Sprintf("%s; it begins %s, %s.", size, starts.where(), long)
	case n > 1:
		e.joined++
		return fmt.Sprintf("%s; %d short chapters joined.", size, n)
	case l.Words > e.Most:
		return size + "; longer than a lesson should be, but no place to cut lies inside it."
	}
	return size + "; a chapter for itself."
}

// String sums the division up for the teacher.
func (e Explanation) String() string {
	var s strings.Builder
	lessons := len(e.Lessons)
	fmt.Fprintf(&s, "%s %s %s.", count(e.chapters, "chapter"), verb(e.chapters, "becomes", "become"), count(lessons, "lesson"))
	if e.Teacher {
		s.WriteString(" You set where they begin.")
	} else {
		fmt.Fprintf(&s, " A lesson aims at %s words, about %.0f minutes%s.", thousands(e.Target), e.Rate.Minutes(e.Target), modeName(e.Rate.Mode))
	}
	if e.joined > 0 {
		fmt.Fprintf(&s, " %s %s short chapters.", count(e.joined, "lesson"), verb(e.joined, "joins", "join"))
	}
	if e.split > 0 {
		fmt.Fprintf(&s, " %s %s long ones.", count(e.split, "lesson"), verb(e.split, "holds a piece of", "hold pieces of"))
	}
	for _, n := range append([]string{e.Rate.Why}, e.Notes...) {
		if n != "" {
			s.WriteString(" " + strings.ToUpper(n[:1]) + n[1:])
		}
	}
	return s.String()
}

func modeName(m class.Mode) string {
	switch m {
	case class.Turns:
		return " read aloud in turns"
	case class.Teacher:
		return " read by the teacher"
	case class.Silent:
		return " read silently"
	}
	return ""
}

func count(n int, noun string) string {
	if n == 1 {
		return "1 " + noun
	}
	return thousands(n) + " " + noun + "s"
}

func verb(n int, one, many string) string {
	if n == 1 {
		return one
	}
	return many
}

func thousands(n int) string {
	if n < 1000 {
		return fmt.Sprint(n)
	}
	return fmt.Sprintf("%s,%03d", thousands(n/1000), n%1000)
}

// opening is the first few words of a text, for a message.
func opening(s string) string {
	f := strings.Fields(s)
	if len(f) > 6 {
		return book.Typeset(strings.Join(f[:6], " ")) + " …"
	}
	return book.Typeset(strings.Join(f, " "))
}
