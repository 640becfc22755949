package question

import (
	"fmt"
	"slices"
	"strings"

	"bookstead/internal/kit"
	"bookstead/internal/passage"
)

// verbs of choosing and of wrong and right: what somebody did with such a verb
// can be argued about (our list).
var choices = func() map[string]bool {
	m := map[string]bool{}
	for _, w := range strings.Fields("decide refuse promise lie steal hide run escape forgive blame help save trust doubt obey disobey pretend leave stay keep break tell confess deny agree insist beg dare risk share cheat protect fight quarrel choose resolve determine vow swear betray deceive trick abandon follow defend") {
		m[w] = true
	}
	return m
}()

// discussion makes prompts from acts of choice: would you have done it, was it
// right. Each names what happened, so none could stand in another book.
func (e *engine) discussion(p passage.Passage) []kit.Draft {
	var out []kit.Draft
	seen := map[string]bool{}
	for si := p.First; si < p.Last && len(out) < 4; si++ {
		if !p.Prose(si) {
			continue
		}
		c := e.clause(si)
		if c == nil || c.member == nil || c.cop >= 0 || e.d.Tokens[c.root].XPOS != "VBD" || !choices[strings.ToLower(e.d.Tokens[c.root].Lemma)] {
			continue
		}
		subject, ok := e.name(c)
		if !ok || seen[subject] {
			continue
		}
		st, ok := e.statement(c, subject, nil)
		if !ok || len(strings.Fields(st)) > 24 || !good("Why was that so?", st) {
			continue
		}
		seen[subject] = true
		prompt := fmt.Sprintf("%s. Was that the right thing to do? What would you have done, and why?", st)
		note := fmt.Sprintf("Listen for what %s knew at that moment, what could have gone wrong, and reasons taken from the text.", c.member.Name)
		d := draft(kit.Discussion, p, si, si, kit.Content{Head: prompt, Note: note}, e.weight(c), "Somebody makes a choice here that can be argued about.")
		out = append(out, d)
	}
	slices.SortStableFunc(out, func(a, b kit.Draft) int {
		if a.Score > b.Score {
			return -1
		} else if a.Score < b.Score {
			return 1
		}
		return 0
	})
	for i := range out {
		out[i].Spare = i >= 2
	}
	return out
}

// motives of tasks: words of the passage that give a drawing, a map, a letter.
var motives = []struct {
	kind  string
	words []string
	// task gets the word as the passage has it and, as the second, the person most spoken of.
	task func(word, person string) string
}{
	{"writing", []string{"letter", "telegram", "diary"}, func(w, p string) string {
		return fmt.Sprintf("A %s comes up in this lesson. Write one that %s might have written on that day, in about eight sentences.", w, p)
	}},
	{"map", []string{"river", "road", "path", "island", "forest", "moor", "village", "street", "lane", "bridge", "cave", "garden", "shore", "hill", "field"}, func(w, p string) string {
		return fmt.Sprintf("Draw a map of the places in this lesson, with the %s, and show by a dotted line where %s goes.", w, p)
	}},
	{"drawing", []string{"house", "room", "kitchen", "castle", "palace", "barn", "stable", "ship", "boat", "shop", "cottage", "door", "window"}, func(w, p string) string {
		return fmt.Sprintf("Draw the %s as the book describes it. Copy under it the sentence that helped you most.", w)
	}},
	{"research", []string{"horse", "bird", "robin", "fox", "dog", "storm", "cyclone", "lion", "wolf", "ship", "coal", "silver", "gold", "bee", "sheep", "rabbit"}, func(w, p string) string {
		return fmt.Sprintf("Find out three things about a %s that help to understand what happens to %s here. Say where you found them.", w, p)
	}},
	{"memory", []string{"poem", "song", "verse", "rhyme"}, func(w, p string) string {
		return fmt.Sprintf("Learn the %s of this lesson by heart, or four lines of it, and say it as %s would.", w, p)
	}},
}

// extension makes tasks from what the passage holds: the motive whose word
// comes most often, and the next one as a spare.
func (e *engine) extension(p passage.Passage) []kit.Draft {
	person := e.person(p)
	if person == "" {
		return nil
	}
	first, last := p.Tokens()
	type hit struct {
		motive, sentence, count int
		word                    string
	}
	best := map[int]*hit{}
	for i := first; i < last; i++ {
		t := e.d.Tokens[i]
		if t.UPOS != "NOUN" {
			continue
		}
		l := strings.ToLower(t.Lemma)
		for m := range motives {
			if slices.Contains(motives[m].words, l) {
				h := best[m]
				if h == nil {
					h = &hit{motive: m, sentence: e.d.SentenceAt(t.Start), word: l}
					best[m] = h
				}
				if h.word == l {
					h.count++
				}
			}
		}
	}
	var hits []*hit
	for m := range motives {
		if best[m] != nil {
			hits = append(hits, best[m])
		}
	}
	slices.SortStableFunc(hits, func(a, b *hit) int { return b.count - a.count })
	var out []kit.Draft
	for i, h := range hits {
		if i >= 3 || h.count < 2 && i > 0 {
			break
		}
		m := motives[h.motive]
		d := draft(kit.Extension, p, h.sentence, h.sentence, kit.Content{Head: m.task(h.word, person), PartOfSpeech: m.kind}, float64(h.count),
			fmt.Sprintf("The word “%s” comes %d times in this lesson.", h.word, h.count))
		d.Spare = i > 0
		out = append(out, d)
	}
	return out
}

// person is who is named most in the passage, "" when nobody of the cast is.
func (e *engine) person(p passage.Passage) string {
	best, most := "", 0
	for _, m := range e.d.Cast {
		if m.Kind == "place" || m.Kind == "group" {
			continue
		}
		n := 0
		for _, mn := range m.Mentions {
			if mn.Start >= p.Lesson.Start && mn.End <= p.Lesson.End {
				n++
			}
		}
		if n > most {
			best, most = m.Name, n
		}
	}
	return best
}
