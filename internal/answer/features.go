package answer

import (
	"math"
	"slices"
	"strings"
)

// columns are the features of an answer, in order: the name, and whether a
// right answer may only become likelier (+) or less likely (-) as it grows. The
// trained model names them, so it cannot be asked with rows of another kind.
const columns = `
	recall+ precision+ f+ newRecall+ newPrecision+ newF+
	bareF+ contentF+ contentRecall+ contentPrecision+
	chars3+ chars4+ newChars+
	bigrams+ longest+ triples+ triplesRecall+
	negation- negatedWords- against- againstWeight-
	numbersMissing- numbersExtra-
	answerContent refContent ratio answerWords refWords
	heaviestMissing- missingNew- extra- extraShare- inQuestion slips
	maxF+ maxNewF+ maxRecall+ maxNewRecall+ maxChars+ meanF+ meanNewF+ refs union+ unionNew+
	dontKnow- why how what which explain yesNo
	clauseLeast+ clauseMost+ headLink+ verbRecall+ nounRecall+ otherRecall+
	questionWords refNewShare answerNew edges unlike-
	choice+ saidYes+ varies partMost+ partLeast+ partMostNew+ parts stemOverlap`

// Columns returns the names of the features and their signs, 1, -1 or 0.
func Columns() (names []string, signs []int8) {
	for c := range strings.FieldsSeq(columns) {
		name := strings.TrimRight(c, "+-")
		sign := int8(0)
		switch c[len(name):] {
		case "+":
			sign = 1
		case "-":
			sign = -1
		}
		names, signs = append(names, name), append(signs, sign)
	}
	return names, signs
}

// compared is an answer beside all references.
type compared struct {
	question, ans *text
	all           []aligned
	asked         []bool // words of the answer that the question has
	askedRef      [][]bool
	f, newF       []float64 // of each reference
	recall        []float64
	newRecall     []float64
	chars         []float64
	best          int // the reference that the answer is nearest to
}

func compare(question *text, refs []*text, ans *text) *compared {
	c := &compared{question: question, ans: ans, asked: asked(ans, question)}
	most := -1.0
	for i, r := range refs {
		a := align(r, ans)
		in := asked(r, question)
		rec, pre := zero(weighted(r.words, a.got, nil)), zero(weighted(ans.words, a.used, nil))
		nrec, npre := weighted(r.words, a.got, in), zero(weighted(ans.words, a.used, c.asked))
		if math.IsNaN(nrec) { // all of the reference stands in the question
			nrec = rec
		}
		c.all, c.askedRef = append(c.all, a), append(c.askedRef, in)
		c.f, c.newF = append(c.f, fOf(rec, pre)), append(c.newF, fOf(nrec, npre))
		c.recall, c.newRecall = append(c.recall, rec), append(c.newRecall, nrec)
		c.chars = append(c.chars, grams(joined(r, nil), joined(ans, nil), 3))
		if s := c.f[i] + c.newF[i] + 0.5*c.chars[i]; s > most {
			c.best, most = i, s
		}
	}
	return c
}

// features is the row of [Columns].
func (c *compared) features() []float64 {
	var row []float64
	for _, part := range [][]float64{c.words(), c.letters(), c.contradictions(), c.sizes(), c.overall(), c.asks(), c.places(), c.pieces()} {
		row = append(row, part...)
	}
	return row
}

func (c *compared) words() []float64 {
	a, ans := c.all[c.best], c.ans
	r := a.ref
	x, y := forms(r, true), forms(ans, true)
	return []float64{c.recall[c.best], zero(weighted(ans.words, a.used, nil)), c.f[c.best],
		c.newRecall[c.best], zero(weighted(ans.words, a.used, c.asked)), c.newF[c.best],
		overlapF(forms(r, false), forms(ans, false)), overlapF(x, y), covered(x, y), covered(y, x)}
}

func (c *compared) letters() []float64 {
	r, ans := c.all[c.best].ref, c.ans
	x, y := forms(r, false), forms(ans, false)
	tr, ta := triples(r), triples(ans)
	return []float64{c.chars[c.best], grams(joined(r, nil), joined(ans, nil), 4), grams(joined(r, c.askedRef[c.best]), joined(ans, c.asked), 3),
		overlapF(bigrams(x), bigrams(y)), longest(x, y), overlapF(tr, ta), covered(tr, ta)}
}

