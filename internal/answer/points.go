package answer

import (
	"context"
	"strings"
)

// State says what an answer does with a point.
type State string

const (
	Present      State = "present"
	Missing      State = "missing"
	Contradicted State = "contradicted"
)

// Point is one thing that the right answer says and the question does not.
type Point struct {
	Text  string
	State State
	// Words of the answer that stand for it.
	Words []string
}

// Points returns what counts in a full answer: what it says that the question
// does not, in its own words.
func (j *Judge) Points(ctx context.Context, question, full string) ([]string, error) {
	k, err := j.Key(ctx, question, []string{full})
	if err != nil || len(k.refs) == 0 {
		return nil, err
	}
	var out []string
	for _, p := range points(compare(k.question, k.refs, &text{})) {
		out = append(out, p.Text)
	}
	return out, nil
}

// hasPoint is the share of a point's words, by weight, from which an answer
// has it.
const hasPoint = 0.6

// points are those of the reference that the answer is nearest to.
func points(c *compared) []Point {
	a := c.all[c.best]
	asked := c.askedRef[c.best]
	pieces := things(a.ref)
	var out []Point
	for _, piece := range pieces {
		if p, ok := c.point(a, piece, asked); ok {
			out = append(out, p)
		}
	}
	if len(out) == 0 { // all of it stands in the question: yes or no, this or that
		var all []int
		for i := range a.ref.words {
			all = append(all, i)
		}
		if p, ok := c.point(a, all, nil); ok {
			out = append(out, p)
		}
	}
	return out
}

// things parts a text into what it says: at the ends of sentences, before a
// clause that tells why or when, and before "and" or "but" with something more. What is said, thought or seen stays with its verb.
func things(t *text) [][]int {
	var out [][]int
	var now []int
	for i := range t.words {
		w := &t.words[i]
		d := t.doc.Tokens[w.token]
		opens := w.token > 0 && strings.ContainsAny(t.doc.Tokens[w.token-1].Form, ".;!?")
		if d.Head >= 0 {
			switch h := t.doc.Tokens[d.Head]; rel(d.Deprel) {
			case "cc":
				opens = true
			case "mark":
				opens = opens || rel(h.Deprel) == "advcl" && d.Head > w.token && normal(d.Form) != "to"
			}
		}
		if opens && len(now) >= 2 {
			out = append(out, now)
			now = nil
		}
		now = append(now, i)
	}
	if len(now) > 0 {
		out = append(out, now)
	}
	return out
}

func (c *compared) point(a aligned, piece []int, without []bool) (Point, bool) {
	s, n, against := 0.0, 0.0, false
	p := Point{State: Missing}
	for _, i := range piece {
		w := &a.ref.words[i]
		if !w.content || without != nil && without[i] {
			continue
		}
		s += w.weight * a.got[i]
		n += w.weight
		against = against || a.turned[i]
		if k := a.by[i]; k >= 0 && a.got[i] >= 0.5 {
			p.Words = append(p.Words, c.ans.words[k].typed)
		}
	}
	if n == 0 {
		return p, false
	}
	switch {
	case against:
		p.State = Contradicted
	case s/n >= hasPoint:
		p.State = Present
	}
	p.Text = a.ref.span(piece)
	return p, true
}

// span is the text from the first to the last of some words, without the joint
// that it begins with.
func (t *text) span(words []int) string {
	for len(words) > 1 && joints[t.words[words[0]].form] {
		words = words[1:]
	}
	first, last := t.doc.Tokens[t.words[words[0]].token], t.doc.Tokens[t.words[words[len(words)-1]].token]
	return strings.Join(strings.Fields(t.doc.Text[first.Start:last.End]), " ")
}

var joints = set("and but or so because that since as for")
