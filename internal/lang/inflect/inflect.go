// Package inflect makes the forms of English words from their dictionary form:
// past tenses, participles, plurals, comparatives.
//
// Regular forms follow the spelling rules of any grammar; irregular ones stand
// in a table of the verbs and nouns that novels use. Start with [Verb], [Plural]
// and [Like].
package inflect

import (
	"strings"
)

// Form is a form of a verb.
type Form uint8

const (
	Base       Form = iota // go
	Third                  // goes
	Past                   // went
	Participle             // gone
	Ing                    // going
)

// irregular verbs: base, past, participle, told by hand from general knowledge
// of English; compounds ("undo", "overtake") are found by their ending.
const irregularVerbs = `be was been|have had had|do did done|go went gone|say said said|make made made|
	get got got|know knew known|think thought thought|take took taken|see saw seen|come came come|
	find found found|give gave given|tell told told|become became become|leave left left|feel felt felt|
	put put put|bring brought brought|begin began begun|keep kept kept|hold held held|write wrote written|
	stand stood stood|hear heard heard|let let let|mean meant meant|set set set|meet met met|
	run ran run|pay paid paid|sit sat sat|speak spoke spoken|lie lay lain|lead led led|
	read read read|grow grew grown|lose lost lost|fall fell fallen|send sent sent|build built built|
	understand understood understood|draw drew drawn|break broke broken|spend spent spent|cut cut cut|rise rose risen|
	drive drove driven|buy bought bought|wear wore worn|choose chose chosen|throw threw thrown|catch caught caught|
	deal dealt dealt|win won won|forget forgot forgotten|sing sang sung|sell sold sold|fight fought fought|
	teach taught taught|eat ate eaten|lay laid laid|fly flew flown|shake shook shaken|blow blew blown|
	hide hid hidden|bite bit bitten|ride rode ridden|ring rang rung|sleep slept slept|swim swam swum|
	wake woke woken|weep wept wept|creep crept crept|sweep swept swept|steal stole stolen|swear swore sworn|
	tear tore torn|bear bore borne|beat beat beaten|bend bent bent|bind bound bound|bleed bled bled|
	breed bred bred|burst burst burst|cast cast cast|cling clung clung|cost cost cost|dig dug dug|
	dream dreamed dreamed|drink drank drunk|feed fed fed|flee fled fled|fling flung flung|forbid forbade forbidden|
	forgive forgave forgiven|freeze froze frozen|grind ground ground|hang hung hung|hit hit hit|hurt hurt hurt|
	kneel knelt knelt|knit knit knit|leap leaped leaped|lend lent lent|light lit lit|quit quit quit|
	rid rid rid|seek sought sought|shed shed shed|shine shone shone|shoot shot shot|show showed shown|
	shrink shrank shrunk|shut shut shut|sink sank sunk|slay slew slain|slide slid slid|sling slung slung|
	slit slit slit|sow sowed sown|spin spun spun|split split split|spread spread spread|spring sprang sprung|
	stick stuck stuck|sting stung stung|stink stank stunk|stride strode stridden|strike struck struck|string strung strung|
	strive strove striven|swell swelled swollen|swing swung swung|thrust thrust thrust|tread trod trodden|weave wove woven|
	wind wound wound|wring wrung wrung|arise arose arisen|awake awoke awoken|spit spat spat|spell spelled spelled|
	smell smelled smelled|sew sewed sewn|mow mowed mown|dwell dwelt dwelt|cleave cleft cleft|bid bade bidden|
	bet bet bet|shear sheared shorn|saw sawed sawn|slink slunk slunk|thrive thrived thrived|wed wed wed|
	withdraw withdrew withdrawn|beget begot begotten|behold beheld beheld`

var verbs = func() map[string][2]string {
	m := map[string][2]string{}
	for _, row := range strings.Split(irregularVerbs, "|") {
		f := strings.Fields(row)
		m[f[0]] = [2]string{f[1], f[2]}
	}
	return m
}()

