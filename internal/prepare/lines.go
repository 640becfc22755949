package prepare

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
	"time"

	"bookstead/internal/calendar"
	"bookstead/internal/class"
	"bookstead/internal/fault"
)

// Lists of a class are typed as text, an entry on each line, so that a teacher
// can paste them. For each kind of list there is a reader and a writer; what one
// writes the other reads.

// each calls read for every line that is not empty, with its fields; a fault
// gets the number of its line.
func each(text string, read func(line string, fields []string) error) error {
	for n, line := range strings.Split(text, "\n") {
		line = strings.TrimSpace(line)
		if line == "" {
			continue
		}
		if err := read(line, strings.Fields(line)); err != nil {
			f := fault.Of(err)
			return fault.New(f.Kind, fmt.Sprintf("Line %d, “%s”: %s", n+1, line, f.Message), f.Hint)
		}
	}
	return nil
}

// write joins the lines of a list.
func write[T any](list []T, line func(T) string) string {
	out := make([]string, len(list))
	for i, x := range list {
		out[i] = strings.TrimSpace(line(x))
	}
	return strings.Join(out, "\n")
}

// ReadStudents reads a name on each line and, behind commas, words correct per
// minute and a note. Students who were there keep what else is known of them.
func ReadStudents(text string, old []class.Student) (out []class.Student, err error) {
	err = each(text, func(line string, _ []string) error {
		f := strings.SplitN(line, ",", 3)
		st := class.Student{Name: strings.TrimSpace(f[0])}
		if st.Name == "" {
			return fault.New(fault.Invalid, "there is no name.", "Write the name first, then a comma.")
		}
		for _, o := range old {
			if o.Name == st.Name {
				st = o
			}
		}
		st.WCPM, st.Note = 0, ""
		if len(f) > 1 && strings.TrimSpace(f[1]) != "" {
			v, err := strconv.ParseFloat(strings.TrimSpace(f[1]), 64)
			if err != nil || v < 0 || v > 400 {
				return fault.New(fault.Invalid, fmt.Sprintf("%q is not a number of words in a minute.", strings.TrimSpace(f[1])), "Write it as in “Ana R., 85, likes to read aloud”.")
			}
			st.WCPM = v
		}
		if len(f) > 2 {
			st.Note = strings.TrimSpace(f[2])
		}
		out = append(out, st)
		return nil
	})
	return out, err
}

// StudentLines writes what ReadStudents reads.
func StudentLines(list []class.Student) string {
	return write(list, func(s class.Student) string {
		switch {
		case s.Note != "":
			return fmt.Sprintf("%s, %g, %s", s.Name, s.WCPM, s.Note)
		case s.WCPM > 0:
			return fmt.Sprintf("%s, %g", s.Name, s.WCPM)
		}
		return s.Name
	})
}

// ReadRanges reads days off or terms: "2026-11-25 to 2026-11-27 Thanksgiving",
// or one date with a name.
func ReadRanges(text string) (out []calendar.Range, err error) {
	err = each(text, func(_ string, f []string) (err error) {
		var r calendar.Range
		if r.First, err = calendar.Parse(f[0]); err != nil {
			return err
		}
		r.Last, f = r.First, f[1:]
		if len(f) > 1 && (f[0] == "to" || f[0] == "-" || f[0] == "–") {
			if r.Last, err = calendar.Parse(f[1]); err != nil {
				return err
			}
			f = f[2:]
		}
		if r.Name = strings.Join(f, " "); r.Name == "" {
			r.Name = "Day off"
		}
		out = append(out, r)
		return nil
	})
	return out, err
}

// RangeLines writes what ReadRanges reads.
func RangeLines(list []calendar.Range) string {
	return write(list, func(r calendar.Range) string {
		if r.First == r.Last {
			return fmt.Sprintf("%s %s", r.First, r.Name)
		}
		return fmt.Sprintf("%s to %s %s", r.First, r.Last, r.Name)
	})
}

