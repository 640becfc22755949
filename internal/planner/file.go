package planner

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"

	"bookstead/internal/fault"
	"bookstead/internal/plan"
)

// Read reads a plan file: one JSON object, a [Request]. Weights that it does
// not name are the usual ones; a lesson without a number has its place in the
// book, and a step's lesson and kit are those in which it stands. It is
// Unreadable when it is no such object, with the place of the trouble.
func Read(r io.Reader) (Request, error) {
	var out Request
	data, err := io.ReadAll(r)
	if err != nil {
		return Request{}, fault.Wrap(fault.Unreadable, err, "The plan file cannot be read.", "Check that it is still there.")
	}
	if err := Decode(data, &out); err != nil {
		return Request{}, err
	}
	return out, out.Complete()
}

// Decode reads one JSON object into out, as strictly as a plan file is read; the
// fault says on which line the trouble is.
func Decode(data []byte, out any) error {
	d := json.NewDecoder(bytes.NewReader(data))
	d.DisallowUnknownFields()
	if err := d.Decode(out); err != nil {
		return unreadable(err, data, d.InputOffset())
	}
	if _, err := d.Token(); !errors.Is(err, io.EOF) {
		return unreadable(errors.New("more than one object"), data, d.InputOffset())
	}
	return nil
}

// Complete fills in what a file may leave out, as [Read] says, and says what is
// wrong with its steps.
func (r *Request) Complete() error {
	for i := range r.Books {
		b := &r.Books[i]
		for k := range b.Lessons {
			l := &b.Lessons[k]
			if l.Number == 0 {
				l.Number = k + 1
			}
			for _, steps := range [][]plan.Step{l.Steps, l.After} {
				for n := range steps {
					if err := known(steps[n].Kind, l.Number, b.Title); err != nil {
						return err
					}
					steps[n].Kit, steps[n].Lesson = b.Kit, l.Number
				}
			}
		}
	}
	return nil
}

func known(k plan.StepKind, lesson int, title string) error {
	switch k {
	case plan.Background, plan.Vocabulary, plan.Practice, plan.Reading, plan.Again, plan.Questions, plan.Discussion, plan.Extension,
		plan.Quiz, plan.Review, plan.Test, plan.Corrections:
		return nil
	case "":
		return fault.New(fault.Invalid, fmt.Sprintf("A step of lesson %d of “%s” has no kind.", lesson, title), "Give it one, such as reading.")
	}
	return fault.New(fault.Invalid, fmt.Sprintf("A step of lesson %d of “%s” is of a kind that there is not: %q.", lesson, title, k), "The kinds stand in docs/plan-file.md.")
}

func unreadable(err error, data []byte, at int64) error {
	const hint = "It should be one JSON object as docs/plan-file.md describes it."
	where := ""
	var syntax *json.SyntaxError
	var kind *json.UnmarshalTypeError
	switch {
	case errors.Is(err, io.EOF):
		return fault.Wrap(fault.Unreadable, err, "The plan file cannot be read: it is empty.", hint)
	case errors.Is(err, io.ErrUnexpectedEOF):
		return fault.Wrap(fault.Unreadable, err, "The plan file cannot be read: it breaks off before its end.", hint)
	case fault.Of(err).Kind == fault.Invalid: // a date that is none
		return fault.Wrap(fault.Unreadable, err, "The plan file cannot be read: "+fault.Of(err).Message, fault.Of(err).Hint)
	case errors.As(err, &syntax):
		where = line(data, syntax.Offset)
	case errors.As(err, &kind):
		where = line(data, kind.Offset)
		// Go's own names are of no use to a person; a file's are in lower case.
		if parts := slices.DeleteFunc(strings.Split(kind.Field, "."), func(s string) bool { return s != "" && s != strings.ToLower(s[:1])+s[1:] }); kind.Field != "" {
			where += fmt.Sprintf(": %q should not be a %s", strings.Join(parts, "."), kind.Value)
		}
	default:
		where = line(data, at)
		if name, ok := strings.CutPrefix(err.Error(), "json: unknown field "); ok {
			where = fmt.Sprintf(": it has a field that there is not, %s", name)
		}
	}
	return fault.Wrap(fault.Unreadable, err, "The plan file cannot be read"+where+".", hint)
}

// line is the line on which a byte stands, in words.
func line(data []byte, at int64) string {
	at = min(max(at, 0), int64(len(data)))
	return fmt.Sprintf(" at line %d", 1+bytes.Count(data[:at], []byte("\n")))
}

// UnmarshalJSON lets weights that are not named be the usual ones.
func (w *Weights) UnmarshalJSON(b []byte) error {
	type plain Weights
	out := plain(Usual())
	if err := json.Unmarshal(b, &out); err != nil {
		return err
	}
	*w = Weights(out)
	return nil
}
