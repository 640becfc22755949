package planner

import (
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
	d := json.NewDecoder(r)
	d.DisallowUnknownFields()
	var out Request
	if err := d.Decode(&out); err != nil {
		return Request{}, Unreadable(err, d.InputOffset())
	}
	if _, err := d.Token(); !errors.Is(err, io.EOF) {
		return Request{}, Unreadable(errors.New("more than one object"), d.InputOffset())
	}
	return out, out.Complete()
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

// Unreadable is the fault for a plan file that is no JSON or not of the right
// shape; at is how far it could be read, in bytes.
func Unreadable(err error, at int64) error {
	where := fmt.Sprintf(" near byte %d", at)
	var syntax *json.SyntaxError
	var kind *json.UnmarshalTypeError
	switch {
	case fault.Of(err).Kind == fault.Invalid: // a date that is none
		return fault.Wrap(fault.Unreadable, err, "The plan file cannot be read"+where+": "+fault.Of(err).Message, fault.Of(err).Hint)
	case errors.As(err, &syntax):
		where = fmt.Sprintf(" at byte %d", syntax.Offset)
	case errors.As(err, &kind) && kind.Field != "":
		// Go's own names are of no use to a person; a file's are in lower case.
		parts := slices.DeleteFunc(strings.Split(kind.Field, "."), func(s string) bool { return s != strings.ToLower(s[:1])+s[1:] })
		where = fmt.Sprintf(": %q should not be a %s", strings.Join(parts, "."), kind.Value)
	}
	return fault.Wrap(fault.Unreadable, err, "The plan file cannot be read"+where+".", "It should be one JSON object as docs/plan-file.md describes it.")
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
