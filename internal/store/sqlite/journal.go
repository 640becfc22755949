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

// db is a connection pool or a transaction.
type db interface {
	QueryContext(ctx context.Context, query string, args ...any) (*sql.Rows, error)
	QueryRowContext(ctx context.Context, query string, args ...any) *sql.Row
	ExecContext(ctx context.Context, query string, args ...any) (sql.Result, error)
}

// there reports whether the subject exists and lies outside the bin.
func there(ctx context.Context, d db, s store.Subject) error {
	table := "class"
	if s.Kind == store.KitSubject {
		table = "kit"
	}
	var n int
	if err := d.QueryRowContext(ctx, "SELECT count(*) FROM "+table+" WHERE id = ? AND binned IS NULL", s.ID).Scan(&n); err != nil {
		return err
	}
	if n == 0 {
		return notFound("It is not there any more.", "Go back to the library; deleted things lie in the bin.")
	}
	return nil
}

func (j journal) Change(ctx context.Context, s store.Subject, c store.Change) (step store.Step, err error) {
	edits, err := c.Write(s)
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
		var done []store.Edited
		for _, e := range edits {
			now, err := value(ctx, tx, s, e.Key)
			if err != nil {
				return err
			}
			if string(now.JSON) == string(e.JSON) {
				continue
			}
			if e.Expect != store.Any && e.Expect != now.Revision {
				return fault.Wrap(fault.Conflict, &store.Stale{Key: e.Key, Expect: e.Expect, Now: now},
					"This was changed in another window since your page was loaded.", "Load the page again; what you typed here was not saved.")
			}
			after := store.Value{JSON: e.JSON, Revision: number}
			if e.JSON == nil {
				after.Revision = 0
			}
			done = append(done, store.Edited{Key: e.Key, Before: now, After: after})
		}
		if len(done) == 0 {
			return nil
		}
		if _, err := tx.ExecContext(ctx, "UPDATE step SET state = ? WHERE kind = ? AND subject = ? AND state = ?", store.Passed, s.Kind, s.ID, store.Undone); err != nil {
			return err
		}
		step = store.Step{Number: number, Label: c.Label, At: fromMicros(micros(c.At)), State: store.Done, Edits: done}
		return record(ctx, tx, s, step)
	})
	if err != nil {
		return store.Step{}, err
	}
	return step, nil
}

// next is the number of the next step: 2 after a subject's creation.
func next(ctx context.Context, d db, s store.Subject) (store.Revision, error) {
	var n store.Revision
	err := d.QueryRowContext(ctx, "SELECT coalesce(max(number), 1) + 1 FROM step WHERE kind = ? AND subject = ?", s.Kind, s.ID).Scan(&n)
	return n, err
}

// record writes a step and its values.
func record(ctx context.Context, tx *sql.Tx, s store.Subject, step store.Step) error {
	if _, err := tx.ExecContext(ctx, "INSERT INTO step (kind, subject, number, label, at, state) VALUES (?, ?, ?, ?, ?, ?)",
		s.Kind, s.ID, step.Number, step.Label, micros(step.At), step.State); err != nil {
		return err
	}
	for _, e := range step.Edits {
		if _, err := tx.ExecContext(ctx, "INSERT INTO edit VALUES (?, ?, ?, ?, ?, ?, ?, ?)", s.Kind, s.ID, step.Number, e.Key,
			text(e.Before.JSON), e.Before.Revision, text(e.After.JSON), e.After.Revision); err != nil {
			return err
		}
		if err := put(ctx, tx, s, e.Key, e.After); err != nil {
			return err
		}
	}
	return nil
}

// text is a JSON value for a column: NULL when it is unset.
func text(j json.RawMessage) any {
	if j == nil {
		return nil
	}
	return string(j)
}

// value reads the value under a key, the zero Value when it is unset.
func value(ctx context.Context, d db, s store.Subject, k store.Key) (v store.Value, err error) {
	var doc string
	err = d.QueryRowContext(ctx, "SELECT json, revision FROM value WHERE kind = ? AND subject = ? AND key = ?", s.Kind, s.ID, k).Scan(&doc, &v.Revision)
	if errors.Is(err, sql.ErrNoRows) {
		return store.Value{}, nil
	}
	v.JSON = json.RawMessage(doc)
	return v, err
}

// put writes a value, or takes it away when it is unset.
func put(ctx context.Context, d db, s store.Subject, k store.Key, v store.Value) error {
	if v.JSON == nil {
		_, err := d.ExecContext(ctx, "DELETE FROM value WHERE kind = ? AND subject = ? AND key = ?", s.Kind, s.ID, k)
		return err
	}
	_, err := d.ExecContext(ctx, "INSERT INTO value VALUES (?, ?, ?, ?, ?) ON CONFLICT DO UPDATE SET json = excluded.json, revision = excluded.revision",
		s.Kind, s.ID, k, string(v.JSON), v.Revision)
	return err
}

func (j journal) Undo(ctx context.Context, s store.Subject, expect store.Revision, at time.Time) (store.Step, error) {
	return j.turn(ctx, s, expect, at, "SELECT max(number) FROM step WHERE kind = ? AND subject = ? AND state = 'done'", store.Undone, "There is nothing to undo.")
}

