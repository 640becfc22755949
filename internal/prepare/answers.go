package prepare

import (
	"context"
	"slices"
	"strings"

	"bookstead/internal/answer"
	"bookstead/internal/calendar"
	"bookstead/internal/fault"
	"bookstead/internal/kit"
	"bookstead/internal/record"
	"bookstead/internal/store"
)

// AnswerResult is what is found in an answer.
type AnswerResult = answer.Result

// mostAnswer is how long an answer may be, in bytes.
const mostAnswer = 40_000

// JudgeAnswer looks at a child's answer to a question of the kit. It is advice
// and no grade.
func (p *Prepared) JudgeAnswer(ctx context.Context, item kit.ItemID, text string) (AnswerResult, error) {
	it, _, ok := p.Find(item)
	switch {
	case !ok || it.Kind != kit.Question:
		return AnswerResult{}, fault.New(fault.NotFound, "This question is not in the kit any more.", "Load the page again.")
	case len(text) > mostAnswer:
		return AnswerResult{}, fault.New(fault.TooLarge, "This is far longer than an answer.", "Paste the answer alone.")
	}
	j, err := judge()
	if err != nil {
		return AnswerResult{}, err
	}
	key, err := j.Key(ctx, it.Content.Head, []string{it.Content.Answer})
	if err != nil {
		return AnswerResult{}, err
	}
	return key.Judge(ctx, text, p.Class.Grade)
}

// ModelAnswer is what a child's answer to a question may look like in the class's
// grade, and how it may begin; "" where none can be made.
func (p *Prepared) ModelAnswer(ctx context.Context, it kit.Item) (written, starter string, err error) {
	j, err := judge()
	if err != nil {
		return "", "", err
	}
	m, err := j.Model(ctx, it.Content.Head, it.Content.Answer, p.Class.Grade)
	if err != nil {
		return "", "", err
	}
	starter, err = j.Starter(ctx, it.Content.Head, it.Content.Answer)
	return m.Written, starter, err
}

// KeepAnswer keeps a child's answer with the teacher's verdict.
func (w *Workshop) KeepAnswer(ctx context.Context, id kit.ID, a record.Answer) error {
	k, err := w.store.Kits().Get(ctx, id)
	if err != nil {
		return err
	}
	a.Text, a.Day = strings.TrimSpace(a.Text), calendar.FromTime(w.now())
	switch {
	case a.Text == "":
		return fault.New(fault.Invalid, "There is no answer to keep.", "Type what the child wrote.")
	case len(a.Text) > mostAnswer:
		return fault.New(fault.TooLarge, "This is far longer than an answer.", "Paste the answer alone.")
	case !slices.Contains([]record.Verdict{record.Open, record.Correct, record.Partly, record.Incorrect}, a.Verdict):
		return fault.New(fault.Invalid, "This form is not complete.", "Load the page again.")
	}
	return w.setAnswers(ctx, k, "Kept an answer", append(slices.Clone(k.Answers), a))
}

// DropAnswer takes the n-th answer (from 0) to a question out of the records.
func (w *Workshop) DropAnswer(ctx context.Context, id kit.ID, item kit.ItemID, n int) error {
	k, err := w.store.Kits().Get(ctx, id)
	if err != nil {
		return err
	}
	at := 0
	rest := slices.DeleteFunc(slices.Clone(k.Answers), func(a record.Answer) bool {
		if a.Item != item {
			return false
		}
		at++
		return at-1 == n
	})
	if len(rest) == len(k.Answers) {
		return fault.New(fault.NotFound, "This answer is not there any more.", "Load the page again.")
	}
	return w.setAnswers(ctx, k, "Took an answer out", rest)
}

func (w *Workshop) setAnswers(ctx context.Context, k store.Kit, label string, list []record.Answer) error {
	return w.change(ctx, k.ID, label, store.SetAnswers(list, k.Revisions[store.AnswersKey]))
}

// Answers are those that were kept for a question, in their order.
func (w *Workshop) Answers(ctx context.Context, id kit.ID, item kit.ItemID) ([]record.Answer, error) {
	k, err := w.store.Kits().Get(ctx, id)
	if err != nil {
		return nil, err
	}
	return slices.DeleteFunc(slices.Clone(k.Answers), func(a record.Answer) bool { return a.Item != item }), nil
}
