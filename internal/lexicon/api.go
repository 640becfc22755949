package lexicon

// POS is a part of speech as WordNet has them.
type POS byte

const (
	Noun      POS = 'n'
	Verb      POS = 'v'
	Adjective POS = 'a'
	Adverb    POS = 'r'
)

// Pronunciation is a row of ARPAbet phones; vowels end in a stress digit
// (0 none, 1 main, 2 secondary): "K", "AE1", "T".
type Pronunciation []string

// SynsetID names a synset by part of speech and byte offset in WordNet 3.1's
// data file; String gives the usual form "02084071-n".
type SynsetID uint32

// Sense is one meaning of one lemma.
type Sense struct {
	Lemma    string // as WordNet prints it, with spaces: "Christmas tree"
	POS      POS
	Key      string // sense key: "coil%1:25:00::"
	Synset   SynsetID
	Number   int    // place among the senses of the lemma, from 1
	Count    int    // times tagged in WordNet's semantic concordance
	Lexname  string // lexicographer file: "noun.shape"
	Synonyms []Synonym
	Gloss    string   // the definition alone
	Examples []string // without quotation marks
	// Offensive reports that neither the meaning nor the word in this meaning
	// belongs on a child's page; Reason says why.
	Offensive bool
	Reason    string
}

// Synonym is another lemma of the same synset.
type Synonym struct {
	Lemma     string
	Count     int  // times tagged in this sense
	Offensive bool // not to be offered on a child's page
}

// Synset is a set of lemmas with one meaning.
type Synset struct {
	ID        SynsetID
	POS       POS
	Lexname   string
	Lemmas    []Synonym // all of them, in WordNet's order
	Gloss     string
	Examples  []string
	Offensive bool
	Reason    string
}

// Senses returns the meanings of a lemma, in WordNet's order, the most usual
// first. It returns nil for a word that is no lemma: see [Lexicon.Lemmas].
func (l *Lexicon) Senses(lemma string, pos POS) []Sense { return nil }

// SenseByKey returns the sense with this key.
func (l *Lexicon) SenseByKey(key string) (Sense, bool) { return Sense{}, false }

// Key30 returns the sense key that WordNet 3.0 has for a key of WordNet 3.1:
// the same but for some hundred. It is "" when 3.0 lacks the sense.
func (l *Lexicon) Key30(key string) string { return key }

// Synset returns the synset with this id.
func (l *Lexicon) Synset(id SynsetID) (Synset, bool) { return Synset{}, false }

// Hypernyms returns the kinds of thing that this is one of ("a dog is a
// canine"), instances included, in WordNet's order.
func (l *Lexicon) Hypernyms(id SynsetID) []SynsetID { return nil }

// Hyponyms returns the kinds and instances of this thing.
func (l *Lexicon) Hyponyms(id SynsetID) []SynsetID { return nil }

// Similar returns the satellites or the head of an adjective.
func (l *Lexicon) Similar(id SynsetID) []SynsetID { return nil }

// AlsoSee returns neighbours that WordNet points to.
func (l *Lexicon) AlsoSee(id SynsetID) []SynsetID { return nil }

// Antonyms returns the senses that are opposite to this sense.
func (l *Lexicon) Antonyms(s Sense) []Sense { return nil }

// Derivations returns the senses of words made from this one or that it is
// made from ("sorrowful" for "sorrow").
func (l *Lexicon) Derivations(s Sense) []Sense { return nil }

// Lemmas returns the lemmas that a form may belong to as this part of speech,
// by WordNet's exception lists and endings: "mice" gives "mouse". The form
// itself comes first when it is a lemma. Nil when nothing is found.
func (l *Lexicon) Lemmas(form string, pos POS) []string { return nil }

// Multiword returns the lemmas of several words that start with this word:
// "set" gives "set about", "set ablaze", …
func (l *Lexicon) Multiword(first string) []string { return nil }

// Pronunciations returns how a word is said, the usual way first; nil when the
// dictionary lacks it.
func (l *Lexicon) Pronunciations(word string) []Pronunciation { return nil }

// Syllables counts the syllables of a word: from the dictionary, else by rule.
// It is at least 1 for anything with a letter.
func (l *Lexicon) Syllables(word string) int { return 1 }

// Zipf returns how often a form is heard in films and plays: log10 of times in
// a thousand million words, about 1 (rare) to 7.5. ok is false when it is not
// among the some 56,000 counted.
func (l *Lexicon) Zipf(word string) (zipf float64, ok bool) { return 0, false }

// BookZipf returns, on the same scale, how often a form is met in novels
// published before 1923.
func (l *Lexicon) BookZipf(word string) (zipf float64, ok bool) { return 0, false }

// BookRange returns the share of those novels that hold the form, 0 to 1.
func (l *Lexicon) BookRange(word string) float64 { return 0 }

// List names a list of words that children know.
type List byte

const (
	DaleChall List = iota // 3,000 words known in grade 4
	Spache                // about 1,000 words of the first grades
)

// Familiar reports whether a word counts as known: it stands on the list or is
// one of the inflections that the users of the list are told to accept.
func (l *Lexicon) Familiar(list List, word string) bool { return false }

// Correct reports whether a word is spelled as in American or British English.
// Case counts: "london" is wrong.
func (l *Lexicon) Correct(word string) bool { return false }

// Suggest returns spellings that may have been meant, the likeliest first, ten
// at most; never an offensive word.
func (l *Lexicon) Suggest(word string) []string { return nil }

// Level says how far a word is to be kept from a child's page.
type Level byte

const (
	// Fine is any other word.
	Fine Level = iota
	// Mixed words have an innocent meaning in which older books use them
	// ("ass", "queer"); only their other senses are offensive.
	Mixed
	// Dated words were ordinary once and hurt people today: the teacher sees
	// them before the class does.
	Dated
	// Never is for vulgar words and slurs.
	Never
)

// Offence says why a word is kept back.
type Offence struct {
	Level  Level
	Reason string // "an insulting word for …", for the teacher
}

// Offensive reports whether a word, in whatever form, keeps a sentence from
// being chosen by default: true for the levels Dated and Never.
func (l *Lexicon) Offensive(word string) (Offence, bool) { return Offence{}, false }

// Function reports whether a word is one of grammar (articles, pronouns,
// prepositions, auxiliaries, conjunctions), in any form.
func (l *Lexicon) Function(word string) bool { return false }

// SightList is one level of a published list of common words.
type SightList struct {
	Name  string // "pre-primer"
	Words []string
}

// Dolch returns Dolch's 220 service words in five levels.
func (l *Lexicon) Dolch() []SightList { return nil }

// Fry returns Fry's first hundred words by rank.
func (l *Lexicon) Fry() []string { return nil }
