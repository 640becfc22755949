package answer

import (
	"bytes"
	_ "embed"
	"fmt"
	"math"
	"slices"

	"bookstead/internal/answer/forest"
)

// Models tell right from wrong. Likeness means something else where several
// right answers are given, and an answer need be like one of them only, than
// where there is one; so there are two forests.
type Models struct{ One, Several *forest.Forest }

// The chances from which an answer counts as right: those of the best macro-F1
// over held-out questions.
const (
	thresholdOne     = 0.45
	thresholdSeveral = 0.50
)

//go:embed one.txt
var oneData []byte

//go:embed several.txt
var severalData []byte

func loadModels() (m Models, err error) {
	names, _ := Columns()
	if m.One, err = forest.Read(bytes.NewReader(oneData), names); err != nil {
		return m, fmt.Errorf("reading the model of answers: %w", err)
	}
	if m.Several, err = forest.Read(bytes.NewReader(severalData), names); err != nil {
		return m, fmt.Errorf("reading the model of answers: %w", err)
	}
	return m, nil
}

var refsColumn = func() int {
	names, _ := Columns()
	return slices.Index(names, "refs")
}()

// several reports a row of a question with more than one right answer.
func several(row []float64) bool { return row[refsColumn] > 0 }

// Score is 0 to 1, from .5 on for right: the chance by the forest that is meant
// for the row, moved so that its threshold stands at one half.
func (m Models) Score(row []float64) float64 {
	f, threshold := m.One, thresholdOne
	if several(row) {
		f, threshold = m.Several, thresholdSeveral
	}
	logit := func(x float64) float64 { return math.Log(x / (1 - x)) }
	return 1 / (1 + math.Exp(logit(threshold)-f.Log(row)))
}

// moreLike is how often an answer to a question with several right answers
// counts in the forest that is meant for those.
const moreLike = 3

// TrainModels grows both forests of rows, whether each was right, and the number
// of its question. The same rows give the same forests.
func TrainModels(rows [][]float64, right []bool, question []int) Models {
	names, signs := Columns()
	o := forest.Options{Trees: 200, Depth: 6, Rate: 0.05, Least: 10, Shrink: 5, Rows: 0.7, Columns: 0.5, Bins: 64, Seed: 1, Signs: signs, Groups: question}
	m := Models{One: forest.Train(names, rows, right, o)}
	for i := range rows[:len(rows):len(rows)] {
		if several(rows[i]) {
			for range moreLike - 1 {
				rows, right, question = append(rows, rows[i]), append(right, right[i]), append(question, question[i])
			}
		}
	}
	o.Groups = question
	m.Several = forest.Train(names, rows, right, o)
	return m
}