// irregularOf finds the irregular forms of a verb or of a verb that ends in
// one behind a prefix: "mistake", "overhear", "undo".
func irregularOf(v string) (past, participle string, ok bool) {
	if f, ok := verbs[v]; ok {
		return f[0], f[1], true
	}
	for _, p := range []string{"under", "over", "with", "fore", "out", "mis", "be", "re", "un", "up", "for"} {
		if rest, found := strings.CutPrefix(v, p); found && len(rest) > 2 {
			if f, ok := verbs[rest]; ok && rest != "have" && rest != "lie" && v != "behave" && v != "belie" {
				return p + f[0], p + f[1], true
			}
		}
	}
	return "", "", false
}

// Verb gives a form of a verb. A verb of several words changes its first
// ("set out": "setting out").
func Verb(lemma string, f Form) string {
	head, rest, _ := strings.Cut(lemma, " ")
	if rest != "" {
		rest = " " + rest
	}
	return verb(head, f) + rest
}

func verb(v string, f Form) string {
	past, part, irregular := irregularOf(v)
	switch f {
	case Past:
		if irregular {
			return past
		}
		return ed(v)
	case Participle:
		if irregular {
			return part
		}
		return ed(v)
	case Ing:
		switch {
		case v == "be" || strings.HasSuffix(v, "ee") || strings.HasSuffix(v, "oe") || strings.HasSuffix(v, "ye"):
			return v + "ing"
		case v == "singe" || v == "dye" || v == "tinge":
			return v + "ing"
		case strings.HasSuffix(v, "ie"):
			return v[:len(v)-2] + "ying"
		case strings.HasSuffix(v, "e"):
			return v[:len(v)-1] + "ing"
		}
		return double(v) + "ing"
	case Third:
		switch v {
		case "be":
			return "is"
		case "have":
			return "has"
		}
		return s(v)
	}
	return v
}

func ed(v string) string {
	switch {
	case strings.HasSuffix(v, "e"):
		return v + "d"
	case strings.HasSuffix(v, "y") && len(v) > 1 && !vowel(v[len(v)-2]):
		return v[:len(v)-1] + "ied"
	case strings.HasSuffix(v, "c"):
		return v + "ked"
	}
	return double(v) + "ed"
}

// stressedLast are verbs of more than one syllable whose last one is stressed,
// so that they double their consonant.
var stressedLast = map[string]bool{"admit": true, "begin": true, "commit": true, "compel": true, "confer": true, "control": true, "defer": true, "deter": true,
	"equip": true, "excel": true, "expel": true, "forget": true, "incur": true, "infer": true, "occur": true, "omit": true, "outfit": true, "patrol": true,
	"permit": true, "prefer": true, "propel": true, "rebel": true, "recur": true, "refer": true, "regret": true, "repel": true, "submit": true, "transfer": true,
	"transmit": true, "upset": true, "befit": true, "acquit": true, "allot": true, "annul": true, "abhor": true, "entrap": true, "unwrap": true, "bedim": true}

// double writes the last consonant twice where spelling asks for it: a single
// vowel letter before a single consonant in a stressed last syllable.
func double(v string) string {
	n := len(v)
	if n < 3 || vowel(v[n-1]) || strings.ContainsRune("wxyh", rune(v[n-1])) || !vowel(v[n-2]) || vowel(v[n-3]) && !(v[n-3] == 'u' && n > 3 && v[n-4] == 'q') {
		return v
	}
	syllables := 0
	for i := range n {
		if vowel(v[i]) && (i == 0 || !vowel(v[i-1])) {
			syllables++
		}
	}
	if syllables == 1 || stressedLast[v] {
		return v + v[n-1:]
	}
	return v
}

func vowel(c byte) bool { return strings.IndexByte("aeiou", c) >= 0 }

