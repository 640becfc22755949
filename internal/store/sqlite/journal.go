package sqlite

import (
	"context"
	"database/sql"
	"encoding/json"
	"errors"
	"fmt"
	"time"

	"bookstead/internal/fault"
	"bookstead/internal/store"
)

type journal struct{ s *Store }

// there is NotFound when the subject does not exist or lies in the bin.
func there(ctx context.Context, tx *sql.Tx, s store.Subject) error {
	table := "class"
	if s.Kind == store.KitSubject {
		table = "kit"
	}
	var n int
	if err := tx.QueryRowContext(ctx, "SELECT count(*) FROM "+table+" WHERE id = ? AND binned IS NULL", s.ID).Scan(&n); err != nil {
		return err
	}
	if n == 0 {
		return notFound(fmt.Sprintf("This %s is not there any more.", table), "Go back to the library; deleted things lie in the bin.")
	}
	return nil
}

func (j journal) Change(ctx context.Context, s store.Subject, c store.Change) (step store.Step, err error) {
	written, err := c.Write(s)
	if err != nil {
		return step, err
	}
	err = j.s.tx(ctx, func(tx *sql.Tx) error {
		if err := there(ctx, tx, s); err != nil {
			return err
		}
		number, err := next(ctx, tx, s)
		if err != nil {
			return err
		}
		edits, err := compare(ctx, tx, s, written, number)
		if err != nil || len(edits) == 0 {
			return err
		}
		if _, err := tx.ExecContext(ctx, "UPDATE step SET state = ? WHERE kind = ? AND subject = ? AND state = ?", store.Passed, s.Kind, s.ID, store.Undone); err != nil {
			return err
		}
		step = store.Step{Number: number, Label: c.Label, At: fromMicros(micros(c.At)), State: store.Done, Edits: edits}
		return record(ctx, tx, s, step)
	})
	if err != nil {
		return store.Step{}, err
	}
	return step, nil
}

// next is the number of the next step: 2 after a subject's creation. Steps are
// never deleted, so no number comes twice.
func next(ctx context.Context, tx *sql.Tx, s store.Subject) (n store.Revision, err error) {
	err = tx.QueryRowContext(ctx, "SELECT coalesce(max(number), 1) + 1 FROM step WHERE kind = ? AND subject = ?", s.Kind, s.ID).Scan(&n)
	return n, err
}

// compare lays what is to be written beside what stands and returns what differs.
func compare(ctx context.Context, tx *sql.Tx, s store.Subject, written []store.Written, number store.Revision) (out []store.Edited, err error) {
	for _, w := range written {
		now, err := value(ctx, tx, s, w.Key)
		if err != nil {
			return nil, err
		}
		if string(now.JSON) == string(w.JSON) {
			continue
		}
		if w.Expect != store.Any && w.Expect != now.Revision {
			return nil, fault.Wrap(fault.Conflict, &store.Stale{Key: w.Key, Expect: w.Expect, Now: now},
				"This was changed in another window since your page was loaded.", "What you typed is not saved yet: load the page again, look at the other change, and repeat yours.")
		}
		after := store.Value{JSON: w.JSON, Revision: number}
		if w.JSON == nil {
			after.Revision = 0
		}
		out = append(out, store.Edited{Key: w.Key, Before: now, After: after})
	}
	return out, nil
}

// record writes a step and its values.
func record(ctx context.Context, tx *sql.Tx, s store.Subject, step store.Step) error {
	if _, err := tx.ExecContext(ctx, "INSERT INTO step (kind, subject, number, label, at, state) VALUES (?, ?, ?, ?, ?, ?)",
		s.Kind, s.ID, step.Number, step.Label, micros(step.At), step.State); err != nil {
		return err
	}
	for _, e := range step.Edits {
		if _, err := tx.ExecContext(ctx, "INSERT INTO edit (kind, subject, number, key, before_json, before_revision, after_json, after_revision) VALUES (?, ?, ?, ?, ?, ?, ?, ?)",
			s.Kind, s.ID, step.Number, e.Key, text(e.Before.JSON), e.Before.Revision, text(e.After.JSON), e.After.Revision); err != nil {
			return err
		}
		if err := put(ctx, tx, s, e.Key, e.After); err != nil {
			return err
		}
	}
	return nil
}

