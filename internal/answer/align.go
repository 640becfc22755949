package answer

// aligned is an answer laid beside one reference.
type aligned struct {
	ref *text
	// got is, for each word of the reference, how well the answer has it, and
	// used, for each word of the answer, how well the reference has it.
	got, used []float64
	// by is the word of the answer that a reference word is taken for, -1 for none.
	by []int
	// against marks reference words that the answer contradicts.
	against []bool
	// turned is the same, but for words that only stand in the reach of a negation.
	turned []bool
}

// sameEnough is the likeness from which two words say the same.
const sameEnough = 0.8

// align finds for each word its likest on the other side.
func align(ref, ans *text) aligned {
	a := aligned{ref: ref, got: make([]float64, len(ref.words)), used: make([]float64, len(ans.words)),
		by: make([]int, len(ref.words)), against: make([]bool, len(ref.words)), turned: make([]bool, len(ref.words))}
	for i := range ref.words {
		a.by[i] = -1
		r := &ref.words[i]
		for k := range ans.words {
			w := &ans.words[k]
			s := 0.0
			switch {
			case r.form == w.form:
				s = 1
			case r.content && w.content:
				s = like(r, w)
			}
			if s > a.got[i] {
				a.got[i], a.by[i] = s, k
			}
			a.used[k] = max(a.used[k], s)
		}
	}
	for i := range ref.words {
		r := &ref.words[i]
		if !r.content {
			continue
		}
		if k := a.by[i]; a.got[i] >= sameEnough {
			a.against[i] = r.negated != ans.words[k].negated
			a.turned[i] = r.denied != ans.words[k].denied
			continue
		}
		for k := range ans.words {
			if a.used[k] < sameEnough && opposed(r, &ans.words[k]) {
				a.against[i], a.turned[i] = true, true
			}
		}
	}
	return a
}

// asked marks the words of t that stand in what the question asks: its last
// sentence. What stands before that is told, not asked, and a right answer may
// well be made of it.
func asked(t, question *text) []bool {
	out := make([]bool, len(t.words))
	for i := range t.words {
		for k := question.focus; k < len(question.words); k++ {
			if t.words[i].form == question.words[k].form || share(t.words[i].lemmas[:1], question.words[k].lemmas) {
				out[i] = true
				break
			}
		}
	}
	return out
}
