// Package preference learns from a teacher's decisions which kinds of draft the
// class's later lessons should have more of, and says so.
//
// [Learn] counts what was kept, changed and dropped of each kind, and makes of
// the counts a small push up or down for each, drawn toward nought where there
// are few. [Learned.Prefer] exchanges printed drafts for spare ones of a liked
// kind; it never makes, changes or removes a draft, and a teacher who forgets the
// decisions, or turns it off, has the program's own drafts again. Nothing leaves
// the computer.
package preference

import (
	"fmt"
	"slices"
	"strings"

	"bookstead/internal/kit"
)

// Sort is a sort of draft: its kind and, where a kind has sorts, which.
type Sort struct {
	Kind kit.Kind
	Of   string // "cause" of a question, "map" of a task, "simile" of a figure
}

// SortOf is the sort of a draft or a decision.
func SortOf(k kit.Kind, c kit.Content) Sort {
	switch k {
	case kit.Question:
		return Sort{k, c.Note}
	case kit.Extension, kit.Figure:
		return Sort{k, c.PartOfSpeech}
	}
	return Sort{k, ""}
}

// Count is what was decided on one sort.
type Count struct {
	Sort
	Kept, Changed, Dropped int
}

func (c Count) decided() int { return c.Kept + c.Changed + c.Dropped }

// worth is the share that was good: what was changed counts for half.
func (c Count) worth() float64 { return float64(c.Kept) + 0.5*float64(c.Changed) }

// Learned are counts and what follows from them. The zero value pushes nothing.
type Learned struct {
	Counts []Count // by kind and sort
	push   map[Sort]float64
}

const (
	// doubt is how many decisions on a sort weigh as much as what is known of its
	// whole kind: with fewer, a sort is held to be like the others.
	doubt = 6
	// leastPush is the push from which drafts are exchanged and the teacher told.
	leastPush = 0.15
)

// Learn counts decisions. Items added by hand and words, of which each is one of
// its own, teach nothing.
func Learn(decisions []kit.Decision) Learned {
	by := map[Sort]*Count{}
	for _, d := range decisions {
		if d.Kind == kit.Vocabulary || d.Kind == kit.Practice || d.Kind == kit.Background {
			continue
		}
		s := SortOf(d.Kind, d.Content)
		if by[s] == nil {
			by[s] = &Count{Sort: s}
		}
		switch d.State {
		case kit.Kept:
			by[s].Kept++
		case kit.Changed:
			by[s].Changed++
		case kit.Dropped:
			by[s].Dropped++
		}
	}
	l := Learned{push: map[Sort]float64{}}
	whole := map[kit.Kind]Count{}
	for _, c := range by {
		w := whole[c.Kind]
		w.Kept, w.Changed, w.Dropped = w.Kept+c.Kept, w.Changed+c.Changed, w.Dropped+c.Dropped
		whole[c.Kind] = w
		if c.decided() > 0 {
			l.Counts = append(l.Counts, *c)
		}
	}
	slices.SortFunc(l.Counts, func(a, b Count) int {
		if x := strings.Compare(string(a.Kind), string(b.Kind)); x != 0 {
			return x
		}
		return strings.Compare(a.Of, b.Of)
	})
	for _, c := range l.Counts {
		w := whole[c.Kind]
		mean := w.worth() / float64(w.decided())
		l.push[c.Sort] = (c.worth()+doubt*mean)/(float64(c.decided())+doubt) - mean
	}
	return l
}

// Push is how much more (or less, below nought) of a sort is kept than of its
// whole kind, drawn toward nought by doubt: -1 to 1.
func (l Learned) Push(s Sort) float64 { return l.push[s] }

// Prefer exchanges printed drafts of disliked sorts for spare drafts of liked
// ones, each with its reason, in a lesson on which nothing has been decided. As
// many of each kind are printed as before.
func (l Learned) Prefer(drafts []kit.Draft) []kit.Draft {
	out := slices.Clone(drafts)
	for i := range out {
		if out[i].Spare || l.push[SortOf(out[i].Kind, out[i].Content)] > -leastPush {
			continue
		}
		best := -1
		for k := range out {
			d := out[k]
			if d.Kind != out[i].Kind || !d.Spare || d.Warning != "" {
				continue
			}
			p := l.push[SortOf(d.Kind, d.Content)]
			if p < l.push[SortOf(out[i].Kind, out[i].Content)]+leastPush {
				continue
			}
			if best < 0 || p > l.push[SortOf(out[best].Kind, out[best].Content)] ||
				p == l.push[SortOf(out[best].Kind, out[best].Content)] && d.Score > out[best].Score {
				best = k
			}
		}
		if best < 0 {
			continue
		}
		out[i].Spare, out[best].Spare = true, false
		out[best].Why = strings.TrimSpace(out[best].Why + " It takes the place of another, because you dropped most of its sort: " + l.tally(SortOf(out[i].Kind, out[i].Content)) + ".")
	}
	return out
}

func (l Learned) tally(s Sort) string {
	for _, c := range l.Counts {
		if c.Sort == s {
			return fmt.Sprintf("%d of %d", c.Dropped, c.decided())
		}
	}
	return ""
}

// Say tells the teacher what was learned, a sentence for each sort that later
// lessons have more or less of; nothing where nothing follows.
func (l Learned) Say() []string {
	var out []string
	for _, c := range l.Counts {
		switch p := l.push[c.Sort]; {
		case p <= -leastPush:
			out = append(out, fmt.Sprintf("You dropped %d of %d %s. Lessons that you have not begun have fewer of them, where there are others.", c.Dropped, c.decided(), c.name()))
		case p >= leastPush:
			out = append(out, fmt.Sprintf("You kept %d of %d %s. Lessons that you have not begun have them in place of those that you drop.", c.Kept+c.Changed, c.decided(), c.name()))
		}
	}
	return out
}

// name is a sort in words.
func (c Count) name() string {
	switch c.Kind {
	case kit.Question:
		if s := asks[c.Of]; s != "" {
			return "questions " + s
		}
		return "questions"
	case kit.Extension:
		return strings.TrimSpace(c.Of + " tasks")
	case kit.Figure:
		return "turns of phrase (" + c.Of + ")"
	case kit.Quotation:
		return "quotations"
	case kit.Passage:
		return "key passages"
	case kit.Discussion:
		return "prompts to talk over"
	}
	return string(c.Kind) + "s"
}

var asks = map[string]string{"character": "about who", "setting": "about where or when", "action": "about what is done", "feeling": "about what someone feels",
	"cause": "that ask why", "outcome": "about what came of it", "prediction": "about what may come"}
