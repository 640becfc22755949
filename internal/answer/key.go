package answer

import "context"

// Key is a question with its right answers, read once for all answers to it.
type Key struct {
	judge    *Judge
	question *text
	refs     []*text
	known    map[string]bool   // words of the question and the references
	names    map[string]string // names in them, by their form in lower case
}

// Key reads a question and its right answers.
func (j *Judge) Key(ctx context.Context, question string, references []string) (*Key, error) {
	k := &Key{judge: j, known: map[string]bool{}, names: map[string]string{}}
	var err error
	if k.question, err = j.read(ctx, clip(question, mostRead), nil); err != nil {
		return nil, err
	}
	k.learn(k.question)
	for _, r := range references {
		t, err := j.read(ctx, clip(r, mostRead), nil)
		if err != nil {
			return nil, err
		}
		if len(t.words) > 0 {
			k.refs = append(k.refs, t)
			k.learn(t)
		}
	}
	return k, nil
}

func (k *Key) learn(t *text) {
	for i := range t.words {
		w := &t.words[i]
		k.known[w.typed] = true
		if w.upos == "PROPN" && w.form != "i" {
			k.names[w.typed] = t.doc.Tokens[w.token].Form
		}
	}
}

// Row returns the features of an answer, for training.
func (k *Key) Row(ctx context.Context, answer string) ([]float64, error) {
	a, err := k.judge.read(ctx, clip(answer, mostRead), k.known)
	if err != nil {
		return nil, err
	}
	return compare(k.question, k.refs, a).features(), nil
}
