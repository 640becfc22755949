package phonics

import "strings"

// Build is how a word is built: "un-" + "help" + "-ful" + "-ness".
type Build struct {
	Prefix   string // "" for none
	Base     string // a word of its own, with its e, y or single consonant back
	Suffixes []string
}

// prefixes and suffixes with a meaning that is taught in the grades. Common
// practice, no source.
var (
	prefixes = []string{"over", "under", "fore", "inter", "super", "non", "dis", "mis", "pre", "out", "un", "re", "im", "in"}
	suffixes = []string{"ness", "less", "ment", "ship", "hood", "able", "ible", "tion", "ward", "some", "ful", "ish", "ing", "est", "dom", "ly", "er", "or", "ed", "en", "es", "'s", "s", "y"}
)

// sure reports an affix that stands at a base whenever it seems to.
func sure(affix string) bool {
	return strings.Contains(" -ing -ed -s -es -'s -est -ness -less -ful -ly -ment -able un- re- mis- dis- fore- ", " "+affix+" ")
}

// shortestBase is the least number of letters that a base has.
const shortestBase = 3

// BuildOf takes a word apart down to a base that known tells to be a word; known
// is asked with the affix that would stand at it ("-er", "un-") and the word that
// the two would make, so that it can be strict where an ending is often none
// ("corner" is not "corn" and "-er"). What
// stands between, such as "helpful" in "unhelpfulness", need not be known before
// endings that are sure. ok is
// false when the word has no parts.
func BuildOf(word string, known func(word, base, affix string) bool) (b Build, ok bool) {
	word = fold(word)
	for _, suffix := range suffixes {
		for _, base := range beforeSuffix(word, suffix) {
			if b, ok := BuildOf(base, known); ok && (sure("-"+suffix) || known(word, base, "-"+suffix)) {
				b.Suffixes = append(b.Suffixes, suffix)
				return b, true
			}
			if known(word, base, "-"+suffix) {
				return Build{Base: base, Suffixes: []string{suffix}}, true
			}
		}
	}
	for _, prefix := range prefixes {
		base, has := strings.CutPrefix(word, prefix)
		if has && len(base) >= shortestBase && known(word, base, prefix+"-") {
			return Build{Prefix: prefix, Base: base}, true
		}
	}
	return Build{}, false
}

// beforeSuffix is what can stand before the suffix of a word: the stem, with its
// e or y back or without the doubled consonant.
func beforeSuffix(word, suffix string) []string {
	stem, has := strings.CutSuffix(word, suffix)
	if !has || suffix == "s" && strings.HasSuffix(stem, "s") {
		return nil
	}
	ways := []string{stem}
	if isVowelLetter(suffix[0]) {
		ways = stems(stem)
	} else if i, ok := strings.CutSuffix(stem, "i"); ok {
		ways = append(ways, i+"y")
	}
	var out []string
	if suffix == "ly" && len(stem) >= 2 && !isVowelLetter(stem[len(stem)-1]) {
		out = append(out, stem+"le") // "gently" is "gentle" and not "gent"
	}
	for _, w := range ways {
		if len(w) >= shortestBase && len(w) < len(word) {
			out = append(out, w)
		}
	}
	return out
}
