// Package answer judges a child's written answer and shows what one may look
// like.
//
// A [Judge] reads a question with its right answers once, into a [Key], and then
// any number of answers to it. [Key.Judge] gives a [Result]: whether the answer
// is right, which points of the right answer it has, whether it is a whole
// sentence, its slips of spelling and pointing, the one next thing to mend in
// words that a child can use, and the evidence for the teacher. It is advice and
// no grade, and says "unsure" where it can't tell.
//
// Right and wrong are told by two small forests (models.go, forest/) on measures of likeness
// between the answer and each reference (features.go): the same words, words of
// like meaning, letters, pairs that hang together, negation, numbers, and what is
// left over once the question's own words are set aside. models.md is their card.
//
// [Judge.Model] shortens a teacher's full answer to what a child of a grade may
// write (model.go), and [Judge.Starter] gives the beginning of an answer.
package answer

import (
	"context"
	"fmt"
	"math"
	"strings"
	"sync"
	"unicode"

	"bookstead/internal/lexicon"
)

// Judge judges answers. It is safe for concurrent use.
type Judge struct {
	lex      *lexicon.Lexicon
	models   Models
	meanings sync.Map // words that WordNet has, to *meaning
}

// New makes a judge.
func New(lex *lexicon.Lexicon) (*Judge, error) {
	m, err := loadModels()
	if err != nil {
		return nil, err
	}
	return &Judge{lex: lex, models: m}, nil
}

// Verdict says whether an answer is right.
type Verdict string

const (
	Correct   Verdict = "correct"
	Partly    Verdict = "partly" // some of the points are there, others not
	Incorrect Verdict = "incorrect"
	Unsure    Verdict = "unsure" // it can't be told; the teacher must
)

// Result is what was found in an answer.
type Result struct {
	Verdict Verdict
	// Score is 0 to 1; from .5 an answer is held to be right.
	Score     float64
	Points    []Point
	Sentence  Sentence
	Mechanics []Slip
	// Brief reports an answer of no more words than a child needs.
	Brief bool
	// Advice is for the child: what is good, and the one next thing to mend.
	Advice string
	// Evidence is for the teacher: on what the verdict stands.
	Evidence string
}

// longestJudged is how many words of an answer are judged at most; what is
// longer is an essay, and its likeness to an answer says little.
const longestJudged = 200

// Judge judges an answer by a child of a grade (1 to 6; 0 for any).
func (k *Key) Judge(ctx context.Context, answer string, grade int) (Result, error) {
	j := k.judge
	whole := len(strings.Fields(answer))
	t, err := j.read(ctx, clip(strings.TrimSpace(answer), mostRead), k.known)
	if err != nil {
		return Result{}, err
	}
	s := whether(t)
	if m := t.mended(); m != t.raw { // "becuase" hides how the sentence is made
		again, err := j.read(ctx, m, k.known)
		if err != nil {
			return Result{}, err
		}
		as := whether(again)
		s.Whole, s.Subject, s.Verb, s.Alone = as.Whole, as.Subject, as.Verb, as.Alone
	}
	r := Result{Mechanics: k.mechanics(t), Sentence: s, Brief: whole <= briefest(grade)}
	r.Sentence.Words = whole
	lead := len(answer) - len(strings.TrimLeftFunc(answer, unicode.IsSpace))
	for i := range r.Mechanics {
		r.Mechanics[i].Start += lead
		r.Mechanics[i].End += lead
	}
	c := k.compared(t)
	if c != nil {
		r.Points = points(c)
		r.Score = math.Round(1000*j.models.Score(c.features())) / 1000
	}
	k.decide(&r, t, c, whole)
	k.advise(&r, t)
	return r, nil
}

// compared lays the answer beside the references; nil when one side is empty.
func (k *Key) compared(t *text) *compared {
	if len(t.words) == 0 || len(k.refs) == 0 {
		return nil
	}
	return compare(k.question, k.refs, t)
}

// briefest is how many words an answer of one or two sentences has at most, for
// the grade: two T-units of twice the mean length that children write (norm).
func briefest(grade int) int {
	if grade == 0 {
		grade = 6
	}
	return int(math.Round(4 * norm(grade)))
}