// ReadSpecial reads days with minutes of their own: "2026-12-18 30 Half day".
func ReadSpecial(text string) (out []calendar.Special, err error) {
	const hint = "Write it as in “2026-12-18 30 Half day”."
	err = each(text, func(_ string, f []string) error {
		d, err := calendar.Parse(f[0])
		if err != nil {
			return err
		}
		if len(f) < 2 {
			return fault.New(fault.Invalid, "the minutes are missing.", hint)
		}
		m, err := strconv.Atoi(f[1])
		if err != nil || m < 0 || m > 600 {
			return fault.New(fault.Invalid, fmt.Sprintf("%q is not a number of minutes.", f[1]), hint)
		}
		out = append(out, calendar.Special{Date: d, Minutes: m, Name: strings.Join(f[2:], " ")})
		return nil
	})
	return out, err
}

// SpecialLines writes what ReadSpecial reads.
func SpecialLines(list []calendar.Special) string {
	return write(list, func(s calendar.Special) string { return fmt.Sprintf("%s %d %s", s.Date, s.Minutes, s.Name) })
}

// ReadAppointments reads fixed hours: "Mon Wed 10:00 to 10:30 Music", or with a
// date instead of weekdays; "takes 15" at the end says how many of the minutes
// for books it costs.
func ReadAppointments(text string) (out []calendar.Appointment, err error) {
	const hint = "Write it as in “Mon Wed 10:00 to 10:30 Music, takes 15”."
	err = each(text, func(_ string, f []string) (err error) {
		var a calendar.Appointment
		if d, err := calendar.Parse(f[0]); err == nil {
			a.First, a.Last, f = d, d, f[1:]
		}
		for len(f) > 0 {
			wd, ok := weekdayOf(f[0])
			if !ok {
				break
			}
			a.Days[wd], f = true, f[1:]
		}
		if a.Days == [7]bool{} && a.First == calendar.None {
			return fault.New(fault.Invalid, "there is no weekday and no date.", hint)
		}
		if len(f) > 0 && strings.ContainsAny(f[0], "-–") { // 10:00-10:30
			f = slices.Concat(strings.FieldsFunc(f[0], func(r rune) bool { return r == '-' || r == '–' }), f[1:])
		} else if len(f) > 2 && f[1] == "to" {
			f = slices.Delete(slices.Clone(f), 1, 2)
		}
		if len(f) < 2 {
			return fault.New(fault.Invalid, "the times are missing.", hint)
		}
		if a.From, err = calendar.ParseClock(f[0]); err != nil {
			return err
		}
		if a.To, err = calendar.ParseClock(f[1]); err != nil {
			return err
		}
		name, takes, ok := strings.Cut(strings.Join(f[2:], " "), ", takes ")
		if a.Name = name; ok {
			if a.Takes, err = strconv.Atoi(takes); err != nil {
				return fault.New(fault.Invalid, fmt.Sprintf("%q is not a number of minutes.", takes), hint)
			}
		}
		out = append(out, a)
		return nil
	})
	return out, err
}

// weekdayOf reads a weekday by its first three letters.
func weekdayOf(s string) (time.Weekday, bool) {
	s = strings.ToLower(strings.Trim(s, ",."))
	for wd := time.Sunday; wd <= time.Saturday; wd++ {
		if name := strings.ToLower(wd.String()); len(s) >= 3 && strings.HasPrefix(name, s) {
			return wd, true
		}
	}
	return 0, false
}

// AppointmentLines writes what ReadAppointments reads.
func AppointmentLines(list []calendar.Appointment) string {
	return write(list, func(a calendar.Appointment) string {
		var days []string
		for i := range 7 {
			if wd := time.Weekday((i + 1) % 7); a.Days[wd] {
				days = append(days, wd.String()[:3])
			}
		}
		if len(days) == 0 {
			days = []string{a.First.String()}
		}
		out := fmt.Sprintf("%s %s to %s %s", strings.Join(days, " "), a.From, a.To, a.Name)
		if a.Takes > 0 {
			out += fmt.Sprintf(", takes %d", a.Takes)
		}
		return out
	})
}

