// Package sra measures the judge of answers on the Student Response Analysis
// data (SemEval-2013 task 7, Dzikovska et al. 2013): short answers to questions
// of two science courses, each marked right or wrong by people.
//
// [Read] reads the training part, [Rows] makes a row of features for each
// answer, and [CrossValidate] scores a model that has never seen the question
// that it judges.
package sra

import (
	"context"
	"fmt"
	"strings"

	"bookstead/internal/answer"
	"bookstead/internal/lexicon"
)

// Row is an answer as the model sees it.
type Row struct {
	Features []float64
	Right    bool
	Set      string // "beetle" or "sciEntsBank"
	Question int    // index of its question
	Fold     int    // in which its question is held out
}

// Folds is the number of parts of the cross-validation.
const Folds = 5

// Rows makes the rows of all answers. Questions must be sorted by id; question i
// of a set is in fold i mod Folds.
func Rows(ctx context.Context, lex *lexicon.Lexicon, qs []Question) ([]Row, error) {
	j, err := answer.New(lex)
	if err != nil {
		return nil, err
	}
	var out []Row
	next := map[string]int{}
	for i, q := range qs {
		k, err := j.Key(ctx, q.Text, q.Right())
		if err != nil {
			return nil, err
		}
		fold := next[q.Set] % Folds
		next[q.Set]++
		for _, a := range q.Answers {
			row, err := k.Row(ctx, a.Text)
			if err != nil {
				return nil, err
			}
			out = append(out, Row{row, a.Accuracy == "correct", q.Set, i, fold})
		}
	}
	return out, nil
}

// Counts is a table of right and wrong, judged and true.
type Counts struct{ TruePositive, FalsePositive, FalseNegative, TrueNegative int }

// Add counts one judgment.
func (c *Counts) Add(judged, right bool) {
	switch {
	case judged && right:
		c.TruePositive++
	case judged:
		c.FalsePositive++
	case right:
		c.FalseNegative++
	default:
		c.TrueNegative++
	}
}

// MacroF1 is the mean of the F1 of "correct" and of "incorrect".
func (c Counts) MacroF1() float64 {
	f := func(hit, wrong int) float64 {
		if 2*hit+wrong == 0 {
			return 0
		}
		return 2 * float64(hit) / float64(2*hit+wrong)
	}
	wrong := c.FalsePositive + c.FalseNegative
	return (f(c.TruePositive, wrong) + f(c.TrueNegative, wrong)) / 2
}

// Score is what a cross-validation found.
type Score struct {
	Sets map[string]*Counts
	All  Counts
}

// String is the score in lines.
func (s Score) String() string {
	var b strings.Builder
	for _, set := range []string{"beetle", "sciEntsBank"} {
		if c := s.Sets[set]; c != nil {
			fmt.Fprintf(&b, "%-12s macro-F1 %.4f  %+v\n", set, c.MacroF1(), *c)
		}
	}
	fmt.Fprintf(&b, "%-12s macro-F1 %.4f  %+v", "together", s.All.MacroF1(), s.All)
	return b.String()
}

// CrossValidate trains on four fifths of the questions and judges the answers
// to the last fifth, five times.
func CrossValidate(rows []Row) Score {
	s := Score{Sets: map[string]*Counts{}}
	for fold := range Folds {
		m := Train(rows, fold)
		for _, r := range rows {
			if r.Fold != fold {
				continue
			}
			judged := m.Score(r.Features) >= 0.5
			if s.Sets[r.Set] == nil {
				s.Sets[r.Set] = &Counts{}
			}
			s.Sets[r.Set].Add(judged, r.Right)
			s.All.Add(judged, r.Right)
		}
	}
	return s
}

// Train trains on all questions but those of one fold; -1 leaves none out.
func Train(rows []Row, without int) answer.Models {
	var xs [][]float64
	var right []bool
	var question []int
	for _, r := range rows {
		if r.Fold != without {
			xs, right, question = append(xs, r.Features), append(right, r.Right), append(question, r.Question)
		}
	}
	return answer.TrainModels(xs, right, question)
}
