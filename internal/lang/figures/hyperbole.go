package figures

import "strings"

// exaggerate finds the usual forms of hyperbole that begin at token i.
func (f *finder) exaggerate(i int) {
	t := f.d.Tokens
	say := func(first, last int, score float64) {
		f.add(Hyperbole, first, last, score, "It says more than is so, to make it stronger.")
	}
	switch w := f.low(i); w {
	case "thousand", "million", "hundred", "thousands", "millions", "hundreds":
		f.numbers(i, say)
	case "to":
		// "frightened to death", not "put to death"
		if f.low(i+1) == "death" && i > f.s.First {
			switch l := f.lemma(i - 1); l {
			case "frighten", "frightened", "scare", "scared", "bore", "bored", "tire", "tired", "starve", "starved", "freeze", "worry", "worried", "tickle", "tickled", "plague", "tease", "bother", "pleased", "talk", "dead", "delighted", "laugh":
				say(i-1, i+1, 0.75)
			case "nearly", "almost":
				say(i-1, i+1, 0.5)
			}
			if i-2 >= f.s.First && t[i-1].UPOS == "PRON" { // "tease me to death"
				switch f.lemma(i - 2) {
				case "frighten", "scare", "bore", "starve", "worry", "plague", "tease", "bother", "love", "tickle":
					say(i-2, i+1, 0.75)
				}
			}
		}
	case "die", "dying", "died", "dies":
		switch next := f.low(i + 1); {
		case (next == "of" || next == "with") && (laughing[f.low(i+2)] || laughing[f.low(i+3)]):
			z := i + 2
			if !laughing[f.low(i+2)] {
				z++
			}
			say(i, z, 0.75)
		case next == "laughing":
			say(i, i+1, 0.8)
		case w == "dying" && next == "to" && i+2 < f.s.Last && t[i+2].UPOS == "VERB":
			say(i, i+2, 0.7)
		}
	case "never":
		if f.phraseAt(i+1, "in all my life") || f.phraseAt(i+1, "in all her life") || f.phraseAt(i+1, "in all his life") {
			say(i, i+4, 0.4)
		}
	case "weigh", "weighed", "weighs":
		if f.low(i+1) == "a" && f.low(i+2) == "ton" {
			say(i, i+2, 0.85)
		}
	case "burst", "bursting":
		if n := f.low(i + 1); (n == "with" || n == "for") && laughing[f.low(i+2)] {
			say(i, i+2, 0.6)
		}
	case "eat", "eaten":
		if f.phraseAt(i+1, "a horse") {
			say(i, i+2, 0.85)
		}
	case "for":
		if f.low(i+1) == "ages" {
			say(i, i+1, 0.7)
		}
	case "ages":
		if f.low(i+1) == "ago" || f.low(i+1) == "and" && f.low(i+2) == "ages" {
			say(i, i+1, 0.6)
		}
	case "oceans", "mountains", "worlds", "heaps", "tons", "oodles", "floods", "rivers":
		if f.low(i+1) == "of" && i+2 < f.s.Last && t[i+2].UPOS == "NOUN" && (w == "oceans" || w == "worlds" || w == "tons" || w == "oodles" || f.lemma(i+2) == "tear" || f.lemma(i+2) == "love") {
			say(i, i+2, 0.65)
		}
	case "world":
		f.superlative(i, say)
	case "ever":
		// "the prettiest thing ever seen"
		if i+1 < f.s.Last && (f.lemma(i+1) == "see" || f.lemma(i+1) == "hear" || f.lemma(i+1) == "know" || f.lemma(i+1) == "live" || f.lemma(i+1) == "be") && t[i+1].XPOS == "VBN" {
			if s := f.most(i); s >= 0 {
				say(s, i+1, 0.5)
			}
		}
	}
}

var laughing = words("laughing laughter curiosity shame envy joy impatience fright mortification pride rage despair vexation boredom excitement indignation merriment glee importance")

// numbers: "a thousand times", "ten thousand things", "a hundred years old" of
// what is counted by nobody.
func (f *finder) numbers(i int, say func(int, int, float64)) {
	t := f.d.Tokens
	first := i
	for first > f.s.First && (f.low(first-1) == "a" || f.low(first-1) == "ten" || f.low(first-1) == "twenty" || f.low(first-1) == "fifty" || f.low(first-1) == "hundred") {
		first--
	}
	if first > f.s.First && (t[first-1].UPOS == "NUM" || f.low(first-1) == "and") {
		return
	}
	k := i + 1
	for k < f.s.Last && (f.low(k) == "of" || t[k].UPOS == "ADJ") && k < i+4 {
		k++
	}
	if k >= f.s.Last || t[k].UPOS != "NOUN" || k > i+1 && t[k-1].UPOS == "NUM" {
		return
	}
	switch f.lemma(k) {
	case "time":
		say(first, k, 0.7)
	case "thing", "question", "kiss", "thanks", "pity", "reason", "way", "piece", "trouble", "fancy", "welcome", "pardon":
		say(first, k, 0.6)
	}
}

// superlative: "the nicest boy in the world".
func (f *finder) superlative(i int, say func(int, int, float64)) {
	if f.low(i-1) != "the" && f.low(i-1) != "whole" && f.low(i-1) != "wide" {
		return
	}
	k := i - 1
	for k > f.s.First && f.low(k) != "in" && i-k < 5 {
		k--
	}
	if f.low(k) != "in" {
		return
	}
	if s := f.most(k); s >= 0 {
		say(s, i, 0.55)
	}
}

// most is where a superlative before token k begins, within eight tokens, -1.
func (f *finder) most(k int) int {
	t := f.d.Tokens
	for j := k - 1; j >= max(f.s.First, k-8); j-- {
		if t[j].UPOS == "PUNCT" {
			return -1
		}
		if t[j].XPOS == "JJS" || t[j].XPOS == "RBS" && f.low(j) == "most" {
			if w := f.low(j); w == "last" || w == "first" || w == "least" {
				return -1
			}
			if j > f.s.First && f.low(j-1) == "the" {
				j--
			}
			return j
		}
	}
	return -1
}

// phraseAt reports whether these words stand from token i on.
func (f *finder) phraseAt(i int, phrase string) bool {
	k := i
	for w := range strings.FieldsSeq(phrase) {
		if f.low(k) != w {
			return false
		}
		k++
	}
	return true
}
