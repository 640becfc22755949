package assess

import (
	"math/rand/v2"
	"slices"
	"strings"

	"bookstead/internal/kit"
)

// kindsOf are the kinds of item that a way can ask.
var kindsOf = map[SectionKind][]kit.Kind{
	Match: {kit.Vocabulary}, Fill: {kit.Vocabulary}, Choose: {kit.Vocabulary, kit.Question, kit.Quotation},
	WhoSaid: {kit.Quotation}, Short: {kit.Question}, Explain: {kit.Figure}, Order: {kit.Question},
}

// mostPairs stand in one matching section: more than eight are hard to look
// through for a child (common practice, no source).
const mostPairs = 8

// mostBlanks stand over one list of words (common practice, no source).
const mostBlanks = 6

// mostPoints are given for one answer.
const mostPoints = 3

// Blank stands for a word that is left out.
const Blank = "________"

// entry asks for an item in a way; ok is false when it can't be asked so.
func (m *maker) entry(k SectionKind, c candidate) (e Entry, ok bool) {
	it := c.item
	e = Entry{Item: it.ID, Lesson: c.lesson, Points: 1}
	switch k {
	case Match:
		e.Prompt, e.Key = headword(it), meaning(it)
		if e.Key == "" || m.meanings[e.Key] {
			return e, false
		}
	case Fill:
		e.Prompt, ok = blanked(it.Content.Sentence, it.Content.Head)
		e.Key = it.Content.Head
		return e, ok && len(strings.Fields(it.Content.Sentence)) <= 40
	case WhoSaid:
		e.Prompt, e.Key, e.Lines = it.Content.Sentence, it.Content.Speaker, 1
		if e.Prompt == "" || e.Key == "" {
			return e, false
		}
	case Short:
		e.Prompt, e.Key, e.Lines, e.Points = it.Content.Head, it.Content.Answer, answerLines(it.Content.Answer), 2
		if m.Points != nil {
			e.Counts = m.Points(e.Prompt, e.Key)
			if e.Counts = e.Counts[:min(len(e.Counts), mostPoints)]; len(e.Counts) < 2 {
				e.Counts = []string{"what it says", "a whole sentence"}
			}
			e.Points = len(e.Counts)
		}
	case Explain:
		e.Prompt, e.Detail, e.Key, e.Lines = it.Content.Head, it.Content.Sentence, it.Content.Answer, 2
	case Choose:
		return m.choice(e, it)
	}
	return e, e.Prompt != ""
}

// group makes the sections of one way: what is matched or filled in, in lists that
// a child can look through; all else in one.
func (m *maker) group(k SectionKind, entries []Entry) []Section {
	s := Section{Kind: k, Entries: entries}
	switch k {
	case Match:
		groups := (len(entries) + mostPairs - 1) / mostPairs
		var out []Section
		for g := range groups {
			s := Section{Kind: Match, Heading: "Words", Task: "Write the letter of the meaning beside each word."}
			if g > 0 {
				s.Heading = "More words"
			}
			for _, e := range entries[g*len(entries)/groups : (g+1)*len(entries)/groups] {
				s.Entries, s.Choices = append(s.Entries, e), append(s.Choices, e.Key)
			}
			out = append(out, s)
		}
		return out
	case Fill:
		groups := (len(entries) + mostBlanks - 1) / mostBlanks
		var out []Section
		for g := range groups {
			s := Section{Kind: Fill, Heading: "The missing word", Task: "Write the word that belongs in each sentence. Each word is used once."}
			if g > 0 {
				s.Heading = "More missing words"
			}
			for _, e := range entries[g*len(entries)/groups : (g+1)*len(entries)/groups] {
				s.Entries, s.Choices = append(s.Entries, e), append(s.Choices, e.Key)
			}
			if len(s.Choices) < leastPairs { // two words are no choice
				s.Task, s.Choices = "Write the word that belongs in the sentence.", nil
			}
			out = append(out, s)
		}
		return out
	case WhoSaid:
		s.Heading, s.Task = "Who said it", "Write who says these words. Choose from the names."
		for _, e := range entries {
			if !slices.Contains(s.Choices, e.Key) {
				s.Choices = append(s.Choices, e.Key)
			}
		}
		if len(s.Choices) < 2 { // one name gives itself away
			s.Task, s.Choices = "Write who says these words.", nil
		}
	case Short:
		s.Heading, s.Task = "What happened, and why", "Answer in whole sentences."
	case Explain:
		s.Heading, s.Task = "Another way of saying", "Say in your own words what this means."
	case Choose:
		s.Heading, s.Task = "Choose one", "Ring the letter of the right one."
	case Order:
		s.Heading, s.Task = "In the right order", "Number these in the order in which they happen."
	}
	return []Section{s}
}

