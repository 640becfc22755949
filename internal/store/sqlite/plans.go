package sqlite

import (
	"context"
	"database/sql"
	"encoding/json"
	"errors"
	"fmt"
	"time"

	"bookstead/internal/class"
	"bookstead/internal/fault"
	"bookstead/internal/plan"
	"bookstead/internal/store"
)

type plans struct{ s *Store }

func (p plans) Wish(ctx context.Context, id class.ID) (out store.Wish, err error) {
	subject := store.OfPlan(id)
	err = there(ctx, p.s.read, subject)
	var v store.Value
	if err == nil {
		v, err = value(ctx, p.s.read, subject, store.WishKey)
	}
	if err == nil && v.JSON != nil {
		err = json.Unmarshal(v.JSON, &out.Wish)
	}
	if err == nil {
		out.Standing, err = standing(ctx, p.s.read, subject)
	}
	if err != nil {
		return store.Wish{}, told(err)
	}
	return out, nil
}

func (p plans) Agree(ctx context.Context, x plan.Plan, seen int, at time.Time) (plan.Plan, error) {
	err := p.s.tx(ctx, func(tx *sql.Tx) error {
		if err := there(ctx, tx, store.OfPlan(x.Class)); err != nil {
			return err
		}
		var last int
		if err := tx.QueryRowContext(ctx, "SELECT coalesce(max(sequence), 0) FROM agreed WHERE class = ?", x.Class).Scan(&last); err != nil {
			return err
		}
		if last != seen {
			return fault.New(fault.Conflict, "Another plan was agreed since your page was loaded.", "Load the page again.")
		}
		x.Sequence = last + 1
		doc, err := json.Marshal(x)
		if err != nil {
			return fmt.Errorf("writing a plan: %w", err)
		}
		_, err = tx.ExecContext(ctx, "INSERT INTO agreed VALUES (?, ?, ?, ?)", x.Class, x.Sequence, micros(at), string(doc))
		return err
	})
	if err != nil {
		return plan.Plan{}, err
	}
	return x, nil
}

func (p plans) Latest(ctx context.Context, id class.ID) (plan.Plan, error) {
	return p.get(ctx, id, "SELECT doc FROM agreed WHERE class = ? ORDER BY sequence DESC LIMIT 1", id)
}

func (p plans) Get(ctx context.Context, id class.ID, sequence int) (plan.Plan, error) {
	return p.get(ctx, id, "SELECT doc FROM agreed WHERE class = ? AND sequence = ?", id, sequence)
}

func (p plans) get(ctx context.Context, id class.ID, query string, args ...any) (out plan.Plan, err error) {
	var doc string
	if err = there(ctx, p.s.read, store.OfPlan(id)); err == nil {
		err = p.s.read.QueryRowContext(ctx, query, args...).Scan(&doc)
	}
	if errors.Is(err, sql.ErrNoRows) {
		return out, notFound("No such plan was agreed.", "Agree to a plan first.")
	}
	if err == nil {
		err = json.Unmarshal([]byte(doc), &out)
	}
	if err != nil {
		return plan.Plan{}, told(err)
	}
	return out, nil
}

func (p plans) List(ctx context.Context, id class.ID) (out []store.PlanSummary, err error) {
	if err := there(ctx, p.s.read, store.OfPlan(id)); err != nil {
		return nil, told(err)
	}
	rows, err := p.s.read.QueryContext(ctx, "SELECT agreed, doc FROM agreed WHERE class = ? ORDER BY sequence DESC", id)
	if err != nil {
		return nil, told(err)
	}
	defer rows.Close()
	for rows.Next() {
		var at int64
		var doc string
		var x plan.Plan
		if err := rows.Scan(&at, &doc); err != nil {
			return nil, told(err)
		}
		if err := json.Unmarshal([]byte(doc), &x); err != nil {
			return nil, fault.Wrap(fault.Unreadable, err, "A stored plan is damaged.", "Take the newest backup.")
		}
		sum := store.PlanSummary{Sequence: x.Sequence, Agreed: fromMicros(at), Last: x.Last()}
		if len(x.Days) > 0 {
			sum.First = x.Days[0].Date
		}
		out = append(out, sum)
	}
	return out, told(rows.Err())
}
