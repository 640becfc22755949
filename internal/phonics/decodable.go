package phonics

// Reading tells what a word asks of a reader.
type Reading struct {
	// Step is the first step of the sequence at which everything in the word has
	// been taught; 0 when some of it never is.
	Step int
	// Never are the correspondences that no step teaches: the word is irregular.
	Never []Correspondence
	// Hardest is the correspondence that is taught last, the first such in the
	// word.
	Hardest Correspondence
	// Feature is set when it is taught later than any correspondence of the word.
	Feature Feature
	Links   Alignment

	needs    []Correspondence
	features []Feature
}

// Read finds the first step at which a word, said with these phones, can be
// read.
func (s *Sequence) Read(word string, phones []string) Reading {
	r := Reading{Links: Align(word, phones)}
	if r.Links == nil {
		return r
	}
	seen := map[Correspondence]bool{}
	for _, l := range r.Links {
		c := s.shown(l)
		if seen[c] {
			continue
		}
		seen[c] = true
		step := s.at[c]
		if l.Odd || step == 0 {
			r.Never = append(r.Never, c)
			continue
		}
		r.needs = append(r.needs, c)
		if step > r.Step {
			r.Step, r.Hardest = step, c
		}
	}
	syllables := Syllables(word, r.Links)
	if len(syllables) > 1 {
		r.features = append(r.features, ManySyllables)
	}
	if hasBlend(r.Links, syllables) {
		r.features = append(r.features, Blends)
	}
	for _, f := range r.features {
		if step := s.features[f]; step > r.Step { // a sequence may leave a feature out: then it is no hurdle
			r.Step, r.Feature = step, f
		}
	}
	if r.Never != nil {
		r.Step = 0
	}
	return r
}

// shown is the correspondence by which a link is taught. A doubled consonant that
// no step names counts as the single letter.
func (s *Sequence) shown(l Link) Correspondence {
	c := l.Correspondence()
	if g := string(c.Grapheme); s.at[c] == 0 && len(g) == 2 && g[0] == g[1] && !isVowelLetter(g[0]) {
		if single := (Correspondence{Grapheme(g[:1]), c.Sound}); s.at[single] > 0 {
			return single
		}
	}
	return c
}

// DecodableAt reports whether a reader who stands at a step can read the word,
// and which correspondences are missing: those taught later first, then those
// never taught. A missing feature gives false with none missing.
func (s *Sequence) DecodableAt(r Reading, step int) (ok bool, missing []Correspondence) {
	if r.Links == nil {
		return false, nil
	}
	for _, c := range r.needs {
		if s.at[c] > step {
			missing = append(missing, c)
		}
	}
	missing = append(missing, r.Never...)
	ok = len(missing) == 0
	for _, f := range r.features {
		ok = ok && s.features[f] <= step
	}
	return ok, missing
}

// Example is the correspondence for which a word is shown to a class: the one
// that is taught last, a vowel before a consonant of the same step. Vowels that
// are weak because their syllable is ("a" in about) are nothing to show, nor are
// single consonants that every word has. ok is false for irregular words.
func (s *Sequence) Example(r Reading) (t Taught, ok bool) {
	if len(r.Never) > 0 {
		return Taught{}, false
	}
	best := -1
	for _, c := range r.needs {
		g, step := string(c.Grapheme), s.at[c]
		vowel := isVowelLetter(g[0])
		if len(g) == 1 && (!vowel || step >= s.features[ManySyllables] && s.features[ManySyllables] > 0) {
			continue
		}
		rank := 2 * step
		if vowel {
			rank++
		}
		if rank > best {
			best, t = rank, s.key[c]
		}
	}
	return t, best >= 0
}

// hasBlend reports two consonants with their own sounds side by side in one
// syllable.
func hasBlend(a Alignment, syllables []Syllable) bool {
	in := func(l Link) int {
		for k, s := range syllables {
			if l.Start < s.End {
				return k
			}
		}
		return -1
	}
	for i := 1; i < len(a); i++ {
		x, y := a[i-1], a[i]
		if !x.Silent() && !y.Silent() && !vocal(x) && !vocal(y) && !isVowelLetter(x.Grapheme[0]) && !isVowelLetter(y.Grapheme[0]) && in(x) == in(y) && y.Grapheme != "ed" {
			return true
		}
	}
	return false
}

// Share counts the words of a text that can be read at a step.
type Share struct{ Words, Decodable int }

// Part is the share, 0 to 1; 1 for no words.
func (s Share) Part() float64 {
	if s.Words == 0 {
		return 1
	}
	return float64(s.Decodable) / float64(s.Words)
}

// Add counts one word. Common irregular words that a class knows by heart are
// counted as decodable by the caller.
func (s *Share) Add(decodable bool) {
	s.Words++
	if decodable {
		s.Decodable++
	}
}
