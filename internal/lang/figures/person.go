package figures

import (
	"fmt"
	"strings"

	"bookstead/internal/lexicon"
)

// human are verbs of what people do, by how surely a thing that does it is
// spoken of as a person. Verbs that things do in plain speech ("a clock
// strikes", "a letter says", "a tree stands") are not here. Our list.
var human = func() map[string]float64 {
	m := map[string]float64{}
	for list, w := range map[string]float64{
		"whisper laugh smile weep sob sigh dance beckon scold grumble mutter murmur kiss embrace frown wink beg plead mock tease chuckle giggle gossip greet welcome complain protest nod yawn snore chatter curtsy bow listen dream pout sulk caress scowl grin tiptoe": 0.75,
		"moan groan howl sing breathe sleep wake awake awaken peep peer creep leap gaze stare wander skip frolic romp play sneak steal quarrel fight rage roar shout scream cry call shriek hum":                                                                         0.5,
		"love hate fear know remember forget wish hope think believe decide promise refuse invite threaten envy pity forgive care try hesitate seem-to-say enjoy mind":                                                                                                   0.6,
	} {
		for v := range words(list) {
			m[v] = w
		}
	}
	return m
}()

// things are the classes of noun that can be spoken of as persons.
var things = map[string]float64{"noun.phenomenon": 0.12, "noun.object": 0.08, "noun.plant": 0.08, "noun.artifact": -0.15, "noun.time": 0.06, "noun.substance": 0, "noun.state": -0.05, "noun.feeling": 0.02, "noun.food": 0, "noun.event": 0, "noun.location": -0.1, "noun.attribute": -0.1}

// nature are words that tellers most often speak of as persons.
var nature = words("wind sun moon star sea ocean river brook stream tree flower rose lily daisy daffodil crocus leaf grass wave breeze storm rain snow frost winter summer spring autumn night dawn day morning evening earth sky cloud mountain hill shadow silence darkness death time nature fire flame house clock chair door window bell ship garden moor wood forest sunshine sunbeam moonlight fog mist lightning thunder hedge bough branch")

// animateThings are nouns that WordNet counts among things and that act of
// themselves, or stand for people.
var animateThings = words("voice heart eye lip face hand tear soul mind spirit ghost fairy crowd ship engine train machine doll puppet creature toy clock-bird nose mouth tongue foot head figure company band world town village city school nation country board heaven power card goodness thing bust portrait statue picture")

// feelings are adjectives of what only somebody feels or is.
var feelings = words("angry cruel merry proud sleepy lazy jealous greedy hungry friendly thirsty sulky playful mischievous weary sorrowful spiteful stubborn timid shy brave gleeful kindly wrathful impatient restless")

// powers are those of nature that an adjective of feeling makes persons of; a
// merry day is a day of merry people.
var powers = words("wind sun moon star sea ocean river brook stream tree flower breeze storm wave cloud rose fire flame rain snow frost winter leaf shadow")

// bodyParts of a thing speak of it as of a person; those that are plain words
// for its parts (the foot of a hill, the hands of a clock) are not here.
var bodyParts = words("finger fingers arm arms lip lips breath voice tear tears cheek cheeks bosom smile laughter whisper whispers kiss kisses")

// person finds a thing that acts or feels as people do.
func (f *finder) person(i int) {
	t := f.d.Tokens
	if t[i].UPOS != "NOUN" || f.refs[i].Member != nil {
		return
	}
	noun := f.lemma(i)
	bonus, ok := things[f.class(noun, lexicon.Noun)]
	if !ok && !nature[noun] || animateThings[noun] {
		return
	}
	if nature[noun] {
		bonus = max(bonus, 0) + 0.12
	}
	if h := t[i].Head; h >= 0 && t[i].Deprel == "nsubj" && t[h].UPOS == "VERB" && f.tree.Child(h, "cop") < 0 && h-i <= 8 && i-h <= 4 {
		w, ok := human[f.lemma(h)]
		if ok && f.tree.Child(h, "conj") != i && !f.negative(h) {
			first, last := min(i, h), max(i, h)
			if a, z := f.phrase(i); a <= i && z >= i && i-a <= 5 {
				first, last = min(first, a), max(last, z)
			}
			// The object or the adverb beside the verb belongs to it.
			if o := f.tree.Child(h, "obj"); o > h && o-h <= 4 {
				if _, z := f.phrase(o); z-h <= 7 {
					last = max(last, z)
				}
			} else if adv := f.tree.Child(h, "advmod"); adv == h+1 {
				last = max(last, adv)
			}
			for k := first; k <= last; k++ { // not what is said with who says it
				if f.d.Tokens[k].UPOS == "PUNCT" && strings.ContainsAny(f.d.Tokens[k].Form, "“”‘’\"!?") {
					return
				}
			}
			f.add(Personification, first, last, w+bonus, fmt.Sprintf("It speaks of %s as if it were a person (%s).", noun, f.lemma(h)))
			return
		}
	}
	for k := range f.tree.Children(i) {
		if f.rel(k) == "amod" && feelings[f.lemma(k)] && k < i && powers[noun] {
			a, z := f.phrase(i)
			if z-a <= 5 {
				f.add(Personification, a, z, 0.5, fmt.Sprintf("It speaks of %s as if it were a person (%s).", noun, f.low(k)))
			}
			return
		}
	}
	// "the fingers of the wind", "the wind's fingers"
	if h := t[i].Head; h >= 0 && powers[noun] && bodyParts[f.lemma(h)] && f.rel(i) == "nmod" {
		a, z := f.phrase(h)
		if z-a <= 8 {
			f.add(Personification, a, z, 0.6, fmt.Sprintf("It speaks of %s as if it were a person (%s).", noun, f.low(h)))
		}
	}
}

// negative reports whether a verb is denied or supposed: "the fire would not
// burn" and the like are plain.
func (f *finder) negative(h int) bool {
	for k := range f.tree.Children(h) {
		if w := f.low(k); w == "not" || w == "n't" || w == "never" {
			return true
		}
	}
	return false
}
