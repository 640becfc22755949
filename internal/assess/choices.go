package assess

import (
	"slices"
	"strconv"
	"strings"

	"bookstead/internal/kit"
)

// wrongs is how many wrong choices stand beside the right one.
const wrongs = 3

// choice makes an entry with wrong choices that are of the right one's kind,
// from the same book, and surely wrong.
func (m *maker) choice(e Entry, it kit.Item) (Entry, bool) {
	var right string
	var wrong []string
	switch it.Kind {
	case kit.Vocabulary:
		right = meaning(it)
		e.Prompt, e.Detail = headword(it), it.Content.Sentence
		wrong = m.otherMeanings(it)
	case kit.Quotation:
		right = it.Content.Speaker
		e.Prompt = "Who says, “" + strings.Trim(it.Content.Sentence, "“”\"") + "”?"
		wrong = m.otherNames(it, right)
		if it.Content.Sentence == "" {
			return e, false
		}
	case kit.Question:
		rest, ok := strings.CutPrefix(strings.TrimRight(it.Content.Head, "?"), "Who ")
		name, same := strings.CutSuffix(strings.TrimRight(it.Content.Answer, "."), " "+rest)
		if !ok || !same {
			return e, false
		}
		right, e.Prompt = name, it.Content.Head
		wrong = m.otherNames(it, right)
	}
	if right == "" || len(wrong) < wrongs {
		return e, false
	}
	e.Key, e.Options = right, append([]string{right}, wrong[:wrongs]...)
	return e, true
}

// otherMeanings are meanings of other words of the book of the same part of
// speech, those of the nearest lessons first, that share no word of meaning with
// the right one nor with each other.
func (m *maker) otherMeanings(it kit.Item) []string {
	var out []string
	said := meaning(it) + " " + it.Content.Synonym + " " + headword(it)
	right := keywords(said)
	for _, c := range m.nearest(it, kit.Vocabulary) {
		other := meaning(c)
		if other == "" || m.clash(it, c) || c.Content.PartOfSpeech != it.Content.PartOfSpeech || headword(c) == headword(it) || c.Warning != "" {
			continue
		}
		words := keywords(other + " " + c.Content.Synonym + " " + headword(c))
		if meets(words, right) || m.near(said, other+" "+headword(c)) || slices.ContainsFunc(out, func(o string) bool { return meets(keywords(o), keywords(other)) }) {
			continue
		}
		if n, k := len(strings.Fields(other)), len(strings.Fields(meaning(it))); n > 3*k || k > 3*n {
			continue // the one long or short choice gives itself away
		}
		if out = append(out, other); len(out) == wrongs {
			break
		}
	}
	return out
}

// otherNames are people who speak in the book and who are not named in the
// passage that proves the answer, so that none of them can be right as well.
func (m *maker) otherNames(it kit.Item, right string) []string {
	var out []string
	proof := it.Place.Exact + " " + it.Place.Prefix + " " + it.Place.Suffix + " " + it.Content.Answer + " " + it.Content.Sentence + " " + it.Content.Addressee
	for _, c := range m.nearest(it, kit.Quotation) {
		name := c.Content.Speaker
		if name == "" || slices.Contains(out, name) || samePerson(name, right) || slices.ContainsFunc(out, func(o string) bool { return samePerson(o, name) }) || named(proof, name) {
			continue
		}
		if out = append(out, name); len(out) == wrongs {
			break
		}
	}
	return out
}

// samePerson reports names that share a part: "Mary" and "Mary Lennox", "Mr.
// Craven" and "Archibald Craven".
func samePerson(a, b string) bool {
	for x := range strings.FieldsSeq(a) {
		if slices.Contains(titles, x) {
			continue
		}
		for y := range strings.FieldsSeq(b) {
			if x == y {
				return true
			}
		}
	}
	return false
}

var titles = []string{"Mr.", "Mrs.", "Miss", "Dr.", "Aunt", "Uncle", "Captain", "Mr", "Mrs", "Dr", "the", "The", "old", "of"}

func named(text, name string) bool {
	for x := range strings.FieldsSeq(name) {
		if !slices.Contains(titles, x) && strings.Contains(text, x) {
			return true
		}
	}
	return false
}

// nearest are the items of a kind in the whole book, those that stand nearest to
// an item first. Dropped items are left out.
func (m *maker) nearest(it kit.Item, k kit.Kind) []kit.Item {
	var out []kit.Item
	for _, l := range m.Book {
		for _, x := range l.Items {
			if x.Kind == k && x.ID != it.ID && x.State != kit.Dropped && x.Warning == "" {
				out = append(out, x)
			}
		}
	}
	slices.SortStableFunc(out, func(a, b kit.Item) int { return gap(a, it) - gap(b, it) })
	return out
}

func gap(a, b kit.Item) int {
	if d := a.Place.Start - b.Place.Start; d >= 0 {
		return d
	}
	return b.Place.Start - a.Place.Start
}

// events in one list to put in order.
const leastEvents, mostEvents = 4, 5

// order makes lists of events from the answers of questions that are not asked
// otherwise.
func (m *maker) order(w Way) {
	for range w.Count {
		var all []Entry
		places := map[kit.ItemID]int{}
		for _, c := range m.pool(w, kit.Question) {
			s := c.item.Content.Answer
			n := len(strings.Fields(s))
			if n < 3 || n > 14 || strings.Count(s, ".") > 1 || !happens(s) {
				continue
			}
			e := Entry{Item: c.item.ID, Prompt: s, Lesson: c.lesson, Points: 1}
			if m.givesAway(e) || slices.ContainsFunc(all, func(o Entry) bool { return near(places[o.Item], c.item.Place.Start) }) {
				continue
			}
			places[c.item.ID] = c.item.Place.Start
			all = append(all, e)
		}
		if len(all) < leastEvents {
			return
		}
		slices.SortStableFunc(all, func(a, b Entry) int { return places[a.Item] - places[b.Item] })
		var list []Entry
		n := min(mostEvents, len(all))
		for i := range n { // spread over the story
			e := all[i*(len(all)-1)/(n-1)]
			e.Key = strconv.Itoa(i + 1)
			m.take(Order, e)
			list = append(list, e)
		}
		for f := range m.form {
			m.form[f][Order] = append(m.form[f][Order], list...)
		}
	}
}

// happens reports a sentence that tells of one thing that happens: not how things
// are ("was happy"), nor what had been before or would be.
func happens(s string) bool {
	for w := range strings.FieldsSeq(strings.ToLower(s)) {
		switch strings.Trim(w, ".,;") {
		case "was", "were", "is", "are", "be", "been", "had", "would", "could", "should", "might", "seemed", "felt", "knew", "thought", "wanted", "wished", "hoped", "loved", "liked", "hated", "never", "not", "always", "often":
			return false
		}
		if strings.HasSuffix(w, "’d") || strings.HasSuffix(w, "n’t") || strings.HasSuffix(w, "n't") {
			return false
		}
	}
	return true
}

// near reports places too close for a child to say which was first.
func near(a, b int) bool { return a-b < 400 && b-a < 400 }
