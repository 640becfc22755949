package planner

import (
	"encoding/json"
	"errors"
	"fmt"
	"io"

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
		return Request{}, unreadable(err, d.InputOffset())
	}
	if _, err := d.Token(); !errors.Is(err, io.EOF) {
		return Request{}, unreadable(errors.New("more than one object"), d.InputOffset())
	}
	for i := range out.Books {
		b := &out.Books[i]
		for k := range b.Lessons {
			l := &b.Lessons[k]
			if l.Number == 0 {
				l.Number = k + 1
			}
			for _, steps := range [][]plan.Step{l.Steps, l.After} {
				for n := range steps {
					if steps[n].Kind == "" {
						return Request{}, fault.New(fault.Invalid, fmt.Sprintf("A step of lesson %d of “%s” has no kind.", l.Number, b.Title), "Give it one, such as reading.")
					}
					steps[n].Kit, steps[n].Lesson = b.Kit, l.Number
				}
			}
		}
	}
	return out, nil
}

func unreadable(err error, at int64) error {
	where := fmt.Sprintf(" near byte %d", at)
	var syntax *json.SyntaxError
	var kind *json.UnmarshalTypeError
	switch {
	case fault.Of(err).Kind == fault.Invalid: // a date that is none
		return fault.Wrap(fault.Unreadable, err, "The plan file cannot be read"+where+": "+fault.Of(err).Message, fault.Of(err).Hint)
	case errors.As(err, &syntax):
		where = fmt.Sprintf(" at byte %d", syntax.Offset)
	case errors.As(err, &kind) && kind.Field != "":
		where = fmt.Sprintf(": %q should not be a %s", kind.Field, kind.Value)
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
