package question

import (
	"context"
	"slices"

	"bookstead/internal/lang"
	"bookstead/internal/lexicon"
)

// Asked is one question drafted for a text that stands alone.
type Asked struct {
	Question   string
	Answer     string // in few words, as a child says it
	Full       string // in a sentence, as a teacher writes it
	Start, End int    // bytes of the text: the sentences that prove it
	Kind       string
	Score      float64 // the chance that an expert asks and answers so, 0..1
	// Sure drafts stand on what the text states; of the others the text only
	// suggests the answer, or whom a pronoun means.
	Sure bool
	form string
}

// few is how many sure drafts make a text one that needs no others: a chapter
// has more, a page or two of a tale has fewer.
const few = 30

// Ask drafts at most n questions for an analysed text, best first. Where the text
// is short and gives few sure ones, those that it only suggests stand among them.
func Ask(ctx context.Context, lex *lexicon.Lexicon, d *lang.Doc, n int) ([]Asked, error) {
	r, err := readRanking(rankText)
	if err != nil {
		return nil, err
	}
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	e := newEngine(lex, d, "")
	all := e.candidates(0, len(d.Sentences), true)
	sure := 0
	all = slices.DeleteFunc(all, func(x candidate) bool { return lex.Warning(x.q, x.a, x.full) != "" })
	for i := range all {
		x := &all[i]
		x.score = r.chance(e.features(x, x.c.sentence, len(d.Sentences)))
		if x.stated = e.sound(x); x.stated {
			sure++
		}
	}
	if sure >= few {
		all = slices.DeleteFunc(all, func(x candidate) bool { return !x.stated })
	}
	var out []Asked
	for _, x := range bestFirst(all, n) {
		out = append(out, Asked{x.q, x.a, x.full, d.SentenceSpan(x.first).Start, d.SentenceSpan(x.last).End, x.kind, x.score, x.stated, x.form})
	}
	return out, nil
}