// habitWords are the kinds of reading in the words of a line.
var habitWords = []struct {
	habit class.Habit
	words string
}{{class.ReadsAloud, "reads aloud"}, {class.HearsReader, "hears a good reader"}, {class.ReadsSilent, "reads silently"}}

// HabitWords says what a rule asks for: "reads aloud".
func HabitWords(h class.Habit) string {
	for _, x := range habitWords {
		if x.habit == h {
			return x.words
		}
	}
	return string(h)
}

// ReadRules reads what each child should do, and puts it to the students: "Ana R.
// reads aloud 10 minutes a day", "Ben S. reads silently 20 minutes 3 times a
// week, 1 elsewhere".
func ReadRules(text string, students []class.Student) error {
	const hint = "Write it as in “Ana R. reads aloud 10 minutes a day” or “Ana R. reads silently 20 minutes 3 times a week, 1 elsewhere”."
	for i := range students {
		students[i].Rules = nil
	}
	return each(text, func(line string, _ []string) error {
		i := slices.IndexFunc(students, func(s class.Student) bool { return strings.HasPrefix(line, s.Name+" ") })
		if i < 0 {
			return fault.New(fault.Invalid, "it does not begin with the name of a student.", hint)
		}
		rest := strings.TrimSpace(strings.TrimPrefix(line, students[i].Name))
		var r class.Rule
		for _, x := range habitWords {
			if after, ok := strings.CutPrefix(rest, x.words+" "); ok {
				r.Habit, rest = x.habit, after
			}
		}
		if r.Habit == "" {
			return fault.New(fault.Invalid, "it does not say what the child does.", "Say “reads aloud”, “hears a good reader” or “reads silently”. "+hint)
		}
		rest, elsewhere, ok := strings.Cut(rest, ", ")
		if ok {
			if _, err := fmt.Sscanf(elsewhere, "%d elsewhere", &r.Elsewhere); err != nil {
				return fault.New(fault.Invalid, fmt.Sprintf("“%s” is not understood.", elsewhere), hint)
			}
		}
		if _, err := fmt.Sscanf(rest, "%d minutes %d times a week", &r.Minutes, &r.Times); err != nil {
			r.Times = 0
			var a, day string
			if _, err := fmt.Sscanf(rest, "%d minutes %s %s", &r.Minutes, &a, &day); err != nil || day != "day" {
				return fault.New(fault.Invalid, fmt.Sprintf("“%s” is not understood.", rest), hint)
			}
		}
		if err := r.Validate(); err != nil {
			return err
		}
		students[i].Rules = append(students[i].Rules, r)
		return nil
	})
}

// RuleLines writes what ReadRules reads.
func RuleLines(students []class.Student) string {
	var out []string
	for _, s := range students {
		for _, r := range s.Rules {
			out = append(out, s.Name+" "+RuleWords(r))
		}
	}
	return strings.Join(out, "\n")
}

// RuleWords is a rule in words: "reads aloud 10 minutes a day".
func RuleWords(r class.Rule) string {
	often := "a day"
	if r.Times > 0 {
		often = fmt.Sprintf("%d times a week", r.Times)
	}
	out := fmt.Sprintf("%s %d minutes %s", HabitWords(r.Habit), r.Minutes, often)
	if r.Elsewhere > 0 {
		out += fmt.Sprintf(", %d elsewhere", r.Elsewhere)
	}
	return out
}

