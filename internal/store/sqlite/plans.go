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
	err = p.view(ctx, id, func(tx *sql.Tx) error {
		v, err := value(ctx, tx, subject, store.WishKey)
		if err != nil {
			return err
		}
		if v.JSON != nil {
			if err := json.Unmarshal(v.JSON, &out.Wish); err != nil {
				return p.s.damaged(fmt.Errorf("reading the wish of class %q: %w", id, err))
			}
		}
		out.Standing, err = standing(ctx, tx, subject)
		return err
	})
	if err != nil {
		return store.Wish{}, err
	}
	return out, nil
}

// view reads about a class outside the bin.
func (p plans) view(ctx context.Context, id class.ID, work func(*sql.Tx) error) error {
	return p.s.view(ctx, func(tx *sql.Tx) error {
		if err := there(ctx, tx, store.OfPlan(id)); err != nil {
			return err
		}
		return work(tx)
	})
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
			return fault.New(fault.Conflict, "Another plan was agreed since your page was loaded.", "Load the page again to see it.")
		}
		x.Sequence = last + 1
		doc, err := json.Marshal(x)
		if err != nil {
			return fmt.Errorf("writing a plan: %w", err)
		}
		_, err = tx.ExecContext(ctx, "INSERT INTO agreed (class, sequence, agreed, doc) VALUES (?, ?, ?, ?)", x.Class, x.Sequence, micros(at), string(doc))
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
	err = p.view(ctx, id, func(tx *sql.Tx) error {
		var doc []byte
		err := tx.QueryRowContext(ctx, query, args...).Scan(&doc)
		if errors.Is(err, sql.ErrNoRows) {
			return notFound("No such plan was agreed.", "Agree to a plan first.")
		}
		if err != nil {
			return err
		}
		return p.read(doc, &out)
	})
	if err != nil {
		return plan.Plan{}, err
	}
	return out, nil
}

func (p plans) read(doc []byte, to *plan.Plan) error {
	if err := json.Unmarshal(doc, to); err != nil {
		return p.s.damaged(fmt.Errorf("reading a plan: %w", err))
	}
	return nil
}

func (p plans) List(ctx context.Context, id class.ID) (out []store.PlanSummary, err error) {
	err = p.view(ctx, id, func(tx *sql.Tx) error {
		return each(ctx, tx, func(rows *sql.Rows) error {
			var at int64
			var doc []byte
			var x plan.Plan
			if err := rows.Scan(&at, &doc); err != nil {
				return err
			}
			if err := p.read(doc, &x); err != nil {
				return err
			}
			sum := store.PlanSummary{Sequence: x.Sequence, Agreed: fromMicros(at), Last: x.Last()}
			if len(x.Days) > 0 {
				sum.First = x.Days[0].Date
			}
			out = append(out, sum)
			return nil
		}, "SELECT agreed, doc FROM agreed WHERE class = ? ORDER BY sequence DESC", id)
	})
	if err != nil {
		return nil, err
	}
	return out, nil
}
