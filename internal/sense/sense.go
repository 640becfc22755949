// Package sense chooses which meaning a word has where it stands.
//
// Make a [Judge] of a text, ask it for the [Unit] that a token belongs to, a
// word or several that are one entry of the dictionary, and rank the unit's
// WordNet senses. What speaks for a sense is added up, part by part
// (evidence.go): what the neural reader sees in the sentence, how usual the sense
// is, the words that its definition, examples and neighbours share with the
// sentence, the sentences around and the whole text (the overlap of Lesk 1986, with
// neighbours as in Banerjee and Pedersen 2003; by likeness of words, too), and
// how well its synonyms would stand in the word's place. Senses that do not
// belong on a child's page come last and are never first unless there is no other.
package sense

import "bookstead/internal/lexicon"

type sense = lexicon.Sense
