package question

import (
	"fmt"
	"slices"
	"strings"

	"bookstead/internal/book"
	"bookstead/internal/kit"
	"bookstead/internal/passage"
)

// dilemmas are verbs of choosing, of wrong and of right, by what can be argued
// about when somebody did so (our list). The prompt takes the name.
var dilemmas = []struct {
	verbs  map[string]bool
	prompt string
}{
	{set("pretend deceive trick cheat steal betray"), "Could %s have got what was wanted in an honest way? Is there a time when doing so is right?"},
	{set("refuse disobey resist deny protest"), "Was %s right? What might have happened otherwise?"},
	{set("decide choose resolve determine agree"), "What else could %s have done, and what would you have chosen?"},
	{set("help save rescue protect defend share forgive comfort"), "What did it cost %s, and would everyone have done it?"},
	{set("promise vow swear"), "Should such a promise be kept whatever happens? What might make it hard for %s?"},
	{set("quarrel fight blame accuse threaten punish beat"), "Who was more in the right, and what could %s have done instead?"},
	{set("hide escape abandon desert flee"), "Was it brave, careful or wrong of %s? What would have happened to one who stayed?"},
	{set("confess apologize obey dare risk trust"), "Why can that be hard to do? What might %s have been thinking just before?"},
}

// needsMore are verbs that say little without what was decided or refused.
var needsMore = set("refuse decide choose resolve determine agree promise vow swear dare help save confess obey trust hide pretend")

// mostTalk is how many prompts a lesson prints.
const mostTalk = 2

// discussion makes prompts from acts that can be argued about. Each names what
// happened, and tells the teacher to listen for what the text gives as its
// reason or its outcome; without either there is no prompt.
func (e *engine) discussion(p passage.Passage) []kit.Draft {
	var out []kit.Draft
	seen := map[string]bool{}
	var all []*clause
	for si := p.First; si < p.Last; si++ {
		if p.Prose(si) {
			all = append(all, e.clausesOf(si)...)
		}
	}
	for n, c := range all {
		if c.spoken >= 0 || c.rel != "root" && c.rel != "conj" || !e.past(c) || c.cop >= 0 || c.passive || c.negation >= 0 || !e.animateAt(c.subject) {
			continue
		}
		d := slices.IndexFunc(dilemmas, func(d struct {
			verbs  map[string]bool
			prompt string
		}) bool {
			return d.verbs[e.lemma(c.root)]
		})
		if d < 0 || e.tellsSpeech(c) || e.unreal[c.root] || c.object < 0 && needsMore[e.lemma(c.root)] && e.child(c.root, "xcomp", "ccomp") < 0 {
			continue
		}
		t := e.voice(c)
		st := e.state(t, c, false)
		if st == "" || t.open > 0 || t.sure < surest || len(strings.Fields(st)) < 5 || len(strings.Fields(st)) > 24 || strings.ContainsAny(st, "“”\";:()[]*—") || strings.Contains(st, "--") {
			continue
		}
		who := e.voice(c).subjectOf(c)
		key := who + "|" + fmt.Sprint(d)
		if seen[key] || who == "" {
			continue
		}
		note := e.listen(c, all, n)
		if note == "" {
			continue
		}
		seen[key] = true
		prompt := sentence(st) + " " + fmt.Sprintf(dilemmas[d].prompt, who)
		score := e.weight[c.root]
		if r := e.refs[c.subject]; r.entity >= 0 && e.entities[r.entity].member != nil {
			score += min(1, float64(e.entities[r.entity].count)/100)
		}
		out = append(out, draft(kit.Discussion, p, c.sentence, c.sentence, kit.Content{Head: prompt, Note: note}, score, "Somebody does something here that can be argued about."))
	}
	slices.SortStableFunc(out, func(a, b kit.Draft) int { return compare(b.Score, a.Score) })
	out = out[:min(len(out), mostTalk+2)]
	for i := range out {
		out[i].Spare = i >= mostTalk
	}
	return out
}

// listen says what a teacher might listen for: the reason that the text gives
// for a deed, what was told before it and what came of it.
func (e *engine) listen(c *clause, all []*clause, n int) string {
	var parts []string
	for j := n - 1; j >= 0 && j >= n-6 && all[j].sentence >= c.sentence-2; j-- {
		if b := all[j]; b.spoken < 0 && (b.rel == "root" || b.rel == "conj") {
			if s := e.soundly(b); s != "" && len(strings.Fields(s)) >= 4 {
				parts = append(parts, "what led to it ("+s+")")
				break
			}
		}
	}
	for j := n + 1; j < len(all) && j <= n+6 && all[j].sentence <= c.sentence+3; j++ {
		if b := all[j]; b.spoken < 0 && (b.rel == "root" || b.rel == "conj") && e.eventful(b) {
			if s := e.soundly(b); s != "" && len(strings.Fields(s)) >= 4 {
				parts = append(parts, "what came of it ("+s+")")
				break
			}
		}
	}
	if len(parts) == 0 {
		return ""
	}
	return "Listen for " + strings.Join(parts, " and ") + ", and for reasons of the children's own."
}

