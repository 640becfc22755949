package people

import (
	"context"
	"fmt"
	"math"
	"slices"
	"strings"

	"bookstead/internal/lang"
	"bookstead/internal/lexicon"
)

// Lesson is a text whose speakers are known, to learn weights from.
type Lesson struct {
	s    *story
	ts   []turn
	gold []int // entity of the speaker of each quotation; -2 not known
}

// NewLesson reads a text as [Caster] does. who gives for quotations, by index,
// the Member.ID of their speakers in the cast that Annotate made of it; only the
// first quotations, up to last, are learned from.
func NewLesson(ctx context.Context, d *lang.Doc, seen []Seen, who map[int]string, last int) (*Lesson, error) {
	lex, err := lexicon.Open()
	if err != nil {
		return nil, err
	}
	s, err := read(ctx, d, lex, seen)
	if err != nil {
		return nil, err
	}
	if err := s.speakers(ctx); err != nil {
		return nil, err
	}
	s.unmask()
	s.findRoles()
	s.settleAges()
	if err := s.resolve(ctx, s.cues()); err != nil {
		return nil, err
	}
	if err := s.speakers(ctx); err != nil {
		return nil, err
	}
	s.publish()
	l := &Lesson{s: s, ts: s.turns(), gold: make([]int, len(d.Quotations))}
	entity := map[string]int{}
	for e, id := range s.ids {
		if id != "" {
			entity[id] = e
		}
	}
	for i := range l.gold {
		l.gold[i] = -2
		if e, ok := entity[who[i]]; ok && who[i] != "" {
			l.gold[i] = e
		}
	}
	l.ts, l.gold = l.ts[:last], l.gold[:last]
	return l, nil
}

// expect adds to sum the expected features of the lattice, times sign.
func (l *Lesson) expect(la *lattice, sum []float64, sign float64) {
	la.forward()
	la.backward()
	z := la.total()
	var buf []feature
	for i := range la.states {
		for k := range la.states[i] {
			st := &la.states[i][k]
			for _, e := range st.in {
				v := e.score + st.beta - z
				if e.from >= 0 {
					v += la.states[i-1][e.from].alpha
				}
				p := sign * math.Exp(v)
				if p == 0 || math.IsNaN(p) {
					continue
				}
				for _, f := range l.ts[i].candidates[st.c].f {
					sum[f.name] += p * f.value
				}
				if e.from >= 0 {
					from := &la.states[i-1][e.from]
					buf = l.s.step(buf, &l.ts[i-1], &l.ts[i], st.who, from.who, from.other, l.ts[i].candidates[st.c].recent)
					for _, f := range buf {
						sum[f.name] += p * f.value
					}
				}
			}
		}
	}
}

// clamp leaves only the states that agree with what is known; false when none do.
func (l *Lesson) clamp(la *lattice) bool {
	ok := false
	for i := range la.states {
		g := l.gold[i]
		if g == -2 {
			continue
		}
		has := false
		for k := range la.states[i] {
			has = has || la.states[i][k].who == g
		}
		if !has {
			continue
		}
		ok = true
		for k := range la.states[i] {
			if la.states[i][k].who != g {
				for e := range la.states[i][k].in {
					la.states[i][k].in[e].score = math.Inf(-1)
				}
			}
		}
	}
	return ok
}

// prior is what we would say that the features weigh; learning moves them from
// there as far as the texts give reason to.
var prior = [features]float64{
	cueNamed: 6, cueOther: -3, cueDescribed: 4, cueDescribedSure: 7, cueDescribedNot: -3, cueDescribedMaybe: 2.5, cueClash: -5, cuePronounFits: 1, cuePronounIs: 2.5,
	cueIs1: 6, cueIsNot1: -5, beatBefore: 1.5, beatAfter: 1.5, beatMention: 0.3, beatOther: -0.5, called: -4, spokenOf: -1, lastSubject: 0.7, lastMention: 0.2,
	often: 0.6, unnamed: -0.7, nobodyKnown: -0.5, longAgo: -1, distance: -0.1,
	stepSameCued: -0.5, stepBackCued: 0.5, stepSame0: -1.5, stepBack0: 1.5, stepNew0: -0.5, stepSame1: -0.3, stepBack1: 0.6, stepNew1: -0.5, stepBack2: 0.2, stepNew2: -0.2, stepGoesOn: 6,
	stepCalled: 1.5, stepTold: 0.8, stepSir: 0.3, stepSirNot: -1, stepSameBeat: 1, stepSirNext: 0.3, stepSirNextNot: -1,
}

// Train learns the weights by maximum likelihood of the known speakers, held
// near [Prior]: hold is how strongly.
func Train(ctx context.Context, lessons []*Lesson, rounds int, hold float64) ([]float64, error) {
	w := slices.Clone(prior[:])
	square := make([]float64, features)
	for range rounds {
		grad := make([]float64, features)
		for _, l := range lessons {
			if len(l.ts) == 0 {
				continue
			}
			la, err := l.s.lattice(ctx, l.ts, w, 1<<20)
			if err != nil {
				return nil, err
			}
			known, err := l.s.lattice(ctx, l.ts, w, 1<<20)
			if err != nil {
				return nil, err
			}
			if !l.clamp(known) {
				continue
			}
			l.expect(known, grad, 1)
			l.expect(la, grad, -1)
		}
		for i := range w {
			g := grad[i] - hold*(w[i]-prior[i])
			square[i] += g * g
			if square[i] > 0 {
				w[i] += 0.3 * g / math.Sqrt(square[i]) // AdaGrad
			}
		}
	}
	return w, nil
}

// Accuracy counts the known speakers that weights (nil: those in use) find.
func Accuracy(ctx context.Context, lessons []*Lesson, w []float64) (right, known int) {
	if w == nil {
		w = weights[:]
	}
	for _, l := range lessons {
		if len(l.ts) == 0 {
			continue
		}
		la, err := l.s.lattice(ctx, l.ts, w, beam)
		if err != nil {
			return
		}
		la.forward()
		for i, k := range la.path() {
			if l.gold[i] == -2 {
				continue
			}
			known++
			if la.states[i][k].who == l.gold[i] {
				right++
			}
		}
	}
	return
}

// Show writes weights as the source of weights.go has them.
func Show(w []float64) string {
	var b strings.Builder
	for i, v := range w {
		fmt.Fprintf(&b, "\t%s: %.2f,\n", featureNames[i], v)
	}
	return b.String()
}

// Prior returns the weights that learning starts from.
func Prior() []float64 { return slices.Clone(prior[:]) }