// text is a JSON value for a column: NULL when it is unset.
func text(j json.RawMessage) sql.NullString {
	return sql.NullString{String: string(j), Valid: j != nil}
}

// value reads the value under a key, the zero Value when it is unset.
func value(ctx context.Context, tx *sql.Tx, s store.Subject, k store.Key) (v store.Value, err error) {
	err = tx.QueryRowContext(ctx, "SELECT json, revision FROM value WHERE kind = ? AND subject = ? AND key = ?", s.Kind, s.ID, k).Scan((*[]byte)(&v.JSON), &v.Revision)
	if errors.Is(err, sql.ErrNoRows) {
		return store.Value{}, nil
	}
	return v, err
}

// put writes a value, or takes it away when it is unset.
func put(ctx context.Context, tx *sql.Tx, s store.Subject, k store.Key, v store.Value) (err error) {
	if v.JSON == nil {
		_, err = tx.ExecContext(ctx, "DELETE FROM value WHERE kind = ? AND subject = ? AND key = ?", s.Kind, s.ID, k)
	} else {
		_, err = tx.ExecContext(ctx, "INSERT INTO value (kind, subject, key, json, revision) VALUES (?, ?, ?, ?, ?) ON CONFLICT DO UPDATE SET json = excluded.json, revision = excluded.revision",
			s.Kind, s.ID, k, string(v.JSON), v.Revision)
	}
	return err
}

// What Undo and Redo take: the last step done, the first one undone. Steps that
// are undone all lie behind the last one that is done.
const (
	lastDone    = " WHERE kind = ? AND subject = ? AND state = 'done' ORDER BY number DESC LIMIT 1"
	firstUndone = " WHERE kind = ? AND subject = ? AND state = 'undone' ORDER BY number LIMIT 1"
)

func (j journal) Undo(ctx context.Context, s store.Subject, expect store.Revision, at time.Time) (store.Step, error) {
	return j.turn(ctx, s, expect, at, lastDone, store.Undone, "There is nothing to undo.")
}

func (j journal) Redo(ctx context.Context, s store.Subject, expect store.Revision, at time.Time) (store.Step, error) {
	return j.turn(ctx, s, expect, at, firstUndone, store.Done, "There is nothing to do again.")
}

// turn undoes or redoes the step that where finds.
func (j journal) turn(ctx context.Context, s store.Subject, expect store.Revision, at time.Time, where string, to store.StepState, none string) (step store.Step, err error) {
	err = j.s.tx(ctx, func(tx *sql.Tx) error {
		if err := there(ctx, tx, s); err != nil {
			return err
		}
		step, err = findStep(ctx, tx, where, s.Kind, s.ID)
		switch {
		case errors.Is(err, sql.ErrNoRows):
			return notFound(none, "The history shows every step that was made.")
		case err != nil:
			return err
		case expect != store.Any && expect != step.Number:
			return fault.New(fault.Conflict, "Something else was changed since your page was loaded.", "Load the page again to see it.")
		}
		if step.Edits, err = edits(ctx, tx, s, step.Number); err != nil {
			return err
		}
		for _, e := range step.Edits {
			v := e.After
			if to == store.Undone {
				v = e.Before
			}
			if err := put(ctx, tx, s, e.Key, v); err != nil {
				return err
			}
		}
		step.State, step.Turned = to, fromMicros(micros(at))
		_, err := tx.ExecContext(ctx, "UPDATE step SET state = ?, turned = ? WHERE kind = ? AND subject = ? AND number = ?", to, micros(at), s.Kind, s.ID, step.Number)
		return err
	})
	if err != nil {
		return store.Step{}, err
	}
	return step, nil
}