// task is a piece of work made from the passage.
type task struct {
	kind, head, note, why string
	si                    int
	score                 float64
}

// mostTasks is how many a lesson prints.
const mostTasks = 1

// extension makes tasks from what the passage holds: a way through places gives
// a map, a letter an answer, verse something to learn, food a table, an animal
// something to find out, a described thing a drawing with its details.
func (e *engine) extension(p passage.Passage) []kit.Draft {
	var tasks []task
	for _, make := range []func(passage.Passage) (task, bool){e.journey, e.letter, e.verse, e.table, e.creature, e.picture} {
		if t, ok := make(p); ok {
			tasks = append(tasks, t)
		}
	}
	slices.SortStableFunc(tasks, func(a, b task) int { return compare(b.score, a.score) })
	var out []kit.Draft
	for i, t := range tasks {
		d := draft(kit.Extension, p, t.si, t.si, kit.Content{Head: t.head, PartOfSpeech: t.kind, Note: t.note}, t.score, t.why)
		d.Spare = i >= mostTasks
		out = append(out, d)
	}
	return out
}

// journey is a map of where one person went, from three places on.
func (e *engine) journey(p passage.Passage) (task, bool) {
	type way struct {
		places []string
		si     int
	}
	by := map[int]*way{}
	var order []int
	for si := p.First; si < p.Last; si++ {
		if !p.Prose(si) {
			continue
		}
		for _, c := range e.clausesOf(si) {
			if c.spoken >= 0 || c.negation >= 0 || c.cop >= 0 || !e.past(c) || !motion[e.lemma(c.root)] || c.rel == "ccomp" {
				continue
			}
			r := e.refs[c.subject]
			if r.entity < 0 || r.sure < surest || e.entities[r.entity].thing {
				continue
			}
			for _, k := range e.kids[c.root] {
				ln := e.lexname(e.lemma(k), 'n')
				if e.rel(k) != "obl" || k < c.root || !locate[e.prep(k)] || e.d.Tokens[k].UPOS != "NOUN" || ln != "noun.artifact" && ln != "noun.object" && ln != "noun.location" && ln != "noun.plant" || vehicles[e.lemma(k)] {
					continue
				}
				t := e.voice(c)
				place := t.noun(k, 5)
				if place == "" || t.open > 0 || t.sure < surest || len(strings.Fields(place)) < 2 {
					continue
				}
				w := by[r.entity]
				if w == nil {
					w = &way{si: si}
					by[r.entity] = w
					order = append(order, r.entity)
				}
				if !slices.ContainsFunc(w.places, func(s string) bool { return strings.HasSuffix(s, " "+e.lemma(k)) || strings.EqualFold(s, place) }) {
					w.places = append(w.places, place)
				}
			}
		}
	}
	best := -1
	for _, x := range order {
		if len(by[x].places) >= 3 && (best < 0 || len(by[x].places) > len(by[best].places)) {
			best = x
		}
	}
	if best < 0 || e.name(best) == "" {
		return task{}, false
	}
	places := by[best].places[:min(6, len(by[best].places))]
	return task{"map", "Draw a map of the way that " + e.name(best) + " takes in this part of the book. Put on it, in the order of the story: " + listed(places) + ".",
		"The places stand in the order in which the book names them; how far apart they lie is for the child to imagine.",
		fmt.Sprintf("Somebody goes through %d places.", len(by[best].places)), by[best].si, 2 + 0.3*float64(len(places))}, true
}

var vehicles = set("place room door side way end top edge middle spot corner carriage train ship boat wagon cart horse car chair bed lap arm foot knee head toe corner table")

func listed(s []string) string {
	if len(s) < 2 {
		return strings.Join(s, "")
	}
	return strings.Join(s[:len(s)-1], ", ") + " and " + s[len(s)-1]
}

// letter is an answer to a letter that is written or read in the passage.
func (e *engine) letter(p passage.Passage) (task, bool) {
	for si := p.First; si < p.Last; si++ {
		if p.BlockKind(si) == book.Letter && e.d.Sentences[si].Last-e.d.Sentences[si].First > 4 {
			start := strings.Fields(p.Sentence(si))
			return task{"writing", "Write an answer to the letter that begins “" + strings.Join(start[:min(7, len(start))], " ") + "”, as the one who gets it would write it.",
				"It should answer what the letter says or asks.", "A letter stands in the text.", si, 3}, true
		}
	}
	for si := p.First; si < p.Last; si++ {
		if !p.Prose(si) {
			continue
		}
		for _, c := range e.clausesOf(si) {
			if c.spoken >= 0 || c.object < 0 || c.negation >= 0 || !e.past(c) || !set("letter telegram note diary")[e.lemma(c.object)] || !set("write send receive read get post open bring")[e.lemma(c.root)] {
				continue
			}
			st := e.soundly(c)
			if st == "" || len(strings.Fields(st)) > 16 {
				continue
			}
			return task{"writing", sentence(st) + " Write the " + e.lemma(c.object) + ", with what it must have said, in six to eight sentences.",
				"What the story tells before and after must fit what it says.", "A letter comes up.", si, 2.4}, true
		}
	}
	return task{}, false
}

