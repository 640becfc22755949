// Package readability computes the classic formulas that grade a text by the
// length of its sentences and words, or by how many of its words children know.
//
// [Counts] holds what the formulas need; its methods are the formulas, each with
// its source. Counts come from an analysed text ([OfDoc]), from plain text
// ([OfText]) or from anywhere else. A formula is undefined for a text without
// words or sentences: it then gives NaN, and [Counts.Scores] leaves it out.
//
// None of these numbers knows what a text means. They were fitted to passages of
// textbooks decades ago, differ from each other by a grade or two, and say little
// about verse, dialogue or lists. Start with [Counts].
package readability

import "math"

// Counts are the counts of one text.
type Counts struct {
	Sentences int
	// Words, by white space and dashes: "good-natured" and "don't" are one each.
	Words     int
	Syllables int // of all words
	// Letters in words, without digits or marks.
	Letters int
	// Characters are letters and digits.
	Characters int
	// Polysyllables are words of three syllables or more.
	Polysyllables int
	// DaleChallUnfamiliar counts each occurrence of a word that is not on Dale
	// and Chall's list.
	DaleChallUnfamiliar int
	// SpacheUnfamiliar counts each different word that is not on Spache's list
	// once, however often it occurs in a sample; long texts are cut into samples
	// of a hundred words and the sentence that ends them.
	SpacheUnfamiliar int
}

func (c Counts) defined() bool { return c.Sentences > 0 && c.Words > 0 }

// wordsPerSentence is the average length of sentences.
func (c Counts) wordsPerSentence() float64 { return float64(c.Words) / float64(c.Sentences) }

func (c Counts) per(n int) float64 { return float64(n) / float64(c.Words) }

// FleschReadingEase is 206.835 - 1.015 words per sentence - 84.6 syllables per
// word: about 100 very easy, 60 to 70 plain, 0 very hard; 121.22 at most.
// Flesch (1948), A new readability yardstick, Journal of Applied Psychology 32.
func (c Counts) FleschReadingEase() float64 {
	if !c.defined() {
		return math.NaN()
	}
	return 206.835 - 1.015*c.wordsPerSentence() - 84.6*c.per(c.Syllables)
}

// FleschKincaid is a school grade: 0.39 words per sentence + 11.8 syllables per
// word - 15.59; -3.40 at least. Kincaid, Fishburne, Rogers and Chissom (1975),
// Derivation of new readability formulas for Navy enlisted personnel.
func (c Counts) FleschKincaid() float64 {
	if !c.defined() {
		return math.NaN()
	}
	return 0.39*c.wordsPerSentence() + 11.8*c.per(c.Syllables) - 15.59
}

// ColemanLiau is a school grade: 0.0588 letters per hundred words - 0.296
// sentences per hundred words - 15.8. Coleman and Liau (1975), A computer
// readability formula designed for machine scoring, Journal of Applied
// Psychology 60.
func (c Counts) ColemanLiau() float64 {
	if !c.defined() {
		return math.NaN()
	}
	return 0.0588*100*c.per(c.Letters) - 0.296*100*c.per(c.Sentences) - 15.8
}

// ColemanLiauCloze is the same authors' estimate of the percentage of words left
// out that college students guess: 141.8401 - 0.214590 letters per hundred words
// + 1.079812 sentences per hundred words.
func (c Counts) ColemanLiauCloze() float64 {
	if !c.defined() {
		return math.NaN()
	}
	return 141.8401 - 0.214590*100*c.per(c.Letters) + 1.079812*100*c.per(c.Sentences)
}

// AutomatedReadability is a school grade: 4.71 characters per word + 0.5 words
// per sentence - 21.43. Senter and Smith (1967), Automated readability index,
// AMRL-TR-66-220.
func (c Counts) AutomatedReadability() float64 {
	if !c.defined() {
		return math.NaN()
	}
	return 4.71*c.per(c.Characters) + 0.5*c.wordsPerSentence() - 21.43
}

// SMOGSentences is the number of sentences that the SMOG formula was made for;
// shorter texts are scaled up to it and the grade is less sure.
const SMOGSentences = 30

// SMOG is a school grade for full understanding: 1.0430 times the root of the
// polysyllables in thirty sentences + 3.1291. McLaughlin (1969), SMOG grading,
// Journal of Reading 12.
func (c Counts) SMOG() float64 {
	if !c.defined() {
		return math.NaN()
	}
	return 1.0430*math.Sqrt(float64(c.Polysyllables)*SMOGSentences/float64(c.Sentences)) + 3.1291
}

// DaleChall1948 is the raw score of the first Dale-Chall formula: 0.1579 percent
// of unfamiliar words + 0.0496 words per sentence, + 3.6365 when more than 5
// percent are unfamiliar. [DaleChall1948Grades] turns it into grades. Dale and
// Chall (1948), A formula for predicting readability, Educational Research
// Bulletin 27. Many programs call this the new formula of 1995, which it is not.
func (c Counts) DaleChall1948() float64 {
	if !c.defined() {
		return math.NaN()
	}
	percent := 100 * c.per(c.DaleChallUnfamiliar)
	score := 0.1579*percent + 0.0496*c.wordsPerSentence()
	if percent > 5 {
		score += 3.6365
	}
	return score
}

// DaleChall1995 is the cloze score of the new formula, the share of words left
// out that readers can fill in: 64 - 0.95 percent of unfamiliar words - 0.69 words
// per sentence; the higher, the easier. [DaleChall1995Grades] turns it into
// grades. Chall and Dale (1995), Readability revisited.
func (c Counts) DaleChall1995() float64 {
	if !c.defined() {
		return math.NaN()
	}
	return 64 - 0.95*100*c.per(c.DaleChallUnfamiliar) - 0.69*c.wordsPerSentence()
}

// Spache is a school grade up to the fourth, by the formula revised in 1974:
// 0.121 words per sentence + 0.082 percent of different unfamiliar words + 0.659.
// Spache (1974), Good reading for poor readers, 9th edition.
func (c Counts) Spache() float64 {
	if !c.defined() {
		return math.NaN()
	}
	return 0.121*c.wordsPerSentence() + 0.082*100*c.per(c.SpacheUnfamiliar) + 0.659
}
