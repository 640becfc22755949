package lexicon

import "encoding/binary"

// Zipf returns how often a form is heard in films and plays: log10 of times in
// a thousand million words, about 2 (rare) to 7.5. It is an estimate from the
// rank of the form. ok is false when it is not among the some 56,000 ranked.
// Contractions are parted in the ranking ("don't" is "don" and "'t"); they get
// the rarer of the two.
func (l *Lexicon) Zipf(word string) (zipf float64, ok bool) {
	word = normal(word)
	if v, ok := l.spoken.Get(word); ok {
		return float64(binary.LittleEndian.Uint16(v)) / 1000, true
	}
	for i := 1; i < len(word)-1; i++ {
		if word[i] == '\'' {
			a, ok1 := l.spoken.Get(word[:i])
			b, ok2 := l.spoken.Get(word[i:])
			if ok1 && ok2 {
				return float64(min(binary.LittleEndian.Uint16(a), binary.LittleEndian.Uint16(b))) / 1000, true
			}
		}
	}
	return 0, false
}

// BookZipf returns, on the same scale, how often a form was met in 81 novels
// published before 1923 (9.6 million words). ok is false when it was not.
func (l *Lexicon) BookZipf(word string) (zipf float64, ok bool) {
	v, ok := l.books.Get(normal(word))
	if !ok {
		return 0, false
	}
	return float64(binary.LittleEndian.Uint16(v)) / 1000, true
}

// BookRange returns the share of those novels that have the form, 0 to 1.
func (l *Lexicon) BookRange(word string) float64 {
	v, ok := l.books.Get(normal(word))
	if !ok {
		return 0
	}
	return float64(v[2]) / 255
}

// StoryZipf returns, on the same scale, how often a form was met in 232 fairy
// tales and other stories for children (494,000 words), and the share of them that
// have it. ok is false when it was not met.
func (l *Lexicon) StoryZipf(word string) (zipf, share float64, ok bool) {
	v, ok := l.stories.Get(normal(word))
	if !ok {
		return 0, 0, false
	}
	return float64(binary.LittleEndian.Uint16(v)) / 1000, float64(v[2]) / 255, true
}

// Defining returns how many of WordNet's definitions use a form; 0 stands for
// one too.
func (l *Lexicon) Defining(word string) int {
	v, ok := l.defining.Get(normal(word))
	if !ok {
		return 0
	}
	return int(binary.LittleEndian.Uint16(v))
}
