package lexicon

// Class is the lexicographer file ("verb.motion", "noun.artifact") of most uses
// of a lemma in WordNet's tagged texts, of its first sense where none was
// tagged; "" when the lemma has no sense of this part of speech. It is much
// cheaper than asking for the senses.
func (l *Lexicon) Class(lemma string, pos POS) string {
	lemma = normal(lemma)
	number, indices := l.senseIndices(lemma, pos)
	var sums [64]int
	best := -1
	for i, index := range indices {
		rec := l.record(index)
		c := int(rec.lexname) % len(sums)
		if i == 0 {
			sums[c]++
			best = c
		}
		for _, w := range rec.words {
			if w.lemma == number {
				sums[c] += 2 * w.count
			}
		}
		if sums[c] > sums[best] {
			best = c
		}
	}
	if best < 0 {
		return ""
	}
	return l.lexnames[best]
}

// IsA reports whether one of the first n senses of a noun or verb is a kind of
// one of these synsets, or one of them itself.
func (l *Lexicon) IsA(lemma string, pos POS, n int, roots ...SynsetID) bool {
	_, indices := l.senseIndices(normal(lemma), pos)
	for _, index := range indices[:min(n, len(indices))] {
		// WordNet is at most some twenty deep; first hypernyms suffice but for a few.
		for depth, at := 0, []int{index}; depth < 24 && len(at) > 0; depth++ {
			var up []int
			for _, a := range at {
				for _, r := range roots {
					if l.idAt(a) == r {
						return true
					}
				}
				for _, t := range l.targets(l.record(a), l.pointers.hypernyms) {
					up = append(up, t.index)
				}
			}
			at = up
		}
	}
	return false
}