const steps = "SELECT number, label, at, state, turned FROM step"

func scanStep(row interface{ Scan(...any) error }) (st store.Step, err error) {
	var at int64
	var turned sql.NullInt64
	if err := row.Scan(&st.Number, &st.Label, &at, &st.State, &turned); err != nil {
		return store.Step{}, err
	}
	st.At = fromMicros(at)
	if turned.Valid {
		st.Turned = fromMicros(turned.Int64)
	}
	return st, nil
}

// findStep reads one step without its edits.
func findStep(ctx context.Context, tx *sql.Tx, where string, args ...any) (store.Step, error) {
	return scanStep(tx.QueryRowContext(ctx, steps+where, args...))
}

// edits reads the edits of a step.
func edits(ctx context.Context, tx *sql.Tx, s store.Subject, n store.Revision) (out []store.Edited, err error) {
	err = each(ctx, tx, func(rows *sql.Rows) error {
		var e store.Edited
		err := rows.Scan(&e.Key, (*[]byte)(&e.Before.JSON), &e.Before.Revision, (*[]byte)(&e.After.JSON), &e.After.Revision)
		out = append(out, e)
		return err
	}, "SELECT key, before_json, before_revision, after_json, after_revision FROM edit WHERE kind = ? AND subject = ? AND number = ? ORDER BY key", s.Kind, s.ID, n)
	return out, err
}

func (j journal) History(ctx context.Context, s store.Subject, limit int) (out []store.Step, err error) {
	if limit <= 0 {
		limit = -1 // no limit
	}
	err = j.s.view(ctx, func(tx *sql.Tx) error {
		if err := there(ctx, tx, s); err != nil {
			return err
		}
		return each(ctx, tx, func(rows *sql.Rows) error {
			st, err := scanStep(rows)
			out = append(out, st)
			return err
		}, steps+" WHERE kind = ? AND subject = ? ORDER BY number DESC LIMIT ?", s.Kind, s.ID, limit)
	})
	if err != nil {
		return nil, err
	}
	return out, nil
}

func (j journal) Step(ctx context.Context, s store.Subject, n store.Revision) (st store.Step, err error) {
	err = j.s.view(ctx, func(tx *sql.Tx) error {
		if err := there(ctx, tx, s); err != nil {
			return err
		}
		st, err = findStep(ctx, tx, " WHERE kind = ? AND subject = ? AND number = ?", s.Kind, s.ID, n)
		if errors.Is(err, sql.ErrNoRows) {
			return notFound("There is no such step.", "Choose one from the history.")
		}
		if err != nil {
			return err
		}
		st.Edits, err = edits(ctx, tx, s, n)
		return err
	})
	if err != nil {
		return store.Step{}, err
	}
	return st, nil
}

// standing reads where a subject's journal stands.
func standing(ctx context.Context, tx *sql.Tx, s store.Subject) (st store.Standing, err error) {
	st = store.Standing{Head: 1, Revisions: map[store.Key]store.Revision{}}
	if st.Undo, err = findStep(ctx, tx, lastDone, s.Kind, s.ID); err != nil && !errors.Is(err, sql.ErrNoRows) {
		return st, err
	}
	if st.Redo, err = findStep(ctx, tx, firstUndone, s.Kind, s.ID); err != nil && !errors.Is(err, sql.ErrNoRows) {
		return st, err
	}
	st.Head = max(st.Head, st.Undo.Number)
	err = each(ctx, tx, func(rows *sql.Rows) error {
		var k store.Key
		var r store.Revision
		err := rows.Scan(&k, &r)
		st.Revisions[k] = r
		return err
	}, "SELECT key, revision FROM value WHERE kind = ? AND subject = ?", s.Kind, s.ID)
	return st, err
}