func headword(it kit.Item) string {
	if it.Content.Lemma != "" {
		return it.Content.Lemma
	}
	return it.Content.Head
}

func meaning(it kit.Item) string {
	if it.Content.Meaning != "" {
		return it.Content.Meaning
	}
	return it.Content.Synonym
}

// blanked leaves a word out of its sentence; it must stand there once.
func blanked(sentence, word string) (string, bool) {
	if word == "" {
		return "", false
	}
	at, n := -1, 0
	for i := 0; i+len(word) <= len(sentence); i++ {
		if sentence[i:i+len(word)] == word && !letterAt(sentence, i-1) && !letterAt(sentence, i+len(word)) {
			at = i
			n++
		}
	}
	if n != 1 {
		return "", false
	}
	return sentence[:at] + Blank + sentence[at+len(word):], true
}

func letterAt(s string, i int) bool {
	return i >= 0 && i < len(s) && (s[i] >= 'a' && s[i] <= 'z' || s[i] >= 'A' && s[i] <= 'Z' || s[i] >= 0x80 && !strings.HasPrefix(s[i:], "“") && !strings.HasPrefix(s[i:], "”") && !strings.HasPrefix(s[i:], "—") && !strings.HasPrefix(s[i:], "’"))
}

// answerLines gives a child room for an answer somewhat larger than the
// teacher's: about nine words stand on a line by hand.
func answerLines(answer string) int {
	return max(2, min(5, 1+len(strings.Fields(answer))/8))
}

// shuffle puts entries (for form B) and choices in another order and turns the
// keys of a matching section into letters. Questions keep the story's order, and
// so do events: theirs is set already.
func shuffle(rng *rand.Rand, s *Section, entries bool) {
	s.Entries, s.Choices = slices.Clone(s.Entries), slices.Clone(s.Choices)
	if entries && s.Kind != Short && s.Kind != Order {
		rng.Shuffle(len(s.Entries), func(i, j int) { s.Entries[i], s.Entries[j] = s.Entries[j], s.Entries[i] })
	}
	switch s.Kind {
	case Match:
		s.Choices = Derange(rng, s.Entries, s.Choices)
		for i := range s.Entries {
			s.Entries[i].Key = Letter(slices.Index(s.Choices, s.Entries[i].Key))
		}
	case Choose:
		for i := range s.Entries {
			o := slices.Clone(s.Entries[i].Options)
			rng.Shuffle(len(o), func(i, j int) { o[i], o[j] = o[j], o[i] })
			s.Entries[i].Options = o
		}
	case Order:
		mixed := slices.Clone(s.Entries)
		for range 20 {
			rng.Shuffle(len(mixed), func(i, j int) { mixed[i], mixed[j] = mixed[j], mixed[i] })
			if !slices.IsSortedFunc(mixed, func(a, b Entry) int { return strings.Compare(a.Key, b.Key) }) {
				break
			}
		}
		s.Entries = mixed
	default:
		slices.Sort(s.Choices)
	}
}