// verse is lines to learn by heart.
func (e *engine) verse(p passage.Passage) (task, bool) {
	for si := p.First; si < p.Last; si++ {
		if p.BlockKind(si) != book.Verse {
			continue
		}
		words := strings.Fields(strings.TrimLeft(p.Sentence(si), "“‘\"'"))
		par := e.d.Sentences[si].Paragraph
		lines := strings.Count(strings.TrimSpace(e.d.Text[e.d.Paragraphs[par].Start:e.d.Paragraphs[par].End]), "\n") + 1
		if len(words) < 4 || lines < 2 {
			continue
		}
		what := "the verse"
		if lines > 12 {
			what = "the first eight lines of the verse"
		}
		return task{"memory", "Learn by heart " + what + " that begins “" + strings.TrimRight(strings.Join(words[:min(8, len(words))], " "), ",;:") + "”, and say it so that one hears its rhythm.",
			fmt.Sprintf("It has %d lines.", lines), "Verse stands in the text.", si, 2.6}, true
	}
	return task{}, false
}

// named nouns of a kind in the telling and the speech of a passage: how often
// each comes, in the order of the first.
func (e *engine) nounsOf(p passage.Passage, lexname string, skip map[string]bool) (order []string, count, at map[string]int) {
	count, at = map[string]int{}, map[string]int{}
	first, last := p.Tokens()
	for i := first; i < last; i++ {
		if l := e.lemma(i); e.d.Tokens[i].UPOS == "NOUN" && !skip[l] && e.lexname(l, 'n') == lexname {
			if count[l] == 0 {
				order = append(order, l)
				at[l] = e.sentence[i]
			}
			count[l]++
		}
	}
	return order, count, at
}

// table is a meal of the food that is named.
func (e *engine) table(p passage.Passage) (task, bool) {
	foods, _, at := e.nounsOf(p, "noun.food", set("food meal dinner supper breakfast lunch tea drink water fare feast dish course sweet bite mash milk"))
	if len(foods) < 4 {
		return task{}, false
	}
	some := foods[:min(7, len(foods))]
	return task{"research", "Food is named here: " + listed(some) + ". Find out how one of them was made in those days, write down what goes into it and in which order, and tell who would cook it in the story.",
		"A cookery book or somebody old at home may know.", fmt.Sprintf("%d kinds of food are named.", len(foods)), at[foods[0]], 1.2 + 0.1*float64(len(foods))}, true
}

// creature is an animal to find out about.
func (e *engine) creature(p passage.Passage) (task, bool) {
	animals, count, at := e.nounsOf(p, "noun.animal", set("animal creature beast pet young bird game stock male female fellow head kid baby dear head pup cat dog"))
	best := ""
	for _, a := range animals {
		if count[a] >= 4 && (best == "" || count[a] > count[best]) {
			best = a
		}
	}
	if best == "" {
		return task{}, false
	}
	si := at[best]
	return task{"research", fmt.Sprintf("Find out how a real %s lives: what it eats, where it sleeps, what it fears. Which of the things that the book tells of the %s here could be true, and which could not?", best, best),
		"Two columns on a sheet will do: true of the animal, and made up.", fmt.Sprintf("The %s is named %d times.", best, count[best]), si, 0.8 + 0.1*float64(min(12, count[best]))}, true
}

// picture is a drawing of what one sentence paints, with its details.
func (e *engine) picture(p passage.Passage) (task, bool) {
	best, words := -1, []string(nil)
	for si := p.First; si < p.Last; si++ {
		if !p.Prose(si) {
			continue
		}
		if w := e.painting(si); len(w) >= 3 && len(w) > len(words) {
			best, words = si, w
		}
	}
	if best < 0 {
		return task{}, false
	}
	start := strings.Fields(p.Sentence(best))
	return task{"drawing", "Draw what the sentence that begins “" + strings.TrimRight(strings.Join(start[:min(7, len(start))], " "), ",;:") + "” shows. Nothing that it names may be missing: " + listed(words) + ".",
		"Let the children check one another's drawings against the sentence.", "A sentence paints a picture.", best, 0.6 + 0.25*float64(len(words))}, true
}