// s adds the ending of plurals and of the third person.
func s(w string) string {
	switch {
	case strings.HasSuffix(w, "s") || strings.HasSuffix(w, "x") || strings.HasSuffix(w, "z") || strings.HasSuffix(w, "ch") || strings.HasSuffix(w, "sh"):
		return w + "es"
	case strings.HasSuffix(w, "y") && len(w) > 1 && !vowel(w[len(w)-2]):
		return w[:len(w)-1] + "ies"
	case w == "go" || w == "do" || w == "undergo" || w == "hero" || w == "potato" || w == "tomato" || w == "echo":
		return w + "es"
	}
	return w + "s"
}

var plurals = map[string]string{"man": "men", "woman": "women", "child": "children", "foot": "feet", "tooth": "teeth", "goose": "geese", "mouse": "mice", "louse": "lice",
	"ox": "oxen", "sheep": "sheep", "deer": "deer", "fish": "fish", "person": "people", "wolf": "wolves", "knife": "knives", "wife": "wives", "life": "lives", "leaf": "leaves",
	"loaf": "loaves", "half": "halves", "calf": "calves", "elf": "elves", "shelf": "shelves", "self": "selves", "thief": "thieves", "sheaf": "sheaves", "scarf": "scarves", "penny": "pence",
	"series": "series", "means": "means", "swine": "swine", "die": "dice"}

// Plural gives the plural of a noun; of several words, that of the last.
func Plural(lemma string) string {
	i := strings.LastIndexByte(lemma, ' ') + 1
	head, last := lemma[:i], lemma[i:]
	if p, ok := plurals[last]; ok {
		return head + p
	}
	for _, end := range []string{"man", "woman", "child"} { // gentlemen, grandchildren
		if rest, ok := strings.CutSuffix(last, end); ok && len(rest) > 2 && last != "human" && last != "german" {
			return head + rest + plurals[end]
		}
	}
	return head + s(last)
}

var comparatives = map[string][2]string{"good": {"better", "best"}, "well": {"better", "best"}, "bad": {"worse", "worst"}, "far": {"farther", "farthest"}, "little": {"less", "least"}, "many": {"more", "most"}, "much": {"more", "most"}}

// Degree gives the comparative or, with most, the superlative of an adjective
// or adverb.
func Degree(lemma string, most bool) string {
	i := 0
	ending, word := "er", "more "
	if most {
		i, ending, word = 1, "est", "most "
	}
	if c, ok := comparatives[lemma]; ok {
		return c[i]
	}
	n := 0
	for k := range len(lemma) {
		if (vowel(lemma[k]) || lemma[k] == 'y') && (k == 0 || !(vowel(lemma[k-1]) || lemma[k-1] == 'y')) {
			n++
		}
	}
	if strings.HasSuffix(lemma, "e") && n > 1 {
		n--
	}
	switch {
	case n > 2 || n == 2 && !strings.HasSuffix(lemma, "y") && !strings.HasSuffix(lemma, "le") && !strings.HasSuffix(lemma, "ow") || strings.HasSuffix(lemma, "ly") && n > 2:
		return word + lemma
	case strings.HasSuffix(lemma, "e"):
		return lemma + ending[1:]
	case strings.HasSuffix(lemma, "y") && len(lemma) > 1 && !vowel(lemma[len(lemma)-2]):
		return lemma[:len(lemma)-1] + "i" + ending
	}
	return double(lemma) + ending
}

// Like gives lemma the form that a Penn Treebank tag names: VBD, NNS, JJR …
func Like(lemma, xpos string) string {
	switch xpos {
	case "VBD":
		return Verb(lemma, Past)
	case "VBN":
		return Verb(lemma, Participle)
	case "VBG":
		return Verb(lemma, Ing)
	case "VBZ":
		return Verb(lemma, Third)
	case "NNS":
		return Plural(lemma)
	case "JJR", "RBR":
		return Degree(lemma, false)
	case "JJS", "RBS":
		return Degree(lemma, true)
	}
	return lemma
}
