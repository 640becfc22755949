package prepare

import (
	"context"
	"fmt"
	"strconv"
	"strings"

	"bookstead/internal/calendar"
	"bookstead/internal/class"
	"bookstead/internal/fault"
	"bookstead/internal/kit"
	"bookstead/internal/pace"
	"bookstead/internal/store"
)

// Ready reports whether a kit opens at once, without reading its book first.
func (w *Workshop) Ready(ctx context.Context, id kit.ID) bool {
	k, err := w.store.Kits().Get(ctx, id)
	if err != nil {
		return true // Open will say what is wrong
	}
	b, err := w.store.Books().Get(ctx, k.Book)
	if err != nil {
		return true
	}
	w.mu.Lock()
	defer w.mu.Unlock()
	d, ok := w.docs.get(textKey(b))
	return ok && d.Text == b.Text
}

// ClassRevision is the revision of a class, for a form to send back.
func ClassRevision(c store.Class) Revision { return c.Revisions[store.ClassKey] }

// RateNote says at which rate a class reads, and by which table.
func RateNote(c class.Class) string {
	r := pace.Of(c, "", pace.MidYear)
	if r.Source == "" {
		return r.Why
	}
	return r.Why + " (" + r.Source + ")"
}

// ReadStudents reads a pasted list: a name on each line and, behind commas,
// words correct per minute and a note. Students who were there keep their ID.
func ReadStudents(text string, old []class.Student) ([]class.Student, error) {
	var out []class.Student
	for n, line := range strings.Split(text, "\n") {
		line = strings.TrimSpace(line)
		if line == "" {
			continue
		}
		f := strings.SplitN(line, ",", 3)
		st := class.Student{Name: strings.TrimSpace(f[0])}
		if st.Name == "" {
			return nil, fault.New(fault.Invalid, fmt.Sprintf("Line %d of the students has no name.", n+1), "Write the name first, then a comma.")
		}
		if len(f) > 1 && strings.TrimSpace(f[1]) != "" {
			v, err := strconv.ParseFloat(strings.TrimSpace(f[1]), 64)
			if err != nil || v < 0 || v > 400 {
				return nil, fault.New(fault.Invalid, fmt.Sprintf("Line %d of the students: %q is not a number of words in a minute.", n+1, strings.TrimSpace(f[1])), "Write it as in “Ana R., 85, likes to read aloud”.")
			}
			st.WCPM = v
		}
		if len(f) > 2 {
			st.Note = strings.TrimSpace(f[2])
		}
		for _, o := range old {
			if o.Name == st.Name {
				st.ID = o.ID
			}
		}
		out = append(out, st)
	}
	return out, nil
}

// ReadRanges reads days off or terms: "2026-11-25 to 2026-11-27 Thanksgiving",
// or one date with a name, one on each line.
func ReadRanges(text string) ([]calendar.Range, error) {
	var out []calendar.Range
	for n, line := range strings.Split(text, "\n") {
		f := strings.Fields(line)
		if len(f) == 0 {
			continue
		}
		var r calendar.Range
		var err error
		if r.First, err = calendar.Parse(f[0]); err != nil {
			return nil, inLine(err, n)
		}
		r.Last, f = r.First, f[1:]
		if len(f) > 1 && (f[0] == "to" || f[0] == "-" || f[0] == "–") {
			if r.Last, err = calendar.Parse(f[1]); err != nil {
				return nil, inLine(err, n)
			}
			f = f[2:]
		}
		r.Name = strings.Join(f, " ")
		if r.Name == "" {
			r.Name = "Day off"
		}
		out = append(out, r)
	}
	return out, nil
}

// ReadSpecial reads days with minutes of their own: "2026-12-18 30 Half day".
func ReadSpecial(text string) ([]calendar.Special, error) {
	var out []calendar.Special
	for n, line := range strings.Split(text, "\n") {
		f := strings.Fields(line)
		if len(f) == 0 {
			continue
		}
		d, err := calendar.Parse(f[0])
		if err != nil {
			return nil, inLine(err, n)
		}
		if len(f) < 2 {
			return nil, fault.New(fault.Invalid, fmt.Sprintf("Line %d of the short days has no minutes.", n+1), "Write it as in “2026-12-18 30 Half day”.")
		}
		m, err := strconv.Atoi(f[1])
		if err != nil || m < 0 || m > 600 {
			return nil, fault.New(fault.Invalid, fmt.Sprintf("Line %d of the short days: %q is not a number of minutes.", n+1, f[1]), "Write it as in “2026-12-18 30 Half day”.")
		}
		out = append(out, calendar.Special{Date: d, Minutes: m, Name: strings.Join(f[2:], " ")})
	}
	return out, nil
}

func inLine(err error, n int) error {
	f := fault.Of(err)
	return fault.New(f.Kind, fmt.Sprintf("Line %d: %s", n+1, f.Message), f.Hint)
}
