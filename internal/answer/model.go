package answer

import (
	"context"
	"math"
	"strings"

	"bookstead/internal/lang"
)

// Model is what a child's answer may look like.
type Model struct {
	// Written is one or two sentences.
	Written string
	// Spoken is what a child may say first, which need be no sentence: the part
	// that answers. "" when it can't be told apart.
	Spoken string
	Words  int
	TUnits int // main clauses with all that hangs on them
}

// norm is the mean length, in words, of a T-unit that children of a grade write:
// grade 3 to 6 the mean of Loban (1976) and O'Donnell, Griffin and Norris (1967)
// where both have it; grades 1 and 2 carried on downward by half a word a grade,
// which is no published figure.
func norm(grade int) float64 {
	means := [...]float64{6.6, 7.1, (7.60 + 7.67) / 2, 8.02, (8.76 + 9.34) / 2, 9.04}
	return means[min(max(grade, 1), len(means))-1]
}

// Norm is the mean length of a T-unit at a grade, in words.
func Norm(grade int) float64 { return norm(grade) }

// room is how many words a T-unit of a model has at most: half as many again as
// children write on the mean, so that it leads without outrunning them (common
// practice, no source for the half).
func room(grade int) int { return int(math.Round(1.5 * norm(grade))) }

// Model shortens a full answer to what a child of the grade may write. Whole
// constituents are left out, those first that the question does not ask for; what
// is left is a sentence that the full answer implies.
func (j *Judge) Model(ctx context.Context, question, full string, grade int) (Model, error) {
	q, err := j.read(ctx, clip(question, mostRead), nil)
	if err != nil {
		return Model{}, err
	}
	a, err := j.read(ctx, clip(full, mostRead), nil)
	if err != nil {
		return Model{}, err
	}
	m := Model{}
	s := shortener{judge: j, q: q, a: a, d: a.doc, room: room(grade), asked: asked(a, q)}
	s.prepare()
	var out []string
	for _, i := range s.chosen(grade) {
		text, answers := s.shorten(i)
		if ok, err := s.stands(ctx, i, text); err != nil {
			return Model{}, err
		} else if !ok { // the tree was wrong somewhere
			x := a.doc.Sentences[i]
			text, answers = words(a.doc, x.First, x.Last), ""
		}
		out = append(out, text)
		m.TUnits++
		if m.Spoken == "" {
			m.Spoken = answers
		}
	}
	m.Written = strings.Join(out, " ")
	m.Words = len(strings.Fields(m.Written))
	return m, nil
}

// stands reads a shortened sentence again: it must be as whole as the sentence
// that it was made of, around the same word.
func (s *shortener) stands(ctx context.Context, i int, text string) (bool, error) {
	again, err := s.judge.read(ctx, text, nil)
	if err != nil {
		return false, err
	}
	if len(again.doc.Sentences) != 1 {
		return false, nil
	}
	subject, verb, alone := made(s.d, i)
	subject2, verb2, alone2 := made(again.doc, 0)
	return (subject2 || !subject) && (verb2 || !verb) && (alone2 || !alone) && rootLemma(s.d, i) == rootLemma(again.doc, 0), nil
}

func rootLemma(d *lang.Doc, i int) string {
	for t := d.Sentences[i].First; t < d.Sentences[i].Last; t++ {
		if d.Tokens[t].Head < 0 {
			return d.Tokens[t].Lemma
		}
	}
	return ""
}
