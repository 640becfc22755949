// Package phonics relates the spelling of a word to its sounds, as early reading
// is taught.
//
// A [Speaker] tells how a word is said, from the dictionary, by a regular ending
// or by a model, and says which. [Align] parts the word into graphemes, each with
// its sounds ("n igh t"; "m a_e k"), by an inventory with costs in spellings.txt.
// [Syllables] parts it as it is written and names the type of each syllable. A
// [Sequence] is the order in which a class is taught; [Sequence.Read] finds the
// first step at which a word can be read, and what stands in the way before.
//
// Start with [NewSpeaker], [Speaker.Say] and [UsualSequence].
package phonics

// Pattern names the spelling that the word, said with these ARPAbet phones, is a
// good example of in the usual sequence, as [Sequence.Example] chooses it; "" when
// the word is irregular.
func Pattern(word string, phones []string) string {
	s := UsualSequence()
	t, ok := s.Example(s.Read(word, phones))
	if !ok {
		return ""
	}
	return t.Label()
}
