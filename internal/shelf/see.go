package shelf

import (
	"strings"

	"bookstead/internal/book"
	"bookstead/internal/lang"
	"bookstead/internal/lexicon"
)

// Sight is a sentence that a teacher may want to see first.
type Sight struct {
	Kind     SightKind  `json:"kind"`
	Words    string     `json:"words"` // that it was found by
	Sentence string     `json:"sentence"`
	Place    book.Place `json:"place"`
	// Why, for a dated or offensive term: what it is.
	Why string `json:"why,omitempty"`
}

// SightKind is why a sentence is shown.
type SightKind string

const (
	Term    SightKind = "term"    // a dated or offensive term
	Death   SightKind = "death"   // somebody or something dies, is killed or buried
	Cruelty SightKind = "cruelty" // somebody hurts somebody on purpose
)

// sights are lemmas by which sentences are found, with the parts of speech in
// which they count (our choice, from reading children's novels). Words that are
// harmless more often than not ("strike", "shoot", "hit") are left out.
var sights = map[string]struct {
	kind SightKind
	tags string
}{
	"die": {Death, "VERB"}, "dead": {Death, "ADJ NOUN"}, "death": {Death, "NOUN"}, "dying": {Death, "ADJ NOUN"}, "kill": {Death, "VERB"}, "murder": {Death, "VERB NOUN"},
	"murderer": {Death, "NOUN"}, "drown": {Death, "VERB"}, "drowned": {Death, "ADJ"}, "funeral": {Death, "NOUN"}, "corpse": {Death, "NOUN"}, "coffin": {Death, "NOUN"},
	"bury": {Death, "VERB"}, "burial": {Death, "NOUN"}, "graveyard": {Death, "NOUN"}, "suicide": {Death, "NOUN"}, "poison": {Death, "VERB"}, "strangle": {Death, "VERB"},
	"slay": {Death, "VERB"}, "behead": {Death, "VERB"}, "execution": {Death, "NOUN"}, "executioner": {Death, "NOUN"}, "gallows": {Death, "NOUN"}, "perish": {Death, "VERB"},
	"cruel": {Cruelty, "ADJ"}, "cruelty": {Cruelty, "NOUN"}, "cruelly": {Cruelty, "ADV"}, "whip": {Cruelty, "VERB"}, "whipping": {Cruelty, "NOUN"}, "flog": {Cruelty, "VERB"},
	"flogging": {Cruelty, "NOUN"}, "thrash": {Cruelty, "VERB"}, "thrashing": {Cruelty, "NOUN"}, "torture": {Cruelty, "VERB NOUN"}, "torment": {Cruelty, "VERB"},
	"slave": {Cruelty, "NOUN"}, "slavery": {Cruelty, "NOUN"}, "stab": {Cruelty, "VERB"}, "starve": {Cruelty, "VERB"}, "cane": {Cruelty, "VERB"}, "lynch": {Cruelty, "VERB"},
	"brutal": {Cruelty, "ADJ"}, "brutality": {Cruelty, "NOUN"}, "ill-treat": {Cruelty, "VERB"}, "ill-use": {Cruelty, "VERB"}, "mutilate": {Cruelty, "VERB"}, "scourge": {Cruelty, "VERB"},
	"torturer": {Cruelty, "NOUN"}, "lash": {Cruelty, "VERB"}, "maim": {Cruelty, "VERB"}, "throttle": {Cruelty, "VERB"}, "slap": {Cruelty, "VERB"},
}

// sayings are turns in which such a word is harmless, in lower case.
var sayings = [...]string{"dead of night", "dead of winter", "dead tired", "dead sure", "dead certain", "dead level", "dead calm", "dead asleep", "dead silence", "dead stop", "dead lock",
	"half dead", "half-dead", "dying to", "dying for", "die of curiosity", "died away", "dies away", "dying away", "die away", "died down", "die down", "dying down", "died out", "die out",
	"to death", "sick to death", "buried her face", "buried his face", "burying her face", "burying his face", "buried my face", "buried in thought", "bury her face", "buried herself in", "buried himself in",
	"kill time", "killing time", "kill two birds", "whipped out", "whip out", "whipped up", "dead leaves", "dead leaf", "dead branch", "dead grass", "dead letter", "dead wood", "dead weight",
	"whipped cream", "lashed to", "for dear life", "death of me", "i'm starving", "i am starving", "starving for"}

// sentence looks at one sentence. One is shown once for each kind.
func (m *meter) sentence(i int, s lang.Span) {
	d := m.d
	var found [3]bool
	add := func(n int, kind SightKind, words, why string) {
		if !found[n] {
			found[n] = true
			m.see = append(m.see, Sight{Kind: kind, Words: words, Sentence: strings.Join(strings.Fields(d.Text[s.Start:s.End]), " "), Place: m.b.Place(book.Span(s)), Why: why})
		}
	}
	text := d.Text[s.Start:s.End]
	if start, end, o, ok := m.lex.OffensiveIn(text); ok && o.Level >= lexicon.Dated && !m.partOfWord(text, start, end) {
		add(0, Term, text[start:end], o.Reason)
	}
	lower := ""
	for k := d.Sentences[i].First; k < d.Sentences[i].Last; k++ {
		t := &d.Tokens[k]
		x, ok := sights[strings.ToLower(t.Lemma)]
		if !ok || !strings.Contains(x.tags, t.UPOS) || t.UPOS == "" {
			continue
		}
		if lower == "" {
			lower = strings.ToLower(strings.Join(strings.Fields(text), " "))
		}
		if harmless(lower, strings.ToLower(t.Form)) || ofThings(d, k, t.Lemma) {
			continue
		}
		n := 1
		if x.kind == Cruelty {
			n = 2
		}
		add(n, x.kind, t.Form, "")
	}
}

// partOfWord reports whether what was found is the tail of a word that is only
// parted by a hyphen ("wood-pecker").
func (m *meter) partOfWord(text string, start, end int) bool {
	if start < 2 || text[start-1] != '-' {
		return false
	}
	head := text[strings.LastIndexAny(text[:start-1], " \n\t“‘\"'—(")+1 : start-1]
	_, known := m.lex.BookZipf(strings.ToLower(head + text[start:end]))
	return known && len(head) > 1
}

// things are what is buried or dead without anybody having died.
var things = map[string]bool{"key": true, "treasure": true, "bone": true, "face": true, "nose": true, "head": true, "hand": true, "hoard": true, "gold": true,
	"garden": true, "leaf": true, "branch": true, "tree": true, "grass": true, "rose": true, "flower": true, "wood": true, "plant": true, "twig": true, "stick": true, "fire": true, "ember": true,
	"bush": true, "stem": true, "limb": true, "weed": true, "fern": true, "heather": true}

// ofThings reports whether a word of death is said of a thing close behind it.
func ofThings(d *lang.Doc, k int, lemma string) bool {
	if lemma != "bury" && lemma != "dead" {
		return false
	}
	for i := k + 1; i < min(k+5, len(d.Tokens)); i++ {
		t := &d.Tokens[i]
		if t.UPOS == "NOUN" {
			return things[strings.ToLower(t.Lemma)]
		}
		if t.UPOS == "PUNCT" || t.UPOS == "VERB" {
			return false
		}
	}
	return false
}

// harmless reports whether every use of a word in a sentence stands in a saying.
func harmless(sentence, word string) bool {
	left := sentence
	for _, s := range sayings {
		if strings.Contains(s, word) {
			left = strings.ReplaceAll(left, s, "")
		}
	}
	return left != sentence && !strings.Contains(left, word)
}