// decide gives the verdict.
func (k *Key) decide(r *Result, t *text, c *compared, whole int) {
	say := func(v Verdict, score float64, evidence string) {
		r.Verdict, r.Score, r.Evidence = v, score, evidence
	}
	switch {
	case len(t.words) == 0:
		say(Incorrect, 0, "Nothing is written.")
	case whole > longestJudged:
		say(Unsure, r.Score, fmt.Sprintf("With %d words it is too long to be judged as an answer.", whole))
	case k.foreign(t):
		say(Unsure, r.Score, "Most of these words are not English, or are spelled so that they can't be read.")
		r.Mechanics = nil
	case c == nil:
		say(Unsure, 0, "There is no right answer to compare with.")
	case dontKnow(t):
		say(Incorrect, 0, "The answer says that the child doesn't know.")
	case k.copied(t):
		say(Incorrect, 0, "The answer repeats the question and adds nothing to it.")
	case k.verbatim(t) >= 0:
		say(Correct, 1, "This is the right answer word for word: it may be copied.")
	default:
		k.weigh(r, c)
	}
}

// unsureBand is how far below one half a score tells nothing where no point was
// found either: one in three of such answers in the training data is right.
const unsureBand = 0.25

// weigh gives the verdict on an answer that can be judged.
func (k *Key) weigh(r *Result, c *compared) {
	has, lacks, against := 0, 0, 0
	for _, p := range r.Points {
		switch p.State {
		case Present:
			has++
		case Contradicted:
			against++
		default:
			lacks++
		}
	}
	said, wanted := yes(c.ans), yes(c.all[c.best].ref)
	switch {
	case said*wanted < 0: // no for yes
		r.Verdict, r.Score = Incorrect, min(r.Score, 0.4)
	case said*wanted > 0 && len(c.ans.words) <= 2 && r.Score < 0.5:
		r.Verdict = Partly
	case r.Score >= 0.5 && against > has: // the words of the answer, turned round
		r.Verdict = Unsure
	case r.Score >= 0.5:
		r.Verdict = Correct
	case has > 0 && lacks+against > 0:
		r.Verdict = Partly
	case against == 0 && r.Score > 0.5-unsureBand:
		r.Verdict = Unsure
	default:
		r.Verdict = Incorrect
	}
	r.Evidence = evidence(r, c)
}

// evidence tells the teacher what the verdict stands on.
func evidence(r *Result, c *compared) string {
	var have, missing, against []string
	for _, p := range r.Points {
		switch p.State {
		case Present:
			have = append(have, "“"+p.Text+"” ("+strings.Join(p.Words, ", ")+")")
		case Contradicted:
			against = append(against, "“"+p.Text+"”")
		default:
			missing = append(missing, "“"+p.Text+"”")
		}
	}
	var out []string
	for _, x := range []struct {
		head string
		list []string
	}{{"Has", have}, {"Goes against", against}, {"Lacks", missing}} {
		if len(x.list) > 0 {
			out = append(out, x.head+" "+strings.Join(x.list, "; ")+".")
		}
	}
	if r.Verdict == Correct && len(have) == 0 {
		out = append(out, "It says it in other words; look at it yourself.")
	}
	if r.Verdict == Unsure {
		out = append(out, "It may say the same in other words, or something else.")
	}
	if len(c.all) > 1 {
		out = append(out, "Nearest to: "+strings.TrimSpace(c.all[c.best].ref.raw))
	}
	return strings.Join(out, " ")
}

// foreign reports words that are no English.
func (k *Key) foreign(t *text) bool {
	letters, latin := 0, 0
	for _, c := range t.raw {
		if unicode.IsLetter(c) {
			letters++
			latin += int(flag(unicode.Is(unicode.Latin, c)))
		}
	}
	if 2*latin < letters {
		return true
	}
	n := 0
	for i := range t.words {
		if len(t.words[i].typed) > 1 && t.words[i].number == "" {
			n++
		}
	}
	for _, p := range t.doc.Paragraphs {
		if p.Skip {
			return true
		}
	}
	known := 0
	for i := range t.words {
		if w := &t.words[i]; w.content && k.known[w.form] {
			known++
		}
	}
	return n >= 3 && known == 0 && 2*t.slips >= n
}

// copied reports an answer that is the question again.
func (k *Key) copied(t *text) bool {
	if len(t.words) < 4 {
		return false
	}
	fresh := 0
	all := map[string]bool{}
	for i := range k.question.words {
		for _, l := range k.question.words[i].lemmas {
			all[l] = true
		}
	}
	for i := range t.words {
		w := &t.words[i]
		seen := all[w.form]
		for _, l := range w.lemmas {
			seen = seen || all[l]
		}
		if !seen && w.form != "not" {
			fresh++
		}
	}
	if fresh > 0 && 10*fresh > len(t.words) {
		return false
	}
	return longest(forms(k.question, false)[k.question.focus:], forms(t, false)) >= 0.75
}

// verbatim returns the reference that the answer is, word for word, if it is
// long enough for that to mean something; else -1.
func (k *Key) verbatim(t *text) int {
	for i, r := range k.refs {
		if len(r.words) >= 5 && joined(r, nil) == joined(t, nil) {
			return i
		}
	}
	return -1
}