func (j journal) Redo(ctx context.Context, s store.Subject, expect store.Revision, at time.Time) (store.Step, error) {
	return j.turn(ctx, s, expect, at, "SELECT min(number) FROM step WHERE kind = ? AND subject = ? AND state = 'undone'", store.Done, "There is nothing to do again.")
}

// turn undoes or redoes the step that the query finds.
func (j journal) turn(ctx context.Context, s store.Subject, expect store.Revision, at time.Time, query string, to store.StepState, none string) (step store.Step, err error) {
	err = j.s.tx(ctx, func(tx *sql.Tx) error {
		if err := there(ctx, tx, s); err != nil {
			return err
		}
		var n sql.NullInt64
		if err := tx.QueryRowContext(ctx, query, s.Kind, s.ID).Scan(&n); err != nil {
			return err
		}
		if !n.Valid {
			return notFound(none, "Look at what was decided to see every step.")
		}
		if expect != store.Any && expect != store.Revision(n.Int64) {
			return fault.New(fault.Conflict, "Something else was changed since your page was loaded.", "Load the page again.")
		}
		if step, err = readStep(ctx, tx, s, store.Revision(n.Int64)); err != nil {
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

const stepColumns = "number, label, at, state, turned"

func scanStep(row interface{ Scan(...any) error }) (st store.Step, err error) {
	var at int64
	var turned sql.NullInt64
	if err := row.Scan(&st.Number, &st.Label, &at, &st.State, &turned); err != nil {
		return st, err
	}
	st.At = fromMicros(at)
	if turned.Valid {
		st.Turned = fromMicros(turned.Int64)
	}
	return st, nil
}

func readStep(ctx context.Context, d db, s store.Subject, n store.Revision) (store.Step, error) {
	st, err := scanStep(d.QueryRowContext(ctx, "SELECT "+stepColumns+" FROM step WHERE kind = ? AND subject = ? AND number = ?", s.Kind, s.ID, n))
	if errors.Is(err, sql.ErrNoRows) {
		return st, notFound(fmt.Sprintf("There is no step %d.", n), "Choose one from the list.")
	}
	if err != nil {
		return st, err
	}
	rows, err := d.QueryContext(ctx, "SELECT key, before_json, before_revision, after_json, after_revision FROM edit WHERE kind = ? AND subject = ? AND number = ? ORDER BY key", s.Kind, s.ID, n)
	if err != nil {
		return st, err
	}
	defer rows.Close()
	for rows.Next() {
		var e store.Edited
		var before, after sql.NullString
		if err := rows.Scan(&e.Key, &before, &e.Before.Revision, &after, &e.After.Revision); err != nil {
			return st, err
		}
		if before.Valid {
			e.Before.JSON = json.RawMessage(before.String)
		}
		if after.Valid {
			e.After.JSON = json.RawMessage(after.String)
		}
		st.Edits = append(st.Edits, e)
	}
	return st, rows.Err()
}

func (j journal) History(ctx context.Context, s store.Subject, limit int) (out []store.Step, err error) {
	if err := there(ctx, j.s.read, s); err != nil {
		return nil, told(err)
	}
	if limit <= 0 {
		limit = -1
	}
	rows, err := j.s.read.QueryContext(ctx, "SELECT "+stepColumns+" FROM step WHERE kind = ? AND subject = ? ORDER BY number DESC LIMIT ?", s.Kind, s.ID, limit)
	if err != nil {
		return nil, told(err)
	}
	defer rows.Close()
	for rows.Next() {
		st, err := scanStep(rows)
		if err != nil {
			return nil, told(err)
		}
		out = append(out, st)
	}
	return out, told(rows.Err())
}

func (j journal) Step(ctx context.Context, s store.Subject, n store.Revision) (store.Step, error) {
	if err := there(ctx, j.s.read, s); err != nil {
		return store.Step{}, told(err)
	}
	st, err := readStep(ctx, j.s.read, s, n)
	if err != nil {
		return store.Step{}, told(err)
	}
	return st, nil
}

// standing reads where a subject's journal stands.
func standing(ctx context.Context, d db, s store.Subject) (st store.Standing, err error) {
	st = store.Standing{Head: 1, Revisions: map[store.Key]store.Revision{}}
	for _, x := range []struct {
		query string
		to    *store.Step
	}{
		{"SELECT " + stepColumns + " FROM step WHERE kind = ? AND subject = ? AND state = 'done' ORDER BY number DESC LIMIT 1", &st.Undo},
		{"SELECT " + stepColumns + " FROM step WHERE kind = ? AND subject = ? AND state = 'undone' ORDER BY number LIMIT 1", &st.Redo},
	} {
		step, err := scanStep(d.QueryRowContext(ctx, x.query, s.Kind, s.ID))
		if err != nil && !errors.Is(err, sql.ErrNoRows) {
			return st, err
		}
		*x.to = step
	}
	if st.Undo.Number > 0 {
		st.Head = st.Undo.Number
	}
	rows, err := d.QueryContext(ctx, "SELECT key, revision FROM value WHERE kind = ? AND subject = ?", s.Kind, s.ID)
	if err != nil {
		return st, err
	}
	defer rows.Close()
	for rows.Next() {
		var k store.Key
		var r store.Revision
		if err := rows.Scan(&k, &r); err != nil {
			return st, err
		}
		st.Revisions[k] = r
	}
	return st, rows.Err()
}