func (c *compared) contradictions() []float64 {
	a, ans := c.all[c.best], c.ans
	r := a.ref
	negated, against, weight, missing, extra := 0.0, 0.0, 0.0, 0.0, 0.0
	for i, k := range a.by {
		if r.words[i].content && k >= 0 && a.got[i] >= sameEnough && r.words[i].negated != ans.words[k].negated {
			negated++
		}
		if a.against[i] {
			against++
			weight += r.words[i].weight
		}
		if r.words[i].number != "" && a.got[i] < 1 {
			missing++
		}
	}
	for k := range ans.words {
		if ans.words[k].number != "" && a.used[k] < 1 && !c.asked[k] {
			extra++
		}
	}
	return []float64{math.Abs(float64(r.negations%2 - ans.negations%2)), negated, against, weight, missing, extra}
}

func (c *compared) sizes() []float64 {
	a, ans := c.all[c.best], c.ans
	r := a.ref
	nA, nR := float64(len(forms(ans, true))), float64(len(forms(r, true)))
	heaviest, missing := 0.0, 0.0
	for i := range r.words {
		if w := &r.words[i]; w.content && a.got[i] < 0.6 && !c.askedRef[c.best][i] {
			heaviest = max(heaviest, w.weight*(1-a.got[i]))
			missing++
		}
	}
	extra, inQuestion := 0.0, 0.0
	for k := range ans.words {
		switch w := &ans.words[k]; {
		case !w.content:
		case c.asked[k]:
			inQuestion++
		case a.used[k] < 0.6:
			extra += w.weight
		}
	}
	return []float64{nA, nR, math.Log((nA + 1) / (nR + 1)), float64(len(ans.words)), float64(len(r.words)),
		heaviest, missing, extra, extra / (nA + 1), inQuestion / (nA + 1), float64(ans.slips) / float64(len(ans.words)+1)}
}

func (c *compared) overall() []float64 {
	union := make([]float64, len(c.ans.words))
	for _, a := range c.all {
		for k, v := range a.used {
			union[k] = max(union[k], v)
		}
	}
	return []float64{slices.Max(c.f), slices.Max(c.newF), slices.Max(c.recall), slices.Max(c.newRecall), slices.Max(c.chars), mean(c.f), mean(c.newF),
		math.Log(float64(len(c.all))), zero(weighted(c.ans.words, union, nil)), zero(weighted(c.ans.words, union, c.asked))}
}

func (c *compared) asks() []float64 {
	return append([]float64{flag(dontKnow(c.ans))}, kindOf(c.question.raw)...)
}

func (c *compared) places() []float64 {
	a, ans := c.all[c.best], c.ans
	r := a.ref
	least, most := clauses(r, a)
	fresh, n, answerNew := 0.0, 0.0, 0.0
	for i := range r.words {
		if r.words[i].content {
			n++
			fresh += flag(!c.askedRef[c.best][i])
		}
	}
	for k := range ans.words {
		answerNew += flag(ans.words[k].content && !c.asked[k])
	}
	return []float64{least, most, linked(r, ans, a), byTag(r, a, "VERB"), byTag(r, a, "NOUN", "PROPN"), byTag(r, a, "ADJ", "ADV", "ADP", "NUM"),
		float64(len(c.question.words)), fresh / (n + 1), answerNew, edgeMatch(r, ans), 1 - softest(r, a)}
}

// pieces looks at the sentences of the references, each of which may be an
// answer by itself, and at what stands in the question before it asks.
func (c *compared) pieces() []float64 {
	r, ans := c.all[c.best].ref, c.ans
	most, least, mostNew, parts := 0.0, 1.0, 0.0, 0.0
	for n, a := range c.all {
		for _, part := range sentences(a.ref) {
			var words []word
			var got []float64
			var without []bool
			for _, i := range part {
				words, got, without = append(words, a.ref.words[i]), append(got, a.got[i]), append(without, c.askedRef[n][i])
			}
			rec := weighted(words, got, nil)
			if math.IsNaN(rec) {
				continue
			}
			parts++
			most, least = max(most, rec), min(least, rec)
			mostNew = max(mostNew, zero(weighted(words, got, without)))
		}
	}
	stem, n := 0.0, 0.0
	for k := range ans.words {
		if !ans.words[k].content {
			continue
		}
		n++
		for i := range c.question.focus {
			if ans.words[k].form == c.question.words[i].form {
				stem++
				break
			}
		}
	}
	raw := normal(r.raw)
	varies := strings.Contains(raw, "vary") || strings.Contains(raw, "accept") || strings.Contains(raw, "such as")
	return []float64{choice(r, ans), float64(yes(r) * yes(ans)), flag(varies), most, least, mostNew, parts / float64(len(c.all)), stem / (n + 1)}
}