// ReadStandings reads where the class and single children stand in the spelling
// steps, and puts it to the class: "2026-09-07 5" for the class, "2026-09-07 8
// Ana R." for a child.
func ReadStandings(text string, c *class.Class) error {
	const hint = "Write a date, the number of the step and, for one child, its name: “2026-09-07 5”, “2026-09-07 8 Ana R.”."
	c.Settings.Spelling.Standing = nil
	for i := range c.Students {
		c.Students[i].Standing = nil
	}
	return each(text, func(_ string, f []string) error {
		d, err := calendar.Parse(f[0])
		if err != nil {
			return err
		}
		if len(f) < 2 {
			return fault.New(fault.Invalid, "the step is missing.", hint)
		}
		step, err := strconv.Atoi(f[1])
		if err != nil || step < 1 {
			return fault.New(fault.Invalid, fmt.Sprintf("%q is no number of a step.", f[1]), hint)
		}
		to := &c.Settings.Spelling.Standing
		if name := strings.Join(f[2:], " "); name != "" {
			i := slices.IndexFunc(c.Students, func(s class.Student) bool { return s.Name == name })
			if i < 0 {
				return fault.New(fault.Invalid, fmt.Sprintf("there is no student called %q.", name), hint)
			}
			to = &c.Students[i].Standing
		}
		*to = append(*to, class.Standing{Since: d, Step: step})
		return nil
	})
}

// StandingLines writes what ReadStandings reads.
func StandingLines(c class.Class) string {
	out := write(c.Settings.Spelling.Standing, func(s class.Standing) string { return fmt.Sprintf("%s %d", s.Since, s.Step) })
	for _, st := range c.Students {
		if own := write(st.Standing, func(s class.Standing) string { return fmt.Sprintf("%s %d %s", s.Since, s.Step, st.Name) }); own != "" {
			out = strings.TrimSpace(out + "\n" + own)
		}
	}
	return out
}

// ways are the ways of asking on a quiz or a test, as a line names them.
var ways = []struct{ kind, words string }{
	{"match", "matching"}, {"fill", "missing word"}, {"choose", "choose one"}, {"whosaid", "who said it"}, {"order", "in order"}, {"short", "short answer"}, {"explain", "turn of phrase"},
}

// ReadWays reads what is asked on a quiz or a test: "6 matching", "3 who said it,
// lessons 1 to 4"; no line leaves it to what is marked.
func ReadWays(text string) (out []class.Way, err error) {
	var names []string
	for _, x := range ways {
		names = append(names, x.words)
	}
	hint := "Write a number and one of: " + strings.Join(names, ", ") + "; and, if you like, “, lessons 1 to 4”."
	err = each(text, func(line string, _ []string) error {
		number, rest, ok := strings.Cut(line, " ")
		n, err := strconv.Atoi(number)
		if !ok || err != nil || n < 1 || n > 50 {
			return fault.New(fault.Invalid, "it does not begin with a number between 1 and 50.", hint)
		}
		w := class.Way{Count: n}
		rest, lessons, ok := strings.Cut(rest, ", ")
		if ok {
			if _, err := fmt.Sscanf(lessons, "lessons %d to %d", &w.First, &w.Last); err != nil || w.Last < w.First || w.First < 1 {
				return fault.New(fault.Invalid, fmt.Sprintf("“%s” is not understood.", lessons), hint)
			}
		}
		for _, x := range ways {
			if strings.EqualFold(strings.TrimSpace(rest), x.words) {
				w.Kind = x.kind
			}
		}
		if w.Kind == "" {
			return fault.New(fault.Invalid, fmt.Sprintf("there is no way of asking called “%s”.", rest), hint)
		}
		out = append(out, w)
		return nil
	})
	return out, err
}

// WayLines writes what ReadWays reads.
func WayLines(list []class.Way) string {
	return write(list, func(w class.Way) string {
		out := fmt.Sprint(w.Count)
		for _, x := range ways {
			if x.kind == w.Kind {
				out += " " + x.words
			}
		}
		if w.First > 0 {
			out += fmt.Sprintf(", lessons %d to %d", w.First, w.Last)
		}
		return out
	})
}
